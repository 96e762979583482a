//! What the desk says to a person.

use std::fmt::Write;

use crate::bench::Action;
use crate::job::{Job, Step};
use crate::say;
use crate::vehicle::Vehicle;
use crate::words::{self, Texts};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

pub(super) fn greeting(t: Texts, job: &Job) -> String {
    let scenario = job.scenario();
    let mut text = format!("{}\n{}\n\n", t.title(&scenario.title), t.title(&scenario.vehicle.title));
    writeln!(text, "{}\n", say!(t, "desk-customer", words = t.title(&scenario.customer))).expect(NEVER);
    if let Some(variation) = scenario.variation() {
        writeln!(text, "{}", say!(t, "desk-variation", variation = variation.to_string())).expect(NEVER);
    }
    if let (steps @ 1.., minutes) = (job.log().len(), job.minutes()) {
        let resumed = say!(t, "desk-resumed", steps = steps, minutes = format!("{minutes:.1}"));
        writeln!(text, "{resumed}").expect(NEVER);
    }
    if job.handed_in().is_some() {
        writeln!(text, "{}", t.say("desk-handed-in")).expect(NEVER);
        return text;
    }
    for limit in words::limits(t, job.scenario()) {
        writeln!(text, "{limit}").expect(NEVER);
    }
    writeln!(text, "{}", t.say("desk-task")).expect(NEVER);
    text
}

/// One act and what it brought; with it what the coach said, if he was asked.
pub(super) fn step(t: Texts, vehicle: &Vehicle, step: &Step, advice: Option<&str>) -> String {
    let outcome = &step.outcome;
    let mut text = String::new();
    let mut put = |line: String| writeln!(text, "  {line}").expect(NEVER);
    if let Some(refusal) = outcome.refused {
        put(say!(t, "desk-refused", why = words::refusal_with_names(t, vehicle, refusal)));
    }
    if let Some(advice) = advice {
        put(say!(t, "desk-coach", advice = advice));
    }
    for heard in &outcome.heard {
        put(say!(t, "desk-heard", what = words::heard(t, vehicle, heard)));
    }
    for seen in &outcome.seen {
        put(say!(t, "desk-seen", what = words::seen(t, vehicle, seen)));
    }
    if let Some(reading) = &outcome.reading {
        put(say!(t, "desk-meter", reading = words::reading(t, reading)));
    }
    if let Some(reading) = &outcome.clamp {
        put(say!(t, "desk-clamp", reading = words::clamp_reading(t, reading)));
    }
    if let Some(recording) = &outcome.recording {
        put(say!(t, "desk-recorder", reading = words::recording(t, recording)));
        words::strip(t, recording).lines().for_each(|line| put(line.to_owned()));
    }
    for caution in &outcome.cautions {
        let id = if outcome.breaches.contains(caution) { "desk-breach" } else { "desk-caution" };
        put(say!(t, id, caution = words::caution(t, *caution)));
    }
    if text.is_empty() {
        let id = match step.action {
            Action::Key(_) | Action::Press(_) | Action::Lever | Action::Flex(_) | Action::Switch(..) => {
                "desk-nothing"
            }
            _ => "desk-done",
        };
        writeln!(text, "  {}", t.say(id)).expect(NEVER);
    }
    let minutes = format!("{:.1}", step.minutes);
    let spent = if outcome.cost > 0 {
        say!(t, "desk-minutes-and-parts", minutes = minutes, cost = outcome.cost)
    } else {
        say!(t, "desk-minutes", minutes = minutes)
    };
    writeln!(text, "  {spent}").expect(NEVER);
    text
}

/// The job sheet: complaint, clock, bill, and what was found.
pub(super) fn sheet(t: Texts, job: &Job) -> String {
    let scenario = job.scenario();
    let vehicle = &scenario.vehicle;
    let clock = say!(t, "desk-clock", minutes = format!("{:.1}", job.minutes()), cost = job.cost());
    let head = say!(t, "desk-sheet", vehicle = t.title(&vehicle.title));
    let mut text =
        format!("{head}\n{}\n{clock}\n", say!(t, "desk-words", words = t.title(&scenario.customer)));
    for step in job.log() {
        let found = words::findings(t, vehicle, step);
        let title = words::capital(&words::action_title(t, vehicle, &step.action));
        let colon = if found.is_empty() { "" } else { ": " };
        writeln!(text, "{:>6.1}  {title}{colon}{}", step.minutes, found.join("; ")).expect(NEVER);
    }
    if let Some((named, percent)) = job.named() {
        let fault = words::diagnosis(t, vehicle, named);
        writeln!(text, "{}", say!(t, "desk-named", fault = fault, percent = percent)).expect(NEVER);
    }
    for line in words::suspicions(t, vehicle, &job.sheet()) {
        writeln!(text, "{line}").expect(NEVER);
    }
    for (line, said) in job.write_up() {
        writeln!(text, "{}: {said}", words::write_up_title(t, line)).expect(NEVER);
    }
    text
}
