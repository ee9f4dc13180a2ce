//! The JSON of `zones show`. Keys are a contract: add, never rename. `docs/json-output.md` describes each of them.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::Serialize;
use takeline::rule::{Take, TaxonSet};
use takeline::zone::{Extent, Proofread, PublishedVertex, Zone};
use takeline::zone_file::LoadedFile;
use takeline::{ArcSense, EdgeModel, GeodesicSegment, Position, SideKind, Tristate};
use takeline_drafting::survey::{GeoBox, PartSurvey, RingSurvey, SideSurvey, ZoneSurvey};

use super::sentences;
use crate::words::{Spoken, Words};

/// A zone file read back, schema `takeline.zones-show/1`.
#[derive(Debug, Serialize)]
pub struct ShowDocument<'a> {
    /// Names the form.
    pub schema: &'static str,
    /// The file.
    pub zone_file: ShownFileDocument<'a>,
    /// Its zones, or those that were asked for, in the order of the file.
    pub zones: Vec<ShownZoneDocument<'a>>,
    /// The words that texts and pages are in.
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
}

/// The file.
#[derive(Debug, Serialize)]
pub struct ShownFileDocument<'a> {
    /// The path as given.
    pub path: &'a str,
    /// SHA-256 of its bytes.
    pub sha256: &'a str,
    /// Its title.
    pub title: Option<&'a str>,
    /// Its edition.
    pub edition: Option<&'a str>,
    /// The day it was issued.
    pub issued: Option<Date>,
    /// The instant from which its makers no longer vouch for it.
    pub valid_until: Option<Timestamp>,
    /// Who publishes it.
    pub publisher: Option<&'a str>,
    /// Its licence.
    pub licence: Option<&'a str>,
    /// How many zones it holds, shown or not.
    pub zone_count: usize,
    /// What is odd about it.
    pub warnings: Vec<String>,
    /// The codes of the warnings, in step with them.
    pub warning_codes: Vec<&'static str>,
}

/// One zone.
#[derive(Debug, Serialize)]
pub struct ShownZoneDocument<'a> {
    /// Its identifier.
    pub id: &'a str,
    /// Its name.
    pub name: &'a str,
    /// Its area, what parts share counted once; null where its line is not known.
    pub area_m2: Option<f64>,
    /// The length of its outline: what its parts share is left out.
    pub perimeter_m: Option<f64>,
    /// The box that holds its line.
    pub extent: Option<BoxDocument>,
    /// How many corners its rings have together.
    pub corners: usize,
    /// How many corners its outline has, without those of a cut along 180° or between its parts.
    pub outline_corners: usize,
    /// How many sides follow a shore that nobody has supplied: of these only the chord is measured, here and in every area.
    pub chord_sides: usize,
    /// Why its line is not known, or null.
    pub line_unknown_because: Option<&'a str>,
    /// Its rings.
    pub rings: Vec<ShownRingDocument>,
    /// Its circles.
    pub circles: Vec<ShownCircleDocument>,
    /// The corners of all rings, each with the side that leaves it.
    pub vertices: Vec<ShownVertexDocument>,
    /// What may be taken, in one sentence.
    pub rule: String,
    /// The whole rule, in sentences.
    pub rule_lines: Vec<String>,
    /// What each sentence is about, in step with them: `take`, `permit`, `limit`, `to-cross`, `aboard`, `condition`,
    /// `sets-aside` or `may-change`.
    pub rule_line_codes: Vec<&'static str>,
    /// When it is in force.
    pub season: String,
    /// Names of the fish that its rule speaks of, as one may ask for them.
    pub names: Vec<String>,
    /// Whether it is law, and since when.
    pub status: String,
    /// The datum of its coordinates, or null.
    pub datum: Option<String>,
    /// The time zone of its dates and hours.
    pub time_zone: String,
    /// Whether somebody on the line counts as inside.
    pub line_belongs_to_zone: bool,
    /// 95 % uncertainty of the line itself.
    pub line_uncertainty_m: f64,
    /// The law.
    pub source: ShownSourceDocument<'a>,
    /// Who read it against the printed law, or null.
    pub proofread: Option<&'a Proofread>,
    /// What the file leaves open.
    pub does_not_say: Vec<String>,
    /// The codes of that, in step with it.
    pub does_not_say_codes: Vec<&'static str>,
    #[serde(skip)]
    pub(super) zone: &'a Zone,
}

/// A box in latitude and longitude; across 180° the west is the greater number.
#[derive(Debug, Clone, Copy, Serialize)]
#[expect(missing_docs, reason = "each is named as it reads")]
pub struct BoxDocument {
    pub south_deg: f64,
    pub west_deg: f64,
    pub north_deg: f64,
    pub east_deg: f64,
}

/// A ring.
#[derive(Debug, Clone, Serialize)]
pub struct ShownRingDocument {
    /// Its part, counted from 1.
    pub part: usize,
    /// Its place in the part, counted from 1; the first is the outer one.
    pub ring: usize,
    /// Whether it is cut out.
    pub is_hole: bool,
    /// How many corners it has.
    pub corners: usize,
    /// What it encloses by itself.
    pub area_m2: f64,
    /// Its length.
    pub perimeter_m: f64,
}

/// A whole circle.
#[derive(Debug, Clone, Serialize)]
pub struct ShownCircleDocument {
    /// Its part, counted from 1.
    pub part: usize,
    /// Its centre.
    #[serde(flatten)]
    pub centre: Position,
    /// What the law calls it, or null.
    pub point: Option<String>,
    /// The centre as the law prints it, or null.
    pub as_published: Option<String>,
    /// Its radius.
    pub radius_m: f64,
    /// What it encloses.
    pub area_m2: f64,
}

/// A corner, and the side that leaves it.
#[derive(Debug, Clone, Serialize)]
pub struct ShownVertexDocument {
    /// Its part, counted from 1.
    pub part: usize,
    /// Its ring in the part, counted from 1.
    pub ring: usize,
    /// Its place in the ring, counted from 1.
    pub vertex: usize,
    /// What the law calls it, or null.
    pub point: Option<String>,
    /// Where it is.
    #[serde(flatten)]
    pub position: Position,
    /// The position as the law prints it, or null.
    pub as_published: Option<String>,
    /// The side to the next corner.
    pub to_next: ShownSideDocument,
    /// What people call it here: as the law does, or by its number, behind that of its ring where there are several.
    #[serde(skip)]
    pub(super) name: String,
}

/// A side.
#[derive(Debug, Clone, Serialize)]
pub struct ShownSideDocument {
    /// Its length; of an unstated one, that of the geodesic.
    pub length_m: f64,
    /// The true bearing in which it leaves.
    pub bearing_true_deg: f64,
    /// The true bearing in which it arrives.
    pub arrives_true_deg: f64,
    /// `geodesic`, `rhumb`, `lonlat`, `arc` or `unstated`.
    pub runs: &'static str,
    /// The arc, or null.
    pub arc: Option<ArcDocument>,
    /// How far its readings are apart at most; 0 where the file says how it runs.
    pub readings_apart_m: f64,
    /// `open`, `shore`, `mouth` or `unresolved`.
    pub side: SideKind,
    /// Where the law has the shore, or null.
    pub level: Option<String>,
    /// How far the true line may be off where this side is drawn, or null.
    pub uncertainty_m: Option<f64>,
}

/// Part of a circle.
#[derive(Debug, Clone, Serialize)]
pub struct ArcDocument {
    /// Its centre.
    #[serde(flatten)]
    pub centre: Position,
    /// Its radius as printed.
    pub radius_m: f64,
    /// `clockwise` or `counterclockwise`.
    pub turn: &'static str,
}

/// Where a rule comes from.
#[derive(Debug, Clone, Serialize)]
pub struct ShownSourceDocument<'a> {
    /// The law, order or notice.
    pub instrument: &'a str,
    /// The clause in it.
    pub clause: Option<&'a str>,
    /// The words of the law.
    pub quoted_text: Option<&'a str>,
    /// The day it was read.
    pub retrieved: Option<Date>,
    /// Where it was read.
    pub url: Option<&'a str>,
    /// The licence of the text or data.
    pub licence: Option<&'a str>,
}

impl<'a> ShowDocument<'a> {
    /// Reads a file back: the zones with these ids, or all where there are none.
    #[must_use]
    pub fn of(loaded: &'a LoadedFile, ids: &[String], words: &'a dyn Words) -> Self {
        let words = Spoken(words);
        let file = &*loaded.file;
        let zone_file = ShownFileDocument {
            path: &file.path,
            sha256: &file.sha256,
            title: file.title.as_deref(),
            edition: file.edition.as_deref(),
            issued: loaded.issued,
            valid_until: file.valid_until,
            publisher: loaded.publisher.as_deref(),
            licence: file.licence.as_deref(),
            zone_count: loaded.zones.len(),
            warnings: loaded.warnings.iter().map(ToString::to_string).collect(),
            warning_codes: loaded.warnings.iter().map(|warning| warning.kind.code()).collect(),
        };
        let asked = |zone: &&Zone| ids.is_empty() || ids.contains(&zone.id.0);
        let zones = loaded.zones.iter().filter(asked).map(|zone| ShownZoneDocument::of(zone, words));
        Self { schema: "takeline.zones-show/1", zone_file, zones: zones.collect(), words }
    }
}

impl<'a> ShownZoneDocument<'a> {
    fn of(zone: &'a Zone, words: Spoken<'_>) -> Self {
        // a zone that was read from a file has no ring that is no boundary
        let survey = ZoneSurvey::of(zone).ok().flatten();
        let (rings, mut circles, mut vertices) = survey.as_ref().map_or_else(Default::default, measured);
        for published in &zone.as_published {
            say_as_published(published, &mut vertices, &mut circles);
        }
        let source = &zone.source;
        let (rule_line_codes, rule_lines) = sentences::rule(zone, words).into_iter().unzip();
        let mut shown = Self {
            id: &zone.id.0,
            name: &zone.name,
            area_m2: survey.as_ref().map(|survey| survey.area_m2),
            perimeter_m: survey.as_ref().map(|survey| survey.perimeter.metres()),
            extent: survey.as_ref().map(|survey| survey.extent.into()),
            corners: vertices.len(),
            outline_corners: survey.as_ref().map_or(0, ZoneSurvey::corners),
            chord_sides: survey.as_ref().map_or(0, ZoneSurvey::chords),
            line_unknown_because: match &zone.extent {
                Extent::Known(_) => None,
                Extent::Unknown { reason, .. } => Some(reason),
            },
            rings,
            circles,
            vertices,
            rule: sentences::take(zone, words),
            rule_lines,
            rule_line_codes,
            season: words.when(&zone.when),
            names: names(zone),
            status: sentences::status(zone, words),
            datum: sentences::datum(&zone.datum),
            time_zone: zone.time_zone.iana_name().unwrap_or("UTC").to_owned(),
            line_belongs_to_zone: zone.line_belongs == takeline::zone::LineBelongs::ToZone,
            line_uncertainty_m: zone.line_uncertainty.metres(),
            source: ShownSourceDocument {
                instrument: &source.instrument,
                clause: source.clause.as_deref(),
                quoted_text: source.quoted_text.as_deref(),
                retrieved: source.retrieved,
                url: source.url.as_deref(),
                licence: source.licence.as_deref(),
            },
            proofread: zone.proofread.as_ref(),
            does_not_say: Vec::new(),
            does_not_say_codes: Vec::new(),
            zone,
        };
        (shown.does_not_say_codes, shown.does_not_say) =
            sentences::does_not_say(&shown, words).into_iter().unzip();
        shown
    }

    /// The positions that are printed of it.
    pub(super) fn positions(&self) -> impl Iterator<Item = &Position> + Clone {
        let corners = self.vertices.iter().map(|corner| &corner.position);
        corners.chain(self.circles.iter().map(|circle| &circle.centre))
    }
}

/// Puts the text of a point beside the corner that it gives; nowhere, where no corner is there.
fn say_as_published(
    published: &PublishedVertex,
    corners: &mut [ShownVertexDocument],
    circles: &mut [ShownCircleDocument],
) {
    if let Some(circle) = circles.iter_mut().find(|circle| circle.part == published.part) {
        (circle.point, circle.as_published) = (published.point.clone(), Some(published.text.clone()));
        return;
    }
    let fits = |corner: &ShownVertexDocument| {
        let is_free =
            (corner.part, corner.ring) == (published.part, published.ring) && corner.as_published.is_none();
        let printed_m = published.precision.north_south().metres() + published.precision.east_west().metres();
        let apart = || GeodesicSegment::between(corner.position, published.position).length().metres();
        // of a shifted vertex only the number tells
        is_free
            && if published.datum.is_some() {
                corner.vertex == published.vertex
            } else {
                apart() <= printed_m + 1.0
            }
    };
    // a vertex that the file gives twice running is one corner: the numbers after it are others
    let numbered = corners.iter().position(|corner| corner.vertex == published.vertex && fits(corner));
    let Some(at) = numbered.or_else(|| corners.iter().position(fits)) else { return };
    let corner = &mut corners[at];
    corner.as_published = Some(published.text.clone());
    if let Some(point) = &published.point {
        corner.point = Some(point.clone());
        corner.name.clone_from(point);
    }
}

type Measured = (Vec<ShownRingDocument>, Vec<ShownCircleDocument>, Vec<ShownVertexDocument>);

fn measured(survey: &ZoneSurvey) -> Measured {
    let (mut rings, mut circles, mut vertices) = Measured::default();
    for (part, survey) in (1..).zip(&survey.parts) {
        match survey {
            PartSurvey::Circle { centre, radius, area_m2 } => circles.push(ShownCircleDocument {
                part,
                centre: *centre,
                point: None,
                as_published: None,
                radius_m: radius.metres(),
                area_m2: *area_m2,
            }),
            PartSurvey::Polygon { exterior, holes } => {
                for (ring, survey) in (1..).zip(std::iter::once(exterior).chain(holes)) {
                    let RingSurvey { sides, area_m2, perimeter } = survey;
                    rings.push(ShownRingDocument {
                        part,
                        ring,
                        is_hole: ring > 1,
                        corners: sides.len(),
                        area_m2: *area_m2,
                        perimeter_m: perimeter.metres(),
                    });
                    vertices
                        .extend((1..).zip(sides).map(|(vertex, side)| corner((part, ring, vertex), side)));
                }
            }
        }
    }
    name_by_ring(&rings, &mut vertices);
    (rings, circles, vertices)
}

/// Numbers that stand twice on a map would be one corner to the reader.
fn name_by_ring(rings: &[ShownRingDocument], vertices: &mut [ShownVertexDocument]) {
    if rings.len() < 2 {
        return;
    }
    for corner in vertices {
        let ring = rings.iter().position(|ring| (ring.part, ring.ring) == (corner.part, corner.ring));
        corner.name = format!("{}.{}", ring.unwrap_or_default() + 1, corner.vertex);
    }
}

fn corner((part, ring, vertex): (usize, usize, usize), side: &SideSurvey) -> ShownVertexDocument {
    let arc = match side.model {
        EdgeModel::Arc(arc) => Some(ArcDocument {
            centre: arc.centre,
            radius_m: arc.radius.metres(),
            turn: match arc.sense {
                ArcSense::Clockwise => "clockwise",
                ArcSense::Counterclockwise => "counterclockwise",
            },
        }),
        EdgeModel::Geodesic | EdgeModel::RhumbLine | EdgeModel::PlateCarree | EdgeModel::Unstated => None,
    };
    let to_next = ShownSideDocument {
        length_m: side.length.metres(),
        bearing_true_deg: side.leaves_on.degrees(),
        arrives_true_deg: side.arrives_on.degrees(),
        runs: match side.model {
            EdgeModel::Geodesic => "geodesic",
            EdgeModel::RhumbLine => "rhumb",
            EdgeModel::PlateCarree => "lonlat",
            EdgeModel::Arc(_) => "arc",
            EdgeModel::Unstated => "unstated",
        },
        arc,
        readings_apart_m: side.readings_apart.metres(),
        side: side.side.kind,
        level: side.side.level.as_deref().map(str::to_owned),
        uncertainty_m: side.side.uncertainty.map(takeline::Metres::metres),
    };
    ShownVertexDocument {
        part,
        ring,
        vertex,
        point: None,
        position: side.from,
        as_published: None,
        to_next,
        name: vertex.to_string(),
    }
}

impl From<GeoBox> for BoxDocument {
    fn from(found: GeoBox) -> Self {
        let GeoBox { south_deg, west_deg, north_deg, east_deg } = found;
        Self { south_deg, west_deg, north_deg, east_deg }
    }
}

/// All names of the fish that a rule speaks of, in the order of the file.
fn names(zone: &Zone) -> Vec<String> {
    let catalogue = &zone.file.catalogue;
    let only = match &zone.rule.take {
        Take::Only(permits) => permits.as_slice(),
        Take::Nothing | Take::AllExcept(_) | Take::Anything => &[],
    };
    let except = match &zone.rule.take {
        Take::AllExcept(set) => Some(set),
        Take::Nothing | Take::Only(_) | Take::Anything => None,
    };
    let of_permits = only.iter().chain(&zone.rule.limits).filter_map(|permit| permit.taxa.as_ref());
    let sets: Vec<&TaxonSet> = of_permits.chain(except).collect();
    let is_meant = |id| sets.iter().any(|set| catalogue.contains(set, id) == Tristate::Yes);
    let mut names = Vec::new();
    for taxon in catalogue.taxa.iter().filter(|taxon| is_meant(&taxon.id)) {
        names.extend(taxon.names.iter().map(|name| name.text.clone()));
        names.extend(taxon.scientific.clone());
        if taxon.names.is_empty() && taxon.scientific.is_none() {
            names.push(taxon.id.0.clone());
        }
    }
    names
}
