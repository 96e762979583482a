//! What a network looks like from outside: the one path of every reading.
//!
//! The tangent network at the operating point is factored once. For each node that a lead may touch, one forward solve
//! leaves a number in each column on the way to the last. The resistance of a port is the sum of the squared numbers of
//! its two nodes where their ways are apart, and of squared differences where they are one: nothing cancels, even between
//! neighbours that hang together on a gigohm. A load then meets the port by its own law alone, as long as its current
//! leaves every curve on its tangent; else see [`super::bend`].

use super::bend::{Bent, Curves};
use super::element::Law;
use super::ldl::{Factor, short};
use super::network::{Network, Node};
use super::point::{Load, LoadPoint, OperatingPoint, Port, Tangent};
use super::solve::along;
use super::spare;
use super::unsolved::Unsolved;

/// Steps in which a curved load has to settle at its port; a junction takes twenty.
const STEPS: usize = 100;
/// Numbers that are summed side by side. The order of summation is part of the result.
const LANES: usize = 4;
/// The root of the resistance from a floating piece to ground.
const ENDLESS: f64 = 1e150;
/// A node that is no port.
const NO_PORT: u32 = u32::MAX;
/// Beyond the end of a way.
const NO_COLUMN: u32 = u32::MAX;

/// Some columns of a port's way, seen from its end, where all ways of a piece meet.
#[derive(Clone, Copy, Debug)]
struct Link {
    /// Which columns.
    columns: [u32; LANES],
    /// What one ampere into the port sends towards each of them, over the root of its pivot.
    reach: [f64; LANES],
    /// The sum of squares over all columns between these and the port.
    nearer: f64,
}

/// A network as it is seen from some of its nodes.
#[derive(Clone, Debug)]
pub struct PortModel<'a> {
    network: &'a Network,
    point: &'a OperatingPoint,
    /// The point has loads that are not in the network.
    left_out: bool,
    factor: Factor,
    /// Place of each node in the lists below.
    place: Vec<u32>,
    /// Where each port's links begin, and where the last port's end.
    start: Vec<u32>,
    /// The last link of each port has room left.
    links: Vec<Link>,
    curves: Curves,
}

/// A load at two ports, while all curves are taken at their slope.
#[derive(Clone, Copy, Debug)]
pub(super) struct Met {
    /// Places of the two ports.
    pub(super) from: usize,
    pub(super) to: usize,
    /// Volts between them without it.
    pub(super) open_volts: f64,
    /// Resistance between them, with that of its leads.
    pub(super) ohms: f64,
    /// What it feels.
    pub(super) felt: LoadPoint,
}

/// What a load feels, and what that did to the network.
pub(super) enum Felt {
    /// All curves stayed on their tangents.
    Straight(LoadPoint),
    /// Some bent.
    Bent(Bent),
    /// The network was solved anew with the load in it.
    Anew(LoadPoint, OperatingPoint),
}

impl Felt {
    fn load(&self) -> LoadPoint {
        match self {
            Self::Straight(load) | Self::Anew(load, _) => *load,
            Self::Bent(bent) => bent.load,
        }
    }
}

impl OperatingPoint {
    /// What `network` looks like from these nodes. It is the network of which this is the operating point; if loads were
    /// connected, the one that was prepared for them ([`super::LoadedNetwork::network`]).
    ///
    /// What is found between two nodes does not depend on which others are in the list, nor on their order.
    #[must_use]
    pub fn ports<'a>(&'a self, network: &'a Network, nodes: &[Node]) -> PortModel<'a> {
        let mut model = self.straight_ports(network, nodes);
        let mut ports = Vec::with_capacity(nodes.len());
        for &node in nodes {
            if model.place[node.0] as usize == ports.len() {
                ports.push(node);
            }
        }
        model.curves = Curves::new(network, self, &model.factor, &ports);
        model
    }

    /// The same without curves.
    fn straight_ports<'a>(&'a self, network: &'a Network, nodes: &[Node]) -> PortModel<'a> {
        let factor = self.factor(network);
        let mut place = vec![NO_PORT; network.nodes()];
        let mut ports = Vec::with_capacity(nodes.len());
        for &node in nodes {
            if place[node.0] == NO_PORT {
                place[node.0] = short(ports.len());
                ports.push(node);
            }
        }
        let mut roots = spare::list(factor.reciprocals().len());
        roots.extend(factor.reciprocals().iter().map(|pivot| libm::sqrt(*pivot)));
        let mut start = Vec::with_capacity(ports.len() + 1);
        let mut links = Vec::with_capacity(8 * ports.len());
        let mut way = Vec::new();
        let mut x = spare::list(roots.len());
        x.resize(roots.len(), 0.0);
        for node in ports {
            start.push(short(links.len()));
            way.clear();
            way.extend(network.pattern.onward(network.positions[node.0] as usize));
            if let Some(&first) = way.first() {
                x[first] = 1.0;
            }
            factor.forward(&network.pattern, way.iter().copied(), &mut x);
            add_links(&way, &mut x, &roots, &mut links);
        }
        start.push(short(links.len()));
        spare::done(roots);
        spare::done(x);
        let left_out = self.attached || self.tangents.len() != network.branches();
        PortModel { network, point: self, left_out, factor, place, start, links, curves: Curves::default() }
    }

    /// The Thévenin equivalent between two nodes, curves taken at their slope; loads that are no branches of `network` are
    /// left out.
    #[must_use]
    pub fn port(&self, network: &Network, from: Node, to: Node) -> Port {
        let model = self.ports(network, &[from, to]);
        let ohms = model.ohms(model.place[from.0] as usize, model.place[to.0] as usize);
        Port { open_volts: self.along((from, to)), ohms }
    }

    /// The tangent network's factor.
    fn factor(&self, network: &Network) -> Factor {
        let mut factor = Factor::zero(&network.pattern);
        for (&stamp, tangent) in network.stamps.iter().zip(&self.tangents) {
            factor.values[stamp as usize] += tangent.siemens;
        }
        // Without loads that are left out a piece may float; else the operating point was found on this matrix.
        factor.eliminate(&network.pattern);
        factor
    }

    /// The operating point with this load on it, as [`operating_point`](super::operating_point) finds it; this one has none.
    ///
    /// # Errors
    /// See [`Unsolved`].
    pub fn with_load(&self, network: &Network, load: &Load) -> Result<Self, Unsolved> {
        self.clone().loaded(network, load)
    }

    /// What one load feels that is put on it alone, as [`PortModel::attach`] finds it: where the load moves no curve off its
    /// tangent, it takes a fraction of the work.
    ///
    /// # Errors
    /// As [`PortModel::attach`].
    pub fn feel(&self, network: &Network, load: &Load) -> Result<LoadPoint, Unsolved> {
        let left_out = self.attached || self.tangents.len() != network.branches() || !load.is_sound();
        if !left_out && let Some(felt) = self.straight_feel(network, load)? {
            return Ok(felt);
        }
        self.ports(network, &[load.from, load.to]).attach(load)
    }

    /// The same where all curves stay on their tangents.
    fn straight_feel(&self, network: &Network, load: &Load) -> Result<Option<LoadPoint>, Unsolved> {
        let ports = self.straight_ports(network, &[load.from, load.to]);
        let met = ports.meet(load)?;
        let rows = network.pattern.rows();
        let mut moved = spare::list(rows + 1);
        moved.resize(rows + 1, 0.0);
        moved[network.positions[load.from.0] as usize] -= met.felt.amps;
        moved[network.positions[load.to.0] as usize] += met.felt.amps;
        moved[rows] = 0.0;
        ports.factor.solve(&network.pattern, &mut moved);
        moved[rows] = 0.0;
        let stay = self.curves.iter().all(|curve| {
            let stays = curve.law.stays_within(self.along(network.branches[curve.branch]));
            along(network, &moved, curve.branch).abs() <= stays
        });
        spare::done(moved);
        Ok(stay.then_some(met.felt))
    }

    /// The Thévenin equivalent that its one load met, if it has one that met it at a port.
    #[must_use]
    pub fn met_port(&self) -> Option<Port> {
        self.met
    }

    /// The operating point with this load on it.
    pub(super) fn loaded(mut self, network: &Network, load: &Load) -> Result<Self, Unsolved> {
        let model = self.ports(network, &[load.from, load.to]);
        let felt = model.felt(load)?;
        let met = model.port(load.from, load.to)?;
        let load_point = felt.load();
        let mut amps = vec![0.0; network.pattern.rows() + 1];
        let mut draw = |from: u32, to: u32, drawn: f64| {
            amps[from as usize] -= drawn;
            amps[to as usize] += drawn;
        };
        draw(network.positions[load.from.0], network.positions[load.to.0], load_point.amps);
        let tangents = match felt {
            Felt::Straight(_) => Vec::new(),
            Felt::Bent(bent) => {
                for (curve, drawn) in self.curves.iter().zip(&bent.drawn_amps) {
                    let [from, to] = network.ends[curve.branch];
                    draw(from, to, *drawn);
                }
                bent.tangents
            }
            Felt::Anew(_, point) => return Ok(point),
        };
        let reference = network.pattern.rows();
        amps[reference] = 0.0;
        model.factor.solve(&network.pattern, &mut amps);
        amps[reference] = 0.0;
        for (curve, tangent) in self.curves.iter().zip(tangents) {
            self.tangents[curve.branch] = tangent;
        }
        for (volts, &position) in self.volts.iter_mut().zip(&network.positions) {
            *volts += amps[position as usize];
        }
        self.loads = vec![load_point];
        self.attached = true;
        self.met = Some(met);
        self.complete(network, &[(load.from, load.to, load_point.amps)], &mut Vec::new())?;
        Ok(self)
    }
}

impl PortModel<'_> {
    /// What `load` feels on two of the ports.
    ///
    /// # Errors
    /// [`Unsolved::BadLoad`], [`Unsolved::NoPort`] and [`Unsolved::LoadLeftOut`] as they say; [`Unsolved::Overflow`] and
    /// [`Unsolved::NotConverged`] where there is no answer in numbers.
    pub fn attach(&self, load: &Load) -> Result<LoadPoint, Unsolved> {
        let met = self.meet(load)?;
        if met.stays(&self.curves) { Ok(met.felt) } else { Ok(self.moved(load, &met)?.load()) }
    }

    /// The Thévenin equivalent between two of the ports, curves taken at their slope.
    ///
    /// # Errors
    /// [`Unsolved::NoPort`] for other nodes.
    pub fn port(&self, from: Node, to: Node) -> Result<Port, Unsolved> {
        let (a, b) = (self.place(from)?, self.place(to)?);
        Ok(Port { open_volts: self.point.along((from, to)), ohms: self.ohms(a, b) })
    }

    /// How much memory it holds beside its network and point, in bytes.
    #[must_use]
    pub fn bytes(&self) -> usize {
        let places = size_of_val(self.place.as_slice()) + size_of_val(self.start.as_slice());
        size_of::<Self>()
            + places
            + size_of_val(self.links.as_slice())
            + self.factor.bytes()
            + self.curves.bytes()
    }

    #[inline]
    fn place(&self, node: Node) -> Result<usize, Unsolved> {
        match self.place.get(node.0) {
            Some(&place) if place != NO_PORT => Ok(place as usize),
            _ => Err(Unsolved::NoPort(node)),
        }
    }

    /// The links of a port.
    fn links(&self, port: usize) -> &[Link] {
        &self.links[self.start[port] as usize..self.start[port + 1] as usize]
    }

    /// Resistance between two ports: Σ (a − b)² where their ways are one, and Σ a² + Σ b² where they are apart.
    fn ohms(&self, a: usize, b: usize) -> f64 {
        let mut sums = [0.0; LANES];
        let total = |sums: [f64; LANES]| (sums[0] + sums[2]) + (sums[1] + sums[3]);
        for (a, b) in self.links(a).iter().zip(self.links(b)) {
            if a.columns == b.columns {
                for ((sum, a), b) in sums.iter_mut().zip(&a.reach).zip(&b.reach) {
                    let apart = a - b;
                    *sum += apart * apart;
                }
                continue;
            }
            for (lane, sum) in sums.iter_mut().enumerate() {
                let (a_reach, b_reach) = (a.reach[lane], b.reach[lane]);
                *sum += if a.columns[lane] == b.columns[lane] {
                    (a_reach - b_reach) * (a_reach - b_reach)
                } else {
                    a_reach * a_reach + b_reach * b_reach
                };
            }
            return total(sums) + (a.nearer + b.nearer);
        }
        // One way is the other: with room in its last link, a way that goes on is found out above.
        total(sums)
    }

    /// Where `load` meets the network if all curves stay on their tangents.
    // In line, what is found stays in registers: a good part of a reading would be carrying it to and fro.
    #[inline(always)]
    fn meet(&self, load: &Load) -> Result<Met, Unsolved> {
        if !load.is_sound() {
            return Err(Unsolved::BadLoad(0));
        }
        let (from, to) = (self.place(load.from)?, self.place(load.to)?);
        if self.left_out {
            return Err(Unsolved::LoadLeftOut);
        }
        let open_volts = self.point.along((load.from, load.to));
        let ohms = self.ohms(from, to) + load.lead_ohms;
        Ok(Met { from, to, open_volts, ohms, felt: meet(&load.law, open_volts, ohms)? })
    }

    fn felt(&self, load: &Load) -> Result<Felt, Unsolved> {
        let met = self.meet(load)?;
        if met.stays(&self.curves) { Ok(Felt::Straight(met.felt)) } else { self.moved(load, &met) }
    }

    /// What `load` feels where curves do not stay on their tangents.
    #[inline(never)]
    fn moved(&self, load: &Load, met: &Met) -> Result<Felt, Unsolved> {
        if let Some(bent) = self.curves.bend(self.point, &load.law, met) {
            return Ok(Felt::Bent(bent));
        }
        let mut laws: Vec<Law> = self
            .point
            .tangents
            .iter()
            .map(|&Tangent { siemens, amps }| Law::Linear { siemens, amps })
            .collect();
        for curve in &self.point.curves {
            laws[curve.branch] = curve.law;
        }
        let point = self.network.with_loads(&[(load.from, load.to)]).operating_point(&laws, &[*load])?;
        Ok(Felt::Anew(point.loads[0], point))
    }
}

impl Met {
    /// Whether all curves stay on their tangents.
    #[inline]
    fn stays(&self, curves: &Curves) -> bool {
        curves.stay(self.from, self.to, self.felt.amps)
    }
}

/// Adds the links of a port from what its ampere sends towards the columns of its way, and clears that.
fn add_links(way: &[usize], x: &mut [f64], roots: &[f64], links: &mut Vec<Link>) {
    let from = links.len();
    for some in way.rchunks(LANES).chain((way.len().is_multiple_of(LANES)).then_some(&[] as &[usize])) {
        let mut link = Link { columns: [NO_COLUMN; LANES], reach: [0.0; LANES], nearer: 0.0 };
        for (lane, &column) in some.iter().rev().enumerate() {
            let (value, root) = (std::mem::take(&mut x[column]), roots[column]);
            link.columns[lane] = short(column);
            // Where a piece floats: the same for all its nodes.
            link.reach[lane] = if root == 0.0 { ENDLESS * libm::round(value) } else { value * root };
        }
        links.push(link);
    }
    let mut nearer = 0.0;
    for link in links[from..].iter_mut().rev() {
        link.nearer = nearer;
        nearer += link.reach.iter().map(|reach| reach * reach).sum::<f64>();
    }
}

/// What a load feels behind `ohms` at `open_volts`.
#[inline]
pub(super) fn meet(law: &Law, open_volts: f64, ohms: f64) -> Result<LoadPoint, Unsolved> {
    let felt = match *law {
        Law::Conductance(siemens) => straight(siemens, 0.0, open_volts, ohms),
        Law::Linear { siemens, amps } => straight(siemens, amps, open_volts, ohms),
        _ => return meet_curved(law, open_volts, ohms),
    };
    if felt.is_finite() { Ok(felt) } else { Err(Unsolved::Overflow) }
}

/// Where I = siemens × V + amps meets a port: sums of terms of like sign over each other, so that no digits are lost
/// between a source's large currents.
fn straight(siemens: f64, amps: f64, open_volts: f64, ohms: f64) -> LoadPoint {
    let share = 1.0 / (1.0 + siemens * ohms);
    LoadPoint { volts: (open_volts - ohms * amps) * share, amps: (siemens * open_volts + amps) * share }
}

/// Newton's method on V + ohms × I(V) = open volts, which only grows with V. Curved laws pass no current at no voltage, so
/// the answer lies between 0 and the open voltage.
fn meet_curved(law: &Law, open_volts: f64, ohms: f64) -> Result<LoadPoint, Unsolved> {
    let (mut low, mut high) = (open_volts.min(0.0), open_volts.max(0.0));
    let mut volts = open_volts;
    for _ in 0..STEPS {
        let (amps, siemens) = law.current(volts);
        let over = (volts - open_volts) + ohms * amps;
        if over > 0.0 {
            high = volts;
        } else {
            low = volts;
        }
        let mut next = volts - over / (1.0 + ohms * siemens);
        if !(low..=high).contains(&next) {
            next = 0.5 * (low + high);
        }
        let settled = (next - volts).abs() <= 1e-14 * next.abs() + 2.0 * f64::EPSILON * open_volts.abs();
        volts = next;
        if settled {
            let felt = LoadPoint { volts, amps: law.current(volts).0 };
            return if felt.is_finite() { Ok(felt) } else { Err(Unsolved::Overflow) };
        }
    }
    Err(Unsolved::NotConverged)
}
