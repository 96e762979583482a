//! What can be typed at the desk, and scripts of it.

use crate::bench::Action;
use crate::vehicle::Vehicle;
use crate::words::{self, CommandError, Topic};
use crate::written::nearest;

/// Something typed at the desk.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// An act.
    Act(Action),
    /// Help or a list of names.
    Show(Topic),
    /// How a command is written.
    Form(String),
    /// The job sheet.
    Sheet,
    /// What the coach costs.
    CoachPrice,
    /// Leaves the job.
    Quit,
}

/// A line of a script that is no command.
#[derive(Clone, Debug, PartialEq)]
pub struct ScriptError {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub error: CommandError,
}

/// Reads one line; `None` for an empty one or a comment.
///
/// # Errors
/// [`CommandError`], with the column and how to mend it.
pub(super) fn request(vehicle: &Vehicle, line: &str) -> Result<Option<Request>, CommandError> {
    // In a write-up, # is a character like any other.
    let line = if line.trim_start().starts_with("write") {
        line
    } else {
        line.split('#').next().unwrap_or_default()
    };
    // A pasted prompt is no part of the command.
    let line = line.strip_prefix("> ").unwrap_or(line).trim_end();
    let mut words = line.split_whitespace();
    let (first, second, third) = (words.next(), words.next(), words.next());
    match (first, second, third) {
        (None, ..) => Ok(None),
        (Some("help" | "?"), None, _) => Ok(Some(Request::Show(Topic::Commands))),
        (Some("sheet"), None, _) => Ok(Some(Request::Sheet)),
        (Some("coach"), None, _) => Ok(Some(Request::CoachPrice)),
        (Some("quit" | "exit"), None, _) => Ok(Some(Request::Quit)),
        (Some("help"), Some(name), None) if words::form(name).is_some() => {
            Ok(words::form(name).map(|form| Request::Form(form.to_owned())))
        }
        (Some("list" | "help"), Some(name), None) => {
            topic(line, name).map(|topic| Some(Request::Show(topic)))
        }
        (Some("list"), None, _) => Err(topic_error(line, "", "a topic is missing".to_owned())),
        (Some("list"), _, Some(more)) => {
            let at = more.as_ptr().addr() - line.as_ptr().addr();
            Err(CommandError {
                column: line[..at].chars().count() + 1,
                what: format!("{more} is too much here"),
                hint: "list one topic a line".to_owned(),
            })
        }
        _ => words::parse(vehicle, line).map(|action| Some(Request::Act(action))),
    }
}

fn topic(line: &str, name: &str) -> Result<Topic, CommandError> {
    Topic::ALL
        .iter()
        .find(|(known, _)| *known == name)
        .map(|(_, topic)| *topic)
        .ok_or_else(|| topic_error(line, name, format!("there is nothing to list called {name}")))
}

fn topic_error(line: &str, name: &str, what: String) -> CommandError {
    let column = line.rfind(name).map_or(line.len(), |at| line[..at].chars().count()) + 1;
    let names = Topic::ALL.iter().map(|(known, _)| *known);
    let hint = match nearest(name, names.clone()) {
        Some(near) => format!("did you mean {near}?"),
        None => format!("list one of {}", names.collect::<Vec<_>>().join(", ")),
    };
    CommandError { column, what, hint }
}

/// Reads a whole script.
///
/// # Errors
/// Every line that is no command.
pub fn read_script(vehicle: &Vehicle, text: &str) -> Result<Vec<Request>, Vec<ScriptError>> {
    let mut requests = Vec::new();
    let mut errors = Vec::new();
    for (at, line) in text.lines().enumerate() {
        match request(vehicle, line) {
            Ok(request) => requests.extend(request),
            Err(error) => errors.push(ScriptError { line: at + 1, error }),
        }
    }
    if errors.is_empty() { Ok(requests) } else { Err(errors) }
}
