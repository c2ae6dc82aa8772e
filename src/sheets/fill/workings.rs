//! Fills the workings: every figure of the ledger with its formula, its numbers, its entries and its source.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::drifts;
use super::print::{In, Of, Printer, Round, joined, some_unit};
use super::words::spelt;
use crate::figures::expression::{Node, Op, text};
use crate::figures::ledger::{How, Said, Source};
use crate::figures::{Ledger, Line};
use crate::plan::UsedAs;
use crate::sheets::marks::{Amount, Page, Spread, Standing};
use crate::sheets::workings::{
    DefaultUsed, Headline, SameFormula, SheetNumbers, SourceUsed, SpreadShare, Working, WorkingEntry, WorkingGroup,
    Workings,
};
use crate::units::{self, Kind, leading, unit};

/// How many significant digits a result is printed to.
const DIGITS: u32 = 4;

pub(super) fn workings(printer: &Printer, page: Page) -> Workings {
    let series = series(printer.ledger);
    let numbers: BTreeMap<&str, String> = series
        .iter()
        .enumerate()
        .flat_map(|(i, lines)| lines.iter().map(move |line| (line.name.as_str(), (i + 1).to_string())))
        .collect();
    let mut groups: Vec<WorkingGroup> = Vec::new();
    for lines in &series {
        let title = spelt(printer.plan, group(&lines[0].name));
        let working = working(printer, lines, &numbers);
        match groups.last_mut() {
            Some(last) if last.title == title => last.workings.push(working),
            _ => groups.push(WorkingGroup { title, workings: vec![working] }),
        }
    }
    Workings {
        page,
        headlines: headlines(printer, &numbers),
        found: found(&groups),
        groups,
        drifts: drifts::drifts(printer),
        defaults: defaults(printer),
        sources: sources(&series, &numbers),
    }
}

/// Under which numbers the figures of each sheet stand, sheets in the order in which the workings name them first.
fn found(groups: &[WorkingGroup]) -> Vec<SheetNumbers> {
    let mut found: Vec<SheetNumbers> = Vec::new();
    for working in groups.iter().flat_map(|group| &group.workings) {
        for sheet in &working.used_on {
            match found.iter_mut().find(|one| one.sheet == *sheet) {
                Some(one) => one.workings.push(working.number.clone()),
                None => found.push(SheetNumbers { sheet: sheet.clone(), workings: vec![working.number.clone()] }),
            }
        }
    }
    found
}

/// Figures in series: those that differ only in the number of a bobbin, strip, set or skein, or in how full a bobbin is, are
/// worked alike.
/// Groups stand together in the order of their first figure.
fn series(ledger: &Ledger) -> Vec<Vec<&Line>> {
    let mut series: Vec<(String, Vec<&Line>)> = Vec::new();
    for line in ledger.lines() {
        let key: String = line
            .name
            .split('.')
            .map(|part| match part {
                _ if part.parse::<u32>().is_ok() => "#",
                _ if part.starts_with("width-") => "width-#",
                _ if part.starts_with("way-") => "way-#",
                _ => part,
            })
            .collect::<Vec<_>>()
            .join(".");
        match series.iter_mut().find(|(other, _)| *other == key && key.contains('#')) {
            Some((_, lines)) => lines.push(line),
            None => series.push((key, vec![line])),
        }
    }
    // A stable sort by the group's first appearance brings figures of one group together.
    let mut order: Vec<&str> = Vec::new();
    for (_, lines) in &series {
        let title = group(&lines[0].name);
        if !order.contains(&title) {
            order.push(title);
        }
    }
    let mut series: Vec<Vec<&Line>> = series.into_iter().map(|(_, lines)| lines).collect();
    series.sort_by_key(|lines| order.iter().position(|title| *title == group(&lines[0].name)));
    series
}

/// The heading under which a figure stands.
fn group(name: &str) -> &'static str {
    match name.split('.').next().unwrap_or_default() {
        "sample" | "sampling" | "target" | "planned" => "samples",
        "match" => "the yarn in hand",
        "washed" => "the washed yarn",
        "singles" => "singles",
        "plied" => "plied yarn, fresh",
        "cabled" => "cabled yarn, fresh",
        "wheel" | "plying" | "cabling" => "at the wheel",
        "bobbin" | "set" | "skein" => "bobbins and skeins",
        "lesson" => "for the lesson",
        "run" | "step" | "draft" | "colour" | "contrast" => "colours",
        "garment" | "garments" => "garments",
        _ => "fibre and yarn",
    }
}

fn working(printer: &Printer, lines: &[&Line], numbers: &BTreeMap<&str, String>) -> Working {
    let line = lines[0];
    let (formula, put_in, result) = match line.node() {
        Some(node) => {
            let text = text::line(node, printer.plan.units, DIGITS);
            let bare = bare_entry(node).is_some();
            let result = Amount {
                value: result_text(printer, line, &text.result, &text.unit),
                unit: some_unit(&text.unit),
                other: other(printer, line, &text.unit),
            };
            (
                (!bare).then(|| spelt(printer.plan, &text.words)),
                (!bare).then(|| printer.as_written(&text.numbers)),
                result,
            )
        }
        None => (None, None, counted_amount(printer, line)),
    };
    let (standing, source) = standing(printer, line);
    Working {
        number: numbers[line.name.as_str()].clone(),
        title: spelt(printer.plan, &line.words),
        figure: line.name.clone(),
        used_on: printer.sheets_of(&line.name),
        standing,
        source,
        term: spelt(printer.plan, &line.words),
        formula,
        numbers: put_in,
        result,
        rounded: None,
        spread: spread(printer, line),
        entries: folded(entries(printer, line, numbers)),
        remark: remark(printer, line).map(|text| spelt(printer.plan, &text)),
        same: lines[1..].iter().map(|line| same(printer, line)).collect(),
    }
}

/// The result with thousands parted.
fn result_text(printer: &Printer, line: &Line, text: &str, symbol: &str) -> String {
    printer.worked(&line.name, crate::units::format::grouped(text), symbol)
}

/// The result in the unit that the sheets lead with, where that is another one.
fn other(printer: &Printer, line: &Line, symbol: &str) -> Option<String> {
    let unit = leading(line.kind, printer.plan.units);
    (unit.symbol != symbol && !unit.symbol.is_empty() && line.kind != Kind::Ratio)
        .then(|| printer.with_unit(&line.name, In(unit.symbol, Round::Digits(DIGITS))))
}

fn counted_amount(printer: &Printer, line: &Line) -> Amount {
    let unit = leading(line.kind, printer.plan.units);
    let round = if line.kind == Kind::Count { Round::Places(0) } else { Round::Digits(DIGITS) };
    Amount { value: printer.value(&line.name, In(unit.symbol, round)), unit: some_unit(unit.symbol), other: None }
}

/// The entry that a figure is, where it is nothing but that.
fn bare_entry(node: &Arc<Node>) -> Option<&str> {
    match node.op() {
        Op::Entry(entry) => Some(&entry.place),
        Op::Named(_) => bare_entry(&node.below()[0]),
        Op::Constant(_) | Op::Apply(_) => None,
    }
}

/// Standing and source of a figure; one that is a bare entry has those of the entry.
fn standing(printer: &Printer, line: &Line) -> (Standing, String) {
    if let Some(place) = line.node().and_then(bare_entry) {
        let source = printer.ledger.source(place);
        return (said(source), origin(printer, source));
    }
    (mark(line.standing), line.source.clone())
}

/// The mark of an entry's standing.
fn said(source: &Source) -> Standing {
    match source.said {
        Said::Entry => Standing::YourEntry,
        Said::Measured => Standing::Measured,
        Said::Default(standing, _) => mark(standing),
        Said::Choice(_) => Standing::OurChoice,
    }
}

fn mark(standing: units::Standing) -> Standing {
    match standing {
        units::Standing::Standard => Standing::Standard,
        units::Standing::Published => Standing::Published,
        units::Standing::CommonPractice => Standing::CommonPractice,
        units::Standing::FromMemory => Standing::FromMemory,
        units::Standing::OurChoice => Standing::OurChoice,
    }
}

/// Where an entry comes from, in words.
fn origin(printer: &Printer, source: &Source) -> String {
    let text = match (&source.said, &source.place) {
        (Said::Entry | Said::Measured, Some(place)) => format!("{}, {}", file(place.file), place.path),
        (Said::Default(..), Some(place)) => format!("left out: {}", place.path),
        (Said::Default(_, reason) | Said::Choice(reason), None) => (*reason).to_owned(),
        (Said::Choice(reason), Some(_)) => (*reason).to_owned(),
        (Said::Entry | Said::Measured, None) => unreachable!("invariant: what is said is said at a place"),
    };
    printer.as_written(&text)
}

fn file(file: crate::diagnostics::File) -> &'static str {
    match file {
        crate::diagnostics::File::Plan => "plan",
        crate::diagnostics::File::Log => "log",
    }
}

pub(super) fn spread(printer: &Printer, line: &Line) -> Option<Spread> {
    if !line.has_spread() {
        return None;
    }
    let unit = leading(line.kind, printer.plan.units);
    // Thousands are told to the unit, as the overview does.
    let digits = if unit.from_base(line.value).abs() >= 1000.0 { 4 } else { 3 };
    let shown = In(unit.symbol, Round::Digits(digits));
    Some(printer.spread(&line.name, shown))
}

fn entries(printer: &Printer, line: &Line, numbers: &BTreeMap<&str, String>) -> Vec<WorkingEntry> {
    match &line.how {
        How::Formula(node) => text::inputs(node).iter().filter_map(|input| entry(printer, input, numbers)).collect(),
        How::Counted { of, .. } => {
            of.iter().map(|name| named_entry(printer, printer.ledger.get(name), numbers)).collect()
        }
    }
}

/// Entries in a row that say the same of one thing after another: told once, of the first to the last.
fn folded(entries: Vec<WorkingEntry>) -> Vec<WorkingEntry> {
    let is_alike = |a: &WorkingEntry, b: &WorkingEntry| {
        a.standing == b.standing && a.value == b.value && text::follows(&a.name, &b.name)
    };
    let told = |run: &[WorkingEntry]| match run {
        [first, _, .., last] => vec![WorkingEntry {
            name: format!("{} to {}", first.name, last.name),
            value: format!("{} each", first.value),
            origin: format!("{} to {}", first.origin, last.origin),
            ..first.clone()
        }],
        few => few.to_vec(),
    };
    entries.chunk_by(is_alike).flat_map(told).collect()
}

fn entry(printer: &Printer, input: &Node, numbers: &BTreeMap<&str, String>) -> Option<WorkingEntry> {
    match input.op() {
        Op::Named(named) => Some(named_entry(printer, printer.ledger.get(&named.name), numbers)),
        Op::Entry(entry) => {
            let source = printer.ledger.find_source(&entry.place)?;
            Some(WorkingEntry {
                standing: said(source),
                name: printer.as_written(&spelt(printer.plan, &source.words)),
                value: printer.as_written(&source.text),
                origin: origin(printer, source),
            })
        }
        Op::Constant(_) | Op::Apply(_) => None,
    }
}

fn named_entry(printer: &Printer, line: &Line, numbers: &BTreeMap<&str, String>) -> WorkingEntry {
    let unit = leading(line.kind, printer.plan.units);
    let (standing, _) = standing(printer, line);
    WorkingEntry {
        standing,
        name: spelt(printer.plan, &line.words),
        value: printer.with_unit(&line.name, In(unit.symbol, Round::Digits(DIGITS))),
        origin: format!("working {}", numbers[line.name.as_str()]),
    }
}

fn remark(printer: &Printer, line: &Line) -> Option<String> {
    let yarn = &printer.plan.yarn;
    let replaced = |wish: Option<&str>| {
        let (wish, sample) = (wish?, printer.plan.chosen()?);
        Some(printer.as_written(&format!("Sample {} takes the place of the plan's {wish}.", sample.name)))
    };
    match (&line.how, line.name.as_str()) {
        (_, "washed.wraps") if yarn.wraps.is_some() => replaced(yarn.wraps.as_ref().map(|wish| wish.text.as_str())),
        (_, "washed.tex") if yarn.grist.is_some() => replaced(yarn.grist.as_ref().map(|wish| wish.text.as_str())),
        (_, "washed.ply-twist") if yarn.ply_twist.is_some() => {
            replaced(yarn.ply_twist.as_ref().map(|wish| wish.text.as_str()))
        }
        (How::Counted { words, .. }, _) => Some(words.clone()),
        (_, "singles.fraction") => Some(
            "The two rules disagree for three and more plies: their middle is taken, and the washed sample decides."
                .to_owned(),
        ),
        (_, name) if name.starts_with("singles") && name.ends_with(".twist-factor") => for_the_loom(printer, name),
        (_, "singles.contraction") => Some("For reading only: a weighed length already holds it.".to_owned()),
        (_, "match.own-loft-ratio") => Some(
            "Both wraps and grist are aimed at where this may be one, nineteen times in twenty; else one is given up."
                .to_owned(),
        ),
        (_, "match.angle") if printer.ledger.find("match.singles-wraps").is_some() => Some(
            "A twist counted on another number of plies is matched by their lean: thinner plies lean less at one twist."
                .to_owned(),
        ),
        (_, "match.gauge") => Some("An estimate; a swatch confirms it.".to_owned()),
        (_, "washed.packed-diameter") => Some(
            "A packed diameter, as mills reckon: about half the wraps diameter, and never mixed with it.".to_owned(),
        ),
        _ => None,
    }
}

/// What twist weavers give, beside the factor of a yarn that is to stand in a warp.
fn for_the_loom(printer: &Printer, name: &str) -> Option<String> {
    let mut garments = printer.plan.garments.iter();
    let is_warp = garments.any(|garment| garment.used_as.is_some_and(UsedAs::is_warp));
    is_warp.then(|| {
        let own = printer.with_unit(name, In("turns/m/√Nm", Round::Places(0)));
        format!(
            "{own}: {}",
            printer.as_written(
                "weaving yarns have 80 to 100 in this measure, hand-knitting singles 50 to 65 (from memory)."
            )
        )
    })
}

fn same(printer: &Printer, line: &Line) -> SameFormula {
    let unit = leading(line.kind, printer.plan.units);
    SameFormula {
        name: printer.as_written(&spelt(printer.plan, &line.words)),
        result: printer.with_unit(&line.name, In(unit.symbol, Round::Digits(DIGITS))),
    }
}

/// The figures by which one decides, with what makes them uncertain.
fn headlines(printer: &Printer, numbers: &BTreeMap<&str, String>) -> Vec<Headline> {
    let mut names = vec!["washed.grist".to_owned(), "singles.twist-at-wheel".to_owned(), "yarn.length".to_owned()];
    for garment in &printer.plan.garments {
        names.push(format!("garment.{}.total", garment.name));
        names.push(format!("garment.{}.left-over", garment.name));
    }
    names.iter().filter_map(|name| headline(printer, name, numbers)).collect()
}

fn headline(printer: &Printer, name: &str, numbers: &BTreeMap<&str, String>) -> Option<Headline> {
    let line = printer.ledger.get(name);
    let spread = spread(printer, line)?;
    let shares = printer.ledger.shares(name);
    let (first, others) = shares.split_at(shares.len().min(6));
    let mut bars: Vec<SpreadShare> = first
        .iter()
        .map(|(place, share)| {
            let source = printer.ledger.source(place);
            SpreadShare {
                name: printer.as_written(&spelt(printer.plan, &source.words)),
                standing: Some(said(source)),
                share: *share,
                text: printer.share(*share),
            }
        })
        .collect();
    let rest: f64 = others.iter().map(|(_, share)| share).sum();
    if rest >= 0.005 {
        bars.push(SpreadShare {
            name: "all others".to_owned(),
            standing: None,
            share: rest,
            text: printer.share(rest),
        });
    }
    Some(Headline { title: spelt(printer.plan, &line.words), working: numbers[name].clone(), spread, shares: bars })
}

/// What the plan left out, and what formulas bring along.
fn defaults(printer: &Printer) -> Vec<DefaultUsed> {
    let of_plan = printer.plan.assumed.iter().map(|assumed| DefaultUsed {
        standing: mark(assumed.standing),
        name: printer.as_written(&spelt(printer.plan, assumed.what)),
        key: assumed.place.as_ref().map_or_else(String::new, |place| printer.as_written(&place.path)),
        value: printer.as_written(assumed.text),
        why: printer.as_written(&spelt(printer.plan, assumed.reason)),
    });
    let of_formulas =
        printer.ledger.sources().filter(|(_, source)| source.place.is_none()).filter_map(|(_, source)| {
            match source.said {
                Said::Default(standing, reason) => Some(DefaultUsed {
                    standing: mark(standing),
                    name: printer.as_written(&spelt(printer.plan, &source.words)),
                    key: String::new(),
                    value: printer.as_written(&source.text),
                    why: printer.as_written(reason),
                }),
                _ => None,
            }
        });
    of_plan.chain(of_formulas).collect()
}

/// Sources of formulas, each once, with the workings that rest on them.
fn sources(series: &[Vec<&Line>], numbers: &BTreeMap<&str, String>) -> Vec<SourceUsed> {
    let mut used: Vec<(String, Vec<String>)> = Vec::new();
    for lines in series {
        let line = lines[0];
        let number = numbers[line.name.as_str()].clone();
        if line.node().is_some_and(|node| bare_entry(node).is_some()) {
            continue;
        }
        match used.iter_mut().find(|(text, _)| *text == line.source) {
            Some((_, workings)) => workings.push(number),
            None => used.push((line.source.clone(), vec![number])),
        }
    }
    used.into_iter().map(|(text, workings)| SourceUsed { text, workings: workings.join(", ") }).collect()
}

impl Printer<'_> {
    /// A result as its line of the workings has it.
    fn worked(&self, name: &str, text: String, symbol: &str) -> String {
        let kind = self.ledger.get(name).kind;
        let unit = if symbol.is_empty() { unit(Kind::Share, "") } else { unit(kind, symbol) };
        let unit = unit.expect("invariant: a line is written in units of the tables");
        self.record(text, unit, Of::Value(name.to_owned()))
    }

    /// A share of doubt, in whole per cent.
    pub(super) fn share(&self, share: f64) -> String {
        let text = if share < 0.005 { "< 1".to_owned() } else { crate::units::format::decimals(share * 100.0, 0) };
        joined(&self.graduation(text), "%")
    }
}
