//! All findings of one file.

use serde_json::Value;
use takeline::coast::Coast;
use takeline::zone::{Extent, Zone};
use takeline::zone_file::{self, Fault, LoadZonesError, LoadedFile, TextLines};
use takeline::{BoundaryFault, NauticalMiles, PartSpec, Position};

use super::notation::all_below_sixty;
use crate::catalogue::Difference;

use super::{
    Against, Finding, FindingKind, Repair, Severity, Spot, Today, conformance, figures, listed, neighbours,
    shape, times,
};

/// A file that was checked.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Checked {
    /// What was found, the gravest first, then in the order of the file.
    pub findings: Vec<Finding>,
    /// How many zones it has; none if it was refused, and of a manifest.
    pub zones: Option<usize>,
    /// Whether it is the manifest of a folder, which has no zones.
    pub is_manifest: bool,
}

impl Checked {
    /// Returns how many findings are so grave.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }
}

/// Looks for everything that is wrong with a zone file, or may be.
///
/// `coasts` are those that its sides may follow, and `today` is what dates are held against; without it no date is.
///
/// # Examples
///
/// ```
/// use takeline_drafting::check::{Against, Severity, check};
///
/// let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
/// let checked = check("marrowick.json", &bytes, &[], None, &Against::default());
/// assert_eq!(checked.count(Severity::Error) + checked.count(Severity::Warning), 0);
/// # Ok::<(), std::io::Error>(())
/// ```
#[must_use]
pub fn check(
    label: &str,
    bytes: &[u8],
    coasts: &[Coast],
    today: Option<Today>,
    against: &Against,
) -> Checked {
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let value: Option<Value> = serde_json::from_slice(text).ok();
    let mut found = Vec::new();
    let zones = match zone_file::read_along(label, bytes, coasts) {
        Ok(loaded) => {
            of_loaded(&loaded, today, &mut found);
            found.extend(against.findings(&loaded.zones));
            Some(loaded.zones.len())
        }
        Err(refused) => {
            of_refused(&refused, &mut found);
            None
        }
    };
    if let Some(value) = &value {
        listed::renumber(value, &mut found);
        conformance::findings(value, &mut found);
    }
    if !found.is_empty() {
        let lines = TextLines::of(bytes);
        for finding in &mut found {
            finding.spot.line = finding.spot.line.or_else(|| lines.line(&finding.spot.place()));
        }
    }
    found.sort_by_key(|finding| {
        let place = (finding.spot.feature, finding.spot.part, finding.spot.ring, finding.spot.vertex);
        (std::cmp::Reverse(finding.severity), place)
    });
    Checked { findings: found, zones, is_manifest: false }
}

/// Holds a folder to its manifest: how it differs, as findings about the manifest.
///
/// # Examples
///
/// ```
/// use takeline_drafting::catalogue::Difference;
/// use takeline_drafting::check::{Severity, hold_to_manifest};
///
/// let checked = hold_to_manifest(&[Difference::Missing("cove.json".into()), Difference::Extra("reef.json".into())]);
/// assert_eq!((checked.count(Severity::Error), checked.count(Severity::Warning)), (1, 1));
/// ```
#[must_use]
pub fn hold_to_manifest(differences: &[Difference]) -> Checked {
    let mut findings: Vec<Finding> = differences
        .iter()
        .map(|difference| Finding::at(FindingKind::Manifest(difference.clone()), Spot::default()))
        .collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    Checked { findings, zones: None, is_manifest: true }
}

fn of_loaded(loaded: &LoadedFile, today: Option<Today>, found: &mut Vec<Finding>) {
    let odd = loaded.warnings.iter();
    found.extend(
        odd.map(|warning| Finding::at(FindingKind::Odd(warning.clone()), Spot::from(&warning.place))),
    );
    times::of_file(loaded, today, found);
    let spots: Vec<Spot> = loaded
        .zones
        .iter()
        .enumerate()
        .map(|(at, zone)| Spot { feature: Some(at + 1), zone_id: Some(zone.id.0.clone()), ..Spot::default() })
        .collect();
    for (zone, spot) in loaded.zones.iter().zip(&spots) {
        if zone.when.stands_for_a_rule() {
            found.push(Finding::at(FindingKind::RuleNotStated, spot.clone()));
        }
        times::of_zone(zone, spot, today, found);
        shape::findings(zone, spot, found);
    }
    figures::findings(&loaded.zones, &spots, found);
    neighbours::findings(&loaded.zones, &spots, found);
    found.extend(minutes_as_decimals(&loaded.zones));
}

/// Whether all coordinates of a file look like minutes; nothing where that is not odd.
fn minutes_as_decimals(zones: &[Zone]) -> Option<Finding> {
    /// The share of decimals that lie below .60.
    const SHARE: f64 = 0.6;
    /// Chances that are greater are no sign of anything.
    const LEAST_ONE_IN: f64 = 5.0;
    let mut places: Vec<Position> = Vec::new();
    for zone in zones {
        let Extent::Known(boundary) = &zone.extent else { continue };
        for part in boundary.parts() {
            match part {
                PartSpec::Polygon { exterior, holes } => {
                    places.extend(std::iter::once(exterior).chain(holes).flat_map(|ring| ring.vertices));
                }
                PartSpec::Circle { centre, .. } => places.push(centre),
            }
        }
    }
    let coordinates = all_below_sixty(places.iter()).filter(|_| !places.is_empty())?;
    let one_in = SHARE.powi(i32::try_from(coordinates).ok()?).recip();
    let kind = FindingKind::MinutesAsDecimals { one_in, coordinates };
    (one_in >= LEAST_ONE_IN).then(|| Finding::at(kind, Spot::default()))
}

fn of_refused(refused: &LoadZonesError, found: &mut Vec<Finding>) {
    for fault in &refused.faults {
        let spot = Spot::from(&fault.place);
        found.push(Finding::new(FindingKind::Fault(fault.clone()), spot, repairs(fault)));
    }
    if refused.more > 0 {
        found.push(Finding::at(FindingKind::MoreFaults(refused.more), Spot::default()));
    }
}

fn repairs(fault: &Fault) -> Vec<Repair> {
    /// Of a square nautical mile, in m².
    const M2_IN_NM2: f64 = NauticalMiles::METRES * NauticalMiles::METRES;
    if let Some(BoundaryFault::SelfCrossing { repair, .. }) = fault.boundary.as_deref() {
        let offered = repair.iter().map(|repair| Repair::Ring {
            change: repair.change.clone(),
            area_m2: Some(repair.area_nm2 * M2_IN_NM2),
        });
        return offered.collect();
    }
    if fault.mend.is_empty() { Vec::new() } else { vec![Repair::Words(fault.mend.clone())] }
}

#[cfg(test)]
mod tests {
    use serde_json::json;
    use takeline::rule::WRITE_THE_RULE;

    use super::*;

    fn found(file: &Value, against: &Against) -> Vec<Finding> {
        check("cove.json", file.to_string().as_bytes(), &[], None, against).findings
    }

    fn file(geometry: &Value, properties: &Value) -> Value {
        let mut all = json!({ "edges": "rhumb", "take": "none", "source": { "instrument": "Order" } });
        all.as_object_mut().unwrap().extend(properties.as_object().unwrap().clone());
        json!({ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
            "features": [ { "type": "Feature", "id": "cove", "properties": all, "geometry": geometry } ] })
    }

    #[test]
    fn a_bow_tie_is_mended_alike_whether_its_corners_stand_as_numbers_or_as_published() {
        let ring = json!([[-30.13, 45.125], [-30.11, 45.125], [-30.13, 45.11], [-30.11, 45.11]]);
        let texts = ["45.125 N 30.13 W", "45.125 N 30.11 W", "45.110 N 30.13 W", "45.110 N 30.11 W"];
        let of_numbers = file(&json!({ "type": "Polygon", "coordinates": [ring] }), &json!({}));
        let of_texts = file(&Value::Null, &json!({ "as_published": texts }));
        let repairs = [of_numbers, of_texts].map(|file| {
            let findings = found(&file, &Against::default());
            let crossing = findings.iter().find(|one| one.kind.code() == "edges-cross").unwrap();
            crossing.repairs.clone()
        });
        assert!(matches!(repairs[0][..], [Repair::Ring { area_m2: Some(area_m2), .. }] if area_m2 > 2.6e6));
        assert_eq!(repairs[0], repairs[1]);
    }

    /// Vertices 1 and 2 are one; the corner that is off is vertex 5 as the file lists it, and as one counts the texts.
    #[test]
    fn vertices_below_a_repeated_one_are_numbered_as_the_file_lists_them() {
        let corners = [(45.11, -30.13), (45.11, -30.13), (45.11, -30.11), (45.125, -30.11), (45.126, -30.13)];
        let ring: Vec<_> = corners.iter().map(|(lat, lon)| json!([lon, lat])).collect();
        let texts: Vec<String> =
            corners.iter().map(|(lat, lon)| format!("{lat:.3} N {:.3} W", -lon)).collect();
        let of_numbers = file(&json!({ "type": "Polygon", "coordinates": [ring] }), &json!({}));
        let of_texts = file(&Value::Null, &json!({ "as_published": texts }));
        for file in [of_numbers, of_texts] {
            let findings = found(&file, &Against::default());
            let off = findings.iter().find(|one| one.kind.code() == "corner-off").unwrap();
            let changed: Vec<_> = off
                .repairs
                .iter()
                .filter_map(|repair| {
                    let Repair::Ring { change: takeline::RingChange::Digit { vertex, .. }, .. } = repair
                    else {
                        return None;
                    };
                    Some(*vertex)
                })
                .collect();
            assert!(matches!(off.spot.vertex, Some(4 | 5)), "{:?}", off.spot);
            assert!(
                !changed.is_empty() && changed.iter().all(|vertex| matches!(vertex, 4 | 5)),
                "{changed:?}"
            );
        }
    }

    #[test]
    fn a_vertex_without_its_text_and_one_that_was_not_shifted_are_told() {
        let ring = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
        let geometry = json!({ "type": "Polygon", "coordinates": [ring] });
        let codes = |texts: &Value| {
            let findings = found(&file(&geometry, &json!({ "as_published": texts })), &Against::default());
            findings.iter().map(|one| one.kind.code()).collect::<Vec<_>>()
        };
        let mut texts =
            json!(["45.110 N 30.130 W", "45.110 N 30.110 W", "45.125 N 30.110 W", "45.125 N 30.130 W"]);
        let sound = codes(&texts);
        assert!(!sound.iter().any(|code| code.starts_with("published")), "{sound:?}");
        let shifted = json!({ "text": "45.110 N 30.130 W", "datum": "NAD 27" });
        let entries = texts.as_array_mut().unwrap();
        entries[0] = shifted;
        assert!(codes(&texts).contains(&"published-not-shifted"));
        texts.as_array_mut().unwrap().pop();
        assert!(codes(&texts).contains(&"published-incomplete"));
    }

    #[test]
    fn a_draft_without_its_rule_is_a_warning_and_a_season_of_the_law_is_none() {
        let geometry = json!({ "type": "Point", "coordinates": [-30.1, 45.1] });
        let told = |words: &str| {
            let when = json!({ "radius_m": 300, "when": { "unknowable": words } });
            let findings = found(&file(&geometry, &when), &Against::default());
            findings
                .iter()
                .any(|one| one.kind == FindingKind::RuleNotStated && one.severity == Severity::Warning)
        };
        assert!(told(&format!("this file is a draft without a rule: {WRITE_THE_RULE}")));
        assert!(!told("when the quota is taken"));
    }

    #[test]
    fn figures_of_the_law_are_not_held_against_the_chord_of_a_shore() {
        let ring = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
        let edges = json!({ "edges": ["rhumb", "rhumb", "rhumb", { "side": "unresolved" }] });
        let file = file(&json!({ "type": "Polygon", "coordinates": [ring] }), &edges);
        let said =
            Against { area_m2: Some(1.0e6), perimeter_m: Some(99.0), corners: Some(4), ..Against::default() };
        let codes: Vec<_> = found(&file, &said).iter().map(|one| one.kind.code()).collect();
        assert!(codes.contains(&"chords-only"), "{codes:?}");
        assert!(!codes.iter().any(|code| code.ends_with("differs") || code.ends_with("differ")), "{codes:?}");
    }

    /// The box of `cut180.json`, cut as RFC 7946 (3.1.9) asks: 21.3 by 11.06 km, so 64.7 km round.
    #[test]
    fn corners_and_perimeter_of_a_zone_that_is_cut_at_180_degrees_are_those_of_the_whole() {
        let half = |west: f64, east: f64| {
            json!([[[west, -17], [east, -17], [east, -16.9], [west, -16.9], [west, -17]]])
        };
        let coordinates = json!([half(179.9, 180.0), half(-180.0, -179.9)]);
        let file = file(&json!({ "type": "MultiPolygon", "coordinates": coordinates }), &json!({}));
        let said = |perimeter_m: f64, corners: usize| {
            let said =
                Against { perimeter_m: Some(perimeter_m), corners: Some(corners), ..Against::default() };
            found(&file, &said).iter().filter(|one| one.severity == Severity::Error).count()
        };
        assert_eq!(said(64_700.0, 4), 0);
        assert_eq!(said(86_900.0, 8), 2);
    }
}
