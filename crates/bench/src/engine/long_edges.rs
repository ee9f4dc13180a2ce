//! How right distances to long edges are, for every way that an edge can run: squares of which one edge is looked at.

use fastrand::Rng;
use geo::Coord;
use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec};

use crate::failure::Failure;
use crate::goal::Goal;
use crate::peers::{Course, away_m};
use crate::sheet;

/// Fixes for each course and length.
const FIXES: usize = 60;
/// Metres of a degree of latitude, to lay things out.
const DEGREE_M: f64 = 111_000.0;

pub(super) fn measure() -> Result<(), Failure> {
    let done = format!(
        "Squares at 10°, 35° and 60° N, sides as long as the row says; {FIXES} places for each, at most 50 or 100 km from the \
         line; against the nearest point of all four sides, narrowed down with Karney's inverse."
    );
    sheet::begin("Accuracy beside long edges", &done);
    let mut random = Rng::with_seed(11);
    for (course, model, name) in [
        (Course::Geodesic, EdgeModel::Geodesic, "geodesic"),
        (Course::Rhumb, EdgeModel::RhumbLine, "rhumb line"),
        (Course::Straight, EdgeModel::PlateCarree, "straight in degrees"),
    ] {
        for (reach_m, goal_um) in [(50_000.0, 10.0), (100_000.0, 1_000.0)] {
            let mut largest_um: f64 = 0.0;
            for side_m in [1_000.0, 10_000.0, 100_000.0, 500_000.0] {
                largest_um = largest_um.max(1e6 * worst_m((course, model), (side_m, reach_m), &mut random)?);
            }
            let what = format!("largest error in µm within {:.0} km, sides of 1 to 500 km", reach_m / 1e3);
            let own = format!("{:.1e} m", largest_um * 1e-6);
            sheet::row((name, &what), &own, "–", (largest_um, Some(Goal::at_most(goal_um))));
        }
    }
    Ok(())
}

fn worst_m(
    (course, model): (Course, EdgeModel),
    (side_m, reach_m): (f64, f64),
    random: &mut Rng,
) -> Result<f64, Failure> {
    let mut worst_m: f64 = 0.0;
    for middle_lat in [10.0, 35.0, 60.0] {
        let corners = square(middle_lat, side_m);
        let boundary = built(&corners, model)?;
        for _ in 0..FIXES {
            let at = beside(&corners, reach_m, random);
            let edges = corners.iter().zip(corners.iter().cycle().skip(1));
            let true_m =
                edges.map(|(from, to)| away_m(course, (*from, *to), &at)).fold(f64::INFINITY, f64::min);
            if true_m <= reach_m {
                let found_m = boundary.how_far(Position::from_degrees(at.y, at.x)?).signed_distance.metres();
                worst_m = worst_m.max((found_m.abs() - true_m).abs());
            }
        }
    }
    Ok(worst_m)
}

/// A square, turned a little so that no side is a meridian or a parallel.
fn square(lat_deg: f64, side_m: f64) -> [Coord; 4] {
    let half_deg = side_m / 2.0 / DEGREE_M;
    let lon_per_lat = 1.0 / lat_deg.to_radians().cos();
    [(-1.0, -0.9), (-0.9, 1.0), (1.0, 0.9), (0.9, -1.0)].map(|(north, east)| Coord {
        x: -20.0 + east * half_deg * lon_per_lat,
        y: lat_deg + north * half_deg,
    })
}

fn built(corners: &[Coord], model: EdgeModel) -> Result<Boundary, Failure> {
    let vertices: Result<Vec<Position>, _> =
        corners.iter().map(|at| Position::from_degrees(at.y, at.x)).collect();
    let exterior = RingSpec { vertices: vertices?, edges: vec![model; corners.len()], sides: Vec::new() };
    Ok(Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }])?)
}

/// A place beside some edge.
fn beside(corners: &[Coord; 4], reach_m: f64, random: &mut Rng) -> Coord {
    let first = random.usize(..4);
    let (from, to) = (corners[first], corners[(first + 1) % 4]);
    let share = random.f64();
    let off_deg = (random.f64() - 0.5) * 2.0 * reach_m / DEGREE_M;
    let turn = random.f64() * std::f64::consts::TAU;
    let on = from + (to - from) * share;
    Coord { x: on.x + off_deg * turn.cos() / on.y.to_radians().cos(), y: on.y + off_deg * turn.sin() }
}
