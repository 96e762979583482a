//! Can this fault give this complaint? Found out by running it.

use crate::bench::{Action, Certain, InstrumentErrors, LidTo, World, step};
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::scenario::{Scenario, Trial};
use crate::vehicle::LidPosition;

/// How often a trial is repeated: an intermittent fault may let the lid go the first time.
const TRIES: usize = 3;

/// Why a fault cannot give its scenario's complaint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CannotComplain {
    /// Every trial opens the lid, every time.
    AlwaysOpens,
    /// The circuit has no operating point with it.
    Unsolved(Unsolved),
}

impl std::fmt::Display for CannotComplain {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::AlwaysOpens => {
                write!(f, "with this fault the lid opens every time: it cannot give the complaint")
            }
            Self::Unsolved(why) => write!(f, "with this fault the circuit has no solution: {why}"),
        }
    }
}

/// Plays the scenario's trials on the vehicle with `fault`, each from a shut lid and several times over, with chance
/// always against the customer.
///
/// # Errors
/// [`CannotComplain`] where no trial ever fails.
pub fn gives_complaint(scenario: &Scenario, fault: &PlacedFault) -> Result<(), CannotComplain> {
    let mut fails = false;
    for &trial in &scenario.trials {
        fails |= ever_fails(scenario, Some(fault), trial).map_err(CannotComplain::Unsolved)?;
    }
    if fails { Ok(()) } else { Err(CannotComplain::AlwaysOpens) }
}

/// Why a sound vehicle does not suit a scenario: everything would seem to give the complaint.
#[derive(Clone, Debug, PartialEq)]
pub enum ShutWhenSound {
    /// This trial does not open the lid; the trial's title.
    Fails(String),
    /// The circuit has no operating point.
    Unsolved(Unsolved),
}

impl std::fmt::Display for ShutWhenSound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Fails(trial) => write!(f, "the lid of the sound vehicle does not open by {trial}"),
            Self::Unsolved(why) => write!(f, "the circuit of the sound vehicle has no solution: {why}"),
        }
    }
}

/// Plays the scenario's trials on the sound vehicle.
///
/// # Errors
/// [`ShutWhenSound`] with the first trial that fails.
pub fn opens_when_sound(scenario: &Scenario) -> Result<(), ShutWhenSound> {
    for &trial in &scenario.trials {
        if ever_fails(scenario, None, trial).map_err(ShutWhenSound::Unsolved)? {
            return Err(ShutWhenSound::Fails(match trial {
                Trial::Key(_) => "the key".to_owned(),
                Trial::Press(part) => format!("the {}", scenario.vehicle.part(part).title),
            }));
        }
    }
    Ok(())
}

/// Whether a trial ever fails with this fault.
///
/// # Errors
/// [`Unsolved`] where the circuit has no operating point with it.
pub fn fails(scenario: &Scenario, fault: &PlacedFault, trial: Trial) -> Result<bool, Unsolved> {
    ever_fails(scenario, Some(fault), trial)
}

fn ever_fails(scenario: &Scenario, fault: Option<&PlacedFault>, trial: Trial) -> Result<bool, Unsolved> {
    let mut world = World::standing(&scenario.vehicle, fault, InstrumentErrors::NONE, scenario.conditions)?;
    ever_fails_on(scenario, &mut world, trial)
}

/// Whether a trial ever fails on this very vehicle, whose lid is shut.
pub(super) fn ever_fails_on(scenario: &Scenario, world: &mut World, trial: Trial) -> Result<bool, Unsolved> {
    let vehicle = &scenario.vehicle;
    for _ in 0..TRIES {
        step(vehicle, world, &trial.act(), &mut Certain)?;
        if matches!(world.state.lid, LidPosition::Shut) {
            return Ok(true);
        }
        step(vehicle, world, &Action::Lid(LidTo::Angle(vehicle.lid.full_degrees)), &mut Certain)?;
        step(vehicle, world, &Action::Lid(LidTo::Shut), &mut Certain)?;
    }
    Ok(false)
}
