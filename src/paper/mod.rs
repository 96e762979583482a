//! Assessment papers: for whom, under which terms, and which faults, sealed.
//!
//! `README.md` beside this file says what a paper protects against, and what it cannot.

mod bytes;
mod draws;
mod file;
mod seal;
mod terms;

pub(crate) use bytes::{from_hex, hex, random};
pub use bytes::{random_salt, random_seed};
pub use draws::{Band, Pick, minutes_by_fault, pick_seeds};
pub use file::{Candidate, Paper, PaperError};
pub use seal::{Hardness, PaperKey};
pub use terms::{PaperJob, PaperScenario, Seeds, Terms};
