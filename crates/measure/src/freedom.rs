//! How many times the standard uncertainty covers a stated share, when it was found from few readings
//! (JCGM 100:2008, annex G).

use crate::uncertain::Contribution;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// Effective degrees of freedom of a result, after Welch and Satterthwaite: `ν = u⁴ / Σ (uᵢ⁴/νᵢ)`
/// (JCGM 100, G.4.1, equation G.2b), `u² = Σuᵢ²`.
///
/// `degrees` holds `νᵢ` for each contribution, in their order; [`f64::INFINITY`] for one that is known without
/// readings, such as a limit from a data sheet. Infinite where every contribution is so known. The inputs must not be
/// correlated. `None` where the lists differ in length or a number of degrees is not more than nothing.
///
/// ```
/// use asfound_measure::{Contribution, Input, effective_degrees_of_freedom};
/// let part = |u| Contribution {
///     input: Input { name: "mean of five readings", value: 0.0, standard_uncertainty: u },
///     sensitivity: 1.0,
/// };
/// assert_eq!(effective_degrees_of_freedom(&[part(1.0), part(1.0)], &[4.0, 4.0]), Some(8.0));
/// ```
pub fn effective_degrees_of_freedom(contributions: &[Contribution], degrees: &[f64]) -> Option<f64> {
    let sound = contributions.len() == degrees.len() && degrees.iter().all(|degrees| *degrees > 0.0);
    if !sound {
        return None;
    }
    let squares = contributions.iter().map(|part| part.in_result() * part.in_result());
    let variance: f64 = squares.clone().sum();
    let below: f64 = squares.zip(degrees).map(|(square, degrees)| square * square / degrees).sum();
    // Nothing uncertain: the question does not arise, and any number of degrees answers it.
    Some(if below == 0.0 { f64::INFINITY } else { variance * variance / below })
}

/// The factor `t_p(ν)` by which a standard uncertainty is expanded to cover the share `p` on both sides together
/// (JCGM 100, G.3.2 and table G.2); for [`f64::INFINITY`] degrees that of the normal distribution.
///
/// Found by a numerical inverse that promises six digits, not bits. `None` unless `0 < p < 1` and `ν > 0`.
///
/// ```
/// use asfound_measure::coverage_factor;
/// let few = coverage_factor(0.95, 4.0).expect("a share and some degrees");
/// assert!((few - 2.776).abs() < 5e-4); // 2.78 in table G.2
/// ```
pub fn coverage_factor(share: f64, degrees_of_freedom: f64) -> Option<f64> {
    if !(share > 0.0 && share < 1.0 && degrees_of_freedom > 0.0) {
        return None;
    }
    let below = 0.5 + share / 2.0;
    if degrees_of_freedom > MANY_DEGREES {
        return Some(factor_of_many(Normal::new(0.0, 1.0).ok()?.inverse_cdf(below), degrees_of_freedom));
    }
    Some(StudentsT::new(0.0, 1.0, degrees_of_freedom).ok()?.inverse_cdf(below))
}

/// Above this the numerical inverse loses digits (at a hundred thousand degrees it has five left), and the expansion
/// has eleven.
const MANY_DEGREES: f64 = 1000.0;

/// The t quantile from the normal one, as a power series in `1/ν` (Abramowitz and Stegun, Handbook of Mathematical
/// Functions, 26.7.5, its first two terms).
fn factor_of_many(z: f64, degrees: f64) -> f64 {
    let square = z * z;
    let first = z * (square + 1.0) / 4.0;
    let second = z * ((5.0 * square + 16.0) * square + 3.0) / 96.0;
    z + (first + second / degrees) / degrees
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_as_in_table_g2() {
        // JCGM 100:2008, table G.2, to its printed digits.
        for (degrees, share, printed) in [
            (1.0, 0.6827, 1.84),
            (1.0, 0.95, 12.71),
            (1.0, 0.99, 63.66),
            (2.0, 0.95, 4.30),
            (5.0, 0.90, 2.02),
            (8.0, 0.99, 3.36),
            (16.0, 0.99, 2.92),
            (20.0, 0.9545, 2.13),
            (50.0, 0.95, 2.01),
            (100.0, 0.9973, 3.077),
            (f64::INFINITY, 0.95, 1.960),
            (f64::INFINITY, 0.99, 2.576),
        ] {
            let found = coverage_factor(share, degrees).expect("in range");
            let half_of_last =
                if printed > 3.0 && degrees == 100.0 || degrees.is_infinite() { 5e-4 } else { 5e-3 };
            assert!((found - printed).abs() <= half_of_last, "{degrees} {share}: {found}");
        }
    }

    #[test]
    fn factors_to_six_digits() {
        // Independent double-precision inverse of the t distribution.
        for (degrees, share, exact) in
            [(16.0, 0.99, 2.920_782), (9.0, 0.95, 2.262_157), (3.0, 0.95, 3.182_446)]
        {
            let found = coverage_factor(share, degrees).expect("in range");
            assert!((found - exact).abs() < 1e-6, "{degrees}: {found}");
        }
    }

    #[test]
    fn many_degrees_join_the_few_and_the_normal() {
        for share in [0.5, 0.95, 0.99, 0.9973] {
            let factor = |degrees| coverage_factor(share, degrees).expect("in range");
            // Between 999 and 1001 degrees the factor itself falls by less than 2e-5.
            let (few, many, normal) = (factor(999.0), factor(1001.0), factor(f64::INFINITY));
            assert!(few > many && few - many < 2e-5, "{share}: {few} {many}");
            assert!(factor(1e7) > normal && factor(1e7) - normal < 1e-5, "{share}");
        }
    }

    #[test]
    fn what_has_no_answer_has_none() {
        for (share, degrees) in [(0.0, 5.0), (1.0, 5.0), (f64::NAN, 5.0), (0.95, 0.0), (0.95, f64::NAN)] {
            assert_eq!(coverage_factor(share, degrees), None);
        }
        assert_eq!(effective_degrees_of_freedom(&[], &[3.0]), None);
        assert_eq!(effective_degrees_of_freedom(&[], &[]), Some(f64::INFINITY));
    }
}
