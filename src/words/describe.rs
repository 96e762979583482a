//! What was seen, heard and read, in a person's words; and titles of everything that can be named.

use crate::bench::{
    Action, Answer, Caution, ClampPlace, ClampReading, Display, FuseLook, Heard, LONGEST_WAIT_MINUTES,
    LampSize, Lead, LoomLook, MeterSetting, Precaution, Question, Reading, Refusal, Renewal, Seen, StudLook,
    TerminalLook, Tool, TugResult, WriteUpLine,
};
use crate::fault::{Component, Diagnosis, FaultKind, PlacedFault, Spot};
use crate::scenario::{Scenario, point_name};
use crate::vehicle::{ConductorId, ConnectorId, Half, KeyButton, PartId, Point, Screen, Side, Vehicle};

/// How a light looks, as a fraction of full light.
#[must_use]
pub fn light(fraction: f64) -> String {
    let percent = fraction * 100.0;
    if fraction < 0.004 {
        "dark".to_owned()
    } else if percent < 2.5 {
        format!("a mere glimmer (about {percent:.1} % of its light)")
    } else if percent < 30.0 {
        format!("glows faintly (about {percent:.0} % of its light)")
    } else if percent < 70.0 {
        format!("dim (about {:.0} % of its light)", round_to(percent, 5.0))
    } else if percent < 80.0 {
        format!("a little dim (about {:.0} % of its light)", round_to(percent, 5.0))
    } else {
        "bright".to_owned()
    }
}

fn round_to(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// How a person would name a fault: all that is wrong, where there is more than one thing.
#[must_use]
pub fn fault_title(vehicle: &Vehicle, fault: &PlacedFault) -> String {
    let all: Vec<String> = fault.diagnoses().map(|one| diagnosis(vehicle, one)).collect();
    all.join(", and ")
}

/// A part's title.
#[must_use]
pub fn part_title(vehicle: &Vehicle, id: PartId) -> &str {
    &vehicle.part(id).title
}

/// A connector's title, without which half.
#[must_use]
pub fn connector_title(vehicle: &Vehicle, id: ConnectorId) -> &str {
    &vehicle.connector(id).title
}

/// A conductor's title with its colour letters.
#[must_use]
pub fn conductor_title(vehicle: &Vehicle, id: ConductorId) -> String {
    let conductor = vehicle.conductor(id);
    format!("{} ({})", conductor.title, conductor.colour)
}

/// A point's title.
#[must_use]
pub fn point_title(vehicle: &Vehicle, point: Point) -> String {
    match point {
        Point::Cavity(id, half, cavity) => {
            let connector = vehicle.connector(id);
            let title = if half == Half::Loom { &connector.title } else { &connector.mate_title };
            format!("{title}, cavity {cavity}")
        }
        Point::Fuse(id, Side::Feed) => format!("{}, feed side", vehicle.fuse(id).title),
        Point::Fuse(id, Side::Load) => format!("{}, load side", vehicle.fuse(id).title),
        Point::Stud(id) => vehicle.stud(id).title.clone(),
        Point::Body => "bare metal of the body".to_owned(),
        Point::BatteryPlus => "battery, plus post".to_owned(),
        Point::BatteryMinus => "battery, minus post".to_owned(),
        Point::KeyPlus => "key cell, plus contact".to_owned(),
        Point::KeyMinus => "key cell, minus contact".to_owned(),
        Point::Line(part, line, place) => {
            format!("{}, line {line}, {place}/{} of the way", vehicle.part(part).title, Screen::SECTIONS)
        }
    }
}

/// A tool's title.
#[must_use]
pub fn tool_title(tool: Tool) -> &'static str {
    match tool {
        Tool::TestLamp(LampSize::Five) => "5 W test lamp",
        Tool::TestLamp(LampSize::TwentyOne) => "21 W test lamp",
        Tool::Bridge => "fused bridge",
        Tool::BenchBattery => "bench battery",
    }
}

/// A lead's colour.
fn lead_title(lead: Lead) -> &'static str {
    match lead {
        Lead::Red => "red",
        Lead::Black => "black",
    }
}

/// What the clamp is closed round.
#[must_use]
pub fn clamp_place_title(vehicle: &Vehicle, place: ClampPlace) -> String {
    match place {
        ClampPlace::Station(conductor, station) => {
            format!("{} at {}", conductor_title(vehicle, conductor), vehicle.station(station).title)
        }
        ClampPlace::Cavity(connector, half, cavity) => {
            format!("the wire of {}", point_title(vehicle, Point::Cavity(connector, half, cavity)))
        }
        ClampPlace::BatteryPlus => "the battery's plus cable".to_owned(),
    }
}

/// What the meter's switch says.
#[must_use]
pub fn setting_title(setting: MeterSetting) -> &'static str {
    match setting {
        MeterSetting::Off => "off",
        MeterSetting::Volts => "volts",
        MeterSetting::LowZ => "volts, low impedance",
        MeterSetting::Ohms => "ohms",
        MeterSetting::Tone => "tone",
        MeterSetting::Diode => "diode",
        MeterSetting::Amps => "amps",
    }
}

/// A precaution as something to do.
#[must_use]
pub fn precaution_title(precaution: Precaution) -> &'static str {
    match precaution {
        Precaution::ReadCautions => "read the cautions",
        Precaution::EyeProtection => "put safety glasses on",
        Precaution::PropLid => "prop the lid",
    }
}

/// A line of the write-up.
#[must_use]
pub fn write_up_title(line: WriteUpLine) -> &'static str {
    match line {
        WriteUpLine::Complaint => "Complaint",
        WriteUpLine::Cause => "Cause",
        WriteUpLine::Correction => "Correction",
    }
}

/// A kind of fault.
#[must_use]
pub fn kind_title(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::Open => "open",
        FaultKind::HighResistance => "high resistance",
        FaultKind::ShortToGround => "short to ground",
        FaultKind::ShortBetween => "short to another conductor",
        FaultKind::ShortInside => "short inside",
        FaultKind::Crossed => "crossed",
        FaultKind::Blown => "blown",
        FaultKind::WrongPart => "wrong part",
        FaultKind::Loose => "loose",
        FaultKind::Stiff => "stiff",
        FaultKind::Jammed => "jammed",
        FaultKind::Worn => "worn: works where it happens to touch",
        FaultKind::StuckOn => "stuck on: never lets go",
        FaultKind::StaysAwake => "stays awake: draws current when it should sleep",
        FaultKind::Dead => "dead: has what it needs and gives nothing",
        FaultKind::Deaf => "deaf: is told and does not hear",
        FaultKind::Flat => "flat",
        FaultKind::SettingLeftOn => "setting left on",
    }
}

/// A diagnosis as a phrase.
#[must_use]
pub fn diagnosis(vehicle: &Vehicle, diagnosis: Diagnosis) -> String {
    let component = match diagnosis.component {
        Component::Conductor(id) => conductor_title(vehicle, id),
        Component::Connector(id) => connector_title(vehicle, id).to_owned(),
        Component::Part(id) => part_title(vehicle, id).to_owned(),
        Component::Fuse(id) => vehicle.fuse(id).title.clone(),
        Component::Stud(id) => vehicle.stud(id).title.clone(),
        Component::Key => "key".to_owned(),
        Component::Battery => "battery".to_owned(),
        Component::Lockout => "release lockout setting".to_owned(),
    };
    let spot = match diagnosis.spot {
        Spot::Whole => String::new(),
        Spot::Station(id) => format!(", at the {}", vehicle.station(id).title),
        Spot::Cavity(cavity) => format!(", cavity {cavity}"),
        Spot::Line(line, section) => format!(", line {line}, section {section}"),
    };
    format!("{component}: {}{spot}", kind_title(diagnosis.kind))
}

/// A question to the customer.
#[must_use]
pub fn question(question: Question) -> &'static str {
    match question {
        Question::When => "Since when, and is it always so?",
        Question::Weather => "Does the weather make a difference?",
        Question::Load => "Does it matter how the car is loaded?",
        Question::EarlierWork => "Has anybody worked on the car lately?",
        Question::AnythingElse => "Key or pad, and is anything else at the rear odd?",
    }
}

/// A sentence of the customer's, as he puts it.
#[must_use]
pub fn answer(vehicle: &Vehicle, answer: Answer) -> String {
    let (sentence, ways) = super::customer::ways(vehicle, answer);
    let [first, second, third] = ways;
    match vehicle.manner.way(sentence) {
        0 => first,
        1 => second,
        _ => third,
    }
}

/// Something seen, as a sentence.
#[must_use]
pub fn seen(vehicle: &Vehicle, seen: &Seen) -> String {
    match seen {
        Seen::Lamp(part, fraction) => format!("{}: {}", part_title(vehicle, *part), light(*fraction)),
        Seen::Flash(part, fraction) => {
            format!("{} lights up for a moment: {}", part_title(vehicle, *part), light(*fraction))
        }
        Seen::Dip(part, fraction) => {
            format!("{} falls for a moment: {}", part_title(vehicle, *part), light(*fraction))
        }
        Seen::TestLamp(size, fraction) => {
            format!("{}: {}", tool_title(Tool::TestLamp(*size)), light(*fraction))
        }
        Seen::Turning(part, true) => format!("{} turns", part_title(vehicle, *part)),
        Seen::Turning(part, false) => format!("{} stands still", part_title(vehicle, *part)),
        Seen::Screen(part, lines) => screen(vehicle, *part, lines),
        Seen::LidSign(true) => "dash: the sign for an open lid is lit".to_owned(),
        Seen::LidSign(false) => "dash: the sign for an open lid is dark".to_owned(),
        Seen::LidReleased => "the lid lets go and springs up a little".to_owned(),
        Seen::ClawOpened => "the claw opens".to_owned(),
        Seen::LidAt(degrees) => format!("the lid stands at {degrees}°"),
        Seen::PropOff => "the prop is taken away".to_owned(),
        Seen::LidShut => "the lid is shut".to_owned(),
        Seen::LidOnFirstCatch => "the lid rests on its first catch".to_owned(),
        Seen::Blinks(codes) if codes.is_empty() => "one long blink: nothing is remembered".to_owned(),
        Seen::Blinks(codes) => {
            let list: Vec<String> = codes.iter().map(|code| blink_text(vehicle, *code)).collect();
            format!("it blinks {}", list.join("; then "))
        }
        Seen::NoBlink => "no blink at all: the module does not answer".to_owned(),
        Seen::Fuse(id, look) => format!("{}: {}", vehicle.fuse(*id).title, fuse_look(*look)),
        Seen::InstrumentFuseBlown(None) => "the meter's fuse has blown".to_owned(),
        Seen::InstrumentFuseBlown(Some(tool)) => format!("the fuse of the {} has blown", tool_title(*tool)),
        Seen::Terminals(id, true, looks) if looks.is_empty() => {
            format!(
                "{}: fully home, wires in their places; unplug it to see the terminals",
                connector_title(vehicle, *id)
            )
        }
        Seen::Terminals(id, false, looks) if looks.is_empty() => {
            format!("{}: terminals straight, bright and in line", connector_title(vehicle, *id))
        }
        Seen::Terminals(id, _, looks) => {
            let list: Vec<String> = looks
                .iter()
                .map(|(cavity, look)| format!("cavity {cavity} {}", terminal_look(*look)))
                .collect();
            format!("{}: {}", connector_title(vehicle, *id), list.join("; "))
        }
        Seen::NotHome(id) => format!("{}: its halves are not fully together", connector_title(vehicle, *id)),
        Seen::WentHome(id) => {
            format!("{}: this time it goes home with a click", connector_title(vehicle, *id))
        }
        Seen::Tugged(id, cavity, result) => {
            let title = connector_title(vehicle, *id);
            match result {
                TugResult::Holds => format!("{title}, cavity {cavity}: the wire holds"),
                TugResult::SlidesBack => format!("{title}, cavity {cavity}: the terminal slides back"),
                TugResult::Stretches => format!("{title}, cavity {cavity}: the wire gives and stretches"),
            }
        }
        Seen::Loom(id, looks) if looks.is_empty() => {
            format!("{}: insulation and copper look sound", vehicle.station(*id).title)
        }
        Seen::Loom(id, looks) => {
            let list: Vec<String> = looks.iter().map(|look| loom_look(vehicle, *look)).collect();
            format!("{}: {}", vehicle.station(*id).title, list.join("; "))
        }
        Seen::Stud(id, look) => {
            let look = match look {
                StudLook::Sound => "clean and tight",
                StudLook::Loose => "the eyelet can be turned by hand",
                StudLook::Off => "the eyelet has come off the stud",
                StudLook::Corroded => "tight, but crusted white and green",
            };
            format!("{}: {look}", vehicle.stud(*id).title)
        }
        Seen::Panel(id, true) => format!("{}: out of the way", vehicle.panel(*id).title),
        Seen::Panel(id, false) => format!("{}: back in place", vehicle.panel(*id).title),
        Seen::Done => "done".to_owned(),
        Seen::Wet(true) => "the rear of the car is wet".to_owned(),
        Seen::Wet(false) => "the rear of the car is dry again".to_owned(),
        Seen::ReadingMoved(low, high) => format!("the reading moves between {low} and {high}"),
        Seen::Probe(lead, point) => {
            format!("the {} probe is on: {}", lead_title(*lead), point_title(vehicle, *point))
        }
    }
}

/// Which lines of a heated screen warm up.
fn screen(vehicle: &Vehicle, part: PartId, lines: &[f64]) -> String {
    /// Share of its full heat at which a line clears the mist before it, and at which it does so slowly.
    const CLEARS: f64 = 0.5;
    const SLOWLY: f64 = 0.05;
    let title = part_title(vehicle, part);
    let which = |fits: &dyn Fn(f64) -> bool| {
        let numbers: Vec<String> = lines
            .iter()
            .enumerate()
            .filter(|(_, heat)| fits(**heat))
            .map(|(at, _)| (at + 1).to_string())
            .collect();
        numbers.join(", ")
    };
    let (cold, slow) = (which(&|heat| heat < SLOWLY), which(&|heat| (SLOWLY..CLEARS).contains(&heat)));
    match (cold.is_empty(), slow.is_empty()) {
        (true, true) => format!("{title}: the mist clears before every line"),
        (false, _) if cold.split(", ").count() == lines.len() => format!("{title}: no line gets warm"),
        (false, true) => format!("{title}: the mist stays before line {cold}"),
        (true, false) => format!("{title}: the mist clears slowly before line {slow}"),
        (false, false) => {
            format!("{title}: the mist stays before line {cold}, and clears slowly before line {slow}")
        }
    }
}

fn blink_text(vehicle: &Vehicle, code: u8) -> String {
    let title = vehicle
        .modules()
        .flat_map(|(_, module)| &module.monitors)
        .find(|monitor| monitor.code == code)
        .map_or("not in the list", |monitor| monitor.title.as_str());
    format!("{code} times ({title})")
}

fn fuse_look(look: FuseLook) -> String {
    let Some(rating) = look.rating else { return "no fuse is fitted".to_owned() };
    let state = if look.blown { "its strip has melted" } else { "its strip is whole" };
    let seat = if look.loose { ", and its clips do not grip" } else { "" };
    format!("{rating} A, {state}{seat}")
}

fn terminal_look(look: TerminalLook) -> &'static str {
    match look {
        TerminalLook::PushedBack => "stands back in its cavity",
        TerminalLook::Spread => "has its spring spread open",
        TerminalLook::Corroded => "is green with corrosion",
        TerminalLook::WrongColour => "holds a wire of another colour than the pin table says",
    }
}

fn loom_look(vehicle: &Vehicle, look: LoomLook) -> String {
    match look {
        LoomLook::Parted(id) => {
            format!("{} is cracked through and its copper parted", conductor_title(vehicle, id))
        }
        LoomLook::Corroded(id) => format!("{} is green and swollen", conductor_title(vehicle, id)),
        LoomLook::Frayed(id) => {
            format!("{} hangs on its last strands, which are bright", conductor_title(vehicle, id))
        }
        LoomLook::Chafed(id) => format!("{} is chafed bare", conductor_title(vehicle, id)),
        LoomLook::ChafedTogether(a, b) => format!(
            "{} and {} have chafed through and touch",
            conductor_title(vehicle, a),
            conductor_title(vehicle, b)
        ),
        LoomLook::Crusted(a, b) => format!(
            "a green, damp crust joins {} and {}",
            conductor_title(vehicle, a),
            conductor_title(vehicle, b)
        ),
        LoomLook::EarlierSplice(id) => {
            format!("{} has been twisted together and taped here", conductor_title(vehicle, id))
        }
    }
}

/// Something heard, as a sentence.
#[must_use]
pub fn heard(vehicle: &Vehicle, heard: &Heard) -> String {
    match heard {
        Heard::Chirps(1) => "one chirp".to_owned(),
        Heard::Chirps(2) => "two chirps".to_owned(),
        Heard::Chirps(count) => format!("{count} chirps"),
        Heard::MotorRuns => "the latch's motor runs".to_owned(),
        Heard::MotorStrains => "the latch's motor hums and does not turn".to_owned(),
        Heard::MotorTwitches => "the latch jerks once and stops".to_owned(),
        Heard::PlungerHums => "the latch's solenoid hums, and its plunger stays where it is".to_owned(),
        Heard::RelayClicks => "a relay clicks".to_owned(),
        Heard::RelayChatters => "a relay chatters".to_owned(),
        Heard::LatchOpens => "the latch snaps open".to_owned(),
        Heard::LeverBinds => "the lever's cable goes tight and nothing gives".to_owned(),
        Heard::LatchTakes => "the latch snaps home".to_owned(),
        Heard::Tone => "the meter's tone sounds".to_owned(),
        Heard::ToneBreaks => "the meter's tone comes and goes".to_owned(),
        Heard::FusePops => "a pop: a fuse in a lead has opened".to_owned(),
        Heard::Customer(_, answers) => {
            let said: Vec<String> = answers.iter().map(|one| answer(vehicle, *one)).collect();
            format!("the customer: \"{}\"", said.join(" "))
        }
        Heard::ButtonClicks(button) => {
            let button = match button {
                KeyButton::Lock => "lock",
                KeyButton::Unlock => "unlock",
                KeyButton::Release => "release",
            };
            format!("the key's {button} button clicks under the thumb")
        }
    }
}

/// A reading, as a line.
#[must_use]
pub fn reading(reading: &Reading) -> String {
    let mut text = shown(reading.now, &reading.during, reading.settling);
    if let Some((least, greatest)) = reading.held {
        text = format!("{text}; least {least}, greatest {greatest}");
    }
    if reading.tone {
        text.push_str(", with tone");
    }
    text
}

/// What the clamp shows, as a line.
#[must_use]
pub fn clamp_reading(reading: &ClampReading) -> String {
    shown(reading.now, &reading.during, reading.settling)
}

/// What a display shows, and before that what it has shown, where that says something of the vehicle.
fn shown(now: Display, during: &[Renewal], settling: bool) -> String {
    let mut figures: Vec<String> = during.iter().map(|renewal| renewal.display.to_string()).collect();
    if during.last().is_some_and(|renewal| renewal.display == now) {
        figures.pop();
    }
    if settling || figures.is_empty() {
        return now.to_string();
    }
    format!("the display catches {}, then {now}", figures.join(", "))
}

/// A caution, as a sentence.
#[must_use]
pub fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::Restraint => {
            "Restraint (airbag) wiring is never probed, powered, bridged or measured; a yellow sleeve is a warning, another colour no proof."
        }
        Caution::Eyes => "Protect your eyes at the battery and under the lid.",
        Caution::Lid => "Prop the lid before you work under it; keep hands clear of latch and hinge.",
        Caution::NobodyInside => "Nobody stays in the load space while the lid is shut.",
        Caution::NoPiercing => "Do not pierce insulation; open the tape and close it again.",
        Caution::FusedOnly => "Bridge and feed only through a lead with a fuse of its own.",
        Caution::OhmsOnLive => {
            "Ohms, tone and diode need a circuit without power; on a live one the figure means nothing."
        }
        Caution::AmpsAcrossSource => {
            "On amps the meter is nearly a short: in line only, never across a source."
        }
        Caution::MakersProcedure => {
            "The vehicle maker's procedure, local codes and licensed practice come first; disconnect battery ground where they say so and wait."
        }
        Caution::FuseTooLarge => {
            "A fuse above the slot's rating does not protect the wire behind it: the wire becomes the fuse."
        }
        Caution::Heat => {
            "Heat melts insulation, seals and trim: warm from a distance and keep the gun moving."
        }
        Caution::ClawUnderPower => "Close the claw with a tool, never a finger; it opens under power.",
        Caution::SpreadTerminals => {
            "Front-probe an open connector with a tip of the terminal's size; one that is too big spreads its spring. Back-probe where you can."
        }
    }
}

/// Why something could not be done.
#[must_use]
pub fn refusal(vehicle: &Vehicle, refusal: Refusal) -> String {
    match refusal {
        Refusal::BehindPanel(id) => {
            format!("it is behind the {} (take {} off)", vehicle.panel(id).title, vehicle.panel(id).id)
        }
        Refusal::LidTooLow => {
            format!("it is reached only with the lid up, at {}° or more", vehicle.lid.reach_degrees)
        }
        Refusal::LoadSpaceClosed(id) => format!(
            "the load space is closed: raise the lid, or fold the {} (take {} off)",
            vehicle.panel(id).title,
            vehicle.panel(id).id
        ),
        Refusal::LidHeld => "the latch holds the lid".to_owned(),
        Refusal::ClawAlreadyHome => "the claw is home already; release it first".to_owned(),
        Refusal::LidNotUp => "the lid is not up".to_owned(),
        Refusal::AlreadySo => "it is so already".to_owned(),
        Refusal::Mated => "the connector is plugged together: that cannot be reached".to_owned(),
        Refusal::NotMated => "the connector is open already".to_owned(),
        Refusal::EmptyCavity => "no wire ends there".to_owned(),
        Refusal::NoFuse => "there is no fuse to take".to_owned(),
        Refusal::FuseInPlace => "a fuse sits there; pull it first".to_owned(),
        Refusal::NoSuchRating => "there is no fuse of that rating in the box".to_owned(),
        Refusal::ConductorNotHere => "that conductor does not pass there".to_owned(),
        Refusal::SamePoint => "both ends are on the same point".to_owned(),
        Refusal::MeterFuseWhole => "the meter's fuse is whole".to_owned(),
        Refusal::HandedIn => "the job has been handed in".to_owned(),
        Refusal::NoCoach => "this scenario has no coach: find it by yourself".to_owned(),
        Refusal::NotAllowed => "that instrument is not allowed in this job".to_owned(),
        Refusal::TimeUp => "the time of this job is up: it can only be handed in".to_owned(),
        Refusal::SpringsBack => "it springs back: press it".to_owned(),
        Refusal::StaysPut => "it stays where it is put: switch it on or off".to_owned(),
        Refusal::MeterNotReady => "the meter is off, or a lead touches nothing".to_owned(),
        Refusal::NoSuchWait => {
            format!("wait from 1 to {LONGEST_WAIT_MINUTES} minutes at a time")
        }
        Refusal::NoSuchLine => "there is no such line or section".to_owned(),
        Refusal::ToolInTheWay => "a lead is still on the pins".to_owned(),
        Refusal::RecorderNotReady => {
            "the recorder has nothing to record: put its leads on two points, or close the clamp round a conductor"
                .to_owned()
        }
    }
}

/// An act in a few words, for a job sheet.
#[must_use]
pub fn action_title(vehicle: &Vehicle, action: &Action) -> String {
    match action {
        Action::Ask(which) => format!("ask: {}", question(*which)),
        Action::Precaution(precaution) => precaution_title(*precaution).to_owned(),
        Action::Probe(lead, Some(point)) => {
            format!("{} lead to {}", lead_title(*lead), point_name(vehicle, *point))
        }
        Action::ProbeHastily(lead, point) => {
            format!("{} lead hastily to {}", lead_title(*lead), point_name(vehicle, *point))
        }
        Action::Clamp(Some(place)) => format!("clamp round {}", clamp_place_title(vehicle, *place)),
        Action::Name(named, percent) => format!("name: {} ({percent} %)", diagnosis(vehicle, *named)),
        Action::Suspect(marked, 0) => format!("suspect no longer: {}", diagnosis(vehicle, *marked)),
        Action::Suspect(marked, percent) => format!("suspect: {} ({percent} %)", diagnosis(vehicle, *marked)),
        Action::Coach(rung) => format!("ask the coach (rung {})", rung.number()),
        Action::Estimate(units) => format!("tell the customer: it will cost {units}; he agrees"),
        Action::Write(line, _) => format!("write: {}", write_up_title(*line).to_lowercase()),
        Action::HandIn { refer: true } => "refer with this evidence".to_owned(),
        other => super::command::text(vehicle, other),
    }
}

/// What a scenario's file forbids in its jobs, and how long they may take: a sentence each.
#[must_use]
pub fn limits(scenario: &Scenario) -> Vec<String> {
    let mut said = Vec::new();
    if !scenario.without.is_empty() {
        let names: Vec<&str> = scenario.without.iter().map(|item| item.name()).collect();
        said.push(format!("Not allowed in this job: {}.", names.join(", ")));
    }
    if let Some(most) = scenario.most_minutes {
        said.push(format!("After {most} minutes on the job's clock it can only be handed in."));
    }
    said
}
