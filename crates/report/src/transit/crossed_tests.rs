use takeline::Assessment;
use takeline::transit::{CrossedPosition, Severity};

use super::test_fixtures::*;
use super::{CrossDocument, CrossReport, transit_cross_text};
use crate::here::test_fixtures as here;
use crate::words::English;

fn told(crossed: &CrossedPosition, assessments: &[Assessment]) -> String {
    let lines = lines();
    let found = CrossReport { lines: &lines, crossed, assessments };
    transit_cross_text(&CrossDocument::new(found, &English), 40)
}

#[test]
#[expect(clippy::too_many_lines, reason = "a whole answer stands in it")]
fn a_crossed_position_answers_what_the_water_is_there() {
    insta::assert_snapshot!(told(&crossed(), &[here::closed()]), @r#"
    CLOSED WATER: nothing may be taken here
    45°07.092'N 030°07.302'W ±130 m
    INSIDE by 38 m ±10 m, edge 045° true

    POSITION
      at: 45°07.092'N 030°07.302'W
      radius: ±130 m (95 %)
      ellipse: 180 m along 042° true, 96 m
        across (95 %, half axes)
      drms: 74 m (root mean square)
      cut: 88° between the two that cross
        best

    BEARING 1
      in line: Lone Pine over Sallow Point
        Day Beacon
      eye notices: a gap of 5′ (minutes
        of arc)
      Sallow Point Day Beacon: ±2 m (95 %),
        given
      Lone Pine: ±10 m (95 %), assumed
      misses by: 0.1 standard errors

    BEARING 2
      Gull Hill Mast: bears 152.0° true
        ±5.0° (68 %)
      Gull Hill Mast: ±10 m (95 %), assumed
      misses by: 0.6 standard errors

    BEARING 3
      angle: Marrowick Chapel to Gull Hill
        Mast, 76.5° ±1.0° (68 %)
      Marrowick Chapel: ±10 m (95 %),
        assumed
      Gull Hill Mast: ±10 m (95 %), assumed
      misses by: 0.4 standard errors

    FIX
      position: 45°07.092'N 030°07.302'W
      uncertainty: ±10 m (95 %), given
      time: 25 July 2026 06:30 UTC

    WATER
      answer: closed: nothing may be taken

    ZONE Sallow Cove Reserve
      side: inside by 38 m ±10 m
      chance of being inside: more than 99 %
      nearest boundary: 045° true, at
        45°07.107'N 030°07.281'W
      uncertainty: ±10 m (95 %), all from
        the fix
      in force: yes
      because: in force until 30 September
        2026 24:00
      rule: nothing may be taken
      also: no anchoring on the eelgrass
      to cross: "lines inboard and hooks
        bare" (clause 9)
      law: Marrowick Reserves Order 2019,
        clause 4(2)
      edition: 2026-1; law read 2026-03-01
      zone file: marrowick.geojson, sha256
        0123456789ab

    WHAT WAS NOT CHECKED
      What stands between: headlands, trees,
        buildings, other boats.
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
    "#);
}

#[test]
fn a_crossed_position_that_is_not_settled_claims_no_side() {
    let told = |crossed: &CrossedPosition, assessments: &[Assessment]| {
        told(crossed, assessments).lines().take(3).collect::<Vec<_>>().join("\n")
    };
    let two = crossed_twice();
    let apart = CrossedPosition { agree: false, ..crossed() };
    insta::assert_snapshot!(told(&two, &[here::closed(), here::outside()]), @r"
    UNDECIDED: more than one position fits
    45°07.092'N 030°07.302'W ±130 m, +1 more
    To settle: take a bearing of another
    ");
    insta::assert_snapshot!(told(&apart, &[here::closed()]), @r"
    UNDECIDED: the bearings disagree
    45°07.092'N 030°07.302'W ±130 m
    To settle: retake all of them; one is
    ");
    insta::assert_snapshot!(told(&crossed(), &[]), @r"
    UNDECIDED: no zone was asked about
    45°07.092'N 030°07.302'W ±130 m
    To settle: give the zone files with
    ");
    // two positions with one answer are settled
    insta::assert_snapshot!(told(&two, &[here::closed(), here::closed()]), @r"
    CLOSED WATER: nothing may be taken here
    45°07.092'N 030°07.302'W ±130 m, +1 more
    The answer is the same at each of them
    ");
    assert!(told(&two, &[here::closed()]).starts_with("UNDECIDED"));
}

/// The text said why and what would settle it; the JSON said neither.
#[test]
fn why_a_position_settles_nothing_stands_in_the_json_too() {
    let apart = CrossedPosition { agree: false, ..crossed() };
    let (twice, lines) = (crossed_twice(), lines());
    let (closed, both) = ([here::closed()], [here::closed(), here::outside()]);
    for (crossed, assessments, code) in [
        (&apart, &closed[..], Some("disagree")),
        (&twice, &both[..], Some("ambiguous")),
        (&twice, &[], Some("no-zones")),
        (&crossed(), &closed[..], None),
    ] {
        let document = CrossDocument::new(CrossReport { lines: &lines, crossed, assessments }, &English);
        let json = serde_json::to_value(&document).unwrap();
        assert_eq!(json["undecided_because_code"]["code"].as_str(), code);
        let why = json["undecided_because"].as_str().map(|why| format!("UNDECIDED: {why}"));
        let settle = json["settle"].as_str().map(|settle| format!("To settle: {settle}"));
        assert_eq!((why.is_some(), settle.is_some()), (code.is_some(), code.is_some()));
        let text = transit_cross_text(&document, 200).replace('\u{a0}', " ");
        assert!(why.into_iter().chain(settle).all(|said| text.lines().any(|line| line == said)), "{text}");
    }
}

#[test]
fn a_long_and_thin_doubt_says_which_way_it_is_among_the_first_lines() {
    let thin = takeline::ErrorEllipse { semi_minor: metres(17.0), ..crossed().ellipse };
    let first = |crossed: &CrossedPosition| {
        told(crossed, &[here::near_the_line()]).lines().take(4).collect::<Vec<_>>().join("\n")
    };
    insta::assert_snapshot!(first(&CrossedPosition { ellipse: thin, ..crossed() }), @r"
    UNDECIDED: do not keep what you catch
    45°07.092'N 030°07.302'W ±130 m
    UNDECIDED: edge 4 m ±10 m, 045° true
    ±180 m along 042° true, ±17 m across
    ");
}

#[test]
fn another_position_that_a_place_told_apart_is_named_and_does_not_count() {
    let mut crossed = crossed_twice();
    crossed.problems[0].severity = Severity::Note;
    let told = told(&crossed, &[here::closed()]);
    assert!(told.starts_with("CLOSED WATER"), "{told}");
    assert!(!told.contains("+1 more") && told.contains("also possible, not used: 45°07.200'N"), "{told}");
}
