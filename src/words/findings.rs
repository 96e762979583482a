//! What an act has found, for the sheet.

use super::describe::{clamp_reading, heard, reading, refusal, seen};
use super::strip::recording;
use crate::job::Step;
use crate::vehicle::Vehicle;

/// What a step has found, phrase by phrase: why it was refused, what was heard, seen and read.
#[must_use]
pub fn findings(vehicle: &Vehicle, step: &Step) -> Vec<String> {
    let outcome = &step.outcome;
    (outcome.refused.iter().map(|why| refusal(vehicle, *why)))
        .chain(outcome.heard.iter().map(|one| heard(vehicle, one)))
        .chain(outcome.seen.iter().map(|one| seen(vehicle, one)))
        .chain(outcome.reading.iter().map(reading))
        .chain(outcome.clamp.iter().map(|clamp| format!("clamp {}", clamp_reading(clamp))))
        .chain(outcome.recording.iter().map(recording))
        .collect()
}
