//! Reads a record step by step without playing it: its chain and its signature are followed, its readings believed.

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use super::closing::Closing;
use super::error::RecordError;
use super::follow::{Break, Follow, header};
use super::line::{Header, Step};
use super::lines::Lines;
use super::recorder::Stage;
use super::time_of;
use crate::paper::PaperKey;

/// A record that was read through.
#[derive(Debug)]
pub struct Scanned {
    /// Its first line.
    pub header: Header,
    /// Its closing, where it was handed in; of a paper's job with the result opened, where the key is at hand.
    pub closing: Option<Closing>,
    /// The first thing that is wrong with its chain, if any.
    pub broken: Option<Break>,
    /// It was closed and signed.
    pub sealed: bool,
    /// When it was begun, and when the last line was written, in milliseconds.
    pub begun_ms: u64,
    /// When its last timed line was written.
    pub ended_ms: u64,
}

/// Reads a record; `each` is given every step with its time. Only one line is in memory at a time.
///
/// # Errors
/// [`RecordError`] where it cannot be read, and what `each` says.
pub fn scan(
    path: &Path,
    key: Option<&PaperKey>,
    each: &mut dyn FnMut(&Header, &Step, &str) -> std::io::Result<()>,
) -> Result<Scanned, RecordError> {
    let unreadable = |why| RecordError::Unreadable { path: path.to_owned(), why };
    let damaged = |Break { line, column, what }: Break| RecordError::Damaged {
        path: path.to_owned(),
        line,
        column,
        what,
    };
    let mut lines = Lines::new(BufReader::new(File::open(path).map_err(unreadable)?));
    let first = match lines.next().map_err(unreadable)? {
        Some((Ok(first), true)) => first,
        _ => return Err(damaged(Break { line: 1, column: 1, what: "the record is empty".to_owned() })),
    };
    let header = header(&first).map_err(damaged)?;
    let mut follow = Follow::new(&header, &first, None, key).not_step_by_step();
    while let Some((text, whole)) = lines.next().map_err(unreadable)? {
        match text {
            Ok(text) if whole => {
                if let Some((step, at)) = follow.line(&text) {
                    each(&header, &step, &at).map_err(unreadable)?;
                }
            }
            Ok(_) => follow.skip(1, "this line is cut off: it was never whole"),
            Err(column) => follow.skip(column, "this is not UTF-8 text"),
        }
    }
    if let (Some(key), Some(paper)) = (key, &header.paper) {
        follow.open_result(key, paper, &header.record);
    }
    Ok(Scanned {
        begun_ms: time_of(&header.at),
        ended_ms: follow.at_ms,
        sealed: follow.stage == Stage::Sealed && follow.signed,
        closing: follow.closing.map(|(closing, _)| closing),
        broken: follow.breaks.into_iter().next(),
        header,
    })
}
