//! Reads a record back, to go on with it or to look at it.

use std::fs::OpenOptions;
use std::io::{self, Read};
use std::path::Path;
use std::sync::Arc;

use super::clock::{self, SystemClock};
use super::draw::reveal;
use super::error::RecordError;
use super::follow::{Break, Follow, header};
use super::line::{FORMAT, Header};
use super::model::model_hash;
use super::recorder::{Chain, OfPaper, Recorder, lock};
use crate::job::{Choice, Job};
use crate::paper::{Paper, PaperKey};
use crate::scenario::{LoadError, Scenario, Variation, load};

/// Lines of a record up to the last whole one, and how many bytes those are.
fn whole(bytes: &[u8], path: &Path) -> Result<(String, u64), RecordError> {
    let whole = bytes.iter().rposition(|&byte| byte == b'\n').map_or(0, |at| at + 1);
    match std::str::from_utf8(&bytes[..whole]) {
        Ok(text) => Ok((text.to_owned(), whole as u64)),
        Err(why) => {
            let before = &bytes[..why.valid_up_to()];
            let begins = before.iter().rposition(|&byte| byte == b'\n').map_or(0, |at| at + 1);
            Err(RecordError::Damaged {
                path: path.to_owned(),
                line: before.iter().filter(|&&byte| byte == b'\n').count() + 1,
                column: String::from_utf8_lossy(&before[begins..]).chars().count() + 1,
                what: "this is not UTF-8 text".to_owned(),
            })
        }
    }
}

fn damaged(path: &Path, broken: Break) -> RecordError {
    let Break { line, column, what } = broken;
    RecordError::Damaged { path: path.to_owned(), line, column, what }
}

/// The scenario of a record; on another machine that of a paper may lie elsewhere.
fn scenario_of(path: &Path, header: &Header) -> Result<Scenario, LoadError> {
    let first = load(&header.scenario);
    let named = header.paper.as_ref().and_then(|paper| paper.terms.jobs.get(paper.job.checked_sub(1)?));
    let Some(named) = named.filter(|_| first.is_err()) else { return first.map(|loaded| loaded.scenario) };
    let beside = path.parent().map(|folder| folder.join(&named.scenario));
    let again = beside.into_iter().find_map(|path| load(&path.to_string_lossy()).ok());
    again.or_else(|| load(&named.scenario).ok()).map_or(first, Ok).map(|loaded| loaded.scenario)
}

/// The job of a head, as it begins; that of a paper needs its key.
pub(super) fn begin(path: &Path, header: &Header, key: Option<&PaperKey>) -> Result<Job, RecordError> {
    if header.probeworthy_record == FORMAT && header.model != model_hash() {
        return Err(RecordError::OtherModel { path: path.to_owned(), program: header.program.clone() });
    }
    let wrong = |what: &str| damaged(path, Break { line: 1, column: 1, what: what.to_owned() });
    if let (Some(paper), None) = (&header.paper, key) {
        let candidate = paper.candidate.clone();
        return Err(RecordError::Sealed { path: path.to_owned(), candidate });
    }
    let mut scenario: Scenario = scenario_of(path, header).map_err(RecordError::Scenario)?;
    let hash = scenario.hash();
    if hash != header.scenario_hash {
        return Err(RecordError::Changed { path: path.to_owned(), scenario: header.scenario.clone() });
    }
    let drawn = match (&header.paper, key) {
        (Some(paper), Some(key)) => {
            let named = paper.job.checked_sub(1).and_then(|at| paper.terms.jobs.get(at));
            if named.is_none_or(|named| named.scenario_hash != hash) {
                return Err(wrong("the paper has another scenario for this job"));
            }
            let seed = Paper::seed(key, paper, &header.draw).ok_or_else(|| {
                wrong("the draw does not open: it was sealed for another paper, candidate, job or attempt, or the passphrase is another")
            })?;
            let number = header.variation.as_ref().map(|varied| varied.number);
            if number != paper.terms.variation(&scenario, seed).map(Variation::number) {
                return Err(wrong("it was played in another variation than the paper's draw gives"));
            }
            Some((seed, Choice::Drawn))
        }
        _ => reveal(&hash, &header.draw),
    };
    let (seed, choice) = drawn.ok_or_else(|| wrong("the draw cannot be read"))?;
    if let Some(varied) = &header.variation {
        let variation =
            Variation::numbered(varied.number).ok_or_else(|| wrong("there is no such variation"))?;
        scenario = scenario.in_variation(variation);
        if scenario.variation().is_none() || scenario.hash() != varied.scenario_hash {
            return Err(RecordError::OtherVariation { path: path.to_owned(), number: varied.number });
        }
    }
    if let Some(paper) = &header.paper {
        scenario = paper.terms.applied_to(scenario);
    }
    Job::new(Arc::new(scenario), seed, choice).map_err(RecordError::Job)
}

/// Follows a whole record; the first thing that is wrong ends it.
fn follow(path: &Path, text: &str, key: Option<&PaperKey>) -> Result<(Follow, Header), RecordError> {
    let mut lines = text.lines();
    let Some(first) = lines.next() else {
        let what = "the record is empty".to_owned();
        return Err(damaged(path, Break { line: 1, column: 1, what }));
    };
    let header = header(first).map_err(|broken| damaged(path, broken))?;
    let job = begin(path, &header, key)?;
    let mut follow = Follow::new(&header, first, Some(job), key);
    for line in lines {
        follow.line(line);
        if !follow.breaks.is_empty() {
            return Err(damaged(path, follow.breaks.swap_remove(0)));
        }
    }
    Ok((follow, header))
}

/// Reads a record, plays its job to where it stands, and goes on writing to it. A last line that was cut off by a crash
/// is dropped: its act had not been shown.
///
/// # Errors
/// [`RecordError`]; the file is then as it was.
pub fn resume(path: &Path) -> Result<(Job, Recorder, Header), RecordError> {
    resume_with(path, None)
}

/// As [`resume`]; a job of a paper needs the paper's key.
pub(super) fn resume_with(
    path: &Path,
    key: Option<&PaperKey>,
) -> Result<(Job, Recorder, Header), RecordError> {
    let io_error = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(io_error)?;
    lock(&file, path)?;
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes).map_err(io_error)?;
    let (text, length) = whole(&bytes, path)?;
    let (follow, header) = follow(path, &text, key)?;
    file.set_len(length).map_err(io_error)?;
    let chain = (header.probeworthy_record == FORMAT).then(|| Chain {
        last: follow.last,
        at_ms: follow.at_ms,
        stage: follow.stage,
        clock: Box::new(SystemClock::default()),
        key: None,
        paper: header.paper.as_ref().zip(key).map(|(paper, key)| {
            OfPaper::new(paper, key, &header.record, clock::read(&header.at).unwrap_or(0))
        }),
    });
    let job = follow.job.ok_or_else(|| io_error(io::Error::other("the job cannot be replayed")))?;
    Ok((job, Recorder::going_on(file, path, length, chain), header))
}

/// Reads a record and plays its job to where it stands; the file is only looked at. A job of a paper needs its key.
///
/// # Errors
/// [`RecordError`].
pub fn replayed(path: &Path, key: Option<&PaperKey>) -> Result<(Job, Header), RecordError> {
    let io_error = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let bytes = std::fs::read(path).map_err(io_error)?;
    let (text, _) = whole(&bytes, path)?;
    let (follow, header) = follow(path, &text, key)?;
    let job = follow.job.ok_or_else(|| io_error(io::Error::other("the job cannot be replayed")))?;
    Ok((job, header))
}
