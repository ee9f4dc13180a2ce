use takeline::landmark::Landmark;
use takeline::transit::{CompassPoint, Opens, ProblemReason, RangeLine, Side, Stretch, TransitReport};
use takeline::{GeodesicSegment, Metres, Position, TrueBearing};

use super::marks::marrowick_marks;
use super::sketch::Scene;
use super::{transit_sketch_svg, transit_sketch_text};
use crate::transit::TransitDocument;
use crate::words::English;

fn document(report: &TransitReport) -> TransitDocument<'_> {
    TransitDocument::new(report, &English)
}

const OCTANTS_DEG: [f64; 8] = [0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0];

/// The sketch of the beacon and the pine. Its figures by hand: at 750 m, with 1495 m between the marks, 5′ open after
/// 0.001454 · 750 · 2245 / 1495 = 1.64 m (trade formula y = φ·D·(D+S)/S); three times that is 4.9 m, shown from whole 5 m,
/// where they are open by 5′ · 5 / 1.64 = 15.3′.
const BEACON_AND_PINE: &str = "\
The marks abreast of the middle of the
  stretch, 750 m from the front mark:
| Sallow Point Day Beacon, the front
  mark
^ Lone Pine, the rear mark

INSIDE, from 5 m inside the line: the
  rear mark shows RIGHT of the front
  mark, open by 15 minutes of arc.
                          ^
                    |     :
                    |     :
----------------------------------------

ON THE LINE: the rear mark shows over
  the front mark.
                    ^
                    |
                    |
----------------------------------------

OUTSIDE, from 5 m outside the line:
  the rear mark shows LEFT of the front
  mark, open by 15 minutes of arc.
              ^
              :     |
              :     |
----------------------------------------
";

#[test]
fn the_sketch_of_the_beacon_and_the_pine_is_this() {
    let (_, report) = marrowick_marks().unwrap();
    assert_eq!(transit_sketch_text(&document(&report), 40), BEACON_AND_PINE);
}

#[test]
fn no_line_of_the_sketch_is_wider_than_asked_and_its_pictures_are_ascii() {
    let (_, report) = marrowick_marks().unwrap();
    for width in [0, 20, 33, 80] {
        let text = transit_sketch_text(&document(&report), width);
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= width.max(20), "{width}: {widest}");
        assert!(text.is_ascii(), "{text}");
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

                let scene = Scene::of(&document(&report)).unwrap();
                let [from_inside, _, from_outside] = scene.views;
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

                let text = transit_sketch_text(&document(&report), 40);
                let svg = transit_sketch_svg(&document(&report));
                for (view, heading, shown) in [(0, "INSIDE", inside), (2, "OUTSIDE", inside.other())] {
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
    let svg = transit_sketch_svg(&document(&report));
    assert!(svg.find("class=\"mark rear\"").unwrap() < svg.find("class=\"mark front\"").unwrap());
    let scene = Scene::of(&document(&report)).unwrap();
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
    let text = transit_sketch_text(&document(&report), 40);
    assert!(text.contains("ON THE LINE: the front mark hides the\n  rear mark."), "{text}");
    let (_, on_line) = text.split_once("ON THE LINE").unwrap();
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
    let text = transit_sketch_text(&document(&report), 60);
    assert!(text.ends_with("The front mark is below the horizon from there.\n"), "{text}");
    let (_, pictures) = text.split_once("INSIDE").unwrap();
    assert!(!pictures.contains('|') && pictures.contains('^'), "{text}");
}

#[test]
fn unknown_heights_are_said_not_to_be_to_scale() {
    let (_, mut report) = marrowick_marks().unwrap();
    let bare = |mark: &Landmark| Landmark { height: None, ..mark.clone() };
    report.line = RangeLine::through(bare(report.line.front()), bare(report.line.rear())).unwrap();
    assert!(transit_sketch_text(&document(&report), 60).contains("Heights are not to scale"));
}

#[test]
fn marks_that_tell_no_side_have_no_sketch_but_a_reason() {
    let (_, mut report) = marrowick_marks().unwrap();
    report.opens = None;
    report.problems[0].reason =
        ProblemReason::ZoneOnTheOtherSide { zone: "Gannet Bank".into(), than: "Sallow Cove".into() };
    assert_eq!(document(&report).opens.sentence, None);
    assert_eq!(
        transit_sketch_text(&document(&report), 80),
        "No sketch of the marks. Gannet Bank lies on the other side of the line than\n  Sallow Cove.\n"
    );
    assert!(
        transit_sketch_svg(&document(&report))
            .contains("Gannet Bank lies on the other side of the line than")
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
    let text = transit_sketch_text(&document(&report), 200);
    assert!(
        text.contains("750 m from the front mark these marks never open by the 5 minutes of arc"),
        "{text}"
    );
}

#[test]
fn a_drawing_that_stands_alone_brings_its_colours_and_its_words() {
    let (_, report) = marrowick_marks().unwrap();
    let svg = transit_sketch_svg(&document(&report));
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
    assert_eq!(svg, transit_sketch_svg(&document(&report)));
}
