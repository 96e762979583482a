//! The record's file.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::job::{Choice, Entry, Job, JobError, Journal, NoJournal};
use crate::scenario::{LoadError, Scenario, load};
use crate::vehicle::Vehicle;
use crate::words;

/// The version of the format that this program writes and reads. It goes up, too, when the same acts show other readings.
const FORMAT: u32 = 2;

/// The first line of a record.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Header {
    /// Version of the format: 2.
    pub probeworthy_record: u32,
    /// The scenario, as it was named on the command line.
    pub scenario: String,
    /// Hash of the parsed scenario and vehicle.
    pub scenario_hash: String,
    /// Version of the program.
    pub program: String,
    /// The draw, obscured.
    pub draw: String,
}

/// A further line: one act.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct Line {
    step: usize,
    minutes: f64,
    action: String,
}

/// Why a record could not be begun or resumed.
#[derive(Debug)]
pub enum RecordError {
    /// The file could not be made or written.
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// The file could not be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// Another window has this job open.
    InUse(PathBuf),
    /// The file is not a record, or damaged before its end.
    Damaged {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong with it.
        what: String,
    },
    /// The scenario has changed since.
    Changed {
        /// The file.
        path: PathBuf,
        /// The scenario.
        scenario: String,
    },
    /// The scenario cannot be loaded any more.
    Scenario(LoadError),
    /// The job cannot be played.
    Job(JobError),
}

impl std::fmt::Display for RecordError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Io { path, why } if why.kind() == io::ErrorKind::AlreadyExists => {
                write!(f, "{}: this file is there already\nhint: name a new one", path.display())
            }
            Self::Io { path, why } => {
                write!(
                    f,
                    "{}: {why}\nhint: name a file in a folder that can be written (--record FILE), or play with --no-record",
                    path.display()
                )
            }
            Self::Unreadable { path, why } => {
                write!(f, "{}: {why}\nhint: name the file of a job that was kept", path.display())
            }
            Self::InUse(path) => {
                write!(
                    f,
                    "{}: this job is open in another window\nhint: close it there first",
                    path.display()
                )
            }
            Self::Damaged { path, line, what } => write!(
                f,
                "{}:{line}:1: {what}\nhint: a record is changed by no hand; begin the job anew",
                path.display()
            ),
            Self::Changed { path, scenario } => write!(
                f,
                "{}: the scenario \"{scenario}\" or its vehicle has changed since this job began\nhint: begin the job anew",
                path.display()
            ),
            Self::Scenario(error) => write!(f, "{error}"),
            Self::Job(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for RecordError {}

/// Writes a record as its job goes.
#[derive(Debug)]
pub struct Recorder {
    file: File,
    path: PathBuf,
}

impl Recorder {
    /// Where the record is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    fn line(&mut self, value: &impl Serialize) -> io::Result<()> {
        let mut line = serde_json::to_vec(value)?;
        line.push(b'\n');
        let before = self.file.stream_position()?;
        let written = self.file.write_all(&line).and_then(|()| self.file.sync_data());
        if written.is_err() {
            // A line that could not be finished must not stand in front of the next one.
            self.file.set_len(before)?;
            self.file.seek(SeekFrom::Start(before))?;
        }
        written
    }
}

impl Journal for Recorder {
    fn append(&mut self, vehicle: &Vehicle, entry: &Entry<'_>) -> io::Result<()> {
        self.line(&Line {
            step: entry.step,
            minutes: entry.minutes,
            action: words::text(vehicle, entry.action),
        })
    }
}

/// Where records go where nothing else is said: in the user's data folder.
#[must_use]
pub fn default_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "probeworthy").map(|dirs| dirs.data_dir().join("jobs"))
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
    let create = |path: &Path| OpenOptions::new().read(true).write(true).create_new(true).open(path);
    let fail = |path: &Path, why| RecordError::Io { path: path.to_owned(), why };
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
    lock(&handle, &path)?;
    let mut recorder = Recorder { file: handle, path };
    let hash = job.scenario().hash();
    let header = Header {
        probeworthy_record: FORMAT,
        scenario: scenario_name.to_owned(),
        draw: obscure(&hash, job.seed(), job.choice()),
        scenario_hash: hash,
        program: env!("CARGO_PKG_VERSION").to_owned(),
    };
    recorder.line(&header).map_err(|why| fail(&recorder.path, why))?;
    Ok(recorder)
}

fn lock(file: &File, path: &Path) -> Result<(), RecordError> {
    match file.try_lock() {
        // A file system without locks keeps nobody out; the job is no worse off for it.
        Ok(()) | Err(TryLockError::Error(_)) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(RecordError::InUse(path.to_owned())),
    }
}

/// Records of a folder by their numbers, ascending.
fn numbers(folder: &Path) -> Vec<(u32, PathBuf)> {
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

/// The last job of a folder that has been worked on, has not been handed in and is not open elsewhere.
#[must_use]
pub fn last_unfinished(folder: &Path) -> Option<PathBuf> {
    numbers(folder).into_iter().rev().map(|(_, path)| path).find(|path| {
        let Ok(text) = std::fs::read_to_string(path) else { return false };
        let free =
            File::open(path).is_ok_and(|file| !matches!(file.try_lock(), Err(TryLockError::WouldBlock)));
        let mut lines = text.lines();
        let is_record = lines.next().is_some_and(|line| serde_json::from_str::<Header>(line).is_ok());
        let acts: Vec<Line> = lines.filter_map(|line| serde_json::from_str(line).ok()).collect();
        let handed_in = acts.iter().any(|line| line.action == "hand in" || line.action == "refer");
        free && is_record && !acts.is_empty() && !handed_in
    })
}

/// Reads a record, plays its job to where it stands, and goes on writing to it. A last line that was cut off by a crash
/// is dropped: its act had not been shown.
///
/// # Errors
/// [`RecordError`]; the file is then as it was.
pub fn resume(path: &Path) -> Result<(Job, Recorder, Header), RecordError> {
    let io_error = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let damaged = |line: usize, what: String| RecordError::Damaged { path: path.to_owned(), line, what };
    let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(io_error)?;
    lock(&file, path)?;
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes).map_err(io_error)?;
    let whole = bytes.iter().rposition(|&byte| byte == b'\n').map_or(0, |at| at + 1);
    let text =
        std::str::from_utf8(&bytes[..whole]).map_err(|_| damaged(1, "this is not UTF-8 text".to_owned()))?;
    let mut lines = text.lines().enumerate();
    let header: Header = match lines.next() {
        Some((_, line)) => serde_json::from_str(line)
            .map_err(|why| damaged(1, format!("this is not the head of a record: {why}")))?,
        None => return Err(damaged(1, "the record is empty".to_owned())),
    };
    if header.probeworthy_record != FORMAT {
        return Err(damaged(
            1,
            format!("format {} is not one that this program reads", header.probeworthy_record),
        ));
    }
    let scenario: Scenario = load(&header.scenario).map_err(RecordError::Scenario)?.scenario;
    let hash = scenario.hash();
    if hash != header.scenario_hash {
        return Err(RecordError::Changed { path: path.to_owned(), scenario: header.scenario });
    }
    let (seed, choice) =
        reveal(&hash, &header.draw).ok_or_else(|| damaged(1, "the draw cannot be read".to_owned()))?;
    let mut job = Job::new(Arc::new(scenario), seed, choice).map_err(RecordError::Job)?;
    for (at, line) in lines {
        let line: Line = serde_json::from_str(line)
            .map_err(|why| damaged(at + 1, format!("this is not an act: {why}")))?;
        let scenario = Arc::clone(job.scenario());
        let action =
            words::parse(&scenario.vehicle, &line.action).map_err(|why| damaged(at + 1, why.to_string()))?;
        let step = job.apply(action, &mut NoJournal).map_err(RecordError::Job)?;
        if line.step != at || step.minutes.to_bits() != line.minutes.to_bits() {
            return Err(damaged(at + 1, "this act does not follow from those before it".to_owned()));
        }
    }
    file.set_len(whole as u64).map_err(io_error)?;
    file.seek(SeekFrom::End(0)).map_err(io_error)?;
    Ok((job, Recorder { file, path: path.to_owned() }, header))
}

/// Seed and choice, masked by a stream that anybody with this program can make again.
fn obscure(hash: &str, seed: u64, choice: &Choice) -> String {
    let named = match choice {
        Choice::Drawn => "",
        Choice::Named(id) => id,
    };
    let mut bytes = seed.to_le_bytes().to_vec();
    bytes.extend(named.as_bytes());
    mask(hash, &mut bytes);
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn reveal(hash: &str, text: &str) -> Option<(u64, Choice)> {
    if !text.is_ascii() || !text.len().is_multiple_of(2) {
        return None;
    }
    let mut bytes: Vec<u8> = (0..text.len())
        .step_by(2)
        .map(|at| u8::from_str_radix(&text[at..at + 2], 16).ok())
        .collect::<Option<_>>()?;
    mask(hash, &mut bytes);
    let (seed, named) = bytes.split_first_chunk::<8>()?;
    let named = std::str::from_utf8(named).ok()?;
    let choice = if named.is_empty() { Choice::Drawn } else { Choice::Named(named.to_owned()) };
    Some((u64::from_le_bytes(*seed), choice))
}

fn mask(hash: &str, bytes: &mut [u8]) {
    let mut stream = vec![0; bytes.len()];
    blake3::Hasher::new_derive_key("probeworthy record, draw")
        .update(hash.as_bytes())
        .finalize_xof()
        .fill(&mut stream);
    for (byte, mask) in bytes.iter_mut().zip(stream) {
        *byte ^= mask;
    }
}
