//! What was seen, heard and read, in a person's words; and titles of everything that can be named.

use crate::bench::{
    Answer, Caution, ClampPlace, ClampReading, Display, FuseLook, Heard, KitItem, LONGEST_WAIT_MINUTES,
    LampSize, Lead, LoomLook, MeterSetting, Precaution, Question, Reading, Refusal, Renewal, Seen, StudLook,
    TerminalLook, Tool, TugResult, WriteUpLine,
};
use crate::fault::{Component, Diagnosis, FaultKind, PlacedFault, Spot};
use crate::say;
use crate::scenario::Scenario;
use crate::vehicle::{
    ConductorId, ConnectorId, Half, KeyButton, Mate, PartId, Point, Screen, Side, Thing, Vehicle,
};
use crate::words::Texts;

/// How a light looks, as a fraction of full light.
#[must_use]
pub fn light(t: Texts, fraction: f64) -> String {
    let percent = fraction * 100.0;
    let (id, percent) = if fraction < 0.004 {
        return t.say("light-dark").to_owned();
    } else if percent < 2.5 {
        ("light-glimmer", format!("{percent:.1}"))
    } else if percent < 30.0 {
        ("light-faint", format!("{percent:.0}"))
    } else if percent < 70.0 {
        ("light-dim", format!("{:.0}", round_to(percent, 5.0)))
    } else if percent < 80.0 {
        ("light-little-dim", format!("{:.0}", round_to(percent, 5.0)))
    } else {
        return t.say("light-bright").to_owned();
    };
    say!(t, id, percent = percent)
}

fn round_to(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// How a person would name a fault: all that is wrong, where there is more than one thing.
#[must_use]
pub fn fault_title(t: Texts, vehicle: &Vehicle, fault: &PlacedFault) -> String {
    let all = fault.diagnoses().map(|one| diagnosis(t, vehicle, one));
    all.reduce(|one, other| say!(t, "fault-and", one = one, other = other)).unwrap_or_default()
}

/// A part's title.
#[must_use]
pub fn part_title(t: Texts, vehicle: &Vehicle, id: PartId) -> &str {
    t.title(&vehicle.part(id).title)
}

/// A connector's title, without which half.
#[must_use]
pub fn connector_title(t: Texts, vehicle: &Vehicle, id: ConnectorId) -> &str {
    t.title(&vehicle.connector(id).title)
}

/// A conductor's title with its colour letters.
#[must_use]
pub fn conductor_title(t: Texts, vehicle: &Vehicle, id: ConductorId) -> String {
    let conductor = vehicle.conductor(id);
    format!("{} ({})", t.title(&conductor.title), conductor.colour)
}

/// A point's title.
#[must_use]
pub fn point_title(t: Texts, vehicle: &Vehicle, point: Point) -> String {
    match point {
        Point::Cavity(id, half, cavity) => {
            let connector = vehicle.connector(id);
            let title = match (half, connector.mate) {
                (Half::Loom, _) => t.title(&connector.title).to_owned(),
                (Half::Mate, Mate::Loom) => t.title(&connector.mate_title).to_owned(),
                (Half::Mate, Mate::Pins) => {
                    say!(t, "point-own-pins", connector = t.title(&connector.title))
                }
            };
            say!(t, "point-cavity", connector = title, cavity = cavity)
        }
        Point::Fuse(id, Side::Feed) => say!(t, "point-fuse-feed", fuse = t.title(&vehicle.fuse(id).title)),
        Point::Fuse(id, Side::Load) => say!(t, "point-fuse-load", fuse = t.title(&vehicle.fuse(id).title)),
        Point::Stud(id) => t.title(&vehicle.stud(id).title).to_owned(),
        Point::Body => t.say("point-body").to_owned(),
        Point::BatteryPlus => t.say("point-battery-plus").to_owned(),
        Point::BatteryMinus => t.say("point-battery-minus").to_owned(),
        Point::KeyPlus => t.say("point-key-plus").to_owned(),
        Point::KeyMinus => t.say("point-key-minus").to_owned(),
        Point::Line(part, line, place) => {
            let part = t.title(&vehicle.part(part).title);
            say!(t, "point-line", part = part, line = line, place = place, sections = Screen::SECTIONS)
        }
    }
}

/// The title of something that the wiring diagram shows.
#[must_use]
pub fn thing_title(t: Texts, vehicle: &Vehicle, thing: Thing) -> String {
    match thing {
        Thing::Battery => t.say("component-battery").to_owned(),
        Thing::Fuse(id) => t.title(&vehicle.fuse(id).title).to_owned(),
        Thing::Conductor(id) | Thing::Body(id) => {
            let title = conductor_title(t, vehicle, id);
            say!(t, "thing-conductor", conductor = title, size = vehicle.conductor(id).square_millimetres)
        }
        Thing::Station(id, station) => {
            let title = conductor_title(t, vehicle, id);
            say!(t, "thing-at-station", conductor = title, station = t.title(&vehicle.station(station).title))
        }
        Thing::Cavity(id, cavity) => point_title(t, vehicle, Point::Cavity(id, Half::Loom, cavity)),
        Thing::Connector(id) => connector_title(t, vehicle, id).to_owned(),
        Thing::Part(id) => part_title(t, vehicle, id).to_owned(),
        Thing::Splice(id) => t.title(&vehicle.splices[id.index()].title).to_owned(),
        Thing::Eyelet(id) => t.title(&vehicle.stud(vehicle.eyelets[id.index()].stud).title).to_owned(),
        Thing::Stud(id) => t.title(&vehicle.stud(id).title).to_owned(),
    }
}

/// A name as it begins a heading or a sentence: with a capital letter.
#[must_use]
pub fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A tool's title.
#[must_use]
pub fn tool_title(t: Texts, tool: Tool) -> &'static str {
    t.say(match tool {
        Tool::TestLamp(LampSize::Five) => "tool-lamp-5",
        Tool::TestLamp(LampSize::TwentyOne) => "tool-lamp-21",
        Tool::Bridge => "tool-bridge",
        Tool::BenchBattery => "tool-bench-battery",
    })
}

/// What the clamp is closed round.
#[must_use]
pub fn clamp_place_title(t: Texts, vehicle: &Vehicle, place: ClampPlace) -> String {
    match place {
        ClampPlace::Station(conductor, station) => {
            let conductor = conductor_title(t, vehicle, conductor);
            let station = t.title(&vehicle.station(station).title);
            say!(t, "clamp-place-station", conductor = conductor, station = station)
        }
        ClampPlace::Cavity(connector, half, cavity) => {
            let point = point_title(t, vehicle, Point::Cavity(connector, half, cavity));
            say!(t, "clamp-place-cavity", point = point)
        }
        ClampPlace::BatteryPlus => t.say("clamp-place-battery").to_owned(),
    }
}

/// What the meter's switch says.
#[must_use]
pub fn setting_title(t: Texts, setting: MeterSetting) -> &'static str {
    t.say(match setting {
        MeterSetting::Off => "setting-off",
        MeterSetting::Volts => "setting-volts",
        MeterSetting::LowZ => "setting-low-z",
        MeterSetting::Ohms => "setting-ohms",
        MeterSetting::Tone => "setting-tone",
        MeterSetting::Diode => "setting-diode",
        MeterSetting::Amps => "setting-amps",
    })
}

/// A precaution as something to do.
#[must_use]
pub fn precaution_title(t: Texts, precaution: Precaution) -> &'static str {
    t.say(match precaution {
        Precaution::ReadCautions => "precaution-read",
        Precaution::EyeProtection => "precaution-eyes",
        Precaution::PropLid => "precaution-prop",
    })
}

/// A line of the write-up.
#[must_use]
pub fn write_up_title(t: Texts, line: WriteUpLine) -> &'static str {
    t.say(match line {
        WriteUpLine::Complaint => "write-up-complaint",
        WriteUpLine::Cause => "write-up-cause",
        WriteUpLine::Correction => "write-up-correction",
    })
}

/// A kind of fault.
#[must_use]
pub fn kind_title(t: Texts, kind: FaultKind) -> &'static str {
    t.say(match kind {
        FaultKind::Open => "kind-open",
        FaultKind::HighResistance => "kind-high-resistance",
        FaultKind::ShortToGround => "kind-short-to-ground",
        FaultKind::ShortBetween => "kind-short-between",
        FaultKind::ShortInside => "kind-short-inside",
        FaultKind::Crossed => "kind-crossed",
        FaultKind::Blown => "kind-blown",
        FaultKind::WrongPart => "kind-wrong-part",
        FaultKind::Loose => "kind-loose",
        FaultKind::Stiff => "kind-stiff",
        FaultKind::Jammed => "kind-jammed",
        FaultKind::Worn => "kind-worn",
        FaultKind::StuckOn => "kind-stuck-on",
        FaultKind::StaysAwake => "kind-stays-awake",
        FaultKind::Dead => "kind-dead",
        FaultKind::Deaf => "kind-deaf",
        FaultKind::Flat => "kind-flat",
        FaultKind::SettingLeftOn => "kind-setting-left-on",
    })
}

/// A diagnosis as a phrase.
#[must_use]
pub fn diagnosis(t: Texts, vehicle: &Vehicle, diagnosis: Diagnosis) -> String {
    let component = match diagnosis.component {
        Component::Conductor(id) => conductor_title(t, vehicle, id),
        Component::Connector(id) => connector_title(t, vehicle, id).to_owned(),
        Component::Part(id) => part_title(t, vehicle, id).to_owned(),
        Component::Fuse(id) => t.title(&vehicle.fuse(id).title).to_owned(),
        Component::Stud(id) => t.title(&vehicle.stud(id).title).to_owned(),
        Component::Key => t.say("component-key").to_owned(),
        Component::Battery => t.say("component-battery").to_owned(),
        Component::Lockout => t.say("component-lockout").to_owned(),
    };
    let kind = kind_title(t, diagnosis.kind);
    match diagnosis.spot {
        Spot::Whole => say!(t, "diagnosis-whole", component = component, kind = kind),
        Spot::Station(id) => {
            let station = t.title(&vehicle.station(id).title);
            say!(t, "diagnosis-station", component = component, kind = kind, station = station)
        }
        Spot::Cavity(cavity) => {
            say!(t, "diagnosis-cavity", component = component, kind = kind, cavity = cavity)
        }
        Spot::Line(line, section) => {
            say!(t, "diagnosis-line", component = component, kind = kind, line = line, section = section)
        }
    }
}

/// A question to the customer.
#[must_use]
pub fn question(t: Texts, question: Question) -> &'static str {
    t.say(match question {
        Question::When => "question-when",
        Question::Weather => "question-weather",
        Question::Load => "question-load",
        Question::EarlierWork => "question-work",
        Question::AnythingElse => "question-else",
    })
}

/// A sentence of the customer's, as he puts it.
#[must_use]
pub fn answer(t: Texts, vehicle: &Vehicle, answer: Answer) -> String {
    super::customer::said(t, vehicle, answer)
}

/// What the lid is where a text does not call it by its name: on a van with rear doors, a door.
#[must_use]
pub fn lid_word(t: Texts, vehicle: &Vehicle) -> &'static str {
    t.say(if vehicle.lid.is_door { "lid-word-door" } else { "lid-word" })
}

/// Something seen, as a sentence.
#[must_use]
pub fn seen(t: Texts, vehicle: &Vehicle, seen: &Seen) -> String {
    let plain = |id| t.say(id).to_owned();
    let of_lid = |id| say!(t, id, lid = lid_word(t, vehicle));
    let part = |id: &PartId| part_title(t, vehicle, *id);
    let connector = |id: &ConnectorId| connector_title(t, vehicle, *id);
    let of = |what: &str, look: &str| say!(t, "seen-of", what = what, look = look);
    match seen {
        Seen::Lamp(id, share) => say!(t, "seen-light", lamp = part(id), light = light(t, *share)),
        Seen::Flash(id, share) => say!(t, "seen-flash", lamp = part(id), light = light(t, *share)),
        Seen::Dip(id, share) => say!(t, "seen-dip", lamp = part(id), light = light(t, *share)),
        Seen::TestLamp(size, share) => {
            let lamp = tool_title(t, Tool::TestLamp(*size));
            say!(t, "seen-light", lamp = lamp, light = light(t, *share))
        }
        Seen::Turning(id, true) => say!(t, "seen-turns", part = part(id)),
        Seen::Turning(id, false) => say!(t, "seen-stands-still", part = part(id)),
        Seen::Screen(id, lines) => screen(t, vehicle, *id, lines),
        Seen::LidSign(true) => of_lid("seen-lid-sign-lit"),
        Seen::LidSign(false) => of_lid("seen-lid-sign-dark"),
        Seen::LidReleased => of_lid("seen-lid-released"),
        Seen::ClawOpened => plain("seen-claw-opened"),
        Seen::LidAt(degrees) => say!(t, "seen-lid-at", lid = lid_word(t, vehicle), degrees = *degrees),
        Seen::PropOff => plain("seen-prop-off"),
        Seen::LidShut => of_lid("seen-lid-shut"),
        Seen::LidOnFirstCatch => of_lid("seen-lid-first-catch"),
        Seen::Blinks(codes) if codes.is_empty() => plain("seen-blink-nothing"),
        Seen::Blinks(codes) => {
            let codes = codes.iter().map(|code| blink_text(t, vehicle, *code));
            let codes = codes.reduce(|one, other| say!(t, "seen-blink-then", one = one, other = other));
            say!(t, "seen-blinks", codes = codes.unwrap_or_default())
        }
        Seen::NoBlink => plain("seen-no-blink"),
        Seen::Fuse(id, look) => of(t.title(&vehicle.fuse(*id).title), &fuse_look(t, *look)),
        Seen::InstrumentFuseBlown(None) => plain("seen-meter-fuse-blown"),
        Seen::InstrumentFuseBlown(Some(tool)) => {
            say!(t, "seen-tool-fuse-blown", tool = tool_title(t, *tool))
        }
        Seen::Terminals(id, true, looks) if looks.is_empty() => {
            say!(t, "seen-terminals-home", connector = connector(id))
        }
        Seen::Terminals(id, false, looks) if looks.is_empty() => {
            say!(t, "seen-terminals-sound", connector = connector(id))
        }
        Seen::Terminals(id, _, looks) => {
            let list: Vec<String> = looks
                .iter()
                .map(|(cavity, look)| {
                    say!(t, "seen-terminal", cavity = *cavity, look = terminal_look(t, *look))
                })
                .collect();
            of(connector(id), &list.join("; "))
        }
        Seen::NotHome(id) => say!(t, "seen-not-home", connector = connector(id)),
        Seen::WentHome(id) => say!(t, "seen-went-home", connector = connector(id)),
        Seen::Tugged(id, cavity, result) => {
            let how = match result {
                TugResult::Holds => "seen-tug-holds",
                TugResult::SlidesBack => "seen-tug-slides",
                TugResult::Stretches => "seen-tug-stretches",
            };
            say!(t, how, connector = connector(id), cavity = *cavity)
        }
        Seen::Loom(id, looks) if looks.is_empty() => {
            say!(t, "seen-loom-sound", station = t.title(&vehicle.station(*id).title))
        }
        Seen::Loom(id, looks) => {
            let list: Vec<String> = looks.iter().map(|look| loom_look(t, vehicle, *look)).collect();
            of(t.title(&vehicle.station(*id).title), &list.join("; "))
        }
        Seen::Stud(id, look) => {
            let look = match look {
                StudLook::Sound => "seen-stud-sound",
                StudLook::Loose => "seen-stud-loose",
                StudLook::Off => "seen-stud-off",
                StudLook::Corroded => "seen-stud-corroded",
            };
            of(t.title(&vehicle.stud(*id).title), t.say(look))
        }
        Seen::Panel(id, true) => say!(t, "seen-panel-off", panel = t.title(&vehicle.panel(*id).title)),
        Seen::Panel(id, false) => say!(t, "seen-panel-on", panel = t.title(&vehicle.panel(*id).title)),
        Seen::Done => plain("seen-done"),
        Seen::Wet(true) => plain("seen-wet"),
        Seen::Wet(false) => plain("seen-dry"),
        Seen::ReadingMoved(low, high) => {
            say!(t, "seen-reading-moved", low = low.to_string(), high = high.to_string())
        }
        Seen::Probe(lead, point) => {
            let on = if *lead == Lead::Red { "seen-probe-red" } else { "seen-probe-black" };
            say!(t, on, point = point_title(t, vehicle, *point))
        }
    }
}

/// Which lines of a heated screen warm up.
fn screen(t: Texts, vehicle: &Vehicle, part: PartId, lines: &[f64]) -> String {
    /// Share of its full heat at which a line clears the mist before it, and at which it does so slowly.
    const CLEARS: f64 = 0.5;
    const SLOWLY: f64 = 0.05;
    let title = part_title(t, vehicle, part);
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
        (true, true) => say!(t, "seen-mist-clears", part = title),
        (false, _) if cold.split(", ").count() == lines.len() => say!(t, "seen-mist-no-line", part = title),
        (false, true) => say!(t, "seen-mist-stays", part = title, cold = cold),
        (true, false) => say!(t, "seen-mist-slow", part = title, slow = slow),
        (false, false) => say!(t, "seen-mist-stays-and-slow", part = title, cold = cold, slow = slow),
    }
}

fn blink_text(t: Texts, vehicle: &Vehicle, code: u8) -> String {
    let meaning = vehicle
        .modules()
        .flat_map(|(_, module)| &module.monitors)
        .find(|monitor| monitor.code == code)
        .map_or(t.say("seen-blink-not-listed"), |monitor| t.title(&monitor.title));
    say!(t, "seen-blink-code", count = code, meaning = meaning)
}

fn fuse_look(t: Texts, look: FuseLook) -> String {
    let Some(rating) = look.rating else { return t.say("look-no-fuse").to_owned() };
    let id = match (look.blown, look.loose) {
        (true, false) => "look-fuse-blown",
        (true, true) => "look-fuse-blown-loose",
        (false, false) => "look-fuse-whole",
        (false, true) => "look-fuse-whole-loose",
    };
    say!(t, id, amps = rating)
}

/// How a terminal looks, as the rest of a sentence about its cavity.
pub fn terminal_look(t: Texts, look: TerminalLook) -> &'static str {
    t.say(match look {
        TerminalLook::PushedBack => "look-terminal-back",
        TerminalLook::Spread => "look-terminal-spread",
        TerminalLook::Corroded => "look-terminal-corroded",
        TerminalLook::Bent => "look-terminal-bent",
        TerminalLook::WrongColour => "look-terminal-colour",
    })
}

/// What is found on a conductor under the tape, as a sentence.
pub fn loom_look(t: Texts, vehicle: &Vehicle, look: LoomLook) -> String {
    let title = |id: ConductorId| conductor_title(t, vehicle, id);
    match look {
        LoomLook::Parted(id) => say!(t, "look-parted", wire = title(id)),
        LoomLook::Corroded(id) => say!(t, "look-corroded", wire = title(id)),
        LoomLook::Frayed(id) => say!(t, "look-frayed", wire = title(id)),
        LoomLook::Chafed(id) => say!(t, "look-chafed", wire = title(id)),
        LoomLook::ChafedTogether(a, b) => {
            say!(t, "look-chafed-together", one = title(a), other = title(b))
        }
        LoomLook::Crusted(a, b) => say!(t, "look-crusted", one = title(a), other = title(b)),
        LoomLook::EarlierSplice(id) => say!(t, "look-earlier-splice", wire = title(id)),
    }
}

/// Something heard, as a sentence.
#[must_use]
pub fn heard(t: Texts, vehicle: &Vehicle, heard: &Heard) -> String {
    let id = match heard {
        Heard::Chirps(count) => return say!(t, "heard-chirps", count = *count),
        Heard::Customer(_, answers) => {
            let said: Vec<String> = answers.iter().map(|one| answer(t, vehicle, *one)).collect();
            return say!(t, "heard-customer", words = said.join(" "));
        }
        Heard::MotorRuns => "heard-motor-runs",
        Heard::MotorStrains => "heard-motor-strains",
        Heard::MotorTwitches => "heard-motor-twitches",
        Heard::PlungerHums => "heard-plunger-hums",
        Heard::RelayClicks => "heard-relay-clicks",
        Heard::RelayChatters => "heard-relay-chatters",
        Heard::LatchOpens => "heard-latch-opens",
        Heard::LeverBinds => "heard-lever-binds",
        Heard::LatchTakes => "heard-latch-takes",
        Heard::Tone => "heard-tone",
        Heard::ToneBreaks => "heard-tone-breaks",
        Heard::FusePops => "heard-fuse-pops",
        Heard::ButtonClicks(KeyButton::Lock) => "heard-button-lock",
        Heard::ButtonClicks(KeyButton::Unlock) => "heard-button-unlock",
        Heard::ButtonClicks(KeyButton::Release) => "heard-button-release",
    };
    t.say(id).to_owned()
}

/// A reading, as a line.
#[must_use]
pub fn reading(t: Texts, reading: &Reading) -> String {
    let mut text = shown(t, reading.now, &reading.during, reading.settling);
    if let Some((least, greatest)) = reading.held {
        let (least, greatest) = (least.to_string(), greatest.to_string());
        text = say!(t, "reading-held", reading = text, least = least, greatest = greatest);
    }
    if reading.tone {
        text = say!(t, "reading-with-tone", reading = text);
    }
    text
}

/// What the clamp shows, as a line.
#[must_use]
pub fn clamp_reading(t: Texts, reading: &ClampReading) -> String {
    shown(t, reading.now, &reading.during, reading.settling)
}

/// What a display shows, and before that what it has shown, where that says something of the vehicle.
fn shown(t: Texts, now: Display, during: &[Renewal], settling: bool) -> String {
    let mut figures: Vec<String> = during.iter().map(|renewal| renewal.display.to_string()).collect();
    if during.last().is_some_and(|renewal| renewal.display == now) {
        figures.pop();
    }
    if settling || figures.is_empty() {
        return now.to_string();
    }
    say!(t, "reading-catches", figures = figures.join(", "), now = now.to_string())
}

/// A caution, as a sentence.
#[must_use]
pub fn caution(t: Texts, caution: Caution) -> &'static str {
    t.say(match caution {
        Caution::Restraint => "caution-restraint",
        Caution::Eyes => "caution-eyes",
        Caution::Lid => "caution-lid",
        Caution::NobodyInside => "caution-nobody-inside",
        Caution::NoPiercing => "caution-no-piercing",
        Caution::FusedOnly => "caution-fused-only",
        Caution::OhmsOnLive => "caution-ohms-on-live",
        Caution::AmpsAcrossSource => "caution-amps",
        Caution::MakersProcedure => "caution-makers-procedure",
        Caution::FuseTooLarge => "caution-fuse-too-large",
        Caution::Heat => "caution-heat",
        Caution::ClawUnderPower => "caution-claw",
        Caution::SpreadTerminals => "caution-spread-terminals",
    })
}

/// Why something could not be done, for who types commands and for records: with the name of the panel that is in the way.
#[must_use]
pub fn refusal_with_names(t: Texts, vehicle: &Vehicle, why: Refusal) -> String {
    let said = refusal(t, vehicle, why);
    match why {
        Refusal::BehindPanel(id) | Refusal::LoadSpaceClosed(id) => {
            say!(t, "refusal-take-off", why = said, name = &vehicle.panel(id).id)
        }
        _ => said,
    }
}

/// Why something could not be done.
#[must_use]
pub fn refusal(t: Texts, vehicle: &Vehicle, refusal: Refusal) -> String {
    let id = match refusal {
        Refusal::BehindPanel(id) => {
            return say!(t, "refusal-panel", panel = t.title(&vehicle.panel(id).title));
        }
        Refusal::LidTooLow => {
            let degrees = vehicle.lid.reach_degrees;
            return say!(t, "refusal-lid-too-low", lid = lid_word(t, vehicle), degrees = degrees);
        }
        Refusal::LoadSpaceClosed(id) => {
            let (lid, panel) = (lid_word(t, vehicle), t.title(&vehicle.panel(id).title));
            return say!(t, "refusal-load-space", lid = lid, panel = panel);
        }
        Refusal::NoSuchWait => return say!(t, "refusal-no-such-wait", most = LONGEST_WAIT_MINUTES),
        Refusal::LidHeld => return say!(t, "refusal-lid-held", lid = lid_word(t, vehicle)),
        Refusal::ClawAlreadyHome => "refusal-claw-home",
        Refusal::LidNotUp => return say!(t, "refusal-lid-not-up", lid = lid_word(t, vehicle)),
        Refusal::AlreadySo => "refusal-already-so",
        Refusal::Mated => "refusal-mated",
        Refusal::NotMated => "refusal-not-mated",
        Refusal::EmptyCavity => "refusal-empty-cavity",
        Refusal::NoFuse => "refusal-no-fuse",
        Refusal::FuseInPlace => "refusal-fuse-in-place",
        Refusal::NoSuchRating => "refusal-no-such-rating",
        Refusal::ConductorNotHere => "refusal-conductor-not-here",
        Refusal::SamePoint => "refusal-same-point",
        Refusal::MeterFuseWhole => "refusal-meter-fuse-whole",
        Refusal::HandedIn => "refusal-handed-in",
        Refusal::NoCoach => "refusal-no-coach",
        Refusal::NotAllowed => "refusal-not-allowed",
        Refusal::TimeUp => "refusal-time-up",
        Refusal::SpringsBack => "refusal-springs-back",
        Refusal::StaysPut => "refusal-stays-put",
        Refusal::MeterNotReady => "refusal-meter-not-ready",
        Refusal::NoSuchLine => "refusal-no-such-line",
        Refusal::ToolInTheWay => "refusal-tool-in-the-way",
        Refusal::TooDear(most) => return say!(t, "refusal-too-dear", most = most),
        Refusal::RecorderNotReady => "refusal-recorder-not-ready",
    };
    t.say(id).to_owned()
}

/// Something of the kit that a scenario can forbid, in a word.
#[must_use]
pub fn kit_title(t: Texts, item: KitItem) -> &'static str {
    t.say(match item {
        KitItem::Meter => "kit-meter",
        KitItem::Lamp => "kit-lamp",
        KitItem::Bridge => "kit-bridge",
        KitItem::Bench => "kit-bench",
        KitItem::Clamp => "kit-clamp",
        KitItem::Recorder => "kit-recorder",
    })
}

/// What a scenario's file forbids in its jobs, and how long they may take: a sentence each.
#[must_use]
pub fn limits(t: Texts, scenario: &Scenario) -> Vec<String> {
    let mut said = Vec::new();
    if !scenario.without.is_empty() {
        let names: Vec<&str> = scenario.without.iter().map(|item| kit_title(t, *item)).collect();
        said.push(say!(t, "limit-not-allowed", names = names.join(", ")));
    }
    if let Some(most) = scenario.most_minutes {
        said.push(say!(t, "limit-minutes", minutes = most));
    }
    said
}
