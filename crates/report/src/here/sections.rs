//! What stands below the first lines: sections of labels and values, worked out from the document.

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use takeline::assess::{Remedy, Warning};
use takeline::rule;
use takeline::zone::{Proofread, Source, ZoneFile};
use takeline::{Containment, Metres, SideKind, TakeAnswer, Tristate, WaterStatus};

use super::headline::binds;
use super::{FileDocument, HereDocument, SourceDocument, TakeDocument, ZoneDocument};
use crate::figures;
use crate::lines::Page;
use crate::words::{FieldPhrase, Heading, Label, Spoken, WaterPhrase, Words};

/// A heading and what stands below it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Section {
    pub(super) heading: String,
    pub(super) fields: Vec<Field>,
}

/// A value, and what stands before it if anything does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Field {
    pub(super) label: Option<String>,
    pub(super) value: String,
}

/// Fields in one language, under construction.
pub(super) struct Fields<'w> {
    words: &'w dyn Words,
    list: Vec<Field>,
}

impl<'w> Fields<'w> {
    fn new(words: &'w dyn Words) -> Self {
        Self { words, list: Vec::new() }
    }

    pub(super) fn add(&mut self, label: Label, value: String) {
        self.list.push(Field { label: Some(self.words.label(label)), value });
    }

    fn each(&mut self, label: Label, values: &[String]) {
        for value in values {
            self.add(label, value.clone());
        }
    }

    fn phrase(&mut self, label: Label, phrase: &FieldPhrase<'_>) {
        self.add(label, self.words.field(phrase));
    }

    fn answer(&mut self, label: Label, answer: Tristate) {
        self.add(label, self.words.answer(answer));
    }

    fn below(self, heading: Heading<'_>) -> Section {
        Section { heading: self.words.heading(heading), fields: self.list }
    }
}

impl HereDocument<'_> {
    /// The warnings, the fix, the water, each fish, and the zones, those that bind first.
    pub(super) fn sections(&self) -> Vec<Section> {
        let mut sections = Vec::new();
        // above the rest: an edition past its date spoils everything below
        if !self.warnings.is_empty() {
            let warnings = self.warnings.iter().map(|text| Field { label: None, value: text.clone() });
            sections.push(Section {
                heading: self.words().heading(Heading::Warnings),
                fields: warnings.collect(),
            });
        }
        sections.extend([self.fix_section(), self.water_section()]);
        let mut ways = Fields::new(self.words());
        self.ways(&mut ways);
        if !ways.list.is_empty() {
            sections.push(ways.below(Heading::Ways));
        }
        sections.extend(self.take.iter().map(|fish| self.fish_section(fish)));
        let (binding, others): (Vec<_>, Vec<_>) = self.zones.iter().partition(|zone| binds(zone));
        sections.extend(binding.into_iter().chain(others).map(|zone| self.zone_section(zone)));
        sections
    }

    /// What no answer can know.
    pub(super) fn cautions_section(&self) -> Section {
        cautions_section(self.words(), &self.cautions)
    }

    fn fix_section(&self) -> Section {
        let mut fields = Fields::new(self.words());
        fields.add(Label::At, figures::position(self.position.position));
        let zero_was_given =
            self.warnings_codes.iter().any(|warning| matches!(warning, Warning::ZeroAccuracy { .. }));
        fields.phrase(
            Label::Doubt,
            &FieldPhrase::FixDoubt {
                doubt: &figures::doubt(self.units(), self.position.uncertainty_95),
                source: self.position.uncertainty_source,
                zero_was_given,
            },
        );
        match self.time {
            Some(time) => {
                let (time, zone) = self.local_time(time);
                fields.phrase(
                    Label::Time,
                    &FieldPhrase::At { time: &time, zone, by_clock: self.has_time_by_clock() },
                );
            }
            None => fields.phrase(Label::Time, &FieldPhrase::TimeUnknown),
        }
        fields.below(Heading::Fix)
    }

    /// A time in the time of the zone that the answer rests on; and that zone, where others keep another time.
    fn local_time(&self, time: Timestamp) -> (ZonedDateTime, Option<&str>) {
        let Some(zone) = self.deciding_zone() else {
            return (time.to_zoned_datetime(TimeZone::UTC), None);
        };
        let local = |zone: &ZoneDocument<'_>| time.to_zoned_datetime(zone.time_zone.clone());
        let here = local(zone);
        let differ = self.zones.iter().any(|other| local(other).offset() != here.offset());
        (here, differ.then_some(zone.name))
    }

    fn water_section(&self) -> Section {
        let mut fields = Fields::new(self.words());
        let is_open = self.zones.iter().any(|zone| zone.binds == Tristate::Yes && zone.restricts_nothing);
        if self.water != WaterStatus::Unzoned || self.water_because.is_empty() || is_open {
            let may_any_be_kept = self.may_any_be_kept();
            let water = self.words().water(&WaterPhrase::Water { water: self.water, may_any_be_kept });
            fields.add(Label::Answer, water);
        }
        fields.each(Label::Because, &self.water_because);
        fields.each(Label::ToSettle, &self.settle);
        if let Some(way) = self.settling_move {
            fields.add(Label::TheMoveEndsAt, figures::position(way.to));
        }
        if let Some(standoff) = &self.standoff {
            fields.answer(Label::StandoffKept, standoff.kept);
            fields.each(Label::Because, &standoff.because);
        }
        fields.below(Heading::Water)
    }

    fn fish_section(&self, fish: &TakeDocument<'_>) -> Section {
        let mut fields = Fields::new(self.words());
        fields.add(Label::Answer, self.words().take_answer(fish.answer));
        fields.each(Label::Because, &fish.because);
        // limits of a fish that nobody has settled on would be those of another
        let is_name_settled = !fish.settle_codes.iter().any(is_about_the_name);
        if is_name_settled || fish.answer == TakeAnswer::Keep {
            fields.each(Label::Condition, &fish.conditions);
        }
        fields.each(Label::ToSettle, &fish.settle);
        if let Some(way) = fish.way_to_keep {
            fields.add(Label::WayToKeep, self.way_to_keep_words(way));
        }
        if fish.answer != TakeAnswer::Unzoned {
            // a yes never stands without its conditions
            let shows_conditions = is_name_settled || fish.possession == Tristate::Yes;
            let has_conditions = shows_conditions && !fish.possession_conditions.is_empty();
            fields.phrase(Label::CaughtElsewhere, &FieldPhrase::OnBoard(fish.possession, has_conditions));
            // "if:" is followed by what it announces
            if shows_conditions {
                fields.each(Label::Condition, &fish.possession_conditions);
            }
            fields.each(Label::Because, &fish.possession_because);
        }
        fields.below(Heading::Fish(fish.asked))
    }

    fn zone_section(&self, zone: &ZoneDocument<'_>) -> Section {
        let mut fields = Fields::new(self.words());
        self.side(zone, &mut fields);
        if zone.signed_distance.is_some() {
            self.doubt(zone, &mut fields);
        }
        fields.each(Label::Assumed, &zone.assumed);
        fields.answer(Label::InForce, zone.in_force);
        fields.each(Label::Because, &zone.in_force_because);
        fields.add(Label::Rule, zone.take_rule.clone());
        fields.each(Label::Also, zone.conditions);
        fields.each(Label::ToCross, &zone.passage);
        fields.each(Label::But, &zone.displaced_by);
        fields.each(Label::But, &zone.perhaps_displaced_by);
        law(&zone.source, &zone.zone_file, zone.proofread, &mut fields);
        fields.below(Heading::Zone(zone.name))
    }

    fn side(&self, zone: &ZoneDocument<'_>, fields: &mut Fields<'_>) {
        let side = zone.containment;
        let figures = zone
            .signed_distance
            .map(|length| figures::distance_with_doubt(self.units(), length, zone.uncertainty_95));
        let value = match (side, figures.as_deref()) {
            (_, None) => self.words().field(&FieldPhrase::SideLineUnknown(side)),
            (_, Some(figures)) if zone.on_the_line => {
                self.words().field(&FieldPhrase::SideOnTheLine(side, figures))
            }
            (Containment::Undecided, Some(figures)) => {
                self.words().field(&FieldPhrase::SideLineAway(side, figures))
            }
            (Containment::Inside | Containment::Outside, Some(figures)) => {
                self.words().water(&WaterPhrase::SideBy(side, figures))
            }
        };
        fields.add(Label::Side, value);
        if let Some(probability) = zone.inside_probability {
            fields.phrase(Label::ChanceOfBeingInside, &FieldPhrase::Percent(probability));
        }
        if let Some(nearest) = zone.nearest {
            let position = figures::position(nearest.position);
            fields.phrase(Label::NearestBoundary, &FieldPhrase::NearestBoundary(nearest.bearing, &position));
        }
        let side = zone.nearest_side.filter(|side| side.kind != SideKind::Open);
        if let Some(side) = side {
            fields.phrase(Label::Shore, &FieldPhrase::SideThere(side.kind, side.level.as_deref()));
        }
        if let Some(crossable) = zone.crossable.filter(|_| side.is_some_and(|side| !side.kind.is_crossable()))
        {
            let away = Metres::new(crossable.signed_distance.metres().abs()).unwrap_or_default();
            let figures = figures::distance(self.units(), away, zone.uncertainty_95);
            let position = figures::position(crossable.position);
            let there = self.words().field(&FieldPhrase::NearestBoundary(crossable.bearing, &position));
            fields.add(Label::NearestToCross, format!("{figures}, {there}"));
        }
    }

    fn doubt(&self, zone: &ZoneDocument<'_>, fields: &mut Fields<'_>) {
        /// Whole metres are shown, so a smaller share of the doubt is not worth a word.
        const LEAST_SHOWN_M: f64 = 0.5;
        let fix = self.position.uncertainty_95;
        let gap_m = zone.reading_gap.map_or(0.0, Metres::metres);
        let rest_m = zone.uncertainty_95.metres() - gap_m / 2.0 - fix.metres();
        let is_gap_shown = gap_m >= LEAST_SHOWN_M || zone.readings_differ_about_side;
        let gap = zone.reading_gap.filter(|_| is_gap_shown);
        let gap = gap.map(|gap| figures::distance(self.units(), gap, zone.uncertainty_95));
        fields.phrase(
            Label::Doubt,
            &FieldPhrase::Doubt {
                whole: &figures::doubt(self.units(), zone.uncertainty_95),
                fix: &figures::doubt_of(self.units(), zone.uncertainty_95, fix),
                has_line: rest_m > LEAST_SHOWN_M,
                reading_gap: gap.as_deref().map(|gap| (gap, zone.readings_differ_about_side)),
            },
        );
    }
}

/// Whether a remedy is to name the fish by a name that is known.
fn is_about_the_name(remedy: &Remedy) -> bool {
    let Remedy::Rule { remedy } = remedy else { return false };
    let mut remedy = remedy;
    while let rule::Remedy::OfZone { remedy: inner, .. } = remedy {
        remedy = inner;
    }
    matches!(remedy, rule::Remedy::DidYouMean { .. } | rule::Remedy::UseAListedName)
}

fn cautions_section(words: &dyn Words, cautions: &[&str]) -> Section {
    let fields = cautions.iter().map(|caution| Field { label: None, value: (*caution).to_owned() });
    Section { heading: words.heading(Heading::BearInMind), fields: fields.collect() }
}

/// The law that a zone rests on, the edition of its file and the file's digest.
fn law(
    source: &SourceDocument<'_>,
    file: &FileDocument<'_>,
    proofread: Option<&Proofread>,
    fields: &mut Fields<'_>,
) {
    let law: Vec<&str> = [Some(source.instrument), source.clause].into_iter().flatten().collect();
    fields.add(Label::Law, law.join(", "));
    if let Some(words) = source.quoted_text {
        fields.add(Label::ItsWords, format!("\"{words}\""));
    }
    let read = source.retrieved.map(|day| day.to_string());
    fields.phrase(Label::Edition, &FieldPhrase::Edition(source.edition, read.as_deref()));
    if let Some(proofread) = proofread {
        fields.phrase(Label::Proofread, &FieldPhrase::Proofread(proofread));
    }
    let digits: String = file.sha256.chars().take(12).collect();
    fields.phrase(Label::File, &FieldPhrase::File(file.path, &digits));
}

/// Writes a section below what the page holds.
pub(super) fn write(page: &mut Page, section: &Section) {
    page.heading(&section.heading);
    write_fields(page, &section.fields);
}

fn write_fields(page: &mut Page, fields: &[Field]) {
    for field in fields {
        match &field.label {
            Some(label) => page.field(label, &field.value),
            None => page.paragraph("  ", &field.value),
        }
    }
}

/// Writes the law that a zone rests on, for other answers that name zones.
pub(crate) fn source(
    page: &mut Page,
    (source, proofread): (&Source, Option<&Proofread>),
    file: &ZoneFile,
    words: Spoken<'_>,
) {
    let mut fields = Fields::new(&*words);
    law(&SourceDocument::of(source, file), &FileDocument::from(file), proofread, &mut fields);
    write_fields(page, &fields.list);
}

/// Writes what no answer can know, for other answers.
pub(crate) fn bear_in_mind(page: &mut Page, words: Spoken<'_>) {
    write(page, &cautions_section(&*words, &words.cautions()));
}
