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
#[derive(Clone, PartialEq)]
pub struct PlacedFault {
    /// Its name in files and records, made from what it is.
    pub id: String,
    /// What physically differs.
    pub deviations: Vec<Deviation>,
    /// What it has left changed.
    pub changes: Vec<Change>,
    /// How a person would name it.
    pub diagnosis: Diagnosis,
    /// How a person would name what else is wrong, where several faults are there at once.
    pub also: Vec<Diagnosis>,
    /// How likely it is, against the others of its pool.
    pub weight: u64,
}

/// What stands here decides a scenario's hash: a single fault is written as ever.
impl std::fmt::Debug for PlacedFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { id, deviations, changes, diagnosis, also, weight } = self;
        let mut all = f.debug_struct("PlacedFault");
        all.field("id", id).field("deviations", deviations).field("changes", changes);
        all.field("diagnosis", diagnosis);
        if !also.is_empty() {
            all.field("also", also);
        }
        all.field("weight", weight).finish()
    }
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

    /// All that is to be named: one diagnosis, or several where several faults are there at once.
    pub fn diagnoses(&self) -> impl Iterator<Item = Diagnosis> + '_ {
        std::iter::once(self.diagnosis).chain(self.also.iter().copied())
    }

    /// Whether it can be named on this component: on either of two conductors that touch.
    #[must_use]
    pub fn sits_on(&self, component: Component) -> bool {
        self.diagnoses().any(|one| self.names_on(one, component))
    }

    /// Whether one of its diagnoses can be named on this component.
    #[must_use]
    pub fn names_on(&self, diagnosis: Diagnosis, component: Component) -> bool {
        // Where two conductors touch, either names it; the first is in the diagnosis.
        component == diagnosis.component
            || self.deviations.iter().any(|deviation| match *deviation {
                Deviation::Between { conductor, other, .. } => {
                    component == Component::Conductor(other)
                        && diagnosis.component == Component::Conductor(conductor)
                }
                _ => false,
            })
    }

    /// Whether a diagnosis means it, or one of the things that are wrong: component, kind and place.
    #[must_use]
    pub fn is_meant_by(&self, diagnosis: &Diagnosis) -> bool {
        self.diagnoses().any(|one| {
            one.kind == diagnosis.kind
                && one.spot == diagnosis.spot
                && self.names_on(one, diagnosis.component)
        })
    }

    /// Whether it comes and goes.
    #[must_use]
    pub fn is_intermittent(&self) -> bool {
        self.deviations.iter().any(|deviation| deviation.when() != When::Always)
    }
}
