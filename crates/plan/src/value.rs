//! What a piece is worth in three states, and by whose word.
//!
//! Nobody knows what a piece is worth before it is sold, so a value is a range, and every figure in it carries who said
//! it and where. A share, such as `refinished well, half to two thirds of what a fully original one fetches`, is one
//! practitioner's rule: it is kept as that and never becomes a constant of the program. Where several speak of one state,
//! each range stands beside the others, and the whole reaches from the lowest to the highest; none is averaged away.
//!
//! ```
//! use asfound_plan::money::{Currency, Money, Rate};
//! use asfound_plan::value::{Opinion, Says, State, Value};
//! let euro = Currency::of("EUR")?;
//! let said = |state, says| Opinion { state, says, whose: "the owner".to_owned(), source: "letter of 3 May".to_owned() };
//! let perfect = Money::read("8000", euro)?;
//! let value = Value::of(euro, vec![
//!     said(State::FullyOriginal, Says::Sum { low: Some(perfect), high: perfect }),
//!     said(State::AsFound, Says::Share { low: Some(Rate::percent("30")?), high: Rate::percent("50")? }),
//! ])?;
//! assert_eq!(value.in_state(State::AsFound)?.expect("somebody spoke").high.to_string(), "4000.00 EUR");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::estimate::Estimate;
use crate::money::{Currency, Exact, Money, MoneyFault, Rate, Rounding};
use crate::risk::Expected;

/// In which state a piece is valued.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// As it came in.
    AsFound,
    /// After the work that is proposed.
    Restored,
    /// As one would be on which nothing was ever changed.
    FullyOriginal,
}

/// What somebody says of the value in one state.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opinion {
    /// Of which state.
    pub state: State,
    /// What is said.
    pub says: Says,
    /// Whose word it is: a practitioner, a seller, a sale.
    pub whose: String,
    /// Where it can be read, or when it was said.
    pub source: String,
}

/// A range, in money or as a share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Says {
    /// Sums; both the same for a price that was paid.
    Sum {
        /// `None` for `up to`.
        low: Option<Money>,
        /// The highest.
        high: Money,
    },
    /// Shares of what a fully original one is worth.
    Share {
        /// `None` for `at most`.
        low: Option<Rate>,
        /// The highest.
        high: Rate,
    },
}

/// All that is said of a piece's value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Value {
    currency: Currency,
    opinions: Vec<Opinion>,
}

/// A range of value in one state.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worth {
    /// The lowest that anybody says; `None` where somebody only says `up to`.
    pub low: Option<Money>,
    /// The highest that anybody says.
    pub high: Money,
    /// What each opinion comes to.
    pub by: Vec<ByOpinion>,
}

/// What one opinion comes to in money.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByOpinion {
    /// Its place among the opinions.
    pub opinion: usize,
    /// `None` for `up to`.
    pub low: Option<Money>,
    /// The highest.
    pub high: Money,
}

/// How much more a piece is worth in one state than in another. Work that costs more loses money.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rise {
    /// From the highest before to the lowest after; below 0 where they overlap. `None` where after is only `up to`.
    pub low: Option<Money>,
    /// From the lowest before to the highest after.
    pub high: Money,
    /// Nobody said a lowest value before, so that `high` is counted from the highest; the true rise may be larger.
    pub from_highest_before: bool,
}

/// Why a value cannot be taken in.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ValueFault {
    /// Nobody's word.
    #[error(
        "value, opinion {0}: whose word it is or where it stands is missing; write both, also for your own"
    )]
    Nobody(usize),
    /// A range that falls, or a sum below 0.
    #[error(
        "value, opinion {0}: its range does not rise from 0 up; write the lower figure first, for instance 5000 to 8000"
    )]
    Range(usize),
    /// A share of itself, or of more than the whole.
    #[error(
        "value, opinion {0}: a share is one of what a fully original piece is worth, from 0 % to 100 %; give the fully \
         original its sum"
    )]
    Share(usize),
    /// Another currency.
    #[error(
        "value, opinion {opinion}: {read} stands among values in {wanted}; turn it into {wanted} first, at a rate with its day and source"
    )]
    Currency {
        /// Which opinion.
        opinion: usize,
        /// What was read.
        read: Money,
        /// The currency of the rest.
        wanted: Currency,
    },
    /// A sum that cannot be kept.
    #[error(transparent)]
    Money(#[from] MoneyFault),
}

impl Worth {
    /// The range as a figure to draw from, with nothing to choose between the places in it: that is all that a range
    /// says. `None` where no lowest value is said; somebody must say one first.
    pub fn expected(&self, what: &str) -> Option<Expected> {
        let units = |sum: Money| sum.minor() as f64 / sum.currency().minor_per_unit();
        let range = Estimate::between(units(self.low?), units(self.high));
        // The lowest of all lows is not above the highest of all highs, so the range rises.
        Some(Expected::new(what, self.high.currency(), range.ok()?))
    }
}

impl Value {
    /// Takes in what is said.
    ///
    /// # Errors
    /// [`ValueFault`], with the place of the opinion, counted from 1.
    pub fn of(currency: Currency, opinions: Vec<Opinion>) -> Result<Self, ValueFault> {
        for (number, opinion) in (1..).zip(&opinions) {
            check(number, opinion, currency)?;
        }
        Ok(Self { currency, opinions })
    }

    /// What is said, in its order.
    pub fn opinions(&self) -> &[Opinion] {
        &self.opinions
    }

    /// The value in one state; `None` where nobody speaks of it, or only in shares and nobody says what a fully original
    /// one is worth. A share is taken of the whole range: its low end of the low end, its high end of the high one.
    ///
    /// # Errors
    /// [`ValueFault::Money`].
    pub fn in_state(&self, state: State) -> Result<Option<Worth>, ValueFault> {
        let original = match state {
            State::FullyOriginal => None,
            State::AsFound | State::Restored => self.in_state(State::FullyOriginal)?,
        };
        let mut by = Vec::new();
        for (place, opinion) in self.opinions.iter().enumerate().filter(|(_, it)| it.state == state) {
            let range = match (&opinion.says, &original) {
                (Says::Sum { low, high }, _) => Some((*low, *high)),
                (Says::Share { low, high }, Some(original)) => Some(shared(low.as_ref(), high, original)?),
                (Says::Share { .. }, None) => None,
            };
            by.extend(range.map(|(low, high)| ByOpinion { opinion: place, low, high }));
        }
        let Some(high) = by.iter().map(|it| it.high).max_by_key(|high| high.minor()) else { return Ok(None) };
        let lows: Option<Vec<Money>> = by.iter().map(|it| it.low).collect();
        let low = lows.and_then(|lows| lows.into_iter().min_by_key(|low| low.minor()));
        Ok(Some(Worth { low, high, by }))
    }

    /// How much more it is worth in one state than in another; `None` where one of them has no value.
    ///
    /// # Errors
    /// [`ValueFault::Money`].
    pub fn rise(&self, before: State, after: State) -> Result<Option<Rise>, ValueFault> {
        let (Some(before), Some(after)) = (self.in_state(before)?, self.in_state(after)?) else {
            return Ok(None);
        };
        Ok(Some(Rise {
            low: after.low.map(|low| low.less(before.high)).transpose()?,
            high: after.high.less(before.low.unwrap_or(before.high))?,
            from_highest_before: before.low.is_none(),
        }))
    }

    /// The currency of the values.
    pub fn currency(&self) -> Currency {
        self.currency
    }
}

/// Shares of a range of sums, each rounded once to the nearest unit. What has no low end on either side has none.
fn shared(low: Option<&Rate>, high: &Rate, of: &Worth) -> Result<(Option<Money>, Money), MoneyFault> {
    let rounded = |exact: Exact| exact.round(Rounding::HalfAwayFromZero);
    let low = low.zip(of.low).map(|(low, of)| rounded(low.of(of))).transpose()?;
    Ok((low, rounded(high.of(of.high))?))
}

fn check(number: usize, opinion: &Opinion, wanted: Currency) -> Result<(), ValueFault> {
    if opinion.whose.trim().is_empty() || opinion.source.trim().is_empty() {
        return Err(ValueFault::Nobody(number));
    }
    match &opinion.says {
        Says::Sum { low, high } => {
            let foreign = [*low, Some(*high)].into_iter().flatten().find(|sum| sum.currency() != wanted);
            if let Some(read) = foreign {
                return Err(ValueFault::Currency { opinion: number, read, wanted });
            }
            let least = low.map_or(0, Money::minor);
            if least < 0 || least > high.minor() { Err(ValueFault::Range(number)) } else { Ok(()) }
        }
        Says::Share { low, high } => {
            let shares = low.as_ref().is_none_or(Rate::is_share) && high.is_share();
            if opinion.state == State::FullyOriginal || !shares {
                return Err(ValueFault::Share(number));
            }
            if low.as_ref().is_some_and(|low| low > high) { Err(ValueFault::Range(number)) } else { Ok(()) }
        }
    }
}
