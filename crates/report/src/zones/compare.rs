//! The document of two editions compared.

use serde::{Serialize, Serializer};
use takeline::Position;
use takeline::zone::{Extent, Zone, ZoneFile};
use takeline_drafting::editions::{
    Comparison, Division, Effect, ExtentChange, FileChange, LineChange, Told, VertexAt, ZoneChange, ZoneWater,
};

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
    /// How the line changed.
    pub line: Vec<String>,
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
            no_longer_closed_m2: water.map(|water| water.no_longer_closed_m2),
            newly_in_a_zone_m2: water.map(|water| water.newly_in_a_zone_m2),
            no_longer_in_a_zone_m2: water.map(|water| water.no_longer_in_a_zone_m2),
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
            None => "CLOSED NOW, open before: not measured".to_owned(),
            Some(m2) if m2 < 1.0 => "CLOSED NOW, open before: no water".to_owned(),
            Some(m2) => format!("CLOSED NOW, open before: {}", self.words.area(m2)),
        };
        let [stricter, undecided, looser] =
            [Effect::Stricter, Effect::Undecided, Effect::Looser].map(|effect| self.told(effect).len());
        [
            format!("CHANGED: {}; {added} new, {removed} gone", zones(changed)),
            closed,
            format!("STRICTER {stricter}, undecided {undecided}, looser {looser}"),
        ]
    }

    /// Whether a zone came or went because others were split or joined.
    fn how_divided(&self, zone_id: &str) -> &'static str {
        let names = |one: &DividedDocument| one.from.iter().chain(&one.into).any(|id| id == zone_id);
        if self.split.iter().any(names) {
            " (a zone was split, see below)"
        } else if self.joined.iter().any(names) {
            " (zones were joined, see below)"
        } else {
            ""
        }
    }

    /// All that has an effect, each with the name of its zone or file in front.
    pub(super) fn told(&self, effect: Effect) -> Vec<(String, String)> {
        let mut told: Vec<(String, String)> = Vec::new();
        for (zones, what) in [(&self.added, "new zone"), (&self.removed, "the zone is gone")] {
            let with = zones.iter().filter(|zone| zone.effect == effect);
            told.extend(with.map(|zone| {
                let how = self.how_divided(&zone.zone_id);
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

/// What it does that water is now in a zone.
fn entering(zone: &Zone) -> Effect {
    match ZoneWater::of(zone) {
        // where it sets another rule aside, it may loosen
        ZoneWater::Closed | ZoneWater::Limited if zone.overrides.is_empty() => Effect::Stricter,
        ZoneWater::Closed | ZoneWater::Limited => Effect::Undecided,
        ZoneWater::Unrestricted | ZoneWater::NoLaw => Effect::Reference,
    }
}

/// What it does that water is no longer in a zone.
fn leaving(zone: &Zone) -> Effect {
    let effect = entering(zone);
    if effect == Effect::Stricter { Effect::Looser } else { effect }
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
            effect: if is_new { entering(zone) } else { leaving(zone) },
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
        let (texts, line_effects) = line_said(words, zone).into_iter().unzip();
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
            line: texts,
            line_effects,
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

fn extent_code(extent: &ExtentChange) -> &'static str {
    match extent {
        ExtentChange::Same => "same",
        ExtentChange::Line(_) => "line",
        ExtentChange::BecameKnown => "became-known",
        ExtentChange::BecameUnknown => "became-unknown",
        ExtentChange::StillUnknown | _ => "still-unknown",
    }
}

/// How the line changed and what that does: water first.
fn line_said(words: &dyn Words, zone: &ZoneChange<'_>) -> Vec<(String, Effect)> {
    let line = match &zone.extent {
        ExtentChange::Same => return Vec::new(),
        ExtentChange::Line(line) => line,
        ExtentChange::BecameKnown => {
            return vec![("the line, not known before, is given now".into(), Effect::Undecided)];
        }
        ExtentChange::BecameUnknown => {
            return vec![("where the zone lies was known, and is not any more".into(), Effect::Undecided)];
        }
        ExtentChange::StillUnknown | _ => {
            return vec![(
                "where the zone lies is not known; what is said of it changed".into(),
                Effect::Undecided,
            )];
        }
    };
    let mut said = Vec::new();
    let reading = if line.is_one_reading { ", sides that nobody states read as geodesics" } else { "" };
    match (&line.same_to, &line.water) {
        (Some(to), _) => {
            let to = said::metres(to.metres());
            said.push((
                format!("the line is the same to {to}, as closely as it is printed"),
                Effect::Reference,
            ));
        }
        (None, None) => {
            said.push((
                "the line changed; the water gained and lost could not be measured".into(),
                Effect::Undecided,
            ));
        }
        (None, Some(water)) => {
            let area = |m2: f64| words.area(m2);
            if water.gained_m2 >= 1.0 {
                let text = format!("{} of water is new in the zone{reading}", area(water.gained_m2));
                said.push((text, entering(zone.new)));
            }
            if water.lost_m2 >= 1.0 {
                let text = format!("{} of water is no longer in the zone{reading}", area(water.lost_m2));
                said.push((text, leaving(zone.old)));
            }
        }
    }
    // how it is stated may move where the line is taken to be
    let restated = |text: &String| text.starts_with("side from");
    said.extend(said::line(line).into_iter().map(|text| {
        let effect = if restated(&text) { Effect::Undecided } else { Effect::Reference };
        (text, effect)
    }));
    said
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
