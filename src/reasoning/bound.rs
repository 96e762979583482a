//! What no way of finding a fault can undercut.

use super::problem::{Column, Move, Problem};
use super::worth::Alive;

/// No way takes less than this from a set-up, in minutes: the repair that is needed in the end, and what has to be spent
/// to know which. Where repairs may be bets it counts the first move, and the cheapest second one; where not, also
/// Huffman's mean length of the groups' probabilities, in the cheapest tests. It does not see the way between set-ups, so
/// it is weak where that is dear, and where cheap bets are there.
#[must_use]
pub(super) fn lower_bound(problem: &Problem, alive: &Alive, setup: usize) -> f64 {
    let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
    if total <= 0.0 {
        return 0.0;
    }
    let repairs = repairs(problem, alive);
    if problem.groups(alive).len() <= 1 {
        return repairs / total;
    }
    let mut first = f64::INFINITY;
    for (at, test) in problem.tests.iter().enumerate() {
        let parts = problem.split(alive, &test.column);
        if parts.len() > 1 || matches!(test.column, Column::Chances(_)) {
            let cost = problem.cost(setup, Move::Test(at)).0;
            first = first.min(total * cost + parts.iter().map(|(_, part)| next(problem, part)).sum::<f64>());
        }
    }
    if problem.bets || first.is_infinite() {
        for (group, weight) in problem.groups(alive) {
            first = first.min((total - weight) * mend_minutes(problem, group));
        }
    }
    let huffman = if problem.bets || !tells_all_apart(problem, alive) {
        0.0
    } else {
        total * huffman_minutes(problem, alive)
    };
    (repairs + first.max(huffman)) / total
}

/// A bound in minutes times weight that needs no set-up: repairs, and the cheapest next move.
pub(super) fn weighted_bound(problem: &Problem, alive: &Alive) -> f64 {
    repairs(problem, alive) + next(problem, alive)
}

/// What the needed repair takes at least, times weight.
fn repairs(problem: &Problem, alive: &Alive) -> f64 {
    problem.groups(alive).into_iter().map(|(group, weight)| weight * mend_minutes(problem, group)).sum()
}

/// What knowing more takes at least, times weight: nothing for one group; else the cheapest test that can tell, or a bet.
fn next(problem: &Problem, alive: &Alive) -> f64 {
    let groups = problem.groups(alive);
    if groups.len() <= 1 {
        return 0.0;
    }
    let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
    let tells = |column: &Column| match column {
        Column::Certain(classes) => {
            alive.iter().any(|(at, _)| classes[*at as usize] != classes[alive[0].0 as usize])
        }
        Column::Chances(_) => true,
    };
    let test = problem
        .tests
        .iter()
        .filter(|test| tells(&test.column))
        .map(|test| total * test.minutes)
        .fold(f64::INFINITY, f64::min);
    let bet = groups
        .iter()
        .map(|(group, weight)| (total - weight) * mend_minutes(problem, *group))
        .fold(f64::INFINITY, f64::min);
    if problem.bets || test.is_infinite() { test.min(bet) } else { test }
}

/// Whether all groups can be told from each other, so that a leaf of a tree of tests holds one.
fn tells_all_apart(problem: &Problem, alive: &Alive) -> bool {
    let shown = |at: u32| {
        let outcomes = problem.tests.iter().map(|test| test.column.of(at as usize).collect());
        (problem.group[at as usize], outcomes.collect())
    };
    let all: Vec<(usize, Vec<Vec<_>>)> = alive.iter().map(|&(at, _)| shown(at)).collect();
    all.iter().enumerate().all(|(at, one)| all[..at].iter().all(|other| one.0 == other.0 || one.1 != other.1))
}

fn mend_minutes(problem: &Problem, group: usize) -> f64 {
    problem.mends[group].minutes + problem.mends[group].price_minutes
}

/// Huffman's bound: with w the mean length of the groups' Huffman code in as many signs as a test has outcomes, the
/// ⌊w⌋ cheapest tests and the fraction of the next (Pattipati and Alexandridis, IEEE Trans. SMC 20(4):872, 1990).
fn huffman_minutes(problem: &Problem, alive: &Alive) -> f64 {
    let weights: Vec<f64> = problem.groups(alive).into_iter().map(|(_, weight)| weight).collect();
    let most = problem.tests.iter().map(|test| test.column.classes()).max().unwrap_or(2).max(2);
    let mean = huffman_mean(&weights, most);
    let mut costs: Vec<f64> = problem.tests.iter().map(|test| test.minutes).collect();
    costs.sort_by(f64::total_cmp);
    let whole = libm::floor(mean);
    let full: f64 = costs.iter().take(whole as usize).sum();
    full + (mean - whole) * costs.get(whole as usize).copied().unwrap_or(0.0)
}

/// Mean length of the Huffman code of some weights in `signs` signs.
#[must_use]
pub fn huffman_mean(weights: &[f64], signs: usize) -> f64 {
    let total: f64 = weights.iter().sum();
    // What has no weight needs no word, and one sign alone tells nothing apart.
    let mut queue: Vec<f64> = weights.iter().copied().filter(|weight| *weight > 0.0).collect();
    let signs = signs.max(2);
    if queue.len() <= 1 {
        return 0.0;
    }
    while !(queue.len() - 1).is_multiple_of(signs - 1) {
        queue.push(0.0);
    }
    let mut length = 0.0;
    while queue.len() > 1 {
        queue.sort_by(|a, b| b.total_cmp(a));
        let joined: f64 = queue.split_off(queue.len() - signs).iter().sum();
        length += joined;
        queue.push(joined);
    }
    length / total
}
