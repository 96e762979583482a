//! One vehicle as it stands, with the learner's kit on it.

use std::sync::Arc;

use super::accuracy::InstrumentErrors;
use super::action::{Lead, MeterSetting};
use super::chance::Chance;
use super::kit::Kit;
use super::meter::SHUNT_AND_LEADS_OHMS;
use super::outcome::{Caution, ClampReading, Display, Moment, MotorState, Reading};
use super::runs::{Brought, Passing, Phases, Runs};
use super::sampling::{Felt, Tape};
use super::shared::Shared;
use crate::circuit::{Branch, LoadPoint, LoadedWhenNeeded, OperatingPoint, Unsolved};
use crate::fault::PlacedFault;
use crate::vehicle::{
    Conditions, Deviation, Found, LastPoint, LidPosition, PartId, PartKind, Phase, PhysicalState, Point,
    Pressed, Screen, Vehicle, When, Wiring, away_inputs, held_outputs, lights, still, sum_of, watch,
};

/// Current through the motor below which it makes no sound, in amps.
const HUM_AMPS: f64 = 0.4;
/// Voltage that makes a circuit live for an ohms reading, in volts, and the source resistance above which it is only a
/// ghost, in ohms.
const LIVE_VOLTS: f64 = 0.005;
const GHOST_OHMS: f64 = 1e5;
/// How long nothing is done after an act, so that what it started can end, in seconds.
const SETTLE_SECONDS: f64 = 20.0;
/// The shortest moment that a scene can show, in seconds.
const MOMENT_SECONDS: f64 = 0.008;

/// One vehicle as it stands, with the learner's kit on it.
#[derive(Clone, Debug)]
pub struct World {
    /// The vehicle's state.
    pub state: PhysicalState,
    /// How it stood when it came in: what the customer can tell.
    pub arrived: Arc<PhysicalState>,
    /// The kit.
    pub kit: Kit,
    /// What is there to see with nothing being done.
    pub rest: Rest,
    pub(super) shared: Arc<Shared>,
    pub(super) wiring: Arc<Wiring>,
    /// The circuit prepared for what is connected, and to which nodes that is; worlds that have come of one another share it.
    pub(super) loaded: Option<Arc<LoadedWhenNeeded>>,
    pub(super) last: LastPoint,
    /// What time has brought of late to this and to those that have come of it, where that is kept in mind.
    pub(super) runs: Option<Arc<Runs>>,
    /// What the instruments have felt since the act began.
    pub(super) tape: Tape,
}

/// What is there to see with nothing being done.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rest {
    /// The light of every lamp, as a fraction of its light at the battery's full voltage.
    pub lights: Vec<(PartId, f64)>,
    /// The light of each tool that is clipped on; 0 for those that are no lamps.
    pub tool_lights: Vec<f64>,
    /// What the meter shows, if it is connected.
    pub reading: Option<Reading>,
    /// What the clamp shows, if it is closed round something.
    pub clamp: Option<ClampReading>,
    /// What the instruments feel.
    pub(super) felt: Felt,
    /// The sign on the dash for an open lid is lit.
    pub lid_sign: bool,
    /// The lid is held by its latch.
    pub shut: bool,
    /// How often a module chirped while all came to rest.
    pub chirps: u8,
    /// Motors that turn as long as they are fed, and whether they do.
    pub turning: Vec<(PartId, bool)>,
    /// The heat of every heated screen's lines, as a fraction of what they give at the battery's full voltage.
    pub screens: Vec<(PartId, Vec<f64>)>,
    /// Inputs that modules take to have left their rest; `None` before anything has been seen.
    pub(super) away: Option<Vec<(PartId, usize)>>,
    /// Cautions that the present connections call for.
    pub cautions: Vec<Caution>,
}

impl World {
    /// The vehicle with `fault`, as it came in, and instruments that are off by this much.
    ///
    /// # Errors
    /// [`Unsolved`] where that state has no operating point.
    pub fn new(
        vehicle: &Vehicle,
        fault: Option<&PlacedFault>,
        errors: InstrumentErrors,
    ) -> Result<Self, Unsolved> {
        Self::standing(vehicle, fault, errors, Conditions::default())
    }

    /// The same, in these conditions.
    ///
    /// # Errors
    /// [`Unsolved`] where that state has no operating point.
    pub fn standing(
        vehicle: &Vehicle,
        fault: Option<&PlacedFault>,
        errors: InstrumentErrors,
        conditions: Conditions,
    ) -> Result<Self, Unsolved> {
        Self::sharing(Arc::default(), vehicle, fault, errors, conditions)
    }

    /// The same, beside another world of the same vehicle: what follows from the vehicle alone they work out once.
    ///
    /// # Errors
    /// [`Unsolved`] where that state has no operating point.
    pub fn beside(
        &self,
        vehicle: &Vehicle,
        fault: Option<&PlacedFault>,
        errors: InstrumentErrors,
        conditions: Conditions,
    ) -> Result<Self, Unsolved> {
        Self::sharing(Arc::clone(&self.shared), vehicle, fault, errors, conditions)
    }

    fn sharing(
        shared: Arc<Shared>,
        vehicle: &Vehicle,
        fault: Option<&PlacedFault>,
        errors: InstrumentErrors,
        conditions: Conditions,
    ) -> Result<Self, Unsolved> {
        let mut state = fault.map_or_else(|| PhysicalState::sound(vehicle), |fault| fault.stands(vehicle));
        state.stand_in(conditions);
        let mut world = Self::before_a_look(shared, vehicle, Arc::new(state), errors);
        world.settle(vehicle)?;
        Ok(world)
    }

    /// A vehicle that came in like this beside another, of which nothing has been seen yet.
    pub(super) fn unseen(&self, vehicle: &Vehicle, arrived: Arc<PhysicalState>) -> Self {
        Self::before_a_look(Arc::clone(&self.shared), vehicle, arrived, InstrumentErrors::NONE)
    }

    fn before_a_look(
        shared: Arc<Shared>,
        vehicle: &Vehicle,
        arrived: Arc<PhysicalState>,
        errors: InstrumentErrors,
    ) -> Self {
        let state = PhysicalState::clone(&arrived);
        let wiring = shared.wiring(vehicle, &state);
        Self {
            arrived,
            state,
            kit: Kit::new(errors),
            rest: Rest::default(),
            shared,
            wiring,
            loaded: None,
            last: LastPoint::default(),
            runs: None,
            tape: Tape::default(),
        }
    }

    /// Lets the customer's drive to the workshop happen: what touches when it likes settles as chance has it.
    ///
    /// # Errors
    /// [`Unsolved`] where the state that they settle to has no operating point.
    pub fn arrive(&mut self, vehicle: &Vehicle, chance: &mut dyn Chance) -> Result<(), Unsolved> {
        for one in &mut self.state.deviations {
            if let When::Flexed(share) | When::Shaken(share) | When::Turned(share) = one.deviation.when() {
                one.present = chance.happens(share);
            }
        }
        self.arrived = Arc::new(self.state.clone());
        self.settle(vehicle).map(|_| ())
    }

    /// Brings everything that can be seen to stand as on another vehicle of the same kind: lid, panels, connectors,
    /// switches, fuses, and the kit. What is wrong stays as it is.
    ///
    /// # Errors
    /// [`Unsolved`] where that state has no operating point.
    pub fn stand_like(&mut self, vehicle: &Vehicle, other: &Self) -> Result<(), Unsolved> {
        let (state, shown) = (&mut self.state, &other.state);
        state.claw_home = shown.claw_home;
        state.propped = shown.propped;
        state.panels_off.clone_from(&shown.panels_off);
        state.mated.clone_from(&shown.mated);
        state.on.clone_from(&shown.on);
        for (slot, seen) in state.fuses.iter_mut().zip(&shown.fuses) {
            if slot.fitted.is_some() != seen.fitted.is_some() {
                std::mem::swap(&mut slot.fitted, &mut slot.pulled);
            }
        }
        state.move_lid(shown.lid);
        let errors = self.kit.errors;
        self.kit = Kit { errors, ..other.kit.clone() };
        self.rest = Rest::default();
        self.rewire(vehicle);
        self.settle(vehicle).map(|_| ())
    }

    /// Whether everything that can be seen stands as on another vehicle of the same kind.
    #[must_use]
    pub fn stands_like(&self, other: &Self) -> bool {
        let (state, shown) = (&self.state, &other.state);
        state.lid == shown.lid
            && state.claw_home == shown.claw_home
            && state.panels_off == shown.panels_off
            && state.mated == shown.mated
            && state.on == shown.on
            && state.fuses_fitted() == shown.fuses_fitted()
    }

    /// What the meter's display shows, if it is connected.
    #[must_use]
    pub fn display(&self) -> Option<Display> {
        self.rest.reading.as_ref().map(|reading| reading.now)
    }

    /// Lays the circuit out anew after the list of deviations has changed.
    pub(super) fn rewire(&mut self, vehicle: &Vehicle) {
        if !self.wiring.fits(&self.state) {
            self.wiring = self.shared.wiring(vehicle, &self.state);
        }
        self.loaded = None;
        self.last = LastPoint::default();
    }

    /// Keeps in mind from now on what time brings, for this and all that come of it: what stands alike to the bit, whatever a
    /// voltmeter looks at, is played once. It saves time and changes nothing.
    pub(crate) fn keep_runs(&mut self) {
        self.runs.get_or_insert_default();
    }

    /// Lets time pass with nothing commanded until all has come to rest; then looks.
    pub(super) fn settle(&mut self, vehicle: &Vehicle) -> Result<Phases, Unsolved> {
        let before = self.rest.away.clone();
        let (mut phases, mut chirps) = self.attend(vehicle, SETTLE_SECONDS)?;
        if before.is_some() && before != self.rest.away {
            self.wake(vehicle);
            let (more, again) = self.attend(vehicle, SETTLE_SECONDS)?;
            phases.extend(more);
            chirps += again;
        }
        self.look(vehicle)?;
        self.rest.chirps = chirps;
        Ok(phases)
    }

    /// Lets this many seconds pass with nothing commanded, and as many again after a module has done something: one that
    /// sees an input leave its rest, whatever pulled it, does what it does when it is asked. Says how often one chirped.
    pub(super) fn attend(&mut self, vehicle: &Vehicle, seconds: f64) -> Result<(Phases, u8), Unsolved> {
        let brought = self.pass(vehicle, Passing::Attended(seconds, self.rest.away.clone()))?;
        self.record(&brought.phases)?;
        self.rest.away = Some(away_inputs(vehicle, &self.state));
        Ok((brought.phases.clone(), brought.chirps))
    }

    /// Lets the minutes pass that an act takes: the battery drains, fuses heat, modules fall asleep when nothing asks
    /// them for anything.
    pub(super) fn tick(&mut self, vehicle: &Vehicle, minutes: f64) -> Result<Phases, Unsolved> {
        let mut phases = Vec::new();
        let mut left = minutes;
        loop {
            let until_asleep = self.doze(vehicle);
            let passes = left.min(until_asleep);
            phases.extend(self.pass(vehicle, Passing::Idle(passes * 60.0))?.phases.iter().cloned());
            self.state.quiet_minutes += passes;
            left -= passes;
            if left <= 0.0 {
                break;
            }
        }
        self.doze(vehicle);
        self.state.weather(minutes);
        Ok(phases)
    }

    /// Lets modules fall asleep that nothing has asked for anything for long enough; the minutes until the next does.
    fn doze(&mut self, vehicle: &Vehicle) -> f64 {
        let busy = !held_outputs(vehicle, &self.state).is_empty();
        let mut next = f64::INFINITY;
        for (part, module) in vehicle.modules() {
            let stays_awake = busy || self.state.has(|d| *d == Deviation::NeverSleeps(part));
            let left = module.sleeps_after_minutes - self.state.quiet_minutes;
            self.state.parts[part.index()].asleep = !stays_awake && left <= 0.0;
            if !stays_awake && left > 0.0 {
                next = next.min(left);
            }
        }
        next
    }

    /// Something has asked the modules for something.
    pub(super) fn wake(&mut self, vehicle: &Vehicle) {
        self.state.quiet_minutes = 0.0;
        for (part, _) in vehicle.modules() {
            self.state.parts[part.index()].asleep = false;
        }
    }

    /// Presses a button.
    pub(super) fn press(&mut self, vehicle: &Vehicle, pressed: Pressed) -> Result<Arc<Brought>, Unsolved> {
        self.wake(vehicle);
        let brought = self.pass(vehicle, Passing::Press(pressed))?;
        self.record(&brought.phases)?;
        Ok(brought)
    }

    /// The branches that the clamp is around, and which way each counts.
    pub(super) fn clamped(&self, vehicle: &Vehicle) -> Vec<(Branch, f64)> {
        self.kit.clamp.map_or_else(Vec::new, |clamp| clamp.branches(vehicle, &self.state, &self.wiring))
    }

    /// Takes down what the instruments felt while phases passed.
    fn record(&mut self, phases: &[Arc<Phase>]) -> Result<(), Unsolved> {
        let voltmeter = self.kit.looks(&self.wiring);
        let mut tape = std::mem::take(&mut self.tape);
        for phase in phases {
            let looked = match &voltmeter {
                Some(load) => phase.feel(&self.wiring, self.loaded.as_deref(), load)?,
                None => Vec::new(),
            };
            let looked = looked.into_iter().map(|(seconds, felt)| {
                (seconds, Felt { meter: Some(self.kit.meter.felt(felt)), ..Felt::default() })
            });
            let felt = phase
                .samples
                .iter()
                .map(|sample| (sample.at_seconds, self.felt(&sample.loads, sample.watched_amps)));
            tape.run(phase.seconds, looked.chain(felt));
        }
        self.tape = tape;
        Ok(())
    }

    /// What the instruments feel that count while time passes, and the current that the clamp is around.
    fn felt(&self, loads: &[LoadPoint], clamped_amps: f64) -> Felt {
        Felt {
            meter: self.kit.meter.is_load().then(|| self.kit.meter.felt(loads[0])),
            clamp: self.kit.clamp.map(|_| clamped_amps),
            recorder: self.kit.recorder.leads.map(|_| loads[loads.len() - 1].volts),
        }
    }

    /// Sees what there is to see at rest.
    fn look(&mut self, vehicle: &Vehicle) -> Result<(), Unsolved> {
        let mut last = std::mem::take(&mut self.last);
        let found = self.still(vehicle, &mut last)?;
        self.last = last;
        let point = found.point();
        let lid_sign = vehicle.modules().any(|(part, module)| {
            let now = self.state.part(part);
            now.works && module.inputs.iter().zip(&now.low).any(|(input, low)| input.lid_sign && *low)
        });
        watch(vehicle, &self.wiring, &mut self.state, point);
        let clamped_amps = sum_of(&self.clamped(vehicle), point);
        let mut felt = self.felt(point.loads(), clamped_amps);
        if let Some(load) = self.kit.looks(&self.wiring) {
            let loads = self.kit.loads_in_time(&self.wiring).0;
            let looked = found.feel(&self.wiring, self.fitting(&loads), &load)?;
            felt.meter = Some(self.kit.meter.felt(looked));
        }
        let reading = felt.meter.map(|felt| self.reading(felt));
        let clamp = self.kit.clamp.zip(felt.clamp).map(|(clamp, amps)| ClampReading {
            now: clamp.display(amps, self.kit.errors.clamp_gain),
            during: Vec::new(),
            settling: false,
        });
        self.rest = Rest {
            lights: vehicle.lamps().zip(lights(vehicle, &self.wiring, &self.state, point)).collect(),
            tool_lights: self.tool_lights(vehicle, point.loads()),
            turning: motors(vehicle).map(|part| (part, self.state.part(part).speed_volts != 0.0)).collect(),
            screens: self.screens(vehicle, point),
            reading,
            clamp,
            felt,
            lid_sign,
            shut: matches!(self.state.lid, LidPosition::Shut | LidPosition::FirstCatch),
            chirps: 0,
            away: Some(away_inputs(vehicle, &self.state)),
            cautions: self.connection_cautions(vehicle, point)?,
        };
        Ok(())
    }

    /// The heat of each line of every heated screen, as a fraction of what it gives at the battery's full voltage.
    fn screens(&self, vehicle: &Vehicle, point: &OperatingPoint) -> Vec<(PartId, Vec<f64>)> {
        let full = vehicle.battery.open_volts;
        vehicle
            .screens()
            .map(|(part, screen)| {
                // What is drawn away half-way leaves one half of a line warmer than the other: the colder is seen.
                let heat = |line: u8| {
                    (1..=Screen::SECTIONS)
                        .map(|section| point.amps(self.wiring.section_branch(part, line, section)))
                        .map(|amps| amps * screen.line_ohms / full)
                        .fold(f64::INFINITY, |least, share| least.min(share * share))
                };
                (part, (1..=screen.lines).map(heat).collect())
            })
            .collect()
    }

    pub(super) fn still(&self, vehicle: &Vehicle, last: &mut LastPoint) -> Result<Arc<Found>, Unsolved> {
        let (loads, fuses) = self.kit.loads_in_time(&self.wiring);
        still(vehicle, &self.wiring, self.fitting(&loads), &self.state, &loads, &fuses, last)
    }

    /// The light of every tool that is clipped on.
    pub(super) fn tool_lights(&self, vehicle: &Vehicle, loads: &[LoadPoint]) -> Vec<f64> {
        let first = usize::from(self.kit.meter.is_load());
        self.kit
            .clips
            .iter()
            .zip(&loads[first..])
            .map(|(clip, load)| match clip.tool {
                super::action::Tool::TestLamp(size) => {
                    let filament = size.filament();
                    filament.light(load.volts) / filament.light(vehicle.battery.open_volts)
                }
                _ => 0.0,
            })
            .collect()
    }

    /// The meter's display at rest.
    fn reading(&mut self, felt: f64) -> Reading {
        let error = self.kit.meter_error();
        let meter = &mut self.kit.meter;
        let held = meter.capture.then(|| *meter.held.get_or_insert((felt, felt)));
        let meter = &self.kit.meter;
        let show = |felt| meter.display(felt, error);
        Reading {
            setting: meter.setting,
            now: show(felt),
            during: Vec::new(),
            settling: false,
            held: held.map(|(least, greatest)| (show(least), show(greatest))),
            tone: meter.sounds(felt),
            tone_changes: Vec::new(),
        }
    }

    /// What the present connections call for: ohms on a circuit with power, amps across a source. Judged by what is
    /// there without the meter.
    fn connection_cautions(
        &self,
        vehicle: &Vehicle,
        point: &OperatingPoint,
    ) -> Result<Vec<Caution>, Unsolved> {
        let meter = &self.kit.meter;
        let (Some(red), Some(black), true) =
            (meter.touches(Lead::Red), meter.touches(Lead::Black), meter.is_connected())
        else {
            return Ok(Vec::new());
        };
        if !meter.setting.is_source() && meter.setting != MeterSetting::Amps {
            return Ok(Vec::new());
        }
        let port = match point.met_port() {
            Some(port) => port,
            None => {
                let (loads, fuses) = self.kit.loads_in_time(&self.wiring);
                let (loads, fuses) = (&loads[1..], &fuses[1..]);
                let mut last = self.last.clone();
                let bare = still(vehicle, &self.wiring, None, &self.state, loads, fuses, &mut last)?;
                bare.point().port(self.wiring.network(), self.wiring.node(red), self.wiring.node(black))
            }
        };
        let caution = match meter.setting {
            setting
                if setting.is_source() && port.open_volts.abs() > LIVE_VOLTS && port.ohms < GHOST_OHMS =>
            {
                Some(Caution::OhmsOnLive)
            }
            // In line, in place of a fuse, the meter belongs there whatever flows.
            MeterSetting::Amps
                if !is_in_line(red, black)
                    && port.open_volts.abs()
                        > f64::from(meter.fuse.rating_amps) * (port.ohms + SHUNT_AND_LEADS_OHMS) =>
            {
                Some(Caution::AmpsAcrossSource)
            }
            _ => None,
        };
        Ok(caution.into_iter().collect())
    }

    /// Phases as the scene plays them: no finer than it can show.
    pub(super) fn moments(&self, vehicle: &Vehicle, phases: &[Arc<Phase>]) -> Vec<Moment> {
        let latch = vehicle.latch().0;
        let mut moments = Vec::new();
        for phase in phases {
            let turns = |part: &PartId| motor_state(phase, *part) == MotorState::Running;
            let turning: Vec<PartId> = motors(vehicle).filter(turns).collect();
            let mut from_seconds = 0.0;
            for (at, sample) in phase.samples.iter().enumerate().skip(1) {
                let seconds = sample.at_seconds - from_seconds;
                if seconds >= MOMENT_SECONDS || at + 1 == phase.samples.len() {
                    from_seconds = sample.at_seconds;
                    moments.push(Moment {
                        milliseconds: seconds * 1e3,
                        motor: motor_state(phase, latch),
                        lights: vehicle.lamps().zip(sample.lights.iter().copied()).collect(),
                        turning: turning.clone(),
                    });
                }
            }
        }
        moments
    }
}

/// Whether two points are the two sides of one fuse slot.
fn is_in_line(red: Point, black: Point) -> bool {
    matches!((red, black), (Point::Fuse(a, _), Point::Fuse(b, _)) if a == b && red != black)
}

/// Motors that turn for as long as they have current: all but the latch's.
fn motors(vehicle: &Vehicle) -> impl Iterator<Item = PartId> {
    vehicle.parts().filter(|(_, part)| matches!(part.kind, PartKind::Motor { .. })).map(|(part, _)| part)
}

/// What a motor does in a phase.
pub(super) fn motor_state(phase: &Phase, part: PartId) -> MotorState {
    match phase.motors.iter().find(|motor| motor.part == part) {
        Some(motor) if motor.turned_seconds > 0.5 * phase.seconds => MotorState::Running,
        Some(motor) if motor.amps.abs() > HUM_AMPS => MotorState::Stalled,
        _ => MotorState::Still,
    }
}
