//! A candidate sits down to a job of a paper: a new attempt is begun, or the one that was left is gone on with.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::clock::{self, Clock, SystemClock};
use super::error::RecordError;
use super::line::Line;
use super::recorder::{Recorder, start_of_paper};
use super::resume::resume_with;
use crate::job::{Choice, Job};
use crate::paper::{Candidate, Paper, PaperError, PaperJob, PaperKey, PaperScenario};
use crate::scenario::{SHELF, Scenario, load};

/// The machine's clock may be so much behind the record without anybody having set it back, in milliseconds.
const CLOCKS_DIFFER_MS: u64 = 2000;
/// Letters of a candidate's name that stand in the name of a file.
const LETTERS: usize = 24;

/// A job of a paper in progress.
#[derive(Debug)]
pub struct Sitting {
    /// The job.
    pub job: Job,
    /// Its record.
    pub recorder: Recorder,
    /// Whose job of which paper it is.
    pub paper: PaperJob,
    /// It was left before, and is gone on with.
    pub resumed: bool,
    /// When its time is up, as the record writes times.
    pub ends: Option<String>,
}

/// Why a candidate cannot sit down.
#[derive(Debug)]
pub enum SitError {
    /// The paper says no.
    Paper(PaperError),
    /// The record says no.
    Record(RecordError),
    /// The paper has no such job.
    NoSuchJob(usize, usize),
    /// All jobs have been handed in.
    AllHandedIn,
    /// All attempts at this job have been handed in.
    NoAttemptLeft(usize, u8),
    /// The clock has been set back.
    ClockSetBack(PathBuf, String),
    /// The scenario is not the one that the paper was made with.
    OtherScenario(String),
}

impl std::fmt::Display for SitError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Paper(why) => write!(f, "{why}"),
            Self::Record(why) => write!(f, "{why}"),
            Self::NoSuchJob(job, 1) => write!(f, "the paper has no job {job}\nhint: it has one only, job 1"),
            Self::NoSuchJob(job, count) => {
                write!(f, "the paper has no job {job}\nhint: choose one from 1 to {count}")
            }
            Self::AllHandedIn => write!(
                f,
                "all jobs of this paper have been handed in\nhint: give the records to whoever set it; `--job N` begins a further attempt where the paper allows one"
            ),
            Self::NoAttemptLeft(job, attempts) => write!(
                f,
                "no attempt is left at job {job}: {attempts} handed in of {attempts}\nhint: give the records to whoever set the paper"
            ),
            Self::ClockSetBack(path, at) => write!(
                f,
                "{}: the clock of this machine stands before the last line of the record ({at})\nhint: set the clock right",
                path.display()
            ),
            Self::OtherScenario(name) => write!(
                f,
                "the scenario \"{name}\" or its vehicle is not the one that the paper was made with\nhint: use the program and the files with which it was made"
            ),
        }
    }
}

impl std::error::Error for SitError {}

impl From<RecordError> for SitError {
    fn from(why: RecordError) -> Self {
        Self::Record(why)
    }
}

/// The file of an attempt: it can be written on any system, whatever the candidate's name is.
#[must_use]
pub fn attempt_file(folder: &Path, job: &PaperJob) -> PathBuf {
    let PaperJob { terms, candidate, job, attempt } = job;
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { '-' };
    let name: String = candidate.chars().take(LETTERS).map(plain).collect();
    // Two names may look alike without their other letters.
    let apart = blake3::hash(candidate.as_bytes()).to_hex();
    let paper = terms.id();
    folder.join(format!("{}-{name}-{}-job-{job}-attempt-{attempt}.jsonl", &paper[..8], &apart[..8]))
}

/// How a file stands.
enum Standing {
    /// There is none, or nothing in it was ever whole.
    Free,
    /// It was begun and not closed.
    Left,
    /// It was closed and sealed.
    HandedIn,
}

fn standing(path: &Path) -> Result<Standing, RecordError> {
    let bytes = match std::fs::read(path) {
        Ok(bytes) => bytes,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Standing::Free),
        Err(why) => return Err(RecordError::Unreadable { path: path.to_owned(), why }),
    };
    let Some(end) = bytes.iter().rposition(|&byte| byte == b'\n') else {
        std::fs::remove_file(path).map_err(|why| RecordError::Io { path: path.to_owned(), why })?;
        return Ok(Standing::Free);
    };
    let begins = bytes[..end].iter().rposition(|&byte| byte == b'\n').map_or(0, |at| at + 1);
    let last: Option<Line> = serde_json::from_slice(&bytes[begins..end]).ok();
    Ok(if last.is_some_and(|line| line.seal.is_some()) { Standing::HandedIn } else { Standing::Left })
}

/// Sits a candidate down to a job of a paper; without `which`, to the first that has not been handed in.
///
/// # Errors
/// [`SitError`].
pub fn sit(
    (paper, path): (&Paper, &Path),
    key: &PaperKey,
    candidate: &str,
    which: Option<usize>,
    folder: &Path,
) -> Result<Sitting, SitError> {
    let candidate = paper.candidate(candidate).map_err(SitError::Paper)?;
    std::fs::create_dir_all(folder).map_err(|why| RecordError::Io { path: folder.to_owned(), why })?;
    let (job, file, left) = next(paper, candidate, which, folder)?;
    if left { go_on(key, job, &file) } else { begin(path, key, candidate, job, &file) }
}

/// Which job of a paper a candidate would sit down to.
///
/// # Errors
/// [`SitError`].
pub fn next_job(
    paper: &Paper,
    candidate: &Candidate,
    which: Option<usize>,
    folder: &Path,
) -> Result<usize, SitError> {
    next(paper, candidate, which, folder).map(|(job, ..)| job.job)
}

/// What a candidate would sit down to: the job, its file, and whether it was begun and left.
fn next(
    paper: &Paper,
    candidate: &Candidate,
    which: Option<usize>,
    folder: &Path,
) -> Result<(PaperJob, PathBuf, bool), SitError> {
    let count = paper.terms.jobs.len();
    if let Some(job) = which.filter(|job| !(1..=count).contains(job)) {
        return Err(SitError::NoSuchJob(job, count));
    }
    for number in which.map_or(1..=count, |job| job..=job) {
        let mut handed_in = false;
        for attempt in 1..=paper.terms.attempts {
            let job = PaperJob {
                terms: paper.terms.clone(),
                candidate: candidate.name.clone(),
                job: number,
                attempt,
            };
            let file = attempt_file(folder, &job);
            match standing(&file)? {
                // Of its own accord the program begins no second attempt.
                Standing::Free if handed_in && which.is_none() => break,
                Standing::Free => return Ok((job, file, false)),
                Standing::Left => return Ok((job, file, true)),
                Standing::HandedIn => handed_in = true,
            }
        }
        if which.is_some() {
            return Err(SitError::NoAttemptLeft(number, paper.terms.attempts));
        }
    }
    Err(SitError::AllHandedIn)
}

fn begin(
    paper_path: &Path,
    key: &PaperKey,
    candidate: &Candidate,
    job: PaperJob,
    file: &Path,
) -> Result<Sitting, SitError> {
    let (name, scenario) = found(&job.terms.jobs[job.job - 1], paper_path)?;
    let sealed = candidate.draws.get(job.job - 1).and_then(|draws| draws.get(usize::from(job.attempt) - 1));
    let not_theirs = || SitError::Paper(PaperError::Passphrase(paper_path.to_owned()));
    let sealed = sealed.ok_or_else(not_theirs)?;
    let seed = Paper::seed(key, &job, sealed).ok_or_else(not_theirs)?;
    let scenario = job.terms.varied(&scenario, seed);
    let scenario = Arc::new(job.terms.applied_to(scenario));
    let begun = Job::new(scenario, seed, Choice::Drawn).map_err(RecordError::Job)?;
    let (recorder, begun_ms) = start_of_paper(&begun, &name, file, &job, sealed, key)?;
    let ends = job.terms.ends_ms(begun_ms).map(clock::written);
    Ok(Sitting { job: begun, recorder, paper: job, resumed: false, ends })
}

fn go_on(key: &PaperKey, job: PaperJob, file: &Path) -> Result<Sitting, SitError> {
    let (left, recorder, header) = resume_with(file, Some(key))?;
    if header.paper.as_ref() != Some(&job) {
        return Err(SitError::Record(RecordError::Damaged {
            path: file.to_owned(),
            line: 1,
            column: 1,
            what: "this is the record of another job".to_owned(),
        }));
    }
    let (now, last) = (SystemClock::default().now_ms(), recorder.last_ms());
    if now.saturating_add(CLOCKS_DIFFER_MS) < last {
        return Err(SitError::ClockSetBack(file.to_owned(), clock::written(last)));
    }
    let ends = clock::read(&header.at).and_then(|begun| job.terms.ends_ms(begun)).map(clock::written);
    Ok(Sitting { job: left, recorder, paper: job, resumed: true, ends })
}

/// The scenario of a paper's job, as its file has it, without the paper's terms.
///
/// # Errors
/// [`SitError`] where it cannot be loaded, or is not the one that the paper was made with.
pub fn scenario_of_paper(paper: &Paper, path: &Path, job: usize) -> Result<Scenario, SitError> {
    let count = paper.terms.jobs.len();
    let named = job.checked_sub(1).and_then(|at| paper.terms.jobs.get(at));
    let named = named.ok_or(SitError::NoSuchJob(job, count))?;
    found(named, path).map(|(_, scenario)| scenario)
}

/// The scenario of a paper's job, and by which name it was found.
fn found(named: &PaperScenario, paper: &Path) -> Result<(String, Scenario), SitError> {
    let name = scenario_name(&named.scenario, paper.parent());
    let scenario = load(&name).map_err(RecordError::Scenario)?.scenario;
    if scenario.hash() != named.scenario_hash {
        return Err(SitError::OtherScenario(named.scenario.clone()));
    }
    Ok((name, scenario))
}

/// A scenario of a paper: a file is also looked for beside the paper.
fn scenario_name(name: &str, folder: Option<&Path>) -> String {
    if SHELF.iter().any(|shelf| shelf.id == name) {
        return name.to_owned();
    }
    let beside = folder.map(|folder| folder.join(name)).filter(|path| path.is_file());
    let path = beside.or_else(|| Path::new(name).is_file().then(|| PathBuf::from(name)));
    match path.map(std::path::absolute) {
        Some(Ok(path)) => path.to_string_lossy().into_owned(),
        _ => name.to_owned(),
    }
}
