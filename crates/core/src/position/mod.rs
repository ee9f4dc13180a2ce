//! A place on the WGS 84 ellipsoid, and its text forms.

mod place;

pub use place::Position;
