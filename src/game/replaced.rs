//! Files that are written anew as a whole.

use std::ffi::OsString;
use std::fs::File;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// Puts a text or a picture in the place of a file's, so that never half of it stands there. A file that is there keeps its
/// permissions; a link stays one, and what it leads to is replaced.
pub(super) fn write(path: &Path, contents: impl AsRef<[u8]>) -> io::Result<()> {
    replace(path, contents.as_ref(), true)
}

/// The same without waiting for the disk: for what is written often, between two pictures, and can be done without.
pub(super) fn write_soon(path: &Path, contents: impl AsRef<[u8]>) -> io::Result<()> {
    replace(path, contents.as_ref(), false)
}

fn replace(path: &Path, contents: &[u8], wait: bool) -> io::Result<()> {
    let path = end_of_links(path);
    let beside = beside(&path);
    let replaced = put_in_place(&path, &beside, contents, wait);
    if replaced.is_err() {
        // It may not even have been made; why it failed is told anyway.
        let _ = std::fs::remove_file(&beside);
    }
    replaced
}

fn put_in_place(path: &Path, beside: &Path, contents: &[u8], wait: bool) -> io::Result<()> {
    let mut file = File::create(beside)?;
    file.write_all(contents)?;
    if let Ok(there) = std::fs::metadata(path) {
        file.set_permissions(there.permissions())?;
    }
    if wait {
        // On the disk before it takes the place of what is there.
        file.sync_all()?;
    }
    std::fs::rename(beside, path)
}

/// Whether a file could be written anew: asked before what is to stand in it is made. Nothing is left of the question.
pub(super) fn can_write(path: &Path) -> io::Result<()> {
    match std::fs::metadata(path) {
        Ok(there) if there.is_dir() => return Err(io::ErrorKind::IsADirectory.into()),
        // Putting a file in the place of a device would take that away.
        Ok(there) if !there.is_file() => return Err(io::ErrorKind::InvalidInput.into()),
        // One that may not be changed is left as it is.
        Ok(_) => _ = File::options().append(true).open(path)?,
        Err(_) => {}
    }
    let beside = beside(&end_of_links(path));
    File::create(&beside)?;
    std::fs::remove_file(&beside)
}

/// The file that a path leads to; the path itself where there is none.
fn end_of_links(path: &Path) -> PathBuf {
    path.canonicalize().unwrap_or_else(|_| path.to_owned())
}

/// Where it is written first.
fn beside(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".new");
    name.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<OsString> {
        let all = std::fs::read_dir(folder).expect("a folder");
        all.map(|entry| entry.expect("an entry").file_name()).collect()
    }

    #[test]
    fn a_file_is_replaced_as_a_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().expect("a folder for temporary files");
        let path = folder.path().join("settings.ron");
        for text in ["a longer text", "short"] {
            can_write(&path).expect("it can be written");
            write(&path, text).expect("it is written");
            assert_eq!(std::fs::read_to_string(&path).expect("it is there"), text);
            assert_eq!(names(folder.path()), ["settings.ron"]);
        }
    }

    #[test]
    fn where_a_file_cannot_be_written_nothing_is_left() {
        let folder = tempfile::tempdir().expect("a folder for temporary files");
        let path = folder.path();
        std::fs::write(path.join("file"), "kept").expect("a writable folder");
        std::fs::create_dir(path.join("folder.png")).expect("a writable folder");
        for name in ["nowhere/a.png", "file/a.png", "folder.png"] {
            let path = path.join(name);
            assert!(can_write(&path).is_err(), "{name}");
            assert!(write(&path, "text").is_err(), "{name}");
        }
        let mut left = names(path);
        left.sort();
        assert_eq!(left, ["file", "folder.png"]);
        assert_eq!(names(&path.join("folder.png")).len(), 0);
        assert_eq!(std::fs::read_to_string(path.join("file")).expect("it is there"), "kept");
    }
}
