//! The bench: instruments, what a learner can do, and what each act costs and shows.
//!
//! [`step`] is the one way in which anything changes: the scene, the text desk, a script, a replay and the reasoning
//! all go through it. It is pure but for a [`Chance`], which a job draws from its seed.

mod accuracy;
mod action;
mod chance;
mod clamp;
mod cost;
mod customer;
mod display;
mod kit;
mod looks;
mod meter;
mod outcome;
mod probing;
mod provoke;
mod recorder;
mod runs;
mod sampling;
mod shared;
mod step;
mod sweep;
mod work;
mod world;

pub use accuracy::{Accuracy, InstrumentErrors};
pub use action::{
    Action, ClampPlace, FuseWork, KitItem, LONGEST_WAIT_MINUTES, LampSize, Lead, LidTo, Marking,
    MeterSetting, Place, Precaution, Question, Repair, Rung, Splice, Tool, WriteUpLine,
};
pub use chance::{Certain, Chance};
pub use clamp::Clamp;
pub use cost::{UNITS_AN_HOUR, minutes, most_agreed, price};
pub use kit::{Clip, Kit};
pub use meter::Meter;
pub use outcome::{
    Answer, Caution, ClampReading, Display, FuseLook, Heard, LoomLook, Moment, MotorState, Outcome, Reading,
    Refusal, Renewal, Scale, Seen, StudLook, TerminalLook, TugResult, Unit,
};
pub use recorder::{Recorder, Recording};
pub use step::{Ready, step};
pub use world::{Rest, World};
