//! The sketch in plain text.

use takeline::transit::Side;

use super::scene::{Scene, Standing, View};
use crate::lines::Page;
use crate::transit::document::TransitDocument;
use crate::transit::words;

/// Pictures are no wider than this, or the marks would be hard to find.
const WIDEST: usize = 40;
/// Columns between the marks where they are open.
const GAP: usize = 6;

/// Returns three small pictures of the marks, from inside, on the line and outside, each under a line that says it in words.
///
/// The places lie abreast of the middle of the stretch, three times as far off the line as the eye needs. The pictures are
/// ASCII: `|` is the front mark, `^` the rear mark.
///
/// # Edge cases
///
/// Where the marks tell no side, the text says why there is no sketch. Fewer than 20 columns count as 20.
#[must_use]
pub fn transit_sketch_text(document: &TransitDocument<'_>, width: usize) -> String {
    let report = document.report;
    let mut page = Page::new(width);
    let scene = match Scene::of(document) {
        Ok(scene) => scene,
        Err(because) => {
            page.paragraph("", &format!("No sketch of the marks. {because}"));
            return page.finish();
        }
    };
    page.paragraph("", &format!("The marks {}:", scene.place()));
    page.paragraph("", &format!("| {}, the front mark", words::name(&report.line.front().name)));
    page.paragraph("", &format!("^ {}, the rear mark", words::name(&report.line.rear().name)));
    for view in &scene.views {
        page.heading(&caption(&scene, view));
        for row in picture(&scene, view, width.clamp(20, WIDEST)) {
            page.fitted(&[row]);
        }
    }
    for remark in scene.remarks() {
        page.paragraph("", &remark);
    }
    page.finish()
}

/// What a picture shows, in words.
pub(super) fn caption(scene: &Scene, view: &View) -> String {
    let shown = match (view.side(), scene.front_hides_rear()) {
        (Some(side), _) => format!(
            "the rear mark shows {} of the front mark, open by {}\u{a0}minutes of arc",
            words::loud(side),
            words::arcmin(view.seen.rear_from_front)
        ),
        (None, true) => "the front mark hides the rear mark".into(),
        (None, false) => "the rear mark shows over the front mark".into(),
    };
    match view.standing {
        Standing::OnTheLine => format!("{}: {shown}.", view.title()),
        Standing::Inside | Standing::Outside => format!("{}, from {}: {shown}.", view.title(), view.place()),
    }
}

fn picture(scene: &Scene, view: &View, width: usize) -> [String; 4] {
    let middle = width / 2;
    let rear = match view.side() {
        Some(Side::Left) => middle - GAP,
        Some(Side::Right) => middle + GAP,
        None => middle,
    };
    let [front_seen, rear_seen] = scene.in_sight();
    let rear_over_front = rear_seen && !(view.side().is_none() && scene.front_hides_rear());
    let row = |marks: &[(usize, char, bool)]| {
        let letter = |column: usize| {
            let at_column = marks.iter().find(|(at, _, is_seen)| *at == column && *is_seen);
            at_column.map_or(' ', |(_, letter, _)| *letter)
        };
        (0..width).map(letter).collect::<String>().trim_end().to_owned()
    };
    let below = row(&[(middle, '|', front_seen), (rear, ':', rear_seen)]);
    [row(&[(rear, '^', rear_over_front)]), below.clone(), below, "-".repeat(width)]
}
