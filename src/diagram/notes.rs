//! What is written beside each node, and how much room it takes.

use super::block::{Block, Face, Figure};
use super::graph::{Graph, Kind};
use super::text::{widest, width, wrapped};
use crate::vehicle::{Conductor, Vehicle};

/// Sizes of letters, and from one line to the next.
pub(super) const LETTERS: i32 = 10;
pub(super) const SMALL: i32 = 8;
pub(super) const LINE: i32 = 11;
/// Between two pins' names, more than a blank, so that they are not read as one.
const BETWEEN_NAMES: i32 = 8;
/// Between a line and what is written beside it.
pub(super) const BESIDE: i32 = 5;
/// How wide a column of text beside a symbol may become.
const COLUMN: i32 = 58;
/// From a symbol's middle to its edge.
pub(super) const HALF_SYMBOL: i32 = 13;
/// From one station's tick to the next.
pub(super) const TICK: i32 = 10;
/// Heights of a block's rows: pins, a bar that joins elements, elements.
pub(super) const PIN_ROW: i32 = 16;
pub(super) const BAR_ROW: i32 = 8;
pub(super) const ELEMENT_ROW: i32 = 40;

/// Room around a node's middle line, and its height.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Room {
    pub(super) left: i32,
    pub(super) right: i32,
    pub(super) height: i32,
}

/// The lines beside a conductor: its colour, its cross-section.
pub(super) fn wire_lines(conductor: &Conductor) -> [String; 2] {
    [conductor.colour.clone(), format!("{}", conductor.square_millimetres)]
}

/// How many stations a conductor passes.
pub(super) fn station_count(conductor: &Conductor) -> i32 {
    i32::try_from(conductor.runs.iter().filter(|run| run.station.is_some()).count()).unwrap_or(0)
}

/// The lines beside a symbol: the title, and names in files below it.
pub(super) fn title_lines(title: &str) -> Vec<String> {
    wrapped(title, LETTERS, COLUMN)
}

/// A name in files, in small letters.
pub(super) fn name_lines(name: &str) -> Vec<String> {
    wrapped(name, SMALL, COLUMN)
}

/// The room of text beside a symbol: title, then a name.
fn beside(title: &str, name: &str) -> (i32, i32) {
    let (title, name) = (title_lines(title), name_lines(name));
    let wide = widest(&title, LETTERS).max(widest(&name, SMALL));
    let high = lines(title.len()) + lines(name.len());
    (wide, high)
}

pub(super) fn lines(count: usize) -> i32 {
    LINE * i32::try_from(count).unwrap_or(0)
}

/// The room of a node that is no block.
pub(super) fn room(vehicle: &Vehicle, graph: &Graph, node: usize) -> Room {
    match graph.nodes[node].kind {
        Kind::Pass | Kind::Turn(_) => Room { left: 5, right: 5, height: 0 },
        Kind::Tie(_) => Room { left: 6, right: 6, height: 6 },
        Kind::Rail => Room { left: 6, right: 6, height: 4 },
        Kind::Wire(id) => {
            let conductor = vehicle.conductor(id);
            let wide = widest(&wire_lines(conductor), LETTERS);
            let height = 2 * LINE + 6 + TICK * station_count(conductor);
            Room { left: 5, right: BESIDE + wide, height }
        }
        Kind::Fuse(id) => {
            let fuse = vehicle.fuse(id);
            let (wide, high) = beside(fuse.title.written(), &format!("{} A", fuse.rating_amps));
            Room { left: 8, right: 9 + wide, height: high.max(38) }
        }
        Kind::Joint(_, cavity) => {
            Room { left: 6, right: BESIDE + 2 + width(&cavity.to_string(), SMALL), height: 30 }
        }
        Kind::Splice(id) => {
            let name = name_lines(&vehicle.splices[id.index()].id);
            Room { left: 6, right: BESIDE + widest(&name, SMALL), height: lines(name.len()) + 2 }
        }
        Kind::Eyelet(id) => {
            let name = name_lines(&vehicle.eyelets[id.index()].id);
            Room { left: 6, right: BESIDE + widest(&name, SMALL), height: lines(name.len()) + 2 }
        }
        Kind::Stud(id) => {
            let stud = vehicle.stud(id);
            let (wide, high) = beside(stud.title.written(), &stud.id);
            Room { left: HALF_SYMBOL, right: HALF_SYMBOL + 4 + wide, height: high.max(34) }
        }
        Kind::Ground(_) => Room { left: HALF_SYMBOL, right: HALF_SYMBOL + 2, height: 34 },
        Kind::Block(_) => Room::default(),
    }
}

/// What is written beside an element: its part's title or, where one part has several, what it is there.
pub(super) fn element_title<'t>(vehicle: &'t Vehicle, block: &Block, element: usize) -> &'t str {
    let of = &block.elements[element];
    let alone = block.elements.iter().filter(|other| other.part == of.part).count() == 1;
    if alone { vehicle.part(of.part).title.written() } else { of.name }
}

/// What is written for a whole block: its one part's title, unless that stands beside its one element, and its
/// connector's name in files.
pub(super) fn block_lines(vehicle: &Vehicle, block: &Block) -> (Vec<String>, Vec<String>) {
    let title = match block.parts[..] {
        [only] if block.elements.len() != 1 => title_lines(vehicle.part(only).title.written()),
        _ => Vec::new(),
    };
    (title, name_lines(&vehicle.connector(block.connector).id))
}

/// The room of each of a block's elements: to the left and to the right of its column.
pub(super) fn element_room(vehicle: &Vehicle, block: &Block, element: usize) -> Room {
    let title = title_lines(element_title(vehicle, block, element));
    let mut right = HALF_SYMBOL + 3 + widest(&title, LETTERS);
    let mut height = lines(title.len());
    if block.elements.len() == 1 {
        let (title, name) = block_lines(vehicle, block);
        right = right.max(HALF_SYMBOL + 3 + widest(&title, LETTERS).max(widest(&name, SMALL)));
        height += lines(title.len() + name.len());
    }
    // What takes up a coil's energy lies on its left.
    let beside = matches!(
        block.elements[element].figure,
        Figure::Coil { diode: true, .. } | Figure::Coil { resistor: true, .. }
    );
    Room { left: HALF_SYMBOL + if beside { 11 } else { 1 }, right, height }
}

/// What stands beside a pin, from above: its number, and its terminal's.
pub(super) fn pin_text(block: &Block, pin: u8) -> String {
    match block.terminals.get(&pin) {
        Some(terminal) => format!("{pin} ({terminal})"),
        None => pin.to_string(),
    }
}

/// The lines for what a box's pin is for.
pub(super) fn pin_name_lines(block: &Block, pin: u8) -> Vec<String> {
    block.names.get(&pin).map(|name| wrapped(name, SMALL, 46)).unwrap_or_default()
}

/// The room of a box's pin to either side.
pub(super) fn pin_room(block: &Block, pin: u8) -> Room {
    let name = widest(&pin_name_lines(block, pin), SMALL);
    let number = width(&pin_text(block, pin), SMALL);
    if block.elements.is_empty() {
        // The name stands under the pin, in the middle; the number at its right.
        let half = name / 2 + BETWEEN_NAMES / 2;
        Room { left: half, right: half.max(BESIDE + number), height: 0 }
    } else {
        Room { left: 6, right: BESIDE + number + 1, height: 0 }
    }
}

/// The height of a block.
pub(super) fn block_height(vehicle: &Vehicle, graph: &Graph, node: usize, block: &Block) -> i32 {
    if block.elements.is_empty() {
        let names = |face: Face| {
            let of = graph.nodes[node].ports(face).iter();
            of.map(|port| pin_name_lines(block, graph.ports[*port].pin).len()).max().unwrap_or(0)
        };
        let (title, name) = block_lines(vehicle, block);
        let rows = names(Face::Top) + names(Face::Bottom) + title.len().min(2) + name.len().min(1);
        return 2 * PIN_ROW + lines(rows) + 10;
    }
    let elements = (0..block.elements.len())
        .map(|element| element_room(vehicle, block, element).height)
        .max()
        .unwrap_or(0)
        .max(ELEMENT_ROW);
    2 * PIN_ROW + elements + bars(block, Face::Top) * BAR_ROW + bars(block, Face::Bottom) * BAR_ROW
}

/// How many rows of bars join elements with shared pins on a face.
pub(super) fn bars(block: &Block, face: Face) -> i32 {
    let count = |pin: &u8| {
        let of = |element: &&super::block::Element| {
            let pins = if face == Face::Top { &element.upper } else { &element.lower };
            pins.contains(pin)
        };
        block.elements.iter().filter(of).count()
    };
    let shared = block.faces.iter().filter(|(pin, on)| **on == face && count(pin) > 1).count();
    match face {
        // What shares an upper pin stands together, so that one row is enough.
        Face::Top => i32::from(shared > 0),
        Face::Bottom => i32::try_from(shared).unwrap_or(0),
    }
}
