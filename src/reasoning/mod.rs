//! What can still be wrong, what each test is worth, and what is best done next.
//!
//! - [`Suspects`]: a vehicle for everything that could be wrong, to which all is done that the learner does
//! - [`Outlook`]: what every test of the [`Menu`] would show under every suspect
//! - [`Posterior`]: how likely each is after what was observed
//! - [`Account`]: what each stretch of a job was worth
//! - [`Problem`], [`Planner`]: choosing tests and repairs, with nothing of vehicles in it

mod account;
mod advisor;
mod bound;
mod coach;
mod conductor_role;
mod inquiry;
mod menu;
mod outlook;
mod plan;
mod posterior;
mod problem;
mod rehearsal;
mod remedy;
pub mod score;
mod shows;
mod sorting;
mod stand;
mod suspects;
mod ways;
mod worth;

pub use account::{Account, Belief, Better, Charge, Open, Stretch};
pub use advisor::Advisor;
pub use bound::huffman_mean;
pub use coach::{Advice, Doubt, Means, Where, advice};
pub use inquiry::{Inquiry, MOST_EXPANSIONS, Moment, price_minutes};
pub use menu::{Menu, Test};
pub use outlook::{Foreseen, Outlook};
pub use plan::{Node, Plan, Planner};
pub use posterior::{POSSIBLE_SHARE, Posterior, entropy_bits};
pub use problem::{Candidate, Column, Mend, Move, Problem};
pub use remedy::Remedy;
pub use shows::{Figure, Shows, classes};
pub use stand::Stand;
pub use suspects::{LAPSE, OUTSIDE_SHARE, SOUND_SHARE, Suspect, SuspectKind, Suspects, Weighed};
pub use ways::every_way;
pub use worth::Worth;
