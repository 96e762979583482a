//! Follows a record line by line: is its chain whole, and is what it shows what the model gives?

use super::clock;
use super::closing::Closing;
use super::keys::fits;
use super::line::{Header, Line, Seal, Step, UNCHAINED, UnchainedLine, link, signed};
use super::recorder::Stage;
use super::shown::Shown;
use crate::job::{Job, NoJournal};
use crate::paper::{PaperJob, PaperKey};
use crate::words;

/// Something in a record that is not as it was written, or not what the model gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1, in characters.
    pub column: usize,
    /// What is wrong.
    pub what: String,
}

/// A record as far as it has been followed.
pub(super) struct Follow {
    /// The job as it stands; `None` where it cannot be replayed.
    pub(super) job: Option<Job>,
    unchained: bool,
    /// It belongs to a paper; with its key, where that is at hand.
    paper: Option<Option<PaperKey>>,
    /// When the time of a paper is up.
    ends_ms: Option<u64>,
    /// Hash of the last line.
    pub(super) last: String,
    pub(super) at_ms: u64,
    lines: usize,
    /// Steps that stand in it, and those of them that are what the model gives.
    pub(super) steps: usize,
    pub(super) agreeing: usize,
    /// By step: its line, and whether it is what the model gives, where that can be told.
    pub(super) steps_told: Vec<(usize, Option<bool>)>,
    tells_steps: bool,
    pub(super) stage: Stage,
    /// The closing line, and where it stands.
    pub(super) closing: Option<(Closing, usize)>,
    pub(super) seal: Option<Seal>,
    /// The signature fits.
    pub(super) signed: bool,
    pub(super) breaks: Vec<Break>,
    /// The job has gone another way than the record: what comes after cannot be compared.
    lost: bool,
}

/// The column at which a key's value begins, in characters.
pub(super) fn column(text: &str, key: &str) -> usize {
    let sought = format!("\"{key}\":");
    text.find(&sought).map_or(1, |at| text[..at + sought.len()].chars().count() + 1)
}

/// What is wrong with a line that cannot be read, and at which column.
fn unreadable(what: &str, why: &serde_json::Error) -> (usize, String) {
    let told = why.to_string();
    let place = format!(" at line {} column {}", why.line(), why.column());
    (why.column().max(1), format!("{what}: {}", told.trim_end_matches(&place)))
}

/// Reads the first line of a record.
pub(super) fn header(text: &str) -> Result<Header, Break> {
    let wrong = |column: usize, what: String| Break { line: 1, column, what };
    let header: Header = serde_json::from_str(text).map_err(|why| {
        let (column, what) = unreadable("this is not the head of a record", &why);
        wrong(column, what)
    })?;
    let known = [UNCHAINED, super::FORMAT];
    if !known.contains(&header.probeworthy_record) {
        let what = format!("format {} is not one that this program reads", header.probeworthy_record);
        return Err(wrong(column(text, "probeworthy_record"), what));
    }
    if header.probeworthy_record == super::FORMAT && clock::read(&header.at).is_none() {
        return Err(wrong(column(text, "at"), "this is no time".to_owned()));
    }
    Ok(header)
}

impl Follow {
    /// Begins behind the first line.
    pub(super) fn new(header: &Header, text: &str, job: Option<Job>, key: Option<&PaperKey>) -> Self {
        let begun_ms = clock::read(&header.at).unwrap_or(0);
        let mut follow = Self {
            paper: header.paper.as_ref().map(|_| key.cloned()),
            ends_ms: header.paper.as_ref().and_then(|paper| paper.terms.ends_ms(begun_ms)),
            job,
            unchained: header.probeworthy_record == UNCHAINED,
            last: link(text),
            at_ms: begun_ms,
            lines: 1,
            steps: 0,
            agreeing: 0,
            steps_told: Vec::new(),
            tells_steps: true,
            stage: Stage::Open,
            closing: None,
            seal: None,
            signed: false,
            breaks: Vec::new(),
            lost: false,
        };
        if let Some(paper) = &header.paper {
            let (jobs, attempts) = (paper.terms.jobs.len(), paper.terms.attempts);
            if !(1..=jobs).contains(&paper.job) || !(1..=attempts).contains(&paper.attempt) {
                let what = "the paper has no such job, or allows no such attempt";
                follow.wrong(column(text, "attempt"), what);
            }
        }
        follow
    }

    pub(super) fn wrong(&mut self, column: usize, what: impl Into<String>) {
        self.breaks.push(Break { line: self.lines, column, what: what.into() });
    }

    /// Passes over what is no line, and says why.
    pub(super) fn skip(&mut self, column: usize, what: &str) {
        self.lines += 1;
        self.wrong(column, what);
    }

    /// Keeps nothing of single steps.
    pub(super) fn not_step_by_step(mut self) -> Self {
        self.tells_steps = false;
        self
    }

    /// Follows the next line; if it is a step, that is returned with its time.
    pub(super) fn line(&mut self, text: &str) -> Option<(Step, String)> {
        self.lines += 1;
        if self.unchained {
            match serde_json::from_str::<UnchainedLine>(text) {
                Ok(line) => self.act(text, "action", line.step, line.minutes, &line.action, None),
                Err(why) => {
                    let (column, what) = unreadable("this is not an act", &why);
                    self.wrong(column, what);
                }
            }
            return None;
        }
        let line: Line = match serde_json::from_str(text) {
            Ok(line) => line,
            Err(why) => {
                let (column, what) = unreadable("this is not a line of a record", &why);
                self.wrong(column, what);
                self.last = link(text);
                return None;
            }
        };
        if line.previous != self.last {
            self.wrong(
                column(text, "previous"),
                "the chain breaks here: what stands before this line is not what stood there when it was written",
            );
        }
        let before = std::mem::replace(&mut self.last, link(text));
        self.time(text, line.at.as_deref(), line.seal.is_none());
        match (line.step, line.closing, line.seal) {
            (Some(step), None, None) => {
                self.step(text, &step);
                return Some((step, line.at.unwrap_or_default()));
            }
            (None, Some(closing), None) => self.closing(closing),
            (None, None, Some(seal)) => self.seal(text, seal, &before),
            _ => self.wrong(1, "a line holds a step, the closing or the seal, and one of them only"),
        }
        None
    }

    fn time(&mut self, text: &str, at: Option<&str>, needed: bool) {
        match at.map(clock::read) {
            None if needed => self.wrong(1, "this line has no time"),
            None => {}
            Some(None) => self.wrong(column(text, "at"), "this is no time"),
            Some(Some(ms)) if ms < self.at_ms => {
                self.wrong(column(text, "at"), "time runs backwards here");
            }
            Some(Some(ms)) => self.at_ms = ms,
        }
    }

    fn step(&mut self, text: &str, step: &Step) {
        if self.stage != Stage::Open {
            self.wrong(column(text, "step"), "a step after the closing");
        }
        let late = self.ends_ms.is_some_and(|ends| self.at_ms > ends);
        if late && !matches!(step.act.as_str(), "hand in" | "refer") {
            self.wrong(column(text, "at"), "this was done after the time of the paper was up");
        }
        self.act(text, "act", step.number, step.minutes, &step.act, Some(&step.shown));
    }

    /// An act and what it is said to have shown; format 2 does not say.
    fn act(&mut self, text: &str, key: &str, number: usize, minutes: f64, act: &str, shown: Option<&Shown>) {
        self.steps += 1;
        let expected = self.steps;
        if self.tells_steps {
            self.steps_told.push((self.lines, None));
        }
        if number != expected {
            let column = column(text, if shown.is_some() { "number" } else { "step" });
            let told = if shown.is_some() {
                format!("step {number} stands where step {expected} belongs")
            } else {
                "this act does not follow from those before it".to_owned()
            };
            self.wrong(column, told);
            self.lost = true;
        }
        let Some(job) = &mut self.job else { return };
        if self.lost {
            return;
        }
        let scenario = std::sync::Arc::clone(job.scenario());
        let action = match words::parse(&scenario.vehicle, act) {
            Ok(action) => action,
            Err(why) => {
                self.lost = true;
                return self.wrong(column(text, key), why.to_string());
            }
        };
        let (outcome, clock) = match job.apply(action, &mut NoJournal) {
            Ok(step) => (Shown::of(&scenario.vehicle, &step.outcome), step.minutes),
            Err(why) => {
                self.lost = true;
                return self.wrong(column(text, key), why.to_string());
            }
        };
        let differs = shown.and_then(|shown| difference(shown, &outcome));
        let agrees = differs.is_none() && clock.to_bits() == minutes.to_bits();
        if let Some((_, told)) = self.steps_told.last_mut() {
            *told = Some(agrees);
        }
        if let Some((what, recorded, model)) = differs {
            self.wrong(
                column(text, what),
                format!("{what}: the record has {recorded}, the model gives {model}"),
            );
        } else if !agrees {
            let what = match shown {
                Some(_) => format!("the record has {minutes} minutes, the model gives {clock}"),
                None => "this act does not follow from those before it".to_owned(),
            };
            self.wrong(column(text, "minutes"), what);
        } else {
            self.agreeing += 1;
        }
    }

    fn closing(&mut self, closing: Closing) {
        if self.stage != Stage::Open {
            self.wrong(1, "a second closing");
        }
        if closing.steps != self.steps {
            let what = format!("closed after {} steps, but {} stand here", closing.steps, self.steps);
            self.wrong(1, what);
        }
        self.stage = Stage::Closed(self.last.clone());
        self.closing = Some((closing, self.lines));
    }

    /// Opens the sealed result of a paper's job.
    pub(super) fn open_result(&mut self, key: &PaperKey, paper: &PaperJob, record: &str) {
        let Some((closing, line)) = self.closing.take() else { return };
        let opened = closing.clone().opened(key, paper, record);
        if opened.is_none() {
            let what = "the result does not open: it was sealed for another record".to_owned();
            self.breaks.push(Break { line, column: 1, what });
        }
        self.closing = Some((opened.unwrap_or(closing), line));
    }

    fn seal(&mut self, text: &str, seal: Seal, before: &str) {
        if !matches!(self.stage, Stage::Closed(_)) {
            self.wrong(column(text, "seal"), "a seal that closes nothing");
        }
        self.signed = fits(&seal, before);
        if !self.signed {
            self.wrong(column(text, "signature"), "the signature does not fit");
        }
        let stamped = match (&self.paper, &seal.stamp) {
            (None, stamp) => stamp.is_none(),
            (Some(None), stamp) => stamp.is_some(),
            (Some(Some(key)), Some(stamp)) => key.stamped(&signed(before), stamp),
            (Some(Some(_)), None) => false,
        };
        if !stamped {
            let what = "the paper's stamp does not fit: what closed this record did not have the paper's key";
            self.wrong(column(text, "stamp"), what);
        }
        self.stage = Stage::Sealed;
        self.seal = Some(seal);
    }
}

/// The first thing in which what was recorded differs from what the model gives: its name, and both.
fn difference(recorded: &Shown, model: &Shown) -> Option<(&'static str, String, String)> {
    if recorded == model {
        return None;
    }
    let told = |value: &Shown, key: &str| {
        let whole = serde_json::to_value(value).unwrap_or_default();
        whole.get(key).map_or_else(|| "nothing".to_owned(), ToString::to_string)
    };
    let keys = ["refused", "meter", "clamp", "recorder", "heard", "seen", "cost", "cautions", "breaches"];
    let key = keys.into_iter().find(|key| told(recorded, key) != told(model, key)).unwrap_or("shown");
    Some((key, told(recorded, key), told(model, key)))
}
