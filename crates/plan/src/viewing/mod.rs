//! What a check at a viewing is worth: money gained, on average, by deciding after it instead of before it.
//!
//! A piece is worth `V · Π(1 − ℓᵢ) − Σ cᵢ`: what it would bring with nothing wrong, less the share that each flaw takes
//! off what the others leave, less what putting it right costs. What is not known is a list of [`Unknown`]s, each with
//! states and their probabilities. It is bought only where its expected worth `m` is above the price. So the gain is
//! `g(m) = E[max(0, m − price)]`, over a price that is known or lies anywhere in a range, as at an auction.
//!
//! A check that shows outcome `o` moves the expected worth from `m` to `m(o)`, and is worth
//! `Σ P(o) g(m(o)) − g(m)` (H. Raiffa and R. Schlaifer, *Applied Statistical Decision Theory*, 1961, chapter 4, the
//! expected value of sample information; R. A. Howard, *Information Value Theory*, IEEE Transactions on Systems Science
//! and Cybernetics SSC-2, 1966).
//!
//! The one design decision: **the sum is taken over what each outcome saves** ([`Price::saved`]) and not as the
//! difference of two large numbers. Since `Σ P(o) m(o) = m`, both are the same; but each saving is 0 or more by itself,
//! and is exactly 0 where an outcome would not change what is done. So no check is ever worth less than nothing, and one
//! that cannot change the decision is worth nothing to the last bit.
//!
//! Unknowns start independent. A check that bears on several ties them together once it is answered; those that are
//! tied are kept as one joint table, so that every figure is a full sum and nothing is drawn or cut off. Checks look one
//! step ahead: two of them together may be worth something where each alone is worth nothing. Then they are ranked by
//! what they would be worth, were the price just on the edge ([`Ranked::on_the_edge`]).
//!
//! ```
//! use asfound_plan::money::{Currency, Money};
//! use asfound_plan::viewing::{Check, Price, Shown, State, Unknown, Viewing};
//! let pounds = |pounds: i64| Money::of_minor(pounds * 100, Currency::of("GBP").unwrap()).unwrap();
//! // One in five is open and then worth 40 % less; a meter tells for certain. Asked: 1900. Sound: 2000.
//! let none = pounds(0);
//! let open = Unknown::new(vec![
//!     State { probability: 0.8, share_lost: 0.0, cost: none },
//!     State { probability: 0.2, share_lost: 0.4, cost: none },
//! ])?;
//! let meter = Check::new(vec![0], 2.0, vec![vec![1.0, 0.0], vec![0.0, 1.0]])?;
//! let viewing = Viewing::new(pounds(2000), Price::known(pounds(1900)), vec![open], vec![meter])?;
//! let before = viewing.after(&[])?;
//! // Unseen it is worth 1840 and stays with the seller; four times in five the meter shows a gain of 100.
//! assert!((before.worth_of(0).minor - 8000.0).abs() < 1e-9);
//! let after = viewing.after(&[(0, Shown::Outcome(0))])?;
//! assert_eq!(after.expected_worth().round()?, pounds(2000));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod check;
mod fault;
mod groups;
mod price;
mod standing;
mod unknown;

pub use check::Check;
pub use fault::ViewingFault;
pub use price::{Expected, Price};
pub use standing::{Foreseen, Ranked, Standing};
pub use unknown::{State, Unknown};

use crate::money::Money;
use groups::Groups;

/// The most joint states that unknowns tied together by checks may have: beyond it a full sum takes too long in the hand.
pub const MOST_JOINT_STATES: usize = 4096;

/// What was shown when a check was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// One of its outcomes, counted from 0.
    Outcome(usize),
    /// It was made, or not allowed, and nothing can be said.
    CannotTell,
}

/// A piece to be viewed: what is not known of it, what can be checked, and what it would cost to have.
#[derive(Debug, Clone, PartialEq)]
pub struct Viewing {
    sound: Money,
    price: Price,
    unknowns: Vec<Unknown>,
    checks: Vec<Check>,
}

impl Viewing {
    /// `sound` is what the piece would bring with nothing wrong with it.
    ///
    /// # Errors
    /// [`ViewingFault`]: sums in two currencies, a check about an unknown that is not there, or unknowns that too many
    /// checks tie together.
    pub fn new(
        sound: Money,
        price: Price,
        unknowns: Vec<Unknown>,
        checks: Vec<Check>,
    ) -> Result<Self, ViewingFault> {
        let wanted = sound.currency();
        let costs = unknowns.iter().flat_map(|unknown| unknown.states().iter().map(|state| state.cost));
        for sum in price.sums().into_iter().chain(costs) {
            if sum.currency() != wanted {
                return Err(ViewingFault::Mixed { read: sum.currency(), wanted });
            }
        }
        for (at, check) in checks.iter().enumerate() {
            check.fits(at, &unknowns)?;
        }
        let viewing = Self { sound, price, unknowns, checks };
        let tied = Groups::of(&viewing.unknowns).largest_tied(&viewing.checks, &viewing.unknowns);
        if tied > MOST_JOINT_STATES {
            return Err(ViewingFault::TooManyTied { states: tied });
        }
        Ok(viewing)
    }

    /// How things stand after these answers, each the number of a check and what it showed. Their order does not matter;
    /// of two answers to one check the later counts.
    ///
    /// # Errors
    /// [`ViewingFault::NoSuchCheck`], [`ViewingFault::NoSuchOutcome`], and [`ViewingFault::CannotAllBeTrue`] where the
    /// answers together have a probability of 0.
    pub fn after(&self, answers: &[(usize, Shown)]) -> Result<Standing<'_>, ViewingFault> {
        let mut shown: Vec<Option<Shown>> = vec![None; self.checks.len()];
        for &(check, what) in answers {
            let outcomes = self.checks.get(check).ok_or(ViewingFault::NoSuchCheck(check))?.outcomes();
            if let Shown::Outcome(outcome) = what
                && outcome >= outcomes
            {
                return Err(ViewingFault::NoSuchOutcome { check, outcome, outcomes });
            }
            shown[check] = Some(what);
        }
        let mut groups = Groups::of(&self.unknowns);
        // Always in the order of the checks, so that the order of answers does not even change the last bit.
        for (at, (check, shown)) in self.checks.iter().zip(&shown).enumerate() {
            if let Some(Shown::Outcome(outcome)) = shown {
                groups.learn(check, *outcome, &self.unknowns).ok_or(ViewingFault::CannotAllBeTrue(at))?;
            }
        }
        Ok(Standing::of(self, groups, shown.iter().map(Option::is_some).collect()))
    }

    /// What it would bring with nothing wrong.
    pub fn sound(&self) -> Money {
        self.sound
    }

    /// What it costs to have.
    pub fn price(&self) -> Price {
        self.price
    }

    /// What is not known.
    pub fn unknowns(&self) -> &[Unknown] {
        &self.unknowns
    }

    /// What can be checked.
    pub fn checks(&self) -> &[Check] {
        &self.checks
    }
}
