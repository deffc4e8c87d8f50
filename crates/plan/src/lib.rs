//! What to look at before buying, what to pay, what to do, what it costs and when it is done.

pub mod estimate;
