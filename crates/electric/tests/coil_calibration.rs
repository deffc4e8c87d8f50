//! Stated probabilities come true as often as they say, on coils drawn from the stated priors.

use asfound_electric::coil::*;

/// Coils, and draws for each: fewer than a study takes, which only makes it harder to be right.
const COILS: u64 = 75;
const DRAWS_EACH: usize = 3_000;

#[test]
fn stated_probabilities_are_kept() {
    let (opinions, tables) = (Opinions::default(), Tables::default());
    let kinds = [Construction::SixRod, Construction::DualHalf, Construction::FoilFaced];
    let mut statements: Vec<(f64, bool)> = Vec::new();
    let (mut stated_before, mut stated_after) = (0.0, 0.0);
    for seed in 0..COILS {
        let coil = synthetic(kinds[(seed % 3) as usize], &opinions, &tables, 1_000 + seed);
        let weighed = weigh_drawing(DRAWS_EACH, &coil.found, &opinions, &tables, seed)
            .expect("a bench finds what can be");
        let square = |stated: f64, truth: bool| {
            let off = stated - f64::from(u8::from(truth));
            off * off
        };
        for considered in &weighed.conditions {
            let truth = considered.what == coil.condition;
            statements.push((considered.probability.value(), truth));
            stated_before += square(considered.before.value(), truth);
            stated_after += square(considered.probability.value(), truth);
        }
        for considered in &weighed.hands {
            let truth = considered.what == coil.hand;
            statements.push((considered.probability.value(), truth));
            stated_before += square(considered.before.value(), truth);
            stated_after += square(considered.probability.value(), truth);
        }
    }
    for (least, most) in [(0.0, 0.05), (0.05, 0.3), (0.3, 0.7), (0.7, 0.95), (0.95, 1.0)] {
        let within: Vec<&(f64, bool)> =
            statements.iter().filter(|(stated, _)| (least..most).contains(stated)).collect();
        let expected: f64 = within.iter().map(|(stated, _)| stated).sum();
        let came_true = within.iter().filter(|(_, truth)| *truth).count() as f64;
        let variance: f64 = within.iter().map(|(stated, _)| stated * (1.0 - stated)).sum();
        // Statements about one coil hang together, so three and a half standard deviations of the binomial count, and
        // one for the draws' own noise.
        let bound = 3.5 * variance.sqrt() + 1.0;
        assert!(
            (came_true - expected).abs() <= bound,
            "{least} to {most}: {came_true} came true, {expected:.1} were stated, bound {bound:.1}"
        );
    }
    // Looking at the coil must be worth something (Brier 1950): the score is better than that of the priors.
    assert!(stated_after < 0.9 * stated_before, "{stated_after} {stated_before}");
}
