//! All ways of wiring held against all readings.

use asfound_measure::Ohms;

use super::case::{Case, MOST_CASES, too_many};
use super::doubt::{Doubted, doubted};
use super::extra::Extra;
use super::fit::{Ended, Solved};
use super::next::{NextReading, Standing, TellsApart, apart, next};
use super::propose::Asked;
use super::reading::{FullUp, JackError, Meter, Plain, Traced, check_meter};
use super::told::{Fitted, Kind, Verdict};
use super::wiring::{Candidate, Readings};

/// Coils of which every set is tried as open; with more, each alone and all together.
const MOST_IN_SETS: usize = 3;
/// Doubted readings that are told.
const MOST_DOUBTED: usize = 6;

/// What comes before every reading at the jack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Caution {
    /// Unplug the instrument from any amplifier first, and meter at the free end of a cable or at the jack.
    UnplugFromAmplifier,
}

/// What a part may be, over every wiring that stands and over the tolerance of the tracks.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// The part.
    pub part: String,
    /// A coil or a pot.
    pub kind: Kind,
    /// The least and the most of the best values. How far the meter itself may be off is not in it.
    pub between: [Ohms; 2],
}

/// What the readings at the jack say.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What comes before every reading.
    pub caution: Caution,
    /// For each reading whether the volume was full up. What is told hangs on it where nobody said.
    pub full_up: Vec<FullUp>,
    /// Every way of wiring that was held against the readings, with what suits best in it. Those that stand come
    /// first, those with the fewest faults before others. Faults are supposed only where nothing stands without.
    pub fits: Vec<Fitted>,
    /// What each coil and pot may be.
    pub spans: Vec<Span>,
    /// Readings that would tell the wirings that stand apart.
    pub tells_apart: Vec<TellsApart>,
    /// Readings that disagree with the rest, where no wiring stands without a fault.
    pub doubted: Vec<Doubted>,
    /// Readings that would tell most of the values.
    pub next: Vec<NextReading>,
}

impl Answer {
    /// The fits that stand.
    pub fn standing(&self) -> impl Iterator<Item = &Fitted> {
        self.fits.iter().filter(|fit| fit.verdict.stands())
    }
}

/// Coils and pots of a plain arrangement from readings at the jack.
///
/// # Errors
/// [`JackError`] for readings that cannot be, or more ways than are tried.
pub fn read_plain(asked: &Plain, meter: Meter) -> Result<Answer, JackError> {
    answer(Asked::Plain(asked), meter)
}

/// Coils and pots of a traced circuit from readings at its jack.
///
/// # Errors
/// [`JackError`] for readings that cannot be, settings that do not fit the circuit, or more ways than are tried.
pub fn read_traced(asked: &Traced, meter: Meter) -> Result<Answer, JackError> {
    answer(Asked::Traced(asked), meter)
}

/// A case with its end.
struct Tried<'c> {
    case: Case<'c>,
    ended: Ended<'c>,
    fitted: Fitted,
}

impl Tried<'_> {
    fn faults(&self) -> usize {
        self.case.open.len() + self.case.shorted.len() + usize::from(self.case.extra.is_some())
    }

    fn solved(&self) -> Option<&Solved<'_>> {
        match &self.ended {
            Ended::Solved(solved) if self.fitted.verdict.stands() => Some(solved),
            _ => None,
        }
    }
}

fn answer(asked: Asked, meter: Meter) -> Result<Answer, JackError> {
    check_meter(meter)?;
    if asked.readings() == 0 {
        return Err(JackError::NoReading);
    }
    let (candidates, readings) = asked.candidates()?;
    let plainly = every_case(&candidates, &readings)?;
    let mut tried = tried(plainly.clone(), &readings, meter)?;
    let none_stands = !tried.iter().any(|it| it.fitted.verdict.stands());
    let mut doubts = Vec::new();
    let leaky: Vec<(Candidate, Extra)> = if none_stands {
        let with = |it: &Candidate| {
            let extras = Extra::all(it).into_iter();
            extras.filter_map(|extra| Some((extra.added_to(it)?, extra))).collect::<Vec<_>>()
        };
        candidates.iter().flat_map(with).collect()
    } else {
        Vec::new()
    };
    if none_stands {
        for case in &plainly {
            doubts.extend(doubted(case, &readings, meter)?);
        }
        tried.extend(with_faults(&plainly, &leaky, &readings, meter)?);
    }
    tried.sort_by(|a, b| {
        let rank = |it: &Tried| (!it.fitted.verdict.stands(), it.faults());
        rank(a).cmp(&rank(b)).then(a.fitted.chi_square.total_cmp(&b.fitted.chi_square))
    });
    // First where the others were tested and agree best.
    doubts
        .sort_by(|a, b| chance(&b.others).total_cmp(&chance(&a.others)).then(b.off_by.total_cmp(&a.off_by)));
    let mut told: Vec<Doubted> = Vec::new();
    for doubt in doubts {
        // Other nominal tracks of one wiring say the same again.
        if told.len() < MOST_DOUBTED
            && !told.iter().any(|it| (it.reading, &it.wiring) == (doubt.reading, &doubt.wiring))
        {
            told.push(doubt);
        }
    }
    let standing: Vec<Standing> =
        tried.iter().filter_map(|it| Some(Standing { case: &it.case, solved: it.solved()? })).collect();
    Ok(Answer {
        caution: Caution::UnplugFromAmplifier,
        tells_apart: apart(asked, &standing, &readings),
        next: standing.first().map(|it| next(asked, it, &readings, meter)).unwrap_or_default(),
        spans: spans(&tried),
        full_up: readings.full_up,
        doubted: told,
        fits: tried.into_iter().map(|it| it.fitted).collect(),
    })
}

fn chance(verdict: &Verdict) -> f64 {
    match verdict {
        Verdict::Agrees { chance } | Verdict::Doubtful { chance } => *chance,
        _ => 0.0,
    }
}

fn every_case<'c>(candidates: &'c [Candidate], readings: &Readings) -> Result<Vec<Case<'c>>, JackError> {
    let mut cases = Vec::new();
    for candidate in candidates {
        cases.extend(Case::all(candidate, readings)?);
    }
    if cases.len() > MOST_CASES {
        return Err(too_many(cases.len()));
    }
    Ok(cases)
}

fn tried<'c>(cases: Vec<Case<'c>>, readings: &Readings, meter: Meter) -> Result<Vec<Tried<'c>>, JackError> {
    let mut tried = Vec::with_capacity(cases.len());
    for case in cases {
        let ended = case.fit(readings, meter)?;
        let fitted = match &ended {
            Ended::Solved(solved) => case.fitted(solved, readings, meter)?,
            Ended::CannotShow(reading) => case.unfitted(Verdict::CannotShow { reading: *reading }),
            Ended::NotSettled => case.unfitted(Verdict::NotSettled),
        };
        tried.push(Tried { case, ended, fitted });
    }
    Ok(tried)
}

/// Coils open or shorted, or a resistance that nobody drew, where that makes a wiring stand. A coil that was metered by
/// itself is not supposed to be either.
fn with_faults<'c>(
    plainly: &[Case<'c>],
    leaky: &'c [(Candidate, Extra)],
    readings: &Readings,
    meter: Meter,
) -> Result<Vec<Tried<'c>>, JackError> {
    let mut cases = Vec::new();
    for case in plainly {
        let coils: Vec<usize> = (0..case.known.len())
            .filter(|&place| case.is_coil(place) && case.known[place].spread().is_none())
            .map(|place| case.candidate.known[place].0)
            .collect();
        cases.extend(sets(&coils).into_iter().map(|open| Case { open, ..case.clone() }));
        cases.extend(coils.iter().map(|&coil| Case { shorted: vec![coil], ..case.clone() }));
    }
    for (candidate, extra) in leaky {
        let with = |case| Case { extra: Some(extra.clone()), ..case };
        cases.extend(Case::all(candidate, readings)?.into_iter().map(with));
    }
    let mut found = tried(cases, readings, meter)?;
    // A resistance of which the readings say nothing explains nothing.
    let explains = |it: &Tried| {
        it.case.extra.is_none() || it.fitted.values.last().is_some_and(|value| value.ohms.is_ok())
    };
    found.retain(|it| it.fitted.verdict.stands() && explains(it));
    Ok(found)
}

/// Every set of at least one of few coils; of many, each alone and all together.
fn sets(coils: &[usize]) -> Vec<Vec<usize>> {
    if coils.len() > MOST_IN_SETS {
        return coils.iter().map(|&coil| vec![coil]).chain([coils.to_vec()]).collect();
    }
    let of = |set: u32| {
        let among = coils.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1);
        among.map(|(_, &coil)| coil).collect()
    };
    (1..1_u32 << coils.len()).map(of).collect()
}

fn spans(tried: &[Tried]) -> Vec<Span> {
    let standing: Vec<&Tried> = tried.iter().filter(|it| it.fitted.verdict.stands()).collect();
    let Some(fewest) = standing.iter().map(|it| it.faults()).min() else { return Vec::new() };
    let mut spans: Vec<Span> = Vec::new();
    for it in standing.iter().filter(|it| it.faults() == fewest) {
        for value in &it.fitted.values {
            let Ok(ohms) = &value.ohms else { continue };
            let [least, most] = value.limits.unwrap_or([ohms.value; 2]);
            match spans.iter_mut().find(|span| span.part == value.part) {
                Some(span) => {
                    span.between =
                        [Ohms(span.between[0].0.min(least.0)), Ohms(span.between[1].0.max(most.0))];
                }
                None => {
                    spans.push(Span { part: value.part.clone(), kind: value.kind, between: [least, most] })
                }
            }
        }
    }
    spans
}
