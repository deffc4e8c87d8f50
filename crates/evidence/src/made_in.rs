//! How probable the marks on a part are, month of making by month of making.

use crate::month::{Month, Span};

/// For each month of a span, how probable what is found on a part would be if it had been made then: P(marks | made in
/// that month), up to a factor that is the same for all months. Outside the span nothing was made.
#[derive(Debug, Clone, PartialEq)]
pub struct MadeIn {
    span: Span,
    weights: Vec<f64>,
}

impl MadeIn {
    /// Nothing is found that dates it: every month alike.
    pub fn nothing_known(span: Span) -> MadeIn {
        MadeIn { span, weights: vec![1.0; span.len()] }
    }

    /// From weights of single months, summed where a month occurs more than once. Months outside the span are left out.
    pub fn of(span: Span, weights: impl IntoIterator<Item = (Month, f64)>) -> MadeIn {
        let mut made = MadeIn { span, weights: vec![0.0; span.len()] };
        for (month, weight) in weights {
            if span.has(month) {
                made.weights[(month - span.first) as usize] += weight;
            }
        }
        made
    }

    /// Made in this very month.
    pub fn exactly(span: Span, month: Month) -> MadeIn {
        MadeIn::of(span, [(month, 1.0)])
    }

    /// The span it is told over.
    pub fn span(&self) -> Span {
        self.span
    }

    /// The weight of a month; nothing outside the span.
    pub fn at(&self, month: Month) -> f64 {
        if self.span.has(month) { self.weights[(month - self.span.first) as usize] } else { 0.0 }
    }

    /// The weights, month by month from the span's first.
    pub fn weights(&self) -> &[f64] {
        &self.weights
    }

    /// No month explains what is found.
    pub fn is_impossible(&self) -> bool {
        self.weights.iter().all(|weight| *weight <= 0.0)
    }

    /// Both what this says and what another mark says, each for its own reason: weights multiplied. Two marks that have
    /// one cause are not to be multiplied.
    pub fn and(&self, other: &MadeIn) -> MadeIn {
        let weights = self.span.months().map(|month| self.at(month) * other.at(month)).collect();
        MadeIn { span: self.span, weights }
    }

    /// The same marks, read in several ways with a share each.
    pub fn shared(span: Span, readings: &[(f64, MadeIn)]) -> MadeIn {
        let at = |month| readings.iter().map(|(share, made)| share * made.at(month)).sum();
        MadeIn { span, weights: span.months().map(at).collect() }
    }

    /// The same, with a share of doubt that the mark was read wrongly and says nothing of the month: that share of the
    /// whole weight is spread evenly over the span.
    pub fn doubted(&self, share: f64) -> MadeIn {
        let even = share * self.weights.iter().sum::<f64>() / self.weights.len() as f64;
        let weights = self.weights.iter().map(|weight| (1.0 - share) * weight + even).collect();
        MadeIn { span: self.span, weights }
    }
}
