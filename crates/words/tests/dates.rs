//! Dates and originality as they are told of instruments, invented.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::material::Material;
use asfound_words::page::{Page, sheet};
use asfound_words::sheet::{Sheet, Told};
use bench::{Ledger, workshop};
use document::document;

/// An amplifier with four coded parts, one of them far later than the rest, a harness, a receipt and a claim.
const AMPLIFIER: &str = "
piece: two pots, one speaker, all on one chassis
part volume pot, pot, panel
part tone pot, pot, panel
part speaker, speaker, baffle
part choke, choke, chassis
part tone capacitor, capacitor, tone pot
part knob, knob, panel
volume pot: stamped 137 6338
tone pot: stamped 137 6411; solder undisturbed, dull and grey
speaker: stamped 220 6409
choke: stamped 606-7205; bright solder over dull
tone capacitor: polyester film
claim seller: all original, 1962
document receipt, 30 June 1965: one amplifier, used
made knob: turned from brass, aged; marked 26-014 inside
";

/// Two codes with one digit for the year each: the decade cannot be told.
const DECADES: &str = "
part volume pot, pot, plate
part transformer, transformer, chassis
volume pot: stamped 137 624
transformer: stamped 606-631
";

/// A guitar of which a coil was only metered, and another was looked at closely; a mark that is no date.
const GUITAR: &str = "
part neck coil, coil, neck
part bridge coil, coil, bridge
part guard, guard, body front
part jack, jack, body edge
neck coil 6k31 21C
bridge coil: coppery wire, flatwork untouched, outer lead spliced
guard: screw holes do not line up
jack: stamped 137 6200
piece: finish checked all over, glows greenish under ultraviolet
";

fn ledger(lines: &str) -> Ledger {
    let mut ledger = Ledger::opened();
    ledger.say_all(lines);
    ledger
}

fn told(lines: &str, page: Page) -> Sheet {
    sheet(page, &Material::of(ledger(lines).job, workshop().job))
}

fn finding<'s>(sheet: &'s Sheet, id: &str) -> &'s Told {
    let ids: Vec<&str> = sheet.means.iter().map(|told| told.id.as_str()).collect();
    sheet.means.iter().find(|told| told.id == id).unwrap_or_else(|| panic!("{id} is not among {ids:?}"))
}

#[test]
fn an_amplifier_with_a_later_choke() {
    insta::assert_snapshot!("amplifier_dates", document(&told(AMPLIFIER, Page::Dates)));
    insta::assert_snapshot!("amplifier_originality", document(&told(AMPLIFIER, Page::Originality)));
}

#[test]
fn a_guitar_side_by_side() {
    insta::assert_snapshot!("guitar_originality", document(&told(GUITAR, Page::Originality)));
    let sheet = told(GUITAR, Page::Dates);
    assert!(
        finding(&sheet, "unread-0").sentence.starts_with("“137 6200” on the jack cannot be read as a date")
    );
    assert_eq!(finding(&sheet, "when").sentence, "Nothing that was kept dates this piece yet.");
}

#[test]
fn the_decade_cannot_be_told() {
    insta::assert_snapshot!("decades_dates", document(&told(DECADES, Page::Dates)));
    let sheet = told(DECADES, Page::Dates);
    assert!(finding(&sheet, "when").sentence.contains("not decided"), "{}", finding(&sheet, "when").sentence);
}
