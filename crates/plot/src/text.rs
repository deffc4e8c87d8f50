//! Text inside a drawing: how wide it will be, where it may be broken, and how it is escaped.

/// Advance widths of the printable ASCII characters in thousandths of the type size.
///
/// Read from the horizontal metrics of DejaVu Sans 2.37, the wider of the two faces the drawings are set in.
const ASCII_ADVANCE: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// What a character outside ASCII is taken to need: a full type size, which errs wide for letters with accents.
const OTHER_ADVANCE: u16 = 1000;

/// The face a piece of text is set in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Face {
    /// Ticks and axis titles.
    Sans,
    /// Labels on the lines, in italics.
    Serif,
}

/// The estimated width of a text, in the unit of `size`. It errs wide, so that what fits here fits on the page.
pub(crate) fn width(text: &str, face: Face, size: f64) -> f64 {
    let thousandths: u32 = text.chars().map(|c| u32::from(advance(c))).sum();
    // The serif italic runs about a fifth narrower than the sans; half of that is kept for a page whose own face
    // has not arrived yet.
    let narrower = match face {
        Face::Sans => 1.0,
        Face::Serif => 0.9,
    };
    f64::from(thousandths) / 1000.0 * size * narrower
}

fn advance(c: char) -> u16 {
    let place = (c as usize).checked_sub(0x20);
    place.and_then(|place| ASCII_ADVANCE.get(place)).copied().unwrap_or(OTHER_ADVANCE)
}

/// Breaks a text into lines no wider than `room`: between words, and inside a word only where it alone is too wide.
pub(crate) fn wrap(text: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width(&longer, face, size) <= room {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            if !line.is_empty()
                && width(&line, face, size) + width(c.encode_utf8(&mut [0; 4]), face, size) > room
            {
                lines.push(std::mem::take(&mut line));
            }
            line.push(c);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Writes a text so that it may stand in an XML element or a quoted attribute.
///
/// Characters that XML 1.0 (section 2.2) does not allow at all become U+FFFD, the replacement character.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\0'..='\x1f' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            _ => out.push(c),
        }
    }
    out
}

/// A number with `places` decimals and a true minus sign, as the trade prints it. No `−0.0`.
pub(crate) fn number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// A number with its sign always shown, for a level against a reference.
pub(crate) fn signed(value: f64, places: usize) -> String {
    let text = number(value, places);
    let zero = text.bytes().all(|b| b == b'0' || b == b'.');
    if zero || text.starts_with('−') { text } else { format!("+{text}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_estimate_is_not_narrower_than_the_faces() {
        // Sum of the advances of "through the choke" in Libertinus Serif Italic (hmtx, units of 1/1000): 7 116.
        assert!(width("through the choke", Face::Serif, 1000.0) >= 7116.0);
        // The same in DejaVu Sans 2.37: 9 218, each advance rounded to a thousandth.
        assert!((width("through the choke", Face::Sans, 1000.0) - 9218.0).abs() < 9.0);
    }

    #[test]
    fn wrapping_breaks_between_words_and_only_then_inside_one() {
        let lines = wrap("neck through the choke", Face::Sans, 10.0, 70.0);
        assert_eq!(lines, ["neck through", "the choke"]);
        let broken = wrap("mmmmmmmm", Face::Sans, 10.0, 40.0);
        assert!(broken.len() == 2 && broken.iter().all(|line| width(line, Face::Sans, 10.0) <= 40.0));
        assert!(wrap("  ", Face::Sans, 10.0, 40.0).is_empty());
    }

    #[test]
    fn what_xml_cannot_hold_is_replaced() {
        assert_eq!(escape("a<b & \"c\"\u{0}'\n"), "a&lt;b &amp; &quot;c&quot;\u{fffd}&#39; ");
    }

    #[test]
    fn signs_are_typographic_and_zero_has_none() {
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(-12.0, 0), "−12");
        assert_eq!(signed(3.94, 1), "+3.9");
        assert_eq!(signed(0.0, 1), "0.0");
    }
}
