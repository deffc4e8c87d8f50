//! Fine enamelled copper wire: how thick, over copper and over enamel, and how many ohms to the metre.
//!
//! It answers: what may a spool of 42 gauge measure, bare and over its enamel? What is its resistance for each metre,
//! and between what limits? How long is the wire of a coil that reads so many ohms?
//!
//! **The design decision: a gauge number is a range of wires, a [`Spool`] is one of them.** The standard lets 42 gauge
//! be 2.4 to 2.6 thousandths of an inch thick, which is 17 % of its resistance; no coil was ever wound with "the"
//! 42 gauge. So a [`Wire`] gives [`Limits`], and whatever needs one wire takes a [`Spool`], nominal or drawn.
//!
//! Equations and their sources:
//! - gauge law `d = 0.005 in × 92^((36 − n)/39)`: ASTM B258;
//! - copper at 20 °C `ρ = 1/58 Ω mm²/m`, `r = ρ/(π d²/4)`: IEC 60028;
//! - bare and overall diameters: NEMA MW 1000 C and IEC 60317-0-1, as kept in an open data set of winding wires
//!   (`data/wires.ndjson`, commit 1408499d0097) and in published sheets of magnet wire after NEMA MW 1000.
//!
//! Two conventions for a gauge's diameter stand side by side in print and differ by up to 3 % in resistance. A
//! [`Convention`] is named wherever it matters; windings use the rounded one, because wire is made to it.
//!
//! ```
//! use asfound_electric::wire::{Build, Convention, Gauge, Wire};
//! use asfound_measure::Ohms;
//! let wire = Wire { gauge: Gauge::new(42)?, build: Build::Single };
//! assert!((wire.ohms_per_metre().nominal.value() - 5.444).abs() < 1e-3);
//! // 8.5 kΩ of it: about 5,100 ft by the gauge law, anywhere from 4,721 to 5,540 ft within the standard's limits.
//! let length = wire.gauge.length(Ohms(8500.0), Convention::Unrounded);
//! assert_eq!(length.nominal.feet().round(), 5097.0);
//! assert_eq!(length.least.feet().round(), 4721.0);
//! # Ok::<(), asfound_electric::wire::WireError>(())
//! ```

mod amount;
mod metric;

pub use amount::{Limits, Metres, OhmsPerMetre};
pub use metric::{Conductivity, Grade, MetricSize, MetricWire};

use asfound_measure::{Millimetres, Ohms};
use std::f64::consts::PI;

/// Resistivity of annealed copper at 20 °C, in Ω mm²/m: one fifty-eighth (IEC 60028).
pub const COPPER_RESISTIVITY: f64 = 1.0 / 58.0;

/// A thousandth of an inch, in millimetres (yard and pound agreement of 1959).
const MIL: f64 = 0.0254;

/// What cannot be a wire.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WireError {
    /// A gauge outside the finest that coils are wound with.
    #[error("{0} gauge is not held here; coils are wound with 36 to 46 gauge (AWG), most with 42 or 43")]
    Gauge(u8),
    /// A spool whose diameters contradict each other.
    #[error(
        "{bare} mm bare and {overall} mm over all is no wire: bare is more than nothing and not more than over all"
    )]
    Spool {
        /// The diameter of the copper, in mm.
        bare: f64,
        /// The diameter over the enamel, in mm.
        overall: f64,
    },
    /// A metric size that is not held.
    #[error("{0} mm is not held here; the sizes are 0.050, 0.056, 0.060, 0.063, 0.067, 0.071 and 0.080 mm")]
    Size(f64),
}

/// A wire gauge by number (AWG), 36 to 46: the greater the number, the finer the wire.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Gauge(u8);

/// Thickness of the enamel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Build {
    /// One coat: plain enamel (made to single-build dimensions), polyurethane, the lighter polyvinyl acetal.
    Single,
    /// Two coats: the heavier polyvinyl acetal.
    Heavy,
}

/// Which nominal bare diameter is meant by a gauge number. The limits are the standard's in both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum Convention {
    /// The gauge law's own diameter (ASTM B258): 42 gauge is 2.49373 thousandths of an inch.
    Unrounded,
    /// The diameter that wire is made to (NEMA MW 1000): 42 gauge is 2.5 thousandths. The one for windings.
    #[default]
    Rounded,
}

/// A row of the table, all in thousandths of an inch: least, nominal, most.
struct Row {
    bare: [f64; 3],
    single: [f64; 3],
    heavy: [f64; 3],
}

const fn row(bare: [f64; 3], single: [f64; 3], heavy: [f64; 3]) -> Row {
    Row { bare, single, heavy }
}

/// 36 to 46 gauge. NEMA MW 1000 C; the data set named above keeps diameters in micrometres, and they are returned to
/// the thousandths of an inch that they came from (each agrees within half a micrometre).
static ROWS: [Row; 11] = [
    row([4.9, 5.0, 5.1], [5.3, 5.55, 5.8], [5.7, 6.0, 6.3]),
    row([4.4, 4.5, 4.6], [4.7, 4.95, 5.2], [5.2, 5.45, 5.7]),
    row([3.9, 4.0, 4.1], [4.2, 4.45, 4.7], [4.6, 4.85, 5.1]),
    row([3.4, 3.5, 3.6], [3.6, 3.85, 4.1], [4.0, 4.25, 4.5]),
    row([3.0, 3.1, 3.2], [3.2, 3.45, 3.7], [3.6, 3.8, 4.0]),
    row([2.7, 2.8, 2.9], [2.9, 3.1, 3.3], [3.2, 3.4, 3.6]),
    row([2.4, 2.5, 2.6], [2.6, 2.8, 3.0], [2.8, 3.0, 3.2]),
    row([2.1, 2.2, 2.3], [2.3, 2.45, 2.6], [2.5, 2.7, 2.9]),
    row([1.9, 2.0, 2.1], [2.1, 2.25, 2.4], [2.3, 2.5, 2.7]),
    row([1.69, 1.76, 1.83], [1.79, 1.92, 2.05], [1.99, 2.145, 2.3]),
    row([1.51, 1.57, 1.64], [1.61, 1.73, 1.85], [1.81, 1.955, 2.1]),
];

fn limits(mils: [f64; 3]) -> Limits<Millimetres> {
    let [least, nominal, most] = mils.map(|mil| Millimetres(mil * MIL));
    Limits { least, nominal, most }
}

/// `r = ρ/(π d²/4)` for copper at 20 °C (IEC 60028).
fn ohms_per_metre(bare: Millimetres) -> OhmsPerMetre {
    OhmsPerMetre(COPPER_RESISTIVITY * 4.0 / (PI * bare.value() * bare.value()))
}

impl Gauge {
    /// A gauge from its number.
    ///
    /// # Errors
    /// [`WireError::Gauge`] outside 36 to 46.
    pub fn new(number: u8) -> Result<Self, WireError> {
        if (36..=46).contains(&number) { Ok(Self(number)) } else { Err(WireError::Gauge(number)) }
    }

    /// Its number.
    pub const fn number(self) -> u8 {
        self.0
    }

    fn row(self) -> &'static Row {
        &ROWS[usize::from(self.0 - 36)]
    }

    /// The diameter of the copper with the standard's limits (NEMA MW 1000); the nominal by the convention.
    pub fn bare(self, convention: Convention) -> Limits<Millimetres> {
        let limits = limits(self.row().bare);
        match convention {
            Convention::Rounded => limits,
            Convention::Unrounded => {
                let steps = 36.0 - f64::from(self.0);
                let nominal = Millimetres(5.0 * MIL * libm::pow(92.0, steps / 39.0));
                Limits { nominal, ..limits }
            }
        }
    }

    /// Resistance for each metre at 20 °C; least where the wire is thickest.
    pub fn ohms_per_metre(self, convention: Convention) -> Limits<OhmsPerMetre> {
        self.bare(convention).falling(ohms_per_metre)
    }

    /// How much of it makes so many ohms at 20 °C; least where the wire is thinnest.
    ///
    /// The rule of the trade, 1.70 Ω to the foot of 42 gauge (notes on pickup parameters published by an amplifier
    /// builder), gives 5,000 ft for 8.5 kΩ, 1.9 % less than the gauge law.
    pub fn length(self, ohms: Ohms, convention: Convention) -> Limits<Metres> {
        self.ohms_per_metre(convention).falling(|r| Metres(ohms.value() / r.value()))
    }
}

/// A wire as it is ordered: a gauge with a build. Its nominal is the rounded one ([`Convention::Rounded`]).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Wire {
    /// Its gauge.
    pub gauge: Gauge,
    /// Its build.
    pub build: Build,
}

impl Wire {
    /// The diameter of the copper.
    pub fn bare(self) -> Limits<Millimetres> {
        self.gauge.bare(Convention::Rounded)
    }

    /// The diameter over the enamel.
    pub fn overall(self) -> Limits<Millimetres> {
        let row = self.gauge.row();
        limits(match self.build {
            Build::Single => row.single,
            Build::Heavy => row.heavy,
        })
    }

    /// Resistance for each metre at 20 °C; least where the wire is thickest.
    pub fn ohms_per_metre(self) -> Limits<OhmsPerMetre> {
        self.gauge.ohms_per_metre(Convention::Rounded)
    }

    /// How much of it makes so many ohms at 20 °C.
    pub fn length(self, ohms: Ohms) -> Limits<Metres> {
        self.gauge.length(ohms, Convention::Rounded)
    }

    /// The thinnest, the nominal and the thickest spool that may be sold as this wire: thin copper with thin enamel,
    /// thick copper with thick enamel.
    pub fn spools(self) -> Limits<Spool> {
        Spool::between(self.bare(), self.overall())
    }

    /// The nominal spool.
    pub fn nominal(self) -> Spool {
        self.spools().nominal
    }
}

/// One wire: what lies on a bench or was drawn from the limits. It has a diameter, not limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spool {
    bare: Millimetres,
    overall: Millimetres,
}

impl Spool {
    /// The thinnest copper with the thinnest enamel, to the thickest with the thickest.
    fn between(bare: Limits<Millimetres>, overall: Limits<Millimetres>) -> Limits<Spool> {
        let spool = |bare, overall| Spool { bare, overall };
        Limits {
            least: spool(bare.least, overall.least),
            nominal: spool(bare.nominal, overall.nominal),
            most: spool(bare.most, overall.most),
        }
    }

    /// A wire of these diameters over the copper and over the enamel.
    ///
    /// # Errors
    /// [`WireError::Spool`] unless 0 < bare ≤ overall.
    pub fn new(bare: Millimetres, overall: Millimetres) -> Result<Self, WireError> {
        if bare.value() > 0.0 && bare <= overall && overall.value().is_finite() {
            Ok(Self { bare, overall })
        } else {
            Err(WireError::Spool { bare: bare.value(), overall: overall.value() })
        }
    }

    /// The diameter of the copper.
    pub const fn bare(self) -> Millimetres {
        self.bare
    }

    /// The diameter over the enamel.
    pub const fn overall(self) -> Millimetres {
        self.overall
    }

    /// Resistance for each metre at 20 °C (IEC 60028).
    pub fn ohms_per_metre(self) -> OhmsPerMetre {
        ohms_per_metre(self.bare)
    }

    /// The copper's share of the wire's section, (bare/overall)².
    pub fn copper_share(self) -> f64 {
        let ratio = self.bare.value() / self.overall.value();
        ratio * ratio
    }
}
