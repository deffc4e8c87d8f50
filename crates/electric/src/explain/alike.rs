//! Which facts are told in the same words although their figures differ a little.

use asfound_measure::Decibels;

use super::agreed::Alike;
use super::facts::{
    CoilFact, Curve, Hum, JackOhms, JackOutput, KnobFact, MetalFact, PairPhase, PerBand, Relation, Resonance,
};
use super::told::BetweenFact;
use super::{KNOB_NOTHING_BELOW, SILENCED_BY, SILENT_BELOW};

/// Levels alike within what counts as nothing; below silence all levels are alike.
fn levels_alike(a: &PerBand<Decibels>, b: &PerBand<Decibels>) -> bool {
    let near = |a: Decibels, b: Decibels| {
        (floor(a, SILENT_BELOW) - floor(b, SILENT_BELOW)).abs() < KNOB_NOTHING_BELOW.0
    };
    near(a.low, b.low) && near(a.middle, b.middle) && near(a.high, b.high)
}

/// Changes alike within twice what counts as nothing; beyond silencing all changes are alike.
fn changes_alike(a: &PerBand<Decibels>, b: &PerBand<Decibels>) -> bool {
    let near = |a: Decibels, b: Decibels| {
        (floor(a, SILENCED_BY) - floor(b, SILENCED_BY)).abs() < 2.0 * KNOB_NOTHING_BELOW.0
    };
    near(a.low, b.low) && near(a.middle, b.middle) && near(a.high, b.high)
}

fn floor(level: Decibels, floor: Decibels) -> f64 {
    level.0.max(floor.0)
}

fn within(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs())
}

impl Alike for JackOutput {
    fn alike(&self, other: &Self) -> bool {
        self == other
    }
}

impl Alike for Vec<String> {
    fn alike(&self, other: &Self) -> bool {
        self == other
    }
}

impl Alike for BetweenFact {
    fn alike(&self, other: &Self) -> bool {
        self == other
    }
}

impl Alike for CoilFact {
    fn alike(&self, other: &Self) -> bool {
        self.word == other.word && levels_alike(&self.level, &other.level)
    }
}

impl Alike for Option<Relation> {
    fn alike(&self, other: &Self) -> bool {
        self.as_ref().map(|it| it.word) == other.as_ref().map(|it| it.word)
    }
}

impl Alike for Option<PairPhase> {
    fn alike(&self, other: &Self) -> bool {
        self.map(|it| it.word) == other.map(|it| it.word)
    }
}

impl Alike for Hum {
    fn alike(&self, other: &Self) -> bool {
        self.word == other.word && (self.ratio - other.ratio).abs() < 0.02
    }
}

impl Alike for KnobFact {
    fn alike(&self, other: &Self) -> bool {
        self.word == other.word
            && self.open_end == other.open_end
            && changes_alike(&self.at_middle, &other.at_middle)
            && changes_alike(&self.at_other_end, &other.at_other_end)
    }
}

impl Alike for Option<PerBand<Decibels>> {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (None, None) => true,
            (Some(a), Some(b)) => changes_alike(a, b),
            _ => false,
        }
    }
}

impl Alike for MetalFact {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Live { when_touched: a, .. }, Self::Live { when_touched: b, .. }) => changes_alike(a, b),
            _ => self == other,
        }
    }
}

impl Alike for Option<Resonance> {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (None, None) => true,
            (Some(a), Some(b)) => within(a.at.0, b.at.0, 0.02) && (a.height.0 - b.height.0).abs() < 0.5,
            _ => false,
        }
    }
}

impl Alike for JackOhms {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Open, Self::Open) => true,
            // A handheld meter and the temperature of copper leave about this much (2 % for 5 K).
            (Self::Reads(a), Self::Reads(b)) => within(a.0, b.0, 0.02),
            _ => false,
        }
    }
}

impl Alike for Curve {
    fn alike(&self, other: &Self) -> bool {
        self.levels.len() == other.levels.len()
            && self.levels.iter().zip(&other.levels).all(|(&a, &b)| {
                (floor(a, SILENT_BELOW) - floor(b, SILENT_BELOW)).abs() < KNOB_NOTHING_BELOW.0
            })
    }
}
