//! Taking the derivations out, so that nothing downstream can lean on them.

use crate::Pattern;

impl Pattern {
    /// The same pattern without any derivation. A rehearsal of it comes out the same.
    ///
    /// Works on the JSON form, so that no size anywhere can be forgotten.
    pub fn without_whys(&self) -> Pattern {
        let stripped = serde_json::to_value(self).map(|mut value| {
            strip(&mut value);
            value
        });
        let mut pattern = stripped
            .and_then(serde_json::from_value)
            .unwrap_or_else(|_| self.clone());
        pattern.whys.clear();
        pattern
    }
}

fn strip(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(fields) => {
            fields.remove("why");
            fields.values_mut().for_each(strip);
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(strip),
        _ => {}
    }
}
