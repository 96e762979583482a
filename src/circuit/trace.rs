//! What a circuit did in time, taken down so that an instrument which draws next to nothing can be put on it afterwards.
//!
//! At each instant the circuit is what it looks like from two nodes: open volts and a resistance. Windings count with their
//! resistance and filaments with the heat that they have; curves are at their slope, and bend where the instrument moves
//! them. All nodes but the ends of what has a memory or is curved are the same at every instant, so that they are left
//! behind once: both numbers are sums over the columns that are eliminated, the resistance one of squares, so that nothing
//! cancels.

use std::sync::OnceLock;

use super::companions::{Reduced, Remainder, View};
use super::element::Law;
use super::network::Network;
use super::point::{Curve, Load, LoadPoint, OperatingPoint, Tangent};
use super::ports::meet;
use super::transient::Instant;
use super::unsolved::Unsolved;

/// Steps in which what an instrument moves has to settle.
const STEPS: usize = 20;
/// The share of the instrument's own current by which a curve may leave its tangent.
const STRAIGHT: f64 = 1e-8;

/// Instants of one transient, whose laws are the same at all of them.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    seconds: Vec<f64>,
    /// By instant, the volts of the ends of what has a memory or is curved; of all positions where there is no such list.
    volts: Vec<f64>,
    /// By instant and branch with a memory, what it is to something that hardly moves it.
    tangents: Vec<Tangent>,
}

impl Notes {
    /// With room for so many instants of what has so many ends and branches with a memory.
    #[must_use]
    pub fn with_room(instants: usize, ends: usize, branches: usize) -> Self {
        Self {
            seconds: Vec::with_capacity(instants),
            volts: Vec::with_capacity(instants * ends),
            tangents: Vec::with_capacity(instants * branches),
        }
    }

    /// Takes down an instant; it counts as at `seconds`.
    pub fn add(&mut self, now: &Instant<'_>, seconds: f64) {
        self.seconds.push(seconds);
        now.note(&mut self.volts, &mut self.tangents);
    }
}

/// What a circuit did while nothing switched.
#[derive(Debug)]
pub struct Trace {
    notes: Notes,
    laws: Vec<Law>,
    /// Branches with a memory, and then those that are curved.
    branches: Vec<usize>,
    rest: Option<Remainder>,
    /// By instant, the circuit between the ends, factored; worked out once for all who look.
    between: OnceLock<Vec<Option<Reduced>>>,
}

impl Trace {
    pub(super) fn new(notes: Notes, laws: Vec<Law>, branches: Vec<usize>, rest: Option<Remainder>) -> Self {
        Self { notes, laws, branches, rest, between: OnceLock::new() }
    }

    /// How many instants there are.
    fn count(&self) -> usize {
        self.notes.seconds.len()
    }

    /// Branches with a memory.
    fn parts(&self) -> usize {
        self.notes.tangents.len() / self.count().max(1)
    }

    /// What `load` would feel at each instant, and when that was. `network` is the one of the transient; the load is
    /// straight, and so light that what has a memory goes on as if it were not there.
    ///
    /// # Errors
    /// [`Unsolved::BadLoad`] for a load that is not straight; else see [`Unsolved`].
    pub fn feel(&self, network: &Network, load: &Load) -> Result<Vec<(f64, LoadPoint)>, Unsolved> {
        if !load.is_sound() || !matches!(load.law, Law::Conductance(_) | Law::Linear { .. }) {
            return Err(Unsolved::BadLoad(0));
        }
        let view = self.rest.as_ref().map(|rest| rest.view(network, load.from, load.to));
        let between = self.rest.as_ref().map(|rest| self.between(rest));
        (0..self.count())
            .map(|at| {
                let near = self.rest.as_ref().zip(view.as_ref()).zip(between);
                let felt = near.and_then(|((rest, view), between)| {
                    self.felt(rest, view, between[at].as_ref()?, load, at)
                });
                let felt = match felt {
                    Some(felt) => felt,
                    None => self.felt_on_the_whole(network, load, at)?,
                };
                Ok((self.notes.seconds[at], felt))
            })
            .collect()
    }

    fn volts(&self, at: usize) -> &[f64] {
        let each = self.notes.volts.len() / self.count().max(1);
        &self.notes.volts[at * each..][..each]
    }

    fn tangents(&self, at: usize) -> &[Tangent] {
        &self.notes.tangents[at * self.parts()..][..self.parts()]
    }

    /// The circuit between the ends at each instant, curves at their slope.
    fn between(&self, rest: &Remainder) -> &[Option<Reduced>] {
        self.between.get_or_init(|| {
            (0..self.count())
                .map(|at| {
                    let along = rest.along(self.volts(at));
                    self.tangents_at(at, &along).and_then(|tangents| rest.with(&tangents))
                })
                .collect()
        })
    }

    /// What all branches are that have a memory or are curved, with so many volts along them.
    fn tangents_at(&self, at: usize, along: &[f64]) -> Option<Vec<Tangent>> {
        let mut tangents = self.tangents(at).to_vec();
        for (&branch, &volts) in self.branches.iter().zip(along).skip(self.parts()) {
            let (amps, siemens) = self.laws[branch].current(volts);
            tangents.push(Tangent { siemens, amps: amps - siemens * volts });
        }
        tangents.iter().all(|one| one.siemens.is_finite() && one.amps.is_finite()).then_some(tangents)
    }

    /// What a load feels that sees the ends like this. `None` where curves do not settle.
    fn felt(
        &self,
        rest: &Remainder,
        view: &View,
        between: &Reduced,
        load: &Load,
        at: usize,
    ) -> Option<LoadPoint> {
        let open = self.volts(at);
        let mut through = view.shares.clone();
        let ohms = between.ohms(&mut through);
        let felt = meet(&load.law, view.volts(open), view.ohms + ohms + load.lead_ohms).ok()?;
        if self.branches.len() == self.parts() {
            return Some(felt);
        }
        between.backward(&mut through);
        self.bent(rest, view, load, at, felt, &through)
    }

    /// The same once the load has moved the ends by `through` for each ampere, should curves not stay on their tangents.
    fn bent(
        &self,
        rest: &Remainder,
        view: &View,
        load: &Load,
        at: usize,
        mut felt: LoadPoint,
        through: &[f64],
    ) -> Option<LoadPoint> {
        let moved = |open: &[f64], through: &[f64], amps: f64| -> Vec<f64> {
            open.iter().zip(through).map(|(volts, ohms)| volts - amps * ohms).collect()
        };
        let mut base = rest.along(self.volts(at));
        let mut along = rest.along(&moved(self.volts(at), through, felt.amps));
        for _ in 0..STEPS {
            let curves = self.branches.iter().zip(base.iter().zip(&along)).skip(self.parts());
            let mut stay = true;
            for (&branch, (&from, &to)) in curves {
                if from != to {
                    let (was, siemens) = self.laws[branch].current(from);
                    let (is, _) = self.laws[branch].current(to);
                    let apart = (is - was) - siemens * (to - from);
                    // Rounding of the current itself is no bend.
                    let rounding = 4.0 * f64::EPSILON * (is.abs() + was.abs());
                    stay &= apart.abs() <= STRAIGHT * felt.amps.abs() + rounding;
                }
            }
            if stay {
                return Some(felt);
            }
            let between = rest.with(&self.tangents_at(at, &along)?)?;
            let open = between.volts();
            let mut through = view.shares.clone();
            let ohms = between.ohms(&mut through);
            between.backward(&mut through);
            felt = meet(&load.law, view.volts(&open), view.ohms + ohms + load.lead_ohms).ok()?;
            base = along;
            along = rest.along(&moved(&open, &through, felt.amps));
        }
        None
    }

    /// What a load feels on the whole network.
    fn felt_on_the_whole(&self, network: &Network, load: &Load, at: usize) -> Result<LoadPoint, Unsolved> {
        let mut rows = vec![0.0; network.pattern.rows() + 1];
        match &self.rest {
            Some(rest) => {
                rest.put_ends(self.volts(at), &mut rows);
                rest.spread(network, &mut rows);
            }
            None => rows.copy_from_slice(self.volts(at)),
        }
        let mut point = OperatingPoint::of_size(network);
        network.node_volts(&rows, &mut point.volts);
        for (branch, law) in self.laws.iter().enumerate() {
            let volts = point.along(network.branches[branch]);
            let (amps, siemens) = law.current(volts);
            let tangent = match *law {
                Law::Conductance(siemens) => Tangent { siemens, amps: 0.0 },
                Law::Linear { siemens, amps } => Tangent { siemens, amps },
                law => {
                    point.curves.push(Curve { branch, law });
                    Tangent { siemens, amps: amps - siemens * volts }
                }
            };
            point.tangents.push(tangent);
        }
        for (&branch, tangent) in self.branches.iter().zip(self.tangents(at)) {
            point.tangents[branch] = *tangent;
        }
        point.ports(network, &[load.from, load.to]).attach(load)
    }
}
