//! Three-point figures and lognormal ones against published formulas, and sums against a convolution.

use asfound_measure::{Chance, Distribution, simulate};
use asfound_plan::estimate::{Estimate, EstimateFault, sum};
use proptest::prelude::*;

/// Formulas: Malcolm, Roseboom, Clark, Fazar, Operations Research 7, 1959; beta and triangular quantiles by an
/// independent numerical library's inverse. Six decimals were printed, so half of the sixth is allowed.
const PRINTED: f64 = 6e-7;

fn near(found: f64, printed: f64) {
    assert!((found - printed).abs() <= PRINTED, "{found} where {printed} is printed");
}

/// A share by simulation is judged by four standard deviations of a binomial share.
fn near_share(found: f64, share: f64, draws: usize) {
    let allowed = 4.0 * (share * (1.0 - share) / draws as f64).sqrt() + 5e-5; // printed to four decimals
    assert!((found - share).abs() <= allowed, "{found} where {share} is known");
}

struct Row {
    points: [f64; 3],
    classic: f64,
    pert: [f64; 5],
    triangular: [f64; 5],
}

const ROWS: [Row; 4] = [
    Row {
        points: [2.0, 4.0, 12.0],
        classic: 2.777778,
        pert: [5.0, 3.0, 4.766723, 6.502586, 8.212767],
        triangular: [6.0, 4.666667, 5.675445, 8.0, 10.0],
    },
    Row {
        points: [1.0, 4.0, 7.0],
        classic: 1.0,
        pert: [4.0, 1.285714, 4.0, 5.040412, 5.864468],
        triangular: [4.0, 1.5, 4.0, 5.102633, 6.051317],
    },
    Row {
        points: [5.0, 8.0, 17.0],
        classic: 4.0,
        pert: [9.0, 4.571429, 8.765722, 10.882308, 12.888900],
        triangular: [10.0, 6.5, 9.651531, 12.352420, 14.676210],
    },
    Row {
        points: [1.0, 5.5, 7.0],
        classic: 1.0,
        pert: [5.0, 1.142857, 5.117139, 5.988347, 6.541358],
        triangular: [4.5, 1.625, 4.674235, 5.658359, 6.329180],
    },
];

#[test]
fn three_points_as_published() {
    for row in &ROWS {
        let [low, likely, high] = row.points;
        let pert = Estimate::pert(low, likely, high).expect("rising");
        let triangular = Estimate::triangular(low, likely, high).expect("rising");
        near(pert.classic_variance().expect("three points"), row.classic);
        for (figure, printed) in [(pert, row.pert), (triangular, row.triangular)] {
            near(figure.mean(), printed[0]);
            near(figure.variance(), printed[1]);
            for (share, value) in [0.5, 0.8, 0.95].into_iter().zip(&printed[2..]) {
                near(figure.quantile(share), *value);
            }
        }
    }
}

/// The lognormal's own formulas, worked out by an independent numerical library.
#[test]
fn lognormal_from_two_quantiles_and_from_a_mean() {
    let repair = Estimate::lognormal_from_quantiles(6.0, 12.0).expect("in order");
    near(repair.mean(), 6.945037);
    near(repair.variance().sqrt(), 4.048548);
    near(repair.quantile(0.8), 9.458970);
    near(repair.quantile(0.95), 14.605589);
    near(repair.share_up_to(10.0), 0.827533);
    let priced = Estimate::lognormal_from_mean(100.0, 0.5).expect("above nothing");
    near(priced.quantile(0.5), 89.442719);
    near(priced.quantile(0.8), 133.108430);
    near(priced.quantile(0.95), 194.531784);
    assert_eq!(priced.classic_variance(), None);
}

/// Triangular sum: quantiles by a numerical convolution. Lognormal sum: the mean of simulations of four million draws;
/// a lognormal fitted to the sum's mean and variance would say 246.52, which this test refuses.
#[test]
fn sums_are_simulated() {
    const DRAWS: usize = 200_000;
    let parts = [[2.0, 4.0, 12.0], [1.0, 2.0, 6.0], [3.0, 5.0, 10.0]]
        .map(|[low, likely, high]| Estimate::triangular(low, likely, high).expect("rising"));
    assert!((parts.iter().map(Estimate::mean).sum::<f64>() - 15.0).abs() < 1e-12);
    assert!((parts.iter().map(Estimate::variance).sum::<f64>() - 8.0).abs() < 1e-12);
    let together = sum(&parts, DRAWS, 7).expect("enough draws");
    for (value, share) in [(15.0, 0.5233), (18.0, 0.8460), (14.8255, 0.5), (17.4376, 0.8), (19.9411, 0.95)] {
        near_share(together.share_up_to(value), share, DRAWS);
    }

    let parts = [(100.0, 0.5), (60.0, 0.3), (40.0, 0.8)]
        .map(|(mean, variation)| Estimate::lognormal_from_mean(mean, variation).expect("above nothing"));
    assert!((parts.iter().map(Estimate::variance).sum::<f64>() - 3848.0).abs() < 1e-9);
    let together = sum(&parts, DRAWS, 7).expect("enough draws");
    near_share(together.share_up_to(243.73), 0.8, DRAWS);
    assert!((together.quantile(0.8) - 246.52).abs() > 1.0);
}

/// The later of two independent paths of 10 ± 2: the mean is `10 + 2/√π`, and 12 holds with `Φ(1)² = 0.707861` (C. E.
/// Clark, *The greatest of a finite set of random variables*, Operations Research 9, 1961), while either path alone
/// says 0.841345.
#[test]
fn two_paths_that_meet_are_later_than_either() {
    const DRAWS: usize = 200_000;
    let path = Distribution::normal(10.0, 2.0);
    let later = simulate(&[path; 2], |ends| ends[0].max(ends[1]), DRAWS, 3).expect("enough draws");
    let error = later.standard_uncertainty / (DRAWS as f64).sqrt();
    assert!((later.mean - 11.128379).abs() < 4.0 * error);
    near_share(later.share_up_to(12.0), 0.707861, DRAWS);
}

const GOLDEN: [u64; 5] =
    [0x4020bab388e55e58, 0x40142dc75c898a3f, 0x401a6db9adc5c97c, 0x4015389a31e61ad3, 0x405415035cace7e2];

/// The same draws on every machine: the third draw of seed 42, bit for bit.
#[test]
fn draws_are_the_same_everywhere() {
    let figures = [
        Estimate::between(2.0, 12.0),
        Estimate::pert(2.0, 4.0, 12.0),
        Estimate::triangular(2.0, 4.0, 12.0),
        Estimate::lognormal_from_quantiles(6.0, 12.0),
        Estimate::lognormal_from_mean(100.0, 0.5),
    ];
    let third = |figure: Result<Estimate, EstimateFault>| {
        let (figure, mut chance) = (figure.expect("sound"), Chance::from_seed(42));
        (0..3).map(|_| figure.draw(&mut chance).to_bits()).last()
    };
    assert_eq!(figures.map(third), GOLDEN.map(Some));
}

#[test]
fn what_is_no_estimate_is_answered() {
    let fault = Estimate::pert(5.0, 4.0, 2.0).expect_err("falling");
    assert_eq!(fault, EstimateFault::OutOfOrder { optimistic: 5.0, likely: 4.0, pessimistic: 2.0 });
    assert_eq!(
        fault.to_string(),
        "the figures 5, 4, 2 do not rise; say the least first, then the likely one, then the most, for instance 2, 4, 12"
    );
    assert!(Estimate::triangular(1.0, 9.0, 7.0).is_err());
    assert!(Estimate::pert(1.0, f64::NAN, 7.0).is_err());
    assert!(Estimate::certain(f64::INFINITY).is_err());
    assert!(Estimate::between(2.0, 1.0).is_err());
    assert!(Estimate::lognormal_from_mean(0.0, 0.5).is_err());
    assert!(Estimate::lognormal_from_quantiles(-1.0, 0.5).is_err());
    let fault = Estimate::lognormal_from_quantiles(1200.0, 600.0).expect_err("the wrong way round");
    assert!(fault.to_string().contains("the first must be the larger"));
}

/// JCGM 101:2008, 6.4.2.4: the variance between two limits is the twelfth part of their distance squared.
#[test]
fn a_range_and_nothing_else() {
    let range = Estimate::between(4.0, 10.0).expect("rising");
    assert_eq!((range.mean(), range.variance(), range.classic_variance()), (7.0, 3.0, None));
}

#[test]
fn three_equal_figures_are_known() {
    let agreed = Estimate::pert(3.0, 3.0, 3.0).expect("rising, if barely");
    assert_eq!((agreed.mean(), agreed.variance(), agreed.quantile(0.9)), (3.0, 0.0, 3.0));
    assert_eq!(agreed.share_up_to(2.999), 0.0);
    assert_eq!(agreed, Estimate::certain(3.0).expect("a number"));
}

fn any_estimate() -> impl Strategy<Value = Estimate> {
    let points = || (0.0..50.0, 0.0..50.0, 0.01..50.0);
    prop_oneof![
        points().prop_map(|(low, to, on)| Estimate::pert(low, low + to, low + to + on).expect("rising")),
        points()
            .prop_map(|(low, to, on)| Estimate::triangular(low, low + to, low + to + on).expect("rising")),
        (0.0..50.0, 0.01..50.0).prop_map(|(low, on)| Estimate::between(low, low + on).expect("rising")),
        (1.0..1000.0, 1.1..4.0)
            .prop_map(|(low, by)| Estimate::lognormal_from_quantiles(low, low * by).expect("in order")),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn quantile_and_share_undo_one_another(figure in any_estimate(), share in 0.001..0.999) {
        prop_assert!((figure.share_up_to(figure.quantile(share)) - share).abs() < 1e-6);
    }

    #[test]
    fn quantiles_rise(figure in any_estimate(), one in 0.0..1.0, other in 0.0..1.0) {
        let (low, high) = if one < other { (one, other) } else { (other, one) };
        prop_assert!(figure.quantile(low) <= figure.quantile(high));
    }

    /// Draws and quantiles are two routes, gamma draws or inversion against the incomplete beta function: they meet
    /// within a distance that two thousand draws reach once in twenty thousand million times (Kolmogorov's
    /// distribution: 3.5 over the root of their number).
    #[test]
    fn draws_follow_the_shares(figure in any_estimate(), seed in any::<u64>()) {
        let mut chance = Chance::from_seed(seed);
        let mut drawn: Vec<f64> = (0..2000).map(|_| figure.draw(&mut chance)).collect();
        drawn.sort_by(f64::total_cmp);
        for (place, value) in drawn.iter().enumerate() {
            let gap = (figure.share_up_to(*value) - (place as f64 + 0.5) / 2000.0).abs();
            prop_assert!(gap < 3.5 / 2000.0_f64.sqrt(), "{gap} at {value}");
        }
    }

    #[test]
    fn so_many_times_as_much(figure in any_estimate(), factor in 0.1..100.0, share in 0.01..0.99) {
        let more = figure.times(factor).expect("above nothing");
        let (is, should) = (more.quantile(share), figure.quantile(share) * factor);
        prop_assert!((is - should).abs() <= 1e-9 * should.abs());
        prop_assert!((more.mean() - figure.mean() * factor).abs() <= 1e-9 * more.mean());
    }
}
