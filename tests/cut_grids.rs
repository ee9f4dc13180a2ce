//! A shape cut up at random, its parts told in roundabout ways, answers as the uncut shape does.
//!
//! What is right comes from outside the library: the side of each place by the numbers it was made from, its distance to
//! the outline by a search with `geographiclib-rs` (`crates/test-util`). The ordinary suite tries a few hundred shapes. At
//! full size, with its own seed:
//!
//! ```text
//! TAKELINE_SHAPES=10000 cargo test --release -p takeline --test cut_grids -- --nocapture
//! TAKELINE_SHAPES=10000 TAKELINE_SEED=7 cargo test --release -p takeline --test cut_grids -- --nocapture
//! ```
#![expect(clippy::let_underscore_must_use, reason = "text is written to a string")]

use std::fmt::Write as _;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use approx::relative_eq;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use takeline::{Boundary, PartSpec, Position, RingSpec};
use takeline_test_util::{Dice, NastyShape, Recipe, Tricks, recipes};

/// No side may be wrong farther than this from the true outline.
const SIDE_M: f64 = 1e-3;
/// Areas agree to this share of them: that of a circle is taken from a polygon and good to 5e-9.
const AREA_SHARE: f64 = 5e-9;
/// Shapes of the ordinary suite, and places about each.
const SHAPES: u64 = 120;
const PLACES: usize = 100;

/// What was found over all shapes.
#[derive(Debug, Default)]
struct Tally {
    places: u64,
    searched: u64,
    wrong_sides: u64,
    wrong_parities: u64,
    inner_borders: u64,
    wrong_distances: u64,
    wrong_areas: u64,
    refused: u64,
    largest_error_m: f64,
    examples: Vec<(Recipe, String)>,
}

impl Tally {
    fn add(&mut self, other: Self) {
        self.places += other.places;
        self.searched += other.searched;
        self.wrong_sides += other.wrong_sides;
        self.wrong_parities += other.wrong_parities;
        self.inner_borders += other.inner_borders;
        self.wrong_distances += other.wrong_distances;
        self.wrong_areas += other.wrong_areas;
        self.refused += other.refused;
        self.largest_error_m = self.largest_error_m.max(other.largest_error_m);
        self.examples.extend(other.examples);
    }

    fn faults(&self) -> u64 {
        self.wrong_sides
            + self.wrong_parities
            + self.inner_borders
            + self.wrong_distances
            + self.wrong_areas
            + self.refused
    }
}

fn examine(recipe: Recipe, places: usize) -> Tally {
    let shape = NastyShape::make(recipe);
    let mut tally = Tally::default();
    let mut fault = |what: String| tally.examples.push((recipe, what));
    let whole = match Boundary::build(&shape.whole) {
        Ok(whole) => whole,
        Err(refused) => {
            fault(format!("the whole shape is refused: {refused}"));
            tally.refused += 1;
            return tally;
        }
    };
    let cut = match Boundary::build(&shape.parts) {
        Ok(cut) => cut,
        Err(refused) => {
            fault(format!("the parts are refused: {refused}"));
            tally.refused += 1;
            return tally;
        }
    };
    // vertices that lie a little off move the outline by as much, and the pieces of a bent edge miss it by up to 0.05 mm
    let off_m2 = (4.0 * recipe.tricks.off_m + 5e-5) * whole.perimeter().metres();
    let areas = (whole.area_m2(), cut.area_m2());
    if !relative_eq!(areas.0, areas.1, epsilon = off_m2 + 1.0, max_relative = AREA_SHARE) {
        fault(format!("{} m² whole, {} m² cut up", areas.0, areas.1));
        tally.wrong_areas += 1;
    }
    let mut dice = Dice::new(recipe.seed ^ 0x5151);
    for number in 0..places {
        examine_place(&shape, (&whole, &cut), (&mut dice, number), &mut tally);
    }
    tally
}

fn examine_place(
    shape: &NastyShape,
    (whole, cut): (&Boundary, &Boundary),
    (dice, number): (&mut Dice, usize),
    tally: &mut Tally,
) {
    let place = shape.place(dice);
    let signed_m = cut.locate(place.position).signed_distance.metres();
    let uncut_m = whole.locate(place.position).signed_distance.metres();
    tally.places += 1;
    let looks_wrong = |truth_m: f64| (signed_m.abs() - truth_m).abs() > allowed_m(shape, truth_m);
    // the search is slow; every tenth place, and all that look wrong, are worth it
    let truth_m =
        if number.is_multiple_of(10) || looks_wrong(uncut_m.abs()) || (signed_m < 0.0) != place.inside {
            tally.searched += 1;
            shape.distance_m(place.position)
        } else {
            uncut_m.abs()
        };
    tally.largest_error_m = tally.largest_error_m.max((signed_m.abs() - truth_m).abs());
    let mut fault = |what: &str| {
        let text = format!(
            "{what} at {}: {signed_m} m, {truth_m} m true, {uncut_m} m uncut, inside: {}",
            told(place.position),
            place.inside
        );
        tally.examples.push((shape.recipe, text));
    };
    if truth_m > SIDE_M && (signed_m < 0.0) != place.inside {
        fault("wrong side");
        tally.wrong_sides += 1;
    } else if looks_wrong(truth_m) {
        let inner_m = shape.inner_distance_m(place.position);
        if (signed_m.abs() - inner_m).abs() <= 2.0 * allowed_m(shape, inner_m) {
            fault("distance of an inner border");
            tally.inner_borders += 1;
        } else {
            fault("wrong distance");
            tally.wrong_distances += 1;
        }
    } else if truth_m > SIDE_M && cut.contains_by_crossings(place.position) != place.inside {
        fault("wrong by crossings");
        tally.wrong_parities += 1;
    }
}

/// 1 mm up to 100 km and 1 cm beyond, as promised; 1 mm for what a needless vertex may lie off and for models taken for
/// one; and twice what vertices lie off.
fn allowed_m(shape: &NastyShape, distance_m: f64) -> f64 {
    let promised_m = if distance_m > 100_000.0 { 1e-2 } else { 1e-3 };
    promised_m + 1e-3 + 2.0 * shape.recipe.tricks.off_m
}

fn told(position: Position) -> String {
    format!("{:?} {:?}", position.latitude().degrees(), position.longitude().degrees())
}

/// Fewer cells and fewer tricks, as long as something of the same kind is wrong.
fn minimised(recipe: Recipe, places: usize) -> Recipe {
    let fails = |recipe: Recipe| examine(recipe, places).faults() > 0;
    let mut least = recipe;
    loop {
        let tricks = least.tricks;
        let mut simpler: Vec<Recipe> =
            (1..least.columns).map(|columns| Recipe { columns, ..least }).collect();
        simpler.extend((1..least.rows).map(|rows| Recipe { rows, ..least }));
        let with = |tricks: Tricks| Recipe { tricks, ..least };
        simpler.extend([
            with(Tricks { off_m: 0.0, ..tricks }),
            with(Tricks { overlap: 0.0, ..tricks }),
            with(Tricks { nested: 0, ..tricks }),
            with(Tricks { edge_holes: 0.0, ..tricks }),
            with(Tricks { slits: 0.0, ..tricks }),
            with(Tricks { spikes: 0.0, ..tricks }),
            with(Tricks { kept: 0.0, ..tricks }),
            with(Tricks { loose: 0.0, ..tricks }),
        ]);
        simpler.retain(|simpler| *simpler != least);
        match simpler.into_iter().find(|simpler| fails(*simpler)) {
            Some(simpler) => least = simpler,
            None => return least,
        }
    }
}

/// The parts as they would be written, to try them elsewhere.
fn written(parts: &[PartSpec]) -> String {
    let mut text = String::new();
    let ring = |text: &mut String, name: &str, ring: &RingSpec| {
        let vertices: Vec<String> = ring.vertices.iter().map(|vertex| told(*vertex)).collect();
        let _ = writeln!(text, "  {name}: {}\n    {:?}", vertices.join(", "), ring.edges);
    };
    for part in parts {
        match part {
            PartSpec::Polygon { exterior, holes } => {
                ring(&mut text, "ring", exterior);
                for hole in holes {
                    ring(&mut text, "hole", hole);
                }
            }
            PartSpec::Circle { centre, radius } => {
                let _ = writeln!(text, "  circle: {} {} m", told(*centre), radius.metres());
            }
        }
    }
    text
}

fn number_from_env(name: &str, default: u64) -> u64 {
    std::env::var(name).ok().map_or(default, |text| text.parse().expect("a whole number"))
}

fn drawn(count: u64, seed: u64) -> Vec<Recipe> {
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let strategy = recipes();
    (0..count).map(|_| strategy.new_tree(&mut runner).expect("recipes are never refused").current()).collect()
}

#[test]
fn cut_up_shapes_answer_as_the_uncut_shape() {
    let shapes = number_from_env("TAKELINE_SHAPES", SHAPES);
    let seed = number_from_env("TAKELINE_SEED", 1);
    let recipes = drawn(shapes, seed);
    let next = AtomicU64::new(0);
    let whole = Mutex::new(Tally::default());
    let began = Instant::now();
    let work = || {
        let mut own = Tally::default();
        while let Some(recipe) = recipes.get(usize::try_from(next.fetch_add(1, Ordering::Relaxed)).unwrap()) {
            own.add(examine(*recipe, PLACES));
        }
        whole.lock().unwrap().add(own);
    };
    std::thread::scope(|scope| {
        scope.spawn(work);
        scope.spawn(work);
    });
    let tally = whole.into_inner().unwrap();
    println!(
        "{shapes} shapes of seed {seed}, {} places, {} of them searched, in {:.0} s: {} refused, {} wrong sides beyond 1 mm, {} \
         wrong by crossings, {} distances of an inner border, {} other distances and {} areas wrong; largest error of a \
         distance {:.2} mm",
        tally.places,
        tally.searched,
        began.elapsed().as_secs_f64(),
        tally.refused,
        tally.wrong_sides,
        tally.wrong_parities,
        tally.inner_borders,
        tally.wrong_distances,
        tally.wrong_areas,
        tally.largest_error_m * 1e3,
    );
    assert_eq!(tally.faults(), 0, "{}", report(&tally));
}

/// The first faults, and the first shape as small as it gets.
fn report(tally: &Tally) -> String {
    let mut text = String::new();
    let mut shapes = 0;
    let mut last = None;
    for (recipe, what) in &tally.examples {
        if last != Some(recipe) {
            shapes += 1;
            if shapes <= 20 {
                let _ = writeln!(text, "{recipe:?}: {what}");
            }
        }
        last = Some(recipe);
    }
    let _ = writeln!(text, "{shapes} shapes with faults");
    if let Some((recipe, _)) = tally.examples.first() {
        let least = minimised(*recipe, 300);
        let shape = NastyShape::make(least);
        let found = examine(least, 300);
        let _ = writeln!(text, "the first, smaller: {least:?}\n{:?}", shape.chart);
        let _ = writeln!(text, "{}", found.examples.first().map_or("", |(_, what)| what.as_str()));
        let _ = writeln!(text, "whole:\n{}cut up:\n{}", written(&shape.whole), written(&shape.parts));
    }
    text
}

#[test]
fn the_search_agrees_with_the_uncut_shape() {
    // the two ways to the truth against each other, where nothing is cut
    for recipe in drawn(60, 3) {
        let shape = NastyShape::make(recipe);
        let whole = Boundary::build(&shape.whole).unwrap();
        let mut dice = Dice::new(recipe.seed);
        for _ in 0..10 {
            let place = shape.place(&mut dice);
            let signed_m = whole.locate(place.position).signed_distance.metres();
            let searched_m = shape.distance_m(place.position);
            let what = format!(
                "{recipe:?} {:?} at {}: {signed_m} m, {searched_m} m by search",
                shape.chart,
                told(place.position)
            );
            assert!((signed_m.abs() - searched_m).abs() < allowed_m(&shape, searched_m), "{what}");
            assert!(searched_m < SIDE_M || (signed_m < 0.0) == place.inside, "{what}");
        }
    }
}
