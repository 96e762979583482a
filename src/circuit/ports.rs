//! What a network looks like from outside: the one path of every reading.
//!
//! The tangent network at the operating point is factored once. For each node that a lead may touch, one forward solve
//! leaves a list of numbers, and the resistance of a port is the sum of squared differences of two such lists: nothing
//! cancels, even between neighbours that hang together on a gigohm. A load then meets the port by its own law alone, as
//! long as its current leaves every curve on its tangent; else see [`super::bend`].

use super::bend::{Bent, Curves};
use super::element::Law;
use super::ldl::{Factor, short};
use super::network::{Network, Node};
use super::point::{Load, LoadPoint, OperatingPoint, Port, Tangent};
use super::unsolved::Unsolved;

/// Steps in which a curved load has to settle at its port; a junction takes twenty.
const STEPS: usize = 100;
/// Numbers that are summed side by side. The order of summation is part of the result.
const LANES: usize = 4;
/// The root of the resistance from a floating piece to ground.
const ENDLESS: f64 = 1e150;
/// A node that is no port.
const NO_PORT: u32 = u32::MAX;

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
    /// The first lane in which each port's list is not zero.
    first: Vec<u32>,
    /// By port: what one ampere sends towards each position, over the root of that position's pivot.
    reach: Vec<[f64; LANES]>,
    /// Lanes of each list.
    lanes: usize,
    curves: Curves,
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
        let factor = self.factor(network);
        let rows = network.pattern.rows();
        let lanes = rows.div_ceil(LANES);
        let mut place = vec![NO_PORT; network.nodes()];
        let mut ports = Vec::with_capacity(nodes.len());
        for &node in nodes {
            if place[node.0] == NO_PORT {
                place[node.0] = short(ports.len());
                ports.push(node);
            }
        }
        let curves = Curves::new(network, self, &factor, &ports);
        let mut first = Vec::with_capacity(ports.len());
        let mut reach = Vec::with_capacity(first.capacity() * lanes);
        let mut x = vec![0.0; (rows + 1).next_multiple_of(LANES)];
        let roots: Vec<f64> = factor.reciprocals().iter().map(|pivot| libm::sqrt(*pivot)).collect();
        for node in ports {
            let position = network.positions[node.0] as usize;
            x.fill(0.0);
            if position < rows {
                x[position] = 1.0;
                factor.forward(&network.pattern, network.pattern.onward(position), &mut x);
                for column in network.pattern.onward(position) {
                    let (value, root) = (x[column], roots[column]);
                    // Where a piece floats: the same for all its nodes.
                    x[column] = if root == 0.0 { ENDLESS * libm::round(value) } else { value * root };
                }
            }
            first.push(short(position / LANES));
            reach.extend_from_slice(&x.as_chunks().0[..lanes]);
        }
        let left_out = self.attached || self.tangents.len() != network.branches();
        PortModel { network, point: self, left_out, factor, place, first, reach, lanes, curves }
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

    /// The operating point with this load on it.
    pub(super) fn loaded(mut self, network: &Network, load: &Load) -> Result<Self, Unsolved> {
        let model = self.ports(network, &[load.from, load.to]);
        let felt = model.felt(load)?;
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
        self.felt(load).map(|felt| felt.load())
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
        let places = size_of_val(self.place.as_slice()) + size_of_val(self.first.as_slice());
        size_of::<Self>()
            + places
            + size_of_val(self.reach.as_slice())
            + self.factor.bytes()
            + self.curves.bytes()
    }

    fn place(&self, node: Node) -> Result<usize, Unsolved> {
        match self.place.get(node.0) {
            Some(&place) if place != NO_PORT => Ok(place as usize),
            _ => Err(Unsolved::NoPort(node)),
        }
    }

    /// Resistance between two ports: Σ (a − b)² over their lists.
    fn ohms(&self, a: usize, b: usize) -> f64 {
        let skip = self.first[a].min(self.first[b]) as usize;
        let list = |port: usize| &self.reach[port * self.lanes..][skip.min(self.lanes)..self.lanes];
        let mut sums = [0.0; LANES];
        for (a, b) in list(a).iter().zip(list(b)) {
            for lane in 0..LANES {
                let apart = a[lane] - b[lane];
                sums[lane] += apart * apart;
            }
        }
        (sums[0] + sums[2]) + (sums[1] + sums[3])
    }

    fn felt(&self, load: &Load) -> Result<Felt, Unsolved> {
        if !load.is_sound() {
            return Err(Unsolved::BadLoad(0));
        }
        let (a, b) = (self.place(load.from)?, self.place(load.to)?);
        if self.left_out {
            return Err(Unsolved::LoadLeftOut);
        }
        let open_volts = self.point.along((load.from, load.to));
        let ohms = self.ohms(a, b) + load.lead_ohms;
        let felt = meet(&load.law, open_volts, ohms)?;
        if self.curves.stay(a, b, felt.amps) {
            return Ok(Felt::Straight(felt));
        }
        if let Some(bent) = self.curves.bend(self.point, a, b, &load.law, open_volts, ohms, felt) {
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

/// What a load feels behind `ohms` at `open_volts`.
fn meet(law: &Law, open_volts: f64, ohms: f64) -> Result<LoadPoint, Unsolved> {
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
