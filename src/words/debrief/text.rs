//! The debrief for a terminal.

use std::fmt::Write;

use super::{commands, done, group, practice, verdict};
use crate::job::Job;
use crate::marks::{Debrief, Marks};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// From so few groups on they are named after a step.
const NAMED_GROUPS: usize = 3;

/// The debrief of a job that has been handed in.
#[must_use]
pub fn text(job: &Job, marks: &Marks, debrief: &Debrief) -> String {
    let account = &marks.account;
    let mut text = format!(
        "\nDEBRIEF\nAt the start there were {} possibilities, {:.2} bits; the best plan expected {:.1} minutes to a proven repair{}.\n",
        account.before.possible,
        account.before.bits,
        account.planned_minutes,
        if account.exact {
            String::new()
        } else {
            format!(" (no way takes less than {:.1})", account.lower_bound_minutes)
        }
    );
    text.push_str(
        "\nYour steps: clock, what each told of what it could (bits), what was still possible after it, minutes lost\n",
    );
    text.push_str("  clock   told  could    left  groups   lost\n");
    for stretch in &account.stretches {
        writeln!(
            text,
            "{:>7.1} {:>6.2} {:>6.2} {:>7} {:>7} {:>6}  {}",
            stretch.clock_minutes,
            stretch.told_bits,
            stretch.expected_bits,
            stretch.after.possible,
            stretch.after.open.len(),
            if stretch.charge.counts() {
                format!("{:.1}", stretch.regret_minutes)
            } else {
                "free".to_owned()
            },
            done(job, stretch)
        )
        .expect(NEVER);
        if let Some(verdict) = verdict(job, stretch) {
            writeln!(text, "{:>42}  {verdict}", "").expect(NEVER);
        }
        if (2..=NAMED_GROUPS).contains(&stretch.after.open.len()) && stretch.charge.counts() {
            let left: Vec<String> = stretch
                .after
                .open
                .iter()
                .map(|open| format!("{:.0} % {}", 100.0 * open.probability, group(job, open)))
                .collect();
            writeln!(text, "{:>42}  left: {}", "", left.join(" | ")).expect(NEVER);
        }
    }
    text.push_str("\nThe plan on the same fault\n  clock   bits    left\n");
    for waypoint in &debrief.plan {
        let what = match (waypoint.acts.is_empty(), waypoint.mends) {
            (true, _) => "as the vehicle comes in".to_owned(),
            (false, true) => format!("MEND {}", commands(job, &waypoint.acts)),
            (false, false) => commands(job, &waypoint.acts),
        };
        writeln!(text, "{:>7.1} {:>6.2} {:>7}  {what}", waypoint.minutes, waypoint.bits, waypoint.possible)
            .expect(NEVER);
    }
    writeln!(text, "\nPractise next: {}", practice(debrief.practice)).expect(NEVER);
    text
}
