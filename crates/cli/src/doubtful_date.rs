//! A fix whose date a receiver may have got wrong: what is in force then is not known.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use takeline::rule::MissingTime;
use takeline::zone::ZoneSet;
use takeline::{Assessment, Fix, Question};
use takeline_formats::date_doubt;

use crate::far;

/// Years in which somebody may have had a fix and may look it up; outside of them a digit is likely wrong (common practice,
/// no source: the first receivers for boats came about 1990).
const LIKELY_YEARS: std::ops::RangeInclusive<i16> = 1990..=2100;

/// Why a time may be wrong whose year is none of a fix.
fn year_doubt(time: Timestamp) -> Option<String> {
    let year = TimeZone::UTC.to_datetime(time).year();
    (!LIKELY_YEARS.contains(&year)).then(|| {
        format!("the time {time} is of the year {year}, which is likely written wrongly; the time was left unknown")
    })
}

/// Answers about a fix, without its time where the date may be wrong, and warns of that and of a fix far from every zone.
pub(crate) fn assess(zones: &ZoneSet, fix: &Fix, question: &Question) -> Assessment {
    let doubt = fix.time.and_then(|time| year_doubt(time).or_else(|| date_doubt(time)));
    let mut assessment = if doubt.is_none() {
        zones.assess(fix, question)
    } else {
        let question = Question { missing_time: MissingTime::Doubted, ..question.clone() };
        zones.assess(&Fix { time: None, ..*fix }, &question)
    };
    far::warn(&mut assessment);
    assessment.warnings.extend(doubt);
    assessment
}
