//! Where everything stands from above to below: tracks between the layers for what goes sideways.

use std::collections::BTreeMap;

use super::across::Across;
use super::block::Face;
use super::graph::Kind;
use super::layers::Layers;

/// From one track to the next, and from a layer to the nearest track.
const TRACK: i32 = 8;
const BESIDE_TRACKS: i32 = 7;
/// Between two layers without a track.
const BARE: i32 = 5;
/// Two lines on one track keep at least this apart.
const ALONG: i32 = 8;

/// Something that goes sideways between two layers: one link, or a bar that joins the links of a point.
#[derive(Clone, Debug)]
struct Item {
    /// Verticals that come to it from above and from below.
    tops: Vec<i32>,
    bottoms: Vec<i32>,
    low: i32,
    high: i32,
    owner: Owner,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Owner {
    /// The link from this port.
    Link(usize),
    /// The bar on a face of this node.
    Bar(usize, Face),
}

/// A point's bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bar {
    pub(super) low: i32,
    pub(super) high: i32,
    pub(super) y: i32,
}

/// Places from above to below.
#[derive(Debug, Default)]
pub(super) struct Down {
    /// By node: its upper and lower edge.
    pub(super) tops: Vec<i32>,
    pub(super) bottoms: Vec<i32>,
    /// By link, known by its upper port: the track of its sideways part.
    pub(super) tracks: BTreeMap<usize, i32>,
    /// By node and face: its bar.
    pub(super) bars: BTreeMap<(usize, Face), Bar>,
    pub(super) height: i32,
}

impl Down {
    pub(super) fn of(layers: &Layers, across: &Across) -> Self {
        let mut down = Self {
            tops: vec![0; layers.graph.nodes.len()],
            bottoms: vec![0; layers.graph.nodes.len()],
            ..Self::default()
        };
        let mut y = 0;
        for (rank, layer) in layers.layers.iter().enumerate() {
            let high = layer.iter().map(|node| across.rooms[*node].height).max().unwrap_or(0);
            for &node in layer {
                let own = across.rooms[node].height;
                let ground = matches!(layers.graph.nodes[node].kind, Kind::Ground(_) | Kind::Stud(_));
                down.tops[node] = if ground { y } else { y + (high - own) / 2 };
                down.bottoms[node] = down.tops[node] + own;
            }
            y += high;
            if rank + 1 < layers.layers.len() {
                y = down.channel(items(layers, across, layer), y);
            }
        }
        down.height = y;
        down
    }

    /// Gives what goes sideways below `y` its tracks; returns where the next layer begins.
    fn channel(&mut self, items: Vec<Item>, y: i32) -> i32 {
        let items = ordered(items);
        let mut levels: Vec<i32> = Vec::with_capacity(items.len());
        for (at, item) in items.iter().enumerate() {
            let above = items[..at].iter().zip(&levels).filter(|(other, _)| meet(other, item));
            levels.push(above.map(|(_, level)| level + 1).max().unwrap_or(0));
        }
        let count = levels.iter().max().map_or(0, |most| most + 1);
        for (item, level) in items.iter().zip(levels) {
            let track = y + BESIDE_TRACKS + TRACK * level;
            match item.owner {
                Owner::Link(port) => {
                    self.tracks.insert(port, track);
                }
                Owner::Bar(node, face) => {
                    self.bars.insert((node, face), Bar { low: item.low, high: item.high, y: track });
                }
            }
        }
        y + if count == 0 { BARE } else { 2 * BESIDE_TRACKS + TRACK * (count - 1) }
    }
}

fn meet(one: &Item, other: &Item) -> bool {
    one.low < other.high + ALONG && other.low < one.high + ALONG
}

/// Whether a face of a node gathers its links on a bar.
pub(super) fn has_bar(layers: &Layers, node: usize, face: Face) -> bool {
    let of = &layers.graph.nodes[node];
    of.kind.is_point() && (of.ports(face).len() > 1 || (of.kind == Kind::Rail && !of.ports(face).is_empty()))
}

/// Where the vertical of a link stands that begins or ends on a bar.
pub(super) fn bar_contact(layers: &Layers, across: &Across, upper: usize) -> Option<i32> {
    let graph = &layers.graph;
    let lower = graph.ports[upper].mate?;
    let on_upper = has_bar(layers, graph.ports[upper].node, Face::Bottom);
    let on_lower = has_bar(layers, graph.ports[lower].node, Face::Top);
    match (on_upper, on_lower) {
        (true, _) => Some(across.ports[lower]),
        (false, true) => Some(across.ports[upper]),
        (false, false) => None,
    }
}

/// What goes sideways below a layer.
fn items(layers: &Layers, across: &Across, layer: &[usize]) -> Vec<Item> {
    let graph = &layers.graph;
    let mut items: BTreeMap<Owner, Item> = BTreeMap::new();
    let item = |owner: Owner| Item { tops: Vec::new(), bottoms: Vec::new(), low: 0, high: 0, owner };
    for &node in layer {
        for &upper in &graph.nodes[node].bottom {
            let Some(lower) = graph.ports[upper].mate else { continue };
            let below = graph.ports[lower].node;
            let contact = bar_contact(layers, across, upper);
            let Some(contact) = contact else {
                let (top, bottom) = (across.ports[upper], across.ports[lower]);
                if top != bottom {
                    let owner = Owner::Link(upper);
                    items.insert(owner, Item { tops: vec![top], bottoms: vec![bottom], ..item(owner) });
                }
                continue;
            };
            if has_bar(layers, node, Face::Bottom) {
                let owner = Owner::Bar(node, Face::Bottom);
                let bar = items.entry(owner).or_insert_with(|| Item {
                    // A turn has no vertical of its own.
                    tops: if matches!(graph.nodes[node].kind, Kind::Turn(_) | Kind::Rail) {
                        Vec::new()
                    } else {
                        vec![across.nodes[node]]
                    },
                    ..item(owner)
                });
                bar.bottoms.push(contact);
            }
            if has_bar(layers, below, Face::Top) {
                let owner = Owner::Bar(below, Face::Top);
                let bar = items.entry(owner).or_insert_with(|| Item {
                    bottoms: if matches!(graph.nodes[below].kind, Kind::Turn(_)) {
                        Vec::new()
                    } else {
                        vec![across.nodes[below]]
                    },
                    ..item(owner)
                });
                bar.tops.push(contact);
            }
        }
    }
    let mut items: Vec<Item> = items.into_values().collect();
    for item in &mut items {
        let ends = || item.tops.iter().chain(&item.bottoms).copied();
        (item.low, item.high) = (ends().min().unwrap_or(0), ends().max().unwrap_or(0));
    }
    items
}

/// What a line would be joined with by mistake costs more than any number of crossings; two that run closer than this
/// to one another are taken for one.
const MISTAKEN: usize = 1000;
const CLOSE: i32 = 6;
/// A crossing costs so much, and to pass close by the end of what goes sideways.
const CROSSING: usize = 4;
const PASSES_CLOSE: usize = 3;

/// Crossings where one item's track lies above another's.
fn crossings(above: &Item, below: &Item) -> usize {
    let through = |verticals: &[i32], item: &Item| -> usize {
        verticals
            .iter()
            .map(|x| match () {
                () if item.low == *x || *x == item.high => MISTAKEN,
                () if (item.low - x).abs() < CLOSE || (item.high - x).abs() < CLOSE => {
                    CROSSING + PASSES_CLOSE
                }
                () if item.low < *x && *x < item.high => CROSSING,
                () => 0,
            })
            .sum()
    };
    let close = |x: &&i32| below.tops.iter().any(|top| (top - **x).abs() < CLOSE);
    let on_one_another = above.bottoms.iter().filter(close).count();
    through(&above.bottoms, below) + through(&below.tops, above) + MISTAKEN * on_one_another
}

/// The items from above to below with few crossings: each is put where it costs least, until none moves.
fn ordered(mut items: Vec<Item>) -> Vec<Item> {
    let count = items.len();
    let price = |items: &[Item], above: usize, below: usize| crossings(&items[above], &items[below]);
    let mut order: Vec<usize> = (0..count).collect();
    for _ in 0..count.max(4) {
        let mut moved = false;
        for at in 0..count {
            let Some(from) = order.iter().position(|item| *item == at) else { continue };
            order.remove(from);
            // The cost at the top, then what each step down changes.
            let mut cost: i64 = 0;
            let (mut least, mut best) = (0, 0);
            let mut costs = vec![0];
            for (place, &other) in order.iter().enumerate() {
                let step = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
                cost += step(price(&items, other, at)) - step(price(&items, at, other));
                costs.push(cost);
                if cost < least {
                    (least, best) = (cost, place + 1);
                }
            }
            if costs[from] == least {
                best = from;
            }
            moved |= best != from;
            order.insert(best, at);
        }
        if !moved {
            break;
        }
    }
    let mut sorted: Vec<(usize, Item)> = Vec::with_capacity(count);
    for (place, &item) in order.iter().enumerate() {
        sorted.push((place, items[item].clone()));
    }
    items.clear();
    sorted.into_iter().map(|(_, item)| item).collect()
}
