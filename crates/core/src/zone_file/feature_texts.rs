//! Finds the features of a collection in its text, each for itself, without reading them.

/// The text of a collection, taken apart.
#[derive(Debug)]
pub(super) struct FeatureTexts<'t> {
    /// The text without its features: their list is empty.
    pub(super) frame: Vec<u8>,
    /// The text of each.
    pub(super) features: Vec<&'t [u8]>,
}

/// Takes a text apart; none if it is not plainly a collection. Nothing of what is found is known to be JSON.
pub(super) fn feature_texts(bytes: &[u8]) -> Option<FeatureTexts<'_>> {
    let mut scan = Scan { bytes, at: 0 };
    scan.expect(b'{')?;
    loop {
        let name = scan.text()?;
        scan.expect(b':')?;
        if name == b"features" && scan.peek()? == b'[' {
            break;
        }
        scan.skip_value()?;
        scan.expect(b',')?;
    }
    scan.expect(b'[')?;
    let begins = scan.at;
    let mut features = Vec::new();
    if scan.peek()? != b']' {
        loop {
            scan.peek().filter(|byte| *byte == b'{')?;
            let from = scan.at;
            scan.skip_value()?;
            features.push(&bytes[from..scan.at]);
            if scan.peek()? == b']' {
                break;
            }
            scan.expect(b',')?;
        }
    }
    let frame = [&bytes[..begins], &bytes[scan.at..]].concat();
    Some(FeatureTexts { frame, features })
}

struct Scan<'t> {
    bytes: &'t [u8],
    at: usize,
}

impl<'t> Scan<'t> {
    /// The next byte that is no white space; it is not passed.
    fn peek(&mut self) -> Option<u8> {
        loop {
            let byte = *self.bytes.get(self.at)?;
            if !matches!(byte, b' ' | b'\n' | b'\r' | b'\t') {
                return Some(byte);
            }
            self.at += 1;
        }
    }

    fn expect(&mut self, byte: u8) -> Option<()> {
        self.peek().filter(|found| *found == byte)?;
        self.at += 1;
        Some(())
    }

    /// A text in quotes, as it is written; passed.
    fn text(&mut self) -> Option<&'t [u8]> {
        self.expect(b'"')?;
        let from = self.at;
        self.skip_text()?;
        Some(&self.bytes[from..self.at - 1])
    }

    /// Passes the rest of a text and the quote that ends it.
    fn skip_text(&mut self) -> Option<()> {
        loop {
            match self.bytes.get(self.at)? {
                b'"' => {
                    self.at += 1;
                    return Some(());
                }
                b'\\' => self.at += 2,
                _ => self.at += 1,
            }
        }
    }

    /// Passes a value: an object or a list to its end, anything else to where it must end.
    fn skip_value(&mut self) -> Option<()> {
        let mut depth = 0_usize;
        self.peek()?;
        loop {
            match *self.bytes.get(self.at)? {
                b'"' => {
                    self.at += 1;
                    self.skip_text()?;
                    if depth == 0 {
                        return Some(());
                    }
                }
                b'{' | b'[' => {
                    depth += 1;
                    self.at += 1;
                }
                b'}' | b']' => {
                    if depth == 0 {
                        return Some(());
                    }
                    depth -= 1;
                    self.at += 1;
                    if depth == 0 {
                        return Some(());
                    }
                }
                b',' if depth == 0 => return Some(()),
                _ => self.at += 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken_apart(text: &str) -> Option<(String, Vec<&str>)> {
        let found = feature_texts(text.as_bytes())?;
        let features = found.features.iter().map(|text| std::str::from_utf8(text).unwrap()).collect();
        Some((String::from_utf8(found.frame).unwrap(), features))
    }

    #[test]
    fn features_are_found_whatever_stands_about_them() {
        let text = r#"{ "a": [1, "]\"}", {"features": [{}]}], "b":-1.5e3 , "features" : [ {"x":"}]"} , {"y":[{}]} ] , "c": null }"#;
        let (frame, features) = taken_apart(text).unwrap();
        assert_eq!(features, [r#"{"x":"}]"}"#, r#"{"y":[{}]}"#]);
        assert_eq!(
            frame,
            r#"{ "a": [1, "]\"}", {"features": [{}]}], "b":-1.5e3 , "features" : [] , "c": null }"#
        );
        assert_eq!(taken_apart(r#"{"features":[]}"#).unwrap().1.len(), 0);
    }

    #[test]
    fn what_is_not_plainly_a_collection_is_left_alone() {
        for text in [
            "",
            "{",
            "[]",
            "{}",
            r#"{"features":{}}"#,
            r#"{"features":[1]}"#,
            r#"{"features":[{}"#,
            r#"{"features":[{},]}"#,
            r#"{"features":[{} {}]}"#,
            r#"{"features":[{"#,
            r#"{"a":1}"#,
            r#"{"a":"\"#,
            r#"{"features":[{"a":"}]}"#,
        ] {
            assert!(feature_texts(text.as_bytes()).is_none(), "{text}");
        }
    }
}
