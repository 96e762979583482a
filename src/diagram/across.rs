//! Where everything stands from left to right.

use std::collections::BTreeMap;

use super::block::Face;
use super::down::bar_contact;
use super::graph::Kind;
use super::layers::Layers;
use super::notes::{self, Room, SMALL};
use super::simplex::{Near, Settled, System};
use super::text::widest;
use crate::vehicle::{ConnectorId, Vehicle};

/// Between two nodes: as little as may be, then more where the page would be too high for its width.
const GAPS: [i32; 3] = [9, 15, 21];
/// How many times its height a page should be wide, in hundredths.
const WIDE_PERCENT: i32 = 110;
/// How often the links that come out a little askew are pulled straighter, how far off is a little, and how much
/// more each pull weighs.
const PULLS: usize = 6;
const LITTLE: i32 = 40;
const PULL: i32 = 4;
/// From a box's edge to its first pin.
const MARGIN: i32 = 8;

/// Places of a block's outline and columns.
#[derive(Clone, Debug, Default)]
pub(super) struct BlockPlace {
    pub(super) left: i32,
    pub(super) right: i32,
    /// The element of each column and which of its columns it is, and where it stands.
    pub(super) columns: Vec<((usize, usize), i32)>,
}

/// Places from left to right.
#[derive(Debug, Default)]
pub(super) struct Across {
    pub(super) nodes: Vec<i32>,
    pub(super) ports: Vec<i32>,
    pub(super) blocks: BTreeMap<ConnectorId, BlockPlace>,
    /// By node: how much room it has.
    pub(super) rooms: Vec<Room>,
    pub(super) width: i32,
}

/// An unknown and what is added to it.
type Place = (usize, i32);

/// The unknowns of a node.
struct Unknowns {
    left: Place,
    right: Place,
    middle: Place,
}

impl Across {
    /// The places, as wide as suits the height that `height` gives them.
    pub(super) fn of(vehicle: &Vehicle, layers: &Layers, height: impl Fn(&Self) -> i32) -> Self {
        let mut plan = Plan::of(vehicle, layers, GAPS[0]);
        let mut across = plan.across();
        for gap in &GAPS[1..] {
            if 100 * across.width >= WIDE_PERCENT * height(&across) {
                break;
            }
            plan = Plan::of(vehicle, layers, *gap);
            across = plan.across();
        }
        for _ in 0..PULLS {
            let bent = |&(at, mate, _): &(usize, usize, Near)| {
                let aside = (across.ports[at] - across.ports[mate]).abs();
                // What ends on a bar is straight anyway.
                (1..LITTLE).contains(&aside) && bar_contact(layers, &across, at).is_none()
            };
            let pulls: Vec<Near> = plan.links.iter().filter(|link| bent(link)).map(|link| link.2).collect();
            if pulls.is_empty() {
                break;
            }
            pulls.into_iter().for_each(|near| plan.settled.pull(near, PULL));
            plan.settled.settle();
            across = plan.across();
        }
        across
    }
}

/// What is to be placed, and the distances that it keeps.
struct Plan {
    settled: Settled,
    nodes: Vec<Unknowns>,
    ports: Vec<Place>,
    blocks: Vec<(ConnectorId, Columns)>,
    rooms: Vec<Room>,
    /// Each link: the ports at its upper and at its lower end, and what brings them together.
    links: Vec<(usize, usize, Near)>,
}

impl Plan {
    fn of(vehicle: &Vehicle, layers: &Layers, gap: i32) -> Self {
        let graph = &layers.graph;
        let mut system = System::default();
        let mut rooms: Vec<Room> =
            (0..graph.nodes.len()).map(|node| notes::room(vehicle, graph, node)).collect();
        name_rows(vehicle, layers, &mut rooms);
        let mut ports: Vec<Place> = vec![(0, 0); graph.ports.len()];
        let mut blocks = Vec::new();
        let mut nodes = Vec::with_capacity(graph.nodes.len());
        for (at, node) in graph.nodes.iter().enumerate() {
            if let Kind::Block(id) = node.kind {
                let (unknowns, of_block) = block(vehicle, layers, at, &mut system, &mut ports);
                blocks.push((id, of_block));
                rooms[at].height = notes::block_height(vehicle, graph, at, &graph.blocks[&id]);
                nodes.push(unknowns);
                continue;
            }
            let middle = system.unknown();
            for port in node.top.iter().chain(&node.bottom) {
                ports[*port] = (middle, 0);
            }
            nodes.push(Unknowns {
                left: (middle, -rooms[at].left),
                right: (middle, rooms[at].right),
                middle: (middle, 0),
            });
        }
        for layer in &layers.layers {
            for pair in layer.windows(2) {
                let (one, other) = (nodes[pair[0]].right, nodes[pair[1]].left);
                system.apart(one.0, other.0, gap + one.1 - other.1, 0);
            }
        }
        let mut links = Vec::new();
        for (at, port) in graph.ports.iter().enumerate() {
            let (Face::Bottom, Some(mate)) = (port.face, port.mate) else { continue };
            let weight = match (graph.nodes[port.node].kind, graph.nodes[graph.ports[mate].node].kind) {
                // The rail is as long as it has to be.
                (Kind::Rail, _) => 0,
                (Kind::Pass, Kind::Pass) => 12,
                (Kind::Pass, _) | (_, Kind::Pass) => 8,
                (one, other) if one.is_point() || other.is_point() => 3,
                _ => 6,
            };
            links.push((at, mate, system.near(ports[at], ports[mate], weight)));
        }
        keep_together(layers, &nodes, &mut system);
        Self { settled: system.settled(), nodes, ports, blocks, rooms, links }
    }

    fn across(&self) -> Across {
        let at = self.settled.places();
        let place = |(unknown, add): Place| at[unknown] + add;
        let least = self.nodes.iter().map(|node| place(node.left)).min().unwrap_or(0);
        let place = |here: Place| place(here) - least;
        let block = |(id, ((left, right), columns)): &(ConnectorId, Columns)| {
            let columns = columns.iter().map(|(column, at)| (*column, place(*at))).collect();
            (*id, BlockPlace { left: place(*left), right: place(*right), columns })
        };
        Across {
            nodes: self.nodes.iter().map(|node| place(node.middle)).collect(),
            ports: self.ports.iter().map(|port| place(*port)).collect(),
            blocks: self.blocks.iter().map(block).collect(),
            rooms: self.rooms.clone(),
            width: self.nodes.iter().map(|node| place(node.right)).max().unwrap_or(0),
        }
    }
}

/// A weak pull between neighbours, so that what nothing else holds does not stand far out.
fn keep_together(layers: &Layers, nodes: &[Unknowns], system: &mut System) {
    let (left, right) = (system.unknown(), system.unknown());
    for layer in &layers.layers {
        if let (Some(first), Some(last)) = (layer.first(), layer.last()) {
            let (first, last) = (nodes[*first].left, nodes[*last].right);
            system.apart(left, first.0, -first.1, 0);
            system.apart(last.0, right, last.1, 0);
        }
    }
    system.apart(left, right, 0, 2);
}

/// Room for an in-line connector's names at the left end of each of its rows.
fn name_rows(vehicle: &Vehicle, layers: &Layers, rooms: &mut [Room]) {
    for layer in &layers.layers {
        for first in row_beginnings(layers, layer) {
            let Kind::Joint(id, _) = layers.graph.nodes[first].kind else { continue };
            let connector = vehicle.connector(id);
            let names = [&connector.id, &connector.mate_id].map(|name| joint_name_lines(name));
            let wide = names.iter().map(|lines| widest(lines, SMALL)).max().unwrap_or(0);
            rooms[first].left = rooms[first].left.max(8 + wide);
            let high = names.iter().map(|lines| notes::lines(lines.len())).max().unwrap_or(0);
            rooms[first].height = rooms[first].height.max(2 * high + 6);
        }
    }
}

/// A half's name beside its row.
pub(super) fn joint_name_lines(name: &str) -> Vec<String> {
    super::text::wrapped(name, SMALL, 40)
}

/// The nodes of a layer with which a row of one in-line connector's cavities begins.
pub(super) fn row_beginnings(layers: &Layers, layer: &[usize]) -> Vec<usize> {
    let of = |node: usize| match layers.graph.nodes[node].kind {
        // Two halves that lie the other way round are another row.
        Kind::Joint(id, n) => Some((id, layers.graph.halves.get(&(id, n)).copied())),
        _ => None,
    };
    let mut beginnings = Vec::new();
    let mut before = None;
    for &node in layer {
        let here = of(node);
        if here.is_some() && here != before {
            beginnings.push(node);
        }
        before = here;
    }
    beginnings
}

type Columns = ((Place, Place), Vec<((usize, usize), Place)>);

/// The unknowns of a block: its edges, its columns, its pins.
fn block(
    vehicle: &Vehicle,
    layers: &Layers,
    node: usize,
    system: &mut System,
    port_places: &mut [Place],
) -> (Unknowns, Columns) {
    let graph = &layers.graph;
    let Kind::Block(id) = graph.nodes[node].kind else { unreachable!("only blocks have columns") };
    let block = &graph.blocks[&id];
    let (left, right) = (system.unknown(), system.unknown());
    let (title, name) = notes::block_lines(vehicle, block);
    let title = widest(&title, notes::LETTERS).max(widest(&name, SMALL));
    let pin_of = |port: usize| graph.ports[port].pin;
    let mut columns: Vec<((usize, usize), Place)> = Vec::new();
    if block.elements.is_empty() {
        system.apart(left, right, title + 2 * MARGIN, 1);
        for face in [Face::Top, Face::Bottom] {
            let mut before: Option<(usize, Room)> = None;
            for &port in graph.nodes[node].ports(face) {
                let here = system.unknown();
                let room = notes::pin_room(block, pin_of(port));
                match before {
                    None => system.apart(left, here, room.left.max(MARGIN), 0),
                    Some((before, of)) => system.apart(before, here, of.right + room.left, 0),
                }
                port_places[port] = (here, 0);
                before = Some((here, room));
            }
            if let Some((last, room)) = before {
                system.apart(last, right, room.right.max(MARGIN), 0);
            }
        }
    } else {
        let plain = block.is_plain();
        let margin = if plain { 0 } else { 4 };
        let top: Vec<u8> = graph.nodes[node].top.iter().map(|port| pin_of(*port)).collect();
        let mut before: Option<(usize, i32)> = None;
        for column in block.columns(&top) {
            let here = system.unknown();
            let mut room = notes::element_room(vehicle, block, column.0);
            let wide = block.elements[column.0].upper.len().max(block.elements[column.0].lower.len());
            if column.1 + 1 < wide {
                // What is written stands right of the last column.
                room.right = 12;
            }
            match before {
                None => system.apart(left, here, margin + room.left, 1),
                Some((before, right)) if column.1 > 0 => system.rigid(before, here, right + 12),
                Some((before, right)) => system.apart(before, here, right + room.left + 2, 1),
            }
            columns.push((column, (here, 0)));
            before = Some((here, room.right));
        }
        let last = before.map_or(left, |(last, _)| last);
        let beyond = before.map_or(0, |(_, right)| right);
        let title = if block.elements.len() == 1 { 0 } else { title + 6 };
        system.apart(last, right, beyond + margin + title, 1);
        pins(layers, node, &columns, (left, right), system, port_places);
    }
    let unknowns = Unknowns { left: (left, 0), right: (right, 0), middle: (left, 0) };
    (unknowns, (((left, 0), (right, 0)), columns))
}

/// The pins of a block of elements: at their column, or free between their columns where they have several.
fn pins(
    layers: &Layers,
    node: usize,
    columns: &[((usize, usize), Place)],
    (left, right): (usize, usize),
    system: &mut System,
    port_places: &mut [Place],
) {
    let graph = &layers.graph;
    let Kind::Block(id) = graph.nodes[node].kind else { return };
    let block = &graph.blocks[&id];
    let plain_columns: Vec<(usize, usize)> = columns.iter().map(|(column, _)| *column).collect();
    for face in [Face::Top, Face::Bottom] {
        let mut before: Option<(usize, i32)> = None;
        for &port in graph.nodes[node].ports(face) {
            let room = notes::pin_room(block, graph.ports[port].pin);
            let reached = block.reaches(&plain_columns, graph.ports[port].pin);
            let here = match reached[..] {
                [only] => columns[only].1.0,
                [first, .., last] => {
                    let here = system.unknown();
                    system.apart(columns[first].1.0, here, 0, 1);
                    system.apart(here, columns[last].1.0, 0, 1);
                    here
                }
                // A pin that belongs to no element.
                [] => {
                    let here = system.unknown();
                    system.apart(left, here, room.left, 0);
                    system.apart(here, right, room.right, 0);
                    here
                }
            };
            if let Some((before, width)) = before {
                system.apart(before, here, width + room.left, 0);
            }
            port_places[port] = (here, 0);
            before = Some((here, room.right));
        }
    }
}
