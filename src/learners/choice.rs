//! How each learner chooses what is done next.

use rand_chacha::ChaCha8Rng;

use crate::fault::below;
use crate::marks::EVIDENCE_FULL;
use crate::reasoning::{Inquiry, Move, Problem, Remedy, Stand, SuspectKind};

/// Tests after which one who acts at random begins to mend.
const PATIENCE: usize = 12;
/// A test that is expected to tell less than this, in bits, tells nothing.
const LEAST_BITS: f64 = 1e-3;

/// A machine learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Learner {
    /// Makes tests at random, then mends one thing after another at random, whatever was seen.
    Random,
    /// Mends one thing after another by its odds against its cost, and tries the complaint after each.
    Swapper,
    /// Tests along the wire, leaving out what can tell nothing.
    Walker,
    /// Makes the test that tells most, whatever it costs.
    Halver,
    /// Makes the test that tells most for its time.
    Greedy,
    /// Follows the plan.
    Planner,
}

impl Learner {
    /// All of them, the less skilled first.
    pub const ALL: [Self; 6] =
        [Self::Random, Self::Swapper, Self::Walker, Self::Halver, Self::Greedy, Self::Planner];
}

/// What a learner keeps in mind of his own choices, beside what he holds for likely.
pub(super) struct Chooser<'a> {
    learner: Learner,
    /// What reason knew before any act.
    fresh: &'a Inquiry,
    /// Tests made.
    made: usize,
    /// The menu's position of the last test.
    last: Option<usize>,
    /// What has been mended.
    mended: Vec<Remedy>,
}

impl<'a> Chooser<'a> {
    pub(super) fn new(learner: Learner, fresh: &'a Inquiry) -> Self {
        Self { learner, fresh, made: 0, last: None, mended: Vec::new() }
    }

    /// The next move from a stand: a test by the menu's position, or a repair by its group. `None` where he is at his
    /// wits' end.
    pub(super) fn next(&mut self, inquiry: &Inquiry, stand: &Stand, draws: &mut ChaCha8Rng) -> Option<Move> {
        let (problem, setup) = inquiry.problem(stand);
        let next = match self.learner {
            Learner::Random => self.at_random(inquiry, draws),
            Learner::Swapper => self.by_odds(inquiry, &problem),
            Learner::Planner => inquiry.plan(stand).first,
            Learner::Walker | Learner::Halver | Learner::Greedy => self.by_tests(&problem, setup),
        };
        match next {
            Some(Move::Test(test)) => {
                self.made += 1;
                self.last = Some(test);
            }
            Some(Move::Mend(group)) => self.mended.push(inquiry.remedies()[group].clone()),
            None => {}
        }
        next
    }

    /// Tests until one repair is as good as certain, or no test tells more.
    fn by_tests(&self, problem: &Problem, setup: usize) -> Option<Move> {
        let groups = groups(problem);
        let &(likeliest, share) = groups.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
        if share > EVIDENCE_FULL {
            return Some(Move::Mend(likeliest));
        }
        let worths = problem.worths(setup);
        let telling: Vec<usize> =
            (0..problem.tests.len()).filter(|&at| worths[at].bits >= LEAST_BITS).collect();
        let best_by = |worth: &dyn Fn(usize) -> f64| {
            // Of equals, which rounding must not tell apart, the first of the menu.
            let most = telling.iter().map(|&at| worth(at)).fold(0.0, f64::max);
            telling.iter().copied().find(|&at| worth(at) >= most * (1.0 - 1e-9))
        };
        let test = match self.learner {
            Learner::Walker => {
                let origin = |at: usize| problem.tests[at].origin;
                let ahead =
                    telling.iter().copied().find(|&at| self.last.is_none_or(|last| origin(at) > last));
                ahead.or(telling.first().copied())
            }
            Learner::Halver => best_by(&|at| worths[at].bits),
            _ => best_by(&|at| worths[at].rate()),
        };
        let Some(test) = test else {
            let rate = |&(group, share): &(usize, f64)| share / problem.cost(setup, Move::Mend(group)).0;
            let best = groups.iter().max_by(|a, b| rate(a).total_cmp(&rate(b)))?;
            return Some(Move::Mend(best.0));
        };
        Some(Move::Test(problem.tests[test].origin))
    }

    fn at_random(&self, inquiry: &Inquiry, draws: &mut ChaCha8Rng) -> Option<Move> {
        let mut pick = |count: usize| usize::try_from(below(draws, count as u64)).unwrap_or(0);
        if self.made < PATIENCE {
            return Some(Move::Test(pick(inquiry.outlook().menu.tests.len())));
        }
        let left = self.unmended(inquiry);
        if left.is_empty() { None } else { Some(Move::Mend(left[pick(left.len())].0)) }
    }

    /// The repair that has not been made yet with the best odds, as they were in the beginning, against its cost.
    fn by_odds(&self, inquiry: &Inquiry, problem: &Problem) -> Option<Move> {
        let rate = |group: usize, odds: f64| odds / problem.cost(0, Move::Mend(group)).0;
        let best =
            self.unmended(inquiry).into_iter().max_by(|a, b| rate(a.0, a.1).total_cmp(&rate(b.0, b.1)));
        best.map(|(group, _)| Move::Mend(group))
    }

    /// The repairs that have not been made yet, each with its odds as they were in the beginning.
    fn unmended(&self, inquiry: &Inquiry) -> Vec<(usize, f64)> {
        let mut odds = vec![0.0; inquiry.remedies().len()];
        let suspects = inquiry.suspects().list().iter().zip(self.fresh.probabilities());
        for ((suspect, prior), &group) in suspects.zip(inquiry.groups()) {
            if matches!(suspect.kind, SuspectKind::Pool(_)) {
                odds[group] += prior;
            }
        }
        let remedies = inquiry.remedies().iter().enumerate().filter(|(group, remedy)| {
            odds[*group] > 0.0 && !remedy.acts.is_empty() && !self.mended.contains(remedy)
        });
        remedies.map(|(group, _)| (group, odds[group])).collect()
    }
}

/// The groups that are still possible, each with its share.
fn groups(problem: &Problem) -> Vec<(usize, f64)> {
    let weights = problem.group_weights();
    let total: f64 = weights.iter().map(|(_, weight)| weight).sum();
    weights.into_iter().map(|(group, weight)| (group, weight / total)).collect()
}
