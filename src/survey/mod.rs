//! Is a scenario fair? Sits above everything that plays a job.

mod complaint;

pub use complaint::{CannotComplain, ShutWhenSound, fails, gives_complaint, opens_when_sound};
