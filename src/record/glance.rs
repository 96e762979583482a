//! Whether anything has changed in a folder of records, seen from outside: none of them is read.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::recorder::numbers;

/// A folder's records by their names, lengths and times. Two glances that are equal have nothing written between them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Glance(Vec<(PathBuf, Option<(u64, SystemTime)>)>);

impl Glance {
    /// A glance at a folder.
    #[must_use]
    pub fn at(folder: &Path) -> Self {
        let seen = |path: &Path| {
            let file = std::fs::metadata(path).ok()?;
            Some((file.len(), file.modified().ok()?))
        };
        let files = numbers(folder).into_iter().map(|(_, path)| {
            let seen = seen(&path);
            (path, seen)
        });
        Self(files.collect())
    }
}

/// Whether a record is open just now, here or elsewhere. That it is closed again changes nothing in its file.
#[must_use]
pub fn is_in_use(path: &Path) -> bool {
    File::open(path).is_ok_and(|file| matches!(file.try_lock(), Err(TryLockError::WouldBlock)))
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;

    #[test]
    fn a_glance_sees_what_is_written_added_and_taken_away() {
        let folder = tempfile::tempdir().expect("a folder");
        let (first, second) = (folder.path().join("job-0001.jsonl"), folder.path().join("job-0002.jsonl"));
        std::fs::write(&first, "one\n").expect("written");
        let look = || Glance::at(folder.path());
        let before = look();
        assert_eq!(before, look(), "nothing has happened");
        // A bookmark is none of it.
        std::fs::write(folder.path().join("job-0001.ron"), "()").expect("written");
        assert_eq!(before, look());
        let mut open = File::options().append(true).open(&first).expect("it is there");
        open.write_all(b"two\n").expect("written");
        let longer = look();
        assert_ne!(before, longer, "it is longer");
        open.lock().expect("locked");
        assert!(is_in_use(&first), "it is open");
        drop(open);
        assert!(!is_in_use(&first), "it is not open any more");
        assert_eq!(longer, look(), "nothing has been written");
        std::fs::write(&second, "").expect("written");
        assert_ne!(longer, look(), "there is one more");
        std::fs::remove_file(&second).expect("removed");
        assert_eq!(longer, look());
        std::fs::remove_file(&first).expect("removed");
        assert_ne!(longer, look(), "it is not there any more");
    }
}
