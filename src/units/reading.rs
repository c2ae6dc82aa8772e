//! Reading a quantity as a spinner writes it: number, give-or-take, unit.
//!
//! A quantity is first read as written and then taken as of a kind, so that one text can be tried as several kinds.
//! Whether a quantity makes sense where it stands (a braid of no weight) is not asked here.

use super::Kind;
use super::error::UnitError;
use super::number::{self, Form, Number, Pair};
use super::table::table;
use super::unit::{Folding, Unit, nearest, spelling, unit};
use std::hash::{Hash, Hasher};

/// The longest text that is read as a quantity, in characters.
const LONGEST: usize = 200;
/// Beyond this, in the unit written or in the base unit, a number is out of all proportion.
const LARGEST: f64 = 1e15;
/// A number nearer to nothing than this, but not nothing, is out of all proportion.
const SMALLEST: f64 = 1e-15;
/// A folded count of more singles than this is more likely two threads of different counts.
const MOST_SINGLES: f64 = 12.0;
/// Units offered where one is missing.
const N_OFFERED: usize = 6;

/// A quantity as read.
#[derive(Debug, Clone)]
pub struct Parsed {
    /// What it measures: the kind asked for.
    pub kind: Kind,
    /// The value in the base unit of `kind`.
    pub value: f64,
    /// Half the width within which it lies nineteen times in twenty, in the base unit of `kind`.
    /// For a quantity written as its reciprocal, the same share of the value as was written.
    pub give_or_take: Option<f64>,
    /// The unit written. Its kind is `kind` or, for yarn numbers, the reciprocal of it.
    pub unit: &'static Unit,
    /// The number in `unit`; of a folded count, that of the finished yarn.
    pub number: f64,
    /// The worth of the last digit written, in the base unit of `kind`.
    pub step: f64,
    /// The two numbers of a folded count.
    pub folded: Option<(f64, f64)>,
    /// Whether a comma was read as the mark of the decimals.
    pub readings_comma: bool,
    /// As written, without the spaces around it.
    pub text: String,
}

impl Parsed {
    /// The value in any unit of its kind or, for yarn numbers, of the reciprocal kind, where nothing turned over is beyond measure.
    pub fn in_unit(&self, unit: &Unit) -> f64 {
        // The unit written gives back the number written, to the bit.
        if unit == self.unit {
            return self.number;
        }
        let base = if unit.kind == self.kind { self.value } else { 1.0 / self.value };
        unit.from_base(base)
    }

    /// The give-or-take in any unit of its kind; in a unit of the reciprocal kind, the same share of the value.
    pub fn give_or_take_in(&self, unit: &Unit) -> Option<f64> {
        let width = self.give_or_take?;
        if unit.kind == self.kind {
            return Some(width / unit.factor);
        }
        Some(width / self.value.abs() * self.in_unit(unit).abs())
    }

    /// How many of the count that is written are worth one of the finished yarn: the number of singles where singles are counted, else one.
    pub(super) fn written_per_finished(&self) -> f64 {
        self.folded.map_or(1.0, |(first, second)| first.max(second) / self.number)
    }
}

/// Two readings are equal if everything read is, to the bit.
impl PartialEq for Parsed {
    fn eq(&self, other: &Self) -> bool {
        self.parts() == other.parts()
    }
}

impl Eq for Parsed {}

impl Hash for Parsed {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.parts().hash(state);
    }
}

type Parts<'a> = (Kind, u64, Option<u64>, &'static Unit, u64, u64, Option<(u64, u64)>, bool, &'a str);

impl Parsed {
    fn parts(&self) -> Parts<'_> {
        let width = self.give_or_take.map(f64::to_bits);
        let folded = self.folded.map(|(first, second)| (first.to_bits(), second.to_bits()));
        let (value, number, step) = (self.value.to_bits(), self.number.to_bits(), self.step.to_bits());
        (self.kind, value, width, self.unit, number, step, folded, self.readings_comma, &self.text)
    }
}

/// Reads `text` as a quantity of `kind`. `LinearDensity` and `Yield` read each other's units by the reciprocal.
///
/// # Errors
/// Every way in which `text` can fail to be one is a [`UnitError`].
pub fn parse(text: &str, kind: Kind) -> Result<Parsed, UnitError> {
    Written::read(text)?.of_kind(kind)
}

/// Reads `text` as every kind that has the unit written. Empty if it is no quantity, or lacks a unit that would tell.
pub fn parse_any(text: &str) -> Vec<Parsed> {
    let Ok(written) = Written::read(text) else { return Vec::new() };
    let readings = Kind::ALL.into_iter().filter_map(|kind| written.of_kind(kind).ok());
    readings.filter(|reading| reading.unit.kind == reading.kind).collect()
}

/// A quantity as written, not yet of any kind.
struct Written<'a> {
    text: &'a str,
    number: Number,
    unit: &'a str,
    give_or_take: Option<GiveOrTake<'a>>,
}

struct GiveOrTake<'a> {
    number: Number,
    /// Its own unit, where it stands after a number with another.
    unit: Option<&'a str>,
}

impl<'a> Written<'a> {
    fn read(text: &'a str) -> Result<Self, UnitError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(UnitError::Empty);
        }
        if text.chars().nth(LONGEST).is_some() {
            return Err(UnitError::TooLong { n_characters: text.chars().count(), limit: LONGEST });
        }
        let (leading_unit, rest) = split_leading_unit(text);
        let (before, after) = split_give_or_take(rest);
        let (number, first_unit) = number::read(before)?;
        let mut written = Self { text, number, unit: first_unit, give_or_take: None };
        if let Some(after) = after {
            let (number, second_unit) = number::read(after)?;
            if number.value < 0.0 {
                return Err(UnitError::NegativeGiveOrTake { written: text.to_owned() });
            }
            let is_shared = first_unit.is_empty() || second_unit.is_empty();
            written.unit = if first_unit.is_empty() { second_unit } else { first_unit };
            written.give_or_take = Some(GiveOrTake { number, unit: (!is_shared).then_some(second_unit) });
        }
        if !leading_unit.is_empty() {
            if !written.unit.is_empty() {
                return Err(UnitError::NotANumber { written: text.to_owned() });
            }
            written.unit = leading_unit;
        }
        Ok(written)
    }

    fn of_kind(&self, kind: Kind) -> Result<Parsed, UnitError> {
        let unit = self.find_unit(kind)?;
        let Count { number, step, worth, folded } = self.number_in(unit)?;
        self.refuse_disproportion(number)?;
        let mut parsed = Parsed {
            kind,
            value: unit.to_base(number),
            give_or_take: None,
            unit,
            number,
            step: step * unit.factor,
            folded,
            readings_comma: self.number.comma,
            text: self.text.to_owned(),
        };
        if let Some(width) = &self.give_or_take {
            parsed.readings_comma |= width.number.comma;
            parsed.give_or_take = Some(self.width_in_base(width, unit, parsed.value, worth)?);
        }
        if unit.kind != kind {
            self.turn_over(&mut parsed)?;
        }
        self.refuse_disproportion(parsed.value)?;
        self.refuse_disproportion(parsed.give_or_take.unwrap_or(0.0))?;
        Ok(parsed)
    }

    /// The unit written, as one of `kind` or of its reciprocal.
    fn find_unit(&self, kind: Kind) -> Result<&'static Unit, UnitError> {
        let is_yarn_number = kind.reciprocal().is_some();
        let is_pair = matches!(self.number.form, Form::Pair(..));
        let is_fraction = matches!(self.number.form, Form::Pair(Pair { is_fraction: true, .. }) | Form::Fraction);
        if self.unit.is_empty() {
            // A number of things needs no unit, and neither does a share that is written as a fraction.
            let needs_none = kind == Kind::Count || (kind == Kind::Share && is_fraction);
            return match unit(kind, "") {
                Some(plain) if needs_none => Ok(plain),
                _ if is_yarn_number && is_pair => Err(UnitError::FoldedWithoutSystem { written: self.text.to_owned() }),
                _ => Err(UnitError::MissingUnit { could_be: offered(kind) }),
            };
        }
        let kinds = || [Some(kind), kind.reciprocal()].into_iter().flatten();
        if let Some(found) = kinds().find_map(|kind| unit(kind, self.unit)) {
            return Ok(found);
        }
        if is_yarn_number {
            if let Some(found) = count_after_plural(self.unit) {
                return Ok(found);
            }
            if is_count_without_system(self.unit) {
                let written = self.text.to_owned();
                return Err(if is_pair {
                    UnitError::FoldedWithoutSystem { written }
                } else {
                    UnitError::CountWithoutSystem { written }
                });
            }
        }
        let elsewhere = Kind::ALL.into_iter().find(|other| unit(*other, self.unit).is_some());
        Err(match elsewhere {
            Some(found) => UnitError::WrongKind { found, wanted: kind, unit: self.unit.to_owned() },
            None => UnitError::UnknownUnit {
                unit: self.unit.to_owned(),
                nearest: kinds().find_map(|kind| nearest(kind, self.unit)),
            },
        })
    }

    /// The number in `unit`, a folded count made that of the finished yarn.
    fn number_in(&self, unit: &Unit) -> Result<Count, UnitError> {
        let plain = Count { number: self.number.value, step: self.number.step, worth: 1.0, folded: None };
        let pair = match self.number.form {
            Form::Digits | Form::Fraction => return Ok(plain),
            Form::Pair(pair) => pair,
        };
        match unit.folding {
            Folding::NoCount if pair.is_fraction => return Ok(plain),
            // Below one a count can be a vulgar fraction, as in "1/2 run"; "2/24 run" is not meant as one.
            Folding::Unknown if pair.is_fraction && pair.first == 1.0 => return Ok(plain),
            Folding::NoCount => return Err(UnitError::NotANumber { written: self.text.to_owned() }),
            Folding::Unknown | Folding::OfTheSingles | Folding::OfTheFinished | Folding::OfEachThread => {}
        }
        let n_counted = self.singles_counted(pair, unit.folding);
        let n_counted = n_counted
            .ok_or_else(|| UnitError::UnknownFolding { written: self.text.to_owned(), system: unit.symbol })?;
        let worth = 1.0 / n_counted;
        let number = pair.first.max(pair.second) / n_counted;
        Ok(Count { number, step: pair.step * worth, worth, folded: Some((pair.first, pair.second)) })
    }

    /// By how much the finished yarn of a folded count is coarser than the count written; nothing if the pair is not one of this system.
    fn singles_counted(&self, pair: Pair, folding: Folding) -> Option<f64> {
        let n_singles = pair.first.min(pair.second);
        let is_number_of_singles =
            n_singles.fract() == 0.0 && (1.0..=MOST_SINGLES).contains(&n_singles) && self.number.value > 0.0;
        match folding {
            Folding::OfEachThread if pair.first == pair.second && self.number.value > 0.0 => Some(2.0),
            Folding::OfTheSingles | Folding::OfEachThread if is_number_of_singles => Some(n_singles),
            Folding::OfTheFinished if is_number_of_singles => Some(1.0),
            Folding::OfTheSingles
            | Folding::OfTheFinished
            | Folding::OfEachThread
            | Folding::Unknown
            | Folding::NoCount => None,
        }
    }

    /// The give-or-take in the base unit of the kind that the unit `of` measures.
    fn width_in_base(&self, width: &GiveOrTake<'_>, of: &Unit, value: f64, worth: f64) -> Result<f64, UnitError> {
        let number = width.number.value;
        let Some(own) = width.unit else { return Ok(number * worth * of.factor) };
        let is_relative = of.kind != Kind::Share && unit(Kind::Share, own).is_some_and(|share| share.symbol == "%");
        if is_relative {
            return Ok(value.abs() * number / 100.0);
        }
        let own = Written { text: self.text, number: width.number.clone(), unit: own, give_or_take: None }
            .of_kind(of.kind)?;
        Ok(own.number * own.unit.factor)
    }

    /// Makes a reading in the reciprocal kind one of the kind asked for; shares of the value stay as they are.
    fn turn_over(&self, parsed: &mut Parsed) -> Result<(), UnitError> {
        if parsed.value == 0.0 {
            return Err(UnitError::NoReciprocal { written: self.text.to_owned(), wanted: parsed.kind });
        }
        let value = 1.0 / parsed.value;
        let share = (value / parsed.value).abs();
        parsed.give_or_take = parsed.give_or_take.map(|width| width * share);
        parsed.step *= share;
        parsed.value = value;
        Ok(())
    }

    fn refuse_disproportion(&self, value: f64) -> Result<(), UnitError> {
        let size = value.abs();
        let is_fit = size == 0.0 || (SMALLEST..=LARGEST).contains(&size);
        if is_fit { Ok(()) } else { Err(UnitError::OutOfRange { written: self.text.to_owned() }) }
    }
}

/// A number in a unit.
struct Count {
    number: f64,
    /// Worth of the last digit written.
    step: f64,
    /// What one in the count that is written is worth in that of the finished yarn.
    worth: f64,
    folded: Option<(f64, f64)>,
}

/// Units that a bare number could mean.
fn offered(kind: Kind) -> Vec<&'static str> {
    let tables = [Some(kind), kind.reciprocal()].into_iter().flatten().map(table);
    // Of each table the likeliest come first; of two, half from each.
    let n_each = if kind.reciprocal().is_some() { N_OFFERED / 2 } else { N_OFFERED };
    let symbols =
        tables.flat_map(|units| units.iter().map(|unit| unit.symbol).filter(|symbol| !symbol.is_empty()).take(n_each));
    symbols.collect()
}

/// The system of a count written in the plural, as in "24s worsted" or "24's worsted"; `rest` begins after the number.
fn count_after_plural(rest: &str) -> Option<&'static Unit> {
    let after = rest.strip_prefix(['\'', '’']).unwrap_or(rest).strip_prefix('s')?;
    let system = unit(Kind::Yield, after)?;
    (after.starts_with(char::is_whitespace) && system.folding != Folding::NoCount).then_some(system)
}

/// Whether only the word for a count stands where its system should.
fn is_count_without_system(rest: &str) -> bool {
    matches!(spelling(rest).as_str(), "s" | "'s" | "count" | "counts" | "scount" | "'scount")
}

/// A unit before its number, as in "Nm 2/28" or "EUR 19.00", and the rest.
fn split_leading_unit(text: &str) -> (&str, &str) {
    let begins_with_word = text.starts_with(char::is_alphabetic);
    match text.find(|sign: char| sign.is_ascii_digit()) {
        Some(at) if begins_with_word => (text[..at].trim_end(), &text[at..]),
        _ => ("", text),
    }
}

/// What stands before and after the sign of give-or-take.
fn split_give_or_take(text: &str) -> (&str, Option<&str>) {
    let signs = ["±", "+-", "+/-", "+\u{2212}"];
    let first = signs.into_iter().filter_map(|sign| text.find(sign).map(|at| (at, sign))).min();
    match first {
        Some((at, sign)) => (&text[..at], Some(&text[at + sign.len()..])),
        None => (text, None),
    }
}
