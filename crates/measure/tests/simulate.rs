//! Laws of drawing: moments of each distribution, order of quantiles, the same bits for the same seed, and faults.

use asfound_measure::{Distribution, Ohms, SimulateError, simulate};
use proptest::prelude::*;

fn distribution() -> impl Strategy<Value = Distribution> {
    (0..5_usize, -1e3..1e3_f64, 1e-3..1e3_f64, 4.5..40.0_f64).prop_map(|(shape, place, size, degrees)| {
        match shape {
            0 => Distribution::normal(place, size),
            1 => Distribution::rectangular(place, place + size),
            2 => Distribution::curvilinear_trapezoid(place, place + size, size * 0.4),
            3 => Distribution::t(place, size, degrees),
            _ => Distribution::arcsine(place, place + size),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn draws_have_the_moments_that_were_stated(known in distribution(), seed in any::<u64>()) {
        let drawn = simulate(&[known], |x| x[0], 20_000, seed).expect("finite");
        let u = known.standard_uncertainty();
        // Six standard errors of the mean; of the deviation, 15 % holds for t on as few as 4.5 degrees, whose fourth
        // moment is large.
        prop_assert!((drawn.mean - known.mean()).abs() < 6.0 * u / 20_000.0_f64.sqrt());
        prop_assert!((drawn.standard_uncertainty / u - 1.0).abs() < 0.15);
    }

    #[test]
    fn intervals_cover_and_the_shortest_is_shortest(known in distribution(), share in 0.05..0.995_f64, seed in any::<u64>()) {
        let drawn = simulate(&[known, known], |x| x[0] + x[1] * x[1], 2000, seed).expect("finite");
        let (symmetric, shortest) = (drawn.symmetric(share), drawn.shortest(share));
        prop_assert!(symmetric.0 <= symmetric.1 && shortest.0 <= shortest.1);
        prop_assert!(shortest.1 - shortest.0 <= symmetric.1 - symmetric.0);
        prop_assert!(drawn.quantile(0.0) <= symmetric.0 && symmetric.1 <= drawn.quantile(1.0));
        prop_assert!(drawn.quantile(share / 2.0) <= drawn.quantile(share));
    }
}

#[test]
fn one_seed_gives_one_set_of_bits() {
    let known = [
        Distribution::normal(1.0, 0.5),
        Distribution::rectangular(0.0, 1.0),
        Distribution::curvilinear_trapezoid(0.0, 1.0, 0.2),
        Distribution::t(0.0, 1.0, 3.0),
        Distribution::arcsine(-1.0, 1.0),
    ];
    let drawn = |seed| simulate(&known, |x| x.iter().sum(), 1000, seed).expect("finite");
    assert_eq!(drawn(7), drawn(7));
    assert_ne!(drawn(7), drawn(8));
    // Kept from the first run: another generator, another order or another rounding would show here.
    assert_eq!(drawn(7).mean.to_bits(), GOLDEN_MEAN);
    assert_eq!(drawn(7).quantile(0.5).to_bits(), GOLDEN_MEDIAN);
    assert_eq!(drawn(7).of::<Ohms>().value.0.to_bits(), GOLDEN_MEAN);
}

const GOLDEN_MEAN: u64 = 0x3fff_4bb4_fced_2160;
const GOLDEN_MEDIAN: u64 = 0x3fff_e7d5_dbbe_76f8;

#[test]
fn what_cannot_be_drawn_says_so() {
    let one = [Distribution::normal(0.0, 1.0)];
    assert_eq!(simulate(&one, |x| x[0], 999, 1), Err(SimulateError::TooFew(999)));
    assert!(matches!(simulate(&one, |x| x[0].sqrt(), 1000, 1), Err(SimulateError::NoNumber(_))));
    let unknown = [Distribution::normal(f64::NAN, 1.0)];
    assert_eq!(simulate(&unknown, |x| x[0], 1000, 1), Err(SimulateError::NoNumber(0)));
    for error in [SimulateError::TooFew(3), SimulateError::NoNumber(4)] {
        assert_eq!(error.to_string().lines().count(), 1);
    }
    assert_eq!(Distribution::t(0.0, 1.0, 2.0).standard_uncertainty(), f64::INFINITY);
}
