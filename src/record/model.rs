//! What stands for the behaviour of the model in a record.

/// The hash of what two hundred jobs brought about, outcome by outcome; `tests/golden_bits.rs` works it out anew.
pub const OUTCOMES: &str = "9ba62329e7d20093f4e7ead3bbc6b2c5f5606f6815e4508388d6520c4fd7cce3";

/// The hash of how the same outcomes are written in a record, words and figures; `tests/golden_bits.rs` again.
pub const SHOWN: &str = "63340823eb0587fbf2bf115202610cce342a8f6fd06591366bbbca125fe50281";

/// The model's hash: it differs where the same acts on the same vehicle would be recorded differently, as far as two
/// hundred jobs over all scenarios of the shelf show that.
#[must_use]
pub fn model_hash() -> String {
    let mut hasher = blake3::Hasher::new();
    for part in ["probeworthy model\n", OUTCOMES, SHOWN] {
        hasher.update(part.as_bytes());
    }
    hasher.finalize().to_hex().to_string()
}
