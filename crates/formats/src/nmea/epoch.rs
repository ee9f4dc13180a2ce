use takeline::Position;
use takeline::track::LogPlace;

use super::sentence::{Kind, Sentence, Standing};

/// Positions of one instant that are farther apart than this, in degrees, disagree: about 100 m, far
/// more than receivers round by (common practice, no source).
const DISAGREE_DEG: f64 = 0.001;

/// More sentences of one instant than any receiver sends.
const MOST_SENTENCES: usize = 64;

/// Everything that sentences say about one instant.
#[derive(Debug)]
pub(super) struct Epoch {
    pub(super) place: LogPlace,
    pub(super) time_of_day_ns: Option<i64>,
    pub(super) day: Option<i64>,
    pub(super) position: Option<(Kind, Position)>,
    /// Whether one of the sentences is of a kind that tells a position.
    pub(super) should_tell_position: bool,
    pub(super) standing: Standing,
    pub(super) hdop: Option<f64>,
    /// The greatest standard error that a sentence tells, in metres.
    pub(super) sigma_m: Option<f64>,
    pub(super) speed_m_per_s: Option<f64>,
    pub(super) disagrees: bool,
    /// Talker and kind of the sentences so far.
    seen: Vec<([u8; 2], Kind)>,
}

impl Epoch {
    pub(super) fn new(first: &Sentence, place: LogPlace) -> Self {
        let mut epoch = Self {
            place,
            time_of_day_ns: first.time_of_day_ns,
            day: None,
            position: None,
            should_tell_position: false,
            standing: Standing::Good,
            hdop: None,
            sigma_m: None,
            speed_m_per_s: None,
            disagrees: false,
            seen: Vec::new(),
        };
        epoch.join(first, place);
        epoch
    }

    /// Whether a sentence tells of the same instant: the same time of day, and not the same sentence once more.
    pub(super) fn takes(&self, sentence: &Sentence) -> bool {
        let is_new = !self.seen.contains(&(sentence.talker, sentence.kind));
        is_new && self.seen.len() < MOST_SENTENCES && sentence.time_of_day_ns == self.time_of_day_ns
    }

    pub(super) fn join(&mut self, sentence: &Sentence, place: LogPlace) {
        self.seen.push((sentence.talker, sentence.kind));
        self.standing = self.standing.max(sentence.standing);
        self.should_tell_position |= !matches!(sentence.kind, Kind::Zda | Kind::Gst);
        // ZDA has four digits of the year, RMC two
        if sentence.day.is_some() && (self.day.is_none() || sentence.kind == Kind::Zda) {
            self.day = sentence.day;
        }
        self.hdop = self.hdop.or(sentence.hdop);
        self.sigma_m = [self.sigma_m, sentence.sigma_m].into_iter().flatten().reduce(f64::max);
        self.speed_m_per_s = self.speed_m_per_s.or(sentence.speed_m_per_s);
        let Some(position) = sentence.position else { return };
        match self.position {
            None => {
                self.place = place;
                self.position = Some((sentence.kind, position));
            }
            Some((kind, before)) => {
                self.disagrees |= is_apart(before, position);
                if sentence.kind > kind {
                    self.position = Some((sentence.kind, position));
                }
            }
        }
    }
}

fn is_apart(one: Position, other: Position) -> bool {
    let lat_deg = (one.latitude().degrees() - other.latitude().degrees()).abs();
    let lon_deg = (one.longitude().degrees() - other.longitude().degrees()).abs();
    lat_deg > DISAGREE_DEG || lon_deg.min(360.0 - lon_deg) > DISAGREE_DEG
}
