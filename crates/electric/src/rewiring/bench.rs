//! The bench of the search: a state is listened to at the jack, and what is heard is put in words.

use asfound_measure::{Hertz, Ohms};

use super::answer::Sound;
use super::wish::Place;
use crate::circuit::{Circuit, Sort, Terminal};
use crate::complex::Complex;
use crate::direct::{Reading, resistance};
use crate::explain::{
    CoilSigns, FAINT_BELOW, HUM_FREQUENCY, IN_PHASE_WITHIN, OUT_OF_PHASE_BEYOND, SILENCED_BY, SILENT_BELOW,
};
use crate::polarity::{Joined, Phase};
use crate::solve::{Output, Prepared};
use crate::state::{Changes, Load, OnTheWay, Setting, Wired};
use crate::taper::Taper;

/// States that are listened to: the first of all.
pub(super) const MOST_STATES: usize = 48;

/// Where treble is listened to, against [`LOW`].
pub(super) const TREBLE: Hertz = Hertz(3000.0);

/// Where the rest of the sound is listened to.
pub(super) const LOW: Hertz = Hertz(200.0);

/// A circuit whose joins are all known, with linear tapers, and where to listen.
pub(super) struct Bench<'c> {
    pub(super) circuit: &'c Circuit,
    pub(super) wired: Wired<'c>,
    pub(super) load: Load,
    /// Parts of the coils.
    pub(super) coils: Vec<usize>,
    pub(super) signs: &'c [Vec<CoilSigns>],
    pub(super) states: Vec<Setting>,
}

/// What is heard of one state at one frequency.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Heard {
    /// Coils heard, rising.
    pub(super) coils: Vec<usize>,
    pub(super) transfers: Vec<Complex>,
}

/// The same circuit with linear tapers, so that a knob is set by its share of the ohms.
pub(super) fn by_ohms(circuit: &Circuit) -> Circuit {
    let mut parts = circuit.parts().to_vec();
    for part in &mut parts {
        if let Sort::Pot(pot) = &mut part.sort {
            pot.taper = Taper::Linear;
        }
    }
    // A checked circuit changed so passes every check; the copy stands in for what cannot happen.
    Circuit::new(parts, circuit.joins().to_vec()).unwrap_or_else(|_| circuit.clone())
}

fn below(decibels: f64) -> f64 {
    libm::pow(10.0, decibels / 20.0)
}

impl<'c> Bench<'c> {
    /// `None` where a join is not known.
    pub(super) fn new(circuit: &'c Circuit, load: Load, signs: &'c [Vec<CoilSigns>]) -> Option<Self> {
        let mut bench = Self {
            circuit,
            wired: circuit.possibilities().next()?,
            load,
            coils: circuit.coils().map(|(part, _)| part).collect(),
            signs,
            states: Setting::every_position(circuit).take(MOST_STATES).collect(),
        };
        let none = Changes::default();
        let states = bench.states.clone();
        bench.states = states.into_iter().map(|state| bench.opened(state, &none)).collect();
        Some(bench)
    }

    /// The state with each knob at the end at which the most is heard, lug 3 where both are alike. Each is tried with the
    /// others half way, because another at its end may hide everything.
    pub(super) fn opened(&self, mut setting: Setting, changes: &Changes) -> Setting {
        let knobs = setting.wipers.len();
        setting.wipers.fill(0.5);
        let mut ends = vec![1.0; knobs];
        for (knob, end) in ends.iter_mut().enumerate() {
            let [low, high] = [0.0, 1.0].map(|wiper| {
                let mut turned = setting.clone();
                turned.wipers[knob] = wiper;
                self.loudness(&turned, changes)
            });
            if low.0 > high.0 || low.0 == high.0 && low.1 > 1.05 * high.1 {
                *end = 0.0;
            }
        }
        setting.wipers = ends;
        setting
    }

    /// How many coils are heard, and how loud low and high together.
    fn loudness(&self, setting: &Setting, changes: &Changes) -> (usize, f64) {
        let of = |frequency| {
            let heard = self.listen(setting, changes, frequency);
            (heard.coils.len(), heard.transfers.iter().map(|it| it.abs()).sum::<f64>())
        };
        let (low, high) = (of(LOW), of(TREBLE));
        (low.0, low.1 * high.1)
    }

    /// Listens; what cannot be solved is silence.
    pub(super) fn listen(&self, setting: &Setting, changes: &Changes, frequency: Hertz) -> Heard {
        let silence = || Heard { coils: Vec::new(), transfers: vec![Complex::ZERO; self.coils.len()] };
        let Ok(mut prepared) = Prepared::new(&self.wired, setting, self.load, changes) else {
            return silence();
        };
        if prepared.output() != Output::Live {
            return silence();
        }
        let Ok(response) = prepared.at(frequency) else { return silence() };
        let transfers = response.transfers.clone();
        let loudest = transfers.iter().map(|it| it.abs()).fold(0.0, f64::max);
        let least = below(SILENT_BELOW.0).max(loudest * below(FAINT_BELOW.0));
        let coils = (0..transfers.len()).filter(|&coil| transfers[coil].abs() >= least).collect();
        Heard { coils, transfers }
    }

    /// Listens where hum is told.
    pub(super) fn hear(&self, setting: &Setting, changes: &Changes) -> Heard {
        self.listen(setting, changes, HUM_FREQUENCY)
    }

    /// How the coils heard are joined, by opening and shorting each; `None` for fewer than two and for a mixture.
    pub(super) fn joined(&self, setting: &Setting, changes: &Changes, heard: &Heard) -> Option<Joined> {
        if heard.coils.len() < 2 {
            return None;
        }
        let silences = |coil: usize, shorted: bool| {
            let mut tried = changes.clone();
            let list = if shorted { &mut tried.shorted } else { &mut tried.opened };
            list.push(self.coils[coil]);
            let after = self.hear(setting, &tried);
            let gone = |&other: &usize| {
                let level = after.transfers[other].abs();
                level < below(SILENT_BELOW.0) || level <= heard.transfers[other].abs() * below(SILENCED_BY.0)
            };
            heard.coils.iter().filter(|&&other| other != coil).all(gone)
        };
        let all = |shorted: bool| heard.coils.iter().all(|&coil| silences(coil, shorted));
        match (all(false), all(true)) {
            (true, false) => Some(Joined::Series),
            (false, true) => Some(Joined::Parallel),
            _ => None,
        }
    }

    /// Whether the strings add in one way the signs may be: in where every pair does, out where some pair fights.
    pub(super) fn phase(&self, heard: &Heard, signs: &[CoilSigns]) -> Option<Phase> {
        let mut phase = (heard.coils.len() > 1).then_some(Phase::In);
        for (at, &a) in heard.coils.iter().enumerate() {
            for &b in &heard.coils[at + 1..] {
                let angle = (heard.transfers[a] * heard.transfers[b].conjugate()).angle().to_degrees().abs();
                let alike = signs[a].string_positive() == signs[b].string_positive();
                let angle = if alike { angle } else { 180.0 - angle };
                if angle > OUT_OF_PHASE_BEYOND.0 {
                    phase = Some(Phase::Out);
                } else if angle > IN_PHASE_WITHIN.0 && phase == Some(Phase::In) {
                    return None;
                }
            }
        }
        phase
    }

    /// The phase where it is the same in all ways the signs may be.
    pub(super) fn phase_in_all(&self, heard: &Heard) -> Option<Phase> {
        let first = self.phase(heard, self.signs.first()?)?;
        self.signs.iter().all(|signs| self.phase(heard, signs) == Some(first)).then_some(first)
    }

    /// What part of the hum is left between the coils heard, 0 to 1, in one way the signs may be.
    pub(super) fn hum_left(heard: &Heard, signs: &[CoilSigns]) -> f64 {
        let mut sum = Complex::ZERO;
        let mut sizes = 0.0;
        for &coil in &heard.coils {
            sum += heard.transfers[coil] * if signs[coil].clockwise { 1.0 } else { -1.0 };
            sizes += heard.transfers[coil].abs();
        }
        if sizes > 0.0 { sum.abs() / sizes } else { 1.0 }
    }

    /// The states in which a place is looked for.
    pub(super) fn settings(&self, place: Place) -> Vec<Setting> {
        let (switch, at) = match place {
            Place::Anywhere => return self.states.clone(),
            Place::At { switch, position } => (switch, position),
            Place::Between { switch, from } => (switch, from),
        };
        let here = self.states.iter().filter(|state| state.positions.get(switch) == Some(&at)).cloned();
        let Place::Between { .. } = place else { return here.collect() };
        let bridges = self.circuit.switches().nth(switch);
        if !bridges.is_some_and(|(_, plan)| plan.between().ways().contains(&true)) {
            return Vec::new();
        }
        let between = Some(OnTheWay { switch, both_touch: true });
        here.map(|state| Setting { on_the_way: between, ..state }).collect()
    }

    /// What a meter shows between two lugs; `None` is over range.
    pub(super) fn ohms(&self, setting: &Setting, a: Terminal, b: Terminal) -> Option<Ohms> {
        match resistance(&self.wired, setting, &Changes::default(), a, b).ok()?.reading {
            Reading::Ohms(ohms) => Some(ohms),
            Reading::Shorted => Some(Ohms(0.0)),
            Reading::Open => None,
        }
    }

    /// Tip and sleeve.
    pub(super) fn jack(&self) -> Option<(Terminal, Terminal)> {
        let part = self.circuit.jacks().next()?;
        Some((Terminal { part, lug: 0 }, Terminal { part, lug: 1 }))
    }

    /// Everything that is told of a state of the circuit as it is.
    pub(super) fn sound(&self, setting: &Setting) -> Sound {
        let none = Changes::default();
        let heard = self.hear(setting, &none);
        Sound {
            setting: setting.clone(),
            joined: self.joined(setting, &none, &heard),
            phase: self.phase_in_all(&heard),
            ohms: self.jack().and_then(|(tip, sleeve)| self.ohms(setting, tip, sleeve)),
            coils: heard.coils,
        }
    }
}
