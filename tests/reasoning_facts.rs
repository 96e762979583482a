//! The mathematics of choosing tests against printed and independently computed figures.

use std::f64::consts::LOG2_10;

use probeworthy::circuit::{Load, NetworkBuilder, Node, operating_point};
use probeworthy::reasoning::{
    Candidate, Column, Mend, Move, Planner, Posterior, Problem, entropy_bits, huffman_mean, score,
};

/// Which part has how many ohms instead, and the volts at the nodes.
type Row = (Option<(usize, f64)>, [f64; 5]);

const AMPLE: usize = 1_000_000;

type Test = (f64, Column);

fn certain(minutes: f64, classes: &[u16]) -> Test {
    (minutes, Column::Certain(classes.to_vec()))
}

fn sequencing(weights: &[f64], tests: Vec<Test>) -> Problem {
    Problem::of_tests(weights.to_vec(), tests)
}

fn bits(problem: &Problem) -> Vec<f64> {
    problem.worths(0).iter().map(|worth| worth.bits).collect()
}

fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got} and not {wanted}");
}

fn optimum(problem: &Problem) -> f64 {
    let plan = Planner::new(problem, AMPLE).plan(0);
    assert!(plan.exact);
    plan.minutes
}

/// Pattipati & Alexandridis, IEEE Trans. SMC 20(4):872, 1990: matrix and 2.18 from memory; every figure by brute force.
#[test]
fn the_greedy_trap_of_test_sequencing() {
    let columns: [[u16; 6]; 5] =
        [[0, 0, 0, 1, 1, 1], [0, 1, 0, 0, 1, 1], [0, 0, 1, 0, 0, 1], [0, 0, 1, 1, 0, 1], [0, 1, 0, 1, 0, 0]];
    let weights = [0.70, 0.01, 0.02, 0.10, 0.05, 0.12];
    let problem = sequencing(&weights, columns.iter().map(|column| certain(1.0, column)).collect());
    let mut planner = Planner::new(&problem, AMPLE);
    let plan = planner.plan(0);
    assert!(plan.exact);
    near(plan.minutes, 2.18, 1e-9);
    assert!((1.59..=2.18 + 1e-9).contains(&plan.lower_bound), "{}", plan.lower_bound);
    near(huffman_mean(&weights, 2), 1.59, 1e-9);
    near(entropy_bits(&weights), 1.454873, 1e-6);
    near(planner.greedy_minutes(0), 2.86, 1e-9);
    for (test, cost) in [2.86, 2.18, 2.82, 2.18, 2.89].into_iter().enumerate() {
        near(planner.minutes_of(0, Move::Test(test)), cost, 1e-9);
    }
    for (got, wanted) in bits(&problem).into_iter().zip([0.8415, 0.6801, 0.5842, 0.7950, 0.4999]) {
        near(got, wanted, 5e-5);
    }
    let own = plan.first.expect("something to do");
    assert_eq!(planner.minutes_of(0, own).to_bits(), plan.minutes.to_bits());
}

/// Total path length 8: a public reduction library's printed example. 24: three halvings of 8, by arithmetic.
#[test]
fn small_instances_of_identification() {
    let four =
        sequencing(&[1.0; 4], [[1, 1, 0, 0], [1, 0, 0, 0], [0, 1, 0, 1]].map(|c| certain(1.0, &c)).into());
    near(4.0 * optimum(&four), 8.0, 1e-9);
    let bit = |n: u16| certain(1.0, &(0..8).map(|x| x >> n & 1).collect::<Vec<u16>>());
    near(8.0 * optimum(&sequencing(&[1.0; 8], vec![bit(0), bit(1), bit(2)])), 24.0, 1e-9);
}

/// MacKay, Information Theory, Inference, and Learning Algorithms, exercise 4.1: bits of the first weighing of n against
/// n of 12 balls, by brute force.
#[test]
fn twelve_balls() {
    let weigh = |n: usize| {
        let class = |h: usize| {
            let (ball, heavy) = (h / 2, h.is_multiple_of(2));
            if ball >= 2 * n { 0 } else { 1 + u16::from((ball < n) == heavy) }
        };
        certain(1.0, &(0..24).map(class).collect::<Vec<u16>>())
    };
    let problem = sequencing(&[1.0; 24], (1..=6).map(weigh).collect());
    for (got, wanted) in bits(&problem).into_iter().zip([0.8167, 1.2516, 1.5, 1.5850, 1.4834, 1.0]) {
        near(got, wanted, 5e-5);
    }
}

/// MacKay, p. 71: a submarine on 64 squares, hit with shot 49. Published, cut off in print.
#[test]
fn submarine() {
    let mut left: Vec<f64> = vec![1.0; 64];
    let mut total = 0.0;
    for shot in 1..=48 {
        let before = entropy_bits(&left);
        left.pop();
        let told = before - entropy_bits(&left);
        total += told;
        for (at, wanted) in [(1, 0.0227), (2, 0.0230), (32, 0.0443), (48, 0.0874)] {
            if shot == at {
                near(told, wanted, 1e-4);
            }
        }
    }
    near(entropy_bits(&left), 4.0, 1e-12);
    near(total + 4.0, 6.0, 1e-9);
}

/// Cover & Thomas (from memory), MacKay exercise 5.27 and sixty-three (published), ten lamps (a textbook page).
#[test]
fn entropy_and_huffman() {
    let race = [0.5, 0.25, 0.125, 0.0625, 1.0 / 64.0, 1.0 / 64.0, 1.0 / 64.0, 1.0 / 64.0];
    let rows: [(&[f64], f64, f64); 5] = [
        (&[0.25, 0.25, 0.2, 0.15, 0.15], 2.28548, 2.30),
        (&race, 2.0, 2.0),
        (&[1.0; 11], 3.45943, 39.0 / 11.0),
        (&[1.0; 64], 6.0, 6.0),
        (&[1.0; 10], LOG2_10, 3.4),
    ];
    for (weights, entropy, mean) in rows {
        near(entropy_bits(weights), entropy, 5e-6);
        near(huffman_mean(weights, 2), mean, 1e-9);
    }
}

/// Along a wire only what lies on one side can be told: an alphabetic tree. By brute force.
#[test]
fn walking_a_wire_needs_an_alphabetic_tree() {
    let weights = [0.05, 0.40, 0.05, 0.40, 0.10];
    let cut = |n: usize| certain(1.0, &(0..5).map(|x| u16::from(x < n)).collect::<Vec<u16>>());
    near(optimum(&sequencing(&weights, (1..5).map(cut).collect())), 2.45, 1e-9);
    near(huffman_mean(&weights, 2), 1.90, 1e-9);
}

/// (prior, P(+|fault), P(+|good)), by brute force.
#[test]
fn noisy_tests() {
    for ((p, hit, alarm), wanted) in
        [((0.5, 0.9, 0.1), 0.5310), ((0.1, 0.9, 0.05), 0.26634), ((0.3, 0.3, 0.0), 0.17208)]
    {
        let rows = [hit, alarm].map(|x: f64| vec![(x, 1), (1.0 - x, 0)]).to_vec();
        let test = (1.0, Column::Chances(rows));
        near(bits(&sequencing(&[p, 1.0 - p], vec![test]))[0], wanted, 5e-5);
    }
}

/// Fixture by brute force over all 120 orders; the formula (Heckerman, Breese, Rommelse 1995) from memory.
#[test]
fn order_of_repair() {
    let p = [0.40, 0.25, 0.20, 0.10, 0.05];
    let c = [8.0, 2.0, 1.0, 4.0, 0.5];
    let r = [30.0, 60.0, 10.0, 20.0, 5.0];
    let order = score::order_of_repair(&p, &c);
    assert_eq!(order, [2, 1, 4, 0, 3]);
    near(score::cost_of_order(&order, &p, &c, &r), 38.525, 1e-9);
    near(score::cost_of_order(&[0, 1, 2, 3, 4], &p, &c, &r), 41.425, 1e-9);
    near(score::cost_of_order(&[4, 2, 1, 3, 0], &p, &c, &r), 39.40, 1e-9);
}

/// Where the order by p/c breaks: the last part is inferred and not inspected. By brute force.
#[test]
fn a_part_can_be_inferred() {
    let by_ratio = score::order_of_repair(&[0.9, 0.1], &[5.0, 1.0]);
    assert_eq!(by_ratio, [0, 1]);
    let look = vec![certain(5.0, &[1, 0]), certain(1.0, &[0, 1])];
    near(optimum(&sequencing(&[0.9, 0.1], look)), 1.0, 1e-9);
}

/// A test before the order of repair. By brute force; the information agrees with scipy and dit.
#[test]
fn test_before_repair() {
    let (c, r) = ([6.0, 3.0, 2.0, 4.0], [20.0, 10.0, 5.0, 30.0]);
    let prior = [0.45, 0.30, 0.15, 0.10];
    let shown = [0.9, 0.8, 0.1, 0.2];
    let cost = |p: &[f64]| score::cost_of_order(&score::order_of_repair(p, &c), p, &c, &r);
    near(cost(&prior), 23.85, 1e-9);
    let after = |likelihoods: [f64; 4]| {
        let mut posterior = Posterior::new(&prior);
        posterior.observe(&likelihoods);
        posterior.probabilities()
    };
    let (one, none) = (after(shown), after(shown.map(|x| 1.0 - x)));
    for (got, wanted) in
        one.iter().chain(&none).zip([0.5956, 0.3529, 0.0221, 0.0294, 0.1406, 0.1875, 0.4219, 0.25])
    {
        near(*got, wanted, 5e-5);
    }
    near(cost(&one), 23.5368, 5e-5);
    near(cost(&none), 20.4375, 5e-5);
    near(1.0 + 0.68 * cost(&one) + 0.32 * cost(&none), 23.545, 1e-9);
    let rows = shown.map(|x| vec![(x, 1), (1.0 - x, 0)]).to_vec();
    let test = (1.0, Column::Chances(rows));
    near(bits(&sequencing(&prior, vec![test]))[0], 0.334213, 5e-7);
}

/// A bet that is right away the cheapest: two repairs, worked out by hand. 10 + 0.1·10 beats a look of 2 minutes.
#[test]
fn a_bet_is_a_move() {
    let mend = Mend { setup: 0, minutes: 8.0, price_minutes: 2.0 };
    let (minutes, column) = certain(2.0, &[0, 1]);
    let problem = Problem {
        weights: vec![0.9, 0.1],
        group: vec![0, 1],
        mends: vec![mend; 2],
        ways: vec![vec![0.0]],
        tests: vec![Candidate { setup: 0, minutes, column, stands_for: 1, origin: 0 }],
        bets: true,
    };
    let mut planner = Planner::new(&problem, AMPLE);
    let plan = planner.plan(0);
    assert_eq!(plan.first, Some(Move::Mend(0)));
    near(plan.minutes, 11.0, 1e-9);
    near(planner.minutes_of(0, Move::Test(0)) - plan.minutes, 1.0, 1e-9);
}

/// Prior 0.3, shown in three flexes of ten: after n clean ones. By brute force.
#[test]
fn clean_flexes_never_exclude() {
    let mut posterior = Posterior::new(&[0.3, 0.7]);
    for flex in 1..=10 {
        posterior.observe(&[0.7, 1.0]);
        for (n, wanted) in [(1, 0.2308), (2, 0.1736), (5, 0.0672), (10, 0.0120)] {
            if flex == n {
                near(posterior.probabilities()[0], wanted, 5e-5);
            }
        }
    }
}

/// By brute force; both strictly proper (Gneiting & Raftery, JASA 102:359, 2007).
#[test]
fn scores_of_confidence() {
    let stated = [0.7, 0.2, 0.1];
    for (truth, (brier, log)) in [(0.14, 0.5146), (1.14, 2.3219), (1.34, LOG2_10)].into_iter().enumerate() {
        near(score::brier(&stated, truth), brier, 1e-9);
        near(score::log_score_bits(stated[truth]), log, 5e-5);
    }
    near(score::log_score_bits(0.0), score::log_score_bits(0.01), 0.0);
    near(score::efficiency(20.0, &[3.0, 2.0]), 0.8, 1e-12);
}

/// Tests that split alike are one, the cheapest.
#[test]
fn tests_that_tell_the_same_are_one() {
    let tests = vec![certain(3.0, &[0, 1, 1]), certain(2.0, &[5, 2, 2]), certain(1.0, &[0, 0, 1])];
    let mut problem = sequencing(&[1.0; 3], tests);
    problem.collapse();
    let kept: Vec<(usize, usize)> = problem.tests.iter().map(|test| (test.origin, test.stands_for)).collect();
    assert_eq!(kept, [(1, 2), (2, 1)]);
}

/// Battery 12.6 V with 0.02 Ω, fuse, switch, feed, lamp, ground in a row; the meter's 10 MΩ to battery minus. Volts and
/// bits by brute force with an independent program.
#[test]
fn five_nodes_of_a_lamp_circuit() {
    let sound = [0.02, 0.005, 0.03, 0.05, 6.0, 0.02];
    let open = 1e9;
    let faults: [Row; 9] = [
        (None, [12.559, 12.549, 12.487, 12.384, 0.041]),
        (Some((1, open)), [12.6, 0.0, 0.0, 0.0, 0.0]),
        (Some((2, open)), [12.6, 12.6, 0.0, 0.0, 0.0]),
        (Some((2, 2.03)), [12.569, 12.561, 9.413, 9.336, 0.031]),
        (Some((3, open)), [12.6, 12.6, 12.6, 0.0, 0.0]),
        (Some((3, 1.05)), [12.565, 12.556, 12.503, 10.646, 0.035]),
        (Some((4, open)), [12.6, 12.6, 12.6, 12.6, 0.0]),
        (Some((5, open)), [12.6, 12.6, 12.6, 12.6, 12.6]),
        (Some((5, 3.02)), [12.572, 12.565, 12.524, 12.455, 4.170]),
    ];
    let volts = |fault: Option<(usize, f64)>, at: usize| {
        let mut ohms = sound;
        if let Some((part, value)) = fault {
            ohms[part] = value;
        }
        let mut circuit = NetworkBuilder::new();
        let minus = Node::GROUND;
        let plus = circuit.node();
        circuit.ideal_source(plus, minus, 12.6);
        let mut nodes = vec![plus];
        for value in &ohms[..5] {
            let next = circuit.node();
            circuit.resistor(nodes[nodes.len() - 1], next, *value);
            nodes.push(next);
        }
        circuit.resistor(nodes[5], minus, ohms[5]);
        circuit.resistor(nodes[at + 1], minus, 10e6);
        let (network, laws) = circuit.build().expect("a sound circuit");
        let point = operating_point(&network, &laws, &[] as &[Load]).expect("it settles");
        point.volts(nodes[at + 1]) - point.volts(minus)
    };
    let mut tests = Vec::new();
    for node in 0..5 {
        let found: Vec<f64> = faults.iter().map(|&(fault, _)| volts(fault, node)).collect();
        for (got, (_, wanted)) in found.iter().zip(&faults) {
            // What the meter's 10 MΩ pull through an open of 1 GΩ, the lamp holds down.
            near(*got, wanted[node], 0.0006);
        }
        // Classes are runs of sorted readings without a gap of 0.7 V.
        let mut order: Vec<usize> = (0..found.len()).collect();
        order.sort_by(|&a, &b| found[a].total_cmp(&found[b]));
        let mut classes = vec![0; found.len()];
        for pair in order.windows(2) {
            classes[pair[1]] = classes[pair[0]] + u16::from(found[pair[1]] - found[pair[0]] > 0.7);
        }
        tests.push(certain(1.0, &classes));
    }
    for (got, wanted) in
        bits(&sequencing(&[1.0; 9], tests)).into_iter().zip([0.0, 0.5033, 1.2244, 1.7527, 0.9864])
    {
        near(got, wanted, 5e-5);
    }
}
