//! What is left to chance in a step.

use crate::fault::SeededChance;

/// Decides what chance decides: drawn from a job's seed, or taken as given where possibilities are enumerated.
pub trait Chance {
    /// Whether something of this probability happens.
    fn happens(&mut self, probability: f64) -> bool;
    /// A fraction of a cycle, from 0 to just below 1.
    fn fraction(&mut self) -> f64;
}

impl Chance for SeededChance {
    fn happens(&mut self, probability: f64) -> bool {
        SeededChance::fraction(self) < probability
    }

    fn fraction(&mut self) -> f64 {
        SeededChance::fraction(self)
    }
}

/// Everything that can happen does, and cycles begin at their beginning.
#[derive(Clone, Copy, Debug, Default)]
pub struct Certain;

impl Chance for Certain {
    fn happens(&mut self, probability: f64) -> bool {
        probability > 0.0
    }

    fn fraction(&mut self) -> f64 {
        0.0
    }
}
