//! A job on paper: a sheet for learners, and apart from it one for the instructor.

mod instructor;
mod learner;

pub use instructor::sheet as instructor_sheet;
pub use learner::sheet as learner_sheet;

use std::fmt::Write;

use super::html::escaped;
use crate::scenario::{Aspect, Scenario, Trial};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

/// A head and rows as a table; cells are made safe here.
fn table(page: &mut String, head: &[&str], rows: impl IntoIterator<Item = Vec<String>>) {
    page.push_str("<table>\n<thead><tr>");
    for cell in head {
        write!(page, "<th>{}</th>", escaped(cell)).expect(NEVER);
    }
    page.push_str("</tr></thead>\n<tbody>\n");
    for row in rows {
        page.push_str("<tr>");
        for cell in row {
            write!(page, "<td>{}</td>", escaped(&cell)).expect(NEVER);
        }
        page.push_str("</tr>\n");
    }
    page.push_str("</tbody></table>\n");
}

/// How a job is begun for which a sheet of this scenario is true: what comes after its name. `None` where every job is so.
fn of_jobs(scenario: &Scenario) -> Option<String> {
    match scenario.variation() {
        Some(variation) => Some(format!("--variation {variation}")),
        None if Aspect::ALL.iter().all(|aspect| scenario.fixed.contains(aspect)) => None,
        None => Some("--as-written".to_owned()),
    }
}

/// What the customer does when the complaint shows.
fn trial_title(scenario: &Scenario, trial: &Trial) -> String {
    let title = |part| scenario.vehicle.part(part).title.written();
    match trial {
        Trial::Key(_) => "the key's button for the lid is pressed".to_owned(),
        Trial::Press(part) => format!("the {} is pressed", title(*part)),
        Trial::Switch(part, watch) => {
            let watched: Vec<&str> = watch.iter().map(|&part| title(part)).collect();
            format!("the {} is switched on, and looked at: {}", title(*part), watched.join(", "))
        }
        Trial::Rest { minutes, most_milliamps } => {
            format!("it stands shut for {minutes} min, and should draw no more than {most_milliamps} mA")
        }
    }
}
