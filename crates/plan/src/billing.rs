//! Time at the bench as money: what is attended, what only takes place, and how terms round it.
//!
//! Hands are paid for, a clamp is not: a step's attended minutes make its price, and its elapsed ones its day of
//! delivery. Terms that a client signed round the time and charge for what is not fetched. Where their words leave two
//! readings, both are worked out; if they come to the same there is nothing to ask, else [`Read::Open`] shows both and
//! the client's signed paper must decide.
//!
//! Billing by the quarter of an hour and by steps of days are common practice, no source.
//!
//! ```
//! use asfound_plan::billing::{Minutes, PartOfUnit, QuarterHours, Read};
//! let terms = QuarterHours { unit: Minutes(15), part: None };
//! // 1 h 24 min is 1 h 30 min whether a part counts whole or the nearest quarter is taken.
//! assert_eq!(terms.billed(Minutes(84))?, Read::Decided(Minutes(90)));
//! let open = Read::Open(vec![(PartOfUnit::CountsWhole, Minutes(90)), (PartOfUnit::ToTheNearest, Minutes(75))]);
//! assert_eq!(terms.billed(Minutes(80))?, open);
//! # Ok::<(), asfound_plan::billing::BillingFault>(())
//! ```

use std::fmt;

use crate::money::{Exact, Money, Rate};

/// Whole minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Minutes(pub u32);

impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.0 / 60, self.0 % 60) {
            (0, minutes) => write!(f, "{minutes} min"),
            (hours, 0) => write!(f, "{hours} h"),
            (hours, minutes) => write!(f, "{hours} h {minutes} min"),
        }
    }
}

/// From the least to the most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The least.
    pub least: Minutes,
    /// The most.
    pub most: Minutes,
}

/// Who stands by while a step runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hands {
    /// Hands are on it.
    Attended,
    /// It goes by itself but must be watched, as heat must; whether that is billed is for the terms to say.
    Watched,
    /// It goes by itself: clamped, curing, drying.
    Alone,
}

/// One step of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub what: String,
    /// How long it takes.
    pub takes: Span,
    /// Who stands by.
    pub hands: Hands,
}

/// A job's time by two clocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Times {
    /// Hands are on it.
    pub attended: Span,
    /// The same with what is watched.
    pub with_watched: Span,
    /// From beginning to end, one step after the other.
    pub elapsed: Span,
}

/// How terms round time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct QuarterHours {
    /// By which unit: a quarter of an hour, or another.
    pub unit: Minutes,
    /// What becomes of a part of one; `None` where the terms do not say.
    pub part: Option<PartOfUnit>,
}

/// What becomes of a part of a unit of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartOfUnit {
    /// A unit begun is a unit billed.
    CountsWhole,
    /// The nearest whole unit is billed; a half is one more.
    ToTheNearest,
}

/// What terms charge, in time at the bench, for a piece that is not fetched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Storage {
    /// From which day after it was ready, and how much; in rising order.
    pub steps: Vec<(u32, Minutes)>,
    /// Whether a step comes on top of those before it; `None` where the terms do not say.
    pub adding: Option<Adding>,
}

/// How steps of days add.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Adding {
    /// The last step reached is all that is charged.
    LastOnly,
    /// Every step reached is charged.
    OnTop,
}

/// What terms come to: one thing, or one for each way they can be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Read<Way> {
    /// Said, or the same whichever way it is read.
    Decided(Minutes),
    /// Not said, and it matters.
    Open(Vec<(Way, Minutes)>),
}

/// What cannot be billed by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BillingFault {
    /// A unit of nothing.
    #[error("terms: time cannot be billed by units of 0 minutes; write the unit, for instance 15 minutes")]
    Unit,
    /// Steps of days that do not rise.
    #[error(
        "terms, storage: day {0} does not come after the step before it; write the steps in rising order"
    )]
    Days(u32),
    /// Longer than can be counted.
    #[error("the time comes to more than is counted, eight thousand years; look for a digit too many")]
    TooLong,
}

impl Span {
    fn plus(self, other: Self) -> Result<Self, BillingFault> {
        Ok(Self { least: sum(self.least, other.least)?, most: sum(self.most, other.most)? })
    }
}

/// The time of steps that follow one another, by two clocks.
///
/// # Errors
/// [`BillingFault::TooLong`].
pub fn times(steps: &[Step]) -> Result<Times, BillingFault> {
    let together = |counts: fn(Hands) -> bool| {
        let nothing = Span { least: Minutes(0), most: Minutes(0) };
        let counted = steps.iter().filter(|step| counts(step.hands));
        counted.map(|step| step.takes).try_fold(nothing, Span::plus)
    };
    Ok(Times {
        attended: together(|hands| hands == Hands::Attended)?,
        with_watched: together(|hands| hands != Hands::Alone)?,
        elapsed: together(|_| true)?,
    })
}

/// What time costs at a price by the hour, exactly.
pub fn price(time: Minutes, by_the_hour: Money) -> Exact {
    let hours = Rate::parts(i64::from(time.0), 60);
    hours.map_or_else(|| by_the_hour.into(), |hours| hours.of(by_the_hour))
}

impl QuarterHours {
    /// The time that is billed for what it took.
    ///
    /// # Errors
    /// [`BillingFault::Unit`], [`BillingFault::TooLong`].
    pub fn billed(&self, took: Minutes) -> Result<Read<PartOfUnit>, BillingFault> {
        let unit = self.unit.0;
        if unit == 0 {
            return Err(BillingFault::Unit);
        }
        let billed = |part| {
            let begun = match part {
                PartOfUnit::CountsWhole => took.0.div_ceil(unit),
                PartOfUnit::ToTheNearest => took.0 / unit + u32::from(took.0 % unit >= unit.div_ceil(2)),
            };
            begun.checked_mul(unit).map(Minutes).ok_or(BillingFault::TooLong)
        };
        read(self.part, [PartOfUnit::CountsWhole, PartOfUnit::ToTheNearest], billed)
    }
}

impl Storage {
    /// What is charged for a piece fetched so many days after it was ready. A step holds from its day on.
    ///
    /// # Errors
    /// [`BillingFault::Days`], [`BillingFault::TooLong`].
    pub fn charged(&self, days: u32) -> Result<Read<Adding>, BillingFault> {
        if let Some(pair) = self.steps.windows(2).find(|pair| pair[0].0 >= pair[1].0) {
            return Err(BillingFault::Days(pair[1].0));
        }
        let reached = || self.steps.iter().filter(|(from, _)| *from <= days).map(|(_, time)| *time);
        let charged = |adding| match adding {
            Adding::LastOnly => Ok(reached().next_back().unwrap_or(Minutes(0))),
            Adding::OnTop => reached().try_fold(Minutes(0), sum),
        };
        read(self.adding, [Adding::LastOnly, Adding::OnTop], charged)
    }
}

fn sum(one: Minutes, other: Minutes) -> Result<Minutes, BillingFault> {
    one.0.checked_add(other.0).map(Minutes).ok_or(BillingFault::TooLong)
}

/// By the way that is said, or by each; they are one where they come to the same.
fn read<Way: Copy>(
    said: Option<Way>,
    ways: [Way; 2],
    comes_to: impl Fn(Way) -> Result<Minutes, BillingFault>,
) -> Result<Read<Way>, BillingFault> {
    if let Some(way) = said {
        return Ok(Read::Decided(comes_to(way)?));
    }
    let [one, other] = [comes_to(ways[0])?, comes_to(ways[1])?];
    if one == other {
        return Ok(Read::Decided(one));
    }
    Ok(Read::Open(vec![(ways[0], one), (ways[1], other)]))
}
