//! What acts have found, and what they have left, for the sheet.

use super::describe::{clamp_reading, heard, part_title, reading, refusal, seen, tool_title};
use super::strip::recording;
use crate::job::{Job, Step};
use crate::marks::{Left, left_about};
use crate::say;
use crate::vehicle::Vehicle;
use crate::words::Texts;

/// What a step has found, phrase by phrase: why it was refused, what was heard, seen and read.
#[must_use]
pub fn findings(t: Texts, vehicle: &Vehicle, step: &Step) -> Vec<String> {
    let outcome = &step.outcome;
    (outcome.refused.iter().map(|why| refusal(t, vehicle, *why)))
        .chain(outcome.heard.iter().map(|one| heard(t, vehicle, one)))
        .chain(outcome.seen.iter().map(|one| seen(t, vehicle, one)))
        .chain(outcome.reading.iter().map(|one| reading(t, one)))
        .chain(outcome.clamp.iter().map(|clamp| say!(t, "reading-clamp", reading = clamp_reading(t, clamp))))
        .chain(outcome.recording.iter().map(|one| recording(t, one)))
        .collect()
}

/// What is not as it was before anybody worked on the car, as far as it can be seen.
#[must_use]
pub fn not_put_back(t: Texts, job: &Job) -> Vec<String> {
    let vehicle = &job.scenario().vehicle;
    left_about(job)
        .into_iter()
        .map(|left| match left {
            Left::Panel(id) => say!(t, "left-panel", panel = t.title(&vehicle.panel(id).title)),
            Left::Plug(id) => say!(t, "left-plug", connector = t.title(&vehicle.connector(id).title)),
            Left::Switch(id) => say!(t, "left-switch", part = part_title(t, vehicle, id)),
            Left::Fuse(id) => say!(t, "left-fuse", fuse = t.title(&vehicle.fuse(id).title)),
            Left::Clip(tool) => say!(t, "left-clip", tool = tool_title(t, tool)),
            Left::Probe => t.say("left-probe").to_owned(),
            Left::Clamp => t.say("left-clamp").to_owned(),
            Left::Lockout => t.say("left-lockout").to_owned(),
            Left::Recorder => t.say("left-recorder").to_owned(),
            Left::Lid => say!(t, "left-lid", lid = t.title(&vehicle.lid.title)),
        })
        .collect()
}
