//! The key that signs records at the hand-in.
//!
//! It lies on the machine on which the job is done, so its owner can sign what he likes. What a good signature shows is
//! that the record has not been changed since by anybody without this key, and that records with the same key were
//! closed by the same user of the same machine, or by somebody to whom he gave it.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};

use super::line::{Seal, signed};
use crate::paper::{from_hex, hex, random};

/// What a key's file is called.
const FILE: &str = "signing-key";

/// A key that signs.
#[derive(Clone)]
pub struct Key(SigningKey);

/// No key is ever printed.
impl std::fmt::Debug for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Key")
    }
}

impl Key {
    /// The key that follows from a secret.
    #[must_use]
    pub fn from_secret(secret: [u8; 32]) -> Self {
        Self(SigningKey::from_bytes(&secret))
    }

    /// The user's key, which lies in this folder; it is made where there is none. Where it can neither be read nor be
    /// kept, it is one that nobody sees again.
    ///
    /// # Errors
    /// The system's error where it gives no randomness.
    pub fn of_user(folder: Option<&Path>) -> io::Result<Self> {
        let kept = |folder: &Path| -> Option<Self> {
            let text = fs::read_to_string(folder.join(FILE)).ok()?;
            Some(Self::from_secret(from_hex(text.trim_end())?.try_into().ok()?))
        };
        if let Some(key) = folder.and_then(kept) {
            return Ok(key);
        }
        let secret: [u8; 32] = random()?;
        if let Some(folder) = folder {
            // Two that make it at once: the last one stays, and each has signed with a key of its own.
            let _ = keep(folder, &secret);
        }
        Ok(Self::from_secret(secret))
    }

    /// The public half, as hexadecimal digits.
    #[must_use]
    pub fn public(&self) -> String {
        hex(self.0.verifying_key().as_bytes())
    }

    /// Signs the hash of a closing line.
    #[must_use]
    pub fn seal(&self, closing: &str) -> Seal {
        Seal { key: self.public(), signature: hex(&self.0.sign(&signed(closing)).to_bytes()), stamp: None }
    }
}

/// Writes a key whole or not at all, for its owner only.
fn keep(folder: &Path, secret: &[u8; 32]) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let part = folder.join(format!("{FILE}-{}", std::process::id()));
    let mut options = fs::OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(&part)?;
    file.write_all(format!("{}\n", hex(secret)).as_bytes())?;
    file.sync_all()?;
    fs::rename(&part, folder.join(FILE))
}

/// Whether a seal fits the hash of the closing line before it.
pub(super) fn fits(seal: &Seal, closing: &str) -> bool {
    let key = from_hex(&seal.key).and_then(|bytes| bytes.try_into().ok());
    let key = key.and_then(|bytes: [u8; 32]| VerifyingKey::from_bytes(&bytes).ok());
    let signature = from_hex(&seal.signature).and_then(|bytes| bytes.try_into().ok());
    let (Some(key), Some(signature)) = (key, signature) else { return false };
    key.verify_strict(&signed(closing), &Signature::from_bytes(&signature)).is_ok()
}
