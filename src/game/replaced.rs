//! Files that are written anew as a whole.

use std::fs::File;
use std::io::{self, Write as _};
use std::path::Path;

/// Puts a text in the place of a file's, so that never half of it stands there. A file that is there keeps its
/// permissions; a link stays one, and what it leads to is replaced.
pub(super) fn write(path: &Path, text: &str) -> io::Result<()> {
    let path = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let beside = path.with_extension("ron.new");
    let replaced = put_in_place(&path, &beside, text);
    if replaced.is_err() {
        // It may not even have been made; why it failed is told anyway.
        let _ = std::fs::remove_file(&beside);
    }
    replaced
}

fn put_in_place(path: &Path, beside: &Path, text: &str) -> io::Result<()> {
    let mut file = File::create(beside)?;
    file.write_all(text.as_bytes())?;
    if let Ok(there) = std::fs::metadata(path) {
        file.set_permissions(there.permissions())?;
    }
    // On the disk before it takes the place of what is there.
    file.sync_all()?;
    std::fs::rename(beside, path)
}
