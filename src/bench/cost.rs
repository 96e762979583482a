//! Minutes and money: what each act takes, with things reached and tools at hand (common practice, no source; the
//! figures are ours and stand here in one place).

use super::action::{Action, ClampPlace, FuseWork, Precaution, Repair, Splice};
use super::probing::is_front_of_terminal;
use super::world::World;
use crate::vehicle::{Point, Vehicle};

/// What an hour in the workshop costs, in the bill's units of money (common practice, no source).
pub const UNITS_AN_HOUR: f64 = 90.0;
/// Hours of work to which a customer agrees, with the dearest part of his vehicle on top (common practice, no source): no
/// job here is worth more.
const HOURS_AGREED: f64 = 8.0;

/// Price of a fuse and of material for small work.
const FUSE_PRICE: u32 = 2;
const SPLICE_PRICE: u32 = 4;
const TERMINAL_PRICE: u32 = 3;
const METER_FUSE_PRICE: u32 = 9;
const TRIM_CLIPS_PRICE: u32 = 25;
const PAINT_PRICE: u32 = 12;

/// Minutes to touch a point: a stud, a post, a fuse's side or a bare pin; to back-probe a connector, with a thin pin along
/// the wire through its seal; to front-probe an open one's terminals, with a tip of their size chosen first.
const TOUCH_MINUTES: f64 = 0.3;
const BACK_PROBE_MINUTES: f64 = 0.3;
const FRONT_PROBE_MINUTES: f64 = 0.4;
/// Share of those that a hasty lead takes.
const HASTY_SHARE: f64 = 1.0 / 3.0;
/// Minutes to part one conductor from the loom at a station, tape and all, and to close the clamp round a wire.
const PART_FROM_LOOM_MINUTES: f64 = 4.0;
const CLAMP_MINUTES: f64 = 0.4;

/// Minutes to put a lead on a point.
fn probe_minutes(vehicle: &Vehicle, world: &World, point: Point) -> f64 {
    match point {
        _ if is_front_of_terminal(vehicle, world, point) => FRONT_PROBE_MINUTES,
        Point::Cavity(connector, half, _) if vehicle.is_loom_half(connector, half) => BACK_PROBE_MINUTES,
        _ => TOUCH_MINUTES,
    }
}

/// Minutes that an act takes where it can be done, in the world as it finds it.
#[must_use]
pub fn minutes(vehicle: &Vehicle, world: &World, action: &Action) -> f64 {
    match action {
        Action::HandIn { .. }
        | Action::Suspect(..)
        | Action::Mark(..)
        | Action::Coach(_)
        | Action::Estimate(_) => 0.0,
        Action::Meter(_) | Action::Capture(_) | Action::Arm(_) => 0.1,
        Action::Probe(_, Some(point)) => probe_minutes(vehicle, world, *point),
        Action::ProbeHastily(_, point) => HASTY_SHARE * probe_minutes(vehicle, world, *point),
        Action::Probe(_, None) => TOUCH_MINUTES,
        Action::RecorderLeads(Some((plus, minus))) => {
            probe_minutes(vehicle, world, *plus) + probe_minutes(vehicle, world, *minus)
        }
        Action::RecorderLeads(None) => 2.0 * TOUCH_MINUTES,
        Action::Clamp(Some(ClampPlace::Station(..))) => PART_FROM_LOOM_MINUTES + CLAMP_MINUTES,
        Action::Clamp(_) => CLAMP_MINUTES,
        Action::Read | Action::Lid(_) | Action::Key(_) | Action::Press(_) | Action::Switch(..) => 0.2,
        Action::Precaution(Precaution::PropLid) | Action::Observe | Action::Lever => 0.3,
        Action::Precaution(_)
        | Action::Name(..)
        | Action::CloseClaw
        | Action::Clip(..)
        | Action::Lockout(_) => 0.5,
        Action::Plug(..) | Action::Tug(..) => 0.7,
        Action::Ask(_) | Action::LookAt(_) | Action::Flex(_) | Action::LookAtStud(_) | Action::ProveMeter => {
            1.0
        }
        Action::Write(..) | Action::ClearMemory(_) => 1.0,
        Action::Fuse(_, FuseWork::Look | FuseWork::Pull | FuseWork::PutBack | FuseWork::Fit(_)) => 1.0,
        Action::ReadMemory(_) => 2.0,
        Action::MeterFuse => 3.0,
        Action::OpenTape(_) => 4.0,
        Action::ForceLatch => 20.0,
        Action::Tap(_) => 0.5,
        Action::Wet => 2.0,
        Action::Dry => 8.0,
        Action::Warm(_) => 3.0,
        Action::Cool(_) => 1.0,
        Action::Wait(minutes) => f64::from(*minutes),
        Action::Panel(panel, off) => {
            let panel = vehicle.panel(*panel);
            if *off { panel.off_minutes } else { panel.on_minutes }
        }
        Action::Repair(repair) => match repair {
            Repair::Conductor(_, _, Splice::Sound) => 20.0,
            Repair::Conductor(_, _, Splice::Twisted) => 5.0,
            Repair::Terminal(..) | Repair::SwapCavities(..) => 10.0,
            Repair::Stud(_) => 8.0,
            Repair::Clips(_) => 5.0,
            Repair::Line(..) => 15.0,
            Repair::Part(part) => vehicle.part(*part).fit_minutes,
            Repair::KeyCell => 3.0,
            Repair::Key => 25.0,
            Repair::Charge => 40.0,
        },
    }
}

/// The most that the customer agrees to, in units of money.
#[must_use]
pub fn most_agreed(vehicle: &Vehicle) -> u32 {
    let dearest = vehicle.parts().map(|(_, part)| part.price).chain([vehicle.key.price]).max().unwrap_or(0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole sum of money")]
    let labour = (HOURS_AGREED * UNITS_AN_HOUR) as u32;
    labour + dearest
}

/// What an act costs in parts and material where it can be done.
#[must_use]
pub fn price(vehicle: &Vehicle, action: &Action) -> u32 {
    match action {
        Action::Fuse(_, FuseWork::Fit(_)) => FUSE_PRICE,
        Action::MeterFuse => METER_FUSE_PRICE,
        Action::ForceLatch => TRIM_CLIPS_PRICE,
        Action::Repair(repair) => match repair {
            Repair::Conductor(_, _, Splice::Sound) => SPLICE_PRICE,
            Repair::Terminal(..) => TERMINAL_PRICE,
            Repair::Line(..) => PAINT_PRICE,
            Repair::Part(part) => vehicle.part(*part).price,
            Repair::KeyCell => vehicle.key.cell_price,
            Repair::Key => vehicle.key.price,
            Repair::Conductor(..)
            | Repair::SwapCavities(..)
            | Repair::Stud(_)
            | Repair::Clips(_)
            | Repair::Charge => 0,
        },
        _ => 0,
    }
}
