//! A survey as a page that needs nothing from outside.

use std::fmt::Write;

use super::{cannot_confirm, choice, commands, conditions, fault_id, figures, left, separator, title_of};
use crate::bench::UNITS_AN_HOUR;
use crate::survey::{Branch, Survey};
use crate::words::html::{escaped, head};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// Branchings that stand open when the page is opened.
const OPEN: usize = 2;

/// A survey as a page, with the whole tree of the plan.
#[must_use]
pub fn html(survey: &Survey) -> String {
    let scenario = &survey.scenario;
    let title = escaped(scenario.title.written());
    let mut page = head(scenario.title.written());
    write!(page, "\n<h1>{title}</h1><p>{}</p>\n", escaped(scenario.vehicle.title.written())).expect(NEVER);
    figures_table(&mut page, survey);
    fairness(&mut page, survey);
    first_tests(&mut page, survey);
    plan(&mut page, survey, OPEN);
    page.push_str("</body></html>\n");
    page
}

/// The figures of a survey.
pub(in crate::words) fn figures_table(page: &mut String, survey: &Survey) {
    page.push_str("<table>\n");
    for (what, figure) in figures(survey) {
        writeln!(page, "<tr><th>{what}</th><td>{}</td></tr>", escaped(&figure)).expect(NEVER);
    }
    writeln!(
        page,
        "</table>\n<p>Minutes are expected ones to a proven repair, parts counted in at {UNITS_AN_HOUR:.0} an hour.</p>"
    )
    .expect(NEVER);
}

/// What no test tells apart, and what nobody can confirm.
pub(in crate::words) fn fairness(page: &mut String, survey: &Survey) {
    let scenario = &survey.scenario;
    page.push_str(
        "<h2>Faults that no available test tells apart although they need different repairs</h2>\n",
    );
    for group in &survey.groups {
        page.push_str("<ul>");
        for &fault in &group.faults {
            let (id, title) = (escaped(fault_id(scenario, fault)), escaped(&title_of(survey, fault)));
            write!(page, "<li><code>{id}</code> {title}</li>").expect(NEVER);
        }
        writeln!(page, "</ul><p>{}</p>", escaped(&separator(scenario, &group.by))).expect(NEVER);
    }
    none(page, survey.groups.is_empty());
    page.push_str("<h2>Faults that no learner's action can confirm</h2>\n");
    for one in &survey.unconfirmable {
        let why = escaped(&cannot_confirm(scenario, &one.why));
        writeln!(page, "<p><code>{}</code> {why}</p>", escaped(fault_id(scenario, one.fault))).expect(NEVER);
    }
    none(page, survey.unconfirmable.is_empty());
}

/// The tests that tell the most in a minute.
fn first_tests(page: &mut String, survey: &Survey) {
    let scenario = &survey.scenario;
    page.push_str("<h2>Best first tests</h2>\n<table><tr><th>bits/min</th><th>bits</th><th>min</th><th>test</th></tr>\n");
    for test in &survey.first_tests {
        writeln!(
            page,
            "<tr><td class=\"n\">{:.3}</td><td class=\"n\">{:.3}</td><td class=\"n\">{:.1}</td><td><code>{}</code></td></tr>",
            test.worth.rate(),
            test.worth.bits,
            test.worth.minutes,
            escaped(&commands(scenario, &test.acts))
        )
        .expect(NEVER);
    }
    page.push_str("</table>\n");
}

/// The plan as a tree, open down to this depth.
pub(in crate::words) fn plan(page: &mut String, survey: &Survey, open_to: usize) {
    page.push_str("<h2>Plan</h2>\n");
    let cut = survey.plan.cut_share();
    if cut > 0.0 {
        writeln!(
            page,
            "<p>The tree holds {} branchings; in {:.1} % of the jobs something follows beyond them.</p>",
            survey.plan.count(),
            100.0 * cut
        )
        .expect(NEVER);
    }
    branch(page, survey, &survey.plan, "as the vehicle comes in", (0, open_to));
}

fn none(page: &mut String, empty: bool) {
    if empty {
        page.push_str("<p>none</p>\n");
    }
}

fn branch(
    page: &mut String,
    survey: &Survey,
    node: &Branch,
    condition: &str,
    (depth, open_to): (usize, usize),
) {
    let scenario = &survey.scenario;
    let open = if depth < open_to { " open=\"open\"" } else { "" };
    let mends = matches!(node.choice, Some(crate::survey::Choice::Mend(_)));
    let class = if mends { " class=\"mend\"" } else { "" };
    writeln!(
        page,
        "<details{open}><summary>{} <span class=\"share\">{:.1} %: {}; {:.1} min to go</span></summary><p{class}><code>{}</code></p>",
        escaped(condition),
        100.0 * node.probability,
        escaped(&left(scenario, node)),
        node.minutes,
        escaped(&choice(scenario, node))
    )
    .expect(NEVER);
    for (after, condition) in node.outcomes.iter().zip(conditions(scenario, node)) {
        branch(page, survey, after, &condition, (depth + 1, open_to));
    }
    if node.cut {
        page.push_str("<p>more, beyond what was worked out</p>");
    }
    page.push_str("</details>\n");
}
