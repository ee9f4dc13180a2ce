//! What a figure must be.

/// A bound that a figure has to keep to, and a better one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Goal {
    must: f64,
    stretch: Option<f64>,
    side: Side,
}

#[derive(Debug, Clone, Copy)]
enum Side {
    AtMost,
    AtLeast,
}

impl Goal {
    pub(crate) const fn at_most(must: f64) -> Self {
        Self { must, stretch: None, side: Side::AtMost }
    }

    pub(crate) const fn at_least(must: f64) -> Self {
        Self { must, stretch: None, side: Side::AtLeast }
    }

    pub(crate) const fn stretch(mut self, stretch: f64) -> Self {
        self.stretch = Some(stretch);
        self
    }

    /// The cells of a table: must, stretch, and which of them a figure meets.
    pub(crate) fn cells(self, figure: f64) -> [String; 3] {
        let keeps = |bound: f64| match self.side {
            Side::AtMost => figure <= bound,
            Side::AtLeast => figure >= bound,
        };
        let sign = match self.side {
            Side::AtMost => "≤",
            Side::AtLeast => "≥",
        };
        let met = if self.stretch.is_some_and(keeps) {
            "stretch"
        } else if keeps(self.must) {
            "must"
        } else {
            "**no**"
        };
        let stretch = self.stretch.map_or_else(|| "–".to_owned(), |bound| format!("{sign} {bound}"));
        [format!("{sign} {}", self.must), stretch, met.to_owned()]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_meets_the_stretch_the_must_or_neither() {
        let met = |goal: Goal, figure| goal.cells(figure)[2].clone();
        let at_most = Goal::at_most(2.0).stretch(1.0);
        assert_eq!([0.9, 1.5, 2.1].map(|figure| met(at_most, figure)), ["stretch", "must", "**no**"]);
        let at_least = Goal::at_least(15.0).stretch(40.0);
        assert_eq!([50.0, 15.0, 14.0].map(|figure| met(at_least, figure)), ["stretch", "must", "**no**"]);
        assert_eq!(met(at_most, f64::NAN), "**no**");
    }
}
