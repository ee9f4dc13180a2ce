//! GPX 1.1.

use std::io;

use takeline_formats::{GpxDocument, GpxLine, GpxPoint};

use super::Sheet;

/// What the lines of a GPX file are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GpxKind {
    /// Lines to be followed: `rte`.
    Route,
    /// Lines to be looked at: `trk`.
    Track,
}

/// Returns GPX 1.1: a route or a track for each line, and for each ring of an area.
///
/// # Errors
///
/// [`io::Error`] if the text cannot be written, which memory never refuses.
pub fn gpx(sheet: &Sheet, kind: GpxKind) -> io::Result<String> {
    let lines: Vec<GpxLine> = sheet
        .drawn
        .iter()
        .flat_map(|drawn| {
            drawn.shape.lines().into_iter().map(|places| GpxLine {
                name: drawn.name.clone(),
                description: format!(
                    "{} {}",
                    drawn.description,
                    sheet.remarks.first().map_or("", String::as_str)
                ),
                points: places.into_iter().map(GpxPoint::from).collect(),
            })
        })
        .collect();
    let mut document = GpxDocument {
        name: sheet.title.clone(),
        description: sheet.remarks.join(" | "),
        ..GpxDocument::default()
    };
    match kind {
        GpxKind::Route => document.routes = lines,
        GpxKind::Track => document.tracks = lines,
    }
    document.written()
}
