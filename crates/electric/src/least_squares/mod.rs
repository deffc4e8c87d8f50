//! Values fitted to readings, with how sure each is and which the readings cannot tell apart.
//!
//! A [`Problem`] is a list of unknowns, a function that gives the residuals (model less reading, in the unit of the
//! readings) and how far the readings spread. [`Problem::fit`] starts from several places, keeps the best end, and
//! answers with a [`Fit`].
//!
//! **The decision: a number is given out only where the readings fix it.** At the end of the fit the weighted
//! Jacobian, its columns made equally long, is taken apart into singular values. A direction in which nothing changes
//! is kept; every unknown that lies along it is refused by name, with the names of those it is mixed with, and so is
//! every derived figure that depends on it. A sum may be told where its parts are not.
//!
//! Equations:
//! - minimum of `Σ (rᵢ/uᵢ)²` by the method of Levenberg and Marquardt in a trust region (J. J. Moré, Lecture Notes in
//!   Mathematics 630, 105, 1978);
//! - covariance `(JᵀWJ)⁻¹` where the spread of the readings is known, times `χ²/ν` where it is not (JCGM 100:2008,
//!   H.3, and P. R. Bevington, Data Reduction and Error Analysis for the Physical Sciences, 1969, chapter 11);
//! - what follows from the unknowns: `u² = gᵀ C g` (JCGM 100:2008, 5.2.2);
//! - derivatives, where none are given: central differences with the leading error cancelled (L. F. Richardson,
//!   Philosophical Transactions A 226, 299, 1927).
//!
//! An unknown that cannot be negative is fitted by its logarithm: 100 pF and 3 H then weigh alike, and no step leads
//! below nought. Stated digits are promised, not bits: the sums are nalgebra's.
//!
//! ```
//! use asfound_electric::least_squares::{Problem, Spread, Unknown};
//! use asfound_measure::Ohms;
//! // A voltage across a resistor at four currents, each read to ±0.01 V.
//! let (amperes, volts) = ([0.1, 0.2, 0.3, 0.4], [1.01, 1.99, 3.00, 4.00]);
//! let residuals = |x: &[f64]| (0..4).map(|i| x[0] * amperes[i] - volts[i]).collect();
//! let problem = Problem::new(vec![Unknown::positive("resistance")], Spread::Known(vec![0.01; 4]), &residuals);
//! let fit = problem.fit(&[vec![5.0]])?;
//! let resistance = fit.told::<Ohms>(0)?;
//! assert!((resistance.value.0 - 10.0).abs() < 0.01);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod fit;
mod problem;
mod solve;

pub use fit::{Fit, NotTold};
pub use problem::{FitError, Problem, Spread, Unknown};
