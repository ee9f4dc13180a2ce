use takeline::track::LoggedFix;

use crate::{LogItem, TrackReader};

/// Puts the checksum behind a sentence.
fn summed(body: &str) -> String {
    format!("${body}*{:02X}\r\n", body.bytes().fold(0, |sum, byte| sum ^ byte))
}

fn read(log: &str) -> (Vec<LoggedFix>, Vec<(&'static str, u64, u64)>) {
    let (mut fixes, mut notes) = (vec![], vec![]);
    for item in TrackReader::open("log.nmea", log.as_bytes()).unwrap() {
        match item.unwrap() {
            LogItem::Fix(fix) => fixes.push(fix),
            LogItem::Note(note) => notes.push((note.kind.code(), note.place.line, note.count)),
            LogItem::Unplaced(_) => {}
            LogItem::Waypoint(_) | LogItem::RoutePoint(_) => panic!("neither is in sentences"),
        }
    }
    (fixes, notes)
}

/// The times of records without a place, none for one without a time.
fn unplaced(log: &str) -> Vec<String> {
    let items = TrackReader::open("log.nmea", log.as_bytes()).unwrap().map(Result::unwrap);
    let records =
        items.filter_map(|item| if let LogItem::Unplaced(record) = item { Some(record) } else { None });
    records.map(|record| record.time.map_or("none".to_owned(), |time| time.to_string())).collect()
}

/// Fixes and records without a place, in the order in which they are given out.
fn kinds(log: &str) -> String {
    let items = TrackReader::open("log.nmea", log.as_bytes()).unwrap().map(Result::unwrap);
    let kinds: Vec<&str> = items
        .filter_map(|item| match item {
            LogItem::Fix(_) => Some("fix"),
            LogItem::Unplaced(_) => Some("lost"),
            LogItem::Note(_) | LogItem::Waypoint(_) | LogItem::RoutePoint(_) => None,
        })
        .collect();
    kinds.join(" ")
}

fn times(fixes: &[LoggedFix]) -> Vec<String> {
    fixes.iter().map(|fix| fix.time.map_or("none".to_owned(), |time| time.to_string())).collect()
}

const PLACE: &str = "4507.050,N,03007.300,W";

fn gga(time: &str, quality: u8) -> String {
    summed(&format!("GPGGA,{time},{PLACE},{quality},08,0.9,5.4,M,46.9,M,,"))
}

fn rmc(time: &str, status: char, date: &str) -> String {
    summed(&format!("GPRMC,{time},{status},{PLACE},2.0,084.4,{date},003.1,W"))
}

#[test]
fn sentences_of_one_instant_are_one_fix() {
    let log =
        [gga("063000", 1), rmc("063000.00", 'A', "010526"), gga("063001", 1), rmc("063001", 'A', "010526")]
            .concat();
    let (fixes, notes) = read(&log);
    assert_eq!(times(&fixes), ["2026-05-01T06:30:00Z", "2026-05-01T06:30:01Z"]);
    assert_eq!(notes, []);
    assert_eq!((fixes[0].hdop, fixes[0].place.line, fixes[1].place.line), (Some(0.9), 1, 3));
    // two knots: 2 × 1852 m / 3600 s
    assert!((fixes[0].speed_m_per_s.unwrap() - 1.028_888_889).abs() < 1e-9);
    assert!((fixes[0].position.latitude().degrees() - 45.1175).abs() < 1e-12);
    assert!((fixes[0].position.longitude().degrees() + (30.0 + 7.3 / 60.0)).abs() < 1e-12);
}

#[test]
fn the_date_is_carried_and_turns_at_midnight() {
    let zda = summed("GPZDA,235958.00,01,05,2026,00,00");
    let log = [gga("235957", 1), zda, gga("235958", 1), gga("235959", 1), gga("000000", 1)].concat();
    let (fixes, notes) = read(&log);
    assert_eq!(
        times(&fixes),
        ["2026-05-01T23:59:57Z", "2026-05-01T23:59:58Z", "2026-05-01T23:59:59Z", "2026-05-02T00:00:00Z"]
    );
    assert_eq!(notes, []);
}

#[test]
fn void_and_reckoned_fixes_are_counted_and_not_used() {
    let log = [
        gga("063000", 0),
        gga("063001", 0),
        gga("063002", 6),
        rmc("063003", 'V', "060180"),
        gga("063004", 1),
        // one of two sentences of an instant says void
        gga("063005", 1),
        rmc("063005", 'V', "060180"),
    ];
    let (fixes, notes) = read(&log.concat());
    assert_eq!(times(&fixes), ["none"]);
    let expected =
        [("fix-void", 1, 1), ("fix-not-measured", 3, 1), ("time-without-date", 5, 1), ("fix-void", 6, 3)];
    assert_eq!(notes, expected);
}

#[test]
fn damage_is_told_with_its_line() {
    let good = rmc("063000", 'A', "010526");
    let log = [
        good.clone(),
        good.replace("4507", "4517"),
        "$GPRMC,0630\r\n".to_owned(),
        summed("GPGGA,063001,4575.050,N,03007.300,W,1,08,0.9,5.4,M,46.9,M,,"),
        summed("GPGGA,063001,nan,N,03007.300,W,1,08,0.9,5.4,M,46.9,M,,"),
        gga("063002", 1).replace("W,1", "Ẅ,1"),
        "$GPGGA,06300".to_owned() + &gga("063003", 1),
        "!AIVDM,1,1,,A,14eG;o@034o8sd<L9i:a;WF>062D,0*7D\r\n$PXYZ,1\r\n$GPGSV,3,1,11*00\r\n".to_owned(),
        "[12:00:01] ".to_owned() + &gga("063004", 1),
    ];
    let (fixes, notes) = read(&log.concat());
    assert_eq!(fixes.len(), 3);
    let lines: Vec<_> = notes.iter().map(|(code, line, _)| (*code, *line)).collect();
    let expected = [
        ("checksum-wrong", 2),
        ("sentence-unreadable", 3),
        ("sentence-unreadable", 4),
        ("sentence-unreadable", 5),
        ("sentence-unreadable", 6),
        ("sentence-unreadable", 7),
    ];
    assert_eq!(lines, expected);
}

#[test]
fn a_log_without_checksums_is_read_with_one_note_and_a_sum() {
    let log = "$GNRMC,063000,A,4507.050,N,03007.300,W,2.0,84.4,010526,,,A\n".to_owned()
        + "$GNGLL,4507.050,N,03007.300,W,063001,A,A\n$GNGLL,4507.050,N,03007.300,W,063002,A\n";
    let (fixes, notes) = read(&log);
    assert_eq!(times(&fixes), ["2026-05-01T06:30:00Z", "2026-05-01T06:30:01Z", "2026-05-01T06:30:02Z"]);
    assert_eq!(notes, [("checksum-missing", 1, 1), ("checksum-missing", 3, 2)]);
}

#[test]
fn a_clock_a_round_behind_is_told_and_left_as_it_is() {
    let (fixes, notes) = read(&rmc("063000", 'A', "150906"));
    assert_eq!(times(&fixes), ["2006-09-15T06:30:00Z"]);
    assert_eq!(notes, [("date-suspicious", 1, 1)]);
}

#[test]
fn the_same_sentence_twice_is_two_fixes() {
    let (fixes, _) = read(&(rmc("063000", 'A', "010526") + &rmc("063000", 'A', "010526")));
    assert_eq!(fixes.len(), 2);
}

#[test]
fn positions_that_disagree_are_told() {
    let other = summed("GPGLL,4508.050,N,03007.300,W,063000,A");
    let (fixes, notes) = read(&(rmc("063000", 'A', "010526") + &other));
    assert_eq!((fixes.len(), notes), (1, vec![("positions-disagree", 1, 1)]));
    assert!((fixes[0].position.latitude().degrees() - 45.1175).abs() < 1e-12);
}

#[test]
fn what_is_void_or_reckoned_is_a_record_without_a_place() {
    let log = [
        // switched on, and no time yet: nothing is lost
        summed("GPRMC,,V,,,,,,,,,,N"),
        rmc("063000", 'A', "010526"),
        rmc("063001", 'V', "010526"),
        gga("063002", 6) + &rmc("063002", 'A', "010526"),
        // the clock is lost as well
        summed("GPRMC,,V,,,,,,,,,,N"),
    ];
    assert_eq!(unplaced(&log.concat()), ["2026-05-01T06:30:01Z", "2026-05-01T06:30:02Z", "none"]);
}

#[test]
fn a_good_time_with_an_empty_or_impossible_position_is_a_record_without_a_place() {
    let log = [
        rmc("063000", 'A', "010526"),
        summed("GPRMC,063001,A,,,,,2.0,084.4,010526,003.1,W"),
        summed("GPRMC,063002,A,9906.600,N,03007.300,W,2.0,084.4,010526,003.1,W"),
        summed("GPRMC,063003,A,4575.050,N,03007.300,W,2.0,084.4,010526,003.1,W"),
        // another sentence of the same moment tells the place
        summed("GPRMC,063005,A,,,,,2.0,084.4,010526,003.1,W"),
        gga("063005", 1),
        // tells no place anywhere
        summed("GPZDA,063006,01,05,2026,00,00"),
    ];
    let expected = ["2026-05-01T06:30:01Z", "2026-05-01T06:30:02Z", "2026-05-01T06:30:03Z"];
    assert_eq!(unplaced(&log.concat()), expected);
    let (fixes, notes) = read(&log.concat());
    assert_eq!(times(&fixes), ["2026-05-01T06:30:00Z", "2026-05-01T06:30:05Z"]);
    assert_eq!(notes[..2], [("sentence-unreadable", 3, 1), ("sentence-unreadable", 4, 1)]);
}

#[test]
fn ten_damaged_sentences_in_a_row_are_a_record_without_time_and_place() {
    let damaged = gga("063001", 1).replace("4507", "4517");
    let log = |count: usize| rmc("063000", 'A', "010526") + &damaged.repeat(count);
    assert_eq!(unplaced(&log(9)), [""; 0]);
    assert_eq!(unplaced(&log(10)), ["none"]);
    assert_eq!(unplaced(&(log(9) + &rmc("063002", 'A', "010526") + &damaged.repeat(9))), [""; 0]);
}

#[test]
fn a_damaged_end_of_a_log_stands_behind_its_last_fix_and_a_damaged_head_before_its_first() {
    let damaged = gga("063001", 1).replace("4507", "4517").repeat(12);
    let good = [rmc("063000", 'A', "010526"), rmc("063002", 'A', "010526")];
    assert_eq!(kinds(&(good.concat() + &damaged)), "fix fix lost");
    assert_eq!(kinds(&(damaged.clone() + &good.concat())), "lost fix fix");
    assert_eq!(kinds(&good.join(&damaged)), "fix lost fix");
    // fixes that wait for a date keep their place too
    let undated = gga("062959", 1) + &damaged + &good.concat();
    assert_eq!(kinds(&undated), "fix lost fix fix");
}

#[test]
fn a_date_is_not_carried_back_over_a_silence() {
    // a day and four hours lie between, or four hours, or half a minute and days: nobody knows
    let log = |silent_until: &str| {
        [gga("060000", 1), gga("060010", 1), gga(silent_until, 1), rmc("100020", 'A', "020526")].concat()
    };
    let (fixes, notes) = read(&log("100010"));
    assert_eq!(times(&fixes), ["none", "none", "2026-05-02T10:00:10Z", "2026-05-02T10:00:20Z"]);
    let stretches: Vec<u32> = fixes.iter().map(|fix| fix.place.stretch).collect();
    assert_eq!(stretches, [0, 0, 1, 1]);
    assert_eq!(notes, [("time-without-date", 1, 1), ("time-without-date", 2, 1)]);
    // the silence right before the date
    let (fixes, _) = read(&log("060020"));
    assert_eq!(times(&fixes), ["none", "none", "none", "2026-05-02T10:00:20Z"]);
    assert_eq!(fixes.iter().map(|fix| fix.place.stretch).collect::<Vec<_>>(), [0, 0, 0, 1]);
    // records without a place lose their date likewise
    let void = [gga("060000", 0), gga("100010", 0), rmc("100020", 'A', "020526")].concat();
    assert_eq!(unplaced(&void), ["none", "2026-05-02T10:00:10Z"]);
}

#[test]
fn a_date_a_round_behind_that_comes_late_is_told_too() {
    let zda = |time: &str| summed(&format!("GPZDA,{time},09,12,2006,00,00"));
    let late = read(&[gga("060000", 1), gga("060010", 1), zda("060011")].concat());
    let early = read(&[zda("055959"), gga("060000", 1), gga("060010", 1)].concat());
    assert_eq!(times(&late.0), times(&early.0));
    assert_eq!(late.1, [("date-suspicious", 1, 1), ("date-suspicious", 2, 1)]);
    assert_eq!(early.1, [("date-suspicious", 2, 1), ("date-suspicious", 3, 1)]);
}

#[test]
fn a_date_that_comes_late_dates_what_came_before_it() {
    let log = [
        gga("235958", 1),
        gga("235959", 0),
        gga("000000", 1),
        rmc("000001", 'A', "020526"),
        gga("000002", 1),
    ];
    let (fixes, notes) = read(&log.concat());
    let expected =
        ["2026-05-01T23:59:58Z", "2026-05-02T00:00:00Z", "2026-05-02T00:00:01Z", "2026-05-02T00:00:02Z"];
    assert_eq!(times(&fixes), expected);
    assert_eq!(notes, [("fix-void", 2, 1)]);
    assert_eq!(unplaced(&log.concat()), ["2026-05-01T23:59:59Z"]);
}

#[test]
fn without_a_date_a_long_step_of_the_time_of_day_begins_another_stretch() {
    let log = [gga("235930", 1), gga("000000", 1), gga("000031", 1), gga("000032", 1), gga("000001", 1)];
    let (fixes, notes) = read(&log.concat());
    assert_eq!(times(&fixes), ["none"; 5]);
    let stretches: Vec<u32> = fixes.iter().map(|fix| fix.place.stretch).collect();
    assert_eq!(stretches, [0, 0, 1, 1, 2]);
    assert_eq!(notes, [("time-without-date", 1, 1), ("time-without-date", 5, 4)]);
}

#[test]
fn what_a_receiver_says_of_its_error_is_read_where_it_is_more_than_assumed() {
    let log = |gst: &str| {
        format!(
            "{}{}{}",
            rmc("063000", 'A', "010526"),
            gga("063000", 1),
            summed(&format!("GPGST,063000{gst}"))
        )
    };
    let metres = |gst: &str| {
        let (fixes, notes) = read(&log(gst));
        assert_eq!((fixes.len(), notes.as_slice()), (1, &[][..]), "{gst}");
        fixes[0].uncertainty.map(|one| one.radius_95().metres().round())
    };
    // 110 m in the worst direction: 2.4477 times as much (Rayleigh distribution, 95 %)
    assert_eq!(metres(".00,50.0,,,,110.0,90.0,40.0"), Some(269.0));
    assert_eq!(metres(",50.0,110.0,60.0,45.0,,,"), Some(269.0));
    // 2 m are 4.9 m at 95 %, less than what is assumed; and nothing at all
    assert_eq!(metres(".00,2.0,2.0,1.0,45.0,2.0,1.0,3.0"), None);
    assert_eq!(metres(",,,,,,,"), None);
    assert_eq!(
        read(&format!("{}{}", rmc("063000", 'A', "010526"), summed("GPGST,06300,1,1,1,1,1,1,1"))).0.len(),
        1
    );
}

#[test]
fn a_dilution_of_a_receiver_without_a_fix_is_no_fix() {
    let gga = |hdop: &str| summed(&format!("GPGGA,063000,{PLACE},1,04,{hdop},5.4,M,46.9,M,,"));
    assert_eq!(kinds(&gga("40.0")), "lost");
    assert_eq!(kinds(&gga("19.9")), "fix");
    assert_eq!(read(&gga("99.99")).1[0].0, "fix-void");
}
