//! `convert`: one quantity in the units of its kind.

use super::End;
use super::show::{answer, refused};
use crate::units;

pub(super) fn convert(quantity: &str, unit: Option<&str>) -> End {
    match units::convert(quantity, unit) {
        Ok(rows) => {
            let widest = rows.iter().map(|row| row.number.chars().count()).max().unwrap_or(0);
            let lines: Vec<String> = rows
                .iter()
                .map(|row| {
                    let give = row.give_or_take.as_ref().map_or_else(String::new, |give| format!(" ± {give}"));
                    format!("{:>widest$}{give} {}", row.number, row.unit.symbol).trim_end().to_owned()
                })
                .collect();
            answer(&(lines.join("\n") + "\n"))
        }
        Err(error) => refused(&error.to_string()),
    }
}
