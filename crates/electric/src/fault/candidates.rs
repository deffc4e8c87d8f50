//! Every single fault that a circuit can have, with how common it is and the sizes it may have.

use std::collections::BTreeSet;

use super::answer::FaultError;
use super::assumed::Priors;
use super::edits::{Edits, Places, edits, joins_of};
use super::evidence::Evidence;
use super::kinds::{Fault, TrackEnd};
use crate::circuit::{Circuit, JoinTo, Sort, Terminal};
use crate::nets::Sets;

/// Single faults that are weighed.
pub(super) const MOST_FAULTS: usize = 3000;

/// A fault of one size.
#[derive(Debug, Clone)]
pub(super) struct Variant {
    pub(super) edits: Edits,
    /// Ohms, for a fault that has a size.
    pub(super) size: Option<f64>,
    /// Share of the fault's prior.
    pub(super) share: f64,
}

/// A fault with its prior odds and its sizes.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub(super) fault: Fault,
    pub(super) odds: f64,
    /// Sizes close together, for the fault alone.
    pub(super) fine: Vec<Variant>,
    /// Sizes far apart, for pairs.
    pub(super) coarse: Vec<Variant>,
}

/// Sizes from `least` to `most`, so many to a decade, and half of the step as the spread of the logarithm.
fn ladder(least: f64, decades: usize, per_decade: usize) -> (Vec<f64>, f64) {
    let step = std::f64::consts::LN_10 / per_decade as f64;
    let sizes = (0..=decades * per_decade).map(|at| least * libm::exp(step * at as f64)).collect();
    (sizes, 0.5 * step)
}

fn sizes(circuit: &Circuit, fault: Fault, per_decade: usize) -> Option<(Vec<f64>, f64)> {
    match fault {
        Fault::CoilLeaky { .. } | Fault::CapacitorLeaky { .. } => Some(ladder(1e3, 4, per_decade)),
        Fault::LugTouchesCoating { .. } => Some(ladder(3.0, 5, per_decade)),
        Fault::TrackOff { part } => {
            let Sort::Pot(pot) = &circuit.parts()[part].sort else { return None };
            let (sizes, spread) = ladder(pot.track.0 / 10.0, 2, per_decade.max(2));
            let off = |size: &f64| !(0.65..1.5).contains(&(size / pot.track.0));
            Some((sizes.into_iter().filter(off).collect(), spread))
        }
        _ => None,
    }
}

fn variants(circuit: &Circuit, places: &Places, fault: Fault, per_decade: usize) -> Vec<Variant> {
    match sizes(circuit, fault, per_decade) {
        None => vec![Variant { edits: edits(circuit, places, fault, 0.0, 0.0), size: None, share: 1.0 }],
        Some((sizes, spread)) => {
            let share = 1.0 / sizes.len() as f64;
            let variant = |size: f64| Variant {
                edits: edits(circuit, places, fault, size, spread),
                size: Some(size),
                share,
            };
            sizes.into_iter().map(variant).collect()
        }
    }
}

/// Every single fault that is looked for in this circuit, in a stable order.
///
/// A strand or a touch is told once for each point of the circuit: which of the lugs that joins make one point it is at,
/// no meter can tell. With a cavity that is not coated no lug touches a coating.
pub fn every_fault(circuit: &Circuit, coated: bool) -> Vec<Fault> {
    let coated = if coated { 1.0 } else { 0.0 };
    let Some(places) = Places::of(circuit) else { return Vec::new() };
    with_priors(circuit, &places, coated, &Priors::default()).into_iter().map(|(fault, _)| fault).collect()
}

/// Every single fault with its sizes.
pub(super) fn candidates(
    circuit: &Circuit,
    places: &Places,
    evidence: &Evidence,
    priors: &Priors,
) -> Result<Vec<Candidate>, FaultError> {
    let coated = match evidence.coated_cavity {
        Some(true) => 1.0,
        None => priors.coated,
        Some(false) => 0.0,
    };
    let all = with_priors(circuit, places, coated, priors);
    if all.len() > MOST_FAULTS {
        return Err(FaultError::TooManyFaults { read: all.len(), most: MOST_FAULTS });
    }
    let candidate = |(fault, prior): (Fault, f64)| Candidate {
        fault,
        odds: prior / (1.0 - prior),
        fine: variants(circuit, places, fault, 4),
        coarse: variants(circuit, places, fault, 1),
    };
    Ok(all.into_iter().map(candidate).collect())
}

fn with_priors(circuit: &Circuit, places: &Places, coated: f64, priors: &Priors) -> Vec<(Fault, f64)> {
    let mut all: Vec<(Fault, f64)> = Vec::new();
    joins(circuit, places, priors, &mut all);
    points(circuit, places, coated, priors, &mut all);
    for part in 0..circuit.parts().len() {
        at_part(circuit, part, priors, &mut all);
    }
    all.push((Fault::StringGroundBroken, priors.string_ground_broken));
    all.push((Fault::TipAndSleeveExchanged, priors.tip_and_sleeve_exchanged));
    all
}

fn joins(circuit: &Circuit, places: &Places, priors: &Priors, all: &mut Vec<(Fault, f64)>) {
    // The one wire to the strings is told as the string ground.
    let of_strings = places.strings.map_or(Vec::new(), |strings| joins_of(circuit, strings.part));
    let string_ground = if of_strings.len() == 1 { of_strings.first() } else { None };
    for join in (0..circuit.joins().len()).filter(|join| Some(join) != string_ground) {
        all.push((Fault::JoinOpen { join }, priors.join_open));
    }
}

/// Strands and touches, once for each point of the circuit: lugs that joins make one cannot be told apart.
fn points(circuit: &Circuit, places: &Places, coated: f64, priors: &Priors, all: &mut Vec<(Fault, f64)>) {
    for terminal in standing_for_points(circuit, places) {
        all.push((Fault::StrayToGround { terminal }, priors.stray_to_ground));
        if coated > 0.0 {
            all.push((Fault::LugTouchesCoating { terminal }, priors.lug_touches_coating * coated));
        }
    }
}

/// One lug for each point that is joined to something and is not ground: a pot's where there is one, because its lugs
/// stand nearest to the walls of the cavity, then a switch's, then whichever is first.
fn standing_for_points(circuit: &Circuit, places: &Places) -> Vec<Terminal> {
    let mut first = vec![0];
    for part in circuit.parts() {
        first.push(first[first.len() - 1] + part.lug_count());
    }
    let index = |lug: Terminal| first[lug.part] + lug.lug;
    let mut sets = Sets::new(first[first.len() - 1]);
    let mut joined = BTreeSet::new();
    for join in circuit.joins() {
        joined.insert(join.a);
        match &join.to {
            JoinTo::One(to) => {
                sets.join(index(join.a), index(*to));
                joined.insert(*to);
            }
            JoinTo::Candidates { terminals, .. } => joined.extend(terminals.iter().copied()),
        }
    }
    let ground = sets.find(index(places.sleeve));
    let rank = |lug: &Terminal| match &circuit.parts()[lug.part].sort {
        Sort::Pot(_) => [1, 2, 0, 3][lug.lug],
        Sort::Switch(_) => 4,
        _ => 5,
    };
    let mut lugs: Vec<Terminal> = joined.into_iter().collect();
    lugs.sort_by_key(rank);
    let mut seen = BTreeSet::from([ground]);
    let metal = |lug: &Terminal| matches!(circuit.parts()[lug.part].sort, Sort::Metal);
    let mut standing: Vec<Terminal> =
        lugs.into_iter().filter(|lug| !metal(lug) && seen.insert(sets.find(index(*lug)))).collect();
    standing.sort();
    standing
}

fn at_part(circuit: &Circuit, part: usize, priors: &Priors, all: &mut Vec<(Fault, f64)>) {
    let both_ends = [TrackEnd::Low, TrackEnd::High];
    match &circuit.parts()[part].sort {
        Sort::Coil(coil) if coil.open => {}
        Sort::Coil(coil) => {
            all.push((Fault::CoilOpen { part }, priors.coil_open));
            all.push((Fault::CoilLeaky { part }, priors.coil_leaky));
            all.push((Fault::CoilShorted { part }, priors.coil_shorted));
            all.push((Fault::LeadsSwapped { part }, priors.leads_swapped));
            if coil.cover {
                all.push((Fault::CoverOnHot { part }, priors.cover_on_hot));
            }
        }
        Sort::Pot(_) => {
            all.push((Fault::TrackOff { part }, priors.track_off));
            if joined(circuit, Terminal { part, lug: 1 }) {
                all.push((Fault::WiperLifted { part }, priors.wiper_lifted));
            }
            for end in both_ends {
                all.push((Fault::TrackOpen { part, end }, priors.track_open));
                all.push((Fault::WiperShorted { part, end }, priors.wiper_shorted));
            }
        }
        Sort::Capacitor(_) => {
            all.push((Fault::CapacitorShorted { part }, priors.capacitor_shorted));
            all.push((Fault::CapacitorLeaky { part }, priors.capacitor_leaky));
            all.push((Fault::CapacitorOpen { part }, priors.capacitor_open));
        }
        Sort::Resistor(_) | Sort::Choke { .. } => {
            all.push((Fault::ResistorOpen { part }, priors.resistor_open));
        }
        Sort::Switch(_) => contacts(circuit, part, priors, all),
        Sort::Jack | Sort::Metal | Sort::Post { .. } => {}
    }
}

fn joined(circuit: &Circuit, lug: Terminal) -> bool {
    circuit.joins().iter().any(|join| {
        join.a == lug
            || match &join.to {
                JoinTo::One(to) => *to == lug,
                JoinTo::Candidates { terminals, .. } => terminals.contains(&lug),
            }
    })
}

fn contacts(circuit: &Circuit, part: usize, priors: &Priors, all: &mut Vec<(Fault, f64)>) {
    let Sort::Switch(plan) = &circuit.parts()[part].sort else { return };
    let used = |lug: usize| joined(circuit, Terminal { part, lug });
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    for (position, stop) in plan.positions().iter().enumerate() {
        for &(a, b) in stop.contacts.iter().filter(|(a, b)| used(*a) && used(*b)) {
            all.push((Fault::ContactDead { part, position, a, b }, priors.contact_dead));
            if !pairs.contains(&(a.min(b), a.max(b))) {
                pairs.push((a.min(b), a.max(b)));
            }
        }
    }
    let always = |pair: &(usize, usize)| {
        plan.positions().iter().all(|stop| stop.contacts.iter().any(|(a, b)| (*a.min(b), *a.max(b)) == *pair))
    };
    for (a, b) in pairs.into_iter().filter(|pair| !always(pair)) {
        all.push((Fault::ContactStuck { part, a, b }, priors.contact_stuck));
    }
}
