//! Figures of a sample of jobs, each of which counts by its weight.

use crate::fault::{Purpose, below, stream};

/// The figures of some jobs, and how much each counts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sample {
    /// By job, the figure and its weight.
    pub jobs: Vec<(f64, u64)>,
}

impl Sample {
    fn whole(&self) -> f64 {
        self.jobs.iter().map(|(_, weight)| *weight as f64).sum()
    }

    /// n/(n − 1), by which the spread of a sample falls short of that of what it was drawn from.
    fn correction(&self) -> f64 {
        let n = self.jobs.len() as f64;
        n / (n - 1.0)
    }

    /// The mean, Σwx/Σw.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.jobs.iter().map(|(figure, weight)| figure * *weight as f64).sum::<f64>() / self.whole()
    }

    /// The variance, Σw(x − m)²/Σw · n/(n − 1); not a number below two jobs.
    #[must_use]
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        let squares =
            self.jobs.iter().map(|(figure, weight)| *weight as f64 * (figure - mean) * (figure - mean));
        squares.sum::<f64>() / self.whole() * self.correction()
    }

    /// The standard error of the mean, √(Σw²(x − m)² · n/(n − 1))/Σw, as for a mean of ratios (Cochran, Sampling Techniques,
    /// 1977, from memory); not a number below two jobs.
    #[must_use]
    pub fn standard_error(&self) -> f64 {
        let mean = self.mean();
        let term = |(figure, weight): &(f64, u64)| {
            let off = *weight as f64 * (figure - mean);
            off * off
        };
        (self.jobs.iter().map(term).sum::<f64>() * self.correction()).sqrt() / self.whole()
    }

    /// One of the jobs, drawn by weight.
    fn drawn(&self, draws: &mut rand_chacha::ChaCha8Rng) -> f64 {
        let total: u64 = self.jobs.iter().map(|(_, weight)| weight).sum();
        let mut ticket = below(draws, total.max(1));
        for (figure, weight) in &self.jobs {
            if ticket < *weight {
                return *figure;
            }
            ticket -= weight;
        }
        f64::NAN
    }
}

/// Cohen's d: by how many standard deviations, pooled over both, the second is above the first. Infinite where neither
/// has any spread and they differ; 0 where they do not.
#[must_use]
pub fn effect_size(first: &Sample, second: &Sample) -> f64 {
    let (n, m) = (first.jobs.len() as f64, second.jobs.len() as f64);
    let pooled = ((n - 1.0) * first.variance() + (m - 1.0) * second.variance()) / (n + m - 2.0);
    let apart = second.mean() - first.mean();
    if apart == 0.0 { 0.0 } else { apart / pooled.sqrt() }
}

/// Of so many pairs of sets, each of so many jobs drawn by weight, the share in which the second's mean is above the
/// first's.
#[must_use]
pub fn ranked_rightly(first: &Sample, second: &Sample, jobs: usize, sets: usize, seed: u64) -> f64 {
    if first.jobs.is_empty() || second.jobs.is_empty() || sets == 0 {
        return 0.0;
    }
    let right = (0..sets).filter(|&set| {
        let mut draws = stream(seed, Purpose::Sets, set as u64);
        let mut sum = |of: &Sample| (0..jobs).map(|_| of.drawn(&mut draws)).sum::<f64>();
        let below = sum(first);
        sum(second) > below
    });
    right.count() as f64 / sets as f64
}
