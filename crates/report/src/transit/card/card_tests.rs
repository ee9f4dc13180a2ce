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
        "If Lone Pine shows RIGHT of Sallow Point Day Beacon, take it that you are inside Sallow Cove Reserve, to the south.",
        ">INSIDE<",
        ">ON THE LINE<",
        ">OUTSIDE<",
        "The marks kept in line from 100 m to 1400 m off the front mark keep you outside every loaded zone",
        "id=\"plan\"",
        "true N",
        "500 m",
        "NM",
        "doubt of the line, 95 %",
        "false-safe: none",
        "given away: 15 ha",
        "Both marks bear 088.7° true",
        "variation 9.1° W, standard error 0.4°, WMM2025, 2026-07-05",
        "off the zone by",
        "Least margin of Sallow Cove Reserve",
        "seen to open after",
        "drift so far, 0.5 kn",
        "Warning: </strong>Lone Pine can move",
        "Terrain and trees between you and the marks were not checked.",
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
    assert!(place("do NOT keep you outside.") < place("id=\"plan\""));
    assert!(card.contains("The working area lies beyond Lone Pine, so Lone Pine is the front mark there;"));
    // the figures of the check itself; tests/false_clear.rs holds areas, tests/transits.rs doubts to other sources
    assert!(card.contains("100 m ±160 m inside") && card.contains("Inside a zone the marks look clear over"));
    assert!(card.contains("false-safe: 8.9 ha"));
}

#[test]
fn an_undecided_answer_is_called_undecided() {
    let (zones, mut report) = marrowick_marks().unwrap();
    report.clears = Tristate::Undecided;
    let card = card(&(zones, report));
    assert!(card.contains("keep you outside is UNDECIDED."));
    assert!(!card.contains("keep you outside every loaded zone"));
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
    assert!(card.contains(&format!("<strong>{on_screen_only} more</strong>")));
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
fn the_card_is_in_the_units_asked_for() {
    let (zones, report) = marrowick_marks().unwrap();
    let input = CardInput { zones: &zones, command: "", program_version: "" };
    for units in [Units::Metric, Units::Nautical, Units::Us] {
        let words = EnglishIn(units);
        let card = transit_card(&TransitDocument::new(&report, &words), &input).unwrap();
        assert_units(units, &card);
    }
}
