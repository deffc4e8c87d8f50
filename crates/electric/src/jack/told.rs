//! A fit as it is answered: values, what they hang on, whether the wiring stands.

use asfound_measure::{Ohms, Uncertain};

use super::case::{Beforehand, Case, seen_or};
use super::extra::Extra;
use super::fit::{Ended, Solved};
use super::reading::{JackError, MOST_COIL, Meter, TRACK_TOLERANCE};
use super::wiring::{Readings, Wiring};
use crate::least_squares::NotTold;

/// Below this chance the readings and the wiring are said not to agree well.
pub const DOUBTFUL_BELOW: f64 = 0.05;

/// Below this chance a wiring is ruled out.
pub const RULED_OUT_BELOW: f64 = 0.001;

/// A track so long that it does not load a coil.
const NO_LOAD: f64 = 1e13;

/// A resistance so small that it adds nothing to a coil.
const NO_SERIES: f64 = 1e-6;

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
    /// No values were found that suit best: the readings drive one of them without end.
    NotSettled,
    /// It agrees only with a coil that is as good as open or shorted ([`MOST_COIL`], [`super::LEAST_COIL`]).
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
                .map(|(&place, &ohms)| match (self.kind(place), &self.extra) {
                    (Kind::Coil, _) => ohms,
                    (Kind::Extra, Some(Extra::AheadOfTip)) => NO_SERIES,
                    (Kind::Track | Kind::Extra, _) => NO_LOAD,
                })
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
        for (place, nominal) in &loose {
            let ends = [1.0 - TRACK_TOLERANCE, 1.0 + TRACK_TOLERANCE];
            limits[*place] = Some(ends.map(|end| Ohms(nominal * end)));
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
