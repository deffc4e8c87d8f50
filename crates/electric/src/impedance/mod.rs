//! What a coil is, from how its impedance runs over frequency.
//!
//! [`fit`] takes a [`Sweep`](crate::sweep::Sweep) and answers with the simplest [`Model`] that explains it: resistance,
//! inductance, capacitance, losses, each with its standard uncertainty or with the reason why the sweep does not tell
//! it; the resonance of the bare coil; and what the losses say of shorted turns. [`as_metered`] gives the figures that
//! an LCR meter shows.
//!
//! **The decision: every model is a network that could be wound, and a finer one must earn its parts.** Four are
//! tried, from three parts to seven ([`Kind`]). They are compared by Akaike's criterion for few readings, AICc, and the
//! simplest is taken whose criterion lies within 10 of the best. An F test would need each model to be contained in the
//! next, and a resistance across the whole coil is not contained in one across part of it. The 10 is K. P. Burnham and
//! D. R. Anderson's figure (Model Selection and Multimodel Inference, 2nd edition, 2002, section 2.6): a model further
//! off than that has essentially no support. A model of which a part cannot be told is not taken, unless it is the
//! simplest.
//!
//! Equations, with `ω = 2πf`:
//! - series R and L under C: `1/Z = 1/(R + jωL) + jωC`; with a loss across all `+ 1/Rₚ`; with eddy branches
//!   `jωL → jωL₁ + Σ 1/(1/(jωLᵢ) + 1/Rᵢ)` (network theory; a lossy secondary turn seen from the coil is such a branch);
//! - `Q = ωLₛ/Rₛ`, `D = 1/Q`, `Lₚ = Lₛ(1 + 1/Q²)`, `Rₚ = Rₛ(1 + Q²)` (the two-element equivalents of one impedance);
//! - `AICc = n ln(S/n) + 2k + 2k(k + 1)/(n - k - 1)` with S the sum of squares and k counting the spread as well
//!   (C. M. Hurvich and C.-L. Tsai, Biometrika 76, 297, 1989); where the uncertainty of the readings is known, χ² stands
//!   in the place of `n ln(S/n)`.
//!
//! Residuals are those of the logarithm of the impedance: the ratio of magnitudes and the difference of phases in
//! radians weigh alike, as they do in a measurement whose error is a share of the reading.
//!
//! ```
//! use asfound_electric::impedance::{Kind, Model, fit};
//! use asfound_electric::sweep::{Point, Sweep};
//! use asfound_measure::{Farads, Henries, Hertz, Ohms};
//! let coil = Model::plain(Ohms(6000.0), Henries(2.4), Farads(110e-12));
//! let points = (1..=40).map(|i| {
//!     let frequency = Hertz(50.0 * 1.15f64.powi(i));
//!     Point::complex(frequency, coil.impedance(frequency), Some(0.01))
//! });
//! let fitted = fit(&Sweep::new(points.collect())?)?;
//! assert_eq!(fitted.kind, Kind::Plain);
//! assert!((fitted.inductance?.value.0 - 2.4).abs() < 1e-6);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod choose;
mod fitted;
mod loss;
mod metered;
mod model;
mod resonance;
mod starts;

pub use choose::{Kind, Tried};
pub use fitted::{EddyTold, Fitted, PointResidual, fit};
pub use loss::{LossAt, ShortedTurns, THRESHOLDS, Thresholds};
pub use metered::{AsMetered, as_metered};
pub use model::Model;
pub use resonance::Resonance;
