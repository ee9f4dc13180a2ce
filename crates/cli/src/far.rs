//! A fix far from every loaded zone: either the wrong zones are loaded, or a sign or the order of the numbers is wrong.

use takeline::zone::ZoneSet;
use takeline::{Assessment, Fix, HorizontalUncertainty, Metres, Position, Question, Water};

use crate::stop::{Stop, say};

/// Farther than this from every loaded zone, in metres, a fix is worth a second look (common practice, no source).
const FAR_M: f64 = 100_000.0;

/// Adds warnings to an answer whose fix is far from every loaded zone, with the slip that would explain it.
pub(crate) fn warn(zones: &ZoneSet, fix: &Fix, assessment: &mut Assessment) {
    let Some((distance, _)) = nearest(assessment) else { return };
    if assessment.water != Water::NoLoadedZone || distance.metres() < FAR_M {
        return;
    }
    let km = distance.metres() / 1000.0;
    assessment.warnings.push(format!(
        "the nearest loaded zone is {km:.0} km away: check the fix, and whether these are the zones you need"
    ));
    assessment.warnings.extend(slips(zones, fix));
}

/// Refuses a position that is far from every loaded zone, where a slip explains it; else only warns.
///
/// For a mark or a launch: a line that keeps clear of every zone because two numbers were exchanged shows nobody a limit.
pub(crate) fn refuse_slip(what: &str, zones: &ZoneSet, position: Position) -> Result<(), Stop> {
    let fix = Fix { position, uncertainty: HorizontalUncertainty::assumed(), time: None };
    let assessment = zones.assess(&fix, &Question::default());
    let Some((distance, _)) = nearest(&assessment).filter(|(distance, _)| distance.metres() >= FAR_M) else {
        return Ok(());
    };
    let far = format!("{what}: the nearest loaded zone is {:.0} km away", distance.metres() / 1000.0);
    let slips = slips(zones, &fix);
    if slips.is_empty() {
        say(&format!("warning: {far}: check the position, and whether these are the zones you need"));
        return Ok(());
    }
    Err(Stop::Usage(format!("{far}; {}", slips.join("; "))))
}

/// What exchanged numbers or a wrong sign would explain.
fn slips(zones: &ZoneSet, fix: &Fix) -> Vec<String> {
    let (latitude_deg, longitude_deg) =
        (fix.position.latitude().degrees(), fix.position.longitude().degrees());
    let mut found = Vec::new();
    for (latitude_deg, longitude_deg, slip) in [
        (longitude_deg, latitude_deg, "latitude and longitude may be swapped"),
        (latitude_deg, -longitude_deg, "the longitude may be on the wrong side: west is negative"),
        (-latitude_deg, longitude_deg, "the latitude may be on the wrong side: south is negative"),
    ] {
        let Ok(position) = Position::from_degrees(latitude_deg, longitude_deg) else { continue };
        let there = zones.assess(&Fix { position, ..*fix }, &Question::default());
        if let Some((_, name)) = nearest(&there).filter(|(distance, _)| distance.metres() < FAR_M) {
            found.push(format!("{slip}: near {latitude_deg}, {longitude_deg} lies {name}"));
        }
    }
    found
}

/// Distance to the nearest line, and whose it is; 0 inside.
fn nearest(assessment: &Assessment) -> Option<(Metres, &str)> {
    let found = assessment.zones.iter().filter_map(|zone| Some((zone.signed_distance?, zone.name.as_str())));
    found.min_by(|one, other| one.0.metres().total_cmp(&other.0.metres()))
}
