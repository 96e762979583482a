//! Time passes on a world. What it has brought of late to vehicles that stand alike to the bit, it brings again: a memory of
//! work done, and no part of how a vehicle stands.

use std::collections::VecDeque;
use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

use super::world::World;
use crate::circuit::{Branch, Load, LoadedWhenNeeded, Node, Unsolved};
use crate::vehicle::{
    LastPoint, PartId, Phase, PhysicalState, Pressed, Response, Scene, ToolFuses, Vehicle, Wiring,
    away_inputs,
};

/// How often in one go modules are asked by their inputs: what they do may change others.
const MOST_ANSWERS: usize = 8;
/// So many are kept.
const MOST_KEPT: usize = 24;

/// Phases one after another.
pub(super) type Phases = Vec<Arc<Phase>>;

/// What lets time pass.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Passing {
    /// So many seconds in which nobody does anything.
    Idle(f64),
    /// The same, modules doing what inputs ask for that have left their rest; those that had done so before, if anything
    /// had been seen then.
    Attended(f64, Option<Vec<(PartId, usize)>>),
    /// Somebody presses a button.
    Press(Pressed),
}

/// What it brought.
#[derive(Clone, Debug, Default)]
pub(super) struct Brought {
    pub(super) phases: Phases,
    /// How often a module chirped.
    pub(super) chirps: u8,
    /// An output was told to close.
    pub(super) commanded: Option<(PartId, usize)>,
}

/// All on which it depends what time brings.
#[derive(Clone, Debug)]
pub(super) struct Setting {
    pub(super) wiring: Arc<Wiring>,
    pub(super) state: PhysicalState,
    pub(super) loads: Vec<Load>,
    pub(super) fuses: ToolFuses,
    pub(super) watched: Vec<(Branch, f64)>,
    pub(super) fine: bool,
    pub(super) passing: Passing,
}

impl Setting {
    fn is(&self, other: &Self) -> bool {
        // What most often differs comes first.
        self.state.charge == other.state.charge
            && self.passing == other.passing
            && Arc::ptr_eq(&self.wiring, &other.wiring)
            && self.loads == other.loads
            && self.fuses == other.fuses
            && self.watched == other.watched
            && self.fine == other.fine
            && self.state == other.state
    }
}

/// How it all stands afterwards.
#[derive(Clone, Debug)]
pub(super) struct After {
    pub(super) state: PhysicalState,
    pub(super) fuses: ToolFuses,
    pub(super) last: LastPoint,
    pub(super) brought: Arc<Brought>,
}

/// What time has brought of late.
#[derive(Default)]
pub(super) struct Runs(Mutex<VecDeque<(Setting, After)>>);

impl fmt::Debug for Runs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Runs")
    }
}

impl Runs {
    /// What time brought the last time in this setting.
    pub(super) fn find(&self, setting: &Setting) -> Option<After> {
        let mut runs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = runs.iter().position(|(known, _)| known.is(setting))?;
        let run = runs.remove(at)?;
        let after = run.1.clone();
        runs.push_front(run);
        Some(after)
    }

    /// Keeps in mind what it brought.
    pub(super) fn keep(&self, setting: Setting, after: After) {
        let mut runs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        runs.truncate(MOST_KEPT - 1);
        runs.push_front((setting, after));
    }
}

impl World {
    /// Prepares the circuit for what is connected, unless it is so already.
    fn prepare(&mut self, loads: &[Load]) {
        if loads.is_empty() {
            self.loaded = None;
        } else if self.fitting(loads).is_none() {
            let ends: Vec<(Node, Node)> = loads.iter().map(|load| (load.from, load.to)).collect();
            self.loaded = Some(self.shared.prepared(&self.wiring, ends));
        }
    }

    /// The circuit as it has been prepared, if that was for these loads.
    pub(super) fn fitting(&self, loads: &[Load]) -> Option<&LoadedWhenNeeded> {
        let ends = loads.iter().map(|load| (load.from, load.to));
        self.loaded.as_deref().filter(|loaded| ends.eq(loaded.ends().iter().copied()))
    }

    /// Lets time pass, everything of the person's on the circuit; fuses that blow stay blown.
    pub(super) fn pass(&mut self, vehicle: &Vehicle, passing: Passing) -> Result<Arc<Brought>, Unsolved> {
        let (loads, mut fuses) = self.kit.loads_in_time(&self.wiring);
        self.prepare(&loads);
        let watched = self.clamped(vehicle);
        let fine = self.kit.recorder.armed;
        let Some(runs) = self.runs.clone() else {
            let brought = self.play(vehicle, &passing, &loads, &mut fuses, &watched, fine)?;
            self.kit.keep_fuses(&fuses);
            return Ok(Arc::new(brought));
        };
        let setting = Setting {
            wiring: Arc::clone(&self.wiring),
            state: self.state.clone(),
            loads,
            fuses: fuses.clone(),
            watched,
            fine,
            passing,
        };
        let after = match runs.find(&setting) {
            Some(after) => after,
            None => {
                let Setting { passing, loads, watched, .. } = &setting;
                let brought = Arc::new(self.play(vehicle, passing, loads, &mut fuses, watched, fine)?);
                let after = After { state: self.state.clone(), fuses, last: self.last.clone(), brought };
                runs.keep(setting, after.clone());
                after
            }
        };
        self.state = after.state;
        self.last = after.last;
        self.kit.keep_fuses(&after.fuses);
        Ok(after.brought)
    }

    /// Lets time pass, whatever has been kept in mind.
    fn play(
        &mut self,
        vehicle: &Vehicle,
        passing: &Passing,
        loads: &[Load],
        tool_fuses: &mut ToolFuses,
        watched: &[(Branch, f64)],
        fine: bool,
    ) -> Result<Brought, Unsolved> {
        let mut scene = Scene {
            vehicle,
            wiring: &self.wiring,
            loaded: self.loaded.as_deref(),
            state: &mut self.state,
            loads,
            tool_fuses,
            last: &mut self.last,
            watched,
            fine,
        };
        let Response { phases, chirps, commanded } = match passing {
            Passing::Idle(seconds) => Response { phases: scene.pass(*seconds)?, ..Response::default() },
            Passing::Attended(seconds, None) => {
                // Nothing has been seen of it yet, so that what is away already is not taken for a press.
                Response { phases: scene.pass(*seconds)?, ..Response::default() }
            }
            Passing::Attended(seconds, Some(before)) => attended(&mut scene, *seconds, before.clone())?,
            Passing::Press(pressed) => scene.press(*pressed)?,
        };
        Ok(Brought { phases: phases.into_iter().map(Arc::new).collect(), chirps, commanded })
    }
}

/// Lets seconds pass, and as many again each time that modules have done something about inputs that had not left their
/// rest `before`.
fn attended(
    scene: &mut Scene<'_>,
    seconds: f64,
    mut before: Vec<(PartId, usize)>,
) -> Result<Response, Unsolved> {
    let mut all = Response::default();
    let mut left = seconds;
    for _ in 0..MOST_ANSWERS {
        let (passed, noticed) = scene.pass_noticing(left)?;
        left -= passed.iter().map(|phase| phase.seconds).sum::<f64>();
        all.phases.extend(passed);
        let was = std::mem::replace(&mut before, away_inputs(scene.vehicle, scene.state));
        let response = scene.ask_by_inputs(&was)?;
        all.chirps += response.chirps;
        if !response.phases.is_empty() {
            left = seconds;
        } else if !noticed {
            return Ok(all);
        }
        all.phases.extend(response.phases);
    }
    // Something keeps asking.
    all.phases.extend(scene.pass(left)?);
    Ok(all)
}
