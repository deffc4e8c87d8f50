//! Preferred values, and the older round ones.

use asfound_measure::{Farads, Ohms};

/// The E6 series (IEC 60063).
pub const E6: [f64; 6] = [10.0, 15.0, 22.0, 33.0, 47.0, 68.0];

/// The E12 series (IEC 60063).
pub const E12: [f64; 12] = [10.0, 12.0, 15.0, 18.0, 22.0, 27.0, 33.0, 39.0, 47.0, 56.0, 68.0, 82.0];

/// Round values that parts had before the E series (common practice, no source).
pub const BEFORE_E_SERIES: [f64; 4] = [20.0, 25.0, 50.0, 250.0];

/// Capacitors tried for a treble bleed: E6 from 150 pF to 2.2 nF (the range is common practice, no source).
pub fn bleed_capacitors() -> Vec<Farads> {
    decades(&E6, [1e-11, 1e-10], 150e-12, 2.2e-9).into_iter().map(Farads).collect()
}

/// Resistors tried for a treble bleed: E6 from 68 to 330 kilohms (the range is common practice, no source).
pub fn bleed_resistors() -> Vec<Ohms> {
    decades(&E6, [1e3, 1e4], 68e3, 330e3).into_iter().map(Ohms).collect()
}

fn decades(series: &[f64], decades: [f64; 2], from: f64, to: f64) -> Vec<f64> {
    let all = decades.iter().flat_map(|decade| series.iter().map(move |value| value * decade));
    let slack = 1e-9 * to;
    all.filter(|value| *value >= from * (1.0 - 1e-9) && *value <= to + slack).collect()
}

/// Whether a value is one that parts are made in: E12, or a round one from before.
pub fn is_preferred(value: f64) -> bool {
    if !(value > 0.0 && value.is_finite()) {
        return false;
    }
    let decade = libm::pow(10.0, libm::floor(libm::log10(value)) - 1.0);
    let mantissa = value / decade;
    let near =
        |known: f64| (mantissa / known - 1.0).abs() < 1e-6 || (mantissa * 10.0 / known - 1.0).abs() < 1e-6;
    E12.iter().chain(&BEFORE_E_SERIES).any(|&known| near(known))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IEC 60063 prints the series; the older values are those met on parts from before it.
    #[test]
    fn the_series_and_the_older_values_are_known() {
        for value in [680e-12, 1e-9, 47e-9, 250e3, 500e3, 20e-9, 25e-9, 50e-9, 150e3, 8.2e3] {
            assert!(is_preferred(value), "{value}");
        }
        for value in [0.0, -1.0, f64::NAN, 437e3, 7e-9, 261e3] {
            assert!(!is_preferred(value), "{value}");
        }
        let picofarads: Vec<i64> = bleed_capacitors().iter().map(|it| (it.0 * 1e12).round() as i64).collect();
        assert_eq!(picofarads, [150, 220, 330, 470, 680, 1000, 1500, 2200]);
        let kilohms: Vec<i64> = bleed_resistors().iter().map(|it| (it.0 / 1e3).round() as i64).collect();
        assert_eq!(kilohms, [68, 100, 150, 220, 330]);
    }
}
