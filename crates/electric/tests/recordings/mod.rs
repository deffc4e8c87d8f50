//! Recordings of known circuits, made without the library's own reading of them: the signal is worked out in time, the
//! circuit acts on its spectrum, and noise comes from a named generator.

use asfound_electric::impedance::Model;
use asfound_electric::resistor_test::{Channels, Rate, TestSignal};
use asfound_electric::{Complex, Eddy, Load};
use asfound_measure::{Farads, Henries, Hertz, Ohms, Seconds};
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// How the recording was made.
#[derive(Clone, Copy)]
pub(crate) struct Bench {
    pub(crate) coil: fn() -> Model,
    pub(crate) resistor: f64,
    /// What lies across the coil: the input of channel 2.
    pub(crate) input: Load,
    /// Noise on both channels, below the signal on channel 1, in decibels.
    pub(crate) noise_below: f64,
    /// The recorder's clock against the player's, less one.
    pub(crate) drift: f64,
    /// Seconds by which the recording begins before the signal.
    pub(crate) early: f64,
    /// Height of the signal on channel 1, as a multiple of the played one.
    pub(crate) gain: f64,
    pub(crate) seed: u64,
}

/// A six-rod single coil, values assumed.
pub(crate) fn single() -> Model {
    Model::plain(Ohms(6000.0), Henries(2.4), Farads(110e-12))
}

/// A dual coil on steel, values assumed.
#[allow(dead_code, reason = "the bench takes one coil only")]
pub(crate) fn steel() -> Model {
    let eddy = Eddy { inductance: Henries(1.4), loss: Ohms(60e3) };
    Model { eddies: vec![eddy], ..Model::plain(Ohms(8000.0), Henries(3.0), Farads(100e-12)) }
}

impl Bench {
    pub(crate) fn usual(resistor: f64, seed: u64) -> Self {
        let input = Load { capacitance: Farads(40e-12), resistance: Some(Ohms(1e6)) };
        Self { coil: single, resistor, input, noise_below: 60.0, drift: 50e-6, early: 0.3, gain: 1.5, seed }
    }

    /// Both channels, in shares of full scale.
    pub(crate) fn channels(&self) -> (Vec<f64>, Vec<f64>) {
        let signal = TestSignal { rate: Rate::PerSecond48000, channels: Channels::Mono };
        let rate = 48_000.0;
        let frames = ((signal.lasts().0 + 1.0) * rate) as usize;
        let one: Vec<f64> = (0..frames)
            .map(|n| self.gain * signal.at(Seconds(n as f64 / rate * (1.0 + self.drift) - self.early)))
            .collect();
        let two = self.behind_resistor(&one, rate);
        let rms = (one.iter().map(|x| x * x).sum::<f64>() / 10.0 / rate).sqrt();
        let noise = rms * libm::pow(10.0, -self.noise_below / 20.0);
        let mut generator = ChaCha12Rng::seed_from_u64(self.seed);
        let mut noisy =
            |samples: &[f64]| samples.iter().map(|x| x + noise * normal(&mut generator)).collect();
        (noisy(&one), noisy(&two))
    }

    /// The circuit acts on the spectrum: `Z/(Z + R)`, with the input of channel 2 across Z, and a channel that differs
    /// from the other by 0.7 dB and loses its lows below 8 Hz.
    fn behind_resistor(&self, one: &[f64], rate: f64) -> Vec<f64> {
        // The quiet at both ends leaves room for what rings on.
        let length = one.len().next_multiple_of(1 << 14);
        let mut planner = realfft::RealFftPlanner::<f64>::new();
        let mut padded = one.to_vec();
        padded.resize(length, 0.0);
        let forward = planner.plan_fft_forward(length);
        let mut spectrum = forward.make_output_vec();
        forward.process(&mut padded, &mut spectrum).unwrap();
        let coil = (self.coil)();
        let last = spectrum.len() - 1;
        for (index, line) in spectrum.iter_mut().enumerate() {
            let frequency = index as f64 * rate / length as f64;
            let transfer = if index == 0 || index == last {
                Complex::ZERO
            } else {
                let omega = 2.0 * std::f64::consts::PI * frequency;
                let load = Complex::new(
                    self.input.resistance.map_or(0.0, |r| 1.0 / r.0),
                    omega * self.input.capacitance.0,
                );
                let across = coil.impedance(Hertz(frequency)).reciprocal() + load;
                let divided = (Complex::ONE + across * self.resistor).reciprocal();
                divided * 0.92 * (Complex::ONE / Complex::new(1.0, -8.0 / frequency))
            };
            let through = Complex::new(line.re, line.im) * transfer;
            (line.re, line.im) = (through.re, through.im);
        }
        let inverse = planner.plan_fft_inverse(length);
        inverse.process(&mut spectrum, &mut padded).unwrap();
        padded.truncate(one.len());
        padded.iter().map(|x| x / length as f64).collect()
    }

    /// As a WAV file of 24 bits.
    pub(crate) fn wav(&self) -> Vec<u8> {
        let (one, two) = self.channels();
        wav(&one, &two, 24)
    }
}

/// Two channels as a WAV file; 0 bits stands for float.
pub(crate) fn wav(one: &[f64], two: &[f64], bits: u16) -> Vec<u8> {
    let spec = hound::WavSpec {
        channels: 2,
        sample_rate: 48_000,
        bits_per_sample: if bits == 0 { 32 } else { bits },
        sample_format: if bits == 0 { hound::SampleFormat::Float } else { hound::SampleFormat::Int },
    };
    let mut bytes = std::io::Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
    for sample in one.iter().zip(two).flat_map(|(x, y)| [*x, *y]) {
        if bits == 0 {
            writer.write_sample(sample as f32).unwrap();
        } else {
            let full = libm::exp2(f64::from(bits) - 1.0);
            writer.write_sample((sample * full).round().clamp(-full, full - 1.0) as i32).unwrap();
        }
    }
    writer.finalize().unwrap();
    bytes.into_inner()
}

/// A nearly normal number: four even ones from one draw of the generator, from -1/2 to 1/2, have a variance of 1/3.
fn normal(generator: &mut ChaCha12Rng) -> f64 {
    let draw = generator.next_u64();
    let sum = (draw & 0xFFFF) + (draw >> 16 & 0xFFFF) + (draw >> 32 & 0xFFFF) + (draw >> 48);
    (sum as f64 / 65_536.0 - 2.0) * 3f64.sqrt()
}
