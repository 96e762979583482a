//! What a wiring diagram shows, one by one.

use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PartId, SpliceId, StationId, StudId};

/// Something of a vehicle that its wiring diagram shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// The battery, its plus post and the rail that stands for it.
    Battery,
    /// A fuse in its slot.
    Fuse(FuseId),
    /// A conductor.
    Conductor(ConductorId),
    /// Where a conductor passes a station.
    Station(ConductorId, StationId),
    /// A cavity of a connector.
    Cavity(ConnectorId, u8),
    /// A connector as a whole.
    Connector(ConnectorId),
    /// A part.
    Part(PartId),
    /// A splice.
    Splice(SpliceId),
    /// A ring terminal.
    Eyelet(EyeletId),
    /// A ground stud.
    Stud(StudId),
    /// Where a conductor is joined with the body.
    Body(ConductorId),
}
