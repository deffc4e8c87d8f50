//! Parts: which one a name means, and what is known of each.

mod common;

use asfound_measure::Dimension;
use asfound_study::parts::{WhichPart, find, known, traced_name};
use common::Ledger;

#[test]
fn a_name_an_id_and_a_name_in_the_trace_mean_one_part() {
    let mut job = Ledger::with("coil neck 7k2\npart neck coil, coil, neck\npart middle coil, coil, middle");
    let one = |job: &Ledger, name: &str| find(&job.job, name, None);
    for name in ["neck coil", "NECK COIL", "p1", " neck ", "coil neck"] {
        assert_eq!(one(&job, name), WhichPart::One("P1".to_owned()), "{name}");
    }
    assert_eq!(one(&job, "coil"), WhichPart::Several(vec!["neck coil".to_owned(), "middle coil".to_owned()]));
    assert_eq!(one(&job, ""), WhichPart::None { nearest: Vec::new() });
    let WhichPart::None { nearest } = one(&job, "midle coil") else { panic!() };
    assert_eq!(nearest[0], "middle coil");
    // A second part does not take a name in the trace that is taken.
    assert_eq!(traced_name(&job.job, "neck coil", "coil"), None);
    job.say("coil middle 6k");
    assert_eq!(traced_name(&job.job, "middle coil", "coil").as_deref(), Some("middle"));
}

#[test]
fn a_reading_is_not_of_a_plate_where_a_coil_is_meant() {
    let job = Ledger::with(
        "part bridge, bridge, body\npart bridge coil, coil, bridge\npart bridge plate, plate, bridge",
    )
    .job;
    assert_eq!(find(&job, "bridge", Some(Dimension::Resistance)), WhichPart::One("P1".to_owned()));
    let job = Ledger::with("part bridge coil, coil, bridge\npart bridge plate, plate, bridge").job;
    assert_eq!(find(&job, "bridge", Some(Dimension::Resistance)), WhichPart::One("P1".to_owned()));
}

#[test]
fn as_found_ends_with_the_first_act() {
    let mut job = Ledger::with("part guard, plate, body");
    let before = job.say("guard: bowed");
    let act = job.say("did guard: pressed flat");
    let after = job.say("guard: flat");
    let known = known(&job.job).remove(0);
    assert_eq!(known.as_found, [(before.seq, "bowed".to_owned())]);
    assert_eq!(known.later, [(after.seq, "flat".to_owned())]);
    assert_eq!(known.acts, [(act.seq, "pressed flat".to_owned())]);
    assert!(known.disturbed && !known.unmeasured);
}
