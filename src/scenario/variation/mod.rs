//! A job's seed varies more than the fault: which cavity a wire sits in, colours, where along the loom a fault sits, and
//! how the customer puts it, so that an answer cannot be remembered.
//!
//! A variation is a number from 1 to [`Variation::COUNT`] that is drawn by the seed and kept in the record. It says next to
//! nothing of the seed: so many seeds share each number, whatever their fault, that who knows it knows no fault. A
//! scenario as its file has it is no variation.

mod cavities;
mod colours;
mod stations;

use std::sync::Arc;

use rand::Rng;
use rand_chacha::ChaCha8Rng;

use super::scenario_file::Scenario;
use crate::fault::{Purpose, below, stream};
use crate::vehicle::Manner;

/// What can be varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aspect {
    /// Which cavity of a connector each wire sits in.
    Cavities,
    /// Colours of wires.
    Colours,
    /// Where along the loom the pool's faults sit, and how long its stretches are.
    Stations,
    /// The customer's words.
    Words,
}

impl Aspect {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Cavities, Self::Colours, Self::Stations, Self::Words];

    /// A stream of draws for each, so that one that is fixed shifts none of the others.
    fn stream(self, variation: Variation) -> ChaCha8Rng {
        let step = match self {
            Self::Cavities => 1,
            Self::Colours => 2,
            Self::Stations => 3,
            Self::Words => 4,
        };
        stream(u64::from(variation.0), Purpose::Variation, step)
    }
}

/// One of the ways in which a scenario can be varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Variation(u16);

impl Variation {
    /// How many there are: few against the seeds, so that many seeds, and with them all faults, share each.
    pub const COUNT: u16 = 9999;

    /// The variation that a job of this seed has.
    #[must_use]
    pub fn of_seed(seed: u64) -> Self {
        let drawn = below(&mut stream(seed, Purpose::Variation, 0), u64::from(Self::COUNT));
        Self(u16::try_from(drawn).unwrap_or(0) + 1)
    }

    /// The variation of this number; `None` where there is none.
    #[must_use]
    pub fn numbered(number: u16) -> Option<Self> {
        (1..=Self::COUNT).contains(&number).then_some(Self(number))
    }

    /// Its number, from 1.
    #[must_use]
    pub fn number(self) -> u16 {
        self.0
    }
}

impl std::fmt::Display for Variation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// How a scenario has been varied, and what it was.
#[derive(Clone)]
pub struct Varied {
    /// The variation.
    pub variation: Variation,
    /// The scenario as its file has it.
    pub written: Scenario,
}

impl Scenario {
    /// The scenario as its file has it.
    #[must_use]
    pub fn written(&self) -> &Self {
        self.varied.as_ref().map_or(self, |varied| &varied.written)
    }

    /// Its variation; `None` where it is as its file has it.
    #[must_use]
    pub fn variation(&self) -> Option<Variation> {
        self.varied.as_ref().map(|varied| varied.variation)
    }

    /// The same with nothing left to vary: every job is as the file has it.
    #[must_use]
    pub fn all_fixed(&self) -> Self {
        Self { fixed: Aspect::ALL.to_vec(), ..self.written().clone() }
    }

    /// As a job of this seed has it. What has been varied already stays as it is.
    #[must_use]
    pub fn for_seed(&self, seed: u64) -> Self {
        if self.varied.is_some() { self.clone() } else { self.in_variation(Variation::of_seed(seed)) }
    }

    /// As this variation has it: the same circuits, faults and trials, with other numbers, colours, places and words.
    /// Where the file fixes all of these, as the file has it.
    #[must_use]
    pub fn in_variation(&self, variation: Variation) -> Self {
        let written = self.written();
        let free = |aspect: Aspect| !written.fixed.contains(&aspect);
        let mut scenario = written.clone();
        if !Aspect::ALL.into_iter().any(free) {
            return scenario;
        }
        // Colours first: which of them a standard gives is told by where wires end, not by cavities' numbers.
        if free(Aspect::Colours) {
            colours::vary(&mut scenario.vehicle, &mut Aspect::Colours.stream(variation));
        }
        if free(Aspect::Cavities) {
            cavities::vary(&mut scenario, &mut Aspect::Cavities.stream(variation));
        }
        if free(Aspect::Stations) {
            let mut chance = Aspect::Stations.stream(variation);
            stations::move_faults(&mut scenario, &mut chance);
            stations::stretch(&mut scenario.vehicle, &mut chance);
        }
        if free(Aspect::Words) {
            words(&mut scenario, &mut Aspect::Words.stream(variation));
        }
        scenario.varied = Some(Arc::new(Varied { variation, written: written.clone() }));
        scenario
    }
}

/// How the customer puts his complaint and his answers.
fn words(scenario: &mut Scenario, chance: &mut ChaCha8Rng) {
    let said = below(chance, scenario.other_words.len() as u64 + 1);
    let other = usize::try_from(said).ok().and_then(|said| said.checked_sub(1));
    if let Some(other) = other.and_then(|at| scenario.other_words.get(at)) {
        scenario.customer.clone_from(other);
    }
    scenario.vehicle.manner = Manner(chance.next_u64());
}

/// Puts a list in an order drawn by chance, each order equally likely (Fisher and Yates).
fn shuffle<T>(list: &mut [T], chance: &mut ChaCha8Rng) {
    for last in (1..list.len()).rev() {
        // At most `last`.
        let other = usize::try_from(below(chance, last as u64 + 1)).unwrap_or(last);
        list.swap(last, other);
    }
}
