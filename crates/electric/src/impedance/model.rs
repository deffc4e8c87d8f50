//! A coil as a network of up to seven parts.

use crate::circuit::Eddy;
use crate::complex::Complex;
use asfound_measure::{Farads, Henries, Hertz, Ohms};

/// A coil: resistance and inductance in series, part of the inductance shunted by eddy losses, a loss and a
/// capacitance across the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// Resistance of the wire.
    pub resistance: Ohms,
    /// Inductance that no eddy loss shunts.
    pub inductance: Henries,
    /// Capacitance across the coil, with that of the leads and of the instrument.
    pub capacitance: Farads,
    /// Loss across the whole coil.
    pub parallel_loss: Option<Ohms>,
    /// Shunted parts of the inductance, in series with the rest.
    pub eddies: Vec<Eddy>,
}

impl Model {
    /// Resistance, inductance and capacitance alone.
    pub fn plain(resistance: Ohms, inductance: Henries, capacitance: Farads) -> Self {
        Self { resistance, inductance, capacitance, parallel_loss: None, eddies: vec![] }
    }

    /// The inductance at low frequency: the unshunted part and all shunted parts.
    pub fn whole_inductance(&self) -> Henries {
        self.eddies.iter().fold(self.inductance, |sum, eddy| sum + eddy.inductance)
    }

    /// The impedance at a frequency above nought, in ohms.
    pub fn impedance(&self, frequency: Hertz) -> Complex {
        let omega = 2.0 * std::f64::consts::PI * frequency.0;
        let loss = self.parallel_loss.map_or(0.0, |loss| 1.0 / loss.0);
        let across = Complex::new(loss, omega * self.capacitance.0);
        (self.winding(omega).reciprocal() + across).reciprocal()
    }

    /// The impedance of the winding and of its losses, with the capacitance taken away, in ohms.
    pub fn without_capacitance(&self, frequency: Hertz) -> Complex {
        Self { capacitance: Farads(0.0), ..self.clone() }.impedance(frequency)
    }

    /// The series branch: wire, inductance, eddies.
    fn winding(&self, omega: f64) -> Complex {
        let bare = Complex::new(self.resistance.0, omega * self.inductance.0);
        self.eddies.iter().fold(bare, |sum, eddy| sum + eddy_impedance(eddy, omega))
    }

    /// How the logarithm of the impedance moves with each part, per unit of the part, in the order of
    /// [`Self::values`]. With `Y` the admittance and `Z` its reciprocal, `∂ ln Z = -Z ∂Y`.
    pub(super) fn logarithmic_slopes(&self, frequency: Hertz) -> Vec<Complex> {
        let omega = 2.0 * std::f64::consts::PI * frequency.0;
        let impedance = self.impedance(frequency);
        let branch = self.winding(omega).reciprocal();
        // What one ohm more in the series branch does.
        let series = impedance * branch * branch;
        let mut slopes =
            vec![series, series * Complex::imaginary(omega), impedance * Complex::imaginary(-omega)];
        if let Some(loss) = self.parallel_loss {
            slopes.push(impedance * (1.0 / (loss.0 * loss.0)));
        }
        for eddy in &self.eddies {
            let shunted = eddy_impedance(eddy, omega);
            let square = series * shunted * shunted;
            let reactance = Complex::imaginary(omega * eddy.inductance.0 * eddy.inductance.0);
            slopes.push(square / reactance);
            slopes.push(square * (1.0 / (eddy.loss.0 * eddy.loss.0)));
        }
        slopes
    }

    /// From bare numbers: R, L, C, then the loss across all where there is one, then inductance and loss of each eddy
    /// branch; in ohms, henries and farads.
    pub(super) fn from_values(values: &[f64], parallel_loss: bool) -> Self {
        let (plain, rest) = values.split_at(3);
        let (loss, eddies) = rest.split_at(usize::from(parallel_loss));
        Self {
            resistance: Ohms(plain[0]),
            inductance: Henries(plain[1]),
            capacitance: Farads(plain[2]),
            parallel_loss: loss.first().map(|loss| Ohms(*loss)),
            eddies: eddies
                .chunks_exact(2)
                .map(|pair| Eddy { inductance: Henries(pair[0]), loss: Ohms(pair[1]) })
                .collect(),
        }
    }
}

fn eddy_impedance(eddy: &Eddy, omega: f64) -> Complex {
    let shunt = Complex::imaginary(omega * eddy.inductance.0).reciprocal();
    (shunt + Complex::real(1.0 / eddy.loss.0)).reciprocal()
}
