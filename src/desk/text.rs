//! What the desk says to a person.

use std::fmt::Write;

use crate::bench::Action;
use crate::job::{Job, Step};
use crate::vehicle::Vehicle;
use crate::words;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

pub(super) fn greeting(job: &Job) -> String {
    let scenario = job.scenario();
    let mut text = format!("{}\n{}\n\n", scenario.title, scenario.vehicle.title);
    writeln!(text, "The customer: \"{}\"\n", scenario.customer).expect(NEVER);
    if let Some(variation) = scenario.variation() {
        writeln!(text, "Variation {variation} of this scenario.").expect(NEVER);
    }
    if let (steps @ 1.., minutes) = (job.log().len(), job.minutes()) {
        writeln!(text, "Resumed after {steps} steps, at {minutes:.1} minutes.").expect(NEVER);
    }
    if job.handed_in().is_some() {
        text.push_str("This job has been handed in.\n");
        return text;
    }
    for limit in words::limits(words::Texts::english(), job.scenario()) {
        writeln!(text, "{limit}").expect(NEVER);
    }
    text.push_str(
        "Find the fault, mend it, prove it, write it up, hand in. One fault is hidden; the lists name everything that\ncan be tested. Type help for the commands, sheet for the job sheet.\n",
    );
    text
}

/// One act and what it brought; with it what the coach said, if he was asked.
pub(super) fn step(vehicle: &Vehicle, step: &Step, advice: Option<&str>) -> String {
    let outcome = &step.outcome;
    let mut text = String::new();
    if let Some(refusal) = outcome.refused {
        writeln!(text, "  not possible: {}", words::refusal(words::Texts::english(), vehicle, refusal))
            .expect(NEVER);
    }
    if let Some(advice) = advice {
        writeln!(text, "  coach: {advice}").expect(NEVER);
    }
    for heard in &outcome.heard {
        writeln!(text, "  heard: {}", words::heard(words::Texts::english(), vehicle, heard)).expect(NEVER);
    }
    for seen in &outcome.seen {
        writeln!(text, "  seen: {}", words::seen(words::Texts::english(), vehicle, seen)).expect(NEVER);
    }
    if let Some(reading) = &outcome.reading {
        writeln!(text, "  meter: {}", words::reading(words::Texts::english(), reading)).expect(NEVER);
    }
    if let Some(reading) = &outcome.clamp {
        writeln!(text, "  clamp: {}", words::clamp_reading(words::Texts::english(), reading)).expect(NEVER);
    }
    if let Some(recording) = &outcome.recording {
        writeln!(text, "  recorder: {}", words::recording(words::Texts::english(), recording)).expect(NEVER);
        for line in words::strip(recording).lines() {
            writeln!(text, "  {line}").expect(NEVER);
        }
    }
    for caution in &outcome.cautions {
        let mark = if outcome.breaches.contains(caution) { "CAUTION, gone against" } else { "caution" };
        writeln!(text, "  {mark}: {}", words::caution(words::Texts::english(), *caution)).expect(NEVER);
    }
    if text.is_empty() {
        text.push_str(match step.action {
            Action::Key(_) | Action::Press(_) | Action::Lever | Action::Flex(_) | Action::Switch(..) => {
                "  nothing to see or hear\n"
            }
            _ => "  done\n",
        });
    }
    write!(text, "  [{:.1} min", step.minutes).expect(NEVER);
    if outcome.cost > 0 {
        write!(text, ", parts {}", outcome.cost).expect(NEVER);
    }
    text.push_str("]\n");
    text
}

/// The job sheet: complaint, clock, bill, and what was found.
pub(super) fn sheet(job: &Job) -> String {
    let scenario = job.scenario();
    let mut text = format!("JOB SHEET   {}\n\"{}\"\n", scenario.vehicle.title, scenario.customer);
    writeln!(text, "{:.1} minutes, parts {}", job.minutes(), job.cost()).expect(NEVER);
    for step in job.log() {
        let found = words::findings(words::Texts::english(), &scenario.vehicle, step);
        let title = words::action_title(words::Texts::english(), &scenario.vehicle, &step.action);
        let colon = if found.is_empty() { "" } else { ": " };
        writeln!(text, "{:>6.1}  {title}{colon}{}", step.minutes, found.join("; ")).expect(NEVER);
    }
    if let Some((named, percent)) = job.named() {
        writeln!(
            text,
            "named: {} ({percent} %)",
            words::diagnosis(words::Texts::english(), &scenario.vehicle, named)
        )
        .expect(NEVER);
    }
    for line in words::suspicions(words::Texts::english(), &scenario.vehicle, &job.sheet()) {
        writeln!(text, "{line}").expect(NEVER);
    }
    for (line, said) in job.write_up() {
        writeln!(text, "{}: {said}", words::write_up_title(words::Texts::english(), line)).expect(NEVER);
    }
    text
}
