//! What acts show on the vehicle with a fault, or on the sound one.

use super::confirm::perform;
use crate::bench::{Action, Certain, InstrumentErrors, Outcome, World};
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::scenario::Scenario;

/// Plays acts on the vehicle as it comes in with this fault, or with none; what comes of the last one. What is left to
/// chance goes against the customer: what comes and goes is there.
///
/// # Errors
/// [`Unsolved`] where the circuit has no operating point on the way.
pub fn signature(
    scenario: &Scenario,
    fault: Option<&PlacedFault>,
    acts: &[Action],
) -> Result<Outcome, Unsolved> {
    let vehicle = &scenario.vehicle;
    let mut world = World::standing(vehicle, fault, InstrumentErrors::NONE, scenario.conditions)?;
    world.arrive(vehicle, &mut Certain)?;
    let mut last = Outcome::default();
    for act in acts {
        last = perform(scenario, &mut world, act)?;
    }
    Ok(last)
}
