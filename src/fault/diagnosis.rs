//! A fault as a person names it: what, in what way, and where.

use crate::vehicle::{ConductorId, ConnectorId, FuseId, PartId, StationId, StudId};

/// What kind of fault a learner names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
pub enum FaultKind {
    /// No path where there should be one.
    Open,
    /// A path with too much resistance.
    HighResistance,
    /// A path to ground that should not be there.
    ShortToGround,
    /// A path from one conductor to another that should not be there.
    ShortBetween,
    /// A path inside a part that leaves out some of it.
    ShortInside,
    /// Two conductors changed over.
    Crossed,
    /// A fuse that has blown of itself, with nothing wrong behind it.
    Blown,
    /// A part of the wrong size or type.
    WrongPart,
    /// Loose: it touches when it likes.
    Loose,
    /// Moves, but too hard for its motor.
    Stiff,
    /// Does not move at all.
    Jammed,
    /// Worn: it works where it happens to touch.
    Worn,
    /// Never lets go.
    StuckOn,
    /// Never falls asleep.
    StaysAwake,
    /// Has what it needs, and gives nothing.
    Dead,
    /// Is told, and does not hear.
    Deaf,
    /// Too little charge.
    Flat,
    /// A setting that disables the function.
    SettingLeftOn,
}

impl FaultKind {
    /// All kinds.
    pub const ALL: [Self; 18] = [
        Self::Open,
        Self::HighResistance,
        Self::ShortToGround,
        Self::ShortBetween,
        Self::ShortInside,
        Self::Crossed,
        Self::Blown,
        Self::WrongPart,
        Self::Loose,
        Self::Stiff,
        Self::Jammed,
        Self::Worn,
        Self::StuckOn,
        Self::StaysAwake,
        Self::Dead,
        Self::Deaf,
        Self::Flat,
        Self::SettingLeftOn,
    ];
}

/// What a named fault sits on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Component {
    /// A conductor of the loom.
    Conductor(ConductorId),
    /// A connector and its terminals.
    Connector(ConnectorId),
    /// A part.
    Part(PartId),
    /// A fuse and its clips.
    Fuse(FuseId),
    /// A ground stud and what is bolted to it.
    Stud(StudId),
    /// The key.
    Key,
    /// The battery.
    Battery,
    /// The setting that locks the lid's release out.
    Lockout,
}

/// Where on its component a named fault sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// The component as a whole.
    Whole,
    /// At a station of the loom.
    Station(StationId),
    /// At a cavity of the connector.
    Cavity(u8),
    /// In a section of a heated screen's line; both count from 1, sections from the bar that is fed.
    Line(u8, u8),
}

/// What the learner says is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Diagnosis {
    /// What is faulty.
    pub component: Component,
    /// In what way.
    pub kind: FaultKind,
    /// Where on it.
    pub spot: Spot,
}
