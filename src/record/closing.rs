//! What a record says of a job as a whole, once it has been handed in.

use serde::{Deserialize, Serialize};

use crate::bench::Action;
use crate::job::Job;
use crate::marks::{Debrief, Marks};
use crate::paper::{PaperJob, PaperKey};
use crate::words;

/// What stands in the closing line. It follows from scenario, draw and acts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Closing {
    /// How many steps there are.
    pub steps: usize,
    /// The job was referred and not claimed as repaired.
    pub referred: bool,
    /// Minutes on the job's clock.
    pub minutes: f64,
    /// What parts and material have cost.
    pub cost: u32,
    /// What was last named, the last first.
    pub named: Vec<NamedFault>,
    /// What it was worth.
    pub result: Worth,
}

/// What a job was worth, readable or sealed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Worth {
    /// Readable.
    Open(Box<JobResult>),
    /// In a paper's job: sealed until whoever set the paper opens it.
    Sealed {
        /// The result as JSON, sealed.
        sealed: String,
    },
}

/// What was named.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamedFault {
    /// In words.
    pub fault: String,
    /// How sure the learner was.
    pub percent: u8,
}

/// What a job was worth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JobResult {
    /// The fault that was hidden, by its name in the scenario's pool.
    pub fault: String,
    /// Marks by part.
    pub marks: Vec<PartMarks>,
    /// What a dangerous act took off.
    pub capped: f64,
    /// Marks in all, 0 to 100.
    pub total: f64,
    /// Minutes that the plan expected.
    pub planned_minutes: f64,
    /// Minutes that were lost by choices.
    pub lost_minutes: f64,
    /// What was still open, in bits, by minutes on the job's clock.
    pub curve: Vec<(f64, f64)>,
    /// The same on the plan's way to the same fault.
    pub plan_curve: Vec<(f64, f64)>,
    /// The better choices that were passed by, act by act, the dearest first, at most so many.
    pub passed_by: Vec<String>,
}

/// A part's marks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartMarks {
    /// The part.
    pub part: String,
    /// Marks.
    pub marks: f64,
    /// Of how many.
    pub out_of: f64,
}

/// Better choices that are written down.
const PASSED_BY: usize = 3;
/// Names of the fault that are written down.
const NAMES: usize = 2;

/// To a thousandth: sums carry a tail of digits that nobody wants to read.
fn short(value: f64) -> f64 {
    // Adding zero turns a rounded −0 into 0.
    libm::rint(value * 1e3) / 1e3 + 0.0
}

impl Closing {
    /// The closing of a job that has been handed in; `None` before.
    #[must_use]
    pub fn of(job: &Job, marks: &Marks, debrief: &Debrief) -> Option<Self> {
        let (referred, result) = (job.handed_in()?, JobResult::of(job, marks, debrief)?);
        let vehicle = &job.scenario().vehicle;
        let named = job.names(NAMES).into_iter().map(|name| NamedFault {
            fault: words::diagnosis(words::Texts::english(), vehicle, name.diagnosis),
            percent: name.percent,
        });
        let in_time = job.log().iter().position(|step| {
            matches!(step.action, Action::HandIn { .. }) && step.outcome.refused.is_none()
        })?;
        Some(Self {
            steps: in_time + 1,
            referred,
            minutes: job.log()[in_time].minutes,
            cost: job.cost(),
            named: named.collect(),
            result: Worth::Open(Box::new(result)),
        })
    }
}

/// What a sealed result is bound to.
fn bound_to(job: &PaperJob, record: &str) -> Vec<u8> {
    [b"result ", record.as_bytes(), b" ", &job.bound_to()[..]].concat()
}

impl Closing {
    /// What it was worth, where that can be read.
    #[must_use]
    pub fn result(&self) -> Option<&JobResult> {
        match &self.result {
            Worth::Open(result) => Some(result),
            Worth::Sealed { .. } => None,
        }
    }

    /// The same with its result sealed, for this record of a paper's job.
    pub(super) fn sealed(mut self, key: &PaperKey, job: &PaperJob, record: &str) -> std::io::Result<Self> {
        if let Worth::Open(result) = &self.result {
            let sealed = key.seal(&serde_json::to_vec(result)?, &bound_to(job, record))?;
            self.result = Worth::Sealed { sealed };
        }
        Ok(self)
    }

    /// The same with its result opened; `None` where it does not open.
    pub(super) fn opened(mut self, key: &PaperKey, job: &PaperJob, record: &str) -> Option<Self> {
        if let Worth::Sealed { sealed } = &self.result {
            let content = key.open(sealed, &bound_to(job, record))?;
            self.result = Worth::Open(serde_json::from_slice(&content).ok()?);
        }
        Some(self)
    }
}

impl JobResult {
    fn of(job: &Job, marks: &Marks, debrief: &Debrief) -> Option<Self> {
        let account = &marks.account;
        let vehicle = &job.scenario().vehicle;
        let mut passed_by: Vec<_> = account
            .stretches
            .iter()
            .filter(|stretch| stretch.charge.counts())
            .filter_map(|stretch| stretch.better.as_ref().map(|better| (stretch.regret_minutes, better)))
            .collect();
        passed_by.sort_by(|a, b| b.0.total_cmp(&a.0));
        let acts =
            |acts: &[Action]| acts.iter().map(|act| words::text(vehicle, act)).collect::<Vec<_>>().join("; ");
        let at_first = std::iter::once((0.0, short(account.before.bits)));
        Some(Self {
            fault: job.truth()?.id.clone(),
            marks: marks
                .lines
                .iter()
                .map(|line| PartMarks {
                    part: words::part_key(line.part).to_owned(),
                    marks: line.marks,
                    out_of: line.out_of,
                })
                .collect(),
            capped: marks.capped.map_or(0.0, |(off, _)| off),
            total: marks.total,
            planned_minutes: short(account.planned_minutes),
            lost_minutes: short(account.regret_minutes()),
            curve: at_first
                .chain(
                    account
                        .stretches
                        .iter()
                        .map(|stretch| (short(stretch.clock_minutes), short(stretch.after.bits))),
                )
                .collect(),
            plan_curve: debrief.plan.iter().map(|point| (short(point.minutes), short(point.bits))).collect(),
            passed_by: passed_by.iter().take(PASSED_BY).map(|(_, better)| acts(&better.acts)).collect(),
        })
    }
}
