//! Marks in words.

use std::fmt::Write;

use super::describe::fault_title;
use super::findings::not_put_back;
use crate::bench::{Caution, WriteUpLine};
use crate::job::Job;
use crate::marks::{
    self, Calibration, Comeback, DANGER_CAP, Lesson, Line, Marks, Part, SOMEWHERE, SafetyPoint,
};
use crate::say;
use crate::words::Texts;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

/// A part's title.
#[must_use]
pub fn part_of_marks(t: Texts, part: Part) -> &'static str {
    t.say(match part {
        Part::Diagnosis => "part-diagnosis",
        Part::Reasoning => "part-reasoning",
        Part::Parts => "part-parts",
        Part::Time => "part-time",
        Part::Proof => "part-proof",
        Part::Safety => "part-safety",
    })
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
pub fn why(t: Texts, line: &Line) -> String {
    let (mut missed, mut too_little) = (Vec::new(), Vec::new());
    let mut said = Vec::new();
    for lesson in &line.lessons {
        match lesson {
            Lesson::Safety(_, true) => {}
            Lesson::Safety(point, false) => missed.push(safety_point(t, *point)),
            Lesson::TooLittleDone(point) => too_little.push(safety_point(t, *point)),
            other => said.push(lesson_text(t, *other)),
        }
    }
    if line.part == Part::Safety {
        if missed.is_empty() && too_little.is_empty() {
            said.push(t.say("why-nothing-missed").to_owned());
        }
        if !missed.is_empty() {
            said.push(say!(t, "why-not-earned", points = missed.join("; ")));
        }
        if !too_little.is_empty() {
            let percent = format!("{:.0}", SOMEWHERE * 100.0);
            said.push(say!(t, "why-too-little-done", percent = percent, points = too_little.join("; ")));
        }
    }
    said.join(" ")
}

fn lesson_text(t: Texts, lesson: Lesson) -> String {
    let id = match lesson {
        Lesson::Reasoned { spent_minutes, lost_minutes, idle, again, hunches } => {
            let (spent, lost) = (format!("{spent_minutes:.1}"), format!("{lost_minutes:.1}"));
            let wastes = [(idle, "lesson-idle"), (again, "lesson-again"), (hunches, "lesson-hunches")];
            let wastes: Vec<String> = wastes
                .into_iter()
                .filter(|(count, _)| *count > 0)
                .map(|(count, id)| say!(t, id, count = count))
                .collect();
            return if wastes.is_empty() {
                say!(t, "lesson-reasoned", spent = spent, lost = lost)
            } else {
                say!(t, "lesson-reasoned-wastes", spent = spent, lost = lost, wastes = wastes.join(", "))
            };
        }
        Lesson::Coached { marks } => return say!(t, "lesson-coached", marks = format!("{marks:.0}")),
        Lesson::Evidence { probability, early } => {
            let id = if early { "lesson-evidence-early" } else { "lesson-evidence" };
            return say!(t, id, percent = format!("{:.0}", 100.0 * probability));
        }
        Lesson::SeveralAtOnce { wrong, named } => {
            return say!(t, "lesson-several", wrong = wrong, named = named);
        }
        Lesson::NothingNamed => "lesson-nothing-named",
        Lesson::Referred => "lesson-referred",
        Lesson::Named { component: false, percent, .. } => {
            return say!(t, "lesson-wrong-component", percent = percent);
        }
        Lesson::Named { kind, place, near, percent, .. } => {
            let id = match (kind, place, near) {
                (true, true, _) => "lesson-right-right",
                (true, false, true) => "lesson-right-near",
                (true, false, false) => "lesson-right-wrong",
                (false, true, _) => "lesson-wrong-right",
                (false, false, true) => "lesson-wrong-near",
                (false, false, false) => "lesson-wrong-wrong",
            };
            return say!(t, id, percent = percent);
        }
        Lesson::Parts { needless: 0, cost } => return say!(t, "lesson-no-waste", cost = cost),
        Lesson::Parts { needless, cost } => {
            return say!(t, "lesson-waste", count = needless, cost = cost);
        }
        Lesson::Time { minutes, par } => {
            return say!(t, "lesson-time", minutes = format!("{minutes:.1}"), par = format!("{par:.0}"));
        }
        Lesson::NothingMended => "lesson-nothing-mended",
        Lesson::Retested { wrong_left: true, .. } => "lesson-wrong-left",
        Lesson::Retested { good: 0, failed: 0, .. } => "lesson-not-retested",
        Lesson::Retested { failed, .. } if failed > 0 => "lesson-retest-failed",
        Lesson::Retested { good, needed, .. } if good < needed => {
            return say!(t, "lesson-retested-few", good = good, needed = needed);
        }
        Lesson::Retested { .. } => "lesson-retested",
        Lesson::RetestedDry => "lesson-retested-dry",
        Lesson::PoorJoint => "lesson-poor-joint",
        Lesson::Neighbours(true) => "lesson-neighbours",
        Lesson::Neighbours(false) => "lesson-no-neighbours",
        Lesson::PutBack { left } => return say!(t, "lesson-put-back", left = left),
        Lesson::Safety(point, _) | Lesson::TooLittleDone(point) => return safety_point(t, point).to_owned(),
    };
    t.say(id).to_owned()
}

fn safety_point(t: Texts, point: SafetyPoint) -> &'static str {
    t.say(match point {
        SafetyPoint::CautionsRead => "safety-cautions",
        SafetyPoint::Eyes => "safety-eyes",
        SafetyPoint::Lid => "safety-lid",
        SafetyPoint::OhmsOnLive => "safety-ohms",
        SafetyPoint::Amps => "safety-amps",
        SafetyPoint::Fuse => "safety-fuse",
        SafetyPoint::Wrote(WriteUpLine::Complaint) => "safety-wrote-complaint",
        SafetyPoint::Wrote(WriteUpLine::Cause) => "safety-wrote-cause",
        SafetyPoint::Wrote(WriteUpLine::Correction) => "safety-wrote-correction",
        SafetyPoint::Figure(WriteUpLine::Complaint) => "safety-figure-complaint",
        SafetyPoint::Figure(WriteUpLine::Cause) => "safety-figure-cause",
        SafetyPoint::Figure(WriteUpLine::Correction) => "safety-figure-correction",
    })
}

/// How well the suspicion sheet was weighed, in a sentence.
#[must_use]
pub fn calibration(t: Texts, calibration: &Calibration) -> String {
    let id = if calibration.on_a_line { "calibration-on-a-line" } else { "calibration-off-the-lines" };
    say!(
        t,
        id,
        percent = format!("{:.0}", calibration.given * 100.0),
        brier = format!("{:.2}", calibration.brier),
        bits = format!("{:.1}", calibration.surprise_bits)
    )
}

/// The line about a dangerous act, if there was one.
#[must_use]
pub fn cap(t: Texts, marks: &Marks) -> Option<String> {
    marks.capped.map(|(off, caution)| {
        let id = match caution {
            Caution::AmpsAcrossSource => "cap-amps",
            _ => "cap-other",
        };
        say!(t, id, most = format!("{DANGER_CAP:.0}"), off = format!("{off:.1}"))
    })
}

/// What a job that was referred earns for its parts, time and proof.
#[must_use]
pub fn referral(t: Texts, marks: &Marks) -> Option<String> {
    let percent = format!("{:.0}", 100.0 * marks.by_diagnosis?);
    Some(say!(t, "marks-referred", percent = percent))
}

/// The bill beside the estimate, and what the customer says some days later, a sentence each.
#[must_use]
pub fn afterwards(t: Texts, marks: &Marks) -> Vec<String> {
    let after = &marks.afterwards;
    let total = after.total();
    let (labour, parts) = (after.labour, after.parts);
    let said = match after.estimate.map(u32::from) {
        None => say!(t, "bill-untold", labour = labour, parts = parts, total = total),
        Some(agreed) if total > agreed => say!(
            t,
            "bill-over",
            labour = labour,
            parts = parts,
            total = total,
            agreed = agreed,
            over = total - agreed
        ),
        Some(agreed) => {
            say!(t, "bill-agreed", labour = labour, parts = parts, total = total, agreed = agreed)
        }
    };
    let comeback = |why: &Comeback| {
        t.say(match why {
            Comeback::Same => "comeback-same",
            Comeback::Joint => "comeback-joint",
            Comeback::Left => "comeback-left",
        })
        .to_owned()
    };
    std::iter::once(said).chain(after.comebacks.iter().map(comeback)).collect()
}

/// What a job that has been handed in hid, and its marks, part by part.
#[must_use]
pub fn result_text(t: Texts, job: &Job, marks: &Marks) -> String {
    let Some(fault) = job.truth() else { return String::new() };
    let truth = say!(t, "result-truth", fault = fault_title(t, &job.scenario().vehicle, fault));
    let mut text = format!("\n{truth}\n\n{}\n", t.say("result-marks"));
    for line in &marks.lines {
        let row = say!(
            t,
            "result-line",
            marks = format!("{:>5.1}", line.marks),
            most = format!("{:<5.1}", line.out_of),
            part = format!("{:<23}", part_of_marks(t, line.part)),
            why = why(t, line)
        );
        writeln!(text, "{row}").expect(NEVER);
    }
    for left in not_put_back(t, job) {
        writeln!(text, "{}", say!(t, "hand-in-left", what = left)).expect(NEVER);
    }
    for line in referral(t, marks).into_iter().chain(cap(t, marks)) {
        writeln!(text, "{line}").expect(NEVER);
    }
    for line in afterwards(t, marks) {
        writeln!(text, "{line}").expect(NEVER);
    }
    let total = say!(
        t,
        "result-total",
        marks = format!("{:>5.1}", marks.total),
        percent = format!("{:.0}", marks.progress * 100.0)
    );
    writeln!(text, "{total}").expect(NEVER);
    if let Some(scored) = marks::calibration(&job.sheet(), fault) {
        writeln!(text, "{}", calibration(t, &scored)).expect(NEVER);
    }
    text
}
