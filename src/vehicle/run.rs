//! Time passes: stretches in which things move, and stretches in which all rests, ended by events.

use std::rc::Rc;

use super::command::with_loads;
use super::deviation::Deviation;
use super::ids::{FuseId, PartId};
use super::model::Vehicle;
use super::part::{Effect, Motor, PartKind, Pull, Trigger};
use super::point::{Half, Point};
use super::ripple::{Bearing, with_ripple};
use super::state::{FuseBody, LidPosition, PartState, PhysicalState};
use super::timers::{Due, INSTANT_SECONDS, Timers};
use super::wiring::{Pace, Wiring, coil_ohms, winding_ohms};
use crate::circuit::{
    Branch, Dynamic, Electrical, Filament, Instant, Law, Load, LoadPoint, LoadedNetwork, Memory, Node,
    OperatingPoint, Snapshot, Transient, Unsolved, opening_seconds, strand_heat, strand_melting_seconds,
    warm_fuse,
};

/// What drives the circuit while time passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Drive<'a> {
    /// A module's output that is told to close for the whole time.
    pub pulse: Option<(PartId, usize)>,
    /// How long, in seconds.
    pub seconds: f64,
    /// Branches the sum of whose currents is wanted in the samples, and which way each counts.
    pub watched: &'a [(Branch, f64)],
    /// Samples are wanted as fine as a recorder takes them down.
    pub fine: bool,
    /// It ends as soon as a module has taken an input for changed.
    pub notices: bool,
}

/// The fuses that belong to the person's own tools: one for each load, or none.
pub type ToolFuses = Vec<Option<FuseBody>>;

/// Something that happened at the end of a phase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// A fuse of the vehicle has opened.
    FuseBlown(FuseId),
    /// The fuse of the load at this position has opened.
    ToolFuseBlown(usize),
    /// The last strands of a conductor have melted; the deviation's position.
    StrandsMelted(usize),
    /// The latch has let go.
    Released,
    /// The latch's drive has come to its end stop, with the latch open already.
    AtEnd,
    /// A relay's armature has moved, or its contacts have bounced.
    Relay(PartId),
    /// A module takes an input for changed.
    Input(PartId, usize),
    /// An electronic output has shut itself down.
    ShutDown(PartId, usize),
    /// A module has lost its supply, or has it again.
    Supply(PartId),
}

/// What is there at an instant of a phase.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// Seconds since the phase began.
    pub at_seconds: f64,
    /// What each load feels.
    pub loads: Vec<LoadPoint>,
    /// The light of every lamp of the vehicle, in the order of [`Vehicle::lamps`], as a fraction of its rated light.
    pub lights: Vec<f64>,
    /// Current of the watched branches, in amps.
    pub watched_amps: f64,
}

/// What a motor does in a phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turning {
    /// The part.
    pub part: PartId,
    /// Its current at the end of the phase, in amps.
    pub amps: f64,
    /// For how long it turned, in seconds.
    pub turned_seconds: f64,
}

/// A stretch of time in which nothing switched.
#[derive(Clone, Debug)]
pub struct Phase {
    /// How long it lasted, in seconds.
    pub seconds: f64,
    /// Voltages and currents at its end.
    pub point: Snapshot,
    /// What motors, solenoids and latches did.
    pub motors: Vec<Turning>,
    /// Outputs that modules had on.
    pub on: Vec<(PartId, usize)>,
    /// What was there from its beginning to its end; at least these two.
    pub samples: Vec<Sample>,
    /// What ended it; `None`: time was up, or all came to rest.
    pub event: Option<Event>,
}

/// Phases in one go after which something keeps switching: a relay that chatters, a module that loses its own supply.
pub const MOST_PHASES: usize = 256;

/// Time constant of a blade fuse's warming, in seconds (common practice, no source).
const FUSE_WARMS_SECONDS: f64 = 1.0;
/// Time constant of a filament at its working point: a small lamp's, and how it grows with the watts (common practice, no
/// source: 20 ms at 5 W, some 60 ms at 21 W).
const FILAMENT_SECONDS: f64 = 0.02;
const FILAMENT_WATTS: f64 = 5.0;
const FILAMENT_EXPONENT: f64 = 0.77;
/// Relative difference below which something that moves counts as having come to rest.
const RESTS: f64 = 1e-4;
/// The same for a current near none, in amps, and a speed near none, in volts.
const RESTS_AMPS: f64 = 1e-6;
const RESTS_VOLTS: f64 = 1e-4;
/// Error of a step's solution of first order that is allowed; currents and speeds are then right to a thousandth or two.
const TOLERANCE: f64 = 1e-2;
/// Between two looks whether anything is due or all has come to rest, in seconds: at first and at most.
const FIRST_STRETCH_SECONDS: f64 = 2e-3;
const LONGEST_STRETCH_SECONDS: f64 = 0.05;
/// The shortest stretch, in seconds.
const LEAST_STRETCH_SECONDS: f64 = 1e-4;
/// What moves is quiet when it changes by no more than this share in a stretch at least this long.
const QUIET: f64 = 1e-3;
const QUIET_AFTER_SECONDS: f64 = 0.016;
/// Resistance against cold resistance above which a filament counts as warm.
const WARM: f64 = 1.001;
/// An arc between opening contacts, or an electronic output's own clamp: what it drops, and how that grows with its current
/// (common practice, no source: some tens of volts). Less than this is switched off without one, in amps.
const ARC_VOLTS: f64 = 40.0;
const ARC_OHMS: f64 = 0.5;
const ARC_AMPS: f64 = 0.02;
/// How often contacts part and meet again before they stay together.
const BOUNCES: u8 = 4;
/// A driver counts as limiting above this share of its limit.
const LIMITING: f64 = 0.95;
/// How long a module's own capacitor holds it up, in seconds (common practice, no source).
const HOLD_UP_SECONDS: f64 = 5e-3;

/// Lets `drive.seconds` pass. Lamps and fuses warm, motors turn, relays move, the latch lets go and the lid springs up:
/// all of it happens in `state`. Each phase comes back in order.
///
/// `loads` are what the person has connected; a load whose fuse blows is open from then on.
///
/// # Errors
/// [`Unsolved`] where a state has no operating point; `state` is then as far as it got.
pub(super) fn run(
    vehicle: &Vehicle,
    wiring: &Wiring,
    prepared: Option<&LoadedNetwork>,
    state: &mut PhysicalState,
    drive: Drive<'_>,
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
) -> Result<Vec<Phase>, Unsolved> {
    for slot in &mut state.fuses {
        if let Some(fuse) = &mut slot.fitted {
            fuse.heat = 0.0;
        }
    }
    for fuse in tool_fuses.iter_mut().flatten() {
        fuse.heat = 0.0;
    }
    let own;
    let loaded = match prepared {
        None if !loads.is_empty() => {
            let ends: Vec<(Node, Node)> = loads.iter().map(|load| (load.from, load.to)).collect();
            own = wiring.network().with_loads(&ends);
            Some(&own)
        }
        prepared => prepared,
    };
    let mut course = Course {
        vehicle,
        wiring,
        loaded,
        state,
        loads,
        tool_fuses,
        pulse: drive.pulse,
        watched: drive.watched,
        fine: drive.fine,
        notices: drive.notices,
        timers: Timers::default(),
        arcs: Vec::new(),
        contact_amps: vec![0.0; vehicle.parts.len()],
        turned: vec![0.0; vehicle.parts.len()],
        at_end: vec![false; vehicle.parts.len()],
        found: None,
        full_lights: vehicle.lamps().map(|id| full_light(vehicle, id)).collect(),
        phases: Vec::new(),
    };
    course.go(drive.seconds)?;
    Ok(course.phases)
}

/// An operating point, and for which laws and loads it was found.
struct Found {
    laws: Vec<Law>,
    loads: Vec<Load>,
    point: Rc<OperatingPoint>,
}

/// One stretch of time under way.
struct Course<'a> {
    vehicle: &'a Vehicle,
    wiring: &'a Wiring,
    state: &'a mut PhysicalState,
    loads: &'a [Load],
    /// The circuit with the loads as its last branches, if there are any.
    loaded: Option<&'a LoadedNetwork>,
    tool_fuses: &'a mut ToolFuses,
    pulse: Option<(PartId, usize)>,
    watched: &'a [(Branch, f64)],
    fine: bool,
    notices: bool,
    timers: Timers,
    /// Contacts that have just opened, and the sign of the current that goes on through the arc between them.
    arcs: Vec<(Branch, f64)>,
    /// By part: what a relay's working contact carried when it was looked at last, in amps.
    contact_amps: Vec<f64>,
    /// By part: the way its motor has gone, in volt-seconds.
    turned: Vec<f64>,
    /// By part: its drive stands at its end stop.
    at_end: Vec<bool>,
    /// The operating point that was found last.
    found: Option<Found>,
    /// By lamp, in the order of [`Vehicle::lamps`]: what counts as its full light.
    full_lights: Vec<f64>,
    phases: Vec<Phase>,
}

impl Course<'_> {
    fn go(&mut self, seconds: f64) -> Result<(), Unsolved> {
        let mut left = seconds;
        while left > INSTANT_SECONDS && self.phases.len() < MOST_PHASES {
            let on = self.on();
            self.reset_outputs(&on);
            self.draw_arcs(&on);
            let point = self.rest(&on)?;
            if self.notices && self.has_noticed() {
                break;
            }
            left -= if self.arcs.is_empty() && self.is_resting(&point) {
                self.settle_at(&point);
                self.rest_phase(&point, on, left)
            } else {
                self.moving_phase(&point, on, left)?
            };
        }
        Ok(())
    }

    /// The outputs that are on: those that rules hold, and the one that is commanded.
    fn on(&self) -> Vec<(PartId, usize)> {
        let mut on = held_outputs(self.vehicle, self.state);
        on.extend(self.pulse.filter(|(part, _)| self.state.part(*part).works));
        on.sort_unstable();
        on.dedup();
        on
    }

    /// Whether the last phase ended with a module that has taken an input for changed.
    fn has_noticed(&self) -> bool {
        matches!(self.phases.last().and_then(|phase| phase.event), Some(Event::Input(..)))
    }

    /// An output that has shut itself down may be tried again once nothing asks for it any more.
    fn reset_outputs(&mut self, on: &[(PartId, usize)]) {
        for (part, module) in self.vehicle.modules() {
            for output in 0..module.outputs.len() {
                self.state.parts[part.index()].shut_down[output] &= on.contains(&(part, output));
            }
        }
    }

    /// What an output that is on no longer has fed goes on for a moment through an arc.
    fn draw_arcs(&mut self, on: &[(PartId, usize)]) {
        for (part, module) in self.vehicle.modules() {
            for output in 0..module.outputs.len() {
                let carried = self.state.part(part).carries[output];
                if !on.contains(&(part, output)) && carried.abs() > ARC_AMPS {
                    self.arcs.push((self.wiring.output_branch(part, output), carried.signum()));
                    self.state.parts[part.index()].carries[output] = 0.0;
                }
            }
        }
    }

    /// Keeps in mind what outputs carry that are on.
    fn note_carried(&mut self, point: &impl Electrical, on: &[(PartId, usize)]) {
        for &(part, output) in on {
            self.state.parts[part.index()].carries[output] =
                point.amps(self.wiring.output_branch(part, output));
        }
    }

    /// The operating point in which everything that moves has come to rest, if nothing switches.
    ///
    /// Where a moving phase has ended because all rests, the next one begins with the same circuit: what has been found for
    /// exactly these laws and loads is handed on.
    fn rest(&mut self, on: &[(PartId, usize)]) -> Result<Rc<OperatingPoint>, Unsolved> {
        let laws = self.wiring.laws(self.vehicle, self.state, on, Pace::Rest);
        let loads = live(self.loads, self.tool_fuses);
        if let Some(found) = self.found.as_ref().filter(|found| found.laws == laws && found.loads == loads) {
            return Ok(Rc::clone(&found.point));
        }
        let point = Rc::new(with_loads(self.wiring, self.loaded, &laws, &loads)?);
        self.found = Some(Found { laws, loads, point: Rc::clone(&point) });
        Ok(point)
    }

    /// Whether everything that moves is where `point` would leave it.
    fn is_resting(&self, point: &OperatingPoint) -> bool {
        let near = |is: f64, aim: f64, least: f64| (is - aim).abs() <= RESTS * aim.abs() + least;
        self.vehicle.parts().all(|(id, part)| {
            let now = self.state.part(id);
            match &part.kind {
                PartKind::Lamp { .. } if self.state.has(|d| *d == Deviation::LampOpen(id)) => true,
                PartKind::Lamp { filament, .. } => {
                    let aim = filament_ohms(self.wiring, point, id, filament);
                    near(now.filament_ohms.max(filament.cold_ohms()), aim, 0.0)
                }
                PartKind::Relay(_) => near(now.amps, point.amps(self.wiring.winding_branch(id)), RESTS_AMPS),
                _ => part.kind.motor().is_none_or(|motor| {
                    let branch = self.wiring.winding_branch(id);
                    let amps = point.amps(branch);
                    let rests = if now.speed_volts == 0.0 {
                        self.is_held(id) || amps.abs() <= self.breakaway_amps(id, motor)
                    } else {
                        near(now.speed_volts, self.speed_volts(point, id, motor), RESTS_VOLTS)
                    };
                    rests && near(now.amps, amps, RESTS_AMPS)
                }),
            }
        })
    }

    /// Puts everything that moves exactly where `point` leaves it.
    fn settle_at(&mut self, point: &OperatingPoint) {
        for (id, part) in self.vehicle.parts() {
            match &part.kind {
                PartKind::Lamp { .. } if self.state.has(|d| *d == Deviation::LampOpen(id)) => {}
                PartKind::Lamp { filament, .. } => {
                    self.state.parts[id.index()].filament_ohms =
                        filament_ohms(self.wiring, point, id, filament);
                }
                PartKind::Relay(_) => {
                    self.state.parts[id.index()].amps = point.amps(self.wiring.winding_branch(id));
                }
                _ => {
                    if let Some(motor) = part.kind.motor() {
                        let speed_volts = self.speed_volts(point, id, motor);
                        let now = &mut self.state.parts[id.index()];
                        now.amps = point.amps(self.wiring.winding_branch(id));
                        if now.speed_volts != 0.0 {
                            now.speed_volts = speed_volts;
                        }
                    }
                }
            }
        }
    }

    /// The speed that leaves the winding its share of the volts.
    fn speed_volts(&self, point: &OperatingPoint, id: PartId, motor: &Motor) -> f64 {
        let branch = self.wiring.winding_branch(id);
        let ohms = winding_ohms(self.state, id, motor);
        if ohms.is_infinite() { 0.0 } else { across(self.wiring, point, branch) - point.amps(branch) * ohms }
    }

    /// Whether a motor cannot turn, whatever its current.
    fn is_held(&self, id: PartId) -> bool {
        self.at_end[id.index()] || self.state.has(|d| *d == Deviation::Jammed(id))
    }

    fn breakaway_amps(&self, id: PartId, motor: &Motor) -> f64 {
        self.state.present().fold(motor.breakaway_amps, |amps, deviation| match *deviation {
            Deviation::Stiff(part, stiff) if part == id => amps.max(stiff),
            _ => amps,
        })
    }

    /// A phase in which nothing moves but what turns steadily, and what heats. Gives its seconds.
    fn rest_phase(&mut self, point: &OperatingPoint, on: Vec<(PartId, usize)>, left: f64) -> f64 {
        self.arm(point, &on);
        let mut seconds = left.min(self.timers.first_seconds());
        let mut event = None;
        let mut sooner = |at: f64, what: Event| {
            if at < seconds {
                seconds = at;
                event = Some(what);
            }
        };
        for (id, part) in self.vehicle.parts() {
            let (now, turned) = (self.state.part(id), self.turned[id.index()]);
            if let Some(motor) = part.kind.motor()
                && now.speed_volts != 0.0
            {
                let ends = (motor.travel_volt_seconds - turned) / now.speed_volts.abs();
                sooner(ends, self.end_of_travel());
            }
        }
        let rates = self.heating(point, self.loads);
        for &(what, heat, per_second) in &rates {
            sooner(((1.0 - heat) / per_second).max(0.0), what);
        }
        for (at, seconds) in self.strands(point) {
            sooner(seconds, Event::StrandsMelted(at));
        }
        let sample = self.sample(point);
        self.turn(seconds);
        self.heat(&rates, seconds);
        self.warm(point, seconds);
        self.drain(point, seconds);
        self.timers.elapse(seconds);
        let event = event.or_else(|| self.due());
        let motors = self.motors(point, &self.turning_seconds(seconds));
        self.note_carried(point, &on);
        let samples = vec![sample.clone(), Sample { at_seconds: seconds, ..sample }];
        let own = self.wiring.network();
        let point = Snapshot::of(point, own.nodes(), own.branches(), self.loads);
        self.phases.push(Phase { seconds, point, motors, on, samples, event });
        self.happen(event);
        seconds
    }

    /// A phase in which things move, until something switches or all has come to rest. Gives its seconds.
    /// `rest` is where it all would come to rest.
    fn moving_phase(
        &mut self,
        rest: &OperatingPoint,
        on: Vec<(PartId, usize)>,
        left: f64,
    ) -> Result<f64, Unsolved> {
        let live = live(self.loads, self.tool_fuses);
        let mut laws = self.wiring.laws(self.vehicle, self.state, &on, Pace::Instant);
        for load in &live {
            laws.extend([Law::ohms(load.lead_ohms), load.law]);
        }
        let arcs = std::mem::take(&mut self.arcs);
        for &(branch, sign) in &arcs {
            // Arc volts against the current, whatever it is.
            laws[branch.0] = Law::source(sign * ARC_VOLTS, ARC_OHMS);
        }
        let (parts, dynamics) = self.dynamics(rest);
        let network = self.loaded.map_or(self.wiring.network(), LoadedNetwork::network);
        let mut transient = Transient::new(network, &laws, &dynamics)?;
        transient.set_tolerance(TOLERANCE);
        for (part, (branch, ..)) in parts.iter().zip(&dynamics) {
            if self.vehicle.part(*part).kind.motor().is_some() {
                transient.set_held(*branch, self.is_held(*part))?;
            }
        }
        let mut samples = Vec::new();
        // The motor that turns, if samples are wanted fine: at each of them, where it stands.
        let mut bearings: Vec<Vec<Bearing>> = vec![Vec::new(); if self.fine { parts.len() } else { 0 }];
        let turned_before = self.turned.clone();
        let mut turned_seconds = vec![0.0; self.vehicle.parts.len()];
        let mut stretch = FIRST_STRETCH_SECONDS;
        let mut spent = 0.0;
        let mut event = None;
        while event.is_none() && left - spent > INSTANT_SECONDS {
            let rates = self.heating(&transient.now(), &live);
            self.arm(&transient.now(), &on);
            let mut most = stretch.min(left - spent).min(self.timers.first_seconds());
            for &(_, heat, per_second) in &rates {
                // Never less than what a step can resolve: a current that grows brings its fuse nearer meanwhile.
                most = most.min(((1.0 - heat) / per_second).max(LEAST_STRETCH_SECONDS));
            }
            let before = self.state.parts.clone();
            let way: Vec<f64> = dynamics.iter().map(|(branch, ..)| turned(&transient, *branch)).collect();
            let ends = self.ends_of_travel(&parts, &dynamics, &way);
            let arcs_left: Vec<_> =
                arcs.iter().map(|&(branch, sign)| move |now: &Instant<'_>| sign * now.amps(branch)).collect();
            if arcs_left.iter().any(|left| left(&transient.now()) <= 0.0) {
                break;
            }
            let ends = ends.iter().map(|end| end as &dyn Fn(&Instant<'_>) -> f64);
            let gone_out = arcs_left.iter().map(|left| left as &dyn Fn(&Instant<'_>) -> f64);
            let events: Vec<&dyn Fn(&Instant<'_>) -> f64> = gone_out.chain(ends).collect();
            let start = transient.now().seconds;
            let wiring = self.wiring;
            let (watched, vehicle, full_lights) = (self.watched, self.vehicle, &self.full_lights);
            let mut last_seconds = start;
            let hit = transient.advance_seen(most, &events, &mut |now| {
                for (&part, &(branch, ..)) in parts.iter().zip(&dynamics) {
                    if now.memory(branch).is_some_and(|memory| memory.speed_volts != 0.0) {
                        turned_seconds[part.index()] += now.seconds - last_seconds;
                    }
                }
                last_seconds = now.seconds;
                for (bearings, &(branch, ..)) in bearings.iter_mut().zip(&dynamics) {
                    let memory = now.memory(branch).unwrap_or_default();
                    bearings.push(Bearing {
                        amps: memory.amps,
                        turned_volt_seconds: memory.turned_volt_seconds.abs(),
                        speed_volts: memory.speed_volts.abs(),
                    });
                }
                samples.push(Sample {
                    at_seconds: spent + (now.seconds - start),
                    loads: now.loads(wiring.network().branches(), &live),
                    lights: moving_lights(vehicle, wiring, now, full_lights),
                    watched_amps: sum_of(watched, now),
                });
            })?;
            // Steps sum to what was asked for but for rounding.
            let seconds = if hit.is_some() { transient.now().seconds - start } else { most };
            for (at, (&part, (branch, ..))) in parts.iter().zip(&dynamics).enumerate() {
                let Some(memory) = transient.now().memory(*branch) else { continue };
                let now = &mut self.state.parts[part.index()];
                (now.amps, now.speed_volts) = (memory.amps, memory.speed_volts);
                now.filament_ohms = memory.ohms;
                let gone = memory.turned_volt_seconds.abs() - way[at];
                self.turned[part.index()] += gone;
            }
            self.heat(&rates, seconds);
            self.warm(&transient.now(), seconds);
            self.drain(&transient.now(), seconds);
            self.timers.elapse(seconds);
            spent += seconds;
            let arc_is_out = hit.is_some_and(|at| at < arcs.len());
            if arc_is_out {
                self.snuff(&parts);
            }
            if arc_is_out || self.warms_unforeseen(&transient.now(), &parts) {
                break;
            }
            event = hit.map(|_| self.end_of_travel()).or_else(|| self.blown(&rates)).or_else(|| self.due());
            // What a module takes in switches nothing until it acts upon it.
            event = event.filter(|event| {
                !matches!(event, Event::Input(..) | Event::Supply(_)) || self.notices || self.on() != on
            });
            if event.is_none() && stretch >= QUIET_AFTER_SECONDS && self.is_quiet(&before) {
                let rest = self.rest(&on)?;
                if self.is_resting(&rest) {
                    break;
                }
            }
            stretch = (2.0 * stretch).min(LONGEST_STRETCH_SECONDS);
        }
        for ((&part, bearings), &(_, dynamic, _)) in parts.iter().zip(&mut bearings).zip(&dynamics) {
            let motor = self.vehicle.part(part).kind.motor();
            if let (Some(motor), Dynamic::Motor { ohms, .. }) = (motor, dynamic)
                && turned_seconds[part.index()] > 0.0
            {
                for bearing in &mut *bearings {
                    bearing.turned_volt_seconds += turned_before[part.index()];
                }
                samples = with_ripple(samples, bearings, motor, ohms);
                break;
            }
        }
        let own = self.wiring.network();
        let point = Snapshot::of(&transient.now(), own.nodes(), own.branches(), &live);
        self.note_carried(&point, &on);
        let motors = self.motors(&point, &turned_seconds);
        self.phases.push(Phase { seconds: spent, point, motors, on, samples, event });
        self.happen(event);
        Ok(spent)
    }

    /// For each drive with an end of its travel before it: how far it still has to go, in volt-seconds.
    fn ends_of_travel(
        &self,
        parts: &[PartId],
        dynamics: &[(Branch, Dynamic, Memory)],
        way: &[f64],
    ) -> Vec<impl Fn(&Instant) -> f64 + use<>> {
        parts
            .iter()
            .zip(dynamics)
            .zip(way)
            .filter_map(|((&part, &(branch, ..)), &way)| {
                let motor = self.vehicle.part(part).kind.motor()?;
                let left = motor.travel_volt_seconds - self.turned[part.index()];
                let free = left.is_finite() && !self.at_end[part.index()];
                free.then_some(move |now: &Instant| {
                    let turned = now.memory(branch).map_or(0.0, |memory| memory.turned_volt_seconds.abs());
                    left - (turned - way)
                })
            })
            .collect()
    }

    /// What an arc that goes out leaves of a motor's current is nothing.
    fn snuff(&mut self, parts: &[PartId]) {
        for &part in parts {
            let now = &mut self.state.parts[part.index()];
            if self.vehicle.part(part).kind.motor().is_some() && now.amps.abs() < ARC_AMPS {
                now.amps = 0.0;
            }
        }
    }

    /// Whether a lamp that was taken for cold has got so much voltage that it will not stay so.
    fn warms_unforeseen(&self, now: &Instant<'_>, warming: &[PartId]) -> bool {
        self.vehicle.parts().filter(|(id, _)| !warming.contains(id)).any(|(id, part)| match &part.kind {
            PartKind::Lamp { filament, .. } if !self.state.has(|d| *d == Deviation::LampOpen(id)) => {
                is_warm(filament, filament.ohms(across(self.wiring, now, self.wiring.lamp_branch(id))))
            }
            _ => false,
        })
    }

    /// Whether what moves has hardly moved since `before`.
    fn is_quiet(&self, before: &[PartState]) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= QUIET * a.abs().max(b.abs()) + RESTS_AMPS;
        before.iter().zip(&self.state.parts).all(|(was, is)| {
            near(was.amps, is.amps)
                && near(was.speed_volts, is.speed_volts)
                && near(was.filament_ohms, is.filament_ohms)
        })
    }

    /// What has a memory of its own, and how it stands. A lamp that is cold and stays so needs none.
    fn dynamics(&self, rest: &OperatingPoint) -> (Vec<PartId>, Vec<(Branch, Dynamic, Memory)>) {
        let mut parts = Vec::new();
        let mut dynamics = Vec::new();
        for (id, part) in self.vehicle.parts() {
            let now = self.state.part(id);
            let mut add = |branch: Branch, dynamic: Dynamic| {
                let memory = Memory {
                    amps: now.amps,
                    speed_volts: now.speed_volts,
                    turned_volt_seconds: 0.0,
                    ohms: now.filament_ohms,
                };
                parts.push(id);
                dynamics.push((branch, dynamic, memory));
            };
            match &part.kind {
                PartKind::Lamp { filament, .. } if !self.state.has(|d| *d == Deviation::LampOpen(id)) => {
                    let now_warm = is_warm(filament, now.filament_ohms);
                    if !now_warm && !is_warm(filament, filament_ohms(self.wiring, rest, id, filament)) {
                        continue;
                    }
                    let seconds = FILAMENT_SECONDS
                        * libm::pow(filament.rated_watts / FILAMENT_WATTS, FILAMENT_EXPONENT);
                    add(self.wiring.lamp_branch(id), Dynamic::Bulb { filament: *filament, seconds });
                }
                PartKind::Relay(relay) => {
                    let ohms = coil_ohms(self.state, id, relay);
                    if ohms.is_finite() {
                        let coil = Dynamic::Coil { ohms, henries: relay.coil_henries };
                        add(self.wiring.winding_branch(id), coil);
                    }
                }
                kind => {
                    let Some(motor) = kind.motor() else { continue };
                    let ohms = winding_ohms(self.state, id, motor);
                    if ohms.is_finite() {
                        let motor = Dynamic::Motor {
                            ohms,
                            henries: motor.winding_henries,
                            inertia_farads: motor.inertia_farads(),
                            breakaway_amps: self.breakaway_amps(id, motor),
                            idle_amps: motor.idle_amps,
                            slope_siemens: motor.slope_siemens,
                        };
                        add(self.wiring.winding_branch(id), motor);
                    }
                }
            }
        }
        (parts, dynamics)
    }

    /// Starts and stops the delays whose causes have come or gone.
    fn arm(&mut self, point: &impl Electrical, on: &[(PartId, usize)]) {
        for (id, part) in self.vehicle.parts() {
            if let PartKind::Relay(_) = part.kind {
                self.note_contact(point, id);
            }
            let now = self.state.part(id);
            match &part.kind {
                PartKind::Relay(relay) if !self.timers.is_bouncing(id) => {
                    let amps = point.amps(self.wiring.winding_branch(id)).abs();
                    let (moves, seconds) = if now.pulled {
                        (amps < relay.drop_out_volts / relay.coil_ohms, relay.release_seconds)
                    } else {
                        (amps >= relay.pull_in_volts / relay.coil_ohms, relay.operate_seconds)
                    };
                    self.timers.follow(Due::Armature(id), moves, seconds);
                }
                PartKind::Module(module) => {
                    let works = module_works(self.vehicle, self.wiring, point, id);
                    self.timers.follow(Due::Supply(id), works != now.works, HOLD_UP_SECONDS);
                    for (at, input) in module.inputs.iter().enumerate() {
                        let changes = now.works
                            && reads_low(self.vehicle, self.wiring, self.state, point, id, at) != now.low[at];
                        self.timers.follow(Due::Input(id, at), changes, input.debounce_seconds);
                    }
                    for (at, output) in module.outputs.iter().enumerate() {
                        let Some(driver) = output.kind.driver() else { continue };
                        let amps = point.amps(self.wiring.output_branch(id, at)).abs();
                        let limits = on.contains(&(id, at))
                            && !now.shut_down[at]
                            && amps > LIMITING * driver.limit_amps;
                        self.timers.follow(Due::ShutDown(id, at), limits, driver.shuts_down_seconds);
                    }
                }
                _ => {}
            }
        }
    }

    fn note_contact(&mut self, point: &impl Electrical, id: PartId) {
        let contact = self.wiring.working_contact(id);
        self.contact_amps[id.index()] = contact.map_or(0.0, |branch| point.amps(branch));
    }

    /// What the delays that have run out bring about; the first of them gives its name to the phase's end.
    fn due(&mut self) -> Option<Event> {
        let mut first = None;
        while let Some(due) = self.timers.take_due() {
            let event = self.come_due(due);
            first.get_or_insert(event);
        }
        first
    }

    fn come_due(&mut self, due: Due) -> Event {
        match due {
            Due::Armature(id) => {
                let pulls = !self.state.part(id).pulled;
                self.move_armature(id, pulls);
                let bounce_seconds = self.bounce_seconds(id);
                if pulls && bounce_seconds > 0.0 {
                    self.timers.follow(Due::Bounce(id, BOUNCES), true, bounce_seconds);
                }
                Event::Relay(id)
            }
            Due::Bounce(id, left) => {
                self.move_armature(id, !self.state.part(id).pulled);
                if left > 1 {
                    self.timers.follow(Due::Bounce(id, left - 1), true, self.bounce_seconds(id));
                }
                Event::Relay(id)
            }
            Due::Input(id, at) => {
                let low = &mut self.state.parts[id.index()].low[at];
                *low = !*low;
                Event::Input(id, at)
            }
            Due::ShutDown(id, at) => {
                self.state.parts[id.index()].shut_down[at] = true;
                Event::ShutDown(id, at)
            }
            Due::Supply(id) => {
                let now = &mut self.state.parts[id.index()];
                now.works = !now.works;
                // A command does not outlive the module's supply.
                if !now.works && self.pulse.is_some_and(|(part, _)| part == id) {
                    self.pulse = None;
                }
                Event::Supply(id)
            }
        }
    }

    /// Seconds between one meeting or parting of a relay's contacts and the next while they bounce.
    fn bounce_seconds(&self, id: PartId) -> f64 {
        match &self.vehicle.part(id).kind {
            PartKind::Relay(relay) => relay.bounce_seconds / f64::from(BOUNCES),
            _ => 0.0,
        }
    }

    /// A relay's contacts move over; a working contact that opens draws an arc.
    fn move_armature(&mut self, id: PartId, pulled: bool) {
        self.state.parts[id.index()].pulled = pulled;
        let amps = self.contact_amps[id.index()];
        if !pulled && amps.abs() > ARC_AMPS {
            self.arcs.extend(self.wiring.working_contact(id).map(|branch| (branch, amps.signum())));
        }
    }

    fn end_of_travel(&self) -> Event {
        let holds = self.state.claw_home || self.state.lid == LidPosition::FirstCatch;
        if holds { Event::Released } else { Event::AtEnd }
    }

    /// What an event changes at once.
    fn happen(&mut self, event: Option<Event>) {
        match event {
            Some(Event::FuseBlown(id)) => {
                if let Some(fuse) = &mut self.state.fuses[id.index()].fitted {
                    fuse.blown = true;
                }
            }
            Some(Event::ToolFuseBlown(at)) => {
                if let Some(fuse) = &mut self.tool_fuses[at] {
                    fuse.blown = true;
                }
            }
            Some(Event::StrandsMelted(at)) => self.state.melt(at),
            Some(what @ (Event::Released | Event::AtEnd)) => {
                let (latch, _) = self.vehicle.latch();
                self.at_end[latch.index()] = true;
                self.state.parts[latch.index()].speed_volts = 0.0;
                if what == Event::Released {
                    release(self.vehicle, self.state);
                }
            }
            Some(Event::Relay(_) | Event::Input(..) | Event::ShutDown(..) | Event::Supply(_)) | None => {}
        }
    }

    /// Fuses under way to opening: what happens, how far, and how fast.
    fn heating(&self, point: &impl Electrical, loads: &[Load]) -> Vec<(Event, f64, f64)> {
        let mut rates = Vec::new();
        let mut add = |event: Event, fuse: &FuseBody, amps: f64| {
            let holds = opening_seconds(f64::from(fuse.rating_amps), amps);
            if !fuse.blown && holds.is_finite() {
                rates.push((event, fuse.heat, 1.0 / holds));
            }
        };
        for (at, slot) in self.state.fuses.iter().enumerate() {
            let id = FuseId::at(at);
            if let Some(fuse) = &slot.fitted {
                add(Event::FuseBlown(id), fuse, point.amps(self.wiring.fuse_branch(id)));
            }
        }
        if self.tool_fuses.iter().any(Option::is_some) {
            let felt = point.loads(self.wiring.network().branches(), loads);
            for (at, (fuse, felt)) in self.tool_fuses.iter().zip(felt).enumerate() {
                if let Some(fuse) = fuse {
                    add(Event::ToolFuseBlown(at), fuse, felt.amps);
                }
            }
        }
        rates
    }

    fn heat(&mut self, rates: &[(Event, f64, f64)], seconds: f64) {
        for &(event, _, per_second) in rates {
            let fuse = match event {
                Event::FuseBlown(id) => self.state.fuses[id.index()].fitted.as_mut(),
                Event::ToolFuseBlown(at) => self.tool_fuses[at].as_mut(),
                _ => None,
            };
            if let Some(fuse) = fuse {
                fuse.heat += seconds * per_second;
            }
        }
    }

    /// A fuse that has had its time.
    fn blown(&self, rates: &[(Event, f64, f64)]) -> Option<Event> {
        rates.iter().map(|(event, ..)| *event).find(|event| match *event {
            Event::FuseBlown(id) => self.state.slot(id).fitted.is_some_and(|fuse| fuse.heat >= 1.0),
            Event::ToolFuseBlown(at) => self.tool_fuses[at].is_some_and(|fuse| fuse.heat >= 1.0),
            _ => false,
        })
    }

    /// Conductors' last strands, and how long they still carry what they carry, in seconds.
    fn strands(&self, point: &impl Electrical) -> Vec<(usize, f64)> {
        self.state
            .deviations
            .iter()
            .enumerate()
            .filter(|(_, one)| one.present)
            .filter_map(|(at, one)| match one.deviation {
                Deviation::Strands { conductor, piece, left, of, .. } => {
                    let amps = point.amps(self.wiring.piece_branch(conductor, piece)) / f64::from(left);
                    let square_millimetres =
                        self.vehicle.conductor(conductor).square_millimetres / f64::from(of);
                    Some((at, strand_melting_seconds(square_millimetres, amps, one.heat)))
                }
                _ => None,
            })
            .collect()
    }

    /// Fuses take the heat of their current, and strands.
    fn warm(&mut self, point: &impl Electrical, seconds: f64) {
        let share = -libm::expm1(-seconds / FUSE_WARMS_SECONDS);
        for at in 0..self.state.fuses.len() {
            let amps = point.amps(self.wiring.fuse_branch(FuseId::at(at)));
            if let Some(fuse) = &mut self.state.fuses[at].fitted {
                let law = warm_fuse(f64::from(fuse.rating_amps));
                let load = amps / law.rating_amps;
                fuse.warmth += share * (law.growth * load * load - fuse.warmth);
            }
        }
        for at in 0..self.state.deviations.len() {
            if let Deviation::Strands { conductor, piece, left, of, .. } = self.state.deviations[at].deviation
            {
                let amps = point.amps(self.wiring.piece_branch(conductor, piece)) / f64::from(left);
                let area = self.vehicle.conductor(conductor).square_millimetres / f64::from(of);
                let one = &mut self.state.deviations[at];
                one.heat = strand_heat(area, amps, one.heat, seconds);
            }
        }
    }

    /// What the battery gives or takes.
    fn drain(&mut self, point: &impl Electrical, seconds: f64) {
        let amps = point.amps(self.wiring.battery_branch());
        let charge = self.state.charge + amps * seconds / 3600.0 / self.vehicle.battery.amp_hours;
        self.state.charge = charge.clamp(0.0, 1.0);
    }

    /// Motors that turn steadily go their way.
    fn turn(&mut self, seconds: f64) {
        for (turned, part) in self.turned.iter_mut().zip(&self.state.parts) {
            *turned += part.speed_volts.abs() * seconds;
        }
    }

    /// By part: these seconds if it turns.
    fn turning_seconds(&self, seconds: f64) -> Vec<f64> {
        let turns = |part: &PartState| if part.speed_volts == 0.0 { 0.0 } else { seconds };
        self.state.parts.iter().map(turns).collect()
    }

    fn motors(&self, point: &impl Electrical, turned_seconds: &[f64]) -> Vec<Turning> {
        self.vehicle
            .parts()
            .filter(|(_, part)| part.kind.motor().is_some())
            .map(|(part, _)| Turning {
                part,
                amps: point.amps(self.wiring.winding_branch(part)),
                turned_seconds: turned_seconds[part.index()],
            })
            .collect()
    }

    fn sample(&self, point: &OperatingPoint) -> Sample {
        Sample {
            at_seconds: 0.0,
            loads: point.loads().to_vec(),
            lights: lights(self.vehicle, self.wiring, self.state, point),
            watched_amps: sum_of(self.watched, point),
        }
    }
}

/// What watched branches carry together, each counted its way, in amps.
#[must_use]
pub fn sum_of(watched: &[(Branch, f64)], point: &impl Electrical) -> f64 {
    watched.iter().map(|(branch, sign)| sign * point.amps(*branch)).sum()
}

/// The way that a motor has gone in a transient, in volt-seconds.
fn turned(transient: &Transient<'_>, branch: Branch) -> f64 {
    transient.now().memory(branch).map_or(0.0, |memory| memory.turned_volt_seconds.abs())
}

/// Whether a filament has left its cold resistance.
fn is_warm(filament: &Filament, ohms: f64) -> bool {
    ohms > WARM * filament.cold_ohms()
}

/// Volts from a branch's first node to its second.
fn across(wiring: &Wiring, point: &impl Electrical, branch: Branch) -> f64 {
    let (from, to) = wiring.network().ends(branch);
    point.volts(from) - point.volts(to)
}

/// A filament's resistance at rest, in ohms.
fn filament_ohms(wiring: &Wiring, point: &OperatingPoint, id: PartId, filament: &Filament) -> f64 {
    filament.ohms(across(wiring, point, wiring.lamp_branch(id)))
}

/// The light of every lamp, in the order of [`Vehicle::lamps`], as a fraction of its light at the battery's full voltage:
/// a filament's by the heat that it has, a lamp of diodes' by its current.
#[must_use]
pub fn lights(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &impl Electrical,
) -> Vec<f64> {
    let ohms = |id: PartId| {
        if state.has(|d| *d == Deviation::LampOpen(id)) { 0.0 } else { state.part(id).filament_ohms }
    };
    vehicle.lamps().map(|id| light(vehicle, wiring, point, id, ohms(id)) / full_light(vehicle, id)).collect()
}

/// The same at an instant in which filaments warm and cool.
fn moving_lights(vehicle: &Vehicle, wiring: &Wiring, now: &Instant<'_>, full_lights: &[f64]) -> Vec<f64> {
    let ohms = |id: PartId| now.memory(wiring.lamp_branch(id)).map_or(0.0, |memory| memory.ohms);
    let lamps = vehicle.lamps().zip(full_lights);
    lamps.map(|(id, full)| light(vehicle, wiring, now, id, ohms(id)) / full).collect()
}

/// A lamp's light as a fraction of its rated light.
fn light(vehicle: &Vehicle, wiring: &Wiring, point: &impl Electrical, id: PartId, filament_ohms: f64) -> f64 {
    match &vehicle.part(id).kind {
        PartKind::Lamp { filament, .. } => filament.light_of_ohms(filament_ohms),
        PartKind::Led(led) => led.light(point.amps(wiring.lamp_branch(id))),
        _ => 0.0,
    }
}

/// The same at the battery's full voltage; 1 for what is no lamp.
fn full_light(vehicle: &Vehicle, id: PartId) -> f64 {
    let full = vehicle.battery.open_volts;
    match &vehicle.part(id).kind {
        PartKind::Lamp { filament, .. } => filament.light(full),
        PartKind::Led(led) => (full - led.drop_volts) / (led.rated_volts - led.drop_volts),
        _ => 1.0,
    }
}

/// Outputs that rules keep on because of how a module takes its inputs.
#[must_use]
pub fn held_outputs(vehicle: &Vehicle, state: &PhysicalState) -> Vec<(PartId, usize)> {
    let mut held = Vec::new();
    for (part, module) in vehicle.modules().filter(|(part, _)| state.part(*part).works) {
        for rule in &module.rules {
            if let (Trigger::While(input), Effect::Hold { output }) = (rule.on, rule.effect)
                && is_away(vehicle, state, part, input)
            {
                held.push((part, output));
            }
        }
    }
    held
}

/// Whether a module takes an input to be away from where it is pulled.
#[must_use]
pub fn is_away(vehicle: &Vehicle, state: &PhysicalState, part: PartId, input: usize) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    let low = state.part(part).low[input];
    match module.inputs[input].pull {
        Pull::Up => low,
        Pull::Down => !low,
    }
}

/// Whether an input's voltage is low, between the thresholds what it was.
pub(super) fn reads_low(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &impl Electrical,
    part: PartId,
    input: usize,
) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    let line = &module.inputs[input];
    let rests_low = line.pull == Pull::Down;
    if state.has(|deviation| *deviation == Deviation::InputDeaf(part, input)) {
        return rests_low;
    }
    let volts = pin_volts(vehicle, wiring, point, part, line.pin);
    volts < line.low_below_volts || (state.part(part).low[input] && volts < line.high_above_volts)
}

/// Loads as they are: one whose own fuse has blown is open.
pub(super) fn live(loads: &[Load], tool_fuses: &[Option<FuseBody>]) -> Vec<Load> {
    loads
        .iter()
        .zip(tool_fuses)
        .map(|(load, fuse)| match fuse {
            Some(fuse) if fuse.blown => Load { law: Law::OPEN, ..*load },
            _ => *load,
        })
        .collect()
}

/// The latch lets go: the claw opens, and a shut lid springs off its seal.
pub(crate) fn release(vehicle: &Vehicle, state: &mut PhysicalState) {
    state.claw_home = false;
    if matches!(state.lid, LidPosition::Shut | LidPosition::FirstCatch) {
        state.move_lid(LidPosition::Angle(vehicle.lid.springs_degrees));
    }
}

/// Whether a module has the supply that it needs.
pub(crate) fn module_works(
    vehicle: &Vehicle,
    wiring: &Wiring,
    point: &impl Electrical,
    part: PartId,
) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    pin_volts(vehicle, wiring, point, part, module.supply) > module.works_above_volts
}

/// A module's pin against its ground, in volts.
pub(crate) fn pin_volts(
    vehicle: &Vehicle,
    wiring: &Wiring,
    point: &impl Electrical,
    part: PartId,
    pin: u8,
) -> f64 {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return 0.0 };
    let volts =
        |pin: u8| point.volts(wiring.node(Point::Cavity(vehicle.part(part).connector, Half::Mate, pin)));
    volts(pin) - volts(module.ground)
}
