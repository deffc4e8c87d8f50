//! Units as codes of the Unified Code for Units of Measure (UCUM, <https://ucum.org/ucum>), for records that must be
//! read in thirty years: plain ASCII, one code a unit, published.

use crate::unit::Unit;

impl Unit {
    /// The unit's case-sensitive UCUM code.
    ///
    /// ```
    /// use asfound_measure::Unit;
    /// assert_eq!(Unit::Kilohm.ucum(), "kOhm");
    /// assert_eq!(Unit::from_ucum("[degF]"), Some(Unit::DegreeFahrenheit));
    /// ```
    pub const fn ucum(self) -> &'static str {
        match self {
            Unit::Milliohm => "mOhm",
            Unit::Ohm => "Ohm",
            Unit::Kilohm => "kOhm",
            Unit::Megohm => "MOhm",
            Unit::Gigohm => "GOhm",
            Unit::Picofarad => "pF",
            Unit::Nanofarad => "nF",
            Unit::Microfarad => "uF",
            Unit::Millifarad => "mF",
            Unit::Farad => "F",
            Unit::Nanohenry => "nH",
            Unit::Microhenry => "uH",
            Unit::Millihenry => "mH",
            Unit::Henry => "H",
            Unit::Hertz => "Hz",
            Unit::Kilohertz => "kHz",
            Unit::Megahertz => "MHz",
            Unit::DegreeCelsius => "Cel",
            Unit::DegreeFahrenheit => "[degF]",
            Unit::Kelvin => "K",
            Unit::Micrometre => "um",
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Metre => "m",
            Unit::Thou => "[mil_i]",
            Unit::Inch => "[in_i]",
            Unit::Foot => "[ft_i]",
            Unit::Milligram => "mg",
            Unit::Gram => "g",
            Unit::Kilogram => "kg",
            Unit::Ounce => "[oz_av]",
            Unit::Pound => "[lb_av]",
            Unit::Microvolt => "uV",
            Unit::Millivolt => "mV",
            Unit::Volt => "V",
            Unit::Kilovolt => "kV",
            Unit::Nanoampere => "nA",
            Unit::Microampere => "uA",
            Unit::Milliampere => "mA",
            Unit::Ampere => "A",
            Unit::Microsecond => "us",
            Unit::Millisecond => "ms",
            Unit::Second => "s",
            Unit::Minute => "min",
            Unit::Hour => "h",
            Unit::Degree => "deg",
            Unit::One => "1",
        }
    }

    /// The unit with this code; `None` for a code that this release does not know.
    pub fn from_ucum(code: &str) -> Option<Unit> {
        Unit::ALL.into_iter().find(|unit| unit.ucum() == code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_has_a_code_of_its_own() {
        for unit in Unit::ALL {
            assert_eq!(Unit::from_ucum(unit.ucum()), Some(unit));
        }
    }
}
