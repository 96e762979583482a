//! Several loads at once, on a network that is prepared for them.

use std::fmt;
use std::sync::OnceLock;

use super::element::Law;
use super::network::{Branch, Network, Node};
use super::point::{Load, LoadPoint, OperatingPoint};
use super::solve::{Workspace, in_workspace};
use super::unsolved::Unsolved;

/// A network that has been prepared for several loads at once: each of them is two branches, its leads and what it is.
#[derive(Clone, Debug)]
pub struct LoadedNetwork {
    network: Network,
    own: usize,
    ends: Vec<(Node, Node)>,
}

/// Pairs of nodes on which loads are, and the network that is prepared for them once somebody needs it: a single load does
/// without as long as nothing moves.
pub struct LoadedWhenNeeded {
    ends: Vec<(Node, Node)>,
    network: OnceLock<LoadedNetwork>,
}

/// What has been prepared so far is a memory of work done, and no part of what it is.
impl fmt::Debug for LoadedWhenNeeded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("LoadedWhenNeeded").field(&self.ends).finish()
    }
}

impl LoadedWhenNeeded {
    /// For loads on these pairs of nodes.
    #[must_use]
    pub fn on(ends: Vec<(Node, Node)>) -> Self {
        Self { ends, network: OnceLock::new() }
    }

    /// The pairs of nodes.
    #[must_use]
    pub fn ends(&self) -> &[(Node, Node)] {
        &self.ends
    }

    /// The network with them; `bare` is the same one each time.
    #[must_use]
    pub fn network(&self, bare: &Network) -> &LoadedNetwork {
        self.network.get_or_init(|| bare.with_loads(&self.ends))
    }
}

impl Network {
    /// Prepares for loads on these pairs of nodes. What they are may change from one operating point to the next.
    #[must_use]
    pub fn with_loads(&self, ends: &[(Node, Node)]) -> LoadedNetwork {
        let network = self.extended(ends.iter().copied());
        LoadedNetwork { network, own: self.branches(), ends: ends.to_vec() }
    }
}

impl LoadedNetwork {
    /// The network with the loads as branches. Nodes and branches of the bare network keep their numbers.
    #[must_use]
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// The operating point with these `laws` on the branches of the bare network and these `loads`, each on the pair of
    /// nodes that was prepared for it.
    ///
    /// # Errors
    /// See [`Unsolved`].
    pub fn operating_point(&self, laws: &[Law], loads: &[Load]) -> Result<OperatingPoint, Unsolved> {
        in_workspace(&self.network, |workspace| {
            workspace.solve_loaded(self, laws, loads)?;
            Ok(std::mem::replace(&mut workspace.point, OperatingPoint::of_size(&self.network)))
        })
    }

    /// The laws of all branches.
    fn laws(&self, laws: &[Law], loads: &[Load], all: &mut Vec<Law>) -> Result<(), Unsolved> {
        if laws.len() != self.own {
            return Err(Unsolved::BadCount(laws.len()));
        }
        if let Some(bad) = laws.iter().position(|law| !law.is_sound()) {
            return Err(Unsolved::BadValue(Branch(bad)));
        }
        let fits = |at: usize| {
            loads
                .get(at)
                .is_some_and(|load| load.is_sound() && self.ends.get(at) == Some(&(load.from, load.to)))
        };
        if let Some(bad) = (0..self.ends.len().max(loads.len())).find(|&at| !fits(at)) {
            return Err(Unsolved::BadLoad(bad));
        }
        all.clear();
        all.extend_from_slice(laws);
        for load in loads {
            all.extend([Law::ohms(load.lead_ohms), load.law]);
        }
        Ok(())
    }
}

impl Workspace {
    /// The operating point with loads on a network that was prepared for them: see [`LoadedNetwork::operating_point`].
    ///
    /// # Errors
    /// See [`Unsolved`].
    pub fn solve_loaded(
        &mut self,
        loaded: &LoadedNetwork,
        laws: &[Law],
        loads: &[Load],
    ) -> Result<&OperatingPoint, Unsolved> {
        let mut all = std::mem::take(&mut self.laws);
        let solved = loaded.laws(laws, loads, &mut all).and_then(|()| self.converge(&loaded.network, &all));
        self.laws = all;
        solved?;
        let point = &mut self.point;
        point.loads.clear();
        for at in 0..loads.len() {
            let branch = Branch(loaded.own + 2 * at + 1);
            let volts = point.along(loaded.network.ends(branch));
            point.loads.push(LoadPoint { volts, amps: point.amps(branch) });
        }
        Ok(point)
    }
}
