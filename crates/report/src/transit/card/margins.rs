//! Figures along the line: bearings, margins, what the eye sees, and the drift.

use jiff::Timestamp;
use maud::{Markup, html};
use takeline::landmark::Landmark;
use takeline::transit::{LinePoint, Sensitivity, TransitReport, ZoneOnLine};
use takeline::{Metres, UncertaintySource};

use crate::figures;
use crate::lines::sanitised;
use crate::track::times::span;
use crate::transit::document::TransitDocument;
use crate::transit::headline::{Compass, MODEL};
use crate::transit::phrases;
use crate::words::Spoken;

/// Places along the line of which the table tells.
const PLACES: [&str; 3] = ["near", "middle", "far"];

/// The table: one column for each place on the line.
pub(super) fn table(document: &TransitDocument<'_>) -> Markup {
    let (report, words) = (document.report, document.words);
    let units = words.units();
    let (line, drift) = (&report.line, report.question.drift);
    let stretch = report.question.stretch;
    let ends = [stretch.near(), stretch.middle(), stretch.far()];
    let zone = deciding(report);
    html! {
        table {
            thead { tr { td {} @for place in PLACES { th scope="col" { (place) } } } }
            tbody {
                (row("from the front mark", ends.map(|end| phrases::along(words, end))))
                @if let Some(zone) = zone {
                    (row("to the boundary", [zone.near, zone.middle, zone.far].map(|point| off_zone(point, words))))
                }
                (row("uncertainty of the line", ends.map(|end| figures::doubt(units, line.uncertainty_95(end)))))
                (row("noticeable from", ends.map(|end| at(report, end).map_or_else(unknown, |seen| seen_after(seen, words)))))
                (row(&format!("drift to there at {}", figures::speed(units, drift.speed_kn)), ends.map(|end| at(report, end).map_or_else(unknown, drifted))))
            }
        }
    }
}

/// The zone that the marks are for: that on which they open, else the one with the least margin.
pub(super) fn deciding(report: &TransitReport) -> Option<&ZoneOnLine> {
    report.zones.get(report.opens.as_ref().map_or(0, |opens| opens.zone))
}

fn row(what: &str, values: [String; 3]) -> Markup {
    html! { tr { th scope="row" { (what) } @for value in values { td { (value) } } } }
}

fn unknown() -> String {
    "not known".into()
}

/// What the report says of the eye at a distance.
fn at(report: &TransitReport, end: Metres) -> Option<&Sensitivity> {
    let off_m = |sensitivity: &&Sensitivity| (sensitivity.distance_from_front.metres() - end.metres()).abs();
    report.sensitivity.iter().find(|sensitivity| off_m(sensitivity) < 0.5)
}

fn seen_after(sensitivity: &Sensitivity, words: Spoken<'_>) -> String {
    let offset = sensitivity.offset_at_threshold;
    offset.map_or_else(|| "never".into(), |offset| phrases::short_length(words, offset))
}

fn drifted(sensitivity: &Sensitivity) -> String {
    sensitivity.seconds_to_threshold.map_or_else(|| "never".into(), span)
}

/// How far off the zone a place on the line is: `120 m ±14 m`, `28 m ±46 m inside`, or in capitals where that is sure.
fn off_zone(point: Option<LinePoint>, words: Spoken<'_>) -> String {
    let Some(point) = point else { return unknown() };
    let figures = figures::distance_with_doubt(words.units(), point.signed_distance, point.uncertainty_95);
    let is_sure = point.signed_distance.metres() + point.uncertainty_95.metres() < 0.0;
    match (point.signed_distance < Metres::ZERO, is_sure) {
        (true, true) => format!("INSIDE {figures}"),
        (true, false) => format!("{figures} inside"),
        (false, _) => figures,
    }
}

/// Where the line has the least margin of the zone.
pub(super) fn least(document: &TransitDocument<'_>) -> Markup {
    let (report, words) = (document.report, document.words);
    let Some(zone) = deciding(report) else { return html! {} };
    let Some(worst) = zone.worst else {
        return html! { p { "The boundary of " (sanitised(&zone.name)) " is not known, so there is no margin to give." } };
    };
    let margin = worst.margin();
    let away = phrases::along(words, worst.distance_from_front);
    let longest = if worst.uncertainty_95 > worst.signed_distance {
        worst.uncertainty_95
    } else {
        worst.signed_distance
    };
    let figure = |length| figures::distance_beside(words.units(), length, worst.uncertainty_95, longest);
    html! {
        p {
            @if margin > Metres::ZERO {
                strong { "Tightest: " (figures::margin(words.units(), margin, worst.uncertainty_95)) " to spare" }
                " from " (phrases::name(&zone.name)) " (" (figure(worst.signed_distance)) " less an uncertainty of "
                (figure(worst.uncertainty_95)) "), " (away) " from the front mark."
            } @else {
                strong { "Tightest: nothing to spare" }
                " from " (phrases::name(&zone.name)) ", " (away) " from the front mark: " (off_zone(Some(worst), words)) "."
            }
        }
    }
}

/// Bearings, each with its north.
pub(super) fn bearings(document: &TransitDocument<'_>) -> Markup {
    let report = document.report;
    let magnetic = match &document.compass {
        Compass::NoTime => "No magnetic bearing without a time.".to_owned(),
        Compass::NotKnown(outside) => {
            format!("No magnetic bearing: {}.", document.words.variation_not_known(Some(outside)))
        }
        Compass::Known(needle) => {
            let bearing = bearing(needle.bearing.degrees());
            let standard_error_deg = needle.standard_error.arcmin() / 60.0;
            let figures = variation_words(needle.variation_deg, standard_error_deg, needle.time);
            format!("{bearing}° magnetic ({figures}). The deviation of your own compass is not counted.")
        }
    };
    html! {
        p { strong { "Both marks bear " (bearing(report.bearing.degrees())) "° true" } " from the middle of the stretch. " (magnetic) }
    }
}

/// Degrees with a decimal, never 360.0.
fn bearing(degrees: f64) -> String {
    let tenths = (degrees * 10.0).round() % 3600.0;
    format!("{:05.1}", tenths / 10.0)
}

/// `variation 8.2° W ±0.4°, WMM2025, 2026-07-25`.
fn variation_words(degrees_east: f64, standard_error_deg: f64, time: Timestamp) -> String {
    let letter = if degrees_east < 0.0 { 'W' } else { 'E' };
    format!(
        "variation {:.1}°\u{a0}{letter}, standard error {standard_error_deg:.1}°, {}, {}",
        degrees_east.abs(),
        MODEL,
        time.strftime("%Y-%m-%d")
    )
}

/// The marks, where they stand and how well that is known.
pub(super) fn marks(document: &TransitDocument<'_>) -> Markup {
    let (report, words) = (document.report, document.words);
    let separation = phrases::along(words, report.line.separation());
    let eye = figures::mark_height(words.units(), report.question.eye.height(), true);
    html! {
        (mark("Front", report.line.front(), words))
        (mark("Rear", report.line.rear(), words))
        p { "The marks stand " (separation) " apart. Eye " (eye) " above the water; notices a gap of "
            (phrases::minutes_of_arc(report.question.eye.threshold())) " (minutes of arc)." }
    }
}

fn mark(which: &str, mark: &Landmark, words: Spoken<'_>) -> Markup {
    let assumed = if mark.position_error_source == UncertaintySource::Assumed { " (assumed)" } else { "" };
    html! {
        p {
            strong { (which) ": " (sanitised(&mark.name)) }
            @if let Some(kind) = &mark.kind { ", " (sanitised(kind)) }
            ", " (figures::position(mark.position)) " " (figures::doubt(words.units(), mark.position_error_95)) (assumed)
            @match mark.height {
                Some(height) => { ", " (figures::mark_height(words.units(), height, false)) " high" }
                None => { ", height not known" }
            }
            @match mark.last_confirmed {
                Some(day) => { ", last confirmed " span .day { (day) } }
                None => { ", never confirmed" }
            }
            "."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bearing_never_reads_360() {
        for (degrees, expected) in [(0.0, "000.0"), (359.97, "000.0"), (88.74, "088.7"), (7.06, "007.1")] {
            assert_eq!(bearing(degrees), expected);
        }
    }

    #[test]
    fn the_variation_says_its_way_its_doubt_and_where_it_is_from() {
        let time = "2026-07-25T06:00:00Z".parse().unwrap();
        let words = variation_words(-8.24, 0.41, time);
        assert_eq!(words, "variation 8.2°\u{a0}W, standard error 0.4°, WMM2025, 2026-07-25");
    }
}
