//! Tables in Markdown, row by row as they are measured.

use crate::goal::Goal;

/// Prints a heading, what was done, and the head of the table.
pub(crate) fn begin(title: &str, done: &str) {
    println!("\n### {title}\n\n{done}\n");
    println!("| | measured | Takeline | peer | figure | must | stretch | met |");
    println!("|---|---|---|---|---|---|---|---|");
}

/// Prints a row: of which workload, what, own figure, the peer's, and the one that is held to a goal.
pub(crate) fn row((of, what): (&str, &str), own: &str, peer: &str, judged: (f64, Option<Goal>)) {
    let (figure, goal) = judged;
    let [must, stretch, met] =
        goal.map_or_else(|| ["–", "–", "–"].map(str::to_owned), |goal| goal.cells(figure));
    println!("| {of} | {what} | {own} | {peer} | {} | {must} | {stretch} | {met} |", shown(figure));
}

/// Prints a row that could not be measured, with the reason.
pub(crate) fn left_out((of, what): (&str, &str), because: &str) {
    println!("| {of} | {what} | – | – | – | – | – | left out: {because} |");
}

/// A figure in three digits or so.
pub(crate) fn shown(figure: f64) -> String {
    let size = figure.abs();
    if !figure.is_finite() {
        "–".to_owned()
    } else if size == 0.0 || (100.0..1e9).contains(&size) {
        format!("{figure:.0}")
    } else if size >= 10.0 {
        format!("{figure:.1}")
    } else if size >= 0.01 {
        format!("{figure:.2}")
    } else {
        format!("{figure:.1e}")
    }
}

/// A time in the unit that suits it.
pub(crate) fn time(seconds: f64) -> String {
    let (figure, unit) = match seconds {
        s if s >= 1.0 => (s, "s"),
        s if s >= 1e-3 => (s * 1e3, "ms"),
        s if s >= 1e-6 => (s * 1e6, "µs"),
        s => (s * 1e9, "ns"),
    };
    format!("{} {unit}", shown(figure))
}

/// A size in megabytes of a million bytes.
pub(crate) fn megabytes(bytes: f64) -> String {
    format!("{:.1} MB", bytes / 1e6)
}
