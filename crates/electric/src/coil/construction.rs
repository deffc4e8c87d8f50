//! Kinds of coil as data: former, wire, turns, what the core does. Each row names where it is from.

use super::drawn::MIDDLE_PACKING;
use crate::bobbin::{Bobbin, BobbinError, Carried, Former, Packing, Turns, Within};
use crate::wire::{Build, Gauge, Limits, Wire};
use asfound_measure::{Millimetres, Ohms};

/// A kind of coil, described by what is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Construction {
    /// Single coil on six rod magnets.
    SixRod,
    /// Single coil of a bass on four rod magnets.
    FourRod,
    /// One coil of a dual coil.
    DualHalf,
    /// One coil of a small dual coil.
    SmallDualHalf,
    /// Wide flat single coil with bar magnets below.
    WideFlat,
    /// Single coil in a foil-faced case, 44 gauge.
    FoilFaced,
    /// One half of a split bass coil.
    SplitHalf,
}

/// When a coil was made, as far as its wire and winding go by time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Era {
    /// To 1964: scattered by hand.
    Early,
    /// 1965 to 1975: wound by machine, plain enamel.
    Middle,
    /// From 1976.
    Late,
}

/// What the wire is coated with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Insulation {
    /// Plain (oleoresinous) enamel, single build, dark.
    PlainEnamel,
    /// Polyvinyl acetal, usually heavy build.
    PolyvinylAcetal,
    /// Polyurethane, solderable, usually single build.
    Polyurethane,
}

impl Era {
    /// All of them, in order of time.
    pub const ALL: [Era; 3] = [Era::Early, Era::Middle, Era::Late];

    /// Its first and last year. The ends of the first and the last are only there to share out a stated period.
    /// From a hobby compilation of winding specifications by year (machine winding and plain enamel from 1965); 1975
    /// is common practice, no source.
    pub const fn years(self) -> (i32, i32) {
        match self {
            Era::Early => (1930, 1964),
            Era::Middle => (1965, 1975),
            Era::Late => (1976, 2025),
        }
    }
}

impl Insulation {
    /// All of them.
    pub const ALL: [Insulation; 3] =
        [Insulation::PlainEnamel, Insulation::PolyvinylAcetal, Insulation::Polyurethane];

    /// How probable a build is: plain enamel is made to single-build dimensions (a published insulation guide for
    /// magnet wire); polyvinyl acetal in old single coils is usually called heavy (common practice, no source).
    pub(super) const fn builds(self) -> [(Build, f64); 2] {
        match self {
            Insulation::PlainEnamel => [(Build::Single, 0.98), (Build::Heavy, 0.02)],
            Insulation::PolyvinylAcetal => [(Build::Single, 0.25), (Build::Heavy, 0.75)],
            Insulation::Polyurethane => [(Build::Single, 0.90), (Build::Heavy, 0.10)],
        }
    }
}

/// A mean with a standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The mean.
    pub mean: f64,
    /// The standard deviation.
    pub deviation: f64,
}

const fn spread(mean: f64, deviation: f64) -> Spread {
    Spread { mean, deviation }
}

/// What is held of a kind of coil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Straight of the obround that the first turn lies on, in mm.
    pub straight: f64,
    /// Radius of its ends, in mm.
    pub end_radius: f64,
    /// Standard deviation of that outline from coil to coil, as a fraction.
    pub outline_deviation: f64,
    /// Height of the winding, in mm.
    pub height: Spread,
    /// Depth from the former to the flatwork's edge, in mm.
    pub room: Spread,
    /// Gauges as made, with probabilities.
    pub gauges: &'static [(u8, f64)],
    /// Insulations as made, for each era in the order of [`Insulation::ALL`].
    pub insulations: [[f64; 3]; 3],
    /// Turns as made, for each era.
    pub turns: [Spread; 3],
    /// Turns of the odd one out: what a winder stopped early or went on with.
    pub odd_turns: Spread,
    /// Inductance with the core and what surrounds it, as a multiple of the coil in air.
    pub core: Spread,
    /// Share of the inductance that eddy currents shunt, least and most.
    pub eddy_share: (f64, f64),
    /// Time constant L/R of those eddy paths, in seconds, least and most.
    pub eddy_time: (f64, f64),
    /// Where the figures are from.
    pub source: &'static str,
}

/// Scattered by hand in polyvinyl acetal, then by machine in plain enamel, then polyurethane.
const SOLID_BODY_WIRES: [[f64; 3]; 3] = [[0.10, 0.85, 0.05], [0.85, 0.05, 0.10], [0.25, 0.15, 0.60]];
/// Plain enamel until the very early 1960s, then a solderable wire (an interview on 1950s dual-coil winding).
const DUAL_COIL_WIRES: [[f64; 3]; 3] = [[0.90, 0.03, 0.07], [0.35, 0.05, 0.60], [0.10, 0.10, 0.80]];

/// Rods conduct poorly and shunt little; steel screws, slugs and plates shunt more. Common practice, no source.
const ROD_EDDIES: ((f64, f64), (f64, f64)) = ((0.02, 0.15), (3e-6, 20e-6));
const STEEL_EDDIES: ((f64, f64), (f64, f64)) = ((0.10, 0.40), (8e-6, 40e-6));

static SIX_ROD: Row = Row {
    straight: 53.0,
    end_radius: 2.665,
    outline_deviation: 0.010,
    height: spread(11.0, 0.3),
    room: spread(6.1, 0.25),
    gauges: &[(42, 0.96), (43, 0.03), (41, 0.01)],
    insulations: SOLID_BODY_WIRES,
    turns: [spread(8110.0, 240.0), spread(7650.0, 220.0), spread(7700.0, 280.0)],
    odd_turns: spread(8500.0, 850.0),
    core: spread(1.40, 0.09),
    eddy_share: ROD_EDDIES.0,
    eddy_time: ROD_EDDIES.1,
    source: "turns by year and mean turn of 138.8 mm: a hobby compilation of winding specifications by year; odd \
             ones: the book range of 7,000 to 10,000 turns; core: measured 2.4 to 2.8 H in published notes against \
             the coil in air; flatwork and spreads: common practice, no source",
};

static FOUR_ROD: Row = Row {
    straight: 60.0,
    end_radius: 3.0,
    outline_deviation: 0.020,
    height: spread(11.0, 0.6),
    room: spread(6.4, 0.5),
    gauges: &[(42, 0.95), (43, 0.03), (41, 0.02)],
    insulations: SOLID_BODY_WIRES,
    turns: [spread(8500.0, 700.0), spread(8300.0, 700.0), spread(8300.0, 700.0)],
    odd_turns: spread(8500.0, 1300.0),
    core: spread(1.38, 0.12),
    eddy_share: ROD_EDDIES.0,
    eddy_time: ROD_EDDIES.1,
    source: "common practice, no source",
};

static DUAL_HALF: Row = Row {
    straight: 50.5,
    end_radius: 4.5,
    outline_deviation: 0.015,
    height: spread(6.4, 0.25),
    room: spread(6.8, 0.4),
    gauges: &[(42, 0.95), (43, 0.04), (41, 0.01)],
    insulations: DUAL_COIL_WIRES,
    turns: [spread(5050.0, 280.0), spread(5000.0, 160.0), spread(5000.0, 200.0)],
    odd_turns: spread(5250.0, 600.0),
    core: spread(1.95, 0.25),
    eddy_share: STEEL_EDDIES.0,
    eddy_time: STEEL_EDDIES.1,
    source: "5,000 turns at 4.0 kΩ: a pickup maker's published questions; stopped by eye, from below 5,000 to the high \
             5,000s: an interview on 1950s dual-coil winding; core: published 4.4 to 4.7 H for two halves against \
             the coil in air; the rest: common practice, no source",
};

static SMALL_DUAL_HALF: Row = Row {
    straight: 53.0,
    end_radius: 4.1,
    outline_deviation: 0.015,
    height: spread(6.0, 0.3),
    room: spread(6.0, 0.4),
    gauges: &[(42, 0.95), (43, 0.04), (41, 0.01)],
    insulations: DUAL_COIL_WIRES,
    turns: [spread(4250.0, 250.0), spread(4250.0, 180.0), spread(4250.0, 200.0)],
    odd_turns: spread(4400.0, 550.0),
    core: spread(1.80, 0.25),
    eddy_share: STEEL_EDDIES.0,
    eddy_time: STEEL_EDDIES.1,
    source: "4,250 turns at 3.35 and 3.5 kΩ: a pickup maker's published questions; the rest: common practice, no \
             source",
};

static WIDE_FLAT: Row = Row {
    straight: 50.0,
    end_radius: 2.5,
    outline_deviation: 0.020,
    height: spread(7.0, 0.4),
    room: spread(11.5, 0.6),
    gauges: &[(42, 0.96), (43, 0.03), (41, 0.01)],
    insulations: DUAL_COIL_WIRES,
    turns: [spread(10_000.0, 600.0), spread(10_000.0, 450.0), spread(9800.0, 500.0)],
    odd_turns: spread(10_000.0, 1300.0),
    core: spread(1.60, 0.20),
    eddy_share: STEEL_EDDIES.0,
    eddy_time: STEEL_EDDIES.1,
    source: "10,000 turns at 8.0 kΩ: a pickup maker's published questions; the rest: common practice, no source",
};

static FOIL_FACED: Row = Row {
    straight: 48.0,
    end_radius: 2.7,
    outline_deviation: 0.030,
    height: spread(6.0, 0.6),
    room: spread(5.5, 0.6),
    gauges: &[(44, 0.92), (43, 0.05), (42, 0.03)],
    insulations: [[0.85, 0.10, 0.05], [0.75, 0.05, 0.20], [0.15, 0.05, 0.80]],
    turns: [spread(5000.0, 500.0), spread(5000.0, 500.0), spread(5000.0, 500.0)],
    odd_turns: spread(5200.0, 1000.0),
    core: spread(1.25, 0.12),
    eddy_share: (0.05, 0.30),
    eddy_time: (5e-6, 40e-6),
    source: "common practice, no source",
};

static SPLIT_HALF: Row = Row {
    straight: 29.0,
    end_radius: 2.5,
    outline_deviation: 0.025,
    height: spread(8.0, 0.6),
    room: spread(9.8, 0.7),
    gauges: &[(42, 0.94), (43, 0.05), (41, 0.01)],
    insulations: SOLID_BODY_WIRES,
    turns: [spread(10_000.0, 650.0), spread(10_000.0, 550.0), spread(9800.0, 650.0)],
    odd_turns: spread(9800.0, 1300.0),
    core: spread(1.35, 0.12),
    eddy_share: ROD_EDDIES.0,
    eddy_time: ROD_EDDIES.1,
    source: "common practice, no source",
};

impl Construction {
    /// All of them.
    pub const ALL: [Construction; 7] = [
        Construction::SixRod,
        Construction::FourRod,
        Construction::DualHalf,
        Construction::SmallDualHalf,
        Construction::WideFlat,
        Construction::FoilFaced,
        Construction::SplitHalf,
    ];

    /// What is held of it.
    pub fn row(self) -> &'static Row {
        match self {
            Construction::SixRod => &SIX_ROD,
            Construction::FourRod => &FOUR_ROD,
            Construction::DualHalf => &DUAL_HALF,
            Construction::SmallDualHalf => &SMALL_DUAL_HALF,
            Construction::WideFlat => &WIDE_FLAT,
            Construction::FoilFaced => &FOIL_FACED,
            Construction::SplitHalf => &SPLIT_HALF,
        }
    }

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Construction::SixRod => "six-rod single coil",
            Construction::FourRod => "four-rod single coil of a bass",
            Construction::DualHalf => "half of a dual coil",
            Construction::SmallDualHalf => "half of a small dual coil",
            Construction::WideFlat => "wide flat single coil",
            Construction::FoilFaced => "foil-faced single coil",
            Construction::SplitHalf => "half of a split bass coil",
        }
    }

    /// Turns from ohms at 20 °C and gauge alone, on the table's bobbin, carried over wire as it is made in single build,
    /// the bobbin's spread twice over, and packing from 0.50 to 0.63. `None` for ohms that are none.
    pub fn turns_by_ohms(self, gauge: Gauge, at_20: Ohms) -> Option<Carried<Turns>> {
        let row = self.row();
        let bobbin =
            |spreads: f64| row.bobbin_of(1.0 + spreads * row.outline_deviation, row.height.mean).ok();
        let packing = |share: f64| Packing::new(share).ok();
        let within = Within {
            bobbin: Limits { least: bobbin(-2.0)?, nominal: bobbin(0.0)?, most: bobbin(2.0)? },
            spool: Wire { gauge, build: Build::Single }.spools(),
            packing: Limits {
                least: packing(0.50)?,
                nominal: packing(MIDDLE_PACKING)?,
                most: packing(0.63)?,
            },
        };
        within.turns_reading(at_20).ok()
    }

    /// Whether its magnets are rods through the coil, so that their look tells something.
    pub const fn has_rods(self) -> bool {
        matches!(self, Construction::SixRod | Construction::FourRod | Construction::SplitHalf)
    }
}

impl Row {
    /// The bobbin with its outline and height as in the table.
    ///
    /// # Errors
    /// As [`Bobbin::new`]; no row of the table errs.
    pub fn bobbin(&self) -> Result<Bobbin, BobbinError> {
        self.bobbin_of(1.0, self.height.mean)
    }

    /// The bobbin with its outline scaled and of this height in mm.
    pub(super) fn bobbin_of(&self, outline: f64, height: f64) -> Result<Bobbin, BobbinError> {
        let former = Former::Obround {
            straight: Millimetres(self.straight * outline),
            end_radius: Millimetres(self.end_radius * outline),
        };
        Bobbin::new(former, Millimetres(height))
    }
}
