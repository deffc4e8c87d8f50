//! What to swap, in which order, and what a change does to tone and hum.

use super::found::{CoilSeen, Found, Lead, Metal};
use super::odd::OddOneOut;
use super::solve::{HumTogether, Phase, Polarity, Relation};

/// A change to one coil.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Change {
    /// Its two leads exchanged.
    SwapLeads {
        /// Which coil.
        coil: usize,
    },
    /// Its magnet, or all its magnets, turned over.
    TurnMagnet {
        /// Which coil.
        coil: usize,
    },
}

/// What a pair does before and after, for each way it may be now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairing {
    /// One coil.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// Before and after, for each way that remains possible.
    pub ways: Vec<[(Phase, HumTogether); 2]>,
}

impl Pairing {
    /// Whether the pair is full now and thin afterwards, in every way that remains.
    pub fn turns_thin(&self) -> bool {
        self.ways.iter().all(|[before, after]| before.0 == Phase::In && after.0 == Phase::Out)
    }

    /// Whether hum adds now and cancels afterwards, in every way that remains.
    pub fn turns_quiet(&self) -> bool {
        let turns = |[before, after]: &[(Phase, HumTogether); 2]| {
            before.1 == HumTogether::Adds && after.1 == HumTogether::Cancels
        };
        self.ways.iter().all(turns)
    }
}

/// What can be done about hum where nothing should be altered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Instead {
    /// Leave it: it was made so.
    Leave,
    /// Screen the cavity and the leads.
    Screen,
    /// Add a coil without a magnet that picks up the same hum.
    DummyCoil,
}

/// What changes will do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Predicted {
    /// Every pair that changes.
    pub pairs: Vec<Pairing>,
    /// Coils whose metal would come to the hot output by the swap.
    pub metal_live: Vec<usize>,
    /// Coils whose magnet would have to be turned as well for the tone to stay full.
    pub magnet_too: Vec<usize>,
    /// Whether the change, or what it needs besides, turns magnets: on original magnets that cannot be taken back unseen.
    pub touches_magnets: bool,
    /// What can be done instead, where the tone would suffer.
    pub instead: Vec<Instead>,
}

/// Predicts what changes will do, over everything that is not known.
///
/// Swapping leads turns string and hum sign together; turning a magnet turns the string sign alone. Changes to coils
/// that do not exist change nothing.
pub fn predict(found: &Found, polarity: &Polarity, changes: &[Change]) -> Predicted {
    let count = found.coils.len();
    let (mut string, mut hum) = (vec![false; count], vec![false; count]);
    for change in changes {
        let (Change::SwapLeads { coil } | Change::TurnMagnet { coil }) = *change;
        if coil < count {
            string[coil] ^= true;
            hum[coil] ^= matches!(change, Change::SwapLeads { .. });
        }
    }
    let pairs: Vec<Pairing> = polarity
        .relations
        .iter()
        .filter(|it| string[it.a] != string[it.b] || hum[it.a] != hum[it.b])
        .map(|it| pairing(it, string[it.a] != string[it.b], hum[it.a] != hum[it.b]))
        .collect();
    let swapped = |coil: &usize| hum[*coil];
    let metal_live =
        (0..count).filter(swapped).filter(|&coil| comes_to_hot(&found.coils[coil], polarity.coils[coil].hot));
    let magnet_too: Vec<usize> = (0..count)
        .filter(swapped)
        .filter(|&coil| string[coil])
        .filter(|&coil| pairs.iter().any(|pair| (pair.a == coil || pair.b == coil) && pair.turns_thin()))
        .collect();
    let turned = changes.iter().any(|change| matches!(change, Change::TurnMagnet { .. }));
    let instead = if magnet_too.is_empty() {
        Vec::new()
    } else {
        vec![Instead::Leave, Instead::Screen, Instead::DummyCoil]
    };
    Predicted {
        metal_live: metal_live.collect(),
        touches_magnets: turned || !magnet_too.is_empty(),
        pairs,
        magnet_too,
        instead,
    }
}

fn pairing(relation: &Relation, phase_turns: bool, hum_turns: bool) -> Pairing {
    let after = |&(phase, hum): &(Phase, HumTogether)| {
        let phase = match (phase, phase_turns) {
            (Phase::In, false) | (Phase::Out, true) => Phase::In,
            _ => Phase::Out,
        };
        let hum = match (hum, hum_turns) {
            (HumTogether::Adds, false) | (HumTogether::Cancels, true) => HumTogether::Adds,
            _ => HumTogether::Cancels,
        };
        (phase, hum)
    };
    let ways = relation.ways.iter().map(|way| [*way, after(way)]).collect();
    Pairing { a: relation.a, b: relation.b, ways }
}

/// Whether swapping this coil's leads brings its metal to hot. A cover found on the hot lead comes to ground by it.
fn comes_to_hot(coil: &CoilSeen, hot: Option<Lead>) -> bool {
    matches!(coil.metal, Metal::TiedTo(lead) if hot != Some(lead))
}

/// One step of a remedy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Step {
    /// Meter the coil's metal against both its leads: it is not known whether it is tied to one.
    MeterMetal {
        /// Which coil.
        coil: usize,
    },
    /// Part the metal from the lead it is tied to.
    FreeMetal {
        /// Which coil.
        coil: usize,
        /// The lead that it is tied to.
        lead: Lead,
    },
    /// Ground the metal by a wire of its own, which is one more lead in the record.
    GroundMetal {
        /// Which coil.
        coil: usize,
    },
    /// Exchange the two leads.
    SwapLeads {
        /// Which coil.
        coil: usize,
    },
    /// Meter the metal to the jack's sleeve (under an ohm) and to the coil's hot lead (the coil's ohms, not 0).
    CheckMetal {
        /// Which coil.
        coil: usize,
    },
    /// Hear these two together again.
    Hear {
        /// One coil.
        a: usize,
        /// The other.
        b: usize,
    },
}

/// One way to bring all coils in phase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remedy {
    /// The coils whose leads are swapped.
    pub swap: Vec<usize>,
    /// What to do, in this order.
    pub steps: Vec<Step>,
    /// What it will do.
    pub predicted: Predicted,
}

/// The ways to bring all coils in phase, the one that disturbs least first: with no metal on a lead that would come to
/// hot, then with no metal left to look at, then with the fewest coils. Empty where all agree, or where it is not
/// decided which coils stand against the others (then [`super::Strings::missing`] names the pairs to hear).
pub fn remedies(found: &Found, polarity: &Polarity) -> Vec<Remedy> {
    let [decided] = polarity.strings.odd.as_slice() else { return Vec::new() };
    let sides = match decided {
        OddOneOut::None => return Vec::new(),
        OddOneOut::One(coil) => [vec![*coil], (0..found.coils.len()).filter(|other| other != coil).collect()],
        OddOneOut::Sides { one, other } => [one.clone(), other.clone()],
    };
    let cost = |side: &[usize]| {
        let count = |which: &dyn Fn(usize) -> bool| side.iter().filter(|&&coil| which(coil)).count();
        let tied = count(&|coil| comes_to_hot(&found.coils[coil], polarity.coils[coil].hot));
        let unseen = count(&|coil| found.coils[coil].metal == Metal::Unknown);
        (tied, unseen, side.len())
    };
    let mut ways = sides;
    ways.sort_by_key(|side| cost(side));
    ways.into_iter().map(|swap| remedy(found, polarity, swap)).collect()
}

fn remedy(found: &Found, polarity: &Polarity, swap: Vec<usize>) -> Remedy {
    let mut steps = Vec::new();
    for &coil in &swap {
        let seen = &found.coils[coil];
        match seen.metal {
            Metal::Unknown => steps.push(Step::MeterMetal { coil }),
            Metal::TiedTo(lead) if comes_to_hot(seen, polarity.coils[coil].hot) => {
                steps.extend([Step::FreeMetal { coil, lead }, Step::GroundMetal { coil }]);
            }
            Metal::TiedTo(_) | Metal::None | Metal::OwnWire => {}
        }
        steps.push(Step::SwapLeads { coil });
        if !matches!(seen.metal, Metal::None) {
            steps.push(Step::CheckMetal { coil });
        }
    }
    let changes: Vec<Change> = swap.iter().map(|&coil| Change::SwapLeads { coil }).collect();
    let mut predicted = predict(found, polarity, &changes);
    // The metal is freed first, so none of it comes to hot.
    predicted.metal_live.clear();
    let heard =
        predicted.pairs.iter().filter(|pair| pair.ways.iter().any(|[before, _]| before.0 == Phase::Out));
    steps.extend(heard.map(|pair| Step::Hear { a: pair.a, b: pair.b }));
    Remedy { swap, steps, predicted }
}
