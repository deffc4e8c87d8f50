//! What is said of drawn instruments comes true as often as it is said.

#[path = "../examples/simulated_instruments/instruments.rs"]
mod instruments;

use asfound_evidence::Assumptions;
use instruments::drawn;

#[test]
fn stated_probabilities_come_true_as_often_as_stated() {
    let assumed = Assumptions::default();
    let record = drawn(800, &assumed, &assumed);
    // Four standard errors of a share.
    let (coverage, named) = (record.coverage(), record.named());
    let error = (named * (1.0 - named) / 800.0).sqrt();
    assert!(named >= 0.95 && (coverage - named).abs() < 4.0 * error, "{coverage} of {named}");
    // The 99.9 % point of chi-square with ten degrees of freedom (any table: 29.59).
    let (chi_square, degrees) = record.chi_square();
    assert!(degrees == 10 && chi_square < 29.59, "{chi_square} of {degrees}");
    assert!(record.tenths().iter().all(|class| class.number > 0));
}
