//! What a folder of records holds, told shortly: which jobs were left, and which have been handed in. Nothing is verified here.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::time::{Duration, UNIX_EPOCH};

use super::clock;
use super::follow::header;
use super::glance::is_in_use;
use super::line::{Header, Line, UnchainedLine, link};
use super::recorder::numbers;

/// A record as a list has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The file.
    pub path: PathBuf,
    /// The scenario, as it was named; empty where that cannot be read.
    pub scenario: String,
    /// When something was last written in it, in milliseconds since 1970 began, UTC.
    pub at_ms: u64,
    /// Minutes on the job's clock.
    pub minutes: f64,
    /// How it stands.
    pub standing: Standing,
}

/// How a record stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// Something has been done, and it has not been handed in.
    Left,
    /// The same, and it is open just now.
    InUse,
    /// Handed in; what it was worth has still to be worked out.
    Unmarked,
    /// Handed in, and worth so much of 100.
    Marked(f64),
    /// It is no record, for this reason.
    Unreadable(String),
}

/// The records of a folder, the one that was written in last first. Jobs in which nothing has been done are left out, and so
/// are those of papers: what they were worth is told by whoever set the paper.
#[must_use]
pub fn kept(folder: &Path) -> Vec<Kept> {
    let mut all: Vec<Kept> = numbers(folder).into_iter().filter_map(|(_, path)| look(path)).collect();
    all.reverse();
    all.sort_by_key(|one| u64::MAX - one.at_ms);
    all
}

/// The last job of a folder that has been worked on, has not been handed in and is not open elsewhere.
#[must_use]
pub fn last_unfinished(folder: &Path) -> Option<PathBuf> {
    let left = |path| look(path).filter(|one| one.standing == Standing::Left).map(|one| one.path);
    numbers(folder).into_iter().rev().find_map(|(_, path)| left(path))
}

/// The folder, beside records, of those that no list is to show.
const PUT_AWAY: &str = "put-away";

/// Takes a record that was left out of all lists: moves it, with what lies beside it under its name, into the folder `put-away`.
/// Moved back, it is as before. Nothing there is written over.
///
/// # Errors
///
/// What the system says where the folder cannot be made or the record cannot be moved; then it stays where it is.
pub fn put_away(record: &Path) -> std::io::Result<PathBuf> {
    let folder = record.parent().unwrap_or(Path::new("."));
    let stem = record.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let away = folder.join(PUT_AWAY);
    std::fs::create_dir_all(&away)?;
    // Its number may have been given again since another record was moved there.
    let names = std::iter::once(stem.clone()).chain((2_u32..).map(|again| format!("{stem}-{again}")));
    let to = names.map(|name| away.join(name).with_extension("jsonl")).find(|to| !to.exists());
    let to = to.ok_or(std::io::ErrorKind::AlreadyExists)?;
    std::fs::rename(record, &to)?;
    for beside in std::fs::read_dir(folder)?.flatten() {
        let path = beside.path();
        if path.file_stem().is_some_and(|name| *name == *stem) && path.is_file() {
            let ending = path.extension().unwrap_or_default();
            // The record has gone; what cannot follow it is of no use without it, and does no harm.
            let _ = std::fs::rename(&path, to.with_extension(ending));
        }
    }
    Ok(to)
}

/// What tells a record from every other one: the hash of its first line, which holds a number that was drawn for it.
/// `None` where the file has no first line.
#[must_use]
pub fn identity(path: &Path) -> Option<String> {
    use std::io::BufRead;
    let mut first = String::new();
    std::io::BufReader::new(File::open(path).ok()?).read_line(&mut first).ok()?;
    Some(link(first.strip_suffix('\n')?))
}

/// When a file was last written, in milliseconds.
fn written_ms(path: &Path) -> u64 {
    let modified = std::fs::metadata(path).and_then(|file| file.modified()).unwrap_or(UNIX_EPOCH);
    let passed = modified.duration_since(UNIX_EPOCH).unwrap_or(Duration::ZERO);
    u64::try_from(passed.as_millis()).unwrap_or(u64::MAX)
}

/// The steps of a record, as far as a list needs them.
#[derive(Default)]
struct Steps {
    any: bool,
    handed_in: bool,
    minutes: f64,
    at_ms: Option<u64>,
}

impl Steps {
    fn take(&mut self, act: &str, minutes: f64) {
        self.any = true;
        self.handed_in |= act == "hand in" || act == "refer";
        self.minutes = minutes;
    }

    fn of(lines: &[&str]) -> Self {
        let mut steps = Self::default();
        for text in lines {
            if let Ok(line) = serde_json::from_str::<Line>(text) {
                steps.at_ms = line.at.as_deref().and_then(clock::read).or(steps.at_ms);
                if let Some(step) = line.step {
                    steps.take(&step.act, step.minutes);
                }
            } else if let Ok(line) = serde_json::from_str::<UnchainedLine>(text) {
                steps.take(&line.action, line.minutes);
            }
        }
        steps
    }
}

/// A record; `None` where nothing has been done in it, and of a paper.
fn look(path: PathBuf) -> Option<Kept> {
    let unreadable = |path: PathBuf, why: String| {
        let (at_ms, standing) = (written_ms(&path), Standing::Unreadable(why));
        Some(Kept { path, scenario: String::new(), at_ms, minutes: 0.0, standing })
    };
    let text = match std::fs::read_to_string(&path) {
        Ok(text) => text,
        Err(why) => return unreadable(path, why.to_string()),
    };
    let lines: Vec<&str> = text.lines().collect();
    let head: Header = match lines.first().map(|line| header(line)) {
        Some(Ok(head)) => head,
        Some(Err(broken)) => return unreadable(path, broken.what),
        // It was made, and the program ended before anything stood in it.
        None => return None,
    };
    if head.paper.is_some() {
        return None;
    }
    // Most have been handed in: that is seen at their end, where the closing stands last or, with a seal below it, last but one.
    let end: Vec<Line> =
        lines[1..].iter().rev().take(2).filter_map(|line| serde_json::from_str(line).ok()).collect();
    let closing = end.iter().find_map(|line| Some((line.closing.as_ref()?, line.at.as_deref())));
    if let Some((closing, at)) = closing {
        let at_ms = at.and_then(clock::read).unwrap_or_else(|| written_ms(&path));
        let standing = closing.result().map_or(Standing::Unmarked, |result| Standing::Marked(result.total));
        return Some(Kept { path, scenario: head.scenario, at_ms, minutes: closing.minutes, standing });
    }
    let steps = Steps::of(&lines[1..]);
    if !steps.any {
        return None;
    }
    let standing = match (steps.handed_in, is_in_use(&path)) {
        (true, _) => Standing::Unmarked,
        (false, true) => Standing::InUse,
        (false, false) => Standing::Left,
    };
    let at_ms = steps.at_ms.unwrap_or_else(|| written_ms(&path));
    Some(Kept { path, scenario: head.scenario, at_ms, minutes: steps.minutes, standing })
}
