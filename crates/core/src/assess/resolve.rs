//! What would settle an undecided answer, a move that surely does, and how far about a fix all that looks, so that nobody has to
//! load the zones beyond.

use super::error_budget::ErrorBudget;
use super::located_zone::LocatedZone;
use super::water::{self, Standing};
use super::ways::{Land, Walk, farthest_asked_m, walk};
use super::{Assessment, ClearingMove, Containment, Question, Remedy, WaterStatus};
use crate::binding::{Moment, ZoneHere, bind};
use crate::boundary::{Bounds, Off};
use crate::geodesic::direct;
use crate::once::say_once;
use crate::zone::{Datum, ZoneSet};
use crate::{Boundary, Fix, Metres, Position, Tristate, TrueBearing};

/// Bearings tried, as turns from the best one, in degrees.
const TURNS_DEG: [f64; 16] = [
    0.0, 22.5, -22.5, 45.0, -45.0, 67.5, -67.5, 90.0, -90.0, 112.5, -112.5, 135.0, -135.0, 157.5, -157.5,
    180.0,
];
/// Distances tried, as multiples of the shortest one that can do.
const STRETCHES: [f64; 6] = [1.0, 1.3, 1.7, 2.5, 4.0, 8.0];

/// No more distances than this are asked for, a tenth of a second of them; then no move is offered.
const MOST_DISTANCES: usize = 100_000;

/// Finds the nearest of the moves tried after which no zone's side is undecided, by asking again at the end of each.
///
/// None that comes, anywhere on its way, within the doubt of a zone that the boat is surely outside of now and whose rule may
/// bind: nobody is sent through one zone to be clear of another. Nor does any lead over land, where a coast is known.
pub(super) fn settling_move(
    (zones, land): (&ZoneSet, &Land<'_>),
    (fix, question): (&Fix, &Question),
    standings: &[Standing<'_>],
) -> Option<ClearingMove> {
    let unsure = |standing: &&Standing<'_>| {
        standing.placed.side == Containment::Undecided && standing.binding.in_force != Tristate::No
    };
    let nearest = standings.iter().filter(unsure).filter_map(|standing| {
        let (distance_m, doubt_m) = standing.placed.distance()?;
        Some((&standing.placed, doubt_m - distance_m))
    });
    // whoever is on foot goes nowhere over water, and where a coast is known no move leads over anything else
    if question.is_on_foot() && !land.is_empty() {
        return None;
    }
    // the zone that takes the longest way to get clear of leads
    let (placed, needed_m) = nearest.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let away = way_out(placed, fix.position)?;
    let moment = Moment::known(question.time_of(fix));
    let longest_m = longest_way_m(needed_m);
    let others = OtherZones::of(zones, fix, question, longest_m);
    let mut distances = 0;
    for stretch in STRETCHES {
        let distance_m = (needed_m * stretch).ceil() + 1.0;
        for turn in TURNS_DEG {
            if distances > MOST_DISTANCES {
                return None;
            }
            let bearing = TrueBearing::wrapping(away.degrees() + turn);
            if land.is_met(bearing.degrees(), distance_m)
                || !others.lets_pass((fix.position, bearing, distance_m), &mut distances)
            {
                continue;
            }
            let to = direct(fix.position, bearing.degrees(), distance_m);
            let there = Fix { position: to, ..*fix };
            let there = standings_in(zones, (&there, question), &moment);
            distances += there.len();
            let undecided = there.iter().any(|one| unsure(&one));
            let (water_there, _) = water::water(&there);
            if !undecided && water_there != WaterStatus::Closed {
                let distance = Metres::computed(distance_m);
                return Some(ClearingMove { distance, bearing, to, water_there });
            }
        }
    }
    None
}

/// Where the coast is missing that a side follows, the way out is the move that settles it: it leads to where the water is surely
/// clear, and nobody is sent two ways. Not if it leads through another zone, as a move never does.
pub(super) fn settle_by_the_way_out(
    zones: &ZoneSet,
    (fix, question): (&Fix, &Question),
    standings: &[Standing<'_>],
    answer: &mut Assessment,
) {
    let Some(way) = &answer.way_out else { return };
    let is_coast_missing = |standing: &Standing<'_>| {
        standing.placed.side == Containment::Undecided
            && standing.binds() == Tristate::Undecided
            && standing.placed.missing_coast(fix).is_some()
    };
    let way_m = way.distance.metres();
    if answer.water != WaterStatus::Undecided
        || !standings.iter().any(is_coast_missing)
        || !OtherZones::of(zones, fix, question, way_m).lets_pass((fix.position, way.bearing, way_m), &mut 0)
    {
        return;
    }
    let found = ClearingMove {
        distance: way.distance,
        bearing: way.bearing,
        to: way.to,
        water_there: WaterStatus::Unzoned,
    };
    answer.settling_move = Some(found);
    answer.settle.retain(|remedy| !matches!(remedy, Remedy::Move { .. }));
    answer.settle.insert(0, found.into());
}

impl From<ClearingMove> for Remedy {
    fn from(found: ClearingMove) -> Self {
        Self::Move {
            distance_m: found.distance.metres(),
            bearing_true_deg: found.bearing.degrees(),
            water_there: found.water_there,
        }
    }
}

/// The zones at a fix with whether they bind, without when that changes next.
pub(super) fn standings_at<'a>(zones: &'a ZoneSet, fix: &Fix, question: &Question) -> Vec<Standing<'a>> {
    standings_in(zones, (fix, question), &Moment::known(question.time_of(fix)))
}

fn standings_in<'a>(
    zones: &'a ZoneSet,
    (fix, question): (&Fix, &Question),
    moment: &Moment,
) -> Vec<Standing<'a>> {
    water::standings(place_all(zones, fix, question), |here| {
        bind(zones, here, question.circumstances.access, |_, zone| moment.in_force(zone))
    })
}

/// The longest move that is tried where so many metres are needed.
pub(super) fn longest_way_m(needed_m: f64) -> f64 {
    (needed_m * STRETCHES[STRETCHES.len() - 1]).ceil() + 1.0
}

/// Zones that a move must not come into, because the boat is outside of them now.
struct OtherZones<'a> {
    /// Each with what may make the least distance to it too long, in metres.
    zones: Vec<(&'a Boundary, Bounds, f64)>,
}

/// A way is looked at no closer than this, in metres: no boat is narrower.
const SHORTEST_LOOK_M: f64 = 0.25;
/// Within this of the doubt, in metres, is within it.
const TOUCHING_M: f64 = 1e-6;

impl<'a> OtherZones<'a> {
    /// Those within reach of a way of so many metres.
    fn of(zones: &'a ZoneSet, fix: &Fix, question: &Question, way_m: f64) -> Self {
        let reach_m = fix.uncertainty.radius_95().metres() + way_m;
        let near = zones.near_numbered(fix.position, Metres::computed(reach_m));
        let outside = near.into_iter().filter_map(|(number, off)| {
            let zone = &zones.zones()[number];
            let placed = LocatedZone::new((number, zone), Some(off), ErrorBudget::of(fix, zone));
            (placed.side == Containment::Outside).then_some(ZoneHere { number, inside: Tristate::Undecided })
        });
        let outside: Vec<ZoneHere> = outside.collect();
        let bound = zones.binding_zones(&outside, fix.time, question.circumstances.access);
        let may_bind = bound.into_iter().filter(|one| one.binds != Tristate::No);
        let kept_clear_of = may_bind.filter_map(|one| {
            let zone = &zones.zones()[one.number];
            let boundary = zone.extent.area().filter(|_| !zone.rule.restricts_nothing())?;
            let bounds = Bounds::of(Some(boundary));
            let doubt_m = ErrorBudget::of(fix, zone).random_95_m() + bounds.closure_error_m(Some(boundary));
            Some((boundary, bounds, doubt_m))
        });
        Self { zones: kept_clear_of.collect() }
    }

    /// Whether a way keeps clear of all of them, from its start to its end.
    ///
    /// The least distance, as [`Bounds`] has it, changes by no more than the way made, so that much of the way is clear ahead.
    /// No where it takes too many distances to tell; those that it took are counted.
    fn lets_pass(&self, (from, bearing, way_m): (Position, TrueBearing, f64), distances: &mut usize) -> bool {
        let clear_m = |place: Position| {
            let clear_of = |(boundary, bounds, doubt_m): &(&Boundary, Bounds, f64)| {
                bounds.least_m(&boundary.how_far(place)) - doubt_m
            };
            self.zones.iter().map(clear_of).fold(f64::INFINITY, f64::min)
        };
        let left_m = |at_m: f64| {
            *distances += self.zones.len();
            (*distances <= MOST_DISTANCES)
                .then(|| clear_m(direct(from, bearing.degrees(), at_m)) - TOUCHING_M)
        };
        walk((0.0, way_m), SHORTEST_LOOK_M, left_m) == Walk::ToTheEnd
    }
}

/// Straight away from the line if outside it, straight to it and over if inside.
fn way_out(placed: &LocatedZone<'_>, from: Position) -> Option<TrueBearing> {
    let located = placed.off?.located(from);
    let to_line = located.bearing;
    Some(if located.signed_distance.metres() > 0.0 { to_line.reversed() } else { to_line })
}

/// Every zone that may matter at a fix.
pub(super) fn place_all<'a>(zones: &'a ZoneSet, fix: &Fix, question: &Question) -> Vec<LocatedZone<'a>> {
    let standoff_m = question.standoff().map_or(0.0, Metres::metres);
    let reach = Metres::computed(fix.uncertainty.radius_95().metres() + standoff_m);
    let near = if question.all_zones { zones.all(fix.position) } else { zones.near(fix.position, reach) };
    let placed = |(number, off): (usize, Option<Off>)| {
        let zone = &zones.zones()[number];
        let circle = ErrorBudget::of(fix, zone);
        let narrowed = question.ellipse_95.zip(off);
        let doubt =
            narrowed.map_or(circle, |(ellipse, off)| circle.within(ellipse, (fix.position, zone), &off.far));
        LocatedZone::new((number, zone), off, doubt)
    };
    near.into_iter().map(placed).collect()
}

/// What would settle the water.
pub(super) fn remedies(
    (fix, question): (&Fix, &Question),
    standings: &[Standing<'_>],
    found: Option<&ClearingMove>,
) -> Vec<Remedy> {
    let mut remedies = Vec::new();
    remedies.extend(found.map(|found| Remedy::from(*found)));
    let open = || standings.iter().filter(|standing| standing.binds() == Tristate::Undecided);
    let sides_open = open().filter(|standing| standing.placed.side == Containment::Undecided);
    let needed: Vec<Needed> = sides_open.map(|standing| needed(&standing.placed, fix)).collect();
    // a fix that settles one side and leaves another open is no way out
    let enough_m =
        needed.iter().map(|needed| if let Needed::Fix(enough_m) = needed { *enough_m } else { 0.0 });
    let enough_m = enough_m.fold(f64::INFINITY, f64::min);
    if enough_m >= 1.0 && enough_m < fix.uncertainty.radius_95().metres() {
        remedies.push(Remedy::BetterFix { uncertainty_95_m: enough_m });
    }
    remedies.extend(needed.into_iter().filter_map(|needed| match needed {
        Needed::Other(remedy) => Some(remedy),
        Needed::Fix(_) | Needed::Nothing => None,
    }));
    for standing in open() {
        let placed = &standing.placed;
        if standing.binding.in_force == Tristate::Undecided {
            remedies.push(match question.time_of(fix) {
                _ if placed.zone.when.stands_for_a_rule() => {
                    Remedy::WriteTheRule { zone: placed.zone.name.clone() }
                }
                Ok(_) => Remedy::AskWhetherInForce { zone: placed.zone.name.clone() },
                Err(missing) => Remedy::SayTheTime { missing },
            });
        }
        if standing.binding.access == Tristate::Undecided {
            remedies.push(Remedy::SayAccess);
        }
    }
    say_once(&mut remedies);
    remedies
}

/// What would settle on which side of a zone the boat is, where it is.
enum Needed {
    /// A fix good to so many metres, 95 %.
    Fix(f64),
    /// Something else that is missing.
    Other(Remedy),
    /// No fix would do, and nothing else is known to.
    Nothing,
}

/// The fix that would settle the side where the boat is, if any fix could; else what else is missing.
fn needed(placed: &LocatedZone<'_>, fix: &Fix) -> Needed {
    let zone = || placed.zone.name.clone();
    let Some((distance_m, _)) = placed.distance() else {
        return Needed::Other(Remedy::GetTheLine { zone: zone() });
    };
    if placed.zone.datum == Datum::Unstated {
        let uncertainty_95_m = placed.zone.datum.uncertainty_95().metres();
        return Needed::Other(Remedy::FindOutTheDatum { zone: zone(), uncertainty_95_m });
    }
    let readings_m = placed.far().map_or(0.0, |far| far.reading_doubt.metres());
    let spare_m = distance_m.abs() - readings_m;
    if spare_m <= placed.doubt.of_the_line_m() {
        if readings_m <= 0.1 {
            return Needed::Nothing;
        }
        if let Some((side, uncertainty_95_m)) = placed.missing_coast(fix) {
            let level = side.level.as_deref().map(str::to_owned);
            return Needed::Other(Remedy::GetTheCoast { zone: zone(), level, uncertainty_95_m });
        }
        let apart_m = 2.0 * readings_m;
        return Needed::Other(Remedy::FindOutHowEdgesRun { zone: zone(), apart_m });
    }
    let enough_m = (spare_m * spare_m - placed.doubt.of_the_line_m().powi(2)).sqrt().floor();
    if enough_m < fix.uncertainty.radius_95().metres() { Needed::Fix(enough_m) } else { Needed::Nothing }
}

/// Added to every bound, in metres: far above what all rounding and the accuracy of distances come to.
const SPARE_M: f64 = 5.0;

impl ZoneSet {
    /// How far off a box about a zone can be and still be looked at by [`ZoneSet::assess`], in metres in a straight line from
    /// the fix; infinite where no line is known.
    ///
    /// A zone whose box is farther may be added to the set or left out: the answer is the same but for what
    /// [`ZoneSet::likely_misreading`] finds elsewhere, for overrides (which go by ids), for the names of fish and gear, and
    /// for a question that asks for all zones.
    ///
    /// Why: the set is only ever asked for what is near the fix or near a place that a move leads to from it, and goes through
    /// its boxes from the nearest on, until they are beyond both the reach asked for and the nearest known line
    /// ([`ZoneSet::near_numbered`]). A straight line is no longer than the geodesic, so a box that holds a line is no farther
    /// than it; and no distance to a line changes by more than the way made.
    pub(crate) fn farthest_box_asked_m(&self, fix: &Fix, question: &Question) -> f64 {
        let placed = place_all(self, fix, question);
        let radius_m = fix.uncertainty.radius_95().metres();
        let reach_m = radius_m + question.standoff().map_or(0.0, Metres::metres);
        let known = placed.iter().filter(|one| one.is_known()).filter_map(LocatedZone::far);
        let to_lines_m = known.map(|far| {
            let readings = [far.signed_distance, far.least, far.greatest];
            readings.map(|distance| distance.metres().abs()).into_iter().fold(0.0, f64::max)
        });
        let nearest_m = to_lines_m.fold(f64::INFINITY, f64::min);
        let undecided = placed.iter().filter(|one| one.side == Containment::Undecided);
        let needed_m =
            undecided.filter_map(LocatedZone::distance).map(|(distance_m, doubt_m)| doubt_m - distance_m);
        let way_m = needed_m.map(longest_way_m).fold(0.0, f64::max);
        // at the end of a move the same is asked, and before it what lies on its way, for which the fix may be off too
        let settled_m = nearest_m.max(reach_m) + radius_m + 2.0 * way_m;
        let ways_m = farthest_asked_m(self, fix, question);
        settled_m.max(ways_m.map_or(0.0, |ways_m| ways_m + reach_m + radius_m)) + SPARE_M
    }
}
