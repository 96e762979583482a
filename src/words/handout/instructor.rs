//! The instructor's sheet: the pool, what the best tests show under each fault, the plan.

use std::fmt::Write;

use super::{NEVER, of_jobs, table, trial_title};
use crate::bench::Action;
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::reasoning::{Remedy, Stand};
use crate::scenario::{Scenario, Trial};
use crate::survey::{Survey, signature};
use crate::words::html::{escaped, head};
use crate::words::survey::html::{fairness, figures_table, plan};
use crate::words::survey::{commands, facts};
use crate::words::{Texts, fault_title};

/// So many of the best first tests are shown under each fault.
const TESTS: usize = 5;

/// The sheet of a scenario for its instructor; `scenario` is its name in commands.
///
/// # Errors
/// [`Unsolved`] where a vehicle has no operating point in one of the tests.
pub fn sheet(survey: &Survey, name: &str) -> Result<String, Unsolved> {
    let scenario = &*survey.scenario;
    let mut page = head(&format!("{}: for the instructor", scenario.title.written()));
    write!(
        page,
        "\n<h1>{}</h1><p>{}. <b>For the instructor: the answers are on this sheet.</b></p>\n<p class=\"quote\">\u{201c}{}\u{201d}</p>\n",
        escaped(scenario.title.written()),
        escaped(scenario.vehicle.title.written()),
        escaped(scenario.customer.written())
    )
    .expect(NEVER);
    writeln!(
        page,
        "<p>Difficulty {} of 5; a good plan expects {:.0} min; par {} min. The complaint shows when {}.</p>\n\
         <p>One hidden fault for all: <code>probeworthy desk {name}{jobs} --seed 7</code>. One of your choice: <code>probeworthy desk {name}{jobs} --fault NAME</code>, with a name of the pool.</p>",
        survey.difficulty,
        survey.expected_minutes,
        scenario.par_minutes,
        escaped(&scenario.trials.iter().map(|trial| trial_title(scenario, trial)).collect::<Vec<_>>().join("; or ")),
        name = escaped(name),
        jobs = of_jobs(scenario).map_or_else(String::new, |begun| format!(" {begun}"))
    )
    .expect(NEVER);
    pool(&mut page, scenario);
    signatures(&mut page, survey)?;
    page.push_str("<section class=\"sheet\"><h2>Figures</h2>\n");
    figures_table(&mut page, survey);
    fairness(&mut page, survey);
    page.push_str("</section>\n<section class=\"sheet\">\n");
    // On paper nothing can be opened.
    plan(&mut page, survey, usize::MAX);
    page.push_str("</section>\n</body></html>\n");
    Ok(page)
}

/// The faults with their odds, and what mends each.
fn pool(page: &mut String, scenario: &Scenario) {
    let vehicle = &scenario.vehicle;
    let whole: u64 = scenario.faults.iter().map(|fault| fault.weight).sum();
    page.push_str("<section><h2>The pool</h2>\n");
    let rows = scenario.faults.iter().map(|fault: &PlacedFault| {
        let remedy = Remedy::of(vehicle, Some(fault), &fault.stands(vehicle));
        vec![
            format!("{:.1} %", 100.0 * fault.weight as f64 / whole as f64),
            fault.weight.to_string(),
            fault.id.clone(),
            fault_title(Texts::english(), vehicle, fault),
            commands(scenario, &remedy.acts_from(vehicle, &Stand::default())),
        ]
    });
    table(page, &["odds", "weight", "name", "what it is", "what mends it"], rows);
    page.push_str("</section>\n");
}

/// What the trials and the best first tests show under each fault and on the sound vehicle.
fn signatures(page: &mut String, survey: &Survey) -> Result<(), Unsolved> {
    let scenario = &*survey.scenario;
    let trials = scenario.trials.iter().map(Trial::acts);
    let mut tests: Vec<Vec<Action>> = trials.collect();
    let best = survey.first_tests.iter().map(|test| &test.acts);
    let others: Vec<Vec<Action>> = best.filter(|acts| !tests.contains(acts)).take(TESTS).cloned().collect();
    tests.extend(others);
    page.push_str("<section class=\"sheet\"><h2>What the best tests show</h2>\n<p>From the vehicle as it comes in; what comes and goes is there.</p>\n<ol>");
    for acts in &tests {
        write!(page, "<li><code>{}</code></li>", escaped(&commands(scenario, acts))).expect(NEVER);
    }
    page.push_str("</ol>\n");
    let names: Vec<String> = (0..tests.len()).map(|at| (at + 1).to_string()).collect();
    let head: Vec<&str> = std::iter::once("fault").chain(names.iter().map(String::as_str)).collect();
    let mut rows = Vec::new();
    let faults = scenario.faults.iter().map(|fault| (fault.id.as_str(), Some(fault)));
    for (name, fault) in std::iter::once(("nothing wrong", None)).chain(faults) {
        let mut row = vec![name.to_owned()];
        for acts in &tests {
            let shown = facts(scenario, &signature(scenario, fault, acts)?);
            row.push(if shown.is_empty() { "nothing".to_owned() } else { shown.join("; ") });
        }
        rows.push(row);
    }
    table(page, &head, rows);
    page.push_str("</section>\n");
    Ok(())
}
