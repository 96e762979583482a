//! The debrief for a terminal.

use std::fmt::Write;

use super::{legend, practice, rows, unsigned, waypoint};
use crate::job::Job;
use crate::marks::{Debrief, Marks};
use crate::say;
use crate::words::Texts;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// The debrief of a job that has been handed in.
#[must_use]
pub fn text(t: Texts, job: &Job, marks: &Marks, debrief: &Debrief) -> String {
    let account = &marks.account;
    let (possible, minutes) = (account.before.possible, format!("{:.1}", account.planned_minutes));
    let bits = format!("{:.2}", account.before.bits);
    let start = if account.exact {
        say!(t, "debrief-start", possible = possible, bits = bits, minutes = minutes)
    } else {
        let bound = format!("{:.1}", account.lower_bound_minutes);
        say!(t, "debrief-start-bound", possible = possible, bits = bits, minutes = minutes, bound = bound)
    };
    let mut text = format!("\n{}\n{start}\n\n{}\n", t.say("debrief-head"), t.say("debrief-steps"));
    for line in legend(t) {
        writeln!(text, "  {line}").expect(NEVER);
    }
    writeln!(text, "  {}", t.say("debrief-columns")).expect(NEVER);
    for row in rows(t, job, marks) {
        writeln!(
            text,
            "{:>7.1} {:>8} {:>8} {:>9} {:>6}  {}",
            row.clock_minutes, row.told, row.expected, row.left, row.lost, row.done
        )
        .expect(NEVER);
        for note in row.notes {
            writeln!(text, "{:>44}{note}", "").expect(NEVER);
        }
    }
    writeln!(text, "\n{}\n  {}", t.say("debrief-plan-title"), t.say("debrief-plan-columns")).expect(NEVER);
    for point in &debrief.plan {
        let (bits, what) = (unsigned(point.bits), waypoint(t, job, point));
        writeln!(text, "{:>7.1} {bits:>6.2} {:>7}  {what}", point.minutes, point.possible).expect(NEVER);
    }
    let practise = say!(t, "debrief-practise", what = practice(t, debrief.practice));
    writeln!(text, "\n{practise}").expect(NEVER);
    text
}
