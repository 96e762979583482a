//! Acts that provoke what comes and goes: waiting, knocking, water, warmth and cold.

use super::action::{LONGEST_WAIT_MINUTES, Place};
use super::chance::Chance;
use super::outcome::{Outcome, Refusal, Seen};
use super::step::{Done, reach, report_change};
use super::world::World;
use crate::circuit::Unsolved;
use crate::vehicle::{Deviation, Half, PartId, Vehicle, When};

/// What a heat gun, held off, and a cold spray bring a place to, in °C (common practice, no source).
const WARMED_CELSIUS: f64 = 75.0;
const COOLED_CELSIUS: f64 = -25.0;

/// Waits: time has passed already when this is done.
pub(super) fn wait(
    vehicle: &Vehicle,
    world: &mut World,
    minutes: u8,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if !(1..=LONGEST_WAIT_MINUTES).contains(&minutes) {
        return Ok(Err(Refusal::NoSuchWait));
    }
    see(vehicle, world, outcome)
}

/// Knocks on a part: what touches when it likes in it, in its connector and in the wire next to that, settles anew.
pub(super) fn tap(
    vehicle: &Vehicle,
    world: &mut World,
    part: PartId,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if let Err(refusal) = reach(vehicle, world, vehicle.part(part).reach) {
        return Ok(Err(refusal));
    }
    for one in &mut world.state.deviations {
        if let When::Shaken(share) | When::Turned(share) = one.deviation.when()
            && is_next_to(vehicle, &one.deviation, part)
        {
            one.present = chance.happens(share);
        }
    }
    see(vehicle, world, outcome)
}

/// Whether a deviation feels a knock on a part.
fn is_next_to(vehicle: &Vehicle, deviation: &Deviation, part: PartId) -> bool {
    let connector = vehicle.part(part).connector;
    let ends_there = deviation.piece().is_some_and(|(conductor, piece)| {
        let file = vehicle.conductor(conductor);
        let at = |end: crate::vehicle::End| {
            matches!(end, crate::vehicle::End::Cavity(id, Half::Loom, _) if id == connector)
        };
        (piece == 0 && at(file.from)) || (piece + 1 == file.runs.len() && at(file.to))
    });
    deviation.part() == Some(part) || deviation.connector() == Some(connector) || ends_there
}

/// Wets the vehicle's rear, or blows it dry.
pub(super) fn wet(
    vehicle: &Vehicle,
    world: &mut World,
    wet: bool,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if !wet && !world.state.wet {
        return Ok(Err(Refusal::AlreadySo));
    }
    world.state.make_wet(wet);
    outcome.seen.push(Seen::Wet(wet));
    see(vehicle, world, outcome)
}

/// Warms or cools a place; what sits there follows for some minutes.
pub(super) fn bring(
    vehicle: &Vehicle,
    world: &mut World,
    place: Place,
    warm: bool,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    let there = match place {
        Place::Station(station) => vehicle.station(station).reach,
        Place::Connector(connector) => vehicle.connector(connector).reach,
        Place::Part(part) => vehicle.part(part).reach,
    };
    if let Err(refusal) = reach(vehicle, world, there) {
        return Ok(Err(refusal));
    }
    let celsius = if warm { WARMED_CELSIUS } else { COOLED_CELSIUS };
    world.state.bring_to(celsius, |deviation| match place {
        Place::Station(station) => deviation.piece().is_some_and(|(conductor, piece)| {
            vehicle.conductor(conductor).runs[piece].station == Some(station)
        }),
        Place::Connector(connector) => deviation.connector() == Some(connector),
        Place::Part(part) => deviation.part() == Some(part),
    });
    see(vehicle, world, outcome)
}

/// Lets all come to rest and tells what has changed.
fn see(vehicle: &Vehicle, world: &mut World, outcome: &mut Outcome) -> Result<Done, Unsolved> {
    let before = world.rest.clone();
    let phases = world.settle(vehicle)?;
    if outcome.seen.is_empty() {
        outcome.seen.push(Seen::Done);
    }
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}
