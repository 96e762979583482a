//! What a step has shown, as it stands in a record: words, and figures as figures.

use serde::{Deserialize, Serialize};

use crate::bench::{Display, Outcome};
use crate::vehicle::Vehicle;
use crate::words;

/// What a step has shown. What there was nothing of is left out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Shown {
    /// What it cost in parts and material, in whole units of money.
    #[serde(skip_serializing_if = "is_nothing")]
    pub cost: u32,
    /// Why it could not be done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refused: Option<String>,
    /// What was heard.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub heard: Vec<String>,
    /// What was seen.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub seen: Vec<String>,
    /// What the meter showed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meter: Option<Figure>,
    /// What the clamp showed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp: Option<Figure>,
    /// What the recorder took down.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recorder: Option<String>,
    /// Cautions that the act called for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// Those that it went against.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub breaches: Vec<String>,
}

/// What an instrument showed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// All of it, in words: what the display showed meanwhile, what it holds, and its tone.
    pub text: String,
    /// The figure that stands on the display, in the unit itself; null is over range.
    pub value: Option<f64>,
    /// The unit: V, A or Ω.
    pub unit: String,
}

fn is_nothing(cost: &u32) -> bool {
    *cost == 0
}

impl Figure {
    fn of(text: String, now: Display) -> Self {
        Self { text, value: now.value, unit: now.unit.sign().to_owned() }
    }
}

impl Shown {
    /// What an outcome shows.
    #[must_use]
    pub fn of(vehicle: &Vehicle, outcome: &Outcome) -> Self {
        let cautions = |of: &[crate::bench::Caution]| {
            of.iter().map(|caution| words::caution(words::Texts::english(), *caution).to_owned()).collect()
        };
        Self {
            cost: outcome.cost,
            refused: outcome
                .refused
                .map(|why| words::refusal_with_names(words::Texts::english(), vehicle, why)),
            heard: outcome
                .heard
                .iter()
                .map(|heard| words::heard(words::Texts::english(), vehicle, heard))
                .collect(),
            seen: outcome
                .seen
                .iter()
                .map(|seen| words::seen(words::Texts::english(), vehicle, seen))
                .collect(),
            meter: outcome
                .reading
                .as_ref()
                .map(|one| Figure::of(words::reading(words::Texts::english(), one), one.now)),
            clamp: outcome
                .clamp
                .as_ref()
                .map(|one| Figure::of(words::clamp_reading(words::Texts::english(), one), one.now)),
            recorder: outcome.recording.as_ref().map(|one| words::recording(words::Texts::english(), one)),
            cautions: cautions(&outcome.cautions),
            breaches: cautions(&outcome.breaches),
        }
    }
}
