//! Which look next tells most for its trouble: which mark to photograph, which screw to turn.
//!
//! Before a look is made, everything that may come of it is weighed: for each outcome `y` its joint share with what is
//! asked, over all that is believed now. What the look can be expected to tell is then
//!
//! ```text
//! I = Σ p(x, y) log₂ [p(x, y) / (p(x) p(y))]      x the year of assembly, or whether the part is original
//! ```
//!
//! (C. E. Shannon, Bell System Technical Journal 27, 379, 1948; as the worth of an experiment not made yet: D. V.
//! Lindley, Annals of Mathematical Statistics 27, 986, 1956.) It is never below 0 and never more than what is not known:
//! the entropy of `x`. A look that may fail, for instance since the mark turns out to be gone, and fails for reasons of
//! its own, tells its chance of success times as much; for then `p(x, fails) = p(x) p(fails)`, which adds nothing.
//!
//! All that is needed of a part is one table, its [`Standing`]: shares by year of assembly, by month of making, as
//! original and as put in later. A mark tells of the month of making, a sign of the part being original, and both reach
//! what is asked through that table: a pot's code dates the whole only as far as the pot belongs to it.
//!
//! Looks are weighed one at a time. Two looks that would tell the same are each worth it, and not both together.

mod outcomes;
mod standing;

pub use outcomes::Outcomes;
pub use standing::{LookFault, Standing, Worth};

use crate::Dated;
use asfound_weigh::{Look, Ranked, rank};

/// A look that could be made at a part.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLook<L> {
    /// What it is, in whatever form the caller keeps it.
    pub what: L,
    /// The part looked at, by its place among the instrument's parts.
    pub part: usize,
    /// What can come of it.
    pub outcomes: Outcomes,
    /// The chance that it shows anything: that there is a mark under the cover, and that it can be read.
    pub succeeds: f64,
    /// The trouble it takes, in minutes.
    pub minutes: f64,
}

/// Looks by what they tell for each minute of trouble, the best first, for each of the two questions.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLooks<L> {
    /// About the year in which the whole was put together.
    pub about_the_year: Vec<Ranked<L>>,
    /// About whether the part looked at is original.
    pub about_the_part: Vec<Ranked<L>>,
}

/// The looks ranked, after everything that was weighed. At a part known to be new there is nothing to learn.
///
/// # Errors
/// [`LookFault`]: a look at a part that is not there, chances that are none, no trouble.
///
/// Two parts without a mark read: the pot fitted from fresh stock tells more of the year than the valve, which is more
/// often than not a later one.
/// ```
/// use asfound_evidence::look::{NextLook, Outcomes, next_looks};
/// use asfound_evidence::{Instrument, Lag, MadeIn, Month, PartEvidence, Span};
/// let part = |replaced| PartEvidence {
///     made_in: MadeIn::nothing_known(Span::years(1930, 2023).expect("a span")),
///     lag: Lag::geometric(6.0, 119).expect("a lag"),
///     replaced,
///     if_original: 1.0,
///     if_replaced: 1.0,
///     known_new: false,
/// };
/// let instrument = Instrument {
///     assembly: Span::years(1955, 1969).expect("a span"),
///     inspected: Month::january(2024),
///     stock: Lag::geometric(24.0, 359)?,
///     parts: vec![part(0.1), part(0.7)],
///     harnesses: vec![],
///     whole: vec![],
/// };
/// let read = |what, part| NextLook { what, part, outcomes: Outcomes::Month, succeeds: 0.9, minutes: 5.0 };
/// let looks = next_looks(&instrument.weigh()?, vec![read("valve", 1), read("pot", 0)])?;
/// assert_eq!(looks.about_the_year[0].look.what, "pot");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn next_looks<L: Clone>(dated: &Dated, looks: Vec<NextLook<L>>) -> Result<NextLooks<L>, LookFault> {
    let worth = worth(dated, &looks)?;
    let of = |asked: fn(&Worth) -> asfound_weigh::Bits| {
        let with = |(look, worth): (&NextLook<L>, &Worth)| Look {
            what: look.what.clone(),
            tells: asked(worth),
            minutes: look.minutes,
        };
        rank(looks.iter().zip(&worth).map(with).collect())
    };
    Ok(NextLooks { about_the_year: of(|worth| worth.year)?, about_the_part: of(|worth| worth.original)? })
}

/// What each look can be expected to tell if it is made, in the order given. A part's standing is worked out once for all
/// looks at it.
///
/// # Errors
/// [`LookFault`], but for the trouble, which is not asked here.
pub fn worth<L>(dated: &Dated, looks: &[NextLook<L>]) -> Result<Vec<Worth>, LookFault> {
    let mut worth = vec![Worth::default(); looks.len()];
    let mut by_part: Vec<usize> = (0..looks.len()).collect();
    by_part.sort_by_key(|at| looks[*at].part);
    for of_part in by_part.chunk_by(|one, other| looks[*one].part == looks[*other].part) {
        let part = looks[of_part[0]].part;
        if part >= dated.parts() {
            return Err(LookFault::NoPart { part, parts: dated.parts() });
        }
        let Some(standing) = dated.standing(part) else { continue };
        for at in of_part {
            worth[*at] = standing.tells(&looks[*at].outcomes, looks[*at].succeeds)?;
        }
    }
    Ok(worth)
}
