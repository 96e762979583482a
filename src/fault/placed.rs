//! A fault in its place: what it changes on the vehicle, and how it is named.

use super::diagnosis::{Component, Diagnosis};
use crate::vehicle::{Deviation, FuseBody, FuseId, PartId, PhysicalState, Vehicle, When};

/// Something that a fault leaves changed from the start, and that a repair of the fault does not by itself undo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// This fuse has blown.
    FuseBlown(FuseId),
    /// A fuse of this rating sits in the slot; it has blown or not.
    FuseRating(FuseId, u8),
    /// The lid's release is locked out.
    Lockout,
    /// This switch was left on.
    LeftOn(PartId),
}

/// A fault of a scenario's pool.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedFault {
    /// Its name in files and records, made from what it is.
    pub id: String,
    /// What physically differs.
    pub deviations: Vec<Deviation>,
    /// What it has left changed.
    pub changes: Vec<Change>,
    /// How a person would name it.
    pub diagnosis: Diagnosis,
    /// How likely it is, against the others of its pool.
    pub weight: u64,
}

impl PlacedFault {
    /// The vehicle with this fault, as it stands in the yard.
    #[must_use]
    pub fn stands(&self, vehicle: &Vehicle) -> PhysicalState {
        let mut state = PhysicalState::sound(vehicle);
        for &deviation in &self.deviations {
            state.deviate(deviation);
        }
        for &change in &self.changes {
            match change {
                Change::FuseBlown(fuse) => {
                    if let Some(body) = &mut state.fuses[fuse.index()].fitted {
                        body.blown = true;
                    }
                }
                Change::FuseRating(fuse, rating) => {
                    state.fuses[fuse.index()].fitted = Some(FuseBody::new(rating));
                }
                Change::Lockout => state.lockout = true,
                Change::LeftOn(part) => state.on[part.index()] = true,
            }
        }
        state
    }

    /// Whether it can be named on this component: on either of two conductors that touch.
    #[must_use]
    pub fn sits_on(&self, component: Component) -> bool {
        component == self.diagnosis.component
            || self.deviations.iter().any(|deviation| {
                matches!(*deviation, Deviation::Between { other, .. } if component == Component::Conductor(other))
            })
    }

    /// Whether a diagnosis means it: component, kind and place.
    #[must_use]
    pub fn is_meant_by(&self, diagnosis: &Diagnosis) -> bool {
        self.diagnosis.kind == diagnosis.kind
            && self.diagnosis.spot == diagnosis.spot
            && self.sits_on(diagnosis.component)
    }

    /// Whether it comes and goes.
    #[must_use]
    pub fn is_intermittent(&self) -> bool {
        self.deviations.iter().any(|deviation| deviation.when() != When::Always)
    }
}
