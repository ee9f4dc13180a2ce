//! Sound zone files of any structure are read, and every place is on the right side.
//!
//! A zone is some cells of a grid, each a part of its own, with vertices more on its edges: parts share whole borders,
//! pieces of borders and corners, meet in T-junctions and lie about holes. Straight in longitude and latitude their union is
//! known without any geometry of ours; of the other models the side has to agree with the count of crossings.
#![no_main]

use libfuzzer_sys::arbitrary::{self, Arbitrary};
use libfuzzer_sys::fuzz_target;
use takeline::zone::Extent;
use takeline::{Boundary, Position};

/// Cells on each side of the grid.
const SIDE: i32 = 4;
/// Nearer to the line than this, in metres, neither way to the side is held to the other: 1 cm.
const NEAR_M: f64 = 0.01;

#[derive(Debug, Arbitrary)]
struct Structure {
    south: u8,
    west: i8,
    /// Width and height of a cell, in thousandths of a degree less one.
    cell: (u8, u8),
    /// One bit for each cell.
    taken: u16,
    /// For each edge of each cell in turn: vertices more on it.
    more: [u8; 16],
    model: u8,
    /// Where the first vertex of each ring stands, and which way it runs.
    turned: u16,
    backwards: u16,
    places: [(u8, u8); 6],
}

impl Structure {
    fn corner(&self) -> (f64, f64) {
        // from 76° S to 76° N, and across 180°
        (f64::from(self.south) * 0.6 - 76.0, f64::from(self.west) * 1.41)
    }

    fn cell_deg(&self) -> (f64, f64) {
        let size = |byte: u8| (f64::from(byte) + 1.0) / 1000.0;
        (size(self.cell.0), size(self.cell.1))
    }

    fn is_taken(&self, row: i32, column: i32) -> bool {
        let is_there = (0..SIDE).contains(&row) && (0..SIDE).contains(&column);
        is_there && self.taken & (1 << (row * SIDE + column)) != 0
    }

    /// A place of the grid, in cells from its corner, as longitude and latitude.
    fn lon_lat(&self, row: f64, column: f64) -> [f64; 2] {
        let ((south, west), (height, width)) = (self.corner(), self.cell_deg());
        let lon = west + column * width;
        let turns = if lon > 180.0 { -1.0 } else { f64::from(u8::from(lon < -180.0)) };
        [lon + 360.0 * turns, south + row * height]
    }

    fn ring(&self, row: i32, column: i32) -> String {
        let number = row * SIDE + column;
        let corners = [(0, 0), (0, 1), (1, 1), (1, 0), (0, 0)].map(|(up, right)| (row + up, column + right));
        let mut places = Vec::new();
        for (edge, ends) in corners.windows(2).enumerate() {
            let more = i32::from(self.more[number as usize] >> (2 * edge) & 3);
            for step in 0..=more {
                let share = f64::from(step) / f64::from(more + 1);
                let between = |from: i32, to: i32| f64::from(from) + f64::from(to - from) * share;
                places.push(self.lon_lat(between(ends[0].0, ends[1].0), between(ends[0].1, ends[1].1)));
            }
        }
        if self.turned & (1 << number) != 0 {
            places.rotate_left(1);
        }
        if self.backwards & (1 << number) != 0 {
            places.reverse();
        }
        places.push(places[0]);
        format!("[{places:?}]")
    }

    fn file(&self) -> Option<String> {
        let cells = (0..SIDE).flat_map(|row| (0..SIDE).map(move |column| (row, column)));
        let parts: Vec<String> = cells.filter(|(r, c)| self.is_taken(*r, *c)).map(|(r, c)| self.ring(r, c)).collect();
        if parts.is_empty() {
            return None;
        }
        let edges = ["lonlat", "rhumb", "geodesic"][usize::from(self.model % 3)];
        Some(format!(
            r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84"}},"features":[
               {{"type":"Feature","id":"grid","geometry":{{"type":"MultiPolygon","coordinates":[{}]}},"properties":
               {{"name":"Grid","edges":"{edges}","take":"none","source":{{"instrument":"Fuzz Order"}}}}}}]}}"#,
            parts.join(",")
        ))
    }
}

fuzz_target!(|structure: Structure| {
    let Some(file) = structure.file() else { return };
    let loaded = takeline::zone_file::read("grid.json", file.as_bytes()).unwrap_or_else(|refused| panic!("{refused}\n{file}"));
    let Extent::Known(boundary) = &loaded.zones[0].extent else { panic!("the line is known") };
    for (row, column) in structure.places {
        // from half a cell outside the grid on one side to half a cell on the other
        let cells = |byte: u8| f64::from(byte) / 51.0 - 0.5;
        check(&structure, boundary, (cells(row), cells(column)));
    }
});

fn check(structure: &Structure, boundary: &Boundary, (row, column): (f64, f64)) {
    let [lon_deg, lat_deg] = structure.lon_lat(row, column);
    let place = Position::from_degrees(lat_deg, lon_deg).expect("a place on the Earth");
    let distance_m = boundary.locate(place).signed_distance.metres();
    assert!(distance_m.is_finite());
    if distance_m.abs() < NEAR_M {
        return;
    }
    let is_inside = distance_m < 0.0;
    assert_eq!(is_inside, boundary.contains_by_crossings(place), "{place:?}, {distance_m} m");
    if structure.model % 3 == 0 {
        let taken = structure.is_taken(row.floor() as i32, column.floor() as i32);
        assert_eq!(is_inside, taken, "{place:?}, {distance_m} m");
    }
}
