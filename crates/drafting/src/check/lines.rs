//! In which line of a file a member, a feature or a vertex stands.

use super::Spot;

/// The lines of a file and the places of its features.
#[derive(Debug)]
pub(super) struct Lines<'t> {
    bytes: &'t [u8],
    /// Where each line ends.
    ends: Vec<usize>,
    /// Where each feature begins.
    features: Vec<usize>,
}

/// One step into a value.
#[derive(Debug, Clone, Copy)]
enum Step<'s> {
    Member(&'s str),
    Entry(usize),
}

impl<'t> Lines<'t> {
    /// Takes a text that is JSON; of other texts nothing is found.
    pub(super) fn of(bytes: &'t [u8]) -> Self {
        let ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at).collect();
        let mut scan = Scan { bytes, at: 0 };
        let mut features = Vec::new();
        if scan.step(Step::Member("features")).is_some() && scan.take(b'[').is_some() {
            while scan.peek().is_some_and(|byte| byte != b']') {
                features.push(scan.at);
                if scan.skip_value().is_none() || scan.take(b',').is_none() {
                    break;
                }
            }
        }
        Self { bytes, ends, features }
    }

    /// The line of a spot, counted from 1: that of the innermost of its members that is found.
    pub(super) fn line(&self, spot: &Spot) -> Option<usize> {
        let at = match spot.feature {
            Some(feature) => {
                let from = *self.features.get(feature.checked_sub(1)?)?;
                self.vertex(from, spot).or_else(|| self.member(from, &spot.member)).unwrap_or(from)
            }
            None => self.walk(0, spot.member.iter().map(|word| step(word)))?,
        };
        Some(self.ends.partition_point(|end| *end < at) + 1)
    }

    fn vertex(&self, feature: usize, spot: &Spot) -> Option<usize> {
        let ring = spot.ring?.checked_sub(1)?;
        let part = spot.part.map(|part| Step::Entry(part.saturating_sub(1)));
        let vertex = spot.vertex.map(|vertex| Step::Entry(vertex.saturating_sub(1)));
        let way = [Step::Member("geometry"), Step::Member("coordinates")].into_iter();
        self.walk(feature, way.chain(part).chain([Step::Entry(ring)]).chain(vertex))
    }

    /// A member of a feature or, as the reader leaves that out, of its properties; else the one about it.
    fn member(&self, feature: usize, member: &[String]) -> Option<usize> {
        (1..=member.len()).rev().find_map(|count| {
            let steps = || member[..count].iter().map(|word| step(word));
            let inside = [Step::Member("properties")].into_iter().chain(steps());
            self.walk(feature, inside).or_else(|| self.walk(feature, steps()))
        })
    }

    fn walk<'s>(&self, from: usize, steps: impl Iterator<Item = Step<'s>>) -> Option<usize> {
        let mut scan = Scan { bytes: self.bytes, at: from };
        for step in steps {
            scan.step(step)?;
        }
        scan.peek()?;
        Some(scan.at)
    }
}

fn step(word: &str) -> Step<'_> {
    let entry = word.strip_prefix("entry ").and_then(|number| number.parse::<usize>().ok());
    entry.map_or(Step::Member(word), |number| Step::Entry(number.saturating_sub(1)))
}

/// A place in a text that is known to be JSON.
#[derive(Debug)]
struct Scan<'t> {
    bytes: &'t [u8],
    at: usize,
}

impl Scan<'_> {
    fn peek(&mut self) -> Option<u8> {
        loop {
            let byte = *self.bytes.get(self.at)?;
            // the byte order mark too
            if !matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | 0xEF | 0xBB | 0xBF) {
                return Some(byte);
            }
            self.at += 1;
        }
    }

    fn take(&mut self, byte: u8) -> Option<()> {
        self.peek().filter(|found| *found == byte)?;
        self.at += 1;
        Some(())
    }

    /// Goes to a member or an entry of the value here.
    fn step(&mut self, step: Step<'_>) -> Option<()> {
        match step {
            Step::Member(name) => {
                self.take(b'{')?;
                loop {
                    self.peek()?;
                    let from = self.at + 1;
                    self.skip_text()?;
                    let is_it = self.bytes.get(from..self.at - 1) == Some(name.as_bytes());
                    self.take(b':')?;
                    if is_it {
                        return Some(());
                    }
                    self.skip_value()?;
                    self.take(b',')?;
                }
            }
            Step::Entry(number) => {
                self.take(b'[')?;
                for _ in 0..number {
                    self.skip_value()?;
                    self.take(b',')?;
                }
                self.peek().filter(|byte| *byte != b']').map(|_| ())
            }
        }
    }

    fn skip_text(&mut self) -> Option<()> {
        self.take(b'"')?;
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

    fn skip_value(&mut self) -> Option<()> {
        let mut depth = 0_usize;
        self.peek()?;
        loop {
            match *self.bytes.get(self.at)? {
                b'"' => {
                    self.skip_text()?;
                    if depth == 0 {
                        return Some(());
                    }
                }
                b'{' | b'[' => {
                    depth += 1;
                    self.at += 1;
                }
                b'}' | b']' | b',' if depth == 0 => return Some(()),
                b'}' | b']' => {
                    depth -= 1;
                    self.at += 1;
                    if depth == 0 {
                        return Some(());
                    }
                }
                _ => self.at += 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "{ \"type\": \"FeatureCollection\",\n \"takeline\": { \"a\": [1,\n 2] },\n \"features\": [\n { \"id\": \"x\",\n \"geometry\": { \"coordinates\": [[[1, 2],\n [3, 4]]] },\n \"properties\": {\n \"when\": { \"any\": [ 1,\n 2 ] } } },\n {}\n] }";

    #[test]
    fn lines_of_features_members_and_vertices_are_found() {
        let lines = Lines::of(FILE.as_bytes());
        let line = |spot: Spot| lines.line(&spot);
        let of = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
        let feature = Some(1);
        assert_eq!(line(Spot { feature: Some(2), ..Spot::default() }), Some(11));
        assert_eq!(line(Spot { feature, ring: Some(1), vertex: Some(2), ..Spot::default() }), Some(7));
        assert_eq!(
            line(Spot { feature, member: of(&["when", "any", "entry 2"]), ..Spot::default() }),
            Some(10)
        );
        assert_eq!(line(Spot { feature, member: of(&["when", "nothing"]), ..Spot::default() }), Some(9));
        assert_eq!(line(Spot { member: of(&["takeline", "a", "entry 2"]), ..Spot::default() }), Some(3));
        assert_eq!(line(Spot { feature: Some(3), ..Spot::default() }), None);
        assert_eq!(Lines::of(b"no JSON").line(&Spot { feature, ..Spot::default() }), None);
    }
}
