//! Numbers of the ledger as text on a sheet, with a record of each.

use std::cell::RefCell;
use std::rc::Rc;

use crate::figures::Ledger;
use crate::figures::expression::text::Shown;
use crate::plan::{Plan, Reading};
use crate::sheets::marks::{Amount, Spread};
use crate::units::format::{decimals, exact, grouped, significant, vulgar};
use crate::units::{Kind, System, Unit, unit};

/// One number as it was printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// The number, without its unit.
    pub text: String,
    /// Symbol of the unit it stands in; empty for a pure number.
    pub unit: &'static str,
    /// What it is a number of.
    pub of: Of,
    /// The sheet it stands on.
    pub sheet: &'static str,
    /// Index of the alternative whose it is; `None` of the plan's own.
    pub alternative: Option<usize>,
}

/// What a printed number is a number of.
#[derive(Debug, Clone, PartialEq)]
pub enum Of {
    /// The nominal or likely value of a figure.
    Value(String),
    /// The low band of a figure.
    Low(String),
    /// The high band of a figure.
    High(String),
    /// An entry of the plan or log, by its place, with its value in base units.
    Entry(String, f64),
    /// A number that counts or names things on the sheets: bobbins, sets, strips, graduations; with what it names.
    Label(&'static str),
}

/// How a number is rounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Round {
    /// To so many significant digits.
    Digits(u32),
    /// To at most so many significant digits, without noughts at the end.
    Plain(u32),
    /// To so many decimal places.
    Places(u32),
    /// To whole fives.
    Fives,
    /// To whole tens.
    Tens,
    /// Up to so many decimal places, for what must be at least so much.
    Up(u32),
    /// To halves, as vulgar fractions.
    Halves,
    /// To quarters, as vulgar fractions.
    Quarters,
}

impl Round {
    /// A number so rounded, thousands parted.
    pub fn text(self, x: f64) -> String {
        // What is left of a difference of equals is no number for paper.
        let x = if x.abs() < NOISE { 0.0 } else { x };
        grouped(&match self {
            Self::Digits(digits) => significant(x, digits),
            Self::Plain(_) => exact(self.value(x)),
            Self::Places(places) => decimals(x, places),
            Self::Fives | Self::Tens => decimals(self.value(x), 0),
            Self::Up(places) => decimals(self.value(x), places),
            Self::Halves => vulgar(x, 2),
            Self::Quarters => vulgar(x, 4),
        })
    }

    /// A number so rounded, as a number.
    pub fn value(self, x: f64) -> f64 {
        match self {
            Self::Digits(digits) | Self::Plain(digits) => {
                significant(x, digits).parse().expect("invariant: a rounded number reads back")
            }
            Self::Places(places) => decimals(x, places).parse().expect("invariant: a rounded number reads back"),
            Self::Fives => (x / 5.0).round() * 5.0,
            Self::Tens => (x / 10.0).round() * 10.0,
            Self::Up(places) => {
                let step = (0..places).fold(1.0, |step, _| step * 10.0);
                (x * step - NOISE).ceil() / step
            }
            Self::Halves => (x * 2.0).round() / 2.0,
            Self::Quarters => (x * 4.0).round() / 4.0,
        }
    }
}

/// Smaller than this is what rounding leaves, in any unit that a sheet prints.
const NOISE: f64 = 1e-9;

/// In which unit and how rounded.
#[derive(Debug, Clone, Copy)]
pub struct In(pub &'static str, pub Round);

/// Writes the numbers of one sheet.
#[derive(Clone)]
pub struct Printer<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Its ledger.
    pub ledger: &'a Ledger,
    sheet: &'static str,
    alternative: Option<usize>,
    printed: Rc<RefCell<Vec<Printed>>>,
}

impl<'a> Printer<'a> {
    /// A printer of a plan's ledger.
    pub fn new(plan: &'a Plan, ledger: &'a Ledger) -> Self {
        Self { plan, ledger, sheet: "", alternative: None, printed: Rc::default() }
    }

    /// The same for one sheet.
    pub fn on(&self, sheet: &'static str) -> Self {
        Self { sheet, printed: Rc::clone(&self.printed), ..*self }
    }

    /// The same for the numbers of an alternative, on the same sheet.
    pub fn of_alternative<'b>(&self, index: usize, of: &crate::sheets::Of<'b>) -> Printer<'b> {
        let alternative = Some(index);
        Printer { plan: of.plan, ledger: of.ledger, sheet: self.sheet, alternative, printed: Rc::clone(&self.printed) }
    }

    /// All that was printed.
    pub fn into_printed(self) -> Vec<Printed> {
        self.printed.take()
    }

    /// The sheets that print a figure, in the order of the work, each once.
    pub fn sheets_of(&self, figure: &str) -> Vec<String> {
        let mut sheets: Vec<String> = Vec::new();
        for printed in self.printed.borrow().iter().filter(|printed| printed.sheet != self.sheet) {
            let name = match &printed.of {
                Of::Value(name) | Of::Low(name) | Of::High(name) => name,
                Of::Entry(..) | Of::Label(_) => continue,
            };
            if name == figure && !sheets.iter().any(|sheet| sheet == printed.sheet) {
                sheets.push(printed.sheet.to_owned());
            }
        }
        sheets
    }

    /// Whether inches, yards and ounces lead.
    pub fn in_inches(&self) -> bool {
        self.plan.units == System::Inch
    }

    /// The one of two that belongs to the leading system.
    pub fn lead<T>(&self, metric: T, inch: T) -> T {
        if self.in_inches() { inch } else { metric }
    }

    /// The leading one first, then the other.
    pub fn both<T>(&self, metric: T, inch: T) -> (T, T) {
        if self.in_inches() { (inch, metric) } else { (metric, inch) }
    }

    /// A figure's likely value as a number: the nominal one, so that what a plan writes and what a sheet says agree, and skeins
    /// add up to the yarn. Its bands tell where the draws lie otherwise.
    pub fn value(&self, name: &str, In(symbol, round): In) -> String {
        let line = self.ledger.get(name);
        let unit = the_unit(line.kind, symbol);
        let text = round.text(unit.from_base(line.value));
        self.record(text, unit, Of::Value(name.to_owned()))
    }

    /// A figure's low band.
    pub fn low(&self, name: &str, In(symbol, round): In) -> String {
        let line = self.ledger.get(name);
        let unit = the_unit(line.kind, symbol);
        self.record(round.text(unit.from_base(line.bands.low)), unit, Of::Low(name.to_owned()))
    }

    /// A figure's high band.
    pub fn high(&self, name: &str, In(symbol, round): In) -> String {
        let line = self.ledger.get(name);
        let unit = the_unit(line.kind, symbol);
        self.record(round.text(unit.from_base(line.bands.high)), unit, Of::High(name.to_owned()))
    }

    /// A figure with its unit, and the same in the other system.
    pub fn amount(&self, name: &str, lead: In, other: Option<In>) -> Amount {
        Amount {
            value: self.value(name, lead),
            unit: some_unit(lead.0),
            other: other.map(|other| self.with_unit(name, other)),
        }
    }

    /// A figure and its unit in one text.
    pub fn with_unit(&self, name: &str, shown: In) -> String {
        joined(&self.value(name, shown), shown.0)
    }

    /// A figure between its bands, and where between them it lies.
    pub fn spread(&self, name: &str, shown: In) -> Spread {
        let line = self.ledger.get(name);
        let width = line.bands.high - line.bands.low;
        Spread {
            low: self.low(name, shown),
            likely: self.value(name, shown),
            high: self.high(name, shown),
            unit: some_unit(shown.0),
            likely_at: if width > 0.0 { ((line.value - line.bands.low) / width).clamp(0.0, 1.0) } else { 0.5 },
        }
    }

    /// An entry of the plan or log, as a number of a unit.
    pub fn reading<Q>(&self, reading: &Reading<Q>, kind: Kind, In(symbol, round): In) -> String {
        let unit = the_unit(kind, symbol);
        let text = round.text(unit.from_base(reading.value));
        self.record(text, unit, Of::Entry(reading.place.path.clone(), reading.value))
    }

    /// A choice or an assumption of the ledger with its unit, by its place.
    pub fn chosen(&self, place: &str, kind: Kind, In(symbol, round): In) -> String {
        let value = self.ledger.source(place).value;
        let unit = the_unit(kind, symbol);
        let text = round.text(unit.from_base(value));
        joined(&self.record(text, unit, Of::Entry(place.to_owned(), value)), symbol)
    }

    /// A number of a class, as it was dealt: by its place, in base units.
    pub fn of_class(&self, place: &str, value: f64, shown: Shown) -> String {
        let text = Round::Places(shown.places).text(shown.unit.from_base(value));
        self.record(text, shown.unit, Of::Entry(place.to_owned(), value))
    }

    /// A whole number that counts or names things.
    pub fn label(&self, number: usize, what: &'static str) -> String {
        let unit = unit(Kind::Count, "").expect("invariant: the tables have the plain number");
        self.record(number.to_string(), unit, Of::Label(what))
    }

    /// A graduation of a scale.
    pub fn graduation(&self, text: String) -> String {
        let unit = unit(Kind::Count, "").expect("invariant: the tables have the plain number");
        self.record(text, unit, Of::Label("graduation"))
    }

    /// Text that holds numbers of the plan as its writer wrote them.
    pub fn as_written(&self, text: &str) -> String {
        let unit = unit(Kind::Count, "").expect("invariant: the tables have the plain number");
        self.record(text.replace(" %", "\u{a0}%"), unit, Of::Label("as written"))
    }

    pub(super) fn record(&self, text: String, unit: &'static Unit, of: Of) -> String {
        self.printed.borrow_mut().push(Printed {
            text: text.clone(),
            unit: unit.symbol,
            of,
            sheet: self.sheet,
            alternative: self.alternative,
        });
        text
    }
}

/// A number and a symbol, spaced as print asks.
pub fn joined(number: &str, symbol: &str) -> String {
    match symbol {
        "" => number.to_owned(),
        "°" | ":1" => format!("{number}{symbol}"),
        _ => format!("{number}\u{a0}{symbol}"),
    }
}

/// A unit as the sheets take it.
pub fn some_unit(symbol: &str) -> Option<String> {
    (!symbol.is_empty()).then(|| symbol.to_owned())
}

fn the_unit(kind: Kind, symbol: &str) -> &'static Unit {
    unit(kind, symbol).unwrap_or_else(|| panic!("invariant: {symbol} is a unit of {kind:?}"))
}
