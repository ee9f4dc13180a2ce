/// What no answer can know; printed under every answer, in text and in JSON. The reasons are in `docs/cautions.md`.
pub const CAUTIONS: [&str; 4] = [
    "Takeline is not an instrument of navigation.",
    "Rules change; a closure by notice cannot be known offline.",
    "The text of the law and the local officers decide, not this answer.",
    "Weather and cold water kill; no fish is worth the risk.",
];

/// What no check of marks can know; printed under every answer about marks, in text and in JSON.
pub const TRANSIT_LIMITS: [&str; 4] = [
    "What stands between: headlands, trees, buildings, other boats.",
    "Haze, rain and glare, and whether a mark is lit at night.",
    "Your compass: iron, magnets and speakers near it turn it.",
    "Swell: in a trough the eye is lower, and low marks go first.",
];

#[cfg(test)]
mod tests {
    #[test]
    fn the_page_on_cautions_holds_each_of_them_word_for_word() {
        let page = include_str!("../../../docs/cautions.md");
        for caution in super::CAUTIONS {
            assert!(page.contains(caution), "docs/cautions.md lacks: {caution}");
        }
    }
}
