//! The page that leads to the pages of many logs: one row per trip, what stands out first.

use jiff::Timestamp;
use maud::{DOCTYPE, Markup, html};
use takeline::track::{Certainty, OutcomeAnswer};

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
    kind: Kind,
    verdict: String,
    /// Which zone and when, where something is against its rule.
    place: Option<String>,
    catches: String,
    entered: Vec<String>,
    /// Zones that the boat was perhaps in, and surely in none of them.
    perhaps: Vec<String>,
    long: Option<String>,
}

/// What a log holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Trip,
    /// Routes alone: nothing says that anybody went.
    Plan,
    Unread,
}

impl IndexRow {
    /// The row of a log that was read. Nothing withheld is in it: no position is.
    #[must_use]
    pub fn of(document: &TrackDocument<'_>) -> Self {
        let zone = common_clock(document);
        let kind = if document.is_plan() { Kind::Plan } else { Kind::Trip };
        let of = |certainty| document.visits.iter().filter(move |visit| visit.certainty == certainty);
        let (mut entered, mut perhaps): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        for visit in of(Certainty::Certain) {
            if !entered.iter().any(|known| known == visit.zone_name) {
                entered.push(visit.zone_name.to_owned());
            }
        }
        for visit in of(Certainty::Possible) {
            if !entered.iter().chain(&perhaps).any(|known| known == visit.zone_name) {
                perhaps.push(visit.zone_name.to_owned());
            }
        }
        let (verdict, further) = verdict(document);
        let place = further.into_iter().next().filter(|_| document.verdict == OutcomeAnswer::Against);
        let catches = match &document.headline.catches {
            Some(catches) => sentence(catches),
            None if document.has_catch_log() => "The catch log has no rows.".to_owned(),
            None => "No catch log.".to_owned(),
        };
        let times = document.input.first_time.zip(document.input.last_time);
        Self {
            log: document.input.path.to_owned(),
            page: None,
            answer: document.verdict,
            first_time: document.input.first_time,
            when: when(document, &zone).unwrap_or_else(|| "no times".to_owned()),
            clock: whose_clock(document, &zone),
            kind,
            verdict,
            place,
            catches,
            entered,
            perhaps,
            long: times.map(|(first, last)| span(last.duration_since(first).as_secs_f64())),
        }
    }

    /// The row of a log that could not be read, of which the message said why.
    #[must_use]
    pub fn unreadable(log: &str) -> Self {
        Self {
            log: log.to_owned(),
            page: None,
            answer: OutcomeAnswer::Undecided,
            first_time: None,
            when: "not known".to_owned(),
            clock: String::new(),
            kind: Kind::Unread,
            verdict: "Not settled: the log could not be read; see the message".to_owned(),
            place: None,
            catches: String::new(),
            entered: Vec::new(),
            perhaps: Vec::new(),
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
    let of = |rank: u8| {
        let such = rows.iter().filter(|row| row.rank().0 == rank && row.kind == Kind::Trip);
        u64::try_from(such.count()).unwrap_or(u64::MAX)
    };
    let heading = kinds(&rows);
    let mut clocks: Vec<&str> =
        rows.iter().map(|row| row.clock.as_str()).filter(|clock| !clock.is_empty()).collect();
    clocks.dedup();
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head("Trips", CONTENT_POLICY, &[COLOURS, STYLE[0], STYLE[1]]))
            body .index {
                header {
                    h1 { (heading) }
                    p .further {
                        (English.season_counts(of(0) + of(1) + of(2), [of(0), of(1), of(2)])) "."
                    }
                }
                main {
                    table .cards {
                        thead { tr { @for column in ["Trip", "What the log shows", "Zones entered, or perhaps", "Trip lasted", "Log"] { th scope="col" { (column) } } } }
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

/// How many of each kind there are: `6 trips, 1 plan, 1 file not read`.
fn kinds(rows: &[&IndexRow]) -> String {
    let of = |kind: Kind| {
        let count = rows.iter().filter(|row| row.kind == kind).count();
        u64::try_from(count).unwrap_or(u64::MAX)
    };
    let mut parts = vec![counted(of(Kind::Trip), "trip", "trips")];
    if of(Kind::Plan) > 0 {
        parts.push(counted(of(Kind::Plan), "plan", "plans"));
    }
    if of(Kind::Unread) > 0 {
        parts.push(counted(of(Kind::Unread), "file not read", "files not read"));
    }
    parts.join(", ")
}

/// The zones that a trip entered, then those that it perhaps did; of a plan, those that it would cross.
fn zones_of(row: &IndexRow) -> String {
    let sure = row.entered.iter().map(|name| match row.kind {
        Kind::Plan => format!("would cross {name}"),
        Kind::Trip | Kind::Unread => name.clone(),
    });
    let perhaps = row.perhaps.iter().map(|name| match row.kind {
        Kind::Plan => format!("might cross {name}"),
        Kind::Trip | Kind::Unread => format!("perhaps {name}"),
    });
    let all: Vec<String> = sure.chain(perhaps).collect();
    match row.kind {
        Kind::Unread => "not known".to_owned(),
        Kind::Trip | Kind::Plan if all.is_empty() => "none".to_owned(),
        Kind::Trip | Kind::Plan => all.join("; "),
    }
}

fn lasted(row: &IndexRow) -> String {
    match row.kind {
        Kind::Plan => "a plan, not a trip".to_owned(),
        Kind::Trip | Kind::Unread => row.long.clone().unwrap_or_else(|| "not known".to_owned()),
    }
}

const fn without_page(kind: Kind) -> &'static str {
    match kind {
        Kind::Plan => "A plan has no page.",
        Kind::Trip | Kind::Unread => "This log has no page.",
    }
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
                @if let Some(place) = &row.place { br; (sentence(place)) }
                @if !row.catches.is_empty() { br; (sanitised(&row.catches)) }
                @if row.page.is_none() && row.kind != Kind::Unread { br; span .fine { (without_page(row.kind)) } }
            }
            td data-label="Zones entered, or perhaps" { (sanitised(&zones_of(row))) }
            td data-label="Trip lasted" { (lasted(row)) }
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
        let rows =
            [IndexRow::unreadable("<script>alert(1)</script>\u{202e}.gpx"), IndexRow::unreadable("b.gpx")];
        let page = trip_index(&rows);
        assert!(!page.contains("<script") && !page.contains('\u{202e}'));
        assert!(page.contains("&lt;script&gt;"));
        assert!(page.replace('\u{a0}', " ").contains("<h1>0 trips, 2 files not read</h1>"));
        assert!(page.contains("could not be read; see the message"));
        let [first, second] = rows;
        assert_eq!(page, trip_index(&[second, first]));
    }
}
