//! A line said again says the same: what was kept can be corrected from where it stands.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/rich.rs"]
mod rich;

use asfound_study::entry_line::hear;
use asfound_study::record::{Body, Observed1, Part1};
use asfound_words::{entry, line, page};
use bench::{Ledger, workshop};
use proptest::prelude::*;
use rich::rich;

/// What was heard again, made comparable: a part's id and its name in the trace are given by the job, not typed.
fn comparable(body: Body) -> Body {
    match body {
        Body::Part(part) => Body::Part(Part1 { part: String::new(), traced_as: None, ..part }),
        other => other,
    }
}

#[test]
fn every_line_that_is_offered_for_a_correction_says_the_same() {
    let job = rich(include_str!("../../asfound/demo/bass.trace"));
    let mut offered = 0;
    for found in page::history(&job.job).into_iter().filter(|line| !line.again.is_empty()) {
        let kept = job.job.body(found.seq).expect("it is in the history").clone();
        if let Ok(heard) = hear(&found.again, &job.job, &job.meters) {
            assert_eq!(comparable(heard.body), comparable(kept), "{}", found.again);
            offered += 1;
        } else {
            // Only of a part that is not on record: the line is a start, and the person names the part.
            assert!(job.job.unbound.contains(&found.seq), "{}", found.again);
        }
    }
    assert!(offered > 50, "{offered}");
}

#[test]
fn what_cannot_be_typed_is_not_offered() {
    let job = Ledger::with("part neck coil, coil, neck").job;
    let seen = |as_found| Observed1 {
        part: Some("P1".to_owned()),
        words: "wax".to_owned(),
        as_found,
        happened: None,
    };
    assert_eq!(entry::again(&Body::Observed(seen(None)), &job), "neck coil: wax");
    // The line cannot say that it is as found after all, and would lose it.
    assert_eq!(entry::again(&Body::Observed(seen(Some(true))), &job), "");
}

#[test]
fn a_part_called_like_a_word_of_the_line_is_said_by_its_number() {
    let mut job = Ledger::with("part note plate, plate, back");
    job.say("P1: scratched");
    assert_eq!(page::history(&job.job)[2].again, "P1: scratched");
}

#[test]
fn doubts_and_lost_evidence_are_said_before_anything_is_kept() {
    let job = Ledger::with("part neck coil, coil, neck");
    let said = |text: &str| line::heard(&job.hear(text).unwrap(), &job.job);
    let slip = said("neck coil 5.84 ohms");
    assert_eq!(slip.understood, "neck coil 5.84 ohms, resistance");
    let doubt = slip.doubt.expect("a doubt");
    assert!(doubt.contains("5.84 kΩ") && doubt.contains("kept as typed"), "{doubt}");
    assert!(said("did neck coil: lifted").evidence.expect("no photograph").contains("photograph"));
}

#[test]
fn faults_are_pointed_at() {
    let job = Ledger::with(
        "part neck coil, coil, neck\npart first tuner, tuner, head\npart last tuner, tuner, head",
    );
    let said = |text: &str| line::not_heard(&job.hear(text).unwrap_err(), text);
    let unknown = said("nekc 6k31");
    assert_eq!(unknown.sentence, "No part of this job is called “nekc”.");
    assert_eq!(unknown.pointer, "nekc 6k31\n^^^^");
    assert_eq!(said("tuner 30 g").sentence, "“tuner” can be first tuner or last tuner. Say which.");
    assert_eq!(said("join neck.hot jack.tip").pointer, "join neck.hot jack.tip\n              ^^^^^^^^");
    assert_eq!(said("neck coil 6k31 twice").sentence, "The reading is understood; “twice” after it is not.");
    assert_eq!(said("neck coil 6k31 twice").pointer, "neck coil 6k31 twice\n               ^^^^^");
    assert_eq!(said("").sentence, "Nothing was said yet.");
}

fn text(of: &'static str) -> impl Strategy<Value = String> {
    of.prop_map(|text: String| text.trim().to_owned())
}

proptest! {
    #[test]
    fn whatever_is_heard_comes_back_from_its_line(
        name in text("[a-zé🎸:]{1,8}( [0-9a-z]{1,6}){0,2}"), sort in "(coil|pot|plate|screw)", place in "[a-z]{1,8}",
        about in "(: [a-zé;:, 0-9]{1,20}| 6k31| 0.010\"| over 20k 21 °C| 5 g at the joints M1| 4,7k in circuit on 20k)",
        opening in "(|did |parked |note |money fee 12.50 GBP )",
    ) {
        let mut job = Ledger::opened().with_meters(workshop().meters);
        if let Ok(part) = job.hear(&format!("part {name}, {sort}, {place}, 3")) {
            job.keep(&part.body);
        }
        job.say("part second coil, coil, other");
        for line in [format!("{opening}{name}{about}"), format!("{opening}{place}{about}"), format!("part {name}, {sort}, {place}")] {
            let Ok(heard) = job.hear(&line) else { continue };
            let again = entry::again(&heard.body, &job.job);
            let back = job.hear(&again).map(|heard| comparable(heard.body));
            prop_assert_eq!(back.ok(), Some(comparable(heard.body)), "{} as {}", line, again);
        }
    }

    #[test]
    fn every_answer_to_a_line_can_be_said(line in "\\PC{0,40}|(neck|part|did|money) [a-z:,0-9 🎸]{0,20}") {
        let job = Ledger::with("part neck coil, coil, neck");
        match job.hear(&line) {
            Ok(heard) => prop_assert!(!line::heard(&heard, &job.job).understood.is_empty()),
            Err(error) => prop_assert!(!line::not_heard(&error, &line).sentence.is_empty()),
        }
    }
}
