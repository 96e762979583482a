//! What the desk says to a program: one JSON object a line.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::{Map, Value, json};

use crate::bench::Reading;
use crate::fault::PlacedFault;
use crate::job::{Job, Step};
use crate::marks::Marks;
use crate::vehicle::Vehicle;
use crate::words;

#[derive(Serialize)]
struct StepLine {
    step: usize,
    action: String,
    minutes: f64,
    cost: u32,
    seen: Vec<String>,
    heard: Vec<String>,
    reading: Option<ReadingValue>,
    cautions: Vec<&'static str>,
    breaches: Vec<&'static str>,
    refused: Option<String>,
}

#[derive(Serialize)]
struct ReadingValue {
    text: String,
    /// In the unit itself, not in thousandths or thousands; null is over range.
    value: Option<f64>,
    unit: &'static str,
    tone: bool,
}

impl From<&Reading> for ReadingValue {
    fn from(reading: &Reading) -> Self {
        let counts = reading.greatest.or(reading.during).unwrap_or(reading.now);
        Self {
            text: words::reading(reading),
            value: counts.value,
            unit: counts.unit.sign(),
            tone: reading.tone,
        }
    }
}

pub(super) fn step(
    vehicle: &Vehicle,
    number: usize,
    cost: u32,
    step: &Step,
    out: &mut dyn Write,
) -> io::Result<()> {
    let outcome = &step.outcome;
    let line = StepLine {
        step: number,
        action: words::text(vehicle, &step.action),
        minutes: tidy(step.minutes),
        cost,
        seen: outcome.seen.iter().map(|seen| words::seen(vehicle, seen)).collect(),
        heard: outcome.heard.iter().map(|heard| words::heard(vehicle, heard)).collect(),
        reading: outcome.reading.as_ref().map(ReadingValue::from),
        cautions: outcome.cautions.iter().map(|caution| words::caution(*caution)).collect(),
        breaches: outcome.breaches.iter().map(|caution| words::caution(*caution)).collect(),
        refused: outcome.refused.map(|why| words::refusal(vehicle, why)),
    };
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}

/// Minutes to a hundredth: sums of tenths carry a tail of digits that nobody wants to read.
fn tidy(minutes: f64) -> f64 {
    libm::rint(minutes * 100.0) / 100.0
}

pub(super) fn result(job: &Job, fault: &PlacedFault, marks: &Marks, out: &mut dyn Write) -> io::Result<()> {
    let mut parts: Map<String, Value> = marks
        .lines
        .iter()
        .map(|line| {
            let value = json!({ "marks": line.marks, "out_of": line.out_of, "why": words::why(line) });
            (words::part_key(line.part).to_owned(), value)
        })
        .collect();
    if let Some((off, _)) = marks.capped {
        parts.insert("capped".to_owned(), json!({ "marks": -off, "why": words::cap(marks) }));
    }
    parts.insert("total".to_owned(), json!(marks.total));
    let vehicle = &job.scenario().vehicle;
    let line = json!({
        "marks": parts,
        "fault": { "id": fault.id, "text": words::diagnosis(vehicle, fault.diagnosis) },
        "minutes": tidy(job.minutes()),
        "cost": job.cost(),
    });
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}
