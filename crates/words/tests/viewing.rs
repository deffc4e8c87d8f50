//! The viewing in words, kept as documents; and one press after another through it.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::Job;
use asfound_study::material::Material;
use asfound_study::record::{Body, Piece1};
use asfound_words::page::{Page, sheet};
use asfound_words::sheet::Sheet;
use asfound_words::viewing::pocket_sheet::pocket_sheet;

use bench::{Ledger, workshop};
use document::document;

fn ledger(family: &str, lines: &str) -> Ledger {
    let mut ledger = Ledger::opened();
    if !family.is_empty() {
        ledger.keep(&Body::Piece(Piece1 {
            piece: "piece-7".to_owned(),
            family: family.to_owned(),
            words: format!("A {family} offered with two pictures"),
            maker: None,
            serial: None,
            origin: None,
            owner: None,
        }));
    }
    ledger.say_all(lines);
    ledger
}

fn told(job: &Job) -> Sheet {
    sheet(Page::Viewing, &Material::of(job.clone(), workshop().job))
}

const MONEY: &str = "
money sound 2600 GBP
money estimate low 900 GBP
money estimate high 1600 GBP
money hour 50 GBP
";

const SAID: &str = "
claim seller: refinished in the seventies, bridge pickup dead, dark board
piece: viewing, smell of the guard: no smell, metal clean
piece: viewing, wood of the board: dark, not known which
piece: viewing, right to sell: cannot tell
piece: viewing, line of the neck: the edges lie level
piece: viewing, back of the headstock: a plain crack or mend
piece: viewing, line of the nek: level
piece: viewing, fret height: gone
";

#[test]
fn with_nothing_said_but_the_kind() {
    insta::assert_snapshot!("guitar_bare", document(&told(&ledger("guitar", "").job)));
}

#[test]
fn with_words_money_and_answers() {
    insta::assert_snapshot!(
        "guitar_viewed",
        document(&told(&ledger("guitar", &format!("{MONEY}{SAID}")).job))
    );
}

#[test]
fn an_amplifier_is_never_switched_on_or_opened() {
    let sheet = told(&ledger("amplifier", "money sound 1500 GBP\nmoney asking 900 GBP\n").job);
    insta::assert_snapshot!("amplifier_viewed", document(&sheet));
    assert!(sheet.cautions[0].contains("do not plug it in or open it"));
}

#[test]
fn without_a_kind_it_asks_for_one() {
    let sheet = told(&ledger("", MONEY).job);
    assert!(sheet.now.is_none() && sheet.next.len() == 1, "{}", document(&sheet));
}

/// Every press goes through the entry line, and every check is asked once, hazards and law before all others.
#[test]
fn pressed_through_from_the_first_check_to_the_last() {
    for family in ["guitar", "bass", "lap steel", "amplifier"] {
        let mut ledger = ledger(family, MONEY);
        let mut pressed = 0;
        while let Some(now) = told(&ledger.job).now {
            let answers = &now.next[0].answers;
            assert!(answers.len() >= 3, "{now:?}");
            ledger.say(&answers[pressed % answers.len()].line);
            pressed += 1;
            assert!(pressed < 100, "a check is asked twice: {now:?}");
        }
        assert!(pressed > 20, "{family}: {pressed}");
        assert!(told(&ledger.job).means.iter().all(|told| !told.id.starts_with("unread")));
    }
}

/// What is answered in the words of the list is not read as a description by other studies.
#[test]
fn answers_say_nothing_to_other_pages() {
    let lines = "
piece: viewing, screws and outlines: holes beside parts
piece: viewing, ultraviolet over the body: patches
piece: viewing, solder under the guard: some bright joints
piece: viewing, oil and wax: dry, or dated later than 1979
piece: viewing, listen in every position: one silent
";
    let (bare, answered) = (ledger("guitar", ""), ledger("guitar", lines));
    for page in [Page::Readings, Page::Faults, Page::Dates, Page::Originality] {
        let of = |ledger: &Ledger| document(&sheet(page, &Material::of(ledger.job.clone(), workshop().job)));
        assert_eq!(of(&bare), of(&answered), "{page:?}");
    }
}

#[test]
fn the_pocket_sheet_has_a_box_for_each_outcome_and_no_sum() {
    let paper = pocket_sheet(&ledger("bass", MONEY).job);
    let rows = &paper.tables[0].rows;
    assert!(rows.len() > 30 && rows.iter().all(|row| row[3].matches('☐').count() >= 2));
    assert!(!format!("{paper:?}").contains("GBP"));
    assert!(pocket_sheet(&Job::default()).tables.is_empty());
}

#[test]
fn sums_that_do_not_fit_are_left_out_and_said() {
    let sheet = told(
        &ledger("guitar", "money sound 2600 GBP\nmoney asking 1800 EUR\nmoney estimate low 5 GBP\n").job,
    );
    let worth = sheet.means.iter().find(|told| told.id == "worth").expect("told");
    let working = worth.working.join(" ");
    assert!(working.contains("another currency") && working.contains("one is missing"), "{working}");
}
