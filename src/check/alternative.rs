//! `[[alternative]]`: names of the changed plans, and what is wrong with one of them told at its place.

use super::report::Report;
use super::{limits, names, too_many};
use crate::diagnostics::{Code, Diagnostic, Part, Place, Spot};
use crate::plan::Alternative;
use crate::syntax::raw;

/// All alternatives in order of writing, `None` in place of one that has a fault.
pub(super) fn alternatives(plan: &raw::Plan, report: &mut Report) -> Vec<Option<Alternative>> {
    let all = Place::plan("alternative");
    too_many(plan.alternative.len(), limits::MOST_ALTERNATIVES, "alternatives", &all.index(0), report);
    let placed = plan.alternative.iter().enumerate();
    let named = placed.filter_map(|(i, raw)| Some((raw.name.as_deref()?, all.index(i).key("name"))));
    names::check_unique(named, "alternative", report);
    plan.alternative.iter().enumerate().map(|(i, raw)| one(raw, all.index(i), report)).collect()
}

fn one(raw: &raw::Alternative, place: Place, report: &mut Report) -> Option<Alternative> {
    if raw.name.as_deref().is_none_or(|name| name.trim().is_empty()) {
        report.missing("what the alternative is called is not said", place.key("name"), "write `name = \"two plies\"`");
    }
    if raw.set.is_empty() && raw.without.is_empty() && !report.was_refused(&place) {
        let message = "expected what is changed, found nothing";
        let fault = Diagnostic::new(Code::MissingKey, message, place.clone()).label("the plan as it is");
        report.fault(fault.help("write `set = { \"yarn.plies\" = 2 }`"));
    }
    let name = names::text(raw.name.as_deref(), &place.key("name"), report).filter(|name| !name.is_empty())?;
    let set = raw.set.iter().map(|(path, value)| (path.clone(), Some(value.0.to_string())));
    let without = raw.without.iter().map(|path| (path.clone(), None));
    Some(Alternative { name, changes: set.chain(without).collect(), place })
}

/// What is wrong with an alternative, told at the entry that changed it where that can be told.
pub fn told(fault: &Diagnostic, of: &Alternative) -> Diagnostic {
    let path = match &fault.primary.spot {
        Spot::Path(place, _) => place.path.as_str(),
        Spot::Bytes(..) => "",
    };
    let is_at =
        |changed: &str| path == changed || path.strip_prefix(changed).is_some_and(|rest| rest.starts_with(['.', '[']));
    let changed = of.changes.iter().find(|(changed, value)| value.is_some() && is_at(changed));
    // What is left out and then missed stands at or around the place that is told.
    let is_around =
        |left_out: &str| is_at(left_out) || left_out.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'));
    let mut without = of.changes.iter().filter(|(_, value)| value.is_none());
    let left_out = without.position(|(left_out, _)| !path.is_empty() && is_around(left_out));
    let place = match (changed, left_out) {
        (Some((path, _)), _) => of.place.key("set").key(path),
        (None, Some(i)) => of.place.key("without").index(i),
        (None, None) => of.place.key("name"),
    };
    let mut told = Diagnostic::new(fault.code, format!("in {:?}: {}", of.name, fault.message), place);
    told.primary.text = if changed.is_some() { fault.primary.text.clone() } else { "in this alternative".to_owned() };
    if changed.is_none() && !path.is_empty() {
        let also = crate::diagnostics::Label { spot: fault.primary.spot.clone(), text: fault.primary.text.clone() };
        told.secondary.push(also);
    }
    told.notes.clone_from(&fault.notes);
    told.help.clone_from(&fault.help);
    debug_assert!(matches!(told.primary.spot, Spot::Path(_, Part::Value)), "told at a value");
    told
}
