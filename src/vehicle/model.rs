//! What a vehicle file says, checked and with its names resolved.

use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PanelId, PartId, SpliceId, StationId, StudId};
use super::point::{Half, Point};
use crate::circuit::Filament;

/// Resistivity of copper at 20 °C, in Ω·mm²/m (IEC 60028:1925).
const COPPER_OHM_SQUARE_MILLIMETRES_PER_METRE: f64 = 0.017241;

/// A vehicle's rear and what feeds it.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// The battery.
    pub battery: Battery,
    /// Stray conductances.
    pub leakage: Leakage,
    /// The lid.
    pub lid: Lid,
    /// The key.
    pub key: Key,
    /// Panels and seats in the way.
    pub panels: Vec<Panel>,
    /// Stations of the loom, in order from the body to the latch.
    pub stations: Vec<Station>,
    /// Connectors.
    pub connectors: Vec<Connector>,
    /// Joints inside the loom.
    pub splices: Vec<Splice>,
    /// Ground studs.
    pub studs: Vec<Stud>,
    /// Ring terminals on them.
    pub eyelets: Vec<Eyelet>,
    /// Fuse slots.
    pub fuses: Vec<FuseSlot>,
    /// Parts.
    pub parts: Vec<Part>,
    /// Conductors.
    pub conductors: Vec<Conductor>,
}

/// A battery.
#[derive(Clone, Debug)]
pub struct Battery {
    /// Voltage without load, in volts.
    pub open_volts: f64,
    /// Inner resistance, in ohms.
    pub internal_ohms: f64,
    /// How its posts are reached.
    pub reach: Reach,
}

/// Stray conductances of a clean, dry loom.
#[derive(Clone, Copy, Debug)]
pub struct Leakage {
    /// From each node to the body, in ohms.
    pub to_body_ohms: f64,
    /// From each conductor to its neighbour at each station, in ohms.
    pub to_neighbour_ohms: f64,
    /// Across an open relay contact, in ohms.
    pub across_contact_ohms: f64,
}

/// The lid's movement.
#[derive(Clone, Copy, Debug)]
pub struct Lid {
    /// Angle fully up, in degrees above shut.
    pub full_degrees: u8,
    /// How far it springs off its seal when the latch lets go, in degrees.
    pub springs_degrees: u8,
    /// From what angle on its inside and the load space can be reached, in degrees.
    pub reach_degrees: u8,
}

/// A radio key.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// The cell's voltage without load, in volts.
    pub cell_volts: f64,
    /// The cell's inner resistance, in ohms.
    pub cell_ohms: f64,
    /// What the sender loads the cell with while a button is pressed, in ohms.
    pub sender_ohms: f64,
    /// Voltage under load below which nothing is sent, in volts.
    pub sends_above_volts: f64,
    /// Price of a cell.
    pub cell_price: u32,
    /// Price of a key, taught.
    pub price: u32,
}

/// Where something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Zone {
    /// Under the bonnet.
    Front,
    /// In the cabin.
    Cabin,
    /// Outside the vehicle.
    Outside,
    /// In the load space: reached with the lid up, or over a folded seat.
    LoadSpace,
    /// On the inside of the lid: reached with the lid up.
    Lid,
}

/// How something is reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reach {
    /// Where it is.
    pub zone: Zone,
    /// The panel in front of it.
    pub panel: Option<PanelId>,
}

/// A panel or seat.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// Where it is.
    pub zone: Zone,
    /// The zone that it opens when it is off or folded.
    pub opens: Option<Zone>,
    /// Minutes to take it off.
    pub off_minutes: f64,
    /// Minutes to put it back.
    pub on_minutes: f64,
}

/// A place on the loom.
#[derive(Clone, Debug)]
pub struct Station {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// How it is reached.
    pub reach: Reach,
    /// How much the loom moves here when the lid does, from 0 (not at all) to 1 (at the hinge).
    pub moves: f64,
}

/// A connector.
#[derive(Clone, Debug)]
pub struct Connector {
    /// Its loom half's name in files.
    pub id: String,
    /// The other half's name in files.
    pub mate_id: String,
    /// Its name for people.
    pub title: String,
    /// The other half's name for people.
    pub mate_title: String,
    /// How it is reached.
    pub reach: Reach,
    /// How many cavities it has.
    pub cavities: u8,
    /// Resistance of a sound contact, in ohms.
    pub contact_ohms: f64,
    /// What it mates with.
    pub mate: Mate,
}

/// What a connector's other half is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mate {
    /// The pins of the part or parts that name this connector as theirs.
    Pins,
    /// Another loom.
    Loom,
}

/// A joint inside the loom.
#[derive(Clone, Debug)]
pub struct Splice {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
}

/// A ground stud.
#[derive(Clone, Debug)]
pub struct Stud {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// How it is reached.
    pub reach: Reach,
}

/// A ring terminal.
#[derive(Clone, Debug)]
pub struct Eyelet {
    /// Its name in files.
    pub id: String,
    /// The stud that it sits on.
    pub stud: StudId,
}

/// A fuse slot.
#[derive(Clone, Debug)]
pub struct FuseSlot {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// The rating that belongs there, in amps.
    pub rating_amps: u8,
    /// How it is reached.
    pub reach: Reach,
}

/// The two sides of a fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Towards the battery.
    Feed,
    /// Towards the load.
    Load,
}

/// Something that is bought as one piece.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// How it is reached.
    pub reach: Reach,
    /// Its price.
    pub price: u32,
    /// Minutes to fit a new one once it is reached.
    pub fit_minutes: f64,
    /// Its connector.
    pub connector: ConnectorId,
    /// What it is.
    pub kind: PartKind,
}

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
    /// A switch.
    Switch {
        /// Its two pins.
        pins: (u8, u8),
        /// It springs back when it is let go.
        springs_back: bool,
        /// Resistance closed, in ohms.
        closed_ohms: f64,
    },
    /// A lid latch with its motor and two switches.
    Latch(Latch),
    /// A module.
    Module(Module),
}

/// A lid latch.
#[derive(Clone, Copy, Debug)]
pub struct Latch {
    /// Pin of the motor's feed.
    pub feed: u8,
    /// Pin of the ground that motor and switches share.
    pub ground: u8,
    /// Pin of the switch that closes to ground while the latch is open.
    pub ajar: u8,
    /// Pin of the contact that closes to ground while the claw is home.
    pub home: u8,
    /// Resistance of the switches closed, in ohms.
    pub switch_ohms: f64,
    /// The motor.
    pub motor: Motor,
}

/// A small permanent-magnet motor and what it moves.
///
/// Stalled, it is its winding. Turning, V = I R + E, and I = idle + slope × E: the load's constant part and the part
/// that grows with speed. E integrated over time is the angle turned, in volt-seconds.
#[derive(Clone, Copy, Debug)]
pub struct Motor {
    /// Resistance of winding and brushes, in ohms.
    pub winding_ohms: f64,
    /// Current that just overcomes the load at rest, in amps.
    pub breakaway_amps: f64,
    /// Current that the load takes at the lowest speed, in amps.
    pub idle_amps: f64,
    /// How much more for each volt of speed, in siemens.
    pub slope_siemens: f64,
    /// Seconds until it has reached its speed.
    pub spin_up_seconds: f64,
    /// The way to release, in volt-seconds.
    pub travel_volt_seconds: f64,
}

/// A module: logic around pins.
#[derive(Clone, Debug)]
pub struct Module {
    /// Supply pin.
    pub supply: u8,
    /// Ground pin.
    pub ground: u8,
    /// What its own electronics draw, as a resistance in ohms.
    pub load_ohms: f64,
    /// It works above this supply, in volts.
    pub works_above_volts: f64,
    /// Inputs, each pulled up to the supply.
    pub inputs: Vec<Input>,
    /// Relay-contact outputs.
    pub outputs: Vec<Output>,
    /// What it does when asked.
    pub rules: Vec<Rule>,
    /// What it remembers as faults.
    pub monitors: Vec<Monitor>,
}

/// A module's input, low when its switch closes it to ground.
#[derive(Clone, Debug)]
pub struct Input {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// Its pin.
    pub pin: u8,
    /// Pull-up to the module's supply, in ohms.
    pub pull_up_ohms: f64,
    /// Below this it is low, in volts against the module's ground.
    pub low_below_volts: f64,
    /// While it is low, the dash shows the sign for an open lid.
    pub lid_sign: bool,
}

/// A module's output: a relay contact, open at rest, with a bleed resistor to the module's ground.
#[derive(Clone, Debug)]
pub struct Output {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// The pin that feeds the contact.
    pub feed: u8,
    /// The pin that the contact feeds.
    pub pin: u8,
    /// Resistance closed, in ohms.
    pub closed_ohms: f64,
    /// Bleed to the module's ground, in ohms.
    pub bleed_ohms: f64,
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
    /// One of its inputs going low.
    Input(usize),
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
}

/// What a module remembers.
#[derive(Clone, Debug)]
pub struct Monitor {
    /// How often it blinks for it.
    pub code: u8,
    /// What it means, as the vehicle's own list says.
    pub title: String,
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
}

/// A conductor.
#[derive(Clone, Debug)]
pub struct Conductor {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: String,
    /// Its colour, by the letters of IEC 60757.
    pub colour: String,
    /// Cross-section, in mm².
    pub square_millimetres: f64,
    /// Where it begins.
    pub from: End,
    /// Where it ends.
    pub to: End,
    /// Its pieces, from one end to the other; every piece but the first begins at a station.
    pub runs: Vec<Run>,
}

/// A piece of a conductor.
#[derive(Clone, Copy, Debug)]
pub struct Run {
    /// The station where it begins; the first piece begins at the conductor's end.
    pub station: Option<StationId>,
    /// Its length, in metres.
    pub metres: f64,
}

/// Where a conductor ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// In a connector's half.
    Cavity(ConnectorId, Half, u8),
    /// In a splice.
    Splice(SpliceId),
    /// In a ring terminal.
    Eyelet(EyeletId),
    /// In a fuse slot's clip.
    Fuse(FuseId, Side),
    /// On the battery's plus post.
    BatteryPlus,
    /// On the body by a joint of its own.
    Body,
}

impl Conductor {
    /// Resistance of a sound piece at 20 °C, in ohms: resistivity × length / cross-section.
    #[must_use]
    pub fn piece_ohms(&self, piece: usize) -> f64 {
        COPPER_OHM_SQUARE_MILLIMETRES_PER_METRE * self.runs[piece].metres / self.square_millimetres
    }

    /// The piece that a fault at `station` sits in: the one that begins there.
    #[must_use]
    pub fn piece_at(&self, station: StationId) -> Option<usize> {
        self.runs.iter().position(|run| run.station == Some(station))
    }
}

impl Vehicle {
    /// A panel.
    #[must_use]
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.index()]
    }

    /// A station.
    #[must_use]
    pub fn station(&self, id: StationId) -> &Station {
        &self.stations[id.index()]
    }

    /// A connector.
    #[must_use]
    pub fn connector(&self, id: ConnectorId) -> &Connector {
        &self.connectors[id.index()]
    }

    /// A stud.
    #[must_use]
    pub fn stud(&self, id: StudId) -> &Stud {
        &self.studs[id.index()]
    }

    /// A fuse slot.
    #[must_use]
    pub fn fuse(&self, id: FuseId) -> &FuseSlot {
        &self.fuses[id.index()]
    }

    /// A part.
    #[must_use]
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.index()]
    }

    /// A conductor.
    #[must_use]
    pub fn conductor(&self, id: ConductorId) -> &Conductor {
        &self.conductors[id.index()]
    }

    /// All parts with their indices.
    pub fn parts(&self) -> impl Iterator<Item = (PartId, &Part)> {
        self.parts.iter().enumerate().map(|(at, part)| (PartId::at(at), part))
    }

    /// All lamps with their filaments.
    pub fn lamps(&self) -> impl Iterator<Item = (PartId, &Filament)> {
        self.parts().filter_map(|(id, part)| match &part.kind {
            PartKind::Lamp { filament, .. } => Some((id, filament)),
            _ => None,
        })
    }

    /// All modules.
    pub fn modules(&self) -> impl Iterator<Item = (PartId, &Module)> {
        self.parts().filter_map(|(id, part)| match &part.kind {
            PartKind::Module(module) => Some((id, module)),
            _ => None,
        })
    }

    /// The lid's latch. A checked vehicle has exactly one.
    #[must_use]
    pub fn latch(&self) -> (PartId, &Latch) {
        self.parts()
            .find_map(|(id, part)| match &part.kind {
                PartKind::Latch(latch) => Some((id, latch)),
                _ => None,
            })
            .expect("a checked vehicle has a latch")
    }

    /// The conductor in a cavity of a half, if there is one.
    #[must_use]
    pub fn conductor_in(&self, connector: ConnectorId, half: Half, cavity: u8) -> Option<ConductorId> {
        let end = End::Cavity(connector, half, cavity);
        self.conductors
            .iter()
            .position(|conductor| conductor.from == end || conductor.to == end)
            .map(ConductorId::at)
    }

    /// Whether a connector's half is on a loom, and so can be probed from behind while it is mated.
    #[must_use]
    pub fn is_loom_half(&self, connector: ConnectorId, half: Half) -> bool {
        half == Half::Loom || self.connector(connector).mate == Mate::Loom
    }

    /// Every point that a lead could ever touch.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        let mut points =
            vec![Point::BatteryPlus, Point::BatteryMinus, Point::Body, Point::KeyPlus, Point::KeyMinus];
        points.extend((0..self.studs.len()).map(|at| Point::Stud(StudId::at(at))));
        for at in 0..self.fuses.len() {
            points.extend([Side::Feed, Side::Load].map(|side| Point::Fuse(FuseId::at(at), side)));
        }
        for (at, connector) in self.connectors.iter().enumerate() {
            for half in [Half::Loom, Half::Mate] {
                points.extend((1..=connector.cavities).map(|n| Point::Cavity(ConnectorId::at(at), half, n)));
            }
        }
        points
    }
}
