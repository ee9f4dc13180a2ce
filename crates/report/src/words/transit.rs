//! Marks in line in English: what is wrong with them, why a line keeps clear or does not, why a pair ranks as it
//! does, areas, and the sentence to remember.

use takeline::magnetic::OutsideMagneticModel;
use takeline::transit::{
    CarriedBy, ClearsReason, CompassPoint, LineName, PairReason, PlaceOfUse, ProblemReason, Severity, Side,
    SideName,
};
use takeline::{MagneticBearing, TrueBearing};

use super::{Words, joined};
use crate::figures;
use crate::transit::PositionUnsettled;

/// What the sentence of the eye speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EyeSentence<'a> {
    /// The rear mark.
    pub rear: &'a str,
    /// The front mark.
    pub front: &'a str,
    /// The side to which the rear mark shows inside.
    pub rear_shows: Side,
    /// The zone.
    pub zone: &'a str,
    /// Where it lies.
    pub zone_lies: CompassPoint,
}

pub(super) fn problem(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    match problem {
        ProblemReason::MarksSwapped { .. }
        | ProblemReason::PerhapsSwapped { .. }
        | ProblemReason::BetweenMarks { .. } => order_of_marks(problem),
        ProblemReason::MarksNeverOpen { .. }
        | ProblemReason::PlacesTooUncertain { .. }
        | ProblemReason::MarksTooClose { .. }
        | ProblemReason::PairTooUncertain { .. } => too_close(words, problem),
        ProblemReason::FrontHidesRear { .. }
        | ProblemReason::FrontHidesRearInPart { .. }
        | ProblemReason::FrontBeforeRear { .. }
        | ProblemReason::BelowHorizon { .. }
        | ProblemReason::BelowHorizonInPart { .. }
        | ProblemReason::BelowHorizonAtFarEnd { .. }
        | ProblemReason::HeightNotGiven { .. }
        | ProblemReason::PairHeightNotGiven { .. } => heights(words, problem),
        ProblemReason::CrossesObliquely { .. }
        | ProblemReason::RunsObliquely { .. }
        | ProblemReason::ObliqueToDrift { .. } => angles(words, problem),
        ProblemReason::SunInTheEyes { .. } | ProblemReason::SunBehind { .. } | ProblemReason::Dark { .. } => {
            light(words, problem)
        }
        ProblemReason::MarkMovable { .. }
        | ProblemReason::MarkNeverConfirmed { .. }
        | ProblemReason::MarkLongUnconfirmed { .. }
        | ProblemReason::ErrorAssumed { .. } => one_mark(words, problem),
        ProblemReason::CutTooShallow { .. }
        | ProblemReason::ThreeLinesDisagree
        | ProblemReason::LinesDisagree { .. }
        | ProblemReason::TwoPositionsFit { .. }
        | ProblemReason::EllipseTooLarge { .. } => crossing(words, problem),
        ProblemReason::VariationNotKnown { outside } => {
            let why = words.variation_not_known(Some(outside));
            format!("{why}, so no magnetic bearing is given; use the true one")
        }
        ProblemReason::TerrainNotChecked => {
            "headlands, buildings and trees between you and the marks are not known; look before you rely on them".into()
        }
        ProblemReason::FalseClear { .. }
        | ProblemReason::HiddenWaterUnknown
        | ProblemReason::StillInLine { .. }
        | ProblemReason::ZoneOnBothSides { .. }
        | ProblemReason::ZoneOnTheOtherSide { .. }
        | ProblemReason::PairHasZoneBeyond { .. }
        | ProblemReason::CutByAnotherZone { .. }
        | ProblemReason::ZoneLineNotKnown { .. }
        | ProblemReason::ZoneAnywhere { .. }
        | ProblemReason::LaunchInsideZone { .. }
        | ProblemReason::NoZoneLoaded
        | ProblemReason::MarkLikelyMisread { .. }
        | ProblemReason::NoZoneNear { .. } => zones(words, problem),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn order_of_marks(problem: &ProblemReason) -> String {
    let who = |place: PlaceOfUse| match place {
        PlaceOfUse::WorkingArea => "the working area",
        PlaceOfUse::Course => "the place where your course crosses the line",
        other => other.into(),
    };
    match problem {
        ProblemReason::MarksSwapped { place, rear, .. } => format!(
            "{} lies beyond {rear}, so {rear} is the front mark there; exchange front and rear",
            who(*place)
        ),
        ProblemReason::PerhapsSwapped { front, rear } => format!(
            "no zone lies near the stretch before {front}, but one does on the far side of {rear}; if you fish there, \
             exchange front and rear"
        ),
        ProblemReason::BetweenMarks { place, front, rear } => {
            format!("{} lies between {front} and {rear}, where they cannot be seen in line", who(*place))
        }
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn too_close(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let units = words.units();
    let whole = |length_m: f64| figures::whole(units, length_m);
    let length = |length_m: f64| figures::length(units, length_m);
    match problem {
        ProblemReason::MarksNeverOpen { separation_m, far_m } => format!(
            "the marks stand only {} apart, so {} off the eye never sees them open, however far off the line; find marks \
             farther apart, or keep nearer to them",
            whole(*separation_m),
            whole(*far_m)
        ),
        ProblemReason::PlacesTooUncertain { separation_m, far_m, line_uncertainty_95_m } => format!(
            "the marks stand only {} apart and their places are not known well enough: {} off the line may be off by ±{} \
             and more; find marks farther apart, or survey these",
            whole(*separation_m),
            whole(*far_m),
            figures::two_digits(units, *line_uncertainty_95_m)
        ),
        ProblemReason::MarksTooClose { separation_m, far_m, line_uncertainty_95_m } => format!(
            "the marks stand {} apart, less than a third of the {} to the far end, where the line may be off by ±{}",
            whole(*separation_m),
            whole(*far_m),
            figures::two_digits(units, *line_uncertainty_95_m)
        ),
        ProblemReason::PairTooUncertain { front, rear, separation_m, far_m, line_uncertainty_95_m } => {
            format!(
                "{front} and {rear} stand {} apart, and their places are so little known that the line may be \
                 {} off at {}.",
                length(*separation_m),
                whole(*line_uncertainty_95_m),
                length(*far_m)
            )
        }
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn heights(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let units = words.units();
    match problem {
        ProblemReason::FrontHidesRear { front, rear } => format!(
            "{front} stands before {rear} and higher over the whole stretch, so {rear} is not seen over it; perhaps the two \
             are exchanged"
        ),
        ProblemReason::FrontHidesRearInPart { front, rear, parts_m } => {
            format!("{} off, {front} hides {rear}", parts(words, parts_m))
        }
        ProblemReason::FrontBeforeRear { front, rear, whole_stretch } => {
            let over = if *whole_stretch { "the whole stretch" } else { "part of the stretch" };
            format!("{front} stands before {rear} over {over}.")
        }
        ProblemReason::BelowHorizon { mark, eye_height_m } => {
            format!("{mark} is below the horizon of an eye {} high", figures::height(units, *eye_height_m))
        }
        ProblemReason::BelowHorizonInPart { mark, eye_height_m, parts_m } => format!(
            "{} off, {mark} is below the horizon of an eye {} high; in a trough sooner",
            parts(words, parts_m),
            figures::height(units, *eye_height_m)
        ),
        ProblemReason::BelowHorizonAtFarEnd { mark, distance_m } => {
            format!(
                "{mark} is below the horizon from the far end, {} away.",
                figures::length(units, *distance_m)
            )
        }
        ProblemReason::HeightNotGiven { mark } => format!(
            "the height of {mark} is not given, so whether it shows over horizon and front mark was not checked"
        ),
        ProblemReason::PairHeightNotGiven { mark } => format!(
            "The height of {mark} is not given, so whether the rear mark shows over the front one is not known."
        ),
        other => other.code().to_owned(),
    }
}

/// "from 200 m to 910 m and from 4000 m to 5000 m"
fn parts(words: &(impl Words + ?Sized), parts_m: &[[f64; 2]]) -> String {
    let whole = |length_m: f64| figures::whole(words.units(), length_m);
    joined(parts_m, " and ", |[from_m, to_m]| format!("from {} to {}", whole(*from_m), whole(*to_m)))
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn angles(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let units = words.units();
    let off = |signed_m: f64| {
        let side = if signed_m < 0.0 { "inside" } else { "outside" };
        format!("{} {side}", figures::whole(units, signed_m.abs()))
    };
    match problem {
        ProblemReason::CrossesObliquely { zone, angle_deg, distance_from_front_m } => format!(
            "the line crosses the boundary of {zone} at only {angle_deg:.0}°, {} off, which shows no place",
            figures::whole(units, *distance_from_front_m)
        ),
        ProblemReason::RunsObliquely { zone, angle_deg, near_signed_distance_m, far_signed_distance_m } => {
            format!(
                "the line runs at {angle_deg:.0}° to the boundary of {zone}: {} at the near end, {} at the far end",
                off(*near_signed_distance_m),
                off(*far_signed_distance_m)
            )
        }
        ProblemReason::ObliqueToDrift { carried_by, bearing, angle_deg } => {
            let what = match carried_by {
                CarriedBy::Drift => "drift",
                CarriedBy::Heading => "heading",
                other => other.into(),
            };
            format!(
                "the {what} of {} makes only {angle_deg:.0}° with the line, so the marks open late",
                words.bearing(*bearing)
            )
        }
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn light(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    const MINUTE: &str = "%Y-%m-%d %H:%M UTC";
    match problem {
        ProblemReason::Dark { time } => {
            format!("at {} it is night; marks without a light are not seen", time.strftime(MINUTE))
        }
        ProblemReason::SunInTheEyes { time, bearing, altitude_deg } => format!(
            "at {} the sun stands over the marks ({}, {altitude_deg:.0}° high), in your eyes",
            time.strftime(MINUTE),
            words.bearing(*bearing)
        ),
        ProblemReason::SunBehind { time, bearing, altitude_deg } => format!(
            "at {} the sun stands straight behind you ({}, {altitude_deg:.0}° high): the marks are lit flat and stand \
             out little",
            time.strftime(MINUTE),
            words.bearing(*bearing)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn one_mark(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    match problem {
        ProblemReason::MarkMovable { mark, comment } => {
            let why = comment.as_ref().map_or_else(|| ".".into(), |comment| format!(": {comment}"));
            format!("{mark} can move or be taken away{why}")
        }
        ProblemReason::MarkNeverConfirmed { mark } => {
            format!("Nobody has confirmed that {mark} stands there.")
        }
        ProblemReason::MarkLongUnconfirmed { mark, last_confirmed } => {
            format!("{mark} was last confirmed on {last_confirmed}, more than a year before.")
        }
        ProblemReason::ErrorAssumed { mark, uncertainty_95_m } => format!(
            "Nobody says how well the place of {mark} is known; ±{} is assumed.",
            figures::length(words.units(), *uncertainty_95_m)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn zones(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    match problem {
        ProblemReason::FalseClear { clear_m2, in_line_m2 } => format!(
            "inside a zone the marks look clear over {} of the working area, and in line over {}",
            words.area(*clear_m2),
            words.area(*in_line_m2)
        ),
        ProblemReason::HiddenWaterUnknown => {
            "over how much of the working area the marks hide a zone could not be worked out".into()
        }
        ProblemReason::StillInLine { in_line_m2 } => format!(
            "inside a zone the marks still look in line over {} of the working area",
            words.area(*in_line_m2)
        ),
        ProblemReason::ZoneOnBothSides { zone } => format!(
            "{zone} lies on both sides of the line, or straight along it, so no side of the marks says inside"
        ),
        ProblemReason::ZoneOnTheOtherSide { zone, than } => {
            format!("{zone} lies on the other side of the line than {than}")
        }
        ProblemReason::PairHasZoneBeyond { zone, front, rear, rear_shows } => format!(
            "{zone} lies on the other side of the line: where {rear} shows to the {} of {front} you may be nearing it.",
            words.left_or_right(*rear_shows)
        ),
        ProblemReason::CutByAnotherZone { zone } => format!("{zone} lies across the line too"),
        ProblemReason::ZoneLineNotKnown { zone, why } => {
            format!("the line of {zone} is not known ({why}), so nothing clears it here")
        }
        ProblemReason::ZoneAnywhere { zone } => {
            format!("Nobody knows where {zone} lies, so no pair can be said to clear it.")
        }
        ProblemReason::LaunchInsideZone { zone, to_cross } => {
            let launch = format!("the launch lies inside {zone}");
            let to_cross = to_cross.iter().map(|condition| words.condition(condition));
            std::iter::once(launch).chain(to_cross).collect::<Vec<_>>().join("; ")
        }
        ProblemReason::NoZoneLoaded => "no zone was loaded that counts, so the line shows no limit".into(),
        ProblemReason::MarkLikelyMisread { mark, distance_m, slip } => {
            let far = figures::far(words.units(), *distance_m);
            format!("{mark} stands {far} from every zone; {}", words.slip(*slip))
        }
        ProblemReason::NoZoneNear { within_m } => format!(
            "no zone lies within {} of the stretch, so the line shows no limit",
            figures::limit(words.units(), within_m / 1000.0)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn crossing(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let disagree = |which: &str| {
        format!(
            "The lines do not meet within their errors: {which}. Take them again, and check that each mark is the one \
             meant. The ellipse has been grown by their misfit."
        )
    };
    match problem {
        ProblemReason::CutTooShallow { angle_of_cut_deg, least_deg } => format!(
            "The lines cut at only {angle_of_cut_deg:.0}°, so a small error in one moves the position far. Take another \
             mark, as square to the first as you can find, {least_deg:.0}° at the least."
        ),
        ProblemReason::ThreeLinesDisagree => disagree("three lines cannot tell which of them is wrong"),
        ProblemReason::LinesDisagree { farthest, residual } => {
            let farthest = words.line_name(farthest);
            disagree(&format!("farthest off is {farthest}, by {residual:.1} of its standard errors"))
        }
        ProblemReason::TwoPositionsFit { distance_m, bearing, told_apart } => {
            let advice = if *told_apart {
                "The one near the place given was taken."
            } else {
                "Say which place you are near, or take a third line."
            };
            let way = words.bearing(*bearing);
            format!(
                "The lines also meet {} away, toward {way}. {advice}",
                figures::length(words.units(), *distance_m)
            )
        }
        ProblemReason::EllipseTooLarge { share } => format!(
            "The position is known to {:.0} % of the distance to the nearest mark, so the lines are not straight over its \
             doubt. Ellipse and circle have been grown until they hold what such lines may give.",
            100.0 * share
        ),
        other => other.code().to_owned(),
    }
}

pub(super) fn clears(words: &(impl Words + ?Sized), reason: &ClearsReason) -> String {
    let units = words.units();
    let along = |distance_from_front_m: &f64| figures::along(units, *distance_from_front_m);
    match reason {
        ClearsReason::LineNotKnown { zone } => format!("the line of {zone} is not known here"),
        ClearsReason::Enters { zone, distance_from_front_m } => {
            format!("it enters {zone} {} from the front mark", along(distance_from_front_m))
        }
        ClearsReason::RunsInside { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let [inside, _] = figures::to_digits_of_doubt(units, *signed_distance_m, *uncertainty_95_m);
            format!("it runs {inside} inside {zone}, {} from the front mark", along(distance_from_front_m))
        }
        ClearsReason::WithinDoubt { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let [off, doubt] = figures::to_digits_of_doubt(units, *signed_distance_m, *uncertainty_95_m);
            let at = along(distance_from_front_m);
            if *signed_distance_m < 0.0 {
                format!("{at} from the front mark it lies {off} inside {zone}, ±{doubt}")
            } else {
                format!("{at} from the front mark it clears {zone} by {off}, ±{doubt}")
            }
        }
        ClearsReason::Problem { problem } => words.transit_problem(problem),
        other => other.code().to_owned(),
    }
}

pub(super) fn pair(words: &(impl Words + ?Sized), reason: &PairReason) -> String {
    let units = words.units();
    let length = |length_m: f64| figures::length(units, length_m);
    let short_length = |length_m: f64| figures::short_in_sentence(units, length_m);
    match reason {
        PairReason::KeepsClear { zone, margin_m, uncertainty_95_m } => {
            let [margin, doubt] = figures::short_pair(units, *margin_m, *uncertainty_95_m);
            format!("keeps {margin} clear of {zone} at worst, doubt ±{doubt} counted")
        }
        PairReason::RunsInside { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let [inside, doubt] = figures::short_pair(units, *signed_distance_m, *uncertainty_95_m);
            let at = length(*distance_from_front_m);
            format!("runs {inside} inside {zone} at worst, {at} from the front mark, doubt ±{doubt}")
        }
        PairReason::NotSurelyClear { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let side = if *signed_distance_m < 0.0 { "inside" } else { "outside" };
            let [off, doubt] = figures::short_pair(units, *signed_distance_m, *uncertainty_95_m);
            let at = length(*distance_from_front_m);
            format!(
                "does not surely clear {zone}: {off} {side} at worst, {at} from the front mark, doubt ±{doubt}"
            )
        }
        PairReason::EyeSees { offset_m } => {
            format!("the eye sees {} off at the far end", short_length(*offset_m))
        }
        PairReason::EyeNeverSees => "the eye never sees the line left at the far end".into(),
        PairReason::MarksPutLineOff { uncertainty_95_m } => {
            format!(
                "the marks' places put the line off by ±{} at the far end",
                short_length(*uncertainty_95_m)
            )
        }
        PairReason::ServesSide { share, length_m } => {
            format!("serves {:.0} % of the {} of the side within range", 100.0 * share, length(*length_m))
        }
        PairReason::FrontHidesRear { front, rear } => {
            format!("{front} hides {rear} over part of the stretch")
        }
        PairReason::MarkBelowHorizon => "a mark is below the horizon at the far end".into(),
        PairReason::HeightsNotKnown { front, rear } => {
            format!("whether {rear} shows over {front} is not known")
        }
        PairReason::RearShows { front, rear } => format!("{rear} shows over {front} all along"),
        PairReason::GivesAway { width_m } => {
            format!("gives away a strip {} wide on the mean", short_length(*width_m))
        }
        PairReason::ZoneAnywhere { zone } => format!("nobody knows where {zone} lies"),
        other => other.code().to_owned(),
    }
}

pub(super) fn zone_side(words: &(impl Words + ?Sized), side: &SideName) -> String {
    let faces = words.compass_point(side.faces);
    side.number.map_or_else(|| format!("{faces} side"), |number| format!("{faces} side {number}"))
}

pub(super) fn compass_point(point: CompassPoint) -> &'static str {
    match point {
        CompassPoint::North => "north",
        CompassPoint::NorthEast => "north-east",
        CompassPoint::East => "east",
        CompassPoint::SouthEast => "south-east",
        CompassPoint::South => "south",
        CompassPoint::SouthWest => "south-west",
        CompassPoint::West => "west",
        CompassPoint::NorthWest => "north-west",
    }
}

pub(super) fn left_or_right(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

pub(super) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

pub(super) fn eye_sentence(words: &(impl Words + ?Sized), eye: &EyeSentence<'_>) -> String {
    let EyeSentence { rear, front, zone, .. } = eye;
    let (side, way) =
        (words.left_or_right(eye.rear_shows).to_uppercase(), words.compass_point(eye.zone_lies));
    format!("If {rear} shows {side} of {front}, take it that you are inside {zone}, to the {way}.")
}

pub(super) fn position_unsettled(why: PositionUnsettled) -> &'static str {
    match why {
        PositionUnsettled::NoZones => "no zones to ask",
        PositionUnsettled::Problem => "not to be used so",
        PositionUnsettled::Disagree => "the lines do not meet",
        PositionUnsettled::Ambiguous => "more than one position fits",
    }
}

pub(super) fn position_remedy(why: PositionUnsettled) -> &'static str {
    match why {
        PositionUnsettled::NoZones => "give the zones",
        PositionUnsettled::Problem => "see PROBLEMS below",
        PositionUnsettled::Disagree => "one is wrong, take them all again",
        PositionUnsettled::Ambiguous => "take a line that tells them apart",
    }
}

pub(super) fn line_name(line: &LineName) -> String {
    match line {
        LineName::Transit { front, rear } => format!("the transit of {front} and {rear}"),
        LineName::Bearing { mark } => format!("the bearing of {mark}"),
        LineName::HorizontalAngle { left, right } => format!("the angle from {left} to {right}"),
        // a kind of line that this version has no words for
        _ => "another line".into(),
    }
}

pub(super) fn variation_not_known(outside: Option<&OutsideMagneticModel>) -> String {
    match outside {
        Some(OutsideMagneticModel { time, model }) => format!(
            "the variation is not known on {time}: {model} holds from 2025-01-01 until the end of 2029"
        ),
        None => "no time was given, and the variation changes with time".into(),
    }
}

pub(super) fn bearings_in_short(bearing: TrueBearing, magnetic: MagneticBearing) -> String {
    let digits = |text: String| text.chars().take_while(char::is_ascii_digit).collect::<String>();
    format!("{}° T, {}° M", digits(bearing.to_string()), digits(magnetic.to_string()))
}
