//! Objects of a format as they are written: one Rust type for each.

use std::collections::BTreeMap;

use serde_json::Value;

/// An object of the format, with the members it knows and those it does not.
pub trait WireObject {
    /// The names of its members.
    const KEYS: &'static [&'static str];

    /// Returns the members whose names it does not know.
    fn other(&self) -> &BTreeMap<String, Value>;
}

/// Whether a member with this name is the writer's own business: a remark, or a name that starts with `x-`.
pub(crate) fn is_remark(key: &str) -> bool {
    key.starts_with("x-") || matches!(key, "comment" | "description" | "note")
}

/// Declares an object of the format: each member a slot, unknown members kept, the schema closed but for remarks.
macro_rules! wire_object {
    (
        $(#[$outer:meta])*
        $vis:vis $name:ident { $($(#[$inner:meta])* $key:ident: $type:ty,)+ }
    ) => {
        #[derive(Debug, Clone, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        $(#[$outer])*
        #[cfg_attr(feature = "schema", schemars(extend("additionalProperties" = false, "patternProperties" = crate::geojson_text::remarks())))]
        $vis struct $name {
            $(
                $(#[$inner])*
                #[serde(default, skip_serializing_if = "Slot::is_missing")]
                $vis $key: Slot<$type>,
            )+
            /// Members under names that the format does not know.
            #[serde(flatten)]
            #[cfg_attr(feature = "schema", schemars(skip))]
            $vis other: std::collections::BTreeMap<String, serde_json::Value>,
        }

        impl crate::geojson_text::WireObject for $name {
            const KEYS: &'static [&'static str] = &[$(stringify!($key)),+];

            fn other(&self) -> &std::collections::BTreeMap<String, serde_json::Value> {
                &self.other
            }
        }
    };
}

pub(crate) use wire_object;
