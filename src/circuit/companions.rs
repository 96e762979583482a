//! Branches with a memory and curved ones, and the rest of the circuit as it is seen from their ends.
//!
//! The circuit without them is linear and stays what it is as long as nothing switches. All nodes but their ends are
//! eliminated once, without subtraction (see [`super::ldl`]): what is left are conductances between the ends, with all
//! their digits, whatever hangs on how little. A stage of a step is then a small system, whatever the size of the network.

use super::dynamic::Warming;
use super::element::Law;
use super::ldl::Factor;
use super::network::{Network, Node};
use super::point::Tangent;
use super::spare;

/// More ends than this are solved as a whole.
const MOST_ENDS: usize = 32;
/// Steps in which curves have to settle, and the change at which they have: what is left then is far less, since Newton's
/// steps square it, and that is far below what steps of time leave.
const STEPS: usize = 40;
const SETTLED: f64 = 1e-9;
const SETTLED_VOLTS: f64 = 1e-10;

/// What a branch is in a stage.
#[derive(Clone, Copy, Debug)]
pub(super) enum Companion {
    /// A coil or a motor.
    Straight(Tangent),
    /// A filament that warms.
    Warming(Warming),
    /// A curve without a memory.
    Curve(Law),
}

impl Companion {
    /// Current at `volts`, in amps, and its slope in siemens.
    fn current(&mut self, volts: f64) -> (f64, f64) {
        match self {
            Self::Straight(tangent) => (tangent.siemens * volts + tangent.amps, tangent.siemens),
            Self::Warming(filament) => filament.follow(volts),
            Self::Curve(law) => law.current(volts),
        }
    }
}

/// The circuit as the ends of these branches see it.
#[derive(Clone, Debug)]
pub(super) struct Remainder {
    /// Columns that no end reaches are eliminated on the network's own pattern; the driven currents as that leaves them.
    factor: Factor,
    unbent: Vec<usize>,
    carried: Vec<f64>,
    /// The others that are no ends, in the order in which they are eliminated.
    between: Vec<Between>,
    /// By end: its position; and whether each position is one, the reference counted in.
    ends: Vec<usize>,
    is_end: Vec<bool>,
    /// By branch: its ends, where they are not the reference or tied to it, and how far fixed steps lift its first end.
    branches: Vec<([Option<usize>; 2], f64)>,
    /// Conductances between ends, from each to ground, and currents that are driven into each.
    own: Reduced,
    work: Reduced,
    volts: Vec<f64>,
}

/// A position that is eliminated between the network's pattern and the ends.
#[derive(Clone, Debug)]
struct Between {
    position: usize,
    /// One over its pivot, in ohms.
    ohms: f64,
    /// Its voltage but for what follows, in volts, and by position the share of the others' voltages in it.
    volts: f64,
    shares: Vec<(usize, f64)>,
}

/// A small grounded Laplacian, kept like a [`Factor`]'s conductances but full, and what is driven into its nodes.
/// Once it is solved, `siemens` are over the pivots, `ground` is one over each pivot and `amps` what is left of them there.
#[derive(Clone, Debug)]
pub(super) struct Reduced {
    count: usize,
    siemens: Vec<f64>,
    ground: Vec<f64>,
    amps: Vec<f64>,
}

impl Reduced {
    fn zero(count: usize) -> Self {
        Self { count, siemens: vec![0.0; count * count], ground: vec![0.0; count], amps: vec![0.0; count] }
    }

    fn copy_from(&mut self, other: &Self) {
        self.siemens.copy_from_slice(&other.siemens);
        self.ground.copy_from_slice(&other.ground);
        self.amps.copy_from_slice(&other.amps);
    }

    /// Adds a conductance between two nodes; the upper half is kept.
    fn add(&mut self, a: usize, b: usize, siemens: f64) {
        self.siemens[a.min(b) * self.count + a.max(b)] += siemens;
    }

    /// Adds a branch between two of its nodes or to ground, with its conductance and its current at no difference between
    /// them.
    fn add_branch(&mut self, ends: [Option<usize>; 2], siemens: f64, amps: f64) {
        match ends {
            [Some(from), Some(to)] if from != to => self.add(from, to, siemens),
            [Some(end), None] | [None, Some(end)] => self.ground[end] += siemens,
            _ => {}
        }
        for (end, amps) in ends.into_iter().zip([-amps, amps]) {
            if let Some(end) = end {
                self.amps[end] += amps;
            }
        }
    }

    /// Eliminates all nodes in order. False where a piece hangs on nothing.
    fn factor(&mut self) -> bool {
        let count = self.count;
        for node in 0..count {
            let (above, below) = self.siemens.split_at_mut((node + 1) * count);
            let row = &mut above[node * count..];
            let own = self.ground[node];
            let pivot = row[node + 1..].iter().fold(own, |sum, siemens| sum + siemens);
            let reciprocal = 1.0 / pivot;
            if !reciprocal.is_finite() || reciprocal == 0.0 {
                return false;
            }
            let amps = self.amps[node];
            for other in node + 1..count {
                let share = row[other] * reciprocal;
                if share == 0.0 {
                    continue;
                }
                self.ground[other] += share * own;
                self.amps[other] += share * amps;
                let target = &mut below[(other - node - 1) * count..][..count];
                for (target, siemens) in target[other + 1..].iter_mut().zip(&row[other + 1..]) {
                    *target += share * siemens;
                }
                row[other] = share;
            }
            self.ground[node] = reciprocal;
        }
        true
    }

    /// Eliminates all nodes in order and finds their voltages. False where a piece hangs on nothing.
    fn solve(&mut self, volts: &mut [f64]) -> bool {
        if !self.factor() {
            return false;
        }
        for (volts, (amps, reciprocal)) in volts.iter_mut().zip(self.amps.iter().zip(&self.ground)) {
            *volts = amps * reciprocal;
        }
        self.spread(volts);
        volts.iter().all(|volts| volts.is_finite())
    }

    /// Adds to each node's volts what those behind it have a share in.
    fn spread(&self, volts: &mut [f64]) {
        let count = self.count;
        for node in (0..count).rev() {
            let (volts, known) = volts.split_at_mut(node + 1);
            let row = &self.siemens[node * count..][node + 1..count];
            volts[node] = row.iter().zip(known).fold(volts[node], |sum, (share, volts)| sum + share * *volts);
        }
    }

    /// The voltages of its nodes, once it is factored.
    pub(super) fn volts(&self) -> Vec<f64> {
        let mut volts: Vec<f64> =
            self.amps.iter().zip(&self.ground).map(|(amps, ohms)| amps * ohms).collect();
        self.spread(&mut volts);
        volts
    }

    /// What one ampere meets that is driven into its nodes in these `shares`, in ohms, once it is factored: a sum of squares.
    /// The shares are then carried out of the nodes.
    pub(super) fn ohms(&self, shares: &mut [f64]) -> f64 {
        let count = self.count;
        let mut sum = 0.0;
        for node in 0..count {
            let share = shares[node];
            if share != 0.0 {
                sum += share * share * self.ground[node];
                let row = &self.siemens[node * count..][node + 1..count];
                for (other, on) in shares[node + 1..].iter_mut().zip(row) {
                    *other += share * on;
                }
            }
        }
        sum
    }

    /// Turns what [`Reduced::ohms`] left of the shares into the volts that the ampere brings to each node.
    pub(super) fn backward(&self, shares: &mut [f64]) {
        for (share, ohms) in shares.iter_mut().zip(&self.ground) {
            *share *= ohms;
        }
        self.spread(shares);
    }
}

/// How two nodes see the ends.
#[derive(Clone, Debug)]
pub(super) struct View {
    /// Volts between the nodes and resistance, were all ends at 0 V.
    volts: f64,
    pub(super) ohms: f64,
    /// By end, the share of its volts in those between the nodes.
    pub(super) shares: Vec<f64>,
}

impl View {
    /// Volts between the nodes while the ends have these.
    pub(super) fn volts(&self, ends: &[f64]) -> f64 {
        self.shares.iter().zip(ends).fold(self.volts, |sum, (share, volts)| sum + share * volts)
    }
}

impl Drop for Remainder {
    fn drop(&mut self) {
        spare::done(std::mem::take(&mut self.carried));
    }
}

impl Remainder {
    /// Eliminates all but the ends of these branches from `straight` conductances and `driven` currents, to which they add
    /// nothing. `None` where something hangs on nothing, or there are too many.
    pub(super) fn new(
        network: &Network,
        straight: &[f64],
        driven: &[f64],
        branches: &[usize],
    ) -> Option<Self> {
        let (pattern, reference) = (&network.pattern, network.pattern.rows());
        let mut is_end = vec![false; reference + 1];
        for &branch in branches {
            for end in network.ends[branch] {
                is_end[end as usize] = true;
            }
        }
        is_end[reference] = false;
        let mut ends: Vec<usize> = Vec::with_capacity(2 * branches.len());
        ends.extend((0..reference).filter(|&position| is_end[position]));
        if ends.len() > MOST_ENDS {
            return None;
        }
        let bends = pattern.reached(ends.iter().map(|&end| pattern.ground(end)));
        let mut unbent = Vec::with_capacity(reference);
        unbent.extend((0..reference).filter(|&column| !bends[column]));
        let mut bent = Vec::with_capacity(reference - unbent.len());
        bent.extend((0..reference).filter(|&column| bends[column]));
        let mut factor = Factor::of(pattern, straight);
        factor.eliminate_columns(pattern, unbent.iter().copied()).is_sound().then_some(())?;
        let mut carried = spare::list_of(driven);
        factor.forward(pattern, unbent.iter().copied(), &mut carried);
        carried[reference] = 0.0;

        // What is left, the ends last.
        let mut order: Vec<usize> = Vec::with_capacity(bent.len());
        order.extend(bent.iter().copied().filter(|&at| !is_end[at]).chain(ends.iter().copied()));
        let mut place = vec![usize::MAX; reference + 1];
        for (at, &position) in order.iter().enumerate() {
            place[position] = at;
        }
        let count = order.len();
        let mut whole = Reduced::zero(count);
        for &column in &bent {
            for (value, row) in pattern.entries(column) {
                whole.add(place[column], place[row], factor.values[value]);
            }
            whole.ground[place[column]] = factor.values[pattern.ground(column)];
            whole.amps[place[column]] = carried[column];
        }
        let first = count - ends.len();
        let mut between = Vec::with_capacity(first);
        for node in 0..first {
            between.push(whole.eliminate(node, &order)?);
        }
        let mut own = Reduced::zero(ends.len());
        for (at, row) in own.siemens.chunks_exact_mut(ends.len().max(1)).enumerate() {
            row.copy_from_slice(&whole.siemens[(first + at) * count + first..][..ends.len()]);
        }
        own.ground.copy_from_slice(&whole.ground[first..]);
        own.amps.copy_from_slice(&whole.amps[first..]);
        let branches = branches
            .iter()
            .map(|&branch| {
                let end = |end: u32| (end as usize != reference).then(|| place[end as usize] - first);
                (network.ends[branch].map(end), network.above_volts[branch])
            })
            .collect::<Vec<_>>();
        is_end[reference] = true;
        Some(Self {
            factor,
            unbent,
            carried,
            between,
            work: own.clone(),
            volts: vec![0.0; ends.len()],
            ends,
            is_end,
            branches,
            own,
        })
    }

    /// Solves a stage from these `volts` along the branches on: they become what they are. False where curves did not settle.
    pub(super) fn solve(&mut self, companions: &mut [Companion], volts: &mut [f64]) -> bool {
        let curved = companions.iter().any(|companion| !matches!(companion, Companion::Straight(_)));
        for _ in 0..STEPS {
            self.work.copy_from(&self.own);
            for ((companion, volts), &(ends, above_volts)) in
                companions.iter_mut().zip(&*volts).zip(&self.branches)
            {
                let (amps, siemens) = companion.current(*volts);
                // The current at no difference between the two ends.
                let amps = amps - siemens * (volts - above_volts);
                self.work.add_branch(ends, siemens, amps);
            }
            if !self.work.solve(&mut self.volts) {
                return false;
            }
            let mut settled = true;
            for (volts, &([from, to], above_volts)) in volts.iter_mut().zip(&self.branches) {
                let at = |end: Option<usize>| end.map_or(0.0, |end| self.volts[end]);
                let next = at(from) - at(to) + above_volts;
                settled &= !curved || (next - *volts).abs() <= SETTLED * next.abs() + SETTLED_VOLTS;
                *volts = next;
            }
            if settled {
                return true;
            }
        }
        false
    }

    /// The ends with what these branches are, factored. `None` where a piece hangs on nothing.
    pub(super) fn with(&self, tangents: &[Tangent]) -> Option<Reduced> {
        let mut reduced = self.own.clone();
        for (tangent, &(ends, above_volts)) in tangents.iter().zip(&self.branches) {
            reduced.add_branch(ends, tangent.siemens, tangent.amps + tangent.siemens * above_volts);
        }
        reduced.factor().then_some(reduced)
    }

    /// Volts along each branch while the ends have these.
    pub(super) fn along(&self, ends: &[f64]) -> Vec<f64> {
        let at = |end: Option<usize>| end.map_or(0.0, |end| ends[end]);
        self.branches.iter().map(|&([from, to], above_volts)| at(from) - at(to) + above_volts).collect()
    }

    /// How two nodes see the ends.
    pub(super) fn view(&self, network: &Network, from: Node, to: Node) -> View {
        let reference = network.pattern.rows();
        let mut x = spare::list(reference + 1);
        x.resize(reference + 1, 0.0);
        x[network.positions[from.0] as usize] += 1.0;
        x[network.positions[to.0] as usize] -= 1.0;
        x[reference] = 0.0;
        let mut view = View {
            volts: network.fixed_volts(from) - network.fixed_volts(to),
            ohms: 0.0,
            shares: Vec::new(),
        };
        self.factor.forward(&network.pattern, self.unbent.iter().copied(), &mut x);
        let reciprocals = self.factor.reciprocals();
        for &column in &self.unbent {
            let share = x[column];
            if share != 0.0 {
                view.ohms += share * share * reciprocals[column];
                view.volts += share * reciprocals[column] * self.carried[column];
            }
        }
        for one in &self.between {
            let share = x[one.position];
            if share != 0.0 {
                view.ohms += share * share * one.ohms;
                view.volts += share * one.volts;
                for &(other, on) in &one.shares {
                    x[other] += share * on;
                }
            }
        }
        view.shares.extend(self.ends.iter().map(|&end| x[end]));
        spare::done(x);
        view
    }

    /// The ends' voltages among those of all positions, and back.
    pub(super) fn put_ends(&self, ends: &[f64], rows: &mut [f64]) {
        for (&end, &volts) in self.ends.iter().zip(ends) {
            rows[end] = volts;
        }
    }

    /// See [`Remainder::put_ends`].
    pub(super) fn take_ends(&self, rows: &[f64], ends: &mut Vec<f64>) {
        ends.extend(self.ends.iter().map(|&end| rows[end]));
    }

    /// The ends' voltages once a stage is solved; the other positions keep what they are.
    pub(super) fn end_rows(&self, rows: &mut [f64]) {
        for (&end, &volts) in self.ends.iter().zip(&self.volts) {
            rows[end] = volts;
        }
    }

    /// Whether a position is an end, or the reference.
    pub(super) fn is_end(&self, position: usize) -> bool {
        self.is_end[position]
    }

    /// The other positions' voltages, from those of the ends.
    pub(super) fn spread(&self, network: &Network, rows: &mut [f64]) {
        let mut kept = [0.0; MOST_ENDS];
        for (kept, &end) in kept.iter_mut().zip(&self.ends) {
            *kept = rows[end];
        }
        rows.copy_from_slice(&self.carried);
        for (kept, &end) in kept.iter().zip(&self.ends) {
            rows[end] = *kept;
        }
        for one in self.between.iter().rev() {
            let sum = |sum, &(other, share): &(usize, f64)| sum + share * rows[other];
            rows[one.position] = one.shares.iter().fold(one.volts, sum);
        }
        self.factor.backward(&network.pattern, self.unbent.iter().rev().copied(), rows);
    }
}

impl Reduced {
    /// Eliminates a node whose predecessors are eliminated. `None` where it hangs on nothing.
    fn eliminate(&mut self, node: usize, order: &[usize]) -> Option<Between> {
        let count = self.count;
        let near: Vec<(usize, f64)> = (node + 1..count)
            .map(|other| (other, self.siemens[node * count + other]))
            .filter(|(_, siemens)| *siemens != 0.0)
            .collect();
        let (own, amps) = (self.ground[node], self.amps[node]);
        let reciprocal = 1.0 / near.iter().fold(own, |sum, (_, siemens)| sum + siemens);
        if !reciprocal.is_finite() || reciprocal == 0.0 {
            return None;
        }
        let mut shares = Vec::with_capacity(near.len());
        for (at, &(other, siemens)) in near.iter().enumerate() {
            let share = siemens * reciprocal;
            self.ground[other] += share * own;
            self.amps[other] += share * amps;
            for &(further, siemens) in &near[at + 1..] {
                self.siemens[other * count + further] += share * siemens;
            }
            shares.push((order[other], share));
        }
        Some(Between { position: order[node], ohms: reciprocal, volts: amps * reciprocal, shares })
    }
}
