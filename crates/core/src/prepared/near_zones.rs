//! Which zones a question about one fix needs, and reading those.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use serde::{Deserialize, Serialize};

use super::Unfit;
use super::index::{PreparedFile, overridden};
use crate::coast::Coast;
use crate::geodesic::{LARGEST_RADIUS_M, surface};
use crate::zone::{Extent, Zone, ZoneSet, box_about, other_readings};
use crate::zone_file::{LoadZonesError, LoadedFile};
use crate::{Fix, Position, Question};

/// So many of the zones with the nearest boxes are read to begin with: mostly the nearest line is among them.
const READ_FIRST: usize = 3;
/// After so many rounds all zones are read; two or three are usual.
const MOST_ROUNDS: usize = 20;
/// Where more zones than this matter, as to a fix on the other side of the Earth, all are read: to look again and again whether
/// they are enough would take longer.
const MOST_CHOSEN: usize = 2_000;
/// Added to distances within which boxes are looked for, in metres: what rounding may come to, many times over.
const SPARE_M: f64 = 5.0;

/// The zones of one file: all of them, or a way to those that are needed.
#[derive(Debug)]
pub enum FileOfZones {
    /// All of them, read already.
    Whole(Vec<Zone>),
    /// The file and its index.
    Prepared(PreparedFile),
}

/// The zones by which one question about one fix is answered as by all of their files.
#[derive(Debug)]
#[non_exhaustive]
pub struct ZonesForFix {
    /// The zones, in the order of the files and of the zones in them.
    pub zones: ZoneSet,
    /// Indexes that turned out unfit while they were used.
    pub unfit: Vec<UnfitIndex>,
}

/// An index that turned out unfit while it was used, so that its file was read whole.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct UnfitIndex {
    /// The name that answers give the zone file.
    pub path_label: String,
    /// Why it is not used.
    pub why: Unfit,
    /// What is odd about the zone file, in words: the index may have told otherwise.
    pub warnings: Vec<String>,
}

/// Whether a question needs all zones whatever the place: when it asks for them, or names a gear for a fish, which may be known
/// to any zone.
#[must_use]
pub fn needs_all_zones(question: &Question) -> bool {
    let asks_gear = question.circumstances.gear.is_some() && !question.species.is_empty();
    question.all_zones || asks_gear
}

/// Reads the zones that can matter to a question about a fix.
///
/// [`ZoneSet::assess`] answers this question by them as by all zones of all files, and so does
/// [`ZoneSet::override_circles`], but that circles go by places in the smaller set. Nothing is said of other questions.
///
/// # Edge cases
///
/// Where it cannot be told which zones matter, all are read: if [`needs_all_zones`], or no line is known. A file whose index
/// contradicts it is read whole.
///
/// # Errors
///
/// [`LoadZonesError`] of a file whose index is unfit and that cannot be read either.
///
/// # Examples
///
/// ```
/// use takeline::prepared::{FileOfZones, Index, prepare, zones_for};
/// use takeline::{Fix, HorizontalUncertainty, Position, Question, WaterStatus};
/// let file = br#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "sallow-cove",
///     "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
///     "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
/// let index = Index::of(&prepare("marrowick.json", file)?.index, file)?;
/// let prepared = index.with_source("marrowick.json", file.to_vec());
/// let fix = Fix::new(Position::from_degrees(45.11, -30.13)?, HorizontalUncertainty::assumed());
/// let question = Question::default();
/// let found = zones_for(vec![FileOfZones::Prepared(prepared)], &fix, &question)?;
/// assert_eq!(found.zones.assess(&fix, &question).water, WaterStatus::Closed);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn zones_for(
    files: Vec<FileOfZones>,
    fix: &Fix,
    question: &Question,
) -> Result<ZonesForFix, LoadZonesError> {
    zones_beside(files, &[], fix, question)
}

/// As [`zones_for`], for zones in whose waters there are coasts: the set has these, see [`ZoneSet::with_coasts`].
///
/// # Errors
///
/// As [`zones_for`].
pub fn zones_beside(
    files: Vec<FileOfZones>,
    coasts: &[Coast],
    fix: &Fix,
    question: &Question,
) -> Result<ZonesForFix, LoadZonesError> {
    let mut reading = Reading::of(files);
    reading.coasts = coasts.to_vec();
    let mut wanted = Wanted::at_first(&reading, fix, question);
    for _ in 0..MOST_ROUNDS {
        if reading.count_of(&wanted) > MOST_CHOSEN {
            break;
        }
        reading.read(&wanted)?;
        let zones = reading.put_together();
        let enough = wanted.is_enough(&zones, fix, question);
        if enough || reading.is_complete() {
            return Ok(ZonesForFix { zones, unfit: reading.unfit });
        }
        reading.take_apart(zones);
    }
    reading.read(&Wanted::everything())?;
    Ok(ZonesForFix { zones: reading.put_together(), unfit: reading.unfit })
}

/// The zones of all files that were read so far.
struct Reading {
    files: Vec<File>,
    related: Related,
    held: BTreeMap<Key, Zone>,
    /// The places of the zones in a set that was put together.
    lent: Vec<Key>,
    unfit: Vec<UnfitIndex>,
    coasts: Vec<Coast>,
}

enum File {
    /// Ids of the zones and ids that each displaces; the zones themselves are held.
    Whole(Vec<(String, Vec<String>)>),
    Prepared(PreparedFile),
}

impl File {
    fn zone_count(&self) -> usize {
        match self {
            Self::Whole(names) => names.len(),
            Self::Prepared(file) => file.zone_count(),
        }
    }

    /// The id of a zone and the ids that it cites; nothing for a zone that there is not.
    fn names(&self, number: usize) -> (&str, Vec<&str>) {
        let told = match self {
            Self::Whole(names) => names.get(number).map(|(id, cited)| (id, cited)),
            Self::Prepared(file) => file.features().get(number).map(|told| (&told.id, &told.overrides)),
        };
        told.map_or(("", Vec::new()), |(id, cited)| (id.as_str(), cited.iter().map(String::as_str).collect()))
    }
}

impl Reading {
    fn of(files: Vec<FileOfZones>) -> Self {
        let mut held = BTreeMap::new();
        let file = |(place, file)| match file {
            FileOfZones::Prepared(file) => File::Prepared(file),
            FileOfZones::Whole(zones) => {
                let names = zones.iter().map(|zone| (zone.id.0.clone(), overridden(zone))).collect();
                held.extend(zones.into_iter().enumerate().map(|(number, zone)| ((place, number), zone)));
                File::Whole(names)
            }
        };
        let files: Vec<File> = files.into_iter().enumerate().map(file).collect();
        let related = related_of(&files);
        Self { files, related, held, lent: Vec::new(), unfit: Vec::new(), coasts: Vec::new() }
    }

    fn prepared(&self) -> impl Iterator<Item = (usize, &PreparedFile)> {
        self.files.iter().enumerate().filter_map(|(place, file)| match file {
            File::Whole(_) => None,
            File::Prepared(prepared) => Some((place, prepared)),
        })
    }

    fn is_complete(&self) -> bool {
        self.lent.len().max(self.held.len()) == self.files.iter().map(File::zone_count).sum::<usize>()
    }

    /// How many zones of files with an index are wanted.
    fn count_of(&self, wanted: &Wanted) -> usize {
        let told = self.prepared().flat_map(|(_, file)| file.features());
        told.filter(|told| wanted.reaches(&told.lies)).count()
    }

    /// Reads what is wanted and not held yet.
    fn read(&mut self, wanted: &Wanted) -> Result<(), LoadZonesError> {
        let lie_near = self.prepared().flat_map(|(place, file)| {
            let told = file.features().iter().enumerate();
            // the first zone of each file brings its fish
            told.filter(|(number, told)| *number == 0 || wanted.reaches(&told.lies))
                .map(move |(number, _)| (place, number))
        });
        let mut keys: BTreeSet<Key> = lie_near.chain(self.related.in_circles()).collect();
        keys.extend(self.held.keys());
        self.related.add_to(&mut keys, |(place, number)| {
            self.files.get(place).map_or(("", Vec::new()), |file| file.names(number))
        });
        keys.retain(|key| !self.held.contains_key(key));
        for place in 0..self.files.len() {
            let numbers: Vec<usize> =
                keys.range((place, 0)..=(place, usize::MAX)).map(|(_, number)| *number).collect();
            if !numbers.is_empty() {
                self.read_of(place, &numbers)?;
            }
        }
        Ok(())
    }

    fn read_of(&mut self, place: usize, numbers: &[usize]) -> Result<(), LoadZonesError> {
        let Some(File::Prepared(file)) = self.files.get_mut(place) else { return Ok(()) };
        match file.read(numbers) {
            Ok(zones) => {
                self.held.extend(numbers.iter().map(|number| (place, *number)).zip(zones));
            }
            Err(why) => {
                let path_label = file.path_label().to_owned();
                let LoadedFile { zones, warnings, .. } = file.read_whole()?;
                let warnings = warnings.iter().map(ToString::to_string).collect();
                self.unfit.push(UnfitIndex { path_label, why, warnings });
                self.files[place] =
                    File::Whole(zones.iter().map(|zone| (zone.id.0.clone(), overridden(zone))).collect());
                self.related = related_of(&self.files);
                self.held.retain(|key, _| key.0 != place);
                self.held.extend(zones.into_iter().enumerate().map(|(number, zone)| ((place, number), zone)));
            }
        }
        Ok(())
    }

    fn put_together(&mut self) -> ZoneSet {
        let (keys, zones) = std::mem::take(&mut self.held).into_iter().unzip();
        self.lent = keys;
        ZoneSet::new(zones).with_coasts(self.coasts.clone())
    }

    fn take_apart(&mut self, zones: ZoneSet) {
        self.held = std::mem::take(&mut self.lent).into_iter().zip(zones.into_zones()).collect();
    }
}

/// Which zones of some files cite which.
fn related_of(files: &[File]) -> Related {
    Related::of(files.iter().enumerate().flat_map(|(place, file)| {
        (0..file.zone_count()).map(move |number| {
            let (id, cited) = file.names(number);
            ((place, number), id, cited)
        })
    }))
}

/// Where zones matter: all whose boxes lie within some distance of a place.
struct Wanted {
    about_fix: ([f64; 3], f64),
    /// Places that may have been meant in place of the fix.
    meant: Vec<[f64; 3]>,
}

impl Wanted {
    fn everything() -> Self {
        Self { about_fix: ([0.0; 3], f64::INFINITY), meant: Vec::new() }
    }

    /// The zones with the nearest boxes, of those with a line.
    fn at_first(reading: &Reading, fix: &Fix, question: &Question) -> Self {
        let point = in_axes(fix.position);
        if needs_all_zones(question) {
            return Self::everything();
        }
        let features = reading.prepared().flat_map(|(_, file)| file.features());
        let mut away_m: Vec<f64> = features
            .filter_map(|told| match &told.lies {
                Lies::InBox(outer) => Some(outer.away_m(point)),
                Lies::Anywhere | Lies::SomewhereInBox(_) => None,
            })
            .collect();
        let nth = READ_FIRST.min(away_m.len()).saturating_sub(1);
        let chord_m =
            if away_m.is_empty() { 0.0 } else { *away_m.select_nth_unstable_by(nth, f64::total_cmp).1 };
        // the line is looked for as far along the ground as it is away, and boxes on the way there in a straight line
        let nearest_m = 2.0 * LARGEST_RADIUS_M * (chord_m / (2.0 * LARGEST_RADIUS_M)).min(1.0).asin();
        Self { about_fix: (point, nearest_m + SPARE_M), meant: Vec::new() }
    }

    /// Whether a zone that lies so is wanted; yes where that cannot be told.
    fn reaches(&self, lies: &Lies) -> bool {
        let Some(outer) = lies.outer_box() else { return true };
        let (fix, within_m) = self.about_fix;
        let is_beyond = |point: [f64; 3], within_m: f64| outer.away_m(point) > within_m;
        let meant_m = ZoneSet::FAR_M + SPARE_M;
        !is_beyond(fix, within_m) || !self.meant.iter().all(|place| is_beyond(*place, meant_m))
    }

    /// Whether the zones that were read are all that can matter; if not, more is wanted from now on.
    fn is_enough(&mut self, zones: &ZoneSet, fix: &Fix, question: &Question) -> bool {
        let asked_m = zones.farthest_box_asked_m(fix, question);
        if asked_m > self.about_fix.1 {
            self.about_fix.1 = asked_m + SPARE_M;
            return false;
        }
        if self.meant.is_empty() && !zones.is_near(fix.position) {
            // then the answer looks for zones where the place may have been meant to be
            self.meant = other_readings(fix.position).map(|(_, meant)| in_axes(meant)).collect();
            return self.meant.is_empty();
        }
        true
    }
}

fn in_axes(position: Position) -> [f64; 3] {
    surface(position).point.to_array()
}

/// A zone of several files: the place of its file, and its own place in that.
pub(super) type Key = (usize, usize);

/// Overrides among the zones of several files, by ids.
#[derive(Debug, Default)]
pub(super) struct Related {
    /// Zones that bear an id which is cited.
    bearing: HashMap<String, Vec<Key>>,
    /// Zones that cite an id.
    citing: HashMap<String, Vec<Key>>,
    /// Zones that cite an id which no zone of their own file bears.
    reaching_out: bool,
}

/// A zone, its id, and the ids that it cites.
pub(super) type Cited<'a> = (Key, &'a str, Vec<&'a str>);

impl Related {
    pub(super) fn of<'a>(zones: impl Iterator<Item = Cited<'a>> + Clone) -> Self {
        let mut found = Self::default();
        for (key, _, cited) in zones.clone() {
            for id in cited {
                found.citing.entry(id.to_owned()).or_default().push(key);
            }
        }
        if found.citing.is_empty() {
            return found;
        }
        let mut own: HashSet<(usize, &str)> = HashSet::new();
        for (key, id, _) in zones.clone() {
            if found.citing.contains_key(id) {
                found.bearing.entry(id.to_owned()).or_default().push(key);
                own.insert((key.0, id));
            }
        }
        found.reaching_out =
            zones.into_iter().any(|(key, _, cited)| cited.iter().any(|id| !own.contains(&(key.0, *id))));
        found
    }

    /// Zones without which a circle of overrides through several files would not be seen.
    pub(super) fn in_circles(&self) -> impl Iterator<Item = Key> + '_ {
        let all = self.bearing.values().chain(self.citing.values()).flatten().copied();
        all.filter(|_| self.reaching_out)
    }

    /// Adds to zones those that cite one of them, those that one of them cites, and those that bear the id of one of them: what
    /// has to be there for every link between the zones given to be as it is among all.
    pub(super) fn add_to<'a>(
        &self,
        zones: &mut BTreeSet<Key>,
        names: impl Fn(Key) -> (&'a str, Vec<&'a str>),
    ) {
        if self.citing.is_empty() {
            return;
        }
        let mut more = Vec::new();
        for key in zones.iter() {
            let (id, cited) = names(*key);
            let by_id = |of: &HashMap<String, Vec<Key>>, id: &str| of.get(id).cloned().unwrap_or_default();
            more.extend(by_id(&self.citing, id));
            more.extend(by_id(&self.bearing, id));
            more.extend(cited.iter().flat_map(|id| by_id(&self.bearing, id)));
        }
        zones.extend(more);
    }
}

/// Added to a box on every side, in metres: another machine may compute a box some billionths of a metre larger.
const ROOM_M: f64 = 0.5;

/// The least and the largest corner of a box, in metres.
type Corners = ([f64; 3], [f64; 3]);

/// Where a zone lies, as far as an index tells.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) enum Lies {
    /// It may be anywhere.
    Anywhere,
    /// Its line is known and lies in this box, with its inside and whatever adds doubt to it.
    InBox(OuterBox),
    /// Its line is not known; the area that it lies somewhere in is in this box.
    SomewhereInBox(OuterBox),
}

impl Lies {
    pub(super) fn of(zone: &Zone) -> Self {
        match (&zone.extent, box_about(zone)) {
            (_, None) => Self::Anywhere,
            (Extent::Known(_), Some(corners)) => Self::InBox(OuterBox::about(corners)),
            (Extent::Unknown { .. }, Some(corners)) => Self::SomewhereInBox(OuterBox::about(corners)),
        }
    }

    /// Whether a zone lies so.
    pub(super) fn is_true_of(&self, zone: &Zone) -> bool {
        match (self, &zone.extent, box_about(zone)) {
            (Self::Anywhere, _, about) => about.is_none(),
            (Self::InBox(outer), Extent::Known(_), Some(corners))
            | (Self::SomewhereInBox(outer), Extent::Unknown { .. }, Some(corners)) => outer.holds(corners),
            (Self::InBox(_) | Self::SomewhereInBox(_), _, _) => false,
        }
    }

    /// Its box; none for a zone that may be anywhere.
    pub(super) fn outer_box(&self) -> Option<&OuterBox> {
        match self {
            Self::Anywhere => None,
            Self::InBox(outer) | Self::SomewhereInBox(outer) => Some(outer),
        }
    }
}

/// A box that holds another one, in metres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct OuterBox {
    low_m: [f32; 3],
    high_m: [f32; 3],
}

impl OuterBox {
    fn about((low_m, high_m): Corners) -> Self {
        let down = |at_m: f64| rounded_down(at_m - ROOM_M);
        Self { low_m: low_m.map(down), high_m: high_m.map(|at_m| -down(-at_m)) }
    }

    fn holds(&self, (low_m, high_m): Corners) -> bool {
        let axes = 0..3;
        axes.into_iter().all(|axis| {
            f64::from(self.low_m[axis]) <= low_m[axis] && high_m[axis] <= f64::from(self.high_m[axis])
        })
    }

    /// How far off a point is from it, in metres; 0 inside. A corner that is no number never makes it farther.
    pub(super) fn away_m(&self, point: [f64; 3]) -> f64 {
        let off_m = |axis: usize| {
            let below_m = f64::from(self.low_m[axis]) - point[axis];
            let above_m = point[axis] - f64::from(self.high_m[axis]);
            below_m.max(above_m).max(0.0)
        };
        let [x_m, y_m, z_m] = [off_m(0), off_m(1), off_m(2)];
        (x_m * x_m + y_m * y_m + z_m * z_m).sqrt()
    }
}

/// The largest number of single precision that is not above this.
#[expect(
    clippy::cast_possible_truncation,
    reason = "rounded to single precision, and put right where that went up"
)]
fn rounded_down(at_m: f64) -> f32 {
    let rounded = at_m as f32;
    if f64::from(rounded) > at_m { rounded.next_down() } else { rounded }
}

#[cfg(test)]
mod boxes_tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn rounding_never_makes_a_box_smaller() {
        for step in 0..2_000_i32 {
            let at_m = f64::from(step - 1_000) * 6_378.137_001_3;
            let outer = OuterBox::about(([at_m; 3], [at_m; 3]));
            assert!(f64::from(outer.low_m[0]) <= at_m && at_m <= f64::from(outer.high_m[0]), "{at_m}");
            assert!(f64::from(outer.high_m[0]) - f64::from(outer.low_m[0]) <= 3.0, "{at_m}");
            assert!(
                outer.holds(([at_m; 3], [at_m + 0.4; 3])) && !outer.holds(([at_m; 3], [at_m + 2.0; 3])),
                "{at_m}"
            );
        }
    }

    #[test]
    fn a_box_is_as_far_off_as_its_nearest_corner() {
        let outer = OuterBox { low_m: [-1.0; 3], high_m: [1.0; 3] };
        assert!(outer.away_m([0.5, -1.0, 1.0]).abs() < 1e-12);
        assert_abs_diff_eq!(outer.away_m([4.0, 5.0, 0.0]), 5.0, epsilon = 1e-12);
        let broken = OuterBox { low_m: [f32::NAN; 3], high_m: [f32::NAN; 3] };
        assert!(broken.away_m([9e6; 3]).abs() < 1e-12);
    }
}
