use takeline::landmark::Landmark;
use takeline::transit::{
    CompassPoint, Opens, ProblemReason, RangeLine, Side, Stretch, TransitQuestion, TransitReport,
};
use takeline::zone::Extent;
use takeline::{Containment, GeodesicSegment, Metres, Position, TrueBearing, ZoneSet, zone_file};

use super::marks::{marrowick_marks, misleading_marks};
use super::scene::{Scene, Standing, View};
use super::{transit_sketch_svg, transit_sketch_text};
use crate::transit::TransitDocument;
use crate::words::{English, Spoken};

/// The zones of Marrowick.
fn marrowick() -> ZoneSet {
    marrowick_marks().unwrap().0
}

fn document(report: &TransitReport) -> TransitDocument<'_> {
    TransitDocument::new(report, &English)
}

const OCTANTS_DEG: [f64; 8] = [0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0];

/// The sketch of the beacon and the pine. Its figures by hand: at 750 m, with 1495 m between the marks, 5′ open after
/// 0.001454 · 750 · 2245 / 1495 = 1.64 m (trade formula y = φ·D·(D+S)/S); three times that is 4.9 m, shown from whole 5 m,
/// where they are open by 5′ · 5 / 1.64 = 15.3′. The reserve begins at 45.124°, 0.0012° (133 m) south of the beacon; the line runs
/// on 268.7°, so 750 m out it is 133 − 750 · sin 1.3° = 116 m north of it. Uncertainty: 5.2 m of the marks and 1.6 m of the eye.
const BEACON_AND_PINE: &str = "\
How the marks look from the middle of
  the stretch, 750 m from the front
  mark:
| Sallow Point Day Beacon, the front
  mark
^ Lone Pine, the rear mark

INSIDE by 14 m ±8 m, 130 m to the right
  of the line. The rear mark shows RIGHT
  of the front mark, open by 6.5°.
                                     ^
                    |                :
                    |                :
----------------------------------------

OUTSIDE by 111 m ±7 m, 5 m to the right
  of the line. The rear mark shows RIGHT
  of the front mark, open by 15 minutes
  of arc. Turn back: go left until they
  are in line.
                          ^
                    |     :
                    |     :
----------------------------------------

OUTSIDE by 116 m ±7 m, in line. The rear
  mark shows over the front mark.
                    ^
                    |
                    |
----------------------------------------

OUTSIDE by 121 m ±7 m, 5 m to the left
  of the line. The rear mark shows LEFT
  of the front mark, open by 15 minutes
  of arc.
              ^
              :     |
              :     |
----------------------------------------
";

#[test]
fn the_sketch_of_the_beacon_and_the_pine_is_this() {
    let (_, report) = marrowick_marks().unwrap();
    assert_eq!(transit_sketch_text(&document(&report), &marrowick(), 40), BEACON_AND_PINE);
}

#[test]
fn no_line_of_the_sketch_is_wider_than_asked_and_its_pictures_are_ascii() {
    let (_, report) = marrowick_marks().unwrap();
    for width in [0, 20, 33, 80] {
        let text = transit_sketch_text(&document(&report), &marrowick(), width);
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= width.max(20), "{width}: {widest}");
        let pictures = text.lines().filter(|line| line.trim_matches([' ', '|', '^', ':', '-']).is_empty());
        assert!(pictures.clone().count() >= 16, "{text}");
        assert!(pictures.clone().all(str::is_ascii), "{text}");
    }
}

/// A report about a line that is seen on this bearing, whose rear mark is said to show to this side inside.
fn seen_on(latitude_deg: f64, bearing_deg: f64, inside: Side) -> TransitReport {
    let (_, mut report) = marrowick_marks().unwrap();
    let front = Position::from_degrees(latitude_deg, 179.999).unwrap();
    let bearing = TrueBearing::from_degrees(bearing_deg).unwrap();
    let rear = GeodesicSegment::leaving(front, bearing, Metres::new(1500.0).unwrap()).unwrap().to();
    report.line = RangeLine::through(Landmark::at("Front", front), Landmark::at("Rear", rear)).unwrap();
    report.question.stretch =
        Stretch::new(Metres::new(200.0).unwrap(), Metres::new(1400.0).unwrap()).unwrap();
    report.opens = Some(Opens { zone: 0, rear_shows: inside, zone_lies: CompassPoint::North });
    report
}

/// What the eye sees on a plane, with nothing of the library: the side of the rear mark, for somebody `right_m` to the right
/// of a line seen on `bearing_deg`, 800 m before the front mark. East and north of the front mark, turned by the cross product.
fn side_on_the_plane(bearing_deg: f64, right_m: f64) -> Side {
    let (sin, cos) = bearing_deg.to_radians().sin_cos();
    let eye = (-800.0 * sin + right_m * cos, -800.0 * cos - right_m * sin);
    let to_front = (-eye.0, -eye.1);
    let to_rear = (1500.0 * sin - eye.0, 1500.0 * cos - eye.1);
    let clockwise = to_front.1 * to_rear.0 - to_front.0 * to_rear.1;
    if clockwise > 0.0 { Side::Right } else { Side::Left }
}

/// Column or x of both marks in the picture that begins after `heading`, front first.
fn columns(text: &str, heading: &str) -> (usize, usize) {
    let (_, picture) = text.split_once(heading).unwrap();
    let column = |letter: char| {
        // the caption has no such letter
        let line = picture.lines().find(|line| line.contains(letter)).unwrap();
        line.find(letter).unwrap()
    };
    (column('|'), column('^'))
}

fn drawn_x(svg: &str, view: usize) -> (f64, f64) {
    let panel = svg.split("<g class=\"view\">").nth(1 + view).unwrap();
    let x = |class: &str| {
        let (_, from) = panel.split_once(&format!("class=\"mark {class}\" transform=\"translate(")).unwrap();
        from.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    (x("front"), x("rear"))
}

#[test]
fn sketch_sentence_and_eye_agree_in_every_octant_of_both_hemispheres_and_across_180_degrees() {
    let mut looked_at = 0;
    for latitude_deg in [45.12, -45.12, 0.0] {
        for bearing_deg in OCTANTS_DEG {
            for (inside, right_m) in [(Side::Right, 6.0), (Side::Left, -6.0)] {
                let report = seen_on(latitude_deg, bearing_deg, inside);
                let context = format!("{latitude_deg} {bearing_deg} {inside:?}");
                assert_eq!(side_on_the_plane(bearing_deg, right_m), inside, "{context}");

                let scene = Scene::of(&document(&report), &marrowick()).unwrap();
                let [from_inside, _, from_outside]: [View; 3] = scene.views.try_into().unwrap();
                assert_eq!(from_inside.side(), Some(inside), "{context}");
                assert_eq!(from_outside.side(), Some(inside.other()), "{context}");
                // whoever stands to the right of the line has the front mark on a smaller bearing
                let turned_deg = from_inside.seen.front_bearing.degrees() - bearing_deg;
                let turned_deg = (turned_deg + 540.0) % 360.0 - 180.0;
                assert_eq!(turned_deg < 0.0, right_m > 0.0, "{context}: {turned_deg}");

                let sentence = document(&report).opens.sentence.unwrap();
                assert_eq!(
                    sentence.contains("shows RIGHT of"),
                    inside == Side::Right,
                    "{context}: {sentence}"
                );
                assert_eq!(sentence.contains("shows LEFT of"), inside == Side::Left, "{context}: {sentence}");

                let text = transit_sketch_text(&document(&report), &marrowick(), 200);
                let svg = transit_sketch_svg(&document(&report), &marrowick());
                for (view, shown) in [(0, inside), (2, inside.other())] {
                    let heading = if shown == Side::Right { "shows RIGHT" } else { "shows LEFT" };
                    let (front, rear) = columns(&text, heading);
                    assert_eq!(rear > front, shown == Side::Right, "{context}: {text}");
                    assert_ne!(rear, front, "{context}");
                    let (front, rear) = drawn_x(&svg, view);
                    assert_eq!(rear > front, shown == Side::Right, "{context}: {heading}");
                }
                let (front, rear) = drawn_x(&svg, 1);
                assert!((front - rear).abs() < 1e-9, "{context}");
                looked_at += 1;
            }
        }
    }
    assert_eq!(looked_at, 48);
}

#[test]
fn the_rear_mark_is_drawn_first_and_higher_where_it_shows_higher() {
    let (_, report) = marrowick_marks().unwrap();
    let svg = transit_sketch_svg(&document(&report), &marrowick());
    assert!(svg.find("class=\"mark rear\"").unwrap() < svg.find("class=\"mark front\"").unwrap());
    let scene = Scene::of(&document(&report), &marrowick()).unwrap();
    // by hand, curvature left out (it takes away 0.2′ and 0.6′): (9 − 0.9) / 750 = 37.1′, (41 − 0.9) / 2245 = 61.4′
    let [front, rear] = scene.sights.unwrap().map(|sight| sight.elevation.arcmin());
    assert!((front - 37.1).abs() < 0.8 && (rear - 61.4).abs() < 0.8, "{front} {rear}");
    assert!(!scene.front_hides_rear());
}

#[test]
fn a_hidden_rear_mark_is_said_and_not_drawn_over_the_front_mark() {
    let (_, mut report) = marrowick_marks().unwrap();
    let low = Landmark { height: Some(Metres::new(14.0).unwrap()), ..report.line.rear().clone() };
    report.line = RangeLine::through(report.line.front().clone(), low).unwrap();
    let text = transit_sketch_text(&document(&report), &marrowick(), 40);
    let (_, on_line) = text.split_once("in line. The\n  front mark hides the rear mark.").unwrap();
    let (picture, _) = on_line.split_once("OUTSIDE").unwrap();
    assert!(!picture.contains('^'), "{text}");
}

#[test]
fn a_mark_below_the_horizon_is_said_and_not_drawn() {
    let (_, mut report) = marrowick_marks().unwrap();
    // from 0.9 m the water hides 0.4 m at 6 km (k = 0.13; trade table of hidden heights)
    let low = Landmark { height: Some(Metres::new(0.3).unwrap()), ..report.line.front().clone() };
    report.line = RangeLine::through(low, report.line.rear().clone()).unwrap();
    report.question.stretch =
        Stretch::new(Metres::new(5000.0).unwrap(), Metres::new(7000.0).unwrap()).unwrap();
    let text = transit_sketch_text(&document(&report), &marrowick(), 60);
    assert!(text.ends_with("The front mark is below the horizon from there.\n"), "{text}");
    let (_, pictures) = text.split_once("rear mark\n\n").unwrap();
    assert!(!pictures.contains('|') && pictures.contains('^'), "{text}");
}

#[test]
fn unknown_heights_are_said_not_to_be_to_scale() {
    let (_, mut report) = marrowick_marks().unwrap();
    let bare = |mark: &Landmark| Landmark { height: None, ..mark.clone() };
    report.line = RangeLine::through(bare(report.line.front()), bare(report.line.rear())).unwrap();
    assert!(transit_sketch_text(&document(&report), &marrowick(), 200).contains("not drawn to scale"));
}

#[test]
fn marks_that_tell_no_side_have_no_sketch_but_a_reason() {
    let (_, mut report) = marrowick_marks().unwrap();
    report.opens = None;
    report.problems[0].reason =
        ProblemReason::ZoneOnTheOtherSide { zone: "Gannet Bank".into(), than: "Sallow Cove".into() };
    assert_eq!(document(&report).opens.sentence, None);
    assert_eq!(
        transit_sketch_text(&document(&report), &marrowick(), 80),
        "No sketch of the marks. Gannet Bank is on the other side of the line from Sallow\n  Cove.\n"
    );
    assert!(
        transit_sketch_svg(&document(&report), &marrowick())
            .contains("Gannet Bank is on the other side of the line from")
    );
}

#[test]
fn marks_that_never_open_wide_enough_have_no_sketch_but_a_reason() {
    let (_, mut report) = marrowick_marks().unwrap();
    let front = report.line.front().clone();
    // half a metre apart at 750 m: the widest they ever open is S / 2D = 1.4′ at 750 m off, below the 5′ of the eye
    let bearing = TrueBearing::from_degrees(90.0).unwrap();
    let rear = GeodesicSegment::leaving(front.position, bearing, Metres::new(0.6).unwrap()).unwrap().to();
    report.line = RangeLine::through(front, Landmark::at("Rear", rear)).unwrap();
    let text = transit_sketch_text(&document(&report), &marrowick(), 200);
    assert!(
        text.contains("At 750 m from the front mark these marks never open by the 5 minutes of arc"),
        "{text}"
    );
}

#[test]
fn a_drawing_that_stands_alone_brings_its_colours_and_its_words() {
    let (_, report) = marrowick_marks().unwrap();
    let svg = transit_sketch_svg(&document(&report), &marrowick());
    for part in [
        "xmlns=\"http://www.w3.org/2000/svg\"",
        "<title id=",
        "<desc id=",
        "role=\"img\"",
        "--ink:",
        ".sketch .rear",
    ] {
        assert!(svg.contains(part), "no {part}");
    }
    assert_eq!(svg, transit_sketch_svg(&document(&report), &marrowick()));
}

/// The words of a drawing that say on which side somebody is, in order.
fn titles(svg: &str) -> Vec<String> {
    let after = svg.split("<text class=\"title\"").skip(1);
    after.map(|text| text.split(['>', '<']).nth(1).unwrap().to_owned()).collect()
}

/// On which side of a zone's boundary a place is, if that is sure of it, as the library has it.
fn side_of_zones(zones: &ZoneSet, place: Position) -> Containment {
    let sides: Vec<f64> = zones
        .zones()
        .iter()
        .map(|zone| {
            let Extent::Known(boundary) = &zone.extent else { panic!("a zone without a place") };
            boundary.locate(place).signed_distance.metres()
        })
        .collect();
    if sides.iter().any(|signed_m| *signed_m < 0.0) { Containment::Inside } else { Containment::Outside }
}

/// The line through marks that stand somewhere else by their whole error, one mark at a time.
fn lines_moved(line: &RangeLine) -> Vec<RangeLine> {
    let moved = |mark: &Landmark, bearing_deg: f64| {
        let bearing = TrueBearing::from_degrees(bearing_deg).unwrap();
        let way = GeodesicSegment::leaving(mark.position, bearing, mark.position_error_95).unwrap();
        Landmark { position: way.to(), ..mark.clone() }
    };
    OCTANTS_DEG
        .iter()
        .flat_map(|bearing_deg| {
            let (front, rear) = (line.front(), line.rear());
            [
                RangeLine::through(moved(front, *bearing_deg), rear.clone()).unwrap(),
                RangeLine::through(front.clone(), moved(rear, *bearing_deg)).unwrap(),
            ]
        })
        .collect()
}

/// Numbers from 0 to 1 (splitmix64).
struct Draws(u64);

impl Draws {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let share = f64::from(u32::try_from((mixed ^ (mixed >> 31)) >> 32).unwrap()) / f64::from(u32::MAX);
        low + (high - low) * share
    }
}

/// Two square zones somewhere beside a line, and the answer about it.
fn drawn(draws: &mut Draws) -> (ZoneSet, TransitReport) {
    let mut square = |id: &str| {
        let (lat, lon) = (45.12 + draws.between(-0.01, 0.01), -30.14 + draws.between(-0.015, 0.015));
        let half = draws.between(0.0005, 0.008);
        let corners: Vec<String> = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)]
            .iter()
            .map(|(east, north)| format!("[{:.7}, {:.7}]", lon + east * 1.4 * half, lat + north * half))
            .collect();
        let doubt_m = draws.between(0.0, 6.0);
        format!(
            r#"{{ "type": "Feature", "id": "{id}", "geometry": {{ "type": "Polygon", "coordinates": [[{}]] }},
                 "properties": {{ "name": "{id}", "edges": "geodesic", "take": "none", "line_uncertainty_m": {doubt_m:.1},
                                 "source": {{ "instrument": "Invented" }} }} }}"#,
            corners.join(", ")
        )
    };
    let features = [square("One"), square("Other")].join(", ");
    let file = format!(
        r#"{{ "type": "FeatureCollection", "takeline": {{ "format": "takeline.zones/1", "title": "Invented", "edition": "1",
             "datum": "WGS 84", "time_zone": "UTC" }}, "features": [{features}] }}"#
    );
    let zones = ZoneSet::new(zone_file::read("invented.json", file.as_bytes()).unwrap().zones);
    let front = Position::from_degrees(45.12, -30.13).unwrap();
    let bearing = TrueBearing::from_degrees(draws.between(0.0, 359.0)).unwrap();
    let separation = Metres::new(draws.between(150.0, 2500.0)).unwrap();
    let rear = GeodesicSegment::leaving(front, bearing, separation).unwrap().to();
    let error = Metres::new(draws.between(1.0, 12.0)).unwrap();
    let mark = |name: &str, position| Landmark { position_error_95: error, ..Landmark::at(name, position) };
    let line = RangeLine::through(mark("Front", front), mark("Rear", rear)).unwrap();
    let near_m = draws.between(80.0, 500.0);
    let stretch = Stretch::new(
        Metres::new(near_m).unwrap(),
        Metres::new(near_m + draws.between(200.0, 2000.0)).unwrap(),
    );
    let report = line.check(&zones, &TransitQuestion::about(stretch.unwrap()));
    (zones, report)
}

/// What is drawn is what is so: whoever believes the words under a picture is on that side, wherever the marks really stand.
#[test]
fn a_picture_called_inside_or_outside_is_so_at_the_place_that_it_is_drawn_for() {
    let mut draws = Draws(20_261_127);
    let (mut looked_at, mut inside, mut outside, mut undecided) = (0, 0, 0, 0);
    for _ in 0..400 {
        let (zones, report) = drawn(&mut draws);
        let Ok(scene) = Scene::of(&document(&report), &zones) else { continue };
        let svg = transit_sketch_svg(&document(&report), &zones);
        let said: Vec<String> = scene.views.iter().map(|view| view.place.title().to_owned()).collect();
        assert_eq!(titles(&svg), said);
        for view in &scene.views {
            let expected = match view.place.title() {
                "INSIDE" => Containment::Inside,
                "OUTSIDE" => Containment::Outside,
                _ => {
                    undecided += 1;
                    continue;
                }
            };
            let places = std::iter::once(report.line.clone()).chain(lines_moved(&report.line));
            for line in places {
                let place = line.beside(scene.distance_from_front, view.to_the_right);
                assert_eq!(side_of_zones(&zones, place), expected, "{view:?}");
            }
            if expected == Containment::Inside {
                inside += 1;
            } else {
                outside += 1;
            }
            if view.standing == Standing::WellOver {
                assert_eq!(view.place.title(), "INSIDE");
            }
        }
        looked_at += 1;
    }
    println!("{looked_at} sketches: {inside} inside, {outside} outside, {undecided} undecided");
    assert!(looked_at > 100 && inside > 60 && outside > 150 && undecided > 10);
}

#[test]
fn marks_that_have_just_opened_far_off_the_zone_are_drawn_outside() {
    let (zones, report) = marrowick_marks().unwrap();
    let scene = Scene::of(&document(&report), &zones).unwrap();
    let words: Vec<String> = scene
        .views
        .iter()
        .map(|view| format!("{} {}", view.place.title(), view.place_words(Spoken(&English))))
        .collect();
    let words = words.join("; ").replace('\u{a0}', " ");
    assert_eq!(
        words,
        "INSIDE 130 m to the right; OUTSIDE 5 m to the right; OUTSIDE on the line; OUTSIDE 5 m to the left"
    );
    // posts that mislead: nobody knows the side there
    let (zones, report) = misleading_marks().unwrap();
    let scene = Scene::of(&document(&report), &zones).unwrap();
    assert!(scene.views.iter().any(|view| view.place.title() == "UNDECIDED"), "{:?}", scene.views);
}

#[test]
fn a_sketch_of_zones_that_are_not_those_of_the_report_says_so() {
    let (_, report) = marrowick_marks().unwrap();
    let text = transit_sketch_text(&document(&report), &ZoneSet::new(Vec::new()), 80);
    assert!(
        text.starts_with("No sketch of the marks. Zone sallow-cove is not among the zones given"),
        "{text}"
    );
}
