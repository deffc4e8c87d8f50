//! What a person does: open a job, keep an entry, correct it, withhold it, keep a photograph, issue a paper, verify.
//!
//! This is the one room through which anything is written. It owns what the pure rooms may not have: the clock, ids,
//! salts and keys. One design decision shapes it: **an act takes what a person said and answers what was kept**. It
//! never answers with a half-done state, and a retry with the same draft id is harmless, so that a page with a bad
//! connection, a double press or a crash in between loses nothing and keeps nothing twice.
//!
//! ```
//! use asfound_acts::{NewJob, Said, Workshop};
//!
//! let folder = tempfile::tempdir().unwrap();
//! let workshop = Workshop::start(&folder.path().join("workshop"), "A bench of my own").unwrap();
//! let job = NewJob { title: "Short-scale bass, two coils".into(), ..NewJob::default() };
//! let number = workshop.open_job(&job).unwrap();
//! workshop.say(&number, "part neck coil, coil, neck", "draft-1").unwrap();
//! let Said::Kept { seq, .. } = workshop.say(&number, "neck 6k31 21C", "draft-2").unwrap() else { panic!() };
//! // The same draft again is the same entry.
//! let Said::Kept { seq: again, .. } = workshop.say(&number, "neck 6k31 21C", "draft-2").unwrap() else { panic!() };
//! assert_eq!(seq, again);
//! assert_eq!(workshop.job(&number).unwrap().readings[0].body.shown.text, "6k31");
//! ```

mod archive;
mod assumptions;
mod bench;
mod elsewhere;
mod error;
mod jobs;
mod keep;
mod keys;
mod material;
mod papers;
mod past;
mod photographs;
mod sweeps;
mod withhold;
mod workshop;

pub use archive::verify_lines;
pub use asfound_record::{Body, Cite, Entry, Job, Meeting, Meter1, Report};
pub use asfound_store::StoreError;
pub use asfound_store::{Found, Imported, StoreReport};
pub use asfound_study::bench::Card;
pub use asfound_study::material::Material;
pub use asfound_study::past::PastReading;
pub use asfound_study::sweep_files::SweepFile;
pub use elsewhere::Elsewhere;
pub use error::{ActError, Trouble};
pub use jobs::NewJob;
pub use keep::Said;
pub use papers::{Issued, PaperFault, PaperTold, PaperTrouble, verify_paper};
pub use photographs::{MOST_BYTES, PAGE_PIXELS, PhotographKept};
pub use sweeps::NewSweep;
pub use withhold::{HandedOut, TakenOut};
pub use workshop::{Clock, Workshop};
