//! Reasons of visits and catches in English: why the rules bound the boat, what became of its fish, and what would settle it.

use takeline::track::{BagNote, BagUnknown, Certainty, NoPosition, Reason, Remedy};

use crate::figures;
use crate::track::times::utc;
use crate::track::{CatchDocument, ShownPlace};
use crate::words::{Words, joined};

pub(crate) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
    let units = words.units();
    match reason {
        Reason::Rule { reason } => words.rule_reason(reason),
        Reason::InForce { reason } => words.in_force_reason(reason),
        Reason::Fix { reason } => words.reason(reason),
        Reason::RuleChanged => "the rule changed while the visit went on".into(),
        Reason::Displaced { by, is_sure } => {
            let perhaps = if *is_sure { "" } else { "perhaps " };
            format!("{perhaps}displaced by {} ({})", by.zone, by.clause)
        }
        Reason::CarriedInto { zone, entered, certainty, because } => {
            let perhaps = if *certainty == Certainty::Certain { "" } else { "perhaps " };
            let when = entered.map_or_else(String::new, |entered| format!(" at {entered}"));
            let why = joined(because, "; ", |reason| words.track_reason(reason));
            format!("{perhaps}carried into {zone}{when}: {why}")
        }
        Reason::CountsAgainstBag { note } => words.bag_note(note),
        Reason::RowAtNullIsland => {
            "the row's 0, 0 is what receivers write without a fix, and no position".into()
        }
        Reason::ContradictsTrack { reach_m, top_speed_kn } => format!(
            "its own position lies farther from where its track has the boat then than the {} that doubts and {} \
             allow: one of the two is wrong",
            figures::whole(units, *reach_m),
            figures::plain(&figures::speed(units, *top_speed_kn))
        ),
        Reason::NeitherTimeNorPosition => "the row has neither a time nor a position".into(),
        Reason::NoPosition { why } => {
            format!("no position at that time: {}", words.missing_position(*why))
        }
        Reason::LengthNearLimit { length_cm, error_cm } => format!(
            "{length_cm} cm is so near to a limit that a measure good to {error_cm} cm does not settle it"
        ),
        Reason::BindingUnsettled { zone } => format!("whether {zone} applied there and then is not settled"),
        Reason::SeveralBoats => {
            "the log is of several boats, and nothing says which of them it was aboard".into()
        }
        Reason::KeptUnsaid => "the row does not say whether the fish was kept".into(),
        Reason::BeforeOrAfterUnknown => "nothing says whether that was before or after the catch".into(),
        Reason::PerhapsNeverInside => "the boat was perhaps never inside".into(),
        other => other.code().to_owned(),
    }
}

pub(crate) fn missing_position(why: NoPosition) -> String {
    match why {
        NoPosition::OnlySuspectFixes => {
            "the log has only fixes about that time that cannot be believed".into()
        }
        NoPosition::FixesTooFarApart => {
            "the two fixes about that time are farther apart than the boat can have gone".into()
        }
        NoPosition::NothingLogged { gap_s, from, to, within_s } => format!(
            "nothing was logged for {gap_s:.0} s about that time, from {from} to {to}; positions are taken from between \
             fixes at most {within_s:.0} s apart"
        ),
        NoPosition::TrackEnded { before_s } => format!("the track ends {before_s:.0} s before"),
        NoPosition::TrackBegins { after_s } => format!("the track begins {after_s:.0} s after"),
        NoPosition::NoTimedFix => {
            "the track has no fix with a time, or none that is for sure this boat's".into()
        }
        other => other.code().to_owned(),
    }
}

pub(crate) fn bag_unknown(unknown: BagUnknown) -> String {
    match unknown {
        BagUnknown::Day => "the row has no time, so its day is not known".into(),
        BagUnknown::Person => "the row does not say who caught it, and others do".into(),
        BagUnknown::OthersOfTheDay => "fish kept that day that are not in this log".into(),
        BagUnknown::OthersOfTheTrip => {
            "fish kept on the trip that are not in this log; a local day is taken for a trip".into()
        }
        BagUnknown::StillAboard => {
            "fish kept on other days, and whether the earlier fish of this log were still aboard".into()
        }
        other => other.code().to_owned(),
    }
}

pub(crate) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    match remedy {
        Remedy::Rule { remedy } => words.rule_remedy(remedy),
        Remedy::Fix { remedy } => words.remedy(remedy),
        Remedy::MendTheRow => "find out which is right, and mend the row's time or position".into(),
        Remedy::SayWhenOrWhere => "say when or where it was caught".into(),
        Remedy::SayWhere => "say where it was caught".into(),
        Remedy::MeasureAgain => "measure it again, more closely".into(),
        Remedy::SayWhatWasKept => "say of every row what was kept, when, and by whom".into(),
        Remedy::SayWhetherKept => "say whether it was kept".into(),
        Remedy::GiveLogOfThatBoat => "give the log of the boat that it was aboard alone".into(),
        other => other.code().to_owned(),
    }
}

pub(crate) fn bag_note(words: &(impl Words + ?Sized), note: &BagNote) -> String {
    let bag = words.bag(&note.bag);
    let counted = if !note.surely_over() && note.perhaps_over() {
        format!("perhaps as many as {}, surely {}, of {bag}", note.at_most, note.last)
    } else if note.first >= note.last {
        format!("the {} of {bag}", ordinal(note.last))
    } else {
        format!("the {} to {} of {bag}", ordinal(note.first), ordinal(note.last))
    };
    let clause = note.clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
    let person = note.person.as_ref().map_or_else(String::new, |person| format!(", {person}"));
    format!("{counted} in {}{clause}{person}", note.zone_name)
}

/// What came of one catch.
pub(crate) fn caught(words: &(impl Words + ?Sized), catch: &CatchDocument<'_>) -> String {
    let asked = catch.asked.unwrap_or("fish not named");
    let mut parts = vec![format!("{} {asked}", words.take_answer(catch.answer))];
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
    parts.extend(catch.because.iter().cloned());
    parts.join("; ")
}

fn ordinal(number: u64) -> String {
    let end = match (number % 100, number % 10) {
        (11..=13, _) => "th",
        (_, 1) => "st",
        (_, 2) => "nd",
        (_, 3) => "rd",
        _ => "th",
    };
    format!("{number}{end}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinals_read_as_people_say_them() {
        let said: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 101, 111].map(ordinal).into();
        assert_eq!(said, ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "101st", "111th"]);
    }
}
