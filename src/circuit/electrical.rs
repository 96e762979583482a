//! Voltages and currents, wherever they come from.

use super::network::{Branch, Node};
use super::point::{Load, LoadPoint, OperatingPoint};
use super::spare;
use super::transient::Instant;

/// Something that has a voltage at every node and a current in every branch: an operating point, or an instant.
pub trait Electrical {
    /// A node's voltage against the reference, in volts.
    fn volts(&self, node: Node) -> f64;

    /// A branch's current from its first node to its second, in amps.
    fn amps(&self, branch: Branch) -> f64;

    /// The current of each of the first `count` branches, in amps.
    fn first_amps(&self, count: usize) -> Vec<f64> {
        filled(count, |at| self.amps(Branch(at)))
    }

    /// What each load feels, where loads are the last branches: each its leads, and then what it is.
    fn loads(&self, own_branches: usize, loads: &[Load]) -> Vec<LoadPoint> {
        loads
            .iter()
            .enumerate()
            .map(|(at, load)| {
                let amps = self.amps(Branch(own_branches + 2 * at + 1));
                let across = self.volts(load.from) - self.volts(load.to);
                LoadPoint { volts: across - load.lead_ohms * amps, amps }
            })
            .collect()
    }
}

impl Electrical for OperatingPoint {
    fn volts(&self, node: Node) -> f64 {
        OperatingPoint::volts(self, node)
    }

    fn amps(&self, branch: Branch) -> f64 {
        OperatingPoint::amps(self, branch)
    }

    fn loads(&self, _: usize, _: &[Load]) -> Vec<LoadPoint> {
        OperatingPoint::loads(self).to_vec()
    }
}

impl Electrical for Instant<'_> {
    fn volts(&self, node: Node) -> f64 {
        Instant::volts(self, node)
    }

    fn amps(&self, branch: Branch) -> f64 {
        Instant::amps(self, branch)
    }

    fn first_amps(&self, count: usize) -> Vec<f64> {
        let mut amps = spare::list(count);
        Instant::first_amps(self, count, &mut amps);
        amps
    }
}

/// Voltages and currents that have been taken down.
#[derive(Clone, Debug, Default)]
pub struct Snapshot {
    volts: Vec<f64>,
    amps: Vec<f64>,
    loads: Vec<LoadPoint>,
}

/// So many numbers.
fn filled(count: usize, number: impl Fn(usize) -> f64) -> Vec<f64> {
    let mut list = spare::list(count);
    list.extend((0..count).map(number));
    list
}

impl Drop for Snapshot {
    fn drop(&mut self) {
        spare::done(std::mem::take(&mut self.volts));
        spare::done(std::mem::take(&mut self.amps));
    }
}

impl Snapshot {
    /// Takes down the first `nodes` nodes and the first `branches` branches, and what these loads feel.
    #[must_use]
    pub fn of(from: &impl Electrical, nodes: usize, branches: usize, loads: &[Load]) -> Self {
        Self {
            volts: filled(nodes, |at| from.volts(Node(at))),
            amps: from.first_amps(branches),
            loads: from.loads(branches, loads),
        }
    }

    /// What each load felt, in the order in which they were given.
    #[must_use]
    pub fn loads(&self) -> &[LoadPoint] {
        &self.loads
    }
}

impl Electrical for Snapshot {
    fn volts(&self, node: Node) -> f64 {
        self.volts[node.0]
    }

    fn amps(&self, branch: Branch) -> f64 {
        self.amps[branch.0]
    }

    fn loads(&self, _: usize, _: &[Load]) -> Vec<LoadPoint> {
        self.loads.clone()
    }
}
