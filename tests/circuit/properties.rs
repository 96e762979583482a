//! What holds for every circuit, tried on random ones: Kirchhoff's laws, reciprocity, monotony, independence of the order
//! of nodes, accuracy where conductances lie far apart, and an honest refusal where there is no solution.
//!
//! The laws are textbook knowledge (from memory); every tolerance is worked out, and its reason stands beside it. The
//! random numbers begin from a fixed seed, so that a failure can be repeated.

use probeworthy::circuit::{
    Branch, Diode, Filament, Law, Limited, Load, LoadPoint, Network, NetworkBuilder, Node, OperatingPoint,
    Source, Unsolved, WarmFuse, Workspace, operating_point, warm_fuse,
};
use proptest::prelude::*;
use proptest::test_runner::{RngSeed, TestCaseError};

/// A random circuit: a tree that connects every node to node 0, more branches, and what a person has clipped on.
#[derive(Clone, Debug, Default)]
struct Plan {
    /// For node `at + 1`: an earlier node, and what joins the two.
    tree: Vec<(usize, Kind)>,
    /// Further branches.
    extra: Vec<(usize, usize, Kind)>,
    /// Loads, with their leads' resistance in ohms.
    loads: Vec<(usize, usize, Kind, f64)>,
}

/// What a branch is.
#[derive(Clone, Copy, Debug)]
enum Kind {
    /// A resistor, in ohms.
    Resistor(f64),
    /// A 12 V filament, in watts.
    Lamp(f64),
    /// A junction, from its first node: volts at an ampere, and its slope in volts.
    Junction(f64, f64),
    /// An output that limits its current: ohms, amps.
    Output(f64, f64),
    /// A fuse at the heat of its current, by its rating in amps.
    Fuse(f64),
    /// A source behind a resistance: volts, ohms; plus at the branch's first node.
    Behind(f64, f64),
    /// An ideal source, in volts; plus at the branch's first node. In the tree only, so that no loop can arise.
    Ideal(f64),
}

impl Kind {
    fn law(self) -> Law {
        match self {
            Self::Resistor(ohms) => Law::ohms(ohms),
            Self::Lamp(watts) => Law::Filament(Filament { rated_volts: 13.5, rated_watts: watts }),
            Self::Junction(volts, slope) => Law::Diode(Diode::dropping(volts, 1.0, slope)),
            Self::Output(on_ohms, limit_amps) => Law::Limited(Limited { on_ohms, limit_amps }),
            Self::Fuse(rating) => Law::WarmFuse(warm_fuse(rating)),
            Self::Behind(volts, ohms) => Law::source(volts, ohms),
            Self::Ideal(_) => Law::OPEN,
        }
    }
}

/// A plan's circuit.
struct Built {
    network: Network,
    laws: Vec<Law>,
    loads: Vec<Load>,
    sources: Vec<(Node, Node, f64)>,
}

impl Built {
    fn solve(&self) -> Result<OperatingPoint, Unsolved> {
        operating_point(&self.network, &self.laws, &self.loads)
    }

    /// The operating point, which every circuit of sound values has.
    fn settled(&self) -> Result<OperatingPoint, TestCaseError> {
        self.solve().map_err(|why| TestCaseError::fail(why.to_string()))
    }

    fn branches(&self) -> impl Iterator<Item = (Branch, Node, Node, Law)> {
        self.laws.iter().enumerate().map(|(at, &law)| {
            let (from, to) = self.network.ends(Branch(at));
            (Branch(at), from, to, law)
        })
    }

    fn nodes(&self) -> impl Iterator<Item = Node> + use<> {
        (0..self.network.nodes()).map(Node)
    }
}

impl Plan {
    fn nodes(&self) -> usize {
        self.tree.len() + 1
    }

    /// Every connection: two nodes and what joins them.
    fn all(&self) -> impl DoubleEndedIterator<Item = (usize, usize, Kind)> {
        let tree = self.tree.iter().enumerate().map(|(at, &(to, kind))| (at + 1, to % (at + 1), kind));
        let nodes = self.nodes();
        tree.chain(self.extra.iter().map(move |&(from, to, kind)| (from % nodes, to % nodes, kind)))
    }

    fn build(&self) -> Built {
        self.build_as(&(0..self.nodes()).collect::<Vec<_>>(), false)
    }

    /// Builds with node `n` at `place[n]`, and the branches in order or in reverse.
    fn build_as(&self, place: &[usize], reverse: bool) -> Built {
        let mut net = NetworkBuilder::new();
        for _ in 1..self.nodes() {
            net.node();
        }
        let mut all: Vec<_> = self.all().collect();
        if reverse {
            all.reverse();
        }
        let mut sources = Vec::new();
        for (from, to, kind) in all {
            let (from, to) = (Node(place[from]), Node(place[to]));
            if let Kind::Ideal(volts) = kind {
                net.ideal_source(from, to, volts);
                sources.push((from, to, volts));
            } else {
                net.branch(from, to, kind.law());
            }
        }
        let end = |node: usize| Node(place[node % self.nodes()]);
        let loads = self.loads.iter().map(|&(from, to, kind, lead_ohms)| Load {
            from: end(from),
            to: end(to),
            law: kind.law(),
            lead_ohms,
        });
        let loads = loads.collect();
        let (network, laws) = net.build().expect("a tree of sources has no loop");
        Built { network, laws, loads, sources }
    }

    /// The same with resistors for everything curved, and nothing clipped on.
    fn straight(&self) -> Self {
        let straight = |kind: Kind| match kind {
            Kind::Lamp(watts) => Kind::Resistor(watts),
            Kind::Junction(..) => Kind::Resistor(1.0),
            Kind::Output(ohms, _) => Kind::Resistor(ohms),
            Kind::Fuse(_) => Kind::Resistor(0.01),
            other => other,
        };
        Self {
            tree: self.tree.iter().map(|&(to, kind)| (to, straight(kind))).collect(),
            extra: self.extra.iter().map(|&(from, to, kind)| (from, to, straight(kind))).collect(),
            loads: Vec::new(),
        }
    }

    /// The same with one branch more.
    fn with(&self, from: usize, to: usize, kind: Kind) -> Self {
        let mut plan = self.clone();
        plan.extra.push((from, to, kind));
        plan
    }
}

/// From 10^`low` to 10^`high` ohms.
fn ohms(low: f64, high: f64) -> impl Strategy<Value = f64> + Clone {
    (low..high).prop_map(libm::exp10)
}

/// Nine decades: a joint to a leaking wire.
fn any_ohms() -> impl Strategy<Value = f64> + Clone {
    ohms(-3.0, 6.0)
}

fn resistor() -> impl Strategy<Value = Kind> + Clone {
    any_ohms().prop_map(Kind::Resistor)
}

fn moderate() -> impl Strategy<Value = Kind> + Clone {
    ohms(1.0, 6.0).prop_map(Kind::Resistor)
}

fn lamp() -> impl Strategy<Value = Kind> + Clone {
    (1.0..60.0).prop_map(Kind::Lamp)
}

fn behind() -> impl Strategy<Value = Kind> + Clone {
    (-15.0..15.0, any_ohms()).prop_map(|(volts, ohms)| Kind::Behind(volts, ohms))
}

/// Junctions as there are in vehicles: .3 to 1 V at an ampere, and a slope of 26 to 52 mV.
fn junction() -> impl Strategy<Value = Kind> + Clone {
    (0.3..1.0, 0.0259..0.0517).prop_map(|(volts, slope)| Kind::Junction(volts, slope))
}

fn output() -> impl Strategy<Value = Kind> + Clone {
    (ohms(-1.5, 1.0), 0.05..6.0).prop_map(|(ohms, amps)| Kind::Output(ohms, amps))
}

fn fuse() -> impl Strategy<Value = Kind> + Clone {
    (1.0..30.0).prop_map(Kind::Fuse)
}

/// Whatever is not straight.
fn curved() -> impl Strategy<Value = Kind> + Clone {
    prop_oneof![2 => lamp(), 2 => junction(), 1 => output(), 1 => fuse()]
}

/// Anything that may close a loop.
fn loose() -> impl Strategy<Value = Kind> + Clone {
    prop_oneof![4 => resistor(), 2 => curved(), 1 => behind()]
}

/// Up to `most` nodes, of these kinds in the tree, these beside it, and these clipped on.
fn plan<T, E, L>(most: usize, tree: T, extra: E, load: L) -> impl Strategy<Value = Plan>
where
    T: Strategy<Value = Kind> + Clone,
    E: Strategy<Value = Kind> + Clone,
    L: Strategy<Value = Kind> + Clone,
{
    (
        prop::collection::vec((any::<usize>(), tree), 1..most),
        prop::collection::vec((any::<usize>(), any::<usize>(), extra), 0..2 * most),
        prop::collection::vec((any::<usize>(), any::<usize>(), load, ohms(-2.0, 0.0)), 0..3),
    )
        .prop_map(|(tree, extra, loads)| Plan { tree, extra, loads })
}

/// All kinds, and nothing clipped on.
fn mixed() -> impl Strategy<Value = Plan> {
    clipped().prop_map(|plan| Plan { loads: Vec::new(), ..plan })
}

/// All kinds.
fn clipped() -> impl Strategy<Value = Plan> {
    plan(
        14,
        prop_oneof![4 => resistor(), 2 => curved(), 1 => behind(), 1 => (-15.0..15.0).prop_map(Kind::Ideal)],
        loose(),
        loose(),
    )
}

/// Without any source.
fn passive() -> impl Strategy<Value = Plan> {
    plan(14, resistor(), resistor(), resistor()).prop_map(|plan| Plan { loads: Vec::new(), ..plan })
}

/// What one battery feeds from node 1, its minus at node 0: resistors and curves.
fn fed() -> impl Strategy<Value = Plan> {
    let carries = prop_oneof![3 => resistor(), 1 => curved()];
    (plan(14, carries.clone(), carries, resistor()), 6.0..16.0).prop_map(|(mut plan, volts)| {
        plan.tree[0] = (0, Kind::Ideal(volts));
        plan.loads.clear();
        plan
    })
}

/// Cases in each test.
const CASES: u32 = 500;

fn config() -> ProptestConfig {
    // A `PROPTEST_RNG_SEED` in the environment still tries other circuits.
    let given = ProptestConfig::default();
    let rng_seed = if given.rng_seed == RngSeed::Random { RngSeed::Fixed(12) } else { given.rng_seed };
    ProptestConfig { cases: CASES.max(given.cases), failure_persistence: None, rng_seed, ..given }
}

/// What rounding to 53 bits leaves at least.
struct Rounding {
    amps: f64,
    volts: f64,
}

impl Rounding {
    /// An error of ε V moves ε V g through a branch of g siemens. A source behind a small resistance drives a large current
    /// in and out again, and what is clipped on takes its current out of a network solved without it: what their rounding
    /// leaves flows off through the paths to ground.
    fn new(built: &Built, point: &OperatingPoint) -> Self {
        let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
        let volts = largest(&mut built.nodes().map(|node| point.volts(node).abs()));
        let ohms =
            largest(&mut built.nodes().map(|node| point.port(&built.network, node, Node::GROUND).ohms));
        // A curve's slope is that where it is.
        let branches = built.branches().map(|(_, from, to, law)| (law, point.volts(from) - point.volts(to)));
        let loads = built.loads.iter().zip(point.loads()).map(|(load, felt)| (load.law, felt.volts));
        let (amps, siemens) = branches.chain(loads).fold((0.0, 0.0), |(amps, siemens), (law, volts)| {
            (amps + law.current(0.0).0.abs(), siemens + law.current(volts).1)
        });
        let ideal: f64 = built.sources.iter().map(|(_, _, volts)| volts.abs()).sum();
        let clipped: f64 = point.loads().iter().map(|felt| felt.amps.abs()).sum();
        // Of several loads, each one's leads are a branch.
        let leads: f64 = built.loads.iter().map(|load| 1.0 / load.lead_ohms).sum();
        let siemens = siemens + if built.loads.len() > 1 { leads } else { 0.0 };
        let unit = 8.0 * f64::EPSILON;
        Self {
            amps: unit * (siemens * (volts + ohms * clipped) + amps),
            volts: unit * (volts + ohms * (clipped + amps + siemens * ideal)),
        }
    }
}

/// The sum of currents that leave each node, and the largest current anywhere.
fn sums(built: &Built, point: &OperatingPoint) -> (Vec<f64>, f64) {
    let branches = built.branches().map(|(branch, from, to, _)| (from, to, point.amps(branch)));
    let sources = built.sources.iter().enumerate();
    let sources = sources.map(|(at, &(plus, minus, _))| (minus, plus, point.source_amps(Source(at))));
    let loads = built.loads.iter().zip(point.loads()).map(|(load, felt)| (load.from, load.to, felt.amps));
    let (mut sums, mut largest) = (vec![0.0; built.network.nodes()], 0.0_f64);
    for (from, to, amps) in branches.chain(sources).chain(loads) {
        sums[from.0] += amps;
        sums[to.0] -= amps;
        largest = largest.max(amps.abs());
    }
    (sums, largest)
}

proptest! {
    #![proptest_config(config())]

    /// Whatever is connected to whatever: there is an operating point, and it is found.
    #[test]
    fn curves_settle_in_every_circuit(plan in clipped()) {
        let answer = plan.build().solve();
        prop_assert!(answer.is_ok(), "{:?}", answer.map(|_| ()));
    }

    /// To 1e-9 of the largest current, or to what rounding of the voltages leaves where that is more.
    #[test]
    fn currents_at_every_node_sum_to_nothing(plan in mixed()) {
        let built = plan.build();
        let point = built.settled()?;
        let (sums, largest) = sums(&built, &point);
        let tolerance = 1e-9 * largest + Rounding::new(&built, &point).amps;
        prop_assert!(sums.iter().all(|sum| sum.abs() <= tolerance), "{sums:?}, largest {largest}");
    }

    /// The same with what a person clips on.
    #[test]
    fn currents_at_every_node_sum_to_nothing_with_loads_clipped_on(plan in clipped()) {
        let built = plan.build();
        let point = built.settled()?;
        let (sums, largest) = sums(&built, &point);
        let tolerance = 1e-9 * largest + Rounding::new(&built, &point).amps;
        prop_assert!(sums.iter().all(|sum| sum.abs() <= tolerance), "{sums:?}, largest {largest}");
    }

    /// Over five decades, and with a current that is worth the name, rounding leaves less than 1e-9 of the largest
    /// current: no allowance.
    #[test]
    fn currents_sum_to_nothing_without_allowance_from_ten_ohms_to_a_megohm(
        plan in plan(14, moderate(), moderate(), moderate()),
        volts in 6.0..16.0,
        load in moderate(),
    ) {
        let mut plan = plan.with(1, 0, load);
        plan.tree[0].1 = Kind::Ideal(volts);
        // Several loads' leads are branches of some milliohms.
        plan.loads.truncate(1);
        let built = plan.build();
        let (sums, largest) = sums(&built, &built.solve().unwrap());
        prop_assert!(sums.iter().all(|sum| sum.abs() <= 1e-9 * largest), "{sums:?}, largest {largest}");
    }

    /// Currents are those of the elements' own laws, and ideal sources hold their volts.
    #[test]
    fn every_element_keeps_its_law(plan in clipped()) {
        let built = plan.build();
        let point = built.settled()?;
        let Rounding { amps: tolerance, volts: tolerance_volts } = Rounding::new(&built, &point);
        let along = |from: Node, to: Node| point.volts(from) - point.volts(to);
        for (branch, from, to, law) in built.branches() {
            let (amps, by_law) = (point.amps(branch), law.current(along(from, to)).0);
            // A load at a port may move a curve so far that it leaves its tangent by that share of its scale.
            let scale = match law {
                Law::Diode(diode) => diode.saturation_amps,
                Law::Limited(output) => output.limit_amps,
                Law::WarmFuse(fuse) => fuse.rating_amps,
                _ => 0.0,
            };
            let near = (amps - by_law).abs() <= 1e-9 * by_law.abs() + 1e-11 * scale + tolerance;
            prop_assert!(near, "{law:?}: {amps} A, by law {by_law} A");
        }
        for (load, felt) in built.loads.iter().zip(point.loads()) {
            let by_law = load.law.current(felt.volts).0;
            let near = (felt.amps - by_law).abs() <= 1e-9 * by_law.abs() + tolerance;
            prop_assert!(near, "{load:?}: {felt:?}, by law {by_law} A");
            let leads = along(load.from, load.to) - felt.volts;
            let by_law = felt.amps * load.lead_ohms;
            let near = (leads - by_law).abs() <= 1e-9 * by_law.abs() + tolerance_volts + tolerance * load.lead_ohms;
            prop_assert!(near, "leads {leads} V, by law {by_law} V");
        }
        for &(plus, minus, volts) in &built.sources {
            prop_assert!((along(plus, minus) - volts).abs() <= 1e-12 * (volts.abs() + point.volts(plus).abs()));
        }
    }

    /// Tellegen's theorem: what sources give is what the rest takes.
    #[test]
    fn power_balances(plan in clipped()) {
        let built = plan.build();
        let point = built.settled()?;
        let along = |from: Node, to: Node| point.volts(from) - point.volts(to);
        let taken = built.branches().map(|(branch, from, to, _)| along(from, to) * point.amps(branch));
        let loads = built.loads.iter().zip(point.loads()).map(|(load, felt)| along(load.from, load.to) * felt.amps);
        let given = built.sources.iter().enumerate();
        let given = given.map(|(at, &(_, _, volts))| -volts * point.source_amps(Source(at)));
        let all: Vec<f64> = taken.chain(loads).chain(given).collect();
        let most = built.nodes().map(|node| point.volts(node).abs()).fold(0.0, f64::max);
        let nodes = f64::from(u32::try_from(built.network.nodes()).unwrap());
        let turned_over: f64 = all.iter().map(|watts| watts.abs()).sum();
        let tolerance = 1e-9 * turned_over + nodes * most * Rounding::new(&built, &point).amps;
        prop_assert!(all.iter().sum::<f64>().abs() <= tolerance, "{all:?}");
    }

    /// One ampere into one node raises another as much as one ampere into the other raises the one. All terms are
    /// positive, so that no digit is lost: 1e-12 of the figure itself.
    #[test]
    fn transfer_resistance_is_the_same_both_ways(plan in passive(), a in any::<usize>(), b in any::<usize>()) {
        let (a, b) = (a % plan.nodes(), b % plan.nodes());
        let transfer = |into: usize, at: usize| {
            let mut net = plan.build();
            let ampere = Law::Linear { siemens: 0.0, amps: 1.0 };
            net.loads = vec![Load { from: Node::GROUND, to: Node(into), law: ampere, lead_ohms: 1e-3 }];
            net.solve().unwrap().volts(Node(at))
        };
        let (one, other) = (transfer(a, b), transfer(b, a));
        prop_assert!((one - other).abs() <= 1e-12 * one.abs(), "{one} Ω and {other} Ω");
    }

    /// A port's resistance is what an ampere through it shows, and what lies between nodes is no less than nothing.
    #[test]
    fn a_port_feels_what_a_load_on_it_feels(
        plan in mixed(),
        a in any::<usize>(),
        b in any::<usize>(),
        load_ohms in ohms(-2.0, 6.0),
    ) {
        // Curves have a slope and no resistance: they would answer a large load otherwise.
        let plan = plan.straight();
        let (a, b) = (a % plan.nodes(), b % plan.nodes());
        let built = plan.build();
        let point = built.solve().unwrap();
        let port = point.port(&built.network, Node(a), Node(b));
        prop_assert!(port.ohms >= 0.0 && port.ohms.is_finite() && port.open_volts.is_finite());
        let by_port = port.open_volts * load_ohms / (load_ohms + port.ohms);
        let loaded = plan.with(a, b, Kind::Resistor(load_ohms)).build();
        let point = loaded.solve().unwrap();
        let found = point.volts(Node(a)) - point.volts(Node(b));
        let tolerance = 1e-9 * found.abs() + Rounding::new(&loaded, &point).volts;
        prop_assert!((found - by_port).abs() <= tolerance, "{found} V, by port {by_port} V");
    }

    /// A load meets the network at its port; built in, it is part of the matrix. Both are one circuit.
    #[test]
    fn a_load_does_what_the_same_thing_built_in_does(plan in clipped()) {
        let clipped = plan.build();
        let point = clipped.settled()?;
        let mut inside = Plan { loads: Vec::new(), ..plan.clone() };
        for &(from, to, kind, lead_ohms) in &plan.loads {
            let (from, to) = (from % plan.nodes(), to % plan.nodes());
            // A tree node more: its lead to one end, the load itself to the other. Indices beside the tree count anew.
            let extra: Vec<_> = inside.all().skip(inside.tree.len()).collect();
            inside.tree.push((from, Kind::Resistor(lead_ohms)));
            inside.extra = extra;
            inside.extra.push((inside.tree.len(), to, kind));
        }
        let inside = inside.build();
        let built_in = inside.settled()?;
        let most = clipped.nodes().map(|node| point.volts(node).abs()).fold(0.0, f64::max);
        let rounding = Rounding::new(&clipped, &point).volts + Rounding::new(&inside, &built_in).volts;
        let tolerance = 1e-9 * most + rounding;
        for node in clipped.nodes() {
            let (one, other) = (point.volts(node), built_in.volts(node));
            prop_assert!((one - other).abs() <= tolerance, "node {node:?}: {one} V clipped on, {other} V built in");
        }
    }

    /// The same bits, whichever other nodes are in the model and in whichever order, and whichever way a single load is
    /// connected. With the leads exchanged, the same but for the sign.
    #[test]
    fn what_a_port_feels_depends_on_nothing_else(
        plan in mixed(),
        others in prop::collection::vec(any::<usize>(), 0..6),
        ends in any::<[usize; 2]>(),
        kind in loose(),
        lead_ohms in ohms(-2.0, 0.0),
    ) {
        let built = plan.build();
        let [from, to] = ends.map(|end| Node(end % plan.nodes()));
        let load = Load { from, to, law: kind.law(), lead_ohms };
        let point = built.settled()?;
        let bits = |felt: Result<LoadPoint, Unsolved>| felt.map(|felt| [felt.volts.to_bits(), felt.amps.to_bits()]);
        let alone = bits(point.ports(&built.network, &[from, to]).attach(&load));
        let mut nodes: Vec<Node> = others.iter().map(|other| Node(other % plan.nodes())).collect();
        nodes.extend([to, from]);
        prop_assert_eq!(alone, bits(point.ports(&built.network, &nodes).attach(&load)));
        nodes.reverse();
        prop_assert_eq!(alone, bits(point.ports(&built.network, &nodes).attach(&load)));
        let clipped = operating_point(&built.network, &built.laws, &[load]);
        prop_assert_eq!(alone, bits(clipped.map(|point| point.loads()[0])));
        if let Kind::Resistor(_) | Kind::Lamp(_) | Kind::Fuse(_) | Kind::Output(..) = kind {
            let rounding = Rounding::new(&built, &point).volts;
            let turned = point.ports(&built.network, &[from, to]).attach(&Load { from: to, to: from, ..load });
            let turned = turned.map(|felt| LoadPoint { volts: -felt.volts, amps: -felt.amps });
            let (one, other) = (point.ports(&built.network, &[from, to]).attach(&load), turned);
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-11 * (a.abs() + 1.0) + rounding;
            prop_assert!(matches!((one, other), (Ok(a), Ok(b)) if near(a.volts, b.volts)), "{one:?} {other:?}");
        }
    }

    /// On a network that was prepared for what is clipped on, one load more at its port feels what it feels if all of them
    /// are clipped on at once.
    #[test]
    fn a_port_of_a_prepared_network_feels_its_loads(
        plan in clipped(),
        ends in any::<[usize; 2]>(),
        kind in loose(),
        lead_ohms in ohms(-2.0, 0.0),
    ) {
        let mut built = plan.build();
        let prepared =
            built.network.with_loads(&built.loads.iter().map(|load| (load.from, load.to)).collect::<Vec<_>>());
        let point = prepared.operating_point(&built.laws, &built.loads).unwrap();
        let [from, to] = ends.map(|end| Node(end % plan.nodes()));
        let load = Load { from, to, law: kind.law(), lead_ohms };
        let one = point.ports(prepared.network(), &[from, to]).attach(&load).unwrap();
        built.loads.push(load);
        let point = built.settled()?;
        let other = point.loads()[built.loads.len() - 1];
        let tolerance = 1e-9 * (1.0 + other.volts.abs()) + Rounding::new(&built, &point).volts;
        prop_assert!((one.volts - other.volts).abs() <= tolerance, "{one:?} and {other:?}");
    }

    /// A workspace that has seen other circuits of the same network gives the same bits as a fresh one, and a network that
    /// was prepared for loads the same as one that is prepared at once.
    #[test]
    fn a_workspace_keeps_nothing_of_what_it_has_seen(
        plan in clipped(),
        at in any::<usize>(),
        kinds in (loose(), loose()),
    ) {
        let mut built = plan.build();
        prop_assume!(!built.laws.is_empty());
        let at = at % built.laws.len();
        let ends: Vec<_> = built.loads.iter().map(|load| (load.from, load.to)).collect();
        let prepared = built.network.with_loads(&ends);
        let (mut workspace, mut loaded) = (Workspace::new(&built.network), Workspace::new(prepared.network()));
        for law in [kinds.0.law(), kinds.1.law(), built.laws[at]] {
            built.laws[at] = law;
            let fresh = operating_point(&built.network, &built.laws, &[]).unwrap();
            let again = workspace.solve(&built.network, &built.laws).unwrap();
            prop_assert!(built.nodes().all(|node| fresh.volts(node).to_bits() == again.volts(node).to_bits()));
            let fresh = prepared.operating_point(&built.laws, &built.loads).unwrap();
            let again = loaded.solve_loaded(&prepared, &built.laws, &built.loads).unwrap();
            prop_assert!(built.nodes().all(|node| fresh.volts(node).to_bits() == again.volts(node).to_bits()));
            prop_assert_eq!(fresh.loads(), again.loads());
        }
    }

    /// With one battery, a load to ground at a node raises neither that node nor any other.
    #[test]
    fn a_load_to_ground_raises_no_node(plan in fed(), at in any::<usize>(), kind in prop_oneof![resistor(), lamp()]) {
        let bare = plan.build();
        let before = bare.solve().unwrap();
        // A piece between junctions hangs on next to nothing.
        let rounding = Rounding::new(&bare, &before).volts;
        let at = 1 + at % plan.tree.len();
        let loaded = plan.with(at, 0, kind).build();
        let after = loaded.solve().unwrap();
        for node in loaded.nodes() {
            let (was, is) = (before.volts(node), after.volts(node));
            prop_assert!(is <= was * (1.0 + 1e-12) + rounding, "node {node:?} from {was} V to {is} V");
        }
    }

    /// Rayleigh's law: another resistor anywhere raises no port's resistance.
    #[test]
    fn a_resistor_more_raises_no_port(plan in passive(), ends in any::<[usize; 4]>(), kind in resistor()) {
        let [a, b, c, d] = ends.map(|end| end % plan.nodes());
        let ohms = |plan: &Plan| {
            let built = plan.build();
            built.solve().unwrap().port(&built.network, Node(a), Node(b)).ohms
        };
        let (was, is) = (ohms(&plan), ohms(&plan.with(c, d, kind)));
        // Between two nodes neither of which is ground, the figure is a difference of larger ones.
        let scale = ohms_to_ground(&plan, a).max(ohms_to_ground(&plan, b));
        prop_assert!(is <= was + 1e-12 * was + 1e-14 * scale, "from {was} Ω to {is} Ω");
    }

    /// Neither the numbers of nodes nor the order of branches moves a voltage by more than 1e-12 of itself.
    #[test]
    fn the_order_of_nodes_and_branches_does_not_matter(
        plan in fed(),
        keys in prop::collection::vec(any::<u32>(), 14),
    ) {
        let mut order: Vec<usize> = (1..plan.nodes()).collect();
        order.sort_by_key(|&node| keys[node]);
        let mut place = vec![0; plan.nodes()];
        for (at, &node) in order.iter().enumerate() {
            place[node] = at + 1;
        }
        let (plain, shuffled) = (plan.build().solve().unwrap(), plan.build_as(&place, true).solve().unwrap());
        for (node, &there) in place.iter().enumerate() {
            let (one, other) = (plain.volts(Node(node)), shuffled.volts(Node(there)));
            prop_assert!((one - other).abs() <= 1e-12 * one.abs(), "node {node}: {one} V and {other} V");
        }
    }

    /// Islands of milliohms that hang on a gigohm, against a solution with twice the digits: 1e-12 of each voltage.
    #[test]
    fn near_floating_islands_are_accurate(
        plan in plan(
            14,
            prop_oneof![ohms(-3.0, -2.0), ohms(8.0, 9.3)].prop_map(Kind::Resistor),
            prop_oneof![ohms(-3.0, -2.0), ohms(8.0, 9.3)].prop_map(Kind::Resistor),
            resistor(),
        ),
        volts in 6.0..16.0,
        inner in any_ohms(),
    ) {
        let mut plan = Plan { loads: Vec::new(), ..plan };
        plan.tree[0] = (0, Kind::Behind(volts, inner));
        let built = plan.build();
        let (point, exact) = (built.solve().unwrap(), exact_volts(&built));
        for (node, exact) in built.nodes().zip(exact) {
            let found = point.volts(node);
            prop_assert!((found - exact).abs() <= 1e-12 * exact.abs(), "node {node:?}: {found} V, exactly {exact} V");
        }
    }

    /// Everything at once, against a solution with twice the digits.
    #[test]
    fn mixed_circuits_are_as_accurate_as_rounded_currents_allow(plan in mixed()) {
        let plan = plan.straight();
        let built = plan.build();
        let (point, exact) = (built.solve().unwrap(), exact_volts(&built));
        let tolerance = Rounding::new(&built, &point).volts;
        for (node, exact) in built.nodes().zip(exact) {
            let found = point.volts(node);
            let near = (found - exact).abs() <= 1e-12 * exact.abs() + tolerance;
            prop_assert!(near, "node {node:?}: {found} V, exactly {exact} V");
        }
    }

    /// A piece that only open branches join to the rest is named, by one of its own nodes.
    #[test]
    fn a_floating_island_is_refused(
        plan in mixed(),
        island in plan(5, loose(), loose(), resistor()),
        ties in prop::collection::vec((any::<usize>(), any::<usize>()), 0..3),
    ) {
        let mut net = NetworkBuilder::new();
        let nodes: Vec<Node> = std::iter::once(Node::GROUND).chain((1..plan.nodes()).map(|_| net.node())).collect();
        let apart: Vec<Node> = (0..island.nodes()).map(|_| net.node()).collect();
        for (place, plan) in [(&nodes, &plan), (&apart, &island)] {
            for (from, to, kind) in plan.all() {
                if let Kind::Ideal(volts) = kind {
                    net.ideal_source(place[from], place[to], volts);
                } else {
                    net.branch(place[from], place[to], kind.law());
                }
            }
        }
        for (from, to) in ties {
            net.resistor(nodes[from % nodes.len()], apart[to % apart.len()], f64::INFINITY);
        }
        let (network, laws) = net.build().unwrap();
        match operating_point(&network, &laws, &[]) {
            Err(Unsolved::Floating(node)) => prop_assert!(apart.contains(&node), "{node:?} is not of the island"),
            other => prop_assert!(false, "{other:?}"),
        }
    }

    /// Whatever closes a loop of ideal sources, the source that closes it is named.
    #[test]
    fn a_loop_of_ideal_sources_is_refused(
        parents in prop::collection::vec((any::<usize>(), -15.0..15.0), 1..10),
        ends in any::<[usize; 2]>(),
    ) {
        let mut net = NetworkBuilder::new();
        for (at, &(parent, volts)) in parents.iter().enumerate() {
            let node = net.node();
            net.ideal_source(node, Node(parent % (at + 1)), volts);
        }
        let [from, to] = ends.map(|end| Node(end % (parents.len() + 1)));
        let closing = net.ideal_source(from, to, 12.0);
        prop_assert_eq!(net.build().map(|_| ()), Err(Unsolved::SourceLoop(closing)));
    }

    /// A value that is no number, infinite or negative is refused, and the branch that carries it is named.
    #[test]
    fn a_bad_value_is_refused(plan in mixed(), at in any::<usize>(), bad in bad_law()) {
        let mut built = plan.build();
        prop_assume!(!built.laws.is_empty());
        let at = at % built.laws.len();
        built.laws[at] = bad;
        prop_assert_eq!(built.solve().map(|_| ()), Err(Unsolved::BadValue(Branch(at))));
    }

    /// What is clipped on is no better: its values are refused too.
    #[test]
    fn a_bad_value_of_a_load_is_refused(plan in mixed(), law in bad_law(), ends in any::<[usize; 2]>()) {
        let mut built = plan.build();
        let [from, to] = ends.map(|end| Node(end % plan.nodes()));
        built.loads.push(Load { from, to, law, lead_ohms: 0.1 });
        let answer = built.solve();
        prop_assert!(answer.is_err(), "{:?}", answer.map(|point| point.loads().to_vec()));
    }

    #[test]
    fn bad_leads_of_a_load_are_refused(
        plan in mixed(),
        ends in any::<[usize; 2]>(),
        lead_ohms in prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1.0), Just(f64::NEG_INFINITY)],
    ) {
        let mut built = plan.build();
        let [from, to] = ends.map(|end| Node(end % plan.nodes()));
        built.loads.push(Load { from, to, law: Law::ohms(10.0), lead_ohms });
        let answer = built.solve();
        prop_assert!(answer.is_err(), "{:?}", answer.map(|point| point.loads().to_vec()));
    }

    #[test]
    fn a_bad_ideal_source_is_refused(bad in not_finite()) {
        let mut net = NetworkBuilder::new();
        let node = net.node();
        net.ideal_source(node, Node::GROUND, bad);
        net.resistor(node, Node::GROUND, 10.0);
        let answer = net.build().and_then(|(network, laws)| operating_point(&network, &laws, &[]));
        prop_assert!(answer.is_err(), "{:?} V", answer.map(|point| point.volts(node)));
    }

    /// Any bits whatever as values: an answer in numbers or a refusal, never a figure that is no number, never a panic.
    #[test]
    fn no_answer_is_not_a_number(
        plan in clipped(),
        values in prop::collection::vec((any::<usize>(), wild_law()), 0..6),
    ) {
        let mut built = plan.build();
        prop_assume!(!built.laws.is_empty());
        let count = built.laws.len();
        for (at, law) in values {
            built.laws[at % count] = law;
        }
        if let Ok(point) = built.solve() {
            for node in built.nodes() {
                prop_assert!(point.volts(node).is_finite(), "node {node:?}: {} V", point.volts(node));
                let port = point.port(&built.network, node, Node::GROUND);
                // A conductance too small to be turned over is an endless resistance.
                prop_assert!(!port.ohms.is_nan() && port.open_volts.is_finite(), "node {node:?}: {port:?}");
            }
            for (branch, ..) in built.branches() {
                prop_assert!(point.amps(branch).is_finite(), "{branch:?}: {} A", point.amps(branch));
            }
            for felt in point.loads() {
                prop_assert!(felt.volts.is_finite() && felt.amps.is_finite(), "{felt:?}");
            }
        }
    }
}

/// Resistance from a node to ground, in ohms.
fn ohms_to_ground(plan: &Plan, node: usize) -> f64 {
    let built = plan.build();
    built.solve().unwrap().port(&built.network, Node(node), Node::GROUND).ohms
}

fn not_finite() -> impl Strategy<Value = f64> + Clone {
    prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY)]
}

/// What no size can be.
fn bad_size() -> impl Strategy<Value = f64> + Clone {
    prop_oneof![not_finite(), Just(0.0), -2.0..0.0]
}

/// Laws with a value that cannot be.
fn bad_law() -> impl Strategy<Value = Law> {
    let filament = |rated_volts, rated_watts| Law::Filament(Filament { rated_volts, rated_watts });
    prop_oneof![
        not_finite().prop_map(Law::Conductance),
        prop_oneof![Just(f64::NAN), Just(0.0)].prop_map(Law::ohms),
        bad_size().prop_map(|bad| Law::Diode(Diode { saturation_amps: bad, slope_volts: 0.03 })),
        bad_size().prop_map(|bad| Law::Diode(Diode { saturation_amps: 1e-9, slope_volts: bad })),
        bad_size().prop_map(|bad| Law::Limited(Limited { on_ohms: bad, limit_amps: 1.0 })),
        bad_size().prop_map(|bad| Law::Limited(Limited { on_ohms: 0.1, limit_amps: bad })),
        bad_size().prop_map(|bad| Law::WarmFuse(WarmFuse { cold_ohms: bad, ..warm_fuse(10.0) })),
        bad_size().prop_map(|bad| Law::WarmFuse(WarmFuse { rating_amps: bad, ..warm_fuse(10.0) })),
        bad_size().prop_map(|bad| Law::WarmFuse(WarmFuse { growth: bad, ..warm_fuse(10.0) })),
        (1e-3..1e6).prop_map(|ohms: f64| Law::ohms(-ohms)),
        (not_finite(), any_ohms()).prop_map(|(volts, ohms)| Law::source(volts, ohms)),
        (6.0..16.0).prop_map(|volts| Law::source(volts, -1.0)),
        (6.0..16.0).prop_map(|volts| Law::source(volts, 0.0)),
        not_finite().prop_map(|siemens| Law::Linear { siemens, amps: 0.0 }),
        not_finite().prop_map(|amps| Law::Linear { siemens: 1.0, amps }),
        not_finite().prop_map(move |volts| filament(volts, 5.0)),
        not_finite().prop_map(move |watts| filament(13.5, watts)),
        (1.0..60.0).prop_map(move |size: f64| filament(-size, 5.0)),
        (1.0..60.0).prop_map(move |size: f64| filament(13.5, -size)),
        Just(filament(0.0, 5.0)),
    ]
}

/// Laws of any bits.
fn wild_law() -> impl Strategy<Value = Law> {
    let any = || prop::num::f64::ANY;
    prop_oneof![
        any().prop_map(Law::Conductance),
        any().prop_map(Law::ohms),
        (any(), any()).prop_map(|(volts, ohms)| Law::source(volts, ohms)),
        (any(), any()).prop_map(|(siemens, amps)| Law::Linear { siemens, amps }),
        (any(), any())
            .prop_map(|(rated_volts, rated_watts)| Law::Filament(Filament { rated_volts, rated_watts })),
        (any(), any())
            .prop_map(|(saturation_amps, slope_volts)| Law::Diode(Diode { saturation_amps, slope_volts })),
        (any(), any()).prop_map(|(on_ohms, limit_amps)| Law::Limited(Limited { on_ohms, limit_amps })),
        (any(), any(), any()).prop_map(|(cold_ohms, rating_amps, growth)| {
            Law::WarmFuse(WarmFuse { cold_ohms, rating_amps, growth })
        }),
    ]
}

/// A number of some 32 digits: the unevaluated sum of two doubles (Dekker, Numerische Mathematik 18:224, 1971, and
/// Knuth's exact sum; from memory).
#[derive(Clone, Copy, Debug, Default)]
struct Double {
    high: f64,
    low: f64,
}

impl Double {
    fn sum(a: f64, b: f64) -> Self {
        let high = a + b;
        let of_b = high - a;
        Self { high, low: (a - (high - of_b)) + (b - of_b) }
    }

    fn minus(self, other: Self) -> Self {
        let first = Self::sum(self.high, -other.high);
        Self::sum(first.high, first.low + (self.low - other.low))
    }

    fn times(self, other: Self) -> Self {
        let high = self.high * other.high;
        let low = libm::fma(self.high, other.high, -high) + (self.high * other.low + self.low * other.high);
        Self::sum(high, low)
    }

    fn over(self, other: Self) -> Self {
        let first = self.high / other.high;
        let rest = self.minus(Self::from(first).times(other));
        Self::sum(first, rest.high / other.high)
    }
}

impl From<f64> for Double {
    fn from(high: f64) -> Self {
        Self { high, low: 0.0 }
    }
}

/// Node voltages of a circuit of straight elements: all nodes' sums and all ideal sources' volts as one dense matrix, by
/// Gauss with exchange of rows, in 32 digits.
fn exact_volts(built: &Built) -> Vec<f64> {
    let nodes = built.network.nodes();
    let size = nodes + built.sources.len();
    let mut matrix = vec![vec![Double::default(); size + 1]; size];
    let add = |place: &mut Double, value: f64| *place = place.minus(Double::from(-value));
    for (_, from, to, law) in built.branches() {
        let (amps, siemens) = law.current(0.0);
        for (here, there, sign) in [(from.0, to.0, 1.0), (to.0, from.0, -1.0)] {
            add(&mut matrix[here][here], siemens);
            add(&mut matrix[here][there], -siemens);
            add(&mut matrix[here][size], -sign * amps);
        }
    }
    for (at, &(plus, minus, volts)) in built.sources.iter().enumerate() {
        for (node, sign) in [(plus.0, 1.0), (minus.0, -1.0)] {
            add(&mut matrix[node][nodes + at], -sign);
            add(&mut matrix[nodes + at][node], sign);
        }
        matrix[nodes + at][size] = volts.into();
    }
    // Node 0 stands at 0 V; its own sum follows from the others'.
    matrix[0] = vec![Double::default(); size + 1];
    matrix.iter_mut().for_each(|row| row[0] = Double::default());
    matrix[0][0] = 1.0.into();
    for column in 0..size {
        let best = (column..size)
            .max_by(|&a, &b| matrix[a][column].high.abs().total_cmp(&matrix[b][column].high.abs()));
        matrix.swap(column, best.unwrap());
        let lead = matrix[column].clone();
        for row in (0..size).filter(|&row| row != column) {
            let share = matrix[row][column].over(lead[column]);
            for (value, above) in matrix[row].iter_mut().zip(&lead).skip(column) {
                *value = value.minus(share.times(*above));
            }
        }
    }
    (0..nodes).map(|node| matrix[node][size].over(matrix[node][node]).high).collect()
}

/// Gigohm and milliohm ladders whose answer is a line of pencil work (worked out).
#[test]
fn ladders_with_leaks_come_out_as_by_hand() {
    for leak_ohms in [1e6, 1e9, 1e12] {
        // 12 V – leak – island of 100 links of a milliohm – leak – ground: half of 12 V but for the links.
        let mut net = NetworkBuilder::new();
        let (plus, mut last) = (net.node(), net.node());
        net.ideal_source(plus, Node::GROUND, 12.0);
        net.resistor(plus, last, leak_ohms);
        let first = last;
        for _ in 0..100 {
            let next = net.node();
            net.resistor(last, next, 1e-3);
            last = next;
        }
        let out = net.resistor(last, Node::GROUND, leak_ohms);
        let (network, laws) = net.build().unwrap();
        let point = operating_point(&network, &laws, &[]).unwrap();
        let (amps, ohms) =
            (12.0 / (2.0 * leak_ohms + 0.1), leak_ohms * (leak_ohms + 0.1) / (2.0 * leak_ohms + 0.1));
        let is = |found: f64, by_hand: f64, of: &str| {
            assert!(
                (found / by_hand - 1.0).abs() < 1e-12,
                "{of} at {leak_ohms} Ω: {found}, by hand {by_hand}"
            );
        };
        is(point.volts(first), 12.0 - amps * leak_ohms, "first volts");
        is(point.volts(last), amps * leak_ohms, "last volts");
        is(point.amps(out), amps, "amps");
        is(point.port(&network, first, Node::GROUND).ohms, ohms, "ohms to ground");
    }
}

/// A junction of .7 V at an ampere.
fn junction_of_a_coil() -> Law {
    Law::Diode(Diode::dropping(0.7, 1.0, 0.045))
}

/// One supply, and from its plus a chain of laws to ground; the current through it, by the laws' own sum (bisection).
fn chain(volts: f64, laws: &[Law]) -> (OperatingPoint, Vec<Branch>) {
    let mut net = NetworkBuilder::new();
    let mut last = net.node();
    net.ideal_source(last, Node::GROUND, volts);
    let mut branches = Vec::new();
    for (at, &law) in laws.iter().enumerate() {
        let next = if at + 1 == laws.len() { Node::GROUND } else { net.node() };
        branches.push(net.branch(last, next, law));
        last = next;
    }
    let (network, laws) = net.build().unwrap();
    (operating_point(&network, &laws, &[]).unwrap(), branches)
}

/// Junctions in series, against each other, behind gigohms and on a supply through milliohms: the current of a chain is
/// one, the supply's volts are shared out, and what can be worked out comes out.
#[test]
fn junctions_settle_wherever_they_are() {
    let forward = junction_of_a_coil();
    let Law::Diode(diode) = forward else { unreachable!("it is a junction") };
    for ohms in [1e-3, 1.0, 1e4, 1e9] {
        for volts in [-16.0, -0.3, 0.0, 0.3, 12.0, 40.0] {
            for count in [1, 2, 5] {
                let mut laws = vec![Law::ohms(ohms)];
                laws.resize(1 + count, forward);
                let (point, branches) = chain(volts, &laws);
                let amps = point.amps(branches[0]);
                for &branch in &branches {
                    let apart = (point.amps(branch) - amps).abs();
                    assert!(
                        apart <= 1e-9 * amps.abs() + 1e-12,
                        "{ohms} Ω, {volts} V, {count}: {apart} A apart"
                    );
                }
                // Worked out: V = I R + n slope ln(1 + I / I_s), while that is not continued by its tangent.
                if amps > -0.99 * diode.saturation_amps && amps < 1e3 {
                    let drop = diode.slope_volts * libm::log1p(amps / diode.saturation_amps);
                    let sum = amps * ohms + count as f64 * drop;
                    assert!(
                        (sum - volts).abs() <= 1e-9 * volts.abs() + 1e-6,
                        "{ohms} Ω, {count}: {sum} of {volts} V"
                    );
                }
            }
        }
    }
}

/// A bridge of four junctions passes both halves of a supply to one load, and what is left out is what two of them drop.
#[test]
fn a_bridge_of_junctions_turns_both_ways_into_one() {
    for (ohms, volts) in [(100.0, 12.0), (100.0, -12.0), (1e9, 12.0), (0.01, -12.0)] {
        let mut net = NetworkBuilder::new();
        let [supply, a, plus, minus] = [(); 4].map(|()| net.node());
        net.ideal_source(supply, Node::GROUND, volts);
        net.resistor(supply, a, 1e-3);
        for (from, to) in [(a, plus), (Node::GROUND, plus), (minus, a), (minus, Node::GROUND)] {
            net.branch(from, to, junction_of_a_coil());
        }
        let load = net.resistor(plus, minus, ohms);
        let (network, laws) = net.build().unwrap();
        let point = operating_point(&network, &laws, &[]).unwrap();
        let amps = point.amps(load);
        let Law::Diode(diode) = junction_of_a_coil() else { unreachable!("it is a junction") };
        let by_hand =
            volts.abs() - 2.0 * diode.slope_volts * libm::log1p(amps / diode.saturation_amps) - 1e-3 * amps;
        // The two that block let their saturation current by.
        assert!(
            amps > 0.0 && (amps * ohms - by_hand).abs() < 0.05 * by_hand,
            "{ohms} Ω: {amps} A, {by_hand} V by hand"
        );
    }
}

/// A meter of 10 MΩ behind a junction draws its own current through it: worked out by bisection of the one equation.
#[test]
fn a_meter_behind_a_junction_reads_what_its_own_current_leaves() {
    for law in [junction_of_a_coil(), Law::Diode(Diode::dropping(0.6, 1e-3, 0.026))] {
        let mut net = NetworkBuilder::new();
        let [supply, behind] = [net.node(), net.node()];
        net.branch(supply, Node::GROUND, Law::source(12.0, 0.01));
        net.branch(supply, behind, law);
        net.resistor(behind, Node::GROUND, 1e9);
        let (network, laws) = net.build().unwrap();
        let point = operating_point(&network, &laws, &[]).unwrap();
        let meter = Load { from: behind, to: Node::GROUND, law: Law::ohms(10e6), lead_ohms: 0.1 };
        let felt = point.ports(&network, &[behind, Node::GROUND]).attach(&meter).unwrap();
        let (mut low, mut high) = (0.0, 12.0);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            let drawn = middle / 10e6 + middle / 1e9;
            if law.current(12.0 - middle).0 > drawn { low = middle } else { high = middle }
        }
        assert!((felt.volts - low).abs() < 1e-6, "{} V, by hand {low} V", felt.volts);
        assert!(point.volts(behind) - felt.volts > 1e-3, "without it there is more");
    }
}

/// Leads on one node read nothing, two meters read what one of them leaves, and a bridge may close a loop.
#[test]
fn leads_may_go_anywhere() {
    let mut net = NetworkBuilder::new();
    let [supply, middle, apart] = [(); 3].map(|()| net.node());
    net.ideal_source(supply, Node::GROUND, 24.0);
    for (from, to) in [(supply, middle), (middle, Node::GROUND)] {
        net.resistor(from, to, 250e6);
    }
    net.resistor(apart, Node::GROUND, 1e9);
    let (network, laws) = net.build().unwrap();
    let meter = |from: Node, to: Node| Load { from, to, law: Law::ohms(10e6), lead_ohms: 0.1 };
    let felt = |loads: &[Load]| operating_point(&network, &laws, loads).unwrap().loads().to_vec();
    assert_eq!(felt(&[meter(middle, middle)])[0], LoadPoint { volts: 0.0, amps: 0.0 });
    let one = felt(&[meter(middle, Node::GROUND)])[0].volts;
    let two = felt(&[meter(middle, Node::GROUND), meter(middle, Node::GROUND)]);
    assert!((one - 24.0 / 27.0).abs() < 1e-6 && (two[0].volts - 24.0 / 52.0).abs() < 1e-6);
    assert!((two[0].volts - two[1].volts).abs() < 1e-12);
    // Worked out: bridged to the supply, the piece apart and the middle stand at 24 V.
    let bridge = |from: Node, to: Node| Load { from, to, law: Law::ohms(0.01), lead_ohms: 0.02 };
    let bridges = [bridge(supply, apart), bridge(apart, middle), bridge(middle, supply)];
    let point = operating_point(&network, &laws, &bridges).unwrap();
    assert!([apart, middle].iter().all(|node| (point.volts(*node) - 24.0).abs() < 1e-6));
    // A port that nobody asked for, and a load on a point that has one already, are refused.
    let point = operating_point(&network, &laws, &[]).unwrap();
    let ports = point.ports(&network, &[middle]);
    assert_eq!(ports.attach(&meter(middle, apart)), Err(Unsolved::NoPort(apart)));
    let loaded = operating_point(&network, &laws, &[meter(middle, Node::GROUND)]).unwrap();
    let ports = loaded.ports(&network, &[middle, apart]);
    assert_eq!(ports.attach(&meter(middle, apart)), Err(Unsolved::LoadLeftOut));
    assert_eq!(operating_point(&network, &laws[1..], &[]).map(|_| ()), Err(Unsolved::BadCount(2)));
    let prepared = network.with_loads(&[(middle, apart)]);
    assert_eq!(prepared.operating_point(&laws, &[]).map(|_| ()), Err(Unsolved::BadLoad(0)));
    assert_eq!(
        prepared.operating_point(&laws, &[meter(apart, middle)]).map(|_| ()),
        Err(Unsolved::BadLoad(0))
    );
}
