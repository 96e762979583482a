//! The lines of a record, as they are written.

use serde::{Deserialize, Serialize};

use super::closing::Closing;
use super::shown::Shown;
use crate::paper::PaperJob;

/// The version of the format that this program writes.
pub const FORMAT: u32 = 3;
/// The oldest version that is still read: without readings, chain, times and signature.
pub(super) const UNCHAINED: u32 = 2;

/// The first line of a record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Header {
    /// Version of the format: 3, or 2 in an old record.
    pub probeworthy_record: u32,
    /// The record's own number, drawn by chance: two files with the same are copies.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub record: String,
    /// The scenario, as it was named on the command line.
    pub scenario: String,
    /// Hash of the parsed scenario and vehicle.
    pub scenario_hash: String,
    /// Version of the program.
    pub program: String,
    /// Hash of the model's behaviour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub model: String,
    /// The draw: obscured, or in a paper's job sealed.
    pub draw: String,
    /// How the scenario was varied; left out where it was played as its file has it, as in all records of old.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variation: Option<HeadVariation>,
    /// Whose job of which paper it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<PaperJob>,
    /// Envelope: when the job was begun.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub at: String,
}

/// How the scenario of a record was varied.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeadVariation {
    /// The variation's number.
    pub number: u16,
    /// Hash of the scenario and vehicle as it makes them.
    pub scenario_hash: String,
}

/// A step: it follows from scenario, draw and acts, to the byte.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Its number, from 1.
    pub number: usize,
    /// Minutes on the job's clock afterwards.
    pub minutes: f64,
    /// The act, as it is typed at the desk.
    pub act: String,
    /// What it showed.
    pub shown: Shown,
}

/// The last line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seal {
    /// The public key, as hexadecimal digits.
    pub key: String,
    /// Ed25519 signature of [`signed`] over the hash of the closing line.
    pub signature: String,
    /// In a paper's job: a stamp with the paper's key over the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stamp: Option<String>,
}

/// A line after the first, as it is written: exactly one of step, closing and seal.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Line {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) step: Option<Step>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) closing: Option<Closing>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) seal: Option<Seal>,
    /// Envelope: when it was written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) at: Option<String>,
    /// Envelope: the hash of the line before.
    pub(super) previous: String,
}

/// An act in a record of format 2.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct UnchainedLine {
    pub(super) step: usize,
    pub(super) minutes: f64,
    pub(super) action: String,
}

/// The hash by which the next line holds on to this one: BLAKE3 of its bytes, without the end of the line.
#[must_use]
pub fn link(line: &str) -> String {
    blake3::hash(line.as_bytes()).to_hex().to_string()
}

/// What is signed: these words, and the hash of the closing line.
#[must_use]
pub fn signed(closing: &str) -> Vec<u8> {
    format!("probeworthy record {FORMAT}, closed: {closing}").into_bytes()
}
