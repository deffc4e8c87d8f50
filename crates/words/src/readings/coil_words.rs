//! What a coil's weighing speaks of, in the trade's words.

use asfound_study::coils::{Build, Insulation};
use asfound_study::coils::{Cause, CoilPart, Condition, Hand, Look, PartState, Piece};

/// What ails it, after `it is`.
pub(crate) fn condition(condition: Condition) -> &'static str {
    match condition {
        Condition::Healthy => "sound",
        Condition::PartShorted => "part of its turns shorted on themselves",
        Condition::PartBridged => "part of its turns bridged out",
        Condition::Open => "broken, and leaking across the break",
        Condition::JointInSeries => "a poor joint in series",
        Condition::OtherTemperature => "sound, and not as warm or cold as said",
    }
}

/// Whose winding it is.
pub(crate) fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::AsMade => "the winding it was made with",
        Hand::RewoundAlike => "rewound with like wire",
        Hand::RewoundOtherwise => "rewound with another wire",
    }
}

pub(crate) fn coil_part(part: CoilPart) -> &'static str {
    match part {
        CoilPart::Magnets => "magnets",
        CoilPart::Flatwork => "flatwork",
        CoilPart::Winding => "winding",
        CoilPart::Leads => "leads",
        CoilPart::Joints => "joints",
    }
}

pub(crate) fn part_state(state: PartState) -> &'static str {
    match state {
        PartState::Original => "original",
        PartState::Changed => "changed",
        PartState::CannotTell => "cannot tell",
    }
}

/// Why look and ohms disagree.
pub(crate) fn cause(cause: Cause, looks_full: bool) -> &'static str {
    match (cause, looks_full) {
        (Cause::WireOrBuild, true) => "thicker wire or a thicker coat on it",
        (Cause::WireOrBuild, false) => "thinner wire or a thinner coat on it",
        (Cause::Packing, true) => "looser winding",
        (Cause::Packing, false) => "tighter winding",
        (Cause::MeanTurn, _) => "a longer or shorter mean turn, or another height",
        (Cause::PartShorted, _) => "part of it shorted or bridged out",
        (Cause::AnotherWire, _) => "a rewind with another wire",
        (Cause::Joint, _) => "extra ohms in a joint",
        (Cause::Temperature, _) => "another temperature than it was taken to be",
    }
}

pub(crate) fn build(build: Build) -> &'static str {
    match build {
        Build::Single => "single build",
        Build::Heavy => "heavy build",
    }
}

pub(crate) fn insulation(insulation: Insulation) -> &'static str {
    match insulation {
        Insulation::PlainEnamel => "plain enamel",
        Insulation::PolyvinylAcetal => "polyvinyl acetal",
        Insulation::Polyurethane => "polyurethane",
    }
}

/// A piece of what was found.
pub(crate) fn piece(piece: Piece) -> &'static str {
    match piece {
        Piece::Ohms => "its ohms",
        Piece::Depth => "the depth of its winding",
        Piece::OuterWidth => "its outer width",
        Piece::OuterLength => "its outer length",
        Piece::WindingHeight => "the height of its winding",
        Piece::Inductance(_) => "its inductance",
        Piece::Quality(_) => "its Q",
        Piece::WireOverInsulation => "the wire over its coat",
        Piece::WireBare => "the bare wire",
        Piece::Seen(feature) => feature.words(),
    }
}

/// A look to make next: what to do, and what can hurt or be lost by it.
pub(crate) fn look(look: Look, name: &str) -> (String, &'static str) {
    match look {
        Look::Temperature => (
            format!(
                "Lay a thermometer by the {name} for ten minutes, then read its ohms with the temperature."
            ),
            "",
        ),
        Look::MicrometerOnLooseEnd => (
            format!("Measure the wire of the {name} over its coat, on an end that is loose already."),
            "Never scrape the coat for it: what is scraped off cannot be put back.",
        ),
        Look::OutsideDepth => {
            (format!("Measure the depth of the {name}'s winding with a calliper, without pressing."), "")
        }
        Look::InductanceLow => {
            (format!("Read the {name}'s inductance at 120 Hz, series, its cable off."), "")
        }
        Look::InductanceMiddle => {
            (format!("Read the {name}'s inductance at 1 kHz, series, its cable off."), "")
        }
        Look::QualityMiddle => (format!("Read the {name}'s Q at 1 kHz, its cable off."), ""),
        Look::QualityHigh => (format!("Read the {name}'s Q at 10 kHz, its cable off."), ""),
        Look::Sweep => {
            (format!("Take an impedance sweep of the {name}, or the test with two resistors."), "")
        }
        Look::Photographs => (
            format!(
                "Photograph the {name}'s tape, leads, flatwork and joints close up, and look at them large."
            ),
            "",
        ),
        Look::WireColour => (
            format!("Look at the colour of the {name}'s wire under daylight or a good lamp; say which."),
            "Colour is weak evidence and hangs on the lamp; nothing is opened or scraped for it.",
        ),
        Look::OhmsPastTheJoints => (
            format!(
                "Read the {name} again past its joints, on the wire's own ends, where they are bare already."
            ),
            "",
        ),
        Look::Tap => (
            format!(
                "Tap the {name}'s rods lightly with steel, a meter or a small battery amplifier on its leads."
            ),
            "Unplugged from any mains-powered amplifier.",
        ),
    }
}

/// A look in two or three words, for a table.
pub(crate) fn look_named(look: Look) -> &'static str {
    match look {
        Look::Temperature => "its temperature",
        Look::MicrometerOnLooseEnd => "micrometer on a loose end",
        Look::OutsideDepth => "depth of the winding",
        Look::InductanceLow => "inductance at 120 Hz",
        Look::InductanceMiddle => "inductance at 1 kHz",
        Look::QualityMiddle => "Q at 1 kHz",
        Look::QualityHigh => "Q at 10 kHz",
        Look::Sweep => "impedance sweep",
        Look::Photographs => "photographs close up",
        Look::WireColour => "colour of the wire",
        Look::OhmsPastTheJoints => "ohms past the joints",
        Look::Tap => "tap with steel",
    }
}
