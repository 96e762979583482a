//! The debrief in words, and as a page.

mod curve;
mod explain;
mod html;
mod text;

pub use explain::explanation;
pub use html::html as debrief_html;
pub use text::text as debrief_text;

use super::command;
use super::describe::fault_title;
use crate::bench::Action;
use crate::job::Job;
use crate::marks::{Marks, Practice, Waypoint};
use crate::reasoning::{Better, Charge, Open, Stretch};

/// Faults of a group that are named; the others are counted.
const NAMED: usize = 2;

/// Acts as commands, one after another.
fn commands(job: &Job, acts: &[Action]) -> String {
    let lines: Vec<String> = acts.iter().map(|act| command::text(&job.scenario().vehicle, act)).collect();
    lines.join("; ")
}

/// What was done in a stretch.
fn done(job: &Job, stretch: &Stretch) -> String {
    let acts: Vec<Action> = job.log()[stretch.acts.clone()]
        .iter()
        .filter(|step| step.outcome.refused.is_none() && !step.action.is_on_paper())
        .map(|step| step.action.clone())
        .collect();
    if acts.is_empty() { "nothing that could be done".to_owned() } else { commands(job, &acts) }
}

/// What to say of a stretch: why it was free, or what was lost and how.
fn verdict(job: &Job, stretch: &Stretch) -> Option<String> {
    let lost = match stretch.charge {
        Charge::Brief | Charge::Afterwards => return None,
        Charge::Idle => Some("it could tell nothing of which repair is needed".to_owned()),
        Charge::Again => Some("the same as before, with nothing changed".to_owned()),
        Charge::Preparation => Some("it led to no test".to_owned()),
        Charge::Repair { odds } => {
            Some(format!("a repair that was {:.0} % likely to be the needed one", 100.0 * odds))
        }
        Charge::Test => None,
    };
    let better = stretch.better.as_ref().map(|better| instead(job, better));
    match (lost, better) {
        (None, None) => None,
        (one, other) => Some(one.into_iter().chain(other).collect::<Vec<_>>().join("; ")),
    }
}

/// A better choice and why.
fn instead(job: &Job, better: &Better) -> String {
    let acts = commands(job, &better.acts);
    if better.mends {
        format!("better: {acts} (the evidence was enough to mend)")
    } else {
        format!("better: {acts} ({:.2} bits in {:.1} min)", better.bits, better.minutes)
    }
}

/// A group of faults.
fn group(job: &Job, open: &Open) -> String {
    let scenario = job.scenario();
    if open.faults.is_empty() {
        return "nothing wrong, or something that is not on the list".to_owned();
    }
    let mut names: Vec<String> = open
        .faults
        .iter()
        .take(NAMED)
        .map(|&fault| fault_title(&scenario.vehicle, &scenario.faults[fault]))
        .collect();
    if open.faults.len() > NAMED {
        names.push(format!("{} more that the same repair mends", open.faults.len() - NAMED));
    }
    names.join(", or ")
}

/// A stretch of a job, as a row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Minutes on the clock at its end.
    pub clock_minutes: f64,
    /// Bits that it told, of those that it could be expected to tell.
    pub told: String,
    /// How many possibilities were left, in how many groups of the same repair.
    pub left: String,
    /// Minutes lost, or that they do not count.
    pub lost: String,
    /// What was done.
    pub done: String,
    /// What is to be said of it.
    pub notes: Vec<String>,
}

/// From so few groups on they are named after a step.
const NAMED_GROUPS: usize = 3;

/// A job's stretches as rows.
#[must_use]
pub fn rows(job: &Job, marks: &Marks) -> Vec<Row> {
    let row = |stretch: &Stretch| {
        let mut notes: Vec<String> = verdict(job, stretch).into_iter().collect();
        let open = &stretch.after.open;
        if (2..=NAMED_GROUPS).contains(&open.len()) && stretch.charge.counts() {
            let left: Vec<String> = open
                .iter()
                .map(|open| format!("{:.0} % {}", 100.0 * open.probability, group(job, open)))
                .collect();
            notes.push(format!("left: {}", left.join(" | ")));
        }
        Row {
            clock_minutes: stretch.clock_minutes,
            told: format!("{:.2} of {:.2}", unsigned(stretch.told_bits), stretch.expected_bits),
            left: format!("{} in {}", stretch.after.possible, open.len()),
            lost: lost(stretch),
            done: done(job, stretch),
            notes,
        }
    };
    marks.account.stretches.iter().map(row).collect()
}

/// Without the sign of what rounds to nothing.
fn unsigned(bits: f64) -> f64 {
    if bits.abs() < 0.005 { 0.0 } else { bits }
}

fn lost(stretch: &Stretch) -> String {
    if stretch.charge.counts() { format!("{:.1}", stretch.regret_minutes) } else { "free".to_owned() }
}

/// What is done at a place on the plan's way.
#[must_use]
pub fn waypoint(job: &Job, waypoint: &Waypoint) -> String {
    match (waypoint.acts.is_empty(), waypoint.mends) {
        (true, _) => "as the vehicle comes in".to_owned(),
        (false, true) => format!("MEND {}", commands(job, &waypoint.acts)),
        (false, false) => commands(job, &waypoint.acts),
    }
}

/// The one thing to practise next.
#[must_use]
pub fn practice(practice: Practice) -> &'static str {
    match practice {
        Practice::Evidence => {
            "Name a fault only when the evidence has ruled out its rivals: before you name it, say aloud what else would have given the same readings."
        }
        Practice::Naming => {
            "Follow the evidence to the end: component, kind and place. When the conductor is known, walk the break down to a station."
        }
        Practice::NoHunches => {
            "Prove a part bad at its own connector, with its own feed and ground under load, before you fit one."
        }
        Practice::TellingTests => {
            "Before you connect anything, say what the reading would be under each fault that is left; if it is the same under all, choose another test."
        }
        Practice::BetterTests => {
            "Look for the test that splits what is left nearest to half for its minutes: cheap and from outside first, then by load, then by taking things apart."
        }
        Practice::Time => "Do what you chose in fewer moves: leave the leads where they serve twice.",
        Practice::Proof => {
            "After the repair show the complaint gone in the conditions that made it, try a neighbour, and put everything back."
        }
        Practice::Safety => {
            "Work as if the cautions were marked first: read them, protect eyes, prop the lid, and write up complaint, cause and correction with a reading each."
        }
        Practice::Harder => "Nothing stands out: take a harder job.",
    }
}
