//! Puts the job's state on the stage.

use std::sync::{Arc, Weak};

use bevy::prelude::*;
use probeworthy::bench::{ClampPlace, LampSize, Lead, MeterSetting, Tool};
use probeworthy::job::Job;
use probeworthy::scenario::Scenario;
use probeworthy::vehicle::{LidPosition, PartId, PartKind, Point, StationId, Vehicle, Zone};

use super::bay::{Bay, Hand};
use super::playing::Playing;
use super::scenery::{Anchors, LeadEnd, LeadTip, LoomWire, Palette, Region, Stage, StageLead, Wanted};
use super::settings::Settings;
use super::{strip, undone};

/// Where a point is in the drawing.
pub(super) fn point_anchor(vehicle: &Vehicle, anchors: &Anchors, point: Point) -> String {
    match point {
        Point::Cavity(id, _, _) => connector_anchor(vehicle, anchors, id),
        Point::Line(part, ..) => connector_anchor(vehicle, anchors, vehicle.part(part).connector),
        Point::Stud(id) => vehicle.stud(id).id.clone(),
        Point::Body => "body-metal".to_owned(),
        // A fuse outside of the cabin has a place of its own.
        Point::Fuse(id, _) => Some(vehicle.fuse(id).id.clone())
            .filter(|name| anchors.design(name).is_some())
            .unwrap_or_else(|| "cabin".to_owned()),
        Point::BatteryPlus | Point::BatteryMinus => "front".to_owned(),
        Point::KeyPlus | Point::KeyMinus => "key".to_owned(),
    }
}

/// Where a connector is in the drawing: under its own name, or under that of what it belongs to.
pub(super) fn connector_anchor(
    vehicle: &Vehicle,
    anchors: &Anchors,
    id: probeworthy::vehicle::ConnectorId,
) -> String {
    let connector = vehicle.connector(id);
    let plug = format!("lid-{}-plug", connector.id);
    if anchors.design(&plug).is_some() {
        return plug;
    }
    if anchors.design(&connector.id).is_some() {
        return connector.id.clone();
    }
    let stem = connector.id.rsplit_once('-').map_or(connector.id.as_str(), |(stem, _)| stem);
    if anchors.design(stem).is_some() { stem.to_owned() } else { "cabin".to_owned() }
}

/// Where in the drawing the clamp is closed round something.
fn clamp_anchor(vehicle: &Vehicle, anchors: &Anchors, place: ClampPlace) -> String {
    match place {
        ClampPlace::Station(_, station) => vehicle.station(station).id.clone(),
        ClampPlace::Cavity(connector, ..) => connector_anchor(vehicle, anchors, connector),
        ClampPlace::BatteryPlus => "front".to_owned(),
    }
}

/// The drawing's name of a tool.
pub(super) fn tool_anchor(tool: Tool) -> &'static str {
    match tool {
        Tool::TestLamp(LampSize::Five) => "test-lamp-5",
        Tool::TestLamp(LampSize::TwentyOne) => "test-lamp-21",
        Tool::Bridge => "bridge",
        Tool::BenchBattery => "bench-battery",
    }
}

/// Where a tool's two leads leave it.
fn tool_ends(tool: Tool) -> [&'static str; 2] {
    match tool {
        Tool::TestLamp(LampSize::Five) => ["test-lamp-5-red", "test-lamp-5-black"],
        Tool::TestLamp(LampSize::TwentyOne) => ["test-lamp-21-red", "test-lamp-21-black"],
        Tool::Bridge => ["bridge-one", "bridge-other"],
        Tool::BenchBattery => ["battery-red", "battery-black"],
    }
}

/// The drawing's name of the clamp's jaws.
const JAWS: &str = "clamp-jaws";

/// Where the recorder's two leads leave it.
const RECORDER_ENDS: [&str; 2] = ["recorder-red", "recorder-black"];

/// Writes the stage from the job.
pub(super) fn set_stage(
    bay: Res<Bay>,
    palette: Res<Palette>,
    settings: Res<Settings>,
    anchors: Res<Anchors>,
    mut stage: ResMut<Stage>,
    mut shown: Local<Option<Arc<Scenario>>>,
    mut written: Local<Weak<Job>>,
) {
    let mut next = stage.clone();
    next.reduced_motion = settings.reduced_motion;
    next.near = !bay.eye.is_far();
    // What follows from the vehicle alone is worked out when another one comes in, and not with every frame.
    let vehicle_of = bay.shown();
    if shown.as_ref().is_none_or(|shown| !Arc::ptr_eq(shown, vehicle_of)) {
        *shown = Some(Arc::clone(vehicle_of));
        next.vehicle.clone_from(&bay.vehicle().id);
        // It stands as it was brought in; nothing of the last one hangs on or swings shut.
        next.lights.clear();
        next.leads.clear();
        next.tools_out.clear();
        next.panels_off.clear();
        next.turning.clear();
        next.unplugged.clear();
        next.fuses_out.clear();
        next.opened.clear();
        next.taped.clear();
        next.latch_claw_open = 0.0;
        next.lid_degrees = 0.0;
        next.propped = false;
        next.wet = false;
        next.strip = Arc::default();
        next.loom = loom(bay.vehicle(), &palette);
        next.wanted = wanted(bay.vehicle()).into();
    }
    if let Some(job) = &bay.job {
        let scene = job.scene();
        let vehicle = bay.vehicle();
        let played = bay.playing.as_ref().and_then(Playing::lights);
        let waits = bay.playing.as_ref().filter(|playing| playing.lid_still_waits());
        let lid = waits.map_or(scene.lid(), |playing| playing.lid_before);
        #[expect(clippy::cast_possible_truncation, reason = "angles and lights for a drawing")]
        {
            next.lid_degrees = lid.degrees() as f32;
            for (part, light) in played.as_ref().unwrap_or(&scene.rest().lights) {
                next.lights.insert(vehicle.part(*part).id.clone(), *light as f32);
            }
            for (part, heat) in &scene.rest().screens {
                for (at, heat) in heat.iter().enumerate() {
                    next.lights.insert(format!("{}.{}", vehicle.part(*part).id, at + 1), *heat as f32);
                }
            }
            for size in [LampSize::Five, LampSize::TwentyOne] {
                let tool = Tool::TestLamp(size);
                let clips = &scene.kit().clips;
                let at = clips.iter().position(|clip| clip.tool == tool);
                let light = at.and_then(|at| scene.rest().tool_lights.get(at)).copied().unwrap_or(0.0);
                next.lights.insert(tool_anchor(tool).to_owned(), light as f32);
            }
        }
        let at_rest =
            || scene.rest().turning.iter().filter(|(_, turns)| *turns).map(|(part, _)| *part).collect();
        let turning = bay.playing.as_ref().and_then(Playing::turning);
        let turning: Vec<PartId> = turning.map_or_else(at_rest, <[PartId]>::to_vec);
        next.turning = turning.into_iter().map(|part| vehicle.part(part).id.clone()).collect();
        let home = waits.map_or(scene.claw_home(), |playing| playing.claw_before);
        next.latch_claw_open = claw_open(lid, home);
        next.panels_off = vehicle
            .panels
            .iter()
            .zip(scene.panels_off())
            .filter(|(_, off)| **off)
            .map(|(panel, _)| panel.id.clone())
            .collect();
        next.unplugged = undone::unplugged(vehicle, scene.mated(), &anchors);
        next.fuses_out = undone::fuses_out(vehicle, scene);
        next.opened = undone::opened(job, &palette);
        next.taped = undone::taped(vehicle, &next.opened);
        next.propped = scene.propped() && waits.is_none();
        next.wet = scene.wet();
        next.meter_knob_degrees = match scene.kit().meter.setting {
            MeterSetting::Off => -110.0,
            MeterSetting::Volts => -73.3,
            MeterSetting::LowZ => -36.7,
            MeterSetting::Ohms => 0.0,
            MeterSetting::Tone => 36.7,
            MeterSetting::Diode => 73.3,
            MeterSetting::Amps => 110.0,
        };
        // What is on the recorder's paper changes with an act only.
        if !std::ptr::eq(written.as_ptr(), Arc::as_ptr(job)) {
            *written = Arc::downgrade(job);
            next.strip = strip::pens(job, &palette).into();
        }
        next.leads = leads(&bay, &palette, &anchors);
        // What is in hand is not on the trolley, and the clamp's jaws leave the wall for what they are closed round.
        let in_hand = match bay.hand {
            Hand::Tool(tool) => Some(tool.anchor()),
            Hand::Clamp => Some(JAWS),
            Hand::Empty | Hand::Probe(_) | Hand::Clip(..) | Hand::Recorder(_) => None,
        };
        let closed = scene.kit().clamp.map(|_| JAWS);
        next.tools_out = in_hand.into_iter().chain(closed).map(str::to_owned).collect();
    }
    stage.set_if_neq(next);
}

/// How far the latch's claw is open, from 0 (home) over a half (on its first catch) to 1.
pub(super) fn claw_open(lid: LidPosition, home: bool) -> f32 {
    match lid {
        LidPosition::Shut => 0.0,
        LidPosition::FirstCatch => 0.5,
        LidPosition::Angle(_) if home => 0.0,
        LidPosition::Angle(_) => 1.0,
    }
}

/// The vehicle's places at its rear, by the names that a drawing may have them under.
pub(super) fn wanted(vehicle: &Vehicle) -> Vec<Wanted> {
    let region = |zone: Zone| match zone {
        Zone::Outside => Some(Region::Outside),
        Zone::LoadSpace => Some(Region::LoadSpace),
        Zone::Lid => Some(Region::Lid),
        Zone::Cabin | Zone::Front => None,
    };
    let one = |name: &str, or: Vec<String>, zone: Zone| {
        Some(Wanted { name: name.to_owned(), or, region: region(zone)? })
    };
    let connectors = vehicle.connectors.iter().filter_map(|connector| {
        let plug = format!("lid-{}-plug", connector.id);
        let stem = connector.id.rsplit_once('-').map(|(stem, _)| stem.to_owned());
        one(&connector.id, std::iter::once(plug).chain(stem).collect(), connector.reach.zone)
    });
    let stations =
        vehicle.stations.iter().filter_map(|station| one(&station.id, Vec::new(), station.reach.zone));
    let studs = vehicle.studs.iter().filter_map(|stud| one(&stud.id, Vec::new(), stud.reach.zone));
    let panels = vehicle.panels.iter().filter_map(|panel| one(&panel.id, Vec::new(), panel.zone));
    let switches = vehicle.parts().filter_map(|(_, part)| {
        let pressed = matches!(part.kind, PartKind::Switch { springs_back: true, .. });
        if pressed { one(&part.id, Vec::new(), part.reach.zone) } else { None }
    });
    let fuses = vehicle.fuses.iter().filter_map(|fuse| one(&fuse.id, Vec::new(), fuse.reach.zone));
    connectors.chain(fuses).chain(stations).chain(studs).chain(panels).chain(switches).collect()
}

/// The wires of the loom as they cross the hinge.
fn loom(vehicle: &Vehicle, palette: &Palette) -> Vec<LoomWire> {
    let middle = vehicle.stations.iter().position(|station| station.moves >= 1.0).unwrap_or(0);
    undone::wires_at(vehicle, StationId::at(middle), palette)
}

fn leads(bay: &Bay, palette: &Palette, anchors: &Anchors) -> Vec<StageLead> {
    let Some(job) = &bay.job else { return Vec::new() };
    let vehicle = bay.vehicle();
    let kit = job.scene().kit();
    let anchor = |name: &str| LeadEnd::Anchor(name.to_owned());
    let at = |point: Point| LeadEnd::Anchor(point_anchor(vehicle, anchors, point));
    let mut leads = Vec::new();
    for (lead, point, socket, colour) in [
        (Lead::Black, kit.meter.black, "meter-black", "lead-black"),
        (Lead::Red, kit.meter.red, "meter-red", "lead-red"),
    ] {
        // Taken in hand again, its lead goes to the hand.
        let in_hand = bay.lead_end.is_some() && bay.hand == Hand::Probe(lead);
        if let Some(point) = point.filter(|_| !in_hand) {
            leads.push(StageLead {
                from: anchor(socket),
                to: at(point),
                tips: [LeadTip::Plug, LeadTip::Probe],
                colour: palette.rgb(colour),
                sag: 0.16,
                clear_of: "meter",
            });
        }
    }
    // What is in hand is drawn at the pointer, over the scene; its lead hangs from there.
    let held = match bay.hand {
        Hand::Empty | Hand::Tool(_) => None,
        Hand::Probe(Lead::Red) => Some(("meter-red", "lead-red")),
        Hand::Probe(Lead::Black) => Some(("meter-black", "lead-black")),
        Hand::Clip(Tool::Bridge, first) => {
            Some((tool_ends(Tool::Bridge)[usize::from(first.is_some())], "lead-bridge"))
        }
        Hand::Clip(tool, None) => Some((tool_ends(tool)[0], "lead-red")),
        Hand::Clip(tool, Some(_)) => Some((tool_ends(tool)[1], "lead-black")),
        Hand::Clamp => Some(("clamp-cord", "lead-clamp")),
        Hand::Recorder(None) => Some((RECORDER_ENDS[0], "lead-red")),
        Hand::Recorder(Some(_)) => Some((RECORDER_ENDS[1], "lead-black")),
    };
    if let (Some((end, colour)), Some(at)) = (held, bay.lead_end) {
        leads.push(StageLead {
            from: anchor(end),
            to: LeadEnd::Point(at),
            tips: [LeadTip::Plain; 2],
            colour: palette.rgb(colour),
            sag: 0.16,
            clear_of: "meter",
        });
    }
    let begun = match bay.hand {
        Hand::Clip(tool, Some(first)) => Some((tool, first, None)),
        _ => None,
    };
    let clips = kit.clips.iter().map(|clip| (clip.tool, clip.from, Some(clip.to))).chain(begun);
    for (tool, first, second) in clips {
        let colours = if tool == Tool::Bridge { ["lead-bridge"; 2] } else { ["lead-red", "lead-black"] };
        for ((end, point), colour) in tool_ends(tool).into_iter().zip([Some(first), second]).zip(colours) {
            if let Some(point) = point {
                leads.push(StageLead {
                    from: anchor(end),
                    to: at(point),
                    tips: [LeadTip::Plain, LeadTip::Clip],
                    colour: palette.rgb(colour),
                    sag: 0.2,
                    clear_of: "meter",
                });
            }
        }
    }
    let (plus, minus) = match (kit.recorder.leads, bay.hand) {
        (_, Hand::Recorder(first)) => (first, None),
        (Some((plus, minus)), _) => (Some(plus), Some(minus)),
        (None, _) => (None, None),
    };
    for ((end, point), colour) in RECORDER_ENDS.into_iter().zip([plus, minus]).zip(["lead-red", "lead-black"])
    {
        if let Some(point) = point {
            leads.push(StageLead {
                from: anchor(end),
                to: at(point),
                tips: [LeadTip::Plug, LeadTip::Clip],
                colour: palette.rgb(colour),
                sag: 0.2,
                clear_of: "meter",
            });
        }
    }
    if let Some(clamp) = &kit.clamp {
        leads.push(StageLead {
            from: anchor("clamp-cord"),
            to: LeadEnd::Anchor(clamp_anchor(vehicle, anchors, clamp.place)),
            tips: [LeadTip::Plain, LeadTip::Jaws],
            colour: palette.rgb("lead-clamp"),
            sag: 0.2,
            clear_of: "meter",
        });
    }
    leads
}

/// The scenarios of the shelf by their vehicles, one for each.
#[cfg(test)]
pub(super) fn vehicles() -> std::collections::BTreeMap<String, Arc<Scenario>> {
    use probeworthy::scenario::{SHELF, load};
    let all = SHELF.iter().map(|one| Arc::new(load(one.id).expect(one.id).scenario));
    all.map(|scenario| (scenario.vehicle.id.clone(), scenario)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::scenery::{drawn_names, is_drawn, widest_degrees};
    use super::*;

    #[test]
    fn every_place_that_is_reached_at_the_rear_is_drawn_on_every_vehicle() {
        let vehicles = vehicles();
        assert!(vehicles.len() > 4, "the shelf has lost a vehicle");
        for (id, scenario) in vehicles {
            let vehicle = &scenario.vehicle;
            assert!(is_drawn(&id), "{id} has no drawings");
            let drawn = drawn_names(&id);
            let mut places = wanted(vehicle);
            let seats = vehicle.panels.iter().filter(|panel| panel.opens.is_some());
            let always =
                ["lid-handle", "lid-strut-right", "lever", "body-metal", "plate-text", "cabin", "front"];
            let others = seats.map(|panel| panel.id.clone()).chain(always.map(str::to_owned));
            places.extend(others.map(|name| Wanted { name, or: Vec::new(), region: Region::LoadSpace }));
            let missing: Vec<&str> = places
                .iter()
                .filter(|one| !drawn.contains(&one.name) && !one.or.iter().any(|name| drawn.contains(name)))
                .map(|one| one.name.as_str())
                .collect();
            assert!(missing.is_empty(), "the drawings of {id} do not mark {missing:?}");
        }
    }

    #[test]
    fn every_lid_is_drawn_as_wide_open_as_it_opens() {
        for (id, scenario) in vehicles() {
            let full = f32::from(scenario.vehicle.lid.full_degrees);
            assert!((widest_degrees(&id) - full).abs() < 0.1, "{id} opens to {full} degrees");
        }
    }

    #[test]
    fn every_lamp_screen_and_wiper_is_drawn_on_every_vehicle() {
        for (id, scenario) in vehicles() {
            let drawn = drawn_names(&id);
            let mut names = Vec::new();
            for (_, part) in scenario.vehicle.parts() {
                match &part.kind {
                    PartKind::Lamp { .. } | PartKind::Led(_) => {
                        names.extend(["light", "glow"].map(|what| format!("{what}.{}", part.id)));
                    }
                    PartKind::Screen(screen) => {
                        names.extend((1..=screen.lines).map(|line| format!("warm.{}.{line}", part.id)));
                    }
                    PartKind::Motor { .. } => names.push(format!("sweeps.{}", part.id)),
                    _ => {}
                }
            }
            let missing: Vec<&String> = names.iter().filter(|name| !drawn.contains(*name)).collect();
            assert!(missing.is_empty(), "the drawings of {id} do not show {missing:?}");
            // And nothing is lit that the vehicle has not got.
            let lit = ["light.", "glow.", "spill.", "warm.", "sweeps."];
            let parts: Vec<&str> = scenario.vehicle.parts().map(|(_, part)| part.id.as_str()).collect();
            for name in &drawn {
                let Some(lamp) = lit.iter().find_map(|prefix| name.strip_prefix(prefix)) else { continue };
                let part = lamp.split('.').next().unwrap_or(lamp);
                assert!(parts.contains(&part), "{id} draws `{name}`, but has no part `{part}`");
            }
        }
    }
}
