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

/// A figure as stated, and the range within which it may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InRange {
    /// As stated.
    pub stated: Expected,
    /// The least.
    pub least: Expected,
    /// The most.
    pub most: Expected,
}

impl InRange {
    /// The least and the most of the figure as stated and of these.
    fn over(stated: Expected, others: impl Iterator<Item = f64>) -> InRange {
        let ends = (stated.minor, stated.minor);
        let (least, most) = others.fold(ends, |(least, most), one| (least.min(one), most.max(one)));
        InRange {
            stated,
            least: Expected { minor: least, ..stated },
            most: Expected { minor: most, ..stated },
        }
    }

    /// Several ranges at work at once, each of which moves the figure by itself to one of its ends. They are independent,
    /// so the root of the sum of squares is taken, downward and upward apart (JCGM 100, 5.1.2).
    fn together(stated: Expected, each: impl Iterator<Item = [f64; 2]>) -> InRange {
        let (mut down, mut up) = (0.0, 0.0);
        for ends in each {
            let least = ends[0].min(ends[1]).min(stated.minor) - stated.minor;
            let most = ends[0].max(ends[1]).max(stated.minor) - stated.minor;
            down += least * least;
            up += most * most;
        }
        let at = |minor| Expected { minor, ..stated };
        InRange { stated, least: at(stated.minor - down.sqrt()), most: at(stated.minor + up.sqrt()) }
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
    /// What deciding after it is worth; the range is that with the figures of any one unknown at an end.
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
    /// How probable each of its states is, that it is as it should be first.
    pub probabilities: Vec<f64>,
    /// What it takes off the worth on average: what the piece would be worth with this as it should be, less what it is
    /// worth now. The range is that with its own figures at an end.
    pub takes_off: InRange,
}

/// Where the decision stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Reckoned {
    /// What the piece is worth on average; the range has all of them at work at once, independent of each other.
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

/// How things stand with the ranges of one unknown at its two ends, all others as stated.
type Turned<'v> = [Standing<'v>; 2];

/// Everything in money, as stated and with the ranges of each unknown turned to their ends.
fn reckon(
    studied: &ViewingStudied,
    asked: &Asked,
    price: Option<Price>,
) -> Result<(Reckoned, Vec<Open>), ViewingFault> {
    let known = &studied.known;
    let with = |turned: Option<&str>, end: End| {
        let at = |one: &NotKnown| if Some(one.id) == turned { end } else { End::Stated };
        checks::viewing(known, asked, at)
    };
    let viewing = with(None, End::Stated)?;
    let pairs: Vec<[Viewing; 2]> = known
        .unknowns
        .iter()
        .map(|one| Ok([with(Some(one.id), End::Least)?, with(Some(one.id), End::Most)?]))
        .collect::<Result<_, ViewingFault>>()?;
    let shown: Vec<(usize, Shown)> =
        studied.answers.iter().map(|answered| (answered.check, answered.shown)).collect();
    let stated = viewing.after(&shown)?;
    let turned: Vec<Turned<'_>> = pairs
        .iter()
        .map(|[least, most]| Ok([least.after(&shown)?, most.after(&shown)?]))
        .collect::<Result<_, ViewingFault>>()?;
    let ends = turned.iter().map(|pair| [0, 1].map(|end: usize| pair[end].expected_worth().minor));
    let worth = InRange::together(stated.expected_worth(), ends);
    let (open, some_check_decides) = ranked(studied, &stated, &turned);
    let unknowns = unknowns(studied, &stated, &turned);
    Ok((Reckoned { worth, price, unknowns, some_check_decides }, open))
}

/// The open checks, hazards and law first; and whether one of the others decides by itself.
fn ranked(studied: &ViewingStudied, stated: &Standing<'_>, turned: &[Turned<'_>]) -> (Vec<Open>, bool) {
    let ranked = stated.ranked();
    let is_flag = |check: usize| studied.check(check).is_some_and(|known| known.flag.is_some());
    let some_check_decides = ranked.iter().any(|one| !is_flag(one.check) && one.worth.minor > 0.0);
    let now = |check: usize| {
        let others = turned.iter().flatten().map(|standing| standing.worth_of(check).minor);
        let worth = InRange::over(stated.worth_of(check), others);
        Open { check, now: Some(CheckNow { worth, outcomes: outcomes(stated, check) }) }
    };
    let mut flags: Vec<usize> = ranked.iter().map(|one| one.check).filter(|check| is_flag(*check)).collect();
    flags.sort_unstable();
    let others = ranked.iter().map(|one| one.check).filter(|check| !is_flag(*check));
    (flags.into_iter().chain(others).map(now).collect(), some_check_decides)
}

fn outcomes(standing: &Standing<'_>, check: usize) -> Vec<OutcomeNow> {
    let seen = standing.outcomes(check).into_iter();
    seen.map(|seen| OutcomeNow { probability: seen.probability, worth: seen.worth }).collect()
}

fn unknowns(studied: &ViewingStudied, stated: &Standing<'_>, turned: &[Turned<'_>]) -> Vec<UnknownNow> {
    let takes_off = |standing: &Standing<'_>, unknown: usize| {
        let worth = standing.expected_worth();
        let sound = standing.worth_in_each_state(unknown).first().copied().flatten().unwrap_or(worth);
        Expected { minor: sound.minor - worth.minor, ..worth }
    };
    let mut all: Vec<UnknownNow> = (0..studied.known.unknowns.len())
        .zip(turned)
        .map(|(unknown, own)| UnknownNow {
            unknown,
            probabilities: stated.probabilities(unknown),
            takes_off: InRange::over(
                takes_off(stated, unknown),
                own.iter().map(|standing| takes_off(standing, unknown).minor),
            ),
        })
        .collect();
    all.sort_by(|one, other| other.takes_off.stated.minor.total_cmp(&one.takes_off.stated.minor));
    all
}
