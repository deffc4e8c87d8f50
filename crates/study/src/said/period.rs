//! When something is said to be from: `early 1960s`, `1962`, `late 1950s by its looks`.

/// First and last year of what is said, where a year or a decade is.
///
/// Early, mid and late are taken as the first four, middle three and last three years of a decade: common practice, no
/// source.
pub fn period(text: &str) -> Option<(u16, u16)> {
    let words: Vec<String> = text
        .split(|sign: char| !sign.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    words.iter().enumerate().find_map(|(at, word)| {
        let digits = word.trim_end_matches('s');
        let year: u16 =
            digits.parse().ok().filter(|year| digits.len() == 4 && (1900..2100).contains(year))?;
        if digits.len() == word.len() {
            return Some((year, year));
        }
        let before = at.checked_sub(1).and_then(|at| words.get(at)).map(String::as_str);
        Some(match before {
            Some("early") => (year, year + 3),
            Some("mid" | "middle") => (year + 4, year + 6),
            Some("late") => (year + 7, year + 9),
            _ => (year, year + 9),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::period;

    #[test]
    fn decades_and_their_thirds() {
        assert_eq!(period("bolt-on neck, early 1960s by its looks"), Some((1960, 1963)));
        assert_eq!(period("mid-1950s"), Some((1954, 1956)));
        assert_eq!(period("late 1950s"), Some((1957, 1959)));
        assert_eq!(period("1962, by the pencilled date"), Some((1962, 1962)));
        assert_eq!(period("1950s or older"), Some((1950, 1959)));
        assert_eq!(period("serial 12345 and 250k pots"), None);
    }
}
