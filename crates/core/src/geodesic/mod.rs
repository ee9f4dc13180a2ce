//! Lines on the ellipsoid: geodesics and rhumb lines, direct and inverse.
