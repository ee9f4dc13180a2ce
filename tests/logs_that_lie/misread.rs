//! Logs of which a part cannot be believed, and what every form of the answer says of them.

use super::*;

/// So far from the reserve that no gap here reaches it.
fn away() -> Vec<Point> {
    eastward(45.000, (-30.135, -30.112))
}

/// Away from the reserve, and then a stretch that was written down otherwise, so many seconds later.
fn then(turned: fn(Point) -> Point, later_s: f64) -> String {
    let again = through().into_iter().map(|(lat, lon, s)| turned((lat, lon, s + later_s)));
    csv(&away().into_iter().chain(again).collect::<Vec<_>>())
}

#[test]
fn a_part_of_a_log_that_is_likely_misread_settles_nothing() {
    let without_minus = track(&then(|(lat, lon, s)| (lat, -lon, s), 900.0), &[]);
    assert_eq!(without_minus.status, 3, "{}", without_minus.out);
    assert!(without_minus.first_lines().contains("misread"), "{}", without_minus.out);
    assert!(without_minus.first_lines().contains("longitude's sign wrong"), "{}", without_minus.out);
    // the second day, written latitude last
    let exchanged = track(&then(|(lat, lon, s)| (lon, lat, s), 86_400.0), &[]);
    assert_eq!(exchanged.status, 3, "{}", exchanged.out);
    assert!(exchanged.first_lines().contains("lat and lon swapped"), "{}", exchanged.out);
    // the first day only
    let first: Vec<_> = through().into_iter().map(|(lat, lon, s)| (lon, lat, s - 86_400.0)).collect();
    let log = csv(&first.into_iter().chain(away()).collect::<Vec<_>>());
    assert_eq!(track(&log, &[]).status, 3);
}

#[test]
fn a_jump_that_no_boat_makes_settles_nothing() {
    // 3 degrees of latitude in 4 minutes, and no slip explains it: one side is wrong, and it is all of so short a log
    let torn = track(&then(|(lat, lon, s)| (lat - 3.0, lon, s), 900.0), &[]);
    assert_eq!(torn.status, 3, "{}", torn.out);
    assert!(torn.first_lines().contains("most fixes cannot be right"), "{}", torn.out);
    // in 14 minutes it is no jump of a receiver, nor of a boat
    let torn = track(&then(|(lat, lon, s)| (lat - 3.0, lon, s), 1_500.0), &[]);
    assert_eq!(torn.status, 3, "{}", torn.out);
    assert!(torn.first_lines().contains("No boat makes"), "{}", torn.out);
    let apart = track(&then(|(lat, lon, s)| (lat - 3.0, lon, s), 864_000.0), &[]);
    assert_eq!(apart.status, 0, "{}", apart.out);
}

#[test]
fn a_page_and_a_document_tell_why_nothing_is_settled() {
    let exchanged = csv(&through().into_iter().map(|(lat, lon, s)| (lon, lat, s)).collect::<Vec<_>>());
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("marrowick.geojson"), ZONES).unwrap();
    fs::write(folder.path().join("log"), exchanged).unwrap();
    let told = run(folder.path(), &["--html", "page.html", "--format", "json"]);
    assert_eq!(told.status, 3, "{}", told.err);
    let page = fs::read_to_string(folder.path().join("page.html")).unwrap();
    assert!(page.contains("Not settled") && page.contains("swapped"), "{page}");
    assert!(!page.contains("No visit to a loaded zone, certain or possible"), "{page}");
    let because = told.json()["undecided_because"].to_string();
    assert!(because.contains("probably misread") && because.contains("swapped"), "{because}");
    // where it is settled there is nothing to say
    assert_eq!(track(&csv(&away()), &JSON).json()["undecided_because"], serde_json::json!([]));
}

#[test]
fn an_accuracy_that_cannot_be_read_is_not_the_assumed_one() {
    // 24 m outside the western side, a fix each second: between two of them the boat cannot have come in
    let rows = |accuracy: &str| {
        let rows =
            (0..9).map(|step| format!("45.11000{step};-30.1303;{};{accuracy}\n", clock(f64::from(step))));
        std::iter::once("lat;lon;time;accuracy_m\n".to_owned()).chain(rows).collect::<String>()
    };
    for accuracy in ["40,5", "40 m", "-1", "1000000", "1e9"] {
        let outcome = track(&rows(accuracy), &[]);
        assert_eq!(outcome.status, 3, "{accuracy}: {}", outcome.out);
        assert!(outcome.out.contains("ccuracy"), "{accuracy}: {}", outcome.out);
        let log = rows(accuracy).lines().skip(1).fold(String::new(), |log, row| {
            let fields: Vec<&str> = row.split(';').collect();
            log + &format!(
                "<trkpt lat='{}' lon='{}'><time>{}</time><extensions><accuracy>{accuracy}</accuracy></extensions></trkpt>\n",
                fields[0], fields[1], fields[2]
            )
        });
        let outcome = track(&gpx(&format!("<trk><trkseg>{log}</trkseg></trk>")), &[]);
        assert_eq!(outcome.status, 3, "{accuracy}: {}", outcome.out);
    }
    assert_eq!(track(&rows(""), &[]).status, 0);
}
