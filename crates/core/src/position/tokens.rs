//! Cuts a text into the numbers, marks and words that positions are written with.

use super::error::{Axis, ParsePositionErrorKind as Kind};

/// More pieces than the longest spelt-out position has ("56 degrees 06 minutes 16 seconds North latitude", twice, is 17).
const MOST_TOKENS: usize = 32;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Degree,
    /// A `?` or replacement character where a degree sign may have been.
    Doubtful,
    Minute,
    Second,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum TokenKind {
    Number(Number),
    Mark(Mark),
    /// One of N, S, E, W.
    Hemisphere(char),
    AxisWord(Axis),
    Sign {
        negative: bool,
    },
    /// `glued`: a digit stands directly on both sides, so it may be a decimal comma.
    Comma {
        glued: bool,
    },
    /// A semicolon or a slash.
    Break,
    Colon,
}

/// An unsigned decimal number as printed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    /// Digits with at most one point.
    pub(super) text: String,
    /// The number stands directly behind the point of an abbreviation: `deg.33`.
    pub(super) behind_point: bool,
}

impl Number {
    pub(super) fn value(&self) -> f64 {
        // digits with at most one point between two of them: always a number, at worst an infinite one
        self.text.parse().unwrap_or(f64::INFINITY)
    }

    pub(super) fn whole_digits(&self) -> usize {
        self.text.find('.').unwrap_or(self.text.len())
    }

    pub(super) fn decimals(&self) -> usize {
        self.text.find('.').map_or(0, |point| self.text.len() - point - 1)
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Token {
    pub(super) kind: TokenKind,
    pub(super) start: usize,
    pub(super) end: usize,
}

/// Cuts `text` into tokens, blanks dropped.
pub(super) fn cut(text: &str) -> Result<Vec<Token>, Kind> {
    let mut cutter = Cutter { text, at: 0, tokens: Vec::new() };
    while cutter.next_token()? {
        if cutter.tokens.len() > MOST_TOKENS {
            return Err(Kind::NotACoordinate { piece: text.to_owned() });
        }
    }
    Ok(cutter.tokens)
}

struct Cutter<'a> {
    text: &'a str,
    at: usize,
    tokens: Vec<Token>,
}

impl Cutter<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn before(&self) -> Option<char> {
        self.text.get(..self.at)?.chars().next_back()
    }

    fn last(&self) -> Option<&TokenKind> {
        self.tokens.last().map(|token| &token.kind)
    }

    /// True if nothing, not even a blank, stands between the last token and this place.
    fn is_glued(&self) -> bool {
        self.tokens.last().is_some_and(|token| token.end == self.at)
    }

    /// The text around a place, for complaints: from the last token to a few characters on.
    fn around(&self) -> String {
        let start = self.tokens.last().map_or(self.at, |token| token.start);
        let ahead: String =
            self.rest().chars().take_while(|next| !is_blank(*next) && *next != ',').take(12).collect();
        let back = self.text.get(start..self.at).unwrap_or_default();
        format!("{back}{ahead}")
    }

    fn push(&mut self, kind: TokenKind, length: usize) {
        let start = self.at;
        self.at += length;
        self.tokens.push(Token { kind, start, end: self.at });
    }

    /// Reads one token or one blank; false at the end.
    fn next_token(&mut self) -> Result<bool, Kind> {
        let Some(character) = self.peek() else { return Ok(false) };
        let length = character.len_utf8();
        match character {
            _ if is_blank(character) => self.at += length,
            '0'..='9' => self.number()?,
            'A'..='Z' | 'a'..='z' => self.word()?,
            '.' => self.point()?,
            '-' | '−' | '–' | '‐' | '‑' | '﹣' | '－' | '+' => self.sign(character)?,
            ',' => self.comma(),
            ';' | '/' => self.push(TokenKind::Break, length),
            ':' => self.push(TokenKind::Colon, length),
            _ => self.mark(character)?,
        }
        Ok(true)
    }

    fn number(&mut self) -> Result<(), Kind> {
        let whole = digits(self.rest());
        let after = self.rest().get(whole..).unwrap_or_default();
        let decimals = after.strip_prefix('.').map_or(0, digits);
        let length = if decimals == 0 { whole } else { whole + 1 + decimals };
        let text = self.rest().get(..length).unwrap_or_default().to_owned();
        let behind_point = self.before() == Some('.');
        self.push(TokenKind::Number(Number { text, behind_point }), length);
        let next = self.rest();
        if next.strip_prefix('.').is_some_and(|more| digits(more) > 0) {
            return Err(Kind::TwoPoints { piece: self.around() });
        }
        Ok(())
    }

    /// A point outside a number: the end of an abbreviation, or a point printed behind its mark, as in `24′.21`.
    fn point(&mut self) -> Result<(), Kind> {
        let decimals = digits(self.rest().get(1..).unwrap_or_default());
        let stray = Kind::StrayPoint { piece: self.around() };
        let glued = self.is_glued();
        if decimals == 0 {
            let ends_a_mark = matches!(self.last(), Some(TokenKind::Mark(_))) && glued;
            self.at += 1;
            return if ends_a_mark { Ok(()) } else { Err(stray) };
        }
        let fraction = self.rest().get(..=decimals).unwrap_or_default().to_owned();
        let next = self.rest().get(fraction.len()..).unwrap_or_default();
        let marked = next.trim_start().chars().next().is_some_and(is_mark);
        let [.., Token { kind: TokenKind::Number(number), .. }, mark] = self.tokens.as_mut_slice() else {
            return Err(stray);
        };
        let doubtful = mark.kind == TokenKind::Mark(Mark::Doubtful);
        if !matches!(mark.kind, TokenKind::Mark(_)) || doubtful || !glued || marked || number.decimals() > 0 {
            return Err(stray);
        }
        number.text.push_str(&fraction);
        self.at += fraction.len();
        mark.end = self.at;
        Ok(())
    }

    fn sign(&mut self, character: char) -> Result<(), Kind> {
        let length = character.len_utf8();
        let next = self.rest().get(length..).unwrap_or_default().chars().next();
        let inside = self.is_glued()
            && matches!(self.last(), Some(TokenKind::Number(_) | TokenKind::Mark(_) | TokenKind::Colon));
        if inside {
            return Err(Kind::SignInside { piece: self.around() });
        }
        if next == Some('.') {
            return Err(Kind::StrayPoint { piece: self.around() });
        }
        if !next.is_some_and(|next| next.is_ascii_digit()) {
            return Err(Kind::DetachedSign { piece: self.around() });
        }
        self.push(TokenKind::Sign { negative: character != '+' }, length);
        Ok(())
    }

    fn comma(&mut self) {
        let digit_before = self.before().is_some_and(|before| before.is_ascii_digit());
        let digit_after = self.rest().chars().nth(1).is_some_and(|after| after.is_ascii_digit());
        self.push(TokenKind::Comma { glued: digit_before && digit_after }, 1);
    }

    fn mark(&mut self, character: char) -> Result<(), Kind> {
        let length = character.len_utf8();
        let behind_number = matches!(self.last(), Some(TokenKind::Number(_)));
        match character {
            '°' | 'º' | '˚' | '∘' => self.push(TokenKind::Mark(Mark::Degree), length),
            // what ° turns into when bytes of one code page are read as another
            'ø' | '<' | 'Â' if behind_number && self.is_glued() => return self.corrupted_degree(),
            '?' | '\u{FFFD}' => return self.doubtful(length),
            _ if is_minute(character) => {
                let doubled = self.rest().chars().nth(1) == Some(character);
                let mark = if doubled { Mark::Second } else { Mark::Minute };
                self.push(TokenKind::Mark(mark), if doubled { 2 * length } else { length });
            }
            _ if is_second(character) => self.push(TokenKind::Mark(Mark::Second), length),
            _ => return Err(Kind::UnknownCharacter { piece: character.to_string() }),
        }
        Ok(())
    }

    fn corrupted_degree(&mut self) -> Result<(), Kind> {
        for form in ["ø", "<>", "Â°", "Âº"] {
            if self.rest().starts_with(form) {
                self.push(TokenKind::Mark(Mark::Degree), form.len());
                return Ok(());
            }
        }
        Err(Kind::UnreadableMark { piece: self.around() })
    }

    /// A `?` counts as a degree sign only between two digits; whether it does is for the coordinate to say.
    fn doubtful(&mut self, length: usize) -> Result<(), Kind> {
        let behind_number = self.is_glued() && matches!(self.last(), Some(TokenKind::Number(_)));
        let next = self.rest().get(length..).unwrap_or_default().chars().next();
        if behind_number && next.is_some_and(|next| next.is_ascii_digit()) {
            self.push(TokenKind::Mark(Mark::Doubtful), length);
            return Ok(());
        }
        Err(Kind::UnreadableMark { piece: self.around() })
    }

    fn word(&mut self) -> Result<(), Kind> {
        let letters = self.rest().bytes().take_while(u8::is_ascii_alphabetic).count();
        let word = self.rest().get(..letters).unwrap_or_default().to_ascii_lowercase();
        let first = word.get(..1).unwrap_or_default().to_owned();
        let east_glued_to_digits = word == "e" && self.before().is_some_and(|before| before.is_ascii_digit());
        if east_glued_to_digits && self.is_power_of_ten() {
            return Err(Kind::Exponent { piece: self.around() });
        }
        if first == "s" && self.is_seconds_letter(&word)? {
            self.push(TokenKind::Mark(Mark::Second), 1);
            return Ok(());
        }
        if let Some(kind) = word_kind(&word) {
            self.push(kind, letters);
            self.abbreviation_point();
            return Ok(());
        }
        // `45degN`, `07minS`: a mark word with a hemisphere letter glued to it. Not one that makes a plural.
        let (stem, last) = word.split_at(letters.saturating_sub(1));
        match (word_kind(stem), word_kind(last)) {
            (Some(TokenKind::Mark(mark)), Some(TokenKind::Hemisphere(_)))
                if last != "s" || stem.len() == 1 =>
            {
                self.push(TokenKind::Mark(mark), stem.len());
                Ok(())
            }
            (Some(TokenKind::Mark(_)), _) if last == "s" => Err(Kind::SecondsOrSouth { piece: word }),
            _ => Err(Kind::UnknownWord { piece: self.rest().get(..letters).unwrap_or_default().to_owned() }),
        }
    }

    /// An E between digits is east only in a text that writes its hemispheres first, as in `N45.1E030.1`.
    fn is_power_of_ten(&self) -> bool {
        let letter_first = self
            .tokens
            .iter()
            .find(|token| matches!(token.kind, TokenKind::Number(_) | TokenKind::Hemisphere(_)))
            .is_some_and(|token| matches!(token.kind, TokenKind::Hemisphere(_)));
        let mut ahead = self.rest().chars().skip(1);
        let next = ahead.next();
        let digit = |character: Option<char>| character.is_some_and(|character| character.is_ascii_digit());
        !letter_first && (digit(next) || (matches!(next, Some('-' | '+' | '−')) && digit(ahead.next())))
    }

    /// Tells `03s` in `45d07m03sN` from south: letters were used as marks and a hemisphere follows.
    fn is_seconds_letter(&self, word: &str) -> Result<bool, Kind> {
        let letter_minutes = self.tokens.iter().any(|token| {
            let text = self.text.get(token.start..token.end).unwrap_or_default();
            text.eq_ignore_ascii_case("m") || text.eq_ignore_ascii_case("min")
        });
        let behind_number = matches!(self.last(), Some(TokenKind::Number(_)));
        if !letter_minutes || !behind_number || !matches!(word, "s" | "sn" | "ss" | "se" | "sw") {
            return Ok(false);
        }
        let after = self.rest().get(1..).unwrap_or_default().trim_start();
        let next: String = after.chars().take_while(char::is_ascii_alphabetic).collect();
        match word_kind(&next.to_ascii_lowercase()) {
            Some(TokenKind::Hemisphere(_)) => Ok(true),
            _ => Err(Kind::SecondsOrSouth { piece: self.around() }),
        }
    }

    /// Takes in the point of `deg.`, `N.` and `lat.`, and the colon or equals sign of `lat:`.
    fn abbreviation_point(&mut self) {
        if self.peek() == Some('.') {
            self.at += 1;
        }
        let is_axis = matches!(self.last(), Some(TokenKind::AxisWord(_)));
        if is_axis && matches!(self.peek(), Some(':' | '=')) {
            self.at += 1;
        }
        if let Some(token) = self.tokens.last_mut() {
            token.end = self.at;
        }
    }
}

fn word_kind(word: &str) -> Option<TokenKind> {
    Some(match word {
        "n" | "north" => TokenKind::Hemisphere('N'),
        "s" | "south" => TokenKind::Hemisphere('S'),
        "e" | "east" => TokenKind::Hemisphere('E'),
        "w" | "west" => TokenKind::Hemisphere('W'),
        "lat" | "latitude" => TokenKind::AxisWord(Axis::Latitude),
        "lon" | "long" | "lng" | "longitude" => TokenKind::AxisWord(Axis::Longitude),
        "d" | "deg" | "degree" | "degrees" => TokenKind::Mark(Mark::Degree),
        "m" | "min" | "minute" | "minutes" => TokenKind::Mark(Mark::Minute),
        "sec" | "second" | "seconds" => TokenKind::Mark(Mark::Second),
        _ => return None,
    })
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

fn is_blank(character: char) -> bool {
    character.is_whitespace()
        || matches!(character, '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2060}' | '\u{FEFF}')
}

fn is_minute(character: char) -> bool {
    matches!(character, '\'' | '′' | '’' | '‘' | '`' | '´' | 'ʹ' | 'ʼ')
}

fn is_second(character: char) -> bool {
    matches!(character, '"' | '″' | '”' | '“' | 'ʺ')
}

fn is_mark(character: char) -> bool {
    is_minute(character) || is_second(character) || matches!(character, '°' | 'º' | '˚' | '∘' | '?' | 'ø')
}
