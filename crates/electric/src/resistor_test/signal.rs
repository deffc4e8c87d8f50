//! The signal to play.

use asfound_measure::{Hertz, Seconds};
use std::io::Cursor;

/// Samples a second.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rate {
    /// 44 100.
    PerSecond44100,
    /// 48 000.
    #[default]
    PerSecond48000,
}

impl Rate {
    /// As a number.
    pub fn per_second(self) -> u32 {
        match self {
            Self::PerSecond44100 => 44_100,
            Self::PerSecond48000 => 48_000,
        }
    }
}

/// One channel, or the same on two for players that want it so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Channels {
    /// One.
    #[default]
    Mono,
    /// Two alike.
    Stereo,
}

/// A sine that rises from 20 Hz to 20 kHz in ten seconds, each octave in the same time, with a quiet second before and
/// half a second after.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TestSignal {
    /// Samples a second.
    pub rate: Rate,
    /// Channels.
    pub channels: Channels,
}

/// Where the sine begins.
pub(super) const LOWEST: Hertz = Hertz(20.0);
/// Where it ends.
pub(super) const HIGHEST: Hertz = Hertz(20_000.0);
const LEAD_IN: Seconds = Seconds(1.0);
const SWEEP: Seconds = Seconds(10.0);
const TAIL: Seconds = Seconds(0.5);
/// Raised cosines at both ends: one turn of 20 Hz, and short at the top.
const FADE_IN: Seconds = Seconds(0.05);
const FADE_OUT: Seconds = Seconds(0.01);
/// A quarter of full scale, 12 dB below it: room for the card's own gain.
const LEVEL: f64 = 0.25;

impl TestSignal {
    /// How long it lasts.
    pub fn lasts(self) -> Seconds {
        LEAD_IN + SWEEP + TAIL
    }

    /// Its value at a time after the beginning, as a share of full scale.
    ///
    /// `sin(2π f₁ T/ln(f₂/f₁) (e^(t/T ln(f₂/f₁)) - 1))` (Farina 2000), faded at both ends; nought outside.
    pub fn at(self, time: Seconds) -> f64 {
        let (t, end) = (time.0 - LEAD_IN.0, SWEEP.0);
        if !(0.0..=end).contains(&t) {
            return 0.0;
        }
        let octaves = libm::log(HIGHEST.0 / LOWEST.0);
        let turns = LOWEST.0 * end / octaves * libm::expm1(t / end * octaves);
        let raised = |share: f64| 0.5 - 0.5 * libm::cos(std::f64::consts::PI * share.min(1.0));
        let fade = raised(t / FADE_IN.0) * raised((end - t) / FADE_OUT.0);
        // Whole turns are dropped before they cost the sine its digits.
        LEVEL * fade * libm::sin(2.0 * std::f64::consts::PI * (turns - turns.floor()))
    }

    /// The signal as a WAV file of 16 bits, the same bytes every time.
    pub fn wav(self) -> Vec<u8> {
        let channels = match self.channels {
            Channels::Mono => 1,
            Channels::Stereo => 2,
        };
        let rate = self.rate.per_second();
        let spec = hound::WavSpec {
            channels,
            sample_rate: rate,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let frames = (self.lasts().0 * f64::from(rate)).round() as u32;
        let mut bytes = Cursor::new(Vec::new());
        // Writing to memory fails for want of memory only, and no file can be too long that lasts twelve seconds.
        let mut writer = hound::WavWriter::new(&mut bytes, spec).expect("a header in memory");
        for frame in 0..frames {
            let value = self.at(Seconds(f64::from(frame) / f64::from(rate)));
            let sample = (value * f64::from(i16::MAX)).round() as i16;
            for _ in 0..channels {
                writer.write_sample(sample).expect("a sample in memory");
            }
        }
        writer.finalize().expect("a header in memory");
        bytes.into_inner()
    }
}
