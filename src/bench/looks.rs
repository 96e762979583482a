//! Whether what a vehicle shows is what a sound one shows that stands the same.

use super::accuracy::InstrumentErrors;
use super::step::DARK;
use super::world::{Rest, World};
use crate::circuit::Unsolved;
use crate::vehicle::{Conditions, PartId, Vehicle};

/// Light or heat below which a customer notices that something is weak, as a fraction of what a sound vehicle gives.
pub(super) const WEAK: f64 = 0.6;
/// Light at which somebody notices that a lamp glows that should be dark, as a fraction of its full light (ours, no
/// source).
const GLOWS: f64 = 0.01;

impl World {
    /// Whether one of these lamps, motors and heated screens does not do what it does on a sound vehicle in these
    /// conditions, its lid and its switches standing as here.
    ///
    /// # Errors
    /// [`Unsolved`] where the sound vehicle has no operating point so.
    pub fn looks_odd(
        &self,
        vehicle: &Vehicle,
        conditions: Conditions,
        watch: &[PartId],
    ) -> Result<bool, Unsolved> {
        let mut sound = self.beside(vehicle, None, InstrumentErrors::NONE, conditions)?;
        sound.state.on.clone_from(&self.state.on);
        sound.state.claw_home = self.state.claw_home;
        sound.state.move_lid(self.state.lid);
        sound.settle(vehicle)?;
        Ok(watch.iter().any(|part| is_odd(&sound.rest, &self.rest, *part)))
    }
}

/// Whether a part is weak, off or wrongly on, against what a sound vehicle shows.
fn is_odd(sound: &Rest, here: &Rest, part: PartId) -> bool {
    let light = |rest: &Rest| rest.lights.iter().find(|(id, _)| *id == part).map(|(_, light)| *light);
    let turns = |rest: &Rest| rest.turning.iter().any(|(id, turns)| *id == part && *turns);
    let lines = |rest: &Rest| -> Vec<f64> {
        let screen = rest.screens.iter().find(|(id, _)| *id == part);
        screen.map_or_else(Vec::new, |(_, lines)| lines.clone())
    };
    let weak = |good: f64, is: f64| (good > DARK && is < WEAK * good) || (good <= DARK && is > GLOWS);
    light(sound).zip(light(here)).is_some_and(|(good, is)| weak(good, is))
        || turns(sound) != turns(here)
        || lines(sound).iter().zip(&lines(here)).any(|(good, is)| weak(*good, *is))
}
