//! Turns, ohms, wire length and depth of a coil on its bobbin.
//!
//! It answers: how many turns make 6.02 kΩ on this former? How deep do they lie, how long is an average turn, do they
//! fit under the flatwork? And what do so many turns read?
//!
//! **The design decision: the depth follows from the turns.** The longer the winding, the deeper it lies and the
//! longer each further turn; so ohms grow faster than turns, and a rule of so many ohms for each turn holds only near
//! the coil it was taken from. One quadratic ties them and is solved in closed form, so that a draw costs nothing.
//!
//! Equations (from the geometry; the packing figures are those of a coil-winding glossary: copper fill 0.45 to 0.50
//! wild wound, hexagonal limit 0.9069 of the overall section):
//! - a turn at depth t is `P + 2 g t` long, `g = π` where wire lies round at the corners, 4 where it lies square;
//! - the mean turn of a winding of depth T is `P + g T`;
//! - `T = c N`, `c = π d²/(4 k h)`: N wires of overall diameter d fill the share k of height h times depth T;
//! - `R = r N (P + g c N)`, so `N = [√(P² + 4 g c R/r) − P]/(2 g c)`.
//!
//! Good where the depth is more than three wires and the height more than ten.
//!
//! ```
//! use asfound_electric::bobbin::{Bobbin, Former, Packing, Winding};
//! use asfound_electric::wire::{Build, Gauge, Wire};
//! use asfound_measure::{Millimetres, Ohms};
//! // A coil laid straight on six rods, 11 mm between the plates.
//! let former = Former::Obround { straight: Millimetres(52.4), end_radius: Millimetres(2.48) };
//! let bobbin = Bobbin::new(former, Millimetres(11.0))?;
//! let spool = Wire { gauge: Gauge::new(42)?, build: Build::Single }.nominal();
//! let winding = Winding { bobbin, spool, packing: Packing::new(0.574)? };
//! let wound = winding.reading(Ohms(6020.0))?;
//! assert!((wound.turns.value() - 8107.0).abs() < 1.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::wire::{Limits, Metres, Spool};
use asfound_measure::{Millimetres, Ohms, Quantity};
use std::f64::consts::PI;

/// The share of a section that equal circles fill at most, `π/√12`.
pub const HEXAGONAL: f64 = 0.906_899_682_117_108_9;

/// What cannot be wound.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum BobbinError {
    /// A measure of the bobbin is nothing, negative or not a number.
    #[error("{what} of {millimetres} mm cannot be; it must be more than nothing")]
    Measure {
        /// Which measure.
        what: &'static str,
        /// What was given.
        millimetres: f64,
    },
    /// A packing beyond what circles can fill.
    #[error(
        "packing {0} cannot be: wire fills at most 0.907 of the section; a coil wound by hand about 0.5 to 0.63"
    )]
    Packing(f64),
    /// Ohms or turns are nothing, negative or not a number.
    #[error("{0} cannot be wound; turns and ohms are more than nothing")]
    Amount(f64),
    /// The outside of the winding is smaller than its former.
    #[error("the winding measures {outside} mm outside, but the former alone is {former} mm")]
    Inside {
        /// The outside of the winding, in mm.
        outside: f64,
        /// The former along the same way, in mm.
        former: f64,
    },
}

/// How wire lies at a square corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lay {
    /// Round: each corner is a quarter circle about the former's corner. What tight wire does.
    Rounded,
    /// Square, layer upon layer: the longest turns the former allows, an upper bound.
    Square,
}

/// What the first turn lies on, looked at along the axis of the coil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Former {
    /// Two straights joined by half circles.
    Obround {
        /// The length of one straight.
        straight: Millimetres,
        /// The radius of the ends.
        end_radius: Millimetres,
    },
    /// A rectangle with sharp corners.
    Rectangular {
        /// Its longer side.
        length: Millimetres,
        /// Its shorter side.
        width: Millimetres,
        /// How wire lies at its corners.
        lay: Lay,
    },
    /// A circle.
    Circular {
        /// Its radius.
        radius: Millimetres,
    },
}

impl Former {
    fn measures(self) -> [(&'static str, Millimetres); 2] {
        match self {
            Former::Obround { straight, end_radius } => [("straight", straight), ("end radius", end_radius)],
            Former::Rectangular { length, width, .. } => [("length", length), ("width", width)],
            Former::Circular { radius } => [("radius", radius), ("radius", radius)],
        }
    }
}

/// A former with the height between its plates; checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bobbin {
    former: Former,
    height: Millimetres,
}

/// Length and width of an outline: of a winding from outside, or of a plate it must not overhang.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Along the former.
    pub length: Millimetres,
    /// Across it.
    pub width: Millimetres,
}

impl Bobbin {
    /// A bobbin.
    ///
    /// # Errors
    /// [`BobbinError::Measure`] for a measure that is not more than nothing.
    pub fn new(former: Former, height: Millimetres) -> Result<Self, BobbinError> {
        let [first, second] = former.measures();
        for (what, measure) in [first, second, ("winding height", height)] {
            if !(measure.value() > 0.0 && measure.value().is_finite()) {
                return Err(BobbinError::Measure { what, millimetres: measure.value() });
            }
        }
        Ok(Self { former, height })
    }

    /// What the first turn lies on.
    pub const fn former(self) -> Former {
        self.former
    }

    /// The height between the plates.
    pub const fn height(self) -> Millimetres {
        self.height
    }

    /// The length of a turn that lies on the former itself.
    pub fn perimeter(self) -> Millimetres {
        Millimetres(match self.former {
            Former::Obround { straight, end_radius } => {
                2.0 * straight.value() + 2.0 * PI * end_radius.value()
            }
            Former::Rectangular { length, width, .. } => 2.0 * (length.value() + width.value()),
            Former::Circular { radius } => 2.0 * PI * radius.value(),
        })
    }

    /// What each millimetre of depth adds to the mean turn, in millimetres: π, or 4 with square corners.
    pub fn growth(self) -> f64 {
        match self.former {
            Former::Rectangular { lay: Lay::Square, .. } => 4.0,
            _ => PI,
        }
    }

    /// The length of one turn at a depth.
    pub fn turn_length(self, depth: Millimetres) -> Millimetres {
        Millimetres(self.perimeter().value() + 2.0 * self.growth() * depth.value())
    }

    /// The mean length of the turns from the former to a depth.
    pub fn mean_turn_length(self, depth: Millimetres) -> Millimetres {
        Millimetres(self.perimeter().value() + self.growth() * depth.value())
    }

    /// Length and width over a winding of this depth.
    pub fn outline(self, depth: Millimetres) -> Outline {
        let (length, width) = match self.former {
            Former::Obround { straight, end_radius } => {
                (straight.value() + 2.0 * end_radius.value(), 2.0 * end_radius.value())
            }
            Former::Rectangular { length, width, .. } => (length.value(), width.value()),
            Former::Circular { radius } => (2.0 * radius.value(), 2.0 * radius.value()),
        };
        let both = 2.0 * depth.value();
        Outline { length: Millimetres(length + both), width: Millimetres(width + both) }
    }

    /// The depth of a winding that measures this along the former, from outside to outside.
    ///
    /// # Errors
    /// [`BobbinError::Inside`] where the former alone is longer.
    pub fn depth_from_length(self, outside: Millimetres) -> Result<Millimetres, BobbinError> {
        depth_between(outside, self.outline(Millimetres(0.0)).length)
    }

    /// The depth of a winding that measures this across the former, from outside to outside.
    ///
    /// # Errors
    /// [`BobbinError::Inside`] where the former alone is wider.
    pub fn depth_from_width(self, outside: Millimetres) -> Result<Millimetres, BobbinError> {
        depth_between(outside, self.outline(Millimetres(0.0)).width)
    }
}

fn depth_between(outside: Millimetres, former: Millimetres) -> Result<Millimetres, BobbinError> {
    if outside >= former {
        Ok((outside - former) * 0.5)
    } else {
        Err(BobbinError::Inside { outside: outside.value(), former: former.value() })
    }
}

/// The share of the winding's section that wire with its enamel fills; checked to lie within what circles can fill.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Packing(f64);

impl Packing {
    /// A packing as a share of one.
    ///
    /// # Errors
    /// [`BobbinError::Packing`] unless 0 < share ≤ 0.9069.
    pub fn new(share: f64) -> Result<Self, BobbinError> {
        if share > 0.0 && share <= HEXAGONAL { Ok(Self(share)) } else { Err(BobbinError::Packing(share)) }
    }

    /// The share, of one.
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// A number of turns; not whole where it was worked out.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Turns(pub f64);

impl Turns {
    /// The bare number.
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl Quantity for Turns {
    const UNIT: &'static str = "";

    fn of(value: f64) -> Self {
        Self(value)
    }

    fn size(self) -> f64 {
        self.0
    }
}

/// One bobbin, one wire, one packing: enough to go from ohms to turns and back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Winding {
    /// What it is wound on.
    pub bobbin: Bobbin,
    /// What it is wound with.
    pub spool: Spool,
    /// How tightly.
    pub packing: Packing,
}

/// A coil as wound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wound {
    /// How many turns.
    pub turns: Turns,
    /// What it reads at 20 °C.
    pub ohms: Ohms,
    /// The length of its wire.
    pub wire_length: Metres,
    /// How deep it lies on the former.
    pub depth: Millimetres,
    /// The length of an average turn.
    pub mean_turn_length: Millimetres,
    /// Copper's share of the winding's section.
    pub copper_fill: f64,
    /// The share of the winding's section that wire with its enamel fills: the packing.
    pub overall_fill: f64,
}

impl Winding {
    /// The depth that one turn adds, in mm: `c = π d²/(4 k h)`.
    fn depth_of_a_turn(&self) -> f64 {
        let overall = self.spool.overall().value();
        PI * overall * overall / (4.0 * self.packing.0 * self.bobbin.height.value())
    }

    /// The coil with so many turns.
    ///
    /// # Errors
    /// [`BobbinError::Amount`] for turns that are not more than nothing.
    pub fn turns(&self, turns: Turns) -> Result<Wound, BobbinError> {
        positive(turns.0)?;
        let depth = Millimetres(self.depth_of_a_turn() * turns.0);
        let mean_turn_length = self.bobbin.mean_turn_length(depth);
        let wire_length = Metres(turns.0 * mean_turn_length.value() * 1e-3);
        Ok(Wound {
            turns,
            ohms: self.spool.ohms_per_metre().over(wire_length),
            wire_length,
            depth,
            mean_turn_length,
            copper_fill: self.packing.0 * self.spool.copper_share(),
            overall_fill: self.packing.0,
        })
    }

    /// The coil that reads so many ohms at 20 °C: `N = [√(P² + 4 g c R/r) − P]/(2 g c)`.
    ///
    /// # Errors
    /// [`BobbinError::Amount`] for ohms that are not more than nothing.
    pub fn reading(&self, ohms: Ohms) -> Result<Wound, BobbinError> {
        positive(ohms.value())?;
        let length = ohms.value() / self.spool.ohms_per_metre().value() * 1e3;
        let perimeter = self.bobbin.perimeter().value();
        let spread = 4.0 * self.bobbin.growth() * self.depth_of_a_turn();
        // The same root with its difference of near equals multiplied away, so that a thin winding loses no digits.
        let turns = 2.0 * length / (perimeter + (perimeter * perimeter + spread * length).sqrt());
        self.turns(Turns(turns))
    }
}

fn positive(amount: f64) -> Result<(), BobbinError> {
    if amount > 0.0 && amount.is_finite() { Ok(()) } else { Err(BobbinError::Amount(amount)) }
}

/// What a winding is known to within: the spool's limits, the smallest and largest bobbin, the loosest and tightest
/// packing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Within {
    /// The bobbin: with the shortest turns, as measured or assumed, with the longest. Corners laid round or square are
    /// such limits, too.
    pub bobbin: Limits<Bobbin>,
    /// The wire: [`crate::wire::Wire::spools`].
    pub spool: Limits<Spool>,
    /// The packing.
    pub packing: Limits<Packing>,
}

/// A figure with what each cause alone, and all together, may make of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carried<Q> {
    /// All at their nominal.
    pub nominal: Q,
    /// With the wire at its limits and the rest at their nominal.
    pub by_wire: Limits<Q>,
    /// With the bobbin at its limits.
    pub by_bobbin: Limits<Q>,
    /// With the packing at its limits.
    pub by_packing: Limits<Q>,
    /// With all at whichever limits make it least and most.
    pub all: Limits<Q>,
}

impl<Q: Quantity> Carried<Q> {
    /// The combined standard uncertainty, each cause taken as even between its limits (JCGM 100, 4.3.7 and 5.1.2).
    pub fn standard_uncertainty(&self) -> Q {
        let squares: f64 = [self.by_wire, self.by_bobbin, self.by_packing]
            .iter()
            .map(|limits| limits.standard_uncertainty().size())
            .map(|u| u * u)
            .sum();
        Q::of(squares.sqrt())
    }
}

impl Within {
    /// The winding with all at their nominal.
    pub fn nominal(&self) -> Winding {
        Winding { bobbin: self.bobbin.nominal, spool: self.spool.nominal, packing: self.packing.nominal }
    }

    /// The turns of a coil that reads so many ohms at 20 °C.
    ///
    /// # Errors
    /// [`BobbinError::Amount`] for ohms that are not more than nothing.
    pub fn turns_reading(&self, ohms: Ohms) -> Result<Carried<Turns>, BobbinError> {
        self.carry(|winding| Ok(winding.reading(ohms)?.turns))
    }

    /// The ohms at 20 °C of a coil with so many turns.
    ///
    /// # Errors
    /// [`BobbinError::Amount`] for turns that are not more than nothing.
    pub fn ohms_of(&self, turns: Turns) -> Result<Carried<Ohms>, BobbinError> {
        self.carry(|winding| Ok(winding.turns(turns)?.ohms))
    }

    /// Both figures move one way with each cause, so their extremes lie at the corners of the limits.
    fn carry<Q: Quantity>(
        &self,
        figure: impl Fn(Winding) -> Result<Q, BobbinError>,
    ) -> Result<Carried<Q>, BobbinError> {
        let middle = self.nominal();
        let nominal = figure(middle)?;
        let ends = |windings: &[Winding]| -> Result<Limits<Q>, BobbinError> {
            let mut limits = Limits::known(nominal);
            for winding in windings {
                let found = figure(*winding)?;
                if found.size() < limits.least.size() {
                    limits.least = found;
                }
                if found.size() > limits.most.size() {
                    limits.most = found;
                }
            }
            Ok(limits)
        };
        let mut corners = Vec::with_capacity(8);
        for bobbin in [self.bobbin.least, self.bobbin.most] {
            for spool in [self.spool.least, self.spool.most] {
                for packing in [self.packing.least, self.packing.most] {
                    corners.push(Winding { bobbin, spool, packing });
                }
            }
        }
        Ok(Carried {
            nominal,
            by_wire: ends(&[self.spool.least, self.spool.most].map(|spool| Winding { spool, ..middle }))?,
            by_bobbin: ends(
                &[self.bobbin.least, self.bobbin.most].map(|bobbin| Winding { bobbin, ..middle }),
            )?,
            by_packing: ends(
                &[self.packing.least, self.packing.most].map(|packing| Winding { packing, ..middle }),
            )?,
            all: ends(&corners)?,
        })
    }
}
