//! What comes of a track does not depend on which zones slept through it.

use jiff::SignedDuration;
use proptest::prelude::*;

use super::test_tracks::{at, fix, noon, strip_zone};
use super::{Audit, Auditor, LoggedFix, TrackEvent, TrackSettings, UnplacedRecord};
use crate::geodesic::direct;
use crate::zone::ZoneSet;
use crate::zone::test_sets::set_of;
use crate::{AccuracyKind, HorizontalUncertainty, Metres, Position};

/// A box in thousandths of a degree from 45° N 030° W, its height and width, and what else there is to a zone.
type Drawn = ((i16, i16), (u8, u8), u16);

/// A zone with edges that run somehow, known or not, with doubt of its own or not, that may displace the one before.
fn feature(number: usize, ((south, west), (high, wide), kind): Drawn) -> String {
    let deg = |from: f64, thousandths: f64| from + thousandths / 1000.0;
    let (south, west) = (deg(45.0, f64::from(south)), deg(-30.0, f64::from(west)));
    let (north, east) = (deg(south, f64::from(high) + 1.0), deg(west, f64::from(wide) + 1.0));
    let edges = ["geodesic", "rhumb", "lonlat", "unstated"][usize::from(kind % 4)];
    let somewhere = format!(r#""somewhere_in":{{"bbox":[{west},{south},{east},{north}]}}"#);
    let drawn = format!(
        r#"{{"type":"Polygon","coordinates":[[[{west},{south}],[{east},{south}],[{east},{north}],[{west},{north}],[{west},{south}]]]}}"#
    );
    let (geometry, said) = match kind / 4 % 8 {
        0 => ("null", format!(r#""geometry_unknown":{{"reason":"plan missing",{somewhere}}},"#)),
        1 => ("null", r#""geometry_unknown":{"reason":"plan missing"},"#.to_owned()),
        _ if edges == "unstated" => (drawn.as_str(), String::new()),
        _ => (drawn.as_str(), format!(r#""edges":"{edges}","#)),
    };
    let doubt =
        ["", r#""line_uncertainty_m":30,"#, r#""line_uncertainty_m":900,"#][usize::from(kind / 32 % 3)];
    let displaces = match number.checked_sub(1).filter(|_| kind % 5 == 0) {
        Some(other) => format!(r#""overrides":[{{"zone":"z{other}","clause":"2"}}],"#),
        None => String::new(),
    };
    format!(
        r#"{{"type":"Feature","id":"z{number}","geometry":{geometry},"properties":{{"name":"Z{number}",{said}{doubt}{displaces}"take":"none","source":{{"instrument":"Marrowick Order"}}}}}}"#
    )
}

fn set(drawn: &[Drawn]) -> ZoneSet {
    set_of(drawn.iter().enumerate().map(|(number, drawn)| feature(number, *drawn)))
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let near = prop_oneof![
        6 => (-60_i16..60, -60_i16..60),
        3 => (-400_i16..400, -400_i16..400),
        1 => (-6000_i16..6000, -6000_i16..6000),
    ];
    let size = prop_oneof![4 => (0..20_u8, 0..20_u8), 1 => any::<(u8, u8)>()];
    (near, size, any::<u16>())
}

/// What happens next in a log.
#[derive(Debug, Clone)]
enum Piece {
    /// So many fixes, so many seconds and metres apart, on a course, as good as that in metres.
    Run {
        fixes: u8,
        every_s: f64,
        step_m: f64,
        course_deg: f64,
        p95_m: f64,
    },
    /// Nothing for so many seconds, and so many metres on.
    Gap {
        seconds: f64,
        metres: f64,
        course_deg: f64,
    },
    /// One fix elsewhere, and back.
    Spike {
        metres: f64,
        course_deg: f64,
    },
    /// The same fix so often again, seconds apart, or at the same moment.
    Repeats {
        times: u8,
        every_s: f64,
    },
    /// The clock goes back.
    SetBack {
        seconds: f64,
    },
    /// Fixes without times from here on, or with them again.
    Times(bool),
    /// A record without a place.
    Unplaced {
        seconds: f64,
        timed: bool,
    },
    NextStretch,
    NextBoat,
}

fn piece() -> impl Strategy<Value = Piece> {
    let course = 0.0..360.0_f64;
    let metres = prop_oneof![Just(0.0), 0.0..60.0_f64, 60.0..4_000.0_f64, 4_000.0..300_000.0_f64];
    let p95 = prop_oneof![4 => Just(5.0), 1 => 1.0..60.0_f64, 1 => 60.0..3_000.0_f64];
    let every = prop_oneof![Just(1.0), Just(5.0), 0.0..29.0_f64];
    let step = prop_oneof![4 => 0.0..8.0_f64, 2 => 0.0..60.0_f64, 1 => Just(0.0)];
    let seconds = prop_oneof![0.0..40.0_f64, 40.0..4_000.0_f64, 4_000.0..200_000.0_f64];
    prop_oneof![
        8 => (1..40_u8, every, step, course.clone(), p95)
            .prop_map(|(fixes, every_s, step_m, course_deg, p95_m)| Piece::Run { fixes, every_s, step_m, course_deg, p95_m }),
        3 => (seconds.clone(), metres.clone(), course.clone())
            .prop_map(|(seconds, metres, course_deg)| Piece::Gap { seconds, metres, course_deg }),
        2 => (metres, course).prop_map(|(metres, course_deg)| Piece::Spike { metres, course_deg }),
        1 => (1..30_u8, prop_oneof![Just(0.0), Just(1.0), Just(25.0)])
            .prop_map(|(times, every_s)| Piece::Repeats { times, every_s }),
        1 => (0.0..5_000.0_f64).prop_map(|seconds| Piece::SetBack { seconds }),
        1 => any::<bool>().prop_map(Piece::Times),
        1 => (seconds, any::<bool>()).prop_map(|(seconds, timed)| Piece::Unplaced { seconds, timed }),
        1 => Just(Piece::NextStretch),
        1 => Just(Piece::NextBoat),
    ]
}

/// One thing pushed into an audit.
#[derive(Debug, Clone, Copy)]
enum Pushed {
    Fix(LoggedFix),
    Unplaced(UnplacedRecord),
    NextBoat,
}

/// Where a log that is being written has come to.
struct Writer {
    place: Position,
    seconds: f64,
    p95_m: f64,
    is_timed: bool,
    stretch: u32,
    pushed: Vec<Pushed>,
}

impl Writer {
    fn go(&mut self, seconds: f64, metres: f64, course_deg: f64) {
        self.seconds += seconds;
        self.place = direct(self.place, course_deg, metres);
    }

    fn write(&mut self) {
        let mut logged = fix(self.place, self.seconds, self.p95_m);
        logged.time = logged.time.filter(|_| self.is_timed);
        logged.place.stretch = self.stretch;
        logged.place.line = self.pushed.len() as u64 + 1;
        self.pushed.push(Pushed::Fix(logged));
    }

    fn take(&mut self, piece: &Piece) {
        match *piece {
            Piece::Run { fixes, every_s, step_m, course_deg, p95_m } => {
                self.p95_m = p95_m;
                for _ in 0..fixes {
                    self.go(every_s, step_m, course_deg);
                    self.write();
                }
            }
            Piece::Gap { seconds, metres, course_deg } => {
                self.go(seconds, metres, course_deg);
                self.write();
            }
            Piece::Spike { metres, course_deg } => {
                let home = self.place;
                self.go(1.0, metres, course_deg);
                self.write();
                self.place = home;
                self.go(1.0, 0.0, 0.0);
                self.write();
            }
            Piece::Repeats { times, every_s } => {
                for _ in 0..times {
                    self.go(every_s, 0.0, 0.0);
                    self.write();
                }
            }
            Piece::SetBack { seconds } => self.seconds -= seconds,
            Piece::Times(is_timed) => self.is_timed = is_timed,
            Piece::Unplaced { seconds, timed } => {
                self.seconds += seconds;
                let time = timed.then(|| noon(self.seconds));
                let place =
                    super::LogPlace { line: self.pushed.len() as u64 + 1, byte: 0, stretch: self.stretch };
                self.pushed.push(Pushed::Unplaced(UnplacedRecord { time, place }));
            }
            Piece::NextStretch => self.stretch += 1,
            Piece::NextBoat => self.pushed.push(Pushed::NextBoat),
        }
    }
}

fn written(pieces: &[Piece]) -> Vec<Pushed> {
    let mut writer = Writer {
        place: at(45.0, -30.0),
        seconds: 0.0,
        p95_m: 5.0,
        is_timed: true,
        stretch: 0,
        pushed: Vec::new(),
    };
    for piece in pieces {
        writer.take(piece);
    }
    writer.pushed
}

fn settings() -> impl Strategy<Value = TrackSettings> {
    let knots = prop_oneof![Just(None), (3.0..40.0_f64).prop_map(Some)];
    (any::<bool>(), knots, prop_oneof![Just(None), Just(Some(600.0))], any::<bool>()).prop_map(
        |(is_plan, knots, new_trip_after_s, has_longest)| {
            let settings = TrackSettings::default();
            let settings = knots.map_or(settings, |knots| settings.with_top_speed_kn(knots).unwrap());
            TrackSettings {
                is_plan,
                new_trip_after_s,
                longest_untimed_leg: has_longest.then(|| Metres::computed(500.0)),
                ..settings
            }
        },
    )
}

fn audited(
    zones: &ZoneSet,
    pushed: &[Pushed],
    settings: TrackSettings,
    sleeps: bool,
) -> (Vec<TrackEvent>, Audit) {
    let mut auditor = Auditor::new(zones, settings);
    if !sleeps {
        auditor.never_sleep();
    }
    let mut events = Vec::new();
    for pushed in pushed {
        match pushed {
            Pushed::Fix(fix) => events.extend(auditor.push(*fix)),
            Pushed::Unplaced(record) => auditor.push_unplaced(record),
            Pushed::NextBoat => events.extend(auditor.next_boat()),
        }
    }
    (events, auditor.finish())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Every field of the audit and every event, to the last bit.
    #[test]
    fn an_audit_is_the_same_whichever_zones_sleep(
        drawn in proptest::collection::vec(drawn(), 1..60),
        pieces in proptest::collection::vec(piece(), 1..14),
        settings in settings(),
    ) {
        let zones = set(&drawn);
        let pushed = written(&pieces);
        let sleeping = audited(&zones, &pushed, settings, true);
        let sleepless = audited(&zones, &pushed, settings, false);
        prop_assert_eq!(format!("{:#?}", sleeping.0), format!("{:#?}", sleepless.0));
        prop_assert_eq!(format!("{:#?}", sleeping.1), format!("{:#?}", sleepless.1));
    }
}

/// The law is worth nothing if it never sees anything happen.
#[test]
fn a_zone_that_slept_through_an_approach_has_its_closest_place() {
    let zones = strip_zone();
    let start = direct(at(45.11, -30.12), 270.0, 30_000.0);
    let good = HorizontalUncertainty::given(5.0, AccuracyKind::P95).unwrap();
    let fixes: Vec<LoggedFix> = (0..6_000)
        .map(f64::from)
        .map(|seconds| LoggedFix {
            uncertainty: Some(good),
            ..fix(direct(start, 90.0, 4.0 * seconds), seconds, 5.0)
        })
        .collect();
    let pushed: Vec<Pushed> = fixes.into_iter().map(Pushed::Fix).collect();
    let (_, found) = audited(&zones, &pushed, TrackSettings::default(), true);
    let closest = found.closest_approaches.first().expect("it came within 20 km");
    assert_eq!(closest.at.time, Some(noon(0.0) + SignedDuration::from_secs(5_999)));
    assert!((closest.signed_distance.metres() - 6_004.0).abs() < 1.0, "{closest:?}");
}
