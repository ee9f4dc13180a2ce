//! What the state of one log does to its answer, and that of many to what they come to together, in English.

use takeline::Tristate;
use takeline::track::{Gap, OpenEnd, Quality, Suspicion};
use takeline::zone::{Misreading, Slip};

use takeline::assess::Warning;

use crate::figures;
use crate::track::times::{counted, span, utc};
use crate::track::{MostlySuspect, QualityDocument, TrackDocument, TrackNote, ZoneTally};
use crate::words::Words;

/// Metres of a degree of latitude, for a figure in words.
const METRES_A_DEGREE: f64 = 111_200.0;

/// The second line where most fixes cannot be believed, longest form first.
pub(super) fn suspect_second(words: &(impl Words + ?Sized), doubt: MostlySuspect) -> Vec<String> {
    let MostlySuspect { suspects, fixes, worst } = doubt;
    let why = words.suspicion(worst);
    vec![
        format!("{suspects} of {fixes}, most of them {why}"),
        format!("{suspects} of {fixes} suspect: {why}"),
    ]
}

/// What settles a log whose fixes cannot be believed.
pub(super) fn suspect_settle(worst: Suspicion) -> &'static str {
    match worst {
        Suspicion::NullIsland | Suspicion::RepeatedPosition => "a log of a receiver that had a fix",
        Suspicion::OutOfOrder => "sort the log by time",
        Suspicion::Untimed => "a log with a time for each fix",
        Suspicion::Duplicate | Suspicion::Spike | Suspicion::ColdStart | _ => {
            "a log for each receiver, or --top-speed if the boat is that fast"
        }
    }
}

/// The commonest reason why nothing was read, longest form first, and what settles it.
pub(super) fn why_no_fix(document: &TrackDocument<'_>) -> Option<(Vec<String>, &'static str)> {
    let (code, count) = document.worst_loss()?;
    let (what, settle) = match code {
        "checksum-wrong" => ("sentences with a wrong checksum", "copy the log from the receiver again"),
        "sentence-unreadable" => ("damaged sentences", "copy the log from the receiver again"),
        "row-unreadable" => ("rows that are not fixes", "correct the places listed under READING"),
        "fix-void" => ("fixes that the receiver marked void", "a log of a receiver that had a fix"),
        "fix-not-measured" => ("positions that nobody measured", "a log of a receiver that had a fix"),
        _ => ("positions that cannot be read", "correct the places listed under READING"),
    };
    Some((vec![format!("Left out: {count} {what}"), format!("{count} {what}")], settle))
}

/// The second line where positions could not be read, longest form first.
pub(super) fn lost_second(quality: &Quality) -> Vec<String> {
    if quality.without_time == 0 && quality.order.lost > 0 {
        let lost = quality.order.lost;
        return vec![
            format!("{lost} without time or place, at an end of the log or in no order"),
            format!("{lost} records without time or place"),
        ];
    }
    if quality.without_time == 0 {
        return vec![
            "Hours of records without a place, and no fix near them".into(),
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

/// For how long nothing was logged, or no place.
pub(super) fn silence_words(gap: &Gap) -> String {
    let what = if gap.may_be_pause { "Nothing" } else { "No place" };
    format!("{what} logged for {}", span(gap.seconds.unwrap_or(0.0)))
}

pub(super) fn misread_first(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    misreading: &Misreading,
) -> Vec<String> {
    let quality = document.audited_quality();
    let distance = figures::distance(words.units(), misreading.distance, misreading.distance);
    if quality.far_since_misread < quality.fixes {
        let far = quality.far_since_misread;
        let log = format!("{far} of {} fixes", quality.fixes);
        return vec![
            format!("NOT SETTLED: {log} {distance} from every zone, probably misread"),
            format!("NOT SETTLED: {log} probably misread"),
            "NOT SETTLED: part probably misread".to_owned(),
        ];
    }
    vec![
        format!("NOT SETTLED: {distance} from every zone, probably misread"),
        format!("NOT SETTLED: {distance} from every zone"),
    ]
}

/// The second line where the log jumps as no boat does, longest form first.
pub(super) fn torn_second(words: &(impl Words + ?Sized), quality: &Quality) -> Vec<String> {
    let torn = quality.gaps.iter().find(|gap| gap.impossible);
    let way = torn.map(|gap| {
        let distance = figures::distance(words.units(), gap.metres, gap.metres);
        gap.seconds.map_or_else(|| distance.clone(), |seconds| format!("{distance} in {}", span(seconds)))
    });
    way.map_or_else(
        || vec!["No boat makes its way".to_owned()],
        |way| vec![format!("No boat makes {way}: one side is wrong"), format!("No boat makes {way}")],
    )
}

/// The second line, longest form first, and what settles it.
pub(super) fn misread_further(
    document: &TrackDocument<'_>,
    misreading: &Misreading,
) -> (Vec<String>, String) {
    let zone = document.zones().zones().get(misreading.zone_number).map_or("a zone", |zone| &zone.name);
    let (long, short) = match misreading.slip {
        Slip::Exchanged => ("Latitude and longitude swapped", "lat and lon swapped"),
        Slip::LongitudeSign => ("The sign of the longitude changed", "longitude's sign wrong"),
        Slip::LatitudeSign => ("The sign of the latitude changed", "latitude's sign wrong"),
        Slip::BothSigns => ("Both signs changed", "both signs wrong"),
        Slip::ExchangedAndSign | _ => {
            ("Latitude and longitude swapped and a sign changed", "lat and lon swapped, sign wrong")
        }
    };
    let second = vec![format!("{long}, it is near {zone}"), format!("Probably {short}")];
    let place = document.shown(misreading.likely).0.map(figures::position);
    let place = place.map_or_else(String::new, |place| format!(", as at {place}"));
    (second, format!("write the log's positions as they were meant{place}"))
}

/// What of the log lies on land, with the first of it; nothing if nothing does.
pub(crate) fn on_land(words: &(impl Words + ?Sized), quality: &QualityDocument<'_>) -> Vec<String> {
    let Some(found) = quality.on_land.as_ref() else { return Vec::new() };
    let coasts = found.coasts.join(" and ");
    let legs = || counted(found.legs, "leg leads", "legs lead");
    let what = match (found.fixes, found.legs) {
        (0, 0) => return vec![format!("none of {} fixes, by {coasts}", found.of)],
        (0, _) => format!("{} over land by {coasts}", legs()),
        (fixes, 0) => format!("{fixes} of {} fixes lie on land by {coasts}", found.of),
        (fixes, _) => {
            format!("{fixes} of {} fixes lie on land by {coasts}, and {} over it", found.of, legs())
        }
    };
    let first = found.first.as_ref().map_or_else(String::new, |first| {
        let when = first
            .time
            .map_or_else(String::new, |time| format!(" {}", super::visits::instant(words, time, None)));
        format!(", first{when} at {}", words.shown_place(first.place))
    });
    vec![format!("{what}{first}: a wrong datum, an exchanged sign, or a car?")]
}

/// What somebody who reads no further than the first lines has to know of the log.
pub(crate) fn first_remarks(words: &(impl Words + ?Sized), document: &TrackDocument<'_>) -> Vec<String> {
    let quality = document.audited_quality();
    let mut remarks = Vec::new();
    for zone in document.expired_files() {
        if let Some(until) = zone.file.valid_until {
            let until = until.to_zoned_datetime(zone.time_zone.clone());
            let (path, edition) = (zone.file.path.clone(), zone.file.edition.clone());
            let warning = Warning::EditionExpired { path, edition, until };
            remarks.push(format!("WARNING: {}", words.warning(&warning)));
        }
    }
    if document.input.catch_rows_unread > 0 {
        remarks.push(format!(
            "{} of the catch log could not be read: nothing is known of those fish.",
            counted(document.input.catch_rows_unread, "row", "rows")
        ));
    }
    if let Some(misread) = quality.misread {
        let (second, _) = misread_further(document, &misread.misreading);
        let distance =
            figures::distance(words.units(), misread.misreading.distance, misread.misreading.distance);
        remarks.push(format!(
            "From line {} on, {} of {} fixes are far from every zone, the first {distance} away. {}. What was done then is not judged.",
            misread.fix.place.line, quality.far_since_misread, quality.fixes, second[0]
        ));
    }
    if let Some(step_deg) = quality.order.digits_step_deg {
        remarks.push(format!(
            "The log's positions have few digits: each may be off by {} north or south, and a little less east or west, on top of its accuracy.",
            figures::whole(words.units(), step_deg / 2.0 * METRES_A_DEGREE)
        ));
    }
    if document.quality.on_land.as_ref().is_some_and(|found| found.fixes + found.legs > 0) {
        remarks.extend(words.on_land(&document.quality));
    }
    if document.has_unread_accuracy() {
        remarks.push(format!(
            "The log states an accuracy that cannot be read; {} is used instead, which may be too little.",
            figures::whole(words.units(), document.settings.uncertainty_95.metres())
        ));
    }
    if document.settings.dates_doubtful {
        remarks.push(date_remark(document));
    }
    for (zone, _) in document.placed_nowhere().into_iter().filter(|(_, binds)| *binds == Tristate::No) {
        remarks.push(format!(
            "It is not known where {} is; its rule did not bind this boat at any time in the log.",
            zone.name
        ));
    }
    if document.is_plan() {
        remarks.push(
            "A plan, not a trip: the file holds only routes, and does not say that anybody went.".to_owned(),
        );
    }
    remarks.extend(silences(document));
    remarks
}

/// That the times of the log may be wrong, with what its reader says of the first of them.
fn date_remark(document: &TrackDocument<'_>) -> String {
    let why = |note: Option<&TrackNote>| note.map_or_else(String::new, |note| format!(" ({})", note.text));
    if let Some(note) = document.zone_unknown() {
        let why = why(Some(note));
        return format!(
            "The times of the log do not say how far they are from UTC{why}, so what was in force then is not settled."
        );
    }
    let why = why(document.note("date-suspicious").or_else(|| document.note("clock-not-set")));
    format!("The dates of the log may be wrong{why}, so what was in force then is not settled.")
}

/// The times for which the log says nothing, and the boats that it tells apart by time.
fn silences(document: &TrackDocument<'_>) -> Vec<String> {
    let quality = document.audited_quality();
    let mut remarks = Vec::new();
    let long_s = |gap: &Gap| gap.seconds.unwrap_or(0.0);
    let silences = document.visits.iter().filter_map(|visit| document.long_silence(visit));
    if let Some(silence) = silences.max_by(|one, other| long_s(one).total_cmp(&long_s(other))) {
        let long = span(long_s(silence));
        remarks.push(if silence.may_be_pause {
            format!("Nothing was logged for {long}; if you were ashore, give --new-trip-after-h 6.")
        } else {
            format!(
                "For {long} the log has no place that can be believed, though it goes on, or jumps there."
            )
        });
    }
    remarks.extend(quality.gaps.iter().filter_map(|gap| Some(open_end(gap.open?, gap.seconds?))));
    let pauses = quality.pauses;
    if pauses > 0 {
        let listed = || quality.gaps.iter().filter(|gap| gap.between_trips);
        let shortest_s = listed().filter_map(|gap| gap.seconds).reduce(f64::min);
        let silence = shortest_s.map_or_else(
            || "hours".to_owned(),
            |seconds| format!("{}{}", span(seconds), if pauses > 1 { " and more" } else { "" }),
        );
        let first = listed().next();
        let times = first.and_then(|gap| gap.before.time.zip(gap.after.time));
        let when = times.map_or_else(String::new, |(from, to)| {
            let which = if pauses > 1 { " first" } else { "" };
            format!(",{which} from {} to {}", utc(from), utc(to))
        });
        remarks.push(format!(
            "Taken as {} trips, with {silence} without a log between them{when}; what was done then is not known and not judged.",
            pauses + 1
        ));
    }
    if quality.order.boats > 1 {
        remarks.push(format!(
            "Parts of the log overlap in time: they are taken as {} boats or receivers, and kept apart.",
            quality.order.boats
        ));
    }
    remarks
}

/// What has to be said of a time at an end of the log.
fn open_end(open: OpenEnd, seconds: f64) -> String {
    let long = span(seconds);
    match open {
        OpenEnd::BeforeTheFirst => {
            format!(
                "The log begins {long} before the first place that can be believed; the boat may have come from anywhere within reach."
            )
        }
        OpenEnd::AfterTheLast => {
            format!(
                "The log goes on for {long} after the last place that can be believed; the boat may have gone anywhere within reach."
            )
        }
        OpenEnd::Repeats => {
            format!(
                "The last {long} of the log repeat one place; the boat lay there, or its receiver had stopped."
            )
        }
    }
}

/// How the log was put in order, one sentence each.
pub(crate) fn order_sentences(quality: &QualityDocument<'_>) -> Vec<String> {
    let order = &quality.order;
    let mut sentences = Vec::new();
    let mut say = |count: u64, what: &str| {
        if count > 0 {
            sentences.push(format!("{count} {what}"));
        }
    };
    say(order.newest_first, "fixes were newest first, and were turned round");
    say(order.unordered, "fixes were not in order of time, and were sorted");
    say(order.stretches_moved, "segments were out of order in time, and were put in order");
    say(order.stretches_repeated, "segments repeat another one, fix by fix, and were left out");
    say(order.times_all_the_same, "fixes all have the same time, so it was not used");
    say(
        order.times_taken,
        "fixes share a time, but are farther apart than a boat can be in it, so it was not used",
    );
    say(quality.lost, "records have neither time nor place, and no fix on each side to place them");
    say(order.times_placed, "fixes share a time, or have none, and were placed between their neighbours");
    sentences
}

/// What is not in the figures, or not to be relied on.
pub(crate) fn reservations(unread: u64, plans: u64, unsettled: u64) -> Vec<String> {
    let counts = [
        (unread, "unreadable, and not in the figures below"),
        (plans, "of routes only, and not in the figures below"),
        (unsettled, "not settled: the figures below cover only what could be judged"),
    ];
    let counted = counts.into_iter().filter(|(count, _)| *count > 0);
    let sentence = |(count, what)| match count {
        1 => format!("1 log is {what}"),
        _ => format!("{count} logs are {what}"),
    };
    counted.map(sentence).collect()
}

/// How many logs there were, and how many of each answer; alike at the end of a folder and on the index of its pages.
pub(crate) fn counts(logs: u64, [against, open, clear]: [u64; 3]) -> String {
    format!(
        "{}: {against} against a loaded rule, {open} not settled, {clear} with nothing against one",
        counted(logs, "log", "logs")
    )
}

/// What many tracks did at one zone.
pub(crate) fn season_zone(words: &(impl Words + ?Sized), tally: &ZoneTally, tracks: u64) -> String {
    let closest = tally.closest.filter(|_| tally.entered + tally.possible == 0);
    let mut parts: Vec<String> = closest
        .map(|(closest, doubt)| {
            format!("closest {}", figures::distance_with_doubt(words.units(), closest, doubt))
        })
        .into_iter()
        .collect();
    let visits = if tally.entered == 1 { "visit" } else { "visits" };
    let tracks = counted(tracks, "track", "tracks");
    parts.push(format!("{} certain {visits} in {tracks}", tally.entered));
    if tally.possible > 0 {
        parts.push(format!("{} possible, not settled", tally.possible));
    }
    parts.join("; ")
}
