//! What acts have found, and what they have left, for the sheet.

use super::describe::{clamp_reading, heard, part_title, reading, refusal, seen, tool_title};
use super::strip::recording;
use crate::job::{Job, Step};
use crate::marks::{Left, left_about};
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

/// What is not as it was before anybody worked on the car, as far as it can be seen.
#[must_use]
pub fn not_put_back(job: &Job) -> Vec<String> {
    let vehicle = &job.scenario().vehicle;
    left_about(job)
        .into_iter()
        .map(|left| match left {
            Left::Panel(id) => format!("the {} is off", vehicle.panel(id).title),
            Left::Plug(id) => format!("the {} is unplugged", vehicle.connector(id).title),
            Left::Switch(id) => format!("the {} is on", part_title(vehicle, id)),
            Left::Fuse(id) => format!("{} is out", vehicle.fuse(id).title),
            Left::Clip(tool) => format!("the {} is still on", tool_title(tool)),
            Left::Probe => "a probe of the meter is still on the car".to_owned(),
            Left::Clamp => "the clamp is still closed round something".to_owned(),
            Left::Recorder => "the recorder's leads are still on".to_owned(),
            Left::Lid => format!("the {} is not shut", vehicle.lid.title),
        })
        .collect()
}
