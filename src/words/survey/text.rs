//! A survey as text.

use std::fmt::Write;

use super::{cannot_confirm, choice, commands, conditions, fault_id, figures, left, separator, title_of};
use crate::bench::UNITS_AN_HOUR;
use crate::survey::{Branch, Survey};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// Branchings one below another that the text shows.
const DEEPEST: usize = 5;
/// Branches that fewer jobs than this share come to are not shown.
const LEAST_SHARE: f64 = 0.02;

/// A survey as text; the plan's tree only as far as can be read.
#[must_use]
pub fn text(survey: &Survey) -> String {
    let scenario = &survey.scenario;
    let mut text = format!("{}\n{}\n\n", scenario.title.written(), scenario.vehicle.title.written());
    for (what, figure) in figures(survey) {
        writeln!(text, "{what:<24}{figure}").expect(NEVER);
    }
    writeln!(
        text,
        "\nMinutes are expected ones to a proven repair, parts counted in at {UNITS_AN_HOUR:.0} an hour."
    )
    .expect(NEVER);
    text.push_str("\nFaults that no available test tells apart although they need different repairs\n");
    for group in &survey.groups {
        for &fault in &group.faults {
            writeln!(text, "  {:<48} {}", fault_id(scenario, fault), title_of(survey, fault)).expect(NEVER);
        }
        writeln!(text, "    {}", separator(scenario, &group.by)).expect(NEVER);
    }
    none(&mut text, survey.groups.is_empty());
    text.push_str("\nFaults that no learner's action can confirm\n");
    for one in &survey.unconfirmable {
        let why = cannot_confirm(scenario, &one.why);
        writeln!(text, "  {:<48} {why}", fault_id(scenario, one.fault)).expect(NEVER);
    }
    none(&mut text, survey.unconfirmable.is_empty());
    text.push_str("\nBest first tests\n");
    for test in &survey.first_tests {
        let worth = test.worth;
        let like = match test.stands_for {
            0 | 1 => String::new(),
            2 => " (another tells the same)".to_owned(),
            count => format!(" ({} others tell the same)", count - 1),
        };
        writeln!(
            text,
            "  {:>6.3} bits/min {:>6.3} bits {:>5.1} min  {}{like}",
            worth.rate(),
            worth.bits,
            worth.minutes,
            commands(scenario, &test.acts)
        )
        .expect(NEVER);
    }
    none(&mut text, survey.first_tests.is_empty());
    text.push_str("\nPlan\n");
    branch(&mut text, survey, &survey.plan, 0);
    text
}

fn none(text: &mut String, empty: bool) {
    if empty {
        text.push_str("  none\n");
    }
}

fn branch(text: &mut String, survey: &Survey, node: &Branch, depth: usize) {
    let scenario = &survey.scenario;
    let margin = "    ".repeat(depth);
    writeln!(text, "{margin}  {}", choice(scenario, node)).expect(NEVER);
    let mut rare = 0;
    let mut share = 0.0;
    for (after, condition) in node.outcomes.iter().zip(conditions(scenario, node)) {
        if after.probability < LEAST_SHARE {
            rare += 1;
            share += after.probability;
            continue;
        }
        writeln!(
            text,
            "{margin}  - {condition} [{:.0} %: {}]",
            100.0 * after.probability,
            left(scenario, after)
        )
        .expect(NEVER);
        if depth + 1 < DEEPEST {
            branch(text, survey, after, depth + 1);
        } else {
            writeln!(text, "{margin}      ... some {:.0} min more", after.minutes).expect(NEVER);
        }
    }
    if rare > 0 {
        let ways = if rare == 1 { "another way".to_owned() } else { format!("{rare} other ways") };
        writeln!(text, "{margin}  - {ways}, together {:.1} %", 100.0 * share).expect(NEVER);
    }
    if node.cut {
        writeln!(text, "{margin}  - more, beyond what was worked out").expect(NEVER);
    }
}
