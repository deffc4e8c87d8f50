//! From two channels to the slope of one on the other, band by band.

use super::recording::Channels;
use crate::complex::Complex;
use realfft::RealFftPlanner;

/// Channel 1 by channel 2 in one band.
#[derive(Debug, Clone, Copy)]
pub(super) struct Band {
    /// The middle of the band, in hertz.
    pub(super) middle: f64,
    /// Where the signal in the band has its centre of gravity, in hertz.
    pub(super) frequency: f64,
    /// `Σ X₁X₂* / Σ|X₂|²`, that is 1/H.
    pub(super) slope: Complex,
    /// Standard uncertainty of the slope, as a share of it, in magnitude and (in radians) in phase.
    pub(super) relative_uncertainty: f64,
    /// γ².
    pub(super) coherence: f64,
}

/// Bands to the octave.
const BANDS: f64 = 16.0;
/// Lines that a band takes at least, on either side of its middle where the band itself is narrower.
const LEAST_LINES: f64 = 6.0;
/// Seconds over which the ends of a recording are faded, against clicks where it was cut.
const FADE: f64 = 0.02;
/// Transforms are as long as a multiple of this, which keeps their factors small.
const MULTIPLE: usize = 1 << 14;

/// The bands' middles, in hertz, from a little above the lowest frequency of the signal to a little below the highest.
fn middles() -> Vec<f64> {
    const FIRST: f64 = 24.0;
    const LAST: f64 = 18_500.0;
    let count = (BANDS * libm::log2(LAST / FIRST)).floor() as i32;
    (0..=count).map(|band| FIRST * libm::exp2(f64::from(band) / BANDS)).collect()
}

/// Every band of a recording.
pub(super) fn bands(recording: &Channels) -> Vec<Band> {
    let one = lines(&recording.before_resistor, recording.rate);
    let two = lines(&recording.at_coil, recording.rate);
    let frames = recording.before_resistor.len();
    let length = 2 * (one.len() - 1);
    let spacing = f64::from(recording.rate) / length as f64;
    // Lines closer than the recording is long tell nothing new.
    let independent = frames as f64 / length as f64;
    let half = libm::exp2(0.5 / BANDS);
    let of = |middle: f64| {
        let width = (middle * (half - 1.0 / half)).max(LEAST_LINES * spacing);
        let from = ((middle - 0.5 * width) / spacing).ceil() as usize;
        let to = (((middle + 0.5 * width) / spacing).floor() as usize).min(one.len() - 1);
        band(middle, &one[from..=to], &two[from..=to], (from as f64 * spacing, spacing, independent))
    };
    middles().into_iter().map(of).collect()
}

/// The spectrum of a channel, its mean taken away and its ends faded.
fn lines(samples: &[f64], rate: u32) -> Vec<Complex> {
    let length = samples.len().next_multiple_of(MULTIPLE);
    let mean = samples.iter().sum::<f64>() / samples.len() as f64;
    let fade = FADE * f64::from(rate);
    let last = samples.len() - 1;
    let mut faded: Vec<f64> = samples.iter().map(|sample| sample - mean).collect();
    for index in 0..(fade as usize).min(samples.len() / 2) {
        let raised = 0.5 - 0.5 * libm::cos(std::f64::consts::PI * index as f64 / fade);
        faded[index] *= raised;
        faded[last - index] *= raised;
    }
    faded.resize(length, 0.0);
    let transform = RealFftPlanner::<f64>::new().plan_fft_forward(length);
    let mut spectrum = transform.make_output_vec();
    // The lengths are the plan's own, so it has nothing to object to.
    transform.process(&mut faded, &mut spectrum).expect("buffers of the plan's length");
    spectrum.iter().map(|line| Complex::new(line.re, line.im)).collect()
}

/// One band; `first` is the frequency of its first line, `spacing` that between lines, `independent` the share of lines
/// that tell something of their own.
fn band(
    middle: f64,
    one: &[Complex],
    two: &[Complex],
    (first, spacing, independent): (f64, f64, f64),
) -> Band {
    let (mut cross, mut square_one, mut square_two, mut centre) = (Complex::ZERO, 0.0, 0.0, 0.0);
    for (index, (x, y)) in one.iter().zip(two).enumerate() {
        cross += *x * y.conjugate();
        square_one += x.re * x.re + x.im * x.im;
        let power = y.re * y.re + y.im * y.im;
        square_two += power;
        centre += power * (first + index as f64 * spacing);
    }
    let squares = square_one * square_two;
    let coherence = if squares > 0.0 { (cross * cross.conjugate()).re / squares } else { 0.0 };
    // One of the lines settles the slope itself.
    let lines = (one.len() as f64 * independent - 1.0).max(1.0);
    let relative_uncertainty = ((1.0 - coherence).max(0.0) / (2.0 * coherence * lines)).sqrt();
    Band {
        middle,
        frequency: centre / square_two,
        slope: cross * (1.0 / square_two),
        relative_uncertainty,
        coherence,
    }
}
