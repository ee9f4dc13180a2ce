use takeline::AccuracyKind;
use takeline::track::LoggedFix;

use crate::{LogItem, LogNote, LogNoteKind as Kind, ReadOptions, TrackReader};

pub(super) fn items(log: &str) -> Vec<LogItem> {
    TrackReader::open("log.gpx", log.as_bytes()).unwrap().collect::<Result<_, _>>().unwrap()
}

fn fixes(items: &[LogItem]) -> Vec<LoggedFix> {
    items.iter().filter_map(|item| if let LogItem::Fix(fix) = item { Some(*fix) } else { None }).collect()
}

fn notes(items: &[LogItem]) -> Vec<LogNote> {
    items
        .iter()
        .filter_map(|item| if let LogItem::Note(note) = item { Some(note.clone()) } else { None })
        .collect()
}

fn kinds(items: &[LogItem]) -> Vec<Kind> {
    notes(items).iter().map(|note| note.kind).collect()
}

fn track(points: &str) -> String {
    format!(
        "<gpx version=\"1.1\"><metadata><time>2001-01-01T00:00:00Z</time></metadata><trk><trkseg>\n{points}\n</trkseg></trk></gpx>"
    )
}

#[expect(clippy::unnecessary_wraps, reason = "compared with what a fix has")]
fn time(text: &str) -> Option<jiff::Timestamp> {
    Some(text.parse().unwrap())
}

#[test]
fn a_point_with_everything() {
    let log = track(
        r#"<trkpt lat="45.1175" lon="-30.1217"><ele>3</ele><time>2026-05-01T06:30:00.25Z</time><hdop>1.2</hdop>
        <speed>1.5</speed><extensions><x:hAcc>4</x:hAcc></extensions></trkpt>"#,
    );
    let read = items(&log);
    assert_eq!(kinds(&read), []);
    let [fix] = fixes(&read)[..] else { panic!("{read:?}") };
    assert_eq!((fix.position.latitude().degrees(), fix.position.longitude().degrees()), (45.1175, -30.1217));
    assert_eq!(fix.time, time("2026-05-01T06:30:00.25Z"));
    assert_eq!((fix.hdop, fix.speed_m_per_s), (Some(1.2), Some(1.5)));
    // 4 m as a 68 % radius is 6.5 m at 95 %
    assert!((fix.uncertainty.unwrap().radius_95().metres() - 6.486).abs() < 0.01);
    assert_eq!(
        (fix.place.line, fix.place.byte, fix.place.stretch),
        (2, log.find("<trkpt").unwrap() as u64, 0)
    );
}

#[test]
fn the_kind_of_accuracy_comes_from_the_name_or_from_the_options() {
    let log = track(
        "<trkpt lat='45' lon='-30'><extensions><accuracy_95>4</accuracy_95></extensions></trkpt>
        <trkpt lat='45' lon='-30'><extensions><a><accuracy>4</accuracy></a></extensions></trkpt>",
    );
    let options = ReadOptions::default().accuracy_kind(AccuracyKind::Rms);
    let read: Vec<_> = TrackReader::open_with("log.gpx", log.as_bytes(), options)
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    let radii: Vec<f64> =
        fixes(&read).iter().map(|fix| fix.uncertainty.unwrap().radius_95().metres()).collect();
    assert!((radii[0] - 4.0).abs() < 1e-12 && (radii[1] - 6.92).abs() < 0.01, "{radii:?}");
}

#[test]
fn times_with_a_doubt() {
    let log = track(
        "<trkpt lat='45' lon='-30'><time/></trkpt>
        <trkpt lat='45' lon='-30'><time>2026-05-01T06:30:00</time></trkpt>
        <trkpt lat='45' lon='-30'><time>2026-05-01T06:30:00</time></trkpt>
        <trkpt lat='45' lon='-30'><time>yesterday</time></trkpt>
        <trkpt lat='45' lon='-30'><time>2006-09-15T06:30:00Z</time></trkpt>
        <trkpt lat='45' lon='-30'><time>2026-05-01T06:30:00Z</time><time>2026-05-01T06:30:01Z</time></trkpt>
        <trkpt lat='45' lon='-30'/>",
    );
    let read = items(&log);
    let utc = time("2026-05-01T06:30:00Z");
    let times: Vec<_> = fixes(&read).iter().map(|fix| fix.time).collect();
    assert_eq!(times, [None, utc, utc, None, time("2006-09-15T06:30:00Z"), None, None]);
    let told: Vec<_> =
        notes(&read).iter().map(|note| (note.kind.code(), note.place.line, note.count)).collect();
    let expected = [
        ("time-empty", 2, 1),
        ("time-without-zone", 3, 1),
        ("time-unreadable", 5, 1),
        ("date-suspicious", 6, 1),
        ("time-unreadable", 7, 1),
        ("time-without-zone", 4, 1),
    ];
    assert_eq!(told, expected);
    // 1024 weeks after 2006-09-15
    assert!(notes(&read)[3].text.contains("2026-05-01T06:30:00Z"), "{:?}", notes(&read)[3]);
}

#[test]
fn stretches_routes_and_waypoints() {
    let log = "<g:gpx version='1.0' xmlns:g='http://www.topografix.com/GPX/1/0'><g:time>2026-05-01T06:30:00Z</g:time>
        <g:wpt lat='45.1' lon='-30.1'><g:name>Chapel &amp; <![CDATA[pine]]></g:name></g:wpt>
        <g:trk><g:trkseg/><g:trkseg><g:trkpt lat='45' lon='182.5'/><g:trkpt lat='0' lon='0'/></g:trkseg>
        <g:trkseg><g:trkpt lat='45' lon='-30'/></g:trkseg></g:trk>
        <g:rte><g:rtept lat='45' lon='-30'><g:extensions><x:rtept lat='1' lon='1'/></g:extensions></g:rtept></g:rte></g:gpx>";
    let read = items(log);
    assert_eq!(fixes(&read).iter().map(|fix| fix.place.stretch).collect::<Vec<_>>(), [0, 0, 1]);
    let planned = |item: &&LogItem| matches!(item, LogItem::RoutePoint(point) if point.place.stretch == 2);
    assert_eq!(read.iter().filter(planned).count(), 1);
    assert!((fixes(&read)[0].position.longitude().degrees() + 177.5).abs() < 1e-12);
    assert_eq!(kinds(&read), [Kind::RouteIsAPlan]);
    assert_eq!(notes(&read)[0].place.stretch, 2);
    let LogItem::Waypoint(waypoint) = &read[0] else { panic!("{read:?}") };
    assert_eq!(waypoint.name.as_deref(), Some("Chapel & pine"));
}

#[test]
fn points_without_a_position_are_told_and_left_out() {
    let cases = [
        ("lat='NaN' lon='1'", "lat \"NaN\" is not a number of degrees"),
        ("lat='1' lon='inf'", "lon \"inf\" is not a number of degrees"),
        ("lat='45,1' lon='1'", "lat \"45,1\" is not a number of degrees; write a decimal point, not a comma"),
        ("lat='123' lon='1'", "latitude 123 is outside -90 to 90; latitude and longitude may be swapped"),
        ("lat='1'", "lon is missing"),
        ("", "lat is missing"),
        ("lat='1' lat='2' lon='1'", "lat is given twice"),
    ];
    for (attributes, reason) in cases {
        let read = items(&track(&format!("<trkpt lat='45' lon='-30'/>\n<trkpt {attributes}/>")));
        assert_eq!(fixes(&read).len(), 1, "{attributes}");
        let [note] = &notes(&read)[..] else { panic!("{attributes}: {read:?}") };
        assert_eq!((note.kind, note.place.line), (Kind::PositionUnreadable, 3), "{attributes}");
        assert_eq!(note.text, format!("{reason}; the point was left out"));
    }
}

#[test]
fn figures_that_are_none_are_dropped_with_a_note() {
    let read = items(&track(
        "<trkpt lat='45' lon='-30'><hdop>-1</hdop><speed>fast</speed><extensions><accuracy>-1</accuracy></extensions></trkpt>",
    ));
    let [fix] = fixes(&read)[..] else { panic!("{read:?}") };
    assert_eq!((fix.hdop, fix.speed_m_per_s, fix.uncertainty), (None, None, None));
    assert_eq!(notes(&read).iter().map(|note| note.count).sum::<u64>(), 3);
}

#[test]
fn other_encodings_are_read_as_far_as_they_are_ascii() {
    let mut log = track("<!-- caf_ --><trkpt lat='45' lon='-30'/>").into_bytes();
    let at = log.iter().position(|byte| *byte == b'_').unwrap();
    log[at] = 0xe9;
    let with =
        |encoding: &str| [format!("<?xml version='1.0' encoding='{encoding}'?>").as_bytes(), &log].concat();
    let latin: Vec<_> =
        TrackReader::open("l", &*with("ISO-8859-1")).unwrap().collect::<Result<_, _>>().unwrap();
    assert_eq!((fixes(&latin).len(), kinds(&latin)), (1, vec![Kind::TextNotUtf8]));
    let fails = |encoding| TrackReader::open("l", &*with(encoding)).unwrap().find_map(Result::err).unwrap();
    assert_eq!(fails("UTF-8").kind.code(), "encoding");
    assert_eq!(fails("UTF-32").kind.code(), "encoding");
}

#[test]
fn an_accuracy_of_0_is_none_and_is_told() {
    let point = "<trkpt lat='45' lon='-30'><extensions><hacc>0</hacc></extensions></trkpt>";
    let read = items(&track(&point.repeat(3)));
    assert!(fixes(&read).iter().all(|fix| fix.uncertainty.is_none()));
    assert_eq!(kinds(&read), [Kind::AccuracyZero, Kind::AccuracyZero]);
    assert_eq!(notes(&read)[1].count, 2);
}

#[test]
fn a_track_point_without_a_place_is_a_record_with_its_time() {
    let log =
        track(r#"<trkpt lat="nan" lon="-30.1"><time>2026-05-01T06:30:00Z</time></trkpt><trkpt lat="45.1"/>"#);
    let records: Vec<_> = items(&log)
        .into_iter()
        .filter_map(|item| if let LogItem::Unplaced(record) = item { Some(record.time) } else { None })
        .collect();
    assert_eq!(records, [time("2026-05-01T06:30:00Z"), None]);
}

#[test]
fn an_accuracy_under_another_name_or_in_an_attribute_is_read_or_told() {
    let point = |inside: &str, attributes: &str| {
        let log = track(&format!("<trkpt lat='45' lon='-30'{attributes}><sat>7</sat>{inside}</trkpt>"));
        let read = items(&log);
        let metres = fixes(&read)[0].uncertainty.map(|one| one.radius_95().metres().round());
        (metres, kinds(&read))
    };
    for name in [
        "acc",
        "eph",
        "epe",
        "ehpe",
        "precision",
        "uncertainty",
        "HorizontalError",
        "horizontalPrecision",
        "cep",
        "sigma",
        "accuracy_ft",
        "error_m",
        "pos_error",
        "err",
        "radius",
        "x:acc",
    ] {
        let inside = format!("<extensions><{name}>300</{name}></extensions>");
        assert_eq!(point(&inside, ""), (None, vec![Kind::AccuracyUnreadable]), "{name}");
        assert_eq!(point("", &format!(" {name}='300'")), (None, vec![Kind::AccuracyUnreadable]), "{name}");
        // beside one that is read it is no matter
        assert_eq!(point(&inside, " hacc_95='5'"), (Some(5.0), vec![]), "{name}");
    }
    assert_eq!(point("<extensions><gps hAcc='4'/></extensions>", ""), (Some(6.0), vec![]));
    for name in ["verticalAccuracy", "speed_accuracy", "course", "vdop", "magvar", "acceleration", "access"] {
        assert_eq!(
            point(&format!("<extensions><{name}>300</{name}></extensions>"), ""),
            (None, vec![]),
            "{name}"
        );
    }
}

#[test]
fn a_point_that_says_that_there_was_no_fix_is_a_record_without_a_place() {
    // GPX 1.1, fixType: "none means GPS had no fix"
    let log = track(
        "<trkpt lat='45' lon='-30'><time>2026-05-01T06:30:00Z</time><fix>none</fix></trkpt>
        <trkpt lat='45' lon='-30'><fix>3d</fix></trkpt>",
    );
    let read = items(&log);
    assert_eq!((fixes(&read).len(), kinds(&read)), (1, vec![Kind::FixVoid]));
    let is_record = |item: &LogItem| matches!(item, LogItem::Unplaced(record) if record.time == time("2026-05-01T06:30:00Z"));
    assert!(read.iter().any(is_record), "{read:?}");
}

#[test]
fn a_point_with_a_dilution_of_a_receiver_without_a_fix_is_left_out() {
    let log = track(
        "<trkpt lat='45' lon='-30'><hdop>99</hdop></trkpt><trkpt lat='45' lon='-30'><hdop>3</hdop></trkpt>
        <trkpt lat='45' lon='-30'><hdop>40</hdop><extensions><hacc>5</hacc></extensions></trkpt>",
    );
    let read = items(&log);
    assert_eq!((fixes(&read).len(), kinds(&read)), (2, vec![Kind::FixVoid]));
}
