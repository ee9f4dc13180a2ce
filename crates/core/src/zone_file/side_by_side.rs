//! Reads the features of a sound file side by side, on all cores.
//!
//! Each is read from its own text, so that no more of the file stands in memory as JSON than what is being read. As soon as
//! anything is wrong, nothing of this counts: the file is read from its beginning in the long way, which alone tells faults. A
//! file that this way reads gives what the long way gives, warnings and their order included.

use std::collections::HashSet;
use std::num::NonZero;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread::{Builder, scope};

use memchr::{memchr, memmem};

use super::feature_texts::feature_texts;
use super::limits::{FileSize, MOST_ZONES};
use super::read::{LoadedFile, finished, frame};
use super::zone_reader::{FileContext, zone};
use crate::geojson_text::{
    BYTE_ORDER_MARK, FeatureText, Log, feature_id, id_in, is_small_enough, sha256, strict_json,
};
use crate::zone::Zone;

/// Features that one thread takes at a time, at most.
const MOST_AT_ONCE: usize = 64;
/// Shorter texts are not worth another thread.
const WORTH_A_THREAD: usize = 256 * 1024;

/// What one thread read of features that follow each other.
struct Stretch {
    first: usize,
    log: Log,
    zones: Vec<Zone>,
    sizes: Vec<FileSize>,
}

/// As many threads as serve a text of so many bytes.
pub(super) fn worthwhile_threads(bytes: usize) -> usize {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    cores.min(1 + bytes / WORTH_A_THREAD)
}

/// Reads a file with so many threads; none if anything in it is not as it should be.
pub(super) fn read_sound(path_label: &str, bytes: &[u8], threads: usize) -> Option<LoadedFile> {
    if !is_small_enough(&mut Log::default(), bytes) {
        return None;
    }
    let (texts, hash) = scope(|scope| {
        let hash = || sha256(bytes);
        let hashing = (threads > 1).then(|| Builder::new().spawn_scoped(scope, hash).ok()).flatten();
        let texts = feature_texts(bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes));
        let hash = hashing.and_then(|hashing| hashing.join().ok());
        (texts, hash.unwrap_or_else(|| sha256(bytes)))
    });
    let texts = texts.filter(|texts| !texts.features.is_empty() && texts.features.len() <= MOST_ZONES)?;
    let value = strict_json(&texts.frame).ok()?;
    let mut log = Log::default();
    let (mut loaded, context, features) = frame(&mut log, &value, (path_label, &hash))?;
    if !features.is_empty() || log.faults_so_far() > 0 {
        return None;
    }
    let ids = if names_others(bytes) {
        texts.features.iter().filter_map(|text| id_in(text)).collect()
    } else {
        HashSet::new()
    };
    let context = FileContext { ids, ..context };
    let joined = read_all(&texts.features, &context, threads)?;
    log.append(joined.log);
    loaded.zones = joined.zones;
    let mut ids = HashSet::with_capacity(loaded.zones.len());
    if !loaded.zones.iter().all(|zone| ids.insert(zone.id.0.as_str())) {
        return None;
    }
    loaded.line_length = joined.size.line_length();
    finished(log, loaded)
}

/// Whether any zone may name another one: a text without the word has no such member.
fn names_others(bytes: &[u8]) -> bool {
    // a backslash may spell the word
    memmem::find(bytes, b"overrides").is_some() || memchr(b'\\', bytes).is_some()
}

/// All features, in order; none if any of them is wrong.
fn read_all(texts: &[&[u8]], context: &FileContext, threads: usize) -> Option<Joined> {
    let at_once = (texts.len() / (8 * threads)).clamp(1, MOST_AT_ONCE);
    let next = AtomicUsize::new(0);
    let is_wrong = AtomicBool::new(false);
    let all_so_far = Mutex::new(FileSize::default());
    let joined = Mutex::new(Joined { zones: Vec::with_capacity(texts.len()), ..Joined::default() });
    let read = |first: usize, texts: &[&[u8]]| {
        let stretch = Stretch::read((first, texts), context, &all_so_far)?;
        joined.lock().ok()?.take(stretch);
        Some(())
    };
    let work = || {
        while !is_wrong.load(Ordering::Relaxed) {
            let first = next.fetch_add(at_once, Ordering::Relaxed).min(texts.len());
            let texts = &texts[first..texts.len().min(first + at_once)];
            if texts.is_empty() {
                break;
            }
            if read(first, texts).is_none() {
                is_wrong.store(true, Ordering::Relaxed);
            }
        }
    };
    scope(|scope| {
        // a system that gives no more threads gets along with this one
        let others: Vec<_> =
            (1..threads).filter_map(|_| Builder::new().spawn_scoped(scope, work).ok()).collect();
        work();
        if !others.into_iter().all(|other| other.join().is_ok()) {
            is_wrong.store(true, Ordering::Relaxed);
        }
    });
    let joined = joined.into_inner().ok()?;
    (!is_wrong.load(Ordering::Relaxed) && joined.zones.len() == texts.len()).then_some(joined)
}

/// What was read so far, as far as it follows without a gap.
#[derive(Default)]
struct Joined {
    log: Log,
    zones: Vec<Zone>,
    size: FileSize,
    /// Stretches that were read before those ahead of them.
    early: Vec<Stretch>,
}

impl Joined {
    fn take(&mut self, stretch: Stretch) {
        self.early.push(stretch);
        while let Some(at) = self.early.iter().position(|stretch| stretch.first == self.zones.len()) {
            let stretch = self.early.swap_remove(at);
            self.log.append(stretch.log);
            self.zones.extend(stretch.zones);
            self.size = stretch.sizes.into_iter().fold(self.size, FileSize::and);
        }
    }
}

impl Stretch {
    /// Reads features from the one with this number, counted from 0, and counts what all threads have read so far.
    fn read(
        (first, texts): (usize, &[&[u8]]),
        context: &FileContext,
        all_so_far: &Mutex<FileSize>,
    ) -> Option<Self> {
        let mut stretch = Self { first, log: Log::default(), zones: Vec::new(), sizes: Vec::new() };
        let log = &mut stretch.log;
        for (number, text) in (first + 1..).zip(texts) {
            let FeatureText { feature, coordinates } = FeatureText::read(text)?;
            let size = FileSize::of_feature(&feature, coordinates.as_ref());
            stretch.sizes.push(size);
            // told before the boundary fills the memory
            let mut all_so_far = all_so_far.lock().ok()?;
            *all_so_far = all_so_far.and(size);
            if !all_so_far.is_within_limits(log, 0) {
                return None;
            }
            drop(all_so_far);
            log.at_feature(number, feature_id(&feature));
            let zone = zone(log, (&feature, coordinates.as_ref()), context)?;
            if log.faults_so_far() > 0 {
                return None;
            }
            stretch.zones.push(zone);
        }
        Some(stretch)
    }
}
