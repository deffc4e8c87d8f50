//! What a text can be expected to give: resistance, length, temperature and the rest.

use crate::unit::Unit;
use std::fmt;

/// What kind of quantity a text is expected to give.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Base unit ohm.
    Resistance,
    /// Base unit farad.
    Capacitance,
    /// Base unit henry.
    Inductance,
    /// Base unit hertz.
    Frequency,
    /// Base unit degree Celsius.
    Temperature,
    /// Base unit millimetre.
    Length,
    /// Base unit gram.
    Mass,
    /// Base unit volt.
    Voltage,
    /// Base unit ampere.
    Current,
    /// Base unit second.
    Time,
    /// Base unit degree of arc.
    Angle,
    /// A number of unit one, such as a quality factor; base unit one.
    Number,
}

impl Dimension {
    /// Every dimension. Those of the electrical bench come first, so that a stray letter is explained by them first.
    pub const ALL: [Self; 12] = [
        Self::Resistance,
        Self::Capacitance,
        Self::Inductance,
        Self::Frequency,
        Self::Voltage,
        Self::Current,
        Self::Length,
        Self::Mass,
        Self::Time,
        Self::Temperature,
        Self::Angle,
        Self::Number,
    ];

    /// The unit that [`crate::Written::value_in_base`] answers in.
    pub const fn base_unit(self) -> Unit {
        match self {
            Self::Resistance => Unit::Ohm,
            Self::Capacitance => Unit::Farad,
            Self::Inductance => Unit::Henry,
            Self::Frequency => Unit::Hertz,
            Self::Temperature => Unit::DegreeCelsius,
            Self::Length => Unit::Millimetre,
            Self::Mass => Unit::Gram,
            Self::Voltage => Unit::Volt,
            Self::Current => Unit::Ampere,
            Self::Time => Unit::Second,
            Self::Angle => Unit::Degree,
            Self::Number => Unit::One,
        }
    }

    /// The unit of a number with none. Only where nobody would mean another; elsewhere a default would be a guess.
    pub const fn unit_when_bare(self) -> Option<Unit> {
        match self {
            Self::Resistance | Self::Frequency | Self::Voltage | Self::Angle | Self::Number => {
                Some(self.base_unit())
            }
            _ => None,
        }
    }

    /// Three units that people use for this dimension, smallest first, for hints.
    pub(crate) const fn usual_units(self) -> [Unit; 3] {
        match self {
            Self::Resistance => [Unit::Ohm, Unit::Kilohm, Unit::Megohm],
            Self::Capacitance => [Unit::Picofarad, Unit::Nanofarad, Unit::Microfarad],
            Self::Inductance => [Unit::Microhenry, Unit::Millihenry, Unit::Henry],
            Self::Frequency => [Unit::Hertz, Unit::Kilohertz, Unit::Megahertz],
            Self::Temperature => [Unit::DegreeCelsius, Unit::DegreeFahrenheit, Unit::Kelvin],
            Self::Length => [Unit::Thou, Unit::Millimetre, Unit::Inch],
            Self::Mass => [Unit::Gram, Unit::Ounce, Unit::Kilogram],
            Self::Voltage => [Unit::Millivolt, Unit::Volt, Unit::Kilovolt],
            Self::Current => [Unit::Microampere, Unit::Milliampere, Unit::Ampere],
            Self::Time => [Unit::Second, Unit::Minute, Unit::Hour],
            Self::Angle => [Unit::Degree, Unit::Degree, Unit::Degree],
            Self::Number => [Unit::One, Unit::One, Unit::One],
        }
    }

    /// Whether a unit letter may stand for the decimal sign, as in `6k31`, `2n2`, `2H4` (IEC 60062 and its habit).
    /// Not for time or length: `1h30` is ninety minutes, not 1.30 hours.
    pub(crate) const fn takes_letter_as_decimal_sign(self) -> bool {
        matches!(
            self,
            Self::Resistance
                | Self::Capacitance
                | Self::Inductance
                | Self::Frequency
                | Self::Voltage
                | Self::Current
        )
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Resistance => "resistance",
            Self::Capacitance => "capacitance",
            Self::Inductance => "inductance",
            Self::Frequency => "frequency",
            Self::Temperature => "temperature",
            Self::Length => "length",
            Self::Mass => "mass",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Time => "time",
            Self::Angle => "angle",
            Self::Number => "number",
        })
    }
}
