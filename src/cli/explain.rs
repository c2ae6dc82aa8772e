//! `explain`: one figure, from formula to plan lines; or the document of one kind of fault.

use std::path::Path;

use super::show::{answer, one, refused};
use super::{End, How};
use crate::diagnostics::render::Locate;
use crate::diagnostics::{Code, Part, Place, Spot};
use crate::figures::expression::{Node, Op, text};
use crate::figures::ledger::{How as Came, Said, Source};
use crate::figures::{Ledger, Line};
use crate::syntax::Places;
use crate::units::format::{decimals, significant, with_unit};
use crate::units::{System, leading};

pub(super) fn explain(what: &str, path: Option<&Path>, how: How) -> End {
    if let Some(code) = Code::ALL.iter().find(|code| code.slug() == what) {
        return answer(code.document());
    }
    match one(path, how) {
        Ok((worked, outcome)) => match worked.ledger.find(what) {
            Some(line) => answer(&explained(line, &worked.ledger, worked.plan.units, &outcome.places)),
            None => refused(&no_such(what, &worked.ledger)),
        },
        Err(end) => end,
    }
}

fn no_such(what: &str, ledger: &Ledger) -> String {
    let near = ledger
        .lines()
        .map(|line| (strsim::damerau_levenshtein(&line.name, what), line.name.as_str()))
        .min()
        .filter(|(apart, name)| *apart * 3 <= name.chars().count());
    let hint =
        near.map_or_else(|| "`wheelsheet figures` lists them all".to_owned(), |(_, name)| format!("is {name} meant?"));
    format!("there is no figure and no fault called {}; {hint}", what.escape_debug())
}

fn explained(line: &Line, ledger: &Ledger, system: System, places: &Places) -> String {
    let unit = leading(line.kind, system);
    let shown = |x: f64| with_unit(&significant(unit.from_base(x), 5), unit);
    let mut told = vec![format!("{}: {}", line.name, line.words), String::new()];
    match &line.how {
        Came::Formula(node) => {
            let worked = text::line(node, system, 5);
            told.push(format!("  = {}", worked.words));
            told.push(format!("  = {}", worked.numbers));
            told.push(format!("  = {} {}", worked.result, worked.unit).trim_end().to_owned());
        }
        Came::Counted { words, .. } => told.push(format!("  {words}")),
    }
    told.push(String::new());
    told.push(format!("value     {}", shown(line.value)));
    if line.has_spread() {
        told.push(format!("spread    {} to {} in eight tries of ten", shown(line.bands.low), shown(line.bands.high)));
    }
    told.push(format!("standing  {}", line.standing.words()));
    told.push(format!("source    {}", line.source));
    let inputs = inputs(line, ledger, system, places);
    if !inputs.is_empty() {
        told.push(String::new());
        told.push("made of".to_owned());
        told.extend(inputs);
    }
    let shares = ledger.shares(&line.name);
    if !shares.is_empty() {
        told.push(String::new());
        told.push("its spread comes from".to_owned());
        told.extend(
            shares
                .iter()
                .take(10)
                .filter(|(_, share)| *share >= 0.001)
                .map(|(place, share)| format!("  {:>5} %  {}", decimals(share * 100.0, 1), ledger.source(place).words)),
        );
    }
    told.join("\n") + "\n"
}

fn inputs(line: &Line, ledger: &Ledger, system: System, places: &Places) -> Vec<String> {
    match &line.how {
        Came::Formula(node) => {
            text::inputs(node).iter().filter_map(|input| input_of(input, ledger, system, places)).collect()
        }
        Came::Counted { of, .. } => of.iter().map(|name| figure_of(ledger.get(name), system)).collect(),
    }
}

fn input_of(input: &Node, ledger: &Ledger, system: System, places: &Places) -> Option<String> {
    match input.op() {
        Op::Named(named) => Some(figure_of(ledger.get(&named.name), system)),
        Op::Entry(entry) => ledger.find_source(&entry.place).map(|source| entry_of(source, places)),
        Op::Constant(_) | Op::Apply(_) => None,
    }
}

fn figure_of(line: &Line, system: System) -> String {
    let unit = leading(line.kind, system);
    format!("  {}: {}  ({})", line.words, with_unit(&significant(unit.from_base(line.value), 5), unit), line.name)
}

fn entry_of(source: &Source, places: &Places) -> String {
    let from = match (source.said, &source.place) {
        (Said::Entry, Some(place)) => at(place, places),
        (Said::Measured, Some(place)) => format!("measured, {}", at(place, places)),
        (Said::Default(standing, reason), Some(place)) => {
            format!("left out ({}), {}: {reason}", place.path, standing.words())
        }
        (Said::Default(standing, reason), None) => format!("{}: {reason}", standing.words()),
        (Said::Choice(reason), _) => format!("chosen: {reason}"),
        (Said::Entry | Said::Measured, None) => "the plan".to_owned(),
    };
    format!("  {}: {}  ({from})", source.words, source.text)
}

/// File and line of a place.
fn at(place: &Place, places: &Places) -> String {
    let range = places.range(&Spot::Path(place.clone(), Part::Value));
    let line = 1 + places.text(place.file)[..range.start].matches('\n').count();
    format!("{}:{line}", places.name(place.file))
}
