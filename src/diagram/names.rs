//! Words of the diagram's own, in the language of whoever reads it.

/// What stands beside symbols and pins that have no title in the vehicle's file, and the language of those that have one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Names {
    /// The tag of the language in which the vehicle's titles are written; `None`: as its file has them.
    pub titles_in: Option<&'static str>,
    /// The battery.
    pub battery: &'static str,
    /// A module's supply.
    pub supply: &'static str,
    /// A module's ground.
    pub ground: &'static str,
    /// The feed of a module's output.
    pub feed: &'static str,
    /// A pin on which all that is in a box hangs.
    pub common: &'static str,
    /// A relay's coil.
    pub coil: &'static str,
    /// A relay's contact.
    pub contact: &'static str,
    /// A latch's motor or solenoid.
    pub drive: &'static str,
    /// A latch's switch that is closed while it is open.
    pub ajar: &'static str,
    /// A latch's contact that is closed while its claw is home.
    pub claw_home: &'static str,
}
