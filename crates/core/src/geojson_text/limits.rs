//! How much is read of a file: bounds that are checked before memory is taken.

use super::fault::FaultKind;
use super::log::Log;

/// The most bytes of a file that are read: 64 MiB.
pub(crate) const MOST_BYTES: usize = 64 * 1024 * 1024;
/// The most values, each taking some hundred bytes of memory while a file is read; an object counts as
/// [`AN_OBJECT`] of them. Two million vertices are six million values.
const MOST_VALUES: usize = 8_000_000;
/// An object takes about four times the memory of a list, because room for several members is made at once.
const AN_OBJECT: usize = 4;

/// How to mend a file that is too large.
pub(crate) const SPLIT: &str = "split the file by region, and load only the parts that you need";

/// Whether a file is small enough to be taken apart; a fault if it is not.
pub(crate) fn is_small_enough(log: &mut Log, bytes: &[u8]) -> bool {
    let most_mib = MOST_BYTES / (1024 * 1024);
    if bytes.len() > MOST_BYTES {
        too_large(log, format!("is larger than {most_mib} MiB, the most that is read"));
        return false;
    }
    // every value but the first follows one of these three; those within texts count too, which no real file minds
    let weight = |byte: &u8| match byte {
        b'{' => AN_OBJECT,
        b'[' | b',' => 1,
        _ => 0,
    };
    let values: usize = bytes.iter().map(weight).sum();
    if values > MOST_VALUES {
        too_large(
            log,
            format!(
                "holds about {values} values, an object counted as {AN_OBJECT}; at most {MOST_VALUES} are read"
            ),
        );
        return false;
    }
    true
}

/// Reports that there is too much of something.
pub(crate) fn too_large(log: &mut Log, text: String) {
    log.fault(FaultKind::TooLarge, text, SPLIT);
}
