//! The nodal equations of a state: laid out once, filled and solved at each frequency.

use asfound_measure::{Farads, Hertz, Ohms};

use crate::circuit::{Circuit, Coil};
use crate::complex::Complex;
use crate::linear::Linear;
use crate::network::{Branch, Law, Network, Unsolvable};
use crate::solve::Response;
use crate::state::Load;

/// The most nets that are solved at once. A dense solution of this size still ends within seconds.
pub const MOST_NETS: usize = 1000;

/// A coil or choke between two rows of the equations.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Winding {
    pub(crate) part: usize,
    /// Number of the coil among the coils; `None` for a choke.
    pub(crate) coil: Option<usize>,
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) resistance: f64,
    pub(crate) inductance: f64,
    /// Shunted inductance and the resistance across it.
    pub(crate) eddy: Option<(f64, f64)>,
}

impl Winding {
    /// Series impedance at an angular frequency.
    pub(crate) fn impedance(&self, omega: f64) -> Complex {
        let plain = Complex::new(self.resistance, omega * self.inductance);
        match self.eddy {
            None => plain,
            Some((inductance, loss)) => {
                let shunted = Complex::imaginary(omega * inductance);
                plain + shunted * loss / (shunted + Complex::real(loss))
            }
        }
    }
}

/// Two coupled windings, by index, and their mutual inductance in henries.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair {
    pub(crate) a: usize,
    pub(crate) b: usize,
    pub(crate) mutual: f64,
}

/// A resistance or capacitance between two rows, kept for the sensitivities.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Static {
    pub(crate) part: usize,
    /// Whether it is a piece of a pot's track.
    pub(crate) track: bool,
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) law: Law,
}

/// The equations of a state and the room to solve them in.
#[derive(Debug, Clone)]
pub(crate) struct Equations {
    pub(crate) tip: usize,
    pub(crate) rows: usize,
    pub(crate) statics: Vec<Static>,
    pub(crate) windings: Vec<Winding>,
    pub(crate) pairs: Vec<Pair>,
    /// Sum of conductances and of capacitances for every cell of the matrix.
    fixed: Vec<(f64, f64)>,
    pub(crate) linear: Linear,
    /// Voltage of each row for a unit current into the tip; the spare row at the end is the datum, 0 V.
    pub(crate) unit: Vec<Complex>,
    /// Current in each winding for that unit current.
    pub(crate) currents: Vec<Complex>,
    admittances: Vec<Complex>,
    pub(crate) response: Response,
}

impl Equations {
    /// No equations, for an output that cannot be solved.
    pub(crate) fn none(circuit: &Circuit) -> Self {
        let transfers = vec![Complex::ZERO; circuit.coils().count()];
        Self {
            tip: 0,
            rows: 0,
            statics: Vec::new(),
            windings: Vec::new(),
            pairs: Vec::new(),
            fixed: Vec::new(),
            linear: Linear::default(),
            unit: Vec::new(),
            currents: Vec::new(),
            admittances: Vec::new(),
            response: Response {
                frequency: Hertz(0.0),
                transfers,
                impedance: Complex::ZERO,
                load: Complex::ZERO,
            },
        }
    }

    pub(crate) fn new(
        circuit: &Circuit,
        network: &Network,
        tip: usize,
        sleeve: usize,
        on_path: &[bool],
        load: Load,
    ) -> Result<Self, Unsolvable> {
        let mut equations = Self::none(circuit);
        let chosen = choose(circuit, network, on_path);
        let (place, rows) = number_rows(network, &chosen, sleeve);
        if rows > MOST_NETS {
            return Err(Unsolvable::TooLarge { nets: rows, most: MOST_NETS });
        }
        equations.rows = rows;
        equations.tip = place[tip];
        equations.fixed = vec![(0.0, 0.0); (rows + 1) * (rows + 1)];
        let mut coil_number = vec![None; circuit.parts().len()];
        for (number, (part, _)) in circuit.coils().enumerate() {
            coil_number[part] = Some(number);
        }
        for branch in chosen {
            equations.add(branch, place[branch.from], place[branch.to], coil_number[branch.part]);
        }
        for coupling in circuit.couplings() {
            equations.couple(coupling.a, coupling.b, coupling.factor);
        }
        equations.add_load(load);
        equations.linear = Linear::new(rows);
        equations.unit = vec![Complex::ZERO; rows + 1];
        equations.currents = vec![Complex::ZERO; equations.windings.len()];
        equations.admittances = equations.currents.clone();
        Ok(equations)
    }

    fn add(&mut self, branch: &Branch, from: usize, to: usize, coil: Option<usize>) {
        let part = branch.part;
        match branch.law {
            Law::Resistance(_) | Law::Capacitance(_) => {
                self.add_static(Static { part, track: branch.track, from, to, law: branch.law });
            }
            Law::Choke { resistance, inductance } => {
                self.windings.push(Winding {
                    part,
                    coil: None,
                    from,
                    to,
                    resistance,
                    inductance,
                    eddy: None,
                });
            }
            Law::Coil(Coil { resistance, inductance, capacitance, eddy, .. }) => {
                let eddy = eddy.map(|eddy| (eddy.inductance.0, eddy.loss.0));
                let (resistance, inductance) = (resistance.0, inductance.0);
                self.windings.push(Winding { part, coil, from, to, resistance, inductance, eddy });
                if capacitance.0 > 0.0 {
                    self.add_static(Static {
                        part,
                        track: false,
                        from,
                        to,
                        law: Law::Capacitance(capacitance.0),
                    });
                }
            }
        }
    }

    fn add_static(&mut self, fixed: Static) {
        let (conductance, capacitance) = match fixed.law {
            Law::Resistance(ohms) => (1.0 / ohms, 0.0),
            Law::Capacitance(farads) => (0.0, farads),
            Law::Choke { .. } | Law::Coil(_) => return,
        };
        let stride = self.rows + 1;
        for (row, column, sign) in cells(fixed.from, fixed.to) {
            let cell = &mut self.fixed[row * stride + column];
            *cell = (cell.0 + sign * conductance, cell.1 + sign * capacitance);
        }
        self.statics.push(fixed);
    }

    fn add_load(&mut self, load: Load) {
        let cell = &mut self.fixed[self.tip * (self.rows + 1) + self.tip];
        cell.0 += load.resistance.map_or(0.0, |Ohms(ohms)| 1.0 / ohms);
        cell.1 += load.capacitance.0;
    }

    /// Couples two coils, if neither is opened. M = k sqrt(La Lb).
    fn couple(&mut self, a: usize, b: usize, factor: f64) {
        let find = |part| self.windings.iter().position(|winding| winding.part == part);
        if let (Some(a), Some(b)) = (find(a), find(b)) {
            let mutual = factor * (self.windings[a].inductance * self.windings[b].inductance).sqrt();
            self.pairs.push(Pair { a, b, mutual });
        }
    }

    /// Admittance of two coupled windings: own of a, mutual, own of b.
    pub(crate) fn pair_admittance(&self, pair: Pair, omega: f64) -> [Complex; 3] {
        let (za, zb) = (self.windings[pair.a].impedance(omega), self.windings[pair.b].impedance(omega));
        let mutual = Complex::imaginary(omega * pair.mutual);
        let over = (za * zb - mutual * mutual).reciprocal();
        [zb * over, -mutual * over, za * over]
    }

    fn assemble(&mut self, omega: f64) {
        for (cell, &(conductance, capacitance)) in self.linear.cells().iter_mut().zip(&self.fixed) {
            *cell = Complex::new(conductance, omega * capacitance);
        }
        for (winding, admittance) in self.windings.iter().zip(&mut self.admittances) {
            *admittance = winding.impedance(omega).reciprocal();
        }
        for index in 0..self.pairs.len() {
            let pair = self.pairs[index];
            let [own_a, mutual, own_b] = self.pair_admittance(pair, omega);
            (self.admittances[pair.a], self.admittances[pair.b]) = (own_a, own_b);
            let (a, b) = (self.windings[pair.a], self.windings[pair.b]);
            for (row, column, value) in [
                (a.from, b.from, mutual),
                (a.from, b.to, -mutual),
                (a.to, b.from, -mutual),
                (a.to, b.to, mutual),
            ] {
                self.linear.add(row, column, value);
                self.linear.add(column, row, value);
            }
        }
        for (winding, &admittance) in self.windings.iter().zip(&self.admittances) {
            for (row, column, sign) in cells(winding.from, winding.to) {
                self.linear.add(row, column, admittance * sign);
            }
        }
    }

    pub(crate) fn solve(&mut self, frequency: Hertz, omega: f64, load: Load) -> Result<(), Unsolvable> {
        self.assemble(omega);
        if !self.linear.factor() {
            return Err(Unsolvable::Singular);
        }
        self.unit.fill(Complex::ZERO);
        self.unit[self.tip] = Complex::ONE;
        self.linear.solve(&mut self.unit[..self.rows]);
        for ((winding, current), &admittance) in
            self.windings.iter().zip(&mut self.currents).zip(&self.admittances)
        {
            *current = admittance * (self.unit[winding.from] - self.unit[winding.to]);
        }
        for &pair in &self.pairs {
            let mutual = self.pair_admittance(pair, omega)[1];
            let (a, b) = (self.windings[pair.a], self.windings[pair.b]);
            self.currents[pair.a] += mutual * (self.unit[b.from] - self.unit[b.to]);
            self.currents[pair.b] += mutual * (self.unit[a.from] - self.unit[a.to]);
        }
        for (winding, &current) in self.windings.iter().zip(&self.currents) {
            if let Some(coil) = winding.coil {
                self.response.transfers[coil] = current;
            }
        }
        self.response.frequency = frequency;
        self.response.impedance = self.unit[self.tip];
        self.response.load = admittance_of(load, omega);
        let finite = self.response.impedance.size().is_finite();
        if finite { Ok(()) } else { Err(Unsolvable::Singular) }
    }
}

fn admittance_of(load: Load, omega: f64) -> Complex {
    let Farads(farads) = load.capacitance;
    Complex::new(load.resistance.map_or(0.0, |Ohms(ohms)| 1.0 / ohms), omega * farads)
}

/// The four cells that an admittance between two rows adds to, with their signs.
fn cells(from: usize, to: usize) -> [(usize, usize, f64); 4] {
    [(from, from, 1.0), (to, to, 1.0), (from, to, -1.0), (to, from, -1.0)]
}

/// The branches to solve: those on a path, or whole islands where coupled coils may carry current into them.
fn choose<'n>(circuit: &Circuit, network: &'n Network, on_path: &[bool]) -> Vec<&'n Branch> {
    let joined = |branch: &Branch| branch.from != branch.to || matches!(branch.law, Law::Coil(_));
    let coupled = !circuit.couplings().is_empty();
    let wanted = network.branches.iter().zip(on_path);
    wanted
        .filter(|(branch, on)| if coupled { joined(branch) } else { **on })
        .map(|(branch, _)| branch)
        .collect()
}

/// For each net its row, and how many rows there are. Every net that a chosen branch touches is unknown but
/// for one datum per island, the sleeve on its own; a datum, and a net that nothing touches, gets the spare
/// row at the end.
fn number_rows(network: &Network, chosen: &[&Branch], sleeve: usize) -> (Vec<usize>, usize) {
    let mut datum = vec![None; network.islands];
    datum[network.island[sleeve] as usize] = Some(sleeve);
    let mut unknown = vec![false; network.nets.count()];
    for net in chosen.iter().flat_map(|branch| [branch.from, branch.to]) {
        let datum = datum[network.island[net] as usize].get_or_insert(net);
        unknown[net] = *datum != net;
    }
    let rows = unknown.iter().filter(|&&unknown| unknown).count();
    let mut next = 0..rows;
    let place =
        unknown.iter().map(|&unknown| if unknown { next.next().unwrap_or(rows) } else { rows }).collect();
    (place, rows)
}
