//! How near two words are, to guess which one a hand meant.

/// Edits (a letter put in, left out, changed, or two neighbours swapped) that turn `a` into `b`; the
/// restricted form of Damerau, Commun. ACM 7(3), 171-176, 1964.
pub(crate) fn edit_distance(a: &str, b: &str) -> usize {
    // Long words are no slips; the cap keeps rubbish from costing time.
    let a: Vec<char> = a.chars().take(40).collect();
    let b: Vec<char> = b.chars().take(40).collect();
    let mut rows = vec![vec![0usize; b.len() + 1]; a.len() + 1];
    for (i, row) in rows.iter_mut().enumerate() {
        row[0] = i;
    }
    rows[0] = (0..=b.len()).collect();
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let change = usize::from(a[i - 1] != b[j - 1]);
            let mut best = (rows[i - 1][j] + 1).min(rows[i][j - 1] + 1).min(rows[i - 1][j - 1] + change);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = best;
        }
    }
    rows[a.len()][b.len()]
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
