//! A zone file read back as text, for one who reads and one who holds the law.

use takeline::SideKind;

use super::document::{
    ArcDocument, ShowDocument, ShownCircleDocument, ShownSideDocument, ShownVertexDocument, ShownZoneDocument,
};
use crate::lines::Page;
use crate::survey_figures::{Notation, Printed, areas, bearing, lengths};
use crate::words::{FieldPhrase, Spoken};

/// The file as text, its positions in this notation; none: as the law prints them, where the file keeps that, or else in degrees
/// and decimal minutes.
#[must_use]
pub fn show_text(document: &ShowDocument<'_>, notation: Option<Notation>, width: usize) -> String {
    let file = &document.zone_file;
    let mut page = Page::new(width);
    page.paragraph("", &format!("TO BE READ AGAINST THE LAW: {}", file.title.unwrap_or(file.path)));
    for (label, text) in file_facts(document) {
        page.field(label, &text);
    }
    page.fields("warning", &file.warnings);
    for zone in &document.zones {
        page.heading(&format!("{} ({})", zone.name, zone.id));
        of_zone(&mut page, zone, (notation, document.words));
    }
    page.heading("BEAR IN MIND");
    for caution in document.words.cautions() {
        page.paragraph("  ", caution);
    }
    page.finish()
}

/// The label of the digest of a file.
pub(super) const DIGEST: &str = "SHA-256";

/// What holds for the whole file, as labels and texts.
pub(super) fn file_facts(document: &ShowDocument<'_>) -> Vec<(&'static str, String)> {
    let file = &document.zone_file;
    let shown = document.zones.len();
    let zones = if shown == file.zone_count {
        shown.to_string()
    } else {
        format!("{shown} of the {} in the file", file.zone_count)
    };
    let optional = [
        ("edition", file.edition.map(str::to_owned)),
        ("issued", file.issued.map(|day| document.words.date(day))),
        ("valid until", file.valid_until.map(crate::track::times::utc_spaced)),
        ("publisher", file.publisher.map(str::to_owned)),
        ("licence", file.licence.map(str::to_owned)),
    ];
    let mut facts = vec![("file", file.path.to_owned())];
    facts.extend(optional.into_iter().filter_map(|(label, text)| Some((label, text?))));
    facts.push((DIGEST, file.sha256.to_owned()));
    facts.push(("zones", zones));
    facts
}

fn of_zone(page: &mut Page, zone: &ShownZoneDocument<'_>, (notation, words): (Option<Notation>, Spoken<'_>)) {
    let written = Written::of(zone, notation);
    for (label, text) in facts(zone, written.printed) {
        page.field(label, &text);
    }
    for circle in &zone.circles {
        page.field("circle", &circle_words(circle, written.printed));
    }
    let mut ring = None;
    for corner in &zone.vertices {
        let own = (corner.part, corner.ring);
        if ring != Some(own) && zone.rings.len() > 1 {
            page.paragraph("  ", &ring_name(zone, own));
        }
        ring = Some(own);
        page.paragraph("  ", &format!("{}  {}", corner.name, written.position(corner)));
        page.paragraph("     ", &side_words(&corner.to_next, written.printed));
    }
    for (label, texts) in rule_parts(zone, words) {
        page.fields(label, &texts);
    }
}

/// How positions of a zone are written.
pub(super) struct Written {
    pub(super) printed: Printed,
    as_published: bool,
}

impl Written {
    pub(super) fn of(zone: &ShownZoneDocument<'_>, notation: Option<Notation>) -> Self {
        let printed = notation.unwrap_or(Notation::DecimalMinutes).for_all(&zone.positions());
        Self { printed, as_published: notation.is_none() }
    }

    /// The position of a corner, as the law prints it where nothing else was asked for and the file keeps it.
    pub(super) fn position(&self, corner: &ShownVertexDocument) -> String {
        match &corner.as_published {
            Some(text) if self.as_published => text.clone(),
            Some(_) | None => self.printed.position(corner.position).join(" "),
        }
    }
}

/// Of several rings, which one.
pub(super) fn ring_name(zone: &ShownZoneDocument<'_>, (part, ring): (usize, usize)) -> String {
    let place = zone.rings.iter().position(|found| (found.part, found.ring) == (part, ring));
    let number = place.unwrap_or_default() + 1;
    let figures = place.and_then(|place| zone.rings.get(place)).map_or_else(String::new, |found| {
        let ([area, ..], [perimeter, _]) = (areas(found.area_m2), lengths(found.perimeter_m));
        format!(": {} corners, {area} by itself, {perimeter} round", found.corners)
    });
    let what = if ring == 1 { format!("outer ring of part {part}") } else { format!("hole in part {part}") };
    format!("ring {number}, {what}{figures}")
}

/// Said of figures in which a chord stands for the shore.
const CHORDS: &str =
    ", with a chord in place of the shore that nobody has supplied: not the figure of the law";

/// What the whole zone measures, as labels and texts.
pub(super) fn facts(zone: &ShownZoneDocument<'_>, printed: Printed) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    if let Some(reason) = zone.line_unknown_because {
        facts.push(("boundary", format!("not known: {reason}")));
    }
    let chords = if zone.chord_sides > 0 { CHORDS } else { "" };
    if let Some(area_m2) = zone.area_m2 {
        facts.push(("area", format!("{}{chords}", areas(area_m2).join(" = "))));
    }
    if let Some(perimeter_m) = zone.perimeter_m {
        facts.push(("perimeter", format!("{}{chords}", lengths(perimeter_m).join(" = "))));
    }
    if let Some(corners) = zone.extent.and_then(|extent| {
        let at = |lat, lon| takeline::Position::from_degrees(lat, lon).ok();
        Some([at(extent.south_deg, extent.west_deg)?, at(extent.north_deg, extent.east_deg)?])
    }) {
        let [[south, west], [north, east]] = corners.map(|corner| printed.position(corner));
        facts.push(("extent", format!("{south} to {north}, {west} to {east}")));
    }
    if !zone.rings.is_empty() {
        let listed = if zone.outline_corners == zone.corners {
            String::new()
        } else {
            format!(" ({} are listed, some of them only where the parts meet)", zone.corners)
        };
        facts.push(("corners", format!("{}{listed}", zone.outline_corners)));
    }
    facts.push(("datum", zone.datum.clone().unwrap_or_else(|| "not stated".to_owned())));
    let line = if zone.line_belongs_to_zone { "belongs to the zone" } else { "does not belong to the zone" };
    facts.push(("on the line", format!("the line {line}")));
    if zone.line_uncertainty_m > 0.0 {
        facts.push(("line may be off", format!("{} m, 95 %", zone.line_uncertainty_m)));
    }
    facts
}

pub(super) fn circle_words(circle: &ShownCircleDocument, printed: Printed) -> String {
    let ([area, ..], radius) = (areas(circle.area_m2), lengths(circle.radius_m).join(" = "));
    format!("about {}, radius {radius}, {area}", printed.position(circle.centre).join(" "))
}

/// A side in words: how long, which way, how it runs, what it is.
pub(super) fn side_words(side: &ShownSideDocument, printed: Printed) -> String {
    let parts = [Some(lengths(side.length_m).join(" = ")), Some(bearings(side)), Some(runs(side, printed))];
    let parts = parts.into_iter().chain([what(side)]).flatten();
    format!("then {}", parts.collect::<Vec<_>>().join(", "))
}

/// The bearing of a side; both where it does not arrive as it leaves.
pub(super) fn bearings(side: &ShownSideDocument) -> String {
    let (leaves, arrives) = (bearing(side.bearing_true_deg), bearing(side.arrives_true_deg));
    if leaves == arrives { format!("{leaves} true") } else { format!("{leaves} true, arriving on {arrives}") }
}

/// How a side runs.
pub(super) fn runs(side: &ShownSideDocument, printed: Printed) -> String {
    match (&side.arc, side.runs) {
        (Some(ArcDocument { centre, radius_m, turn }), _) => format!(
            "{turn} along a circle of {} about {}",
            lengths(*radius_m).join(" = "),
            printed.position(*centre).join(" ")
        ),
        (None, "geodesic") => "the shortest line (geodesic)".to_owned(),
        (None, "rhumb") => "on one bearing (rhumb line)".to_owned(),
        (None, "lonlat") => "straight in longitude and latitude".to_owned(),
        (None, _) if side.side == SideKind::Unresolved => "as the shore does".to_owned(),
        (None, _) => {
            let apart = lengths(side.readings_apart_m)[0].clone();
            format!("not stated how it runs: readings up to {apart} apart")
        }
    }
}

/// What a side is, where it is no open water.
pub(super) fn what(side: &ShownSideDocument) -> Option<String> {
    let kind = match side.side {
        SideKind::Open => None,
        SideKind::Shore => Some("the shore"),
        SideKind::Mouth => Some("across a mouth"),
        SideKind::Unresolved => {
            Some("along a coast that nobody has supplied, so length and bearing are of the chord")
        }
    };
    let level = side.level.as_ref().map(|level| format!(" at {level}")).unwrap_or_default();
    let off = side.uncertainty_m.map(|off_m| format!(" (may be {off_m} m off)")).unwrap_or_default();
    match kind {
        None if level.is_empty() && off.is_empty() => None,
        None => Some(format!("open water{level}{off}")),
        Some(kind) => Some(format!("{kind}{level}{off}")),
    }
}

/// Rule, times, names and source, as labels with one text or more.
pub(super) fn rule_parts(
    zone: &ShownZoneDocument<'_>,
    words: Spoken<'_>,
) -> Vec<(&'static str, Vec<String>)> {
    let source = &zone.source;
    let law = [Some(source.instrument), source.clause].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let read = source.retrieved.map(|day| words.date(day));
    let proofread = zone.proofread.map(|record| words.field(&FieldPhrase::Proofread(record)));
    let names = if zone.names.is_empty() { Vec::new() } else { vec![zone.names.join(", ")] };
    let single = |text: Option<&str>| text.map(str::to_owned).into_iter().collect::<Vec<_>>();
    let parts = vec![
        ("rule", zone.rule_lines.clone()),
        ("when", vec![format!("{} (by the clock of {})", zone.season, zone.time_zone)]),
        ("status", vec![zone.status.clone()]),
        ("names of its fish", names),
        ("law", vec![law]),
        ("its words", single(source.quoted_text)),
        ("law read", read.into_iter().collect()),
        ("read at", single(source.url)),
        ("licence", single(source.licence)),
        ("proofread", vec![proofread.unwrap_or_else(|| "not yet".to_owned())]),
        ("not in the file", zone.does_not_say.clone()),
    ];
    parts.into_iter().filter(|(_, texts)| !texts.is_empty()).collect()
}
