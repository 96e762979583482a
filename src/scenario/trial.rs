//! What a customer does, and what should come of it.

use super::scenario_file::Scenario;
use crate::bench::{Action, ClampPlace, World};
use crate::circuit::Unsolved;
use crate::vehicle::{KeyButton, LidPosition, PartId};

/// Something that a customer does, and that fails if the complaint is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Presses a button of the key: the lid opens.
    Key(KeyButton),
    /// Presses a switch: the lid opens.
    Press(PartId),
    /// Turns a switch on: these lamps, motors and heated screens do what they do on a sound vehicle, before and after.
    Switch(PartId, Vec<PartId>),
    /// Lets the vehicle stand shut so many minutes: the battery gives no more than these milliamps.
    Rest {
        /// How long.
        minutes: u8,
        /// How much.
        most_milliamps: u32,
    },
}

impl Trial {
    /// What is done.
    #[must_use]
    pub fn act(&self) -> Action {
        match *self {
            Self::Key(button) => Action::Key(button),
            Self::Press(part) => Action::Press(part),
            Self::Switch(part, _) => Action::Switch(part, true),
            Self::Rest { minutes, .. } => Action::Wait(minutes),
        }
    }

    /// What is done, after what it takes to see what comes of it.
    #[must_use]
    pub fn acts(&self) -> Vec<Action> {
        let clamp = Action::Clamp(Some(ClampPlace::BatteryPlus));
        let first = matches!(self, Self::Rest { .. }).then_some(clamp);
        first.into_iter().chain([self.act()]).collect()
    }

    /// What takes back what was done, where that is not what a lid that has opened needs.
    #[must_use]
    pub fn undo(&self) -> Option<Action> {
        match *self {
            Self::Key(_) | Self::Press(_) => None,
            Self::Switch(part, _) => Some(Action::Switch(part, false)),
            Self::Rest { .. } => Some(Action::Clamp(None)),
        }
    }

    /// Whether it is there to open the lid.
    #[must_use]
    pub fn opens_lid(&self) -> bool {
        matches!(self, Self::Key(_) | Self::Press(_))
    }
}

impl Scenario {
    /// Whether a trial has failed: how the vehicle stood before its act, and how it stands afterwards.
    ///
    /// # Errors
    /// [`Unsolved`] where a sound vehicle has no operating point so.
    pub fn complaint_shows(&self, trial: &Trial, before: &World, after: &World) -> Result<bool, Unsolved> {
        let odd = |world: &World, watch| world.looks_odd(&self.vehicle, self.conditions, watch);
        Ok(match trial {
            Trial::Key(_) | Trial::Press(_) => matches!(after.state.lid, LidPosition::Shut),
            Trial::Switch(_, watch) => odd(before, watch)? || odd(after, watch)?,
            Trial::Rest { most_milliamps, .. } => {
                resting_amps(after).is_none_or(|amps| amps > f64::from(*most_milliamps) * 1e-3)
            }
        })
    }
}

/// What a clamp round the battery's cable shows.
fn resting_amps(world: &World) -> Option<f64> {
    let round_the_cable = world.kit.clamp.is_some_and(|clamp| clamp.place == ClampPlace::BatteryPlus);
    world.rest.clamp.as_ref().filter(|_| round_the_cable)?.now.value
}
