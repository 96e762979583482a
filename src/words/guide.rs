//! Help for the desk: the commands, and what can be named on this vehicle.

use super::command::{FORMS, KINDS};
use super::describe::conductor_title;
use crate::circuit::FUSE_RATINGS_AMPS;
use crate::vehicle::{
    Driver, End, Half, Input, Mate, OffTie, Output, OutputKind, PartKind, Pull, Reach, Relay, Screen, Side,
    Vehicle, Zone,
};

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

/// What can be named here, on one topic.
#[must_use]
pub fn names_here(vehicle: &Vehicle, topic: Topic) -> String {
    match topic {
        Topic::Commands => help(),
        Topic::Pins => pins(vehicle),
        Topic::Places => places(vehicle),
        Topic::Loom => loom(vehicle),
        Topic::Fuses => {
            let boxed: Vec<String> = FUSE_RATINGS_AMPS.iter().map(u8::to_string).collect();
            let mut text: String = vehicle
                .fuses
                .iter()
                .map(|fuse| format!("{:<6} {} ({} A)\n", fuse.id, fuse.title, fuse.rating_amps))
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
                        part.id, part.title, part.price, part.fit_minutes
                    )
                })
                .collect();
            text.push_str(&format!(
                "{:<17} cell of the key: {}\n{:<17} key, taught: {}\n",
                "key-cell", vehicle.key.cell_price, "key", vehicle.key.price
            ));
            text
        }
        Topic::Points => points(vehicle),
        Topic::Kinds => {
            let names: Vec<&str> = KINDS.iter().map(|(name, _)| *name).collect();
            format!("{}\n", names.join(", "))
        }
        Topic::Diagram => diagram(vehicle),
        Topic::Instruments => super::instruments::instruments(),
    }
}

pub(super) fn reach_text(vehicle: &Vehicle, reach: Reach) -> String {
    let zone = match reach.zone {
        Zone::Front => "under the bonnet",
        Zone::Cabin => "in the cabin",
        Zone::Outside => "outside",
        Zone::LoadSpace => "in the load space",
        Zone::Lid => "inside of the lid",
    };
    match reach.panel {
        None => zone.to_owned(),
        Some(panel) => format!("{zone}, behind {}", vehicle.panel(panel).id),
    }
}

fn pins(vehicle: &Vehicle) -> String {
    let mut text = String::new();
    for (at, connector) in vehicle.connectors.iter().enumerate() {
        let id = crate::vehicle::ConnectorId::at(at);
        text.push_str(&format!(
            "{} ({}), {}\n",
            connector.id,
            connector.title,
            reach_text(vehicle, connector.reach)
        ));
        for cavity in 1..=connector.cavities {
            let halves =
                if connector.mate == Mate::Loom { &[Half::Loom, Half::Mate][..] } else { &[Half::Loom][..] };
            let wires: Vec<String> = halves
                .iter()
                .filter_map(|&half| vehicle.conductor_in(id, half, cavity))
                .map(|conductor| conductor_title(vehicle, conductor))
                .collect();
            if !wires.is_empty() {
                text.push_str(&format!("  {cavity:>2}  {}\n", wires.join(" | ")));
            }
        }
    }
    text
}

fn places(vehicle: &Vehicle) -> String {
    let mut text = String::from("Panels and seats:\n");
    for panel in &vehicle.panels {
        text.push_str(&format!(
            "  {:<14} {} ({} min off, {} min back)\n",
            panel.id, panel.title, panel.off_minutes, panel.on_minutes
        ));
    }
    text.push_str("Studs:\n");
    for stud in &vehicle.studs {
        text.push_str(&format!("  {:<14} {}, {}\n", stud.id, stud.title, reach_text(vehicle, stud.reach)));
    }
    text.push_str(&format!("Battery: {}\n", reach_text(vehicle, vehicle.battery.reach)));
    if let Some(fuse) = vehicle.fuses.first() {
        text.push_str(&format!("Fuses: {}\n", reach_text(vehicle, fuse.reach)));
    }
    text.push_str(&format!(
        "The inside of the lid and the load space are reached with the lid at {}° or more.\n",
        vehicle.lid.reach_degrees
    ));
    text
}

fn loom(vehicle: &Vehicle) -> String {
    let mut text = String::from("Stations, from the body to the latch, and the conductors that pass them:\n");
    for (at, station) in vehicle.stations.iter().enumerate() {
        text.push_str(&format!(
            "{} ({}), {}\n",
            station.id,
            station.title,
            reach_text(vehicle, station.reach)
        ));
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
pub(super) fn end(vehicle: &Vehicle, end: End) -> String {
    match end {
        End::Cavity(connector, Half::Loom, cavity) => format!("{}.{cavity}", vehicle.connector(connector).id),
        End::Cavity(connector, Half::Mate, cavity) => {
            format!("{}.{cavity}", vehicle.connector(connector).mate_id)
        }
        End::Splice(splice) => vehicle.splices[splice.index()].id.clone(),
        End::Eyelet(eyelet) => {
            let eyelet = &vehicle.eyelets[eyelet.index()];
            format!("{} on {}", eyelet.id, vehicle.stud(eyelet.stud).id)
        }
        End::Fuse(fuse, Side::Feed) => format!("{}.feed", vehicle.fuse(fuse).id),
        End::Fuse(fuse, Side::Load) => format!("{}.load", vehicle.fuse(fuse).id),
        End::BatteryPlus => "battery-plus".to_owned(),
        End::Body => "body".to_owned(),
    }
}

/// Every conductor with its ends, size and colour: the wiring in words, in the file's order, feed first.
fn diagram(vehicle: &Vehicle) -> String {
    let mut text = String::from("Conductors, with colour (IEC 60757), mm², and their ends:\n");
    for conductor in &vehicle.conductors {
        text.push_str(&format!(
            "  {:<22} {:<6} {:>4}  {} -- {}\n",
            conductor.id,
            conductor.colour,
            conductor.square_millimetres,
            end(vehicle, conductor.from),
            end(vehicle, conductor.to)
        ));
    }
    text.push_str("Parts between their own pins:\n");
    for part in &vehicle.parts {
        let pins = &vehicle.connector(part.connector).mate_id;
        let inside = match &part.kind {
            PartKind::Lamp { pins: (a, b), filament } => {
                format!("lamp {} W between {a} and {b}", filament.rated_watts)
            }
            PartKind::Switch { pins: (a, b), .. } => format!("switch between {a} and {b}"),
            PartKind::Led(led) => {
                format!("lamp of diodes from {} to {}, one way only", led.pins.0, led.pins.1)
            }
            PartKind::Diode { pins: (anode, cathode) } => {
                format!("diode, anode {anode}, cathode {cathode}")
            }
            PartKind::Resistor { pins: (a, b), ohms } => format!("{ohms} Ω between {a} and {b}"),
            PartKind::Screen(screen) => format!(
                "{} lines of {} Ω side by side, bars at {} and {}",
                screen.lines, screen.line_ohms, screen.feed, screen.ground
            ),
            PartKind::Motor { pins: (a, b), .. } => format!("motor between {a} and {b}"),
            PartKind::Relay(relay) => relay_text(relay),
            PartKind::Latch(latch) => format!(
                "{} {} to {}; ajar switch {} to {}, closed while the latch is open; claw-home contact {} to {}, closed while the claw is home",
                if latch.solenoid { "solenoid" } else { "motor" },
                latch.feed,
                latch.ground,
                latch.ajar,
                latch.ground,
                latch.home,
                latch.ground
            ),
            PartKind::Module(module) => {
                let inputs: Vec<String> = module
                    .inputs
                    .iter()
                    .map(|x| format!("{} {} ({})", x.pin, x.title, input_text(x)))
                    .collect();
                let outputs: Vec<String> = module
                    .outputs
                    .iter()
                    .map(|x| format!("{} {} ({})", x.pin, x.title, output_text(x)))
                    .collect();
                format!(
                    "supply {}, ground {}; inputs: {}; outputs: {}",
                    module.supply,
                    module.ground,
                    inputs.join(", "),
                    outputs.join(", ")
                )
            }
        };
        text.push_str(&format!("  {} ({pins}): {inside}\n", part.title));
    }
    text
}

fn input_text(input: &Input) -> String {
    match input.pull {
        Pull::Up => format!("pulled up, low below {} V", input.low_below_volts),
        Pull::Down => format!("pulled down, high above {} V", input.high_above_volts),
    }
}

/// What an output is, and what it does at rest: that decides what a meter shows on its pin.
fn output_text(output: &Output) -> String {
    let tie = |driver: &Driver| match driver.off {
        OffTie::Bleed(_) => "bleed to ground",
        OffTie::Bias(_) => "weakly biased to the supply to find an open load",
    };
    match &output.kind {
        OutputKind::Contact { .. } => {
            format!("relay contact from {}, open at rest, bleed to ground", output.feed)
        }
        OutputKind::HighSide(driver) => {
            format!(
                "electronic, from {}, up to {} A; at rest {}",
                output.feed,
                driver.limit_amps,
                tie(driver)
            )
        }
        OutputKind::LowSide(driver) => {
            format!("electronic, to ground, up to {} A; at rest {}", driver.limit_amps, tie(driver))
        }
        OutputKind::HalfBridge { driver, brakes } => format!(
            "half-bridge from {}, up to {} A; at rest {}",
            output.feed,
            driver.limit_amps,
            if *brakes { "braking to ground" } else { tie(driver) }
        ),
    }
}

fn relay_text(relay: &Relay) -> String {
    let mut text = format!(
        "coil between {} and {}, pulls in at {} V; contact {}",
        relay.coil.0, relay.coil.1, relay.pull_in_volts, relay.common
    );
    if let Some(pin) = relay.normally_open {
        text.push_str(&format!(" to {pin} when pulled in"));
    }
    if let Some(pin) = relay.normally_closed {
        text.push_str(&format!(", to {pin} at rest"));
    }
    text
}
