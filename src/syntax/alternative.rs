//! Alternatives: the plan with some entries changed, as trees of their own.
//!
//! Entries are changed in the tree that fits the shapes and read once more, so that an alternative is refused by the same rules as a
//! plan. What is wrong is told at the entry that changed it.

use toml::de::DeTable;
use toml::{Table, Value};

use super::raw;
use super::walk;
use crate::diagnostics::{Code, Diagnostic, File, Place};
use crate::syntax::places::Places;

/// The trees of one alternative.
#[derive(Debug, Clone)]
pub struct Alternative {
    /// The plan as changed.
    pub plan: raw::Plan,
    /// The log, without what belongs to the plan as it was.
    pub log: raw::Log,
}

/// The alternatives in order of writing, `None` in place of one that has a fault. Both tables fit the shapes.
pub(super) fn alternatives(
    written: &[raw::Alternative],
    plan: &Table,
    log: &Table,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Option<Alternative>> {
    let one = |(i, raw): (usize, &raw::Alternative)| {
        let place = Place::plan("alternative").index(i);
        changed(raw, plan.clone(), log.clone(), &place, faults)
    };
    written.iter().enumerate().map(one).collect()
}

fn changed(
    raw: &raw::Alternative,
    mut plan: Table,
    mut log: Table,
    place: &Place,
    faults: &mut Vec<Diagnostic>,
) -> Option<Alternative> {
    // Beliefs are of the plan as it is.
    for key in ["alternative", "expect"] {
        plan.remove(key);
    }
    // So are weighings of what is being made.
    log.remove("weighing");
    let n_before = faults.len();
    for (i, path) in raw.without.iter().enumerate() {
        if keys(path).and_then(|keys| removed(&mut plan, &keys)).is_none() {
            let message = format!("expected an entry of the plan, found {path:?}");
            let fault = Diagnostic::new(Code::UnknownName, message, place.key("without").index(i));
            faults.push(fault.label("the plan has no such entry").help("take it out: there is nothing to leave out"));
        }
    }
    if ["yarn.plies", "yarn.ply-from", "yarn.cabled"].iter().any(|key| raw.set.contains_key(*key)) {
        other_plies(&mut plan, &mut log);
    }
    if raw.set.keys().chain(&raw.without).any(|path| is_of_another_yarn(path)) {
        // What was spun so far was spun for the yarn as it is planned.
        for spun in ["bobbin", "skein"] {
            log.remove(spun);
        }
    }
    for (path, value) in &raw.set {
        let at = place.key("set").key(path);
        let Some(keys) = keys(path) else {
            let message = format!("expected the path of an entry, found {path:?}");
            faults.push(Diagnostic::new(Code::UnknownKey, message, at).label("no path").help("such as \"yarn.plies\""));
            continue;
        };
        if let Some(fault) = astray(&plan, &keys, &value.0, &at) {
            faults.push(fault);
            continue;
        }
        insert(&mut plan, &keys, value.0.clone());
        // One after the other, so that what is wrong is told where it was brought in.
        let found = read::<raw::Plan>(File::Plan, &plan).1;
        faults.extend(found.into_iter().map(|fault| told(&fault, at.clone())));
        if faults.len() > n_before {
            return None;
        }
    }
    let (plan, found) = read(File::Plan, &plan);
    faults.extend(found.iter().map(|fault| told(fault, place.clone())));
    (faults.len() == n_before).then(|| Alternative { plan, log: read(File::Log, &log).0 })
}

/// Whether an entry says which yarn is spun, or how it is shared out on bobbins: what was measured of the plan's own tells nothing then.
fn is_of_another_yarn(path: &str) -> bool {
    const TABLES: [&str; 7] =
        ["yarn", "fibre", "braid", "ply-plan", "plying", "wheel.bobbin-holds", "wheel.bobbins-owned"];
    TABLES.iter().any(|table| path == *table || path.strip_prefix(table).is_some_and(|rest| rest.starts_with('.')))
}

/// A path that leads to a new table where one of the plan is meant, or a table in place of an entry: a slip in writing it.
fn astray(plan: &Table, keys: &[String], value: &Value, at: &Place) -> Option<Diagnostic> {
    if let ([table], Value::Table(entries)) = (keys, value) {
        let entry = entries.keys().next().map_or("plies", String::as_str);
        let message = format!("expected an entry of the plan, found all of [{table}]");
        let fault = Diagnostic::new(Code::WrongType, message, at.clone()).label("a table");
        return Some(fault.help(format!("write the path of the entry in quotes: `\"{table}.{entry}\" = ...`")));
    }
    let [table, name, _, ..] = keys else { return None };
    let named = plan.get(table).and_then(Value::as_table);
    let is_named = matches!(table.as_str(), "fibre" | "braid" | "garment" | "trim");
    if !is_named || named.is_some_and(|named| named.contains_key(name)) {
        return None;
    }
    let message = format!("expected the name of a {table} of the plan, found {name:?}");
    let fault = Diagnostic::new(Code::UnknownName, message, at.clone()).label(format!("no {table} has this name"));
    let known: Vec<String> = named.into_iter().flat_map(Table::keys).map(|name| format!("{name:?}")).collect();
    Some(fault.help(if known.is_empty() {
        format!("the plan has no {table}")
    } else {
        format!("the plan has {}", known.join(", "))
    }))
}

/// A fault of the changed tree, at the entry of the alternative.
fn told(fault: &Diagnostic, place: Place) -> Diagnostic {
    let told = Diagnostic::new(fault.code, fault.message.clone(), place).label("changed here");
    match &fault.help {
        Some(help) => told.help(help.clone()),
        None => told,
    }
}

/// A tree read once more, and what does not fit.
fn read<T: serde::de::DeserializeOwned>(file: File, table: &Table) -> (T, Vec<Diagnostic>) {
    let text = table.to_string();
    let (parsed, _) = DeTable::parse_recoverable(&text);
    let mut faults = Vec::new();
    let sound = walk::walk(file, &parsed, &mut Places::default(), &mut faults);
    (sound.try_into().expect("invariant: the walk keeps only what fits the shapes of raw"), faults)
}

/// With other plies, what was said of the former ones is gone: how they are put together, samples to spin to, strips that were torn.
fn other_plies(plan: &mut Table, log: &mut Table) {
    plan.remove("ply-plan");
    let garments = plan.get_mut("garment").and_then(Value::as_table_mut);
    let pieces = garments
        .into_iter()
        .flat_map(|garments| garments.iter_mut())
        .filter_map(|(_, garment)| garment.get_mut("piece").and_then(Value::as_table_mut));
    for (_, piece) in pieces.flat_map(|pieces| pieces.iter_mut()) {
        piece.as_table_mut().map(|piece| piece.remove("ply-plan"));
    }
    // What was spun so far was spun for the former plies.
    for spun in ["strips", "bobbin", "skein"] {
        log.remove(spun);
    }
    let samples = log.get_mut("sample").and_then(Value::as_array_mut);
    for sample in samples.into_iter().flatten() {
        sample.as_table_mut().map(|sample| sample.remove("chosen"));
    }
}

/// The keys of a path, read as TOML reads them.
fn keys(path: &str) -> Option<Vec<String>> {
    let mut table = format!("{path} = 0").parse::<Table>().ok()?;
    let mut keys = Vec::new();
    loop {
        let mut entries = table.into_iter();
        let (Some((key, value)), None) = (entries.next(), entries.next()) else { return None };
        keys.push(key);
        match value {
            Value::Table(below) => table = below,
            Value::Integer(0) => return Some(keys),
            _ => return None,
        }
    }
}

fn removed(table: &mut Table, keys: &[String]) -> Option<()> {
    let (last, above) = keys.split_last()?;
    let mut table = table;
    for key in above {
        table = table.get_mut(key)?.as_table_mut()?;
    }
    table.remove(last).map(|_| ())
}

/// Puts a value at a path; a value in its way gives place to a table, and the shapes tell what is wrong with that.
fn insert(table: &mut Table, keys: &[String], value: Value) {
    let Some((last, above)) = keys.split_last() else { return };
    let mut table = table;
    for key in above {
        let below = table.entry(key.clone()).or_insert_with(|| Value::Table(Table::new()));
        if !below.is_table() {
            *below = Value::Table(Table::new());
        }
        table = below.as_table_mut().expect("invariant: made a table above");
    }
    table.insert(last.clone(), value);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_read_as_toml_reads_them() {
        assert_eq!(keys("yarn.plies"), Some(vec!["yarn".to_owned(), "plies".to_owned()]));
        assert_eq!(keys("garment.\"my hat\".stitch").map(|keys| keys[1].clone()), Some("my hat".to_owned()));
        for path in ["", "yarn..plies", "yarn.plies = 2\nwheel", "[yarn]"] {
            assert_eq!(keys(path), None, "{path}");
        }
    }
}
