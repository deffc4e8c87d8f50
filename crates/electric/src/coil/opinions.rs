//! What a workshop believes before it looks: every prior by name, with its source and its range.
//!
//! None of these figures was measured by anybody; they are stated so that they can be disputed. A workshop that has
//! counted its own coils sets its own.

/// A matter on which there is an opinion.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Matter {
    /// Share of coils part shorted on themselves.
    PartShorted,
    /// Share of coils with a part bridged out.
    PartBridged,
    /// Share of coils that are open.
    Open,
    /// Share of coils with extra resistance in a joint.
    JointInSeries,
    /// Share of readings taken at a temperature other than said.
    OtherTemperature,
    /// Share of coils that were rewound.
    Rewound,
    /// Of the rewound, share wound with like wire.
    RewoundAlike,
    /// Spread of a rewinder's turns about the aim, as a fraction.
    RewinderSpread,
    /// Of the rewound, share wound to an aim of the rewinder's own, and not to the turns or ohms of its kind.
    RewinderOwnAim,
    /// Share of coils as made whose turns are odd ones out.
    OddOneOut,
    /// Loosest packing.
    PackingLeast,
    /// Tightest packing.
    PackingMost,
    /// Least share of turns in a short.
    ShortedLeast,
    /// Largest share of turns in a short.
    ShortedMost,
    /// Least extra resistance of a bad joint.
    JointLeast,
    /// Largest extra resistance of a bad joint.
    JointMost,
    /// Least capacitance of a coil.
    CapacitanceLeast,
    /// Largest capacitance of a coil.
    CapacitanceMost,
    /// Coldest room.
    RoomLeast,
    /// Warmest room.
    RoomMost,
    /// Leads changed on a winding as made.
    LeadsChangedIfAsMade,
    /// Leads changed on a rewound coil.
    LeadsChangedIfRewound,
    /// Joints changed on a winding as made.
    JointsChangedIfAsMade,
    /// Joints changed on a rewound coil.
    JointsChangedIfRewound,
    /// Flatwork changed on a winding as made.
    FlatworkChangedIfAsMade,
    /// Flatwork changed on a rewound coil.
    FlatworkChangedIfRewound,
    /// Magnets changed on a winding as made.
    MagnetsChangedIfAsMade,
    /// Magnets changed on a rewound coil.
    MagnetsChangedIfRewound,
    /// Tape that looks newer on a winding as made.
    TapeNewerIfAsMade,
    /// Tape that looks newer on a rewound coil.
    TapeNewerIfRewound,
    /// Start lead on the other side of a winding as made.
    StartOnOtherSideIfAsMade,
    /// Start lead on the other side of a rewound coil.
    StartOnOtherSideIfRewound,
    /// No period stated: share of early coils.
    EraEarly,
    /// No period stated: share of middle coils; the rest is late.
    EraMiddle,
    /// Share of cases that none of the explanations here fits.
    NoneOfThese,
    /// Capacitance of the cable and the input at the jack.
    CableCapacitance,
    /// Resistance of the input at the jack.
    InputResistance,
}

/// An opinion on coils as it comes.
pub type Opinion = asfound_weigh::Opinion<Matter>;

/// Every opinion on coils with the value in force.
///
/// ```
/// use asfound_electric::coil::{Matter, Opinions};
/// let mut opinions = Opinions::default();
/// opinions.set("rewound", 0.3)?;
/// assert_eq!(opinions.value(Matter::Rewound), 0.3);
/// assert_eq!(
///     opinions.set("re-wound", 0.3).unwrap_err().to_string(),
///     "there is no opinion named \"re-wound\"; the nearest is \"rewound\""
/// );
/// # Ok::<(), asfound_electric::coil::OpinionError>(())
/// ```
pub type Opinions = asfound_weigh::Opinions<Matter>;

const NO_SOURCE: &str = "common practice, no source";

const fn share(matter: Matter, name: &'static str, value: f64, least: f64, most: f64) -> Opinion {
    Opinion { matter, name, value, range: (least, most), unit: "", source: NO_SOURCE }
}

const fn figure(
    (matter, name): (Matter, &'static str),
    value: f64,
    range: (f64, f64),
    unit: &'static str,
    source: &'static str,
) -> Opinion {
    Opinion { matter, name, value, range, unit, source }
}

const WILD_WOUND: &str = "copper fill 0.45 to 0.50 of wild-wound coils (a published coil-winding glossary) over the copper share of 42 \
     gauge single build, widened";
const CAPACITANCE: &str = "about 80 to 200 pF: H. Lemme, The Secrets of Electric Guitar Pickups (2003)";
const CABLE: &str = "about 300 to 1000 pF: H. Lemme, The Secrets of Electric Guitar Pickups (2003)";

static OPINIONS: [Opinion; 37] = [
    share(Matter::PartShorted, "part shorted", 0.04, 0.01, 0.10),
    share(Matter::PartBridged, "part bridged out", 0.01, 0.002, 0.04),
    share(Matter::Open, "open", 0.03, 0.01, 0.08),
    share(Matter::JointInSeries, "joint in series", 0.03, 0.01, 0.08),
    share(Matter::OtherTemperature, "temperature other than said", 0.05, 0.01, 0.15),
    share(Matter::Rewound, "rewound", 0.12, 0.04, 0.30),
    share(Matter::RewoundAlike, "rewound with like wire", 0.60, 0.40, 0.80),
    share(Matter::RewinderSpread, "spread of a rewinder's turns", 0.07, 0.04, 0.12),
    share(Matter::RewinderOwnAim, "rewinder's own aim", 0.30, 0.10, 0.50),
    share(Matter::OddOneOut, "turns of an odd one out", 0.20, 0.10, 0.35),
    figure((Matter::PackingLeast, "loosest packing"), 0.50, (0.48, 0.54), "", WILD_WOUND),
    figure((Matter::PackingMost, "tightest packing"), 0.63, (0.60, 0.68), "", WILD_WOUND),
    share(Matter::ShortedLeast, "least share of turns in a short", 0.002, 0.0005, 0.005),
    share(Matter::ShortedMost, "largest share of turns in a short", 0.60, 0.40, 0.80),
    figure((Matter::JointLeast, "least resistance of a bad joint"), 50.0, (20.0, 100.0), "Ω", NO_SOURCE),
    figure((Matter::JointMost, "largest resistance of a bad joint"), 5e3, (2e3, 2e4), "Ω", NO_SOURCE),
    figure(
        (Matter::CapacitanceLeast, "least capacitance of a coil"),
        80e-12,
        (60e-12, 100e-12),
        "F",
        CAPACITANCE,
    ),
    figure(
        (Matter::CapacitanceMost, "largest capacitance of a coil"),
        200e-12,
        (150e-12, 250e-12),
        "F",
        CAPACITANCE,
    ),
    figure((Matter::RoomLeast, "coldest room"), 15.0, (12.0, 18.0), "°C", NO_SOURCE),
    figure((Matter::RoomMost, "warmest room"), 25.0, (22.0, 28.0), "°C", NO_SOURCE),
    share(Matter::LeadsChangedIfAsMade, "leads changed, winding as made", 0.20, 0.10, 0.35),
    share(Matter::LeadsChangedIfRewound, "leads changed, rewound", 0.60, 0.40, 0.80),
    share(Matter::JointsChangedIfAsMade, "joints changed, winding as made", 0.30, 0.15, 0.50),
    share(Matter::JointsChangedIfRewound, "joints changed, rewound", 0.95, 0.85, 0.99),
    share(Matter::FlatworkChangedIfAsMade, "flatwork changed, winding as made", 0.02, 0.005, 0.05),
    share(Matter::FlatworkChangedIfRewound, "flatwork changed, rewound", 0.15, 0.05, 0.30),
    share(Matter::MagnetsChangedIfAsMade, "magnets changed, winding as made", 0.03, 0.01, 0.08),
    share(Matter::MagnetsChangedIfRewound, "magnets changed, rewound", 0.08, 0.03, 0.20),
    share(Matter::TapeNewerIfAsMade, "tape newer, winding as made", 0.10, 0.04, 0.20),
    share(Matter::TapeNewerIfRewound, "tape newer, rewound", 0.75, 0.50, 0.90),
    share(
        Matter::StartOnOtherSideIfAsMade,
        "start lead on the other side, winding as made",
        0.04,
        0.01,
        0.10,
    ),
    share(Matter::StartOnOtherSideIfRewound, "start lead on the other side, rewound", 0.25, 0.15, 0.40),
    share(Matter::EraEarly, "period not stated: to 1964", 0.40, 0.20, 0.60),
    share(Matter::EraMiddle, "period not stated: 1965 to 1975", 0.30, 0.15, 0.40),
    share(Matter::NoneOfThese, "none of these explanations", 0.01, 0.002, 0.03),
    figure((Matter::CableCapacitance, "cable capacitance"), 500e-12, (300e-12, 1000e-12), "F", CABLE),
    figure((Matter::InputResistance, "input resistance"), 1e6, (136e3, 2e6), "Ω", NO_SOURCE),
];

impl asfound_weigh::Matter for Matter {
    fn rows() -> &'static [Opinion] {
        &OPINIONS
    }

    fn place(self) -> usize {
        self as usize
    }

    fn stand(opinions: &Opinions, set: &Opinion) -> bool {
        let value = opinions.value(set.matter);
        let possible = match set.unit {
            "" => value > 0.0 && value < 1.0,
            "°C" => (-40.0..=60.0).contains(&value),
            _ => value > 0.0 && value.is_finite(),
        };
        let in_order = [
            (Matter::PackingLeast, Matter::PackingMost),
            (Matter::ShortedLeast, Matter::ShortedMost),
            (Matter::JointLeast, Matter::JointMost),
            (Matter::CapacitanceLeast, Matter::CapacitanceMost),
            (Matter::RoomLeast, Matter::RoomMost),
        ]
        .into_iter()
        .all(|(least, most)| opinions.value(least) < opinions.value(most));
        // A healthy coil must be left some share, and a late period too.
        let faults: f64 = FAULTS.into_iter().map(|matter| opinions.value(matter)).sum();
        let eras = opinions.value(Matter::EraEarly) + opinions.value(Matter::EraMiddle);
        let fits = opinions.value(Matter::PackingMost) <= 0.9;
        possible && in_order && fits && faults < 1.0 && eras < 1.0
    }
}

/// The matters that are shares of conditions; the healthy have what is left.
pub(super) const FAULTS: [Matter; 5] =
    [Matter::PartShorted, Matter::PartBridged, Matter::Open, Matter::JointInSeries, Matter::OtherTemperature];

#[cfg(test)]
mod tests {
    use asfound_weigh::OpinionError;

    use super::*;

    #[test]
    fn each_matter_has_its_row_and_each_row_makes_sense() {
        for (place, opinion) in OPINIONS.iter().enumerate() {
            assert_eq!(opinion.matter as usize, place, "{}", opinion.name);
            let (least, most) = opinion.range;
            assert!(least <= opinion.value && opinion.value <= most, "{}", opinion.name);
            for end in [least, opinion.value, most] {
                let mut opinions = Opinions::default();
                assert_eq!(opinions.set(opinion.name, end), Ok(()), "{} at {end}", opinion.name);
            }
            assert!(!opinion.source.is_empty());
        }
    }

    #[test]
    fn what_cannot_be_is_refused_and_changes_nothing() {
        let mut opinions = Opinions::default();
        for (name, value) in [
            ("rewound", 0.0),
            ("rewound", 1.0),
            ("rewound", f64::NAN),
            ("loosest packing", 0.7),
            ("tightest packing", 0.95),
            ("part shorted", 0.95),
            ("coldest room", 30.0),
            ("least resistance of a bad joint", -1.0),
            ("period not stated: to 1964", 0.8),
        ] {
            assert!(matches!(opinions.set(name, value), Err(OpinionError::Value { .. })), "{name} {value}");
        }
        assert_eq!(opinions, Opinions::default());
        assert!(opinions.set("rewound", 2.0).unwrap_err().to_string().contains("between 0.04 and 0.3"));
    }
}
