//! Calibration of two marks in line, held to planted errors: true marks are built, fixes are scattered about the line
//! that they show, and the stated marks get the errors that have to be found again.
//!
//! Only single geodesics of the library are used in making the fixes (`tests/reference.rs` holds them to published
//! values). The figures seen are printed, and docs/accuracy.md quotes them:
//!
//! ```text
//! cargo test -p takeline --test calibrate -- --nocapture
//! ```
#![expect(clippy::print_stdout, reason = "the shares seen are what docs/accuracy.md quotes")]

use std::f64::consts::TAU;

use jiff::{SignedDuration, Timestamp};
use takeline::landmark::Landmark;
use takeline::transit::{
    Calibration, CalibrationError, CalibrationReason, Eye, LineOffset, RangeLine, Told, UnusedFix,
    UnusedFixes,
};
use takeline::{AccuracyKind, Fix, GeodesicSegment, HorizontalUncertainty, Metres, Position, TrueBearing};

/// `SplitMix64` (Steele, Lea and Flood 2014), and normal numbers after Box and Muller (1958).
struct Chance(u64);

impl Chance {
    #[expect(clippy::cast_precision_loss, reason = "53 bits are kept")]
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((mixed ^ (mixed >> 31)) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.even().ln()).sqrt();
        radius * (TAU * self.even()).cos()
    }
}

/// The case that is played: marks on land, a boat beyond the front mark.
#[derive(Clone, Copy)]
struct Scene {
    /// Where the rear mark is said to stand.
    rear: (f64, f64),
    /// Bearing from the rear to the front mark.
    seaward_deg: f64,
    separation_m: f64,
    /// How far to the right of the stated places the marks really stand.
    front_off_m: f64,
    rear_off_m: f64,
    /// Distances between which the fixes lie, evenly by chance.
    stretch_m: (f64, f64),
    /// 95 % radius that the fixes have and state.
    radius_95_m: f64,
    fixes: usize,
    /// Seconds from fix to fix.
    every_s: Option<i64>,
    /// So many fixes in a row share the receiver's error.
    sharing: usize,
}

/// Marks 400 m apart, fixes from 300 to 1500 m known to 5 m, ten minutes apart: the marks as in the demo.
const DEMO: Scene = Scene {
    rear: (45.1252, -30.1259),
    seaward_deg: 262.0,
    separation_m: 400.0,
    front_off_m: 0.0,
    rear_off_m: 0.0,
    stretch_m: (300.0, 1500.0),
    radius_95_m: 5.0,
    fixes: 30,
    every_s: Some(600),
    sharing: 1,
};

fn from(place: Position, bearing_deg: f64, length_m: f64) -> GeodesicSegment {
    let bearing = TrueBearing::from_degrees((bearing_deg + 720.0) % 360.0).expect("a bearing");
    GeodesicSegment::leaving(place, bearing, Metres::new(length_m).expect("a length")).expect("a line")
}

/// So far to the right of somebody who looks towards `looking_deg`.
fn right_of(place: Position, looking_deg: f64, right_m: f64) -> Position {
    from(place, looking_deg + if right_m < 0.0 { -90.0 } else { 90.0 }, right_m.abs()).to()
}

impl Scene {
    fn stated(self) -> RangeLine {
        let rear = Position::from_degrees(self.rear.0, self.rear.1).expect("a position");
        let front = from(rear, self.seaward_deg, self.separation_m).to();
        RangeLine::through(Landmark::at("the beacon", front), Landmark::at("the pine", rear)).expect("a line")
    }

    /// The marks where they really stand, front first.
    fn true_marks(self) -> (Position, Position) {
        let rear = Position::from_degrees(self.rear.0, self.rear.1).expect("a position");
        let run = from(rear, self.seaward_deg, self.separation_m);
        let at_front_deg = run.final_bearing().degrees() + 180.0;
        let front = right_of(run.to(), at_front_deg, self.front_off_m);
        (front, right_of(rear, self.seaward_deg + 180.0, self.rear_off_m))
    }

    /// Fixes taken while the true marks were seen in line.
    fn fixes(self, chance: &mut Chance) -> Vec<Fix> {
        let (front, rear) = self.true_marks();
        let marks = GeodesicSegment::between(rear, front);
        let apart_m = marks.length().metres();
        let uncertainty =
            HorizontalUncertainty::given(self.radius_95_m, AccuracyKind::P95).expect("a radius");
        // the radius of a circular normal error that holds 95 %: √(−2 ln 0.05) standard deviations
        let receiver_m = self.radius_95_m / (-2.0 * 0.05_f64.ln()).sqrt();
        let (mut taken, mut receiver) = (Vec::new(), (0.0, 0.0));
        for number in 0..self.fixes {
            if number % self.sharing == 0 {
                receiver = (receiver_m * chance.normal(), receiver_m * chance.normal());
            }
            let away_m = self.stretch_m.0 + (self.stretch_m.1 - self.stretch_m.0) * chance.even();
            let run = from(front, marks.final_bearing().degrees(), away_m);
            let looking_deg = run.final_bearing().degrees() + 180.0;
            // the eye takes the marks to be in line within 5′, 95 times in 100: φ·D·(D + S)/S (trade knowledge)
            let opening = (5.0_f64 / 60.0).to_radians() / 1.96 * chance.normal();
            let eye_m = opening * away_m * (away_m + apart_m) / apart_m;
            let boat = right_of(run.to(), looking_deg, eye_m + receiver.0);
            let position = right_of(boat, looking_deg + 90.0, receiver.1);
            let second = |every_s: i64| 1_780_000_000 + every_s * i64::try_from(number).expect("few");
            let time = self.every_s.map(|every_s| Timestamp::from_second(second(every_s)).expect("a time"));
            taken.push(Fix::new(position, uncertainty).at_time(time));
        }
        taken
    }

    fn calibrated(self, seed: u64) -> Calibration {
        let fixes = self.fixes(&mut Chance(seed.wrapping_mul(0x5851_f42d_4c95_7f2d)));
        self.stated().calibrate(&fixes, Eye::default()).expect("fixes on the line")
    }

    /// Where the true line passes, by the plane.
    fn true_offset_m(self, away_m: f64) -> f64 {
        self.front_off_m + (self.front_off_m - self.rear_off_m) * away_m / self.separation_m
    }
}

const SEEDS: u64 = 1000;

#[expect(clippy::cast_precision_loss, reason = "a thousand")]
fn share(of: usize) -> f64 {
    of as f64 / SEEDS as f64
}

fn holds(found: &LineOffset, truth_m: f64) -> bool {
    (found.to_the_right.metres() - truth_m).abs() <= found.uncertainty_95.metres()
}

fn because(found: &Calibration, codes: &[&str]) -> bool {
    found.because.iter().any(|reason| codes.contains(&reason.code()))
}

/// Plants errors, and prints and checks how often they are found to ±5 m and how often the interval holds them.
fn recovers(name: &str, scene: Scene) -> Vec<Calibration> {
    // seeds of its own for each case
    let first = name.bytes().fold(0, |sum: u64, byte| sum * 31 % 1_000_003 + u64::from(byte)) * SEEDS;
    let found: Vec<Calibration> = (first..first + SEEDS).map(|seed| scene.calibrated(seed)).collect();
    let marks = [scene.front_off_m, scene.rear_off_m];
    let offsets = |one: &Calibration| [one.at_front, one.at_rear];
    for (place, truth_m) in marks.into_iter().enumerate() {
        let near = |one: &&Calibration| (offsets(one)[place].to_the_right.metres() - truth_m).abs() <= 5.0;
        let near = share(found.iter().filter(near).count());
        let held = share(found.iter().filter(|one| holds(&offsets(one)[place], truth_m)).count());
        println!("{name}: {} mark within 5 m {near:.3}, coverage {held:.3}", ["front", "rear"][place]);
        assert!(near >= 0.95, "{name}: {near}");
        assert!((0.90..=0.99).contains(&held), "{name}: {held}");
    }
    assert!(found.iter().all(|one| one.told == Told::BothMarks && one.independent == one.fixes));
    let all_used = found.iter().filter(|one| one.not_used.is_empty()).count();
    assert!(share(all_used) >= 0.99, "{name}: {all_used}");
    found
}

#[test]
fn recovers_the_rear_mark() {
    let found = recovers("rear 20 m off", Scene { rear_off_m: 20.0, ..DEMO });
    let near = found.iter().filter(|one| (one.rear_alone.to_the_right.metres() - 20.0).abs() <= 5.0).count();
    let explains = share(found.iter().filter(|one| one.rear_alone.explains).count());
    let wrongly = share(found.iter().filter(|one| one.front_alone.explains).count());
    println!(
        "rear alone: within 5 m {:.3}, explains {explains:.3}; front alone explains {wrongly:.3}",
        share(near)
    );
    assert!(share(near) >= 0.95 && explains >= 0.93 && wrongly <= 0.05);
    let said = &found[0].because;
    let names = |mark: &str, other: &str| mark == "the pine" && other == "the beacon";
    let pine_off = said.iter().find_map(|reason| {
        if let CalibrationReason::OneMarkOff { mark, other, to_the_right_m, .. } = reason
            && names(mark, other)
        {
            Some(*to_the_right_m)
        } else {
            None
        }
    });
    assert!(pine_off.is_some_and(|off_m| (19.5..30.0).contains(&off_m)), "{said:#?}");
    let beacon = CalibrationReason::OtherMarkOff { mark: "the beacon".into(), other: "the pine".into() };
    assert!(said.contains(&beacon), "{said:#?}");
}

#[test]
fn recovers_the_front_mark() {
    let found = recovers("front 20 m off", Scene { front_off_m: 20.0, ..DEMO });
    let near = found.iter().filter(|one| (one.front_alone.to_the_right.metres() - 20.0).abs() <= 5.0).count();
    let explains = share(found.iter().filter(|one| one.front_alone.explains).count());
    println!("front alone: within 5 m {:.3}, explains {explains:.3}", share(near));
    assert!(share(near) >= 0.95 && explains >= 0.93);
}

#[test]
fn recovers_both_marks() {
    recovers("both 20 m off, apart", Scene { front_off_m: 20.0, rear_off_m: -20.0, ..DEMO });
    recovers("both 20 m to the left", Scene { front_off_m: -20.0, rear_off_m: -20.0, ..DEMO });
}

#[test]
fn recovers_anywhere_on_earth() {
    let planted = Scene { front_off_m: -8.0, rear_off_m: 20.0, ..DEMO };
    recovers("southern hemisphere", Scene { rear: (-45.1252, 30.1259), seaward_deg: 13.0, ..planted });
    // the stretch crosses 180° at about 900 m
    recovers("across 180°", Scene { rear: (-17.0, 179.987), seaward_deg: 88.0, ..planted });
    recovers("far north", Scene { rear: (71.0, -30.0), seaward_deg: 151.0, ..planted });
}

#[test]
fn coverage_of_the_line_shown() {
    // the stated errors of 10 m are exceeded by the planted ones; still the line shown holds the true one, at the fixes and
    // away from them
    let cases = [
        ("both told", DEMO),
        ("one distance", Scene { stretch_m: (780.0, 820.0), ..DEMO }),
        ("short stretch, 12 fixes", Scene { stretch_m: (500.0, 800.0), fixes: 12, ..DEMO }),
        ("no times", Scene { every_s: None, ..DEMO }),
    ];
    for (name, scene) in cases {
        for (front_off_m, rear_off_m) in [(0.0, 20.0), (20.0, 0.0), (5.0, -8.0), (0.0, 0.0)] {
            let scene = Scene { front_off_m, rear_off_m, ..scene };
            for away_m in [scene.stretch_m.0, scene.stretch_m.1, 3000.0] {
                let held = (0..200).filter(|&seed| {
                    let shown = scene.calibrated(seed).shown;
                    let at = Metres::new(away_m).expect("a distance");
                    let off_m = scene.stated().place(shown.at(at)).to_the_right.metres();
                    (off_m - scene.true_offset_m(away_m)).abs() <= shown.uncertainty_95(at).metres()
                });
                let held = held.count();
                println!("{name}, {front_off_m} and {rear_off_m} m off, at {away_m} m: {held} of 200");
                assert!(held >= 180, "{name}: {held} of 200 at {away_m} m");
            }
        }
    }
}

#[test]
fn errors_shared_for_minutes_are_counted() {
    // 70 fixes, 50 s apart: seven of them, from 0 to 300 s, are one group, and share one error of the receiver
    let scene = Scene { fixes: 70, every_s: Some(50), sharing: 7, rear_off_m: 20.0, ..DEMO };
    let found = (0..SEEDS).filter(|&seed| {
        let found = scene.calibrated(seed);
        assert_eq!(found.independent, 10);
        let at = Metres::new(900.0).expect("a distance");
        let off_m = scene.stated().place(found.shown.at(at)).to_the_right.metres();
        (off_m - scene.true_offset_m(900.0)).abs() <= found.shown.uncertainty_95(at).metres()
    });
    let held = found.count();
    println!("errors shared by seven fixes: the line at 900 m is held in {held} of 1000");
    assert!(share(held) >= 0.93, "{held}");
}

#[test]
fn one_distance_cannot_tell_which_mark() {
    let scene = Scene { rear_off_m: 20.0, stretch_m: (780.0, 820.0), ..DEMO };
    let mut either = 0;
    for seed in 0..50 {
        let found = scene.calibrated(seed);
        assert_eq!(found.told, Told::OnlyWhereTheFixesLie);
        either += usize::from(found.front_alone.explains && found.rear_alone.explains);
        assert!(because(&found, &["fixes-too-near"]), "{:?}", found.because);
        assert!(because(&found, &["take-further-fixes"]), "{:?}", found.because);
        // the offset where the fixes lie is −20·D/S = −40 m
        let there = found.at_fixes[1];
        assert!((there.to_the_right.metres() + 40.0).abs() < 5.0 && there.uncertainty_95.metres() < 5.0);
        // and the doubt grows away from them
        let doubt =
            |away_m: f64| found.shown.uncertainty_95(Metres::new(away_m).expect("a distance")).metres();
        assert!(doubt(2000.0) > 3.0 * doubt(800.0) && doubt(800.0) < doubt(100.0));
    }
    // a test at 95 % refuses a right mark in 5 of 100 cases: 2.5 of 50, and 7 or more in 1 of 100
    assert!(either >= 43, "{either}");
}

#[test]
fn what_would_settle_settles() {
    let scene = Scene { rear_off_m: 20.0, stretch_m: (780.0, 820.0), ..DEMO };
    let mut settled = [0, 0];
    for seed in 0..50 {
        let mut chance = Chance(seed);
        let fixes = scene.fixes(&mut chance);
        let found = scene.stated().calibrate(&fixes, Eye::default()).expect("fixes");
        let ways = found.because.iter().find_map(|reason| {
            if let CalibrationReason::TakeFurtherFixes { ways, .. } = reason {
                Some(ways.clone())
            } else {
                None
            }
        });
        let ways = ways.expect("advice");
        // so many farther out at so many metres, or so many nearer
        let [farther, nearer] = ways[..] else { panic!("{ways:?}") };
        assert!(farther.or_farther && farther.distance_from_front_m > 820.0, "{ways:?}");
        assert!(!nearer.or_farther && nearer.distance_from_front_m < 780.0, "{ways:?}");
        for (way, advice) in ways.into_iter().enumerate() {
            let (more, at_m) = (advice.fixes, advice.distance_from_front_m);
            let mut further = Scene { stretch_m: (at_m, at_m), fixes: more, ..scene }.fixes(&mut chance);
            for fix in &mut further {
                fix.time = fix.time.and_then(|time| time.checked_add(SignedDuration::from_hours(24)).ok());
            }
            further.extend(fixes.iter().copied());
            let told = scene.stated().calibrate(&further, Eye::default()).expect("fixes").told;
            settled[way] += usize::from(told == Told::BothMarks);
        }
    }
    println!("the advice settled {settled:?} of 50, farther and nearer");
    // the scatter of further fixes may widen the doubt again
    assert!(settled.iter().all(|&settled| settled >= 35), "{settled:?}");
}

#[test]
fn marks_far_apart_for_the_stretch_cannot_be_told() {
    let scene = Scene { separation_m: 6000.0, stretch_m: (300.0, 500.0), rear_off_m: 20.0, ..DEMO };
    for seed in 0..50 {
        let found = scene.calibrated(seed);
        assert_eq!(found.told, Told::OnlyWhereTheFixesLie);
        assert!(
            because(&found, &["one-fix-cannot-tell", "fixes-too-near", "fixes-too-few"]),
            "{:?}",
            found.because
        );
    }
}

#[test]
fn fixes_coarser_than_the_stated_line_tell_nothing() {
    // the stated line is good to 20 m at 300 m; two fixes known to 100 m are not
    let scene = Scene { radius_95_m: 100.0, fixes: 2, stretch_m: (300.0, 350.0), ..DEMO };
    let found: Vec<Calibration> = (0..50).map(|seed| scene.calibrated(seed)).collect();
    let nothing: Vec<&Calibration> = found.iter().filter(|one| one.told == Told::Nothing).collect();
    // in 5 of 100 cases they lie farther off than both doubts allow, which is news
    assert!(nothing.len() >= 43, "{}", nothing.len());
    for one in nothing {
        assert!(one.because[0].code() == "fixes-tell-nothing", "{:?}", one.because);
        assert!(one.at_front.to_the_right.metres().abs() < 1e-9, "the stated line stands");
    }
}

#[test]
fn any_order_gives_the_same() {
    let scene = Scene { rear_off_m: 20.0, ..DEMO };
    for every_s in [Some(120), None] {
        let mut fixes = Scene { every_s, ..scene }.fixes(&mut Chance(7));
        let first = scene.stated().calibrate(&fixes, Eye::default()).expect("fixes");
        fixes.reverse();
        fixes.rotate_left(11);
        fixes.swap(3, 20);
        let other = scene.stated().calibrate(&fixes, Eye::default()).expect("fixes");
        assert_eq!(format!("{first:?}"), format!("{other:?}"));
    }
}

#[test]
fn other_side_gives_the_mirror_image() {
    let scene = Scene { rear_off_m: 20.0, front_off_m: 3.0, ..DEMO };
    let mirrored = Scene { rear_off_m: -20.0, front_off_m: -3.0, ..DEMO };
    let mean = |scene: Scene| {
        (0..100).map(|seed| scene.calibrated(seed).at_rear.to_the_right.metres()).sum::<f64>() / 100.0
    };
    // a hundred means of a standard deviation near 2 m
    assert!((mean(scene) - 20.0).abs() < 1.0 && (mean(mirrored) + 20.0).abs() < 1.0);
}

#[test]
fn one_fix_and_fixes_all_the_same() {
    let scene = Scene { fixes: 1, rear_off_m: 20.0, ..DEMO };
    let fixes = scene.fixes(&mut Chance(3));
    let one = scene.stated().calibrate(&fixes, Eye::default()).expect("a fix");
    assert_eq!((one.told, one.independent, one.at_fixes.len()), (Told::OnlyWhereTheFixesLie, 1, 1));
    let either = |reason: &CalibrationReason| {
        matches!(reason, CalibrationReason::OneFixCannotTell { either_explains: true, .. })
    };
    assert!(one.because.iter().any(either), "{:?}", one.because);
    let many = vec![fixes[0]; 30];
    let many = scene.stated().calibrate(&many, Eye::default()).expect("fixes");
    assert_eq!((many.fixes, many.independent), (30, 1));
    assert!((many.at_front.to_the_right.metres() - one.at_front.to_the_right.metres()).abs() < 1e-6);
    assert!((many.at_front.uncertainty_95.metres() - one.at_front.uncertainty_95.metres()).abs() < 1e-6);
    let as_one = |reason: &CalibrationReason| {
        matches!(reason, CalibrationReason::FixesCountAsFewer { fixes: 30, independent: 1, .. })
    };
    assert!(many.because.iter().any(as_one), "{:?}", many.because);
}

#[test]
fn a_second_log_of_the_same_minutes_adds_no_certainty() {
    // 30 fixes, 5 s apart: the estimate uses them all, the doubt is that of one
    let found = Scene { every_s: Some(5), stretch_m: (780.0, 820.0), ..DEMO }.calibrated(1);
    let one = Scene { fixes: 1, stretch_m: (800.0, 800.0), ..DEMO }.calibrated(1);
    assert_eq!((found.fixes, found.independent), (30, 1));
    let (many, one) = (found.at_fixes[1].uncertainty_95.metres(), one.at_fixes[0].uncertainty_95.metres());
    assert!((many / one - 1.0).abs() < 0.1, "{many} {one}");
}

#[test]
fn fixes_where_no_marks_are_in_line_are_named() {
    let line = DEMO.stated();
    let mut fixes = Scene { rear_off_m: 20.0, ..DEMO }.fixes(&mut Chance(5));
    let moved = |position| Fix::new(position, fixes[0].uncertainty).at_time(fixes[0].time);
    let at = |away_m: f64, right_m: f64| {
        moved(line.beside(Metres::new(away_m).expect("m"), Metres::new(right_m).expect("m")))
    };
    let odd = [at(-200.0, 0.0), at(-900.0, 0.0), at(800.0, 600.0), at(800.0, 90.0)];
    let swapped = moved(Position::from_degrees(-30.1, 45.1).expect("a position"));
    fixes.splice(0..0, odd);
    fixes.push(swapped);
    let found = line.calibrate(&fixes, Eye::default()).expect("fixes");
    assert_eq!(found.not_used, [0, 1, 2, 3, 34]);
    for (number, why) in [
        (1, UnusedFix::Between),
        (2, UnusedFix::Behind),
        (3, UnusedFix::Opened),
        (4, UnusedFix::Outlier),
        (35, UnusedFix::TooFarAway),
    ] {
        let unused = UnusedFixes { numbers: vec![number], why };
        let reason = CalibrationReason::NotUsed { unused };
        assert!(found.because.contains(&reason), "{reason:?}: {:#?}", found.because);
    }
    assert_eq!(found.told, Told::BothMarks);
    assert!((found.at_rear.to_the_right.metres() - 20.0).abs() < 6.0);
}

#[test]
fn no_fix_and_no_usable_fix_are_refused() {
    let line = DEMO.stated();
    let none = line.calibrate(&[], Eye::default()).expect_err("no fix");
    assert!(none.to_string().contains("give at least one fix"), "{none}");
    // from the other side of both marks: front and rear are swapped
    let turned = RangeLine::through(line.rear().clone(), line.front().clone()).expect("a line");
    let fixes = DEMO.fixes(&mut Chance(1));
    match turned.calibrate(&fixes, Eye::default()) {
        Err(error @ CalibrationError::NoUsableFix { fixes: 30, .. }) => {
            let text = error.to_string();
            assert!(
                text.contains("none of the 30 fixes can be used") && text.ends_with(": 30 behind"),
                "{text}"
            );
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn fixes_that_scatter_more_than_they_say_widen_the_doubt() {
    let honest = DEMO.calibrated(4);
    let mut fixes = Scene { radius_95_m: 30.0, ..DEMO }.fixes(&mut Chance(4));
    for fix in &mut fixes {
        fix.uncertainty = HorizontalUncertainty::given(1.0, AccuracyKind::P95).expect("a radius");
    }
    let found = DEMO.stated().calibrate(&fixes, Eye::default()).expect("fixes");
    assert!(because(&found, &["fixes-scatter"]), "{:?}", found.because);
    assert!(
        found.shown.uncertainty_95(Metres::new(900.0).expect("m"))
            > honest.shown.uncertainty_95(Metres::new(900.0).expect("m"))
    );
}

#[test]
fn marks_stated_exactly_are_still_found_off() {
    let planted = Scene { rear_off_m: 20.0, stretch_m: (780.0, 820.0), ..DEMO };
    let exact = |mark: &Landmark| Landmark { position_error_95: Metres::ZERO, ..mark.clone() };
    let stated = planted.stated();
    let line = RangeLine::through(exact(stated.front()), exact(stated.rear())).expect("a line");
    let found = line.calibrate(&planted.fixes(&mut Chance(2)), Eye::default()).expect("fixes");
    assert_eq!(found.told, Told::OnlyWhereTheFixesLie);
    assert!((found.at_fixes[1].to_the_right.metres() + 40.0).abs() < 5.0);
    assert!(because(&found, &["stated-errors-too-small"]), "{:?}", found.because);
}
