//! A record on its sheet: a job that has been handed in, its marks and its steps. What is in hand stays as it is meanwhile.

use std::path::PathBuf;
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
    sheet::paper(ctx, "record", sheet::width(reading.steps_shown), palette, |ui| {
        ui.label(RichText::new(&reading.title).size(TITLE + 4.0).strong());
        let file = reading.record.display().to_string();
        ui.add(egui::Label::new(RichText::new(file).size(SMALL)).wrap());
        match (&reading.trouble, &reading.job, reading.marks.as_deref()) {
            (_, Some(job), Some(marks)) => {
                sheet::marked(ui, t, job, marks, reading.steps_shown);
                // The marks are there, and could not be kept.
                if let Some(why) = &reading.trouble {
                    ui.label(why.told(t));
                }
            }
            (Some(why), ..) => {
                let told = why.told(t);
                let why = told.lines().next().unwrap_or_default();
                ui.add(egui::Label::new(say!(t, "record-cannot", why = why)).wrap());
            }
            _ => _ = ui.label(t.say("record-replayed")),
        }
        ui.add_space(8.0);
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
    });
    if back {
        bay.lay_aside_the_record();
    }
}

impl Bay {
    /// Back from a record to the board.
    pub(super) fn lay_aside_the_record(&mut self) {
        self.reading = None;
        self.shelf.forget_the_past();
    }
}
