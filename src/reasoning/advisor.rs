//! Reason beside a job: it takes in what was done and seen only when somebody asks.

use std::sync::Arc;

use super::{Advice, Inquiry, Stand, advice};
use crate::bench::Rung;
use crate::circuit::Unsolved;
use crate::job::Job;

/// What reason knows of a job.
#[derive(Debug, Default)]
pub struct Advisor {
    /// The scenario before any act.
    fresh: Option<Inquiry>,
    /// The job as far as it has been followed: after how many acts of its log.
    followed: Option<(Inquiry, usize)>,
}

impl Advisor {
    /// One to whom the scenario before any act is known.
    #[must_use]
    pub fn knowing(fresh: Inquiry) -> Self {
        Self { fresh: Some(fresh), followed: None }
    }

    /// The job's scenario as reason sees it before any act; worked out when it is first needed.
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point.
    pub fn fresh(&mut self, job: &Job) -> Result<&Inquiry, Unsolved> {
        let fresh = known_or_new(self.fresh.take(), job)?;
        Ok(self.fresh.insert(fresh))
    }

    /// The same, with all else let go.
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point.
    pub fn into_fresh(self, job: &Job) -> Result<Inquiry, Unsolved> {
        known_or_new(self.fresh, job)
    }

    /// What the coach says of a job as it stands. Of the job he reads the log, and how the vehicle visibly stands.
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point.
    pub fn advice(&mut self, job: &Job, rung: Rung) -> Result<Advice, Unsolved> {
        let (mut inquiry, known) = match self.followed.take() {
            Some(followed) => followed,
            None => (self.fresh(job)?.clone(), 0),
        };
        for step in &job.log()[known..] {
            inquiry.observe(&step.action, &step.outcome)?;
        }
        let advice =
            advice(&inquiry, job.log(), &Stand::of_scene(&job.scenario().vehicle, job.scene()), rung);
        self.followed = Some((inquiry, job.log().len()));
        Ok(advice)
    }
}

fn known_or_new(known: Option<Inquiry>, job: &Job) -> Result<Inquiry, Unsolved> {
    match known {
        Some(fresh) => Ok(fresh),
        None => Inquiry::new(Arc::clone(job.scenario()), crate::threads::available()),
    }
}
