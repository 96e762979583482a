//! The bookmark: a small file beside a job's record, in which stands what the window alone knows. Where the eye is, which card is
//! open, what is in hand, what has been entered and not yet said, what the coach said last. With it a job that was left is there
//! again as it was left. Nothing of the job hangs on it, and nothing of the fault stands in it.

mod names;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::prelude::*;
use probeworthy::bench::{Action, Rung};
use probeworthy::fault::FaultKind;
use probeworthy::job::Job;
use probeworthy::record;
use probeworthy::vehicle::Vehicle;
use probeworthy::words::{self, Language, Texts};
use serde::{Deserialize, Serialize};

use super::bay::{Bay, Coach, Draft, Hand};
use super::first_job::{self, Guide};
use super::naming::Sort;
use super::replaced;
use super::scenery::Gaze;

/// The version of the format.
const FORMAT: u32 = 1;
/// What a bookmark's name ends in, where the record's ends in `jsonl`.
const ENDING: &str = "ron";
/// A file that is longer than this many bytes is none.
const LONGEST: u64 = 1 << 20;
/// It is written at most as often.
const EVERY: Duration = Duration::from_secs(1);

/// What the window alone knows of a job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bookmark {
    /// Version of the format.
    probeworthy_bookmark: u32,
    /// Which record it belongs to.
    record: String,
    /// Where the eye is: across, down, and how many times nearer than the whole bay.
    eye: (f32, f32, f32),
    /// The card that is open.
    open: Option<String>,
    /// What is in hand, and the point on which its first lead is.
    hand: Option<(String, Option<String>)>,
    entered: Entered,
    coach: Option<Told>,
    /// The step of the first job's note.
    step: Option<usize>,
    diagram: Table,
}

/// What has been entered and not yet said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Entered {
    /// The fault that is being put together.
    sort: Option<Sort>,
    component: Option<String>,
    kind: Option<FaultKind>,
    spot: Option<String>,
    percent: u8,
    estimate: u16,
    /// Complaint, cause, correction.
    write_up: [String; 3],
    swap: (u8, u8),
    cavity: Option<u8>,
    conductor: Option<String>,
    fuse_amps: Option<u8>,
    lid_degrees: u8,
    /// Of a heated screen: a line, and a place on it.
    line: (u8, u8),
    hasty: bool,
}

/// What the coach said, in each language by its tag, and after how many acts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Told {
    acts: usize,
    words: BTreeMap<String, String>,
}

/// How the wiring diagram lies on the table.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    /// It has been on it in this job.
    seen: bool,
    /// Points for each unit; 0 where it has not been fitted.
    zoom: f32,
    corner: (f32, f32),
    in_words: bool,
}

impl Entered {
    fn of(vehicle: &Vehicle, draft: &Draft) -> Self {
        let component = draft
            .sort
            .zip(draft.component)
            .and_then(|(sort, component)| names::name_of(names::components(vehicle, sort), &component));
        let spot = draft
            .component
            .zip(draft.spot)
            .and_then(|(component, spot)| names::name_of(names::spots(vehicle, component), &spot));
        Self {
            sort: draft.sort,
            component,
            kind: draft.kind,
            spot,
            percent: draft.percent,
            estimate: draft.estimate,
            write_up: draft.write_up.clone(),
            swap: draft.swap,
            cavity: draft.cavity,
            conductor: draft.conductor.and_then(|id| names::name_of(names::conductors(vehicle), &id)),
            fuse_amps: draft.fuse_rating,
            lid_degrees: draft.lid,
            line: (draft.line, draft.place),
            hasty: draft.hasty,
        }
    }

    fn draft(&self, vehicle: &Vehicle) -> Draft {
        let component = self
            .sort
            .zip(self.component.as_deref())
            .and_then(|(sort, name)| names::named(names::components(vehicle, sort), name));
        let spot = component
            .zip(self.spot.as_deref())
            .and_then(|(component, name)| names::named(names::spots(vehicle, component), name));
        Draft {
            sort: self.sort,
            component,
            kind: self.kind,
            spot,
            percent: self.percent.min(100),
            estimate: self.estimate.max(1),
            write_up: self.write_up.clone(),
            swap: self.swap,
            cavity: self.cavity,
            conductor: self
                .conductor
                .as_deref()
                .and_then(|name| names::named(names::conductors(vehicle), name)),
            fuse_rating: self.fuse_amps,
            lid: self.lid_degrees,
            line: self.line.0,
            place: self.line.1,
            hasty: self.hasty,
        }
    }
}

impl Told {
    fn of(coach: &Coach, job: &Job) -> Option<Self> {
        match coach {
            Coach::Silent | Coach::Thinking => None,
            Coach::Said(acts, said) => {
                let advice = said.as_ref().as_ref().ok()?;
                let worded = |language| words::advice(Texts::of(language), job.scenario(), advice);
                let words = Language::ALL.map(|language| (language.tag().to_owned(), worded(language)));
                Some(Self { acts: *acts, words: words.into() })
            }
            Coach::Told(acts, words) => Some(Self { acts: *acts, words: words.clone() }),
        }
    }
}

impl Bookmark {
    /// That of a job in the bay.
    fn of(bay: &Bay, job: &Job, record: &str) -> Self {
        let vehicle = &job.scenario().vehicle;
        let (zoom, corner, in_words) = bay.diagram.lie();
        Self {
            probeworthy_bookmark: FORMAT,
            record: record.to_owned(),
            eye: bay.eye.told(),
            open: bay.open.and_then(|open| names::name_of(names::places(vehicle), &open)),
            hand: names::of_hand(vehicle, bay.hand),
            entered: Entered::of(vehicle, &bay.draft),
            coach: Told::of(&bay.coach, job),
            step: match bay.guide {
                Some(Guide::Step(at)) => Some(at),
                _ => None,
            },
            diagram: Table {
                seen: bay.diagram.has_been_looked_at(),
                zoom,
                corner: (corner.x, corner.y),
                in_words,
            },
        }
    }

    fn text(&self) -> Result<String, String> {
        let pretty = ron::ser::PrettyConfig::default();
        ron::ser::to_string_pretty(self, pretty).map_err(|why| why.to_string())
    }

    /// Reads a text that belongs to a record; otherwise tells why it does not.
    fn read(text: &str, record: &str) -> Result<Self, String> {
        let read: Self = ron::from_str(text).map_err(|why| {
            let (line, column) = (why.span.start.line, why.span.start.col);
            format!("{line}:{column}: {}", why.code)
        })?;
        match (read.probeworthy_bookmark, read.record == record) {
            (FORMAT, true) => Ok(read),
            (FORMAT, false) => Err("it belongs to another record".to_owned()),
            (other, _) => Err(format!("format {other} is not one that this program reads")),
        }
    }
}

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
            Err("it is too long".to_owned())
        } else {
            std::fs::read_to_string(file)
                .map_err(|why| why.to_string())
                .and_then(|text| Bookmark::read(&text, identity))
        };
        match read {
            Ok(bookmark) => Some(bookmark),
            Err(why) => {
                // It is written anew as soon as something is done.
                warn!(
                    "{}: the bookmark is left out, and the job goes on by its record: {why}",
                    file.display()
                );
                None
            }
        }
    }

    fn write(&mut self, bookmark: &Bookmark) {
        let text = match bookmark.text() {
            Ok(text) if self.written.as_ref() == Some(&text) => return,
            Ok(text) => text,
            Err(why) => return self.fail(&why),
        };
        match replaced::write(&file(&self.record), &text) {
            Ok(()) => {
                self.written = Some(text);
                self.failed = false;
            }
            Err(why) => self.fail(&why.to_string()),
        }
    }

    fn fail(&mut self, why: &str) {
        if !std::mem::replace(&mut self.failed, true) {
            warn!("{}: the bookmark is not kept: {why}", file(&self.record).display());
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
            Some(job) if job.handed_in().is_some() => keeping.remove(),
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
        let Some(job) = self.job.as_ref().filter(|job| job.handed_in().is_none()) else { return };
        let (scenario, acts) = (std::sync::Arc::clone(job.scenario()), job.log().len());
        let vehicle = &scenario.vehicle;
        self.wanted_eye = Gaze::of_told(found.eye);
        let open = found.open.and_then(|name| names::named(names::places(vehicle), &name));
        self.open = open.filter(|open| self.offers(*open));
        let hand = found.hand.and_then(|(name, first)| names::hand(vehicle, &name, first.as_deref()));
        self.hand = hand.unwrap_or(Hand::Empty);
        self.draft = found.entered.draft(vehicle);
        let told = found.coach.filter(|told| told.acts <= acts && !told.words.is_empty());
        if let Some(told) = told.filter(|_| self.paper.is_none()) {
            self.coach = Coach::Told(told.acts, told.words);
        }
        let first = self.scenario_name.as_deref() == Some(first_job::SCENARIO);
        let step = found.step.filter(|step| first && *step < first_job::STEPS.len());
        self.guide = step.map(Guide::Step);
        let Table { seen, zoom, corner, in_words } = found.diagram;
        self.diagram.lay((zoom, corner.into(), in_words));
        if seen {
            self.diagram.look_at(vehicle);
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
