//! A vehicle file: as written, then checked and with its names resolved.

mod face;
mod loom;
mod module;
mod names;
mod parts;
mod sense;
mod written;

use crate::circuit::FUSE_RATINGS_AMPS;
use crate::vehicle::{
    Battery, Charging, Conductor, Connector, Eyelet, FuseSlot, Key, Leakage, Lid, Manner, Mate, Panel,
    PanelId, Part, PartId, Reach, Splice, Station, Stud, StudId, Title, Vehicle, Zone,
};
use crate::written::{At, Problems};
use names::{mate_id, titles, translate, unique_names};
use parts::PartKindAsWritten;
use written::{ChargingAsWritten, MateAsWritten, ZoneAsWritten};

pub(super) use loom::cavity;
pub(super) use names::{
    Names, VehicleNames, check_name, check_tag, check_text, check_title, part_id, title_in,
};
pub(super) use written::VehicleAsWritten;

/// The version of the format that this program writes and reads.
pub(super) const FORMAT: u32 = 1;

/// Checks a vehicle as written and resolves its names. `None` where there are problems.
pub(super) fn resolve(file: &VehicleAsWritten, problems: &mut Problems) -> Option<Vehicle> {
    let before = problems.len();
    if file.format.value != FORMAT {
        problems.add(
            file.format.span,
            format!("format {} is not one that this program reads", file.format.value),
            format!("write `format: {FORMAT}`"),
        );
    }
    unique_names(file, problems);
    titles(file, problems);
    let names = VehicleNames::written(file);
    let panels = panels(file, problems);
    let reach = |zone: ZoneAsWritten, panel: &Option<At<String>>, problems: &mut Problems| {
        let panel = match panel {
            Some(name) => Some(PanelId::at(names.panels.find(name, problems)?)),
            None => None,
        };
        Some(Reach { zone: zone.into(), panel })
    };

    let battery = {
        in_range(&file.battery.open_volts, 1.0, 60.0, "V", "a battery's voltage", problems);
        in_range(
            &file.battery.internal_milliohms,
            0.1,
            10_000.0,
            "mΩ",
            "a battery's inner resistance",
            problems,
        );
        in_range(&file.battery.amp_hours, 1.0, 1000.0, "Ah", "what a battery holds", problems);
        let charging =
            file.battery.charging.as_ref().and_then(|written| charging(file, written, &names, problems));
        reach(file.battery.zone, &file.battery.panel, problems).map(|reach| Battery {
            open_volts: file.battery.open_volts.value,
            internal_ohms: file.battery.internal_milliohms.value * 1e-3,
            amp_hours: file.battery.amp_hours.value,
            charging,
            reach,
        })
    };
    for (value, what) in [
        (&file.leakage.to_body_megohms, "a leakage to the body"),
        (&file.leakage.to_neighbour_megohms, "a leakage between neighbours"),
        (&file.leakage.across_contact_megohms, "a leakage across a contact"),
    ] {
        in_range(value, 0.01, 1e6, "MΩ", what, problems);
    }
    let lid = lid(file, problems);
    let key = key(file, problems);

    let stations: Vec<Option<Station>> = file
        .stations
        .iter()
        .map(|station| {
            in_range(&station.moves, 0.0, 1.0, "", "how much a station moves", problems);
            Some(Station {
                id: station.id.value.clone(),
                title: Title::new(&station.title.value),
                reach: reach(station.zone, &station.panel, problems)?,
                moves: station.moves.value,
            })
        })
        .collect();
    let studs: Vec<Option<Stud>> = file
        .studs
        .iter()
        .map(|stud| {
            Some(Stud {
                id: stud.id.value.clone(),
                title: Title::new(&stud.title.value),
                reach: reach(stud.zone, &stud.panel, problems)?,
            })
        })
        .collect();
    let eyelets: Vec<Option<Eyelet>> = file
        .eyelets
        .iter()
        .map(|eyelet| {
            Some(Eyelet {
                id: eyelet.id.value.clone(),
                stud: StudId::at(names.studs.find(&eyelet.stud, problems)?),
            })
        })
        .collect();
    let fuses: Vec<Option<FuseSlot>> = file
        .fuses
        .iter()
        .map(|fuse| {
            rating(&fuse.amps, problems);
            Some(FuseSlot {
                id: fuse.id.value.clone(),
                title: Title::new(&fuse.title.value),
                rating_amps: fuse.amps.value,
                reach: reach(fuse.zone, &fuse.panel, problems)?,
            })
        })
        .collect();
    let connectors: Vec<Option<Connector>> = file
        .connectors
        .iter()
        .map(|connector| {
            let title = Title::new(&connector.title.value);
            in_range(
                &connector.contact_milliohms,
                0.1,
                1000.0,
                "mΩ",
                "a sound contact's resistance",
                problems,
            );
            one_to(&connector.cavities, 60, "a connector cannot have", "cavities", problems);
            let (mate, mate_title) = match &connector.mate {
                MateAsWritten::Pins => {
                    (Mate::Pins, Title::new(format!("{}, the part's own pins", title.written())))
                }
                MateAsWritten::Loom { title, .. } => (Mate::Loom, Title::new(&title.value)),
            };
            Some(Connector {
                id: connector.id.value.clone(),
                mate_id: mate_id(connector),
                title,
                mate_title,
                reach: reach(connector.zone, &connector.panel, problems)?,
                cavities: connector.cavities.value,
                contact_ohms: connector.contact_milliohms.value * 1e-3,
                mate,
                standard: connector.standard,
                blade_millimetres: face::blade(connector, problems),
                arrangement: face::arrangement(connector, problems),
            })
        })
        .collect();
    let parts: Vec<Option<Part>> =
        file.parts.iter().map(|part| parts::part(file, part, &names, &reach, problems)).collect();
    let conductors: Vec<Option<Conductor>> =
        file.conductors.iter().map(|conductor| loom::conductor(file, conductor, &names, problems)).collect();
    loom::shared_cavities(file, problems);
    one_latch(file, problems);

    if problems.len() > before {
        return None;
    }
    let mut vehicle = Vehicle {
        id: file.id.value.clone(),
        title: Title::new(&file.title.value),
        battery: battery?,
        leakage: Leakage {
            to_body_ohms: file.leakage.to_body_megohms.value * 1e6,
            to_neighbour_ohms: file.leakage.to_neighbour_megohms.value * 1e6,
            across_contact_ohms: file.leakage.across_contact_megohms.value * 1e6,
        },
        lid,
        key,
        panels,
        stations: stations.into_iter().collect::<Option<_>>()?,
        connectors: connectors.into_iter().collect::<Option<_>>()?,
        splices: file
            .splices
            .iter()
            .map(|splice| Splice { id: splice.id.value.clone(), title: Title::new(&splice.title.value) })
            .collect(),
        studs: studs.into_iter().collect::<Option<_>>()?,
        eyelets: eyelets.into_iter().collect::<Option<_>>()?,
        fuses: fuses.into_iter().collect::<Option<_>>()?,
        parts: parts.into_iter().collect::<Option<_>>()?,
        conductors: conductors.into_iter().collect::<Option<_>>()?,
        manner: Manner::default(),
    };
    translate(file, &mut vehicle, problems);
    sense::look(file, &vehicle, problems);
    Some(vehicle)
}

/// A charging source; a problem where what it runs with is no switch that stays where it is put.
fn charging(
    file: &VehicleAsWritten,
    written: &ChargingAsWritten,
    names: &VehicleNames,
    problems: &mut Problems,
) -> Option<Charging> {
    in_range(&written.volts, 1.0, 60.0, "V", "a charging voltage", problems);
    in_range(&written.milliohms, 0.1, 10_000.0, "mΩ", "a charging source's inner resistance", problems);
    let at = names.parts.find(&written.runs_with, problems)?;
    if !matches!(file.parts[at].is, PartKindAsWritten::Switch { springs_back: false, .. }) {
        problems.add(
            written.runs_with.span,
            format!("\"{}\" is no switch that stays where it is put", written.runs_with.value),
            "name a part that is a Switch with `springs_back: false`, such as one for the engine",
        );
        return None;
    }
    Some(Charging {
        volts: written.volts.value,
        ohms: written.milliohms.value * 1e-3,
        runs_with: PartId::at(at),
    })
}

/// A number in its range; a problem where it is not.
pub(super) fn in_range(
    value: &At<f64>,
    low: f64,
    high: f64,
    unit: &str,
    what: &str,
    problems: &mut Problems,
) {
    let _: bool = value.in_range(low, high, unit, what, problems);
}

/// A count from 1 to `most`; a problem where it is not: "a connector cannot have 0 cavities".
fn one_to(count: &At<u8>, most: u8, whose: &str, what: &str, problems: &mut Problems) {
    if !(1..=most).contains(&count.value) {
        problems.add(
            count.span,
            format!("{whose} {} {what}", count.value),
            format!("write a number from 1 to {most}"),
        );
    }
}

/// A fuse's rating that is in the box; a problem where it is not.
pub(super) fn rating(amps: &At<u8>, problems: &mut Problems) {
    if !FUSE_RATINGS_AMPS.contains(&amps.value) {
        let known: Vec<String> = FUSE_RATINGS_AMPS.iter().map(u8::to_string).collect();
        problems.add(
            amps.span,
            format!("there is no blade fuse of {} A", amps.value),
            format!("write one of {}", known.join(", ")),
        );
    }
}

fn panels(file: &VehicleAsWritten, problems: &mut Problems) -> Vec<Panel> {
    file.panels
        .iter()
        .map(|panel| {
            in_range(&panel.off_minutes, 0.0, 600.0, "min", "the time to take a panel off", problems);
            in_range(&panel.on_minutes, 0.0, 600.0, "min", "the time to put a panel back", problems);
            Panel {
                id: panel.id.value.clone(),
                title: Title::new(&panel.title.value),
                zone: panel.zone.into(),
                opens: panel.opens.map(Zone::from),
                off_minutes: panel.off_minutes.value,
                on_minutes: panel.on_minutes.value,
            }
        })
        .collect()
}

fn lid(file: &VehicleAsWritten, problems: &mut Problems) -> Lid {
    let lid = &file.lid;
    if !(20..=120).contains(&lid.full_degrees.value) {
        problems.add(
            lid.full_degrees.span,
            format!("a lid cannot open to {}°", lid.full_degrees.value),
            "write an angle from 20 to 120",
        );
    }
    for (angle, what) in [(&lid.springs_degrees, "springs to"), (&lid.reach_degrees, "is reached into from")]
    {
        if angle.value < 2 || angle.value >= lid.full_degrees.value {
            problems.add(
                angle.span,
                format!("the angle that the lid {what} is {}°", angle.value),
                "write an angle from 2° to below the angle of the lid fully up",
            );
        }
    }
    if lid.title.value.trim().is_empty() {
        problems.add(
            lid.title.span,
            "the lid has no title".to_owned(),
            "write what it is called, such as \"tailgate\" or \"boot lid\"",
        );
    }
    Lid {
        title: Title::new(&lid.title.value),
        is_door: lid.door,
        full_degrees: lid.full_degrees.value,
        springs_degrees: lid.springs_degrees.value,
        reach_degrees: lid.reach_degrees.value,
    }
}

fn key(file: &VehicleAsWritten, problems: &mut Problems) -> Key {
    let key = &file.key;
    in_range(&key.cell_volts, 0.5, 12.0, "V", "a key cell's voltage", problems);
    in_range(&key.cell_ohms, 0.1, 10_000.0, "Ω", "a key cell's inner resistance", problems);
    in_range(&key.sender_ohms, 1.0, 100_000.0, "Ω", "a key sender's load", problems);
    in_range(&key.sends_above_volts, 0.1, 12.0, "V", "the voltage a key needs", problems);
    Key {
        cell_volts: key.cell_volts.value,
        cell_ohms: key.cell_ohms.value,
        sender_ohms: key.sender_ohms.value,
        sends_above_volts: key.sends_above_volts.value,
        cell_price: key.cell_price,
        price: key.price,
    }
}

fn one_latch(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut latches = file.parts.iter().filter(|part| matches!(part.is, PartKindAsWritten::Latch(_)));
    if latches.next().is_none() {
        problems.add(file.id.span, "this vehicle has no latch".to_owned(), "add a part with `is: Latch(..)`");
    }
    for second in latches {
        problems.add(second.id.span, "this vehicle has a second latch".to_owned(), "leave one latch");
    }
    if !file.parts.iter().any(|part| matches!(part.is, PartKindAsWritten::Module(_))) {
        problems.add(
            file.id.span,
            "this vehicle has no module".to_owned(),
            "add a part with `is: Module(..)`",
        );
    }
}
