//! Places of several columns, and rows that say themselves that their place is none.

use crate::{LogItem, LogNoteKind, TrackReader};

/// The places of a table in degrees; none for a row without one.
fn places(table: &str) -> Vec<Option<(f64, f64)>> {
    let items = TrackReader::open("log.csv", table.as_bytes()).unwrap().map(Result::unwrap);
    items
        .filter_map(|item| match item {
            LogItem::Fix(fix) => {
                Some(Some((fix.position.latitude().degrees(), fix.position.longitude().degrees())))
            }
            LogItem::Unplaced(_) => Some(None),
            LogItem::RoutePoint(_) | LogItem::Waypoint(_) | LogItem::Note(_) => None,
        })
        .collect()
}

fn notes(table: &str) -> Vec<(LogNoteKind, String)> {
    let items = TrackReader::open("log.csv", table.as_bytes()).unwrap().map(Result::unwrap);
    items
        .filter_map(|item| if let LogItem::Note(note) = item { Some((note.kind, note.text)) } else { None })
        .collect()
}

fn is_at(table: &str, lat_deg: f64, lon_deg: f64) {
    let found = places(table);
    let is_there = |(lat, lon): (f64, f64)| (lat - lat_deg).abs() < 1e-9 && (lon - lon_deg).abs() < 1e-9;
    assert!(found.len() == 1 && found[0].is_some_and(is_there), "{table}: {found:?} {:?}", notes(table));
}

#[test]
fn a_hemisphere_in_a_column_of_its_own_is_read() {
    for heading in [
        "lat,N/S,lon,E/W",
        "lat,NS,lon,EW",
        "lat,lat_dir,lon,lon_dir",
        "Latitude,LatDir,Longitude,LonDir",
        "lat,latitude hemisphere,lon,longitude hemisphere",
        "lat,GPSLatitudeRef,lon,GPSLongitudeRef",
        "lat,,lon,",
        "lat,ns_indicator,lon,ew_indicator",
        "lat,N/S Indicator,lon,E/W Indicator",
    ] {
        is_at(&format!("{heading}\n51.0101,N,0.0501,W\n"), 51.0101, -0.0501);
        is_at(&format!("{heading}\n33.5,south,151.25,East\n"), -33.5, 151.25);
        // a sign that says the same is no matter, one that says another thing is not one of a place
        is_at(&format!("{heading}\n51.0101,N,-0.0501,W\n"), 51.0101, -0.0501);
        assert_eq!(
            places(&format!("{heading}\n51.0101,N,-0.0501,E\n51.0101,W,0.0501,N\n51.0101,x,0.0501,W\n")),
            [None; 3]
        );
    }
    assert_eq!(places("lat,N/S,lon,E/W\n51.0101,,0.0501,W\n"), [None]);
    is_at("lat,lon,\n51.0101,-0.0501,\n", 51.0101, -0.0501);
}

#[test]
fn a_letter_beside_signed_coordinates_and_a_unit_of_something_else_are_no_matter() {
    is_at("lat,lon,Symbol\n45.1175,-30.1217,S\n", 45.1175, -30.1217);
    is_at("lat,lon,time,tack,side\n45.1175,-30.1217,2026-07-05T06:00:00Z,S,E\n", 45.1175, -30.1217);
    // right of its own coordinate it may be nothing else
    assert_eq!(places("lat,a,lon\n33.4512,S,-70.6721\n"), [None]);
    assert_eq!(places("lat,lon,a\n45.1175,-30.1217,E\n"), [None]);
    for unit in ["m", "ft", "Boat 7", "knots", "deg"] {
        is_at(&format!("lat,lon,depth,unit\n45.1175,-30.1217,4,{unit}\n"), 45.1175, -30.1217);
    }
    assert_eq!(places("lat,lon,unit\n0.7874,-0.5257,rad\n"), [None]);
    is_at("lat,lon,datum\n45.1175,-30.1217,W84\n", 45.1175, -30.1217);
}

#[test]
fn a_hemisphere_under_a_heading_that_is_not_known_is_not_passed_over() {
    let told = "lat,a,lon,b\n51.0101,N,0.0501,W\n";
    assert_eq!(places(told), [None]);
    assert!(notes(told)[0].1.contains("call the column lon_dir"), "{:?}", notes(told));
    is_at("lat,a,lon,b\n51.0101,N,-0.0501,W\n", 51.0101, -0.0501);
    // the wind blows from where it will
    is_at("lat,lon,wind_dir\n51.0101,-0.0501,E\n", 51.0101, -0.0501);
}

#[test]
fn minutes_and_seconds_in_columns_of_their_own_are_read() {
    for heading in [
        "lat_deg,lat_min,lon_deg,lon_min",
        "lat,lat_min,lon,lon_min",
        "Lat deg,Lat min,Lon deg,Lon min",
        "latitude,latitude_minutes,longitude,longitude_minutes",
        "lat,min,lon,min",
        "lat_degrees,minutes,long,mins",
    ] {
        is_at(&format!("{heading}\n45,58.8,-30,0.6\n"), 45.98, -30.01);
        is_at(&format!("{heading}\n-0,3.006,0,3.006\n"), -0.0501, 0.0501);
        assert_eq!(
            places(&format!("{heading}\n45,,-30,0.6\n45.98,58.8,-30,0.6\n45,60,-30,0.6\n45,-3,-30,0.6\n")),
            [None; 4]
        );
    }
    let all = "lat_deg,lat_min,lat_sec,lat_dir,lon_deg,lon_min,lon_sec,lon_dir\n45,58,48,N,30,0,36,W\n";
    is_at(all, 45.98, -30.01);
}

#[test]
fn a_column_of_the_place_that_nobody_understands_refuses_the_table() {
    for heading in ["lat_raw", "lon_x", "hemisphere", "my_latitude", "latlon", "Lat (rad)"] {
        let error = TrackReader::open("log.csv", format!("lat,lon,time,{heading}\n45,-30,,1\n").as_bytes())
            .unwrap_err();
        let text = error.to_string();
        assert!(text.contains(heading) && text.contains("lat_dir") && text.contains("line 1"), "{text}");
    }
    // words that only begin like one
    is_at("lat,lon,lateral,long_name,latency,min,sec\n45,-30,1,x,2,3,4\n", 45.0, -30.0);
}

#[test]
fn a_row_that_says_itself_that_it_is_none_is_a_record_without_a_place() {
    for (heading, void, good) in [
        ("status", "V", "A"),
        ("fix_quality", "0", "1"),
        ("fix_quality", "6", "2"),
        ("valid", "false", "true"),
        ("fix", "none", "3d"),
        ("fix_type", "1", "3"),
        ("datum", "ED50", "WGS-84"),
        ("crs", "EPSG:27700", "EPSG:4326"),
        ("unit", "rad", "deg"),
        ("coordinate unit", "gon", ""),
    ] {
        let row = |value: &str| format!("lat,lon,{heading}\n45.5,-30.5,{value}\n");
        assert_eq!(places(&row(void)), [None], "{heading} {void}");
        is_at(&row(good), 45.5, -30.5);
    }
    let kinds: Vec<_> =
        notes("lat,lon,status\n45,-30,V\n45,-30,V\n").into_iter().map(|(kind, _)| kind).collect();
    assert_eq!(kinds, [LogNoteKind::FixVoid, LogNoteKind::FixVoid]);
    assert!(notes("lat,lon,datum\n45,-30,ED50\n")[0].1.contains("convert them to WGS 84"));
}
