//! The ledger: every figure by its name, with its expression, its spread and where it comes from.
//!
//! [`Book`] is the ledger while it is written: formulas enter figures, readings and choices into it.
//! [`Ledger`] is the ledger as read: each line worked out, with its bands from ten thousand draws.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use indexmap::IndexMap;

use super::colour::Colouring;
use super::deal::Deal;
use super::expression::draws;
use super::expression::tape::Tape;
use super::expression::{self, Entry, Figure, Node, Op};
use super::garments::{Made, RowsLeft, SizeOf};
use super::matching::Fate;
use super::verdict::SampleVerdict;
use crate::diagnostics::{File, Place};
use crate::plan::{Origin, Reading, Shape};
use crate::units::{Count, Kind, Quantity, Standing};

/// A ledger while it is written.
#[derive(Default)]
pub struct Book {
    lines: IndexMap<String, Arc<Node>>,
    counted: Vec<Line>,
    sources: IndexMap<String, Source>,
}

/// Where an entry of an expression comes from, for the workings and for diagnostics.
#[derive(Debug, Clone)]
pub struct Source {
    /// What it is called in formulas.
    pub words: String,
    /// As written, with unit and give-or-take.
    pub text: String,
    /// Its nominal value in base units.
    pub value: f64,
    /// Who says so.
    pub said: Said,
    /// Where it stands, or the key under which a plan may say it; `None` for what no plan says.
    pub place: Option<Place>,
}

/// Who says a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said {
    /// An entry of the plan.
    Entry,
    /// A reading of the log, or of the plan where it calls it measured.
    Measured,
    /// Nobody: it is a default or a constant, with its standing and its reason or source.
    Default(Standing, &'static str),
    /// This program: a whole number or a round length taken from a figure, with the reason.
    Choice(&'static str),
}

/// A number that a formula brings along: a constant of the trade, or a default that no key of the plan replaces.
#[derive(Debug)]
pub struct Assumption {
    /// Its place, unlike any other.
    pub place: &'static str,
    /// What it is called in formulas.
    pub words: &'static str,
    /// As printed, with unit and give-or-take.
    pub text: &'static str,
    /// Its value in base units.
    pub value: f64,
    /// Half the width that holds nineteen times in twenty, in base units.
    pub give_or_take: f64,
    /// How its draws are spread.
    pub shape: expression::Shape,
    /// How well founded it is.
    pub standing: Standing,
    /// Source or reason.
    pub source: &'static str,
}

impl Book {
    /// Enters a figure under its name and noun, and gives it back to go on with.
    ///
    /// # Panics
    /// When the name is taken: two figures of one name would be printed as one.
    pub fn enter<Q: Quantity>(
        &mut self,
        name: impl Into<String>,
        words: impl Into<String>,
        figure: Figure<Q>,
    ) -> Figure<Q> {
        let name = name.into();
        let figure = figure.named(name.clone(), words);
        let before = self.lines.insert(name, Arc::clone(figure.node()));
        assert!(before.is_none(), "invariant: each name of the ledger is entered once");
        figure
    }

    /// A reading of the plan or the log as an entry of expressions.
    pub fn reading<Q: Quantity>(&mut self, reading: &Reading<Q>, words: &str) -> Figure<Q> {
        let file = if reading.place.file == File::Log { "log:" } else { "" };
        self.entered(format!("{file}{}", reading.place.path), reading, words)
    }

    /// The same of an entry of the log that has a number, `of` by it (`bobbin.3.full`): its draws stay what they are wherever it stands.
    pub fn numbered<Q: Quantity>(&mut self, of: &str, reading: &Reading<Q>, words: &str) -> Figure<Q> {
        self.entered(format!("log:{of}"), reading, words)
    }

    fn entered<Q: Quantity>(&mut self, place: String, reading: &Reading<Q>, words: &str) -> Figure<Q> {
        let said = match reading.origin {
            Origin::Entry => Said::Entry,
            Origin::Measured => Said::Measured,
            Origin::Default(standing, reason) => Said::Default(standing, reason),
        };
        self.sources.insert(
            place.clone(),
            Source {
                words: words.to_owned(),
                text: reading.text.clone(),
                value: reading.value,
                said,
                place: Some(reading.place.clone()),
            },
        );
        let shape = match reading.shape {
            Shape::Normal => expression::Shape::Normal,
            Shape::LogNormal => expression::Shape::LogNormal,
        };
        Figure::entry(Entry {
            place,
            words: words.to_owned(),
            value: reading.value,
            uncertainty: reading.uncertainty,
            shape,
        })
    }

    /// A number that a formula brings along.
    pub fn assume<Q: Quantity>(&mut self, assumption: &'static Assumption) -> Figure<Q> {
        let &Assumption { place, words, text, value, give_or_take, shape, standing, source } = assumption;
        self.sources.insert(
            place.to_owned(),
            Source {
                words: words.to_owned(),
                text: text.to_owned(),
                value,
                said: Said::Default(standing, source),
                place: None,
            },
        );
        Figure::entry(Entry {
            place: place.to_owned(),
            words: words.to_owned(),
            value,
            uncertainty: give_or_take / 2.0,
            shape,
        })
    }

    /// A number that this program chooses from what it has worked out: exact, with the reason. `text` is as printed.
    pub fn choose<Q: Quantity>(
        &mut self,
        place: &str,
        words: &str,
        value: f64,
        text: String,
        reason: &'static str,
    ) -> Figure<Q> {
        self.exact(format!("choice.{place}"), words, value, text, Said::Choice(reason))
    }

    /// A published fact about something that the plan names: exact, with its standing and source.
    pub fn fact<Q: Quantity>(
        &mut self,
        place: &str,
        words: &str,
        value: f64,
        text: String,
        standing: Standing,
        source: &'static str,
    ) -> Figure<Q> {
        self.exact(format!("fact.{place}"), words, value, text, Said::Default(standing, source))
    }

    /// What is likely of something that the plan names, by a table or a survey: with its standard deviation, standing and source.
    /// One place is one chance, wherever it is asked for.
    pub fn likely<Q: Quantity>(
        &mut self,
        place: &str,
        words: &str,
        (value, sd): (f64, f64),
        text: String,
        said: Said,
    ) -> Figure<Q> {
        let place = format!("fact.{place}");
        let entry = Entry {
            place: place.clone(),
            words: words.to_owned(),
            value,
            uncertainty: sd,
            shape: expression::Shape::LogNormal,
        };
        self.sources.insert(place, Source { words: words.to_owned(), text, value, said, place: None });
        Figure::entry(entry)
    }

    /// A number without spread that stands at no place of the plan.
    fn exact<Q: Quantity>(&mut self, place: String, words: &str, value: f64, text: String, said: Said) -> Figure<Q> {
        self.sources.insert(place.clone(), Source { words: words.to_owned(), text, value, said, place: None });
        Figure::entry(Entry {
            place,
            words: words.to_owned(),
            value,
            uncertainty: 0.0,
            shape: expression::Shape::Normal,
        })
    }

    /// What is entered under a name in this book alone, as a draft of a book that goes on without it.
    pub(super) fn draft(&self) -> Self {
        Self { lines: self.lines.clone(), counted: Vec::new(), sources: self.sources.clone() }
    }

    /// A figure entered before, by its name and quantity; `None` where there is none of both.
    pub fn find<Q: Quantity>(&self, name: &str) -> Option<Figure<Q>> {
        self.lines.get(name).filter(|node| node.kind() == Q::KIND).map(|node| Figure::from_node(Arc::clone(node)))
    }

    /// A figure that was surely entered before.
    pub fn figure<Q: Quantity>(&self, name: &str) -> Figure<Q> {
        self.find(name).unwrap_or_else(|| panic!("invariant: {name} is entered before it is used"))
    }

    /// Takes over a figure of another book, with all that it stands on. What this book holds by the same name and the same
    /// expression is left; anything else is entered under its name behind `prefix`. `None` where the other has no such figure.
    pub fn adopt<Q: Quantity>(&mut self, prefix: &str, other: &Book, name: &str) -> Option<Figure<Q>> {
        let node = other.lines.get(name).filter(|node| node.kind() == Q::KIND)?;
        Some(Figure::from_node(self.adopted(prefix, other, node)))
    }

    fn adopted(&mut self, prefix: &str, other: &Book, node: &Arc<Node>) -> Arc<Node> {
        if let Op::Entry(entry) = node.op()
            && let Some(source) = other.sources.get(&entry.place)
        {
            self.sources.entry(entry.place.clone()).or_insert_with(|| source.clone());
        }
        let named = node.name().map(|name| (name.to_owned(), format!("{prefix}.{name}")));
        if let Some((name, prefixed)) = &named {
            let is_same = |own: &&Arc<Node>| own.structure() == node.structure();
            if let Some(own) = self.lines.get(name).filter(is_same).or_else(|| self.lines.get(prefixed)) {
                return Arc::clone(own);
            }
        }
        let below = node.below().iter().map(|below| self.adopted(prefix, other, below)).collect();
        let adopted = node.standing_on(below, named.as_ref().map(|(_, name)| (name.as_str(), prefix)));
        if let Some((_, name)) = named {
            self.lines.insert(name, Arc::clone(&adopted));
        }
        adopted
    }

    /// The value of what was counted under a name.
    pub fn counted(&self, name: &str) -> Option<f64> {
        self.counted.iter().rfind(|line| line.name == name).map(|line| line.value)
    }

    /// Standard uncertainty of a figure to first order, over its value.
    pub fn relative_doubt(&self, name: &str) -> Option<f64> {
        let node = self.lines.get(name)?;
        let tape = Tape::new([node]);
        let at = tape.find(node).expect("invariant: the tape holds its root");
        let variance: f64 = tape.variances(at, &tape.values()).iter().map(|(_, variance)| variance).sum();
        Some(variance.sqrt() / node.value().abs())
    }

    /// Enters a figure that no expression gives: a share of draws, a quantile, a whole number of braids.
    pub fn count(&mut self, line: Line) {
        self.counted.push(line);
    }

    /// Works the ledger out: values, first-order spread, draws and bands.
    pub fn close(self, deal: Deal, columns: &Columns) -> Ledger {
        let tape = &columns.tape;
        let values = tape.values();
        let mut lines = IndexMap::new();
        for (name, node) in self.lines {
            let at = tape.find(&node).expect("invariant: the tape was made of these lines");
            let uncertainty = tape.variances(at, &values).iter().map(|(_, variance)| variance).sum::<f64>().sqrt();
            let Op::Named(named) = node.op() else { unreachable!("invariant: every line is named") };
            let bands = columns.bands[&name];
            lines.insert(
                name.clone(),
                Line {
                    words: named.words.clone(),
                    kind: node.kind(),
                    value: node.value(),
                    bands,
                    uncertainty,
                    standing: named.formula.standing,
                    source: named.formula.source.to_owned(),
                    name,
                    how: How::Formula(node),
                },
            );
        }
        for line in self.counted {
            lines.insert(line.name.clone(), line);
        }
        let colouring = Colouring { yarns: Vec::new() };
        Ledger {
            lines,
            sources: self.sources,
            deal,
            fate: None,
            verdicts: Vec::new(),
            colouring,
            garments: Vec::new(),
            sizes: Vec::new(),
            rows_left: Vec::new(),
            evenness: super::even::Evenness::default(),
            allotments: Vec::new(),
            pace: None,
            class: None,
        }
    }

    /// The draws of what has been entered so far. `keep` names the figures whose whole columns are wanted.
    pub fn draw(&self, keep: &[&str]) -> Columns {
        let tape = Tape::new(self.lines.values());
        let at = |node: &Arc<Node>| tape.find(node).expect("invariant: the tape holds its roots");
        let wanted: Vec<usize> = self.lines.values().map(at).collect();
        let whole: Vec<usize> = keep.iter().map(|name| at(&self.lines[*name])).collect();
        let (ranked, columns) = draws::ranked(&tape, &wanted, &whole);
        let mut bands = BTreeMap::new();
        let mut not_finite = None;
        for (name, [least, low, median, high, most]) in self.lines.keys().zip(ranked) {
            if not_finite.is_none() && !(least.is_finite() && most.is_finite()) {
                not_finite = Some(name.clone());
            }
            bands.insert(name.clone(), Bands { low, median, high });
        }
        let kept = keep.iter().map(|name| (*name).to_owned()).zip(columns).collect();
        Columns { tape, bands, kept, not_finite }
    }

    /// The figures entered, in order.
    pub fn lines(&self) -> impl Iterator<Item = (&str, &Arc<Node>)> {
        self.lines.iter().map(|(name, node)| (name.as_str(), node))
    }

    /// Where the entry at a place of an expression comes from.
    pub fn source(&self, place: &str) -> Option<&Source> {
        self.sources.get(place)
    }
}

/// Draws of a book.
pub struct Columns {
    tape: Tape,
    bands: BTreeMap<String, Bands>,
    kept: BTreeMap<String, Vec<f64>>,
    not_finite: Option<String>,
}

impl Columns {
    /// The first figure of which some draw is not finite: its entries spread further than it can bear.
    pub fn not_finite(&self) -> Option<&str> {
        self.not_finite.as_deref()
    }

    /// The draws of a figure that was asked for.
    pub fn of(&self, name: &str) -> &[f64] {
        &self.kept[name]
    }
}

/// Low, middle and high of ten thousand draws: 10, 50 and 90 per cent of them lie below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bands {
    /// One draw in ten lies below.
    pub low: f64,
    /// Half of the draws lie below.
    pub median: f64,
    /// One draw in ten lies above.
    pub high: f64,
}

impl Bands {
    /// The bands of a number without spread.
    pub fn exact(value: f64) -> Self {
        Self { low: value, median: value, high: value }
    }
}

/// A ledger as read.
#[derive(Debug, Clone)]
pub struct Ledger {
    lines: IndexMap<String, Line>,
    sources: IndexMap<String, Source>,
    /// What goes on which bobbin.
    pub deal: Deal,
    /// How the yarn in hand fares, where one is to be matched.
    pub fate: Option<Fate>,
    /// What is said of each sample.
    pub verdicts: Vec<SampleVerdict>,
    /// What its colours do.
    pub colouring: Colouring,
    /// How each garment is made, in the plan's order.
    pub garments: Vec<Made>,
    /// Sizes of the garments that were worked out.
    pub sizes: Vec<SizeOf>,
    /// Rows still to be had of the garments whose yarn was weighed.
    pub rows_left: Vec<RowsLeft>,
    /// How even what was spun is, by the log.
    pub evenness: super::even::Evenness,
    /// Which skeins go to which pieces, by the log.
    pub allotments: Vec<super::garments::Allotment>,
    /// How long the spinning still takes, at the pace of the log.
    pub pace: Option<super::pace::Pace>,
    /// The class with its sums, where the plan has one.
    pub class: Option<super::class::Classroom>,
}

/// One figure of the ledger.
#[derive(Debug, Clone)]
pub struct Line {
    /// Its name: `singles.twist`.
    pub name: String,
    /// Its noun: "singles twist".
    pub words: String,
    /// The kind of its quantity.
    pub kind: Kind,
    /// Nominal value in base units.
    pub value: f64,
    /// Bands of its draws, in base units.
    pub bands: Bands,
    /// Standard uncertainty to first order, in base units.
    pub uncertainty: f64,
    /// How well founded its formula is.
    pub standing: Standing,
    /// Where its formula comes from.
    pub source: String,
    /// How it came about.
    pub how: How,
}

/// How a figure came about.
#[derive(Debug, Clone)]
pub enum How {
    /// By a formula.
    Formula(Arc<Node>),
    /// Counted over the draws, or taken as a whole number: in words, with the names of the figures it was made of.
    Counted {
        /// What was done.
        words: String,
        /// Figures it was made of.
        of: Vec<String>,
    },
}

impl Line {
    /// A number that was counted and not drawn, still without its name, words, kind and source: for struct update.
    pub(super) fn counted(value: f64, standing: Standing) -> Self {
        Self {
            name: String::new(),
            words: String::new(),
            kind: Kind::Count,
            value,
            bands: Bands::exact(value),
            uncertainty: 0.0,
            standing,
            source: String::new(),
            how: How::Counted { words: String::new(), of: Vec::new() },
        }
    }

    /// The expression, where there is one.
    pub fn node(&self) -> Option<&Arc<Node>> {
        match &self.how {
            How::Formula(node) => Some(node),
            How::Counted { .. } => None,
        }
    }

    /// Whether its draws differ by more than the last bits of arithmetic.
    pub fn has_spread(&self) -> bool {
        self.bands.high - self.bands.low > 1e-12
    }
}

impl Ledger {
    /// A figure by its name.
    pub fn find(&self, name: &str) -> Option<&Line> {
        self.lines.get(name)
    }

    /// A figure that every ledger of its plan has.
    ///
    /// # Panics
    /// When there is none of that name, which is a fault of this program.
    pub fn get(&self, name: &str) -> &Line {
        self.find(name).unwrap_or_else(|| panic!("invariant: the ledger has {name}"))
    }

    /// All figures, in the order in which they were entered.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.lines.values()
    }

    /// Where the entry at a place of an expression comes from.
    pub fn source(&self, place: &str) -> &Source {
        &self.sources[place]
    }

    /// The same of an entry that may be the formula's own, which has none.
    pub fn find_source(&self, place: &str) -> Option<&Source> {
        self.sources.get(place)
    }

    /// All entries of the ledger's expressions, in the order in which they were first used.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &Source)> {
        self.sources.iter().map(|(place, source)| (place.as_str(), source))
    }

    /// What each entry brings to the variance of a figure: place and share, greatest first; empty without spread.
    pub fn shares(&self, name: &str) -> Vec<(String, f64)> {
        let Some(node) = self.get(name).node() else { return Vec::new() };
        let tape = Tape::new([node]);
        let at = tape.find(node).expect("invariant: the tape holds its roots");
        let values = tape.values();
        let mut shares: Vec<(String, f64)> = tape
            .variances(at, &values)
            .into_iter()
            .filter(|(_, variance)| *variance > 0.0)
            .map(|(step, variance)| (entry_at(&tape, step).place.clone(), variance))
            .collect();
        let whole: f64 = shares.iter().map(|(_, variance)| variance).sum();
        shares.iter_mut().for_each(|(_, variance)| *variance /= whole);
        shares.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        shares
    }

    /// The share of draws in which a figure is below zero, once the entries at some places are known without doubt.
    pub fn chance_below_zero(&self, name: &str, known: &BTreeSet<String>) -> f64 {
        let node = self.get(name).node().expect("invariant: asked of a formula");
        let tape = Tape::new([node]);
        let at = tape.find(node).expect("invariant: the tape holds its roots");
        share_below_zero(&draws::columns(&tape, &[at], known)[0])
    }
}

/// The share of a column below zero.
pub fn share_below_zero(column: &[f64]) -> f64 {
    column.iter().filter(|&&x| x < 0.0).count() as f64 / column.len() as f64
}

fn entry_at(tape: &Tape, step: usize) -> &Entry {
    match &tape.steps()[step] {
        expression::tape::Step::Entry(entry) => entry,
        _ => unreachable!("invariant: variances are of entries"),
    }
}

/// A number of things as a figure without spread, for formulas that take one.
pub fn number(book: &mut Book, place: &str, words: &str, value: usize, reason: &'static str) -> Figure<Count> {
    book.choose(place, words, value as f64, value.to_string(), reason)
}
