//! One act on one world: `step` is the only way in which a world changes.

use std::sync::Arc;

use super::action::{Action, FuseWork, Lead, LidTo, MeterSetting, Precaution, Tool};
use super::chance::Chance;
use super::kit::Clip;
use super::outcome::{FuseLook, Heard, MotorState, Outcome, Refusal, Seen};
use super::sampling::Tape;
use super::world::{Rest, World, motor_state};
use super::{cost, customer, probing, provoke, sampling, work};
use crate::circuit::{FUSE_RATINGS_AMPS, Unsolved};
use crate::vehicle::{
    Deviation, Event, FuseBody, FuseId, LidPosition, MOST_PHASES, Mate, Obstacle, OutputKind, PartId,
    PartKind, PartState, Phase, Point, Pressed, Reach, Vehicle, When, Zone, module_works, release,
};

/// Light below which a lamp is dark to the eye, as a fraction of its full light.
pub(super) const DARK: f64 = 0.004;
/// Change of light that the eye notices, as a fraction.
const NOTICED: f64 = 0.12;
/// How long a flexed loom is held, and how long a lid that is moved stays about an angle at which something changes, in
/// seconds.
const FLEX_SECONDS: f64 = 1.0;
const DEGREE_SECONDS: f64 = 0.2;

/// Does `action` to `world` and tells what it brings.
///
/// What is physically impossible is an [`Outcome`] with a [`Refusal`], and changes nothing.
///
/// # Errors
/// [`Unsolved`] where the circuit has no operating point in the state that the action leads to; the world is then as it
/// was.
pub fn step(
    vehicle: &Vehicle,
    world: &mut World,
    action: &Action,
    chance: &mut dyn Chance,
) -> Result<Outcome, Unsolved> {
    if action.is_aside() {
        return Ok(Outcome::default());
    }
    let ready = Ready::after(vehicle, world, cost::minutes(vehicle, world, action))?;
    let (outcome, next) = ready.finish(vehicle, world, action, chance)?;
    *world = next;
    Ok(outcome)
}

/// A vehicle for which an act has set out: the time that it takes has passed. Acts that take the same time all set out so.
#[derive(Clone, Debug)]
pub struct Ready {
    world: World,
    /// Fuses of the person's own tools that have blown meanwhile.
    blown: Vec<usize>,
    minutes: f64,
}

impl Ready {
    /// Lets the minutes pass that an act takes: the act comes at their end.
    ///
    /// # Errors
    /// [`Unsolved`] where the circuit has no operating point on the way.
    pub fn after(vehicle: &Vehicle, world: &World, minutes: f64) -> Result<Self, Unsolved> {
        let mut world = world.clone();
        world.tape = Tape::default();
        let blown = blown_tools(&world.tick(vehicle, minutes)?).collect();
        Ok(Self { world, blown, minutes })
    }

    /// Does an act that takes these minutes, as [`step`] does, from the `world` that this came of: what it brings, and the
    /// world afterwards.
    ///
    /// # Errors
    /// As [`step`].
    pub fn act(
        &self,
        vehicle: &Vehicle,
        world: &World,
        action: &Action,
        chance: &mut dyn Chance,
    ) -> Result<(Outcome, World), Unsolved> {
        self.clone().finish(vehicle, world, action, chance)
    }

    fn finish(
        self,
        vehicle: &Vehicle,
        world: &World,
        action: &Action,
        chance: &mut dyn Chance,
    ) -> Result<(Outcome, World), Unsolved> {
        let Self { world: mut next, blown, minutes } = self;
        let mut outcome = Outcome::default();
        if let Err(refusal) = act(vehicle, &mut next, action, chance, &mut outcome)? {
            let refused = Outcome { minutes: 0.1, refused: Some(refusal), ..Outcome::default() };
            return Ok((refused, world.clone()));
        }
        let worn = settle_worn(&mut next, chance);
        if settle_loose(vehicle, &mut next, chance) || worn {
            next.settle(vehicle)?;
        }
        sampling::tell(world, &mut next, action, chance, &mut outcome);
        outcome.minutes = minutes;
        report_tool_fuses(world, blown.into_iter(), &mut outcome);
        outcome.cost = cost::price(vehicle, action);
        if world.state.wet && !next.state.wet && !outcome.seen.contains(&Seen::Wet(false)) {
            outcome.seen.push(Seen::Wet(false));
        }
        work::cautions(vehicle, world, action, &mut outcome);
        // A standing caution is called when it arises, and again whenever the meter is read for its own sake.
        for &caution in &next.rest.cautions {
            let arises = !world.rest.cautions.contains(&caution);
            if arises || matches!(action, Action::Read | Action::Probe(..) | Action::ProbeHastily(..)) {
                outcome.cautions.push(caution);
            }
            if arises {
                outcome.breaches.push(caution);
            }
        }
        outcome.cautions.sort_unstable();
        outcome.cautions.dedup();
        outcome.breaches.sort_unstable();
        outcome.breaches.dedup();
        Ok((outcome, next))
    }
}

/// What can be refused, or done.
pub(super) type Done = Result<(), Refusal>;

fn act(
    vehicle: &Vehicle,
    world: &mut World,
    action: &Action,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    let before = world.rest.clone();
    Ok(match action {
        Action::Ask(question) => {
            let answers = customer::answer(vehicle, world, *question, chance)?;
            outcome.heard.push(Heard::Customer(*question, answers));
            Ok(())
        }
        Action::Precaution(precaution) => take_precaution(vehicle, world, *precaution),
        Action::Observe => {
            observe(world, outcome);
            probing::look_at_probes(world, outcome);
            Ok(())
        }
        Action::Key(button) => {
            outcome.heard.push(Heard::ButtonClicks(*button));
            command(vehicle, world, Pressed::Key(*button), chance, outcome)?;
            Ok(())
        }
        Action::Press(part) => match vehicle.part(*part).kind {
            PartKind::Switch { springs_back: true, .. } => match in_reach_of_hand(vehicle, world, *part) {
                Ok(()) => {
                    command(vehicle, world, Pressed::Switch(*part), chance, outcome)?;
                    Ok(())
                }
                Err(refusal) => Err(refusal),
            },
            _ => Err(Refusal::StaysPut),
        },
        Action::Switch(part, on) => match vehicle.part(*part).kind {
            PartKind::Switch { springs_back: false, .. } if world.state.on[part.index()] == *on => {
                Err(Refusal::AlreadySo)
            }
            PartKind::Switch { springs_back: false, .. } => {
                world.state.on[part.index()] = *on;
                let phases = world.settle(vehicle)?;
                report_change(vehicle, &before, world, &phases, outcome);
                Ok(())
            }
            _ => Err(Refusal::SpringsBack),
        },
        Action::Lever => {
            let stuck = world.state.has(|d| matches!(d, Deviation::Jammed(_)));
            if world.state.has(|d| matches!(d, Deviation::LeverOff)) {
                // The lever swings without any pull: nothing to hear.
            } else if stuck {
                outcome.heard.push(Heard::LeverBinds);
            } else if is_held(world) {
                open_latch(vehicle, world, outcome);
                settle_loose(vehicle, world, chance);
            }
            let phases = world.settle(vehicle)?;
            report_change(vehicle, &before, world, &phases, outcome);
            Ok(())
        }
        Action::ForceLatch if !is_held(world) => Err(Refusal::AlreadySo),
        Action::ForceLatch => {
            open_latch(vehicle, world, outcome);
            settle_loose(vehicle, world, chance);
            let phases = world.settle(vehicle)?;
            report_change(vehicle, &before, world, &phases, outcome);
            Ok(())
        }
        Action::Lockout(on) if world.state.lockout == *on => Err(Refusal::AlreadySo),
        Action::Lockout(on) => {
            world.state.lockout = *on;
            outcome.seen.push(Seen::Done);
            Ok(())
        }
        Action::Lid(to) => move_lid(vehicle, world, *to, chance, outcome)?,
        Action::CloseClaw => {
            if !matches!(world.state.lid, LidPosition::Angle(_)) || !world.state.lid_is_up(vehicle) {
                Err(Refusal::LidNotUp)
            } else if world.state.claw_home {
                Err(Refusal::ClawAlreadyHome)
            } else {
                world.state.claw_home = true;
                outcome.heard.push(Heard::LatchTakes);
                let phases = world.settle(vehicle)?;
                report_change(vehicle, &before, world, &phases, outcome);
                Ok(())
            }
        }
        Action::Panel(panel, off) => {
            let zone = vehicle.panel(*panel).zone;
            if world.state.is_off(*panel) == *off {
                Err(Refusal::AlreadySo)
            } else {
                match reach(vehicle, world, Reach { zone, panel: None }) {
                    Ok(()) => {
                        world.state.panels_off[panel.index()] = *off;
                        outcome.seen.push(Seen::Panel(*panel, *off));
                        Ok(())
                    }
                    Err(refusal) => Err(refusal),
                }
            }
        }
        Action::Plug(connector, mated) => work::plug(vehicle, world, *connector, *mated, outcome)?,
        Action::LookAt(connector) => work::look_at(vehicle, world, *connector, outcome),
        Action::Tug(connector, cavity) => work::tug(vehicle, world, *connector, *cavity, outcome),
        Action::OpenTape(station) => work::open_tape(vehicle, world, *station, outcome),
        Action::Flex(station) => flex(vehicle, world, *station, chance, outcome)?,
        Action::LookAtStud(stud) => work::look_at_stud(vehicle, world, *stud, outcome),
        Action::Meter(setting) => {
            if *setting != world.kit.meter.setting {
                world.kit.meter.setting = *setting;
                world.kit.meter.held = None;
                let phases = world.settle(vehicle)?;
                report_change(vehicle, &before, world, &phases, outcome);
            }
            Ok(())
        }
        Action::Capture(on) => {
            world.kit.meter.capture = *on;
            world.kit.meter.held = None;
            let phases = world.settle(vehicle)?;
            report_change(vehicle, &before, world, &phases, outcome);
            Ok(())
        }
        Action::Probe(lead, point) => probing::probe(vehicle, world, *lead, *point, None, outcome)?,
        Action::ProbeHastily(lead, point) => {
            probing::probe(vehicle, world, *lead, Some(*point), Some(chance), outcome)?
        }
        Action::Read if !world.kit.meter.is_connected() => Err(Refusal::MeterNotReady),
        Action::Read => {
            let phases = world.settle(vehicle)?;
            report_change(vehicle, &before, world, &phases, outcome);
            Ok(())
        }
        Action::ProveMeter => {
            prove_meter(vehicle, world, outcome)?;
            Ok(())
        }
        Action::MeterFuse if !world.kit.meter.fuse.blown => Err(Refusal::MeterFuseWhole),
        Action::MeterFuse => {
            world.kit.meter.fuse = FuseBody::new(world.kit.meter.fuse.rating_amps);
            let phases = world.settle(vehicle)?;
            outcome.seen.push(Seen::Done);
            report_change(vehicle, &before, world, &phases, outcome);
            Ok(())
        }
        Action::Clip(tool, ends) => clip(vehicle, world, *tool, *ends, outcome)?,
        Action::Clamp(place) => probing::clamp(vehicle, world, *place, chance, outcome)?,
        Action::RecorderLeads(ends) => probing::recorder_leads(vehicle, world, *ends, outcome)?,
        Action::Arm(armed) => probing::arm(world, *armed),
        Action::Fuse(fuse, what) => fuse_work(vehicle, world, *fuse, *what, outcome)?,
        Action::ReadMemory(part) => read_memory(vehicle, world, *part, outcome)?,
        Action::ClearMemory(part) => match read_memory(vehicle, world, *part, &mut Outcome::default())? {
            Ok(()) => {
                world.state.memory[part.index()].clear();
                outcome.seen.push(Seen::Done);
                // What is still wrong at rest comes back at once.
                world.settle(vehicle)?;
                Ok(())
            }
            Err(refusal) => Err(refusal),
        },
        Action::Wait(minutes) => provoke::wait(vehicle, world, *minutes, outcome)?,
        Action::Tap(part) => provoke::tap(vehicle, world, *part, chance, outcome)?,
        Action::Wet => provoke::wet(vehicle, world, true, outcome)?,
        Action::Dry => provoke::wet(vehicle, world, false, outcome)?,
        Action::Warm(place) => provoke::bring(vehicle, world, *place, true, outcome)?,
        Action::Cool(place) => provoke::bring(vehicle, world, *place, false, outcome)?,
        Action::Repair(repair) => work::repair(vehicle, world, *repair, outcome)?,
        Action::Name(..) | Action::Write(..) | Action::HandIn { .. } => Ok(()),
        Action::Suspect(..) | Action::Mark(..) | Action::Coach(_) | Action::Estimate(_) => Ok(()),
    })
}

/// Refuses where something is in the way.
pub(super) fn reach(vehicle: &Vehicle, world: &World, reach: Reach) -> Done {
    match world.state.obstacle(vehicle, reach) {
        None => Ok(()),
        Some(Obstacle::Panel(panel)) => Err(Refusal::BehindPanel(panel)),
        Some(Obstacle::LidTooLow) => Err(Refusal::LidTooLow),
        Some(Obstacle::LoadSpaceClosed(panel)) => Err(Refusal::LoadSpaceClosed(panel)),
    }
}

/// Switches are worked from their outside: a panel that hides their connector is no obstacle.
fn in_reach_of_hand(vehicle: &Vehicle, world: &World, part: PartId) -> Done {
    let zone = vehicle.part(part).reach.zone;
    let zone = if zone == Zone::Lid { Zone::Outside } else { zone };
    reach(vehicle, world, Reach { zone, panel: None })
}

/// Refuses where a lead cannot be put.
pub(super) fn touch(vehicle: &Vehicle, world: &World, point: Point) -> Done {
    match point {
        Point::Cavity(connector, half, cavity) => {
            let file = vehicle.connector(connector);
            if cavity == 0 || cavity > file.cavities {
                return Err(Refusal::EmptyCavity);
            }
            reach(vehicle, world, file.reach)?;
            // Pins of a part are covered while the connector is on them.
            if world.state.is_mated(connector) && !vehicle.is_loom_half(connector, half) {
                return Err(Refusal::Mated);
            }
            let wired = vehicle.conductor_in(connector, half, cavity).is_some();
            if file.mate == Mate::Pins && half == crate::vehicle::Half::Mate || wired {
                Ok(())
            } else {
                Err(Refusal::EmptyCavity)
            }
        }
        Point::Fuse(fuse, _) => reach(vehicle, world, vehicle.fuse(fuse).reach),
        Point::Stud(stud) => reach(vehicle, world, vehicle.stud(stud).reach),
        Point::Body => reach(vehicle, world, Reach { zone: Zone::LoadSpace, panel: None }),
        Point::BatteryPlus | Point::BatteryMinus => reach(vehicle, world, vehicle.battery.reach),
        Point::KeyPlus | Point::KeyMinus => Ok(()),
        // Lines lie on the inside of the glass.
        Point::Line(part, ..) => reach(vehicle, world, Reach { panel: None, ..vehicle.part(part).reach }),
    }
}

fn take_precaution(vehicle: &Vehicle, world: &mut World, precaution: Precaution) -> Done {
    let already = match precaution {
        Precaution::ReadCautions => std::mem::replace(&mut world.kit.cautions_read, true),
        Precaution::EyeProtection => std::mem::replace(&mut world.kit.glasses, true),
        Precaution::PropLid if !world.state.lid_is_up(vehicle) => return Err(Refusal::LidNotUp),
        Precaution::PropLid => std::mem::replace(&mut world.state.propped, true),
    };
    if already { Err(Refusal::AlreadySo) } else { Ok(()) }
}

/// Whether the latch holds anything: its claw is home, or the lid hangs on its first catch.
fn is_held(world: &World) -> bool {
    world.state.claw_home || world.state.lid == LidPosition::FirstCatch
}

/// The latch lets go by hand.
fn open_latch(vehicle: &Vehicle, world: &mut World, outcome: &mut Outcome) {
    let shut = matches!(world.state.lid, LidPosition::Shut | LidPosition::FirstCatch);
    release(vehicle, &mut world.state);
    outcome.heard.push(Heard::LatchOpens);
    outcome.seen.push(if shut { Seen::LidReleased } else { Seen::ClawOpened });
}

/// Presses a button and tells what came of it.
fn command(
    vehicle: &Vehicle,
    world: &mut World,
    pressed: Pressed,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<(), Unsolved> {
    let before = world.rest.clone();
    let was_shut = matches!(world.state.lid, LidPosition::Shut | LidPosition::FirstCatch);
    let can_hear_relay = relay_can_be_heard(vehicle, world);
    let brought = world.press(vehicle, pressed)?;
    report_chirps(brought.chirps, outcome);
    if let Some((part, output)) = brought.commanded
        && can_hear_relay
        && is_contact(vehicle, part, output)
        && !world.state.has(|d| *d == Deviation::OutputDead(part, output))
    {
        outcome.heard.push(Heard::RelayClicks);
    }
    report_phases(vehicle, world, &before, &brought.phases, was_shut, outcome);
    settle_worn(world, chance);
    settle_loose(vehicle, world, chance);
    world.settle(vehicle)?;
    // A lamp that stays as it became has not flashed.
    let rest =
        |part: PartId| world.rest.lights.iter().find(|(at, _)| *at == part).map_or(0.0, |(_, light)| *light);
    outcome.seen.retain(|seen| match seen {
        Seen::Flash(part, light) | Seen::Dip(part, light) => {
            (rest(*part) - light).abs() > 2.0 * NOTICED * light.max(DARK)
        }
        _ => true,
    });
    report_change(vehicle, &before, world, &[], outcome);
    outcome.trace = world.moments(vehicle, &brought.phases);
    Ok(())
}

/// Brushes stand where the motor happened to stop; while it turns, they slide over every place. Says whether they stand
/// otherwise than before.
fn settle_worn(world: &mut World, chance: &mut dyn Chance) -> bool {
    let state = &mut world.state;
    let stands_anew = |part: &PartState| part.has_turned && part.speed_volts == 0.0;
    let mut changed = false;
    for one in &mut state.deviations {
        if let Deviation::DeadSpot(part, share) = one.deviation
            && stands_anew(&state.parts[part.index()])
        {
            let was = std::mem::replace(&mut one.present, chance.happens(share));
            changed |= was != one.present;
        }
    }
    for part in state.parts.iter_mut().filter(|part| stands_anew(part)) {
        part.has_turned = false;
    }
    changed
}

/// Whether an output is a relay's contact, which clicks.
fn is_contact(vehicle: &Vehicle, part: PartId, output: usize) -> bool {
    matches!(&vehicle.part(part).kind, PartKind::Module(module)
        if matches!(module.outputs[output].kind, OutputKind::Contact { .. }))
}

/// Sounds, flashes and movements of a row of phases.
fn report_phases(
    vehicle: &Vehicle,
    world: &World,
    before: &Rest,
    phases: &[Arc<Phase>],
    was_shut: bool,
    outcome: &mut Outcome,
) {
    report_events(vehicle, world, phases, was_shut, outcome);
    // Lamps that were brighter or darker for a moment than they are with nothing done.
    for (at, &(part, rest)) in before.lights.iter().enumerate() {
        let samples = phases.iter().flat_map(|phase| &phase.samples);
        let (low, high) = samples
            .map(|sample| sample.lights[at])
            .fold((rest, rest), |(low, high), light| (low.min(light), high.max(light)));
        if high > DARK && high > rest * (1.0 + NOTICED) + DARK {
            outcome.seen.push(Seen::Flash(part, high));
        } else if rest > DARK && low < rest * (1.0 - 2.0 * NOTICED) {
            outcome.seen.push(Seen::Dip(part, low));
        }
    }
    for (at, clip) in world.kit.clips.iter().enumerate() {
        if let Tool::TestLamp(size) = clip.tool {
            let lights = phases
                .iter()
                .filter(|p| p.seconds > 0.05)
                .flat_map(|phase| &phase.samples)
                .map(|sample| world.tool_lights(vehicle, &sample.loads)[at]);
            let brightest = lights.fold(0.0_f64, f64::max);
            outcome.seen.push(Seen::TestLamp(size, brightest));
        }
    }
}

/// What is different now that all is at rest: lamps, the dash's sign, the test lamps, the meter.
pub(super) fn report_change(
    vehicle: &Vehicle,
    before: &Rest,
    world: &World,
    phases: &[Arc<Phase>],
    outcome: &mut Outcome,
) {
    report_chirps(world.rest.chirps, outcome);
    if !phases.is_empty() {
        let was_shut = before.shut;
        report_events(vehicle, world, phases, was_shut, outcome);
        outcome.trace = world.moments(vehicle, phases);
    }
    for (&(part, was), &(_, is)) in before.lights.iter().zip(&world.rest.lights) {
        if (was - is).abs() > NOTICED * was.max(is) && was.max(is) > DARK {
            outcome.seen.push(Seen::Lamp(part, is));
        }
    }
    for (was, &(part, turns)) in before.turning.iter().zip(&world.rest.turning) {
        if was.1 != turns {
            outcome.seen.push(Seen::Turning(part, turns));
        }
    }
    for (was, (part, lines)) in before.screens.iter().zip(&world.rest.screens) {
        let changes =
            |(was, is): (&f64, &f64)| (was - is).abs() > NOTICED * was.max(*is) && was.max(*is) > DARK;
        if was.1.iter().zip(lines).any(changes) {
            outcome.seen.push(Seen::Screen(*part, lines.clone()));
        }
    }
    if before.lid_sign != world.rest.lid_sign {
        outcome.seen.push(Seen::LidSign(world.rest.lid_sign));
    }
    for (clip, light) in world.kit.clips.iter().zip(&world.rest.tool_lights) {
        if let Tool::TestLamp(size) = clip.tool {
            let told =
                outcome.seen.iter().any(|seen| matches!(seen, Seen::TestLamp(which, _) if *which == size));
            if !told {
                outcome.seen.push(Seen::TestLamp(size, *light));
            }
        }
    }
    outcome.reading.clone_from(&world.rest.reading);
    outcome.clamp.clone_from(&world.rest.clamp);
    if world.rest.reading.as_ref().is_some_and(|reading| reading.tone) {
        outcome.heard.push(Heard::Tone);
    }
}

/// How often modules chirped, if they did.
fn report_chirps(chirps: u8, outcome: &mut Outcome) {
    if chirps > 0 {
        outcome.heard.push(Heard::Chirps(chirps));
    }
}

/// Motors, releases, relays and blown tool fuses in a row of phases.
fn report_events(
    vehicle: &Vehicle,
    world: &World,
    phases: &[Arc<Phase>],
    was_shut: bool,
    outcome: &mut Outcome,
) {
    let (latch, file) = vehicle.latch();
    let states: Vec<MotorState> = phases.iter().map(|phase| motor_state(phase, latch)).collect();
    // A plunger's stroke is no sound of its own: the latch that it opens is.
    let motors = phases.iter().flat_map(|phase| &phase.motors).filter(|motor| motor.part == latch);
    let turned_seconds: f64 = motors.map(|motor| motor.turned_seconds).sum();
    if states.contains(&MotorState::Running) {
        if !file.solenoid {
            outcome.heard.push(Heard::MotorRuns);
        }
    } else if turned_seconds > 0.0 {
        outcome.heard.push(Heard::MotorTwitches);
    } else if states.contains(&MotorState::Stalled) {
        outcome.heard.push(if file.solenoid { Heard::PlungerHums } else { Heard::MotorStrains });
    }
    let relays = phases.iter().filter(|phase| matches!(phase.event, Some(Event::Relay(_)))).count();
    if phases.len() >= MOST_PHASES {
        outcome.heard.push(Heard::RelayChatters);
    } else if relays > 0 && relay_can_be_heard(vehicle, world) {
        outcome.heard.push(Heard::RelayClicks);
    }
    for phase in phases {
        if phase.event == Some(Event::Released) {
            outcome.heard.push(Heard::LatchOpens);
            outcome.seen.push(if was_shut { Seen::LidReleased } else { Seen::ClawOpened });
        }
    }
    report_tool_fuses(world, blown_tools(phases), outcome);
}

/// Whether one hears a relay behind the trim: with the load space open.
fn relay_can_be_heard(vehicle: &Vehicle, world: &World) -> bool {
    world.state.obstacle(vehicle, Reach { zone: Zone::LoadSpace, panel: None }).is_none()
}

/// The fuses of the person's own tools that blow in a row of phases.
fn blown_tools(phases: &[Arc<Phase>]) -> impl Iterator<Item = usize> + '_ {
    phases.iter().filter_map(|phase| match phase.event {
        Some(Event::ToolFuseBlown(at)) => Some(at),
        _ => None,
    })
}

/// Tells of blown fuses of the person's own tools.
fn report_tool_fuses(world: &World, blown: impl Iterator<Item = usize>, outcome: &mut Outcome) {
    let first = usize::from(world.kit.meter.is_load());
    for at in blown {
        outcome.heard.push(Heard::FusePops);
        let tool = at.checked_sub(first).and_then(|clip| world.kit.clips.get(clip)).map(|clip| clip.tool);
        outcome.seen.push(Seen::InstrumentFuseBlown(tool));
    }
}

/// Everything that can be seen by just looking.
fn observe(world: &World, outcome: &mut Outcome) {
    outcome.seen.push(match world.state.lid {
        LidPosition::Shut => Seen::LidShut,
        LidPosition::FirstCatch => Seen::LidOnFirstCatch,
        LidPosition::Angle(degrees) => Seen::LidAt(degrees),
    });
    outcome.seen.extend(world.rest.lights.iter().map(|&(part, light)| Seen::Lamp(part, light)));
    outcome.seen.push(Seen::LidSign(world.rest.lid_sign));
    if world.state.wet {
        outcome.seen.push(Seen::Wet(true));
    }
    outcome.seen.extend(world.rest.turning.iter().map(|&(part, turns)| Seen::Turning(part, turns)));
    for (part, lines) in &world.rest.screens {
        outcome.seen.push(Seen::Screen(*part, lines.clone()));
    }
    for (clip, light) in world.kit.clips.iter().zip(&world.rest.tool_lights) {
        if let Tool::TestLamp(size) = clip.tool {
            outcome.seen.push(Seen::TestLamp(size, *light));
        }
    }
    for (at, off) in world.state.panels_off.iter().enumerate() {
        if *off {
            outcome.seen.push(Seen::Panel(crate::vehicle::PanelId::at(at), true));
        }
    }
    outcome.reading.clone_from(&world.rest.reading);
    outcome.clamp.clone_from(&world.rest.clamp);
}

/// Moves the lid degree by degree, so that everything that depends on the angle happens on the way.
fn move_lid(
    vehicle: &Vehicle,
    world: &mut World,
    to: LidTo,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    let before = world.rest.clone();
    if matches!(world.state.lid, LidPosition::Shut | LidPosition::FirstCatch) {
        let same = match to {
            LidTo::Shut => world.state.lid == LidPosition::Shut,
            LidTo::FirstCatch => world.state.lid == LidPosition::FirstCatch,
            LidTo::Angle(_) => return Ok(Err(Refusal::LidHeld)),
        };
        if same {
            return Ok(Err(Refusal::AlreadySo));
        }
        if to == LidTo::FirstCatch {
            // From home, the latch lets go to the first catch only by way of open.
            return Ok(Err(Refusal::LidHeld));
        }
    } else if world.state.claw_home && !matches!(to, LidTo::Angle(_)) {
        return Ok(Err(Refusal::ClawAlreadyHome));
    }
    let from = world.state.lid.degrees();
    let target = match to {
        LidTo::Shut | LidTo::FirstCatch => 1.0,
        LidTo::Angle(degrees) => f64::from(degrees.clamp(2, vehicle.lid.full_degrees)),
    };
    if !matches!(to, LidTo::Shut | LidTo::FirstCatch) && target == from {
        return Ok(Err(Refusal::AlreadySo));
    }
    if std::mem::take(&mut world.state.propped) {
        outcome.seen.push(Seen::PropOff);
    }
    let mut phases = Vec::new();
    let mut chirps = 0;
    let step = if target > from { 1.0 } else { -1.0 };
    let mut degrees = from;
    while degrees != target {
        degrees += step;
        let was: Vec<bool> = world.state.deviations.iter().map(|one| one.present).collect();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole degrees from 1 to 90"
        )]
        world.state.move_lid(LidPosition::Angle(degrees as u8));
        if world.state.deviations.iter().map(|one| one.present).ne(was) {
            let (passed, asked) = world.attend(vehicle, DEGREE_SECONDS)?;
            phases.extend(passed);
            chirps += asked;
        }
    }
    match to {
        LidTo::Shut => {
            world.state.claw_home = true;
            world.state.move_lid(LidPosition::Shut);
            for one in &mut world.state.deviations {
                if let When::Shaken(probability) = one.deviation.when() {
                    one.present = chance.happens(probability);
                }
            }
            outcome.heard.push(Heard::LatchTakes);
            outcome.seen.push(Seen::LidShut);
        }
        LidTo::FirstCatch => {
            world.state.move_lid(LidPosition::FirstCatch);
            outcome.seen.push(Seen::LidOnFirstCatch);
        }
        LidTo::Angle(_) => {
            if let LidPosition::Angle(degrees) = world.state.lid {
                outcome.seen.push(Seen::LidAt(degrees));
            }
        }
    }
    settle_loose(vehicle, world, chance);
    phases.extend(world.settle(vehicle)?);
    report_chirps(chirps, outcome);
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

/// Breaks that touch when they like settle anew after the loom has moved: open with their own probability, as far as
/// the loom moves at their station. Says whether any is open now.
fn settle_loose(vehicle: &Vehicle, world: &mut World, chance: &mut dyn Chance) -> bool {
    if !std::mem::take(&mut world.state.loom_moves) {
        return false;
    }
    let mut open = false;
    for one in &mut world.state.deviations {
        if let When::Flexed(probability) = one.deviation.when() {
            let moves = one.deviation.piece().map_or(0.3, |(conductor, piece)| {
                vehicle.conductor(conductor).runs[piece].station.map_or(0.2, |id| vehicle.station(id).moves)
            });
            if chance.happens(moves) {
                one.present = chance.happens(probability);
            }
            open |= one.present;
        }
    }
    open
}

/// Flexes the loom at a station: breaks there change over often, next to it seldom, elsewhere never.
fn flex(
    vehicle: &Vehicle,
    world: &mut World,
    station: crate::vehicle::StationId,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    /// How often a break follows a flex right at it, where the break itself does not say; and how much of that is left
    /// at the next station.
    const OFTEN: f64 = 0.8;
    const NEXT_DOOR: f64 = 0.125;
    if let Err(refusal) = reach(vehicle, world, vehicle.station(station).reach) {
        return Ok(Err(refusal));
    }
    let before = world.rest.clone();
    let resting = world.state.deviations.clone();
    let mut changed = false;
    for one in &mut world.state.deviations {
        let Some((conductor, piece)) = one.deviation.piece() else { continue };
        let Some(there) = vehicle.conductor(conductor).runs[piece].station else { continue };
        let share = match there.index().abs_diff(station.index()) {
            0 => 1.0,
            1 => NEXT_DOOR,
            _ => continue,
        };
        let often = match one.deviation.when() {
            When::Always => continue,
            When::Flexed(probability) => probability,
            _ => OFTEN,
        };
        if chance.happens(often * share) {
            one.present = !one.present;
            changed = true;
        }
    }
    let (phases, chirps) = if changed { world.attend(vehicle, FLEX_SECONDS)? } else { (Vec::new(), 0) };
    for (one, rested) in world.state.deviations.iter_mut().zip(&resting) {
        one.present = rested.present;
    }
    report_chirps(chirps, outcome);
    report_phases(vehicle, world, &before, &phases, before.shut, outcome);
    let trace = world.moments(vehicle, &phases);
    settle_loose(vehicle, world, chance);
    world.settle(vehicle)?;
    report_change(vehicle, &before, world, &[], outcome);
    outcome.trace = trace;
    Ok(Ok(()))
}

/// Puts both leads to the battery posts on volts, and everything back as it was.
fn prove_meter(vehicle: &Vehicle, world: &World, outcome: &mut Outcome) -> Result<(), Unsolved> {
    let mut trial = world.clone();
    trial.kit.meter.setting = MeterSetting::Volts;
    trial.kit.meter.capture = false;
    trial.kit.meter.put(Lead::Red, Some(Point::BatteryPlus), None);
    trial.kit.meter.put(Lead::Black, Some(Point::BatteryMinus), None);
    trial.settle(vehicle)?;
    outcome.reading.clone_from(&trial.rest.reading);
    Ok(())
}

fn clip(
    vehicle: &Vehicle,
    world: &mut World,
    tool: Tool,
    ends: Option<(Point, Point)>,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    let before = world.rest.clone();
    let was_on = world.kit.clip(tool).is_some();
    if let Some((from, to)) = ends {
        if from == to {
            return Ok(Err(Refusal::SamePoint));
        }
        for point in [from, to] {
            if let Err(refusal) = touch(vehicle, world, point) {
                return Ok(Err(refusal));
            }
        }
    } else if !was_on {
        return Ok(Err(Refusal::AlreadySo));
    }
    world.kit.clips.retain(|clip| clip.tool != tool);
    if let Some((from, to)) = ends {
        // A blown lead fuse is replaced when the tool is clipped on anew.
        world.kit.clips.push(Clip { tool, from, to, fuse: tool.fuse() });
    }
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

fn fuse_work(
    vehicle: &Vehicle,
    world: &mut World,
    fuse: FuseId,
    what: FuseWork,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if let Err(refusal) = reach(vehicle, world, vehicle.fuse(fuse).reach) {
        return Ok(Err(refusal));
    }
    let before = world.rest.clone();
    let loose = world.state.has(|d| matches!(d, Deviation::Clips { fuse: at, .. } if *at == fuse));
    let slot = &mut world.state.fuses[fuse.index()];
    let look = |body: Option<FuseBody>| FuseLook {
        rating: body.map(|body| body.rating_amps),
        blown: body.is_some_and(|body| body.blown),
        loose,
    };
    match what {
        FuseWork::Pull | FuseWork::Look => {
            let Some(body) = slot.fitted else { return Ok(Err(Refusal::NoFuse)) };
            outcome.seen.push(Seen::Fuse(fuse, look(Some(body))));
            if what == FuseWork::Look {
                return Ok(Ok(()));
            }
            slot.pulled = slot.fitted.take();
        }
        FuseWork::PutBack => {
            if slot.fitted.is_some() {
                return Ok(Err(Refusal::FuseInPlace));
            }
            let Some(body) = slot.pulled.take() else { return Ok(Err(Refusal::NoFuse)) };
            slot.fitted = Some(body);
        }
        FuseWork::Fit(rating) => {
            if !FUSE_RATINGS_AMPS.contains(&rating) {
                return Ok(Err(Refusal::NoSuchRating));
            }
            slot.pulled = None;
            slot.fitted = Some(FuseBody::new(rating));
        }
    }
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

fn read_memory(
    vehicle: &Vehicle,
    world: &World,
    part: PartId,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    let point = world.still(vehicle, &mut world.last.clone())?;
    outcome.seen.push(if module_works(vehicle, &world.wiring, point.point(), part) {
        Seen::Blinks(world.state.memory[part.index()].iter().copied().collect())
    } else {
        Seen::NoBlink
    });
    Ok(Ok(()))
}
