//! A vehicle's circuit: its topology, and the laws of its branches in a given state.

use super::deviation::{Deviation, Stuck};
use super::ids::{ConductorId, ConnectorId, EyeletId, FuseId, PartId};
use super::model::{End, KeyButton, Mate, PartKind, Side, Vehicle};
use super::point::{Half, Point};
use super::state::PhysicalState;
use crate::circuit::{Branch, Law, Network, NetworkBuilder, Node, cold_resistance_ohms};

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

/// What a branch stands for.
#[derive(Clone, Copy, Debug)]
enum Role {
    Fixed(f64),
    Battery,
    Contact(ConnectorId, u8),
    Piece(ConductorId, usize),
    Short(usize),
    Fuse(FuseId),
    Eyelet(EyeletId),
    Lamp(PartId),
    Switch(PartId),
    Motor,
    Ajar(PartId),
    Home,
    Output(PartId, usize),
    KeyCell,
    KeySender,
}

/// How the motors stand and which output is closed, in one phase of time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Mode {
    /// The latch's motor turns.
    pub motor_runs: bool,
    /// This output of this module is closed.
    pub closed: Option<(PartId, usize)>,
}

/// A vehicle's circuit, with what is wrong with it built in.
#[derive(Clone, Debug)]
pub struct Wiring {
    network: Network,
    roles: Vec<Role>,
    points: Points,
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
}

impl Points {
    fn cavity(&self, connector: ConnectorId, half: Half, cavity: u8) -> Node {
        let half = match half {
            Half::Loom => 0,
            Half::Mate => 1,
        };
        self.cavities[connector.index()][half][usize::from(cavity) - 1]
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
        let points = Points {
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
        };
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
                PartKind::Switch { pins, .. } => add(pin(pins.0), pin(pins.1), Role::Switch(id)),
                PartKind::Latch(latch) => {
                    add(pin(latch.feed), pin(latch.ground), Role::Motor);
                    add(pin(latch.ajar), pin(latch.ground), Role::Ajar(id));
                    add(pin(latch.home), pin(latch.ground), Role::Home);
                }
                PartKind::Module(module) => {
                    add(pin(module.supply), pin(module.ground), Role::Fixed(module.load_ohms));
                    for input in &module.inputs {
                        add(pin(module.supply), pin(input.pin), Role::Fixed(input.pull_up_ohms));
                    }
                    for (at, output) in module.outputs.iter().enumerate() {
                        add(pin(output.feed), pin(output.pin), Role::Output(id, at));
                        add(pin(output.pin), pin(module.ground), Role::Fixed(output.bleed_ohms));
                    }
                }
            }
        }
        add(points.key_plus, points.key_minus, Role::KeyCell);
        add(points.key_plus, points.key_minus, Role::KeySender);
        add(points.key_minus, body, Role::Fixed(KEY_LEAKAGE_OHMS));
        for (at, one) in state.deviations.iter().enumerate() {
            if let Deviation::ToBody { conductor, piece, .. } = one.deviation {
                add(along[conductor.index()][piece], body, Role::Short(at));
            }
        }
        leakage(vehicle, &along, &points, &splices, &eyelets, &mut add);
        // Every branch has a resistance and every node a leakage to the body, so that no ideal source can loop and
        // nothing can float.
        let (network, _) = net.build().expect("a vehicle's circuit has no ideal sources");
        Self { network, roles, points }
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
        }
    }

    /// The branch of a fuse slot.
    #[must_use]
    pub fn fuse_branch(&self, fuse: FuseId) -> Branch {
        self.branch(|role| matches!(role, Role::Fuse(id) if *id == fuse))
    }

    /// The branch of a lamp's filament.
    #[must_use]
    pub fn lamp_branch(&self, part: PartId) -> Branch {
        self.branch(|role| matches!(role, Role::Lamp(id) if *id == part))
    }

    /// The branch of the latch's motor.
    #[must_use]
    pub fn motor_branch(&self) -> Branch {
        self.branch(|role| matches!(role, Role::Motor))
    }

    fn branch(&self, fits: impl Fn(&Role) -> bool) -> Branch {
        Branch(self.roles.iter().position(fits).expect("every part of a vehicle has its branch"))
    }

    /// The laws of all branches, in the given state and mode.
    #[must_use]
    pub fn laws(&self, vehicle: &Vehicle, state: &PhysicalState, mode: Mode) -> Vec<Law> {
        let added = Added::new(vehicle, state);
        self.roles.iter().map(|&role| law(vehicle, state, mode, &added, role)).collect()
    }
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

/// Resistances that present deviations add, summed where several sit in one place.
struct Added {
    pieces: Vec<Vec<f64>>,
    contacts: Vec<Vec<f64>>,
    fuses: Vec<f64>,
    eyelets: Vec<f64>,
}

impl Added {
    fn new(vehicle: &Vehicle, state: &PhysicalState) -> Self {
        let mut added = Self {
            pieces: vehicle.conductors.iter().map(|conductor| vec![0.0; conductor.runs.len()]).collect(),
            contacts: vehicle
                .connectors
                .iter()
                .map(|connector| vec![0.0; usize::from(connector.cavities)])
                .collect(),
            fuses: vec![0.0; vehicle.fuses.len()],
            eyelets: vec![0.0; vehicle.eyelets.len()],
        };
        for one in &state.deviations {
            if let Deviation::Twisted { conductor, piece } = one.deviation {
                added.pieces[conductor.index()][piece] +=
                    if one.present { f64::INFINITY } else { Deviation::TWISTED_OHMS };
            }
        }
        for deviation in state.present() {
            match *deviation {
                Deviation::Series { conductor, piece, ohms, .. } => {
                    added.pieces[conductor.index()][piece] += ohms
                }
                Deviation::Contact { connector, cavity, ohms, .. } => {
                    added.contacts[connector.index()][usize::from(cavity) - 1] += ohms;
                }
                Deviation::HalfSeated { connector, cavity } => {
                    added.contacts[connector.index()][usize::from(cavity) - 1] = f64::INFINITY;
                }
                Deviation::Clips { fuse, ohms } => added.fuses[fuse.index()] += ohms,
                Deviation::Stud { eyelet, ohms, .. } => added.eyelets[eyelet.index()] += ohms,
                _ => {}
            }
        }
        added
    }
}

fn law(vehicle: &Vehicle, state: &PhysicalState, mode: Mode, added: &Added, role: Role) -> Law {
    let stuck = |fits: &dyn Fn(&Deviation) -> Option<Stuck>| state.present().find_map(fits);
    let closed = |closed: bool, ohms: f64| if closed { Law::ohms(ohms) } else { Law::OPEN };
    match role {
        Role::Fixed(ohms) => Law::ohms(ohms),
        Role::Battery => {
            let (volts, ohms) = state
                .present()
                .find_map(|deviation| match *deviation {
                    Deviation::Battery(volts, ohms) => Some((volts, ohms)),
                    _ => None,
                })
                .unwrap_or((vehicle.battery.open_volts, vehicle.battery.internal_ohms));
            Law::source(volts, ohms)
        }
        Role::Contact(connector, cavity) => {
            let ohms = vehicle.connector(connector).contact_ohms
                + added.contacts[connector.index()][usize::from(cavity) - 1];
            closed(state.is_mated(connector), ohms)
        }
        Role::Piece(id, piece) => {
            let conductor = vehicle.conductor(id);
            let crimps = u8::from(piece == 0) + u8::from(piece + 1 == conductor.runs.len());
            let ohms = conductor.piece_ohms(piece)
                + f64::from(crimps) * CRIMP_OHMS
                + if conductor.to == End::Body && piece + 1 == conductor.runs.len() {
                    BODY_JOINT_OHMS
                } else {
                    0.0
                }
                + added.pieces[id.index()][piece];
            Law::ohms(ohms)
        }
        Role::Short(at) => {
            let one = &state.deviations[at];
            match one.deviation {
                Deviation::ToBody { ohms, .. } => closed(one.present, ohms),
                _ => Law::OPEN,
            }
        }
        Role::Fuse(fuse) => match state.slot(fuse).fitted {
            Some(body) if !body.blown => Law::ohms(
                cold_resistance_ohms(f64::from(body.rating_amps)) + CLIPS_OHMS + added.fuses[fuse.index()],
            ),
            _ => Law::OPEN,
        },
        Role::Eyelet(eyelet) => Law::ohms(EYELET_OHMS + added.eyelets[eyelet.index()]),
        Role::Lamp(id) => match &vehicle.part(id).kind {
            PartKind::Lamp { filament, .. } if !state.has(|d| *d == Deviation::LampOpen(id)) => {
                Law::Filament(*filament)
            }
            _ => Law::OPEN,
        },
        Role::Switch(id) => {
            let PartKind::Switch { closed_ohms, .. } = vehicle.part(id).kind else { return Law::OPEN };
            let stuck = stuck(&|d| match *d {
                Deviation::Switch(part, stuck) if part == id => Some(stuck),
                _ => None,
            });
            closed(stuck.map_or(state.is_on(id), |stuck| stuck == Stuck::Closed), closed_ohms)
        }
        Role::Motor => {
            let (_, latch) = vehicle.latch();
            let winding_ohms = winding_ohms(vehicle, state);
            if mode.motor_runs {
                // I = idle + slope (V − I R)
                let share = 1.0 + latch.motor.slope_siemens * winding_ohms;
                Law::Linear {
                    siemens: latch.motor.slope_siemens / share,
                    amps: latch.motor.idle_amps / share,
                }
            } else {
                Law::ohms(winding_ohms)
            }
        }
        Role::Ajar(id) => {
            let (_, latch) = vehicle.latch();
            let stuck = stuck(&|d| match *d {
                Deviation::AjarSwitch(part, stuck) if part == id => Some(stuck),
                _ => None,
            });
            closed(stuck.map_or(!state.claw_home, |stuck| stuck == Stuck::Closed), latch.switch_ohms)
        }
        Role::Home => closed(state.claw_home, vehicle.latch().1.switch_ohms),
        Role::Output(part, at) => {
            let PartKind::Module(module) = &vehicle.part(part).kind else { return Law::OPEN };
            let dead = state.has(|d| *d == Deviation::OutputDead(part, at));
            if mode.closed == Some((part, at)) && !dead {
                Law::ohms(module.outputs[at].closed_ohms)
            } else {
                Law::ohms(vehicle.leakage.across_contact_ohms)
            }
        }
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
    }
}

/// The latch motor's winding as it is, in ohms.
pub(super) fn winding_ohms(vehicle: &Vehicle, state: &PhysicalState) -> f64 {
    state
        .present()
        .find_map(|deviation| match *deviation {
            Deviation::Winding(_, ohms) => Some(ohms),
            _ => None,
        })
        .unwrap_or(vehicle.latch().1.motor.winding_ohms)
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
