use takeline::track::{LoggedFix, is_of_a_set_clock};

use crate::{LogItem, TrackReader};

fn read(log: &str) -> (Vec<LoggedFix>, Vec<(String, u64)>) {
    let (mut fixes, mut notes) = (vec![], vec![]);
    for item in TrackReader::open("log.csv", log.as_bytes()).unwrap() {
        match item.unwrap() {
            LogItem::Fix(fix) => fixes.push(fix),
            LogItem::Note(note) => {
                notes.push((format!("{}: {}", note.kind.code(), note.text), note.place.line));
            }
            LogItem::Unplaced(_) => {}
            LogItem::Waypoint(_) | LogItem::RoutePoint(_) => panic!("neither is in a table"),
        }
    }
    (fixes, notes)
}

fn degrees(fix: &LoggedFix) -> (f64, f64) {
    (fix.position.latitude().degrees(), fix.position.longitude().degrees())
}

#[test]
fn columns_in_any_order_with_units() {
    let log = "\u{feff}Speed_kn,time,lon,note,lat,accuracy_m,hdop\r\n2,2026-05-01T06:30:00Z,-30.1217,a,45.1175,5,0.9\r\n,,-30,,45,,";
    let (fixes, notes) = read(log);
    assert_eq!(notes, []);
    assert_eq!(degrees(&fixes[0]), (45.1175, -30.1217));
    assert_eq!(fixes[0].time, Some("2026-05-01T06:30:00Z".parse().unwrap()));
    assert!((fixes[0].uncertainty.unwrap().radius_95().metres() - 8.11).abs() < 0.01);
    assert!((fixes[0].speed_m_per_s.unwrap() - 1.028_888_889).abs() < 1e-9);
    assert_eq!((fixes[0].hdop, fixes[0].place.line), (Some(0.9), 2));
    assert_eq!(
        (fixes[1].time, fixes[1].uncertainty, fixes[1].hdop, fixes[1].place.line),
        (None, None, None, 3)
    );
}

#[test]
fn positions_in_text_forms() {
    let log = "lat;lon;unix\n45 07.050 N;30 07.300 W;1777617000\n\"45°07'03\"\" N\";\"30°07'18\"\" W\";1777617000.5\n45,1175;-30,1217;\n";
    let (fixes, notes) = read(log);
    assert_eq!(notes, []);
    assert_eq!(fixes.len(), 3);
    for fix in &fixes {
        let (lat_deg, lon_deg) = degrees(fix);
        assert!((lat_deg - 45.1175).abs() < 1e-9 && (lon_deg + 30.121_7).abs() < 1e-4, "{fix:?}");
    }
    assert_eq!(fixes[1].time, Some("2026-05-01T06:30:00.5Z".parse().unwrap()));
}

#[test]
fn bad_rows_are_told_with_their_line() {
    let log = "lat,lon,time\n45,-30,\nx,-30,\n45\n45,-30,,\n123,40,\nNaN,1,\n\"45,-30,\n\n45,182.5,noon\n";
    let (fixes, notes) = read(log);
    assert_eq!(fixes.iter().map(degrees).collect::<Vec<_>>(), [(45.0, -30.0), (45.0, -177.5)]);
    let lines: Vec<u64> = notes.iter().map(|(_, line)| *line).collect();
    assert_eq!(lines, [3, 4, 5, 6, 7, 8, 10], "{notes:?}");
    assert_eq!(notes[2].0, "row-unreadable: the row has 4 fields, the header 3; the row was left out");
    assert!(notes[3].0.contains("may be swapped"), "{}", notes[3].0);
    assert!(notes[6].0.starts_with("time-unreadable"), "{}", notes[6].0);
}

#[test]
fn headers_that_do_not_do() {
    let code = |log: &str| TrackReader::open("log.csv", log.as_bytes()).unwrap_err().to_string();
    assert!(code("breite,laenge\n1,2\n").contains("has no lat and lon columns"));
    assert!(code("lat,lon,latitude\n").contains("\"lat\" and \"latitude\" hold the same thing"));
    let (_, notes) = read("lat,lon,speed\n45,-30,2\n");
    assert!(
        notes[0].0.starts_with("column-ignored: the column \"speed\" does not say its unit"),
        "{notes:?}"
    );
}

#[test]
fn a_row_without_an_end_is_passed_over_up_to_its_end() {
    let log = format!("lat,lon\n{}\n45,-30\n", "9".repeat(300_000));
    let (fixes, notes) = read(&log);
    assert_eq!((fixes.len(), fixes[0].place.line, notes.len(), notes[0].1), (1, 3, 1, 2));
}

#[test]
fn a_date_and_a_time_of_day_in_two_columns_are_joined() {
    let log = "date,time,lat,lon\n2026-05-01,06:30:00Z,45,-30\n2026/05/01,06:30:10.5,45,-30\n\
               20260501,08:30+02:00,45,-30\n2026-05-02,2026-05-01T06:30:00Z,45,-30\n01/05/2026,06:30:00,45,-30\n\
               ,06:30:00,45,-30\n2026-05-01,,45,-30\n";
    let (fixes, notes) = read(log);
    let at = |text: &str| Some(text.parse().unwrap());
    let times: Vec<_> = fixes.iter().map(|fix| fix.time).collect();
    let half_past = at("2026-05-01T06:30:00Z");
    assert_eq!(times, [half_past, at("2026-05-01T06:30:10.5Z"), half_past, half_past, None, None, None]);
    let kinds: Vec<&str> = notes.iter().map(|(text, _)| text.split(':').next().unwrap()).collect();
    assert_eq!(kinds, ["time-zone-unknown", "time-unreadable", "time-unreadable"], "{notes:?}");
    assert!(notes[1].0.contains("01/05/2026 06:30:00"), "{notes:?}");
}

#[test]
fn a_date_without_a_time_of_day_is_told() {
    let (fixes, notes) = read("date,lat,lon\n2026-05-01,45,-30\n");
    assert_eq!(fixes[0].time, None);
    assert!(notes[0].0.contains("time of day in a column time"), "{notes:?}");
}

#[test]
fn an_accuracy_of_0_is_none_and_is_told() {
    let (fixes, notes) = read("lat,lon,accuracy_m\n45,-30,0\n45,-30,0.0\n45,-30,3\n");
    assert_eq!(fixes.iter().filter(|fix| fix.uncertainty.is_some()).count(), 1);
    assert!(notes[0].0.starts_with("accuracy-zero"), "{notes:?}");
    assert!(notes[1].0.ends_with("the same 1 more times, last at line 3"), "{notes:?}");
}

#[test]
fn a_date_beside_seconds_since_1970_takes_nothing_from_them() {
    let (fixes, notes) = read("unix,date,lat,lon\n1777617000,2026-05-01,45.1,-30.1\n");
    assert_eq!(fixes[0].time, Some("2026-05-01T06:30:00Z".parse().unwrap()));
    assert_eq!(notes, []);
}

#[test]
fn a_row_without_a_place_is_a_record_with_its_time() {
    let log = "lat,lon,time\n45.1,-30.1,2026-05-01T06:30:00Z\nN/A,-30.1,2026-05-01T06:30:01Z\n\
               ,,2026-05-01T06:30:02Z\n45.1,-30.1,2026-05-01T06:30:03Z,1\n45.1,-30";
    let items = TrackReader::open("log.csv", log.as_bytes()).unwrap().map(Result::unwrap);
    let times: Vec<String> = items
        .filter_map(|item| if let LogItem::Unplaced(record) = item { Some(record) } else { None })
        .map(|record| {
            let time = record.time.map_or("none".to_owned(), |time| time.to_string());
            format!("{}: {time}", record.place.line)
        })
        .collect();
    // which field is the time in a row with too many or too few nobody knows
    assert_eq!(times, ["3: 2026-05-01T06:30:01Z", "4: 2026-05-01T06:30:02Z", "5: none", "6: none"]);
}

#[test]
fn accuracies_by_other_names_are_read_or_told() {
    let told = |name: &str| {
        let (fixes, notes) = read(&format!("lat,lon,{name}\n45,-30,300\n45,-30.1,300\n45,-30.2,\n"));
        let metres = fixes[0].uncertainty.map(|one| one.radius_95().metres().round());
        (metres, notes.first().map(|(text, line)| (text.split(':').next().unwrap().to_owned(), *line)))
    };
    // 300 m as a radius of 68 %, 95 % and root mean square (Rayleigh distribution)
    for name in [
        "hacc",
        "hAcc",
        "accuracy",
        "accuracy (m)",
        "Accuracy [m]",
        "horizontal_accuracy",
        "horizontalAccuracy",
    ] {
        assert_eq!(told(name), (Some(486.0), None), "{name}");
    }
    assert_eq!(told("accuracy_95"), (Some(300.0), None));
    assert_eq!(told("drms"), (Some(519.0), None));
    for name in [
        "acc",
        "epe",
        "EPE (m)",
        "gps accuracy",
        "accuracy_ft",
        "accuracy (feet)",
        "eph",
        "cep50",
        "uncertainty",
        "error_m",
        "pos_error",
        "err",
        "error",
        "radius",
        "horizontalPrecision",
        "lat_err",
    ] {
        assert_eq!(told(name), (None, Some(("accuracy-unreadable".to_owned(), 2))), "{name}");
    }
    for name in [
        "vertical_accuracy",
        "vacc",
        "speed_accuracy",
        "acc_x",
        "access",
        "account",
        "name",
        "error_message",
        "verticalAccuracy",
        "bearing accuracy",
    ] {
        assert_eq!(told(name), (None, None), "{name}");
    }
    // beside one that is read, and where it says nothing, it is no matter
    let (_, notes) = read("lat,lon,accuracy_m,epe\n45,-30,5,3\n45,-30.1,5,3\n");
    assert_eq!(notes, []);
    assert_eq!(read("lat,lon,epe\n45,-30,\n").1, []);
}

#[test]
fn an_offset_from_utc_in_a_column_of_its_own_is_read_or_told() {
    let read_with = |heading: &str, offset: &str| {
        let (fixes, notes) = read(&format!("time,{heading},lat,lon\n2026-05-01T06:30:00,{offset},45,-30\n"));
        (fixes[0].time.unwrap().to_string(), notes)
    };
    for (heading, offset, utc) in [
        ("utc_offset", "-01:00", "2026-05-01T07:30:00Z"),
        ("timezone", "+0545", "2026-05-01T00:45:00Z"),
        ("TZ", "UTC+2", "2026-05-01T04:30:00Z"),
        ("time zone", "utc", "2026-05-01T06:30:00Z"),
        ("gmt_offset", "-1", "2026-05-01T07:30:00Z"),
    ] {
        assert_eq!(read_with(heading, offset), (utc.to_owned(), vec![]), "{heading} {offset}");
    }
    for offset in ["Atlantic/Azores", "3600", "60", ""] {
        let (_, notes) = read_with("timezone", offset);
        assert!(notes[0].0.starts_with("time-zone-unknown") && notes[0].0.contains(offset), "{notes:?}");
    }
    let (fixes, _) = read("date,time,utc_offset,lat,lon\n2026-05-01,06:30:00,-01:00,45,-30\n");
    assert_eq!(fixes[0].time, Some("2026-05-01T07:30:00Z".parse().unwrap()));
    // a time that says its own offset needs no other
    let (fixes, _) = read("time,utc_offset,lat,lon\n2026-05-01T06:30:00Z,-01:00,45,-30\n");
    assert_eq!(fixes[0].time, Some("2026-05-01T06:30:00Z".parse().unwrap()));
}

#[test]
fn a_time_of_a_clock_that_was_not_set_is_told_apart() {
    let (fixes, notes) = read("time,lat,lon\n1970-01-01T00:00:00Z,45,-30\n1990-01-01T00:00:00Z,45,-30\n");
    assert!(fixes[0].time.is_some_and(|time| !is_of_a_set_clock(time)));
    assert!(fixes[1].time.is_some_and(is_of_a_set_clock));
    assert!(
        notes[0].0.starts_with("clock-not-set") && notes[1].0.starts_with("date-suspicious"),
        "{notes:?}"
    );
}

#[test]
fn a_last_row_that_is_cut_inside_its_last_number_is_a_record_without_a_place() {
    let count = |last: &str| {
        let log = format!(
            "time,lat,lon\n2026-05-01T06:30:00Z,45.12345,-30.12345\n2026-05-01T06:30:10Z,45.12345,{last}"
        );
        let (fixes, notes) = read(&log);
        (fixes.len(), notes.iter().any(|(text, _)| text.contains("likely cut off")))
    };
    for cut in ["-3", "-30", "-30.", "-30.1", "-30.123"] {
        assert_eq!(count(cut), (1, true), "{cut}");
    }
    // zeros at an end are left out, and a row with its end is whole
    for whole in ["-30.12345", "-30.1234", "-30.1\n", "-30\n"] {
        assert_eq!(count(whole), (2, false), "{whole}");
    }
    assert_eq!(read("lat,lon\n45.1,-30.1\n45.1,-30").0.len(), 2);
}

#[test]
fn a_fix_with_a_dilution_of_a_receiver_without_a_fix_is_left_out() {
    let (fixes, notes) =
        read("lat,lon,hdop,accuracy_m\n45,-30,99,\n45,-30.1,20,\n45,-30.2,19.9,\n45,-30.3,40,5\n");
    assert_eq!(fixes.iter().map(|fix| fix.place.line).collect::<Vec<_>>(), [4, 5]);
    assert!(notes[0].0.starts_with("fix-void") && notes[0].0.contains("(hdop) of 99"), "{notes:?}");
}
