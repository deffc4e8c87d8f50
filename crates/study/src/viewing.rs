//! What is worth checking at a viewing: what is not known, what it costs, and the next check.
//!
//! With nothing said but the kind of piece, the checks stand in a fixed good order. Once it is said what the piece would
//! bring with nothing wrong (`money sound 2600 GBP`), and what it costs (`money asking 1800 GBP`, or `money estimate low
//! 1200 GBP` and `money estimate high 1800 GBP`), they are ranked by what deciding after each is worth. Hazards and
//! matters of law stay first. An answer is an observation in plain words that the entry line reads as well:
//!
//! ```text
//! piece: viewing, line of the neck: the edges lie level
//! piece: viewing, rod turned: cannot tell
//! ```

mod asked;
mod said;

use asfound_plan::checks::{self, Asked};
use asfound_plan::viewing::{Standing, Viewing};

use asfound_record::Job;

pub use asfound_plan::checks::{End, Flag, Flaw, Kind, Known, KnownCheck, Means, NotKnown, Outcome};
pub use asfound_plan::viewing::{Expected, Price, Shown, ViewingFault};
pub use asked::{Sums, Told};
pub use said::{Answered, CANNOT_TELL, Heard, Unread, WhyUnread, answer_line, is_answer};

/// A figure as stated, and the least and the most it comes to with all ranges at one end or the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InRange {
    /// As stated.
    pub stated: Expected,
    /// The least of the three ends.
    pub least: Expected,
    /// The most of them.
    pub most: Expected,
}

impl InRange {
    fn of([least, stated, most]: [Expected; 3]) -> InRange {
        let all = [least, stated, most];
        let by = |pick: fn(f64, f64) -> f64| {
            let minor = all.iter().map(|one| one.minor).reduce(pick).unwrap_or(stated.minor);
            Expected { minor, ..stated }
        };
        InRange { stated, least: by(f64::min), most: by(f64::max) }
    }
}

/// An outcome of a check as it stands now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutcomeNow {
    /// How probable it is.
    pub probability: f64,
    /// What the piece is then worth on average.
    pub worth: Expected,
}

/// What a check is worth now.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckNow {
    /// What deciding after it is worth.
    pub worth: InRange,
    /// What each of its outcomes would make of the worth.
    pub outcomes: Vec<OutcomeNow>,
}

/// A check that is still open.
#[derive(Debug, Clone, PartialEq)]
pub struct Open {
    /// Its place in [`ViewingStudied::known`].
    pub check: usize,
    /// Its figures, where there is money to reckon with.
    pub now: Option<CheckNow>,
}

/// Something not known, as it stands now.
#[derive(Debug, Clone, PartialEq)]
pub struct UnknownNow {
    /// Its place in [`ViewingStudied::known`].
    pub unknown: usize,
    /// How probable each of its states is, that it is as it should be first; `None` without money to reckon with.
    pub probabilities: Vec<f64>,
    /// What it takes off the worth on average: what the piece would be worth with this as it should be, less what it is
    /// worth now.
    pub takes_off: InRange,
}

/// Where the decision stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Reckoned {
    /// What the piece is worth on average.
    pub worth: InRange,
    /// What it costs to have, where that was said.
    pub price: Option<Price>,
    /// What is not known, what takes off most first.
    pub unknowns: Vec<UnknownNow>,
    /// Whether the first check that is no flag changes the decision by itself; else checks are ranked by what they would
    /// be worth with the price on the edge.
    pub some_check_decides: bool,
}

/// What can be said of a viewing.
#[derive(Debug, Clone)]
pub struct ViewingStudied {
    /// What sort of piece it is; `None` where that was not said.
    pub kind: Option<Kind>,
    /// What is often not known of that sort and what can be checked; nothing without a kind.
    pub known: Known,
    /// What was answered, the later of two answers to one check.
    pub answers: Vec<Answered>,
    /// What was meant as an answer and is none.
    pub unread: Vec<Unread>,
    /// Words that bear on what is not known.
    pub heard: Vec<Heard>,
    /// The sums that were said.
    pub sums: Sums,
    /// The decision in money; `None` where no worth was said.
    pub reckoned: Option<Reckoned>,
    /// Why the sums could not be reckoned with.
    pub fault: Option<ViewingFault>,
    /// The checks still open: hazards and law first, then by what they are worth, or in the good order.
    pub open: Vec<Open>,
}

impl ViewingStudied {
    /// A check by its place.
    pub fn check(&self, place: usize) -> Option<&'static KnownCheck> {
        self.known.checks.get(place).copied()
    }
}

/// Studies a job's viewing.
pub fn study(job: &Job) -> ViewingStudied {
    let kind = job
        .piece
        .as_ref()
        .and_then(|piece| Kind::in_words(&piece.body.family).or_else(|| Kind::in_words(&piece.body.words)));
    let known = kind.map_or(Known { unknowns: Vec::new(), checks: Vec::new() }, Known::of);
    let (answers, unread) = said::answers(job, &known);
    let heard = said::heard(job, &known);
    let made = |check: &usize| answers.iter().any(|answered| answered.check == *check);
    let in_order = (0..known.checks.len()).filter(|check| !made(check));
    let open = in_order.map(|check| Open { check, now: None }).collect();
    let mut studied = ViewingStudied {
        kind,
        known,
        answers,
        unread,
        heard,
        sums: asked::sums(job),
        reckoned: None,
        fault: None,
        open,
    };
    if studied.kind.is_some()
        && let Some(sound) = studied.sums.sound
    {
        // Without a price everything lies above it: then no check decides, and they are ranked as if on the edge.
        let price = studied.sums.price.as_ref().map(|told| told.what);
        let asked = Asked {
            sound: sound.what,
            price: price.unwrap_or_else(|| Price::known(sound.what)),
            hour: studied.sums.hour.map(|told| told.what),
            heard: studied.heard.iter().map(|heard| heard.says).collect(),
        };
        match reckon(&studied, &asked, price) {
            Ok((reckoned, open)) => {
                studied.reckoned = Some(reckoned);
                studied.open = open;
            }
            Err(fault) => studied.fault = Some(fault),
        }
    }
    studied
}

/// Everything in money, at all three ends of the ranges.
fn reckon(
    studied: &ViewingStudied,
    asked: &Asked,
    price: Option<Price>,
) -> Result<(Reckoned, Vec<Open>), ViewingFault> {
    let at = |end| checks::viewing(&studied.known, asked, end);
    let viewings: [Viewing; 3] = [at(End::Least)?, at(End::Stated)?, at(End::Most)?];
    let shown: Vec<(usize, Shown)> =
        studied.answers.iter().map(|answered| (answered.check, answered.shown)).collect();
    let [least, stated, most] = &viewings;
    let ends = [least.after(&shown)?, stated.after(&shown)?, most.after(&shown)?];
    let ranked = ends[1].ranked();
    let is_flag = |check: usize| studied.check(check).is_some_and(|known| known.flag.is_some());
    let some_check_decides = ranked.iter().any(|one| one.worth.minor > 0.0);
    let now = |check: usize| Open {
        check,
        now: Some(CheckNow {
            worth: InRange::of([0, 1, 2].map(|end: usize| ends[end].worth_of(check))),
            outcomes: outcomes(&ends[1], check),
        }),
    };
    let mut flags: Vec<usize> = ranked.iter().map(|one| one.check).filter(|check| is_flag(*check)).collect();
    flags.sort_unstable();
    let others = ranked.iter().map(|one| one.check).filter(|check| !is_flag(*check));
    let open = flags.into_iter().chain(others).map(now).collect();
    let worth = InRange::of([0, 1, 2].map(|end: usize| ends[end].expected_worth()));
    Ok((Reckoned { worth, price, unknowns: unknowns(studied, &ends), some_check_decides }, open))
}

fn outcomes(standing: &Standing<'_>, check: usize) -> Vec<OutcomeNow> {
    let seen = standing.outcomes(check).into_iter();
    seen.map(|seen| OutcomeNow { probability: seen.probability, worth: seen.worth }).collect()
}

fn unknowns(studied: &ViewingStudied, ends: &[Standing<'_>; 3]) -> Vec<UnknownNow> {
    let takes_off = |standing: &Standing<'_>, unknown: usize| {
        let worth = standing.expected_worth();
        let sound = standing.worth_in_each_state(unknown).first().copied().flatten().unwrap_or(worth);
        Expected { minor: sound.minor - worth.minor, ..worth }
    };
    let mut all: Vec<UnknownNow> = (0..studied.known.unknowns.len())
        .map(|unknown| UnknownNow {
            unknown,
            probabilities: ends[1].probabilities(unknown),
            takes_off: InRange::of([0, 1, 2].map(|end: usize| takes_off(&ends[end], unknown))),
        })
        .collect();
    all.sort_by(|one, other| other.takes_off.stated.minor.total_cmp(&one.takes_off.stated.minor));
    all
}
