//! Figures that the tests share.

pub(crate) mod leaves;

use asfound_measure::{Decibels, Hertz, Ohms};
use asfound_plot::{Curve, Plot};

/// Two hundred frequencies across the band and a little past both of its ends.
pub(crate) fn frequencies() -> impl Iterator<Item = f64> {
    (0..200).map(|step| 40.0 * libm::pow(300.0, f64::from(step) / 199.0))
}

/// The level of a second-order low pass, `−10 log₁₀((1 − (f/f₀)²)² + (f/f₀)²/Q²)`, behind a first-order high pass.
pub(crate) fn coil(label: &str, resonance: f64, q: f64, bass_corner: f64, gain: f64) -> Curve {
    let level = move |f: f64| {
        let (low, high) = (f / resonance, bass_corner / f);
        let square = (1.0 - low * low) * (1.0 - low * low) + low * low / (q * q);
        Decibels(gain - 10.0 * libm::log10(square) - 10.0 * libm::log10(1.0 + high * high))
    };
    Curve::new(label, frequencies().map(|f| (Hertz(f), level(f))))
}

/// The four positions of a rotary switch, close together below 1 kHz.
pub(crate) fn rotary() -> Plot {
    let curves = vec![
        coil("I  neck alone", 3800.0, 1.9, 0.0, 0.0),
        coil("II  both, parallel", 5100.0, 2.3, 0.0, 0.2),
        coil("III  through the choke", 2600.0, 0.75, 30.0, -0.8),
        coil("IV  bass cut", 3900.0, 1.6, 160.0, -2.0),
    ];
    Plot::response("Response of the four rotary positions", "neck alone at 100 Hz", curves)
}

/// One coil among earlier ones.
pub(crate) fn like_coils() -> Plot {
    let kilohms = [
        6.31, 5.57, 6.05, 5.89, 5.91, 5.95, 5.66, 5.94, 5.84, 6.18, 6.02, 5.92, 5.93, 5.87, 5.81, 5.92, 6.06,
        5.94, 6.13, 5.95, 5.98, 6.23, 6.07,
    ];
    let values = kilohms.map(|value| Ohms(value * 1000.0));
    let what = "earlier readings of like coils, at 20 °C";
    Plot::strip("The bridge coil among its kind", what, &values, Ohms(5140.0), "this coil")
}
