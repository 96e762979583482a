//! Can this fault give this complaint? Found out by running it.

use crate::bench::{Action, Certain, InstrumentErrors, LidTo, World, step};
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::scenario::{Scenario, Trial};
use crate::vehicle::{FuseSlot, PartId, Slot};

/// How often a trial is repeated: an intermittent fault may let the lid go the first time.
const TRIES: usize = 3;

/// Why a fault cannot give its scenario's complaint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CannotComplain {
    /// Every trial opens the lid, every time.
    AlwaysOpens,
    /// Every trial goes as on a sound vehicle, every time.
    NothingShows,
    /// The circuit has no operating point with it.
    Unsolved(Unsolved),
}

impl std::fmt::Display for CannotComplain {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::AlwaysOpens => {
                write!(f, "with this fault the lid opens every time: it cannot give the complaint")
            }
            Self::NothingShows => {
                write!(
                    f,
                    "with this fault all that is looked at is as on a sound vehicle: it cannot give the complaint"
                )
            }
            Self::Unsolved(why) => write!(f, "with this fault the circuit has no solution: {why}"),
        }
    }
}

/// A scenario's trials, as its customer makes them on a sound vehicle and on others beside it: what follows from the
/// vehicle alone is worked out once.
#[derive(Debug)]
pub struct Trials<'s> {
    scenario: &'s Scenario,
    sound: World,
}

impl<'s> Trials<'s> {
    /// The trials of this scenario.
    ///
    /// # Errors
    /// [`Unsolved`] where the sound vehicle has no operating point.
    pub fn of(scenario: &'s Scenario) -> Result<Self, Unsolved> {
        let sound = World::standing(&scenario.vehicle, None, InstrumentErrors::NONE, scenario.conditions)?;
        Ok(Self { scenario, sound })
    }

    /// Whether a trial ever fails with this fault, or with none.
    fn ever_fails(&self, fault: Option<&PlacedFault>, trial: &Trial) -> Result<bool, Unsolved> {
        let scenario = self.scenario;
        let errors = InstrumentErrors::NONE;
        let mut world = match fault {
            None => self.sound.clone(),
            fault => self.sound.beside(&scenario.vehicle, fault, errors, scenario.conditions)?,
        };
        ever_fails_on(scenario, &mut world, trial)
    }

    /// Plays the trials on the vehicle with `fault`, each from a shut lid and several times over, with chance always
    /// against the customer, until one fails.
    ///
    /// # Errors
    /// [`CannotComplain`] where none ever fails.
    pub fn give(&self, fault: &PlacedFault) -> Result<(), CannotComplain> {
        for trial in &self.scenario.trials {
            if self.ever_fails(Some(fault), trial).map_err(CannotComplain::Unsolved)? {
                return Ok(());
            }
        }
        let opens = self.scenario.trials.iter().all(Trial::opens_lid);
        Err(if opens { CannotComplain::AlwaysOpens } else { CannotComplain::NothingShows })
    }

    /// Plays the trials on the sound vehicle.
    ///
    /// # Errors
    /// [`ShutWhenSound`] with the first trial that fails.
    pub fn succeed_when_sound(&self) -> Result<(), ShutWhenSound> {
        let scenario = self.scenario;
        let title = |part| scenario.vehicle.part(part).title.written().to_owned();
        for trial in &scenario.trials {
            if let Trial::Switch(part, watch) = trial
                && !self.changes(*part, watch).map_err(ShutWhenSound::Unsolved)?
            {
                return Err(ShutWhenSound::NothingHappens(title(*part)));
            }
            if self.ever_fails(None, trial).map_err(ShutWhenSound::Unsolved)? {
                return Err(match *trial {
                    Trial::Key(_) => ShutWhenSound::Fails("the key".to_owned()),
                    Trial::Press(part) => ShutWhenSound::Fails(format!("the {}", title(part))),
                    Trial::Switch(part, _) => ShutWhenSound::NothingHappens(title(part)),
                    Trial::Rest { .. } => ShutWhenSound::DrawsTooMuch,
                });
            }
        }
        Ok(())
    }

    /// Whether a switch changes something of what is looked at on the sound vehicle.
    fn changes(&self, switch: PartId, watch: &[PartId]) -> Result<bool, Unsolved> {
        let vehicle = &self.scenario.vehicle;
        let mut world = self.sound.clone();
        step(vehicle, &mut world, &Action::Switch(switch, true), &mut Certain)?;
        // What is shown with the switch on, as if it were off.
        world.state.on[switch.index()] = false;
        world.looks_odd(vehicle, self.scenario.conditions, watch)
    }
}

/// Whether a fault makes one of its scenario's trials fail.
///
/// # Errors
/// [`CannotComplain`] where no trial ever fails.
pub fn gives_complaint(scenario: &Scenario, fault: &PlacedFault) -> Result<(), CannotComplain> {
    Trials::of(scenario).map_err(CannotComplain::Unsolved)?.give(fault)
}

/// Why a sound vehicle does not suit a scenario: everything would seem to give the complaint.
#[derive(Clone, Debug, PartialEq)]
pub enum ShutWhenSound {
    /// This trial does not open the lid; the trial's title.
    Fails(String),
    /// Nothing that is looked at changes with this switch; its title.
    NothingHappens(String),
    /// It draws more than it may while it stands.
    DrawsTooMuch,
    /// The circuit has no operating point.
    Unsolved(Unsolved),
}

impl std::fmt::Display for ShutWhenSound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Fails(trial) => write!(f, "the lid of the sound vehicle does not open by {trial}"),
            Self::NothingHappens(switch) => {
                write!(f, "on the sound vehicle the {switch} changes nothing of what is looked at")
            }
            Self::DrawsTooMuch => write!(f, "the sound vehicle draws more than that while it stands"),
            Self::Unsolved(why) => write!(f, "the circuit of the sound vehicle has no solution: {why}"),
        }
    }
}

/// Plays the scenario's trials on the sound vehicle.
///
/// # Errors
/// [`ShutWhenSound`] with the first trial that fails.
pub fn opens_when_sound(scenario: &Scenario) -> Result<(), ShutWhenSound> {
    Trials::of(scenario).map_err(ShutWhenSound::Unsolved)?.succeed_when_sound()
}

/// Whether a trial ever fails with this fault.
///
/// # Errors
/// [`Unsolved`] where the circuit has no operating point with it.
pub fn fails(scenario: &Scenario, fault: &PlacedFault, trial: &Trial) -> Result<bool, Unsolved> {
    let errors = InstrumentErrors::NONE;
    let mut world = World::standing(&scenario.vehicle, Some(fault), errors, scenario.conditions)?;
    ever_fails_on(scenario, &mut world, trial)
}

/// Whether a trial ever fails on this very vehicle, whose lid is shut. Afterwards it stands as the last trial left it.
pub(crate) fn ever_fails_on(scenario: &Scenario, world: &mut World, trial: &Trial) -> Result<bool, Unsolved> {
    // Nothing comes and goes where nothing is wrong.
    let tries = if is_sound_for_good(scenario, world) { 1 } else { TRIES };
    for again in 0..tries {
        // Between two trials the lid goes up and down, and the loom with it.
        if again > 0 {
            put_back(scenario, world, trial)?;
        }
        let mut before = world.clone();
        for act in trial.acts() {
            before = world.clone();
            step(&scenario.vehicle, world, &act, &mut Certain)?;
        }
        if scenario.complaint_shows(trial, &before, world)? {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Whether nothing is wrong with a vehicle that could show later: it has its own fuses, and they are whole.
fn is_sound_for_good(scenario: &Scenario, world: &World) -> bool {
    let state = &world.state;
    let own = |(slot, file): (&Slot, &FuseSlot)| {
        slot.fitted.is_some_and(|fuse| !fuse.blown && fuse.rating_amps == file.rating_amps)
    };
    state.deviations.is_empty() && !state.lockout && state.fuses.iter().zip(&scenario.vehicle.fuses).all(own)
}

/// Makes a vehicle stand as it did before a trial that went well: lid up, and shut again.
pub(super) fn put_back(scenario: &Scenario, world: &mut World, trial: &Trial) -> Result<(), Unsolved> {
    let vehicle = &scenario.vehicle;
    let up = [LidTo::Angle(vehicle.lid.full_degrees), LidTo::Shut].map(Action::Lid);
    for act in trial.undo().into_iter().flat_map(|undo| [undo, Action::Lever]).chain(up) {
        step(vehicle, world, &act, &mut Certain)?;
    }
    Ok(())
}
