//! Parts that may have been replaced in one event; a part on its own is a group of one without such an event.

use super::trace::Trace;

/// What a group weighs for every month of assembly, in natural logarithms.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    /// Its parts.
    pub(super) members: Vec<usize>,
    /// Prior that it was replaced together; 0 for a part on its own.
    pub(super) together: f64,
    /// Not replaced together: `(1 − τ) Π M_i(a)`.
    pub(super) log_apart: Vec<f64>,
    /// Replaced together: `τ R(a)`.
    pub(super) log_together: Vec<f64>,
    /// Fitted together in a month, from the second month of assembly on: `Π_i (Σ h(k) L_i(s − k))`.
    pub(super) log_fitted: Vec<f64>,
    /// Both ways together: its whole weight.
    pub(super) log_weight: Vec<f64>,
}

impl Group {
    pub(super) fn of(members: Vec<usize>, together: f64, traces: &[Trace], months: usize) -> Group {
        let parts = || members.iter().map(|part| &traces[*part]);
        let mut log_apart = vec![libm::log1p(-together); months];
        for trace in parts() {
            log_apart.iter_mut().zip(&trace.log_mixed).for_each(|(sum, log)| *sum += log);
        }
        // No part left that is weighed: both alike.
        let nothing = if members.is_empty() { libm::log(together) } else { f64::NEG_INFINITY };
        let (mut log_fitted, mut log_together) = (Vec::new(), vec![nothing; months]);
        if let Some(later) = parts().next().map(|trace| trace.fitted.len()).filter(|_| together > 0.0) {
            log_fitted = vec![0.0; later];
            for trace in parts() {
                log_fitted.iter_mut().zip(&trace.fitted).for_each(|(sum, weight)| *sum += libm::log(*weight));
            }
            let mut rest = f64::NEG_INFINITY;
            for (at, log) in log_fitted.iter().enumerate().rev() {
                rest = add_logs(rest, *log);
                if let Some(to) = log_together.get_mut(at) {
                    *to = libm::log(together) + rest - libm::log((later - at) as f64);
                }
            }
        }
        let both = |(apart, together): (&f64, &f64)| add_logs(*apart, *together);
        let log_weight = log_apart.iter().zip(&log_together).map(both).collect();
        Group { members, together, log_apart, log_together, log_fitted, log_weight }
    }
}

/// `ln(eᵃ + eᵇ)`, without leaving the range of numbers.
pub(super) fn add_logs(a: f64, b: f64) -> f64 {
    let (less, more) = if a < b { (a, b) } else { (b, a) };
    if less == f64::NEG_INFINITY { more } else { more + libm::log1p(libm::exp(less - more)) }
}
