//! The debrief in words, and as a page.

mod curve;
mod explain;
mod html;
mod text;

pub use explain::explanation;
pub use html::html as debrief_html;
pub use text::text as debrief_text;

use super::acts::acts as listed;
use super::describe::{capital, fault_title};
use crate::bench::Action;
use crate::job::Job;
use crate::marks::{Marks, Practice, Waypoint};
use crate::reasoning::{Better, Charge, Open, Stretch};
use crate::say;
use crate::words::Texts;

/// Faults of a group that are named; the others are counted.
const NAMED: usize = 2;

/// Acts, one after another.
fn acts(t: Texts, job: &Job, acts: &[Action]) -> String {
    listed(t, &job.scenario().vehicle, acts)
}

/// What was done in a stretch.
fn done(t: Texts, job: &Job, stretch: &Stretch) -> String {
    let all: Vec<Action> = job.log()[stretch.acts.clone()]
        .iter()
        .filter(|step| step.outcome.refused.is_none() && !step.action.is_on_paper())
        .map(|step| step.action.clone())
        .collect();
    if all.is_empty() { t.say("step-nothing").to_owned() } else { acts(t, job, &all) }
}

/// What to say of a stretch: why it was free, or what was lost and how.
fn verdict(t: Texts, job: &Job, stretch: &Stretch) -> Option<String> {
    let lost = match stretch.charge {
        Charge::Brief | Charge::Afterwards => return None,
        Charge::Idle => Some(t.say("step-idle").to_owned()),
        Charge::Again => Some(t.say("step-again").to_owned()),
        Charge::Preparation => Some(t.say("step-preparation").to_owned()),
        Charge::Repair { odds } => Some(say!(t, "step-repair", percent = format!("{:.0}", 100.0 * odds))),
        Charge::Test => None,
    };
    let better = stretch.better.as_ref().map(|better| instead(t, job, better));
    match (lost, better) {
        (None, None) => None,
        (one, other) => Some(one.into_iter().chain(other).collect::<Vec<_>>().join("; ")),
    }
}

/// A better choice and why.
fn instead(t: Texts, job: &Job, better: &Better) -> String {
    let instead = acts(t, job, &better.acts);
    if better.mends {
        say!(t, "step-better-mend", acts = instead)
    } else {
        let (bits, minutes) = (format!("{:.2}", better.bits), format!("{:.1}", better.minutes));
        say!(t, "step-better", acts = instead, bits = bits, minutes = minutes)
    }
}

/// A group of faults.
fn group(t: Texts, job: &Job, open: &Open) -> String {
    let scenario = job.scenario();
    // Faults that differ only in when they show, or how badly, have one name.
    let mut titles: Vec<String> = Vec::new();
    for &fault in &open.faults {
        let title = fault_title(t, &scenario.vehicle, &scenario.faults[fault]);
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    let more = titles.len().saturating_sub(NAMED);
    let more = (more > 0).then(|| say!(t, "step-more", count = more));
    titles
        .into_iter()
        .take(NAMED)
        .chain(more)
        .reduce(|one, other| say!(t, "step-or", one = one, other = other))
        .unwrap_or_else(|| t.say("step-unlisted").to_owned())
}

/// A stretch of a job, as a row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Minutes on the clock at its end.
    pub clock_minutes: f64,
    /// Bits that it told.
    pub told: String,
    /// Bits that it could be expected to tell, before it was done.
    pub expected: String,
    /// How many possibilities were left, in how many groups of the same repair.
    pub left: String,
    /// Minutes lost, or that they do not count.
    pub lost: String,
    /// What was done.
    pub done: String,
    /// What is to be said of it, a line each.
    pub notes: Vec<String>,
}

/// From so few groups on they are named after a step.
const NAMED_GROUPS: usize = 3;

/// What the columns of a job's rows tell, a line for each that needs it.
#[must_use]
pub fn legend(t: Texts) -> [&'static str; 4] {
    ["debrief-legend-told", "debrief-legend-expected", "debrief-legend-left", "debrief-legend-lost"]
        .map(|id| t.say(id))
}

/// A job's stretches as rows.
#[must_use]
pub fn rows(t: Texts, job: &Job, marks: &Marks) -> Vec<Row> {
    let row = |stretch: &Stretch| {
        let mut notes: Vec<String> = verdict(t, job, stretch).into_iter().collect();
        let open = &stretch.after.open;
        if (2..=NAMED_GROUPS).contains(&open.len()) && stretch.charge.counts() {
            notes.push(t.say("step-left").to_owned());
            notes.extend(open.iter().map(|open| {
                let percent = format!("{:.0}", 100.0 * open.probability);
                say!(t, "step-percent", percent = percent, group = group(t, job, open))
            }));
        }
        Row {
            clock_minutes: stretch.clock_minutes,
            told: format!("{:.2}", unsigned(stretch.told_bits)),
            expected: format!("{:.2}", stretch.expected_bits),
            left: say!(t, "step-possible", causes = stretch.after.possible, groups = open.len()),
            lost: lost(t, stretch),
            done: capital(&done(t, job, stretch)),
            notes,
        }
    };
    marks.account.stretches.iter().map(row).collect()
}

/// Without the sign of what rounds to nothing.
fn unsigned(bits: f64) -> f64 {
    if bits.abs() < 0.005 { 0.0 } else { bits }
}

fn lost(t: Texts, stretch: &Stretch) -> String {
    if stretch.charge.counts() {
        format!("{:.1}", stretch.regret_minutes)
    } else {
        t.say("step-free").to_owned()
    }
}

/// What is done at a place on the plan's way.
#[must_use]
pub fn waypoint(t: Texts, job: &Job, waypoint: &Waypoint) -> String {
    capital(&match (waypoint.acts.is_empty(), waypoint.mends) {
        (true, _) => t.say("waypoint-start").to_owned(),
        (false, true) => say!(t, "waypoint-mend", acts = acts(t, job, &waypoint.acts)),
        (false, false) => acts(t, job, &waypoint.acts),
    })
}

/// The one thing to practise next.
#[must_use]
pub fn practice(t: Texts, practice: Practice) -> &'static str {
    t.say(match practice {
        Practice::Evidence => "practice-evidence",
        Practice::Naming => "practice-naming",
        Practice::NoHunches => "practice-no-hunches",
        Practice::TellingTests => "practice-telling-tests",
        Practice::BetterTests => "practice-better-tests",
        Practice::Time => "practice-time",
        Practice::Proof => "practice-proof",
        Practice::Safety => "practice-safety",
        Practice::Harder => "practice-harder",
    })
}
