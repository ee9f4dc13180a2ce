use takeline::magnetic::OutsideMagneticModel;
use takeline::transit::{
    ClearsReason, CompassPoint, Meeting, Meets, ProblemReason, Severity, Side, Told, TransitReport,
    ZoneOnLine,
};
use takeline::{SideKind, Tristate};

use super::headline::Compass;
use super::test_fixtures::*;
use super::{
    CalibrationDocument, CrossDocument, CrossReport, FindDocument, TransitDocument, headline,
    transit_calibrate_text, transit_cross_text, transit_find_text, transit_text,
};
use crate::here::test_fixtures as here;
use crate::words::{English, Spoken};

fn text(report: &TransitReport) -> String {
    transit_text(&TransitDocument::with_compass(report, compass(report), &English), 40)
}

fn wide(report: &TransitReport, width: usize) -> String {
    transit_text(&document(report), width)
}

fn document(report: &TransitReport) -> TransitDocument<'_> {
    TransitDocument::new(report, &English)
}

fn first(lines: usize, text: &str) -> String {
    text.lines().take(lines).collect::<Vec<_>>().join("\n")
}

#[test]
#[expect(clippy::too_many_lines, reason = "a whole answer stands in it")]
fn a_line_that_keeps_clear_is_told_whole_at_40_columns() {
    insta::assert_snapshot!(text(&clear()), @r"
    CLEARS Sallow Cove Reserve by 74 m ±15 m
    Lone Pine can be gone: A tree can fall.
    Rear mark RIGHT of front: assume inside
    Marks bear 089° true, 101° magnetic
    1 warning below: read first

    ANSWER
      keeps clear: yes, 59 m to spare from
        Sallow Cove Reserve, uncertainty
        allowed for
      If Lone Pine shows RIGHT of Sallow
        Point Day Beacon, assume you are
        inside Sallow Cove Reserve; it lies
        to the south.
      In line you are outside. LEFT: farther
        from that zone.

    PROBLEMS
      warning: Lone Pine can move or be
        removed: A tree can fall.
      note: The file does not say how well
        the position of Lone Pine is known,
        so ±10 m is assumed.

    LINE
      bears: 88.7° true, from its middle
      magnetic: 101.0°
      variation: 12.3° W ±0.4° (68 %),
        WMM2025, on 2026-07-25
      used: 500 m to 3000 m from the front
        mark
      eye: 0.9 m above the water; notices a
        gap of 5′ (minutes of arc)
      drift: 0.5 kn straight across the line
      time: not given, so sun and seasons
        are left out

    AT 500 m (near end)
      Sallow Cove Reserve: outside by 310 m
        ±4 m
      marks open: 5.2′ for each metre off
        the line
      noticeable: from 1 m off the line, 4 s
        of drift
      line uncertain by: ±4.3 m (95 %)
      rear mark: shows, 13′ above the front
        mark

    AT 1750 m (middle)
      Sallow Cove Reserve: outside by 192 m
        ±9 m
      marks open: 0.9′ for each metre off
        the line
      noticeable: from 5.5 m off the line,
        21 s of drift
      line uncertain by: ±12 m (95 %)
      rear mark: shows, 13′ above the front
        mark

    AT 3000 m (far end)
      Sallow Cove Reserve: outside by 74 m
        ±15 m
      marks open: 0.4′ for each metre off
        the line
      noticeable: from 13 m off the line,
        51 s of drift
      line uncertain by: ±21 m (95 %)
      rear mark: shows, 13′ above the front
        mark

    ZONE Sallow Cove Reserve
      keeps clear: yes
      least margin: 59 m: outside by 74 m
        ±15 m, 3000 m from the front mark
      closest: outside by 73 m ±13 m, 2600 m
        from the front mark
      inside it: rear mark to the right
      in force: yes
      law: Marrowick Reserves Order 2019,
        clause 4(2)
      edition: 2026-1; law read 2026-03-01
      zone file: marrowick.geojson, sha256
        0123456789ab

    WHAT THE MARKS TELL YOU
      looked at: 250 ha, 500 m on each side
      inside, but the marks do not show
        it: 1230 m²
        marks open to the outside: none
        marks still look in line: 1230 m²
      inside, and the marks show it: 64 ha
      open water lost: 15 ha outside every
        loaded zone, but the marks show
        inside
      outside, marks in line: 2.0 ha
      outside, and the marks show it: 125 ha
      As if the marks stood exactly where
        stated.

    MARKS
      front: Sallow Point Day Beacon
        (beacon)
        at 45°07.512'N 030°07.860'W
        ±2 m (95 %), given; 9 m high
        stays put; last confirmed 2026-03-14
      rear: Lone Pine (tree)
        at 45°07.530'N 030°06.720'W
        ±10 m (95 %), assumed; 41 m high
        can move or be removed; nobody has
          confirmed it
        A tree can fall.
      apart: 1495 m

    WHAT WAS NOT CHECKED
      Nobody has checked for headlands,
        buildings or trees between you and
        the marks; look before you rely
        on them.
      Haze, rain and glare, and whether a
        mark is lit at night.
      Your compass: iron, magnets and
        speakers near it turn it.
      Swell: in a trough the eye is lower,
        and low marks go first.

    BEAR IN MIND
      Takeline is not an instrument of
        navigation.
      Rules change; a closure by notice
        cannot be known offline.
      The text of the law and the local
        officers decide, not this answer.
      Weather and cold water kill; no fish
        is worth the risk.
    ");
}

#[test]
fn a_line_that_enters_says_where() {
    insta::assert_snapshot!(first(4, &text(&enters())), @r"
    ENTERS Sallow Cove Reserve at 640 m
    Lone Pine can be gone: A tree can fall.
    Rear mark RIGHT of front: assume inside
    Marks bear 089° true, 101° magnetic
    ");
    let whole = wide(&enters(), 200);
    assert!(whole.contains("enters: 640 m from the front mark, at an angle of 34°"), "{whole}");
    assert!(whole.contains("leaves: 2210 m from the front mark, at an angle of 81°"), "{whole}");
    assert!(whole.contains("none, 103 m short"), "{whole}");
}

#[test]
fn an_undecided_line_says_how_far_and_how_sure() {
    insta::assert_snapshot!(first(4, &text(&undecided())), @r"
    UNDECIDED: 12 m outside Sallow C…, ±31 m
    Lone Pine can be gone: A tree can fall.
    Rear mark RIGHT of front: assume inside
    Marks bear 089° true, 101° magnetic
    ");
}

#[test]
fn marks_that_cannot_be_used_say_so_first_and_why() {
    insta::assert_snapshot!(first(4, &text(&swapped())), @r"
    UNDECIDED: do not use them this way
    Swap front and rear: the water you work
      in is beyond Lone Pine.
    Marks bear 089° true, 101° magnetic
    ");
    // an error outranks whatever the line does
    for report in [clear(), enters()] {
        let mut report = report;
        report.problems.push(between_the_marks());
        assert!(document(&report).headline.verdict[0].starts_with("UNDECIDED"));
    }
}

#[test]
fn a_zone_whose_line_is_not_known_is_undecided() {
    insta::assert_snapshot!(first(4, &text(&line_unknown())), @r"
    UNDECIDED: a boundary is not known
    Lone Pine can be gone: A tree can fall.
    The marks do not tell which side is in
    Marks bear 089° true, 101° magnetic
    ");
    let text = text(&line_unknown());
    assert!(!text.contains("CLEARS"), "{text}");
}

fn met(what: Meets, along_m: f64) -> Meeting {
    let line = range_line();
    Meeting {
        what,
        distance_from_front: metres(along_m),
        position: line.at(metres(along_m)),
        angle_deg: 40.0,
        side: SideKind::Open,
    }
}

#[test]
fn inside_from_the_start_and_touching_have_words_of_their_own() {
    let line = range_line();
    let verdict = |near_m: f64, meetings: Vec<Meeting>| {
        let zone = ZoneOnLine {
            clears: Tristate::No,
            near: Some(point(&line, 500.0, near_m, 4.0)),
            meetings,
            ..sallow_cove(&line)
        };
        document(&TransitReport { zones: vec![zone], ..enters() }).headline.verdict[0].replace('\u{a0}', " ")
    };
    assert_eq!(verdict(-5.0, vec![met(Meets::Leaves, 900.0)]), "INSIDE Sallow Cove Reserve until 900 m");
    assert_eq!(verdict(-5.0, vec![]), "INSIDE Sallow Cove Reserve");
    assert_eq!(verdict(5.0, vec![met(Meets::Touches, 700.0)]), "TOUCHES Sallow Cove Reserve at 700 m");
    assert_eq!(verdict(5.0, vec![]), "DOES NOT CLEAR Sallow Cove Reserve");
}

/// Left and right are written from the marks themselves: who steps off the line to the zone's side sees the rear mark
/// shift to that side of the front mark (`RangeLine::seen_from`, an inverse problem of its own for each mark).
#[test]
fn the_sentence_of_the_eye_names_the_side_that_the_eye_sees() {
    for (sign, side) in [(1.0, Side::Right), (-1.0, Side::Left)] {
        let mut report = clear();
        let beside = report.line.beside(metres(1000.0), metres(sign * 200.0));
        let seen = report.line.seen_from(beside).rear_from_front.arcmin();
        assert_eq!(seen > 0.0, side == Side::Right);
        report.opens = report.opens.map(|opens| takeline::transit::Opens { rear_shows: side, ..opens });
        let sentence = document(&report).opens.sentence.unwrap();
        let (loud, other) = if side == Side::Left { ("LEFT", "right") } else { ("RIGHT", "left") };
        assert!(
            sentence.contains(&format!("If Lone Pine shows {loud} of Sallow Point Day Beacon")),
            "{sentence}"
        );
        assert!(!sentence.contains(other), "{sentence}");
        let third = text(&report).lines().nth(2).unwrap().to_owned();
        assert!(third.contains(loud) && third.contains("assume inside"), "{third}");
    }
    insta::assert_snapshot!(document(&clear()).opens.sentence.unwrap(), @"If Lone Pine shows RIGHT of Sallow Point Day Beacon, assume you are inside Sallow Cove Reserve; it lies to the south.");
    assert_eq!(document(&swapped()).opens.sentence, None);
}

#[test]
fn zones_on_both_sides_are_not_told_as_one_side() {
    let mut report = TransitReport { opens: None, water: None, ..clear() };
    let both = ProblemReason::ZoneOnBothSides { zone: "Sallow Cove Reserve".into() };
    report.problems.push(problem(Severity::Warning, both));
    assert_eq!(text(&report).lines().nth(2), Some("Zones on BOTH sides of the line"));
}

#[test]
fn a_bearing_always_says_true_or_magnetic() {
    let report = clear();
    let line = |compass: &Compass, width: usize| {
        crate::lines::fit(width, &headline::bearing(report.bearing, compass, Spoken(&English)))
    };
    let known = compass(&report);
    assert_eq!(line(&known, 40), "Marks bear 089° true, 101° magnetic");
    assert_eq!(line(&known, 20), "089° T, 101° M");
    assert_eq!(line(&Compass::NoTime, 45), "Marks bear 089° true, magnetic: needs a time");
    assert_eq!(line(&Compass::NoTime, 40), "089° true, magnetic: needs a time");
    assert_eq!(line(&Compass::of(&outside_the_model()), 44), "Marks bear 089° true, magnetic NOT KNOWN");
    let text = wide(&outside_the_model(), 200);
    assert!(text.contains("WMM2025 is good from 2025-01-01 to the end of 2029"), "{text}");
}

#[test]
fn nothing_is_written_where_no_zone_lies_near_but_that() {
    let report = TransitReport { zones: vec![], opens: None, water: None, ..clear() };
    insta::assert_snapshot!(first(4, &text(&report)), @r"
    CLEARS: no loaded zone is near
    Lone Pine can be gone: A tree can fall.
    The marks do not tell which side is in
    Marks bear 089° true, 101° magnetic
    ");
}

#[test]
fn no_line_is_wider_than_the_screen() {
    for columns in [20, 40, 100] {
        for report in every_report() {
            let calibration = calibration(Told::BothMarks);
            let calibrated = CalibrationDocument::new(&calibration, Some(&report), &English);
            let texts = [wide(&report, columns), transit_calibrate_text(&calibrated, columns)];
            for line in texts.iter().flat_map(|text| text.lines()) {
                assert!(line.chars().count() <= columns, "{columns}: {line}");
            }
        }
        let zone = zone();
        let sides =
            [side(CompassPoint::North, vec![pair(Tristate::Yes, 59.0)]), side(CompassPoint::East, vec![])];
        let question = pair_question();
        let found = FindDocument::new(&question, &zone, &sides, &English);
        let (crossed, lines, assessments) = (crossed(), lines(), [here::closed()]);
        let crossed = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
        let cross = transit_cross_text(&CrossDocument::new(crossed, &English), columns);
        for line in transit_find_text(&found, columns).lines().chain(cross.lines()) {
            assert!(line.chars().count() <= columns, "{columns}: {line}");
        }
    }
}

#[test]
fn hostile_names_neither_drive_the_terminal_nor_fake_a_verdict() {
    for columns in [20, 40, 100] {
        let text = wide(&hostile(), columns);
        assert!(!text.contains(['\u{1b}', '\u{0}', '\u{202e}']), "{text}");
        assert_eq!(text.lines().filter(|line| line.starts_with("CLEARS")).count(), 1, "{text}");
    }
}

#[test]
fn no_verdict_calls_anything_legal_or_safe() {
    for report in every_report() {
        let text = text(&report).to_lowercase().replace("false-safe", "");
        assert!(!text.contains("legal") && !text.contains("safe"), "{text}");
    }
}

#[test]
fn a_time_that_nobody_gave_is_said_to_be_the_clock_s() {
    let report = outside_the_model();
    let text = transit_text(&document(&report).with_time_by_clock(), 80);
    assert!(text.contains("time: 2031-07-25T06:30:00Z, by this device's clock"), "{text}");
    let mut report = clear();
    report.question.drift = towards_south();
    assert!(wide(&report, 80).contains("drift: 0.8 kn toward 180° true"));
}

#[test]
fn a_drift_that_never_gets_there_and_an_eye_that_never_sees_are_said() {
    let mut report = clear();
    for at in &mut report.sensitivity {
        at.offset_at_threshold = None;
        at.seconds_to_threshold = Some(f64::INFINITY);
        at.rear_above_front = Some(false);
    }
    let text = wide(&report, 100);
    assert!(text.contains("noticeable: never: the marks do not open wide enough"), "{text}");
    assert!(text.contains("rear mark: HIDDEN"), "{text}");
    let mut report = clear();
    for at in &mut report.sensitivity {
        at.seconds_to_threshold = Some(f64::INFINITY);
    }
    let text = wide(&report, 100);
    assert!(text.contains("noticeable: from 13 m off the line; drift does not carry you that far"), "{text}");
}

#[test]
fn a_zone_far_off_and_clear_has_one_line_and_one_that_decides_never_is_far() {
    let mut report = clear();
    let far = |metres_off: f64| ZoneOnLine {
        id: takeline::zone::ZoneId("lantern-reach".into()),
        name: "Lantern Reach".into(),
        worst: Some(point(&report.line, 3000.0, metres_off, 15.0)),
        closest: Some(point(&report.line, 3000.0, metres_off, 15.0)),
        ..sallow_cove(&report.line)
    };
    let (far, near) = (far(1700.0), far(700.0));
    report.zones.push(far.clone());
    let one_line = text(&report);
    assert!(
        one_line.contains("OTHER ZONES, MORE THAN 1 KM CLEAR\n  Lantern Reach: outside by 1700 m ±15 m\n"),
        "{one_line}"
    );
    assert!(!one_line.contains("ZONE Lantern Reach"), "{one_line}");
    report.zones[1] = near;
    assert!(text(&report).contains("ZONE Lantern Reach"));
    let alone = TransitReport { zones: vec![far], ..clear() };
    assert!(text(&alone).contains("ZONE Lantern Reach"));
}

#[test]
fn what_misleads_stands_before_the_figures_and_notes_stand_after_them() {
    let place = |report: &TransitReport, of: &str| text(report).find(of).unwrap();
    let mut report = clear();
    assert!(place(&report, "PROBLEMS") < place(&report, "LINE\n"));
    report.problems.retain(|problem| problem.severity == Severity::Note);
    assert!(place(&report, "PROBLEMS") > place(&report, "WHAT THE MARKS TELL YOU"));
}

#[test]
fn marks_without_a_variation_are_undecided_and_still_say_what_the_eye_sees() {
    let mut report = TransitReport { clears: Tristate::Undecided, ..outside_the_model() };
    let time = "2031-07-25T06:30:00Z".parse().unwrap();
    let outside = OutsideMagneticModel { time, model: "WMM2025" };
    let reason = ProblemReason::VariationNotKnown { outside };
    report.clears_because = vec![ClearsReason::Problem { problem: reason.clone() }];
    report.problems.insert(0, problem(Severity::Error, reason));
    let told = wide(&report, 40);
    insta::assert_snapshot!(first(5, &told), @r"
    UNDECIDED: no variation for that time
    Lone Pine can be gone: A tree can fall.
    Rear mark RIGHT of front: assume inside
    Marks bear 089° true, magnetic NOT KNOWN
    1 warning below: read first
    ");
    let told = wide(&report, 200);
    assert_eq!(told.matches("he variation is not known on").count(), 1, "{told}");
}

/// Marks at one bearing print the same line whichever way round the world they are written.
#[test]
fn a_line_over_180_degrees_is_told_like_any_other() {
    let report = over_180();
    // 0.015° of longitude at 45° N, of 78.85 km each
    assert!((report.line.separation().metres() - 1182.7).abs() < 1.0);
    assert!(wide(&report, 40).starts_with("CLEARS Sallow Cove Reserve"));
}
