//! What physically differs from a sound vehicle. A fault is a set of these.

use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PartId};
use super::part::KeyButton;
use super::point::Half;

/// When a deviation is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// At all times.
    Always,
    /// While the lid is below this angle, in degrees above shut.
    LidBelow(f64),
    /// While the lid is above this angle, in degrees above shut.
    LidAbove(f64),
    /// While the lid is between these angles, in degrees above shut.
    LidBetween(f64, f64),
    /// It changes over, with this probability, while the loom is flexed where it sits, and settles anew, there with the same
    /// probability, once the lid has moved.
    Flexed(f64),
    /// It settles anew, there with this probability, whenever the lid is slammed or somebody knocks next to it.
    Shaken(f64),
    /// It settles anew, there with this probability, whenever the motor that it sits in has come to stand or somebody
    /// knocks on it.
    Turned(f64),
    /// While the place is colder than this, in °C.
    ColderThan(f64),
    /// While the place is warmer than this, in °C.
    WarmerThan(f64),
    /// While the vehicle is wet.
    Wet,
}

/// What a place on the vehicle is exposed to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// The lid's angle above shut, in degrees.
    pub lid_degrees: f64,
    /// The place's temperature, in °C.
    pub celsius: f64,
    /// The vehicle is wet.
    pub wet: bool,
}

impl When {
    /// How far the lid has to move past an angle before a contact there changes again, in degrees.
    const HYSTERESIS_DEGREES: f64 = 2.0;
    /// The same for temperature, in °C.
    const HYSTERESIS_CELSIUS: f64 = 3.0;

    /// Whether the deviation is there in this exposure, given whether it was until now.
    #[must_use]
    pub fn holds(self, exposure: Exposure, until_now: bool) -> bool {
        let degrees = exposure.lid_degrees;
        let margin = if until_now { Self::HYSTERESIS_DEGREES } else { 0.0 };
        let lag = if until_now { Self::HYSTERESIS_CELSIUS } else { 0.0 };
        match self {
            Self::Always => true,
            Self::LidBelow(edge) => degrees < edge + margin,
            Self::LidAbove(edge) => degrees > edge - margin,
            Self::LidBetween(low, high) => degrees > low - margin && degrees < high + margin,
            Self::Flexed(_) | Self::Shaken(_) | Self::Turned(_) => until_now,
            Self::ColderThan(edge) => exposure.celsius < edge + lag,
            Self::WarmerThan(edge) => exposure.celsius > edge - lag,
            Self::Wet => exposure.wet,
        }
    }
}

/// A switch or contact that does not follow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stuck {
    /// Never closes.
    Open,
    /// Never opens.
    Closed,
}

/// One physical difference from sound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deviation {
    /// A piece of a conductor has this much more resistance, in ohms; infinite: parted.
    Series {
        /// The conductor.
        conductor: ConductorId,
        /// The piece.
        piece: usize,
        /// Added resistance, in ohms.
        ohms: f64,
        /// When.
        when: When,
    },
    /// A piece of a conductor has been twisted together and taped: some resistance, and open when it is flexed.
    Twisted {
        /// The conductor.
        conductor: ConductorId,
        /// The piece.
        piece: usize,
    },
    /// A conductor is chafed through to the body where a piece begins.
    ToBody {
        /// The conductor.
        conductor: ConductorId,
        /// The piece.
        piece: usize,
        /// Resistance of the path, in ohms.
        ohms: f64,
        /// When.
        when: When,
    },
    /// Only some strands of a piece are left: clean copper, so milliohms; too much current melts them.
    Strands {
        /// The conductor.
        conductor: ConductorId,
        /// The piece.
        piece: usize,
        /// How many strands are left.
        left: u8,
        /// Of how many.
        of: u8,
        /// When.
        when: When,
    },
    /// Two conductors touch, or water joins them, at a station that both pass.
    Between {
        /// One conductor.
        conductor: ConductorId,
        /// Its piece that begins at the station.
        piece: usize,
        /// The other conductor.
        other: ConductorId,
        /// The piece of the other that begins there.
        other_piece: usize,
        /// Resistance of the path, in ohms.
        ohms: f64,
        /// When.
        when: When,
    },
    /// A contact in a cavity has this much more resistance, in ohms; infinite: it does not touch.
    Contact {
        /// The connector.
        connector: ConnectorId,
        /// The cavity.
        cavity: u8,
        /// Added resistance, in ohms.
        ohms: f64,
        /// When.
        when: When,
        /// What it looks like from the front.
        look: ContactLook,
    },
    /// The connector's halves are not fully home: this contact does not touch until they are pushed together.
    HalfSeated {
        /// The connector.
        connector: ConnectorId,
        /// The cavity.
        cavity: u8,
    },
    /// Two terminals sit in each other's cavity.
    Crossed {
        /// The connector.
        connector: ConnectorId,
        /// The half.
        half: Half,
        /// One cavity.
        first: u8,
        /// The other cavity.
        second: u8,
    },
    /// A fuse's clips add this much resistance, in ohms; infinite: they do not touch.
    Clips {
        /// The slot.
        fuse: FuseId,
        /// Added resistance, in ohms.
        ohms: f64,
    },
    /// An eyelet and its stud have this much more resistance between them, in ohms; infinite: it is off.
    Stud {
        /// The eyelet.
        eyelet: EyeletId,
        /// Added resistance, in ohms.
        ohms: f64,
        /// It can be turned by hand.
        loose: bool,
    },
    /// A lamp's filament is broken.
    LampOpen(PartId),
    /// A switch does not follow.
    Switch(PartId, Stuck),
    /// A switch's contacts have grown a film.
    Film {
        /// The switch.
        part: PartId,
        /// Resistance of the film, in ohms.
        ohms: f64,
        /// A current of this and more, in amps, breaks it through, until the contacts part again.
        wetting_amps: f64,
    },
    /// A latch's switch for 'open' does not follow.
    AjarSwitch(PartId, Stuck),
    /// The winding of a motor, solenoid or relay has this resistance at 20 °C instead, in ohms; infinite: broken.
    Winding(PartId, f64),
    /// A motor's brushes stand on a worn place of the commutator: there with this probability after each turn.
    DeadSpot(PartId, f64),
    /// A motor or solenoid needs this current to move at all, in amps.
    Stiff(PartId, f64),
    /// A mechanism does not move, by motor or lever.
    Jammed(PartId),
    /// A part with two pins has no path inside: a diode, a resistor, a lamp of diodes.
    PartOpen(PartId),
    /// A part with two pins is this many ohms inside instead.
    PartShorted(PartId, f64),
    /// A section of a heated screen's line is broken; lines and sections count from 1, sections from the fed bar.
    LineBroken(PartId, u8, u8),
    /// A relay's working contact is burnt: this many ohms more.
    ContactBurnt(PartId, f64),
    /// A relay's working contact is welded shut.
    ContactWelded(PartId),
    /// The lever's cable is off its hook.
    LeverOff,
    /// A module's output never closes.
    OutputDead(PartId, usize),
    /// A module's output never opens.
    OutputStuck(PartId, usize),
    /// A module never falls asleep.
    NeverSleeps(PartId),
    /// A module does not hear one of its inputs.
    InputDeaf(PartId, usize),
    /// A module does not hear the key.
    ReceiverDeaf(PartId),
    /// The key's cell is this instead: volts, ohms.
    KeyCell(f64, f64),
    /// A button of the key does nothing.
    KeyButton(KeyButton),
    /// The battery is this instead: volts, ohms.
    Battery(f64, f64),
}

/// What a bad contact looks like from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ContactLook {
    /// The terminal stands back.
    PushedBack,
    /// Its spring has opened.
    Spread,
    /// Green.
    Corroded,
    /// The pin of the other half stands aside, and misses its socket.
    Bent,
}

impl Deviation {
    /// Resistance of a twisted joint that holds, in ohms, and how often it opens when it is flexed (common practice, no
    /// source).
    pub(super) const TWISTED_OHMS: f64 = 0.3;
    const TWISTED_OPENS: f64 = 0.3;

    /// When it is there.
    #[must_use]
    pub fn when(&self) -> When {
        match *self {
            Self::Series { when, .. }
            | Self::ToBody { when, .. }
            | Self::Strands { when, .. }
            | Self::Between { when, .. }
            | Self::Contact { when, .. } => when,
            Self::DeadSpot(_, share) => When::Turned(share),
            Self::Twisted { .. } => When::Flexed(Self::TWISTED_OPENS),
            _ => When::Always,
        }
    }

    /// Whether it sits in this piece of this conductor; of two conductors that touch, in either.
    #[must_use]
    pub fn is_in_piece(&self, conductor: ConductorId, piece: usize) -> bool {
        let other = match *self {
            Self::Between { other, other_piece, .. } => Some((other, other_piece)),
            _ => None,
        };
        [self.piece(), other].contains(&Some((conductor, piece)))
    }

    /// The connector in which it sits, if it sits in one.
    #[must_use]
    pub fn connector(&self) -> Option<ConnectorId> {
        match *self {
            Self::Contact { connector, .. }
            | Self::HalfSeated { connector, .. }
            | Self::Crossed { connector, .. } => Some(connector),
            _ => None,
        }
    }

    /// The part in which it sits, if it sits in one.
    #[must_use]
    pub fn part(&self) -> Option<PartId> {
        match *self {
            Self::LampOpen(part)
            | Self::Switch(part, _)
            | Self::Film { part, .. }
            | Self::AjarSwitch(part, _)
            | Self::Winding(part, _)
            | Self::DeadSpot(part, _)
            | Self::Stiff(part, _)
            | Self::Jammed(part)
            | Self::PartOpen(part)
            | Self::PartShorted(part, _)
            | Self::LineBroken(part, ..)
            | Self::ContactBurnt(part, _)
            | Self::ContactWelded(part)
            | Self::OutputDead(part, _)
            | Self::OutputStuck(part, _)
            | Self::NeverSleeps(part)
            | Self::InputDeaf(part, _)
            | Self::ReceiverDeaf(part) => Some(part),
            _ => None,
        }
    }

    /// The conductor and piece in which it sits, if it sits in a conductor.
    #[must_use]
    pub fn piece(&self) -> Option<(ConductorId, usize)> {
        match *self {
            Self::Series { conductor, piece, .. }
            | Self::Strands { conductor, piece, .. }
            | Self::Between { conductor, piece, .. }
            | Self::Twisted { conductor, piece }
            | Self::ToBody { conductor, piece, .. } => Some((conductor, piece)),
            _ => None,
        }
    }
}
