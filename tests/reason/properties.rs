//! What holds for every belief and every plan.

use probeworthy::reasoning::{
    Candidate, Column, Mend, Move, Node, Planner, Posterior, Problem, entropy_bits,
};
use proptest::prelude::*;

const AMPLE: usize = 1_000_000;
/// Gives the exact search up at its second state, and leaves the rollout one.
const ONE: usize = 1;
const ROUNDING: f64 = 1e-9;

/// Up to six hypotheses in three groups, two set-ups, up to five certain tests of three classes, repairs or none.
fn problems() -> impl Strategy<Value = Problem> {
    let size = (1_usize..=6, 0_usize..=5, any::<bool>());
    size.prop_flat_map(|(hypotheses, tests, bets)| {
        let test = (0usize..2, 1u32..20, prop::collection::vec(0u16..3, hypotheses));
        let weights = prop::collection::vec(0u32..10, hypotheses);
        let groups = prop::collection::vec(0_usize..3, hypotheses);
        let all = (
            weights,
            groups,
            prop::collection::vec(test, tests),
            prop::collection::vec(1u32..40, 3),
            0u32..5,
        );
        all.prop_map(move |(weights, groups, tests, costs, way)| {
            let test = |(origin, (setup, minutes, classes))| Candidate {
                setup,
                minutes: f64::from(minutes),
                column: Column::Certain(classes),
                stands_for: 1,
                origin,
            };
            let mend = |&cost: &u32| Mend { setup: 0, minutes: f64::from(cost), price_minutes: 0.5 };
            let way = f64::from(way);
            Problem {
                weights: weights.into_iter().map(f64::from).collect(),
                group: groups,
                mends: costs.iter().map(mend).collect(),
                ways: vec![vec![0.0, way], vec![way, 0.0]],
                tests: tests.into_iter().enumerate().map(test).collect(),
                bets,
            }
        })
    })
}

/// Every move that is there at all.
fn moves(problem: &Problem) -> Vec<Move> {
    let mends = (0..problem.mends.len()).filter(|_| problem.bets).map(Move::Mend);
    (0..problem.tests.len()).map(Move::Test).chain(mends).collect()
}

proptest! {
    #[test]
    fn the_order_of_evidence_does_not_matter(
        weights in prop::collection::vec(0.0f64..5.0, 4),
        evidence in prop::collection::vec(prop::collection::vec(0.0f64..1.0, 4), 0..6),
    ) {
        let mut forward = Posterior::new(&weights);
        let mut backward = forward.clone();
        evidence.iter().for_each(|row| forward.observe(row));
        evidence.iter().rev().for_each(|row| backward.observe(row));
        for (a, b) in forward.probabilities().iter().zip(backward.probabilities()) {
            prop_assert!((a - b).abs() <= ROUNDING);
        }
    }

    #[test]
    fn information_is_neither_negative_nor_more_than_is_unknown(problem in problems()) {
        let unknown = entropy_bits(&problem.weights);
        for worth in problem.worths(0) {
            prop_assert!(worth.bits >= 0.0 && worth.bits <= unknown + ROUNDING);
            prop_assert!(worth.minutes > 0.0);
        }
    }

    #[test]
    fn a_plan_is_between_its_bound_and_greed(problem in problems(), setup in 0_usize..2) {
        let best = Planner::new(&problem, AMPLE).plan(setup);
        let rolled = Planner::new(&problem, ONE).plan(setup);
        let greedy = Planner::new(&problem, ONE).greedy_minutes(setup);
        prop_assert!(best.exact);
        prop_assert!(best.lower_bound <= best.minutes + ROUNDING, "{best:?}");
        prop_assert!(best.minutes <= rolled.minutes + ROUNDING);
        prop_assert!(rolled.minutes <= greedy + ROUNDING, "{rolled:?} {greedy}");
    }

    #[test]
    fn no_choice_beats_the_plans_own(problem in problems()) {
        for budget in [AMPLE, ONE] {
            let mut planner = Planner::new(&problem, budget);
            let plan = planner.plan(0);
            if let Some(own) = plan.first {
                prop_assert!((planner.minutes_of(0, own) - plan.minutes).abs() <= ROUNDING);
            }
            for next in moves(&problem) {
                let minutes = planner.minutes_of(0, next);
                prop_assert!(!plan.exact || minutes >= plan.minutes - ROUNDING, "{next:?} {minutes} {plan:?}");
            }
        }
    }

    #[test]
    fn no_answer_depends_on_what_was_asked_before(problem in problems()) {
        for budget in [ONE, 3, 10] {
            let fresh = || Planner::new(&problem, budget);
            let mut asked = fresh();
            for next in moves(&problem).into_iter().rev() {
                asked.minutes_of(1, next);
                asked.minutes_of(0, next);
            }
            for next in moves(&problem) {
                prop_assert_eq!(asked.minutes_of(0, next).to_bits(), fresh().minutes_of(0, next).to_bits());
            }
            if problem.weights.iter().any(|weight| *weight > 0.0) {
                prop_assert_eq!(asked.tree(0, 1000), fresh().tree(0, 1000));
            }
            prop_assert_eq!(asked.plan(0), fresh().plan(0));
        }
    }

    #[test]
    fn luck_averages_to_nothing(problem in problems()) {
        let tree = Planner::new(&problem, AMPLE).tree(0, 1000);
        let mut open: Vec<(&Node, usize)> = vec![(&tree, 0)];
        while let Some((node, setup)) = open.pop() {
            if problem.weights.iter().all(|weight| *weight == 0.0) {
                break;
            }
            let Some(next) = node.next else { continue };
            let (own, after) = problem.cost(setup, next);
            let expected: f64 =
                node.outcomes.iter().map(|(_, child)| child.probability / node.probability * child.minutes).sum();
            prop_assert!((node.minutes - own - expected).abs() <= ROUNDING, "{node:?}");
            open.extend(node.outcomes.iter().map(|(_, child)| (child, after)));
        }
    }

    #[test]
    fn collapsing_leaves_the_plan_as_good(problem in problems()) {
        let minutes = |problem: &Problem| Planner::new(problem, AMPLE).plan(0).minutes;
        let mut collapsed = problem.clone();
        collapsed.collapse();
        prop_assert!((minutes(&collapsed) - minutes(&problem)).abs() <= ROUNDING);
    }
}

/// Nothing to choose: one hypothesis, none of any weight.
#[test]
fn where_nothing_is_to_be_found_out() {
    let mend = Mend { setup: 0, minutes: 7.0, price_minutes: 1.0 };
    let alone = |weight: f64| Problem {
        weights: vec![weight],
        group: vec![0],
        mends: vec![mend],
        ways: vec![vec![0.0]],
        tests: Vec::new(),
        bets: true,
    };
    let plan = Planner::new(&alone(3.0), AMPLE).plan(0);
    assert_eq!((plan.first, plan.minutes), (Some(Move::Mend(0)), 8.0));
    for weight in [0.0, -1.0] {
        let none = Planner::new(&alone(weight), AMPLE).plan(0);
        assert_eq!((none.first, none.minutes), (None, 0.0));
    }
    assert_eq!(Posterior::new(&[0.0]).probabilities(), [1.0]);
}

/// Two tests that together tell the groups apart, one of which alone says next to nothing of them.
#[test]
fn a_test_may_be_best_that_says_nothing_alone() {
    let test = |origin: usize, classes: [u16; 4]| Candidate {
        setup: 0,
        minutes: 1.0,
        column: Column::Certain(classes.to_vec()),
        stands_for: 1,
        origin,
    };
    let problem = Problem {
        weights: vec![7.0, 6.0, 7.0, 8.0],
        group: vec![0, 0, 1, 1],
        mends: vec![Mend { setup: 0, minutes: 1.0, price_minutes: 0.5 }; 2],
        ways: vec![vec![0.0]],
        tests: vec![test(0, [0, 1, 1, 0]), test(1, [1, 1, 1, 0])],
        bets: false,
    };
    // By hand: 1 + 15/28·(1 + 1.5) + 13/28·(1.5 + 6/13·1.5); the other test first takes 3.5357.
    let plan = Planner::new(&problem, AMPLE).plan(0);
    assert_eq!(plan.first, Some(Move::Test(0)));
    assert!((plan.minutes - 94.0 / 28.0).abs() <= ROUNDING, "{plan:?}");
}
