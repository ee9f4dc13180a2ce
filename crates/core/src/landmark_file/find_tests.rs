use serde_json::json;

use super::test_files::*;
use super::*;

fn demo() -> LoadedLandmarks {
    read("landmarks.geojson", DEMO.as_bytes()).unwrap_or_else(|error| panic!("{error}"))
}

fn not_found(asked: &str) -> String {
    demo().find(asked).expect_err("is not there").to_string()
}

#[test]
fn ids_and_names_are_found_whatever_their_case() {
    for (asked, id) in [
        ("lone-pine", "lone-pine"),
        (" LONE-Pine\t", "lone-pine"),
        ("lone pine", "lone-pine"),
        ("Marrowick chapel ", "chapel"),
        ("perch", "perch"),
    ] {
        assert_eq!(demo().find(asked).map(|found| found.id.0.clone()), Ok(id.to_owned()), "{asked}");
    }
}

#[test]
fn accents_hyphens_and_blanks_make_no_difference() {
    let names = [("day-beacon", "Dåy-Beacon"), ("rock-1-2", "Róck 1-2"), ("perch", "North–perch")];
    let mut file = demo();
    file.landmarks.truncate(names.len());
    for (landmark, (id, name)) in file.landmarks.iter_mut().zip(names) {
        landmark.id.0 = id.to_owned();
        landmark.name = name.to_owned();
    }
    for (asked, id) in [
        ("day beacon", Some("day-beacon")),
        ("DAYBEACON", Some("day-beacon")),
        ("da\u{30a}y_beacon", Some("day-beacon")),
        ("north perch", Some("perch")),
        ("rock 1 2", Some("rock-1-2")),
        ("rock 12", None),
        ("—", None),
    ] {
        assert_eq!(file.find(asked).ok().map(|found| found.id.0.as_str()), id, "{asked}");
    }
}

#[test]
fn of_two_that_differ_in_marks_only_neither_is_taken() {
    let mut file = demo();
    file.landmarks[0].id.0 = "day-beacon".to_owned();
    file.landmarks[1].name = "Day_Beacon".to_owned();
    assert!(
        matches!(file.find("day beacon"), Err(LandmarkNotFound::Ambiguous { ids, .. }) if ids.len() == 2)
    );
}

#[test]
fn a_position_is_never_taken_for_a_name_like_it() {
    let mut file = demo();
    file.landmarks[0].name = "45.1252 -30.1310".to_owned();
    assert!(file.find("45.1252 -30.1310").is_ok());
    assert!(file.find("45.1252 30.1310").is_err());
}

#[test]
fn an_id_goes_before_a_name() {
    let file = with_property("name", json!("Mast"));
    assert_eq!(loaded(&file).find("MAST").map(|found| found.id.0.clone()), Ok("mast".to_owned()));
}

#[test]
fn a_name_that_two_have_lists_their_ids() {
    let file = with_property("name", json!("gull hill mast"));
    let error = loaded(&file).find("Gull Hill Mast").expect_err("two have it");
    assert_eq!(
        error.to_string(),
        "2 landmarks are called \"Gull Hill Mast\"; give the id of the one you mean: \"chapel\", \"mast\""
    );
}

#[test]
fn ids_that_differ_in_case_only_are_found_as_they_are_written() {
    let file = with("/features/1/id", json!("Chapel"));
    let found = loaded(&file);
    assert_eq!(found.find("Chapel").map(|found| found.name.clone()), Ok("Gull Hill Mast".to_owned()));
    assert_eq!(found.find("chapel").map(|found| found.name.clone()), Ok("Marrowick Chapel".to_owned()));
    let error = found.find("CHAPEL").expect_err("is either");
    assert_eq!(
        error.to_string(),
        "2 landmarks are called \"CHAPEL\"; give the id of the one you mean: \"chapel\", \"Chapel\""
    );
}

#[test]
fn what_is_unknown_is_suggested_and_never_taken() {
    let start = "no landmark has the id or name ";
    assert_eq!(
        not_found("chapell"),
        format!("{start}\"chapell\"; did you mean \"chapel\" (Marrowick Chapel)?")
    );
    assert_eq!(
        not_found("Lone Pin"),
        format!("{start}\"Lone Pin\"; did you mean \"lone-pine\" (Lone Pine)?")
    );
    assert_eq!(
        not_found("beacon"),
        format!("{start}\"beacon\"; did you mean \"day-beacon\" (Sallow Point Day Beacon)?")
    );
    let whole = "the file has \"day-beacon\", \"chapel\", \"lone-pine\", \"mast\", \"perch\", \"holm-barn\", \
                 \"holm-cairn\", \"shag-rock\" and 1 more";
    assert_eq!(not_found("lighthouse"), format!("{start}\"lighthouse\"; {whole}"));
    assert_eq!(not_found(" "), format!("{start}\"\"; {whole}"));
}

#[test]
fn of_a_large_file_only_some_ids_are_listed() {
    let feature = |i: usize| {
        json!({ "type": "Feature", "id": format!("mark-{i}"), "geometry": point(-30.1 + 0.001 * f64::from(u16::try_from(i).unwrap()), 45.1),
                "properties": { "name": "Post", "position_error_m": 3 } })
    };
    let found = loaded(&with("/features", (0..500).map(feature).collect()));
    let unknown = found.find("x").expect_err("is not there").to_string();
    assert!(unknown.ends_with("\"mark-7\" and 492 more"), "{unknown}");
    let ambiguous = found.find("post").expect_err("all are called so").to_string();
    assert!(
        ambiguous
            .starts_with("500 landmarks are called \"post\"; give the id of the one you mean: \"mark-0\""),
        "{ambiguous}"
    );
}
