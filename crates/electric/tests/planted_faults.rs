//! A hundred planted faults, metered with noise, and looked for. `examples/planted_faults` does the same a thousand times.

#[path = "../examples/planted_faults/trial.rs"]
mod trial;

use asfound_electric::fault::Options;
use trial::{CIRCUITS, Ended, trial};

/// The planted fault comes first in over 95 of 100 cases that can be separated at all. Faults alone are looked for here,
/// because pairs take their time; the thousand trials look for pairs too.
#[test]
fn planted_faults_are_found() {
    let options = Options { pairs: false, ..Options::default() };
    let mut counts = [0_usize; 3];
    let mut missed = Vec::new();
    for seed in 1..=100 {
        let it = trial(seed as usize % CIRCUITS.len(), seed, &options);
        counts[it.ended as usize] += 1;
        assert!(it.probings <= 12);
        if it.ended == Ended::Missed {
            missed.push((seed, it.fault, it.first));
        }
    }
    let [first, others, not] = counts;
    assert!(
        first as f64 > 0.95 * (first + others) as f64,
        "{first} first, {not} not separable, missed {missed:?}"
    );
    assert!(first > 40, "most faults can be separated: {first}");
}
