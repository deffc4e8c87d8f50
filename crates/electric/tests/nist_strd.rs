//! The fitter against the nonlinear regression sets of the National Institute of Standards and Technology
//! (NIST/ITL Statistical Reference Datasets, https://www.itl.nist.gov/div898/strd/, public domain).
//!
//! The files in `data/nist_strd` are NIST's. Each holds the data, two starts (the first far away, the second near), and
//! values, standard deviations and the residual sum of squares certified to eleven digits. No derivatives are handed
//! over: the fitter takes its own differences. Six digits are asked of every value from both starts, and four of the
//! standard deviations, which stand on the differences alone.

use asfound_electric::least_squares::{Fit, Problem, Spread, Unknown};
use libm::{cos, exp, pow, sin};

/// The model's value at x for the values b.
type Model = fn(f64, &[f64]) -> f64;

struct Set {
    starts: [Vec<f64>; 2],
    certified: Vec<(f64, f64)>,
    sum_of_squares: f64,
    data: Vec<(f64, f64)>,
}

/// Reads one of NIST's files.
fn set(text: &str) -> Set {
    let number = |word: &str| word.parse::<f64>().expect("a number");
    let mut set = Set { starts: [vec![], vec![]], certified: vec![], sum_of_squares: 0.0, data: vec![] };
    let mut in_data = false;
    for line in text.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            ["Data:", "y", "x"] => in_data = true,
            [y, x] if in_data => set.data.push((number(x), number(y))),
            [unknown, "=", far, near, value, deviation] if unknown.starts_with('b') => {
                set.starts[0].push(number(far));
                set.starts[1].push(number(near));
                set.certified.push((number(value), number(deviation)));
            }
            ["Residual", "Sum", "of", "Squares:", sum] => set.sum_of_squares = number(sum),
            _ => (),
        }
    }
    set
}

fn fitted(set: &Set, model: Model, start: &[f64]) -> Fit {
    let residuals = |b: &[f64]| set.data.iter().map(|(x, y)| model(*x, b) - y).collect();
    let unknowns = start.iter().enumerate().map(|(i, s)| Unknown::free(format!("b{}", i + 1), *s)).collect();
    Problem::new(unknowns, Spread::Equal, &residuals).fit(&[start.to_vec()]).expect("a fit")
}

fn check(name: &str, text: &str, model: Model) {
    let set = set(text);
    for (which, start) in set.starts.iter().enumerate() {
        check_from(name, &set, model, which, start);
    }
}

fn check_from(name: &str, set: &Set, model: Model, which: usize, start: &[f64]) {
    let fit = fitted(set, model, start);
    assert_eq!(fit.refusals(), vec![], "{name}, start {}", which + 1);
    for (index, (value, deviation)) in set.certified.iter().enumerate() {
        let found = fit.point()[index];
        let away = ((found - value) / value).abs();
        assert!(away < 1e-6, "{name} start {}: b{} is {found}, not {value}", which + 1, index + 1);
        let spread = fit.covariance(index, index).sqrt();
        let away = ((spread - deviation) / deviation).abs();
        assert!(away < 1e-4, "{name} start {}: u(b{}) is {spread}, not {deviation}", which + 1, index + 1);
    }
    let sum = fit.chi_square();
    // Of a sum of squares near 1e-8 the data's own ten digits leave fewer.
    assert!(((sum - set.sum_of_squares) / set.sum_of_squares).abs() < 1e-6, "{name}: {sum}");
    assert_eq!(fit.degrees_of_freedom(), set.data.len() - start.len());
}

fn gauss(x: f64, b: &[f64]) -> f64 {
    let bell = |top: f64, middle: f64, width: f64| {
        let away = (x - middle) / width;
        top * exp(-away * away)
    };
    b[0] * exp(-b[1] * x) + bell(b[2], b[3], b[4]) + bell(b[5], b[6], b[7])
}

fn cubic_by_cubic(x: f64, b: &[f64]) -> f64 {
    (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1.0 + x * (b[4] + x * (b[5] + x * b[6])))
}

fn enso(x: f64, b: &[f64]) -> f64 {
    let turns = |period: f64| 2.0 * std::f64::consts::PI * x / period;
    b[0] + b[1] * cos(turns(12.0))
        + b[2] * sin(turns(12.0))
        + b[4] * cos(turns(b[3]))
        + b[5] * sin(turns(b[3]))
        + b[7] * cos(turns(b[6]))
        + b[8] * sin(turns(b[6]))
}

#[test]
fn lower_difficulty() {
    check("Misra1a", include_str!("data/nist_strd/Misra1a.dat"), |x, b| b[0] * (1.0 - exp(-b[1] * x)));
    check("Chwirut2", include_str!("data/nist_strd/Chwirut2.dat"), |x, b| exp(-b[0] * x) / (b[1] + b[2] * x));
    check("Gauss1", include_str!("data/nist_strd/Gauss1.dat"), gauss);
    check("DanWood", include_str!("data/nist_strd/DanWood.dat"), |x, b| b[0] * pow(x, b[1]));
    check("Lanczos3", include_str!("data/nist_strd/Lanczos3.dat"), |x, b| {
        b[0] * exp(-b[1] * x) + b[2] * exp(-b[3] * x) + b[4] * exp(-b[5] * x)
    });
}

#[test]
fn average_difficulty() {
    check("Kirby2", include_str!("data/nist_strd/Kirby2.dat"), |x, b| {
        (b[0] + x * (b[1] + x * b[2])) / (1.0 + x * (b[3] + x * b[4]))
    });
    check("Hahn1", include_str!("data/nist_strd/Hahn1.dat"), cubic_by_cubic);
    check("MGH17", include_str!("data/nist_strd/MGH17.dat"), |x, b| {
        b[0] + b[1] * exp(-x * b[3]) + b[2] * exp(-x * b[4])
    });
    check("ENSO", include_str!("data/nist_strd/ENSO.dat"), enso);
}

#[test]
fn higher_difficulty() {
    check("Thurber", include_str!("data/nist_strd/Thurber.dat"), cubic_by_cubic);
    check("Rat42", include_str!("data/nist_strd/Rat42.dat"), |x, b| b[0] / (1.0 + exp(b[1] - b[2] * x)));
    check("Rat43", include_str!("data/nist_strd/Rat43.dat"), |x, b| {
        b[0] / pow(1.0 + exp(b[1] - b[2] * x), 1.0 / b[3])
    });
    check("Eckerle4", include_str!("data/nist_strd/Eckerle4.dat"), |x, b| {
        let away = (x - b[2]) / b[1];
        b[0] / b[1] * exp(-0.5 * away * away)
    });
    check("Bennett5", include_str!("data/nist_strd/Bennett5.dat"), |x, b| b[0] * pow(b[1] + x, -1.0 / b[2]));
    check("BoxBOD", include_str!("data/nist_strd/BoxBOD.dat"), |x, b| b[0] * (1.0 - exp(-b[1] * x)));
    check("MGH09", include_str!("data/nist_strd/MGH09.dat"), |x, b| {
        b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3])
    });
    check("MGH10", include_str!("data/nist_strd/MGH10.dat"), |x, b| b[0] * exp(b[1] / (x + b[2])));
}
