//! Every kind of fault: what it is, the ranges of its numbers, and what it can be written as for a vehicle.

use crate::scenario::Range;
use crate::vehicle::{ConductorId, End, Half, Latch, Part, PartKind, Vehicle};

/// What a kind of fault is.
#[derive(Clone, Copy, Debug)]
pub struct FaultGuide {
    /// As it is written.
    pub kind: &'static str,
    /// What it physically is.
    pub says: &'static str,
    /// The ranges of its numbers, by field; a value without a name stands under "".
    pub ranges: &'static [(&'static str, Range)],
}

const OHMS: &[(&str, Range)] = &[("ohms", Range::FAULT_OHMS)];

/// Every kind of fault that a pool can hold.
pub const FAULT_GUIDES: &[FaultGuide] = &[
    FaultGuide { kind: "Parted", says: "copper parted inside its insulation", ranges: &[] },
    FaultGuide { kind: "Resistive", says: "corroded or thinned copper, so many ohms more", ranges: OHMS },
    FaultGuide {
        kind: "ShortToBody",
        says: "chafed through to the body; `blown` is the fuse that it has blown",
        ranges: OHMS,
    },
    FaultGuide {
        kind: "Strands",
        says: "the last `left` of its strands are left; `of` is 2 to 255, `left` is less",
        ranges: &[],
    },
    FaultGuide { kind: "ShortBetween", says: "two conductors touch where both pass", ranges: OHMS },
    FaultGuide {
        kind: "Terminal",
        says: "a bad terminal in a loom half; without `ohms` it does not touch; look: PushedBack, Spread, Corroded or Bent",
        ranges: OHMS,
    },
    FaultGuide {
        kind: "HalfSeated",
        says: "plugged together but not home: this contact does not touch",
        ranges: &[],
    },
    FaultGuide { kind: "Crossed", says: "two terminals sit in each other's cavity", ranges: &[] },
    FaultGuide { kind: "FuseBlown", says: "a fuse that has blown of age", ranges: &[] },
    FaultGuide { kind: "WrongFuse", says: "a fuse of too few amps was fitted, and has blown", ranges: &[] },
    FaultGuide { kind: "LooseFuse", says: "the clips of its slot do not grip", ranges: &[] },
    FaultGuide {
        kind: "Stud",
        says: "an eyelet is off its stud (no `ohms`), loose, or tight and crusted (loose: false)",
        ranges: OHMS,
    },
    FaultGuide { kind: "MotorOpen", says: "the latch's drive has no path inside", ranges: &[] },
    FaultGuide {
        kind: "MotorShorted",
        says: "its winding is shorted down to so many ohms",
        ranges: &[("", Range::MOTOR_OHMS)],
    },
    FaultGuide { kind: "WindingOpen", says: "a motor, relay coil or latch has no path inside", ranges: &[] },
    FaultGuide {
        kind: "WindingShorted",
        says: "a winding is shorted down to so many ohms",
        ranges: &[("ohms", Range::WINDING_OHMS)],
    },
    FaultGuide {
        kind: "DeadSpot",
        says: "brushes stop on a worn place so often",
        ranges: &[("share", Range::SHARE)],
    },
    FaultGuide { kind: "PartOpen", says: "a lamp, diode or resistor has no path inside", ranges: &[] },
    FaultGuide {
        kind: "PartShorted",
        says: "a lamp of diodes, diode or resistor is this many ohms instead",
        ranges: OHMS,
    },
    FaultGuide {
        kind: "LineBroken",
        says: "lines of a heated screen are broken, each at a (line: .., section: ..); sections 1 to 8",
        ranges: &[],
    },
    FaultGuide { kind: "ContactBurnt", says: "a relay's working contact is burnt", ranges: OHMS },
    FaultGuide { kind: "ContactWelded", says: "it is welded shut", ranges: &[] },
    FaultGuide {
        kind: "Stiff",
        says: "the latch needs so many amps to move",
        ranges: &[("", Range::STIFF_AMPS)],
    },
    FaultGuide { kind: "Jammed", says: "the latch does not move at all", ranges: &[] },
    FaultGuide { kind: "OutputDead", says: "a module's output never comes on", ranges: &[] },
    FaultGuide { kind: "OutputStuck", says: "it is on for ever", ranges: &[] },
    FaultGuide { kind: "NeverSleeps", says: "a module that never falls asleep", ranges: &[] },
    FaultGuide { kind: "InputDeaf", says: "a module does not hear one input", ranges: &[] },
    FaultGuide { kind: "ReceiverDeaf", says: "a module does not hear the key", ranges: &[] },
    FaultGuide {
        kind: "Filmed",
        says: "a film on a switch's contacts, which so much current breaks through",
        ranges: &[("ohms", Range::FAULT_OHMS), ("wetting_milliamps", Range::WETTING_MILLIAMPS)],
    },
    FaultGuide { kind: "SwitchOpen", says: "a switch that never closes", ranges: &[] },
    FaultGuide { kind: "SwitchClosed", says: "a switch that never opens", ranges: &[] },
    FaultGuide {
        kind: "KeyCellFlat",
        says: "the key's cell is worn",
        ranges: &[("volts", Range::CELL_VOLTS), ("ohms", Range::CELL_OHMS)],
    },
    FaultGuide { kind: "KeyButtonDead", says: "the key's button for the lid does nothing", ranges: &[] },
    FaultGuide {
        kind: "BatteryLow",
        says: "the battery is low",
        ranges: &[("volts", Range::BATTERY_VOLTS), ("ohms", Range::BATTERY_OHMS)],
    },
    FaultGuide { kind: "LockoutOn", says: "the setting that locks the release out was left on", ranges: &[] },
];

/// Where a conductor is likeliest to break: its station that moves the most.
fn weak_spot(vehicle: &Vehicle, at: usize) -> Option<&str> {
    let stations = vehicle.conductors[at].runs.iter().filter_map(|run| run.station);
    let stations = stations.map(|id| vehicle.station(id));
    // Of equal ones the last, which lies nearest to the latch.
    stations.max_by(|a, b| a.moves.total_cmp(&b.moves)).map(|station| station.id.as_str())
}

/// The conductors in the order in which they break: those first that pass where the loom moves the most.
fn by_weakness(vehicle: &Vehicle) -> Vec<usize> {
    let moves = |at: usize| {
        let stations = vehicle.conductors[at].runs.iter().filter_map(|run| run.station);
        stations.map(|id| vehicle.station(id).moves).fold(0.0, f64::max)
    };
    let mut order = conductors(vehicle);
    order.sort_by(|&a, &b| moves(b).total_cmp(&moves(a)));
    order
}

/// The conductors, those of the latch's drive first.
fn conductors(vehicle: &Vehicle) -> Vec<usize> {
    let (part, latch): (_, &Latch) = vehicle.latch();
    let connector = vehicle.part(part).connector;
    let drive = [latch.ground, latch.feed];
    let own = drive.iter().filter_map(|&pin| vehicle.conductor_in(connector, Half::Loom, pin));
    let mut order: Vec<usize> = own.map(ConductorId::index).collect();
    order.extend((0..vehicle.conductors.len()).filter(|at| !order.contains(at)).collect::<Vec<_>>());
    order
}

/// Cavities of loom halves that hold a terminal: connector and number, those of the latch first.
fn cavities(vehicle: &Vehicle) -> Vec<(&str, u8)> {
    let mut all: Vec<(&str, u8)> = Vec::new();
    for conductor in conductors(vehicle).into_iter().map(|at| &vehicle.conductors[at]) {
        for end in [conductor.from, conductor.to] {
            if let End::Cavity(connector, Half::Loom, number) = end {
                all.push((vehicle.connector(connector).id.as_str(), number));
            }
        }
    }
    all
}

fn parts<'v>(vehicle: &'v Vehicle, fits: impl Fn(&PartKind) -> bool + 'v) -> impl Iterator<Item = &'v Part> {
    vehicle.parts.iter().filter(move |part| fits(&part.kind))
}

/// The kind with each of these parts as its one value.
fn one_each(kind: &str, vehicle: &Vehicle, fits: impl Fn(&PartKind) -> bool) -> Vec<String> {
    parts(vehicle, fits).map(|part| format!("{kind}(\"{}\")", part.id)).collect()
}

/// All that this kind can be written as for this vehicle, with common values; nothing where the vehicle has no part for it.
pub(super) fn written(vehicle: &Vehicle, kind: &str) -> Vec<String> {
    let on_conductors = |more: &dyn Fn(usize) -> String| -> Vec<String> {
        let all = by_weakness(vehicle).into_iter().filter_map(|at| {
            let spot = weak_spot(vehicle, at)?;
            Some(format!("{kind}(conductor: \"{}\", at: \"{spot}\"{})", vehicle.conductors[at].id, more(at)))
        });
        all.collect()
    };
    let on_fuses = |more: &dyn Fn(u8) -> Option<String>| -> Vec<String> {
        vehicle
            .fuses
            .iter()
            .filter_map(|fuse| more(fuse.rating_amps).map(|more| (fuse, more)))
            .map(|(fuse, more)| {
                if more.is_empty() {
                    format!("{kind}(\"{}\")", fuse.id)
                } else {
                    format!("{kind}(fuse: \"{}\", {more})", fuse.id)
                }
            })
            .collect()
    };
    let has_brushes = |part: &PartKind| match part {
        PartKind::Latch(latch) => !latch.solenoid,
        other => other.motor().is_some(),
    };
    let winding = |part: &PartKind| part.motor().is_some() || matches!(part, PartKind::Relay(_));
    let two_pins = |part: &PartKind| {
        matches!(part, PartKind::Led(_) | PartKind::Diode { .. } | PartKind::Resistor { .. })
    };
    let switch = |part: &PartKind| matches!(part, PartKind::Switch { .. });
    let works = |part: &PartKind| matches!(part, PartKind::Relay(relay) if relay.normally_open.is_some());
    let with_ohms = |field: &str, ohms: &str, fits: &dyn Fn(&PartKind) -> bool| -> Vec<String> {
        parts(vehicle, fits).map(|part| format!("{kind}({field}: \"{}\", ohms: {ohms})", part.id)).collect()
    };
    let of_modules = |field: &str| -> Vec<String> {
        let mut all = Vec::new();
        for (id, module) in vehicle.modules() {
            let names: Vec<&str> = if field == "output" {
                module.outputs.iter().map(|one| one.id.as_str()).collect()
            } else {
                module.inputs.iter().map(|one| one.id.as_str()).collect()
            };
            all.extend(
                names
                    .iter()
                    .map(|name| format!("{kind}(module: \"{}\", {field}: \"{name}\")", vehicle.part(id).id)),
            );
        }
        all
    };
    match kind {
        "Parted" => on_conductors(&|_| String::new()),
        "Resistive" => on_conductors(&|_| ", ohms: 6".to_owned()),
        "ShortToBody" => {
            let blown =
                vehicle.fuses.first().map_or(String::new(), |fuse| format!(", blown: \"{}\"", fuse.id));
            on_conductors(&|_| format!(", ohms: 0.03{blown}"))
        }
        "Strands" => on_conductors(&|_| ", left: 1, of: 24".to_owned()),
        "ShortBetween" => on_conductors(&|at| {
            let spot = weak_spot(vehicle, at);
            let passes = |other: &&usize| {
                let stations = vehicle.conductors[**other].runs.iter().filter_map(|run| run.station);
                **other != at && stations.into_iter().any(|id| Some(vehicle.station(id).id.as_str()) == spot)
            };
            let all = conductors(vehicle);
            let other = all
                .iter()
                .find(passes)
                .map(|&other| format!(", other: \"{}\"", vehicle.conductors[other].id));
            format!("{}, ohms: 0.05", other.unwrap_or_default())
        })
        .into_iter()
        .filter(|one| one.contains("other: "))
        .collect(),
        "Terminal" => cavities(vehicle)
            .iter()
            .map(|(half, number)| {
                format!("{kind}(connector: \"{half}\", cavity: {number}, ohms: 6, look: Spread)")
            })
            .collect(),
        "HalfSeated" => cavities(vehicle)
            .iter()
            .map(|(half, number)| format!("{kind}(connector: \"{half}\", cavity: {number})"))
            .collect(),
        "Crossed" => {
            let all = cavities(vehicle);
            let pair = |&(half, number): &(&str, u8)| {
                let other = all.iter().find(|(other, at)| *other == half && *at != number)?;
                Some(format!("{kind}(connector: \"{half}\", first: {number}, second: {})", other.1))
            };
            all.iter().filter_map(pair).collect()
        }
        "FuseBlown" | "LooseFuse" => on_fuses(&|_| Some(String::new())),
        "WrongFuse" => on_fuses(&|amps| (amps > 2).then(|| "amps: 2".to_owned())),
        "Stud" => {
            // A fault is named for its stud: one eyelet of each.
            let first = |at: &usize| {
                let stud = vehicle.eyelets[*at].stud;
                vehicle.eyelets[..*at].iter().all(|other| other.stud != stud)
            };
            let firsts = (0..vehicle.eyelets.len()).filter(first);
            firsts
                .map(|at| format!("{kind}(eyelet: \"{}\", ohms: 12, loose: false)", vehicle.eyelets[at].id))
                .collect()
        }
        "MotorOpen" | "Jammed" | "KeyButtonDead" | "LockoutOn" => vec![kind.to_owned()],
        "MotorShorted" => vec![format!("{kind}(0.15)")],
        "Stiff" => vec![format!("{kind}(11)")],
        "WindingOpen" => one_each(kind, vehicle, winding),
        "WindingShorted" => with_ohms("part", "0.04", &winding),
        "DeadSpot" => parts(vehicle, has_brushes)
            .map(|part| format!("{kind}(part: \"{}\", share: 0.5)", part.id))
            .collect(),
        "PartOpen" => one_each(kind, vehicle, |part| matches!(part, PartKind::Lamp { .. }) || two_pins(part)),
        "PartShorted" => with_ohms("part", "0.1", &two_pins),
        "LineBroken" => vehicle
            .screens()
            .map(|(id, _)| {
                format!("{kind}(screen: \"{}\", breaks: [(line: 1, section: 3)])", vehicle.part(id).id)
            })
            .collect(),
        "ContactBurnt" => with_ohms("relay", "5", &works),
        "ContactWelded" => one_each(kind, vehicle, works),
        "OutputDead" | "OutputStuck" => of_modules("output"),
        "InputDeaf" => of_modules("input"),
        "NeverSleeps" => one_each(
            kind,
            vehicle,
            |part| matches!(part, PartKind::Module(module) if module.sleeps_after_minutes.is_finite()),
        ),
        "ReceiverDeaf" => one_each(kind, vehicle, |part| matches!(part, PartKind::Module(_))),
        "Filmed" => parts(vehicle, switch)
            .map(|part| format!("{kind}(switch: \"{}\", ohms: 20000, wetting_milliamps: 50)", part.id))
            .collect(),
        "SwitchOpen" | "SwitchClosed" => one_each(kind, vehicle, switch),
        "KeyCellFlat" => vec![format!("{kind}(volts: 2.9, ohms: 350)")],
        "BatteryLow" => vec![format!("{kind}(volts: 10.4, ohms: 1.1)")],
        _ => Vec::new(),
    }
}
