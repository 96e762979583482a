//! Is a scenario fair? Sits above everything that plays a job.

mod apart;
mod branch;
mod check;
mod complaint;
mod confirm;
mod fairness;
mod signature;

pub use apart::{Inseparable, Separator};
pub use branch::{Branch, Choice};
pub use check::{pool_problems, repair_minutes};
pub(crate) use complaint::ever_fails_on;
pub use complaint::{CannotComplain, ShutWhenSound, Trials, fails, gives_complaint, opens_when_sound};
pub use confirm::{CannotConfirm, Unconfirmable};
pub use fairness::{FirstTest, MOST_BRANCHES, Survey, difficulty};
pub use signature::signature;
