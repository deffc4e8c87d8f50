//! What stands on a paper, before anybody thinks about type or pages.
//!
//! Everything here is plain text of people or plain bytes. Nothing is markup: a `#`, a `$` or a
//! backslash is printed as that sign.

/// A whole paper: page one for the owner, then sections, then how to check it.
///
/// Lists and texts may be empty; what is empty takes no room on the page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Paper {
    /// What the paper is about, such as `Short-scale bass, two coils`.
    pub title: String,
    /// A second line under the title.
    pub subtitle: String,
    /// The job's number, such as `26-014`.
    pub number: String,
    /// The date that is printed, as ISO 8601: `2026-11-25`.
    pub date: String,
    /// Who answers for the paper.
    pub prepared_by: String,
    /// The language of the texts as a language tag: `en`, `de`, `pt-BR`.
    pub language: String,
    /// Plain words for the owner. The first is set large: it is the one thing to remember.
    pub summary: Vec<String>,
    /// The sections in the order of reading. One without blocks and without an intro is left out.
    pub sections: Vec<Section>,
    /// Hashes, the head of the chain, how to check them: one paragraph each, on the last page.
    pub colophon: Vec<String>,
    /// A short line at the foot of every page, such as the job's number with the first signs of
    /// the chain's head, so that a loose sheet can be put back where it belongs.
    pub foot_note: String,
}

/// One section with its heading.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// The heading, also listed on page one.
    pub heading: String,
    /// A few words before the first block.
    pub intro: Option<String>,
    /// What the section holds, in order.
    pub blocks: Vec<Block>,
}

/// One thing in a section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// Running text. A line break in it stays a line break.
    Paragraph(String),
    /// A finding: one sentence, how sure it is, and the entries it rests on.
    Finding {
        /// The finding in one sentence, set large.
        sentence: String,
        /// How sure it is, in words.
        sure: String,
        /// The entries it rests on, as they are printed: `entry 14`.
        rests_on: Vec<String>,
    },
    /// Names with what is known of each.
    Facts(Vec<(String, String)>),
    /// A table. Short rows are filled with empty cells, what is beyond the columns is an error.
    Table {
        /// One line above the table, may be empty.
        caption: String,
        /// The columns from left to right.
        columns: Vec<Column>,
        /// The rows, each with one text for each column.
        rows: Vec<Vec<String>>,
    },
    /// A drawn figure.
    Plot {
        /// The figure as SVG, with literal colours and this paper's type faces.
        svg: String,
        /// The line under the figure.
        caption: String,
        /// The figure in words, for somebody who cannot see it.
        alt: String,
    },
    /// Photographs, two in a row.
    Photographs(Vec<Photograph>),
    /// What can hurt a person or the piece.
    Caution(String),
    /// Steps in order, numbered.
    Steps(Vec<String>),
    /// An aside in small type.
    Note(String),
}

/// The head of one column of a table.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Column {
    /// What stands in the column, with its unit.
    pub name: String,
    /// Whether the column holds figures, to be aligned on the decimal sign.
    pub numeric: bool,
}

/// One photograph.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Photograph {
    /// The picture as JPEG or PNG.
    pub bytes: Vec<u8>,
    /// The line under the picture.
    pub caption: String,
    /// The picture in words. Where it is empty the caption stands in.
    pub alt: String,
    /// The first signs of the hash of the original.
    pub hash_short: String,
}

/// A file that travels inside the PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// The file's name without folders, such as `record.jsonl`.
    pub name: String,
    /// Its media type (RFC 6838), such as `application/json`.
    pub media: String,
    /// What is in it, byte for byte.
    pub bytes: Vec<u8>,
    /// What it is, in a few words.
    pub description: String,
}

/// The date and identity that are written into the file, so that the same paper always gives the
/// same bytes: this crate reads no clock and draws no lots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// Year of the common era.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, 1 to 31.
    pub day: u8,
    /// A text that names this paper and no other. Only its hash enters the file.
    pub ident: String,
}

/// Why a paper could not be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PaperError {
    /// The language tag is not one that can be used.
    #[error("the paper's language reads `{read}`; a tag such as `en`, `de` or `pt-BR` is needed")]
    Language {
        /// What was given.
        read: String,
    },
    /// The stamp's date is not in the calendar.
    #[error("the paper's date reads {year}-{month}-{day}, which no calendar has; give a real day")]
    Date {
        /// The year given.
        year: u16,
        /// The month given.
        month: u8,
        /// The day given.
        day: u8,
    },
    /// A row has more cells than the table has columns.
    #[error(
        "row {row} of the table `{caption}` has {cells} cells for {columns} columns; \
         give each cell a column"
    )]
    RowTooLong {
        /// The table's caption.
        caption: String,
        /// The row, counted from 1.
        row: usize,
        /// How many cells it has.
        cells: usize,
        /// How many columns there are.
        columns: usize,
    },
    /// An attachment's name cannot be the name of one file.
    #[error(
        "an attachment is named `{read}`; give a plain file name such as `record.jsonl`, \
         without folders, at most 120 characters"
    )]
    AttachmentName {
        /// What was given.
        read: String,
    },
    /// Two attachments have the same name.
    #[error("two attachments are named `{name}`; give each its own name")]
    AttachmentTwice {
        /// The name they share.
        name: String,
    },
    /// An attachment's media type is not one.
    #[error("the attachment `{name}` has the media type `{read}`; one such as `text/csv` is needed")]
    AttachmentMedia {
        /// The attachment's name.
        name: String,
        /// What was given.
        read: String,
    },
    /// The type-setter refused. This is a fault of ours, not of the person's.
    #[error("the paper could not be set: {said}; keep the job file and report this sentence")]
    Setting {
        /// What the type-setter said.
        said: String,
    },
}
