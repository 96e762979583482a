//! Seeded draws: which fault a job has, and how its chances fall.
//!
//! Every draw has a stream of its own, keyed by the seed, what it is for, and the step. So the same seed and the same
//! actions give the same job, and a draw added later for one purpose does not shift those of another.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::placed::PlacedFault;

/// What a draw is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Which fault of the pool.
    Fault,
    /// What the instruments are off.
    MeterError,
    /// How chances fall in a step.
    Step,
    /// What a machine learner does by chance.
    Learner,
    /// Which jobs make up a set of jobs.
    Sets,
    /// How a vehicle varies: it tells nothing of the fault.
    Variation,
}

impl Purpose {
    fn key(self) -> u64 {
        match self {
            Self::Fault => 1,
            Self::MeterError => 2,
            Self::Step => 3,
            Self::Learner => 4,
            Self::Sets => 5,
            Self::Variation => 6,
        }
    }
}

/// The stream of draws for one purpose and step of a job.
#[must_use]
pub fn stream(seed: u64, purpose: Purpose, step: u64) -> ChaCha8Rng {
    let mut key = [0_u8; 32];
    key[..8].copy_from_slice(&seed.to_le_bytes());
    key[8..16].copy_from_slice(&purpose.key().to_le_bytes());
    key[16..24].copy_from_slice(&step.to_le_bytes());
    ChaCha8Rng::from_seed(key)
}

/// Draws one of the pool's faults by weight; `None` only from an empty pool or one without any weight.
#[must_use]
pub fn draw(pool: &[PlacedFault], seed: u64) -> Option<&PlacedFault> {
    let total: u64 = pool.iter().map(|fault| fault.weight).sum();
    if total == 0 {
        return None;
    }
    let mut ticket = below(&mut stream(seed, Purpose::Fault, 0), total);
    pool.iter().find(|fault| {
        let hit = ticket < fault.weight;
        ticket = ticket.saturating_sub(fault.weight);
        hit
    })
}

/// A whole number below `limit`, each equally likely: draws from the ragged end are thrown away.
pub fn below(rng: &mut ChaCha8Rng, limit: u64) -> u64 {
    let whole = u64::MAX - u64::MAX % limit;
    loop {
        let drawn = rng.next_u64();
        if drawn < whole {
            return drawn % limit;
        }
    }
}

/// Chances of one step, as the seed has them.
#[derive(Clone, Debug)]
pub struct SeededChance {
    rng: ChaCha8Rng,
}

impl SeededChance {
    /// The chances of `step`.
    #[must_use]
    pub fn new(seed: u64, step: u64) -> Self {
        Self { rng: stream(seed, Purpose::Step, step) }
    }

    /// A number from 0 to just below 1, from the generator's upper 53 bits.
    pub fn fraction(&mut self) -> f64 {
        const STEP: f64 = 1.0 / (1_u64 << 53) as f64;
        (self.rng.next_u64() >> 11) as f64 * STEP
    }
}
