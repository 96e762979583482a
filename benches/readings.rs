//! How long operating points and readings take, beside a dense Cholesky factorisation (nalgebra) and ngspice, all in one
//! run on one core. `cargo bench --no-default-features --bench readings`
//!
//! Machines differ and are noisy: what is held against the bars are ratios within one run, of medians of several rounds.
#![allow(clippy::print_stdout, reason = "that is what it is for")]
#![allow(missing_docs, reason = "a program of its own")]

#[path = "../tests/common/netlist.rs"]
mod netlist;

use std::hint::black_box;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;

use netlist::{Netlist, name};
use probeworthy::bench::{Action, Certain, InstrumentErrors, Lead, MeterSetting, World, step};
use probeworthy::circuit::{
    Branch, Diode, Dynamic, Filament, Law, Load, LoadPoint, Memory, Network, NetworkBuilder, Node, Transient,
    Workspace,
};
use probeworthy::scenario::{self, Scenario};
use probeworthy::vehicle::{KeyButton, Pace, PartKind, Point, Wiring};

/// Rounds of which the median is taken, and how many of them need a process of ngspice.
const ROUNDS: usize = 7;
const PROCESS_ROUNDS: usize = 5;
/// Bars: how many times faster than the other.
const FRESH_BAR: f64 = 50.0;
const DENSE_BAR: f64 = 6.0;
const NONLINEAR_BAR: f64 = 8.0;
/// How many nodes of a loom a lead reaches.
const REACHED: usize = 40;

fn main() {
    let loom = Loom::new(60, false);
    println!("loom of 60 nodes, straight: {} branches", loom.laws.len());
    let (fresh, dense, dense_ratio) = beside(ROUNDS, || fresh_seconds(&loom), || dense_seconds(&loom));
    tell("fresh operating point (one value changed, all voltages and currents)", fresh);
    tell("the same by dense Cholesky (nalgebra), voltages only", dense);
    let workspace = Workspace::new(&loom.network);
    println!("  a workspace holds {} bytes before its first use", workspace.bytes());
    let volt = volt_readings(&loom);
    println!("  voltmeter: {:.1} million readings a second, factor and ports included", volt * 1e-6);
    println!("  test lamp: {:.0} thousand readings a second", load_readings(&loom) * 1e-3);

    let curved = Loom::new(60, true);
    println!("loom of 60 nodes with {} lamps and junctions:", curved.curves());
    tell("operating point", fresh_seconds(&curved));
    println!("  voltmeter: {:.1} million readings a second", volt_readings(&curved) * 1e-6);
    let lamp = load_readings(&curved);
    println!("  test lamp: {:.0} thousand readings a second", lamp * 1e-3);

    let estate = Estate::new();
    let lit = estate.lit();
    println!(
        "the estate: {} nodes, {} branches, {} of them curved",
        lit.network.nodes(),
        lit.laws.len(),
        lit.curves()
    );
    let straight = lit.straight();
    tell("fresh operating point, lamps as resistors", fresh_seconds(&straight));
    tell("operating point with its lamps", fresh_seconds(&lit));
    println!("  voltmeter: {:.1} million readings a second", volt_readings(&lit) * 1e-6);
    println!("  test lamp: {:.0} thousand readings a second", load_readings(&lit) * 1e-3);
    let (pulse, probe) = estate.act_seconds();
    tell("the key's release pressed, with a voltmeter connected", pulse);
    tell("a lead of that voltmeter moved", probe);

    let (steps, seconds) = transient_steps(&Loom::new(220, false));
    println!("in time: a motor on a loom of 220 nodes, {steps} steps:");
    tell("all of them", seconds);

    println!("sizes:   nodes  fresh µs  dense µs  ratio  ns a voltmeter reading  workspace B  ports B");
    for nodes in [30, 60, 120, 240, 480] {
        let loom = Loom::new(nodes, false);
        let rounds = if nodes < 400 { ROUNDS } else { 3 };
        let (fresh, dense, ratio) = beside(rounds, || fresh_seconds(&loom), || dense_seconds(&loom));
        let mut workspace = Workspace::new(&loom.network);
        let point =
            workspace.solve(&loom.network, &loom.laws).expect("a loom has an operating point").clone();
        println!(
            "         {nodes:5}  {:8.2}  {:8.1}  {:5.1}  {:22.1}  {:11}  {:7}",
            fresh * 1e6,
            dense * 1e6,
            ratio,
            1e9 / volt_readings(&loom),
            workspace.bytes(),
            point.ports(&loom.network, &loom.reached).bytes()
        );
    }
    two_threads(&curved);

    let version = ngspice_version();
    let (mut fresh_ratio, mut nonlinear_ratio) = (f64::NAN, f64::NAN);
    let reference = match &version {
        None => {
            println!("ngspice is not installed: its ratios are left out");
            "none".to_owned()
        }
        Some(version) => {
            println!(
                "ngspice {version}, altering one part and solving again in one process: processor time, net of start-up; its command interpreter is in it"
            );
            let theirs;
            (_, theirs, fresh_ratio) =
                beside(PROCESS_ROUNDS, || fresh_seconds(&loom), || ngspice_seconds(&loom, 3000));
            tell("ngspice, straight loom", theirs);
            let theirs;
            (_, theirs, nonlinear_ratio) =
                beside(PROCESS_ROUNDS, || fresh_seconds(&lit), || ngspice_seconds(&lit, 500));
            tell("ngspice, the estate with its lamps, at its usual tolerances", theirs);
            format!("ngspice-{version}")
        }
    };
    for (what, ratio, bar) in [
        ("fresh, to ngspice", fresh_ratio, FRESH_BAR),
        ("fresh, to dense Cholesky", dense_ratio, DENSE_BAR),
        ("the estate's lamps, to ngspice", nonlinear_ratio, NONLINEAR_BAR),
    ] {
        let verdict = if ratio.is_nan() {
            "not measured"
        } else if ratio >= bar {
            "met"
        } else {
            "MISSED"
        };
        println!("bar: {what}: {ratio:.1} times, at least {bar} wanted: {verdict}");
    }
    println!(
        "figures: fresh_ratio={fresh_ratio:.1} dense_ratio={dense_ratio:.1} nonlinear_ratio={nonlinear_ratio:.1} volt_per_s={volt:.0} load_per_s={lamp:.0} pulse_per_s={:.0} probe_per_s={:.0} reference={reference}",
        1.0 / pulse,
        1.0 / probe
    );
}

fn tell(what: &str, seconds: f64) {
    println!("  {what}: {:.2} µs", seconds * 1e6);
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Two measurements by turns, so that a busy machine slows both: the median of each, and of the second over the first.
fn beside(rounds: usize, mut ours: impl FnMut() -> f64, mut theirs: impl FnMut() -> f64) -> (f64, f64, f64) {
    let pairs: Vec<(f64, f64)> = (0..rounds).map(|_| (ours(), theirs())).collect();
    (
        median(pairs.iter().map(|(ours, _)| *ours).collect()),
        median(pairs.iter().map(|(_, theirs)| *theirs).collect()),
        median(pairs.iter().map(|(ours, theirs)| theirs / ours).collect()),
    )
}

/// The median over rounds of the time that one call takes, in seconds. Rounds are so short that on a busy machine most
/// of them are not interrupted.
fn median_seconds(mut call: impl FnMut(usize)) -> f64 {
    const ROUNDS: usize = 31;
    const ROUND_SECONDS: f64 = 3e-4;
    let mut round = |calls: usize| {
        let begun = now();
        for at in 0..calls {
            call(at);
        }
        begun.elapsed().as_secs_f64() / calls as f64
    };
    let one = median((0..5).map(|_| round(1)).collect());
    let calls = (ROUND_SECONDS / one).clamp(1.0, 1000.0) as usize;
    median((0..ROUNDS).map(|_| round(calls)).collect())
}

#[expect(clippy::disallowed_methods, reason = "a bench is there to look at the clock")]
fn now() -> Instant {
    Instant::now()
}

/// A circuit to measure.
struct Loom {
    network: Network,
    laws: Vec<Law>,
    /// A straight branch whose value changes, and its two values.
    changed: (usize, [Law; 2]),
    /// Where leads go.
    reached: Vec<Node>,
}

/// Numbers that look random, from a fixed seed (Steele, Lea and Flood, OOPSLA 2014: SplitMix64; from memory).
struct Draw(u64);

impl Draw {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((bits ^ (bits >> 31)) % count as u64).expect("below a count")
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.below(1 << 20) as f64 / f64::from(1 << 20)
    }
}

impl Loom {
    /// A body loom with `nodes` nodes: a battery, a tree of wires with a few loops, loads, and leakage everywhere.
    fn new(nodes: usize, curved: bool) -> Self {
        let mut draw = Draw(nodes as u64);
        let mut net = NetworkBuilder::new();
        let all: Vec<Node> = (0..nodes).map(|_| net.node()).collect();
        net.branch(all[0], Node::GROUND, Law::source(12.6, 5e-3));
        let mut wires = Vec::new();
        for at in 1..nodes {
            // Mostly from station to station, sometimes from a splice.
            let from = if draw.below(10) < 7 { at - 1 } else { draw.below(at) };
            wires.push(net.resistor(all[from], all[at], draw.between(1e-3, 50e-3)));
        }
        for _ in 0..nodes / 20 {
            let (from, to) = (draw.below(nodes), draw.below(nodes));
            if from != to {
                net.resistor(all[from], all[to], draw.between(5e-3, 30e-3));
            }
        }
        for at in 0..nodes / 10 {
            let (to, ohms) = (all[nodes - 1 - 10 * at], draw.between(2.4, 30.0));
            if curved {
                let lamp = Filament { rated_volts: 13.5, rated_watts: 160.0 / ohms };
                net.branch(to, Node::GROUND, Law::Filament(lamp));
                if at % 2 == 0 {
                    // As coils have across them.
                    net.branch(Node::GROUND, to, Law::Diode(Diode::dropping(0.7, 1.0, 0.045)));
                }
            } else {
                net.resistor(to, Node::GROUND, ohms);
            }
        }
        for &node in &all {
            net.resistor(node, Node::GROUND, draw.between(0.5e9, 2e9));
        }
        let mut reached = all.clone();
        while reached.len() > REACHED {
            reached.remove(draw.below(reached.len()));
        }
        let (network, laws) = net.build().expect("there are no ideal sources");
        let changed = (wires[nodes / 2].0, [Law::ohms(0.020), Law::ohms(0.021)]);
        Self { network, laws, changed, reached }
    }

    fn curves(&self) -> usize {
        self.laws.iter().filter(|law| !matches!(law, Law::Conductance(_) | Law::Linear { .. })).count()
    }

    /// The same with lamps as resistors.
    fn straight(&self) -> Self {
        let laws = self.laws.iter().map(|law| match law {
            Law::Filament(filament) => {
                Law::ohms(filament.rated_volts * filament.rated_volts / filament.rated_watts)
            }
            other => *other,
        });
        Self {
            network: self.network.clone(),
            laws: laws.collect(),
            changed: self.changed,
            reached: self.reached.clone(),
        }
    }
}

/// One value changed, and everything solved afresh.
fn fresh_seconds(loom: &Loom) -> f64 {
    let mut laws = loom.laws.clone();
    let mut workspace = Workspace::new(&loom.network);
    let (branch, values) = loom.changed;
    median_seconds(|at| {
        laws[branch] = values[at % 2];
        let point = workspace.solve(&loom.network, black_box(&laws)).expect("there is an operating point");
        black_box(point.volts(Node(1)));
    })
}

/// The same by a dense matrix. The conductances are put in place, factored and solved with.
fn dense_seconds(loom: &Loom) -> f64 {
    let size = loom.network.nodes() - 1;
    let mut laws = loom.laws.clone();
    let (branch, values) = loom.changed;
    let mut matrix = nalgebra::DMatrix::<f64>::zeros(size, size);
    let mut amps = nalgebra::DVector::<f64>::zeros(size);
    let ends: Vec<(usize, usize)> = (0..laws.len())
        .map(|at| {
            let (from, to) = loom.network.ends(Branch(at));
            (from.0, to.0)
        })
        .collect();
    median_seconds(|at| {
        laws[branch] = values[at % 2];
        matrix.fill(0.0);
        amps.fill(0.0);
        for (law, &(from, to)) in black_box(&laws).iter().zip(&ends) {
            let (driven, siemens) = law.current(0.0);
            for (here, there, sign) in [(from, to, 1.0), (to, from, -1.0)] {
                if here > 0 {
                    matrix[(here - 1, here - 1)] += siemens;
                    amps[here - 1] -= sign * driven;
                    if there > 0 {
                        matrix[(here - 1, there - 1)] -= siemens;
                    }
                }
            }
        }
        let factor = nalgebra::Cholesky::new(matrix.clone()).expect("conductances are positive definite");
        black_box(factor.solve(&amps));
    })
}

/// A voltmeter on every pair of the nodes that a lead reaches: readings a second, with the operating point in hand.
fn volt_readings(loom: &Loom) -> f64 {
    let mut workspace = Workspace::new(&loom.network);
    let point = workspace.solve(&loom.network, &loom.laws).expect("there is an operating point");
    let reached = &loom.reached;
    let pairs = reached.len() * (reached.len() - 1) / 2;
    let seconds = median_seconds(|_| {
        let ports = point.ports(&loom.network, black_box(reached));
        let mut sum = 0.0;
        for (at, &from) in reached.iter().enumerate() {
            for &to in &reached[..at] {
                let meter = Load { from, to, law: Law::ohms(10e6), lead_ohms: 0.1 };
                sum += ports.attach(&meter).expect("a meter has a reading").volts;
            }
        }
        black_box(sum);
    });
    pairs as f64 / seconds
}

fn test_lamp(from: Node) -> Load {
    Load::lamp(from, Node::GROUND, Filament { rated_volts: 12.0, rated_watts: 5.0 }, 0.05)
}

/// A test lamp from every one of those nodes to ground: readings a second.
fn load_readings(loom: &Loom) -> f64 {
    let mut workspace = Workspace::new(&loom.network);
    let point = workspace.solve(&loom.network, &loom.laws).expect("there is an operating point");
    let mut nodes = loom.reached.clone();
    nodes.push(Node::GROUND);
    let seconds = median_seconds(|_| {
        let ports = point.ports(&loom.network, black_box(&nodes));
        for &from in &loom.reached {
            black_box(ports.attach(&test_lamp(from)).expect("a lamp has a reading"));
        }
    });
    loom.reached.len() as f64 / seconds
}

/// A motor at the end of a loom, switched on and followed until it is at speed: how many steps, and how long they take.
fn transient_steps(loom: &Loom) -> (usize, f64) {
    let last = loom.laws.iter().rposition(|law| matches!(law, Law::Conductance(siemens) if *siemens > 1e-3));
    let motor = Branch(last.expect("a loom has loads"));
    let dynamic = Dynamic::Motor {
        ohms: 1.2,
        henries: 1e-3,
        inertia_farads: 0.02,
        breakaway_amps: 0.8,
        idle_amps: 0.5,
        slope_siemens: 0.02,
    };
    let parts = [(motor, dynamic, Memory::default())];
    let start = Transient::new(&loom.network, &loom.laws, &parts).expect("a loom has an operating point");
    let mut steps = 0;
    let mut count = start.clone();
    count.advance_seen(0.1, &[], &mut |_| steps += 1).expect("a motor runs up");
    let seconds = median_seconds(|_| {
        let mut circuit = start.clone();
        circuit.advance(0.1, &[]).expect("a motor runs up");
        black_box(circuit.now().seconds);
    });
    (steps, seconds)
}

/// Readings of voltmeter and lamp on one thread and on two: the same bits.
fn two_threads(loom: &Loom) {
    let mut workspace = Workspace::new(&loom.network);
    let point = workspace.solve(&loom.network, &loom.laws).expect("there is an operating point").clone();
    let mut nodes = loom.reached.clone();
    nodes.push(Node::GROUND);
    let ports = point.ports(&loom.network, &nodes);
    let part = |from: &[Node]| -> Vec<LoadPoint> {
        let mut felt = Vec::new();
        for _ in 0..200 {
            felt.clear();
            for &from in from {
                for &to in &nodes {
                    let meter = Load { from, to, law: Law::ohms(10e6), lead_ohms: 0.1 };
                    felt.push(ports.attach(&meter).expect("a meter has a reading"));
                }
                felt.push(ports.attach(&test_lamp(from)).expect("a lamp has a reading"));
            }
        }
        felt
    };
    let (first, second) = loom.reached.split_at(loom.reached.len() / 2);
    let begun = now();
    let mut alone = part(first);
    alone.extend(part(second));
    let one = begun.elapsed().as_secs_f64();
    let begun = now();
    let mut together = Vec::new();
    std::thread::scope(|scope| {
        let threads = [scope.spawn(|| part(first)), scope.spawn(|| part(second))];
        for thread in threads {
            together.extend(thread.join().expect("the thread ends well"));
        }
    });
    let two = begun.elapsed().as_secs_f64();
    let hash = |felt: &[LoadPoint]| {
        let mut hasher = blake3::Hasher::new();
        for point in felt {
            hasher.update(&point.volts.to_bits().to_le_bytes());
            hasher.update(&point.amps.to_bits().to_le_bytes());
        }
        hasher.finalize().to_hex()
    };
    assert_eq!(hash(&alone), hash(&together), "two threads have other bits than one");
    println!("two threads: {:.2} times as fast as one, the same bits ({:.8})", one / two, hash(&alone));
}

/// The flagship scenario's vehicle.
struct Estate {
    scenario: Scenario,
}

impl Estate {
    fn new() -> Self {
        let loaded = scenario::load("tailgate-ignores-its-key").unwrap_or_else(|why| panic!("{why}"));
        Self { scenario: loaded.scenario }
    }

    fn world(&self) -> World {
        World::new(&self.scenario.vehicle, None, InstrumentErrors::NONE)
            .expect("a sound vehicle has an operating point")
    }

    fn act(&self, world: &mut World, action: &Action) {
        let outcome = step(&self.scenario.vehicle, world, action, &mut Certain);
        black_box(outcome.expect("a sound vehicle has an operating point"));
    }

    /// Its circuit with every switch that stays where it is put switched on.
    fn lit(&self) -> Loom {
        let vehicle = &self.scenario.vehicle;
        let mut world = self.world();
        for (at, part) in vehicle.parts.iter().enumerate() {
            if let PartKind::Switch { .. } = part.kind {
                world.state.on[at] = true;
            }
        }
        let wiring = Wiring::new(vehicle, &world.state);
        let laws = wiring.laws(vehicle, &world.state, &[], Pace::Rest);
        let mut reached: Vec<Node> = vehicle.points().into_iter().map(|point| wiring.node(point)).collect();
        reached.sort();
        reached.dedup();
        reached.retain(|node| *node != Node::GROUND);
        let mut draw = Draw(1);
        while reached.len() > REACHED {
            reached.remove(draw.below(reached.len()));
        }
        let network = wiring.network().clone();
        // A wire of some milliohms, in the middle.
        let wire = laws.iter().rposition(|law| matches!(law, Law::Conductance(siemens) if *siemens > 20.0));
        let wire = wire.expect("there are wires");
        let (_, siemens) = laws[wire].current(0.0);
        let changed = (wire, [laws[wire], Law::Conductance(siemens * 0.99)]);
        Loom { network, laws, changed, reached }
    }

    /// Does what nothing may stand in the way of.
    fn act_unrefused(&self, world: &mut World, action: &Action) {
        let outcome = step(&self.scenario.vehicle, world, action, &mut Certain);
        let outcome = outcome.expect("a sound vehicle has an operating point");
        assert_eq!(outcome.refused, None, "{action:?} is refused");
    }

    /// Two acts, in seconds each, with a voltmeter on two points that can be reached: the key's release pressed, and the
    /// meter's red lead moved to a third.
    fn act_seconds(&self) -> (f64, f64) {
        let vehicle = &self.scenario.vehicle;
        let mut world = self.world();
        self.act_unrefused(&mut world, &Action::Meter(MeterSetting::Volts));
        let can_be_touched = |point: &Point| {
            let probe = Action::Probe(Lead::Red, Some(*point));
            let outcome = step(vehicle, &mut world.clone(), &probe, &mut Certain);
            !matches!(point, Point::KeyPlus | Point::KeyMinus)
                && outcome.expect("a sound vehicle has an operating point").refused.is_none()
        };
        let points: Vec<Point> = vehicle.points().into_iter().filter(can_be_touched).take(3).collect();
        let [black, red, other] = points[..] else { panic!("the meter needs three points") };
        self.act_unrefused(&mut world, &Action::Probe(Lead::Black, Some(black)));
        self.act_unrefused(&mut world, &Action::Probe(Lead::Red, Some(red)));
        let seconds = |action: Action| {
            self.act_unrefused(&mut world.clone(), &action);
            median_seconds(|_| self.act(&mut world.clone(), &action))
        };
        (seconds(Action::Key(KeyButton::Release)), seconds(Action::Probe(Lead::Red, Some(other))))
    }
}

/// The version of ngspice, if there is one.
fn ngspice_version() -> Option<String> {
    let told = Command::new("ngspice").arg("-v").stdin(Stdio::null()).output().ok()?;
    let text = String::from_utf8_lossy(&told.stdout).into_owned();
    let number = text.split("ngspice-").nth(1)?;
    Some(number.chars().take_while(char::is_ascii_digit).collect())
}

/// Seconds of the processor that ngspice takes to alter one resistor and solve again: a process that does so many times,
/// less one that does so twice. Its answer has to agree.
fn ngspice_seconds(loom: &Loom, times: usize) -> f64 {
    let mut netlist = Netlist::default();
    let mut changed = String::new();
    for (at, law) in loom.laws.iter().enumerate() {
        let (from, to) = loom.network.ends(Branch(at));
        match *law {
            // Plain parts for what is straight, as anybody would write them.
            Law::Conductance(0.0) => {}
            Law::Conductance(siemens) => {
                let resistor = netlist.resistor(&name(from), &name(to), 1.0 / siemens);
                if at == loom.changed.0 {
                    changed = resistor;
                }
            }
            Law::Linear { siemens, amps } => {
                netlist.resistor(&name(from), &name(to), 1.0 / siemens);
                let source = netlist.number();
                netlist.line(&format!("i{source} {} {} dc {amps:e}", name(from), name(to)));
            }
            _ => netlist.law(&name(from), &name(to), law),
        }
    }
    let ohms = loom.changed.1.map(|law| 1.0 / law.current(0.0).1);
    let last = loom.reached[loom.reached.len() - 1];
    let mut volts = f64::NAN;
    let mut run = |times: usize| {
        let deck = format!(
            // Each answer is thrown away: kept, they would slow it down more and more.
            "* a loom\n{}.control\nset noaskquit\nrepeat {}\nalter {changed}={:e}\nop\ndestroy\nalter {changed}={:e}\nop\ndestroy\nend\nop\nprint v({})\nquit\n.endc\n.end\n",
            netlist.text(),
            times / 2,
            ohms[0],
            ohms[1],
            name(last)
        );
        // A shell tells how long the processor worked for it, whatever else the machine does.
        let mut child = Command::new("sh")
            .args(["-c", "ngspice -b -n /dev/stdin; times"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("ngspice was there a moment ago");
        child.stdin.take().expect("it is piped").write_all(deck.as_bytes()).expect("ngspice reads");
        let told = child.wait_with_output().expect("ngspice ends");
        let text = String::from_utf8_lossy(&told.stdout).into_owned();
        let answer = text.lines().find_map(|line| line.trim().strip_prefix(&format!("v({}) = ", name(last))));
        volts = answer.and_then(|answer| answer.trim().parse().ok()).unwrap_or(f64::NAN);
        // The last line is that of the shell's children: user and system, as 0m0.25s 0m0.01s.
        let times = text.lines().last().unwrap_or_default().split_whitespace().map(|time| {
            let (minutes, seconds) = time.trim_end_matches('s').split_once('m')?;
            Some(60.0 * minutes.parse::<f64>().ok()? + seconds.parse::<f64>().ok()?)
        });
        times.sum::<Option<f64>>().expect("the shell tells the time")
    };
    let seconds = (run(times) - run(2)) / (times - 2) as f64;
    let mut laws = loom.laws.clone();
    laws[loom.changed.0] = loom.changed.1[1];
    let ours = Workspace::new(&loom.network)
        .solve(&loom.network, &laws)
        .expect("there is an operating point")
        .volts(last);
    assert!((ours - volts).abs() < 1e-3 * ours.abs().max(1.0), "ngspice has another answer");
    seconds
}
