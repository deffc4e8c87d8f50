//! How probable the readings are under a fault, all together.
//!
//! Readings of one circuit hang together: a coil that is 3 % above its traced ohms is so in every one of them. Each is
//! therefore weighed with those before it known, by the Cholesky rows of their joint covariance (the chain rule of
//! probability; linear propagation after JCGM 102:2011, 6.2). So a leak shows in what turning a knob changes, long before
//! it shows in any reading by itself.

use super::edits::Edits;
use super::evidence::Metered;
use super::ohms::{Grid, Room, Seen, Stand, scale};
use crate::circuit::Terminal;
use crate::jack::Shown;
use crate::state::Setting;

/// Range of [`scale`] that a misread figure may fall on: from nought to a hundred megohms.
const RANGE: f64 = 18.4;

/// How rarely a sound reading lies far off for reasons of its own, and how far (common practice, no source).
const LOOSE: (f64, f64) = (0.03, 3.0);

/// What a reading never does better than, on its scale: what warmth and an unsteady last digit do between two readings
/// that are taken one after the other (common practice, no source).
const STEADY: f64 = 1e-4;

/// A figure that was shown, or the range that was overrun.
#[derive(Debug, Clone, Copy)]
enum Figure {
    At { scaled: f64, noise: f64 },
    Over { scaled: f64 },
}

/// Readings of one setting.
#[derive(Debug)]
struct Group {
    stand: Stand,
    probings: Vec<(Terminal, Terminal)>,
    /// Which readings, in [`Readings::figures`].
    which: Vec<usize>,
}

/// All readings, made ready.
#[derive(Debug)]
pub(super) struct Readings {
    figures: Vec<Figure>,
    groups: Vec<Group>,
    misread: f64,
    /// The most that all of them can come to.
    at_most: f64,
}

/// How a hypothesis does.
#[derive(Debug, Clone, Default)]
pub(super) struct Weight {
    /// `ln p` of each reading, in the order given, with those weighed before it known.
    pub(super) each: Vec<f64>,
    /// Readings that are taken as misread.
    pub(super) misread: Vec<usize>,
    /// What the readings say of the sizes of up to two faults, in standard uncertainties of their logarithm.
    pub(super) moved: [f64; 2],
}

impl Weight {
    pub(super) fn total(&self) -> f64 {
        self.each.iter().sum()
    }
}

/// Room for the joint weighing.
#[derive(Debug, Default)]
pub(super) struct Joint {
    values: usize,
    /// For each reading weighed so far, what it hangs on.
    slopes: Vec<f64>,
    /// Cholesky rows, one after the other.
    rows: Vec<f64>,
    /// Whitened residuals.
    residuals: Vec<f64>,
    seen: Vec<Seen>,
    row: Vec<f64>,
}

impl Readings {
    pub(super) fn new(grid: &Grid, metered: &[Metered], misread: f64) -> Self {
        let figure = |it: &Metered| match it.shown {
            Shown::Ohms(ohms) => Figure::At {
                scaled: scale(ohms.value.0),
                noise: ohms.standard_uncertainty.0 / (ohms.value.0 + super::ohms::ADDED),
            },
            Shown::Over(limit) => Figure::Over { scaled: scale(limit.0) },
        };
        let mut settings: Vec<&Setting> = Vec::new();
        let mut groups: Vec<Group> = Vec::new();
        for (reading, it) in metered.iter().enumerate() {
            let at = settings.iter().position(|known| **known == it.probed.setting).unwrap_or_else(|| {
                settings.push(&it.probed.setting);
                let stand = grid.stand(&it.probed.setting);
                groups.push(Group { stand, probings: Vec::new(), which: Vec::new() });
                groups.len() - 1
            });
            groups[at].probings.push((it.probed.from, it.probed.to));
            groups[at].which.push(reading);
        }
        let mut all = Self { figures: metered.iter().map(figure).collect(), groups, misread, at_most: 0.0 };
        all.at_most = (0..metered.len()).map(|reading| all.most(reading)).sum();
        all
    }

    /// Puts the settings first whose readings these weights find least probable, so that what cannot be is seen early.
    pub(super) fn telling_first(&mut self, weight: &Weight) {
        let most: Vec<f64> = (0..self.figures.len()).map(|reading| self.most(reading)).collect();
        let worst = |group: &Group| {
            group.which.iter().map(|reading| weight.each[*reading] - most[*reading]).sum::<f64>()
        };
        let groups = std::mem::take(&mut self.groups);
        let mut order: Vec<(f64, Group)> = groups.into_iter().map(|group| (worst(&group), group)).collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
        self.groups = order.into_iter().map(|(_, group)| group).collect();
    }

    /// The most that `ln p` of a reading can be.
    fn most(&self, reading: usize) -> f64 {
        match self.figures[reading] {
            Figure::At { noise, .. } => -libm::log(2.5 * noise.max(STEADY)),
            Figure::Over { .. } => 0.0,
        }
    }

    /// Weighs one hypothesis, or `None` as soon as its total must fall below `least`.
    pub(super) fn weigh(
        &self,
        grid: &Grid,
        room: &mut Room,
        joint: &mut Joint,
        edits: &[&Edits],
        values: usize,
        least: f64,
    ) -> Option<Weight> {
        joint.clear(values);
        let mut weight = Weight { each: vec![0.0; self.figures.len()], ..Weight::default() };
        let (mut rest, mut sum) = (self.at_most, 0.0);
        if rest < least {
            return None;
        }
        let mut seen = std::mem::take(&mut joint.seen);
        for group in &self.groups {
            if seen.len() < group.probings.len() {
                seen.resize(group.probings.len(), Seen::default());
            }
            grid.read(room, &group.stand, edits, &group.probings, &mut seen);
            for (&reading, seen) in group.which.iter().zip(&seen) {
                let (log, misread) = self.next(joint, reading, seen);
                weight.each[reading] = log;
                if misread {
                    weight.misread.push(reading);
                }
                sum += log;
                rest -= self.most(reading);
            }
            if sum + rest < least {
                joint.seen = seen;
                return None;
            }
        }
        joint.seen = seen;
        weight.moved = [0, 1].map(|which| {
            let track = edits.get(which).and_then(|edits| edits.track);
            joint.moved(track.map_or(values - 3 + which, |(part, _)| part))
        });
        Some(weight)
    }

    /// One more reading: `ln p`, and whether it is taken as misread.
    fn next(&self, joint: &mut Joint, reading: usize, seen: &Seen) -> (f64, bool) {
        let stray = self.misread / RANGE;
        match (self.figures[reading], seen.ohms) {
            (Figure::Over { .. }, None) => (libm::log(1.0 - self.misread), false),
            (Figure::Over { scaled }, Some(ohms)) => {
                let spread = (joint.variance(seen) + STEADY * STEADY).sqrt();
                let over = 0.5 * libm::erfc((scaled - scale(ohms)) / (spread * std::f64::consts::SQRT_2));
                (libm::log((1.0 - self.misread) * over + 0.1 * self.misread), over < 0.1 * self.misread)
            }
            (Figure::At { .. }, None) => (libm::log(stray), true),
            (Figure::At { scaled, noise }, Some(ohms)) => {
                let own = noise * noise + seen.noise * seen.noise + STEADY * STEADY;
                let (mean, variance) = joint.expect(seen, scale(ohms), own);
                let spread = variance.sqrt();
                let off = (scaled - mean) / spread;
                let bell = |off: f64| libm::exp(-0.5 * off * off) / (spread * 2.506_628_274_631_000_5);
                let (share, wide) = LOOSE;
                let density = (1.0 - share) * bell(off) + share / wide * bell(off / wide);
                let misread = (1.0 - self.misread) * density < stray;
                if misread {
                    joint.leave();
                } else {
                    joint.keep(spread, off);
                }
                (libm::log((1.0 - self.misread) * density + stray), misread)
            }
        }
    }
}

impl Joint {
    fn clear(&mut self, values: usize) {
        self.values = values;
        self.slopes.clear();
        self.rows.clear();
        self.residuals.clear();
    }

    fn variance(&self, seen: &Seen) -> f64 {
        seen.slopes.iter().map(|(_, slope)| slope * slope).sum::<f64>() + seen.noise * seen.noise
    }

    /// Mean and variance of a reading with those kept so far known; the row is left ready to be kept.
    fn expect(&mut self, seen: &Seen, alone: f64, own: f64) -> (f64, f64) {
        let Self { values, slopes, rows, residuals, row, .. } = self;
        let start = slopes.len();
        slopes.resize(start + *values, 0.0);
        for &(value, slope) in &seen.slopes {
            slopes[start + value.min(*values - 1)] += slope;
        }
        let (before, mine) = slopes.split_at(start);
        row.clear();
        let (mut mean, mut variance) = (alone, own + mine.iter().map(|slope| slope * slope).sum::<f64>());
        let mut at = 0;
        for (earlier, other) in before.chunks_exact(*values).enumerate() {
            let mut shared: f64 = other.iter().zip(mine).map(|(a, b)| a * b).sum();
            for column in 0..earlier {
                shared -= rows[at + column] * row[column];
            }
            let entry = shared / rows[at + earlier];
            at += earlier + 1;
            row.push(entry);
            mean += entry * residuals[earlier];
            variance -= entry * entry;
        }
        (mean, variance.max(own))
    }

    fn keep(&mut self, spread: f64, residual: f64) {
        self.rows.extend_from_slice(&self.row);
        self.rows.push(spread);
        self.residuals.push(residual);
    }

    /// Leaves out the reading that [`Joint::expect`] was asked about.
    fn leave(&mut self) {
        self.slopes.truncate(self.slopes.len() - self.values);
    }

    /// How far the readings move one value, in its standard uncertainties.
    fn moved(&self, value: usize) -> f64 {
        let mut row: Vec<f64> = Vec::new();
        let (mut moved, mut at) = (0.0, 0);
        for (earlier, residual) in self.residuals.iter().enumerate() {
            let mut shared = self.slopes[earlier * self.values + value];
            for (column, entry) in row.iter().enumerate() {
                shared -= self.rows[at + column] * entry;
            }
            let entry = shared / self.rows[at + earlier];
            at += earlier + 1;
            row.push(entry);
            moved += entry * residual;
        }
        moved
    }
}
