//! The rows of a `.dbf`, the table beside a Shapefile: dBASE III as Shapefiles use it.
//!
//! The crate `dbase` passes over rows that are marked as deleted, so that all later rows would belong to the shape before, and knows
//! letters of one byte only with more crates.

use serde_json::{Number, Value};

use super::fault::ImportFault;

/// One row: names and values that are not blank.
pub(super) type Row = Vec<(String, Value)>;

/// One column.
struct Field {
    name: String,
    kind: u8,
    /// Where it begins in a row, and how long it is.
    at: usize,
    length: usize,
}

const HEAD: usize = 32;
const FIELD: usize = 32;
const MEND: &str = "write the Shapefile again from the program that made it";

/// Reads all rows; letters are UTF-8 where they can be, else one byte each (ISO 8859-1), as most old files have them.
pub(super) fn read(bytes: &[u8], is_utf_8: bool) -> Result<Vec<Row>, ImportFault> {
    let short = || ImportFault::whole("the .dbf is too short to be one", MEND);
    let two = |at: usize| -> Option<usize> {
        Some(usize::from(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?)))
    };
    let count =
        bytes.get(4..8).and_then(|four| four.try_into().ok()).map(u32::from_le_bytes).ok_or_else(short)?;
    let (head, length) = two(8).zip(two(10)).ok_or_else(short)?;
    let fields = fields(bytes.get(HEAD..head).ok_or_else(short)?, is_utf_8);
    if length == 0 || fields.last().is_some_and(|field| field.at + field.length > length) {
        return Err(ImportFault::whole("the columns of the .dbf are longer than its rows", MEND));
    }
    let mut rows = Vec::new();
    let all = bytes.get(head..).unwrap_or_default().chunks_exact(length);
    for row in all.take(usize::try_from(count).unwrap_or(usize::MAX)) {
        if row.first() == Some(&b'*') {
            return Err(ImportFault::whole(
                format!("row {} of the .dbf is marked as deleted, while its shape is there", rows.len() + 1),
                "write the Shapefile again (pack it), so that rows and shapes belong together",
            ));
        }
        rows.push(fields.iter().filter_map(|field| field.of(row, is_utf_8)).collect());
    }
    Ok(rows)
}

fn fields(mut bytes: &[u8], is_utf_8: bool) -> Vec<Field> {
    let mut fields = Vec::new();
    let mut at = 1; // behind the mark of deletion
    while let Some((field, rest)) = bytes.split_at_checked(FIELD).filter(|(field, _)| field[0] != b'\r') {
        let name = field[..11].split(|byte| *byte == 0).next().unwrap_or_default();
        let length = usize::from(field[16]);
        fields.push(Field { name: letters(name, is_utf_8), kind: field[11], at, length });
        at += length;
        bytes = rest;
    }
    fields
}

impl Field {
    /// Its value in a row; none where that is blank.
    fn of(&self, row: &[u8], is_utf_8: bool) -> Option<(String, Value)> {
        let text = letters(row.get(self.at..self.at + self.length)?, is_utf_8);
        let text = text.trim_matches(|letter: char| letter.is_whitespace() || letter == '\0');
        let value = match self.kind {
            _ if text.is_empty() => return None,
            // as many stars as fit: no number
            b'N' | b'F' => text.parse::<Number>().map_or_else(|_| Value::from(text), Value::Number),
            b'L' if matches!(text, "T" | "t" | "Y" | "y") => Value::from(true),
            b'L' if matches!(text, "F" | "f" | "N" | "n") => Value::from(false),
            b'L' if text == "?" => return None,
            b'D' if text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit()) => {
                Value::from(format!("{}-{}-{}", &text[..4], &text[4..6], &text[6..]))
            }
            _ => Value::from(text),
        };
        Some((self.name.clone(), value))
    }
}

fn letters(bytes: &[u8], is_utf_8: bool) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) if is_utf_8 => String::from_utf8_lossy(bytes).into_owned(),
        Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
    }
}
