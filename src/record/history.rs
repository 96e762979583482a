//! What a folder's records say of a learner's past: for practice, not for judgement. Nothing is verified here.

use std::collections::BTreeMap;
use std::path::Path;

use super::closing::{JobResult, PartMarks};
use super::follow::header;
use super::line::Line;
use super::recorder::numbers;
use crate::marks::Part;
use crate::practice::{Done, Skill};
use crate::scenario::{Scenario, load};
use crate::words;

/// The jobs of a folder that have been handed in, in the order of their numbers. Records that cannot be read, that are
/// not closed, whose result is sealed or whose scenario is not there any more are left out.
#[must_use]
pub fn history(folder: &Path) -> Vec<Done> {
    let mut skills = Skills::default();
    numbers(folder)
        .into_iter()
        .filter_map(|(_, path)| {
            let (name, result) = closed(&path)?;
            let (scenario, skill) = skills.of(&name, &result)?;
            Some(Done {
                scenario: scenario.id.clone(),
                skill,
                finding_share: finding_share(&result)?,
                proof_share: proof_share(&result)?,
                total: result.total,
            })
        })
        .collect()
}

/// Skills that records' faults took. Each scenario is loaded once.
#[derive(Debug, Default)]
pub(crate) struct Skills(BTreeMap<String, Option<Scenario>>);

impl Skills {
    /// The scenario of a record that names it so; `None` where it is not there any more.
    pub(crate) fn scenario(&mut self, name: &str) -> Option<&Scenario> {
        let loaded = self.0.entry(name.to_owned());
        loaded.or_insert_with(|| load(name).ok().map(|loaded| loaded.scenario)).as_ref()
    }

    /// The same with the skill that the record's fault took; `None` also where the scenario has no such fault now.
    pub(crate) fn of(&mut self, scenario: &str, result: &JobResult) -> Option<(&Scenario, Skill)> {
        let loaded = self.scenario(scenario)?;
        Some((loaded, Skill::of(&loaded.vehicle, loaded.fault(&result.fault)?)))
    }
}

/// Share of the marks for finding the fault, 0 to 1; `None` where they count for nothing.
pub(crate) fn finding_share(result: &JobResult) -> Option<f64> {
    share(&result.marks, &[Part::Diagnosis, Part::Reasoning])
}

/// Share of the marks for proof of repair and safe work, 0 to 1; `None` where they count for nothing.
pub(crate) fn proof_share(result: &JobResult) -> Option<f64> {
    share(&result.marks, &[Part::Proof, Part::Safety])
}

/// The scenario's name and the readable result of a closed record.
fn closed(path: &Path) -> Option<(String, JobResult)> {
    let text = std::fs::read_to_string(path).ok()?;
    let header = header(text.lines().next()?).ok()?;
    // The closing stands last or, with a seal below it, last but one.
    let closing =
        text.lines().rev().take(2).find_map(|line| serde_json::from_str::<Line>(line).ok()?.closing)?;
    Some((header.scenario, closing.result()?.clone()))
}

/// Share of the marks for these parts, 0 to 1; `None` where they count for nothing.
fn share(marks: &[PartMarks], parts: &[Part]) -> Option<f64> {
    let of = parts.iter().map(|part| words::part_key(*part));
    let (got, out_of) = of
        .filter_map(|key| marks.iter().find(|line| line.part == key))
        .fold((0.0, 0.0), |(got, out_of), line| (got + line.marks, out_of + line.out_of));
    (out_of > 0.0).then(|| (got / out_of).clamp(0.0, 1.0))
}
