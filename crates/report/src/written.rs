//! Documents as text, sanitised whatever the names in them hold.

use serde::Serialize;
use takeline::sanitised;

/// Returns a document as JSON on one line.
///
/// Control characters and those that turn text around are written as escapes, which any reader undoes.
///
/// # Errors
///
/// None in practice: our documents can be written, and memory takes them.
///
/// # Examples
///
/// ```
/// assert_eq!(takeline_report::json_line(&["bass\u{202e}"])?, r#"["bass\u202e"]"#);
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn json_line(document: &impl Serialize) -> serde_json::Result<String> {
    Ok(sanitised::json(&serde_json::to_string(document)?).into_owned())
}

/// Returns a document as JSON set out for reading, otherwise as [`json_line`].
///
/// # Errors
///
/// As [`json_line`].
pub fn json_page(document: &impl Serialize) -> serde_json::Result<String> {
    Ok(sanitised::json(&serde_json::to_string_pretty(document)?).into_owned())
}

/// Markup without characters that turn text around; marks of markup were escaped where the text was put in.
pub(crate) fn markup(text: String) -> String {
    match sanitised::lines(&text) {
        std::borrow::Cow::Borrowed(_) => text,
        std::borrow::Cow::Owned(replaced) => replaced,
    }
}

/// One cell of a table: sanitised, and a text that a spreadsheet would take for a formula begins with an apostrophe.
///
/// For texts only; numbers are written as they are.
pub(crate) fn table_cell(text: &str) -> String {
    // the last four are the wide forms, which some spreadsheets read alike
    const BEGIN_FORMULAS: [char; 10] =
        ['=', '+', '-', '@', '\t', '\r', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];
    let begins = text.starts_with(BEGIN_FORMULAS) && text.chars().nth(1).is_some();
    let apostrophe = if begins { "'" } else { "" };
    format!("{apostrophe}{}", sanitised::line(text))
}

#[cfg(test)]
mod tests {
    use super::table_cell;

    #[test]
    fn no_cell_is_a_formula() {
        for text in ["=1+1", "+1", "-1+cmd", "@SUM(A1)", "\t=1", "\r=1", "＝1"] {
            assert!(table_cell(text).starts_with('\''), "{text}");
        }
        assert_eq!(table_cell("=\u{202e}1"), "'=\u{fffd}1");
        // standard input, and no formula
        assert_eq!(table_cell("-"), "-");
        assert_eq!(table_cell("Sallow Cove = Reserve"), "Sallow Cove = Reserve");
    }
}
