//! The debrief in words, and as a page.

mod curve;
mod html;
mod text;

pub use html::html as debrief_html;
pub use text::text as debrief_text;

use super::command;
use super::describe::diagnosis;
use crate::bench::Action;
use crate::job::Job;
use crate::marks::Practice;
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
        .map(|&fault| diagnosis(&scenario.vehicle, scenario.faults[fault].diagnosis))
        .collect();
    if open.faults.len() > NAMED {
        names.push(format!("{} more that the same repair mends", open.faults.len() - NAMED));
    }
    names.join(", or ")
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
