//! Bytes as text, and bytes by chance.

/// Bytes from the system's randomness.
pub(crate) fn random<const N: usize>() -> std::io::Result<[u8; N]> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|why| std::io::Error::other(why.to_string()))?;
    Ok(bytes)
}

/// A seed by chance.
///
/// # Errors
/// The system's error where it gives no randomness.
pub fn random_seed() -> std::io::Result<u64> {
    random().map(u64::from_le_bytes)
}

/// A salt by chance, as hexadecimal digits.
///
/// # Errors
/// The system's error where it gives no randomness.
pub fn random_salt() -> std::io::Result<String> {
    random::<16>().map(|bytes| hex(&bytes))
}

/// Lower-case hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Reads hexadecimal digits, lower-case only: each value has one way to be written.
pub(crate) fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digits = text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    if !digits || !text.len().is_multiple_of(2) {
        return None;
    }
    (0..text.len()).step_by(2).map(|at| u8::from_str_radix(&text[at..at + 2], 16).ok()).collect()
}
