//! The line through two marks, and what an eye off it sees.

use super::{OnLine, Seen, TransitError};
use crate::angle::wrap_degrees;
use crate::geodesic::{direct, inverse};
use crate::landmark::Landmark;
use crate::{Arcminutes, Metres, Position, TrueBearing};

/// Marks nearer to each other than this show no line that their places could be known for, in metres.
const LEAST_SEPARATION_M: f64 = 0.5;
/// Marks farther apart than this are not seen in one glance from any small craft, in metres.
const GREATEST_SEPARATION_M: f64 = 100_000.0;

/// Two marks, and the line on which an observer sees the rear one over the front one: the geodesic from the rear mark
/// through the front mark, carried on over the water.
///
/// Distances along it count from the front mark, seaward. Left and right are those of an observer who looks at the
/// marks.
///
/// # Examples
///
/// ```
/// use takeline::{Metres, Position, landmark::Landmark, transit::RangeLine};
///
/// let beacon = Landmark::at("beacon", Position::from_degrees(45.1252, -30.1310)?);
/// let pine = Landmark::at("pine", Position::from_degrees(45.1255, -30.1120)?);
/// let line = RangeLine::through(beacon, pine)?;
/// assert_eq!(line.separation().metres().round(), 1495.0);
/// // one minute of arc is seen 0.5 m off the line at 1 km, with marks 1.5 km apart
/// let off = line.offset_for(Metres::new(1000.0)?, takeline::Arcminutes::new(1.0)?);
/// assert_eq!(format!("{:.2}", off.ok_or("never")?.metres()), "0.49");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RangeLine {
    front: Landmark,
    rear: Landmark,
    separation_m: f64,
    /// Direction of the line at the front mark, away from the rear mark.
    #[cfg_attr(feature = "serde", serde(skip))]
    seaward_azimuth_deg: f64,
    #[cfg_attr(feature = "serde", serde(skip))]
    doubt: LineDoubt,
}

/// How far off the line the two marks may stand, as a covariance of their 95 % offsets across it, in square metres.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
pub(crate) struct LineDoubt {
    pub(crate) front_m2: f64,
    pub(crate) rear_m2: f64,
    pub(crate) both_m2: f64,
}

impl RangeLine {
    /// Makes the line through two marks; their position errors are taken as independent.
    ///
    /// # Errors
    ///
    /// [`TransitError`] if the marks are one place, or farther apart than anybody sees.
    pub fn through(front: Landmark, rear: Landmark) -> Result<Self, TransitError> {
        let square = |error: Metres| error.metres() * error.metres();
        let doubt = LineDoubt {
            front_m2: square(front.position_error_95),
            rear_m2: square(rear.position_error_95),
            both_m2: 0.0,
        };
        Self::with_doubt(front, rear, doubt)
    }

    /// As [`Self::through`], with what is known about both marks together.
    pub(crate) fn with_doubt(
        front: Landmark,
        rear: Landmark,
        doubt: LineDoubt,
    ) -> Result<Self, TransitError> {
        let between = inverse(rear.position, front.position);
        let names = || (front.name.clone(), rear.name.clone());
        if between.distance_m < LEAST_SEPARATION_M {
            let (front, rear) = names();
            return Err(TransitError::OnePlace { front, rear });
        }
        if between.distance_m > GREATEST_SEPARATION_M {
            let (front, rear) = names();
            return Err(TransitError::TooFarApart { front, rear, separation_m: between.distance_m });
        }
        let (separation_m, seaward_azimuth_deg) = (between.distance_m, between.azimuth_end_deg);
        Ok(Self { front, rear, separation_m, seaward_azimuth_deg, doubt })
    }

    /// Returns the mark nearer to the observer.
    #[must_use]
    pub fn front(&self) -> &Landmark {
        &self.front
    }

    /// Returns the mark farther from the observer.
    #[must_use]
    pub fn rear(&self) -> &Landmark {
        &self.rear
    }

    /// Returns the geodesic distance between the marks, in metres.
    #[must_use]
    pub fn separation(&self) -> Metres {
        Metres::computed(self.separation_m)
    }

    /// Returns the place on the line at a distance from the front mark; a negative distance lies towards the rear mark.
    ///
    /// # Accuracy
    ///
    /// Within 1 µm (Karney's direct problem).
    #[must_use]
    pub fn at(&self, distance_from_front: Metres) -> Position {
        direct(self.front.position, self.seaward_azimuth_deg, distance_from_front.metres())
    }

    /// Returns the place at a distance from the front mark and a distance off the line, to the right positive.
    #[must_use]
    pub fn beside(&self, distance_from_front: Metres, to_the_right: Metres) -> Position {
        let on_line = self.at(distance_from_front);
        let right = self.bearing_at(distance_from_front).degrees() + 90.0;
        direct(on_line, right, to_the_right.metres())
    }

    /// Returns the true bearing of both marks for an observer on the line.
    #[must_use]
    pub fn bearing_at(&self, distance_from_front: Metres) -> TrueBearing {
        let distance_m = distance_from_front.metres();
        if distance_m.abs() < 1e-3 {
            return TrueBearing::wrapping(self.seaward_azimuth_deg + 180.0);
        }
        let back = inverse(self.at(distance_from_front), self.front.position).azimuth_start_deg;
        TrueBearing::wrapping(if distance_m > 0.0 { back } else { back + 180.0 })
    }

    /// Finds how far along the line and how far to the right of it a place lies.
    ///
    /// # Units
    ///
    /// Metres along and square to the geodesic.
    ///
    /// # Accuracy
    ///
    /// Within 1 µm up to 100 km (`tests/transits.rs`, `computed_transits`: the tenth of a millimetre that is printed there).
    ///
    /// # References
    ///
    /// Newton's method on the foot of the perpendicular, each step one inverse problem (Karney 2013).
    #[must_use]
    pub fn place(&self, position: Position) -> OnLine {
        let mut along_m = 0.0;
        let mut across_m = 0.0;
        for _ in 0..6 {
            let foot = self.at(Metres::computed(along_m));
            let seaward = self.bearing_at(Metres::computed(along_m)).degrees() + 180.0;
            let to_place = inverse(foot, position);
            let (sin, cos) = (to_place.azimuth_start_deg - seaward).to_radians().sin_cos();
            let step_m = to_place.distance_m * cos;
            along_m += step_m;
            // to the right of somebody who goes seaward is to the left of somebody who looks at the marks
            across_m = -to_place.distance_m * sin;
            if step_m.abs() < 1e-7 {
                break;
            }
        }
        OnLine { distance_from_front: Metres::computed(along_m), to_the_right: Metres::computed(across_m) }
    }

    /// Tells what an eye at a place sees: the angle from the front mark to the rear mark, to the right positive.
    ///
    /// # Units
    ///
    /// Minutes of arc, from −10 800 to 10 800; metres to each mark.
    ///
    /// # Edge cases
    ///
    /// Between the marks the angle is near half a turn; from behind the rear mark it is small again and the sides are
    /// exchanged, which is what the eye sees. On a mark itself the direction to it is that of the algorithm, 0.
    #[must_use]
    pub fn seen_from(&self, position: Position) -> Seen {
        let front = inverse(position, self.front.position);
        let rear = inverse(position, self.rear.position);
        let opening_deg = wrap_degrees(rear.azimuth_start_deg - front.azimuth_start_deg);
        Seen {
            rear_from_front: Arcminutes::computed(opening_deg * 60.0),
            front_bearing: TrueBearing::wrapping(front.azimuth_start_deg),
            front_distance: Metres::computed(front.distance_m),
            rear_distance: Metres::computed(rear.distance_m),
        }
    }

    /// Returns how far the line may be off at a distance from the front mark because the marks may stand elsewhere, 95 %.
    ///
    /// With errors e of the front and r of the rear mark, separation S and distance D: √((e·(D+S)/S)² + (r·D/S)²).
    ///
    /// # Units
    ///
    /// Metres, square to the line, either way.
    ///
    /// # Accuracy
    ///
    /// Within 3 % while both errors together, √(e² + r²), stay below a fifth of the separation (`tests/transits.rs`,
    /// `monte_carlo`); there it is 2 % too small. Beyond that the true doubt is larger yet, and a check says so
    /// ([`super::ProblemCode::MarksTooClose`]).
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Metres, Position, TrueBearing, GeodesicSegment, landmark::Landmark, transit::RangeLine};
    /// // two marks known to 10 m and 100 m apart: ±149 m at 1 km
    /// let front = Position::from_degrees(45.12, -30.13)?;
    /// let east = TrueBearing::from_degrees(90.0)?;
    /// let rear = GeodesicSegment::leaving(front, east, Metres::new(100.0)?)?.to();
    /// let line = RangeLine::through(Landmark::at("front", front), Landmark::at("rear", rear))?;
    /// assert_eq!(line.uncertainty_95(Metres::new(1000.0)?).metres().round(), 149.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn uncertainty_95(&self, distance_from_front: Metres) -> Metres {
        let lever = distance_from_front.metres() / self.separation_m;
        let of_front = 1.0 + lever;
        let square_m2 = of_front * of_front * self.doubt.front_m2 + lever * lever * self.doubt.rear_m2
            - 2.0 * of_front * lever * self.doubt.both_m2;
        Metres::computed(square_m2.max(0.0).sqrt())
    }

    /// The least that [`Self::uncertainty_95`] is between two distances, in metres: a line that was calibrated is known
    /// best where it was, and worse to both sides of that.
    pub(crate) fn least_uncertainty_95_m(&self, near_m: f64, far_m: f64) -> f64 {
        let LineDoubt { front_m2, rear_m2, both_m2 } = self.doubt;
        let bend_m2 = front_m2 + rear_m2 - 2.0 * both_m2;
        let lowest = (both_m2 - front_m2) / bend_m2 * self.separation_m;
        let at_m = if lowest.is_finite() { lowest.clamp(near_m, far_m) } else { near_m };
        self.uncertainty_95(Metres::computed(at_m)).metres()
    }

    /// Returns by how many minutes of arc the marks open for each metre off the line, close to it: S / (D·(D+S)).
    #[must_use]
    pub fn arcmin_per_metre(&self, distance_from_front: Metres) -> Arcminutes {
        let away_m = distance_from_front.metres();
        let radians = self.separation_m / (away_m * (away_m + self.separation_m));
        Arcminutes::computed(radians.to_degrees() * 60.0)
    }

    /// Returns how far off the line the marks have opened by an angle; none if they never open so far there.
    ///
    /// # Accuracy
    ///
    /// Exact on the plane: the places that see two marks under one angle lie on a circle through both (inscribed angle).
    /// Close to the line this is angle · D·(D+S) / S.
    #[must_use]
    pub fn offset_for(&self, distance_from_front: Metres, opening: Arcminutes) -> Option<Metres> {
        let away_m = distance_from_front.metres();
        let tangent = opening.radians().abs().tan();
        let product_m2 = away_m * (away_m + self.separation_m);
        let under_root = self.separation_m * self.separation_m - 4.0 * tangent * tangent * product_m2;
        if under_root < 0.0 {
            return None;
        }
        // the smaller root, written so that a small angle loses no digits
        Some(Metres::computed(2.0 * tangent * product_m2 / (self.separation_m + under_root.sqrt())))
    }

    /// The largest share of the separation that the marks' errors together are, at 95 %.
    pub(crate) fn relative_error(&self) -> f64 {
        (self.doubt.front_m2 + self.doubt.rear_m2).sqrt() / self.separation_m
    }
}
