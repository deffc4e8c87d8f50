//! Tables kept as data files: a row a line, fields parted by tabs, the first line their names, `#` before a remark.

/// The rows of a table, each with exactly `N` fields. A row with another count is left out; the tests of each table
/// hold that none is.
pub(crate) fn rows<const N: usize>(text: &'static str) -> impl Iterator<Item = [&'static str; N]> {
    text.lines()
        .filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
        .skip(1)
        .filter_map(|line| <[&str; N]>::try_from(line.split('\t').map(str::trim).collect::<Vec<_>>()).ok())
}
