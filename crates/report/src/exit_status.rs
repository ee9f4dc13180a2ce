use serde::{Serialize, Serializer};
use takeline::{Assessment, TakeAnswer, Tristate, WaterStatus};

/// What the program tells the one who started it. A contract for scripts: `docs/exit-status.md`.
///
/// In a batch the worst counts: 3 beats 1 beats 0, and a wrong call (2) never gets as far as a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(u8)]
pub enum ExitStatus {
    /// Assessed, and no loaded rule restricts anything here.
    Unrestricted = 0,
    /// A restriction applies, also where the fish asked about may be kept under it.
    Restricted = 1,
    /// The command line makes no sense.
    Usage = 2,
    /// What is known does not settle it, or something could not be read.
    Undecided = 3,
}

impl ExitStatus {
    /// Returns the number that the operating system gets.
    #[must_use]
    pub const fn code(self) -> u8 {
        self as u8
    }

    /// Returns the worse of two, as a batch counts: 3 beats 2 beats 1 beats 0.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline_report::ExitStatus::{Restricted, Undecided, Unrestricted};
    /// assert_eq!(Unrestricted.worst(Restricted), Restricted);
    /// assert_eq!(Undecided.worst(Restricted), Undecided);
    /// ```
    #[must_use]
    pub fn worst(self, other: Self) -> Self {
        if other.code() > self.code() { other } else { self }
    }
}

impl Serialize for ExitStatus {
    /// Writes the number that the operating system gets.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u8(self.code())
    }
}

/// Returns the exit status of one answer.
///
/// Undecided (3) if the water, any fish or the asked stand-off is; else restricted (1) if the water is closed or
/// limited, a fish has to go back or the stand-off is not kept; else 0.
#[must_use]
pub fn exit_status(assessment: &Assessment) -> ExitStatus {
    let fish = |answer| assessment.take.iter().any(|finding| finding.answer == answer);
    let standoff = |kept| assessment.standoff_kept == Some(kept);
    let undecided = assessment.water == WaterStatus::Undecided
        || fish(TakeAnswer::Undecided)
        || standoff(Tristate::Undecided);
    let restricted = matches!(assessment.water, WaterStatus::Closed | WaterStatus::Restricted)
        || fish(TakeAnswer::Release)
        || standoff(Tristate::No);
    if undecided {
        ExitStatus::Undecided
    } else if restricted {
        ExitStatus::Restricted
    } else {
        ExitStatus::Unrestricted
    }
}
