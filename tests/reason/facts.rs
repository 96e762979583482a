//! The mathematics of choosing tests against printed and independently computed figures.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::LOG2_10;

use probeworthy::circuit::{Load, NetworkBuilder, Node, operating_point};
use probeworthy::reasoning::{
    Candidate, Column, Mend, Move, Node as PlanNode, Planner, Posterior, Problem, entropy_bits, huffman_mean,
    score,
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

/// What is known of some balls: how many can still be heavier or lighter, only heavier, only lighter, and how many are
/// as they should be.
type Balls = [usize; 4];

/// All ways to take so many balls, by what is known of them.
fn takes(from: Balls, count: usize) -> Vec<Balls> {
    let mut all = Vec::new();
    for either in 0..=from[0].min(count) {
        for heavy in 0..=from[1].min(count - either) {
            for light in 0..=from[2].min(count - either - heavy) {
                let good = count - either - heavy - light;
                if good <= from[3] {
                    all.push([either, heavy, light, good]);
                }
            }
        }
    }
    all
}

/// What is known after a weighing: level, left side down, right side down.
fn weighed(balls: Balls, left: Balls, right: Balls) -> [Balls; 3] {
    let all: usize = balls.iter().sum();
    let known =
        |either: usize, heavy: usize, light: usize| [either, heavy, light, all - either - heavy - light];
    [
        known(balls[0] - left[0] - right[0], balls[1] - left[1] - right[1], balls[2] - left[2] - right[2]),
        known(0, left[0] + left[1], right[0] + right[2]),
        known(0, right[0] + right[1], left[0] + left[2]),
    ]
}

fn hypotheses(balls: Balls) -> usize {
    2 * balls[0] + balls[1] + balls[2]
}

/// Weighings that find the odd ball and which way it is off: in the worst case, and in the sum over all hypotheses, each
/// the least there is.
fn weighings(balls: Balls, known: &mut BTreeMap<Balls, (usize, usize)>) -> (usize, usize) {
    if hypotheses(balls) <= 1 {
        return (0, 0);
    }
    if let Some(&least) = known.get(&balls) {
        return least;
    }
    let mut least = (usize::MAX, usize::MAX);
    let all: usize = balls.iter().sum();
    for count in 1..=all / 2 {
        for left in takes(balls, count) {
            let rest = [balls[0] - left[0], balls[1] - left[1], balls[2] - left[2], balls[3] - left[3]];
            for right in takes(rest, count) {
                let parts = weighed(balls, left, right);
                if parts.iter().any(|part| hypotheses(*part) == hypotheses(balls)) {
                    continue;
                }
                let then = parts.map(|part| weighings(part, known));
                let worst = then.iter().map(|one| one.0).max().unwrap_or(0).saturating_add(1);
                let sum = then.iter().fold(hypotheses(balls), |sum, one| sum.saturating_add(one.1));
                least = (least.0.min(worst), least.1.min(sum));
            }
        }
    }
    known.insert(balls, least);
    least
}

/// MacKay, exercise 4.1: three weighings suffice for 12 balls (published); mean exactly 3, three for 11 and four for 13 by
/// brute force. Here over all weighings, and again by the planner with three that are laid down beforehand.
#[test]
fn three_weighings_of_twelve_balls() {
    for (count, worst) in [(11, 3), (12, 3), (13, 4)] {
        assert_eq!(weighings([count, 0, 0, 0], &mut BTreeMap::new()).0, worst, "{count} balls");
    }
    let (_, sum) = weighings([12, 0, 0, 0], &mut BTreeMap::new());
    near(sum as f64 / 24.0, 3.0, 0.0);
    // A ball's places in the three, 0 for off the scales; found by trying all that keep four on each side.
    let sides: [([usize; 4], [usize; 4]); 3] =
        [([3, 4, 5, 7], [0, 1, 2, 6]), ([6, 8, 9, 10], [0, 1, 2, 7]), ([2, 3, 8, 11], [0, 5, 6, 10])];
    let tests = sides.map(|(left, right)| {
        let shows = |hypothesis: usize| {
            let (ball, heavy) = (hypothesis / 2, hypothesis.is_multiple_of(2));
            match (left.contains(&ball), right.contains(&ball)) {
                (false, false) => 0,
                (on_left, _) => 1 + u16::from(on_left == heavy),
            }
        };
        certain(1.0, &(0..24).map(shows).collect::<Vec<u16>>())
    });
    near(optimum(&sequencing(&[1.0; 24], tests.to_vec())), 3.0, 1e-9);
    // Huffman with three signs: one word of two, 23 of three, by hand.
    near(huffman_mean(&[1.0; 24], 3), 71.0 / 24.0, 1e-9);
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

/// Moves on the longest way through a plan.
fn longest(node: &PlanNode) -> usize {
    node.outcomes.iter().map(|(_, after)| 1 + longest(after)).max().unwrap_or(0)
}

/// Ten lamps in series, one of them open: a voltmeter finds it in 3.4 measurements in the mean and 4 at worst (a textbook
/// page, published).
#[test]
fn ten_lamps_in_series() {
    let between = |n: usize| certain(1.0, &(0..10).map(|lamp| u16::from(lamp < n)).collect::<Vec<u16>>());
    let problem = sequencing(&[1.0; 10], (1..10).map(between).collect());
    near(optimum(&problem), 3.4, 1e-9);
    let tree = Planner::new(&problem, AMPLE).tree(0, AMPLE);
    // What is found is still to be mended, which takes nothing here and leads nowhere.
    assert_eq!(longest(&tree), 4);
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

/// Two equally likely figures with noise, a distance of d·σ apart: what one reading tells. By brute force (numerical
/// integration); here in bins of σ/64.
#[test]
fn two_noisy_figures() {
    const BINS: i32 = 64;
    let below = |x: f64| 0.5 * libm::erfc(-x / std::f64::consts::SQRT_2);
    for (distance, wanted) in
        [(0.5, 0.0437), (1.0, 0.1607), (2.0, 0.4859), (3.0, 0.7600), (4.0, 0.9128), (6.0, 0.9944)]
    {
        let edge = |bin: i32| f64::from(bin) / f64::from(BINS);
        let bins: Vec<i32> = (-9 * BINS..15 * BINS).collect();
        let row = |mean: f64| -> Vec<(f64, u16)> {
            let shares = bins.iter().map(|&bin| below(edge(bin + 1) - mean) - below(edge(bin) - mean));
            shares.zip(0..).collect()
        };
        let test = (1.0, Column::Chances(vec![row(0.0), row(distance)]));
        near(bits(&sequencing(&[0.5, 0.5], vec![test]))[0], wanted, 5e-5);
    }
}

/// All orders of so many things.
fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let put_in =
        |order: Vec<usize>| (0..count).map(move |at| [&order[..at], &[count - 1], &order[at..]].concat());
    orders(count - 1).into_iter().flat_map(put_in).collect()
}

/// Fixture by brute force over all 120 orders, as again here; the formula (Heckerman, Breese, Rommelse 1995) from memory.
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
    let all: BTreeSet<Vec<usize>> = orders(5).into_iter().collect();
    assert_eq!(all.len(), 120);
    for other in all.iter().filter(|other| **other != order) {
        let cost = score::cost_of_order(other, &p, &c, &r);
        assert!(cost > 38.525 + 1e-6, "{other:?} costs {cost}");
    }
}

/// Where the order by p/c breaks: the last part is inferred and not inspected. By brute force.
#[test]
fn a_part_can_be_inferred() {
    let by_ratio = score::order_of_repair(&[0.9, 0.1], &[5.0, 1.0]);
    assert_eq!(by_ratio, [0, 1]);
    let look = vec![certain(5.0, &[1, 0]), certain(1.0, &[0, 1])];
    let problem = sequencing(&[0.9, 0.1], look);
    near(Planner::new(&problem, AMPLE).minutes_of(0, Move::Test(by_ratio[0])), 5.0, 1e-9);
    near(optimum(&problem), 1.0, 1e-9);
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

/// Something that shows in a share q of flexes shows in n of them with 1 − (1 − q)ⁿ. How many are needed for 95 %: by
/// brute force.
#[test]
fn flexes_until_a_miss_is_unlikely() {
    for (share, needed) in [(0.1, 29), (0.3, 9), (0.5, 5)] {
        assert_eq!(score::tries_to_show(share, 0.05), needed);
        // The same as a belief: even odds at first, after so many clean flexes less than 0.05 against 1.
        let mut posterior = Posterior::new(&[1.0, 1.0]);
        let odds = |posterior: &Posterior| {
            let shares = posterior.probabilities();
            shares[0] / shares[1]
        };
        for _ in 1..needed {
            posterior.observe(&[1.0 - share, 1.0]);
        }
        assert!(odds(&posterior) > 0.05);
        posterior.observe(&[1.0 - share, 1.0]);
        assert!(odds(&posterior) < 0.05);
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
    // V = 20 and regret 5: 1 − 5/25 with no luck or bad luck, 1 − 5/10 where luck left 10 minutes to spend (by hand).
    near(score::well_spent(20.0, 25.0, &[3.0, 2.0]), 0.8, 1e-12);
    near(score::well_spent(20.0, 90.0, &[3.0, 2.0]), 0.8, 1e-12);
    near(score::well_spent(20.0, 10.0, &[3.0, 2.0]), 0.5, 1e-12);
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

/// Three multipliers, two adders: what each says of X = A·C, Y = B·D, Z = C·E, and F = X + Y, G = Y + Z.
const MULTIPLY_AND_ADD: [&str; 5] = ["M1", "M2", "M3", "A1", "A2"];

/// X, Y and Z as far as they follow if the components in a set (by bit) do what they should; `None` where that contradicts
/// what was seen, F = 10 and G = 12, with A = 3, B = 2, C = 2, D = 3, E = 3.
fn follows(trusted: u32) -> Option<[Option<i32>; 3]> {
    const SEEN: [i32; 2] = [10, 12];
    let works = |at: usize| trusted >> at & 1 == 1;
    let products = [3 * 2, 2 * 3, 2 * 3];
    let mut known: [Option<i32>; 3] = std::array::from_fn(|at| works(at).then_some(products[at]));
    // Two adders in a row: what follows from one may follow on through the other.
    for _ in 0..2 {
        for adder in (0..2).filter(|adder| works(3 + adder)) {
            match (known[adder], known[adder + 1]) {
                (Some(one), Some(other)) if one + other != SEEN[adder] => return None,
                (Some(one), None) => known[adder + 1] = Some(SEEN[adder] - one),
                (None, Some(other)) => known[adder] = Some(SEEN[adder] - other),
                _ => {}
            }
        }
    }
    Some(known)
}

/// Of some sets those that hold no other one.
fn least(sets: &[u32]) -> BTreeSet<BTreeSet<&'static str>> {
    let names = |set: u32| (0..5).filter(|at| set >> at & 1 == 1).map(|at| MULTIPLY_AND_ADD[at]).collect();
    sets.iter()
        .filter(|&&set| !sets.iter().any(|&other| other != set && other & set == other))
        .map(|&set| names(set))
        .collect()
}

/// De Kleer & Williams, Artificial Intelligence 32:97, 1987: sets and ranking by brute force. The printed decimals depend
/// on a convention; that X is far better than Y, and Y slightly better than Z, does not.
#[test]
fn several_faults_at_once() {
    let named = |sets: &[&[&'static str]]| -> BTreeSet<BTreeSet<&'static str>> {
        sets.iter().map(|set| set.iter().copied().collect()).collect()
    };
    let conflicts: Vec<u32> = (0..32).filter(|&set| follows(set).is_none()).collect();
    assert_eq!(least(&conflicts), named(&[&["A1", "M1", "M2"], &["A1", "A2", "M1", "M3"]]));
    let candidates: Vec<u32> = (0..32).filter(|&broken| follows(!broken & 31).is_some()).collect();
    assert_eq!(least(&candidates), named(&[&["A1"], &["M1"], &["A2", "M2"], &["M2", "M3"]]));

    // What each place would show: a figure, or anything at all where it follows from nothing, here one of three.
    const BROKEN: f64 = 0.01;
    let weight = |broken: u32| {
        (0..5).map(|at| if broken >> at & 1 == 1 { BROKEN } else { 1.0 - BROKEN }).product::<f64>()
    };
    let weights: Vec<f64> = candidates.iter().map(|&broken| weight(broken)).collect();
    let tests = [0, 1, 2].map(|place| {
        let row = |&broken: &u32| match follows(!broken & 31).and_then(|known| known[place]) {
            Some(4) => vec![(1.0, 0)],
            Some(6) => vec![(1.0, 1)],
            Some(8) => vec![(1.0, 2)],
            Some(other) => panic!("{other} follows nowhere by the source"),
            None => (0..3).map(|class| (1.0 / 3.0, class)).collect(),
        };
        (1.0, Column::Chances(candidates.iter().map(row).collect()))
    });
    let problem = sequencing(&weights, tests.to_vec());
    let [x, y, z] = bits(&problem)[..] else { panic!("three places") };
    assert!(x > 10.0 * y && y > z && z > 0.0, "{x} {y} {z}");

    // The first measurement cuts deepest: 4 at X leaves M1, 6 leaves A1, each with far rarer ones beside it.
    for (shown, suspect) in [(0, "M1"), (1, "A1")] {
        let Column::Chances(rows) = &problem.tests[0].column else { panic!("what is broken shows anything") };
        let likelihood =
            |row: &Vec<(f64, u16)>| row.iter().filter(|one| one.1 == shown).map(|one| one.0).sum();
        let mut posterior = Posterior::new(&weights);
        posterior.observe(&rows.iter().map(likelihood).collect::<Vec<f64>>());
        let shares = posterior.probabilities();
        let bit = MULTIPLY_AND_ADD.iter().position(|name| *name == suspect).expect("it is one of the five");
        let alone = candidates.iter().position(|&broken| broken == 1 << bit).expect("a candidate by itself");
        assert!(shares[alone] > 0.9, "{suspect}: {}", shares[alone]);
    }
}
