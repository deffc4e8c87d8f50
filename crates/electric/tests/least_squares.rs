//! What the fitter tells, what it refuses, and what it calls a mistake.

use asfound_electric::least_squares::{Fit, FitError, NotTold, Problem, Spread, Unknown};
use asfound_measure::{Farads, Henries, Ohms};
use proptest::prelude::*;

fn positive(names: &[&str]) -> Vec<Unknown> {
    names.iter().map(|name| Unknown::positive(*name)).collect()
}

/// Fits y = model(x, values) to readings of equal, known spread.
fn fit(names: &[&str], data: &[(f64, f64)], u: f64, model: fn(f64, &[f64]) -> f64, start: &[f64]) -> Fit {
    let residuals = |b: &[f64]| data.iter().map(|(x, y)| model(*x, b) - y).collect();
    let problem = Problem::new(positive(names), Spread::Known(vec![u; data.len()]), &residuals);
    problem.fit(&[start.to_vec()]).expect("a fit")
}

const LINE: [(f64, f64); 4] = [(1.0, 6.01), (2.0, 11.98), (3.0, 18.02), (4.0, 23.99)];

#[test]
fn a_product_is_told_and_its_factors_are_refused_by_name() {
    let fit = fit(&["a", "b"], &LINE, 0.02, |x, b| b[0] * b[1] * x, &[1.0, 1.0]);
    let apart = NotTold::Apart(vec!["a".into(), "b".into()]);
    assert_eq!(fit.told::<Ohms>(0), Err(apart.clone()));
    assert_eq!(fit.told::<Ohms>(1), Err(apart.clone()));
    assert_eq!(apart.to_string(), "the readings cannot tell these apart: a, b");
    assert_eq!(fit.refusals().len(), 2);
    let product = fit.derived::<Ohms>(|b| b[0] * b[1]).expect("readings fix the product");
    // Closed form: Σxy/Σx² = 179.99/30, u = 0.02/√Σx² = 0.02/√30.
    assert!((product.value.0 - 179.99 / 30.0).abs() < 1e-8, "{product:?}");
    assert!((product.standard_uncertainty.0 - 0.02 / 30f64.sqrt()).abs() < 1e-8);
    assert!(fit.derived::<Ohms>(|b| b[0] + b[1]).is_err());
    assert_eq!(fit.degrees_of_freedom(), 3);
    assert!(fit.condition() > 1e9);
}

#[test]
fn an_unknown_without_effect_is_refused_alone() {
    let fit = fit(&["slope", "colour"], &LINE, 0.02, |x, b| b[0] * x + 0.0 * b[1], &[1.0, 1.0]);
    assert!(fit.told::<Henries>(0).is_ok());
    let refusal = fit.told::<Henries>(1).expect_err("nothing depends on it");
    assert_eq!(refusal.to_string(), "no reading depends on colour");
}

#[test]
fn an_unknown_drowned_in_its_spread_is_refused_as_open() {
    // The offset is 0.001 where the readings are good to 5.
    let data: Vec<(f64, f64)> = (1..6).map(|i| (f64::from(i), 6.0 * f64::from(i) + 0.001)).collect();
    let fit = fit(&["slope", "offset"], &data, 5.0, |x, b| b[0] * x + b[1], &[1.0, 1.0]);
    assert!(fit.told::<Farads>(0).is_ok());
    assert!(matches!(fit.told::<Farads>(1), Err(NotTold::Vague { name, .. }) if name == "offset"));
}

#[test]
fn derivatives_in_closed_form_lead_to_the_same_end() {
    let residuals = |b: &[f64]| LINE.iter().map(|(x, y)| b[0] * x + b[1] - y).collect();
    let derivatives = |_: &[f64]| vec![LINE.map(|(x, _)| x).to_vec(), vec![1.0; 4]];
    let unknowns = vec![Unknown::positive("slope"), Unknown::free("offset", 1.0)];
    let problem = || Problem::new(unknowns.clone(), Spread::Known(vec![0.02; 4]), &residuals);
    let start = [vec![1.0, 0.0]];
    let (differences, closed) =
        (problem().fit(&start).unwrap(), problem().with_derivatives(&derivatives).fit(&start).unwrap());
    for index in 0..2 {
        assert!((differences.point()[index] - closed.point()[index]).abs() < 1e-9);
        let (a, b) = (differences.covariance(index, index), closed.covariance(index, index));
        // Differences over steps near 1e-6 keep about nine digits of a slope.
        assert!((a / b - 1.0).abs() < 1e-7);
    }
}

/// GUM (JCGM 100:2008), annex H.3: a straight line through eleven corrections of a thermometer, table H.6. The GUM
/// prints y1 = -0.1712 with u = 0.0029, y2 = 0.00218 with u = 0.00067, r = -0.930 and s = 0.0035, so half a unit of the
/// last printed digit is allowed.
#[test]
fn the_thermometer_of_the_gum() {
    let t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let residuals = |y: &[f64]| t.iter().zip(b).map(|(t, b)| y[0] + y[1] * (t - 20.0) - b).collect();
    let unknowns = vec![Unknown::free("y1", 0.1), Unknown::free("y2", 0.01)];
    let fit = Problem::new(unknowns, Spread::Equal, &residuals).fit(&[vec![0.0, 0.0]]).unwrap();
    assert!((fit.point()[0] + 0.1712).abs() < 0.00005);
    assert!((fit.point()[1] - 0.00218).abs() < 0.000005);
    assert!((fit.covariance(0, 0).sqrt() - 0.0029).abs() < 0.00005);
    assert!((fit.covariance(1, 1).sqrt() - 0.00067).abs() < 0.000005);
    assert!((fit.correlation(0, 1) + 0.930).abs() < 0.0005);
    assert!((fit.reduced_chi_square().unwrap().sqrt() - 0.0035).abs() < 0.00005);
    // The GUM's prediction at 30 °C: -0.1494 with u = 0.0041.
    let at_30 = fit.derived::<Ohms>(|y| y[0] + 10.0 * y[1]).unwrap();
    assert!(
        (at_30.value.0 + 0.1494).abs() < 0.00005 && (at_30.standard_uncertainty.0 - 0.0041).abs() < 0.00005
    );
}

#[test]
fn of_several_starts_the_best_end_is_kept_and_counted() {
    // Two minima: at 1 (a height of 1) and at 4 (exact).
    let residuals = |b: &[f64]| vec![(b[0] - 1.0) * (b[0] - 4.0), 0.2 * (b[0] - 4.0)];
    let problem = Problem::new(positive(&["x"]), Spread::Known(vec![1.0; 2]), &residuals);
    let fit = problem.fit(&[vec![0.5], vec![3.5], vec![5.0]]).unwrap();
    assert!((fit.point()[0] - 4.0).abs() < 1e-6);
    assert_eq!(fit.reached_by(), (2, 3));
}

#[test]
fn what_cannot_be_fitted_is_said() {
    let residuals = |b: &[f64]| LINE.iter().map(|(x, y)| b[0] * x - y).collect();
    let fit = |spread: Spread, starts: &[Vec<f64>]| {
        Problem::new(positive(&["a"]), spread, &residuals).fit(starts).expect_err("not to be fitted")
    };
    assert_eq!(fit(Spread::Equal, &[vec![-1.0]]), FitError::Start { start: 1 });
    assert_eq!(fit(Spread::Equal, &[vec![1.0], vec![1.0, 2.0]]), FitError::Start { start: 2 });
    assert_eq!(fit(Spread::Equal, &[]), FitError::Start { start: 1 });
    assert_eq!(fit(Spread::Known(vec![0.0; 4]), &[vec![1.0]]), FitError::Spread);
    assert_eq!(fit(Spread::Relative(vec![1.0; 3]), &[vec![1.0]]), FitError::Spread);
    let one = |b: &[f64]| vec![b[0] - 3.0];
    let few = Problem::new(positive(&["a"]), Spread::Equal, &one).fit(&[vec![1.0]]).expect_err("one reading");
    assert_eq!(few, FitError::TooFewReadings { readings: 1, unknowns: 1 });
    assert_eq!(Problem::new(vec![], Spread::Equal, &one).fit(&[vec![]]).err(), Some(FitError::NoUnknowns));
    let nowhere = |_: &[f64]| vec![f64::NAN; 3];
    let fit = Problem::new(positive(&["a"]), Spread::Equal, &nowhere).fit(&[vec![1.0]]);
    assert_eq!(fit.err(), Some(FitError::NoFiniteStart));
}

proptest! {
    /// A positive unknown and its reciprocal are the same fit, and the spread follows: u(1/x) = u(x)/x².
    #[test]
    fn a_fit_does_not_depend_on_how_the_unknown_is_written(slope in 1e-9f64..1e9, noise in prop::array::uniform4(-0.01f64..0.01)) {
        let data: Vec<(f64, f64)> = (0..4).map(|i| (f64::from(i as u32 + 1), slope * (f64::from(i as u32 + 1) + noise[i]))).collect();
        let straight = fit(&["a"], &data, 0.01 * slope, |x, b| b[0] * x, &[slope * 3.0]);
        let turned = fit(&["a"], &data, 0.01 * slope, |x, b| x / b[0], &[1.0 / slope]);
        prop_assert!((straight.point()[0] * turned.point()[0] - 1.0).abs() < 1e-9);
        let relative = |fit: &Fit| fit.covariance(0, 0).sqrt() / fit.point()[0];
        prop_assert!((relative(&straight) / relative(&turned) - 1.0).abs() < 1e-8);
    }
}
