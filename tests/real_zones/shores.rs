//! Laws with the shore as a side, written as they read: a chord across a bay must not call the bay "outside".
//! Lamlash Bay is as published. Of Loch Sunart and South Africa the reference data has how their sides run, not where (S21 and
//! S17 of the project's notes on the trade); their corners here are vertices of Natural Earth's coast there, and are no law.

use serde_json::{Value, json};
use takeline::coast::{self, Coast, CoastLine};
use takeline::zone_file::{WarningKind, read_along};
use takeline::{
    AccuracyKind, Assessment, Containment, Fix, HorizontalUncertainty, Metres, NauticalMiles, Position,
    Question, WaterStatus, ZoneFinding, ZoneSet,
};

use crate::independent::{Course, Edge, Ellipsoid, Outline, Point, earth_centred};
use crate::islands::islands;
use crate::regulations::{position, zone};

/// What a datum that nobody states may be off (docs/zone-format.md, *Datums*).
const DATUM_M: f64 = 200.0;

/// A law with some of its sides along the shore.
struct Law {
    id: &'static str,
    corners: Vec<Point>,
    /// How the side from each corner runs; those along the shore are put in when the law is read.
    edges: Vec<Value>,
    shores: Vec<usize>,
    /// Where the law has the shore.
    level: &'static str,
    datum: &'static str,
}

/// A zone as it was read, and how many of its sides follow a coast that is not there.
struct Read {
    zones: ZoneSet,
    not_followed: usize,
}

impl Read {
    fn asked(&self, place: Point, question: Question) -> Assessment {
        let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P95).expect("an uncertainty");
        self.zones.assess(&Fix::new(position(place), uncertainty), &question.listing_all_zones())
    }

    fn found(&self, place: Point) -> ZoneFinding {
        self.asked(place, Question::default()).zones.remove(0)
    }

    fn side(&self, place: Point) -> Containment {
        self.found(place).containment
    }

    /// Whether there is a way out; then it meets none of these lines, and asking again at its end is clear.
    fn leads_out(&self, place: Point, lines: &[[Point; 2]]) -> bool {
        let answer = self.asked(place, Question::default().finding_the_way_out());
        let Some(to) = answer.way_out.map(|way| degrees(way.to)) else { return false };
        assert!(!lines.iter().any(|line| cross([place, to], *line)), "from {place:?} to {to:?}");
        assert_eq!(self.asked(to, Question::default()).water, WaterStatus::Unzoned, "from {place:?}");
        true
    }
}

impl Law {
    /// As a zone file whose shore sides are so.
    fn read(&self, shore: &Value, coasts: &[Coast]) -> Read {
        let mut edges = self.edges.clone();
        self.shores.iter().for_each(|at| edges[*at] = shore.clone());
        let ring: Vec<[f64; 2]> = self.corners.iter().map(|(lat, lon)| [*lon, *lat]).collect();
        let head = json!({ "format": "takeline.zones/1", "datum": self.datum });
        let file = json!({ "type": "FeatureCollection", "takeline": head, "features": [{
            "type": "Feature", "id": self.id,
            "geometry": { "type": "Polygon", "coordinates": [ring] },
            "properties": { "edges": edges, "take": "none", "source": { "instrument": self.id } } }] });
        let loaded = read_along(self.id, file.to_string().as_bytes(), coasts).expect("a sound file");
        let kinds = loaded.warnings.iter().map(|warning| warning.kind);
        let not_followed = kinds.filter(|kind| *kind == WarningKind::CoastNotFollowed).count();
        Read { zones: ZoneSet::new(loaded.zones).with_coasts(coasts.to_vec()), not_followed }
    }

    /// As the plain polygon: all sides open water, the shore's chords too.
    fn chords(&self) -> Read {
        self.read(&json!("geodesic"), &[])
    }

    /// Without a coast: nobody knows where the shore runs.
    fn unresolved(&self) -> Read {
        self.read(&json!({ "runs": "geodesic", "side": "unresolved", "level": self.level }), &[])
    }

    fn along(&self, coast: Coast) -> Read {
        self.read(&json!({ "side": "shore", "level": self.level, "along": "coast" }), &[coast])
    }

    fn ends(&self, at: usize) -> [Point; 2] {
        [self.corners[at], self.corners[(at + 1) % self.corners.len()]]
    }

    fn outline(&self, earth: &Ellipsoid, sides: impl Iterator<Item = usize>) -> Outline {
        let edge = |[from, to]: [Point; 2]| Edge::new(earth, from, to, Course::Geodesic);
        Outline::new(earth, sides.map(|at| edge(self.ends(at))).collect())
    }

    fn chord_m(&self, earth: &Ellipsoid, at: usize, place: Point) -> f64 {
        self.outline(earth, std::iter::once(at)).distance_m(earth, place)
    }

    fn open_sides(&self, earth: &Ellipsoid) -> Outline {
        self.outline(earth, (0..self.corners.len()).filter(|at| !self.shores.contains(at)))
    }

    /// The place this far off the middle of a shore's chord, on the right of its way: all rings here run counterclockwise.
    fn landward(&self, earth: &Ellipsoid, shore: usize, away_m: f64) -> Point {
        let [from, to] = self.ends(shore);
        let (length_m, bearing_deg) = earth.inverse(from, to);
        let middle = earth.direct(from, bearing_deg, length_m / 2.0);
        earth.direct(middle, earth.inverse(middle, to).1 + 90.0, away_m)
    }

    /// A net of 16 by 16 places over the zone and so far about it, in degrees of latitude.
    fn net(&self, about_deg: f64) -> Vec<Point> {
        let bounds = |of: fn(&Point) -> f64, slack: f64| {
            let all = || self.corners.iter().map(of);
            (all().fold(f64::INFINITY, f64::min) - slack, all().fold(f64::NEG_INFINITY, f64::max) + slack)
        };
        let (lat, lon) = (bounds(|at| at.0, about_deg), bounds(|at| at.1, 1.5 * about_deg));
        let share = |(low, high): (f64, f64), step: u32| low + (high - low) * f64::from(step) / 15.0;
        (0..256).map(|at| (share(lat, at / 16), share(lon, at % 16))).collect()
    }

    /// Holds sides that nobody has supplied to the plain polygon: near a chord no side is told, far from all of them the same as
    /// without; nothing on a chord can be crossed, and ways out from inside do not lead over one.
    fn keeps_silent_near_its_chords(&self, about_deg: f64) {
        let earth = Ellipsoid::wgs84();
        let (chords, written, open) = (self.chords(), self.unresolved(), self.open_sides(&earth));
        let lines: Vec<[Point; 2]> = self.shores.iter().map(|at| self.ends(*at)).collect();
        let (mut withdrawn, mut alike) = (0, 0);
        for place in self.net(about_deg) {
            let (found, drawn) = (written.found(place), chords.found(place));
            let about = format!("{} at {place:?}", self.id);
            assert_eq!(found.signed_distance, drawn.signed_distance, "{about}: the distance stays");
            check_crossable(&earth, &found, &open);
            let beyond_m = |(at, [from, to]): (&usize, &[Point; 2])| {
                self.chord_m(&earth, *at, place) - earth.distance_m(*from, *to) / 2.0
            };
            let off_m = self.shores.iter().zip(&lines).map(beyond_m).fold(f64::INFINITY, f64::min);
            if off_m < 0.0 {
                assert_eq!(found.containment, Containment::Undecided, "{about}");
                withdrawn += u32::from(drawn.containment == Containment::Outside);
            } else if off_m > DATUM_M + 10.0 {
                assert_eq!(found.containment, drawn.containment, "{about}");
                alike += 1;
            }
        }
        assert!(withdrawn > 5 && alike > 50);
        let mut inside = self.net(0.0);
        inside.retain(|place| chords.side(*place) == Containment::Inside);
        assert!(inside.len() > 40 && inside.iter().all(|place| written.leads_out(*place, &lines)));
    }

    /// Holds sides along a coast to it: ways out do not lead over it, and nothing on it can be crossed.
    fn keeps_to_the_water(&self, followed: &Read) {
        let earth = Ellipsoid::wgs84();
        let (open, mut ways) = (self.open_sides(&earth), 0);
        let mut lines = Vec::new();
        for line in followed.zones.coasts()[0].lines() {
            lines.extend(line.positions.windows(2).map(|ends| [degrees(ends[0]), degrees(ends[1])]));
        }
        for place in self.net(0.02) {
            let found = followed.found(place);
            check_crossable(&earth, &found, &open);
            if found.containment == Containment::Inside {
                ways += u32::from(followed.leads_out(place, &lines));
            }
        }
        assert!(ways > 10, "{}: {ways} ways out", self.id);
    }
}

/// What can be crossed lies on an open side: to 0.2 m, by which the readings of a "straight line" of 2.3 km differ at 55° N.
fn check_crossable(earth: &Ellipsoid, found: &ZoneFinding, open: &Outline) {
    let point = degrees(found.crossable.expect("there are open sides").position);
    assert!(open.distance_m(earth, point) < 0.2, "{point:?} is on no open side");
}

/// Whether two lines of some kilometres cross, by the planes through the Earth's centre that hold them: mm off the geodesics.
fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let turn = |a: Point, b: Point, c: Point| {
        let [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = [a, b, c].map(earth_centred);
        (ay * bz - az * by) * cx + (az * bx - ax * bz) * cy + (ax * by - ay * bx) * cz
    };
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

fn degrees(place: Position) -> Point {
    (place.latitude().degrees(), place.longitude().degrees())
}

fn arran_and_false_bay() -> Coast {
    let text = include_bytes!("../data/natural-earth/ne_10m_coasts.geojson");
    let loaded = coast::read("ne_10m_coasts.geojson", text).expect("a sound coast");
    loaded.coast
}

/// SSI 2008/317, article 2(1): along "the mean high water mark of ordinary spring tides" round the north end of Holy Island, the
/// second edge of five, and along Arran, the fifth; no datum is stated.
fn lamlash_bay() -> Law {
    let published = zone("scot-lamlash-bay");
    let is_shore = |at: &usize| published.texts[*at].starts_with("mean high water mark");
    let shores = (0..5).filter(is_shore).collect();
    let (edges, level) = (vec![json!("unstated"); 5], "mean high water mark of ordinary spring tides");
    Law { id: "lamlash-bay", corners: published.vertices, edges, shores, level, datum: "unstated" }
}

/// SSI 2016/90, schedule 1, gives each line a type, "geodesic line" or "mean low water spring tide", by turns (S21). Across the loch,
/// along its south shore, across, along its north shore: vertices 983, 995, 992 and 986 of Great Britain, counted from 0.
fn loch_sunart() -> Law {
    let coast = islands().remove(0).ring();
    let corners = [983, 995, 992, 986].map(|at| coast[at]).to_vec();
    let (edges, level) = (vec![json!("geodesic"); 4], "mean low water spring tide");
    Law { id: "loch-sunart", corners, edges, shores: vec![1, 3], level, datum: "WGS 84" }
}

/// Regulation 16: from a beacon to a light along the high-water mark, and a nautical mile seaward of it (S17). From 34.17° S to
/// 34.12° S in the west of False Bay, vertices of its coast; the lines out to sea are square to the chord.
///
/// The line a mile off the coast is drawn a mile off the chord: it is off by no more than the coast is off the chord.
fn south_africa(earth: &Ellipsoid) -> Law {
    let (north, south) = ((-34.123_901, 18.459_185), (-34.172_87, 18.448_384));
    let seaward = |corner| earth.direct(corner, earth.inverse(north, south).1 - 90.0, NauticalMiles::METRES);
    let corners = vec![south, seaward(south), seaward(north), north];
    let (edges, level) = (vec![json!("geodesic"); 4], "high-water mark");
    let mut law = Law { id: "south-africa", corners, edges, shores: vec![3], level, datum: "WGS 84" };
    let stretch = arran_and_false_bay().between(position(north), position(south), Metres::ZERO);
    let off_m = |place: &Position| law.chord_m(earth, 3, degrees(*place));
    let deepest_m = stretch.expect("it leads there").iter().map(off_m).fold(0.0, f64::max);
    assert!((deepest_m - 1_228.0).abs() < 5.0, "the bay is {deepest_m} m deep");
    law.edges[1] = json!({ "runs": "geodesic", "uncertainty_m": deepest_m });
    law
}

/// The chord along Arran is 1.8 km long, that across Holy Island 1.1 km: half of that is undecided on either hand.
#[test]
fn lamlash_bay_is_undecided_along_its_shores() {
    let (earth, law) = (Ellipsoid::wgs84(), lamlash_bay());
    let (chords, written) = (law.chords(), law.unresolved());
    assert_eq!(law.shores, [1, 4]);
    for away_m in [100.0, 300.0, 600.0, 880.0] {
        let place = law.landward(&earth, 4, away_m);
        assert_eq!(chords.side(place) == Containment::Outside, away_m > DATUM_M);
        assert_eq!(written.side(place), Containment::Undecided, "{away_m} m behind the chord");
    }
    let beyond = law.landward(&earth, 4, 1_797.0 / 2.0 + DATUM_M + 20.0);
    assert_eq!(written.side(beyond), Containment::Outside);
    law.keeps_silent_near_its_chords(0.04);
}

/// Natural Earth's Arran cuts Clauchlands Point off, and it has no Holy Island: no stretch of it is that shore.
#[test]
fn a_coast_too_coarse_for_lamlash_bay_leaves_its_shores_undecided() {
    let law = lamlash_bay();
    let (followed, plain) = (law.along(arran_and_false_bay()), law.unresolved());
    assert_eq!(followed.not_followed, 2);
    for place in law.net(0.02) {
        assert_eq!(followed.side(place), plain.side(place), "{place:?}");
    }
}

/// For some kilometres the chord of the north shore leaves all of the loch outside, and that of the south shore has hills inside.
#[test]
fn loch_sunart_by_its_shores_is_the_loch() {
    let (earth, law) = (Ellipsoid::wgs84(), loch_sunart());
    // from 56.702 to 56.715 N it is water there; and land, 1.5 km from the shore
    let (middle, hills) = ((56.708_3, -5.751_058), (56.680, -5.76));
    assert!((law.chord_m(&earth, 3, middle) - 2_400.0).abs() < 100.0, "so far behind the chord");
    assert_eq!([middle, hills].map(|at| law.chords().side(at)), [Containment::Outside, Containment::Inside]);
    assert_eq!([middle, hills].map(|at| law.unresolved().side(at)), [Containment::Undecided; 2]);
    law.keeps_silent_near_its_chords(0.1);

    let isle = islands().remove(0).ring().into_iter().map(position).collect();
    // half a step of its grid each way, 110 m by 94 m (tests/data/natural-earth)
    let uncertainty = Metres::new(145.0).expect("a length");
    let coast = Coast::from_lines(vec![CoastLine::island(isle)], uncertainty);
    let followed = law.along(coast.expect("a sound coast"));
    assert_eq!(followed.not_followed, 0);
    assert_eq!([middle, hills].map(|at| followed.side(at)), [Containment::Inside, Containment::Outside]);
    law.keeps_to_the_water(&followed);
}

/// The bay is 1.2 km deep: 500 m behind the chord is water.
#[test]
fn south_africa_by_its_high_water_mark_has_the_bay() {
    let law = south_africa(&Ellipsoid::wgs84());
    let bay = law.landward(&Ellipsoid::wgs84(), 3, 500.0);
    assert_eq!(law.chords().side(bay), Containment::Outside);
    assert_eq!(law.unresolved().side(bay), Containment::Undecided);
    law.keeps_silent_near_its_chords(0.06);

    let followed = law.along(arran_and_false_bay());
    assert_eq!((followed.not_followed, followed.side(bay)), (0, Containment::Inside));
    law.keeps_to_the_water(&followed);
}
