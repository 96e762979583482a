//! The wiring diagram of every vehicle in the tree: all of it is there, it joins exactly what the vehicle joins, lines
//! cross seldom, and nothing is written over anything. All is taken from the drawn primitives; the layout is not asked.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use probeworthy::diagram::{Diagram, Frame, Spot, Stroke, SymbolKind, Thing, Tone, feeding_fuses};
use probeworthy::scenario::{Scenario, Trial, Variation, load, load_vehicle};
use probeworthy::vehicle::{
    ConductorId, ConnectorId, End, EyeletId, FuseId, Half, Mate, PartId, PartKind, StudId, Title, Vehicle,
};
use probeworthy::words::{Language, Texts, diagram_names, diagram_svg};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// How often lines may cross, by vehicle. What is not listed may cross once for every two
/// conductors. When a layout
/// gets better, write the smaller number; when a vehicle changes, look at its picture first
/// (`probeworthy diagram FILE --svg picture.svg`).
const CROSSINGS: [(&str, usize); 7] =
    [("estate", 9), ("hatch", 12), ("proving", 7), ("row", 0), ("saloon", 17), ("tow", 31), ("van", 26)];

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
    entries.sort();
    for entry in entries {
        if entry.is_dir() {
            files(&entry, found);
        } else if entry.to_string_lossy().ends_with(".vehicle.ron") {
            found.push(entry);
        }
    }
}

/// One job of the shelf on each of its vehicles, and a variation.
const VARIED: [(&str, u16); 5] = [
    ("no-brake-lights", 17),
    ("coil-or-contact", 404),
    ("boot-stays-shut", 4711),
    ("trailer-goes-dark", 9),
    ("shared-feed", 8192),
];

/// Every sound vehicle file of the tree, and each vehicle of the shelf varied, with its diagram in each language.
fn all() -> Vec<(Vehicle, Diagram)> {
    let mut found = Vec::new();
    for folder in ["assets/vehicles", "tests/vehicles", "tests/survey"] {
        files(&Path::new(ROOT).join(folder), &mut found);
    }
    assert!(found.len() >= 3, "vehicle files: {found:?}");
    let written =
        found.iter().map(|path| load_vehicle(&path.to_string_lossy()).unwrap_or_else(|why| panic!("{why}")));
    let varied = VARIED.iter().map(|&(name, number)| {
        let variation = Variation::numbered(number).expect("a variation");
        let vehicle = load(name).expect("a sound file").scenario.in_variation(variation).vehicle;
        Vehicle { id: format!("{}, variation {number}", vehicle.id), ..vehicle }
    });
    written
        .chain(varied)
        .flat_map(|vehicle| {
            Language::ALL.map(|language| {
                let diagram = drawn(language, &vehicle);
                (vehicle.titled_in(language.tag()), diagram)
            })
        })
        .collect()
}

/// A vehicle's diagram, with its own words in a language.
fn drawn(language: Language, vehicle: &Vehicle) -> Diagram {
    Diagram::of(vehicle, &diagram_names(Texts::of(language)))
}

#[test]
fn everything_of_the_vehicle_is_in_it_once() {
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        let wires: Vec<ConductorId> = diagram.wires.iter().map(|wire| wire.conductor).collect();
        let conductors: Vec<ConductorId> = (0..vehicle.conductors.len()).map(ConductorId::at).collect();
        assert_eq!(wires, conductors, "{id}: conductors");

        let drawn = |thing: Thing, kinds: &[SymbolKind]| {
            diagram
                .symbols
                .iter()
                .filter(|symbol| symbol.thing == thing && kinds.contains(&symbol.kind))
                .count()
        };
        for at in 0..vehicle.fuses.len() {
            assert_eq!(drawn(Thing::Fuse(FuseId::at(at)), &[SymbolKind::Fuse]), 1, "{id}: fuse {at}");
        }
        for at in 0..vehicle.studs.len() {
            assert_eq!(drawn(Thing::Stud(StudId::at(at)), &[SymbolKind::Stud]), 1, "{id}: stud {at}");
        }
        let used = used_cavities(&vehicle);
        for (part, of) in vehicle.parts() {
            let symbols = diagram.symbols.iter().filter(|symbol| symbol.thing == Thing::Part(part));
            let elements = symbols.filter(|symbol| symbol.kind != SymbolKind::Outline).count();
            let is_box = drawn(Thing::Part(part), &[SymbolKind::Box]) == 1;
            let expected = match of.kind {
                // A part that no conductor reaches belongs to no circuit.
                _ if !used.iter().any(|(connector, _)| *connector == of.connector) => 0,
                _ if is_box => 1,
                PartKind::Relay(_) => 2,
                PartKind::Latch(_) => 3,
                _ => 1,
            };
            assert_eq!(elements, expected, "{id}: {}", of.id);
        }
        let mut crossings: BTreeMap<(ConnectorId, u8), usize> = BTreeMap::new();
        for crossing in &diagram.crossings {
            *crossings.entry((crossing.connector, crossing.cavity)).or_insert(0) += 1;
        }
        for (connector, cavity) in used {
            let name = &vehicle.connector(connector).id;
            assert_eq!(crossings.get(&(connector, cavity)), Some(&1), "{id}: {name}.{cavity}");
        }
        for (at, conductor) in vehicle.conductors.iter().enumerate() {
            let of_wire = |label: &&probeworthy::diagram::Label| {
                label.thing == Some(Thing::Conductor(ConductorId::at(at))) && label.tone == Tone::Wire
            };
            let texts: Vec<&str> =
                diagram.labels.iter().filter(of_wire).map(|label| label.text.as_str()).collect();
            let section = conductor.square_millimetres.to_string();
            assert_eq!(texts, [conductor.colour.as_str(), section.as_str()], "{id}: {}", conductor.id);
            for station in conductor.runs.iter().filter_map(|run| run.station) {
                let thing = Thing::Station(ConductorId::at(at), station);
                let number = (station.index() + 1).to_string();
                let is_it = |label: &&probeworthy::diagram::Label| label.thing == Some(thing);
                let label = diagram.labels.iter().find(is_it).expect("a tick's number");
                assert_eq!(label.text, number, "{id}: {}", conductor.id);
                let key = format!("{number}  {}", vehicle.station(station).title.written());
                assert!(diagram.labels.iter().any(|label| label.text == key), "{id}: {key} in the key");
            }
        }
        let title = |text: &str| diagram.labels.iter().any(|label| label.text == text);
        assert!(
            title(vehicle.title.written()) && title("30") && title("31"),
            "{id}: heading, feed and ground"
        );
    }
}

/// Cavities in which a conductor ends on either half.
fn used_cavities(vehicle: &Vehicle) -> BTreeSet<(ConnectorId, u8)> {
    let ends = vehicle.conductors.iter().flat_map(|conductor| [conductor.from, conductor.to]);
    ends.filter_map(|end| match end {
        End::Cavity(connector, _, cavity) => Some((connector, cavity)),
        _ => None,
    })
    .collect()
}

fn on_piece(spot: Spot, from: Spot, to: Spot) -> bool {
    let frame = Frame {
        left: from.x.min(to.x),
        top: from.y.min(to.y),
        right: from.x.max(to.x),
        bottom: from.y.max(to.y),
    };
    frame.contains(spot)
}

fn on_line(spot: Spot, points: &[Spot]) -> bool {
    points.windows(2).any(|pair| on_piece(spot, pair[0], pair[1]))
}

/// What is drawn other than conductors, as groups of what touches: by line that is no conductor, and by terminal.
struct Drawn<'d> {
    diagram: &'d Diagram,
    /// Terminals: which, where, and in which group.
    terminals: Vec<(End, Spot)>,
    /// Groups of joins and then of terminals.
    groups: Vec<usize>,
}

impl<'d> Drawn<'d> {
    fn of(vehicle: &Vehicle, diagram: &'d Diagram) -> Self {
        let mut terminals: Vec<(End, Spot)> =
            diagram.symbols.iter().flat_map(|symbol| symbol.terminals.iter().copied()).collect();
        for crossing in &diagram.crossings {
            let (above, below) = match crossing.half_above {
                Half::Loom => (Half::Loom, Half::Mate),
                Half::Mate => (Half::Mate, Half::Loom),
            };
            let end = |half| End::Cavity(crossing.connector, half, crossing.cavity);
            terminals.extend([(end(above), crossing.upper), (end(below), crossing.lower)]);
        }
        assert!(!vehicle.conductors.is_empty(), "a vehicle has conductors");
        let joins = diagram.joins.len();
        let mut drawn = Self { diagram, groups: (0..joins + terminals.len()).collect(), terminals };
        for one in 0..joins {
            for other in 0..joins {
                let points = &diagram.joins[other].points;
                let ends = &diagram.joins[one].points;
                if one != other && [ends[0], ends[ends.len() - 1]].iter().any(|end| on_line(*end, points)) {
                    drawn.unite(one, other);
                }
            }
            for at in 0..drawn.terminals.len() {
                if on_line(drawn.terminals[at].1, &diagram.joins[one].points) {
                    drawn.unite(one, joins + at);
                }
            }
        }
        for one in 0..drawn.terminals.len() {
            for other in 0..one {
                if drawn.terminals[one].1 == drawn.terminals[other].1 {
                    drawn.unite(joins + one, joins + other);
                }
            }
        }
        drawn
    }

    fn unite(&mut self, one: usize, other: usize) {
        let (from, to) = (self.groups[one], self.groups[other]);
        self.groups.iter_mut().filter(|group| **group == from).for_each(|group| *group = to);
    }

    /// The groups that a place touches.
    fn touched(&self, spot: Spot) -> BTreeSet<usize> {
        let joins = self.diagram.joins.iter().enumerate();
        let touched = joins.filter(|(_, join)| on_line(spot, &join.points)).map(|(at, _)| self.groups[at]);
        let count = self.diagram.joins.len();
        let terminals = self.terminals.iter().enumerate().filter(|(_, terminal)| terminal.1 == spot);
        touched.chain(terminals.map(|(at, _)| self.groups[count + at])).collect()
    }

    /// The terminals of a group, each as often as it is drawn.
    fn of_group(&self, group: usize) -> Vec<End> {
        let count = self.diagram.joins.len();
        let of = self.terminals.iter().enumerate().filter(|(at, _)| self.groups[count + at] == group);
        of.map(|(_, terminal)| terminal.0).collect()
    }
}

#[test]
fn it_joins_exactly_what_the_vehicle_joins() {
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        let drawn = Drawn::of(&vehicle, &diagram);
        for wire in &diagram.wires {
            let conductor = vehicle.conductor(wire.conductor);
            let name = &conductor.id;
            let reached = [wire.points[0], wire.points[wire.points.len() - 1]].map(|end| {
                let groups: Vec<usize> = drawn.touched(end).into_iter().collect();
                assert_eq!(groups.len(), 1, "{id}: an end of {name} touches one thing");
                let ends: BTreeSet<End> =
                    drawn.of_group(groups[0]).into_iter().map(|end| on_stud(&vehicle, end)).collect();
                assert_eq!(ends.len(), 1, "{id}: an end of {name} is at one terminal: {ends:?}");
                ends.into_iter().next().expect("one")
            });
            let wanted = BTreeSet::from([conductor.from, conductor.to].map(|end| on_stud(&vehicle, end)));
            assert_eq!(BTreeSet::from(reached), wanted, "{id}: {name}");
        }
        // Of parts: each pin's contact reaches what hangs on this pin, and nothing else.
        let mut pins: BTreeMap<(ConnectorId, u8), usize> = BTreeMap::new();
        for part in &vehicle.parts {
            for pin in pins_of(&part.kind) {
                *pins.entry((part.connector, pin)).or_insert(0) += 1;
            }
        }
        for crossing in &diagram.crossings {
            if vehicle.connector(crossing.connector).mate != Mate::Pins {
                continue;
            }
            let inner = if crossing.half_above == Half::Loom { crossing.lower } else { crossing.upper };
            let groups: Vec<usize> = drawn.touched(inner).into_iter().collect();
            assert_eq!(groups.len(), 1, "{id}: {crossing:?}");
            let end = End::Cavity(crossing.connector, Half::Mate, crossing.cavity);
            let ends = drawn.of_group(groups[0]);
            assert!(ends.iter().all(|other| *other == end), "{id}: {end:?} is joined with {ends:?}");
            let count = pins.get(&(crossing.connector, crossing.cavity)).copied().unwrap_or(0);
            // A box has each pin once, and the contact itself is one more.
            let is_box = diagram.symbols.iter().any(|symbol| {
                symbol.kind == SymbolKind::Box && symbol.terminals.iter().any(|terminal| terminal.0 == end)
            });
            let count = if is_box { 1 } else { count };
            assert_eq!(ends.len(), count + 1, "{id}: what hangs on {end:?}");
        }
    }
}

/// Ring terminals on one stud are one terminal, the first of them.
fn on_stud(vehicle: &Vehicle, end: End) -> End {
    let End::Eyelet(id) = end else { return end };
    let stud = vehicle.eyelets[id.index()].stud;
    let first = vehicle.eyelets.iter().position(|eyelet| eyelet.stud == stud).expect("it is one of them");
    End::Eyelet(EyeletId::at(first))
}

/// The pins of a part, each as often as something in it hangs on it.
fn pins_of(kind: &PartKind) -> Vec<u8> {
    match kind {
        PartKind::Lamp { pins, .. }
        | PartKind::Switch { pins, .. }
        | PartKind::Diode { pins }
        | PartKind::Resistor { pins, .. }
        | PartKind::Motor { pins, .. } => vec![pins.0, pins.1],
        PartKind::Led(led) => vec![led.pins.0, led.pins.1],
        PartKind::Screen(screen) => vec![screen.feed, screen.ground],
        PartKind::Relay(relay) => {
            let throws = [relay.normally_open, relay.normally_closed].into_iter().flatten();
            [relay.coil.0, relay.coil.1, relay.common].into_iter().chain(throws).collect()
        }
        PartKind::Latch(latch) => {
            vec![latch.feed, latch.ajar, latch.home, latch.ground, latch.ground, latch.ground]
        }
        PartKind::Module(_) => Vec::new(),
    }
}

#[test]
fn lines_are_upright_or_level_and_never_run_on_one_another() {
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        let pieces: Vec<(Thing, Spot, Spot)> = diagram.pieces().collect();
        for (thing, from, to) in &pieces {
            assert!((from.x == to.x) != (from.y == to.y), "{id}: {thing:?} from {from:?} to {to:?}");
        }
        for (at, one) in pieces.iter().enumerate() {
            for other in &pieces[..at] {
                let upright = [one, other].map(|piece| piece.1.x == piece.2.x);
                if upright[0] != upright[1] || one.0 == other.0 {
                    continue;
                }
                let along = |spot: Spot| if upright[0] { (spot.x, spot.y) } else { (spot.y, spot.x) };
                let ((here, one_from), (_, one_to)) = (along(one.1), along(one.2));
                let ((there, other_from), (_, other_to)) = (along(other.1), along(other.2));
                let shared = one_from.max(one_to).min(other_from.max(other_to))
                    - one_from.min(one_to).max(other_from.min(other_to));
                // Side by side they keep a distance that can be seen.
                assert!(shared <= 0.0 || (here - there).abs() >= 5.0, "{id}: {one:?} runs on {other:?}");
            }
        }
        // No conductor begins, bends or ends on another: that would look like a joint.
        for wire in &diagram.wires {
            for other in diagram.wires.iter().filter(|other| other.conductor != wire.conductor) {
                let inner = |spot: &&Spot| {
                    **spot != other.points[0] && **spot != other.points[other.points.len() - 1]
                };
                let on_it = wire.points.iter().filter(inner).find(|spot| on_line(**spot, &other.points));
                assert_eq!(on_it, None, "{id}: {:?} touches {:?}", wire.conductor, other.conductor);
            }
        }
    }
}

#[test]
fn lines_cross_seldom() {
    for (vehicle, diagram) in all() {
        let listed = CROSSINGS.iter().find(|(id, _)| *id == vehicle.id).map(|(_, most)| *most);
        let most = listed.unwrap_or(vehicle.conductors.len().div_ceil(2));
        let crossed = diagram.crossed();
        assert!(
            crossed <= most,
            "{}: lines cross {crossed} times and may {most} times; look at the picture, and if it is as good as this \
             vehicle allows, write (\"{0}\", {crossed}) in CROSSINGS of tests/shelf/diagram.rs",
            vehicle.id
        );
    }
}

#[test]
fn nothing_is_written_over_anything() {
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        let page = Frame { left: 0.0, top: 0.0, right: diagram.width, bottom: diagram.height };
        for (at, label) in diagram.labels.iter().enumerate() {
            let frame = label.frame;
            let inside = page.contains(Spot::new(frame.left, frame.top))
                && page.contains(Spot::new(frame.right, frame.bottom));
            assert!(inside, "{id}: \"{}\" stands off the page", label.text);
            for other in &diagram.labels[..at] {
                assert!(!frame.overlaps(&other.frame), "{id}: \"{}\" on \"{}\"", label.text, other.text);
            }
            for symbol in &diagram.symbols {
                let is_edge = matches!(symbol.kind, SymbolKind::Box | SymbolKind::Outline);
                assert!(
                    is_edge || !frame.overlaps(&symbol.frame),
                    "{id}: \"{}\" on {:?}",
                    label.text,
                    symbol.thing
                );
            }
            for crossing in &diagram.crossings {
                let on_it = frame.overlaps(&crossing.frame());
                assert!(!on_it, "{id}: \"{}\" on {:?}.{}", label.text, crossing.connector, crossing.cavity);
            }
            for (thing, from, to) in diagram.pieces() {
                // A conductor is drawn 3.6 wide, and no other line is wider.
                let line = Frame {
                    left: from.x.min(to.x) - 1.8,
                    top: from.y.min(to.y) - 1.8,
                    right: from.x.max(to.x) + 1.8,
                    bottom: from.y.max(to.y) + 1.8,
                };
                assert!(!frame.overlaps(&line), "{id}: \"{}\" on a line of {thing:?}", label.text);
            }
            for stroke in strokes(&diagram) {
                assert!(!is_under(stroke, &frame), "{id}: \"{}\" on {stroke:?}", label.text);
            }
        }
        // Nor do symbols stand on one another.
        for (at, symbol) in diagram.symbols.iter().enumerate() {
            for other in &diagram.symbols[..at] {
                let apart = [symbol, other].iter().any(|of| of.kind == SymbolKind::Outline)
                    || !symbol.frame.overlaps(&other.frame);
                assert!(apart, "{id}: {:?} on {:?}", symbol.thing, other.thing);
            }
        }
    }
}

/// Every stroke of every symbol, contact and tick.
fn strokes(diagram: &Diagram) -> impl Iterator<Item = &Stroke> {
    let symbols = diagram.symbols.iter().flat_map(|symbol| &symbol.strokes);
    let crossings = diagram.crossings.iter().flat_map(|crossing| &crossing.strokes);
    symbols.chain(crossings).chain(diagram.ticks.iter().map(|(_, stroke)| stroke))
}

/// Whether a stroke goes through a rectangle.
fn is_under(stroke: &Stroke, frame: &Frame) -> bool {
    let points = match stroke {
        Stroke::Line(points) | Stroke::Dashes(points) | Stroke::Shape(points) => points,
        Stroke::Circle { centre, radius, .. } => {
            let nearest =
                Spot::new(centre.x.clamp(frame.left, frame.right), centre.y.clamp(frame.top, frame.bottom));
            return (nearest.x - centre.x).hypot(nearest.y - centre.y) < *radius;
        }
    };
    points.windows(2).any(|pair| {
        // The share of the way at which it comes in and goes out, across and down.
        let (mut comes_in, mut goes_out) = (0.0_f64, 1.0_f64);
        for (from, to, least, most) in
            [(pair[0].x, pair[1].x, frame.left, frame.right), (pair[0].y, pair[1].y, frame.top, frame.bottom)]
        {
            if from == to {
                if from <= least || from >= most {
                    return false;
                }
                continue;
            }
            let (one, other) = ((least - from) / (to - from), (most - from) / (to - from));
            comes_in = comes_in.max(one.min(other));
            goes_out = goes_out.min(one.max(other));
        }
        comes_in < goes_out
    })
}

#[test]
fn a_stroke_through_a_word_is_seen() {
    let word = Frame { left: 10.0, top: 10.0, right: 40.0, bottom: 20.0 };
    let line = |from: (f64, f64), to: (f64, f64)| {
        Stroke::Line(vec![Spot::new(from.0, from.1), Spot::new(to.0, to.1)])
    };
    for stroke in [
        line((25.0, 0.0), (25.0, 90.0)),
        line((0.0, 15.0), (90.0, 15.0)),
        line((5.0, 5.0), (45.0, 25.0)),
        line((20.0, 12.0), (22.0, 14.0)),
        Stroke::Circle { centre: Spot::new(5.0, 15.0), radius: 6.0, filled: false },
    ] {
        assert!(is_under(&stroke, &word), "{stroke:?}");
    }
    for stroke in [
        line((9.0, 0.0), (9.0, 90.0)),
        line((10.0, 0.0), (10.0, 90.0)),
        line((0.0, 12.0), (12.0, 0.0)),
        line((0.0, 15.0), (9.0, 15.0)),
        Stroke::Circle { centre: Spot::new(5.0, 5.0), radius: 6.0, filled: false },
    ] {
        assert!(!is_under(&stroke, &word), "{stroke:?}");
    }
}

/// By the titles of the fuses in the vehicle files.
#[test]
fn the_fuses_that_feed_a_part_are_found() {
    for (name, part, fuses) in [
        ("estate", "latch", ["f1"]),
        ("estate", "high-stop", ["f4"]),
        ("hatch", "latch", ["f1"]),
        ("hatch", "rear-screen", ["f3"]),
        ("saloon", "latch", ["f1"]),
        ("saloon", "camera", ["f6"]),
        ("tow", "trailer-inside", ["f9"]),
        ("tow", "latch", ["f1"]),
        ("van", "screen-left", ["f3"]),
        ("van", "fog", ["f5"]),
    ] {
        let vehicle = load_vehicle(name).expect("on the shelf");
        let id = vehicle.parts().find(|(_, of)| of.id == part).map(|(id, _)| id);
        let found: Vec<&str> = feeding_fuses(&vehicle, &[id.unwrap_or_else(|| panic!("{name}: {part}"))])
            .into_iter()
            .map(|fuse| vehicle.fuse(fuse).id.as_str())
            .collect();
        assert_eq!(found, fuses, "{name}: {part}");
    }
}

#[test]
fn the_feed_of_what_is_complained_of_is_found() {
    let feed = |scenario: &Scenario| {
        let diagram = drawn(Language::English, &scenario.vehicle);
        let frame = diagram.feed_of(&scenario.vehicle, &scenario.trials)?;
        let symbol = diagram.symbols.iter().find(|symbol| symbol.frame == frame)?;
        match symbol.thing {
            Thing::Fuse(id) => Some(scenario.vehicle.fuse(id).id.clone()),
            _ => None,
        }
    };
    for (name, fuse) in
        [("tailgate-ignores-its-key", "f1"), ("no-brake-lights", "f4"), ("boot-stays-shut", "f1")]
    {
        let scenario = load(name).expect("a sound file").scenario;
        assert_eq!(feed(&scenario).as_deref(), Some(fuse), "{name}");
    }
    for entry in std::fs::read_dir(Path::new(ROOT).join("scenarios")).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.to_string_lossy().ends_with(".scenario.ron") {
            let scenario = load(&path.to_string_lossy()).expect("a sound file").scenario;
            let is_of_a_circuit = scenario.trials.iter().any(|trial| !matches!(trial, Trial::Rest { .. }));
            assert_eq!(feed(&scenario).is_some(), is_of_a_circuit, "{}", scenario.id);
        }
    }
}

/// Where something leads on to, downwards.
#[test]
fn every_conductor_lies_on_a_way_down_from_the_feed_and_to_a_ground() {
    for (vehicle, diagram) in all() {
        let drawn = Drawn::of(&vehicle, &diagram);
        // Groups, and what leads from one to another that lies below it.
        let mut falls: Vec<(usize, usize)> = Vec::new();
        let group = |spot: Spot| drawn.touched(spot).into_iter().next().expect("a group");
        let mut ways: BTreeMap<ConductorId, (usize, usize)> = BTreeMap::new();
        for wire in &diagram.wires {
            let (first, last) = (wire.points[0], wire.points[wire.points.len() - 1]);
            assert!(first.y < last.y, "{}: {:?} leads down", vehicle.id, wire.conductor);
            let way = (group(first), group(last));
            falls.push(way);
            ways.insert(wire.conductor, way);
        }
        falls.extend(diagram.crossings.iter().map(|crossing| (group(crossing.upper), group(crossing.lower))));
        let mut sinks = BTreeSet::new();
        let mut sources = BTreeSet::new();
        for symbol in &diagram.symbols {
            for (end, spot) in &symbol.terminals {
                match end {
                    End::BatteryPlus => sources.insert(group(*spot)),
                    End::Body => sinks.insert(group(*spot)),
                    End::Eyelet(_) if symbol.kind == SymbolKind::Stud => sinks.insert(group(*spot)),
                    _ => false,
                };
                // Within an element or a module: from each upper terminal to each lower one.
                for (_, other) in symbol.terminals.iter().filter(|other| other.1.y > spot.y) {
                    falls.push((group(*spot), group(*other)));
                }
            }
        }
        let reach = |from: &BTreeSet<usize>, down: bool| {
            let mut reached = from.clone();
            loop {
                let more: Vec<usize> = falls
                    .iter()
                    .map(|&(above, below)| if down { (above, below) } else { (below, above) })
                    .filter(|(from, to)| reached.contains(from) && !reached.contains(to))
                    .map(|(_, to)| to)
                    .collect();
                if more.is_empty() {
                    return reached;
                }
                reached.extend(more);
            }
        };
        let (fed, grounded) = (reach(&sources, true), reach(&sinks, false));
        for (conductor, (above, below)) in ways {
            let name = &vehicle.conductor(conductor).id;
            assert!(fed.contains(&above), "{}: a way falls from the feed to {name}", vehicle.id);
            assert!(grounded.contains(&below), "{}: a way falls from {name} to a ground", vehicle.id);
        }
    }
}

#[test]
fn a_click_finds_what_is_drawn_there() {
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        for crossing in &diagram.crossings {
            let y = (crossing.upper.y + crossing.lower.y) / 2.0;
            let thing = Thing::Cavity(crossing.connector, crossing.cavity);
            assert_eq!(diagram.hit(crossing.upper.x, y), Some(thing), "{id}");
        }
        for symbol in &diagram.symbols {
            if matches!(symbol.kind, SymbolKind::Element(_) | SymbolKind::Fuse | SymbolKind::Stud) {
                let frame = symbol.frame;
                let found = diagram.hit((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0);
                assert_eq!(found, Some(symbol.thing), "{id}");
            }
        }
        for label in diagram.labels.iter().filter(|label| label.thing.is_some()) {
            assert_eq!(
                diagram.hit(label.frame.left + 1.0, label.spot.y - 1.0),
                label.thing,
                "{id}: {}",
                label.text
            );
        }
        for wire in &diagram.wires {
            // Somewhere nothing smaller lies on it.
            let mut found = 0;
            for (pair, share) in
                wire.points.windows(2).flat_map(|pair| (1..8).map(move |n| (pair, f64::from(n) / 8.0)))
            {
                let along = |from: f64, to: f64| from + share * (to - from);
                match diagram.hit(along(pair[0].x, pair[1].x), along(pair[0].y, pair[1].y)) {
                    Some(Thing::Conductor(conductor)) if conductor == wire.conductor => found += 1,
                    _ => {}
                }
            }
            assert!(found > 0, "{id}: {}", vehicle.conductor(wire.conductor).id);
        }
        let modules: Vec<PartId> = vehicle.modules().map(|(part, _)| part).collect();
        for part in modules {
            let is_it = |symbol: &&probeworthy::diagram::Symbol| symbol.thing == Thing::Part(part);
            let frame = diagram.symbols.iter().find(is_it).expect("a module is drawn").frame;
            assert_eq!(
                diagram.hit(frame.right - 1.0, (frame.top + frame.bottom) / 2.0),
                Some(Thing::Part(part))
            );
        }
        assert_eq!(diagram.hit(-10.0, -10.0), None, "{id}");
        assert_eq!(diagram.hit(diagram.width - 1.0, 1.0), None, "{id}");
    }
}

/// IEC 60757 (published): BK BN RD OG YE GN BU VT GY WH PK GD TQ SR, and GNYE.
const LETTERS: [&str; 15] =
    ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"];
/// DIN 72552 (published): 30 battery feed, 31 ground, 85 and 86 the coil's end and begin, 87 the contact that makes, 87a
/// the one that breaks; a relay's moving contact is its 30.
const TERMINALS: [&str; 6] = ["30", "31", "85", "86", "87", "87a"];

#[test]
fn letters_and_numbers_are_those_of_the_standards() {
    for (vehicle, diagram) in all() {
        for label in diagram.labels.iter().filter(|label| label.tone == Tone::Wire) {
            let is_section = label.text.parse::<f64>().is_ok();
            let are_letters = label.text.split('/').all(|letters| LETTERS.contains(&letters));
            assert!(is_section || are_letters, "{}: {}", vehicle.id, label.text);
        }
        for label in &diagram.labels {
            let terminal = label.text.split_once(" (").map(|(_, rest)| rest.trim_end_matches(')'));
            if let (Some(Thing::Cavity(..)), Some(terminal)) = (label.thing, terminal) {
                assert!(TERMINALS.contains(&terminal), "{}: {}", vehicle.id, label.text);
            }
        }
    }
}

#[test]
fn a_relay_bears_its_terminals_with_the_coil_s_begin_above() {
    let vehicle =
        load_vehicle(&format!("{ROOT}/tests/vehicles/proving.vehicle.ron")).expect("a sound vehicle");
    let diagram = drawn(Language::English, &vehicle);
    let connector =
        vehicle.connectors.iter().position(|of| of.id == "screen-relay").map(ConnectorId::at).expect("it");
    let of = |text: &str| {
        let is_it = |label: &&probeworthy::diagram::Label| {
            matches!(label.thing, Some(Thing::Cavity(id, _)) if id == connector) && label.text == text
        };
        diagram.labels.iter().find(is_it).unwrap_or_else(|| panic!("no {text}")).spot
    };
    // Pins as in the vehicle's file: coil (1, 2), common 3, normally open 4, normally closed 5.
    assert!(of("1 (86)").y < of("2 (85)").y, "the coil's begin is fed");
    assert!(of("3 (30)").y < of("4 (87)").y && of("4 (87)").y == of("5 (87a)").y, "the contact");
}

#[test]
fn the_page_is_one_whole_svg_with_its_texts_and_nothing_from_outside() {
    for (vehicle, diagram) in all() {
        let svg = diagram_svg(&vehicle, &diagram);
        let document = roxmltree::Document::parse(&svg).unwrap_or_else(|why| panic!("{}: {why}", vehicle.id));
        let root = document.root_element();
        assert_eq!(
            (root.tag_name().name(), root.tag_name().namespace()),
            ("svg", Some("http://www.w3.org/2000/svg"))
        );
        let texts: Vec<&str> = root
            .descendants()
            .filter(|node| node.has_tag_name("text") || node.tag_name().name() == "text")
            .filter(roxmltree::Node::is_element)
            .filter_map(|node| node.text())
            .collect();
        let labels: Vec<&str> = diagram.labels.iter().map(|label| label.text.as_str()).collect();
        assert_eq!(texts, labels, "{}", vehicle.id);
        let styles = root.descendants().filter(|node| node.tag_name().name() == "style").count();
        assert_eq!(styles, 1, "{}: one stylesheet", vehicle.id);
        for node in root.descendants().filter(roxmltree::Node::is_element) {
            let name = node.tag_name().name();
            assert!(!["script", "image", "use", "a", "link", "foreignObject"].contains(&name), "{name}");
            assert!(
                node.attributes().all(|attribute| attribute.name() != "href"),
                "{name} refers to something"
            );
        }
        assert!(!svg.contains("url(") && !svg.contains("@import"), "{}: nothing from outside", vehicle.id);
        let again = Language::ALL.map(|language| diagram_svg(&vehicle, &drawn(language, &vehicle)));
        assert!(again.contains(&svg), "{}: the same bits again", vehicle.id);
    }
}

#[test]
fn what_an_author_writes_cannot_break_the_page() {
    let mut vehicle = load_vehicle("estate").expect("a sound vehicle");
    let nasty = "<b>&\"' ]]></svg><script>";
    vehicle.title = Title::new(nasty);
    vehicle.stations[0].title = Title::new(nasty);
    vehicle.conductors[0].title = Title::new(nasty);
    let svg = diagram_svg(&vehicle, &drawn(Language::English, &vehicle));
    let document = roxmltree::Document::parse(&svg).expect("still XML");
    let heading = document.descendants().filter(|node| node.text() == Some(nasty)).count();
    assert!(heading >= 1, "the title stands there as it was written");
    assert!(document.descendants().all(|node| node.tag_name().name() != "script"));
}

#[test]
fn a_renderer_draws_every_line_and_symbol() {
    use resvg::{tiny_skia, usvg};
    for (vehicle, diagram) in all() {
        let id = &vehicle.id;
        let tree = usvg::Tree::from_str(&diagram_svg(&vehicle, &diagram), &usvg::Options::default())
            .unwrap_or_else(|why| panic!("{id}: {why}"));
        let size = tree.size();
        assert!((f64::from(size.width()) - diagram.width).abs() < 1.0, "{id}: as wide as it says");
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a page of some thousand units"
        )]
        let (wide, high) = (diagram.width.ceil() as u32, diagram.height.ceil() as u32);
        let mut picture = tiny_skia::Pixmap::new(wide, high).expect("memory for a picture");
        resvg::render(&tree, tiny_skia::Transform::identity(), &mut picture.as_mut());
        let paper = picture.pixel(1, 1).expect("a corner");
        // Something other than paper within two units of a place.
        let inked = |spot: Spot| {
            (-2..=2).any(|dx| {
                (-2..=2).any(|dy| {
                    #[expect(
                        clippy::cast_possible_truncation,
                        clippy::cast_sign_loss,
                        reason = "on the page"
                    )]
                    let at = ((spot.x + f64::from(dx)) as u32, (spot.y + f64::from(dy)) as u32);
                    picture.pixel(at.0, at.1).is_some_and(|pixel| pixel != paper)
                })
            })
        };
        for (thing, from, to) in diagram.pieces() {
            let middle = Spot::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
            assert!(inked(middle), "{id}: a line of {thing:?} at {middle:?}");
        }
        let strokes = diagram.symbols.iter().flat_map(|symbol| &symbol.strokes);
        for stroke in strokes.chain(diagram.crossings.iter().flat_map(|crossing| &crossing.strokes)) {
            let spot = match stroke {
                Stroke::Line(points) | Stroke::Dashes(points) | Stroke::Shape(points) => points[0],
                Stroke::Circle { centre, radius, .. } => Spot::new(centre.x + radius, centre.y),
            };
            assert!(inked(spot), "{id}: {stroke:?}");
        }
        assert!(!inked(Spot::new(diagram.width - 4.0, 4.0)), "{id}: paper where nothing is drawn");
    }
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let ran = Command::new(env!("CARGO_BIN_EXE_probeworthy")).args(arguments).current_dir(ROOT).output();
    let ran = ran.expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (ran.status.code().unwrap_or(-1), text(ran.stdout), text(ran.stderr))
}

#[test]
fn the_command_takes_names_and_files_of_vehicles_and_scenarios() {
    let (code, by_scenario, errors) = run(&["diagram"]);
    assert_eq!((code, errors.as_str()), (0, ""));
    for name in ["estate", "assets/vehicles/estate.vehicle.ron", "tailgate-ignores-its-key"] {
        let (code, out, _) = run(&["diagram", name]);
        assert_eq!((code, &out), (0, &by_scenario), "{name}");
    }
    let file = std::env::temp_dir().join(format!("diagram-{}.svg", std::process::id()));
    let (code, out, _) =
        run(&["diagram", "tests/vehicles/proving.scenario.ron", "--svg", &file.to_string_lossy()]);
    assert_eq!((code, out.as_str()), (0, ""));
    let written = std::fs::read_to_string(&file).expect("a file");
    std::fs::remove_file(&file).expect("it was there");
    assert!(written.starts_with("<svg ") && written.contains("Proving van"));
    let (code, out, errors) = run(&["diagram", "estat"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(errors.contains("estat"), "{errors}");
}

/// Wires have the colours of the palette, every letter of IEC 60757 its own.
#[test]
fn wires_are_drawn_in_the_colours_of_the_palette() {
    const LETTERS: [&str; 14] =
        ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"];
    let palette = include_str!("../../assets/palette.ron");
    let mut seen: Vec<&str> = Vec::new();
    let vehicle = load_vehicle("estate").expect("on the shelf");
    let diagram = drawn(Language::English, &vehicle);
    for letters in LETTERS {
        let line =
            palette.lines().find_map(|line| line.trim().strip_prefix(&format!("\"wire-{letters}\": \"")));
        let colour = line.and_then(|rest| rest.split('"').next()).unwrap_or_else(|| panic!("no {letters}"));
        assert!(!seen.contains(&colour), "{letters} is like another");
        seen.push(colour);
        let mut vehicle = vehicle.clone();
        vehicle.conductors.iter_mut().for_each(|one| one.colour = letters.to_owned());
        let svg = diagram_svg(&vehicle, &diagram);
        let cores = svg.matches("class=\"core\"").count();
        assert!(cores >= vehicle.conductors.len(), "{cores} wires");
        assert_eq!(
            svg.matches(&format!("class=\"core\" style=\"stroke:{colour}\"")).count(),
            cores,
            "{letters}"
        );
    }
}
