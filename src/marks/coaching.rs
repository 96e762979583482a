//! What the coach costs in marks.

use crate::bench::{Action, Rung};
use crate::job::Job;

/// What a rung costs, in marks (the figures are ours: each is twice the one before).
#[must_use]
pub fn rung_marks(rung: Rung) -> f64 {
    match rung {
        Rung::Question => 1.0,
        Rung::Kind => 2.0,
        Rung::Test => 4.0,
    }
}

/// What the coach has cost in a job so far, in marks. A rung that has been asked for costs nothing again, and neither does
/// a lower one, until something has been done.
#[must_use]
pub fn coaching_cost(job: &Job) -> f64 {
    asked(job).0
}

/// The lowest rung that would say more than what was asked for since something was last done; `None` after the highest.
#[must_use]
pub fn next_rung(job: &Job) -> Option<Rung> {
    let here = asked(job).1;
    Rung::ALL.into_iter().find(|rung| Some(*rung) > here)
}

/// The cost so far, and the highest rung that was asked for since something was last done.
fn asked(job: &Job) -> (f64, Option<Rung>) {
    let mut cost = 0.0;
    let mut here = None;
    for step in job.log().iter().filter(|step| step.outcome.refused.is_none()) {
        match step.action {
            Action::Coach(rung) if Some(rung) > here => {
                cost += rung_marks(rung);
                here = Some(rung);
            }
            _ if step.action.is_aside() => {}
            _ => here = None,
        }
    }
    (cost, here)
}
