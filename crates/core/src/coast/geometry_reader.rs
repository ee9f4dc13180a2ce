//! Reads the lines and rings of a coast. Longitude comes first in them, and `geojson_text` turns each position round.

use serde_json::{Map, Value};

use super::{FaultKind, LineKind, WarningKind};
use crate::Position;
use crate::geojson_text::{Log, position, shown};

const LINE_MEND: &str = "write a list of at least two positions: [[longitude, latitude], …]";
const RING_MEND: &str = "write a ring of at least three different positions: [[longitude, latitude], …]";
const LIST_MEND: &str = "write a list";

/// A line of the file.
#[derive(Debug)]
pub(super) struct Listed {
    pub(super) positions: Vec<Position>,
    pub(super) kind: LineKind,
    pub(super) place: ListedAt,
}

/// Where in the file a line is.
#[derive(Debug, Clone, Default)]
pub(super) struct ListedAt {
    feature: Option<(usize, Option<String>)>,
    members: Vec<String>,
}

impl ListedAt {
    /// Runs `tell` as if the line were being read.
    pub(super) fn at(&self, log: &mut Log, tell: impl FnOnce(&mut Log)) {
        if let Some((number, id)) = &self.feature {
            log.at_feature(*number, id.clone());
        }
        if self.members.is_empty() {
            tell(log);
        } else {
            log.within(&self.members.join(" > "), tell);
        }
        log.at_whole_file();
    }
}

/// Reads the lines of one geometry; others than of lines and polygons are noted as passed over.
pub(super) fn geometry(log: &mut Log, members: &Map<String, Value>, found: &mut Vec<Listed>) {
    let coordinates = members.get("coordinates").unwrap_or(&Value::Null);
    let mut into = LineReader { log, found };
    match members.get("type").and_then(Value::as_str) {
        Some("LineString") => into.line(coordinates),
        Some("MultiLineString") => into.each("line", coordinates, |reader, line| reader.line(line)),
        Some("Polygon") => into.polygon(coordinates),
        Some("MultiPolygon") => into.each("part", coordinates, |reader, part| reader.polygon(part)),
        Some("Point" | "MultiPoint" | "GeometryCollection") => {
            into.log.warn_together(WarningKind::PassedOver)
        }
        Some(other) => {
            let text = format!("{} is no geometry of GeoJSON", shown(&Value::from(other)));
            into.log.fault(FaultKind::Geometry, text, "give lines or polygons");
        }
        None => into.log.fault(FaultKind::Geometry, "has no \"type\"", "write \"type\": \"LineString\""),
    }
}

struct LineReader<'a> {
    log: &'a mut Log,
    found: &'a mut Vec<Listed>,
}

impl LineReader<'_> {
    fn each(&mut self, name: &str, value: &Value, read: impl Fn(&mut LineReader<'_>, &Value)) {
        let Some(list) = value.as_array() else {
            self.log.fault(FaultKind::Geometry, format!("{} is not a list", shown(value)), LIST_MEND);
            return;
        };
        let found = &mut *self.found;
        for (number, entry) in (1..).zip(list) {
            self.log.within(&format!("{name} {number}"), |log| {
                read(&mut LineReader { log, found: &mut *found }, entry)
            });
        }
    }

    fn line(&mut self, value: &Value) {
        let Some(positions) = self.positions(value, LINE_MEND) else { return };
        let is_closed = positions.len() > 3 && positions.first() == positions.last();
        let kind = if is_closed { LineKind::Island } else { LineKind::Open };
        if positions.len() < 2 {
            self.log.fault(FaultKind::Geometry, "has fewer than two different positions", LINE_MEND);
            return;
        }
        self.keep(positions, kind);
    }

    fn polygon(&mut self, value: &Value) {
        let Some(rings) = value.as_array().filter(|rings| !rings.is_empty()) else {
            let text = format!("{} is not a list of rings", shown(value));
            self.log.fault(
                FaultKind::Geometry,
                text,
                "write a polygon as a list of rings: [[[longitude, latitude], …]]",
            );
            return;
        };
        for (number, ring) in rings.iter().enumerate() {
            let kind = if number == 0 { LineKind::Island } else { LineKind::Lake };
            let found = &mut *self.found;
            self.log
                .within(&format!("ring {}", number + 1), |log| LineReader { log, found }.ring(ring, kind));
        }
    }

    fn ring(&mut self, value: &Value, kind: LineKind) {
        let Some(mut positions) = self.positions(value, RING_MEND) else { return };
        if positions.len() > 1 && positions.first() == positions.last() {
            positions.pop();
        } else if !positions.is_empty() {
            let text = "does not end where it begins; it is closed with an edge of its own";
            self.log.warn(WarningKind::UnclosedRing, text);
        }
        if positions.len() < 3 {
            self.log.fault(FaultKind::Geometry, "has fewer than three different positions", RING_MEND);
            return;
        }
        self.keep(positions, kind);
    }

    fn keep(&mut self, positions: Vec<Position>, kind: LineKind) {
        let (feature, members) = self.log.here();
        self.found.push(Listed { positions, kind, place: ListedAt { feature, members } });
    }

    /// Reads positions; those given twice running once, with a warning.
    fn positions(&mut self, value: &Value, mend: &str) -> Option<Vec<Position>> {
        let Some(list) = value.as_array() else {
            self.log.fault(FaultKind::Geometry, format!("{} is not a list of positions", shown(value)), mend);
            return None;
        };
        let mut found: Vec<Position> = Vec::with_capacity(list.len());
        let (mut repeated, mut faults) = (0, 0);
        for (number, entry) in (1..).zip(list) {
            match position(entry) {
                Ok(position) if found.last() == Some(&position) => repeated += 1,
                Ok(position) => found.push(position),
                Err((text, mend)) => {
                    faults += 1;
                    let place = format!("position {number} (of {})", list.len());
                    self.log.within(&place, |log| log.fault(FaultKind::Geometry, text, mend));
                }
            }
        }
        if repeated > 0 {
            let text = format!("{repeated} positions are the same as those before them; each is read once");
            self.log.warn(WarningKind::RepeatedVertex, text);
        }
        (faults == 0).then_some(found)
    }
}
