//! A workshop's own values: kept, changed, taken back, and never lost from the history.

mod common;

use asfound_acts::Workshop;
use common::{bench, sentence};

fn own(workshop: &Workshop, name: &str) -> Option<(String, String)> {
    let about = workshop.about().unwrap();
    about.assumption(name).map(|item| (item.body.value.clone(), item.body.source.clone()))
}

#[test]
fn the_latest_value_stands_and_the_earlier_stay_in_the_history() {
    let bench = bench();
    let workshop = &bench.workshop;
    assert_eq!(own(workshop, "rewound"), None);
    assert_eq!(workshop.assume("rewound", "0,2", " ten of fifty coils here ").unwrap(), "0.2");
    let before = workshop.count_of_entries().unwrap();
    workshop.assume(" Rewound ", "0.2", "ten of fifty coils here").unwrap();
    assert_eq!(workshop.count_of_entries().unwrap(), before, "what stands already is not kept again");
    workshop.assume("rewound", "18 %", "eleven of sixty-one").unwrap();
    workshop.assume("open", "0.05", "said").unwrap();
    assert_eq!(own(workshop, "rewound"), Some(("0.18".into(), "eleven of sixty-one".into())));
    let bench = bench.reopened();
    assert_eq!(own(&bench.workshop, "rewound"), Some(("0.18".into(), "eleven of sixty-one".into())));
    let about = bench.workshop.about().unwrap();
    let item = about.assumptions.iter().find(|item| item.body.name == "rewound").unwrap();
    assert_eq!(item.versions.len(), 2);
    assert!(bench.workshop.verify().unwrap().is_whole());
}

#[test]
fn going_back_takes_the_own_value_away_and_it_can_be_said_again() {
    let bench = bench();
    let workshop = &bench.workshop;
    assert!(!workshop.assume_as_it_comes("rewound").unwrap());
    workshop.assume("rewound", "0.2", "so").unwrap();
    workshop.assume("rewound", "0.22", "so").unwrap();
    assert!(workshop.assume_as_it_comes("Rewound").unwrap());
    assert_eq!(own(workshop, "rewound"), None);
    workshop.assume("rewound", "0.25", "counted again").unwrap();
    assert_eq!(own(workshop, "rewound"), Some(("0.25".into(), "counted again".into())));
}

#[test]
fn a_value_is_typed_as_at_the_bench_and_kept_in_its_unit() {
    let bench = bench();
    for (name, typed, kept) in [
        ("largest capacitance of a coil", "190p", "0.00000000019"),
        ("least resistance of a bad joint", "40", "40"),
        ("least resistance of a bad joint", "0.06 kΩ", "60"),
        ("coldest room", "14", "14"),
        ("coldest room", "57 F", "13.88888888888889"),
        ("open", ".05", "0.05"),
    ] {
        assert_eq!(bench.workshop.assume(name, typed, "measured here").unwrap(), kept, "{name}");
    }
}

#[test]
fn what_is_no_value_is_refused_with_a_remedy_and_keeps_nothing() {
    let bench = bench();
    let before = bench.workshop.count_of_entries().unwrap();
    for (name, typed, sign) in [
        ("rewound", "", "0.12, 12 % or 5"),
        ("rewound", "much", "“much”"),
        ("rewound", "1e3", "“1e3”"),
        ("rewound", "1.2.3", "no single figure"),
        ("rewound", "NaN", "no single figure"),
        ("rewound", "1.5", "between 0.04 and 0.3"),
        ("largest capacitance of a coil", "200", "unit"),
        ("largest capacitance of a coil", "over 200p", "no single figure"),
        ("re-wound", "0.2", "the nearest is \"rewound\""),
        ("", "0.2", "nearest"),
    ] {
        let said = sentence(&bench.workshop.assume(name, typed, "so").unwrap_err());
        assert!(said.contains(sign), "{name} {typed}: {said}");
    }
    let said = sentence(&bench.workshop.assume("rewound", "0.2", " ").unwrap_err());
    assert!(said.contains("The source is empty"), "{said}");
    assert_eq!(bench.workshop.count_of_entries().unwrap(), before);
}
