//! The run to which a station of the loom belongs: its wires as they go on through in-line connectors, and what they pass in order.

use std::collections::BTreeMap;

use probeworthy::vehicle::{Conductor, ConductorId, ConnectorId, End, Half, Mate, StationId, Vehicle};
use probeworthy::words::Texts;

/// Something that the run passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Stop {
    Station(StationId),
    /// Two halves that join one loom to another.
    Connector(ConnectorId),
}

impl Stop {
    /// Its name for people.
    pub(super) fn title(self, t: Texts, vehicle: &Vehicle) -> &str {
        match self {
            Self::Station(id) => t.title(&vehicle.station(id).title),
            Self::Connector(id) => t.title(&vehicle.connector(id).title),
        }
    }
}

/// A conductor as far as it is drawn: the places of its first and last stop in the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Leg {
    pub(super) conductor: ConductorId,
    pub(super) first: usize,
    pub(super) last: usize,
    /// Whether it ends in a splice before its first stop, and behind its last.
    pub(super) spliced: [bool; 2],
}

/// A run of the loom.
#[derive(Clone, Debug)]
pub(super) struct Run {
    pub(super) stops: Vec<Stop>,
    /// For each wire that runs through the station, its conductors one after another.
    pub(super) rows: Vec<Vec<Leg>>,
}

impl Run {
    /// The run of these conductors.
    pub(super) fn of(vehicle: &Vehicle, here: &[ConductorId]) -> Self {
        let chains: Vec<Chain> = here.iter().map(|id| Chain::of(vehicle, *id)).collect();
        let mut places: BTreeMap<Stop, f64> = BTreeMap::new();
        for stop in chains.iter().flat_map(|chain| chain.links.iter().flat_map(|(_, stops)| stops)) {
            if let Stop::Station(id) = stop {
                places.insert(*stop, number(*id));
            }
        }
        // Stations lie in the order of the file; a connector lies between those that its wires pass before and behind it.
        for chain in &chains {
            let all: Vec<Stop> = chain.stops();
            for (at, stop) in all.iter().enumerate() {
                if let Stop::Connector(_) = stop
                    && let Some(place) = between(&all, at)
                {
                    places.entry(*stop).or_insert(place);
                }
            }
        }
        let mut stops: Vec<Stop> = places.keys().copied().collect();
        stops.sort_by(|one, other| places[one].total_cmp(&places[other]));
        let rows = chains.iter().map(|chain| chain.legs(vehicle, &stops)).collect();
        Self { stops, rows }
    }
}

fn number(id: StationId) -> f64 {
    f64::from(u32::try_from(id.index()).unwrap_or(u32::MAX))
}

/// Where the connector at this place of a wire's stops lies among the stations.
fn between(all: &[Stop], at: usize) -> Option<f64> {
    let station = |stop: &Stop| if let Stop::Station(id) = stop { Some(number(*id)) } else { None };
    let before: Vec<f64> = all[..at].iter().rev().filter_map(station).collect();
    let behind: Vec<f64> = all[at + 1..].iter().filter_map(station).collect();
    // With stations on one side only, it lies at the end from which they lead away.
    let beyond = |side: &[f64]| match side {
        [near, next, ..] if next < near => Some(near + 0.5),
        [near, ..] => Some(near - 0.5),
        [] => None,
    };
    match (before.first(), behind.first()) {
        (Some(one), Some(other)) => Some((one + other) / 2.0),
        _ => beyond(&before).or_else(|| beyond(&behind)),
    }
}

/// A wire from one of its ends to the other.
struct Chain {
    /// Each conductor of it with its stops.
    links: Vec<(ConductorId, Vec<Stop>)>,
    /// Where it begins and ends.
    ends: [End; 2],
}

impl Chain {
    /// The wire to which a conductor belongs.
    fn of(vehicle: &Vehicle, id: ConductorId) -> Self {
        let mut chain = vec![(id, own_stops(vehicle.conductor(id)))];
        let mut ends = [vehicle.conductor(id).from, vehicle.conductor(id).to];
        // Forth from its end, and back from its beginning.
        for forth in [true, false] {
            let wire = vehicle.conductor(id);
            let mut end = if forth { wire.to } else { wire.from };
            while let Some((connector, next, far)) = goes_on(vehicle, end) {
                if chain.iter().any(|(one, _)| *one == next) {
                    break;
                }
                let mut stops = own_stops(vehicle.conductor(next));
                if (far == vehicle.conductor(next).from) == forth {
                    stops.reverse();
                }
                let joint = Stop::Connector(connector);
                let at = if forth { chain.len() - 1 } else { 0 };
                if forth {
                    chain[at].1.push(joint);
                    stops.insert(0, joint);
                    chain.push((next, stops));
                } else {
                    chain[at].1.insert(0, joint);
                    stops.push(joint);
                    chain.insert(0, (next, stops));
                }
                end = far;
            }
            ends[usize::from(forth)] = end;
        }
        Self { links: chain, ends }
    }

    /// All its stops in order, each once.
    fn stops(&self) -> Vec<Stop> {
        let mut all: Vec<Stop> = self.links.iter().flat_map(|(_, stops)| stops.iter().copied()).collect();
        all.dedup();
        all
    }

    fn legs(&self, vehicle: &Vehicle, stops: &[Stop]) -> Vec<Leg> {
        let backwards = self.is_backwards(vehicle, stops);
        let last = self.links.len() - 1;
        let legs = self.links.iter().enumerate().filter_map(|(at, (conductor, own))| {
            let places = || own.iter().filter_map(|stop| stops.iter().position(|one| one == stop));
            let [begin, end] = self.ends.map(|end| matches!(end, End::Splice(_)));
            let mut spliced = [begin && at == 0, end && at == last];
            if backwards {
                spliced.reverse();
            }
            Some(Leg { conductor: *conductor, first: places().min()?, last: places().max()?, spliced })
        });
        legs.collect()
    }

    /// Whether it passes the stops of its run from the last to the first.
    fn is_backwards(&self, vehicle: &Vehicle, stops: &[Stop]) -> bool {
        let own = self.stops();
        let (Some(first), Some(last)) = (own.first(), own.last()) else { return false };
        if first != last {
            let place = |stop: &Stop| stops.iter().position(|one| one == stop);
            return place(first) > place(last);
        }
        // With one stop only, its splice lies where what else is joined there goes on.
        let Stop::Station(station) = first else { return false };
        let aside = |end: End| joined_at(vehicle, end).find(|there| there != station);
        match self.ends.map(aside) {
            [_, Some(behind)] => number(behind) < number(*station),
            [Some(before), None] => number(before) > number(*station),
            [None, None] => false,
        }
    }
}

/// The stations that are nearest to a splice on each conductor that ends in it.
fn joined_at(vehicle: &Vehicle, end: End) -> impl Iterator<Item = StationId> {
    let is_splice = matches!(end, End::Splice(_));
    vehicle.conductors.iter().filter(move |_| is_splice).filter_map(move |wire| {
        let mut stations = wire.runs.iter().filter_map(|run| run.station);
        if wire.from == end {
            stations.next()
        } else if wire.to == end {
            stations.next_back()
        } else {
            None
        }
    })
}

/// The stations of a conductor, from its beginning to its end.
fn own_stops(conductor: &Conductor) -> Vec<Stop> {
    conductor.runs.iter().filter_map(|run| run.station.map(Stop::Station)).collect()
}

/// What a conductor's end is plugged to in another loom: through which connector, to which conductor, and where that one ends.
fn goes_on(vehicle: &Vehicle, end: End) -> Option<(ConnectorId, ConductorId, End)> {
    let End::Cavity(connector, half, cavity) = end else { return None };
    if vehicle.connector(connector).mate != Mate::Loom {
        return None;
    }
    let other = if half == Half::Loom { Half::Mate } else { Half::Loom };
    let there = End::Cavity(connector, other, cavity);
    (0..vehicle.conductors.len()).map(ConductorId::at).find_map(|id| {
        let wire = vehicle.conductor(id);
        let far = if wire.from == there {
            wire.to
        } else if wire.to == there {
            wire.from
        } else {
            return None;
        };
        Some((connector, id, far))
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::conductors_at;
    use super::*;
    use crate::game::sync::vehicles;

    #[test]
    fn a_run_goes_on_through_the_in_line_connector_on_every_vehicle_that_has_one() {
        let mut through = BTreeSet::new();
        for (id, scenario) in vehicles() {
            let vehicle = &scenario.vehicle;
            for station in (0..vehicle.stations.len()).map(StationId::at) {
                let here = conductors_at(vehicle, station);
                let run = Run::of(vehicle, &here);
                assert_eq!(run.rows.len(), here.len());
                if here.is_empty() {
                    continue;
                }
                assert!(run.stops.contains(&Stop::Station(station)), "{id}: {station:?}");
                let once: BTreeSet<&Stop> = run.stops.iter().collect();
                assert_eq!(once.len(), run.stops.len(), "{id}: {:?}", run.stops);
                for (row, conductor) in run.rows.iter().zip(&here) {
                    assert!(row.iter().any(|leg| leg.conductor == *conductor), "{id}: {row:?}");
                    for leg in row {
                        assert!(leg.first <= leg.last && leg.last < run.stops.len());
                    }
                    // Where one conductor ends the next one begins.
                    for two in row.windows(2) {
                        let ends = [two[0].first, two[0].last];
                        let joined = ends.iter().any(|end| [two[1].first, two[1].last].contains(end));
                        assert!(joined, "{id}: {row:?} in {:?}", run.stops);
                    }
                }
                if run.stops.iter().any(|stop| matches!(stop, Stop::Connector(_))) {
                    through.insert(id.clone());
                }
            }
            let joins = |connector: &&probeworthy::vehicle::Connector| connector.mate == Mate::Loom;
            if vehicle.connectors.iter().any(|connector| joins(&connector)) {
                assert!(through.contains(&id), "{id}: no run reaches its in-line connector");
            }
        }
        assert!(through.len() > 2, "{through:?}");
    }

    #[test]
    fn the_estates_run_has_its_connector_between_sill_and_pillar() {
        let scenario = &vehicles()["estate"];
        let vehicle = &scenario.vehicle;
        let station = |name: &str| {
            let at = vehicle.stations.iter().position(|one| one.id == name).expect(name);
            StationId::at(at)
        };
        for begin in ["bellows", "sill-clip"] {
            let run = Run::of(vehicle, &conductors_at(vehicle, station(begin)));
            let at = |stop: Stop| run.stops.iter().position(|one| *one == stop).expect("it is on the way");
            let inline = run.stops.iter().position(|stop| matches!(stop, Stop::Connector(_)));
            let inline = inline.expect("the connector");
            assert_eq!(at(Stop::Station(station("sill-clip"))) + 1, inline, "{begin}: {:?}", run.stops);
            assert_eq!(inline + 1, at(Stop::Station(station("pillar-clip"))), "{begin}: {:?}", run.stops);
        }
    }

    #[test]
    fn a_wire_that_ends_in_a_splice_is_known_on_the_side_where_the_splice_lies() {
        let scenario = &vehicles()["estate"];
        let vehicle = &scenario.vehicle;
        let station = |name: &str| {
            StationId::at(vehicle.stations.iter().position(|one| one.id == name).expect("a station"))
        };
        // The latch's ground goes from the body to a splice behind the rail; from there a branch of one station leads to the latch.
        for (place, wire, spliced) in [
            ("bellows", "latch-ground", [false, true]),
            ("lid-rail", "latch-ground", [false, true]),
            ("latch-branch", "latch-ground-branch", [true, false]),
        ] {
            let run = Run::of(vehicle, &conductors_at(vehicle, station(place)));
            let legs = run.rows.iter().flatten();
            let mut of_it = legs.filter(|leg| vehicle.conductor(leg.conductor).id == wire);
            assert_eq!(of_it.next().expect(wire).spliced, spliced, "{wire} at {place}");
        }
    }
}
