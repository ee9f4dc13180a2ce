use std::io::{self, Read};

use sha2::{Digest, Sha256};

const DIGITS: &[u8; 16] = b"0123456789abcdef";

/// Computes the SHA-256 of the bytes that pass.
pub(super) struct HashingReader<R> {
    inner: R,
    /// None if nobody wants it.
    hash: Option<Sha256>,
    ended: bool,
}

impl<R: Read> HashingReader<R> {
    pub(super) fn new(inner: R, wanted: bool) -> Self {
        Self { inner, hash: wanted.then(Sha256::new), ended: false }
    }

    /// The hash of everything in lower-case hexadecimal; none before the end of the input.
    pub(super) fn sha256(&self) -> Option<String> {
        let hash = self.hash.as_ref().filter(|_| self.ended)?;
        let digit = |nibble: u8| char::from(DIGITS[usize::from(nibble & 15)]);
        Some(hash.clone().finalize().iter().flat_map(|byte| [digit(byte >> 4), digit(*byte)]).collect())
    }
}

impl<R: Read> Read for HashingReader<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(into)?;
        if read == 0 && !into.is_empty() {
            self.ended = true;
        }
        // a reader that says it read more than there was room for breaks its contract; `get` does not panic on it
        if let (Some(hash), Some(bytes)) = (&mut self.hash, into.get(..read)) {
            hash.update(bytes);
        }
        Ok(read)
    }
}
