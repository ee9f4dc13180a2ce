//! What an eye sees of the marks on both sides of the line and on it, as a drawing with their silhouettes and in plain text.

use maud::{Markup, PreEscaped, html};
use takeline::landmark::Landmark;
use takeline::transit::{Side, TransitReport};
use takeline::{Containment, ZoneSet};

use super::scene::{Scene, Standing, View};
use crate::drawing::COLOURS;
use crate::drawing::chart::unit;
use crate::lines::{Page, sanitised};
use crate::transit::document::TransitDocument;
use crate::transit::phrases;
use crate::written;

/// The shape of a mark: its foot at the origin, its top at `height` above, in units of the drawing.
pub(super) fn shape(mark: &Landmark, height: f64) -> Markup {
    let half = (height * 0.16).clamp(4.0, 14.0);
    let outline = match mark.kind.as_deref().map(str::to_lowercase).as_deref() {
        Some("spire" | "church" | "chapel" | "steeple") => spire(height, half),
        Some("tree" | "pine") => tree(height, half),
        Some("beacon") => beacon(height, half),
        Some("mast") => mast(height, half),
        Some("withy" | "perch") => withy(height, half),
        _ => post(height, half),
    };
    html! { path d=(outline) {} }
}

/// The way along corners, closed. Heights count upwards from the foot.
fn closed(corners: &[(f64, f64)]) -> String {
    let steps = corners.iter().map(|(x, up)| format!("{} {}", unit(*x), unit(-up)));
    format!("M{}Z", steps.collect::<Vec<_>>().join("L"))
}

/// A low nave with a pointed tower at its end.
fn spire(height: f64, half: f64) -> String {
    let nave = height * 0.3;
    let tower = closed(&[
        (-0.6 * half, 0.0),
        (-0.6 * half, height * 0.45),
        (0.0, height),
        (0.6 * half, height * 0.45),
        (0.6 * half, 0.0),
    ]);
    let hall = closed(&[(0.6 * half, 0.0), (0.6 * half, nave), (1.9 * half, nave), (1.9 * half, 0.0)]);
    tower + &hall
}

/// A trunk with three layers of branches.
fn tree(height: f64, half: f64) -> String {
    let trunk = closed(&[
        (-0.18 * half, 0.0),
        (-0.18 * half, 0.22 * height),
        (0.18 * half, 0.22 * height),
        (0.18 * half, 0.0),
    ]);
    let crown = closed(&[
        (-1.25 * half, 0.22 * height),
        (-0.6 * half, 0.48 * height),
        (-half, 0.48 * height),
        (-0.4 * half, 0.74 * height),
        (-0.7 * half, 0.74 * height),
        (0.0, height),
        (0.7 * half, 0.74 * height),
        (0.4 * half, 0.74 * height),
        (half, 0.48 * height),
        (0.6 * half, 0.48 * height),
        (1.25 * half, 0.22 * height),
    ]);
    trunk + &crown
}

/// A tower that narrows upwards, with a wider head.
fn beacon(height: f64, half: f64) -> String {
    closed(&[
        (-half, 0.0),
        (-0.55 * half, 0.72 * height),
        (-0.9 * half, 0.72 * height),
        (-0.9 * half, height),
        (0.9 * half, height),
        (0.9 * half, 0.72 * height),
        (0.55 * half, 0.72 * height),
        (half, 0.0),
    ])
}

/// A thin pole with two stays.
fn mast(height: f64, half: f64) -> String {
    let thin = 0.14 * half;
    let pole = closed(&[(-thin * 1.5, 0.0), (-thin, height), (thin, height), (thin * 1.5, 0.0)]);
    let stay = |side: f64| {
        closed(&[(side * half * 1.1, 0.0), (side * (half * 1.1 + 1.2), 0.0), (side * thin, 0.8 * height)])
    };
    pole + &stay(-1.0) + &stay(1.0)
}

/// A stick with a few twigs left at its end.
fn withy(height: f64, half: f64) -> String {
    let thin = 0.18 * half;
    let stick = closed(&[(-thin, 0.0), (-thin, height), (thin, height), (thin, 0.0)]);
    let twig = |side: f64, from: f64| {
        closed(&[
            (0.0, from * height),
            (side * 0.8 * half, (from + 0.2) * height),
            (0.0, (from + 0.07) * height),
        ])
    };
    stick + &twig(1.0, 0.72) + &twig(-1.0, 0.6)
}

fn post(height: f64, half: f64) -> String {
    closed(&[(-0.4 * half, 0.0), (-0.4 * half, height), (0.4 * half, height), (0.4 * half, 0.0)])
}

pub(super) const SKETCH_STYLE: &str = include_str!("sketch.css");
const PANEL_WIDTH: f64 = 240.0;
const HEIGHT: f64 = 312.0;
const TOP: f64 = 34.0;
const HORIZON: f64 = 178.0;
/// Height of the mark that shows highest, and the least that still is a shape.
const TALLEST: f64 = 130.0;
const SMALLEST: f64 = 22.0;
/// How far apart the marks are drawn where they are least open, and where they are most; the true angles are far too small to draw.
const GAPS: [f64; 2] = [56.0, 150.0];

/// Returns the sketch as a drawing of its own: the marks from the zone's side of the line, on it and from the other side.
///
/// Each picture says on which side of the boundaries somebody is who sees the marks so abreast of the middle of the stretch:
/// inside or outside only where that is sure, the uncertainty of the marks and what the eye does not see counted. Where the marks
/// open long before the boundary, one more picture is drawn from a place that is surely inside. The heights of the marks over
/// the horizon are to scale where both are known. The gap between them is much larger than life, and wider where
/// it is seen wider: the true one stands beneath, in minutes of arc.
/// The drawing has a title and a description for those who do not see it.
///
/// # Edge cases
///
/// Where the marks tell no side, or the zones are not those of the report, the drawing holds a sentence that says why.
#[must_use]
pub fn transit_sketch_svg(document: &TransitDocument<'_>, zones: &ZoneSet) -> String {
    let style = format!("{COLOURS}{SKETCH_STYLE}");
    let drawn = match Scene::of(document, zones) {
        Ok(scene) => drawing(document.report, &scene, &style),
        Err(because) => none(&because, &style),
    };
    written::markup(drawn.into_string())
}

/// The pictures of a scene, each a drawing of its own, so that a narrow screen can put them one below the other.
pub(super) fn pictures(report: &TransitReport, scene: &Scene<'_>) -> Markup {
    let heights = Heights::of(scene);
    html! {
        div .views {
            @for view in &scene.views {
                svg .drawing .sketch role="img" aria-label=(caption(scene, view))
                    viewBox={ "0 0 " (unit(PANEL_WIDTH)) " " (unit(HEIGHT)) } {
                    (panel(report, (scene, view), &heights, 0.0))
                }
            }
        }
    }
}

fn drawing(report: &TransitReport, scene: &Scene<'_>, style: &str) -> Markup {
    let heights = Heights::of(scene);
    let captions = scene.views.iter().map(|view| caption(scene, view)).collect::<Vec<_>>().join(" ");
    let (front, rear) = (&report.line.front().name, &report.line.rear().name);
    let lefts = std::iter::successors(Some(0.0), |left| Some(left + PANEL_WIDTH));
    let placed: Vec<(f64, &View)> = lefts.zip(&scene.views).collect();
    let width = placed.last().map_or(0.0, |(left, _)| *left) + PANEL_WIDTH;
    html! {
        svg .drawing .sketch role="img" xmlns="http://www.w3.org/2000/svg" aria-labelledby="sketch-title sketch-words"
            viewBox={ "0 0 " (unit(width)) " " (unit(HEIGHT)) } {
            title #sketch-title { "How the marks look: " (sanitised(rear)) " behind " (sanitised(front)) }
            desc #sketch-words { (captions) }
            style { (PreEscaped(style)) }
            @for (left, view) in placed { (panel(report, (scene, view), &heights, left)) }
        }
    }
}

/// How high the marks are drawn.
struct Heights {
    front: f64,
    rear: f64,
}

impl Heights {
    fn of(scene: &Scene<'_>) -> Self {
        let Some(sights) = scene.sights else { return Self { front: 0.7 * TALLEST, rear: TALLEST } };
        let [front, rear] = sights.map(|sight| (sight.elevation.arcmin() + scene.dip_arcmin).max(0.0));
        let scale = TALLEST / front.max(rear).max(1e-6);
        Self { front: (front * scale).max(SMALLEST), rear: (rear * scale).max(SMALLEST) }
    }
}

/// The least and the widest opening among the views, in minutes of arc.
struct Openings {
    least: f64,
    widest: f64,
}

impl Openings {
    fn of(scene: &Scene<'_>) -> Self {
        let open = || scene.views.iter().filter(|view| view.side().is_some()).map(arcmin_open);
        Self { least: open().fold(f64::INFINITY, f64::min), widest: open().fold(0.0, f64::max) }
    }

    /// How wide the gap of a view is drawn: to one scale where the widest then has room, else wider where it is wider.
    fn drawn(&self, view: &View, [least, most]: [f64; 2]) -> f64 {
        let open = arcmin_open(view);
        if self.is_to_scale([least, most]) {
            return least * open / self.least;
        }
        least + (most - least) * (open - self.least) / (self.widest - self.least)
    }

    fn is_to_scale(&self, [least, most]: [f64; 2]) -> bool {
        self.widest <= self.least * most / least
    }
}

fn arcmin_open(view: &View) -> f64 {
    view.seen.rear_from_front.arcmin().abs()
}

/// How true the gaps of the pictures are.
pub(super) fn about_gaps(scene: &Scene<'_>) -> &'static str {
    if Openings::of(scene).is_to_scale(GAPS) {
        "The gaps are larger than life, to one scale."
    } else {
        "A wider gap is drawn wider, but not to scale: the angle stands below."
    }
}

fn panel(report: &TransitReport, (scene, view): (&Scene<'_>, &View), heights: &Heights, left: f64) -> Markup {
    let middle = left + PANEL_WIDTH / 2.0;
    let gap = Openings::of(scene).drawn(view, GAPS);
    let (front_x, rear_x) = match view.side() {
        Some(Side::Left) => (middle + gap / 2.0, middle - gap / 2.0),
        Some(Side::Right) => (middle - gap / 2.0, middle + gap / 2.0),
        None => (middle, middle),
    };
    let [front_seen, rear_seen] = scene.in_sight();
    let line = &report.line;
    html! {
        g .view {
            text .heading x=(unit(middle)) y="22" text-anchor="middle" { (view.heading(scene.words)) }
            rect .air x=(unit(left + 6.0)) y=(unit(TOP)) width=(unit(PANEL_WIDTH - 12.0)) height=(unit(HORIZON - TOP)) {}
            // the rear mark first, so that the front mark stands before it
            @if rear_seen { (mark("rear", line.rear(), rear_x, heights.rear)) }
            @if front_seen { (mark("front", line.front(), front_x, heights.front)) }
            rect .water x=(unit(left + 6.0)) y=(unit(HORIZON)) width=(unit(PANEL_WIDTH - 12.0)) height="14" {}
            line .horizon x1=(unit(left + 6.0)) x2=(unit(left + PANEL_WIDTH - 6.0)) y1=(unit(HORIZON)) y2=(unit(HORIZON)) {}
            (words_below(view, middle, scene))
        }
    }
}

fn mark(class: &str, mark: &Landmark, x: f64, height: f64) -> Markup {
    html! {
        g .{ "mark " (class) } transform={ "translate(" (unit(x)) " " (unit(HORIZON)) ")" } {
            (shape(mark, height))
        }
    }
}

fn words_below(view: &View, middle: f64, scene: &Scene<'_>) -> Markup {
    let rear = view.side().map(|side| {
        let opening = phrases::minutes_of_arc(view.seen.rear_from_front);
        format!("rear {}, {opening}", scene.words.left_or_right(side))
    });
    let lines = [view.place.by(scene.words), Some(view.place_words(scene.words)), rear];
    let baselines = std::iter::successors(Some(HORIZON + 68.0), |baseline| Some(baseline + 27.0));
    html! {
        text .title x=(unit(middle)) y=(unit(HORIZON + 41.0)) text-anchor="middle" { (view.place.title()) }
        @for (baseline, line) in baselines.zip(lines.into_iter().flatten()) {
            text x=(unit(middle)) y=(unit(baseline)) text-anchor="middle" { (line) }
        }
    }
}

fn none(because: &str, style: &str) -> Markup {
    const LETTERS_IN_A_LINE: usize = 52;
    const LINE: f64 = 28.0;
    let because = sanitised(because);
    let lines = textwrap::wrap(&because, LETTERS_IN_A_LINE);
    let baselines = std::iter::successors(Some(58.0), |baseline| Some(baseline + LINE));
    let placed: Vec<(f64, _)> = baselines.zip(&lines).collect();
    let height = placed.last().map_or(58.0, |(baseline, _)| *baseline) + 16.0;
    html! {
        svg .drawing .sketch role="img" xmlns="http://www.w3.org/2000/svg" aria-labelledby="sketch-title sketch-words"
            viewBox={ "0 0 " (unit(3.0 * PANEL_WIDTH)) " " (unit(height)) } {
            title #sketch-title { "No sketch of the marks" }
            desc #sketch-words { (because) }
            style { (PreEscaped(style)) }
            text .title x="8" y="28" { "No sketch of the marks." }
            @for (baseline, line) in placed { text x="8" y=(unit(baseline)) { (line) } }
        }
    }
}

/// Pictures are no wider than this, or the marks would be hard to find.
const WIDEST: usize = 40;
/// Columns between the marks where they are least open.
const GAP_COLUMNS: usize = 6;

/// Returns small pictures of the marks, from the zone's side of the line, on it and from the other side, each under a line that says
/// on which side of the boundaries that is, and what is seen.
///
/// The places lie abreast of the middle of the stretch, three times as far off the line as the eye needs, and one more where that
/// is not yet surely inside. The pictures are ASCII: `|` is the front mark, `^` the rear mark.
///
/// # Edge cases
///
/// Where the marks tell no side, or the zones are not those of the report, the text says why there is no sketch. Fewer than 20
/// columns count as 20.
#[must_use]
pub fn transit_sketch_text(document: &TransitDocument<'_>, zones: &ZoneSet, width: usize) -> String {
    let report = document.report;
    let mut page = Page::new(width);
    let scene = match Scene::of(document, zones) {
        Ok(scene) => scene,
        Err(because) => {
            page.paragraph("", &format!("No sketch of the marks. {because}"));
            return page.finish();
        }
    };
    page.paragraph(
        "",
        &format!("How the marks look from the middle of the stretch, {} from the front mark:", scene.away()),
    );
    page.paragraph("", &format!("| {}, the front mark", phrases::name(&report.line.front().name)));
    page.paragraph("", &format!("^ {}, the rear mark", phrases::name(&report.line.rear().name)));
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

/// How far the marks are open: `15 minutes of arc`, degrees from two on.
fn opening(view: &View) -> String {
    let figure = phrases::minutes_of_arc(view.seen.rear_from_front);
    figure
        .strip_suffix('′')
        .map_or_else(|| figure.clone(), |minutes| format!("{minutes}\u{a0}minutes of arc"))
}

/// What a picture shows, in words.
pub(super) fn caption(scene: &Scene<'_>, view: &View) -> String {
    let shown = match (view.side(), scene.front_hides_rear()) {
        (Some(side), _) => format!(
            "The rear mark shows {} of the front mark, open by {}.",
            phrases::loud(scene.words, side),
            opening(view)
        ),
        (None, true) => "The front mark hides the rear mark.".into(),
        (None, false) => "The rear mark shows over the front mark.".into(),
    };
    let title = view.place.title();
    let of = scene.other_zone(view).map_or_else(String::new, |name| format!(" {name}"));
    let by = view.place.by(scene.words).map_or_else(String::new, |by| {
        if view.place.side == Containment::Undecided { format!(", boundary {by}") } else { format!(" {by}") }
    });
    let advice = match view.back(scene.words) {
        Some(side) => format!(" Turn back: go {side} until they are in line."),
        None => String::new(),
    };
    let place = match view.standing {
        Standing::OnTheLine => "in line".to_owned(),
        Standing::WellOver | Standing::TowardZone | Standing::Away => {
            format!("{} of the line", view.place_words(scene.words))
        }
    };
    format!("{title}{of}{by}, {place}. {shown}{advice}")
}

/// How many columns lie between the marks: more where they are open wider.
fn gap_columns(scene: &Scene<'_>, view: &View, most: usize) -> usize {
    let openings = Openings::of(scene);
    let columns = |count: usize| u32::try_from(count).map_or(0.0, f64::from);
    let drawn = openings.drawn(view, [columns(GAP_COLUMNS), columns(most.max(GAP_COLUMNS + 1))]);
    (GAP_COLUMNS..=most).rev().find(|count| columns(*count) <= drawn + 0.5).unwrap_or(GAP_COLUMNS)
}

fn picture(scene: &Scene<'_>, view: &View, width: usize) -> [String; 4] {
    let middle = width / 2;
    let gap = gap_columns(scene, view, middle.saturating_sub(3));
    let rear = match view.side() {
        Some(Side::Left) => middle - gap,
        Some(Side::Right) => middle + gap,
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
