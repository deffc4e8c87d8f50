//! Studies: inputs drawn from a job, sciences asked, answers with their working.
//!
//! A study takes a folded [`Job`] and answers facts: results, what they rest on, what is still open. Its one design
//! decision: **typed text becomes a number here, once**, and nowhere else; the record keeps text, the sciences take
//! quantities, and this room stands between. It holds no formula of physics and writes nothing.
//!
//! ```
//! use asfound_study::Job;
//! use asfound_study::entry_line::hear;
//!
//! // A part is named before anything binds to it; what cannot be read names the place and what would be right.
//! let heard = hear("part neck coil, coil, neck", &Job::default(), &[]).unwrap();
//! assert_eq!(heard.body.kind(), Some("part/1"));
//! let error = hear("nekc 6k31", &Job::default(), &[]).unwrap_err();
//! assert_eq!(error.read, "nekc");
//! ```

pub mod before;
pub mod bench;
pub mod coils;
pub mod component_marks;
pub mod conditions;
pub mod dates;
pub mod difference;
pub mod doubt;
pub mod drawing;
pub mod entry_line;
pub mod faults;
pub mod jack;
pub mod lugs;
pub mod marks;
pub mod material;
pub mod missing;
pub mod originality;
pub mod own_values;
pub mod parts;
pub mod past;
pub mod plan;
pub mod polarity;
pub mod position;
pub mod probings;
pub mod readings;
pub mod rewiring;
pub mod said;
pub mod settings;
pub mod sound;
pub mod sweep_files;
pub mod sweeps;
pub mod touches;
pub mod trace_line;
pub mod usual;
pub mod viewing;
pub mod wiring;

pub use asfound_plan::money;
pub use asfound_plot::{Plot, Size, Style};
pub use asfound_record::{self as record, Job};
