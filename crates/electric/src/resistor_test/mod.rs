//! A coil's impedance with a sound card and two resistors, for those who have no bridge.
//!
//! The card plays a test signal ([`TestSignal`]) through a known resistor into the coil, whose other end is at ground.
//! Channel 1 records before the resistor, channel 2 behind it, at the coil. The same is recorded once more with another
//! resistor. [`measure`] makes a [`Sweep`](crate::sweep::Sweep) of the two recordings, which
//! [`impedance::fit`](crate::impedance::fit()) takes.
//!
//! **The decision: two resistors, so that the card need not be known.** With one, every difference between the two
//! inputs stands in the result. With two, it cancels:
//!
//! - Channel 2 by channel 1 is `H = g Z/(Z + R)`, where `g` is the unknown ratio of the channels, at every frequency
//!   another. With `a = 1/H` for `R_A` and `b = 1/H` for `R_B`: `1/Z = (a - b)/(b R_A - a R_B)`, without `g`.
//! - Both channels run on one clock and hear the same signal, so neither the player's clock nor its level, nor when the
//!   recording was started, stands in `H`. A clock that is off by 50 millionths moves every frequency by just that.
//! - `a` is the slope of channel 1 on channel 2 over the lines of the spectrum in a band of 1/16 octave, `Σ X₁X₂* / Σ
//!   |X₂|²`, and their coherence `γ² = |Σ X₁X₂*|²/(Σ|X₁|² Σ|X₂|²)` gives its uncertainty: `√((1 - γ²)/(2 γ² n))` of the
//!   magnitude for n lines (J. S. Bendat and A. G. Piersol, Random Data, 2nd edition, 1986, chapter 9). The slope is
//!   taken this way round because `1/H = (1 + R/Z)/g` runs smoothly through the coil's resonance, where `H` peaks.
//! - The signal is a sine whose frequency rises exponentially (A. Farina, 108th Convention of the Audio Engineering
//!   Society, 2000, preprint 5093), which gives every octave the same time.
//!
//! What cannot cancel is the input of channel 2: it lies across the coil and is measured with it. Where its resistance
//! and capacitance are known they are taken away; else a [`Note`] says so. An error of the two resistors goes into R and
//! L as it is, so measure them with a good meter.
//!
//! # Level and safety
//! Line level only. The coil is out of its circuit: both leads free, no pots, no switch, no amplifier, nothing
//! connected to the mains but the computer. Never join the card to an amplifier's output or to anything inside one.
//! Begin with the card's output turned down, and turn up until channel 1 shows about half of full scale.
//!
//! # Example
//! ```
//! use asfound_electric::resistor_test::TestSignal;
//! let wav = TestSignal::default().wav();
//! assert_eq!(&wav[..4], b"RIFF");
//! ```
//! and with recordings of it, `measure(Recording { wav: &a, resistor: Ohms(10e3) }, Recording { wav: &b, resistor:
//! Ohms(100e3) }, None)`. Spectra are made by another library, so stated digits are promised, not bits.

mod error;
mod measure;
mod recording;
mod signal;
mod spectrum;

pub use error::{Channel, Note, ResistorTestError, Which};
pub use measure::{Measured, Recording, measure};
pub use signal::{Channels, Rate, TestSignal};
