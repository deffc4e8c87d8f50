//! The draws: shared out over pairs of condition and hand, first evenly, then to where more of them help most.

use super::drawn::{Blank, CoilDrawn, Over};
use super::evidence::Evidence;
use super::ohms;
use super::prior::{STRATA, pair};
use super::random::Random;

/// Draws of the first, even round, for each pair.
const FIRST_ROUND: usize = 200;
/// Of the second round, the share that is spread evenly all the same, so that no pair is judged by a handful.
const EVEN_SHARE: f64 = 0.15;

/// A coil drawn, with its weight.
pub(super) struct Draw {
    pub(super) stratum: usize,
    pub(super) coil: CoilDrawn,
    pub(super) celsius: f64,
    /// Log weight by all that hangs on more than the pair.
    pub(super) log_weight: f64,
    /// Log weight by the ohms alone.
    pub(super) log_ohms: f64,
    /// Log weight by all that was measured, ohms included.
    pub(super) log_measured: f64,
    pub(super) magnets_original: f64,
}

/// All draws.
pub(super) struct Draws {
    pub(super) kept: Vec<Draw>,
    /// Log likelihood of each piece for each kept draw, one row for each draw.
    pub(super) pieces: Vec<f64>,
    /// How many were drawn for each pair, those of no weight included.
    pub(super) drawn: [usize; STRATA],
}

impl Draws {
    fn new() -> Self {
        Self { kept: Vec::new(), pieces: Vec::new(), drawn: [0; STRATA] }
    }

    /// Draws a number in all. `log_factors` is the log of prior share and sights of parts of each pair.
    pub(super) fn take(
        evidence: &Evidence,
        over: &Over,
        log_factors: &[f64; STRATA],
        number: usize,
        random: &mut Random,
    ) -> Self {
        let best = ohms::best(evidence.found);
        let mut draws = Self::new();
        for stratum in 0..STRATA {
            draws.more(stratum, FIRST_ROUND.min(number / STRATA / 4), evidence, over, best, random);
        }
        let left = number.saturating_sub(draws.drawn.iter().sum());
        for (stratum, unrest) in draws.unrest(log_factors).into_iter().enumerate() {
            let share = (1.0 - EVEN_SHARE) * unrest + EVEN_SHARE / STRATA as f64;
            draws.more(stratum, (share * left as f64) as usize, evidence, over, best, random);
        }
        draws
    }

    fn more(
        &mut self,
        stratum: usize,
        number: usize,
        evidence: &Evidence,
        over: &Over,
        best: Option<usize>,
        random: &mut Random,
    ) {
        let (condition, hand) = pair(stratum);
        self.drawn[stratum] += number;
        for _ in 0..number {
            let blank = Blank::draw(condition, hand, over, random);
            let agreed =
                blank.and_then(|blank| ohms::agree(blank, evidence.found, best, evidence.opinions, random));
            let Some(agreed) = agreed else { continue };
            let judged = evidence.judge(agreed.coil, agreed.celsius, random, &mut self.pieces);
            let Some(judged) = judged else { continue };
            let log_drawn = agreed.log_weight + judged.coil.blank.log_rarity;
            self.kept.push(Draw {
                stratum,
                coil: judged.coil,
                celsius: agreed.celsius,
                log_weight: log_drawn + judged.log_likelihood,
                log_ohms: log_drawn,
                log_measured: log_drawn + judged.log_measured,
                magnets_original: judged.magnets_original,
            });
        }
    }

    /// `ln` of the mean over each pair's draws of `exp` of what a draw gives. Minus infinity where all have no weight.
    pub(super) fn log_means(&self, of: impl Fn(usize, &Draw) -> f64) -> [f64; STRATA] {
        let logs: Vec<f64> = self.kept.iter().enumerate().map(|(place, draw)| of(place, draw)).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if most == f64::NEG_INFINITY {
            return [most; STRATA];
        }
        let mut sums = [0.0; STRATA];
        for (draw, log) in self.kept.iter().zip(&logs) {
            sums[draw.stratum] += libm::exp(log - most);
        }
        let mut means = [f64::NEG_INFINITY; STRATA];
        for (mean, (sum, drawn)) in means.iter_mut().zip(sums.iter().zip(self.drawn)) {
            *mean = most + libm::log(sum / drawn.max(1) as f64);
        }
        means
    }

    /// How to share out more draws for the least error of the whole: by the root mean square of the weights in each pair
    /// (J. Neyman, Journal of the Royal Statistical Society 97, 558, 1934).
    fn unrest(&self, log_factors: &[f64; STRATA]) -> [f64; STRATA] {
        let squares = self.log_means(|_, draw| 2.0 * draw.log_weight);
        shares(&plus(log_factors, &squares.map(|square| square / 2.0)))
    }

    /// Weight of each draw in the whole; they sum to one, or are all nought where nothing has weight.
    pub(super) fn weights(&self, log_factors: &[f64; STRATA]) -> Vec<f64> {
        let logs: Vec<f64> = self
            .kept
            .iter()
            .map(|draw| {
                let drawn = self.drawn[draw.stratum] as f64;
                draw.log_weight + log_factors[draw.stratum] - libm::log(drawn)
            })
            .collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if most == f64::NEG_INFINITY {
            return vec![0.0; logs.len()];
        }
        let weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - most)).collect();
        let sum: f64 = weights.iter().sum();
        weights.iter().map(|weight| weight / sum).collect()
    }
}

/// Sum, place by place.
pub(super) fn plus(a: &[f64; STRATA], b: &[f64; STRATA]) -> [f64; STRATA] {
    let mut sum = *a;
    sum.iter_mut().zip(b).for_each(|(a, b)| *a += b);
    sum
}

/// `ln Σ exp`; minus infinity for nothing.
pub(super) fn log_sum(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let most = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    if most == f64::NEG_INFINITY {
        most
    } else {
        most + libm::log(logs.map(|log| libm::exp(log - most)).sum())
    }
}

/// Shares from logs; even shares where nothing has weight, for then nothing was learnt.
pub(super) fn shares(logs: &[f64; STRATA]) -> [f64; STRATA] {
    let sum = log_sum(logs.iter().copied());
    if sum == f64::NEG_INFINITY {
        return [1.0 / STRATA as f64; STRATA];
    }
    logs.map(|log| libm::exp(log - sum))
}

/// Places of the draws, as many as asked, each as often as its weight has it: evenly spaced marks along the summed
/// weights, the first one drawn (G. Kitagawa, Journal of Computational and Graphical Statistics 5, 1, 1996).
pub(super) fn resample(weights: &[f64], number: usize, random: &mut Random) -> Vec<usize> {
    let mut places = Vec::with_capacity(number);
    let mut mark = random.unit() / number as f64;
    let mut sum = 0.0;
    for (place, weight) in weights.iter().enumerate() {
        sum += weight;
        while places.len() < number && mark < sum {
            places.push(place);
            mark += 1.0 / number as f64;
        }
    }
    places
}
