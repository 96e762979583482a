//! What everybody may read of a paper.

use serde::{Deserialize, Serialize};

use super::seal::Hardness;
use crate::bench::KitItem;
use crate::scenario::{Forbidden, Scenario, Variation};

/// Whether all candidates get the same draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Seeds {
    /// One for all.
    Same,
    /// One each, of equal difficulty.
    Each,
}

/// A job of a paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperScenario {
    /// Its name, or its file.
    pub scenario: String,
    /// Hash of the parsed scenario and vehicle.
    pub scenario_hash: String,
}

/// The terms of a paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Terms {
    /// What it is called.
    pub title: String,
    /// Version of the program that made it.
    pub program: String,
    /// The jobs, in order.
    pub jobs: Vec<PaperScenario>,
    /// Whether all candidates get the same draw.
    pub seeds: Seeds,
    /// Real minutes for each job, from when it is begun; none: as long as it takes.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit_minutes: Option<u32>,
    /// How often each job may be begun.
    pub attempts: u8,
    /// Each draw varies the scenario too; otherwise, as in papers of old, all is as the file has it.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub varied: bool,
    /// The instruments that may be used.
    pub instruments: Vec<KitItem>,
    /// Makes the key of this paper unlike that of any other from the same passphrase.
    pub salt: String,
    /// How hard it is to try a passphrase.
    pub hardness: Hardness,
}

impl Terms {
    /// The paper's own number: the hash of its terms, which hold a salt drawn by chance.
    #[must_use]
    pub fn id(&self) -> String {
        let text = serde_json::to_string(self).unwrap_or_default();
        blake3::hash(format!("probeworthy paper terms\n{text}").as_bytes()).to_hex().to_string()
    }

    /// A scenario as these terms let it be done: without the coach, with some instruments.
    #[must_use]
    pub fn applied_to(&self, mut scenario: Scenario) -> Scenario {
        let instruments = KitItem::ALL.into_iter().filter(|item| !self.instruments.contains(item)).collect();
        scenario.forbidden = Forbidden { coach: true, instruments };
        scenario
    }

    /// The variation in which a scenario is played with this seed, if it is varied at all.
    #[must_use]
    pub fn variation(&self, scenario: &Scenario, seed: u64) -> Option<Variation> {
        self.varied(scenario, seed).variation()
    }

    /// A scenario as a job of this seed has it.
    #[must_use]
    pub fn varied(&self, scenario: &Scenario, seed: u64) -> Scenario {
        if self.varied { scenario.for_seed(seed) } else { scenario.clone() }
    }

    /// When the time of a job is up that was begun then, in milliseconds.
    #[must_use]
    pub fn ends_ms(&self, begun_ms: u64) -> Option<u64> {
        self.limit_minutes.map(|minutes| begun_ms.saturating_add(u64::from(minutes) * 60_000))
    }
}

/// A job of a paper, as its record names it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperJob {
    /// The terms of the paper.
    pub terms: Terms,
    /// Who does it.
    pub candidate: String,
    /// Which of its jobs, from 1.
    pub job: usize,
    /// Which attempt, from 1.
    pub attempt: u8,
}

impl PaperJob {
    /// What a sealed draw is bound to: it opens for this paper, candidate, job and attempt only.
    #[must_use]
    pub fn bound_to(&self) -> Vec<u8> {
        let Self { terms, candidate, job, attempt } = self;
        format!("draw {} {job} {attempt} {candidate}", terms.id()).into_bytes()
    }
}
