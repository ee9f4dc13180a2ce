//! GPX 1.1 of a line, for a handheld receiver or a plotter.

use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};
use takeline::transit::TransitReport;
use takeline::{Metres, Position};

use super::document::TransitDocument;
use super::features::distances;
use super::{headline, words};
use crate::cautions::CAUTIONS;
use crate::lines::sanitised;

/// Usual leg of the route, in metres: a receiver that goes by rhumb line leaves the geodesic by 2 cm at 45° (leg² · tan φ /
/// 8R); only a stretch of more than 49 km has longer ones.
const LEG_M: f64 = 1_000.0;
/// Most points of the route, which small receivers have room for.
const MOST_LEGS: f64 = 49.0;
const NAMESPACE: &str = "http://www.topografix.com/GPX/1/1";

/// Returns GPX 1.1: the two marks, the near and the far end and the worst point as waypoints, the stretch as a route.
///
/// Names have at most twelve plain characters and start with the bearing, so that several lines can be told apart on a
/// handheld; descriptions say the rest.
///
/// # Accuracy
///
/// Coordinates have eight decimals of a degree, about a millimetre.
///
/// # Errors
///
/// [`io::Error`] if the text cannot be written, which memory never refuses.
pub fn transit_gpx(document: &TransitDocument<'_>) -> io::Result<String> {
    let mut writer = Writer::new_with_indent(Vec::new(), b' ', 2);
    writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    let creator = concat!("takeline ", env!("CARGO_PKG_VERSION"));
    writer
        .create_element("gpx")
        .with_attributes([("version", "1.1"), ("creator", creator), ("xmlns", NAMESPACE)])
        .write_inner_content(|writer| {
            metadata(writer, document)?;
            for place in waypoints(document.report) {
                waypoint(writer, "wpt", &place)?;
            }
            route(writer, document)
        })?;
    String::from_utf8(writer.into_inner()).map_err(io::Error::other)
}

type Xml = Writer<Vec<u8>>;

/// A named place.
struct Place {
    position: Position,
    name: String,
    description: String,
}

fn metadata(writer: &mut Xml, document: &TransitDocument<'_>) -> io::Result<()> {
    let mut description = vec![verdict(document)];
    description.extend(document.clears_because.iter().cloned());
    description.extend(document.opens.sentence.clone());
    description.extend(CAUTIONS.map(str::to_owned));
    let name = marks(document.report);
    writer.create_element("metadata").write_inner_content(|writer| {
        text(writer, "name", &name)?;
        text(writer, "desc", &description.join(" | "))
    })?;
    Ok(())
}

fn verdict(document: &TransitDocument<'_>) -> String {
    document.headline.verdict.first().cloned().unwrap_or_default()
}

fn marks(report: &TransitReport) -> String {
    format!("{} over {}", report.line.rear().name, report.line.front().name)
}

/// The bearing as three digits after a letter: `T087`.
fn tag(report: &TransitReport) -> String {
    let digits: String = report.bearing.to_string().chars().take_while(char::is_ascii_digit).collect();
    format!("T{digits}")
}

fn waypoints(report: &TransitReport) -> Vec<Place> {
    let (line, stretch) = (&report.line, report.question.stretch);
    let tag = tag(report);
    let place = |name: &str, position, description: String| Place {
        position,
        name: format!("{tag} {name}"),
        description,
    };
    let end =
        |which: &str, at: Metres| format!("{which} end of the line, {} off the front mark", words::along(at));
    let mut places = vec![
        place("FRONT", line.front().position, format!("front mark: {}", line.front().name)),
        place("REAR", line.rear().position, format!("rear mark: {}", line.rear().name)),
        place("NEAR", line.at(stretch.near()), end("near", stretch.near())),
        place("FAR", line.at(stretch.far()), end("far", stretch.far())),
    ];
    if let Some((zone, worst)) = words::tightest(&report.zones).and_then(|zone| Some((zone, zone.worst?))) {
        let off = headline::off(&worst);
        let at = words::along(worst.distance_from_front);
        let margin = words::along(worst.margin());
        let description = format!("least margin, {margin}: {off} {}, {at} off the front mark", zone.name);
        places.push(place("WORST", worst.position, description));
    }
    places
}

fn route(writer: &mut Xml, document: &TransitDocument<'_>) -> io::Result<()> {
    let report = document.report;
    let step_m = LEG_M.max(report.question.stretch.length().metres() / MOST_LEGS);
    let tag = tag(report);
    let description = format!("{}: {}. {}", marks(report), verdict(document), CAUTIONS[0]);
    writer.create_element("rte").write_inner_content(|writer| {
        text(writer, "name", &tag)?;
        text(writer, "desc", &description)?;
        for (number, at) in distances(report, step_m).into_iter().enumerate() {
            let place = Place {
                position: report.line.at(at),
                name: format!("{tag} {:02}", number + 1),
                description: format!("{} off the front mark", words::along(at)),
            };
            waypoint(writer, "rtept", &place)?;
        }
        Ok(())
    })?;
    Ok(())
}

fn waypoint(writer: &mut Xml, element: &str, place: &Place) -> io::Result<()> {
    let degrees = |degrees: f64| format!("{degrees:.8}");
    let latitude = degrees(place.position.latitude().degrees());
    let longitude = degrees(place.position.longitude().degrees());
    writer
        .create_element(element)
        .with_attributes([("lat", latitude.as_str()), ("lon", longitude.as_str())])
        .write_inner_content(|writer| {
            text(writer, "name", &place.name)?;
            text(writer, "desc", &place.description)
        })?;
    Ok(())
}

fn text(writer: &mut Xml, element: &str, content: &str) -> io::Result<()> {
    let content = xml_letters(content);
    writer.create_element(element).write_text_content(BytesText::new(&content))?;
    Ok(())
}

/// What XML 1.0 lets stand in a text at all; marks of markup are escaped by the writer.
fn xml_letters(content: &str) -> String {
    let plain = content.replace('\u{a0}', " ");
    sanitised(&plain)
        .chars()
        .map(|letter| if matches!(letter, '\u{fffe}' | '\u{ffff}') { '\u{fffd}' } else { letter })
        .collect()
}
