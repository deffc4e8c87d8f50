//! What to look at before buying, what to pay, what to do, what it costs and when it is done.

pub mod estimate;
pub mod network;
mod precedence;
mod three_point;

pub use network::{Activity, CriticalPath, Float, Network};
pub use precedence::PrecedenceFault;
pub use three_point::{Hours, ThreePoint, ThreePointFault};
