//! What coils give together, with their sizes.

use asfound_measure::Decibels;

use crate::complex::Complex;

/// How coils are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Joined {
    /// One after the other.
    Series,
    /// Side by side.
    Parallel,
}

/// One coil's voltage from the strings and from hum, in any one unit, with its sign; and its impedance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Voice {
    /// Voltage from the strings: sensitivity times string sign.
    pub string: f64,
    /// Voltage from an outer field: turns times area, times hum sign.
    pub hum: f64,
    /// Impedance at the frequency asked, in ohms. In series it has no say.
    pub impedance: Complex,
}

/// What coils give together with nothing behind them, in the units of [`Voice`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together {
    /// From the strings.
    pub string: Complex,
    /// From an outer field.
    pub hum: Complex,
    /// The strings' part against all coils adding, 0 to 1.
    pub string_share: f64,
    /// The hum's part against all coils adding, 0 to 1.
    pub hum_share: f64,
}

impl Together {
    /// The hum against all coils adding; `None` where it cancels fully.
    pub fn hum_level(&self) -> Option<Decibels> {
        (self.hum_share > 0.0).then(|| Decibels(20.0 * libm::log10(self.hum_share)))
    }
}

/// Adds voices: `V = ΣE` in series, `V = Σ(E/Z) / Σ(1/Z)` in parallel. `None` when there is no voice, or when in
/// parallel an impedance is zero or they resonate against one another.
pub fn together(voices: &[Voice], joined: Joined) -> Option<Together> {
    let weights: Vec<Complex> = match joined {
        Joined::Series => vec![Complex::ONE; voices.len()],
        Joined::Parallel => {
            let own: Vec<Complex> = voices.iter().map(|voice| voice.impedance.reciprocal()).collect();
            let total = own.iter().fold(Complex::ZERO, |sum, &one| sum + one).reciprocal();
            own.into_iter().map(|one| one * total).collect()
        }
    };
    let finite = |weight: &Complex| weight.re.is_finite() && weight.im.is_finite();
    if voices.is_empty() || !weights.iter().all(finite) {
        return None;
    }
    let sum = |part: fn(&Voice) -> f64| {
        let each = || voices.iter().zip(&weights).map(|(voice, weight)| *weight * Complex::real(part(voice)));
        let signed = each().fold(Complex::ZERO, |sum, one| sum + one);
        let most: f64 = each().map(|one| one.abs()).sum();
        (signed, if most > 0.0 { signed.abs() / most } else { 0.0 })
    };
    let ((string, string_share), (hum, hum_share)) = (sum(|voice| voice.string), sum(|voice| voice.hum));
    Some(Together { string, hum, string_share, hum_share })
}
