//! How one may cross a zone that the launch lies in, in words: these go where the texts of the other problems go.

use crate::Tristate;
use crate::rule::Condition;

/// One thing that one has to do to cross.
pub(super) fn to_cross(condition: &Condition) -> String {
    match condition {
        Condition::Crossing { allowed, clause } => {
            let clause = clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
            match allowed {
                Tristate::Yes => format!("crossing without fishing is allowed{clause}"),
                Tristate::No => format!("crossing is not allowed{clause}"),
                Tristate::Undecided => {
                    format!("whether one may cross is not settled; ask before you do{clause}")
                }
            }
        }
        Condition::CrossingUnsaid => {
            "the zone file does not say how one may cross; ask before you do".to_owned()
        }
        Condition::GearState { words } => format!("state of the gear while crossing: “{words}”"),
        Condition::KeepGoing => "keep going from one side to the other".to_owned(),
        Condition::MinSpeed { speed_kn } => format!("not slower than {speed_kn} kn"),
        Condition::MaxStop { stop_min } => format!("no stop longer than {stop_min} min"),
        Condition::Anchoring { allowed: Tristate::Yes } => "anchoring is allowed".to_owned(),
        Condition::Anchoring { allowed: Tristate::No } => "no anchoring".to_owned(),
        Condition::Anchoring { allowed: Tristate::Undecided } => {
            "whether one may anchor is not said; ask before you do".to_owned()
        }
        Condition::NoAnchoringOnTheWay => "no anchoring on the way".to_owned(),
        Condition::Law { text } => text.clone(),
        // nothing else is a condition of crossing
        Condition::OnlyWith { .. }
        | Condition::With { .. }
        | Condition::NotWith { .. }
        | Condition::Bait { .. }
        | Condition::Size { .. }
        | Condition::Bag { .. }
        | Condition::MeasuredAs { .. }
        | Condition::OnTheLimit { .. }
        | Condition::Either { .. }
        | Condition::AllZonesTogether { .. }
        | Condition::OfZone { .. }
        | Condition::OfFish { .. } => condition.code().to_owned(),
    }
}
