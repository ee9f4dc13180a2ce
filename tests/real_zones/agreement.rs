//! Every zone against the independent computation: 310 seeded places each, under each way its text can be read.

use takeline::{Boundary, Located};

use crate::independent::{Course, Ellipsoid, Outline, Point, within_half_turn};
use crate::regulations::{MONITOR, Zone, circle, polygons, position};
use crate::scatter::{Chance, about};

/// What `Boundary::locate` promises (docs/accuracy.md): 1 mm within 100 km, 1 cm at any distance.
const NEAR_TOLERANCE_M: f64 = 0.001;
const FAR_TOLERANCE_M: f64 = 0.01;
const NEAR_M: f64 = 100_000.0;
/// Closer to the line than this neither opinion about the side is worth anything.
const SIDE_MATTERS_M: f64 = 0.001;

/// The largest differences seen in a number of places.
#[derive(Debug, Default)]
pub(crate) struct Seen {
    places: usize,
    inside: usize,
    near_m: f64,
    far_m: f64,
}

impl Seen {
    fn add(&mut self, other: &Self) {
        self.places += other.places;
        self.inside += other.inside;
        self.near_m = self.near_m.max(other.near_m);
        self.far_m = self.far_m.max(other.far_m);
    }

    pub(crate) fn print(&self, name: &str) {
        println!(
            "{name}: {} places, {} inside; largest difference {:.2e} m within 100 km, {:.2e} m beyond",
            self.places, self.inside, self.near_m, self.far_m
        );
    }
}

/// Both opinions of one zone.
struct Opinions<'a> {
    name: &'a str,
    boundary: &'a Boundary,
    outline: &'a Outline,
    earth: Ellipsoid,
}

pub(crate) fn compare(name: &str, boundary: &Boundary, outline: &Outline) -> Seen {
    let opinions = Opinions { name, boundary, outline, earth: Ellipsoid::wgs84() };
    let mut seen = Seen::default();
    for place in about(&opinions.earth, &outline.edges, &mut Chance::seeded(name)) {
        opinions.compare_at(place, &mut seen);
    }
    assert!(seen.places >= 300 && seen.inside >= 50, "{name}: {seen:?}");
    seen
}

impl Opinions<'_> {
    fn compare_at(&self, place: Point, seen: &mut Seen) {
        let name = self.name;
        let here = position(place);
        let located = self.boundary.locate(here);
        let signed_m = located.signed_distance.metres();
        let wanted_m = self.outline.distance_m(&self.earth, place);
        let difference_m = (signed_m.abs() - wanted_m).abs();
        let (allowed_m, largest_m) = if wanted_m <= NEAR_M {
            (NEAR_TOLERANCE_M, &mut seen.near_m)
        } else {
            (FAR_TOLERANCE_M, &mut seen.far_m)
        };
        assert!(difference_m <= allowed_m, "{name} at {place:?}: {} m, not {wanted_m} m", signed_m.abs());
        *largest_m = largest_m.max(difference_m);
        self.check_nearest(place, &located);
        if wanted_m > SIDE_MATTERS_M {
            let inside = self.outline.winds_round(&self.earth, place);
            assert_eq!(signed_m < 0.0, inside, "{name} at {place:?}: side, {wanted_m} m from the line");
            assert_eq!(self.boundary.contains_by_crossings(here), inside, "{name} at {place:?}: crossings");
            seen.inside += usize::from(inside);
        }
        seen.places += 1;
    }

    /// The nearest point lies at the distance and on the bearing that are given for it.
    fn check_nearest(&self, place: Point, located: &Located) {
        let nearest = (located.nearest.latitude().degrees(), located.nearest.longitude().degrees());
        let (to_nearest_m, azimuth_deg) = self.earth.inverse(place, nearest);
        let off_m = to_nearest_m - located.signed_distance.metres().abs();
        assert!(off_m.abs() < 1e-6, "{} at {place:?}: nearest point off by {off_m} m", self.name);
        let turn_deg = within_half_turn(azimuth_deg - located.bearing.degrees());
        assert!(turn_deg.to_radians().abs() * to_nearest_m < 1e-6, "{} at {place:?}: bearing", self.name);
    }
}

fn compare_zone(zone: &Zone, courses: &[Course]) -> Seen {
    let outline = zone.outline(&Ellipsoid::wgs84(), courses);
    let seen = compare(&format!("{} {:?}", zone.id, courses[0]), &zone.boundary(courses), &outline);
    seen.print(&format!("{}, first edge {:?}", zone.id, courses[0]));
    seen
}

fn compare_all(prefix: &str, zones_expected: usize, readings_expected: usize) {
    let zones: Vec<Zone> = polygons().into_iter().filter(|zone| zone.id.starts_with(prefix)).collect();
    assert_eq!(zones.len(), zones_expected);
    let (mut all, mut readings) = (Seen::default(), 0);
    for zone in &zones {
        for courses in zone.courses_by_text() {
            all.add(&compare_zone(zone, &courses));
            readings += 1;
        }
    }
    assert_eq!(readings, readings_expected);
    all.print(&format!("all of {prefix}"));
}

#[test]
fn florida_keys_zones_agree() {
    // no text says how its points are joined: all three readings of seven zones
    compare_all("fknms-", 7, 21);
}

#[test]
fn special_management_zones_agree() {
    // seven boxes of parallels and meridians
    compare_all("us-smz-", 7, 7);
}

#[test]
fn scottish_zones_agree() {
    // East Mingulay says "Geodesic line"; Loch Crinan says "straight", Lamlash Bay is mixed: three readings each. Two
    // of Lamlash Bay's sides follow the coast, which is not given; the chords are the ring that is tested.
    compare_all("scot-", 3, 7);
}

#[test]
fn farallones_and_washington_agree() {
    compare_all("farallones-", 1, 3);
    // a C: the notch is outside
    compare_all("wa-", 1, 3);
}

#[test]
fn coral_shiprep_with_its_arcs_agrees() {
    compare_all("us-coralshiprep", 1, 1);
}

#[test]
fn monitor_circle_agrees() {
    let (centre, radius_m) = MONITOR;
    let outline = Outline::circle(&Ellipsoid::wgs84(), centre, radius_m);
    compare("us-monitor", &circle(MONITOR), &outline).print("us-monitor");
}
