//! Metric sizes by diameter and grade of enamel (IEC 60317-0-1).

use super::{COPPER_RESISTIVITY, Limits, OhmsPerMetre, Spool, WireError, ohms_per_metre};
use asfound_measure::Millimetres;

/// Thickness of the enamel by grade: 1 the thinnest, 3 the thickest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Grade {
    /// Grade 1, near to a single build.
    One,
    /// Grade 2, near to a heavy build.
    Two,
    /// Grade 3.
    Three,
}

/// Which copper a table of metric wires counts on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Conductivity {
    /// 58.0 MS/m, annealed copper of IEC 60028.
    Standard,
    /// 58.5 MS/m, which wire makers' tables of metric sizes print their nominal resistance at.
    WireMakers,
}

/// A nominal bare diameter, from 0.050 mm to 0.080 mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MetricSize(usize);

/// Nominal diameter, then least and most over all for grades 1, 2, 3, in micrometres (IEC 60317-0-1, from the data set
/// named in the parent).
static SIZES: [(f64, [[f64; 2]; 3]); 7] = [
    (50.0, [[55.0, 60.0], [61.0, 66.0], [67.0, 72.0]]),
    (56.0, [[62.0, 67.0], [68.0, 74.0], [75.0, 79.0]]),
    (60.0, [[66.0, 72.0], [73.0, 79.0], [80.0, 85.0]]),
    (63.0, [[69.0, 76.0], [77.0, 83.0], [84.0, 88.0]]),
    (67.0, [[74.0, 80.0], [81.0, 88.0], [89.0, 91.0]]),
    (71.0, [[78.0, 84.0], [85.0, 91.0], [92.0, 96.0]]),
    (80.0, [[87.0, 94.0], [95.0, 101.0], [102.0, 108.0]]),
];

impl MetricSize {
    /// The size of this nominal bare diameter.
    ///
    /// # Errors
    /// [`WireError::Size`] for a diameter that is not one of the seven.
    pub fn new(bare: Millimetres) -> Result<Self, WireError> {
        let micrometres = bare.value() * 1e3;
        let place = SIZES.iter().position(|(nominal, _)| (nominal - micrometres).abs() < 0.01);
        place.map(Self).ok_or(WireError::Size(bare.value()))
    }

    /// The nominal diameter of the copper.
    pub fn bare(self) -> Millimetres {
        Millimetres(SIZES[self.0].0 * 1e-3)
    }

    /// The nominal resistance for each metre at 20 °C. Below 0.071 mm the standard governs the resistance and not the
    /// diameter.
    pub fn ohms_per_metre(self, conductivity: Conductivity) -> OhmsPerMetre {
        let annealed = ohms_per_metre(self.bare()).value();
        OhmsPerMetre(match conductivity {
            Conductivity::Standard => annealed,
            Conductivity::WireMakers => annealed / COPPER_RESISTIVITY / 58.5,
        })
    }

    /// The resistance for each metre at 20 °C with limits of ±8 % about the wire makers' nominal. Their tables print
    /// that for 0.063 mm (5.045, 5.484 and 5.922 Ω/m); that the other sizes keep it is an assumption, no source.
    pub fn resistance_limits(self) -> Limits<OhmsPerMetre> {
        let nominal = self.ohms_per_metre(Conductivity::WireMakers);
        Limits {
            least: OhmsPerMetre(nominal.value() * 0.92),
            nominal,
            most: OhmsPerMetre(nominal.value() * 1.08),
        }
    }
}

/// A metric wire as it is ordered: a size with a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct MetricWire {
    /// The nominal bare diameter.
    pub size: MetricSize,
    /// The enamel.
    pub grade: Grade,
}

impl MetricWire {
    /// The diameter over the enamel. The standard sets two limits; their middle stands for the nominal.
    pub fn overall(self) -> Limits<Millimetres> {
        let [least, most] = SIZES[self.size.0].1[self.grade as usize].map(|micrometres| micrometres * 1e-3);
        Limits {
            least: Millimetres(least),
            nominal: Millimetres((least + most) / 2.0),
            most: Millimetres(most),
        }
    }

    /// The thinnest, the nominal and the thickest spool: with the bare diameter that, drawn in copper of IEC 60028, has
    /// the resistance at each limit, and the enamel's outer limits.
    pub fn spools(self) -> Limits<Spool> {
        let bare = self
            .size
            .resistance_limits()
            .falling(|r| Millimetres((4.0 * COPPER_RESISTIVITY / (std::f64::consts::PI * r.value())).sqrt()));
        Spool::between(bare, self.overall())
    }

    /// The nominal spool.
    pub fn nominal(self) -> Spool {
        self.spools().nominal
    }
}
