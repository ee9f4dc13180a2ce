//! The sun over the marks, behind the observer, or gone.

use crate::rule::sun_direction;
use crate::transit::{Problem, ProblemReason, TransitReport};

/// Nearer than this to the line of sight, in degrees, the sun is in the eyes, or straight behind (common practice, no source).
const GLARE_DEG: f64 = 15.0;
/// Below this altitude, in degrees, the sun's upper edge is down: half a disc and standard refraction.
const SUNSET_DEG: f64 = -0.833;
/// Below this altitude, in degrees, civil twilight is over.
const NIGHT_DEG: f64 = -6.0;

/// What the light does to the marks at the time asked about; nothing without an hour.
pub(super) fn find(report: &TransitReport) -> Option<Problem> {
    let time = report.question.time.filter(|_| report.question.hour_is_known)?;
    let place = report.line.at(report.question.stretch.middle());
    let sun = sun_direction(place, time)?;
    if sun.altitude_deg < NIGHT_DEG {
        return Some(Problem::warning(ProblemReason::Dark { time }));
    }
    if sun.altitude_deg < SUNSET_DEG {
        return None;
    }
    let turn_deg = sun.azimuth.degrees() - report.bearing.degrees();
    let ahead = sun.altitude_deg.to_radians().cos() * turn_deg.to_radians().cos();
    let from_sight_deg = ahead.clamp(-1.0, 1.0).acos().to_degrees();
    let (bearing, altitude_deg) = (sun.azimuth, sun.altitude_deg);
    if from_sight_deg <= GLARE_DEG {
        return Some(Problem::warning(ProblemReason::SunInTheEyes { time, bearing, altitude_deg }));
    }
    (from_sight_deg >= 180.0 - GLARE_DEG)
        .then(|| Problem::note(ProblemReason::SunBehind { time, bearing, altitude_deg }))
}
