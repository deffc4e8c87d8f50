//! A fault as what it changes in the network, for direct current and for sound alike.

use super::kinds::Fault;
use crate::circuit::{Circuit, JoinTo, Sort, Terminal};

/// A resistance that nobody drew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Leak {
    pub(super) a: Terminal,
    pub(super) b: Terminal,
    pub(super) ohms: f64,
}

/// What a fault changes. Several can hold at once.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Edits {
    /// Parts without their branches.
    pub(super) opened: Vec<usize>,
    /// Joins that do not hold.
    pub(super) parted: Vec<usize>,
    /// Lugs that touch.
    pub(super) bridged: Vec<(Terminal, Terminal)>,
    pub(super) leak: Option<Leak>,
    /// A contact that fails: switch, position, two lugs.
    pub(super) dead: Option<(usize, usize, usize, usize)>,
    /// A pot with a lug off its track.
    pub(super) lug_off: Option<Terminal>,
    /// A track of other ohms.
    pub(super) track: Option<(usize, f64)>,
    /// A coil whose winding is broken; some of its sound still comes across the gap.
    pub(super) broken: Option<usize>,
    /// A coil that works the other way round.
    pub(super) flipped: Option<usize>,
    /// Two lugs whose joins are exchanged.
    pub(super) exchanged: Option<(Terminal, Terminal)>,
    /// The strings are on nothing.
    pub(super) strings_off: bool,
    /// How far the size of the fault is from the one stated, as a standard uncertainty of its logarithm.
    pub(super) spread: f64,
}

impl Edits {
    /// Where the joins of this lug end with the fault.
    pub(super) fn place(&self, lug: Terminal) -> Terminal {
        match self.exchanged {
            Some((a, b)) if lug == a => b,
            Some((a, b)) if lug == b => a,
            _ => lug,
        }
    }
}

/// The places of a circuit that faults are told by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Places {
    pub(super) tip: Terminal,
    pub(super) sleeve: Terminal,
    /// A lug on ground that stays there when the jack is wired the wrong way round.
    pub(super) ground: Terminal,
    /// The strings or the bridge, where they were traced.
    pub(super) strings: Option<Terminal>,
}

impl Places {
    /// `None` without a jack.
    pub(super) fn of(circuit: &Circuit) -> Option<Self> {
        let jack = circuit.jacks().next()?;
        let (tip, sleeve) = (Terminal { part: jack, lug: 0 }, Terminal { part: jack, lug: 1 });
        let beside = circuit.joins().iter().find_map(|join| match join.to {
            JoinTo::One(to) if to == sleeve => Some(join.a),
            JoinTo::One(to) if join.a == sleeve => Some(to),
            _ => None,
        });
        Some(Self { tip, sleeve, ground: beside.unwrap_or(sleeve), strings: strings(circuit) })
    }
}

/// The metal that the strings are on: the one that is called so, or the only one there is.
fn strings(circuit: &Circuit) -> Option<Terminal> {
    let metal: Vec<usize> =
        (0..circuit.parts().len()).filter(|part| circuit.parts()[*part].sort == Sort::Metal).collect();
    let called = metal.iter().find(|part| {
        let name = circuit.parts()[**part].name.to_lowercase();
        ["string", "bridge", "tailpiece", "stud", "vibrato"].iter().any(|word| name.contains(word))
    });
    let only = if metal.len() == 1 { metal.first() } else { None };
    called.or(only).map(|part| Terminal { part: *part, lug: 0 })
}

/// The joins, by index, that may end at this part.
pub(super) fn joins_of(circuit: &Circuit, part: usize) -> Vec<usize> {
    let ends = |index: &usize| {
        let join = &circuit.joins()[*index];
        join.a.part == part
            || match &join.to {
                JoinTo::One(to) => to.part == part,
                JoinTo::Candidates { terminals, .. } => terminals.iter().any(|to| to.part == part),
            }
    };
    (0..circuit.joins().len()).filter(ends).collect()
}

/// What a fault changes; `size` is its ohms, for a fault that has a size.
pub(super) fn edits(circuit: &Circuit, places: &Places, fault: Fault, size: f64, spread: f64) -> Edits {
    let lug = |part, lug| Terminal { part, lug };
    let across = |part| Some(Leak { a: lug(part, 0), b: lug(part, 1), ohms: size });
    let none = Edits { spread, ..Edits::default() };
    match fault {
        Fault::CoilOpen { part } => Edits { opened: vec![part], broken: Some(part), ..none },
        Fault::CoilLeaky { part } | Fault::CapacitorLeaky { part } => Edits { leak: across(part), ..none },
        Fault::CoilShorted { part } | Fault::CapacitorShorted { part } => {
            Edits { bridged: vec![(lug(part, 0), lug(part, 1))], ..none }
        }
        Fault::LeadsSwapped { part } => Edits { flipped: Some(part), ..none },
        Fault::CoverOnHot { part } => {
            let cover = lug(part, 2);
            let joins = circuit.joins();
            let parted = joins_of(circuit, part)
                .into_iter()
                .filter(|join| joins[*join].a == cover || joins[*join].to == JoinTo::One(cover))
                .collect();
            Edits { parted, bridged: vec![(lug(part, 0), cover)], flipped: Some(part), ..none }
        }
        Fault::JoinOpen { join } => Edits { parted: vec![join], ..none },
        Fault::StrayToGround { terminal } => Edits { bridged: vec![(terminal, places.ground)], ..none },
        Fault::LugTouchesCoating { terminal } => {
            Edits { leak: Some(Leak { a: terminal, b: places.ground, ohms: size }), ..none }
        }
        Fault::ContactDead { part, position, a, b } => Edits { dead: Some((part, position, a, b)), ..none },
        Fault::ContactStuck { part, a, b } => Edits { bridged: vec![(lug(part, a), lug(part, b))], ..none },
        Fault::TrackOpen { part, end } => Edits { lug_off: Some(lug(part, end.lug())), ..none },
        Fault::TrackOff { part } => Edits { track: Some((part, size)), ..none },
        Fault::WiperLifted { part } => Edits { lug_off: Some(lug(part, 1)), ..none },
        Fault::WiperShorted { part, end } => {
            Edits { bridged: vec![(lug(part, 1), lug(part, end.lug()))], ..none }
        }
        Fault::CapacitorOpen { part } | Fault::ResistorOpen { part } => Edits { opened: vec![part], ..none },
        Fault::StringGroundBroken => {
            let parted = places.strings.map_or(Vec::new(), |strings| joins_of(circuit, strings.part));
            Edits { parted, strings_off: true, ..none }
        }
        Fault::TipAndSleeveExchanged => Edits { exchanged: Some((places.tip, places.sleeve)), ..none },
    }
}
