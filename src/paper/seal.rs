//! Sealing: XChaCha20-Poly1305 under a key that Argon2id makes of a passphrase.

use argon2::{Algorithm, Argon2, Params, Version};
use chacha20poly1305::aead::{Aead, KeyInit, Payload};
use chacha20poly1305::{XChaCha20Poly1305, XNonce};
use serde::{Deserialize, Serialize};

use super::bytes::{from_hex, hex, random};

/// Bytes of a nonce: so many that they may be drawn by chance.
const NONCE: usize = 24;

/// How hard it is to try a passphrase: Argon2id's parameters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hardness {
    /// Memory, in KiB.
    pub memory_kib: u32,
    /// Passes over it.
    pub passes: u32,
    /// Lanes.
    pub lanes: u32,
}

impl Hardness {
    /// The second recommended option of RFC 9106, section 4.
    pub const RECOMMENDED: Self = Self { memory_kib: 65_536, passes: 3, lanes: 4 };
    /// The most that a file may ask for: it is not known yet who wrote it.
    const MOST: Self = Self { memory_kib: 1_048_576, passes: 16, lanes: 16 };
}

/// The key of a paper.
#[derive(Clone)]
pub struct PaperKey {
    draws: [u8; 32],
    records: [u8; 32],
}

/// No key is ever printed.
impl std::fmt::Debug for PaperKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("PaperKey")
    }
}

impl PaperKey {
    /// The key that a passphrase makes with this salt. `None` where the salt is none, or the hardness out of all bounds.
    #[must_use]
    pub fn of(passphrase: &str, salt: &str, hardness: Hardness) -> Option<Self> {
        let Hardness { memory_kib, passes, lanes } = hardness;
        let most = Hardness::MOST;
        if memory_kib > most.memory_kib || passes > most.passes || lanes > most.lanes {
            return None;
        }
        let salt = from_hex(salt).filter(|salt| salt.len() >= 16)?;
        let parameters = Params::new(memory_kib, passes, lanes, Some(32)).ok()?;
        let mut whole = [0; 32];
        Argon2::new(Algorithm::Argon2id, Version::V0x13, parameters)
            .hash_password_into(passphrase.as_bytes(), &salt, &mut whole)
            .ok()?;
        Some(Self {
            draws: blake3::derive_key("probeworthy paper, what is sealed", &whole),
            records: blake3::derive_key("probeworthy paper, what is stamped", &whole),
        })
    }

    /// Seals something; it opens only together with what it is bound to.
    ///
    /// # Errors
    /// The system's error where it gives no randomness.
    pub fn seal(&self, content: &[u8], bound_to: &[u8]) -> std::io::Result<String> {
        let nonce: [u8; NONCE] = random()?;
        let sealed = XChaCha20Poly1305::new(&self.draws.into())
            .encrypt(&XNonce::from(nonce), Payload { msg: content, aad: bound_to })
            .map_err(|_| std::io::Error::other("it cannot be sealed"))?;
        Ok(hex(&[&nonce[..], &sealed].concat()))
    }

    /// Opens what was sealed; `None` where the key, what it is bound to or a single bit is another.
    #[must_use]
    pub fn open(&self, sealed: &str, bound_to: &[u8]) -> Option<Vec<u8>> {
        let bytes = from_hex(sealed)?;
        let (nonce, sealed) = bytes.split_first_chunk::<NONCE>()?;
        XChaCha20Poly1305::new(&self.draws.into())
            .decrypt(&XNonce::from(*nonce), Payload { msg: sealed, aad: bound_to })
            .ok()
    }

    /// A stamp that only somebody with this key can make (BLAKE3 with a key).
    #[must_use]
    pub fn stamp(&self, content: &[u8]) -> String {
        blake3::keyed_hash(&self.records, content).to_hex().to_string()
    }

    /// Whether a stamp fits.
    #[must_use]
    pub fn stamped(&self, content: &[u8], stamp: &str) -> bool {
        // Digits have one way to be written, and hashes compare in constant time.
        let stamp = from_hex(stamp).and_then(|bytes| bytes.try_into().ok());
        stamp.is_some_and(|stamp: [u8; 32]| {
            blake3::keyed_hash(&self.records, content) == blake3::Hash::from_bytes(stamp)
        })
    }
}
