//! The circuit: networks of elements, their operating point, and what is seen at a pair of leads.
//!
//! A [`Network`] is a fixed topology. Its unknowns are node voltages; ideal sources join nodes into rigid groups, so
//! that the matrix is always a grounded Laplacian with positive conductances. It is factored by [`ldl`] without any
//! subtraction, which makes floating pieces an exact zero and near-floating ones accurate. Curved elements are found by
//! Newton's method on a convex function, with steps cut short where they overshoot. Instruments meet the network at its
//! [`PortModel`].

mod battery;
mod bend;
mod companions;
mod dynamic;
mod electrical;
mod element;
mod fuse;
mod ldl;
mod loaded;
mod network;
mod point;
mod ports;
mod solve;
pub(crate) mod spare;
mod strand;
mod trace;
mod transient;
mod unsolved;
mod waveform;

pub use battery::{battery_cold_factor, battery_empty_factor, battery_open_volts};
pub use dynamic::{Dynamic, Memory};
pub use electrical::{Electrical, Snapshot};
pub use element::{Diode, Filament, Law, Limited, WarmFuse};
pub use fuse::{FUSE_RATINGS_AMPS, cold_resistance_ohms, opening_seconds, warm_fuse};
pub use loaded::{LoadedNetwork, LoadedWhenNeeded};
pub use network::{Branch, Network, NetworkBuilder, Node, Source};
pub use point::{Load, LoadPoint, OperatingPoint, Port};
pub use ports::PortModel;
pub use solve::{Workspace, operating_point};
pub use strand::{strand_heat, strand_melting_seconds};
pub use trace::{Notes, Trace};
pub use transient::{Event, Instant, Transient};
pub use unsolved::Unsolved;
pub use waveform::Waveform;
