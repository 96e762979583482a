//! The debrief: the learner's way beside the plan's for the same fault, and one thing to practise next.

use std::sync::Arc;

use super::{HUNCH, Marks, Part, is_hunch, mark};
use crate::bench::Action;
use crate::job::{Choice, Job, JobError, NoJournal};
use crate::reasoning::{Charge, Inquiry, Move, Stand, SuspectKind};

/// Moves after which a plan that has not come to its end is left: chance can be tried for ever.
const MOST_MOVES: usize = 40;
/// Lost marks below which nothing is worth practising more than anything else.
const WORTH_PRACTISING: f64 = 1.0;

/// A place on the plan's way.
#[derive(Clone, Debug, PartialEq)]
pub struct Waypoint {
    /// What was done to come here; nothing at the beginning.
    pub acts: Vec<Action>,
    /// It was a repair.
    pub mends: bool,
    /// Minutes on the clock.
    pub minutes: f64,
    /// What was not known of which repair is needed, in bits.
    pub bits: f64,
    /// How many faults were still possible.
    pub possible: usize,
}

/// What is best practised next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Practice {
    /// To let evidence gather before a fault is named.
    Evidence,
    /// To mend nothing on a hunch.
    NoHunches,
    /// To ask what a test can show before it is made.
    TellingTests,
    /// To choose the test that tells most for its time.
    BetterTests,
    /// To end at the right component, kind and place.
    Naming,
    /// To work faster on what is already chosen well.
    Time,
    /// To prove the repair.
    Proof,
    /// To work safely and to write it up.
    Safety,
    /// A harder job.
    Harder,
}

/// The debrief of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// The plan's way to the same fault, from the beginning.
    pub plan: Vec<Waypoint>,
    /// What is best practised next.
    pub practice: Practice,
}

impl Debrief {
    /// The debrief of a job with its marks; `None` before it has been handed in. `fresh` is its scenario as reason sees it
    /// before any act.
    ///
    /// # Errors
    /// [`JobError`] where the plan's way cannot be gone.
    pub fn of(job: &Job, fresh: &Inquiry, marks: &Marks) -> Result<Option<Self>, JobError> {
        let Some(fault) = job.truth() else { return Ok(None) };
        let plan = planned(job, fresh, &fault.id)?;
        Ok(Some(Self { plan, practice: practice(marks) }))
    }
}

/// The marks of a job and its debrief; `None` before it has been handed in. `fresh` is its scenario as reason sees it
/// before any act.
///
/// # Errors
/// [`JobError`] where the job cannot be replayed, or the plan's way not be gone.
pub fn mark_and_debrief(job: &Job, fresh: &Inquiry) -> Result<Option<(Marks, Debrief)>, JobError> {
    let Some(marks) = mark(job, fresh)? else { return Ok(None) };
    let debrief = Debrief::of(job, fresh, &marks)?;
    Ok(debrief.map(|debrief| (marks, debrief)))
}

/// Goes the plan's way on the same vehicle with the same fault, by the same seed.
fn planned(job: &Job, fresh: &Inquiry, fault: &str) -> Result<Vec<Waypoint>, JobError> {
    let scenario = job.scenario();
    let truth = scenario.faults.iter().position(|one| one.id == fault);
    let suspects = fresh.suspects().list();
    let suspect = suspects.iter().position(|one| truth.is_some_and(|at| one.kind == SuspectKind::Pool(at)));
    let needed = suspect.map(|at| fresh.remedies()[fresh.groups()[at]].acts.clone());
    let mut job = Job::new(Arc::clone(scenario), job.seed(), Choice::Named(fault.to_owned()))?;
    let mut inquiry = fresh.clone();
    let mut way = vec![Waypoint {
        acts: Vec::new(),
        mends: false,
        minutes: 0.0,
        bits: inquiry.bits(),
        possible: inquiry.possible(),
    }];
    // A test whose outcome was foreseen in its own stand can tell nothing on the vehicle as it stands.
    let mut spent = Vec::new();
    for _ in 0..MOST_MOVES {
        let stand = Stand::of_scene(&scenario.vehicle, job.scene());
        let Some(next) = inquiry.plan_without(&stand, &spent).first else { break };
        let bits = inquiry.bits();
        let acts = inquiry.acts(&stand, next);
        let mends = matches!(next, Move::Mend(_));
        let settled =
            matches!(next, Move::Mend(group) if Some(&inquiry.remedies()[group].acts) == needed.as_ref());
        for act in &acts {
            let outcome = job.apply(act.clone(), &mut NoJournal)?.outcome.clone();
            inquiry.observe(act, &outcome)?;
        }
        if mends && acts.is_empty() {
            break;
        }
        match next {
            Move::Test(test) if (inquiry.bits() - bits).abs() < TELLS_NOTHING_BITS => spent.push(test),
            _ => spent.clear(),
        }
        way.push(Waypoint {
            acts,
            mends,
            minutes: job.minutes(),
            bits: inquiry.bits(),
            possible: inquiry.possible(),
        });
        if settled {
            break;
        }
    }
    Ok(way)
}

/// What changes less than this has told nothing, in bits.
const TELLS_NOTHING_BITS: f64 = 1e-3;

/// Where most was lost.
fn practice(marks: &Marks) -> Practice {
    let lost = |part: Part| {
        marks.lines.iter().filter(|line| line.part == part).map(|line| line.out_of - line.marks).sum::<f64>()
    };
    let regret = |fits: &dyn Fn(Charge) -> bool| -> f64 {
        let of = marks.account.stretches.iter().filter(|stretch| fits(stretch.charge));
        of.map(|stretch| stretch.regret_minutes).sum::<f64>() + 0.0
    };
    let all = marks.account.regret_minutes().max(f64::MIN_POSITIVE);
    let reasoning = |minutes: f64| lost(Part::Reasoning) * minutes / all;
    let early = marks.account.namings.last().is_some_and(|(_, held)| *held < HUNCH);
    let wasted = |charge: Charge| matches!(charge, Charge::Idle | Charge::Again | Charge::Preparation);
    let candidates = [
        (if early { Practice::Evidence } else { Practice::Naming }, lost(Part::Diagnosis)),
        (Practice::NoHunches, lost(Part::Parts) + reasoning(regret(&is_hunch))),
        (Practice::TellingTests, reasoning(regret(&wasted))),
        (Practice::BetterTests, reasoning(regret(&|charge| !is_hunch(charge) && !wasted(charge)))),
        (Practice::Time, lost(Part::Time)),
        (Practice::Proof, lost(Part::Proof)),
        (Practice::Safety, lost(Part::Safety)),
    ];
    // Of equal losses the first.
    let most = candidates
        .into_iter()
        .fold((Practice::Harder, WORTH_PRACTISING), |most, one| if one.1 > most.1 { one } else { most });
    most.0
}
