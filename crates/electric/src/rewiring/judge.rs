//! Whether a wiring meets the wishes: each wish is an experiment, and what misses says by how much.

use asfound_measure::Decibels;

use super::answer::Met;
use super::bench::{Bench, Heard, LOW, TREBLE};
use super::wish::{Place, Wish};
use crate::explain::{HUM_CANCELS_BELOW, KNOB_TILT, VOLUME_AT_MIDDLE};
use crate::plan::Between;
use crate::polarity::{Joined, Phase};
use crate::state::{Changes, Setting};

/// Treble is kept where a volume at a tenth of its ohms tilts the sound by no more than this, 3 kHz against 200 Hz. Our
/// convention: about the least difference that is heard as duller rather than softer.
pub const TREBLE_KEPT_WITHIN: Decibels = Decibels(3.0);

/// How far a wiring is from a wish.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Judged {
    /// 0 where it is met; our own measure, which only leads the search.
    pub(super) distance: f64,
    /// The share of the ways the signs may be in which it is met.
    pub(super) share: f64,
}

impl Judged {
    pub(super) const MET: Self = Self { distance: 0.0, share: 1.0 };

    const fn missed(distance: f64) -> Self {
        Self { distance, share: 0.0 }
    }

    pub(super) fn met(self) -> Met {
        match self.share {
            share if share >= 1.0 => Met::Yes,
            share if share > 0.0 => Met::Depends(share),
            _ => Met::No,
        }
    }
}

/// One wiring, with something changed or not, as it is judged.
pub(super) struct Judge<'a, 'c> {
    pub(super) bench: &'a Bench<'c>,
    pub(super) changes: &'a Changes,
    /// What is heard in each state of the bench.
    pub(super) heard: Vec<Heard>,
}

impl<'a, 'c> Judge<'a, 'c> {
    pub(super) fn new(bench: &'a Bench<'c>, changes: &'a Changes) -> Self {
        let heard = bench.states.iter().map(|state| bench.hear(state, changes)).collect();
        Self { bench, changes, heard }
    }

    pub(super) fn judge(&self, wish: &Wish) -> Judged {
        match wish {
            Wish::Heard { place, coils, joined, phase } => {
                self.best(*place, |setting, heard| self.heard_so(setting, heard, coils, *joined, *phase))
            }
            Wish::HumCancels { place, coils } => self.best(*place, |_, heard| self.hum(heard, coils)),
            Wish::TrebleKept { knob } => self.treble_kept(*knob),
            Wish::ToneOnly { coil } => self.tone_only(*coil),
            Wish::VolumesIndependent => self.independent(),
            Wish::MasterVolume => self.master(),
            // No wiring of the kept selector moves it or drills anything.
            Wish::KeepSelector | Wish::NothingDrilled => Judged::MET,
        }
    }

    /// The nearest over the states of a place.
    fn best(&self, place: Place, of: impl Fn(&Setting, &Heard) -> Judged) -> Judged {
        let settings = self.bench.settings(place);
        let all = settings.iter().map(|setting| {
            let known = self.bench.states.iter().position(|state| state == setting);
            match known {
                Some(at) => of(setting, &self.heard[at]),
                None => of(setting, &self.bench.hear(setting, self.changes)),
            }
        });
        let nearest = all.min_by(|a, b| a.distance.total_cmp(&b.distance)).unwrap_or(Judged::missed(9.0));
        match place {
            // Whether the contacts bridge was not tried: it may be so or not.
            Place::Between { switch, .. } if !self.bridges(switch) => {
                Judged { distance: nearest.distance + 0.1, share: 0.5 * nearest.share }
            }
            _ => nearest,
        }
    }

    /// Whether the contacts of a switch are known to touch both neighbours between stops.
    fn bridges(&self, switch: usize) -> bool {
        let plan = self.bench.circuit.switches().nth(switch);
        plan.is_some_and(|(_, plan)| plan.between() == Between::Neighbours)
    }

    fn heard_so(
        &self,
        setting: &Setting,
        heard: &Heard,
        coils: &[usize],
        joined: Option<Joined>,
        phase: Option<Phase>,
    ) -> Judged {
        let missing = coils.iter().filter(|coil| !heard.coils.contains(coil)).count();
        let extra = heard.coils.iter().filter(|coil| !coils.contains(coil)).count();
        if missing + extra > 0 {
            return Judged::missed(1.5 + (missing + extra) as f64);
        }
        let mut distance = 0.0;
        if joined.is_some() && self.bench.joined(setting, self.changes, heard) != joined {
            distance += 1.0;
        }
        let share =
            phase.map_or(1.0, |wanted| self.share(|signs| self.bench.phase(heard, signs) == Some(wanted)));
        distance += 0.5 * (1.0 - share);
        Judged { distance, share: if distance >= 1.0 { 0.0 } else { share } }
    }

    /// The share of the ways the signs may be in which something holds.
    fn share(&self, holds: impl Fn(&[crate::explain::CoilSigns]) -> bool) -> f64 {
        let signs = self.bench.signs;
        signs.iter().filter(|signs| holds(signs)).count() as f64 / signs.len().max(1) as f64
    }

    fn hum(&self, heard: &Heard, coils: &[usize]) -> Judged {
        if heard.coils.len() < 2 || !coils.is_empty() && heard.coils != coils {
            return Judged::missed(2.0);
        }
        let share = self.share(|signs| Bench::hum_left(heard, signs) <= HUM_CANCELS_BELOW);
        Judged { distance: 1.0 - share, share }
    }

    /// What is heard with one knob at a share of its ohms.
    fn with_knob(&self, setting: &Setting, knob: usize, wiper: f64) -> Heard {
        let mut turned = setting.clone();
        turned.wipers[knob] = wiper;
        self.bench.hear(&turned, self.changes)
    }

    /// States with at least so many coils heard, each with what is heard.
    fn states_with(&self, least: usize) -> impl Iterator<Item = (&Setting, &Heard)> {
        self.bench.states.iter().zip(&self.heard).filter(move |(_, heard)| heard.coils.len() >= least)
    }

    fn knobs(&self) -> usize {
        self.bench.states.first().map_or(0, |state| state.wipers.len())
    }

    fn independent(&self) -> Judged {
        let mut worst: f64 = 0.0;
        let mut states = 0;
        for (setting, heard) in self.states_with(2).take(4) {
            states += 1;
            let (mut kill, mut part) = (0.0, 0.0);
            for knob in 0..self.knobs() {
                for wiper in [0.0, 1.0] {
                    let after = self.with_knob(setting, knob, wiper);
                    let left = heard.coils.iter().filter(|coil| after.coils.contains(coil)).count();
                    kill += f64::from(u8::from(left == 0));
                    part += f64::from(u8::from(left > 0 && left < heard.coils.len()));
                }
            }
            worst = worst.max(kill + (2.0 - part).max(0.0));
        }
        match (states, worst) {
            (0, _) => Judged::missed(4.0),
            (_, worst) if worst > 0.0 => Judged::missed(worst),
            _ => Judged::MET,
        }
    }

    fn master(&self) -> Judged {
        let live: Vec<(&Setting, &Heard)> = self.states_with(1).collect();
        let falls = |knob: usize, (setting, heard): &(&Setting, &Heard)| {
            let silent = [0.0, 1.0].iter().any(|&end| self.with_knob(setting, knob, end).coils.is_empty());
            let middle = self.with_knob(setting, knob, 0.5);
            let least = libm::pow(10.0, VOLUME_AT_MIDDLE.0 / 20.0);
            let softer = |&coil: &usize| middle.transfers[coil].abs() <= least * heard.transfers[coil].abs();
            silent && heard.coils.iter().all(softer)
        };
        let missed = (0..self.knobs()).map(|knob| live.iter().filter(|state| !falls(knob, state)).count());
        match missed.min() {
            Some(0) if !live.is_empty() => Judged::MET,
            Some(missed) => Judged::missed(1.0 + missed as f64 / live.len().max(1) as f64),
            None => Judged::missed(4.0),
        }
    }

    /// Treble against low of the coils named, in dB.
    fn tilt(&self, setting: &Setting, coils: &[usize]) -> f64 {
        let level = |frequency| {
            let heard = self.bench.listen(setting, self.changes, frequency);
            coils.iter().map(|&coil| heard.transfers[coil].abs()).sum::<f64>()
        };
        20.0 * libm::log10((level(TREBLE) / level(LOW)).max(1e-9))
    }

    /// Whether some knob darkens a state without silencing it.
    fn has_tone(&self, setting: &Setting, heard: &Heard) -> bool {
        let open = self.tilt(setting, &heard.coils);
        (0..self.knobs()).any(|knob| {
            let mut turned = setting.clone();
            turned.wipers[knob] = 1.0 - turned.wipers[knob];
            let after = self.bench.hear(&turned, self.changes);
            after.coils == heard.coils && self.tilt(&turned, &heard.coils) - open <= -KNOB_TILT.0
        })
    }

    fn tone_only(&self, coil: usize) -> Judged {
        let alone: Vec<(&Setting, &Heard)> =
            self.states_with(1).filter(|(_, heard)| heard.coils.len() == 1).take(8).collect();
        if !alone.iter().any(|(_, heard)| heard.coils == [coil]) {
            return Judged::missed(3.0);
        }
        let wrong =
            |(setting, heard): &&(&Setting, &Heard)| self.has_tone(setting, heard) != (heard.coils == [coil]);
        match alone.iter().filter(wrong).count() {
            0 => Judged::MET,
            wrong => Judged::missed(0.5 + wrong as f64),
        }
    }

    /// A state in which a knob is a volume: the state, the closed end, and the coils it takes down.
    pub(super) fn as_volume(&self, knob: usize) -> Option<(&Setting, f64, Vec<usize>)> {
        self.states_with(1).find_map(|(setting, heard)| {
            [0.0, 1.0].into_iter().find_map(|end| {
                let after = self.with_knob(setting, knob, end);
                let down: Vec<usize> =
                    heard.coils.iter().copied().filter(|coil| !after.coils.contains(coil)).collect();
                (!down.is_empty()).then_some((setting, end, down))
            })
        })
    }

    /// By how much a volume at a tenth of its ohms tilts the sound; `None` where the knob is no volume.
    pub(super) fn treble_tilt(&self, knob: usize) -> Option<Decibels> {
        let (setting, end, coils) = self.as_volume(knob)?;
        let mut low = setting.clone();
        low.wipers[knob] = if end < 0.5 { 0.1 } else { 0.9 };
        Some(Decibels(self.tilt(&low, &coils) - self.tilt(setting, &coils)))
    }

    fn treble_kept(&self, knob: usize) -> Judged {
        match self.treble_tilt(knob) {
            Some(tilt) if tilt.0.abs() <= TREBLE_KEPT_WITHIN.0 => Judged::MET,
            Some(tilt) => Judged::missed((tilt.0.abs() / 10.0).clamp(0.1, 1.5)),
            None => Judged::missed(2.0),
        }
    }
}
