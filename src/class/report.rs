//! The page of a class.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::gather::{Class, Curves, Done, Passed};
use super::outliers::{Odd, oddities};
use super::statistics::{Estimate, alpha, estimated_mean, items};
use crate::marks::Part;
use crate::practice::Skill;
use crate::record::written_time;
use crate::words::html::{escaped, head};
use crate::words::{Texts, part_of_marks, skill};

/// Tests that were passed by, of each job.
const PASSED_BY: usize = 8;
/// A record's drawing, in its own units.
const WIDTH: f64 = 240.0;
const HEIGHT: f64 = 120.0;

fn told(estimate: Estimate) -> String {
    match estimate.error {
        Some(error) => format!("{:.2} ± {error:.2}", estimate.value),
        None => format!("{:.2}", estimate.value),
    }
}

/// Writes the page of a class.
///
/// # Errors
/// The system's error where it cannot be written.
pub fn report(class: &Class, title: &str, out: &mut dyn Write) -> io::Result<()> {
    let persons: std::collections::BTreeSet<&str> =
        class.done.iter().map(|done| done.candidate.as_str()).collect();
    writeln!(out, "{}\n<h1>{}</h1>", head(title), escaped(title))?;
    writeln!(
        out,
        "<p>{} records of {} learners, {} jobs. Marks are those that the records hold: <code>probeworthy verify</code> works them out anew. After ± stands a standard error.</p>",
        class.done.len(),
        persons.len(),
        class.items.len()
    )?;
    marks(class, out)?;
    reliability(class, out)?;
    by_skill(class, out)?;
    over_time(class, out)?;
    never_thought_of(class, out)?;
    odd(class, out)?;
    curves(class, out)?;
    if !class.left_out.is_empty() {
        writeln!(out, "<h2>Files that do not count</h2>\n<table><tr><th>file</th><th>why</th></tr>")?;
        for one in &class.left_out {
            let path = one.path.to_string_lossy();
            writeln!(out, "<tr><td>{}</td><td>{}</td></tr>", escaped(&path), escaped(&one.why))?;
        }
        writeln!(out, "</table>")?;
    }
    writeln!(out, "</body></html>")
}

fn parts_head() -> String {
    Part::ALL.map(|part| format!("<th>{}</th>", part_of_marks(Texts::english(), part))).concat()
}

fn name(class: &Class, done: &Done) -> String {
    let item = class.items.get(done.item).map_or("", String::as_str);
    format!("{}, {}", escaped(&done.candidate), escaped(item))
}

fn marks(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "<h2>Marks</h2>\n<table><thead><tr><th>learner</th><th>job</th><th>attempt</th><th>real minutes</th><th>minutes</th><th>lost</th>{}<th>total</th></tr></thead>",
        parts_head()
    )?;
    for done in &class.done {
        let parts: String =
            done.marks.iter().map(|(marks, _)| format!("<td class=\"n\">{marks:.1}</td>")).collect();
        writeln!(
            out,
            "<tr><td>{}</td><td>{}</td><td class=\"n\">{}</td><td class=\"n\">{:.1}</td><td class=\"n\">{:.1}</td><td class=\"n\">{:.1}</td>{parts}<td class=\"n\"><b>{:.1}</b>{}</td></tr>",
            escaped(&done.candidate),
            escaped(class.items.get(done.item).map_or("", String::as_str)),
            done.attempt,
            done.real_ms as f64 / 60_000.0,
            done.minutes,
            done.lost_minutes,
            done.total,
            if done.referred { " (referred)" } else { "" }
        )?;
    }
    writeln!(out, "</table>")
}

/// Items, and what the whole is worth as a measure.
fn scale(title: &str, names: &[&str], table: &[Vec<f64>], out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "<h3>{title}</h3>\n<table><tr><th>item</th><th>difficulty: mean share earned</th><th>discrimination: correlation with the rest</th></tr>"
    )?;
    for (name, item) in names.iter().zip(items(table)) {
        let discrimination = item.discrimination.map_or_else(|| "never varies".to_owned(), told);
        writeln!(
            out,
            "<tr><td>{}</td><td class=\"n\">{}</td><td class=\"n\">{discrimination}</td></tr>",
            escaped(name),
            told(item.difficulty)
        )?;
    }
    let alpha = alpha(table).map_or_else(|| "cannot be told from so few".to_owned(), told);
    writeln!(out, "</table>\n<p>Cronbach's alpha over {} rows: <b>{alpha}</b></p>", table.len())
}

fn reliability(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "<h2>How reliable this is</h2>")?;
    let by_parts = class.records_by_parts();
    if class.items.len() > 1 {
        let names: Vec<&str> = class.items.iter().map(String::as_str).collect();
        let title = "Jobs as items: first attempts of those who did all of them";
        scale(title, &names, &class.persons_by_jobs(), out)?;
    }
    scale(
        "Parts of the marks as items, over all records",
        &Part::ALL.map(|part| part_of_marks(Texts::english(), part)),
        &by_parts,
        out,
    )
}

/// By day on which they were begun, the records.
fn days(class: &Class) -> BTreeMap<String, Vec<&Done>> {
    let mut days: BTreeMap<String, Vec<&Done>> = BTreeMap::new();
    for done in &class.done {
        days.entry(written_time(done.begun_ms)[..10].to_owned()).or_default().push(done);
    }
    days
}

/// A field with the mean of some shares; empty where there is none.
fn mean_field(shares: &[f64]) -> String {
    let told = if shares.is_empty() { String::new() } else { told(estimated_mean(shares)) };
    format!("<td class=\"n\">{told}</td>")
}

/// Shares earned by skill, day by day and in all.
fn by_skill(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    let heads = Skill::ALL.map(|one| format!("<th>{}</th>", skill(Texts::english(), one))).concat();
    writeln!(
        out,
        "<h2>By skill, over time</h2>\n<p>Mean share of the marks for finding the fault, of those jobs that took the skill; of every job those for proof and safety.</p>\n<table><tr><th>day</th><th>records</th>{heads}</tr>"
    )?;
    let days = days(class);
    let all: Vec<&Done> = class.done.iter().collect();
    let rows = days.iter().map(|(day, done)| (day.as_str(), done)).chain([("all", &all)]);
    for (day, done) in rows {
        let fields = Skill::ALL.map(|one| {
            let shares: Vec<f64> = done.iter().filter_map(|done| Class::shown(done, one)).collect();
            mean_field(&shares)
        });
        writeln!(out, "<tr><td>{day}</td><td class=\"n\">{}</td>{}</tr>", done.len(), fields.concat())?;
    }
    writeln!(out, "</table>")?;
    let unread = class.done.iter().filter(|done| done.skill.is_none()).count();
    if unread > 0 {
        writeln!(
            out,
            "<p>Of {unread} records the scenario could not be read: their skill is not known.</p>"
        )?;
    }
    Ok(())
}

/// Shares earned by part, day by day.
fn over_time(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "<h2>By part of the marks, over time</h2>\n<p>Mean share of each part that was earned.</p>\n<table><tr><th>day</th><th>records</th>{}<th>total</th></tr>",
        parts_head()
    )?;
    for (day, done) in &days(class) {
        let mean = |share: &dyn Fn(&Done) -> f64| {
            mean_field(&done.iter().map(|done| share(done)).collect::<Vec<_>>())
        };
        let parts: String = (0..Part::ALL.len()).map(|part| mean(&|done| done.share(part))).collect();
        let total = mean(&|done| done.total / 100.0);
        writeln!(out, "<tr><td>{day}</td><td class=\"n\">{}</td>{parts}{total}</tr>", done.len())?;
    }
    writeln!(out, "</table>")
}

fn never_thought_of(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "<h2>Tests that the class does not think of</h2>\n<p>What would have been better where most was lost, and how often it was passed by.</p>\n<table><tr><th>job</th><th>passed by</th><th>better</th><th>did anybody?</th></tr>"
    )?;
    for (item, name) in class.items.iter().enumerate() {
        let mut of_item: Vec<(&String, &Passed)> = class
            .passed_by
            .range((item, String::new())..(item + 1, String::new()))
            .map(|((_, commands), passed)| (commands, passed))
            .collect();
        of_item.sort_by(|a, b| b.1.times.cmp(&a.1.times).then(a.0.cmp(b.0)));
        for (commands, passed) in of_item.into_iter().take(PASSED_BY) {
            let last = commands.rsplit("; ").next().unwrap_or(commands);
            let anybody = if class.anybody_did(item, last) { "its last act, yes" } else { "nobody" };
            let better = match &passed.words {
                Some(words) => escaped(words),
                None => format!("<code>{}</code>", escaped(commands)),
            };
            writeln!(
                out,
                "<tr><td>{}</td><td class=\"n\">{}</td><td>{better}</td><td>{anybody}</td></tr>",
                escaped(name),
                passed.times
            )?;
        }
    }
    writeln!(out, "</table>")
}

fn odd(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    let found = oddities(class);
    writeln!(
        out,
        "<h2>Worth a talk</h2>\n<p>None of this proves anything: whoever follows the same plan on the same fault does the same.</p>"
    )?;
    if found.is_empty() {
        return writeln!(out, "<p>Nothing stands out.</p>");
    }
    writeln!(out, "<ul>")?;
    for one in found {
        let this = name(class, &class.done[one.of]);
        let what = match one.odd {
            Odd::Fast(pace, median) => {
                format!("{pace:.1} s a step; half of the class took more than {median:.1} s")
            }
            Odd::SameWay(other) => {
                format!("the same acts in the same order as {}", name(class, &class.done[other]))
            }
            Odd::NearlySameWay(other) => {
                format!("nearly the same acts as {}", name(class, &class.done[other]))
            }
        };
        writeln!(out, "<li>{this}: {what}</li>")?;
    }
    writeln!(out, "</ul>")
}

fn curves(class: &Class, out: &mut dyn Write) -> io::Result<()> {
    if class.curves.is_empty() {
        return Ok(());
    }
    writeln!(
        out,
        "<h2>What was still open</h2>\n<p>In bits over minutes: the learner's curve whole, the plan's on the same fault dashed. The first {} of {} records.</p>",
        class.curves.len(),
        class.done.len()
    )?;
    for curves in &class.curves {
        let done = &class.done[curves.of];
        writeln!(
            out,
            "<figure style=\"display:inline-block;margin:.4rem\">{}<figcaption>{} ({:.1})</figcaption></figure>",
            drawing(curves),
            name(class, done),
            done.total
        )?;
    }
    Ok(())
}

fn drawing(curves: &Curves) -> String {
    let all = || curves.own.iter().chain(&curves.plan);
    let most_minutes = all().map(|point| point.0).fold(1.0, f64::max);
    let most_bits = all().map(|point| point.1).fold(0.5, f64::max);
    let path = |points: &[(f64, f64)]| -> String {
        let mut path = String::new();
        for (at, &(minutes, bits)) in points.iter().enumerate() {
            let (x, y) = (
                4.0 + (WIDTH - 8.0) * minutes / most_minutes,
                16.0 + (HEIGHT - 32.0) * (1.0 - bits / most_bits),
            );
            path.push_str(&if at == 0 { format!("M{x:.1} {y:.1}") } else { format!("H{x:.1}V{y:.1}") });
        }
        path
    };
    format!(
        "<svg width=\"{WIDTH}\" height=\"{HEIGHT}\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-label=\"bits that were open over minutes\" font-family=\"sans-serif\" font-size=\"10\"><path d=\"M4 16V{0}H{1}\" fill=\"none\" stroke=\"#8b95a3\"/><path d=\"{2}\" fill=\"none\" stroke=\"#1d5c8a\" stroke-width=\"2\" stroke-dasharray=\"6 4\"/><path d=\"{3}\" fill=\"none\" stroke=\"#8a3b12\" stroke-width=\"2\"/><text x=\"4\" y=\"11\">{most_bits:.1} bits</text><text x=\"{1}\" y=\"{4}\" text-anchor=\"end\">{most_minutes:.0} min</text></svg>",
        HEIGHT - 16.0,
        WIDTH - 4.0,
        path(&curves.plan),
        path(&curves.own),
        HEIGHT - 4.0
    )
}
