//! Fills the page of alternatives: what differs, and nothing else.

use super::balance::{buy, chance_text};
use super::print::{In, Printer, Round, some_unit};
use super::words::{self, grist, hand_length, weight, yarn_length};
use crate::figures::garments::leading;
use crate::figures::settings::Settings;
use crate::plan::Drive;
use crate::sheets::Of;
use crate::sheets::alternatives::{Alternatives, Block, Cell, Column, Group, Row};
use crate::sheets::marks::Page;

/// How many alternatives stand beside the plan.
const BESIDE: usize = 3;

/// The page; `None` of a plan without alternatives.
pub(super) fn alternatives(
    printer: &Printer,
    page: Page,
    settings: &Settings,
    others: &[Of<'_>],
) -> Option<Alternatives> {
    let all: Vec<usize> = (0..others.len()).collect();
    let blocks: Vec<Block> = all.chunks(BESIDE).map(|some| block(printer, settings, others, some)).collect();
    (!blocks.is_empty()).then_some(Alternatives { page, blocks })
}

/// One of the things side by side, with what prints its numbers.
struct Side<'a> {
    printer: Printer<'a>,
    settings: &'a Settings,
}

fn block(printer: &Printer, settings: &Settings, others: &[Of<'_>], some: &[usize]) -> Block {
    let mut sides = vec![Side { printer: printer.clone(), settings }];
    sides.extend(
        some.iter().map(|i| Side { printer: printer.of_alternative(*i, &others[*i]), settings: others[*i].settings }),
    );
    let mut columns = vec![Column { name: "as planned".to_owned(), changes: Vec::new() }];
    columns.extend(some.iter().map(|i| {
        let named = &printer.plan.alternatives[*i];
        let changes = changes(&named.changes).iter().map(|change| printer.as_written(change)).collect();
        Column { name: printer.as_written(&named.name), changes }
    }));
    let mut groups = vec![Group { name: "yarn".to_owned(), rows: yarn(&sides) }];
    for garment in &printer.plan.garments {
        groups.push(Group { name: printer.as_written(&garment.name), rows: of_garment(&sides, &garment.name) });
    }
    if printer.plan.garments.len() > 1 {
        groups.push(Group { name: "all garments together".to_owned(), rows: together(&sides) });
    }
    groups.retain(|group| !group.rows.is_empty());
    Block { columns, groups }
}

/// What is changed, in words: what of one table follows one another without naming it again, and what is left out stands together.
fn changes(all: &[(String, Option<String>)]) -> Vec<String> {
    let mut told = Vec::new();
    let mut table = String::new();
    for (path, value) in all {
        let Some(value) = value else { continue };
        let (of, key) = in_words(path);
        let named = if of == table { String::new() } else { of.clone() };
        told.push(format!("{named}{key}: {}", shortened(value)));
        table = of;
    }
    let without: Vec<String> =
        all.iter().filter(|(_, value)| value.is_none()).map(|(path, _)| in_words(path).1).collect();
    if !without.is_empty() {
        told.push(format!("without {}", without.join(", ")));
    }
    told
}

/// The path of an entry in words: of what, and which; "pullover, " and "gauge in".
fn in_words(path: &str) -> (String, String) {
    let parts: Vec<String> = path.split('.').map(|part| part.replace('-', " ")).collect();
    let parts = match &parts[..] {
        [first, rest @ ..] if first == "garment" && !rest.is_empty() => rest,
        all => all,
    };
    let (key, tables) = parts.split_last().expect("invariant: a path has a part");
    (tables.iter().map(|table| format!("{table}, ")).collect(), key.clone())
}

/// A value as it is written, on one line and not too long.
fn shortened(value: &str) -> String {
    const MOST: usize = 60;
    let line = value.trim_matches('"').split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST { line } else { format!("{}…", line.chars().take(MOST).collect::<String>()) }
}

/// A row of cells, if they are not all alike.
fn row(name: &str, sides: &[Side<'_>], cell: impl Fn(&Side<'_>) -> Option<Cell>) -> Option<Row> {
    let none = || Cell { value: "–".to_owned(), unit: None, note: None, differs: false };
    let mut cells: Vec<Cell> = sides.iter().map(|side| cell(side).unwrap_or_else(none)).collect();
    let first = (cells[0].value.clone(), cells[0].unit.clone());
    for cell in &mut cells {
        cell.differs = (&cell.value, &cell.unit) != (&first.0, &first.1);
    }
    cells.iter().any(|cell| cell.differs).then(|| Row { name: name.to_owned(), cells })
}

/// A figure with the other system under it; `None` where that plan has no such figure.
fn figure(side: &Side<'_>, name: &str, (lead, other): (In, In)) -> Option<Cell> {
    side.printer.ledger.find(name)?;
    let note = Some(format!("= {}", side.printer.with_unit(name, other)));
    Some(Cell { value: side.printer.value(name, lead), unit: some_unit(lead.0), note, differs: false })
}

/// What is left over; less than nothing is what lacks.
fn left_over(side: &Side<'_>, name: &str, shown: (In, In)) -> Option<Cell> {
    let cell = figure(side, name, shown)?;
    let Some(lacks) = cell.value.strip_prefix('−') else { return Some(cell) };
    let unit = cell.unit.map_or_else(|| "short".to_owned(), |unit| format!("{unit} short"));
    Some(Cell {
        value: lacks.to_owned(),
        unit: Some(unit),
        note: cell.note.map(|note| note.replace('−', "")),
        differs: false,
    })
}

fn words_of(value: String) -> Cell {
    Cell { value, unit: None, note: None, differs: false }
}

fn yarn(sides: &[Side<'_>]) -> Vec<Row> {
    let printer = &sides[0].printer;
    let wraps = printer.both(In("wraps/cm", Round::Digits(2)), In("wpi", Round::Halves));
    let twist = printer.both(In("turns/cm", Round::Digits(2)), In("tpi", Round::Digits(2)));
    let rows = [
        row("put together", sides, |side| Some(words_of(words::plies(side.printer.plan)))),
        row("wraps, washed", sides, |side| figure(side, "washed.wraps", wraps)),
        row("grist, washed", sides, |side| figure(side, "washed.grist", grist(printer))),
        row("ply twist, washed", sides, |side| figure(side, "washed.ply-twist", twist)),
        row("wraps of the singles", sides, |side| figure(side, "singles.wraps", wraps)),
        row("whorl", sides, whorl),
        row("at each treadle", sides, |side| figure(side, "wheel.length", hand_length(printer))),
        row("told by", sides, |side| Some(words_of(told_by(side)))),
        row("yarn there will be", sides, |side| figure(side, "yarn.length", yarn_length(printer))),
    ];
    rows.into_iter().flatten().collect()
}

/// Whether the log counts: what was spun for one yarn tells nothing of another.
fn told_by(side: &Side<'_>) -> String {
    let is_measured = super::spun::stands_on(&side.printer).is_some();
    if is_measured { "the log" } else { "the plan" }.to_owned()
}

fn whorl(side: &Side<'_>) -> Option<Cell> {
    let Drive::Treadle { whorls, .. } = &side.printer.plan.wheel.machine.drive else { return None };
    let at = side.settings.singles.first().copied().flatten()?;
    Some(words_of(side.printer.as_written(&whorls[at].name)))
}

/// All garments from the one yarn, where an alternative has several as well.
fn together(sides: &[Side<'_>]) -> Vec<Row> {
    let length = yarn_length(&sides[0].printer);
    let has = |side: &Side<'_>| side.printer.ledger.find("garments.chance-short").is_some();
    let chance = |side: &Side<'_>| has(side).then(|| words_of(chance_text(&side.printer, "garments.chance-short")));
    let lacks = |side: &Side<'_>| {
        has(side).then(|| words_of(buy(&side.printer, "garments").unwrap_or_else(|| "nothing".to_owned())))
    };
    let rows = [
        row("take", sides, |side| figure(side, "garments.total", length)),
        row("left over", sides, |side| left_over(side, "garments.left-over", length)),
        row("short in 100", sides, chance),
        row("to buy", sides, lacks),
    ];
    rows.into_iter().flatten().collect()
}

fn of_garment(sides: &[Side<'_>], name: &str) -> Vec<Row> {
    let printer = &sides[0].printer;
    let of = |what: &str| format!("garment.{name}.{what}");
    let garment = |side: &Side<'_>| side.printer.plan.garments.iter().find(|garment| garment.name == name).cloned();
    let short = printer.both(In("cm", Round::Halves), In("in", Round::Quarters));
    let craft = |side: &Side<'_>| Some(words_of(super::overview::worked(&garment(side)?).to_owned()));
    let size = |side: &Side<'_>| {
        let measure = leading(&garment(side)?)?;
        figure(side, &of(&format!("measure.{}", measure.key())), short)
    };
    let chance = |side: &Side<'_>| {
        side.printer.ledger.find(&of("chance-short"))?;
        Some(words_of(chance_text(&side.printer, &of("chance-short"))))
    };
    let lacks = |side: &Side<'_>| {
        garment(side)?;
        let lacks = buy(&side.printer, &format!("garment.{name}")).unwrap_or_else(|| "nothing".to_owned());
        Some(words_of(lacks))
    };
    let rows = [
        row("made", sides, craft),
        row("size", sides, size),
        row("takes", sides, |side| figure(side, &of("total"), yarn_length(printer))),
        row("weighs", sides, |side| figure(side, &of("weight"), weight(printer))),
        row("yarn to have", sides, |side| figure(side, &of("to-spin"), yarn_length(printer))),
        row("left over", sides, |side| left_over(side, &of("left-over"), yarn_length(printer))),
        row("short in 100", sides, chance),
        row("to buy", sides, lacks),
    ];
    rows.into_iter().flatten().collect()
}
