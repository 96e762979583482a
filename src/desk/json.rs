//! What the desk says to a program: one JSON object a line.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::{Map, Value, json};

use crate::bench::{ClampReading, Display, Reading, Recording, Renewal};
use crate::circuit::Waveform;
use crate::fault::PlacedFault;
use crate::job::{Job, Step};
use crate::marks::{Marks, calibration};
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
    clamp: Option<ClampValue>,
    recording: Option<RecordingValue>,
    cautions: Vec<&'static str>,
    breaches: Vec<&'static str>,
    refused: Option<String>,
    /// What the coach said; only where he was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    advice: Option<String>,
}

/// Figures are in the unit itself, not in thousandths or thousands; null is over range.
#[derive(Serialize)]
struct ReadingValue {
    text: String,
    /// What stands on the display at rest.
    value: Option<f64>,
    unit: &'static str,
    /// What the display showed meanwhile.
    during: Vec<RenewalValue>,
    /// What capture holds.
    least: Option<HeldValue>,
    greatest: Option<HeldValue>,
    tone: bool,
    /// When the tone began or ended meanwhile, in milliseconds.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tone_changes: Vec<f64>,
}

#[derive(Serialize)]
struct RenewalValue {
    milliseconds: f64,
    value: Option<f64>,
}

#[derive(Serialize)]
struct HeldValue {
    value: Option<f64>,
}

#[derive(Serialize)]
struct ClampValue {
    text: String,
    value: Option<f64>,
    unit: &'static str,
    during: Vec<RenewalValue>,
}

/// Points of milliseconds and volts, or milliseconds and amps.
#[derive(Serialize)]
struct RecordingValue {
    text: String,
    milliseconds: f64,
    volts: Option<Vec<(f64, f64)>>,
    amps: Option<Vec<(f64, f64)>>,
}

fn renewals(during: &[Renewal]) -> Vec<RenewalValue> {
    let value = |renewal: &Renewal| RenewalValue {
        milliseconds: to_a_thousandth(renewal.milliseconds),
        value: renewal.display.value,
    };
    during.iter().map(value).collect()
}

impl From<&Reading> for ReadingValue {
    fn from(reading: &Reading) -> Self {
        let held = |display: Display| HeldValue { value: display.value };
        Self {
            text: words::reading(words::Texts::english(), reading),
            value: reading.now.value,
            unit: reading.now.unit.sign(),
            during: renewals(&reading.during),
            least: reading.held.map(|(least, _)| held(least)),
            greatest: reading.held.map(|(_, greatest)| held(greatest)),
            tone: reading.tone,
            tone_changes: reading.tone_changes.iter().copied().map(to_a_thousandth).collect(),
        }
    }
}

impl From<&ClampReading> for ClampValue {
    fn from(reading: &ClampReading) -> Self {
        Self {
            text: words::clamp_reading(words::Texts::english(), reading),
            value: reading.now.value,
            unit: reading.now.unit.sign(),
            during: renewals(&reading.during),
        }
    }
}

impl From<&Recording> for RecordingValue {
    fn from(recording: &Recording) -> Self {
        let points = |wave: &Waveform| {
            let point =
                |&(seconds, value): &(f64, f64)| (to_a_thousandth(seconds * 1e3), to_a_thousandth(value));
            wave.points().iter().map(point).collect()
        };
        let (begins, ends) = recording.span();
        Self {
            text: words::recording(words::Texts::english(), recording),
            milliseconds: to_a_thousandth((ends - begins) * 1e3),
            volts: recording.volts.as_ref().map(points),
            amps: recording.amps.as_ref().map(points),
        }
    }
}

fn to_a_thousandth(value: f64) -> f64 {
    // Adding zero turns a rounded −0 into 0.
    libm::rint(value * 1e3) / 1e3 + 0.0
}

pub(super) fn step(
    vehicle: &Vehicle,
    number: usize,
    cost: u32,
    step: &Step,
    advice: Option<String>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let outcome = &step.outcome;
    let line = StepLine {
        step: number,
        action: words::text(vehicle, &step.action),
        minutes: tidy(step.minutes),
        cost,
        seen: outcome.seen.iter().map(|seen| words::seen(words::Texts::english(), vehicle, seen)).collect(),
        heard: outcome
            .heard
            .iter()
            .map(|heard| words::heard(words::Texts::english(), vehicle, heard))
            .collect(),
        reading: outcome.reading.as_ref().map(ReadingValue::from),
        clamp: outcome.clamp.as_ref().map(ClampValue::from),
        recording: outcome.recording.as_ref().map(RecordingValue::from),
        cautions: outcome
            .cautions
            .iter()
            .map(|caution| words::caution(words::Texts::english(), *caution))
            .collect(),
        breaches: outcome
            .breaches
            .iter()
            .map(|caution| words::caution(words::Texts::english(), *caution))
            .collect(),
        refused: outcome.refused.map(|why| words::refusal_with_names(words::Texts::english(), vehicle, why)),
        advice,
    };
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}

/// Minutes, or bits, to a hundredth: sums of tenths carry a tail of digits that nobody wants to read.
fn tidy(minutes: f64) -> f64 {
    libm::rint(minutes * 100.0) / 100.0
}

pub(super) fn result(job: &Job, fault: &PlacedFault, marks: &Marks, out: &mut dyn Write) -> io::Result<()> {
    let mut parts: Map<String, Value> = marks
        .lines
        .iter()
        .map(|line| {
            let value = json!({ "marks": line.marks, "out_of": line.out_of, "why": words::why(words::Texts::english(), line) });
            (words::part_key(line.part).to_owned(), value)
        })
        .collect();
    if let Some((off, _)) = marks.capped {
        parts.insert(
            "capped".to_owned(),
            json!({ "marks": -off, "why": words::cap(words::Texts::english(), marks) }),
        );
    }
    parts.insert("total".to_owned(), json!(marks.total));
    let vehicle = &job.scenario().vehicle;
    let steps: Vec<Value> = marks
        .account
        .stretches
        .iter()
        .map(|stretch| {
            json!({
                "first": stretch.acts.start + 1,
                "last": stretch.acts.end,
                "minutes": tidy(stretch.clock_minutes),
                "told_bits": tidy(stretch.told_bits),
                "expected_bits": tidy(stretch.expected_bits),
                "left": stretch.after.possible,
                "bits_left": tidy(stretch.after.bits),
                "lost_minutes": stretch.charge.counts().then(|| tidy(stretch.regret_minutes)),
            })
        })
        .collect();
    let sheet = calibration(&job.sheet(), fault).map(|one| {
        json!({ "brier": one.brier, "surprise_bits": one.surprise_bits, "text": words::calibration(words::Texts::english(), &one) })
    });
    let line = json!({
        "marks": parts,
        "sheet": sheet,
        "fault": { "id": fault.id, "text": words::fault_title(words::Texts::english(), vehicle, fault) },
        "minutes": tidy(job.minutes()),
        "cost": job.cost(),
        "planned_minutes": tidy(marks.account.planned_minutes),
        "lost_minutes": tidy(marks.account.regret_minutes()),
        "steps": steps,
    });
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}
