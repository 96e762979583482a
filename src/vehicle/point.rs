//! Where a lead can be put.

use super::ids::{ConnectorId, FuseId, PartId, StudId};
use super::model::Side;

/// Which half of a connector.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Half {
    /// The half on the loom; of two loom halves, the one nearer to the body.
    Loom,
    /// The half it mates with: a part's own pins, or the other loom's half.
    Mate,
}

/// A point that a lead can touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Point {
    /// A cavity of a connector's half: from behind while it is mated, from the front while it is open.
    Cavity(ConnectorId, Half, u8),
    /// A fuse slot's clip.
    Fuse(FuseId, Side),
    /// The bare thread of a stud.
    Stud(StudId),
    /// Bare metal of the body, away from any stud.
    Body,
    /// The battery's plus post.
    BatteryPlus,
    /// The battery's minus post.
    BatteryMinus,
    /// A heated screen's line, counted from 1, at one of the places where its sections meet: 0 at the bar that is fed.
    Line(PartId, u8, u8),
    /// The plus contact of the key's cell.
    KeyPlus,
    /// The minus contact of the key's cell.
    KeyMinus,
}
