//! What the worlds of one vehicle share: circuits as they have been laid out and prepared, and a sound vehicle's day. All of it
//! follows from the vehicle alone, so that it saves time and changes nothing.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::circuit::{LoadedWhenNeeded, Node};
use crate::vehicle::{Conditions, PhysicalState, Vehicle, Wiring};

/// Circuits prepared for loads that are kept at most; each is some tens of kilobytes.
const MOST_PREPARED: usize = 512;

/// What the worlds of one vehicle share.
#[derive(Default)]
pub(super) struct Shared {
    /// The first is the one that most have: nothing is wrong with it that its topology feels.
    wirings: Mutex<Vec<Arc<Wiring>>>,
    /// The first wiring prepared for loads, by the nodes that these are on.
    prepared: Mutex<Prepared>,
    /// How a sound vehicle's lamps shine through a customer's day, by the conditions.
    days: Mutex<Vec<(Conditions, Arc<Day>)>>,
}

/// A memory of work done, and no part of how a vehicle stands.
impl fmt::Debug for Shared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Shared")
    }
}

/// By the nodes that loads are on, a circuit prepared for them.
type Prepared = BTreeMap<Vec<(Node, Node)>, Arc<LoadedWhenNeeded>>;

/// By what the customer does, the light of every lamp.
pub(super) type Day = Vec<Vec<f64>>;

/// A list is whole whatever became of the thread that held it last.
fn locked<T>(list: &Mutex<T>) -> MutexGuard<'_, T> {
    list.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Shared {
    /// The circuit of the vehicle in this state: only the list of what is wrong counts.
    pub(super) fn wiring(&self, vehicle: &Vehicle, state: &PhysicalState) -> Arc<Wiring> {
        let known = |wirings: &[Arc<Wiring>]| wirings.iter().find(|one| one.fits(state)).cloned();
        if let Some(wiring) = known(&locked(&self.wirings)) {
            return wiring;
        }
        let wiring = Arc::new(Wiring::new(vehicle, state));
        // What is built in for one fault alone is of no use to others.
        if wiring.is_plain() {
            let mut wirings = locked(&self.wirings);
            if let Some(wiring) = known(&wirings) {
                return wiring;
            }
            wirings.push(Arc::clone(&wiring));
        }
        wiring
    }

    /// A circuit prepared for loads on these nodes.
    pub(super) fn prepared(&self, wiring: &Wiring, ends: Vec<(Node, Node)>) -> Arc<LoadedWhenNeeded> {
        if !wiring.is_plain() {
            return Arc::new(LoadedWhenNeeded::on(ends));
        }
        let mut prepared = locked(&self.prepared);
        if let Some(known) = prepared.get(&ends) {
            return Arc::clone(known);
        }
        let fresh = Arc::new(LoadedWhenNeeded::on(ends.clone()));
        if prepared.len() < MOST_PREPARED {
            prepared.insert(ends, Arc::clone(&fresh));
        }
        fresh
    }

    /// A sound vehicle's day in these conditions; `play` plays it where it has not been played yet.
    pub(super) fn day<E>(
        &self,
        conditions: Conditions,
        play: impl FnOnce() -> Result<Day, E>,
    ) -> Result<Arc<Day>, E> {
        let known = |days: &[(Conditions, Arc<Day>)]| {
            days.iter().find(|(known, _)| *known == conditions).map(|(_, day)| Arc::clone(day))
        };
        if let Some(day) = known(&locked(&self.days)) {
            return Ok(day);
        }
        let day = Arc::new(play()?);
        let mut days = locked(&self.days);
        if known(&days).is_none() {
            days.push((conditions, Arc::clone(&day)));
        }
        Ok(day)
    }
}
