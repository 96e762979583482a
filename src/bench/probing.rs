//! Hands on the instruments: leads, clamp and recorder.

use super::action::{ClampPlace, Lead};
use super::chance::Chance;
use super::clamp::Clamp;
use super::outcome::{Outcome, Refusal, Seen};
use super::step::{Done, reach, report_change, touch};
use super::world::World;
use crate::circuit::Unsolved;
use crate::vehicle::{Half, Point, Vehicle};

/// How often a hasty lead lands on a neighbour of the cavity that was meant (the figure is ours, no source).
const SLIPS: f64 = 0.15;

/// Puts a lead on a point or takes it off; hastily, it may slip.
pub(super) fn probe(
    vehicle: &Vehicle,
    world: &mut World,
    lead: Lead,
    point: Option<Point>,
    hasty: Option<&mut dyn Chance>,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if let Some(point) = point
        && let Err(refusal) = touch(vehicle, world, point)
    {
        return Ok(Err(refusal));
    }
    let slipped = match (point, hasty) {
        (Some(point), Some(chance)) => slip(vehicle, world, point, chance),
        _ => None,
    };
    let before = world.rest.clone();
    let meter = &mut world.kit.meter;
    meter.put(lead, point, slipped);
    meter.held = None;
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

/// Where a hasty lead lands instead, if it slips: on a neighbour that can be touched as well.
fn slip(vehicle: &Vehicle, world: &World, point: Point, chance: &mut dyn Chance) -> Option<Point> {
    let Point::Cavity(connector, half, cavity) = point else { return None };
    let neighbours: Vec<Point> = [cavity.checked_sub(1), cavity.checked_add(1)]
        .into_iter()
        .flatten()
        .map(|cavity| Point::Cavity(connector, half, cavity))
        .filter(|&neighbour| touch(vehicle, world, neighbour).is_ok())
        .collect();
    if neighbours.is_empty() || !chance.happens(SLIPS) {
        return None;
    }
    let second = neighbours.len() > 1 && chance.happens(0.5);
    Some(neighbours[usize::from(second)])
}

/// Looks at where the meter's leads really are; from then on that is known.
pub(super) fn look_at_probes(world: &mut World, outcome: &mut Outcome) {
    for lead in [Lead::Red, Lead::Black] {
        if let Some(point) = world.kit.meter.touches(lead) {
            world.kit.meter.put(lead, Some(point), None);
            outcome.seen.push(Seen::Probe(lead, point));
        }
    }
}

/// Closes the clamp round a place or takes it off.
pub(super) fn clamp(
    vehicle: &Vehicle,
    world: &mut World,
    place: Option<ClampPlace>,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    match place {
        None if world.kit.clamp.is_none() => return Ok(Err(Refusal::AlreadySo)),
        None => world.kit.clamp = None,
        Some(place) => {
            if let Err(refusal) = can_clamp(vehicle, world, place) {
                return Ok(Err(refusal));
            }
            world.kit.clamp = Some(Clamp::new(place, 2.0 * chance.fraction() - 1.0));
        }
    }
    let before = world.rest.clone();
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

fn can_clamp(vehicle: &Vehicle, world: &World, place: ClampPlace) -> Done {
    match place {
        ClampPlace::Station(conductor, station) => {
            reach(vehicle, world, vehicle.station(station).reach)?;
            vehicle.conductor(conductor).piece_at(station).map(|_| ()).ok_or(Refusal::ConductorNotHere)
        }
        ClampPlace::Cavity(connector, half, cavity) => {
            let file = vehicle.connector(connector);
            reach(vehicle, world, file.reach)?;
            let wired = vehicle.conductor_in(connector, half, cavity).is_some();
            if wired { Ok(()) } else { Err(Refusal::EmptyCavity) }
        }
        ClampPlace::BatteryPlus => reach(vehicle, world, vehicle.battery.reach),
    }
}

/// Puts the recorder's leads on two points, or takes them off.
pub(super) fn recorder_leads(
    vehicle: &Vehicle,
    world: &mut World,
    ends: Option<(Point, Point)>,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    match ends {
        None if world.kit.recorder.leads.is_none() => return Ok(Err(Refusal::AlreadySo)),
        None => {}
        Some((plus, minus)) if plus == minus => return Ok(Err(Refusal::SamePoint)),
        Some((plus, minus)) => {
            for point in [plus, minus] {
                if let Err(refusal) = touch(vehicle, world, point) {
                    return Ok(Err(refusal));
                }
            }
        }
    }
    world.kit.recorder.leads = ends;
    let before = world.rest.clone();
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

/// Arms the recorder or disarms it.
pub(super) fn arm(world: &mut World, armed: bool) -> Done {
    let ready = world.kit.recorder.leads.is_some() || world.kit.clamp.is_some();
    if world.kit.recorder.armed == armed {
        Err(Refusal::AlreadySo)
    } else if armed && !ready {
        Err(Refusal::RecorderNotReady)
    } else {
        world.kit.recorder.armed = armed;
        Ok(())
    }
}

/// Whether a lead on this point goes into the front of an open connector's own terminal, where a tip that is too big
/// spreads its spring.
pub(super) fn is_front_of_terminal(vehicle: &Vehicle, world: &World, point: Point) -> bool {
    match point {
        // Of two looms' halves the body's holds the springs, and the other the blades that go into them.
        Point::Cavity(connector, Half::Loom, _) => {
            !world.state.is_mated(connector) && vehicle.is_loom_half(connector, Half::Loom)
        }
        _ => false,
    }
}
