//! `explain`: one figure, from formula to plan lines; or the document of one kind of fault.

use std::collections::{BTreeSet, VecDeque};
use std::path::Path;

use indexmap::IndexSet;

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
    let names: Vec<&str> = ledger.lines().map(|line| line.name.as_str()).collect();
    let like: Vec<&str> = names.iter().copied().filter(|name| name.starts_with(what)).take(5).collect();
    let near = names
        .iter()
        .map(|name| (strsim::damerau_levenshtein(name, what), *name))
        .min()
        .filter(|(apart, name)| *apart * 3 <= name.chars().count());
    let hint = match near {
        _ if !like.is_empty() => format!("there is {}", like.join(", ")),
        Some((_, name)) => format!("is {name} meant?"),
        None => "`wheelsheet figures` lists them all".to_owned(),
    };
    format!("there is no figure and no fault called {}; {hint}", what.escape_debug())
}

fn explained(line: &Line, ledger: &Ledger, system: System, places: &Places) -> String {
    let unit = leading(line.kind, system);
    let shown = |x: f64| with_unit(&significant(unit.from_base(x), 5), unit);
    let mut told = vec![format!("{}: {}", line.name, line.words), String::new()];
    match &line.how {
        Came::Formula(node) => {
            let worked = text::line(node, system, 5);
            let result = format!("{} {}", worked.result, worked.unit).trim_end().to_owned();
            told.push(format!("  = {}", worked.words));
            told.extend((worked.numbers != result).then(|| format!("  = {}", worked.numbers)));
            told.push(format!("  = {result}"));
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
    told.extend(rests_on(line, ledger, places));
    told.join("\n") + "\n"
}

/// Every entry that goes into a figure, directly or through other figures: first those that its spread comes from.
fn rests_on(line: &Line, ledger: &Ledger, places: &Places) -> Vec<String> {
    let shares = ledger.shares(&line.name);
    let without = entries(line, ledger).into_iter().filter(|place| shares.iter().all(|(other, _)| other != place));
    let all =
        shares.iter().cloned().map(|(place, share)| (place, Some(share))).chain(without.map(|place| (place, None)));
    let column = |share: Option<f64>| match share {
        _ if shares.is_empty() => String::new(),
        Some(share) => format!("  {:>5} %", decimals(share * 100.0, 1)),
        None => " ".repeat(9),
    };
    let entries: Vec<String> =
        all.filter_map(|(place, share)| Some(column(share) + &entry_of(ledger.find_source(&place)?, places))).collect();
    let heading = match (entries.is_empty(), shares.is_empty()) {
        (true, _) => return entries,
        (false, true) => "rests on",
        (false, false) => "rests on, with the part of its spread that comes from each",
    };
    [String::new(), heading.to_owned()].into_iter().chain(entries).collect()
}

/// The places of those entries, in the order in which they are come upon.
fn entries(line: &Line, ledger: &Ledger) -> IndexSet<String> {
    let mut places = IndexSet::new();
    let mut seen = BTreeSet::from([line.name.clone()]);
    let mut waiting = VecDeque::from([line]);
    while let Some(line) = waiting.pop_front() {
        let mut below = Vec::new();
        match &line.how {
            Came::Counted { of, .. } => below.extend(of.iter().cloned()),
            Came::Formula(node) => {
                for input in text::inputs(node) {
                    match input.op() {
                        Op::Entry(entry) => drop(places.insert(entry.place.clone())),
                        Op::Named(named) => below.push(named.name.clone()),
                        Op::Constant(_) | Op::Apply(_) => {}
                    }
                }
            }
        }
        waiting.extend(below.into_iter().filter(|name| seen.insert(name.clone())).map(|name| ledger.get(&name)));
    }
    places
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
