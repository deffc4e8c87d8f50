//! A whole winding, for any depth and any number of turns, from one table.

use super::quadrature::Gauss;
use super::turn::{Layers, Turn};
use super::{InductanceError, MU_0};
use crate::bobbin::{Bobbin, Former, Lay, Turns};
use asfound_measure::{Henries, Millimetres};
use std::f64::consts::PI;

/// Terms of the table's polynomials. With twelve, they add less than 1e-5 of the inductance.
const TERMS: usize = 12;

/// The inductance of windings on one bobbin in air, as a function of their depth.
///
/// Building one takes the integrals over the winding's section, a few milliseconds; asking it is a polynomial of twelve
/// terms, some twenty nanoseconds.
///
/// ```
/// use asfound_electric::bobbin::{Bobbin, Former, Turns};
/// use asfound_electric::inductance::AirCore;
/// use asfound_measure::Millimetres;
/// let former = Former::Obround { straight: Millimetres(52.4), end_radius: Millimetres(2.48) };
/// let bobbin = Bobbin::new(former, Millimetres(11.0))?;
/// let table = AirCore::tabulate(&bobbin, Millimetres(8.0))?;
/// let henries = table.inductance(Millimetres(5.1), Turns(8105.0))?;
/// assert!((henries.value() - 1.845).abs() < 0.002);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct AirCore {
    deepest: f64,
    /// Henries for one turn squared, as a Chebyshev series over the depth from 0 to the deepest.
    series: [f64; TERMS],
}

impl AirCore {
    /// The table for one bobbin, for windings from nothing to the deepest asked for.
    ///
    /// A winding is taken as a current spread evenly over its section. Its inductance is then the mean, over all pairs
    /// of depths, of the flux that a layer at one depth sends through a layer at the other. What is left out is that
    /// round wires do not fill the section: about `μ₀/2π ln(pitch/bare)` for each metre of wire, which for fine wire in
    /// thousands of turns is less than 1e-4 of the whole.
    ///
    /// # Errors
    /// [`InductanceError::Measure`] for a deepest that is not more than nothing.
    pub fn tabulate(bobbin: &Bobbin, deepest: Millimetres) -> Result<Self, InductanceError> {
        super::metres("depth", deepest)?;
        let deepest = deepest.value();
        let (layers, rule) = (Layers::new(bobbin.height().value()), Gauss::new(8));
        let turn = |depth: f64| turn_at(bobbin.former(), depth);
        // The mean flux of the layer at a depth through all layers within it. Taken on one side of the diagonal, where
        // the two layers meet and the flux has a kink.
        let within = series(|share| {
            let depth = share * deepest;
            rule.integrate(1.0, |part| layers.linked(turn(depth), turn(part * depth)))
        });
        let millimetres = 1e-3;
        let whole = series(|share| 2.0 * rule.integrate(1.0, |part| part * sum(&within, part * share)));
        Ok(Self { deepest, series: whole.map(|term| term * MU_0 / (4.0 * PI) * millimetres) })
    }

    /// The deepest winding that the table answers for.
    pub fn deepest(&self) -> Millimetres {
        Millimetres(self.deepest)
    }

    /// The inductance in air of so many turns, lying evenly from the former to a depth.
    ///
    /// # Errors
    /// [`InductanceError::Depth`] outside the table. A depth of nothing is the single layer.
    pub fn inductance(&self, depth: Millimetres, turns: Turns) -> Result<Henries, InductanceError> {
        let share = depth.value() / self.deepest;
        if !(0.0..=1.0).contains(&share) {
            return Err(InductanceError::Depth { depth: depth.value(), deepest: self.deepest });
        }
        let n = turns.value();
        Ok(Henries(sum(&self.series, share) * n * n))
    }
}

/// The turn that lies on a former at a depth.
fn turn_at(former: Former, depth: f64) -> Turn {
    match former {
        Former::Obround { straight, end_radius } => {
            Turn { lengths: [straight.value(), 0.0], radius: end_radius.value() + depth }
        }
        Former::Rectangular { length, width, lay: Lay::Rounded } => {
            Turn { lengths: [length.value(), width.value()], radius: depth }
        }
        Former::Rectangular { length, width, lay: Lay::Square } => {
            Turn { lengths: [length.value() + 2.0 * depth, width.value() + 2.0 * depth], radius: 0.0 }
        }
        Former::Circular { radius } => Turn { lengths: [0.0, 0.0], radius: radius.value() + depth },
    }
}

/// The Chebyshev series of a function on 0 to 1, in the root of its argument, through its values at the zeros of the next
/// polynomial. The root, because a thin winding's inductance goes as depth squared times its logarithm.
fn series(function: impl Fn(f64) -> f64) -> [f64; TERMS] {
    let angle = |i: usize| PI * (i as f64 + 0.5) / TERMS as f64;
    let values: [f64; TERMS] = std::array::from_fn(|i| {
        let root = 0.5 * (1.0 + libm::cos(angle(i)));
        function(root * root)
    });
    std::array::from_fn(|k| {
        let sum: f64 = (0..TERMS).map(|i| values[i] * libm::cos(k as f64 * angle(i))).sum();
        sum * if k == 0 { 1.0 } else { 2.0 } / TERMS as f64
    })
}

/// The sum of a Chebyshev series at a share from 0 to 1, by Clenshaw's recurrence.
fn sum(series: &[f64; TERMS], share: f64) -> f64 {
    let x = 2.0 * share.sqrt() - 1.0;
    let (mut next, mut after) = (0.0, 0.0);
    for term in series[1..].iter().rev() {
        (next, after) = (term + 2.0 * x * next - after, next);
    }
    series[0] + x * next - after
}
