//! Words with the place where each stands.

/// A word as it stands in a text, without the stops and quotes round it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// The word.
    pub(super) text: String,
    /// The same in small letters.
    pub(super) lower: String,
    /// Where it begins, in bytes.
    pub(super) start: usize,
    /// Where it ends, in bytes.
    pub(super) end: usize,
    /// Whether a person pauses after it: a comma, a full stop, a semicolon, a colon or a bracket.
    pub(super) pause: bool,
}

const STOPS: [char; 10] = [',', ';', '.', ':', '(', ')', '"', '“', '”', '!'];

/// The words of a text.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut found = Vec::new();
    let mut start = None;
    let ends = text.char_indices().map(Some).chain([None]);
    for next in ends {
        match (next, start) {
            (Some((at, sign)), None) if !sign.is_whitespace() => start = Some(at),
            (Some((at, sign)), Some(from)) if sign.is_whitespace() => {
                found.extend(token(text, from, at));
                start = None;
            }
            (None, Some(from)) => found.extend(token(text, from, text.len())),
            _ => {}
        }
    }
    found
}

fn token(text: &str, from: usize, to: usize) -> Option<Token> {
    let word = &text[from..to];
    let open = word.trim_start_matches(STOPS);
    let bare = open.trim_end_matches(STOPS);
    if bare.is_empty() {
        return None;
    }
    let start = to - open.len();
    let end = start + bare.len();
    Some(Token { text: bare.to_owned(), lower: bare.to_lowercase(), start, end, pause: end < to })
}

#[cfg(test)]
mod tests {
    use super::tokens;

    #[test]
    fn a_word_knows_its_place() {
        let text = "stamped “137 6338”, on photo 8.";
        let found = tokens(text);
        let words: Vec<&str> = found.iter().map(|token| &text[token.start..token.end]).collect();
        assert_eq!(words, ["stamped", "137", "6338", "on", "photo", "8"]);
        assert!(found[2].pause && !found[1].pause && found[5].pause);
    }
}
