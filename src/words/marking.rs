//! Marks in words.

use std::fmt::Write;

use super::describe::{fault_title, write_up_title};
use super::findings::not_put_back;
use crate::bench::Caution;
use crate::job::Job;
use crate::marks::{self, Calibration, Comeback, DANGER_CAP, Lesson, Line, Marks, Part, SafetyPoint};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

/// A part's title.
#[must_use]
pub fn part_of_marks(part: Part) -> &'static str {
    match part {
        Part::Diagnosis => "Right diagnosis",
        Part::Reasoning => "Reasoning",
        Part::Parts => "Parts not wasted",
        Part::Time => "Time",
        Part::Proof => "Proof of repair",
        Part::Safety => "Safe work and write-up",
    }
}

/// A part's name in records.
#[must_use]
pub fn part_key(part: Part) -> &'static str {
    match part {
        Part::Diagnosis => "diagnosis",
        Part::Reasoning => "reasoning",
        Part::Parts => "parts",
        Part::Time => "time",
        Part::Proof => "proof",
        Part::Safety => "safety",
    }
}

/// Why a part has its marks, in one sentence or two.
#[must_use]
pub fn why(line: &Line) -> String {
    let mut missed = Vec::new();
    let mut said = Vec::new();
    for lesson in &line.lessons {
        match lesson {
            Lesson::Safety(_, true) => {}
            Lesson::Safety(point, false) => missed.push(safety_point(*point)),
            other => said.push(lesson_text(*other)),
        }
    }
    if line.part == Part::Safety {
        said.push(if missed.is_empty() {
            "Nothing missed.".to_owned()
        } else {
            format!("Not earned: {}.", missed.join("; "))
        });
    }
    said.join(" ")
}

fn lesson_text(lesson: Lesson) -> String {
    match lesson {
        Lesson::Reasoned { spent_minutes, lost_minutes, idle, again, hunches } => {
            let mut text = format!(
                "Of the {spent_minutes:.1} minutes that choices took, they lost {lost_minutes:.1} against the best that could be expected"
            );
            let wastes = [
                (idle, "test that could tell nothing", "tests that could tell nothing"),
                (again, "repeat with nothing changed", "repeats with nothing changed"),
                (hunches, "repair on a hunch", "repairs on a hunch"),
            ];
            let said: Vec<String> = wastes
                .iter()
                .filter(|(count, ..)| *count > 0)
                .map(|(count, one, many)| format!("{count} {}", if *count == 1 { one } else { many }))
                .collect();
            if !said.is_empty() {
                text.push_str(": ");
                text.push_str(&said.join(", "));
            }
            text.push('.');
            text
        }
        Lesson::Coached { marks } => format!("The coach's advice took {marks:.0} off."),
        Lesson::Evidence { probability, early } => {
            let percent = 100.0 * probability;
            if early {
                format!("Named too early: the evidence in hand made it {percent:.0} % likely.")
            } else {
                format!("The evidence in hand made it {percent:.0} % likely.")
            }
        }
        Lesson::SeveralAtOnce { wrong, named } => {
            format!("{wrong} things were wrong at once, and each counts alike; {named} were named.")
        }
        Lesson::NothingNamed => "No fault was named.".to_owned(),
        Lesson::Referred => "Referred without a name: honest, and it earns by what was found.".to_owned(),
        Lesson::Named { component: false, percent, .. } => {
            format!("The named component is not the faulty one (named with {percent} %).")
        }
        Lesson::Named { kind, place, near, percent, .. } => {
            let kind = if kind { "right kind" } else { "wrong kind" };
            let place = match (place, near) {
                (true, _) => "right place",
                (_, true) => "near the place",
                _ => "wrong place",
            };
            format!("Right component, {kind}, {place} (named with {percent} %).")
        }
        Lesson::Parts { needless: 0, cost } => {
            format!("Nothing was mended that was sound; the bill is {cost}.")
        }
        Lesson::Parts { needless, cost } => {
            let times = if needless == 1 { "One repair".to_owned() } else { format!("{needless} repairs") };
            format!("{times} mended nothing; the bill is {cost}.")
        }
        Lesson::Time { minutes, par } => {
            format!(
                "{minutes:.1} minutes (acts of safety not counted) against a par of {par:.0}; full up to 1.3 times the par."
            )
        }
        Lesson::NothingMended => "Nothing was mended, so nothing was proven.".to_owned(),
        Lesson::Retested { wrong_left: true, .. } => "Something is still wrong with the car.".to_owned(),
        Lesson::Retested { good: 0, failed: 0, .. } => {
            "The complaint was not retested with the lid shut.".to_owned()
        }
        Lesson::Retested { failed, .. } if failed > 0 => "The last retest failed.".to_owned(),
        Lesson::Retested { good, needed, .. } if good < needed => {
            format!("Retested {good} times; a fault that comes and goes needed {needed}.")
        }
        Lesson::Retested { .. } => "The complaint was retested with the lid shut, often enough.".to_owned(),
        Lesson::RetestedDry => {
            "The complaint was not retested with the lid shut and the rear wet, as it was when it failed."
                .to_owned()
        }
        Lesson::PoorJoint => "A joint was only twisted and taped: it will come back.".to_owned(),
        Lesson::Neighbours(true) => "Neighbouring functions were checked.".to_owned(),
        Lesson::Neighbours(false) => "No neighbouring function was checked after the repair.".to_owned(),
        Lesson::PutBack { left: 0 } => "Everything was put back.".to_owned(),
        Lesson::PutBack { left: 1 } => "One thing was not put back.".to_owned(),
        Lesson::PutBack { left } => format!("{left} things were not put back."),
        Lesson::Safety(point, _) => safety_point(point),
    }
}

fn safety_point(point: SafetyPoint) -> String {
    match point {
        SafetyPoint::CautionsRead => "reading the cautions".to_owned(),
        SafetyPoint::Eyes => "protecting the eyes at the battery".to_owned(),
        SafetyPoint::Lid => "propping the lid before work under it".to_owned(),
        SafetyPoint::OhmsOnLive => "keeping ohms off live circuits, in a job that got somewhere".to_owned(),
        SafetyPoint::Amps => "keeping amps off sources, in a job that got somewhere".to_owned(),
        SafetyPoint::Fuse => "fitting no fuse above its slot's rating".to_owned(),
        SafetyPoint::Wrote(line) => format!("{} written in a few words", write_up_title(line).to_lowercase()),
        SafetyPoint::Figure(line) => format!("a reading in {}", write_up_title(line).to_lowercase()),
    }
}

/// How well the suspicion sheet was weighed, in a sentence.
#[must_use]
pub fn calibration(calibration: &Calibration) -> String {
    let line = if calibration.on_a_line {
        "gave the true fault"
    } else {
        "had no line for the true fault and gave something else"
    };
    format!(
        "Your suspicion sheet {line} {:.0} %: a Brier score of {:.2} (0 is best, 2 worst) and {:.1} bits of surprise; it earns no marks.",
        calibration.given * 100.0,
        calibration.brier,
        calibration.surprise_bits
    )
}

/// The line about a dangerous act, if there was one.
#[must_use]
pub fn cap(marks: &Marks) -> Option<String> {
    marks.capped.map(|(off, caution)| {
        let act = match caution {
            Caution::AmpsAcrossSource => "amps across a source",
            _ => "a dangerous act",
        };
        format!("Dangerous act ({act}): the total cannot pass {DANGER_CAP:.0}; {off:.1} taken off.")
    })
}

/// The bill beside the estimate, and what the customer says some days later, a sentence each.
#[must_use]
pub fn afterwards(marks: &Marks) -> Vec<String> {
    let after = &marks.afterwards;
    let total = after.total();
    let mut said = format!("Bill: labour {}, parts {}, in all {total}.", after.labour, after.parts);
    match after.estimate.map(u32::from) {
        None => said.push_str(" The customer was not told beforehand what it would cost."),
        Some(agreed) if total > agreed => {
            write!(said, " He had agreed to {agreed}: {} more than that.", total - agreed).expect(NEVER);
        }
        Some(agreed) => write!(said, " He had agreed to {agreed}.").expect(NEVER),
    }
    let comeback = |why: &Comeback| {
        match why {
            Comeback::Same => "Some days later the customer is back: \"It is just as it was.\"",
            Comeback::Joint => {
                "Some weeks later the customer is back: the joint that was only twisted has worked loose."
            }
            Comeback::Left => "The customer is back the same day: \"Something here is not as I brought it.\"",
        }
        .to_owned()
    };
    std::iter::once(said).chain(after.comebacks.iter().map(comeback)).collect()
}

/// What a job that has been handed in hid, and its marks, part by part.
#[must_use]
pub fn result_text(job: &Job, marks: &Marks) -> String {
    let Some(fault) = job.truth() else { return String::new() };
    let truth = fault_title(&job.scenario().vehicle, fault);
    let mut text = format!("\nThe fault was: {truth}\n\nMARKS\n");
    for line in &marks.lines {
        let (part, why) = (part_of_marks(line.part), why(line));
        writeln!(text, "{:>5.1} of {:<5.1} {part:<23} {why}", line.marks, line.out_of).expect(NEVER);
    }
    for left in not_put_back(job) {
        writeln!(text, "Not put back: {left}.").expect(NEVER);
    }
    if let Some(cap) = cap(marks) {
        writeln!(text, "{cap}").expect(NEVER);
    }
    for line in afterwards(marks) {
        writeln!(text, "{line}").expect(NEVER);
    }
    writeln!(
        text,
        "{:>5.1} of 100   Total (job carried {:.0} % of the way)",
        marks.total,
        marks.progress * 100.0
    )
    .expect(NEVER);
    if let Some(scored) = marks::calibration(&job.sheet(), fault) {
        writeln!(text, "{}", calibration(&scored)).expect(NEVER);
    }
    text
}
