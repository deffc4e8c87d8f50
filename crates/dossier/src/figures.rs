//! Splitting what stands in a numeric column so that decimal signs fall under each other.

/// A cell of a numeric column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Figure {
    /// A number: what stands before the decimal sign, and the rest with the sign.
    Number(String, String),
    /// No number, such as `not measured`.
    Words(String),
}

/// Splits a cell at the decimal sign of its first number, a point or a comma.
///
/// `6.31 kΩ` gives `6` and `.31 kΩ`; `3 799` gives `3 799` and nothing; `over 20` is a number
/// too, since the figure in it should stand under the others.
pub(crate) fn split(cell: &str) -> Figure {
    let cell = cell.trim();
    let Some(first) = cell.find(|c: char| c.is_ascii_digit()) else {
        return Figure::Words(cell.to_owned());
    };
    // `.022` has its decimal sign before its first figure.
    let lead = &cell[..first];
    if let Some(at) = lead.rfind(['.', ',']).filter(|at| at + 1 == first) {
        return Figure::Number(cell[..at].to_owned(), cell[at..].to_owned());
    }
    let end = end_of_number(&cell[first..]) + first;
    let number = &cell[first..end];
    let at = number.rfind(['.', ',']).map_or(end, |at| first + at);
    Figure::Number(cell[..at].to_owned(), cell[at..].to_owned())
}

/// Where the number at the start of a text ends. A separator belongs to the number only when a
/// figure follows it, and a space only when it is a thin one or stands before three figures.
fn end_of_number(text: &str) -> usize {
    let mut end = 0;
    for (at, sign) in text.char_indices() {
        let rest = &text.as_bytes()[at + sign.len_utf8()..];
        let figures = rest.iter().take_while(|b| b.is_ascii_digit()).count();
        let inside = match sign {
            '0'..='9' => true,
            '.' | ',' | '\'' | '’' => figures > 0,
            ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}' => figures == 3,
            _ => false,
        };
        if !inside {
            break;
        }
        end = at + sign.len_utf8();
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_split_at_the_decimal_sign() {
        for (cell, before, after) in [
            ("6.31 kΩ", "6", ".31 kΩ"),
            ("6,31 kΩ", "6", ",31 kΩ"),
            ("−2.4", "−2", ".4"),
            ("3\u{202f}799", "3\u{202f}799", ""),
            ("1 240.5 Hz", "1 240", ".5 Hz"),
            (".022 µF", "", ".022 µF"),
            ("4.90 ± 0.03", "4", ".90 ± 0.03"),
            ("over 20 kΩ", "over 20", " kΩ"),
            ("12.", "12", "."),
        ] {
            assert_eq!(split(cell), Figure::Number(before.into(), after.into()), "{cell}");
        }
        assert_eq!(split(" not measured "), Figure::Words("not measured".into()));
        assert_eq!(split(""), Figure::Words(String::new()));
    }
}
