//! Reads one position. Longitude comes first in the files, and nowhere else.

use serde_json::Value;

use super::log::shown;
use crate::Position;

const POSITION_MEND: &str = "write [longitude, latitude] as two numbers in degrees";

/// Reads one position, longitude first; else what is wrong and how to mend it.
pub(crate) fn position(value: &Value) -> Result<Position, (String, String)> {
    let refuse = |text: String, mend: &str| Err((text, mend.to_owned()));
    let Some(numbers) = value.as_array() else {
        return refuse(format!("{} is no position", shown(value)), POSITION_MEND);
    };
    if let Some(odd) = numbers.iter().find(|number| !number.is_number()) {
        let mend = match odd {
            Value::String(_) => "take the quotes off, and write decimal degrees: 45.1167, not 45°07'N",
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::Array(_) | Value::Object(_) => {
                POSITION_MEND
            }
        };
        return refuse(format!("{} is no number", shown(odd)), mend);
    }
    let (2 | 3, Some(longitude_deg), Some(latitude_deg)) =
        (numbers.len(), numbers.first().and_then(Value::as_f64), numbers.get(1).and_then(Value::as_f64))
    else {
        let text = format!("{} holds {} numbers", shown(value), numbers.len());
        return refuse(text, "write two, [longitude, latitude], or three with a height");
    };
    Position::from_degrees(latitude_deg, longitude_deg).or_else(|refused| {
        refuse(refused.to_string(), "write the longitude first, then the latitude, in degrees")
    })
}
