//! How likely each hypothesis is after what has been observed: exact, in logarithms.

/// A hypothesis counts as still possible from this share of the likeliest on.
pub const POSSIBLE_SHARE: f64 = 0.01;

/// How likely each hypothesis is.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// By hypothesis, the natural logarithm of its weight; minus infinity for one that never had any.
    logs: Vec<f64>,
}

impl Posterior {
    /// From prior weights, which need not sum to 1; those that are not above 0 stay impossible.
    #[must_use]
    pub fn new(weights: &[f64]) -> Self {
        let log = |&weight: &f64| if weight > 0.0 { libm::log(weight) } else { f64::NEG_INFINITY };
        Self { logs: weights.iter().map(log).collect() }
    }

    /// Takes an observation in, by the probability that each hypothesis gives it. One that gives it none is held to the
    /// least number there is: nothing is ever ruled out by a rounding.
    pub fn observe(&mut self, likelihoods: &[f64]) {
        for (log, &likelihood) in self.logs.iter_mut().zip(likelihoods) {
            *log += libm::log(likelihood.max(f64::MIN_POSITIVE));
        }
    }

    /// The probabilities; all alike where nothing has any weight.
    #[must_use]
    pub fn probabilities(&self) -> Vec<f64> {
        let most = self.logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if most == f64::NEG_INFINITY {
            return vec![1.0 / self.logs.len().max(1) as f64; self.logs.len()];
        }
        let mut shares: Vec<f64> = self.logs.iter().map(|log| libm::exp(log - most)).collect();
        let total: f64 = shares.iter().sum();
        for share in &mut shares {
            *share /= total;
        }
        shares
    }

    /// What is still not known, in bits, when only the group of the true hypothesis matters.
    #[must_use]
    pub fn bits(&self, group: &[usize]) -> f64 {
        let mut sums = vec![0.0; group.iter().max().map_or(0, |most| most + 1)];
        for (share, &group) in self.probabilities().iter().zip(group) {
            sums[group] += share;
        }
        entropy_bits(&sums)
    }

    /// How many are still possible: at least [`POSSIBLE_SHARE`] as likely as the likeliest.
    #[must_use]
    pub fn possible(&self) -> usize {
        let most = self.logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = most + libm::log(POSSIBLE_SHARE);
        self.logs.iter().filter(|log| **log >= least).count()
    }
}

/// Entropy of weights that need not sum to 1, in bits.
#[must_use]
pub fn entropy_bits(weights: &[f64]) -> f64 {
    let total: f64 = weights.iter().sum();
    if total <= 0.0 {
        return 0.0;
    }
    let each: f64 = weights.iter().map(|&weight| x_log_x(weight)).sum();
    ((x_log_x(total) - each) / total).max(0.0)
}

/// x·log₂ x, and 0 at 0.
pub(super) fn x_log_x(x: f64) -> f64 {
    if x > 0.0 { x * libm::log2(x) } else { 0.0 }
}
