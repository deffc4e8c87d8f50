//! A state made into branches between nets: the graph that both solvers and every question about paths start
//! from.

use crate::circuit::{Circuit, Coil, Sort, Terminal};
use crate::nets::{Current, Nets, Sets, wiper_shares};
use crate::path::on_simple_path;
use crate::state::{Changes, Setting, Wired};

/// What a branch is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Law {
    Resistance(f64),
    Capacitance(f64),
    Choke { resistance: f64, inductance: f64 },
    Coil(Coil),
}

/// A branch of one part between two nets; for a coil `from` is its hot end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Branch {
    pub(crate) part: usize,
    /// Whether it is a piece of a pot's track.
    pub(crate) track: bool,
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) law: Law,
}

/// Why a state cannot be solved. `Shorted` and `Open` are findings about the circuit; the rest are wrong
/// questions.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Unsolvable {
    /// The circuit has no jack.
    #[error("the circuit has no jack, so it has no output; add one and join its tip and sleeve")]
    NoJack,
    /// Tip and sleeve are one point.
    #[error("tip and sleeve are joined in this state: the output is shorted")]
    Shorted,
    /// Nothing leads from tip to sleeve.
    #[error("nothing leads from tip to sleeve in this state: the output is open")]
    Open,
    /// A setting that does not fit the circuit.
    #[error("{what} {read}; {wanted}")]
    Setting {
        /// What does not fit.
        what: &'static str,
        /// What was read.
        read: f64,
        /// What would be right.
        wanted: String,
    },
    /// A part or join that an experiment names and the circuit does not have.
    #[error("the experiment names {what} number {read}; the circuit has {count}, counted from 0")]
    NoSuchThing {
        /// `part`, `join` or `lug`.
        what: &'static str,
        /// The index read.
        read: usize,
        /// How many there are.
        count: usize,
    },
    /// A frequency that is none.
    #[error("{read} Hz is no frequency; give a number above 0")]
    Frequency {
        /// What was read.
        read: f64,
    },
    /// More nets than a dense solution should hold.
    #[error(
        "{nets} nets lie between tip and sleeve; up to {most} are solved. Leave out parts that do not matter here"
    )]
    TooLarge {
        /// How many there are.
        nets: usize,
        /// How many are solved.
        most: usize,
    },
    /// The equations have no single answer, as at the exact resonance of parts without loss.
    #[error(
        "the equations have no single answer here; parts without loss may resonate at this very frequency"
    )]
    Singular,
}

/// Checks that a setting and changes fit a circuit.
pub(crate) fn check(circuit: &Circuit, setting: &Setting, changes: &Changes) -> Result<(), Unsolvable> {
    let plans: Vec<_> = circuit.switches().map(|(_, plan)| plan).collect();
    let wrong = |what, read: f64, wanted: String| Err(Unsolvable::Setting { what, read, wanted });
    if setting.positions.len() != plans.len() {
        let wanted = format!("the circuit has {} switches", plans.len());
        return wrong("the number of switch positions given is", setting.positions.len() as f64, wanted);
    }
    let pots = circuit.pots().count();
    if setting.wipers.len() != pots {
        return wrong(
            "the number of knobs given is",
            setting.wipers.len() as f64,
            format!("the circuit has {pots} pots"),
        );
    }
    for (&position, plan) in setting.positions.iter().zip(&plans) {
        let count = plan.positions().len();
        if position >= count {
            let wanted = format!("that switch has {count} positions, counted from 0");
            return wrong("a switch is set to position", position as f64, wanted);
        }
    }
    if let Some(way) = setting.on_the_way {
        let next = setting.positions.get(way.switch).map(|position| position + 1);
        if next.is_none_or(|next| next >= plans[way.switch].positions().len()) {
            let wanted = "there is no such switch, or no position after the one it leaves".to_owned();
            return wrong("a switch is on its way: number", way.switch as f64, wanted);
        }
    }
    if let Some(&turn) = setting.wipers.iter().find(|turn| !(0.0..=1.0).contains(*turn)) {
        return wrong("a knob is turned to", turn, "a turn lies between 0 and 1".to_owned());
    }
    let parts = circuit.parts().len();
    let no_such = |what, read, count| Err(Unsolvable::NoSuchThing { what, read, count });
    let bridged = changes.bridged.iter().flat_map(|&(a, b)| [a, b]);
    let named =
        changes.opened.iter().chain(&changes.shorted).copied().chain(bridged.clone().map(|lug| lug.part));
    if let Some(part) = named.into_iter().find(|&part| part >= parts) {
        return no_such("part", part, parts);
    }
    if let Some(&join) = changes.parted.iter().find(|&&join| join >= circuit.joins().len()) {
        return no_such("join", join, circuit.joins().len());
    }
    for lug in bridged {
        let count = circuit.parts()[lug.part].lug_count();
        if lug.lug >= count {
            return no_such("lug", lug.lug, count);
        }
    }
    Ok(())
}

/// The nets of a state and the branches between them.
#[derive(Debug, Clone)]
pub(crate) struct Network {
    pub(crate) nets: Nets,
    pub(crate) branches: Vec<Branch>,
    /// Number of the island that each net belongs to.
    pub(crate) island: Vec<u32>,
    pub(crate) islands: usize,
}

/// What lies between the two ends of a port.
pub(crate) enum Port {
    Shorted,
    Open,
    /// The two nets and, for each branch, whether a simple path between them runs through it.
    Live {
        from: usize,
        to: usize,
        on_path: Vec<bool>,
    },
}

impl Network {
    pub(crate) fn new(
        wired: &Wired,
        setting: &Setting,
        changes: &Changes,
        current: Current,
    ) -> Result<Self, Unsolvable> {
        let circuit = wired.circuit();
        check(circuit, setting, changes)?;
        let shares = wiper_shares(circuit, setting, changes);
        let nets = Nets::new(wired, setting, &shares, changes, current);
        let mut branches = Vec::with_capacity(circuit.parts().len());
        for (part, &share) in shares.iter().enumerate() {
            if !changes.opened.contains(&part) {
                add_branches(circuit, part, share, changes, current, &nets, &mut branches);
            }
        }
        let mut sets = Sets::new(nets.count());
        for branch in &branches {
            sets.join(branch.from, branch.to);
        }
        let (island, islands) = sets.numbered();
        Ok(Self { nets, branches, island, islands })
    }

    pub(crate) fn port(&self, a: Terminal, b: Terminal) -> Port {
        let (from, to) = (self.nets.net(a), self.nets.net(b));
        if from == to {
            Port::Shorted
        } else if self.island[from] != self.island[to] {
            Port::Open
        } else {
            let edges: Vec<_> = self.branches.iter().map(|branch| (branch.from, branch.to)).collect();
            Port::Live { from, to, on_path: on_simple_path(self.nets.count(), &edges, from, to) }
        }
    }
}

fn add_branches(
    circuit: &Circuit,
    part: usize,
    share: f64,
    changes: &Changes,
    current: Current,
    nets: &Nets,
    branches: &mut Vec<Branch>,
) {
    let direct = current == Current::Direct;
    let sort = changes.sort(circuit, part);
    let track = matches!(sort, Sort::Pot(_));
    let mut add = |a: usize, b: usize, law| {
        let net = |lug| nets.net(Terminal { part, lug });
        branches.push(Branch { part, track, from: net(a), to: net(b), law });
    };
    match sort {
        // What is left of a broken coil is its capacitance: between the broken ends that is small and unsure, so how much
        // comes through is a matter of finding the fault, not of this network.
        Sort::Coil(coil) if coil.open && !direct && coil.capacitance.0 > 0.0 => {
            add(0, 1, Law::Capacitance(coil.capacitance.0));
        }
        Sort::Coil(coil) if coil.open => {}
        Sort::Coil(coil) if direct => add(0, 1, Law::Resistance(coil.resistance.0)),
        Sort::Coil(coil) => add(0, 1, Law::Coil(*coil)),
        Sort::Resistor(value) if value.0 > 0.0 => add(0, 1, Law::Resistance(value.0)),
        Sort::Choke { resistance, .. } if direct && resistance.0 > 0.0 => {
            add(0, 1, Law::Resistance(resistance.0))
        }
        Sort::Choke { resistance, inductance } if !direct && (resistance.0 > 0.0 || inductance.0 > 0.0) => {
            add(0, 1, Law::Choke { resistance: resistance.0, inductance: inductance.0 });
        }
        Sort::Capacitor(value) if !direct && value.0 > 0.0 => add(0, 1, Law::Capacitance(value.0)),
        Sort::Pot(pot) => {
            for (a, b, share) in [(0, 1, share), (1, 2, 1.0 - share)] {
                if share > 0.0 {
                    add(a, b, Law::Resistance(pot.track.0 * share));
                }
            }
        }
        _ => {}
    }
}
