//! Which behaviours are told in the same words.

use super::{Behaviour, Voice};
use crate::explain::agreed::Alike;
use asfound_measure::Hertz;

/// Frequencies alike within a twentieth: less than what a capacitor's tolerance leaves open.
fn near(a: Option<Hertz>, b: Option<Hertz>) -> bool {
    match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => (a.0 - b.0).abs() <= 0.05 * a.0.max(b.0),
        _ => false,
    }
}

fn voices(a: &Voice, b: &Voice) -> bool {
    a.what == b.what && a.parts == b.parts && near(a.at, b.at)
}

impl Alike for Behaviour {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Preset { voice: a }, Self::Preset { voice: b })
            | (Self::Fixed { voice: a }, Self::Fixed { voice: b }) => voices(a, b),
            (
                Self::Tone { knob: a, treble: a_treble, corner: a_corner },
                Self::Tone { knob: b, treble: b_treble, corner: b_corner },
            ) => a == b && a_treble == b_treble && near(*a_corner, *b_corner),
            _ => self == other,
        }
    }
}

impl Alike for Vec<Behaviour> {
    fn alike(&self, other: &Self) -> bool {
        self.len() == other.len() && self.iter().zip(other).all(|(a, b)| a.alike(b))
    }
}
