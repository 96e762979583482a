//! Help for the desk: the commands, and what can be named on this vehicle.

use super::command::{FORMS, KINDS};
use super::describe::{conductor_title, lid_word};
use crate::circuit::FUSE_RATINGS_AMPS;
use crate::say;
use crate::vehicle::{
    Driver, End, Half, Input, Mate, OffTie, Output, OutputKind, PartKind, Pull, Reach, Relay, Screen, Side,
    Vehicle, Zone,
};
use crate::words::Texts;

/// Groups of commands, for help.
const GROUPS: &[(&str, &[&str])] = &[
    ("Customer, cautions, looking around", &["ask", "cautions", "glasses", "prop", "look"]),
    ("Working the car", &["key", "press", "switch", "lever", "lockout", "lid", "claw", "force"]),
    ("Getting there", &["take", "put", "unplug", "plug"]),
    ("Looking closely", &["inspect", "tug", "tape", "flex", "memory"]),
    ("What comes and goes", &["wait", "tap", "wet", "dry", "warm", "cool"]),
    ("Meter", &["meter", "capture", "red", "black", "read"]),
    ("Current clamp and recorder", &["clamp", "recorder"]),
    ("Lamps, bridge, bench battery: they stay on until taken off", &["lamp", "bridge", "bench"]),
    ("Fuses", &["fuse", "clips"]),
    ("Repairs", &["splice", "twist", "terminal", "swap", "clean", "paint", "fit", "charge"]),
    (
        "Thinking: no minutes; 0% takes a line off the suspicion sheet; mark is for the wiring diagram; coach alone tells what it costs",
        &["suspect", "mark", "coach"],
    ),
    (
        "Finishing; an estimate counts labour and parts, and the customer agrees to it before the repair",
        &["name", "estimate", "write", "hand", "refer"],
    ),
];

/// What help can be about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// All commands.
    Commands,
    /// Connectors and what is in their cavities.
    Pins,
    /// Where things are and how they are reached.
    Places,
    /// Stations of the loom and what passes them.
    Loom,
    /// Fuses.
    Fuses,
    /// Parts with prices.
    Parts,
    /// Points that a lead can touch.
    Points,
    /// Kinds of faults that can be named.
    Kinds,
    /// The current paths, feed first.
    Diagram,
    /// The meter and its companions: what they put on a circuit, and how far off they may be.
    Instruments,
}

impl Topic {
    /// All topics by name.
    pub const ALL: [(&'static str, Self); 10] = [
        ("commands", Self::Commands),
        ("pins", Self::Pins),
        ("places", Self::Places),
        ("loom", Self::Loom),
        ("fuses", Self::Fuses),
        ("parts", Self::Parts),
        ("points", Self::Points),
        ("kinds", Self::Kinds),
        ("diagram", Self::Diagram),
        ("instruments", Self::Instruments),
    ];
}

/// The commands, in groups.
#[must_use]
pub fn help() -> String {
    let mut text = String::from("Commands (words in capitals stand for a name; list shows the names):\n");
    for (title, names) in GROUPS {
        text.push_str(&format!("\n{title}\n"));
        for name in *names {
            if let Some((_, form)) = FORMS.iter().find(|(first, _)| first == name) {
                text.push_str(&format!("  {form}\n"));
            }
        }
    }
    let topics: Vec<&str> =
        Topic::ALL.iter().map(|(name, _)| *name).filter(|name| *name != "commands").collect();
    text.push_str(&format!(
        "\nThe desk itself\n  list {}\n  sheet (complaint, minutes, parts, what was found, what is suspected)\n  help\n  quit (leaves the job; it can be resumed)\n",
        topics.join(" | ")
    ));
    text.push_str("\nA point is a cavity such as latch.3, a fuse's side such as f1.load, a stud, body, battery-plus, battery-minus,\nkey-plus or key-minus. NAME-pins.3 is a part's own pin, reached while its connector is unplugged.\n\nSigns: one chirp, a release is agreed; two, it is refused; none, nothing was heard. The lamps flash when the key locks or\nunlocks. The lockout setting makes the module refuse every release.\nThe meter's display renews itself four times a second and shows the mean of each time: of a short command it catches what it\ncan; capture holds the least and the greatest mean over a tenth of a second. list instruments tells what each of them does\nto a circuit. Capitals do not matter; # begins a comment.\n");
    text
}

/// What can be named here, on one topic. Lists that are for commands only are in English in every language.
#[must_use]
pub fn names_here(t: Texts, vehicle: &Vehicle, topic: Topic) -> String {
    match topic {
        Topic::Commands => help(),
        Topic::Pins => pins(t, vehicle),
        Topic::Places => places(t, vehicle),
        Topic::Loom => loom(t, vehicle),
        Topic::Fuses => {
            let boxed: Vec<String> = FUSE_RATINGS_AMPS.iter().map(u8::to_string).collect();
            let mut text: String = vehicle
                .fuses
                .iter()
                .map(|fuse| format!("{:<6} {} ({} A)\n", fuse.id, t.title(&fuse.title), fuse.rating_amps))
                .collect();
            text.push_str(&format!("in the box: {} A\n", boxed.join(", ")));
            text
        }
        Topic::Parts => {
            let mut text: String = vehicle
                .parts
                .iter()
                .map(|part| {
                    let kind = match &part.kind {
                        PartKind::Lamp { filament, .. } => format!("lamp, {} W", filament.rated_watts),
                        PartKind::Switch { springs_back: true, .. } => "switch to press".to_owned(),
                        PartKind::Switch { .. } => "switch, on or off".to_owned(),
                        PartKind::Led(_) => "lamp of diodes".to_owned(),
                        PartKind::Diode { .. } => "diode".to_owned(),
                        PartKind::Resistor { ohms, .. } => format!("resistance, {ohms} Ω"),
                        PartKind::Screen(screen) => format!("heated screen, {} lines", screen.lines),
                        PartKind::Motor { .. } => "motor".to_owned(),
                        PartKind::Relay(_) => "relay".to_owned(),
                        PartKind::Latch(_) => "latch".to_owned(),
                        PartKind::Module(_) => "module".to_owned(),
                    };
                    format!(
                        "{:<17} {} ({kind}): {} in parts, {} min\n",
                        part.id,
                        t.title(&part.title),
                        part.price,
                        part.fit_minutes
                    )
                })
                .collect();
            text.push_str(&format!(
                "{:<17} cell of the key: {}\n{:<17} key, programmed: {}\n",
                "key-cell", vehicle.key.cell_price, "key", vehicle.key.price
            ));
            text
        }
        Topic::Points => points(vehicle),
        Topic::Kinds => {
            let names: Vec<&str> = KINDS.iter().map(|(name, _)| *name).collect();
            format!("{}\n", names.join(", "))
        }
        Topic::Diagram => diagram(t, vehicle),
        Topic::Instruments => super::instruments::instruments(t),
    }
}

pub(super) fn reach_text(t: Texts, vehicle: &Vehicle, reach: Reach) -> String {
    let zone = match reach.zone {
        Zone::Front => t.say("zone-front").to_owned(),
        Zone::Cabin => t.say("zone-cabin").to_owned(),
        Zone::Outside => t.say("zone-outside").to_owned(),
        Zone::LoadSpace => t.say("zone-load-space").to_owned(),
        Zone::Lid => say!(t, "zone-lid", lid = lid_word(t, vehicle)),
    };
    match reach.panel {
        None => zone,
        Some(panel) => say!(t, "zone-behind", zone = zone, panel = &vehicle.panel(panel).id),
    }
}

/// Something with its name in commands, its title and where it is.
fn titled(t: Texts, name: &str, title: &str, place: String) -> String {
    say!(t, "words-titled", name = name, title = title, place = place)
}

fn pins(t: Texts, vehicle: &Vehicle) -> String {
    let mut text = String::new();
    for (at, connector) in vehicle.connectors.iter().enumerate() {
        let id = crate::vehicle::ConnectorId::at(at);
        let place = reach_text(t, vehicle, connector.reach);
        text.push_str(&format!("{}\n", titled(t, &connector.id, t.title(&connector.title), place)));
        for cavity in 1..=connector.cavities {
            let halves =
                if connector.mate == Mate::Loom { &[Half::Loom, Half::Mate][..] } else { &[Half::Loom][..] };
            let wires: Vec<String> = halves
                .iter()
                .filter_map(|&half| vehicle.conductor_in(id, half, cavity))
                .map(|conductor| conductor_title(t, vehicle, conductor))
                .collect();
            if !wires.is_empty() {
                text.push_str(&format!("  {cavity:>2}  {}\n", wires.join(" | ")));
            }
        }
    }
    text
}

fn places(t: Texts, vehicle: &Vehicle) -> String {
    let mut text = format!("{}\n", t.say("words-panels"));
    for panel in &vehicle.panels {
        let (off, on) = (panel.off_minutes, panel.on_minutes);
        let about = say!(t, "words-panel", title = t.title(&panel.title), off = off, on = on);
        text.push_str(&format!("  {:<14} {about}\n", panel.id));
    }
    text.push_str(&format!("{}\n", t.say("words-studs")));
    for stud in &vehicle.studs {
        let place = reach_text(t, vehicle, stud.reach);
        let about = say!(t, "words-stud", title = t.title(&stud.title), place = place);
        text.push_str(&format!("  {:<14} {about}\n", stud.id));
    }
    let battery = say!(t, "words-battery", place = reach_text(t, vehicle, vehicle.battery.reach));
    text.push_str(&format!("{battery}\n"));
    if let Some(fuse) = vehicle.fuses.first() {
        let fuses = say!(t, "words-fuses", place = reach_text(t, vehicle, fuse.reach));
        text.push_str(&format!("{fuses}\n"));
    }
    let (lid, degrees) = (lid_word(t, vehicle), vehicle.lid.reach_degrees);
    text.push_str(&format!("{}\n", say!(t, "words-reached", lid = lid, degrees = degrees)));
    text
}

fn loom(t: Texts, vehicle: &Vehicle) -> String {
    let mut text = format!("{}\n", t.say("words-stations"));
    for (at, station) in vehicle.stations.iter().enumerate() {
        let place = reach_text(t, vehicle, station.reach);
        text.push_str(&format!("{}\n", titled(t, &station.id, t.title(&station.title), place)));
        let here = vehicle
            .conductors
            .iter()
            .filter(|conductor| conductor.piece_at(crate::vehicle::StationId::at(at)).is_some());
        let names: Vec<String> =
            here.map(|conductor| format!("{} {}", conductor.id, conductor.colour)).collect();
        text.push_str(&format!("  {}\n", names.join(", ")));
    }
    text
}

fn points(vehicle: &Vehicle) -> String {
    let mut text = String::from("battery-plus battery-minus body key-plus key-minus");
    for stud in &vehicle.studs {
        text.push_str(&format!(" {}", stud.id));
    }
    text.push('\n');
    for fuse in &vehicle.fuses {
        text.push_str(&format!("{0}.feed {0}.load  ", fuse.id));
    }
    text.push('\n');
    for connector in &vehicle.connectors {
        let when = if connector.mate == Mate::Loom { "" } else { " (while unplugged)" };
        text.push_str(&format!(
            "{0}.1 to {0}.{1}, {2}.1 to {2}.{1}{when}\n",
            connector.id, connector.cavities, connector.mate_id
        ));
    }
    for (id, screen) in vehicle.screens() {
        text.push_str(&format!(
            "{0}.1.0 to {0}.{1}.{2} (line, and place along it; 0 at the bar that is fed)\n",
            vehicle.part(id).id,
            screen.lines,
            Screen::SECTIONS
        ));
    }
    text
}

/// A conductor's end in a few letters.
pub(super) fn end(t: Texts, vehicle: &Vehicle, end: End) -> String {
    match end {
        End::Cavity(connector, Half::Loom, cavity) => format!("{}.{cavity}", vehicle.connector(connector).id),
        End::Cavity(connector, Half::Mate, cavity) => {
            format!("{}.{cavity}", vehicle.connector(connector).mate_id)
        }
        End::Splice(splice) => vehicle.splices[splice.index()].id.clone(),
        End::Eyelet(eyelet) => {
            let eyelet = &vehicle.eyelets[eyelet.index()];
            say!(t, "words-eyelet", eyelet = &eyelet.id, stud = &vehicle.stud(eyelet.stud).id)
        }
        End::Fuse(fuse, Side::Feed) => say!(t, "name-fuse-feed", fuse = &vehicle.fuse(fuse).id),
        End::Fuse(fuse, Side::Load) => say!(t, "name-fuse-load", fuse = &vehicle.fuse(fuse).id),
        End::BatteryPlus => t.say("name-battery-plus").to_owned(),
        End::Body => t.say("name-body").to_owned(),
    }
}

/// Every conductor with its ends, size and colour: the wiring in words, in the file's order, feed first.
fn diagram(t: Texts, vehicle: &Vehicle) -> String {
    let mut text = format!("{}\n", t.say("words-conductors"));
    for conductor in &vehicle.conductors {
        text.push_str(&format!(
            "  {:<22} {:<6} {:>4}  {} -- {}\n",
            conductor.id,
            conductor.colour,
            conductor.square_millimetres,
            end(t, vehicle, conductor.from),
            end(t, vehicle, conductor.to)
        ));
    }
    text.push_str(&format!("{}\n", t.say("words-parts")));
    for part in &vehicle.parts {
        let pins = &vehicle.connector(part.connector).mate_id;
        let inside = inside(t, &part.kind);
        let part = say!(t, "words-part", part = t.title(&part.title), pins = pins, inside = inside);
        text.push_str(&format!("  {part}\n"));
    }
    text
}

/// What is between a part's own pins.
fn inside(t: Texts, kind: &PartKind) -> String {
    match kind {
        PartKind::Lamp { pins: (a, b), filament } => {
            say!(t, "inside-lamp", watts = filament.rated_watts, a = *a, b = *b)
        }
        PartKind::Switch { pins: (a, b), .. } => say!(t, "inside-switch", a = *a, b = *b),
        PartKind::Led(led) => say!(t, "inside-led", a = led.pins.0, b = led.pins.1),
        PartKind::Diode { pins: (anode, cathode) } => say!(t, "inside-diode", a = *anode, b = *cathode),
        PartKind::Resistor { pins: (a, b), ohms } => say!(t, "inside-resistor", ohms = *ohms, a = *a, b = *b),
        PartKind::Screen(screen) => say!(
            t,
            "inside-screen",
            lines = screen.lines,
            ohms = screen.line_ohms,
            a = screen.feed,
            b = screen.ground
        ),
        PartKind::Motor { pins: (a, b), .. } => say!(t, "inside-motor", a = *a, b = *b),
        PartKind::Relay(relay) => relay_text(t, relay),
        PartKind::Latch(latch) => say!(
            t,
            if latch.solenoid { "inside-latch-solenoid" } else { "inside-latch-motor" },
            feed = latch.feed,
            ground = latch.ground,
            ajar = latch.ajar,
            home = latch.home
        ),
        PartKind::Module(module) => {
            let pin = |pin: u8, title: &str, what: String| {
                say!(t, "inside-pin", pin = pin, title = title, what = what)
            };
            let inputs: Vec<String> =
                module.inputs.iter().map(|x| pin(x.pin, t.title(&x.title), input_text(t, x))).collect();
            let outputs: Vec<String> =
                module.outputs.iter().map(|x| pin(x.pin, t.title(&x.title), output_text(t, x))).collect();
            say!(
                t,
                "inside-module",
                supply = module.supply,
                ground = module.ground,
                inputs = inputs.join(", "),
                outputs = outputs.join(", ")
            )
        }
    }
}

fn input_text(t: Texts, input: &Input) -> String {
    match input.pull {
        Pull::Up => say!(t, "input-up", volts = input.low_below_volts),
        Pull::Down => say!(t, "input-down", volts = input.high_above_volts),
    }
}

/// What an output is, and what it does at rest: that decides what a meter shows on its pin.
fn output_text(t: Texts, output: &Output) -> String {
    let tie = |driver: &Driver| match driver.off {
        OffTie::Bleed(_) => t.say("output-bleed"),
        OffTie::Bias(_) => t.say("output-bias"),
    };
    match &output.kind {
        OutputKind::Contact { .. } => say!(t, "output-contact", feed = output.feed),
        OutputKind::HighSide(driver) => {
            let rest = tie(driver);
            say!(t, "output-high-side", feed = output.feed, amps = driver.limit_amps, rest = rest)
        }
        OutputKind::LowSide(driver) => {
            say!(t, "output-low-side", amps = driver.limit_amps, rest = tie(driver))
        }
        OutputKind::HalfBridge { driver, brakes } => {
            let rest = if *brakes { t.say("output-braking") } else { tie(driver) };
            say!(t, "output-half-bridge", feed = output.feed, amps = driver.limit_amps, rest = rest)
        }
    }
}

fn relay_text(t: Texts, relay: &Relay) -> String {
    let (a, b) = relay.coil;
    let (volts, common) = (relay.pull_in_volts, relay.common);
    let coil = match relay.normally_open {
        Some(pin) => {
            say!(t, "relay-coil-working", a = a, b = b, volts = volts, common = common, working = pin)
        }
        None => say!(t, "relay-coil", a = a, b = b, volts = volts, common = common),
    };
    match relay.normally_closed {
        Some(pin) => say!(t, "relay-resting", relay = coil, resting = pin),
        None => coil,
    }
}
