use crate::money::{Currency, Money, MoneyFault};

/// Why something is no viewing, or why answers cannot be taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ViewingFault {
    /// An unknown without states, or with more than 255.
    #[error(
        "an unknown needs the ways it may turn out, one at least; add the state in which nothing is wrong"
    )]
    NoStates,
    /// Probabilities that are none, or do not add up.
    #[error("{0:?} are not probabilities that add up to 1; write them like 0.9 and 0.1")]
    Probabilities(Vec<f64>),
    /// A share that cannot be lost.
    #[error("a share of {0} cannot be lost; write up to 1, such as 0.4 for 40 %")]
    ShareLost(f64),
    /// Likelihoods that do not fit.
    #[error("{read:?} are not {states} likelihoods from 0 to 1, one for each state and not all 0")]
    Likelihoods {
        /// How many states there are.
        states: usize,
        /// What was read.
        read: Vec<f64>,
    },
    /// A check that takes no time, or less.
    #[error("{0} minutes is no time for a check; state more than 0, such as 0.5")]
    Minutes(f64),
    /// A check about nothing, or about one thing twice.
    #[error("a check bears on one unknown at least, and on each once; name what it tells of")]
    AboutNothing,
    /// A table that does not fit.
    #[error(
        "the table of a check has {rows} rows{}; give one row for each joint state, all of one length",
        .wanted.map_or(String::new(), |wanted| format!(" where {wanted} are wanted"))
    )]
    Table {
        /// How many rows were read.
        rows: usize,
        /// How many there have to be, where that is known.
        wanted: Option<usize>,
    },
    /// A check about an unknown that is not listed.
    #[error("check {check} is about unknown {unknown}, which is not in the list; both are counted from 0")]
    NoSuchUnknown {
        /// The check's place.
        check: usize,
        /// The place it names.
        unknown: usize,
    },
    /// Unknowns tied together by too many checks.
    #[error(
        "the checks tie unknowns with {states} joint states together, more than {}; let some check bear on fewer",
        super::MOST_JOINT_STATES
    )]
    TooManyTied {
        /// The joint states of the largest group.
        states: usize,
    },
    /// Two currencies.
    #[error(
        "{read} stands beside {wanted}; turn one into the other first, at a rate with its day and source"
    )]
    Mixed {
        /// The one that does not fit.
        read: Currency,
        /// The one the worth is in.
        wanted: Currency,
    },
    /// A range of prices that falls, or is in two currencies.
    #[error("a price from {low} to {high} is no range; write the lower first, both in one currency")]
    PriceRange {
        /// The first.
        low: Money,
        /// The second.
        high: Money,
    },
    /// An answer to no check.
    #[error("there is no check {0}, counted from 0; answer one that is in the list")]
    NoSuchCheck(usize),
    /// An answer that a check cannot give.
    #[error("check {check} has {outcomes} outcomes; {outcome}, counted from 0, is none of them")]
    NoSuchOutcome {
        /// The check.
        check: usize,
        /// What was read.
        outcome: usize,
        /// How many it has.
        outcomes: usize,
    },
    /// Answers that exclude each other.
    #[error("the answer to check {0} cannot be true beside the others; look again at both")]
    CannotAllBeTrue(usize),
    /// A sum that cannot be kept.
    #[error("{0}")]
    Sum(#[from] MoneyFault),
}
