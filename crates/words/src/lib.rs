//! Findings, entries and errors made into sentences: one catalogue for screen, paper and command line.
//!
//! A study answers with facts. This room says them. Its one design decision: **what is said goes into a
//! [`Sheet`](sheet::Sheet)**, and page and paper both draw that sheet. So a sentence is written once, a figure is
//! printed in one way, and what a client reads on paper is what the bench showed.
//!
//! ```
//! use asfound_study::material::Material;
//! use asfound_words::page::{Page, sheet};
//!
//! // A job in which nothing was kept yet still says something, and says what to do first.
//! let sheet = sheet(Page::Piece, &Material::default());
//! assert!(sheet.means[0].sentence.contains("has not been said"));
//! ```

pub mod assumptions;
pub mod bench;
pub mod bench_sheet;
mod cautions;
mod component_marks;
mod dates;
pub mod entry;
mod faults;
mod likely;
pub mod line;
mod lists;
pub mod meter_check;
pub mod originality;
pub mod page;
mod parts;
pub mod photograph;
mod piece;
pub mod plan;
mod readings;
pub mod rewiring;
pub mod sheet;
pub mod time;
pub mod viewing;
pub mod wiring;
