//! What the learner has taken apart, as the scene shows it. What is wrong with the vehicle changes nothing of it: a connector
//! that only looks plugged together is drawn plugged together.

use std::collections::{BTreeMap, BTreeSet};

use probeworthy::bench::Action;
use probeworthy::job::{Job, Scene};
use probeworthy::vehicle::{Conductor, ConnectorId, StationId, Vehicle};

use super::scenery::{Anchors, LoomWire, Opened, Palette};
use super::sync::connector_anchor;

/// The wires of the loom that are drawn side by side.
const LOOM: usize = 8;

/// Connectors that are unplugged, with the place at which each is drawn. What lies out of sight is left out.
pub(super) fn unplugged(vehicle: &Vehicle, mated: &[bool], anchors: &Anchors) -> BTreeMap<String, String> {
    let apart = mated.iter().enumerate().filter(|(_, mated)| !**mated);
    apart
        .map(|(at, _)| ConnectorId::at(at))
        .map(|id| (vehicle.connector(id).id.clone(), connector_anchor(vehicle, anchors, id)))
        .filter(|(_, place)| place != "cabin")
        .collect()
}

/// Fuses that are out of their slots.
pub(super) fn fuses_out(vehicle: &Vehicle, scene: Scene<'_>) -> BTreeSet<String> {
    let fuses = vehicle.fuses.iter().zip(scene.fuses_fitted());
    fuses.filter(|(_, fitted)| !fitted).map(|(fuse, _)| fuse.id.clone()).collect()
}

/// Where the tape of the loom has been opened, and what wires are seen there.
pub(super) fn opened(job: &Job, palette: &Palette) -> Vec<Opened> {
    let vehicle = &job.scenario().vehicle;
    let places: BTreeSet<StationId> = job
        .log()
        .iter()
        .filter(|step| step.outcome.refused.is_none())
        .filter_map(|step| if let Action::OpenTape(id) = step.action { Some(id) } else { None })
        .collect();
    let open = |id: StationId| Opened {
        station: vehicle.station(id).id.clone(),
        wires: wires_at(vehicle, id, palette),
    };
    places.into_iter().map(open).collect()
}

/// Places of the loom whose tape has not been opened.
pub(super) fn taped(vehicle: &Vehicle, opened: &[Opened]) -> BTreeSet<String> {
    let closed = vehicle.stations.iter().filter(|one| opened.iter().all(|open| open.station != one.id));
    closed.map(|station| station.id.clone()).collect()
}

/// The wires that run through a station, by their sheaths, as far as they are drawn.
pub(super) fn wires_at(vehicle: &Vehicle, station: StationId, palette: &Palette) -> Vec<LoomWire> {
    let runs_there = |conductor: &&Conductor| conductor.runs.iter().any(|run| run.station == Some(station));
    let here = vehicle.conductors.iter().filter(runs_there);
    here.take(LOOM)
        .map(|conductor| {
            let mut colours = conductor.colour.split('/');
            let base = palette.wire(colours.next().unwrap_or("BK"));
            LoomWire { base, stripe: colours.next().map(|letters| palette.wire(letters)) }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use probeworthy::bench::FuseWork;
    use probeworthy::job::{Choice, NoJournal};
    use probeworthy::vehicle::{FuseId, Zone};

    use super::super::scenery::drawn_names;
    use super::super::sync::{vehicles, wanted};
    use super::*;

    #[test]
    fn what_is_wrong_with_a_vehicle_leaves_the_picture_as_it_is() {
        let palette = Palette::load();
        for (id, scenario) in vehicles() {
            let anchors = Anchors::of(drawn_names(&id));
            for fault in &scenario.faults {
                let job = Job::new(Arc::clone(&scenario), 1, Choice::Named(fault.id.clone())).expect("a job");
                let shown = unplugged(&scenario.vehicle, job.scene().mated(), &anchors);
                assert!(shown.is_empty(), "{id}: `{}` shows {shown:?}", fault.id);
                let out = fuses_out(&scenario.vehicle, job.scene());
                assert!(out.is_empty(), "{id}: `{}` shows {out:?}", fault.id);
                assert!(opened(&job, &palette).is_empty(), "{id}: `{}`", fault.id);
            }
        }
    }

    #[test]
    fn a_fuse_that_is_pulled_and_a_tape_that_is_opened_are_shown() {
        let palette = Palette::load();
        let mut opened_on = 0;
        for (id, scenario) in vehicles() {
            let vehicle = &scenario.vehicle;
            let mut job = Job::new(Arc::clone(&scenario), 1, Choice::Drawn).expect("a job");
            let act = |job: &mut Job, act: Action| {
                let refused = job.apply(act.clone(), &mut NoJournal).expect("it is done").outcome.refused;
                assert!(refused.is_none(), "{id}: {act:?} is refused: {refused:?}");
            };
            let in_cabin = |fuse: &FuseId| vehicle.fuse(*fuse).reach.zone == Zone::Cabin;
            let fuse = (0..vehicle.fuses.len()).map(FuseId::at).find(in_cabin).expect("a fuse in the cabin");
            act(&mut job, Action::Fuse(fuse, FuseWork::Pull));
            assert_eq!(fuses_out(vehicle, job.scene()), [vehicle.fuse(fuse).id.clone()].into(), "{id}");
            act(&mut job, Action::Fuse(fuse, FuseWork::PutBack));
            assert!(fuses_out(vehicle, job.scene()).is_empty(), "{id}");
            let outside = |id: &StationId| {
                let reach = vehicle.station(*id).reach;
                reach.zone == Zone::Outside && reach.panel.is_none()
            };
            if let Some(station) = (0..vehicle.stations.len()).map(StationId::at).find(outside) {
                act(&mut job, Action::OpenTape(station));
                let shown = opened(&job, &palette);
                assert_eq!(shown.len(), 1, "{id}");
                assert_eq!(shown[0].station, vehicle.station(station).id);
                assert!(!shown[0].wires.is_empty() && shown[0].wires.len() <= LOOM, "{id}");
                opened_on += 1;
            }
        }
        assert!(opened_on > 3, "loops of the loom outside have gone");
    }

    #[test]
    fn every_connector_at_the_rear_is_seen_apart_and_none_that_is_out_of_sight() {
        for (id, scenario) in vehicles() {
            let vehicle = &scenario.vehicle;
            let anchors = Anchors::of(drawn_names(&id));
            for (at, connector) in vehicle.connectors.iter().enumerate() {
                let mated: Vec<bool> = (0..vehicle.connectors.len()).map(|one| one != at).collect();
                let shown = unplugged(vehicle, &mated, &anchors);
                let at_rear = matches!(connector.reach.zone, Zone::Outside | Zone::LoadSpace | Zone::Lid);
                let named: Vec<&String> = shown.keys().collect();
                if at_rear {
                    assert_eq!(named, [&connector.id], "{id}");
                } else {
                    assert!(named.is_empty() || named == [&connector.id], "{id}: {}", connector.id);
                }
            }
        }
    }

    #[test]
    fn what_is_drawn_only_while_it_is_together_is_on_the_vehicle() {
        for (id, scenario) in vehicles() {
            let vehicle = &scenario.vehicle;
            let drawn = drawn_names(&id);
            let fuses =
                vehicle.fuses.iter().filter(|fuse| !matches!(fuse.reach.zone, Zone::Cabin | Zone::Front));
            for fuse in fuses {
                assert!(
                    drawn.contains(&format!("fuse.{}", fuse.id)),
                    "{id} does not draw the fuse {}",
                    fuse.id
                );
            }
            // What is drawn only while it is plugged is a connector that has a place to be seen apart.
            let places = wanted(vehicle);
            for name in &drawn {
                if let Some(connector) = name.strip_prefix("mated.") {
                    let place = places.iter().find(|place| place.name == connector);
                    let names = place.map(|place| place.or.iter().chain([&place.name]).collect::<Vec<_>>());
                    let apart = format!("{connector}-apart");
                    let found = drawn.contains(&apart)
                        || names.is_some_and(|names| names.iter().any(|one| drawn.contains(*one)));
                    assert!(found, "{id} draws `{name}`, but not where it is apart");
                    assert!(vehicle.connectors.iter().any(|one| one.id == connector), "{id}: `{name}`");
                }
                if let Some(connector) = name.strip_suffix("-apart") {
                    assert!(vehicle.connectors.iter().any(|one| one.id == connector), "{id}: `{name}`");
                }
                if let Some(fuse) = name.strip_prefix("fuse.") {
                    assert!(vehicle.fuses.iter().any(|one| one.id == fuse), "{id}: `{name}`");
                }
                if let Some(panel) = name.strip_prefix("panel.") {
                    assert!(vehicle.panels.iter().any(|one| one.id == panel), "{id}: `{name}`");
                }
            }
        }
    }
}
