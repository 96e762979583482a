//! Somebody presses a button: what the modules hear, agree to and do.

use super::Deviation;
use super::ids::PartId;
use super::model::{Effect, KeyButton, Module, MonitorKind, PartKind, Trigger, Vehicle};
use super::point::Point;
use super::run::{Drive, Phase, ToolFuses, live, module_works, pin_volts, run};
use super::state::{FuseBody, PhysicalState};
use super::wiring::{Mode, Wiring, button_works};
use crate::circuit::{Load, OperatingPoint, Unsolved, operating_point};

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

/// Presses and lets go. Module logic runs on the voltages that the circuit gives at its pins.
///
/// # Errors
/// [`Unsolved`] where a state has no operating point.
pub fn press(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    pressed: Pressed,
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
) -> Result<Response, Unsolved> {
    let mut response = Response::default();
    let before = still(vehicle, wiring, state, loads, tool_fuses)?;
    match pressed {
        Pressed::Key(_) => state.key_pressed = true,
        Pressed::Switch(part) => state.on[part.index()] = true,
    }
    let held = run(vehicle, wiring, state, Drive { closed: None, seconds: HELD_SECONDS }, loads, tool_fuses)?;
    let now = held.last().map(|phase| phase.point.clone());
    response.phases.extend(held);
    let Some(now) = now else { return Ok(response) };

    for (part, module) in vehicle.modules() {
        if !module_works(vehicle, wiring, &now, part) {
            continue;
        }
        let asked = module.rules.iter().find(|rule| match (rule.on, pressed) {
            (Trigger::Key(button), Pressed::Key(which)) => {
                button == which && key_is_heard(vehicle, wiring, state, &now, part, button)
            }
            (Trigger::Input(input), Pressed::Switch(_)) => {
                is_low(vehicle, wiring, state, &now, part, module, input)
                    && !is_low(vehicle, wiring, state, &before, part, module, input)
            }
            _ => false,
        });
        if let Some(rule) = asked {
            obey(vehicle, wiring, state, part, module, rule.effect, loads, tool_fuses, &mut response)?;
        }
    }
    match pressed {
        Pressed::Key(_) => state.key_pressed = false,
        Pressed::Switch(part) => state.on[part.index()] = false,
    }
    watch(vehicle, wiring, state, &still(vehicle, wiring, state, loads, tool_fuses)?);
    Ok(response)
}

/// What modules do about inputs that have gone low since `before`, whatever pulled them down: a switch, a bridge, a short.
///
/// # Errors
/// [`Unsolved`] where a state has no operating point.
pub fn ask_by_inputs(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    before: &[(PartId, usize)],
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
) -> Result<Response, Unsolved> {
    let mut response = Response::default();
    let now = still(vehicle, wiring, state, loads, tool_fuses)?;
    for (part, input) in low_inputs(vehicle, wiring, state, &now) {
        let PartKind::Module(module) = &vehicle.part(part).kind else { continue };
        let asked = module.rules.iter().find(|rule| rule.on == Trigger::Input(input));
        if let (Some(rule), false) = (asked, before.contains(&(part, input))) {
            obey(vehicle, wiring, state, part, module, rule.effect, loads, tool_fuses, &mut response)?;
        }
    }
    Ok(response)
}

/// All inputs that modules take for low.
#[must_use]
pub fn low_inputs(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &OperatingPoint,
) -> Vec<(PartId, usize)> {
    vehicle
        .modules()
        .flat_map(|(part, module)| (0..module.inputs.len()).map(move |input| (part, module, input)))
        .filter(|&(part, module, input)| is_low(vehicle, wiring, state, point, part, module, input))
        .map(|(part, _, input)| (part, input))
        .collect()
}

/// A module does what it has been asked, or refuses.
#[expect(
    clippy::too_many_arguments,
    reason = "the circuit, its state, the module, what it is asked, and what is on it"
)]
fn obey(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    part: PartId,
    module: &Module,
    effect: Effect,
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
    response: &mut Response,
) -> Result<(), Unsolved> {
    match effect {
        Effect::Lock { flash } | Effect::Unlock { flash } => {
            state.locked = matches!(effect, Effect::Lock { .. });
            response.commanded = Some((part, flash));
            let drive = Drive { closed: Some((part, flash)), seconds: FLASH_SECONDS };
            response.phases.extend(run(vehicle, wiring, state, drive, loads, tool_fuses)?);
        }
        Effect::Release { only_unlocked, .. } if state.lockout || (only_unlocked && state.locked) => {
            response.chirps = 2;
        }
        Effect::Release { output, seconds, .. } => {
            response.chirps = 1;
            response.commanded = Some((part, output));
            let drive = Drive { closed: Some((part, output)), seconds };
            let phases = run(vehicle, wiring, state, drive, loads, tool_fuses)?;
            remember_command(vehicle, wiring, state, part, module, output, &phases);
            response.phases.extend(phases);
            let after = still(vehicle, wiring, state, loads, tool_fuses)?;
            remember_answer(vehicle, wiring, state, part, module, output, &after);
        }
    }
    Ok(())
}

/// The operating point with nothing commanded, at this instant.
///
/// # Errors
/// [`Unsolved`] where the state has no operating point.
pub fn still(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    loads: &[Load],
    tool_fuses: &[Option<FuseBody>],
) -> Result<OperatingPoint, Unsolved> {
    let live = live(loads, tool_fuses);
    operating_point(wiring.network(), &wiring.laws(vehicle, state, Mode::default()), &live)
}

/// Whether the module's receiver hears this button: the cell holds up under the sender, the button works, and the
/// receiver does.
fn key_is_heard(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    now: &OperatingPoint,
    module: PartId,
    button: KeyButton,
) -> bool {
    let cell = now.volts(wiring.node(Point::KeyPlus)) - now.volts(wiring.node(Point::KeyMinus));
    cell > vehicle.key.sends_above_volts
        && button_works(state, button)
        && !state.has(|deviation| *deviation == Deviation::ReceiverDeaf(module))
}

/// Whether a module takes one of its inputs for low.
#[must_use]
pub fn is_low(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &PhysicalState,
    point: &OperatingPoint,
    part: PartId,
    module: &Module,
    input: usize,
) -> bool {
    let line = &module.inputs[input];
    module_works(vehicle, wiring, point, part)
        && pin_volts(vehicle, wiring, point, part, line.pin) < line.low_below_volts
        && !state.has(|deviation| *deviation == Deviation::InputDeaf(part, input))
}

/// Entries that follow from how an output behaved while it was closed.
fn remember_command(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    part: PartId,
    module: &Module,
    output: usize,
    phases: &[Phase],
) {
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
            _ => false,
        };
        if set {
            state.memory[part.index()].insert(monitor.code);
        }
    }
}

/// Entries that follow from what an input says once an output has been closed.
fn remember_answer(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    part: PartId,
    module: &Module,
    output: usize,
    after: &OperatingPoint,
) {
    for monitor in &module.monitors {
        if let MonitorKind::NoAnswer { output: which, input } = monitor.kind
            && which == output
            && !is_low(vehicle, wiring, state, after, part, module, input)
        {
            state.memory[part.index()].insert(monitor.code);
        }
    }
}

/// Entries that a module sets at rest.
pub fn watch(vehicle: &Vehicle, wiring: &Wiring, state: &mut PhysicalState, now: &OperatingPoint) {
    for (part, module) in vehicle.modules() {
        if !module_works(vehicle, wiring, now, part) {
            continue;
        }
        for monitor in &module.monitors {
            let set = match monitor.kind {
                MonitorKind::NeitherLow(a, b) => {
                    [a, b].iter().all(|&input| !is_low(vehicle, wiring, state, now, part, module, input))
                }
                MonitorKind::SupplyBelow(volts) => {
                    pin_volts(vehicle, wiring, now, part, module.supply) < volts
                }
                _ => false,
            };
            if set {
                state.memory[part.index()].insert(monitor.code);
            }
        }
    }
}
