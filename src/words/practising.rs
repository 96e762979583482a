//! What to practise next, and how far a learner has come.

use std::fmt::Write;

use super::coach::counted;
use crate::practice::{Done, Lesson, Next, Progress, Skill, Why};

/// Writing to a string cannot fail.
const NEVER: &str = "a string takes everything";

/// A skill's name.
#[must_use]
pub fn skill(skill: Skill) -> &'static str {
    match skill {
        Skill::Complaint => "complaint and settings",
        Skill::Feeds => "feeds and grounds",
        Skill::Load => "testing under load",
        Skill::Loom => "loom and intermittents",
        Skill::Modules => "relays, switches and modules",
        Skill::Proof => "proof and safety",
    }
}

/// Why a lesson is suggested.
#[must_use]
pub fn why_next(why: Why) -> String {
    let ago = |jobs: usize| format!("{} ago", counted(jobs, "job"));
    match why {
        Why::New => "new".to_owned(),
        Why::WentBadly(jobs) => format!("went badly, {}", ago(jobs)),
        Why::KeepUp(jobs) => format!("to keep it up, {}", ago(jobs)),
    }
}

/// How far a learner has come in a skill.
#[must_use]
pub fn level(progress: &Progress) -> String {
    let jobs = counted(progress.jobs, "job");
    let told = |level: f64| format!("{:.0} %, {jobs}", 100.0 * level);
    progress.level.map_or_else(|| "not yet trained".to_owned(), told)
}

/// All of it, for a terminal. The lessons are those that [`Next`] counts in.
#[must_use]
pub fn practice_text(lessons: &[Lesson], next: &[Next], progress: &[Progress], done: &[Done]) -> String {
    let mut text = String::from("To practise next:\n");
    for Next { lesson, why } in next {
        let id = &lessons[*lesson].scenario;
        writeln!(text, "  {id:<28} {}", why_next(*why)).expect(NEVER);
    }
    writeln!(text, "Progress, from {} handed in:", counted(done.len(), "job")).expect(NEVER);
    for one in progress {
        writeln!(text, "  {:<28} {}", skill(one.skill), level(one)).expect(NEVER);
    }
    text.push_str("Half of a level is the last job of that skill, a quarter the one before, and so on.\n");
    text
}
