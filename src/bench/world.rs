//! One vehicle as it stands, with the learner's kit on it.

use super::action::MeterSetting;
use super::chance::Chance;
use super::display::shown;
use super::kit::{Kit, SHUNT_AND_LEADS_OHMS, TONE_BELOW_OHMS};
use super::outcome::{Caution, Moment, MotorState, Reading};
use crate::circuit::{LoadPoint, OperatingPoint, Unsolved};
use crate::fault::PlacedFault;
use crate::vehicle::{
    Drive, LidPosition, PartId, Phase, PhysicalState, Point, Pressed, Response, Vehicle, When, Wiring,
    ask_by_inputs, is_low, low_inputs, press, run, still, watch,
};

/// Current through the motor below which it makes no sound, in amps.
const HUM_AMPS: f64 = 0.4;
/// Voltage that makes a circuit live for an ohms reading, in volts, and the source resistance above which it is only a
/// ghost, in ohms.
const LIVE_VOLTS: f64 = 0.005;
const GHOST_OHMS: f64 = 1e5;
/// How long nothing is done after an act, so that what it started can end, in seconds.
const SETTLE_SECONDS: f64 = 20.0;

/// One vehicle as it stands, with the learner's kit on it.
#[derive(Clone, Debug)]
pub struct World {
    /// The vehicle's state.
    pub state: PhysicalState,
    /// How it stood when it came in: what the customer can tell.
    pub arrived: PhysicalState,
    /// The kit.
    pub kit: Kit,
    /// What is there to see with nothing being done.
    pub rest: Rest,
    pub(super) wiring: Wiring,
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
    /// The sign on the dash for an open lid is lit.
    pub lid_sign: bool,
    /// The lid is held by its latch.
    pub shut: bool,
    /// How often a module chirped while all came to rest.
    pub chirps: u8,
    /// Inputs that modules take for low; `None` before anything has been seen.
    pub(super) low: Option<Vec<(PartId, usize)>>,
    /// Cautions that the present connections call for.
    pub cautions: Vec<Caution>,
}

impl World {
    /// The vehicle with `fault`, as it came in, and a meter with this error (a fraction of the reading).
    ///
    /// # Errors
    /// [`Unsolved`] where that state has no operating point.
    pub fn new(vehicle: &Vehicle, fault: Option<&PlacedFault>, meter_error: f64) -> Result<Self, Unsolved> {
        let state = fault.map_or_else(|| PhysicalState::sound(vehicle), |fault| fault.stands(vehicle));
        let wiring = Wiring::new(vehicle, &state);
        let mut world =
            Self { arrived: state.clone(), state, kit: Kit::new(meter_error), rest: Rest::default(), wiring };
        world.settle(vehicle)?;
        Ok(world)
    }

    /// Lets the customer's drive to the workshop happen: breaks that touch when they like settle as chance has it.
    ///
    /// # Errors
    /// [`Unsolved`] where the state that they settle to has no operating point.
    pub fn arrive(
        &mut self,
        vehicle: &Vehicle,
        locked: bool,
        chance: &mut dyn Chance,
    ) -> Result<(), Unsolved> {
        self.state.locked = locked;
        for one in &mut self.state.deviations {
            if let When::Flexed(probability) = one.deviation.when() {
                one.present = chance.happens(probability);
            }
        }
        self.arrived = self.state.clone();
        self.settle(vehicle).map(|_| ())
    }

    /// Lays the circuit out anew after the list of deviations has changed.
    pub(super) fn rewire(&mut self, vehicle: &Vehicle) {
        self.wiring = Wiring::new(vehicle, &self.state);
    }

    /// Lets time pass with nothing commanded until all has come to rest; then looks.
    ///
    /// A module that sees an input go low, whatever pulled it down, does what it does when it is asked.
    pub(super) fn settle(&mut self, vehicle: &Vehicle) -> Result<Vec<Phase>, Unsolved> {
        let mut phases = Vec::new();
        let mut chirps = 0;
        if let Some(before) = self.rest.low.clone() {
            let (loads, mut fuses) = self.kit.loads(&self.wiring);
            let response =
                ask_by_inputs(vehicle, &self.wiring, &mut self.state, &before, &loads, &mut fuses)?;
            self.kit.keep_fuses(&fuses);
            chirps = response.chirps;
            phases = response.phases;
        }
        phases.extend(self.pass(vehicle, SETTLE_SECONDS)?);
        self.look(vehicle)?;
        self.rest.chirps = chirps;
        Ok(phases)
    }

    /// Lets this many seconds pass with nothing commanded.
    pub(super) fn pass(&mut self, vehicle: &Vehicle, seconds: f64) -> Result<Vec<Phase>, Unsolved> {
        let (loads, mut fuses) = self.kit.loads(&self.wiring);
        let drive = Drive { closed: None, seconds };
        let phases = run(vehicle, &self.wiring, &mut self.state, drive, &loads, &mut fuses);
        self.kit.keep_fuses(&fuses);
        phases
    }

    /// Presses a button.
    pub(super) fn press(&mut self, vehicle: &Vehicle, pressed: Pressed) -> Result<Response, Unsolved> {
        let (loads, mut fuses) = self.kit.loads(&self.wiring);
        let response = press(vehicle, &self.wiring, &mut self.state, pressed, &loads, &mut fuses);
        self.kit.keep_fuses(&fuses);
        response
    }

    /// Sees what there is to see at rest.
    fn look(&mut self, vehicle: &Vehicle) -> Result<(), Unsolved> {
        let point = self.still(vehicle)?;
        let lid_sign = vehicle.modules().any(|(part, module)| {
            (0..module.inputs.len()).any(|input| {
                module.inputs[input].lid_sign
                    && is_low(vehicle, &self.wiring, &self.state, &point, part, module, input)
            })
        });
        watch(vehicle, &self.wiring, &mut self.state, &point);
        let reading = self.meter_point(&point).map(|load| self.reading(load));
        self.rest = Rest {
            lights: self.lights(vehicle, &point),
            tool_lights: self.tool_lights(vehicle, &point),
            reading,
            lid_sign,
            shut: matches!(self.state.lid, LidPosition::Shut | LidPosition::FirstCatch),
            chirps: 0,
            low: Some(low_inputs(vehicle, &self.wiring, &self.state, &point)),
            cautions: self.connection_cautions(vehicle)?,
        };
        Ok(())
    }

    fn still(&self, vehicle: &Vehicle) -> Result<OperatingPoint, Unsolved> {
        let (loads, fuses) = self.kit.loads(&self.wiring);
        still(vehicle, &self.wiring, &self.state, &loads, &fuses)
    }

    /// The light of every lamp of the vehicle.
    pub(super) fn lights(&self, vehicle: &Vehicle, point: &OperatingPoint) -> Vec<(PartId, f64)> {
        let full = vehicle.battery.open_volts;
        vehicle
            .lamps()
            .map(|(part, filament)| {
                let branch = self.wiring.lamp_branch(part);
                let (from, to) = self.wiring.network().ends(branch);
                let lit = point.amps(branch) != 0.0;
                let volts = if lit { point.volts(from) - point.volts(to) } else { 0.0 };
                (part, filament.light(volts) / filament.light(full))
            })
            .collect()
    }

    /// The light of every tool that is clipped on.
    pub(super) fn tool_lights(&self, vehicle: &Vehicle, point: &OperatingPoint) -> Vec<f64> {
        let first = usize::from(self.kit.meter.is_connected());
        self.kit
            .clips
            .iter()
            .zip(&point.loads()[first..])
            .map(|(clip, load)| match clip.tool {
                super::action::Tool::TestLamp(size) => {
                    let filament = size.filament();
                    filament.light(load.volts) / filament.light(vehicle.battery.open_volts)
                }
                _ => 0.0,
            })
            .collect()
    }

    /// What the meter feels.
    pub(super) fn meter_point(&self, point: &OperatingPoint) -> Option<LoadPoint> {
        self.kit.meter.is_connected().then(|| point.loads()[0])
    }

    /// The meter's display at rest.
    fn reading(&self, load: LoadPoint) -> Reading {
        let meter = &self.kit.meter;
        let figure = meter.figure(load);
        Reading {
            setting: meter.setting,
            now: shown(meter.setting, figure),
            during: None,
            greatest: meter.capture.then(|| shown(meter.setting, meter.greatest.or(figure))),
            tone: meter.setting == MeterSetting::Tone && figure.is_some_and(sounds),
        }
    }

    /// What the present connections call for: ohms on a circuit with power, amps across a source. Judged by what is
    /// there without the meter.
    fn connection_cautions(&self, vehicle: &Vehicle) -> Result<Vec<Caution>, Unsolved> {
        let meter = &self.kit.meter;
        let (Some(red), Some(black), true) = (meter.red, meter.black, meter.is_connected()) else {
            return Ok(Vec::new());
        };
        let (loads, fuses) = self.kit.loads(&self.wiring);
        let bare = still(vehicle, &self.wiring, &self.state, &loads[1..], &fuses[1..])?;
        let port = bare.port(self.wiring.network(), self.wiring.node(red), self.wiring.node(black));
        let caution = match meter.setting {
            MeterSetting::Ohms | MeterSetting::Tone
                if port.open_volts.abs() > LIVE_VOLTS && port.ohms < GHOST_OHMS =>
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

    /// Phases as the scene plays them.
    pub(super) fn moments(&self, vehicle: &Vehicle, phases: &[Phase]) -> Vec<Moment> {
        phases
            .iter()
            .map(|phase| Moment {
                milliseconds: phase.seconds * 1e3,
                motor: motor_state(phase),
                lights: self.lights(vehicle, &phase.point),
                meter: self.meter_point(&phase.point).and_then(|load| self.kit.meter.figure(load)),
            })
            .collect()
    }
}

/// Whether two points are the two sides of one fuse slot.
fn is_in_line(red: Point, black: Point) -> bool {
    matches!((red, black), (Point::Fuse(a, _), Point::Fuse(b, _)) if a == b && red != black)
}

/// Whether the tone sounds at this many ohms.
pub(super) fn sounds(ohms: f64) -> bool {
    ohms.abs() < TONE_BELOW_OHMS
}

/// What the motor does in a phase.
pub(super) fn motor_state(phase: &Phase) -> MotorState {
    if phase.motor_runs {
        MotorState::Running
    } else if phase.motor_amps.abs() > HUM_AMPS {
        MotorState::Stalled
    } else {
        MotorState::Still
    }
}
