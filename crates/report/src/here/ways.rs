//! Ways in words: out of closed water, along the bow, home.

use takeline::assess::{NoWayOut, OnHeading, OverLand, WayHome, WayOut};
use takeline::{ClearingMove, Metres, TakeAnswer, WaterStatus};

use super::HereDocument;
use super::sections::Fields;
use crate::figures;
use crate::track::times::plain_span;
use crate::words::{Label, WayPhrase, WayWords};

/// A home may lie so far up the beach, in metres, without a word about the land before it.
const HOME_ASHORE_M: f64 = 30.0;
/// A way nearer than this is none, in metres.
const AT_ONCE_M: f64 = 1.0;

/// The figures of a way.
struct Figures {
    distance: String,
    time: Option<String>,
}

impl HereDocument<'_> {
    fn say_way(&self, phrase: &WayPhrase<'_>) -> String {
        self.words().way(phrase)
    }

    fn figures_of(&self, distance: Metres, seconds: Option<f64>) -> Figures {
        Figures { distance: figures::move_length(self.units(), distance), time: seconds.map(plain_span) }
    }

    fn say_out<T>(&self, way: &WayOut, say: impl FnOnce(WayWords<'_>) -> T) -> T {
        let Figures { distance, time } = self.figures_of(way.distance, way.seconds);
        say(WayWords {
            distance: &distance,
            bearing: way.bearing,
            time: time.as_deref(),
            is_pocket: way.pocket,
            may_meet_land: way.over_land != OverLand::No,
        })
    }

    /// The way out on a line of its own: to where the one fish asked about may be kept, where that has to go back.
    pub(super) fn way_out_line(&self) -> Vec<String> {
        if let Some(way) = self.way_told() {
            // a time, and a word about land, are worth more than the words between
            return self.say_out(way, |way| {
                let phrases = [
                    WayPhrase::Out(way),
                    WayPhrase::OutInShort(way),
                    WayPhrase::OutInFewest(way),
                    WayPhrase::OutInFewest(way.without_time()),
                    WayPhrase::OutInFewest(way.without_time().without_land()),
                ];
                phrases.map(|phrase| self.say_way(&phrase)).into()
            });
        }
        let none = self.no_way_out_told().into_iter();
        none.flat_map(|why| {
            [WayPhrase::NoneOut(why), WayPhrase::NoneOutInShort(why)].map(|none| self.say_way(&none))
        })
        .collect()
    }

    /// The way out behind what the water is, never without its word about land.
    pub(super) fn way_out_behind(&self) -> Vec<String> {
        let Some(way) = self.way_told() else { return Vec::new() };
        self.say_out(way, |way| {
            let whole = [way, way.without_time()].map(WayPhrase::OutBehind);
            // where some fish may be kept, how deep inside one is says more than a way in pieces
            let is_closed = self.water == WaterStatus::Closed;
            let short = [way, way.without_time()].map(WayPhrase::OutBehindInShort);
            let short = short.into_iter().filter(|_| is_closed);
            whole.into_iter().chain(short).map(|phrase| self.say_way(&phrase)).collect()
        })
    }

    /// Why there is none, where that is worth one of the first lines: whoever is on foot looks for none.
    fn no_way_out_told(&self) -> Option<&NoWayOut> {
        self.no_way_out_code.flatten().filter(|why| **why != NoWayOut::OnFoot)
    }

    /// Whether there may be land on the move that settles the water, where that is the way out.
    pub(super) fn may_meet_land(&self, found: ClearingMove) -> bool {
        let way = self.way_out.flatten().filter(|way| way.to == found.to);
        way.is_some_and(|way| way.over_land != OverLand::No)
    }

    /// The way that the first lines tell.
    fn way_told(&self) -> Option<&WayOut> {
        let of_fish = match self.take.as_slice() {
            [one] if one.answer == TakeAnswer::Release => one.way_to_keep,
            _ => None,
        };
        of_fish.or(self.way_out.flatten())
    }

    /// Whether there is a way out to tell, or a reason why there is none.
    pub(super) fn tells_a_way_out(&self) -> bool {
        self.way_told().is_some() || self.no_way_out_told().is_some()
    }

    /// What lies along the bow.
    pub(super) fn ahead_line(&self) -> Vec<String> {
        let Some(ahead) = self.on_heading else { return Vec::new() };
        if let Some(none_within) = self.undecided_past(ahead) {
            let short = WayPhrase::AheadUndecidedInShort(ahead.heading, &none_within);
            return vec![
                self.ahead(ahead),
                self.say_way(&short),
                self.say_way(&WayPhrase::AheadUndecidedInFewest),
            ];
        }
        let mut without_boundary = ahead.clone();
        without_boundary.boundary = None;
        vec![self.ahead(ahead), self.ahead(&without_boundary), self.ahead_in_short(ahead)]
    }

    /// How far there is no clear water on the bow, where the search for it ended early.
    fn undecided_past(&self, ahead: &OnHeading) -> Option<String> {
        let none_within = ahead.none_nearer_than.filter(|_| ahead.clear.is_none())?;
        Some(figures::whole_down(self.units(), none_within.metres()))
    }

    fn ahead(&self, ahead: &OnHeading) -> String {
        let [boundary, clear, land] =
            [ahead.boundary, ahead.clear, ahead.land].map(|length| length.map(|length| self.length(length)));
        let (heading, boundary, land) = (ahead.heading, boundary.as_deref(), land.as_deref());
        if let Some(none_within) = &self.undecided_past(ahead) {
            return self.say_way(&WayPhrase::AheadUndecided { heading, boundary, none_within, land });
        }
        self.say_way(&if is_clear_at_once(ahead) {
            WayPhrase::ClearAhead { heading, boundary, land }
        } else {
            WayPhrase::Ahead { heading, boundary, clear: clear.as_deref(), land }
        })
    }

    fn ahead_in_short(&self, ahead: &OnHeading) -> String {
        let [boundary, clear, land] =
            [ahead.boundary, ahead.clear, ahead.land].map(|length| length.map(|length| self.length(length)));
        let (boundary, land) = (boundary.as_deref(), land.as_deref());
        self.say_way(&if is_clear_at_once(ahead) {
            WayPhrase::ClearAheadInShort { boundary, land }
        } else {
            WayPhrase::AheadInShort { clear: clear.as_deref(), land }
        })
    }

    fn length(&self, length: Metres) -> String {
        figures::move_length(self.units(), length)
    }

    fn name_of<'n>(&'n self, id: &'n str) -> &'n str {
        self.zones.iter().find(|zone| zone.id == id).map_or(id, |zone| zone.name)
    }

    /// What stands below the first lines about all ways.
    pub(super) fn ways(&self, fields: &mut Fields<'_>) {
        if let Some(way) = self.way_out.flatten() {
            self.way_out_fields(way, fields);
        }
        if let Some(why) = self.no_way_out_code.flatten() {
            fields.add(Label::WayOut, self.say_way(&WayPhrase::NoneOut(why)));
        }
        if let Some(ahead) = self.on_heading {
            fields.add(Label::Ahead, self.ahead(ahead));
            let names: Vec<&str> = ahead.crosses.iter().map(|id| self.name_of(&id.0)).collect();
            if !names.is_empty() {
                fields.add(Label::Enters, self.say_way(&WayPhrase::Enters(&names)));
            }
        }
        if let Some(home) = self.home_told() {
            self.way_home_fields(home, fields);
        }
    }

    fn way_out_fields(&self, way: &WayOut, fields: &mut Fields<'_>) {
        let to = figures::position(way.to);
        fields.add(Label::WayOut, self.say_out(way, |words| self.say_way(&WayPhrase::Whole(words, &to))));
        if let Some(tie) = way.tie {
            let Figures { distance, .. } = self.figures_of(tie.distance, None);
            let words = WayWords {
                distance: &distance,
                bearing: tie.bearing,
                time: None,
                is_pocket: false,
                may_meet_land: false,
            };
            let to = figures::position(tie.to);
            fields.add(Label::AsShort, self.say_way(&WayPhrase::Whole(words, &to)));
        }
        if way.pocket {
            fields.add(Label::WayEnds, self.say_way(&WayPhrase::Pocket));
        }
        if let Some(nearest) = way.none_nearer_than {
            fields.add(
                Label::WayOut,
                self.say_way(&WayPhrase::NoneNearer(&figures::whole_down(self.units(), nearest.metres()))),
            );
        }
        fields.add(Label::OverLand, self.say_way(&WayPhrase::OffLand(way.over_land == OverLand::No)));
    }

    /// The way to where a fish may be kept, in full.
    pub(super) fn way_to_keep_words(&self, way: &WayOut) -> String {
        let to = figures::position(way.to);
        self.say_out(way, |words| self.say_way(&WayPhrase::WholeWithLand(words, &to, None)))
    }

    /// The way home, where it is not here.
    fn home_told(&self) -> Option<&WayHome> {
        let home = self.way_home.as_ref()?.way;
        (home.distance.metres() >= AT_ONCE_M).then_some(home)
    }

    /// Whether there is a way home to tell.
    pub(super) fn tells_home(&self) -> bool {
        self.home_told().is_some()
    }

    fn say_home<T>(&self, home: &WayHome, say: impl FnOnce(WayWords<'_>, Option<&str>) -> T) -> T {
        let Figures { distance, time } = self.figures_of(home.distance, home.seconds);
        // a launch on the beach is where the land begins
        let before_m = home.distance.metres() - HOME_ASHORE_M;
        let land = home.land.filter(|land| land.metres() < before_m).map(|land| self.length(land));
        let words = WayWords {
            distance: &distance,
            bearing: home.bearing,
            time: time.as_deref(),
            is_pocket: false,
            may_meet_land: home.over_land == OverLand::Unknown,
        };
        say(words, land.as_deref())
    }

    /// The way home on a line of its own: that it meets land comes before where it leads.
    pub(super) fn way_home_line(&self) -> Vec<String> {
        let Some(home) = self.home_told() else { return Vec::new() };
        self.say_home(home, |way, land| {
            let phrases = [
                WayPhrase::Home(way, land),
                WayPhrase::HomeInShort(way, land),
                WayPhrase::HomeInShort(way.without_time(), land),
                WayPhrase::HomeInFewest(way.without_time(), land),
                WayPhrase::HomeInFewest(way.without_time().without_land(), land),
            ];
            phrases.map(|phrase| self.say_way(&phrase)).into()
        })
    }

    fn way_home_fields(&self, home: &WayHome, fields: &mut Fields<'_>) {
        let to = figures::position(home.to);
        let whole =
            |way: WayWords<'_>, land: Option<&str>| self.say_way(&WayPhrase::WholeWithLand(way, &to, land));
        fields.add(Label::WayHome, self.say_home(home, whole));
        for crossing in &home.crosses {
            let passage: Vec<String> =
                crossing.passage.iter().map(|condition| self.words().condition(condition)).collect();
            let [from, to] = [crossing.from, crossing.to].map(|length| self.length(length));
            fields.add(
                Label::Crosses,
                self.say_way(&WayPhrase::Crosses {
                    zone: &crossing.name,
                    from: &from,
                    to: &to,
                    is_sure: crossing.binds == takeline::Tristate::Yes,
                    passage: &passage,
                }),
            );
        }
    }
}

/// Whether the water is clear where the boat is.
fn is_clear_at_once(ahead: &OnHeading) -> bool {
    ahead.clear.is_some_and(|clear| clear.metres() < AT_ONCE_M)
}

#[cfg(test)]
mod tests {
    use takeline::TrueBearing;

    use crate::words::{English, WayPhrase, Words};

    #[test]
    fn clear_water_ahead_is_not_told_as_nought_metres_off() {
        let west = TrueBearing::from_degrees(270.0).unwrap();
        let say = |boundary, land| English.way(&WayPhrase::ClearAhead { heading: west, boundary, land });
        let heading = English.bearing(west);
        assert_eq!(say(Some("500 m"), Some("900 m")), format!("On {heading}: clear, boundary in 500 m"));
        assert_eq!(say(None, Some("900 m")), format!("On {heading}: clear, land in 900 m"));
        assert!(say(None, None).starts_with(&format!("On {heading}: clear for 100")));
    }
}
