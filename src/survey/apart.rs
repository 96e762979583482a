//! Which faults no available test tells apart, and what would.

use std::collections::BTreeMap;

use super::confirm::perform;
use crate::bench::{
    Action, Certain, ClampPlace, FuseWork, InstrumentErrors, Lead, MeterSetting, Place, minutes, price,
};
use crate::circuit::Unsolved;
use crate::fault::{Component, PlacedFault};
use crate::reasoning::{Inquiry, Shows, Stand, SuspectKind, classes, price_minutes};
use crate::vehicle::{ConductorId, ConnectorId, End, Half, Point, Reach, StationId, Vehicle};

/// Shares of chance that differ by less than this are the same.
const SHARES_ALIKE: f64 = 1e-9;

/// Faults that no available test tells apart although they need different repairs.
#[derive(Clone, Debug, PartialEq)]
pub struct Inseparable {
    /// Which, by their positions in the pool.
    pub faults: Vec<usize>,
    /// What would tell.
    pub by: Separator,
}

/// What would tell apart faults that no available test does.
#[derive(Clone, Debug, PartialEq)]
pub enum Separator {
    /// A test that is not among those that were counted, act by act.
    Test(Vec<Action>),
    /// Only mending one of them, and trying again.
    Repair(Vec<Action>),
}

/// Suspects in sets of which all tests show the same, each in order; the sets in the order of their first members.
pub(super) fn alike(inquiry: &Inquiry) -> Vec<Vec<usize>> {
    let mut sets: BTreeMap<Vec<(u32, u16, u64)>, Vec<usize>> = BTreeMap::new();
    let foreseen = &inquiry.outlook().foreseen;
    for (suspect, one) in inquiry.suspects().list().iter().enumerate() {
        if one.kind == SuspectKind::Outside {
            continue;
        }
        let mut signature = Vec::with_capacity(foreseen.len());
        for (test, column) in (0..).zip(foreseen) {
            signature.extend(
                column.of(suspect).map(|(share, class)| (test, class, (share / SHARES_ALIKE).round() as u64)),
            );
        }
        signature.sort_unstable();
        sets.entry(signature).or_default().push(suspect);
    }
    let mut sets: Vec<Vec<usize>> = sets.into_values().collect();
    sets.sort();
    sets
}

/// The sets in which different repairs are needed, each with what would tell.
pub(super) fn inseparable(inquiry: &Inquiry, sets: &[Vec<usize>]) -> Result<Vec<Inseparable>, Unsolved> {
    let mut found = Vec::new();
    for set in sets {
        let faults: Vec<usize> = set
            .iter()
            .filter_map(|&at| match inquiry.suspects().list()[at].kind {
                SuspectKind::Pool(fault) => Some(fault),
                SuspectKind::Sound | SuspectKind::Outside => None,
            })
            .collect();
        let group = |fault: usize| inquiry.groups()[fault];
        if faults.iter().any(|&fault| group(fault) != group(faults[0])) {
            let by = separator(inquiry, &faults)?;
            found.push(Inseparable { faults, by });
        }
    }
    Ok(found)
}

/// The cheapest test beyond the menu that tells two of them apart that need different repairs; else the repair with the
/// best odds for its cost.
fn separator(inquiry: &Inquiry, faults: &[usize]) -> Result<Separator, Unsolved> {
    let scenario = inquiry.scenario();
    let vehicle = &scenario.vehicle;
    let sound = inquiry.outlook().rest();
    let rest = Stand::of(vehicle, sound);
    let cost = |acts: &[Action]| acts.iter().map(|act| minutes(vehicle, sound, act)).sum::<f64>();
    let commands: Vec<Action> = scenario.trials.iter().map(|trial| trial.act()).collect();
    let mut tests: Vec<Vec<Action>> = Vec::new();
    for &fault in faults {
        for test in beyond_the_menu(vehicle, &rest, &scenario.faults[fault], &commands) {
            if !tests.contains(&test) {
                tests.push(test);
            }
        }
    }
    tests.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
    for test in tests {
        let mut shown = Vec::with_capacity(faults.len());
        for &fault in faults {
            shown.push(shows(inquiry, &scenario.faults[fault], &test)?);
        }
        let sorted = classes(&shown.iter().collect::<Vec<_>>());
        let telling = (0..faults.len())
            .any(|at| inquiry.groups()[faults[at]] != inquiry.groups()[faults[0]] && sorted[at] != sorted[0]);
        if telling {
            return Ok(Separator::Test(test));
        }
    }
    let bet = |fault: usize| {
        let acts = inquiry.remedies()[inquiry.groups()[fault]].acts_from(vehicle, &rest);
        let parts: f64 = acts.iter().map(|act| f64::from(price(vehicle, act))).sum();
        let spent = cost(&acts) + price_minutes(parts);
        (scenario.faults[fault].weight as f64 / spent.max(f64::MIN_POSITIVE), acts)
    };
    let bets = faults.iter().map(|&fault| bet(fault));
    let best = bets.reduce(|best, next| if next.0 > best.0 { next } else { best });
    Ok(Separator::Repair(best.map_or_else(Vec::new, |(_, acts)| acts)))
}

/// What a test shows with a fault, from a vehicle as it comes in.
fn shows(inquiry: &Inquiry, fault: &PlacedFault, test: &[Action]) -> Result<Shows, Unsolved> {
    let scenario = inquiry.scenario();
    let vehicle = &scenario.vehicle;
    let sound = inquiry.outlook().rest();
    let mut world = sound.beside(vehicle, Some(fault), InstrumentErrors::NONE, scenario.conditions)?;
    world.arrive(vehicle, &mut Certain)?;
    let mut shows = Shows::default();
    for act in test {
        let before = world.display();
        shows.add(&perform(scenario, &mut world, act)?, before);
    }
    Ok(shows)
}

/// Tests of kinds that the menu does not have, at the places where a fault sits: the clamp on its wire and the meter on
/// its cavities during each trial, warmth, cold, a knock; and close looks at all that it touches.
fn beyond_the_menu(
    vehicle: &Vehicle,
    rest: &Stand,
    fault: &PlacedFault,
    commands: &[Action],
) -> Vec<Vec<Action>> {
    let mut tests = Vec::new();
    let mut add = |reach: Option<Reach>, open: Option<ConnectorId>, acts: Vec<Action>| {
        let stand = reach.map_or_else(|| rest.clone(), |reach| rest.reaching(vehicle, reach, false));
        let stand = open.map_or_else(|| stand.clone(), |connector| stand.without(connector));
        let mut test = rest.acts_to(vehicle, &stand);
        test.extend(acts);
        tests.push(test);
    };
    let and_commands =
        |first: Action| -> Vec<Action> { std::iter::once(first).chain(commands.iter().cloned()).collect() };
    add(None, None, and_commands(Action::Clamp(Some(ClampPlace::BatteryPlus))));
    let mut stations: Vec<StationId> = Vec::new();
    let mut cavities: Vec<(ConnectorId, Half, u8)> = Vec::new();
    let mut of_conductor = |conductor: ConductorId| {
        let conductor = vehicle.conductor(conductor);
        stations.extend(conductor.runs.iter().filter_map(|run| run.station));
        for end in [conductor.from, conductor.to] {
            if let End::Cavity(connector, half, cavity) = end {
                cavities.push((connector, half, cavity));
            }
        }
    };
    match fault.diagnosis.component {
        Component::Conductor(id) => {
            of_conductor(id);
            for run in &vehicle.conductor(id).runs {
                if let Some(station) = run.station {
                    let reach = Some(vehicle.station(station).reach);
                    let place = ClampPlace::Station(id, station);
                    add(reach, None, and_commands(Action::Clamp(Some(place))));
                }
            }
        }
        Component::Connector(id) => {
            let count = vehicle.connector(id).cavities;
            cavities.extend((1..=count).map(|cavity| (id, Half::Loom, cavity)));
        }
        Component::Part(id) => {
            let part = vehicle.part(id);
            let count = vehicle.connector(part.connector).cavities;
            cavities.extend((1..=count).map(|cavity| (part.connector, Half::Loom, cavity)));
            for first in [Action::Tap(id), Action::Warm(Place::Part(id)), Action::Cool(Place::Part(id))] {
                add(Some(part.reach), None, and_commands(first));
            }
        }
        Component::Fuse(id) => {
            add(Some(vehicle.fuse(id).reach), None, vec![Action::Fuse(id, FuseWork::Look)]);
        }
        Component::Stud(id) => add(Some(vehicle.stud(id).reach), None, vec![Action::LookAtStud(id)]),
        Component::Key | Component::Battery | Component::Lockout => {}
    }
    for station in stations {
        let reach = Some(vehicle.station(station).reach);
        add(reach, None, vec![Action::OpenTape(station)]);
        for first in [
            Action::Flex(station),
            Action::Warm(Place::Station(station)),
            Action::Cool(Place::Station(station)),
        ] {
            add(reach, None, and_commands(first));
        }
    }
    for (connector, half, cavity) in cavities {
        let reach = Some(vehicle.connector(connector).reach);
        add(reach, Some(connector), vec![Action::LookAt(connector)]);
        if half == Half::Loom && vehicle.conductor_in(connector, half, cavity).is_some() {
            add(reach, None, vec![Action::Tug(connector, cavity)]);
            for command in commands {
                let watched = vec![
                    Action::Meter(MeterSetting::Volts),
                    Action::Probe(Lead::Black, Some(Point::Body)),
                    Action::Probe(Lead::Red, Some(Point::Cavity(connector, half, cavity))),
                    Action::Capture(true),
                    command.clone(),
                ];
                add(reach, None, watched);
            }
            add(reach, None, and_commands(Action::Clamp(Some(ClampPlace::Cavity(connector, half, cavity)))));
        }
    }
    tests
}
