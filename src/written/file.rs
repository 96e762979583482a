//! The file itself, and its problems shown in it.

use std::error::Error;
use std::fmt::{self, Display, Formatter};
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::Problem;

/// The most a file may hold. That is many times a large vehicle, and a syntax tree takes some hundred
/// times the memory of its text.
const LARGEST: usize = 1 << 20;

/// One file's text, with the path to show for it.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// As the user named it.
    pub path: PathBuf,
    /// Without a byte-order mark; see [`SourceFile::new`].
    pub text: String,
}

impl SourceFile {
    /// A file whose text is at hand. A byte-order mark is dropped, being no part of the first line.
    pub fn new(path: impl Into<PathBuf>, text: &str) -> Self {
        Self { path: path.into(), text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned() }
    }

    /// Reads a file.
    pub fn read(path: &Path) -> Result<Self, FileError> {
        let mut bytes = Vec::new();
        // One byte more than allowed tells a file that is too large without reading all of it.
        File::open(path)
            .and_then(|file| file.take(LARGEST as u64 + 1).read_to_end(&mut bytes))
            .map_err(|error| FileError::Unreadable { path: path.into(), why: error.to_string() })?;
        if bytes.len() > LARGEST {
            return Err(FileError::TooLarge { path: path.into() });
        }
        match str::from_utf8(&bytes) {
            Ok(text) => Ok(Self::new(path, text)),
            Err(error) => {
                let valid = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
                let before = Self::new(path, &valid);
                let (line, column) = before.line_column(before.text.len());
                Err(FileError::NotUtf8 { path: path.into(), line, column })
            }
        }
    }

    /// The line and column of a byte, both from 1; columns count characters.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let before = &self.text[..self.text.floor_char_boundary(offset)];
        let line = before.rsplit('\n').next().unwrap_or_default();
        (before.matches('\n').count() + 1, line.chars().count() + 1)
    }
}

/// Why a file could not be read at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileError {
    /// The system refused it.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        why: String,
    },
    /// It is not text, or is in another encoding.
    NotUtf8 {
        /// The file.
        path: PathBuf,
        /// The line of the first byte that is wrong.
        line: usize,
        /// Its column.
        column: usize,
    },
    /// It holds more than any sensible file.
    TooLarge {
        /// The file.
        path: PathBuf,
    },
}

impl Display for FileError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let (Self::Unreadable { path, .. } | Self::NotUtf8 { path, .. } | Self::TooLarge { path }) = self;
        let path = path.display();
        match self {
            Self::Unreadable { why, .. } => {
                write!(f, "{path}: the file cannot be read ({why}); check its name and who may read it")
            }
            Self::NotUtf8 { line, column, .. } => {
                write!(f, "{path}:{line}:{column}: this is not UTF-8 text; save the file as UTF-8")
            }
            Self::TooLarge { .. } => {
                write!(f, "{path}: the file is larger than {} MB; take out what is not needed", LARGEST >> 20)
            }
        }
    }
}

impl Error for FileError {}

/// The problem as shown to its reader: `PATH:LINE:COLUMN: what` for editors and other tools, the
/// line with the place underlined, and the hint.
pub fn report(file: &SourceFile, problem: &Problem, colour: bool) -> String {
    let text = &file.text;
    let start = text.floor_char_boundary(problem.span.start);
    let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let (number, column) = file.line_column(start);
    // Only the first line of a long place: the beginning of a record says which one it is.
    let line = text[line_start..].lines().next().unwrap_or_default();
    let start = (start - line_start).min(line.len());
    let end = line.floor_char_boundary(problem.span.end.saturating_sub(line_start)).max(start);

    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let place = AnnotationKind::Primary.span(start..end);
    let snippet = Snippet::source(line).line_start(number).annotation(place);
    let excerpt = renderer.render(&[Group::with_level(Level::ERROR).element(snippet)]);
    format!(
        "{}:{number}:{column}: {}\n{excerpt}\nhint: {}",
        file.path.display(),
        printable(&problem.what),
        printable(&problem.hint),
    )
}

/// The text with control characters spelt out, so that a name out of a file neither breaks the line
/// of a report nor commands the terminal.
pub(super) fn printable(text: &str) -> String {
    text.chars().fold(String::new(), |mut out, letter| {
        match letter {
            letter if letter.is_control() => out.extend(letter.escape_default()),
            letter => out.push(letter),
        }
        out
    })
}
