//! Numbers drawn from a stated seed.

use super::construction::Spread;
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use std::f64::consts::TAU;

/// A named generator with a seed, and the few distributions that are needed.
pub(crate) struct Random(ChaCha12Rng);

impl Random {
    pub(crate) fn from_seed(seed: u64) -> Self {
        Self(ChaCha12Rng::seed_from_u64(seed))
    }

    /// From 0, included, to 1, not included.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, (least, most): (f64, f64)) -> f64 {
        least + self.unit() * (most - least)
    }

    /// Even on a logarithmic scale.
    pub(super) fn log_between(&mut self, (least, most): (f64, f64)) -> f64 {
        libm::exp(self.between((libm::log(least), libm::log(most))))
    }

    /// Standard normal (G. E. P. Box and M. E. Muller, Annals of Mathematical Statistics 29, 610, 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.unit())).sqrt();
        radius * libm::cos(TAU * self.unit())
    }

    pub(super) fn spread(&mut self, spread: Spread) -> f64 {
        spread.mean + spread.deviation * self.normal()
    }

    /// Rising evenly from `least` to `mode` and falling evenly to `most`.
    pub(super) fn triangle(&mut self, least: f64, mode: f64, most: f64) -> f64 {
        let (u, width) = (self.unit(), most - least);
        let rise = mode - least;
        if u * width < rise {
            least + (u * width * rise).sqrt()
        } else {
            most - ((1.0 - u) * width * (most - mode)).sqrt()
        }
    }

    /// One of the places, by its share.
    pub(super) fn one_of(&mut self, shares: impl IntoIterator<Item = f64> + Clone) -> usize {
        let sum: f64 = shares.clone().into_iter().sum();
        let mut left = self.unit() * sum;
        let mut last = 0;
        for (place, share) in shares.into_iter().enumerate() {
            if share > 0.0 {
                last = place;
                if left < share {
                    break;
                }
                left -= share;
            }
        }
        last
    }

    pub(super) fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }
}
