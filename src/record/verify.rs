//! Is a record what it says it is? Its chain, its readings by the model, its marks, its signature.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::clock;
use super::closing::Closing;
use super::error::RecordError;
use super::follow::{Break, Follow, column, header};
use super::line::{Header, UNCHAINED};
use super::lines::Lines;
use super::recorder::Stage;
use super::resume::begin;
use crate::job::JobError;
use crate::marks::mark_and_debrief;
use crate::paper::{Paper, PaperKey};
use crate::reasoning::Inquiry;

/// How reason sees so many scenarios is kept for the next record: each takes room.
const MOST_KEPT: usize = 12;

/// Whether a record could be played again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Replay {
    /// It was, step by step.
    Done,
    /// Not here, and why.
    NotHere(String),
}

/// What is to be said of a record.
#[derive(Debug)]
pub struct Verdict {
    /// Its file.
    pub path: PathBuf,
    /// Its first line, where that can be read.
    pub header: Option<Header>,
    /// Whether it could be played again.
    pub replay: Replay,
    /// By step: its line, and whether what it shows is what the model gives. `None` where that cannot be told.
    pub steps: Vec<(usize, Option<bool>)>,
    /// Everything that is wrong, in the order of the lines.
    pub breaks: Vec<Break>,
    /// The closing line.
    pub closing: Option<Closing>,
    /// Whether the marks were worked out anew.
    pub marked: bool,
    /// The key whose signature fits.
    pub key: Option<String>,
    /// When its last timed line was written.
    pub ended: String,
}

impl Verdict {
    /// Nothing is wrong, it was handed in and signed, and every reading is what the model gives.
    #[must_use]
    pub fn sound(&self) -> bool {
        self.whole() && self.replay == Replay::Done
    }

    /// Nothing is wrong, and it was handed in and signed; whether it can be replayed here or not.
    #[must_use]
    pub fn whole(&self) -> bool {
        self.breaks.is_empty() && self.key.is_some()
    }
}

/// Verifies records. It remembers what it has seen, so that copies are found.
pub struct Verifier {
    /// Work out marks anew.
    marks: bool,
    threads: usize,
    /// By a scenario's hash, how reason sees it.
    fresh: BTreeMap<String, Inquiry>,
    /// By a record's own number, where it was first seen.
    seen: BTreeMap<String, PathBuf>,
    /// By paper, candidate, job and attempt, where it was first seen.
    attempts: BTreeMap<Vec<u8>, PathBuf>,
    /// The paper that all records have to belong to, and its key.
    paper: Option<(Paper, PaperKey)>,
}

impl Verifier {
    /// One that has seen nothing; without `marks` it believes the marks of the closing line.
    #[must_use]
    pub fn new(marks: bool, threads: usize) -> Self {
        Self {
            marks,
            threads,
            fresh: BTreeMap::new(),
            seen: BTreeMap::new(),
            attempts: BTreeMap::new(),
            paper: None,
        }
    }

    /// Only records of this paper are sound.
    #[must_use]
    pub fn of_paper(mut self, paper: Paper, key: PaperKey) -> Self {
        self.paper = Some((paper, key));
        self
    }

    /// Verifies one record.
    ///
    /// # Errors
    /// [`RecordError::Unreadable`] where the file cannot be read, and [`RecordError::Job`] where marks cannot be worked out.
    pub fn verify(&mut self, path: &Path) -> Result<Verdict, RecordError> {
        let unreadable = |why| RecordError::Unreadable { path: path.to_owned(), why };
        let mut lines = Lines::new(BufReader::new(File::open(path).map_err(unreadable)?));
        let mut verdict = Verdict {
            path: path.to_owned(),
            header: None,
            replay: Replay::NotHere("its first line cannot be read".to_owned()),
            steps: Vec::new(),
            breaks: Vec::new(),
            closing: None,
            marked: false,
            key: None,
            ended: String::new(),
        };
        let first = match lines.next().map_err(unreadable)? {
            Some((Ok(first), true)) => first,
            Some((Err(column), _)) => {
                verdict.breaks.push(Break { line: 1, column, what: "this is not UTF-8 text".to_owned() });
                return Ok(verdict);
            }
            None | Some((_, false)) => {
                verdict.breaks.push(Break { line: 1, column: 1, what: "the record is empty".to_owned() });
                return Ok(verdict);
            }
        };
        let head = match header(&first) {
            Ok(head) => head,
            Err(broken) => {
                verdict.breaks.push(broken);
                return Ok(verdict);
            }
        };
        let key = self.paper.as_ref().map(|(_, key)| key.clone());
        let job = match begin(path, &head, key.as_ref()) {
            Ok(job) => {
                verdict.replay = Replay::Done;
                Some(job)
            }
            Err(why @ (RecordError::Damaged { .. } | RecordError::Job(_))) => {
                let what = match why {
                    RecordError::Damaged { what, .. } => what,
                    other => other.to_string(),
                };
                verdict.replay = Replay::NotHere(what.clone());
                verdict.breaks.push(Break { line: 1, column: column(&first, "draw"), what });
                None
            }
            Err(why) => {
                verdict.replay = Replay::NotHere(short(&why));
                None
            }
        };
        let mut follow = Follow::new(&head, &first, job, key.as_ref());
        self.first_seen(path, &head, &first, &mut follow);
        self.belongs(path, &head, &first, &mut follow);
        while let Some((text, whole)) = lines.next().map_err(unreadable)? {
            match text {
                Ok(text) if whole => {
                    follow.line(&text);
                }
                Ok(_) => follow.skip(1, "this line is cut off: it was never whole"),
                Err(column) => follow.skip(column, "this is not UTF-8 text"),
            }
        }
        if head.probeworthy_record == UNCHAINED {
            follow.wrong(1, "a record of format 2 has no chain, no readings and no signature: it can be resumed and explained, not verified");
        } else if follow.stage != Stage::Sealed {
            follow.skip(
                1,
                "it ends here, neither closed nor signed: it was not handed in, or has been cut short",
            );
        }
        if let (Some(key), Some(paper)) = (&key, &head.paper) {
            follow.open_result(key, paper, &head.record);
        }
        self.marks_of(&mut follow, &mut verdict)?;
        verdict.steps = std::mem::take(&mut follow.steps_told);
        verdict.closing = follow.closing.map(|(closing, _)| closing);
        verdict.key = follow.seal.filter(|_| follow.signed).map(|seal| seal.key);
        verdict.ended = clock::written(follow.at_ms);
        verdict.breaks.append(&mut follow.breaks);
        verdict.breaks.sort_by_key(|broken| broken.line);
        verdict.header = Some(head);
        Ok(verdict)
    }

    /// Tells where the same record has been seen before.
    fn first_seen(&mut self, path: &Path, head: &Header, text: &str, follow: &mut Follow) {
        if head.record.is_empty() {
            return;
        }
        match self.seen.get(&head.record) {
            Some(other) => follow.wrong(
                column(text, "record"),
                format!("this is the same record as {}: it has been handed in twice", other.display()),
            ),
            None => {
                self.seen.insert(head.record.clone(), path.to_owned());
            }
        }
    }

    /// Tells where a record is not of the paper that is asked for, and where an attempt was recorded twice.
    fn belongs(&mut self, path: &Path, head: &Header, text: &str, follow: &mut Follow) {
        let here = column(text, "paper");
        match (&self.paper, &head.paper) {
            (None, _) => {}
            (Some(_), None) => follow.wrong(1, "this is a job for practice: it belongs to no paper"),
            (Some((paper, _)), Some(job)) if paper.terms.id() != job.terms.id() => {
                follow.wrong(here, format!("this belongs to another paper, \"{}\"", job.terms.title));
            }
            (Some((paper, _)), Some(job)) => match paper.candidate(&job.candidate) {
                Err(_) => follow.wrong(
                    column(text, "candidate"),
                    format!("the paper knows no candidate \"{}\"", job.candidate),
                ),
                Ok(candidate) => {
                    let draws = job.job.checked_sub(1).and_then(|at| candidate.draws.get(at));
                    let attempt = usize::from(job.attempt).checked_sub(1);
                    let draw = draws.zip(attempt).and_then(|(draws, at)| draws.get(at));
                    if draw != Some(&head.draw) {
                        follow.wrong(column(text, "draw"), "this is not the draw of that candidate");
                    }
                }
            },
        }
        let Some(job) = &head.paper else { return };
        match self.attempts.get(&job.bound_to()) {
            Some(other) => follow.wrong(
                column(text, "attempt"),
                format!("the same attempt of the same candidate as {}", other.display()),
            ),
            None => {
                self.attempts.insert(job.bound_to(), path.to_owned());
            }
        }
    }

    /// Works out the closing anew and compares it.
    fn marks_of(&mut self, follow: &mut Follow, verdict: &mut Verdict) -> Result<(), RecordError> {
        let (Some(job), Some((closing, line))) = (&follow.job, &follow.closing) else { return Ok(()) };
        if !self.marks || follow.agreeing < follow.steps || closing.result().is_none() {
            return Ok(());
        }
        let failed = |why| RecordError::Job(JobError::from(why));
        let key = format!("{} {:?}", job.scenario().hash(), job.scenario().forbidden);
        if !self.fresh.contains_key(&key) {
            // Of a class in which everybody has a variation of his own, each is needed once.
            if self.fresh.len() >= MOST_KEPT {
                self.fresh.pop_first();
            }
            let fresh = Inquiry::new(Arc::clone(job.scenario()), self.threads).map_err(failed)?;
            self.fresh.insert(key.clone(), fresh);
        }
        let worth = mark_and_debrief(job, &self.fresh[&key]).map_err(RecordError::Job)?;
        let model = worth.and_then(|(marks, debrief)| Closing::of(job, &marks, &debrief));
        verdict.marked = true;
        if model.as_ref() != Some(closing) {
            let what = match model {
                None => "the job was never handed in, but it is closed here".to_owned(),
                Some(model) if total(&model) != total(closing) => format!(
                    "the record has {} marks, the model gives {}",
                    total(closing).unwrap_or_default(),
                    total(&model).unwrap_or_default()
                ),
                Some(_) => "what is said of the whole job is not what the model gives".to_owned(),
            };
            follow.breaks.push(Break { line: *line, column: 1, what });
        }
        Ok(())
    }
}

fn total(closing: &Closing) -> Option<f64> {
    closing.result().map(|result| result.total)
}

/// Why something is not possible here, without the file and the hint.
fn short(why: &RecordError) -> String {
    match why {
        RecordError::OtherModel { program, .. } => {
            format!("it was made with another model of vehicles (program version {program})")
        }
        RecordError::Changed { scenario, .. } => {
            format!("the scenario \"{scenario}\" or its vehicle is not the one that it was made with")
        }
        RecordError::OtherVariation { number, .. } => {
            format!("variation {number} of its scenario is not the one that it was made with")
        }
        other => other.to_string().lines().next().unwrap_or_default().to_owned(),
    }
}
