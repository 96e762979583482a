//! A vehicle file's loom: conductors, their ends and their colours.

use std::collections::{BTreeMap, BTreeSet};

use super::in_range;
use super::names::VehicleNames;
use super::written::{ConductorAsWritten, EndAsWritten, MateAsWritten, VehicleAsWritten};
use crate::vehicle::{
    Conductor, ConnectorId, End, EyeletId, FuseId, Half, Run, Side, SpliceId, StationId, Title,
};
use crate::written::{At, Problems};

/// A half by name and a cavity by number; a problem where there is none such.
pub(in crate::scenario) fn cavity(
    cavities: impl Fn(usize) -> u8,
    names: &VehicleNames,
    half: &At<String>,
    number: &At<u8>,
    problems: &mut Problems,
) -> Option<(ConnectorId, Half, u8)> {
    let found = names.halves.find(half, problems)?;
    let (position, side) = (found / 2, if found % 2 == 1 { Half::Mate } else { Half::Loom });
    let count = cavities(position);
    if number.value == 0 || number.value > count {
        problems.add(
            number.span,
            format!("\"{}\" has no cavity {}", half.value, number.value),
            format!("write a number from 1 to {count}"),
        );
        return None;
    }
    Some((ConnectorId::at(position), side, number.value))
}

pub(super) fn conductor(
    file: &VehicleAsWritten,
    conductor: &ConductorAsWritten,
    names: &VehicleNames,
    problems: &mut Problems,
) -> Option<Conductor> {
    in_range(&conductor.square_millimetres, 0.1, 120.0, "mm²", "a cross-section", problems);
    in_range(&conductor.metres, 0.01, 100.0, "m", "a length", problems);
    colour(&conductor.colour, problems);
    let mut end = |end: &EndAsWritten| match end {
        EndAsWritten::Cavity { half, number } => {
            let cavities = |position: usize| file.connectors[position].cavities.value;
            let (connector, side, number) = cavity(cavities, names, half, number, problems)?;
            if side == Half::Mate && matches!(file.connectors[connector.index()].mate, MateAsWritten::Pins) {
                problems.add(
                    half.span,
                    format!("\"{}\" are a part's own pins: no conductor ends in them", half.value),
                    format!("name the loom half, \"{}\"", file.connectors[connector.index()].id.value),
                );
                return None;
            }
            Some(End::Cavity(connector, side, number))
        }
        EndAsWritten::Splice(id) => names.splices.find(id, problems).map(|at| End::Splice(SpliceId::at(at))),
        EndAsWritten::Eyelet(id) => names.eyelets.find(id, problems).map(|at| End::Eyelet(EyeletId::at(at))),
        EndAsWritten::FuseFeed(id) => {
            names.fuses.find(id, problems).map(|at| End::Fuse(FuseId::at(at), Side::Feed))
        }
        EndAsWritten::FuseLoad(id) => {
            names.fuses.find(id, problems).map(|at| End::Fuse(FuseId::at(at), Side::Load))
        }
        EndAsWritten::BatteryPlus => Some(End::BatteryPlus),
        EndAsWritten::Body => Some(End::Body),
    };
    let (from, to) = (end(&conductor.from), end(&conductor.to));
    if from.is_some() && from == to {
        problems.add(
            conductor.id.span,
            format!("\"{}\" begins and ends in the same place", conductor.id.value),
            "let it end somewhere else",
        );
    }
    let mut passed = BTreeSet::new();
    let mut runs = vec![Some(Run { station: None, metres: conductor.metres.value })];
    for run in &conductor.via {
        in_range(&run.metres, 0.01, 100.0, "m", "a length", problems);
        let station = names.stations.find(&run.at, problems);
        if station.is_some_and(|station| !passed.insert(station)) {
            problems.add(
                run.at.span,
                format!("\"{}\" passes \"{}\" twice: it runs in a loop", conductor.id.value, run.at.value),
                "name each station once, in the order in which the conductor passes them",
            );
        }
        runs.push(station.map(|at| Run { station: Some(StationId::at(at)), metres: run.metres.value }));
    }
    Some(Conductor {
        id: conductor.id.value.clone(),
        title: Title::new(&conductor.title.value),
        colour: conductor.colour.value.clone(),
        square_millimetres: conductor.square_millimetres.value,
        from: from?,
        to: to?,
        runs: runs.into_iter().collect::<Option<_>>()?,
    })
}

/// Colour letters of IEC 60757: one colour, or two with a stroke between them.
fn colour(colour: &At<String>, problems: &mut Problems) {
    const LETTERS: [&str; 15] =
        ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"];
    let known = colour.value.split('/').all(|one| LETTERS.contains(&one));
    if !known || colour.value.split('/').count() > 2 {
        problems.add(
            colour.span,
            format!("\"{}\" is not a colour by the letters of IEC 60757", colour.value),
            format!("write one of {}, or two of them with a stroke, as in \"BU/WH\"", LETTERS.join(", ")),
        );
    }
}

/// No two conductors in one cavity.
pub(super) fn shared_cavities(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut taken: BTreeMap<(&str, u8), &str> = BTreeMap::new();
    for conductor in &file.conductors {
        for end in [&conductor.from, &conductor.to] {
            let EndAsWritten::Cavity { half, number } = end else { continue };
            if let Some(other) = taken.insert((half.value.as_str(), number.value), &conductor.id.value) {
                problems.add(
                    number.span,
                    format!("cavity {} of \"{}\" already holds \"{other}\"", number.value, half.value),
                    "give each conductor a cavity of its own, or join them in a splice",
                );
            }
        }
    }
}
