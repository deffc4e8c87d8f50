//! What no probing tells apart, and which look tells most for its trouble.

use asfound_measure::Ohms;
use asfound_weigh::{Bits, Look as Worth, information, rank};

use super::answer::{Look, NextLook, Shows, Suspicion};
use super::edits::Edits;
use super::evidence::{Evidence, Probed, Reach, Touched};
use super::heard::Hypothesis;
use super::ohms::{Room, Seen, scale};
use super::weighing::{Bench, Standing};
use crate::circuit::{Circuit, JoinTo, Sort, Terminal};
use crate::direct::Reading;
use crate::state::Setting;

/// Looks told.
pub const MOST_NEXT: usize = 6;

/// Suspicions that a look is to tell apart.
const MOST_LEADERS: usize = 30;

/// A suspicion less probable than this leads nothing. It is the floor of [`Probability`](asfound_weigh::Probability):
/// many faults that are improbable one by one can be worth a look together.
const LEAST_LEADER: f64 = 0.001;

/// Settings gone through.
const MOST_SETTINGS: usize = 24;

/// Two expected readings this many standard uncertainties apart are told apart (common practice, no source).
const APART: f64 = 3.0;

/// How sure the size of a fault is taken to be once it is in question, as a standard uncertainty of its logarithm.
const SETTLED: f64 = 0.1;

/// A look that tells less is not worth it.
const LEAST_BITS: f64 = 0.02;

/// How often each sort of look misleads (common practice, no source).
const MISLEADS: [f64; 3] = [0.02, 0.08, 0.25];

/// Minutes for a probing at the plug, one in the cavity, a listening test, a touch (common practice, no source).
const MINUTES: [f64; 4] = [0.5, 1.0, 1.5, 1.0];

/// Probings within reach: the plug, the ends of every join, the lugs of every part, and every lug against the sleeve.
/// Knobs are full up, and each in turn down.
pub(super) fn within_reach(circuit: &Circuit, evidence: &Evidence, bench: &Bench) -> Vec<Probed> {
    let places = bench.ear.places;
    let mut pairs = vec![(places.tip, places.sleeve)];
    if evidence.reach == Reach::Everything {
        pairs.extend(circuit.joins().iter().filter_map(|join| match join.to {
            JoinTo::One(to) => Some((join.a, to)),
            JoinTo::Candidates { .. } => None,
        }));
        for (part, it) in circuit.parts().iter().enumerate() {
            let count = if matches!(it.sort, Sort::Pot(_)) { 3 } else { it.lug_count().min(12) };
            let lug = |lug| Terminal { part, lug };
            pairs.extend((0..count).flat_map(|a| (a + 1..count).map(move |b| (lug(a), lug(b)))));
            pairs.extend((0..it.lug_count()).map(|a| (lug(a), places.sleeve)));
        }
        let strings = places.strings;
        pairs.extend(strings.map(|strings| (places.tip, strings)));
    }
    let mut seen = std::collections::BTreeSet::new();
    pairs.retain(|(a, b)| a != b && seen.insert((*a.min(b), *a.max(b))));
    let settings = settings(circuit);
    settings
        .iter()
        .flat_map(|setting| pairs.iter().map(|&(from, to)| Probed { from, to, setting: setting.clone() }))
        .collect()
}

/// Every position with the knobs full up, then each knob down in every position, as many as are gone through.
fn settings(circuit: &Circuit) -> Vec<Setting> {
    let up: Vec<Setting> = Setting::every_position(circuit).take(MOST_SETTINGS).collect();
    let down = (0..circuit.pots().count()).flat_map(|knob| {
        up.iter().map(move |setting| {
            let mut setting = setting.clone();
            setting.wipers[knob] = 0.0;
            setting
        })
    });
    up.iter().cloned().chain(down).take(MOST_SETTINGS).collect()
}

/// What a meter would show, and how sure that is, for one suspicion.
#[derive(Debug, Clone, Copy)]
struct Expected {
    /// `None` is open.
    scaled: Option<f64>,
    ohms: f64,
    spread: f64,
}

impl Expected {
    fn of(seen: &Seen) -> Self {
        let slopes: f64 = seen.slopes.iter().map(|(_, slope)| slope * slope).sum();
        Self {
            scaled: seen.ohms.map(scale),
            ohms: seen.ohms.unwrap_or(f64::INFINITY),
            spread: (slopes + seen.noise * seen.noise).sqrt(),
        }
    }

    fn apart(&self, other: &Self) -> bool {
        match (self.scaled, other.scaled) {
            (None, None) => false,
            (Some(one), Some(two)) => {
                let spread = (self.spread * self.spread + other.spread * other.spread).sqrt();
                (one - two).abs() > APART * spread
            }
            _ => true,
        }
    }

    fn reading(&self) -> Reading {
        match self.scaled {
            None => Reading::Open,
            Some(_) if self.ohms == 0.0 => Reading::Shorted,
            Some(_) => Reading::Ohms(Ohms(self.ohms)),
        }
    }
}

/// Expected readings of one suspicion for all probings, in their order.
fn expected(bench: &Bench, edits: &[Edits], probings: &[Probed], room: &mut Room) -> Vec<Expected> {
    let settled: Vec<Edits> =
        edits.iter().map(|it| Edits { spread: it.spread.min(SETTLED), ..it.clone() }).collect();
    let edits: Vec<&Edits> = settled.iter().collect();
    let mut all = Vec::with_capacity(probings.len());
    for group in probings.chunk_by(|a, b| a.setting == b.setting) {
        let stand = bench.grid.stand(&group[0].setting);
        let pairs: Vec<_> = group.iter().map(|probed| (probed.from, probed.to)).collect();
        let mut seen = vec![Seen::default(); pairs.len()];
        bench.grid.read(room, &stand, &edits, &pairs, &mut seen);
        all.extend(seen.iter().map(Expected::of));
    }
    all
}

/// What every suspicion leads one to expect at every probing within reach.
pub(super) struct Expectations {
    probings: Vec<Probed>,
    /// For each suspicion, in the order of the probings.
    each: Vec<Vec<Expected>>,
}

impl Expectations {
    pub(super) fn new(benches: &[Bench], standing: &[Standing], evidence: &Evidence) -> Self {
        let probings = within_reach(benches[0].ear.wired.circuit(), evidence, &benches[0]);
        let mut room = Room::default();
        let each =
            standing.iter().map(|it| expected(&benches[it.way], &it.edits, &probings, &mut room)).collect();
        Self { probings, each }
    }

    /// Suspicions, by their places, that no probing within reach tells from this one.
    pub(super) fn not_told_from(&self, place: usize) -> Vec<usize> {
        let alike = |other: &usize| {
            let pairs = self.each[place].iter().zip(&self.each[*other]);
            *other != place && !pairs.into_iter().any(|(one, two)| one.apart(two))
        };
        (0..self.each.len()).filter(alike).collect()
    }
}

/// The suspicions that lead, by their places, with their shares.
pub(super) fn leading(ranked: &[Suspicion]) -> Vec<(usize, f64)> {
    let share = |(place, it): (usize, &Suspicion)| (place, it.probability.value());
    let probable = ranked.iter().enumerate().map(share).filter(|(_, share)| *share >= LEAST_LEADER);
    probable.take(MOST_LEADERS).collect()
}

/// Looks by what they tell for their trouble.
pub(super) fn looks(
    benches: &[Bench],
    standing: &[Standing],
    expectations: &Expectations,
    leaders: &[(usize, f64)],
    evidence: &Evidence,
) -> Vec<NextLook> {
    if leaders.len() < 2 {
        return Vec::new();
    }
    let mut all = probings(&benches[0], expectations, leaders, evidence);
    all.extend(listening(benches, standing, leaders, evidence));
    all.retain(|it| it.tells.value() >= LEAST_BITS);
    let worth = all.into_iter().map(|it| Worth { tells: it.tells, minutes: it.minutes, what: it }).collect();
    let Ok(ranked) = rank(worth) else { return Vec::new() };
    let mut told: Vec<NextLook> = Vec::new();
    for it in ranked {
        let look = it.look.what;
        // Of looks that part the leaders in the same way, the first is enough.
        if !told.iter().any(|known| parts_alike(&known.shows, &look.shows)) {
            told.push(look);
        }
        if told.len() == MOST_NEXT {
            break;
        }
    }
    told
}

fn parts_alike(one: &[(usize, Shows)], other: &[(usize, Shows)]) -> bool {
    let same = |shows: &[(usize, Shows)], a: usize, b: usize| shows[a].1 == shows[b].1;
    let count = one.len().min(other.len());
    (0..count).all(|a| (0..a).all(|b| same(one, a, b) == same(other, a, b)))
}

/// Bits of a look whose outcome for each leader is this class.
fn bits(leaders: &[(usize, f64)], classes: &[usize], misleads: f64) -> Bits {
    let count = classes.iter().max().map_or(0, |most| most + 1);
    if count < 2 {
        return Bits(0.0);
    }
    let joint: Vec<Vec<f64>> = leaders
        .iter()
        .zip(classes)
        .map(|((_, share), class)| {
            let chance = |at| if at == *class { 1.0 - misleads } else { misleads / (count - 1) as f64 };
            (0..count).map(|at| share * chance(at)).collect()
        })
        .collect();
    information(&joint).unwrap_or(Bits(0.0))
}

fn probings(
    bench: &Bench,
    expectations: &Expectations,
    leaders: &[(usize, f64)],
    evidence: &Evidence,
) -> Vec<NextLook> {
    let places = bench.ear.places;
    let taken = |probed: &Probed| evidence.metered.iter().any(|it| it.probed == *probed);
    let mut all = Vec::new();
    for (at, probed) in expectations.probings.iter().enumerate().filter(|(_, probed)| !taken(probed)) {
        let expected: Vec<Expected> =
            leaders.iter().map(|(place, _)| expectations.each[*place][at]).collect();
        let classes = classes(&expected);
        let tells = bits(leaders, &classes, MISLEADS[0]);
        if tells.value() < LEAST_BITS {
            continue;
        }
        let at_plug = (probed.from, probed.to) == (places.tip, places.sleeve);
        // What falls into one class is shown alike, so that it is seen which leaders the look parts.
        let shows = leaders.iter().zip(&classes).map(|((place, _), class)| {
            let first = classes.iter().position(|other| other == class).unwrap_or(0);
            (*place, Shows::Meter(expected[first].reading()))
        });
        all.push(NextLook {
            look: Look::Meter(probed.clone()),
            shows: shows.collect(),
            tells,
            minutes: if at_plug { MINUTES[0] } else { MINUTES[1] },
        });
    }
    all
}

/// Numbers the expected readings so that those not told apart, along the scale, have one number.
fn classes(expected: &[Expected]) -> Vec<usize> {
    let key = |at: &usize| expected[*at].scaled.unwrap_or(f64::INFINITY);
    let mut order: Vec<usize> = (0..expected.len()).collect();
    order.sort_by(|a, b| key(a).total_cmp(&key(b)));
    let mut classes = vec![0; expected.len()];
    let mut class = 0;
    for pair in order.windows(2) {
        class += usize::from(expected[pair[1]].apart(&expected[pair[0]]));
        classes[pair[1]] = class;
    }
    classes
}

fn listening(
    benches: &[Bench],
    standing: &[Standing],
    leaders: &[(usize, f64)],
    evidence: &Evidence,
) -> Vec<NextLook> {
    let circuit = benches[0].ear.wired.circuit();
    let mut all = Vec::new();
    let settings: Vec<Setting> = Setting::every_position(circuit).take(MOST_SETTINGS).collect();
    let coils: Vec<usize> = circuit.coils().map(|(part, _)| part).collect();
    let mut sounds = vec![Vec::new(); settings.len()];
    let mut taps = vec![vec![Vec::new(); coils.len()]; settings.len()];
    let mut touches = [Vec::new(), Vec::new()];
    let touched = [Touched::Strings, Touched::Sleeve];
    for (place, _) in leaders {
        let it = &standing[*place];
        let ear = &benches[it.way].ear;
        let edits: Vec<&Edits> = it.edits.iter().collect();
        let Some(faulted) = ear.faulted(&edits) else { return all };
        for (at, setting) in settings.iter().enumerate() {
            let (sound, tapped) = ear.sounds(&faulted, setting);
            sounds[at].push((*place, Shows::Sound(sound)));
            for (coil, heard) in tapped.into_iter().enumerate() {
                taps[at][coil].push((*place, Shows::Tapped(heard)));
            }
        }
        let of = Hypothesis { faults: &it.faults, edits: &edits, faulted: &faulted };
        for (shows, touched) in touches.iter_mut().zip(touched) {
            shows.push((*place, Shows::Hum(ear.hum_on(touched, &of))));
        }
    }
    let mut add = |look, shows: Vec<(usize, Shows)>, misleads, minutes| {
        let first = |shows: &[(usize, Shows)], at: usize| {
            shows.iter().position(|(_, it)| *it == shows[at].1).unwrap_or(at)
        };
        let classes: Vec<usize> = numbered((0..shows.len()).map(|at| first(&shows, at)).collect());
        let tells = bits(leaders, &classes, misleads);
        all.push(NextLook { look, shows, tells, minutes });
    };
    for ((setting, sounds), taps) in settings.iter().zip(sounds).zip(taps) {
        add(Look::Listen { setting: setting.clone() }, sounds, MISLEADS[1], MINUTES[2]);
        for (coil, shows) in coils.iter().zip(taps) {
            let look = Look::Tap { coil: *coil, setting: setting.clone() };
            add(look, shows, MISLEADS[1], MINUTES[2]);
        }
    }
    if evidence.earth_proved {
        for (touched, shows) in touched.into_iter().zip(touches) {
            add(Look::Touch(touched), shows, MISLEADS[2], MINUTES[3]);
        }
    }
    all
}

/// The same numbers without gaps, from 0.
fn numbered(mut all: Vec<usize>) -> Vec<usize> {
    let mut known = all.clone();
    known.sort_unstable();
    known.dedup();
    for it in &mut all {
        *it = known.binary_search(it).unwrap_or(0);
    }
    all
}
