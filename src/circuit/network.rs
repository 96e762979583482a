//! A network's topology, its operating point, and the loads that instruments put on it.

use super::element::{Filament, Law};
use super::ldl::{Factor, Pattern};

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

/// Why a network has no operating point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsolved {
    /// A piece that contains this node has no path to the reference.
    Floating(Node),
    /// Ideal sources in a loop: their voltages either contradict each other or leave their currents open.
    SourceLoop(Source),
    /// A value is not a finite number, or a conductance is negative; the branch that carries it.
    BadValue(Branch),
    /// An ideal source's voltage is not a finite number.
    BadSource(Source),
    /// The load at this position has a value that is not finite, a negative conductance, or leads without resistance.
    BadLoad(usize),
    /// Voltages or currents are too large for a number.
    Overflow,
    /// The curved elements did not settle.
    NotConverged,
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Floating(node) => {
                write!(f, "node {} has no path to node 0: connect it, if only by a leakage", node.0)
            }
            Self::SourceLoop(source) => {
                write!(
                    f,
                    "ideal source {} closes a loop of ideal sources: give one of them a resistance",
                    source.0
                )
            }
            Self::BadValue(branch) => {
                write!(
                    f,
                    "branch {} has a value that is not finite, or a negative conductance: correct it",
                    branch.0
                )
            }
            Self::BadSource(source) => {
                write!(f, "ideal source {} has a voltage that is not finite: correct it", source.0)
            }
            Self::BadLoad(load) => write!(
                f,
                "load {load} has a value that is not finite, a negative conductance, or leads without resistance: correct it"
            ),
            Self::Overflow => {
                write!(f, "voltages or currents are too large for a number: correct the values")
            }
            Self::NotConverged => {
                write!(f, "the operating point was not found: the filaments did not settle")
            }
        }
    }
}

impl std::error::Error for Unsolved {}

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

/// Where a branch's conductance is added.
#[derive(Clone, Copy, Debug)]
enum Stamp {
    Between(usize),
    Ground(usize),
    /// Both ends belong to one unknown: no equation feels it.
    Inside,
}

impl Factor {
    fn add(&mut self, stamp: Stamp, siemens: f64) {
        match stamp {
            Stamp::Between(entry) => self.between[entry] += siemens,
            Stamp::Ground(row) => self.ground[row] += siemens,
            Stamp::Inside => {}
        }
    }
}

/// A fixed topology, ordered for factoring.
#[derive(Clone, Debug)]
pub struct Network {
    group: Vec<Place>,
    branches: Vec<(Node, Node)>,
    sources: Vec<(Node, Node)>,
    stamps: Vec<Stamp>,
    pattern: Pattern,
}

impl Network {
    /// Orders the unknowns for factoring and finds each branch's place in the matrix.
    fn ordered(group: Vec<Place>, branches: Vec<(Node, Node)>, sources: Vec<(Node, Node)>) -> Self {
        let rows = group.iter().filter_map(|place| place.row).max().map_or(0, |row| row + 1);
        let row_of = |node: Node| group[node.0].row;
        let edges = branches.iter().filter_map(|&(a, b)| Some((row_of(a)?, row_of(b)?)));
        let pattern = Pattern::new(rows, edges);
        let stamps = branches
            .iter()
            .map(|&(a, b)| match (row_of(a), row_of(b)) {
                (Some(a), Some(b)) if a == b => Stamp::Inside,
                (Some(a), Some(b)) => Stamp::Between(pattern.entry(a, b)),
                (Some(row), None) | (None, Some(row)) => Stamp::Ground(pattern.ground(row)),
                (None, None) => Stamp::Inside,
            })
            .collect();
        Self { group, branches, sources, stamps, pattern }
    }

    /// The same network with loads as branches of its own: each its leads, and behind them what it is.
    fn with(&self, loads: &[Load]) -> Self {
        let mut group = self.group.clone();
        let mut branches = self.branches.clone();
        for load in loads {
            let inner = Node(group.len());
            group.push(Place {
                row: Some(self.pattern.rows() + group.len() - self.group.len()),
                above_volts: 0.0,
            });
            branches.push((load.from, inner));
            branches.push((inner, load.to));
        }
        Self::ordered(group, branches, self.sources.clone())
    }

    /// How many nodes there are, the reference included.
    #[must_use]
    pub fn nodes(&self) -> usize {
        self.group.len()
    }

    /// A branch's two ends.
    #[must_use]
    pub fn ends(&self, branch: Branch) -> (Node, Node) {
        self.branches[branch.0]
    }
}

/// Something that a person connects to two nodes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The node of its first lead.
    pub from: Node,
    /// The node of its second lead.
    pub to: Node,
    /// What it is.
    pub law: Law,
    /// Resistance of both its leads together, in ohms; not 0.
    pub lead_ohms: f64,
}

/// What a load feels: the voltage across it (leads excluded) and the current through it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPoint {
    /// Volts from its first lead to its second, without what its leads drop.
    pub volts: f64,
    /// Amps from its first lead to its second.
    pub amps: f64,
}

/// What two nodes look like from outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Voltage without load, in volts.
    pub open_volts: f64,
    /// Inner resistance, in ohms.
    pub ohms: f64,
}

/// A network's voltages and currents.
#[derive(Clone, Debug)]
pub struct OperatingPoint {
    volts: Vec<f64>,
    branch_amps: Vec<f64>,
    source_amps: Vec<f64>,
    loads: Vec<LoadPoint>,
    /// By branch: its slope, in siemens.
    slopes: Vec<f64>,
}

impl OperatingPoint {
    /// A node's voltage against the reference, in volts.
    #[must_use]
    pub fn volts(&self, node: Node) -> f64 {
        self.volts[node.0]
    }

    /// A branch's current from its first node to its second, in amps.
    #[must_use]
    pub fn amps(&self, branch: Branch) -> f64 {
        self.branch_amps[branch.0]
    }

    /// The current that an ideal source drives out of its plus, in amps.
    #[must_use]
    pub fn source_amps(&self, source: Source) -> f64 {
        self.source_amps[source.0]
    }

    /// What each load feels, in the order in which they were given.
    #[must_use]
    pub fn loads(&self) -> &[LoadPoint] {
        &self.loads
    }

    fn is_finite(&self) -> bool {
        let loads = self.loads.iter().flat_map(|load| [load.volts, load.amps]);
        self.volts
            .iter()
            .chain(&self.branch_amps)
            .chain(&self.source_amps)
            .copied()
            .chain(loads)
            .all(f64::is_finite)
    }

    /// The Thévenin equivalent between two nodes, curves taken at their slope and loads left out.
    #[must_use]
    pub fn port(&self, network: &Network, from: Node, to: Node) -> Port {
        let mut factor = Factor::zero(&network.pattern);
        for (stamp, siemens) in network.stamps.iter().zip(&self.slopes) {
            factor.add(*stamp, *siemens);
        }
        factor.eliminate(&network.pattern);
        let response = response(network, &factor, from, to);
        Port { open_volts: self.volts(from) - self.volts(to), ohms: response[from.0] - response[to.0] }
    }
}

/// Node voltages that one ampere into `from` and out of `to` gives, all sources at zero.
fn response(network: &Network, factor: &Factor, from: Node, to: Node) -> Vec<f64> {
    let mut amps = vec![0.0; network.pattern.rows()];
    if let Some(row) = network.group[from.0].row {
        amps[row] += 1.0;
    }
    if let Some(row) = network.group[to.0].row {
        amps[row] -= 1.0;
    }
    let mut rows = Vec::new();
    factor.solve(&network.pattern, &amps, &mut rows);
    network.group.iter().map(|place| place.row.map_or(0.0, |row| rows[row])).collect()
}

/// Steps after which the search for a curved operating point is given up; ten are usual.
const STEPS: usize = 100;
/// Relative change below which a curved element counts as settled.
const SETTLED: f64 = 1e-13;
/// Change below which it counts as settled however small it is, in volts: a thousandth of what rounding at 12 V leaves
/// of a difference through a milliohm.
const SETTLED_VOLTS: f64 = 1e-12;
/// How many times the tolerance a change may be that counts as rounding.
const STALLED: f64 = 1e6;
/// A step is cut short where the slope at its end has turned by more than this share of the slope at its beginning.
const OVERSHOT: f64 = 0.3;
/// Halvings of a step that is cut short.
const HALVINGS: usize = 12;

/// The operating point of `network` with these `laws` on its branches and these `loads` connected.
///
/// A single load, such as a meter, is not part of the matrix: it meets the network at its port, where the network is its
/// open-circuit voltage behind its port resistance, and can only add to that. Several loads can bridge pieces that
/// otherwise hang on nothing but leakage; their ports would be small differences of huge resistances, so they become
/// branches.
///
/// Currents only ever grow with voltage, so the operating point is the minimum of a convex function (the co-content of
/// Millar, Phil. Mag. 42:1150, 1951; from memory), and Newton's method with steps cut short where they overshoot finds
/// it from anywhere. It starts cold, where a filament's curve is steepest.
///
/// # Errors
/// See [`Unsolved`].
pub fn operating_point(network: &Network, laws: &[Law], loads: &[Load]) -> Result<OperatingPoint, Unsolved> {
    if let Some(bad) = laws.iter().position(|law| !law.is_sound()) {
        return Err(Unsolved::BadValue(Branch(bad)));
    }
    let is_sound = |load: &Load| load.law.is_sound() && load.lead_ohms.is_finite() && load.lead_ohms > 0.0;
    if let Some(bad) = loads.iter().position(|load| !is_sound(load)) {
        return Err(Unsolved::BadLoad(bad));
    }
    if loads.len() < 2 {
        return converge(network, laws, loads);
    }
    let mut all = laws.to_vec();
    for load in loads {
        all.extend([Law::ohms(load.lead_ohms), load.law]);
    }
    let mut point = converge(&network.with(loads), &all, &[])?;
    point.loads = (0..loads.len())
        .map(|at| {
            let inner = point.volts[network.nodes() + at];
            LoadPoint {
                volts: inner - point.volts[loads[at].to.0],
                amps: point.branch_amps[laws.len() + 2 * at + 1],
            }
        })
        .collect();
    point.volts.truncate(network.nodes());
    point.branch_amps.truncate(laws.len());
    point.slopes.truncate(laws.len());
    Ok(point)
}

/// Newton's method until every curve has settled.
fn converge(network: &Network, laws: &[Law], loads: &[Load]) -> Result<OperatingPoint, Unsolved> {
    let curved = laws.iter().any(Law::is_curved) || loads.iter().any(|load| load.law.is_curved());
    let mut at = Iterate {
        branches: vec![0.0; laws.len()],
        loads: vec![0.0; loads.len()],
        ports: vec![0.0; loads.len()],
    };
    let mut last_change = f64::INFINITY;
    for step in 0..STEPS {
        let solved = linear_step(network, laws, loads, &at.branches, &at.loads)?;
        if !solved.is_finite() {
            return Err(Unsolved::Overflow);
        }
        if !curved {
            return Ok(solved);
        }
        let aim = Iterate::of(network, loads, &solved);
        let change = at.change(&aim, laws, loads);
        // A change that no longer halves, small as it is, is rounding going to and fro.
        let stalled = change <= STALLED && change > 0.5 * last_change;
        if step > 0 && (change <= 1.0 || stalled) {
            return Ok(solved);
        }
        last_change = change;
        // The first step comes from a point that is no solution of the sources, so there is no slope to judge it by.
        let share = if step == 0 { 1.0 } else { at.share_of_step(&aim, laws, loads, &solved) };
        at.move_towards(&aim, share);
    }
    Err(Unsolved::NotConverged)
}

/// Voltages along branches and loads, from which the next step sets out.
struct Iterate {
    branches: Vec<f64>,
    loads: Vec<f64>,
    /// Across loads and their leads together.
    ports: Vec<f64>,
}

impl Iterate {
    fn of(network: &Network, loads: &[Load], point: &OperatingPoint) -> Self {
        let along = |from: Node, to: Node| point.volts[from.0] - point.volts[to.0];
        Self {
            branches: network.branches.iter().map(|&(from, to)| along(from, to)).collect(),
            loads: point.loads.iter().map(|load| load.volts).collect(),
            ports: loads.iter().map(|load| along(load.from, load.to)).collect(),
        }
    }

    /// Curved elements, each as its law, where it is, and where the step leads.
    fn curves<'a>(
        &'a self,
        aim: &'a Self,
        laws: &'a [Law],
        loads: &'a [Load],
    ) -> impl Iterator<Item = (&'a Law, f64, f64)> {
        let branches = laws.iter().zip(self.branches.iter().zip(&aim.branches));
        let loads = loads.iter().map(|load| &load.law).zip(self.loads.iter().zip(&aim.loads));
        branches.chain(loads).filter(|(law, _)| law.is_curved()).map(|(law, (from, to))| (law, *from, *to))
    }

    /// The greatest change of a curved element, as a multiple of what counts as settled.
    fn change(&self, aim: &Self, laws: &[Law], loads: &[Load]) -> f64 {
        self.curves(aim, laws, loads)
            .map(|(_, from, to)| (to - from).abs() / (SETTLED * to.abs() + SETTLED_VOLTS))
            .fold(0.0, f64::max)
    }

    /// How much of the step to take: all of it, unless the slope of the co-content along it has turned.
    fn share_of_step(&self, aim: &Self, laws: &[Law], loads: &[Load], solved: &OperatingPoint) -> f64 {
        // By Tellegen's theorem the solved currents and the step are orthogonal, so that only differences to the
        // solved currents count: the straight elements' fall off linearly, the curved ones' are evaluated.
        let mut straight = 0.0;
        for ((law, from), to) in laws.iter().zip(&self.branches).zip(&aim.branches) {
            if !law.is_curved() {
                straight += law.current(0.0).1 * (to - from) * (to - from);
            }
        }
        for (at, load) in loads.iter().enumerate() {
            let moved = (aim.ports[at] - self.ports[at]) - (aim.loads[at] - self.loads[at]);
            straight += moved * moved / load.lead_ohms;
            if !load.law.is_curved() {
                let moved = aim.loads[at] - self.loads[at];
                straight += load.law.current(0.0).1 * moved * moved;
            }
        }
        let solved_amps = laws
            .iter()
            .zip(&solved.branch_amps)
            .filter(|(law, _)| law.is_curved())
            .map(|(_, amps)| *amps)
            .chain(
                loads
                    .iter()
                    .zip(&solved.loads)
                    .filter(|(load, _)| load.law.is_curved())
                    .map(|(_, point)| point.amps),
            );
        let curves: Vec<(&Law, f64, f64, f64)> = self
            .curves(aim, laws, loads)
            .zip(solved_amps)
            .map(|((law, from, to), amps)| (law, from, to, amps))
            .collect();
        let slope = |share: f64| {
            let curved: f64 = curves
                .iter()
                .map(|(law, from, to, amps)| (law.current(from + share * (to - from)).0 - amps) * (to - from))
                .sum();
            straight * (share - 1.0) + curved
        };
        let limit = OVERSHOT * slope(0.0).abs();
        if slope(1.0) <= limit {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            let there = slope(middle);
            if there.abs() <= limit {
                return middle;
            }
            if there > 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }

    fn move_towards(&mut self, aim: &Self, share: f64) {
        let lists = [
            (&mut self.branches, &aim.branches),
            (&mut self.loads, &aim.loads),
            (&mut self.ports, &aim.ports),
        ];
        for (from, to) in lists {
            for (from, to) in from.iter_mut().zip(to) {
                *from = if share == 1.0 { *to } else { *from + share * (to - *from) };
            }
        }
    }
}

/// One step of Newton's method: every curve replaced by its tangent at the given voltage.
fn linear_step(
    network: &Network,
    laws: &[Law],
    loads: &[Load],
    branch_volts: &[f64],
    load_volts: &[f64],
) -> Result<OperatingPoint, Unsolved> {
    let mut factor = Factor::zero(&network.pattern);
    let mut injected = vec![0.0; network.pattern.rows()];
    let mut tangents = Vec::with_capacity(laws.len());
    for (at, law) in laws.iter().enumerate() {
        let (amps, siemens) = law.current(branch_volts[at]);
        let offset = amps - siemens * branch_volts[at];
        tangents.push((siemens, offset));
        factor.add(network.stamps[at], siemens);
        // The current that flows at no difference between the two unknowns: the offset, and what fixed steps drive.
        let (from, to) = network.branches[at];
        let (from, to) = (network.group[from.0], network.group[to.0]);
        let amps = offset + siemens * (from.above_volts - to.above_volts);
        if amps != 0.0 {
            if let Some(row) = from.row {
                injected[row] -= amps;
            }
            if let Some(row) = to.row {
                injected[row] += amps;
            }
        }
    }
    factor.eliminate(&network.pattern);
    if let Some(row) = factor.floating(&network.pattern) {
        let node = network.group.iter().position(|place| place.row == Some(row)).unwrap_or(0);
        return Err(Unsolved::Floating(Node(node)));
    }
    let mut rows = Vec::new();
    factor.solve(&network.pattern, &injected, &mut rows);
    let mut volts: Vec<f64> = network
        .group
        .iter()
        .map(|place| place.above_volts + place.row.map_or(0.0, |row| rows[row]))
        .collect();
    let points: Vec<LoadPoint> = loads
        .iter()
        .zip(load_volts)
        .map(|(load, &at)| attach(network, &factor, load, at, &mut volts))
        .collect();

    let branch_amps: Vec<f64> = tangents
        .iter()
        .zip(&network.branches)
        .map(|(&(siemens, offset), &(from, to))| siemens * (volts[from.0] - volts[to.0]) + offset)
        .collect();
    let source_amps = source_amps(network, &branch_amps, loads, &points);
    let slopes = tangents.iter().map(|(siemens, _)| *siemens).collect();
    Ok(OperatingPoint { volts, branch_amps, source_amps, loads: points, slopes })
}

/// Meets a load with the network at its port, and corrects the node voltages for what it draws.
///
/// i = (g·V_open + c) / (1 + g·(Z + leads)), where the load's tangent is i = g·v + c: sums of terms of like sign, so that
/// no digits are lost between a source's large currents.
fn attach(network: &Network, factor: &Factor, load: &Load, load_volts: f64, volts: &mut [f64]) -> LoadPoint {
    let response = response(network, factor, load.from, load.to);
    let ohms = response[load.from.0] - response[load.to.0] + load.lead_ohms;
    let open_volts = volts[load.from.0] - volts[load.to.0];
    let (amps, siemens) = load.law.current(load_volts);
    let offset = amps - siemens * load_volts;
    let amps = (siemens * open_volts + offset) / (1.0 + siemens * ohms);
    for (node, per_amp) in volts.iter_mut().zip(&response) {
        *node -= per_amp * amps;
    }
    LoadPoint { volts: open_volts - ohms * amps, amps }
}

/// The current out of each ideal source's plus, from the sums at the nodes that the sources tie together.
fn source_amps(network: &Network, branch_amps: &[f64], loads: &[Load], points: &[LoadPoint]) -> Vec<f64> {
    if network.sources.is_empty() {
        return Vec::new();
    }
    let mut leaving = vec![0.0; network.nodes()];
    for (&(from, to), &amps) in network.branches.iter().zip(branch_amps) {
        leaving[from.0] += amps;
        leaving[to.0] -= amps;
    }
    for (load, point) in loads.iter().zip(points) {
        leaving[load.from.0] += point.amps;
        leaving[load.to.0] -= point.amps;
    }
    // Sources form trees: peel the leaves. The reference is never a leaf to peel, since its own sum is unknown.
    let mut amps = vec![0.0; network.sources.len()];
    let mut waiting: Vec<usize> = (0..network.sources.len()).collect();
    while !waiting.is_empty() {
        let mut ties = vec![0_usize; network.nodes()];
        for &source in &waiting {
            let (plus, minus) = network.sources[source];
            ties[plus.0] += 1;
            ties[minus.0] += 1;
        }
        ties[0] = usize::MAX;
        let before = waiting.len();
        waiting.retain(|&source| {
            let (plus, minus) = network.sources[source];
            let (leaf, other, sign) = if ties[plus.0] == 1 {
                (plus, minus, 1.0)
            } else if ties[minus.0] == 1 {
                (minus, plus, -1.0)
            } else {
                return true;
            };
            amps[source] = sign * leaving[leaf.0];
            leaving[other.0] += leaving[leaf.0];
            leaving[leaf.0] = 0.0;
            ties[leaf.0] = 0;
            ties[other.0] = usize::MAX; // at most one leaf a node and round
            false
        });
        if waiting.len() == before {
            break;
        }
    }
    amps
}

impl Load {
    /// A filament test lamp.
    #[must_use]
    pub fn lamp(from: Node, to: Node, filament: Filament, lead_ohms: f64) -> Self {
        Self { from, to, law: Law::Filament(filament), lead_ohms }
    }
}
