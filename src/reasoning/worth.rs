//! What each test is worth: the information that it is expected to give on which repair is needed, and what that costs.

use super::posterior::x_log_x;
use super::problem::{Column, Problem};

/// What a test is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// Expected information on which group is the true one, in bits.
    pub bits: f64,
    /// Minutes, with the way to its set-up.
    pub minutes: f64,
}

impl Worth {
    /// Bits a minute.
    #[must_use]
    pub fn rate(&self) -> f64 {
        if self.minutes > 0.0 { self.bits / self.minutes } else { f64::INFINITY }
    }
}

/// Hypotheses that are still of account: (hypothesis, weight), in the order of their groups.
pub(super) type Alive = Vec<(u32, f64)>;

/// Values of x·log x that have been worked out: the same weights come up again and again.
#[derive(Debug)]
struct Logs(Vec<(u64, f64)>);

impl Logs {
    /// How many are kept, as a power of two: each number has one place.
    const PLACES: u32 = 12;

    fn of(&mut self, x: f64) -> f64 {
        let bits = x.to_bits();
        // The golden ratio spreads numbers that lie close together.
        let place = bits.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> (u64::BITS - Self::PLACES);
        let known = &mut self.0[place as usize];
        if known.0 != bits {
            *known = (bits, x_log_x(x));
        }
        known.1
    }
}

impl Default for Logs {
    fn default() -> Self {
        Self(vec![(0.0_f64.to_bits(), x_log_x(0.0)); 1 << Self::PLACES])
    }
}

/// Lists that are used again from test to test.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    logs: Logs,
    by_class: Vec<f64>,
    of_group: Vec<f64>,
    touched: Vec<u16>,
    classes: Vec<u16>,
}

impl Problem {
    /// All hypotheses with weight, in the order of their groups.
    pub(super) fn alive(&self) -> Alive {
        let mut alive: Alive = (0..self.weights.len())
            .filter(|&at| self.weights[at] > 0.0)
            .map(|at| (at as u32, self.weights[at]))
            .collect();
        alive.sort_by_key(|&(at, _)| (self.group[at as usize], at));
        alive
    }

    /// What every test is worth from a set-up.
    #[must_use]
    pub fn worths(&self, setup: usize) -> Vec<Worth> {
        let alive = self.alive();
        let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
        let mut scratch = Scratch::default();
        let of_groups = self.group_term(&alive);
        self.tests
            .iter()
            .map(|test| Worth {
                bits: self.gain(&alive, total, of_groups, &test.column, &mut scratch)
                    / total.max(f64::MIN_POSITIVE),
                minutes: self.ways[setup][test.setup] + test.minutes,
            })
            .collect()
    }

    /// What an observation is expected to tell of which group is the true one, in bits.
    #[must_use]
    pub fn bits_of(&self, column: &Column) -> f64 {
        let alive = self.alive();
        let total: f64 = alive.iter().map(|(_, weight)| weight).sum();
        if total <= 0.0 {
            return 0.0;
        }
        self.gain(&alive, total, self.group_term(&alive), column, &mut Scratch::default()) / total
    }

    /// Sum of x·log x of the groups' weights.
    pub(super) fn group_term(&self, alive: &[(u32, f64)]) -> f64 {
        self.groups(alive).into_iter().map(|(_, weight)| x_log_x(weight)).sum()
    }

    /// The groups of these with their weights.
    pub(super) fn groups(&self, alive: &[(u32, f64)]) -> Vec<(usize, f64)> {
        let group = |hypothesis: u32| self.group[hypothesis as usize];
        alive
            .chunk_by(|a, b| group(a.0) == group(b.0))
            .map(|part| (group(part[0].0), part.iter().map(|(_, weight)| weight).sum()))
            .collect()
    }

    /// All groups with weight, each with its weight.
    #[must_use]
    pub fn group_weights(&self) -> Vec<(usize, f64)> {
        self.groups(&self.alive())
    }

    /// Information that a test gives on the group, in bits times the weight of all: with W the weight of all, W_o of
    /// those with an outcome and W_g of a group, it is Σ over groups and outcomes of x·log x, less that over outcomes, less that
    /// over groups, plus that of W.
    pub(super) fn gain(
        &self,
        alive: &[(u32, f64)],
        total: f64,
        of_groups: f64,
        column: &Column,
        scratch: &mut Scratch,
    ) -> f64 {
        let Scratch { logs, by_class, of_group, touched, classes } = scratch;
        let mut gain = x_log_x(total) - of_groups;
        for group in alive.chunk_by(|a, b| self.group[a.0 as usize] == self.group[b.0 as usize]) {
            let mut add = |weight: f64, class: u16| {
                let at = usize::from(class);
                if at >= of_group.len() {
                    of_group.resize(at + 1, 0.0);
                    by_class.resize(at + 1, 0.0);
                }
                if of_group[at] == 0.0 {
                    touched.push(class);
                }
                of_group[at] += weight;
            };
            match column {
                Column::Certain(outcomes) => {
                    for &(hypothesis, weight) in group {
                        add(weight, outcomes[hypothesis as usize]);
                    }
                }
                Column::Chances(rows) => {
                    for &(hypothesis, weight) in group {
                        for &(share, class) in &rows[hypothesis as usize] {
                            add(weight * share, class);
                        }
                    }
                }
            }
            for class in touched.drain(..) {
                let at = usize::from(class);
                gain += logs.of(of_group[at]);
                if by_class[at] == 0.0 {
                    classes.push(class);
                }
                by_class[at] += of_group[at];
                of_group[at] = 0.0;
            }
        }
        for class in classes.drain(..) {
            let at = usize::from(class);
            gain -= logs.of(by_class[at]);
            by_class[at] = 0.0;
        }
        gain.max(0.0)
    }

    /// Those that are left after each outcome of a test, in the order of outcomes.
    pub(super) fn split(&self, alive: &[(u32, f64)], column: &Column) -> Vec<(u16, Alive)> {
        let mut parts: Vec<Alive> = vec![Vec::new(); column.classes()];
        for &(hypothesis, weight) in alive {
            for (share, class) in column.of(hypothesis as usize) {
                if share > 0.0 {
                    parts[usize::from(class)].push((hypothesis, weight * share));
                }
            }
        }
        (0..).zip(parts).filter(|(_, part)| !part.is_empty()).collect()
    }
}
