//! That answers about marks ask the language that they were drawn up in for every part of a sentence, in text, JSON, map and card.

use takeline::magnetic::OutsideMagneticModel;
use takeline::test_util::samples;
use takeline::transit::{
    self, CalibrationReason, CompassPoint, LineName, ProblemReason, Side, Told, UnusedFix, UnusedFixes,
};
use takeline::{MagneticBearing, Tristate, TrueBearing, WaterStatus, ZoneSet};

use super::test_fixtures::{
    calibration, clear, compass, crossed, enters, lines, outside_the_model, pair, pair_question, side, zone,
};
use super::{
    CalibrationDocument, CardInput, CrossDocument, CrossReport, FindDocument, TransitDocument,
    transit_calibrate_text, transit_card, transit_cross_text, transit_find_text, transit_geojson,
    transit_gpx, transit_sketch_text, transit_text,
};
use crate::here::test_fixtures as here;
use crate::words::{English, Heading, Label, WaterPhrase, Words};

/// Parts of sentences in another language; the sentences stay English, so that a part left behind stands out.
struct Teile;

impl Words for Teile {
    fn bearing(&self, bearing: TrueBearing) -> String {
        format!("{:03.0}° rechtweisend", bearing.degrees())
    }

    fn magnetic_bearing(&self, bearing: MagneticBearing) -> String {
        format!("{:03.0}° missweisend", bearing.degrees())
    }

    fn bearings_in_short(&self, bearing: TrueBearing, magnetic: MagneticBearing) -> String {
        format!("{:.0} rw, {:.0} mw", bearing.degrees(), magnetic.degrees())
    }

    fn variation_not_known(&self, outside: Option<&OutsideMagneticModel>) -> String {
        if outside.is_some() { "die Missweisung ist dann unbekannt" } else { "ohne Zeit" }.into()
    }

    fn left_or_right(&self, side: Side) -> String {
        if side == Side::Left { "links" } else { "rechts" }.into()
    }

    fn compass_point(&self, _: CompassPoint) -> String {
        "Süden".into()
    }

    fn area(&self, area_m2: f64) -> String {
        format!("{area_m2:.0} Quadratmeter")
    }

    fn line_name(&self, _: &LineName) -> String {
        "die Peilung".into()
    }

    fn unused_fixes(&self, unused: &UnusedFixes) -> String {
        format!("nicht benutzt: {:?}", unused.numbers)
    }

    fn cautions(&self) -> [&'static str; 4] {
        ["Vorsicht 1.", "Vorsicht 2.", "Vorsicht 3.", "Vorsicht 4."]
    }

    fn transit_limits(&self) -> [&'static str; 4] {
        ["Grenze 1.", "Grenze 2.", "Grenze 3.", "Grenze 4."]
    }

    fn heading(&self, heading: Heading<'_>) -> String {
        if heading == Heading::BearInMind { "BEDENKE".into() } else { English.heading(heading) }
    }

    fn label(&self, label: Label) -> String {
        if label == Label::Law { "Gesetz".into() } else { English.label(label) }
    }

    fn water(&self, phrase: &WaterPhrase<'_>) -> String {
        let is_closed = matches!(phrase, WaterPhrase::Water { water: WaterStatus::Closed, .. });
        if is_closed { "gesperrt".into() } else { English.water(phrase) }
    }
}

/// What the other language has words for has to stand in the text, and nothing of the English for it.
fn speaks(text: &str, parts: &[&str]) {
    let text = text.replace('\u{a0}', " ");
    for part in parts {
        assert!(text.contains(part), "{part} is missing: {text}");
    }
    let limits = [English.cautions(), English.transit_limits()];
    for english in
        limits.into_iter().flatten().chain(["BEAR IN MIND", "law: ", "LEFT", "RIGHT", "he variation"])
    {
        assert!(!text.contains(english), "{english}: {text}");
    }
}

fn card(document: &TransitDocument<'_>) -> String {
    let zones = ZoneSet::new(vec![zone()]);
    let input = CardInput { zones: &zones, command: "takeline", program_version: "1.2.3" };
    transit_card(document, &input).unwrap()
}

const IN_MIND: [&str; 3] = ["BEDENKE\n  Vorsicht 1.\n", "Vorsicht 4.", "Grenze 4."];

#[test]
fn a_line_is_told_with_the_parts_of_another_language() {
    let report = enters();
    let document = TransitDocument::with_compass(&report, compass(&report), &Teile);
    let text = transit_text(&document, 400);
    speaks(&text, &IN_MIND);
    speaks(
        &text,
        &[
            "Marks bear 089° rechtweisend, 101° missweisend\n",
            "Lone Pine RECHTS of",
            "rear mark to the rechts",
            "Quadratmeter",
            "Gesetz: ",
        ],
    );
    assert!(transit_text(&document, 20).contains("89 rw, 101 mw"));
    let zones = ZoneSet::new(vec![zone()]);
    speaks(&transit_sketch_text(&document, &zones, 200), &["shows RECHTS of the front mark"]);
    speaks(
        &card(&document),
        &["lies to the Süden of the line", "Quadratmeter", "rear rechts, ", "Vorsicht 1. Vorsicht 2."],
    );
    speaks(&transit_geojson(&document).to_string(), &["Vorsicht 1."]);
    speaks(&transit_gpx(&document).unwrap(), &["| Vorsicht 1. |", ". Vorsicht 1.<"]);
}

#[test]
fn a_variation_that_is_not_known_is_told_in_another_language() {
    let outside = outside_the_model();
    let document = TransitDocument::new(&outside, &Teile);
    speaks(&transit_text(&document, 400), &["not known: die Missweisung ist dann unbekannt"]);
    speaks(&card(&document), &["No magnetic bearing: die Missweisung ist dann unbekannt."]);
    let json = serde_json::to_value(&document).unwrap();
    assert_eq!(json["variation_not_known"], "die Missweisung ist dann unbekannt");
    assert_eq!((&json["cautions"][0], &json["not_checked"][0]), (&"Vorsicht 1.".into(), &"Grenze 1.".into()));
    let report = clear();
    let untimed = serde_json::to_value(TransitDocument::new(&report, &Teile)).unwrap();
    assert_eq!(untimed["variation_not_known"], "ohne Zeit");
}

#[test]
fn pairs_and_fixes_are_told_with_the_parts_of_another_language() {
    let (zone, question) = (zone(), pair_question());
    let sides = [side(CompassPoint::North, vec![pair(Tristate::Yes, 59.0)])];
    let found = transit_find_text(&FindDocument::new(&question, &zone, &sides, &Teile), 400);
    speaks(&found, &IN_MIND);
    speaks(
        &found,
        &[
            "They bear 089° rechtweisend",
            "bearing 089° rechtweisend, marks",
            "Süden side",
            "RECHTS",
            "Gesetz: ",
            "Grenze 1.",
        ],
    );
    let mut calibration = calibration(Told::BothMarks);
    let unused = UnusedFixes { numbers: vec![4, 18], why: UnusedFix::Behind };
    calibration.because.push(CalibrationReason::NotUsed { unused });
    let fixes = transit_calibrate_text(&CalibrationDocument::new(&calibration, None, &Teile), 400);
    speaks(&fixes, &IN_MIND);
    speaks(&fixes, &["bear 089° rechtweisend", "to the rechts", "nicht benutzt: [4, 18]"]);
}

#[test]
fn a_crossed_position_is_told_with_the_parts_of_another_language() {
    let (lines, crossed, assessments) = (lines(), crossed(), [here::closed()]);
    let found = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    let text = transit_cross_text(&CrossDocument::new(found, &Teile).with_time_by_clock(), 400);
    speaks(&text, &IN_MIND);
    speaks(&text, &["along 042° rechtweisend", "answer: gesperrt", "by this device's clock"]);
}

#[test]
fn what_is_wrong_names_lines_and_bearings_in_another_language() {
    for problem in samples::transit_problems() {
        let text = Teile.transit_problem(&problem);
        assert!(!text.contains("° true") && !text.contains("variation is"), "{text}");
        if matches!(problem, ProblemReason::LinesDisagree { .. }) {
            assert!(text.contains("the worst is die Peilung"), "{text}");
        }
    }
    for name in [
        LineName::Transit { front: "Day Beacon".into(), rear: "Lone Pine".into() },
        LineName::Bearing { mark: "Lone Pine".into() },
        LineName::HorizontalAngle { left: "Day Beacon".into(), right: "Lone Pine".into() },
    ] {
        let (words, line) = (English.line_name(&name), name.clone());
        assert!(words.starts_with("the ") && words.ends_with("Lone Pine"), "{words}");
        let error = transit::CrossError::StandardError { line, value_deg: 50.0 }.to_string();
        assert!(error.contains(&words), "{error}");
    }
}
