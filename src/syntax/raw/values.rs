//! Values that are more than a word or a number: quantities, readings, days.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer};

/// The `format` by which the schema marks a quantity, so that `syntax` lets a bare number through.
pub(crate) const QUANTITY: &str = "quantity";

/// A number with its unit, as written: "4 oz", "113 g", "24 ± 2 wpi".
///
/// `syntax` turns a bare number into its text, so that `check` can ask in words of the craft what it is a number of.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Quantity(pub String);

impl JsonSchema for Quantity {
    fn schema_name() -> Cow<'static, str> {
        "Quantity".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": QUANTITY,
            "description": "A number with its unit, as text: \"4 oz\", \"113 g\", \"24 ± 2 wpi\". \
                After ± stands the give-or-take that holds nineteen times in twenty.",
        })
    }
}

/// The `format` by which the schema marks a value that may be of any form.
pub(crate) const ANYTHING: &str = "anything";

/// Whatever the entry takes that it stands for: a text, a number, a list, a table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Anything(pub toml::Value);

impl JsonSchema for Anything {
    fn schema_name() -> Cow<'static, str> {
        "Anything".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "format": ANYTHING,
            "description": "Whatever the entry takes that it stands for: a text, a number, a list, a table.",
        })
    }
}

/// One reading, or several of the same thing: `"11 wpi"` or `["11 wpi", "12 wpi"]`.
///
/// `syntax` turns a single reading into a list of one; the place of each is the key with its index.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Readings(pub Vec<Quantity>);

impl JsonSchema for Readings {
    fn schema_name() -> Cow<'static, str> {
        "Readings".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let one = generator.subschema_for::<Quantity>();
        json_schema!({
            "description": "One reading, or several of the same thing: \"11 wpi\" or [\"11 wpi\", \"12 wpi\"].",
            "anyOf": [one, { "type": "array", "items": one }],
        })
    }
}

/// A day, written without quotes: 2026-03-02.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// The year, four digits.
    pub year: u16,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month; one that the month has.
    pub day: u8,
}

impl<'de> Deserialize<'de> for Date {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Date, D::Error> {
        let written = toml::value::Datetime::deserialize(deserializer)?;
        match (written.date, written.time) {
            (Some(date), None) => Ok(Date { year: date.year, month: date.month, day: date.day }),
            _ => Err(de::Error::custom("expected a day such as 2026-03-02")),
        }
    }
}

impl JsonSchema for Date {
    fn schema_name() -> Cow<'static, str> {
        "Date".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": "date",
            "description": "A day, written without quotes: 2026-03-02.",
        })
    }
}
