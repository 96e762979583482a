//! Which cavity of a connector each wire sits in: numbers change, and all that hangs on them with them.

use rand_chacha::ChaCha8Rng;

use super::shuffle;
use crate::fault::{Component, PlacedFault, Spot};
use crate::scenario::Scenario;
use crate::vehicle::{ConnectorId, Deviation, End, PartKind, Vehicle};

/// By old number, the new one. The first entry stands for no cavity.
type Numbers = Vec<u8>;

pub(super) fn vary(scenario: &mut Scenario, chance: &mut ChaCha8Rng) {
    for at in 0..scenario.vehicle.connectors.len() {
        let connector = ConnectorId::at(at);
        let numbers = drawn(&scenario.vehicle, connector, chance);
        renumber(&mut scenario.vehicle, connector, &numbers);
        for fault in &mut scenario.faults {
            follow(fault, connector, &numbers);
        }
    }
}

/// Whether something else than the maker's habit says which wire sits in which cavity of a connector.
fn is_given(vehicle: &Vehicle, connector: ConnectorId) -> bool {
    vehicle.connector(connector).standard
        || vehicle.parts.iter().filter(|part| part.connector == connector).any(|part| {
            // A relay's terminals have numbers of their own (DIN 72552); the tabs of a screen are at its two ends.
            matches!(part.kind, PartKind::Relay(_) | PartKind::Screen(_))
        })
}

/// New numbers for a connector's cavities, drawn among those of the same size.
fn drawn(vehicle: &Vehicle, connector: ConnectorId, chance: &mut ChaCha8Rng) -> Numbers {
    let cavities = vehicle.connector(connector).cavities;
    let mut numbers: Numbers = (0..=cavities).collect();
    if is_given(vehicle, connector) {
        return numbers;
    }
    let large = |cavity: u8| vehicle.has_large_terminal(connector, cavity);
    for size in [false, true] {
        let alike: Vec<u8> = (1..=cavities).filter(|&cavity| large(cavity) == size).collect();
        let mut order = alike.clone();
        shuffle(&mut order, chance);
        for (&old, new) in alike.iter().zip(order) {
            numbers[usize::from(old)] = new;
        }
    }
    numbers
}

fn new(numbers: &[u8], old: &mut u8) {
    *old = numbers.get(usize::from(*old)).copied().unwrap_or(*old);
}

/// Wires and pins go to their new numbers.
fn renumber(vehicle: &mut Vehicle, connector: ConnectorId, numbers: &[u8]) {
    let ends = vehicle.conductors.iter_mut().flat_map(|conductor| [&mut conductor.from, &mut conductor.to]);
    for end in ends {
        if let End::Cavity(at, _, cavity) = end
            && *at == connector
        {
            new(numbers, cavity);
        }
    }
    for part in vehicle.parts.iter_mut().filter(|part| part.connector == connector) {
        each_pin(&mut part.kind, |pin| new(numbers, pin));
    }
}

/// All pins of a part, whatever they are for.
fn each_pin(kind: &mut PartKind, mut change: impl FnMut(&mut u8)) {
    match kind {
        PartKind::Lamp { pins, .. }
        | PartKind::Switch { pins, .. }
        | PartKind::Diode { pins }
        | PartKind::Resistor { pins, .. }
        | PartKind::Motor { pins, .. } => {
            change(&mut pins.0);
            change(&mut pins.1);
        }
        PartKind::Led(led) => {
            change(&mut led.pins.0);
            change(&mut led.pins.1);
        }
        PartKind::Screen(screen) => {
            change(&mut screen.feed);
            change(&mut screen.ground);
        }
        PartKind::Relay(relay) => {
            let named = [&mut relay.coil.0, &mut relay.coil.1, &mut relay.common];
            named.into_iter().for_each(&mut change);
            [&mut relay.normally_open, &mut relay.normally_closed].into_iter().flatten().for_each(change);
        }
        PartKind::Latch(latch) => {
            let pins = [&mut latch.feed, &mut latch.ground, &mut latch.ajar, &mut latch.home];
            pins.into_iter().for_each(change);
        }
        PartKind::Module(module) => {
            change(&mut module.supply);
            change(&mut module.ground);
            module.inputs.iter_mut().for_each(|input| change(&mut input.pin));
            for output in &mut module.outputs {
                change(&mut output.feed);
                change(&mut output.pin);
            }
        }
    }
}

/// A fault in a terminal goes where its wire has gone.
fn follow(fault: &mut PlacedFault, connector: ConnectorId, numbers: &[u8]) {
    let mut crossed = None;
    for deviation in &mut fault.deviations {
        match deviation {
            Deviation::Contact { connector: at, cavity, .. }
            | Deviation::HalfSeated { connector: at, cavity }
                if *at == connector =>
            {
                new(numbers, cavity);
            }
            Deviation::Crossed { connector: at, first, second, .. } if *at == connector => {
                let before = *first.min(second);
                new(numbers, first);
                new(numbers, second);
                crossed = Some((before, *first.min(second)));
            }
            _ => {}
        }
    }
    for diagnosis in std::iter::once(&mut fault.diagnosis).chain(&mut fault.also) {
        if diagnosis.component != Component::Connector(connector) {
            continue;
        }
        if let Spot::Cavity(cavity) = &mut diagnosis.spot {
            match crossed {
                // Named at the lower of its two cavities.
                Some((before, after))
                    if diagnosis.kind == crate::fault::FaultKind::Crossed && *cavity == before =>
                {
                    *cavity = after;
                }
                _ => new(numbers, cavity),
            }
        }
    }
}
