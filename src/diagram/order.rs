//! From left to right: an order of each layer's nodes, and of the ports on blocks, with few crossings.

use super::block::Face;
use super::graph::Kind;
use super::layers::Layers;
use crate::vehicle::ConnectorId;

/// A crossing weighs as much as so many neighbours of one connector that stand apart.
const CROSSING: i64 = 6;
/// How often all layers are swept by the means of their neighbours, and by exchanges.
const MEAN_SWEEPS: usize = 16;
const EXCHANGE_SWEEPS: usize = 12;

/// From how many orders the search begins.
const STARTS: usize = 8;

/// Orders the layers and the ports of blocks.
pub(super) fn order(layers: &mut Layers) {
    let mut best: Option<(i64, State)> = None;
    for start in 0..STARTS {
        let mut state = State::first(layers, start);
        let mut sweep = Sweep { layers, state: &mut state };
        sweep.run();
        let cost = sweep.cost();
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, state));
        }
    }
    let Some((_, state)) = best else { return };
    layers.layers = state.layers;
    // What is joined with nothing stands where it keeps nothing from being straight.
    let graph = &layers.graph;
    let is_linked = |node: &usize| {
        let of = &graph.nodes[*node];
        of.top.iter().chain(&of.bottom).any(|port| graph.ports[*port].mate.is_some())
    };
    for layer in &mut layers.layers {
        layer.sort_by_key(|node| !is_linked(node));
    }
    for (node, [top, bottom]) in layers.graph.nodes.iter_mut().zip(state.ports) {
        node.top = top;
        node.bottom = bottom;
    }
}

/// An order.
#[derive(Clone)]
struct State {
    layers: Vec<Vec<usize>>,
    /// By node: its ports above and below.
    ports: Vec<[Vec<usize>; 2]>,
    /// By port: its place among all ports of its layer's face; ports that meet in one point share one.
    at: Vec<i64>,
}

impl State {
    /// An order in which what hangs together stands together: along the links from the rail. Starts differ in which way
    /// the links are taken.
    fn first(layers: &Layers, start: usize) -> Self {
        let graph = &layers.graph;
        let mut ordered = vec![Vec::new(); layers.layers.len()];
        let mut seen = vec![false; graph.nodes.len()];
        let count = graph.nodes.len();
        let from_end = start & 4 != 0;
        for root in (0..count).map(|at| if from_end { count - 1 - at } else { at }) {
            let mut waits = vec![root];
            while let Some(node) = waits.pop() {
                if std::mem::replace(&mut seen[node], true) {
                    continue;
                }
                ordered[layers.ranks[node]].push(node);
                let mut next: Vec<usize> = Vec::new();
                let faces =
                    if start & 1 == 0 { [Face::Top, Face::Bottom] } else { [Face::Bottom, Face::Top] };
                for face in faces {
                    let ports = graph.nodes[node].ports(face).iter();
                    next.extend(
                        ports.filter_map(|port| graph.ports[*port].mate).map(|mate| graph.ports[mate].node),
                    );
                }
                if start & 2 == 0 {
                    next.reverse();
                }
                waits.extend(next);
            }
        }
        let ports = graph.nodes.iter().map(|node| [node.top.clone(), node.bottom.clone()]).collect();
        let mut state = Self { layers: ordered, ports, at: vec![0; graph.ports.len()] };
        (0..state.layers.len()).for_each(|rank| state.number(layers, rank));
        state
    }

    fn number(&mut self, layers: &Layers, rank: usize) {
        for (place, &node) in self.layers[rank].iter().enumerate() {
            let point = layers.graph.nodes[node].kind.is_point();
            for ports in &self.ports[node] {
                for (at, port) in ports.iter().enumerate() {
                    let within = if point { 0 } else { i64::try_from(at).unwrap_or(0) };
                    self.at[*port] = 256 * i64::try_from(place).unwrap_or(0) + within;
                }
            }
        }
    }
}

struct Sweep<'s> {
    layers: &'s Layers,
    state: &'s mut State,
}

impl Sweep<'_> {
    fn run(&mut self) {
        let mut best = (self.cost(), self.state.clone());
        let ranks = self.state.layers.len();
        for sweep in 0..MEAN_SWEEPS {
            let down = sweep % 2 == 0;
            for step in 0..ranks {
                let rank = if down { step } else { ranks - 1 - step };
                self.by_means(rank, if down { Face::Top } else { Face::Bottom });
                self.turn_blocks(rank);
            }
            let cost = self.cost();
            if cost < best.0 {
                best = (cost, self.state.clone());
            }
        }
        *self.state = best.1;
        for _ in 0..EXCHANGE_SWEEPS {
            let before = self.cost();
            for rank in 0..ranks {
                self.sift(rank);
                self.turn_blocks(rank);
            }
            for rank in (0..ranks).rev() {
                self.sift(rank);
                self.turn_blocks(rank);
            }
            if self.cost() >= before {
                break;
            }
        }
    }

    /// Sorts a layer by the mean place of what its nodes are joined with above or below.
    fn by_means(&mut self, rank: usize, face: Face) {
        let mut keyed: Vec<(i64, usize, usize)> = self.state.layers[rank]
            .iter()
            .enumerate()
            .map(|(place, &node)| {
                let mates: Vec<i64> = self.state.ports[node][face as usize]
                    .iter()
                    .filter_map(|port| self.layers.graph.ports[*port].mate)
                    .map(|mate| self.state.at[mate])
                    .collect();
                let count = i64::try_from(mates.len()).unwrap_or(1);
                // What is joined with nothing keeps its place.
                let here = 256 * i64::try_from(place).unwrap_or(0);
                let mean = if count == 0 { here } else { mates.iter().sum::<i64>() * 16 / (16 * count) };
                (mean, place, node)
            })
            .collect();
        keyed.sort_unstable();
        self.state.layers[rank] = keyed.into_iter().map(|(_, _, node)| node).collect();
        self.state.number(self.layers, rank);
    }

    /// Sorts the ports of a layer's blocks by the places that they are joined with.
    fn turn_blocks(&mut self, rank: usize) {
        for node in self.state.layers[rank].clone() {
            let Kind::Block(id) = self.layers.graph.nodes[node].kind else { continue };
            let block = &self.layers.graph.blocks[&id];
            let faces: &[Face] =
                if block.elements.is_empty() { &[Face::Top, Face::Bottom] } else { &[Face::Top] };
            for &face in faces {
                let mut ports = self.state.ports[node][face as usize].clone();
                let mate_at =
                    |port: &usize| self.layers.graph.ports[*port].mate.map(|mate| self.state.at[mate]);
                // A pin without a conductor stands last.
                ports.sort_by_key(|port| (mate_at(port).unwrap_or(i64::MAX), *port));
                self.state.ports[node][face as usize] = ports;
            }
            if !block.elements.is_empty() {
                self.settle_elements(node);
            }
            self.state.number(self.layers, rank);
        }
    }

    /// Brings the ports of a block of elements into the order in which its columns reach them.
    fn settle_elements(&mut self, node: usize) {
        let Kind::Block(id) = self.layers.graph.nodes[node].kind else { return };
        let block = &self.layers.graph.blocks[&id];
        let pin = |port: &usize| self.layers.graph.ports[*port].pin;
        let top: Vec<u8> = self.state.ports[node][0].iter().map(pin).collect();
        let columns = block.columns(&top);
        for face in [0, 1] {
            self.state.ports[node][face].sort_by_key(|port| {
                let reached = block.reaches(&columns, pin(port));
                let sum: usize = reached.iter().sum();
                // Twice the mean, so that it is a whole number more often.
                let mean = if reached.is_empty() { usize::MAX } else { 2 * sum / reached.len() };
                (if face == 0 { reached.first().copied().unwrap_or(usize::MAX) } else { mean }, *port)
            });
        }
    }

    /// Moves each node of a layer to where it costs least.
    fn sift(&mut self, rank: usize) {
        let nodes = self.state.layers[rank].clone();
        let count = nodes.len();
        let pairs = self.pairs(&nodes);
        let connectors: Vec<Option<ConnectorId>> = nodes.iter().map(|node| self.connector(*node)).collect();
        // Places in `nodes`, as they stand now.
        let mut order: Vec<usize> = (0..count).collect();
        // Exchanges what stands at a place and after it, and returns what that costs.
        let exchange = |order: &mut [usize], place: usize| {
            let around = place.saturating_sub(1)..(place + 3).min(count);
            let apart =
                |order: &[usize]| strangers(order[around.clone()].iter().map(|node| connectors[*node]));
            let (one, other) = (order[place], order[place + 1]);
            let before = pairs[one * count + other] + apart(order);
            order.swap(place, place + 1);
            pairs[other * count + one] + apart(order) - before
        };
        for node in 0..count {
            let Some(home) = order.iter().position(|other| *other == node) else { continue };
            let mut place = home;
            let (mut cost, mut least, mut best) = (0, 0, place);
            // To the left end first, then all the way to the right.
            while place > 0 {
                cost += exchange(&mut order, place - 1);
                place -= 1;
                if cost < least {
                    (least, best) = (cost, place);
                }
            }
            while place + 1 < count {
                cost += exchange(&mut order, place);
                place += 1;
                let nearer = place.abs_diff(home) < best.abs_diff(home);
                if cost < least || (cost == least && nearer) {
                    (least, best) = (cost, place);
                }
            }
            order[best..].rotate_right(1);
        }
        self.state.layers[rank] = order.into_iter().map(|node| nodes[node]).collect();
        self.state.number(self.layers, rank);
    }

    /// What the crossings of each two nodes of a layer cost, by the left one and then by the right one.
    fn pairs(&self, nodes: &[usize]) -> Vec<i64> {
        let all = nodes.iter().flat_map(|left| nodes.iter().map(move |right| (*left, *right)));
        all.map(|(left, right)| if left == right { 0 } else { CROSSING * self.pair(left, right) }).collect()
    }

    /// The in-line connector that a node is a cavity of.
    fn connector(&self, node: usize) -> Option<ConnectorId> {
        match self.layers.graph.nodes[node].kind {
            Kind::Joint(id, _) => Some(id),
            _ => None,
        }
    }

    /// Crossings of the links of two nodes of a layer, of which the first stands on the left.
    fn pair(&self, left: usize, right: usize) -> i64 {
        [Face::Top, Face::Bottom].into_iter().map(|face| self.pair_on(left, right, face)).sum()
    }

    fn pair_on(&self, left: usize, right: usize, face: Face) -> i64 {
        let graph = &self.layers.graph;
        let mates = |node: usize| {
            self.state.ports[node][face as usize].iter().filter_map(|port| graph.ports[*port].mate)
        };
        let single = |node: usize| match self.state.ports[node][face as usize][..] {
            [] => Some(None),
            [only] => Some(graph.ports[only].mate),
            _ => None,
        };
        // Most nodes have one link on a face.
        if let (Some(one), Some(other)) = (single(left), single(right)) {
            return match (one, other) {
                (Some(one), Some(other)) => i64::from(self.state.at[one] > self.state.at[other]),
                _ => 0,
            };
        }
        let mut crossings = 0;
        for one in mates(left) {
            for other in mates(right) {
                crossings += i64::from(self.state.at[one] > self.state.at[other]);
            }
        }
        // The links of a point share a bar, which a line crosses once.
        let bar = |node: usize| {
            let point = graph.nodes[node].kind.is_point();
            if point { 1 } else { self.state.ports[node][face as usize].len() }
        };
        let most = if graph.nodes[left].kind.is_point() || graph.nodes[right].kind.is_point() {
            let (one, other) = (mates(left).count(), mates(right).count());
            if bar(left) < one && bar(right) < other {
                one.min(other)
            } else {
                bar(left).max(1) * bar(right).max(1)
            }
        } else {
            usize::MAX
        };
        crossings.min(i64::try_from(most).unwrap_or(i64::MAX))
    }

    /// What the whole order costs.
    fn cost(&self) -> i64 {
        let mut cost = 0;
        for layer in &self.state.layers {
            cost += strangers(layer.iter().map(|node| self.connector(*node)));
            for (place, &left) in layer.iter().enumerate() {
                for &right in &layer[place + 1..] {
                    cost += CROSSING * self.pair_on(left, right, Face::Bottom);
                }
            }
        }
        cost
    }
}

/// Neighbours of which one belongs to a connector and the other does not.
fn strangers(connectors: impl Iterator<Item = Option<ConnectorId>>) -> i64 {
    let mut before = None;
    let mut apart = 0;
    for here in connectors {
        apart += i64::from(before.is_some_and(|before| before != here));
        before = Some(here);
    }
    apart
}
