//! Where in the text of a zone file each feature stands.

use serde::Deserialize;
use serde::de::IgnoredAny;

const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

/// The first byte of each feature of a feature collection, counted from 0, and how many bytes it has, in order.
///
/// For text that was read as a zone file; of other text it finds something or nothing.
pub(super) fn feature_places(bytes: &[u8]) -> Option<Vec<(usize, usize)>> {
    let mark = if bytes.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
    let mut text = Text { bytes, at: mark };
    text.take(b'{')?;
    loop {
        let name: String = text.value()?;
        text.take(b':')?;
        if name == "features" {
            break;
        }
        text.value::<IgnoredAny>()?;
        text.take(b',')?;
    }
    text.take(b'[')?;
    let mut found = Vec::new();
    while text.next()? != b']' {
        let start = text.at;
        text.value::<IgnoredAny>()?;
        found.push((start, text.at - start));
        if text.next()? == b',' {
            text.at += 1;
        }
    }
    Some(found)
}

/// JSON, and how far it was read.
struct Text<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Text<'_> {
    /// The next byte that is no blank, without going past it.
    fn next(&mut self) -> Option<u8> {
        let rest = self.bytes.get(self.at..)?;
        self.at += rest.iter().position(|byte| !matches!(byte, b' ' | b'\t' | b'\n' | b'\r'))?;
        self.bytes.get(self.at).copied()
    }

    /// Goes past one mark.
    fn take(&mut self, mark: u8) -> Option<()> {
        (self.next()? == mark).then(|| self.at += 1)
    }

    /// Reads one value and goes past it.
    fn value<T: for<'de> Deserialize<'de>>(&mut self) -> Option<T> {
        self.next()?;
        let mut values = serde_json::Deserializer::from_slice(self.bytes.get(self.at..)?).into_iter::<T>();
        let value = values.next()?.ok()?;
        self.at += values.byte_offset();
        Some(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Option<Vec<&str>> {
        let places = feature_places(text.as_bytes())?;
        Some(places.into_iter().map(|(start, length)| &text[start..start + length]).collect())
    }

    #[test]
    fn features_are_found_wherever_the_list_stands_and_whatever_is_in_them() {
        let odd = r#"{"a":"]},[\"{\\","b":[{"features":[7]}]}"#;
        let first =
            format!("{{\"features\" :\t[ {odd}\n,\r\n{{}} , 7,null ] , \"type\": \"FeatureCollection\"}}");
        assert_eq!(found(&first).unwrap(), [odd, "{}", "7", "null"]);
        let last =
            format!("\u{feff}\n{{\"bbox\":[1,2.5e3],\"n\":-1,\"x\":{odd},\"f\\u0065atures\":[{odd}]}}");
        assert_eq!(found(&last).unwrap(), [odd]);
        assert_eq!(found("{\"features\":[]}").unwrap(), Vec::<&str>::new());
    }

    #[test]
    fn text_that_is_no_collection_has_none() {
        for text in [
            "",
            "{",
            "[]",
            "{}",
            "{\"a\":1}",
            "{\"features\":7}",
            "{\"features\":[",
            "{\"features\":[{}",
            "{\"a\" 1}",
        ] {
            assert_eq!(found(text), None, "{text}");
        }
    }
}
