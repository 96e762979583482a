//! Files that are written anew as a whole.

use std::io;
use std::path::Path;

/// Puts a text in the place of a file's, so that never half of it stands there. A file that is there keeps its
/// permissions; a link stays one, and what it leads to is replaced.
pub(super) fn write(path: &Path, text: &str) -> io::Result<()> {
    let path = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let beside = path.with_extension("ron.new");
    std::fs::write(&beside, text)?;
    if let Ok(there) = std::fs::metadata(&path) {
        std::fs::set_permissions(&beside, there.permissions())?;
    }
    std::fs::rename(&beside, &path)
}
