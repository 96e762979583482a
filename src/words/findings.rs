//! What acts have found, and what they have left, for the sheet.

use super::describe::tool_title;
use super::describe::{clamp_reading, heard, reading, refusal, seen};
use super::strip::recording;
use crate::job::{Job, Step};
use crate::vehicle::{LidPosition, PartKind, Vehicle};

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
    let (scene, vehicle) = (job.scene(), &job.scenario().vehicle);
    let kit = scene.kit();
    let panels = vehicle.panels.iter().zip(scene.panels_off()).filter(|(_, off)| **off);
    let connectors = vehicle.connectors.iter().zip(scene.mated()).filter(|(_, mated)| !**mated);
    let switches = vehicle.parts().filter(|(id, part)| {
        matches!(part.kind, PartKind::Switch { springs_back: false, .. }) && scene.switched_on()[id.index()]
    });
    let fuses = vehicle.fuses.iter().zip(scene.fuses_fitted()).filter(|(_, fitted)| !*fitted);
    let mut left: Vec<String> = panels
        .map(|(panel, _)| format!("the {} is off", panel.title))
        .chain(connectors.map(|(connector, _)| format!("the {} is unplugged", connector.title)))
        .chain(switches.map(|(_, part)| format!("the {} is on", part.title)))
        .chain(fuses.map(|(fuse, _)| format!("{} is out", fuse.title)))
        .chain(kit.clips.iter().map(|clip| format!("the {} is still on", tool_title(clip.tool))))
        .collect();
    let mut if_so = |so: bool, what: String| {
        if so {
            left.push(what);
        }
    };
    if_so(
        kit.meter.red.is_some() || kit.meter.black.is_some(),
        "a probe of the meter is still on the car".to_owned(),
    );
    if_so(kit.clamp.is_some(), "the clamp is still closed round something".to_owned());
    if_so(kit.recorder.leads.is_some(), "the recorder's leads are still on".to_owned());
    if_so(scene.lid() != LidPosition::Shut, format!("the {} is not shut", vehicle.lid.title));
    left
}
