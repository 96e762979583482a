//! The current clamp: it is closed round a conductor, feels the current in it, and does not load the circuit.

use super::accuracy::{Accuracy, FunctionError};
use super::action::ClampPlace;
use super::display::shown_by_clamp;
use super::outcome::Display;
use crate::circuit::Branch;
use crate::vehicle::{ConductorId, End, PhysicalState, Vehicle, Wiring};

/// The greatest current that the clamp can feel, in amps.
pub(super) const CLAMP_MOST_AMPS: f64 = 60.0;

/// A current clamp that is closed round something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamp {
    /// Round what.
    pub place: ClampPlace,
    /// What its zero has drifted to since it was zeroed, in counts of 10 mA.
    pub(super) zero_counts: f64,
}

impl Clamp {
    /// Closed round a place; `draw`, from −1 to 1, says where its zero lies within what it may drift.
    pub(super) fn new(place: ClampPlace, draw: f64) -> Self {
        Self { place, zero_counts: FunctionError::drawn(Accuracy::CLAMP, &mut || draw).counts }
    }

    /// The branches whose currents it feels, and which way each counts: a conductor from its first end to its second, as the
    /// list of conductors has them; the battery's cable out of the post.
    pub(super) fn branches(
        &self,
        vehicle: &Vehicle,
        state: &PhysicalState,
        wiring: &Wiring,
    ) -> Vec<(Branch, f64)> {
        let last = |conductor: ConductorId| vehicle.conductor(conductor).runs.len() - 1;
        match self.place {
            ClampPlace::Station(conductor, station) => vehicle
                .conductor(conductor)
                .piece_at(station)
                .map(|piece| (wiring.piece_branch(conductor, piece), 1.0))
                .into_iter()
                .collect(),
            ClampPlace::Cavity(connector, half, cavity) => {
                let belongs = (1..=vehicle.connector(connector).cavities)
                    .find(|&belongs| state.sits_in(connector, half, belongs) == cavity);
                let end = belongs.map(|belongs| End::Cavity(connector, half, belongs));
                let wire = belongs.and_then(|belongs| vehicle.conductor_in(connector, half, belongs));
                wire.map(|wire| {
                    let near = if Some(vehicle.conductor(wire).from) == end { 0 } else { last(wire) };
                    (wiring.piece_branch(wire, near), 1.0)
                })
                .into_iter()
                .collect()
            }
            ClampPlace::BatteryPlus => (0..vehicle.conductors.len())
                .map(ConductorId::at)
                .filter_map(|id| match vehicle.conductor(id) {
                    conductor if conductor.from == End::BatteryPlus => {
                        Some((wiring.piece_branch(id, 0), 1.0))
                    }
                    conductor if conductor.to == End::BatteryPlus => {
                        Some((wiring.piece_branch(id, last(id)), -1.0))
                    }
                    _ => None,
                })
                .collect(),
        }
    }

    /// What its display shows of what it feels, with its gain off by a share.
    pub(super) fn display(&self, felt: f64, gain: f64) -> Display {
        shown_by_clamp(felt, FunctionError { gain, counts: self.zero_counts })
    }
}
