//! One part, month by month: as original, as put in later.

use super::PartEvidence;
use crate::{Lag, Month, Span};

/// What a part's marks weigh for every month of assembly, and for every month of fitting it later.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Trace {
    /// For each month of assembly, as original: `O(a)`, with the signs.
    pub(super) original: Vec<f64>,
    /// For each month of assembly, as put in later: `R(a)`, with the signs. Nothing in the month of inspection itself:
    /// there is no later month to put it in.
    pub(super) replaced: Vec<f64>,
    /// For each month of fitting from the second month of assembly to the inspection, with the signs.
    pub(super) fitted: Vec<f64>,
    /// Natural logarithm of the prior mixture of both, `M(a)`.
    pub(super) log_mixed: Vec<f64>,
    /// Natural logarithm of the greatest weight of a month, by which all else is divided.
    pub(super) log_scale: f64,
}

impl Trace {
    pub(super) fn of(part: &PartEvidence, grid: Span, inspected: Month, stock: &Lag) -> Trace {
        let greatest = part.made_in.weights().iter().copied().fold(0.0, f64::max);
        let later = (inspected - grid.first) as usize;
        let spread = |lag: &Lag, first: Month, months: usize, signs: f64| -> Vec<f64> {
            if greatest <= 0.0 {
                vec![0.0; months]
            } else if dates_nothing(part) {
                // Every month of making alike, so every month of fitting too, also near the ends of the span.
                vec![signs; months]
            } else {
                laid_up(part, greatest / signs, lag, first, months)
            }
        };
        let original = spread(&part.lag, grid.first, grid.len(), part.if_original);
        let fitted = spread(stock, grid.first + 1, later, part.if_replaced);
        let replaced = mean_of_the_rest(&fitted, grid.len());
        let mixed = |(original, replaced): (&f64, &f64)| {
            libm::log((1.0 - part.replaced) * original + part.replaced * replaced)
        };
        let log_mixed = original.iter().zip(&replaced).map(mixed).collect();
        Trace { original, replaced, fitted, log_mixed, log_scale: libm::log(greatest) }
    }
}

/// Whether the marks weigh every month alike.
pub(super) fn dates_nothing(part: &PartEvidence) -> bool {
    part.made_in.weights().windows(2).all(|pair| pair[0] == pair[1])
}

/// For each of so many months from a first one on: how much of the marks' weight a lag brings there.
fn laid_up(part: &PartEvidence, scale: f64, lag: &Lag, first: Month, months: usize) -> Vec<f64> {
    let weights = part.made_in.weights();
    // A doubted code has some weight in every month. What all months have is added at once, from the lag's sums.
    let common = weights.iter().copied().fold(f64::INFINITY, f64::min);
    let from = part.made_in.span().first - first;
    let sums = Sums::of(lag);
    let of_all = |at: usize| {
        common / scale * (sums.up_to(at as i32 - from) - sums.up_to(at as i32 - from - weights.len() as i32))
    };
    let mut reached: Vec<f64> =
        if common > 0.0 { (0..months).map(of_all).collect() } else { vec![0.0; months] };
    for (at, weight) in weights.iter().enumerate().filter(|(_, weight)| **weight > common) {
        let made = from + at as i32;
        // A part made before the first month reaches it after a wait.
        let waited = (-made).max(0) as usize;
        let here = (made.max(0) as usize).min(months);
        for (to, mass) in reached[here..].iter_mut().zip(lag.masses().iter().skip(waited)) {
            *to += (weight - common) / scale * mass;
        }
    }
    reached
}

/// Chances of a wait of so many months or fewer.
struct Sums(Vec<f64>);

impl Sums {
    fn of(lag: &Lag) -> Sums {
        let add = |sum: &mut f64, mass: &f64| {
            *sum += mass;
            Some(*sum)
        };
        Sums(lag.masses().iter().scan(0.0, add).collect())
    }

    fn up_to(&self, months: i32) -> f64 {
        let last = self.0.len() - 1;
        usize::try_from(months).map_or(0.0, |months| self.0[months.min(last)])
    }
}

/// For each of so many months, the mean of what stands from it on in `fitted`, which begins one month later.
fn mean_of_the_rest(fitted: &[f64], months: usize) -> Vec<f64> {
    let mut means = vec![0.0; months];
    let mut sum = 0.0;
    for (at, weight) in fitted.iter().enumerate().rev() {
        sum += weight;
        if let Some(mean) = means.get_mut(at) {
            *mean = sum / (fitted.len() - at) as f64;
        }
    }
    means
}
