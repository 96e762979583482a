//! What is best done next: the least expected minutes to a proven repair.
//!
//! Exact by memoised recursion within a stated number of expansions. Beyond that by a rollout on the greedy base: of
//! each promising move, its cost and then what the greedy way takes from each of its outcomes (Tu and Pattipati, IEEE
//! Trans. SMC-A 33(1):86, 2003).

use std::collections::BTreeMap;

use super::bound::{lower_bound, weighted_bound};
use super::posterior::x_log_x;
use super::problem::{Column, Move, Problem};
use super::score::order_of_repair;
use super::worth::{Alive, Scratch};

/// Moves that a rollout tries at each node, best rate first.
const TRIED: usize = 10;
/// What is left with less than this share of all is not searched any more on the greedy way: it is mended by odds.
const NEGLIGIBLE: f64 = 1e-4;
/// A test that gives less than this, in bits, is not made on the greedy way. The exact search tries it: two tests that
/// say nothing alone may tell together.
const LEAST_BITS: f64 = 1e-3;
/// Moves one after another in one line of the greedy way: chance can be tried again and again.
const DEEPEST: usize = 48;
/// Hypotheses up to which the exact search is tried at all.
const EXACT_HYPOTHESES: usize = 24;

/// A node of a plan: what is done, and what follows each outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// How likely it is to come here.
    pub probability: f64,
    /// The hypotheses that are left, likeliest first, with their probability here.
    pub left: Vec<(usize, f64)>,
    /// Expected minutes from here.
    pub minutes: f64,
    /// What is done. `None` where nothing is left to be done.
    pub next: Option<Move>,
    /// What follows: the outcome, and the node.
    pub outcomes: Vec<(u16, Node)>,
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Expected minutes to a proven repair.
    pub minutes: f64,
    /// No way whatever takes less than this.
    pub lower_bound: f64,
    /// The search was exact.
    pub exact: bool,
    /// Nodes that were expanded.
    pub expansions: usize,
    /// What is done first.
    pub first: Option<Move>,
}

/// A set-up, and hypotheses with the bits of their weights.
type Situation = (usize, Vec<(u32, u64)>);

/// Minutes times weight, and the first move.
type Best = (f64, Option<Move>);

/// One exact search: what it has found, and how many nodes it has expanded.
#[derive(Clone, Debug, Default)]
struct Search {
    memo: BTreeMap<Situation, Best>,
    expansions: usize,
}

/// The exact search with all hypotheses from one set-up, and what came of it.
struct Begun {
    search: Search,
    best: Option<Best>,
}

/// Looks for what is best done next in one problem. Each question has expansions of its own, so that no answer depends on
/// what was asked before.
pub struct Planner<'a> {
    problem: &'a Problem,
    most_expansions: usize,
    scratch: Scratch,
    /// By set-up.
    begun: BTreeMap<usize, Begun>,
    /// By set-up, the rollout with all hypotheses.
    rolled: BTreeMap<usize, Best>,
    /// Weight of all at the beginning.
    whole: f64,
    /// The outcome of some test is a matter of chance, so that it may be made again and again.
    chancy: bool,
}

/// Which tests count as moves.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tried {
    /// Those that tell something by themselves.
    Telling,
    /// All whose outcome is not the same throughout.
    All,
}

impl<'a> Planner<'a> {
    /// Looks at a problem, expanding no more nodes than this for one question.
    #[must_use]
    pub fn new(problem: &'a Problem, most_expansions: usize) -> Self {
        let whole = problem.weights.iter().filter(|weight| **weight > 0.0).sum();
        Self {
            problem,
            most_expansions,
            scratch: Scratch::default(),
            begun: BTreeMap::new(),
            rolled: BTreeMap::new(),
            whole,
            chancy: problem.tests.iter().any(|test| matches!(test.column, Column::Chances(_))),
        }
    }

    /// The plan from a set-up.
    pub fn plan(&mut self, setup: usize) -> Plan {
        let alive = self.problem.alive();
        let lower_bound = lower_bound(self.problem, &alive, setup);
        if self.whole <= 0.0 {
            return Plan { minutes: 0.0, lower_bound: 0.0, exact: true, expansions: 0, first: None };
        }
        let begun = self.begun(&alive, setup);
        let (exact, expansions) = (begun.best, begun.search.expansions);
        let (minutes, first) = exact.unwrap_or_else(|| self.rolled(&alive, setup));
        Plan { minutes: minutes / self.whole, lower_bound, exact: exact.is_some(), expansions, first }
    }

    /// The exact search with all hypotheses from a set-up: made once.
    fn begun(&mut self, alive: &Alive, setup: usize) -> &Begun {
        if !self.begun.contains_key(&setup) {
            let mut search = Search::default();
            let best = self.exact(alive, setup, &mut search);
            self.begun.insert(setup, Begun { search, best });
        }
        &self.begun[&setup]
    }

    /// A search that knows what the one with all hypotheses has found, and has expanded nothing yet.
    fn going_on(&mut self, alive: &Alive, setup: usize) -> Search {
        Search { memo: self.begun(alive, setup).search.memo.clone(), expansions: 0 }
    }

    /// Expected minutes if this is done first and the plan followed from then on.
    pub fn minutes_of(&mut self, setup: usize, next: Move) -> f64 {
        if self.whole <= 0.0 {
            return 0.0;
        }
        let alive = self.problem.alive();
        let (cost, after) = self.problem.cost(setup, next);
        let parts = self.parts(&alive, next);
        cost + self.planned_after(&alive, setup, parts, after) / self.whole
    }

    /// Expected minutes of what is still to come after each outcome of an observation that is not in the list of tests. It
    /// was begun in one set-up and leaves the vehicle in another; the plan is followed from then on.
    pub fn minutes_after(&mut self, begun_in: usize, column: &Column, after: usize) -> f64 {
        if self.whole <= 0.0 {
            return 0.0;
        }
        let alive = self.problem.alive();
        let parts = self.problem.split(&alive, column);
        self.planned_after(&alive, begun_in, parts, after) / self.whole
    }

    /// Minutes times weight of what follows the outcomes of a move: by the plan where the one from the move's beginning is
    /// exact, or the greedy way.
    fn planned_after(
        &mut self,
        alive: &Alive,
        begun_in: usize,
        parts: Vec<(u16, Alive)>,
        after: usize,
    ) -> f64 {
        if self.begun(alive, begun_in).best.is_none() {
            let tests = self.candidates(alive, Tried::Telling);
            return self.greedy_after(&tests, &parts, after);
        }
        let mut search = self.going_on(alive, begun_in);
        let mut minutes = 0.0;
        for (_, part) in parts {
            let solved = self.exact(&part, after, &mut search);
            minutes += solved.map_or_else(|| self.unsolved(&part, after), |(minutes, _)| minutes);
        }
        minutes
    }

    /// The best way that is known, in minutes times weight, where the exact search has given up.
    fn unsolved(&mut self, alive: &Alive, setup: usize) -> f64 {
        let rolled = self.rollout(alive, setup).0;
        if self.problem.bets { rolled.min(self.by_odds(alive, setup).0) } else { rolled }
    }

    /// Expected minutes of the greedy way: always the test with the most bits a minute, or the repair that is the better
    /// bet.
    pub fn greedy_minutes(&mut self, setup: usize) -> f64 {
        if self.whole <= 0.0 {
            return 0.0;
        }
        let alive = self.problem.alive();
        let tests = self.candidates(&alive, Tried::Telling);
        self.greedy(&alive, setup, &tests, 0) / self.whole
    }

    /// The plan as a tree, of no more nodes than this; what is cut off ends without a move.
    pub fn tree(&mut self, setup: usize, most_nodes: usize) -> Node {
        let alive = self.problem.alive();
        let mut left = most_nodes;
        let mut search = self.going_on(&alive, setup);
        self.node(&alive, setup, (&mut search, &mut left), 0)
    }

    fn node(
        &mut self,
        alive: &Alive,
        setup: usize,
        (search, left): (&mut Search, &mut usize),
        depth: usize,
    ) -> Node {
        let weight: f64 = alive.iter().map(|(_, weight)| weight).sum();
        let mut order: Vec<(usize, f64)> =
            alive.iter().map(|&(at, one)| (at as usize, one / weight)).collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let (minutes, next) = self.exact(alive, setup, search).unwrap_or_else(|| self.rolled(alive, setup));
        let mut node = Node {
            probability: weight / self.whole,
            left: order,
            minutes: minutes / weight,
            next,
            outcomes: Vec::new(),
        };
        *left = left.saturating_sub(1);
        if let (Some(next), true) = (next, depth < DEEPEST) {
            let after = self.problem.cost(setup, next).1;
            for (class, part) in self.parts(alive, next) {
                if *left > 0 {
                    let child = self.node(&part, after, (&mut *search, &mut *left), depth + 1);
                    node.outcomes.push((class, child));
                }
            }
        }
        node
    }

    /// What is left after each outcome of a move. A repair that fits leaves nothing.
    fn parts(&self, alive: &Alive, next: Move) -> Vec<(u16, Alive)> {
        match next {
            Move::Test(at) => self.problem.split(alive, &self.problem.tests[at].column),
            Move::Mend(mended) => {
                let rest: Alive = alive
                    .iter()
                    .copied()
                    .filter(|&(hypothesis, _)| self.problem.group[hypothesis as usize] != mended)
                    .collect();
                if rest.is_empty() { Vec::new() } else { vec![(0, rest)] }
            }
        }
    }

    /// Information of a test on these, in bits times their weight, where it counts as a move. Where nothing is mended
    /// before it is certain, every test that can go either way counts: tests go on until none does.
    fn counts(&mut self, alive: &Alive, sums: (f64, f64), at: usize, tried: Tried) -> Option<f64> {
        let (total, of_groups) = sums;
        let column = &self.problem.tests[at].column;
        let splits = match column {
            Column::Certain(classes) => {
                alive.iter().any(|(at, _)| classes[*at as usize] != classes[alive[0].0 as usize])
            }
            Column::Chances(_) => true,
        };
        // One outcome for all tells nothing.
        if !splits {
            return None;
        }
        let gain = self.problem.gain(alive, total, of_groups, column, &mut self.scratch);
        let certain = matches!(column, Column::Certain(_));
        let counts = (certain && (tried == Tried::All || !self.problem.bets)) || gain >= LEAST_BITS * total;
        counts.then_some(gain)
    }

    /// Weight of these, and the term of their groups.
    fn sums(&self, alive: &Alive) -> (f64, f64) {
        (alive.iter().map(|(_, weight)| weight).sum(), self.problem.group_term(alive))
    }

    /// Tests that count as moves.
    fn candidates(&mut self, alive: &Alive, tried: Tried) -> Vec<u32> {
        let sums = self.sums(alive);
        (0..self.problem.tests.len())
            .filter(|&at| self.counts(alive, sums, at, tried).is_some())
            .map(|at| at as u32)
            .collect()
    }

    /// Mending one group after another, in minutes times weight, and which comes first. From the first set-up the best
    /// order is by odds against cost (Heckerman, Breese and Rommelse, CACM 38(3):49, 1995); that holds for all but the first
    /// repair, of which each is tried.
    fn by_odds(&self, alive: &Alive, setup: usize) -> Best {
        let (groups, weights): (Vec<usize>, Vec<f64>) = self.problem.groups(alive).into_iter().unzip();
        let costs: Vec<f64> = groups.iter().map(|&group| self.problem.cost(0, Move::Mend(group)).0).collect();
        let order = order_of_repair(&weights, &costs);
        let total: f64 = order.iter().map(|&at| weights[at]).sum();
        let mut best = (f64::INFINITY, None);
        for &first in &order {
            let next = Move::Mend(groups[first]);
            let mut minutes = total * self.problem.cost(setup, next).0;
            let mut left = total - weights[first];
            for &at in order.iter().filter(|at| **at != first) {
                minutes += left * costs[at];
                left -= weights[at];
            }
            if minutes < best.0 {
                best = (minutes, Some(next));
            }
        }
        best
    }

    /// Candidates for the next move, best first: tests by bits a minute, repairs by what they settle against what a
    /// failure costs.
    fn ranked(&mut self, alive: &Alive, setup: usize, tests: &[u32], tried: Tried) -> Vec<(f64, Move)> {
        let problem = self.problem;
        let (total, of_groups) = self.sums(alive);
        let mut ranked: Vec<(f64, Move)> = Vec::with_capacity(tests.len());
        for &at in tests {
            let next = Move::Test(at as usize);
            if let Some(gain) = self.counts(alive, (total, of_groups), at as usize, tried) {
                let minutes = problem.cost(setup, next).0;
                ranked.push((gain / (total * minutes.max(1e-9)), next));
            }
        }
        if problem.bets {
            let whole = x_log_x(total) - of_groups;
            for (group, weight) in self.problem.groups(alive) {
                let next = Move::Mend(group);
                let rest = total - weight;
                // What is not yet known if it fails, and what that costs.
                let unsettled = x_log_x(rest) - (of_groups - x_log_x(weight));
                let cost = rest * problem.cost(setup, next).0;
                ranked.push(((whole - unsettled.max(0.0)) / cost.max(1e-9), next));
            }
        }
        ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        ranked
    }

    /// The greedy way from here, in minutes times weight.
    fn greedy(&mut self, alive: &Alive, setup: usize, tests: &[u32], depth: usize) -> f64 {
        let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
        let one_group = self.problem.groups(alive).len() <= 1;
        let endless = self.problem.bets || self.chancy;
        if one_group || (endless && total < NEGLIGIBLE * self.whole) || depth > DEEPEST {
            return self.by_odds(alive, setup).0;
        }
        let ranked = self.ranked(alive, setup, tests, Tried::Telling);
        let Some(&(_, next)) = ranked.first() else { return self.by_odds(alive, setup).0 };
        let telling: Vec<u32> = ranked
            .iter()
            .filter_map(|(_, next)| if let Move::Test(at) = next { Some(*at as u32) } else { None })
            .collect();
        let (cost, after) = self.problem.cost(setup, next);
        let mut minutes = total * cost;
        for (_, part) in self.parts(alive, next) {
            minutes += self.greedy(&part, after, &telling, depth + 1);
        }
        minutes
    }

    /// A rollout with all hypotheses is made once from a set-up.
    fn rolled(&mut self, alive: &Alive, setup: usize) -> Best {
        let from_the_beginning = *alive == self.problem.alive();
        let known = self.rolled.get(&setup).filter(|_| from_the_beginning);
        if let Some(&known) = known {
            return known;
        }
        let best = self.rollout(alive, setup);
        if from_the_beginning {
            self.rolled.insert(setup, best);
        }
        best
    }

    /// The best first move on the greedy base, and its minutes times weight.
    fn rollout(&mut self, alive: &Alive, setup: usize) -> Best {
        let tests = self.candidates(alive, Tried::Telling);
        if self.problem.groups(alive).len() <= 1 {
            return self.by_odds(alive, setup);
        }
        let ranked = self.ranked(alive, setup, &tests, Tried::Telling);
        let mut best: Option<(f64, Move)> = None;
        let repairs = ranked.iter().filter(|(_, next)| matches!(next, Move::Mend(_))).take(2);
        let tried = ranked.iter().take(TRIED).chain(repairs).map(|(_, next)| *next);
        for next in tried.collect::<Vec<_>>() {
            let minutes = self.followed(alive, setup, next, &tests);
            if best.is_none_or(|(least, _)| minutes < least) {
                best = Some((minutes, next));
            }
        }
        match best {
            Some((minutes, next)) => (minutes, Some(next)),
            None => self.by_odds(alive, setup),
        }
    }

    /// Minutes times weight of a first move and then the greedy way.
    fn followed(&mut self, alive: &Alive, setup: usize, next: Move, tests: &[u32]) -> f64 {
        let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
        let (cost, after) = self.problem.cost(setup, next);
        let parts = self.parts(alive, next);
        total * cost + self.greedy_after(tests, &parts, after)
    }

    /// Minutes times weight of what follows the outcomes of a move, the greedy way. It never comes back to a test that told
    /// nothing once; nor may this, or it could fare worse: `tests` are those that told something before the move.
    fn greedy_after(&mut self, tests: &[u32], parts: &[(u16, Alive)], after: usize) -> f64 {
        parts.iter().map(|(_, part)| self.greedy(part, after, tests, 1)).sum()
    }

    /// The least minutes times weight, and the first move; `None` beyond the expansions that are allowed, or where chance
    /// makes the search endless.
    fn exact(&mut self, alive: &Alive, setup: usize, search: &mut Search) -> Option<Best> {
        if alive.len() > EXACT_HYPOTHESES || self.chancy {
            return None;
        }
        self.search(alive, setup, search)
    }

    fn search(&mut self, alive: &Alive, setup: usize, search: &mut Search) -> Option<Best> {
        if self.problem.groups(alive).len() <= 1 {
            return Some(self.by_odds(alive, setup));
        }
        let key = (setup, alive.iter().map(|&(at, weight)| (at, weight.to_bits())).collect::<Vec<_>>());
        if let Some(&known) = search.memo.get(&key) {
            return Some(known);
        }
        if search.expansions >= self.most_expansions {
            return None;
        }
        search.expansions += 1;
        let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
        let tests = self.candidates(alive, Tried::All);
        let mut best = self.by_odds(alive, setup);
        let telling = !tests.is_empty();
        if telling && !self.problem.bets {
            best = (f64::INFINITY, None);
        }
        for (_, next) in self.ranked(alive, setup, &tests, Tried::All) {
            let (cost, after) = self.problem.cost(setup, next);
            let parts = self.parts(alive, next);
            let mut minutes = total * cost;
            let bounds: Vec<f64> = parts.iter().map(|(_, part)| weighted_bound(self.problem, part)).collect();
            let mut to_come: f64 = bounds.iter().sum();
            if minutes + to_come >= best.0 {
                continue;
            }
            for ((_, part), bound) in parts.iter().zip(&bounds) {
                to_come -= bound;
                minutes += self.search(part, after, search)?.0;
                if minutes + to_come >= best.0 {
                    // What is not searched any more counts by its bound, and so loses.
                    minutes += to_come;
                    break;
                }
            }
            if minutes < best.0 {
                best = (minutes, Some(next));
            }
        }
        search.memo.insert(key, best);
        Some(best)
    }
}
