//! What to practise next, and how far a learner has come.

use std::fmt::Write;

use super::coach::counted;
use crate::practice::{Done, Lesson, Next, Progress, Skill, Why};
use crate::say;
use crate::words::Texts;

/// Writing to a string cannot fail.
const NEVER: &str = "a string takes everything";

/// A skill's name.
#[must_use]
pub fn skill(t: Texts, skill: Skill) -> &'static str {
    t.say(match skill {
        Skill::Complaint => "skill-complaint",
        Skill::Feeds => "skill-feeds",
        Skill::Load => "skill-load",
        Skill::Loom => "skill-loom",
        Skill::Modules => "skill-modules",
        Skill::Proof => "skill-proof",
    })
}

/// Why a lesson is suggested.
#[must_use]
pub fn why_next(t: Texts, why: Why) -> String {
    match why {
        Why::New => t.say("next-new").to_owned(),
        Why::WentBadly(jobs) => say!(t, "next-badly", jobs = jobs),
        Why::KeepUp(jobs) => say!(t, "next-keep-up", jobs = jobs),
    }
}

/// How far a learner has come in a skill.
#[must_use]
pub fn level(t: Texts, progress: &Progress) -> String {
    let told = |level: f64| {
        let percent = format!("{:.0}", 100.0 * level);
        say!(t, "level", percent = percent, jobs = progress.jobs)
    };
    progress.level.map_or_else(|| t.say("level-none").to_owned(), told)
}

/// All of it, for a terminal. The lessons are those that [`Next`] counts in.
#[must_use]
pub fn practice_text(lessons: &[Lesson], next: &[Next], progress: &[Progress], done: &[Done]) -> String {
    let t = Texts::english();
    let mut text = String::from("To practise next:\n");
    for Next { lesson, why } in next {
        let id = &lessons[*lesson].scenario;
        writeln!(text, "  {id:<28} {}", why_next(t, *why)).expect(NEVER);
    }
    writeln!(text, "Progress, from {} handed in:", counted(done.len(), "job")).expect(NEVER);
    for one in progress {
        writeln!(text, "  {:<28} {}", skill(t, one.skill), level(t, one)).expect(NEVER);
    }
    text.push_str("Half of a level is the last job of that skill, a quarter the one before, and so on.\n");
    text
}
