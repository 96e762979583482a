//! A network's topology, ordered for factoring.

use std::fmt;
use std::sync::atomic::{AtomicU64, Ordering};

use super::element::Law;
use super::ldl::{Pattern, short};
use super::unsolved::Unsolved;

/// A node of a network. Node 0 is the reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Node(pub usize);

impl Node {
    /// The reference node, at 0 V.
    pub const GROUND: Self = Self(0);
}

/// A branch of a network, as returned by [`NetworkBuilder::branch`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Branch(pub usize);

/// An ideal source of a network, as returned by [`NetworkBuilder::ideal_source`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Source(pub usize);

/// Collects the nodes and branches of a [`Network`].
#[derive(Clone, Debug, Default)]
pub struct NetworkBuilder {
    nodes: usize,
    branches: Vec<(Node, Node)>,
    laws: Vec<Law>,
    sources: Vec<(Node, Node)>,
    volts: Vec<f64>,
}

impl NetworkBuilder {
    /// A network with only the reference node.
    #[must_use]
    pub fn new() -> Self {
        Self { nodes: 1, ..Self::default() }
    }

    /// A new node.
    pub fn node(&mut self) -> Node {
        self.nodes += 1;
        Node(self.nodes - 1)
    }

    /// A branch from one node to another.
    pub fn branch(&mut self, from: Node, to: Node, law: Law) -> Branch {
        self.branches.push((from, to));
        self.laws.push(law);
        Branch(self.branches.len() - 1)
    }

    /// A resistor of `ohms`; positive, or infinite for an open circuit.
    pub fn resistor(&mut self, from: Node, to: Node, ohms: f64) -> Branch {
        self.branch(from, to, Law::ohms(ohms))
    }

    /// An ideal source of `volts`.
    pub fn ideal_source(&mut self, plus: Node, minus: Node, volts: f64) -> Source {
        self.sources.push((plus, minus));
        self.volts.push(volts);
        Source(self.sources.len() - 1)
    }

    /// The finished topology and the laws of its branches.
    ///
    /// # Errors
    /// [`Unsolved::SourceLoop`] where ideal sources form a loop.
    pub fn build(self) -> Result<(Network, Vec<Law>), Unsolved> {
        let Self { nodes, branches, laws, sources, volts } = self;
        if let Some(bad) = volts.iter().position(|volts| !volts.is_finite()) {
            return Err(Unsolved::BadSource(Source(bad)));
        }
        let group = groups(nodes, &sources, &volts)?;
        Ok((Network::ordered(group, branches, sources), laws))
    }
}

/// Where a node stands: which unknown it belongs to (none: tied to the reference), and how far above it.
#[derive(Clone, Copy, Debug)]
struct Place {
    row: Option<usize>,
    above_volts: f64,
}

/// Joins nodes that ideal sources tie together.
fn groups(nodes: usize, sources: &[(Node, Node)], volts: &[f64]) -> Result<Vec<Place>, Unsolved> {
    let mut ties: Vec<Vec<(usize, f64)>> = vec![Vec::new(); nodes];
    let mut leader: Vec<usize> = (0..nodes).collect();
    let find = |leader: &[usize], mut node: usize| {
        while leader[node] != node {
            node = leader[node];
        }
        node
    };
    for (at, (&(plus, minus), &volts)) in sources.iter().zip(volts).enumerate() {
        let (a, b) = (find(&leader, plus.0), find(&leader, minus.0));
        if a == b {
            return Err(Unsolved::SourceLoop(Source(at)));
        }
        leader[a.max(b)] = a.min(b);
        ties[plus.0].push((minus.0, -volts));
        ties[minus.0].push((plus.0, volts));
    }
    let mut places: Vec<Option<Place>> = vec![None; nodes];
    let mut rows = 0;
    for root in 0..nodes {
        if places[root].is_some() {
            continue;
        }
        let row = (root != 0).then(|| {
            rows += 1;
            rows - 1
        });
        let mut waiting = vec![(root, 0.0)];
        while let Some((node, above_volts)) = waiting.pop() {
            if places[node].is_none() {
                places[node] = Some(Place { row, above_volts });
                waiting.extend(ties[node].iter().map(|&(next, step)| (next, above_volts + step)));
            }
        }
    }
    Ok(places.into_iter().flatten().collect())
}

/// Tells one pattern from another for workspaces; what number it is says nothing of the network.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Mark(u64);

impl fmt::Debug for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Mark")
    }
}

/// A fixed topology, ordered for factoring.
#[derive(Clone, Debug)]
pub struct Network {
    /// Tells it from every other, but not from its clones. It only says what may be kept, and never shows in a result.
    pub(super) mark: Mark,
    group: Vec<Place>,
    pub(super) branches: Vec<(Node, Node)>,
    sources: Vec<(Node, Node)>,
    pub(super) pattern: Pattern,
    /// Where each branch's conductance is added.
    pub(super) stamps: Vec<u32>,
    /// Each branch's ends as positions of the pattern; the reference comes after the last.
    pub(super) ends: Vec<[u32; 2]>,
    /// How far the first end of each branch is fixed above its second beyond what their positions are, in volts.
    pub(super) above_volts: Vec<f64>,
    /// Each node's position.
    pub(super) positions: Vec<u32>,
    /// In which order the currents of ideal sources follow from the sums at nodes.
    peels: Vec<Peel>,
}

/// An ideal source whose current is the sum at one of its nodes.
#[derive(Clone, Copy, Debug)]
struct Peel {
    source: usize,
    leaf: usize,
    other: usize,
    sign: f64,
}

impl Network {
    /// Orders the unknowns for factoring and finds each branch's place in the matrix.
    fn ordered(group: Vec<Place>, branches: Vec<(Node, Node)>, sources: Vec<(Node, Node)>) -> Self {
        let rows = group.iter().filter_map(|place| place.row).max().map_or(0, |row| row + 1);
        let row_of = |node: Node| group[node.0].row;
        let edges = branches.iter().filter_map(|&(a, b)| Some((row_of(a)?, row_of(b)?)));
        let pattern = Pattern::new(rows, edges);
        let position = |node: Node| row_of(node).map_or(rows, |row| pattern.position(row));
        let stamp = |(a, b)| match (position(a), position(b)) {
            (a, b) if a == b => pattern.nowhere(),
            (a, b) if a == rows || b == rows => pattern.ground(a.min(b)),
            (a, b) => pattern.between(a, b),
        };
        static MARKS: AtomicU64 = AtomicU64::new(1);
        Self {
            mark: Mark(MARKS.fetch_add(1, Ordering::Relaxed)),
            stamps: branches.iter().map(|&ends| short(stamp(ends))).collect(),
            ends: branches.iter().map(|&(a, b)| [a, b].map(|node| short(position(node)))).collect(),
            above_volts: branches
                .iter()
                .map(|&(a, b)| group[a.0].above_volts - group[b.0].above_volts)
                .collect(),
            positions: (0..group.len()).map(|node| short(position(Node(node)))).collect(),
            peels: peels(group.len(), &sources),
            group,
            branches,
            sources,
            pattern,
        }
    }

    /// The same network with a node and two branches more for each of these pairs of ends: the first branch is a load's
    /// leads, the second what it is.
    pub(super) fn extended(&self, loads: impl Iterator<Item = (Node, Node)>) -> Self {
        let mut group = self.group.clone();
        let mut branches = self.branches.clone();
        for (from, to) in loads {
            let inner = Node(group.len());
            let row = Some(self.pattern.rows() + group.len() - self.group.len());
            group.push(Place { row, above_volts: 0.0 });
            branches.push((from, inner));
            branches.push((inner, to));
        }
        Self::ordered(group, branches, self.sources.clone())
    }

    /// How many nodes there are, the reference included.
    #[must_use]
    pub fn nodes(&self) -> usize {
        self.group.len()
    }

    /// How many branches there are.
    #[must_use]
    pub fn branches(&self) -> usize {
        self.branches.len()
    }

    /// A branch's two ends.
    #[must_use]
    pub fn ends(&self, branch: Branch) -> (Node, Node) {
        self.branches[branch.0]
    }

    /// A node at this position.
    pub(super) fn node_at(&self, position: usize) -> Node {
        Node(self.positions.iter().position(|&at| at as usize == position).unwrap_or(0))
    }

    /// A node's voltage, from those of the positions.
    pub(super) fn node_volt(&self, rows: &[f64], node: Node) -> f64 {
        rows[self.positions[node.0] as usize] + self.group[node.0].above_volts
    }

    /// How far a node is fixed above its position, in volts.
    pub(super) fn fixed_volts(&self, node: Node) -> f64 {
        self.group[node.0].above_volts
    }

    /// Every node's voltage, from those of the positions.
    pub(super) fn node_volts(&self, rows: &[f64], volts: &mut Vec<f64>) {
        volts.clear();
        let places = self.positions.iter().zip(&self.group);
        volts.extend(places.map(|(&at, place)| rows[at as usize] + place.above_volts));
    }

    /// The current out of each ideal source's plus, from what `leaves` each node through everything else; that is used up.
    pub(super) fn source_amps(&self, leaves: &mut [f64], amps: &mut Vec<f64>) {
        amps.clear();
        amps.resize(self.sources.len(), 0.0);
        for peel in &self.peels {
            amps[peel.source] = peel.sign * leaves[peel.leaf];
            leaves[peel.other] += leaves[peel.leaf];
            leaves[peel.leaf] = 0.0;
        }
    }

    /// Whether there are ideal sources.
    pub(super) fn has_sources(&self) -> bool {
        !self.sources.is_empty()
    }
}

/// Sources form trees: peels their leaves. The reference is never a leaf to peel, since its own sum is unknown.
fn peels(nodes: usize, sources: &[(Node, Node)]) -> Vec<Peel> {
    let mut ties = vec![0_usize; nodes];
    for (plus, minus) in sources {
        ties[plus.0] += 1;
        ties[minus.0] += 1;
    }
    let mut peels = Vec::with_capacity(sources.len());
    let mut waiting: Vec<usize> = (0..sources.len()).collect();
    while !waiting.is_empty() {
        let before = waiting.len();
        waiting.retain(|&source| {
            let (plus, minus) = sources[source];
            let (leaf, other, sign) = if plus != Node::GROUND && ties[plus.0] == 1 {
                (plus, minus, 1.0)
            } else if minus != Node::GROUND && ties[minus.0] == 1 {
                (minus, plus, -1.0)
            } else {
                return true;
            };
            ties[leaf.0] -= 1;
            ties[other.0] -= 1;
            peels.push(Peel { source, leaf: leaf.0, other: other.0, sign });
            false
        });
        if waiting.len() == before {
            break;
        }
    }
    peels
}
