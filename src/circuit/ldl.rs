//! A sparse LDLᵀ factorisation of grounded Laplacians, on a fixed pattern and in a fixed order.
//!
//! A matrix of conductances is kept as its off-diagonal conductances (all positive) and, for each row, the conductance
//! to ground. Elimination then only adds, multiplies and divides positive numbers: no digit is ever lost to
//! cancellation, however far the conductances lie apart (the device is that of Grassmann, Taksar and Heyman,
//! Operations Research 33:1107, 1985, for Markov chains; from memory). A piece with no path to ground ends in a pivot
//! that is exactly zero.

use super::spare;

/// The elimination order and the pattern of the factor.
///
/// Everything is counted by position in that order. The conductances lie in one list of [`Pattern::values`] numbers: the
/// off-diagonal entries by column, then each position's conductance to ground, then one place for what no equation feels.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    /// Position in the order of each row.
    position: Vec<u32>,
    /// Where each column's entries begin.
    start: Vec<u32>,
    /// The row (as a position) of each entry; ascending within a column.
    row: Vec<u32>,
    /// The first row of each column, into which elimination carries it; [`NO_ROW`] for a column that has none.
    next: Vec<u32>,
    /// For each pair of entries of one column, in order, the entry that the elimination of that column adds to.
    target: Vec<u32>,
    /// Where each column's targets begin.
    target_start: Vec<u32>,
}

/// No row at all.
const NO_ROW: u32 = u32::MAX;

/// What became of an elimination.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Eliminated {
    /// Every position has a pivot.
    Sound,
    /// The piece of this position has no path to ground.
    Floating(usize),
    /// A pivot is too large or too small to be turned over.
    Overflow,
}

impl Eliminated {
    pub(super) fn is_sound(self) -> bool {
        self == Self::Sound
    }
}

/// An index as it is stored. Networks with four thousand million nodes do not fit into memory.
pub(super) fn short(index: usize) -> u32 {
    u32::try_from(index).expect("indices of a network fit into 32 bits")
}

impl Pattern {
    /// Orders `rows` rows, of which the pairs in `edges` touch, by least degree, ties by lowest row.
    pub(super) fn new(rows: usize, edges: impl Iterator<Item = (usize, usize)>) -> Self {
        let mut touching = Touching::none(rows);
        for (a, b) in edges {
            if a != b {
                touching.join(a, b);
            }
        }
        // By row, how many of those that are left touch it; none for one that is gone.
        let mut degrees: Vec<usize> = (0..rows).map(|row| touching.count(row)).collect();
        let mut order = Vec::with_capacity(rows);
        let mut columns: Vec<Vec<usize>> = Vec::with_capacity(rows);
        while order.len() < rows {
            let least = degrees.iter().enumerate().min_by_key(|(_, degree)| **degree);
            let row = least.map_or(0, |(row, _)| row);
            let around = touching.of(row);
            for &a in &around {
                touching.take_over(a, row);
                degrees[a] = touching.count(a);
            }
            degrees[row] = usize::MAX;
            order.push(row);
            columns.push(around);
        }
        let mut position = vec![0; rows];
        for (at, &row) in order.iter().enumerate() {
            position[row] = short(at);
        }
        let mut start = vec![0];
        let mut row: Vec<u32> = Vec::new();
        for column in &columns {
            let first = row.len();
            row.extend(column.iter().map(|&r| position[r]));
            row[first..].sort_unstable();
            start.push(short(row.len()));
        }
        let next =
            start.windows(2).map(|ends| if ends[0] < ends[1] { row[ends[0] as usize] } else { NO_ROW });
        let next = next.collect();
        let mut pattern = Self { position, start, row, next, target: Vec::new(), target_start: Vec::new() };
        for column in 0..rows {
            let entries = pattern.column(column);
            pattern.target_start.push(short(pattern.target.len()));
            for first in entries.clone() {
                for second in first + 1..entries.end {
                    let target = pattern.find(pattern.row[first], pattern.row[second]);
                    pattern.target.push(short(target));
                }
            }
        }
        pattern
    }

    /// The entries of a column.
    fn column(&self, column: usize) -> std::ops::Range<usize> {
        self.start[column] as usize..self.start[column + 1] as usize
    }

    /// The entry at positions `low < high`; elimination by least degree has filled it in.
    fn find(&self, low: u32, high: u32) -> usize {
        let entries = self.column(low as usize);
        entries.start
            + self.row[entries].binary_search(&high).expect("the pattern holds every pair that meets")
    }

    /// A column, and every one that elimination carries a change of it on into. They ascend. None for the position after
    /// the last, which is that of the reference.
    pub(super) fn onward(&self, column: usize) -> impl Iterator<Item = usize> {
        // A column is carried into the first of its entries; from there, into all the others.
        let mut column = column;
        std::iter::from_fn(move || {
            let next = *self.next.get(column)?;
            Some(std::mem::replace(&mut column, next as usize))
        })
    }

    /// By column: whether it changes when one of the conductances at these places does. Those are the columns of the
    /// places, and every one that elimination carries a change on into.
    pub(super) fn reached(&self, places: impl Iterator<Item = usize>) -> Vec<bool> {
        let mut reached = vec![false; self.rows()];
        for place in places {
            let column = if place < self.row.len() {
                self.start.partition_point(|&start| start as usize <= place) - 1
            } else {
                place - self.row.len()
            };
            for column in self.onward(column) {
                if std::mem::replace(&mut reached[column], true) {
                    break;
                }
            }
        }
        reached
    }

    /// A column's entries: where each is kept, and its row.
    pub(super) fn entries(&self, column: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.column(column).map(|entry| (entry, self.row[entry] as usize))
    }

    /// A row's position.
    pub(super) fn position(&self, row: usize) -> usize {
        self.position[row] as usize
    }

    /// Where the conductance between two different positions is kept.
    pub(super) fn between(&self, a: usize, b: usize) -> usize {
        self.find(short(a.min(b)), short(a.max(b)))
    }

    /// Where the conductance of a position to ground is kept.
    pub(super) fn ground(&self, position: usize) -> usize {
        self.row.len() + position
    }

    /// Where a conductance is put that no equation feels.
    pub(super) fn nowhere(&self) -> usize {
        self.row.len() + self.rows()
    }

    pub(super) fn rows(&self) -> usize {
        self.position.len()
    }

    /// How many numbers conductances on this pattern are.
    pub(super) fn values(&self) -> usize {
        self.nowhere() + 1
    }
}

/// Which rows touch which, as bits.
struct Touching {
    words: usize,
    bits: Vec<u64>,
}

impl Touching {
    fn none(rows: usize) -> Self {
        let words = rows.div_ceil(64);
        Self { words, bits: vec![0; rows * words] }
    }

    fn join(&mut self, a: usize, b: usize) {
        self.bits[a * self.words + b / 64] |= 1 << (b % 64);
        self.bits[b * self.words + a / 64] |= 1 << (a % 64);
    }

    fn row(&self, row: usize) -> &[u64] {
        &self.bits[row * self.words..][..self.words]
    }

    /// How many rows touch this one.
    fn count(&self, row: usize) -> usize {
        self.row(row).iter().map(|word| word.count_ones() as usize).sum()
    }

    /// The rows that touch this one; they ascend.
    fn of(&self, row: usize) -> Vec<usize> {
        let mut all = Vec::new();
        for (at, &word) in self.row(row).iter().enumerate() {
            let mut left = word;
            while left != 0 {
                all.push(64 * at + left.trailing_zeros() as usize);
                left &= left - 1;
            }
        }
        all
    }

    /// Lets what touches `gone` touch `row` in its place.
    fn take_over(&mut self, row: usize, gone: usize) {
        for at in 0..self.words {
            self.bits[row * self.words + at] |= self.bits[gone * self.words + at];
        }
        for other in [row, gone] {
            self.bits[row * self.words + other / 64] &= !(1 << (other % 64));
        }
    }
}

/// Conductances on a pattern, and after [`Factor::eliminate`] their factor.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    /// As [`Pattern`] tells; after elimination, entries are divided by the pivot.
    pub(super) values: Vec<f64>,
    /// One over each pivot; zero where there is none.
    reciprocal: Vec<f64>,
}

impl Drop for Factor {
    fn drop(&mut self) {
        spare::done(std::mem::take(&mut self.values));
        spare::done(std::mem::take(&mut self.reciprocal));
    }
}

impl Factor {
    pub(super) fn zero(pattern: &Pattern) -> Self {
        let mut values = spare::list(pattern.values());
        values.resize(pattern.values(), 0.0);
        let mut reciprocal = spare::list(pattern.rows());
        reciprocal.resize(pattern.rows(), 0.0);
        Self { values, reciprocal }
    }

    /// These conductances.
    pub(super) fn of(pattern: &Pattern, values: &[f64]) -> Self {
        let mut reciprocal = spare::list(pattern.rows());
        reciprocal.resize(pattern.rows(), 0.0);
        Self { values: spare::list_of(values), reciprocal }
    }

    /// Factors in place.
    pub(super) fn eliminate(&mut self, pattern: &Pattern) -> Eliminated {
        self.eliminate_columns(pattern, 0..pattern.rows())
    }

    /// Factors these columns, which ascend, and leaves the others as they are. Whatever a column is carried into must come
    /// with it or after it.
    pub(super) fn eliminate_columns(
        &mut self,
        pattern: &Pattern,
        columns: impl Iterator<Item = usize>,
    ) -> Eliminated {
        let (between, ground) = self.values.split_at_mut(pattern.row.len());
        let mut ended = Eliminated::Sound;
        for column in columns {
            let (start, end) = (pattern.start[column] as usize, pattern.start[column + 1] as usize);
            let (before, after) = between.split_at_mut(end);
            let (entries, rows) = (&mut before[start..], &pattern.row[start..end]);
            let reciprocal = &mut self.reciprocal[column];
            let own = ground[column];
            let pivot = entries.iter().fold(own, |sum, entry| sum + entry);
            if pivot == 0.0 {
                *reciprocal = 0.0;
                if ended == Eliminated::Sound {
                    ended = Eliminated::Floating(column);
                }
                continue;
            }
            *reciprocal = 1.0 / pivot;
            if !reciprocal.is_finite() || *reciprocal == 0.0 {
                ended = Eliminated::Overflow;
            }
            let mut targets = pattern.target[pattern.target_start[column] as usize..].iter();
            for (first, &row) in rows.iter().enumerate() {
                let share = entries[first] * *reciprocal;
                entries[first] = share;
                ground[row as usize] += share * own;
                for (second, &target) in entries[first + 1..].iter().zip(targets.by_ref()) {
                    after[target as usize - end] += share * second;
                }
            }
        }
        ended
    }

    /// Carries injected currents (by position) out of these columns, which ascend, towards the last position.
    pub(super) fn forward(&self, pattern: &Pattern, columns: impl Iterator<Item = usize>, x: &mut [f64]) {
        self.forward_beside::<1>(pattern, columns, x.as_chunks_mut().0);
    }

    /// Turns what [`Factor::forward`] left in these columns, which descend, into voltages.
    pub(super) fn backward(&self, pattern: &Pattern, columns: impl Iterator<Item = usize>, x: &mut [f64]) {
        self.backward_beside::<1>(pattern, columns, x.as_chunks_mut().0);
    }

    /// The same as [`Factor::forward`] for several injections side by side.
    pub(super) fn forward_beside<const COUNT: usize>(
        &self,
        pattern: &Pattern,
        columns: impl Iterator<Item = usize>,
        x: &mut [[f64; COUNT]],
    ) {
        for column in columns {
            let entries = pattern.column(column);
            let values = x[column];
            for (entry, &row) in self.values[entries.clone()].iter().zip(&pattern.row[entries]) {
                for (x, value) in x[row as usize].iter_mut().zip(&values) {
                    *x += entry * value;
                }
            }
        }
    }

    /// The same as [`Factor::backward`] for several injections side by side.
    pub(super) fn backward_beside<const COUNT: usize>(
        &self,
        pattern: &Pattern,
        columns: impl Iterator<Item = usize>,
        x: &mut [[f64; COUNT]],
    ) {
        for column in columns {
            let entries = pattern.column(column);
            let mut values = x[column].map(|value| value * self.reciprocal[column]);
            for (entry, &row) in self.values[entries.clone()].iter().zip(&pattern.row[entries]) {
                for (value, x) in values.iter_mut().zip(&x[row as usize]) {
                    *value += entry * x;
                }
            }
            x[column] = values;
        }
    }

    /// Solves for the voltages that injected currents give; both by position, in place.
    pub(super) fn solve(&self, pattern: &Pattern, x: &mut [f64]) {
        self.forward(pattern, 0..pattern.rows(), x);
        self.backward(pattern, (0..pattern.rows()).rev(), x);
    }

    /// Takes over the numbers of another on the same pattern.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.values.copy_from_slice(&other.values);
        self.reciprocal.copy_from_slice(&other.reciprocal);
    }

    /// Takes over the conductances of these columns from another on the same pattern.
    pub(super) fn copy_columns(
        &mut self,
        pattern: &Pattern,
        other: &Self,
        columns: impl Iterator<Item = usize>,
    ) {
        for column in columns {
            let (entries, ground) = (pattern.column(column), pattern.ground(column));
            self.values[entries.clone()].copy_from_slice(&other.values[entries]);
            self.values[ground] = other.values[ground];
        }
    }

    /// How much memory its lists hold.
    pub(super) fn bytes(&self) -> usize {
        size_of_val(self.values.as_slice()) + size_of_val(self.reciprocal.as_slice())
    }

    /// One over each pivot, by position.
    pub(super) fn reciprocals(&self) -> &[f64] {
        &self.reciprocal
    }
}
