//! Marks as they are typed: a landmark of a file, or a position.

use std::ffi::OsString;
use std::path::Path;

use takeline::landmark::Landmark;
use takeline::landmark_file::{self, LoadedLandmarks};
use takeline::transit::{Eye, RangeLine, TransitError};
use takeline::{Arcminutes, HorizontalUncertainty, Metres, Position, UncertaintySource};
use takeline_report::words::{English, Words};

use super::arguments::{EYE_HEIGHT_M, EyeArguments, PairArguments};
use crate::accuracy::with_rounding;
use crate::bounded::read_whole;
use crate::failure::{Stop, first_faults, say, say_all};
use crate::words_meant::unquoted_position;

/// Where marks are looked up.
#[derive(Debug)]
pub(crate) struct Marks {
    file: Option<LoadedLandmarks>,
}

impl Marks {
    /// Reads the file of landmarks, if one is given.
    pub(crate) fn open(path: Option<&Path>) -> Result<Self, Stop> {
        Ok(Self { file: path.map(load).transpose()? })
    }

    /// Returns the mark that a word or a position stands for, with the error that was typed; `option` is what it was typed
    /// behind.
    pub(crate) fn get(&self, option: &str, typed: &str, error_m: Option<f64>) -> Result<Landmark, Stop> {
        let mut mark = self.find(option, typed, error_m)?;
        if let Some(error_m) = error_m {
            mark.position_error_95 = length("--mark-error-m", Metres::non_negative(error_m))?;
            mark.position_error_source = UncertaintySource::Given;
        }
        Ok(mark)
    }

    fn find(&self, option: &str, typed: &str, error_m: Option<f64>) -> Result<Landmark, Stop> {
        let asked = typed.trim();
        let not_found = match self.file.as_ref().map(|file| file.find(asked)) {
            Some(Ok(landmark)) => return Ok(landmark.clone()),
            Some(Err(error)) => Some(error.to_string()),
            None => None,
        };
        // what begins like a number is a position, whatever is wrong with it
        let is_position =
            asked.starts_with(|letter: char| letter.is_ascii_digit() || "+-NSEWnsew°".contains(letter));
        match Position::parse(asked) {
            Ok(parsed) => {
                for warning in &parsed.warnings {
                    say(&format!("{option}: warning: {warning}"));
                }
                // of several lines of position, that one which has a mark at this place
                let name = if matches!(option, "--front" | "--rear") { &option[2..] } else { asked };
                // an error that was typed is taken as it stands
                let assumed = HorizontalUncertainty::assumed();
                if let (None, (_, Some(remark))) = (error_m, with_rounding(assumed, parsed.precision)) {
                    say(&format!("{option}: warning: {}", English.warning(&remark)));
                }
                Ok(Landmark::at_printed(name, parsed.position, parsed.precision))
            }
            Err(error) if is_position => Err(Stop::Usage(match not_found {
                Some(not_found) => format!("{option}: {not_found}; as a position: {error}"),
                None => format!("{option}: {error}"),
            })),
            Err(_) => Err(Stop::Usage(format!(
                "{option}: {}",
                not_found.unwrap_or_else(|| format!(
                    "“{asked}” is not a position; to use a landmark by its name, give --landmarks FILE"
                ))
            ))),
        }
    }
}

/// Reads a file of landmarks; warnings go to standard error.
pub(crate) fn load(path: &Path) -> Result<LoadedLandmarks, Stop> {
    let shown = path.display().to_string();
    let bytes = read_whole(path, landmark_file::MOST_BYTES)?;
    let loaded = landmark_file::read(&shown, &bytes)
        .map_err(|error| Stop::Unreadable(first_faults(&error.path, &error.faults, error.more)))?;
    say_all(format!("warnings about {shown}"), &loaded.warnings, |warning| {
        format!("{shown}: warning: {warning}")
    });
    Ok(loaded)
}

/// The range line of the two marks that are asked for.
pub(crate) fn range_line(asked: &PairArguments) -> Result<RangeLine, Stop> {
    let marks = Marks::open(asked.landmarks.as_deref())?;
    let mut front = marks.get("--front", &asked.front, asked.mark_error_m)?;
    let mut rear = marks.get("--rear", &asked.rear, asked.mark_error_m)?;
    for (mark, height_m, option) in [
        (&mut front, asked.front_height_m, "--front-height-m"),
        (&mut rear, asked.rear_height_m, "--rear-height-m"),
    ] {
        if let Some(height_m) = height_m {
            mark.height = Some(length(option, Metres::new(height_m))?);
        }
    }
    RangeLine::through(front, rear).map_err(|error| Stop::Usage(error.to_string()))
}

/// The eye that was asked for.
pub(crate) fn eye(asked: &EyeArguments) -> Result<Eye, Stop> {
    let height = length("--eye-height-m", Metres::new(asked.eye_height_m.unwrap_or(EYE_HEIGHT_M)))?;
    let threshold =
        Arcminutes::new(asked.eye_arcmin).map_err(|error| Stop::Usage(format!("--eye-arcmin: {error}")))?;
    let refused = |option: &str, error: TransitError| Stop::Usage(format!("{option}: {error}"));
    Eye::new(height, Eye::default().threshold()).map_err(|error| refused("--eye-height-m", error))?;
    Eye::new(height, threshold).map_err(|error| refused("--eye-arcmin", error))
}

/// A position typed behind an option.
pub(crate) fn position(option: &str, typed: &str) -> Result<Position, Stop> {
    let parsed = Position::parse(typed).map_err(|error| {
        let words: Vec<OsString> = std::env::args_os().collect();
        let unquoted = unquoted_position(words.iter().filter_map(|word| word.to_str()));
        Stop::Usage(unquoted.unwrap_or_else(|| format!("{option}: {error}")))
    })?;
    for warning in &parsed.warnings {
        say(&format!("{option}: warning: {warning}"));
    }
    Ok(parsed.position)
}

/// A length typed behind an option.
pub(crate) fn length(option: &str, typed: Result<Metres, takeline::InvalidLength>) -> Result<Metres, Stop> {
    typed.map_err(|error| Stop::Usage(format!("{option}: {error}")))
}
