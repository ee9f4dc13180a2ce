//! What an eye sees of the marks from inside, on the line and outside, as a drawing with their silhouettes and in plain text.

use maud::{Markup, PreEscaped, html};
use takeline::Metres;
use takeline::landmark::Landmark;
use takeline::transit::{Look, RangeLine, Seen, Side, Sight, TransitReport};

use crate::drawing::COLOURS;
use crate::drawing::chart::unit;
use crate::lines::{Page, sanitised};
use crate::transit::document::TransitDocument;
use crate::transit::headline;
use crate::transit::phrases::{self, metres};
use crate::words::Spoken;
use crate::written;

/// A sketch is drawn from so many times the offset at which the eye sees the marks open.
const TIMES_THRESHOLD: f64 = 3.0;

/// Where somebody is with respect to the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    Inside,
    OnTheLine,
    Outside,
}

/// What is seen from one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    pub(super) standing: Standing,
    /// How far off the line the place is, either way.
    pub(super) off: Metres,
    pub(super) seen: Seen,
    /// What that is to the eye of the question.
    pub(super) look: Look,
}

/// Both marks from three places, abreast of the middle of the stretch.
#[derive(Debug, Clone)]
pub(super) struct Scene<'a> {
    pub(super) distance_from_front: Metres,
    /// Inside, on the line, outside.
    pub(super) views: [View; 3],
    /// How the tops of the front and the rear mark stand over the level line; none without both heights.
    pub(super) sights: Option<[Sight; 2]>,
    /// How far below the level line the horizon is, in minutes of arc.
    pub(super) dip_arcmin: f64,
    /// The words that it is described in.
    words: Spoken<'a>,
}

impl<'a> Scene<'a> {
    /// Looks at the marks; the error says in a sentence why there is nothing to sketch.
    pub(super) fn of(document: &TransitDocument<'a>) -> Result<Self, String> {
        let report = document.report;
        let rear_shows = headline::side_inside(report).ok_or_else(|| document.no_side_because.clone())?;
        let (line, eye) = (&report.line, report.question.eye);
        let distance = report.question.stretch.middle();
        let off = offset_shown(report, distance, document.words)?;
        let views = views(document, (distance, off), rear_shows)?;
        let [_, on_line, _] = &views;
        let tops = line.front().height.zip(line.rear().height);
        let sights = tops.map(|(front, rear)| {
            [eye.sight(front, on_line.seen.front_distance), eye.sight(rear, on_line.seen.rear_distance)]
        });
        let dip_arcmin = -eye.sight(Metres::ZERO, eye.horizon()).elevation.arcmin();
        Ok(Self { distance_from_front: distance, views, sights, dip_arcmin, words: document.words })
    }

    /// Whether the front mark stands before the rear mark's top.
    pub(super) fn front_hides_rear(&self) -> bool {
        self.sights.is_some_and(|[front, rear]| rear.elevation.arcmin() <= front.elevation.arcmin())
    }

    /// Whether each mark stands over the horizon, as far as is known.
    pub(super) fn in_sight(&self) -> [bool; 2] {
        self.sights.map_or([true, true], |sights| sights.map(|sight| sight.in_sight))
    }

    /// What the pictures do not show right, one sentence each.
    pub(super) fn remarks(&self) -> Vec<String> {
        let [front, rear] = self.in_sight();
        let mut remarks = Vec::new();
        for (is_seen, which) in [(front, "front"), (rear, "rear")] {
            if !is_seen {
                remarks.push(format!("The {which} mark is below the horizon from there."));
            }
        }
        if front && rear && self.front_hides_rear() {
            remarks.push("In line the front mark hides the rear mark.".into());
        }
        if self.sights.is_none() {
            remarks.push("Heights are not to scale: they are not known.".into());
        }
        remarks
    }

    /// How far from the front mark all this is seen.
    pub(super) fn away(&self) -> String {
        phrases::along(self.words, self.distance_from_front)
    }

    /// Where all this is seen from.
    pub(super) fn place(&self) -> String {
        format!("abreast of the middle of the stretch, {} from the front mark", self.away())
    }
}

impl View {
    pub(super) const fn title(&self) -> &'static str {
        match self.standing {
            Standing::Inside => "INSIDE",
            Standing::OnTheLine => "ON THE LINE",
            Standing::Outside => "OUTSIDE",
        }
    }

    /// `6 m inside the line`.
    pub(super) fn place(&self, words: Spoken<'_>) -> String {
        let off = phrases::short_length(words, self.off);
        match self.standing {
            Standing::Inside => format!("{off} inside the line"),
            Standing::OnTheLine => "on the line".into(),
            Standing::Outside => format!("{off} outside the line"),
        }
    }

    /// The side to which the rear mark shows, however little.
    pub(super) fn side(&self) -> Option<Side> {
        match self.look {
            Look::RearShows(side) => Some(side),
            Look::InLine => None,
        }
    }
}

/// The offset that the sketch is drawn for: whole metres, three times the eye's threshold.
fn offset_shown(report: &TransitReport, distance: Metres, words: Spoken<'_>) -> Result<Metres, String> {
    let (line, threshold) = (&report.line, report.question.eye.threshold());
    let at_threshold = line.offset_for(distance, threshold).ok_or_else(|| {
        format!(
            "{} from the front mark these marks never open by the {} minutes of arc that the eye needs.",
            phrases::along(words, distance),
            phrases::arcmin(threshold)
        )
    })?;
    let off_m = (TIMES_THRESHOLD * at_threshold.metres()).ceil().max(1.0);
    Ok(metres(off_m.min(widest_m(line, distance).max(at_threshold.metres()))))
}

/// The offset at which the marks are open widest; farther out they close again. Inscribed angle: √(D·(D+S)).
fn widest_m(line: &RangeLine, distance: Metres) -> f64 {
    let away_m = distance.metres();
    (away_m * (away_m + line.separation().metres())).sqrt()
}

/// The three views. Which side is inside is asked of the library: it is where the rear mark shows as the report says.
fn views(
    document: &TransitDocument<'_>,
    at: (Metres, Metres),
    rear_shows: Side,
) -> Result<[View; 3], String> {
    let report = document.report;
    let (line, threshold) = (&report.line, report.question.eye.threshold());
    let view = |standing, to_the_right_m: f64| {
        let seen = line.seen_from(line.beside(at.0, metres(to_the_right_m)));
        View { standing, off: metres(to_the_right_m.abs()), seen, look: seen.look(threshold) }
    };
    let off_m = at.1.metres();
    let shows_inside = |off_m: &f64| view(Standing::Inside, *off_m).side() == Some(rear_shows);
    let inside_m = [off_m, -off_m].into_iter().find(shows_inside).ok_or_else(|| {
        format!(
            "From neither side of the line does the rear mark show {} of the front mark.",
            document.words.left_or_right(rear_shows)
        )
    })?;
    Ok([view(Standing::Inside, inside_m), view(Standing::OnTheLine, 0.0), view(Standing::Outside, -inside_m)])
}

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
const HEIGHT: f64 = 272.0;
const HORIZON: f64 = 160.0;
/// Height of the mark that shows highest, and the least that still is a shape.
const TALLEST: f64 = 136.0;
const SMALLEST: f64 = 22.0;
/// How far apart the marks are drawn where they are open; the true angle is far too small to draw.
const GAP: f64 = 56.0;

/// Returns the sketch as a drawing of its own: the marks from inside, on the line and outside.
///
/// The heights of the marks over the horizon are to scale where both are known. The gap between them is not: the true one
/// stands beneath, in minutes of arc. The drawing has a title and a description for those who do not see it.
///
/// # Edge cases
///
/// Where the marks tell no side, the drawing holds a sentence that says why.
#[must_use]
pub fn transit_sketch_svg(document: &TransitDocument<'_>) -> String {
    written::markup(sketch(document, true).into_string())
}

/// The drawing; one that stands alone brings its own colours.
pub(super) fn sketch(document: &TransitDocument<'_>, alone: bool) -> Markup {
    let style = alone.then(|| format!("{COLOURS}{SKETCH_STYLE}"));
    match Scene::of(document) {
        Ok(scene) => drawing(document.report, &scene, style.as_deref()),
        Err(because) => none(&because, style.as_deref()),
    }
}

fn drawing(report: &TransitReport, scene: &Scene<'_>, style: Option<&str>) -> Markup {
    let heights = Heights::of(scene);
    let captions = scene.views.iter().map(|view| caption(scene, view)).collect::<Vec<_>>().join(" ");
    let (front, rear) = (&report.line.front().name, &report.line.rear().name);
    html! {
        svg .drawing .sketch role="img" xmlns="http://www.w3.org/2000/svg" aria-labelledby="sketch-title sketch-words"
            viewBox={ "0 0 " (unit(3.0 * PANEL_WIDTH)) " " (unit(HEIGHT)) } {
            title #sketch-title { "How the marks look: " (sanitised(rear)) " behind " (sanitised(front)) }
            desc #sketch-words { (captions) }
            @if let Some(style) = style { style { (PreEscaped(style)) } }
            @for (left, view) in [0.0, PANEL_WIDTH, 2.0 * PANEL_WIDTH].into_iter().zip(&scene.views) {
                (panel(report, (scene, view), &heights, left))
            }
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

fn panel(report: &TransitReport, (scene, view): (&Scene<'_>, &View), heights: &Heights, left: f64) -> Markup {
    let middle = left + PANEL_WIDTH / 2.0;
    let (front_x, rear_x) = match view.side() {
        Some(Side::Left) => (middle + GAP / 2.0, middle - GAP / 2.0),
        Some(Side::Right) => (middle - GAP / 2.0, middle + GAP / 2.0),
        None => (middle, middle),
    };
    let [front_seen, rear_seen] = scene.in_sight();
    let line = &report.line;
    html! {
        g .view {
            rect .air x=(unit(left + 6.0)) y="8" width=(unit(PANEL_WIDTH - 12.0)) height=(unit(HORIZON - 8.0)) {}
            // the rear mark first, so that the front mark stands before it
            @if rear_seen { (mark("rear", line.rear(), rear_x, heights.rear)) }
            @if front_seen { (mark("front", line.front(), front_x, heights.front)) }
            rect .water x=(unit(left + 6.0)) y=(unit(HORIZON)) width=(unit(PANEL_WIDTH - 12.0)) height="14" {}
            line .horizon x1=(unit(left + 6.0)) x2=(unit(left + PANEL_WIDTH - 6.0)) y1=(unit(HORIZON)) y2=(unit(HORIZON)) {}
            (words_below(view, middle, scene.words))
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

fn words_below(view: &View, middle: f64, words: Spoken<'_>) -> Markup {
    let off = match view.side() {
        Some(_) => format!("{} off", phrases::short_length(words, view.off)),
        None => "in line".into(),
    };
    let opening = view.side().map(|side| {
        format!("rear {}, {}", words.left_or_right(side), phrases::minutes_of_arc(view.seen.rear_from_front))
    });
    html! {
        text .title x=(unit(middle)) y=(unit(HORIZON + 44.0)) text-anchor="middle" { (view.title()) }
        text x=(unit(middle)) y=(unit(HORIZON + 73.0)) text-anchor="middle" { (off) }
        @if let Some(opening) = opening {
            text x=(unit(middle)) y=(unit(HORIZON + 102.0)) text-anchor="middle" { (opening) }
        }
    }
}

fn none(because: &str, style: Option<&str>) -> Markup {
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
            @if let Some(style) = style { style { (PreEscaped(style)) } }
            text .title x="8" y="28" { "No sketch of the marks." }
            @for (baseline, line) in placed { text x="8" y=(unit(baseline)) { (line) } }
        }
    }
}

/// Pictures are no wider than this, or the marks would be hard to find.
const WIDEST: usize = 40;
/// Columns between the marks where they are open.
const GAP_COLUMNS: usize = 6;

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

/// What a picture shows, in words.
pub(super) fn caption(scene: &Scene<'_>, view: &View) -> String {
    let shown = match (view.side(), scene.front_hides_rear()) {
        (Some(side), _) => format!(
            "the rear mark shows {} of the front mark, open by {}\u{a0}minutes of arc",
            phrases::loud(scene.words, side),
            phrases::arcmin(view.seen.rear_from_front)
        ),
        (None, true) => "the front mark hides the rear mark".into(),
        (None, false) => "the rear mark shows over the front mark".into(),
    };
    match view.standing {
        Standing::OnTheLine => format!("{}: {shown}.", view.title()),
        Standing::Inside | Standing::Outside => {
            format!("{}, from {}: {shown}.", view.title(), view.place(scene.words))
        }
    }
}

fn picture(scene: &Scene<'_>, view: &View, width: usize) -> [String; 4] {
    let middle = width / 2;
    let rear = match view.side() {
        Some(Side::Left) => middle - GAP_COLUMNS,
        Some(Side::Right) => middle + GAP_COLUMNS,
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
