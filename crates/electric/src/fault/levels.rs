//! How loud the lows and the highs of a setting are, with a fault.

use asfound_measure::Hertz;

use super::edits::{Edits, Places};
use super::faulted::{Faulted, GAP};
use crate::circuit::Terminal;
use crate::complex::Complex;
use crate::nets::Nets;
use crate::solve::{Output, Prepared};
use crate::state::{Load, Setting, Wired};

/// Where the lows are judged: the fundamentals.
pub(super) const LOW: Hertz = Hertz(250.0);

/// Where the highs are judged: below the resonance of most coils with a cable.
pub(super) const HIGH: Hertz = Hertz(3000.0);

/// What is left, as a power, of the lows of two coils against each other, because they sit at different places under
/// the string (common practice, no source).
const LEFT_OVER: f64 = 0.05;

/// So low that nobody hears it, in decibels.
pub(super) const NOTHING: f64 = -200.0;

/// Positions gone through to learn what is usual in a circuit.
const MOST_POSITIONS: usize = 64;

/// Levels of a setting in decibels; what each coil gives for one volt of its own is 0.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Levels {
    pub(super) low: f64,
    pub(super) high: f64,
    /// The lows of each coil by itself, in order.
    pub(super) coils: Vec<f64>,
}

/// What is done to the circuit beside its faults.
#[derive(Debug, Clone, Default)]
pub(super) struct Hand {
    pub(super) parted: Vec<usize>,
    pub(super) bridged: Option<(Terminal, Terminal)>,
}

/// A circuit to listen to.
#[derive(Debug)]
pub(super) struct Ear<'w, 'c> {
    pub(super) wired: &'w Wired<'c>,
    pub(super) places: Places,
    load: Load,
    /// Sign of each coil's sound, so that coils work together in the sound circuit where that is not known.
    signs: Vec<f64>,
    /// What a player expects: the usual lows and highs.
    pub(super) usual: (f64, f64),
}

fn decibels(power: f64) -> f64 {
    if power > 1e-20 { 10.0 * libm::log10(power) } else { NOTHING }
}

/// Coils whose sign is known by winding and magnet.
pub(super) fn sign_known(wired: &Wired) -> Vec<Option<f64>> {
    let sign = |coil: &crate::Coil| Some(coil.winding?.factor() * coil.magnet?.factor());
    wired.circuit().coils().map(|(_, coil)| sign(coil)).collect()
}

impl<'w, 'c> Ear<'w, 'c> {
    pub(super) fn new(wired: &'w Wired<'c>, places: Places, load: Load) -> Self {
        let circuit = wired.circuit();
        let known = sign_known(wired);
        let mut ear = Self { wired, places, load, signs: vec![1.0; known.len()], usual: (0.0, 0.0) };
        let Some(sound) = Faulted::new(wired, &[], GAP) else { return ear };
        let settings: Vec<Setting> = Setting::every_position(circuit).take(MOST_POSITIONS).collect();
        let mut found: Vec<Option<f64>> = vec![None; known.len()];
        for setting in &settings {
            for (coil, lows) in ear.transfers(&sound, setting, &Hand::default(), LOW).iter().enumerate() {
                if found[coil].is_none() && lows.size() > 1e-4 {
                    found[coil] = Some(if lows.re < 0.0 { -1.0 } else { 1.0 });
                }
            }
        }
        let all_known = known.iter().all(Option::is_some);
        ear.signs = known
            .iter()
            .zip(&found)
            .map(|(known, found)| if all_known { known.unwrap_or(1.0) } else { found.unwrap_or(1.0) })
            .collect();
        let heard: Vec<Levels> = settings.iter().map(|setting| ear.clearest(&sound, setting)).collect();
        let middle = |mut all: Vec<f64>| {
            all.retain(|level| *level > NOTHING);
            all.sort_by(f64::total_cmp);
            all.get(all.len() / 2).copied().unwrap_or(0.0)
        };
        ear.usual = (
            middle(heard.iter().map(|levels| levels.low).collect()),
            middle(heard.iter().map(|levels| levels.high).collect()),
        );
        ear
    }

    /// The levels of a position with every knob where it takes least away. Which end that is hangs on the wiring: a tone
    /// control may be wired to either end of its track.
    fn clearest(&self, sound: &Faulted, setting: &Setting) -> Levels {
        let mut setting = setting.clone();
        let mut best = self.levels_of(sound, &setting, &Hand::default());
        for knob in 0..setting.wipers.len() {
            setting.wipers[knob] = 0.0;
            let down = self.levels_of(sound, &setting, &Hand::default());
            if down.low + down.high > best.low + best.high {
                best = down;
            } else {
                setting.wipers[knob] = 1.0;
            }
        }
        best
    }

    /// The circuit with these faults.
    pub(super) fn faulted(&self, edits: &[&Edits]) -> Option<Faulted> {
        Faulted::new(self.wired, edits, GAP)
    }

    fn prepared(&self, faulted: &Faulted, setting: &Setting, hand: &Hand) -> Option<Prepared> {
        let mut changes = faulted.changes.clone();
        if let Some(bridge) = hand.bridged {
            changes.bridged.push(bridge);
        }
        let lifted = faulted.kept.iter().enumerate().filter(|(_, join)| hand.parted.contains(join));
        changes.parted.extend(lifted.map(|(index, _)| index));
        let wired = faulted.circuit.possibilities().next()?;
        Prepared::new(&wired, &faulted.setting(setting), self.load, &changes).ok()
    }

    /// The nets of a setting.
    pub(super) fn nets(&self, faulted: &Faulted, setting: &Setting) -> Option<(Nets, Output)> {
        let prepared = self.prepared(faulted, setting, &Hand::default())?;
        Some((prepared.nets().clone(), prepared.output()))
    }

    /// What each coil gives, coils that stand for another added to it.
    fn transfers(&self, faulted: &Faulted, setting: &Setting, hand: &Hand, frequency: Hertz) -> Vec<Complex> {
        let mut sum = vec![Complex::ZERO; self.signs.len()];
        if let Some(mut prepared) = self.prepared(faulted, setting, hand) {
            add_transfers(&mut prepared, faulted, frequency, &mut sum);
        }
        sum
    }

    /// Lows and highs of a setting.
    pub(super) fn levels_of(&self, faulted: &Faulted, setting: &Setting, hand: &Hand) -> Levels {
        let mut low = vec![Complex::ZERO; self.signs.len()];
        let mut high = low.clone();
        if let Some(mut prepared) = self.prepared(faulted, setting, hand) {
            add_transfers(&mut prepared, faulted, LOW, &mut low);
            add_transfers(&mut prepared, faulted, HIGH, &mut high);
        }
        let power = |it: &Complex| it.re * it.re + it.im * it.im;
        let apart = |all: &[Complex]| all.iter().map(power).sum::<f64>();
        let together = low.iter().zip(&self.signs).fold(Complex::ZERO, |sum, (it, sign)| sum + *it * *sign);
        Levels {
            low: decibels(power(&together) + LEFT_OVER * apart(&low)),
            high: decibels(apart(&high)),
            coils: low.iter().map(|it| decibels(power(it))).collect(),
        }
    }
}

fn add_transfers(prepared: &mut Prepared, faulted: &Faulted, frequency: Hertz, sum: &mut [Complex]) {
    if let Ok(response) = prepared.at(frequency) {
        for (transfer, (coil, sign)) in response.transfers.iter().zip(&faulted.coils) {
            sum[*coil] += *transfer * *sign;
        }
    }
}
