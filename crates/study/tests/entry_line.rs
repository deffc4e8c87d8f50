//! The entry line: what is heard, what is kept though it is odd, and what a person gets wrong.

mod common;

use std::sync::LazyLock;

use asfound_measure::Why;
use asfound_study::doubt::Doubt;
use asfound_study::entry_line::{Heard, NotHeard, WhyNot};
use asfound_study::record::{Amount1, Body, Reading1};
use common::{Ledger, workshop};
use proptest::prelude::*;

const PARTS: &str = "
part neck coil, coil, neck
part bridge coil, coil, bridge
part neck, neck, body
part volume pot, pot, control plate
part tone capacitor, capacitor, tone pot
part guard, plate, body front
part choke, choke, cavity floor
";

static JOB: LazyLock<Ledger> = LazyLock::new(job);

fn job() -> Ledger {
    Ledger::with(PARTS).with_meters(workshop().meters)
}

fn heard(line: &str) -> Heard {
    JOB.hear(line).unwrap_or_else(|error| panic!("{line}: {error:?}"))
}

fn reading(line: &str) -> Reading1 {
    match heard(line).body {
        Body::Reading(reading) => reading,
        other => panic!("{line}: {other:?}"),
    }
}

fn not_heard(line: &str) -> NotHeard {
    JOB.hear(line).expect_err(line)
}

/// Every row: the line, the part's id, the quantity, the text, the unit, the temperature, how, the meter, the range.
#[test]
fn readings_are_heard_with_all_that_stands_beside_them() {
    let rows = [
        ("neck coil 6k31", "P1", "resistance", "6k31", "kOhm", "", "", "", ""),
        ("P1 6.31 kΩ", "P1", "resistance", "6.31 kΩ", "kOhm", "", "", "", ""),
        (
            "neck coil 6,31k 21C at the joints M1",
            "P1",
            "resistance",
            "6,31k",
            "kOhm",
            "21C",
            "at the joints",
            "M1",
            "",
        ),
        ("Neck Coil 21 °C 6k31", "P1", "resistance", "6k31", "kOhm", "21 °C", "", "", ""),
        ("bridge 4k67 66 F at jack m2", "P2", "resistance", "4k67", "kOhm", "66 F", "at the jack", "M2", ""),
        (
            "bridge coil 4.67k on 20k in circuit",
            "P2",
            "resistance",
            "4.67k",
            "kOhm",
            "",
            "in circuit",
            "",
            "20k",
        ),
        ("bridge coil 2.4 H lead lifted", "P2", "inductance", "2.4 H", "H", "", "lead lifted", "", ""),
        ("bridge coil 120 pF", "P2", "capacitance", "120 pF", "pF", "", "", "", ""),
        (
            "tone capacitor .022uF out of circuit",
            "P5",
            "capacitance",
            ".022uF",
            "uF",
            "",
            "out of circuit",
            "",
            "",
        ),
        ("tone capacitor 22n", "P5", "capacitance", "22n", "nF", "", "", "", ""),
        ("guard 0.010\"", "P6", "length", "0.010\"", "[in_i]", "", "", "", ""),
        ("guard 1.4 mm", "P6", "length", "1.4 mm", "mm", "", "", "", ""),
        ("volume pot 512k", "P4", "resistance", "512k", "kOhm", "", "", "", ""),
        ("choke 401 8C", "P7", "resistance", "401", "Ohm", "8C", "", "", ""),
    ];
    for (line, part, quantity, text, unit, temperature, method, meter, range) in rows {
        let reading = reading(line);
        let said = |text: &Option<String>| text.clone().unwrap_or_default();
        assert_eq!((reading.part.as_str(), reading.quantity.as_str()), (part, quantity), "{line}");
        assert_eq!((reading.shown.text.as_str(), reading.shown.unit.as_str()), (text, unit), "{line}");
        let typed = reading.temperature.as_ref().map(|typed| typed.text.clone());
        let beside = [said(&typed), said(&reading.method), said(&reading.meter), said(&reading.range)];
        assert_eq!(beside, [temperature, method, meter, range], "{line}");
    }
}

#[test]
fn answers_without_a_number_are_answers() {
    let over = Amount1::Over { decimal: "20".to_owned() };
    for (line, amount) in [
        ("neck coil over 20k", over),
        ("neck coil OL", Amount1::OverRange),
        ("neck coil not measured", Amount1::NotMeasured),
        ("neck coil cannot tell", Amount1::CannotTell),
    ] {
        assert_eq!(reading(line).shown.amount, amount, "{line}");
    }
}

#[test]
fn a_place_means_the_coil_there_when_it_is_said_with_a_reading() {
    // `Neck` is a part too, and no meter is put to it.
    assert_eq!(reading("bridge 4k67").part, "P2");
    let mut job =
        Ledger::with("part neck coil, coil, neck\npart neck bolt, screw, neck\npart neck plate, plate, neck");
    let Body::Reading(reading) = job.hear("neck 6k31").unwrap().body else { panic!() };
    assert_eq!((reading.part.as_str(), reading.place.as_str()), ("P1", "neck"));
    // Words alone can be about any of the three.
    assert!(
        matches!(job.hear("neck: stained").unwrap_err().why, WhyNot::SeveralParts(names) if names.len() == 3)
    );
    // A second coil at one place has to be told apart.
    job.say("part neck second coil, coil, neck");
    assert!(matches!(job.hear("neck 6k31").unwrap_err().why, WhyNot::SeveralParts(_)));
}

#[test]
fn an_odd_reading_is_kept_as_typed_and_questioned() {
    let heard = heard("neck coil 5.84 ohms");
    let Some(Doubt::Ohms(question)) = heard.doubt else { panic!("no coil reads so low") };
    assert_eq!((question.why, question.likely.as_deref()), (Why::FarBelowAnyCoil, Some("5.84 kΩ")));
    let Body::Reading(reading) = heard.body else { panic!() };
    assert_eq!(reading.shown.text, "5.84 ohms");
    assert_eq!(reading.shown.amount, Amount1::Exactly { decimal: "5.84".to_owned() });
    let Some(Doubt::Ohms(negative)) = job().hear("neck coil -3").unwrap().doubt else { panic!("below zero") };
    assert_eq!(negative.why, Why::Negative);
    // A pot may read anything.
    assert_eq!(job().hear("volume pot 5.84").unwrap().doubt, None);
}

#[test]
fn parts_groups_and_their_short_numbers() {
    let mut job = job();
    let Body::Part(screws) = job.hear("part guard screws, screw, guard, 11").unwrap().body else { panic!() };
    assert_eq!((screws.part.as_str(), screws.count, screws.place.as_str()), ("P8", 11, "guard"));
    // A number that was struck out is not given again: a label with it may lie on a tray.
    let struck = job.say("part tuner, tuner, headstock");
    job.strike(&struck);
    let Body::Part(next) = job.hear("part tuners, tuner, headstock, 4").unwrap().body else { panic!() };
    assert_eq!(next.part, "P9");
    for line in [
        "part neck coil",
        "part neck coil, coil",
        "part a, b, c, many",
        "part a, b, c, 0",
        "part a, b, c, 2, d",
        "part , coil, neck",
    ] {
        assert_eq!(not_heard(line).why, WhyNot::PartIncomplete, "{line}");
    }
}

#[test]
fn observations_acts_and_what_is_parked() {
    let Body::Observed(seen) = heard("bridge coil: newer tape: over the lead").body else { panic!() };
    assert_eq!((seen.part.as_deref(), seen.words.as_str()), (Some("P2"), "newer tape: over the lead"));
    let Body::Observed(whole) = heard("piece: smells of damp").body else { panic!() };
    assert_eq!(whole.part, None);
    let act = heard("did guard: lifted, six screws out");
    assert_eq!(act.evidence_lost.as_deref(), Some("guard"));
    let Body::Act(act) = act.body else { panic!() };
    assert!(act.disturbs && act.parked.is_none());
    let Body::Act(whole) = heard("did whole piece: wiped down").body else { panic!() };
    assert_eq!(whole.part, None);
    let Body::Act(parked) = heard("parked neck coil: reflowed the eyelet; no change; try; then wait").body
    else {
        panic!()
    };
    let left = parked.parked.expect("it was parked");
    assert_eq!(
        (parked.words.as_str(), left.stopped.as_str(), left.next.as_str()),
        ("reflowed the eyelet", "no change", "try; then wait")
    );
    assert_eq!(not_heard("did guard:").why, WhyNot::NoWords);
}

#[test]
fn a_part_worked_on_before_loses_no_evidence_again() {
    let mut job = job();
    job.say("did guard: lifted");
    assert_eq!(job.hear("did guard: turned").unwrap().evidence_lost, None);
}

#[test]
fn sums_are_minor_units_of_iso_4217() {
    let sum = |line: &str| match heard(line).body {
        Body::Money(money) => (money.words, money.minor, money.currency),
        other => panic!("{other:?}"),
    };
    let told = |words: &str, minor: i64, currency: &str| (words.to_owned(), minor, currency.to_owned());
    assert_eq!(sum("money strings 12.50 GBP"), told("strings", 1250, "GBP"));
    assert_eq!(sum("money strings 12,5 gbp"), told("strings", 1250, "GBP"));
    assert_eq!(sum("money carriage both ways 1800 JPY"), told("carriage both ways", 1800, "JPY"));
    assert_eq!(sum("money refund -0.50 EUR"), told("refund", -50, "EUR"));
    assert_eq!(sum("money case 1.250 KWD"), told("case", 1250, "KWD"));
    for line in [
        "money strings",
        "money 5 GBP",
        "money x 1.234 GBP",
        "money x 1800.5 JPY",
        "money x . GBP",
        "money x 5 XYZ",
        "money x 99999999999999999999 GBP",
        "money x 90071992547410.00 GBP",
        "money x -- GBP",
    ] {
        assert_eq!(not_heard(line).why, WhyNot::NoSum, "{line}");
    }
}

#[test]
fn trace_lines_and_parts_that_are_called_like_them() {
    let Body::Trace(line) = heard("join choke.b rotary.3 or volume.3 unknown  # cut").body else { panic!() };
    assert_eq!(line.text, "join choke.b rotary.3 or volume.3 unknown  # cut");
    // `choke` opens a trace line and is a part here.
    assert_eq!(reading("choke 401").part, "P7");
    assert!(matches!(heard("choke: two leads").body, Body::Observed(_)));
    let error = not_heard("join choke.b to rotary.3");
    assert!(matches!(error.why, WhyNot::Trace(sentence) if !sentence.is_empty()));
}

#[test]
fn what_cannot_be_heard_is_placed_and_answered_with_what_would_be_right() {
    for (line, read, hint) in [
        ("nekc coil 6k31", "nekc", "neck"),
        ("bridge coil 4k67 4k67", "4k67", "neck 6k31 21C at the joints"),
        ("bridge coil 12 thou of tape", "of", "neck 6k31 21C at the joints"),
        ("tone capacitor 20C 21C 22C", "21C", "neck 6k31 21C at the joints"),
    ] {
        let error = not_heard(line);
        assert_eq!(error.read, read, "{line}");
        assert_eq!(&line[error.place.clone()], read, "{line}");
        assert!(error.hints.iter().any(|known| known == hint), "{line}: {:?}", error.hints);
    }
    // The second of two equal words is the one that is too much.
    assert_eq!(not_heard("bridge coil 4k67 4k67").place, 17..21);
    // A capacitor has no henries.
    assert_eq!(not_heard("tone capacitor 2 H").read, "H");
}

#[test]
fn nothing_said_is_no_fault_of_a_part() {
    for line in ["", "   ", "\t\n"] {
        assert_eq!(not_heard(line).why, WhyNot::Empty);
    }
}

#[test]
fn long_and_foreign_lines_are_answered() {
    let note = format!("note {}", "ä🎸".repeat(5_000));
    assert!(matches!(heard(&note).body, Body::Note(note) if note.words.chars().count() == 10_000));
    for line in [
        "🎸 6k31".to_owned(),
        "é".repeat(10_000),
        "neck coil ".repeat(1_000),
        "x ".repeat(5_000),
        ":".repeat(10_000),
    ] {
        let error = not_heard(&line);
        assert!(line.get(error.place.clone()).is_some());
    }
}

proptest! {
    #[test]
    fn no_line_panics_and_every_fault_lies_in_the_line(line in "(note|part|did|parked|money|join|neck|P1|)[ :,;.0-9a-zA-Z°Ωµ🎸\u{a0}\t-]{0,60}|\\PC{0,40}") {
        if let Err(error) = JOB.hear(&line ) {
            prop_assert!(line.get(error.place.clone()).is_some(), "{:?}", error);
            prop_assert!(error.why == WhyNot::Empty || !error.read.is_empty());
        }
    }
}

#[test]
fn what_is_heard_is_observed_of_the_whole_piece() {
    for line in ["heard position 2 thin", "Heard: position 2 thin"] {
        let Body::Observed(body) = heard(line).body else { panic!("{line}") };
        assert_eq!((body.part, body.words.as_str()), (None, "position 2 thin"), "{line}");
    }
    assert_eq!(not_heard("heard").read, "heard");
    assert_eq!(not_heard("heard :").read, "heard");
}

#[test]
fn what_is_claimed_stands_apart_from_what_is_seen_and_what_was_made_here_is_known_to_be_new() {
    let testimony = |line: &str| match heard(line).body {
        Body::Testimony(said) => said,
        other => panic!("{line}: {other:?}"),
    };
    let claim = testimony("claim seller: all original, 1962");
    assert_eq!((claim.manner.as_str(), claim.source.as_str(), claim.part), ("claim", "seller", None));
    assert_eq!(claim.words, "all original, 1962");
    let of_part = testimony("claim owner on bridge coil: never touched");
    assert_eq!((of_part.source.as_str(), of_part.part.as_deref()), ("owner", Some("P2")));
    let told = testimony("claim owner on the telephone: it was her uncle's");
    assert_eq!((told.source.as_str(), told.part), ("owner on the telephone", None));
    let paper = testimony("document receipt, 12 May 1964: one bass, used");
    assert_eq!((paper.manner.as_str(), paper.dated.as_deref()), ("document", Some("12 May 1964")));

    let made = |line: &str| match heard(line).body {
        Body::Made(made) => made,
        other => panic!("{line}: {other:?}"),
    };
    let guard = made("made guard: cut from acrylic sheet, edges aged; marked 26-014 under the edge");
    assert!(guard.aged && guard.part == "P6");
    assert_eq!(guard.mark.as_deref(), Some("marked 26-014 under the edge"));
    let plain = made("made guard: cut from acrylic sheet, not aged");
    assert!(!plain.aged && plain.mark.is_none());

    assert_eq!(not_heard("claim seller:").why, WhyNot::TestimonyIncomplete);
    assert_eq!(not_heard("document : one bass").why, WhyNot::TestimonyIncomplete);
    assert_eq!(not_heard("made piece: all of it").why, WhyNot::MadeNoPart);
    assert_eq!(not_heard("made saddle: of brass").why, WhyNot::NoSuchPart);
}
