//! Tests of the vehicle on the bench: acts, instruments, time.

#[path = "../common/acts.rs"]
mod acts;
#[path = "../common/mod.rs"]
mod common;

mod commands;
mod flagship_truths;
mod instruments;
mod passing_time;
mod properties;
mod proving;
mod sheet;
mod two_at_once;
mod voltmeter;
