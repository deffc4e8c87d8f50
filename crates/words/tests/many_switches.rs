//! A circuit with more switches than can be told combination by combination.

use asfound_study::wiring::{WiringTold, of_text};
use asfound_words::wiring::explained_sheet;

#[test]
fn what_is_left_out_is_said_switch_by_switch() {
    let slides: String = (0..13).map(|at| format!("switch s{at} two-pole slide\n")).collect();
    let told = of_text(&format!(
        "coil neck 6k 2H 100p clockwise north\n{slides}jack jack\n\
         join neck.hot jack.tip metered\njoin neck.ground jack.sleeve metered\n"
    ));
    let WiringTold::Explained(explained) = told else { panic!("{told:?}") };
    let sheet = explained_sheet(&explained);
    let left_out = &sheet.means[0].would_change[0];
    assert!(
        left_out.starts_with("Only the first 4096 of 8192 combinations of the switches are told."),
        "{left_out}"
    );
    assert!(left_out.contains("They have s0 on up, never on down; s1 on up or down; s2"), "{left_out}");
}
