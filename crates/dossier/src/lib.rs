//! Paper: a job's dossier as a PDF that can be read in thirty years.
//!
//! It answers one question: how does what was found, what it means and what comes next look on
//! paper, so that an owner reads page one, the next restorer reads the rest, and a stranger can
//! check both against the record inside?
//!
//! The one design decision: **a paper is data, and the template is the only code.** [`Paper`]
//! says what stands on the sheets and nothing of how. The type-setter reads our own template and
//! a JSON file, so whatever a person typed is printed and never obeyed. The file is PDF/A-3a
//! (ISO 19005-3) and PDF/UA-1 (ISO 14289-1) at once: faces embedded, tagged for those who listen,
//! the record attached byte for byte. The same paper gives the same bytes, so its hash can be
//! sealed; the date and identity in the file come from the caller's [`Stamp`].
//!
//! ```
//! use asfound_dossier::{Block, Paper, Section, Stamp, pdf};
//!
//! let paper = Paper {
//!     title: "Short-scale bass, two coils".into(),
//!     language: "en".into(),
//!     sections: vec![Section {
//!         heading: "Wiring".into(),
//!         intro: None,
//!         blocks: vec![Block::Finding {
//!             sentence: "The bridge coil reads low for its kind, cold or not.".into(),
//!             sure: "Fairly sure.".into(),
//!             rests_on: vec!["entry 14".into()],
//!         }],
//!     }],
//!     ..Paper::default()
//! };
//! let stamp = Stamp { year: 2026, month: 11, day: 25, ident: "26-014 head 9f3c".into() };
//! let bytes = pdf(&paper, &[], &stamp)?;
//! assert!(bytes.starts_with(b"%PDF-"));
//! # Ok::<(), asfound_dossier::PaperError>(())
//! ```

mod compose;
mod figures;
mod paper;
mod render;
mod sheet;
mod signs;

pub use compose::{Composed, PaperPicture, Sources, dossier};
pub use paper::{Attachment, Block, Column, Paper, PaperError, Photograph, Section, Stamp};
pub use render::pdf;
