//! Shapes cut up into parts at random answer as the shape whole: side, distance and area.
//!
//! The number of shapes is `TAKELINE_SHAPES`, 300 if it is not set; each is asked at 100 places. To run it at full size:
//!
//!     TAKELINE_SHAPES=10000 cargo test --release -p takeline --test cut_shapes -- --nocapture

use takeline::Boundary;
use takeline::test_util::{Chance, CutShape};

const PLACES: usize = 100;
/// Lines within 1 mm count as one, so the outline may lie 1 mm off; the pieces of arcs add 0.05 mm.
const ALLOWED_M: f64 = 1.1e-3;
/// Shapes in which short pieces beside a meridian were once counted on its wrong side.
const ONCE_REFUSED: [u64; 3] = [623, 1109, 1720];

#[derive(Debug, Default)]
struct Seen {
    shapes: usize,
    parts: usize,
    places: usize,
    largest_m: f64,
    /// The farthest place from the true outline that was put on the wrong side.
    wrong_side_m: f64,
    /// Places where the second way to the side, by crossings, differs.
    crossings_differ: usize,
    faults: Vec<String>,
}

impl Seen {
    fn compare(&mut self, shape: &CutShape) {
        let seed = shape.seed;
        let built = Boundary::build(std::slice::from_ref(&shape.whole))
            .and_then(|whole| Boundary::build(&shape.parts).map(|cut| (whole, cut)));
        let (whole, cut) = match built {
            Ok(both) => both,
            // a refusal is a failure: every shape is sound
            Err(refused) => return self.faults.push(format!("seed {seed}: {refused}")),
        };
        self.shapes += 1;
        self.parts += shape.parts.len();
        let off_m2 = (whole.area_m2() - cut.area_m2()).abs();
        let allowed_m2 = ALLOWED_M * whole.perimeter().metres() + 1e-8 * whole.area_m2() + 0.2;
        if off_m2 > allowed_m2 {
            self.faults.push(format!("seed {seed}: the area is {off_m2} m² off, {allowed_m2} allowed"));
        }
        let mut chance = Chance::new(seed ^ 0x5eed);
        for _ in 0..PLACES {
            let place = shape.place(&mut chance);
            let [whole_m, cut_m] = [&whole, &cut].map(|one| one.locate(place).signed_distance.metres());
            self.places += 1;
            let off_m = (whole_m - cut_m).abs();
            self.largest_m = self.largest_m.max(off_m);
            let allowed_m = ALLOWED_M + 1e-9 * whole_m.abs();
            if off_m > allowed_m {
                self.faults.push(format!("seed {seed}: {cut_m} m for {whole_m} m at {place:?}"));
            }
            if (whole_m < 0.0) != (cut_m < 0.0) {
                self.wrong_side_m = self.wrong_side_m.max(whole_m.abs());
            }
            if whole_m.abs() > ALLOWED_M && cut.contains_by_crossings(place) != (whole_m < 0.0) {
                self.crossings_differ += 1;
            }
        }
    }
}

#[test]
fn cut_shapes_answer_as_the_whole() {
    let shapes = match std::env::var("TAKELINE_SHAPES") {
        Ok(count) => count.parse().expect("a number of shapes"),
        Err(_) => 300,
    };
    let mut seen = Seen::default();
    let seeds = (0..shapes).chain(ONCE_REFUSED.into_iter().filter(|seed| *seed >= shapes));
    for seed in seeds.clone() {
        seen.compare(&CutShape::from_seed(seed));
    }
    println!(
        "{} shapes of {} parts, {} places: distance within {:.2e} m, wrong side only within {:.2e} m of the outline",
        seen.shapes, seen.parts, seen.places, seen.largest_m, seen.wrong_side_m
    );
    println!("{} by crossings differ", seen.crossings_differ);
    assert_eq!(seen.crossings_differ, 0);
    let shown: Vec<&String> = seen.faults.iter().take(20).collect();
    assert!(seen.faults.is_empty(), "{} of them: {shown:#?}", seen.faults.len());
    assert_eq!(seen.places, PLACES * seeds.count());
}
