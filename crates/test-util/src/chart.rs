//! Charts: two numbers for each place, so that the lines on which one of them stays the same are edges of a known model.

use takeline::{Arc, ArcSense, EdgeModel, Metres, Position};

use crate::Dice;
use crate::earth::{crossing, direct, inverse, isometric_deg, lat_of_isometric_deg, position};

/// Models whose curves lie no farther apart than this, in metres, are taken for the same.
const SAME_CURVE_M: f64 = 1e-4;

/// The two numbers of a place; both run from 0 to 1 over the shape and on beyond it.
pub type Numbers = (f64, f64);

/// A way to give each place near a shape two numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum Chart {
    /// Longitude and latitude: meridians and parallels.
    Graticule {
        /// Latitude of the origin.
        south_deg: f64,
        /// Longitude of the origin.
        west_deg: f64,
        /// Degrees of latitude from 0 to 1.
        height_deg: f64,
        /// Degrees of longitude from 0 to 1.
        width_deg: f64,
    },
    /// Two slanting directions, straight in longitude and latitude, each in degrees (of latitude, of longitude).
    Slanted {
        /// The place 0, 0.
        origin_deg: (f64, f64),
        /// From 0 to 1 in the first number.
        first_deg: (f64, f64),
        /// From 0 to 1 in the second number.
        second_deg: (f64, f64),
    },
    /// Two slanting directions of rhumb lines: as `Slanted`, with isometric latitude in place of latitude.
    Loxodromes {
        /// The place 0, 0.
        origin_deg: (f64, f64),
        /// From 0 to 1 in the first number.
        first_deg: (f64, f64),
        /// From 0 to 1 in the second number.
        second_deg: (f64, f64),
    },
    /// Direction and distance from a centre: geodesics and arcs.
    Spokes {
        /// The centre.
        centre: Position,
        /// Direction of the first number 0.
        start_deg: f64,
        /// Degrees from 0 to 1; 360 for a whole turn.
        sweep_deg: f64,
        /// Distance of the second number 0.
        inner_m: f64,
        /// Distance of the second number 1.
        outer_m: f64,
    },
    /// Geodesics that join places of the same share on opposite sides of four corners: south-west and on, anticlockwise.
    Geodesics {
        /// The corners.
        corners: [Position; 4],
    },
}

/// Which of the two numbers changes along an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// The first number grows.
    First,
    /// The second number grows.
    Second,
}

impl Chart {
    /// The place with these two numbers.
    #[must_use]
    pub fn at(&self, (u, v): Numbers) -> Position {
        let slant = |origin: (f64, f64), first: (f64, f64), second: (f64, f64)| {
            (origin.0 + u * first.0 + v * second.0, origin.1 + u * first.1 + v * second.1)
        };
        match *self {
            Self::Graticule { south_deg, west_deg, height_deg, width_deg } => {
                position(south_deg + v * height_deg, west_deg + u * width_deg)
            }
            Self::Slanted { origin_deg, first_deg, second_deg } => {
                let (lat_deg, lon_deg) = slant(origin_deg, first_deg, second_deg);
                position(lat_deg, lon_deg)
            }
            Self::Loxodromes { origin_deg, first_deg, second_deg } => {
                let (isometric, lon_deg) = slant(origin_deg, first_deg, second_deg);
                position(lat_of_isometric_deg(isometric), lon_deg)
            }
            Self::Spokes { centre, start_deg, sweep_deg, inner_m, outer_m } => {
                direct(centre, start_deg + sweep_deg * u, inner_m + (outer_m - inner_m) * v)
            }
            Self::Geodesics { corners: [south_west, south_east, north_east, north_west] } => {
                let column = (on(south_west, south_east, u), on(north_west, north_east, u));
                let row = (on(south_west, north_west, v), on(south_east, north_east, v));
                crossing(column, row)
            }
        }
    }

    /// Whether the first number comes round to where it began.
    #[must_use]
    pub fn goes_round(&self) -> bool {
        matches!(self, Self::Spokes { sweep_deg, .. } if *sweep_deg >= 360.0)
    }

    /// Whether all places with the second number 0 are one.
    #[must_use]
    pub fn meets_in_centre(&self) -> bool {
        matches!(self, Self::Spokes { inner_m, .. } if *inner_m <= 0.0)
    }

    /// Every model whose edge between two places of a line of this chart keeps to that line within 0.1 mm.
    #[must_use]
    pub fn models(&self, along: Along, from: Numbers, to: Numbers) -> Vec<EdgeModel> {
        let own = self.own_models(along, from, to);
        if matches!(own[0], EdgeModel::Arc(_)) || own.contains(&EdgeModel::Unstated) {
            return own;
        }
        // a parallel leaves its geodesic by L² tan φ / 8a in the middle, and no other pair of models by a tenth more
        let (start, end) = (self.at(from), self.at(to));
        let steepest = start.latitude().radians().abs().max(end.latitude().radians().abs());
        let length_m = inverse(start, end).0;
        if steepest < 1.48 && 2.0 * length_m * length_m * steepest.tan() / (8.0 * 6_378_137.0) < SAME_CURVE_M
        {
            return STRAIGHT_OR_UNSTATED.to_vec();
        }
        own
    }

    fn own_models(&self, along: Along, from: Numbers, to: Numbers) -> Vec<EdgeModel> {
        match (self, along) {
            (Self::Graticule { .. }, Along::Second) => STRAIGHT_OR_UNSTATED.to_vec(),
            (Self::Graticule { .. }, Along::First) => {
                let on_equator = self.at(from).latitude().degrees().abs() < 1e-12;
                if on_equator {
                    STRAIGHT_OR_UNSTATED.to_vec()
                } else {
                    vec![EdgeModel::RhumbLine, EdgeModel::PlateCarree]
                }
            }
            (Self::Slanted { .. }, _) => vec![EdgeModel::PlateCarree],
            (Self::Loxodromes { .. }, _) => vec![EdgeModel::RhumbLine],
            (Self::Geodesics { .. }, _) => vec![EdgeModel::Geodesic],
            (Self::Spokes { centre, .. }, Along::Second) => {
                let from_centre = self.meets_in_centre() && from.1.min(to.1) <= 0.0;
                if is_pole(*centre) && !from_centre {
                    STRAIGHT_OR_UNSTATED[..3].to_vec()
                } else {
                    vec![EdgeModel::Geodesic]
                }
            }
            (Self::Spokes { centre, sweep_deg, inner_m, outer_m, .. }, Along::First) => {
                let sense = if to.0 > from.0 { ArcSense::Clockwise } else { ArcSense::Counterclockwise };
                let radius = Metres::new(inner_m + (outer_m - inner_m) * from.1).expect("a radius");
                let mut models = vec![EdgeModel::Arc(Arc { centre: *centre, radius, sense })];
                if is_pole(*centre) && sweep_deg * (to.0 - from.0).abs() < 170.0 {
                    models.extend([EdgeModel::RhumbLine, EdgeModel::PlateCarree]);
                }
                models
            }
        }
    }
}

const STRAIGHT_OR_UNSTATED: [EdgeModel; 4] =
    [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree, EdgeModel::Unstated];

fn is_pole(centre: Position) -> bool {
    centre.latitude().degrees().abs() > 89.999_999_999
}

fn on(from: Position, to: Position, share: f64) -> Position {
    let (length_m, azimuth_deg) = inverse(from, to);
    direct(from, azimuth_deg, length_m * share)
}

impl Chart {
    /// A chart of a shape from 20 m to 1000 km, anywhere, often near a pole, 180° or the equator.
    pub fn random(dice: &mut Dice) -> Self {
        let size_m = dice.log_between(20.0, 1e6);
        // the shape and what is asked about it stay clear of the poles, where a chart of degrees ends
        let highest_deg = (86.0 - 2.5 * size_m / 111_000.0).max(40.0);
        let lat_deg = match dice.below(4) {
            0 => dice.between(-highest_deg, highest_deg),
            1 => dice.between(highest_deg - 3.0, highest_deg) * dice.one_of(&[-1.0, 1.0]),
            2 => dice.between(-0.5, 0.5) * size_m / 111_000.0,
            _ => dice.between(-60.0, 60.0),
        };
        let lon_deg = if dice.chance(0.3) { dice.between(179.0, 181.0) } else { dice.between(-180.0, 180.0) };
        let (tall_deg, wide_deg) = (size_m / 111_000.0, size_m / 111_000.0 / lat_deg.to_radians().cos());
        match dice.below(6) {
            0 => Self::graticule(dice, (lat_deg, lon_deg), (tall_deg, wide_deg.min(40.0))),
            1 => {
                let (first_deg, second_deg) = slant(dice, tall_deg, wide_deg.min(40.0));
                Self::Slanted { origin_deg: (lat_deg, lon_deg), first_deg, second_deg }
            }
            2 => {
                let (first_deg, second_deg) = slant(dice, wide_deg.min(40.0), wide_deg.min(40.0));
                let origin_deg = (isometric_deg(lat_deg), lon_deg);
                Self::Loxodromes { origin_deg, first_deg, second_deg }
            }
            3 => {
                let centre = if dice.chance(0.3) {
                    position(dice.one_of(&[-90.0, 90.0]), lon_deg)
                } else {
                    position(lat_deg, lon_deg)
                };
                let sweep_deg = dice.between(20.0, 300.0);
                let inner_m = if dice.chance(0.5) { 0.0 } else { size_m * dice.between(0.1, 0.8) };
                let start_deg = dice.between(0.0, 360.0);
                Self::Spokes { centre, start_deg, sweep_deg, inner_m, outer_m: size_m }
            }
            4 => {
                let at_pole = dice.chance(0.3);
                let centre_lat_deg = if at_pole { dice.one_of(&[-90.0, 90.0]) } else { lat_deg };
                let centre = position(centre_lat_deg, lon_deg);
                let inner_m = if dice.chance(0.6) { 0.0 } else { size_m * dice.between(0.1, 0.8) };
                let start_deg = dice.between(0.0, 360.0);
                Self::Spokes { centre, start_deg, sweep_deg: 360.0, inner_m, outer_m: size_m }
            }
            _ => Self::geodesics(dice, position(lat_deg, lon_deg), size_m),
        }
    }

    fn graticule(dice: &mut Dice, (lat_deg, lon_deg): (f64, f64), (tall_deg, wide_deg): (f64, f64)) -> Self {
        let (height_deg, width_deg) = (tall_deg * dice.between(0.4, 1.0), wide_deg * dice.between(0.4, 1.0));
        let south_deg = if dice.chance(0.2) { 0.0 } else { lat_deg };
        let west_deg = match dice.below(4) {
            0 => 180.0,
            1 => 180.0 - width_deg / 2.0,
            _ => lon_deg,
        };
        Self::Graticule { south_deg, west_deg, height_deg, width_deg }
    }

    /// Four corners of a skew quadrangle, none of its angles sharper than about 35°.
    fn geodesics(dice: &mut Dice, centre: Position, size_m: f64) -> Self {
        let turn_deg = dice.between(0.0, 360.0);
        let corners = [225.0, 135.0, 45.0, -45.0].map(|bearing_deg: f64| {
            let off_deg = dice.between(-15.0, 15.0);
            direct(centre, turn_deg + bearing_deg + off_deg, size_m * dice.between(0.35, 0.7))
        });
        Self::Geodesics { corners }
    }
}

/// Two directions at least 30° apart.
fn slant(dice: &mut Dice, tall_deg: f64, wide_deg: f64) -> ((f64, f64), (f64, f64)) {
    let turn = dice.between(0.0, 360.0_f64).to_radians();
    let between = dice.between(30.0, 150.0_f64).to_radians();
    let mut side = |angle: f64| {
        let length = dice.between(0.4, 1.0);
        (tall_deg * length * angle.sin(), wide_deg * length * angle.cos())
    };
    (side(turn), side(turn + between))
}
