//! What the program writes: files that are whole or as they were, written beside their place and renamed when they are done;
//! nothing over what it reads; and standard output, whoever reads it.

use std::collections::{HashMap, HashSet};
use std::fs::{self, File, Metadata, OpenOptions, Permissions};
use std::io::{self, BufWriter, ErrorKind, StdoutLock, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use tempfile::TempPath;

use crate::failure::{Stop, io_in_words};
use crate::log_reading::is_standard_input;
use crate::progress::beside_progress;

/// The most symbolic links that are followed one after another, as many as Linux follows.
const MOST_LINKS: usize = 40;

/// A file under construction. Dropped before [`KeptFile::finish`], it leaves what was there before.
#[derive(Debug)]
pub(crate) struct KeptFile {
    path: PathBuf,
    file: BufWriter<File>,
    /// Whether it is meant to replace what this run has read.
    replaces_what_was_read: bool,
    /// Where the file stands until it is whole; none for a pipe, a terminal or a device, which cannot be renamed.
    beside: Option<Beside>,
}

#[derive(Debug)]
struct Beside {
    temporary: TempPath,
    place: PathBuf,
    /// Of the file that is replaced.
    permissions: Option<Permissions>,
}

impl KeptFile {
    /// Begins a file; nothing that was there before is touched.
    ///
    /// # Errors
    ///
    /// In words for the person who named it, where it cannot be written.
    pub(crate) fn create(path: &Path) -> Result<Self, String> {
        Self::begin(path).map_err(|error| unwritable(path, &error))
    }

    /// Begins the new form of a file that this run has read.
    ///
    /// # Errors
    ///
    /// As [`KeptFile::create`].
    pub(crate) fn replacing(path: &Path) -> Result<Self, String> {
        Self::create(path).map(|file| Self { replaces_what_was_read: true, ..file })
    }

    fn begin(path: &Path) -> io::Result<Self> {
        let place = behind_links(path);
        let before = match fs::metadata(&place) {
            Ok(before) => Some(before),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(error),
        };
        let Some(before) = before else { return Self::beside(path, place, None) };
        if before.is_dir() {
            return Err(io::Error::new(ErrorKind::IsADirectory, "it is a folder"));
        }
        // a file that may not be written may not be replaced either; opening for writing changes nothing yet
        let direct = OpenOptions::new().write(true).open(&place)?;
        if before.is_file() {
            return Self::beside(path, place, Some(before.permissions()));
        }
        Ok(Self::of(path, direct, None))
    }

    fn beside(path: &Path, place: PathBuf, permissions: Option<Permissions>) -> io::Result<Self> {
        let folder = folder_of(&place);
        fs::metadata(folder)?;
        let mut names = tempfile::Builder::new();
        names.prefix(".takeline-").suffix(".part");
        as_usual(&mut names);
        // the library's own message would name the temporary file
        let made = names.tempfile_in(folder).map_err(|error| io::Error::from(error.kind()))?;
        let (file, temporary) = made.into_parts();
        let beside = Some(Beside { temporary, place, permissions });
        Ok(Self::of(path, file, beside))
    }

    fn of(path: &Path, file: File, beside: Option<Beside>) -> Self {
        Self { path: path.to_owned(), file: BufWriter::new(file), replaces_what_was_read: false, beside }
    }

    /// Adds a text.
    pub(crate) fn write(&mut self, text: &str) -> Result<(), String> {
        self.write_bytes(text.as_bytes())
    }

    /// Adds bytes.
    pub(crate) fn write_bytes(&mut self, bytes: &[u8]) -> Result<(), String> {
        self.file.write_all(bytes).map_err(|error| unwritable(&self.path, &error))
    }

    /// Puts the whole file into its place.
    pub(crate) fn finish(self) -> Result<(), String> {
        let path = self.path.clone();
        self.put().map_err(|error| unwritable(&path, &error))
    }

    fn put(self) -> io::Result<()> {
        let file = self.file.into_inner().map_err(io::IntoInnerError::into_error)?;
        let Some(Beside { temporary, place, permissions }) = self.beside else { return Ok(()) };
        if !self.replaces_what_was_read && is_read(&place) {
            let why = "this run reads it, by its own name or because another file names it";
            return Err(io::Error::new(ErrorKind::AlreadyExists, why));
        }
        if let Some(permissions) = permissions {
            file.set_permissions(permissions)?;
            // only what replaces something can lose something if the power goes
            file.sync_all()?;
        }
        drop(file);
        temporary.persist(place).map_err(|refused| refused.error)
    }
}

/// Writes a whole file.
pub(crate) fn write_whole(path: &Path, text: &str) -> Result<(), String> {
    let mut file = KeptFile::create(path)?;
    file.write(text)?;
    file.finish()
}

/// The path that a name leads to, whether there is a file yet or not.
pub(crate) fn behind_links(path: &Path) -> PathBuf {
    let mut place = path.to_owned();
    for _ in 0..MOST_LINKS {
        let Ok(target) = fs::read_link(&place) else { break };
        place = folder_of(&place).join(target);
    }
    // what a link of the system leads to, such as a pipe behind /dev/stdout, may have no name to be opened by
    if place.exists() || !path.exists() { place } else { path.to_owned() }
}

/// The folder that a file is in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Lets the system decide who may read a new file, as for any other; temporary files are private otherwise.
#[cfg(unix)]
fn as_usual(names: &mut tempfile::Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    names.permissions(Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn as_usual(_: &mut tempfile::Builder<'_, '_>) {}

fn unwritable(path: &Path, error: &io::Error) -> String {
    if error.kind() == ErrorKind::AlreadyExists {
        return format!("{} cannot be written: {}\n  name another file", path.display(), io_in_words(error));
    }
    format!(
        "{} cannot be written: {}\n  check the folder, its permissions and the space left",
        path.display(),
        io_in_words(error)
    )
}

/// What this run has read as a whole, also what nobody typed: the coast that a zone file names, its index, a manifest.
static READ: Mutex<Option<HashSet<Identity>>> = Mutex::new(None);

/// Remembers a file that is read, so that [`refuse_what_was_read`] knows it.
pub(crate) fn remember_as_read(path: &Path) {
    let mut read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    read.get_or_insert_default().extend(identities(path));
}

/// Refuses to write over what this run has read, also where another file named it.
pub(crate) fn refuse_what_was_read(option: &'static str, path: &Path) -> Result<(), Stop> {
    if is_read(path) { Err(Stop::Usage(written_over(&Writer::Option(option), path))) } else { Ok(()) }
}

fn is_read(path: &Path) -> bool {
    let read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    read.as_ref().is_some_and(|read| identities(path).iter().any(|identity| read.contains(identity)))
}

/// What two names of one file have in common.
#[derive(Debug, PartialEq, Eq, Hash)]
enum Identity {
    /// Device and number on it: the same for hard links too.
    Node(u64, u64),
    /// Its place, also where there is no file yet.
    Place(PathBuf),
}

/// What a file is written for.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Writer {
    StandardOutput,
    Option(&'static str),
}

/// Refuses to write over what is read, and two outputs into one file. Standard output counts as one, where it goes into a
/// file; `-` among the files that are read stands for standard input.
pub(crate) fn refuse_overwriting<'a>(
    read: impl IntoIterator<Item = &'a Path>,
    written: impl IntoIterator<Item = (&'static str, &'a Path)>,
) -> Result<(), Stop> {
    let mut taken: HashMap<Identity, Writer> = HashMap::new();
    taken.extend(of_standard_output().map(|identity| (identity, Writer::StandardOutput)));
    for (option, path) in written {
        for identity in identities(path) {
            let other = taken.insert(identity, Writer::Option(option));
            if let Some(other) = other.filter(|other| *other != Writer::Option(option)) {
                return Err(Stop::Usage(written_twice(&other, option)));
            }
        }
    }
    for path in read {
        let standard = if is_standard_input(path) { of_standard_input() } else { None };
        if let Some(writer) =
            identities(path).into_iter().chain(standard).find_map(|identity| taken.get(&identity))
        {
            return Err(Stop::Usage(written_over(writer, path)));
        }
    }
    Ok(())
}

fn written_twice(other: &Writer, option: &str) -> String {
    match other {
        Writer::Option(other) => {
            format!("{other} and {option} name the same file; change one of them")
        }
        Writer::StandardOutput => {
            format!("{option} names the file that standard output goes into; name another")
        }
    }
}

fn written_over(writer: &Writer, path: &Path) -> String {
    match writer {
        Writer::Option(option) => format!("{option} would overwrite a file that is being read; name another"),
        Writer::StandardOutput => {
            let name =
                if is_standard_input(path) { "standard input".into() } else { path.display().to_string() };
            format!("standard output goes into a file that is being read, {name}; send it elsewhere")
        }
    }
}

/// Everything by which a file can be known; nothing for pipes, terminals and devices, which may be named as often as one
/// likes.
fn identities(path: &Path) -> Vec<Identity> {
    let found = fs::metadata(path);
    if found.as_ref().is_ok_and(|found| !found.is_file()) {
        return Vec::new();
    }
    let place = behind_links(path);
    let in_folder = || Some(fs::canonicalize(folder_of(&place)).ok()?.join(place.file_name()?));
    let place = fs::canonicalize(&place).ok().or_else(in_folder).unwrap_or(place.clone());
    found.ok().and_then(|found| node(&found)).into_iter().chain([Identity::Place(place)]).collect()
}

#[cfg(unix)]
fn node(found: &Metadata) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    found.is_file().then(|| Identity::Node(found.dev(), found.ino()))
}

#[cfg(unix)]
fn of_stream(stream: std::os::fd::BorrowedFd<'_>) -> Option<Identity> {
    let file = File::from(stream.try_clone_to_owned().ok()?);
    node(&file.metadata().ok()?)
}

#[cfg(unix)]
fn of_standard_input() -> Option<Identity> {
    use std::os::fd::AsFd;
    of_stream(io::stdin().as_fd())
}

#[cfg(unix)]
fn of_standard_output() -> Option<Identity> {
    use std::os::fd::AsFd;
    of_stream(io::stdout().as_fd())
}

// elsewhere the standard library tells no numbers of files: places alone are compared
#[cfg(not(unix))]
fn node(_: &Metadata) -> Option<Identity> {
    None
}

#[cfg(not(unix))]
fn of_standard_input() -> Option<Identity> {
    None
}

#[cfg(not(unix))]
fn of_standard_output() -> Option<Identity> {
    None
}

/// Standard output that goes on taking text when nobody reads any more, so that the rest of the work can be finished.
#[derive(Debug)]
pub(crate) struct StandardOutput {
    out: BufWriter<StdoutLock<'static>>,
    failure: Option<io::Error>,
}

impl StandardOutput {
    pub(crate) fn new() -> Self {
        Self { out: BufWriter::new(io::stdout().lock()), failure: None }
    }

    /// Whether writing has failed: what is written from here on is lost.
    pub(crate) fn is_lost(&self) -> bool {
        self.failure.is_some()
    }

    /// Why work stops, where what it writes is lost; `left` says before or after what, and what is left undone.
    pub(crate) fn cut_short(&mut self, left: &str) -> Stop {
        match self.failure.take() {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => Stop::Unreadable(format!(
                "standard output cannot be written: {}\n  it ended {left}",
                io_in_words(&error)
            )),
            _ => Stop::CutShort(format!("standard output was closed {left}")),
        }
    }

    /// Writes what is left. A reader that has seen enough is no failure, anything else is.
    pub(crate) fn finish(mut self) -> Result<(), Stop> {
        self.flush()?;
        match self.failure {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => Err(Stop::Output(error)),
            _ => Ok(()),
        }
    }

    fn keep_failure<T>(&mut self, done: io::Result<T>, otherwise: T) -> io::Result<T> {
        match done {
            // such a write is begun again by whoever called
            Err(error) if error.kind() == ErrorKind::Interrupted => Err(error),
            Err(error) => {
                self.failure = Some(error);
                Ok(otherwise)
            }
            done => done,
        }
    }
}

impl Write for StandardOutput {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.is_lost() {
            return Ok(bytes.len());
        }
        let done = beside_progress(|| self.out.write(bytes));
        self.keep_failure(done, bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.is_lost() {
            return Ok(());
        }
        let done = beside_progress(|| self.out.flush());
        self.keep_failure(done, ())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    fn names(folder: &TempDir) -> Vec<String> {
        let entries = fs::read_dir(folder.path()).unwrap();
        let mut names: Vec<_> =
            entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_that_is_not_finished_leaves_what_was_there() {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("o.csv");
        fs::write(&path, "old").unwrap();
        let mut file = KeptFile::create(&path).unwrap();
        file.write("half").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        drop(file);
        assert_eq!(names(&folder), ["o.csv"]);
        write_whole(&path, "new").unwrap();
        assert_eq!((fs::read_to_string(&path).unwrap().as_str(), names(&folder).len()), ("new", 1));
    }

    #[cfg(unix)]
    #[test]
    fn a_replaced_file_keeps_who_may_read_it_and_a_new_one_has_the_usual() {
        use std::os::unix::fs::PermissionsExt;
        let folder = TempDir::new().unwrap();
        let mode = |name: &str| fs::metadata(folder.path().join(name)).unwrap().permissions().mode() & 0o777;
        fs::write(folder.path().join("usual"), "").unwrap();
        write_whole(&folder.path().join("new"), "text").unwrap();
        assert_eq!(mode("new"), mode("usual"));
        fs::set_permissions(folder.path().join("new"), Permissions::from_mode(0o640)).unwrap();
        write_whole(&folder.path().join("new"), "text").unwrap();
        assert_eq!(mode("new"), 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_and_its_target_is_written() {
        let folder = TempDir::new().unwrap();
        fs::create_dir(folder.path().join("far")).unwrap();
        let link = folder.path().join("link");
        std::os::unix::fs::symlink("far/target", &link).unwrap();
        for text in ["first", "second"] {
            write_whole(&link, text).unwrap();
            assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
            assert_eq!(fs::read_to_string(folder.path().join("far/target")).unwrap(), text);
        }
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn devices_are_written_as_they_are_and_a_full_one_is_told() {
        write_whole(Path::new("/dev/null"), "text").unwrap();
        let full = write_whole(Path::new("/dev/full"), "text").unwrap_err();
        assert!(full.contains("/dev/full cannot be written: No space left"), "{full}");
        assert!(full.contains("the space left"), "{full}");
    }

    #[test]
    fn a_folder_and_a_place_without_one_are_told_apart() {
        let folder = TempDir::new().unwrap();
        let is_folder = write_whole(folder.path(), "text").unwrap_err();
        assert!(is_folder.contains("cannot be written: it is a folder"), "{is_folder}");
        let nowhere = write_whole(&folder.path().join("none/o.csv"), "text").unwrap_err();
        assert!(nowhere.contains("o.csv cannot be written: ") && !nowhere.contains(".part"), "{nowhere}");
    }
}
