//! What stands for the behaviour of the model in a record.

/// The hash of what two hundred jobs brought about, outcome by outcome; `tests/record/golden_bits.rs` works it out anew.
pub const OUTCOMES: &str = "a7e09be823f77996b01382dc5e674e58f48c615fe5795ef9135bc7743ce116c0";

/// The hash of how the same outcomes are written in a record, words and figures; `tests/record/golden_bits.rs` again.
pub const SHOWN: &str = "dcac6fc4545421d35e9401acde80d273d133744d881d32d174625667c87d864c";

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
