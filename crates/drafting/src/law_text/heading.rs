//! What a heading says for the rows below it: which coordinate comes first, and the hemispheres.

use takeline::{ParsePositionErrorKind, ParsedPosition, Position};

/// What the rows below a heading leave out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Heading {
    /// The longitude comes first.
    pub(super) longitude_first: bool,
    /// N or S.
    latitude: Option<char>,
    /// E or W.
    longitude: Option<char>,
}

impl Heading {
    /// Reads a line as a heading; none if it is something else.
    pub(super) fn of(text: &str) -> Option<Self> {
        if text.chars().any(|one| one.is_ascii_digit()) {
            return None;
        }
        let words: Vec<String> = text
            .split(|one: char| !one.is_alphabetic())
            .filter(|word| !word.is_empty())
            .map(str::to_lowercase)
            .collect();
        let place = |prefix: [&str; 2]| {
            words.iter().position(|word| word == prefix[0] || word.starts_with(prefix[1]))
        };
        let (latitude, longitude) = (place(["lat", "latitude"]), place(["long", "longitude"]));
        let longitude = longitude.or_else(|| words.iter().position(|word| word == "lon" || word == "lng"));
        let letter = |word: &String| match word.as_str() {
            "n" | "north" => Some('N'),
            "s" | "south" => Some('S'),
            "e" | "east" => Some('E'),
            "w" | "west" => Some('W'),
            _ => None,
        };
        let letters: Vec<char> = words.iter().filter_map(letter).collect();
        // two columns named by a letter each; “South West” may be the name of a place
        let only_letters = letters.len() == 2 && words.len() == 2 && words.iter().all(|word| word.len() == 1);
        let column = |name: &str| words.iter().position(|word| word == name);
        let (x, y) = (column("x"), column("y"));
        let (latitude, longitude) = if latitude.is_none() && longitude.is_none() && x.is_some() {
            (y, x)
        } else {
            (latitude, longitude)
        };
        if !only_letters && (latitude.is_none() || longitude.is_none()) {
            return None;
        }
        let one_of = |pair: [char; 2]| {
            let mut found = letters.iter().copied().filter(|letter| pair.contains(letter));
            found.next().filter(|_| found.next().is_none())
        };
        let longitude_first = match (latitude, longitude) {
            (Some(latitude), Some(longitude)) => longitude < latitude,
            _ => letters.first().is_some_and(|first| "EW".contains(*first)),
        };
        Some(Self { longitude_first, latitude: one_of(['N', 'S']), longitude: one_of(['E', 'W']) })
    }

    /// Reads a position that has neither letters nor signs by what the heading says; with its text, which then has them.
    pub(super) fn read(self, text: &str) -> Option<Result<(String, ParsedPosition), String>> {
        let bare = !text.chars().any(|one| one.is_alphabetic() && "nsewNSEW".contains(one));
        if !bare || (self.latitude.is_none() && self.longitude.is_none() && !self.longitude_first) {
            return None;
        }
        let (Some(latitude), Some(longitude)) = (self.latitude, self.longitude) else {
            return self.longitude_first.then(|| swapped(text));
        };
        if text.contains(['-', '−', '–', '+']) {
            return Some(Err("has a sign under a heading with N, S, E or W; keep one of the two".to_owned()));
        }
        let offers = match Position::parse(text) {
            Ok(_) => lettered(text, latitude, longitude, self.longitude_first),
            // only the letters are wanting: any other fault is in what is printed
            Err(error) if matches!(error.kind(), ParsePositionErrorKind::MissingHemisphere { .. }) => {
                error.readings().to_vec()
            }
            Err(error) => return Some(Err(error.to_string())),
        };
        let fits = |offer: &String| offer.contains(latitude) && offer.contains(longitude);
        let mut fitting = offers.into_iter().filter(fits);
        let (Some(one), None) = (fitting.next(), fitting.next()) else {
            return Some(Err(
                "cannot be read in one way with the hemispheres of the heading; write them beside it".into(),
            ));
        };
        if self.longitude_first && Position::parse(text).is_err() {
            let mend = "has minutes, and the heading has the longitude first; write N, S, E or W beside each coordinate";
            return Some(Err(mend.to_owned()));
        }
        Some(Position::parse(&one).map(|parsed| (one, parsed)).map_err(|error| error.to_string()))
    }
}

/// The two numbers of a text.
fn halves(text: &str) -> Option<[&str; 2]> {
    let parts: Vec<&str> = text
        .split([';', ' ', '\t', '|'])
        .map(|part| part.trim_matches(','))
        .filter(|part| !part.is_empty())
        .collect();
    match parts.as_slice() {
        [one, other] => Some([one, other]),
        [both] => both.split_once(',').map(|(one, other)| [one, other]),
        _ => None,
    }
}

fn lettered(text: &str, latitude: char, longitude: char, longitude_first: bool) -> Vec<String> {
    let Some([one, other]) = halves(text) else { return Vec::new() };
    let (north, east) = if longitude_first { (other, one) } else { (one, other) };
    vec![format!("{north} {latitude}, {east} {longitude}")]
}

fn swapped(text: &str) -> Result<(String, ParsedPosition), String> {
    let Some([longitude, latitude]) = halves(text) else {
        return Err(
            "cannot be cut into a longitude and a latitude; write N, S, E or W beside each".to_owned()
        );
    };
    let text = format!("{latitude}; {longitude}");
    Position::parse(&text).map(|parsed| (text, parsed)).map_err(|error| error.to_string())
}
