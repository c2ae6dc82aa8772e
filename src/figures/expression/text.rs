//! An expression as a line of words, and the same line with the numbers put in.
//!
//! The line with numbers is true as printed: whoever works it out from the bare numbers on the paper gets the printed result.
//! Two things would break that, and are seen to here. A factor of conversion hides between units (inches times turns per
//! centimetre), so each line is written in one coherent [`Family`] of units. And rounded inputs may miss the last printed
//! digit, so they are printed with as many digits as that takes.

use std::sync::Arc;

use super::{Named, Node, Op};
use crate::figures::expression::Function;
use crate::units::format::{decimals, significant};
use crate::units::{Kind, System, Unit, unit};

/// A family of units in which formulas hold without a factor.
#[derive(Debug, PartialEq)]
pub struct Family {
    /// Numbers from here on are better read in a family of greater units.
    most: f64,
    /// Only lines with this kind in them are written in this family.
    only_with: Option<Kind>,
    /// Kinds with the symbol of the family's unit; pure numbers and angles belong to every family.
    units: &'static [(Kind, &'static str)],
}

const ANYWHERE: &[(Kind, &str)] = &[(Kind::Ratio, ""), (Kind::Share, ""), (Kind::Count, ""), (Kind::Angle, "°")];

const INCH: Family = Family {
    most: 1e3,
    only_with: None,
    units: &[
        (Kind::Length, "in"),
        (Kind::Area, "in²"),
        (Kind::Wraps, "wpi"),
        (Kind::Twist, "tpi"),
        (Kind::Stitches, "st/in"),
        (Kind::Rows, "rows/in"),
        (Kind::Ends, "ends/in"),
        (Kind::Picks, "picks/in"),
        (Kind::YarnPerArea, "in/in²"),
        (Kind::Time, "s"),
        (Kind::Speed, "turns/s"),
    ],
};
const CENTIMETRE: Family = Family {
    most: 1e3,
    only_with: None,
    units: &[
        (Kind::Length, "cm"),
        (Kind::Area, "cm²"),
        (Kind::Wraps, "wraps/cm"),
        (Kind::Twist, "turns/cm"),
        (Kind::Stitches, "st/cm"),
        (Kind::Rows, "rows/cm"),
        (Kind::Ends, "ends/cm"),
        (Kind::Picks, "picks/cm"),
        (Kind::YarnPerArea, "cm/cm²"),
        (Kind::Time, "s"),
        (Kind::Speed, "turns/s"),
    ],
};
const TEX: Family = Family {
    most: 1e5,
    only_with: None,
    units: &[(Kind::Length, "km"), (Kind::Mass, "g"), (Kind::LinearDensity, "tex")],
};
const POUND: Family = Family {
    most: 1e5,
    only_with: None,
    units: &[(Kind::Length, "yd"), (Kind::Mass, "lb"), (Kind::LinearDensity, "lb/yd"), (Kind::Yield, "yd/lb")],
};
const LOFT: Family = Family {
    most: 1e5,
    only_with: Some(Kind::Loft),
    units: &[(Kind::Wraps, "wpi"), (Kind::Yield, "yd/lb"), (Kind::Loft, "wpi/√(yd/lb)")],
};
const FIRMNESS: Family = Family {
    most: 1e5,
    only_with: Some(Kind::Firmness),
    units: &[(Kind::Stitches, "st/in"), (Kind::Yield, "yd/lb"), (Kind::Firmness, "st/in/√(yd/lb)")],
};
const TWIST_FACTOR: Family = Family {
    most: 1e5,
    only_with: Some(Kind::TwistFactor),
    units: &[(Kind::Twist, "turns/m"), (Kind::LinearDensity, "tex"), (Kind::TwistFactor, "turns/m·√tex")],
};
const FIBRE: Family = Family {
    most: 1e7,
    only_with: Some(Kind::FibreDiameter),
    units: &[
        (Kind::LinearDensity, "mg/km"),
        (Kind::FibreDiameter, "µm"),
        (Kind::Density, "g/cm³"),
        (Kind::Area, "µm²"),
    ],
};
const DENSITY: Family = Family { most: 1e3, only_with: Some(Kind::Density), units: &[(Kind::Density, "g/cm³")] };
/// Holds every formula, since its units are the base units.
const METRE: Family = Family {
    most: 1e5,
    only_with: None,
    units: &[
        (Kind::Length, "m"),
        (Kind::Area, "m²"),
        (Kind::Mass, "g"),
        (Kind::LinearDensity, "g/m"),
        (Kind::Yield, "m/g"),
        (Kind::Wraps, "wraps/m"),
        (Kind::Twist, "turns/m"),
        (Kind::Stitches, "st/m"),
        (Kind::Rows, "rows/m"),
        (Kind::Ends, "ends/m"),
        (Kind::Picks, "picks/m"),
        (Kind::YarnPerArea, "m/m²"),
        (Kind::FibreDiameter, "m"),
        (Kind::Density, "g/m³"),
        (Kind::Loft, "wraps/m/√(m/g)"),
        (Kind::Firmness, "st/m/√(m/g)"),
        (Kind::TwistFactor, "turns/m/√Nm"),
        (Kind::Time, "s"),
        (Kind::Speed, "turns/s"),
    ],
};

const METRIC_FIRST: [&Family; 10] =
    [&LOFT, &FIRMNESS, &TWIST_FACTOR, &FIBRE, &DENSITY, &CENTIMETRE, &METRE, &TEX, &INCH, &POUND];
const INCH_FIRST: [&Family; 10] =
    [&LOFT, &FIRMNESS, &TWIST_FACTOR, &FIBRE, &DENSITY, &INCH, &POUND, &METRE, &TEX, &CENTIMETRE];

impl Family {
    /// The family's unit for a kind. `None` where it has none; a pure number has the unit without a symbol.
    fn unit(&self, kind: Kind) -> Option<&'static Unit> {
        let (kind, symbol) = self.units.iter().chain(ANYWHERE).find(|(known, _)| *known == kind)?;
        let kind = if symbol.is_empty() { Kind::Share } else { *kind };
        Some(unit(kind, symbol).expect("invariant: a family names units of the tables; a test looks each up"))
    }
}

/// One line of the workings.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The formula in words.
    pub words: String,
    /// The formula with the numbers put in.
    pub numbers: String,
    /// The result, rounded, without its unit.
    pub result: String,
    /// The unit of the result; empty for a pure number.
    pub unit: String,
}

/// The line of a named figure: its formula in words, with the numbers put in, and the result to `digits` significant digits,
/// in the first family of units in which every number is of a size that one reads with ease.
pub fn line(node: &Arc<Node>, system: System, digits: u32) -> Line {
    let formula = formula(node);
    let family = family_of(formula, system);
    let unit = family.unit(formula.kind()).expect("invariant: a coherent family has the unit of the result");
    let result = plain(unit.from_base(formula.value()), digits);
    let enough = (digits..=15).find(|&most| {
        let worked = evaluate(formula, &|leaf| rounded(leaf, family, most));
        plain(in_family(worked, formula.kind(), unit), digits) == result
    });
    let numbers = render(formula, &|leaf| number(leaf, family, enough.unwrap_or(17)), Strength::Sum);
    Line { words: words(node), numbers, result, unit: unit.symbol.to_owned() }
}

/// How a number stands on a sheet: its unit, and so many places after the point. A share in per cent has those of the per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// Its unit.
    pub unit: &'static Unit,
    /// Places after the point.
    pub places: u32,
}

impl Shown {
    /// The number of a value as an operand, and its text: a share enters the arithmetic as what it is of one.
    fn operand(self, value: f64) -> (f64, String) {
        match (self.unit.kind, self.unit.symbol) {
            (_, "%") => (value, decimals(value, self.places + 2)),
            (_, symbol) => {
                let number = self.unit.from_base(value);
                let gap = if matches!(symbol, "" | ":1") { "" } else { " " };
                let symbol = if symbol == ":1" { "" } else { symbol };
                (number, format!("{}{gap}{symbol}", decimals(number, self.places)))
            }
        }
    }
}

/// The line of a formula over entries that stand elsewhere on a sheet, each put in as it stands there; `shown` tells how, by
/// the place of the entry.
///
/// # Panics
/// When the numbers as they stand do not give the result: a factor of conversion would be hidden between units.
pub fn as_shown(node: &Arc<Node>, shown: &dyn Fn(&str) -> Shown, result: Shown) -> Line {
    let formula = formula(node);
    let of = |leaf: &Node| match leaf.op() {
        Op::Entry(entry) => shown(&entry.place).operand(leaf.value()),
        _ => (leaf.value(), noun(leaf)),
    };
    let worked = evaluate(formula, &|leaf| of(leaf).0);
    let (wanted, text) = result.operand(formula.value());
    let is_true = (worked - wanted).abs() <= 1e-9 * wanted.abs().max(1.0);
    assert!(is_true, "invariant: \"{}\" hides a factor: {worked} for {wanted}", words(node));
    let (number, unit) = text.split_once(' ').unwrap_or((&text, ""));
    let numbers = render(formula, &|leaf| of(leaf).1, Strength::Sum);
    Line { words: words(node), numbers, result: number.to_owned(), unit: unit.to_owned() }
}

/// The value of a formula over entries, some of which have other values, by their places.
pub fn worked_with(node: &Arc<Node>, other: &dyn Fn(&str) -> Option<f64>) -> f64 {
    evaluate(formula(node), &|leaf| match leaf.op() {
        Op::Entry(entry) => other(&entry.place).unwrap_or(leaf.value()),
        _ => leaf.value(),
    })
}

/// Whether an entry at a place stands in a formula.
pub fn stands_on(node: &Arc<Node>, place: &str) -> bool {
    let mut found = Vec::new();
    leaves(formula(node), &mut found);
    found.iter().any(|leaf| matches!(leaf.op(), Op::Entry(entry) if entry.place == place))
}

/// The first family in which the line is coherent and easy to read, else the first in which it is coherent.
fn family_of(formula: &Arc<Node>, system: System) -> &'static Family {
    let families = if system == System::Inch { INCH_FIRST } else { METRIC_FIRST };
    // Weight per length is spoken of in tex, whatever the size.
    let first = if formula.kind() == Kind::LinearDensity { Some(&TEX) } else { None };
    let coherent: Vec<&Family> =
        first.into_iter().chain(families).filter(|family| is_coherent(formula, family)).collect();
    let easy = coherent.iter().find(|family| is_readable(formula, family));
    easy.or(coherent.first()).copied().unwrap_or(&METRE)
}

/// The formula of a figure in words; of an entry its noun.
pub fn words(node: &Arc<Node>) -> String {
    render(formula(node), &noun, Strength::Sum)
}

/// The entries and named figures that stand in a figure's formula, each once, in order of reading.
pub fn inputs(node: &Arc<Node>) -> Vec<Arc<Node>> {
    let mut found: Vec<Arc<Node>> = Vec::new();
    let mut stack = vec![formula(node)];
    while let Some(node) = stack.pop() {
        match node.op() {
            Op::Apply(_) => stack.extend(node.below().iter().rev()),
            Op::Named(named) if named.name.is_empty() => stack.push(&node.below()[0]),
            Op::Entry(_) | Op::Named(_) if found.iter().all(|other| other.structure() != node.structure()) => {
                found.push(Arc::clone(node));
            }
            Op::Entry(_) | Op::Named(_) | Op::Constant(_) => {}
        }
    }
    found
}

/// What a figure or an entry is called in a formula.
pub fn noun(node: &Node) -> String {
    match node.op() {
        Op::Entry(entry) => entry.words.clone(),
        Op::Constant(constant) => constant.words.to_owned(),
        Op::Named(named) => named.words.clone(),
        Op::Apply(_) => unreachable!("invariant: a function is no leaf of a line"),
    }
}

/// The expression that a named figure stands for; any other node is its own.
fn formula(node: &Arc<Node>) -> &Arc<Node> {
    match node.op() {
        Op::Named(_) => formula(&node.below()[0]),
        _ => node,
    }
}

/// Whether a node stands as one word in a line.
fn is_leaf(node: &Node) -> bool {
    match node.op() {
        Op::Entry(_) | Op::Constant(_) => true,
        Op::Named(Named { name, .. }) => !name.is_empty(),
        Op::Apply(_) => false,
    }
}

/// How tightly the parts of a text hold together.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Strength {
    Sum,
    Product,
    Divisor,
    Atom,
}

/// The line below a formula's root, every leaf written by `leaf`.
fn render(node: &Arc<Node>, leaf: &dyn Fn(&Node) -> String, least: Strength) -> String {
    if is_leaf(node) {
        let text = leaf(node);
        return if least == Strength::Atom && text.contains(' ') { format!("({text})") } else { text };
    }
    let Op::Apply(function) = node.op() else { return render(&node.below()[0], leaf, least) };
    let part = |k: usize, least| render(&node.below()[k], leaf, least);
    let list = |joint: &str, least| {
        node.below().iter().map(|below| render(below, leaf, least)).collect::<Vec<_>>().join(joint)
    };
    let (own, text) = match function {
        Function::Add | Function::Sum => {
            (Strength::Sum, sum(node.below().iter().map(|below| render(below, leaf, Strength::Sum)).collect()))
        }
        Function::Sub => (Strength::Sum, format!("{} − {}", part(0, Strength::Sum), part(1, Strength::Product))),
        Function::Mul => {
            (Strength::Product, format!("{} × {}", part(0, Strength::Product), part(1, Strength::Divisor)))
        }
        Function::Div => {
            (Strength::Product, format!("{} ÷ {}", part(0, Strength::Product), part(1, Strength::Divisor)))
        }
        Function::Square => (Strength::Atom, format!("{}²", part(0, Strength::Atom))),
        Function::Sqrt => (Strength::Atom, format!("√({})", part(0, Strength::Sum))),
        Function::Power => (Strength::Divisor, format!("{}^{}", part(0, Strength::Atom), part(1, Strength::Atom))),
        Function::Tan => (Strength::Atom, format!("tan({})", part(0, Strength::Sum))),
        Function::Atan => (Strength::Atom, format!("arctan({})", part(0, Strength::Sum))),
        Function::Sin => (Strength::Atom, format!("sin({})", part(0, Strength::Sum))),
        Function::Cos => (Strength::Atom, format!("cos({})", part(0, Strength::Sum))),
        Function::Least => (Strength::Atom, format!("least({})", list("; ", Strength::Sum))),
        Function::Greatest => (Strength::Atom, format!("greatest({})", list("; ", Strength::Sum))),
        Function::Touching => (Strength::Atom, format!("mean width({})", list("; ", Strength::Sum))),
    };
    if own < least { format!("({text})") } else { text }
}

/// Terms of a sum on one line: equal ones once, with how many there are, and a row of numbered ones by its first and its last.
fn sum(terms: Vec<String>) -> String {
    let is_plain = |term: &str| !term.contains(" + ") && !term.contains(" − ");
    // What begins with a figure is a value, and no name with a number.
    let is_named = |term: &str| !term.starts_with(|first: char| first.is_ascii_digit());
    let runs = terms.chunk_by(|a, b| (a == b && is_plain(a)) || (is_named(a) && follows(a, b)));
    let folded = runs.map(|run| match run {
        [first, .., last] if first == last => format!("{} × {first}", run.len()),
        [first, _, _, .., last] => format!("{first} + … + {last}"),
        few => few.join(" + "),
    });
    folded.collect::<Vec<_>>().join(" + ")
}

/// Whether two texts differ in one whole number alone, and there the second counts on: "weight of north 2" after "weight of
/// north 1".
pub fn follows(before: &str, after: &str) -> bool {
    let words = || before.split(' ').zip(after.split(' ')).filter(|(a, b)| a != b);
    let number = |text: &str| text.parse::<u32>().ok();
    before.split(' ').count() == after.split(' ').count()
        && words().count() == 1
        && words().all(|(a, b)| number(a).is_some_and(|n| number(b) == n.checked_add(1)))
}

/// The value of a formula whose leaves have the values that `leaf` gives.
fn evaluate(node: &Arc<Node>, leaf: &dyn Fn(&Node) -> f64) -> f64 {
    if is_leaf(node) {
        return leaf(node);
    }
    let below: Vec<f64> = node.below().iter().map(|below| evaluate(below, leaf)).collect();
    match node.op() {
        Op::Apply(function) => function.value(&below),
        _ => below[0],
    }
}

/// The leaves of a formula.
fn leaves<'a>(node: &'a Arc<Node>, found: &mut Vec<&'a Arc<Node>>) {
    if is_leaf(node) {
        found.push(node);
    } else {
        node.below().iter().for_each(|below| leaves(below, found));
    }
}

/// A value as it enters the arithmetic of a printed line: an angle counts in radians, since the sign for degrees says so.
fn in_family(value: f64, kind: Kind, unit: &Unit) -> f64 {
    if kind == Kind::Angle { unit.from_base(value) } else { value }
}

/// A leaf's number in the family, as an operand.
fn bare(leaf: &Node, family: &Family) -> Option<f64> {
    match leaf.op() {
        Op::Constant(_) => Some(leaf.value()),
        _ if leaf.kind() == Kind::Angle => Some(leaf.value()),
        _ => Some(family.unit(leaf.kind())?.from_base(leaf.value())),
    }
}

/// Whether the bare numbers of the family give the result without a hidden factor.
fn is_coherent(formula: &Arc<Node>, family: &Family) -> bool {
    let mut found = Vec::new();
    leaves(formula, &mut found);
    let Some(unit) = family.unit(formula.kind()) else { return false };
    let kinds = || found.iter().map(|leaf| leaf.kind()).chain([formula.kind()]);
    if family.only_with.is_some_and(|kind| kinds().all(|other| other != kind)) {
        return false;
    }
    if found.iter().any(|leaf| bare(leaf, family).is_none()) {
        return false;
    }
    let worked = evaluate(formula, &|leaf| bare(leaf, family).expect("invariant: looked at above"));
    let result = unit.from_base(formula.value());
    (in_family(worked, formula.kind(), unit) - result).abs() <= 1e-9 * result.abs()
}

/// Whether every number is of a size that one reads with ease.
fn is_readable(formula: &Arc<Node>, family: &Family) -> bool {
    let mut found = Vec::new();
    leaves(formula, &mut found);
    let result = family.unit(formula.kind()).map(|unit| unit.from_base(formula.value()));
    let easy = |x: f64| x == 0.0 || (1e-2..family.most).contains(&x.abs());
    result.is_some_and(easy)
        && found.iter().all(|leaf| leaf.kind() == Kind::Share || bare(leaf, family).is_some_and(easy))
}

/// A leaf's number as one reads it off the paper.
fn rounded(leaf: &Node, family: &Family, digits: u32) -> f64 {
    if let Op::Constant(constant) = leaf.op() {
        return constant.value;
    }
    let unit = family.unit(leaf.kind()).expect("invariant: a coherent family has the unit of each leaf");
    let read: f64 =
        plain(unit.from_base(leaf.value()), digits).parse().expect("invariant: a printed number reads back");
    if leaf.kind() == Kind::Angle { unit.to_base(read) } else { read }
}

/// A leaf's number with its unit, as printed.
fn number(leaf: &Node, family: &Family, digits: u32) -> String {
    if let Op::Constant(constant) = leaf.op() {
        return constant.words.to_owned();
    }
    let unit = family.unit(leaf.kind()).expect("invariant: a coherent family has the unit of each leaf");
    let text = plain(unit.from_base(leaf.value()), digits).replace('-', "−");
    let text = if text.starts_with('−') { format!("({text})") } else { text };
    match unit.symbol {
        "" => text,
        "°" => format!("{text}°"),
        symbol => format!("{text} {symbol}"),
    }
}

/// A number without noughts at its end, with an ordinary minus sign.
fn plain(x: f64, digits: u32) -> String {
    // What rounding leaves of a difference of equals is nothing.
    let x = if x.abs() < 1e-12 { 0.0 } else { x };
    let text = significant(x, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_fold_what_is_alike() {
        let folded = |terms: &[&str]| sum(terms.iter().map(|term| (*term).to_owned()).collect());
        assert_eq!(folded(&["101 g", "101 g", "98 g"]), "2 × 101 g + 98 g");
        assert_eq!(folded(&["north 1", "north 2", "north 3", "north 4", "south 1"]), "north 1 + … + north 4 + south 1");
        assert_eq!(folded(&["north 1", "north 2", "north 4"]), "north 1 + north 2 + north 4");
        assert_eq!(folded(&["a − b", "a − b"]), "a − b + a − b");
        assert_eq!(folded(&["12 g", "13 g", "14 g"]), "12 g + 13 g + 14 g");
    }

    #[test]
    fn families_name_units_of_the_tables_and_metre_has_them_all() {
        for family in METRIC_FIRST {
            for (kind, symbol) in family.units {
                assert!(unit(*kind, symbol).is_some_and(|unit| unit.symbol == *symbol), "{kind:?} {symbol}");
            }
        }
        for kind in Kind::ALL.into_iter().filter(|kind| !matches!(kind, Kind::Temperature | Kind::Money)) {
            assert!(METRE.unit(kind).is_some(), "{kind:?}");
        }
    }
}
