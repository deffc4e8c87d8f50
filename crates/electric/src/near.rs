//! How near two words are, to guess which one a hand meant.

/// Letters of a word that are looked at: longer words are no slips, and rubbish must not cost time.
const LETTERS: usize = 40;

/// Edits (a letter put in, left out, changed, or two neighbours swapped) that turn `a` into `b`; the
/// restricted form of Damerau, Commun. ACM 7(3), 171-176, 1964.
pub(crate) fn edit_distance(a: &str, b: &str) -> usize {
    let cut = |word: &str| word.chars().take(LETTERS).collect::<String>();
    strsim::osa_distance(&cut(a), &cut(b))
}

#[cfg(test)]
mod tests {
    use super::edit_distance;

    #[test]
    fn edits_are_counted_as_a_hand_makes_them() {
        assert_eq!(edit_distance("coil", "coil"), 0);
        assert_eq!(edit_distance("coli", "coil"), 1);
        assert_eq!(edit_distance("volme", "volume"), 1);
        assert_eq!(edit_distance("", "pot"), 3);
    }
}
