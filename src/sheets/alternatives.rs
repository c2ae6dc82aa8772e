//! Alternatives: the plan and the same with some entries changed, side by side.
//!
//! Records for `templates/sheets/alternatives.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::Page;

/// The sheet, one page where there are few.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Alternatives {
    /// What every page needs.
    pub page: Page,
    /// The plan first, then up to three alternatives; a new block for each three more.
    pub blocks: Vec<Block>,
}

/// The plan beside some alternatives.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Block {
    /// What stands side by side: the plan and one to three alternatives.
    pub columns: Vec<Column>,
    /// What differs, by groups.
    pub groups: Vec<Group>,
}

/// One of the things that stand side by side.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Column {
    /// Its name: "as planned", "two plies".
    pub name: String,
    /// What is changed in it, one line each: "yarn.plies = 2"; none of the plan.
    pub changes: Vec<String>,
}

/// Rows that belong together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Group {
    /// Its heading: "yarn", "pullover".
    pub name: String,
    /// Its rows; never empty.
    pub rows: Vec<Row>,
}

/// One thing that differs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Row {
    /// What it is: "grist", "short in 100".
    pub name: String,
    /// One cell for each column.
    pub cells: Vec<Cell>,
}

/// One cell.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Cell {
    /// The likely value, or words; "–" where there is none.
    pub value: String,
    /// Its unit; `None` where it has none.
    pub unit: Option<String>,
    /// A second line: the other system, or low to high.
    pub note: Option<String>,
    /// Whether it differs from the plan's.
    pub differs: bool,
}
