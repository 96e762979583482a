//! The draw of a practice job, masked: nobody reads the fault off a file by accident, and more is not claimed.

use crate::job::Choice;
use crate::paper::{from_hex, hex};

/// Seed and choice, masked by a stream that anybody with this program can make again.
pub(super) fn obscure(hash: &str, seed: u64, choice: &Choice) -> String {
    let named = match choice {
        Choice::Drawn => "",
        Choice::Named(id) => id,
    };
    let mut bytes = seed.to_le_bytes().to_vec();
    bytes.extend(named.as_bytes());
    mask(hash, &mut bytes);
    hex(&bytes)
}

pub(super) fn reveal(hash: &str, text: &str) -> Option<(u64, Choice)> {
    let mut bytes = from_hex(text)?;
    mask(hash, &mut bytes);
    let (seed, named) = bytes.split_first_chunk::<8>()?;
    let named = std::str::from_utf8(named).ok()?;
    let choice = if named.is_empty() { Choice::Drawn } else { Choice::Named(named.to_owned()) };
    Some((u64::from_le_bytes(*seed), choice))
}

fn mask(hash: &str, bytes: &mut [u8]) {
    let mut stream = vec![0; bytes.len()];
    blake3::Hasher::new_derive_key("probeworthy record, draw")
        .update(hash.as_bytes())
        .finalize_xof()
        .fill(&mut stream);
    for (byte, mask) in bytes.iter_mut().zip(stream) {
        *byte ^= mask;
    }
}
