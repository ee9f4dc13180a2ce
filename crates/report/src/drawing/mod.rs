//! What all drawings of pages share: paths, hatches, the projection of maps, room for words, colours.

pub(crate) mod chart;
pub(crate) mod frame;
pub(crate) mod graticule;
pub(crate) mod label;
pub(crate) mod land;
pub(crate) mod zone_line;

/// The colours of all pages, light and dark.
pub(crate) const COLOURS: &str = include_str!("colours.css");
/// How the parts of a drawing look.
pub(crate) const DRAWING_STYLE: &str = include_str!("drawing.css");
