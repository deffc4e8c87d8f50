//! Reads a value as it is written beside a part: `7k2`, `3H4`, `130p`, `6,31kΩ`.

/// What a written value measures, with the value in the coherent unit (ohm, henry, farad).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Quantity {
    /// Ohms; also a bare number, since that is what a meter shows.
    Ohms(f64),
    /// Henries.
    Henries(f64),
    /// Farads.
    Farads(f64),
}

impl Quantity {
    /// What it measures, in words.
    pub(super) fn dimension(self) -> &'static str {
        match self {
            Self::Ohms(_) => "a resistance",
            Self::Henries(_) => "an inductance",
            Self::Farads(_) => "a capacitance",
        }
    }

    /// The bare value.
    pub(super) fn value(self) -> f64 {
        match self {
            Self::Ohms(value) | Self::Henries(value) | Self::Farads(value) => value,
        }
    }
}

/// Whether a word can continue a number that stands before it: `6.31 kΩ` is one value in two words.
pub(super) fn is_unit_alone(word: &str) -> bool {
    !word.is_empty() && scale(word).is_some()
}

/// Reads one value; `None` where it is not one. A letter may stand for the decimal sign (IEC 60062), a comma is a
/// point, and the unit may be left out where the multiplier tells it (`130p` is farads, `7k2` ohms).
pub(super) fn read(text: &str) -> Option<Quantity> {
    let digits = |part: &str| part.chars().all(|c| c.is_ascii_digit());
    let (head, rest) = text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()));
    if let Some(after) = rest.strip_prefix(['.', ',']) {
        let (fraction, unit) = after.split_at(after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len()));
        return if head.is_empty() && fraction.is_empty() { None } else { quantity(head, fraction, unit.trim_start()) };
    }
    if head.is_empty() {
        return None;
    }
    let rest = rest.trim_start();
    match rest.find(|c: char| c.is_ascii_digit()) {
        None => quantity(head, "", rest),
        // `7k2`: the unit's letter stands where the decimal sign would; `7k2H` would be neither.
        Some(at) if digits(&rest[at..]) => quantity(head, &rest[at..], &rest[..at]),
        Some(at) => {
            let after = &rest[at..];
            let (fraction, unit) = after.split_at(after.find(|c: char| !c.is_ascii_digit())?);
            // `4n7F`, `3k3Ω`: multiplier between the digits, unit behind them.
            quantity(head, fraction, &format!("{}{unit}", &rest[..at]))
        }
    }
}

fn quantity(whole: &str, fraction: &str, unit: &str) -> Option<Quantity> {
    let (make, exponent) = scale(unit)?;
    // Written out as a decimal text, so that the value is the nearest double to what stands there.
    let whole = if whole.is_empty() { "0" } else { whole };
    let value: f64 = format!("{whole}.{fraction}0e{exponent}").parse().ok()?;
    value.is_finite().then(|| make(value))
}

fn scale(unit: &str) -> Option<(fn(f64) -> Quantity, i32)> {
    let unit = unit.replace('\u{2126}', "Ω").replace('\u{3bc}', "µ");
    Some(match unit.as_str() {
        "" | "R" | "r" | "Ω" | "ohm" | "ohms" | "Ohm" | "Ohms" => (Quantity::Ohms, 0),
        "k" | "K" | "kΩ" | "KΩ" | "kohm" | "kohms" | "kR" => (Quantity::Ohms, 3),
        "M" | "MΩ" | "Mohm" | "Mohms" | "Meg" | "meg" => (Quantity::Ohms, 6),
        "H" | "h" | "henry" => (Quantity::Henries, 0),
        "mH" | "mh" => (Quantity::Henries, -3),
        "uH" | "µH" | "uh" => (Quantity::Henries, -6),
        "u" | "µ" | "uF" | "µF" | "uf" | "mfd" | "MFD" | "mf" => (Quantity::Farads, -6),
        "n" | "nF" | "nf" => (Quantity::Farads, -9),
        "p" | "pF" | "pf" => (Quantity::Farads, -12),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{Quantity, read};

    #[test]
    fn values_are_read_as_people_write_them() {
        for (text, right) in [
            ("7k2", Quantity::Ohms(7200.0)),
            ("6.31k", Quantity::Ohms(6310.0)),
            ("6,31 kΩ", Quantity::Ohms(6310.0)),
            ("250K", Quantity::Ohms(250e3)),
            ("1M", Quantity::Ohms(1e6)),
            ("4R7", Quantity::Ohms(4.7)),
            ("5.84", Quantity::Ohms(5.84)),
            ("3H4", Quantity::Henries(3.4)),
            ("1500mH", Quantity::Henries(1.5)),
            ("130p", Quantity::Farads(130e-12)),
            (".022uF", Quantity::Farads(0.022e-6)),
            ("4n7", Quantity::Farads(4.7e-9)),
            ("4n7F", Quantity::Farads(4.7e-9)),
            ("0.05 mfd", Quantity::Farads(0.05e-6)),
        ] {
            assert_eq!(read(text), Some(right), "{text}");
        }
    }

    #[test]
    fn what_is_no_value_is_refused() {
        for text in ["", ".", "k", "7k2k", "seven", "7m", "-3k", "1e9", "7k2H", "7..2", "7 2"] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
