//! Stretches in which things move.

use std::sync::Arc as Shared;

use super::arcs::Arc;
use super::light::moving_lights;
use super::memories::is_dark;
use super::resting::RESTS_AMPS;
use super::{Course, Event, Found, Phase, PhaseTrace, Sample, live, sum_of};
use crate::circuit::{
    Branch, Dynamic, Electrical as _, Instant, Law, Load, Memory, Notes, OperatingPoint, Snapshot, Transient,
    Unsolved, spare,
};
use crate::vehicle::ids::PartId;
use crate::vehicle::part::PartKind;
use crate::vehicle::ripple::{Bearing, with_ripple};
use crate::vehicle::state::PartState;
use crate::vehicle::timers::INSTANT_SECONDS;
use crate::vehicle::wiring::Pace;

/// Error of a step's solution of first order that is allowed; currents and speeds are then right to a thousandth or two.
const TOLERANCE: f64 = 1e-2;
/// What an error of a winding's current that grows is held against at least: this share of what its volts would drive in
/// the end; of its speed likewise.
const SCALE: f64 = 0.5;
/// Between two looks whether anything is due or all has come to rest, in seconds: at first, at most, and at most while all
/// that moves creeps: a filament that hardly glows takes seconds to settle.
const FIRST_STRETCH_SECONDS: f64 = 2e-3;
const LONGEST_STRETCH_SECONDS: f64 = 0.05;
const LONGEST_CREEP_SECONDS: f64 = 0.8;
/// A filament that cools with less current than this in it, in amps, and less light than an eye sees, as a fraction, creeps
/// too: nothing else feels it.
const UNFED_AMPS: f64 = 5e-3;
const UNSEEN_LIGHT: f64 = 4e-3;
/// The shortest stretch, in seconds.
const LEAST_STRETCH_SECONDS: f64 = 1e-4;
/// What moves is quiet when it changes by no more than this share in a stretch at least this long.
const QUIET: f64 = 1e-3;
const QUIET_AFTER_SECONDS: f64 = 0.016;
/// For so long what is more than so many times as far from rest as rest allows is taken not to have arrived, without a look
/// at where rest has got to meanwhile: by what fuses warm and the battery drains, it moves far less.
const REST_KEEPS_SECONDS: f64 = 0.5;
const REST_KEEPS_TIMES: f64 = 2.0;

/// Samples of a usual phase.
const MANY_SAMPLES: usize = 48;

/// What of a part may move.
struct Moved {
    amps: f64,
    speed_volts: f64,
    filament_ohms: f64,
}

impl Moved {
    fn of(part: &PartState) -> Self {
        Self { amps: part.amps, speed_volts: part.speed_volts, filament_ohms: part.filament_ohms }
    }
}

/// A phase in which things move, under way.
struct Moving<'a> {
    transient: Transient<'a>,
    /// What has a memory: whose it is, and how it set out.
    parts: Vec<PartId>,
    dynamics: Vec<(Branch, Dynamic, Memory)>,
    live: Vec<Load>,
    spent_seconds: f64,
    samples: Vec<Sample>,
    notes: Notes,
    /// If samples are wanted fine: what each motor did at each of them.
    bearings: Vec<Vec<Bearing>>,
    /// By part: the way that its motor had gone at first, and for how long it has turned since.
    turned_before: Vec<f64>,
    turned_seconds: Vec<f64>,
}

impl<'a> Course<'a> {
    /// A phase in which things move, until something switches or all has come to rest. Gives its seconds.
    /// `rest` is where it all would come to rest.
    pub(super) fn moving_phase(
        &mut self,
        rest: &Shared<Found>,
        on: Vec<(PartId, usize)>,
        arcs: &[Arc],
        left: f64,
    ) -> Result<f64, Unsolved> {
        let mut moving = self.set_out(rest.point(), &on, arcs)?;
        let (mut rest, mut rest_seconds) = (Shared::clone(rest), 0.0);
        if self.put_out(arcs, &moving.transient.now()) {
            return Ok(0.0);
        }
        let mut stretch = FIRST_STRETCH_SECONDS;
        // Delays are as they should be: nothing has happened since they were looked at.
        let mut armed = false;
        let mut event = None;
        while event.is_none() && left - moving.spent_seconds > INSTANT_SECONDS {
            let watches = stretch >= QUIET_AFTER_SECONDS;
            let before = watches.then(|| self.state.parts.iter().map(Moved::of).collect::<Vec<_>>());
            let rates = self.heating(&moving.transient.now(), &moving.live);
            if !armed {
                self.arm(&moving.transient.now(), &on);
            }
            let most = self.until_due(&moving, &rates).min(stretch).min(left - moving.spent_seconds);
            let way = moving.way();
            let ends = self.ends_of_travel(&moving.parts, &moving.dynamics, &way);
            if ends.iter().any(|end| end(&moving.transient.now()) <= 0.0) {
                event = Some(self.end_of_travel());
                break;
            }
            let gone_out: Vec<_> = arcs.iter().map(|arc| move |now: &Instant<'_>| arc.amps(now)).collect();
            let ends = ends.iter().map(|end| end as &dyn Fn(&Instant<'_>) -> f64);
            let gone_out = gone_out.iter().map(|amps| amps as &dyn Fn(&Instant<'_>) -> f64);
            let events: Vec<&dyn Fn(&Instant<'_>) -> f64> = gone_out.chain(ends).collect();
            let (seconds, hit) = self.go_through(&mut moving, most, &events)?;
            self.take_over(&moving, &way);
            self.heat(&rates, seconds);
            self.warm(&moving.transient.now(), seconds);
            self.drain(&moving.transient.now(), seconds);
            self.state.delays.elapse(seconds);
            moving.spent_seconds += seconds;
            let arc_is_out = hit.is_some_and(|at| at < arcs.len());
            if arc_is_out {
                self.snuff();
            }
            // What has gone on for its time but is over by now has not been.
            self.arm(&moving.transient.now(), &on);
            if arc_is_out || self.warms_unforeseen(&moving.transient.now(), &moving.parts) {
                break;
            }
            event = hit
                .map(|_| self.end_of_travel())
                .or_else(|| self.blown(&rates))
                .or_else(|| self.melted())
                .or_else(|| self.due());
            armed = event.is_none();
            // What a module takes in switches nothing until it acts upon it.
            event = event.filter(|event| !event.is_taken_in() || self.notices || self.on() != on);
            let now = moving.transient.now();
            let (quiet, creeps) = before.map_or((false, false), |before| self.is_quiet(&before, &now));
            if event.is_none() && quiet {
                let kept = moving.spent_seconds - rest_seconds < REST_KEEPS_SECONDS;
                if !kept || self.is_within(rest.point(), REST_KEEPS_TIMES) {
                    (rest, rest_seconds) = (self.rest(&on)?, moving.spent_seconds);
                    if self.is_resting(rest.point()) {
                        break;
                    }
                }
            }
            stretch = if creeps {
                (2.0 * stretch).min(LONGEST_CREEP_SECONDS)
            } else if stretch > LONGEST_STRETCH_SECONDS {
                (0.5 * stretch).max(LONGEST_STRETCH_SECONDS)
            } else {
                (2.0 * stretch).min(LONGEST_STRETCH_SECONDS)
            };
        }
        Ok(self.arrive(moving, on, arcs, event))
    }

    /// The circuit as it stands, its arcs burning.
    fn set_out(
        &self,
        rest: &OperatingPoint,
        on: &[(PartId, usize)],
        arcs: &[Arc],
    ) -> Result<Moving<'a>, Unsolved> {
        let live = live(self.loads, self.tool_fuses);
        let mut laws = self.wiring.laws(self.vehicle, self.state, on, Pace::Instant);
        for load in &live {
            laws.extend([Law::ohms(load.lead_ohms), load.law]);
        }
        for arc in arcs {
            let (branch, law) = arc.law();
            laws[branch.0] = law;
        }
        let (parts, dynamics) = self.dynamics(rest);
        let bare = self.wiring.network();
        let network = self.loaded.map_or(bare, |loaded| loaded.network(bare).network());
        let mut transient = Transient::new(network, &laws, &dynamics)?;
        spare::done(laws);
        transient.set_tolerance(TOLERANCE, SCALE);
        for (part, (branch, ..)) in parts.iter().zip(&dynamics) {
            if self.vehicle.part(*part).kind.motor().is_some() {
                transient.set_held(*branch, self.is_held(*part, rest.amps(*branch)))?;
            }
        }
        Ok(Moving {
            transient,
            live,
            spent_seconds: 0.0,
            samples: Vec::with_capacity(MANY_SAMPLES),
            // Each has two ends, one of which is often shared.
            notes: Notes::with_room(MANY_SAMPLES, 2 * parts.len(), parts.len()),
            bearings: vec![Vec::new(); if self.fine { parts.len() } else { 0 }],
            turned_before: self.state.parts.iter().map(|part| part.turned_volt_seconds).collect(),
            turned_seconds: vec![0.0; self.vehicle.parts.len()],
            parts,
            dynamics,
        })
    }

    /// Seconds until the first delay, fuse or strand is due, if all stays as it is now.
    fn until_due(&self, moving: &Moving<'_>, rates: &[(Event, f64, f64)]) -> f64 {
        let now = moving.transient.now();
        // Never less than what a step can resolve: a current that grows brings what it heats nearer meanwhile.
        let fuses = rates.iter().map(|(_, heat, per_second)| (1.0 - heat) / per_second);
        let strands = self.strands(&now).into_iter().map(|(_, seconds)| seconds);
        let heats = fuses.chain(strands).map(|seconds| seconds.max(LEAST_STRETCH_SECONDS));
        heats.fold(self.state.delays.first_seconds(), f64::min)
    }

    /// Lets time pass until one of the events happens: for how long, and which.
    fn go_through(
        &self,
        moving: &mut Moving<'_>,
        most: f64,
        events: &[&dyn Fn(&Instant<'_>) -> f64],
    ) -> Result<(f64, Option<usize>), Unsolved> {
        let Moving { transient, parts, dynamics, live, samples, notes, bearings, turned_seconds, .. } =
            moving;
        let spent_seconds = moving.spent_seconds;
        let start = transient.now().seconds;
        let mut last_seconds = start;
        let hit = transient.advance_seen(most, events, &mut |now| {
            for (&part, &(branch, ..)) in parts.iter().zip(&*dynamics) {
                if now.memory(branch).is_some_and(|memory| memory.speed_volts != 0.0) {
                    turned_seconds[part.index()] += now.seconds - last_seconds;
                }
            }
            last_seconds = now.seconds;
            let at_seconds = spent_seconds + (now.seconds - start);
            // A stretch begins where the one before has ended.
            if now.seconds == start && !samples.is_empty() {
                return;
            }
            for (bearings, &(branch, ..)) in bearings.iter_mut().zip(&*dynamics) {
                let memory = now.memory(branch).unwrap_or_default();
                bearings.push(Bearing {
                    amps: memory.amps,
                    turned_volt_seconds: memory.turned_volt_seconds.abs(),
                    speed_volts: memory.speed_volts.abs(),
                });
            }
            notes.add(now, at_seconds);
            samples.push(self.moving_sample(now, live, at_seconds));
        })?;
        // Steps sum to what was asked for but for rounding.
        Ok((if hit.is_some() { transient.now().seconds - start } else { most }, hit))
    }

    /// Takes what parts remember into the state; `way` is what their motors had gone when it was taken last.
    fn take_over(&mut self, moving: &Moving<'_>, way: &[f64]) {
        let now = moving.transient.now();
        for ((&part, (branch, ..)), way) in moving.parts.iter().zip(&moving.dynamics).zip(way) {
            let Some(memory) = now.memory(*branch) else { continue };
            let state = &mut self.state.parts[part.index()];
            (state.amps, state.speed_volts) = (memory.amps, memory.speed_volts);
            state.filament_ohms = memory.ohms;
            self.go_on(part, memory.turned_volt_seconds - way);
        }
    }

    /// Ends the phase; gives its seconds.
    fn arrive(
        &mut self,
        mut moving: Moving<'_>,
        on: Vec<(PartId, usize)>,
        arcs: &[Arc],
        event: Option<Event>,
    ) -> f64 {
        let seconds = moving.spent_seconds;
        self.ripple(&mut moving);
        let now = moving.transient.now();
        // What has no length has an end all the same.
        while moving.samples.len() < 2 {
            moving.notes.add(&now, seconds);
            moving.samples.push(self.moving_sample(&now, &moving.live, seconds));
        }
        let own = self.wiring.network();
        let point = Snapshot::of(&now, own.nodes(), own.branches(), &moving.live);
        self.note_carried(&point);
        self.put_out(arcs, &now);
        let motors = self.motors(&point, &moving.turned_seconds);
        let trace = PhaseTrace::Moving(Shared::new(moving.transient.into_trace(moving.notes)));
        self.phases.push(Phase { seconds, point, motors, on, samples: moving.samples, trace, event });
        self.happen(event);
        seconds
    }

    /// Puts a turning motor's ripple on samples that are wanted fine.
    fn ripple(&self, moving: &mut Moving<'_>) {
        let what = moving.parts.iter().zip(&mut moving.bearings).zip(&moving.dynamics);
        for ((&part, bearings), &(_, dynamic, _)) in what {
            let motor = self.vehicle.part(part).kind.motor();
            if let (Some(motor), Dynamic::Motor { ohms, .. }) = (motor, dynamic)
                && moving.turned_seconds[part.index()] > 0.0
            {
                for bearing in &mut *bearings {
                    bearing.turned_volt_seconds += moving.turned_before[part.index()].abs();
                }
                moving.samples = with_ripple(std::mem::take(&mut moving.samples), bearings, motor, ohms);
                break;
            }
        }
    }

    fn moving_sample(&self, now: &Instant<'_>, live: &[Load], at_seconds: f64) -> Sample {
        Sample {
            at_seconds,
            loads: now.loads(self.wiring.network().branches(), live),
            lights: moving_lights(self.vehicle, self.wiring, self.state, now),
            watched_amps: sum_of(self.watched, now),
        }
    }

    /// For each drive that moves towards an end of its way, or may: how far it still has to go, in volt-seconds.
    fn ends_of_travel(
        &self,
        parts: &[PartId],
        dynamics: &[(Branch, Dynamic, Memory)],
        way: &[f64],
    ) -> Vec<impl Fn(&Instant) -> f64 + use<>> {
        let mut ends = Vec::new();
        for ((&part, &(branch, ..)), &way) in parts.iter().zip(dynamics).zip(way) {
            let PartKind::Latch(latch) = &self.vehicle.part(part).kind else { continue };
            let plunges = latch.solenoid;
            let speed_volts = self.state.part(part).speed_volts;
            for sign in if plunges { &[1.0][..] } else { &[1.0, -1.0] } {
                let left = self.way_left(part, *sign);
                let towards = if plunges { speed_volts.abs() } else { sign * speed_volts };
                if left > 0.0 || towards > 0.0 {
                    ends.push(move |now: &Instant| {
                        let gone = turned(now, branch) - way;
                        left - if plunges { gone.abs() } else { sign * gone }
                    });
                }
            }
        }
        ends
    }

    /// Whether what moves has hardly moved since `before`, but for lamps that have gone out; and whether it creeps: lamps may
    /// cool then that nobody sees and nothing feeds.
    fn is_quiet(&self, before: &[Moved], now: &Instant<'_>) -> (bool, bool) {
        let near = |a: f64, b: f64| (a - b).abs() <= QUIET * a.abs().max(b.abs()) + RESTS_AMPS;
        let (mut quiet, mut creeps) = (true, true);
        for ((was, is), (id, part)) in before.iter().zip(&self.state.parts).zip(self.vehicle.parts()) {
            let moves = !near(was.amps, is.amps) || !near(was.speed_volts, is.speed_volts);
            let warms = !near(was.filament_ohms, is.filament_ohms);
            let (dark, fades) = match &part.kind {
                PartKind::Lamp { filament, .. } if warms => {
                    let dark = is_dark(filament, is.filament_ohms);
                    let unseen = dark
                        || (filament.light_of_ohms(is.filament_ohms) < UNSEEN_LIGHT
                            && now.amps(self.wiring.lamp_branch(id)).abs() < UNFED_AMPS);
                    (dark, unseen && is.filament_ohms < was.filament_ohms)
                }
                _ => (false, false),
            };
            quiet &= !moves && (!warms || dark);
            creeps &= !moves && (!warms || fades);
        }
        (quiet, creeps)
    }
}

impl Moving<'_> {
    /// How far each motor has gone since the phase began, in volt-seconds.
    fn way(&self) -> Vec<f64> {
        self.dynamics.iter().map(|(branch, ..)| turned(&self.transient.now(), *branch)).collect()
    }
}

/// The way that a motor has gone in a transient, in volt-seconds.
fn turned(now: &Instant<'_>, branch: Branch) -> f64 {
    now.memory(branch).map_or(0.0, |memory| memory.turned_volt_seconds)
}
