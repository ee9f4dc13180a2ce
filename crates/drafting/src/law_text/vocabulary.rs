//! Single words beside coordinates, by what they can do to a shape.

use super::number::is_number_word;

/// What a word that is part of no phrase can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Class {
    /// Nothing.
    Harmless,
    /// It names an area: behind the first corner another zone begins.
    Area,
    /// It may change the shape, the side or the extent.
    Shape,
    /// The same, in headings and prose too.
    Outline,
    /// It is a number.
    Number,
    /// It says where a corner is.
    Place,
    /// Nobody here knows it.
    Word,
}

/// Words that cannot change a shape, whatever stands beside them. A word is added only where no law could mean a shape by it.
const HARMLESS: &[&str] = &[
    "a", "an", "the", "of", "and", "at", "from", "in", "on", "by", "with", "as", "for", "is", "are", "be", "being", "shall",
    "which", "that", "this", "these", "those", "its", "said", "thereof", "hereby", "namely", "point", "points", "position", "positions",
    "corner", "corners", "vertex", "vertices", "coordinate", "coordinates", "geographical", "geographic", "latitude",
    "longitude", "latitudes", "longitudes", "lat", "long", "lon", "lng", "deg", "degree", "degrees", "minutes", "seconds", "decimal",
    "line", "lines", "joining", "joined", "join", "joins", "connecting", "connected", "connect", "connects", "linking", "succession", "successively",
    "consecutive", "consecutively", "order", "listed", "list", "table", "below", "following", "specified", "described", "set", "out",
    "given", "shown", "defined", "formed", "beginning", "commencing", "starting", "begins", "runs", "running", "proceeding",
    "proceeds", "direction", "located", "situated", "no", "number", "referred", "expressed", "based", "comprising", "comprises", "consisting",
];

/// Words that name an area or open a list.
const AREAS: &[&str] = &[
    "area", "zone", "water", "waters", "reserve", "bounded", "enclosed", "encompassed", "polygon",
    "sanctuary", "parcel", "site", "block", "schedule", "region", "sea", "seabed", "boundary",
];

/// Beginnings of words that change a shape wherever they stand in a law text: in headings and prose too.
const OUTLINE: &[&str] = &[
    "landward", "seaward", "shoreward", "coastward", "inshore", "offshore", "outside", "outward", "outwith", "beyond", "except", "exclud",
    "exclus", "omit", "minus", "semi", "quadrant", "annul", "crescent", "ellip", "buffer", "radius", "radii", "diameter", "circle", "circular",
    "circum", "curve", "curving", "curvature", "concave", "convex", "perpendicular", "equidistan", "median", "midway", "halfway", "contour", "isobath",
    "substitut", "replac", "delet", "instead", "also", "together", "plus", "addition", "intersect", "prolong", "offset", "easting", "northing",
    "magnetic", "anticlock", "countercl", "either", "distance", "within", "asterisk", "upstream", "downstream", "aiming", "abut", "adjoin",
];
/// The same, as whole words.
const OUTLINE_WHOLE: &[&str] = &[
    "arc", "arcs", "ring", "rings", "sector", "sectors", "segment", "segments", "oval", "utm", "grid", "ccw", "cw", "acw", "depth", "depths", "donut",
    "parallel", "meridian", "clockwise", "centre", "center", "centres", "centers", "landwards", "island's",
];

/// Beginnings of words that may change a shape where they stand beside coordinates.
const SHAPE: &[&str] = &[
    "north", "south", "east", "west", "major", "minor", "longer", "shorter", "revers", "opposit", "perimeter", "inside", "interior", "exterior", "mile",
    "cable", "fathom", "league", "chain", "furlong", "kilomet", "metre", "meter", "nautical", "shore", "coast", "beach", "cliff", "tide",
    "tidal", "mainland", "limit", "border", "edge", "contigu", "channel", "centr", "amend", "correct", "repeal", "revok", "cancel", "furthermore",
    "likewise", "moreover", "subtract", "produc", "extend", "extens", "project", "shift", "displac", "rotat", "tangent", "angle", "bearing",
    "approach", "less", "cross", "through", "between", "halv", "portion", "remain", "altern", "respective",
    "subject", "unless", "provided", "save", "saving", "exempt", "excise", "remov", "ignor", "disregard", "skip",
];
/// The same, as whole words.
const SHAPE_WHOLE: &[&str] = &[
    "n", "s", "e", "w", "ne", "nw", "se", "sw", "left", "right", "each", "both", "neither", "nor", "not", "never", "without", "or", "other", "another",
    "half", "long", "wide", "width", "length", "high", "low", "bank", "land", "isle", "island", "islet", "islands", "river", "creek", "along",
    "follow", "follows", "around", "round", "via", "across", "over", "under", "above", "near", "opposite", "off", "up", "down", "back", "again", "part", "parts", "side",
    "sides", "end", "middle", "mid", "same", "similar", "double", "twice", "triple", "true", "mark", "read", "reads", "all", "any", "every", "only",
    "more", "foot", "feet", "yard", "yards", "first", "second", "third", "fourth", "last", "next", "previous", "former", "latter", "hole", "holes",
    "strip", "corridor", "areas", "zones", "polygons", "sites", "parcels", "blocks", "reserves", "swap", "swapped", "exchange", "interchange", "vice", "versa", "apart", "than", "per", "radial", "spiral", "bulge",
];

fn begins(word: &str, starts: &[&str]) -> bool {
    starts.iter().any(|start| word.starts_with(start))
}

/// What a word can do.
pub(super) fn classed(text: &str) -> Class {
    let word = text.to_lowercase();
    let word = word.trim_end_matches("'s").trim_end_matches("’s");
    let capitals = text.chars().take_while(char::is_ascii_uppercase).count();
    let digits = text.chars().filter(char::is_ascii_digit).count();
    if HARMLESS.contains(&word) {
        Class::Harmless
    } else if AREAS.contains(&word) {
        Class::Area
    } else if (1..=3).contains(&capitals) && digits >= 3 && capitals + digits == text.len() {
        // a grid reference
        Class::Place
    } else if digits > 0 || is_number_word(word) {
        Class::Number
    } else if begins(word, OUTLINE) || OUTLINE_WHOLE.contains(&word) {
        Class::Outline
    } else if begins(word, SHAPE) || SHAPE_WHOLE.contains(&word) {
        Class::Shape
    } else {
        Class::Word
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_harmless_word_is_one_of_shape() {
        for word in HARMLESS {
            assert!(!OUTLINE_WHOLE.contains(word) && !begins(word, OUTLINE), "{word}");
        }
    }

    #[test]
    fn words_are_told_by_what_they_can_do() {
        for (word, expected) in [
            ("The", Class::Harmless),
            ("waters", Class::Area),
            ("NM7890012340", Class::Place),
            ("seven", Class::Number),
            ("R2", Class::Number),
            ("excluding", Class::Outline),
            ("north-eastern", Class::Shape),
            ("southerly", Class::Shape),
            ("beacon", Class::Word),
        ] {
            assert_eq!(classed(word), expected, "{word}");
        }
    }
}
