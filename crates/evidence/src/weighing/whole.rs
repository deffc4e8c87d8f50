//! What is told of the whole, and not of a part.

use super::WeighingFault;
use crate::{MadeIn, Month};

/// How probable something told of the whole is, for each month in which it may have been put together.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthlyEvidence {
    kind: Kind,
}

#[derive(Debug, Clone, PartialEq)]
enum Kind {
    Rises { from: Month, to: Month },
    Falls { from: Month, to: Month },
    Interval { first: Option<Month>, last: Option<Month>, doubt: f64 },
    Weights(MadeIn),
}

impl MonthlyEvidence {
    /// Something came into use between two months: impossible up to the first, on every one from the second, in
    /// between evenly.
    pub fn not_before_ramp(from: Month, to: Month) -> MonthlyEvidence {
        MonthlyEvidence { kind: Kind::Rises { from, to } }
    }

    /// Something went out of use between two months: on every one up to the first, impossible from the second, in
    /// between evenly.
    pub fn not_after_ramp(from: Month, to: Month) -> MonthlyEvidence {
        MonthlyEvidence { kind: Kind::Falls { from, to } }
    }

    /// A paper that shows the whole was there in a month. With the share of doubt it is wrong, or belongs to another,
    /// and then it says nothing: 1 up to that month, the doubt after it.
    pub fn document(not_after: Month, doubt: f64) -> MonthlyEvidence {
        MonthlyEvidence { kind: Kind::Interval { first: None, last: Some(not_after), doubt } }
    }

    /// A claim that it was put together between two months, both counted, such as what is said of a serial. With the
    /// share of doubt it is wrong and says nothing: 1 inside, the doubt outside.
    pub fn interval(first: Month, last: Month, doubt: f64) -> MonthlyEvidence {
        MonthlyEvidence { kind: Kind::Interval { first: Some(first), last: Some(last), doubt } }
    }

    /// Weights of its own for each month.
    pub fn weights(weights: MadeIn) -> MonthlyEvidence {
        MonthlyEvidence { kind: Kind::Weights(weights) }
    }

    /// The weight of a month.
    pub fn at(&self, month: Month) -> f64 {
        match &self.kind {
            Kind::Rises { from, to } => risen(*from, *to, month),
            Kind::Falls { from, to } => 1.0 - risen(*from, *to, month),
            Kind::Interval { first, last, doubt } => {
                let inside =
                    first.is_none_or(|first| first <= month) && last.is_none_or(|last| month <= last);
                if inside { 1.0 } else { *doubt }
            }
            Kind::Weights(weights) => weights.at(month),
        }
    }

    /// Whether it can be weighed.
    pub(super) fn check(&self, place: usize) -> Result<(), WeighingFault> {
        match self.kind {
            Kind::Rises { from, to } | Kind::Falls { from, to } if from >= to => {
                Err(WeighingFault::Order { place, first: from, last: to })
            }
            Kind::Interval { first: Some(first), last: Some(last), .. } if first > last => {
                Err(WeighingFault::Order { place, first, last })
            }
            Kind::Interval { doubt, .. } if !(doubt > 0.0 && doubt < 1.0) => {
                Err(WeighingFault::Doubt { place, doubt })
            }
            _ => Ok(()),
        }
    }
}

fn risen(from: Month, to: Month, month: Month) -> f64 {
    (f64::from(month - from) / f64::from(to - from)).clamp(0.0, 1.0)
}
