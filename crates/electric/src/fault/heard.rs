//! How probable it is to hear what was heard, under a fault.
//!
//! Words are soft: each is true with a probability that slides from one side of a threshold to the other, and any of
//! them is now and then said wrongly. The thresholds are common practice, no source.

use super::answer::Sounds;
use super::edits::{Edits, joins_of};
use super::evidence::{Heard, Touched};
use super::faulted::Faulted;
use super::kinds::Fault;
use super::levels::{Ear, Hand, Levels, NOTHING};
use crate::circuit::Terminal;
use crate::nets::Nets;
use crate::solve::Output;
use crate::state::Setting;
use crate::touch::OnTouch;

/// How often something heard is put down wrongly.
const MISHEARD: f64 = 0.015;

/// Below this, in decibels under what is usual, nothing is heard.
const SILENT: f64 = -30.0;

/// How much more one end of the sound must have lost than the other, in decibels, to be missed.
const TILT: f64 = 6.0;

/// How much quieter it must be, in decibels, to be called weak.
const WEAK: f64 = -5.0;

/// A hypothesis to listen to.
#[derive(Debug)]
pub(super) struct Hypothesis<'e> {
    pub(super) faults: &'e [Fault],
    pub(super) edits: &'e [&'e Edits],
    pub(super) faulted: &'e Faulted,
}

/// How true each word is of a sound.
#[derive(Debug, Clone, Copy)]
struct Words {
    silent: f64,
    thin: f64,
    dark: f64,
    weak: f64,
    normal: f64,
}

/// 0 far below nought, 1 far above, over some times `width`.
fn above(by: f64, width: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-by / width))
}

fn words(low: f64, high: f64) -> Words {
    let silent = above(SILENT - low.max(high), 2.0);
    let heard = 1.0 - silent;
    let (tilt, middle) = (high - low, 0.5 * (low + high));
    let plain = (1.0 - above(tilt.abs() - TILT, 1.0)) * (1.0 - above(WEAK - middle, 1.0));
    Words {
        silent,
        thin: heard * above(tilt - TILT, 1.0),
        dark: heard * above(-tilt - TILT, 1.0),
        weak: heard * above(WEAK - middle, 1.0),
        normal: heard * plain,
    }
}

/// The plain word for a sound, levels relative to what is usual.
fn word(low: f64, high: f64) -> Sounds {
    let words = words(low, high);
    match words {
        _ if words.silent > 0.5 => Sounds::Silent,
        _ if words.thin > 0.5 => Sounds::Thin,
        _ if words.dark > 0.5 => Sounds::Dark,
        _ if words.weak > 0.5 => Sounds::Weak,
        _ => Sounds::Normal,
    }
}

impl Ear<'_, '_> {
    fn relative(&self, levels: &Levels) -> (f64, f64) {
        (levels.low - self.usual.0, levels.high - self.usual.1)
    }

    /// How a setting sounds, and for each coil in order whether it is heard when it is tapped.
    pub(super) fn sounds(&self, faulted: &Faulted, setting: &Setting) -> (Sounds, Vec<bool>) {
        let levels = self.levels_of(faulted, setting, &Hand::default());
        let (low, high) = self.relative(&levels);
        let tapped = levels.coils.iter().map(|level| self.tap(*level) > 0.5).collect();
        (word(low, high), tapped)
    }

    /// How probable it is that a coil of this level is heard when it is tapped.
    fn tap(&self, level: f64) -> f64 {
        above(level - self.usual.0 + 22.0, 2.0)
    }

    fn coil_heard(&self, faulted: &Faulted, coil: usize, setting: &Setting) -> f64 {
        let number = self.wired.circuit().coils().position(|(part, _)| part == coil);
        let levels = self.levels_of(faulted, setting, &Hand::default());
        self.tap(number.and_then(|number| levels.coils.get(number)).copied().unwrap_or(NOTHING))
    }

    /// `ln p` of what was heard.
    pub(super) fn log_likelihood(&self, heard: &Heard, of: &Hypothesis) -> f64 {
        libm::log(self.probability(heard, of).clamp(MISHEARD, 1.0 - MISHEARD))
    }

    fn probability(&self, heard: &Heard, of: &Hypothesis) -> f64 {
        let words_of = |setting: &Setting, against: Option<&Setting>| {
            let levels = self.levels_of(of.faulted, setting, &Hand::default());
            match against {
                None => {
                    let (low, high) = self.relative(&levels);
                    words(low, high)
                }
                Some(other) => {
                    let other = self.levels_of(of.faulted, other, &Hand::default());
                    words(levels.low - other.low, levels.high - other.high)
                }
            }
        };
        match heard {
            Heard::Thin { setting, against } => words_of(setting, against.as_ref()).thin,
            Heard::Dark { setting, against } => words_of(setting, against.as_ref()).dark,
            Heard::Weak { setting, against } => words_of(setting, against.as_ref()).weak,
            Heard::Silent { setting } => words_of(setting, None).silent,
            Heard::Normal { setting } => words_of(setting, None).normal,
            Heard::HumsLoud => self.hums(of),
            Heard::HumOnTouch { touched, hum } => self.on_touch(*touched, *hum, of),
            Heard::KnobSilences { pot, turn, setting } => self.knob_silences(*pot, *turn, setting, of),
            Heard::KnobDoesNothing { pot, setting } => self.knob_does_nothing(*pot, setting, of),
            Heard::KnobScratches { pot } => scratches(*pot, of.faults),
            Heard::CutsOutOnCover { coil, setting } => self.cuts_out(*coil, setting, of),
            Heard::Intermittent { part } => self.comes_and_goes(*part, of.faults),
            Heard::CoilMissing { coil, setting } => 1.0 - self.coil_heard(of.faulted, *coil, setting),
            Heard::CoilHeard { coil, setting } => self.coil_heard(of.faulted, *coil, setting),
            Heard::LiftingRestoresTreble { terminal, setting } => self.lifting(*terminal, setting, of),
        }
    }

    fn turned(&self, pot: usize, turn: f64, setting: &Setting) -> Setting {
        let mut setting = setting.clone();
        if let Some(knob) = self.wired.circuit().pots().position(|(part, _)| part == pot) {
            setting.wipers[knob] = turn;
        }
        setting
    }

    fn knob_silences(&self, pot: usize, turn: f64, setting: &Setting, of: &Hypothesis) -> f64 {
        let silent = |turn| {
            let levels = self.levels_of(of.faulted, &self.turned(pot, turn, setting), &Hand::default());
            let (low, high) = self.relative(&levels);
            words(low, high).silent
        };
        silent(turn) * (1.0 - silent(if turn < 0.5 { 1.0 } else { 0.0 }))
    }

    fn knob_does_nothing(&self, pot: usize, setting: &Setting, of: &Hypothesis) -> f64 {
        let at: Vec<Levels> = [0.0, 0.5, 1.0]
            .iter()
            .map(|turn| self.levels_of(of.faulted, &self.turned(pot, *turn, setting), &Hand::default()))
            .collect();
        if at.iter().all(|levels| levels.low.max(levels.high) - self.usual.0 < SILENT) {
            return 0.5; // where nothing is heard, no knob does anything
        }
        let span = |level: fn(&Levels) -> f64| {
            let all = at.iter().map(level);
            all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
        };
        above(3.0 - span(|it| it.low).max(span(|it| it.high)), 0.7)
    }

    fn cuts_out(&self, coil: usize, setting: &Setting, of: &Hypothesis) -> f64 {
        let cover = Terminal { part: coil, lug: 2 };
        let strings = self.places.strings.unwrap_or(self.places.ground);
        let silent = |bridged| {
            let hand = Hand { bridged, ..Hand::default() };
            let (low, high) = self.relative(&self.levels_of(of.faulted, setting, &hand));
            words(low, high).silent
        };
        (1.0 - silent(None)) * silent(Some((cover, strings)))
    }

    fn lifting(&self, terminal: Terminal, setting: &Setting, of: &Hypothesis) -> f64 {
        let circuit = self.wired.circuit();
        let ends = |join: &usize| {
            let join = &circuit.joins()[*join];
            join.a == terminal || join.to == crate::JoinTo::One(terminal)
        };
        let parted = joins_of(circuit, terminal.part).into_iter().filter(ends).collect();
        let highs = |hand: &Hand| {
            let levels = self.levels_of(of.faulted, setting, hand);
            self.relative(&levels)
        };
        let (low, high) = highs(&Hand::default());
        let (low_after, high_after) = highs(&Hand { parted, bridged: None });
        let after = words(low_after, high_after);
        words(low, high).dark * (1.0 - after.dark) * (1.0 - after.silent)
    }

    fn comes_and_goes(&self, part: usize, faults: &[Fault]) -> f64 {
        let loose = |fault: &Fault| {
            fault.is_at(self.wired.circuit(), part)
                && matches!(
                    fault,
                    Fault::JoinOpen { .. }
                        | Fault::CoilOpen { .. }
                        | Fault::ContactDead { .. }
                        | Fault::WiperLifted { .. }
                        | Fault::TrackOpen { .. }
                        | Fault::StrayToGround { .. }
                        | Fault::LugTouchesCoating { .. }
                )
        };
        if faults.iter().any(loose) { 0.5 } else { 0.04 }
    }

    /// The nets with every switch first and every knob up, for what is on ground.
    fn grounds(&self, of: &Hypothesis) -> Option<(Nets, Output)> {
        self.nets(of.faulted, &Setting::first(self.wired.circuit()))
    }

    fn hums(&self, of: &Hypothesis) -> f64 {
        let Some((nets, output)) = self.grounds(of) else { return 0.5 };
        let strings = self.metal(self.places.strings, &nets, of);
        match (strings, output) {
            (Metal::Hot, _) => 0.9,
            (_, Output::Open) => 0.8,
            (Metal::Floating, _) => 0.75,
            (Metal::Ground, _) if of.faults.iter().any(|it| matches!(it, Fault::CoverOnHot { .. })) => 0.4,
            (Metal::Ground, _) => 0.12,
        }
    }

    /// What a piece of metal is on. Where the strings were not traced, the faults say it.
    fn metal(&self, lug: Option<Terminal>, nets: &Nets, of: &Hypothesis) -> Metal {
        match lug {
            None if of.edits.iter().any(|edits| edits.strings_off) => Metal::Floating,
            None if of.edits.iter().any(|edits| edits.exchanged.is_some()) => Metal::Hot,
            None => Metal::Ground,
            Some(lug) if nets.same(lug, self.places.sleeve) => Metal::Ground,
            Some(lug) if nets.same(lug, self.places.tip) => Metal::Hot,
            Some(_) => Metal::Floating,
        }
    }

    fn on_touch(&self, touched: Touched, hum: OnTouch, of: &Hypothesis) -> f64 {
        let Some((nets, _)) = self.grounds(of) else { return 1.0 / 3.0 };
        let strings = self.metal(self.places.strings, &nets, of);
        // Better, worse, no change.
        let [better, worse, same] = match (touched, strings) {
            (Touched::Strings, Metal::Ground) => [0.55, 0.05, 0.40],
            (Touched::Strings, Metal::Floating) => [0.05, 0.10, 0.85],
            (Touched::Strings, Metal::Hot) => [0.03, 0.92, 0.05],
            (Touched::Sleeve, Metal::Ground) => [0.45, 0.05, 0.50],
            (Touched::Sleeve, Metal::Floating) => [0.80, 0.05, 0.15],
            (Touched::Sleeve, Metal::Hot) => [0.40, 0.20, 0.40],
            (Touched::Cover(coil), _) => {
                let cover = Terminal { part: coil, lug: 2 };
                let on_hot = nets.same(cover, Terminal { part: coil, lug: 0 });
                match self.metal(Some(cover), &nets, of) {
                    _ if on_hot => [0.03, 0.90, 0.07],
                    Metal::Hot => [0.03, 0.90, 0.07],
                    Metal::Floating => [0.10, 0.45, 0.45],
                    Metal::Ground => [0.45, 0.05, 0.50],
                }
            }
        };
        match hum {
            OnTouch::Better => better,
            OnTouch::Worse => worse,
            OnTouch::NoChange => same,
        }
    }

    /// What a touch most probably does, where that is more than a guess.
    pub(super) fn hum_on(&self, touched: Touched, of: &Hypothesis) -> OnTouch {
        let all = [OnTouch::Better, OnTouch::Worse, OnTouch::NoChange];
        let chance = |hum: &OnTouch| self.on_touch(touched, *hum, of);
        all.into_iter().max_by(|a, b| chance(a).total_cmp(&chance(b))).unwrap_or(OnTouch::NoChange)
    }
}

/// What a piece of metal is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Metal {
    Ground,
    Hot,
    Floating,
}

fn scratches(pot: usize, faults: &[Fault]) -> f64 {
    let worn = |fault: &Fault| match fault {
        Fault::WiperLifted { part } | Fault::TrackOpen { part, .. } => *part == pot,
        _ => false,
    };
    if faults.iter().any(worn) { 0.6 } else { 0.12 }
}
