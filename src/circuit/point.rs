//! A network's voltages and currents, and what is connected to it.

use super::element::{Filament, Law};
use super::network::{Branch, Network, Node, Source};
use super::spare;
use super::unsolved::Unsolved;

/// Something that a person connects to two nodes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The node of its first lead.
    pub from: Node,
    /// The node of its second lead.
    pub to: Node,
    /// What it is.
    pub law: Law,
    /// Resistance of both its leads together, in ohms; not 0.
    pub lead_ohms: f64,
}

impl Load {
    /// A filament test lamp.
    #[must_use]
    pub fn lamp(from: Node, to: Node, filament: Filament, lead_ohms: f64) -> Self {
        Self { from, to, law: Law::Filament(filament), lead_ohms }
    }

    /// Whether its values are finite and its leads have a resistance.
    pub(super) fn is_sound(&self) -> bool {
        self.law.is_sound() && self.lead_ohms.is_finite() && self.lead_ohms > 0.0
    }
}

/// What a load feels: the voltage across it (leads excluded) and the current through it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPoint {
    /// Volts from its first lead to its second, without what its leads drop.
    pub volts: f64,
    /// Amps from its first lead to its second.
    pub amps: f64,
}

impl LoadPoint {
    pub(super) fn is_finite(&self) -> bool {
        self.volts.is_finite() && self.amps.is_finite()
    }
}

/// What two nodes look like from outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Voltage without load, in volts.
    pub open_volts: f64,
    /// Inner resistance, in ohms.
    pub ohms: f64,
}

/// A branch's current near the operating point: siemens × V + amps.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tangent {
    pub(super) siemens: f64,
    pub(super) amps: f64,
}

/// A branch whose law is curved.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    pub(super) branch: usize,
    pub(super) law: Law,
}

/// A network's voltages and currents.
#[derive(Debug, Default)]
pub struct OperatingPoint {
    pub(super) volts: Vec<f64>,
    pub(super) branch_amps: Vec<f64>,
    pub(super) source_amps: Vec<f64>,
    pub(super) loads: Vec<LoadPoint>,
    /// By branch.
    pub(super) tangents: Vec<Tangent>,
    pub(super) curves: Vec<Curve>,
    /// Its load met it at a port and is no branch.
    pub(super) attached: bool,
    /// What that port was like.
    pub(super) met: Option<Port>,
}

impl Clone for OperatingPoint {
    fn clone(&self) -> Self {
        let mut copy = Self::default();
        copy.volts = spare::list_of(&self.volts);
        copy.branch_amps = spare::list_of(&self.branch_amps);
        copy.tangents = spare::list_of(&self.tangents);
        copy.source_amps.clone_from(&self.source_amps);
        copy.loads.clone_from(&self.loads);
        copy.curves.clone_from(&self.curves);
        (copy.attached, copy.met) = (self.attached, self.met);
        copy
    }
}

impl Drop for OperatingPoint {
    fn drop(&mut self) {
        spare::done(std::mem::take(&mut self.volts));
        spare::done(std::mem::take(&mut self.branch_amps));
        spare::done(std::mem::take(&mut self.tangents));
    }
}

impl OperatingPoint {
    /// Room for that of a network.
    pub(super) fn of_size(network: &Network) -> Self {
        let mut point = Self::default();
        point.volts = spare::list(network.nodes());
        point.branch_amps = spare::list(network.branches());
        point.tangents = spare::list(network.branches());
        point
    }

    /// A node's voltage against the reference, in volts.
    #[must_use]
    pub fn volts(&self, node: Node) -> f64 {
        self.volts[node.0]
    }

    /// A branch's current from its first node to its second, in amps.
    #[must_use]
    pub fn amps(&self, branch: Branch) -> f64 {
        self.branch_amps[branch.0]
    }

    /// The current that an ideal source drives out of its plus, in amps.
    #[must_use]
    pub fn source_amps(&self, source: Source) -> f64 {
        self.source_amps[source.0]
    }

    /// What each load feels, in the order in which they were given.
    #[must_use]
    pub fn loads(&self) -> &[LoadPoint] {
        &self.loads
    }

    /// How much memory its lists hold.
    pub(super) fn bytes(&self) -> usize {
        let numbers = [&self.volts, &self.branch_amps, &self.source_amps];
        let numbers: usize = numbers.iter().map(|list| size_of_val(list.as_slice())).sum();
        numbers
            + size_of_val(self.loads.as_slice())
            + size_of_val(self.tangents.as_slice())
            + size_of_val(self.curves.as_slice())
    }

    pub(super) fn along(&self, (from, to): (Node, Node)) -> f64 {
        self.volts[from.0] - self.volts[to.0]
    }

    /// Fills in the currents of branches and ideal sources from voltages and tangents. `also` are currents of what is no
    /// branch, each from its first node to its second.
    ///
    /// # Errors
    /// [`Unsolved::Overflow`] where something is not finite.
    pub(super) fn complete(
        &mut self,
        network: &Network,
        also: &[(Node, Node, f64)],
        leaves: &mut Vec<f64>,
    ) -> Result<(), Unsolved> {
        let volts = &self.volts;
        self.branch_amps.clear();
        self.branch_amps.extend(
            network
                .branches
                .iter()
                .zip(&self.tangents)
                .map(|(&(from, to), tangent)| tangent.siemens * (volts[from.0] - volts[to.0]) + tangent.amps),
        );
        self.source_amps.clear();
        if network.has_sources() {
            leaves.clear();
            leaves.resize(network.nodes(), 0.0);
            let branches = network.branches.iter().zip(&self.branch_amps);
            let branches = branches.map(|(&(from, to), &amps)| (from, to, amps));
            for (from, to, amps) in branches.chain(also.iter().copied()) {
                leaves[from.0] += amps;
                leaves[to.0] -= amps;
            }
            network.source_amps(leaves, &mut self.source_amps);
        }
        // A sum is finite only if all its terms are.
        let finite = |values: &[f64]| (values.iter().map(|value| value * 0.0).sum::<f64>()) == 0.0;
        if finite(&self.volts) && finite(&self.branch_amps) && finite(&self.source_amps) {
            Ok(())
        } else {
            Err(Unsolved::Overflow)
        }
    }
}
