//! The file's JSON Schema, made from the types.

use lodewright_kit::Plan;
use schemars::{Schema, generate::SchemaSettings, json_schema};
use serde_json::Value;

use super::envelope::Envelope;
use crate::{FORMAT, VERSION};

/// The schema's name: it stands for no address.
pub const SCHEMA_ID: &str = "urn:lodewright:plan:2";

/// The JSON Schema (2020-12) of a plan file of version [`VERSION`].
pub fn schema() -> Schema {
    let mut schema = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<Envelope<Plan>>();
    schema.insert("$id".to_owned(), Value::from(SCHEMA_ID));
    schema.insert("title".to_owned(), Value::from("Plan file"));
    if let Some(Value::Object(fields)) = schema.get_mut("properties") {
        fields.insert(
            "format".to_owned(),
            json_schema!({ "const": FORMAT }).into(),
        );
        fields.insert(
            "version".to_owned(),
            json_schema!({ "const": VERSION }).into(),
        );
    }
    schema
}
