//! The skills that jobs train, and how far a learner has come in each.

use super::plan::Done;
use crate::fault::{Change, Component, FaultKind, PlacedFault};
use crate::vehicle::{PartKind, Vehicle};

/// A skill of the trade that a job can train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Skill {
    /// Understanding the complaint; settings and the customer's own use.
    Complaint,
    /// Feeds and grounds: opens, shorts, fuses.
    Feeds,
    /// Testing under load: resistance where none should be.
    Load,
    /// The loom and what comes and goes.
    Loom,
    /// Relays, modules, switches and what they drive.
    Modules,
    /// Proof of repair, and safe work.
    Proof,
}

impl Skill {
    /// All skills. The last is trained by every job.
    pub const ALL: [Self; 6] =
        [Self::Complaint, Self::Feeds, Self::Load, Self::Loom, Self::Modules, Self::Proof];

    /// The skill that finding this fault takes above all.
    #[must_use]
    pub fn of(vehicle: &Vehicle, fault: &PlacedFault) -> Self {
        let left_on =
            fault.changes.iter().any(|change| matches!(change, Change::Lockout | Change::LeftOn(_)));
        let diagnosis = fault.diagnosis;
        if left_on
            || diagnosis.kind == FaultKind::SettingLeftOn
            || matches!(diagnosis.component, Component::Key | Component::Lockout)
        {
            return Self::Complaint;
        }
        if fault.is_intermittent() {
            return Self::Loom;
        }
        if matches!(diagnosis.kind, FaultKind::HighResistance | FaultKind::Loose | FaultKind::Flat) {
            return Self::Load;
        }
        match diagnosis.component {
            Component::Part(part)
                if !matches!(
                    vehicle.part(part).kind,
                    PartKind::Lamp { .. } | PartKind::Led { .. } | PartKind::Resistor { .. }
                ) =>
            {
                Self::Modules
            }
            _ => Self::Feeds,
        }
    }
}

/// How far a learner has come in one skill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// The skill.
    pub skill: Skill,
    /// Jobs that trained it.
    pub jobs: usize,
    /// From 0 to 1, the latest jobs counting most; `None` before the first.
    pub level: Option<f64>,
}

/// Weight of the latest job against all before it (ours, no source): half of the level is the last job, a quarter
/// the one before.
const LATEST: f64 = 0.5;

/// A learner's progress in every skill, from all jobs done, the oldest first.
#[must_use]
pub fn progress(done: &[Done]) -> Vec<Progress> {
    let of = |skill: Skill| {
        let shares = done.iter().filter_map(|job| match skill {
            Skill::Proof => Some(job.proof_share),
            _ => (job.skill == skill).then_some(job.finding_share),
        });
        let (jobs, level) = shares.fold((0, None), |(jobs, level), share: f64| {
            let level = level.map_or(share, |level: f64| level + LATEST * (share - level));
            (jobs + 1, Some(level))
        });
        Progress { skill, jobs, level }
    };
    Skill::ALL.into_iter().map(of).collect()
}
