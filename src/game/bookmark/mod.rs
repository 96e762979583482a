//! The bookmark: a small file beside a job's record, in which stands what the window alone knows. Where the eye is, which card is
//! open, what is in hand, what has been entered and not yet said, what the coach said last. With it a job that was left is there
//! again as it was left. Nothing of the job hangs on it, and nothing of the fault stands in it.

mod names;
mod written;

use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::prelude::*;
use probeworthy::bench::{Action, Rung, WriteUpLine};
use probeworthy::record;

use self::written::{Bookmark, Table, Unread};
use super::bay::{Bay, Coach, Hand};
use super::first_job::{self, Guide};
use super::replaced;
use super::scenery::Gaze;

/// What a bookmark's name ends in, where the record's ends in `jsonl`.
const ENDING: &str = "ron";
/// A file that is longer than this many bytes is none.
const LONGEST: u64 = 1 << 20;
/// It is written at most as often.
const EVERY: Duration = Duration::from_secs(1);

/// Where a job is kept, and its bookmark beside it.
#[derive(Clone, Debug)]
pub(super) struct Keeping {
    /// The job's record.
    pub(super) record: PathBuf,
    identity: String,
    /// What was found there, until the job stands.
    found: Option<Bookmark>,
    /// What was written last.
    written: Option<String>,
    /// It could not be written, and that has been said.
    failed: bool,
}

impl Keeping {
    /// Beside this record, with the bookmark that lies there.
    pub(super) fn beside(record: &Path) -> Self {
        let identity = record::identity(record).unwrap_or_default();
        let found = Self::found(&file(record), &identity);
        Self { record: record.to_owned(), identity, found, written: None, failed: false }
    }

    fn found(file: &Path, identity: &str) -> Option<Bookmark> {
        let long = std::fs::metadata(file).ok()?.len();
        let read = if long > LONGEST {
            Err(Unread::TooLong)
        } else {
            std::fs::read_to_string(file)
                .map_err(|why| Unread::NotGiven(why.to_string()))
                .and_then(|text| Bookmark::read(&text, identity))
        };
        match read {
            Ok(bookmark) => Some(bookmark),
            Err(why) => {
                // It is written anew as soon as something is done.
                warn!(
                    "{}: this bookmark is left out, the job goes on by its record: {why:?}",
                    file.display()
                );
                None
            }
        }
    }

    fn write(&mut self, bookmark: &Bookmark) {
        let written = bookmark.text().map_err(|why| why.to_string()).and_then(|text| {
            if self.written.as_ref() == Some(&text) {
                return Ok(text);
            }
            replaced::write_soon(&file(&self.record), &text).map_err(|why| why.to_string()).map(|()| text)
        });
        match written {
            Ok(text) => {
                self.written = Some(text);
                self.failed = false;
            }
            // Said once, and tried again with the next change.
            Err(why) if !self.failed => {
                self.failed = true;
                warn!("{}: the bookmark is not kept: {why}", file(&self.record).display());
            }
            Err(_) => {}
        }
    }

    /// The job has been handed in: there is nothing to come back to.
    fn remove(&self) {
        // Mostly it has gone by now.
        let _ = std::fs::remove_file(file(&self.record));
    }
}

/// The bookmark's file.
fn file(record: &Path) -> PathBuf {
    record.with_extension(ENDING)
}

impl Bay {
    /// Where the job is kept, if it is.
    pub(super) fn record(&self) -> Option<&Path> {
        self.keeping.as_ref().map(|keeping| &*keeping.record)
    }

    /// Writes down what the window alone knows, if it has changed. Before the first act there is nothing to come back to.
    pub(super) fn keep_the_place(&mut self) {
        let Some(mut keeping) = self.keeping.take() else { return };
        match &self.job {
            Some(job) if job.handed_in().is_some() => {
                // Nothing is kept there any more, and nothing looked for.
                keeping.remove();
                return;
            }
            Some(job) if !job.log().is_empty() => {
                keeping.write(&Bookmark::of(self, job, &keeping.identity));
            }
            _ => {}
        }
        self.keeping = Some(keeping);
    }

    /// All is there again as it was left, as far as this bay offers it.
    pub(super) fn find_the_place(&mut self) {
        let Some(found) = self.keeping.as_mut().and_then(|keeping| keeping.found.take()) else { return };
        let Some(job) = self.job.clone().filter(|job| job.handed_in().is_none()) else { return };
        let vehicle = &job.scenario().vehicle;
        self.wanted_eye = Gaze::of_told(found.eye);
        let open = found.open.and_then(|name| names::named(names::places(vehicle), &name));
        self.open = open.filter(|open| self.offers(*open));
        let hand = found.hand.and_then(|(name, first)| names::hand(vehicle, &name, first.as_deref()));
        self.hand = hand.unwrap_or(Hand::Empty);
        let written = std::mem::replace(&mut self.draft, found.entered.draft(vehicle)).write_up;
        // The record may have been gone on with at the desk.
        let since = job.log().get(found.acts..).unwrap_or_default();
        for ((draft, written), line) in self.draft.write_up.iter_mut().zip(written).zip(WriteUpLine::ALL) {
            if since.iter().any(|step| matches!(step.action, Action::Write(of, _) if of == line)) {
                *draft = written;
            }
        }
        let told = found.coach.filter(|told| told.acts <= job.log().len() && !told.words.is_empty());
        if let Some(told) = told.filter(|_| self.paper.is_none()) {
            self.coach = Coach::Told(told.acts, told.words);
        }
        let first = self.scenario_name.as_deref() == Some(first_job::SCENARIO);
        let step = found.step.filter(|step| first && *step < first_job::STEPS.len());
        self.guide = step.map(Guide::Step);
        let Table { seen, zoom, corner, in_words } = found.diagram;
        self.diagram.lay((zoom, corner.into(), in_words));
        if seen {
            self.diagram.look_at(self.texts, vehicle);
        }
    }

    /// What the coach was asked last and has not been heard to say: how far, and after how many acts.
    pub(super) fn unheard(&self) -> Option<(usize, Rung)> {
        let heard = match &self.coach {
            Coach::Thinking => return None,
            Coach::Silent => 0,
            Coach::Said(acts, _) | Coach::Told(acts, _) => *acts,
        };
        let log = self.job.as_ref()?.log();
        let asked = log.iter().enumerate().rev().find_map(|(at, step)| match step.action {
            Action::Coach(rung) if step.outcome.refused.is_none() => Some((at + 1, rung)),
            _ => None,
        });
        asked.filter(|(acts, _)| *acts > heard)
    }
}

/// Keeps the place of the job in the bay: once a second, and when the window is closed.
pub(super) fn keep(
    mut bay: ResMut<Bay>,
    time: Res<Time<Real>>,
    mut exits: MessageReader<AppExit>,
    mut next: Local<Duration>,
) {
    let ends = exits.read().count() > 0;
    if ends || time.elapsed() >= *next {
        *next = time.elapsed() + EVERY;
        bay.keep_the_place();
    }
}
