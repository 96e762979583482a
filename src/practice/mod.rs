//! What a learner has practised, how it went by skill, and what is best practised next.

mod lesson;
mod plan;
mod skill;

pub use lesson::{in_order, shelf_lessons};
pub use plan::{Done, Lesson, Next, Why, next_jobs};
pub use skill::{Progress, Skill, progress};
