//! Lines of a file, one after another.

use std::fs::File;
use std::io::{self, BufRead, BufReader};

/// Lines of a file: each without its end, and whether it has one.
pub(super) struct Lines(BufReader<File>);

/// A line, or the column at which it is not UTF-8 text; and whether it is whole.
pub(super) type FileLine = (Result<String, usize>, bool);

impl Lines {
    pub(super) fn new(file: BufReader<File>) -> Self {
        Self(file)
    }

    /// The next one; `None` at the end.
    pub(super) fn next(&mut self) -> io::Result<Option<FileLine>> {
        let mut bytes = Vec::new();
        if self.0.read_until(b'\n', &mut bytes)? == 0 {
            return Ok(None);
        }
        let whole = bytes.last() == Some(&b'\n');
        if whole {
            bytes.pop();
        }
        let text = String::from_utf8(bytes).map_err(|why| {
            let before = &why.as_bytes()[..why.utf8_error().valid_up_to()];
            String::from_utf8_lossy(before).chars().count() + 1
        });
        Ok(Some((text, whole)))
    }
}
