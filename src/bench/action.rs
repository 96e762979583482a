//! What a learner can do. Everything that changes a job is one of these.

use crate::fault::Diagnosis;
use crate::vehicle::{
    ConductorId, ConnectorId, FuseId, Half, KeyButton, PanelId, PartId, Point, StationId, StudId, Thing,
};

/// Something to ask the customer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Question {
    /// Since when, and how often?
    When,
    /// In what weather, wet or dry, warm or cold?
    Weather,
    /// With the load space full, or something pressing on the lid?
    Load,
    /// Has anybody worked on the vehicle lately?
    EarlierWork,
    /// Does anything else at the rear act oddly?
    AnythingElse,
}

impl Question {
    /// All questions.
    pub const ALL: [Self; 5] = [Self::When, Self::Weather, Self::Load, Self::EarlierWork, Self::AnythingElse];
}

/// Where the lid is put by hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LidTo {
    /// Pushed down until the latch takes it.
    Shut,
    /// Let down onto the first catch: held, but not home.
    FirstCatch,
    /// Held or propped at an angle above shut, in whole degrees.
    Angle(u8),
}

/// What the meter's rotary switch is set to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MeterSetting {
    /// Off.
    #[default]
    Off,
    /// Volts, direct, with hardly any load.
    Volts,
    /// Volts, direct, with a load of a few kilohms, which pulls ghosts down.
    LowZ,
    /// Ohms.
    Ohms,
    /// Continuity with a tone.
    Tone,
    /// A junction's forward drop, in volts.
    Diode,
    /// Amps, through the meter's own fuse and shunt.
    Amps,
}

impl MeterSetting {
    /// All settings, clockwise.
    pub const ALL: [Self; 7] =
        [Self::Off, Self::Volts, Self::LowZ, Self::Ohms, Self::Tone, Self::Diode, Self::Amps];

    /// Whether the meter is itself the source: such a setting needs a circuit without power.
    #[must_use]
    pub fn is_source(self) -> bool {
        matches!(self, Self::Ohms | Self::Tone | Self::Diode)
    }
}

/// One of the meter's two leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lead {
    /// Red: the reading is this lead against the black one.
    Red,
    /// Black: the reference.
    Black,
}

/// What the current clamp is closed round: one conductor, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ClampPlace {
    /// A conductor at a station that it passes, parted from the loom there.
    Station(ConductorId, StationId),
    /// The wire behind a cavity of a connector's half on the loom.
    Cavity(ConnectorId, Half, u8),
    /// The cable at the battery's plus post.
    BatteryPlus,
}

/// A test lamp's size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LampSize {
    /// 5 W: shows that something is there.
    Five,
    /// 21 W: loads the circuit and shows what a meter hides.
    TwentyOne,
}

/// A device with two clips that stays where it is put.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tool {
    /// A filament in a holder with two leads.
    TestLamp(LampSize),
    /// A lead with its own fuse, to join two points.
    Bridge,
    /// A battery of its own behind a fuse; the first clip is its plus.
    BenchBattery,
}

impl Tool {
    /// All tools with clips.
    pub const ALL: [Self; 4] = [
        Self::TestLamp(LampSize::Five),
        Self::TestLamp(LampSize::TwentyOne),
        Self::Bridge,
        Self::BenchBattery,
    ];
}

/// An instrument that may be forbidden.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum KitItem {
    /// The meter, with all its settings.
    Meter,
    /// The test lamps.
    Lamp,
    /// The bridging lead.
    Bridge,
    /// The bench battery.
    Bench,
    /// The current clamp.
    Clamp,
    /// The recorder.
    Recorder,
}

impl KitItem {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Meter, Self::Lamp, Self::Bridge, Self::Bench, Self::Clamp, Self::Recorder];

    /// Its name in commands and files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Meter => "meter",
            Self::Lamp => "lamp",
            Self::Bridge => "bridge",
            Self::Bench => "bench",
            Self::Clamp => "clamp",
            Self::Recorder => "recorder",
        }
    }
}

/// What is done with a fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FuseWork {
    /// Taken out.
    Pull,
    /// Taken out, held to the light, and put back.
    Look,
    /// The one that was pulled is pushed back in.
    PutBack,
    /// A new one of this rating, in amps, is fitted.
    Fit(u8),
}

/// How a conductor is mended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Splice {
    /// Cut back to sound copper, spliced, sealed in heat-shrink and relieved of strain.
    Sound,
    /// Twisted together and taped. Quick, and it comes back.
    Twisted,
}

/// How a piece of work on the vehicle mends something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Repair {
    /// A conductor is mended at a station.
    Conductor(ConductorId, StationId, Splice),
    /// The contact in a cavity is put right: its terminal is cleaned, pressed home or replaced, a bent pin opposite straightened
    /// or replaced.
    Terminal(ConnectorId, u8),
    /// Two terminals of the loom half change places.
    SwapCavities(ConnectorId, u8, u8),
    /// The eyelet is taken off, stud and eyelet are cleaned, and it is tightened again.
    Stud(StudId),
    /// A fuse's clips are closed up.
    Clips(FuseId),
    /// A section of a heated screen's line is painted over with conductive paint; both count from 1.
    Line(PartId, u8, u8),
    /// A new part is fitted.
    Part(PartId),
    /// A new cell in the key.
    KeyCell,
    /// A new key, programmed to the vehicle.
    Key,
    /// The battery is charged up.
    Charge,
}

/// A line of the write-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WriteUpLine {
    /// What the customer complained of, and that it was confirmed.
    Complaint,
    /// What was found to be the cause, with the reading that shows it.
    Cause,
    /// What was done about it, with the reading afterwards.
    Correction,
}

impl WriteUpLine {
    /// All lines, in order.
    pub const ALL: [Self; 3] = [Self::Complaint, Self::Cause, Self::Correction];
}

/// How much the coach says: each rung says more than the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rung {
    /// A question to ask oneself.
    Question,
    /// The kind of test, and where.
    Kind,
    /// The very test, and why.
    Test,
}

impl Rung {
    /// All rungs, from the least to the most.
    pub const ALL: [Self; 3] = [Self::Question, Self::Kind, Self::Test];

    /// Its number, from 1.
    #[must_use]
    pub fn number(self) -> u8 {
        match self {
            Self::Question => 1,
            Self::Kind => 2,
            Self::Test => 3,
        }
    }
}

/// A precaution that is taken by doing it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Precaution {
    /// Safety glasses are put on.
    EyeProtection,
    /// The raised lid is held by a prop.
    PropLid,
    /// The cautions on the job sheet are read and acknowledged.
    ReadCautions,
}

impl Precaution {
    /// All precautions.
    pub const ALL: [Self; 3] = [Self::ReadCautions, Self::EyeProtection, Self::PropLid];
}

/// A place that can be warmed or cooled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// The loom at a station.
    Station(StationId),
    /// A connector.
    Connector(ConnectorId),
    /// A part.
    Part(PartId),
}

/// The longest that one act waits, in minutes.
pub const LONGEST_WAIT_MINUTES: u8 = 240;

/// One thing that a learner does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Asks the customer.
    Ask(Question),
    /// Takes a precaution.
    Precaution(Precaution),
    /// Looks around and listens without touching anything.
    Observe,
    /// Presses and lets go a button of the key.
    Key(KeyButton),
    /// Presses and lets go a switch that springs back, such as the pad.
    Press(PartId),
    /// Switches something on or off that stays there, such as the lights, or the brake pedal with a prop.
    Switch(PartId, bool),
    /// Pulls the mechanical lever inside.
    Lever,
    /// Works the latch open by hand through the trim, which breaks the trim's clips.
    ForceLatch,
    /// Changes the setting that locks the release out.
    Lockout(bool),
    /// Moves the lid.
    Lid(LidTo),
    /// Closes the latch's claw with a tool while the lid is up.
    CloseClaw,
    /// Takes a panel off (or folds a seat), or puts it back.
    Panel(PanelId, bool),
    /// Unplugs a connector (`false`) or plugs it together (`true`).
    Plug(ConnectorId, bool),
    /// Looks closely at an open connector's terminals.
    LookAt(ConnectorId),
    /// Pulls gently at one wire of a connector.
    Tug(ConnectorId, u8),
    /// Opens the loom's tape at a station, looks, and tapes it up again.
    OpenTape(StationId),
    /// Flexes the loom at a station.
    Flex(StationId),
    /// Looks at an eyelet and its stud, and tries it with a finger.
    LookAtStud(StudId),
    /// Turns the meter's switch.
    Meter(MeterSetting),
    /// Switches the hold of the least and the greatest reading on or off.
    Capture(bool),
    /// Puts a lead of the meter on a point, or takes it off.
    Probe(Lead, Option<Point>),
    /// Puts a lead of the meter on a point in a third of the time, without looking twice: among a connector's small
    /// cavities it may land on a neighbour.
    ProbeHastily(Lead, Point),
    /// Reads the meter as it stands.
    Read,
    /// Proves the meter on a known source: both leads to the battery posts, volts, and back.
    ProveMeter,
    /// Fits a new fuse in the meter.
    MeterFuse,
    /// Clips a tool's two ends to two points, or takes it off.
    Clip(Tool, Option<(Point, Point)>),
    /// Closes the current clamp round a conductor, or takes it off.
    Clamp(Option<ClampPlace>),
    /// Puts the recorder's two leads on two points, the first its plus, or takes them off.
    RecorderLeads(Option<(Point, Point)>),
    /// Arms the recorder for the next act that does something in time, or disarms it.
    Arm(bool),
    /// Works on a fuse.
    Fuse(FuseId, FuseWork),
    /// Reads the module's fault memory by counting blinks.
    ReadMemory(PartId),
    /// Clears the module's fault memory.
    ClearMemory(PartId),
    /// Waits so many minutes, from 1 to [`LONGEST_WAIT_MINUTES`].
    Wait(u8),
    /// Knocks on a part with a handle.
    Tap(PartId),
    /// Wets the vehicle's rear with a spray bottle.
    Wet,
    /// Blows the vehicle's rear dry.
    Dry,
    /// Warms a place with a heat gun.
    Warm(Place),
    /// Cools a place with cold spray.
    Cool(Place),
    /// Repairs something.
    Repair(Repair),
    /// Names the fault, with a confidence in percent.
    Name(Diagnosis, u8),
    /// Marks on the suspicion sheet how strongly something is suspected, in percent; 0 takes it off the sheet.
    Suspect(Diagnosis, u8),
    /// Marks a thing on the wiring diagram by hand; `None` rubs its mark out.
    Mark(Thing, Option<Marking>),
    /// Asks the coach what to do next.
    Coach(Rung),
    /// Tells the customer what it will cost, in units of money, and has his word for it.
    Estimate(u16),
    /// Writes a line of the write-up.
    Write(WriteUpLine, String),
    /// Hands the job in; with `refer`, as 'I cannot confirm it; refer with this evidence'.
    HandIn {
        /// The job is referred and not claimed as repaired.
        refer: bool,
    },
}

/// What a thing is marked as on the wiring diagram.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marking {
    /// Proven good.
    Good,
    /// Suspect.
    Suspect,
}

impl Action {
    /// Whether something happens in time that the recorder waits for: the vehicle is worked, or the circuit is joined or
    /// parted.
    #[must_use]
    pub fn triggers_recorder(&self) -> bool {
        matches!(
            self,
            Self::Key(_)
                | Self::Press(_)
                | Self::Switch(..)
                | Self::Lever
                | Self::Lid(_)
                | Self::CloseClaw
                | Self::Plug(..)
                | Self::Flex(_)
                | Self::Clip(..)
                | Self::Fuse(_, FuseWork::Pull | FuseWork::PutBack | FuseWork::Fit(_))
        )
    }

    /// The instrument that it takes in hand, if any. What is only taken off again counts as well.
    #[must_use]
    pub fn takes(&self) -> Option<KitItem> {
        match self {
            Self::Meter(_)
            | Self::Capture(_)
            | Self::Probe(..)
            | Self::ProbeHastily(..)
            | Self::Read
            | Self::ProveMeter
            | Self::MeterFuse => Some(KitItem::Meter),
            Self::Clip(Tool::TestLamp(_), _) => Some(KitItem::Lamp),
            Self::Clip(Tool::Bridge, _) => Some(KitItem::Bridge),
            Self::Clip(Tool::BenchBattery, _) => Some(KitItem::Bench),
            Self::Clamp(_) => Some(KitItem::Clamp),
            Self::RecorderLeads(_) | Self::Arm(_) => Some(KitItem::Recorder),
            _ => None,
        }
    }

    /// Whether it is done at the desk, and not on the vehicle.
    #[must_use]
    pub fn is_on_paper(&self) -> bool {
        self.is_aside() || matches!(self, Self::Name(..) | Self::Write(..) | Self::HandIn { .. })
    }

    /// Whether it is done in the head and on paper alone: no time passes, nothing is handled, and chance has no say.
    #[must_use]
    pub fn is_aside(&self) -> bool {
        matches!(self, Self::Suspect(..) | Self::Mark(..) | Self::Coach(_) | Self::Estimate(_))
    }

    /// Whether nothing but the meter and its leads is handled.
    #[must_use]
    pub(super) fn handles_meter(&self) -> bool {
        matches!(
            self,
            Self::Meter(_)
                | Self::Capture(_)
                | Self::Probe(..)
                | Self::ProbeHastily(..)
                | Self::Read
                | Self::MeterFuse
        )
    }
}
