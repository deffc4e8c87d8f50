//! The worked examples of the two guides, run through the same functions that the studies use: JCGM 100:2008, annex H,
//! and JCGM 101:2008, clause 9. Published figures stand beside; where more digits are given, they were worked out
//! independently in double precision from the published inputs.

use asfound_measure::{
    Celsius, Correlation, Distribution, Input, Ohms, Propagated, Sample, Simulated, coverage_factor,
    drawn_at_20, effective_degrees_of_freedom, propagate, simulate,
};

/// Draws for the examples: ten thousand over the share left out, which JCGM 101 expects to give two digits of a 95 %
/// interval (7.2.2, note 1).
const DRAWS: usize = 200_000;

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected} to {within}");
}

fn inputs<const N: usize>(known: [(&'static str, f64, f64); N]) -> [Input; N] {
    known.map(|(name, value, standard_uncertainty)| Input { name, value, standard_uncertainty })
}

/// The correlation of two results of one set of inputs, from the uncertainty of their sum:
/// `u²(a + b) = u²(a) + u²(b) + 2 u(a) u(b) r(a, b)` (JCGM 100, equation 13).
fn correlation_of(sum: &Propagated, a: &Propagated, b: &Propagated) -> f64 {
    let square = |worked: &Propagated| worked.standard_uncertainty * worked.standard_uncertainty;
    (square(sum) - square(a) - square(b)) / (2.0 * a.standard_uncertainty * b.standard_uncertainty)
}

mod end_gauge {
    use super::*;

    /// H.1.2: the calibration of an end gauge, in nanometres, `l = lS + d − lS (δα θ + αS δθ)`.
    fn length(x: &[f64]) -> f64 {
        x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5])
    }

    const KNOWN: [(&str, f64, f64); 6] = [
        ("standard", 50_000_623.0, 25.0),
        ("difference", 215.0, 9.7),
        ("difference of expansions", 0.0, 0.58e-6),
        ("bed's departure", -0.1, 0.41),
        ("expansion", 11.5e-6, 1.2e-6),
        ("difference of temperatures", 0.0, 0.029),
    ];

    /// H.1.3 to H.1.6: u = 32 nm, 16 effective degrees after truncation, U₉₉ = 93 nm.
    #[test]
    fn to_its_expanded_uncertainty() {
        let worked = propagate(&inputs(KNOWN), length, None).expect("nothing to misfit");
        let parts: Vec<f64> = worked.contributions.iter().map(|part| part.in_result().abs()).collect();
        // Table H.1: 25, 9.7, 2.9, 0, 0, 16.6.
        for (part, expected) in parts.iter().zip([25.0, 9.7, 2.900_036, 0.0, 0.0, 16.675_208]) {
            near(*part, expected, 5e-7);
        }
        near(worked.standard_uncertainty, 31.710_610, 1e-6);
        let degrees = [18.0, 25.6, 50.0, f64::INFINITY, f64::INFINITY, 2.0];
        let effective = effective_degrees_of_freedom(&worked.contributions, &degrees).expect("six degrees");
        near(effective, 16.656, 5e-4);
        let factor = coverage_factor(0.99, effective.floor()).expect("a share and degrees");
        near(factor, 2.920_782, 5e-7);
        near(worked.expanded(factor), 92.6198, 5e-5);
    }

    /// H.1.3.2 and H.1.6: the difference of the two gauges, of three causes on 24, 5 and 8 degrees: 9.7 nm, 25.6.
    #[test]
    fn the_measured_difference_and_its_degrees() {
        let causes = inputs([("mean", 215.0, 5.8), ("random", 0.0, 3.9), ("systematic", 0.0, 6.7)]);
        let worked = propagate(&causes, |x| x[0] + x[1] + x[2], None).expect("nothing to misfit");
        near(worked.standard_uncertainty, 9.681_942, 5e-7);
        let effective = effective_degrees_of_freedom(&worked.contributions, &[24.0, 5.0, 8.0]);
        // Printed 25.6, from parts that carry more digits than the page prints.
        near(effective.expect("three degrees"), 25.447, 5e-4);
    }

    /// H.1.7: terms of second order, which the first order cannot see, make it 34 nm (33.911 nm).
    #[test]
    fn drawing_sees_the_second_order() {
        let known = KNOWN.map(|(_, value, u)| Distribution::normal(value, u));
        let drawn = simulate(&known, |x| length(x) - 50_000_000.0, DRAWS, 1).expect("a model that holds");
        moments(&drawn, 838.0, 33.911_150);
    }
}

mod impedance {
    use super::*;

    const VOLTAGE: [f64; 5] = [5.007, 4.994, 5.005, 4.990, 4.999];
    const CURRENT: [f64; 5] = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
    const PHASE: [f64; 5] = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

    type Model = fn(&[f64]) -> f64;
    /// Resistance, reactance, impedance.
    const MODELS: [Model; 3] =
        [|x| x[0] * libm::cos(x[2]) / x[1], |x| x[0] * libm::sin(x[2]) / x[1], |x| x[0] / x[1]];
    /// Table H.4: value and standard uncertainty in ohms.
    const PUBLISHED: [(f64, f64); 3] = [(127.732, 0.071), (219.847, 0.295), (254.260, 0.236)];
    /// Table H.4: resistance with reactance, resistance with impedance, reactance with impedance.
    const PUBLISHED_CORRELATIONS: [(usize, usize, f64); 3] = [(0, 1, -0.588), (0, 2, -0.485), (1, 2, 0.993)];

    fn summed_up(values: &[f64]) -> (f64, f64) {
        let sample =
            Sample::of(&values.iter().map(|value| Ohms(*value)).collect::<Vec<_>>()).expect("finite");
        (sample.mean.0, sample.of_the_mean().expect("several").0)
    }

    /// The correlation of two means from values taken together (JCGM 100, 5.2.3, equations 14 and 17).
    fn correlation(a: &[f64], b: &[f64]) -> f64 {
        let ((mean_a, u_a), (mean_b, u_b)) = (summed_up(a), summed_up(b));
        let n = a.len() as f64;
        let products: f64 = a.iter().zip(b).map(|(a, b)| (a - mean_a) * (b - mean_b)).sum();
        products / (n * (n - 1.0)) / (u_a * u_b)
    }

    /// H.2.3, approach 1: the means, with their correlation, go through the model.
    #[test]
    fn by_means_and_their_correlation() {
        let data = [VOLTAGE, CURRENT, PHASE];
        let known = [("voltage", 0), ("current", 1), ("phase", 2)].map(|(name, at)| {
            let (value, standard_uncertainty) = summed_up(&data[at]);
            Input { name, value, standard_uncertainty }
        });
        let rows: Vec<Vec<f64>> = (0..3)
            .map(|i| (0..3).map(|j| if i == j { 1.0 } else { correlation(&data[i], &data[j]) }).collect())
            .collect();
        // Table H.2: r(V, I) = −0.36, r(V, φ) = 0.86, r(I, φ) = −0.65.
        near(rows[0][1], -0.3553, 5e-5);
        near(rows[0][2], 0.8576, 5e-5);
        near(rows[1][2], -0.6451, 5e-5);
        let together = Correlation::new(rows).expect("a correlation");
        let work =
            |model: &dyn Fn(&[f64]) -> f64| propagate(&known, model, Some(&together)).expect("it fits");
        let worked = MODELS.map(|model| work(&model));
        let exact = [(127.732_170, 0.071_071), (219.846_512, 0.295_582), (254.259_702, 0.236_336)];
        for ((worked, exact), published) in worked.iter().zip(exact).zip(PUBLISHED) {
            near(worked.value, exact.0, 5e-7);
            near(worked.standard_uncertainty, exact.1, 5e-7);
            near(worked.value, published.0, 5e-4);
            // The second is 0.2956 and printed 0.295.
            near(worked.standard_uncertainty, published.1, 1e-3);
        }
        for ((i, j, published), exact) in PUBLISHED_CORRELATIONS.into_iter().zip([-0.5884, -0.4853, 0.9925]) {
            let sum = work(&|x| MODELS[i](x) + MODELS[j](x));
            let found = correlation_of(&sum, &worked[i], &worked[j]);
            // Three digits are left after the subtraction of the squares.
            near(found, exact, 2e-4);
            near(found, published, 1e-3);
        }
    }

    /// H.2.4, approach 2: each set goes through the model, and the results are averaged.
    #[test]
    fn by_averaging_results() {
        let results = MODELS.map(|model| {
            (0..5).map(|set| model(&[VOLTAGE[set], CURRENT[set], PHASE[set]])).collect::<Vec<f64>>()
        });
        let exact = [(127.731_630, 0.071_274), (219.846_895, 0.295_489), (254.260_050, 0.236_247)];
        for ((results, exact), published) in results.iter().zip(exact).zip(PUBLISHED) {
            let (mean, u) = summed_up(results);
            near(mean, exact.0, 5e-7);
            near(u, exact.1, 1e-6);
            near(mean, published.0, 5e-4);
            near(u, published.1, 5e-4);
        }
        for ((i, j, published), exact) in PUBLISHED_CORRELATIONS.into_iter().zip([-0.5883, -0.4851, 0.9925]) {
            near(correlation(&results[i], &results[j]), exact, 5e-5);
            near(correlation(&results[i], &results[j]), published, 6e-4);
        }
    }
}

mod thermometer {
    use super::*;

    const READ: [f64; 11] =
        [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    const CORRECTION: [f64; 11] =
        [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];

    /// Intercept at 20 °C and slope of the least-squares line through corrections at [`READ`] (H.3.2).
    fn line(corrections: &[f64]) -> (f64, f64) {
        let n = READ.len() as f64;
        let mean_t = READ.iter().map(|t| t - 20.0).sum::<f64>() / n;
        let mean_b = corrections.iter().sum::<f64>() / n;
        let squares: f64 = READ.iter().map(|t| (t - 20.0 - mean_t) * (t - 20.0 - mean_t)).sum();
        let products: f64 =
            READ.iter().zip(corrections).map(|(t, b)| (t - 20.0 - mean_t) * (b - mean_b)).sum();
        let slope = products / squares;
        (mean_b - slope * mean_t, slope)
    }

    /// H.3: −0.1712 (0.0029) °C, 0.002 18 (0.000 67), r = −0.930, s = 0.0035 °C, and at 30 °C −0.1494 (0.0041) °C.
    #[test]
    fn a_calibration_line() {
        let (intercept, slope) = line(&CORRECTION);
        let squares: f64 = READ
            .iter()
            .zip(CORRECTION)
            .map(|(t, b)| b - intercept - slope * (t - 20.0))
            .map(|residual| residual * residual)
            .sum();
        let s = (squares / 9.0).sqrt();
        near(s, 0.003_497_56, 5e-9);
        let known = CORRECTION.map(|value| Input { name: "correction", value, standard_uncertainty: s });
        let work = |model: &dyn Fn(f64, f64) -> f64| {
            let of_line = |b: &[f64]| {
                let (intercept, slope) = line(b);
                model(intercept, slope)
            };
            propagate(&known, of_line, None).expect("nothing to misfit")
        };
        let (first, second) = (work(&|intercept, _| intercept), work(&|_, slope| slope));
        near(first.value, -0.171_203_79, 5e-9);
        near(first.standard_uncertainty, 0.002_877_60, 5e-9);
        near(second.value, 0.002_182_70, 5e-9);
        near(second.standard_uncertainty, 0.000_667_94, 5e-9);
        let sum = work(&|intercept, slope| intercept + slope);
        near(correlation_of(&sum, &first, &second), -0.930_430, 1e-6);
        let at_30 = work(&|intercept, slope| intercept + 10.0 * slope);
        near(at_30.value, -0.149_376_81, 5e-9);
        near(at_30.standard_uncertainty, 0.004_138_60, 5e-9);
    }
}

/// Ends of an interval, each to a share of the interval's own width.
fn ends((low, high): (f64, f64), expected: (f64, f64), share: f64) {
    let within = share * (expected.1 - expected.0);
    near(low, expected.0, within);
    near(high, expected.1, within);
}

/// Mean to four of its own standard errors, standard deviation to 0.7 %: four standard errors of a normal one.
fn moments(drawn: &Simulated, mean: f64, u: f64) {
    near(drawn.mean, mean, 4.0 * u / (DRAWS as f64).sqrt());
    near(drawn.standard_uncertainty / u, 1.0, 0.007);
}

/// JCGM 101, 9.2: the sum of four inputs. Ends to 1 % of the width, which is what so many draws
/// leave to chance.
mod sums {
    use super::*;

    fn sum(known: [Distribution; 4], seed: u64) -> Simulated {
        simulate(&known, |x| x.iter().sum(), DRAWS, seed).expect("a sum holds everywhere")
    }

    /// A rectangle with this standard uncertainty.
    fn rectangle(u: f64) -> Distribution {
        Distribution::rectangular(-u * 3.0_f64.sqrt(), u * 3.0_f64.sqrt())
    }

    /// 9.2.2: ±3.92.
    #[test]
    fn of_normal_inputs() {
        let drawn = sum([Distribution::normal(0.0, 1.0); 4], 922);
        moments(&drawn, 0.0, 2.0);
        ends(drawn.symmetric(0.95), (-3.919_928, 3.919_928), 0.01);
    }

    /// 9.2.3: ±3.88, exactly ±2√3 (2 − (3/5)^¼) (annex E); the law of propagation says ±3.92.
    #[test]
    fn of_rectangular_inputs() {
        let drawn = sum([rectangle(1.0); 4], 923);
        moments(&drawn, 0.0, 2.0);
        ends(drawn.symmetric(0.95), (-3.879_407, 3.879_407), 0.01);
    }

    /// 9.2.4: one of them ten times as wide: ±17.0; the law of propagation says ±19.9.
    #[test]
    fn of_rectangular_inputs_one_much_wider() {
        let drawn = sum([rectangle(1.0), rectangle(1.0), rectangle(1.0), rectangle(10.0)], 924);
        moments(&drawn, 0.0, 10.148_892);
        ends(drawn.symmetric(0.95), (-17.015_81, 17.015_81), 0.01);
        let widths =
            [1.0, 1.0, 1.0, 10.0].map(|u| Input { name: "term", value: 0.0, standard_uncertainty: u });
        let worked = propagate(&widths, |x| x.iter().sum(), None).expect("nothing to misfit");
        near(1.959_964 * worked.standard_uncertainty, 19.891_462, 5e-6);
    }
}

/// JCGM 101, 9.3: a weight against a reference weight in air, its deviation from 100 g in milligrams. Published: 1.2341,
/// 0.0754, shortest [1.0834, 1.3825] by draws; 0.0539 by the law of propagation, first order.
#[test]
fn a_mass_in_air() {
    let deviation = |x: &[f64]| (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100_000.0;
    let known = [
        Distribution::normal(100_000.0, 0.050),
        Distribution::normal(1.234, 0.020),
        Distribution::rectangular(1.10, 1.30),
        Distribution::rectangular(7000.0, 9000.0),
        Distribution::rectangular(7950.0, 8050.0),
    ];
    let drawn = simulate(&known, deviation, DRAWS, 93).expect("densities are positive");
    moments(&drawn, 1.234_03, 0.075_49);
    let (low, high) = drawn.shortest(0.95);
    // The shortest interval of a flat-topped result may lie a little to either side; its width is what is fixed.
    near(high - low, 1.3825 - 1.0834, 0.01 * 0.2991);
    near(low, 1.0834, 0.005);
    ends(drawn.symmetric(0.95), (1.0845, 1.3837), 0.01);
    let first_order = known.map(|input| Input {
        name: "input",
        value: input.mean(),
        standard_uncertainty: input.standard_uncertainty(),
    });
    let worked = propagate(&first_order, deviation, None).expect("nothing to misfit");
    near(worked.standard_uncertainty, 0.053_852, 5e-7);
}

/// JCGM 101, 9.4: a power loss, `Y = X₁² + X₂²`, each with u = 0.005, in millionths. Exactly, Y/u² is a non-central
/// chi-squared of two degrees. Published shortest intervals: [0, 150], [0, 367], [1590, 3543].
#[test]
fn a_power_loss_that_bends() {
    for (x1, mean, u, shortest, published) in [
        (0.0, 50.0, 50.0, (0.0, 149.787), (0.0, 150.0)),
        (0.010, 150.0, 111.803, (0.0, 366.005), (0.0, 367.0)),
        (0.050, 2550.0, 502.494, (1593.57, 3548.57), (1590.0, 3543.0)),
    ] {
        let known = [Distribution::normal(x1, 0.005), Distribution::normal(0.0, 0.005)];
        let drawn = simulate(&known, |x| 1e6 * (x[0] * x[0] + x[1] * x[1]), DRAWS, 94).expect("squares");
        near(drawn.mean, mean, 4.0 * u / (DRAWS as f64).sqrt());
        // Of an exponential spread, the first of them, the deviation is twice as unsure as of a normal one.
        near(drawn.standard_uncertainty / u, 1.0, 0.013);
        let found = drawn.shortest(0.95);
        near(found.1 - found.0, shortest.1 - shortest.0, 0.01 * (shortest.1 - shortest.0));
        // A flat valley of widths: where it lies is fixed far less well than how wide it is.
        ends(found, shortest, 0.025);
        ends(found, published, 0.025);
    }
    let symmetric = |x1: f64| {
        let known = [Distribution::normal(x1, 0.005), Distribution::normal(0.0, 0.005)];
        simulate(&known, |x| 1e6 * (x[0] * x[0] + x[1] * x[1]), DRAWS, 941).expect("squares").symmetric(0.95)
    };
    ends(symmetric(0.010), (8.55, 427.12), 0.01);
    ends(symmetric(0.050), (1638.48, 3603.36), 0.01);
}

/// JCGM 101, 9.5: the end gauge of H.1 with the distribution that fits each input, its deviation from 50 mm in
/// nanometres: u = 36 by draws (35.81), 32 by the law of propagation; 99 %: [745, 932]. Ends to 2 % of the width, being
/// farther out.
#[test]
fn an_end_gauge_with_every_distribution() {
    let known = [
        Distribution::t(50_000_623.0, 25.0, 18.0),
        Distribution::t(215.0, 6.0, 24.0),
        Distribution::t(0.0, 4.0, 5.0),
        Distribution::t(0.0, 7.0, 8.0),
        Distribution::rectangular(9.5e-6, 13.5e-6),
        Distribution::normal(-0.1, 0.2),
        Distribution::arcsine(-0.5, 0.5),
        Distribution::curvilinear_trapezoid(-1.0e-6, 1.0e-6, 0.1e-6),
        Distribution::curvilinear_trapezoid(-0.050, 0.050, 0.025),
    ];
    let deviation =
        |x: &[f64]| x[0] + x[1] + x[2] + x[3] - x[0] * (x[7] * (x[5] + x[6]) + x[4] * x[8]) - 50_000_000.0;
    let drawn = simulate(&known, deviation, DRAWS, 95).expect("a model that holds");
    moments(&drawn, 838.0, 35.81);
    ends(drawn.symmetric(0.99), (744.4, 931.7), 0.02);
    ends(drawn.shortest(0.99), (745.0, 932.0), 0.02);
}

/// A reading of 6.15 kΩ at 5 °C, as in the library's own example: (6535 ± 98) Ω by the law of propagation; drawn, the
/// wide rectangle of the meter makes the 95 % interval shorter, [6448.7, 6622.3].
#[test]
fn a_coil_in_a_cold_room() {
    let half_widths = [Ohms(75.35), Ohms(5.0)];
    let drawn = drawn_at_20(Ohms(6150.0), &half_widths, Celsius(5.0), Celsius(1.0), DRAWS, 20)
        .expect("far from the pole");
    moments(&drawn, 6535.30, 48.99);
    ends(drawn.symmetric(0.95), (6448.7, 6622.3), 0.01);
}
