//! Circuits against ngspice, an independent simulator: random ones, and every state of every vehicle.
//!
//! How circuits are written for it, and that nothing of how they are solved is shared with it, stands in
//! `common/netlist.rs`. Without ngspice these tests say that they were skipped; with `CI` set in the environment they
//! fail instead, and compare more.

#[path = "common/netlist.rs"]
mod netlist;

use netlist::{Analysis, Deck, Netlist, can_compare, node_volts, run};
use probeworthy::circuit::{
    Branch, Diode, FUSE_RATINGS_AMPS, Filament, Law, Limited, Load, NetworkBuilder, Node, OperatingPoint,
    operating_point, warm_fuse,
};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// What a node's voltage may differ by: this share of it, or this many volts.
const SHARE: f64 = 1e-6;
const VOLTS: f64 = 1e-6;

/// Whether everything is compared, and not a sample.
fn at_length() -> bool {
    std::env::var_os("CI").is_some()
}

/// How far apart two voltages are, where 1 is the most that is allowed.
fn apart(found: f64, reference: f64) -> f64 {
    (found - reference).abs() / (SHARE * reference.abs()).max(VOLTS)
}

/// Draws.
struct Draw(ChaCha8Rng);

impl Draw {
    fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    fn below(&mut self, limit: usize) -> usize {
        (self.0.next_u64() % limit as u64) as usize
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From 10^`low` to 10^`high`, each decade as likely as any other.
    fn decades(&mut self, low: f64, high: f64) -> f64 {
        libm::exp10(self.between(low, high))
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }
}

/// A random circuit.
struct Random {
    builder: NetworkBuilder,
    nodes: Vec<Node>,
    sources: Vec<(Node, Node, f64)>,
    loads: Vec<Load>,
}

impl Random {
    /// A tree that ties every node to the reference with what always carries current, anything between any two nodes
    /// beside it, and what a person has connected.
    fn new(seed: u64) -> Self {
        let mut draw = Draw::new(seed);
        let mut random = Self {
            builder: NetworkBuilder::new(),
            nodes: vec![Node::GROUND],
            sources: Vec::new(),
            loads: Vec::new(),
        };
        for _ in 0..3 + draw.below(30) {
            let to = draw.one(&random.nodes);
            let from = random.builder.node();
            random.nodes.push(from);
            random.carrier(&mut draw, from, to);
        }
        for _ in 0..draw.below(2 * random.nodes.len()) {
            let [from, to] = [draw.one(&random.nodes), draw.one(&random.nodes)];
            random.anything(&mut draw, from, to);
        }
        for _ in 0..draw.below(4) {
            let [from, to] = [draw.one(&random.nodes), draw.one(&random.nodes)];
            let (law, lead_ohms) = draw.one(&[
                (Law::ohms(10e6), 0.1),
                (Law::source(2.6, 8e3), 0.1),
                (Law::ohms(0.03), 0.1),
                (Law::Filament(Filament { rated_volts: 12.0, rated_watts: 5.0 }), 0.05),
                (Law::Filament(Filament { rated_volts: 12.0, rated_watts: 21.0 }), 0.05),
                (Law::source(12.6, 0.025), 0.02),
            ]);
            random.loads.push(Load { from, to, law, lead_ohms });
        }
        random
    }

    /// What carries current both ways, whatever its voltage.
    fn carrier(&mut self, draw: &mut Draw, from: Node, to: Node) {
        let law = match draw.below(12) {
            // A joint to a leaking wire.
            0..5 => Law::ohms(draw.decades(-3.0, 6.0)),
            // Insulation.
            5 => Law::ohms(draw.decades(6.0, 10.0)),
            6 => Law::Filament(Filament {
                rated_volts: draw.one(&[12.0, 13.5, 24.0]),
                rated_watts: draw.between(1.0, 60.0),
            }),
            7 => Law::source(draw.between(-15.0, 15.0), draw.decades(-2.0, 6.0)),
            8 => Law::WarmFuse(warm_fuse(f64::from(draw.one(&FUSE_RATINGS_AMPS)))),
            9 => {
                Law::Limited(Limited { on_ohms: draw.decades(-2.0, 0.0), limit_amps: draw.between(1.0, 10.0) })
            }
            // A motor at speed.
            10 => Law::Linear { siemens: draw.between(0.01, 1.0), amps: draw.between(0.1, 2.0) },
            _ => {
                let volts = draw.between(-15.0, 15.0);
                self.builder.ideal_source(from, to, volts);
                self.sources.push((from, to, volts));
                return;
            }
        };
        self.builder.branch(from, to, law);
    }

    /// Anything but an ideal source, since those may not close a loop.
    fn anything(&mut self, draw: &mut Draw, from: Node, to: Node) {
        match draw.below(8) {
            // A junction, with some of the resistance that every real one has.
            0 => {
                let diode = Diode::dropping(
                    draw.between(0.25, 1.0),
                    draw.between(0.5, 5.0),
                    draw.between(0.0259, 0.0517),
                );
                let inner = self.builder.node();
                self.nodes.push(inner);
                self.builder.branch(from, inner, Law::Diode(diode));
                self.builder.resistor(inner, to, draw.decades(-1.0, 3.0));
            }
            // A switch, open or closed.
            1 => {
                let law = draw.one(&[Law::OPEN, Law::ohms(0.005)]);
                self.builder.branch(from, to, law);
            }
            2 => {
                let volts = draw.between(-15.0, 15.0);
                self.builder.branch(from, to, Law::source(volts, draw.decades(-2.0, 6.0)));
            }
            3 => {
                let rated_watts = draw.between(1.0, 60.0);
                self.builder.branch(from, to, Law::Filament(Filament { rated_volts: 12.0, rated_watts }));
            }
            _ => {
                self.builder.resistor(from, to, draw.decades(-3.0, 6.0));
            }
        }
    }

    /// The circuit as the model finds it, and as ngspice is asked about it.
    fn solve(self) -> (OperatingPoint, Deck) {
        let (network, laws) = self.builder.build().expect("a tree of sources has no loop");
        let point = operating_point(&network, &laws, &self.loads).expect("every such circuit has a solution");
        for (at, law) in laws.iter().enumerate() {
            if let Law::Diode(_) = law {
                let amps = point.amps(Branch(at));
                assert!(amps < 1e3, "{amps} A: beyond what a junction is compared for");
            }
        }
        let mut netlist = Netlist::of(&network, &laws);
        for (plus, minus, volts) in self.sources {
            netlist.ideal_source(plus, minus, volts);
        }
        for load in &self.loads {
            netlist.load(load);
        }
        let analyses = vec![Analysis::at_rest((0..network.nodes()).map(Node))];
        (point, Deck { netlist, analyses })
    }
}

/// Random circuits of lamps, junctions, fuses, limited outputs, sources, switches and resistors over thirteen decades,
/// with instruments on them: every node within a millionth or a microvolt of ngspice, which itself may leave one in a
/// hundred unsolved.
#[test]
fn ngspice_agrees_about_random_circuits() {
    if !can_compare() {
        return;
    }
    let seeds = 1..=if at_length() { 1000 } else { 100 };
    let (points, decks): (Vec<_>, Vec<_>) = seeds.clone().map(|seed| Random::new(seed).solve()).unzip();
    let answers = run(&decks);
    let (mut nodes, mut unsolved, mut worst) = (0, 0, 0.0_f64);
    for ((seed, point), answer) in seeds.clone().zip(&points).zip(&answers) {
        let Some(vectors) = &answer[0] else {
            unsolved += 1;
            continue;
        };
        for (at, reference) in node_volts(vectors).into_iter().enumerate() {
            let found = point.volts(Node(at));
            assert!(
                apart(found, reference) <= 1.0,
                "circuit {seed}, node {at}: {found:e} V, ngspice has {reference:e} V"
            );
            worst = worst.max(apart(found, reference));
            nodes += 1;
        }
    }
    println!(
        "{} circuits with {nodes} nodes; {unsolved} that ngspice did not solve; worst {worst:.3} of what is allowed",
        points.len()
    );
    assert!(unsolved * 100 <= points.len(), "ngspice did not solve {unsolved} of {} circuits", points.len());
}
