//! Time passes: stretches in which things move, and stretches in which all rests, ended by events.

mod arcs;
mod delays;
mod films;
mod heat;
mod light;
mod memories;
mod moving;
mod resting;

pub use delays::Event;
pub(super) use light::full_light;
pub use light::lights;

use std::fmt;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use super::command::with_loads;
use super::deviation::Deviation;
use super::ids::PartId;
use super::model::Vehicle;
use super::part::{Motor, PartKind};
use super::sense::held_outputs;
use super::state::{FuseBody, LidPosition, PartState, PhysicalState};
use super::timers::INSTANT_SECONDS;
use super::wiring::{Pace, Wiring, coil_ohms, winding_ohms};
use crate::circuit::{
    Branch, Electrical, Law, Load, LoadPoint, LoadedWhenNeeded, Node, OperatingPoint, Snapshot, Trace,
    Unsolved, operating_point, spare,
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

/// A stretch of time up to an event. What a module takes in ends one only where it makes a difference.
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
    /// The circuit meanwhile, for what looks at it afterwards.
    trace: PhaseTrace,
    /// What ended it; `None`: time was up, or all came to rest.
    pub event: Option<Event>,
}

/// The circuit while a phase lasted.
#[derive(Clone)]
enum PhaseTrace {
    /// At rest, for these seconds.
    Rest(Arc<Found>, f64),
    Moving(Arc<Trace>),
}

impl fmt::Debug for PhaseTrace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Rest(..) => "Rest",
            Self::Moving(_) => "Moving",
        })
    }
}

impl Phase {
    /// What something so light would feel that it moves nothing which has a memory, from the beginning of the phase to its
    /// end: seconds, and what it feels. `wiring` and `loaded` are those with which it has passed.
    ///
    /// # Errors
    /// [`Unsolved`] where there is no answer in numbers.
    pub fn feel(
        &self,
        wiring: &Wiring,
        loaded: Option<&LoadedWhenNeeded>,
        load: &Load,
    ) -> Result<Vec<(f64, LoadPoint)>, Unsolved> {
        match &self.trace {
            PhaseTrace::Rest(found, seconds) => {
                let felt = found.feel(wiring, loaded, load)?;
                Ok(vec![(0.0, felt), (*seconds, felt)])
            }
            PhaseTrace::Moving(trace) => {
                let bare = wiring.network();
                trace.feel(loaded.map_or(bare, |loaded| loaded.network(bare).network()), load)
            }
        }
    }
}

/// Phases in one go after which something keeps switching: a relay that chatters, a module that loses its own supply. What
/// is left of the time then passes at once, for the battery and the fuses as it has passed until then.
pub const MOST_PHASES: usize = 256;

/// Lets `drive.seconds` pass. Lamps and fuses warm, motors turn, relays move, the latch lets go and the lid springs up:
/// all of it happens in `state`. Each phase comes back in order, and whether a module has taken an input for changed.
///
/// `loads` are what the person has connected; a load whose fuse blows is open from then on.
///
/// # Errors
/// [`Unsolved`] where a state has no operating point; `state` is then as far as it got.
#[expect(clippy::too_many_arguments, reason = "the vehicle, what drives it, and what hangs on it")]
pub(super) fn run(
    vehicle: &Vehicle,
    wiring: &Wiring,
    prepared: Option<&LoadedWhenNeeded>,
    state: &mut PhysicalState,
    drive: Drive<'_>,
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
    last: &mut LastPoint,
) -> Result<(Vec<Phase>, bool), Unsolved> {
    let own;
    let loaded = match prepared {
        None if !loads.is_empty() => {
            let ends: Vec<(Node, Node)> = loads.iter().map(|load| (load.from, load.to)).collect();
            own = LoadedWhenNeeded::on(ends);
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
        noticed: false,
        flickers: vec![false; vehicle.parts.len()],
        last,
        phases: Vec::new(),
    };
    course.begin();
    course.go(drive.seconds)?;
    Ok((course.phases, course.noticed))
}

/// The operating points that were found last on one wiring, and for which laws and loads. What begins where something else
/// has ended begins with the same circuit: then they are handed on.
#[derive(Clone, Default)]
pub struct LastPoint {
    /// With loads.
    loaded: Option<Arc<Found>>,
    /// Without any, the last one first: a single load is put on such a one.
    bare: [Option<Arc<Found>>; KEPT],
}

/// So many are kept: what is switched on and off again, or opened and shut, comes back.
const KEPT: usize = 2;

/// An operating point, and what it is of.
pub struct Found {
    laws: Arc<Vec<Law>>,
    loads: Vec<Load>,
    point: Arc<OperatingPoint>,
    /// The same with a single load as a branch, once somebody looks beside it.
    whole: OnceLock<OperatingPoint>,
    /// What was put on it last, and what that felt.
    felt: Mutex<Option<(Load, LoadPoint)>>,
}

impl Found {
    fn new(laws: Arc<Vec<Law>>, loads: Vec<Load>, point: Arc<OperatingPoint>) -> Arc<Self> {
        Arc::new(Self { laws, loads, point, whole: OnceLock::new(), felt: Mutex::new(None) })
    }

    /// The operating point.
    #[must_use]
    pub fn point(&self) -> &OperatingPoint {
        &self.point
    }

    /// What one load more would feel, a light one.
    ///
    /// # Errors
    /// [`Unsolved`] where there is no answer in numbers.
    pub fn feel(
        &self,
        wiring: &Wiring,
        loaded: Option<&LoadedWhenNeeded>,
        load: &Load,
    ) -> Result<LoadPoint, Unsolved> {
        let mut last = self.felt.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, felt)) = last.filter(|(known, _)| known == load) {
            return Ok(felt);
        }
        let bare = wiring.network();
        let felt = if self.loads.is_empty() {
            self.point.feel(bare, load)?
        } else {
            let own;
            let loaded = match loaded {
                Some(loaded) => loaded,
                None => {
                    own = LoadedWhenNeeded::on(self.loads.iter().map(|load| (load.from, load.to)).collect());
                    &own
                }
            };
            let network = loaded.network(bare);
            let point = match (&*self.loads, self.whole.get()) {
                ([_], Some(point)) => point,
                ([_], None) => {
                    let point = network.operating_point(&self.laws, &self.loads)?;
                    self.whole.get_or_init(|| point)
                }
                _ => &*self.point,
            };
            point.feel(network.network(), load)?
        };
        *last = Some((*load, felt));
        Ok(felt)
    }
}

/// Its laws are used again once nobody needs them.
impl Drop for Found {
    fn drop(&mut self) {
        if let Some(laws) = Arc::get_mut(&mut self.laws) {
            spare::done(std::mem::take(laws));
        }
    }
}

/// What was found last is a memory of work done, and no part of how a vehicle stands.
impl fmt::Debug for LastPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("LastPoint")
    }
}

impl LastPoint {
    /// The operating point of these laws and loads.
    ///
    /// # Errors
    /// [`Unsolved`] where there is none.
    pub(super) fn find(
        &mut self,
        wiring: &Wiring,
        loaded: Option<&LoadedWhenNeeded>,
        laws: Vec<Law>,
        loads: Vec<Load>,
    ) -> Result<Arc<Found>, Unsolved> {
        if loads.is_empty() {
            return self.bare(wiring, laws).map(Arc::clone);
        }
        if let Some(found) = self.loaded.as_ref().filter(|found| found.loads == loads && *found.laws == laws)
        {
            spare::done(laws);
            return Ok(Arc::clone(found));
        }
        let (laws, point) = if let [load] = &*loads {
            let bare = self.bare(wiring, laws)?;
            (Arc::clone(&bare.laws), bare.point.with_load(wiring.network(), load)?)
        } else {
            let point = with_loads(wiring, loaded, &laws, &loads)?;
            (Arc::new(laws), point)
        };
        let found = Found::new(laws, loads, Arc::new(point));
        self.loaded = Some(Arc::clone(&found));
        Ok(found)
    }

    /// The operating point of these laws without loads.
    fn bare(&mut self, wiring: &Wiring, laws: Vec<Law>) -> Result<&Arc<Found>, Unsolved> {
        let known =
            self.bare.iter().position(|found| found.as_ref().is_some_and(|found| *found.laws == laws));
        if let Some(at) = known {
            self.bare[..=at].rotate_right(1);
            spare::done(laws);
        } else {
            let point = Arc::new(operating_point(wiring.network(), &laws, &[])?);
            self.bare.rotate_right(1);
            self.bare[0] = Some(Found::new(Arc::new(laws), Vec::new(), point));
        }
        Ok(self.bare[0].as_ref().expect("it has just been found"))
    }
}

/// One stretch of time under way.
struct Course<'a> {
    vehicle: &'a Vehicle,
    wiring: &'a Wiring,
    state: &'a mut PhysicalState,
    loads: &'a [Load],
    /// The circuit with the loads as its last branches, if there are any.
    loaded: Option<&'a LoadedWhenNeeded>,
    tool_fuses: &'a mut ToolFuses,
    pulse: Option<(PartId, usize)>,
    watched: &'a [(Branch, f64)],
    fine: bool,
    notices: bool,
    /// A module has taken an input for changed.
    noticed: bool,
    /// By part: a lamp that got so much voltage for a moment that its filament has to be followed.
    flickers: Vec<bool>,
    last: &'a mut LastPoint,
    phases: Vec<Phase>,
}

impl Course<'_> {
    /// What has lost its path since time passed last has lost its current too.
    fn begin(&mut self) {
        self.state.carried.resize(self.wiring.gaps().len(), 0.0);
        for (id, part) in self.vehicle.parts() {
            let ohms = match &part.kind {
                PartKind::Relay(relay) => coil_ohms(self.state, id, relay),
                kind => kind.motor().map_or(0.0, |motor| winding_ohms(self.state, id, motor)),
            };
            if ohms.is_infinite() {
                let now = &mut self.state.parts[id.index()];
                (now.amps, now.speed_volts) = (0.0, 0.0);
            }
        }
    }

    fn go(&mut self, seconds: f64) -> Result<(), Unsolved> {
        let mut left = seconds;
        let begun = self.spent_so_far();
        while left > INSTANT_SECONDS && self.phases.len() < MOST_PHASES {
            if self.notices && self.noticed {
                return Ok(());
            }
            let on = self.on();
            self.reset_outputs(&on);
            self.wet_films(&on)?;
            let laws = self.wiring.laws(self.vehicle, self.state, &on, Pace::Rest);
            let arcs = self.arcs(&laws);
            let found = self.point(laws)?;
            left -= if arcs.is_empty() && self.is_resting(&found.point) {
                self.settle_at(&found.point);
                self.rest_phase(&found, on, left)
            } else {
                self.moving_phase(&found, on, &arcs, left)?
            };
        }
        if self.phases.len() >= MOST_PHASES && seconds > left {
            self.carry_on(&begun, left / (seconds - left));
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

    /// An output that has shut itself down may be tried again once nothing asks for it any more.
    fn reset_outputs(&mut self, on: &[(PartId, usize)]) {
        for (part, module) in self.vehicle.modules() {
            for output in 0..module.outputs.len() {
                self.state.parts[part.index()].shut_down[output] &= on.contains(&(part, output));
            }
        }
    }

    /// The operating point in which everything that moves has come to rest, if nothing switches.
    fn rest(&mut self, on: &[(PartId, usize)]) -> Result<Arc<Found>, Unsolved> {
        self.point(self.wiring.laws(self.vehicle, self.state, on, Pace::Rest))
    }

    /// The operating point by these laws.
    fn point(&mut self, laws: Vec<Law>) -> Result<Arc<Found>, Unsolved> {
        self.last.find(self.wiring, self.loaded, laws, live(self.loads, self.tool_fuses))
    }

    /// Whether a motor cannot turn the way in which this current would drive it, in amps.
    fn is_held(&self, id: PartId, amps: f64) -> bool {
        self.way_left(id, amps) <= 0.0 || self.state.has(|d| *d == Deviation::Jammed(id))
    }

    /// How far a motor can still go the way that this sign says, in volt-seconds: backwards a latch's motor comes no
    /// further than where it set out. A plunger is drawn in whichever way its current flows.
    fn way_left(&self, id: PartId, sign: f64) -> f64 {
        let turned = self.state.part(id).turned_volt_seconds;
        match &self.vehicle.part(id).kind {
            PartKind::Latch(latch) if sign < 0.0 && !latch.solenoid => turned,
            PartKind::Latch(latch) => latch.motor.travel_volt_seconds - turned,
            _ => f64::INFINITY,
        }
    }

    /// Adds to the way that a motor has gone, in volt-seconds with the sign of its speed.
    fn go_on(&mut self, id: PartId, volt_seconds: f64) {
        let plunges = matches!(&self.vehicle.part(id).kind, PartKind::Latch(latch) if latch.solenoid);
        let now = &mut self.state.parts[id.index()];
        now.turned_volt_seconds += if plunges { volt_seconds.abs() } else { volt_seconds };
        now.has_turned |= volt_seconds != 0.0;
    }

    fn breakaway_amps(&self, id: PartId, motor: &Motor) -> f64 {
        self.state.present().fold(motor.breakaway_amps, |amps, deviation| match *deviation {
            Deviation::Stiff(part, stiff) if part == id => amps.max(stiff),
            _ => amps,
        })
    }

    /// The latch's drive has come to the end of its way, or back to its beginning.
    fn end_of_travel(&self) -> Event {
        let (latch, file) = self.vehicle.latch();
        let drawn = self.state.part(latch).turned_volt_seconds > 0.5 * file.motor.travel_volt_seconds;
        let holds = self.state.claw_home || self.state.lid == LidPosition::FirstCatch;
        if drawn && holds { Event::Released } else { Event::AtEnd }
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
                let (latch, file) = self.vehicle.latch();
                let travel = file.motor.travel_volt_seconds;
                let now = &mut self.state.parts[latch.index()];
                now.speed_volts = 0.0;
                now.turned_volt_seconds = if now.turned_volt_seconds > 0.5 * travel { travel } else { 0.0 };
                if what == Event::Released {
                    release(self.vehicle, self.state);
                }
            }
            Some(Event::Relay(_) | Event::Input(..) | Event::ShutDown(..) | Event::Supply(_)) | None => {}
        }
    }

    /// Motors that turn steadily go their way.
    fn turn(&mut self, seconds: f64) {
        for (id, _) in self.vehicle.parts() {
            self.go_on(id, self.state.part(id).speed_volts * seconds);
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

/// What watched branches carry together, each counted its way, in amps.
#[must_use]
pub fn sum_of(watched: &[(Branch, f64)], point: &impl Electrical) -> f64 {
    watched.iter().map(|(branch, sign)| sign * point.amps(*branch)).sum()
}

/// Volts from a branch's first node to its second.
fn across(wiring: &Wiring, point: &impl Electrical, branch: Branch) -> f64 {
    let (from, to) = wiring.network().ends(branch);
    point.volts(from) - point.volts(to)
}
