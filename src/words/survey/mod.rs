//! A scenario's survey in words, as a page and for a program.

pub(super) mod html;
mod json;
mod text;

pub use html::html as survey_html;
pub use json::json as survey_json;
pub use text::text as survey_text;

use super::command;
use super::describe::{clamp_reading, fault_title, heard, part_title, reading, refusal_with_names, seen};
use super::strip::recording;
use super::texts::Texts;
use crate::bench::{Action, Outcome};
use crate::reasoning::SuspectKind;
use crate::scenario::{Scenario, Trial};
use crate::survey::{Branch, CannotConfirm, Choice, Separator, Survey};

/// How difficulty is worked out, as it is said to the reader.
const DIFFICULTY_FORMULA: &str = "the whole part of 1 + s/10 + b/2.5 + 2i, at most 5, with s the plan's minutes beyond the needed repair, b the bits to find out, i the share of faults that come and go";

/// Acts as commands, one after another.
pub(super) fn commands(scenario: &Scenario, acts: &[Action]) -> String {
    let lines: Vec<String> = acts.iter().map(|act| command::text(&scenario.vehicle, act)).collect();
    lines.join("; ")
}

fn fault_id(scenario: &Scenario, fault: usize) -> &str {
    &scenario.faults[fault].id
}

fn suspect(scenario: &Scenario, kind: SuspectKind) -> &str {
    match kind {
        SuspectKind::Pool(fault) => fault_id(scenario, fault),
        SuspectKind::Sound => "nothing wrong",
        SuspectKind::Outside => "something else",
    }
}

fn separator(scenario: &Scenario, by: &Separator) -> String {
    match by {
        Separator::Test(acts) => format!("would tell: {}", commands(scenario, acts)),
        Separator::Repair(acts) => {
            format!("only mending one and trying again tells: {}", commands(scenario, acts))
        }
    }
}

fn cannot_confirm(scenario: &Scenario, why: &CannotConfirm) -> String {
    match why {
        CannotConfirm::LooksSound => "no test tells it from a sound vehicle".to_owned(),
        CannotConfirm::Refused(act, why) => {
            let command = command::text(&scenario.vehicle, act);
            format!(
                "\"{command}\" on the way to its repair is not possible: {}",
                refusal_with_names(Texts::english(), &scenario.vehicle, *why)
            )
        }
        CannotConfirm::StillFails(trial) => {
            let title =
                |part| part_title(Texts::english(), &scenario.vehicle, part).trim_start_matches("the ");
            match *trial {
                Trial::Key(_) => "mended, the lid still does not open by the key".to_owned(),
                Trial::Press(part) => format!("mended, the lid still does not open by the {}", title(part)),
                Trial::Switch(part, _) => {
                    format!("mended, what the {} works is still not as it should be", title(part))
                }
                Trial::Rest { .. } => "mended, the vehicle still draws too much while it stands".to_owned(),
            }
        }
    }
}

/// What is done at a branching; nothing where its line ends.
fn choice(scenario: &Scenario, branch: &Branch) -> String {
    match &branch.choice {
        None => "nothing more to do".to_owned(),
        Some(Choice::Test(acts)) => commands(scenario, acts),
        Some(Choice::Mend(acts)) if acts.is_empty() => "try it once more: it may be right again".to_owned(),
        Some(Choice::Mend(acts)) => format!("MEND {}", commands(scenario, acts)),
    }
}

/// The suspects that are left, the likeliest by name.
fn left(scenario: &Scenario, branch: &Branch) -> String {
    const NAMED: usize = 2;
    let named: Vec<&str> = branch.left.iter().take(NAMED).map(|(kind, _)| suspect(scenario, *kind)).collect();
    match branch.left.len().checked_sub(NAMED) {
        None | Some(0) => named.join(", "),
        Some(more) => format!("{} and {more} more", named.join(", ")),
    }
}

/// What leads to each branch that follows: what shows there and not everywhere else.
fn conditions(scenario: &Scenario, branch: &Branch) -> Vec<String> {
    if matches!(branch.choice, Some(Choice::Mend(_))) {
        return branch.outcomes.iter().map(|_| "if that was not it".to_owned()).collect();
    }
    let acts = match &branch.choice {
        Some(Choice::Test(acts)) => acts.as_slice(),
        _ => &[],
    };
    // The same sight after another act is another fact.
    let shown: Vec<Vec<(usize, String)>> = branch
        .outcomes
        .iter()
        .map(|after| {
            let of = |(act, one)| facts(scenario, one).into_iter().map(move |fact| (act, fact));
            after.shown.iter().enumerate().flat_map(of).collect()
        })
        .collect();
    let told = branch.outcomes.iter().filter(|after| !after.shown.is_empty()).count();
    let everywhere = |fact: &(usize, String)| {
        told > 1 && shown.iter().filter(|other| other.contains(fact)).count() == told
    };
    (branch.outcomes.iter().zip(&shown))
        .map(|(after, all)| {
            let count = after.shown.len();
            let mut own: Vec<String> = Vec::new();
            for (act, fact) in all.iter().filter(|fact| !everywhere(fact)) {
                // The last acts are the test; what comes before them leads to it.
                let by = acts.get((acts.len() + act).saturating_sub(count));
                let fact = match by {
                    Some(by) if act + 1 < count => {
                        format!("{}: {fact}", commands(scenario, std::slice::from_ref(by)))
                    }
                    _ => fact.clone(),
                };
                if !own.contains(&fact) {
                    own.push(fact);
                }
            }
            if after.shown.is_empty() {
                "if it shows what these would".to_owned()
            } else if own.is_empty() {
                "if it shows none of that".to_owned()
            } else {
                format!("if {}", own.join("; "))
            }
        })
        .collect()
}

/// What an outcome shows, piece by piece.
pub(super) fn facts(scenario: &Scenario, outcome: &Outcome) -> Vec<String> {
    let vehicle = &scenario.vehicle;
    let t = Texts::english();
    let mut facts: Vec<String> = Vec::new();
    facts.extend(outcome.refused.map(|why| format!("not possible: {}", refusal_with_names(t, vehicle, why))));
    facts.extend(outcome.heard.iter().map(|one| heard(t, vehicle, one)));
    facts.extend(outcome.seen.iter().map(|one| seen(t, vehicle, one)));
    facts.extend(outcome.reading.as_ref().map(|one| format!("the meter shows {}", reading(t, one))));
    facts.extend(outcome.clamp.as_ref().map(|one| format!("the clamp shows {}", clamp_reading(t, one))));
    facts.extend(outcome.recording.as_ref().map(|one| format!("the recorder shows {}", recording(t, one))));
    facts
}

fn title_of(survey: &Survey, fault: usize) -> String {
    fault_title(Texts::english(), &survey.scenario.vehicle, &survey.scenario.faults[fault])
}

/// The figures of a survey, each with what it is.
fn figures(survey: &Survey) -> Vec<(&'static str, String)> {
    let exact = if survey.exact { "the best there is" } else { "the best that was found" };
    let bound = if survey.exact {
        "no way takes less; the plan is exact, so that what is between them is the bound's weakness"
    } else {
        "no way takes less; the bound does not see the way between set-ups and is weak where parts are cheap bets"
    };
    vec![
        ("faults", survey.scenario.faults.len().to_string()),
        ("tests", format!("{}, of which {} tell something and differ", survey.tests, survey.telling_tests)),
        ("to find out", format!("{:.2} bits", survey.bits)),
        ("the repair alone", format!("{:.1} min", survey.repair_minutes)),
        ("plan", format!("{:.1} min, parts {:.0} ({exact})", survey.expected_minutes, survey.expected_price)),
        (
            "lower bound",
            format!(
                "{:.1} min; the plan is {:.0} % above ({bound})",
                survey.lower_bound_minutes,
                survey.gap_percent()
            ),
        ),
        (
            "swapping parts by odds",
            format!("{:.1} min, parts {:.0}", survey.swapper_minutes, survey.swapper_price),
        ),
        ("difficulty", format!("{} of 5 ({DIFFICULTY_FORMULA})", survey.difficulty)),
        ("come and go", format!("{:.0} % of the jobs", 100.0 * survey.intermittent_share)),
    ]
}
