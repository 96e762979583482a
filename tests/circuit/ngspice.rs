//! Circuits against ngspice, an independent simulator: random ones, and every state of every vehicle.
//!
//! How circuits are written for it, and that nothing of how they are solved is shared with it, stands in
//! `common/netlist.rs`. Without ngspice these tests say that they were skipped; with `CI` set in the environment they
//! fail instead, and compare more.
#![expect(clippy::print_stdout, reason = "how much was compared, and how well it agrees, is worth telling")]

use crate::draw;
use crate::netlist;

use draw::Draw;
use netlist::{Analysis, Deck, Netlist, can_compare, name, node_volts, run};
use probeworthy::circuit::{
    Diode, FUSE_RATINGS_AMPS, Filament, Law, Limited, Load, NetworkBuilder, Node, OperatingPoint, Unsolved,
    operating_point, warm_fuse,
};
use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{SHELF, Scenario, VEHICLES, load, point_name};
use probeworthy::vehicle::{Conditions, LidPosition, Pace, PartKind, PhysicalState, Point, Vehicle, Wiring};

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

fn lamp(draw: &mut Draw) -> Filament {
    Filament { rated_volts: draw.one(&[12.0, 13.5, 24.0]), rated_watts: draw.between(1.0, 60.0) }
}

/// A source behind a resistance.
fn source(draw: &mut Draw) -> Law {
    let volts = draw.between(-15.0, 15.0);
    Law::source(volts, draw.decades(-2.0, 6.0))
}

/// A random circuit.
struct Random {
    builder: NetworkBuilder,
    /// Nodes that something can be joined to.
    nodes: Vec<Node>,
    /// Those that are tied to the reference by insulation only.
    insulated: Vec<Node>,
    sources: Vec<(Node, Node, f64)>,
    loads: Vec<Load>,
}

impl Random {
    /// A tree that ties every node to the reference, anything between any two nodes beside it, and what a person has
    /// connected.
    fn new(seed: u64) -> Self {
        let mut draw = Draw::new(seed);
        let mut random = Self {
            builder: NetworkBuilder::new(),
            nodes: vec![Node::GROUND],
            insulated: Vec::new(),
            sources: Vec::new(),
            loads: Vec::new(),
        };
        for _ in 0..3 + draw.below(30) {
            random.tie(&mut draw);
        }
        for _ in 0..draw.below(2 * random.nodes.len()) {
            random.join(&mut draw);
        }
        for _ in 0..draw.below(4) {
            random.connect(&mut draw);
        }
        random
    }

    /// Two nodes, not the same.
    fn two(&self, draw: &mut Draw) -> [Node; 2] {
        let [first, step] = [draw.below(self.nodes.len()), 1 + draw.below(self.nodes.len() - 1)];
        [first, (first + step) % self.nodes.len()].map(|at| self.nodes[at])
    }

    fn is_insulated(&self, node: Node) -> bool {
        self.insulated.contains(&node)
    }

    /// Ties a new node to the rest by what carries current both ways, whatever its voltage.
    fn tie(&mut self, draw: &mut Draw) {
        let to = draw.one(&self.nodes);
        let insulates = draw.below(12) == 0;
        let insulated = insulates || self.is_insulated(to);
        let from = self.builder.node();
        self.nodes.push(from);
        if insulated {
            self.insulated.push(from);
        }
        // A source's current is rounded, and a piece that hangs on gigohms has volts of that: none is put there.
        let kinds = if insulated { 9 } else { 12 };
        let law = match draw.below(kinds) {
            _ if insulates => Law::ohms(draw.decades(6.0, 10.0)),
            // A joint to a leaking wire.
            0..6 => Law::ohms(draw.decades(-3.0, 6.0)),
            6 => Law::Filament(lamp(draw)),
            7 => Law::WarmFuse(warm_fuse(f64::from(draw.one(&FUSE_RATINGS_AMPS)))),
            8 => Law::Limited(Limited {
                on_ohms: draw.decades(-2.0, 0.0),
                limit_amps: draw.between(1.0, 10.0),
            }),
            9 => source(draw),
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

    /// Joins two nodes by anything but an ideal source, since those may not close a loop.
    fn join(&mut self, draw: &mut Draw) {
        let [from, to] = self.two(draw);
        let insulated = self.is_insulated(from) || self.is_insulated(to);
        let law = match draw.below(8) {
            // A junction, with some of the resistance that every real one has.
            0 => {
                let (volts, amps) = (draw.between(0.25, 1.0), draw.between(0.5, 5.0));
                let diode = Diode::dropping(volts, amps, draw.between(0.0259, 0.0517));
                let inner = self.builder.node();
                self.builder.branch(from, inner, Law::Diode(diode));
                self.builder.resistor(inner, to, draw.decades(-1.0, 3.0));
                return;
            }
            // A switch, open or closed.
            1 => draw.one(&[Law::OPEN, Law::ohms(0.005)]),
            2 => Law::Filament(lamp(draw)),
            3 if !insulated => source(draw),
            _ => Law::ohms(draw.decades(-3.0, 6.0)),
        };
        self.builder.branch(from, to, law);
    }

    /// Connects an instrument.
    fn connect(&mut self, draw: &mut Draw) {
        let [from, to] = self.two(draw);
        let instruments = [
            (Law::ohms(10e6), 0.1),
            (Law::source(2.6, 8e3), 0.1),
            (Law::ohms(0.03), 0.1),
            (Law::Filament(Filament { rated_volts: 12.0, rated_watts: 5.0 }), 0.05),
            (Law::Filament(Filament { rated_volts: 12.0, rated_watts: 21.0 }), 0.05),
            (Law::source(12.6, 0.025), 0.02),
        ];
        let battery = usize::from(!self.is_insulated(from) && !self.is_insulated(to));
        let (law, lead_ohms) = draw.one(&instruments[..5 + battery]);
        self.loads.push(Load { from, to, law, lead_ohms });
    }

    /// The circuit as the model finds it, and as ngspice is asked about it.
    fn solve(self) -> (Result<OperatingPoint, Unsolved>, Deck) {
        let (network, laws) = self.builder.build().expect("a tree of sources has no loop");
        let point = operating_point(&network, &laws, &self.loads);
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
    let mut wrong = Vec::new();
    for ((seed, point), answer) in seeds.clone().zip(&points).zip(&answers) {
        let Some(vectors) = &answer[0] else {
            unsolved += 1;
            continue;
        };
        let point = match point {
            Ok(point) => point,
            Err(why) => {
                wrong.push(format!("circuit {seed}: {why}; ngspice solves it"));
                continue;
            }
        };
        for (at, reference) in node_volts(vectors).into_iter().enumerate() {
            let found = point.volts(Node(at));
            if apart(found, reference) > 1.0 {
                wrong.push(format!("circuit {seed}, node {at}: {found:e} V, ngspice has {reference:e} V"));
            }
            worst = worst.max(apart(found, reference));
            nodes += 1;
        }
    }
    println!(
        "{} circuits with {nodes} nodes; {unsolved} that ngspice did not solve; worst {worst:.1e} of what is allowed",
        points.len()
    );
    let first = &wrong[..wrong.len().min(20)];
    assert!(first.is_empty(), "{} differ, among them:\n{}", wrong.len(), first.join("\n"));
    assert!(unsolved * 100 <= points.len(), "ngspice did not solve {unsolved} of {} circuits", points.len());
}

/// Pairs of points at which each state is metered.
const PLACES: usize = 20;
/// Faults of each vehicle that are compared where not all are.
const SAMPLE: usize = 5;
/// A meter on volts, and its leads, in ohms.
const METER_OHMS: f64 = 10e6;
const METER_LEADS_OHMS: f64 = 0.1;
/// A meter that is not there, in ohms.
const NO_METER_OHMS: f64 = 1e30;

/// A vehicle with a fault, in the conditions in which it comes in: shut with all lamps off, and with the lid up and every
/// switch that stays on.
fn states(
    vehicle: &Vehicle,
    fault: &PlacedFault,
    conditions: Conditions,
) -> [(&'static str, PhysicalState); 2] {
    let mut shut = fault.stands(vehicle);
    shut.stand_in(conditions);
    let mut up = shut.clone();
    up.claw_home = false;
    up.move_lid(LidPosition::Angle(vehicle.lid.full_degrees));
    for (id, part) in vehicle.parts() {
        if let PartKind::Switch { springs_back: false, .. } = part.kind {
            up.on[id.index()] = true;
        }
    }
    [("shut, all off", shut), ("lid up, all on", up)]
}

/// One vehicle in one state, as the model finds it and as ngspice is asked about it: all its nodes at rest, and a meter
/// at each place.
struct Stand {
    what: String,
    volts: Vec<f64>,
    metered: Vec<(String, f64)>,
}

impl Stand {
    fn new(what: String, vehicle: &Vehicle, state: &PhysicalState, places: &[[Point; 2]]) -> (Self, Deck) {
        let wiring = Wiring::new(vehicle, state);
        let (network, laws) = (wiring.network(), wiring.laws(vehicle, state, &[], Pace::Rest));
        let solve =
            |loads: &[Load]| operating_point(network, &laws, loads).expect("a vehicle has a solution");
        let at_rest = solve(&[]);
        let volts = (0..network.nodes()).map(|at| at_rest.volts(Node(at))).collect();
        let mut netlist = Netlist::of(network, &laws);
        let mut analyses = vec![Analysis::at_rest((0..network.nodes()).map(Node))];
        let mut metered = Vec::new();
        let mut last = None;
        for (at, &[red, black]) in places.iter().enumerate() {
            let (from, to) = (wiring.node(red), wiring.node(black));
            let law = Law::ohms(METER_OHMS);
            let volts = solve(&[Load { from, to, law, lead_ohms: METER_LEADS_OHMS }]).loads()[0].volts;
            metered.push((format!("{} to {}", point_name(vehicle, red), point_name(vehicle, black)), volts));

            // Every meter is there from the beginning, and is no more than a leakage of its own until it is its turn.
            let inner = format!("m{at}");
            netlist.law(&name(from), &inner, &Law::ohms(METER_LEADS_OHMS));
            let meter = netlist.resistor(&inner, &name(to), NO_METER_OHMS);
            let mut before = vec![format!("alter {meter}={METER_OHMS:e}")];
            before.extend(last.replace(meter).map(|last| format!("alter {last}={NO_METER_OHMS:e}")));
            let mut vectors = vec![format!("v({inner})")];
            if to != Node::GROUND {
                vectors.push(format!("v({})", name(to)));
            }
            analyses.push(Analysis { before, command: "op".to_owned(), vectors });
        }
        (Self { what, volts, metered }, Deck { netlist, analyses })
    }
}

/// Every fault of every scenario, its vehicle shut with all off and wide open with all on: every node at rest, and what
/// a meter of 10 MΩ feels between twenty pairs of points. What several scenarios of a vehicle have in common is compared
/// once. A plain run takes a seeded sample of each vehicle's faults; with `CI` set all are compared.
#[test]
fn ngspice_agrees_about_every_vehicle_with_every_fault() {
    if !can_compare() {
        return;
    }
    let all: Vec<Scenario> =
        SHELF.iter().map(|shelf| load(shelf.id).expect("the shelf is sound").scenario).collect();
    for (id, _) in VEHICLES {
        let scenarios: Vec<&Scenario> = all.iter().filter(|one| one.vehicle.id == *id).collect();
        let vehicle = &scenarios.first().expect("every vehicle is used").vehicle;
        let mut draw = Draw::new(1);
        let mut faults: Vec<(&PlacedFault, Conditions)> = Vec::new();
        for scenario in &scenarios {
            for fault in &scenario.faults {
                let alike = |(known, conditions): &(&PlacedFault, Conditions)| {
                    known.deviations == fault.deviations
                        && known.changes == fault.changes
                        && *conditions == scenario.conditions
                };
                if !faults.iter().any(alike) {
                    faults.push((fault, scenario.conditions));
                }
            }
        }
        while !at_length() && faults.len() > SAMPLE {
            faults.swap_remove(draw.below(faults.len()));
        }
        let points = vehicle.points();
        let (mut stands, mut decks) = (Vec::new(), Vec::new());
        for (fault, conditions) in faults {
            for (how, state) in states(vehicle, fault, conditions) {
                let places: Vec<[Point; 2]> =
                    (0..PLACES).map(|_| [draw.one(&points), draw.one(&points)]).collect();
                let (stand, deck) = Stand::new(format!("{}, {how}", fault.id), vehicle, &state, &places);
                stands.push(stand);
                decks.push(deck);
            }
        }
        let (mut compared, mut worst) = (0, 0.0_f64);
        let mut check = |found: f64, reference: f64, what: &str| {
            let apart = apart(found, reference);
            assert!(apart <= 1.0, "{id}: {what}: {found:e} V, ngspice has {reference:e} V");
            worst = worst.max(apart);
            compared += 1;
        };
        for (stand, answers) in stands.iter().zip(run(&decks)) {
            let mut answers = answers.iter();
            let mut next = || answers.next().and_then(Option::as_ref).expect("ngspice solves every vehicle");
            for (at, (found, reference)) in stand.volts.iter().zip(node_volts(next())).enumerate() {
                check(*found, reference, &format!("{}, node {at}", stand.what));
            }
            for (place, found) in &stand.metered {
                let volts = next();
                let black = volts.get(1).map_or(0.0, |points| points[0]);
                check(*found, volts[0][0] - black, &format!("{}, meter from {place}", stand.what));
            }
        }
        println!("{id}: {} states, {compared} voltages; worst {worst:.1e} of what is allowed", stands.len());
    }
}
