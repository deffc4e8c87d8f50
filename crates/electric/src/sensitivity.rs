//! How an answer changes with the value of each part.

use asfound_measure::{Farads, Hertz, Ohms};

use crate::complex::Complex;
use crate::equations::{Equations, Winding};
use crate::network::{Law, Unsolvable};
use crate::solve::Prepared;

/// Which value of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Value {
    /// Resistance of a resistor, coil or choke, or of the load.
    Resistance,
    /// Inductance of a coil or choke.
    Inductance,
    /// Capacitance of a capacitor or coil, or of the load.
    Capacitance,
    /// Inductance that an eddy loss shunts.
    EddyInductance,
    /// The resistance across it.
    EddyLoss,
    /// Resistance of a pot's whole track, the wiper's share staying as it is.
    Track,
}

/// How much an answer changes with one value.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// Index of the part; `None` is the load.
    pub part: Option<usize>,
    /// Which of its values.
    pub value: Value,
    /// d ln|Z| / d ln p of the impedance at the jack: per cent of impedance per cent of value.
    pub impedance: f64,
    /// dH / d ln p of each coil's transfer, in part order. For per cent of |H| per cent of value, see
    /// [`Sensitivity::relative`].
    pub transfers: Vec<Complex>,
}

impl Sensitivity {
    /// d ln|H| / d ln p for a transfer that was solved; `None` where it is nought.
    pub fn relative(&self, coil: usize, transfer: Complex) -> Option<f64> {
        let change = *self.transfers.get(coil)?;
        (transfer != Complex::ZERO).then(|| (change / transfer).re)
    }
}

/// Voltages of the rows and currents in the windings for one way of driving the network.
struct Drive {
    volts: Vec<Complex>,
    currents: Vec<Complex>,
}

impl Prepared {
    /// Solves at one frequency and tells how impedance and transfers change with every value in the
    /// equations.
    ///
    /// For a value in series with current i (per ampere at the jack) and j (per volt of a coil's EMF), dH = i
    /// j dz, and dZ = i² dz; across voltage v and w, dH = -v w dy (the adjoint network: Director and Rohrer,
    /// IEEE Transactions on Circuit Theory 16, 318, 1969). Each coil costs one more substitution into factors
    /// that are there already.
    ///
    /// # Errors
    /// As [`Prepared::at`].
    pub fn sensitivities(&mut self, frequency: Hertz) -> Result<Vec<Sensitivity>, Unsolvable> {
        self.at(frequency)?;
        let omega = std::f64::consts::TAU * frequency.0;
        let equations = &self.equations;
        let jack = Drive { volts: equations.unit.clone(), currents: equations.currents.clone() };
        let mut coils: Vec<Option<Drive>> = Vec::new();
        coils.resize_with(equations.response.transfers.len(), || None);
        for (index, winding) in equations.windings.iter().enumerate() {
            if let Some(coil) = winding.coil {
                coils[coil] = Some(equations.drive(index, omega));
            }
        }
        let mut gathered =
            Gathered { impedance: equations.response.impedance, jack, coils, found: Vec::new() };
        gathered.statics(equations, omega);
        for (index, winding) in equations.windings.iter().enumerate() {
            gathered.winding(equations, index, winding, omega);
        }
        let (Farads(farads), datum) = (self.load.capacitance, equations.rows);
        if farads > 0.0 {
            let change = Complex::imaginary(omega * farads);
            gathered.across(None, Value::Capacitance, equations.tip, datum, change);
        }
        if let Some(Ohms(ohms)) = self.load.resistance {
            gathered.across(None, Value::Resistance, equations.tip, datum, Complex::real(-1.0 / ohms));
        }
        Ok(gathered.found)
    }
}

impl Equations {
    /// The network driven by 1 V of EMF in one winding, nothing at the jack but the load.
    fn drive(&self, driven: usize, omega: f64) -> Drive {
        let rows = self.rows;
        let mut volts = vec![Complex::ZERO; rows + 1];
        let own: Vec<Complex> =
            self.windings.iter().map(|winding| winding.impedance(omega).reciprocal()).collect();
        // Admittances between windings, as (to, from, value): the diagonal, and both ways of each pair.
        let mut links: Vec<(usize, usize, Complex)> =
            own.iter().enumerate().map(|(at, &y)| (at, at, y)).collect();
        for &pair in &self.pairs {
            let [own_a, mutual, own_b] = self.pair_admittance(pair, omega);
            (links[pair.a].2, links[pair.b].2) = (own_a, own_b);
            links.extend([(pair.a, pair.b, mutual), (pair.b, pair.a, mutual)]);
        }
        for &(to, _, admittance) in links.iter().filter(|link| link.1 == driven) {
            volts[self.windings[to].from] += admittance;
            volts[self.windings[to].to] -= admittance;
        }
        volts[rows] = Complex::ZERO;
        self.linear.solve(&mut volts[..rows]);
        let mut currents = vec![Complex::ZERO; self.windings.len()];
        for &(to, from, admittance) in &links {
            let winding = self.windings[from];
            let emf = if from == driven { Complex::ONE } else { Complex::ZERO };
            currents[to] += admittance * (volts[winding.from] - volts[winding.to] - emf);
        }
        Drive { volts, currents }
    }
}

/// The drives, and the sensitivities found with them so far.
struct Gathered {
    impedance: Complex,
    jack: Drive,
    coils: Vec<Option<Drive>>,
    found: Vec<Sensitivity>,
}

impl Gathered {
    fn push(&mut self, part: Option<usize>, value: Value, change: impl Fn(&Drive, &Drive) -> Complex) {
        let impedance = (change(&self.jack, &self.jack) / self.impedance).re;
        let jack = &self.jack;
        let of_coil =
            |drive: &Option<Drive>| drive.as_ref().map_or(Complex::ZERO, |drive| change(jack, drive));
        let transfers: Vec<Complex> = self.coils.iter().map(of_coil).collect();
        match self.found.iter_mut().rev().find(|found| found.part == part && found.value == value) {
            // The other piece of the same track.
            Some(found) => {
                found.impedance += impedance;
                found.transfers.iter_mut().zip(transfers).for_each(|(sum, more)| *sum += more);
            }
            None => self.found.push(Sensitivity { part, value, impedance, transfers }),
        }
    }

    /// A value across two rows whose admittance changes by `dy` per d ln p.
    fn across(&mut self, part: Option<usize>, value: Value, from: usize, to: usize, dy: Complex) {
        let across = move |drive: &Drive| drive.volts[from] - drive.volts[to];
        self.push(part, value, |jack, drive| -(across(jack) * across(drive) * dy));
    }

    fn statics(&mut self, equations: &Equations, omega: f64) {
        for fixed in &equations.statics {
            let (value, dy) = match fixed.law {
                Law::Resistance(ohms) if fixed.track => (Value::Track, Complex::real(-1.0 / ohms)),
                Law::Resistance(ohms) => (Value::Resistance, Complex::real(-1.0 / ohms)),
                Law::Capacitance(farads) => (Value::Capacitance, Complex::imaginary(omega * farads)),
                Law::Choke { .. } | Law::Coil(_) => continue,
            };
            self.across(Some(fixed.part), value, fixed.from, fixed.to, dy);
        }
    }

    fn winding(&mut self, equations: &Equations, index: usize, winding: &Winding, omega: f64) {
        let part = Some(winding.part);
        let series = |dz: Complex| {
            move |jack: &Drive, drive: &Drive| jack.currents[index] * drive.currents[index] * dz
        };
        if winding.resistance > 0.0 {
            self.push(part, Value::Resistance, series(Complex::real(winding.resistance)));
        }
        if winding.inductance > 0.0 {
            let own = series(Complex::imaginary(omega * winding.inductance));
            match equations.pairs.iter().find(|pair| pair.a == index || pair.b == index) {
                None => self.push(part, Value::Inductance, own),
                Some(pair) => {
                    // M goes with the root of either inductance.
                    let (a, b, half) = (pair.a, pair.b, Complex::imaginary(omega * pair.mutual / 2.0));
                    self.push(part, Value::Inductance, |jack, drive| {
                        let (i, j) = (&jack.currents, &drive.currents);
                        own(jack, drive) + (i[a] * j[b] + i[b] * j[a]) * half
                    });
                }
            }
        }
        if let Some((inductance, loss)) = winding.eddy {
            let (z, r) = (Complex::imaginary(omega * inductance), Complex::real(loss));
            let over = (z + r).reciprocal();
            self.push(part, Value::EddyInductance, series(z * r * r * over * over));
            self.push(part, Value::EddyLoss, series(r * z * z * over * over));
        }
    }
}
