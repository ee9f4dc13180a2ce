use super::LineName;

/// Why lines of position give no position, or an observation makes no line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CrossError {
    /// Fewer than two lines.
    #[error(
        "{} no position; take {} of a mark that lies as square to the first as you can find",
        if *.given == 0 { "no line of position gives" } else { "one line of position gives" },
        if *.given == 0 { "two lines, the second" } else { "another line," }
    )]
    TooFewLines {
        /// How many were given.
        given: usize,
    },
    /// More lines than anybody takes.
    #[error(
        "{given} lines of position are too many: at most {most}; leave out those of small cut or large error"
    )]
    TooManyLines {
        /// How many were given.
        given: usize,
        /// How many are taken.
        most: usize,
    },
    /// Nowhere before the marks do they meet.
    #[error(
        "the lines of position ({}) do not cross within {most_km} km before their marks; check the marks, the \
         figures, and whether a bearing is true or magnetic, or take another mark as square to the first as you can find",
        listed(.lines)
    )]
    NoCrossing {
        /// The lines.
        lines: Vec<LineName>,
        /// How far a mark is looked for.
        most_km: u32,
    },
    /// They lie one upon the other.
    #[error(
        "the lines of position ({}) run along each other, so they give a line and no position; take another mark as \
         square to the first as you can find",
        listed(.lines)
    )]
    Parallel {
        /// The lines.
        lines: Vec<LineName>,
    },
    /// An error of observation that cannot be.
    #[error(
        "a standard error of {value_deg}° for {line} makes no sense: it has to be above 0° and below 45°"
    )]
    StandardError {
        /// What it is the error of.
        line: LineName,
        /// The figure, in degrees.
        value_deg: f64,
    },
    /// An angle that two marks do not show.
    #[error(
        "{line} cannot be {value_deg}°: it has to be above 0° and below 180°, from the left mark clockwise to the right one"
    )]
    Angle {
        /// Which angle.
        line: LineName,
        /// The figure, in degrees.
        value_deg: f64,
    },
    /// Both marks of an angle are one.
    #[error("{left} and {right} stand on one place, so there is no angle between them; give two marks")]
    OnePlace {
        /// The mark to the left.
        left: String,
        /// The mark to the right.
        right: String,
    },
}

fn listed(lines: &[LineName]) -> String {
    lines.iter().map(LineName::to_string).collect::<Vec<_>>().join(", ")
}
