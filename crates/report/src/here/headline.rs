//! The first three lines: may I keep it, how sure, why. Each line as candidates, of which the first that fits is taken: a name may
//! be cut, an answer, a reason or a figure never.

use takeline::assess::Warning;
use takeline::rule::TakeSummary;
use takeline::zone::Status;
use takeline::{Containment, TakeAnswer, Tristate, WaterStatus, binding};
use textwrap::core::display_width;

use super::{HereDocument, ZoneDocument};
use crate::figures::{self, Units};
use crate::lines::{cut, fit, lines_of, sanitised};
use crate::words::{FishPhrase, PlacePhrase, Rest, WaterPhrase, Words};

/// How the first lines are to be laid out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    /// Columns.
    pub(super) width: usize,
    /// Where what they have no room for stands.
    pub(super) rest: Rest,
    /// Whether a line that would cut a name may take a second one.
    pub(super) may_wrap: bool,
}

/// One of the first lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum HeadLine {
    /// One line that fits.
    Fitted(String),
    /// All of this, wrapped.
    Wrapped(String),
}

impl HeadLine {
    /// The first of the candidates that fits. Where that cuts a name, and two lines hold the whole of it, it is wrapped instead.
    fn of(room: Room, candidates: impl Fn(usize) -> Vec<String>) -> Self {
        let fitted = fit(room.width, &candidates(room.width));
        if !room.may_wrap {
            return Self::Fitted(fitted);
        }
        let Some((before, after)) = fitted.split_once('…') else { return Self::Fitted(fitted) };
        let wide = candidates(usize::MAX);
        let whole: Vec<String> =
            wide.iter().map(|line| fit(usize::MAX, std::slice::from_ref(line))).collect();
        if whole.contains(&fitted) {
            return Self::Fitted(fitted);
        }
        let same = whole.iter().position(|line| line.starts_with(before) && line.ends_with(after));
        // with what holds a number and its unit together
        let same = same.and_then(|place| wide.get(place).cloned());
        let same = same.filter(|text| lines_of(room.width, text) <= 2);
        same.map_or(Self::Fitted(fitted), Self::Wrapped)
    }
}

/// What a line says beside the water, in the order in which they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Slot {
    Fish,
    Warning,
    Settle,
    Elsewhere,
    Standoff,
    Place,
    Measure,
    Ahead,
    Home,
    Way,
}

/// Whether a warning changes the answer, or whether it can be relied on: it then stands in the first three lines.
///
/// What is counted in the uncertainty changes nothing that is said; what no edition can know stands among the cautions; a time that
/// is missing is among what settles the answer, where one hangs on it.
#[expect(clippy::wildcard_enum_match_arm, reason = "all that are not named change the answer")]
pub(super) fn spoils(warning: &Warning) -> bool {
    match warning {
        Warning::NoZones
        | Warning::ZeroAccuracy { .. }
        | Warning::MayChangeByNotice { .. }
        | Warning::DatumUnstated { .. }
        | Warning::NoTimeGiven
        | Warning::EditionRunsOut { .. }
        | Warning::FewDigits { is_counted: true, .. } => false,
        // and a warning that this version does not know is better seen
        _ => true,
    }
}

/// Fewest columns of a name that still say which it is.
pub(super) const LEAST_OF_A_NAME: usize = 5;

/// What is said of a name, the name cut so that it fits; none if too little of the name would be left.
pub(super) fn with_name(
    width: usize,
    name: &str,
    least: usize,
    say: impl Fn(&str) -> String,
) -> Option<String> {
    let name = &sanitised(name);
    let whole = say(name);
    let Some(surplus) = display_width(&whole).checked_sub(width).filter(|surplus| *surplus > 0) else {
        return Some(whole);
    };
    let kept = display_width(name).checked_sub(surplus)?;
    (kept > least).then(|| say(&cut(kept, name)))
}

/// Whether the zone's rule surely binds here, and restricts anything.
pub(super) fn binds(zone: &ZoneDocument<'_>) -> bool {
    zone.binds == Tristate::Yes && !zone.restricts_nothing
}

/// Whether the zone is proposed, or made and not yet in force.
fn is_not_law_yet(zone: &ZoneDocument<'_>) -> bool {
    zone.in_force_because_codes.iter().any(|reason| {
        matches!(reason, binding::Reason::NotLaw { status: Status::Proposed | Status::NotCommenced })
    })
}

fn may_be_in_force(zone: &ZoneDocument<'_>) -> bool {
    zone.in_force != Tristate::No
}

/// So far from the nearest loaded zone that the fix or the zones are probably not the ones that were meant.
fn is_far(zone: &ZoneDocument<'_>) -> bool {
    zone.signed_distance.is_some_and(|distance| distance.metres() > 100_000.0)
}

impl<'a> HereDocument<'a> {
    /// The first three lines, and what else is too important to stand far below.
    pub(super) fn headline(&self, room: Room) -> Vec<HeadLine> {
        let wanted = self.wanted();
        let mut first: Vec<Slot> = wanted.iter().copied().take(2).collect();
        first.sort_unstable();
        let more = wanted.iter().filter(|slot| !first.contains(slot));
        let more = more.filter(|slot| !matches!(slot, Slot::Place | Slot::Measure));
        let verdict = |width| {
            if first.contains(&Slot::Measure) {
                return self.verdict();
            }
            // three lines alone have room for the way out behind what the water is
            let is_way_told = first.contains(&Slot::Way) || !wanted.contains(&Slot::Way);
            let way = Some(room.rest).filter(|rest| *rest == Rest::InFull && !is_way_told);
            let way = way.map(|_| self.verdict_with_way());
            // one that has no room for all of it is not told
            let fits = |line: &String| display_width(line) <= width;
            way.into_iter().flatten().filter(fits).chain(self.verdict_with_measure(width)).collect()
        };
        // whoever reads three lines alone gets the fish, the warning and what settles it in them
        let has_to_end_at_three =
            first.iter().any(|slot| matches!(slot, Slot::Warning | Slot::Settle | Slot::Home | Slot::Way));
        let verdict = HeadLine::of(Room { may_wrap: room.may_wrap && !has_to_end_at_three, ..room }, verdict);
        let said = first.iter().chain(more).map(|slot| self.line(*slot, room));
        std::iter::once(verdict).chain(said).collect()
    }

    /// The first three lines alone, none of them wrapped.
    pub(super) fn brief(&self, width: usize) -> Vec<String> {
        let lines = self.headline(Room { width, rest: Rest::InFull, may_wrap: false });
        let said = lines.into_iter().take(3).map(|line| match line {
            HeadLine::Fitted(text) | HeadLine::Wrapped(text) => text,
        });
        said.collect()
    }

    /// What the first lines say beside the water, the most important first.
    fn wanted(&self) -> Vec<Slot> {
        let has_fish = !self.take.is_empty();
        let standoff = self.standoff.as_ref().map(|standoff| standoff.kept);
        // who asks about a fish inside a zone that is not law yet has to know which
        let (place, measure) = ((!has_fish || self.is_in_a_zone_to_come()) && standoff.is_none(), true);
        // a move that settles the water says as much
        // and who may keep the fish has no need to leave
        let is_all_kept = has_fish && self.take.iter().all(|fish| fish.answer == TakeAnswer::Keep);
        let tells_way = self.tells_a_way_out() && self.settling_move.is_none() && !is_all_kept;
        let is_fish_settled = self.take.iter().all(|fish| fish.answer != TakeAnswer::Undecided);
        // what is left to settle is then the stand-off, and the line about it says which
        let is_last = standoff.is_some_and(|kept| kept != Tristate::Yes)
            && self.water != WaterStatus::Undecided
            && is_fish_settled;
        [
            (has_fish, Slot::Fish),
            (self.spoiling().next().is_some(), Slot::Warning),
            (is_last, Slot::Standoff),
            (self.settle_first().is_some(), Slot::Settle),
            (standoff.is_some_and(|kept| kept != Tristate::Yes) && !is_last, Slot::Standoff),
            (self.on_heading.is_some(), Slot::Ahead),
            (self.tells_home(), Slot::Home),
            (self.fish_from_elsewhere().is_some(), Slot::Elsewhere),
            (standoff == Some(Tristate::Yes), Slot::Standoff),
            (tells_way, Slot::Way),
            // on a border the names say more than that it is inside one of them
            (place && (!tells_way || self.is_on_a_border()), Slot::Place),
            (measure, Slot::Measure),
        ]
        .into_iter()
        .filter_map(|(is_wanted, slot)| is_wanted.then_some(slot))
        .collect()
    }

    fn line(&self, slot: Slot, room: Room) -> HeadLine {
        let candidates = |width| match slot {
            Slot::Fish => self.fish(Room { width, ..room }),
            Slot::Warning => self.warning_line(room),
            Slot::Settle => self.settle_first().map_or_else(Vec::new, |settling| {
                std::iter::once(settling.full).chain(settling.short).collect()
            }),
            Slot::Elsewhere => self.elsewhere(room),
            Slot::Standoff => self.standoff_line(width).unwrap_or_default(),
            Slot::Place => self.place(width),
            Slot::Measure if self.is_on_a_border() => self.one_or_the_other(),
            Slot::Measure => self.measure_beside_fish(width),
            Slot::Ahead => self.ahead_line(),
            Slot::Home => self.way_home_line(),
            Slot::Way => self.way_out_line(),
        };
        match slot {
            Slot::Settle if room.rest == Rest::Below => self
                .settle_first()
                .map_or_else(|| HeadLine::of(room, candidates), |settling| HeadLine::Wrapped(settling.full)),
            Slot::Settle
            | Slot::Fish
            | Slot::Warning
            | Slot::Elsewhere
            | Slot::Standoff
            | Slot::Ahead
            | Slot::Home
            | Slot::Way => HeadLine::of(Room { may_wrap: false, ..room }, candidates),
            // the way out stands in the third line
            Slot::Place | Slot::Measure if self.tells_a_way_out() => {
                HeadLine::of(Room { may_wrap: false, ..room }, candidates)
            }
            Slot::Place | Slot::Measure => HeadLine::of(room, candidates),
        }
    }

    /// Whether it is inside a zone that is not law yet, and no rule applies.
    fn is_in_a_zone_to_come(&self) -> bool {
        self.water == WaterStatus::Unzoned
            && self.deciding_zone().is_some_and(|zone| {
                zone.containment == Containment::Inside
                    && zone.in_force == Tristate::No
                    && is_not_law_yet(zone)
            })
    }

    fn spoiling(&self) -> impl Iterator<Item = &Warning> {
        // where a slip explains how far off it is, what settles it says so, and better
        let is_explained = |warning: &Warning| {
            self.likely_misreading.is_some() && matches!(warning, Warning::FarFromEveryZone { .. })
        };
        self.warnings_codes.iter().filter(move |warning| spoils(warning) && !is_explained(warning))
    }

    /// The warnings that change the answer, on one line; beside a fish, where three lines have no room for a stand-off that is not
    /// kept, behind that.
    fn warning_line(&self, room: Room) -> Vec<String> {
        let warnings = self.warnings_on_one_line(room);
        let open = self.standoff.as_ref().map(|standoff| standoff.kept).filter(|kept| *kept != Tristate::Yes);
        let Some(kept) = open.filter(|_| room.rest == Rest::InFull && !self.take.is_empty()) else {
            return warnings;
        };
        let standoff = self.say_place(&PlacePhrase::StandoffInShort(kept));
        let both = warnings.iter().map(|warning| format!("{standoff}; {warning}"));
        both.chain(warnings.clone()).collect()
    }

    fn warnings_on_one_line(&self, room: Room) -> Vec<String> {
        let short: Vec<[String; 2]> =
            self.spoiling().map(|warning| self.words().warning_in_short(warning)).collect();
        if let [[long, brief]] = short.as_slice() {
            return [long, brief].map(|text| self.say_place(&PlacePhrase::Warning(text))).into();
        }
        let counted = self.say_place(&PlacePhrase::CountedWarnings(short.len()));
        let below = self.words().fish_line(&FishPhrase::SeveralFish(&counted, Some(room.rest)));
        let [mut long, mut brief] = [Vec::new(), Vec::new()];
        for [one, other] in short {
            long.push(one);
            brief.push(other);
        }
        let said = [long, brief].map(|texts| self.say_place(&PlacePhrase::Warnings(&texts.join("; "))));
        said.into_iter().chain([below, counted]).collect()
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

    pub(super) fn say_place(&self, phrase: &PlacePhrase<'_>) -> String {
        self.words().place(phrase)
    }

    /// The water, and why or what it means.
    pub(crate) fn verdict(&self) -> Vec<String> {
        let is_open = self.zones.iter().any(|zone| zone.binds == Tristate::Yes && zone.restricts_nothing);
        let mut lines = match self.water {
            WaterStatus::Closed => vec![self.say_water(&WaterPhrase::ClosedWater)],
            WaterStatus::Restricted => self.limited(),
            WaterStatus::Unzoned if is_open => vec![self.say_water(&WaterPhrase::NothingRestricts)],
            WaterStatus::Unzoned => vec![self.say_water(&WaterPhrase::NoZoneApplies)],
            WaterStatus::Undecided => self.undecided(),
        };
        let may_any_be_kept = self.may_any_be_kept();
        lines.push(self.say_water(&WaterPhrase::InShort { water: self.water, may_any_be_kept, is_open }));
        lines
    }

    fn limited(&self) -> Vec<String> {
        let together = self.zones.iter().filter(|zone| binds(zone)).count();
        if together > 1 {
            return vec![self.say_water(&WaterPhrase::LimitedByZones(together))];
        }
        let zone = self.deciding_zone();
        let rule = zone.map(|zone| match (&zone.take_rule_code.take, zone.take_rule.split_once("; ")) {
            // "anything may be taken" is no way to begin about water with limits
            (TakeSummary::Anything | TakeSummary::AnythingWithinLimits, limits) => {
                self.say_water(&WaterPhrase::AnyFish(limits.map(|(_, limits)| limits)))
            }
            _ => self.say_water(&WaterPhrase::Limited(&zone.take_rule)),
        });
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
    fn verdict_with_measure(&self, width: usize) -> Vec<String> {
        let measured = self.telling_zone().and_then(|zone| Some((zone, zone.signed_distance?)));
        let Some((zone, length)) = measured else { return self.verdict() };
        let side = zone.containment;
        let figures = figures::distance_with_doubt(self.units(), length, zone.uncertainty_95);
        let side_by = || self.say_water(&WaterPhrase::SideBy(side, &figures));
        let is_released = matches!(self.take.as_slice(), [one] if one.answer == TakeAnswer::Release);
        let is_named = is_released && side == Containment::Inside && !zone.on_the_line;
        let named = Some(zone).filter(|_| is_named).and_then(|zone| {
            with_name(width, zone.name, LEAST_OF_A_NAME, |name| {
                let within = self.say_water(&WaterPhrase::InZone(&figures, name));
                match self.water {
                    WaterStatus::Closed => self.say_water(&WaterPhrase::Closed(&within)),
                    WaterStatus::Restricted => self.say_water(&WaterPhrase::Limited(&within)),
                    WaterStatus::Unzoned | WaterStatus::Undecided => String::new(),
                }
            })
        });
        let named = named.filter(|line| !line.is_empty());
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
        named.into_iter().chain([line]).chain(self.verdict()).collect()
    }

    /// The water with the way out of it.
    fn verdict_with_way(&self) -> Vec<String> {
        let behind = |way: String| match self.water {
            WaterStatus::Closed => Some(self.say_water(&WaterPhrase::Closed(&way))),
            WaterStatus::Restricted => Some(self.say_water(&WaterPhrase::Limited(&way))),
            WaterStatus::Unzoned | WaterStatus::Undecided => None,
        };
        self.way_out_behind().into_iter().filter_map(behind).collect()
    }

    /// The zone that refuses the one fish asked about, if one surely does.
    fn refusing_zone(&self) -> Option<&ZoneDocument<'a>> {
        let [fish] = self.take.as_slice() else { return None };
        if fish.answer != TakeAnswer::Release {
            return None;
        }
        let refusing = fish.refused_by.first()?;
        self.zones.iter().find(|zone| zone.name == refusing)
    }

    /// The zone whose distance is told: the one that refuses the fish, else the one that the answer rests on.
    fn telling_zone(&self) -> Option<&ZoneDocument<'a>> {
        self.refusing_zone().or_else(|| self.deciding_zone())
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
    fn place(&self, width: usize) -> Vec<String> {
        let Some(zone) = self.deciding_zone() else {
            return [PlacePhrase::NoZoneIsNear, PlacePhrase::NoneNear]
                .map(|phrase| self.say_place(&phrase))
                .into();
        };
        if self.is_on_a_border() {
            return self.on_the_border();
        }
        let is_in_force = zone.in_force == Tristate::Yes;
        let named = |say: &dyn Fn(&str) -> String| {
            vec![with_name(width, zone.name, LEAST_OF_A_NAME, say).unwrap_or_else(|| say("…"))]
        };
        match zone.containment {
            Containment::Outside if is_far(zone) => [PlacePhrase::NoZoneWithin100Km, PlacePhrase::FarOff]
                .map(|phrase| self.say_place(&phrase))
                .into(),
            Containment::Outside => named(&|name| self.say_place(&PlacePhrase::Nearest(name))),
            Containment::Undecided => {
                let toward = zone.nearest.and_then(|nearest| {
                    let say = |name: &str| self.say_place(&PlacePhrase::LineToward(nearest.bearing, name));
                    with_name(width, zone.name, LEAST_OF_A_NAME, say)
                });
                toward
                    .into_iter()
                    .chain(named(&|name| self.say_place(&PlacePhrase::UndecidedZone(name))))
                    .collect()
            }
            Containment::Inside if zone.in_force == Tristate::No && is_not_law_yet(zone) => {
                named(&|name| self.say_place(&PlacePhrase::NotLawYet(name)))
            }
            Containment::Inside if zone.in_force == Tristate::No => {
                named(&|name| self.say_place(&PlacePhrase::NotInForce(name)))
            }
            Containment::Inside if !is_in_force => {
                named(&|name| self.say_place(&PlacePhrase::InForceOrNot(name)))
            }
            Containment::Inside if zone.binds == Tristate::Yes && zone.restricts_nothing => {
                named(&|name| self.say_place(&PlacePhrase::RestrictsNothing(name)))
            }
            Containment::Inside if self.water == WaterStatus::Unzoned => {
                named(&|name| self.say_place(&PlacePhrase::DoesNotBind(name)))
            }
            Containment::Inside => self.in_force_here(width, zone.name),
        }
    }

    /// The closed zones on whose border it is.
    fn on_the_border(&self) -> Vec<String> {
        let names: Vec<&str> = self.closing_together().map(|zone| zone.name).collect();
        let border = self.say_place(&PlacePhrase::OnTheBorder(&names));
        vec![border, self.say_place(&PlacePhrase::OnTheBorderOf(names.len()))]
    }

    fn in_force_here(&self, width: usize, first: &str) -> Vec<String> {
        let others = self.zones.iter().filter(|zone| binds(zone)).map(|zone| zone.name);
        let names: Vec<&str> = std::iter::once(first).chain(others.filter(|name| *name != first)).collect();
        let all = self.say_place(&PlacePhrase::InForceHere(&names));
        let say = |name: &str| {
            if names.len() > 1 {
                self.say_place(&PlacePhrase::InForceOneOf(names.len(), name))
            } else {
                self.say_place(&PlacePhrase::InForceHere(&[name]))
            }
        };
        vec![all, with_name(width, first, 1, say).unwrap_or_else(|| say("…"))]
    }

    /// The line about the stand-off; none if none was asked for.
    fn standoff_line(&self, width: usize) -> Option<Vec<String>> {
        let standoff = self.standoff.as_ref()?;
        let say = |why: &str| self.say_place(&PlacePhrase::Standoff(standoff.kept, why));
        if standoff.kept == Tristate::Yes {
            return Some(vec![self.say_place(&PlacePhrase::StandoffKept)]);
        }
        let zone = standoff.because_codes.first().and_then(|reason| reason.zone());
        let zone = zone.or_else(|| self.zones.first().map(|zone| zone.name));
        let why = standoff.because.first().map(|why| say(why));
        let named = zone.and_then(|zone| with_name(width, zone, LEAST_OF_A_NAME, say));
        let short = self.say_place(&PlacePhrase::StandoffInShort(standoff.kept));
        Some(why.into_iter().chain(named).chain([short]).collect())
    }

    /// How far the line is, on which side, how sure and in which direction.
    pub(crate) fn measure(&self) -> Vec<String> {
        let say = |phrases: [PlacePhrase<'_>; 2]| phrases.map(|phrase| self.say_place(&phrase)).into();
        let Some(zone) = self.deciding_zone() else {
            return say([PlacePhrase::NoLineLoaded, PlacePhrase::NoneNear]);
        };
        let side = zone.containment;
        let Some(length) = zone.signed_distance else {
            return say([PlacePhrase::LineNotKnown(side), PlacePhrase::LineNotKnownInShort]);
        };
        if zone.on_the_line {
            let doubt = figures::doubt(self.units(), zone.uncertainty_95);
            return say([PlacePhrase::OnTheLine(side, &doubt), PlacePhrase::OnTheLineInShort(&doubt)]);
        }
        let figures = &figures::distance_with_doubt(self.units(), length, zone.uncertainty_95);
        let is_shore = zone.has_shore_nearest();
        let measure = |bearing| self.say_place(&PlacePhrase::Measure { side, figures, bearing, is_shore });
        let bearing = zone.nearest.map(|nearest| nearest.bearing);
        let short = self.say_place(&PlacePhrase::MeasureInShort(side, figures));
        bearing.map(|bearing| measure(Some(bearing))).into_iter().chain([measure(None), short]).collect()
    }

    /// The same below a fish, where no other line names the zone.
    fn measure_beside_fish(&self, width: usize) -> Vec<String> {
        let is_told = matches!(self.water, WaterStatus::Closed | WaterStatus::Restricted);
        let zone =
            self.telling_zone().filter(|_| is_told && (!self.take.is_empty() || self.tells_a_way_out()));
        let zone = zone.filter(|zone| zone.containment == Containment::Inside && !zone.on_the_line);
        let named = zone.and_then(|zone| Some((zone, zone.signed_distance?)));
        let named = named.into_iter().flat_map(|(zone, length)| {
            let figures = &figures::distance_with_doubt(self.units(), length, zone.uncertainty_95);
            let is_shore = zone.has_shore_nearest();
            let is_at_shore = is_shore && length.metres().abs() <= zone.uncertainty_95.metres();
            let at_shore = is_at_shore.then(|| {
                let say = |name: &str| self.say_place(&PlacePhrase::AtItsShore(Containment::Inside, name));
                with_name(width, zone.name, LEAST_OF_A_NAME, say)
            });
            let say = |zone: &str, bearing| {
                self.say_place(&PlacePhrase::MeasureOf {
                    side: Containment::Inside,
                    zone,
                    figures,
                    bearing,
                    is_shore,
                })
            };
            let whole = zone.nearest.map(|nearest| say(zone.name, Some(nearest.bearing)));
            let cut = with_name(width, zone.name, LEAST_OF_A_NAME, |name| say(name, None));
            at_shore.flatten().into_iter().chain(whole).chain(cut)
        });
        named.chain(self.measure()).collect()
    }
}
