use chrono::{NaiveDate, NaiveTime};
use nmea::sentences::rmc::RmcStatusOfFix;
use nmea::sentences::{FaaMode, FixType, parse_gga, parse_gll, parse_gns, parse_rmc, parse_zda};
use nmea::{NmeaSentence, SentenceType};
use takeline::Position;

use crate::csv_track::KNOT_M_PER_S;
use crate::notes::shown;
use crate::number;

/// Kinds of sentences that are read. The later ones say more about a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// Errors of the position of that time.
    Gst,
    Zda,
    Gll,
    Rmc,
    Gns,
    Gga,
}

/// Whether the receiver stands by the position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    /// Measured, or a sentence that says nothing about it.
    Good,
    /// Reckoned, typed in or simulated.
    NotMeasured,
    /// The receiver says that it is void.
    Void,
}

/// What one sentence says.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sentence {
    pub(super) kind: Kind,
    pub(super) talker: [u8; 2],
    /// Nanoseconds since midnight.
    pub(super) time_of_day_ns: Option<i64>,
    /// Days since 1970-01-01.
    pub(super) day: Option<i64>,
    pub(super) position: Option<Position>,
    /// Why it tells no position, in words, where it has one that is impossible.
    pub(super) impossible: Option<String>,
    pub(super) standing: Standing,
    pub(super) hdop: Option<f64>,
    /// The greatest standard error in any one direction, in metres.
    pub(super) sigma_m: Option<f64>,
    pub(super) speed_m_per_s: Option<f64>,
}

/// Why a line gives no sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Refusal {
    /// Something else that belongs in such a log, or nothing at all.
    NotOurs,
    /// The checksum is another one.
    Checksum { computed: u8, found: u8 },
    /// Damaged, in words.
    Damaged(String),
}

/// A sentence with the sign of what is before it taken off.
#[derive(Debug)]
pub(super) struct Framed<'a> {
    /// From behind `$` to before `*`.
    body: &'a str,
    /// The checksum, if there is one.
    found: Option<u8>,
    /// Something before it was lost: a second `$`.
    pub(super) lost_before: bool,
}

/// Whether a line begins like a sentence; for telling the format of a log.
pub(crate) fn looks_like_one(line: &[u8]) -> bool {
    let Some(start) = line.iter().position(|byte| matches!(byte, b'$' | b'!')) else { return false };
    let address = &line[start + 1..];
    let length = address.iter().take_while(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit()).count();
    (4..=8).contains(&length) && address.get(length) == Some(&b',')
}

/// Finds the sentence in a line. Text before it (a clock of the logger, a tag block) and after its checksum is passed over.
pub(super) fn frame(line: &[u8]) -> Result<Framed<'_>, Refusal> {
    let Some(start) = line.iter().rposition(|byte| *byte == b'$') else { return Err(Refusal::NotOurs) };
    let lost_before = memchr::memchr(b'$', line).is_some_and(|first| first < start);
    let rest = line[start + 1..].trim_ascii_end();
    let text = std::str::from_utf8(rest).ok().filter(|text| text.is_ascii());
    let text = text.ok_or_else(|| Refusal::Damaged("it has bytes that are not ASCII".to_owned()))?;
    let Some((body, after)) = text.split_once('*') else {
        return Ok(Framed { body: text, found: None, lost_before });
    };
    let found = after.get(..2).and_then(|digits| u8::from_str_radix(digits, 16).ok());
    let found =
        found.ok_or_else(|| Refusal::Damaged("its checksum is not two hexadecimal digits".to_owned()))?;
    Ok(Framed { body, found: Some(found), lost_before })
}

impl Framed<'_> {
    pub(super) fn has_checksum(&self) -> bool {
        self.found.is_some()
    }

    /// Reads the sentence if it is one that tells position, time or date.
    pub(super) fn read(&self) -> Result<Sentence, Refusal> {
        let (address, fields) = self.body.split_once(',').unwrap_or((self.body, ""));
        if address.starts_with('P') {
            return Err(Refusal::NotOurs);
        }
        let (Some(talker), Some(kind), 5) = (address.get(..2), address.get(2..), address.len()) else {
            return Err(Refusal::Damaged("it does not begin with a talker and a sentence type".to_owned()));
        };
        let kind = match kind {
            "GGA" => Kind::Gga,
            "GNS" => Kind::Gns,
            "RMC" => Kind::Rmc,
            "GLL" => Kind::Gll,
            "ZDA" => Kind::Zda,
            "GST" => Kind::Gst,
            _ => return Err(Refusal::NotOurs),
        };
        let computed = self.body.bytes().fold(0, |sum, byte| sum ^ byte);
        if let Some(found) = self.found.filter(|found| *found != computed) {
            return Err(Refusal::Checksum { computed, found });
        }
        let read = read_fields(kind, talker, fields, computed)?;
        let mut letters = [0; 2];
        letters.copy_from_slice(&talker.as_bytes()[..2]);
        // the parser does not look at the digits, and makes a place of them all the same
        let impossible = impossible_digits(kind, fields).or(read.impossible);
        let position = read.position.filter(|_| impossible.is_none());
        Ok(Sentence { talker: letters, position, impossible, ..read })
    }
}

fn read_fields(kind: Kind, talker: &str, fields: &str, checksum: u8) -> Result<Sentence, Refusal> {
    let sentence = |message_id, data| NmeaSentence { talker_id: talker, message_id, data, checksum };
    match kind {
        Kind::Gga => parse_gga(sentence(SentenceType::GGA, fields)).map_err(damaged).map(|read| {
            let standing = read.fix_type.map_or(Standing::Good, standing_of_fix);
            let mut made = plain(kind, time_ns(read.fix_time), read.latitude.zip(read.longitude), standing);
            made.hdop = figure(read.hdop);
            made
        }),
        Kind::Gns => parse_gns(sentence(SentenceType::GNS, fields)).map_err(damaged).map(|read| {
            let standing = standing_of_fix(FixType::from(read.faa_modes));
            let mut made = plain(kind, time_ns(read.fix_time), read.lat.zip(read.lon), standing);
            made.hdop = figure(read.hdop);
            made
        }),
        Kind::Rmc => parse_rmc(sentence(SentenceType::RMC, fields)).map_err(damaged).map(|read| {
            let is_void = read.status_of_fix == RmcStatusOfFix::Invalid;
            let standing = if is_void { Standing::Void } else { standing_of_mode(read.faa_mode) };
            let mut made = plain(kind, time_ns(read.fix_time), read.lat.zip(read.lon), standing);
            made.speed_m_per_s = figure(read.speed_over_ground).map(|knots| knots * KNOT_M_PER_S);
            // the date of a receiver that has no fix may be the one it was made with
            made.day = day_of(read.fix_date.filter(|_| !is_void));
            made
        }),
        Kind::Gll => {
            // the parser wants the mode of NMEA 2.3, which older receivers do not send
            let data = if fields.matches(',').count() == 5 { &format!("{fields},") } else { fields };
            parse_gll(sentence(SentenceType::GLL, data)).map_err(damaged).map(|read| {
                let standing = if read.valid { standing_of_mode(read.faa_mode) } else { Standing::Void };
                plain(kind, time_ns(read.fix_time), read.latitude.zip(read.longitude), standing)
            })
        }
        Kind::Gst => {
            let fields: Vec<&str> = fields.split(',').collect();
            let time = fields.first().and_then(|text| gst_time_ns(text));
            let time = time.ok_or_else(|| Refusal::Damaged("its time cannot be read".to_owned()))?;
            let mut made = plain(kind, Some(time), None, Standing::Good);
            // NMEA 0183: the semi-major axis of the ellipse, then the errors of latitude and longitude
            let errors = [2, 5, 6].into_iter().filter_map(|at| number::read(fields.get(at)?));
            made.sigma_m = errors.filter(|metres| *metres > 0.0).reduce(f64::max);
            Ok(made)
        }
        Kind::Zda => parse_zda(sentence(SentenceType::ZDA, fields)).map_err(damaged).map(|read| {
            let mut made = plain(kind, time_ns(read.utc_time), None, Standing::Good);
            made.day = day_of(read.utc_date());
            made
        }),
    }
}

#[expect(clippy::needless_pass_by_value, reason = "goes into map_err")]
fn damaged(error: nmea::Error<'_>) -> Refusal {
    // the parser's own text repeats the rest of the sentence and names its rules
    let is_field = matches!(error, nmea::Error::ParsingError(_));
    let reason = if is_field { "a field is missing or cannot be read" } else { "it cannot be read" };
    Refusal::Damaged(reason.to_owned())
}

fn plain(
    kind: Kind,
    time_of_day_ns: Option<i64>,
    degrees: Option<(f64, f64)>,
    standing: Standing,
) -> Sentence {
    let read = degrees.map(|(lat_deg, lon_deg)| Position::from_degrees(lat_deg, lon_deg)).transpose();
    let (position, impossible) = match read {
        Ok(position) => (position, None),
        Err(error) => (None, Some(error.to_string())),
    };
    Sentence {
        kind,
        talker: [0; 2],
        time_of_day_ns,
        day: None,
        position,
        impossible,
        standing,
        hdop: None,
        sigma_m: None,
        speed_m_per_s: None,
    }
}

/// Nanoseconds since midnight.
fn time_ns(time: Option<NaiveTime>) -> Option<i64> {
    time?.signed_duration_since(NaiveTime::MIN).num_nanoseconds()
}

/// Nanoseconds since midnight of a text `hhmmss` or `hhmmss.ss`.
fn gst_time_ns(text: &str) -> Option<i64> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let are_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.len() != 6 || fraction.len() > 9 || !are_digits(whole) || !are_digits(fraction) {
        return None;
    }
    let part = |from: usize| whole.get(from..from + 2)?.parse::<u32>().ok();
    let nanosecond = format!("{fraction:0<9}").parse::<u32>().ok()?;
    time_ns(NaiveTime::from_hms_nano_opt(part(0)?, part(2)?, part(4)?, nanosecond))
}

/// Days since 1970-01-01.
fn day_of(date: Option<NaiveDate>) -> Option<i64> {
    Some(date?.signed_duration_since(NaiveDate::default()).num_days())
}

/// A figure that the parser holds in single precision, with the digits that the sentence had.
fn figure(read: Option<f32>) -> Option<f64> {
    let value = f64::from(read?);
    let is_usable = value.is_finite() && value >= 0.0;
    is_usable.then(|| (value * 1e4).round() / 1e4)
}

fn standing_of_fix(fix: FixType) -> Standing {
    match fix {
        FixType::Invalid => Standing::Void,
        FixType::Gps | FixType::DGps | FixType::Pps | FixType::Rtk | FixType::FloatRtk => Standing::Good,
        FixType::Estimated | FixType::Manual | FixType::Simulation => Standing::NotMeasured,
    }
}

fn standing_of_mode(mode: Option<FaaMode>) -> Standing {
    mode.map_or(Standing::Good, |mode| standing_of_fix(FixType::from(mode)))
}

/// Looks at the digits of a position, at which the parser does not: it reads 4875.0 as 49°15′, and `nan` as minutes.
fn impossible_digits(kind: Kind, fields: &str) -> Option<String> {
    let first = match kind {
        Kind::Zda | Kind::Gst => return None,
        Kind::Gll => 0,
        Kind::Gga | Kind::Gns => 1,
        Kind::Rmc => 2,
    };
    let mut fields = fields.split(',').skip(first);
    let (lat, lon) = (fields.next().unwrap_or_default(), fields.nth(1).unwrap_or_default());
    for (name, text, degree_digits) in [("latitude", lat, 2), ("longitude", lon, 3)] {
        if !text.is_empty() && !is_degrees_minutes(text, degree_digits) {
            return Some(format!(
                "its {name} \"{}\" is not {degree_digits} digits of degrees and two of minutes below 60",
                shown(text.as_bytes())
            ));
        }
    }
    None
}

fn is_degrees_minutes(text: &str, degree_digits: usize) -> bool {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let are_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    whole.len() == degree_digits + 2
        && are_digits(whole)
        && are_digits(fraction)
        && whole.as_bytes().get(degree_digits).is_some_and(|tens| *tens < b'6')
}
