//! What the line of a zone may be off, before anybody draws it.

use takeline::zone::Zone;
use takeline::{Boundary, BoundaryFault, EdgeLine, EdgeModel, PartSpec, RingSpec, SideKind};

/// How far the line of a zone may run from where its file has it, in metres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LineDoubt {
    /// 95 %: the line itself and the datum, and on top of that the side of it that may be off most, where it is; an unresolved side
    /// of no stated doubt counts half its length, as in answers.
    pub line_m: f64,
    /// How far the readings are apart of the side whose text leaves them most open.
    pub readings_apart_m: f64,
    /// How many sides are along a shore or bank that nobody has supplied.
    pub unresolved_sides: usize,
}

/// Returns what the line of a zone may be off at most, somewhere along it.
///
/// # Errors
///
/// [`BoundaryFault`] where no boundary could have such an edge, which those of zones that were loaded never are.
///
/// # Examples
///
/// ```
/// use takeline::zone::{Extent, Zone};
/// use takeline::{Boundary, Metres, PartSpec, Position, rule::Take};
/// use takeline_gis::export::{LineDoubt, line_doubt};
///
/// let centre = Position::from_degrees(45.1170, -30.1190)?;
/// let circle = Boundary::build(&[PartSpec::Circle { centre, radius: Metres::new(200.0)? }])?;
/// let mut zone = Zone::new("cove", "Cove", Extent::Known(circle.clone()), Take::Nothing.into());
/// zone.line_uncertainty = Metres::new(5.0)?;
/// assert_eq!(line_doubt(&zone, &circle)?, LineDoubt { line_m: 5.0, ..LineDoubt::default() });
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn line_doubt(zone: &Zone, boundary: &Boundary) -> Result<LineDoubt, BoundaryFault> {
    let mut doubt = LineDoubt::default();
    let mut side_m: f64 = 0.0;
    for part in boundary.parts() {
        let PartSpec::Polygon { exterior, holes } = part else { continue };
        for ring in std::iter::once(exterior).chain(holes) {
            side_m = side_m.max(of_ring(&ring, &mut doubt)?);
        }
    }
    doubt.line_m = zone.line_uncertainty.metres().hypot(zone.datum.uncertainty_95().metres()) + side_m;
    Ok(doubt)
}

/// What its worst side may be off, in metres.
fn of_ring(ring: &RingSpec, doubt: &mut LineDoubt) -> Result<f64, BoundaryFault> {
    let mut most_m: f64 = 0.0;
    let ends = ring.vertices.iter().cycle().skip(1);
    for (at, (from, to)) in ring.vertices.iter().zip(ends).enumerate() {
        let model = ring.edges.get(at).copied().unwrap_or(EdgeModel::Unstated);
        let line = || EdgeLine::between(*from, *to, model);
        if model == EdgeModel::Unstated {
            doubt.readings_apart_m = doubt.readings_apart_m.max(line()?.readings_apart().metres());
        }
        let side = ring.sides.get(at);
        let is_unresolved = side.is_some_and(|side| side.kind == SideKind::Unresolved);
        doubt.unresolved_sides += usize::from(is_unresolved);
        most_m = most_m.max(match side.and_then(|side| side.uncertainty) {
            Some(stated) => stated.metres().abs(),
            None if is_unresolved => line()?.length().metres() / 2.0,
            None => 0.0,
        });
    }
    Ok(most_m)
}
