//! Time passes: phases in which nothing switches, ended by events.

use super::ids::{FuseId, PartId};
use super::model::{PartKind, Vehicle};
use super::point::Point;
use super::state::{FuseBody, LidPosition, PhysicalState};
use super::wiring::{Mode, Wiring, winding_ohms};
use super::{Deviation, Half};
use crate::circuit::{Law, Load, OperatingPoint, Unsolved, opening_seconds, operating_point};

/// What drives the circuit while time passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// A module's output that is told to close for the whole time.
    pub closed: Option<(PartId, usize)>,
    /// How long, in seconds.
    pub seconds: f64,
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
    /// The latch's motor has come to speed.
    Spun,
    /// The latch has let go.
    Released,
    /// The motor has come to its end stop, with the latch open already.
    AtEnd,
    /// The module has lost its supply and let its output go.
    DroppedOut,
}

/// A stretch of time in which nothing switched.
#[derive(Clone, Debug)]
pub struct Phase {
    /// How long it lasted, in seconds.
    pub seconds: f64,
    /// Voltages and currents.
    pub point: OperatingPoint,
    /// The latch's motor turned.
    pub motor_runs: bool,
    /// Current through the latch's motor, in amps.
    pub motor_amps: f64,
    /// The output that was really closed.
    pub closed: Option<(PartId, usize)>,
    /// What ended it; `None`: time was up.
    pub event: Option<Event>,
}

/// Phases in one go after which something is wrong with the model and not with the vehicle.
const MOST_PHASES: usize = 64;

/// Lets `drive.seconds` pass. Fuses heat and blow, the motor turns, the latch lets go and the lid springs up: all of it
/// happens in `state`. Each phase's voltages come back in order.
///
/// `loads` are what the person has connected; a load whose fuse blows is open from then on.
///
/// # Errors
/// [`Unsolved`] where a state has no operating point; `state` is then as far as it got.
pub fn run(
    vehicle: &Vehicle,
    wiring: &Wiring,
    state: &mut PhysicalState,
    drive: Drive,
    loads: &[Load],
    tool_fuses: &mut ToolFuses,
) -> Result<Vec<Phase>, Unsolved> {
    let motor = vehicle.latch().1.motor;
    let motor_branch = wiring.motor_branch();
    let breakaway_amps = state.present().fold(motor.breakaway_amps, |amps, deviation| match *deviation {
        Deviation::Stiff(_, stiff) => amps.max(stiff),
        Deviation::Jammed(_) => f64::INFINITY,
        _ => amps,
    });
    for slot in &mut state.fuses {
        if let Some(fuse) = &mut slot.fitted {
            fuse.heat = 0.0;
        }
    }
    for fuse in tool_fuses.iter_mut().flatten() {
        fuse.heat = 0.0;
    }

    let mut phases = Vec::new();
    let mut left = drive.seconds;
    let mut closed = drive.closed;
    let mut turned = 0.0; // volt-seconds
    let mut at_speed = false;
    let mut at_end = false;
    while left > 0.0 && phases.len() < MOST_PHASES {
        let live = live(loads, tool_fuses);
        let solve = |state: &PhysicalState, motor_runs: bool, closed| {
            let laws = wiring.laws(vehicle, state, Mode { motor_runs, closed });
            operating_point(wiring.network(), &laws, &live)
        };
        let mut point = solve(state, false, closed)?;
        if closed.is_some_and(|(module, _)| !module_works(vehicle, wiring, &point, module)) {
            // The relay has let go before anything moved.
            phases.push(Phase {
                seconds: 0.0,
                motor_amps: point.amps(motor_branch),
                point,
                motor_runs: false,
                closed,
                event: Some(Event::DroppedOut),
            });
            closed = None;
            at_speed = false;
            continue;
        }
        let breaks_away = !at_end && point.amps(motor_branch) > breakaway_amps;
        let mut speed_volts = 0.0;
        if breaks_away && at_speed {
            let running = solve(state, true, closed)?;
            let (from, to) = wiring.network().ends(motor_branch);
            let across = running.volts(from) - running.volts(to);
            speed_volts = across - running.amps(motor_branch) * winding_ohms(vehicle, state);
            if speed_volts > 0.0 {
                point = running;
            } else {
                speed_volts = 0.0;
            }
        }

        let mut seconds = left;
        let mut event = None;
        let mut sooner = |at: f64, what: Event| {
            if at < seconds {
                seconds = at;
                event = Some(what);
            }
        };
        if breaks_away && !at_speed {
            sooner(motor.spin_up_seconds, Event::Spun);
        } else if speed_volts > 0.0 {
            let holds = state.claw_home || state.lid == LidPosition::FirstCatch;
            let end = if holds { Event::Released } else { Event::AtEnd };
            sooner((motor.travel_volt_seconds - turned) / speed_volts, end);
        }
        let mut heating = Vec::new();
        for (at, slot) in state.fuses.iter().enumerate() {
            if let Some(fuse) = slot.fitted.filter(|fuse| !fuse.blown) {
                let id = FuseId::at(at);
                let holds = opening_seconds(f64::from(fuse.rating_amps), point.amps(wiring.fuse_branch(id)));
                heating.push((id, holds));
                sooner((1.0 - fuse.heat) * holds, Event::FuseBlown(id));
            }
        }
        let mut tool_heating = Vec::new();
        for (at, fuse) in tool_fuses.iter().enumerate() {
            if let Some(fuse) = fuse.filter(|fuse| !fuse.blown) {
                let holds = opening_seconds(f64::from(fuse.rating_amps), point.loads()[at].amps);
                tool_heating.push((at, holds));
                sooner((1.0 - fuse.heat) * holds, Event::ToolFuseBlown(at));
            }
        }

        left -= seconds;
        turned += speed_volts * seconds;
        for (id, holds) in heating {
            if let Some(fuse) = &mut state.fuses[id.index()].fitted {
                fuse.heat += seconds / holds;
                fuse.blown |= event == Some(Event::FuseBlown(id));
            }
        }
        for (at, holds) in tool_heating {
            if let Some(fuse) = &mut tool_fuses[at] {
                fuse.heat += seconds / holds;
                fuse.blown |= event == Some(Event::ToolFuseBlown(at));
            }
        }
        let motor_amps = point.amps(motor_branch);
        phases.push(Phase { seconds, point, motor_runs: speed_volts > 0.0, motor_amps, closed, event });
        match event {
            Some(Event::Spun) => at_speed = true,
            Some(Event::Released | Event::AtEnd) => {
                at_end = true;
                at_speed = false;
                if event == Some(Event::Released) {
                    release(vehicle, state);
                }
            }
            Some(Event::FuseBlown(_) | Event::ToolFuseBlown(_)) => {
                // Without current the motor stops, and starts anew if it is fed again.
                at_speed = false;
            }
            Some(Event::DroppedOut) | None => {}
        }
    }
    Ok(phases)
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
pub(crate) fn module_works(vehicle: &Vehicle, wiring: &Wiring, point: &OperatingPoint, part: PartId) -> bool {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return false };
    let pin =
        |pin: u8| point.volts(wiring.node(Point::Cavity(vehicle.part(part).connector, Half::Mate, pin)));
    pin(module.supply) - pin(module.ground) > module.works_above_volts
}

/// A module's input or output pin against its ground, in volts.
pub(crate) fn pin_volts(
    vehicle: &Vehicle,
    wiring: &Wiring,
    point: &OperatingPoint,
    part: PartId,
    pin: u8,
) -> f64 {
    let PartKind::Module(module) = &vehicle.part(part).kind else { return 0.0 };
    let volts =
        |pin: u8| point.volts(wiring.node(Point::Cavity(vehicle.part(part).connector, Half::Mate, pin)));
    volts(pin) - volts(module.ground)
}
