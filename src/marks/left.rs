//! What is not as it was before anybody worked on the car.

use crate::bench::{Action, Tool};
use crate::job::Job;
use crate::vehicle::{ConnectorId, FuseId, LidPosition, PanelId, PartId, PartKind};

/// Something that is not as it was, as far as it can be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Left {
    /// A panel is off.
    Panel(PanelId),
    /// A connector is unplugged.
    Plug(ConnectorId),
    /// A switch that stays is on.
    Switch(PartId),
    /// The setting that locks the release out has been set on.
    Lockout,
    /// A fuse is out.
    Fuse(FuseId),
    /// A tool is still clipped on.
    Clip(Tool),
    /// A probe of the meter is still on the car.
    Probe,
    /// The clamp is still closed round something.
    Clamp,
    /// The recorder's leads are still on.
    Recorder,
    /// The lid is not shut.
    Lid,
}

/// All that is not as it was.
#[must_use]
pub fn left_about(job: &Job) -> Vec<Left> {
    let (scene, vehicle) = (job.scene(), &job.scenario().vehicle);
    let kit = scene.kit();
    let panels = scene.panels_off().iter().enumerate().filter(|(_, off)| **off);
    let plugs = scene.mated().iter().enumerate().filter(|(_, mated)| !**mated);
    let switches = vehicle.parts().filter(|(id, part)| {
        matches!(part.kind, PartKind::Switch { springs_back: false, .. }) && scene.switched_on()[id.index()]
    });
    let fitted = scene.fuses_fitted();
    let fuses = fitted.iter().enumerate().filter(|(_, fitted)| !**fitted);
    // One that was on when the vehicle came in is a cause to be found.
    let set_last = job.log().iter().rev().find_map(|step| match step.action {
        Action::Lockout(on) if step.outcome.refused.is_none() => Some(on),
        _ => None,
    });
    let tools = [
        (set_last == Some(true), Left::Lockout),
        (kit.meter.red.is_some() || kit.meter.black.is_some(), Left::Probe),
        (kit.clamp.is_some(), Left::Clamp),
        (kit.recorder.leads.is_some(), Left::Recorder),
        (scene.lid() != LidPosition::Shut, Left::Lid),
    ];
    panels
        .map(|(at, _)| Left::Panel(PanelId::at(at)))
        .chain(plugs.map(|(at, _)| Left::Plug(ConnectorId::at(at))))
        .chain(switches.map(|(id, _)| Left::Switch(id)))
        .chain(fuses.map(|(at, _)| Left::Fuse(FuseId::at(at))))
        .chain(kit.clips.iter().map(|clip| Left::Clip(clip.tool)))
        .chain(tools.into_iter().filter(|(so, _)| *so).map(|(_, left)| left))
        .collect()
}
