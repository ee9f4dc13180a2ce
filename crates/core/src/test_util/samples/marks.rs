//! What can be found about marks in line.

use jiff::civil::date;

use super::parts::midnight;
use crate::rule::Condition;
use crate::zone::Slip;
use crate::{Metres, SideKind, TrueBearing, transit};

/// What can be wrong with marks, of every kind.
#[must_use]
#[expect(clippy::too_many_lines, reason = "one of each kind")]
pub fn transit_problems() -> Vec<transit::ProblemReason> {
    use transit::{CarriedBy, LineName, PlaceOfUse, ProblemReason, Side};
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let (mark, zone) = (rear, || "Sallow Cove".to_owned());
    let time = midnight().timestamp();
    let bearing = TrueBearing::wrapping(268.0);
    let outside = crate::magnetic::OutsideMagneticModel { time, model: "WMM2025" };
    let (separation_m, far_m, line_uncertainty_95_m) = (1495.0, 3000.0, 27.4);
    let parts_m = || vec![[200.0, 910.0], [4000.0, 5000.0]];
    let mut problems = Vec::new();
    for place in [PlaceOfUse::WorkingArea, PlaceOfUse::Course] {
        problems.push(ProblemReason::MarksSwapped { place, front: front(), rear: rear() });
        problems.push(ProblemReason::BetweenMarks { place, front: front(), rear: rear() });
    }
    for carried_by in [CarriedBy::Drift, CarriedBy::Heading] {
        problems.push(ProblemReason::ObliqueToDrift { carried_by, bearing, angle_deg: 12.0 });
    }
    for whole_stretch in [true, false] {
        problems.push(ProblemReason::FrontBeforeRear { front: front(), rear: rear(), whole_stretch });
    }
    for comment in [None, Some("a tree can fall".to_owned())] {
        problems.push(ProblemReason::MarkMovable { mark: mark(), comment });
    }
    for told_apart in [true, false] {
        problems.push(ProblemReason::TwoPositionsFit { distance_m: 1200.0, bearing, told_apart });
    }
    for farthest in [
        LineName::Transit { front: front(), rear: rear() },
        LineName::Bearing { mark: mark() },
        LineName::HorizontalAngle { left: front(), right: rear() },
    ] {
        problems.push(ProblemReason::LinesDisagree { farthest, residual: 3.2 });
    }
    problems.extend([
        ProblemReason::PerhapsSwapped { front: front(), rear: rear() },
        ProblemReason::MarksNeverOpen { separation_m, far_m },
        ProblemReason::PlacesTooUncertain { separation_m, far_m, line_uncertainty_95_m },
        ProblemReason::MarksTooClose { separation_m, far_m, line_uncertainty_95_m },
        ProblemReason::PairTooUncertain {
            front: front(),
            rear: rear(),
            separation_m,
            far_m,
            line_uncertainty_95_m,
        },
        ProblemReason::FrontHidesRear { front: front(), rear: rear() },
        ProblemReason::FrontHidesRearInPart { front: front(), rear: rear(), parts_m: parts_m() },
        ProblemReason::BelowHorizon { mark: mark(), eye_height_m: 0.9 },
        ProblemReason::BelowHorizonInPart { mark: mark(), eye_height_m: 0.9, parts_m: parts_m() },
        ProblemReason::BelowHorizonAtFarEnd { mark: mark(), distance_m: 12_400.0 },
        ProblemReason::OverLand,
        ProblemReason::OverLandInPart { parts_m: parts_m() },
        ProblemReason::LandLeftOut { parts_m: vec![[60.0, 310.0]] },
        ProblemReason::MarkInWater { mark: mark(), distance_m: 340.0 },
        ProblemReason::PositionOnLand { distance_m: 340.0 },
        ProblemReason::HeightNotGiven { mark: mark() },
        ProblemReason::PairHeightNotGiven { mark: mark() },
        ProblemReason::CrossesObliquely { zone: zone(), angle_deg: 20.0, distance_from_front_m: 640.0 },
        ProblemReason::RunsObliquely {
            zone: zone(),
            angle_deg: 35.0,
            near_signed_distance_m: 300.0,
            far_signed_distance_m: -4.0,
        },
        ProblemReason::SunInTheEyes { time, bearing, altitude_deg: 8.0 },
        ProblemReason::SunBehind { time, bearing, altitude_deg: 8.0 },
        ProblemReason::Dark { time },
        ProblemReason::MarkNeverConfirmed { mark: mark() },
        ProblemReason::MarkLongUnconfirmed { mark: mark(), last_confirmed: date(2024, 6, 21) },
        ProblemReason::ErrorAssumed { mark: mark(), uncertainty_95_m: 10.0 },
        ProblemReason::FalseClear { clear_m2: 89_000.0, in_line_m2: 4620.0 },
        ProblemReason::StillInLine { in_line_m2: 4620.0 },
        ProblemReason::HiddenWaterUnknown,
        ProblemReason::ZoneOnBothSides { zone: zone() },
        ProblemReason::ZoneOnTheOtherSide { zone: zone(), than: "Gannet Bank".to_owned() },
        ProblemReason::PairHasZoneBeyond {
            zone: zone(),
            front: front(),
            rear: rear(),
            rear_shows: Side::Left,
        },
        ProblemReason::CutByAnotherZone { zone: zone() },
        ProblemReason::ZoneLineNotKnown { zone: zone(), why: "see plan MP2, not supplied".to_owned() },
        ProblemReason::ZoneAnywhere { zone: zone() },
        ProblemReason::LaunchInsideZone { zone: zone(), to_cross: vec![Condition::KeepGoing] },
        ProblemReason::NoZoneLoaded,
        ProblemReason::MarkLikelyMisread { mark: mark(), distance_m: 5_400_000.0, slip: Slip::LongitudeSign },
        ProblemReason::NoZoneNear { within_m: transit::NEAR_M },
        ProblemReason::VariationNotKnown { outside },
        ProblemReason::TerrainNotChecked,
        ProblemReason::CutTooShallow { angle_of_cut_deg: 17.0, least_deg: 30.0 },
        ProblemReason::ThreeLinesDisagree,
        ProblemReason::EllipseTooLarge { share: 0.4 },
    ]);
    problems
}

/// Why lines do not keep clear, of every kind.
#[must_use]
pub fn clears_reasons() -> Vec<transit::ClearsReason> {
    use transit::ClearsReason;
    let zone = || "Sallow Cove".to_owned();
    let (uncertainty_95_m, distance_from_front_m) = (31.0, 2990.0);
    let within_doubt = |signed_distance_m, side| ClearsReason::WithinDoubt {
        zone: zone(),
        signed_distance_m,
        uncertainty_95_m,
        distance_from_front_m,
        side,
    };
    vec![
        ClearsReason::LineNotKnown { zone: zone() },
        ClearsReason::Enters { zone: zone(), distance_from_front_m: 640.0, side: SideKind::Open },
        ClearsReason::Enters { zone: zone(), distance_from_front_m: 640.0, side: SideKind::Shore },
        ClearsReason::RunsInside {
            zone: zone(),
            signed_distance_m: -96.0,
            uncertainty_95_m,
            distance_from_front_m,
        },
        within_doubt(12.0, SideKind::Open),
        within_doubt(12.0, SideKind::Unresolved),
        within_doubt(-12.0, SideKind::Shore),
        ClearsReason::Problem { problem: transit::ProblemReason::NoZoneLoaded },
    ]
}

/// What follows from fixes on a line, of every kind.
#[must_use]
#[expect(clippy::too_many_lines, reason = "one of each kind")]
pub fn calibration_reasons() -> Vec<transit::CalibrationReason> {
    use transit::{CalibrationReason, FurtherFixes, LineOffset, UnusedFix, UnusedFixes};
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let offset = |along_m, right_m| LineOffset {
        distance_from_front: Metres::computed(along_m),
        to_the_right: Metres::computed(right_m),
        uncertainty_95: Metres::computed(3.1),
    };
    let (to_the_right_m, uncertainty_95_m) = (-20.4, 4.2);
    let (covered_m, distance_from_front_m) = (42.0, 800.0);
    let mut reasons = Vec::new();
    for either_explains in [true, false] {
        reasons.push(CalibrationReason::OneFixCannotTell { either_explains, distance_from_front_m });
        reasons.push(CalibrationReason::FixesTooNear { either_explains, covered_m });
        reasons.push(CalibrationReason::FixesTooFew { either_explains, covered_m, separation_m: 1495.0 });
    }
    for (why, numbers) in [
        (UnusedFix::Between, vec![1]),
        (UnusedFix::Behind, vec![2, 3]),
        (UnusedFix::TooFarAway, vec![4]),
        (UnusedFix::TooCoarse, vec![5]),
        (UnusedFix::NeverOpens, vec![6]),
        (UnusedFix::Opened, vec![7]),
        (UnusedFix::Outlier, vec![8]),
        (UnusedFix::Outlier, vec![8, 10, 11, 12]),
    ] {
        reasons.push(CalibrationReason::NotUsed { unused: UnusedFixes { numbers, why } });
    }
    let farther = FurtherFixes { fixes: 4, distance_from_front_m: 2400.0, or_farther: true };
    let nearer = FurtherFixes { fixes: 3, distance_from_front_m: 150.0, or_farther: false };
    reasons.extend([
        CalibrationReason::LinePasses {
            front: front(),
            at: vec![offset(800.0, 12.0)],
            is_stated_line: false,
        },
        CalibrationReason::LinePasses {
            front: front(),
            at: vec![offset(600.0, 8.4), offset(2600.0, -0.2)],
            is_stated_line: true,
        },
        CalibrationReason::MarksStand {
            front: front(),
            front_to_the_right_m: 0.4,
            front_uncertainty_95_m: 3.1,
            rear: rear(),
            rear_to_the_right_m: -19.6,
            rear_uncertainty_95_m: 4.7,
        },
        CalibrationReason::BothMarksOff { front: front(), rear: rear() },
        CalibrationReason::OtherMarkOff { mark: rear(), other: front() },
        CalibrationReason::OneMarkOff { mark: rear(), other: front(), to_the_right_m, uncertainty_95_m },
        CalibrationReason::StatedErrorsTooSmall { times: 3.4 },
        CalibrationReason::FixesTellNothing {
            distance_from_front_m,
            to_the_right_m,
            uncertainty_95_m,
            stated_uncertainty_95_m: 18.0,
        },
        CalibrationReason::TakeFurtherFixes { front: front(), ways: vec![farther, nearer] },
        CalibrationReason::NoFixesWouldTell,
        CalibrationReason::TakeMoreFixes { fixes: 12 },
        CalibrationReason::TakeBetterFixes,
        CalibrationReason::FixesCountAsFewer { fixes: 30, independent: 12, together_m: 100.0 },
        CalibrationReason::FixesScatter { times: 1.7 },
    ]);
    reasons
}

/// Why pairs of marks rank as they do, of every kind.
#[must_use]
pub fn pair_reasons() -> Vec<transit::PairReason> {
    use transit::PairReason;
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let zone = || "Sallow Cove".to_owned();
    let (uncertainty_95_m, distance_from_front_m) = (31.0, 2990.0);
    let not_surely = |signed_distance_m| PairReason::NotSurelyClear {
        zone: zone(),
        signed_distance_m,
        uncertainty_95_m,
        distance_from_front_m,
    };
    vec![
        PairReason::KeepsClear { zone: zone(), margin_m: 59.0, uncertainty_95_m },
        PairReason::RunsInside {
            zone: zone(),
            signed_distance_m: -96.0,
            uncertainty_95_m,
            distance_from_front_m,
        },
        not_surely(12.0),
        not_surely(-12.0),
        PairReason::EyeSees { offset_m: 4.9 },
        PairReason::EyeNeverSees,
        PairReason::MarksPutLineOff { uncertainty_95_m },
        PairReason::ServesSide { share: 0.93, length_m: 2596.0 },
        PairReason::FrontHidesRear { front: front(), rear: rear() },
        PairReason::MarkBelowHorizon,
        PairReason::HeightsNotKnown { front: front(), rear: rear() },
        PairReason::RearShows { front: front(), rear: rear() },
        PairReason::GivesAway { width_m: 96.0 },
        PairReason::ZoneAnywhere { zone: zone() },
    ]
}
