//! The faults that are looked for, each at its place in the circuit.

use crate::circuit::{Circuit, Terminal};

/// An end of a pot's track.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TrackEnd {
    /// Lug 1.
    Low,
    /// Lug 3.
    High,
}

impl TrackEnd {
    /// The lug at this end, as an index into the pot's lugs.
    pub const fn lug(self) -> usize {
        match self {
            TrackEnd::Low => 0,
            TrackEnd::High => 2,
        }
    }
}

/// One physical fault. Parts, joins, positions and lugs are indexes into the circuit that was asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fault {
    /// The winding of a coil is broken, within the coil.
    CoilOpen {
        /// The coil.
        part: usize,
    },
    /// A coil leaks from lead to lead: damp or a damaged insulation beside the winding. Its size is the leak in ohms.
    CoilLeaky {
        /// The coil.
        part: usize,
    },
    /// The leads of a coil touch each other.
    CoilShorted {
        /// The coil.
        part: usize,
    },
    /// The two ends of a coil are exchanged: it works against the others.
    LeadsSwapped {
        /// The coil.
        part: usize,
    },
    /// A coil's ends were exchanged and its cover went with its ground end, so the cover is on the hot lead.
    CoverOnHot {
        /// The coil.
        part: usize,
    },
    /// A joint or its wire does not conduct.
    JoinOpen {
        /// The join, as an index into [`Circuit::joins`].
        join: usize,
    },
    /// A strand or a blob of solder connects a lug to ground.
    StrayToGround {
        /// The lug.
        terminal: Terminal,
    },
    /// A lug touches conductive paint or foil that is on ground. Its size is the ohms of the touch.
    LugTouchesCoating {
        /// The lug.
        terminal: Terminal,
    },
    /// A contact that should touch in a position does not.
    ContactDead {
        /// The switch.
        part: usize,
        /// The position.
        position: usize,
        /// One lug of it.
        a: usize,
        /// The other.
        b: usize,
    },
    /// Two lugs of a switch touch in every position.
    ContactStuck {
        /// The switch.
        part: usize,
        /// One lug of it.
        a: usize,
        /// The other.
        b: usize,
    },
    /// A pot's track is broken at one end: that lug is on nothing.
    TrackOpen {
        /// The pot.
        part: usize,
        /// Which end.
        end: TrackEnd,
    },
    /// A pot's track is far from the value the trace gives. Its size is the whole track in ohms.
    TrackOff {
        /// The pot.
        part: usize,
    },
    /// A pot's wiper touches nothing.
    WiperLifted {
        /// The pot.
        part: usize,
    },
    /// A pot's wiper is shorted to one end of the track.
    WiperShorted {
        /// The pot.
        part: usize,
        /// Which end.
        end: TrackEnd,
    },
    /// A capacitor conducts like a wire.
    CapacitorShorted {
        /// The capacitor.
        part: usize,
    },
    /// A capacitor leaks. Its size is the leak in ohms.
    CapacitorLeaky {
        /// The capacitor.
        part: usize,
    },
    /// A capacitor is open: it passes nothing.
    CapacitorOpen {
        /// The capacitor.
        part: usize,
    },
    /// A resistor or a choke is open.
    ResistorOpen {
        /// The resistor or the choke.
        part: usize,
    },
    /// The strings are not on ground: the wire to the bridge or the tailpiece is off.
    StringGroundBroken,
    /// Hot and ground are exchanged at the output jack.
    TipAndSleeveExchanged,
}

impl Fault {
    /// The part that the fault is at, where it is at one part.
    pub fn part(&self) -> Option<usize> {
        match *self {
            Fault::CoilOpen { part }
            | Fault::CoilLeaky { part }
            | Fault::CoilShorted { part }
            | Fault::LeadsSwapped { part }
            | Fault::CoverOnHot { part }
            | Fault::ContactDead { part, .. }
            | Fault::ContactStuck { part, .. }
            | Fault::TrackOpen { part, .. }
            | Fault::TrackOff { part }
            | Fault::WiperLifted { part }
            | Fault::WiperShorted { part, .. }
            | Fault::CapacitorShorted { part }
            | Fault::CapacitorLeaky { part }
            | Fault::CapacitorOpen { part }
            | Fault::ResistorOpen { part } => Some(part),
            Fault::StrayToGround { terminal } | Fault::LugTouchesCoating { terminal } => Some(terminal.part),
            Fault::JoinOpen { .. } | Fault::StringGroundBroken | Fault::TipAndSleeveExchanged => None,
        }
    }

    /// Whether the fault is at this part or at a join of it.
    pub fn is_at(&self, circuit: &Circuit, part: usize) -> bool {
        let ends_there = |join: usize| {
            circuit.joins().get(join).is_some_and(|join| {
                join.a.part == part
                    || match &join.to {
                        crate::JoinTo::One(to) => to.part == part,
                        crate::JoinTo::Candidates { terminals, .. } => {
                            terminals.iter().any(|to| to.part == part)
                        }
                    }
            })
        };
        match *self {
            Fault::JoinOpen { join } => ends_there(join),
            Fault::TipAndSleeveExchanged => circuit.jacks().any(|jack| jack == part),
            _ => self.part() == Some(part),
        }
    }
}
