//! The bench: instruments, what a learner can do, and what each act costs and shows.
//!
//! [`step`] is the one way in which anything changes: the scene, the text desk, a script, a replay and the reasoning
//! all go through it. It is pure but for a [`Chance`], which a job draws from its seed.

mod action;
mod chance;
mod cost;
mod customer;
mod display;
mod kit;
mod outcome;
mod step;
mod work;
mod world;

pub use action::{
    Action, FuseWork, LampSize, Lead, LidTo, MeterSetting, Precaution, Question, Repair, Splice, Tool,
    WriteUpLine,
};
pub use chance::{Certain, Chance};
pub use display::shown;
pub use kit::{Clip, Kit, Meter};
pub use outcome::{
    Answer, Caution, Display, FuseLook, Heard, LoomLook, Moment, MotorState, Outcome, Reading, Refusal,
    Scale, Seen, StudLook, TerminalLook, TugResult, Unit,
};
pub use step::step;
pub use world::{Rest, World};
