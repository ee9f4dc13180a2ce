//! What was written by `takeline zones export`.

use jiff::Timestamp;
use serde::Serialize;
use takeline::SideKind;
use takeline::zone::{Status, Zone};
use takeline_drafting::standoff::{StandOff, StandOffSide, StandOffWanted};

use crate::lines::Page;

/// What an export wrote, schema `takeline.zones-export/1`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Exported {
    /// Names the form.
    pub schema: &'static str,
    /// Where.
    #[serde(rename = "out")]
    pub path: String,
    /// Its format, as it is asked for.
    pub format: &'static str,
    /// How many lines or areas.
    pub lines: usize,
    /// How many points all of them have.
    pub points: usize,
    /// The ids of the zones that it is about.
    pub zones: Vec<String>,
    /// The ids of zones that are not in it, because their line is not known.
    pub unknown: Vec<String>,
    /// The ids of zones in it that are only proposed, not yet in force or repealed.
    pub not_law: Vec<String>,
    /// The ids of zones in it with sides along a shore that nobody has supplied.
    pub unresolved: Vec<String>,
    /// What the lines of the zones, their sides and their datum may be off at most, which no line counts, in metres.
    pub line_doubt_m: f64,
    /// How far other readings of unstated sides run beside the geodesics at most, in metres.
    pub readings_apart_m: f64,
    /// The line that keeps a distance; none where the zones themselves were written.
    pub standoff: Option<ExportedStandOff>,
    /// What else has to be known of it; the file says the same.
    pub remarks: Vec<String>,
    /// 0 written, 1 written without zones whose line is not known.
    pub exit_status: u8,
}

/// A line that keeps a distance, as it was looked at.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExportedStandOff {
    /// The distance that was asked for, in metres; below zero: inside.
    pub wanted_m: f64,
    /// The smallest and the largest distance that was found, in metres.
    pub nearest_m: f64,
    /// See above.
    pub farthest_m: f64,
    /// In how many places.
    pub places_looked_at: usize,
    /// How often it was left open along a shore, and along a side that nobody has supplied.
    pub left_open_at_shores: usize,
    /// See above.
    pub left_open_at_unresolved_sides: usize,
    /// Water between two lines that is narrower than this, in metres, may not be shown.
    pub narrowest_shown_m: f64,
}

impl ExportedStandOff {
    /// Of a line and what was asked for.
    #[must_use]
    pub fn of(kept: &StandOff, wanted: &StandOffWanted) -> Self {
        let sign = if wanted.side == StandOffSide::Inside { -1.0 } else { 1.0 };
        let (left_open_at_shores, left_open_at_unresolved_sides) = left_open(kept);
        Self {
            wanted_m: sign * wanted.distance.metres(),
            nearest_m: kept.nearest.metres(),
            farthest_m: kept.farthest.metres(),
            places_looked_at: kept.places_looked_at,
            left_open_at_shores,
            left_open_at_unresolved_sides,
            narrowest_shown_m: kept.narrowest_shown.metres(),
        }
    }
}

/// What was written as text: first how much, then what was kept and what was left open, then the rest.
#[must_use]
pub fn exported_text(
    exported: &Exported,
    kept: Option<(&StandOff, &StandOffWanted)>,
    width: usize,
) -> String {
    let mut page = Page::new(width);
    let Exported { path, format, lines, points, zones, unknown, remarks, .. } = exported;
    let counted = |count: usize, what: &str| format!("{count} {what}{}", if count == 1 { "" } else { "s" });
    let what = if kept.is_some() { "line" } else { "shape" };
    page.paragraph(
        "",
        &format!("WRITTEN: {} of {} to {path} ({format})", counted(*lines, what), counted(*points, "point")),
    );
    if let Some((kept, wanted)) = kept {
        page.paragraph("", &standoff_sentence(kept, wanted));
        page.paragraph("", &left_open_sentence(kept));
    }
    if !unknown.is_empty() {
        page.paragraph(
            "",
            &format!("NOT IN IT, because nobody has supplied their line: {}", unknown.join(", ")),
        );
    }
    page.heading("About");
    page.paragraph("  ", &zones.join(", "));
    page.heading("The file says");
    for remark in remarks {
        page.paragraph("  ", remark);
    }
    page.finish()
}

/// The distance kept, and how it was looked at.
#[must_use]
pub fn standoff_sentence(kept: &StandOff, wanted: &StandOffWanted) -> String {
    let side = match wanted.side {
        StandOffSide::Outside => "outside",
        StandOffSide::Inside => "inside",
    };
    let (wanted_m, deviation_m) = (wanted.distance.metres(), deviation_m(kept, wanted));
    format!(
        "Kept: {wanted_m} m {side}. Looked at in {} places, the line is {:.2} to {:.2} m off the boundary as drawn: {deviation_m:.2} m \
         from what was wanted at most.",
        kept.places_looked_at,
        kept.nearest.metres(),
        kept.farthest.metres(),
    )
}

fn deviation_m(kept: &StandOff, wanted: &StandOffWanted) -> f64 {
    let off_m = |metres: f64| (metres - wanted.distance.metres()).abs();
    off_m(kept.nearest.metres()).max(off_m(kept.farthest.metres()))
}

/// How near the lines of zones that are drawn keep to the zones, and where they do not: how far the readings of sides whose text leaves
/// them open are apart, in metres, and which zones have sides that nobody has supplied.
#[must_use]
pub fn outline_sentences(tolerance_m: f64, readings_apart_m: f64, unresolved: &[&str]) -> Vec<String> {
    let mut sentences = vec![format!(
        "Lines between points, straight in longitude and latitude, keep to the line of the zone within {tolerance_m} m, but for what follows \
         here."
    )];
    if readings_apart_m > 0.0 {
        sentences.push(format!(
            "Sides whose text does not say how they run are drawn as geodesics; read otherwise they run up to {} m beside them.",
            rounded_up(readings_apart_m)
        ));
    }
    if !unresolved.is_empty() {
        sentences.push(format!(
            "Sides along a shore or bank that nobody has supplied are drawn straight from corner to corner, which they are not: {}.",
            unresolved.join(", ")
        ));
    }
    sentences
}

/// What the lines of zones, their sides and their datum may be off, in metres, which no line that is drawn counts.
#[must_use]
pub fn line_doubt_sentence(line_m: f64) -> Option<String> {
    (line_m > 0.0).then(|| {
        format!(
            "Not counted: the lines of the zones, each side of them, and their datum may themselves be off by up to {} m.",
            rounded_up(line_m)
        )
    })
}

/// Up, so that a doubt is not made smaller: whole metres, below ten with one decimal.
fn rounded_up(metres: f64) -> String {
    if metres < 10.0 {
        format!("{:.1}", (metres * 10.0).ceil() / 10.0)
    } else {
        format!("{:.0}", metres.ceil())
    }
}

/// What a zone is that is no law, for its name in a file; none for one that is.
#[must_use]
pub fn not_law(status: Status) -> Option<&'static str> {
    match status {
        Status::InForce => None,
        Status::Proposed => Some("only proposed"),
        Status::NotCommenced => Some("not yet in force"),
        Status::Repealed => Some("repealed"),
    }
}

/// When a zone that is law begins or ends to be, by its file; none where it says neither.
#[must_use]
pub fn effect_sentence(zone: &Zone) -> Option<String> {
    let told = |instant: Timestamp| {
        instant.to_zoned_datetime(zone.time_zone.clone()).strftime("%Y-%m-%d %H:%M").to_string()
    };
    match (zone.effective.from.map(told), zone.effective.until.map(told)) {
        (None, None) => None,
        (Some(from), None) => Some(format!("It has effect from {from}.")),
        (None, Some(until)) => Some(format!("It has effect until {until}.")),
        (Some(from), Some(until)) => Some(format!("It has effect from {from} until {until}.")),
    }
}

/// How often the line was left open along a shore, and along a side that nobody has supplied.
fn left_open(kept: &StandOff) -> (usize, usize) {
    let count = |is: SideKind| kept.left_out.iter().filter(|left| left.along == is).count();
    (count(SideKind::Shore), count(SideKind::Unresolved))
}

/// Where the line was left open.
#[must_use]
pub fn left_open_sentence(kept: &StandOff) -> String {
    let (shores, unresolved) = left_open(kept);
    let times = |count: usize| if count == 1 { "once".to_owned() } else { format!("{count} times") };
    match (shores, unresolved) {
        (0, 0) => "Left open: nothing.".to_owned(),
        (shores, 0) => format!("Left open: {} along a shore.", times(shores)),
        (0, sides) => format!("Left open: {} along a side that nobody has supplied.", times(sides)),
        (shores, sides) => format!(
            "Left open: {} along a shore, {} along a side that nobody has supplied.",
            times(shores),
            times(sides)
        ),
    }
}
