//! The words of a law beside its coordinates, all of them: each is part of a phrase that is understood, or one that cannot change a
//! shape, or it is left over.

use regex::Captures;

use super::datums;
use super::line::{SideWords, Statement};
use super::number::{Number, is_number_sign, number_at};
use super::patterns::{CORNERS, DEGREES, Effect, LONE, MARKER, NUMBERED, PHRASES, ROUND};
use super::units::{area_at, length_at};
use super::vocabulary::{Class, classed};

/// Something that no phrase holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LeftOver {
    pub(super) text: String,
    pub(super) class: Class,
}

/// What the words of a stretch of text say.
#[derive(Debug, Default)]
pub(super) struct Said {
    /// Of the side.
    pub(super) side: SideWords,
    /// Of all sides: only whether they are rhumb lines or geodesics.
    pub(super) all: SideWords,
    pub(super) statements: Vec<Statement>,
    /// A side that cannot be read, and why.
    pub(super) refused: Option<String>,
    /// What nobody here understands.
    pub(super) left: Vec<LeftOver>,
    /// The position that follows is a centre.
    pub(super) centre: bool,
    /// The only name in it, if it is nothing but a name.
    pub(super) name: Option<String>,
}

impl Said {
    /// Whether it says nothing, and leaves nothing over.
    pub(super) fn is_nothing(&self) -> bool {
        let Self { side, all, statements, refused, left, centre, name: _ } = self;
        side.is_empty()
            && !all.rhumb
            && !all.geodesic
            && statements.is_empty()
            && refused.is_none()
            && left.is_empty()
            && !centre
    }
}

/// Whether a line holds a character that stands for something else here.
pub(super) fn is_for_private_use(one: char) -> bool {
    ('\u{E000}'..='\u{F8FF}').contains(&one)
}

/// Reads a stretch of text without its positions. `begins`: it begins its line; `apart`: its line has no position.
pub(super) fn said(line: usize, text: &str, (begins, apart): (bool, bool)) -> Said {
    let words = |apart| SideWords { line, bearing_step_deg: 1.0, apart, ..SideWords::default() };
    let said =
        Said { side: words(apart), all: SideWords { of_all: true, ..words(apart) }, ..Said::default() };
    let mut scanner = Scanner {
        line,
        text,
        at: 0,
        begins,
        of_all: false,
        tos: 0,
        names: Vec::new(),
        announced: false,
        said,
    };
    scanner.run();
    scanner.finish()
}

struct Scanner<'t> {
    line: usize,
    text: &'t str,
    at: usize,
    begins: bool,
    /// What follows is said of all sides, until the sentence ends.
    of_all: bool,
    tos: usize,
    names: Vec<String>,
    /// A length was announced: “a distance of”.
    announced: bool,
    said: Said,
}

impl<'t> Scanner<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn before(&self) -> &'t str {
        self.text.get(..self.at).unwrap_or_default()
    }

    fn run(&mut self) {
        if self.said.side.apart
            && let Some(name) = LONE.captures(self.text).and_then(|found| found.name("name"))
        {
            self.said.name = Some(name.as_str().to_owned());
            self.at = self.text.len();
        } else if self.begins
            && let Some(marker) = MARKER.find(self.text)
        {
            self.at = marker.end();
        }
        while let Some(first) = self.rest().chars().next() {
            if first.is_whitespace() || is_punctuation(first) {
                self.of_all &= !matches!(first, '.' | ';');
                self.at += first.len_utf8();
            } else if !(self.number() || self.datum() || self.phrase()) {
                self.leave(first);
            }
        }
    }

    fn finish(mut self) -> Said {
        let trimmed = self.text.trim_end_matches(|one: char| !one.is_alphanumeric()).to_lowercase();
        if trimmed.ends_with("thence") || trimmed.ends_with("then") {
            self.said.side.legs -= self.said.side.legs.min(1);
        }
        let side = &mut self.said.side;
        side.twice |= side.legs > 1;
        // two ends, and words for at least one of them
        if self.tos > 1 && self.said.left.iter().any(|left| left.class == Class::Word) {
            for left in &mut self.said.left {
                left.class = if left.class == Class::Word { Class::Place } else { left.class };
            }
        }
        let is_only_length = SideWords { distance: None, ..side.clone() }.is_empty();
        if side.apart && side.distance.is_some() && is_only_length {
            let text = side.distance.take().map(|distance| distance.text).unwrap_or_default();
            let is_of_shape = self.announced || self.said.all.rhumb || self.said.all.geodesic;
            let class = if is_of_shape { Class::Outline } else { Class::Number };
            self.said.left.push(LeftOver { text, class });
        }
        let nothing_else =
            side.apart && side.is_empty() && self.said.left.is_empty() && self.said.statements.is_empty();
        if nothing_else && self.said.name.is_none() && self.names.len() == 1 {
            self.said.name = self.names.pop();
        }
        // the name of the point itself is not among these words
        let names = self.names.drain(..).map(|text| LeftOver { text, class: Class::Word });
        self.said.left.extend(names);
        self.said
    }

    fn leave(&mut self, first: char) {
        let rest = self.rest();
        let in_word = |one: char| one.is_alphanumeric() || matches!(one, '\'' | '’' | '_');
        let in_number = |one: char| {
            one.is_alphanumeric() || matches!(one, '.' | ',' | '/' | ':' | '\'' | '’' | '°' | '′' | '″' | '"')
        };
        let text: String = if is_number_sign(first) {
            rest.chars().take_while(|one| in_number(*one)).collect()
        } else if first.is_alphabetic() {
            rest.chars().take_while(|one| in_word(*one)).collect()
        } else {
            first.to_string()
        };
        self.at += text.len();
        let text = text.trim_end_matches(['.', ',', ':', '\'', '’', '"']).to_owned();
        let class = if is_number_sign(first) { Class::Number } else { classed(&text) };
        // a capital A inside a sentence is a name, no article
        let before = self.text.get(..self.at - text.len()).unwrap_or_default().trim_end();
        let is_name = text == "A" && !before.is_empty() && !before.ends_with(['.', ';', ':', ',', ')']);
        let class = if is_name { Class::Word } else { class };
        let next = self.rest().trim_start().to_lowercase();
        let is_whole = text.eq_ignore_ascii_case("all")
            && ["waters", "the waters", "that area", "the area"].iter().any(|one| next.starts_with(one));
        let class = if is_whole { Class::Harmless } else { class };
        if class != Class::Harmless {
            self.said.left.push(LeftOver { text, class });
        }
    }

    /// A number with what makes it a quantity, a bearing or a count.
    fn number(&mut self) -> bool {
        let rest = self.rest();
        if let Some((len, text, readings_m2)) = area_at(rest) {
            let line = self.line;
            self.said.statements.push(Statement::Area { line, text, readings_m2 });
            self.at += len;
            return true;
        }
        if number_at(rest).is_some()
            && let Some((len, quantity)) = length_at(rest)
        {
            let round = rest.get(len..).and_then(|behind| ROUND.captures(behind));
            let role = match round.as_ref().map(|round| round["what"].to_lowercase()) {
                Some(what) if what == "radius" => Effect::Radius,
                Some(_) => Effect::Diameter,
                None => Effect::Distance,
            };
            self.at += len + round.and_then(|round| round.get(0)).map_or(0, |round| round.end());
            self.keep(role, quantity);
            return true;
        }
        let Some(number) = number_at(rest) else { return false };
        if self.bearing(&number, false) {
            return true;
        }
        let is_name = number.has_digits
            && (NUMBERED.is_match(self.before()) || (self.begins && self.before().trim().is_empty()));
        let corners = rest.get(number.len..).and_then(|behind| CORNERS.find(behind));
        let count = number.readings.first().map_or(0.0, |(value, _)| *value);
        if let Some(corners) =
            corners.filter(|_| !is_name && count.fract() == 0.0 && (0.0..1.0e6).contains(&count))
        {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and below a million"
            )]
            self.said.statements.push(Statement::Corners { line: self.line, count: count as usize });
            self.at += number.len + corners.end();
            return true;
        }
        false
    }

    fn keep(&mut self, role: Effect, quantity: super::line::Quantity) {
        let side = &mut self.said.side;
        let quantity = if role == Effect::Diameter { halved(&quantity) } else { quantity };
        let slot = if role == Effect::Distance { &mut side.distance } else { &mut side.radius };
        side.twice |= slot.is_some();
        slot.get_or_insert(quantity);
    }

    /// A number of degrees. `named`: the word bearing stands before it.
    fn bearing(&mut self, number: &Number, named: bool) -> bool {
        let rest = self.rest();
        let behind = rest.get(number.len..).unwrap_or_default();
        let Some(found) = DEGREES.captures(behind) else { return false };
        let kind = found.name("kind").map(|kind| kind.as_str().to_lowercase());
        let after =
            behind.get(found.get(0).map_or(0, |whole| whole.end())..).unwrap_or_default().trim_start();
        let is_angle = found.name("sign").is_some() || kind.as_deref().is_some_and(|kind| kind != "m");
        if !number.has_digits || !(named || is_angle) || after.starts_with(|one: char| one.is_numeric()) {
            return false;
        }
        let Some((degrees, half)) = number.readings.first().copied().filter(|(degrees, _)| *degrees <= 360.0)
        else {
            return false;
        };
        if kind.as_deref().is_some_and(|kind| kind.starts_with('m') || kind == "grid") {
            let text =
                "a magnetic or grid bearing needs the variation that the law means; write the true bearing";
            self.said.refused = Some(text.to_owned());
        }
        let side = &mut self.said.side;
        side.twice |= side.bearing_deg.is_some();
        side.bearing_deg = Some(degrees);
        side.bearing_step_deg = 2.0 * half;
        self.at += rest.len() - after.len();
        true
    }

    fn datum(&mut self) -> bool {
        let line = self.line;
        if let Some((len, name, again)) = datums::named(self.rest()) {
            let names = [Some(name), again].into_iter().flatten();
            self.said.statements.extend(names.map(|name| Statement::Datum { line, name }));
            self.at += len;
            return true;
        }
        if let Some((len, name)) = datums::unknown(self.before(), self.rest()) {
            self.said.statements.push(Statement::Datum { line, name });
            self.at += len;
            return true;
        }
        false
    }

    fn phrase(&mut self) -> bool {
        let rest = self.rest();
        PHRASES
            .iter()
            .any(|(pattern, effect)| pattern.captures(rest).is_some_and(|found| self.effect(*effect, &found)))
    }

    /// Takes in a phrase; false where what stands about it makes it something else.
    fn effect(&mut self, effect: Effect, found: &Captures<'_>) -> bool {
        let whole = found.get(0).map_or("", |whole| whole.as_str());
        let behind = self.rest().get(whole.len()..).unwrap_or_default();
        let mut taken = whole.len();
        let all = self.of_all
            || found.name("lines").is_some_and(|lines| lines.as_str().to_lowercase().ends_with('s'));
        match effect {
            Effect::OfAll => self.of_all = true,
            Effect::Rhumb | Effect::Geodesic => {
                let plural = whole.to_lowercase().trim_end().ends_with('s');
                let words = if all || plural { &mut self.said.all } else { &mut self.said.side };
                words.rhumb |= effect == Effect::Rhumb;
                words.geodesic |= effect == Effect::Geodesic;
            }
            Effect::Radius | Effect::Diameter | Effect::Distance | Effect::Bearing => {
                self.at += taken;
                let is_read = self.measured(effect, behind);
                self.at -= if is_read { 0 } else { taken };
                return is_read;
            }
            Effect::Centre => self.said.centre = true,
            Effect::About => {
                let next = behind.trim_start();
                let is_last = next.is_empty()
                    || ["the ", "a point", "point", "(", "lat"].iter().any(|one| next.starts_with(one));
                let is_round = self.said.side.radius.is_some() || self.said.side.circle || self.said.side.arc;
                let is_centre = is_round && is_last;
                self.said.centre |= is_centre;
                if !is_centre {
                    if whole.eq_ignore_ascii_case("around") {
                        return false;
                    }
                    self.approximate(whole);
                }
            }
            Effect::Approximate => self.approximate(whole),
            Effect::To => self.tos += 1,
            Effect::Name => {
                self.names.push(found["name"].to_owned());
                // what stands behind the name is not part of it
                taken = found.name("name").map_or(taken, |name| name.end());
            }
            Effect::Nothing => {}
            Effect::Along
            | Effect::Due
            | Effect::Towards
            | Effect::Shore
            | Effect::Arc
            | Effect::Circle
            | Effect::Turn
            | Effect::Returns
            | Effect::ReturnsTo
            | Effect::Leg => return self.side(effect, found, (whole, behind)),
        }
        self.at += taken;
        true
    }

    /// What a phrase says of a side.
    #[expect(clippy::wildcard_enum_match_arm, reason = "the others are in the function before")]
    fn side(&mut self, effect: Effect, found: &Captures<'_>, (whole, behind): (&str, &str)) -> bool {
        let side = &mut self.said.side;
        let mut taken = whole.len();
        match effect {
            Effect::Along => {
                let next = behind.trim_start().to_lowercase();
                if next.starts_with("to the") || next.starts_with("with") {
                    return false;
                }
                let parallel = found["line"].eq_ignore_ascii_case("parallel");
                side.twice |= side.parallel.is_some_and(|other| other != parallel);
                (side.parallel, side.rhumb) = (Some(parallel), true);
            }
            Effect::Due => {
                // due east of a mark is a place, no course
                if behind.trim_start().starts_with("of") {
                    return false;
                }
                let name = ["quarter", "quarter2", "quarter3"].iter().find_map(|name| found.name(name));
                side.twice |= side.bearing_deg.is_some();
                side.bearing_deg = name.and_then(|name| course_deg(name.as_str()));
                side.rhumb = true;
            }
            Effect::Towards => {
                let Some(course) = course_deg(&found["course"]) else { return false };
                if behind.trim_start().starts_with("of") {
                    return false;
                }
                side.twice |= side.towards_deg.is_some();
                side.towards_deg = Some(course);
                taken -= found.name("before").map_or(0, |before| before.len());
            }
            Effect::Shore => {
                let level = found["shore"].to_lowercase();
                side.twice |= side.shore.is_some();
                side.shore = Some(level.split_whitespace().collect::<Vec<_>>().join(" "));
            }
            Effect::Arc => {
                side.twice |= side.arc;
                side.arc = true;
            }
            Effect::Circle => {
                side.twice |= side.circle;
                side.circle = true;
            }
            Effect::Turn => {
                let clockwise = found.name("anti").is_none();
                side.twice |= side.clockwise.is_some_and(|other| other != clockwise);
                side.clockwise = Some(clockwise);
            }
            Effect::Returns | Effect::ReturnsTo => {
                let name = found.name("name").map_or("", |name| name.as_str());
                side.twice |= side.returns.is_some();
                side.returns = Some(name.to_owned());
            }
            Effect::Leg => side.legs += 1,
            _ => return false,
        }
        self.at += taken;
        true
    }

    /// The number that a word such as radius announces.
    fn measured(&mut self, effect: Effect, behind: &str) -> bool {
        let lead =
            ["approximately ", "about ", "not less than "].iter().find(|lead| behind.starts_with(**lead));
        let lead = lead.filter(|lead| !lead.starts_with("not")).copied().unwrap_or_default();
        let plain = behind.get(lead.len()..).unwrap_or_default();
        self.at += lead.len();
        let is_read = if effect == Effect::Bearing {
            number_at(plain).is_some_and(|number| self.bearing(&number, true))
        } else if let Some((len, quantity)) = length_at(plain) {
            let round = plain.get(len..).and_then(|rest| ROUND.captures(rest));
            let is_diameter =
                round.as_ref().is_some_and(|round| round["what"].eq_ignore_ascii_case("diameter"));
            // within so much, and across
            self.said.side.twice |= is_diameter && effect == Effect::Radius;
            let role = if is_diameter {
                Effect::Diameter
            } else if round.is_some() {
                Effect::Radius
            } else {
                effect
            };
            self.at += len + round.and_then(|round| round.get(0)).map_or(0, |round| round.end());
            self.keep(role, quantity);
            true
        } else {
            false
        };
        self.announced |= is_read && effect == Effect::Distance;
        if is_read && !lead.is_empty() {
            self.approximate(lead);
        }
        self.at -= if is_read { 0 } else { lead.len() };
        is_read
    }

    fn approximate(&mut self, word: &str) {
        let word = word.trim().to_lowercase();
        self.said.statements.push(Statement::Approximate { line: self.line, word });
    }
}

fn halved(quantity: &super::line::Quantity) -> super::line::Quantity {
    let mut half = quantity.settled(quantity.metres, 0.5);
    half.readings_m = quantity.readings_m.iter().map(|metres| metres / 2.0).collect();
    half
}

/// Marks that only set words apart.
fn is_punctuation(one: char) -> bool {
    ",;:.()[]{}\"'“”‘’„«»-–—‐‑‒|/•·▪…&=".contains(one)
}

/// A course in words, in degrees: up to three compass words.
fn course_deg(text: &str) -> Option<f64> {
    let lower = text.to_lowercase();
    let mut letters = String::new();
    let mut rest = lower.as_str();
    while !rest.is_empty() {
        let word = ["north", "south", "east", "west"].into_iter().find(|word| rest.starts_with(word));
        match word {
            Some(word) => {
                letters.push_str(&word[..1]);
                rest = &rest[word.len()..];
            }
            None => rest = rest.get(rest.chars().next()?.len_utf8()..)?,
        }
    }
    let points =
        ["n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"];
    let at = points.iter().position(|point| *point == letters)?;
    u8::try_from(at).ok().map(|at| f64::from(at) * 22.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pattern_compiles_and_is_tried() {
        assert!(PHRASES.len() > 20);
        for text in ["articles", "1)", "A.", "60° true", " in radius", " following points"] {
            let _ =
                (NUMBERED.is_match(text), MARKER.is_match(text), LONE.is_match(text), DEGREES.is_match(text));
            let _ = (ROUND.is_match(text), CORNERS.is_match(text));
        }
    }

    #[test]
    fn courses_are_compass_points() {
        for (text, expected) in [
            ("North", Some(0.0)),
            ("south-east", Some(135.0)),
            ("east south east", Some(112.5)),
            ("north-south", None),
        ] {
            assert_eq!(course_deg(text), expected, "{text}");
        }
    }
}
