//! Ways in words: out of closed water, along the bow, home.

use takeline::assess::{OnHeading, OverLand, WayHome, WayOut};
use takeline::{Metres, TakeAnswer};

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

    fn say_out(&self, way: &WayOut, say: impl Fn(WayWords<'_>) -> String) -> String {
        let Figures { distance, time } = self.figures_of(way.distance, way.seconds);
        say(WayWords {
            distance: &distance,
            bearing: way.bearing,
            time: time.as_deref(),
            is_pocket: way.pocket,
        })
    }

    /// The way out on a line of its own: to where the one fish asked about may be kept, where that has to go back.
    pub(super) fn way_out_line(&self) -> Vec<String> {
        if let Some(way) = self.way_told() {
            return vec![
                self.say_out(way, |way| self.say_way(&WayPhrase::Out(way))),
                self.say_out(way, |way| self.say_way(&WayPhrase::Out(WayWords { time: None, ..way }))),
                self.say_out(way, |way| self.say_way(&WayPhrase::OutInShort(way))),
            ];
        }
        let none = self.no_way_out_code.flatten().into_iter();
        none.flat_map(|why| {
            [WayPhrase::NoneOut(why), WayPhrase::NoneOutInShort(why)].map(|none| self.say_way(&none))
        })
        .collect()
    }

    /// The way out behind what the water is.
    pub(super) fn way_out_behind(&self) -> Option<String> {
        let way = self.way_told()?;
        Some(self.say_out(way, |way| self.say_way(&WayPhrase::OutBehind(way))))
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
        self.way_told().is_some() || self.no_way_out_code.flatten().is_some()
    }

    /// What lies along the bow.
    pub(super) fn ahead_line(&self) -> Vec<String> {
        let Some(ahead) = self.on_heading else { return Vec::new() };
        let mut without_boundary = ahead.clone();
        without_boundary.boundary = None;
        vec![self.ahead(ahead), self.ahead(&without_boundary), self.ahead_in_short(ahead)]
    }

    fn ahead(&self, ahead: &OnHeading) -> String {
        let [boundary, clear, land] =
            [ahead.boundary, ahead.clear, ahead.land].map(|length| length.map(|length| self.length(length)));
        let (heading, boundary, land) = (ahead.heading, boundary.as_deref(), land.as_deref());
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
        if let Some(home) = &self.way_home {
            self.way_home_fields(home.way, fields);
        }
    }

    fn way_out_fields(&self, way: &WayOut, fields: &mut Fields<'_>) {
        let to = figures::position(way.to);
        fields.add(Label::WayOut, self.say_out(way, |words| self.say_way(&WayPhrase::Whole(words, &to))));
        if let Some(tie) = way.tie {
            let Figures { distance, .. } = self.figures_of(tie.distance, None);
            let words = WayWords { distance: &distance, bearing: tie.bearing, time: None, is_pocket: false };
            let to = figures::position(tie.to);
            fields.add(Label::AsShort, self.say_way(&WayPhrase::Whole(words, &to)));
        }
        if way.pocket {
            fields.add(Label::WayEnds, self.say_way(&WayPhrase::Pocket));
        }
        if let Some(nearest) = way.none_nearer_than {
            fields.add(Label::WayOut, self.say_way(&WayPhrase::NoneNearer(&self.length(nearest))));
        }
        fields.add(Label::OverLand, self.say_way(&WayPhrase::OffLand(way.over_land == OverLand::No)));
    }

    /// The way to where a fish may be kept, in full.
    pub(super) fn way_to_keep_words(&self, way: &WayOut) -> String {
        let to = figures::position(way.to);
        self.say_out(way, |words| self.say_way(&WayPhrase::Whole(words, &to)))
    }

    fn way_home_fields(&self, home: &WayHome, fields: &mut Fields<'_>) {
        if home.distance.metres() < AT_ONCE_M {
            return;
        }
        let Figures { distance, time } = self.figures_of(home.distance, home.seconds);
        let words =
            WayWords { distance: &distance, bearing: home.bearing, time: time.as_deref(), is_pocket: false };
        let to = figures::position(home.to);
        fields.add(Label::WayHome, self.say_way(&WayPhrase::Whole(words, &to)));
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
        // a launch on the beach is where the land begins
        let before_m = home.distance.metres() - HOME_ASHORE_M;
        if let Some(land) = home.land.filter(|land| land.metres() < before_m) {
            fields.add(Label::OverLand, self.say_way(&WayPhrase::LandAfter(&self.length(land))));
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
