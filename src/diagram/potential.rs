//! Which end of everything is nearer to the feed: the circuit with every contact closed and every load alike, so that
//! whatever carries current has an upper and a lower end.

use std::collections::BTreeMap;

use crate::vehicle::{End, FuseId, Half, Mate, Module, OutputKind, PartId, PartKind, Pull, Side, Vehicle};

/// Conductances, in those of a load: a conductor or contact, a module's own electronics, an input's pull. Only their
/// order of magnitude counts, as on a vehicle.
const METAL: f64 = 1e3;
const LOAD: f64 = 1.0;
const ELECTRONICS: f64 = 0.1;
const PULL: f64 = 0.01;
/// What hangs on nothing is held half way.
const HOLD: f64 = 1e-12;
/// Two ends that differ by less are equally high.
const SAME: f64 = 1e-10;

/// How high each end lies: 1 at the battery's plus post, 0 at the body.
#[derive(Debug)]
pub(super) struct Potentials {
    ends: BTreeMap<End, usize>,
    high: Vec<f64>,
    /// In steps from the feed, for what carries nothing.
    steps: Vec<usize>,
}

impl Potentials {
    pub(super) fn of(vehicle: &Vehicle) -> Self {
        let (ends, pieces) = pieces(vehicle);
        let count = ends.len();
        Self { high: solved(count, &pieces), steps: steps(count, &pieces), ends }
    }

    /// Whether one end lies above another.
    pub(super) fn is_above(&self, one: End, other: End) -> bool {
        let (Some(&one), Some(&other)) = (self.ends.get(&one), self.ends.get(&other)) else {
            return one < other;
        };
        if (self.high[one] - self.high[other]).abs() > SAME {
            return self.high[one] > self.high[other];
        }
        (self.steps[one], one) < (self.steps[other], other)
    }

    /// Whether current goes through what lies between two ends.
    pub(super) fn differ(&self, one: End, other: End) -> bool {
        match (self.ends.get(&one), self.ends.get(&other)) {
            (Some(&one), Some(&other)) => (self.high[one] - self.high[other]).abs() > SAME,
            _ => false,
        }
    }
}

/// Every end, by number, and what joins two of them.
fn pieces(vehicle: &Vehicle) -> (BTreeMap<End, usize>, Vec<Piece>) {
    let mut ends = BTreeMap::new();
    for end in [End::BatteryPlus, End::Body] {
        number(&mut ends, end);
    }
    let mut pieces: Vec<Piece> = Vec::new();
    let mut piece = |ends: &mut BTreeMap<End, usize>, from: End, to: End, siemens: f64| {
        pieces.push((number(ends, from), number(ends, to), siemens));
    };
    for conductor in &vehicle.conductors {
        piece(&mut ends, conductor.from, conductor.to, METAL);
    }
    for (id, connector) in super::graph::connectors(vehicle) {
        if connector.mate == Mate::Loom {
            for n in 1..=connector.cavities {
                let half = |half| End::Cavity(id, half, n);
                piece(&mut ends, half(Half::Loom), half(Half::Mate), METAL);
            }
        }
    }
    for fuse in super::graph::fuses(vehicle) {
        piece(&mut ends, End::Fuse(fuse, Side::Feed), End::Fuse(fuse, Side::Load), METAL);
    }
    for eyelet in super::graph::eyelets(vehicle) {
        piece(&mut ends, End::Eyelet(eyelet), End::Body, METAL);
    }
    for part in &vehicle.parts {
        for (one, other, siemens) in paths(&part.kind) {
            let pin = |n| End::Cavity(part.connector, Half::Loom, n);
            piece(&mut ends, pin(one), pin(other), siemens);
        }
    }
    (ends, pieces)
}

fn number(ends: &mut BTreeMap<End, usize>, end: End) -> usize {
    let fresh = ends.len();
    *ends.entry(end).or_insert(fresh)
}

/// From, to, conductance.
type Piece = (usize, usize, f64);

/// The pins of a part between which current can go, and how well.
fn paths(kind: &PartKind) -> Vec<(u8, u8, f64)> {
    match kind {
        PartKind::Lamp { pins, .. }
        | PartKind::Diode { pins }
        | PartKind::Resistor { pins, .. }
        | PartKind::Motor { pins, .. } => vec![(pins.0, pins.1, LOAD)],
        PartKind::Switch { pins, .. } => vec![(pins.0, pins.1, METAL)],
        PartKind::Led(led) => vec![(led.pins.0, led.pins.1, LOAD)],
        PartKind::Screen(screen) => vec![(screen.feed, screen.ground, LOAD)],
        PartKind::Relay(relay) => {
            let mut paths = vec![(relay.coil.0, relay.coil.1, LOAD)];
            let throws = [relay.normally_open, relay.normally_closed];
            paths.extend(throws.into_iter().flatten().map(|throw| (relay.common, throw, METAL)));
            paths
        }
        PartKind::Latch(latch) => vec![
            (latch.feed, latch.ground, LOAD),
            (latch.ajar, latch.ground, METAL),
            (latch.home, latch.ground, METAL),
        ],
        PartKind::Module(module) => module_paths(module),
    }
}

fn module_paths(module: &Module) -> Vec<(u8, u8, f64)> {
    let mut paths = vec![(module.supply, module.ground, ELECTRONICS)];
    for input in &module.inputs {
        paths.push(match input.pull {
            Pull::Up => (module.supply, input.pin, PULL),
            Pull::Down => (input.pin, module.ground, PULL),
        });
    }
    for output in &module.outputs {
        paths.push(match output.kind {
            OutputKind::LowSide(_) => (output.pin, module.ground, METAL),
            _ => (output.feed, output.pin, METAL),
        });
    }
    paths
}

/// Nodal voltages, by elimination without pivoting: the matrix is symmetric and its diagonal dominates.
fn solved(count: usize, pieces: &[Piece]) -> Vec<f64> {
    let mut rows = vec![vec![0.0; count + 1]; count];
    for (at, row) in rows.iter_mut().enumerate() {
        row[at] = HOLD;
        row[count] = HOLD * 0.5;
    }
    for &(one, other, siemens) in pieces {
        rows[one][one] += siemens;
        rows[other][other] += siemens;
        rows[one][other] -= siemens;
        rows[other][one] -= siemens;
    }
    for (fixed, volts) in [(0, 1.0), (1, 0.0)] {
        rows[fixed].fill(0.0);
        rows[fixed][fixed] = 1.0;
        rows[fixed][count] = volts;
    }
    for pivot in 0..count {
        let (above, below) = rows.split_at_mut(pivot + 1);
        let pivot_row = &above[pivot];
        for row in below.iter_mut().filter(|row| row[pivot] != 0.0) {
            let share = row[pivot] / pivot_row[pivot];
            for (value, above) in row[pivot..].iter_mut().zip(&pivot_row[pivot..]) {
                *value -= share * above;
            }
        }
    }
    let mut high = vec![0.0; count];
    for at in (0..count).rev() {
        let known: f64 = (at + 1..count).map(|other| rows[at][other] * high[other]).sum();
        high[at] = (rows[at][count] - known) / rows[at][at];
    }
    high
}

/// How many pieces lie between each end and the feed.
fn steps(count: usize, pieces: &[Piece]) -> Vec<usize> {
    let mut steps = vec![usize::MAX; count];
    steps[0] = 0;
    let mut reached = vec![0];
    let mut next = 0;
    while next < reached.len() {
        let here = reached[next];
        next += 1;
        for &(one, other, _) in pieces {
            for (from, to) in [(one, other), (other, one)] {
                // The body is where everything ends, and no way on.
                if from == here && here != 1 && steps[to] == usize::MAX {
                    steps[to] = steps[here] + 1;
                    reached.push(to);
                }
            }
        }
    }
    steps
}

/// The ways that lead against the current, through conductors and contacts.
#[derive(Debug)]
pub(super) struct Climb {
    potentials: Potentials,
    /// By end: the ends right above it, and what it is.
    above: Vec<Vec<usize>>,
    names: Vec<End>,
}

impl Climb {
    pub(super) fn of(vehicle: &Vehicle) -> Self {
        let potentials = Potentials::of(vehicle);
        let (ends, pieces) = pieces(vehicle);
        let mut above = vec![Vec::new(); ends.len()];
        for (one, other, _) in pieces.into_iter().filter(|(.., siemens)| *siemens >= METAL) {
            let rise = potentials.high[one] - potentials.high[other];
            if rise > SAME {
                above[other].push(one);
            } else if rise < -SAME {
                above[one].push(other);
            }
        }
        let mut names = vec![End::Body; ends.len()];
        ends.into_iter().for_each(|(end, at)| names[at] = end);
        Self { potentials, above, names }
    }

    /// The fuses above a part's pins, nearest first.
    pub(super) fn fuses_above(&self, vehicle: &Vehicle, part: PartId) -> Vec<FuseId> {
        let part = vehicle.part(part);
        let pins = paths(&part.kind).into_iter().flat_map(|(one, other, _)| [one, other]);
        let mut reached: Vec<usize> = Vec::new();
        for pin in pins {
            let end = self.potentials.ends.get(&End::Cavity(part.connector, Half::Loom, pin));
            reached.extend(end.filter(|end| !reached.contains(end)));
        }
        let mut fuses = Vec::new();
        let mut next = 0;
        while let Some(&here) = reached.get(next) {
            next += 1;
            if let End::Fuse(fuse, _) = self.names[here] {
                fuses.push(fuse);
                continue;
            }
            for &end in &self.above[here] {
                if !reached.contains(&end) {
                    reached.push(end);
                }
            }
        }
        fuses
    }
}
