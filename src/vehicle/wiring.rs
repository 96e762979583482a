//! A vehicle's circuit: its topology, and the laws of its branches in a given state.

use super::deviation::{Deviation, Stuck};
use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PartId};
use super::model::{End, Mate, Side, Vehicle, copper_factor};
use super::part::{Driver, KeyButton, Motor, OffTie, OutputKind, PartKind, Pull, Relay, Screen, Suppression};
use super::point::{Half, Point};
use super::run::full_light;
use super::state::PhysicalState;
use crate::circuit::{
    Branch, Diode, Filament, Law, Limited, Network, NetworkBuilder, Node, battery_cold_factor,
    battery_empty_factor, cold_resistance_ohms, spare,
};

/// Resistance of a clean eyelet on a clean stud, of a stud in the body, and of the body to the battery, in ohms
/// (common practice: a tenth of a volt at a hundred amps and more).
const EYELET_OHMS: f64 = 0.5e-3;
const STUD_OHMS: f64 = 0.2e-3;
const BODY_STRAP_OHMS: f64 = 1.0e-3;
/// A body joint of its own, as lamp clusters have, in ohms.
const BODY_JOINT_OHMS: f64 = 2.0e-3;
/// Crimp at each end of a conductor, in ohms.
const CRIMP_OHMS: f64 = 1.0e-3;
/// A fuse's two clips together, in ohms.
const CLIPS_OHMS: f64 = 1.0e-3;
/// Leakage from the key's minus contact: the key is not wired to anything, in ohms.
const KEY_LEAKAGE_OHMS: f64 = 1e10;

/// A battery takes charge more slowly than it gives it: this much more inner resistance, in ohms (common practice, no source:
/// some tens of amps at first).
const CHARGE_OHMS: f64 = 0.05;
/// A silicon diode: what it drops at an ampere, and emission coefficient times thermal voltage (common practice).
const DIODE_VOLTS: f64 = 0.85;
const DIODE_SLOPE_VOLTS: f64 = 0.045;
/// Across an electronic switch that is off, in ohms: about 3 µA at 12 V (a maker's sheets).
const DRIVER_OFF_OHMS: f64 = 4e6;
/// A strand that is left bare of its fellows is so long, in metres.
const LAST_STRAND_METRES: f64 = 0.005;

/// Laws of the loads that a person connects, at most but for rare cases.
const MANY_LOADS: usize = 8;

/// What a branch stands for.
#[derive(Clone, Copy, Debug)]
enum Role {
    Fixed(f64),
    Battery,
    Charging,
    Contact(ConnectorId, u8),
    Piece(ConductorId, usize),
    Short(usize),
    Fuse(FuseId),
    Eyelet(EyeletId),
    /// A lamp's filament, or a lamp of diodes' string.
    Lamp(PartId),
    LedResistor(PartId),
    Switch(PartId),
    Diode(PartId),
    Resistor(PartId),
    /// A section of a heated screen's line; all count from 1.
    Line(PartId, u8, u8),
    /// The winding of a motor, a latch's drive or a relay.
    Winding(PartId),
    Suppression(PartId),
    NormallyOpen(PartId),
    NormallyClosed(PartId),
    Ajar(PartId),
    Home,
    ModuleLoad(PartId),
    /// From an output's feed to its pin; of a low-side output, from its pin to the module's ground.
    Output(PartId, usize),
    /// The other half of a half-bridge: from its pin to the module's ground.
    Brake(PartId, usize),
    KeyCell,
    KeySender,
}

impl Role {
    /// Whether it can part under current.
    fn parts(self) -> bool {
        matches!(
            self,
            Self::Contact(..)
                | Self::Piece(..)
                | Self::Fuse(_)
                | Self::Eyelet(_)
                | Self::Switch(_)
                | Self::NormallyOpen(_)
                | Self::NormallyClosed(_)
                | Self::Output(..)
                | Self::Brake(..)
        )
    }
}

/// How the laws are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// All has come to rest: filaments are at the heat of their current.
    Rest,
    /// This instant: filaments have the heat that they have.
    Instant,
}

/// Outputs that modules keep on at an instant.
pub type Commanded = [(PartId, usize)];

/// A vehicle's circuit, with what is wrong with it built in.
#[derive(Clone, Debug)]
pub struct Wiring {
    network: Network,
    roles: Vec<Role>,
    points: Points,
    places: Places,
    /// The laws of the branches that are always the same, and which branches are others.
    fixed: Vec<Law>,
    varying: Vec<usize>,
    /// By lamp, in the order of [`Vehicle::lamps`]: what counts as its full light.
    full_lights: Vec<f64>,
    /// What is wrong that the topology depends on, with its position in the list.
    built_in: Vec<(usize, Deviation)>,
}

/// Where each thing's branch is.
#[derive(Clone, Debug)]
struct Places {
    battery: Branch,
    /// By fuse slot.
    fuses: Vec<Branch>,
    /// By conductor, by piece.
    pieces: Vec<Vec<Branch>>,
    /// By part: a filament or a string of diodes; a switch; a winding; a module's outputs; a screen's sections, line by line.
    lamps: Vec<Option<Branch>>,
    switches: Vec<Option<Branch>>,
    windings: Vec<Option<Branch>>,
    outputs: Vec<Vec<Branch>>,
    sections: Vec<Vec<Branch>>,
    gaps: Vec<Gap>,
}

/// A branch that can part under current, so that an arc is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gap {
    pub(super) branch: Branch,
    /// The other half of a half-bridge, which takes the current over when it is on.
    pub(super) relief: Option<Branch>,
}

impl Places {
    fn of(vehicle: &Vehicle, roles: &[Role]) -> Self {
        let parts = vehicle.parts.len();
        let mut places = Self {
            battery: Branch(0),
            fuses: vec![Branch(0); vehicle.fuses.len()],
            pieces: vec![Vec::new(); vehicle.conductors.len()],
            lamps: vec![None; parts],
            switches: vec![None; parts],
            windings: vec![None; parts],
            outputs: vec![Vec::new(); parts],
            sections: vec![Vec::new(); parts],
            gaps: Vec::new(),
        };
        for (at, role) in roles.iter().enumerate() {
            let branch = Branch(at);
            match *role {
                Role::Battery => places.battery = branch,
                Role::Fuse(id) => places.fuses[id.index()] = branch,
                // Pieces, outputs and sections are laid out in order.
                Role::Piece(id, _) => places.pieces[id.index()].push(branch),
                Role::Lamp(id) => places.lamps[id.index()] = Some(branch),
                Role::Switch(id) => places.switches[id.index()] = Some(branch),
                Role::Winding(id) => places.windings[id.index()] = Some(branch),
                Role::Output(id, _) => places.outputs[id.index()].push(branch),
                Role::Line(id, ..) => places.sections[id.index()].push(branch),
                _ => {}
            }
            if role.parts() {
                // The halves of a half-bridge are laid out one after the other.
                let relief = match (role, roles.get(at + 1)) {
                    (Role::Brake(..), _) => Some(Branch(at - 1)),
                    (_, Some(Role::Brake(..))) => Some(Branch(at + 1)),
                    _ => None,
                };
                places.gaps.push(Gap { branch, relief });
            }
        }
        places
    }
}

/// Where each thing's nodes are.
#[derive(Clone, Debug)]
struct Points {
    cavities: Vec<[Vec<Node>; 2]>,
    fuses: Vec<[Node; 2]>,
    studs: Vec<Node>,
    body: Node,
    battery_plus: Node,
    key_plus: Node,
    key_minus: Node,
    /// By part: where a heated screen's sections meet, line by line.
    lines: Vec<Vec<Vec<Node>>>,
}

impl Points {
    fn cavity(&self, connector: ConnectorId, half: Half, cavity: u8) -> Node {
        let half = match half {
            Half::Loom => 0,
            Half::Mate => 1,
        };
        self.cavities[connector.index()][half][usize::from(cavity) - 1]
    }

    /// Where two sections of a heated screen's line meet, or where it meets its bar.
    fn line(&self, part: PartId, line: u8, place: u8) -> Node {
        self.lines[part.index()][usize::from(line) - 1][usize::from(place)]
    }

    fn fuse(&self, fuse: FuseId, side: Side) -> Node {
        match side {
            Side::Feed => self.fuses[fuse.index()][0],
            Side::Load => self.fuses[fuse.index()][1],
        }
    }
}

impl Wiring {
    /// Lays out the circuit of `vehicle` in which `state` has something wrong. The topology holds as long as the
    /// list of deviations does; what they and everything else do is in [`Wiring::laws`].
    #[must_use]
    pub fn new(vehicle: &Vehicle, state: &PhysicalState) -> Self {
        let mut net = NetworkBuilder::new();
        let mut roles = Vec::new();
        let mut nodes = || net.node();
        let body = nodes();
        let battery_plus = nodes();
        let mut points = Points {
            cavities: vehicle
                .connectors
                .iter()
                .map(|connector| [0, 1].map(|_| (0..connector.cavities).map(|_| nodes()).collect()))
                .collect(),
            fuses: vehicle.fuses.iter().map(|_| [nodes(), nodes()]).collect(),
            studs: vehicle.studs.iter().map(|_| nodes()).collect(),
            body,
            battery_plus,
            key_plus: nodes(),
            key_minus: nodes(),
            lines: Vec::new(),
        };
        points.lines = vehicle
            .parts
            .iter()
            .map(|part| match &part.kind {
                PartKind::Screen(screen) => (0..screen.lines)
                    .map(|_| {
                        let bar = |pin: u8| points.cavity(part.connector, Half::Mate, pin);
                        let mut line = vec![bar(screen.feed)];
                        line.extend((1..Screen::SECTIONS).map(|_| nodes()));
                        line.push(bar(screen.ground));
                        line
                    })
                    .collect(),
                _ => Vec::new(),
            })
            .collect();
        // Between a lamp of diodes' resistor and its string.
        let inner: Vec<Vec<Node>> = vehicle
            .parts
            .iter()
            .map(|part| match part.kind {
                PartKind::Led(_) => vec![nodes()],
                _ => Vec::new(),
            })
            .collect();
        let splices: Vec<Node> = vehicle.splices.iter().map(|_| nodes()).collect();
        let eyelets: Vec<Node> = vehicle.eyelets.iter().map(|_| nodes()).collect();
        // By conductor: the node at the beginning of each piece, and at the end of the last.
        let along: Vec<Vec<Node>> = vehicle
            .conductors
            .iter()
            .map(|conductor| {
                let end = |end: End| match end {
                    End::Cavity(connector, half, cavity) => {
                        points.cavity(connector, half, state.sits_in(connector, half, cavity))
                    }
                    End::Splice(splice) => splices[splice.index()],
                    End::Eyelet(eyelet) => eyelets[eyelet.index()],
                    End::Fuse(fuse, side) => points.fuse(fuse, side),
                    End::BatteryPlus => battery_plus,
                    End::Body => body,
                };
                let mut along = vec![end(conductor.from)];
                along.extend((1..conductor.runs.len()).map(|_| nodes()));
                along.push(end(conductor.to));
                along
            })
            .collect();

        let mut add = |from: Node, to: Node, role: Role| {
            net.branch(from, to, Law::OPEN);
            roles.push(role);
        };
        add(battery_plus, Node::GROUND, Role::Battery);
        add(battery_plus, Node::GROUND, Role::Charging);
        add(body, Node::GROUND, Role::Fixed(BODY_STRAP_OHMS));
        for (at, connector) in vehicle.connectors.iter().enumerate() {
            let id = ConnectorId::at(at);
            for cavity in 1..=connector.cavities {
                add(
                    points.cavity(id, Half::Loom, cavity),
                    points.cavity(id, Half::Mate, cavity),
                    Role::Contact(id, cavity),
                );
            }
        }
        for (at, conductor) in vehicle.conductors.iter().enumerate() {
            for piece in 0..conductor.runs.len() {
                add(along[at][piece], along[at][piece + 1], Role::Piece(ConductorId::at(at), piece));
            }
        }
        for at in 0..vehicle.fuses.len() {
            let id = FuseId::at(at);
            add(points.fuse(id, Side::Feed), points.fuse(id, Side::Load), Role::Fuse(id));
        }
        for (at, eyelet) in vehicle.eyelets.iter().enumerate() {
            add(eyelets[at], points.studs[eyelet.stud.index()], Role::Eyelet(EyeletId::at(at)));
        }
        for &stud in &points.studs {
            add(stud, body, Role::Fixed(STUD_OHMS));
        }
        for (id, part) in vehicle.parts() {
            let pin = |pin: u8| points.cavity(part.connector, Half::Mate, pin);
            match &part.kind {
                PartKind::Lamp { pins, .. } => add(pin(pins.0), pin(pins.1), Role::Lamp(id)),
                PartKind::Led(led) => {
                    let inner = inner[id.index()][0];
                    add(pin(led.pins.0), inner, Role::LedResistor(id));
                    add(inner, pin(led.pins.1), Role::Lamp(id));
                }
                PartKind::Switch { pins, .. } => add(pin(pins.0), pin(pins.1), Role::Switch(id)),
                PartKind::Diode { pins } => add(pin(pins.0), pin(pins.1), Role::Diode(id)),
                PartKind::Resistor { pins, .. } => add(pin(pins.0), pin(pins.1), Role::Resistor(id)),
                PartKind::Screen(screen) => {
                    for line in 1..=screen.lines {
                        for section in 1..=Screen::SECTIONS {
                            let end = |place: u8| points.line(id, line, place);
                            add(end(section - 1), end(section), Role::Line(id, line, section));
                        }
                    }
                }
                PartKind::Motor { pins, .. } => add(pin(pins.0), pin(pins.1), Role::Winding(id)),
                PartKind::Relay(relay) => {
                    add(pin(relay.coil.0), pin(relay.coil.1), Role::Winding(id));
                    match relay.suppression {
                        Suppression::None => {}
                        Suppression::Resistor(ohms) => {
                            add(pin(relay.coil.0), pin(relay.coil.1), Role::Fixed(ohms));
                        }
                        // Its cathode lies at the coil's first pin.
                        Suppression::Diode => {
                            add(pin(relay.coil.1), pin(relay.coil.0), Role::Suppression(id));
                        }
                    }
                    if let Some(contact) = relay.normally_open {
                        add(pin(relay.common), pin(contact), Role::NormallyOpen(id));
                    }
                    if let Some(contact) = relay.normally_closed {
                        add(pin(relay.common), pin(contact), Role::NormallyClosed(id));
                    }
                }
                PartKind::Latch(latch) => {
                    add(pin(latch.feed), pin(latch.ground), Role::Winding(id));
                    add(pin(latch.ajar), pin(latch.ground), Role::Ajar(id));
                    add(pin(latch.home), pin(latch.ground), Role::Home);
                }
                PartKind::Module(module) => {
                    add(pin(module.supply), pin(module.ground), Role::ModuleLoad(id));
                    for input in &module.inputs {
                        let to = match input.pull {
                            Pull::Up => pin(module.supply),
                            Pull::Down => pin(module.ground),
                        };
                        add(to, pin(input.pin), Role::Fixed(input.pull_ohms));
                    }
                    for (at, output) in module.outputs.iter().enumerate() {
                        let (feed, out, ground) = (pin(output.feed), pin(output.pin), pin(module.ground));
                        let mut tie = |driver: &Driver| match driver.off {
                            OffTie::Bleed(ohms) => add(out, ground, Role::Fixed(ohms)),
                            OffTie::Bias(ohms) => add(pin(module.supply), out, Role::Fixed(ohms)),
                        };
                        match &output.kind {
                            OutputKind::Contact { bleed_ohms, .. } => {
                                add(feed, out, Role::Output(id, at));
                                add(out, ground, Role::Fixed(*bleed_ohms));
                            }
                            OutputKind::HighSide(driver) => {
                                tie(driver);
                                add(feed, out, Role::Output(id, at));
                            }
                            OutputKind::LowSide(driver) => {
                                tie(driver);
                                add(out, ground, Role::Output(id, at));
                            }
                            OutputKind::HalfBridge { driver, .. } => {
                                tie(driver);
                                add(feed, out, Role::Output(id, at));
                                add(out, ground, Role::Brake(id, at));
                            }
                        }
                    }
                }
            }
        }
        add(points.key_plus, points.key_minus, Role::KeyCell);
        add(points.key_plus, points.key_minus, Role::KeySender);
        add(points.key_minus, body, Role::Fixed(KEY_LEAKAGE_OHMS));
        for (at, one) in state.deviations.iter().enumerate() {
            match one.deviation {
                Deviation::ToBody { conductor, piece, .. } => {
                    add(along[conductor.index()][piece], body, Role::Short(at));
                }
                Deviation::Between { conductor, piece, other, other_piece, .. } => {
                    add(along[conductor.index()][piece], along[other.index()][other_piece], Role::Short(at));
                }
                _ => {}
            }
        }
        leakage(vehicle, &along, &points, &splices, &eyelets, &mut add);
        // Every branch has a resistance and every node a leakage to the body, so that no ideal source can loop and
        // nothing can float.
        let (network, _) = net.build().expect("a vehicle's circuit has no ideal sources");
        let places = Places::of(vehicle, &roles);
        let fixed = roles.iter().map(|role| match *role {
            Role::Fixed(ohms) => Law::ohms(ohms),
            _ => Law::OPEN,
        });
        let fixed = fixed.collect();
        let varying = (0..roles.len()).filter(|&at| !matches!(roles[at], Role::Fixed(_))).collect();
        let full_lights = vehicle.lamps().map(|id| full_light(vehicle, id)).collect();
        let built_in = built_in(state).collect();
        Self { network, roles, points, places, fixed, varying, full_lights, built_in }
    }

    /// Whether it would be laid out so for the same vehicle in this state too.
    #[must_use]
    pub fn fits(&self, state: &PhysicalState) -> bool {
        built_in(state).eq(self.built_in.iter().copied())
    }

    /// Whether it is laid out as a sound vehicle's.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.built_in.is_empty()
    }

    /// The topology.
    #[must_use]
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// The node that a lead on `point` touches.
    #[must_use]
    pub fn node(&self, point: Point) -> Node {
        match point {
            Point::Cavity(connector, half, cavity) => self.points.cavity(connector, half, cavity),
            Point::Fuse(fuse, side) => self.points.fuse(fuse, side),
            Point::Stud(stud) => self.points.studs[stud.index()],
            Point::Body => self.points.body,
            Point::BatteryPlus => self.points.battery_plus,
            Point::BatteryMinus => Node::GROUND,
            Point::KeyPlus => self.points.key_plus,
            Point::KeyMinus => self.points.key_minus,
            Point::Line(part, line, place) => self.points.line(part, line, place),
        }
    }

    /// The branch of a fuse slot.
    #[must_use]
    pub fn fuse_branch(&self, fuse: FuseId) -> Branch {
        self.places.fuses[fuse.index()]
    }

    /// The branch of a lamp's filament, or of a lamp of diodes' string.
    ///
    /// # Panics
    /// Where the part is no lamp.
    #[must_use]
    pub fn lamp_branch(&self, part: PartId) -> Branch {
        self.places.lamps[part.index()].expect("a lamp has a filament or a string")
    }

    /// The branch of a switch.
    ///
    /// # Panics
    /// Where the part is none.
    #[must_use]
    pub fn switch_branch(&self, part: PartId) -> Branch {
        self.places.switches[part.index()].expect("a switch has contacts")
    }

    /// The branch of the winding of a motor, a latch's drive or a relay.
    ///
    /// # Panics
    /// Where the part has none.
    #[must_use]
    pub fn winding_branch(&self, part: PartId) -> Branch {
        self.places.windings[part.index()].expect("a motor, a latch and a relay have a winding")
    }

    /// The branch of a module's output: of a low-side output from its pin to ground, of the others from the feed to the
    /// pin.
    #[must_use]
    pub fn output_branch(&self, part: PartId, output: usize) -> Branch {
        self.places.outputs[part.index()][output]
    }

    /// The branch of a piece of a conductor, from the piece's beginning to its end.
    #[must_use]
    pub fn piece_branch(&self, conductor: ConductorId, piece: usize) -> Branch {
        self.places.pieces[conductor.index()][piece]
    }

    /// The battery's branch; its current counts from its plus through it to its minus, so that it is negative while it
    /// feeds.
    #[must_use]
    pub fn battery_branch(&self) -> Branch {
        self.places.battery
    }

    /// The branch of a section of a heated screen's line; both count from 1.
    #[must_use]
    pub fn section_branch(&self, part: PartId, line: u8, section: u8) -> Branch {
        let at = usize::from(line - 1) * usize::from(Screen::SECTIONS) + usize::from(section - 1);
        self.places.sections[part.index()][at]
    }

    /// What counts as each lamp's full light, in the order of [`Vehicle::lamps`].
    pub(super) fn full_lights(&self) -> &[f64] {
        &self.full_lights
    }

    /// The branches that can part under current; in the same order whatever the state.
    pub(super) fn gaps(&self) -> &[Gap] {
        &self.places.gaps
    }

    /// The laws of all branches, in the given state and with these outputs on.
    #[must_use]
    pub fn laws(&self, vehicle: &Vehicle, state: &PhysicalState, on: &Commanded, pace: Pace) -> Vec<Law> {
        let added = Added::new(vehicle, state);
        let here = Here { vehicle, state, on, pace, added: &added, copper: copper_factor(state.celsius) };
        // With room for what a person connects.
        let mut laws = spare::list(self.fixed.len() + MANY_LOADS);
        laws.extend_from_slice(&self.fixed);
        for &at in &self.varying {
            laws[at] = here.law(self.roles[at]);
        }
        laws
    }
}

/// What is wrong in a state that the topology depends on: paths that should not be there, and terminals in each other's
/// place.
fn built_in(state: &PhysicalState) -> impl Iterator<Item = (usize, Deviation)> + '_ {
    let all = state.deviations.iter().map(|one| one.deviation).enumerate();
    all.filter(|(_, one)| {
        matches!(one, Deviation::ToBody { .. } | Deviation::Between { .. } | Deviation::Crossed { .. })
    })
}

/// Stray paths: from every node that a lead can touch and every station to the body, and between neighbours.
fn leakage(
    vehicle: &Vehicle,
    along: &[Vec<Node>],
    points: &Points,
    splices: &[Node],
    eyelets: &[Node],
    add: &mut impl FnMut(Node, Node, Role),
) {
    let mut to_body = |node: Node| add(node, points.body, Role::Fixed(vehicle.leakage.to_body_ohms));
    for node in points.cavities.iter().flatten().flatten().chain(points.fuses.iter().flatten()) {
        to_body(*node);
    }
    for node in splices.iter().chain(eyelets) {
        to_body(*node);
    }
    for line in points.lines.iter().flatten() {
        for node in &line[1..line.len() - 1] {
            to_body(*node);
        }
    }
    for nodes in along {
        for node in &nodes[1..nodes.len() - 1] {
            to_body(*node);
        }
    }
    for at in 0..vehicle.stations.len() {
        let here: Vec<Node> = vehicle
            .conductors
            .iter()
            .zip(along)
            .filter_map(|(conductor, nodes)| {
                let piece =
                    conductor.runs.iter().position(|run| run.station.is_some_and(|id| id.index() == at))?;
                Some(nodes[piece])
            })
            .collect();
        for pair in here.windows(2) {
            add(pair[0], pair[1], Role::Fixed(vehicle.leakage.to_neighbour_ohms));
        }
    }
}

/// Resistances that present deviations add, in ohms, each with its place; several in one place are summed.
#[derive(Default)]
struct Added {
    /// Conductor and piece.
    pieces: Vec<((usize, usize), f64)>,
    /// Connector and cavity.
    contacts: Vec<((usize, u8), f64)>,
    fuses: Vec<(usize, f64)>,
    eyelets: Vec<(usize, f64)>,
}

/// What is added at one place, in ohms.
fn sum_at<P: PartialEq>(added: &[(P, f64)], place: P) -> f64 {
    added.iter().filter(|(at, _)| *at == place).fold(0.0, |sum, (_, ohms)| sum + ohms)
}

impl Added {
    fn new(vehicle: &Vehicle, state: &PhysicalState) -> Self {
        let mut added = Self::default();
        for one in &state.deviations {
            if let Deviation::Twisted { conductor, piece } = one.deviation {
                let ohms = if one.present { f64::INFINITY } else { Deviation::TWISTED_OHMS };
                added.pieces.push(((conductor.index(), piece), ohms));
            }
        }
        for deviation in state.present() {
            match *deviation {
                Deviation::Series { conductor, piece, ohms, .. } => {
                    added.pieces.push(((conductor.index(), piece), ohms));
                }
                Deviation::Strands { conductor, piece, left, of, .. } => {
                    let strands = vehicle.conductor(conductor).ohms_per_metre() * LAST_STRAND_METRES;
                    let ohms = strands * (f64::from(of) / f64::from(left) - 1.0);
                    added.pieces.push(((conductor.index(), piece), ohms));
                }
                Deviation::Contact { connector, cavity, ohms, .. } => {
                    added.contacts.push(((connector.index(), cavity), ohms));
                }
                Deviation::HalfSeated { connector, cavity } => {
                    added.contacts.push(((connector.index(), cavity), f64::INFINITY));
                }
                Deviation::Clips { fuse, ohms } => added.fuses.push((fuse.index(), ohms)),
                Deviation::Stud { eyelet, ohms, .. } => added.eyelets.push((eyelet.index(), ohms)),
                _ => {}
            }
        }
        added
    }
}

/// What a law depends on.
struct Here<'a> {
    vehicle: &'a Vehicle,
    state: &'a PhysicalState,
    on: &'a Commanded,
    pace: Pace,
    added: &'a Added,
    /// Copper's resistance against that at 20 °C.
    copper: f64,
}

/// A fuse's warmth as its resistance follows it: in steps of a millionth, so that what is all but cold again is cold.
fn in_steps(warmth: f64) -> f64 {
    const STEPS: f64 = 1_048_576.0;
    libm::round(warmth * STEPS) / STEPS
}

fn closed(closed: bool, ohms: f64) -> Law {
    if closed { Law::ohms(ohms) } else { Law::OPEN }
}

impl Here<'_> {
    fn law(&self, role: Role) -> Law {
        let Self { vehicle, state, added, .. } = *self;
        match role {
            Role::Fixed(ohms) => Law::ohms(ohms),
            Role::Battery => {
                let (volts, ohms) = state
                    .present()
                    .find_map(|deviation| match *deviation {
                        Deviation::Battery(volts, ohms) => Some((volts, ohms)),
                        _ => None,
                    })
                    .unwrap_or_else(|| {
                        let ohms =
                            vehicle.battery.internal_ohms * battery_empty_factor(state.charge_in_steps());
                        (state.battery_open_volts(vehicle), ohms)
                    });
                let charged = vehicle.battery.charging.is_some_and(|source| state.is_on(source.runs_with));
                let slow_ohms = if charged { CHARGE_OHMS } else { 0.0 };
                Law::source(volts, ohms * battery_cold_factor(state.celsius) + slow_ohms)
            }
            Role::Charging => match vehicle.battery.charging {
                Some(source) if state.is_on(source.runs_with) => Law::source(source.volts, source.ohms),
                _ => Law::OPEN,
            },
            Role::Contact(connector, cavity) => {
                let ohms = vehicle.connector(connector).contact_ohms
                    + sum_at(&added.contacts, (connector.index(), cavity));
                closed(state.is_mated(connector), ohms)
            }
            Role::Piece(id, piece) => {
                let conductor = vehicle.conductor(id);
                let crimps = u8::from(piece == 0) + u8::from(piece + 1 == conductor.runs.len());
                let at_body = (conductor.to == End::Body && piece + 1 == conductor.runs.len())
                    || (conductor.from == End::Body && piece == 0);
                let ohms = conductor.piece_ohms(piece) * self.copper
                    + f64::from(crimps) * CRIMP_OHMS
                    + if at_body { BODY_JOINT_OHMS } else { 0.0 }
                    + sum_at(&added.pieces, (id.index(), piece));
                Law::ohms(ohms)
            }
            Role::Short(at) => {
                let one = &state.deviations[at];
                match one.deviation {
                    Deviation::ToBody { ohms, .. } | Deviation::Between { ohms, .. } => {
                        closed(one.present, ohms)
                    }
                    _ => Law::OPEN,
                }
            }
            Role::Fuse(fuse) => match state.slot(fuse).fitted {
                Some(body) if !body.blown => {
                    let cold_ohms = cold_resistance_ohms(f64::from(body.rating_amps));
                    Law::ohms(
                        cold_ohms * (1.0 + in_steps(body.warmth))
                            + CLIPS_OHMS
                            + sum_at(&added.fuses, fuse.index()),
                    )
                }
                _ => Law::OPEN,
            },
            Role::Eyelet(eyelet) => Law::ohms(EYELET_OHMS + sum_at(&added.eyelets, eyelet.index())),
            Role::KeyCell => {
                let (volts, ohms) = state
                    .present()
                    .find_map(|deviation| match *deviation {
                        Deviation::KeyCell(volts, ohms) => Some((volts, ohms)),
                        _ => None,
                    })
                    .unwrap_or((vehicle.key.cell_volts, vehicle.key.cell_ohms));
                Law::source(volts, ohms)
            }
            Role::KeySender => closed(state.key_pressed, vehicle.key.sender_ohms),
            Role::Home => closed(state.claw_home, vehicle.latch().1.switch_ohms),
            Role::Lamp(id)
            | Role::LedResistor(id)
            | Role::Switch(id)
            | Role::Diode(id)
            | Role::Resistor(id)
            | Role::Line(id, ..)
            | Role::Winding(id)
            | Role::Suppression(id)
            | Role::NormallyOpen(id)
            | Role::NormallyClosed(id)
            | Role::Ajar(id)
            | Role::ModuleLoad(id)
            | Role::Output(id, _)
            | Role::Brake(id, _) => self.part_law(role, id),
        }
    }

    /// The law of a branch inside a part.
    fn part_law(&self, role: Role, id: PartId) -> Law {
        let Self { vehicle, state, .. } = *self;
        let stuck = |fits: &dyn Fn(&Deviation) -> Option<Stuck>| state.present().find_map(fits);
        match (role, &vehicle.part(id).kind) {
            (Role::Lamp(_), PartKind::Lamp { filament, .. }) => {
                if state.has(|d| *d == Deviation::LampOpen(id)) {
                    Law::OPEN
                } else {
                    self.filament(id, filament)
                }
            }
            (Role::LedResistor(_), PartKind::Led(led)) => match led_short(state, id) {
                Some(ohms) => Law::ohms(0.5 * ohms),
                None => self.two_pins(id, Law::ohms(led.series_ohms())),
            },
            (Role::Lamp(_), PartKind::Led(led)) => {
                led_short(state, id).map_or(Law::Diode(led.string()), |ohms| Law::ohms(0.5 * ohms))
            }
            (Role::Switch(_), PartKind::Switch { closed_ohms, .. }) => {
                let stuck = stuck(&|d| match *d {
                    Deviation::Switch(part, stuck) if part == id => Some(stuck),
                    _ => None,
                });
                let film = state.film(id).filter(|_| !state.part(id).wetted).map_or(0.0, |(ohms, _)| ohms);
                closed(stuck.map_or(state.is_on(id), |stuck| stuck == Stuck::Closed), *closed_ohms + film)
            }
            (Role::Diode(_), PartKind::Diode { .. }) => self.two_pins(id, silicon()),
            (Role::Resistor(_), PartKind::Resistor { ohms, .. }) => self.two_pins(id, Law::ohms(*ohms)),
            (Role::Line(_, line, section), PartKind::Screen(screen)) => closed(
                !state.has(|d| *d == Deviation::LineBroken(id, line, section)),
                screen.line_ohms / f64::from(Screen::SECTIONS),
            ),
            (Role::Winding(_), PartKind::Motor { motor, .. }) => self.motor(id, motor),
            (Role::Winding(_), PartKind::Latch(latch)) => self.motor(id, &latch.motor),
            (Role::Winding(_), PartKind::Relay(relay)) => Law::ohms(coil_ohms(state, id, relay)),
            (Role::Suppression(_), _) => silicon(),
            (Role::NormallyOpen(_), PartKind::Relay(relay)) => {
                let welded = state.has(|d| *d == Deviation::ContactWelded(id));
                let burnt = state
                    .present()
                    .find_map(|d| match *d {
                        Deviation::ContactBurnt(part, ohms) if part == id => Some(ohms),
                        _ => None,
                    })
                    .unwrap_or(0.0);
                let now = state.part(id);
                self.contact(welded || (now.pulled && !now.apart), relay.contact_ohms + burnt)
            }
            (Role::NormallyClosed(_), PartKind::Relay(relay)) => {
                let welded = state.has(|d| *d == Deviation::ContactWelded(id));
                self.contact(!welded && !state.part(id).pulled, relay.contact_ohms)
            }
            (Role::Ajar(_), PartKind::Latch(latch)) => {
                let stuck = stuck(&|d| match *d {
                    Deviation::AjarSwitch(part, stuck) if part == id => Some(stuck),
                    _ => None,
                });
                closed(stuck.map_or(!state.claw_home, |stuck| stuck == Stuck::Closed), latch.switch_ohms)
            }
            (Role::ModuleLoad(_), PartKind::Module(module)) => {
                Law::ohms(if state.part(id).asleep { module.asleep_ohms } else { module.load_ohms })
            }
            (Role::Output(_, at), PartKind::Module(module)) => match &module.outputs[at].kind {
                OutputKind::Contact { closed_ohms, .. } => self.contact(self.drives(id, at), *closed_ohms),
                OutputKind::HighSide(driver)
                | OutputKind::LowSide(driver)
                | OutputKind::HalfBridge { driver, .. } => self.driver(self.drives(id, at), driver),
            },
            (Role::Brake(_, at), PartKind::Module(module)) => match &module.outputs[at].kind {
                OutputKind::HalfBridge { driver, brakes } => {
                    // It takes a supply to brake, and what has shut itself down lets go of both sides.
                    let now = state.part(id);
                    let works = now.works
                        && !now.shut_down[at]
                        && !state.has(|d| *d == Deviation::OutputDead(id, at));
                    self.driver(*brakes && works && !self.drives(id, at), driver)
                }
                _ => Law::OPEN,
            },
            _ => Law::OPEN,
        }
    }

    /// Whether an output is really on.
    fn drives(&self, part: PartId, output: usize) -> bool {
        let state = self.state;
        if state.has(|d| *d == Deviation::OutputStuck(part, output)) {
            return true;
        }
        self.on.contains(&(part, output))
            && !state.part(part).shut_down[output]
            && !state.has(|d| *d == Deviation::OutputDead(part, output))
    }

    /// A metal contact, which even open leaks a little.
    fn contact(&self, closed: bool, ohms: f64) -> Law {
        Law::ohms(if closed { ohms } else { self.vehicle.leakage.across_contact_ohms })
    }

    fn driver(&self, on: bool, driver: &Driver) -> Law {
        if on {
            Law::Limited(Limited {
                on_ohms: driver.on_ohms_at(self.state.celsius),
                limit_amps: driver.limit_amps,
            })
        } else {
            Law::ohms(DRIVER_OFF_OHMS)
        }
    }

    /// A part with two pins, unless it is broken inside.
    fn two_pins(&self, id: PartId, sound: Law) -> Law {
        self.state
            .present()
            .find_map(|d| match *d {
                Deviation::PartOpen(part) if part == id => Some(Law::OPEN),
                Deviation::PartShorted(part, ohms) if part == id => Some(Law::ohms(ohms)),
                _ => None,
            })
            .unwrap_or(sound)
    }

    fn filament(&self, id: PartId, filament: &Filament) -> Law {
        match self.pace {
            Pace::Rest => Law::Filament(*filament),
            Pace::Instant => Law::ohms(self.state.part(id).filament_ohms.max(filament.cold_ohms())),
        }
    }

    /// A motor at its present speed: at rest its winding; turning, I = idle + slope (V − I R).
    fn motor(&self, id: PartId, motor: &Motor) -> Law {
        let ohms = winding_ohms(self.state, id, motor);
        let speed_volts = self.state.part(id).speed_volts;
        if speed_volts == 0.0 || ohms.is_infinite() {
            return Law::ohms(ohms);
        }
        let share = 1.0 + motor.slope_siemens * ohms;
        Law::Linear {
            siemens: motor.slope_siemens / share,
            amps: motor.idle_amps.copysign(speed_volts) / share,
        }
    }
}

fn silicon() -> Law {
    Law::Diode(Diode::dropping(DIODE_VOLTS, 1.0, DIODE_SLOPE_VOLTS))
}

/// What a lamp of diodes is shorted by, in ohms, if it is: half of it stands for its resistor, half for its string.
pub(super) fn led_short(state: &PhysicalState, id: PartId) -> Option<f64> {
    state.present().find_map(|d| match *d {
        Deviation::PartShorted(part, ohms) if part == id => Some(ohms),
        _ => None,
    })
}

/// A winding's resistance in place of `sound_ohms`, in ohms at 20 °C.
fn wound(state: &PhysicalState, id: PartId, sound_ohms: f64) -> f64 {
    state
        .present()
        .find_map(|deviation| match *deviation {
            Deviation::Winding(part, ohms) if part == id => Some(ohms),
            _ => None,
        })
        .unwrap_or(sound_ohms)
}

/// A motor's winding and brushes as they are, in ohms.
pub(super) fn winding_ohms(state: &PhysicalState, id: PartId, motor: &Motor) -> f64 {
    if state.has(|d| matches!(*d, Deviation::DeadSpot(part, _) if part == id)) {
        return f64::INFINITY;
    }
    wound(state, id, motor.winding_ohms) * copper_factor(state.celsius)
}

/// A relay's coil as it is, in ohms.
pub(super) fn coil_ohms(state: &PhysicalState, id: PartId, relay: &Relay) -> f64 {
    wound(state, id, relay.coil_ohms) * copper_factor(state.celsius)
}

/// Whether a key button reaches the sender.
pub(super) fn button_works(state: &PhysicalState, button: KeyButton) -> bool {
    !state.has(|deviation| *deviation == Deviation::KeyButton(button))
}

impl Vehicle {
    /// Whether a connector's other half is the pins of parts.
    #[must_use]
    pub fn mates_with_pins(&self, connector: ConnectorId) -> bool {
        self.connector(connector).mate == Mate::Pins
    }
}
