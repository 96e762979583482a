//! Probeworthy: a vehicle's rear with one hidden, seeded fault in a real circuit model, and everything that a learner
//! can do to find it.
//!
//! Floors, from below; a lower one never names a higher one:
//!
//! - [`threads`]: work on several threads
//! - [`circuit`]: networks of elements and their operating point
//! - [`vehicle`]: loom, connectors, modules, mechanisms; their state; how they deviate from sound
//! - [`fault`]: faults in their places, and the seeded draw
//! - [`bench`]: instruments and acts; [`bench::step`] is the one way in which anything changes
//! - [`written`], [`scenario`]: files as authors write them, checked and resolved
//! - [`job`]: one job in progress
//! - [`reasoning`]: what can still be wrong, what each test is worth, what is best done next
//! - [`survey`]: whether a scenario is fair
//! - [`marks`]: what a job is worth
//! - [`practice`]: how far a learner has come, and what is best practised next
//! - [`learners`]: machine learners of known skill, and whether marks tell them apart
//! - [`diagram`]: the wiring diagram, laid out from the vehicle
//! - [`words`]: every text that a user reads, and the commands
//! - [`paper`]: assessment papers
//! - [`record`]: records of jobs: written, resumed, verified
//! - [`class`]: a class's records on one page
//! - [`desk`]: the text front end
//!
//! The window is a module of the program and not of this library: nothing here knows a screen.

pub mod bench;
pub mod circuit;
pub mod class;
pub mod desk;
pub mod diagram;
pub mod fault;
pub mod job;
pub mod learners;
pub mod marks;
pub mod paper;
pub mod practice;
pub mod reasoning;
pub mod record;
pub mod scenario;
pub mod survey;
pub mod threads;
pub mod vehicle;
pub mod words;
pub mod written;
