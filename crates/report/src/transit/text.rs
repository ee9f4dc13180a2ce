//! The text of `transit check`.

use takeline::landmark::Landmark;
use takeline::transit::{
    ClearsReason, LinePoint, ProblemCode, Sensitivity, Severity, TransitReport, WorkingArea, ZoneOnLine,
};
use takeline::{Arcminutes, Metres, SideKind, Tristate};

use super::document::TransitDocument;
use super::headline::{MODEL, opening, side_inside};
use super::parts::ProblemDocument;
use super::{headline, phrases};
use crate::figures;
use crate::here::{answer, bear_in_mind, source};
use crate::lines::Page;
use crate::words::Spoken;

/// A zone that surely stays so far off, in metres, is told in one line (common practice, no source).
const FAR_M: f64 = 1_000.0;

/// Returns the answer about one line as plain text, without colour, wrapped.
///
/// The first three lines answer "does it keep clear, what do I see where it does not, how do the marks bear". Then come
/// what is wrong, the line, each zone, the water, the marks, and what was not checked. The wording is for people and may
/// change; scripts read the document.
///
/// # Accuracy
///
/// Distances are rounded to whole metres and to two digits of their doubt, areas as [`crate::words::Words::area`] has them.
#[must_use]
pub fn transit_text(document: &TransitDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    document.headline.write(&mut page);
    body(&mut page, document, Places::AsStated);
    not_checked(&mut page, &document.problems, document.not_checked);
    bear_in_mind(&mut page, document.words);
    page.finish()
}

/// Where the places of the marks come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Places {
    AsStated,
    /// Worked out from fixes on the line.
    FromFixes,
}

/// Writes what stands between the first three lines and what was not checked.
///
/// What can mislead comes before the figures; notes, which cannot, come after them.
pub(super) fn body(page: &mut Page, document: &TransitDocument<'_>, places: Places) {
    let report = document.report;
    why(page, document);
    let misleads = document.problems.iter().any(|problem| problem.severity != Severity::Note);
    if misleads {
        problems(page, &document.problems);
    }
    line(page, document);
    let (far, near): (Vec<_>, Vec<_>) = report.zones.iter().partition(|zone| is_far(report, zone));
    for at in &report.sensitivity {
        sharpness(page, (report, &near), at, document.words);
    }
    for on_line in near {
        zone(page, on_line, document.words);
    }
    far_zones(page, &far, document.words);
    water(page, document, places);
    page.heading("MARKS");
    mark(page, "front", (report.line.front(), places), document.words);
    mark(page, "rear", (report.line.rear(), places), document.words);
    page.field("apart", &phrases::along(document.words, report.line.separation()));
    if !misleads {
        problems(page, &document.problems);
    }
}

fn why(page: &mut Page, document: &TransitDocument<'_>) {
    let report = document.report;
    page.heading("ANSWER");
    page.field("keeps clear", &keeps_clear(report, document.words));
    for (because, code) in document.clears_because.iter().zip(document.clears_because_codes) {
        // what is a problem as well stands right below
        if !matches!(code, ClearsReason::Problem { .. }) {
            page.field("because", &phrases::held(because));
        }
    }
    let Some((sentence, side)) = document.opens.sentence.as_ref().zip(side_inside(report)) else {
        page.paragraph(
            "  ",
            "No zone lies on just one side of the line, so the marks do not tell inside from outside.",
        );
        return;
    };
    page.paragraph("  ", sentence);
    if report.clears == Tristate::Yes {
        let other = phrases::loud(document.words, side.other());
        page.paragraph("  ", &format!("In line you are outside. {other}: farther from that zone."));
    }
}

fn keeps_clear(report: &TransitReport, words: Spoken<'_>) -> String {
    let word = answer(report.clears);
    let Some(zone) = headline::deciding(report) else { return word.into() };
    match zone.worst.filter(|worst| report.clears == Tristate::Yes && worst.margin().metres() > 0.0) {
        Some(worst) => {
            let spare = figures::margin(words.units(), worst.margin(), worst.uncertainty_95);
            format!("{word}, {spare} to spare from {}, uncertainty allowed for", zone.name)
        }
        None => format!("{word}; tightest at {}", zone.name),
    }
}

/// Whether a zone is so far off and so surely clear that one line is enough for it.
fn is_far(report: &TransitReport, zone: &ZoneOnLine) -> bool {
    let hangs_on_it = |other: Option<&ZoneOnLine>| other.is_some_and(|other| other.id == zone.id);
    let is_meant =
        hangs_on_it(headline::deciding(report)) || hangs_on_it(opening(report).map(|(zone, _)| zone));
    let spare_m = phrases::margin_m(zone).unwrap_or(0.0);
    zone.clears == Tristate::Yes && zone.meetings.is_empty() && !is_meant && spare_m >= FAR_M
}

fn far_zones(page: &mut Page, zones: &[&ZoneOnLine], words: Spoken<'_>) {
    if zones.is_empty() {
        return;
    }
    page.heading("OTHER ZONES, MORE THAN 1 KM CLEAR");
    for zone in zones {
        if let Some(closest) = zone.closest.or(zone.worst) {
            page.field(&zone.name, &off_with_doubt(&closest, words));
        }
    }
}

/// One mark, with what is known of it.
pub(super) fn mark(page: &mut Page, label: &str, (mark, places): (&Landmark, Places), words: Spoken<'_>) {
    let kind = mark.kind.as_ref().map_or_else(String::new, |kind| format!(" ({kind})"));
    page.field(label, &format!("{}{kind}", mark.name));
    let detail = |page: &mut Page, text: &str| page.paragraph("    ", text);
    detail(page, &format!("at {}", figures::position(mark.position)));
    let height = mark.height.map_or_else(
        || "height not known".into(),
        |height| format!("{}\u{a0}high", figures::mark_height(words.units(), height, true)),
    );
    let known = match places {
        Places::AsStated => phrases::known_to(words, mark),
        Places::FromFixes => {
            format!("{} (95\u{a0}%), worked out from the fixes", short_doubt(mark.position_error_95, words))
        }
    };
    detail(page, &format!("{known}; {height}"));
    let stays = match mark.fixed {
        Some(true) => "stays put",
        Some(false) => "can move or be removed",
        None => "nobody says whether it stays put",
    };
    let seen = mark
        .last_confirmed
        .map_or_else(|| "nobody has confirmed it".into(), |day| format!("last confirmed {day}"));
    detail(page, &format!("{stays}; {seen}"));
    if let Some(comment) = &mark.comment {
        detail(page, comment);
    }
}

/// A doubt of the order of metres: a mark can be known to a tenth.
fn short_doubt(doubt: Metres, words: Spoken<'_>) -> String {
    format!("±{}", phrases::short_length(words, doubt))
}

fn line(page: &mut Page, document: &TransitDocument<'_>) {
    let report = document.report;
    let (question, words) = (&report.question, document.words);
    page.heading("LINE");
    page.field("bears", &format!("{:.1}° true, from its middle", report.bearing.degrees()));
    magnetic(page, document);
    let (near, far) =
        (phrases::along(words, question.stretch.near()), phrases::along(words, question.stretch.far()));
    page.field("used", &format!("{near} to {far} from the front mark"));
    let eye = question.eye;
    let (height, threshold) =
        (figures::mark_height(words.units(), eye.height(), true), phrases::minutes_of_arc(eye.threshold()));
    page.field("eye", &format!("{height} above the water; notices a gap of {threshold} (minutes of arc)"));
    let towards = question.drift.towards.map_or_else(
        || "straight across the line".into(),
        |bearing| format!("toward {}", document.words.bearing(bearing)),
    );
    page.field("drift", &format!("{} {towards}", figures::speed(words.units(), question.drift.speed_kn)));
    let clock = if document.is_time_by_clock() { ", by this device's clock" } else { "" };
    let time = question.time.map_or_else(
        || "not given, so sun and seasons are left out".into(),
        |time| format!("{}{clock}", time.strftime("%Y-%m-%dT%H:%M:%SZ")),
    );
    page.field("time", &time);
    if let Some(launch) = question.launch {
        let heading = question.heading.map(|heading| format!(", then {}", document.words.bearing(heading)));
        page.field("launch", &format!("{}{}", figures::position(launch), heading.unwrap_or_default()));
    }
}

fn magnetic(page: &mut Page, document: &TransitDocument<'_>) {
    let compass = &document.compass;
    if document.problems.iter().any(|problem| problem.code == ProblemCode::VariationNotKnown) {
        page.field("magnetic", "not known, see PROBLEMS");
        return;
    }
    let Some(needle) = compass.needle() else {
        page.field(
            "magnetic",
            &format!("not known: {}", compass.why_not(document.words).unwrap_or_default()),
        );
        return;
    };
    page.field("magnetic", &format!("{:.1}°", needle.bearing.degrees()));
    let variation = phrases::variation(needle.variation_deg);
    let error = format!("±{:.1}°", needle.standard_error.arcmin() / 60.0);
    let day = needle.time.strftime("%Y-%m-%d");
    page.field("variation", &format!("{variation} {error} (68\u{a0}%), {MODEL}, on {day}"));
}

fn sharpness(
    page: &mut Page,
    (report, zones): (&TransitReport, &[&ZoneOnLine]),
    at: &Sensitivity,
    words: Spoken<'_>,
) {
    page.heading(&format!("AT {} ({})", phrases::along(words, at.distance_from_front), end(report, at)));
    for zone in zones {
        let points = [zone.near, zone.middle, zone.far];
        if let Some(point) = points.into_iter().flatten().find(|point| is_at(point, at)) {
            page.field(&zone.name, &off_with_doubt(&point, words));
        }
    }
    let (unit_m, unit) = figures::short_unit(words.units());
    let opening = Arcminutes::new(at.arcmin_per_m.arcmin() * unit_m).unwrap_or(at.arcmin_per_m);
    page.field("marks open", &format!("{} for each {unit} off the line", phrases::minutes_of_arc(opening)));
    page.field("noticeable", &seen(at, words));
    page.field("line uncertain by", &format!("{} (95\u{a0}%)", short_doubt(at.line_uncertainty_95, words)));
    let over = at.rear_over_front.map_or_else(String::new, |angle| {
        let word = if angle.arcmin() < 0.0 { "below" } else { "above" };
        format!(", {} {word} the front mark", phrases::minutes_of_arc(angle))
    });
    match at.rear_above_front {
        Some(true) => page.field("rear mark", &format!("shows{over}")),
        Some(false) => page.field("rear mark", &format!("HIDDEN{over}")),
        None => page.field("rear mark", "may be hidden: a height is not known"),
    }
}

/// How far off the line the eye sees it, and how soon the drift is there.
fn seen(at: &Sensitivity, words: Spoken<'_>) -> String {
    let Some(offset) = at.offset_at_threshold else {
        return "never: the marks do not open wide enough".into();
    };
    let off = phrases::short_length(words, offset);
    match at.seconds_to_threshold.filter(|seconds| seconds.is_finite()) {
        Some(seconds) => format!("from {off} off the line, {} of drift", phrases::seconds(seconds)),
        None => format!("from {off} off the line; drift does not carry you that far"),
    }
}

fn end(report: &TransitReport, at: &Sensitivity) -> &'static str {
    let stretch = report.question.stretch;
    if at.distance_from_front.metres() <= stretch.near().metres() {
        "near end"
    } else if at.distance_from_front.metres() >= stretch.far().metres() {
        "far end"
    } else {
        "middle"
    }
}

/// Whether both are one place of the stretch, to what anybody prints.
fn is_at(point: &LinePoint, at: &Sensitivity) -> bool {
    (point.distance_from_front.metres() - at.distance_from_front.metres()).abs() < 0.5
}

/// How far outside or inside a zone a point is, with its uncertainty: `outside by 74 m ±15 m`.
fn off_with_doubt(point: &LinePoint, words: Spoken<'_>) -> String {
    let side = if point.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
    format!(
        "{side} by {}{}",
        figures::distance_with_doubt(words.units(), point.signed_distance, point.uncertainty_95),
        words.side_there(point.nearest_side)
    )
}

fn zone(page: &mut Page, zone: &ZoneOnLine, words: Spoken<'_>) {
    page.heading(&format!("ZONE {}", zone.name));
    page.field("keeps clear", answer(zone.clears));
    match zone.worst {
        None => page.field("its boundary", "not known, so nothing can be said about it"),
        Some(worst) => page.field("least margin", &least_margin(&worst, words)),
    }
    // both ends and the middle stand above
    if let Some(closest) =
        zone.closest.filter(|closest| zone.worst.is_none_or(|worst| !is_there(closest, &worst)))
    {
        page.field("closest", &point_words(&closest, words));
    }
    for meeting in &zone.meetings {
        let at = phrases::along(words, meeting.distance_from_front);
        let over = if meeting.side == SideKind::Shore { ", over its shore" } else { "" };
        page.field(
            phrases::meets(meeting.what),
            &format!("{at} from the front mark, at an angle of {:.0}°{over}", meeting.angle_deg),
        );
    }
    match zone.inside {
        Some(side) => page.field("inside it", &format!("rear mark to the {}", words.left_or_right(side))),
        None => page.field("inside it", "the marks do not show the side"),
    }
    page.field("in force", answer(zone.in_force));
    source(page, (&zone.source, zone.proofread.as_ref()), &zone.file, words);
}

/// Whether two points of one zone are one to the reader.
fn is_there(one: &LinePoint, other: &LinePoint) -> bool {
    (one.distance_from_front.metres() - other.distance_from_front.metres()).abs() < 0.5
}

fn least_margin(worst: &LinePoint, words: Spoken<'_>) -> String {
    let margin = worst.margin();
    let figure = if margin.metres() < 0.0 {
        format!("none, {} short", figures::distance(words.units(), margin, worst.uncertainty_95))
    } else {
        figures::margin(words.units(), margin, worst.uncertainty_95)
    };
    format!("{figure}: {}", point_words(worst, words))
}

fn point_words(point: &LinePoint, words: Spoken<'_>) -> String {
    let away = phrases::along(words, point.distance_from_front);
    format!("{}, {away} from the front mark", off_with_doubt(point, words))
}

fn water(page: &mut Page, document: &TransitDocument<'_>, places: Places) {
    let (report, words) = (document.report, document.words);
    page.heading("WHAT THE MARKS TELL YOU");
    let Some(water) = &report.water else {
        page.field("not measured", "no zone lies on just one side of the line");
        return;
    };
    let of = match &report.question.area {
        WorkingArea::Strip { half_width } => format!("{} on each side", phrases::along(words, *half_width)),
        WorkingArea::Within(_) => "as given".into(),
    };
    page.field("looked at", &format!("{}, {of}", phrases::area(words, water.area_m2)));
    if water.false_clear_m2() > 0.0 {
        page.field("inside, but the marks do not show it", &phrases::area(words, water.false_clear_m2()));
        page.paragraph(
            "    ",
            &format!("marks open to the outside: {}", phrases::area(words, water.false_clear_open_m2)),
        );
        page.paragraph(
            "    ",
            &format!("marks still look in line: {}", phrases::area(words, water.false_clear_in_line_m2)),
        );
    } else {
        page.field("inside, but the marks do not show it", &phrases::area(words, water.false_clear_m2()));
    }
    page.field("inside, and the marks show it", &phrases::area(words, water.inside_and_seen_m2));
    let given_away = phrases::area(words, water.forgone_m2);
    page.field(
        "open water lost",
        &format!("{given_away} outside every loaded zone, but the marks show inside"),
    );
    page.field("outside, marks in line", &phrases::area(words, water.open_in_line_m2));
    page.field("outside, and the marks show it", &phrases::area(words, water.open_and_clear_m2));
    page.paragraph(
        "  ",
        match places {
            Places::AsStated => "As if the marks stood exactly where stated.",
            Places::FromFixes => "As if the line ran exactly where the fixes put it.",
        },
    );
}

/// Problems, the worst first; what is always there stands in a section of its own.
pub(super) fn problems(page: &mut Page, problems: &[ProblemDocument<'_>]) {
    let found = headline::problems(problems);
    if found.is_empty() {
        return;
    }
    page.heading("PROBLEMS");
    for problem in found {
        page.field(&problem.severity_word, &problem.sentence());
    }
}

pub(super) fn not_checked(page: &mut Page, problems: &[ProblemDocument<'_>], limits: [&str; 4]) {
    page.heading("WHAT WAS NOT CHECKED");
    let terrain = problems.iter().filter(|problem| problem.code == ProblemCode::TerrainNotChecked);
    let terrain: Vec<String> = terrain.map(ProblemDocument::sentence).collect();
    // the check says the first of these in its own words
    let limits = &limits[usize::from(!terrain.is_empty())..];
    for sentence in terrain.iter().map(String::as_str).chain(limits.iter().copied()) {
        page.paragraph("  ", sentence);
    }
}

/// The word for a three-valued answer about clearing, in capitals where it is not yes.
pub(super) fn clears_word(clears: Tristate) -> &'static str {
    match clears {
        Tristate::Yes => "clears",
        Tristate::No => "DOES NOT CLEAR",
        Tristate::Undecided => "UNDECIDED",
    }
}
