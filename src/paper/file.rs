//! A paper's file.

use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::seal::PaperKey;
use super::terms::{PaperJob, Terms};
use crate::written::nearest;

/// The version of the format.
const FORMAT: u32 = 1;

/// A candidate, and the sealed draws: by job, by attempt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Candidate {
    /// The name.
    pub name: String,
    /// The sealed draws.
    pub draws: Vec<Vec<String>>,
}

/// A paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Paper {
    probeworthy_paper: u32,
    /// The terms.
    pub terms: Terms,
    /// The candidates.
    pub candidates: Vec<Candidate>,
    /// Hash of all above: a change by accident is found without the passphrase.
    check: String,
    /// Stamp of the same with the paper's key: any change is found with the passphrase.
    stamp: String,
}

/// Why a paper cannot be used.
#[derive(Debug)]
pub enum PaperError {
    /// The file cannot be read or written.
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// It is no paper, or not the one that was written.
    Changed {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
        /// What is wrong.
        what: String,
    },
    /// The passphrase does not open it.
    Passphrase(PathBuf),
    /// There is no such candidate.
    NoCandidate {
        /// The name.
        name: String,
        /// The name that may have been meant.
        near: Option<String>,
    },
}

impl std::fmt::Display for PaperError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File { path, why } => {
                write!(
                    f,
                    "{}: {why}\nhint: name a paper that `probeworthy paper new` has written",
                    path.display()
                )
            }
            Self::Changed { path, line, column, what } => write!(
                f,
                "{}:{line}:{column}: {what}\nhint: get the paper anew from whoever set it",
                path.display()
            ),
            Self::Passphrase(path) => write!(
                f,
                "{}: this passphrase does not open the paper, or the paper was changed\nhint: ask whoever set it; capitals and spaces count",
                path.display()
            ),
            Self::NoCandidate { name, near } => {
                write!(f, "the paper knows no candidate \"{name}\"\nhint: ")?;
                match near {
                    Some(near) => write!(f, "did you mean \"{near}\"?"),
                    None => write!(f, "`probeworthy paper show PAPER` lists them"),
                }
            }
        }
    }
}

impl std::error::Error for PaperError {}

impl Paper {
    /// A paper of these terms and candidates.
    #[must_use]
    pub fn new(terms: Terms, candidates: Vec<Candidate>, key: &PaperKey) -> Self {
        let mut paper =
            Self { probeworthy_paper: FORMAT, terms, candidates, check: String::new(), stamp: String::new() };
        let content = paper.content();
        paper.check = blake3::hash(&content).to_hex().to_string();
        paper.stamp = key.stamp(&content);
        paper
    }

    /// All that check and stamp cover.
    fn content(&self) -> Vec<u8> {
        let bare = Self { check: String::new(), stamp: String::new(), ..self.clone() };
        serde_json::to_vec(&bare).unwrap_or_default()
    }

    /// The file's text: there is one way only to write a paper.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = serde_json::to_string_pretty(self).unwrap_or_default();
        text.push('\n');
        text
    }

    /// Reads a paper.
    ///
    /// # Errors
    /// [`PaperError`] where it cannot be read or is not as it was written.
    pub fn read(path: &Path) -> Result<Self, PaperError> {
        let file = |why| PaperError::File { path: path.to_owned(), why };
        let changed = |line, column, what| PaperError::Changed { path: path.to_owned(), line, column, what };
        let text = std::fs::read(path).map_err(file)?;
        let text = String::from_utf8(text).map_err(|why| {
            let before = &why.as_bytes()[..why.utf8_error().valid_up_to()];
            let before = String::from_utf8_lossy(before).into_owned();
            let column = before.lines().last().unwrap_or_default().chars().count() + 1;
            changed(before.matches('\n').count() + 1, column, "this is not UTF-8 text".to_owned())
        })?;
        let paper: Self = serde_json::from_str(&text).map_err(|why| {
            changed(why.line().max(1), why.column().max(1), format!("this is no paper: {why}"))
        })?;
        if paper.probeworthy_paper != FORMAT {
            let what = format!("format {} is not one that this program reads", paper.probeworthy_paper);
            return Err(changed(2, 1, what));
        }
        let known = blake3::hash(&paper.content()).to_hex().to_string();
        if known != paper.check || paper.text() != text {
            return Err(changed(1, 1, "this paper is not as it was written".to_owned()));
        }
        Ok(paper)
    }

    /// The key that a passphrase makes, if it is the right one and nothing of the paper was changed.
    ///
    /// # Errors
    /// [`PaperError::Passphrase`]; `path` is only for the message.
    pub fn open(&self, passphrase: &str, path: &Path) -> Result<PaperKey, PaperError> {
        PaperKey::of(passphrase, &self.terms.salt, self.terms.hardness)
            .filter(|key| key.stamped(&self.content(), &self.stamp))
            .ok_or_else(|| PaperError::Passphrase(path.to_owned()))
    }

    /// A candidate by name.
    ///
    /// # Errors
    /// [`PaperError::NoCandidate`].
    pub fn candidate(&self, name: &str) -> Result<&Candidate, PaperError> {
        self.candidates.iter().find(|candidate| candidate.name == name).ok_or_else(|| {
            let names = self.candidates.iter().map(|candidate| candidate.name.as_str());
            PaperError::NoCandidate { name: name.to_owned(), near: nearest(name, names).map(str::to_owned) }
        })
    }

    /// The seed of a job, opened. `None` where it does not open.
    #[must_use]
    pub fn seed(key: &PaperKey, job: &PaperJob, sealed: &str) -> Option<u64> {
        let bytes = key.open(sealed, &job.bound_to())?;
        Some(u64::from_le_bytes(bytes.try_into().ok()?))
    }
}
