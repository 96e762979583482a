//! Where a job writes down its acts before their outcome is shown.

use crate::bench::{Action, Outcome};
use crate::vehicle::Vehicle;

/// One act, as it is written down.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    /// Its number, from 1.
    pub step: usize,
    /// The act.
    pub action: &'a Action,
    /// Minutes on the clock afterwards.
    pub minutes: f64,
    /// What it brought.
    pub outcome: &'a Outcome,
}

/// Keeps acts.
pub trait Journal {
    /// Keeps one act; when this returns, it is safe.
    ///
    /// # Errors
    /// The system's error where it could not be kept. The job then does not do the act.
    fn append(&mut self, vehicle: &Vehicle, entry: &Entry<'_>) -> std::io::Result<()>;
}

/// Keeps nothing: for scripts, which can be played again, and for trials.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoJournal;

impl Journal for NoJournal {
    fn append(&mut self, _: &Vehicle, _: &Entry<'_>) -> std::io::Result<()> {
        Ok(())
    }
}
