//! Studies: inputs drawn from a job, sciences asked, answers with their working.
pub use asfound_plot::Plot;
