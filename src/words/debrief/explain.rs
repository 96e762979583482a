//! The debrief in whole sentences, as feedback to whoever did the job.

use std::fmt::Write;

use super::{acts, done, group, practice, verdict};
use crate::job::Job;
use crate::marks::{self, Debrief, Line, Marks};
use crate::reasoning::Stretch;
use crate::words::{Texts, calibration, cap, diagnosis, fault_title, not_put_back, part_of_marks, why};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// A part of which at least this share was earned went well.
const WELL: f64 = 0.8;
/// Choices that are spoken of, the dearest first.
const CHOICES: usize = 3;
/// A choice that lost less than this is not spoken of, in minutes.
const WORTH_A_WORD: f64 = 0.5;

/// The debrief of a job that has been handed in, in plain words.
#[must_use]
pub fn explanation(job: &Job, marks: &Marks, debrief: &Debrief) -> String {
    let scenario = job.scenario();
    let vehicle = &scenario.vehicle;
    let mut text = format!("{}\n\n", scenario.title.written());
    if let Some(fault) = job.truth() {
        writeln!(text, "What was wrong: {}.", fault_title(Texts::english(), vehicle, fault)).expect(NEVER);
    }
    match job.named() {
        Some((named, percent)) => {
            writeln!(
                text,
                "You named: {}, with {percent} % confidence.",
                diagnosis(Texts::english(), vehicle, named)
            )
            .expect(NEVER);
        }
        None => text.push_str("You named no fault.\n"),
    }
    let how = match job.handed_in() {
        Some(true) => "You referred the job",
        _ => "You handed the job in",
    };
    writeln!(
        text,
        "{how} after {:.1} minutes, with {} spent on parts. It earned {:.1} of 100 marks.",
        job.minutes(),
        job.cost(),
        marks.total
    )
    .expect(NEVER);
    if let Some(cap) = cap(Texts::english(), marks) {
        writeln!(text, "{cap}").expect(NEVER);
    }
    parts(&mut text, "What went well", marks, |line| line.out_of > 0.0 && share(line) >= WELL);
    parts(&mut text, "What cost marks", marks, |line| line.out_of > 0.0 && share(line) < WELL);
    for left in not_put_back(Texts::english(), job) {
        writeln!(text, "  Not put back: {left}.").expect(NEVER);
    }
    narrowing(&mut text, marks, debrief);
    if let Some(scored) = job.truth().and_then(|fault| marks::calibration(&job.sheet(), fault)) {
        writeln!(text, "  {}", calibration(Texts::english(), &scored)).expect(NEVER);
    }
    choices(&mut text, job, marks);
    let way: Vec<String> = debrief
        .plan
        .iter()
        .filter(|point| !point.acts.is_empty())
        .map(|point| format!("  at {:.1} min: {}", point.minutes, acts(Texts::english(), job, &point.acts)))
        .collect();
    if !way.is_empty() {
        writeln!(text, "\nThe plan's way to the same fault\n{}", way.join("\n")).expect(NEVER);
    }
    writeln!(text, "\nPractise next: {}", practice(Texts::english(), debrief.practice)).expect(NEVER);
    text
}

fn share(line: &Line) -> f64 {
    line.marks / line.out_of
}

/// Parts of the marks, those that lost most first.
fn parts(text: &mut String, title: &str, marks: &Marks, fits: impl Fn(&Line) -> bool) {
    let mut lines: Vec<&Line> = marks.lines.iter().filter(|line| fits(line)).collect();
    lines.sort_by(|a, b| (b.out_of - b.marks).total_cmp(&(a.out_of - a.marks)));
    if lines.is_empty() {
        return;
    }
    writeln!(text, "\n{title}").expect(NEVER);
    for line in lines {
        let (part, said) = (part_of_marks(Texts::english(), line.part), why(Texts::english(), line));
        writeln!(text, "  {part}, {:.1} of {:.1}. {said}", line.marks, line.out_of).expect(NEVER);
    }
}

/// How fast the possibilities were ruled out, beside the plan.
fn narrowing(text: &mut String, marks: &Marks, debrief: &Debrief) {
    let account = &marks.account;
    let counted: Vec<&Stretch> = account.stretches.iter().filter(|stretch| stretch.charge.counts()).collect();
    text.push_str("\nHow you narrowed it down\n");
    writeln!(
        text,
        "  At the start there were {} possibilities, and the best plan expected {:.1} minutes to a proven repair.",
        account.before.possible, account.planned_minutes
    )
    .expect(NEVER);
    let half = account.before.bits / 2.0;
    let yours = account.stretches.iter().find(|stretch| stretch.after.bits <= half);
    let yours = yours.map(|stretch| stretch.clock_minutes);
    let plans = debrief.plan.iter().find(|point| point.bits <= half).map(|point| point.minutes);
    match (yours, plans) {
        (Some(yours), Some(plans)) => writeln!(
            text,
            "  Half of what was unknown was known after {yours:.1} minutes; on the plan's way to this fault after {plans:.1}."
        ),
        (Some(yours), None) => {
            writeln!(text, "  Half of what was unknown was known after {yours:.1} minutes.")
        }
        (None, _) => writeln!(text, "  Less than half of what was unknown ever came to be known."),
    }
    .expect(NEVER);
    let telling = counted.iter().filter(|stretch| stretch.told_bits > 0.05).count();
    writeln!(text, "  {telling} of your {} choices told something.", counted.len()).expect(NEVER);
}

/// The choices that lost most, and what would have been better.
fn choices(text: &mut String, job: &Job, marks: &Marks) {
    let mut lost: Vec<&Stretch> = marks
        .account
        .stretches
        .iter()
        .filter(|stretch| stretch.charge.counts() && stretch.regret_minutes >= WORTH_A_WORD)
        .collect();
    lost.sort_by(|a, b| b.regret_minutes.total_cmp(&a.regret_minutes));
    if lost.is_empty() {
        text.push_str("  No choice lost more than half a minute against the best there was.\n");
        return;
    }
    text.push_str("\nWhere minutes were lost\n");
    for stretch in lost.into_iter().take(CHOICES) {
        write!(
            text,
            "  Up to {:.1} min you did: {}. That lost {:.1} minutes.",
            stretch.clock_minutes,
            done(Texts::english(), job, stretch),
            stretch.regret_minutes
        )
        .expect(NEVER);
        if let Some(verdict) = verdict(Texts::english(), job, stretch) {
            write!(text, " Why: {verdict}.").expect(NEVER);
        }
        let open: Vec<String> = stretch
            .after
            .open
            .iter()
            .take(2)
            .map(|open| format!("{} ({:.0} %)", group(Texts::english(), job, open), 100.0 * open.probability))
            .collect();
        if !open.is_empty() {
            write!(text, " Likeliest after it: {}.", open.join("; ")).expect(NEVER);
        }
        text.push('\n');
    }
}
