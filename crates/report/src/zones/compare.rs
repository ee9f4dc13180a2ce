//! The document of two editions compared.

use std::collections::HashSet;

use serde::{Serialize, Serializer};
use takeline::Position;
use takeline::zone::{Extent, Zone, ZoneFile};
use takeline_drafting::editions::{
    CircleChange, Comparison, Division, EdgeChange, Effect, ExtentChange, FileChange, LineChange, SideChange,
    Told, VertexAt, WholeRing, ZoneChange, ZoneWater,
};

use super::compare_line::{line_fact, runs_words, side_words};
use super::compare_words as said;
use crate::ExitStatus;
use crate::words::{Spoken, Words};

/// What differs between two editions of zones, schema `takeline.zones-compare/1`.
#[derive(Debug, Serialize)]
#[non_exhaustive]
pub struct CompareDocument<'a> {
    /// Names the form.
    pub schema: &'static str,
    /// The answer in three short lines.
    pub headline: [String; 3],
    /// The old files.
    pub old: Vec<EditionFileDocument>,
    /// The new files.
    pub new: Vec<EditionFileDocument>,
    /// Water where nothing may be taken now and something could, m²; none where it cannot be measured.
    pub newly_closed_m2: Option<f64>,
    /// Water that no zone closes any more, m².
    pub no_longer_closed_m2: Option<f64>,
    /// Water where some zone restricts something now and none did, m².
    pub newly_in_a_zone_m2: Option<f64>,
    /// Water where no zone restricts anything any more, m².
    pub no_longer_in_a_zone_m2: Option<f64>,
    /// How many zones that close water came, or changed, and lie nobody knows where; their water is in no figure.
    pub closed_somewhere: Option<usize>,
    /// Zones that only the new edition has.
    pub added: Vec<WholeZoneDocument>,
    /// Zones that only the old edition has.
    pub removed: Vec<WholeZoneDocument>,
    /// Zones that have another id or name.
    pub renamed: Vec<RenamedDocument>,
    /// Zones that were split.
    pub split: Vec<DividedDocument>,
    /// Zones that were joined.
    pub joined: Vec<DividedDocument>,
    /// Zones of both editions that differ.
    pub changed: Vec<ChangedZoneDocument>,
    /// What differs of the files themselves.
    pub files: Vec<ChangedFileDocument>,
    /// How many zones are the same.
    pub unchanged: usize,
    /// 1 where anything differs, else 0.
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) comparison: &'a Comparison<'a>,
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
}

/// A zone file of an edition.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct EditionFileDocument {
    /// Where it was read from.
    pub path: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// Its title.
    pub title: Option<String>,
    /// Its edition.
    pub edition: Option<String>,
}

/// A zone that one edition has.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WholeZoneDocument {
    /// Its identifier.
    pub zone_id: String,
    /// Its name.
    pub name: String,
    /// What it does to its water: `closed`, `limited`, `unrestricted` or `no-law`.
    pub water: &'static str,
    /// Its area, m²; none where the line is not known.
    pub area_m2: Option<f64>,
    /// Its rule in short.
    pub rule: String,
    /// What that does to somebody who fishes.
    #[serde(serialize_with = "effect_code")]
    pub effect: Effect,
}

/// A zone under another id or name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RenamedDocument {
    /// Its old identifier.
    pub old_zone_id: String,
    /// Its identifier.
    pub zone_id: String,
    /// Its old name.
    pub old_name: String,
    /// Its name.
    pub name: String,
}

/// Zones that were split or joined.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DividedDocument {
    /// Identifiers in the old edition.
    pub from: Vec<String>,
    /// Identifiers in the new edition.
    pub into: Vec<String>,
}

/// A zone that differs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangedZoneDocument {
    /// Its identifier.
    pub zone_id: String,
    /// Its name.
    pub name: String,
    /// Its identifier in the old edition.
    pub old_zone_id: String,
    /// What became of where it lies: `same`, `line`, `became-known`, `became-unknown` or `still-unknown`.
    pub extent: &'static str,
    /// Vertices that moved.
    pub moved: Vec<MovedVertexDocument>,
    /// Vertices that are new.
    pub vertices_added: Vec<VertexDocument>,
    /// Vertices that are gone.
    pub vertices_removed: Vec<VertexDocument>,
    /// The greatest distance between the two lines, m; none where there are not two.
    pub apart_m: Option<f64>,
    /// The same where it is no more than the coordinates are printed to: the line is the same to so many metres.
    pub same_to_m: Option<f64>,
    /// Water that is in the zone now and was not, m²; none where it cannot be measured.
    pub gained_m2: Option<f64>,
    /// Water that is not in the zone any more, m²; none where it cannot be measured.
    pub lost_m2: Option<f64>,
    /// Whether the water is that of one reading of edges that are not stated.
    pub one_reading: bool,
    /// Edges between the same vertices that run another way.
    pub edges: Vec<RestatedDocument>,
    /// Sides between the same vertices that are of another kind.
    pub sides: Vec<RestatedDocument>,
    /// Circles with another centre or radius.
    pub circles: Vec<ChangedCircleDocument>,
    /// Rings and circles that are new, in the numbers of the new edition.
    pub rings_added: Vec<RingDocument>,
    /// Rings and circles that are gone, in the numbers of the old one.
    pub rings_removed: Vec<RingDocument>,
    /// How the line changed.
    pub line: Vec<String>,
    /// In step with `line`: codes.
    pub line_codes: Vec<&'static str>,
    /// In step with `line`: what that does.
    #[serde(serialize_with = "effect_codes")]
    pub line_effects: Vec<Effect>,
    /// What else changed.
    pub rules: Vec<String>,
    /// In step with `rules`: codes.
    pub rules_codes: Vec<&'static str>,
    /// In step with `rules`: what that does.
    #[serde(serialize_with = "effect_codes")]
    pub rules_effects: Vec<Effect>,
}

/// A vertex that moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MovedVertexDocument {
    /// Its number in the new edition, from 1.
    pub vertex: usize,
    /// Its ring there, from 1; the first is the outer one.
    pub ring: usize,
    /// Its part there, from 1.
    pub part: usize,
    /// Its place in the old edition.
    pub old: VertexDocument,
    /// Where it is now, degrees.
    pub latitude_deg: f64,
    /// Where it is now, degrees.
    pub longitude_deg: f64,
    /// How far it moved.
    pub metres: f64,
    /// In which true bearing.
    pub bearing_true_deg: f64,
}

/// A vertex.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VertexDocument {
    /// Its number, from 1.
    pub vertex: usize,
    /// Its ring, from 1.
    pub ring: usize,
    /// Its part, from 1.
    pub part: usize,
    /// Where it is, degrees.
    pub latitude_deg: f64,
    /// Where it is, degrees.
    pub longitude_deg: f64,
}

/// An edge or a side that is stated in another way.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RestatedDocument {
    /// The vertex that it leaves, in the new edition.
    #[serde(flatten)]
    pub at: VertexDocument,
    /// What it was, in words.
    pub was: String,
    /// What it is, in words.
    pub is: String,
}

/// A circle with another centre or radius.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangedCircleDocument {
    /// How far its centre moved.
    pub metres: f64,
    /// Its radius in the old edition, m.
    pub old_radius_m: f64,
    /// Its radius, m.
    pub radius_m: f64,
    /// Its centre, degrees.
    pub latitude_deg: f64,
    /// Its centre, degrees.
    pub longitude_deg: f64,
}

/// A ring or a circle that only one edition has.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RingDocument {
    /// The part it is of, or is, from 1.
    pub part: usize,
    /// The ring, from 1; none for a circle.
    pub ring: Option<usize>,
    /// How many vertices it has; none for a circle.
    pub vertices: Option<usize>,
}

/// What differs of a file itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangedFileDocument {
    /// The old file.
    pub old_path: String,
    /// The new one.
    pub new_path: String,
    /// What changed.
    pub changes: Vec<String>,
    /// In step with `changes`: codes.
    pub changes_codes: Vec<&'static str>,
    /// In step with `changes`: what that does.
    #[serde(serialize_with = "effect_codes")]
    pub changes_effects: Vec<Effect>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde asks for")]
fn effect_code<S: Serializer>(effect: &Effect, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(effect.code())
}

fn effect_codes<S: Serializer>(effects: &[Effect], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(effects.iter().map(|effect| effect.code()))
}

impl<'a> CompareDocument<'a> {
    /// Draws up what differs, in the words of a language; `files` are all files of the old and of the new edition.
    #[must_use]
    pub fn of(comparison: &'a Comparison<'a>, files: [&[&ZoneFile]; 2], words: &'a dyn Words) -> Self {
        let [old, new] = files.map(|files| files.iter().copied().map(EditionFileDocument::of).collect());
        let water = comparison.water.as_ref();
        let whole = |zone: &&Zone, is_new| WholeZoneDocument::of(words, zone, is_new);
        let mut document = Self {
            schema: "takeline.zones-compare/1",
            headline: Default::default(),
            old,
            new,
            newly_closed_m2: water.map(|water| water.newly_closed_m2),
            no_longer_closed_m2: water.and_then(|water| water.no_longer_closed_m2),
            newly_in_a_zone_m2: water.map(|water| water.newly_in_a_zone_m2),
            no_longer_in_a_zone_m2: water.and_then(|water| water.no_longer_in_a_zone_m2),
            closed_somewhere: water.map(|water| water.unplaced),
            added: comparison.added.iter().map(|zone| whole(zone, true)).collect(),
            removed: comparison.removed.iter().map(|zone| whole(zone, false)).collect(),
            renamed: comparison.changed.iter().filter_map(renamed).collect(),
            split: comparison.divisions.iter().filter_map(split).collect(),
            joined: comparison.divisions.iter().filter_map(joined).collect(),
            changed: comparison.changed.iter().map(|zone| ChangedZoneDocument::of(words, zone)).collect(),
            files: comparison.files.iter().map(|file| ChangedFileDocument::of(words, file)).collect(),
            unchanged: comparison.unchanged,
            exit_status: if comparison.is_same() { ExitStatus::Unrestricted } else { ExitStatus::Restricted },
            comparison,
            words: Spoken(words),
        };
        document.headline = document.headline_lines();
        document
    }

    fn headline_lines(&self) -> [String; 3] {
        let zones = |count| said::counted(count, "zone", "zones");
        if self.comparison.is_same() {
            let count = zones(self.unchanged);
            return [
                "THE SAME: nothing differs".into(),
                format!("{count} compared, {count} alike"),
                "The law may have changed all the same".into(),
            ];
        }
        let (changed, added, removed) = (self.changed.len(), self.added.len(), self.removed.len());
        let closed = match self.newly_closed_m2 {
            None => "not measured".to_owned(),
            Some(m2) if m2 < 1.0 => "no water".to_owned(),
            Some(m2) => self.words.area(m2),
        };
        let closed = match self.closed_somewhere {
            None | Some(0) => format!("CLOSED NOW, open before: {closed}"),
            // short, since the first three lines are the answer on a small screen
            Some(_) => format!("CLOSED NOW: {closed} or more, see below"),
        };
        let [stricter, undecided, looser] =
            [Effect::Stricter, Effect::Undecided, Effect::Looser].map(|effect| self.told(effect).len());
        [
            format!("CHANGED: {}; {added} new, {removed} gone", zones(changed)),
            closed,
            format!("STRICTER {stricter}, undecided {undecided}, looser {looser}"),
        ]
    }

    /// All that has an effect, each with the name of its zone or file in front.
    pub(super) fn told(&self, effect: Effect) -> Vec<(String, String)> {
        let mut told: Vec<(String, String)> = Vec::new();
        let (split, joined) = (named(&self.split), named(&self.joined));
        // whether a zone came or went because others were split or joined
        let how_divided = |zone_id: &str| match (split.contains(zone_id), joined.contains(zone_id)) {
            (true, _) => " (a zone was split, see below)",
            (false, true) => " (zones were joined, see below)",
            (false, false) => "",
        };
        for (zones, what) in [(&self.added, "new zone"), (&self.removed, "the zone is gone")] {
            let with = zones.iter().filter(|zone| zone.effect == effect);
            told.extend(with.map(|zone| {
                let how = how_divided(&zone.zone_id);
                (zone.name.clone(), format!("{what}{how}: {}", zone.rule))
            }));
        }
        for zone in &self.changed {
            let line = zone.line.iter().zip(&zone.line_effects);
            let all = line.chain(zone.rules.iter().zip(&zone.rules_effects));
            let with = all.filter(|(_, own)| **own == effect);
            told.extend(with.map(|(text, _)| (zone.name.clone(), text.clone())));
        }
        for file in &self.files {
            let with = file.changes.iter().zip(&file.changes_effects).filter(|(_, own)| **own == effect);
            told.extend(with.map(|(text, _)| (file.new_path.clone(), text.clone())));
        }
        told
    }
}

/// The ids of all zones that were split or joined.
fn named(divided: &[DividedDocument]) -> HashSet<&str> {
    divided.iter().flat_map(|one| one.from.iter().chain(&one.into)).map(String::as_str).collect()
}

impl EditionFileDocument {
    fn of(file: &ZoneFile) -> Self {
        Self {
            path: file.path.clone(),
            sha256: file.sha256.clone(),
            title: file.title.clone(),
            edition: file.edition.clone(),
        }
    }
}

impl WholeZoneDocument {
    fn of(words: &dyn Words, zone: &Zone, is_new: bool) -> Self {
        let area_m2 = match &zone.extent {
            Extent::Known(boundary) => Some(boundary.area_m2()),
            Extent::Unknown { .. } => None,
        };
        Self {
            zone_id: zone.id.0.clone(),
            name: zone.name.clone(),
            water: ZoneWater::of(zone).code(),
            area_m2,
            rule: said::rule(words, zone),
            effect: if is_new { Effect::of_entering(zone) } else { Effect::of_leaving(zone) },
        }
    }
}

fn renamed(zone: &ZoneChange<'_>) -> Option<RenamedDocument> {
    let is_renamed = zone.old.id != zone.new.id || zone.old.name != zone.new.name;
    is_renamed.then(|| RenamedDocument {
        old_zone_id: zone.old.id.0.clone(),
        zone_id: zone.new.id.0.clone(),
        old_name: zone.old.name.clone(),
        name: zone.new.name.clone(),
    })
}

fn ids(zones: &[&Zone]) -> Vec<String> {
    zones.iter().map(|zone| zone.id.0.clone()).collect()
}

fn split(division: &Division<'_>) -> Option<DividedDocument> {
    let Division::Split { from, into } = division else { return None };
    Some(DividedDocument { from: ids(&[from]), into: ids(into) })
}

fn joined(division: &Division<'_>) -> Option<DividedDocument> {
    let Division::Joined { from, into } = division else { return None };
    Some(DividedDocument { from: ids(from), into: ids(&[into]) })
}

fn degrees(position: Position) -> (f64, f64) {
    (position.latitude().degrees(), position.longitude().degrees())
}

impl VertexDocument {
    fn of(at: &VertexAt) -> Self {
        let (latitude_deg, longitude_deg) = degrees(at.position);
        Self { vertex: at.vertex, ring: at.ring, part: at.part, latitude_deg, longitude_deg }
    }
}

impl ChangedZoneDocument {
    fn of(words: &dyn Words, zone: &ZoneChange<'_>) -> Self {
        let line = zone.line();
        let is_measured = matches!(zone.extent, ExtentChange::Same | ExtentChange::Line(_));
        let water = line.map(|line| line.water.as_ref().map(|water| (water.gained_m2, water.lost_m2)));
        let water = if is_measured { water.unwrap_or(Some((0.0, 0.0))) } else { None };
        let line_told = zone.line_told();
        let (rules, rules_codes, rules_effects) = told(words, &zone.changes);
        Self {
            zone_id: zone.new.id.0.clone(),
            name: zone.new.name.clone(),
            old_zone_id: zone.old.id.0.clone(),
            extent: extent_code(&zone.extent),
            moved: line.map(moved).unwrap_or_default(),
            vertices_added: line
                .map(|line| line.added.iter().map(VertexDocument::of).collect())
                .unwrap_or_default(),
            vertices_removed: line
                .map(|line| line.removed.iter().map(VertexDocument::of).collect())
                .unwrap_or_default(),
            apart_m: line.map(|line| line.apart.metres()),
            same_to_m: line.and_then(|line| line.same_to).map(takeline::Metres::metres),
            gained_m2: water.map(|water| water.0),
            lost_m2: water.map(|water| water.1),
            one_reading: line.is_some_and(|line| line.is_one_reading),
            edges: line.map(edges).unwrap_or_default(),
            sides: line.map(sides).unwrap_or_default(),
            circles: line.map(circles).unwrap_or_default(),
            rings_added: line.map(|line| rings(&line.rings_added)).unwrap_or_default(),
            rings_removed: line.map(|line| rings(&line.rings_removed)).unwrap_or_default(),
            line: line_told.iter().map(|told| line_fact(words, &told.fact)).collect(),
            line_codes: line_told.iter().map(|told| told.fact.code()).collect(),
            line_effects: line_told.iter().map(|told| told.effect).collect(),
            rules,
            rules_codes,
            rules_effects,
        }
    }
}

fn moved(line: &LineChange) -> Vec<MovedVertexDocument> {
    let one = |moved: &takeline_drafting::editions::MovedVertex| {
        let VertexDocument { vertex, ring, part, latitude_deg, longitude_deg } =
            VertexDocument::of(&moved.to);
        MovedVertexDocument {
            vertex,
            ring,
            part,
            old: VertexDocument::of(&moved.from),
            latitude_deg,
            longitude_deg,
            metres: moved.by.metres(),
            bearing_true_deg: moved.towards.degrees(),
        }
    };
    line.moved.iter().map(one).collect()
}

fn edges(line: &LineChange) -> Vec<RestatedDocument> {
    let one = |edge: &EdgeChange| RestatedDocument {
        at: VertexDocument::of(&edge.at),
        was: runs_words(&edge.runs.from),
        is: runs_words(&edge.runs.to),
    };
    line.edges.iter().map(one).collect()
}

fn sides(line: &LineChange) -> Vec<RestatedDocument> {
    let one = |side: &SideChange| RestatedDocument {
        at: VertexDocument::of(&side.at),
        was: side_words(&side.side.from),
        is: side_words(&side.side.to),
    };
    line.sides.iter().map(one).collect()
}

fn circles(line: &LineChange) -> Vec<ChangedCircleDocument> {
    let one = |circle: &CircleChange| {
        let (latitude_deg, longitude_deg) = degrees(circle.centre.to);
        ChangedCircleDocument {
            metres: circle.moved.metres(),
            old_radius_m: circle.radius.from.metres(),
            radius_m: circle.radius.to.metres(),
            latitude_deg,
            longitude_deg,
        }
    };
    line.circles.iter().map(one).collect()
}

fn rings(whole: &[WholeRing]) -> Vec<RingDocument> {
    let one = |ring: &WholeRing| RingDocument { part: ring.part, ring: ring.ring, vertices: ring.vertices };
    whole.iter().map(one).collect()
}

fn extent_code(extent: &ExtentChange) -> &'static str {
    match extent {
        ExtentChange::Same => "same",
        ExtentChange::Line(_) => "line",
        ExtentChange::BecameKnown => "became-known",
        ExtentChange::BecameUnknown => "became-unknown",
        ExtentChange::StillUnknown | _ => "still-unknown",
    }
}

fn told(words: &dyn Words, changes: &[Told]) -> (Vec<String>, Vec<&'static str>, Vec<Effect>) {
    let texts = changes.iter().map(|told| said::change(words, &told.change).text()).collect();
    let codes = changes.iter().map(|told| told.change.code()).collect();
    (texts, codes, changes.iter().map(|told| told.effect).collect())
}

impl ChangedFileDocument {
    fn of(words: &dyn Words, file: &FileChange) -> Self {
        let (changes, changes_codes, changes_effects) = told(words, &file.changes);
        let (old_path, new_path) = (file.old.path.clone(), file.new.path.clone());
        Self { old_path, new_path, changes, changes_codes, changes_effects }
    }
}
