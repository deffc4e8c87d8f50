//! One solution per frequency: every coil's transfer to the jack, and the impedance there.

use asfound_measure::Hertz;

use crate::circuit::Terminal;
use crate::complex::Complex;
use crate::equations::Equations;
use crate::nets::{Current, Nets};
use crate::network::{Network, Port, Unsolvable};
use crate::state::{Changes, Load, Setting, Wired};

/// What stands at the jack in a state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Output {
    /// Tip and sleeve are one point.
    Shorted,
    /// Nothing leads from tip to sleeve.
    Open,
    /// Something lies between them and can be solved.
    Live,
}

/// The answer at one frequency.
#[derive(Debug, Clone, PartialEq)]
pub struct Response {
    /// The frequency.
    pub frequency: Hertz,
    /// For each coil, in part order: volts from sleeve to tip per volt of EMF toward the coil's hot lead.
    /// Exactly nought where no path runs through the coil.
    pub transfers: Vec<Complex>,
    /// Impedance in ohms between tip and sleeve with the load across them.
    pub impedance: Complex,
    pub(crate) load: Complex,
}

impl Response {
    /// Impedance in ohms of the instrument alone, without the load: what the cable sees.
    pub fn source_impedance(&self) -> Complex {
        (self.impedance.reciprocal() - self.load).reciprocal()
    }
}

/// A state made ready: solve it at as many frequencies as wanted.
///
/// Only nets on some path from tip to sleeve are solved; what hangs off them carries no current. With coupled
/// coils whole islands are solved instead, because current may flow where no wire leads to the jack.
#[derive(Debug, Clone)]
pub struct Prepared {
    network: Network,
    output: Output,
    on_path: Vec<bool>,
    pub(crate) load: Load,
    pub(crate) equations: Equations,
}

impl Prepared {
    /// Finds nets, islands and paths of a state and lays out its equations. The output is the circuit's first
    /// jack.
    ///
    /// A shorted or an open output is not an error here: [`Prepared::output`] says so and the nets can be
    /// looked at.
    ///
    /// # Errors
    /// [`Unsolvable`] without a jack, when setting or changes do not fit the circuit, or when it is too
    /// large.
    pub fn new(wired: &Wired, setting: &Setting, load: Load, changes: &Changes) -> Result<Self, Unsolvable> {
        let circuit = wired.circuit();
        let jack = circuit.jacks().next().ok_or(Unsolvable::NoJack)?;
        let network = Network::new(wired, setting, changes, Current::Alternating)?;
        let port = network.port(Terminal { part: jack, lug: 0 }, Terminal { part: jack, lug: 1 });
        let mut on_path = vec![false; circuit.parts().len()];
        let (output, equations) = match port {
            Port::Shorted => (Output::Shorted, Equations::none(circuit)),
            Port::Open => (Output::Open, Equations::none(circuit)),
            Port::Live { from, to, on_path: branches } => {
                for (branch, _) in network.branches.iter().zip(&branches).filter(|&(_, &on)| on) {
                    on_path[branch.part] = true;
                }
                (Output::Live, Equations::new(circuit, &network, from, to, &branches, load)?)
            }
        };
        Ok(Self { network, output, on_path, load, equations })
    }

    /// What stands at the jack.
    pub fn output(&self) -> Output {
        self.output
    }

    /// The nets of this state.
    pub fn nets(&self) -> &Nets {
        &self.network.nets
    }

    /// The island a lug is on: lugs on different islands have no part between them at all.
    pub fn island(&self, terminal: Terminal) -> usize {
        self.network.island[self.network.nets.net(terminal)] as usize
    }

    /// How many islands there are; a lug that nothing is joined to is one of its own.
    pub fn islands(&self) -> usize {
        self.network.islands
    }

    /// Whether a path from tip to sleeve that visits no net twice runs through this part. False for every
    /// part of a shorted or open output, and for parts that are no branch, such as switches.
    pub fn on_path(&self, part: usize) -> bool {
        self.on_path.get(part).copied().unwrap_or(false)
    }

    /// How many unknown voltages each solution has.
    pub fn unknowns(&self) -> usize {
        self.equations.rows
    }

    /// Solves at one frequency. The room is used again, so the answer is lent until the next call.
    ///
    /// One solution suffices: by reciprocity (J. R. Carson, Bell System Technical Journal 3, 393, 1924) the
    /// voltage at the jack for 1 V in a coil is the current in that coil for 1 A into the jack.
    ///
    /// # Errors
    /// [`Unsolvable::Shorted`] and [`Unsolvable::Open`] where there is no output to solve;
    /// [`Unsolvable::Frequency`] at 0 Hz (ask [`crate::resistance`]) or below; [`Unsolvable::Singular`].
    pub fn at(&mut self, frequency: Hertz) -> Result<&Response, Unsolvable> {
        match self.output {
            Output::Shorted => return Err(Unsolvable::Shorted),
            Output::Open => return Err(Unsolvable::Open),
            Output::Live => {}
        }
        let omega = std::f64::consts::TAU * frequency.0;
        if !(omega > 0.0 && omega.is_finite()) {
            return Err(Unsolvable::Frequency { read: frequency.0 });
        }
        self.equations.solve(frequency, omega, self.load)?;
        Ok(&self.equations.response)
    }
}
