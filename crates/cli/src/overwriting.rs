//! Nothing that is read is written over, and no file is written twice.

use std::collections::HashMap;
use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};

use crate::failure::Stop;
use crate::kept_file::{behind_links, folder_of};
use crate::track_logs::is_standard_input;

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
            format!("{other} and {option} name the same file; name another for one")
        }
        Writer::StandardOutput => {
            format!("{option} names the file that standard output goes into; name another")
        }
    }
}

fn written_over(writer: &Writer, path: &Path) -> String {
    match writer {
        Writer::Option(option) => format!("{option} would write over a file that is read; name another"),
        Writer::StandardOutput => {
            let name =
                if is_standard_input(path) { "standard input".into() } else { path.display().to_string() };
            format!("standard output goes into a file that is read, {name}; send it elsewhere")
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
    let file = fs::File::from(stream.try_clone_to_owned().ok()?);
    node(&file.metadata().ok()?)
}

#[cfg(unix)]
fn of_standard_input() -> Option<Identity> {
    use std::os::fd::AsFd;
    of_stream(std::io::stdin().as_fd())
}

#[cfg(unix)]
fn of_standard_output() -> Option<Identity> {
    use std::os::fd::AsFd;
    of_stream(std::io::stdout().as_fd())
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
