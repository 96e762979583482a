//! Whether a vehicle that reads well makes sense: nothing ends nowhere, fuses carry their loads, and wires outlast their
//! fuses.

use super::written::{EndAsWritten, VehicleAsWritten};
use crate::circuit::FUSE_RATINGS_AMPS;
use crate::vehicle::{
    ConnectorId, End, FuseId, Half, Mate, Output, OutputKind, Part, PartId, PartKind, Side, SpliceId, Vehicle,
};
use crate::written::Problems;

/// Loads are counted at this, in volts: that of rated lamps (UN ECE Regulation 37, published).
const RATED_VOLTS: f64 = 13.5;
/// A short lies on a battery that rests, in volts (trade figure).
const SHORT_VOLTS: f64 = 12.0;
/// A blade fuse opens within these seconds at this multiple of its rating (form of ISO 8820-3; a maker's datasheet,
/// quoted for 10 to 40 A, the rest of the range from memory).
const OPENS_AT: f64 = 2.0;
const OPENS_WITHIN_SECONDS: f64 = 5.0;
/// What heats copper in PVC from its running temperature to that of a short, in A·√s/mm² (IEC 60364-5-54, from memory).
const SHORT_HEAT: f64 = 115.0;
/// Cross-sections that looms are made of, in mm².
const SIZES: [f64; 9] = [0.35, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0];

/// The largest fuse that a wire of this cross-section outlasts, in amps: what its short lets through until the fuse opens
/// heats no more than the insulation bears, I²t ≤ (k·A)². A short stub in a dry loom needs no more; looms as they are
/// made have some in hand.
fn most_amps(square_millimetres: f64) -> f64 {
    SHORT_HEAT * square_millimetres / (OPENS_AT * libm::sqrt(OPENS_WITHIN_SECONDS))
}

/// Looks at a whole vehicle.
pub(super) fn look(file: &VehicleAsWritten, vehicle: &Vehicle, problems: &mut Problems) {
    ends(file, vehicle, problems);
    splices(file, vehicle, problems);
    for at in 0..vehicle.fuses.len() {
        fuse(file, vehicle, FuseId::at(at), problems);
    }
}

fn ends_of(vehicle: &Vehicle) -> impl Iterator<Item = End> {
    vehicle.conductors.iter().flat_map(|one| [one.from, one.to])
}

/// Conductors that end in a cavity behind which nothing is.
fn ends(file: &VehicleAsWritten, vehicle: &Vehicle, problems: &mut Problems) {
    for (conductor, written) in vehicle.conductors.iter().zip(&file.conductors) {
        for (end, written) in [(conductor.from, &written.from), (conductor.to, &written.to)] {
            let (End::Cavity(id, half, cavity), EndAsWritten::Cavity { number, .. }) = (end, written) else {
                continue;
            };
            let connector = vehicle.connector(id);
            let own = if half == Half::Loom { &connector.id } else { &connector.mate_id };
            let (nothing, hint) = match connector.mate {
                Mate::Loom => {
                    let other = if half == Half::Loom { Half::Mate } else { Half::Loom };
                    let name = if half == Half::Loom { &connector.mate_id } else { &connector.id };
                    let nothing = vehicle.conductor_in(id, other, cavity).is_none();
                    (
                        nothing,
                        format!("let a conductor of the other loom end in cavity {cavity} of \"{name}\""),
                    )
                }
                Mate::Pins => {
                    let nothing = !parts_on(vehicle, id).any(|part| pins(part).contains(&cavity));
                    (
                        nothing,
                        format!("let it end where a part on \"{own}\" has a pin: {}", all_pins(vehicle, id)),
                    )
                }
            };
            if nothing {
                problems.add(
                    number.span,
                    format!(
                        "\"{}\" ends nowhere: nothing is behind cavity {cavity} of \"{own}\"",
                        conductor.id
                    ),
                    hint,
                );
            }
        }
    }
}

fn splices(file: &VehicleAsWritten, vehicle: &Vehicle, problems: &mut Problems) {
    for (at, written) in file.splices.iter().enumerate() {
        let count = ends_of(vehicle).filter(|end| *end == End::Splice(SpliceId::at(at))).count();
        let what = match count {
            0 => format!("no conductor ends in the splice \"{}\"", written.id.value),
            1 => format!("only one conductor ends in the splice \"{}\": it joins nothing", written.id.value),
            _ => continue,
        };
        problems.add(written.id.span, what, "let two or more conductors end in it, or take it out");
    }
}

/// A fuse: fed, and feeding something; no smaller than its load; no larger than its wires bear.
fn fuse(file: &VehicleAsWritten, vehicle: &Vehicle, id: FuseId, problems: &mut Problems) {
    let (slot, written) = (vehicle.fuse(id), &file.fuses[id.index()]);
    for (side, what, hint) in [
        (Side::Feed, "is fed by nothing", "let a conductor from the battery end in its `FuseFeed`"),
        (Side::Load, "feeds nothing", "let a conductor begin in its `FuseLoad`, or take it out"),
    ] {
        if !ends_of(vehicle).any(|end| end == End::Fuse(id, side)) {
            problems.add(written.id.span, format!("the fuse \"{}\" {what}", slot.id), hint);
        }
    }
    let behind = Behind::of(vehicle, id);
    let rating = f64::from(slot.rating_amps);
    let loads: Vec<(&str, f64)> = behind
        .parts
        .iter()
        .map(|&part| vehicle.part(part))
        .map(|part| (part.id.as_str(), amps(part)))
        .collect();
    let amps: f64 = loads.iter().map(|(_, amps)| amps).sum();
    if amps > rating {
        let named: Vec<String> = loads
            .iter()
            .filter(|(_, amps)| *amps >= 0.1)
            .map(|(name, amps)| format!("{name} {amps:.1}"))
            .collect();
        problems.add(
            written.amps.span,
            format!(
                "the fuse \"{}\" of {rating} A is smaller than its load of {amps:.1} A: {}",
                slot.id,
                named.join(", ")
            ),
            match FUSE_RATINGS_AMPS.iter().find(|known| f64::from(**known) >= amps) {
                Some(enough) => format!("write {enough} A or more, or hang less on it"),
                None => "hang less on it".to_owned(),
            },
        );
    }
    for &(at, path) in behind.wires.iter().filter(|(_, path)| !path.limited) {
        let (wire, written) = (&vehicle.conductors[at], &file.conductors[at]);
        let most = most_amps(wire.square_millimetres);
        let span = written.square_millimetres.span;
        if rating > most {
            let enough = SIZES.into_iter().find(|&size| most_amps(size) >= rating);
            let smaller = FUSE_RATINGS_AMPS.iter().rfind(|known| f64::from(**known) <= most);
            problems.add(
                span,
                format!(
                    "\"{}\" of {} mm² is too thin for the fuse \"{}\" of {rating} A: a short burns the wire first",
                    wire.id, wire.square_millimetres, slot.id
                ),
                format!(
                    "write {}{}",
                    enough.map_or("a larger cross-section".to_owned(), |size| format!("{size} or more")),
                    smaller.map_or(String::new(), |amps| format!(", or make the fuse {amps} A or less"))
                ),
            );
        }
        let short = SHORT_VOLTS / (vehicle.battery.internal_ohms + path.ohms);
        if short < OPENS_AT * rating {
            problems.add(
                span,
                format!(
                    "a short at the end of \"{}\" carries {short:.0} A: too little to blow the fuse \"{}\" of {rating} A within {OPENS_WITHIN_SECONDS} s",
                    wire.id, slot.id
                ),
                "make the wires on the way shorter or thicker, or the fuse smaller",
            );
        }
    }
}

/// What a fuse protects: wires and loads, along splices, in-line connectors, switches, relay contacts, diodes and a
/// module's outputs, up to what uses the current.
struct Behind {
    /// Conductors, each with the way to its far end.
    wires: Vec<(usize, Path)>,
    parts: Vec<PartId>,
}

/// A way from the battery.
#[derive(Clone, Copy)]
struct Path {
    /// Its copper, in ohms.
    ohms: f64,
    /// An electronic output lies in it, which limits its own current and shuts itself down before the fuse.
    limited: bool,
}

impl Behind {
    fn of(vehicle: &Vehicle, fuse: FuseId) -> Self {
        let copper = |at: usize| -> f64 {
            let conductor = &vehicle.conductors[at];
            (0..conductor.runs.len()).map(|piece| conductor.piece_ohms(piece)).sum()
        };
        let feed = End::Fuse(fuse, Side::Feed);
        let before = vehicle.conductors.iter().position(|one| one.from == feed || one.to == feed);
        let mut behind = Self { wires: Vec::new(), parts: Vec::new() };
        let mut ends =
            vec![(End::Fuse(fuse, Side::Load), Path { ohms: before.map_or(0.0, copper), limited: false })];
        let mut seen: Vec<End> = vec![ends[0].0];
        while let Some((end, path)) = ends.pop() {
            let mut go = |end: End, path: Path, ends: &mut Vec<(End, Path)>| {
                if !seen.contains(&end) {
                    seen.push(end);
                    ends.push((end, path));
                }
            };
            for (at, wire) in vehicle.conductors.iter().enumerate() {
                let far = match end {
                    _ if wire.from == end => wire.to,
                    _ if wire.to == end => wire.from,
                    _ => continue,
                };
                if behind.wires.iter().any(|(known, _)| *known == at) {
                    continue;
                }
                let path = Path { ohms: path.ohms + copper(at), ..path };
                behind.wires.push((at, path));
                // Beyond another fuse, and on the body, it is no longer this one that protects.
                if matches!(far, End::Cavity(..) | End::Splice(_)) {
                    go(far, path, &mut ends);
                }
            }
            let End::Cavity(id, half, cavity) = end else { continue };
            if vehicle.connector(id).mate == Mate::Loom {
                let other = if half == Half::Loom { Half::Mate } else { Half::Loom };
                go(End::Cavity(id, other, cavity), path, &mut ends);
                continue;
            }
            for (part, file) in vehicle.parts().filter(|(_, part)| part.connector == id) {
                for (pin, limited) in passes(file, cavity) {
                    let path = Path { limited: path.limited || limited, ..path };
                    go(End::Cavity(id, Half::Loom, pin), path, &mut ends);
                }
                if is_fed_at(file, cavity) && !behind.parts.contains(&part) {
                    behind.parts.push(part);
                }
            }
        }
        behind
    }
}

/// Where a part passes current on to that comes in at this pin, and whether it limits it.
fn passes(part: &Part, pin: u8) -> Vec<(u8, bool)> {
    let through = |pairs: &[(u8, u8)]| -> Vec<(u8, bool)> {
        let both = pairs.iter().flat_map(|&(one, other)| [(one, other), (other, one)]);
        both.filter(|(from, _)| *from == pin).map(|(_, to)| (to, false)).collect()
    };
    match &part.kind {
        PartKind::Switch { pins, .. } => through(&[*pins]),
        PartKind::Diode { pins: (anode, cathode) } if *anode == pin => vec![(*cathode, false)],
        PartKind::Relay(relay) => {
            let contacts = [relay.normally_open, relay.normally_closed];
            let pairs: Vec<(u8, u8)> = contacts.into_iter().flatten().map(|to| (relay.common, to)).collect();
            through(&pairs)
        }
        PartKind::Module(module) => {
            let on = |output: &&Output| output.feed == pin && !matches!(output.kind, OutputKind::LowSide(_));
            let outputs = module.outputs.iter().filter(on);
            outputs.map(|output| (output.pin, output.kind.driver().is_some())).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether a part uses current that comes in at this pin for longer than a moment; a latch does not.
fn is_fed_at(part: &Part, pin: u8) -> bool {
    let either = |(one, other): (u8, u8)| pin == one || pin == other;
    match &part.kind {
        PartKind::Lamp { pins, .. } | PartKind::Resistor { pins, .. } | PartKind::Motor { pins, .. } => {
            either(*pins)
        }
        PartKind::Led(led) => led.pins.0 == pin,
        PartKind::Screen(screen) => either((screen.feed, screen.ground)),
        PartKind::Relay(relay) => either(relay.coil),
        PartKind::Module(module) => module.supply == pin,
        PartKind::Switch { .. } | PartKind::Diode { .. } | PartKind::Latch(_) => false,
    }
}

/// What a part draws while it works, in amps.
fn amps(part: &Part) -> f64 {
    match &part.kind {
        PartKind::Lamp { filament, .. } => filament.rated_watts / filament.rated_volts,
        PartKind::Led(led) => led.rated_amps,
        PartKind::Resistor { ohms, .. } => RATED_VOLTS / ohms,
        PartKind::Screen(screen) => RATED_VOLTS * f64::from(screen.lines) / screen.line_ohms,
        PartKind::Relay(relay) => RATED_VOLTS / relay.coil_ohms,
        PartKind::Module(module) => RATED_VOLTS / module.load_ohms,
        PartKind::Motor { motor, .. } => {
            // V = I R + E and I = idle + slope × E, at a steady speed.
            let speed = (RATED_VOLTS - motor.idle_amps * motor.winding_ohms)
                / (1.0 + motor.slope_siemens * motor.winding_ohms);
            motor.idle_amps + motor.slope_siemens * speed.max(0.0)
        }
        PartKind::Switch { .. } | PartKind::Diode { .. } | PartKind::Latch(_) => 0.0,
    }
}

fn parts_on(vehicle: &Vehicle, connector: ConnectorId) -> impl Iterator<Item = &Part> {
    vehicle.parts.iter().filter(move |part| part.connector == connector)
}

/// The pins of a part.
fn pins(part: &Part) -> Vec<u8> {
    match &part.kind {
        PartKind::Lamp { pins, .. }
        | PartKind::Switch { pins, .. }
        | PartKind::Diode { pins }
        | PartKind::Resistor { pins, .. }
        | PartKind::Motor { pins, .. } => vec![pins.0, pins.1],
        PartKind::Led(led) => vec![led.pins.0, led.pins.1],
        PartKind::Screen(screen) => vec![screen.feed, screen.ground],
        PartKind::Relay(relay) => {
            let contacts = [relay.normally_open, relay.normally_closed];
            [relay.coil.0, relay.coil.1, relay.common]
                .into_iter()
                .chain(contacts.into_iter().flatten())
                .collect()
        }
        PartKind::Latch(latch) => vec![latch.feed, latch.ajar, latch.ground, latch.home],
        PartKind::Module(module) => {
            let outputs = module.outputs.iter().flat_map(|output| [output.feed, output.pin]);
            let inputs = module.inputs.iter().map(|input| input.pin);
            [module.supply, module.ground].into_iter().chain(inputs).chain(outputs).collect()
        }
    }
}

/// The pins that parts on a connector have, in words.
fn all_pins(vehicle: &Vehicle, connector: ConnectorId) -> String {
    let mut all: Vec<u8> = parts_on(vehicle, connector).flat_map(pins).collect();
    all.sort_unstable();
    all.dedup();
    let all: Vec<String> = all.iter().map(u8::to_string).collect();
    if all.is_empty() { "there is none".to_owned() } else { all.join(", ") }
}
