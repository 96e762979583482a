//! Why a network has no operating point.

use super::network::{Branch, Node, Source};

/// Why a network has no operating point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsolved {
    /// A piece that contains this node has no path to the reference.
    Floating(Node),
    /// Ideal sources in a loop: their voltages either contradict each other or leave their currents open.
    SourceLoop(Source),
    /// A value is not a finite number, or a conductance is negative; the branch that carries it.
    BadValue(Branch),
    /// An ideal source's voltage is not a finite number.
    BadSource(Source),
    /// There are not as many laws as branches; how many there are.
    BadCount(usize),
    /// The load at this position has a value that is not finite, a negative conductance, leads without resistance, or
    /// other ends than the network was prepared for.
    BadLoad(usize),
    /// A load's lead is on this node, which is not among the ports of the model.
    NoPort(Node),
    /// Ports are asked of a point whose load is not a branch of the network.
    LoadLeftOut,
    /// Voltages or currents are too large for a number.
    Overflow,
    /// The curved elements did not settle.
    NotConverged,
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Floating(Node(node)) => {
                write!(f, "node {node} has no path to node 0: connect it, if only by a leakage")
            }
            Self::SourceLoop(Source(source)) => {
                write!(
                    f,
                    "ideal source {source} closes a loop of ideal sources: give one of them a resistance"
                )
            }
            Self::BadValue(Branch(branch)) => write!(
                f,
                "branch {branch} has a value that is not finite, or a negative conductance: correct it"
            ),
            Self::BadSource(Source(source)) => {
                write!(f, "ideal source {source} has a voltage that is not finite: correct it")
            }
            Self::BadCount(count) => {
                write!(f, "there are {count} laws, which is not the number of branches: give each branch one")
            }
            Self::BadLoad(load) => write!(
                f,
                "load {load} has a value that is not finite, a negative conductance, leads without resistance, or ends \
                 elsewhere than prepared: correct it"
            ),
            Self::NoPort(Node(node)) => {
                write!(f, "node {node} is not among the ports that were asked for: add it to their list")
            }
            Self::LoadLeftOut => {
                write!(f, "the point has a load that its network does not hold: prepare the network with it")
            }
            Self::Overflow => {
                write!(f, "voltages or currents are too large for a number: correct the values")
            }
            Self::NotConverged => {
                write!(f, "the operating point was not found: the curved elements did not settle")
            }
        }
    }
}

impl std::error::Error for Unsolved {}
