//! What comes after the hand-in: the bill beside the estimate, and whether the customer comes back. It earns no marks.

use super::left::left_about;
use crate::bench::{Action, Certain, InstrumentErrors, Kit, LidTo, UNITS_AN_HOUR, World, step};
use crate::circuit::Unsolved;
use crate::job::Job;
use crate::survey::ever_fails_on;
use crate::vehicle::{Deviation, KeyButton};

/// Why the customer comes back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comeback {
    /// The complaint is there again.
    Same,
    /// A joint that was only twisted has worked loose.
    Joint,
    /// He finds something that was not put back.
    Left,
}

/// The bill, and what came of the work.
#[derive(Clone, Debug, PartialEq)]
pub struct Afterwards {
    /// Minutes at the shop's rate, in units of money, rounded up to a whole one.
    pub labour: u32,
    /// Parts and material, in units of money.
    pub parts: u32,
    /// What the customer agreed to last, if he was asked.
    pub estimate: Option<u16>,
    /// Why he comes back, if he does. Never after a referral.
    pub comebacks: Vec<Comeback>,
}

impl Afterwards {
    /// The bill in all, in units of money.
    #[must_use]
    pub fn total(&self) -> u32 {
        self.labour + self.parts
    }
}

/// The bill of a job that has been handed in, and what the customer finds in the days after: he uses the vehicle as he did
/// before, in the weather of his complaint, with chance against him. What is
/// `still_wrong` is more than a poor joint.
pub(super) fn afterwards(
    job: &Job,
    end: &World,
    referred: bool,
    still_wrong: bool,
) -> Result<Afterwards, Unsolved> {
    let labour = labour(job.minutes());
    let mut comebacks = Vec::new();
    if !referred {
        let twisted =
            end.state.deviations.iter().any(|one| matches!(one.deviation, Deviation::Twisted { .. }));
        if twisted && !still_wrong {
            comebacks.push(Comeback::Joint);
        } else if complaint_is_there(job, end)? {
            comebacks.push(Comeback::Same);
        }
        if !left_about(job).is_empty() {
            comebacks.push(Comeback::Left);
        }
    }
    Ok(Afterwards { labour, parts: job.cost(), estimate: job.estimate(), comebacks })
}

/// Units of money for minutes at the shop's rate.
#[must_use]
pub fn labour(minutes: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a bill of one job")]
    let units = libm::ceil(minutes * UNITS_AN_HOUR / 60.0) as u32;
    units
}

fn complaint_is_there(job: &Job, end: &World) -> Result<bool, Unsolved> {
    let scenario = job.scenario();
    let vehicle = &scenario.vehicle;
    for trial in &scenario.trials {
        let mut world = end.clone();
        // His tools the technician has taken with him.
        world.kit = Kit::new(InstrumentErrors::NONE);
        let weather = scenario.conditions.wet.then_some(Action::Wet);
        // A pad does nothing on a vehicle that has been handed back locked, and he knows that.
        let before = scenario.conditions.locked;
        let button = if before { KeyButton::Lock } else { KeyButton::Unlock };
        let locks = (world.state.locked != before).then_some(Action::Key(button));
        // He shuts it as he always does.
        let shut = [LidTo::Angle(vehicle.lid.full_degrees), LidTo::Shut].map(Action::Lid);
        for act in weather.into_iter().chain(locks).chain(shut) {
            step(vehicle, &mut world, &act, &mut Certain)?;
        }
        if ever_fails_on(scenario, &mut world, trial)? {
            return Ok(true);
        }
    }
    Ok(false)
}
