//! Why a record could not be begun, read or resumed.

use std::io;
use std::path::PathBuf;

use crate::job::JobError;
use crate::scenario::LoadError;

/// Why a record could not be begun or resumed.
#[derive(Debug)]
pub enum RecordError {
    /// The file could not be made or written.
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// The file could not be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// Another window has this job open.
    InUse(PathBuf),
    /// The file is not a record, or damaged before its end.
    Damaged {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
        /// What is wrong with it.
        what: String,
    },
    /// The scenario has changed since.
    Changed {
        /// The file.
        path: PathBuf,
        /// The scenario.
        scenario: String,
    },
    /// It was made with another model.
    OtherModel {
        /// The file.
        path: PathBuf,
        /// The program's version that made it.
        program: String,
    },
    /// This program varies the scenario otherwise.
    OtherVariation {
        /// The file.
        path: PathBuf,
        /// The variation's number.
        number: u16,
    },
    /// It belongs to a paper, and its draw is sealed.
    Sealed {
        /// The file.
        path: PathBuf,
        /// Whose it is.
        candidate: String,
    },
    /// The scenario cannot be loaded any more.
    Scenario(LoadError),
    /// The job cannot be played.
    Job(JobError),
}

impl std::fmt::Display for RecordError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Io { path, why } if why.kind() == io::ErrorKind::AlreadyExists => {
                write!(f, "{}: this file is there already\nhint: name a new one", path.display())
            }
            Self::Io { path, why } => {
                write!(
                    f,
                    "{}: {why}\nhint: name a file in a folder that can be written (--record FILE), or play with --no-record",
                    path.display()
                )
            }
            Self::Unreadable { path, why } => {
                write!(f, "{}: {why}\nhint: name the file of a job that was kept", path.display())
            }
            Self::InUse(path) => {
                write!(
                    f,
                    "{}: this job is open in another window\nhint: close it there first",
                    path.display()
                )
            }
            Self::Damaged { path, line, column, what } => write!(
                f,
                "{}:{line}:{column}: {what}\nhint: a record is changed by no hand; begin the job anew",
                path.display()
            ),
            Self::Changed { path, scenario } => write!(
                f,
                "{}: the scenario \"{scenario}\" or its vehicle has changed since this job began\nhint: begin the job anew",
                path.display()
            ),
            Self::OtherModel { path, program } => write!(
                f,
                "{}: this job was begun with another model of vehicles, that of version {program} as it was then; this program would show other readings\nhint: go on with the program that began it, or begin the job anew; `probeworthy verify` still tells whether its chain is whole",
                path.display()
            ),
            Self::OtherVariation { path, number } => write!(
                f,
                "{}: variation {number} of its scenario is not what it was when this job began\nhint: go on with the program and the files that began it, or begin the job anew",
                path.display()
            ),
            Self::Sealed { path, candidate } => write!(
                f,
                "{0}: this job of {candidate} belongs to a paper, and its draw is sealed\nhint: `probeworthy paper sit PAPER --as NAME` goes on with it; verify, explain and debrief take --paper PAPER",
                path.display()
            ),
            Self::Scenario(error) => write!(f, "{error}"),
            Self::Job(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for RecordError {}
