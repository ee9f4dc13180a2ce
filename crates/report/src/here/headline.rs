//! The first three lines: may I keep it, how sure, why. Each line as candidates, of which the first that fits is taken.

use takeline::rule::Condition;
use takeline::{ClearingMove, Containment, TakeAnswer, Tristate, WaterStatus};

use super::{HereDocument, TakeDocument, ZoneDocument};
use crate::figures::{self, Units};
use crate::words::{FishPhrase, PlacePhrase, WaterPhrase, Words};

/// One of the first lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum HeadLine {
    /// The first of these that fits, else the last one cut.
    Fitted(Vec<String>),
    /// All of this, wrapped.
    Wrapped(String),
}

/// Whether the zone's rule surely binds here, and restricts anything.
pub(super) fn binds(zone: &ZoneDocument<'_>) -> bool {
    zone.binds == Tristate::Yes && !zone.restricts_nothing
}

fn may_be_in_force(zone: &ZoneDocument<'_>) -> bool {
    zone.in_force != Tristate::No
}

/// So far from the nearest loaded zone that the fix or the zones are probably not the ones that were meant.
fn is_far(zone: &ZoneDocument<'_>) -> bool {
    zone.signed_distance.is_some_and(|distance| distance.metres() > 100_000.0)
}

impl<'a> HereDocument<'a> {
    /// The first lines. Where something is undecided, what settles it is one of them.
    pub(super) fn headline(&self) -> Vec<HeadLine> {
        let settle = self.settle_first().map(HeadLine::Wrapped);
        let verdict = if settle.is_some() { self.verdict_with_measure() } else { self.verdict() };
        let has_fish = !self.take.is_empty();
        let measure = || if self.is_on_a_border() { self.one_or_the_other() } else { self.measure() };
        let (second, third) = match (has_fish, settle) {
            (true, Some(settle)) => (HeadLine::Fitted(self.fish()), settle),
            (true, None) => (HeadLine::Fitted(self.fish()), HeadLine::Fitted(measure())),
            (false, Some(settle)) => (settle, HeadLine::Fitted(self.place())),
            (false, None) => (HeadLine::Fitted(self.place()), HeadLine::Fitted(measure())),
        };
        let standoff = self.standoff_line().filter(|_| has_fish).map(HeadLine::Fitted);
        [HeadLine::Fitted(verdict), second, third].into_iter().chain(standoff).collect()
    }

    /// The zone that the answer rests on: the one somebody has to know about first.
    pub(super) fn deciding_zone(&self) -> Option<&ZoneDocument<'a>> {
        let first = |wanted: fn(&ZoneDocument<'_>) -> bool| self.zones.iter().find(|zone| wanted(zone));
        let preferred = match self.water {
            WaterStatus::Closed => self
                .closing_together()
                .next()
                .or_else(|| first(|zone| binds(zone) && zone.nothing_may_be_taken))
                .or_else(|| first(binds)),
            WaterStatus::Restricted => {
                first(|zone| binds(zone) && !zone.nothing_may_be_taken).or_else(|| first(binds))
            }
            WaterStatus::Undecided => {
                first(|zone| zone.containment == Containment::Undecided && may_be_in_force(zone)).or_else(
                    || first(|zone| zone.containment == Containment::Inside && may_be_in_force(zone)),
                )
            }
            WaterStatus::Unzoned => first(|zone| zone.containment == Containment::Inside),
        };
        preferred.or_else(|| self.zones.first())
    }

    /// The words that it was drawn up with.
    pub(super) fn units(&self) -> Units {
        self.language.units()
    }

    pub(super) fn words(&self) -> &'a dyn Words {
        self.language.0
    }

    fn say_water(&self, phrase: &WaterPhrase<'_>) -> String {
        self.words().water(phrase)
    }

    fn say_place(&self, phrase: &PlacePhrase<'_>) -> String {
        self.words().place(phrase)
    }

    /// The water, and why or what it means.
    pub(crate) fn verdict(&self) -> Vec<String> {
        let is_open = self.zones.iter().any(|zone| zone.binds == Tristate::Yes && zone.restricts_nothing);
        match self.water {
            WaterStatus::Closed => vec![self.say_water(&WaterPhrase::ClosedWater)],
            WaterStatus::Restricted => self.limited(),
            WaterStatus::Unzoned if is_open => vec![self.say_water(&WaterPhrase::NothingRestricts)],
            WaterStatus::Unzoned => vec![self.say_water(&WaterPhrase::NoZoneApplies)],
            WaterStatus::Undecided => self.undecided(),
        }
    }

    fn limited(&self) -> Vec<String> {
        let together = self.zones.iter().filter(|zone| binds(zone)).count();
        if together > 1 {
            return vec![self.say_water(&WaterPhrase::LimitedByZones(together))];
        }
        let zone = self.deciding_zone();
        let rule = zone.map(|zone| self.say_water(&WaterPhrase::Limited(&zone.take_rule)));
        // with a fish on the second line, the zone is named nowhere else
        let name = zone.filter(|_| !self.take.is_empty());
        let name = name.map(|zone| self.say_water(&WaterPhrase::Limited(zone.name)));
        rule.into_iter().chain(name).chain([self.say_water(&WaterPhrase::LimitedWater)]).collect()
    }

    fn undecided(&self) -> Vec<String> {
        let may_any_be_kept = self.may_any_be_kept();
        let why = self.water_because.first();
        let why = why.map(|and| self.say_water(&WaterPhrase::Undecided { may_any_be_kept, and }));
        why.into_iter().chain([self.say_water(&WaterPhrase::UndecidedWater { may_any_be_kept })]).collect()
    }

    /// Whether the answer about any fish is to keep it.
    pub(super) fn may_any_be_kept(&self) -> bool {
        self.take.iter().any(|fish| fish.answer == TakeAnswer::Keep)
    }

    /// The water with the distance, where the other two lines are needed for fish and for what settles them.
    fn verdict_with_measure(&self) -> Vec<String> {
        let measured = self.deciding_zone().and_then(|zone| Some((zone, zone.signed_distance?)));
        let Some((zone, length)) = measured else { return self.verdict() };
        let side = zone.containment;
        let figures = figures::distance_with_doubt(self.units(), length, zone.uncertainty_95);
        let side_by = || self.say_water(&WaterPhrase::SideBy(side, &figures));
        let line = match self.water {
            WaterStatus::Closed => self.say_water(&WaterPhrase::Closed(&side_by())),
            WaterStatus::Restricted => self.say_water(&WaterPhrase::Limited(&side_by())),
            WaterStatus::Unzoned => self.say_water(&WaterPhrase::NoZoneAppliesBy(&figures)),
            WaterStatus::Undecided => {
                let distance = &figures::distance(self.units(), length, zone.uncertainty_95);
                let doubt = &figures::doubt_of(self.units(), length, zone.uncertainty_95);
                let and = &self.say_water(&WaterPhrase::OffTheLine { side, distance, doubt });
                let may_any_be_kept = self.may_any_be_kept();
                self.say_water(&WaterPhrase::Undecided { may_any_be_kept, and })
            }
        };
        std::iter::once(line).chain(self.verdict()).collect()
    }

    /// Closed water although the side of each closed zone is open: it is inside one or another of them.
    fn is_on_a_border(&self) -> bool {
        self.closing_together().next().is_some()
    }

    /// The zones of which one or another closes the water, whichever it is in.
    fn closing_together(&self) -> impl Iterator<Item = &ZoneDocument<'a>> {
        self.closing.iter().filter_map(|place| self.zones.get(*place))
    }

    fn one_or_the_other(&self) -> Vec<String> {
        vec![self.say_place(&PlacePhrase::InsideOneOrTheOther)]
    }

    /// The zone that the answer rests on, or the stand-off where one was asked for.
    fn place(&self) -> Vec<String> {
        if let Some(standoff) = self.standoff_line() {
            return standoff;
        }
        let Some(zone) = self.deciding_zone() else {
            return [PlacePhrase::NoZoneIsNear, PlacePhrase::OtherRules]
                .map(|phrase| self.say_place(&phrase))
                .into();
        };
        if self.is_on_a_border() {
            return self.on_the_border();
        }
        let name = zone.name;
        let is_in_force = zone.in_force == Tristate::Yes;
        let phrase = match zone.containment {
            Containment::Outside if is_far(zone) => PlacePhrase::NoZoneWithin100Km,
            Containment::Outside => PlacePhrase::Nearest(name),
            Containment::Undecided => zone.nearest.map_or(PlacePhrase::UndecidedZone(name), |nearest| {
                PlacePhrase::LineToward(nearest.bearing, name)
            }),
            Containment::Inside if zone.in_force == Tristate::No => PlacePhrase::NotInForce(name),
            Containment::Inside if !is_in_force => PlacePhrase::InForceOrNot(name),
            Containment::Inside if zone.binds == Tristate::Yes && zone.restricts_nothing => {
                PlacePhrase::RestrictsNothing(name)
            }
            Containment::Inside if self.water == WaterStatus::Unzoned => PlacePhrase::DoesNotBind(name),
            Containment::Inside => return self.in_force_here(name),
        };
        vec![self.say_place(&phrase)]
    }

    /// The closed zones on whose border it is.
    fn on_the_border(&self) -> Vec<String> {
        let names: Vec<&str> = self.closing_together().map(|zone| zone.name).collect();
        let border = self.say_place(&PlacePhrase::OnTheBorder(&names));
        vec![border, self.say_place(&PlacePhrase::OnTheBorderOf(names.len()))]
    }

    fn in_force_here(&self, first: &str) -> Vec<String> {
        let others = self.zones.iter().filter(|zone| binds(zone)).map(|zone| zone.name);
        let names: Vec<&str> = std::iter::once(first).chain(others.filter(|name| *name != first)).collect();
        let mut lines = vec![self.say_place(&PlacePhrase::InForceHere(&names))];
        if names.len() > 1 {
            lines.push(self.say_place(&PlacePhrase::InForceOneOf(names.len(), first)));
        }
        lines
    }

    /// The line about the stand-off; none if none was asked for.
    fn standoff_line(&self) -> Option<Vec<String>> {
        let standoff = self.standoff.as_ref()?;
        let say = |why| self.say_place(&PlacePhrase::Standoff(standoff.kept, why));
        if standoff.kept == Tristate::Yes {
            return Some(vec![self.say_place(&PlacePhrase::StandoffKept)]);
        }
        let Some(why) = standoff.because.first() else {
            return Some(vec![say(self.zones.first().map_or("", |zone| zone.name))]);
        };
        let zone = standoff.because_codes.first().and_then(|reason| reason.zone());
        Some(std::iter::once(say(why)).chain(zone.map(say)).collect())
    }

    /// How far the line is, on which side, how sure and in which direction.
    pub(crate) fn measure(&self) -> Vec<String> {
        let Some(zone) = self.deciding_zone() else {
            return vec![self.say_place(&PlacePhrase::NoLineLoaded)];
        };
        let side = zone.containment;
        let Some(length) = zone.signed_distance else {
            return vec![self.say_place(&PlacePhrase::LineNotKnown(side))];
        };
        if zone.on_the_line {
            let doubt = figures::doubt(self.units(), zone.uncertainty_95);
            return vec![self.say_place(&PlacePhrase::OnTheLine(side, &doubt))];
        }
        let figures = &figures::distance_with_doubt(self.units(), length, zone.uncertainty_95);
        let measure = |bearing| self.say_place(&PlacePhrase::Measure { side, figures, bearing });
        let bearing = zone.nearest.map(|nearest| nearest.bearing);
        bearing.map(|bearing| measure(Some(bearing))).into_iter().chain([measure(None)]).collect()
    }

    /// What settles the first undecided thing; none if everything is settled.
    fn settle_first(&self) -> Option<String> {
        let standoff = self.standoff.as_ref().map(|standoff| standoff.kept);
        let water = self.water == WaterStatus::Undecided || standoff == Some(Tristate::Undecided);
        let fish = self.take.iter().find(|fish| fish.answer == TakeAnswer::Undecided);
        if !water && fish.is_none() {
            return None;
        }
        let to_settle = |what: &str| self.say_place(&PlacePhrase::ToSettle(what));
        if let Some(first) = self.settle_first {
            return Some(to_settle(&self.words().remedy(first)));
        }
        if water && let Some(way) = self.settling_move {
            return Some(to_settle(&self.move_words(way)));
        }
        let of_fish = fish.and_then(|fish| fish.settle.first());
        let first =
            if water { self.settle.first().or(of_fish) } else { of_fish.or_else(|| self.settle.first()) };
        Some(first.map_or_else(|| self.say_place(&PlacePhrase::NothingSettles), |first| to_settle(first)))
    }

    /// The move in words; where it does not lead out of every zone it says so.
    pub(super) fn move_words(&self, way: ClearingMove) -> String {
        let ClearingMove { distance, bearing, water_there, .. } = way;
        let distance = &figures::move_length(self.units(), distance);
        self.say_place(&PlacePhrase::Move { distance, bearing, water_there })
    }

    /// The fish on one line: verdict first, so that a long name is what gets cut.
    pub(super) fn fish(&self) -> Vec<String> {
        match self.take.as_slice() {
            [one] => self.one_fish(one),
            several => self.several_fish(several),
        }
    }

    fn one_fish(&self, finding: &TakeDocument<'_>) -> Vec<String> {
        let say = |phrase: &FishPhrase<'_>| self.words().fish_line(phrase);
        let fish = finding.asked;
        match finding.answer {
            TakeAnswer::Keep if finding.conditions.is_empty() => vec![say(&FishPhrase::Keep(fish))],
            TakeAnswer::Keep => {
                let figures = self.keep_figures(finding);
                let within = figures.iter().flat_map(|figures| {
                    [false, true].map(|is_short| say(&FishPhrase::KeepIf { fish, figures, is_short }))
                });
                let plain =
                    [false, true].map(|is_short| say(&FishPhrase::KeepIfConditionsHold { fish, is_short }));
                within.chain(plain).collect()
            }
            TakeAnswer::Release => {
                let why = self.why_released(finding);
                let reasoned = why.iter().map(|why| say(&FishPhrase::Release(fish, Some(why))));
                reasoned.chain([say(&FishPhrase::Release(fish, None))]).collect()
            }
            TakeAnswer::Undecided => {
                [false, true].map(|is_short| say(&FishPhrase::UndecidedFish { fish, is_short })).into()
            }
            TakeAnswer::Unzoned => vec![say(&FishPhrase::NoRuleMentions(fish))],
        }
    }

    /// Why a fish has to go back, the longest first.
    fn why_released(&self, finding: &TakeDocument<'_>) -> Vec<String> {
        // where the first line says why, this one says whose rule it is
        let because = finding.because.first().filter(|_| self.water != WaterStatus::Closed).cloned();
        // the zone that the water rests on may be another one than those that refuse the fish
        let refusing = match (finding.refused_by, finding.refused_by_one_of) {
            ([], []) => self
                .deciding_zone()
                .map(|zone| zone.name.to_owned())
                .filter(|_| self.water == WaterStatus::Closed),
            ([], zones) => Some(self.words().fish_line(&FishPhrase::OneOrAnother(zones))),
            (zones, _) => Some(zones.join(", ")),
        };
        because.into_iter().chain(refusing).chain(finding.refused_by.first().cloned()).collect()
    }

    /// Size and bag in a few words, where there is one of each at most; the whole of it stands further down.
    fn keep_figures(&self, finding: &TakeDocument<'_>) -> Option<String> {
        // one of several ways to keep it would read as the only one
        if finding.conditions_codes.iter().any(Condition::is_alternative) {
            return None;
        }
        let say = |phrase: &FishPhrase<'_>| self.words().fish_line(phrase);
        let size = match finding.limits.sizes.as_slice() {
            [] => None,
            [size] if size.min_cm.or(size.max_cm).is_none() => return None,
            [size] => Some(say(&FishPhrase::SizeCm(size.min_cm, size.max_cm))),
            _ => return None,
        };
        let bag = match finding.limits.bags.as_slice() {
            [] => None,
            [bag] => Some(say(&FishPhrase::AtMost(bag.count))),
            _ => return None,
        };
        let figures: Vec<_> = size.into_iter().chain(bag).collect();
        (!figures.is_empty()).then(|| figures.join(", "))
    }

    fn several_fish(&self, findings: &[TakeDocument<'_>]) -> Vec<String> {
        let (mut named, mut counted) = (Vec::new(), Vec::new());
        for answer in HARSHEST_FIRST {
            let of_answer = findings.iter().filter(|finding| finding.answer == answer);
            let names: Vec<&str> = of_answer.map(|finding| finding.asked).collect();
            if !names.is_empty() {
                let word = self.words().take_answer(answer);
                named.push(format!("{word} {}", names.join(", ")));
                counted.push(format!("{word} {}", names.len()));
            }
        }
        let is_conditional =
            |finding: &TakeDocument<'_>| finding.answer == TakeAnswer::Keep && !finding.conditions.is_empty();
        let more_below = findings.iter().any(is_conditional);
        let say = |parts: &[String], more_below| {
            self.words().fish_line(&FishPhrase::SeveralFish(&parts.join("; "), more_below))
        };
        vec![say(&named, more_below), say(&counted, true), say(&counted, false)]
    }
}

const HARSHEST_FIRST: [TakeAnswer; 4] =
    [TakeAnswer::Release, TakeAnswer::Undecided, TakeAnswer::Keep, TakeAnswer::Unzoned];
