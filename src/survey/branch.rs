//! The plan as a tree of acts and of what they show.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::confirm::perform;
use crate::bench::{Action, Certain, InstrumentErrors, Outcome, World, price};
use crate::circuit::Unsolved;
use crate::reasoning::{Inquiry, Move, Node, Problem, Stand, SuspectKind};

/// One branching of the plan.
#[derive(Clone, Debug)]
pub struct Branch {
    /// How likely it is to come here.
    pub probability: f64,
    /// Expected minutes from here, parts counted in.
    pub minutes: f64,
    /// What could still be wrong, likeliest first, with the probability of each here.
    pub left: Vec<(SuspectKind, f64)>,
    /// What came of the act before, act by act, where one vehicle stands for all that are left.
    pub shown: Vec<Outcome>,
    /// What is done.
    pub choice: Option<Choice>,
    /// What follows.
    pub outcomes: Vec<Branch>,
    /// Something follows that the tree no longer holds.
    pub cut: bool,
}

/// What the plan does at a branching, with what is needed to come to it.
#[derive(Clone, Debug, PartialEq)]
pub enum Choice {
    /// A test, act by act.
    Test(Vec<Action>),
    /// A repair, act by act. None at all: whatever it was is right again; it is tried once more.
    Mend(Vec<Action>),
}

/// What a tree is made from.
pub(super) struct Tree<'a> {
    inquiry: &'a Inquiry,
    problem: &'a Problem,
    /// By suspect, its vehicle as every test finds it.
    worlds: RefCell<BTreeMap<usize, World>>,
    /// By test and suspect, what has been played already.
    played: RefCell<BTreeMap<(usize, usize), Vec<Outcome>>>,
}

impl<'a> Tree<'a> {
    pub(super) fn new(inquiry: &'a Inquiry, problem: &'a Problem) -> Self {
        Self { inquiry, problem, worlds: RefCell::default(), played: RefCell::default() }
    }

    /// A node and all below it, the vehicle standing so.
    pub(super) fn branch(&self, node: &Node, stand: &Stand, shown: Vec<Outcome>) -> Result<Branch, Unsolved> {
        let vehicle = &self.inquiry.scenario().vehicle;
        let menu = &self.inquiry.outlook().menu;
        let mut branch = Branch {
            probability: node.probability,
            minutes: node.minutes,
            left: node
                .left
                .iter()
                .map(|&(at, share)| (self.inquiry.suspects().list()[at].kind, share))
                .collect(),
            shown,
            choice: None,
            outcomes: Vec::new(),
            cut: false,
        };
        let Some(next) = node.next else { return Ok(branch) };
        let (acts, after) = match next {
            Move::Test(at) => {
                let test = self.problem.tests[at].origin;
                (menu.acts_from(vehicle, stand, test), menu.stands[menu.tests[test].stand].clone())
            }
            Move::Mend(group) => {
                (self.inquiry.remedies()[group].acts_from(vehicle, stand), menu.stands[0].clone())
            }
        };
        let followed: f64 = node.outcomes.iter().map(|(_, child)| child.probability).sum();
        let settled: f64 = match next {
            Move::Test(_) => 0.0,
            Move::Mend(group) => node
                .left
                .iter()
                .filter(|(at, _)| self.problem.group[*at] == group)
                .map(|(_, share)| share)
                .sum(),
        };
        branch.cut = node.probability * (1.0 - settled) - followed > 1e-9;
        for (_, child) in &node.outcomes {
            let shown = match next {
                Move::Test(at) => self.shown(at, child)?,
                Move::Mend(_) => Vec::new(),
            };
            branch.outcomes.push(self.branch(child, &after, shown)?);
        }
        branch.choice = Some(match next {
            Move::Test(_) => Choice::Test(acts),
            Move::Mend(_) => Choice::Mend(acts),
        });
        Ok(branch)
    }

    /// What a test shows on the way to a node: on the likeliest vehicle of those that are left there that shows one
    /// thing only. Empty where there is none.
    fn shown(&self, test: usize, child: &Node) -> Result<Vec<Outcome>, Unsolved> {
        let origin = self.problem.tests[test].origin;
        let foreseen = &self.inquiry.outlook().foreseen[origin];
        let Some(&(suspect, _)) = child.left.iter().find(|(at, _)| foreseen.of(*at).count() == 1) else {
            return Ok(Vec::new());
        };
        if let Some(outcomes) = self.played.borrow().get(&(origin, suspect)) {
            return Ok(outcomes.clone());
        }
        let scenario = self.inquiry.scenario();
        let vehicle = &scenario.vehicle;
        let mut world = self.world(suspect)?;
        let menu = &self.inquiry.outlook().menu;
        let test = &menu.tests[origin];
        for act in Stand::of(vehicle, &world).acts_to(vehicle, &menu.stands[test.stand]) {
            perform(scenario, &mut world, &act)?;
        }
        let outcomes: Vec<Outcome> =
            test.acts.iter().map(|act| perform(scenario, &mut world, act)).collect::<Result<_, _>>()?;
        self.played.borrow_mut().insert((origin, suspect), outcomes.clone());
        Ok(outcomes)
    }

    /// A suspect's vehicle as every test finds it.
    fn world(&self, suspect: usize) -> Result<World, Unsolved> {
        if let Some(world) = self.worlds.borrow().get(&suspect) {
            return Ok(world.clone());
        }
        let scenario = self.inquiry.scenario();
        let vehicle = &scenario.vehicle;
        let fault = match self.inquiry.suspects().list()[suspect].kind {
            SuspectKind::Pool(at) => Some(&scenario.faults[at]),
            SuspectKind::Sound | SuspectKind::Outside => None,
        };
        let rest = self.inquiry.outlook().rest();
        let mut world = rest.beside(vehicle, fault, InstrumentErrors::NONE, scenario.conditions)?;
        world.arrive(vehicle, &mut Certain)?;
        world.stand_like(vehicle, rest)?;
        self.worlds.borrow_mut().insert(suspect, world.clone());
        Ok(world)
    }
}

impl Branch {
    /// How many branchings there are, itself included.
    #[must_use]
    pub fn count(&self) -> usize {
        1 + self.outcomes.iter().map(Self::count).sum::<usize>()
    }

    /// The share of all cases in which something follows that the tree no longer holds.
    #[must_use]
    pub fn cut_share(&self) -> f64 {
        let followed: f64 = self.outcomes.iter().map(|branch| branch.probability).sum();
        let here = if self.cut { self.probability - followed } else { 0.0 };
        here + self.outcomes.iter().map(Self::cut_share).sum::<f64>()
    }

    /// Expected price of the parts that are fitted from here on, times the probability of coming here.
    pub(super) fn price(&self, inquiry: &Inquiry) -> f64 {
        let vehicle = &inquiry.scenario().vehicle;
        let here = match &self.choice {
            Some(Choice::Mend(acts)) => f64::from(acts.iter().map(|act| price(vehicle, act)).sum::<u32>()),
            Some(Choice::Test(_)) | None => 0.0,
        };
        self.outcomes.iter().fold(self.probability * here, |sum, branch| sum + branch.price(inquiry))
    }
}
