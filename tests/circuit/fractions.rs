//! Small circuits against exact fractions: elimination in whole numbers, with nothing rounded but the last division.
//!
//! Every resistor is a decimal such as 4.7e-6 Ω, exact as a fraction; the model has it rounded to a binary number, and
//! its conductance rounded again. How far that may go stands beside each bound.

use crate::draw;

use draw::Draw;
use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero, pow};
use probeworthy::circuit::{
    Branch, Law, Load, Network, NetworkBuilder, Node, OperatingPoint, Source, operating_point,
};

/// A decimal: so many times a power of ten.
#[derive(Clone, Copy, Debug)]
struct Decimal {
    digits: i64,
    exponent: i32,
}

impl Decimal {
    const fn new(digits: i64, exponent: i32) -> Self {
        Self { digits, exponent }
    }

    fn exact(self) -> BigRational {
        let power = pow(BigInt::from(10), self.exponent.unsigned_abs() as usize);
        if self.exponent < 0 {
            BigRational::new(self.digits.into(), power)
        } else {
            BigRational::from(power * self.digits)
        }
    }

    /// The nearest binary number.
    fn rounded(self) -> f64 {
        format!("{}e{}", self.digits, self.exponent).parse().expect("it is a number")
    }
}

/// What joins two nodes; the first is plus.
#[derive(Clone, Copy, Debug)]
enum Kind {
    Ohms(Decimal),
    /// Volts behind ohms.
    Behind(Decimal, Decimal),
    /// Volts of an ideal source.
    Ideal(Decimal),
}

/// A circuit of straight elements.
#[derive(Clone, Debug)]
struct Circuit {
    nodes: usize,
    elements: Vec<(usize, usize, Kind)>,
}

/// A circuit's node voltages, and the current out of the plus of each ideal source, as fractions.
struct Exact {
    volts: Vec<BigRational>,
    source_amps: Vec<BigRational>,
}

impl Circuit {
    /// Sums of currents at all nodes but the reference, and the volts of ideal sources, by Gauss.
    fn exact(&self) -> Exact {
        let sources = self.elements.iter().filter(|(.., kind)| matches!(kind, Kind::Ideal(_))).count();
        let size = self.nodes + sources;
        let mut matrix = vec![vec![BigRational::zero(); size + 1]; size];
        let mut next_source = self.nodes;
        for &(plus, minus, kind) in &self.elements {
            match kind {
                Kind::Ohms(ohms) | Kind::Behind(_, ohms) => {
                    let siemens = ohms.exact().recip();
                    let amps = match kind {
                        Kind::Behind(volts, _) => volts.exact() * &siemens,
                        _ => BigRational::zero(),
                    };
                    for (here, there, amps) in [(plus, minus, amps.clone()), (minus, plus, -amps)] {
                        matrix[here][here] += &siemens;
                        matrix[here][there] -= &siemens;
                        matrix[here][size] += amps;
                    }
                }
                Kind::Ideal(volts) => {
                    for (node, sign) in [(plus, 1), (minus, -1)] {
                        let sign = BigRational::from(BigInt::from(sign));
                        matrix[node][next_source] -= &sign;
                        matrix[next_source][node] += &sign;
                    }
                    matrix[next_source][size] = volts.exact();
                    next_source += 1;
                }
            }
        }
        // The reference stands at 0 V; its own sum follows from the others'.
        for row in &mut matrix {
            row[0] = BigRational::zero();
        }
        matrix[0] = vec![BigRational::zero(); size + 1];
        matrix[0][0] = BigRational::from(BigInt::from(1));
        for column in 0..size {
            let lead = (column..size).find(|&row| !matrix[row][column].is_zero()).expect("it has a solution");
            matrix.swap(column, lead);
            let scale = matrix[column][column].recip();
            let lead: Vec<BigRational> = matrix[column].iter().map(|value| value * &scale).collect();
            for (at, row) in matrix.iter_mut().enumerate() {
                if at == column {
                    row.clone_from(&lead);
                } else if !row[column].is_zero() {
                    let share = row[column].clone();
                    for (value, above) in row.iter_mut().zip(&lead).skip(column) {
                        *value -= &share * above;
                    }
                }
            }
        }
        let mut solution: Vec<BigRational> =
            matrix.into_iter().map(|mut row| row.swap_remove(size)).collect();
        let source_amps = solution.split_off(self.nodes);
        Exact { volts: solution, source_amps }
    }

    /// The circuit as the model has it. Elements that are no ideal sources become its branches, in order.
    fn build(&self) -> (Network, Vec<Law>) {
        let mut net = NetworkBuilder::new();
        for _ in 1..self.nodes {
            net.node();
        }
        for &(plus, minus, kind) in &self.elements {
            let (plus, minus) = (Node(plus), Node(minus));
            match kind {
                Kind::Ohms(ohms) => {
                    net.resistor(plus, minus, ohms.rounded());
                }
                Kind::Behind(volts, ohms) => {
                    net.branch(plus, minus, Law::source(volts.rounded(), ohms.rounded()));
                }
                Kind::Ideal(volts) => {
                    net.ideal_source(plus, minus, volts.rounded());
                }
            }
        }
        net.build().expect("a tree of sources has no loop")
    }

    /// What the model finds.
    fn solve(&self) -> OperatingPoint {
        let (network, laws) = self.build();
        operating_point(&network, &laws, &[]).expect("everything is tied to the reference")
    }
}

/// A fraction as the nearest binary number.
fn float(fraction: &BigRational) -> f64 {
    fraction.to_f64().expect("a fraction has a nearest number")
}

/// How far a number is from a fraction, without rounding on the way.
fn distance(found: f64, exact: &BigRational) -> f64 {
    float(&(BigRational::from_float(found).expect("voltages are finite") - exact)).abs()
}

/// From 10^`low` to just below 10^`high`, in three digits.
fn decimal(draw: &mut Draw, low: i32, high: i32) -> Decimal {
    let decades = usize::try_from(high - low).expect("low comes first");
    let exponent = low + i32::try_from(draw.below(decades)).expect("a few");
    Decimal::new(100 + i64::try_from(draw.below(900)).expect("three digits"), exponent - 2)
}

/// A circuit of two to eight nodes: a tree from node 0, other branches beside it.
fn circuit(draw: &mut Draw, tie: impl Fn(&mut Draw) -> Kind, join: impl Fn(&mut Draw) -> Kind) -> Circuit {
    let nodes = 2 + draw.below(7);
    let mut elements = Vec::new();
    for node in 1..nodes {
        let to = draw.below(node);
        elements.push((node, to, tie(draw)));
    }
    for _ in 0..draw.below(2 * nodes) {
        let first = draw.below(nodes);
        let second = (first + 1 + draw.below(nodes - 1)) % nodes;
        elements.push((first, second, join(draw)));
    }
    Circuit { nodes, elements }
}

/// Eighteen decades: a near short of microohms to insulation of a terohm.
fn any_ohms(draw: &mut Draw) -> Kind {
    Kind::Ohms(match draw.below(4) {
        0 => decimal(draw, -6, -3),
        1 => decimal(draw, 9, 12),
        _ => decimal(draw, -3, 9),
    })
}

/// Sources that all stand on the reference with their plus away from it, resistors of eighteen decades: every node keeps
/// its digits, however little it is tied to and however small its voltage.
///
/// The bound: each node's voltage is a quotient of two sums of products of conductances, one factor a node, all of them
/// positive, so that a relative change δ of every conductance changes it by 2n δ at most. Three roundings of each (decimal
/// to binary, its inverse, a source's current) make 6n. Elimination without subtraction rounds each entry three times in
/// a step, and n − k nodes are left after step k, which makes Σ 6 (n − k) = 3n²; the two substitutions are no worse (the
/// argument is O'Cinneide's, Numer. Math. 65:109, 1993; from memory). With n = 7 nodes at most that is 336 roundings of
/// 1.1e-16: 3.7e-14 of each node's own voltage.
#[test]
fn every_node_keeps_its_digits_over_eighteen_decades() {
    const SHARE: f64 = 4e-14;
    let mut worst = 0.0_f64;
    for seed in 1..=1000 {
        let mut draw = Draw::new(seed);
        let mut circuit = circuit(&mut draw, any_ohms, any_ohms);
        circuit.elements[0].2 = Kind::Ideal(decimal(&mut draw, 0, 2));
        for _ in 0..draw.below(3) {
            let plus = 1 + draw.below(circuit.nodes - 1);
            let Kind::Ohms(ohms) = any_ohms(&mut draw) else { unreachable!("it draws resistors") };
            circuit.elements.push((plus, 0, Kind::Behind(decimal(&mut draw, 0, 2), ohms)));
        }
        let (exact, point) = (circuit.exact(), circuit.solve());
        for (node, exact) in exact.volts.iter().enumerate() {
            let (found, size) = (point.volts(Node(node)), float(exact));
            let off = distance(found, exact);
            assert!(off <= SHARE * size, "circuit {seed}, node {node}: {found:e} V, exactly {size:e} V");
            worst = worst.max(if size > 0.0 { off / size } else { 0.0 });
        }
        // A current is the difference of two voltages, each as good as its own size allows.
        let mut entering = vec![(BigRational::zero(), 0.0); circuit.nodes];
        let resistive = circuit.elements.iter().filter_map(|&(plus, minus, kind)| match kind {
            Kind::Ohms(ohms) => Some((plus, minus, BigRational::zero(), ohms)),
            Kind::Behind(volts, ohms) => Some((plus, minus, volts.exact(), ohms)),
            Kind::Ideal(_) => None,
        });
        for (at, (plus, minus, emf, ohms)) in resistive.enumerate() {
            let amps = (&exact.volts[plus] - &exact.volts[minus] - &emf) / ohms.exact();
            let volts = float(&(&exact.volts[plus] + &exact.volts[minus] + emf));
            let tolerance = 2.0 * SHARE * volts / ohms.rounded();
            let found = point.amps(Branch(at));
            assert!(
                distance(found, &amps) <= tolerance,
                "circuit {seed}: {found:e} A, exactly {:e} A",
                float(&amps)
            );
            for (node, amps) in [(plus, -&amps), (minus, amps)] {
                entering[node].0 += amps;
                entering[node].1 += tolerance;
            }
        }
        let found = point.source_amps(Source(0));
        let (sum, tolerance) = &entering[circuit.elements[0].0];
        assert_eq!(&exact.source_amps[0], &-sum, "circuit {seed}: the fractions agree among themselves");
        assert!(distance(found, &-sum) <= *tolerance, "circuit {seed}: {found:e} A out of the source");
    }
    assert!(worst > 0.0, "nothing was compared");
}

/// Sources of either sign anywhere, whole pieces that hang on nothing else among them, within 1e-12 of the largest
/// voltage.
///
/// The bound holds for resistors of 10 Ω to 1 kΩ: a source's current of V / R is rounded to 1.1e-16 of itself, and makes
/// volts of that on its way to the reference, over no more than seven resistors of 1 kΩ and with at most two dozen
/// elements: 24 · 7 · 1000 / 10 · 1.1e-16 = 1.9e-12 of the largest source if all fell together, and they do not. Where
/// decades lie between the two, digits go; how many is `circuit_properties.rs`'s to say.
#[test]
fn sources_of_either_sign_come_out_within_a_million_millionth() {
    const SHARE: f64 = 1e-12;
    fn signed(draw: &mut Draw) -> Decimal {
        let Decimal { digits, exponent } = decimal(draw, 0, 2);
        Decimal::new(if draw.below(2) == 0 { digits } else { -digits }, exponent)
    }
    let mut worst = 0.0_f64;
    for seed in 1..=1000 {
        let circuit = circuit(
            &mut Draw::new(seed),
            |draw| match draw.below(4) {
                0 => Kind::Ideal(signed(draw)),
                1 => Kind::Behind(signed(draw), decimal(draw, 1, 3)),
                _ => Kind::Ohms(decimal(draw, 1, 3)),
            },
            |draw| match draw.below(3) {
                0 => Kind::Behind(signed(draw), decimal(draw, 1, 3)),
                _ => Kind::Ohms(decimal(draw, 1, 3)),
            },
        );
        let (exact, point) = (circuit.exact(), circuit.solve());
        let largest = exact.volts.iter().map(|volts| float(volts).abs()).fold(0.0, f64::max);
        for (node, exact) in exact.volts.iter().enumerate() {
            let (found, off) = (point.volts(Node(node)), distance(point.volts(Node(node)), exact));
            assert!(
                off <= SHARE * largest,
                "circuit {seed}, node {node}: {found:e} V, exactly {:e} V",
                float(exact)
            );
            worst = worst.max(if largest > 0.0 { off / largest } else { 0.0 });
        }
    }
    assert!(worst > 0.0, "nothing was compared");
}

/// One to three instruments without a source of their own, across eighteen decades: what each feels and every node, within
/// 1e-12 of the largest voltage.
///
/// The bound: an instrument meets the circuit at its port, whose open voltage is a difference of two nodes' and can lose
/// what they keep, but no more than rounding leaves of the largest voltage; so can each node, from which is taken what
/// the instrument draws. Seven nodes and three instruments make some hundreds of roundings of 1.1e-16.
#[test]
fn instruments_feel_what_they_should_over_eighteen_decades() {
    const SHARE: f64 = 1e-12;
    // A meter on volts and on amps, a lamp's cold filament, a bridge, and something absurd; ohms, and ohms of the leads.
    let instruments = [
        (Decimal::new(10, 6), Decimal::new(1, -1)),
        (Decimal::new(3, -2), Decimal::new(1, -1)),
        (Decimal::new(21, -1), Decimal::new(5, -2)),
        (Decimal::new(77, -4), Decimal::new(2, -2)),
        (Decimal::new(1, 12), Decimal::new(1, -6)),
    ];
    let mut worst = 0.0_f64;
    for seed in 1..=300 {
        let mut draw = Draw::new(seed);
        let mut circuit = circuit(&mut draw, any_ohms, any_ohms);
        circuit.elements[0].2 = Kind::Ideal(decimal(&mut draw, 0, 2));
        let (network, laws) = circuit.build();
        // For the fractions an instrument is two more resistors, with a node between them.
        let (mut metered, mut loads) = (circuit.clone(), Vec::new());
        for _ in 0..1 + draw.below(3) {
            let (ohms, lead_ohms) = instruments[draw.below(instruments.len())];
            let from = draw.below(circuit.nodes);
            let to = (from + 1 + draw.below(circuit.nodes - 1)) % circuit.nodes;
            metered.elements.push((from, metered.nodes, Kind::Ohms(lead_ohms)));
            metered.elements.push((metered.nodes, to, Kind::Ohms(ohms)));
            metered.nodes += 1;
            let law = Law::ohms(ohms.rounded());
            loads.push(Load { from: Node(from), to: Node(to), law, lead_ohms: lead_ohms.rounded() });
        }
        let exact = metered.exact();
        let point = operating_point(&network, &laws, &loads).expect("everything is tied to the reference");
        let largest = exact.volts.iter().map(|volts| float(volts).abs()).fold(0.0, f64::max);
        let mut check = |found: f64, exact: &BigRational, scale: f64, what: &str| {
            let off = distance(found, exact) / scale;
            assert!(off <= SHARE, "circuit {seed}, {what}: {found:e}, exactly {:e}", float(exact));
            worst = worst.max(off);
        };
        for node in 0..circuit.nodes {
            check(point.volts(Node(node)), &exact.volts[node], largest, &format!("node {node}"));
        }
        for (at, (load, felt)) in loads.iter().zip(point.loads()).enumerate() {
            let across = &exact.volts[circuit.nodes + at] - &exact.volts[load.to.0];
            check(felt.volts, &across, largest, &format!("volts of instrument {at}"));
            // Its current through leads and itself, by Ohm's law.
            let siemens = load.law.current(0.0).1;
            let amps = &across * BigRational::from_float(siemens).expect("it is finite");
            check(felt.amps, &amps, largest * siemens, &format!("amps of instrument {at}"));
        }
    }
    assert!(worst > 0.0, "nothing was compared");
}

/// A lamp's circuit with one fault each: what a meter of 10 MΩ to battery minus reads at five places (all worked out by
/// brute force, with an independent program). An open is 1 GΩ.
struct Fault {
    what: &'static str,
    /// Which element differs, by its place in [`LAMP_CIRCUIT`], and its resistance with the fault, in ohms.
    differs: Option<(usize, Decimal)>,
    /// Volts at nodes 1 to 5, to three decimals.
    volts: [f64; 5],
}

/// Ohms of fuse, switch, feed, lamp and ground, from node 1 to 2, and so on back to node 0.
const LAMP_CIRCUIT: [Decimal; 5] =
    [Decimal::new(5, -3), Decimal::new(3, -2), Decimal::new(5, -2), Decimal::new(6, 0), Decimal::new(2, -2)];
const BATTERY: Kind = Kind::Behind(Decimal::new(126, -1), Decimal::new(2, -2));
const METER_OHMS: Decimal = Decimal::new(10, 6);
const OPEN: Decimal = Decimal::new(1, 9);

const FAULTS: [Fault; 9] = [
    Fault { what: "none", differs: None, volts: [12.559, 12.549, 12.487, 12.384, 0.041] },
    Fault { what: "fuse open", differs: Some((0, OPEN)), volts: [12.6, 0.0, 0.0, 0.0, 0.0] },
    Fault { what: "switch open", differs: Some((1, OPEN)), volts: [12.6, 12.6, 0.0, 0.0, 0.0] },
    Fault {
        what: "switch +2 Ω",
        differs: Some((1, Decimal::new(203, -2))),
        volts: [12.569, 12.561, 9.413, 9.336, 0.031],
    },
    Fault { what: "feed open", differs: Some((2, OPEN)), volts: [12.6, 12.6, 12.6, 0.0, 0.0] },
    Fault {
        what: "feed +1 Ω",
        differs: Some((2, Decimal::new(105, -2))),
        volts: [12.565, 12.556, 12.503, 10.646, 0.035],
    },
    Fault { what: "lamp open", differs: Some((3, OPEN)), volts: [12.6, 12.6, 12.6, 12.6, 0.0] },
    Fault { what: "ground open", differs: Some((4, OPEN)), volts: [12.6, 12.6, 12.6, 12.6, 12.6] },
    Fault {
        what: "ground +3 Ω",
        differs: Some((4, Decimal::new(302, -2))),
        volts: [12.572, 12.565, 12.524, 12.455, 4.170],
    },
];

/// The table, by the model with the meter as a load, and by fractions with the meter as a resistor: both agree with it to
/// its last digit, and with each other in all of theirs.
#[test]
fn a_lamp_circuit_with_each_fault_reads_as_worked_out() {
    for Fault { what, differs, volts } in FAULTS {
        let mut ohms = LAMP_CIRCUIT;
        if let Some((at, with_fault)) = differs {
            ohms[at] = with_fault;
        }
        let mut circuit = Circuit { nodes: 6, elements: vec![(1, 0, BATTERY)] };
        for (at, ohms) in ohms.into_iter().enumerate() {
            circuit.elements.push((at + 1, (at + 2) % 6, Kind::Ohms(ohms)));
        }
        for (at, printed) in volts.into_iter().enumerate() {
            let node = at + 1;
            let mut metered = circuit.clone();
            metered.elements.push((node, 0, Kind::Ohms(METER_OHMS)));
            let exact = &metered.exact().volts[node];

            let (network, laws) = circuit.build();
            // Leads of a microohm: the table has none.
            let meter = Load {
                from: Node(node),
                to: Node::GROUND,
                law: Law::ohms(METER_OHMS.rounded()),
                lead_ohms: 1e-6,
            };
            let point =
                operating_point(&network, &laws, &[meter]).expect("everything is tied to the reference");
            let found = point.loads()[0].volts;
            assert!((float(exact) - printed).abs() <= 0.5e-3, "{what}, node {node}: exactly {exact} V");
            assert!((found - printed).abs() <= 0.5e-3, "{what}, node {node}: {found} V is not {printed} V");
            // The meter's leads take 1e-13 of its voltage; its port is a difference of two voltages of up to 12.6 V.
            assert!(distance(found, exact) <= 1e-12 * 12.6, "{what}, node {node}: {found:e} V");
        }
    }
}
