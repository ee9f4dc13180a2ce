//! Indexes that are whole by their checksum, and yet of another version, false, or nonsense.

use sha2::{Digest, Sha256};

use super::index::IndexedFeature;
use super::{FileOfZones, Index, Unfit, ZonesForFix, prepare, zones_for};
use crate::zone::ZoneSet;
use crate::{Fix, HorizontalUncertainty, Position, Question, WaterStatus};

/// Three circles on the invented isle of Marrowick and far from it, and a zone of unknown place.
const ZONES: &str = r#"{ "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
  "features": [
    { "type": "Feature", "id": "cove", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Order 3" } } },
    { "type": "Feature", "id": "lane", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
      "properties": { "radius_m": 100, "take": "anything", "source": { "instrument": "Order 3" },
                      "overrides": [{ "zone": "cove", "clause": "clause 6" }] } },
    { "type": "Feature", "id": "bank", "geometry": { "type": "Point", "coordinates": [-33.13, 42.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Order 3" } } },
    { "type": "Feature", "id": "ridge", "geometry": { "type": "Point", "coordinates": [-34.13, 41.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Order 3" } } },
    { "type": "Feature", "id": "wreck", "geometry": { "type": "Point", "coordinates": [-35.13, 40.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Order 3" } } } ] }"#;

fn index() -> Index {
    Index::of(&prepare("zones.json", ZONES.as_bytes()).unwrap().index, ZONES.as_bytes()).unwrap()
}

fn fix() -> Fix {
    let position = Position::from_degrees(45.115, -30.13).unwrap();
    Fix { position, uncertainty: HorizontalUncertainty::assumed(), time: None }
}

fn found_with(index: Index) -> ZonesForFix {
    let file = FileOfZones::Prepared(index.with_source("zones.json", ZONES.as_bytes().to_vec()));
    zones_for(vec![file], &fix(), &Question::default()).unwrap()
}

fn ids(zones: &ZoneSet) -> Vec<&str> {
    zones.zones().iter().map(|zone| zone.id.0.as_str()).collect()
}

#[test]
fn only_zones_that_can_matter_are_read_and_all_bear_the_hash_of_the_whole_file() {
    let found = found_with(index());
    assert_eq!((ids(&found.zones), found.unfit.len()), (vec!["cove", "lane", "bank"], 0));
    let whole = prepare("zones.json", ZONES.as_bytes()).unwrap().loaded;
    assert!(found.zones.zones().iter().all(|zone| zone.file == whole.file));
    assert_eq!(found.zones.assess(&fix(), &Question::default()).water, WaterStatus::Closed);
}

#[test]
fn an_index_of_another_version_or_of_another_file_is_refused() {
    let mut other = index();
    other.version = "0.0.9".to_owned();
    let refused = Index::of(&other.written(), ZONES.as_bytes());
    assert_eq!(refused, Err(Unfit::OtherVersion("0.0.9".to_owned())));
    let changed = ZONES.replace("900", "901");
    assert_eq!(Index::of(&index().written(), changed.as_bytes()), Err(Unfit::OtherSource));
}

#[test]
fn an_index_that_leaves_out_a_feature_or_counts_backwards_is_refused() {
    for left_out in 0..5 {
        let mut index = index();
        index.features.remove(left_out);
        assert_eq!(Index::of(&index.written(), ZONES.as_bytes()), Err(Unfit::Contradicted), "{left_out}");
    }
    for line_length_m in [-1.0, f64::NAN, f64::INFINITY] {
        let mut index = index();
        index.line_length_m = line_length_m;
        assert_eq!(Index::of(&index.written(), ZONES.as_bytes()), Err(Unfit::Contradicted));
    }
}

#[test]
fn of_a_file_whose_index_contradicts_it_its_own_warnings_are_told() {
    let odd = ZONES.replace(r#""zone": "cove""#, r#""zone": "elsewhere""#);
    let made = prepare("zones.json", odd.as_bytes()).unwrap();
    let mut index = Index::of(&made.index, odd.as_bytes()).unwrap();
    (index.warnings, index.features[0].id) = (Vec::new(), "creek".to_owned());
    let file = FileOfZones::Prepared(index.with_source("zones.json", odd.into_bytes()));
    let found = zones_for(vec![file], &fix(), &Question::default()).unwrap();
    assert_eq!(found.unfit[0].warnings.len(), 1);
    assert_eq!(found.unfit[0].warnings[0], made.loaded.warnings[0].to_string());
}

/// What an index tells may not change while its magic and the version stay: an index made before would be believed.
///
/// If this fails, raise the last byte of the magic, and write down here what comes out.
#[test]
fn what_an_index_tells_is_told_by_its_magic() {
    let mut told = index();
    // a sum, whose last digit is the machine's
    (told.version, told.line_length_m) = (String::new(), 0.0);
    let digest = Sha256::digest(format!("{told:?}"));
    let digest = crate::geojson_text::hexadecimal(&digest[..8]);
    assert_eq!((told.written()[15], digest.as_str()), (2, "beeafde21aafba71"));
}

#[test]
fn an_index_that_contradicts_the_file_makes_it_be_read_whole() {
    let false_in = |change: fn(&mut IndexedFeature)| {
        let mut index = index();
        change(&mut index.features[0]);
        index
    };
    let elsewhere = false_in(|told| told.lies = super::near_zones::Lies::Anywhere);
    let misnamed = false_in(|told| told.id = "creek".to_owned());
    let unlinked = false_in(|told| told.overrides = vec!["lane".to_owned()]);
    let shorter = false_in(|told| told.length -= 1);
    let earlier = false_in(|told| told.start -= 1);
    for index in [elsewhere, misnamed, unlinked, shorter, earlier] {
        let found = found_with(index);
        let unfit: Vec<_> = found.unfit.iter().map(|unfit| (unfit.path_label.as_str(), &unfit.why)).collect();
        assert_eq!(unfit, [("zones.json", &Unfit::Contradicted)]);
        assert_eq!(ids(&found.zones), ["cove", "lane", "bank", "ridge", "wreck"]);
    }
}

#[test]
fn places_that_no_file_has_are_refused_before_they_are_used() {
    let with = |change: fn(&mut Vec<IndexedFeature>)| {
        let mut index = index();
        change(&mut index.features);
        Index::of(&index.written(), ZONES.as_bytes())
    };
    let changes: [fn(&mut Vec<IndexedFeature>); 6] = [
        Vec::clear,
        |features| features.swap(0, 1),
        |features| features[1].length = usize::MAX,
        |features| features[4].start = usize::MAX,
        |features| features[4].length += 100,
        |features| features[2].length = 0,
    ];
    for change in changes {
        assert_eq!(with(change), Err(Unfit::Contradicted));
    }
}

/// Members that are no members, with a checksum that fits: lengths of anything up to 2⁶⁴ among them.
#[test]
fn whatever_is_in_an_index_takes_no_memory_that_is_not_there_and_stops_nothing() {
    let whole = index().written();
    let (head, members) = (&whole[..16], &whole[48..]);
    let sealed = |members: &[u8]| [head, &Sha256::digest(members), members].concat();
    assert_eq!(sealed(members), whole);
    for at in 0..members.len() {
        assert!(Index::of(&sealed(&members[..at]), ZONES.as_bytes()).is_err(), "cut at {at}");
        for byte in [0, 1, 0x7f, 0x80, 0xff] {
            let mut changed = members.to_vec();
            changed[at] = byte;
            // a length that says that there is no end
            let endless = [&changed[..at], &[0xff; 9], &[1], &members[at..]].concat();
            for members in [changed, endless] {
                if let Ok(index) = Index::of(&sealed(&members), ZONES.as_bytes()) {
                    assert!(!found_with(index).zones.zones().is_empty());
                }
            }
        }
    }
}
