//! The way out of closed water, held against a search that knows nothing of how it was found.
//!
//! Random sets of one to six zones that adjoin, nest, overlap, have holes, slits between them, arcs that miss their circles
//! and edges that nobody explains. The place told has to be clear when the library is asked again there, and no place that
//! many bearings lead to may be clear and nearer by more than a metre. The number of cases is `TAKELINE_WAYS`, 40 if it is not
//! set. At full size:
//!
//! ```text
//! TAKELINE_WAYS=10000 cargo test --release -p takeline --test ways_out -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test whose shapes or zones cannot be made has failed")]

use std::collections::BTreeMap;

use takeline::assess::{NoWayOut, OverLand, WayOut};
use takeline::coast::{Coast, CoastLine};
use takeline::rule::{Access, Circumstances, Take, When};
use takeline::test_util::{Chance, CutShape};
use takeline::zone::{Datum, Effective, Extent, Status, Zone, ZoneSet};
use takeline::{
    AccuracyKind, Assessment, Boundary, BoundaryCursor, EdgeModel, Fix, HorizontalUncertainty, Metres,
    PartSpec, Position, Question, RingSpec, TakeAnswer, Tristate, WaterStatus,
};
use takeline_test_util::{Dice, FISH, RandomZones, earth, seasons};

/// The way told may be longer than one that the search finds by this, in metres: what the issue asks for.
const ALLOWED_M: f64 = 1.0;
/// Places count as clear for the search if they are so by this, in metres: clear water narrower than twice this is overlooked.
const AMPLY_CLEAR_M: f64 = 0.3;
/// So many bearings are searched.
const BEARINGS: u32 = 360;

#[derive(Debug, Default)]
struct Seen {
    by_kind: BTreeMap<&'static str, usize>,
    /// Cases in closed, limited or undecided water.
    ways: usize,
    ties: usize,
    pockets: usize,
    unsure: usize,
    /// By how much the search found a shorter way, at most, in metres.
    most_longer_m: f64,
    /// The longest that an answer took, in milliseconds, and to which case.
    longest_ms: f64,
    longest_seed: u64,
    faults: Vec<String>,
}

/// A set of zones with places worth asking about.
struct Case {
    kind: &'static str,
    parts: Vec<Vec<PartSpec>>,
    places: Vec<Position>,
    size_m: f64,
}

#[test]
fn no_clear_place_is_nearer_than_the_one_told() {
    let count = std::env::var("TAKELINE_WAYS").ok().and_then(|count| count.parse().ok()).unwrap_or(40_u64);
    let mut seen = Seen::default();
    let mut seed = 0;
    while seen.ways < usize::try_from(count).unwrap() && seed < 20 * count {
        try_seed(seed, &mut seen);
        seed += 1;
    }
    println!("{seen:#?}");
    assert!(seen.faults.is_empty(), "{} faults, such as\n{}", seen.faults.len(), seen.faults[0]);
    assert!(seen.ways >= usize::try_from(count).unwrap(), "only {} ways of {count}", seen.ways);
    assert!(seen.most_longer_m <= ALLOWED_M, "{} m longer", seen.most_longer_m);
}

/// What a search over all bearings does not end with has to be found on some of them.
#[test]
fn a_way_is_told_where_the_shortest_takes_too_many_looks() {
    let mut seen = Seen::default();
    try_seed(4_028, &mut seen);
    assert_eq!((seen.ways, seen.faults.as_slice()), (1, [].as_slice()));
}

/// Zones that displace each other, with seasons, accesses, fish, and some that nobody knows the place of.
#[test]
fn whatever_displaces_what_the_place_told_is_clear_and_none_of_many_nearer_ones_is() {
    let count =
        std::env::var("TAKELINE_WAYS").ok().and_then(|count| count.parse().ok()).unwrap_or(40_u64).min(1_000);
    let (mut seen, mut told) = (BTreeMap::<String, usize>::new(), 0);
    let mut faults = Vec::new();
    let mut seed = 0;
    while told < count && seed < 20 * count {
        let mut dice = Dice::new(1_000_000 + seed);
        let made = RandomZones::make(&mut dice);
        let set = ZoneSet::new(made.zones.clone());
        let uncertainty = HorizontalUncertainty::given(dice.one_of(&[2.0, 10.0, 40.0]), AccuracyKind::P95);
        let time = dice.chance(0.7).then(|| seasons::instant(&mut dice));
        let fix = Fix::new(made.place(&mut dice), uncertainty.unwrap()).at_time(time);
        let plain = Question::default().under(circumstances(&mut dice));
        let plain = plain.fish(dice.one_of(&FISH));
        let answer = set.assess(&fix, &plain.clone().finding_the_way_out());
        let ways = [answer.way_out.as_ref(), answer.take[0].way_to_keep.as_ref()];
        told += u64::from(answer.way_out.is_some());
        for (way, is_there) in ways.into_iter().zip([is_clear as fn(&Assessment) -> bool, may_be_kept]) {
            let Some(way) = way else { continue };
            let holds = |place: Position| {
                is_there(&set.assess(&Fix::new(place, fix.uncertainty).at_time(time), &plain))
            };
            faults.extend(wrong(&fix, way, holds, &mut dice).map(|fault| format!("seed {seed}: {fault}")));
        }
        if answer.no_way_out == Some(NoWayOut::TooIntricate) {
            println!("seed {seed}: too intricate");
        }
        let outcome = match (&answer.way_out, &answer.no_way_out) {
            (Some(_), _) => "way".to_owned(),
            (None, Some(why)) => why.code().to_owned(),
            (None, None) => format!("none: {:?}", answer.water),
        };
        *seen.entry(outcome).or_default() += 1;
        seed += 1;
    }
    println!("{seen:#?}");
    assert!(faults.is_empty(), "{} faults, such as\n{}", faults.len(), faults[0]);
    assert!(told >= count, "only {told} ways of {count}");
    assert_eq!(seen.get("too-intricate"), None);
}

fn circumstances(dice: &mut Dice) -> Circumstances {
    let access = dice.one_of(&[None, Some(Access::Boat), Some(Access::Shore)]);
    Circumstances { access, ..Circumstances::default() }
}

fn is_clear(answer: &Assessment) -> bool {
    answer.water == WaterStatus::Unzoned
}

fn may_be_kept(answer: &Assessment) -> bool {
    matches!(answer.take[0].answer, TakeAnswer::Keep | TakeAnswer::Unzoned)
}

/// What is wrong with a way: its place, or that one of many places nearer, and all about it, would have done.
fn wrong(fix: &Fix, way: &WayOut, holds: impl Fn(Position) -> bool, dice: &mut Dice) -> Option<String> {
    if !holds(way.to) {
        return Some(format!("not so at the place told: {way:?}"));
    }
    let least_m = way.none_nearer_than.map_or(way.distance.metres(), Metres::metres);
    for _ in 0..60 {
        // as often near the way told as anywhere
        let bearing_deg = if dice.chance(0.5) {
            dice.between(0.0, 360.0)
        } else {
            way.bearing.degrees() + dice.between(-20.0, 20.0)
        };
        let share = if dice.chance(0.5) { dice.share().sqrt() } else { dice.between(0.95, 1.0) };
        let off_m = (least_m - ALLOWED_M) * share;
        let place = earth::direct(fix.position, bearing_deg, off_m);
        let about = [0.0, 90.0, 180.0, 270.0].map(|turn_deg| earth::direct(place, turn_deg, AMPLY_CLEAR_M));
        if off_m > 0.0 && holds(place) && about.into_iter().all(&holds) {
            return Some(format!("it is so {off_m} m off on {bearing_deg}: {way:?}"));
        }
    }
    None
}

fn try_seed(seed: u64, seen: &mut Seen) {
    let mut dice = Dice::new(seed);
    let (case, zones) = if dice.chance(0.2) {
        of_random_zones(&mut dice)
    } else {
        let case = case(&mut dice);
        let zones = case.parts.iter().enumerate().filter_map(|one| zone(&mut dice, one)).collect();
        (case, zones)
    };
    if zones.is_empty() {
        return;
    }
    let set = ZoneSet::new(zones);
    let fix = fix(&mut dice, &case);
    let begun = std::time::Instant::now();
    let answer = set.assess(&fix, &Question::default().finding_the_way_out());
    let took_ms = begun.elapsed().as_secs_f64() * 1e3;
    if took_ms > seen.longest_ms {
        seen.longest_ms = took_ms;
        seen.longest_seed = seed;
    }
    if answer.water == WaterStatus::Unzoned || answer.misreading.is_some() {
        assert_eq!((answer.way_out, answer.no_way_out), (None, None), "seed {seed}");
        return;
    }
    seen.ways += 1;
    *seen.by_kind.entry(case.kind).or_default() += 1;
    let fault = match answer.way_out {
        None => Some(format!("no way: {:?}", answer.no_way_out)),
        Some(way) => checked(&set, (&fix, &way), &mut dice, seen).err(),
    };
    seen.faults.extend(fault.map(|fault| format!("seed {seed}, {}: {fault}", case.kind)));
}

fn checked(
    set: &ZoneSet,
    (fix, way): (&Fix, &WayOut),
    dice: &mut Dice,
    seen: &mut Seen,
) -> Result<(), String> {
    seen.ties += usize::from(way.tie.is_some());
    seen.pockets += usize::from(way.pocket);
    seen.unsure += usize::from(way.none_nearer_than.is_some());
    for to in [Some(way.to), way.tie.map(|tie| tie.to)].into_iter().flatten() {
        let there = set.assess(&Fix::new(to, fix.uncertainty), &Question::default());
        if there.water != WaterStatus::Unzoned {
            return Err(format!("{:?} at the place told: {way:?}", there.water));
        }
    }
    let (made_m, _) = earth::inverse(fix.position, way.to);
    if (made_m - way.distance.metres()).abs() > 0.01 {
        return Err(format!("the place is {made_m} m off: {way:?}"));
    }
    let shortest_m = shorter_m(set, (fix, way), dice);
    let least_m = way.none_nearer_than.map_or(way.distance.metres(), Metres::metres);
    seen.most_longer_m = seen.most_longer_m.max(least_m - shortest_m);
    if least_m - shortest_m > ALLOWED_M {
        return Err(format!("clear {shortest_m} m off: {way:?}"));
    }
    Ok(())
}

/// The nearest amply clear place on many bearings, if any is nearer than the way told; else the length of that.
fn shorter_m(set: &ZoneSet, (fix, way): (&Fix, &WayOut), dice: &mut Dice) -> f64 {
    let mut looks: Vec<(BoundaryCursor<'_>, f64)> =
        set.zones().iter().filter_map(|zone| look(zone, fix)).collect();
    let mut best_m = way.distance.metres();
    let (turn_deg, step_deg) = (dice.between(0.0, 1.0), 360.0 / f64::from(BEARINGS));
    let coarse = (0..BEARINGS).map(|step| f64::from(step) * step_deg + turn_deg);
    let fine = (0..60).map(|step| way.bearing.degrees() + (f64::from(step) - 30.0) / 60.0 * step_deg);
    for bearing_deg in coarse.chain(fine) {
        let mut at_m = 0.0;
        while at_m < best_m {
            let place = earth::direct(fix.position, bearing_deg, at_m);
            let clear_m = clear_m(&mut looks, place);
            if clear_m >= AMPLY_CLEAR_M {
                best_m = at_m;
                break;
            }
            // no distance changes by more than the way made; arcs that miss their circles are stepped over by a little
            at_m += (AMPLY_CLEAR_M - clear_m).clamp(0.05, 1e9);
        }
    }
    best_m
}

fn look<'z>(zone: &'z Zone, fix: &Fix) -> Option<(BoundaryCursor<'z>, f64)> {
    let Extent::Known(boundary) = &zone.extent else { return None };
    let line_m = zone.line_uncertainty.metres().hypot(zone.datum.uncertainty_95().metres());
    Some((boundary.cursor(), fix.uncertainty.radius_95().metres().hypot(line_m)))
}

/// By how much a place is clear of all zones, in metres, whatever each reading of their edges.
fn clear_m(looks: &mut [(BoundaryCursor<'_>, f64)], place: Position) -> f64 {
    let clear = looks.iter_mut().map(|(cursor, random_m)| {
        let far = cursor.how_far(place);
        far.signed_distance.metres() - far.reading_doubt.metres() - *random_m
    });
    clear.fold(f64::INFINITY, f64::min)
}

fn zone(dice: &mut Dice, (number, parts): (usize, &Vec<PartSpec>)) -> Option<Zone> {
    let boundary = Boundary::build(parts).ok()?;
    let id = format!("zone-{number}");
    let mut zone = Zone::new(&id, &id, Extent::Known(boundary), Take::Nothing.into());
    zone.line_uncertainty = Metres::new(dice.one_of(&[0.0, 0.0, 0.0, 5.0])).unwrap();
    zone.datum = dice.one_of(&[Datum::Wgs84, Datum::Wgs84, Datum::NearWgs84("ETRS89".to_owned())]);
    Some(zone)
}

fn fix(dice: &mut Dice, case: &Case) -> Fix {
    let from = dice.one_of(&case.places);
    let off_m = if dice.chance(0.2) { 0.0 } else { dice.log_between(0.01, 1.0) * case.size_m };
    let position = earth::direct(from, dice.between(0.0, 360.0), off_m);
    let accuracy_m = dice.one_of(&[2.0, 5.0, 10.0, 40.0]);
    Fix::new(position, HorizontalUncertainty::given(accuracy_m, AccuracyKind::P95).unwrap())
}

fn case(dice: &mut Dice) -> Case {
    let centre = earth::position(dice.between(-65.0, 65.0), dice.between(-180.0, 180.0));
    let size_m = if dice.chance(0.1) { 100_000.0 } else { dice.log_between(40.0, 8_000.0) };
    match dice.below(5) {
        0 | 1 => boxes(dice, centre, size_m),
        2 => discs(dice, centre, size_m),
        3 => holed(dice, centre, size_m),
        _ => cut(dice),
    }
}

/// Boxes that share sides and corners, or leave a slit between them.
fn boxes(dice: &mut Dice, centre: Position, size_m: f64) -> Case {
    let step_deg = size_m / 111_000.0;
    let (lat_deg, lon_deg) = (centre.latitude().degrees(), centre.longitude().degrees());
    let slit_deg: f64 =
        dice.one_of(&[0.0, 0.0, 1e-8, 20.0 / 111_000.0, 30.0 / 111_000.0_f64]).min(step_deg / 3.0);
    let model = dice.one_of(&[
        EdgeModel::RhumbLine,
        EdgeModel::PlateCarree,
        EdgeModel::Geodesic,
        EdgeModel::Unstated,
    ]);
    let mut parts = Vec::new();
    let mut places = vec![centre];
    for _ in 0..=dice.below(5) {
        let at = |dice: &mut Dice| [-1.0, 0.0, 1.0][dice.below(3)];
        let (south, west) = (lat_deg + at(dice) * step_deg, lon_deg + at(dice) * step_deg);
        let (north, east) = (south + step_deg - slit_deg, west + step_deg - slit_deg);
        let corners = [(south, west), (south, east), (north, east), (north, west)];
        let vertices: Vec<Position> =
            corners.iter().map(|corner| earth::position(corner.0, corner.1)).collect();
        places.extend([vertices[2], earth::position(north, west.midpoint(east)), vertices[0]]);
        parts.push(vec![polygon(vertices, model, Vec::new())]);
    }
    Case { kind: "boxes", parts, places, size_m }
}

/// Discs, some about one centre.
fn discs(dice: &mut Dice, centre: Position, size_m: f64) -> Case {
    let mut places = vec![centre];
    let mut parts = Vec::new();
    for _ in 0..=dice.below(5) {
        let centre = dice.one_of(&places);
        let radius_m = size_m * dice.between(0.3, 1.2);
        parts.push(vec![PartSpec::Circle { centre, radius: Metres::new(radius_m).unwrap() }]);
        places.push(earth::direct(centre, dice.between(0.0, 360.0), radius_m));
    }
    Case { kind: "discs", parts, places, size_m }
}

/// A ring with a hole, and something in the hole.
fn holed(dice: &mut Dice, centre: Position, size_m: f64) -> Case {
    let ring = |dice: &mut Dice, radius_m: f64| -> Vec<Position> {
        let count = 3 + dice.below(12);
        let turn_deg = dice.between(0.0, 360.0);
        let bearing_deg = |at: usize| {
            turn_deg
                - 360.0 * f64::from(u32::try_from(at).unwrap()) / f64::from(u32::try_from(count).unwrap())
        };
        (0..count)
            .map(|at| earth::direct(centre, bearing_deg(at), radius_m * dice.between(0.85, 1.0)))
            .collect()
    };
    let inner_m = size_m * dice.between(0.1, 0.35);
    let exterior = ring(dice, size_m);
    let hole = ring(dice, inner_m);
    let places = vec![centre, exterior[0], hole[0], earth::direct(centre, 10.0, inner_m.midpoint(size_m))];
    let mut parts = vec![vec![polygon(exterior, EdgeModel::Geodesic, vec![hole])]];
    if dice.chance(0.5) {
        let radius = Metres::new(inner_m * dice.between(0.2, 1.5)).unwrap();
        parts.push(vec![PartSpec::Circle { centre, radius }]);
    }
    Case { kind: "holed", parts, places, size_m }
}

/// The parts of one shape, each a zone.
fn cut(dice: &mut Dice) -> Case {
    let shape = CutShape::from_seed(dice.bits());
    let mut chance = Chance::new(dice.bits());
    let places = (0..4).map(|_| shape.place(&mut chance)).chain([shape.centre]).collect();
    let parts = shape.parts.into_iter().map(|part| vec![part]).collect();
    Case { kind: "cut", parts, places, size_m: shape.reach_m }
}

/// Zones of every sort, all in force and closed; overrides, seasons and zones of unknown place are in the other test.
fn of_random_zones(dice: &mut Dice) -> (Case, Vec<Zone>) {
    let made = RandomZones::make(dice);
    let is_known = |zone: &Zone| matches!(zone.extent, Extent::Known(_));
    let closed = |zone: Zone| {
        let (status, when, effective) = (Status::InForce, When::Always, Effective::default());
        Zone { status, when, effective, overrides: Vec::new(), rule: Take::Nothing.into(), ..zone }
    };
    let zones = made.zones.into_iter().filter(is_known).map(closed).collect();
    let places = made.interesting.into_iter().chain([made.centre]).collect();
    (Case { kind: "random", parts: Vec::new(), places, size_m: 2_000.0 }, zones)
}

fn polygon(vertices: Vec<Position>, model: EdgeModel, holes: Vec<Vec<Position>>) -> PartSpec {
    let ring = |vertices: Vec<Position>| RingSpec {
        edges: vec![model; vertices.len()],
        vertices,
        sides: Vec::new(),
    };
    PartSpec::Polygon { exterior: ring(vertices), holes: holes.into_iter().map(ring).collect() }
}

/// How finely a way is looked at for land, in metres.
const LAND_STEP_M: f64 = 0.5;
/// A gap between land counts for the search if the ways beside it are free as well, so far to either side, in metres.
const AMPLY_FREE_M: f64 = 0.3;
/// Beyond this the search does not look where no way was told, in metres.
const SEARCHED_M: f64 = 6_000.0;

#[derive(Debug, Default)]
struct SeenAtSea {
    ways: usize,
    from_beaches: usize,
    none: usize,
    on_land: usize,
    longest_ms: f64,
    most_longer_m: f64,
}

#[test]
fn no_way_out_leads_over_land() {
    let count = std::env::var("TAKELINE_WAYS").ok().and_then(|count| count.parse().ok()).unwrap_or(40_u64);
    let mut seen = SeenAtSea::default();
    let mut faults = Vec::new();
    for seed in 0..count {
        let mut dice = Dice::new(2_000_000 + seed);
        faults.extend(at_sea(&mut dice, &mut seen).err().map(|fault| format!("seed {seed}: {fault}")));
    }
    println!("{seen:#?}\n{faults:#?}");
    assert!(faults.is_empty(), "{} faults, such as\n{}", faults.len(), faults[0]);
    assert!(seen.ways * 2 > usize::try_from(count).unwrap(), "only {} ways", seen.ways);
}

fn at_sea(dice: &mut Dice, seen: &mut SeenAtSea) -> Result<(), String> {
    let centre = earth::position(dice.between(-65.0, 65.0), dice.between(-180.0, 180.0));
    let isles = isles(dice, centre);
    let uncertainty_m = dice.one_of(&[0.0, 0.0, 8.0]);
    let on_beach = dice.chance(0.3);
    let ring = dice.one_of(&isles);
    let beach = dice.one_of(&ring.positions);
    let Ok(coast) = Coast::from_lines(isles, Metres::new(uncertainty_m).unwrap()) else { return Ok(()) };
    let zones: Vec<Zone> = (0..=dice.below(3)).map(|number| reserve(dice, (number, centre))).collect();
    let set = ZoneSet::new(zones).with_coasts(vec![coast.clone()]);
    let afloat = earth::direct(centre, dice.between(0.0, 360.0), dice.between(0.0, 700.0));
    let accuracy_m = dice.one_of(&[3.0, 10.0]);
    let uncertainty = HorizontalUncertainty::given(accuracy_m, AccuracyKind::P95).unwrap();
    let fix = Fix::new(if on_beach { beach } else { afloat }, uncertainty);
    let begun = std::time::Instant::now();
    let answer = set.assess(&fix, &Question::default().finding_the_way_out());
    seen.longest_ms = seen.longest_ms.max(begun.elapsed().as_secs_f64() * 1e3);
    if answer.water == WaterStatus::Unzoned {
        return Ok(());
    }
    // drawn on land, but perhaps afloat
    let on_beach = on_beach || coast.is_on_land(fix.position) != Tristate::No;
    let launch_m = if on_beach { accuracy_m.hypot(uncertainty_m) + LAND_STEP_M } else { 0.0 };
    let Some(way) = answer.way_out else {
        let why = answer.no_way_out.ok_or("neither a way nor a reason")?;
        seen.none += 1;
        if why == NoWayOut::OnLand {
            seen.on_land += 1;
            let is_dry = coast.is_on_land(fix.position) == Tristate::Yes;
            return if is_dry { Ok(()) } else { Err("called on land afloat".to_owned()) };
        }
        let (bearing_deg, shortest_m) = at_sea_m(&set, &coast, (&fix, SEARCHED_M), launch_m);
        return if shortest_m < SEARCHED_M {
            Err(format!("{why:?}, but {shortest_m} on {bearing_deg}"))
        } else {
            Ok(())
        };
    };
    seen.ways += 1;
    seen.from_beaches += usize::from(on_beach);
    let there = set.assess(&Fix::new(way.to, fix.uncertainty), &Question::default());
    if there.water != WaterStatus::Unzoned || way.over_land == OverLand::Yes {
        return Err(format!("{:?} at the place told: {way:?}", there.water));
    }
    let close_m = nearest_on_the_way_m(&coast, &way, (fix.position, accuracy_m + uncertainty_m));
    if way.over_land == OverLand::No && close_m < accuracy_m + uncertainty_m - 0.5 {
        return Err(format!("passes land at {close_m} m: {way:?}"));
    }
    if let Some(dry_m) = dry_m(&coast, (&fix, way.bearing.degrees()), (launch_m, way.distance.metres())) {
        return Err(format!("on land after {dry_m} m: {way:?}"));
    }
    if on_beach {
        return Ok(());
    }
    let (bearing_deg, shortest_m) = at_sea_m(&set, &coast, (&fix, way.distance.metres()), launch_m);
    let longer_m = way.none_nearer_than.map_or(way.distance.metres(), Metres::metres) - shortest_m;
    seen.most_longer_m = seen.most_longer_m.max(longer_m);
    if longer_m > ALLOWED_M { Err(format!("{shortest_m} m on {bearing_deg}: {way:?}")) } else { Ok(()) }
}

/// How near a way comes to a coast once it is twice its doubt from where it begins, looked at every two metres.
fn nearest_on_the_way_m(coast: &Coast, way: &WayOut, (from, doubt_m): (Position, f64)) -> f64 {
    let mut nearest_m = f64::INFINITY;
    let mut at_m = 2.0 * doubt_m;
    while at_m < way.distance.metres() {
        let place = earth::direct(from, way.bearing.degrees(), at_m);
        nearest_m = nearest_m.min(coast.nearest(place).unwrap().0.metres());
        at_m += 2.0;
    }
    nearest_m
}

/// Isles of coves and points, some hundred metres across, and rocks, each in water of its own.
fn isles(dice: &mut Dice, centre: Position) -> Vec<CoastLine> {
    let mut discs: Vec<(Position, f64)> = Vec::new();
    for _ in 0..=dice.below(7) {
        let middle = earth::direct(centre, dice.between(0.0, 360.0), dice.between(200.0, 1_500.0));
        let size_m = dice.log_between(5.0, 400.0);
        let is_apart = |disc: &(Position, f64)| earth::inverse(disc.0, middle).0 > disc.1 + size_m + 2.0;
        if discs.iter().all(is_apart) {
            discs.push((middle, size_m));
        }
    }
    discs.into_iter().map(|disc| isle(dice, disc)).collect()
}

fn isle(dice: &mut Dice, (middle, size_m): (Position, f64)) -> CoastLine {
    let count = 5 + dice.below(40);
    let step_deg = 360.0 / f64::from(u32::try_from(count).unwrap());
    let bearing_deg = |at: usize| -step_deg * f64::from(u32::try_from(at).unwrap());
    let ring = (0..count).map(|at| earth::direct(middle, bearing_deg(at), size_m * dice.between(0.3, 1.0)));
    CoastLine::island(ring.collect())
}

fn reserve(dice: &mut Dice, (number, centre): (usize, Position)) -> Zone {
    let middle = earth::direct(centre, dice.between(0.0, 360.0), dice.between(0.0, 600.0));
    let radius = Metres::new(dice.between(400.0, 1_200.0)).unwrap();
    let boundary = Boundary::build(&[PartSpec::Circle { centre: middle, radius }]).unwrap();
    let id = format!("zone-{number}");
    Zone::new(&id, &id, Extent::Known(boundary), Take::Nothing.into())
}

/// Where a way is on land first, beyond the launch.
fn dry_m(coast: &Coast, (fix, bearing_deg): (&Fix, f64), (from_m, to_m): (f64, f64)) -> Option<f64> {
    let mut at_m = from_m;
    while at_m < to_m {
        let place = earth::direct(fix.position, bearing_deg, at_m);
        if coast.is_on_land(place) == Tristate::Yes {
            return Some(at_m);
        }
        at_m += LAND_STEP_M;
    }
    None
}

/// The shortest way by sea to an amply clear place, of many bearings; the length given if none is shorter.
fn at_sea_m(set: &ZoneSet, coast: &Coast, (fix, most_m): (&Fix, f64), launch_m: f64) -> (f64, f64) {
    let mut looks: Vec<(BoundaryCursor<'_>, f64)> =
        set.zones().iter().filter_map(|zone| look(zone, fix)).collect();
    let mut best = (0.0, most_m);
    for step in 0..BEARINGS {
        let bearing_deg = f64::from(step) * 360.0 / f64::from(BEARINGS);
        let mut at_m = 0.0;
        while at_m < best.1 {
            let clear_m = clear_m(&mut looks, earth::direct(fix.position, bearing_deg, at_m));
            if clear_m >= AMPLY_CLEAR_M {
                let beside_deg = (AMPLY_FREE_M / at_m.max(1.0)).to_degrees();
                let beside = [-beside_deg, 0.0, beside_deg];
                let is_free = |off_deg: &f64| {
                    sea_room_m(coast, (fix, bearing_deg + off_deg), (launch_m, at_m)) > AMPLY_FREE_M
                };
                if beside.iter().all(is_free) {
                    best = (bearing_deg, at_m);
                }
                break;
            }
            at_m += (AMPLY_CLEAR_M - clear_m).max(0.05);
        }
    }
    best
}

/// How near a way comes to any coast, in metres; zero if it meets one.
fn sea_room_m(coast: &Coast, (fix, bearing_deg): (&Fix, f64), (from_m, to_m): (f64, f64)) -> f64 {
    let (mut at_m, mut least_m) = (from_m, f64::INFINITY);
    loop {
        let place = earth::direct(fix.position, bearing_deg, at_m);
        let away_m = coast.nearest(place).unwrap().0.metres();
        least_m = least_m.min(away_m);
        if at_m >= to_m || least_m < AMPLY_FREE_M {
            return if coast.is_on_land(place) == Tristate::Yes { 0.0 } else { least_m };
        }
        at_m = (at_m + away_m.max(0.1)).min(to_m);
    }
}
