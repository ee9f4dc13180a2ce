//! What `--accuracy-m` and `--accuracy-kind` mean.

use takeline::{AccuracyKind, HorizontalUncertainty};

use crate::arguments::AccuracyKindName;
use crate::stop::Stop;

/// The kind as given, else the cautious reading.
pub(crate) fn kind(asked: Option<AccuracyKindName>) -> AccuracyKind {
    asked.map(AccuracyKind::from).unwrap_or_default()
}

/// The accuracy as given, else the assumed one.
pub(crate) fn uncertainty(
    accuracy_m: Option<f64>,
    asked: Option<AccuracyKindName>,
) -> Result<HorizontalUncertainty, Stop> {
    match accuracy_m {
        Some(accuracy_m) => HorizontalUncertainty::given(accuracy_m, kind(asked))
            .map_err(|error| Stop::Usage(format!("--accuracy-m: {error}"))),
        None => Ok(HorizontalUncertainty::assumed()),
    }
}
