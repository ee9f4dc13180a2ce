//! Visits and catches of a trip in English: why the rules bound the boat, and what became of its fish.

use takeline::track::{BagNote, Certainty, Reason, Remedy};

use super::{Words, joined};

pub(super) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
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
        Reason::Text { text } => text.clone(),
        other => other.code().to_owned(),
    }
}

pub(super) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    match remedy {
        Remedy::Rule { remedy } => words.rule_remedy(remedy),
        Remedy::Fix { remedy } => words.remedy(remedy),
        Remedy::Text { text } => text.clone(),
        other => other.code().to_owned(),
    }
}

pub(super) fn bag_note(words: &(impl Words + ?Sized), note: &BagNote) -> String {
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
