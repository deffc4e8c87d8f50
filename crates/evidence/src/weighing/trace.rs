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
    let mut reached = vec![0.0; months];
    let from = part.made_in.span().first - first;
    for (at, weight) in part.made_in.weights().iter().enumerate().filter(|(_, weight)| **weight > 0.0) {
        let made = from + at as i32;
        // A part made before the first month reaches it after a wait.
        let waited = (-made).max(0) as usize;
        let here = (made.max(0) as usize).min(months);
        for (to, mass) in reached[here..].iter_mut().zip(lag.masses().iter().skip(waited)) {
            *to += weight / scale * mass;
        }
    }
    reached
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
