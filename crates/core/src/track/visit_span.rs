//! From when to when: a stretch of time that cannot end before it begins.

use super::LoggedMoment;

/// The first and the last moment of a visit.
///
/// Made from one moment and widened by others, so that it can never end before it begins. Moments without a time count in
/// the order in which they are added, which is that of the log.
///
/// # Examples
///
/// ```
/// use takeline::Position;
/// use takeline::track::{LoggedMoment, VisitSpan};
///
/// let at = |clock: &str| -> Result<LoggedMoment, Box<dyn std::error::Error>> {
///     let time = Some(format!("2026-07-01T{clock}Z").parse()?);
///     Ok(LoggedMoment { position: Position::from_degrees(45.1, -30.1)?, time, between: None })
/// };
/// let span = VisitSpan::of(at("05:04:00")?, at("05:03:00")?);
/// assert_eq!(span.entered(), at("05:03:00")?);
/// assert_eq!(span.left(), at("05:04:00")?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct VisitSpan {
    entered: LoggedMoment,
    left: LoggedMoment,
}

impl VisitSpan {
    /// A span of no length.
    #[must_use]
    pub fn at(moment: LoggedMoment) -> Self {
        Self { entered: moment, left: moment }
    }

    /// The span that holds two moments.
    #[must_use]
    pub fn of(one: LoggedMoment, other: LoggedMoment) -> Self {
        let mut span = Self::at(one);
        span.include(other);
        span
    }

    /// Widens the span until it holds a moment.
    pub fn include(&mut self, moment: LoggedMoment) {
        match (self.entered.time, self.left.time, moment.time) {
            (Some(entered), _, Some(time)) if time < entered => self.entered = moment,
            (_, Some(left), Some(time)) if time < left => {}
            _ => self.left = moment,
        }
    }

    /// Returns the first moment.
    #[must_use]
    pub fn entered(&self) -> LoggedMoment {
        self.entered
    }

    /// Returns the last moment, never earlier than the first.
    #[must_use]
    pub fn left(&self) -> LoggedMoment {
        self.left
    }
}
