//! The JSON schema of the recipe file.

use crate::Pattern;

/// The schema of `recipe.json`, for readers outside and for the test that no step holds coordinates.
pub fn recipe_schema() -> serde_json::Value {
    schemars::schema_for!(Pattern).to_value()
}
