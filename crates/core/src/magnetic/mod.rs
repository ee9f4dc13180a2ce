//! Magnetic variation from the World Magnetic Model 2025, and what lies outside its life.

mod variation;

pub use variation::{MagneticVariation, OutsideMagneticModel, variation};
