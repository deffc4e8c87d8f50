//! Values as engineers print them, with no digit that the uncertainty does not carry.
//!
//! The uncertainty keeps two significant digits (JCGM 100, 7.2.6) and the value ends at the same place. Rounding is
//! half away from zero on the shortest decimal that means the same `f64`, so that 2.675 becomes 2.68 as on paper. A
//! narrow space stands between number and unit (SI brochure, 5.4.3, asks for a space; that it is narrow and does not
//! break is our choice), and the prefix is chosen so that no nought is put in to fill, as long as the unit has a larger
//! prefix that people use: 584 kΩ to two digits is 0.58 MΩ. Millimetres and degrees have none, and there noughts fill.

use crate::quantity::Quantity;
use crate::uncertain::Uncertain;

/// Stands between number and unit: U+202F, narrow and not broken at a line's end.
pub const NARROW_SPACE: char = '\u{202F}';

/// What is printed where there is no finite number to print.
pub const CANNOT_TELL: &str = "cannot tell";

/// Most significant digits printed: all that an `f64` can hold without showing its binary form.
const MOST_DIGITS: u32 = 15;

/// A value to a number of significant digits (1 to 15), in powers of a thousand where the unit takes prefixes:
/// `6.31 kΩ`, `22 nF`, `3.80 kHz`, `0.58 MΩ`. A value that is not finite is printed as `cannot tell`.
///
/// ```
/// use asfound_measure::engineering;
/// assert_eq!(engineering(6310.0, 3, "Ω"), "6.31\u{202F}kΩ");
/// assert_eq!(engineering(584_000.0, 2, "Ω"), "0.58\u{202F}MΩ");
/// ```
pub fn engineering(value: f64, significant_digits: u32, unit: &str) -> String {
    let Some(number) = Digits::of(value) else { return CANNOT_TELL.to_owned() };
    let digits = significant_digits.clamp(1, MOST_DIGITS);
    let number = number.to_significant(digits);
    // A value of nought has no leading digit; it is printed as if it began at the unit.
    let leading = number.leading_place().unwrap_or(0);
    let last = leading - (digits as i32 - 1);
    let prefix = Prefix::choose(unit, leading, last);
    format!("{}{}", number.written(last, prefix.exponent), prefix.before(unit))
}

/// A value with an uncertainty, both rounded as the uncertainty demands: `(6.535 ± 0.098) kΩ`. The uncertainty printed
/// is the one given; say beside it whether it is standard or expanded. One of nought means the value is exact, and it
/// is printed alone. Where either is not finite, or the uncertainty is negative, no digit is true: `cannot tell`.
///
/// ```
/// use asfound_measure::show;
/// assert_eq!(show(6535.253, 97.99, "Ω"), "(6.535\u{202F}±\u{202F}0.098)\u{202F}kΩ");
/// ```
pub fn show(value: f64, uncertainty: f64, unit: &str) -> String {
    let (Some(number), Some(spread)) = (Digits::of(value), Digits::of(uncertainty)) else {
        return CANNOT_TELL.to_owned();
    };
    if spread.negative {
        return CANNOT_TELL.to_owned();
    }
    let spread = spread.to_significant(2);
    let Some(leading_of_spread) = spread.leading_place() else {
        let last = number.last_place();
        let prefix = Prefix::choose(unit, number.leading_place().unwrap_or(0), last);
        return format!(
            "{}{}",
            number.written(last.min(prefix.exponent), prefix.exponent),
            prefix.before(unit)
        );
    };
    let last = leading_of_spread - 1;
    let number = number.to_place(last);
    let leading = number.leading_place().unwrap_or(last).max(leading_of_spread);
    let prefix = Prefix::choose(unit, leading, last);
    let (value, spread) = (number.written(last, prefix.exponent), spread.written(last, prefix.exponent));
    format!("({value}{NARROW_SPACE}±{NARROW_SPACE}{spread}){}", prefix.before(unit))
}

/// A quantity with its expanded uncertainty for `k = 2` (JCGM 100, 6.2.1), as [`show`] prints it.
pub fn show_expanded<Q: Quantity>(quantity: Uncertain<Q>) -> String {
    show(quantity.value.size(), quantity.expanded(2.0).size(), Q::UNIT)
}

/// A finite number as decimal digits: `0.d₁d₂d₃… × 10^(first + 1)`, with no noughts in front; none at all for nought.
#[derive(Clone)]
struct Digits {
    negative: bool,
    digits: Vec<u8>,
    /// The power of ten of the first digit.
    first: i32,
}

impl Digits {
    /// The shortest decimal that reads back as this number.
    fn of(value: f64) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        let text = format!("{:e}", value.abs());
        let (mantissa, exponent) = text.split_once('e')?;
        let digits: Vec<u8> = mantissa.bytes().filter(u8::is_ascii_digit).map(|b| b - b'0').collect();
        let digits = if value == 0.0 { Vec::new() } else { digits };
        Some(Self { negative: value < 0.0, digits, first: exponent.parse().ok()? })
    }

    /// The power of ten of the first digit; none for nought.
    fn leading_place(&self) -> Option<i32> {
        (!self.digits.is_empty()).then_some(self.first)
    }

    /// The power of ten of the last digit; 0 for nought.
    fn last_place(&self) -> i32 {
        self.leading_place().map_or(0, |first| first - (self.digits.len() as i32 - 1))
    }

    fn to_significant(&self, digits: u32) -> Self {
        let rounded = self.to_place(self.first - (digits as i32 - 1));
        // 99.6 to two digits is 100, whose second digit stands one place higher.
        if rounded.first > self.first {
            rounded.to_place(rounded.first - (digits as i32 - 1))
        } else {
            rounded
        }
    }

    /// Rounded to a power of ten, half away from nought.
    fn to_place(&self, last: i32) -> Self {
        let keep = self.first - last + 1;
        if keep < 0 || self.digits.is_empty() {
            return Self { negative: false, digits: Vec::new(), first: last };
        }
        let keep = keep as usize;
        if keep >= self.digits.len() {
            return self.clone();
        }
        let mut digits = self.digits[..keep].to_vec();
        let mut first = self.first;
        if self.digits[keep] >= 5 {
            let nines = digits.iter().rev().take_while(|d| **d == 9).count();
            digits.truncate(keep - nines);
            match digits.last_mut() {
                Some(digit) => *digit += 1,
                None => {
                    digits.push(1);
                    first += 1;
                }
            }
        }
        let negative = self.negative && !digits.is_empty();
        Self { negative, digits, first }
    }

    /// The digits down to the place `last`, in units of `10^unit`; `last` is not above `unit` where the unit has
    /// prefixes left, and elsewhere the places between are filled with noughts.
    fn written(&self, last: i32, unit: i32) -> String {
        let mut text = String::from(if self.negative { "\u{2212}" } else { "" });
        let top = self.leading_place().unwrap_or(unit).max(unit);
        for place in (last.min(unit)..=top).rev() {
            if place == unit - 1 {
                text.push('.');
            }
            let at = usize::try_from(self.first - place).ok();
            let digit = at.and_then(|at| self.digits.get(at)).copied().unwrap_or(0);
            text.push(char::from(b'0' + digit));
        }
        text
    }
}

/// A power of ten in front of a unit.
struct Prefix {
    exponent: i32,
    letter: &'static str,
}

const PREFIXES: [Prefix; 8] = [
    Prefix { exponent: -12, letter: "p" },
    Prefix { exponent: -9, letter: "n" },
    Prefix { exponent: -6, letter: "µ" },
    Prefix { exponent: -3, letter: "m" },
    Prefix { exponent: 0, letter: "" },
    Prefix { exponent: 3, letter: "k" },
    Prefix { exponent: 6, letter: "M" },
    Prefix { exponent: 9, letter: "G" },
];

impl Prefix {
    /// The prefix for a number that begins at the place `leading` and ends at the place `last`.
    fn choose(unit: &str, leading: i32, last: i32) -> Self {
        let (lowest, highest) = reach(unit);
        // The power of a thousand at or below the first digit, or the first one above that ends at its own last digit.
        let wanted = (3 * leading.div_euclid(3)).max(3 * (last + 2).div_euclid(3)).clamp(lowest, highest);
        PREFIXES
            .into_iter()
            .find(|prefix| prefix.exponent == wanted)
            .unwrap_or(Self { exponent: 0, letter: "" })
    }

    /// What follows the number: a space, the prefix and the unit; nothing for a bare number.
    fn before(&self, unit: &str) -> String {
        match unit {
            "" => String::new(),
            // The SI brochure sets the degree of arc close behind its number.
            "°" => unit.to_owned(),
            _ => format!("{NARROW_SPACE}{}{unit}", self.letter),
        }
    }
}

/// The lowest and the highest power of ten that people put in front of a unit; others take none.
fn reach(unit: &str) -> (i32, i32) {
    match unit {
        "Ω" => (-3, 9),
        "F" => (-12, 0),
        "H" => (-9, 0),
        "Hz" => (0, 6),
        "V" => (-6, 3),
        "A" => (-9, 0),
        "s" => (-6, 0),
        "g" => (-3, 3),
        _ => (0, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Ohms, Unit, read};
    use proptest::prelude::*;

    fn plain(text: &str) -> String {
        text.replace(NARROW_SPACE, " ")
    }

    #[test]
    fn engineering_notation() {
        for (value, digits, unit, expected) in [
            (6310.0, 3, "Ω", "6.31 kΩ"),
            (6314.9, 3, "Ω", "6.31 kΩ"),
            (22e-9, 2, "F", "22 nF"),
            (220e-12, 2, "F", "0.22 nF"),
            (220e-12, 3, "F", "220 pF"),
            (3800.0, 3, "Hz", "3.80 kHz"),
            (470.0, 2, "Ω", "0.47 kΩ"),
            (470.0, 3, "Ω", "470 Ω"),
            (584_000.0, 2, "Ω", "0.58 MΩ"),
            (999.6, 3, "Ω", "1.00 kΩ"),
            (2.4, 2, "H", "2.4 H"),
            (0.0, 3, "Ω", "0.00 Ω"),
            (-0.0, 1, "°C", "0 °C"),
            (-5.25, 2, "°C", "\u{2212}5.3 °C"),
            (2.675, 3, "mm", "2.68 mm"),
            (2.25, 3, "°", "2.25°"),
            (1234.0, 2, "mm", "1200 mm"),
            (0.0123, 2, "", "0.012"),
            (f64::NAN, 3, "Ω", "cannot tell"),
        ] {
            assert_eq!(plain(&engineering(value, digits, unit)), expected, "{value} {digits}");
        }
    }

    #[test]
    fn digits_follow_the_uncertainty() {
        for (value, uncertainty, unit, expected) in [
            (6535.253, 97.99, "Ω", "(6.535 ± 0.098) kΩ"),
            (6535.253, 99.6, "Ω", "(6.54 ± 0.10) kΩ"),
            (653_500.0, 98_000.0, "Ω", "(654 ± 98) kΩ"),
            (653_500.0, 980_000.0, "Ω", "(0.65 ± 0.98) MΩ"),
            (22.1e-9, 2.2e-9, "F", "(22.1 ± 2.2) nF"),
            (19.0, 0.577, "°C", "(19.00 ± 0.58) °C"),
            (-0.001, 0.5, "°C", "(0.00 ± 0.50) °C"),
            (0.0, 12.0, "Ω", "(0 ± 12) Ω"),
            (4.0, 120.0, "Ω", "(0.00 ± 0.12) kΩ"),
            (25.4, 0.0, "mm", "25.4 mm"),
            (6310.0, 0.0, "Ω", "6.31 kΩ"),
            (0.0, 0.0, "Ω", "0 Ω"),
            (6310.0, f64::INFINITY, "Ω", "cannot tell"),
            (6310.0, -1.0, "Ω", "cannot tell"),
            (f64::NAN, 1.0, "Ω", "cannot tell"),
        ] {
            assert_eq!(plain(&show(value, uncertainty, unit)), expected, "{value} {uncertainty}");
        }
        let coil = Uncertain::new(Ohms(6535.253), Ohms(48.9935));
        assert_eq!(show_expanded(coil), show(6535.253, 97.987, "Ω"));
    }

    /// Units whose printed forms can all be read again. Each stays below where one digit would need a prefix
    /// that the unit has not, or millifarads, which are asked back.
    const READ_BACK: [(Unit, f64); 6] = [
        (Unit::Ohm, 1e9),
        (Unit::Farad, 9e-6),
        (Unit::Henry, 9.0),
        (Unit::Hertz, 9e6),
        (Unit::DegreeCelsius, 150.0),
        (Unit::Millimetre, 1e4),
    ];

    proptest! {
        #[test]
        fn printed_it_reads_back_within_half_a_last_digit(
            fraction in 1e-6..1.0_f64, negative in any::<bool>(), digits in 1..8_u32, at in 0..READ_BACK.len(),
        ) {
            let (unit, largest) = READ_BACK[at];
            let value = if negative { -fraction * largest } else { fraction * largest };
            let text = engineering(value, digits, unit.symbol());
            let written = read(&text, unit.dimension()).expect("printed by us");
            let (back, place) = (written.value_in_base().expect("a number"), written.last_place().expect("digits"));
            // A unit without prefixes may have to fill with noughts; half the last true digit is then larger.
            let true_place = place.max(last_true_place(value, digits));
            prop_assert!((back - value).abs() <= 0.5 * true_place * (1.0 + 1e-9), "{value} as {text}");
            let filled = unit == Unit::Millimetre || unit == Unit::DegreeCelsius;
            prop_assert!(filled || shown_digits(&text) == digits as usize, "{value} as {text}");
        }

        #[test]
        fn no_digit_is_false(value in -1e7..1e7_f64, power in -3..6_i32, size in 1.0..10.0_f64) {
            let uncertainty = size * libm::pow(10.0, f64::from(power));
            let text = show(value, uncertainty, "Ω");
            let (inner, unit) = text.strip_prefix('(').and_then(|t| t.split_once(')')).expect("brackets");
            let (shown, spread) = inner.split_once('±').expect("two numbers");
            let read = |number: &str| read(&format!("{number}{unit}"), crate::Dimension::Resistance).expect("printed by us");
            let (shown, spread) = (read(shown), read(spread));
            prop_assert_eq!(shown.last_place(), spread.last_place());
            let place = spread.last_place().expect("digits");
            let near = |a: Option<f64>, b: f64| (a.expect("a number") - b).abs() <= 0.5 * place * (1.0 + 1e-9);
            prop_assert!(near(shown.value_in_base(), value), "{}", text);
            prop_assert!(near(spread.value_in_base(), uncertainty), "{}", text);
            // Two significant digits of the uncertainty, no more and no fewer.
            let digits = spread.amount.number().expect("a number").mantissa;
            prop_assert!((10..100).contains(&digits), "{}", text);
        }

        #[test]
        fn anything_prints(value in any::<f64>(), uncertainty in any::<f64>(), digits in any::<u32>(), unit in "[ΩFHzmg°]{0,2}") {
            prop_assert!(!show(value, uncertainty, &unit).is_empty());
            prop_assert!(!engineering(value, digits, &unit).is_empty());
        }
    }

    fn last_true_place(value: f64, digits: u32) -> f64 {
        let exponent = libm::floor(libm::log10(value.abs())) - f64::from(digits) + 1.0;
        libm::pow(10.0, exponent)
    }

    /// Digits from the first that is not nought.
    fn shown_digits(text: &str) -> usize {
        text.chars().filter(char::is_ascii_digit).skip_while(|digit| *digit == '0').count()
    }
}
