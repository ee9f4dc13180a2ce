//! Containment and metres to the nearest line, over whole workloads, against what else can be used for it, in one run.
//!
//! Usage: `takeline-bench FOLDER…`, each with `zones.geojson` (a feature collection of polygons) and `fixes.csv` (rows of
//! latitude, longitude and seconds since 1970, below a heading). Figures are nanoseconds a fix: the median of three passes over the
//! fixes in their order, and one pass for an audit.

#![expect(clippy::print_stdout, reason = "figures are what it is for")]
#![expect(clippy::cast_precision_loss, reason = "counts of fixes")]

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use geo::indexed::IntervalTreeMultiPolygon;
use geo::{Closest, Contains, Coord, HaversineClosestPoint, Line, LineString, MultiPolygon, Point, Polygon};
use geographiclib_rs::{Geodesic, InverseGeodesic};
use jiff::Timestamp;
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, PointDistance, RTree, RTreeObject};
use takeline::track::{Auditor, LogPlace, LoggedFix, TrackSettings};
use takeline::zone::Extent;
use takeline::{Position, ZoneSet};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    if std::env::args().len() < 2 {
        return Err("give the folders of the workloads".into());
    }
    for folder in std::env::args().skip(1) {
        measure(Path::new(&folder))?;
    }
    Ok(())
}

/// What one workload is made of.
struct Workload {
    rings: Vec<Vec<Coord>>,
    fixes: Vec<Coord>,
    times: Vec<Timestamp>,
    zones: ZoneSet,
}

fn read(folder: &Path) -> Result<Workload, Failure> {
    let text = std::fs::read_to_string(folder.join("zones.geojson"))?;
    let file: serde_json::Value = serde_json::from_str(&text)?;
    let features = file["features"].as_array().ok_or("no features")?;
    let ring = |feature: &serde_json::Value| -> Option<Vec<Coord>> {
        let places = feature["geometry"]["coordinates"][0].as_array()?;
        places.iter().map(|place| Some(Coord { x: place[0].as_f64()?, y: place[1].as_f64()? })).collect()
    };
    let rings: Vec<_> = features.iter().map(ring).collect::<Option<_>>().ok_or("a feature is no polygon")?;
    let feature = |(number, ring): (usize, &Vec<Coord>)| {
        let places: Vec<String> = ring.iter().map(|at| format!("[{},{}]", at.x, at.y)).collect();
        format!(
            r#"{{"type":"Feature","id":"z{number}","geometry":{{"type":"Polygon","coordinates":[[{}]]}},"properties":
               {{"name":"Z{number}","edges":"geodesic","take":"none","source":{{"instrument":"Bench Order"}}}}}}"#,
            places.join(",")
        )
    };
    let features: Vec<String> = rings.iter().enumerate().map(feature).collect();
    let file = format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84","time_zone":"UTC"}},
           "features":[{}]}}"#,
        features.join(",")
    );
    let started = Instant::now();
    let zones = ZoneSet::new(takeline::zone_file::read("zones.json", file.as_bytes())?.zones);
    println!("{:<58} {:>9.0} ms", "load", started.elapsed().as_secs_f64() * 1e3);
    let (mut fixes, mut times) = (Vec::new(), Vec::new());
    for (number, row) in std::fs::read_to_string(folder.join("fixes.csv"))?.lines().enumerate().skip(1) {
        let (fix, time) = fix_of(row).ok_or_else(|| format!("fixes.csv, line {}: {row}", number + 1))?;
        fixes.push(fix);
        times.push(time);
    }
    Ok(Workload { rings, fixes, times, zones })
}

fn fix_of(row: &str) -> Option<(Coord, Timestamp)> {
    let mut cells = row.split(',');
    let fix = Coord { y: cells.next()?.parse().ok()?, x: cells.next()?.parse().ok()? };
    Position::from_degrees(fix.y, fix.x).ok()?;
    Some((fix, Timestamp::from_second(cells.next()?.trim().parse().ok()?).ok()?))
}

/// An edge in degrees, as most people index it.
struct DegreeEdge(Line);

impl RTreeObject for DegreeEdge {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners([self.0.start.x, self.0.start.y], [self.0.end.x, self.0.end.y])
    }
}

impl PointDistance for DegreeEdge {
    fn distance_2(&self, point: &[f64; 2]) -> f64 {
        let way = self.0.end - self.0.start;
        let from = Coord { x: point[0], y: point[1] } - self.0.start;
        let share = ((from.x * way.x + from.y * way.y) / (way.x * way.x + way.y * way.y)).clamp(0.0, 1.0);
        let off = from - way * share;
        off.x * off.x + off.y * off.y
    }
}

fn measure(folder: &Path) -> Result<(), Failure> {
    println!("\n{}", folder.display());
    let Workload { rings, fixes, times, zones } = read(folder)?;
    let polygons: Vec<Polygon> =
        rings.iter().map(|ring| Polygon::new(LineString::new(ring.clone()), vec![])).collect();
    let boxes: Vec<_> = rings.iter().zip(0..).map(|(ring, number)| box_about(ring, number)).collect();
    let boxes: RTree<GeomWithData<Rectangle<[f64; 2]>, usize>> = RTree::bulk_load(boxes);
    let indexed: Vec<_> = polygons
        .iter()
        .map(|polygon| IntervalTreeMultiPolygon::new(&MultiPolygon::new(vec![polygon.clone()])))
        .collect();
    let planar_inside = |at: &Coord| {
        let holding = boxes.locate_all_at_point([at.x, at.y]);
        holding.filter(|zone| indexed[zone.data].contains(at)).count()
    };
    let started = Instant::now();
    let edges: Vec<DegreeEdge> = rings
        .iter()
        .flat_map(|ring| ring.windows(2).map(|ends| DegreeEdge(Line::new(ends[0], ends[1]))))
        .collect();
    let edges = RTree::bulk_load(edges);
    println!("{:<58} {:>9.0} ms", "degrees tree: build", started.elapsed().as_secs_f64() * 1e3);
    let wgs_84 = Geodesic::wgs84();
    let degrees = |at: &Coord| {
        let edge = edges.nearest_neighbor([at.x, at.y]).map(|edge| edge.0);
        let closest = edge.map(|edge| edge.haversine_closest_point(&Point::from(*at)));
        let foot = match closest {
            Some(Closest::SinglePoint(foot) | Closest::Intersection(foot)) => foot,
            Some(Closest::Indeterminate) | None => return f64::NAN,
        };
        let metres: f64 = wgs_84.inverse(at.y, at.x, foot.y(), foot.x());
        metres
    };
    let place = |at: &Coord| Position::from_degrees(at.y, at.x).ok();
    let planar =
        time("geo: interval tree behind boxes, inside only", &fixes, None, |at| planar_inside(at) as f64);
    let mut cursor = zones.cursor();
    time("cursor over the set, inside only", &fixes, Some(planar), |at| {
        place(at).map_or(0.0, |at| cursor.holding(at).surely.len() as f64)
    });
    let peer = time("degrees tree, haversine, Karney, and inside", &fixes, None, |at| {
        degrees(at) + planar_inside(at) as f64
    });
    let mut cursor = zones.cursor();
    let own = time("cursor over the set, inside and metres", &fixes, Some(peer), |at| {
        let Some(at) = place(at) else { return 0.0 };
        let away_m = cursor.nearest(at).map_or(0.0, |(_, far)| far.signed_distance.metres());
        away_m + cursor.holding(at).surely.len() as f64
    });
    audit(&zones, (&fixes, &times), own)?;
    one_boundary(&zones, &fixes, peer);
    Ok(())
}

/// The calls of a boundary by itself, where the set holds no more than one.
fn one_boundary(zones: &ZoneSet, fixes: &[Coord], peer: f64) {
    let place = |at: &Coord| Position::from_degrees(at.y, at.x).ok();
    let boundaries: Vec<_> = zones
        .zones()
        .iter()
        .filter_map(|zone| match &zone.extent {
            Extent::Known(boundary) => Some(boundary),
            Extent::Unknown { .. } => None,
        })
        .collect();
    if let [boundary] = boundaries.as_slice() {
        time("one boundary: locate", fixes, Some(peer), |at| {
            place(at).map_or(0.0, |at| boundary.locate(at).signed_distance.metres())
        });
        time("one boundary: how far", fixes, Some(peer), |at| {
            place(at).map_or(0.0, |at| boundary.how_far(at).signed_distance.metres())
        });
        let mut cursor = boundary.cursor();
        time("one boundary: cursor, how far", fixes, Some(peer), |at| {
            place(at).map_or(0.0, |at| cursor.how_far(at).signed_distance.metres())
        });
    }
}

/// The whole log audited once, over what it takes to ask a cursor about each fix.
fn audit(zones: &ZoneSet, (fixes, times): (&[Coord], &[Timestamp]), own_ns: f64) -> Result<(), Failure> {
    let started = Instant::now();
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    for (at, time) in fixes.iter().zip(times) {
        black_box(auditor.push(LoggedFix {
            position: Position::from_degrees(at.y, at.x)?,
            time: Some(*time),
            uncertainty: None,
            hdop: None,
            speed_m_per_s: None,
            time_between: None,
            jump_kn: None,
            place: LogPlace::default(),
        }));
    }
    let found = auditor.finish();
    let ns = started.elapsed().as_secs_f64() * 1e9 / fixes.len() as f64;
    let what = format!("audit: {} visits", found.visits.len());
    println!("{what:<58} {ns:>9.1} ns  {:.3} of the cursor", ns / own_ns);
    Ok(())
}

fn box_about(ring: &[Coord], number: usize) -> GeomWithData<Rectangle<[f64; 2]>, usize> {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for at in ring {
        (low, high) = ([low[0].min(at.x), low[1].min(at.y)], [high[0].max(at.x), high[1].max(at.y)]);
    }
    GeomWithData::new(Rectangle::from_corners(low, high), number)
}

/// Nanoseconds a fix, the median of three passes, and their ratio to a peer's.
fn time(what: &str, fixes: &[Coord], peer: Option<f64>, mut ask: impl FnMut(&Coord) -> f64) -> f64 {
    let mut passes: Vec<f64> = (0..3)
        .map(|_| {
            let started = Instant::now();
            let mut sum = 0.0;
            for at in fixes {
                sum += ask(black_box(at));
            }
            black_box(sum);
            started.elapsed().as_secs_f64() * 1e9 / fixes.len() as f64
        })
        .collect();
    passes.sort_by(f64::total_cmp);
    let ratio = peer.map_or_else(String::new, |peer| format!("{:.3} of the peer", passes[1] / peer));
    println!("{what:<58} {:>9.1} ns  {ratio}", passes[1]);
    passes[1]
}
