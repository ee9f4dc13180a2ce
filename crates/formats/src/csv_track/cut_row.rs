//! A last row that was cut off while the file was being written.

/// A last row is cut off in its last number if that has so many decimals less than others had: 10 m and more of five (common
/// practice, no source).
const CUT_DECIMALS: usize = 2;

/// Watches the rows of a table whose last column is a coordinate, for a last one that was cut off in that number.
///
/// A file that is copied while it is being written ends anywhere. `-30.1` cut from `-30.119000` is a place a mile off, and
/// reads as well as any other.
///
/// # Edge cases
///
/// A row that has its line end is never cut off. Of a table with one row nobody can tell.
///
/// # Examples
///
/// ```
/// use takeline_formats::CutRow;
///
/// let mut rows = CutRow::new(b',');
/// assert!(!rows.is_cut(b"45.117000,-30.119000\n"));
/// assert!(!rows.is_cut(b"45.117,-30.1\r\n"));
/// assert!(rows.is_cut(b"45.117000,-30.1"));
/// assert!(!rows.is_cut(b"45.117000,-30.11902"));
/// ```
#[derive(Debug, Clone, Copy)]
pub struct CutRow {
    separator: u8,
    /// The most decimals so far of the last number of a row.
    decimals: usize,
}

impl CutRow {
    /// Why such a row is left out.
    pub const REASON: &'static str = "the last row has no line end, and its last number is shorter than those before, so it is likely cut off";

    /// Rows with this sign between their fields; a decimal comma is one where the sign is another.
    #[must_use]
    pub const fn new(separator: u8) -> Self {
        Self { separator, decimals: 0 }
    }

    /// Returns whether a row, the next of its table, was likely cut off. It has its line end with it, where there is one.
    pub fn is_cut(&mut self, row: &[u8]) -> bool {
        let has_end = row.ends_with(b"\n");
        let row = row.strip_suffix(b"\n").unwrap_or(row);
        self.is_cut_off(row.strip_suffix(b"\r").unwrap_or(row), has_end)
    }

    /// As [`Self::is_cut`], for a row without its line end.
    pub(crate) fn is_cut_off(&mut self, row: &[u8], has_end: bool) -> bool {
        let decimals = decimals_at_end(row, self.separator);
        let is_cut = !has_end && decimals + CUT_DECIMALS <= self.decimals;
        self.decimals = self.decimals.max(decimals);
        is_cut
    }
}

/// How many decimals the last number of a row has.
fn decimals_at_end(row: &[u8], separator: u8) -> usize {
    let digits = row.iter().rev().take_while(|byte| byte.is_ascii_digit()).count();
    match row[..row.len() - digits].split_last() {
        Some((b'.', _)) => digits,
        Some((b',', _)) if separator != b',' => digits,
        _ => 0,
    }
}
