//! Magnetic variation from the World Magnetic Model 2025, and what lies outside its life.
//!
//! The model gives the field of the Earth's core. What a compass shows besides, its **deviation** from a steel hook, a
//! battery, a loudspeaker or the phone itself, is not in it and not in any answer here: it belongs to the boat and can be
//! many degrees. Rocks, wrecks and magnetic storms are not in it either, but the model's makers count them in the
//! standard error that they give.

#[cfg(test)]
mod coefficients_tests;
#[cfg(test)]
mod epoch_tests;
mod field;
#[cfg(test)]
mod field_tests;
mod harmonics;
mod variation;
#[cfg(test)]
mod variation_tests;

pub use field::{MagneticField, UnknownField, field};
pub use variation::{MagneticVariation, OutsideMagneticModel, variation};
