//! Marks as simple shapes, by what they are.

use maud::{Markup, html};
use takeline::landmark::Landmark;

use crate::drawing::chart::unit;

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
