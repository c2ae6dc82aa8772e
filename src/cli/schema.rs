//! `schema`: the JSON Schema of a plan, of a log, or of what the template of a sheet gets.

use super::End;
use super::show::answer;
use crate::diagnostics::File;
use crate::document::Sheet;
use crate::syntax;

/// What a schema is of.
#[derive(Debug, Clone, Copy)]
pub(super) enum Of {
    File(File),
    Sheet(Sheet),
}

/// What a word of the command line names.
pub(super) fn of(word: &str) -> Result<Of, String> {
    match word {
        "plan" => Ok(Of::File(File::Plan)),
        "log" => Ok(Of::File(File::Log)),
        _ => Sheet::named(word).map(Of::Sheet).map_err(|sheets| format!("expected plan, log or a sheet: {sheets}")),
    }
}

pub(super) fn schema(of: Of) -> End {
    let schema = match of {
        Of::File(file) => syntax::schema(file),
        Of::Sheet(sheet) => sheet.schema(),
    };
    answer(&(serde_json::to_string_pretty(&schema).expect("invariant: a schema is always JSON") + "\n"))
}
