//! The file, its head, its features, and the words that it knows.

use jiff::civil::Weekday;
use serde::Serialize;
use serde_json::Value;

#[cfg(feature = "schema")]
use super::WireEdges;
use super::{
    Along, Slot, TakeWord, TextOr, Vocabulary, WireAimingPoint, WireBait, WireCrossing, WireGear,
    WireGeometry, WireLimit, WirePublished, WireTake, WireUnknownGeometry, WireWhen, Word,
};
use crate::geojson_text::wire_object;
use crate::rule::{Access, BagPer, Measure, Possession, WindowEnds};
use crate::zone::{LineBelongs, Status};
use crate::{ArcSense, EdgeModel, SideKind};

/// A zone file: a GeoJSON feature collection (RFC 7946) with the member `takeline`. Each feature is one zone.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(title = "Takeline zone file, takeline.zones/1"))]
pub struct WireFile {
    /// Always the same word.
    #[cfg_attr(feature = "schema", schemars(extend("const" = "FeatureCollection")))]
    pub r#type: String,
    /// What holds for the whole file.
    pub takeline: WireHeader,
    /// The zones.
    #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
    pub features: Vec<WireFeature>,
}

wire_object! {
    /// What holds for the whole file.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["format"])))]
    pub WireHeader {
        /// Always "takeline.zones/1".
        #[cfg_attr(feature = "schema", schemars(extend("const" = "takeline.zones/1")))]
        format: String,
        /// A title for people.
        title: String,
        /// Which edition this is; shown with every answer.
        edition: String,
        /// The day it was issued, like "2026-05-01".
        issued: String,
        /// The instant from which its makers no longer vouch for it: a date (its first moment) or RFC 3339.
        valid_until: String,
        /// Who publishes it.
        publisher: String,
        /// The licence of the file.
        licence: String,
        /// The datum of all coordinates, like "WGS 84". Missing: unstated, and 200 m of doubt.
        datum: String,
        /// The time zone of dates and hours, by its IANA name. Missing: UTC.
        time_zone: String,
        /// Files with the coast, from the folder of this file; sides with `along` follow it, and ways out keep off its land.
        coast: Vec<Slot<String>>,
        /// The animals and plants that the zones speak of.
        taxa: Vec<Slot<WireTaxon>>,
        /// Sets of them, as this law defines them.
        groups: Vec<Slot<WireGroup>>,
    }
}

wire_object! {
    /// An animal or plant.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["id"])))]
    pub WireTaxon {
        /// A short id that the zones use; unique among taxa and groups.
        id: String,
        /// Its scientific name.
        scientific: String,
        /// The names people use; the first is shown. Missing: the id.
        names: Vec<Slot<TextOr<WireName>>>,
        /// The FAO three-letter code.
        fao: String,
        /// The id of the broader taxon it belongs to.
        parent: String,
    }
}

wire_object! {
    /// A name that is used in one region.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["text"])))]
    pub WireName {
        /// The name.
        text: String,
        /// Where it is used.
        region: String,
    }
}

wire_object! {
    /// A set of taxa.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["id", "members"])))]
    pub WireGroup {
        /// A short id that the zones use; unique among taxa and groups.
        id: String,
        /// The names people use; the first is shown. Missing: the id.
        names: Vec<Slot<TextOr<WireName>>>,
        /// Ids of taxa and other groups.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        members: Vec<Slot<String>>,
        /// Taxon ids taken out again.
        except: Vec<Slot<String>>,
    }
}

/// One zone. Other members are left to other programs.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(extend("required" = ["type", "id", "geometry", "properties"])))]
pub struct WireFeature {
    /// Always the same word.
    #[cfg_attr(feature = "schema", schemars(extend("const" = "Feature")))]
    pub r#type: String,
    /// Its id, unique in the file.
    #[cfg_attr(feature = "schema", schemars(extend("type" = ["string", "number"])))]
    pub id: String,
    /// Where it lies; `null` if that is not known.
    pub geometry: Option<WireGeometry>,
    /// Everything else.
    pub properties: WireProperties,
}

wire_object! {
    /// What a zone says.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["take", "source"])))]
    pub WireProperties {
        /// Its name. Missing: the id.
        name: String,
        /// How the edges run. Missing: unstated, and the readings' difference counts as doubt.
        #[cfg_attr(feature = "schema", schemars(with = "WireEdges"))]
        edges: Value,
        /// For a Point: the radius of the circle, in metres.
        #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0)))]
        radius_m: f64,
        /// The vertices as the law prints them, in its order. They are held to the geometry; where that is `null`, they are the
        /// geometry.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        as_published: Vec<Slot<TextOr<WirePublished>>>,
        /// For a `null` geometry: why, and where about.
        geometry_unknown: WireUnknownGeometry,
        /// Points that aim an edge and are not on the line. They are only compared with the vertices.
        aiming_points: Vec<Slot<WireAimingPoint>>,
        /// 95 % uncertainty of the line itself, in metres. Missing: 0.
        #[cfg_attr(feature = "schema", schemars(range(min = 0, max = 1_000_000)))]
        line_uncertainty_m: f64,
        /// Whether the line itself belongs to the zone. Missing: inside.
        on_the_line: Word<LineBelongs>,
        /// Datum of this zone, if it is not the file's.
        datum: String,
        /// Time zone of this zone, if it is not the file's.
        time_zone: String,
        /// Whether it is law. Missing: in-force.
        status: Word<Status>,
        /// When this edition of the rule has effect. Missing: without bounds.
        effective: WireEffective,
        /// When the rule holds. Missing: always.
        when: WireWhen,
        /// What may be taken.
        take: WireTake,
        /// Limits on what may be taken; all that match a fish hold together.
        limits: Vec<Slot<WireLimit>>,
        /// Gear limits that hold for every fish.
        gear: WireGear,
        /// Bait limits that hold for every fish.
        bait: WireBait,
        /// Whether fish caught elsewhere may be aboard. Missing: unstated.
        possession: Word<Possession>,
        /// How one may cross without fishing. Missing: the file does not say.
        crossing: WireCrossing,
        /// Whom the rule binds, by how they get at the fish. Missing: everybody.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        binds: Vec<Slot<Word<Access>>>,
        /// Further conditions in the law's words, always shown.
        conditions: Vec<Slot<String>>,
        /// Rules of other zones that this one displaces.
        overrides: Vec<Slot<WireOverride>>,
        /// Whether it may be closed or opened by notice. Missing: false.
        may_change_by_notice: bool,
        /// Where the rule comes from.
        source: WireSource,
        /// Who read the zone against the printed law. `takeline zones show --proofread-by` writes it.
        proofread: WireProofread,
    }
}

wire_object! {
    /// Who read a zone against the printed law, and when.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["by", "on"])))]
    pub WireProofread {
        /// Names or initials of those who read it; best two, one of them reading the law aloud.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        by: Vec<Slot<String>>,
        /// The day they did, like "2026-05-01".
        on: String,
        /// The edition of the law that they read it against.
        against: String,
        /// What the zone was then: "sha256:" and 64 hexadecimal digits. Missing: nobody can tell whether it changed since.
        of: String,
    }
}

wire_object! {
    /// When an edition of a rule has effect. A date means the first moment of that day, in the zone's own time.
    pub WireEffective {
        /// First instant: a date or RFC 3339.
        from: String,
        /// First instant after: a date or RFC 3339. The day of a date given here is no longer in it.
        until: String,
        /// Last day that is still in it; write this or `until`.
        last_day: String,
    }
}

wire_object! {
    /// A rule that this one displaces.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["zone", "clause"])))]
    pub WireOverride {
        /// The id of the zone whose rule yields.
        zone: String,
        /// The clause that says so; always printed.
        clause: String,
    }
}

wire_object! {
    /// Where a rule comes from.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["instrument"])))]
    pub WireSource {
        /// The law, order or notice.
        instrument: String,
        /// The clause in it.
        clause: String,
        /// The words of the law.
        quoted_text: String,
        /// Where it was read.
        url: String,
        /// The day it was read, like "2026-05-01".
        retrieved: String,
        /// The licence of the text or data.
        licence: String,
    }
}

impl Vocabulary for EdgeModel {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("geodesic", Self::Geodesic),
        ("rhumb", Self::RhumbLine),
        ("lonlat", Self::PlateCarree),
        ("unstated", Self::Unstated),
    ];
}

impl Vocabulary for SideKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("open", Self::Open),
        ("shore", Self::Shore),
        ("mouth", Self::Mouth),
        ("unresolved", Self::Unresolved),
    ];
}

impl Vocabulary for Along {
    const WORDS: &'static [(&'static str, Self)] = &[("coast", Self::Coast)];
}

impl Vocabulary for TakeWord {
    const WORDS: &'static [(&'static str, Self)] = &[("none", Self::None), ("anything", Self::Anything)];
}

impl Vocabulary for ArcSense {
    const WORDS: &'static [(&'static str, Self)] =
        &[("clockwise", Self::Clockwise), ("counterclockwise", Self::Counterclockwise)];
}

impl Vocabulary for LineBelongs {
    const WORDS: &'static [(&'static str, Self)] = &[("inside", Self::ToZone), ("outside", Self::Outside)];
}

impl Vocabulary for Status {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("in-force", Self::InForce),
        ("proposed", Self::Proposed),
        ("not-commenced", Self::NotCommenced),
        ("repealed", Self::Repealed),
    ];
}

impl Vocabulary for Possession {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("unstated", Self::Unstated),
        ("allowed", Self::Allowed),
        ("while-crossing", Self::WhileCrossing),
        ("as-take", Self::AsTake),
        ("forbidden", Self::Forbidden),
    ];
}

impl Vocabulary for Access {
    const WORDS: &'static [(&'static str, Self)] =
        &[("boat", Self::Boat), ("shore", Self::Shore), ("diving", Self::Diving)];
}

impl Vocabulary for BagPer {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("person-day", Self::PersonDay),
        ("boat-day", Self::BoatDay),
        ("person-trip", Self::PersonTrip),
        ("boat-trip", Self::BoatTrip),
    ];
}

impl Vocabulary for Measure {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("total-length", Self::TotalLength),
        ("fork-length", Self::ForkLength),
        ("carapace-length", Self::CarapaceLength),
        ("shell-width", Self::ShellWidth),
        ("unstated", Self::Unstated),
    ];
}

impl Vocabulary for WindowEnds {
    const WORDS: &'static [(&'static str, Self)] =
        &[("included", Self::Included), ("excluded", Self::Excluded), ("unstated", Self::Unstated)];
}

impl Vocabulary for Weekday {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("monday", Self::Monday),
        ("tuesday", Self::Tuesday),
        ("wednesday", Self::Wednesday),
        ("thursday", Self::Thursday),
        ("friday", Self::Friday),
        ("saturday", Self::Saturday),
        ("sunday", Self::Sunday),
    ];
}
