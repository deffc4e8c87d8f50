//! How sure a value is, after the Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008).

use crate::quantity::Quantity;

/// A value with its standard uncertainty, both in the unit of the quantity (of a temperature: a difference).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertain<Q> {
    /// The best estimate.
    pub value: Q,
    /// One standard uncertainty, not negative (JCGM 100, 2.3.1).
    pub standard_uncertainty: Q,
}

impl<Q: Quantity> Uncertain<Q> {
    /// A value with a standard uncertainty. Its sign is dropped.
    pub fn new(value: Q, standard_uncertainty: Q) -> Self {
        Self { value, standard_uncertainty: Q::of(standard_uncertainty.size().abs()) }
    }

    /// A value known to lie within `half_width` with nothing to choose between the places: `u = a/√3`
    /// (JCGM 100, 4.3.7).
    pub fn rectangular(value: Q, half_width: Q) -> Self {
        Self::new(value, Q::of(rectangular(half_width.size())))
    }

    /// A value with independent contributions, each already times its sensitivity: `u = √Σuᵢ²` (JCGM 100, 5.1.2).
    pub fn combined(value: Q, contributions: &[Q]) -> Self {
        let squares: f64 = contributions.iter().map(|u| u.size() * u.size()).sum();
        Self::new(value, Q::of(squares.sqrt()))
    }

    /// The expanded uncertainty `U = k u` (JCGM 100, 6.2.1). `k = 2` is about 95 % where the spread is nearly normal.
    pub fn expanded(self, coverage_factor: f64) -> Q {
        Q::of(coverage_factor * self.standard_uncertainty.size())
    }

    /// The standard uncertainty as a fraction of the value; infinite for a value of zero.
    pub fn relative(self) -> f64 {
        self.standard_uncertainty.size() / self.value.size().abs()
    }
}

/// The standard uncertainty of a rectangular spread: `a/√3` (JCGM 100, 4.3.7).
pub fn rectangular(half_width: f64) -> f64 {
    half_width.abs() / 3.0_f64.sqrt()
}

/// An input of a working: a name for print, its value and its standard uncertainty, in one unit of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// What it is, for the working.
    pub name: &'static str,
    /// The best estimate.
    pub value: f64,
    /// One standard uncertainty.
    pub standard_uncertainty: f64,
}

/// What an input does to the result.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution {
    /// The input.
    pub input: Input,
    /// The sensitivity `cᵢ = ∂f/∂xᵢ` (JCGM 100, 5.1.3), in units of the result per unit of the input.
    pub sensitivity: f64,
}

impl Contribution {
    /// `cᵢ u(xᵢ)`, with its sign, in units of the result.
    pub fn in_result(self) -> f64 {
        self.sensitivity * self.input.standard_uncertainty
    }
}

/// A result with all that made it uncertain, so that the working can be printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Propagated {
    /// The model at the best estimates.
    pub value: f64,
    /// The combined standard uncertainty.
    pub standard_uncertainty: f64,
    /// One for each input, in their order.
    pub contributions: Vec<Contribution>,
}

impl Propagated {
    /// The expanded uncertainty `U = k u` (JCGM 100, 6.2.1).
    pub fn expanded(&self, coverage_factor: f64) -> f64 {
        coverage_factor * self.standard_uncertainty
    }

    /// The result as a quantity; the caller knows which the model gives.
    pub fn of<Q: Quantity>(&self) -> Uncertain<Q> {
        Uncertain::new(Q::of(self.value), Q::of(self.standard_uncertainty))
    }
}

/// How inputs move together: a square of correlation coefficients, symmetric, with ones down the diagonal.
#[derive(Debug, Clone, PartialEq)]
pub struct Correlation {
    rows: Vec<Vec<f64>>,
}

/// Why a square of numbers is no correlation, or does not fit the inputs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CorrelationError {
    /// Rows and columns differ in number, or differ from the number of inputs.
    #[error("a correlation has one row and one column for each input")]
    Shape,
    /// An entry on the diagonal is not one.
    #[error("input {0} correlates with itself by exactly 1")]
    Diagonal(usize),
    /// An entry differs from its mirror image, or lies outside -1 to 1.
    #[error("the correlation of inputs {0} and {1} must be one number from -1 to 1")]
    Entry(usize, usize),
    /// The coefficients contradict one another: they would make the square of the uncertainty negative.
    #[error("these correlations cannot all be true together")]
    Contradiction,
}

impl Correlation {
    /// Checks shape, diagonal, symmetry and range.
    ///
    /// # Errors
    /// [`CorrelationError`] naming the entry, counted from 0.
    pub fn new(rows: Vec<Vec<f64>>) -> Result<Self, CorrelationError> {
        if rows.iter().any(|row| row.len() != rows.len()) {
            return Err(CorrelationError::Shape);
        }
        for (i, row) in rows.iter().enumerate() {
            for (j, r) in row.iter().enumerate() {
                if i == j && *r != 1.0 {
                    return Err(CorrelationError::Diagonal(i));
                }
                if !(-1.0..=1.0).contains(r) || *r != rows[j][i] {
                    return Err(CorrelationError::Entry(i, j));
                }
            }
        }
        Ok(Self { rows })
    }
}

/// Combines contributions whose sensitivities are known in closed form.
///
/// `u² = Σᵢ Σⱼ cᵢ cⱼ uᵢ uⱼ r(xᵢ, xⱼ)` (JCGM 100, equations 13 and 16); without correlation `u² = Σ (cᵢ uᵢ)²`
/// (equation 10).
///
/// # Errors
/// [`CorrelationError`] where the correlation does not fit the inputs or contradicts itself; never without one.
pub fn combine(
    value: f64,
    contributions: Vec<Contribution>,
    correlation: Option<&Correlation>,
) -> Result<Propagated, CorrelationError> {
    let parts: Vec<f64> = contributions.iter().map(|c| c.in_result()).collect();
    let squares: f64 = parts.iter().map(|part| part * part).sum();
    let mut variance = squares;
    if let Some(Correlation { rows }) = correlation {
        if rows.len() != parts.len() {
            return Err(CorrelationError::Shape);
        }
        for i in 0..parts.len() {
            for j in 0..i {
                variance += 2.0 * parts[i] * parts[j] * rows[i][j];
            }
        }
        // Full correlation may cancel to nothing, and rounding then leaves a trace on either side of zero.
        if variance < -1e-12 * squares * parts.len() as f64 {
            return Err(CorrelationError::Contradiction);
        }
    }
    Ok(Propagated { value, standard_uncertainty: variance.max(0.0).sqrt(), contributions })
}

/// The law of propagation of uncertainty for any smooth model (JCGM 100, clause 5).
///
/// Sensitivities are taken from the model by central differences on steps of `u/64` and `u/32` with the leading error
/// cancelled between them; JCGM 100, 5.1.3, note 2 allows such numerical evaluation with a step of `u`. An input with
/// no uncertainty contributes nothing, and its sensitivity is given as 0. Where the model bends within `u`, use Monte
/// Carlo (JCGM 101) instead.
///
/// # Errors
/// As [`combine`].
///
/// ```
/// use asfound_measure::{Input, propagate};
/// let inputs = [
///     Input { name: "voltage", value: 2.0, standard_uncertainty: 0.03 },
///     Input { name: "current", value: 4.0, standard_uncertainty: 0.08 },
/// ];
/// let power = propagate(&inputs, |x| x[0] * x[1], None)?;
/// assert_eq!(power.value, 8.0);
/// assert!((power.standard_uncertainty - 0.2).abs() < 1e-12); // √(0.12² + 0.16²)
/// # Ok::<(), asfound_measure::CorrelationError>(())
/// ```
pub fn propagate(
    inputs: &[Input],
    model: impl Fn(&[f64]) -> f64,
    correlation: Option<&Correlation>,
) -> Result<Propagated, CorrelationError> {
    let mut at: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let value = model(&at);
    let mut contributions = Vec::with_capacity(inputs.len());
    for (i, input) in inputs.iter().enumerate() {
        let step = input.standard_uncertainty / 64.0;
        let mut difference = |steps: f64| {
            at[i] = input.value + steps * step;
            let above = model(&at);
            at[i] = input.value - steps * step;
            let below = model(&at);
            at[i] = input.value;
            above - below
        };
        let slope = if step == 0.0 { 0.0 } else { (8.0 * difference(1.0) - difference(2.0)) / (12.0 * step) };
        contributions.push(Contribution { input: *input, sensitivity: slope });
    }
    combine(value, contributions, correlation)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Ohms;
    use proptest::prelude::*;

    /// JCGM 100:2008, H.2: five sets of voltage, current and phase, taken together and therefore correlated.
    fn annex_h2() -> ([Input; 3], Correlation) {
        let inputs = [
            Input { name: "voltage", value: 4.9990, standard_uncertainty: 0.003_209_36 },
            Input { name: "current", value: 19.6610e-3, standard_uncertainty: 9.471_008e-6 },
            Input { name: "phase", value: 1.04446, standard_uncertainty: 7.520_638e-4 },
        ];
        let r = [[1.0, -0.3553, 0.8576], [-0.3553, 1.0, -0.6451], [0.8576, -0.6451, 1.0]];
        let rows = r.iter().map(|row| row.to_vec()).collect();
        (inputs, Correlation::new(rows).expect("a correlation"))
    }

    type Model = fn(&[f64]) -> f64;
    const MODELS: [Model; 3] =
        [|x| x[0] * libm::cos(x[2]) / x[1], |x| x[0] * libm::sin(x[2]) / x[1], |x| x[0] / x[1]];

    #[test]
    fn correlated_inputs_as_in_annex_h2() {
        // Published, table H.4: 127.732 (0.071), 219.847 (0.295), 254.260 (0.236) ohm. Half of the last printed digit;
        // the second u is 0.2956 from the rounded inputs given above and printed 0.295, so one digit there.
        let (inputs, correlation) = annex_h2();
        let published = [(127.732, 0.071, 5e-4), (219.847, 0.295, 1e-3), (254.260, 0.236, 5e-4)];
        for (model, (value, u, tolerance)) in MODELS.into_iter().zip(published) {
            let result = propagate(&inputs, model, Some(&correlation)).expect("fits");
            assert!((result.value - value).abs() <= 5e-4, "{}", result.value);
            assert!((result.standard_uncertainty - u).abs() <= tolerance, "{}", result.standard_uncertainty);
        }
    }

    #[test]
    fn leaving_the_correlation_out_is_seen() {
        // Equation 10 with the closed sensitivities, worked by hand in double precision from the same inputs.
        let (inputs, _) = annex_h2();
        for (model, u) in MODELS.into_iter().zip([0.194_545, 0.200_909, 0.204_076]) {
            let result = propagate(&inputs, model, None).expect("nothing to misfit");
            // Six digits are given there.
            assert!((result.standard_uncertainty - u).abs() < 1e-6, "{}", result.standard_uncertainty);
        }
    }

    #[test]
    fn end_gauge_of_annex_h1() {
        // JCGM 100:2008, H.1: l = lS + d - lS (δα θ + αS δθ), in nanometres; u = 32 nm printed, 31.71 before rounding.
        let inputs = [
            ("standard", 50_000_623.0, 25.0),
            ("difference", 215.0, 9.7),
            ("difference of expansions", 0.0, 0.58e-6),
            ("bed's departure", -0.1, 0.41),
            ("expansion", 11.5e-6, 1.2e-6),
            ("difference of temperatures", 0.0, 0.029),
        ]
        .map(|(name, value, standard_uncertainty)| Input { name, value, standard_uncertainty });
        let model = |x: &[f64]| x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]);
        let result = propagate(&inputs, model, None).expect("nothing to misfit");
        assert_eq!(result.value, 50_000_838.0);
        assert!((result.standard_uncertainty - 31.710_610).abs() < 1e-5, "{}", result.standard_uncertainty);
    }

    #[test]
    fn a_rectangle_is_its_half_width_over_root_three() {
        let meter = Uncertain::rectangular(Ohms(6150.0), Ohms(75.35));
        assert!((meter.standard_uncertainty.value() - 43.503_34).abs() < 5e-6);
        assert_eq!(meter.expanded(2.0).value(), 2.0 * meter.standard_uncertainty.value());
    }

    #[test]
    fn a_correlation_is_checked() {
        let square = |a: f64, b: f64| Correlation::new(vec![vec![1.0, a], vec![b, 1.0]]);
        assert_eq!(square(0.5, 0.4), Err(CorrelationError::Entry(0, 1)));
        assert_eq!(square(1.5, 1.5), Err(CorrelationError::Entry(0, 1)));
        assert_eq!(square(f64::NAN, f64::NAN), Err(CorrelationError::Entry(0, 1)));
        assert_eq!(Correlation::new(vec![vec![0.9]]), Err(CorrelationError::Diagonal(0)));
        assert_eq!(Correlation::new(vec![vec![1.0, 0.0]]), Err(CorrelationError::Shape));
        let one = [Input { name: "only", value: 1.0, standard_uncertainty: 1.0 }];
        let two = square(0.5, 0.5).expect("a correlation");
        assert_eq!(propagate(&one, |x| x[0], Some(&two)), Err(CorrelationError::Shape));
        // Three inputs cannot each be the opposite of the other two.
        let all = Correlation::new(
            (0..3).map(|i| (0..3).map(|j| if i == j { 1.0 } else { -1.0 }).collect()).collect(),
        );
        let three = [Input { name: "one of three", value: 0.0, standard_uncertainty: 1.0 }; 3];
        let sum = propagate(&three, |x| x.iter().sum(), Some(&all.expect("each pair alone is possible")));
        assert_eq!(sum, Err(CorrelationError::Contradiction));
    }

    proptest! {
        #[test]
        fn a_sum_adds_in_quadrature_or_in_line(a in 0.0..1e3_f64, b in 0.0..1e3_f64, r in -1.0..=1.0_f64) {
            let inputs = [a, b].map(|u| Input { name: "term", value: 1.0, standard_uncertainty: u });
            let correlation = Correlation::new(vec![vec![1.0, r], vec![r, 1.0]]).expect("in range");
            let result = propagate(&inputs, |x| x[0] + x[1], Some(&correlation)).expect("fits");
            // The differences carry about 1e-16 × 64 × value/u; the bound is generous to that and to the root near 0.
            let expected = a * a + b * b + 2.0 * a * b * r;
            let found = result.standard_uncertainty * result.standard_uncertainty;
            prop_assert!((found - expected).abs() <= 1e-9 * (1.0 + a * a + b * b));
        }

        #[test]
        fn combining_never_makes_surer(parts in proptest::collection::vec(0.0..1e6_f64, 1..8)) {
            let combined = Uncertain::combined(Ohms(1.0), &parts.iter().map(|p| Ohms(*p)).collect::<Vec<_>>());
            let largest = parts.iter().copied().fold(0.0, f64::max);
            let sum: f64 = parts.iter().sum();
            let u = combined.standard_uncertainty.value();
            prop_assert!(u >= largest * (1.0 - 1e-12) && u <= sum * (1.0 + 1e-12));
        }
    }
}
