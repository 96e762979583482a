//! The text desk: one job in a terminal, typed, scripted or read by a program.

mod json;
mod script;
mod text;

use std::io::{self, BufRead, Write};
use std::sync::Arc;

pub use script::{Request, ScriptError, read_script};

use crate::bench::{Action, Refusal};
use crate::job::{Job, JobError, Step};
use crate::marks::{Debrief, coaching_cost, mark, next_rung};
use crate::reasoning::Advisor;
use crate::record::Keeper;
use crate::say;
use crate::words::{self, Texts};

/// How the desk speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// For a person.
    Text,
    /// One JSON object a step.
    Json,
}

/// Why the desk stopped short.
#[derive(Debug)]
pub enum DeskError {
    /// The input cannot be read, or the output cannot be written any more.
    Terminal(io::Error),
    /// The job cannot go on.
    Job(JobError),
    /// The job was handed in, but what it was worth could not be kept.
    Closing(io::Error),
}

impl std::fmt::Display for DeskError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Terminal(why) => write!(f, "the terminal cannot be read or written: {why}"),
            Self::Job(why) => write!(f, "{why}"),
            Self::Closing(why) => write!(
                f,
                "the job is handed in and kept, but its record could not be closed: {why}\nhint: resume it once there is room; that closes it"
            ),
        }
    }
}

impl std::error::Error for DeskError {}

impl From<io::Error> for DeskError {
    fn from(why: io::Error) -> Self {
        Self::Terminal(why)
    }
}

impl From<JobError> for DeskError {
    fn from(why: JobError) -> Self {
        Self::Job(why)
    }
}

/// A job at the desk.
pub struct Desk<'a> {
    job: Job,
    journal: &'a mut dyn Keeper,
    form: Form,
    out: &'a mut dyn Write,
    /// Where help, lists and complaints about a typed line go: with JSON, beside the data.
    aside: &'a mut dyn Write,
    advisor: Advisor,
    /// What is said to a person is in these; commands and data are English.
    texts: Texts,
}

impl<'a> Desk<'a> {
    /// Lays a job on the desk.
    pub fn new(
        job: Job,
        journal: &'a mut dyn Keeper,
        form: Form,
        out: &'a mut dyn Write,
        aside: &'a mut dyn Write,
    ) -> Self {
        Self { job, journal, form, out, aside, advisor: Advisor::default(), texts: Texts::english() }
    }

    /// Speaks another language to a person.
    #[must_use]
    pub fn speaking(self, texts: Texts) -> Self {
        Self { texts, ..self }
    }

    /// Says what the job is, for a person.
    ///
    /// # Errors
    /// [`DeskError::Terminal`].
    pub fn greet(&mut self) -> Result<(), DeskError> {
        if self.form == Form::Text {
            let greeting = text::greeting(self.texts, &self.job);
            self.out.write_all(greeting.as_bytes())?;
        }
        if self.job.handed_in().is_some() {
            self.result()?;
        }
        self.out.flush()?;
        Ok(())
    }

    /// Plays requests that were read whole beforehand.
    ///
    /// # Errors
    /// [`DeskError`].
    pub fn play(&mut self, requests: Vec<Request>) -> Result<(), DeskError> {
        for request in requests {
            if let Request::Act(action) = &request
                && self.form == Form::Text
            {
                let line = words::text(&self.job.scenario().vehicle, action);
                writeln!(self.out, "> {line}")?;
            }
            if !self.serve(request)? {
                break;
            }
        }
        if self.form == Form::Text && self.job.handed_in().is_none() {
            writeln!(self.out, "{}", self.texts.say("desk-unfinished"))?;
        }
        self.out.flush()?;
        Ok(())
    }

    /// Plays lines as they come; `prompt` is shown before each.
    ///
    /// # Errors
    /// [`DeskError`].
    pub fn converse(&mut self, input: &mut dyn BufRead, prompt: &str) -> Result<(), DeskError> {
        let mut bytes = Vec::new();
        while self.job.handed_in().is_none() {
            self.out.write_all(prompt.as_bytes())?;
            self.out.flush()?;
            bytes.clear();
            if input.read_until(b'\n', &mut bytes)? == 0 {
                break;
            }
            let line = String::from_utf8_lossy(&bytes);
            match script::request(&self.job.scenario().vehicle, &line) {
                Ok(None) => {}
                Ok(Some(request)) => {
                    if !self.serve(request)? {
                        break;
                    }
                }
                Err(error) => {
                    writeln!(self.aside, "column {}: {}\nhint: {}", error.column, error.what, error.hint)?
                }
            }
        }
        Ok(())
    }

    /// Serves one request; false ends the sitting.
    fn serve(&mut self, request: Request) -> Result<bool, DeskError> {
        match request {
            Request::Act(action) => self.act(action)?,
            Request::Show(topic) => {
                // Lists name things as commands do.
                let text = words::names_here(Texts::english(), &self.job.scenario().vehicle, topic);
                self.say(&text)?;
            }
            Request::Form(form) => self.say(&format!("{form}\n"))?,
            Request::Sheet => {
                let sheet = text::sheet(self.texts, &self.job);
                self.say(&sheet)?;
            }
            Request::CoachPrice => {
                let price = if self.job.scenario().has_coach() {
                    words::coaching_price(self.texts, next_rung(&self.job), coaching_cost(&self.job))
                } else {
                    words::refusal(self.texts, &self.job.scenario().vehicle, Refusal::NoCoach)
                };
                self.say(&format!("{price}\n"))?;
            }
            Request::Quit => return Ok(false),
        }
        Ok(true)
    }

    /// The texts of what may become data: English among data.
    fn spoken(&self) -> Texts {
        match self.form {
            Form::Text => self.texts,
            Form::Json => Texts::english(),
        }
    }

    /// Something that is not a step: to the person, never among the data.
    fn say(&mut self, text: &str) -> io::Result<()> {
        match self.form {
            Form::Text => self.out.write_all(text.as_bytes()),
            Form::Json => self.aside.write_all(text.as_bytes()),
        }
    }

    fn act(&mut self, action: Action) -> Result<(), DeskError> {
        let before = self.job.handed_in();
        let vehicle_job = Arc::clone(self.job.scenario());
        let step = match self.job.apply(action, &mut *self.journal) {
            Ok(step) => step,
            // The job is as it was; what cannot be solved is told, and the learner goes on.
            Err(error @ JobError::Unsolved(_)) => {
                writeln!(self.aside, "{error}")?;
                return Ok(());
            }
            Err(error @ JobError::Journal(_)) if self.journal.allows_only_hand_in() => {
                writeln!(self.aside, "{error}")?;
                return Ok(());
            }
            Err(error) => return Err(error.into()),
        };
        let step = step.clone();
        let advice = self.advice(&step)?;
        match self.form {
            Form::Text => {
                let text = text::step(self.texts, &vehicle_job.vehicle, &step, advice.as_deref());
                self.out.write_all(text.as_bytes())?;
            }
            Form::Json => {
                let number = self.job.log().len();
                json::step(&vehicle_job.vehicle, number, self.job.cost(), &step, advice, self.out)?;
            }
        }
        self.remark()?;
        if before.is_none() && self.job.handed_in().is_some() {
            self.result()?;
        }
        self.out.flush()?;
        Ok(())
    }

    /// What the coach says, where the last act has asked him.
    fn advice(&mut self, step: &Step) -> Result<Option<String>, DeskError> {
        let Action::Coach(rung) = step.action else { return Ok(None) };
        if step.outcome.refused.is_some() {
            return Ok(None);
        }
        let t = self.spoken();
        self.say(&format!("  {}\n", t.say("desk-thinking")))?;
        self.out.flush()?;
        Ok(Some(match self.advisor.advice(&self.job, rung) {
            Ok(advice) => words::advice_in_commands(t, self.job.scenario(), &advice),
            Err(why) => say!(t, "desk-no-answer", why = why.to_string()),
        }))
    }

    /// What is to be said of the suspicion sheet after its last line was marked.
    fn remark(&mut self) -> io::Result<()> {
        let marked = self.job.log().last().is_some_and(|step| matches!(step.action, Action::Suspect(..)));
        match words::overfull(self.texts, &self.job.sheet()) {
            Some(remark) if marked => self.say(&format!("  {remark}\n")),
            _ => Ok(()),
        }
    }

    /// The marks and the truth, once the job has been handed in. They are kept before they are shown.
    fn result(&mut self) -> Result<(), DeskError> {
        let fresh = self.advisor.fresh(&self.job).map_err(JobError::from)?;
        let Some(marks) = mark(&self.job, fresh)? else { return Ok(()) };
        let debrief = match self.form {
            Form::Json if !self.journal.wants_closing() => None,
            _ => Debrief::of(&self.job, fresh, &marks)?,
        };
        if let Some(debrief) = &debrief {
            self.journal.close(&self.job, &marks, debrief).map_err(DeskError::Closing)?;
        }
        if !self.journal.shows_result() {
            self.say(&format!("  {}\n", self.texts.say("desk-sealed")))?;
            return Ok(());
        }
        match (self.form, self.job.truth()) {
            (Form::Text, _) => {
                let text = words::result_text(self.texts, &self.job, &marks);
                self.out.write_all(text.as_bytes())?;
                if let Some(debrief) = debrief {
                    let text = words::debrief_text(self.texts, &self.job, &marks, &debrief);
                    self.out.write_all(text.as_bytes())?;
                }
            }
            (Form::Json, Some(fault)) => json::result(&self.job, fault, &marks, self.out)?,
            (Form::Json, None) => {}
        }
        Ok(())
    }
}
