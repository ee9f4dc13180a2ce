//! What of a track lies on land, and where the nearest side is that a boat can cross.

use takeline::Metres;

use super::{MomentDocument, ShownPlace};

/// What of a log lies on land.
#[derive(Debug, Clone, serde::Serialize)]
pub struct OnLandDocument<'a> {
    /// The coasts, by their titles, or paths where they have none.
    pub coasts: &'a [String],
    /// How many fixes lie on land for sure.
    pub fixes: u64,
    /// Of so many that are believed.
    pub of: u64,
    /// How many legs between two other fixes lead over land for sure.
    pub legs: u64,
    /// The first of them, a leg by its end; null if there is none.
    pub first: Option<MomentDocument>,
}

/// The nearest place of the sides that a boat can cross.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct CrossableDocument {
    /// How far it is, positive outside.
    #[serde(rename = "signed_distance_m")]
    pub signed_distance: Metres,
    /// Where.
    #[serde(flatten)]
    pub place: ShownPlace,
    /// True bearing to it; null where its place is withheld.
    pub bearing_true_deg: Option<f64>,
}
