//! What the eye sees on a coil, in words, and how probable each sight is.
//!
//! The likelihoods are common practice, no source: they say which way a sight points and that it does not point hard.
//! Sights about one thing exclude each other, and their likelihoods sum to one in every state.

use super::construction::{Construction, Era, Insulation};
use super::opinions::{Matter, Opinions};

/// Something seen on a coil.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Feature {
    /// Bright, coppery wire.
    WireCoppery,
    /// Purplish, dark brown wire.
    WirePurplish,
    /// Wire of another colour: red, green, clear gold.
    WireOtherColour,
    /// Black wax.
    WaxBlack,
    /// Clear or yellowish wax.
    WaxClear,
    /// No wax.
    WaxNone,
    /// Tape that looks newer than what it holds.
    TapeNewer,
    /// Old, dry tape, as old as the rest.
    TapeDryOld,
    /// Leads as they were made.
    LeadOriginal,
    /// Leads replaced.
    LeadReplaced,
    /// A lead spliced.
    LeadSpliced,
    /// The start lead is where such coils have it.
    StartLeadAsUsual,
    /// The start lead is on the other side.
    StartLeadOtherSide,
    /// Flatwork untouched.
    FlatworkUntouched,
    /// Flatwork replaced.
    FlatworkReplaced,
    /// New rivets or eyelets in the flatwork.
    FlatworkNewRivets,
    /// Rods with bevelled ends.
    RodsBevelled,
    /// Rods with flat ends.
    RodsFlat,
    /// Rods dirty, dull or with old rust.
    RodsDirty,
    /// Rods shiny.
    RodsShiny,
    /// Wound to the edge of its flatwork, or almost.
    FullToTheEdge,
    /// Neither full nor empty beside its like.
    FullAsUsual,
    /// Less full than its neighbour of the same kind.
    LessFullThanItsNeighbour,
    /// The sides of the winding are flat.
    SidesFlat,
    /// The sides of the winding are rounded.
    SidesRounded,
    /// Joints dull, grey, as old as the rest.
    JointsDull,
    /// Joints bright.
    JointsBright,
    /// Nothing was cut or unsoldered.
    NothingCut,
    /// Something was cut or unsoldered.
    SomethingCut,
}

/// What a [`Feature`] is about. Only one of a kind can be true of a coil.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// Colour of the wire.
    WireColour,
    /// Wax in the winding.
    Wax,
    /// Tape round the winding.
    Tape,
    /// Lead cloth and leads.
    Lead,
    /// Where the winding starts.
    StartLead,
    /// The plates of fibre or plastic.
    Flatwork,
    /// Shape of the rods' ends.
    RodShape,
    /// Surface of the rods.
    RodSurface,
    /// How full the coil looks.
    Fill,
    /// Shape of the winding's sides.
    Sides,
    /// The joints at the coil.
    Joints,
    /// Whether anything was cut.
    Cut,
}

impl Feature {
    /// All of them, in the order of what they are about.
    pub const ALL: [Feature; 29] = [
        Feature::WireCoppery,
        Feature::WirePurplish,
        Feature::WireOtherColour,
        Feature::WaxBlack,
        Feature::WaxClear,
        Feature::WaxNone,
        Feature::TapeNewer,
        Feature::TapeDryOld,
        Feature::LeadOriginal,
        Feature::LeadReplaced,
        Feature::LeadSpliced,
        Feature::StartLeadAsUsual,
        Feature::StartLeadOtherSide,
        Feature::FlatworkUntouched,
        Feature::FlatworkReplaced,
        Feature::FlatworkNewRivets,
        Feature::RodsBevelled,
        Feature::RodsFlat,
        Feature::RodsDirty,
        Feature::RodsShiny,
        Feature::FullToTheEdge,
        Feature::FullAsUsual,
        Feature::LessFullThanItsNeighbour,
        Feature::SidesFlat,
        Feature::SidesRounded,
        Feature::JointsDull,
        Feature::JointsBright,
        Feature::NothingCut,
        Feature::SomethingCut,
    ];

    /// What it is about.
    pub const fn about(self) -> About {
        match self {
            Feature::WireCoppery | Feature::WirePurplish | Feature::WireOtherColour => About::WireColour,
            Feature::WaxBlack | Feature::WaxClear | Feature::WaxNone => About::Wax,
            Feature::TapeNewer | Feature::TapeDryOld => About::Tape,
            Feature::LeadOriginal | Feature::LeadReplaced | Feature::LeadSpliced => About::Lead,
            Feature::StartLeadAsUsual | Feature::StartLeadOtherSide => About::StartLead,
            Feature::FlatworkUntouched | Feature::FlatworkReplaced | Feature::FlatworkNewRivets => {
                About::Flatwork
            }
            Feature::RodsBevelled | Feature::RodsFlat => About::RodShape,
            Feature::RodsDirty | Feature::RodsShiny => About::RodSurface,
            Feature::FullToTheEdge | Feature::FullAsUsual | Feature::LessFullThanItsNeighbour => About::Fill,
            Feature::SidesFlat | Feature::SidesRounded => About::Sides,
            Feature::JointsDull | Feature::JointsBright => About::Joints,
            Feature::NothingCut | Feature::SomethingCut => About::Cut,
        }
    }

    /// The words for it, as they are said at a bench: `tape newer`, `start lead on the other side`.
    pub const fn words(self) -> &'static str {
        match self {
            Feature::WireCoppery => "wire coppery",
            Feature::WirePurplish => "wire purplish, dark",
            Feature::WireOtherColour => "wire of another colour",
            Feature::WaxBlack => "black wax",
            Feature::WaxClear => "clear wax",
            Feature::WaxNone => "no wax",
            Feature::TapeNewer => "tape newer",
            Feature::TapeDryOld => "tape dry, old",
            Feature::LeadOriginal => "lead original",
            Feature::LeadReplaced => "lead replaced",
            Feature::LeadSpliced => "lead spliced",
            Feature::StartLeadAsUsual => "start lead as usual",
            Feature::StartLeadOtherSide => "start lead on the other side",
            Feature::FlatworkUntouched => "flatwork untouched",
            Feature::FlatworkReplaced => "flatwork replaced",
            Feature::FlatworkNewRivets => "new rivets in the flatwork",
            Feature::RodsBevelled => "rods bevelled",
            Feature::RodsFlat => "rods flat",
            Feature::RodsDirty => "rods dirty",
            Feature::RodsShiny => "rods shiny",
            Feature::FullToTheEdge => "coil full to the edge",
            Feature::FullAsUsual => "coil as full as usual",
            Feature::LessFullThanItsNeighbour => "coil less full than its neighbour",
            Feature::SidesFlat => "flat sides",
            Feature::SidesRounded => "rounded sides",
            Feature::JointsDull => "joints dull",
            Feature::JointsBright => "joints bright",
            Feature::NothingCut => "nothing cut",
            Feature::SomethingCut => "something cut",
        }
    }
}

/// A likelihood table: one row for a state, one figure for each feature about one thing, in the order of
/// [`Feature::ALL`].
fn pick<const N: usize>(feature: Feature, first: Feature, row: [f64; N]) -> f64 {
    row[feature as usize - first as usize]
}

/// How probable the wire's colour is with this insulation. A coat darkens with age and light, so none is sure.
pub(super) fn wire_colour(feature: Feature, insulation: Insulation) -> f64 {
    let row = match insulation {
        Insulation::PlainEnamel => [0.08, 0.87, 0.05],
        Insulation::PolyvinylAcetal => [0.85, 0.05, 0.10],
        Insulation::Polyurethane => [0.55, 0.10, 0.35],
    };
    pick(feature, Feature::WireCoppery, row)
}

/// How probable the wax is: black belongs to early coils on rods; a winder of today uses clear wax or none.
pub(super) fn wax(feature: Feature, rewound: bool, construction: Construction, era: Era) -> f64 {
    let row = match (rewound, construction.has_rods(), era) {
        (true, ..) => [0.06, 0.62, 0.32],
        (false, true, Era::Early) => [0.60, 0.20, 0.20],
        (false, true, Era::Middle) => [0.15, 0.45, 0.40],
        (false, true, Era::Late) => [0.05, 0.60, 0.35],
        (false, false, _) => [0.10, 0.30, 0.60],
    };
    pick(feature, Feature::WaxBlack, row)
}

/// How probable this look of the tape is. Tape is opened for a lead, too, so an untouched winding may wear new tape.
pub(super) fn tape(feature: Feature, rewound: bool, opinions: &Opinions) -> f64 {
    let newer = if rewound { Matter::TapeNewerIfRewound } else { Matter::TapeNewerIfAsMade };
    let newer = opinions.value(newer);
    pick(feature, Feature::TapeNewer, [newer, 1.0 - newer])
}

/// How probable it is that the start lead lies on the other side.
pub(super) fn start_lead(feature: Feature, rewound: bool, opinions: &Opinions) -> f64 {
    let other = if rewound { Matter::StartOnOtherSideIfRewound } else { Matter::StartOnOtherSideIfAsMade };
    let other = opinions.value(other);
    pick(feature, Feature::StartLeadAsUsual, [1.0 - other, other])
}

pub(super) fn lead(feature: Feature, changed: bool) -> f64 {
    let row = if changed { [0.10, 0.62, 0.28] } else { [0.94, 0.03, 0.03] };
    pick(feature, Feature::LeadOriginal, row)
}

pub(super) fn flatwork(feature: Feature, changed: bool) -> f64 {
    let row = if changed { [0.12, 0.60, 0.28] } else { [0.93, 0.02, 0.05] };
    pick(feature, Feature::FlatworkUntouched, row)
}

/// Bevelled ends belong to early rods; what a later hand fits is mostly flat.
pub(super) fn rod_shape(feature: Feature, changed: bool, era: Era) -> f64 {
    let bevelled = match (changed, era) {
        (true, _) => 0.30,
        (false, Era::Early) => 0.85,
        (false, Era::Middle) => 0.35,
        (false, Era::Late) => 0.15,
    };
    pick(feature, Feature::RodsBevelled, [bevelled, 1.0 - bevelled])
}

/// Shiny rods may be new, or have seen little use.
pub(super) fn rod_surface(feature: Feature, changed: bool) -> f64 {
    let dirty = if changed { 0.30 } else { 0.70 };
    pick(feature, Feature::RodsDirty, [dirty, 1.0 - dirty])
}

/// How full the coil looks, from its depth as a share of the room to the flatwork's edge.
pub(super) fn fill(feature: Feature, share_of_room: f64) -> f64 {
    let full = 0.02 + 0.93 * logistic((share_of_room - 0.95) / 0.03);
    let less = (1.0 - full) * (0.03 + 0.75 * logistic((0.72 - share_of_room) / 0.05));
    pick(feature, Feature::FullToTheEdge, [full, 1.0 - full - less, less])
}

/// Flat sides go with a full coil, a little.
pub(super) fn sides(feature: Feature, share_of_room: f64) -> f64 {
    let flat = 0.35 + 0.30 * logistic((share_of_room - 0.90) / 0.05);
    pick(feature, Feature::SidesFlat, [flat, 1.0 - flat])
}

/// A joint that adds ohms is dull nearly always.
pub(super) fn joints(feature: Feature, changed: bool, adds_ohms: bool) -> f64 {
    let dull = match (adds_ohms, changed) {
        (true, _) => 0.90,
        (false, true) => 0.35,
        (false, false) => 0.85,
    };
    pick(feature, Feature::JointsDull, [dull, 1.0 - dull])
}

/// Leads or joints that were changed were cut or unsoldered, as far as one can see.
pub(super) fn cut(feature: Feature, leads_or_joints_changed: bool) -> f64 {
    let nothing = if leads_or_joints_changed { 0.15 } else { 0.93 };
    pick(feature, Feature::NothingCut, [nothing, 1.0 - nothing])
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-x))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every table sums to one in every state: whichever of the sights is there, one of them is.
    #[test]
    fn sights_about_one_thing_share_one() {
        let opinions = Opinions::default();
        let about = |about: About| Feature::ALL.into_iter().filter(move |feature| feature.about() == about);
        let whole = |about_what: About, likelihood: &dyn Fn(Feature) -> f64| {
            let sum: f64 = about(about_what).map(likelihood).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{about_what:?}: {sum}");
        };
        for changed in [false, true] {
            whole(About::Lead, &|f| lead(f, changed));
            whole(About::Flatwork, &|f| flatwork(f, changed));
            whole(About::RodSurface, &|f| rod_surface(f, changed));
            whole(About::Tape, &|f| tape(f, changed, &opinions));
            whole(About::StartLead, &|f| start_lead(f, changed, &opinions));
            whole(About::Cut, &|f| cut(f, changed));
            for other in [false, true] {
                whole(About::Joints, &|f| joints(f, changed, other));
            }
            for era in Era::ALL {
                whole(About::RodShape, &|f| rod_shape(f, changed, era));
                for construction in Construction::ALL {
                    whole(About::Wax, &|f| wax(f, changed, construction, era));
                }
            }
        }
        for insulation in Insulation::ALL {
            whole(About::WireColour, &|f| wire_colour(f, insulation));
        }
        for tenth in 0..15 {
            let share = f64::from(tenth) / 10.0;
            whole(About::Fill, &|f| fill(f, share));
            whole(About::Sides, &|f| sides(f, share));
            assert!(Feature::ALL.iter().filter(|f| f.about() == About::Fill).all(|f| fill(*f, share) > 0.0));
        }
    }

    #[test]
    fn features_are_numbered_as_they_are_listed() {
        for (place, feature) in Feature::ALL.into_iter().enumerate() {
            assert_eq!(feature as usize, place);
        }
    }
}
