//! Faults: what can be wrong, where it sits, how a person would name it, and the seeded draw of one of them.

mod diagnosis;
mod draw;
mod placed;

pub use diagnosis::{Component, Diagnosis, FaultKind, Spot};
pub use draw::{Purpose, SeededChance, below, draw, stream};
pub use placed::{Change, PlacedFault};
