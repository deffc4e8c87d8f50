//! How a state sounds when every part is only as good as its tolerance.
//!
//! It answers: between which levels does the response lie at each frequency, where may the peak stand, how high, and how
//! fast does the treble fall beyond it? And what does a knob do to these figures on its way ([`travel`])?
//!
//! **The one decision: a state is contracted once, and a draw is only numbers.** Nets, islands and paths do not depend on
//! values, so they are found once; the order in which the unknown voltages are eliminated, with the few cells that are
//! not empty, is fixed beforehand too (see `contracted`). A draw then fills in values and eliminates, several
//! frequencies side by side. The output is eliminated last, so that its voltage is there without going back.
//!
//! Two ways to judge, and every [`Band`] says which it is:
//! - [`drawn`]: by Monte Carlo (JCGM 101:2008, clauses 5 to 7). Each draw is one instrument, with every value drawn within
//!   its [`Tolerance`]; a band or interval is probabilistically symmetric and covers [`COVERAGE`] (JCGM 101, 7.7).
//!   The generator is `ChaCha12` from a stated seed, so the same question has the same answer everywhere, and states of one
//!   circuit asked with the same tolerances are the same instruments.
//! - [`worst`]: the least and the greatest that any values within their limits reach. Ends of the ranges alone would not
//!   do: while a capacitance runs through its range the peak may pass a frequency, and the level there is greatest
//!   inside the range. So each value in turn goes to where it does most, ends and inside, until none moves.
//!
//! Equations: nodal equations and coil as in the crate's page, `Y v = i`, one right side with the Norton source `y e` of
//! every coil. `Y + Yᴴ` has no negative eigenvalue because no part gives power, so that elimination without exchanging
//! rows does not let the figures grow (A. George, K. Ikramov and A. Kucherov, SIAM Journal on Matrix Analysis 24, 485,
//! 2002). The peak is the vertex of the parabola in decibels over the logarithm of frequency through the three highest
//! neighbours; the slope is the level from one to two octaves above the peak, solved there exactly.
//!
//! ```
//! use asfound_electric::band::{self, State, Tolerance};
//! use asfound_electric::explain::Conditions;
//! use asfound_electric::trace::Trace;
//! use asfound_electric::Setting;
//!
//! let trace = Trace::read(
//!     "coil bridge 6k\npot volume 250k\njack jack\n\
//!      join bridge.hot volume.3 metered\njoin bridge.ground volume.1 metered\n\
//!      join volume.2 jack.tip metered\njoin volume.1 jack.sleeve metered\n",
//! ).expect("a trace that can be read");
//! let circuit = trace.circuit().expect("a circuit");
//! let usual = Conditions::default();
//! let wired = circuit.possibilities().next().expect("all is known");
//! let setting = Setting::first(&circuit);
//! let state = State { wired: &wired, setting: &setting, load: usual.load, strings: &[1.0] };
//!
//! let pots = Tolerance::usual(&circuit, &[]);
//! let band = band::drawn(&state, &pots, &usual.frequencies, 1000, 1).expect("it can be solved");
//! let peak = band.peak.expect("one coil behind a cable peaks");
//! assert!(peak.at.low < band.nominal.peak.unwrap().at && band.nominal.peak.unwrap().at < peak.at.high);
//! ```

mod contracted;
mod drawn;
mod figures;
mod lanes;
mod tolerance;
mod travel;
mod worst;

use asfound_measure::{Decibels, Hertz};

use crate::network::Unsolvable;
use crate::state::{Load, Setting, Wired};

pub use drawn::drawn;
pub use figures::{Figures, Peak, PerOctave, figures, levels};
pub use tolerance::{Shape, Tolerance};
pub use travel::{TRAVEL_AT, Turned, travel};
pub use worst::worst;

/// Share of the draws that a band or an interval holds.
pub const COVERAGE: f64 = 0.95;

/// Draws that are enough for two figures of an interval's ends: at 10 000 the share below an end is sure to a sixth of a
/// hundredth (binomial, 0.025).
pub const DRAWS: usize = 10_000;

/// A state whose sound is asked for.
#[derive(Debug, Clone, Copy)]
pub struct State<'a> {
    /// The circuit with every join decided.
    pub wired: &'a Wired<'a>,
    /// How switches and knobs stand.
    pub setting: &'a Setting,
    /// Cable and input at the jack.
    pub load: Load,
    /// What the string gives in each coil, in part order, in volts toward its hot lead: +1 and -1 for coils in and out of
    /// phase, 0 for one that does not feel the string.
    pub strings: &'a [f64],
}

/// Low end, middle and high end of something that is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval<T> {
    /// The low end.
    pub low: T,
    /// The median of the draws; in the worst case the value with every part as named.
    pub middle: T,
    /// The high end.
    pub high: T,
}

/// The peak of a response, with what the tolerances make of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PeakBand {
    /// Where it stands.
    pub at: Interval<Hertz>,
    /// Its level at the jack.
    pub level: Interval<Decibels>,
    /// Its height above the level at [`crate::explain::RESONANCE_REFERENCE`].
    pub height: Interval<Decibels>,
    /// Share of the draws in which there is a peak; 1 in the worst case.
    pub share: f64,
}

/// How a band was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// By Monte Carlo: so many draws from this seed.
    Drawn {
        /// How many.
        draws: usize,
        /// From which seed.
        seed: u64,
    },
    /// The least and the greatest that any values within their limits reach.
    Worst,
}

/// The response of a state with tolerances.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// How it was found.
    pub how: How,
    /// Unknown voltages of each solution.
    pub nets: usize,
    /// The frequencies, rising.
    pub frequencies: Vec<Hertz>,
    /// Level at each of them.
    pub levels: Vec<Interval<Decibels>>,
    /// The figures with every part as named.
    pub nominal: Figures,
    /// The peak, where there is one with the parts as named or in half of the draws.
    pub peak: Option<PeakBand>,
    /// Where the treble is 3 dB down, where that lies inside the frequencies.
    pub corner: Option<Interval<Hertz>>,
    /// How fast the level falls from one to two octaves above the peak, or above the corner where there is no peak.
    pub slope: Option<Interval<PerOctave>>,
}

/// Checks what a state is asked with.
fn check(state: &State<'_>, frequencies: &[Hertz]) -> Result<(), Unsolvable> {
    let coils = state.wired.circuit().coils().count();
    if state.strings.len() != coils {
        return Err(Unsolvable::Setting {
            what: "the number of string signs given is",
            read: state.strings.len() as f64,
            wanted: format!("the circuit has {coils} coils"),
        });
    }
    let wrong = frequencies.iter().find(|frequency| !(frequency.0 > 0.0 && frequency.0.is_finite()));
    match wrong {
        Some(&Hertz(read)) => Err(Unsolvable::Frequency { read }),
        None if frequencies.is_empty() => Err(Unsolvable::Frequency { read: 0.0 }),
        None => Ok(()),
    }
}
