//! Along the loom: at which of alike stations the pool's faults sit, and how long each stretch is.

use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;

use super::shuffle;
use crate::fault::{Component, PlacedFault, Spot, below};
use crate::scenario::Scenario;
use crate::vehicle::{
    ConductorId, ConnectorId, Deviation, End, Reach, SpliceId, StationId, StudId, Vehicle, When, Zone,
};

/// Stations that are reached alike, and move with the lid so much alike, are alike.
const MOVES_ALIKE: f64 = 0.5;
/// Orders that are tried until one is found in which every fault has a place.
const MOST_TRIES: usize = 300;
/// How much longer or shorter a stretch can be, in percent.
const STRETCH_PERCENT: u64 = 10;

/// Moves the faults of a pool along the loom: those of one station together to another that is reached alike, so that
/// no test costs more than before.
pub(super) fn move_faults(scenario: &mut Scenario, chance: &mut ChaCha8Rng) {
    for alike in alike_stations(&scenario.vehicle) {
        for _ in 0..MOST_TRIES {
            let mut order = alike.clone();
            shuffle(&mut order, chance);
            let to: BTreeMap<StationId, StationId> = alike.iter().copied().zip(order).collect();
            let moved: Option<Vec<PlacedFault>> =
                scenario.faults.iter().map(|fault| moved(&scenario.vehicle, fault, &to)).collect();
            if let Some(faults) = moved {
                scenario.faults = faults;
                break;
            }
        }
    }
}

/// Stations in groups that are reached alike.
fn alike_stations(vehicle: &Vehicle) -> Vec<Vec<StationId>> {
    let mut groups: Vec<Vec<StationId>> = Vec::new();
    for at in 0..vehicle.stations.len() {
        let here = vehicle.station(StationId::at(at));
        let fits = |group: &&mut Vec<StationId>| {
            group.iter().all(|&other| {
                let other = vehicle.station(other);
                are_reached_alike(other.reach, here.reach) && (other.moves - here.moves).abs() <= MOVES_ALIKE
            })
        };
        match groups.iter_mut().find(fits) {
            Some(group) => group.push(StationId::at(at)),
            None => groups.push(vec![StationId::at(at)]),
        }
    }
    groups.retain(|group| group.len() > 1);
    groups
}

/// Whether one gets at two places with the same trouble: behind the same panel, or with the lid up and behind none.
fn are_reached_alike(one: Reach, other: Reach) -> bool {
    let with_the_lid_up = |reach: Reach| matches!(reach.zone, Zone::LoadSpace | Zone::Lid);
    one == other || (one.panel == other.panel && with_the_lid_up(one) && with_the_lid_up(other))
}

/// A fault at its new stations; `None` where it cannot sit there.
fn moved(vehicle: &Vehicle, fault: &PlacedFault, to: &BTreeMap<StationId, StationId>) -> Option<PlacedFault> {
    let mut fault = fault.clone();
    for deviation in &mut fault.deviations {
        let when = deviation.when();
        match deviation {
            Deviation::Series { conductor, piece, .. }
            | Deviation::Twisted { conductor, piece }
            | Deviation::ToBody { conductor, piece, .. }
            | Deviation::Strands { conductor, piece, .. } => {
                *piece = new_piece(vehicle, *conductor, *piece, when, to)?;
            }
            Deviation::Between { conductor, piece, other, other_piece, .. } => {
                *piece = new_piece(vehicle, *conductor, *piece, when, to)?;
                *other_piece = new_piece(vehicle, *other, *other_piece, when, to)?;
            }
            _ => {}
        }
    }
    for diagnosis in std::iter::once(&mut fault.diagnosis).chain(&mut fault.also) {
        if let (Component::Conductor(_), Spot::Station(station)) = (diagnosis.component, &mut diagnosis.spot)
        {
            *station = to.get(station).copied().unwrap_or(*station);
        }
    }
    Some(fault)
}

/// The piece of a conductor that begins at the new station.
fn new_piece(
    vehicle: &Vehicle,
    conductor: ConductorId,
    piece: usize,
    when: When,
    to: &BTreeMap<StationId, StationId>,
) -> Option<usize> {
    let file = vehicle.conductor(conductor);
    let Some(old) = file.runs[piece].station else { return Some(piece) };
    let Some(&new) = to.get(&old) else { return Some(piece) };
    let (here, there) = (vehicle.station(old), vehicle.station(new));
    let fits = match when {
        When::Always => true,
        // What the weather brings hangs on how warm and how wet it gets there.
        When::Wet | When::ColderThan(_) | When::WarmerThan(_) => here.reach.zone == there.reach.zone,
        // What comes and goes as the loom moves hangs on how much it moves there.
        _ => here.moves == there.moves,
    };
    if fits { file.piece_at(new) } else { None }
}

/// Where a stretch begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    Station(StationId),
    Connector(ConnectorId),
    Splice(SpliceId),
    Stud(StudId),
    FuseBox,
    Battery,
    Body,
}

fn place(vehicle: &Vehicle, end: End) -> Place {
    match end {
        End::Cavity(connector, ..) => Place::Connector(connector),
        End::Splice(splice) => Place::Splice(splice),
        End::Eyelet(eyelet) => Place::Stud(vehicle.eyelets[eyelet.index()].stud),
        End::Fuse(..) => Place::FuseBox,
        End::BatteryPlus => Place::Battery,
        End::Body => Place::Body,
    }
}

/// Makes every stretch of the loom somewhat longer or shorter: all wires that run from one place to the next by as much.
pub(super) fn stretch(vehicle: &mut Vehicle, chance: &mut ChaCha8Rng) {
    let mut percent: BTreeMap<(Place, Place), u64> = BTreeMap::new();
    for at in 0..vehicle.conductors.len() {
        let file = vehicle.conductor(ConductorId::at(at));
        let begins = std::iter::once(place(vehicle, file.from));
        let stations = file.runs.iter().filter_map(|run| run.station).map(Place::Station);
        let places: Vec<Place> = begins.chain(stations).chain([place(vehicle, file.to)]).collect();
        for (piece, ends) in places.windows(2).enumerate() {
            let stretch = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            let factor = *percent
                .entry(stretch)
                .or_insert_with(|| 100 - STRETCH_PERCENT + below(chance, 2 * STRETCH_PERCENT + 1));
            if let Some(run) = vehicle.conductors[at].runs.get_mut(piece) {
                // In whole centimetres, of which there is at least one.
                run.metres = libm::rint(run.metres * factor as f64).max(1.0) / 100.0;
            }
        }
    }
}
