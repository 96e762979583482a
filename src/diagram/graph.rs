//! The vehicle as nodes with ports above and below, and links that lead downwards.

use std::collections::BTreeMap;

use super::block::{Block, Face};
use super::names::Names;
use super::potential::Potentials;
use crate::vehicle::{
    ConductorId, Connector, ConnectorId, End, EyeletId, FuseId, Half, Mate, Side, SpliceId, StudId, Vehicle,
};

/// What a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// The battery's plus post and the rail that stands for it.
    Rail,
    Fuse(FuseId),
    /// A conductor's straight piece, where it is labelled.
    Wire(ConductorId),
    /// A cavity of an in-line connector.
    Joint(ConnectorId, u8),
    /// A connector on pins, and its parts.
    Block(ConnectorId),
    Splice(SpliceId),
    Eyelet(EyeletId),
    Stud(StudId),
    /// A conductor's own joint with the body.
    Ground(ConductorId),
    /// Several conductors at one terminal that is no splice.
    Tie(End),
    /// Where a conductor turns back.
    Turn(ConductorId),
    /// A link that passes through a layer.
    Pass,
}

impl Kind {
    /// All of its links meet in one point.
    pub(super) fn is_point(self) -> bool {
        matches!(
            self,
            Self::Rail | Self::Stud(_) | Self::Splice(_) | Self::Eyelet(_) | Self::Tie(_) | Self::Turn(_)
        )
    }
}

/// A place where a link meets a node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Port {
    pub(super) node: usize,
    pub(super) face: Face,
    /// A connector's pin.
    pub(super) pin: u8,
    /// The port at the link's other end, once the graph is in layers.
    pub(super) mate: Option<usize>,
    /// Whose link it is: a conductor's, or nobody's where it only joins a terminal with what ends there.
    pub(super) conductor: Option<ConductorId>,
}

/// A node.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) kind: Kind,
    pub(super) top: Vec<usize>,
    pub(super) bottom: Vec<usize>,
}

impl Node {
    pub(super) fn ports(&self, face: Face) -> &[usize] {
        match face {
            Face::Top => &self.top,
            Face::Bottom => &self.bottom,
        }
    }
}

/// From a port on a node's bottom to one on another's top.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    pub(super) upper: usize,
    pub(super) lower: usize,
}

/// Nodes and links.
#[derive(Debug, Default)]
pub(super) struct Graph {
    pub(super) nodes: Vec<Node>,
    pub(super) ports: Vec<Port>,
    pub(super) links: Vec<Link>,
    pub(super) blocks: BTreeMap<ConnectorId, Block>,
    /// By in-line connector's cavity: the half that lies above.
    pub(super) halves: BTreeMap<(ConnectorId, u8), Half>,
    /// By conductor: it is drawn from its first end downwards, and not from its last.
    pub(super) from_above: Vec<bool>,
}

pub(super) fn connectors(vehicle: &Vehicle) -> impl Iterator<Item = (ConnectorId, &Connector)> {
    vehicle.connectors.iter().enumerate().map(|(at, connector)| (ConnectorId::at(at), connector))
}

pub(super) fn fuses(vehicle: &Vehicle) -> impl Iterator<Item = FuseId> + use<> {
    (0..vehicle.fuses.len()).map(FuseId::at)
}

pub(super) fn eyelets(vehicle: &Vehicle) -> impl Iterator<Item = EyeletId> + use<> {
    (0..vehicle.eyelets.len()).map(EyeletId::at)
}

impl Graph {
    pub(super) fn of(vehicle: &Vehicle, names: &Names) -> Self {
        let potentials = Potentials::of(vehicle);
        let mut graph = Self::default();
        let mut builder = Builder {
            graph: &mut graph,
            vehicle,
            names,
            potentials: &potentials,
            terminals: BTreeMap::new(),
        };
        builder.terminals();
        builder.wires();
        graph.open_circles();
        graph
    }

    pub(super) fn node(&mut self, kind: Kind) -> usize {
        self.nodes.push(Node { kind, top: Vec::new(), bottom: Vec::new() });
        self.nodes.len() - 1
    }

    pub(super) fn port(&mut self, node: usize, face: Face, pin: u8, conductor: Option<ConductorId>) -> usize {
        let port = self.ports.len();
        self.ports.push(Port { node, face, pin, mate: None, conductor });
        match face {
            Face::Top => self.nodes[node].top.push(port),
            Face::Bottom => self.nodes[node].bottom.push(port),
        }
        port
    }

    /// Joins two ports, whichever way they face: what faces the same way is joined by a turn.
    fn join(&mut self, upper: usize, lower: usize, conductor: Option<ConductorId>) {
        match (self.ports[upper].face, self.ports[lower].face) {
            (Face::Bottom, Face::Top) => self.links.push(Link { upper, lower }),
            (Face::Top, Face::Bottom) => self.links.push(Link { upper: lower, lower: upper }),
            (face, _) => {
                let owner = conductor.unwrap_or(ConductorId(0));
                let turn = self.node(Kind::Turn(owner));
                for port in [upper, lower] {
                    if face == Face::Bottom {
                        let here = self.port(turn, Face::Top, 0, conductor);
                        self.links.push(Link { upper: port, lower: here });
                    } else {
                        let here = self.port(turn, Face::Bottom, 0, conductor);
                        self.links.push(Link { upper: here, lower: port });
                    }
                }
            }
        }
    }

    /// Opens what leads round in a circle: the link that closes it turns above and below.
    fn open_circles(&mut self) {
        let mut state = vec![0_u8; self.nodes.len()];
        let mut closing = Vec::new();
        let mut outgoing = vec![Vec::new(); self.nodes.len()];
        for (id, link) in self.links.iter().enumerate() {
            outgoing[self.ports[link.upper].node].push(id);
        }
        for start in 0..self.nodes.len() {
            if state[start] != 0 {
                continue;
            }
            state[start] = 1;
            let mut way = vec![(start, 0)];
            while let Some((node, next)) = way.last_mut() {
                if let Some(&id) = outgoing[*node].get(*next) {
                    *next += 1;
                    let to = self.ports[self.links[id].lower].node;
                    match state[to] {
                        0 => {
                            state[to] = 1;
                            way.push((to, 0));
                        }
                        1 => closing.push(id),
                        _ => {}
                    }
                } else {
                    state[*node] = 2;
                    way.pop();
                }
            }
        }
        closing.sort_unstable();
        for &id in closing.iter().rev() {
            let Link { upper, lower } = self.links.remove(id);
            let conductor = self.ports[upper].conductor.or(self.ports[lower].conductor);
            let owner = conductor.unwrap_or(ConductorId(0));
            let (below, above) = (self.node(Kind::Turn(owner)), self.node(Kind::Turn(owner)));
            let into = self.port(below, Face::Top, 0, conductor);
            self.links.push(Link { upper, lower: into });
            let (up, down) =
                (self.port(above, Face::Bottom, 0, conductor), self.port(below, Face::Top, 0, conductor));
            self.links.push(Link { upper: up, lower: down });
            let out = self.port(above, Face::Bottom, 0, conductor);
            self.links.push(Link { upper: out, lower });
        }
    }
}

/// A terminal of the vehicle, as conductors find it.
#[derive(Clone, Copy, Debug)]
enum Terminal {
    /// One port, which faces one way.
    Port(usize),
    /// A node in which all meet, and which can be met from above and from below.
    Point(usize),
}

struct Builder<'b> {
    graph: &'b mut Graph,
    vehicle: &'b Vehicle,
    names: &'b Names,
    potentials: &'b Potentials,
    terminals: BTreeMap<End, Terminal>,
}

impl Builder<'_> {
    fn ends(&self) -> impl Iterator<Item = End> + use<'_> {
        self.vehicle.conductors.iter().flat_map(|conductor| [conductor.from, conductor.to])
    }

    fn terminals(&mut self) {
        let rail = self.graph.node(Kind::Rail);
        self.terminals.insert(End::BatteryPlus, Terminal::Point(rail));
        for fuse in fuses(self.vehicle) {
            let node = self.graph.node(Kind::Fuse(fuse));
            let feed = self.graph.port(node, Face::Top, 0, None);
            let load = self.graph.port(node, Face::Bottom, 0, None);
            self.terminals.insert(End::Fuse(fuse, Side::Feed), Terminal::Port(feed));
            self.terminals.insert(End::Fuse(fuse, Side::Load), Terminal::Port(load));
        }
        for at in 0..self.vehicle.splices.len() {
            let splice = SpliceId::at(at);
            let node = self.graph.node(Kind::Splice(splice));
            self.terminals.insert(End::Splice(splice), Terminal::Point(node));
        }
        let studs: Vec<usize> =
            (0..self.vehicle.studs.len()).map(|at| self.graph.node(Kind::Stud(StudId::at(at)))).collect();
        for id in eyelets(self.vehicle) {
            let node = self.graph.node(Kind::Eyelet(id));
            self.terminals.insert(End::Eyelet(id), Terminal::Point(node));
            let stud = studs[self.vehicle.eyelets[id.index()].stud.index()];
            let upper = self.graph.port(node, Face::Bottom, 0, None);
            let lower = self.graph.port(stud, Face::Top, 0, None);
            self.graph.join(upper, lower, None);
        }
        for (id, connector) in connectors(self.vehicle) {
            match connector.mate {
                Mate::Loom => self.joints(id, connector.cavities),
                // What no conductor reaches has no circuit to show: a switch that only says whether the engine runs.
                Mate::Pins if self.is_reached(id) => self.block(id),
                Mate::Pins => {}
            }
        }
        self.ties();
    }

    fn joints(&mut self, id: ConnectorId, cavities: u8) {
        for n in 1..=cavities {
            let [loom, mate] = [Half::Loom, Half::Mate].map(|half| End::Cavity(id, half, n));
            if !self.ends().any(|end| end == loom || end == mate) {
                continue;
            }
            let (above, below, half) = if self.potentials.is_above(loom, mate) {
                (loom, mate, Half::Loom)
            } else {
                (mate, loom, Half::Mate)
            };
            self.graph.halves.insert((id, n), half);
            let node = self.graph.node(Kind::Joint(id, n));
            let top = self.graph.port(node, Face::Top, n, None);
            let bottom = self.graph.port(node, Face::Bottom, n, None);
            self.terminals.insert(above, Terminal::Port(top));
            self.terminals.insert(below, Terminal::Port(bottom));
        }
    }

    /// Whether a conductor ends in a connector.
    fn is_reached(&self, id: ConnectorId) -> bool {
        self.ends().any(|end| matches!(end, End::Cavity(connector, ..) if connector == id))
    }

    fn block(&mut self, id: ConnectorId) {
        let block = Block::of(self.vehicle, id, self.potentials, self.names);
        let node = self.graph.node(Kind::Block(id));
        for (&pin, &face) in &block.faces {
            let port = self.graph.port(node, face, pin, None);
            self.terminals.insert(End::Cavity(id, Half::Loom, pin), Terminal::Port(port));
        }
        self.graph.blocks.insert(id, block);
    }

    /// Where several conductors end in one terminal they are joined in front of it.
    fn ties(&mut self) {
        let mut counts = BTreeMap::new();
        self.ends().for_each(|end| *counts.entry(end).or_insert(0) += 1);
        for (end, count) in counts {
            let Some(Terminal::Port(port)) = self.terminals.get(&end).copied() else { continue };
            if count < 2 {
                continue;
            }
            let node = self.graph.node(Kind::Tie(end));
            let face = match self.graph.ports[port].face {
                Face::Top => Face::Bottom,
                Face::Bottom => Face::Top,
            };
            let here = self.graph.port(node, face, 0, None);
            self.graph.join(here, port, None);
            self.terminals.insert(end, Terminal::Point(node));
        }
    }

    fn wires(&mut self) {
        for (at, conductor) in self.vehicle.conductors.iter().enumerate() {
            let id = ConductorId::at(at);
            let (upper, lower) = self.direction(conductor.from, conductor.to);
            self.graph.from_above.push(upper == conductor.from);
            let wire = self.graph.node(Kind::Wire(id));
            for (end, face) in [(upper, Face::Top), (lower, Face::Bottom)] {
                let here = self.graph.port(wire, face, 0, Some(id));
                let there = self.reached(end, face, id);
                self.graph.join(there, here, Some(id));
            }
        }
    }

    /// Which of a conductor's ends is drawn above: as the ports there face, else as it carries current.
    fn direction(&self, from: End, to: End) -> (End, End) {
        let face = |end: End| match (end, self.terminals.get(&end)) {
            (End::Body, _) => Some(Face::Top),
            (End::BatteryPlus, _) => Some(Face::Bottom),
            (_, Some(Terminal::Port(port))) => Some(self.graph.ports[*port].face),
            _ => None,
        };
        let from_above = match (face(from), face(to)) {
            (Some(Face::Bottom), None | Some(Face::Top)) | (None, Some(Face::Top)) => true,
            (Some(Face::Top), None | Some(Face::Bottom)) | (None, Some(Face::Bottom)) => false,
            _ => self.potentials.is_above(from, to),
        };
        if from_above { (from, to) } else { (to, from) }
    }

    /// The port by which a wire's end on `face` reaches a terminal.
    fn reached(&mut self, end: End, face: Face, id: ConductorId) -> usize {
        let opposite = if face == Face::Top { Face::Bottom } else { Face::Top };
        match self.terminals.get(&end) {
            Some(Terminal::Port(port)) => *port,
            Some(Terminal::Point(node)) => self.graph.port(*node, opposite, 0, Some(id)),
            // The body; and an end in the air, should there be one.
            None => {
                let node = self.graph.node(Kind::Ground(id));
                self.graph.port(node, opposite, 0, None)
            }
        }
    }
}
