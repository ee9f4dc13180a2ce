//! How long building a boundary and asking it takes. The rings are invented, about 45°07'N 030°07'W.

use std::f64::consts::TAU;
use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec};

const CENTRE_LAT_DEG: f64 = 45.12;
const CENTRE_LON_DEG: f64 = -30.12;

/// A position so many metres north and east of the centre, near enough for choosing one.
fn offset(north_m: f64, east_m: f64) -> Position {
    let lat_deg = CENTRE_LAT_DEG + north_m / 111_140.0;
    let lon_deg = CENTRE_LON_DEG + east_m / 78_700.0;
    Position::from_degrees(lat_deg, lon_deg).expect("a position near the centre")
}

/// A wavy ring with so many vertices, about 10 km across.
fn wavy_ring(vertices: u32, model: EdgeModel) -> PartSpec {
    let corner = |number: u32| {
        let turn = f64::from(number) / f64::from(vertices) * TAU;
        let radius_m = 5_000.0 * (1.0 + 0.15 * (7.0 * turn).sin());
        offset(radius_m * turn.cos(), radius_m * turn.sin())
    };
    let exterior = RingSpec {
        vertices: (0..vertices).map(corner).collect(),
        edges: vec![model; vertices as usize],
        sides: Vec::new(),
    };
    PartSpec::Polygon { exterior, holes: vec![] }
}

fn build(parts: &[PartSpec]) -> Boundary {
    Boundary::build(parts).expect("the invented ring is sound")
}

const MODELS: [(&str, EdgeModel); 3] =
    [("geodesic", EdgeModel::Geodesic), ("rhumb", EdgeModel::RhumbLine), ("unstated", EdgeModel::Unstated)];

fn locate(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("locate, 40 vertices");
    for (name, model) in MODELS {
        let boundary = build(&[wavy_ring(40, model)]);
        let places = [
            ("30 m from the line", offset(5_030.0, 0.0)),
            ("in the middle", offset(0.0, 0.0)),
            ("60 km off", offset(0.0, 65_000.0)),
            ("1000 km off", offset(-1_000_000.0, 0.0)),
        ];
        for (whereabouts, place) in places {
            group.bench_function(format!("{name}, {whereabouts}"), |bencher| {
                bencher.iter(|| boundary.locate(black_box(place)));
            });
        }
    }
    group.finish();
}

fn build_boundary(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("build, 200 vertices");
    for (name, model) in MODELS {
        let parts = [wavy_ring(200, model)];
        group.bench_function(name, |bencher| bencher.iter(|| build(black_box(&parts))));
    }
    group.finish();
}

criterion_group!(benches, locate, build_boundary);
criterion_main!(benches);
