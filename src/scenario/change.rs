//! What an instructor changes of a scenario's file by hand in a form, without losing what else it says.

use super::Aspect;
use crate::bench::KitItem;
use crate::written::Step::{Field, Item};
use crate::written::{with_item, with_value, without_item};

/// Names of the marks' weights in a file, in the order of `Weights`.
pub const WEIGHT_NAMES: [&str; 6] = ["diagnosis", "reasoning", "parts", "time", "proof", "safety"];

/// One change.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The title.
    Title(String),
    /// What the customer says.
    Customer(String),
    /// What he may say instead, in other jobs of the scenario.
    OtherWords(Vec<String>),
    /// What stays as it is written in every job.
    Fixed(Vec<Aspect>),
    /// Minutes that a good technician takes.
    ParMinutes(f64),
    /// Whether the vehicle stands locked.
    Locked(bool),
    /// How warm it is, °C.
    Celsius(f64),
    /// Whether the vehicle's rear is wet.
    Wet(bool),
    /// Whether the coach may be asked.
    Coaching(bool),
    /// Instruments that may not be used.
    Without(Vec<KitItem>),
    /// Minutes on the job's clock after which it can only be handed in.
    MostMinutes(Option<f64>),
    /// A weight of the marks, by its place in [`WEIGHT_NAMES`].
    Marks(usize, f64),
    /// How likely a fault of the pool is, by its place there.
    Weight(usize, u32),
    /// One more entry of the pool, as it is written.
    Add(String),
    /// An entry of the pool is taken out.
    TakeOut(usize),
}

impl Change {
    /// A scenario's text with this change. Comments and layout stay as they are. `None` where the text cannot be read, or
    /// has no such thing.
    #[must_use]
    pub fn of(&self, text: &str) -> Option<String> {
        let set = |field, value: String| with_value(text, &[Field(field)], &value);
        match self {
            Self::Title(title) => set("title", quoted(title)),
            Self::Customer(words) => set("customer", quoted(words)),
            Self::OtherWords(all) => {
                let all: Vec<String> = all.iter().map(|words| quoted(words)).collect();
                set("other_words", format!("[{}]", all.join(", ")))
            }
            Self::Fixed(aspects) => {
                let names: Vec<String> = aspects.iter().map(|aspect| format!("{aspect:?}")).collect();
                set("fixed", format!("[{}]", names.join(", ")))
            }
            Self::ParMinutes(minutes) => set("par_minutes", minutes.to_string()),
            Self::Locked(locked) => set("locked", locked.to_string()),
            Self::Celsius(celsius) => set("celsius", celsius.to_string()),
            Self::Wet(wet) => set("wet", wet.to_string()),
            Self::Coaching(coaching) => set("coaching", coaching.to_string()),
            Self::Without(items) => {
                let names: Vec<String> = items.iter().map(|item| format!("{item:?}")).collect();
                set("without", format!("[{}]", names.join(", ")))
            }
            Self::MostMinutes(minutes) => {
                set("most_minutes", minutes.map_or_else(|| "None".to_owned(), |most| most.to_string()))
            }
            Self::Marks(at, weight) => {
                with_value(text, &[Field("marks"), Field(WEIGHT_NAMES.get(*at)?)], &weight.to_string())
            }
            Self::Weight(at, weight) => {
                with_value(text, &[Field("faults"), Item(*at), Field("weight")], &weight.to_string())
            }
            Self::Add(entry) => with_item(text, &[Field("faults")], entry.trim().trim_end_matches(',')),
            Self::TakeOut(at) => without_item(text, &[Field("faults")], *at),
        }
    }
}

/// A text as RON.
fn quoted(text: &str) -> String {
    // A text has no form that could not be written.
    ron::to_string(text).unwrap_or_default()
}
