//! What can still be wrong once a plan is sound: a figure that is not finite, and a belief that does not hold.

use super::expression::{Node, Op, text};
use super::ledger::{Book, Columns, Ledger, Said};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Expect, Plan};
use crate::units::format::{percent, significant, with_unit};
use crate::units::{Kind, Loft, Share, System, leading, parse, unit};
use std::sync::Arc;

/// The first figure whose nominal value is not finite, with the entries that it was made of.
pub(super) fn not_finite(book: &Book) -> Option<Diagnostic> {
    let (_, node) = book.lines().find(|(_, node)| !node.value().is_finite())?;
    Some(impossible(book, node))
}

/// The first figure of which some draw is not finite: a spread that reaches what cannot be.
pub(super) fn spread_too_wide(book: &Book, columns: &Columns) -> Option<Diagnostic> {
    let name = columns.not_finite()?;
    let (_, node) = book.lines().find(|(other, _)| *other == name)?;
    Some(impossible(book, node).note("at the edge of its spread some entry asks for what cannot be"))
}

fn impossible(book: &Book, node: &Arc<Node>) -> Diagnostic {
    let places = entries(book, node);
    let place = places.first().cloned().unwrap_or_else(|| Place::plan(""));
    let mut fault = Diagnostic::new(
        Code::Impossible,
        format!("{} cannot be worked out from these entries", text::noun(node)),
        place,
    )
    .label("this, with what else is marked, has no finite answer")
    .note(format!("{} = {}", text::noun(node), text::words(node)))
    .help("look for an entry, or a ±, that is far too great or far too small");
    for place in places.iter().skip(1).take(2) {
        fault = fault.also(place.clone(), "together with this");
    }
    fault
}

/// Places of the entries below a node: those that are written before those that are defaults, the widest spread first.
fn entries(book: &Book, node: &Arc<Node>) -> Vec<Place> {
    let mut found: Vec<(bool, f64, Place)> = Vec::new();
    let mut queue = std::collections::VecDeque::from([node]);
    while let Some(node) = queue.pop_front() {
        queue.extend(node.below());
        let Op::Entry(entry) = node.op() else { continue };
        let Some(source) = book.source(&entry.place) else { continue };
        let Some(place) = &source.place else { continue };
        let is_default = !matches!(source.said, Said::Entry | Said::Measured);
        if found.iter().all(|(_, _, other)| other != place) {
            found.push((is_default, -entry.uncertainty / entry.value.abs(), place.clone()));
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    found.into_iter().map(|(_, _, place)| place).collect()
}

/// Lofts that yarns can have, in wpi/√(yd/lb); our choice, as for the targets of a plan.
const LOFTS: std::ops::RangeInclusive<f64> = 0.25..=0.65;

/// What of a wound loop a wash can leave; our choice, generous.
const KEPT: std::ops::RangeInclusive<f64> = 0.5..=1.2;

/// Readings of the chosen sample that cannot be of one yarn.
pub(super) fn sample_against_itself(plan: &Plan, book: &Book) -> Vec<Diagnostic> {
    let Some(sample) = plan.chosen() else { return Vec::new() };
    let mut faults = Vec::new();
    let unit = unit(Kind::Loft, "wpi/√(yd/lb)").expect("invariant: the tables have the trade's loft");
    let loft = unit.from_base(book.figure::<Loft>("washed.loft").value());
    if !LOFTS.contains(&loft) {
        let message = format!("expected a loft from 0.25 to 0.65, found {}", significant(loft, 2));
        faults.push(
            Diagnostic::new(Code::WrapsAgainstGrist, message, sample.place.key("skein"))
                .label("wraps and weight per length are not of one yarn")
                .note("loft is wraps per inch over the root of yards per pound")
                .help("look at the wraps, the loops and the weight of the sample, and at their units"),
        );
    }
    let kept = book.find::<Share>(&format!("sample.{}.keep", sample.name)).map(|kept| kept.value());
    if let Some(kept) = kept.filter(|kept| !KEPT.contains(kept)) {
        let message = format!("expected a washed loop of 50 to 120 % of the loop as wound, found {}", percent(kept, 0));
        faults.push(
            Diagnostic::new(Code::Implausible, message, sample.place.key("skein").key("washed-loop"))
                .label("this much after the wash")
                .also(sample.place.key("skein").key("loop"), "this much before")
                .help("measure both again; a loop is once around the skein"),
        );
    }
    faults
}

/// Beliefs of the plan that the ledger does not bear out.
pub(super) fn beliefs(plan: &Plan, ledger: &Ledger) -> Vec<Diagnostic> {
    plan.expects.iter().filter_map(|expect| belief(expect, ledger)).collect()
}

fn belief(expect: &Expect, ledger: &Ledger) -> Option<Diagnostic> {
    let place = expect.place.key("figure");
    let Some(line) = ledger.find(&expect.figure) else { return Some(unknown_figure(expect, ledger, place)) };
    let value = expect.place.key("is");
    let Some((_, believed, give_or_take)) = expect.readings.iter().find(|(kind, ..)| *kind == line.kind) else {
        return Some(
            Diagnostic::new(Code::WrongKind, format!("expected {}, found \"{}\"", line.kind.words(), expect.is), value)
                .label(format!("{} is {}", expect.figure, line.kind.words()))
                .help("run `wheelsheet figures` to see each figure with its unit"),
        );
    };
    let likely = line.value;
    if (likely - believed).abs() <= *give_or_take {
        return None;
    }
    // What was believed is answered in the unit in which it was written.
    let unit = parse(&expect.is, line.kind).map(|believed| believed.unit).ok();
    let unit = unit.filter(|unit| unit.kind == line.kind).unwrap_or_else(|| leading(line.kind, System::Metric));
    let shown = |x: f64| with_unit(&significant(unit.from_base(x), 4), unit);
    Some(
        Diagnostic::new(
            Code::ExpectationFailed,
            format!("expected {} to be {}, found {}", expect.figure, expect.is, shown(likely)),
            value,
        )
        .label(format!("off by {}", shown((likely - believed).abs())))
        .help(format!("run `wheelsheet explain {}` to see where the number comes from", expect.figure)),
    )
}

fn unknown_figure(expect: &Expect, ledger: &Ledger, place: Place) -> Diagnostic {
    let name = expect.figure.as_str();
    let nearest = ledger
        .lines()
        .map(|line| (strsim::damerau_levenshtein(&line.name, name), line.name.as_str()))
        .min()
        .filter(|(distance, known)| *distance * 3 <= known.chars().count());
    let fault = Diagnostic::new(Code::UnknownFigure, format!("expected the name of a figure, found \"{name}\""), place)
        .label("no figure of this plan has that name");
    match nearest {
        Some((_, known)) => fault.help(format!("is \"{known}\" meant?")),
        None => fault.help("run `wheelsheet figures` for all names"),
    }
}
