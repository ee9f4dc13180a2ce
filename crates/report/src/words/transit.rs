//! Marks in line in English: what is wrong with them, why a line keeps clear or does not, why a pair ranks as it
//! does, areas, and the sentence to remember.

use takeline::magnetic::OutsideMagneticModel;
use takeline::transit::{
    CarriedBy, ClearsReason, CompassPoint, LineName, PairReason, PlaceOfUse, ProblemReason, Severity, Side,
    SideName,
};
use takeline::{MagneticBearing, SideKind, TrueBearing};

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
        ProblemReason::OverLand
        | ProblemReason::OverLandInPart { .. }
        | ProblemReason::LandLeftOut { .. }
        | ProblemReason::MarkInWater { .. }
        | ProblemReason::PositionOnLand { .. } => land(words, problem),
        ProblemReason::VariationNotKnown { outside } => {
            let why = words.variation_not_known(Some(outside));
            format!("{why}, so there is no magnetic bearing; use the true one")
        }
        ProblemReason::TerrainNotChecked => {
            "nobody has checked for headlands, buildings or trees between you and the marks; look before you rely on them".into()
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
        PlaceOfUse::WorkingArea => "the water you work in",
        PlaceOfUse::Course => "the place where your course crosses the line of the marks",
        other => other.into(),
    };
    match problem {
        ProblemReason::MarksSwapped { place, rear, .. } => {
            format!("swap front and rear: {} is beyond {rear}", who(*place))
        }
        ProblemReason::PerhapsSwapped { front, rear } => format!(
            "there is no zone near the stretch off {front}, but there is one beyond {rear}. If you fish there, swap front and rear"
        ),
        ProblemReason::BetweenMarks { place, front, rear } => {
            format!("{} is between {front} and {rear}, where you cannot see them in line", who(*place))
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
            "the marks are only {} apart, so from {} away you never see them open, however far you are from the line. Find \
             marks farther apart, or stay closer to them",
            whole(*separation_m),
            whole(*far_m)
        ),
        ProblemReason::PlacesTooUncertain { separation_m, far_m, line_uncertainty_95_m } => format!(
            "the marks are only {} apart and their positions are not known well enough: {} away, the line is uncertain by \
             ±{} or more. Find marks farther apart, or survey these",
            whole(*separation_m),
            whole(*far_m),
            figures::two_digits(units, *line_uncertainty_95_m)
        ),
        ProblemReason::MarksTooClose { separation_m, far_m, line_uncertainty_95_m } => format!(
            "the marks are {} apart, less than a third of the {} to the far end, where the line is uncertain by ±{}",
            whole(*separation_m),
            whole(*far_m),
            figures::two_digits(units, *line_uncertainty_95_m)
        ),
        ProblemReason::PairTooUncertain { front, rear, separation_m, far_m, line_uncertainty_95_m } => {
            format!(
                "{front} and {rear} are {} apart, and their positions are so uncertain that the line may be wrong by {} at {}.",
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
            "all along the stretch {front} hides {rear}, so you never see them in line. Perhaps the two are swapped"
        ),
        ProblemReason::FrontHidesRearInPart { front, rear, parts_m } => {
            format!("{} away, {front} hides {rear}", parts(words, parts_m))
        }
        ProblemReason::FrontBeforeRear { front, rear, whole_stretch } => {
            let over = if *whole_stretch { "the whole stretch" } else { "part of the stretch" };
            format!("{front} hides {rear} over {over}.")
        }
        ProblemReason::BelowHorizon { mark, eye_height_m } => {
            format!(
                "{mark} is below the horizon for an eye {} above the water",
                figures::height(units, *eye_height_m)
            )
        }
        ProblemReason::BelowHorizonInPart { mark, eye_height_m, parts_m } => format!(
            "{} away, {mark} is below the horizon for an eye {} above the water, and sooner in a trough",
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
            "the height of {mark} is not given, so nobody has checked whether it shows above the horizon and the front mark"
        ),
        ProblemReason::PairHeightNotGiven { mark } => format!(
            "The height of {mark} is not given, so it is not known whether the rear mark shows above the front one."
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
            "the line crosses the boundary of {zone} at only {angle_deg:.0}°, {} away, too shallow to show where",
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
                "your {what} of {} is only {angle_deg:.0}° from the line, so the marks open late",
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
            format!("at {} it is night, and you will not see marks without a light", time.strftime(MINUTE))
        }
        ProblemReason::SunInTheEyes { time, bearing, altitude_deg } => format!(
            "at {} the sun is over the marks and in your eyes ({}, {altitude_deg:.0}° high)",
            time.strftime(MINUTE),
            words.bearing(*bearing)
        ),
        ProblemReason::SunBehind { time, bearing, altitude_deg } => format!(
            "at {} the sun is right behind you ({}, {altitude_deg:.0}° high), so the marks are lit flat and stand out less",
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
            format!("{mark} can move or be removed{why}")
        }
        ProblemReason::MarkNeverConfirmed { mark } => {
            format!("Nobody has confirmed that {mark} is still there.")
        }
        ProblemReason::MarkLongUnconfirmed { mark, last_confirmed } => {
            format!("{mark} was last confirmed on {last_confirmed}, more than a year earlier.")
        }
        ProblemReason::ErrorAssumed { mark, uncertainty_95_m } => format!(
            "The file does not say how well the position of {mark} is known, so ±{} is assumed.",
            figures::length(words.units(), *uncertainty_95_m)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn zones(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    match problem {
        ProblemReason::FalseClear { clear_m2, in_line_m2 } => format!(
            "over {} of the water you work in, you are inside a zone and the marks show outside; over {} more, they still look in line",
            words.area(*clear_m2),
            words.area(*in_line_m2)
        ),
        ProblemReason::HiddenWaterUnknown => {
            "it could not be worked out over how much of your water the marks show outside where you are inside".into()
        }
        ProblemReason::StillInLine { in_line_m2 } => format!(
            "over {} of the water you work in, you are inside a zone while the marks still look in line",
            words.area(*in_line_m2)
        ),
        ProblemReason::ZoneOnBothSides { zone } => format!(
            "{zone} is on both sides of the line, or lies along it, so the marks cannot show which side is inside"
        ),
        ProblemReason::ZoneOnTheOtherSide { zone, than } => {
            format!("{zone} is on the other side of the line from {than}")
        }
        ProblemReason::PairHasZoneBeyond { zone, front, rear, rear_shows } => format!(
            "{zone} is on the other side of the line: if {rear} shows to the {} of {front}, you may be getting close to it.",
            words.left_or_right(*rear_shows)
        ),
        ProblemReason::CutByAnotherZone { zone } => format!("the line runs through {zone} as well"),
        ProblemReason::ZoneLineNotKnown { zone, why } => {
            format!("the boundary of {zone} is not known ({why}), so no marks can keep you clear of it here")
        }
        ProblemReason::ZoneAnywhere { zone } => {
            format!("Nobody knows where {zone} is, so no pair can be said to clear it.")
        }
        ProblemReason::LaunchInsideZone { zone, to_cross } => {
            let launch = format!("you launch inside {zone}");
            let to_cross = to_cross.iter().map(|condition| words.condition(condition));
            std::iter::once(launch).chain(to_cross).collect::<Vec<_>>().join("; ")
        }
        ProblemReason::NoZoneLoaded => "no loaded zone counts here, so the line shows no boundary".into(),
        ProblemReason::MarkLikelyMisread { mark, distance_m, slip } => {
            let far = figures::far(words.units(), *distance_m);
            format!("{mark} is {far} from every zone; {}", words.slip(*slip))
        }
        ProblemReason::NoZoneNear { within_m } => format!(
            "there is no zone within {} of the stretch, so the line shows no boundary",
            figures::limit(words.units(), within_m / 1000.0)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn land(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let units = words.units();
    match problem {
        ProblemReason::OverLand => "by the coast supplied, the line is over land all along the stretch; check the marks, and from where to where you use them".into(),
        ProblemReason::OverLandInPart { parts_m } => format!(
            "by the coast supplied, the line runs over land {} from the front mark; no boat goes there, and from beyond it the land may hide the marks",
            parts(words, parts_m)
        ),
        ProblemReason::LandLeftOut { parts_m } => format!(
            "by the coast supplied, the line is over land {} from the front mark; that is left out of the stretch",
            parts(words, parts_m)
        ),
        ProblemReason::MarkInWater { mark, distance_m } => format!(
            "by the coast supplied, {mark} is in the water, {} from the nearest land; check its position, its signs and its datum, or the coast lacks that land",
            figures::whole(units, *distance_m)
        ),
        ProblemReason::PositionOnLand { distance_m } => format!(
            "By the coast supplied, this position is on land, {} from the water. Check that each mark is the one you mean, and where it stands.",
            figures::whole(units, *distance_m)
        ),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `problem` names all kinds")]
fn crossing(words: &(impl Words + ?Sized), problem: &ProblemReason) -> String {
    let disagree = |which: &str| {
        format!(
            "The bearings disagree by more than their errors: {which}. Retake all of them, and check that each mark is the one \
             you mean. The ellipse has been enlarged to allow for it."
        )
    };
    match problem {
        ProblemReason::CutTooShallow { angle_of_cut_deg, least_deg } => format!(
            "The bearings cross at only {angle_of_cut_deg:.0}°, so a small error in one moves the position a long way. Take another \
             mark as square to the first as you can, at least {least_deg:.0}°."
        ),
        ProblemReason::ThreeLinesDisagree => disagree("three of them cannot show which is wrong"),
        ProblemReason::LinesDisagree { farthest, residual } => {
            let farthest = words.line_name(farthest);
            disagree(&format!("the worst is {farthest}, {residual:.1} standard errors out"))
        }
        ProblemReason::TwoPositionsFit { distance_m, bearing, told_apart } => {
            let advice = if *told_apart {
                "The one near the place you gave is used."
            } else {
                "Say with --about roughly where you are, or take a bearing of a third mark."
            };
            let way = words.bearing(*bearing);
            format!(
                "They also cross {} away, toward {way}. {advice}",
                figures::length(words.units(), *distance_m)
            )
        }
        ProblemReason::EllipseTooLarge { share } => format!(
            "The position is uncertain by {:.0} % of the distance to the nearest mark, too much to treat bearings as straight lines \
             there. Ellipse and circle have been enlarged to allow for it.",
            100.0 * share
        ),
        other => other.code().to_owned(),
    }
}

pub(super) fn clears(words: &(impl Words + ?Sized), reason: &ClearsReason) -> String {
    let units = words.units();
    let along = |distance_from_front_m: &f64| figures::along(units, *distance_from_front_m);
    match reason {
        ClearsReason::LineNotKnown { zone } => format!("the boundary of {zone} is not known here"),
        ClearsReason::Enters { zone, distance_from_front_m, side } => {
            let at = along(distance_from_front_m);
            if *side == SideKind::Shore {
                return format!("the line comes over the shore into {zone} {at} from the front mark");
            }
            format!("the line enters {zone} {at} from the front mark")
        }
        ClearsReason::RunsInside { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let [inside, _] = figures::to_digits_of_doubt(units, *signed_distance_m, *uncertainty_95_m);
            format!(
                "the line runs {inside} inside {zone}, {} from the front mark",
                along(distance_from_front_m)
            )
        }
        ClearsReason::WithinDoubt {
            zone,
            signed_distance_m,
            uncertainty_95_m,
            distance_from_front_m,
            side,
        } => {
            let [off, doubt] = figures::to_digits_of_doubt(units, *signed_distance_m, *uncertainty_95_m);
            let at = along(distance_from_front_m);
            let nearest = words.side_there(*side);
            if *signed_distance_m < 0.0 {
                format!("{at} from the front mark the line is {off} inside {zone}, ±{doubt}{nearest}")
            } else {
                format!("{at} from the front mark the line clears {zone} by only {off}, ±{doubt}{nearest}")
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
            format!("at its closest still {margin} to spare from {zone}, after allowing ±{doubt}")
        }
        PairReason::RunsInside { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let [inside, doubt] = figures::short_pair(units, *signed_distance_m, *uncertainty_95_m);
            let at = length(*distance_from_front_m);
            format!("runs as far as {inside} ±{doubt} inside {zone}, {at} from the front mark")
        }
        PairReason::NotSurelyClear { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m } => {
            let side = if *signed_distance_m < 0.0 { "inside" } else { "outside" };
            let [off, doubt] = figures::short_pair(units, *signed_distance_m, *uncertainty_95_m);
            let at = length(*distance_from_front_m);
            format!(
                "not sure to clear {zone}: {off} ±{doubt} {side} at its closest, {at} from the front mark"
            )
        }
        PairReason::EyeSees { offset_m } => {
            format!("noticeable from {} off the line at the far end", short_length(*offset_m))
        }
        PairReason::EyeNeverSees => "at the far end you would never notice leaving the line".into(),
        PairReason::MarksPutLineOff { uncertainty_95_m } => {
            format!(
                "the marks' positions leave the line uncertain by ±{} at the far end",
                short_length(*uncertainty_95_m)
            )
        }
        PairReason::ServesSide { share, length_m } => {
            format!("covers {:.0} % of the {} of this side in range", 100.0 * share, length(*length_m))
        }
        PairReason::FrontHidesRear { front, rear } => {
            format!("{front} hides {rear} over part of the stretch")
        }
        PairReason::MarkBelowHorizon => "a mark is below the horizon from the far end".into(),
        PairReason::HeightsNotKnown { front, rear } => {
            format!("not known whether {rear} shows above {front}")
        }
        PairReason::RearShows { front, rear } => format!("{rear} shows above {front} all along"),
        PairReason::GivesAway { width_m } => {
            format!("loses a strip of open water {} wide on average", short_length(*width_m))
        }
        PairReason::ZoneAnywhere { zone } => format!("nobody knows where {zone} is"),
        other => other.code().to_owned(),
    }
}

pub(super) fn zone_side(words: &(impl Words + ?Sized), side: &SideName) -> String {
    let faces = words.compass_point(side.faces);
    side.number.map_or_else(|| format!("{faces} side"), |number| format!("{faces} side {number}"))
}

pub(super) fn side_there(side: SideKind) -> &'static str {
    match side {
        SideKind::Open | SideKind::Mouth => "",
        SideKind::Shore => ", from its shore",
        SideKind::Unresolved => ", from a side along the coast that nobody has supplied",
    }
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
    format!("If {rear} shows {side} of {front}, assume you are inside {zone}; it lies to the {way}.")
}

pub(super) fn position_unsettled(why: PositionUnsettled) -> &'static str {
    match why {
        PositionUnsettled::NoZones => "no zone was asked about",
        PositionUnsettled::Problem => "do not use them this way",
        PositionUnsettled::Disagree => "the bearings disagree",
        PositionUnsettled::Ambiguous => "more than one position fits",
    }
}

pub(super) fn position_remedy(why: PositionUnsettled) -> &'static str {
    match why {
        PositionUnsettled::NoZones => "give the zone files with --zones",
        PositionUnsettled::Problem => "see PROBLEMS below",
        PositionUnsettled::Disagree => "retake all of them; one is wrong",
        PositionUnsettled::Ambiguous => "take a bearing of another mark, or say roughly where with --about",
    }
}

pub(super) fn line_name(line: &LineName) -> String {
    match line {
        LineName::Transit { front, rear } => format!("the transit of {front} and {rear}"),
        LineName::Bearing { mark } => format!("the bearing of {mark}"),
        LineName::HorizontalAngle { left, right } => format!("the angle from {left} to {right}"),
        // a kind of line that this version has no words for
        _ => "another bearing".into(),
    }
}

pub(super) fn variation_not_known(outside: Option<&OutsideMagneticModel>) -> String {
    match outside {
        Some(OutsideMagneticModel { time, model }) => format!(
            "the variation is not known on {}: {model} is good from 2025-01-01 to the end of 2029",
            time.strftime("%Y-%m-%d")
        ),
        None => "no time was given, and variation changes with time".into(),
    }
}

pub(super) fn bearings_in_short(bearing: TrueBearing, magnetic: MagneticBearing) -> String {
    let digits = |text: String| text.chars().take_while(char::is_ascii_digit).collect::<String>();
    format!("{}° T, {}° M", digits(bearing.to_string()), digits(magnetic.to_string()))
}
