//! Where to start looking for the crossing: pairs of lines and circles on a plane about the marks.

use crate::Position;
use crate::landmark::Landmark;
use crate::transit::LineOfPosition;
use crate::transit::plane::Plane;

/// Distances at which a ring of starts is laid where no pair of lines crosses on the plane, in metres.
const RINGS_M: [f64; 6] = [100.0, 300.0, 1_000.0, 3_000.0, 10_000.0, 30_000.0];
/// North of the plane is taken as true where it is no farther off than this, in degrees: less than a bearing's error.
const NORTH_AS_GOOD_AS_TRUE_DEG: f64 = 0.1;
/// Starts on each ring.
const ON_A_RING: u32 = 12;

/// A line of position on the plane, metres east and north of the first mark.
#[derive(Debug, Clone, Copy)]
enum Locus {
    Line { through: [f64; 2], along: [f64; 2] },
    Circle { centre: [f64; 2], radius: f64 },
}

/// The lines on the plane about the first mark.
struct Sketch {
    plane: Plane,
}

/// Where pairs of lines cross on the plane.
///
/// North turns from place to place. Where that counts, near the poles, a crossing is looked for once more with north as it
/// is where the first look found it.
pub(super) fn crossings(lines: &[LineOfPosition]) -> Vec<Position> {
    let Some(sketch) = Sketch::of(lines) else { return Vec::new() };
    let mut found = Vec::new();
    for (number, one) in lines.iter().enumerate() {
        for other in &lines[number + 1..] {
            for place in sketch.meeting(one, other, 0.0) {
                let north_deg = sketch.plane.north_deg(place.into());
                if north_deg.abs() < NORTH_AS_GOOD_AS_TRUE_DEG {
                    found.push(place);
                } else {
                    found.extend(sketch.meeting(one, other, north_deg));
                }
            }
        }
    }
    found.into_iter().map(|place| sketch.plane.position(place.into())).collect()
}

/// Places all round the first mark, near and far.
pub(super) fn rings(lines: &[LineOfPosition]) -> Vec<Position> {
    let Some(sketch) = Sketch::of(lines) else { return Vec::new() };
    let turn = std::f64::consts::TAU / f64::from(ON_A_RING);
    RINGS_M
        .into_iter()
        .flat_map(|radius_m| (0..ON_A_RING).map(move |number| (radius_m, turn * f64::from(number))))
        .map(|(radius_m, angle)| {
            let place = [radius_m * angle.sin(), radius_m * angle.cos()];
            sketch.plane.position(place.into())
        })
        .collect()
}

fn within_reach([east_m, north_m]: [f64; 2]) -> bool {
    // twice, since the plane is no more than a beginning
    east_m.hypot(north_m) < 2.0 * super::line::FARTHEST_M
}

impl Sketch {
    fn of(lines: &[LineOfPosition]) -> Option<Self> {
        lines.first().map(|line| Self { plane: Plane::about(line.marks().0.position) })
    }

    fn place(&self, mark: &Landmark) -> [f64; 2] {
        self.plane.point(mark.position).into()
    }

    fn meeting(&self, one: &LineOfPosition, other: &LineOfPosition, north_deg: f64) -> Vec<[f64; 2]> {
        let mut places = meet(self.locus(one, north_deg), self.locus(other, north_deg));
        places.retain(|place| within_reach(*place));
        places
    }

    fn locus(&self, line: &LineOfPosition, north_deg: f64) -> Locus {
        match line {
            LineOfPosition::Transit { line, .. } => {
                let (front, rear) = (self.place(line.front()), self.place(line.rear()));
                Locus::Line { through: front, along: towards(rear, front) }
            }
            LineOfPosition::Bearing { mark, bearing, .. } => {
                let (sin, cos) = (bearing.degrees() + north_deg).to_radians().sin_cos();
                Locus::Line { through: self.place(mark), along: [-sin, -cos] }
            }
            LineOfPosition::HorizontalAngle { left, right, angle_deg, .. } => {
                inscribed(self.place(left), self.place(right), *angle_deg)
            }
        }
    }
}

/// The circle from which a chord shows under an angle (inscribed angle, Euclid III.20 and 21); the observer is to the right
/// of somebody who goes from the left mark to the right one.
fn inscribed(left: [f64; 2], right: [f64; 2], angle_deg: f64) -> Locus {
    let chord = (right[0] - left[0]).hypot(right[1] - left[1]);
    let [east, north] = towards(left, right);
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let off = chord / 2.0 * cos / sin;
    let middle = [f64::midpoint(left[0], right[0]), f64::midpoint(left[1], right[1])];
    Locus::Circle { centre: [middle[0] + north * off, middle[1] - east * off], radius: chord / 2.0 / sin }
}

/// The unit vector from one place to another.
fn towards(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    let (east, north) = (to[0] - from[0], to[1] - from[1]);
    let length = east.hypot(north).max(1e-9);
    [east / length, north / length]
}

fn meet(one: Locus, other: Locus) -> Vec<[f64; 2]> {
    match (one, other) {
        (Locus::Line { through, along }, Locus::Line { through: second, along: way }) => {
            let sine = along[0] * way[1] - along[1] * way[0];
            if sine.abs() < 1e-9 {
                return Vec::new();
            }
            let far = ((second[0] - through[0]) * way[1] - (second[1] - through[1]) * way[0]) / sine;
            vec![[through[0] + far * along[0], through[1] + far * along[1]]]
        }
        (Locus::Line { through, along }, Locus::Circle { centre, radius })
        | (Locus::Circle { centre, radius }, Locus::Line { through, along }) => {
            let (east, north) = (centre[0] - through[0], centre[1] - through[1]);
            let foot = east * along[0] + north * along[1];
            let off = east * along[1] - north * along[0];
            let half_chord = half_chord(radius, off);
            [foot - half_chord, foot + half_chord]
                .map(|far| [through[0] + far * along[0], through[1] + far * along[1]])
                .to_vec()
        }
        (Locus::Circle { centre, radius }, Locus::Circle { centre: second, radius: other }) => {
            let [east, north] = towards(centre, second);
            let apart = (second[0] - centre[0]).hypot(second[1] - centre[1]).max(1e-9);
            let along = (apart * apart + radius * radius - other * other) / (2.0 * apart);
            let half_chord = half_chord(radius, along);
            [-half_chord, half_chord]
                .map(|off| [centre[0] + along * east - off * north, centre[1] + along * north + off * east])
                .to_vec()
        }
    }
}

/// Half of the chord at a distance from the centre; none where it passes by, so that both starts lie at the nearest place.
fn half_chord(radius: f64, off: f64) -> f64 {
    (radius * radius - off * off).max(0.0).sqrt()
}
