//! The slate of one exercise: numbers are drawn onto it, questions asked of them, and the slips noted that are known.
//!
//! Numbers are drawn on a round step and printed to it, so that what a student works with is exact. What is rounded is each
//! answer, as it is written down: a later question goes on from the answer as written, and a tolerance is one unit in the last
//! place asked for and what the rounding of earlier answers brings, by the derivatives of the expression.

use std::sync::Arc;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use siphasher::sip128::{Hasher128, SipHasher13};

use super::wrong::Wrong;
use super::{Answer, Asked, Drawing, Given, Slip, Sum};
use crate::figures::Ledger;
use crate::figures::expression::tape::Tape;
use crate::figures::expression::text::{self, Shown};
use crate::figures::expression::{Entry, Figure, Node, Op, Shape};
use crate::plan::{Drive, Exercise, Plan};
use crate::units::format::decimals;
use crate::units::{Count, Quantity, Share, System, unit};

/// Where numbers are drawn: from here to there in steps, in a unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grid(pub(super) &'static str, pub(super) f64, pub(super) f64, pub(super) f64);

/// How an answer is written: in a unit, to so many places; or in whole numbers, of which only one is right.
#[derive(Debug, Clone, Copy)]
pub(super) enum To {
    Places(&'static str, u32),
    Whole,
}

pub(super) struct Slate<'a> {
    pub(super) plan: &'a Plan,
    pub(super) ledger: &'a Ledger,
    pub(super) system: System,
    /// The number of the student; none where the plan's own numbers are worked.
    pub(super) number: Option<usize>,
    chance: ChaCha8Rng,
    sum: Sum,
    is_fit: bool,
}

impl<'a> Slate<'a> {
    /// An empty one. The same plan, exercise, student and try give the same numbers.
    pub(super) fn new(
        (plan, ledger): (&'a Plan, &'a Ledger),
        exercise: Exercise,
        system: System,
        number: Option<usize>,
        tried: u32,
    ) -> Self {
        use std::hash::Hash;
        let mut hasher = SipHasher13::new_with_keys(0, 0);
        (plan.fingerprints().0, exercise.key(), system, number, tried).hash(&mut hasher);
        let mut seed = [0; 32];
        seed[..16].copy_from_slice(&hasher.finish128().as_bytes());
        let sum = Sum { exercise, given: Vec::new(), asked: Vec::new(), drawing: None, sources: Vec::new() };
        Self { plan, ledger, system, number, chance: ChaCha8Rng::from_seed(seed), sum, is_fit: true }
    }

    /// What stands on it, and whether its numbers will do.
    pub(super) fn finish(self) -> (Sum, bool) {
        let is_fit = self.is_fit && self.sum.is_told_apart();
        (self.sum, is_fit)
    }

    /// The one of two that belongs to the student's system.
    pub(super) fn lead<T>(&self, metric: T, inch: T) -> T {
        if self.system == System::Inch { inch } else { metric }
    }

    /// A whole number below `n`, by chance.
    pub(super) fn chance(&mut self, n: usize) -> usize {
        // A few bits too many for any bias to be seen.
        (self.chance.next_u64() % n as u64) as usize
    }

    /// Lets the numbers be drawn again unless something holds of them. The plan's own are as they are.
    pub(super) fn only_if(&mut self, holds: bool) {
        self.is_fit &= holds;
    }

    /// A figure of the ledger, in base units.
    pub(super) fn known(&self, name: &str) -> Option<f64> {
        self.ledger.find(name).map(|line| line.value)
    }

    /// The first figure of a stage, whatever kind of singles it is of.
    pub(super) fn known_of(&self, stage: &str, what: &str) -> Option<f64> {
        let is_it = |name: &str| name.starts_with(stage) && name.ends_with(what);
        self.ledger.lines().find(|line| is_it(&line.name)).map(|line| line.value)
    }

    /// The ratio of the middle whorl.
    pub(super) fn whorl(&self) -> Option<f64> {
        let Drive::Treadle { whorls, .. } = &self.plan.wheel.machine.drive else { return None };
        whorls.get(whorls.len() / 2).map(|whorl| whorl.ratio.value)
    }

    /// A number on a grid: near the plan's own, where it has one.
    pub(super) fn draw<Q: Quantity>(&mut self, words: &str, like: Option<f64>, metric: Grid, inch: Grid) -> Figure<Q> {
        let Grid(symbol, from, to, step) = self.lead(metric, inch);
        let unit = unit(Q::KIND, symbol).expect("invariant: numbers are drawn in units of the tables");
        let like = like.map(|value| unit.from_base(value)).filter(|value| value.is_finite());
        let places = places(step);
        let number = if self.number.is_none() {
            let middle = like.unwrap_or((from + to) / 2.0);
            (middle / step).round().max(1.0) * step
        } else {
            let (low, high) = like.map_or((from, to), |like| (from.max(0.7 * like), to.min(1.4 * like)));
            let (low, high) = if high - low < 3.0 * step { (from, to) } else { (low, high) };
            let (first, last) = ((low / step).ceil() as usize, (high / step).floor() as usize);
            (first + self.chance(last - first + 1)) as f64 * step
        };
        self.give(words, number, Shown { unit, places })
    }

    /// A number as near to a value as the steps of a grid are.
    pub(super) fn near<Q: Quantity>(
        &mut self,
        words: &str,
        value: f64,
        Grid(symbol, from, to, step): Grid,
    ) -> Figure<Q> {
        let unit = unit(Q::KIND, symbol).expect("invariant: numbers are drawn in units of the tables");
        let number = unit.from_base(value).clamp(from, to);
        self.give(words, (number / step).round() * step, Shown { unit, places: places(step) })
    }

    /// A number that is the same for everyone.
    pub(super) fn fixed<Q: Quantity>(&mut self, words: &str, (number, symbol): (f64, &'static str)) -> Figure<Q> {
        let unit = unit(Q::KIND, symbol).expect("invariant: numbers are given in units of the tables");
        self.give(words, number, Shown { unit, places: places(number) })
    }

    /// A whole number that was found or chosen.
    pub(super) fn count(&mut self, words: &str, number: usize) -> Figure<Count> {
        self.fixed(words, (number as f64, ""))
    }

    /// A number that is drawn, as it is printed.
    pub(super) fn give<Q: Quantity>(&mut self, words: &str, number: f64, shown: Shown) -> Figure<Q> {
        let number = read(number, shown.places);
        let place = format!("class.{}.{}", self.sum.exercise.key(), self.sum.given.len() + 1);
        let value = shown.unit.to_base(number);
        self.sum.given.push(Given { place: place.clone(), words: words.to_owned(), value, shown });
        entry(place, words, value, 0.0)
    }

    /// The number as it stands on the paper, whatever its unit: for slips that mix units or turn a line round.
    pub(super) fn bare<Q: Quantity>(&self, figure: &Figure<Q>) -> Figure<Share> {
        let Op::Entry(of) = figure.node().op() else { panic!("invariant: only numbers on the paper have a bare one") };
        let unit = self.shown(&of.place).unit;
        let place = format!("{}.bare", of.place);
        entry(place, &of.words, unit.from_base(of.value), of.uncertainty / unit.factor)
    }

    /// Asks for a figure: what it is called, how it is written. Gives it back as the student has it then, rounded as written.
    pub(super) fn ask<Q: Quantity>(&mut self, question: &str, words: &str, figure: &Figure<Q>, to: To) -> Figure<Q> {
        let shown = shown_in::<Q>(to);
        let number = read(shown.unit.from_base(figure.value()), shown.places);
        let is_entry = matches!(bare_formula(figure.node()).op(), Op::Entry(_));
        let tolerance = match to {
            // What is picked out is there or not.
            To::Places(..) if is_entry => 0.0,
            To::Places(..) => tolerance(figure.node(), shown.unit.factor, shown.places),
            To::Whole => 0.0,
        };
        // What comes out in so many places has nothing to round.
        let is_exact = (shown.unit.from_base(figure.value()) - number).abs() < 1e-9;
        let last = if is_exact { last_place(shown.places) } else { 0.0 };
        let line = (!is_entry).then(|| text::as_shown(figure.node(), &|place| self.shown(place), shown));
        let place = format!("class.{}.{}", self.sum.exercise.key(), self.letter());
        let value = shown.unit.to_base(number);
        let answer = Answer::Number { number, shown, tolerance, slips: Vec::new() };
        self.only_if(figure.value().is_finite() && number > 0.0);
        self.sum.asked.push(Asked {
            letter: self.letter(),
            place: place.clone(),
            question: question.to_owned(),
            words: words.to_owned(),
            answer,
            line,
            node: Arc::clone(figure.node()),
        });
        entry(place, words, value, (tolerance - last).max(0.0) * shown.unit.factor)
    }

    /// Asks for a word.
    pub(super) fn ask_word(&mut self, question: &str, right: &str, slips: &[(Wrong, String)]) {
        let slips = slips.iter().filter(|(_, word)| word != right).cloned().collect();
        self.sum.asked.push(Asked {
            letter: self.letter(),
            place: format!("class.{}.{}", self.sum.exercise.key(), self.letter()),
            question: question.to_owned(),
            words: String::new(),
            answer: Answer::Word { right: right.to_owned(), slips },
            line: None,
            node: Arc::clone(crate::figures::expression::exact::<Count>(right, 0.0).node()),
        });
    }

    /// A slip of the question that was asked last, by what comes out.
    pub(super) fn slip<Q: Quantity>(&mut self, wrong: Wrong, figure: &Figure<Q>) {
        let (shown, is_whole, slips) = self.last_number();
        let is_asked = shown.unit.symbol.is_empty() || shown.unit.kind == Q::KIND;
        assert!(is_asked, "invariant: a slip is of the quantity that is asked for");
        let number = shown.unit.from_base(figure.value());
        let tolerance = if is_whole { 0.0 } else { tolerance(figure.node(), shown.unit.factor, shown.places) };
        slips.extend(number.is_finite().then(|| Slip { wrong, number: read(number, shown.places), tolerance }));
    }

    /// The same, by the bare number that a calculator shows.
    pub(super) fn slip_bare(&mut self, wrong: Wrong, figure: &Figure<Share>) {
        let (shown, is_whole, slips) = self.last_number();
        let number = figure.value();
        let tolerance = if is_whole { 0.0 } else { tolerance(figure.node(), 1.0, shown.places) };
        slips.extend(number.is_finite().then(|| Slip { wrong, number: read(number, shown.places), tolerance }));
    }

    fn last_number(&mut self) -> (Shown, bool, &mut Vec<Slip>) {
        match self.sum.asked.last_mut() {
            Some(Asked { answer: Answer::Number { shown, tolerance, slips, .. }, .. }) => {
                (*shown, *tolerance == 0.0, slips)
            }
            _ => panic!("invariant: a slip is of a number that was asked for"),
        }
    }

    pub(super) fn draws(&mut self, drawing: Drawing) {
        self.sum.drawing = Some(drawing);
    }

    /// Names the source of a question, for the key.
    pub(super) fn source(&mut self, source: &'static str) {
        let letter = self.sum.asked.last().expect("invariant: a source is of a question").letter;
        self.sum.sources.push((letter, source));
    }

    fn letter(&self) -> char {
        char::from(b'a' + self.sum.asked.len() as u8)
    }

    /// How the entry at a place stands on the sheet.
    fn shown(&self, place: &str) -> Shown {
        let given = self.sum.given.iter().find(|given| given.place == place).map(|given| given.shown);
        let asked = || {
            let asked = self.sum.asked.iter().find(|asked| asked.place == place)?;
            match &asked.answer {
                Answer::Number { shown, .. } => Some(*shown),
                Answer::Word { .. } => None,
            }
        };
        given.or_else(asked).unwrap_or_else(|| panic!("invariant: {place} stands on the sheet"))
    }
}

/// A number of the paper as an entry of expressions.
fn entry<Q: Quantity>(place: String, words: &str, value: f64, uncertainty: f64) -> Figure<Q> {
    Figure::entry(Entry { place, words: words.to_owned(), value, uncertainty, shape: Shape::Normal })
}

fn bare_formula(node: &Arc<Node>) -> &Arc<Node> {
    match node.op() {
        Op::Named(_) => bare_formula(&node.below()[0]),
        _ => node,
    }
}

fn shown_in<Q: Quantity>(to: To) -> Shown {
    let (symbol, places) = match to {
        To::Places(symbol, places) => (symbol, places),
        To::Whole => ("", 0),
    };
    Shown { unit: unit(Q::KIND, symbol).expect("invariant: answers are asked in units of the tables"), places }
}

/// How far an answer may be off: one unit in the last place asked for, since one student rounds and another cuts off, and what
/// rounding of the answers before it brings; rounded up to the place.
fn tolerance(node: &Arc<Node>, factor: f64, places: u32) -> f64 {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("invariant: the tape holds its root");
    let brought: f64 = tape.variances(at, &tape.values()).iter().map(|(_, variance)| variance.sqrt()).sum();
    let step = last_place(places);
    let steps = brought / factor / step;
    read(step * (1.0 + (steps - 1e-6).max(0.0).ceil()), places)
}

/// One unit in the last of so many places.
fn last_place(places: u32) -> f64 {
    (0..places).fold(1.0, |step, _| step / 10.0)
}

/// How many places a step or a number has.
fn places(step: f64) -> u32 {
    (0..4).find(|places| read(step, *places) == step).unwrap_or(4)
}

/// A number as it is read off the paper.
fn read(number: f64, places: u32) -> f64 {
    decimals(number, places).parse().expect("invariant: a rounded number reads back")
}

/// Whether two numbers could be taken for one another.
pub(super) fn could_be((a, a_off): (f64, f64), (b, b_off): (f64, f64)) -> bool {
    (a - b).abs() <= (a_off + b_off) * (1.0 + 1e-9)
}

impl Slip {
    pub(super) fn reach(&self) -> (f64, f64) {
        (self.number, self.tolerance)
    }
}
