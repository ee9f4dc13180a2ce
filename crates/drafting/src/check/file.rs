//! All findings of one file.

use serde_json::Value;
use takeline::coast::Coast;
use takeline::zone::{Extent, Zone};
use takeline::zone_file::{self, Fault, LoadZonesError, LoadedFile};
use takeline::{BoundaryFault, PartSpec, Position, RingChange};

use super::lines::Lines;
use super::notation::all_below_sixty;
use super::{
    Against, Finding, FindingKind, Repair, Severity, Spot, Today, conformance, figures, neighbours, shape,
    times,
};

/// A file that was checked.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Checked {
    /// What was found, the gravest first, then in the order of the file.
    pub findings: Vec<Finding>,
    /// How many zones it has; none if it was refused.
    pub zones: Option<usize>,
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
            of_refused(&refused, value.as_ref(), &mut found);
            None
        }
    };
    if let Some(value) = &value {
        conformance::findings(value, &mut found);
    }
    if !found.is_empty() {
        let lines = Lines::of(bytes);
        for finding in &mut found {
            finding.spot.line = finding.spot.line.or_else(|| lines.line(&finding.spot));
        }
    }
    found.sort_by_key(|finding| {
        let place = (finding.spot.feature, finding.spot.part, finding.spot.ring, finding.spot.vertex);
        (std::cmp::Reverse(finding.severity), place)
    });
    Checked { findings: found, zones }
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

fn of_refused(refused: &LoadZonesError, value: Option<&Value>, found: &mut Vec<Finding>) {
    for fault in &refused.faults {
        let spot = Spot::from(&fault.place);
        let repairs = repairs(fault, value, &spot);
        found.push(Finding::new(FindingKind::Fault(fault.clone()), spot, repairs));
    }
    if refused.more > 0 {
        found.push(Finding::at(FindingKind::MoreFaults(refused.more), Spot::default()));
    }
}

fn repairs(fault: &Fault, value: Option<&Value>, spot: &Spot) -> Vec<Repair> {
    if let Some(BoundaryFault::SelfCrossing { repair, .. }) = fault.boundary.as_deref() {
        let change = repair.as_ref().map(|repair| &repair.change);
        return change
            .zip(value)
            .and_then(|(change, value)| built(change, value, spot))
            .into_iter()
            .collect();
    }
    if fault.mend.is_empty() { Vec::new() } else { vec![Repair::Words(fault.mend.clone())] }
}

/// A change of a ring of the text, if what comes of it can be built.
fn built(change: &RingChange, value: &Value, spot: &Spot) -> Option<Repair> {
    let feature = value.get("features")?.get(spot.feature?.checked_sub(1)?)?;
    let rings = conformance::rings(feature.get("geometry")?);
    let (_, _, listed) =
        rings.into_iter().find(|(part, ring, _)| *part == spot.part && Some(*ring) == spot.ring)?;
    let mut vertices: Vec<Position> = listed
        .iter()
        .map(|place| Position::from_degrees(place.get(1)?.as_f64()?, place.get(0)?.as_f64()?).ok())
        .collect::<Option<_>>()?;
    if vertices.len() > 1 && vertices.first() == vertices.last() {
        vertices.pop();
    }
    let counted_from_0 = change.renumbered(|vertex| vertex.saturating_sub(1));
    let area_m2 = shape::area_m2(&counted_from_0.applied(&vertices)?)?;
    Some(Repair::Ring { change: change.clone(), area_m2: Some(area_m2) })
}
