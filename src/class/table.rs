//! A row a step, as comma-separated values, for a spreadsheet or a data engine.

use std::io::{self, Write};
use std::path::Path;

use crate::record::{Header, Step};

/// The columns, in order; what they mean stands in `README.md` beside this file.
pub const COLUMNS: [&str; 22] = [
    "record",
    "file",
    "paper",
    "candidate",
    "job",
    "attempt",
    "scenario",
    "step",
    "at",
    "minutes",
    "act",
    "refused",
    "heard",
    "seen",
    "meter",
    "meter_value",
    "meter_unit",
    "clamp_value",
    "clamp_unit",
    "cost",
    "cautions",
    "breaches",
];

/// Writes the table.
pub struct Table<'a>(csv::Writer<Box<dyn Write + 'a>>);

impl<'a> Table<'a> {
    /// Begins with the names of the columns.
    ///
    /// # Errors
    /// The system's error.
    pub fn new(out: impl Write + 'a) -> io::Result<Self> {
        let mut writer = csv::Writer::from_writer(Box::new(out) as Box<dyn Write + 'a>);
        writer.write_record(COLUMNS)?;
        Ok(Self(writer))
    }

    /// One step. Several things in one field have ` | ` between them.
    pub(super) fn row(&mut self, path: &Path, header: &Header, step: &Step, at: &str) -> io::Result<()> {
        let shown = &step.shown;
        let number = |value: Option<f64>| value.map_or_else(String::new, |value| value.to_string());
        let of_paper = |text: &dyn Fn(&crate::paper::PaperJob) -> String| {
            header.paper.as_ref().map_or_else(String::new, text)
        };
        let meter = shown.meter.as_ref();
        let clamp = shown.clamp.as_ref();
        let row: [String; COLUMNS.len()] = [
            header.record.clone(),
            path.to_string_lossy().into_owned(),
            of_paper(&|job| job.terms.title.clone()),
            of_paper(&|job| job.candidate.clone()),
            of_paper(&|job| job.job.to_string()),
            of_paper(&|job| job.attempt.to_string()),
            header.scenario.clone(),
            step.number.to_string(),
            at.to_owned(),
            step.minutes.to_string(),
            step.act.clone(),
            shown.refused.clone().unwrap_or_default(),
            shown.heard.join(" | "),
            shown.seen.join(" | "),
            meter.map_or_else(String::new, |figure| figure.text.clone()),
            number(meter.and_then(|figure| figure.value)),
            meter.map_or_else(String::new, |figure| figure.unit.clone()),
            number(clamp.and_then(|figure| figure.value)),
            clamp.map_or_else(String::new, |figure| figure.unit.clone()),
            shown.cost.to_string(),
            shown.cautions.join(" | "),
            shown.breaches.join(" | "),
        ];
        Ok(self.0.write_record(&row)?)
    }

    /// Writes what has not been written yet.
    ///
    /// # Errors
    /// The system's error.
    pub fn end(mut self) -> io::Result<()> {
        self.0.flush()
    }
}
