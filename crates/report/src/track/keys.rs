//! How values stand in the JSON: numbers in the unit of their key, and words of the contract.
#![expect(clippy::trivially_copy_pass_by_ref, reason = "serde gives a reference to each field")]

use serde::{Serialize, Serializer};
use takeline::{Metres, TakeAnswer, Tristate};

use crate::ExitStatus;
use crate::here::{answer, answer_key};

pub(super) fn metres<S: Serializer>(length: &Metres, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64(length.metres())
}

#[expect(clippy::ref_option, reason = "serde gives a reference to the field")]
pub(super) fn metres_or_null<S: Serializer>(
    length: &Option<Metres>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    length.map(Metres::metres).serialize(serializer)
}

pub(super) fn tristate<S: Serializer>(tristate: &Tristate, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(answer(*tristate))
}

pub(super) fn take_answer<S: Serializer>(answer: &TakeAnswer, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(answer_key(*answer))
}

pub(super) fn status<S: Serializer>(status: &ExitStatus, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_u8(status.code())
}
