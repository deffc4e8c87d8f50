//! The library of contact plans: what every plan keeps to, and how its name is read.

use asfound_electric::trace::Trace;
use asfound_electric::{Between, Plan, Sort};
use proptest::prelude::*;

fn named(name: &str) -> Plan {
    Plan::named(name).unwrap_or_else(|| panic!("a plan is called {name}"))
}

/// The contacts of a position, as they would be written.
fn contacts(plan: &Plan, position: &str) -> Vec<String> {
    let position = plan.position(position).expect("the position exists");
    let lug = |lug: usize| plan.lugs()[lug].as_str();
    plan.positions()[position].contacts.iter().map(|&(a, b)| format!("{}-{}", lug(a), lug(b))).collect()
}

/// A trace in which the contacts of a plan are written out.
fn written_out(plan: &Plan) -> String {
    let mut text = format!("jack jack\nswitch selector\n  lugs {}\n", plan.lugs().join(" "));
    for position in plan.positions() {
        let pairs = contacts(plan, &position.name).join(" ");
        let pairs = if pairs.is_empty() { "nothing" } else { &pairs };
        text += &format!("  at {}: {pairs}\n", position.name);
    }
    text + match plan.between() {
        Between::Neighbours => "  between: both neighbours\n",
        Between::Nothing => "  between: nothing\n",
        Between::Unknown => "  between: unknown\n",
    }
}

fn read(trace: &str) -> Plan {
    let circuit = Trace::read(trace).expect("the trace is read").circuit().expect("a circuit");
    match &circuit.parts()[circuit.part("selector").expect("the switch")].sort {
        Sort::Switch(plan) => plan.clone(),
        other => panic!("{other:?} is no switch"),
    }
}

#[test]
fn every_plan_is_read_by_its_name_and_keeps_to_its_lugs() {
    let names: Vec<String> = Plan::names().collect();
    for name in &names {
        let plan = named(name);
        let checked = Plan::new(plan.lugs().to_vec(), plan.positions().to_vec(), plan.between());
        assert_eq!(checked.as_ref(), Ok(&plan), "{name}");
        assert!(plan.positions().len() > 1, "{name} switches something");
        assert_eq!(read(&format!("jack jack\nswitch selector {name}\n")), plan, "{name}");
        assert_eq!(read(&written_out(&plan)), plan, "{name}, written out");
        assert_eq!(named(&format!("shorting {name}")).between(), Between::Neighbours);
        assert_eq!(named(&format!("non-shorting {name}")).between(), Between::Nothing);
    }
    let mut once = names.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), names.len(), "no name is given twice");
}

/// Names that stand in kept traces, with what they meant when they were kept.
#[test]
fn names_in_kept_traces_mean_what_they_meant() {
    let slide = named("two-pole slide");
    assert_eq!(slide, Plan::two_pole_slide());
    assert_eq!(contacts(&slide, "up"), ["2-1", "5-4"]);
    assert_eq!(contacts(&slide, "down"), ["2-3", "5-6"]);
    assert_eq!(contacts(&named("push-pull"), "pulled"), ["2-3", "5-6"]);
    assert_eq!(contacts(&named("three-way lever"), "2"), ["a0-a1", "a0-a2"]);
    let lever = named("five-way lever");
    assert_eq!(contacts(&lever, "1"), ["a0-a1", "b0-b1"]);
    assert_eq!(contacts(&lever, "4"), ["a0-a2", "a0-a3", "b0-b2", "b0-b3"]);
    let rotary = named("four-way rotary");
    assert_eq!(rotary.lugs(), ["a0", "a1", "a2", "a3", "a4"]);
    assert_eq!(contacts(&rotary, "3"), ["a0-a3"]);
    for plan in [slide, lever, rotary] {
        assert_eq!(plan.between(), Between::Unknown);
    }
}

#[test]
fn the_middle_of_a_toggle_is_what_its_name_says() {
    assert!(contacts(&named("on-off-on toggle"), "middle").is_empty());
    assert_eq!(contacts(&named("on-on-on toggle 2-1 5-6"), "middle"), ["2-1", "5-6"]);
    assert_eq!(contacts(&named("on-on-on toggle 2-3 5-4"), "middle"), ["2-3", "5-4"]);
    let leaves = named("three-way toggle");
    assert_eq!(contacts(&leaves, "middle"), ["a0-a1", "a0-a2"]);
    assert_eq!(leaves.between(), Between::Neighbours);
    assert_eq!(contacts(&named("one-pole on-on toggle"), "down"), ["2-3"]);
}

#[test]
fn each_pole_of_a_rotary_or_lever_has_its_own_common() {
    assert_eq!(contacts(&named("six-way two-pole rotary"), "6"), ["a0-a6", "b0-b6"]);
    assert_eq!(contacts(&named("three-way two-pole lever"), "2"), ["a0-a2", "b0-b2"]);
    assert_eq!(contacts(&named("five-way four-pole lever"), "5"), ["a0-a5", "b0-b5", "c0-c5", "d0-d5"]);
}

#[test]
fn words_may_stand_in_any_order_and_a_number_stays_with_what_it_counts() {
    assert_eq!(named("Lever, 3 way"), named("three-way lever"));
    assert_eq!(named("rotary 4-way 2-pole"), named("four-way two-pole rotary"));
    assert_eq!(named("4-way non-shorting rotary"), named("non-shorting four-way rotary"));
    for none in ["two-way four-pole rotary", "thirteen-way rotary", "13-way rotary", "shorting", "way", ""] {
        assert_eq!(Plan::named(none), None, "{none}");
    }
}

proptest! {
    /// Whatever is typed for a plan, it is read or it is not; what is read is a plan of the library.
    #[test]
    fn any_name_is_taken(name in "[ a-z0-9,-]{0,30}") {
        if let Some(plan) = Plan::named(&name) {
            prop_assert!(Plan::names().any(|known| named(&known).lugs() == plan.lugs()));
        }
    }
}
