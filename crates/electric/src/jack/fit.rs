//! One way of wiring, fitted to all readings at once.

use asfound_measure::{Ohms, Uncertain};

use super::chance::chance_of;
use super::extra::Extra;
use super::model::{Model, Ready, Seen, with_ohms};
use super::reading::{JackError, LEAST_COIL, MOST_COIL, Meter, OhmsKnown, Shown, TRACK_TOLERANCE};
use super::wiring::{Candidate, Readings, Wiring};
use crate::circuit::Sort;
use crate::least_squares::{Fit, NotTold, Problem, Spread, Unknown};
use crate::state::Changes;

/// Below this chance the readings and the wiring are said not to agree well.
pub const DOUBTFUL_BELOW: f64 = 0.05;

/// Below this chance a wiring is ruled out.
pub const RULED_OUT_BELOW: f64 = 0.001;

/// Where coils start in a fit, each a little above the one before: alike ones would hide which of two roots is which.
const COIL_START: f64 = 6000.0;
/// Where a track starts of which nothing is known.
const TRACK_START: f64 = 3e5;
/// Where a resistance ahead of the tip starts.
const SERIES_START: f64 = 100.0;
/// A track so long that it does not load a coil.
const NO_LOAD: f64 = 1e13;

/// A coil or a pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A coil's winding.
    Coil,
    /// A pot's track.
    Track,
    /// A resistance that nobody drew: a leak or a poor contact.
    Extra,
}

/// The ohms of one part, as the readings give them.
#[derive(Debug, Clone, PartialEq)]
pub struct Value {
    /// The part.
    pub part: String,
    /// A coil or a pot.
    pub kind: Kind,
    /// Its ohms, or why they are not told.
    pub ohms: Result<Uncertain<Ohms>, NotTold>,
    /// The least and the most it may be as tracks run through their tolerance, where that decides more than the
    /// readings do.
    pub limits: Option<[Ohms; 2]>,
}

/// Whether a way of wiring agrees with the readings.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It does.
    Agrees {
        /// How often chance would leave the readings at least this far off.
        chance: f64,
    },
    /// There are no more readings than values to find, so anything agrees.
    NothingToTest,
    /// Not well: the chance lies between [`RULED_OUT_BELOW`] and [`DOUBTFUL_BELOW`].
    Doubtful {
        /// How often chance would leave the readings at least this far off.
        chance: f64,
    },
    /// The readings are too far off.
    RuledOut {
        /// How often chance would leave the readings at least this far off.
        chance: f64,
    },
    /// A reading was shown where nothing conducts, or was over the range where something does.
    CannotShow {
        /// Which reading, counted from 0.
        reading: usize,
    },
    /// It agrees only with a coil that is as good as open or shorted ([`MOST_COIL`], [`LEAST_COIL`]).
    Unlikely {
        /// The coil.
        coil: String,
    },
}

impl Verdict {
    /// Whether it need not be given up.
    pub fn stands(&self) -> bool {
        matches!(self, Verdict::Agrees { .. } | Verdict::NothingToTest | Verdict::Doubtful { .. })
    }
}

/// One way of wiring with the values that suit the readings best.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The wiring.
    pub wiring: Wiring,
    /// Coils that are taken as open in it.
    pub open: Vec<String>,
    /// Coils whose leads are taken as shorted in it.
    pub shorted: Vec<String>,
    /// A resistance taken to be there that nobody drew; its ohms are the last of the values.
    pub extra: Option<Extra>,
    /// The nominal track of each pot, in their order, where nominal values were given.
    pub nominal: Vec<Option<Ohms>>,
    /// Each coil and pot.
    pub values: Vec<Value>,
    /// Covariance of the values, in ohms squared, in their order; a row of noughts for a value that is not told. The
    /// meter's gain is in it.
    pub covariance: Vec<Vec<f64>>,
    /// Pairs of coils that could be exchanged: the readings give both values, but not which coil has which.
    pub interchangeable: Vec<(String, String)>,
    /// What each reading would be with these values; `None` is open.
    pub expected: Vec<Option<Ohms>>,
    /// What the coils that are on in each reading come to without the pots, where that is told.
    pub coils_alone: Vec<Option<Uncertain<Ohms>>>,
    /// The weighted sum of squares.
    pub chi_square: f64,
    /// Readings and values known beforehand, less values found.
    pub degrees_of_freedom: usize,
    /// Whether it agrees.
    pub verdict: Verdict,
}

impl Fitted {
    /// The value of the part with this name.
    pub fn value(&self, part: &str) -> Option<&Value> {
        self.values.iter().find(|value| value.part.eq_ignore_ascii_case(part))
    }
}

/// A candidate with what is decided about it for one fit.
#[derive(Debug, Clone)]
pub(super) struct Case<'c> {
    pub(super) candidate: &'c Candidate,
    /// What is known of each of the candidate's coils and pots, nominal values chosen.
    pub(super) known: Vec<Beforehand>,
    pub(super) open: Vec<usize>,
    pub(super) shorted: Vec<usize>,
    pub(super) extra: Option<Extra>,
    /// A reading that is left out.
    pub(super) without: Option<usize>,
}

/// What is known of a part, decided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Beforehand {
    Nothing,
    Nominal(f64),
    Metered(f64, f64),
    Fixed(f64),
}

impl Beforehand {
    /// Its value and standard uncertainty. A tolerance is rectangular: a/√3 (JCGM 100:2008, 4.3.7).
    pub(super) fn spread(self) -> Option<(f64, f64)> {
        match self {
            Beforehand::Nominal(value) => Some((value, value * TRACK_TOLERANCE / 3.0_f64.sqrt())),
            Beforehand::Metered(value, uncertainty) => Some((value, uncertainty)),
            Beforehand::Nothing | Beforehand::Fixed(_) => None,
        }
    }
}

/// A fit, with what is needed to ask it further.
#[derive(Debug)]
pub(super) struct Solved<'c> {
    pub(super) model: Model<'c>,
    /// For each of the model's parts its place among the candidate's known parts.
    pub(super) places: Vec<usize>,
    /// Ohms of the model's parts at the end.
    pub(super) ohms: Vec<f64>,
    pub(super) fit: Fit,
    /// Whether the meter's gain is the last unknown.
    pub(super) gain: bool,
    pub(super) chi_square: f64,
    pub(super) degrees_of_freedom: usize,
}

/// How a case ends.
#[derive(Debug)]
pub(super) enum Ended<'c> {
    Solved(Box<Solved<'c>>),
    CannotShow(usize),
    NotSettled,
}

impl<'c> Case<'c> {
    /// Every choice of nominal values for a candidate, nothing open or shorted.
    pub(super) fn all(candidate: &'c Candidate) -> Vec<Self> {
        let mut choices: Vec<Vec<Beforehand>> = vec![Vec::new()];
        for (_, known) in &candidate.known {
            let ways: Vec<Beforehand> = match known {
                OhmsKnown::Nominal(values) if !values.is_empty() => {
                    values.iter().map(|value| Beforehand::Nominal(value.0)).collect()
                }
                OhmsKnown::Nominal(_) | OhmsKnown::Unknown => vec![Beforehand::Nothing],
                OhmsKnown::Metered(ohms) => {
                    vec![Beforehand::Metered(ohms.value.0, ohms.standard_uncertainty.0)]
                }
            };
            let more = |choice: &Vec<Beforehand>| {
                let choice = choice.clone();
                ways.iter().map(move |way| choice.iter().copied().chain([*way]).collect()).collect::<Vec<_>>()
            };
            choices = choices.iter().flat_map(more).collect();
        }
        let case = |known| Case {
            candidate,
            known,
            open: Vec::new(),
            shorted: Vec::new(),
            extra: None,
            without: None,
        };
        choices.into_iter().map(case).collect()
    }

    pub(super) fn kind(&self, place: usize) -> Kind {
        match self.candidate.circuit.parts()[self.candidate.known[place].0].sort {
            Sort::Coil(_) => Kind::Coil,
            Sort::Pot(_) => Kind::Track,
            _ => Kind::Extra,
        }
    }

    pub(super) fn is_coil(&self, place: usize) -> bool {
        self.kind(place) == Kind::Coil
    }

    pub(super) fn name(&self, place: usize) -> &'c str {
        &self.candidate.circuit.parts()[self.candidate.known[place].0].name
    }

    fn changes(&self) -> Changes {
        Changes { opened: self.open.clone(), shorted: self.shorted.clone(), ..Changes::default() }
    }

    /// The model of all parts whose ohms are not fixed, and their places.
    pub(super) fn model(&self) -> (Model<'c>, Vec<usize>) {
        let circuit = &self.candidate.circuit;
        let mut changes = self.changes();
        let mut places = Vec::new();
        for (place, known) in self.known.iter().enumerate() {
            let part = self.candidate.known[place].0;
            match known {
                Beforehand::Fixed(ohms) => {
                    let sort = with_ohms(&circuit.parts()[part].sort, Ohms(*ohms));
                    changes = changes.clone().replace(circuit, part, sort).unwrap_or(changes);
                }
                _ => places.push(place),
            }
        }
        let parts = places.iter().map(|&place| self.candidate.known[place].0).collect();
        (Model { circuit, parts, changes }, places)
    }

    fn start(&self, places: &[usize]) -> Vec<f64> {
        let of = |(at, &place): (usize, &usize)| match self.known[place].spread() {
            Some((value, _)) => value,
            None if self.is_coil(place) => COIL_START * (1.0 + 0.07 * at as f64),
            None if self.extra == Some(Extra::AheadOfTip) && self.kind(place) == Kind::Extra => SERIES_START,
            None => TRACK_START * (1.0 + 0.03 * at as f64),
        };
        places.iter().enumerate().map(of).collect()
    }

    /// The readings that count in the fit: those with a number.
    fn counted(&self, readings: &Readings) -> Vec<(usize, Uncertain<Ohms>)> {
        let with = |(reading, shown): (usize, &Shown)| match shown {
            Shown::Ohms(ohms) if Some(reading) != self.without => Some((reading, *ohms)),
            _ => None,
        };
        readings.shown.iter().enumerate().filter_map(with).collect()
    }

    /// Fits.
    ///
    /// # Errors
    /// [`JackError::Circuit`] where a setting does not fit the circuit.
    pub(super) fn fit(&self, readings: &Readings, meter: Meter) -> Result<Ended<'c>, JackError> {
        let (mut model, mut places) = self.model();
        let start = self.start(&places);
        let counted = self.counted(readings);
        let probes = &self.candidate.probes;
        let mut used = vec![false; places.len()];
        for (reading, _) in &counted {
            let seen = seen_or(&model, probes, *reading, &start)?;
            if seen.ohms().is_none() {
                return Ok(Ended::CannotShow(*reading));
            }
            used.iter_mut().zip(&seen.shares).for_each(|(used, share)| *used |= *share > 0.0);
        }
        // A part that no reading runs through and of which nothing is known has no say and nothing to be told.
        let keep = |at: &usize| used[*at] || self.known[places[*at]].spread().is_some();
        let kept: Vec<usize> = (0..places.len()).filter(keep).collect();
        model.parts = kept.iter().map(|&at| model.parts[at]).collect();
        places = kept.iter().map(|&at| places[at]).collect();
        let ready = |(reading, _): &(usize, Uncertain<Ohms>)| {
            let ready = model.ready(&probes[*reading]);
            ready.map_err(|why| JackError::Circuit { reading: reading + 1, why })
        };
        let ready = counted.iter().map(ready).collect::<Result<_, JackError>>()?;
        let rows = Rows { ready, counted: &counted, case: self, places: &places, meter };
        let Some(fit) = rows.fit(kept.iter().map(|&at| start[at]).collect()) else {
            return Ok(Ended::NotSettled);
        };
        let ohms = fit.point()[..places.len()].to_vec();
        let (chi_square, gain) = (fit.chi_square(), meter.gain > 0.0);
        let degrees_of_freedom = fit.degrees_of_freedom().saturating_sub(rows.padding());
        let solved = Solved { model, places, ohms, fit, gain, chi_square, degrees_of_freedom };
        for (reading, shown) in readings.shown.iter().enumerate() {
            if let Shown::Over(Ohms(limit)) = shown
                && Some(reading) != self.without
                && seen_or(&solved.model, probes, reading, &solved.ohms)?.ohms().is_some_and(|it| it < *limit)
            {
                return Ok(Ended::CannotShow(reading));
            }
        }
        Ok(Ended::Solved(Box::new(solved)))
    }

    /// Whether a coil had to be made as good as open or shorted to agree.
    fn unlikely(&self, solved: &Solved) -> Option<usize> {
        solved.places.iter().zip(&solved.ohms).find_map(|(&place, &ohms)| {
            let beyond = ohms > MOST_COIL.0 || ohms < LEAST_COIL.0;
            (beyond && self.is_coil(place) && self.known[place].spread().is_none()).then_some(place)
        })
    }

    pub(super) fn verdict(&self, solved: &Solved) -> Verdict {
        if let Some(place) = self.unlikely(solved) {
            return Verdict::Unlikely { coil: self.name(place).to_owned() };
        }
        if solved.degrees_of_freedom == 0 {
            return Verdict::NothingToTest;
        }
        let chance = chance_of(solved.chi_square, solved.degrees_of_freedom);
        if chance < RULED_OUT_BELOW {
            Verdict::RuledOut { chance }
        } else if chance < DOUBTFUL_BELOW {
            Verdict::Doubtful { chance }
        } else {
            Verdict::Agrees { chance }
        }
    }
}

pub(super) fn seen_or(
    model: &Model,
    probes: &[super::reading::Probe],
    reading: usize,
    ohms: &[f64],
) -> Result<Seen, JackError> {
    let seen = model.seen(&probes[reading], ohms);
    seen.map_err(|why| JackError::Circuit { reading: reading + 1, why })
}

/// The rows of one fit: readings, then what is known beforehand, then the gain, then rows of nought that keep the rows
/// as many as the unknowns.
struct Rows<'a, 'c> {
    ready: Vec<Ready>,
    counted: &'a [(usize, Uncertain<Ohms>)],
    case: &'a Case<'c>,
    places: &'a [usize],
    meter: Meter,
}

impl Rows<'_, '_> {
    fn priors(&self) -> impl Iterator<Item = (usize, (f64, f64))> {
        let known = |(at, &place): (usize, &usize)| Some((at, self.case.known[place].spread()?));
        self.places.iter().enumerate().filter_map(known)
    }

    fn gains(&self) -> usize {
        usize::from(self.meter.gain > 0.0)
    }

    fn padding(&self) -> usize {
        let rows = self.counted.len() + self.priors().count() + self.gains();
        (self.places.len() + self.gains()).saturating_sub(rows)
    }

    fn residuals(&self, values: &[f64]) -> Vec<f64> {
        let (ohms, gain) = values.split_at(self.places.len());
        let by = gain.first().copied().unwrap_or(1.0);
        let read = self.ready.iter().zip(self.counted).map(|(ready, (_, shown))| {
            let seen = ready.seen(ohms).ok().and_then(|seen| seen.ohms());
            by * seen.unwrap_or(f64::NAN) - shown.value.0
        });
        let known = self.priors().map(|(at, (value, _))| ohms[at] - value);
        let rows = read.chain(known).chain(gain.iter().map(|gain| gain - 1.0));
        rows.chain(std::iter::repeat_n(0.0, self.padding())).collect()
    }

    /// By Cohn's theorem a reading moves with a part's ohms by its share over the part's ohms.
    fn derivatives(&self, values: &[f64]) -> Vec<Vec<f64>> {
        let (ohms, gain) = values.split_at(self.places.len());
        let by = gain.first().copied().unwrap_or(1.0);
        let rows = self.counted.len() + self.priors().count() + self.gains() + self.padding();
        let mut columns = vec![vec![0.0; rows]; values.len()];
        for (row, ready) in self.ready.iter().enumerate() {
            let Ok(seen) = ready.seen(ohms) else { continue };
            for (at, share) in seen.shares.iter().enumerate() {
                columns[at][row] = by * share / ohms[at];
            }
            if let Some(column) = columns.get_mut(self.places.len()) {
                column[row] = seen.ohms().unwrap_or(0.0);
            }
        }
        let first = self.counted.len();
        for (row, (at, _)) in self.priors().enumerate() {
            columns[at][first + row] = 1.0;
        }
        if self.gains() == 1 {
            columns[self.places.len()][first + self.priors().count()] = 1.0;
        }
        columns
    }

    fn fit(&self, mut start: Vec<f64>) -> Option<Fit> {
        let name = |&place: &usize| Unknown::positive(self.case.name(place));
        let mut unknowns: Vec<Unknown> = self.places.iter().map(name).collect();
        let mut spread: Vec<f64> =
            self.counted.iter().map(|(_, shown)| shown.standard_uncertainty.0).collect();
        spread.extend(self.priors().map(|(_, (_, uncertainty))| uncertainty));
        if self.gains() == 1 {
            unknowns.push(Unknown::positive("the meter's gain"));
            spread.push(self.meter.gain);
            start.push(1.0);
        }
        spread.extend(std::iter::repeat_n(1.0, self.padding()));
        let (residuals, derivatives) = (|x: &[f64]| self.residuals(x), |x: &[f64]| self.derivatives(x));
        let problem =
            Problem::new(unknowns, Spread::Known(spread), &residuals).with_derivatives(&derivatives);
        problem.fit(&[start]).ok()
    }
}

impl Case<'_> {
    /// The fit as it is answered.
    pub(super) fn fitted(
        &self,
        solved: &Solved,
        readings: &Readings,
        meter: Meter,
    ) -> Result<Fitted, JackError> {
        let told = |place: usize| solved.told(place, self.name(place));
        let limits = self.limits(solved, readings, meter)?;
        let value = |place: usize| Value {
            part: self.name(place).to_owned(),
            kind: self.kind(place),
            ohms: told(place),
            limits: limits[place],
        };
        let probes = &self.candidate.probes;
        let expected = (0..probes.len())
            .map(|reading| Ok(seen_or(&solved.model, probes, reading, &solved.ohms)?.ohms().map(Ohms)));
        Ok(Fitted {
            wiring: self.candidate.wiring.clone(),
            open: self.names(&self.open),
            shorted: self.names(&self.shorted),
            extra: self.extra.clone(),
            nominal: self.nominal(),
            values: (0..self.known.len()).map(value).collect(),
            covariance: self.covariance(solved),
            interchangeable: self.interchangeable(solved, readings),
            expected: expected.collect::<Result<_, JackError>>()?,
            coils_alone: (0..probes.len()).map(|reading| self.coils_alone(solved, reading)).collect(),
            chi_square: solved.chi_square,
            degrees_of_freedom: solved.degrees_of_freedom,
            verdict: self.verdict(solved),
        })
    }

    fn covariance(&self, solved: &Solved) -> Vec<Vec<f64>> {
        let count = self.known.len();
        let at = |place: usize| {
            let at = solved.places.iter().position(|other| *other == place)?;
            solved.fit.told::<Ohms>(at).is_ok().then_some(at)
        };
        let entry = |(one, other): (usize, usize)| {
            at(one).zip(at(other)).map_or(0.0, |(one, other)| solved.fit.covariance(one, other))
        };
        (0..count).map(|row| (0..count).map(|column| entry((row, column))).collect()).collect()
    }

    /// Pairs of coils whose values, told or not, leave every reading as it is when they are exchanged.
    fn interchangeable(&self, solved: &Solved, readings: &Readings) -> Vec<(String, String)> {
        let coils: Vec<usize> =
            (0..solved.places.len()).filter(|&at| self.is_coil(solved.places[at])).collect();
        let free = |at: usize| self.known[solved.places[at]].spread().is_none();
        let same = |one: usize, other: usize| {
            let mut turned = solved.ohms.clone();
            turned.swap(one, other);
            self.counted(readings).iter().all(|(reading, shown)| {
                let seen = |ohms: &[f64]| {
                    let seen = solved.model.seen(&self.candidate.probes[*reading], ohms).ok();
                    seen.and_then(|seen| seen.ohms()).unwrap_or(f64::INFINITY)
                };
                (seen(&turned) - seen(&solved.ohms)).abs() < 1e-3 * shown.standard_uncertainty.0
            })
        };
        let differ = |one: usize, other: usize| {
            (solved.ohms[one] - solved.ohms[other]).abs() > 1e-6 * solved.ohms[one]
        };
        let mut pairs = Vec::new();
        for (index, &one) in coils.iter().enumerate() {
            for &other in &coils[index + 1..] {
                if free(one) && free(other) && differ(one, other) && same(one, other) {
                    let name = |at: usize| self.name(solved.places[at]).to_owned();
                    pairs.push((name(one), name(other)));
                }
            }
        }
        pairs
    }

    /// What the coils come to in one reading with tracks that do not load them.
    fn coils_alone(&self, solved: &Solved, reading: usize) -> Option<Uncertain<Ohms>> {
        let probe = &self.candidate.probes[reading];
        if probe.largest.is_some() || probe.setting.wipers.iter().any(|share| *share < 1.0) {
            return None;
        }
        let ready = solved.model.ready(probe).ok()?;
        let figure = |values: &[f64]| {
            let unloaded: Vec<f64> = solved
                .places
                .iter()
                .zip(values)
                .map(|(&place, &ohms)| if self.kind(place) == Kind::Track { NO_LOAD } else { ohms })
                .collect();
            let seen = ready.seen(&unloaded).ok().and_then(|seen| seen.ohms());
            seen.unwrap_or(NO_LOAD)
        };
        let told: Uncertain<Ohms> = solved.fit.derived(figure).ok()?;
        (told.value.0 < MOST_COIL.0).then_some(told)
    }

    /// For each known part its limits as nominal tracks go to the ends of their tolerance, where a track is known by
    /// its nominal value more than by the readings.
    fn limits(
        &self,
        solved: &Solved,
        readings: &Readings,
        meter: Meter,
    ) -> Result<Vec<Option<[Ohms; 2]>>, JackError> {
        let mut limits = vec![None; self.known.len()];
        let loose: Vec<(usize, f64)> = solved
            .places
            .iter()
            .enumerate()
            .filter_map(|(at, &place)| match self.known[place] {
                Beforehand::Nominal(nominal) => Some((at, place, nominal)),
                _ => None,
            })
            .filter(|(at, place, _)| {
                let prior = self.known[*place].spread().map_or(0.0, |(_, spread)| spread);
                solved.fit.covariance(*at, *at).max(0.0).sqrt() > 0.9 * prior
            })
            .map(|(_, place, nominal)| (place, nominal))
            .take(3)
            .collect();
        if loose.is_empty() {
            return Ok(limits);
        }
        for corner in 0..1_u32 << loose.len() {
            let mut case = self.clone();
            for (bit, (place, nominal)) in loose.iter().enumerate() {
                let by = if corner >> bit & 1 == 1 { 1.0 + TRACK_TOLERANCE } else { 1.0 - TRACK_TOLERANCE };
                case.known[*place] = Beforehand::Fixed(nominal * by);
            }
            let Ended::Solved(at_corner) = case.fit(readings, meter)? else { continue };
            for (place, limit) in limits.iter_mut().enumerate().filter(|(place, _)| self.is_coil(*place)) {
                if let Ok(Uncertain { value: Ohms(ohms), .. }) = at_corner.told(place, self.name(place)) {
                    let [least, most] = limit.unwrap_or([Ohms(ohms); 2]);
                    *limit = Some([Ohms(least.0.min(ohms)), Ohms(most.0.max(ohms))]);
                }
            }
        }
        Ok(limits)
    }
}

impl Case<'_> {
    /// The nominal track of each pot.
    pub(super) fn nominal(&self) -> Vec<Option<Ohms>> {
        let tracks = (0..self.known.len()).filter(|&place| self.kind(place) == Kind::Track);
        let nominal = |place: usize| match self.known[place] {
            Beforehand::Nominal(ohms) => Some(Ohms(ohms)),
            _ => None,
        };
        tracks.map(nominal).collect()
    }

    fn names(&self, parts: &[usize]) -> Vec<String> {
        parts.iter().map(|&part| self.candidate.circuit.parts()[part].name.clone()).collect()
    }

    /// The answer where there is no fit.
    pub(super) fn unfitted(&self, verdict: Verdict) -> Fitted {
        let count = self.candidate.probes.len();
        Fitted {
            wiring: self.candidate.wiring.clone(),
            open: self.names(&self.open),
            shorted: self.names(&self.shorted),
            extra: self.extra.clone(),
            nominal: self.nominal(),
            values: Vec::new(),
            covariance: Vec::new(),
            interchangeable: Vec::new(),
            expected: vec![None; count],
            coils_alone: vec![None; count],
            chi_square: f64::INFINITY,
            degrees_of_freedom: 0,
            verdict,
        }
    }
}

impl Solved<'_> {
    /// The ohms of a known part, or why they are not told.
    pub(super) fn told(&self, place: usize, name: &str) -> Result<Uncertain<Ohms>, NotTold> {
        match self.places.iter().position(|other| *other == place) {
            Some(at) => self.fit.told(at),
            None => Err(NotTold::NoEffect(name.to_owned())),
        }
    }
}
