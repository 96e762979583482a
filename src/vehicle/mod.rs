//! A vehicle: its loom, connectors, modules and mechanisms; the state it is in; and how it deviates from sound.
//!
//! [`Vehicle`] is what the file says. [`PhysicalState`] is what can change. [`Wiring`] turns both into a circuit, and
//! [`run`] lets time pass in it: a command is a row of phases that end at events.

mod command;
mod deviation;
mod ids;
mod model;
mod part;
mod point;
mod ripple;
mod run;
mod sense;
mod state;
mod thing;
mod timers;
mod title;
mod wiring;

pub use command::{Pressed, Response, Scene, away_inputs, still, watch};
pub use deviation::{ContactLook, Deviation, Exposure, Stuck, When};
pub use ids::{ConductorId, ConnectorId, EyeletId, FuseId, PanelId, PartId, SpliceId, StationId, StudId};
pub use model::{
    Arrangement, BLADES_MILLIMETRES, Battery, Charging, Conductor, Connector, End, Eyelet, FuseSlot, Key,
    Leakage, Lid, Manner, Mate, Panel, Part, Reach, Run, Side, Splice, Station, Stud, Vehicle, Zone,
    copper_factor,
};
pub use part::{
    Driver, Effect, Input, KeyButton, Latch, Led, Module, Monitor, MonitorKind, Motor, OffTie, Output,
    OutputKind, PartKind, Pull, Relay, Rule, Screen, Suppression, Trigger,
};
pub use point::{Half, Point};
pub(crate) use run::release;
pub use run::{Event, Found, LastPoint, MOST_PHASES, Phase, Sample, ToolFuses, Turning, lights, sum_of};
pub(crate) use sense::module_works;
pub use sense::{held_outputs, is_away};
pub use state::{Conditions, Deviated, FuseBody, LidPosition, Obstacle, PartState, PhysicalState, Slot};
pub use thing::Thing;
pub use title::Title;
pub use wiring::{Commanded, Pace, Wiring};
