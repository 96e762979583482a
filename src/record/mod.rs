//! Records: one file a job, in JSON Lines, written as the job goes and read back to resume, verify or explain it.
//!
//! The format is open; `README.md` beside this file describes it. Each line holds the hash of the line before. The draw of
//! a practice job is obscured, so that nobody reads the fault off a file by accident; more than that is not claimed.

mod clock;
mod closing;
mod draw;
mod error;
mod follow;
mod glance;
mod history;
mod kept;
mod keys;
mod line;
mod lines;
mod model;
mod recorder;
mod resume;
mod scan;
mod shown;
mod sitting;
mod verdict;
mod verify;

pub use clock::{Clock, SystemClock, read as read_time, written as written_time};
pub use closing::{Closing, JobResult, NamedFault, PartMarks, Worth};
pub use error::RecordError;
pub use follow::Break;
pub use glance::{Glance, is_in_use};
pub use history::history;
pub(crate) use history::{Skills, finding_share, proof_share};
pub use kept::{Kept, Standing, identity, kept, last_unfinished, put_away};
pub use keys::Key;
pub use line::{FORMAT, HeadVariation, Header, Seal, Step, link, signed};
pub use model::{OUTCOMES, SHOWN, model_hash};
pub use recorder::{Keeper, Recorder, default_folder, is_empty, start};
pub use resume::{replayed, resume};
pub use scan::{Scanned, scan};
pub use shown::{Figure, Shown};
pub use sitting::{SitError, Sitting, attempt_file, next_job, scenario_of_paper, sit};
pub use verdict::verdict_text;
pub use verify::{Replay, Verdict, Verifier};

/// A time of a record in milliseconds; 0 where there is none.
fn time_of(at: &str) -> u64 {
    clock::read(at).unwrap_or(0)
}
