//! The page that leads to the pages of many logs: one row per trip, what stands out first.

use jiff::Timestamp;
use maud::{DOCTYPE, Markup, html};
use takeline::track::OutcomeAnswer;

use super::page::STYLE;
use super::sheet::common_clock;
use super::top::{sentence, verdict, verdict_class, when, whose_clock};
use crate::drawing::COLOURS;
use crate::html_page;
use crate::lines::sanitised;
use crate::track::TrackDocument;
use crate::track::times::{counted, span};
use crate::words::{English, Words};
use crate::written;

/// Nothing is fetched and no script runs.
const CONTENT_POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// One log in an index.
#[derive(Debug, Clone)]
pub struct IndexRow {
    log: String,
    page: Option<String>,
    answer: OutcomeAnswer,
    first_time: Option<Timestamp>,
    when: String,
    clock: String,
    verdict: String,
    catches: Option<String>,
    zones: Vec<String>,
    long: Option<String>,
}

impl IndexRow {
    /// The row of a log that was read. Nothing withheld is in it: no position is.
    #[must_use]
    pub fn of(document: &TrackDocument<'_>) -> Self {
        let zone = common_clock(document);
        let mut zones: Vec<String> = Vec::new();
        for visit in &document.visits {
            if !zones.iter().any(|known| known == visit.zone_name) {
                zones.push(visit.zone_name.to_owned());
            }
        }
        let times = document.input.first_time.zip(document.input.last_time);
        Self {
            log: document.input.path.to_owned(),
            page: None,
            answer: document.verdict,
            first_time: document.input.first_time,
            when: when(document, &zone).unwrap_or_else(|| "no times".to_owned()),
            clock: whose_clock(document, &zone),
            verdict: verdict(document).0,
            catches: document.headline.catches.clone(),
            zones,
            long: times.map(|(first, last)| span(last.duration_since(first).as_secs_f64())),
        }
    }

    /// The row of a log that could not be read: its name and why, in one line.
    #[must_use]
    pub fn unreadable(why: &str) -> Self {
        Self {
            log: why.to_owned(),
            page: None,
            answer: OutcomeAnswer::Undecided,
            first_time: None,
            when: "not known".to_owned(),
            clock: String::new(),
            verdict: "Not settled: the log could not be read".to_owned(),
            catches: None,
            zones: Vec::new(),
            long: None,
        }
    }

    /// The same row with the name of its page, a file in the folder of the index; without one it says that there is none.
    #[must_use]
    pub fn with_page(self, page: Option<String>) -> Self {
        Self { page, ..self }
    }

    /// What is against a rule first, then what is not settled; each by the day.
    fn rank(&self) -> (u8, Option<Timestamp>, &str) {
        let rank = match self.answer {
            OutcomeAnswer::Against => 0,
            OutcomeAnswer::Undecided => 1,
            OutcomeAnswer::NothingAgainst => 2,
        };
        (rank, self.first_time, &self.log)
    }
}

/// Returns the index of the pages of many logs: one row per trip with the words of its verdict, those that stand out first.
///
/// It fetches nothing, links to pages in its own folder alone, and is the same bytes for the same rows in whatever order.
#[must_use]
pub fn trip_index(rows: &[IndexRow]) -> String {
    let mut rows: Vec<&IndexRow> = rows.iter().collect();
    rows.sort_by(|one, other| one.rank().cmp(&other.rank()));
    let of = |rank: u8| rows.iter().filter(|row| row.rank().0 == rank).count();
    let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
    let mut clocks: Vec<&str> =
        rows.iter().map(|row| row.clock.as_str()).filter(|clock| !clock.is_empty()).collect();
    clocks.dedup();
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head("Trips", CONTENT_POLICY, &[COLOURS, STYLE[0], STYLE[1]]))
            body .index {
                header {
                    h1 { (counted(count(rows.len()), "log", "logs")) }
                    p .further {
                        (English.season_counts(count(rows.len()), [of(0), of(1), of(2)].map(count))) "."
                    }
                }
                main {
                    table .cards {
                        thead { tr { @for column in ["Trip", "What the log shows", "Zones visited", "How long", "Log"] { th scope="col" { (column) } } } }
                        tbody { @for row in &rows { (row_of(row)) } }
                    }
                    @if let [clock] = clocks.as_slice() { p .fine { (sanitised(clock)) } }
                    @else { p .fine { "Times are by the clock that each page names." } }
                    @for caution in crate::CAUTIONS { p .fine { (caution) } }
                }
            }
        }
    };
    written::markup(page.into_string())
}

fn row_of(row: &IndexRow) -> Markup {
    html! {
        tr .{ "trip " (verdict_class(row.answer)) } {
            th scope="row" {
                @match &row.page {
                    Some(page) => { a href=(href(page)) { (sanitised(&row.when)) } },
                    None => { (sanitised(&row.when)) },
                }
            }
            td data-label="What the log shows" {
                strong { (sentence(&row.verdict)) }
                @if let Some(catches) = &row.catches { br; (sanitised(catches)) "." }
                @if row.page.is_none() { br; span .fine { "This log has no page." } }
            }
            td data-label="Zones visited" { @if row.zones.is_empty() { "none" } @else { (sanitised(&row.zones.join("; "))) } }
            td data-label="How long" { (row.long.as_deref().unwrap_or("not known")) }
            td data-label="Log" .path { (sanitised(&row.log)) }
        }
    }
}

/// A link to a file of this folder, whatever its name: only letters and digits of ASCII and `-._~` stand as they are (RFC 3986,
/// section 2.3), and the leading `./` keeps a name with a colon from being read as an address.
fn href(page: &str) -> String {
    let encoded = |byte: u8| {
        let is_plain = byte.is_ascii_alphanumeric() || b"-._~".contains(&byte);
        if is_plain { char::from(byte).to_string() } else { format!("%{byte:02X}") }
    };
    std::iter::once("./".to_owned()).chain(page.bytes().map(encoded)).collect()
}

#[cfg(test)]
mod tests {
    use super::{IndexRow, href, trip_index};

    #[test]
    fn links_stay_in_the_folder_whatever_the_name() {
        assert_eq!(href("a b.gpx.html"), "./a%20b.gpx.html");
        assert_eq!(href("javascript:alert(1).html"), "./javascript%3Aalert%281%29.html");
        assert_eq!(href("é.html"), "./%C3%A9.html");
    }

    #[test]
    fn hostile_names_stay_text_and_the_order_of_rows_does_not_matter() {
        let rows = [
            IndexRow::unreadable("<script>alert(1)</script>\u{202e}.gpx: it is empty"),
            IndexRow::unreadable("b.gpx: it is empty"),
        ];
        let page = trip_index(&rows);
        assert!(!page.contains("<script") && !page.contains('\u{202e}'));
        assert!(page.contains("&lt;script&gt;"));
        let [first, second] = rows;
        assert_eq!(page, trip_index(&[second, first]));
    }
}
