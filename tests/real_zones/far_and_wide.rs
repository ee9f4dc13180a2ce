//! Invented rings that real zones do not offer: poles, long edges, tiny rings, bites, big circles.

use takeline::{Arc, ArcSense, Boundary, EdgeModel, Metres, PartSpec, RingSpec};

use crate::agreement::compare;
use crate::independent::{Course, Edge, Ellipsoid, Outline, Point};
use crate::regulations::{boundary, circle, model, position};
use crate::scatter::Chance;

/// The ring under both opinions; arcs have the radius of the vertex they leave.
fn both(ring: &[Point], courses: &[Course]) -> (Boundary, Outline) {
    let earth = Ellipsoid::wgs84();
    let count = ring.len();
    let edges = (0..count).map(|at| Edge::new(&earth, ring[at], ring[(at + 1) % count], courses[at]));
    let outline = Outline::new(&earth, edges.collect());
    let models = courses.iter().zip(ring).map(|(course, from)| match *course {
        Course::Bend { centre, clockwise } => EdgeModel::Arc(Arc {
            centre: position(centre),
            radius: Metres::new(earth.distance_m(centre, *from)).expect("a radius"),
            sense: if clockwise { ArcSense::Clockwise } else { ArcSense::Counterclockwise },
        }),
        Course::Geodesic | Course::Rhumb | Course::LonLat => model(*course),
    });
    (boundary(ring, models.collect()), outline)
}

fn agrees(name: &str, ring: &[Point], courses: &[Course]) {
    let (boundary, outline) = both(ring, courses);
    compare(name, &boundary, &outline).print(name);
}

const STRAIGHT: [Course; 3] = [Course::Geodesic, Course::Rhumb, Course::LonLat];

#[test]
fn rings_round_a_pole_agree() {
    let north = [(82.0, 0.0), (84.5, 70.0), (79.0, 130.0), (83.0, -150.0), (81.0, -60.0)];
    let south = north.map(|(lat, lon)| (-lat, lon));
    for course in STRAIGHT {
        agrees(&format!("round the north pole, {course:?}"), &north, &[course; 5]);
        agrees(&format!("round the south pole, {course:?}"), &south, &[course; 5]);
    }
}

#[test]
fn a_ring_with_a_vertex_at_the_pole_agrees() {
    let ring = [(90.0, 20.0), (85.0, 20.0), (84.0, 60.0), (85.0, 100.0)];
    agrees("vertex at the pole, geodesic", &ring, &[Course::Geodesic; 4]);
}

#[test]
fn long_edges_agree() {
    let ring = [(40.0, -50.0), (55.0, -20.0), (70.0, -45.0), (62.0, -75.0)];
    for course in STRAIGHT {
        agrees(&format!("edges up to 2900 km, {course:?}"), &ring, &[course; 4]);
    }
    let low = [(-12.0, 170.0), (9.0, 174.0), (11.0, -172.0), (-8.0, -169.0)];
    for course in STRAIGHT {
        agrees(&format!("across equator and 180, {course:?}"), &low, &[course; 4]);
    }
}

#[test]
fn a_ring_of_twenty_metres_agrees() {
    let ring = [(45.12, -30.12), (45.120_18, -30.12), (45.120_17, -30.119_75), (45.120_02, -30.119_77)];
    for course in STRAIGHT {
        agrees(&format!("20 m, {course:?}"), &ring, &[course; 4]);
    }
}

/// A box with a bite taken out of its northern side by a half circle, and one with the same half circle as a bulge.
#[test]
fn bites_and_bulges_agree() {
    let earth = Ellipsoid::wgs84();
    for (lat, radius_m) in [(45.12, 60.0), (45.12, 4_000.0), (68.0, 150_000.0), (5.0, 300_000.0)] {
        let centre = (lat, -30.12);
        let rim = |azimuth_deg| earth.direct(centre, azimuth_deg, radius_m);
        let corner = |azimuth_deg| earth.direct(centre, azimuth_deg, 2.5 * radius_m);
        let ring = [rim(90.0), rim(270.0), corner(240.0), corner(120.0)];
        for clockwise in [true, false] {
            // from east to west by the south: the bite; by the north: the bulge
            let bend = Course::Bend { centre, clockwise };
            let courses = [bend, Course::Rhumb, Course::Geodesic, Course::Rhumb];
            let name = if clockwise { "bite" } else { "bulge" };
            agrees(&format!("{name} of {radius_m} m at {lat}"), &ring, &courses);
        }
    }
}

#[test]
fn circles_agree() {
    let earth = Ellipsoid::wgs84();
    for (centre, radius_m) in [
        ((45.12, -30.12), 20.0),
        ((45.12, -30.12), 22_224.0),
        ((-17.0, 179.9), 50_000.0),
        ((88.0, 10.0), 600_000.0),
    ] {
        let outline = Outline::circle(&earth, centre, radius_m);
        let name = format!("circle of {radius_m} m about {centre:?}");
        compare(&name, &circle((centre, radius_m)), &outline).print(&name);
    }
}

/// A zone with a hole and a second part across 180°. All rings run the same way about their own area but the hole,
/// so that the turns of the independent side add up to nothing in it.
#[test]
fn holes_and_parts_agree() {
    let earth = Ellipsoid::wgs84();
    let outer = [(-16.0, 178.0), (-16.2, 179.5), (-17.0, 179.4), (-17.1, 178.1)];
    let hole = [(-16.8, 178.5), (-16.7, 179.1), (-16.4, 179.0), (-16.5, 178.4)];
    let second = [(-16.1, 179.8), (-16.3, -178.5), (-17.3, -178.8), (-17.2, 179.7)];
    for course in STRAIGHT {
        let spec = |ring: &[Point]| RingSpec {
            vertices: ring.iter().map(|vertex| position(*vertex)).collect(),
            edges: vec![model(course); ring.len()],
            sides: Vec::new(),
        };
        let boundary = Boundary::build(&[
            PartSpec::Polygon { exterior: spec(&outer), holes: vec![spec(&hole)] },
            PartSpec::Polygon { exterior: spec(&second), holes: vec![] },
        ])
        .expect("sound rings");
        let edges = [outer, hole, second].into_iter().flat_map(|ring| {
            (0..4).map(move |at| Edge::new(&Ellipsoid::wgs84(), ring[at], ring[(at + 1) % 4], course))
        });
        let outline = Outline::new(&earth, edges.collect());
        let name = format!("a hole and a second part, {course:?}");
        compare(&name, &boundary, &outline).print(&name);
        let in_the_hole = boundary.locate(position((-16.6, 178.8)));
        assert!(in_the_hole.signed_distance.metres() > 1_000.0);
    }
}

/// RFC 7946 section 3.1.9 asks writers to cut polygons at 180°. The seam is no boundary: the two halves answer as the
/// ring before the cut.
#[test]
fn a_ring_cut_at_180_answers_as_the_whole() {
    let whole = [(-16.2, 179.0), (-16.6, -178.0), (-17.5, -178.6), (-17.1, 178.8)];
    let at_180 = |from: Point, to: Point| {
        let east_of = |lon: f64| if lon < 0.0 { lon + 360.0 } else { lon };
        let share = (180.0 - east_of(from.1)) / (east_of(to.1) - east_of(from.1));
        from.0 + (to.0 - from.0) * share
    };
    let (north, south) = (at_180(whole[0], whole[1]), at_180(whole[2], whole[3]));
    let west = [whole[0], (north, 180.0), (south, 180.0), whole[3]];
    let east = [(north, -180.0), whole[1], whole[2], (south, -180.0)];
    let part = |ring: &[Point]| PartSpec::Polygon {
        exterior: RingSpec {
            vertices: ring.iter().map(|vertex| position(*vertex)).collect(),
            edges: vec![EdgeModel::PlateCarree; ring.len()],
            sides: Vec::new(),
        },
        holes: vec![],
    };
    let cut = Boundary::build(&[part(&west), part(&east)]).expect("sound halves");
    let outline = both(&whole, &[Course::LonLat; 4]).1;
    compare("cut at 180", &cut, &outline).print("cut at 180");
}

/// Places all over the Earth, evenly by area: the distance within 1 cm "at any distance", and the side by crossings.
/// Few of them, because beyond 6000 km every piece of the line is measured.
#[test]
fn from_anywhere_on_earth_agrees() {
    let earth = Ellipsoid::wgs84();
    let wide = [(40.0, -50.0), (55.0, -20.0), (70.0, -45.0), (62.0, -75.0)];
    let small = [(-16.4, 177.9), (-16.1, 179.7), (-16.5, -177.4), (-17.4, -178.2), (-17.1, 178.6)];
    let polar = [(82.0, 0.0), (84.5, 70.0), (79.0, 130.0), (83.0, -150.0), (81.0, -60.0)];
    let rings: [(&str, &[Point]); 3] = [("wide", &wide), ("small", &small), ("polar", &polar)];
    for (name, ring) in rings {
        for course in STRAIGHT {
            let (boundary, outline) = both(ring, &vec![course; ring.len()]);
            let mut chance = Chance::seeded(name);
            let (mut largest_m, mut farthest_m): (f64, f64) = (0.0, 0.0);
            for _ in 0..40 {
                let place = (chance.between(-1.0, 1.0).asin().to_degrees(), chance.between(-180.0, 180.0));
                let signed_m = boundary.locate(position(place)).signed_distance.metres();
                let wanted_m = outline.distance_m(&earth, place);
                let off_m = (signed_m.abs() - wanted_m).abs();
                assert!(off_m <= 0.01, "{name} {course:?} at {place:?}: {signed_m}, not {wanted_m}");
                assert_eq!(signed_m < 0.0, boundary.contains_by_crossings(position(place)), "{place:?}");
                (largest_m, farthest_m) = (largest_m.max(off_m), farthest_m.max(wanted_m));
            }
            println!("{name} ring, {course:?}, up to {:.0} km: within {largest_m:.1e} m", farthest_m / 1e3);
        }
    }
}
