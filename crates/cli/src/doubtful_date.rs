//! A fix whose date a receiver may have got wrong: what is in force then is not known.

use takeline::assess::Warning;
use takeline::rule::MissingTime;
use takeline::zone::ZoneSet;
use takeline::{Assessment, Fix, Question};
use takeline_formats::date_doubt;

use crate::plausibility;

/// Answers about a fix, without its time where the date may be wrong, and warns of that and of a fix far from every zone.
pub(crate) fn assess(zones: &ZoneSet, fix: &Fix, question: &Question) -> Assessment {
    let doubt = fix.time.and_then(date_doubt);
    let mut assessment = if doubt.is_none() {
        zones.assess(fix, question)
    } else {
        let question = Question { missing_time: MissingTime::Doubted, ..question.clone() };
        zones.assess(&Fix { time: None, ..*fix }, &question)
    };
    plausibility::warn(&mut assessment);
    assessment.warnings.extend(doubt.map(|text| Warning::Remark { text }));
    assessment
}
