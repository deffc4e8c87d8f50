//! What can be weighed, and what cannot.

use super::{Instrument, PartEvidence};
use crate::{Month, Span};

/// Why nothing can be weighed. Places count from 0; the sentences count from 1.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WeighingFault {
    /// No part and nothing told of the whole.
    #[error("there is nothing to weigh; give a part with a date code, or a paper that names a date")]
    Nothing,
    /// The inspection comes before the first month in which it may have been put together.
    #[error(
        "it was inspected in {inspected}, before {first}, the first month it may have been put together; one of the two is mistyped"
    )]
    InspectedBefore {
        /// When it was inspected.
        inspected: Month,
        /// The first month of assembly.
        first: Month,
    },
    /// A prior that leaves nothing to weigh.
    #[error("the share of replaced parts for part {} is {share}; it must lie between 0 and 1, for instance 0.1", place + 1)]
    Replaced {
        /// The part.
        place: usize,
        /// What was given.
        share: f64,
    },
    /// Signs that are not probabilities or proportions of them.
    #[error("the signs on part {} weigh {weight}; a weight must be above 0, and 1 where there are no signs", place + 1)]
    Signs {
        /// The part.
        place: usize,
        /// What was given.
        weight: f64,
    },
    /// A prior of a harness that leaves nothing to weigh.
    #[error("the share of harnesses replaced whole for harness {} is {share}; it must lie between 0 and 1, for instance 0.15; parts that do not hang together need no harness", place + 1)]
    Together {
        /// The harness.
        place: usize,
        /// What was given.
        share: f64,
    },
    /// A harness of no parts.
    #[error("harness {} has no parts; name the parts in it, or leave it out", place + 1)]
    NoMembers {
        /// The harness.
        place: usize,
    },
    /// A part in a harness that is not there, or is in a harness already.
    #[error("part {} of harness {} is not among the parts, or is in a harness already; a part is in one harness at most", part + 1, place + 1)]
    Member {
        /// The harness.
        place: usize,
        /// The part.
        part: usize,
    },
    /// A doubt that is none, or a certainty.
    #[error("the doubt in what is told of the whole ({}) is {doubt}; it must lie between 0 and 1, for instance 0.02", place + 1)]
    Doubt {
        /// Which of the things told.
        place: usize,
        /// What was given.
        doubt: f64,
    },
    /// Months in the wrong order.
    #[error("what is told of the whole ({}) goes from {first} to {last}; the second month must be the later one", place + 1)]
    Order {
        /// Which of the things told.
        place: usize,
        /// The month that should be the earlier.
        first: Month,
        /// The month that should be the later.
        last: Month,
    },
    /// No month of assembly is possible. These cannot hold together; without any one of them the rest can.
    #[error("no month from {} to {} can be right: {} cannot hold together; look again at one of them, or give more months", assembly.first, assembly.last, named(parts, whole))]
    CannotHold {
        /// The months tried.
        assembly: Span,
        /// The parts.
        parts: Vec<usize>,
        /// Places among the things told of the whole.
        whole: Vec<usize>,
    },
}

fn named(parts: &[usize], whole: &[usize]) -> String {
    let parts = parts.iter().map(|place| format!("the marks on part {}", place + 1));
    let told = whole.iter().map(|place| format!("what is told of the whole ({})", place + 1));
    parts.chain(told).collect::<Vec<_>>().join(" and ")
}

/// The months of assembly up to the inspection, if all else can be weighed.
pub(super) fn check(instrument: &Instrument) -> Result<Span, WeighingFault> {
    if instrument.parts.is_empty() && instrument.whole.is_empty() {
        return Err(WeighingFault::Nothing);
    }
    let Span { first, last } = instrument.assembly;
    let inspected = instrument.inspected;
    let grid =
        Span::new(first, last.min(inspected)).ok_or(WeighingFault::InspectedBefore { inspected, first })?;
    let linked = linked(instrument)?;
    for (place, (part, linked)) in instrument.parts.iter().zip(linked).enumerate() {
        check_part(place, part, linked)?;
    }
    for (place, told) in instrument.whole.iter().enumerate() {
        told.check(place)?;
    }
    Ok(grid)
}

/// Which parts are in a harness.
fn linked(instrument: &Instrument) -> Result<Vec<bool>, WeighingFault> {
    let mut linked = vec![false; instrument.parts.len()];
    for (place, harness) in instrument.harnesses.iter().enumerate() {
        let share = harness.replaced_together;
        if !(share > 0.0 && share < 1.0) {
            return Err(WeighingFault::Together { place, share });
        }
        if harness.members.is_empty() {
            return Err(WeighingFault::NoMembers { place });
        }
        for part in harness.members.iter().copied() {
            match linked.get_mut(part) {
                Some(taken) if !*taken => *taken = true,
                _ => return Err(WeighingFault::Member { place, part }),
            }
        }
    }
    Ok(linked)
}

fn check_part(place: usize, part: &PartEvidence, linked: bool) -> Result<(), WeighingFault> {
    let share = part.replaced;
    let weighable = share < 1.0 && (share > 0.0 || (linked && share == 0.0));
    if !(weighable || part.known_new) {
        return Err(WeighingFault::Replaced { place, share });
    }
    match [part.if_original, part.if_replaced]
        .into_iter()
        .find(|weight| !(*weight > 0.0 && weight.is_finite()))
    {
        Some(weight) => Err(WeighingFault::Signs { place, weight }),
        None => Ok(()),
    }
}
