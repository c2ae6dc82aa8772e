//! The tables of a class: who is in it and what is practised.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;

use super::Units;
use crate::plan;

/// A class that the plan is handed out to, each student with numbers of their own.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Class {
    /// How many students there are. Left out where they are listed by name.
    #[schemars(range(min = 1, max = 100), example = 8)]
    pub students: Option<i64>,
    /// The students by name, one `[[class.student]]` for each; a new one is added at the end, so that nobody's numbers change.
    #[serde(default)]
    pub student: Vec<Student>,
    /// What is practised, in any order; the sheets have it in the order of learning.
    #[schemars(example = EXERCISES)]
    pub exercises: Option<Vec<Exercise>>,
    /// The units of students who say none; those of the plan where it is left out.
    pub units: Option<Units>,
}

/// One student.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Student {
    /// What they are called on their sheet.
    #[schemars(example = &"Fern")]
    pub name: Option<String>,
    /// The units that they measure in.
    pub units: Option<Units>,
}

/// The name of an exercise.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Exercise(pub String);

impl JsonSchema for Exercise {
    fn schema_name() -> Cow<'static, str> {
        "Exercise".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<&str> = plan::Exercise::ALL.iter().map(|exercise| exercise.key()).collect();
        json_schema!({ "type": "string", "enum": words, "description": "The name of an exercise." })
    }
}

const EXERCISES: [&str; 3] = ["ratio", "ply-back", "grist"];
