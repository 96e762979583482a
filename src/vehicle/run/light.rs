//! How bright lamps are.

use super::across;
use crate::circuit::{Electrical, Filament, Instant, OperatingPoint};
use crate::vehicle::deviation::Deviation;
use crate::vehicle::ids::PartId;
use crate::vehicle::model::Vehicle;
use crate::vehicle::part::PartKind;
use crate::vehicle::state::PhysicalState;
use crate::vehicle::wiring::{Wiring, led_short};

/// The light of every lamp, in the order of [`Vehicle::lamps`], as a fraction of its light at the battery's full voltage:
/// a filament's by the heat that it has, a lamp of diodes' by its current.
#[must_use]
pub fn lights(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &impl Electrical,
) -> Vec<f64> {
    let ohms = |id: PartId| {
        if state.has(|d| *d == Deviation::LampOpen(id)) { 0.0 } else { state.part(id).filament_ohms }
    };
    let lamps = vehicle.lamps().zip(wiring.full_lights());
    let mut lights = Vec::with_capacity(wiring.full_lights().len());
    lights.extend(lamps.map(|(id, full)| light(vehicle, wiring, state, point, id, ohms(id)) / full));
    lights
}

/// The same at an instant in which filaments warm and cool.
pub(super) fn moving_lights(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    now: &Instant<'_>,
) -> Vec<f64> {
    let ohms = |id: PartId| now.memory(wiring.lamp_branch(id)).map_or(0.0, |memory| memory.ohms);
    let lamps = vehicle.lamps().zip(wiring.full_lights());
    let mut lights = Vec::with_capacity(wiring.full_lights().len());
    lights.extend(lamps.map(|(id, full)| light(vehicle, wiring, state, now, id, ohms(id)) / full));
    lights
}

/// A lamp's light as a fraction of its rated light.
fn light(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &impl Electrical,
    id: PartId,
    filament_ohms: f64,
) -> f64 {
    match &vehicle.part(id).kind {
        PartKind::Lamp { filament, .. } => filament.light_of_ohms(filament_ohms),
        // Current that goes past its string gives no light.
        PartKind::Led(_) if led_short(state, id).is_some() => 0.0,
        PartKind::Led(led) => led.light(point.amps(wiring.lamp_branch(id))),
        _ => 0.0,
    }
}

/// The same at the battery's full voltage; 1 for what is no lamp.
pub(in crate::vehicle) fn full_light(vehicle: &Vehicle, id: PartId) -> f64 {
    let full = vehicle.battery.open_volts;
    match &vehicle.part(id).kind {
        PartKind::Lamp { filament, .. } => filament.light(full),
        PartKind::Led(led) => (full - led.drop_volts) / (led.rated_volts - led.drop_volts),
        _ => 1.0,
    }
}

/// A filament's resistance at rest, in ohms.
pub(super) fn filament_ohms(wiring: &Wiring, point: &OperatingPoint, id: PartId, filament: &Filament) -> f64 {
    filament.ohms(across(wiring, point, wiring.lamp_branch(id)))
}
