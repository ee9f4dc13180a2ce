//! Bytes of a log: hashed as they come, unpacked, cut into lines and tokens, with their places.

use std::io::{self, BufRead, Chain, Cursor, ErrorKind, Read};
use std::ops::Range;

use flate2::read::MultiGzDecoder;
use sha2::{Digest, Sha256};

use crate::ReadLogErrorKind;

/// Bytes that are read at once.
const BLOCK_BYTES: usize = 64 * 1024;
/// The most bytes of one tag, comment or text of XML.
const MOST_TOKEN_BYTES: u64 = 1024 * 1024;
/// The most bytes of one line; the rest of a longer one is passed over.
const MOST_LINE_BYTES: usize = 64 * 1024;

/// Why there are no more bytes, with the place it was met at.
#[derive(Debug)]
pub(crate) struct Fault {
    pub(crate) line: u64,
    pub(crate) byte: u64,
    pub(crate) kind: ReadLogErrorKind,
}

/// Unpacked bytes of a log in blocks, with the place of the token or line that is being read.
pub(crate) struct Source<R> {
    input: Unpacked<R>,
    block: Box<[u8]>,
    /// The part of the block that is still to be read.
    unread: Range<usize>,
    /// Where in the log the block begins.
    block_at: u64,
    /// Line feeds were counted up to this byte of the block.
    counted: usize,
    /// Line feeds before `counted`.
    line_feeds: u64,
    token_at: u64,
    /// Line of the token, once it had to be worked out.
    token_line: Option<u64>,
    /// A line that does not lie in one block.
    spill: Vec<u8>,
    ended: bool,
    /// The line taken last has no line feed behind it.
    line_has_no_end: bool,
    limit_bytes: Option<u64>,
    fault: Option<ReadLogErrorKind>,
    /// Bytes beyond ASCII are read as `?`.
    is_ascii_only: bool,
}

/// Where a line lies.
#[derive(Debug, Clone)]
pub(crate) enum LineSpan {
    Block(Range<usize>),
    Spill,
    /// Longer than any line of a log.
    TooLong,
}

impl<R: Read> Source<R> {
    /// Looks at the first bytes to see whether they are packed.
    pub(crate) fn new(input: R, hash_wanted: bool, limit_bytes: Option<u64>) -> Result<Self, Fault> {
        let input = Unpacked::new(input, hash_wanted).map_err(|error| Fault {
            line: 1,
            byte: 0,
            kind: ReadLogErrorKind::Unreadable(error),
        })?;
        Ok(Self {
            input,
            block: vec![0; BLOCK_BYTES].into_boxed_slice(),
            unread: 0..0,
            block_at: 0,
            counted: 0,
            line_feeds: 0,
            token_at: 0,
            token_line: None,
            spill: Vec::new(),
            ended: false,
            line_has_no_end: false,
            limit_bytes,
            fault: None,
            is_ascii_only: false,
        })
    }

    pub(crate) fn sha256(&self) -> Option<String> {
        self.input.sha256()
    }

    /// Reads bytes beyond ASCII as `?` from here on.
    pub(crate) fn read_ascii_only(&mut self) {
        self.is_ascii_only = true;
        blank_beyond_ascii(&mut self.block[self.unread.clone()]);
    }

    /// Fills the first block as far as the input goes, and shows it without using it up.
    pub(crate) fn peek(&mut self) -> Result<&[u8], Fault> {
        while !self.ended && self.unread.end < BLOCK_BYTES {
            self.more().map_err(|kind| self.fault_here(kind))?;
        }
        Ok(&self.block[self.unread.clone()])
    }

    /// What of the block is still to be read.
    #[inline]
    pub(crate) fn unread(&self) -> &[u8] {
        &self.block[self.unread.clone()]
    }

    /// Passes over bytes that were peeked at.
    #[inline]
    pub(crate) fn skip(&mut self, bytes: usize) {
        self.unread.start = (self.unread.start + bytes).min(self.unread.end);
    }

    /// Passes over bytes in which so many line feeds were counted.
    #[inline]
    pub(crate) fn skip_counted(&mut self, bytes: usize, line_feeds: u64) {
        if self.counted == self.unread.start {
            self.counted += bytes;
            self.line_feeds += line_feeds;
        }
        self.skip(bytes);
    }

    fn offset(&self) -> u64 {
        self.block_at + self.unread.start as u64
    }

    /// Marks the beginning of a token or line.
    #[inline]
    pub(crate) fn begin_token(&mut self) {
        self.token_at = self.offset();
        self.token_line = None;
    }

    /// Byte of the log at which the token begins.
    pub(crate) fn token_byte(&self) -> u64 {
        self.token_at
    }

    /// Line of the log on which the token begins.
    pub(crate) fn token_line(&mut self) -> u64 {
        if let Some(line) = self.token_line {
            return line;
        }
        // the token begins in this block, or `refill` would have set the line
        let at = usize::try_from(self.token_at - self.block_at).unwrap_or(self.counted);
        self.count_to(at);
        let line = self.line_feeds + 1;
        self.token_line = Some(line);
        line
    }

    fn count_to(&mut self, at: usize) {
        if let Some(piece) = self.block.get(self.counted..at) {
            self.line_feeds += memchr::memchr_iter(b'\n', piece).count() as u64;
            self.counted = at;
        }
    }

    /// The fault at the beginning of the token.
    pub(crate) fn fault_here(&mut self, kind: ReadLogErrorKind) -> Fault {
        let line = self.token_line();
        Fault { line, byte: self.token_at, kind }
    }

    /// Why the last read failed, if it was not the reader's fault.
    pub(crate) fn take_fault(&mut self) -> Option<ReadLogErrorKind> {
        self.fault.take()
    }

    /// Takes the next line without its end; none at the end of the log.
    pub(crate) fn next_line(&mut self) -> Result<Option<LineSpan>, Fault> {
        if self.unread.is_empty() && self.ended {
            return Ok(None);
        }
        self.begin_token();
        self.spill.clear();
        let mut is_too_long = false;
        loop {
            if let Some(length) = memchr::memchr(b'\n', &self.block[self.unread.clone()]) {
                let line = self.unread.start..self.unread.start + length;
                return Ok(Some(self.finish_line(line, is_too_long)));
            }
            let rest = self.unread.clone();
            is_too_long |= self.spill.len() + rest.len() > MOST_LINE_BYTES;
            if !is_too_long {
                self.spill.extend_from_slice(&self.block[rest]);
            }
            self.unread.start = self.unread.end;
            self.refill().map_err(|kind| self.fault_here(kind))?;
            if self.unread.is_empty() {
                self.line_has_no_end = true;
                let is_nothing = self.spill.is_empty() && !is_too_long;
                return Ok((!is_nothing).then_some(if is_too_long {
                    LineSpan::TooLong
                } else {
                    LineSpan::Spill
                }));
            }
        }
    }

    /// Whether the line taken last is the last of the log and has no end of its own.
    pub(crate) fn line_has_no_end(&self) -> bool {
        self.line_has_no_end
    }

    fn finish_line(&mut self, line: Range<usize>, is_too_long: bool) -> LineSpan {
        let line_before = self.token_line();
        self.unread.start = line.end + 1;
        self.counted = self.unread.start;
        // a line has one line feed, and everything before this one was counted
        self.line_feeds = line_before;
        if is_too_long || self.spill.len() + line.len() > MOST_LINE_BYTES {
            return LineSpan::TooLong;
        }
        if self.spill.is_empty() {
            return LineSpan::Block(line);
        }
        self.spill.extend_from_slice(&self.block[line]);
        LineSpan::Spill
    }

    /// The bytes of a line, until the next line is taken.
    pub(crate) fn line(&self, span: &LineSpan) -> &[u8] {
        match span {
            LineSpan::Block(range) => self.block.get(range.clone()).unwrap_or_default(),
            LineSpan::Spill => &self.spill,
            LineSpan::TooLong => &[],
        }
    }

    /// Gives up the block, which has been read, for the next one.
    fn refill(&mut self) -> Result<(), ReadLogErrorKind> {
        if self.ended {
            return Ok(());
        }
        self.token_line();
        self.count_to(self.unread.end);
        self.block_at += self.unread.end as u64;
        self.unread = 0..0;
        self.counted = 0;
        self.more()
    }

    /// Reads on behind what is in the block.
    fn more(&mut self) -> Result<(), ReadLogErrorKind> {
        let end = self.unread.end;
        let read = loop {
            match self.input.read(&mut self.block[end..]) {
                Ok(read) => break read.min(BLOCK_BYTES - end),
                Err(error) if error.kind() == ErrorKind::Interrupted => {}
                Err(error) => {
                    self.ended = true;
                    return Err(self.blame(error));
                }
            }
        };
        self.ended = read == 0;
        self.unread.end = end + read;
        if self.is_ascii_only {
            blank_beyond_ascii(&mut self.block[end..end + read]);
        }
        match self.limit_bytes {
            Some(limit) if self.block_at + self.unread.end as u64 > limit => {
                self.ended = true;
                Err(ReadLogErrorKind::TooLarge { limit })
            }
            _ => Ok(()),
        }
    }

    /// Whether the input failed or what it holds.
    fn blame(&self, error: io::Error) -> ReadLogErrorKind {
        let is_content = matches!(
            error.kind(),
            ErrorKind::InvalidData | ErrorKind::InvalidInput | ErrorKind::UnexpectedEof
        );
        if self.input.is_packed() && is_content {
            return ReadLogErrorKind::Gzip { problem: error.to_string() };
        }
        ReadLogErrorKind::Unreadable(error)
    }

    fn fail(&mut self, kind: ReadLogErrorKind) -> io::Error {
        self.fault = Some(kind);
        io::Error::other("the log cannot be read any further")
    }
}

fn blank_beyond_ascii(bytes: &mut [u8]) {
    for byte in bytes {
        if !byte.is_ascii() {
            *byte = b'?';
        }
    }
}

impl<R: Read> Read for Source<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let available = self.fill_buf()?;
        let taken = available.len().min(into.len());
        into[..taken].copy_from_slice(&available[..taken]);
        self.consume(taken);
        Ok(taken)
    }
}

impl<R: Read> BufRead for Source<R> {
    #[inline]
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.unread.is_empty() {
            // a token that is too long has filled several blocks, so that looking here is enough
            if self.offset() - self.token_at > MOST_TOKEN_BYTES {
                return Err(self.fail(ReadLogErrorKind::TooLong { limit: MOST_TOKEN_BYTES }));
            }
            if let Err(kind) = self.refill() {
                return Err(self.fail(kind));
            }
        }
        Ok(&self.block[self.unread.clone()])
    }

    #[inline]
    fn consume(&mut self, bytes: usize) {
        self.unread.start = (self.unread.start + bytes).min(self.unread.end);
    }
}

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
