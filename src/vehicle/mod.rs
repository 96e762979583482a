//! A vehicle: its loom, connectors, modules and mechanisms; the state it is in; and how it deviates from sound.
//!
//! [`Vehicle`] is what the file says. [`PhysicalState`] is what can change. [`Wiring`] turns both into a circuit, and
//! [`run`] lets time pass in it: a command is a row of phases that end at events.

mod command;
mod deviation;
mod ids;
mod model;
mod point;
mod run;
mod state;
mod wiring;

pub use command::{Pressed, Response, ask_by_inputs, is_low, low_inputs, press, still, watch};
pub use deviation::{ContactLook, Deviation, Stuck, When};
pub use ids::{ConductorId, ConnectorId, EyeletId, FuseId, PanelId, PartId, SpliceId, StationId, StudId};
pub use model::{
    Battery, Conductor, Connector, Effect, End, Eyelet, FuseSlot, Input, Key, KeyButton, Latch, Leakage, Lid,
    Mate, Module, Monitor, MonitorKind, Motor, Output, Panel, Part, PartKind, Reach, Rule, Run, Side, Splice,
    Station, Stud, Trigger, Vehicle, Zone,
};
pub use point::{Half, Point};
pub use run::{Drive, Event, Phase, ToolFuses, run};
pub(crate) use run::{module_works, release};
pub use state::{Deviated, FuseBody, LidPosition, Obstacle, PhysicalState, Slot};
pub use wiring::{Mode, Wiring};
