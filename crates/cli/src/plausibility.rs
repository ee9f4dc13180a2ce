//! A mark or a launch that is not to be believed as typed: far from every loaded zone, perhaps with a slip in it.

use takeline::zone::{Slip, ZoneSet};
use takeline::{Assessment, Fix, HorizontalUncertainty, Metres, Position, Question};

use crate::failure::{Stop, say};

/// Refuses a position that is far from every loaded zone, where a slip explains it; else only warns.
///
/// For a mark or a launch: a line that keeps clear of every zone because two numbers were exchanged shows nobody a limit.
pub(crate) fn refuse_slip(what: &str, zones: &ZoneSet, position: Position) -> Result<(), Stop> {
    let fix = Fix::new(position, HorizontalUncertainty::assumed());
    let assessment = zones.assess(&fix, &Question::default());
    let Some((distance, _)) =
        nearest(&assessment).filter(|(distance, _)| distance.metres() >= ZoneSet::FAR_M)
    else {
        return Ok(());
    };
    let far = format!("{what}: the nearest loaded zone is {:.0} km away", distance.metres() / 1000.0);
    let Some(found) = assessment.misreading else {
        say(&format!("warning: {far}: check the position, and that these are the zones you need"));
        return Ok(());
    };
    let (latitude_deg, longitude_deg) =
        (found.likely.latitude().degrees(), found.likely.longitude().degrees());
    let name = zones.zones().get(found.zone_number).map_or("", |zone| &zone.name);
    let slip = in_words(found.slip);
    Err(Stop::Usage(format!("{far}; {slip}: near {latitude_deg}, {longitude_deg} lies {name}")))
}

/// Warns of coasts that are far from every zone: the land that is there keeps no way off it.
///
/// Where an index stands for some zones these are the zones near a fix only, and one that was not read may be near the coast: then
/// it is told only where a slip explains it.
pub(crate) fn tell_far_coasts(zones: &ZoneSet, are_all_read: bool) {
    for far in zones.far_coasts() {
        let (Some(coast), Some(zone)) =
            (zones.coasts().get(far.coast_number), zones.zones().get(far.zone_number))
        else {
            continue;
        };
        let why = match far.slip {
            Some(Slip::Exchanged) => "latitudes and longitudes are exchanged, it seems: the other way round it lies beside the zones; \
                                      GeoJSON has the longitude first"
                .to_owned(),
            Some(slip) => format!("{}; put right it lies beside the zones", in_words(slip)),
            None if are_all_read => "latitudes and longitudes may be exchanged (GeoJSON has the longitude first), or it is the \
                                     coast of another place"
                .to_owned(),
            None => continue,
        };
        let (south_west, north_east) = coast.corners();
        say(&format!(
            "{}: warning: this coast lies far from every loaded zone, from {south_west} to {north_east}, {:.0} km from {}; {why}; \
             no land is known near the zones by it",
            coast.path,
            far.distance.metres() / 1000.0,
            zone.name
        ));
    }
}

fn in_words(slip: Slip) -> &'static str {
    match slip {
        Slip::LongitudeSign => "the longitude may have the wrong sign: west is negative",
        Slip::LatitudeSign => "the latitude may have the wrong sign: south is negative",
        Slip::BothSigns => "both signs may be wrong: south and west are negative",
        Slip::Exchanged => "latitude and longitude may be swapped",
        Slip::ExchangedAndSign => "latitude and longitude may be swapped, and one sign wrong",
        _ => "it may have been written down wrongly",
    }
}

/// Distance to the nearest line, and whose it is; 0 inside.
fn nearest(assessment: &Assessment) -> Option<(Metres, &str)> {
    let found = assessment.zones.iter().filter_map(|zone| Some((zone.signed_distance?, zone.name.as_str())));
    found.min_by(|one, other| one.0.metres().total_cmp(&other.0.metres()))
}
