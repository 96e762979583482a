//! Names of a vehicle file: looked up, and checked.

use std::collections::{BTreeMap, BTreeSet};

use super::written::{ConnectorAsWritten, MateAsWritten, VehicleAsWritten};
use crate::vehicle::{PartId, Title, Vehicle};
use crate::written::{At, Problems, Table, nearest};

/// Names of one kind of thing.
pub(in crate::scenario) struct Names {
    kind: &'static str,
    at: BTreeMap<String, usize>,
}

impl Names {
    pub(in crate::scenario) fn new<'a>(kind: &'static str, ids: impl Iterator<Item = &'a str>) -> Self {
        let mut at = BTreeMap::new();
        for (position, id) in ids.enumerate() {
            at.entry(id.to_owned()).or_insert(position);
        }
        Self { kind, at }
    }

    /// Where a name stands; a problem where it is unknown.
    pub(in crate::scenario) fn find(&self, name: &At<String>, problems: &mut Problems) -> Option<usize> {
        if let Some(&position) = self.at.get(name.value.as_str()) {
            return Some(position);
        }
        let hint = match nearest(&name.value, self.at.keys().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None if self.at.is_empty() => format!("there is no {} in this vehicle", self.kind),
            None => {
                let known: Vec<&str> = self.at.keys().map(String::as_str).collect();
                format!("there are: {}", known.join(", "))
            }
        };
        problems.add(name.span, format!("there is no {} \"{}\"", self.kind, name.value), hint);
        None
    }
}

/// A vehicle's names.
pub(in crate::scenario) struct VehicleNames {
    pub(in crate::scenario) panels: Names,
    pub(in crate::scenario) stations: Names,
    pub(in crate::scenario) splices: Names,
    pub(in crate::scenario) studs: Names,
    pub(in crate::scenario) eyelets: Names,
    pub(in crate::scenario) fuses: Names,
    pub(in crate::scenario) parts: Names,
    pub(in crate::scenario) conductors: Names,
    /// Both halves of every connector; position × 2, and 1 more for the mating half of another loom.
    pub(in crate::scenario) halves: Names,
}

impl VehicleNames {
    pub(in crate::scenario) fn of(vehicle: &Vehicle) -> Self {
        let halves = vehicle.connectors.iter().flat_map(|c| [c.id.as_str(), c.mate_id.as_str()]);
        Self {
            panels: Names::new("panel", vehicle.panels.iter().map(|x| x.id.as_str())),
            stations: Names::new("station", vehicle.stations.iter().map(|x| x.id.as_str())),
            splices: Names::new("splice", vehicle.splices.iter().map(|x| x.id.as_str())),
            studs: Names::new("stud", vehicle.studs.iter().map(|x| x.id.as_str())),
            eyelets: Names::new("eyelet", vehicle.eyelets.iter().map(|x| x.id.as_str())),
            fuses: Names::new("fuse", vehicle.fuses.iter().map(|x| x.id.as_str())),
            parts: Names::new("part", vehicle.parts.iter().map(|x| x.id.as_str())),
            conductors: Names::new("conductor", vehicle.conductors.iter().map(|x| x.id.as_str())),
            halves: Names::new("connector", halves),
        }
    }

    pub(super) fn written(file: &VehicleAsWritten) -> Self {
        let halves: Vec<String> = file
            .connectors
            .iter()
            .flat_map(|connector| [connector.id.value.clone(), mate_id(connector)])
            .collect();
        Self {
            panels: Names::new("panel", file.panels.iter().map(|x| x.id.as_str())),
            stations: Names::new("station", file.stations.iter().map(|x| x.id.as_str())),
            splices: Names::new("splice", file.splices.iter().map(|x| x.id.as_str())),
            studs: Names::new("stud", file.studs.iter().map(|x| x.id.as_str())),
            eyelets: Names::new("eyelet", file.eyelets.iter().map(|x| x.id.as_str())),
            fuses: Names::new("fuse", file.fuses.iter().map(|x| x.id.as_str())),
            parts: Names::new("part", file.parts.iter().map(|x| x.id.as_str())),
            conductors: Names::new("conductor", file.conductors.iter().map(|x| x.id.as_str())),
            halves: Names::new("connector", halves.iter().map(String::as_str)),
        }
    }
}

/// The name of a connector's other half: written, or made from its own.
pub(super) fn mate_id(connector: &ConnectorAsWritten) -> String {
    match &connector.mate {
        MateAsWritten::Pins => format!("{}-pins", connector.id.value),
        MateAsWritten::Loom { id, .. } => id.value.clone(),
    }
}

/// Words that commands have a meaning for where a name can stand.
const OWN_WORDS: [&str; 11] = [
    "body",
    "battery",
    "battery-plus",
    "battery-minus",
    "connector",
    "key",
    "key-cell",
    "key-plus",
    "key-minus",
    "lockout",
    "off",
];

/// Every title says something.
pub(super) fn titles(file: &VehicleAsWritten, problems: &mut Problems) {
    let titles = std::iter::once(&file.title)
        .chain(file.panels.iter().map(|x| &x.title))
        .chain(file.stations.iter().map(|x| &x.title))
        .chain(file.splices.iter().map(|x| &x.title))
        .chain(file.studs.iter().map(|x| &x.title))
        .chain(file.fuses.iter().map(|x| &x.title))
        .chain(file.connectors.iter().map(|x| &x.title))
        .chain(file.parts.iter().map(|x| &x.title))
        .chain(file.conductors.iter().map(|x| &x.title));
    for title in titles {
        check_text(title, "the title", problems);
    }
}

/// A tag that a language can have.
pub(in crate::scenario) fn check_tag(language: &At<String>, problems: &mut Problems) {
    let tag = &language.value;
    if !(2..=3).contains(&tag.len()) || !tag.chars().all(|c| c.is_ascii_lowercase()) {
        let what = format!("\"{tag}\" is no language's tag");
        problems.add(language.span, what, "write one such as \"de\" (ISO 639)");
    }
}

/// A title, and what it is in other languages.
pub(in crate::scenario) fn check_title(
    written: &At<String>,
    titles: &Table<At<String>>,
    problems: &mut Problems,
) {
    check_text(written, "the title", problems);
    for (language, called) in &titles.0 {
        check_tag(language, problems);
        check_text(called, "the translation", problems);
    }
}

/// A title with what it is in other languages.
pub(in crate::scenario) fn title_in(written: &At<String>, titles: &Table<At<String>>) -> Title {
    let mut title = Title::new(&written.value);
    for (language, called) in &titles.0 {
        title.translate(&language.value, &called.value);
    }
    title
}

/// Gives titles what they are called in other languages.
pub(super) fn translate(file: &VehicleAsWritten, vehicle: &mut Vehicle, problems: &mut Problems) {
    for (language, table) in &file.translations.0 {
        check_tag(language, problems);
        for (written, called) in &table.0 {
            check_text(called, "the translation", problems);
            let mut found = false;
            for title in vehicle.titles_mut() {
                if title.written() == written.value {
                    title.translate(&language.value, &called.value);
                    found = true;
                }
            }
            if !found {
                problems.add(
                    written.span,
                    format!("nothing here is called \"{}\"", written.value),
                    "write a title of this file, letter by letter",
                );
            }
        }
    }
}

/// Every name once: two things of one name could not be told apart in a command.
pub(super) fn unique_names(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut seen: BTreeSet<&str> = OWN_WORDS.into();
    let pins: Vec<String> = file.connectors.iter().map(mate_id).collect();
    let all = (file.panels.iter().map(|x| &x.id))
        .chain(file.stations.iter().map(|x| &x.id))
        .chain(file.splices.iter().map(|x| &x.id))
        .chain(file.studs.iter().map(|x| &x.id))
        .chain(file.eyelets.iter().map(|x| &x.id))
        .chain(file.fuses.iter().map(|x| &x.id))
        .chain(file.conductors.iter().map(|x| &x.id));
    // A part may share its connector's name: the one is named where a part is meant, the other where a point is.
    let halves = file.connectors.iter().flat_map(|connector| {
        let other = match &connector.mate {
            MateAsWritten::Loom { id, .. } => Some(id),
            MateAsWritten::Pins => None,
        };
        std::iter::once(&connector.id).chain(other)
    });
    for id in all.chain(halves) {
        check_name(id, problems);
        once(id, &mut seen, problems);
    }
    for (connector, pins) in file.connectors.iter().zip(&pins) {
        if matches!(connector.mate, MateAsWritten::Pins) && seen.contains(pins.as_str()) {
            problems.add(
                connector.id.span,
                format!("this connector's pins would be called \"{pins}\", and that name is taken"),
                "give the connector another name",
            );
        }
    }
    // A fault is named on any of these, and all are told apart by their names alone.
    let mut named: BTreeSet<&str> = (file.studs.iter().map(|x| x.id.as_str()))
        .chain(file.fuses.iter().map(|x| x.id.as_str()))
        .chain(file.conductors.iter().map(|x| x.id.as_str()))
        .chain(OWN_WORDS)
        .collect();
    for part in &file.parts {
        check_name(&part.id, problems);
        once(&part.id, &mut named, problems);
    }
}

/// A name that is not taken already.
pub(super) fn once<'a>(id: &'a At<String>, seen: &mut BTreeSet<&'a str>, problems: &mut Problems) {
    if !seen.insert(id.value.as_str()) {
        problems.add(
            id.span,
            format!("the name \"{}\" is taken already", id.value),
            "give it a name of its own",
        );
    }
}

/// A text for people: something, and nothing that a terminal would act on.
pub(in crate::scenario) fn check_text(text: &At<String>, what: &str, problems: &mut Problems) {
    if text.value.trim().is_empty() {
        problems.add(text.span, format!("{what} is empty"), "write something for people to read");
    } else if text.value.chars().any(char::is_control) {
        problems.add(
            text.span,
            format!("{what} has a control character in it"),
            "take it out: write one line of plain text",
        );
    }
}

/// A name that can be typed as one word.
pub(in crate::scenario) fn check_name(id: &At<String>, problems: &mut Problems) {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if id.value.is_empty() || !id.value.chars().all(fits) {
        problems.add(
            id.span,
            format!("\"{}\" cannot be typed as one word", id.value),
            "use small letters a to z, digits and hyphens",
        );
    }
}

/// A part by name.
pub(in crate::scenario) fn part_id(
    names: &VehicleNames,
    name: &At<String>,
    problems: &mut Problems,
) -> Option<PartId> {
    names.parts.find(name, problems).map(PartId::at)
}
