//! What can come of a look.

use super::LookFault;
use crate::{MadeIn, Month, Span};

/// What can come of a look that succeeds.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcomes {
    /// A mark that tells the month of making.
    Month,
    /// A mark that tells the month and the last digit of the year: the decade stays open.
    MonthInADecade,
    /// One of several readings, such as the ways to complete a code of which a digit is not read yet. Each with how
    /// probable it is for each month of making, in proportion to the others; a month that none of them explains gives an
    /// outcome of its own.
    Readings(Vec<MadeIn>),
    /// One of several signs that exclude one another: each with how probable it is on an original part and on one put in
    /// later. What is wanting to 1 is the outcome that none of them is seen. If a sign of the same cause was weighed
    /// already, these must be the probabilities given that one.
    Signs(Vec<(f64, f64)>),
}

impl Outcomes {
    /// What can be wrong with them.
    pub(super) fn check(&self) -> Result<(), LookFault> {
        match self {
            Outcomes::Month | Outcomes::MonthInADecade => Ok(()),
            Outcomes::Readings(readings) if readings.is_empty() => Err(LookFault::NoOutcome),
            Outcomes::Readings(readings) => {
                readings.iter().flat_map(MadeIn::weights).try_for_each(|weight| {
                    if *weight >= 0.0 && weight.is_finite() {
                        Ok(())
                    } else {
                        Err(LookFault::Chance(*weight))
                    }
                })
            }
            Outcomes::Signs(signs) if signs.is_empty() => Err(LookFault::NoOutcome),
            Outcomes::Signs(signs) => {
                let originals = signs.iter().map(|(original, _)| *original);
                check_chances(originals)?;
                check_chances(signs.iter().map(|(_, replaced)| *replaced))
            }
        }
    }

    /// Which outcomes come with what chance, for a part made in one of these months.
    pub(super) fn chances(&self, made: Span) -> Chances {
        let each = |outcome: fn(Month, Span) -> usize| {
            made.months().map(|month| vec![(outcome(month, made), 1.0)]).collect()
        };
        match self {
            Outcomes::Month => {
                let by_month = each(|month, made| (month - made.first) as usize);
                Chances::OfMark { by_month, outcomes: made.len() }
            }
            Outcomes::MonthInADecade => {
                let by_month = each(|month, _| (month - Month::january(0)).rem_euclid(120) as usize);
                Chances::OfMark { by_month, outcomes: 120 }
            }
            Outcomes::Readings(readings) => {
                let none = vec![(readings.len(), 1.0)];
                let at = |month| shares_at(readings, month).unwrap_or(none.clone());
                Chances::OfMark { by_month: made.months().map(at).collect(), outcomes: readings.len() + 1 }
            }
            Outcomes::Signs(signs) => Chances::OfSign {
                if_original: with_none(signs.iter().map(|(original, _)| *original)),
                if_replaced: with_none(signs.iter().map(|(_, replaced)| *replaced)),
            },
        }
    }
}

/// Which outcomes come with what chance.
pub(super) enum Chances {
    /// For each month of making, the outcomes by number.
    OfMark { by_month: Vec<Vec<(usize, f64)>>, outcomes: usize },
    /// For each outcome, on an original part and on one put in later.
    OfSign { if_original: Vec<f64>, if_replaced: Vec<f64> },
}

/// Chances, with that of none of them added.
fn with_none(chances: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut chances: Vec<f64> = chances.collect();
    chances.push((1.0 - chances.iter().sum::<f64>()).max(0.0));
    chances
}

/// The readings a month of making may give, with their shares; nothing where none explains it.
fn shares_at(readings: &[MadeIn], month: Month) -> Option<Vec<(usize, f64)>> {
    let sum: f64 = readings.iter().map(|reading| reading.at(month)).sum();
    let share = |(at, reading): (usize, &MadeIn)| (at, reading.at(month) / sum);
    let seen = |(at, share): (usize, f64)| (share > 0.0).then_some((at, share));
    (sum > 0.0).then(|| readings.iter().enumerate().map(share).filter_map(seen).collect())
}

/// Chances are from 0 up and no more than 1 together, but for rounding.
fn check_chances(chances: impl Iterator<Item = f64>) -> Result<(), LookFault> {
    let mut sum = 0.0;
    for chance in chances {
        if !(0.0..=1.0).contains(&chance) {
            return Err(LookFault::Chance(chance));
        }
        sum += chance;
    }
    if sum > 1.0 + 1e-9 { Err(LookFault::TooMuch(sum)) } else { Ok(()) }
}
