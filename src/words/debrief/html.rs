//! The debrief as a page that needs nothing from outside.

use std::fmt::Write;

use super::{curve, done, group, legend, lost, practice, unsigned, verdict, waypoint};
use crate::job::Job;
use crate::marks::{Debrief, Marks};
use crate::words::html::{self, escaped};
use crate::words::{Texts, afterwards, cap, capital, diagnosis, fault_title, part_of_marks, referral, why};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

/// The debrief of a job that has been handed in.
#[must_use]
pub fn html(job: &Job, marks: &Marks, debrief: &Debrief) -> String {
    let scenario = job.scenario();
    let vehicle = &scenario.vehicle;
    let account = &marks.account;
    let t = Texts::english();
    let mut page = html::head(scenario.title.written());
    writeln!(
        page,
        "<h1>{}</h1><p>{}</p>",
        escaped(scenario.title.written()),
        escaped(vehicle.title.written())
    )
    .expect(NEVER);
    if let Some(fault) = job.truth() {
        writeln!(page, "<p>The fault was: <b>{}</b></p>", escaped(&fault_title(t, vehicle, fault)))
            .expect(NEVER);
    }
    if let Some((named, percent)) = job.named() {
        writeln!(page, "<p>Named: {} ({percent} %)</p>", escaped(&diagnosis(t, vehicle, named)))
            .expect(NEVER);
    }
    page.push_str("<h2>Marks</h2>\n<table>\n");
    for line in &marks.lines {
        writeln!(
            page,
            "<tr><th>{}</th><td class=\"n\">{:.1} of {:.1}</td><td>{}</td></tr>",
            part_of_marks(t, line.part),
            line.marks,
            line.out_of,
            escaped(&why(t, line))
        )
        .expect(NEVER);
    }
    for line in referral(t, marks).into_iter().chain(cap(t, marks)) {
        writeln!(page, "<tr><th></th><td></td><td>{}</td></tr>", escaped(&line)).expect(NEVER);
    }
    writeln!(
        page,
        "<tr><th>Total</th><td class=\"n\"><b>{:.1} of 100</b></td><td></td></tr>\n</table>",
        marks.total
    )
    .expect(NEVER);
    for line in afterwards(t, marks) {
        writeln!(page, "<p>{}</p>", escaped(&line)).expect(NEVER);
    }
    writeln!(page, "<p><b>Practise next:</b> {}</p>", escaped(practice(t, debrief.practice))).expect(NEVER);
    writeln!(
        page,
        "<h2>What was still possible</h2>\n<p>In bits: one bit is one question of two equal halves. At the start there were {} possibilities; the best plan expected {:.1} minutes to a proven repair, and no way takes less than {:.1}.</p>",
        account.before.possible, account.planned_minutes, account.lower_bound_minutes
    )
    .expect(NEVER);
    page.push_str(&curve::svg(account, debrief));
    page.push_str("<h2>Step by step</h2>\n");
    for line in legend(t) {
        writeln!(page, "<p>{}</p>", escaped(line)).expect(NEVER);
    }
    page.push_str(
        "<table><tr><th>clock</th><th>told, bits</th><th>expected, bits</th><th>still possible</th><th>minutes lost</th><th>what was done</th></tr>\n",
    );
    for stretch in &account.stretches {
        let lost = lost(t, stretch);
        write!(
            page,
            "<tr><td class=\"n\">{:.1}</td><td class=\"n\">{:.2}</td><td class=\"n\">{:.2}</td><td class=\"n\">{}</td><td class=\"n\">{lost}</td><td>{}",
            stretch.clock_minutes,
            unsigned(stretch.told_bits),
            stretch.expected_bits,
            stretch.after.possible,
            escaped(&capital(&done(t, job, stretch)))
        )
        .expect(NEVER);
        if let Some(verdict) = verdict(t, job, stretch) {
            write!(page, "<br/>{}", escaped(&verdict)).expect(NEVER);
        }
        let count = stretch.after.open.len();
        write!(
            page,
            "<details><summary>{count} {} open</summary><ul>",
            if count == 1 { "group" } else { "groups" }
        )
        .expect(NEVER);
        for open in &stretch.after.open {
            write!(page, "<li>{:.1} % {}</li>", 100.0 * open.probability, escaped(&group(t, job, open)))
                .expect(NEVER);
        }
        page.push_str("</ul></details></td></tr>\n");
    }
    page.push_str(
        "</table>\n<h2>The plan on the same fault</h2>\n<table><tr><th>clock</th><th>bits</th><th>still possible</th><th>what is done</th></tr>\n",
    );
    for point in &debrief.plan {
        writeln!(
            page,
            "<tr><td class=\"n\">{:.1}</td><td class=\"n\">{:.2}</td><td class=\"n\">{}</td><td>{}</td></tr>",
            point.minutes,
            unsigned(point.bits),
            point.possible,
            escaped(&waypoint(t, job, point))
        )
        .expect(NEVER);
    }
    page.push_str("</table>\n</body></html>\n");
    page
}
