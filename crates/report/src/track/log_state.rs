//! What the state of the log itself does to the answer.

use takeline::Tristate;
use takeline::track::{Gap, OpenEnd, OrderFindings, Quality, Suspicion, Visit};
use takeline::zone::{Misreading, Slip};

use super::verdict::placed_nowhere;
use super::words;
use super::{AuditReport, InputKind, TrackNote};
use crate::figures;

/// Why a log settles nothing, whatever its visits say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct MostlySuspect {
    suspects: u64,
    fixes: u64,
    /// The commonest kind.
    worst: Suspicion,
}

/// Metres of a degree of latitude, for a figure in words.
const METRES_A_DEGREE: f64 = 111_200.0;

/// Kinds of suspects in the order of [`Quality::counts`].
const KINDS: [Suspicion; 7] = [
    Suspicion::Duplicate,
    Suspicion::OutOfOrder,
    Suspicion::Spike,
    Suspicion::ColdStart,
    Suspicion::NullIsland,
    Suspicion::RepeatedPosition,
    Suspicion::Untimed,
];

impl MostlySuspect {
    /// Half of the fixes or more are suspect; repeats of the same fix say nothing twice, and a receiver that repeats one
    /// place to the end of a log, or fixes without a time in its gaps, make it doubtful only where there is next to nothing
    /// else.
    pub(crate) fn of(quality: &Quality) -> Option<Self> {
        let [duplicates, wrong @ .., stale, untimed] = quality.counts;
        let idle = stale + untimed;
        let fixes = quality.fixes.saturating_sub(duplicates);
        let wrong: u64 = wrong.iter().sum();
        let is_mostly =
            wrong > 0 && 2 * wrong >= fixes || wrong + idle > 0 && 10 * (wrong + idle) >= 9 * fixes;
        let counted = KINDS.iter().zip(quality.counts).skip(1);
        let (worst, _) = counted.max_by_key(|(_, count)| *count)?;
        is_mostly.then_some(Self { suspects: wrong + idle, fixes, worst: *worst })
    }

    pub(crate) fn second(self) -> Vec<String> {
        let Self { suspects, fixes, .. } = self;
        let why = words::SUSPICIONS
            .iter()
            .find(|(code, _)| *code == words::suspicion(self.worst))
            .map_or("suspect", |(_, label)| label);
        vec![
            format!("{suspects} of {fixes}, most of them {why}"),
            format!("{suspects} of {fixes} suspect: {why}"),
        ]
    }

    pub(crate) fn settle(self) -> &'static str {
        match self.worst {
            Suspicion::NullIsland | Suspicion::RepeatedPosition => "a log of a receiver that had a fix",
            Suspicion::OutOfOrder => "sort the log by time",
            Suspicion::Untimed => "a log with a time for each fix",
            Suspicion::Duplicate | Suspicion::Spike | Suspicion::ColdStart | _ => {
                "a log for each receiver, or --top-speed-kn if the boat is that fast"
            }
        }
    }
}

/// The commonest reason why nothing was read, longest form first, and what settles it.
pub(crate) fn why_no_fix(notes: &[TrackNote]) -> Option<(Vec<String>, &'static str)> {
    let of_code =
        |code: &str| notes.iter().filter(|note| note.code == code).map(|note| note.count).sum::<u64>();
    let lost = notes.iter().filter(|note| note.leaves_out);
    let worst = lost.max_by_key(|note| of_code(note.code))?;
    let (what, settle) = match worst.code {
        "checksum-wrong" => ("sentences with a wrong checksum", "copy the log anew from the receiver"),
        "sentence-unreadable" => ("damaged sentences", "copy the log anew from the receiver"),
        "row-unreadable" => ("rows that are no fix", "mend the places under READING"),
        "fix-void" => ("fixes that the receiver calls void", "a log of a receiver that had a fix"),
        "fix-not-measured" => ("positions that nobody measured", "a log of a receiver that had a fix"),
        _ => ("positions that cannot be read", "mend the places under READING"),
    };
    let count = of_code(worst.code);
    Some((vec![format!("Left out: {count} {what}"), format!("{count} {what}")], settle))
}

/// The second line where positions could not be read, longest form first.
pub(crate) fn lost_second(quality: &Quality) -> Vec<String> {
    if quality.without_time == 0 && quality.order.lost > 0 {
        let lost = quality.order.lost;
        return vec![
            format!("{lost} at an end of the log or in no order, without time or place"),
            format!("{lost} records without time or place"),
        ];
    }
    if quality.without_time == 0 {
        return vec![
            "Hours of records without a place, and no fix near".into(),
            "Hours without a place".into(),
        ];
    }
    if quality.without_time < quality.fixes {
        return vec![
            format!("{} of the fixes have no time: they may be anywhere", quality.without_time),
            format!("{} fixes without a time", quality.without_time),
        ];
    }
    vec!["In a log without times they may be anywhere".into(), "Without times, anywhere".into()]
}

/// Silence of so many seconds may be the time between two trips, if whoever was there says so.
const LONG_SILENCE_S: f64 = 6.0 * 3600.0;

/// The longest gap within a visit.
pub(crate) fn longest_gap<'a>(report: &AuditReport<'a>, visit: &Visit) -> Option<&'a Gap> {
    let (entered, left) = (visit.entered(), visit.left());
    let gaps = report.audit.quality.gaps.iter().filter(|gap| !gap.between_trips && gap.open.is_none());
    let within = gaps.filter(|gap| gap.before.time <= left.time && entered.time <= gap.after.time);
    within.max_by(|one, other| seconds(one).total_cmp(&seconds(other)))
}

fn seconds(gap: &Gap) -> f64 {
    gap.seconds.unwrap_or(0.0)
}

/// The longest gap within a visit, if it is so long.
pub(crate) fn long_silence<'a>(report: &AuditReport<'a>, visit: &Visit) -> Option<&'a Gap> {
    longest_gap(report, visit).filter(|gap| seconds(gap) >= LONG_SILENCE_S)
}

/// Whether a visit holds silence that may be the time between two trips, if somebody says so.
pub(crate) fn may_be_ashore(report: &AuditReport<'_>, visit: &Visit) -> bool {
    long_silence(report, visit).is_some_and(|gap| gap.may_be_pause)
}

/// For how long nothing was logged, or no place.
pub(crate) fn silence_words(gap: &Gap) -> String {
    let what = if gap.may_be_pause { "Nothing" } else { "No place" };
    format!("{what} logged for {}", words::span(seconds(gap)))
}

/// How positions of the log were likely meant that are far from every zone, if one slip explains that.
pub(crate) fn misreading(report: &AuditReport<'_>) -> Option<Misreading> {
    report.audit.quality.misread.map(|misread| misread.misreading)
}

pub(crate) fn misread_first(report: &AuditReport<'_>, misreading: &Misreading) -> Vec<String> {
    let quality = &report.audit.quality;
    let distance = figures::distance(misreading.distance, misreading.distance);
    if quality.far_since_misread < quality.fixes {
        let far = quality.far_since_misread;
        let log = format!("{far} of {} fixes", quality.fixes);
        return vec![
            format!("UNDECIDED: {log} {distance} from every zone, likely misread"),
            format!("UNDECIDED: {log} likely misread"),
            "UNDECIDED: part likely misread".to_owned(),
        ];
    }
    vec![
        format!("UNDECIDED: {distance} from every zone, likely misread"),
        format!("UNDECIDED: {distance} from every zone"),
    ]
}

/// The second line where the log jumps as no boat does, longest form first.
pub(crate) fn torn_second(quality: &Quality) -> Vec<String> {
    let torn = quality.gaps.iter().find(|gap| gap.impossible);
    let way = torn.map(|gap| {
        let distance = figures::distance(gap.metres, gap.metres);
        gap.seconds
            .map_or_else(|| distance.clone(), |seconds| format!("{distance} in {}", words::span(seconds)))
    });
    way.map_or_else(
        || vec!["No boat makes its way".to_owned()],
        |way| vec![format!("No boat makes {way}: one side is wrong"), format!("No boat makes {way}")],
    )
}

/// The second line, longest form first, and what settles it.
pub(crate) fn misread_further(report: &AuditReport<'_>, misreading: &Misreading) -> (Vec<String>, String) {
    let zone = report.zones.zones().get(misreading.zone_number).map_or("a zone", |zone| &zone.name);
    let (long, short) = match misreading.slip {
        Slip::Exchanged => ("Latitude and longitude exchanged", "lat and lon exchanged"),
        Slip::LongitudeSign => ("The sign of the longitude changed", "longitude's sign wrong"),
        Slip::LatitudeSign => ("The sign of the latitude changed", "latitude's sign wrong"),
        Slip::BothSigns => ("Both signs changed", "both signs wrong"),
        Slip::ExchangedAndSign | _ => {
            ("Latitude and longitude exchanged and a sign changed", "lat and lon exchanged, sign wrong")
        }
    };
    let second = vec![format!("{long}, it lies by {zone}"), format!("Likely {short}")];
    let place = report.shown(misreading.likely).map(figures::position);
    let place = place.map_or_else(String::new, |place| format!(", as at {place}"));
    (second, format!("write the log's positions as they were meant{place}"))
}

/// Whether the log states an accuracy that says nothing, so that nobody knows how sure its places are.
pub(crate) fn has_unread_accuracy(report: &AuditReport<'_>) -> bool {
    report.notes.iter().any(|note| note.code == "accuracy-unreadable")
}

/// What somebody who reads no further than the first lines has to know of the log.
pub(crate) fn first_remarks(report: &AuditReport<'_>) -> Vec<String> {
    let quality = &report.audit.quality;
    let mut remarks = Vec::new();
    if let Some(misread) = quality.misread {
        let (second, _) = misread_further(report, &misread.misreading);
        let distance = figures::distance(misread.misreading.distance, misread.misreading.distance);
        remarks.push(format!(
            "From line {} on {} of {} fixes lie far from every zone, the first {distance}. {}. What was done then is not judged.",
            misread.fix.place.line, quality.far_since_misread, quality.fixes, second[0]
        ));
    }
    if let Some(step_deg) = quality.order.digits_step_deg {
        remarks.push(format!(
            "The log's positions have few digits: each may be off by {:.0} m north and south, and somewhat less east and west, \
             beside its accuracy.",
            step_deg / 2.0 * METRES_A_DEGREE
        ));
    }
    if has_unread_accuracy(report) {
        remarks.push(format!(
            "An accuracy that the log states cannot be read; {:.0} m is used in its place, which may be too little.",
            report.audit.settings.uncertainty.radius_95().metres()
        ));
    }
    if report.audit.settings.dates_doubtful {
        remarks.push(date_remark(report));
    }
    for (zone, _) in placed_nowhere(report).into_iter().filter(|(_, binds)| *binds == Tristate::No) {
        remarks.push(format!(
            "Where {} lies is not known; its rule bound nobody here while the log was made.",
            zone.name
        ));
    }
    if report.input.kind == InputKind::Plan {
        remarks.push(
            "A plan, not a trip: the file holds routes only, and nothing says that anybody went.".to_owned(),
        );
    }
    remarks.extend(silences(report));
    remarks
}

/// That the times of the log may be wrong, with what its reader says of the first of them.
fn date_remark(report: &AuditReport<'_>) -> String {
    let note = |code| report.notes.iter().find(|note| note.code == code);
    let why = |note: Option<&TrackNote>| note.map_or_else(String::new, |note| format!(" ({})", note.text));
    if is_zone_unknown(report) {
        let why = why(note(TIME_ZONE_UNKNOWN));
        return format!(
            "The times of the log do not say how far they are from UTC{why}, so what was in force then is not settled."
        );
    }
    let why = why(note("date-suspicious").or_else(|| note("clock-not-set")));
    format!("The dates of the log may be wrong{why}, so what was in force then is not settled.")
}

/// The note on times without an offset from UTC.
const TIME_ZONE_UNKNOWN: &str = "time-zone-unknown";

/// Whether the times of the log have no offset from UTC.
pub(crate) fn is_zone_unknown(report: &AuditReport<'_>) -> bool {
    report.notes.iter().any(|note| note.code == TIME_ZONE_UNKNOWN)
}

/// The times for which the log says nothing, and the boats that it tells apart by time.
fn silences(report: &AuditReport<'_>) -> Vec<String> {
    let quality = &report.audit.quality;
    let mut remarks = Vec::new();
    let silences = report.audit.visits.iter().filter_map(|visit| long_silence(report, visit));
    if let Some(silence) = silences.max_by(|one, other| seconds(one).total_cmp(&seconds(other))) {
        let long = words::span(seconds(silence));
        remarks.push(if silence.may_be_pause {
            format!("Nothing was logged for {long}; if you were ashore, say --new-trip-after-h 6.")
        } else {
            format!("No place to believe was logged for {long}, though the log went on or jumps there.")
        });
    }
    remarks.extend(quality.gaps.iter().filter_map(|gap| Some(open_end(gap.open?, gap.seconds?))));
    let pauses = quality.pauses;
    if pauses > 0 {
        let listed = || quality.gaps.iter().filter(|gap| gap.between_trips);
        let shortest_s = listed().filter_map(|gap| gap.seconds).reduce(f64::min);
        let silence = shortest_s.map_or_else(
            || "hours".to_owned(),
            |seconds| format!("{}{}", words::span(seconds), if pauses > 1 { " and more" } else { "" }),
        );
        let first = listed().next();
        let times = first.and_then(|gap| gap.before.time.zip(gap.after.time));
        let when = times.map_or_else(String::new, |(from, to)| {
            let which = if pauses > 1 { " first" } else { "" };
            format!(",{which} from {} to {}", words::utc(from), words::utc(to))
        });
        remarks.push(format!(
            "Taken as {} trips: {silence} without a log between them{when}, and what was done then is not known and not \
             judged.",
            pauses + 1
        ));
    }
    if quality.order.boats > 1 {
        remarks.push(format!(
            "Parts of the log overlap in time: taken as {} boats or receivers, and none is joined to another.",
            quality.order.boats
        ));
    }
    remarks
}

/// What has to be said of a time at an end of the log.
fn open_end(open: OpenEnd, seconds: f64) -> String {
    let long = words::span(seconds);
    match open {
        OpenEnd::BeforeTheFirst => {
            format!(
                "The log begins {long} before the first place to believe; the boat came from anywhere within reach."
            )
        }
        OpenEnd::AfterTheLast => {
            format!(
                "The log goes on for {long} behind the last place to believe; the boat went anywhere within reach."
            )
        }
        OpenEnd::Repeats => {
            format!(
                "The last {long} of the log repeat one place; the boat lay there, or its receiver stood still."
            )
        }
    }
}

/// How the log was put in order, one sentence each.
pub(crate) fn order_sentences(order: &OrderFindings) -> Vec<String> {
    let mut sentences = Vec::new();
    let mut tell = |count: u64, what: &str| {
        if count > 0 {
            sentences.push(format!("{count} {what}"));
        }
    };
    tell(order.newest_first, "fixes stood newest first and were turned round");
    tell(order.unordered, "fixes stood in no order of time and were sorted");
    tell(order.stretches_moved, "stretches stood elsewhere than their times and were put in order");
    tell(order.stretches_repeated, "stretches repeat another, fix by fix, and were left out");
    tell(order.times_all_the_same, "fixes have one and the same time, so it was not used");
    tell(order.times_taken, "fixes share a time over a way that no boat makes in it, so it was not used");
    tell(order.lost, "records tell neither time nor place, and no fixes on both sides bound them");
    tell(order.times_placed, "fixes share a time or have none, and were placed between their neighbours");
    sentences
}
