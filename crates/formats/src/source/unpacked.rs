use std::io::{self, Chain, Cursor, ErrorKind, Read};

use flate2::read::MultiGzDecoder;

use super::hashing::HashingReader;

type Raw<R> = Chain<Cursor<Vec<u8>>, HashingReader<R>>;

/// Bytes of a log, unpacked if they came packed with gzip.
pub(super) enum Unpacked<R> {
    Plain(Raw<R>),
    Gzip(Box<MultiGzDecoder<Raw<R>>>),
}

/// The first two bytes of a gzip member (RFC 1952, 2.3.1).
const GZIP: [u8; 2] = [0x1f, 0x8b];

impl<R: Read> Unpacked<R> {
    /// Looks at the first two bytes.
    pub(super) fn new(input: R, hash_wanted: bool) -> io::Result<Self> {
        let mut hashing = HashingReader::new(input, hash_wanted);
        let mut first = Vec::with_capacity(GZIP.len());
        while first.len() < GZIP.len() {
            let mut byte = [0];
            match hashing.read(&mut byte) {
                Ok(0) => break,
                Ok(_) => first.push(byte[0]),
                Err(error) if error.kind() == ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
        let is_packed = first == GZIP;
        let raw = Cursor::new(first).chain(hashing);
        Ok(if is_packed { Self::Gzip(Box::new(MultiGzDecoder::new(raw))) } else { Self::Plain(raw) })
    }

    pub(super) fn is_packed(&self) -> bool {
        matches!(self, Self::Gzip(_))
    }

    pub(super) fn sha256(&self) -> Option<String> {
        match self {
            Self::Plain(raw) => raw.get_ref().1.sha256(),
            Self::Gzip(unpacker) => unpacker.get_ref().get_ref().1.sha256(),
        }
    }
}

impl<R: Read> Read for Unpacked<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        match self {
            Self::Plain(raw) => raw.read(into),
            Self::Gzip(unpacker) => unpacker.read(into),
        }
    }
}
