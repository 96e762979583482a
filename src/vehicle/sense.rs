//! What modules make of the voltages at their pins.

use super::deviation::Deviation;
use super::ids::PartId;
use super::model::Vehicle;
use super::part::{Effect, PartKind, Pull, Trigger};
use super::point::{Half, Point};
use super::state::PhysicalState;
use super::wiring::Wiring;
use crate::circuit::Electrical;

/// Outputs that rules keep on because of how a module takes its inputs.
#[must_use]
pub fn held_outputs(vehicle: &Vehicle, state: &PhysicalState) -> Vec<(PartId, usize)> {
    let mut held = Vec::new();
    for (part, module) in vehicle.modules().filter(|(part, _)| state.part(*part).works) {
        for rule in &module.rules {
            if let (Trigger::While(input), Effect::Hold { output }) = (rule.on, rule.effect)
                && is_away(vehicle, state, part, input)
            {
                held.push((part, output));
            }
        }
    }
    held
}

/// Whether a module takes an input to be away from where it is pulled.
#[must_use]
pub fn is_away(vehicle: &Vehicle, state: &PhysicalState, part: PartId, input: usize) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    let low = state.part(part).low[input];
    match module.inputs[input].pull {
        Pull::Up => low,
        Pull::Down => !low,
    }
}

/// Whether an input's voltage is low, between the thresholds what it was.
pub(super) fn reads_low(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &impl Electrical,
    part: PartId,
    input: usize,
) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    let line = &module.inputs[input];
    let rests_low = line.pull == Pull::Down;
    if state.has(|deviation| *deviation == Deviation::InputDeaf(part, input)) {
        return rests_low;
    }
    let volts = pin_volts(vehicle, wiring, point, part, line.pin);
    volts < line.low_below_volts || (state.part(part).low[input] && volts < line.high_above_volts)
}

/// Whether a module has the supply that it needs.
pub(crate) fn module_works(
    vehicle: &Vehicle,
    wiring: &Wiring,
    point: &impl Electrical,
    part: PartId,
) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    pin_volts(vehicle, wiring, point, part, module.supply) > module.works_above_volts
}

/// A module's pin against its ground, in volts.
pub(super) fn pin_volts(
    vehicle: &Vehicle,
    wiring: &Wiring,
    point: &impl Electrical,
    part: PartId,
    pin: u8,
) -> f64 {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return 0.0 };
    let volts =
        |pin: u8| point.volts(wiring.node(Point::Cavity(vehicle.part(part).connector, Half::Mate, pin)));
    volts(pin) - volts(module.ground)
}
