//! The rows of a `.dbf`, the table beside a Shapefile: dBASE III as Shapefiles use it.
//!
//! The crate `dbase` passes over rows that are marked as deleted, so that all later rows would belong to the shape before, and knows
//! letters of one byte only with more crates.

use std::borrow::Cow;
use std::cell::Cell;

use encoding_rs::Encoding;
use serde_json::{Number, Value};

use super::fault::ImportFault;
use super::note::Notes;

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

/// How letters are written, and how many texts could not be read as they say.
struct Letters {
    /// What the `.cpg` names.
    named: Option<&'static Encoding>,
    guessed: Cell<usize>,
    broken: Cell<usize>,
}

/// Reads all rows. Letters are as the `.cpg` says; without one they are UTF-8 where they can be, else one byte each (ISO 8859-1), as most
/// old files have them, which is noted.
pub(super) fn read(bytes: &[u8], cpg: Option<&[u8]>, notes: &mut Notes) -> Result<Vec<Row>, ImportFault> {
    let letters = &Letters::of(cpg, bytes)?;
    let short = || ImportFault::whole("the .dbf is too short to be one", MEND);
    let two = |at: usize| -> Option<usize> {
        Some(usize::from(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?)))
    };
    let count =
        bytes.get(4..8).and_then(|four| four.try_into().ok()).map(u32::from_le_bytes).ok_or_else(short)?;
    let (head, length) = two(8).zip(two(10)).ok_or_else(short)?;
    let fields = fields(bytes.get(HEAD..head).ok_or_else(short)?, letters);
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
        rows.push(fields.iter().filter_map(|field| field.of(row, letters)).collect());
    }
    letters.tell(notes);
    Ok(rows)
}

fn fields(mut bytes: &[u8], letters: &Letters) -> Vec<Field> {
    let mut fields = Vec::new();
    let mut at = 1; // behind the mark of deletion
    while let Some((field, rest)) = bytes.split_at_checked(FIELD).filter(|(field, _)| field[0] != b'\r') {
        let name = field[..11].split(|byte| *byte == 0).next().unwrap_or_default();
        let length = usize::from(field[16]);
        fields.push(Field { name: letters.read(name).into_owned(), kind: field[11], at, length });
        at += length;
        bytes = rest;
    }
    fields
}

impl Field {
    /// Its value in a row; none where that is blank.
    fn of(&self, row: &[u8], letters: &Letters) -> Option<(String, Value)> {
        let text = letters.read(row.get(self.at..self.at + self.length)?);
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

impl Letters {
    fn of(cpg: Option<&[u8]>, dbf: &[u8]) -> Result<Self, ImportFault> {
        let written = cpg.map(|cpg| String::from_utf8_lossy(cpg).trim().to_owned());
        let written = written.filter(|written| !written.is_empty());
        let named = written.as_deref().and_then(encoding);
        if let (Some(written), None, false) =
            (&written, named, dbf.get(HEAD..).unwrap_or_default().is_ascii())
        {
            return Err(ImportFault::whole(
                format!("the .cpg says that letters are written as {written:?}, which is not known here"),
                "write the Shapefile again in UTF-8",
            ));
        }
        Ok(Self { named, guessed: Cell::new(0), broken: Cell::new(0) })
    }

    fn read<'b>(&self, bytes: &'b [u8]) -> Cow<'b, str> {
        let count = |texts: &Cell<usize>| texts.set(texts.get() + 1);
        if let Some(encoding) = self.named {
            let (text, has_errors) = encoding.decode_without_bom_handling(bytes);
            if has_errors {
                count(&self.broken);
            }
            return text;
        }
        std::str::from_utf8(bytes).map_or_else(
            |_| {
                count(&self.guessed);
                bytes.iter().map(|byte| char::from(*byte)).collect()
            },
            Cow::from,
        )
    }

    fn tell(&self, notes: &mut Notes) {
        let (guessed, broken) = (self.guessed.get(), self.broken.get());
        if guessed > 0 {
            notes.changed(
                "",
                format!("no .cpg file says how letters are written: {guessed} texts that are no UTF-8 are read as ISO 8859-1; look at their letters"),
            );
        }
        if broken > 0 {
            notes.changed(
                "",
                format!("{broken} texts have letters that are not written as the .cpg file says; \u{fffd} stands for them"),
            );
        }
    }
}

/// The encoding of a `.cpg`: a name, or the number of a code page of Windows.
fn encoding(written: &str) -> Option<&'static Encoding> {
    let plain = written.to_ascii_lowercase();
    let number = ["cp", "ansi", "oem", "windows-", "ms"].iter().find_map(|before| plain.strip_prefix(before));
    let number = number.unwrap_or(&plain).trim();
    let latin = |part: &str| format!("iso-8859-{part}");
    let label = match number {
        "65001" => "utf-8".to_owned(),
        "932" => "shift_jis".to_owned(),
        "936" => "gbk".to_owned(),
        "949" => "euc-kr".to_owned(),
        "950" => "big5".to_owned(),
        "866" => "ibm866".to_owned(),
        "874" => "windows-874".to_owned(),
        _ if number.len() == 4 && number.starts_with("125") => format!("windows-{number}"),
        _ => match number.strip_prefix("8859") {
            Some(part) => latin(part.trim_start_matches(['-', '_'])),
            None => plain.clone(),
        },
    };
    Encoding::for_label_no_replacement(label.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A table of one row with one text.
    fn table(text: &[u8]) -> Vec<u8> {
        let length = u8::try_from(text.len()).unwrap();
        let mut bytes = vec![3, 126, 1, 1, 1, 0, 0, 0, 65, 0, length + 1, 0];
        bytes.resize(HEAD, 0);
        bytes.extend(b"NAME\0\0\0\0\0\0\0C\0\0\0\0");
        bytes.extend([length, 0]);
        bytes.resize(HEAD + FIELD, 0);
        bytes.extend(b"\r ");
        bytes.extend(text);
        bytes
    }

    fn name(text: &[u8], cpg: Option<&str>) -> Result<(Value, usize), ImportFault> {
        let mut notes = Notes::default();
        let rows = read(&table(text), cpg.map(str::as_bytes), &mut notes)?;
        Ok((rows[0][0].1.clone(), notes.in_order().len()))
    }

    /// The bytes are those of the code pages as the Encoding Standard of WHATWG has them.
    #[test]
    fn letters_are_read_as_the_cpg_says() {
        for (bytes, cpg, read) in [
            (b"\xc7\xe0\xeb\xe8\xe2".as_slice(), "1251", "\u{417}\u{430}\u{43b}\u{438}\u{432}"),
            (b"\xc7\xe0", "CP1251\r\n", "\u{417}\u{430}"),
            (b"\x8a\x9d", "windows-1250", "\u{160}\u{165}"),
            (b"\x82\xa0", "932", "\u{3042}"),
            (b"\xe9", "88591", "\u{e9}"),
            (b"\xc3\xa9", "UTF-8", "\u{e9}"),
            (b"plain", "something else", "plain"),
        ] {
            assert_eq!(name(bytes, Some(cpg)), Ok((Value::from(read), 0)), "{cpg}");
        }
    }

    #[test]
    fn letters_that_nobody_explains_are_told_or_refused() {
        assert_eq!(name(b"\xe9", None), Ok((Value::from("\u{e9}"), 1)));
        assert_eq!(name(b"\xe9", Some("UTF-8")), Ok((Value::from("\u{fffd}"), 1)));
        let refused = name(b"\xe9", Some("737")).unwrap_err().to_string();
        assert!(refused.contains("\"737\", which is not known here"), "{refused}");
    }
}
