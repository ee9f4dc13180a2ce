//! Where along the stretch the marks cannot be seen in line: both from abeam, the line of sight over the front mark, and a bar that
//! says from where to where.

use maud::{Markup, html};
use takeline::Metres;
use takeline::landmark::Landmark;
use takeline::transit::{ProblemReason, Severity, TransitReport};

use super::plan::beside;
use super::sketch::shape;
use crate::drawing::chart::unit;
use crate::drawing::label::Labels;
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::transit::phrases::{self, metres};

const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 226.0;
/// Room beside the drawn distances, for names.
const ASIDE: f64 = 64.0;
const WATER: f64 = 134.0;
const TALLEST: f64 = 96.0;
const SMALLEST: f64 = 14.0;
const BAR_TOP: f64 = 146.0;
const BAR: f64 = 20.0;
const LONGEST_NAME: usize = 24;
const SIGHT_STEPS: u8 = 40;

/// The drawing and what it says; nothing where the marks are seen in line all along.
pub(super) fn figure(document: &TransitDocument<'_>) -> Markup {
    let parts = phrases::hidden_parts(document.report);
    let sentences: Vec<String> = document
        .problems
        .iter()
        // an error stands above everything else
        .filter(|problem| hides(problem.text_code) && problem.severity != Severity::Error)
        .map(|problem| phrases::sentence(&problem.text))
        .collect();
    if parts.is_empty() {
        return html! {};
    }
    html! {
        figure .hidden {
            p { strong { "Where you cannot see them in line. " } @for sentence in &sentences { (sanitised(sentence)) " " } }
            (drawing(document, &parts, &sentences.join(" ")))
            figcaption {
                "Hatched: not seen in line. Distances from the front mark, to scale; heights are drawn larger."
            }
        }
    }
}

/// Whether a problem is that a mark is not seen.
pub(super) fn hides(reason: &ProblemReason) -> bool {
    matches!(
        reason,
        ProblemReason::FrontHidesRear { .. }
            | ProblemReason::FrontHidesRearInPart { .. }
            | ProblemReason::BelowHorizon { .. }
            | ProblemReason::BelowHorizonInPart { .. }
    )
}

/// Places along the line as they are drawn.
#[derive(Clone, Copy)]
struct Scale {
    separation_m: f64,
    units_per_m: f64,
}

impl Scale {
    fn x(self, from_front_m: f64) -> f64 {
        ASIDE + (from_front_m + self.separation_m) * self.units_per_m
    }
}

fn drawing(document: &TransitDocument<'_>, parts: &[[f64; 2]], words: &str) -> Markup {
    let report = document.report;
    let (line, stretch) = (&report.line, report.question.stretch);
    let separation_m = line.separation().metres();
    let scale = Scale {
        separation_m,
        units_per_m: (WIDTH - 2.0 * ASIDE) / (separation_m + stretch.far().metres()).max(1.0),
    };
    let height_m = |mark: &Landmark| mark.height.map_or(0.0, Metres::metres).max(0.0);
    let tallest_m = height_m(line.front()).max(height_m(line.rear())).max(1.0);
    let up = |height_m: f64| (height_m / tallest_m * TALLEST).max(SMALLEST);
    let marks = [("rear", line.rear(), scale.x(-separation_m)), ("front", line.front(), scale.x(0.0))];
    let mut labels = Labels::new(HEIGHT);
    for (_, mark, x) in &marks {
        let high = up(height_m(mark));
        labels.take((*x, WATER - high / 2.0), 20.0, high);
    }
    let [near, far] = [stretch.near(), stretch.far()].map(|end| scale.x(end.metres()));
    let sight = line_of_sight(report, parts, scale, tallest_m).map(|eye| {
        let top = (scale.x(-separation_m), WATER - up(height_m(line.rear())));
        (top, (eye.0, WATER - eye.1))
    });
    if let Some((top, eye)) = sight {
        // no name stands on the line of sight
        for step in 1..SIGHT_STEPS {
            let share = f64::from(step) / f64::from(SIGHT_STEPS);
            labels.take((top.0 + share * (eye.0 - top.0), top.1 + share * (eye.1 - top.1)), 12.0, 6.0);
        }
    }
    html! {
        svg .drawing .profile role="img" aria-label=(words) viewBox={ "0 0 " (unit(WIDTH)) " " (unit(HEIGHT)) } {
            defs {
                pattern #hidden-part width="9" height="9" patternUnits="userSpaceOnUse" {
                    path .hidden-ink d="M-2 11L11 -2M-2 2L2 -2M7 11L11 7" {}
                }
            }
            @if let Some((top, eye)) = sight {
                path .sight d={ "M" (unit(top.0)) " " (unit(top.1)) "L" (unit(eye.0)) " " (unit(eye.1)) } {}
                path .boat d={ "M" (unit(eye.0 - 13.0)) " " (unit(WATER - 5.0)) "h26l-5 7h-16z" } {}
            }
            line .horizon x1="0" x2=(unit(WIDTH)) y1=(unit(WATER)) y2=(unit(WATER)) {}
            @for (class, mark, x) in &marks {
                g .{ "mark " (class) } transform={ "translate(" (unit(*x)) " " (unit(WATER)) ")" } { (shape(mark, up(height_m(mark)))) }
                @let name = phrases::cut_name(&mark.name, LONGEST_NAME);
                @if let Some((x, y)) = beside(&mut labels, (*x, WATER), &name, up(height_m(mark)) + 16.0) {
                    text x=(unit(x)) y=(unit(y + 6.0)) text-anchor="middle" { (name) }
                }
            }
            rect .seen x=(unit(near)) y=(unit(BAR_TOP)) width=(unit(far - near)) height=(unit(BAR)) {}
            @for [from_m, to_m] in parts {
                @let (from, to) = (scale.x(*from_m), scale.x(*to_m));
                rect .hidden-part x=(unit(from)) y=(unit(BAR_TOP)) width=(unit((to - from).max(2.0))) height=(unit(BAR)) fill="url(#hidden-part)" {}
            }
            (distances(document, parts, scale))
        }
    }
}

/// The distances at the ends of the parts, one below the other where they stand close.
fn distances(document: &TransitDocument<'_>, parts: &[[f64; 2]], scale: Scale) -> Markup {
    const ROOM: f64 = 76.0;
    let stretch = document.report.question.stretch;
    let mut at_m = vec![stretch.near().metres(), stretch.far().metres()];
    at_m.extend(parts.iter().flatten());
    at_m.sort_by(f64::total_cmp);
    at_m.dedup_by(|one, other| (*one - *other).abs() < 0.5);
    let mut taken = [f64::NEG_INFINITY; 2];
    let mut placed = Vec::new();
    for at_m in at_m {
        let x = scale.x(at_m);
        if let Some((row, last)) = taken.iter_mut().enumerate().find(|(_, last)| x - **last >= ROOM) {
            *last = x;
            placed.push((x, row, phrases::along(document.words, metres(at_m))));
        }
    }
    html! {
        @for (x, row, text) in placed {
            @let y = BAR_TOP + BAR + if row == 0 { 22.0 } else { 46.0 };
            line .horizon x1=(unit(x)) x2=(unit(x)) y1=(unit(BAR_TOP)) y2=(unit(y - 16.0)) {}
            text x=(unit(x)) y=(unit(y)) text-anchor="middle" { (text) }
        }
    }
}

/// Where the eye is that just sees the rear mark over the front one, and how high it is drawn; none where the hidden part does not
/// begin at the near end, or a height is not known.
fn line_of_sight(
    report: &TransitReport,
    parts: &[[f64; 2]],
    scale: Scale,
    tallest_m: f64,
) -> Option<(f64, f64)> {
    let (line, stretch) = (&report.line, report.question.stretch);
    line.front().height.zip(line.rear().height)?;
    let [[from_m, to_m]] = parts else { return None };
    let is_by_front_mark = report
        .problems
        .iter()
        .any(|problem| matches!(problem.reason, ProblemReason::FrontHidesRearInPart { .. }));
    let ends_within = *from_m <= stretch.near().metres() && *to_m < stretch.far().metres();
    (is_by_front_mark && ends_within)
        .then(|| (scale.x(*to_m), report.question.eye.height().metres() / tallest_m * TALLEST))
}
