//! One job in progress: the hidden truth, the clock, the bill and the log.

mod journal;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use journal::{Entry, Journal, NoJournal};

use crate::bench::{
    Action, Display, InstrumentErrors, Marking, MeterSetting, Outcome, Refusal, Rest, World, WriteUpLine,
    most_agreed, step,
};
use crate::circuit::Unsolved;
use crate::fault::{Diagnosis, PlacedFault, Purpose, SeededChance, draw, stream};
use crate::scenario::Scenario;
use crate::vehicle::{LidPosition, PhysicalState, Point, Thing};
use crate::written::nearest;
use rand::Rng;

/// How a job's fault is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Drawn from the pool by the seed.
    Drawn,
    /// This one of the pool, for an instructor who wants to show it.
    Named(String),
}

/// Why a job cannot begin or go on.
#[derive(Debug)]
pub enum JobError {
    /// The pool has nothing to draw.
    EmptyPool,
    /// The pool has no fault of this name.
    NoSuchFault {
        /// The name.
        id: String,
        /// The name that may have been meant.
        near: Option<String>,
    },
    /// The circuit has no solution.
    Unsolved(Unsolved),
    /// The act could not be put on disk; it has not been done.
    Journal(std::io::Error),
}

impl std::fmt::Display for JobError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::EmptyPool => write!(f, "the scenario's pool is empty: there is no fault to draw"),
            Self::NoSuchFault { id, near } => {
                write!(f, "the scenario's pool has no fault \"{id}\"\nhint: ")?;
                match near {
                    Some(near) => write!(f, "did you mean \"{near}\"?"),
                    None => write!(f, "`probeworthy faults` lists them"),
                }
            }
            Self::Unsolved(why) => {
                write!(f, "the act was not done, since the circuit has no solution after it: {why}")
            }
            Self::Journal(why) if why.kind() == std::io::ErrorKind::TimedOut => {
                write!(f, "the act was not done: {why}")
            }
            Self::Journal(why) => write!(f, "the act was not done, since it could not be saved: {why}"),
        }
    }
}

impl std::error::Error for JobError {}

impl From<Unsolved> for JobError {
    fn from(why: Unsolved) -> Self {
        Self::Unsolved(why)
    }
}

/// One act and what it brought.
#[derive(Clone, Debug)]
pub struct Step {
    /// The act.
    pub action: Action,
    /// What it brought.
    pub outcome: Outcome,
    /// Minutes on the clock afterwards.
    pub minutes: f64,
}

/// What was named as wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Named {
    /// The position of the act in the log.
    pub step: usize,
    /// What was named.
    pub diagnosis: Diagnosis,
    /// How sure the learner was.
    pub percent: u8,
}

/// One job in progress.
#[derive(Clone)]
pub struct Job {
    scenario: Arc<Scenario>,
    seed: u64,
    choice: Choice,
    fault: PlacedFault,
    world: World,
    log: Vec<Step>,
    cost: u32,
}

/// The hidden fault stays out of every debug print.
impl std::fmt::Debug for Job {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Job")
            .field("scenario", &self.scenario.id)
            .field("steps", &self.log.len())
            .finish_non_exhaustive()
    }
}

impl Job {
    /// Begins a job.
    ///
    /// # Errors
    /// [`JobError`] where there is no such fault, or the vehicle with it has no operating point.
    pub fn new(scenario: Arc<Scenario>, seed: u64, choice: Choice) -> Result<Self, JobError> {
        let fault = match &choice {
            Choice::Drawn => draw(&scenario.faults, seed).ok_or(JobError::EmptyPool)?,
            Choice::Named(id) => scenario.fault(id).ok_or_else(|| JobError::NoSuchFault {
                id: id.clone(),
                near: nearest(id, scenario.faults.iter().map(|fault| fault.id.as_str())).map(str::to_owned),
            })?,
        }
        .clone();
        let world = Self::beginning(&scenario, seed, &fault)?;
        Ok(Self { scenario, seed, choice, fault, world, log: Vec::new(), cost: 0 })
    }

    /// The world as a job finds it.
    fn beginning(scenario: &Scenario, seed: u64, fault: &PlacedFault) -> Result<World, Unsolved> {
        let mut world =
            World::standing(&scenario.vehicle, Some(fault), instrument_errors(seed), scenario.conditions)?;
        world.arrive(&scenario.vehicle, &mut SeededChance::new(seed, 0))?;
        Ok(world)
    }

    /// The chances of the act that comes after so many of the log. Asides do not count: whoever takes notes finds the same
    /// vehicle as who does not.
    fn chance(&self, acts: usize) -> SeededChance {
        let done = self.log[..acts].iter().filter(|step| !step.action.is_aside()).count();
        SeededChance::new(self.seed, done as u64 + 1)
    }

    /// Whether the scenario's minutes are over.
    #[must_use]
    pub fn time_is_up(&self) -> bool {
        self.scenario.most_minutes.is_some_and(|most| self.minutes() >= most)
    }

    /// Why an act is refused by the job itself, whatever the vehicle would say.
    fn refusal(&self, action: &Action) -> Option<Refusal> {
        match action {
            _ if self.handed_in().is_some() => Some(Refusal::HandedIn),
            action if self.time_is_up() && !matches!(action, Action::HandIn { .. }) => Some(Refusal::TimeUp),
            Action::Coach(_) if !self.scenario.has_coach() => Some(Refusal::NoCoach),
            action if self.scenario.forbids(action) => Some(Refusal::NotAllowed),
            Action::Estimate(units) => {
                let most = most_agreed(&self.scenario.vehicle);
                (u32::from(*units) > most).then_some(Refusal::TooDear(most))
            }
            _ => None,
        }
    }

    /// Does one act. It is on disk before this returns.
    ///
    /// # Errors
    /// [`JobError`]; the job is then as it was.
    pub fn apply(&mut self, action: Action, journal: &mut dyn Journal) -> Result<&Step, JobError> {
        let mut world = self.world.clone();
        let outcome = if let Some(refusal) = self.refusal(&action) {
            Outcome { refused: Some(refusal), ..Outcome::default() }
        } else {
            let mut chance = self.chance(self.log.len());
            step(&self.scenario.vehicle, &mut world, &action, &mut chance)?
        };
        let step = Step { action, minutes: self.minutes() + outcome.minutes, outcome };
        let entry = Entry {
            step: self.log.len() + 1,
            action: &step.action,
            minutes: step.minutes,
            outcome: &step.outcome,
        };
        journal.append(&self.scenario.vehicle, &entry).map_err(JobError::Journal)?;
        self.world = world;
        self.cost += step.outcome.cost;
        // How things went in time is played once, by a scene; of a long job it would be most of what is kept.
        if !step.action.is_aside()
            && let Some(before) = self.log.iter_mut().rev().find(|step| !step.action.is_aside())
        {
            before.outcome.trace = Vec::new();
        }
        self.log.push(step);
        Ok(&self.log[self.log.len() - 1])
    }

    /// The scenario.
    #[must_use]
    pub fn scenario(&self) -> &Arc<Scenario> {
        &self.scenario
    }

    /// The seed.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// How the fault was chosen.
    #[must_use]
    pub fn choice(&self) -> &Choice {
        &self.choice
    }

    /// Minutes on the clock.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.log.last().map_or(0.0, |step| step.minutes)
    }

    /// What parts and material have cost so far.
    #[must_use]
    pub fn cost(&self) -> u32 {
        self.cost
    }

    /// All acts so far.
    #[must_use]
    pub fn log(&self) -> &[Step] {
        &self.log
    }

    /// The fault as last named, with the confidence in percent.
    #[must_use]
    pub fn named(&self) -> Option<(Diagnosis, u8)> {
        self.names(1).first().map(|name| (name.diagnosis, name.percent))
    }

    /// What was last named, at most so many names, the last first. Of several on the same component the last counts.
    #[must_use]
    pub fn names(&self, most: usize) -> Vec<Named> {
        let mut names: Vec<Named> = Vec::new();
        for (at, step) in self.log.iter().enumerate().rev().filter(|(_, step)| step.outcome.refused.is_none())
        {
            let Action::Name(diagnosis, percent) = step.action else { continue };
            if names.len() < most && names.iter().all(|one| one.diagnosis.component != diagnosis.component) {
                names.push(Named { step: at, diagnosis, percent });
            }
        }
        names
    }

    /// The suspicion sheet: what is suspected, in percent as last marked, in the order in which it came on the sheet.
    #[must_use]
    pub fn sheet(&self) -> Vec<(Diagnosis, u8)> {
        let mut sheet: Vec<(Diagnosis, u8)> = Vec::new();
        for step in self.log.iter().filter(|step| step.outcome.refused.is_none()) {
            let Action::Suspect(marked, percent) = step.action else { continue };
            match sheet.iter_mut().find(|(one, _)| *one == marked) {
                Some(line) => line.1 = percent,
                None => sheet.push((marked, percent)),
            }
            sheet.retain(|(_, percent)| *percent > 0);
        }
        sheet
    }

    /// What is marked on the wiring diagram, as last marked.
    #[must_use]
    pub fn marked(&self) -> BTreeMap<Thing, Marking> {
        let mut marked = BTreeMap::new();
        for step in self.log.iter().filter(|step| step.outcome.refused.is_none()) {
            match step.action {
                Action::Mark(thing, Some(marking)) => marked.insert(thing, marking),
                Action::Mark(thing, None) => marked.remove(&thing),
                _ => None,
            };
        }
        marked
    }

    /// The write-up, line by line as last written.
    #[must_use]
    pub fn write_up(&self) -> BTreeMap<WriteUpLine, &str> {
        self.log
            .iter()
            .filter(|step| step.outcome.refused.is_none())
            .filter_map(|step| match &step.action {
                Action::Write(line, text) => Some((*line, text.as_str())),
                _ => None,
            })
            .collect()
    }

    /// What the customer agreed to last, in units of money.
    #[must_use]
    pub fn estimate(&self) -> Option<u16> {
        self.log.iter().rev().find_map(|step| match step.action {
            Action::Estimate(units) if step.outcome.refused.is_none() => Some(units),
            _ => None,
        })
    }

    /// Whether the job has been handed in, and if so, whether it was referred.
    #[must_use]
    pub fn handed_in(&self) -> Option<bool> {
        self.log.iter().rev().find_map(|step| match step.action {
            Action::HandIn { refer } if step.outcome.refused.is_none() => Some(refer),
            _ => None,
        })
    }

    /// The fault, once the job has been handed in.
    #[must_use]
    pub fn truth(&self) -> Option<&PlacedFault> {
        self.handed_in().map(|_| &self.fault)
    }

    /// What a meter would show at each of these points against the battery's minus, panels or not, as the vehicle stands: for
    /// an instructor, who has named the fault himself. `None` where it was drawn.
    ///
    /// # Errors
    /// [`Unsolved`] where the circuit has no operating point.
    pub fn laid_open(&self, points: &[Point]) -> Result<Option<Vec<Option<Display>>>, Unsolved> {
        if self.choice == Choice::Drawn {
            return Ok(None);
        }
        let vehicle = &self.scenario.vehicle;
        self.world.sweep_laid_open(vehicle, MeterSetting::Volts, Point::BatteryMinus, points).map(Some)
    }

    /// What can be seen on the vehicle and the kit, without doing anything.
    #[must_use]
    pub fn scene(&self) -> Scene<'_> {
        Scene { world: &self.world }
    }

    /// The job once more from its beginning, world by world: before each act, and at the end. For marking, after the
    /// hand-in.
    ///
    /// # Errors
    /// [`JobError`] where an act that was done can no longer be; `None` before the hand-in.
    pub fn replay(&self) -> Result<Option<Vec<World>>, JobError> {
        if self.handed_in().is_none() {
            return Ok(None);
        }
        let mut world = Self::beginning(&self.scenario, self.seed, &self.fault)?;
        let mut worlds = vec![world.clone()];
        for (at, past) in self.log.iter().enumerate() {
            if past.outcome.refused != Some(Refusal::HandedIn) {
                let mut chance = self.chance(at);
                step(&self.scenario.vehicle, &mut world, &past.action, &mut chance)?;
            }
            worlds.push(world.clone());
        }
        Ok(Some(worlds))
    }
}

/// What a job's instruments are off: the same for the whole job.
fn instrument_errors(seed: u64) -> InstrumentErrors {
    const STEPS: u64 = 2001;
    let mut drawn = stream(seed, Purpose::MeterError, 0);
    InstrumentErrors::drawn(|| ((drawn.next_u64() % STEPS) as f64 - 1000.0) / 1000.0)
}

/// What a person standing there can see. Nothing of what is wrong can be read through it.
#[derive(Clone, Copy)]
pub struct Scene<'a> {
    world: &'a World,
}

impl<'a> Scene<'a> {
    /// Lights, the meter's display, the dash's sign.
    #[must_use]
    pub fn rest(&self) -> &'a Rest {
        &self.world.rest
    }

    /// The kit, with leads and clips where they are.
    #[must_use]
    pub fn kit(&self) -> &'a crate::bench::Kit {
        &self.world.kit
    }

    /// Whether the complaint shows, after a trial of it.
    ///
    /// # Errors
    /// [`Unsolved`] where a sound vehicle has no operating point so.
    pub fn complains(&self, scenario: &Scenario, trial: &crate::scenario::Trial) -> Result<bool, Unsolved> {
        scenario.complaint_shows(trial, self.world, self.world)
    }

    /// Where the lid stands.
    #[must_use]
    pub fn lid(&self) -> LidPosition {
        self.world.state.lid
    }

    /// The latch's claw is home.
    #[must_use]
    pub fn claw_home(&self) -> bool {
        self.world.state.claw_home
    }

    /// The raised lid is propped.
    #[must_use]
    pub fn propped(&self) -> bool {
        self.world.state.propped
    }

    /// The vehicle's rear is wet.
    #[must_use]
    pub fn wet(&self) -> bool {
        self.world.state.wet
    }

    /// By panel: off, or folded.
    #[must_use]
    pub fn panels_off(&self) -> &'a [bool] {
        &self.world.state.panels_off
    }

    /// By connector: plugged together.
    #[must_use]
    pub fn mated(&self) -> &'a [bool] {
        &self.world.state.mated
    }

    /// By part: switched on.
    #[must_use]
    pub fn switched_on(&self) -> &'a [bool] {
        &self.world.state.on
    }

    /// By fuse slot: a fuse sits in it.
    #[must_use]
    pub fn fuses_fitted(&self) -> Vec<bool> {
        self.world.state.fuses_fitted()
    }

    /// Whether something can be reached as things stand; if not, what is in the way.
    #[must_use]
    pub fn obstacle(
        &self,
        vehicle: &crate::vehicle::Vehicle,
        reach: crate::vehicle::Reach,
    ) -> Option<crate::vehicle::Obstacle> {
        let state: &PhysicalState = &self.world.state;
        state.obstacle(vehicle, reach)
    }
}
