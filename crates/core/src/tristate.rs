//! Three-valued answers: yes, no, and undecided (Kleene's strong logic).

/// The answer to an elementary question.
///
/// Undecided is never quietly turned into either side: it is carried to the answer, with its reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Tristate {
    /// It holds, whatever the unknowns are.
    Yes,
    /// It does not hold, whatever the unknowns are.
    No,
    /// What is known settles it neither way.
    Undecided,
}

impl Tristate {
    /// Both: no if either is no, yes if both are yes, else undecided.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Tristate::{No, Undecided, Yes};
    /// assert_eq!(Yes.and(Undecided), Undecided);
    /// assert_eq!(No.and(Undecided), No);
    /// ```
    ///
    /// # References
    ///
    /// S. C. Kleene, *Introduction to Metamathematics* (1952), § 64, the strong connectives.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::No, _) | (_, Self::No) => Self::No,
            (Self::Yes, Self::Yes) => Self::Yes,
            (Self::Undecided, _) | (_, Self::Undecided) => Self::Undecided,
        }
    }

    /// Either: yes if one is yes, no if both are no, else undecided.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        self.negated().and(other.negated()).negated()
    }

    /// The opposite; undecided stays undecided.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::Yes => Self::No,
            Self::No => Self::Yes,
            Self::Undecided => Self::Undecided,
        }
    }

    /// All of them; yes if there are none.
    pub fn all(answers: impl IntoIterator<Item = Self>) -> Self {
        answers.into_iter().fold(Self::Yes, Self::and)
    }

    /// Any of them; no if there are none.
    pub fn any(answers: impl IntoIterator<Item = Self>) -> Self {
        answers.into_iter().fold(Self::No, Self::or)
    }
}

impl From<bool> for Tristate {
    fn from(known: bool) -> Self {
        if known { Self::Yes } else { Self::No }
    }
}
