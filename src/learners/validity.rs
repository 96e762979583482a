//! Whether the marks of a scenario's jobs tell learners of known skill apart.

use std::sync::Arc;

use super::choice::Learner;
use super::play::play;
use super::sample::{Sample, effect_size, ranked_rightly};
use crate::job::{Choice, Job, JobError};
use crate::marks::{Part, mark};
use crate::reasoning::{Inquiry, price_minutes};
use crate::scenario::Scenario;
use crate::threads::in_parallel;

/// Jobs in a set, as an assessment may have them.
pub const JOBS_IN_A_SET: usize = 10;
/// Pairs of sets that are drawn.
pub const SETS: usize = 2000;

/// Which jobs are played.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Jobs {
    /// One of each fault of the pool, which counts by how likely it is.
    EachFault,
    /// So many, drawn by odds.
    Drawn(u64),
}

/// How the learners are put to the test.
#[derive(Clone, Copy, Debug)]
pub struct Plan {
    /// Which jobs.
    pub jobs: Jobs,
    /// From which all else follows.
    pub seed: u64,
    /// The share of acts that are misread.
    pub misread_share: f64,
    /// Among so many threads the work is shared; changes nothing but the time.
    pub threads: usize,
}

/// A job that has been played and marked.
#[derive(Clone, Debug, PartialEq)]
pub struct Played {
    /// The fault, a position in the pool.
    pub fault: usize,
    /// How much it counts.
    pub weight: u64,
    /// Marks by part, each from 0 to 100.
    pub percent: Vec<(Part, f64)>,
    /// The total.
    pub total: f64,
    /// Minutes on the clock; what parts cost counts as time.
    pub minutes: f64,
    /// Expected minutes lost by choice.
    pub lost_minutes: f64,
    /// It was handed in as mended, and not referred.
    pub mended: bool,
}

/// What one learner got.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Who.
    pub learner: Learner,
    /// Job by job.
    pub jobs: Vec<Played>,
}

impl Standing {
    /// A figure of all his jobs.
    #[must_use]
    pub fn sample(&self, figure: impl Fn(&Played) -> f64) -> Sample {
        Sample { jobs: self.jobs.iter().map(|job| (figure(job), job.weight)).collect() }
    }

    /// A part of his marks, from 0 to 100.
    #[must_use]
    pub fn part(&self, part: Part) -> Sample {
        self.sample(|job| {
            job.percent.iter().find(|(known, _)| *known == part).map_or(0.0, |(_, marks)| *marks)
        })
    }

    /// His minutes, what parts cost counted as time.
    #[must_use]
    pub fn minutes(&self) -> Sample {
        self.sample(|job| job.minutes)
    }
}

/// Two that follow one another when the learners are put in the order of their expected minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neighbours {
    /// The slower.
    pub slower: Learner,
    /// The faster.
    pub faster: Learner,
    /// Share of the slower's minutes that the faster saves.
    pub saved_share: f64,
    /// By how many pooled standard deviations the faster's marks for reasoning are above the slower's.
    pub effect_size: f64,
    /// The share of pairs of sets in which the faster's marks for reasoning are above the slower's.
    pub ranked_rightly: f64,
}

/// What the marks make of the learners.
#[derive(Clone, Debug)]
pub struct Validity {
    /// The scenario.
    pub scenario: Arc<Scenario>,
    /// By learner, in the order of [`Learner::ALL`].
    pub standings: Vec<Standing>,
    /// The learners in the order of their expected minutes, two by two.
    pub neighbours: Vec<Neighbours>,
}

impl Validity {
    /// Lets every learner play the same jobs of a scenario, and marks them.
    ///
    /// # Errors
    /// [`JobError`] where the pool has nothing to draw or a vehicle has no operating point.
    pub fn of(scenario: Arc<Scenario>, plan: Plan) -> Result<Self, JobError> {
        let jobs = jobs(&scenario, plan)?;
        let fresh = Inquiry::new(Arc::clone(&scenario), plan.threads)?.on_threads(1);
        let work: Vec<(Learner, &(usize, u64, Job))> =
            Learner::ALL.iter().flat_map(|&learner| jobs.iter().map(move |job| (learner, job))).collect();
        let played = in_parallel(&work, plan.threads, |(learner, (fault, weight, job))| {
            let job = play(*learner, plan.misread_share, &fresh, job.clone())?;
            marked(&fresh, &job, *fault, *weight)
        })?;
        let mut played = played.into_iter();
        let standings: Vec<Standing> = Learner::ALL
            .iter()
            .map(|&learner| Standing { learner, jobs: played.by_ref().take(jobs.len()).collect() })
            .collect();
        let neighbours = neighbours(&standings, plan.seed);
        Ok(Self { scenario, standings, neighbours })
    }

    /// What one learner got.
    #[must_use]
    pub fn standing(&self, learner: Learner) -> Option<&Standing> {
        self.standings.iter().find(|standing| standing.learner == learner)
    }
}

/// The jobs, each with the position of its fault and how much it counts.
fn jobs(scenario: &Arc<Scenario>, plan: Plan) -> Result<Vec<(usize, u64, Job)>, JobError> {
    let position = |id: &str| scenario.faults.iter().position(|fault| fault.id == id).unwrap_or_default();
    match plan.jobs {
        Jobs::EachFault => {
            if scenario.faults.iter().all(|fault| fault.weight == 0) {
                return Err(JobError::EmptyPool);
            }
            let each = scenario.faults.iter().enumerate();
            each.map(|(at, fault)| {
                let seed = plan.seed.wrapping_add(at as u64);
                let job = Job::new(Arc::clone(scenario), seed, Choice::Named(fault.id.clone()))?;
                Ok((at, fault.weight, job))
            })
            .collect()
        }
        Jobs::Drawn(count) => (0..count)
            .map(|at| {
                let seed = plan.seed.wrapping_add(at);
                let drawn = crate::fault::draw(&scenario.faults, seed).ok_or(JobError::EmptyPool)?;
                Ok((position(&drawn.id), 1, Job::new(Arc::clone(scenario), seed, Choice::Drawn)?))
            })
            .collect(),
    }
}

fn marked(fresh: &Inquiry, job: &Job, fault: usize, weight: u64) -> Result<Played, JobError> {
    let marks = mark(job, fresh)?;
    let lines = marks.iter().flat_map(|marks| &marks.lines);
    Ok(Played {
        fault,
        weight,
        percent: lines.map(|line| (line.part, 100.0 * line.marks / line.out_of)).collect(),
        total: marks.as_ref().map_or(0.0, |marks| marks.total),
        minutes: job.minutes() + price_minutes(f64::from(job.cost())),
        lost_minutes: marks.as_ref().map_or(0.0, |marks| marks.account.regret_minutes()),
        mended: job.handed_in() == Some(false),
    })
}

fn neighbours(standings: &[Standing], seed: u64) -> Vec<Neighbours> {
    let mut order: Vec<(f64, &Standing)> =
        standings.iter().map(|standing| (standing.minutes().mean(), standing)).collect();
    // Of those that take the same the less skilled is first: the sort keeps their order.
    order.sort_by(|a, b| b.0.total_cmp(&a.0));
    order
        .windows(2)
        .map(|two| {
            let ((slow, slower), (fast, faster)) = (two[0], two[1]);
            let (below, above) = (slower.part(Part::Reasoning), faster.part(Part::Reasoning));
            Neighbours {
                slower: slower.learner,
                faster: faster.learner,
                saved_share: if slow > 0.0 { 1.0 - fast / slow } else { 0.0 },
                effect_size: effect_size(&below, &above),
                ranked_rightly: ranked_rightly(&below, &above, JOBS_IN_A_SET, SETS, seed),
            }
        })
        .collect()
}
