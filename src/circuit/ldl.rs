//! A sparse LDLᵀ factorisation of grounded Laplacians, on a fixed pattern and in a fixed order.
//!
//! A matrix of conductances is kept as its off-diagonal conductances (all positive) and, for each row, the conductance
//! to ground. Elimination then only adds, multiplies and divides positive numbers: no digit is ever lost to
//! cancellation, however far the conductances lie apart (the device is that of Grassmann, Taksar and Heyman,
//! Operations Research 33:1107, 1985, for Markov chains; from memory). A piece with no path to ground ends in a pivot
//! that is exactly zero.

/// The elimination order and the pattern of the factor.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    /// Position in the order of each row.
    position: Vec<usize>,
    /// Where each column's entries begin.
    start: Vec<usize>,
    /// The row (as a position) of each entry; ascending within a column.
    row: Vec<usize>,
    /// For each pair of entries of one column, in order, the entry that the elimination of that column adds to.
    pair_target: Vec<usize>,
    /// Where each column's pairs begin.
    pair_start: Vec<usize>,
}

impl Pattern {
    /// Orders `rows` rows, of which the pairs in `edges` touch, by least degree, ties by lowest row.
    pub(super) fn new(rows: usize, edges: impl Iterator<Item = (usize, usize)>) -> Self {
        use std::collections::BTreeSet;
        let mut near: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); rows];
        for (a, b) in edges {
            if a != b {
                near[a].insert(b);
                near[b].insert(a);
            }
        }
        let mut waiting: BTreeSet<(usize, usize)> =
            near.iter().enumerate().map(|(row, set)| (set.len(), row)).collect();
        let mut order = Vec::with_capacity(rows);
        let mut columns: Vec<Vec<usize>> = Vec::with_capacity(rows);
        while let Some((_, row)) = waiting.pop_first() {
            let around: Vec<usize> = std::mem::take(&mut near[row]).into_iter().collect();
            for &a in &around {
                waiting.remove(&(near[a].len(), a));
                near[a].remove(&row);
                near[a].extend(around.iter().copied().filter(|&b| b != a));
            }
            for &a in &around {
                waiting.insert((near[a].len(), a));
            }
            order.push(row);
            columns.push(around);
        }
        let mut position = vec![0; rows];
        for (at, &row) in order.iter().enumerate() {
            position[row] = at;
        }
        let mut start = vec![0];
        let mut row = Vec::new();
        for column in &columns {
            let mut entries: Vec<usize> = column.iter().map(|&r| position[r]).collect();
            entries.sort_unstable();
            row.extend(entries);
            start.push(row.len());
        }
        let mut pattern = Self { position, start, row, pair_target: Vec::new(), pair_start: vec![0] };
        for column in 0..rows {
            let entries = pattern.start[column]..pattern.start[column + 1];
            for first in entries.clone() {
                for second in first + 1..entries.end {
                    let target = pattern.find(pattern.row[first], pattern.row[second]);
                    pattern.pair_target.push(target);
                }
            }
            pattern.pair_start.push(pattern.pair_target.len());
        }
        pattern
    }

    /// The entry at positions `low < high`; elimination by least degree has filled it in.
    fn find(&self, low: usize, high: usize) -> usize {
        let entries = self.start[low]..self.start[low + 1];
        entries.start
            + self.row[entries].binary_search(&high).expect("the pattern holds every pair that meets")
    }

    /// Where the conductance between two different rows is kept.
    pub(super) fn entry(&self, a: usize, b: usize) -> usize {
        let (a, b) = (self.position[a], self.position[b]);
        self.find(a.min(b), a.max(b))
    }

    /// Where the conductance of a row to ground is kept.
    pub(super) fn ground(&self, row: usize) -> usize {
        self.position[row]
    }

    pub(super) fn rows(&self) -> usize {
        self.position.len()
    }

    pub(super) fn entries(&self) -> usize {
        self.row.len()
    }
}

/// Conductances on a pattern, and after [`Factor::eliminate`] their factor.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    /// Between rows; after elimination, divided by the pivot.
    pub(super) between: Vec<f64>,
    /// To ground.
    pub(super) ground: Vec<f64>,
    pivot: Vec<f64>,
}

impl Factor {
    pub(super) fn zero(pattern: &Pattern) -> Self {
        Self {
            between: vec![0.0; pattern.entries()],
            ground: vec![0.0; pattern.rows()],
            pivot: vec![0.0; pattern.rows()],
        }
    }

    /// Factors in place. Rows of a piece without a path to ground get a pivot of exactly zero.
    pub(super) fn eliminate(&mut self, pattern: &Pattern) {
        for column in 0..pattern.rows() {
            let entries = pattern.start[column]..pattern.start[column + 1];
            let mut pivot = self.ground[column];
            for entry in entries.clone() {
                pivot += self.between[entry];
            }
            self.pivot[column] = pivot;
            if pivot == 0.0 {
                continue;
            }
            let mut pair = pattern.pair_start[column];
            for first in entries.clone() {
                let share = self.between[first] / pivot;
                self.ground[pattern.row[first]] += share * self.ground[column];
                for second in first + 1..entries.end {
                    self.between[pattern.pair_target[pair]] += share * self.between[second];
                    pair += 1;
                }
            }
            for entry in entries {
                self.between[entry] /= pivot;
            }
        }
    }

    /// A row of a piece that has no path to ground, if there is one.
    pub(super) fn floating(&self, pattern: &Pattern) -> Option<usize> {
        (0..pattern.rows()).find(|&row| self.pivot[pattern.position[row]] == 0.0)
    }

    /// Solves for the voltages that the injected currents `amps` (by row) give; both in rows' own order.
    pub(super) fn solve(&self, pattern: &Pattern, amps: &[f64], volts: &mut Vec<f64>) {
        let rows = pattern.rows();
        let mut x = vec![0.0; rows];
        for (row, &value) in amps.iter().enumerate() {
            x[pattern.position[row]] = value;
        }
        for column in 0..rows {
            let value = x[column];
            if value != 0.0 {
                for entry in pattern.start[column]..pattern.start[column + 1] {
                    x[pattern.row[entry]] += self.between[entry] * value;
                }
            }
        }
        for column in (0..rows).rev() {
            let pivot = self.pivot[column];
            let mut value = if pivot == 0.0 { 0.0 } else { x[column] / pivot };
            for entry in pattern.start[column]..pattern.start[column + 1] {
                value += self.between[entry] * x[pattern.row[entry]];
            }
            x[column] = value;
        }
        volts.clear();
        volts.extend(pattern.position.iter().map(|&at| x[at]));
    }
}
