//! The small pieces of wire types in the words of JSON Schema.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Value, json};

use super::{Slot, Vocabulary, Word, YesNo};

/// The names of members that are the writer's own business, as [`super::is_remark`] has them.
pub(crate) fn remarks() -> Value {
    json!({ "^x-": true, "^(comment|description|note)$": true })
}

impl<T: JsonSchema> JsonSchema for Slot<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

impl<V: Vocabulary> JsonSchema for Word<V> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Word".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "enum": Self::choices() })
    }
}

impl JsonSchema for YesNo {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "YesNo".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "enum": [true, false, "unstated"] })
    }
}
