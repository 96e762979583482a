//! Writes a record as its job goes.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::clock::{self, Clock, SystemClock};
use super::closing::Closing;
use super::draw::obscure;
use super::error::RecordError;
use super::keys::Key;
use super::line::{FORMAT, HeadVariation, Header, Line, Step, UnchainedLine, link, signed};
use super::model::model_hash;
use super::shown::Shown;
use crate::bench::Action;
use crate::job::{Entry, Job, Journal, NoJournal};
use crate::marks::{Debrief, Marks};
use crate::paper::{PaperJob, PaperKey, hex, random};
use crate::vehicle::Vehicle;
use crate::words;

/// A journal that also keeps what a job was worth.
pub trait Keeper: Journal {
    /// Whether [`Keeper::close`] has still to be called after the hand-in.
    fn wants_closing(&self) -> bool;

    /// Whether a time limit is up, so that nothing but the hand-in is taken any more.
    fn allows_only_hand_in(&mut self) -> bool;

    /// Whether whoever did the job may see at once what it was worth. Not in a paper: whoever set it says so later.
    fn shows_result(&self) -> bool;

    /// Keeps what a job that has been handed in was worth, and signs the whole. Does nothing where that has been done.
    ///
    /// # Errors
    /// The system's error where it could not be kept.
    fn close(&mut self, job: &Job, marks: &Marks, debrief: &Debrief) -> io::Result<()>;
}

impl Keeper for NoJournal {
    fn wants_closing(&self) -> bool {
        false
    }

    fn allows_only_hand_in(&mut self) -> bool {
        false
    }

    fn shows_result(&self) -> bool {
        true
    }

    fn close(&mut self, _: &Job, _: &Marks, _: &Debrief) -> io::Result<()> {
        Ok(())
    }
}

/// How far a record has got.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Stage {
    /// Steps are written.
    Open,
    /// The closing line stands, with this hash; the seal is missing.
    Closed(String),
    /// All is written.
    Sealed,
}

/// What a record keeps of the paper that its job belongs to. It stands nowhere but in memory.
pub(super) struct OfPaper {
    pub(super) key: PaperKey,
    pub(super) job: PaperJob,
    /// The record's own number.
    pub(super) record: String,
    /// When the time is up.
    pub(super) ends_ms: Option<u64>,
}

impl OfPaper {
    pub(super) fn new(job: &PaperJob, key: &PaperKey, record: &str, begun_ms: u64) -> Self {
        let ends_ms = job.terms.ends_ms(begun_ms);
        Self { key: key.clone(), job: job.clone(), record: record.to_owned(), ends_ms }
    }
}

/// The chain of a record, as far as it has been written.
pub(super) struct Chain {
    /// Hash of the last line.
    pub(super) last: String,
    /// When the last line was written.
    pub(super) at_ms: u64,
    pub(super) stage: Stage,
    pub(super) clock: Box<dyn Clock>,
    pub(super) key: Option<Key>,
    pub(super) paper: Option<OfPaper>,
}

impl Chain {
    /// What time it is; never before the last line.
    fn now(&mut self) -> u64 {
        self.clock.now_ms().max(self.at_ms)
    }
}

/// Writes a record as its job goes.
pub struct Recorder {
    file: File,
    path: PathBuf,
    /// Bytes of whole lines.
    length: u64,
    /// `None` in a record of format 2.
    chain: Option<Chain>,
}

impl std::fmt::Debug for Recorder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Recorder").field("path", &self.path).finish_non_exhaustive()
    }
}

impl Recorder {
    /// Goes on with a file that ends with a whole line.
    pub(super) fn going_on(file: File, path: &Path, length: u64, chain: Option<Chain>) -> Self {
        Self { file, path: path.to_owned(), length, chain }
    }

    /// Where the record is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Signs with this key instead of the user's.
    #[must_use]
    pub fn signing_with(mut self, key: Key) -> Self {
        if let Some(chain) = &mut self.chain {
            chain.key = Some(key);
        }
        self
    }

    /// Goes by this clock instead of the machine's.
    #[must_use]
    pub fn going_by(mut self, clock: Box<dyn Clock>) -> Self {
        if let Some(chain) = &mut self.chain {
            chain.clock = clock;
        }
        self
    }

    /// Writes one whole line, or leaves the file as it was; returns the line's hash.
    fn line(&mut self, value: &impl Serialize) -> io::Result<String> {
        let text = serde_json::to_string(value)?;
        // What an attempt that failed has left must not stand in front of this line.
        if self.file.metadata()?.len() != self.length {
            self.file.set_len(self.length)?;
        }
        self.file.seek(SeekFrom::Start(self.length))?;
        let bytes = [text.as_bytes(), b"\n"].concat();
        if let Err(why) = self.file.write_all(&bytes).and_then(|()| self.file.sync_data()) {
            // If this fails too, the next attempt begins with it.
            let _ = self.file.set_len(self.length);
            return Err(why);
        }
        self.length += bytes.len() as u64;
        Ok(link(&text))
    }

    /// When the last line was written, in milliseconds.
    pub(super) fn last_ms(&self) -> u64 {
        self.chain.as_ref().map_or(0, |chain| chain.at_ms)
    }

    /// Writes the line that `with` makes of an envelope, and takes it into the chain; with a time, or without.
    fn chained(&mut self, at_ms: Option<u64>, with: impl FnOnce(&mut Line)) -> io::Result<String> {
        let Some(chain) = &mut self.chain else { return Ok(String::new()) };
        let now = at_ms.unwrap_or(chain.at_ms);
        let at = at_ms.map(clock::written);
        let mut line = Line { at, previous: chain.last.clone(), ..Line::default() };
        with(&mut line);
        let hash = self.line(&line)?;
        if let Some(chain) = &mut self.chain {
            chain.at_ms = now;
            chain.last.clone_from(&hash);
        }
        Ok(hash)
    }

    /// What time it is, for the next line.
    fn now(&mut self) -> Option<u64> {
        self.chain.as_mut().map(Chain::now)
    }

    fn paper(&self) -> Option<&OfPaper> {
        self.chain.as_ref().and_then(|chain| chain.paper.as_ref())
    }

    fn set(&mut self, stage: Stage) {
        if let Some(chain) = &mut self.chain {
            chain.stage = stage;
        }
    }

    fn stage(&self) -> Option<&Stage> {
        self.chain.as_ref().map(|chain| &chain.stage)
    }
}

impl Journal for Recorder {
    fn append(&mut self, vehicle: &Vehicle, entry: &Entry<'_>) -> io::Result<()> {
        let act = words::text(vehicle, entry.action);
        match self.stage() {
            None => {
                let line = UnchainedLine { step: entry.step, minutes: entry.minutes, action: act };
                self.line(&line).map(|_| ())
            }
            Some(Stage::Open) => {
                let now = self.now();
                let ends = self.paper().and_then(|paper| paper.ends_ms);
                let late = now.zip(ends).is_some_and(|(now, ends)| now > ends);
                if late && !matches!(entry.action, Action::HandIn { .. }) {
                    let what = "the time of this paper is up: all that is left is to hand in, or to refer";
                    return Err(io::Error::new(io::ErrorKind::TimedOut, what));
                }
                let shown = Shown::of(vehicle, entry.outcome);
                let step = Step { number: entry.step, minutes: entry.minutes, act, shown };
                self.chained(now, |line| line.step = Some(step)).map(|_| ())
            }
            // What is tried after the hand-in is refused, and belongs to no record.
            Some(Stage::Closed(_) | Stage::Sealed) => Ok(()),
        }
    }
}

impl Keeper for Recorder {
    fn wants_closing(&self) -> bool {
        matches!(self.stage(), Some(Stage::Open | Stage::Closed(_)))
    }

    fn allows_only_hand_in(&mut self) -> bool {
        let ends = self.paper().and_then(|paper| paper.ends_ms);
        self.now().zip(ends).is_some_and(|(now, ends)| now > ends)
    }

    fn shows_result(&self) -> bool {
        self.paper().is_none()
    }

    fn close(&mut self, job: &Job, marks: &Marks, debrief: &Debrief) -> io::Result<()> {
        if self.stage() == Some(&Stage::Open)
            && let Some(mut closing) = Closing::of(job, marks, debrief)
        {
            if let Some(paper) = self.paper() {
                closing = closing.sealed(&paper.key, &paper.job, &paper.record)?;
            }
            let now = self.now();
            let hash = self.chained(now, |line| line.closing = Some(closing))?;
            self.set(Stage::Closed(hash));
        }
        if let Some(Stage::Closed(hash)) = self.stage().cloned() {
            let kept = self.chain.as_ref().and_then(|chain| chain.key.clone());
            let key = match kept {
                Some(key) => key,
                None => Key::of_user(data_folder().as_deref())?,
            };
            let mut seal = key.seal(&hash);
            seal.stamp = self.paper().map(|paper| paper.key.stamp(&signed(&hash)));
            self.chained(None, |line| line.seal = Some(seal))?;
            self.set(Stage::Sealed);
        }
        Ok(())
    }
}

fn data_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "probeworthy").map(|dirs| dirs.data_dir().to_owned())
}

/// Where records go where nothing else is said: in the user's data folder.
#[must_use]
pub fn default_folder() -> Option<PathBuf> {
    data_folder().map(|folder| folder.join("jobs"))
}

/// Begins the record of a new job, in `file`, or under the next free number in `folder`.
///
/// # Errors
/// [`RecordError::Io`] where it cannot be made. A file that is there already is left as it is.
pub fn start(
    job: &Job,
    scenario_name: &str,
    folder: &Path,
    file: Option<&Path>,
) -> Result<Recorder, RecordError> {
    let (handle, path) = match file {
        Some(path) => (create(path).map_err(|why| fail(path, why))?, path.to_owned()),
        None => {
            std::fs::create_dir_all(folder).map_err(|why| fail(folder, why))?;
            let mut number = numbers(folder).last().map_or(1, |(number, _)| number + 1);
            loop {
                let path = folder.join(format!("job-{number:04}.jsonl"));
                match create(&path) {
                    Ok(handle) => break (handle, path),
                    Err(why) if why.kind() == io::ErrorKind::AlreadyExists => number += 1,
                    Err(why) => return Err(fail(&path, why)),
                }
            }
        }
    };
    let draw = obscure(&job.scenario().written().hash(), job.seed(), job.choice());
    written((handle, &path), job, scenario_name, draw, None).map(|(recorder, _)| recorder)
}

/// Begins the record of a paper's job in a new file; its draw stands in it sealed. Beside it, when it was begun.
///
/// # Errors
/// [`RecordError::Io`] where it cannot be made. A file that is there already is left as it is.
pub(super) fn start_of_paper(
    job: &Job,
    scenario_name: &str,
    path: &Path,
    paper: &PaperJob,
    sealed: &str,
    key: &PaperKey,
) -> Result<(Recorder, u64), RecordError> {
    let handle = create(path).map_err(|why| fail(path, why))?;
    written((handle, path), job, scenario_name, sealed.to_owned(), Some((paper, key)))
}

/// Locks a new file and writes the head.
fn written(
    (handle, path): (File, &Path),
    job: &Job,
    scenario_name: &str,
    draw: String,
    paper: Option<(&PaperJob, &PaperKey)>,
) -> Result<(Recorder, u64), RecordError> {
    lock(&handle, path)?;
    let mut clock = SystemClock::default();
    let at_ms = clock.now_ms();
    let header = Header {
        probeworthy_record: FORMAT,
        record: hex(&random::<16>().map_err(|why| fail(path, why))?),
        scenario: scenario_name.to_owned(),
        draw,
        variation: job.scenario().variation().map(|variation| HeadVariation {
            number: variation.number(),
            scenario_hash: job.scenario().hash(),
        }),
        paper: paper.map(|(paper, _)| paper.clone()),
        scenario_hash: job.scenario().written().hash(),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        model: model_hash(),
        at: clock::written(at_ms),
    };
    let mut recorder = Recorder { file: handle, path: path.to_owned(), length: 0, chain: None };
    let last = recorder.line(&header).map_err(|why| fail(path, why))?;
    let paper = paper.map(|(paper, key)| OfPaper::new(paper, key, &header.record, at_ms));
    recorder.chain =
        Some(Chain { last, at_ms, stage: Stage::Open, clock: Box::new(clock), key: None, paper });
    Ok((recorder, at_ms))
}

fn create(path: &Path) -> io::Result<File> {
    let file = OpenOptions::new().read(true).write(true).create_new(true).open(path)?;
    // The file's name has to outlive a crash as well. Where a folder cannot be opened, nothing more can be done.
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
    Ok(file)
}

fn fail(path: &Path, why: io::Error) -> RecordError {
    RecordError::Io { path: path.to_owned(), why }
}

pub(super) fn lock(file: &File, path: &Path) -> Result<(), RecordError> {
    match file.try_lock() {
        // A file system without locks keeps nobody out; the job is no worse off for it.
        Ok(()) | Err(TryLockError::Error(_)) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(RecordError::InUse(path.to_owned())),
    }
}

/// Whether a folder has no records yet.
#[must_use]
pub fn is_empty(folder: &Path) -> bool {
    numbers(folder).is_empty()
}

/// Records of a folder by their numbers, ascending.
pub(super) fn numbers(folder: &Path) -> Vec<(u32, PathBuf)> {
    let mut found: Vec<(u32, PathBuf)> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter_map(|entry| {
            let name = entry.file_name().into_string().ok()?;
            let number = name.strip_prefix("job-")?.strip_suffix(".jsonl")?.parse().ok()?;
            Some((number, entry.path()))
        })
        .collect();
    found.sort_unstable();
    found
}
