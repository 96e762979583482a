//! Is a scenario fair? Sits above everything that plays a job.

mod complaint;

pub use complaint::{CannotComplain, gives_complaint};
