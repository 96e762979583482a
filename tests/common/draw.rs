//! Seeded draws for random circuits.
#![allow(dead_code, reason = "each test file uses what it needs")]

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Draws: the same for the same seed, on every machine.
pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    pub(crate) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    pub(crate) fn below(&mut self, limit: usize) -> usize {
        (self.0.next_u64() % limit as u64) as usize
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From 10^`low` to 10^`high`, each decade as likely as any other.
    pub(crate) fn decades(&mut self, low: f64, high: f64) -> f64 {
        libm::exp10(self.between(low, high))
    }

    pub(crate) fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }
}
