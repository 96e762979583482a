//! The circuit: networks of elements, their operating point, and what is seen at a pair of leads.
//!
//! A [`Network`] is a fixed topology. Its unknowns are node voltages; ideal sources join nodes into rigid groups, so
//! that the matrix is always a grounded Laplacian with positive conductances. It is factored by [`ldl`] without any
//! subtraction, which makes floating pieces an exact zero and near-floating ones accurate. Curved elements (filaments)
//! are found by Newton's method on a convex function, with steps cut short where they overshoot.

mod element;
mod fuse;
mod ldl;
mod network;

pub use element::{Diode, Filament, Law, Limited, WarmFuse};
pub use fuse::{FUSE_RATINGS_AMPS, cold_resistance_ohms, opening_seconds, warm_fuse};
pub use network::{
    Branch, Load, LoadPoint, Network, NetworkBuilder, Node, OperatingPoint, Port, Source, Unsolved,
    operating_point,
};
