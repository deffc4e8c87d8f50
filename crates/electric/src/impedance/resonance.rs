//! The resonance of the bare coil.

use super::model::Model;
use asfound_measure::{Hertz, Ohms};

/// Where the coil alone, with its own capacitance, resonates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resonance {
    /// Where the phase passes nought from inductive to capacitive.
    pub frequency: Hertz,
    /// The impedance there, a resistance.
    pub impedance: Ohms,
    /// `Q = |Z| ω C` at the resonance: the impedance by the reactance of the capacitance.
    pub quality: f64,
}

/// Searched from 10 Hz, ten steps to the octave up to 10 MHz.
const LOWEST: f64 = 10.0;
const STEPS: i32 = 200;

impl Model {
    /// The lowest resonance; none where the losses leave no inductive phase to come back from.
    pub fn resonance(&self) -> Option<Resonance> {
        let reactance = |frequency: f64| self.impedance(Hertz(frequency)).im;
        let place = |step: i32| LOWEST * libm::exp2(f64::from(step) / 10.0);
        let step =
            (0..STEPS).find(|step| reactance(place(*step)) > 0.0 && reactance(place(step + 1)) <= 0.0)?;
        let (mut inductive, mut capacitive) = (place(step), place(step + 1));
        // Fifty halvings leave nothing of the step.
        for _ in 0..50 {
            let middle = (inductive * capacitive).sqrt();
            if reactance(middle) > 0.0 { inductive = middle } else { capacitive = middle }
        }
        let frequency = Hertz((inductive * capacitive).sqrt());
        let impedance = self.impedance(frequency).abs();
        let quality = impedance * 2.0 * std::f64::consts::PI * frequency.0 * self.capacitance.0;
        Some(Resonance { frequency, impedance: Ohms(impedance), quality })
    }
}
