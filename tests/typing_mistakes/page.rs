//! The page with the table of mistakes by zones.

use std::collections::BTreeMap;

use crate::{Light, line};

const HEAD: &str = "\
# Typing mistakes, and how they come to light

Each mistake was made by itself in each of these zones, typed as a file of ours: twelve real ones and a circle from published
regulations (`tests/data/regulations`), and zones of Marrowick. `takeline zones check` was asked about each file, with no figure
of the law to hold it against and no text beside the vertices.

- **E** *code*: an error, and the file is refused or would be. **W** *code*: a warning.
- *point*, *area*, *corners*, *season*: nothing is said, but what `takeline zones show` reads back is not what the law prints: a
  point in the law's own notation, the area by more than 2 %, how many corners there are, or the season. Two people who read it
  back, one with the law, find it; `--area-m2`, `--corners` and `--near` find it too; and so does every vertex that keeps its
  text as published.
- **–**: such a mistake cannot be made there.

A test holds this page to the program.
`UPDATE_MISTAKES=1 cargo test -p takeline-drafting --test typing_mistakes` writes it anew.
";

/// Holds the page to what was seen.
pub(crate) fn hold(names: &[&str], rows: &[(&str, Vec<Light>)], (found, figures): (usize, usize)) {
    let mut text = HEAD.to_owned();
    line(
        &mut text,
        &format!(
            "\nOf {} mistakes made, {found} are errors or warnings and {figures} show by a figure.\n",
            found + figures
        ),
    );
    line(&mut text, "| mistake | how it comes to light, and in how many zones |");
    line(&mut text, "|---|---|");
    for (mistake, row) in rows {
        let mut ways: BTreeMap<String, usize> = BTreeMap::new();
        for light in row {
            *ways.entry(word(light)).or_default() += 1;
        }
        ways.remove("–");
        let mut ways: Vec<(String, usize)> = ways.into_iter().collect();
        ways.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
        let ways: Vec<String> = ways.iter().map(|(way, count)| format!("{way} {count}")).collect();
        line(&mut text, &format!("| {mistake} | {} |", ways.join(", ")));
    }
    line(&mut text, "\n## Zone by zone\n");
    let numbers: Vec<String> = (1..=rows.len()).map(|number| number.to_string()).collect();
    line(
        &mut text,
        "The numbers are those of the mistakes above, from the top: E, W, or the figure by its first letter.\n",
    );
    line(&mut text, &format!("| zone | {} |", numbers.join(" | ")));
    line(&mut text, &format!("|---|{}", "---|".repeat(rows.len())));
    for (at, name) in names.iter().enumerate() {
        let marks: Vec<&str> = rows.iter().map(|(_, row)| mark(&row[at])).collect();
        line(&mut text, &format!("| `{name}` | {} |", marks.join(" | ")));
    }
    let path = format!("{}/../../docs/zone-mistakes.md", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("UPDATE_MISTAKES").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    println!("{text}");
    let page = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(page == text, "docs/zone-mistakes.md is out of date; its head says how to write it anew");
}

fn word(light: &Light) -> String {
    match light {
        Light::NotHere => "–".to_owned(),
        Light::Error(code) => format!("**E** `{code}`"),
        Light::Warning(code) => format!("**W** `{code}`"),
        Light::Figure(figure) => format!("*{figure}*"),
        Light::Nowhere => "nowhere".to_owned(),
    }
}

fn mark(light: &Light) -> &'static str {
    match light {
        Light::NotHere => "–",
        Light::Error(_) => "E",
        Light::Warning(_) => "W",
        Light::Figure(figure) => match *figure {
            "point" => "p",
            "area" => "a",
            "corners" => "c",
            _ => "s",
        },
        Light::Nowhere => "?",
    }
}
