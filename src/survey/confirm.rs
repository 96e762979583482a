//! Can a learner confirm this fault? Found out by mending it.

use super::complaint::{ever_fails_on, put_back};
use crate::bench::{Action, Certain, InstrumentErrors, Outcome, Refusal, World, step};
use crate::circuit::Unsolved;
use crate::reasoning::{Inquiry, Stand};
use crate::scenario::{Scenario, Trial};
use crate::vehicle::LidPosition;

/// Why no learner's action can confirm a fault.
#[derive(Clone, Debug, PartialEq)]
pub enum CannotConfirm {
    /// No test tells it from a sound vehicle.
    LooksSound,
    /// An act of its remedy cannot be done.
    Refused(Action, Refusal),
    /// It is mended, and this trial still fails.
    StillFails(Trial),
}

/// A fault that no learner's action can confirm.
#[derive(Clone, Debug, PartialEq)]
pub struct Unconfirmable {
    /// Which, by its position in the pool.
    pub fault: usize,
    /// Why.
    pub why: CannotConfirm,
}

/// Mends a fault as its remedy says, puts everything back and plays the trials: what stands in the way, if anything.
///
/// # Errors
/// [`Unsolved`] where the circuit has no operating point on the way.
pub(super) fn remedy_fails(inquiry: &Inquiry, fault: usize) -> Result<Option<CannotConfirm>, Unsolved> {
    let scenario = inquiry.scenario();
    let vehicle = &scenario.vehicle;
    let remedy = &inquiry.remedies()[inquiry.groups()[fault]];
    let sound = inquiry.outlook().rest();
    let rest = Stand::of(vehicle, sound);
    let placed = &scenario.faults[fault];
    let mut world = sound.beside(vehicle, Some(placed), InstrumentErrors::NONE, scenario.conditions)?;
    world.arrive(vehicle, &mut Certain)?;
    // What was left on is part of what is wrong, and not of how the vehicle has to stand.
    let stand = Stand { on: Stand::of(vehicle, &world).on, ..remedy.stand.clone() };
    let mut acts = Stand::of(vehicle, &world).acts_to(vehicle, &stand);
    acts.extend(remedy.acts.iter().cloned());
    for act in &acts {
        if let Some(refusal) = perform(scenario, &mut world, act)?.refused {
            return Ok(Some(CannotConfirm::Refused(act.clone(), refusal)));
        }
    }
    let mended = Stand::of(vehicle, &world);
    let plugged = Stand { unplugged: rest.unplugged.clone(), ..mended.clone() };
    let mut acts = mended.acts_to(vehicle, &plugged);
    let taken_off = mended.panels_off.iter().rev().filter(|panel| !rest.panels_off.contains(panel));
    acts.extend(taken_off.map(|&panel| Action::Panel(panel, false)));
    acts.extend(plugged.acts_to(vehicle, &rest));
    for act in &acts {
        if let Some(refusal) = perform(scenario, &mut world, act)?.refused {
            return Ok(Some(CannotConfirm::Refused(act.clone(), refusal)));
        }
    }
    for trial in &scenario.trials {
        if ever_fails_on(scenario, &mut world, trial)? {
            return Ok(Some(CannotConfirm::StillFails(trial.clone())));
        }
        put_back(scenario, &mut world, trial)?;
    }
    Ok(None)
}

/// Does an act with chance always against the customer. Where the lever does not let the lid go, the latch is worked by
/// hand.
pub(super) fn perform(scenario: &Scenario, world: &mut World, act: &Action) -> Result<Outcome, Unsolved> {
    let outcome = step(&scenario.vehicle, world, act, &mut Certain)?;
    let held = matches!(world.state.lid, LidPosition::Shut | LidPosition::FirstCatch);
    if *act == Action::Lever && held {
        return step(&scenario.vehicle, world, &Action::ForceLatch, &mut Certain);
    }
    Ok(outcome)
}
