//! What settles the answer, on one of the first lines.

use takeline::{ClearingMove, TakeAnswer, Tristate, WaterStatus};

use super::HereDocument;
use crate::figures;
use crate::words::PlacePhrase;

/// What settles the first undecided thing: in full, and in fewer words.
pub(super) struct Settling {
    pub(super) full: String,
    pub(super) short: Vec<String>,
}

impl HereDocument<'_> {
    /// What settles the first undecided thing; none if everything is settled.
    pub(super) fn settle_first(&self) -> Option<Settling> {
        let standoff = self.standoff.as_ref().map(|standoff| standoff.kept);
        let water = self.water == WaterStatus::Undecided || standoff == Some(Tristate::Undecided);
        let fish = self.take.iter().find(|fish| fish.answer == TakeAnswer::Undecided);
        if !water && fish.is_none() {
            return None;
        }
        if self.settle_first.is_none()
            && water
            && let Some(way) = self.settling_move
        {
            let (full, short) = (self.move_words(way), self.move_words_in_short(way));
            return Some(self.settling(&full, short));
        }
        let of_fish = fish.and_then(|fish| fish.settle_codes.first());
        let of_water = self.settle_codes.first();
        let first = self.settle_first.or(if water { of_water.or(of_fish) } else { of_fish.or(of_water) });
        Some(first.map_or_else(
            || Settling {
                full: self.say_place(&PlacePhrase::NothingSettles),
                short: vec![self.say_place(&PlacePhrase::NothingSettlesInShort)],
            },
            |first| self.settling(&self.words().remedy(first), self.words().remedy_in_short(first)),
        ))
    }

    fn settling(&self, full: &str, short: Vec<String>) -> Settling {
        let to_settle = |what: &str| self.say_place(&PlacePhrase::ToSettle(what));
        let short = std::iter::once(full.to_owned())
            .chain(short)
            .flat_map(|text| [to_settle(&text), capitalised(&text)])
            .collect();
        Settling { full: to_settle(full), short }
    }

    /// The move in words; where it does not lead out of every zone it says so.
    pub(super) fn move_words(&self, way: ClearingMove) -> String {
        let ClearingMove { distance, bearing, water_there, .. } = way;
        let distance = &figures::move_length(self.units(), distance);
        let may_meet_land = self.may_meet_land(way);
        self.say_place(&PlacePhrase::Move { distance, bearing, water_there, may_meet_land })
    }

    /// The move in twenty columns, and where it leads if not out of every zone, as far as that has room.
    fn move_words_in_short(&self, way: ClearingMove) -> Vec<String> {
        let ClearingMove { distance, bearing, water_there, .. } = way;
        let distance = &figures::move_length(self.units(), distance);
        let short = |may_meet_land| PlacePhrase::MoveInShort { distance, bearing, may_meet_land };
        if water_there != WaterStatus::Unzoned {
            return vec![self.say_place(&PlacePhrase::SeeFullAnswer)];
        }
        [self.may_meet_land(way), false].map(|may_meet_land| self.say_place(&short(may_meet_land))).into()
    }
}

/// A sentence that begins a line.
fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
