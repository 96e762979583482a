//! Parts: what each kind is electrically, and what a module's pins and logic do.

use super::title::Title;
use crate::circuit::{Diode, Filament};

/// What a part does.
#[derive(Clone, Debug)]
pub enum PartKind {
    /// A filament lamp.
    Lamp {
        /// The filament.
        filament: Filament,
        /// Its two pins.
        pins: (u8, u8),
    },
    /// A lamp of light-emitting diodes behind a resistor.
    Led(Led),
    /// A switch.
    Switch {
        /// Its two pins.
        pins: (u8, u8),
        /// It springs back when it is let go.
        springs_back: bool,
        /// Resistance closed, in ohms.
        closed_ohms: f64,
    },
    /// A diode in the loom: anode, cathode.
    Diode {
        /// Its two pins, anode first.
        pins: (u8, u8),
    },
    /// Something that is a plain resistance: a heater, a camera's supply, a sensor.
    Resistor {
        /// Its two pins.
        pins: (u8, u8),
        /// Its resistance at 20 °C, in ohms.
        ohms: f64,
    },
    /// A heated screen.
    Screen(Screen),
    /// A motor that turns as long as it is fed.
    Motor {
        /// Its two pins.
        pins: (u8, u8),
        /// The motor.
        motor: Motor,
    },
    /// A relay with coil and contacts on pins of its own.
    Relay(Relay),
    /// A lid latch with its drive and two switches.
    Latch(Latch),
    /// A module.
    Module(Module),
}

impl PartKind {
    /// The motor or solenoid in it, if it has one.
    #[must_use]
    pub fn motor(&self) -> Option<&Motor> {
        match self {
            Self::Motor { motor, .. } => Some(motor),
            Self::Latch(latch) => Some(&latch.motor),
            _ => None,
        }
    }
}

/// A lamp of light-emitting diodes: a string of junctions behind a resistor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Led {
    /// Its two pins; it lights when the first is above the second.
    pub pins: (u8, u8),
    /// What the string drops at its rated current, in volts.
    pub drop_volts: f64,
    /// Its current at its rated voltage, in amps.
    pub rated_amps: f64,
    /// Its rated voltage, in volts.
    pub rated_volts: f64,
}

impl Led {
    /// Emission coefficient times thermal voltage of one junction, in volts, and what one junction drops, in volts (red:
    /// from memory).
    const JUNCTION_SLOPE_VOLTS: f64 = 0.05;
    const JUNCTION_VOLTS: f64 = 2.0;

    /// The string as one junction: slopes in series add.
    #[must_use]
    pub fn string(&self) -> Diode {
        let junctions = libm::rint(self.drop_volts / Self::JUNCTION_VOLTS).max(1.0);
        Diode::dropping(self.drop_volts, self.rated_amps, junctions * Self::JUNCTION_SLOPE_VOLTS)
    }

    /// The resistor before it, in ohms.
    #[must_use]
    pub fn series_ohms(&self) -> f64 {
        (self.rated_volts - self.drop_volts) / self.rated_amps
    }

    /// Light at `amps`, as a fraction of its light at rated voltage.
    #[must_use]
    pub fn light(&self, amps: f64) -> f64 {
        (amps / self.rated_amps).max(0.0)
    }
}

/// A heated screen: lines of equal resistance between two bars.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// Pin of the bar that is fed.
    pub feed: u8,
    /// Pin of the bar that is grounded.
    pub ground: u8,
    /// How many lines.
    pub lines: u8,
    /// Resistance of one line, in ohms.
    pub line_ohms: f64,
}

impl Screen {
    /// How many sections a line is divided into; a lead can be put where two meet.
    pub const SECTIONS: u8 = 8;
}

/// A lid latch.
#[derive(Clone, Copy, Debug)]
pub struct Latch {
    /// Pin of the drive's feed.
    pub feed: u8,
    /// Pin of the drive's ground and of the switches'.
    pub ground: u8,
    /// Pin of the switch that closes to ground while the latch is open.
    pub ajar: u8,
    /// Pin of the contact that closes to ground while the claw is home.
    pub home: u8,
    /// Resistance of the switches closed, in ohms.
    pub switch_ohms: f64,
    /// What drives it.
    pub motor: Motor,
    /// A solenoid and its plunger rather than a motor and its gears.
    pub solenoid: bool,
}

/// A small permanent-magnet motor and what it moves; or a solenoid and its plunger, which obey the same equations.
///
/// V = I R + L dI/dt + E, and C dE/dt = I − drag, where E is the speed in volts, C the inertia in farads (moment of
/// inertia over the square of the motor constant), and drag = idle + slope × E while it turns. At rest it stays until its
/// current is above breakaway. E summed over time is the way that it goes, in volt-seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motor {
    /// Resistance of winding and brushes at 20 °C, in ohms.
    pub winding_ohms: f64,
    /// Inductance of the winding, in henries.
    pub winding_henries: f64,
    /// Current that just overcomes the load at rest, in amps.
    pub breakaway_amps: f64,
    /// Current that the load takes at the lowest speed, in amps.
    pub idle_amps: f64,
    /// How much more for each volt of speed, in siemens.
    pub slope_siemens: f64,
    /// Time constant of its run-up with the sound winding on a stiff supply, R × C, in seconds.
    pub spin_up_seconds: f64,
    /// The way to release, in volt-seconds; infinite where there is no end.
    pub travel_volt_seconds: f64,
    /// Bars of the commutator times turns over one volt-second of speed: how often its current ripples. 0: not at all.
    pub ripples_per_volt_second: f64,
}

impl Motor {
    /// Its inertia, in farads.
    #[must_use]
    pub fn inertia_farads(&self) -> f64 {
        self.spin_up_seconds / self.winding_ohms
    }
}

/// A relay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Relay {
    /// Its coil's two pins (85 and 86 by DIN 72552).
    pub coil: (u8, u8),
    /// Pin of the moving contact (30).
    pub common: u8,
    /// Pin that it joins when it has pulled in (87).
    pub normally_open: Option<u8>,
    /// Pin that it joins at rest (87a).
    pub normally_closed: Option<u8>,
    /// The coil at 20 °C, in ohms.
    pub coil_ohms: f64,
    /// The coil's inductance, in henries.
    pub coil_henries: f64,
    /// It pulls in above this, in volts at 20 °C; what counts is the current that they drive.
    pub pull_in_volts: f64,
    /// It drops out below this, in volts at 20 °C.
    pub drop_out_volts: f64,
    /// From enough current to contact, in seconds.
    pub operate_seconds: f64,
    /// From too little current to the contacts' parting, in seconds.
    pub release_seconds: f64,
    /// How long the contacts bounce when they meet, in seconds.
    pub bounce_seconds: f64,
    /// A closed contact, in ohms.
    pub contact_ohms: f64,
    /// What lies across the coil to take up its energy.
    pub suppression: Suppression,
}

/// What lies across a relay's coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Suppression {
    /// Nothing.
    None,
    /// A resistor of this many ohms.
    Resistor(f64),
    /// A diode, its cathode at the coil's first pin.
    Diode,
}

/// A module: logic around pins.
#[derive(Clone, Debug)]
pub struct Module {
    /// Supply pin.
    pub supply: u8,
    /// Ground pin.
    pub ground: u8,
    /// What its own electronics draw awake, as a resistance in ohms.
    pub load_ohms: f64,
    /// What they draw asleep, as a resistance in ohms.
    pub asleep_ohms: f64,
    /// It falls asleep when nothing has happened for so long, in minutes; infinite: never.
    pub sleeps_after_minutes: f64,
    /// It works above this supply, in volts.
    pub works_above_volts: f64,
    /// Inputs.
    pub inputs: Vec<Input>,
    /// Outputs.
    pub outputs: Vec<Output>,
    /// What it does when asked.
    pub rules: Vec<Rule>,
    /// What it remembers as faults.
    pub monitors: Vec<Monitor>,
}

/// A module's input.
#[derive(Clone, Debug)]
pub struct Input {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: Title,
    /// Its pin.
    pub pin: u8,
    /// Which way it is pulled at rest.
    pub pull: Pull,
    /// The pulling resistor, in ohms. Supply over this is the current that wets the switch's contacts.
    pub pull_ohms: f64,
    /// Below this it is low, in volts against the module's ground.
    pub low_below_volts: f64,
    /// Above this it is high again, in volts; between the two it stays what it was.
    pub high_above_volts: f64,
    /// A change counts when it has lasted this long, in seconds.
    pub debounce_seconds: f64,
    /// While it is low, the dash shows the sign for an open lid.
    pub lid_sign: bool,
}

/// Which way an input is pulled at rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pull {
    /// To the module's supply; a switch to ground makes it low.
    Up,
    /// To the module's ground; a switch to the feed makes it high.
    Down,
}

/// A module's output.
#[derive(Clone, Debug)]
pub struct Output {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: Title,
    /// The pin that feeds it; of a low-side output, the module's ground pin.
    pub feed: u8,
    /// The pin that it drives.
    pub pin: u8,
    /// What it is.
    pub kind: OutputKind,
}

/// What an output is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutputKind {
    /// A relay contact on the module's board, from its feed to its pin, with a bleed resistor to the module's ground.
    Contact {
        /// Resistance closed, in ohms.
        closed_ohms: f64,
        /// Bleed to the module's ground, in ohms.
        bleed_ohms: f64,
    },
    /// An electronic switch from the feed to the pin.
    HighSide(Driver),
    /// An electronic switch from the pin to the module's ground.
    LowSide(Driver),
    /// Two electronic switches: to the feed when on; at rest braking to ground, or neither.
    HalfBridge {
        /// Each of the two.
        driver: Driver,
        /// At rest the pin is held to ground.
        brakes: bool,
    },
}

impl OutputKind {
    /// Its electronic switch, if it is one.
    #[must_use]
    pub fn driver(&self) -> Option<&Driver> {
        match self {
            Self::Contact { .. } => None,
            Self::HighSide(driver) | Self::LowSide(driver) | Self::HalfBridge { driver, .. } => Some(driver),
        }
    }
}

/// An electronic switch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driver {
    /// Resistance on at 25 °C, in ohms.
    pub on_ohms: f64,
    /// It limits its current to this, in amps.
    pub limit_amps: f64,
    /// At its limit it shuts itself down after this, in seconds.
    pub shuts_down_seconds: f64,
    /// What ties its pin while it is off.
    pub off: OffTie,
    /// On, less current than this is an open load, in amps; 0: it does not look.
    pub open_below_amps: f64,
}

impl Driver {
    /// Resistance on at `celsius`, in ohms: about double at 150 °C (a maker's sheet).
    #[must_use]
    pub fn on_ohms_at(&self, celsius: f64) -> f64 {
        self.on_ohms * (1.0 + (celsius - 25.0) / 125.0).max(0.5)
    }
}

/// What ties an electronic output's pin while it is off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OffTie {
    /// A bleed to the module's ground, in ohms.
    Bleed(f64),
    /// A weak pull to the supply, by which an open load is found, in ohms: with the load gone the pin shows volts.
    Bias(f64),
}

/// What a module does when asked.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// What asks.
    pub on: Trigger,
    /// What it does.
    pub effect: Effect,
}

/// What asks a module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trigger {
    /// A button of the key.
    Key(KeyButton),
    /// One of its inputs leaving its rest: low where it is pulled up, high where it is pulled down.
    Input(usize),
    /// As long as one of its inputs is away from its rest.
    While(usize),
}

/// A button on the key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KeyButton {
    /// Locks the vehicle.
    Lock,
    /// Unlocks the vehicle.
    Unlock,
    /// Releases the lid.
    Release,
}

impl KeyButton {
    /// All buttons, in the order in which they lie on the key.
    pub const ALL: [Self; 3] = [Self::Lock, Self::Unlock, Self::Release];
}

/// What a module does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Effect {
    /// Locks the vehicle and closes this output for a moment.
    Lock {
        /// The output.
        flash: usize,
    },
    /// Unlocks the vehicle and closes this output for a moment.
    Unlock {
        /// The output.
        flash: usize,
    },
    /// Chirps once and closes this output for a time; chirps twice where it refuses.
    Release {
        /// The output.
        output: usize,
        /// For how long, in seconds.
        seconds: f64,
        /// It refuses while the vehicle is locked.
        only_unlocked: bool,
    },
    /// Keeps this output on; only with [`Trigger::While`].
    Hold {
        /// The output.
        output: usize,
    },
}

/// What a module remembers.
#[derive(Clone, Debug)]
pub struct Monitor {
    /// How often it blinks for it.
    pub code: u8,
    /// What it means, as the vehicle's own list says.
    pub title: Title,
    /// When it is set.
    pub kind: MonitorKind,
}

/// When a module sets an entry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MonitorKind {
    /// Neither of two inputs is low, though one of them always should be.
    NeitherLow(usize, usize),
    /// An output was closed, and this input did not go low.
    NoAnswer {
        /// The output.
        output: usize,
        /// The input.
        input: usize,
    },
    /// An output was closed, and its pin stayed below half of the supply.
    OutputLow(usize),
    /// The supply was below this, in volts.
    SupplyBelow(f64),
    /// An electronic output finds its load gone: on, by too little current; off, by volts on its pin that are not the
    /// load's.
    OpenLoad(usize),
    /// An electronic output has shut itself down.
    ShutDown(usize),
}
