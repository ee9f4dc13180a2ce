//! CSV in the notation of laws.

use takeline::sanitised;
use takeline::zone::{Extent, Zone};
use takeline::{EdgeModel, PartSpec, Position, RingSpec, Side, SideKind};

use super::Sheet;

/// How positions are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Notation {
    /// Decimal degrees, to 1 cm: `45.1175000°N`.
    DecimalDegrees,
    /// Degrees and minutes, to 2 cm: `45°07.05000′N`.
    #[default]
    DegreesMinutes,
    /// Degrees, minutes and seconds, to 3 cm: `45°07′03.000″N`.
    DegreesMinutesSeconds,
}

impl Notation {
    /// Latitude and longitude.
    #[must_use]
    pub fn written(self, position: Position) -> (String, String) {
        let both = match self {
            Self::DecimalDegrees => position.to_decimal_degrees(7),
            Self::DegreesMinutes => position.to_degrees_minutes_of(5),
            Self::DegreesMinutesSeconds => position.to_degrees_minutes_seconds_of(3),
        };
        let (latitude, longitude) = both.split_once(' ').unwrap_or((&both, ""));
        (latitude.to_owned(), longitude.to_owned())
    }
}

/// Returns the points of a sheet, a row each; lines that begin with `#` say what has to be known of it.
///
/// # Errors
///
/// [`csv::Error`] if the text cannot be written, which memory never refuses.
pub fn csv(sheet: &Sheet, notation: Notation) -> Result<String, csv::Error> {
    let mut rows = Rows::new(&["line", "name", "point", "latitude", "longitude", "lat_deg", "lon_deg"])?;
    let lines =
        sheet.drawn.iter().flat_map(|drawn| drawn.shape.lines().into_iter().map(move |line| (drawn, line)));
    for (number, (drawn, line)) in lines.enumerate() {
        for (point, place) in line.into_iter().enumerate() {
            let before = [(number + 1).to_string(), drawn.name.clone(), (point + 1).to_string()];
            rows.write(&before, notation, place, &[])?;
        }
    }
    rows.finish(sheet)
}

/// Returns the corners of zones as their files give them, a row each, with how the side runs that leaves it and what it is; of a circle its
/// centre and radius.
///
/// # Errors
///
/// As [`csv()`].
pub fn corners_csv(sheet: &Sheet, zones: &[&Zone], notation: Notation) -> Result<String, csv::Error> {
    let columns = [
        "zone_id",
        "part",
        "ring",
        "vertex",
        "latitude",
        "longitude",
        "lat_deg",
        "lon_deg",
        "side_runs",
        "side_is",
        "radius_m",
    ];
    let mut rows = Rows::new(&columns)?;
    for zone in zones {
        let Extent::Known(boundary) = &zone.extent else { continue };
        for (part, spec) in boundary.parts().iter().enumerate() {
            let id = [zone.id.to_string(), (part + 1).to_string()];
            match spec {
                PartSpec::Circle { centre, radius } => {
                    let after = [String::new(), String::new(), radius.metres().to_string()];
                    let [zone_id, part] = id;
                    rows.write(&[zone_id, part, String::new(), "centre".into()], notation, *centre, &after)?;
                }
                PartSpec::Polygon { exterior, holes } => {
                    for (ring, spec) in std::iter::once(exterior).chain(holes).enumerate() {
                        rows.ring(&id, ring, spec, notation)?;
                    }
                }
            }
        }
    }
    rows.finish(sheet)
}

struct Rows {
    writer: csv::Writer<Vec<u8>>,
}

impl Rows {
    fn new(columns: &[&str]) -> Result<Self, csv::Error> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(columns)?;
        Ok(Self { writer })
    }

    fn write(
        &mut self,
        before: &[String],
        notation: Notation,
        place: Position,
        after: &[String],
    ) -> Result<(), csv::Error> {
        let (latitude, longitude) = notation.written(place);
        let degrees =
            [place.latitude().degrees(), place.longitude().degrees()].map(|degrees| format!("{degrees:.9}"));
        let fields = before.iter().chain([&latitude, &longitude]).chain(&degrees).chain(after);
        self.writer.write_record(fields.map(|field| defused(&sanitised::line(field))))
    }

    fn ring(
        &mut self,
        id: &[String; 2],
        ring: usize,
        spec: &RingSpec,
        notation: Notation,
    ) -> Result<(), csv::Error> {
        for (at, vertex) in spec.vertices.iter().enumerate() {
            let [zone_id, part] = id.clone();
            let before = [zone_id, part, (ring + 1).to_string(), (at + 1).to_string()];
            let model = spec.edges.get(at).copied().unwrap_or(EdgeModel::Unstated);
            let (runs, radius) = runs(model);
            let kind = spec.sides.get(at).map_or(SideKind::Open, |side: &Side| side.kind);
            self.write(&before, notation, *vertex, &[runs.to_owned(), is(kind).to_owned(), radius])?;
        }
        Ok(())
    }

    fn finish(self, sheet: &Sheet) -> Result<String, csv::Error> {
        let bytes = self.writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
        let mut text = String::new();
        for remark in std::iter::once(&sheet.title).chain(&sheet.remarks) {
            text.extend(["# ", &defused_remark(&sanitised::line(remark)), "\n"]);
        }
        text.push_str(&String::from_utf8_lossy(&bytes));
        Ok(text)
    }
}

/// What makes spreadsheets run a cell that begins with it, in the forms of East Asian keyboards too (common practice, no source).
const RUN: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// A cell that no spreadsheet runs: an apostrophe before what it would; numbers stay as they are.
fn defused(cell: &str) -> String {
    let is_run = cell.trim_start_matches('\'').starts_with(RUN) && cell.parse::<f64>().is_err();
    if is_run { format!("'{cell}") } else { cell.to_owned() }
}

/// A remark that spreadsheets split into cells: the same for each of them.
fn defused_remark(remark: &str) -> String {
    let mut text = String::with_capacity(remark.len());
    let mut begins = false;
    for letter in remark.chars() {
        if begins && RUN.contains(&letter) {
            text.push('\'');
        }
        begins = matches!(letter, ',' | ';') || (begins && (letter == '"' || letter.is_whitespace()));
        text.push(letter);
    }
    text
}

/// The cell of a table as it was before an apostrophe was put before it, so that tables which [`csv()`] and [`corners_csv`] write can
/// be read back.
///
/// # Examples
///
/// ```
/// use takeline_gis::export::with_nothing_put_before;
/// assert_eq!(with_nothing_put_before("'=1+1"), "=1+1");
/// assert_eq!(with_nothing_put_before("'t Hof"), "'t Hof");
/// ```
#[must_use]
pub fn with_nothing_put_before(cell: &str) -> &str {
    let before = cell.strip_prefix('\'').unwrap_or(cell);
    if before.trim_start_matches('\'').starts_with(RUN) { before } else { cell }
}

/// The words of the zone file.
fn runs(model: EdgeModel) -> (&'static str, String) {
    match model {
        EdgeModel::Geodesic => ("geodesic", String::new()),
        EdgeModel::RhumbLine => ("rhumb", String::new()),
        EdgeModel::PlateCarree => ("lonlat", String::new()),
        EdgeModel::Unstated => ("unstated", String::new()),
        EdgeModel::Arc(arc) => ("arc", arc.radius.metres().to_string()),
    }
}

fn is(kind: SideKind) -> &'static str {
    match kind {
        SideKind::Open => "open",
        SideKind::Shore => "shore",
        SideKind::Mouth => "mouth",
        SideKind::Unresolved => "unresolved",
    }
}
