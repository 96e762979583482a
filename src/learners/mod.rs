//! Machine learners of known skill, and whether the marks tell them apart.
//!
//! - [`Learner`]: how one chooses what is done next
//! - [`play`]: a job from the cautions to the hand-in
//! - [`Validity`]: what the marks make of the learners over a scenario's pool
//! - [`Sample`]: means, effect sizes, and sets of jobs drawn again and again

mod choice;
mod play;
mod sample;
mod validity;

pub use choice::Learner;
pub use play::play;
pub use sample::{Sample, effect_size, ranked_rightly};
pub use validity::{JOBS_IN_A_SET, Jobs, Neighbours, Plan, Played, SETS, Standing, Validity};
