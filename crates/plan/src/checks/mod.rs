//! What is often not known of a guitar, a bass, a lap steel or an amplifier at a viewing, and what can be checked there,
//! in a good order.
//!
//! **The one decision: it is a table, and every figure in it is a range.** What a flaw takes off, how often it is there and
//! how long a check takes is each given as least, stated and most, since almost none of it was ever published. So a
//! ranking can be made again with any of them at an end of its range ([`End`]), and what does not hold there is not said
//! to be sure.
//! How often a check shows what stands without a range, and is common practice without a source throughout.
//!
//! Hazards and matters of law come first in the order, whatever a check is worth. An amplifier is never switched on or
//! opened at a viewing.
//!
//! ```
//! use asfound_plan::checks::{Asked, End, Kind, Known, viewing};
//! use asfound_plan::money::{Currency, Money};
//! use asfound_plan::viewing::Price;
//! let pounds = |text| Money::read(text, Currency::of("GBP").unwrap()).unwrap();
//! let guitar = Known::of(Kind::Guitar);
//! assert!(guitar.checks[0].flag.is_some());
//! let asked = Asked {
//!     sound: pounds("2600"),
//!     price: Price::between(pounds("900"), pounds("1600"))?,
//!     hour: Some(pounds("50")),
//!     heard: vec![],
//! };
//! let question = viewing(&guitar, &asked, |_| End::Stated)?;
//! let first = question.after(&[])?.ranked()[0];
//! assert!(first.worth.minor > 0.0);
//! # Ok::<(), asfound_plan::viewing::ViewingFault>(())
//! ```

mod read;

use std::sync::LazyLock;

use crate::money::{Exact, Money, Rate, Rounding};
use crate::viewing::{Check, Price, State, Unknown, Viewing, ViewingFault};

/// What sort of piece is viewed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A guitar.
    Guitar,
    /// A bass.
    Bass,
    /// A lap steel.
    LapSteel,
    /// An amplifier.
    Amplifier,
}

impl Kind {
    /// All of them.
    pub const ALL: [Kind; 4] = [Kind::Guitar, Kind::Bass, Kind::LapSteel, Kind::Amplifier];

    /// The kind that words name: `bass amplifier` is an amplifier, `lap steel guitar` a lap steel.
    pub fn in_words(words: &str) -> Option<Kind> {
        let words = words.to_lowercase();
        let says = |word: &str| words.contains(word);
        if says("amp") || says("combo") {
            Some(Kind::Amplifier)
        } else if says("steel") {
            Some(Kind::LapSteel)
        } else if says("bass") {
            Some(Kind::Bass)
        } else if says("guitar") {
            Some(Kind::Guitar)
        } else {
            None
        }
    }
}

/// A figure with the range within which another restorer might put it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The least.
    pub least: f64,
    /// The stated figure.
    pub stated: f64,
    /// The most.
    pub most: f64,
}

/// Which end of the ranges is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// All flaws as rare and as light as somebody might put it.
    Least,
    /// As stated.
    Stated,
    /// All flaws as frequent and as heavy as somebody might put it.
    Most,
}

impl Range {
    /// The figure at an end.
    pub fn at(self, end: End) -> f64 {
        match end {
            End::Least => self.least,
            End::Stated => self.stated,
            End::Most => self.most,
        }
    }
}

/// A way in which something may not be as it should be.
#[derive(Debug, Clone, PartialEq)]
pub struct Flaw {
    /// What it is, in plain words.
    pub words: &'static str,
    /// How often it is so, 0 to 1.
    pub probability: Range,
    /// The share of the worth it takes off for good, 0 to 1.
    pub share_lost: Range,
    /// Hours to put it right.
    pub hours: Range,
    /// Where the figures are from.
    pub source: &'static str,
}

/// Something that is often not known.
#[derive(Debug, Clone, PartialEq)]
pub struct NotKnown {
    /// Its id in the tables.
    pub id: &'static str,
    /// Its name in plain words.
    pub name: &'static str,
    /// Of which kinds it is asked.
    pub kinds: Vec<Kind>,
    /// The ways in which it may not be as it should be; its first state is that it is.
    pub flaws: Vec<Flaw>,
}

impl NotKnown {
    /// The share of the worth that it takes off on average, hours aside.
    pub fn mean_share_lost(&self, end: End) -> f64 {
        self.flaws.iter().map(|flaw| flaw.probability.at(end) * flaw.share_lost.at(end)).sum()
    }
}

/// Why a check comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flag {
    /// Something may hurt.
    Hazard,
    /// A rule may stand in the way.
    Legal,
}

/// By what means a check is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Means {
    /// By asking.
    Ask,
    /// By eye and hand.
    Look,
    /// With a torch.
    Torch,
    /// With an ultraviolet lamp, eyes and skin shielded.
    Ultraviolet,
    /// With a meter.
    Meter,
    /// By ear.
    Listen,
    /// With the strings slackened or off, with leave.
    StringsOff,
    /// With the guard or a plate lifted, with the seller's leave.
    GuardLifted,
}

impl Means {
    /// Whether the seller has to give leave first.
    pub fn wants_leave(self) -> bool {
        matches!(self, Means::StringsOff | Means::GuardLifted)
    }
}

/// What may be seen, and what it would mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outcome {
    /// What is seen, in a few words.
    pub seen: &'static str,
    /// What it means.
    pub means: &'static str,
}

/// What a check shows of one unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Shows {
    /// The unknown's id.
    pub unknown: &'static str,
    /// How often each outcome is seen, a row for each state.
    pub shares: Vec<Vec<f64>>,
}

/// Something that can be checked.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownCheck {
    /// Its name, by which an answer is kept.
    pub name: &'static str,
    /// Of which kinds it can be made.
    pub kinds: Vec<Kind>,
    /// Why it comes first; `None` where it does not.
    pub flag: Option<Flag>,
    /// By what means.
    pub means: Means,
    /// Whether a sharp picture can answer it.
    pub from_picture: bool,
    /// Minutes it takes.
    pub minutes: Range,
    /// What to do, in a sentence.
    pub to_do: &'static str,
    /// What may be seen, from good to bad.
    pub outcomes: Vec<Outcome>,
    /// What to mind; may be empty.
    pub caution: &'static str,
    /// Where it is from.
    pub source: &'static str,
    /// What it shows, of each unknown that it bears on.
    pub shows: Vec<Shows>,
}

/// What words say beforehand.
#[derive(Debug, Clone, PartialEq)]
pub struct WordsSay {
    /// The words: each of them in one clause; a stroke parts words of which either will do.
    pub words: &'static str,
    /// The unknown they speak of.
    pub unknown: &'static str,
    /// How often they are said in each of its states.
    pub said: Vec<f64>,
}

static BUILT_IN: LazyLock<read::Tables> = LazyLock::new(|| {
    // Read in the tests of this crate, so that a table with a fault never leaves them.
    read::built_in().unwrap_or_default()
});

/// Words that bear on what is not known, the narrower before the wider.
pub fn words() -> &'static [WordsSay] {
    &BUILT_IN.words
}

/// What is not known and what can be checked of one kind of piece, in the good order.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// What is often not known.
    pub unknowns: Vec<&'static NotKnown>,
    /// What can be checked.
    pub checks: Vec<&'static KnownCheck>,
}

impl Known {
    /// For a kind.
    pub fn of(kind: Kind) -> Known {
        Known {
            unknowns: BUILT_IN.unknowns.iter().filter(|one| one.kinds.contains(&kind)).collect(),
            checks: BUILT_IN.checks.iter().filter(|one| one.kinds.contains(&kind)).collect(),
        }
    }

    /// The place of an unknown by its id.
    pub fn place(&self, id: &str) -> Option<usize> {
        self.unknowns.iter().position(|unknown| unknown.id == id)
    }
}

/// What is to be decided on.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// What the piece would bring with nothing wrong with it.
    pub sound: Money,
    /// What it costs to have.
    pub price: Price,
    /// What an hour's work costs; without it hours are not counted.
    pub hour: Option<Money>,
    /// What was heard beforehand.
    pub heard: Vec<&'static WordsSay>,
}

/// The tables as a question in money, with the ranges of each unknown at an end. Unknowns and checks keep their places.
///
/// # Errors
/// [`ViewingFault`], for sums in two currencies.
pub fn viewing(
    known: &Known,
    asked: &Asked,
    end: impl Fn(&NotKnown) -> End,
) -> Result<Viewing, ViewingFault> {
    let unknowns =
        known.unknowns.iter().map(|one| unknown(one, asked, end(one))).collect::<Result<_, _>>()?;
    let checks = known.checks.iter().map(|one| check(known, one)).collect::<Result<_, _>>()?;
    Viewing::new(asked.sound, asked.price, unknowns, checks)
}

fn unknown(known: &NotKnown, asked: &Asked, end: End) -> Result<Unknown, ViewingFault> {
    let currency = asked.sound.currency();
    let nothing = Money::nothing(currency);
    let flawed: f64 = known.flaws.iter().map(|flaw| flaw.probability.at(end)).sum();
    let mut states = vec![State { probability: 1.0 - flawed, share_lost: 0.0, cost: nothing }];
    for flaw in &known.flaws {
        let cost = asked.hour.map_or(Ok(nothing), |hour| hours_cost(flaw.hours.at(end), hour))?;
        states.push(State {
            probability: flaw.probability.at(end),
            share_lost: flaw.share_lost.at(end),
            cost,
        });
    }
    let mut unknown = Unknown::new(states)?;
    for heard in asked.heard.iter().filter(|heard| heard.unknown == known.id) {
        unknown = unknown.given(&heard.said)?;
    }
    Ok(unknown)
}

/// Hours at a price, to the nearest minor unit.
fn hours_cost(hours: f64, hour: Money) -> Result<Money, ViewingFault> {
    // Hours of the tables have a decimal or two: in minutes they are whole.
    let minutes = (hours * 60.0).round() as i64;
    let cost = Rate::parts(minutes, 60).map(|rate| rate.of(hour));
    let cost = cost.unwrap_or_else(|| Exact::from(Money::nothing(hour.currency())));
    cost.round(Rounding::HalfAwayFromZero).map_err(ViewingFault::from)
}

fn check(known: &Known, check: &KnownCheck) -> Result<Check, ViewingFault> {
    let placed = check.shows.iter().filter_map(|shows| Some((known.place(shows.unknown)?, &shows.shares)));
    let (about, alone): (Vec<usize>, Vec<Vec<Vec<f64>>>) =
        placed.map(|(place, shares)| (place, shares.clone())).unzip();
    Check::worst_of(about, check.minutes.stated, &alone)
}
