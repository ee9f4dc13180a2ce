//! Reasons of visits and catches in English: why the rules bound the boat, what became of its fish, and what would settle it.

use takeline::track::{BagNote, BagUnknown, Certainty, NoPosition, Reason, Remedy};

use crate::figures;
use crate::track::times::{minute, plain_span, utc};
use crate::track::{CatchDocument, ShownPlace};
use crate::words::{Words, joined};

pub(crate) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
    let units = words.units();
    match reason {
        Reason::Rule { reason } => words.rule_reason(reason),
        Reason::InForce { reason } => words.in_force_reason(reason),
        Reason::Fix { reason } => words.reason(reason),
        Reason::RuleChanged => "the rule changed during the visit".into(),
        Reason::Displaced { by, is_sure } => {
            let perhaps = if *is_sure { "" } else { "perhaps " };
            format!("{perhaps}displaced by {} ({})", by.zone, by.clause)
        }
        Reason::CarriedInto { zone, entered, certainty, because } => {
            let perhaps = if *certainty == Certainty::Certain { "" } else { "perhaps " };
            let when = entered.map_or_else(String::new, |entered| format!(" at {}", minute(entered)));
            let why = joined(because, "; ", |reason| words.track_reason(reason));
            format!("{perhaps}carried into {zone}{when}: {why}")
        }
        Reason::CountsAgainstBag { note } => words.bag_note(note),
        Reason::RowAtNullIsland => {
            "the row's 0, 0 is what receivers write without a fix; it is not a position".into()
        }
        Reason::ContradictsTrack { reach_m, top_speed_kn } => format!(
            "its own position is farther from where the track has the boat then than the {} that the uncertainties and {} allow: one of the two is wrong",
            figures::whole(units, *reach_m),
            figures::plain(&figures::speed(units, *top_speed_kn))
        ),
        Reason::NeitherTimeNorPosition => "the row has neither a time nor a position".into(),
        Reason::NoPosition { why } => {
            format!("no position at that time: {}", words.missing_position(*why))
        }
        Reason::LengthNearLimit { length_cm, error_cm } => format!(
            "{length_cm} cm is so near a limit that a measurement good to {error_cm} cm does not settle it"
        ),
        Reason::BindingUnsettled { zone } => format!("it is undecided whether {zone} applied there and then"),
        Reason::SeveralBoats => {
            "the log is of several boats, and does not say which one the fish was on".into()
        }
        Reason::KeptUnsaid => "the row does not say whether the fish was kept".into(),
        Reason::BeforeOrAfterUnknown => "it is not known whether that was before or after the catch".into(),
        Reason::PerhapsNeverInside => "the boat may never have been inside".into(),
        other => other.code().to_owned(),
    }
}

pub(crate) fn missing_position(why: NoPosition) -> String {
    match why {
        NoPosition::OnlySuspectFixes => {
            "around that time the log has only fixes that cannot be believed".into()
        }
        NoPosition::FixesTooFarApart => {
            "the two fixes around that time are farther apart than the boat can have gone".into()
        }
        NoPosition::NothingLogged { gap_s, from, to, within_s } => format!(
            "nothing was logged for {} around that time, from {} to {}; positions are only taken from between fixes at most {} apart",
            plain_span(gap_s),
            utc(from),
            utc(to),
            plain_span(within_s)
        ),
        NoPosition::TrackEnded { before_s } => format!("the track ends {} before", plain_span(before_s)),
        NoPosition::TrackBegins { after_s } => format!("the track begins {} after", plain_span(after_s)),
        NoPosition::NoTimedFix => {
            "the track has no fix with a time, or none that is surely this boat's".into()
        }
        other => other.code().to_owned(),
    }
}

pub(crate) fn bag_unknown(unknown: BagUnknown) -> String {
    match unknown {
        BagUnknown::Day => "the row has no time, so its day is not known".into(),
        BagUnknown::Person => "the row does not say who caught it, and others do".into(),
        BagUnknown::OthersOfTheDay => "any fish kept that day that are not in this log".into(),
        BagUnknown::OthersOfTheTrip => {
            "any fish kept on the trip that are not in this log; a local day counts as a trip".into()
        }
        BagUnknown::StillAboard => {
            "any fish kept on other days, and whether the earlier fish of this log were still on board".into()
        }
        other => other.code().to_owned(),
    }
}

pub(crate) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    match remedy {
        Remedy::Rule { remedy } => words.rule_remedy(remedy),
        Remedy::Fix { remedy } => words.remedy(remedy),
        Remedy::MendTheRow => "find out which is right, and correct the row's time or position".into(),
        Remedy::SayWhenOrWhere => "say when or where it was caught".into(),
        Remedy::SayWhere => "say where it was caught".into(),
        Remedy::MeasureAgain => "measure it again, more closely".into(),
        Remedy::SayWhatWasKept => "for every row, say what was kept, when, and by whom".into(),
        Remedy::SayWhetherKept => "say whether it was kept".into(),
        Remedy::GiveLogOfThatBoat => "give the log of the boat that the fish was on, alone".into(),
        other => other.code().to_owned(),
    }
}

pub(crate) fn bag_note(words: &(impl Words + ?Sized), note: &BagNote) -> String {
    let bag = words.bag(&note.bag);
    let who = note.person.as_deref().unwrap_or("the count");
    let to = if !note.surely_over() && note.perhaps_over() {
        format!("takes {who} to {}, perhaps to {}", note.last, note.at_most)
    } else {
        format!("takes {who} to {}", note.last)
    };
    let clause = note.clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
    format!("{to}; {bag} in {}{clause}", note.zone_name)
}

/// What came of one catch, with the first reason; the others follow it.
pub(crate) fn caught(words: &(impl Words + ?Sized), catch: &CatchDocument<'_>) -> String {
    let asked = catch.asked.unwrap_or("fish not named");
    let why = catch.because.first().map_or_else(String::new, |why| format!(": {why}"));
    let mut parts = vec![format!("{} {asked}{why}", words.take_answer(catch.answer))];
    parts.extend(catch.time.map(utc));
    parts.extend(catch.place.0.map(figures::position));
    if let Some(both) = catch.contradicted {
        let place = |place: ShownPlace| place.0.map_or_else(|| "a place withheld".into(), figures::position);
        // how far apart the two are would tell a withheld one
        let apart = both.row.0.zip(both.track.0).map_or_else(String::new, |(row, track)| {
            let metres = takeline::GeodesicSegment::between(row, track).length();
            format!(", {} apart", figures::distance(words.units(), metres, metres))
        });
        parts.push(format!(
            "by its row at {}, by its track at {}{apart}",
            place(both.row),
            place(both.track)
        ));
    }
    parts.join("; ")
}
