//! What each piece says for and against, and whether a leader holds.

use super::answer::{Condition, Considered, Hand, Lead, OhmsAlone, Said};
use super::draws::log_sum;
use super::opinions::{FAULTS, Matter, Opinions};
use super::prior::{self, STRATA, pair};
use super::weighing::{Weighing, of_condition, of_hand};
use asfound_weigh::Probability;

/// A ratio that is beyond counting is cut off here: e to the 30th is more than any scale of words distinguishes.
const MOST: f64 = 30.0;

pub(super) fn conditions(weighing: &Weighing) -> Vec<Considered<Condition>> {
    considered(weighing, &Condition::ALL, |stratum| pair(stratum).0, prior::of_condition)
}

pub(super) fn hands(weighing: &Weighing) -> Vec<Considered<Hand>> {
    considered(weighing, &Hand::ALL, |stratum| pair(stratum).1, prior::of_hand)
}

fn considered<T: Copy + PartialEq>(
    weighing: &Weighing,
    all: &[T],
    of: impl Fn(usize) -> T,
    before: impl Fn(T, &Opinions) -> f64,
) -> Vec<Considered<T>> {
    let without: Vec<[f64; STRATA]> =
        (0..weighing.evidence.pieces.len()).map(|piece| weighing.log_masses_without(piece)).collect();
    let shares = weighing.shares();
    all.iter()
        .map(|what| {
            let is = |stratum: usize| of(stratum) == *what;
            let share: f64 = (0..STRATA).filter(|stratum| is(*stratum)).map(|stratum| shares[stratum]).sum();
            let with = log_odds(&weighing.log_masses, is);
            let mut speaks: Vec<Said> = weighing
                .evidence
                .pieces
                .iter()
                .zip(&without)
                .map(|(piece, without)| {
                    let change = with - log_odds(without, is);
                    // Ruled out with the piece and without it: it tells nothing.
                    let log_ratio = if change.is_nan() { 0.0 } else { change.clamp(-MOST, MOST) };
                    Said { piece: *piece, log_ratio }
                })
                .collect();
            speaks.sort_by(|a, b| b.log_ratio.abs().total_cmp(&a.log_ratio.abs()));
            Considered {
                what: *what,
                probability: Probability::of_share(share * (1.0 - weighing.none)),
                before: Probability::of_share(before(*what, weighing.evidence.opinions)),
                speaks,
            }
        })
        .collect()
}

fn log_odds(logs: &[f64; STRATA], is: impl Fn(usize) -> bool) -> f64 {
    let of = |wanted: bool| {
        let places: Vec<f64> =
            (0..STRATA).filter(|place| is(*place) == wanted).map(|place| logs[place]).collect();
        log_sum(places.into_iter())
    };
    of(true) - of(false)
}

/// Opinions whose ends are tried: those that hang on condition and hand alone. The others are spreads that the draws go
/// over already.
const TRIED: [Matter; 12] = [
    Matter::Rewound,
    Matter::RewoundAlike,
    Matter::LeadsChangedIfAsMade,
    Matter::LeadsChangedIfRewound,
    Matter::JointsChangedIfAsMade,
    Matter::JointsChangedIfRewound,
    Matter::FlatworkChangedIfAsMade,
    Matter::FlatworkChangedIfRewound,
    Matter::TapeNewerIfAsMade,
    Matter::TapeNewerIfRewound,
    Matter::StartOnOtherSideIfAsMade,
    Matter::StartOnOtherSideIfRewound,
];

pub(super) fn condition_lead(weighing: &Weighing, effective: f64) -> Lead<Condition> {
    lead(weighing, effective, &Condition::ALL, of_condition)
}

pub(super) fn hand_lead(weighing: &Weighing, effective: f64) -> Lead<Hand> {
    lead(weighing, effective, &Hand::ALL, of_hand)
}

fn lead<T: Copy + PartialEq>(
    weighing: &Weighing,
    effective: f64,
    all: &[T],
    share: impl Fn(&[f64; STRATA], T) -> f64,
) -> Lead<T> {
    let first = |shares: &[f64; STRATA]| {
        let mut best = all[0];
        for other in &all[1..] {
            if share(shares, *other) > share(shares, best) {
                best = *other;
            }
        }
        best
    };
    let shares = weighing.shares();
    let leader = first(&shares);
    let mut turned_by = Vec::new();
    for opinion in Opinions::all() {
        if !(TRIED.contains(&opinion.matter) || FAULTS.contains(&opinion.matter)) {
            continue;
        }
        for value in [opinion.range.0, opinion.range.1] {
            let other = first(&weighing.shares_with(opinion.matter, value));
            if other != leader {
                turned_by.push((opinion.matter, value, other));
            }
        }
    }
    // Two standard errors of the difference of two shares counted over the effective draws.
    let leads = share(&shares, leader);
    let close = all.iter().filter(|other| **other != leader).any(|other| {
        let follows = share(&shares, *other);
        leads - follows < 2.0 * ((leads + follows) / effective.max(1.0)).sqrt()
    });
    if turned_by.is_empty() && !close {
        Lead::Decided(leader)
    } else {
        Lead::NotDecided { leader, turned_by }
    }
}

/// Pairs that the ohms alone do not tell apart by a factor of two.
pub(super) fn ohms_alone(weighing: &Weighing) -> OhmsAlone {
    let logs = weighing.draws.log_means(|_, draw| draw.log_ohms);
    let opinions = weighing.evidence.opinions;
    let over = |of_pair: &dyn Fn(Condition, Hand) -> Option<f64>| {
        let terms: Vec<f64> = (0..STRATA)
            .filter_map(|stratum| {
                let (condition, hand) = pair(stratum);
                Some(logs[stratum] + libm::log(of_pair(condition, hand)?))
            })
            .collect();
        log_sum(terms.into_iter())
    };
    let of_hand = |hand: Hand| {
        over(&|condition, other| (hand == other).then(|| prior::of_condition(condition, opinions)))
    };
    let of_condition = |condition: Condition| {
        over(&|other, hand| (condition == other).then(|| prior::of_hand(hand, opinions)))
    };
    OhmsAlone {
        cannot_tell_hands: not_told(&Hand::ALL, of_hand),
        cannot_tell_conditions: not_told(&Condition::ALL, of_condition),
    }
}

fn not_told<T: Copy>(all: &[T], log_likelihood: impl Fn(T) -> f64) -> Vec<(T, T)> {
    let logs: Vec<f64> = all.iter().map(|what| log_likelihood(*what)).collect();
    let mut pairs = Vec::new();
    for (place, first) in all.iter().enumerate() {
        for (other, second) in all.iter().enumerate().skip(place + 1) {
            if (logs[place] - logs[other]).abs() < std::f64::consts::LN_2 {
                pairs.push((*first, *second));
            }
        }
    }
    pairs
}
