//! Is this job fair? What the reasoning says of a scenario as a whole, before anybody plays it.

use std::sync::Arc;
use std::thread;

use super::apart::{Inseparable, alike, inseparable};
use super::branch::{Branch, Tree};
use super::confirm::{CannotConfirm, Unconfirmable, remedy_fails};
use crate::bench::{Action, UNITS_AN_HOUR};
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::reasoning::score::order_of_repair;
use crate::reasoning::{Inquiry, MOST_EXPANSIONS, Move, Planner, Problem, SuspectKind, Worth, entropy_bits};
use crate::scenario::Scenario;
use crate::threads::in_parallel;

/// Branchings of the plan that are worked out; a tree that would have more is cut.
pub const MOST_BRANCHES: usize = 2000;
/// First tests that are listed.
const BEST_TESTS: usize = 8;

/// A test and what it is worth as the first one.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstTest {
    /// What is done, act by act.
    pub acts: Vec<Action>,
    /// What it is worth.
    pub worth: Worth,
    /// How many tests tell the same in the same set-up, itself included.
    pub stands_for: usize,
}

/// What there is to know of a scenario. Minutes are expected ones to a proven repair, with what parts cost counted in
/// by [`UNITS_AN_HOUR`].
#[derive(Clone, Debug)]
pub struct Survey {
    /// The scenario.
    pub scenario: Arc<Scenario>,
    /// Tests that the vehicle offers.
    pub tests: usize,
    /// Those that tell something and that differ in what they tell or in their set-up.
    pub telling_tests: usize,
    /// Figures and acts that were worked out.
    pub readings: usize,
    /// Faults that no available test tells apart although they need different repairs.
    pub groups: Vec<Inseparable>,
    /// Faults that no learner's action can confirm.
    pub unconfirmable: Vec<Unconfirmable>,
    /// The best first tests, best first.
    pub first_tests: Vec<FirstTest>,
    /// What is not known of which repair is needed as the vehicle comes in, in bits.
    pub bits: f64,
    /// The share of jobs whose fault comes and goes.
    pub intermittent_share: f64,
    /// Minutes of the needed repair alone, had one known.
    pub repair_minutes: f64,
    /// Minutes of the plan.
    pub expected_minutes: f64,
    /// The plan is the best there is, and not only the best that was found.
    pub exact: bool,
    /// Expected price of what the plan fits, in units of money.
    pub expected_price: f64,
    /// No way takes less than this.
    pub lower_bound_minutes: f64,
    /// Minutes of somebody who tests nothing: he does repairs in order of prior over cost until it works.
    pub swapper_minutes: f64,
    /// Expected price of what he fits, in units of money.
    pub swapper_price: f64,
    /// From 1 to 5: [`difficulty`].
    pub difficulty: u8,
    /// The plan as a tree.
    pub plan: Branch,
}

/// How hard a job is, from 1 to 5: the whole part of 1 + s/10 + b/2.5 + 2·i, no more than 5. Here s is the plan's
/// minutes beyond the needed repair, b the bits that have to be found out, i the share of jobs whose fault comes and
/// goes (the formula is ours, no source).
#[must_use]
pub fn difficulty(search_minutes: f64, bits: f64, intermittent_share: f64) -> u8 {
    let points = 1.0 + search_minutes.max(0.0) / 10.0 + bits / 2.5 + 2.0 * intermittent_share;
    points.clamp(1.0, 5.0) as u8
}

impl Survey {
    /// Surveys a scenario. The work is shared among so many threads; their number changes nothing but the time.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point.
    pub fn new(scenario: Arc<Scenario>, threads: usize) -> Result<Self, Unsolved> {
        let inquiry = Inquiry::new(Arc::clone(&scenario), threads)?;
        let menu = &inquiry.outlook().menu;
        let (problem, setup) = inquiry.problem(&menu.stands[0]);
        let sets = alike(&inquiry);
        let plan = || -> Result<_, Unsolved> {
            let mut planner = Planner::new(&problem, MOST_EXPANSIONS);
            let planned = planner.plan(setup);
            let root = planner.tree(setup, MOST_BRANCHES);
            let plan = Tree::new(&inquiry, &problem).branch(&root, &menu.stands[0], Vec::new())?;
            Ok((planned, plan))
        };
        let doubts = |threads| -> Result<_, Unsolved> {
            Ok((inseparable(&inquiry, &sets)?, unconfirmable(&inquiry, &sets, threads)?))
        };
        let (planned, doubted) = match threads.checked_sub(1) {
            // The plan is made on a thread of its own meanwhile.
            Some(others) if others > 0 => thread::scope(|scope| {
                let planning = scope.spawn(plan);
                let doubted = doubts(others);
                (planning.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)), doubted)
            }),
            _ => (plan(), doubts(1)),
        };
        let ((planned, plan), (groups, unconfirmable)) = (planned?, doubted?);
        let bits = bits(&problem);
        let weight = |counts: &dyn Fn(&PlacedFault) -> bool| -> u64 {
            scenario.faults.iter().filter(|fault| counts(fault)).map(|fault| fault.weight).sum()
        };
        let whole = weight(&|_| true).max(1);
        let intermittent_share = weight(&PlacedFault::is_intermittent) as f64 / whole as f64;
        let swapper = swapper(&problem, setup);
        Ok(Self {
            tests: menu.tests.len(),
            telling_tests: problem.tests.len(),
            readings: inquiry.outlook().readings(),
            groups,
            unconfirmable,
            first_tests: first_tests(&inquiry, &problem, setup),
            bits,
            intermittent_share,
            repair_minutes: swapper.needed,
            expected_minutes: planned.minutes,
            exact: planned.exact,
            expected_price: plan.price(&inquiry),
            lower_bound_minutes: planned.lower_bound,
            swapper_minutes: swapper.minutes,
            swapper_price: swapper.price,
            difficulty: difficulty(planned.minutes - swapper.needed, bits, intermittent_share),
            plan,
            scenario,
        })
    }

    /// How far the plan is above the lower bound, in percent of the bound.
    #[must_use]
    pub fn gap_percent(&self) -> f64 {
        if self.lower_bound_minutes > 0.0 {
            100.0 * (self.expected_minutes - self.lower_bound_minutes) / self.lower_bound_minutes
        } else {
            0.0
        }
    }
}

/// What is not known of which repair is needed, in bits.
fn bits(problem: &Problem) -> f64 {
    entropy_bits(&problem.group_weights().into_iter().map(|(_, weight)| weight).collect::<Vec<_>>())
}

struct Swapper {
    minutes: f64,
    price: f64,
    /// Minutes of the needed repair alone.
    needed: f64,
}

/// Somebody who tests nothing: repair by repair in order of prior over cost, until it works. No order of repairs takes
/// less (Heckerman, Breese and Rommelse, CACM 38(3):49, 1995).
fn swapper(problem: &Problem, setup: usize) -> Swapper {
    let (groups, weights): (Vec<usize>, Vec<f64>) = problem.group_weights().into_iter().unzip();
    let minutes: Vec<f64> = groups.iter().map(|&group| problem.cost(setup, Move::Mend(group)).0).collect();
    let order = order_of_repair(&weights, &minutes);
    let total: f64 = order.iter().map(|&at| weights[at]).sum();
    let mut swapper = Swapper { minutes: 0.0, price: 0.0, needed: 0.0 };
    if total <= 0.0 {
        return swapper;
    }
    let mut left = total;
    for at in order {
        let price = problem.mends[groups[at]].price_minutes * UNITS_AN_HOUR / 60.0;
        swapper.minutes += left * minutes[at] / total;
        swapper.price += left * price / total;
        swapper.needed += weights[at] * minutes[at] / total;
        left -= weights[at];
    }
    swapper
}

/// The tests with the most bits a minute.
fn first_tests(inquiry: &Inquiry, problem: &Problem, setup: usize) -> Vec<FirstTest> {
    let vehicle = &inquiry.scenario().vehicle;
    let menu = &inquiry.outlook().menu;
    let worths = problem.worths(setup);
    let mut order: Vec<usize> = (0..worths.len()).filter(|&at| worths[at].bits > 0.0).collect();
    order.sort_by(|&a, &b| worths[b].rate().total_cmp(&worths[a].rate()).then(a.cmp(&b)));
    order
        .into_iter()
        .take(BEST_TESTS)
        .map(|at| {
            let candidate = &problem.tests[at];
            let acts = menu.acts_from(vehicle, &menu.stands[0], candidate.origin);
            FirstTest { acts, worth: worths[at], stands_for: candidate.stands_for }
        })
        .collect()
}

/// Faults that show nothing, and those whose remedy does not do.
fn unconfirmable(
    inquiry: &Inquiry,
    sets: &[Vec<usize>],
    threads: usize,
) -> Result<Vec<Unconfirmable>, Unsolved> {
    let list = inquiry.suspects().list();
    let looks_sound = |fault: usize| {
        sets.iter().any(|set| {
            set.iter().any(|&at| list[at].kind == SuspectKind::Sound)
                && set.iter().any(|&at| list[at].kind == SuspectKind::Pool(fault))
        })
    };
    let faults: Vec<usize> = (0..inquiry.scenario().faults.len()).collect();
    let found = in_parallel(&faults, threads, |&fault| {
        let why =
            if looks_sound(fault) { Some(CannotConfirm::LooksSound) } else { remedy_fails(inquiry, fault)? };
        Ok(why.map(|why| Unconfirmable { fault, why }))
    })?;
    Ok(found.into_iter().flatten().collect())
}
