//! What is on the shelf: a list for the terminal, and the table of `scenarios/README.md`.

use std::fmt::Write;

use super::describe::part_title;
use crate::reasoning::price_minutes;
use crate::say;
use crate::scenario::{Scenario, Trial};
use crate::survey::Survey;
use crate::words::Texts;

/// Writing to a string cannot fail.
const NEVER: &str = "a string takes everything";
/// So many watched parts are named one by one.
const NAMED: usize = 3;

/// What the customer uses when the complaint shows: the circuit that a job begins with.
#[must_use]
pub fn circuits(t: Texts, scenario: &Scenario) -> String {
    let vehicle = &scenario.vehicle;
    let mut all: Vec<String> = Vec::new();
    for trial in &scenario.trials {
        let circuit = match trial {
            Trial::Key(_) | Trial::Press(_) => part_title(t, vehicle, vehicle.latch().0).to_owned(),
            Trial::Switch(_, watch) if watch.len() <= NAMED => {
                watch.iter().map(|&part| part_title(t, vehicle, part)).collect::<Vec<_>>().join(", ")
            }
            Trial::Switch(switch, watch) => {
                say!(t, "circuit-of-many", switch = part_title(t, vehicle, *switch), count = watch.len())
            }
            Trial::Rest { .. } => t.say("circuit-rest").to_owned(),
        };
        if !all.contains(&circuit) {
            all.push(circuit);
        }
    }
    all.join("; ")
}

/// One line of a plain list.
#[must_use]
pub fn shelf_line(scenario: &Scenario) -> String {
    let faults = match scenario.faults.len() {
        1 => "1 fault".to_owned(),
        count => format!("{count} faults"),
    };
    format!("{:<28} {:<8} {faults:>10}  {}", scenario.id, scenario.vehicle.id, scenario.title.written())
}

/// What a survey adds to that line.
#[must_use]
pub fn shelf_figures(survey: &Survey) -> String {
    format!("difficulty {} of 5, {:.0} min", survey.difficulty, work_minutes(survey))
}

/// The plan's minutes of work, without the price of what it fits.
fn work_minutes(survey: &Survey) -> f64 {
    survey.expected_minutes - price_minutes(survey.expected_price)
}

/// The head of the table.
#[must_use]
pub fn shelf_table_head() -> String {
    "| Scenario | Complaint | Vehicle | Circuit | Faults | Difficulty | Minutes |\n|---|---|---|---|---|---|---|\n"
        .to_owned()
}

/// A row of the table: what the scenario says of itself, and what its survey found.
#[must_use]
pub fn shelf_row(survey: &Survey) -> String {
    let mut row = shelf_row_begins(&survey.scenario);
    writeln!(row, " {} | {:.0} |", survey.difficulty, work_minutes(survey)).expect(NEVER);
    row
}

/// How a scenario's row begins, before what only its survey knows.
#[must_use]
pub fn shelf_row_begins(scenario: &Scenario) -> String {
    format!(
        "| `{}` | {} | `{}` | {} | {} |",
        scenario.id,
        scenario.customer.written(),
        scenario.vehicle.id,
        circuits(Texts::english(), scenario),
        scenario.faults.len()
    )
}
