//! Hands on the vehicle: plugging, looking closely, and repairing.

use super::action::{
    Action, ClampPlace, FuseWork, LidTo, MeterSetting, Place, Precaution, Repair, Splice, Tool,
};
use super::outcome::{Caution, LoomLook, Outcome, Refusal, Seen, StudLook, TerminalLook, TugResult};
use super::probing::is_front_of_terminal;
use super::step::{Done, reach, report_change};
use super::world::World;
use crate::circuit::Unsolved;
use crate::vehicle::{
    ConductorId, ConnectorId, ContactLook, Deviation, Half, LidPosition, Mate, PartId, PartKind, Point,
    Reach, Screen, StationId, StudId, Vehicle, When, Zone,
};

/// Above this a path between two conductors is no bare copper, but water and crust, in ohms.
const COPPER_OHMS: f64 = 5.0;

pub(super) fn plug(
    vehicle: &Vehicle,
    world: &mut World,
    connector: ConnectorId,
    mated: bool,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if world.state.is_mated(connector) == mated {
        return Ok(Err(if mated { Refusal::Mated } else { Refusal::NotMated }));
    }
    if let Err(refusal) = reach(vehicle, world, vehicle.connector(connector).reach) {
        return Ok(Err(refusal));
    }
    let pins_touched = world.kit.touched().any(|point| {
        matches!(point, Point::Cavity(at, half, _) if at == connector && !vehicle.is_loom_half(at, half))
    });
    if mated && pins_touched {
        return Ok(Err(Refusal::ToolInTheWay));
    }
    let before = world.rest.clone();
    world.state.mated[connector.index()] = mated;
    if mated {
        let count = world.state.deviations.len();
        world.state.deviations.retain(
            |one| !matches!(one.deviation, Deviation::HalfSeated { connector: at, .. } if at == connector),
        );
        if world.state.deviations.len() != count {
            outcome.seen.push(Seen::WentHome(connector));
            world.rewire(vehicle);
        }
    }
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

pub(super) fn look_at(
    vehicle: &Vehicle,
    world: &World,
    connector: ConnectorId,
    outcome: &mut Outcome,
) -> Done {
    reach(vehicle, world, vehicle.connector(connector).reach)?;
    let mated = world.state.is_mated(connector);
    let mut found = Vec::new();
    let mut not_home = false;
    for one in &world.state.deviations {
        match one.deviation {
            // Of a mated connector only its outside can be seen: wires' colours, and whether it is home.
            Deviation::Contact { connector: at, cavity, look, .. } if at == connector && !mated => {
                let look = match look {
                    ContactLook::PushedBack => TerminalLook::PushedBack,
                    ContactLook::Spread => TerminalLook::Spread,
                    ContactLook::Corroded => TerminalLook::Corroded,
                    ContactLook::Bent => TerminalLook::Bent,
                };
                found.push((cavity, look));
            }
            Deviation::HalfSeated { connector: at, .. } if at == connector => not_home = mated,
            _ => {}
        }
    }
    let colour = |terminal: u8| {
        let wire = vehicle.conductor_in(connector, Half::Loom, terminal);
        wire.map(|wire| vehicle.conductor(wire).colour.as_str())
    };
    // A wire in another's place is seen by its colour alone.
    let strange = (1..=vehicle.connector(connector).cavities)
        .map(|terminal| (terminal, world.state.sits_in(connector, Half::Loom, terminal)))
        .filter(|&(terminal, cavity)| colour(terminal) != colour(cavity));
    found.extend(strange.map(|(_, cavity)| (cavity, TerminalLook::WrongColour)));
    found.sort_unstable_by_key(|(cavity, _)| *cavity);
    outcome.seen.push(if not_home {
        Seen::NotHome(connector)
    } else {
        Seen::Terminals(connector, mated, found)
    });
    Ok(())
}

pub(super) fn tug(
    vehicle: &Vehicle,
    world: &World,
    connector: ConnectorId,
    cavity: u8,
    outcome: &mut Outcome,
) -> Done {
    reach(vehicle, world, vehicle.connector(connector).reach)?;
    let wire = vehicle.conductor_in(connector, Half::Loom, cavity).ok_or(Refusal::EmptyCavity)?;
    let slides = world.state.deviations.iter().any(|one| {
        matches!(one.deviation, Deviation::Contact { connector: at, cavity: c, look: ContactLook::PushedBack, .. }
            if at == connector && c == cavity)
    });
    // A parted conductor gives where the hand is near: in the piece next to this connector.
    let conductor = vehicle.conductor(wire);
    let here = crate::vehicle::End::Cavity(connector, Half::Loom, cavity);
    let near = if conductor.from == here { 0 } else { conductor.runs.len() - 1 };
    let stretches = world.state.deviations.iter().any(|one| {
        matches!(one.deviation, Deviation::Series { conductor: at, piece, ohms, .. }
            if at == wire && piece == near && ohms.is_infinite())
    });
    outcome.seen.push(Seen::Tugged(
        connector,
        cavity,
        match (slides, stretches) {
            (true, _) => TugResult::SlidesBack,
            (_, true) => TugResult::Stretches,
            _ => TugResult::Holds,
        },
    ));
    Ok(())
}

pub(super) fn open_tape(vehicle: &Vehicle, world: &World, station: StationId, outcome: &mut Outcome) -> Done {
    reach(vehicle, world, vehicle.station(station).reach)?;
    let mut looks = Vec::new();
    for one in &world.state.deviations {
        let Some((conductor, piece)) = one.deviation.piece() else { continue };
        if vehicle.conductor(conductor).runs[piece].station != Some(station) {
            continue;
        }
        looks.push(match one.deviation {
            Deviation::ToBody { .. } => LoomLook::Chafed(conductor),
            Deviation::Between { other, ohms, when, .. } if when == When::Wet || ohms > COPPER_OHMS => {
                LoomLook::Crusted(conductor, other)
            }
            Deviation::Between { other, .. } => LoomLook::ChafedTogether(conductor, other),
            Deviation::Strands { .. } => LoomLook::Frayed(conductor),
            Deviation::Series { ohms, .. } if ohms.is_infinite() => LoomLook::Parted(conductor),
            Deviation::Twisted { .. } => LoomLook::EarlierSplice(conductor),
            _ => LoomLook::Corroded(conductor),
        });
    }
    outcome.seen.push(Seen::Loom(station, looks));
    Ok(())
}

pub(super) fn look_at_stud(vehicle: &Vehicle, world: &World, stud: StudId, outcome: &mut Outcome) -> Done {
    reach(vehicle, world, vehicle.stud(stud).reach)?;
    let mut look = StudLook::Sound;
    for one in &world.state.deviations {
        if let Deviation::Stud { eyelet, ohms, loose } = one.deviation
            && vehicle.eyelets[eyelet.index()].stud == stud
        {
            look = match (loose, ohms.is_infinite()) {
                (_, true) => StudLook::Off,
                (true, false) => StudLook::Loose,
                (false, false) => StudLook::Corroded,
            };
        }
    }
    outcome.seen.push(Seen::Stud(stud, look));
    Ok(())
}

pub(super) fn repair(
    vehicle: &Vehicle,
    world: &mut World,
    repair: Repair,
    outcome: &mut Outcome,
) -> Result<Done, Unsolved> {
    if let Err(refusal) = can_repair(vehicle, world, repair) {
        return Ok(Err(refusal));
    }
    let before = world.rest.clone();
    let deviations = &mut world.state.deviations;
    let mut forget = |mended: &dyn Fn(&Deviation) -> bool| deviations.retain(|one| !mended(&one.deviation));
    match repair {
        Repair::Conductor(conductor, station, how) => {
            let here = vehicle.conductor(conductor).piece_at(station);
            forget(&|d| here.is_some_and(|piece| d.is_in_piece(conductor, piece)));
            if let (Splice::Twisted, Some(piece)) = (how, here) {
                world.state.deviate(Deviation::Twisted { conductor, piece });
            }
        }
        Repair::Terminal(connector, cavity) => {
            // A new terminal is crimped on, so the piece of wire behind it is renewed as well. A bent pin opposite is
            // straightened once, and renewed where it has cracked or does not hold (common practice, no source).
            let wire = vehicle.conductor_in(connector, Half::Loom, cavity);
            let end = crate::vehicle::End::Cavity(connector, Half::Loom, cavity);
            let near = wire.map(|wire| {
                let file = vehicle.conductor(wire);
                (wire, if file.from == end { 0 } else { file.runs.len() - 1 })
            });
            forget(&|d| match *d {
                Deviation::Contact { connector: at, cavity: c, .. } => at == connector && c == cavity,
                Deviation::Series { conductor, piece, .. } => {
                    Some((conductor, piece)) == near
                        && vehicle.conductor(conductor).runs[piece].station.is_none()
                }
                _ => false,
            });
        }
        Repair::SwapCavities(connector, first, second) => {
            let deviation = Deviation::Crossed { connector, half: Half::Loom, first, second };
            world.state.deviate(deviation);
            world.state.tidy_crossed(connector, Half::Loom, vehicle.connector(connector).cavities);
        }
        Repair::Stud(stud) => {
            forget(
                &|d| matches!(*d, Deviation::Stud { eyelet, .. } if vehicle.eyelets[eyelet.index()].stud == stud),
            );
        }
        Repair::Clips(fuse) => forget(&|d| matches!(*d, Deviation::Clips { fuse: at, .. } if at == fuse)),
        Repair::Line(part, line, section) => forget(&|d| *d == Deviation::LineBroken(part, line, section)),
        Repair::Part(part) => {
            let with_pins = pins_of_its_own(vehicle, part);
            forget(&|d| match *d {
                Deviation::LampOpen(at)
                | Deviation::Switch(at, _)
                | Deviation::Film { part: at, .. }
                | Deviation::AjarSwitch(at, _)
                | Deviation::Winding(at, _)
                | Deviation::Stiff(at, _)
                | Deviation::Jammed(at)
                | Deviation::DeadSpot(at, _)
                | Deviation::PartOpen(at)
                | Deviation::PartShorted(at, _)
                | Deviation::LineBroken(at, ..)
                | Deviation::ContactBurnt(at, _)
                | Deviation::ContactWelded(at)
                | Deviation::OutputDead(at, _)
                | Deviation::OutputStuck(at, _)
                | Deviation::NeverSleeps(at)
                | Deviation::InputDeaf(at, _)
                | Deviation::ReceiverDeaf(at) => at == part,
                Deviation::HalfSeated { connector, .. } => connector == vehicle.part(part).connector,
                Deviation::Contact { connector, look: ContactLook::Bent, .. } => Some(connector) == with_pins,
                Deviation::LeverOff => matches!(vehicle.part(part).kind, PartKind::Latch(_)),
                _ => false,
            });
            world.state.renew(vehicle, part);
            if let PartKind::Module(_) = vehicle.part(part).kind {
                // A new module comes with nothing remembered and nothing locked out.
                world.state.memory[part.index()].clear();
                world.state.lockout = false;
            }
        }
        Repair::KeyCell => forget(&|d| matches!(d, Deviation::KeyCell(..))),
        Repair::Key => forget(&|d| matches!(d, Deviation::KeyCell(..) | Deviation::KeyButton(_))),
        Repair::Charge => {
            forget(&|d| matches!(d, Deviation::Battery(..)));
            world.state.charge = 1.0;
        }
    }
    world.rewire(vehicle);
    outcome.seen.push(Seen::Done);
    let phases = world.settle(vehicle)?;
    report_change(vehicle, &before, world, &phases, outcome);
    Ok(Ok(()))
}

/// The connector whose pins come with a new part: its own, where it is alone at them. A bulb's are those of its holder.
fn pins_of_its_own(vehicle: &Vehicle, part: PartId) -> Option<ConnectorId> {
    let file = vehicle.part(part);
    let alone = vehicle.parts().all(|(id, other)| id == part || other.connector != file.connector);
    let own = vehicle.connector(file.connector).mate == Mate::Pins;
    (alone && own && !matches!(file.kind, PartKind::Lamp { .. })).then_some(file.connector)
}

fn can_repair(vehicle: &Vehicle, world: &World, repair: Repair) -> Done {
    let open = |connector: ConnectorId| {
        reach(vehicle, world, vehicle.connector(connector).reach)?;
        if world.state.is_mated(connector) { Err(Refusal::Mated) } else { Ok(()) }
    };
    let wired = |connector: ConnectorId, cavity: u8| {
        vehicle
            .conductor_in(connector, Half::Loom, cavity)
            .map(|_: ConductorId| ())
            .ok_or(Refusal::EmptyCavity)
    };
    match repair {
        Repair::Conductor(conductor, station, _) => {
            reach(vehicle, world, vehicle.station(station).reach)?;
            vehicle.conductor(conductor).piece_at(station).map(|_| ()).ok_or(Refusal::ConductorNotHere)
        }
        Repair::Terminal(connector, cavity) => {
            open(connector)?;
            wired(connector, cavity)
        }
        Repair::SwapCavities(connector, first, second) => {
            open(connector)?;
            if first == second {
                return Err(Refusal::SamePoint);
            }
            wired(connector, first)?;
            wired(connector, second)
        }
        Repair::Stud(stud) => reach(vehicle, world, vehicle.stud(stud).reach),
        Repair::Clips(fuse) => {
            reach(vehicle, world, vehicle.fuse(fuse).reach)?;
            if world.state.slot(fuse).fitted.is_some() { Err(Refusal::FuseInPlace) } else { Ok(()) }
        }
        Repair::Line(part, line, section) => match &vehicle.part(part).kind {
            // Lines lie on the inside of the glass.
            PartKind::Screen(screen)
                if (1..=screen.lines).contains(&line) && (1..=Screen::SECTIONS).contains(&section) =>
            {
                reach(vehicle, world, Reach { panel: None, ..vehicle.part(part).reach })
            }
            _ => Err(Refusal::NoSuchLine),
        },
        Repair::Part(part) => reach(vehicle, world, vehicle.part(part).reach),
        Repair::KeyCell | Repair::Key => Ok(()),
        Repair::Charge => reach(vehicle, world, vehicle.battery.reach),
    }
}

/// The cautions that an act calls for, and those that it went against; `before` is the world as the act found it.
pub(super) fn cautions(vehicle: &Vehicle, before: &World, action: &Action, outcome: &mut Outcome) {
    let mut call = |caution: Caution, breached: bool| {
        if !outcome.cautions.contains(&caution) {
            outcome.cautions.push(caution);
        }
        if breached && !outcome.breaches.contains(&caution) {
            outcome.breaches.push(caution);
        }
    };
    let zone = zone_of(vehicle, action);
    match action {
        Action::ProveMeter
        | Action::Repair(Repair::Charge)
        | Action::Clamp(Some(ClampPlace::BatteryPlus)) => {
            call(Caution::Eyes, !before.kit.glasses);
        }
        Action::Clamp(Some(ClampPlace::Station(..))) => call(Caution::NoPiercing, false),
        Action::Clip(tool, Some(_)) => {
            if matches!(tool, Tool::Bridge | Tool::BenchBattery) {
                call(Caution::FusedOnly, false);
                call(Caution::Restraint, false);
            }
        }
        Action::Fuse(fuse, FuseWork::Fit(rating)) if *rating > vehicle.fuse(*fuse).rating_amps => {
            call(Caution::FuseTooLarge, true);
        }
        Action::Precaution(Precaution::ReadCautions) => {
            for caution in Caution::ALL {
                call(caution, false);
            }
        }
        Action::Lid(LidTo::Angle(_)) => call(Caution::Lid, false),
        Action::Lid(LidTo::Shut | LidTo::FirstCatch) => call(Caution::NobodyInside, false),
        Action::CloseClaw => call(Caution::ClawUnderPower, false),
        Action::Repair(Repair::Part(_)) => call(Caution::MakersProcedure, false),
        Action::Repair(Repair::Conductor(..)) | Action::OpenTape(_) => call(Caution::NoPiercing, false),
        Action::Panel(_, true) => call(Caution::Restraint, false),
        Action::Warm(_) => call(Caution::Heat, false),
        _ => {}
    }
    for point in points_of(action) {
        if matches!(point, Point::BatteryPlus | Point::BatteryMinus) {
            call(Caution::Eyes, !before.kit.glasses);
        }
        if is_front_of_terminal(vehicle, before, point) {
            // Who takes his time chooses a tip of the terminal's size.
            call(Caution::SpreadTerminals, matches!(action, Action::ProbeHastily(..)));
        }
    }
    if matches!(action, Action::Meter(MeterSetting::Amps)) {
        call(Caution::AmpsAcrossSource, false);
    }
    // Hands under a lid that nothing but its strut holds.
    if zone == Some(Zone::Lid) && matches!(before.state.lid, LidPosition::Angle(_)) && !before.state.propped {
        call(Caution::Lid, true);
    }
}

/// The points that an act puts leads or clips on.
fn points_of(action: &Action) -> Vec<Point> {
    match *action {
        Action::Probe(_, Some(point)) | Action::ProbeHastily(_, point) => vec![point],
        Action::Clip(_, Some((from, to))) | Action::RecorderLeads(Some((from, to))) => vec![from, to],
        _ => Vec::new(),
    }
}

/// Where an act has its hands.
fn zone_of(vehicle: &Vehicle, action: &Action) -> Option<Zone> {
    let connector = |id: ConnectorId| vehicle.connector(id).reach.zone;
    Some(match *action {
        Action::Plug(id, _) | Action::LookAt(id) | Action::Tug(id, _) => connector(id),
        Action::Probe(..) | Action::ProbeHastily(..) | Action::Clip(..) | Action::RecorderLeads(..) => {
            let zones = points_of(action).into_iter().map(|point| match point {
                Point::Cavity(id, ..) => Some(connector(id)),
                _ => None,
            });
            zones.flatten().max()?
        }
        Action::Clamp(Some(ClampPlace::Station(_, id))) => vehicle.station(id).reach.zone,
        Action::Clamp(Some(ClampPlace::Cavity(id, ..))) => connector(id),
        Action::OpenTape(id) | Action::Flex(id) => vehicle.station(id).reach.zone,
        Action::Tap(id) => vehicle.part(id).reach.zone,
        Action::Warm(place) | Action::Cool(place) => match place {
            Place::Station(id) => vehicle.station(id).reach.zone,
            Place::Connector(id) => connector(id),
            Place::Part(id) => vehicle.part(id).reach.zone,
        },
        Action::CloseClaw => Zone::Lid,
        Action::Panel(id, _) => vehicle.panel(id).zone,
        Action::Repair(Repair::Part(id)) => vehicle.part(id).reach.zone,
        Action::Repair(Repair::Conductor(_, id, _)) => {
            let Reach { zone, .. } = vehicle.station(id).reach;
            zone
        }
        Action::Repair(Repair::Terminal(id, _) | Repair::SwapCavities(id, ..)) => connector(id),
        _ => return None,
    })
}
