//! The operating point: Newton's method on the co-content.
//!
//! Currents only ever grow with voltage, so the operating point is the minimum of a convex function (the co-content of
//! Millar, Phil. Mag. 42:1150, 1951; from memory), and Newton's method with steps cut short where they overshoot finds
//! it from anywhere. It starts cold, where a filament's curve is steepest.

use std::cell::Cell;

use super::dynamic::Warming;
use super::element::Law;
use super::ldl::{Eliminated, Factor};
use super::network::{Branch, Mark, Network};
use super::point::{Curve, Load, OperatingPoint, Tangent};
use super::unsolved::Unsolved;

/// Steps after which the search for a curved operating point is given up; ten are usual, and a row of junctions that
/// have to turn one after the other takes fifty.
const STEPS: usize = 300;
/// Relative change below which a curved element counts as settled.
pub(super) const SETTLED: f64 = 1e-13;
/// Change below which it counts as settled however small it is, in volts: a thousandth of what rounding at 12 V leaves
/// of a difference through a milliohm.
pub(super) const SETTLED_VOLTS: f64 = 1e-12;
/// How many times the tolerance a change may be for its step to be taken whole without a look: a ten-thousandth of a voltage,
/// well inside of where every curve is nearly straight.
const NEARBY: f64 = 1e9;
/// How many times the tolerance a change may be that counts as rounding.
const STALLED: f64 = 1e6;
/// What sums of a few terms lose by rounding, as a share of the largest.
const ROUNDING: f64 = 16.0 * f64::EPSILON;
/// A step is cut short where the slope at its end has turned by more than this share of the slope at its beginning.
const OVERSHOT: f64 = 0.3;
/// Halvings of a step that is cut short: a step of a gigavolt is brought down to the millivolts of a junction.
const HALVINGS: usize = 64;

/// The operating point of `network` with these `laws` on its branches and these `loads` connected.
///
/// A single load, such as a meter, is not part of the matrix: it meets the network at its port, as in
/// [`PortModel::attach`](super::PortModel::attach) and with the same digits. Several loads can bridge pieces that
/// otherwise hang on nothing but leakage, so they become branches: see [`Network::with_loads`].
///
/// # Errors
/// See [`Unsolved`].
pub fn operating_point(network: &Network, laws: &[Law], loads: &[Load]) -> Result<OperatingPoint, Unsolved> {
    match loads {
        [] => bare_point(network, laws),
        // A bad law is named before a bad load.
        [load] => bare_point(network, laws)?.loaded(network, load),
        _ => network
            .with_loads(&loads.iter().map(|load| (load.from, load.to)).collect::<Vec<_>>())
            .operating_point(laws, loads),
    }
}

thread_local! {
    /// A workspace that nobody uses: it is as good as a new one.
    static SPARE: Cell<Option<Workspace>> = const { Cell::new(None) };
}

/// Does something with a workspace for this network.
pub(super) fn in_workspace<T>(network: &Network, work: impl FnOnce(&mut Workspace) -> T) -> T {
    let mut workspace = SPARE.take().unwrap_or_else(|| Workspace::new(network));
    let done = work(&mut workspace);
    SPARE.set(Some(workspace));
    done
}

fn bare_point(network: &Network, laws: &[Law]) -> Result<OperatingPoint, Unsolved> {
    in_workspace(network, |workspace| {
        workspace.converge(network, laws)?;
        Ok(std::mem::replace(&mut workspace.point, OperatingPoint::of_size(network)))
    })
}

/// Where operating points are computed. It can be used again and again, best for the same network; what it holds from one
/// time has no influence on the next.
#[derive(Clone, Debug, Default)]
pub struct Workspace {
    /// Of which network the columns below are; 0 for none.
    mark: Mark,
    factor: Factor,
    /// The factor as far as curves have no part in it, once it has been found for the straight branches as they are.
    ground_work: Factor,
    pub(super) laid: bool,
    /// Columns in which curves have a part, and all others; both ascend. Found anew when the curves are others.
    bent: Vec<usize>,
    unbent: Vec<usize>,
    bent_by: Vec<usize>,
    /// Conductances of the straight branches.
    pub(super) straight: Vec<f64>,
    /// There are no others, and `factor` is theirs.
    pub(super) factored: bool,
    /// Currents that straight branches drive into each position.
    pub(super) driven: Vec<f64>,
    /// The same, carried out of the columns in which curves have no part.
    carried: Vec<f64>,
    /// Voltages of the positions from which a step sets out.
    from: Vec<f64>,
    /// Those to which it leads.
    pub(super) to: Vec<f64>,
    /// Whether each of those has been carried on into the columns in which curves have no part.
    spread_from: bool,
    spread_to: bool,
    /// The change at which curves count as settled, as a multiple of the tightest.
    pub(super) allowed_change: f64,
    /// What rounding leaves of the greatest current that a step drives into a position.
    rounding_amps: f64,
    pub(super) steps: Vec<Step>,
    leaves: Vec<f64>,
    pub(super) laws: Vec<Law>,
    pub(super) point: OperatingPoint,
}

/// A curved law.
#[derive(Clone, Copy, Debug)]
pub(super) enum Curved {
    /// That of a branch at rest.
    Law(Law),
    /// That of a filament which warms in a step of time.
    Warming(Warming),
}

impl Curved {
    /// Current in amps at `volts`, and its slope in siemens.
    fn current(&self, volts: f64) -> (f64, f64) {
        match self {
            Self::Law(law) => law.current(volts),
            Self::Warming(filament) => filament.current(volts),
        }
    }
}

/// A curved branch in a step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    branch: usize,
    pub(super) law: Curved,
    from_volts: f64,
    to_volts: f64,
    /// Current by the tangent at the end of the step, in amps.
    to_amps: f64,
}

/// What an elimination that came to no good end means.
fn check(network: &Network, ended: Eliminated) -> Result<(), Unsolved> {
    match ended {
        Eliminated::Sound => Ok(()),
        Eliminated::Floating(position) => Err(Unsolved::Floating(network.node_at(position))),
        Eliminated::Overflow => Err(Unsolved::Overflow),
    }
}

impl Workspace {
    /// Room for operating points of this network.
    #[must_use]
    pub fn new(network: &Network) -> Self {
        let rows = network.pattern.rows() + 1;
        Self {
            mark: Mark::default(),
            factor: Factor::zero(&network.pattern),
            ground_work: Factor::zero(&network.pattern),
            laid: false,
            bent: Vec::new(),
            unbent: Vec::new(),
            carried: vec![0.0; rows],
            bent_by: Vec::new(),
            straight: vec![0.0; network.pattern.values()],
            factored: false,
            driven: vec![0.0; rows],
            from: vec![0.0; rows],
            to: vec![0.0; rows],
            spread_from: true,
            spread_to: true,
            allowed_change: 1.0,
            rounding_amps: 0.0,
            steps: Vec::new(),
            leaves: Vec::new(),
            laws: Vec::new(),
            point: OperatingPoint::default(),
        }
    }

    /// Lets curves count as settled at this multiple of the tightest change, as in steps of time.
    pub(super) fn settle_within(&mut self, allowed_change: f64) {
        self.allowed_change = allowed_change;
    }

    /// The operating point of `network` with these laws on its branches.
    ///
    /// # Errors
    /// See [`Unsolved`].
    pub fn solve(&mut self, network: &Network, laws: &[Law]) -> Result<&OperatingPoint, Unsolved> {
        self.converge(network, laws)?;
        self.point.loads.clear();
        Ok(&self.point)
    }

    /// How much memory it holds, in bytes.
    #[must_use]
    pub fn bytes(&self) -> usize {
        let numbers = [&self.straight, &self.driven, &self.carried, &self.from, &self.to, &self.leaves];
        let numbers: usize = numbers.iter().map(|list| size_of_val(list.as_slice())).sum();
        let lists = size_of_val(self.steps.as_slice()) + size_of_val(self.laws.as_slice());
        size_of::<Self>() + numbers + lists + self.factor.bytes() + self.point.bytes()
    }

    pub(super) fn converge(&mut self, network: &Network, laws: &[Law]) -> Result<(), Unsolved> {
        self.lay_out(network, laws)?;
        self.search(network, None)?;
        network.node_volts(&self.to, &mut self.point.volts);
        self.point.complete(network, &[], &mut self.leaves)
    }

    /// Newton's method until every curve has settled: from cold, or from these voltages of the positions, which are those
    /// of the same sources. What it finds is in `to`.
    pub(super) fn search(&mut self, network: &Network, start: Option<&[f64]>) -> Result<(), Unsolved> {
        if let Some(rows) = start {
            self.from.copy_from_slice(rows);
            for step in &mut self.steps {
                step.from_volts = along(network, rows, step.branch) + network.above_volts[step.branch];
            }
        }
        self.set_out(network)?;
        let mut last_change = f64::INFINITY;
        self.spread_from = true;
        for at in 0..STEPS {
            self.step(network)?;
            if self.steps.is_empty() {
                return Ok(());
            }
            let change = self.change();
            // A change that no longer halves, small as it is or as little current as it leaves over, is rounding going to
            // and fro.
            let stalled =
                change > 0.5 * last_change && (change <= STALLED || self.left_amps() <= self.rounding_amps);
            // From cold, the first step comes from a point that is no solution of the sources: no slope to judge it by,
            // and no end.
            let cold = at == 0 && start.is_none();
            if !cold && (change <= self.allowed_change || stalled) {
                self.spread(network);
                return Ok(());
            }
            last_change = change;
            let share = if cold || change <= NEARBY { 1.0 } else { self.share_of_step(network) };
            self.move_on(network, share);
        }
        Err(Unsolved::NotConverged)
    }

    /// Takes the laws in: straight ones for good, curved ones to be taken at each step.
    pub(super) fn lay_out(&mut self, network: &Network, laws: &[Law]) -> Result<(), Unsolved> {
        if laws.len() != network.branches() {
            return Err(Unsolved::BadCount(laws.len()));
        }
        if self.straight.len() != network.pattern.values() || self.to.len() != network.pattern.rows() + 1 {
            // Room for another network.
            *self = Self::new(network);
        }
        self.straight.fill(0.0);
        self.driven.fill(0.0);
        (self.factored, self.laid) = (false, false);
        // Another network may have as many positions.
        if self.mark != network.mark {
            self.bent_by.clear();
            self.mark = network.mark;
        }
        self.point.curves.clear();
        self.point.tangents.clear();
        self.point.tangents.reserve(laws.len());
        self.steps.clear();
        for (branch, law) in laws.iter().enumerate() {
            let (siemens, amps) = match *law {
                Law::Conductance(siemens) => (siemens, 0.0),
                Law::Linear { siemens, amps } => (siemens, amps),
                law => {
                    if !law.is_sound() {
                        return Err(Unsolved::BadValue(Branch(branch)));
                    }
                    self.point.tangents.push(Tangent::default());
                    self.point.curves.push(Curve { branch, law });
                    self.add_curve(branch, Curved::Law(law));
                    continue;
                }
            };
            if !(0.0..f64::INFINITY).contains(&siemens) || !amps.is_finite() {
                return Err(Unsolved::BadValue(Branch(branch)));
            }
            self.point.tangents.push(Tangent { siemens, amps });
            self.straight[network.stamps[branch] as usize] += siemens;
            if amps != 0.0 || network.above_volts[branch] != 0.0 {
                drive(network, &mut self.driven, branch, siemens, amps);
            }
        }
        Ok(())
    }

    pub(super) fn add_curve(&mut self, branch: usize, law: Curved) {
        self.steps.push(Step { branch, law, from_volts: 0.0, to_volts: 0.0, to_amps: 0.0 });
    }

    /// Factors the straight branches alone.
    ///
    /// # Errors
    /// [`Unsolved::Floating`] and [`Unsolved::Overflow`].
    pub(super) fn factor_straight(&mut self, network: &Network) -> Result<(), Unsolved> {
        self.factor.values.copy_from_slice(&self.straight);
        check(network, self.factor.eliminate(&network.pattern))
    }

    /// Solves the straight branches alone, once they are factored: driven currents in, voltages out.
    pub(super) fn solve_straight(&self, network: &Network, rows: &mut [f64]) {
        // What is driven into the reference leads nowhere.
        let reference = network.pattern.rows();
        rows[reference] = 0.0;
        self.factor.solve(&network.pattern, rows);
        rows[reference] = 0.0;
    }

    /// Factors what no curve has a part in and carries its currents on, once for all steps.
    fn set_out(&mut self, network: &Network) -> Result<(), Unsolved> {
        if self.steps.is_empty() {
            if !self.factored {
                self.factor_straight(network)?;
                self.factored = true;
            }
            return Ok(());
        }
        let pattern = &network.pattern;
        let same = self.steps.iter().map(|step| step.branch).eq(self.bent_by.iter().copied());
        if !same || self.bent.len() + self.unbent.len() != pattern.rows() {
            self.bent_by.clear();
            self.bent_by.extend(self.steps.iter().map(|step| step.branch));
            let places = self.bent_by.iter().map(|&branch| network.stamps[branch] as usize);
            let bends = pattern.reached(places);
            (self.bent, self.unbent) = (0..pattern.rows()).partition(|&column| bends[column]);
            self.laid = false;
        }
        if !self.laid {
            self.ground_work.values.copy_from_slice(&self.straight);
            let ended = self.ground_work.eliminate_columns(pattern, self.unbent.iter().copied());
            check(network, ended)?;
            self.laid = true;
        }
        self.factor.copy_from(&self.ground_work);
        self.carried.copy_from_slice(&self.driven);
        self.factor.forward(pattern, self.unbent.iter().copied(), &mut self.carried);
        Ok(())
    }

    /// One step of Newton's method: every curve replaced by its tangent where it is.
    fn step(&mut self, network: &Network) -> Result<(), Unsolved> {
        let (pattern, reference) = (&network.pattern, network.pattern.rows());
        let mut to = std::mem::take(&mut self.to);
        if self.steps.is_empty() {
            to.copy_from_slice(&self.driven);
            self.solve_straight(network, &mut to);
            self.to = to;
            return Ok(());
        }
        self.factor.copy_columns(pattern, &self.ground_work, self.bent.iter().copied());
        to.copy_from_slice(&self.carried);
        for step in &self.steps {
            let (amps, siemens) = step.law.current(step.from_volts);
            let amps = amps - siemens * step.from_volts;
            self.point.tangents[step.branch] = Tangent { siemens, amps };
            self.factor.values[network.stamps[step.branch] as usize] += siemens;
            drive(network, &mut to, step.branch, siemens, amps);
        }
        // What is driven into the reference leads nowhere.
        to[reference] = 0.0;
        let greatest = to.iter().fold(0.0, |most: f64, amps| most.max(amps.abs()));
        self.rounding_amps = ROUNDING * greatest;
        let bent = self.bent.iter().copied();
        let ended = self.factor.eliminate_columns(pattern, bent.clone());
        self.factor.forward(pattern, bent.clone(), &mut to);
        self.factor.backward(pattern, bent.rev(), &mut to);
        self.to = to;
        self.spread_to = false;
        check(network, ended)?;
        for step in &mut self.steps {
            step.to_volts = along(network, &self.to, step.branch) + network.above_volts[step.branch];
            let tangent = self.point.tangents[step.branch];
            step.to_amps = tangent.siemens * step.to_volts + tangent.amps;
            if !step.to_volts.is_finite() || !step.to_amps.is_finite() {
                return Err(Unsolved::Overflow);
            }
        }
        Ok(())
    }

    /// The greatest change of a curved element, as a multiple of what counts as settled.
    fn change(&self) -> f64 {
        self.steps
            .iter()
            .map(|step| {
                (step.to_volts - step.from_volts).abs() / (SETTLED * step.to_volts.abs() + SETTLED_VOLTS)
            })
            .fold(0.0, f64::max)
    }

    /// The greatest difference between a curve and its tangent at the end of the step, in amps.
    fn left_amps(&self) -> f64 {
        self.steps
            .iter()
            .map(|step| (step.law.current(step.to_volts).0 - step.to_amps).abs())
            .fold(0.0, f64::max)
    }

    /// What curved elements have of the slope of the co-content so far along the step: their currents over the solved ones.
    fn curved_slope(&self, share: f64) -> f64 {
        self.steps
            .iter()
            .map(|step| {
                let moved = step.to_volts - step.from_volts;
                (step.law.current(step.from_volts + share * moved).0 - step.to_amps) * moved
            })
            .sum()
    }

    /// Carries the voltages of columns that curves reach on into the others, which nobody needs before.
    fn spread(&mut self, network: &Network) {
        for (rows, spread) in [(&mut self.from, &mut self.spread_from), (&mut self.to, &mut self.spread_to)] {
            if !std::mem::replace(spread, true) {
                self.factor.backward(&network.pattern, self.unbent.iter().rev().copied(), rows);
            }
        }
    }

    /// How much of the step to take: all of it, unless the slope of the co-content along it has turned.
    fn share_of_step(&mut self, network: &Network) -> f64 {
        // By Tellegen's theorem the solved currents and the step are orthogonal, so that only differences to the
        // solved currents count: the straight elements' fall off linearly, the curved ones' are evaluated.
        let at_end = self.curved_slope(1.0);
        if at_end <= 0.0 {
            return 1.0;
        }
        self.spread(network);
        let curved = |share: f64| self.curved_slope(share);
        let tangents = self.point.tangents.iter().enumerate();
        let all: f64 = tangents
            .map(|(branch, tangent)| {
                let moved = along(network, &self.to, branch) - along(network, &self.from, branch);
                tangent.siemens * moved * moved
            })
            .sum();
        let curves = self.steps.iter().map(|step| {
            let moved = step.to_volts - step.from_volts;
            self.point.tangents[step.branch].siemens * moved * moved
        });
        let straight = (all - curves.sum::<f64>()).max(0.0);
        let slope = |share: f64| straight * (share - 1.0) + curved(share);
        let limit = OVERSHOT * slope(0.0).abs();
        if at_end <= limit {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            let there = slope(middle);
            if there.abs() <= limit {
                return middle;
            }
            if there > 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }

    fn move_on(&mut self, network: &Network, share: f64) {
        if share == 1.0 {
            self.from.copy_from_slice(&self.to);
            self.spread_from = self.spread_to;
            for step in &mut self.steps {
                step.from_volts = step.to_volts;
            }
            return;
        }
        self.spread(network);
        for (from, to) in self.from.iter_mut().zip(&self.to) {
            *from += share * (to - *from);
        }
        for step in &mut self.steps {
            step.from_volts += share * (step.to_volts - step.from_volts);
        }
    }
}

/// Voltage along a branch, from those of the positions, without what ideal sources add.
pub(super) fn along(network: &Network, rows: &[f64], branch: usize) -> f64 {
    let [from, to] = network.ends[branch];
    rows[from as usize] - rows[to as usize]
}

/// The current that flows at no difference between a branch's two positions: its own, and what fixed steps drive.
pub(super) fn drive(network: &Network, into: &mut [f64], branch: usize, siemens: f64, amps: f64) {
    let amps = amps + siemens * network.above_volts[branch];
    let [from, to] = network.ends[branch];
    into[from as usize] -= amps;
    into[to as usize] += amps;
}
