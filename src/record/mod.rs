//! Saved jobs: one file each, in JSON Lines, written as the job goes and read back to resume it.
//!
//! The first line says which scenario and which draw; each further line is one act. The draw is obscured, so that
//! nobody reads the fault off a file by accident; more than that is not claimed.

mod file;

pub use file::{Header, RecordError, Recorder, default_folder, last_unfinished, resume, start};
