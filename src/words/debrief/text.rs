//! The debrief for a terminal.

use std::fmt::Write;

use super::{practice, rows, unsigned, waypoint};
use crate::job::Job;
use crate::marks::{Debrief, Marks};
use crate::words::Texts;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// The debrief of a job that has been handed in.
#[must_use]
pub fn text(job: &Job, marks: &Marks, debrief: &Debrief) -> String {
    let t = Texts::english();
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
        "\nYour steps: clock, bits that each told of those it could, what was left in how many groups of the same repair, minutes lost\n",
    );
    writeln!(text, "  clock           told      left   lost").expect(NEVER);
    for row in rows(t, job, marks) {
        writeln!(
            text,
            "{:>7.1} {:>14} {:>9} {:>6}  {}",
            row.clock_minutes, row.told, row.left, row.lost, row.done
        )
        .expect(NEVER);
        for note in row.notes {
            writeln!(text, "{:>41}{note}", "").expect(NEVER);
        }
    }
    text.push_str("\nThe plan on the same fault\n  clock   bits    left\n");
    for point in &debrief.plan {
        let (bits, what) = (unsigned(point.bits), waypoint(t, job, point));
        writeln!(text, "{:>7.1} {bits:>6.2} {:>7}  {what}", point.minutes, point.possible).expect(NEVER);
    }
    writeln!(text, "\nPractise next: {}", practice(t, debrief.practice)).expect(NEVER);
    text
}
