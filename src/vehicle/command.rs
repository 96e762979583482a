//! Somebody presses a button: what the modules hear, agree to and do.

use std::sync::Arc;

use super::Deviation;
use super::ids::PartId;
use super::model::Vehicle;
use super::part::{Effect, KeyButton, Module, MonitorKind, OffTie, OutputKind, PartKind, Trigger};
use super::point::Point;
use super::run::{Drive, Found, LastPoint, Phase, ToolFuses, live, run};
use super::sense::{held_outputs, is_away, module_works, pin_volts};
use super::state::{FuseBody, PhysicalState};
use super::wiring::{Pace, Wiring, button_works};
use crate::circuit::{
    Branch, Electrical, Law, Load, LoadedWhenNeeded, OperatingPoint, Unsolved, operating_point,
};

/// What is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    /// A button of the key.
    Key(KeyButton),
    /// A switch that springs back.
    Switch(PartId),
}

/// What a press brought about.
#[derive(Clone, Debug, Default)]
pub struct Response {
    /// What happened in time, from the press to the end of the last command.
    pub phases: Vec<Phase>,
    /// How often the module chirped.
    pub chirps: u8,
    /// An output was told to close.
    pub commanded: Option<(PartId, usize)>,
}

/// How long a button is held, and how long lamps flash, in seconds.
const HELD_SECONDS: f64 = 0.25;
const FLASH_SECONDS: f64 = 0.4;
/// How long after a release a module waits for the answer of its inputs, in seconds; besides the time for which it does not
/// believe them.
const ANSWER_SECONDS: f64 = 0.1;

/// What is done to the vehicle, and what hangs on it.
pub struct Scene<'a> {
    /// The vehicle.
    pub vehicle: &'a Vehicle,
    /// Its circuit.
    pub wiring: &'a Wiring,
    /// The circuit prepared for the loads, where somebody keeps it so.
    pub loaded: Option<&'a LoadedWhenNeeded>,
    /// Its state.
    pub state: &'a mut PhysicalState,
    /// What the person has connected.
    pub loads: &'a [Load],
    /// The fuses of that.
    pub tool_fuses: &'a mut ToolFuses,
    /// The operating point that was found last on this wiring.
    pub last: &'a mut LastPoint,
    /// Branches the sum of whose currents is wanted in the samples, and which way each counts.
    pub watched: &'a [(Branch, f64)],
    /// Samples are wanted as fine as a recorder takes them down.
    pub fine: bool,
}

impl Scene<'_> {
    fn run(&mut self, pulse: Option<(PartId, usize)>, seconds: f64) -> Result<Vec<Phase>, Unsolved> {
        Ok(self.drive(pulse, seconds, false)?.0)
    }

    fn drive(
        &mut self,
        pulse: Option<(PartId, usize)>,
        seconds: f64,
        notices: bool,
    ) -> Result<(Vec<Phase>, bool), Unsolved> {
        let drive = Drive { pulse, seconds, watched: self.watched, fine: self.fine, notices };
        run(self.vehicle, self.wiring, self.loaded, self.state, drive, self.loads, self.tool_fuses, self.last)
    }

    /// Lets this many seconds pass with nothing commanded.
    ///
    /// # Errors
    /// [`Unsolved`] where a state has no operating point.
    pub fn pass(&mut self, seconds: f64) -> Result<Vec<Phase>, Unsolved> {
        self.run(None, seconds)
    }

    /// The same, but only until a module has taken an input for changed: then it may do something. Says whether that was
    /// so.
    ///
    /// # Errors
    /// [`Unsolved`] where a state has no operating point.
    pub fn pass_noticing(&mut self, seconds: f64) -> Result<(Vec<Phase>, bool), Unsolved> {
        self.drive(None, seconds, true)
    }

    /// Presses and lets go. Module logic runs on the voltages that the circuit gives at its pins.
    ///
    /// # Errors
    /// [`Unsolved`] where a state has no operating point.
    pub fn press(&mut self, pressed: Pressed) -> Result<Response, Unsolved> {
        let mut response = Response::default();
        let before = away_inputs(self.vehicle, self.state);
        match pressed {
            Pressed::Key(_) => self.state.key_pressed = true,
            Pressed::Switch(part) => self.state.on[part.index()] = true,
        }
        let held = self.run(None, HELD_SECONDS)?;
        let now = held.last().map(|phase| phase.point.clone());
        response.phases.extend(held);
        let Some(now) = now else { return Ok(response) };

        for (part, module) in self.vehicle.modules() {
            if !self.state.part(part).works {
                continue;
            }
            let asked = module.rules.iter().find(|rule| match (rule.on, pressed) {
                (Trigger::Key(button), Pressed::Key(which)) => {
                    button == which && key_is_heard(self.vehicle, self.wiring, self.state, &now, part, button)
                }
                (Trigger::Input(input), Pressed::Switch(_)) => {
                    is_away(self.vehicle, self.state, part, input) && !before.contains(&(part, input))
                }
                _ => false,
            });
            if let Some(rule) = asked {
                self.obey(part, module, rule.effect, &mut response)?;
            }
        }
        match pressed {
            Pressed::Key(_) => self.state.key_pressed = false,
            Pressed::Switch(part) => self.state.on[part.index()] = false,
        }
        Ok(response)
    }

    /// What modules do about inputs that have left their rest since `before`, whatever pulled them: a switch, a bridge, a
    /// short.
    ///
    /// # Errors
    /// [`Unsolved`] where a state has no operating point.
    pub fn ask_by_inputs(&mut self, before: &[(PartId, usize)]) -> Result<Response, Unsolved> {
        let mut response = Response::default();
        for (part, input) in away_inputs(self.vehicle, self.state) {
            let PartKind::Module(module) = &self.vehicle.part(part).kind else { continue };
            let asked = module.rules.iter().find(|rule| rule.on == Trigger::Input(input));
            if let (Some(rule), false) = (asked, before.contains(&(part, input))) {
                self.obey(part, module, rule.effect, &mut response)?;
            }
        }
        Ok(response)
    }

    /// A module does what it has been asked, or refuses.
    fn obey(
        &mut self,
        part: PartId,
        module: &Module,
        effect: Effect,
        response: &mut Response,
    ) -> Result<(), Unsolved> {
        match effect {
            Effect::Lock { flash } | Effect::Unlock { flash } => {
                self.state.locked = matches!(effect, Effect::Lock { .. });
                self.pulse(part, module, flash, FLASH_SECONDS, response)?;
            }
            Effect::Release { only_unlocked, .. }
                if self.state.lockout || (only_unlocked && self.state.locked) =>
            {
                response.chirps = 2;
            }
            Effect::Release { output, seconds, .. } => {
                response.chirps = 1;
                self.pulse(part, module, output, seconds, response)?;
                let debounce_seconds = module
                    .monitors
                    .iter()
                    .filter_map(|monitor| match monitor.kind {
                        MonitorKind::NoAnswer { output: asked, input } if asked == output => {
                            Some(module.inputs[input].debounce_seconds)
                        }
                        _ => None,
                    })
                    .fold(0.0, f64::max);
                let after = self.run(None, ANSWER_SECONDS + debounce_seconds)?;
                response.phases.extend(after);
                remember_answer(self.state, part, module, output);
            }
            // What rules hold is on as long as their input says, without being asked.
            Effect::Hold { .. } => {}
        }
        Ok(())
    }

    /// Keeps an output on for a time.
    fn pulse(
        &mut self,
        part: PartId,
        module: &Module,
        output: usize,
        seconds: f64,
        response: &mut Response,
    ) -> Result<(), Unsolved> {
        response.commanded = Some((part, output));
        let phases = self.run(Some((part, output)), seconds)?;
        remember_command(self.vehicle, self.wiring, self.state, part, module, output, &phases);
        // What has shut itself down tries again with the next command.
        self.state.parts[part.index()].shut_down[output] = false;
        response.phases.extend(phases);
        Ok(())
    }
}

/// All inputs that modules take to have left their rest.
#[must_use]
pub fn away_inputs(vehicle: &Vehicle, state: &PhysicalState) -> Vec<(PartId, usize)> {
    vehicle
        .modules()
        .filter(|(part, _)| state.part(*part).works)
        .flat_map(|(part, module)| (0..module.inputs.len()).map(move |input| (part, input)))
        .filter(|&(part, input)| is_away(vehicle, state, part, input))
        .collect()
}

/// The operating point at this instant, with nothing commanded and all at rest.
///
/// # Errors
/// [`Unsolved`] where the state has no operating point.
pub fn still(
    vehicle: &Vehicle,
    wiring: &Wiring,
    loaded: Option<&LoadedWhenNeeded>,
    state: &PhysicalState,
    loads: &[Load],
    tool_fuses: &[Option<FuseBody>],
    last: &mut LastPoint,
) -> Result<Arc<Found>, Unsolved> {
    let laws = wiring.laws(vehicle, state, &held_outputs(vehicle, state), Pace::Rest);
    last.find(wiring, loaded, laws, live(loads, tool_fuses))
}

/// The operating point with loads; several are branches of the prepared circuit.
pub(super) fn with_loads(
    wiring: &Wiring,
    loaded: Option<&LoadedWhenNeeded>,
    laws: &[Law],
    loads: &[Load],
) -> Result<OperatingPoint, Unsolved> {
    match loaded {
        Some(loaded) if loads.len() > 1 => loaded.network(wiring.network()).operating_point(laws, loads),
        _ => operating_point(wiring.network(), laws, loads),
    }
}

/// Whether the module's receiver hears this button: the cell holds up under the sender, the button works, and the
/// receiver does.
fn key_is_heard(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    now: &impl Electrical,
    module: PartId,
    button: KeyButton,
) -> bool {
    let cell = now.volts(wiring.node(Point::KeyPlus)) - now.volts(wiring.node(Point::KeyMinus));
    cell > vehicle.key.sends_above_volts
        && button_works(state, button)
        && !state.has(|deviation| *deviation == Deviation::ReceiverDeaf(module))
}

/// Entries that follow from how an output behaved while it was closed; a module that has lost its supply makes none.
fn remember_command(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    part: PartId,
    module: &Module,
    output: usize,
    phases: &[Phase],
) {
    if !state.part(part).works {
        return;
    }
    for monitor in &module.monitors {
        let set = match monitor.kind {
            MonitorKind::OutputLow(which) if which == output => phases.iter().all(|phase| {
                let pin = pin_volts(vehicle, wiring, &phase.point, part, module.outputs[output].pin);
                let supply = pin_volts(vehicle, wiring, &phase.point, part, module.supply);
                pin < supply / 2.0
            }),
            MonitorKind::SupplyBelow(volts) => phases
                .iter()
                .any(|phase| pin_volts(vehicle, wiring, &phase.point, part, module.supply) < volts),
            MonitorKind::ShutDown(which) if which == output => state.part(part).shut_down[output],
            MonitorKind::OpenLoad(which) if which == output => phases
                .iter()
                .all(|phase| load_is_open(vehicle, wiring, state, &phase.point, part, module, output, true)),
            _ => false,
        };
        if set {
            state.memory[part.index()].insert(monitor.code);
        }
    }
}

/// Entries that follow from what an input says once an output has been closed; the same holds.
fn remember_answer(state: &mut PhysicalState, part: PartId, module: &Module, output: usize) {
    if !state.part(part).works {
        return;
    }
    for monitor in &module.monitors {
        if let MonitorKind::NoAnswer { output: which, input } = monitor.kind
            && which == output
            && !state.part(part).low[input]
        {
            state.memory[part.index()].insert(monitor.code);
        }
    }
}

/// Entries that a module sets at rest.
pub fn watch(vehicle: &Vehicle, wiring: &Wiring, state: &mut PhysicalState, now: &OperatingPoint) {
    let held = held_outputs(vehicle, state);
    for (part, module) in vehicle.modules() {
        if !module_works(vehicle, wiring, now, part) {
            continue;
        }
        for monitor in &module.monitors {
            let set = match monitor.kind {
                MonitorKind::NeitherLow(a, b) => [a, b].iter().all(|&input| !state.part(part).low[input]),
                MonitorKind::SupplyBelow(volts) => {
                    pin_volts(vehicle, wiring, now, part, module.supply) < volts
                }
                MonitorKind::ShutDown(output) => state.part(part).shut_down[output],
                MonitorKind::OpenLoad(output) => {
                    let on = held.contains(&(part, output));
                    load_is_open(vehicle, wiring, state, now, part, module, output, on)
                }
                MonitorKind::NoAnswer { .. } | MonitorKind::OutputLow(_) => false,
            };
            if set {
                state.memory[part.index()].insert(monitor.code);
            }
        }
    }
}

/// Whether an electronic output finds its load gone: on, by too little current; off, by volts that its bias puts on a pin
/// that nothing pulls down.
#[expect(clippy::too_many_arguments, reason = "the circuit, its state, and which output")]
fn load_is_open(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    now: &impl Electrical,
    part: PartId,
    module: &Module,
    output: usize,
    on: bool,
) -> bool {
    let file = &module.outputs[output];
    let Some(driver) = file.kind.driver() else { return false };
    if on {
        let amps = now.amps(wiring.output_branch(part, output)).abs();
        !state.part(part).shut_down[output] && amps < driver.open_below_amps
    } else {
        let volts = |pin: u8| pin_volts(vehicle, wiring, now, part, pin);
        let is_high = volts(file.pin) > 0.5 * volts(module.supply);
        match (&file.kind, driver.off) {
            // What hangs on an output to ground pulls its pin up; a pin that falls has lost it.
            (OutputKind::LowSide(_), _) => !is_high,
            (_, OffTie::Bias(_)) => is_high,
            (_, OffTie::Bleed(_)) => false,
        }
    }
}
