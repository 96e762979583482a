//! A record on its sheet: a job that has been handed in, its marks and its steps. What is in hand stays as it is meanwhile.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use bevy_egui::egui::{self, RichText};
use probeworthy::job::Job;
use probeworthy::marks::{Debrief, Marks};
use probeworthy::record::{Kept, Standing};
use probeworthy::say;

use super::bay::Bay;
use super::scenery::Palette;
use super::sheet;
use super::theme::{SMALL, TITLE};
use super::worker::{Beginning, Reply, Trouble, Worker};

/// A record that is being read.
pub(super) struct Reading {
    record: PathBuf,
    title: String,
    /// Plays it and works out what it was worth.
    worker: Worker,
    job: Option<Arc<Job>>,
    marks: Option<Arc<(Marks, Debrief)>>,
    trouble: Option<Trouble>,
    steps_shown: bool,
    /// The keyboard has been offered the way back.
    greeted: bool,
}

/// What came of it, for tests.
#[cfg(test)]
type Read = Result<(Job, Arc<(Marks, Debrief)>), Trouble>;

impl Reading {
    /// Begins to read a record of the board.
    pub(super) fn of(one: &Kept, title: &str) -> Self {
        let record = one.path.clone();
        let worker = Worker::start(match one.standing {
            // The window was closed before its marks were known: they are kept with it now.
            Standing::Unmarked => Beginning::Resume(record.clone()),
            _ => Beginning::Look(record.clone()),
        });
        let title = title.to_owned();
        Self {
            record,
            title,
            worker,
            job: None,
            marks: None,
            trouble: None,
            steps_shown: false,
            greeted: false,
        }
    }

    /// Takes in what has been found out.
    pub(super) fn catch_up(&mut self) {
        while let Some(reply) = self.worker.reply() {
            match reply {
                Reply::Job(job, marks) => {
                    self.job = Some(job);
                    self.marks = marks;
                }
                Reply::Trouble(why) | Reply::Failed(why) => self.trouble = Some(why),
                Reply::Gone => {
                    if self.marks.is_none() {
                        self.trouble.get_or_insert(Trouble::Ended);
                    }
                    return;
                }
                Reply::Kept(..) | Reply::Closed(_) | Reply::Advice(..) => {}
            }
        }
    }

    /// One that has been read, is being read or cannot be, for tests.
    #[cfg(test)]
    pub(super) fn shown(one: &Kept, title: &str, read: Option<Read>, steps_shown: bool) -> Self {
        let mut reading = Self { steps_shown, ..Self::of(one, title) };
        match read {
            None => {}
            Some(Ok((job, marks))) => (reading.job, reading.marks) = (Some(Arc::new(job)), Some(marks)),
            Some(Err(why)) => reading.trouble = Some(why),
        }
        reading
    }

    /// Why it is not shown.
    #[cfg(test)]
    pub(super) fn trouble(&self) -> Option<&Trouble> {
        self.trouble.as_ref()
    }

    /// What it was worth.
    #[cfg(test)]
    pub(super) fn marks(&self) -> Option<&Marks> {
        self.marks.as_deref().map(|(marks, _)| marks)
    }
}

/// The sheet.
pub(super) fn show(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let Some(reading) = &mut bay.reading else { return };
    let mut back = false;
    let head = |ui: &mut egui::Ui, reading: &mut Reading| {
        ui.label(RichText::new(&reading.title).size(TITLE + 4.0).strong());
        ui.horizontal_wrapped(|ui| {
            if reading.marks.is_some() {
                sheet::turn(ui, t, &mut reading.steps_shown);
            }
            let close = ui.button(t.say("record-back"));
            if !std::mem::replace(&mut reading.greeted, true) {
                close.request_focus();
            }
            back = close.clicked();
        });
    };
    let width = sheet::width(reading.steps_shown);
    sheet::paper(ctx, ("record", width), palette, reading, head, |ui, reading| {
        let file = reading.record.display().to_string();
        ui.add(egui::Label::new(RichText::new(file).size(SMALL)).wrap());
        match (&reading.trouble, &reading.job, reading.marks.as_deref()) {
            (_, Some(job), Some(marks)) => {
                sheet::marked(ui, t, job, marks, reading.steps_shown, palette);
                // The marks are there, and could not be kept.
                if let Some(why) = &reading.trouble {
                    ui.label(why.told(t));
                }
            }
            (Some(why), ..) => {
                let why = in_a_line(&why.told(t), &reading.record);
                ui.add(egui::Label::new(say!(t, "record-cannot", why = why)).wrap());
            }
            _ => _ = ui.label(t.say("record-replayed")),
        }
    });
    if back {
        bay.lay_aside_the_record();
    }
}

/// The first line of what is told of a record, and no more of it than is read at a glance: `probeworthy verify` tells all. The
/// file stands above it.
fn in_a_line(told: &str, record: &Path) -> String {
    const LONGEST: usize = 160;
    let name = record.file_name().unwrap_or_default().to_string_lossy();
    let line = told.lines().next().unwrap_or_default().replacen(&record.display().to_string(), &name, 1);
    match line.char_indices().nth(LONGEST) {
        Some((cut, _)) => format!("{}…", &line[..cut]),
        None => line,
    }
}

impl Bay {
    /// Back from a record to the board.
    pub(super) fn lay_aside_the_record(&mut self) {
        self.reading = None;
        self.shelf.forget_the_past();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_is_told_in_a_line() {
        let record = Path::new("/home/somebody/jobs/job-0001.jsonl");
        let told = "/home/somebody/jobs/job-0001.jsonl:7:1: the chain breaks here\nhint: begin anew";
        assert_eq!(in_a_line(told, record), "job-0001.jsonl:7:1: the chain breaks here");
        let long = in_a_line(&"ä".repeat(500), record);
        assert!(long.chars().count() == 161 && long.ends_with('…'));
    }
}
