//! How sure, in words; and how much more probable what was seen is on one side than on the other, both sides stated.
//! What follows from a likelihood ratio depends on what was held beforehand, and is said apart from it.

use asfound_study::dates::{Probability, Side, Strength};

/// How sure, in words. The bounds are a choice, no source; the numbers stand in the tables.
pub(crate) fn how_sure(probability: Probability) -> &'static str {
    match probability.value() {
        p if p >= 0.95 => "very likely",
        p if p >= 0.80 => "likely",
        p if p >= 0.60 => "more likely than not",
        p if p > 0.40 => "as likely as not",
        p if p > 0.20 => "less likely than not",
        p if p > 0.05 => "unlikely",
        _ => "very unlikely",
    }
}

/// `62 in 100`; what rounds to nothing or to all is told as a bound.
pub(crate) fn in_hundred(probability: Probability) -> String {
    match (probability.value() * 100.0).round() {
        p if p < 1.0 => "under 1".to_owned(),
        p if p > 99.0 => "over 99".to_owned(),
        p => format!("{p:.0}"),
    }
}

/// A ratio as it is said before `times`: two figures, and a bound where more would be claimed than anybody knows.
pub(crate) fn about(ratio: f64) -> String {
    match ratio {
        r if r >= 1e6 => "over a million".to_owned(),
        r if r < 9.95 => format!("about {}", trimmed(r)),
        r => {
            let (mut figures, mut zeros) = (r, 1_u64);
            while figures >= 99.5 {
                (figures, zeros) = (figures / 10.0, zeros * 10);
            }
            format!("about {}", grouped(figures.round() as u64 * zeros))
        }
    }
}

/// A ratio as a table shows it: below one as `1 : 3.4`.
pub(crate) fn figure(ratio: f64) -> String {
    let size = if ratio < 1.0 { 1.0 / ratio } else { ratio };
    let digits = match size {
        size if size >= 1e6 => "over 1\u{202f}000\u{202f}000".to_owned(),
        size if size < 9.95 => format!("{size:.1}"),
        size => grouped(size.round() as u64),
    };
    if ratio < 1.0 { format!("1 : {digits}") } else { digits }
}

/// One decimal, and none where it is nought.
fn trimmed(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}

/// Thousands parted by a narrow space (ISO 80000-1, 7.3.1).
fn grouped(value: u64) -> String {
    let digits = value.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) && digits.len() > 4 {
            text.push('\u{202f}');
        }
        text.push(digit);
    }
    text
}

/// `What was found is about 61 times more probable if the volume pot is original than if it was replaced from ordinary stock.`
pub(crate) fn sentence(what: &str, ratio: f64, this: &str, alternative: &str) -> String {
    let (_, side) = Strength::of(ratio);
    match side {
        Side::This => {
            format!("{what} is {} times more probable if {this} than if {alternative}.", about(ratio))
        }
        Side::Alternative => {
            let times = about(1.0 / ratio);
            format!("{what} is {times} times more probable if {alternative} than if {this}.")
        }
        Side::Neither => format!("{what} is about as probable if {this} as if {alternative}."),
    }
}

/// `moderate support for original over replaced`, in the words of the guideline.
pub(crate) fn support(ratio: f64, this: &str, alternative: &str) -> String {
    match Strength::of(ratio) {
        (strength, Side::This) => format!("{strength} for {this} over {alternative}"),
        (strength, Side::Alternative) => format!("{strength} for {alternative} over {this}"),
        (strength, Side::Neither) => format!("{strength} for {this} or {alternative}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ratio_is_said_with_both_sides_and_never_as_a_certainty() {
        let said = |ratio| sentence("What was found", ratio, "the pot is original", "it was replaced");
        assert_eq!(
            said(60.592_51),
            "What was found is about 61 times more probable if the pot is original than if it was replaced."
        );
        assert_eq!(
            said(1.0 / 6.897_842),
            "What was found is about 6.9 times more probable if it was replaced than if the pot is original."
        );
        assert_eq!(
            said(1.4),
            "What was found is about as probable if the pot is original as if it was replaced."
        );
        assert!(said(7.253_515e-12).contains("over a million times more probable if it was replaced"));
        assert_eq!(
            (about(106.95), about(2.0), about(9.97)),
            ("about 110".into(), "about 2".into(), "about 10".into())
        );
        assert_eq!((figure(15.649_02), figure(1.0 / 6.897_842)), ("16".into(), "1 : 6.9".into()));
        assert_eq!((about(2345.0), about(123_456.0)), ("about 2300".into(), "about 120\u{202f}000".into()));
    }

    /// ENFSI, *Guideline for Evaluative Reporting in Forensic Science* (2015), table of verbal equivalents.
    #[test]
    fn support_names_the_side_it_is_for() {
        assert_eq!(support(15.649_02, "original", "replaced"), "moderate support for original over replaced");
        assert_eq!(support(0.4, "original", "replaced"), "weak support for replaced over original");
        assert_eq!(support(1.9, "original", "replaced"), "no useful support for original or replaced");
        assert_eq!(
            support(7.25e-12, "original", "replaced"),
            "extremely strong support for replaced over original"
        );
    }
}
