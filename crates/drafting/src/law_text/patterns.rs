//! The phrases of law texts, as patterns.

use std::sync::LazyLock;

use regex::Regex;

pub(super) fn compiled(pattern: &str) -> Regex {
    #[expect(clippy::expect_used, reason = "the patterns are constants, and a test compiles each")]
    Regex::new(pattern).expect("a sound pattern")
}

/// What a phrase says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Effect {
    OfAll,
    Rhumb,
    Geodesic,
    Nothing,
    Along,
    Due,
    Towards,
    Shore,
    Centre,
    About,
    Arc,
    Circle,
    Turn,
    Returns,
    ReturnsTo,
    Radius,
    Diameter,
    Distance,
    Approximate,
    Bearing,
    Leg,
    To,
    Name,
}

/// What may stand before the kind of a line.
const LEAD: &str = r"(?:(?:along|by|on|following|via)\s+)?(?:(?:an?|the|that|this)\s+)?";
const COMPASS: &str = r"(?:north|south|east|west)(?:[\s\-‐‑]*(?:north|south|east|west)){0,2}";
const SHORE: &str = r"mean\s+(?:high|low)\s+water(?:\s+(?:springs?(?:\s+tides?)?(?:\s+mark)?|mark))?|(?:high|low)\s+water\s+mark|mhwm?s?|mlwm?s?|surf ?line|shore ?line|coast ?line|mangrove\s+line|shore|coast";

/// The phrases, the longer before the shorter.
pub(super) static PHRASES: LazyLock<Vec<(Regex, Effect)>> = LazyLock::new(|| {
    let phrase = |pattern: &str, effect: Effect| (compiled(&format!(r"(?i)^(?:{pattern})")), effect);
    vec![
        phrase(
            r"(?:(?:all|the)\s+)?(?:lines|sides|edges|boundaries|boundary\s+lines|bearings)\s+(?:are|being|shall\s+be|run)(?:\s+all)?\b",
            Effect::OfAll,
        ),
        phrase(
            r"all\s+(?:(?:the|of|these|those|such|boundary)\s+)*(?:lines|sides|edges|boundaries|bearings)\b",
            Effect::OfAll,
        ),
        phrase(&format!(r"{LEAD}(?:rhumb|loxodrom(?:es?|ic))(?P<lines>[\s\-]*lines?)?\b"), Effect::Rhumb),
        phrase(
            &format!(
                r"{LEAD}(?:geodesics?(?P<lines>[\s\-]*lines?)?|geodetic[\s\-]+lines?|great[\s\-]*circles?(?:[\s\-]*(?:lines?|arcs?|routes?|tracks?))?)\b"
            ),
            Effect::Geodesic,
        ),
        phrase(&format!(r"{LEAD}straight[\s\-]+lines?(?:\s+arcs?)?\b"), Effect::Nothing),
        phrase(
            r"(?:(?:due\s+)?(?:north|south|east|west)\s+)?along\s+(?:the|an?|that|this|said)\s+(?:said\s+)?(?P<line>parallel|meridian)(?:\s+of\s+(?:latitude|longitude))?\b",
            Effect::Along,
        ),
        phrase(r"(?:the|an?)\s+(?P<line>parallel|meridian)\s+of\s+(?:latitude|longitude)\b", Effect::Along),
        phrase(
            r"due\s+(?P<quarter>north|south|east|west)\b|true\s+(?P<quarter2>north|south|east|west)\b|(?P<quarter3>north|south|east|west)\s+true\b",
            Effect::Due,
        ),
        phrase(
            &format!(
                r"(?:in\s+an?\s+)?(?:generally\s+)?(?P<course>{COMPASS})(?:erly|wardly|wards?)(?:\s+direction)?\b"
            ),
            Effect::Towards,
        ),
        phrase(
            &format!(r"(?:in\s+an?\s+)?(?:generally\s+)?(?P<course>{COMPASS})\s+direction\b"),
            Effect::Towards,
        ),
        phrase(&format!(r"(?P<course>{COMPASS})(?P<before>\s+(?:to|for|along|by)\b|\s+\d)"), Effect::Towards),
        phrase(
            &format!(
                r"(?:along|following|follows|follow|by)\s+(?:the\s+)?(?:line\s+of\s+)?(?:the\s+)?(?P<shore>{SHORE})(?:\s+of\s+(?:ordinary\s+)?(?:spring|neap)\s+tides)?(?:\s+at\s+(?:the\s+)?(?:mean\s+)?(?:high|low)\s+water(?:\s+mark|\s+springs?)?)?\b"
            ),
            Effect::Shore,
        ),
        phrase(
            r"(?:having\s+|with\s+)(?:its|a|the|their)\s+cent(?:re|er)\b(?:\s+(?:at|on)\b)?|cent(?:red|ered|erd)\b(?:\s+(?:on|at|about|upon)\b)?|(?:the\s+|whose\s+|its\s+)?cent(?:re|er)(?:\s+point)?(?:\s+of\s+(?:which|the\s+circle|the\s+arc|this\s+circle|this\s+arc))?\s*(?:(?:is|being|lies)(?:\s+(?:located\s+)?at)?\b|:|=|at\b|$)",
            Effect::Centre,
        ),
        phrase(r"(?:about|around)\b", Effect::About),
        phrase(
            &format!(r"{LEAD}(?:arc(?:\s+of\s+(?:an?|the)\s+circle)?|part\s+of\s+(?:an?|the)\s+circle)\b"),
            Effect::Arc,
        ),
        phrase(r"(?:an?\s+|the\s+)?(?:circle|circular\s+area|vertical\s+water\s+column)\b", Effect::Circle),
        phrase(r"(?P<anti>anti|counter|contra)[\s\u{a0}\-‐‑‒–—−]*clockwise\b|clockwise\b", Effect::Turn),
        phrase(
            r"(?:back\s+)?(?:to\s+)?(?:the\s+|its\s+)?(?:said\s+)?(?:(?:point|place|position)\s+of\s+(?:beginning|commencement|origin|starting|start|departure)|(?:starting|first|initial|original)\s+(?:point|position|place|corner)|(?:the\s+|to\s+)(?:beginning|start|origin|commencement))\b",
            Effect::Returns,
        ),
        phrase(
            r"(?:back\s+)?to\s+(?:the\s+)?(?:said\s+)?(?:(?:point|corner|position|vertex|no\.?)\s*)?\(?(?P<name>(?-i:[A-Z])\d{0,2}|\d{1,3})\)?[\s.,;:]*(?:and\s*)?$",
            Effect::ReturnsTo,
        ),
        phrase(
            r"(?:within\s+)?(?:(?:with|has|having)\s+)?(?:an?\s+|the\s+)?radius\s*(?:of\s+|is\s+|=\s*|:\s*|\(\s*)?",
            Effect::Radius,
        ),
        phrase(r"within\s+", Effect::Radius),
        phrase(r"(?:an?\s+|the\s+)?diameter\s*(?:of\s+|is\s+|=\s*|:\s*|\(\s*)?", Effect::Diameter),
        phrase(r"(?:for\s+)?(?:an?\s+|the\s+)?(?:distance|length)\s+of\s+|for\s+", Effect::Distance),
        phrase(
            r"approximately\b|approximate\b|approx\b\.?|generally\b|more\s+or\s+less\b|or\s+thereby\b|nearly\b|roughly\b|circa\b",
            Effect::Approximate,
        ),
        phrase(
            r"(?:on\s+)?(?:an?\s+|the\s+)?(?:true\s+)?bearing\b(?:\s+(?:of|is)\b)?\s*:?\s*",
            Effect::Bearing,
        ),
        phrase(r"(?:and\s+)?(?:thence|then)\b", Effect::Leg),
        phrase(
            r"within\s+(?:the\s+|an?\s+)?(?:area|zone|boundar(?:y|ies)|limits|polygon|reserve|lines?|coordinates|waters)\b|in\s+(?:the\s+)?length\b|the\s+following\b|following\s+(?:coordinates|points|positions|geographical|corners|list|table)\b|in\s+the\s+order\b|(?:is\s+|are\s+)?as\s+follows\b|(?:beginning|commencing|starting)\b",
            Effect::Nothing,
        ),
        phrase(r"set\s+out\b|(?:nos?|number)\.?\s+(?:\d|of\b)|no\.", Effect::Nothing),
        phrase(
            r"no\s+(?:person|one)\s+(?:may|shall|must)\s+(?:fish|(?:take|catch|kill|possess|land)\s+(?:any\s+)?(?:fish|shellfish|marine\s+life))(?:\s+there|\s+(?:from|in)\s+(?:it|the\s+(?:area|zone|reserve)))?\b|or\s+thereby\b|vertical\s+water\s+column\b|(?:all\s+)?fishing\s+is\s+(?:forbidden|prohibited)(?:\s+in\s+it)?\b",
            Effect::Nothing,
        ),
        phrase(
            r"the\s+area\s+is\b|the\s+(?:positions|coordinates|points)\s+(?:are\s+in|refer\s+to)\b",
            Effect::Nothing,
        ),
        phrase(r"to\b", Effect::To),
        phrase(
            r"(?:point|corner|position|vertex|pt|item)\b\.?\s*(?:(?:no|number)\b\.?\s*)?\(?(?P<name>(?-i:[A-Z])\d{0,2}|\d{1,3})\)?(?:$|[^\w.,]|[.,](?:$|\D))",
            Effect::Name,
        ),
    ]
});

pub(super) static DEGREES: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^\s*(?P<sign>°|º|degrees?\b|deg\b\.?)?\s*(?:\(?\s*(?P<kind>true|magnetic|mag|grid|t|m)\b\s*\)?)?",
    )
});
pub(super) static ROUND: LazyLock<Regex> =
    LazyLock::new(|| compiled(r"(?i)^[\s\-]*(?:in\s+)?(?P<what>radius|diameter)\b"));
pub(super) static CORNERS: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^\s+(?:(?:following|coordinates?|geographical|geographic|listed|boundary|numbered|lettered|corner|turning|consecutive|said|straight)\s+){0,3}(?:points|corners|vertices|positions|coordinates|sides)\b",
    )
});
/// Words whose number is a name.
pub(super) static NUMBERED: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)(?:^|[^\w])(?:articles?|art\.|sections?|sec\.|s\.|§|schedule|annex|appendix|part|chapter|paragraph|para\.?|clause|regulation|reg\.|rule|no\.?|number|page|figure|fig\.|chart|table|item)\s*$",
    )
});
pub(super) static MARKER: LazyLock<Regex> = LazyLock::new(|| {
    compiled(r"^\s*(?:\(\s*(?:[A-Za-z]{1,4}|\d{1,3})\s*\)|(?:[A-Za-z]|[ivx]{1,5}|\d{1,3})\s*[.):])\s*")
});
pub(super) static LONE: LazyLock<Regex> =
    LazyLock::new(|| compiled(r"^\s*\(?(?P<name>[A-Z]\d{0,2}|\d{1,3})[).:]*\s*$"));
