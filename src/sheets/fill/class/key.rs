//! Fills the answer key.

use std::collections::BTreeSet;

use super::super::print::{Printer, Round, some_unit};
use super::super::words::spelt;
use super::{told, unit_of, units_of};
use crate::figures::class::{Answer, Asked, Pupil, Sum, Wrong};
use crate::figures::expression::text::Shown;
use crate::sheets::answer_key::{AnswerKey, AnswerRow, ExerciseKey, SlipRow, SlipTold, StudentKey};
use crate::sheets::marks::Page;

/// The key; `None` without a class.
pub(crate) fn answer_key(printer: &Printer, page: Page) -> Option<AnswerKey> {
    let class = printer.ledger.class.as_ref()?;
    let sums = || class.pupils.iter().flat_map(|pupil| &pupil.sums);
    let mut sources: Vec<&str> = Vec::new();
    for (_, source) in sums().flat_map(|sum| &sum.sources) {
        if !sources.contains(source) {
            sources.push(source);
        }
    }
    let made: BTreeSet<Wrong> = sums().flat_map(|sum| &sum.asked).flat_map(wrongs).collect();
    let told =
        |wrong: &Wrong| SlipTold { words: spelt(printer.plan, wrong.words()), next: spelt(printer.plan, wrong.next()) };
    Some(AnswerKey {
        page,
        students: class.pupils.iter().map(|pupil| student(printer, pupil, &sources)).collect(),
        slips: made.iter().map(told).collect(),
        sources: sources.iter().map(|source| printer.as_written(source)).collect(),
    })
}

/// With as many places as a slip needs to be seen: what the answer's places round to nought is none.
fn finely(number: f64, shown: Shown) -> Shown {
    const MOST: u32 = 4;
    let is_seen = |places: &u32| Round::Places(*places).value(number) != 0.0;
    let places = (shown.places..=MOST).find(is_seen).unwrap_or(shown.places);
    Shown { places, ..shown }
}

/// The slips of a question.
fn wrongs(asked: &Asked) -> Vec<Wrong> {
    match &asked.answer {
        Answer::Number { slips, .. } => slips.iter().map(|slip| slip.wrong).collect(),
        Answer::Word { slips, .. } => slips.iter().map(|(wrong, _)| *wrong).collect(),
    }
}

fn student(printer: &Printer, pupil: &Pupil, sources: &[&str]) -> StudentKey {
    let exercise = |(i, sum): (usize, &Sum)| ExerciseKey {
        number: printer.label(i + 1, "number of an exercise"),
        title: spelt(printer.plan, told::told(sum.exercise).title),
        answers: sum.asked.iter().map(|asked| row(printer, sum, asked, sources)).collect(),
    };
    StudentKey {
        number: printer.label(pupil.number, "number of a student"),
        name: pupil.name.as_deref().map(|name| printer.as_written(name)),
        units: spelt(printer.plan, units_of(pupil.units)),
        exercises: pupil.sums.iter().enumerate().map(exercise).collect(),
    }
}

fn row(printer: &Printer, sum: &Sum, asked: &Asked, sources: &[&str]) -> AnswerRow {
    let source = sum.sources.iter().find(|(letter, _)| *letter == asked.letter).map(|(_, source)| *source);
    let source = source.and_then(|source| sources.iter().position(|other| *other == source));
    let source = source.map(|at| printer.label(at + 1, "number of a source"));
    let (letter, what) = (asked.letter.to_string(), spelt(printer.plan, &asked.words));
    match &asked.answer {
        Answer::Word { right, slips } => {
            let slip = |(wrong, word): &(Wrong, String)| SlipRow {
                value: word.clone(),
                words: spelt(printer.plan, wrong.words()),
            };
            let slips = slips.iter().map(slip).collect();
            AnswerRow { letter, what, answer: right.clone(), unit: None, tolerance: None, slips, source }
        }
        Answer::Number { number, shown, tolerance, slips } => {
            let print = |place: &str, number: f64| {
                printer.of_class(&format!("{}.{place}", asked.place), shown.unit.to_base(number), *shown)
            };
            let slip = |slip: &crate::figures::class::Slip| SlipRow {
                value: printer.of_class(
                    &format!("{}.slip", asked.place),
                    shown.unit.to_base(slip.number),
                    finely(slip.number, *shown),
                ),
                words: spelt(printer.plan, slip.wrong.words()),
            };
            AnswerRow {
                letter,
                what,
                answer: print("answer", *number),
                unit: some_unit(unit_of(*shown)),
                tolerance: (*tolerance > 0.0).then(|| print("tolerance", *tolerance)),
                slips: slips.iter().map(slip).collect(),
                source,
            }
        }
    }
}
