//! `figures`: the ledger, one figure a line.

use std::path::Path;

use clap::ValueEnum;
use serde_json::json;

use super::show::{answer, one};
use super::{End, How};
use crate::Worked;
use crate::figures::Line;
use crate::units::format::significant;
use crate::units::leading;

/// The form of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// One figure a line, in columns parted by spaces; stable, for `git diff`.
    Text,
    /// A JSON list.
    Json,
    /// Values parted by commas.
    Csv,
}

pub(super) fn figures(path: Option<&Path>, form: Form, how: How) -> End {
    match one(path, how) {
        Ok((worked, _)) => answer(&listed(&worked, form)),
        Err(end) => end,
    }
}

/// One figure with its numbers as text, in the unit that leads.
struct Row<'a> {
    line: &'a Line,
    value: String,
    low: String,
    high: String,
    unit: &'static str,
}

fn rows(worked: &Worked) -> Vec<Row<'_>> {
    worked
        .ledger
        .lines()
        .map(|line| {
            let unit = leading(line.kind, worked.plan.units);
            let text = |x: f64| significant(unit.from_base(x), 6);
            Row {
                line,
                value: text(line.value),
                low: text(line.bands.low),
                high: text(line.bands.high),
                unit: unit.symbol,
            }
        })
        .collect()
}

fn listed(worked: &Worked, form: Form) -> String {
    let rows = rows(worked);
    match form {
        Form::Text => rows.iter().map(text).collect(),
        Form::Csv => {
            std::iter::once("figure,value,unit,low,high,standing\n".to_owned()).chain(rows.iter().map(csv)).collect()
        }
        Form::Json => {
            let list: Vec<_> = rows.iter().map(object).collect();
            serde_json::to_string_pretty(&list).expect("invariant: text is always JSON") + "\n"
        }
    }
}

fn text(row: &Row) -> String {
    let unit = if row.unit.is_empty() { String::new() } else { format!(" {}", row.unit) };
    let spread = if row.line.has_spread() { format!("  {}..{}{unit}", row.low, row.high) } else { String::new() };
    format!("{}  {}{unit}{spread}  {}\n", row.line.name, row.value, row.line.standing.words())
}

fn csv(row: &Row) -> String {
    let quoted = |text: &str| {
        if text.contains([',', '"', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
    };
    let standing = row.line.standing.words();
    format!("{},{},{},{},{},{standing}\n", quoted(&row.line.name), row.value, quoted(row.unit), row.low, row.high)
}

fn object(row: &Row) -> serde_json::Value {
    let number = |text: &str| text.parse::<f64>().map_or(serde_json::Value::Null, serde_json::Value::from);
    json!({
        "figure": row.line.name,
        "words": row.line.words,
        "value": number(&row.value),
        "unit": row.unit,
        "low": number(&row.low),
        "high": number(&row.high),
        "standing": row.line.standing.words(),
        "source": row.line.source,
    })
}
