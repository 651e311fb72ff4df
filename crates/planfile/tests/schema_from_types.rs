//! The published schema is the one that the types give. `UPDATE_SCHEMA=1` rewrites it.

use std::path::Path;

#[test]
fn the_published_schema_is_that_of_the_types() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("plan.schema.json");
    let fresh = serde_json::to_string_pretty(&lodewright_planfile::schema()).unwrap() + "\n";
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &fresh).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    let value = |text: &str| serde_json::from_str::<serde_json::Value>(text).unwrap();
    assert_eq!(
        value(&kept),
        value(&fresh),
        "run this test with UPDATE_SCHEMA=1 to rewrite the file"
    );
}

#[test]
fn the_schema_is_of_the_draft_it_says_and_has_its_name() {
    let schema = lodewright_planfile::schema();
    // Outside check: the validator crate holds the draft's own schema of schemas.
    jsonschema::meta::validate(schema.as_value()).unwrap();
    assert_eq!(schema.get("$id").unwrap(), lodewright_planfile::SCHEMA_ID);
    assert_eq!(
        schema.get("$schema").unwrap(),
        "https://json-schema.org/draft/2020-12/schema"
    );
}
