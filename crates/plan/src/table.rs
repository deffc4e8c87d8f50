//! Tables as text that a person can edit: a row a line, fields parted by tabs, the first line their names, `#` before a
//! remark. What cannot be read is answered with its table and line.

use crate::three_point::{Hours, ThreePoint, ThreePointFault};

/// Why a table cannot be taken. Each sentence begins with its place.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TableFault {
    /// The heading is not that of the table.
    #[error(
        "{table}, line {line}: the first line that is no remark must be the heading: {wanted}, parted by tabs"
    )]
    Heading {
        /// Which table.
        table: &'static str,
        /// Which line.
        line: usize,
        /// The heading.
        wanted: String,
    },
    /// Too many fields, or too few.
    #[error(
        "{table}, line {line}: {found} fields were read and {wanted} are wanted; part them by tabs, with - where there is none"
    )]
    Fields {
        /// Which table.
        table: &'static str,
        /// Which line.
        line: usize,
        /// How many were read.
        found: usize,
        /// How many are wanted.
        wanted: usize,
    },
    /// A field that says nothing the table knows.
    #[error("{table}, line {line}: “{read}” cannot be read here; write {right}")]
    Field {
        /// Which table.
        table: &'static str,
        /// Which line.
        line: usize,
        /// What was read.
        read: String,
        /// What would be right.
        right: String,
    },
    /// Three hours that do not rise.
    #[error("{table}, line {line}: {fault}")]
    Times {
        /// Which table.
        table: &'static str,
        /// Which line.
        line: usize,
        /// What is wrong with them.
        fault: ThreePointFault,
    },
}

/// A row with its place.
pub(crate) struct Row<'a, const N: usize> {
    table: &'static str,
    line: usize,
    pub(crate) fields: [&'a str; N],
}

/// The rows of a table. An empty text has none.
pub(crate) fn rows<'a, const N: usize>(
    table: &'static str,
    text: &'a str,
    heading: [&str; N],
) -> Result<Vec<Row<'a, N>>, TableFault> {
    let lines = text.lines().enumerate().map(|(place, line)| (place + 1, line));
    let mut lines = lines.filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let Some((line, first)) = lines.next() else { return Ok(Vec::new()) };
    if !first.split('\t').map(str::trim).eq(heading) {
        return Err(TableFault::Heading { table, line, wanted: heading.join(", ") });
    }
    lines
        .map(|(line, text)| {
            let fields: Vec<&str> = text.split('\t').map(str::trim).collect();
            let found = fields.len();
            let fields =
                fields.try_into().map_err(|_| TableFault::Fields { table, line, found, wanted: N })?;
            Ok(Row { table, line, fields })
        })
        .collect()
}

/// A field's text, empty where it is `-`.
pub(crate) fn said(field: &str) -> &str {
    if field == "-" { "" } else { field }
}

impl<const N: usize> Row<'_, N> {
    /// That a field cannot be read, and what would be right.
    pub(crate) fn wrong(&self, read: &str, right: &str) -> TableFault {
        TableFault::Field {
            table: self.table,
            line: self.line,
            read: read.to_owned(),
            right: right.to_owned(),
        }
    }

    /// Three hours; none where it is `-`.
    pub(crate) fn hours(&self, of: &str, field: &str) -> Result<Option<ThreePoint>, TableFault> {
        if field == "-" {
            return Ok(None);
        }
        let wrong = || self.wrong(field, "three hours, as 0.5 1 2, or - for none");
        let read: Option<Vec<f64>> = field.split_whitespace().map(|one| one.parse().ok()).collect();
        let [least, likely, most] = read.and_then(|three| three.try_into().ok()).ok_or_else(wrong)?;
        let three = ThreePoint::new(of, Hours(least), Hours(likely), Hours(most));
        three.map(Some).map_err(|fault| TableFault::Times { table: self.table, line: self.line, fault })
    }

    /// Yes, or no where it is `-`.
    pub(crate) fn yes(&self, field: &str) -> Result<bool, TableFault> {
        match field {
            "yes" => Ok(true),
            "-" => Ok(false),
            _ => Err(self.wrong(field, "yes, or - for no")),
        }
    }
}
