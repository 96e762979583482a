//! What an action brings: time, money, and what can be seen, heard and read.

use super::action::{LampSize, Lead, MeterSetting, Question, Tool};
use super::recorder::Recording;
use crate::vehicle::{
    ConductorId, ConnectorId, FuseId, KeyButton, PanelId, PartId, Point, StationId, StudId,
};

/// What one action brought about.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outcome {
    /// Minutes that it took.
    pub minutes: f64,
    /// What it cost in parts and materials, in whole units of money.
    pub cost: u32,
    /// What could be seen, in order.
    pub seen: Vec<Seen>,
    /// What could be heard, in order.
    pub heard: Vec<Heard>,
    /// What the meter showed, if it is on and both its leads touch something.
    pub reading: Option<Reading>,
    /// What the clamp showed, if it is closed round something.
    pub clamp: Option<ClampReading>,
    /// What the recorder took down, if it was armed and the act did something in time.
    pub recording: Option<Recording>,
    /// Cautions that this action calls for.
    pub cautions: Vec<Caution>,
    /// Those that it went against.
    pub breaches: Vec<Caution>,
    /// Why it could not be done, if it could not.
    pub refused: Option<Refusal>,
    /// How things went in time, for a scene to play. A job keeps that of its last act only.
    pub trace: Vec<Moment>,
}

/// A stretch of time during an action in which nothing switched.
#[derive(Clone, Debug, PartialEq)]
pub struct Moment {
    /// How long it lasted, in milliseconds.
    pub milliseconds: f64,
    /// What the latch's motor did.
    pub motor: MotorState,
    /// The light of every lamp of the vehicle, as a fraction of its light at the battery's full voltage.
    pub lights: Vec<(PartId, f64)>,
    /// Motors beside the latch's that turned.
    pub turning: Vec<PartId>,
}

/// What a latch's motor does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MotorState {
    /// No current that matters.
    #[default]
    Still,
    /// Current, but it does not turn.
    Stalled,
    /// It turns.
    Running,
}

/// Something that can be seen.
#[derive(Clone, Debug, PartialEq)]
pub enum Seen {
    /// A lamp's light, as a fraction of its light at the battery's full voltage.
    Lamp(PartId, f64),
    /// A lamp flashed, with this much light.
    Flash(PartId, f64),
    /// A lamp that was lit fell to this much light while a command lasted.
    Dip(PartId, f64),
    /// The light of a test lamp that is clipped on: at rest, or at its brightest during a command.
    TestLamp(LampSize, f64),
    /// A motor that turns as long as it is fed: it does, or it does not.
    Turning(PartId, bool),
    /// The heat of a heated screen's lines, from the top, as fractions of what they give at full voltage: where they are
    /// warm, the mist clears.
    Screen(PartId, Vec<f64>),
    /// The sign on the dash for an open lid: lit or dark.
    LidSign(bool),
    /// The latch lets go and the lid lifts off its seal.
    LidReleased,
    /// The claw opens while the lid is up.
    ClawOpened,
    /// The lid is now at this angle above shut, in degrees.
    LidAt(u8),
    /// The prop has come off with the lid's movement.
    PropOff,
    /// The lid is shut and held.
    LidShut,
    /// The lid rests on its first catch.
    LidOnFirstCatch,
    /// The module blinks these codes, one after another; none: no entries.
    Blinks(Vec<u8>),
    /// Nothing blinks at all.
    NoBlink,
    /// A fuse held to the light.
    Fuse(FuseId, FuseLook),
    /// The meter's, bridge's or bench battery's fuse has blown.
    InstrumentFuseBlown(Option<Tool>),
    /// A close look at a connector, mated (`true`: wires and housing only) or open, and what is not as it should be.
    Terminals(ConnectorId, bool, Vec<(u8, TerminalLook)>),
    /// The connector's halves are not fully together.
    NotHome(ConnectorId),
    /// A connector that was not fully home goes home with a click.
    WentHome(ConnectorId),
    /// A wire pulled gently.
    Tugged(ConnectorId, u8, TugResult),
    /// The loom laid open at a station.
    Loom(StationId, Vec<LoomLook>),
    /// A stud looked at and tried with a finger.
    Stud(StudId, StudLook),
    /// A panel is off (or a seat folded), or back.
    Panel(PanelId, bool),
    /// Something that was mended or fitted.
    Done,
    /// The vehicle's rear is wet (`true`), or has become dry.
    Wet(bool),
    /// The reading moved while the loom was flexed, between these two figures.
    ReadingMoved(Display, Display),
    /// A look at where a lead of the meter really is.
    Probe(Lead, Point),
}

/// What a fuse looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FuseLook {
    /// The rating printed on it, in amps; `None`: no fuse is fitted.
    pub rating: Option<u8>,
    /// Its strip has melted.
    pub blown: bool,
    /// It sits loosely in its clips.
    pub loose: bool,
}

/// What can be seen of a terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TerminalLook {
    /// It stands back in its cavity.
    PushedBack,
    /// Its spring has opened.
    Spread,
    /// Green with corrosion.
    Corroded,
    /// The pin of the other half stands aside.
    Bent,
    /// The wire's colour does not agree with the pin table.
    WrongColour,
}

/// What a gentle pull at a wire shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TugResult {
    /// It holds.
    Holds,
    /// It slides back in its cavity.
    SlidesBack,
    /// It stretches: the copper is parted near here.
    Stretches,
}

/// What can be seen inside the loom's tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LoomLook {
    /// A conductor's insulation is cracked and its copper parted.
    Parted(ConductorId),
    /// A conductor is green with corrosion.
    Corroded(ConductorId),
    /// A conductor is chafed bare.
    Chafed(ConductorId),
    /// Two conductors have chafed together: bare copper on bare copper.
    ChafedTogether(ConductorId, ConductorId),
    /// Two conductors are joined by a green, damp crust.
    Crusted(ConductorId, ConductorId),
    /// Most of a conductor's strands are broken; the last ones are clean.
    Frayed(ConductorId),
    /// Somebody has spliced a conductor here before.
    EarlierSplice(ConductorId),
}

/// What a stud looks and feels like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StudLook {
    /// Clean and tight.
    Sound,
    /// The eyelet can be turned by hand.
    Loose,
    /// The eyelet has come off.
    Off,
    /// Tight, but crusted.
    Corroded,
}

/// Something that can be heard.
#[derive(Clone, Debug, PartialEq)]
pub enum Heard {
    /// The module chirps this many times.
    Chirps(u8),
    /// The latch's motor runs.
    MotorRuns,
    /// The latch's motor hums or ticks and does not turn.
    MotorStrains,
    /// The latch's motor jerks and stops: what feeds it gives way under its load.
    MotorTwitches,
    /// The latch's solenoid hums, and its plunger does not move.
    PlungerHums,
    /// A relay clicks.
    RelayClicks,
    /// A relay chatters.
    RelayChatters,
    /// The latch snaps open.
    LatchOpens,
    /// The lever's cable pulls, and nothing gives.
    LeverBinds,
    /// The latch takes the lid.
    LatchTakes,
    /// The meter's tone.
    Tone,
    /// The meter's tone comes and goes.
    ToneBreaks,
    /// A fuse pops.
    FusePops,
    /// The customer answers.
    Customer(Question, Vec<Answer>),
    /// A key button clicks under the thumb.
    ButtonClicks(KeyButton),
}

/// Something that a customer says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// It is always so.
    Always,
    /// It comes and goes.
    ComesAndGoes,
    /// It began at once, from one day to the next.
    AtOnce,
    /// It has slowly grown worse.
    SlowlyWorse,
    /// It is worse when it is wet.
    WorseWhenWet,
    /// It is so only in the wet.
    OnlyWhenWet,
    /// It is so on cold days.
    WhenCold,
    /// It is so on warm days.
    WhenWarm,
    /// A knock, or a slammed lid, changes it.
    KnockChangesIt,
    /// The weather makes no difference.
    WeatherNoMatter,
    /// It helps to press on the lid.
    PressingHelps,
    /// The load makes no difference.
    LoadNoMatter,
    /// Somebody has worked on the tailgate's wiring.
    WiringRepaired,
    /// Somebody has changed a fuse.
    FuseChanged,
    /// Nobody has worked on it.
    NoWork,
    /// The key does not even lock and unlock.
    KeyDoesNothing,
    /// The key locks and unlocks, but does not open the lid.
    KeyOnlyLocks,
    /// The key opens the lid.
    KeyOpens,
    /// The pad opens the lid.
    PadOpens,
    /// The pad does not open the lid.
    PadDoesNot,
    /// A lamp is dark where it should be lit, or gives only this much light.
    LampOdd(PartId, f64),
    /// The engine turns slowly when it is started.
    StartsSlowly,
    /// Nothing else is odd.
    NothingElse,
}

/// A number as a display shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Display {
    /// The figure in the base unit (V, A or Ω); `None` is the over-range sign.
    pub value: Option<f64>,
    /// Which unit.
    pub unit: Unit,
    /// How many digits stand behind the point in the shown range.
    pub decimals: u8,
    /// The range's factor: 1, 1e-3 (m), 1e3 (k) or 1e6 (M).
    pub scale: Scale,
}

/// A unit on the display.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Volts.
    Volt,
    /// Amps.
    Amp,
    /// Ohms.
    Ohm,
}

/// A factor in front of the unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// Thousandths.
    Milli,
    /// As it is.
    One,
    /// Thousands.
    Kilo,
    /// Millions.
    Mega,
}

/// A figure that a display showed for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Renewal {
    /// When it appeared, in milliseconds from the act's beginning.
    pub milliseconds: f64,
    /// What it showed.
    pub display: Display,
}

/// What the meter showed.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What the switch is set to.
    pub setting: MeterSetting,
    /// What it shows now that all is at rest.
    pub now: Display,
    /// What it showed while the act lasted, one figure after another, as far as a display that renews itself four times
    /// a second can.
    pub during: Vec<Renewal>,
    /// Only the meter was handled: what it showed meanwhile is its display coming to rest.
    pub settling: bool,
    /// The least and the greatest that it holds, with capture on.
    pub held: Option<(Display, Display)>,
    /// It sounds its tone.
    pub tone: bool,
    /// When its tone began or ended while the act lasted, in milliseconds from the act's beginning.
    pub tone_changes: Vec<f64>,
}

/// What the clamp showed.
#[derive(Clone, Debug, PartialEq)]
pub struct ClampReading {
    /// What it shows now that all is at rest.
    pub now: Display,
    /// What it showed while the act lasted, one figure after another.
    pub during: Vec<Renewal>,
    /// Only the clamp was handled: what it showed meanwhile is its display coming to rest.
    pub settling: bool,
}

/// A caution that an action calls for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Caution {
    /// Restraint wiring is never probed, powered, bridged or measured in ohms.
    Restraint,
    /// Eyes are protected at the battery and under the lid.
    Eyes,
    /// The lid is propped, and hands stay clear of latch and hinge.
    Lid,
    /// Nobody is in the load space while the lid is shut.
    NobodyInside,
    /// Insulation is not pierced.
    NoPiercing,
    /// Only a lead with a fuse bridges anything.
    FusedOnly,
    /// Ohms, tone and diode need a circuit without power.
    OhmsOnLive,
    /// Amps across a source is a short.
    AmpsAcrossSource,
    /// The vehicle maker's procedure, local codes and licensed practice come first.
    MakersProcedure,
    /// A fuse of more than the slot's rating does not protect its wire.
    FuseTooLarge,
    /// Hands stay out of a claw that is under power.
    ClawUnderPower,
    /// A tip that is forced into the front of a small terminal spreads its spring.
    SpreadTerminals,
    /// Heat melts insulation and trim.
    Heat,
}

impl Caution {
    /// All cautions, in the order in which they are read.
    pub const ALL: [Self; 13] = [
        Self::MakersProcedure,
        Self::Restraint,
        Self::Eyes,
        Self::Lid,
        Self::NobodyInside,
        Self::ClawUnderPower,
        Self::NoPiercing,
        Self::SpreadTerminals,
        Self::Heat,
        Self::FusedOnly,
        Self::FuseTooLarge,
        Self::OhmsOnLive,
        Self::AmpsAcrossSource,
    ];
}

/// Why something could not be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Refusal {
    /// A panel is in the way.
    BehindPanel(PanelId),
    /// It can only be reached with the lid up.
    LidTooLow,
    /// The load space can only be reached with the lid up or this folded.
    LoadSpaceClosed(PanelId),
    /// The lid is held by its latch.
    LidHeld,
    /// The lid does not stay shut: the claw is already home.
    ClawAlreadyHome,
    /// The claw is closed with a tool only while the lid is up.
    LidNotUp,
    /// The lid is shut already, or already there.
    AlreadySo,
    /// The connector is mated: what lies inside cannot be reached.
    Mated,
    /// The connector is open.
    NotMated,
    /// There is no such cavity, or no wire in it.
    EmptyCavity,
    /// There is no fuse in the slot.
    NoFuse,
    /// There is already a fuse in the slot.
    FuseInPlace,
    /// No such rating is in the box.
    NoSuchRating,
    /// The conductor does not pass here.
    ConductorNotHere,
    /// Both ends are on the same point.
    SamePoint,
    /// The meter's fuse is whole.
    MeterFuseWhole,
    /// The job has been handed in.
    HandedIn,
    /// The scenario has no coach.
    NoCoach,
    /// The scenario or the paper forbids this instrument.
    NotAllowed,
    /// The scenario's minutes are over.
    TimeUp,
    /// The switch springs back; it is pressed, not switched.
    SpringsBack,
    /// The switch stays where it is put; it is switched, not pressed.
    StaysPut,
    /// The meter is off, or a lead touches nothing.
    MeterNotReady,
    /// A lead is still where the connector has to go.
    ToolInTheWay,
    /// Neither are the recorder's leads on anything, nor is the clamp.
    RecorderNotReady,
    /// One act waits from one minute to four hours.
    NoSuchWait,
    /// The screen has no such line or section.
    NoSuchLine,
    /// The customer does not agree to so much; to this he would, in units of money.
    TooDear(u32),
}
