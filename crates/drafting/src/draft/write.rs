//! Writes the zone file of a draft.

use serde_json::{Value, json};
use takeline::rule::WRITE_THE_RULE;
use takeline::{ArcSense, EdgeModel, Position};

use super::draft_zone::DraftRequest;
use super::finding::DraftFinding;
use super::outline::{Outline, OutlineSide};

/// Decimals of a degree in the file: 10 are 0.01 mm.
const DECIMALS: f64 = 1e10;
/// No longer text is kept as the words of the law.
const MOST_QUOTED: usize = 20_000;

/// The text of the zone file.
pub(super) fn file_of(
    outline: &Outline,
    (request, datum): (&DraftRequest, Option<&str>),
    (text, findings): (&str, &[DraftFinding]),
) -> String {
    let mut header = json!({ "format": takeline::zone_file::FORMAT });
    if let Some(datum) = datum {
        header["datum"] = json!(datum);
    }
    let mut properties = json!({});
    properties["name"] = json!(request.name.as_ref().unwrap_or(&request.id));
    let geometry = if let (Some(radius), Some(centre)) = (&outline.circle, outline.points.first()) {
        properties["radius_m"] = json!(radius.metres);
        json!({ "type": "Point", "coordinates": place(centre.position) })
    } else {
        properties["edges"] = edges(outline, request.edges);
        let mut ring: Vec<Value> = outline.points.iter().map(|point| place(point.position)).collect();
        ring.extend(ring.first().cloned());
        json!({ "type": "Polygon", "coordinates": [ring] })
    };
    properties["as_published"] = outline
        .points
        .iter()
        .map(|point| match &point.label {
            Some(label) => json!({ "text": point.text, "point": label }),
            None => json!(point.text),
        })
        .collect();
    properties["take"] = json!("none");
    if !request.nothing_may_be_taken {
        // neither closed nor open may be said of a zone whose rule nobody has written yet
        properties["when"] = json!({
            "unknowable": format!("this file is a draft without a rule: {WRITE_THE_RULE}")
        });
    }
    let instrument = request.instrument.as_deref().unwrap_or("a law that this draft does not name yet");
    properties["source"] = json!({ "instrument": instrument, "quoted_text": quoted(text) });
    if !findings.is_empty() {
        let codes: Vec<&str> = findings.iter().map(DraftFinding::code).collect();
        properties["note"] = json!(format!("Drafted although the text raised: {}", codes.join(", ")));
    }
    let file = json!({
        "type": "FeatureCollection",
        "takeline": header,
        "features": [{ "type": "Feature", "id": request.id, "geometry": geometry, "properties": properties }],
    });
    // a value of strings, numbers and lists is always written
    let written = serde_json::to_string_pretty(&file).unwrap_or_default();
    format!("{written}\n")
}

fn place(position: Position) -> Value {
    let rounded = |degrees: f64| (degrees * DECIMALS).round() / DECIMALS;
    json!([rounded(position.longitude().degrees()), rounded(position.latitude().degrees())])
}

/// The words of the law, without what cannot be printed.
fn quoted(text: &str) -> String {
    let printable = |one: &char| !one.is_control() || matches!(one, '\n' | '\t');
    let kept: String = text.trim().chars().filter(printable).take(MOST_QUOTED).collect();
    if kept.is_empty() { "nothing".to_owned() } else { kept }
}

fn word(model: EdgeModel) -> &'static str {
    match model {
        EdgeModel::Geodesic => "geodesic",
        EdgeModel::RhumbLine => "rhumb",
        EdgeModel::PlateCarree => "lonlat",
        EdgeModel::Unstated | EdgeModel::Arc(_) => "unstated",
    }
}

fn edges(outline: &Outline, unsaid: Option<EdgeModel>) -> Value {
    let unsaid = unsaid.unwrap_or(EdgeModel::Unstated);
    let each: Vec<Value> = outline.sides.iter().map(|side| edge(side, unsaid)).collect();
    match each.split_first() {
        Some((first, rest)) if first.is_string() && rest.iter().all(|other| other == first) => first.clone(),
        _ => Value::Array(each),
    }
}

fn edge(side: &OutlineSide, unsaid: EdgeModel) -> Value {
    if let Some(level) = &side.words.shore {
        return json!({ "along": "coast", "level": level });
    }
    match (&side.arc, &side.centre) {
        (Some(arc), Some(centre)) => {
            let turn = if arc.sense == ArcSense::Clockwise { "clockwise" } else { "counterclockwise" };
            let (middle, radius_m) = (place(arc.centre), arc.radius.metres());
            let note = format!("centre as published: {}", centre.text);
            json!({ "arc": { "centre": middle, "radius_m": radius_m, "turn": turn, "note": note } })
        }
        _ => json!(word(side.model.unwrap_or(unsaid))),
    }
}
