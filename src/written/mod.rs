//! RON as written: values with their places, and every problem at once.
//!
//! A person mending a file wants all of its faults in one list, each with its place and its cure,
//! and nothing in the list that would go away by itself. So reading never stops at the first
//! problem, every value remembers where it stood ([`At`]), and whatever follows only from a problem
//! already told is left unsaid.
//!
//! The shape of a file is declared with [`record!`] and [`choice!`]; [`parse`] reads it and
//! [`report`] shows a [`Problem`] under the line it is about.

mod edit;
mod file;
mod nearest;
mod shape;
mod syntax;
mod value;

use std::ops::Deref;

pub use edit::{Step, with_item, with_value, without_item};
pub use file::{FileError, SourceFile, report};
pub use nearest::nearest;
pub use ron2::ast::Expr;
pub use shape::{Fields, Form, Variant};
pub use value::{Table, Written};

#[doc(inline)]
pub use crate::{choice, record};

/// A place in a file: a range of bytes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// The byte after the last.
    pub end: usize,
}

impl Span {
    /// Where an expression is written.
    pub fn of(expr: &Expr<'_>) -> Self {
        expr.span().into()
    }
}

impl From<&ron2::Span> for Span {
    fn from(span: &ron2::Span) -> Self {
        Self { start: span.start_offset, end: span.end_offset }
    }
}

/// A value and where it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Where the file has it.
    pub span: Span,
}

impl<T> At<T> {
    /// A value the file leaves out. It stands at the beginning, should anyone ask.
    pub fn unwritten(value: T) -> Self {
        Self { value, span: Span::default() }
    }
}

impl<T> Deref for At<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

impl At<f64> {
    /// Whether the number lies from `low` to `high`, and a problem if it does not. `what` says what
    /// the number is, with its article: "a resistance".
    pub fn in_range(&self, low: f64, high: f64, unit: &str, what: &str, problems: &mut Problems) -> bool {
        let within = (low..=high).contains(&self.value);
        if !within {
            let value = self.value;
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            problems.add(
                self.span,
                format!("{value}{unit} is out of range: {what} must be between {low} and {high}{unit}"),
                format!("write a number from {low} to {high}"),
            );
        }
        within
    }
}

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where.
    pub span: Span,
    /// What is wrong.
    pub what: String,
    /// How to mend it. Never empty.
    pub hint: String,
}

/// The problems of one file.
#[derive(Clone, Debug, Default)]
pub struct Problems {
    list: Vec<Problem>,
    /// The opening brackets of those groups out of which a syntax error took an item. Nothing can be
    /// said about what such a group lacks.
    spoiled: Vec<usize>,
}

impl Problems {
    /// No problems yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Notes a problem.
    pub fn add(&mut self, span: Span, what: impl Into<String>, hint: impl Into<String>) {
        self.list.push(Problem { span, what: what.into(), hint: hint.into() });
    }

    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether a syntax error took something out of the group that this bracket opens.
    fn is_spoiled(&self, opening: Span) -> bool {
        self.spoiled.contains(&opening.start)
    }

    /// The problems in the order of their places.
    pub fn into_vec(mut self) -> Vec<Problem> {
        self.list.sort_by_key(|problem| problem.span.start);
        self.list
    }
}

/// Reads a file's one value. All that is wrong goes to `problems`; without a value there is at least
/// one.
pub fn parse<T: Written>(file: &SourceFile, problems: &mut Problems) -> Option<T> {
    syntax::read(&file.text, problems)
}

/// A word of the file fit for a message: in backquotes, not too long, and harmless to a terminal.
pub fn shown(word: &str) -> String {
    const LONGEST: usize = 40;
    let mut text = file::printable(&word.chars().take(LONGEST).collect::<String>());
    if word.chars().nth(LONGEST).is_some() {
        text.push('…');
    }
    format!("`{text}`")
}
