//! When: seasons, hours, the sun, and editions.

use super::*;

fn in_force(position: &str, zone: &str, time: &str) -> String {
    ask(position, time, &[]).zone(zone)["in_force"].as_str().unwrap().to_owned()
}

#[test]
fn a_season_turns_at_local_midnight() {
    // In summer the Azores keep UTC (time zone database, Atlantic/Azores). One time is written with another offset.
    let inside = "INSIDE by 833 m ±10 m, edge 180° true";
    let open = ["No loaded zone applies here", "Not in force now: Nursery Bank", inside];
    let closed = [
        "CLOSED WATER: nothing may be taken here",
        "INSIDE Nursery Bank by 833 m ±10 m",
        "Way out: 844 m toward 180° true",
    ];
    ask(NURSERY_BANK, "2026-04-30T23:59:59Z", &[])
        .says("no-loaded-zone", 0, open)
        .is_off("nursery-bank", -833.434_844);
    ask(NURSERY_BANK, "2026-05-01T00:59:59+01:00", &[]).says("no-loaded-zone", 0, open);
    ask(NURSERY_BANK, "2026-05-01T00:00:00Z", &[]).says("closed", 1, closed);
    ask(NURSERY_BANK, "2026-08-31T23:59:59Z", &[]).says("closed", 1, closed);
    ask(NURSERY_BANK, "2026-09-01T00:00:00Z", &[]).says("no-loaded-zone", 0, open);
}

#[test]
fn end_days_that_the_text_leaves_open_stay_open_from_local_midnight_to_local_midnight() {
    // in winter the Azores keep UTC−1, so the day begins at 01:00 UTC
    for (time, expected) in [
        ("2026-12-01T00:59:59Z", "no"),
        ("2026-12-01T01:00:00Z", "undecided"),
        ("2026-12-02T00:59:59Z", "undecided"),
        ("2026-12-02T01:00:00Z", "yes"),
        ("2027-02-15T00:59:59Z", "yes"),
        ("2027-02-15T01:00:00Z", "undecided"),
        ("2027-02-16T01:00:00Z", "no"),
    ] {
        assert_eq!(in_force(WINTER_HOLLOW, "winter-hollow", time), expected, "{time}");
    }
    let bass = ask(WINTER_HOLLOW, "2026-12-01T12:00:00Z", &["--species", "bass"]);
    let lines: Vec<_> = bass.text.lines().take(2).collect();
    assert_eq!((lines, bass.status), (vec!["UNDECIDED WATER: 833 m in, ±10 m", "KEEP bass"], 3));
}

#[test]
fn a_night_closure_follows_the_sun_at_the_chapel() {
    // Sunset 21:53:07 and sunrise 06:15:52 UTC at the chapel, 2026-07-01 and -02 (PyEphem 4, horizon −0°50′, no
    // further refraction), so closed from 22:23 to 05:46. Two minutes either side cover what refraction may do.
    for (time, expected) in [
        ("2026-07-01T22:21:00Z", "no"),
        ("2026-07-01T22:25:30Z", "yes"),
        ("2026-07-02T05:43:30Z", "yes"),
        ("2026-07-02T05:48:00Z", "no"),
        // sunset 18:24:33, sunrise 09:35:53 UTC, 2026-12-24 and -25
        ("2026-12-24T18:52:00Z", "no"),
        ("2026-12-24T18:57:00Z", "yes"),
        ("2026-12-25T09:03:30Z", "yes"),
        ("2026-12-25T09:08:00Z", "no"),
    ] {
        assert_eq!(in_force(OWL_ROADS, "owl-roads", time), expected, "{time}");
    }
    assert!(ask(OWL_ROADS, "2026-07-01T23:00:00Z", &[]).unwrapped().contains("Marrowick Chapel"));
}

#[test]
fn weekdays_count_by_the_local_calendar() {
    // 1 July 2026 is a Wednesday (any calendar), so the last one of the month is the 29th
    for (time, expected) in [
        ("2026-07-28T12:00:00Z", "no"),
        ("2026-07-29T12:00:00Z", "yes"),
        ("2026-07-30T23:59:59Z", "yes"),
        ("2026-07-31T00:00:00Z", "no"),
        ("2026-07-04T07:59:59Z", "no"),
        ("2026-07-04T08:00:00Z", "yes"),
        ("2026-07-04T16:00:00Z", "no"),
    ] {
        assert_eq!(in_force(REGATTA_ROADS, "regatta-roads", time), expected, "{time}");
    }
}

#[test]
fn without_a_time_a_season_is_undecided() {
    let answer = ask(NURSERY_BANK, "unknown", &[]);
    assert_eq!((answer.json["water"].as_str(), answer.status), (Some("undecided"), 3));
    assert_eq!(answer.text.lines().nth(1), Some("To settle: give the time"));
}

#[test]
fn an_edition_past_its_date_says_so() {
    let warnings = |time| texts(&ask(BEACH, time, &[]).json["warnings"]);
    assert_eq!(warnings("2027-11-30T23:00:00Z"), "");
    assert!(warnings("2027-12-31T23:00:00Z").contains("runs out 31 December 2027"));
    assert!(warnings("2028-01-01T01:00:00Z").contains("get the current one"));
}
