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
    assert_eq!(own(workshop, "winding fill"), None);
    assert_eq!(workshop.assume("winding fill", "0,62", " twenty coils unwound here ").unwrap(), "0.62");
    let before = workshop.count_of_entries().unwrap();
    workshop.assume(" winding fill ", "0.62", "twenty coils unwound here").unwrap();
    assert_eq!(workshop.count_of_entries().unwrap(), before, "what stands already is not kept again");
    workshop.assume("winding fill", "0.64", "twenty-two").unwrap();
    workshop.assume("another", "-5", "said").unwrap();
    assert_eq!(own(workshop, "winding fill"), Some(("0.64".into(), "twenty-two".into())));
    let bench = bench.reopened();
    assert_eq!(own(&bench.workshop, "winding fill"), Some(("0.64".into(), "twenty-two".into())));
    let about = bench.workshop.about().unwrap();
    assert_eq!(
        about.assumptions.iter().find(|item| item.body.name == "winding fill").unwrap().versions.len(),
        2
    );
    assert!(bench.workshop.verify().unwrap().is_whole());
}

#[test]
fn going_back_takes_the_own_value_away_and_it_can_be_said_again() {
    let bench = bench();
    let workshop = &bench.workshop;
    assert!(!workshop.assume_as_given("winding fill").unwrap());
    workshop.assume("winding fill", "0.62", "so").unwrap();
    workshop.assume("winding fill", "0.63", "so").unwrap();
    assert!(workshop.assume_as_given("winding fill").unwrap());
    assert_eq!(own(workshop, "winding fill"), None);
    workshop.assume("winding fill", "0.7", "measured again").unwrap();
    assert_eq!(own(workshop, "winding fill"), Some(("0.7".into(), "measured again".into())));
}

#[test]
fn what_is_no_value_is_refused_with_a_remedy() {
    let bench = bench();
    for typed in ["", "much", "1e3", "0.6.2", ".", "-", "NaN", "1 000", "1234567890123456789"] {
        let error = bench.workshop.assume("winding fill", typed, "so").unwrap_err();
        assert!(sentence(&error).contains("such as 0.62"), "{typed}: {error}");
    }
    for typed in ["1.", ".5", "+0.5", "42"] {
        bench.workshop.assume("winding fill", typed, "so").unwrap();
    }
    assert!(
        sentence(&bench.workshop.assume("winding fill", "1", " ").unwrap_err())
            .contains("The source is empty")
    );
    assert!(sentence(&bench.workshop.assume(" ", "1", "so").unwrap_err()).contains("The name is empty"));
}
