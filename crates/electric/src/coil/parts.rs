//! Leads, joints and flatwork: each original or changed, gone over in full.

use super::answer::{Condition, Hand};
use super::feature::{self, About, Feature};
use super::opinions::{Matter, Opinions};

/// Leads, joints and flatwork: changed or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Changed {
    pub(super) leads: bool,
    pub(super) joints: bool,
    pub(super) flatwork: bool,
}

const STATES: [Changed; 8] = {
    let mut states = [Changed { leads: false, joints: false, flatwork: false }; 8];
    let mut place = 0;
    while place < 8 {
        states[place] = Changed { leads: place & 1 > 0, joints: place & 2 > 0, flatwork: place & 4 > 0 };
        place += 1;
    }
    states
};

/// What the sights that hang on hand and condition alone come to.
#[derive(Debug, Clone)]
pub(super) struct Parts {
    /// `ln p(sights | hand, condition)`.
    pub(super) log_likelihood: f64,
    /// Posterior shares of the states, given hand and condition; they sum to one.
    pub(super) states: [(Changed, f64); 8],
}

/// Whether a sight hangs on hand and condition alone, through parts that are summed out here.
pub(super) fn is_of_parts(feature: Feature) -> bool {
    matches!(
        feature.about(),
        About::Tape | About::StartLead | About::Lead | About::Flatwork | About::Joints | About::Cut
    )
}

/// Weighs the sights of parts under one hand and condition.
pub(super) fn weigh(hand: Hand, condition: Condition, seen: &[Feature], opinions: &Opinions) -> Parts {
    let states = STATES.map(|state| {
        let sights: f64 = seen
            .iter()
            .filter(|feature| is_of_parts(**feature))
            .map(|feature| likelihood(*feature, state, hand, condition, opinions))
            .product();
        (state, prior(state, hand, opinions) * sights)
    });
    let sum: f64 = states.iter().map(|(_, weight)| weight).sum();
    Parts { log_likelihood: libm::log(sum), states: states.map(|(state, weight)| (state, weight / sum)) }
}

impl Parts {
    /// Share of the states in which something holds.
    pub(super) fn share(&self, holds: impl Fn(Changed) -> bool) -> f64 {
        self.states.iter().filter(|(state, _)| holds(*state)).map(|(_, share)| share).sum()
    }
}

/// Prior of a state: the parts are changed independently, once the hand is known.
fn prior(state: Changed, hand: Hand, opinions: &Opinions) -> f64 {
    let [leads, joints, flatwork] = if hand.rewound() {
        [Matter::LeadsChangedIfRewound, Matter::JointsChangedIfRewound, Matter::FlatworkChangedIfRewound]
    } else {
        [Matter::LeadsChangedIfAsMade, Matter::JointsChangedIfAsMade, Matter::FlatworkChangedIfAsMade]
    };
    [(leads, state.leads), (joints, state.joints), (flatwork, state.flatwork)]
        .map(|(matter, changed)| {
            let share = opinions.value(matter);
            if changed { share } else { 1.0 - share }
        })
        .iter()
        .product()
}

/// How probable a sight is in a state; 1 for a sight that is none of these parts'.
pub(super) fn likelihood(
    seen: Feature,
    state: Changed,
    hand: Hand,
    condition: Condition,
    opinions: &Opinions,
) -> f64 {
    match seen.about() {
        About::Tape => feature::tape(seen, hand.rewound(), opinions),
        About::StartLead => feature::start_lead(seen, hand.rewound(), opinions),
        About::Lead => feature::lead(seen, state.leads),
        About::Flatwork => feature::flatwork(seen, state.flatwork),
        About::Joints => feature::joints(seen, state.joints, condition == Condition::JointInSeries),
        About::Cut => feature::cut(seen, state.leads || state.joints),
        _ => 1.0,
    }
}

/// Share of magnets changed under a hand.
pub(super) fn magnets_changed(hand: Hand, opinions: &Opinions) -> f64 {
    opinions.value(if hand.rewound() {
        Matter::MagnetsChangedIfRewound
    } else {
        Matter::MagnetsChangedIfAsMade
    })
}
