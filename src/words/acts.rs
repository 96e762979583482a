//! Acts as titles and in lists: what is done, with things by their titles. What is typed is in `command.rs`.

use super::command::parse;
use super::describe::{
    clamp_place_title, conductor_title, connector_title, diagnosis, lid_word, part_title, point_title,
    question, thing_title,
};
use crate::bench::{
    Action, FuseWork, LampSize, Lead, LidTo, Marking, MeterSetting, Place, Precaution, Question, Repair,
    Splice, Tool, WriteUpLine,
};
use crate::say;
use crate::vehicle::{Half, KeyButton, PartId, Point, Vehicle};
use crate::words::Texts;

/// An act in a few words, for a job sheet.
#[must_use]
pub fn action_title(t: Texts, vehicle: &Vehicle, action: &Action) -> String {
    let point = |point: Point| point_title(t, vehicle, point);
    match action {
        Action::Ask(which) => say!(t, "act-ask-title", question = question(t, *which)),
        Action::Probe(Lead::Red, Some(at)) => say!(t, "act-red-title", point = point(*at)),
        Action::Probe(Lead::Black, Some(at)) => say!(t, "act-black-title", point = point(*at)),
        Action::ProbeHastily(Lead::Red, at) => say!(t, "act-red-hastily-title", point = point(*at)),
        Action::ProbeHastily(Lead::Black, at) => say!(t, "act-black-hastily-title", point = point(*at)),
        other => act(t, vehicle, other),
    }
}

/// Acts, one after another.
#[must_use]
pub(super) fn acts(t: Texts, vehicle: &Vehicle, acts: &[Action]) -> String {
    let lines: Vec<String> = acts.iter().map(|one| act(t, vehicle, one)).collect();
    lines.join("; ")
}

/// The same of commands as a record holds them; `None` where one of them is not this vehicle's.
#[must_use]
pub fn acts_of_commands(t: Texts, vehicle: &Vehicle, commands: &str) -> Option<String> {
    let parsed: Vec<Action> =
        commands.split("; ").map(|line| parse(vehicle, line).ok()).collect::<Option<_>>()?;
    Some(acts(t, vehicle, &parsed))
}

/// An act in a list of what is done one after another: still shorter than its title.
fn act(t: Texts, vehicle: &Vehicle, action: &Action) -> String {
    let point = |point: Point| point_title(t, vehicle, point);
    let part = |id: PartId| part_title(t, vehicle, id);
    let connector = |id| connector_title(t, vehicle, id);
    let station = |id| t.title(&vehicle.station(id).title);
    let of_lid = |id| say!(t, id, lid = lid_word(t, vehicle));
    let id = match action {
        Action::Ask(Question::When) => "act-ask-when",
        Action::Ask(Question::Weather) => "act-ask-weather",
        Action::Ask(Question::Load) => "act-ask-load",
        Action::Ask(Question::EarlierWork) => "act-ask-work",
        Action::Ask(Question::AnythingElse) => "act-ask-else",
        Action::Precaution(Precaution::ReadCautions) => "act-cautions",
        Action::Precaution(Precaution::EyeProtection) => "act-glasses",
        Action::Precaution(Precaution::PropLid) => return of_lid("act-prop"),
        Action::Observe => "act-look",
        Action::Key(KeyButton::Lock) => "act-key-lock",
        Action::Key(KeyButton::Unlock) => "act-key-unlock",
        Action::Key(KeyButton::Release) => return of_lid("act-key-release"),
        Action::Press(id) => return say!(t, "act-press", part = part(*id)),
        Action::Switch(id, true) => return say!(t, "act-switch-on", part = part(*id)),
        Action::Switch(id, false) => return say!(t, "act-switch-off", part = part(*id)),
        Action::Lever => "act-lever",
        Action::ForceLatch => "act-force-latch",
        Action::Lockout(true) => "act-lockout-on",
        Action::Lockout(false) => "act-lockout-off",
        Action::Lid(LidTo::Shut) => return of_lid("act-lid-shut"),
        Action::Lid(LidTo::FirstCatch) => return of_lid("act-lid-catch"),
        Action::Lid(LidTo::Angle(degrees)) if *degrees == vehicle.lid.full_degrees => {
            return of_lid("act-lid-up");
        }
        Action::Lid(LidTo::Angle(degrees)) => {
            return say!(t, "act-lid-angle", lid = lid_word(t, vehicle), degrees = *degrees);
        }
        Action::CloseClaw => "act-claw-close",
        Action::Panel(id, true) => {
            return say!(t, "act-panel-off", panel = t.title(&vehicle.panel(*id).title));
        }
        Action::Panel(id, false) => {
            return say!(t, "act-panel-back", panel = t.title(&vehicle.panel(*id).title));
        }
        Action::Plug(id, true) => return say!(t, "act-plug", connector = connector(*id)),
        Action::Plug(id, false) => return say!(t, "act-unplug", connector = connector(*id)),
        Action::LookAt(id) => return say!(t, "act-inspect", what = connector(*id)),
        Action::LookAtStud(id) => return say!(t, "act-inspect", what = t.title(&vehicle.stud(*id).title)),
        Action::Tug(id, cavity) => {
            return say!(t, "act-tug", point = point(Point::Cavity(*id, Half::Loom, *cavity)));
        }
        Action::OpenTape(id) => return say!(t, "act-tape", station = station(*id)),
        Action::Flex(id) => return say!(t, "act-flex", station = station(*id)),
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
        Action::Clamp(Some(place)) => {
            return say!(t, "act-clamp", place = clamp_place_title(t, vehicle, *place));
        }
        Action::RecorderLeads(None) => "act-recorder-off",
        Action::RecorderLeads(Some((from, to))) => {
            return say!(t, "act-recorder", from = point(*from), to = point(*to));
        }
        Action::Arm(true) => "act-recorder-arm",
        Action::Arm(false) => "act-recorder-disarm",
        Action::Fuse(id, what) => {
            let fuse = t.title(&vehicle.fuse(*id).title);
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
        Action::Warm(place) => return say!(t, "act-warm", place = place_title(t, vehicle, *place)),
        Action::Cool(place) => return say!(t, "act-cool", place = place_title(t, vehicle, *place)),
        Action::Repair(repair) => return repair_words(t, vehicle, *repair),
        Action::Mark(thing, marking) => {
            let id = match marking {
                Some(Marking::Good) => "act-mark-good",
                Some(Marking::Suspect) => "act-mark-suspect",
                None => "act-mark-unknown",
            };
            return say!(t, id, thing = thing_title(t, vehicle, *thing));
        }
        Action::HandIn { refer: false } => "act-hand-in",
        Action::HandIn { refer: true } => "act-refer",
        Action::Name(named, percent) => {
            return say!(t, "act-name", fault = diagnosis(t, vehicle, *named), percent = *percent);
        }
        Action::Suspect(marked, 0) => {
            return say!(t, "act-suspect-no-longer", fault = diagnosis(t, vehicle, *marked));
        }
        Action::Suspect(marked, percent) => {
            return say!(t, "act-suspect", fault = diagnosis(t, vehicle, *marked), percent = *percent);
        }
        Action::Coach(rung) => return say!(t, "act-coach", rung = rung.number()),
        Action::Estimate(units) => return say!(t, "act-estimate", units = *units),
        Action::Write(WriteUpLine::Complaint, _) => "act-write-complaint",
        Action::Write(WriteUpLine::Cause, _) => "act-write-cause",
        Action::Write(WriteUpLine::Correction, _) => "act-write-correction",
    };
    t.say(id).to_owned()
}

fn repair_words(t: Texts, vehicle: &Vehicle, repair: Repair) -> String {
    let id = match repair {
        Repair::Conductor(conductor, station, how) => {
            let id = if how == Splice::Sound { "act-splice" } else { "act-twist" };
            let (conductor, station) =
                (conductor_title(t, vehicle, conductor), t.title(&vehicle.station(station).title));
            return say!(t, id, conductor = conductor, station = station);
        }
        Repair::Terminal(id, cavity) => {
            let point = point_title(t, vehicle, Point::Cavity(id, Half::Loom, cavity));
            return say!(t, "act-terminal", point = point);
        }
        Repair::SwapCavities(id, first, second) => {
            let connector = connector_title(t, vehicle, id);
            return say!(t, "act-swap", connector = connector, first = first, second = second);
        }
        Repair::Stud(id) => return say!(t, "act-clean", stud = t.title(&vehicle.stud(id).title)),
        Repair::Clips(id) => return say!(t, "act-clips", fuse = t.title(&vehicle.fuse(id).title)),
        Repair::Line(id, row, section) => {
            let part = part_title(t, vehicle, id);
            return say!(t, "act-paint", part = part, line = row, section = section);
        }
        Repair::Part(id) => return say!(t, "act-fit", part = part_title(t, vehicle, id)),
        Repair::KeyCell => "act-fit-key-cell",
        Repair::Key => "act-fit-key",
        Repair::Charge => "act-charge",
    };
    t.say(id).to_owned()
}

/// A place that is warmed or cooled.
fn place_title(t: Texts, vehicle: &Vehicle, place: Place) -> &str {
    match place {
        Place::Station(id) => t.title(&vehicle.station(id).title),
        Place::Connector(id) => connector_title(t, vehicle, id),
        Place::Part(id) => part_title(t, vehicle, id),
    }
}
