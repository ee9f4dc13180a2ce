//! What the shape of a ring gives away: a corner that is off, a corner that is missing, a vertex in another notation.

use takeline::zone::{Extent, PublishedVertex, Zone};
use takeline::{Boundary, EdgeModel, PartSpec, Position, RingChange, RingSpec, SideKind, corners_off};

use super::neighbours::span_m;
use super::notation::{Grid, odd_one_out};
use super::{Finding, FindingKind, Repair, Spot};

/// Two coordinates nearer than this are one: 0.1 mm.
const SAME_DEG: f64 = 1e-9;
/// A finer print is no doubt, in metres.
const FINE_PRINT_M: f64 = 1.0;
/// A side that slants by a smaller share of its length was hardly meant to. A rule of thumb: common practice, no source.
const SLIGHT: f64 = 0.05;
/// A vertex whose coordinates end in so many more noughts was printed with fewer digits: by chance one in some thousand is.
const COARSER: f64 = 50.0;
/// Rings with more vertices were not typed from a law.
const MOST_TYPED: usize = 200;

/// What the rings of a zone show.
pub(super) fn findings(zone: &Zone, spot: &Spot, found: &mut Vec<Finding>) {
    let Extent::Known(boundary) = &zone.extent else { return };
    let parts = boundary.parts();
    let several = parts.len() > 1;
    let mut typed = Vec::new();
    for (p, part) in parts.iter().enumerate() {
        let PartSpec::Polygon { exterior, holes } = part else { continue };
        for (r, ring) in std::iter::once(exterior).chain(holes).enumerate() {
            let spot = Spot { part: several.then_some(p + 1), ring: Some(r + 1), ..spot.clone() };
            let is_typed = ring.vertices.len() <= MOST_TYPED
                && ring.sides.iter().all(|side| matches!(side.kind, SideKind::Open | SideKind::Mouth))
                && !ring.edges.iter().any(|edge| matches!(edge, EdgeModel::Arc(_)));
            if is_typed {
                typed.extend(&ring.vertices);
                found.extend(of_ring(ring, &spot));
            }
        }
    }
    published(zone, &parts, spot, found);
    let printed = if zone.as_published.len() < typed.len() { of_decimals(&typed) } else { of_texts(zone) };
    found.extend(printed.map(|kind| Finding::at(kind, spot.clone())));
}

/// Whether each vertex has its text, where any has, and one in another datum other figures.
fn published(zone: &Zone, parts: &[PartSpec], spot: &Spot, found: &mut Vec<Finding>) {
    /// No datum lies so near WGS 84 that a shift from it is named, in degrees: a metre.
    const SHIFTED_DEG: f64 = 1e-5;
    let vertices: Vec<Position> = parts
        .iter()
        .flat_map(|part| match part {
            PartSpec::Polygon { exterior, holes } => {
                std::iter::once(exterior).chain(holes).flat_map(|ring| ring.vertices.clone()).collect()
            }
            PartSpec::Circle { centre, .. } => vec![*centre],
        })
        .collect();
    let texts = zone.as_published.len();
    if texts > 0 && texts < vertices.len() {
        let kind = FindingKind::PublishedIncomplete { without: vertices.len() - texts };
        found.push(Finding::at(kind, spot.clone()));
    }
    let near = |one: f64, other: f64| (one - other).abs() < SHIFTED_DEG;
    let stands_there = |text: &PublishedVertex| {
        vertices.iter().any(|vertex| {
            near(vertex.latitude().degrees(), text.position.latitude().degrees())
                && near(vertex.longitude().degrees(), text.position.longitude().degrees())
        })
    };
    let unshifted = zone.as_published.iter().find(|text| text.datum.is_some() && stands_there(text));
    if let Some(text) = unshifted {
        let datum = text.datum.clone().unwrap_or_default();
        let spot = Spot { member: vec!["as_published".to_owned()], ..spot.clone() };
        found.push(Finding::at(FindingKind::PublishedNotShifted { datum }, spot));
    }
}

fn of_ring(ring: &RingSpec, spot: &Spot) -> Option<Finding> {
    let vertices = &ring.vertices;
    let at = |vertex: usize| Spot { vertex: Some(vertex + 1), ..spot.clone() };
    let slips = corners_off(vertices);
    if let [RingChange::Digit { vertex, to }, ..] = slips[..] {
        let repairs = in_proportion(slips.iter().filter_map(|change| built(ring, change)).collect());
        let (here, count) = (vertices[vertex], vertices.len());
        let [before, after] = [vertices[(vertex + count - 1) % count], vertices[(vertex + 1) % count]];
        let nearer_m = span_m(here, before).min(span_m(here, after));
        let slight = span_m(here, to) < SLIGHT * nearer_m;
        return Some(Finding::new(FindingKind::CornerOff { slight }, at(vertex), repairs));
    }
    if let Some((after, place)) = missing_corner(vertices) {
        let mut whole = vertices.clone();
        whole.insert(after + 1, place);
        let area_m2 = area_m2(&whole);
        let repair = area_m2.map(|_| Repair::Insert { after: after + 1, at: place, area_m2 });
        let repairs = repair.into_iter().collect();
        return Some(Finding::new(FindingKind::CornerMissing, at(after), repairs));
    }
    odd_one_out(vertices).map(|vertex| Finding::at(FindingKind::OtherNotation, at(vertex)))
}

/// The smallest first, without those that are out of all proportion to it: a slip far off is offered as well as the near one.
fn in_proportion(mut repairs: Vec<Repair>) -> Vec<Repair> {
    /// A rule of thumb: common practice, no source.
    const TIMES: f64 = 30.0;
    let area_m2 = |repair: &Repair| match repair {
        Repair::Ring { area_m2, .. } | Repair::Insert { area_m2, .. } => area_m2.unwrap_or(f64::INFINITY),
        Repair::Words(_) | Repair::Date(_) | Repair::MonthDay(..) => f64::INFINITY,
    };
    repairs.sort_by(|one, other| area_m2(one).total_cmp(&area_m2(other)));
    let least_m2 = repairs.first().map_or(0.0, area_m2);
    repairs.retain(|repair| area_m2(repair) <= TIMES * least_m2);
    repairs
}

/// A change whose ring can be built, in the numbers of people.
fn built(ring: &RingSpec, change: &RingChange) -> Option<Repair> {
    let area_m2 = area_m2(&change.applied(&ring.vertices)?)?;
    Some(Repair::Ring { change: change.renumbered(|vertex| vertex + 1), area_m2: Some(area_m2) })
}

/// What vertices enclose, their sides taken for geodesics; none where they make no boundary.
pub(super) fn area_m2(vertices: &[Position]) -> Option<f64> {
    let edges = vec![EdgeModel::Geodesic; vertices.len()];
    let exterior = RingSpec { vertices: vertices.to_vec(), edges, sides: Vec::new() };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).ok().map(|built| built.area_m2())
}

/// Where all sides but one take turns along parallels and meridians, and that one cuts a corner off: after which vertex, and where.
fn missing_corner(vertices: &[Position]) -> Option<(usize, Position)> {
    let count = vertices.len();
    if count < 3 {
        return None;
    }
    let place = |at: usize| vertices[at % count];
    let along = |at: usize| {
        let (from, to) = (place(at), place(at + 1));
        let same = |one: f64, other: f64| (one - other).abs() < SAME_DEG;
        let parallel = same(from.latitude().degrees(), to.latitude().degrees());
        let meridian = same(from.longitude().degrees(), to.longitude().degrees());
        (parallel != meridian).then_some(parallel)
    };
    let mut oblique = (0..count).filter(|at| along(*at).is_none());
    let at = oblique.next()?;
    if oblique.next().is_some() {
        return None;
    }
    // seen from the oblique side on, the others have to take turns all the way round
    let others: Vec<bool> = (1..count).filter_map(|step| along(at + step)).collect();
    let take_turns = others.windows(2).all(|pair| pair[0] != pair[1]);
    let (after, before) = (*others.first()?, *others.last()?);
    if !take_turns || after == before {
        return None;
    }
    let (from, to) = (place(at), place(at + 1));
    // before a parallel comes a meridian, and the corner is where it meets what the missing side must be
    let (lat, lon) = if before {
        (to.latitude().degrees(), from.longitude().degrees())
    } else {
        (from.latitude().degrees(), to.longitude().degrees())
    };
    Position::from_degrees(lat, lon).ok().map(|corner| (at, corner))
}

/// What the last digits mean that the law itself prints.
fn of_texts(zone: &Zone) -> Option<FindingKind> {
    let halves_m = || zone.as_published.iter().map(|point| point.precision.north_south().metres());
    coarse_print(halves_m().fold(f64::INFINITY, f64::min), halves_m().fold(0.0, f64::max))
}

/// What the last digits of the file's decimals mean, for want of the law's own.
fn of_decimals(places: &[Position]) -> Option<FindingKind> {
    let grid = Grid::of(places).filter(|_| places.len() >= 3)?;
    let coarsest = places.iter().filter_map(|place| Grid::of(std::slice::from_ref(place)));
    let coarsest_m = coarsest.map(Grid::half_m).fold(0.0, f64::max);
    coarse_print(grid.half_m(), coarsest_m)
}

fn coarse_print(half_m: f64, coarsest_m: f64) -> Option<FindingKind> {
    let coarsest_half_m = (coarsest_m > COARSER * half_m).then_some(coarsest_m);
    (half_m.is_finite()
        && (half_m >= FINE_PRINT_M || coarsest_half_m.is_some_and(|half_m| half_m >= FINE_PRINT_M)))
    .then_some(FindingKind::PrintedPrecision { half_m, coarsest_half_m })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(places: &[(f64, f64)]) -> Vec<Position> {
        places.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon).unwrap()).collect()
    }

    #[test]
    fn a_box_without_one_corner_is_seen_whichever_is_missing() {
        let whole = ring(&[(45.11, -30.13), (45.11, -30.11), (45.125, -30.11), (45.125, -30.13)]);
        assert_eq!(missing_corner(&whole), None);
        for gone in 0..4 {
            let mut rest = whole.clone();
            let lost = rest.remove(gone);
            let (after, place) = missing_corner(&rest).unwrap();
            assert_eq!(place, lost, "{gone}");
            rest.insert(after + 1, place);
            assert!(area_m2(&rest).is_some());
        }
        let slanting = ring(&[(45.11, -30.13), (45.11, -30.11), (45.125, -30.10), (45.125, -30.13)]);
        assert_eq!(missing_corner(&slanting), None, "a right trapezium may be meant");
    }

    #[test]
    fn digits_count_as_the_law_prints_them() {
        // 45°12.00′ is 45.2: the decimals alone would mean 5.6 km
        let file = r#"{ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
            "features": [ { "type": "Feature", "id": "ledge", "geometry": null,
              "properties": { "edges": "rhumb", "take": "none", "source": { "instrument": "Marrowick Order 3" },
                "as_published": [ "45°12.00′N 030°06.00′W", "45°12.00′N 030°00.00′W", "45°06.00′N 030°06.00′W" ] } } ] }"#;
        let zones = takeline::zone_file::read("ledge.json", file.as_bytes()).unwrap().zones;
        let mut found = Vec::new();
        findings(&zones[0], &Spot::default(), &mut found);
        let half_m = |finding: &Finding| {
            let FindingKind::PrintedPrecision { half_m, .. } = finding.kind else { return None };
            Some(half_m.round())
        };
        let halves: Vec<f64> = found.iter().filter_map(half_m).collect();
        assert_eq!(halves, [9.0]);
    }
}
