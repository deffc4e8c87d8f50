//! What a state was for: its behaviour in the trade's words, with its corner or notch, and the arrangement as a whole.
//!
//! It answers: is this position a preset, a notch, a blend, a series drive, a half-tone or a kill? From where are highs or
//! lows missing, and by which part? And is the set of positions one that is known from a time?
//!
//! **The one decision: behaviour is recognised, not a picture.** As in [`crate::explain`], a word is what an experiment on
//! the solved network shows, so an arrangement is found in whatever way somebody soldered it; and a name for the whole is
//! given only where every position behaves as it would.
//!
//! | word | experiment |
//! | --- | --- |
//! | acts | a part acts in a state if taking it out changes a band by [`KNOB_NOTHING_BELOW`], and bridging it does too: of a tone capacitor behind a whole track only the first is so |
//! | treble cut | with the part out, the highs rise by [`KNOB_TILT`] more than the lows; the corner is where 3 dB are missing |
//! | bass cut | with the part bridged, the lows rise by [`KNOB_TILT`] more than the highs |
//! | notch | a dip of [`NOTCH_DEPTH`] against both sides, which the part's going lifts by as much |
//! | preset | a part cuts treble or bass or makes a notch, and no knob for tone works |
//! | series drive, half-tone | the coils heard are in series; their strings are out of phase |
//! | kill | no coil is heard |
//!
//! Levels are sums of the coils' powers, so that no winding's direction moves them.
//!
//! ```
//! use asfound_electric::explain::{Conditions, explain};
//! use asfound_electric::purpose::{Behaviour, purposes};
//! use asfound_electric::trace::Trace;
//!
//! let trace = Trace::read(
//!     "coil neck 6k4\ncapacitor dark 100n\njack jack\n\
//!      join neck.hot jack.tip metered\njoin neck.ground jack.sleeve metered\n\
//!      join dark.a jack.tip metered\njoin dark.b jack.sleeve metered\n",
//! ).expect("a trace that can be read");
//! let circuit = trace.circuit().expect("a circuit");
//! let conditions = Conditions::of_trace(&trace);
//! let explanation = explain(&circuit, &conditions).expect("an explanation");
//! let found = purposes(&circuit, &conditions, &explanation).expect("purposes");
//! let only = found.groups[0].certain().expect("nothing is unknown");
//! assert!(matches!(&only[0], Behaviour::Preset { .. }));
//! ```

mod alike;
mod arrangement;
mod curve;
mod experiment;

use asfound_measure::{Decibels, Hertz};

use crate::circuit::Circuit;
use crate::explain::agreed::gather;
use crate::explain::listen::Bench;
use crate::explain::possibilities::possible;
use crate::explain::{Agreed, Conditions, Explanation, as_explained, half_way};
use crate::network::Unsolvable;
use crate::state::Setting;

pub use arrangement::{Arrangement, NO_SOURCE, Window};

pub use crate::explain::{KNOB_NOTHING_BELOW, KNOB_TILT};

/// A dip is a notch where it is this much under both sides. Our convention: less is heard as colour.
pub const NOTCH_DEPTH: Decibels = Decibels(6.0);

/// Wirings of what is unknown that are gone through: the likeliest first.
pub const MOST_WIRINGS: usize = 8;

/// What a state does that a coil behind its volume alone would not.
#[derive(Debug, Clone, PartialEq)]
pub enum Behaviour {
    /// No coil is heard.
    Kill,
    /// These coils drive the jack one after the other.
    SeriesDrive {
        /// The coils.
        coils: Vec<usize>,
    },
    /// Of these coils two are out of phase.
    HalfTone {
        /// The coils.
        coils: Vec<usize>,
    },
    /// A voice fixed by parts, and no knob for tone works on it.
    Preset {
        /// What the parts do.
        voice: Voice,
    },
    /// Parts that colour the state wherever the knobs stand, knobs for tone beside them.
    Fixed {
        /// What the parts do.
        voice: Voice,
    },
    /// A knob brings coils in.
    Blend {
        /// The pot, among the pots.
        knob: usize,
        /// The coils it brings in.
        brings_in: Vec<usize>,
    },
    /// A knob takes highs or lows down; the figure is for its far end.
    Tone {
        /// The pot, among the pots.
        knob: usize,
        /// Whether it is the highs that go.
        treble: bool,
        /// Where 3 dB are missing at the far end, if that lies inside the frequencies.
        corner: Option<Hertz>,
    },
    /// No knob does anything: the coils go straight to the jack.
    Straight,
}

/// What parts make of the sound.
#[derive(Debug, Clone, PartialEq)]
pub struct Voice {
    /// What they do.
    pub what: VoiceWord,
    /// The parts, by name.
    pub parts: Vec<String>,
    /// The corner, or the bottom of the notch, where it lies inside the frequencies.
    pub at: Option<Hertz>,
    /// For a notch how deep; for a cut how much of the band is missing.
    pub depth: Decibels,
}

/// What parts do to the sound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum VoiceWord {
    /// The highs are cut.
    TrebleCut,
    /// The lows are cut.
    BassCut,
    /// A range in between is taken out.
    Notch,
}

/// What every state was for.
#[derive(Debug, Clone, PartialEq)]
pub struct Purposes {
    /// For each group of [`Explanation::groups`] its behaviours, in the order of the variants of [`Behaviour`]. None for a
    /// plain state.
    pub groups: Vec<Agreed<Vec<Behaviour>>>,
    /// The arrangement as a whole, where it is a known one.
    pub arrangement: Option<Arrangement>,
}

/// Finds what every state was for. `explanation` is of the same circuit under the same conditions.
///
/// # Errors
/// As [`crate::explain::explain`].
pub fn purposes(
    circuit: &Circuit,
    conditions: &Conditions,
    explanation: &Explanation,
) -> Result<Purposes, Unsolvable> {
    let circuit = &as_explained(circuit);
    let possible = possible(circuit, conditions);
    let bench = Bench::new(circuit, conditions.load);
    let settings: Vec<Setting> = Setting::every_position(circuit).take(possible.states).collect();
    let mut groups = Vec::with_capacity(explanation.groups.len());
    for group in &explanation.groups {
        let first = group.states[0];
        let mut given = Vec::new();
        for (wiring, wired) in possible.wirings.iter().enumerate().take(MOST_WIRINGS) {
            let half = half_way(&settings[first]);
            let mut found = experiment::behaviours(&bench, wired, &half, &conditions.frequencies)?;
            let at = possible.of_wiring(wiring, |_| true);
            experiment::add_pairs(&mut found, &explanation.states[first], &at);
            given.push((found, at));
        }
        groups.push(gather(given, &possible.weights));
    }
    let arrangement = arrangement::known(explanation, &groups);
    Ok(Purposes { groups, arrangement })
}
