//! What the study of coils says of the sides of a coil, taken over; and what is asked for where it cannot say.

use asfound_electric::coil::{About, CoilPart, Considered, Feature, Hand, PartState, Piece};
use asfound_evidence::Aspect;
use asfound_weigh::Probability;

use super::{AspectJudged, Ground, SURE_ENOUGH, State};
use crate::coils::CoilStudied;

/// What tells a rewound coil from one as made, and ohms and pictures do not show. Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AskFor {
    /// Colour and kind of the wire's coat, under a good light.
    WireCoat,
    /// The cloth of the leads, and the wax.
    LeadClothAndWax,
    /// Tape or string round the winding.
    TapeOrString,
    /// Solder at the eyelets.
    EyeletJoints,
    /// Rivets or eyelets of the flatwork.
    FlatworkRivets,
    /// Marks that neighbouring parts left on each other.
    WitnessMarks,
    /// Inductance and Q beside an untouched example.
    InductanceAndQ,
}

const ALL: [AskFor; 7] = [
    AskFor::WireCoat,
    AskFor::LeadClothAndWax,
    AskFor::TapeOrString,
    AskFor::EyeletJoints,
    AskFor::FlatworkRivets,
    AskFor::WitnessMarks,
    AskFor::InductanceAndQ,
];

/// What to ask for where nothing but ohms is known of a coil; nothing, where anything else is.
pub(super) fn to_ask(coil: Option<&CoilStudied>) -> Vec<AskFor> {
    let only_ohms = coil.is_none_or(|coil| coil.pieces.iter().all(|(piece, _)| *piece == Piece::Ohms));
    if only_ohms { ALL.to_vec() } else { Vec::new() }
}

/// Sets what the study of coils weighed in the place of what signs alone say, for a side that it knows and of which
/// something was found.
pub(super) fn stands(judged: &mut AspectJudged, coil: &CoilStudied) {
    let Some(part) = part_of(judged.aspect) else { return };
    let knows_less = |ground: &Ground| match ground {
        Ground::Sign { seen, counts } => *counts && !WEIGHED_THERE.contains(&seen.what.id),
        Ground::Material { .. } | Ground::Study { .. } => false,
    };
    if part != CoilPart::Winding && judged.grounds.iter().any(knows_less) {
        return;
    }
    let Ok(weighed) = &coil.weighed else { return };
    let entries: Vec<u64> = coil
        .pieces
        .iter()
        .filter(|(piece, _)| bears_on(*piece, part))
        .flat_map(|(_, entries)| entries.iter().copied())
        .collect();
    if entries.is_empty() {
        return;
    }
    let found = weighed.part(part);
    judged.original = found.original;
    judged.state = match found.state {
        PartState::Original => State::Original,
        PartState::Changed => changed(judged, part),
        PartState::CannotTell => State::NotDecided,
    };
    judged.flips = false;
    if part == CoilPart::Winding {
        let as_made: &Considered<Hand> = &weighed.hands[Hand::AsMade as usize];
        judged.before = Some(as_made.before);
        judged.likelihood_ratio = Some(as_made.probability.odds() / as_made.before.odds());
    } else {
        judged.before = prior_of(judged);
    }
    by_material(judged, part);
    judged.grounds.push(Ground::Study { entries });
}

/// Signs that the study of coils weighs, too, by its own features; of others it knows nothing.
const WEIGHED_THERE: [&str; 14] = [
    "solder-dull",
    "solder-bright",
    "nothing-unsoldered",
    "something-unsoldered",
    "lead-old",
    "lead-new",
    "lead-spliced",
    "tape-newer",
    "tape-old",
    "flatwork-untouched",
    "flatwork-replaced",
    "flatwork-new-rivets",
    "rods-dirty",
    "rods-shiny",
];

/// A material named outright is nothing that the study of coils weighs: its ratio is taken with the odds found there.
fn by_material(judged: &mut AspectJudged, part: CoilPart) {
    let ratios = judged.grounds.iter().filter_map(|ground| match ground {
        Ground::Material { ratio, .. } => Some(*ratio),
        Ground::Sign { .. } | Ground::Study { .. } => None,
    });
    let Some(ratio) = ratios.min_by(f64::total_cmp) else { return };
    let odds = judged.original.odds() * ratio;
    judged.original = Probability::of_share(odds / (1.0 + odds));
    judged.likelihood_ratio = match part {
        CoilPart::Winding => judged.likelihood_ratio.map(|known| known * ratio),
        _ => judged.likelihood_ratio,
    };
    let original = judged.original.value();
    if original <= 1.0 - SURE_ENOUGH && ratio <= 0.5 {
        judged.state = if part == CoilPart::Winding { State::Altered } else { State::LaterReplacement };
    } else if judged.state == State::Original && original < SURE_ENOUGH {
        judged.state = State::NotDecided;
    }
}

/// What is changed is another where a sign says so, and the winding is always altered: it is wound on what was there.
fn changed(judged: &AspectJudged, part: CoilPart) -> State {
    match judged.state {
        State::Replaced | State::LaterReplacement if part != CoilPart::Winding => judged.state,
        _ => State::Altered,
    }
}

/// The probability before: from the one now and the ratio of the signs, where there are signs.
fn prior_of(judged: &AspectJudged) -> Option<Probability> {
    let ratio = judged.likelihood_ratio?;
    let odds = judged.original.odds() / ratio;
    Some(Probability::of_share(odds / (1.0 + odds)))
}

/// A coil that this workshop wound, or that is known to have been wound anew, is no longer weighed: the winding is altered.
pub(super) fn wound_anew(judged: &mut AspectJudged, entry: u64) {
    judged.state = State::Altered;
    judged.original = Probability::of_share(0.0);
    judged.before = None;
    judged.likelihood_ratio = None;
    judged.flips = false;
    judged.grounds = vec![Ground::Study { entries: vec![entry] }];
    judged.to_look = Vec::new();
}

const fn part_of(aspect: Aspect) -> Option<CoilPart> {
    match aspect {
        Aspect::Magnets => Some(CoilPart::Magnets),
        Aspect::Flatwork => Some(CoilPart::Flatwork),
        Aspect::Winding => Some(CoilPart::Winding),
        Aspect::Leads => Some(CoilPart::Leads),
        Aspect::Joints => Some(CoilPart::Joints),
        _ => None,
    }
}

/// Whether a piece bears on a part of the coil by itself; readings bear on the winding.
fn bears_on(piece: Piece, part: CoilPart) -> bool {
    let Piece::Seen(feature) = piece else { return part == CoilPart::Winding };
    of_feature(feature) == part
}

const fn of_feature(feature: Feature) -> CoilPart {
    match feature.about() {
        About::Lead => CoilPart::Leads,
        About::Flatwork => CoilPart::Flatwork,
        About::RodShape | About::RodSurface => CoilPart::Magnets,
        About::Joints | About::Cut => CoilPart::Joints,
        About::WireColour | About::Wax | About::Tape | About::StartLead | About::Fill | About::Sides => {
            CoilPart::Winding
        }
    }
}
