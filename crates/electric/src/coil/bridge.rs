//! What a bridge shows of a drawn coil.
//!
//! Of `N` turns, `n` shorted on themselves leave `Z = R_a + jωL_a + ω²M²/(R_b + jωL_b)` with `L_a = L(1 − x)²`,
//! `L_b = L x²`, `R_a = R(1 − x)`, `R_b = R x`, `M = k √(L_a L_b)`, `x = n/N`: two coupled coils, one of them closed
//! (any book on circuits). Eddy currents shunt a share `s` of `L_a` with a loss of time constant `τ`, so that part is
//! `jωsL_a/(1 + jωτ)`. The coil's own capacitance lies across it all, and the bridge shows the series equivalent.

use super::drawn::CoilDrawn;
use crate::Complex;
use std::f64::consts::TAU;

/// A coil's series branch, ready for any frequency.
#[derive(Debug, Clone, Copy)]
pub(super) struct Branch {
    /// Ohms in series, joint included, at the coil's temperature.
    pub(super) resistance: f64,
    /// Henries of the turns that are not lost.
    pub(super) inductance: f64,
    eddy_share: f64,
    eddy_time: f64,
    /// Ohms and henries of the shorted part, and its coupling; nothing where none is shorted.
    short: Option<(f64, f64, f64)>,
    pub(super) capacitance: f64,
}

/// Series equivalent as a bridge shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shows {
    pub(super) inductance: f64,
    pub(super) quality: f64,
}

impl Branch {
    /// The branch of a coil whose whole inductance is known, with copper warmed by a factor.
    pub(super) fn of(coil: &CoilDrawn, whole_inductance: f64, warmed: f64) -> Self {
        let blank = &coil.blank;
        let (lost, left) = (blank.lost, 1.0 - blank.lost);
        let wire = coil.wound.ohms.value() * warmed;
        let short =
            (blank.coupling > 0.0).then_some((wire * lost, whole_inductance * lost * lost, blank.coupling));
        Self {
            resistance: wire * left + blank.joint,
            inductance: whole_inductance * left * left,
            eddy_share: blank.eddy_share,
            eddy_time: blank.eddy_time,
            short,
            capacitance: blank.capacitance,
        }
    }

    /// Impedance without the capacitance, in ohms, at a frequency in hertz.
    pub(super) fn series(&self, hertz: f64) -> Complex {
        let omega = TAU * hertz;
        let straight = omega * self.inductance * (1.0 - self.eddy_share);
        let shunted = Complex::new(0.0, omega * self.inductance * self.eddy_share)
            / Complex::new(1.0, omega * self.eddy_time);
        let mut impedance = Complex::new(self.resistance, straight) + shunted;
        if let Some((resistance, inductance, coupling)) = self.short {
            let mutual_squared = coupling * coupling * self.inductance * inductance;
            let loop_impedance = Complex::new(resistance, omega * inductance);
            impedance += Complex::new(omega * omega * mutual_squared, 0.0) / loop_impedance;
        }
        impedance
    }

    /// What a bridge shows at a frequency in hertz.
    pub(super) fn shown_at(&self, hertz: f64) -> Shows {
        let omega = TAU * hertz;
        let series = self.series(hertz);
        let across = Complex::new(0.0, omega * self.capacitance);
        let whole = (series.reciprocal() + across).reciprocal();
        Shows { inductance: whole.im / omega, quality: whole.im / whole.re }
    }

    /// Resonance in hertz with so many farads across, and the height of its peak as `ωL/R` there.
    pub(super) fn resonance(&self, across: f64) -> (f64, f64) {
        let capacitance = self.capacitance + across;
        let mut hertz = 1.0 / (TAU * (self.inductance * capacitance).sqrt());
        let mut series = self.series(hertz);
        // The inductance falls with frequency where eddies or a short shield it; twice round is near enough to bin.
        for _ in 0..2 {
            let inductance = (series.im / (TAU * hertz)).max(1e-6);
            hertz = 1.0 / (TAU * (inductance * capacitance).sqrt());
            series = self.series(hertz);
        }
        (hertz, series.im / series.re)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn branch(shorted: f64) -> Branch {
        let left = 1.0 - shorted;
        let short = (shorted > 0.0).then_some((6000.0 * shorted, 2.4 * shorted * shorted, 0.95));
        Branch {
            resistance: 6000.0 * left,
            inductance: 2.4 * left * left,
            eddy_share: 0.0,
            eddy_time: 0.0,
            short,
            capacitance: 0.0,
        }
    }

    /// 2.4 H, 6 kΩ, 8000 turns, coupling 0.95, no capacitance: series L and Q at 1 kHz and 10 kHz, worked out apart from
    /// this by complex algebra and printed with five and four decimals.
    #[test]
    fn shorted_turns_as_two_coupled_coils() {
        for (turns, hertz, inductance, quality) in [
            (0.0, 1e3, 2.40000, 2.5133),
            (10.0, 1e3, 2.39398, 2.4924),
            (80.0, 1e3, 2.35090, 2.3540),
            (400.0, 1e3, 2.13561, 1.8586),
            (1600.0, 1e3, 1.25640, 0.9517),
            (1.0, 1e4, 2.39938, 23.4580),
            (80.0, 1e4, 2.22611, 3.7327),
            (800.0, 1e4, 0.42933, 0.6235),
        ] {
            let shows = branch(turns / 8000.0).shown_at(hertz);
            assert!((shows.inductance - inductance).abs() < 6e-6, "{turns}: {}", shows.inductance);
            assert!((shows.quality - quality).abs() < 6e-5, "{turns}: {}", shows.quality);
        }
    }

    /// 2.4 H, 6 kΩ with 110 pF across: 2.421191 H at 1 kHz, and past its resonance at 10 kHz, where a bridge shows a
    /// capacitance (complex algebra, six decimals).
    #[test]
    fn capacitance_lifts_the_inductance_shown() {
        let coil = Branch { capacitance: 110e-12, ..branch(0.0) };
        assert!((coil.shown_at(1e3).inductance - 2.421_191).abs() < 1e-6);
        assert!(coil.shown_at(1e4).inductance < 0.0);
    }

    /// 4.4 H of which 1.4 H are shunted by 60 kΩ, with 8 kΩ: 4.370542 H and Q 2.96474 at 1 kHz (complex algebra).
    #[test]
    fn eddies_shunt_a_share() {
        let coil = Branch {
            resistance: 8000.0,
            inductance: 4.4,
            eddy_share: 1.4 / 4.4,
            eddy_time: 1.4 / 60e3,
            short: None,
            capacitance: 0.0,
        };
        let shows = coil.shown_at(1e3);
        assert!((shows.inductance - 4.370_542).abs() < 1e-6, "{}", shows.inductance);
        assert!((shows.quality - 2.964_74).abs() < 1e-5, "{}", shows.quality);
    }
}
