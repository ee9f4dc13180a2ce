//! Lines on the ellipsoid: geodesics and rhumb lines, direct and inverse, and earth-centred coordinates.

mod ellipsoid;
mod karney;
pub(crate) mod rhumb;
mod short;
mod vector;

pub use karney::GeodesicSegment;
pub use rhumb::RhumbLine;

#[cfg(feature = "transit")]
pub(crate) use ellipsoid::ECCENTRICITY_2;
pub(crate) use ellipsoid::{
    EQUATORIAL_RADIUS_M, LARGEST_RADIUS_M, MEAN_RADIUS_M, SMALLEST_RADIUS_M, Surface, from_earth_centred,
    surface,
};
pub(crate) use karney::{area_of, direct, inverse};
pub(crate) use short::{
    DEGREE_M, SHORT_M, at_most_m, azimuth_deg, distance_and_azimuth, distance_m, flattened,
    length_over_chord, on_surface, seen_from,
};
pub(crate) use vector::Vector;
