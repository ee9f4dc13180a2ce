//! Files that are read as a whole, and inputs that should end: a device or a pipe without end must not fill the memory.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use crate::failure::{Stop, cannot_be_read};
use crate::kept_file::remember_as_read;

/// Reads a whole file of at most `most` bytes, and remembers that it was read.
///
/// # Errors
///
/// [`Stop::Unreadable`], which names the file, also where it is larger.
pub(crate) fn read_whole(path: &Path, most: usize) -> Result<Vec<u8>, Stop> {
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| {
        remember_as_read(path);
        // room for what a file says that it holds; a pipe says 0
        let told = file.metadata().map_or(0, |told| told.len());
        bytes.reserve_exact(usize::try_from(told).unwrap_or(most).min(most) + 1);
        bounded(file, most).read_to_end(&mut bytes)
    });
    read.map_err(|error| {
        if error.kind() == io::ErrorKind::FileTooLarge {
            let mend = "split it, and name only the parts that you need";
            return Stop::Unreadable(format!("{} cannot be read: {error}\n  {mend}", path.display()));
        }
        Stop::Unreadable(cannot_be_read(path.display(), &error))
    })?;
    Ok(bytes)
}

/// An input that fails, with a reason in words, after `most` bytes.
fn bounded<R: Read>(input: R, most: usize) -> Bounded<R> {
    Bounded { input, most, left: most }
}

/// See [`bounded`].
#[derive(Debug)]
struct Bounded<R> {
    input: R,
    most: usize,
    left: usize,
}

impl<R: Read> Read for Bounded<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.left == 0 && !into.is_empty() {
            // it may end just here
            let is_over = self.input.read(&mut [0])? == 0;
            return if is_over { Ok(0) } else { Err(self.too_large()) };
        }
        let room = into.len().min(self.left);
        let read = self.input.read(&mut into[..room])?;
        self.left -= read;
        Ok(read)
    }
}

impl<R> Bounded<R> {
    fn too_large(&self) -> io::Error {
        let mib = self.most / (1024 * 1024);
        let words = format!("it is larger than {mib} MiB, the most that is read, or has no end");
        io::Error::new(io::ErrorKind::FileTooLarge, words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_input_ends_or_fails_at_its_bound() {
        let read = |text: &str, most: usize| {
            let mut bytes = Vec::new();
            bounded(text.as_bytes(), most).read_to_end(&mut bytes).map(|_| bytes)
        };
        assert_eq!(read("12345", 5).unwrap(), b"12345");
        assert_eq!(read("12345", 9).unwrap(), b"12345");
        let refused = read("123456", 5).unwrap_err();
        assert!(refused.to_string().contains("has no end"), "{refused}");
    }
}
