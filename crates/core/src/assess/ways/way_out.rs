//! The way out of closed or limited water, and to where a fish may be kept.

use super::super::fish::judge;
use super::super::resolve::standings_at;
use super::super::standing_at::{AskedFish, FishNames};
use super::super::water::{Standing, water};
use super::super::{Assessment, Containment, Question, TakeAnswer, WaterStatus};
use super::clearance::{Asked, Waters};
use super::enclosed::is_enclosed;
use super::land::Land;
use super::search::{Found, LAST_LEAST_M, LAST_TIMES, Search, Way};
use super::{NoWayOut, OtherWay, WayOut};
use crate::binding::Moment;
use crate::geodesic::{direct, inverse};
use crate::zone::{Zone, ZoneId, ZoneSet};
use crate::{Fix, Metres, Position, Tristate, TrueBearing};

/// No way out is looked for farther off than this, in metres.
const FARTHEST_M: f64 = 500_000.0;

/// What is looked for: water clear of some zones.
struct Wanted<'f> {
    /// The zones to get clear of.
    counts: &'f dyn Fn(&Zone) -> bool,
    /// Whether a place does, by the whole judgement there.
    holds: &'f dyn Fn(Position) -> bool,
}

/// Adds the way out, and for each fish the way to where it may be kept, where there is anything to leave.
pub(in super::super) fn add_way_out(
    (zones, land): (&ZoneSet, &Land<'_>),
    (fix, question): (&Fix, &Question),
    standings: &[Standing<'_>],
    answer: &mut Assessment,
) {
    let is_closed = answer.water != WaterStatus::Unzoned && !zones.zones().is_empty();
    if !question.way_out || !is_closed || answer.misreading.is_some() {
        return;
    }
    if question.is_on_foot() {
        answer.no_way_out = Some(NoWayOut::OnFoot);
        return;
    }
    let time = question.time_of(fix);
    let access = question.circumstances.access;
    let leaving = Leaving { asked: Asked { zones, fix, time, access }, question, land, standings };
    let is_clear = |place: Position| {
        let there = Fix { position: place, ..*fix };
        water(&standings_at(zones, &there, question)).0 == WaterStatus::Unzoned
    };
    let restricts = |zone: &Zone| !zone.rule.restricts_nothing();
    match leaving.way(&Wanted { counts: &restricts, holds: &is_clear }) {
        Ok(way) => answer.way_out = way,
        Err(why) => answer.no_way_out = Some(why),
    }
    let mut names = None;
    for finding in &mut answer.take {
        if matches!(finding.answer, TakeAnswer::Release | TakeAnswer::Undecided) {
            let names = names.get_or_insert_with(|| FishNames::of(zones));
            finding.way_to_keep = leaving.way_to_keep(&finding.asked, names);
        }
    }
}

/// How far from the fix a zone can lie and still be looked at for the ways that a question asks for, in metres; none if it asks
/// for none.
pub(in super::super) fn farthest_asked_m(zones: &ZoneSet, fix: &Fix, question: &Question) -> Option<f64> {
    if !question.asks_for_ways() {
        return None;
    }
    let answer = zones.assess(fix, question);
    // a search looks twice as far as the way that it finds, and farther where it gives up
    let searched_m = |way: &WayOut| {
        let none_nearer_m = way.none_nearer_than.map_or(0.0, Metres::metres);
        let at_last_m = (LAST_TIMES * none_nearer_m).max(LAST_LEAST_M);
        let way_m = way.distance.metres();
        // what was not found there was looked for ever farther off
        if way_m > at_last_m && none_nearer_m > 0.0 { 2.0 * FARTHEST_M } else { at_last_m.max(2.0 * way_m) }
    };
    let fish =
        answer.take.iter().filter(|fish| matches!(fish.answer, TakeAnswer::Release | TakeAnswer::Undecided));
    let was_sought = question.way_out && !question.is_on_foot() && answer.water != WaterStatus::Unzoned;
    let of_fish = fish.map(|fish| fish.way_to_keep.as_ref());
    let of_water = was_sought.then_some(answer.way_out.as_ref());
    let out_m =
        of_fish.filter(|_| was_sought).chain(of_water).map(|way| way.map_or(2.0 * FARTHEST_M, searched_m));
    let looks =
        answer.zones.iter().filter_map(|zone| Some(first_look_m(zone.signed_distance?, zone.uncertainty_95)));
    let ahead_m = question.heading.map(|_| ZoneSet::FAR_M);
    let home_m = question.home.map(|home| inverse(fix.position, home).distance_m);
    Some(out_m.chain(looks).chain(ahead_m).chain(home_m).fold(0.0, f64::max))
}

/// How far to look first for a way out of a zone.
fn first_look_m(signed_distance: Metres, doubt: Metres) -> f64 {
    2.0 * (doubt.metres() - signed_distance.metres()).max(0.0) + 100.0
}

/// A fix that is to be left.
struct Leaving<'l, 'z> {
    asked: Asked<'z>,
    question: &'l Question,
    land: &'l Land<'l>,
    standings: &'l [Standing<'z>],
}

impl Leaving<'_, '_> {
    /// The way to where a fish may be kept, if there is one.
    fn way_to_keep(&self, asked: &str, names: &FishNames<'_>) -> Option<WayOut> {
        let Asked { zones, fix, time, .. } = self.asked;
        let circumstances = &self.question.circumstances;
        let refuses = |zone: &Zone| {
            let fish = AskedFish { asked, circumstances, time };
            names.keep(zone, &zone.rule, fish).allowed != Tristate::Yes
        };
        let is_kept = |place: Position| {
            let there = Fix { position: place, ..*fix };
            let standings = standings_at(zones, &there, self.question);
            let (found, _) = judge(asked, &standings, names.names(), (circumstances, &Moment::known(time)));
            matches!(found.answer, TakeAnswer::Keep | TakeAnswer::Unzoned)
        };
        self.way(&Wanted { counts: &refuses, holds: &is_kept }).ok().flatten()
    }

    /// The way; none where the fix is clear already.
    fn way(&self, wanted: &Wanted<'_>) -> Result<Option<WayOut>, NoWayOut> {
        let Asked { fix, .. } = self.asked;
        let mut waters = Waters::new(self.asked, wanted.counts);
        if let Some(zone) = waters.everywhere() {
            return Err(NoWayOut::PlaceUnknown { zone: zone.name.clone() });
        }
        if waters.clear_m(fix.position) > 0.0 {
            return Ok(None);
        }
        if self.land.holds_the_fix() {
            return Err(NoWayOut::OnLand);
        }
        waters.look_to(self.first_look_m());
        let from = fix.position;
        let mut search = Search::new(from, (&mut waters, self.land), FARTHEST_M);
        let (way, none_nearer_m) = match search.shortest(&self.hints()) {
            Found::Shortest(way) => (way, None),
            Found::Perhaps(way, none_nearer_m) => (way, Some(none_nearer_m)),
            Found::NoneWithin => return Err(self.none_within(&waters)),
            Found::GaveUp(_) => return Err(Self::unplaced(&waters).unwrap_or(NoWayOut::TooIntricate)),
        };
        let to = |way: Way| direct(from, way.bearing_deg, way.distance_m);
        if !(wanted.holds)(to(way)) {
            return Err(NoWayOut::TooIntricate);
        }
        let tie = search.as_short_as(way).filter(|way| (wanted.holds)(to(*way))).map(|way| OtherWay {
            distance: Metres::computed(way.distance_m),
            bearing: TrueBearing::wrapping(way.bearing_deg),
            to: to(way),
        });
        waters.look_to(2.0 * way.distance_m);
        Ok(Some(WayOut {
            distance: Metres::computed(way.distance_m),
            uncertainty_95: fix.uncertainty.radius_95(),
            bearing: TrueBearing::wrapping(way.bearing_deg),
            to: to(way),
            leaves: self.leaves(wanted),
            over_land: self.land.over_land((way.bearing_deg, way.distance_m), None),
            pocket: is_enclosed(self.asked.zones, &waters.counting(), to(way)),
            tie,
            none_nearer_than: none_nearer_m.map(Metres::computed),
            seconds: self.question.seconds_for(way.distance_m),
        }))
    }

    fn none_within(&self, waters: &Waters<'_>) -> NoWayOut {
        let searched_m = FARTHEST_M;
        Self::unplaced(waters).unwrap_or_else(|| {
            if self.land.is_met_about(searched_m) {
                NoWayOut::NoStraightWay { searched_m }
            } else {
                NoWayOut::FartherThan { searched_m }
            }
        })
    }

    /// That nobody knows where a zone lies, if that is so: no place is clear of it but by another rule.
    fn unplaced(waters: &Waters<'_>) -> Option<NoWayOut> {
        waters.anywhere().map(|zone| NoWayOut::PlaceUnknown { zone: zone.name.clone() })
    }

    /// The zones that bind here, or may.
    fn leaves(&self, wanted: &Wanted<'_>) -> Vec<ZoneId> {
        let binds = |standing: &&Standing<'_>| standing.binds() != Tristate::No;
        let here = self.standings.iter().filter(binds).map(|standing| standing.placed.zone);
        here.filter(|zone| (wanted.counts)(zone)).map(|zone| zone.id.clone()).collect()
    }

    /// A little more than the way out of any one of the zones here.
    fn first_look_m(&self) -> f64 {
        let depths = self.standings.iter().filter_map(|standing| standing.placed.distance());
        let looks = depths.map(|(distance_m, doubt_m)| {
            first_look_m(Metres::computed(distance_m), Metres::computed(doubt_m))
        });
        looks.fold(0.0, f64::max)
    }

    /// The bearings to the nearest points of the lines of the zones here, or away from them who may be outside.
    fn hints(&self) -> Vec<f64> {
        let near = self.standings.iter().filter(|standing| standing.placed.side != Containment::Outside);
        let bearing_deg = |standing: &Standing<'_>| {
            let located = standing.placed.off?.located(self.asked.fix.position);
            let is_inside = located.signed_distance.metres() <= 0.0;
            Some(located.bearing.degrees() + if is_inside { 0.0 } else { 180.0 })
        };
        near.filter_map(bearing_deg).collect()
    }
}
