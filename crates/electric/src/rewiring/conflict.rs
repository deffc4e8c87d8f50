//! Wishes that cannot be had together: by what they say, by the signs of the coils, or because nothing was found.

use super::answer::{Conflict, WhyNot};
use super::wish::{Place, Wish};
use crate::explain::CoilSigns;
use crate::polarity::Phase;

/// What is certain without any search.
pub(super) fn proven(wishes: &[Wish], signs: &[Vec<CoilSigns>]) -> Vec<Conflict> {
    let mut found = Vec::new();
    for (at, wish) in wishes.iter().enumerate() {
        if let Wish::HumCancels { coils, .. } = wish
            && coils.len() == 1
        {
            found.push(Conflict { wishes: vec![at], why: WhyNot::OneCoil });
        }
        for (other, with) in wishes.iter().enumerate().skip(at + 1) {
            if let Some(why) = together(wish, with, signs).or_else(|| together(with, wish, signs)) {
                found.push(Conflict { wishes: vec![at, other], why });
            }
        }
    }
    found
}

fn together(one: &Wish, other: &Wish, signs: &[Vec<CoilSigns>]) -> Option<WhyNot> {
    match (one, other) {
        (Wish::MasterVolume, Wish::VolumesIndependent) => Some(WhyNot::MasterAgainstIndependent),
        (
            Wish::Heard { place, coils, joined, phase },
            Wish::Heard { place: there, coils: others, joined: so, phase: then },
        ) if place == there && *place != Place::Anywhere => {
            let differ = coils != others
                || joined.is_some() && so.is_some() && joined != so
                || phase.is_some() && then.is_some() && phase != then;
            differ.then_some(WhyNot::SamePlace)
        }
        (Wish::Heard { place, coils, phase, .. }, Wish::HumCancels { place: there, coils: others }) => {
            // Elsewhere a switch may join the leads the other way round.
            if place != there || *place == Place::Anywhere {
                return None;
            }
            match (coils.as_slice(), phase) {
                _ if !others.is_empty() && coils != others => Some(WhyNot::SamePlace),
                ([_], _) => Some(WhyNot::OneCoil),
                (&[a, b], Some(phase)) => magnets(a, b, *phase, signs),
                _ => None,
            }
        }
        _ => None,
    }
}

/// In phase is s w m alike, hum-cancelling is s w unlike; so together they need unlike m, whichever way the leads go.
fn magnets(a: usize, b: usize, phase: Phase, signs: &[Vec<CoilSigns>]) -> Option<WhyNot> {
    let alike = |signs: &Vec<CoilSigns>| signs[a].north == signs[b].north;
    match phase {
        Phase::In if signs.iter().all(alike) => Some(WhyNot::LikeMagnets { a, b }),
        Phase::Out if !signs.iter().any(alike) => Some(WhyNot::OppositeMagnets { a, b }),
        _ => None,
    }
}

/// The smallest sets of wishes that no wiring seen meets together, beside those known already. `seen` are sets of
/// wishes met, as bits.
pub(super) fn not_found(wishes: usize, seen: &[u16], known: &[Conflict]) -> Vec<Conflict> {
    let mut sets: Vec<u16> =
        known.iter().map(|it| it.wishes.iter().fold(0, |set, wish| set | 1 << wish)).collect();
    let mut found = Vec::new();
    for size in 1..=wishes as u32 {
        for set in (1u16..1 << wishes).filter(|set| set.count_ones() == size) {
            let smaller = sets.iter().any(|known| known & set == *known);
            if smaller || seen.iter().any(|met| met & set == set) {
                continue;
            }
            sets.push(set);
            let wishes = (0..wishes).filter(|wish| set >> wish & 1 == 1).collect();
            found.push(Conflict { wishes, why: WhyNot::NotFound });
        }
    }
    found
}
