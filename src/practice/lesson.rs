//! The scenarios of the shelf as lessons.

use super::plan::Lesson;
use super::skill::Skill;
use crate::scenario::{SHELF, Scenario, Trial, load};
use crate::vehicle::{PartId, PartKind, Vehicle};

impl Lesson {
    /// What a scenario teaches.
    #[must_use]
    pub fn of(scenario: &Scenario) -> Self {
        let weight = |skill: Skill| -> u64 {
            let of = scenario.faults.iter().filter(|fault| Skill::of(&scenario.vehicle, fault) == skill);
            of.map(|fault| fault.weight).sum()
        };
        // Of skills that weigh the same, the first.
        let skill = Skill::ALL.into_iter().rev().max_by_key(|skill| weight(*skill)).unwrap_or(Skill::Feeds);
        Self { scenario: scenario.id.clone(), skill, circuit: circuit(scenario) }
    }
}

/// What fails from outside, whatever the vehicle: the lid, lamps, motors, screens, the battery.
fn circuit(scenario: &Scenario) -> String {
    let mut all: Vec<&str> = scenario
        .trials
        .iter()
        .flat_map(|trial| match trial {
            Trial::Key(_) | Trial::Press(_) => vec!["lid"],
            Trial::Switch(_, watch) => watch.iter().map(|part| sort(&scenario.vehicle, *part)).collect(),
            Trial::Rest { .. } => vec!["battery"],
        })
        .collect();
    all.sort_unstable();
    all.dedup();
    all.join(", ")
}

fn sort(vehicle: &Vehicle, part: PartId) -> &'static str {
    match vehicle.part(part).kind {
        PartKind::Lamp { .. } | PartKind::Led { .. } => "lamps",
        PartKind::Screen(_) => "screens",
        _ => "motors",
    }
}

/// The lessons of the shelf's scenarios in the order in which a beginner takes them: that of the shelf, but its first
/// scenario, which holds all kinds of faults at once, comes last.
#[must_use]
pub fn in_order<'a>(shelf: impl Iterator<Item = &'a Scenario>) -> Vec<Lesson> {
    let mut lessons: Vec<Lesson> = shelf.map(Lesson::of).collect();
    if !lessons.is_empty() {
        lessons.rotate_left(1);
    }
    lessons
}

/// The same, read from the shelf. What cannot be read is left out; a test reads all.
#[must_use]
pub fn shelf_lessons() -> Vec<Lesson> {
    let shelf: Vec<Scenario> = SHELF.iter().filter_map(|one| Some(load(one.id).ok()?.scenario)).collect();
    in_order(shelf.iter())
}
