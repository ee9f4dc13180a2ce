use proptest::prelude::*;

use super::*;

/// The rows of `tests/data/law-text/corpus.tsv`: the line, and the degrees that it gives.
fn corpus() -> Vec<(String, Option<(f64, f64)>)> {
    let path = format!("{}/../../tests/data/law-text/corpus.tsv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let rows = text.lines().filter(|line| !line.starts_with('#')).map(|line| {
        let parts: Vec<&str> = line.split('\t').collect();
        let [line, lat, lon] = parts.as_slice() else { panic!("{line}") };
        let degrees = lat.parse().ok().zip(lon.parse().ok());
        (line.replace("\\t", "\t"), degrees)
    });
    rows.collect()
}

fn points(text: &LawText) -> Vec<&PrintedPoint> {
    text.pieces
        .iter()
        .filter_map(|piece| if let Piece::Point(point) = piece { Some(point) } else { None })
        .collect()
}

fn sides(text: &LawText) -> Vec<&SideWords> {
    text.pieces
        .iter()
        .filter_map(|piece| if let Piece::Side(side) = piece { Some(side) } else { None })
        .collect()
}

fn off_deg(point: &PrintedPoint, (lat, lon): (f64, f64)) -> f64 {
    let off_lat = (point.position.latitude().degrees() - lat).abs();
    off_lat.max((point.position.longitude().degrees() - lon).abs())
}

#[test]
fn lines_of_printed_forms_are_read_or_refused_and_none_is_wrong() {
    let rows = corpus();
    let (mut good, mut unread, mut wrong) = (0, Vec::new(), Vec::new());
    for (line, degrees) in &rows {
        let text = read(line);
        let is_refused = matches!(text.lines[0].outcome, Outcome::Refused { .. });
        match (degrees, points(&text).as_slice()) {
            (Some(degrees), [point]) if !is_refused && off_deg(point, *degrees) < 1e-9 => good += 1,
            (Some(_), []) => unread.push((line, &text.lines[0].outcome).0.clone()),
            (None, []) if is_refused => good += 1,
            _ => wrong.push(line.clone()),
        }
    }
    assert!(rows.len() >= 270, "{}", rows.len());
    assert_eq!(wrong, Vec::<String>::new());
    assert!(100 * good >= 99 * rows.len(), "{good} of {}; not read: {unread:#?}", rows.len());
    println!("{good} of {} lines as they should be; not read: {unread:?}", rows.len());
}

/// What each point of the corpus says by itself is what the line says: so it may stand in a zone file.
#[test]
fn the_text_of_a_point_reads_by_itself() {
    for (line, degrees) in corpus() {
        let text = read(&line);
        for point in points(&text) {
            let again =
                takeline::Position::parse(&point.text).unwrap_or_else(|error| panic!("{line}: {error}"));
            assert_eq!(again.position, point.position, "{line}");
            assert!(degrees.is_some(), "{line}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(if std::env::var_os("TAKELINE_MUTATIONS").is_some() { 50_000 } else { 1_000 }))]

    /// A mark, a blank or a letter that is lost, doubled or exchanged with its neighbour: the line is refused, or read with a
    /// doubt, or says what it said. A digit or a sign that is lost cannot be seen in one line.
    #[test]
    fn a_line_that_lost_a_mark_is_never_wrong_in_silence(row in 0..10_000_usize, at in 0..200_usize, how in 0..4) {
        let rows: Vec<_> = corpus().into_iter().filter(|(_, degrees)| degrees.is_some()).collect();
        let (line, degrees) = &rows[row % rows.len()];
        let letters: Vec<char> = line.chars().collect();
        let at = at % letters.len();
        let is_fixed = |one: char| one.is_ascii_digit() || "-−".contains(one);
        let next_is_fixed = letters.get(at + 1).is_none_or(|next| is_fixed(*next));
        if is_fixed(letters[at]) || (how == 2 && next_is_fixed) {
            return Ok(());
        }
        let mut changed = letters.clone();
        match how {
            0 => { changed.remove(at); }
            1 => changed.insert(at, letters[at]),
            2 => changed.swap(at, at + 1),
            _ => changed[at] = '?',
        }
        let changed: String = changed.into_iter().collect();
        let text = read(&changed);
        let is_refused = matches!(text.lines[0].outcome, Outcome::Refused { .. });
        for point in points(&text) {
            let same = off_deg(point, degrees.unwrap_or_default()) < 1e-9;
            prop_assert!(same || is_refused || !point.doubts.is_empty(), "{line} as {changed}: {point:?}");
        }
    }

    #[test]
    fn any_text_is_taken_line_by_line(text in "(\\PC|\n|\t){0,120}") {
        let read = read(&text);
        prop_assert_eq!(read.lines.len(), text.lines().count());
    }
}

#[test]
fn numbers_that_ran_into_the_latitude_are_seen_by_their_sequence() {
    let text = read("134.17333 N, 120.60483 W\n234.17333 N, 120.50483 W\n334.07333 N, 120.50483 W");
    let found = points(&text);
    assert_eq!(found.len(), 3, "{:?}", text.lines);
    assert_eq!(
        found.iter().map(|point| point.label.as_deref()).collect::<Vec<_>>(),
        [Some("1"), Some("2"), Some("3")]
    );
    assert_eq!(found[1].text, "34.17333 N, 120.50483 W");
    assert!(found.iter().all(|point| point.doubts.len() == 1));
    let alone = read("134.17333 N, 120.60483 W");
    let Outcome::Refused { readings, .. } = &alone.lines[0].outcome else { panic!("{:?}", alone.lines) };
    assert!(readings.iter().any(|reading| reading.starts_with("point 1: 34.17333 N")), "{readings:?}");
    // each latitude is one without its first digit, too: nobody knows
    let both = read("15.51 N, 30.6 W\n25.52 N, 30.6 W\n35.53 N, 30.7 W");
    assert_eq!(points(&both).len(), 0);
    assert!(both.lines.iter().all(|line| matches!(line.outcome, Outcome::Refused { .. })));
}

#[test]
fn numbers_of_rows_are_no_degrees() {
    let text = read("1 34 17.3 N 120 36.0 W\n2 34 18.3 N 120 36.0 W\n3 34 18.3 N 120 37.0 W");
    let found = points(&text);
    assert_eq!(found.len(), 3, "{:?}", text.lines);
    assert_eq!((found[2].label.as_deref(), found[2].text.as_str()), (Some("3"), "34 18.3 N 120 37.0 W"));
    let plain = read("45 07 N 30 07 W\n46 07 N 30 07 W\n46 07 N 31 07 W");
    assert_eq!(points(&plain).len(), 3);
    assert!(points(&plain).iter().all(|point| point.label.is_none()));
}

/// Found by losing marks: 3°45′07.05″ and 30°07.30′, were the name not taken off.
#[test]
fn the_name_of_a_point_is_no_degree_however_it_is_set_off() {
    for line in [
        "Point 3: 45 07.05 N / 030 07.30 W",
        "Point 3:45 07.05 N / 030 07.30 W",
        "Point 3 :45 07.05 N / 030 07.30 W",
    ] {
        let text = read(line);
        let found = points(&text);
        assert_eq!((found.len(), found[0].label.as_deref()), (1, Some("3")), "{line}");
        assert!(off_deg(found[0], (45.1175, -30.121_666_666_7)) < 1e-9, "{line}");
    }
    let seconds = read("56 deg 06 min 16 sec N, 005 deg 34 min 21 se cW");
    assert!(points(&seconds).is_empty(), "{seconds:?}");
}

#[test]
fn a_heading_gives_hemispheres_and_order() {
    let text = read("Latitude (N)\tLongitude (W)\n45°07.05'\t030°07.30'\n45.1175\t30.1217");
    let found = points(&text);
    assert_eq!(found.len(), 2, "{:?}", text.lines);
    assert!(found[0].text.contains('W') && found[1].text.contains('W'), "{found:?}");
    assert!(found.iter().all(|point| point.position.longitude().degrees() < 0.0 && point.doubts.is_empty()));
    let text = read("Longitude | Latitude\n-30.1217 | 45.1175");
    assert!((points(&text)[0].position.latitude().degrees() - 45.1175).abs() < 1e-9);
    let text = read("All latitudes are North and all longitudes West\n45.1175, 30.1217");
    assert!((points(&text)[0].position.longitude().degrees() + 30.1217).abs() < 1e-9);
    let text = read("(N) (W)\n45.1175, -30.1217");
    assert_eq!(points(&text).iter().filter(|point| point.position.longitude().degrees() > 0.0).count(), 0);
}

#[test]
fn a_coordinate_on_a_line_each_makes_a_position() {
    let text = read(
        "Point A\n45°07.05' N\n030°07.30' W\n\nPoint B\nLatitude: 45°08.05' N\nLongitude: 030°07.30' W\n46°N",
    );
    assert_eq!(points(&text).len(), 2, "{:?}", text.lines);
    let Outcome::Refused { reason, .. } = &text.lines[7].outcome else { panic!("{:?}", text.lines[7]) };
    assert!(reason.contains("is a latitude whose longitude does not follow"), "{reason}");
}

#[test]
fn several_positions_of_a_line_are_cut_at_their_letters() {
    let text = read("45°07.05'N 030°07.30'W 45°08.05'N 030°07.30'W; 45°08.05'N 030°06.30'W");
    assert_eq!(points(&text).len(), 3, "{:?}", text.lines);
    let text = read("N45 07.05 W030 07.30, N45 08.05 W030 07.30");
    assert_eq!(points(&text).len(), 2, "{:?}", text.lines);
}

#[test]
fn sides_are_read_beside_and_between_the_points() {
    let text = read(
        "A 45°07.0' N, 30°07.0' W; thence due east for 200 nautical miles to\n\
         B 45°07.0' N, 25°24.0' W, thence 180° true for 1.5 km to\n\
         C 45°06.2' N, 25°24.0' W\n\
         thence along an arc of a circle of radius 3,000 m centred on 45°06.0' N, 30°07.0' W clockwise to\n\
         D 45°06.2' N, 30°09.0' W\n\
         thence along the mean high water mark to the point of beginning",
    );
    assert_eq!(points(&text).len(), 5, "{:?}", text.lines);
    let said = sides(&text);
    assert!(said.iter().any(|side| side.bearing_deg == Some(90.0)
        && side.distance.as_ref().is_some_and(|length| (length.metres - 370_400.0).abs() < 1e-6)));
    assert!(said.iter().any(|side| side.bearing_deg == Some(180.0)
        && side.distance.as_ref().is_some_and(|length| (length.metres - 1500.0).abs() < 1e-6)));
    assert!(
        said.iter().any(|side| side.arc
            && side.radius.as_ref().is_some_and(|radius| (radius.metres - 3000.0).abs() < 1e-6))
    );
    assert!(said.iter().any(|side| side.shore.as_deref() == Some("mean high water mark")));
    assert_eq!(points(&text).iter().filter(|point| point.role == Role::Centre).count(), 1);
}

#[test]
fn statements_and_prose_are_told_apart() {
    let text = read(
        "The zone has four corners, about 97.420 hectares (WGS 84).\nNo person may fish there.\nSee S.I. 2008/317, article 2(1).\n",
    );
    let statements: Vec<&Statement> = text
        .pieces
        .iter()
        .filter_map(|piece| if let Piece::Statement(one) = piece { Some(one) } else { None })
        .collect();
    assert!(
        statements
            .iter()
            .any(|one| matches!(one, Statement::Area { readings_m2, .. } if readings_m2.iter().any(|(m2, _)| (m2 - 974_200.0).abs() < 1e-6)))
    );
    assert!(statements.iter().any(|one| matches!(one, Statement::Corners { count: 4, .. })));
    assert!(statements.iter().any(|one| matches!(one, Statement::Datum { name, .. } if name == "WGS 84")));
    assert_eq!(text.lines[1].outcome, Outcome::Words);
    assert_eq!(text.lines[2].outcome, Outcome::WordsWithNumbers);
}

#[test]
fn refusals_offer_what_the_parser_of_positions_offers() {
    let text = read("57°3−30'N 5°30'W");
    assert!(
        matches!(&text.lines[0].outcome, Outcome::Refused { reason, .. } if reason.contains("stands inside")),
        "{:?}",
        text.lines
    );
    let text = read("45°07.05'N 030°07.30'");
    let Outcome::Refused { readings, .. } = &text.lines[0].outcome else { panic!("{:?}", text.lines) };
    assert_eq!(readings, &["45°07.05′N, 030°07.30′E", "45°07.05′N, 030°07.30′W"]);
}
