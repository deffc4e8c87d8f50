//! Monte Carlo: distributions carried through a model by drawing from them (JCGM 101:2008).

use crate::distribution::{Chance, Distribution};
use crate::quantity::Quantity;
use crate::uncertain::Uncertain;

/// The fewest draws that say anything of a 95 % interval.
const FEWEST: usize = 1000;

/// Why a simulation has no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SimulateError {
    /// Too few draws.
    #[error("{0} draws are too few; {FEWEST} is the least, and a million the usual number")]
    TooFew(usize),
    /// The model gave something that is no number.
    #[error("draw {0} gave no number; the model or a distribution does not hold over all that was drawn")]
    NoNumber(usize),
}

/// A result as a simulation finds it.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulated {
    /// The mean of the draws (JCGM 101, equation 16).
    pub mean: f64,
    /// Their standard deviation, the standard uncertainty of the result (JCGM 101, equation 17).
    pub standard_uncertainty: f64,
    /// The draws, rising.
    sorted: Vec<f64>,
}

/// Draws each input, asks the model, and does so again and again (JCGM 101, clause 7).
///
/// Inputs are independent of one another, and the model sees them in their order. The same seed gives the same bits on
/// every machine. Take a million draws for two digits of a 95 % interval (7.2.1).
///
/// # Errors
/// [`SimulateError`] for fewer than a thousand draws, and where the model gives no number.
///
/// ```
/// use asfound_measure::{Distribution, simulate};
/// // JCGM 101, 9.2.3: the sum of four rectangular inputs of unit standard uncertainty; ±3.88 covers 95 %.
/// let one = Distribution::rectangular(-3.0_f64.sqrt(), 3.0_f64.sqrt());
/// let sum = simulate(&[one; 4], |x| x.iter().sum(), 100_000, 1)?;
/// let (low, high) = sum.shortest(0.95);
/// assert!((high - low - 2.0 * 3.88).abs() < 0.05);
/// # Ok::<(), asfound_measure::SimulateError>(())
/// ```
pub fn simulate(
    inputs: &[Distribution],
    model: impl Fn(&[f64]) -> f64,
    draws: usize,
    seed: u64,
) -> Result<Simulated, SimulateError> {
    // Asked before a single draw, which may be slow.
    if draws < FEWEST {
        return Err(SimulateError::TooFew(draws));
    }
    let mut chance = Chance::from_seed(seed);
    let mut drawn = vec![0.0; inputs.len()];
    let results = std::iter::repeat_with(|| {
        for (value, input) in drawn.iter_mut().zip(inputs) {
            *value = input.draw(&mut chance);
        }
        model(&drawn)
    });
    Simulated::of_draws(results.take(draws).collect())
}

impl Simulated {
    /// What draws made elsewhere come to, in the order in which they were drawn.
    ///
    /// # Errors
    /// [`SimulateError`] for fewer than a thousand, and where one is no number.
    pub fn of_draws(mut draws: Vec<f64>) -> Result<Self, SimulateError> {
        if draws.len() < FEWEST {
            return Err(SimulateError::TooFew(draws.len()));
        }
        if let Some(draw) = draws.iter().position(|result| !result.is_finite()) {
            return Err(SimulateError::NoNumber(draw));
        }
        let count = draws.len() as f64;
        let mean = draws.iter().sum::<f64>() / count;
        let squares: f64 = draws.iter().map(|value| (value - mean) * (value - mean)).sum();
        draws.sort_unstable_by(f64::total_cmp);
        Ok(Self { mean, standard_uncertainty: (squares / (count - 1.0)).sqrt(), sorted: draws })
    }

    /// The share of the draws that do not exceed this value.
    pub fn share_up_to(&self, value: f64) -> f64 {
        self.sorted.partition_point(|draw| *draw <= value) as f64 / self.sorted.len() as f64
    }

    /// The value that this share of the draws does not exceed; the least draw for 0 and below, the greatest for 1 and
    /// above.
    pub fn quantile(&self, share: f64) -> f64 {
        let place = libm::ceil(share * self.sorted.len() as f64) - 1.0;
        self.sorted[(place.max(0.0) as usize).min(self.sorted.len() - 1)]
    }

    /// The interval that covers this share and leaves as many draws below it as above (JCGM 101, 7.7.2).
    pub fn symmetric(&self, share: f64) -> (f64, f64) {
        let covered = self.covered(share);
        let below = (self.sorted.len() - 1 - covered) / 2;
        (self.sorted[below], self.sorted[below + covered])
    }

    /// The shortest interval that covers this share (JCGM 101, 7.7.3). Where the result has one hump and is lopsided, it
    /// lies closer about the likely values than [`symmetric`](Self::symmetric).
    pub fn shortest(&self, share: f64) -> (f64, f64) {
        let covered = self.covered(share);
        let width = |below: usize| self.sorted[below + covered] - self.sorted[below];
        let mut best = 0;
        for below in 1..self.sorted.len() - covered {
            if width(below) < width(best) {
                best = below;
            }
        }
        (self.sorted[best], self.sorted[best + covered])
    }

    /// How many draws an interval reaches over, from its first to its last: `q` of JCGM 101, 7.7.1.
    fn covered(&self, share: f64) -> usize {
        let all = self.sorted.len();
        let wanted = libm::floor(share.clamp(0.0, 1.0) * all as f64 + 0.5);
        (wanted as usize).min(all - 1)
    }

    /// The result as a quantity; the caller knows which the model gives.
    pub fn of<Q: Quantity>(&self) -> Uncertain<Q> {
        Uncertain::new(Q::of(self.mean), Q::of(self.standard_uncertainty))
    }
}
