//! A fix whose date a receiver may have got wrong: what is in force then is not known.

use takeline::zone::ZoneSet;
use takeline::{Assessment, Fix, Question};
use takeline_formats::date_doubt;

use crate::far;

/// Answers about a fix, without its time where the date may be wrong, and warns of that and of a fix far from every zone.
pub(crate) fn assess(zones: &ZoneSet, fix: &Fix, question: &Question) -> Assessment {
    let doubt = fix.time.and_then(date_doubt);
    let time = fix.time.filter(|_| doubt.is_none());
    let mut assessment = zones.assess(&Fix { time, ..*fix }, question);
    far::warn(&mut assessment);
    if let Some(doubt) = doubt {
        say_that_it_is_doubted(&mut assessment);
        assessment.warnings.push(doubt);
    }
    assessment
}

/// A time was given, and it is not believed.
fn say_that_it_is_doubted(assessment: &mut Assessment) {
    assessment.warnings.retain(|warning| warning != NO_TIME);
    let of_fish = assessment.take.iter_mut().flat_map(|finding| {
        [&mut finding.because, &mut finding.possession_because, &mut finding.settle].into_iter().flatten()
    });
    let of_zones = assessment.zones.iter_mut().flat_map(|zone| &mut zone.in_force_because);
    let of_water = assessment.water_because.iter_mut().chain(&mut assessment.settle);
    for text in of_fish.chain(of_zones).chain(of_water) {
        if text.contains(NO_TIME) {
            *text = text.replace(NO_TIME, "the time given is doubted");
        } else if text == "say the time" {
            "say the true time".clone_into(text);
        }
    }
}

/// What the library says where it was given no time.
const NO_TIME: &str = "no time was given";
