//! A marking read from what was said.

use asfound_measure::marks::{
    Colour, MarkedTolerance, NoColour, capacitor_bands, capacitor_dots, resistor_bands,
};
use asfound_measure::{
    Decimal, Dimension, Farads, Tolerance, Volts, capacitor_code, read as read_quantity, resistor_code,
};

use super::{Admissible, Kind, Manner, Marking};

/// Words that may stand between colours and name none.
const BETWEEN: [&str; 14] =
    ["gap", "then", "from", "the", "crowded", "end", "and", "a", "row", "are", "is", "of", "dot", "dots"];

/// The marking that an observation tells, where it tells one.
pub(super) fn read(words: &str, kind: Kind) -> Option<(Manner, Marking)> {
    let clean: Vec<String> = words
        .split(|sign: char| sign.is_whitespace() || ",;:()“”\"".contains(sign))
        .map(|word| word.trim_end_matches('.').to_lowercase())
        .filter(|word| !word.is_empty())
        .collect();
    let behind = |opening: &[&str]| {
        let at = clean.iter().position(|word| opening.contains(&word.as_str()))?;
        Some(&clean[at + 1..])
    };
    if let Some(rest) = behind(&["block"]).filter(|_| kind == Kind::Capacitor) {
        return block(rest).map(|sections| (Manner::Printed(words.to_owned()), Marking::Block(sections)));
    }
    let has_dots = clean.iter().any(|word| ["dot", "dots", "six-dot"].contains(&word.as_str()));
    if kind == Kind::Capacitor && (has_dots || clean.iter().any(|word| word == "row")) {
        return dots(&clean).map(|marking| (Manner::Dots, marking));
    }
    if let Some(rest) = behind(&["bands", "band", "colours", "colors", "stripes"]) {
        return bands(rest, kind);
    }
    let rest = behind(&["marked", "printed", "stamped", "code"])?;
    // Signs without a figure are other talk: `marked with a scratch`.
    let first = rest.first().filter(|word| word.chars().any(|sign| sign.is_ascii_digit()))?;
    // The signs as they were typed: capitals matter in a code.
    let typed = words.split_whitespace().position(|word| word.to_lowercase().contains(first.as_str()))?;
    let typed = words.split_whitespace().skip(typed).collect::<Vec<_>>().join(" ");
    let marking = printed(&typed, kind);
    Some((Manner::Printed(typed), marking))
}

fn bands(rest: &[String], kind: Kind) -> Option<(Manner, Marking)> {
    let mut colours = Vec::new();
    for word in rest.iter().filter(|word| !BETWEEN.contains(&word.as_str())) {
        match Colour::read(word) {
            Some(colour) => colours.push(colour),
            // What comes after the colours is other talk; a word before the third is a slip.
            None if colours.len() >= 3 => break,
            None if colours.is_empty() => return None,
            None => return Some((Manner::Bands(colours), Marking::NoColour(NoColour(word.clone())))),
        }
    }
    if colours.is_empty() {
        return None;
    }
    let marking = match kind {
        Kind::Resistor => resistor_bands(&colours).map(Admissible::from),
        Kind::Capacitor => capacitor_bands(&colours).map(Admissible::from),
    };
    let marking = marking.map_or_else(Marking::Colours, |way| Marking::Value(vec![way]));
    Some((Manner::Bands(colours), marking))
}

/// `dots white brown red / ? blue red`, or the places by name: `top row white, brown, red, lower right red, lower centre
/// blue`. With the arrow to the left the block is turned round.
fn dots(clean: &[String]) -> Option<Marking> {
    let mut six = named_dots(clean).or_else(|| dots_in_order(clean))?;
    if clean
        .windows(4)
        .any(|words| words[0].starts_with("arrow") && words[1..].iter().any(|word| word == "left"))
    {
        six.reverse();
    }
    let read = capacitor_dots([six[0], six[1], six[2]], [six[3], six[4], six[5]]);
    Some(read.map_or_else(Marking::Colours, |mark| Marking::Value(vec![mark.into()])))
}

fn dots_in_order(clean: &[String]) -> Option<Vec<Option<Colour>>> {
    let at = clean.iter().position(|word| ["dot", "dots", "six-dot"].contains(&word.as_str()))?;
    let dots: Vec<Option<Colour>> = clean[at + 1..]
        .iter()
        .filter_map(|word| if word == "?" { Some(None) } else { Colour::read(word).map(Some) })
        .collect();
    (dots.len() == 6).then_some(dots)
}

fn named_dots(clean: &[String]) -> Option<Vec<Option<Colour>>> {
    let row = |names: [&str; 2]| clean.iter().position(|word| names.contains(&word.as_str()));
    let top = row(["top", "upper"])?;
    let above: Vec<Option<Colour>> =
        clean[top..].iter().filter_map(|word| Colour::read(word)).take(3).map(Some).collect();
    let below = |place: [&str; 2]| {
        let at = clean.windows(2).position(|words| {
            ["lower", "bottom"].contains(&words[0].as_str()) && place.contains(&words[1].as_str())
        })?;
        clean.get(at + 2).and_then(|word| Colour::read(word))
    };
    let (left, centre) =
        (below(["left", "left-hand"]), below(["centre", "center"]).or(below(["middle", "mid"])));
    let dots: Vec<Option<Colour>> =
        above.into_iter().chain([left, centre, below(["right", "right-hand"])]).collect();
    (dots.len() == 6).then_some(dots)
}

/// `block of 0.015, 0.01 and 0.01 uF`: the unit stands behind the last, or behind each.
fn block(rest: &[String]) -> Option<Vec<Farads>> {
    let unit = rest.iter().rev().find_map(|word| {
        let unit = word.trim_start_matches(|sign: char| sign.is_ascii_digit() || sign == '.');
        unit_of(unit)
    })?;
    let sections: Vec<Farads> = rest
        .iter()
        .filter_map(|word| {
            let digits = word.trim_end_matches(char::is_alphabetic).trim_end_matches('µ');
            let number: f64 = digits.parse().ok()?;
            (number > 0.0 && number.is_finite()).then_some(Farads(number * unit))
        })
        .collect();
    (sections.len() > 1).then_some(sections)
}

/// Farads in a unit as it is printed on old parts: `mfd` is microfarads, `mmf` and `uuf` picofarads.
fn unit_of(unit: &str) -> Option<f64> {
    Some(match unit.to_lowercase().as_str() {
        "mmf" | "mmfd" | "uuf" | "uufd" | "µµf" | "pf" | "p" => 1e-12,
        "nf" | "n" => 1e-9,
        "mfd" | "mf" | "uf" | "µf" | "μf" | "u" => 1e-6,
        _ => return None,
    })
}

fn printed(typed: &str, kind: Kind) -> Marking {
    let signs: Vec<&str> =
        typed.split(|sign: char| sign.is_whitespace() || sign == ',').filter(|it| !it.is_empty()).collect();
    let Some(first) = signs.first().map(|sign| sign.trim_end_matches('.')) else {
        return Marking::Unread(typed.to_owned());
    };
    let mut ways = match kind {
        Kind::Resistor => resistor(first),
        Kind::Capacitor => capacitor(first, signs.get(1).copied()),
    };
    let voltage = signs.iter().skip(1).find_map(|sign| voltage(sign));
    let tolerance = signs.iter().skip(1).find_map(|sign| per_cent(sign));
    for way in &mut ways {
        way.voltage = way.voltage.or(voltage);
        if let Some(tolerance) = &tolerance {
            way.tolerance = tolerance.clone();
        }
    }
    if ways.is_empty() { Marking::Unread(first.to_owned()) } else { Marking::Value(ways) }
}

fn way(value: f64, tolerance: Option<Tolerance>, because: &'static str) -> Admissible {
    let tolerance = match tolerance {
        Some(Tolerance::Percent { below, above }) if below == above => MarkedTolerance::Percent(below),
        // The wider side stands for both: what lies outside it lies outside.
        Some(Tolerance::Percent { above, .. }) => MarkedTolerance::Percent(above),
        Some(Tolerance::Picofarads(off)) => {
            let percent = off.to_f64() * 1e-12 / value * 100.0;
            MarkedTolerance::Percent(Decimal { mantissa: (percent * 10.0) as i64, exponent: -1 })
        }
        None => MarkedTolerance::Unknown,
    };
    Admissible { value, tolerance, voltage: None, dielectric: None, because }
}

fn resistor(first: &str) -> Vec<Admissible> {
    let code = |(written, tolerance): (asfound_measure::Written, Option<Tolerance>)| {
        written.value_in_base().map(|value| way(value, tolerance, ""))
    };
    // Three bare digits are a code on small parts and a value on large ones.
    if first.len() == 3 && first.bytes().all(|sign| sign.is_ascii_digit()) {
        let plain = first.parse().map(|value| way(value, None, "if the ohms are printed in full"));
        let coded = capacitor_code(first)
            .map(|code| way(code.picofarads.to_f64(), None, "by the code of two figures and a power of ten"));
        return coded.into_iter().chain(plain).collect();
    }
    resistor_code(first).ok().and_then(code).into_iter().collect()
}

fn capacitor(first: &str, second: Option<&str>) -> Vec<Admissible> {
    let number = first.trim_end_matches(|sign: char| sign.is_alphabetic() || sign == 'µ');
    let (unit, letters) = (unit_of(&first[number.len()..]), &first[number.len()..]);
    let unit = unit.or_else(|| second.filter(|_| letters.is_empty()).and_then(unit_of));
    if let (Ok(number), Some(unit)) = (number.parse::<Decimal>(), unit) {
        return vec![way(number.to_f64() * unit, None, "")];
    }
    let fraction = number.contains('.') && letters.chars().count() <= 1;
    if let (true, Ok(number)) = (fraction, number.parse::<Decimal>()) {
        let tolerance = letters.chars().next().and_then(asfound_measure::tolerance);
        return vec![way(number.to_f64() * 1e-6, tolerance, "")];
    }
    if let Ok(code) = capacitor_code(first) {
        let coded = way(
            code.farads().0,
            code.tolerance,
            "by the code of two figures and a power of ten, in picofarads",
        );
        // A nought at the end is also a plain number: 470 is 47 pF by code and 470 pF in full.
        let plain = first.parse::<f64>().ok().filter(|_| first.len() == 3 && first.ends_with('0'));
        let plain = plain.map(|value| {
            way(value * 1e-12, None, "if the picofarads are printed in full, as on old moulded parts")
        });
        return std::iter::once(coded).chain(plain).collect();
    }
    let written = read_quantity(first, Dimension::Capacitance).ok();
    written
        .and_then(|written| written.value_in_base())
        .map(|value| way(value, None, ""))
        .into_iter()
        .collect()
}

/// `400V`, `400VDC`.
fn voltage(sign: &str) -> Option<Volts> {
    let upper = sign.to_uppercase();
    let digits =
        upper.trim_end_matches("DC").trim_end_matches("DCW").trim_end_matches('W').strip_suffix('V')?;
    digits.parse().ok().filter(|volts: &f64| *volts > 0.0).map(Volts)
}

fn per_cent(sign: &str) -> Option<MarkedTolerance> {
    let digits = sign.trim_start_matches("+/-").trim_start_matches('±').strip_suffix('%')?;
    digits.parse().ok().map(MarkedTolerance::Percent)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(words: &str, kind: Kind) -> Vec<f64> {
        match read(words, kind) {
            Some((_, Marking::Value(ways))) => ways.iter().map(|way| way.value).collect(),
            other => panic!("{words}: {other:?}"),
        }
    }

    #[test]
    fn printed_marks() {
        // IEC 60062; a leading point in microfarads and mmf for picofarads are old practice, no source.
        for (words, expected) in [
            ("brown disc marked 103M", vec![10e-9]),
            ("marked .022 400V", vec![0.022e-6]),
            ("printed 0.02 mfd 600VDC", vec![0.02e-6]),
            ("marked 250 mmf", vec![250e-12]),
            ("marked 470", vec![47e-12, 470e-12]),
            ("marked 2n2", vec![2.2e-9]),
            ("stamped .05M", vec![0.05e-6]),
        ] {
            let got = values(words, Kind::Capacitor);
            assert_eq!(got.len(), expected.len(), "{words}");
            for (got, expected) in got.iter().zip(&expected) {
                // Products of two decimals are rounded once or twice: a part in 10^12 covers that.
                assert!((got / expected - 1.0).abs() < 1e-12, "{words}: {got}");
            }
        }
        assert_eq!(values("marked 470", Kind::Resistor), [47.0, 470.0]);
        assert_eq!(values("marked 470R", Kind::Resistor), [470.0]);
        assert_eq!(values("marked 4K7J", Kind::Resistor), [4700.0]);
    }

    #[test]
    fn dots_by_order_or_by_name_and_turned_round() {
        for words in [
            "six dots white brown red / ? blue red",
            "arrows to the right: top row white, brown, red. Lower right red, lower centre blue",
            "dots, arrows to the left: red blue ? / red brown white",
        ] {
            assert_eq!(values(words, Kind::Capacitor), [1200e-12], "{words}");
        }
    }

    #[test]
    fn a_block_and_what_is_no_marking() {
        let Some((_, Marking::Block(sections))) =
            read("block of 0.015, 0.01 and 0.01 uF, one common end", Kind::Capacitor)
        else {
            panic!("a block")
        };
        let steps: Vec<f64> = super::super::steps_of_block(&sections).iter().map(|it| it.0 * 1e6).collect();
        // 0, 0.015, 0.025, 0.035 µF: capacitors side by side add. Sums of doubles, so a part in 10^12.
        for (got, expected) in steps.iter().zip([0.0, 0.015, 0.025, 0.035]) {
            assert!((got - expected).abs() < 1e-12, "{steps:?}");
        }
        assert_eq!(read("left in place, two leads under the pot", Kind::Capacitor), None);
        assert!(matches!(read("bands red rde orange", Kind::Resistor), Some((_, Marking::NoColour(_)))));
        assert!(matches!(read("marked Zq7", Kind::Capacitor), Some((_, Marking::Unread(_)))));
        assert_eq!(read("marked with a scratch", Kind::Capacitor), None);
        assert_eq!(read("block of wood glued beside it", Kind::Capacitor), None);
    }
}
