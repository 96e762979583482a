//! Acts as titles and in lists. In English they are the commands of the text desk, word for word (`tests/texts.rs`); in other
//! languages they say what is done.

use super::command;
use super::describe::{clamp_place_title, diagnosis, precaution_title, question};
use crate::bench::{
    Action, ClampPlace, FuseWork, LampSize, Lead, LidTo, Marking, MeterSetting, Place, Precaution, Question,
    Repair, Splice, Tool, WriteUpLine,
};
use crate::say;
use crate::scenario::point_name;
use crate::vehicle::{KeyButton, PartId, Point, Side, Thing, Vehicle};
use crate::words::Texts;

/// An act in a few words, for a job sheet.
#[must_use]
pub fn action_title(t: Texts, vehicle: &Vehicle, action: &Action) -> String {
    match action {
        Action::Ask(which) => say!(t, "act-ask-title", question = question(t, *which)),
        Action::Precaution(precaution) => precaution_title(t, *precaution).to_owned(),
        Action::Probe(Lead::Red, Some(point)) => {
            say!(t, "act-probe-red-title", point = point_word(t, vehicle, *point))
        }
        Action::Probe(Lead::Black, Some(point)) => {
            say!(t, "act-probe-black-title", point = point_word(t, vehicle, *point))
        }
        Action::ProbeHastily(Lead::Red, point) => {
            say!(t, "act-hastily-red-title", point = point_word(t, vehicle, *point))
        }
        Action::ProbeHastily(Lead::Black, point) => {
            say!(t, "act-hastily-black-title", point = point_word(t, vehicle, *point))
        }
        Action::Clamp(Some(place)) => {
            say!(t, "act-clamp-title", place = clamp_place_title(t, vehicle, *place))
        }
        Action::Name(named, percent) => {
            say!(t, "act-name-title", fault = diagnosis(t, vehicle, *named), percent = *percent)
        }
        Action::Suspect(marked, 0) => {
            say!(t, "act-suspect-no-longer-title", fault = diagnosis(t, vehicle, *marked))
        }
        Action::Suspect(marked, percent) => {
            say!(t, "act-suspect-title", fault = diagnosis(t, vehicle, *marked), percent = *percent)
        }
        Action::Coach(rung) => say!(t, "act-coach-title", rung = rung.number()),
        Action::Estimate(units) => say!(t, "act-estimate-title", units = *units),
        Action::Write(line, _) => t
            .say(match line {
                WriteUpLine::Complaint => "act-write-complaint-title",
                WriteUpLine::Cause => "act-write-cause-title",
                WriteUpLine::Correction => "act-write-correction-title",
            })
            .to_owned(),
        Action::HandIn { refer: true } => t.say("act-refer-title").to_owned(),
        other => act(t, vehicle, other),
    }
}

/// Acts, one after another.
#[must_use]
pub(super) fn acts(t: Texts, vehicle: &Vehicle, acts: &[Action]) -> String {
    let lines: Vec<String> = acts.iter().map(|one| act(t, vehicle, one)).collect();
    lines.join("; ")
}

/// An act as one does it at the desk, in a language's words.
#[must_use]
pub fn act(t: Texts, vehicle: &Vehicle, action: &Action) -> String {
    let point = |point: Point| point_word(t, vehicle, point);
    let part = |id: PartId| vehicle.part(id).id.as_str();
    let id = match action {
        Action::Ask(Question::When) => "act-ask-when",
        Action::Ask(Question::Weather) => "act-ask-weather",
        Action::Ask(Question::Load) => "act-ask-load",
        Action::Ask(Question::EarlierWork) => "act-ask-work",
        Action::Ask(Question::AnythingElse) => "act-ask-else",
        Action::Precaution(Precaution::ReadCautions) => "act-cautions",
        Action::Precaution(Precaution::EyeProtection) => "act-glasses",
        Action::Precaution(Precaution::PropLid) => "act-prop",
        Action::Observe => "act-look",
        Action::Key(KeyButton::Lock) => "act-key-lock",
        Action::Key(KeyButton::Unlock) => "act-key-unlock",
        Action::Key(KeyButton::Release) => "act-key-release",
        Action::Press(id) => return say!(t, "act-press", part = part(*id)),
        Action::Switch(id, true) => return say!(t, "act-switch-on", part = part(*id)),
        Action::Switch(id, false) => return say!(t, "act-switch-off", part = part(*id)),
        Action::Lever => "act-lever",
        Action::ForceLatch => "act-force-latch",
        Action::Lockout(true) => "act-lockout-on",
        Action::Lockout(false) => "act-lockout-off",
        Action::Lid(LidTo::Shut) => "act-lid-shut",
        Action::Lid(LidTo::FirstCatch) => "act-lid-catch",
        Action::Lid(LidTo::Angle(degrees)) if *degrees == vehicle.lid.full_degrees => "act-lid-up",
        Action::Lid(LidTo::Angle(degrees)) => return say!(t, "act-lid-angle", degrees = *degrees),
        Action::CloseClaw => "act-claw-close",
        Action::Panel(id, true) => return say!(t, "act-panel-off", panel = &vehicle.panel(*id).id),
        Action::Panel(id, false) => return say!(t, "act-panel-back", panel = &vehicle.panel(*id).id),
        Action::Plug(id, true) => return say!(t, "act-plug", connector = &vehicle.connector(*id).id),
        Action::Plug(id, false) => return say!(t, "act-unplug", connector = &vehicle.connector(*id).id),
        Action::LookAt(id) => return say!(t, "act-inspect", what = &vehicle.connector(*id).id),
        Action::LookAtStud(id) => return say!(t, "act-inspect", what = &vehicle.stud(*id).id),
        Action::Tug(id, cavity) => {
            return say!(t, "act-tug", point = format!("{}.{cavity}", vehicle.connector(*id).id));
        }
        Action::OpenTape(id) => return say!(t, "act-tape", station = &vehicle.station(*id).id),
        Action::Flex(id) => return say!(t, "act-flex", station = &vehicle.station(*id).id),
        Action::Meter(MeterSetting::Off) => "act-meter-off",
        Action::Meter(MeterSetting::Volts) => "act-meter-volts",
        Action::Meter(MeterSetting::LowZ) => "act-meter-low-z",
        Action::Meter(MeterSetting::Ohms) => "act-meter-ohms",
        Action::Meter(MeterSetting::Tone) => "act-meter-tone",
        Action::Meter(MeterSetting::Diode) => "act-meter-diode",
        Action::Meter(MeterSetting::Amps) => "act-meter-amps",
        Action::Capture(true) => "act-capture-on",
        Action::Capture(false) => "act-capture-off",
        Action::Probe(Lead::Red, Some(at)) => return say!(t, "act-red", point = point(*at)),
        Action::Probe(Lead::Black, Some(at)) => return say!(t, "act-black", point = point(*at)),
        Action::Probe(Lead::Red, None) => "act-red-off",
        Action::Probe(Lead::Black, None) => "act-black-off",
        Action::ProbeHastily(Lead::Red, at) => return say!(t, "act-red-hastily", point = point(*at)),
        Action::ProbeHastily(Lead::Black, at) => return say!(t, "act-black-hastily", point = point(*at)),
        Action::Read => "act-read",
        Action::ProveMeter => "act-meter-prove",
        Action::MeterFuse => "act-meter-fuse",
        Action::Clip(tool, Some((from, to))) => {
            let id = match tool {
                Tool::TestLamp(LampSize::Five) => "act-lamp-5",
                Tool::TestLamp(LampSize::TwentyOne) => "act-lamp-21",
                Tool::Bridge => "act-bridge",
                Tool::BenchBattery => "act-bench",
            };
            return say!(t, id, from = point(*from), to = point(*to));
        }
        Action::Clip(Tool::TestLamp(LampSize::Five), None) => "act-lamp-5-off",
        Action::Clip(Tool::TestLamp(LampSize::TwentyOne), None) => "act-lamp-21-off",
        Action::Clip(Tool::Bridge, None) => "act-bridge-off",
        Action::Clip(Tool::BenchBattery, None) => "act-bench-off",
        Action::Clamp(None) => "act-clamp-off",
        Action::Clamp(Some(ClampPlace::BatteryPlus)) => "act-clamp-battery",
        Action::Clamp(Some(ClampPlace::Station(id, at))) => {
            let (conductor, station) = (&vehicle.conductor(*id).id, &vehicle.station(*at).id);
            return say!(t, "act-clamp-station", conductor = conductor, station = station);
        }
        Action::Clamp(Some(ClampPlace::Cavity(id, half, cavity))) => {
            return say!(t, "act-clamp-cavity", point = point(Point::Cavity(*id, *half, *cavity)));
        }
        Action::RecorderLeads(None) => "act-recorder-off",
        Action::RecorderLeads(Some((from, to))) => {
            return say!(t, "act-recorder", from = point(*from), to = point(*to));
        }
        Action::Arm(true) => "act-recorder-arm",
        Action::Arm(false) => "act-recorder-disarm",
        Action::Fuse(id, what) => {
            let fuse = &vehicle.fuse(*id).id;
            return match what {
                FuseWork::Pull => say!(t, "act-fuse-pull", fuse = fuse),
                FuseWork::Look => say!(t, "act-fuse-look", fuse = fuse),
                FuseWork::PutBack => say!(t, "act-fuse-back", fuse = fuse),
                FuseWork::Fit(rating) => say!(t, "act-fuse-fit", fuse = fuse, amps = *rating),
            };
        }
        Action::ReadMemory(id) => return say!(t, "act-memory-read", part = part(*id)),
        Action::ClearMemory(id) => return say!(t, "act-memory-clear", part = part(*id)),
        Action::Wait(minutes) => return say!(t, "act-wait", minutes = *minutes),
        Action::Tap(id) => return say!(t, "act-tap", part = part(*id)),
        Action::Wet => "act-wet",
        Action::Dry => "act-dry",
        Action::Warm(place) => return say!(t, "act-warm", place = place_word(t, vehicle, *place)),
        Action::Cool(place) => return say!(t, "act-cool", place = place_word(t, vehicle, *place)),
        Action::Repair(repair) => return repair_words(t, vehicle, *repair),
        Action::Mark(thing, marking) => {
            let id = match marking {
                Some(Marking::Good) => "act-mark-good",
                Some(Marking::Suspect) => "act-mark-suspect",
                None => "act-mark-unknown",
            };
            return say!(t, id, thing = thing_word(t, vehicle, *thing));
        }
        Action::HandIn { refer: false } => "act-hand-in",
        Action::HandIn { refer: true } => "act-refer",
        // These are spoken of by their titles, but at the desk.
        Action::Name(..)
        | Action::Suspect(..)
        | Action::Coach(_)
        | Action::Estimate(_)
        | Action::Write(..) => return command::text(vehicle, action),
    };
    t.say(id).to_owned()
}

fn repair_words(t: Texts, vehicle: &Vehicle, repair: Repair) -> String {
    let part = |id: PartId| vehicle.part(id).id.as_str();
    let id = match repair {
        Repair::Conductor(conductor, station, how) => {
            let id = if how == Splice::Sound { "act-splice" } else { "act-twist" };
            let (conductor, station) = (&vehicle.conductor(conductor).id, &vehicle.station(station).id);
            return say!(t, id, conductor = conductor, station = station);
        }
        Repair::Terminal(id, cavity) => {
            return say!(t, "act-terminal", point = format!("{}.{cavity}", vehicle.connector(id).id));
        }
        Repair::SwapCavities(id, first, second) => {
            let connector = &vehicle.connector(id).id;
            return say!(t, "act-swap", connector = connector, first = first, second = second);
        }
        Repair::Stud(id) => return say!(t, "act-clean", stud = &vehicle.stud(id).id),
        Repair::Clips(id) => return say!(t, "act-clips", fuse = &vehicle.fuse(id).id),
        Repair::Line(id, row, section) => {
            return say!(t, "act-paint", line = format!("{}.{row}.{section}", part(id)));
        }
        Repair::Part(id) => return say!(t, "act-fit", part = part(id)),
        Repair::KeyCell => "act-fit-key-cell",
        Repair::Key => "act-fit-key",
        Repair::Charge => "act-charge",
    };
    t.say(id).to_owned()
}

/// A point's name, as short as in a command.
fn point_word(t: Texts, vehicle: &Vehicle, point: Point) -> String {
    match point {
        Point::Fuse(id, Side::Feed) => say!(t, "name-fuse-feed", fuse = &vehicle.fuse(id).id),
        Point::Fuse(id, Side::Load) => say!(t, "name-fuse-load", fuse = &vehicle.fuse(id).id),
        Point::Body => t.say("name-body").to_owned(),
        Point::BatteryPlus => t.say("name-battery-plus").to_owned(),
        Point::BatteryMinus => t.say("name-battery-minus").to_owned(),
        Point::KeyPlus => t.say("name-key-plus").to_owned(),
        Point::KeyMinus => t.say("name-key-minus").to_owned(),
        Point::Cavity(..) | Point::Stud(_) | Point::Line(..) => point_name(vehicle, point),
    }
}

/// A place that is warmed or cooled.
fn place_word(t: Texts, vehicle: &Vehicle, place: Place) -> String {
    match place {
        Place::Station(id) => vehicle.station(id).id.clone(),
        Place::Connector(id) => say!(t, "act-place-connector", connector = &vehicle.connector(id).id),
        Place::Part(id) => {
            let name = &vehicle.part(id).id;
            let taken = vehicle.stations.iter().any(|station| station.id == *name);
            if taken { say!(t, "act-place-part", part = name) } else { name.clone() }
        }
    }
}

/// Something that the wiring diagram shows.
fn thing_word(t: Texts, vehicle: &Vehicle, thing: Thing) -> String {
    match thing {
        Thing::Battery => t.say("name-battery").to_owned(),
        Thing::Fuse(id) => vehicle.fuse(id).id.clone(),
        Thing::Conductor(id) => vehicle.conductor(id).id.clone(),
        Thing::Station(id, at) => {
            let (conductor, station) = (&vehicle.conductor(id).id, &vehicle.station(at).id);
            say!(t, "name-at-station", conductor = conductor, station = station)
        }
        Thing::Cavity(id, cavity) => format!("{}.{cavity}", vehicle.connector(id).id),
        Thing::Connector(id) => say!(t, "act-place-connector", connector = &vehicle.connector(id).id),
        Thing::Part(id) => vehicle.part(id).id.clone(),
        Thing::Splice(id) => say!(t, "name-splice", splice = &vehicle.splices[id.index()].id),
        Thing::Eyelet(id) => say!(t, "name-eyelet", eyelet = &vehicle.eyelets[id.index()].id),
        Thing::Stud(id) => vehicle.stud(id).id.clone(),
        Thing::Body(id) => say!(t, "name-joint", conductor = &vehicle.conductor(id).id),
    }
}
