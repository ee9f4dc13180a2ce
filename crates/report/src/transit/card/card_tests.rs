use takeline::landmark::Landmark;
use takeline::transit::{
    ClearsReason, PlaceOfUse, Problem, ProblemCode, ProblemReason, RangeLine, Severity, TransitReport,
};
use takeline::zone::ZoneId;
use takeline::{Tristate, ZoneSet};

use super::marks::{marrowick_marks, misleading_marks};
use super::{CardError, CardInput, transit_card};
use crate::CAUTIONS;
use crate::figures::Units;
use crate::figures_tests::assert_units;
use crate::transit::TransitDocument;
use crate::transit::phrases::hidden_parts;
use crate::words::{English, EnglishIn};

fn card((zones, report): &(ZoneSet, TransitReport)) -> String {
    let input =
        CardInput { zones, command: "takeline transit check --card card.html", program_version: "1.2.3" };
    transit_card(&TransitDocument::new(report, &English), &input).unwrap().replace('\u{a0}', " ")
}

#[test]
fn the_card_holds_everything_that_somebody_needs() {
    let card = card(&marrowick_marks().unwrap());
    for part in [
        "Marks for Sallow Cove Reserve",
        "Lone Pine behind Sallow Point Day Beacon",
        "If Lone Pine shows RIGHT of Sallow Point Day Beacon, assume you are inside Sallow Cove Reserve; it lies to the south.",
        ">INSIDE<",
        ">OUTSIDE<",
        ">wide open<",
        ">turn back: go left<",
        ">in line<",
        ">open, other side<",
        "Kept in line from 381 m to 1400 m from the front mark, the marks keep you outside every loaded zone",
        "id=\"plan\"",
        "true N",
        "500 m",
        "nm",
        "uncertainty of the line, 95 %",
        "inside, but the marks do not show it: none",
        "open water lost (outside, but the marks show inside): 15 ha",
        "Both marks bear 088.7° true",
        "variation 9.1° W, standard error 0.4°, WMM2025, 2026-07-05",
        "to the boundary",
        "Tightest: 89 m to spare",
        "noticeable from",
        "drift to there at 0.5 kn",
        "Warning: </strong>Lone Pine can move",
        "Nobody has checked for land, buildings or trees between you and the marks.",
        "edition 2026, second",
        "Marrowick Waters Order 2024, clause 3",
        "SHA-256",
        "takeline transit check --card card.html",
        "Takeline 1.2.3",
        "45°07.512'N 030°07.860'W ±2 m",
    ] {
        assert!(card.contains(part), "the card lacks: {part}");
    }
    for caution in CAUTIONS {
        assert!(card.contains(caution), "the card lacks: {caution}");
    }
    let (zones, _) = marrowick_marks().unwrap();
    assert!(card.contains(&zones.zones()[0].file.sha256));
}

#[test]
fn the_card_fetches_nothing_and_runs_nothing() {
    let card = card(&marrowick_marks().unwrap());
    assert!(card.contains("default-src 'none'"));
    for part in ["<script", "<link", "<img", "src=", "@import", "url(http", "onload"] {
        assert!(!card.contains(part), "the card holds {part}");
    }
    assert_eq!(
        card.matches("http").count(),
        card.matches("http-equiv").count() + card.matches("http://www.w3.org/2000/svg").count()
    );
}

#[test]
fn the_same_report_makes_the_same_bytes() {
    assert_eq!(card(&marrowick_marks().unwrap()), card(&marrowick_marks().unwrap()));
}

#[test]
fn names_cannot_become_markup() {
    let (zones, mut report) = marrowick_marks().unwrap();
    let evil = "<b onload=\"x\">&\u{202e}";
    let named = |mark: &Landmark| Landmark { name: evil.into(), kind: Some(evil.into()), ..mark.clone() };
    report.line = RangeLine::through(named(report.line.front()), named(report.line.rear())).unwrap();
    report.zones[0].name = evil.into();
    report.zones[0].source.instrument = evil.into();
    report.clears_because = vec![ClearsReason::LineNotKnown { zone: evil.into() }];
    let reason = ProblemReason::MarkNeverConfirmed { mark: evil.into() };
    report.problems.push(Problem { severity: Severity::Error, reason });
    let input = CardInput { zones: &zones, command: evil, program_version: evil };
    let card = transit_card(&TransitDocument::new(&report, &English), &input).unwrap();
    assert!(!card.contains("<b onload") && !card.contains('\u{202e}'));
    assert!(card.matches("&lt;b onload=&quot;x&quot;&gt;&amp;\u{fffd}").count() > 8);
}

#[test]
fn errors_stand_above_the_sentence_and_a_line_that_does_not_clear_says_so() {
    let (zones, mut report) = misleading_marks().unwrap();
    let swapped = Problem {
        severity: Severity::Error,
        reason: ProblemReason::MarksSwapped {
            place: PlaceOfUse::WorkingArea,
            front: "Day Beacon".into(),
            rear: "Lone Pine".into(),
        },
    };
    report.problems.insert(0, swapped);
    report.clears = Tristate::No;
    let card = card(&(zones, report));
    let place = |of: &str| card.find(of).unwrap_or_else(|| panic!("the card lacks {of}"));
    assert!(place("class=\"error\"") < place("class=\"sentence\""));
    assert!(place("the marks do NOT keep you outside.") < place("id=\"plan\""));
    assert!(card.contains("Swap front and rear: the water you work in is beyond Lone Pine."));
    // the figures of the check itself; tests/false_clear.rs holds areas, tests/transits.rs doubts to other sources
    assert!(
        card.contains("100 m ±160 m inside")
            && card.contains("you are inside a zone and the marks show outside")
    );
    assert!(card.contains("inside, but the marks do not show it: 8.9 ha"));
}

#[test]
fn an_undecided_answer_is_called_undecided() {
    let (zones, mut report) = marrowick_marks().unwrap();
    report.clears = Tristate::Undecided;
    let card = card(&(zones, report));
    assert!(card.contains("UNDECIDED: the marks kept in line"));
    assert!(!card.contains("the marks keep you outside every loaded zone"));
}

#[test]
fn marks_without_a_side_or_a_zone_still_make_a_card() {
    let (zones, mut report) = marrowick_marks().unwrap();
    report.opens = None;
    report.water = None;
    report.zones.clear();
    let reason = ProblemReason::NoZoneNear { within_m: 2000.0 };
    report.problems = vec![Problem { severity: Severity::Error, reason }];
    let card = card(&(zones, report));
    assert!(card.contains("These marks do not tell inside from outside."));
    assert!(card.contains("Marks in line") && !card.contains("class=\"view\""));
}

#[test]
fn what_half_a_sheet_has_no_room_for_is_counted_on_the_print() {
    let (zones, mut report) = marrowick_marks().unwrap();
    let note =
        report.problems.iter().find(|problem| problem.code() == ProblemCode::MarkMovable).unwrap().clone();
    report.problems.extend((0..30).map(|_| Problem { severity: Severity::Note, ..note.clone() }));
    let card = card(&(zones, report));
    let on_screen_only = card.matches("<li class=\"screen\"><strong>Note: ").count();
    assert!(on_screen_only > 10, "{on_screen_only}");
    assert!(card.contains(&format!("<strong>{on_screen_only} more</strong> on the screen")));
    assert_eq!(
        card.matches("Note: </strong>").count(),
        31,
        "the screen has them all, and that of the launch"
    );
}

#[test]
fn a_report_of_other_zones_is_refused() {
    let (zones, mut report) = marrowick_marks().unwrap();
    let input = CardInput { zones: &zones, command: "", program_version: "" };
    report.zones[0].id = ZoneId("elsewhere".into());
    let refused = transit_card(&TransitDocument::new(&report, &English), &input).unwrap_err();
    assert_eq!(refused, CardError::UnknownZone { zone: ZoneId("elsewhere".into()) });
    let (_, mut report) = marrowick_marks().unwrap();
    report.zones.clear();
    assert_eq!(
        transit_card(&TransitDocument::new(&report, &English), &input).unwrap_err(),
        CardError::UnknownOpening { number: 0, count: 0 }
    );
}

#[test]
fn where_the_front_mark_hides_the_rear_one_has_its_own_drawing() {
    let (zones, report) = marrowick_marks().unwrap();
    // by hand: the slopes to both tops are equal at D = S·(9 − 0.9) / (41 − 9) = 378 m, curvature left out; it takes 3 m more
    let parts = hidden_parts(&report);
    assert_eq!(parts.len(), 1);
    let [from_m, to_m] = parts[0];
    assert!((from_m - 100.0).abs() < 0.5 && (to_m - 380.0).abs() < 4.0, "{from_m} {to_m}");
    let with = card(&(zones, report.clone()));
    assert_eq!(with.matches("rect class=\"hidden-part\"").count(), 1);
    assert!(with.contains("Where you cannot see them in line."));
    assert_eq!(
        with.matches("hides Lone Pine.").count(),
        2,
        "beside the drawing and as its description, not in the list"
    );
    let (zones, mut report) = marrowick_marks().unwrap();
    report.problems.retain(|problem| problem.code() != ProblemCode::FrontHidesRear);
    let without = card(&(zones, report));
    assert!(!without.contains("hidden-part\"") && !without.contains("Where you cannot see them in line."));
}

#[test]
fn parts_that_meet_are_drawn_as_one() {
    let (_, mut report) = marrowick_marks().unwrap();
    let reason = ProblemReason::BelowHorizonInPart {
        mark: "Lone Pine".into(),
        eye_height_m: 0.9,
        parts_m: vec![[300.0, 500.0], [900.0, 1400.0]],
    };
    report.problems.push(Problem { severity: Severity::Warning, reason });
    let parts = hidden_parts(&report);
    assert_eq!(
        parts.iter().map(|part| part.map(f64::round)).collect::<Vec<_>>(),
        [[100.0, 500.0], [900.0, 1400.0]]
    );
}

#[test]
fn tables_and_hashes_stand_on_the_back() {
    let card = card(&marrowick_marks().unwrap());
    let (front, back) = card.split_once("<section class=\"back\">").unwrap();
    for part in ["<table", "SHA-256", "takeline transit check --card", "edition 2026, second"] {
        assert!(!front.contains(part) && back.contains(part), "{part}");
    }
    assert!(front.contains("class=\"cautions\""));
}

#[test]
fn the_card_is_in_the_units_asked_for() {
    let (zones, report) = marrowick_marks().unwrap();
    let input = CardInput { zones: &zones, command: "", program_version: "" };
    for units in [Units::Metric, Units::Nautical, Units::Us] {
        let words = EnglishIn(units);
        let card = transit_card(&TransitDocument::new(&report, &words), &input).unwrap();
        assert_units(units, &card);
    }
}
