//! What `--accuracy-m` and `--accuracy-kind` mean.

use takeline::assess::{Remedy, Warning};
use takeline::{
    AccuracyKind, Assessment, Containment, HorizontalUncertainty, PrintedPrecision, Tristate,
    UncertaintySource, Undecided,
};

use crate::arguments::AccuracyKindName;
use crate::failure::Stop;

/// The kind as given, else the cautious reading.
pub(crate) fn kind(asked: Option<AccuracyKindName>) -> AccuracyKind {
    asked.map(AccuracyKind::from).unwrap_or_default()
}

/// The accuracy with half a step of the last printed digit, where that is coarser, and what to say of it.
pub(crate) fn with_rounding(
    uncertainty: HorizontalUncertainty,
    printed: PrintedPrecision,
) -> (HorizontalUncertainty, Option<Warning>) {
    let Some(rounded) = uncertainty.with_coarser_digits(printed) else { return (uncertainty, None) };
    let printed = printed.as_the_finer();
    let remark = Warning::FewDigits {
        north_south_m: printed.north_south().metres(),
        east_west_m: printed.east_west().metres(),
        is_counted: true,
    };
    (rounded, Some(remark))
}

/// As [`with_rounding`] for a position that was typed: beside it a given accuracy is taken as given, and what the digits leave
/// open is only told.
pub(crate) fn with_typed_rounding(
    uncertainty: HorizontalUncertainty,
    printed: PrintedPrecision,
) -> (HorizontalUncertainty, Option<Warning>) {
    let (rounded, remark) = with_rounding(uncertainty, printed);
    match (uncertainty.source(), remark) {
        (UncertaintySource::Given, Some(Warning::FewDigits { north_south_m, east_west_m, .. })) => {
            let remark = Warning::FewDigits { north_south_m, east_west_m, is_counted: false };
            (uncertainty, Some(remark))
        }
        (UncertaintySource::Given, _) => (uncertainty, None),
        (UncertaintySource::Assumed, remark) => (rounded, remark),
    }
}

/// Adds what is to be said of missing digits. Where they are counted as doubt and something is open, more of them come before
/// any move: they cost nothing. But where the place itself is doubted, no digits settle it, and how it was likely meant comes
/// first.
pub(crate) fn tell(assessment: &mut Assessment, remark: Option<Warning>, is_counted: bool) {
    let is_open = !assessment.settle.is_empty() || assessment.settling_move.is_some();
    let is_placed =
        !matches!(assessment.verdict().undecided.first(), Some(Undecided::Position | Undecided::Zones));
    // of a rule that is not written, or a season that is not known, no digits tell more
    let is_side_open = assessment.zones.iter().any(|zone| zone.containment == Containment::Undecided)
        || assessment.standoff_kept == Some(Tristate::Undecided);
    if remark.is_some() && is_counted && is_open && is_placed && is_side_open {
        assessment.settle.insert(0, Remedy::MoreDigits);
        assessment.settle_first = Some(Remedy::MoreDigits);
    }
    assessment.warnings.extend(remark);
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
