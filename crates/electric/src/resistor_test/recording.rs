//! Two channels out of the bytes of a WAV file.

use super::error::{Channel, ResistorTestError, Which};
use asfound_measure::Seconds;
use hound::{SampleFormat, WavReader};
use std::io::Cursor;

/// A recording in shares of full scale.
pub(super) struct Channels {
    pub(super) rate: u32,
    pub(super) before_resistor: Vec<f64>,
    pub(super) at_coil: Vec<f64>,
}

const SHORTEST: f64 = 2.0;
const LONGEST: f64 = 120.0;
/// From this share of full scale a sample counts as clipped.
const FULL: f64 = 0.999;
/// 70 dB below full scale: an open input of a poor card is quieter, a test signal louder.
const SILENT: f64 = 3e-4;

impl Channels {
    /// Reads and checks a recording.
    pub(super) fn read(which: Which, bytes: &[u8]) -> Result<Self, ResistorTestError> {
        if bytes.is_empty() {
            return Err(ResistorTestError::Empty(which));
        }
        let reader = WavReader::new(Cursor::new(bytes)).map_err(|error| not_wav(which, &error))?;
        let spec = reader.spec();
        if spec.channels != 2 {
            return Err(ResistorTestError::Channels { which, channels: spec.channels });
        }
        if !(44_100..=192_000).contains(&spec.sample_rate) {
            return Err(ResistorTestError::Rate { which, rate: spec.sample_rate });
        }
        let lasts = f64::from(reader.duration()) / f64::from(spec.sample_rate);
        if !(SHORTEST..=LONGEST).contains(&lasts) {
            return Err(ResistorTestError::Length { which, lasts: Seconds(lasts) });
        }
        let samples = samples(which, reader)?;
        let (before_resistor, at_coil): (Vec<f64>, Vec<f64>) =
            samples.chunks_exact(2).map(|frame| (frame[0], frame[1])).unzip();
        let recording = Self { rate: spec.sample_rate, before_resistor, at_coil };
        recording.check(which)?;
        Ok(recording)
    }

    fn check(&self, which: Which) -> Result<(), ResistorTestError> {
        let channels = [(Channel::BeforeResistor, &self.before_resistor), (Channel::AtCoil, &self.at_coil)];
        for (channel, samples) in channels {
            let clipped = |sample: &f64| sample.abs() >= FULL;
            if let Some(first) = samples.iter().position(clipped) {
                let count = samples.iter().filter(|sample| clipped(sample)).count();
                let first = Seconds(first as f64 / f64::from(self.rate));
                return Err(ResistorTestError::Clipped { which, channel, samples: count, first });
            }
            // A steady offset is no signal.
            let mean = samples.iter().sum::<f64>() / samples.len() as f64;
            let square = samples.iter().map(|sample| (sample - mean) * (sample - mean)).sum::<f64>();
            if (square / samples.len() as f64).sqrt() < SILENT {
                return Err(ResistorTestError::Silent { which, channel });
            }
        }
        Ok(())
    }
}

/// All samples, channel by channel in turn, as shares of full scale.
fn samples(which: Which, mut reader: WavReader<Cursor<&[u8]>>) -> Result<Vec<f64>, ResistorTestError> {
    let spec = reader.spec();
    let mut samples = Vec::new();
    let mut failed = None;
    match spec.sample_format {
        SampleFormat::Float => {
            for sample in reader.samples::<f32>() {
                match sample {
                    // A float that is no number stands for nothing that was heard.
                    Ok(sample) if sample.is_finite() => samples.push(f64::from(sample)),
                    Ok(_) => samples.push(0.0),
                    Err(error) => {
                        failed = Some(error);
                        break;
                    }
                }
            }
        }
        SampleFormat::Int => {
            let full = libm::exp2(f64::from(spec.bits_per_sample) - 1.0);
            for sample in reader.samples::<i32>() {
                match sample {
                    Ok(sample) => samples.push(f64::from(sample) / full),
                    Err(error) => {
                        failed = Some(error);
                        break;
                    }
                }
            }
        }
    }
    match failed {
        None => Ok(samples),
        Some(hound::Error::IoError(_)) | Some(hound::Error::FormatError(_)) => {
            let after = samples.len() as f64 / 2.0 / f64::from(spec.sample_rate);
            Err(ResistorTestError::CutOff { which, after: Seconds(after) })
        }
        Some(error) => Err(not_wav(which, &error)),
    }
}

fn not_wav(which: Which, error: &hound::Error) -> ResistorTestError {
    ResistorTestError::NotWav { which, why: error.to_string() }
}
