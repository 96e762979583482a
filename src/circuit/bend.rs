//! Curves that a load at a port moves: how far they may move before it shows, and what happens if they do.
//!
//! The rest of the network is straight, so that it is known to the curves by the resistances between them. What is left
//! is a system of as many unknowns as there are curves, and one for the load.

use super::element::Law;
use super::ldl::Factor;
use super::network::{Network, Node};
use super::point::{LoadPoint, OperatingPoint, Tangent};
use super::ports::Met;
use super::solve::{SETTLED, SETTLED_VOLTS};

/// Steps in which the curves have to settle.
const STEPS: usize = 40;
/// Where a curve falls away on which the rest hangs, one less its share of the slope: below this, more than two digits are
/// lost, and the network is better solved anew.
const LEAST_PIVOT: f64 = 0.01;
/// Curves for which the network is solved side by side.
const BESIDE: usize = 6;

/// The curved branches of a network, as its ports feel them.
#[derive(Clone, Debug, Default)]
pub(super) struct Curves {
    /// By curve: where it is, in volts.
    volts: Vec<f64>,
    /// By port and curve: volts along the curve for one ampere into the port.
    moves_ohms: Vec<f64>,
    /// By curve and curve: the same for one ampere through another curve.
    couples_ohms: Vec<f64>,
    /// By curve: how far it may move and stay on its tangent, in volts.
    stays_volts: Vec<f64>,
    /// By port: one over the current there that moves a curve as far as it may, per amp.
    most: Vec<f64>,
}

/// What a load did to curves.
#[derive(Clone, Debug)]
pub(super) struct Bent {
    pub(super) load: LoadPoint,
    /// By curve: the current that it draws beyond its former tangent.
    pub(super) drawn_amps: Vec<f64>,
    /// By curve.
    pub(super) tangents: Vec<Tangent>,
}

impl Curves {
    pub(super) fn new(network: &Network, point: &OperatingPoint, factor: &Factor, ports: &[Node]) -> Self {
        let own = point.curves.iter().filter(|curve| curve.branch < network.branches());
        let branches: Vec<usize> = own.map(|curve| curve.branch).collect();
        let count = branches.len();
        let mut curves = Self {
            volts: branches.iter().map(|&branch| point.along(network.branches[branch])).collect(),
            moves_ohms: vec![0.0; ports.len() * count],
            couples_ohms: vec![0.0; count * count],
            stays_volts: Vec::with_capacity(count),
            most: vec![0.0; ports.len()],
        };
        let (pattern, reference) = (&network.pattern, network.pattern.rows());
        let marked = |columns: Vec<bool>| -> Vec<usize> {
            columns.iter().enumerate().filter_map(|(column, marked)| marked.then_some(column)).collect()
        };
        // Nothing else carries anything on.
        let stamps = branches.iter().map(|&branch| network.stamps[branch] as usize);
        let carrying = marked(pattern.reached(stamps.clone()));
        // Nothing else is looked at, and nothing else has a part in it.
        let places = ports.iter().map(|port| pattern.ground(network.positions[port.0] as usize));
        let seen = marked(pattern.reached(stamps.chain(places)));
        let mut x = vec![[0.0; BESIDE]; reference + 1];
        for (first, some) in branches.chunks(BESIDE).enumerate().map(|(at, some)| (at * BESIDE, some)) {
            x.fill([0.0; BESIDE]);
            for (lane, &branch) in some.iter().enumerate() {
                let [from, to] = network.ends[branch].map(|end| end as usize);
                x[from][lane] += 1.0;
                x[to][lane] -= 1.0;
                curves
                    .stays_volts
                    .push(point.curves[first + lane].law.stays_within(curves.volts[first + lane]));
            }
            x[reference] = [0.0; BESIDE];
            factor.forward_beside(pattern, carrying.iter().copied(), &mut x);
            factor.backward_beside(pattern, seen.iter().rev().copied(), &mut x);
            x[reference] = [0.0; BESIDE];
            for (other, &branch) in branches.iter().enumerate() {
                let [from, to] = network.ends[branch].map(|end| end as usize);
                let apart = x[from].iter().zip(&x[to]).map(|(from, to)| from - to);
                for (own, apart) in (first..first + some.len()).zip(apart) {
                    curves.couples_ohms[own * count + other] = apart;
                }
            }
            let stays = &curves.stays_volts[first..];
            for (place, port) in ports.iter().enumerate() {
                let moves = &x[network.positions[port.0] as usize][..some.len()];
                curves.moves_ohms[place * count + first..][..moves.len()].copy_from_slice(moves);
                let shares = moves.iter().zip(stays).map(|(moves, stays)| moves.abs() / stays);
                curves.most[place] = shares.fold(curves.most[place], f64::max);
            }
        }
        curves
    }

    /// How much memory its lists hold.
    pub(super) fn bytes(&self) -> usize {
        let lists = [&self.volts, &self.moves_ohms, &self.couples_ohms, &self.stays_volts, &self.most];
        lists.iter().map(|list| size_of_val(list.as_slice())).sum()
    }

    /// Whether `amps` out of one port and into another leave all curves on their tangents.
    pub(super) fn stay(&self, from: usize, to: usize, amps: f64) -> bool {
        let amps = amps.abs();
        amps * (self.most[from] + self.most[to]) <= 1.0 || self.all_stay(from, to, amps)
    }

    /// The same, curve by curve: ports whose currents move a curve alike hardly move it together.
    fn all_stay(&self, from: usize, to: usize, amps: f64) -> bool {
        let moves = self.moves(from, to).zip(&self.stays_volts);
        // To the end, since that is faster than to look each time whether it has been reached.
        moves.fold(true, |all, (ohms, stays)| all & (ohms.abs() * amps <= *stays))
    }

    /// By curve: volts along it for one ampere into one port and out of another.
    fn moves(&self, from: usize, to: usize) -> impl Iterator<Item = f64> {
        let count = self.stays_volts.len();
        let list = |port: usize| &self.moves_ohms[port * count..][..count];
        list(from).iter().zip(list(to)).map(|(from, to)| from - to)
    }

    /// Newton's method on the curves and the load: d = open − S ρ(d), where d are the curves' moves and the load's volts, S
    /// the resistances between them, and ρ what each draws beyond its tangent. `None` where that does not settle, or not
    /// with all its digits.
    pub(super) fn bend(&self, point: &OperatingPoint, law: &Law, met: &Met) -> Option<Bent> {
        let Met { from, to, open_volts, ohms, felt: start } = *met;
        let count = self.stays_volts.len();
        let moves: Vec<f64> = self.moves(from, to).collect();
        let size = count + 1;
        let mut between_ohms = Vec::with_capacity(size * size);
        for (couples, &moves) in self.couples_ohms.chunks_exact(count.max(1)).zip(&moves) {
            between_ohms.extend_from_slice(couples);
            between_ohms.push(moves);
        }
        between_ohms.extend_from_slice(&moves);
        between_ohms.push(ohms);
        let between = |at: usize| &between_ohms[at * size..][..size];
        let base: Vec<Tangent> =
            point.curves[..count].iter().map(|curve| point.tangents[curve.branch]).collect();
        let mut moved: Vec<f64> = moves.iter().map(|ohms| -ohms * start.amps).chain([start.volts]).collect();
        let mut drawn = vec![0.0; size];
        let mut slope = vec![0.0; size];
        let mut change = vec![0.0; size];
        let mut turned_over = vec![0.0; size];
        let mut active = Vec::with_capacity(size);
        let mut solved = Vec::with_capacity(size);
        let mut matrix = Vec::with_capacity(size * size);
        for _ in 0..STEPS {
            for (at, (curve, tangent)) in point.curves.iter().zip(&base).enumerate() {
                let volts = self.volts[at] + moved[at];
                let (amps, siemens) = curve.law.current(volts);
                drawn[at] = amps - (tangent.siemens * volts + tangent.amps);
                slope[at] = siemens - tangent.siemens;
            }
            (drawn[count], slope[count]) = law.current(moved[count]);
            for (at, change) in change.iter_mut().enumerate() {
                let open = if at == count { open_volts } else { 0.0 };
                (*change, turned_over[at]) = between(at).iter().zip(&drawn).fold(
                    (open - moved[at], 0.0),
                    |(sum, turned_over), (ohms, &drawn)| {
                        let volts = if drawn == 0.0 { 0.0 } else { ohms * drawn };
                        (sum - volts, f64::max(turned_over, volts.abs()))
                    },
                );
            }
            active.clear();
            active.extend((0..=count).filter(|&at| slope[at] != 0.0));
            matrix.clear();
            for &a in &active {
                let ohms = between(a);
                matrix.extend(active.iter().map(|&b| f64::from(u8::from(a == b)) + ohms[b] * slope[b]));
            }
            solved.clear();
            solved.extend(active.iter().map(|&at| change[at]));
            solve_dense(&mut matrix, &mut solved)?;
            for (&at, solved) in active.iter().zip(&solved) {
                change[at] = *solved;
            }
            for at in (0..=count).filter(|&at| slope[at] == 0.0) {
                for &other in &active {
                    change[at] -= between(at)[other] * slope[other] * change[other];
                }
            }
            let (mut settled, mut exact) = (true, true);
            for at in 0..=count {
                moved[at] += change[at];
                let volts = moved[at] + self.volts.get(at).unwrap_or(&0.0);
                let tolerance = SETTLED * volts.abs() + SETTLED_VOLTS;
                settled &= change[at].abs() <= tolerance;
                exact &= f64::EPSILON * turned_over[at] <= tolerance;
            }
            if settled && !exact {
                return None;
            }
            if settled {
                for at in 0..=count {
                    drawn[at] += slope[at] * change[at];
                }
                let load = LoadPoint { volts: moved[count], amps: drawn[count] };
                drawn.truncate(count);
                let tangents = base.iter().enumerate().map(|(at, tangent)| {
                    let siemens = tangent.siemens + slope[at];
                    let volts = self.volts[at] + moved[at];
                    let amps = tangent.siemens * volts + tangent.amps + drawn[at];
                    Tangent { siemens, amps: amps - siemens * volts }
                });
                let tangents = tangents.collect();
                return load.is_finite().then_some(Bent { load, drawn_amps: drawn, tangents });
            }
        }
        None
    }
}

/// Gauss without exchange of rows, which a convex problem does not need. `None` where a pivot is small.
fn solve_dense(matrix: &mut [f64], values: &mut [f64]) -> Option<()> {
    let size = values.len();
    for column in 0..size {
        let (above, below) = matrix.split_at_mut((column + 1) * size);
        let pivot_row = &above[column * size..];
        let pivot = pivot_row[column];
        if pivot.is_nan() || pivot < LEAST_PIVOT {
            return None;
        }
        let reciprocal = 1.0 / pivot;
        for (row, line) in (column + 1..).zip(below.chunks_exact_mut(size)) {
            let share = line[column] * reciprocal;
            for (value, above) in line[column + 1..].iter_mut().zip(&pivot_row[column + 1..]) {
                *value -= share * above;
            }
            values[row] -= share * values[column];
        }
    }
    for column in (0..size).rev() {
        let line = &matrix[column * size..][..size];
        let mut value = values[column];
        for other in column + 1..size {
            value -= line[other] * values[other];
        }
        values[column] = value / line[column];
    }
    Some(())
}
