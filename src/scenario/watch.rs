//! A scenario's file that somebody is writing: read again whenever it, or its vehicle's, has changed.

use std::path::{Path, PathBuf};

use super::load::{LoadError, Loaded, load_text};
use crate::written::{FileError, SourceFile};

/// A file that is looked at now and then.
#[derive(Debug)]
pub struct Watch {
    path: PathBuf,
    /// The scenario's file and its vehicle's, and what they last held.
    seen: Vec<(PathBuf, Option<String>)>,
}

impl Watch {
    /// Nothing has been looked at yet.
    #[must_use]
    pub fn new(path: &Path) -> Self {
        Self { path: path.to_owned(), seen: Vec::new() }
    }

    /// The scenario's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What the scenario's file held when it was last looked at.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        self.seen.first()?.1.as_deref()
    }

    /// Looks at the files: the scenario as it now is where one has changed since, `None` where none has. The first look
    /// finds everything changed.
    ///
    /// # Errors
    /// Within: [`LoadError`], as of `load`.
    pub fn look(&mut self) -> Option<Result<Loaded, LoadError>> {
        let same = |(path, then): &(PathBuf, Option<String>)| held(path).ok() == *then;
        if !self.seen.is_empty() && self.seen.iter().all(same) {
            return None;
        }
        let text = held(&self.path);
        let others: Vec<PathBuf> = self.seen.iter().skip(1).map(|(path, _)| path.clone()).collect();
        self.seen = vec![(self.path.clone(), text.as_ref().ok().cloned())];
        let loaded = match text {
            Ok(text) => load_text(&self.path, &text),
            Err(error) => Err(LoadError::File(error)),
        };
        // A file with a slip in it does not tell its vehicle: the one of before is still looked at.
        let others = match &loaded {
            Ok(loaded) => loaded.vehicle_file.iter().cloned().collect(),
            Err(LoadError::Problems(files)) if files.iter().any(|one| one.file.path != self.path) => {
                files.iter().map(|one| one.file.path.clone()).filter(|path| *path != self.path).collect()
            }
            Err(_) => others,
        };
        self.seen.extend(others.into_iter().map(|path| {
            let text = held(&path).ok();
            (path, text)
        }));
        Some(loaded)
    }
}

fn held(path: &Path) -> Result<String, FileError> {
    SourceFile::read(path).map(|file| file.text)
}
