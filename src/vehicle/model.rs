//! What a vehicle file says, checked and with its names resolved.

use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PanelId, PartId, SpliceId, StationId, StudId};
use super::part::{Latch, Module, PartKind, Screen};
use super::point::{Half, Point};
use super::title::Title;

/// Resistivity of copper at 20 °C, in Ω·mm²/m (IEC 60028:1925).
const COPPER_OHM_SQUARE_MILLIMETRES_PER_METRE: f64 = 0.017241;
/// How much more for each degree, as a fraction of the value at 20 °C (IEC 60028:1925).
const COPPER_PER_DEGREE: f64 = 3.93e-3;

/// What copper's resistance is at `celsius`, as a multiple of that at 20 °C.
#[must_use]
pub fn copper_factor(celsius: f64) -> f64 {
    1.0 + COPPER_PER_DEGREE * (celsius - 20.0)
}

/// A vehicle's rear and what feeds it.
#[derive(Clone)]
pub struct Vehicle {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: Title,
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
    /// How its customer puts things.
    pub manner: Manner,
}

/// What stands here decides a scenario's hash: all of a vehicle's file, and how its customer speaks where that is not the
/// usual way.
impl std::fmt::Debug for Vehicle {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { id, title, battery, leakage, lid, key, panels, stations, connectors, .. } = self;
        let Self { splices, studs, eyelets, fuses, parts, conductors, manner, .. } = self;
        let mut all = f.debug_struct("Vehicle");
        all.field("id", id).field("title", title).field("battery", battery).field("leakage", leakage);
        all.field("lid", lid).field("key", key).field("panels", panels).field("stations", stations);
        all.field("connectors", connectors).field("splices", splices).field("studs", studs);
        all.field("eyelets", eyelets).field("fuses", fuses).field("parts", parts);
        all.field("conductors", conductors);
        if *manner != Manner::default() {
            all.field("manner", manner);
        }
        all.finish()
    }
}

/// How a customer puts things: for each sentence one of several ways of saying the same. The default takes the first
/// of each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Manner(pub u64);

impl Manner {
    /// In how many ways each sentence can be said.
    pub const WAYS: usize = 3;
    /// More sentences than anybody has: each has a digit of its own.
    pub const SENTENCES: u32 = 32;

    /// Which way he takes for the sentence of this number.
    #[must_use]
    pub fn way(self, sentence: u32) -> usize {
        let ways = Self::WAYS as u64;
        let digit = self.0 / ways.pow(sentence.min(Self::SENTENCES - 1)) % ways;
        // Below `WAYS`.
        digit as usize
    }
}

/// A battery.
#[derive(Clone, Debug)]
pub struct Battery {
    /// Voltage without load as the vehicle comes in sound, in volts.
    pub open_volts: f64,
    /// Inner resistance at 20 °C, in ohms.
    pub internal_ohms: f64,
    /// What it holds when full, in ampere-hours.
    pub amp_hours: f64,
    /// What charges it, if anything does.
    pub charging: Option<Charging>,
    /// How its posts are reached.
    pub reach: Reach,
}

/// A charging source at the battery's posts: a generator and its regulator.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charging {
    /// The voltage that it holds, in volts.
    pub volts: f64,
    /// Its inner resistance, in ohms.
    pub ohms: f64,
    /// It runs while this switch is on.
    pub runs_with: PartId,
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

/// The lid and its movement.
#[derive(Clone, Debug)]
pub struct Lid {
    /// What it is called, in lower case: tailgate, boot lid, rear door.
    pub title: Title,
    /// It is hinged at a side, and a sentence calls it a door.
    pub is_door: bool,
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
    /// Price of a key, programmed to the vehicle.
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
    pub title: Title,
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
    pub title: Title,
    /// How it is reached.
    pub reach: Reach,
    /// How much the loom moves here when the lid does, from 0 (not at all) to 1 (at the hinge).
    pub moves: f64,
}

/// A connector.
#[derive(Clone)]
pub struct Connector {
    /// Its loom half's name in files.
    pub id: String,
    /// The other half's name in files.
    pub mate_id: String,
    /// Its name for people.
    pub title: Title,
    /// The other half's name for people.
    pub mate_title: Title,
    /// How it is reached.
    pub reach: Reach,
    /// How many cavities it has.
    pub cavities: u8,
    /// Resistance of a sound contact, in ohms.
    pub contact_ohms: f64,
    /// What it mates with.
    pub mate: Mate,
    /// A standard says which wire sits where, or it is printed on the housing: no job puts a wire elsewhere.
    pub standard: bool,
    /// How wide the blades of its terminals are, in mm: one of [`BLADES_MILLIMETRES`]. It is for the eye only.
    pub blade_millimetres: f64,
    /// How its cavities lie, seen into the loom half's mating side. It is for the eye only.
    pub arrangement: Arrangement,
}

/// The widths of blades that a connector may have, in mm, each with the most that a sound contact of it has, in ohms (USCAR-2,
/// from memory).
pub const BLADES_MILLIMETRES: [(f64, f64); 4] = [(6.3, 1.5e-3), (2.8, 5e-3), (1.5, 10e-3), (0.64, 20e-3)];

/// A wire of this cross-section and more has a large terminal, in mm²: blades of 2.8 mm take up to 2.5 mm², those of
/// 6.3 mm more (common practice, no source).
const LARGE_FROM_SQUARE_MILLIMETRES: f64 = 3.0;

/// How a connector's cavities lie, by their numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// In rows, from the side of the latch on, each from left to right.
    Rows(Vec<Vec<u8>>),
    /// On circles, from the outermost on, each clockwise from the top.
    Rings(Vec<Vec<u8>>),
}

impl Arrangement {
    /// How so many cavities lie where nothing else is said: up to four in a row, more in two, and more again in rows of ten.
    #[must_use]
    pub fn usual(cavities: u8) -> Self {
        let rows = if cavities > 4 { cavities.div_ceil(10).max(2) } else { 1 };
        let numbers: Vec<u8> = (1..=cavities).collect();
        let wide = usize::from(cavities.div_ceil(rows)).max(1);
        Self::Rows(numbers.chunks(wide).map(<[u8]>::to_vec).collect())
    }

    /// Its rows, or its circles.
    #[must_use]
    pub fn lines(&self) -> &[Vec<u8>] {
        match self {
            Self::Rows(lines) | Self::Rings(lines) => lines,
        }
    }
}

/// What stands here decides a scenario's hash: all that a job as its file has it hangs on.
impl std::fmt::Debug for Connector {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            id,
            mate_id,
            title,
            mate_title,
            reach,
            cavities,
            contact_ohms,
            mate,
            standard: _,
            blade_millimetres: _,
            arrangement: _,
        } = self;
        let mut all = f.debug_struct("Connector");
        all.field("id", id).field("mate_id", mate_id).field("title", title).field("mate_title", mate_title);
        all.field("reach", reach).field("cavities", cavities).field("contact_ohms", contact_ohms);
        all.field("mate", mate).finish()
    }
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
    pub title: Title,
}

/// A ground stud.
#[derive(Clone, Debug)]
pub struct Stud {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: Title,
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
    pub title: Title,
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
    pub title: Title,
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

/// A conductor.
#[derive(Clone, Debug)]
pub struct Conductor {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub title: Title,
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

    /// Resistance of one metre at 20 °C, in ohms.
    #[must_use]
    pub fn ohms_per_metre(&self) -> f64 {
        COPPER_OHM_SQUARE_MILLIMETRES_PER_METRE / self.square_millimetres
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

    /// All lamps, of filaments and of diodes.
    pub fn lamps(&self) -> impl Iterator<Item = PartId> {
        self.parts()
            .filter(|(_, part)| matches!(part.kind, PartKind::Lamp { .. } | PartKind::Led(_)))
            .map(|(id, _)| id)
    }

    /// All heated screens.
    pub fn screens(&self) -> impl Iterator<Item = (PartId, &Screen)> {
        self.parts().filter_map(|(id, part)| match &part.kind {
            PartKind::Screen(screen) => Some((id, screen)),
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

    /// Whether a cavity of a connector is for a large terminal: a thick wire ends in one of its halves.
    #[must_use]
    pub fn has_large_terminal(&self, connector: ConnectorId, cavity: u8) -> bool {
        [Half::Loom, Half::Mate].into_iter().any(|half| {
            self.conductor_in(connector, half, cavity)
                .is_some_and(|wire| self.conductor(wire).square_millimetres >= LARGE_FROM_SQUARE_MILLIMETRES)
        })
    }

    /// How wide the blade in a cavity is, in mm: the connector's, or the largest where a thick wire ends in it.
    #[must_use]
    pub fn blade_millimetres(&self, connector: ConnectorId, cavity: u8) -> f64 {
        if self.has_large_terminal(connector, cavity) {
            BLADES_MILLIMETRES[0].0
        } else {
            self.connector(connector).blade_millimetres
        }
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
        for (id, screen) in self.screens() {
            for line in 1..=screen.lines {
                points.extend((0..=Screen::SECTIONS).map(|place| Point::Line(id, line, place)));
            }
        }
        points
    }
}
