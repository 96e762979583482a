//! Branches with a memory and curved ones, met at their ports.
//!
//! The circuit without them is linear and stays what it is as long as nothing switches. It is factored once; seen from these
//! branches it is open-circuit voltages behind a small matrix of resistances. A stage of a step is then a small system,
//! whatever the size of the network.

use super::dynamic::Warming;
use super::element::Law;
use super::network::Network;
use super::point::Tangent;
use super::solve::{Workspace, along};
use super::unsolved::Unsolved;

/// The greatest resistance at a port; a piece that hangs on more would lose digits, and is solved as a whole.
const MOST_OHMS: f64 = 1e6;
/// More branches than this are solved as a whole.
const MOST_PARTS: usize = 16;
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

/// The circuit as these branches see it.
#[derive(Clone, Debug)]
pub(super) struct MemoryPorts {
    /// The positions' voltages while no current flows in any of them.
    open_rows: Vec<f64>,
    /// By branch: volts along it while no current flows in any of them.
    open_volts: Vec<f64>,
    /// By branch: the positions' voltages that an ampere through it takes away.
    responses: Vec<Vec<f64>>,
    /// By pair of branches: volts along the first that an ampere through the second takes away.
    ohms: Vec<f64>,
    amps: Vec<f64>,
    siemens: Vec<f64>,
    matrix: Vec<f64>,
    step: Vec<f64>,
}

impl MemoryPorts {
    /// Factors the straight branches that are laid out in the workspace. `None` where that does not stand without these
    /// branches, or hangs on too little.
    pub(super) fn new(network: &Network, workspace: &mut Workspace, branches: &[usize]) -> Option<Self> {
        let count = branches.len();
        if count > MOST_PARTS {
            return None;
        }
        let factored: Result<(), Unsolved> = workspace.factor_straight(network);
        factored.ok()?;
        let mut open_rows = workspace.driven.clone();
        workspace.solve_straight(network, &mut open_rows);
        let responses: Vec<Vec<f64>> = branches
            .iter()
            .map(|&branch| {
                let mut rows = vec![0.0; network.pattern.rows() + 1];
                let [from, to] = network.ends[branch];
                rows[from as usize] += 1.0;
                rows[to as usize] -= 1.0;
                workspace.solve_straight(network, &mut rows);
                rows
            })
            .collect();
        let ohms: Vec<f64> = branches
            .iter()
            .flat_map(|&branch| responses.iter().map(move |rows| along(network, rows, branch)))
            .collect();
        let open_volts = branches
            .iter()
            .map(|&branch| along(network, &open_rows, branch) + network.above_volts[branch])
            .collect();
        ohms.iter().all(|ohms| ohms.abs() <= MOST_OHMS).then(|| Self {
            open_rows,
            open_volts,
            responses,
            ohms,
            amps: vec![0.0; count],
            siemens: vec![0.0; count],
            matrix: vec![0.0; count * count],
            step: vec![0.0; count],
        })
    }

    /// Solves a stage from these `volts` along the branches on: they become what they are. False where curves did not settle.
    pub(super) fn solve(&mut self, companions: &mut [Companion], volts: &mut [f64]) -> bool {
        let count = companions.len();
        let curved = companions.iter().any(|companion| !matches!(companion, Companion::Straight(_)));
        for _ in 0..STEPS {
            for (at, companion) in companions.iter_mut().enumerate() {
                let (amps, siemens) = companion.current(volts[at]);
                (self.amps[at], self.siemens[at]) = (amps, siemens);
                for row in 0..count {
                    self.matrix[row * count + at] = self.ohms[row * count + at] * siemens;
                }
                self.matrix[at * count + at] += 1.0;
            }
            for (row, (step, volts)) in self.step.iter_mut().zip(&*volts).enumerate() {
                let ohms = &self.ohms[row * count..];
                let taken: f64 = self.amps.iter().zip(ohms).map(|(amps, ohms)| amps * ohms).sum();
                *step = self.open_volts[row] - taken - volts;
            }
            if !solve_small(&mut self.matrix, &mut self.step) {
                return false;
            }
            let mut settled = true;
            for (volts, step) in volts.iter_mut().zip(&self.step) {
                *volts += step;
                settled &= !curved || step.abs() <= SETTLED * volts.abs() + SETTLED_VOLTS;
            }
            if settled {
                // Currents go with the last step along their tangents.
                for ((amps, siemens), step) in self.amps.iter_mut().zip(&self.siemens).zip(&self.step) {
                    *amps += siemens * step;
                }
                return true;
            }
        }
        false
    }

    /// The positions' voltages once a stage is solved.
    pub(super) fn rows(&self, rows: &mut [f64]) {
        rows.copy_from_slice(&self.open_rows);
        for (response, amps) in self.responses.iter().zip(&self.amps) {
            for (row, per_amp) in rows.iter_mut().zip(response) {
                *row -= per_amp * amps;
            }
        }
    }
}

/// Solves a small system in place by elimination in order: the matrix is one plus resistances times conductances of a passive
/// network. False where a pivot is of no use.
fn solve_small(matrix: &mut [f64], right: &mut [f64]) -> bool {
    let count = right.len();
    for column in 0..count {
        let pivot = matrix[column * count + column];
        if pivot == 0.0 || !pivot.is_finite() {
            return false;
        }
        for row in column + 1..count {
            let share = matrix[row * count + column] / pivot;
            for at in column..count {
                matrix[row * count + at] -= share * matrix[column * count + at];
            }
            right[row] -= share * right[column];
        }
    }
    for column in (0..count).rev() {
        let known: f64 = (column + 1..count).map(|at| matrix[column * count + at] * right[at]).sum();
        right[column] = (right[column] - known) / matrix[column * count + column];
    }
    right.iter().all(|value| value.is_finite())
}
