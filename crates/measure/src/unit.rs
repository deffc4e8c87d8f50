//! The units met at the bench, how each is spelled, and what each is worth in the base unit of its dimension.
//!
//! Sources: the SI brochure (BIPM, 9th edition) for units and prefixes; the international yard and pound of 1959 for
//! the inch (25.4 mm exactly) and the pound (453.592 37 g exactly); IEC 60062 for `R`, `k`, `M`, `p`, `n`, `µ` as
//! decimal signs. Old spellings (`mfd`, `mmf`, `cps`) are common practice, no source.

use crate::decimal::Decimal;
use crate::dimension::Dimension;
use std::fmt;

/// A unit as a person writes it, prefix included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each name is the unit's own name, written out")]
pub enum Unit {
    Milliohm,
    Ohm,
    Kilohm,
    Megohm,
    Gigohm,
    Picofarad,
    Nanofarad,
    Microfarad,
    Millifarad,
    Farad,
    Nanohenry,
    Microhenry,
    Millihenry,
    Henry,
    Hertz,
    Kilohertz,
    Megahertz,
    DegreeCelsius,
    DegreeFahrenheit,
    Kelvin,
    Micrometre,
    Millimetre,
    Centimetre,
    Metre,
    Thou,
    Inch,
    Foot,
    Milligram,
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Microvolt,
    Millivolt,
    Volt,
    Kilovolt,
    Nanoampere,
    Microampere,
    Milliampere,
    Ampere,
    Microsecond,
    Millisecond,
    Second,
    Minute,
    Hour,
    Degree,
    One,
}

/// One unit's row: how it is printed, what it measures, its worth in the base unit, and how it is spelled.
struct Row {
    symbol: &'static str,
    dimension: Dimension,
    factor: Decimal,
    /// Spellings in which the size of the letters matters (`mΩ` and `MΩ`).
    exact: &'static [&'static str],
    /// Spellings in which it does not.
    any_case: &'static [&'static str],
}

const fn row(
    symbol: &'static str,
    dimension: Dimension,
    (mantissa, exponent): (i64, i32),
    exact: &'static [&'static str],
    any_case: &'static [&'static str],
) -> Row {
    Row { symbol, dimension, factor: Decimal { mantissa, exponent }, exact, any_case }
}

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 47] = {
        use Unit::*;
        [
            Milliohm,
            Ohm,
            Kilohm,
            Megohm,
            Gigohm,
            Picofarad,
            Nanofarad,
            Microfarad,
            Millifarad,
            Farad,
            Nanohenry,
            Microhenry,
            Millihenry,
            Henry,
            Hertz,
            Kilohertz,
            Megahertz,
            DegreeCelsius,
            DegreeFahrenheit,
            Kelvin,
            Micrometre,
            Millimetre,
            Centimetre,
            Metre,
            Thou,
            Inch,
            Foot,
            Milligram,
            Gram,
            Kilogram,
            Ounce,
            Pound,
            Microvolt,
            Millivolt,
            Volt,
            Kilovolt,
            Nanoampere,
            Microampere,
            Milliampere,
            Ampere,
            Microsecond,
            Millisecond,
            Second,
            Minute,
            Hour,
            Degree,
            One,
        ]
    };

    /// The symbol as the SI brochure prints it, or the trade's.
    pub const fn symbol(self) -> &'static str {
        self.row().symbol
    }

    /// What the unit measures.
    pub const fn dimension(self) -> Dimension {
        self.row().dimension
    }

    /// How many base units one of these is, exactly: 25.4 for the inch. For Fahrenheit, whose degree is 5/9 of a
    /// Celsius degree and no finite decimal, it is 1, and [`Unit::to_base`] does the rest.
    pub const fn factor(self) -> Decimal {
        self.row().factor
    }

    /// An amount of this unit in the base unit of its dimension, rounded once (twice for Fahrenheit).
    pub fn to_base(self, amount: Decimal) -> f64 {
        match self {
            Self::DegreeFahrenheit => shifted(amount, -32, 0) * 5.0 / 9.0,
            Self::Kelvin => shifted(amount, -27_315, -2),
            _ => amount.product_to_f64(self.factor()),
        }
    }

    /// A difference of this unit in the base unit: like [`Unit::to_base`] without the shift of the temperature scales.
    pub fn difference_to_base(self, amount: Decimal) -> f64 {
        match self {
            Self::DegreeFahrenheit => amount.to_f64() * 5.0 / 9.0,
            _ => amount.product_to_f64(self.factor()),
        }
    }

    const fn row(self) -> Row {
        match self.electrical_row() {
            Some(row) => row,
            None => self.workshop_row(),
        }
    }

    const fn electrical_row(self) -> Option<Row> {
        use Dimension::{Capacitance, Current, Frequency, Inductance, Resistance, Voltage};
        Some(match self {
            Self::Milliohm => row(
                "mΩ",
                Resistance,
                (1, -3),
                &["mohm", "mohms", "mOhm", "mOhms", "mOHM", "mOHMS"],
                &["milliohm", "milliohms"],
            ),
            Self::Ohm => row("Ω", Resistance, (1, 0), &[], &["ohm", "ohms", "r"]),
            Self::Kilohm => row(
                "kΩ",
                Resistance,
                (1, 3),
                &[],
                &["k", "kohm", "kohms", "kilohm", "kilohms", "kiloohm", "kiloohms", "kr"],
            ),
            Self::Megohm => row(
                "MΩ",
                Resistance,
                (1, 6),
                &["M", "Mohm", "Mohms", "MOhm", "MOhms", "MOHM", "MOHMS"],
                &["meg", "megs", "megohm", "megohms", "megaohm", "megaohms"],
            ),
            Self::Gigohm => row(
                "GΩ",
                Resistance,
                (1, 9),
                &["G", "Gohm", "Gohms", "GOhm", "GOHM"],
                &["gigohm", "gigohms", "gigaohm", "gigaohms"],
            ),
            Self::Picofarad => row(
                "pF",
                Capacitance,
                (1, -12),
                &[],
                &["p", "pf", "pfd", "uuf", "uufd", "mmf", "mmfd", "picofarad", "picofarads"],
            ),
            Self::Nanofarad => {
                row("nF", Capacitance, (1, -9), &[], &["n", "nf", "nfd", "nanofarad", "nanofarads"])
            }
            Self::Microfarad => row(
                "µF",
                Capacitance,
                (1, -6),
                &[],
                &["u", "uf", "ufd", "mfd", "mfds", "microfarad", "microfarads"],
            ),
            Self::Millifarad => row("mF", Capacitance, (1, -3), &[], &["millifarad", "millifarads"]),
            Self::Farad => row("F", Capacitance, (1, 0), &["F"], &["farad", "farads"]),
            Self::Nanohenry => {
                row("nH", Inductance, (1, -9), &[], &["nh", "nanohenry", "nanohenries", "nanohenrys"])
            }
            Self::Microhenry => {
                row("µH", Inductance, (1, -6), &[], &["u", "uh", "microhenry", "microhenries", "microhenrys"])
            }
            Self::Millihenry => row(
                "mH",
                Inductance,
                (1, -3),
                &["m", "mh", "mH"],
                &["millihenry", "millihenries", "millihenrys"],
            ),
            Self::Henry => row("H", Inductance, (1, 0), &[], &["h", "hy", "henry", "henries", "henrys"]),
            Self::Hertz => row("Hz", Frequency, (1, 0), &[], &["hz", "hertz", "cps", "c/s"]),
            Self::Kilohertz => {
                row("kHz", Frequency, (1, 3), &[], &["k", "khz", "kilohertz", "kc", "kc/s", "kcps"])
            }
            Self::Megahertz => {
                row("MHz", Frequency, (1, 6), &["M", "MHz", "Mhz", "MHZ", "Mc", "Mc/s"], &["megahertz"])
            }
            Self::Microvolt => row("µV", Voltage, (1, -6), &[], &["u", "uv", "microvolt", "microvolts"]),
            Self::Millivolt => {
                row("mV", Voltage, (1, -3), &["m", "mV", "mv", "mVDC", "mVAC"], &["millivolt", "millivolts"])
            }
            Self::Volt => {
                row("V", Voltage, (1, 0), &[], &["v", "volt", "volts", "vdc", "vac", "voltsdc", "voltsac"])
            }
            Self::Kilovolt => row("kV", Voltage, (1, 3), &[], &["k", "kv", "kilovolt", "kilovolts"]),
            Self::Nanoampere => row("nA", Current, (1, -9), &[], &["n", "na", "nanoamp", "nanoamps"]),
            Self::Microampere => {
                row("µA", Current, (1, -6), &[], &["u", "ua", "microamp", "microamps", "microampere"])
            }
            Self::Milliampere => row(
                "mA",
                Current,
                (1, -3),
                &["m", "mA", "ma"],
                &["milliamp", "milliamps", "milliampere", "milliamperes"],
            ),
            Self::Ampere => row("A", Current, (1, 0), &[], &["a", "amp", "amps", "ampere", "amperes"]),
            _ => return None,
        })
    }

    const fn workshop_row(self) -> Row {
        use Dimension::{Angle, Length, Mass, Number, Temperature, Time};
        match self {
            Self::DegreeFahrenheit => row(
                "°F",
                Temperature,
                (1, 0),
                &[],
                &["f", "°f", "degf", "degreesf", "fahrenheit", "degreesfahrenheit"],
            ),
            Self::Kelvin => row("K", Temperature, (1, 0), &["K"], &["kelvin", "kelvins"]),
            Self::Micrometre => row(
                "µm",
                Length,
                (1, -3),
                &[],
                &["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"],
            ),
            Self::Millimetre => row(
                "mm",
                Length,
                (1, 0),
                &[],
                &["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
            ),
            Self::Centimetre => row(
                "cm",
                Length,
                (1, 1),
                &[],
                &["cm", "centimetre", "centimetres", "centimeter", "centimeters"],
            ),
            Self::Metre => row("m", Length, (1, 3), &["m"], &["metre", "metres", "meter", "meters"]),
            Self::Thou => row("thou", Length, (254, -4), &[], &["thou", "thous", "mil", "mils"]),
            Self::Inch => row("in", Length, (254, -1), &[], &["in", "ins", "inch", "inches", "\"", "''"]),
            Self::Foot => row("ft", Length, (3048, -1), &[], &["ft", "foot", "feet", "'"]),
            Self::Milligram => row("mg", Mass, (1, -3), &["mg"], &["milligram", "milligrams"]),
            Self::Gram => row("g", Mass, (1, 0), &[], &["g", "gram", "grams", "gramme", "grammes"]),
            Self::Kilogram => {
                row("kg", Mass, (1, 3), &[], &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"])
            }
            Self::Ounce => row("oz", Mass, (28_349_523_125, -9), &[], &["oz", "ounce", "ounces"]),
            Self::Pound => row("lb", Mass, (45_359_237, -5), &[], &["lb", "lbs", "pound", "pounds"]),
            Self::Microsecond => row("µs", Time, (1, -6), &[], &["us", "microsecond", "microseconds"]),
            Self::Millisecond => row("ms", Time, (1, -3), &[], &["ms", "millisecond", "milliseconds"]),
            Self::Second => row("s", Time, (1, 0), &[], &["s", "sec", "secs", "second", "seconds"]),
            Self::Minute => row("min", Time, (60, 0), &[], &["min", "mins", "minute", "minutes"]),
            Self::Hour => row("h", Time, (3600, 0), &[], &["h", "hr", "hrs", "hour", "hours"]),
            // Unit one has no sign (SI brochure, 5.4.7); it is what stands where nothing stands.
            Self::One => row("", Number, (1, 0), &[""], &[]),
            Self::Degree => row("°", Angle, (1, 0), &[], &["°", "deg", "degs", "degree", "degrees"]),
            _ => {
                row("°C", Temperature, (1, 0), &[], &["c", "°c", "degc", "degreesc", "celsius", "centigrade"])
            }
        }
    }

    /// The unit of this dimension that is spelled so. `spelling` has been through [`plain`].
    pub(crate) fn spelled(spelling: &str, dimension: Dimension) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| {
            let row = unit.row();
            row.dimension == dimension
                && (row.exact.contains(&spelling)
                    || row.any_case.iter().any(|known| known.eq_ignore_ascii_case(spelling)))
        })
    }

    /// The units that a spelling with two meanings could stand for, most likely first. `spelling` as in
    /// [`Unit::spelled`]; these are asked back, never guessed.
    pub(crate) fn could_be(spelling: &str, dimension: Dimension) -> Option<[Self; 3]> {
        use Unit::*;
        match (dimension, spelling) {
            (Dimension::Resistance, "m") => Some([Megohm, Milliohm, Ohm]),
            (Dimension::Capacitance, "m" | "M" | "mF" | "mf" | "MF" | "Mf") => {
                Some([Microfarad, Nanofarad, Picofarad])
            }
            (Dimension::Inductance, "M" | "MH" | "Mh") => Some([Millihenry, Henry, Microhenry]),
            (Dimension::Frequency, "m" | "mhz" | "mHz") => Some([Megahertz, Kilohertz, Hertz]),
            (Dimension::Voltage, "M" | "MV" | "Mv") => Some([Millivolt, Volt, Kilovolt]),
            (Dimension::Current, "M" | "MA" | "Ma") => Some([Milliampere, Ampere, Microampere]),
            (Dimension::Temperature, "°" | "deg" | "degree" | "degrees") => {
                Some([DegreeCelsius, DegreeFahrenheit, Kelvin])
            }
            (Dimension::Time, "m" | "M") => Some([Minute, Millisecond, Second]),
            (Dimension::Length, "M") => Some([Metre, Millimetre, Micrometre]),
            _ => None,
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// `amount + shift × 10^exponent` as the nearest `f64`, added exactly where the two fit one mantissa.
fn shifted(amount: Decimal, shift: i128, exponent: i32) -> f64 {
    let place = amount.exponent.min(exponent);
    let widened = |mantissa: i128, from: i32| {
        let steps = u32::try_from(from - place).ok()?;
        10_i128.checked_pow(steps)?.checked_mul(mantissa)
    };
    let sum = widened(i128::from(amount.mantissa), amount.exponent)
        .zip(widened(shift, exponent))
        .and_then(|(a, b)| a.checked_add(b));
    match sum {
        Some(sum) => crate::decimal::nearest(sum, i64::from(place)),
        None => amount.to_f64() + crate::decimal::nearest(shift, i64::from(exponent)),
    }
}

/// A unit as typed, with spaces and one closing full stop dropped and the look-alike signs made one.
pub(crate) fn plain(typed: &str) -> String {
    let mut spelling = String::with_capacity(typed.len());
    for sign in typed.chars().filter(|c| !c.is_whitespace()) {
        match sign {
            'µ' | 'μ' => spelling.push('u'),
            'Ω' | '\u{2126}' | 'ω' => spelling.push_str("ohm"),
            'º' | '˚' => spelling.push('°'),
            '℃' => spelling.push_str("°C"),
            '℉' => spelling.push_str("°F"),
            '″' | '”' | '“' => spelling.push('"'),
            '′' | '’' | '‘' => spelling.push('\''),
            other => spelling.push(other),
        }
    }
    if spelling.len() > 1 && spelling.ends_with('.') {
        spelling.pop();
    }
    spelling
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_lists_every_unit_once_in_order() {
        for (position, unit) in Unit::ALL.into_iter().enumerate() {
            assert_eq!(unit as usize, position);
        }
    }

    #[test]
    fn a_spelling_means_one_unit_in_its_dimension() {
        for dimension in Dimension::ALL {
            let mut seen = std::collections::BTreeSet::new();
            for unit in Unit::ALL.into_iter().filter(|unit| unit.dimension() == dimension) {
                for spelling in unit.row().any_case {
                    assert_eq!(*spelling, spelling.to_ascii_lowercase());
                    assert!(seen.insert(*spelling), "{spelling} twice in {dimension}");
                    assert_eq!(Unit::could_be(spelling, dimension), None);
                }
                for spelling in unit.row().exact {
                    assert!(seen.insert(*spelling), "{spelling} twice in {dimension}");
                    assert_eq!(Unit::spelled(spelling, dimension), Some(unit));
                    assert_eq!(Unit::could_be(spelling, dimension), None);
                }
            }
        }
    }

    #[test]
    fn every_symbol_is_read_as_its_unit() {
        for unit in Unit::ALL {
            let read = Unit::spelled(&plain(unit.symbol()), unit.dimension());
            // `mF` on an old part means a millionth of a farad as often as a thousandth, so it is asked back.
            assert_eq!(read, if unit == Unit::Millifarad { None } else { Some(unit) }, "{unit:?}");
        }
    }

    #[test]
    fn temperature_scales_meet_at_their_fixed_points() {
        // Exact by definition: 32 °F = 0 °C, 212 °F = 100 °C, -40 on both, 273.15 K = 0 °C (SI brochure, 2.3.1).
        assert_eq!(Unit::DegreeFahrenheit.to_base(Decimal::whole(32)), 0.0);
        assert_eq!(Unit::DegreeFahrenheit.to_base(Decimal::whole(212)), 100.0);
        assert_eq!(Unit::DegreeFahrenheit.to_base(Decimal::whole(-40)), -40.0);
        assert_eq!(Unit::Kelvin.to_base(Decimal { mantissa: 27_315, exponent: -2 }), 0.0);
        assert_eq!(Unit::Kelvin.to_base(Decimal { mantissa: 29_425, exponent: -2 }), 21.1);
    }
}
