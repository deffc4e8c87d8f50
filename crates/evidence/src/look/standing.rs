//! How a part stands, and what a look at it can be expected to tell.

use super::outcomes::{Chances, Outcomes};
use crate::Span;
use asfound_weigh::{Bits, LookError, entropy, information};

/// Shares of everything that is believed, by year of assembly (rows) and by month of making of one part (columns), with
/// the part as original and as put in later. All together they are 1, or are brought to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    made: Span,
    original: Vec<Vec<f64>>,
    replaced: Vec<Vec<f64>>,
}

/// What a look can be expected to tell, in bits.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Worth {
    /// About the year of assembly.
    pub year: Bits,
    /// About the part being original.
    pub original: Bits,
}

/// Why a look cannot be weighed.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum LookFault {
    /// A part that is not there.
    #[error("there is no part {} to look at; parts are counted from 1 to {parts}", part + 1)]
    NoPart {
        /// Its place, from 0.
        part: usize,
        /// How many there are.
        parts: usize,
    },
    /// A look without outcome.
    #[error("nothing can come of this look; state a reading or a sign at least")]
    NoOutcome,
    /// A chance that is none.
    #[error("{0} is not a chance; it must lie between 0 and 1, for instance 0.8")]
    Chance(f64),
    /// Chances of signs that exclude one another, over 1 together.
    #[error(
        "the chances of these signs come to {0} together, but only one of them can be seen; make them 1 or less"
    )]
    TooMuch(f64),
    /// A table that cannot be used, or a look without trouble.
    #[error(transparent)]
    Look(#[from] LookError),
}

impl Standing {
    /// From tables with a row for each year of assembly and a column for each month of making.
    ///
    /// # Errors
    /// [`LookFault::Look`] for tables of another shape, or whose entries are not shares.
    pub fn of(made: Span, original: Vec<Vec<f64>>, replaced: Vec<Vec<f64>>) -> Result<Standing, LookFault> {
        let rows = || original.iter().chain(&replaced);
        if original.len() != replaced.len() || rows().any(|row| row.len() != made.len()) {
            return Err(LookError::Shape.into());
        }
        entropy(&rows().flatten().copied().collect::<Vec<f64>>())?;
        Ok(Standing { made, original, replaced })
    }

    /// From tables worked out here, whose shapes and shares are right.
    pub(crate) fn worked_out(made: Span, original: Vec<Vec<f64>>, replaced: Vec<Vec<f64>>) -> Standing {
        Standing { made, original, replaced }
    }

    /// The months of making.
    pub fn made(&self) -> Span {
        self.made
    }

    /// For each year of assembly and month of making its share, with the part original.
    pub fn original(&self) -> &[Vec<f64>] {
        &self.original
    }

    /// The same with the part put in later.
    pub fn replaced(&self) -> &[Vec<f64>] {
        &self.replaced
    }

    /// What is not known: the entropy of the year of assembly, and of the part being original. No look tells more.
    pub fn not_known(&self) -> Worth {
        let bits = |shares: &[f64]| entropy(shares).unwrap_or_default();
        let years: Vec<f64> =
            self.original.iter().zip(&self.replaced).map(|(one, other)| sum(one) + sum(other)).collect();
        Worth { year: bits(&years), original: bits(&self.sides()) }
    }

    /// What a look can be expected to tell that succeeds with this chance.
    ///
    /// # Errors
    /// [`LookFault`].
    pub fn tells(&self, outcomes: &Outcomes, succeeds: f64) -> Result<Worth, LookFault> {
        if !(0.0..=1.0).contains(&succeeds) {
            return Err(LookFault::Chance(succeeds));
        }
        outcomes.check()?;
        let [years, sides] = match outcomes.chances(self.made) {
            Chances::OfMark { by_month, outcomes } => self.with_marks(&by_month, outcomes),
            Chances::OfSign { if_original, if_replaced } => self.with_signs(&if_original, &if_replaced),
        };
        let told = |table: &[Vec<f64>]| information(table).map(|bits| Bits(succeeds * bits.value()));
        Ok(Worth { year: told(&years)?, original: told(&sides)? })
    }

    /// Shares by year and outcome, and by side and outcome, where outcomes go by months of making.
    fn with_marks(&self, by_month: &[Vec<(usize, f64)>], count: usize) -> [Vec<Vec<f64>>; 2] {
        let mut years = vec![vec![0.0; count]; self.original.len()];
        let mut sides = vec![vec![0.0; count]; 2];
        for (side, rows) in [&self.original, &self.replaced].into_iter().enumerate() {
            for (year, row) in rows.iter().enumerate() {
                for (share, outcomes) in row.iter().zip(by_month).filter(|(share, _)| **share > 0.0) {
                    for (outcome, chance) in outcomes {
                        years[year][*outcome] += share * chance;
                        sides[side][*outcome] += share * chance;
                    }
                }
            }
        }
        [years, sides]
    }

    /// The same where they go by the part being original.
    fn with_signs(&self, if_original: &[f64], if_replaced: &[f64]) -> [Vec<Vec<f64>>; 2] {
        let chances = || if_original.iter().zip(if_replaced);
        let of_year = |(original, replaced): (&Vec<f64>, &Vec<f64>)| {
            let (original, replaced) = (sum(original), sum(replaced));
            chances()
                .map(|(if_original, if_replaced)| original * if_original + replaced * if_replaced)
                .collect()
        };
        let years: Vec<Vec<f64>> = self.original.iter().zip(&self.replaced).map(of_year).collect();
        let [original, replaced] = self.sides();
        let sides = vec![
            if_original.iter().map(|chance| original * chance).collect(),
            if_replaced.iter().map(|chance| replaced * chance).collect(),
        ];
        [years, sides]
    }

    /// Shares of the part being original, and put in later.
    fn sides(&self) -> [f64; 2] {
        [&self.original, &self.replaced].map(|side| side.iter().map(|row| sum(row)).sum())
    }
}

fn sum(shares: &[f64]) -> f64 {
    shares.iter().sum()
}
