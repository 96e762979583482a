//! One job as reason sees it: what could still be wrong after each act, and what every next one would be worth.

use std::sync::Arc;

use super::outlook::Outlook;
use super::plan::{Plan, Planner};
use super::posterior::{POSSIBLE_SHARE, Posterior};
use super::problem::{Candidate, Mend, Move, Problem};
use super::remedy::Remedy;
use super::stand::Stand;
use super::suspects::{Suspect, SuspectKind, Suspects, Weighed};
use crate::bench::{Action, Outcome, UNITS_AN_HOUR, minutes, price};
use crate::circuit::Unsolved;
use crate::fault::{Diagnosis, PlacedFault};
use crate::scenario::{Scenario, Trial};

/// Nodes that the exact search may expand.
pub const MOST_EXPANSIONS: usize = 4000;

/// A price in units of money, in minutes of work: a part's price counts as time.
#[must_use]
pub fn price_minutes(price: f64) -> f64 {
    price * 60.0 / UNITS_AN_HOUR
}

/// One job as reason sees it. It reads what was done and what it showed, never what is wrong.
#[derive(Clone, Debug)]
pub struct Inquiry {
    scenario: Arc<Scenario>,
    suspects: Suspects,
    outlook: Outlook,
    posterior: Posterior,
    /// By suspect, which remedy mends it.
    group: Vec<usize>,
    remedies: Vec<Remedy>,
    /// By remedy, what it takes, its set-up a position in `setups`.
    mends: Vec<Mend>,
    /// Stands of menu and remedies.
    setups: Vec<Stand>,
    /// Minutes from one of them to another.
    ways: Vec<Vec<f64>>,
    /// By suspect, which remedy mended it in the beginning.
    first_group: Vec<usize>,
    /// How often what mends or what the tests would show has changed.
    generation: u32,
}

/// A choice before the learner, whole: it does not change when more is observed.
#[derive(Clone, Debug)]
pub struct Moment {
    /// The choice. What is no longer possible has no weight; nor has what is not in the pool, since nothing can be planned
    /// for it.
    pub problem: Problem,
    /// The set-ups.
    stands: Vec<Stand>,
    /// The repairs.
    remedies: Vec<Remedy>,
}

impl Moment {
    /// The set-up that a stand is; it is added where it is not there yet.
    pub fn setup(&mut self, inquiry: &Inquiry, stand: &Stand) -> usize {
        if let Some(at) = self.stands.iter().position(|one| one == stand) {
            return at;
        }
        let vehicle = &inquiry.scenario.vehicle;
        let rest = inquiry.outlook.rest();
        for (row, from) in self.problem.ways.iter_mut().zip(&self.stands) {
            row.push(from.minutes_to(vehicle, rest, stand));
        }
        self.stands.push(stand.clone());
        self.problem.ways.push(self.stands.iter().map(|to| stand.minutes_to(vehicle, rest, to)).collect());
        self.stands.len() - 1
    }

    /// How many acts mend a group.
    pub(super) fn work_on(&self, group: usize) -> usize {
        self.remedies[group].acts.len()
    }

    /// A move, act by act, from a stand.
    #[must_use]
    pub fn acts(&self, inquiry: &Inquiry, stand: &Stand, next: Move) -> Vec<Action> {
        let vehicle = &inquiry.scenario.vehicle;
        match next {
            Move::Test(at) => inquiry.outlook.menu.acts_from(vehicle, stand, self.problem.tests[at].origin),
            Move::Mend(group) => self.remedies[group].acts_from(vehicle, stand),
        }
    }
}

impl Inquiry {
    /// What can be wrong as the vehicle comes in.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point.
    pub fn new(scenario: Arc<Scenario>, threads: usize) -> Result<Self, Unsolved> {
        let (suspects, priors) = Suspects::new(&scenario, threads)?;
        let outlook = Outlook::new(&scenario, &suspects)?;
        let mut inquiry = Self {
            posterior: Posterior::new(&priors),
            suspects,
            outlook,
            group: Vec::new(),
            remedies: Vec::new(),
            mends: Vec::new(),
            setups: Vec::new(),
            ways: Vec::new(),
            first_group: Vec::new(),
            generation: 0,
            scenario,
        };
        let needed = inquiry.needed();
        inquiry.remedy(&needed);
        inquiry.first_group.clone_from(&inquiry.group);
        Ok(inquiry)
    }

    /// By suspect, what would mend what is still wrong.
    fn needed(&self) -> Vec<Remedy> {
        let vehicle = &self.scenario.vehicle;
        let of = |(at, suspect): (usize, &Suspect)| {
            let fault = match suspect.kind {
                SuspectKind::Pool(at) => Some(&self.scenario.faults[at]),
                SuspectKind::Sound | SuspectKind::Outside => None,
            };
            match (suspect.state(), fault, self.group.get(at)) {
                (Some(state), ..) => Remedy::of(vehicle, fault, state),
                // It is not taken along any more: what mended it last would.
                (None, Some(_), Some(&group)) => self.remedies[group].clone(),
                _ => Remedy::default(),
            }
        };
        self.suspects.list().iter().enumerate().map(of).collect()
    }

    /// Sorts the suspects by what mends them, and works out what that takes.
    fn remedy(&mut self, needed: &[Remedy]) {
        self.group.clear();
        self.remedies.clear();
        self.mends.clear();
        let vehicle = &self.scenario.vehicle;
        for remedy in needed {
            let known = self.remedies.iter().position(|one| one == remedy);
            self.group.push(known.unwrap_or(self.remedies.len()));
            if known.is_none() {
                self.remedies.push(remedy.clone());
            }
        }
        self.setups.clone_from(&self.outlook.menu.stands);
        for remedy in &self.remedies {
            if !self.setups.contains(&remedy.stand) {
                self.setups.push(remedy.stand.clone());
            }
        }
        let trial = self.scenario.trials.first().map_or_else(Vec::new, Trial::acts);
        let proof: f64 = trial.iter().map(|act| minutes(vehicle, self.outlook.rest(), act)).sum();
        for remedy in &self.remedies {
            let acts = |of: &dyn Fn(&Action) -> f64| remedy.acts.iter().map(of).sum::<f64>();
            let back = remedy.stand.minutes_to_rest(vehicle, self.outlook.rest());
            self.mends.push(Mend {
                setup: self.setups.iter().position(|stand| *stand == remedy.stand).unwrap_or(0),
                minutes: acts(&|act| minutes(vehicle, self.outlook.rest(), act)) + back + proof,
                price_minutes: acts(&|act| price_minutes(f64::from(price(vehicle, act)))),
            });
        }
        self.ways = self
            .setups
            .iter()
            .map(|from| {
                self.setups.iter().map(|to| from.minutes_to(vehicle, self.outlook.rest(), to)).collect()
            })
            .collect();
    }

    /// Takes in what an act showed.
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point afterwards.
    pub fn observe(&mut self, action: &Action, outcome: &Outcome) -> Result<Weighed, Unsolved> {
        let weighed = self.suspects.observe(&self.scenario, action, outcome)?;
        self.weigh(weighed)
    }

    /// The same for a learner who takes what showed for what another suspect foretold; which one, the ticket says
    /// ([`Suspects::misread`]).
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point afterwards.
    pub fn misread(&mut self, action: &Action, outcome: &Outcome, ticket: u64) -> Result<Weighed, Unsolved> {
        let weighed = self.suspects.misread(&self.scenario, action, outcome, ticket)?;
        self.weigh(weighed)
    }

    fn weigh(&mut self, weighed: Weighed) -> Result<Weighed, Unsolved> {
        self.posterior.observe(&weighed.likelihoods);
        // What has no weight now is worked out when it has some again.
        let asked: Vec<bool> = self.weights().iter().map(|weight| *weight > 0.0).collect();
        let mut changed = self.outlook.refresh(&self.scenario, &self.suspects, &asked)?;
        let needed = self.needed();
        if self.group.iter().zip(&needed).any(|(&group, remedy)| self.remedies[group] != *remedy) {
            self.remedy(&needed);
            changed = true;
        }
        self.generation += u32::from(changed);
        Ok(weighed)
    }

    /// The same, its work shared among so many threads.
    #[must_use]
    pub fn on_threads(mut self, threads: usize) -> Self {
        self.suspects.threads = threads.max(1);
        self
    }

    /// The scenario.
    #[must_use]
    pub fn scenario(&self) -> &Arc<Scenario> {
        &self.scenario
    }

    /// The suspects.
    #[must_use]
    pub fn suspects(&self) -> &Suspects {
        &self.suspects
    }

    /// What every test would show.
    #[must_use]
    pub fn outlook(&self) -> &Outlook {
        &self.outlook
    }

    /// How likely each suspect is, in the order of [`Suspects::list`].
    #[must_use]
    pub fn probabilities(&self) -> Vec<f64> {
        self.posterior.probabilities()
    }

    /// What is not yet known of which repair is needed, in bits.
    #[must_use]
    pub fn bits(&self) -> f64 {
        self.posterior.bits(&self.group)
    }

    /// How many suspects are still possible.
    #[must_use]
    pub fn possible(&self) -> usize {
        self.posterior.possible()
    }

    /// By suspect, the group of those that the same repair mends.
    #[must_use]
    pub fn groups(&self) -> &[usize] {
        &self.group
    }

    /// By suspect, the group of those that the same repair mended in the beginning.
    #[must_use]
    pub fn first_groups(&self) -> &[usize] {
        &self.first_group
    }

    /// How often what mends or what the tests would show has changed.
    pub(super) fn generation(&self) -> u32 {
        self.generation
    }

    /// How many acts mend what is still wrong under a suspect.
    pub(super) fn work_on(&self, suspect: usize) -> usize {
        self.remedies[self.group[suspect]].acts.len()
    }

    /// How likely the evidence makes what is named: the probability of all that need the same repair as what the diagnosis
    /// means; where it means nothing of the pool, of what sits on the same component.
    #[must_use]
    pub fn evidence_for(&self, diagnosis: &Diagnosis) -> f64 {
        let shares = self.probabilities();
        let pool = |fits: &dyn Fn(&PlacedFault) -> bool| -> Vec<usize> {
            let list = self.suspects.list().iter().enumerate();
            list.filter(
                |(_, one)| matches!(one.kind, SuspectKind::Pool(at) if fits(&self.scenario.faults[at])),
            )
            .map(|(at, _)| at)
            .collect()
        };
        let meant = pool(&|fault| fault.is_meant_by(diagnosis));
        if meant.is_empty() {
            // The sum of nothing is −0, and would be shown so.
            let sits = pool(&|fault| fault.sits_on(diagnosis.component));
            return sits.iter().map(|&at| shares[at]).sum::<f64>() + 0.0;
        }
        let groups: Vec<usize> = meant.iter().map(|&at| self.first_group[at]).collect();
        let alike = pool(&|_| true).into_iter().filter(|&at| groups.contains(&self.first_group[at]));
        alike.map(|at| shares[at]).sum::<f64>() + 0.0
    }

    /// What mends each group.
    #[must_use]
    pub fn remedies(&self) -> &[Remedy] {
        &self.remedies
    }

    /// The probability of the suspects that a diagnosis could mean: same component and kind, and same place.
    #[must_use]
    pub fn probability_of(&self, diagnosis: &Diagnosis) -> f64 {
        let means = |kind: SuspectKind| match kind {
            SuspectKind::Pool(at) => self.scenario.faults[at].is_meant_by(diagnosis),
            SuspectKind::Sound | SuspectKind::Outside => false,
        };
        let shares = self.probabilities();
        self.suspects
            .list()
            .iter()
            .zip(shares)
            .filter(|(one, _)| means(one.kind))
            .map(|(_, share)| share)
            .sum()
    }

    /// The choice before the learner, and the set-up in which he stands.
    #[must_use]
    pub fn problem(&self, stand: &Stand) -> (Problem, usize) {
        let mut moment = self.moment();
        let setup = moment.setup(self, stand);
        (moment.problem, setup)
    }

    /// The choice before the learner.
    #[must_use]
    pub fn moment(&self) -> Moment {
        self.moment_of(self.weights())
    }

    /// By suspect, its probability. What is no longer possible has no weight; nor has what is not in the pool.
    fn weights(&self) -> Vec<f64> {
        let shares = self.probabilities();
        let most = shares.iter().copied().fold(0.0, f64::max);
        self.suspects
            .list()
            .iter()
            .zip(&shares)
            .map(|(one, &share)| {
                let counts = one.kind != SuspectKind::Outside && share >= POSSIBLE_SHARE * most;
                if counts { share } else { 0.0 }
            })
            .collect()
    }

    /// What is known, without anything that could be done: enough to weigh what an act could tell.
    pub(super) fn odds_alone(&self) -> Problem {
        Problem {
            weights: self.weights(),
            group: self.group.clone(),
            mends: Vec::new(),
            ways: Vec::new(),
            tests: Vec::new(),
            bets: false,
        }
    }

    /// The choice before a learner who holds these weights of the suspects.
    pub(super) fn moment_of(&self, weights: Vec<f64>) -> Moment {
        let menu = &self.outlook.menu;
        let tests = menu
            .tests
            .iter()
            .zip(&self.outlook.foreseen)
            .enumerate()
            .filter(|(_, (_, foreseen))| foreseen.count > 1)
            .map(|(origin, (test, foreseen))| Candidate {
                setup: test.stand,
                minutes: test.minutes,
                column: foreseen.column(&weights),
                stands_for: 1,
                origin,
            })
            .collect();
        let mut problem = Problem {
            weights,
            group: self.group.clone(),
            mends: self.mends.clone(),
            ways: self.ways.clone(),
            tests,
            bets: true,
        };
        problem.collapse();
        Moment { problem, stands: self.setups.clone(), remedies: self.remedies.clone() }
    }

    /// A move of the plan, act by act, from a stand: a test by its position in the menu, or a repair by its group.
    #[must_use]
    pub fn acts(&self, stand: &Stand, next: Move) -> Vec<Action> {
        let vehicle = &self.scenario.vehicle;
        match next {
            Move::Test(test) => self.outlook.menu.acts_from(vehicle, stand, test),
            Move::Mend(group) => self.remedies[group].acts_from(vehicle, stand),
        }
    }

    /// The plan from a stand.
    #[must_use]
    pub fn plan(&self, stand: &Stand) -> Plan {
        self.plan_without(stand, &[])
    }

    /// The plan from a stand by somebody who does not do these tests, by their positions in the menu: he has just done
    /// them, and on the vehicle as it stands they told nothing.
    #[must_use]
    pub fn plan_without(&self, stand: &Stand, spent: &[usize]) -> Plan {
        let (mut problem, setup) = self.problem(stand);
        problem.tests.retain(|test| !spent.contains(&test.origin));
        let mut plan = Planner::new(&problem, MOST_EXPANSIONS).plan(setup);
        // Positions in the collapsed list are of no use to anybody else.
        plan.first = plan.first.map(|first| match first {
            Move::Test(at) => Move::Test(problem.tests[at].origin),
            Move::Mend(group) => Move::Mend(group),
        });
        plan
    }
}
