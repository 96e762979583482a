//! Reads a record back, to go on with it or to look at it.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::clock::SystemClock;
use super::draw::reveal;
use super::error::RecordError;
use super::follow::{Break, Follow, header};
use super::line::{FORMAT, Header, Line, UnchainedLine};
use super::model::model_hash;
use super::recorder::{Chain, Recorder, lock, numbers};
use crate::job::Job;
use crate::scenario::{Scenario, load};

/// The last job of a folder that has been worked on, has not been handed in and is not open elsewhere.
#[must_use]
pub fn last_unfinished(folder: &Path) -> Option<PathBuf> {
    numbers(folder).into_iter().rev().map(|(_, path)| path).find(|path| {
        let Ok(text) = std::fs::read_to_string(path) else { return false };
        let free =
            File::open(path).is_ok_and(|file| !matches!(file.try_lock(), Err(TryLockError::WouldBlock)));
        let mut lines = text.lines();
        let is_record = lines.next().is_some_and(|line| header(line).is_ok());
        let act = |line: &str| match serde_json::from_str::<Line>(line) {
            Ok(line) => line.step.map(|step| step.act),
            Err(_) => serde_json::from_str::<UnchainedLine>(line).ok().map(|line| line.action),
        };
        let acts: Vec<String> = lines.filter_map(act).collect();
        let handed_in = acts.iter().any(|act| act == "hand in" || act == "refer");
        free && is_record && !acts.is_empty() && !handed_in
    })
}

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

/// The job of a head, as it begins.
pub(super) fn begin(path: &Path, header: &Header) -> Result<Job, RecordError> {
    if header.probeworthy_record == FORMAT && header.model != model_hash() {
        return Err(RecordError::OtherModel { path: path.to_owned(), program: header.program.clone() });
    }
    let scenario: Scenario = load(&header.scenario).map_err(RecordError::Scenario)?.scenario;
    let hash = scenario.hash();
    if hash != header.scenario_hash {
        return Err(RecordError::Changed { path: path.to_owned(), scenario: header.scenario.clone() });
    }
    let (seed, choice) = reveal(&hash, &header.draw).ok_or_else(|| {
        damaged(path, Break { line: 1, column: 1, what: "the draw cannot be read".to_owned() })
    })?;
    Job::new(Arc::new(scenario), seed, choice).map_err(RecordError::Job)
}

/// Follows a whole record; the first thing that is wrong ends it.
fn follow(path: &Path, text: &str) -> Result<(Follow, Header), RecordError> {
    let mut lines = text.lines();
    let Some(first) = lines.next() else {
        let what = "the record is empty".to_owned();
        return Err(damaged(path, Break { line: 1, column: 1, what }));
    };
    let header = header(first).map_err(|broken| damaged(path, broken))?;
    let mut follow = Follow::new(&header, first, Some(begin(path, &header)?));
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
    let io_error = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(io_error)?;
    lock(&file, path)?;
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes).map_err(io_error)?;
    let (text, length) = whole(&bytes, path)?;
    let (follow, header) = follow(path, &text)?;
    file.set_len(length).map_err(io_error)?;
    let chain = (header.probeworthy_record == FORMAT).then(|| Chain {
        last: follow.last,
        at_ms: follow.at_ms,
        stage: follow.stage,
        clock: Box::new(SystemClock::default()),
        key: None,
    });
    let job = follow.job.ok_or_else(|| io_error(io::Error::other("the job cannot be replayed")))?;
    Ok((job, Recorder::going_on(file, path, length, chain), header))
}

/// Reads a record and plays its job to where it stands; the file is only looked at.
///
/// # Errors
/// [`RecordError`].
pub fn replayed(path: &Path) -> Result<(Job, Header), RecordError> {
    let io_error = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let bytes = std::fs::read(path).map_err(io_error)?;
    let (text, _) = whole(&bytes, path)?;
    let (follow, header) = follow(path, &text)?;
    let job = follow.job.ok_or_else(|| io_error(io::Error::other("the job cannot be replayed")))?;
    Ok((job, header))
}
