//! Fills what a class is handed: worksheets, the key, the lesson, and the page of the first evening.

mod key;
mod lesson;
mod told;

use super::print::{Printer, joined, some_unit};
use super::words::{self, spelt};
use crate::figures::class::{Answer, Asked, Classroom, Drawing, Given, Pupil, Sum};
use crate::figures::expression::text::Shown;
use crate::plan::Direction;
use crate::sheets::first_lesson::FirstLesson;
use crate::sheets::marks::{Page, Slant, Tie};
use crate::sheets::student_worksheet::{
    GivenNumber, Practice, PracticeBlank, Question, StudentPages, StudentWorksheet,
};
use crate::units::System;
use crate::units::format::decimals;
pub(super) use key::answer_key;
pub(super) use lesson::lesson;

/// The worksheets; `None` without a class.
pub(super) fn student_worksheet(printer: &Printer, page: Page) -> Option<StudentWorksheet> {
    let class = printer.ledger.class.as_ref()?;
    let students = class.pupils.iter().map(|pupil| student(printer, class, pupil)).collect();
    Some(StudentWorksheet { page, colours: words::colours(printer.plan), students })
}

/// The page of the first evening; `None` without a class.
pub(super) fn first_lesson(printer: &Printer, page: Page) -> Option<FirstLesson> {
    let class = printer.plan.class.0.as_ref()?;
    let tail = if class.units == System::Inch { "tail 6 in (15 cm)" } else { "tail 15 cm (6 in)" };
    let tie = |title: &str, how: &str| Tie { title: title.to_owned(), how: how.to_owned(), tail: tail.to_owned() };
    Some(FirstLesson {
        page,
        tie: tie("my first yarn", "as it came off the wheel"),
        weight_unit: if class.units == System::Inch { "oz" } else { "g" }.to_owned(),
        length_unit: if class.units == System::Inch { "yd" } else { "m" }.to_owned(),
        plies: printer.plan.yarn.plies.value as usize,
        caution: words::CAUTION.to_owned(),
    })
}

fn student(printer: &Printer, class: &Classroom, pupil: &Pupil) -> StudentPages {
    let practices = pupil.sums.iter().enumerate();
    StudentPages {
        number: printer.label(pupil.number, "number of a student"),
        name: pupil.name.as_deref().map(|name| printer.as_written(name)),
        units: spelt(printer.plan, units_of(pupil.units)),
        exercises: practices
            .map(|(i, sum)| practice(printer, i, sum, class.example(i, pupil.units), pupil.units))
            .collect(),
    }
}

fn units_of(units: System) -> &'static str {
    if units == System::Inch { "inches, yards and ounces" } else { "centimetres, metres and grams" }
}

fn practice(printer: &Printer, i: usize, sum: &Sum, example: &Sum, units: System) -> Practice {
    let told = told::told(sum.exercise);
    let plan = printer.plan;
    let blank = |(name, metric, inch): &(&str, &str, &str)| PracticeBlank {
        name: spelt(plan, name),
        unit: some_unit(if units == System::Inch { inch } else { metric }),
    };
    let asked = sum.asked.iter().zip(&example.asked);
    Practice {
        number: printer.label(i + 1, "number of an exercise"),
        key: sum.exercise.key().to_owned(),
        title: spelt(plan, told.title),
        is_optional: sum.exercise.is_optional(),
        goal: spelt(plan, told.goal),
        steps: told.steps.iter().map(|step| spelt(plan, step)).collect(),
        blanks: told.blanks.iter().map(blank).collect(),
        caution: told.hurts.map(|hurt| spelt(plan, &caution(hurt))),
        picture: told.picture.map(str::to_owned),
        yarns: yarns(sum),
        strips: strips(sum),
        given: sum.given.iter().map(|given| given_number(printer, given)).collect(),
        questions: asked.map(|(asked, example)| question(printer, asked, example)).collect(),
    }
}

/// What can hurt, and the first thing to do about it.
fn caution(hurt: told::Hurt) -> String {
    let (cause, remedy) = told::caution(hurt);
    let first = remedy.split([';', '.']).next().unwrap_or(remedy);
    format!("{cause} {first}.")
}

fn yarns(sum: &Sum) -> Vec<Slant> {
    let Some(Drawing::Yarns(yarns)) = &sum.drawing else { return Vec::new() };
    let slant = |direction: &Direction| if *direction == Direction::Z { Slant::Z } else { Slant::S };
    yarns.iter().map(slant).collect()
}

fn strips(sum: &Sum) -> Vec<Vec<usize>> {
    let Some(Drawing::Strips(first, second)) = &sum.drawing else { return Vec::new() };
    vec![first.clone(), second.clone()]
}

fn given_number(printer: &Printer, given: &Given) -> GivenNumber {
    let number = printer.of_class(&given.place, given.value, given.shown);
    GivenNumber { name: spelt(printer.plan, &given.words), value: joined(&number, given.shown.unit.symbol) }
}

fn question(printer: &Printer, asked: &Asked, example: &Asked) -> Question {
    let spelt = |text: &str| spelt(printer.plan, text);
    // What is another question for each student is worked for none.
    let line = example.line.as_ref().filter(|_| example.question == asked.question);
    let (unit, written) = match &asked.answer {
        Answer::Number { shown, .. } => (some_unit(unit_of(*shown)), places_told(*shown)),
        Answer::Word { .. } => (None, ""),
    };
    Question {
        letter: asked.letter.to_string(),
        text: printer.as_written(&spelt(&asked.question)),
        formula: asked.line.as_ref().map(|line| spelt(&line.words)),
        worked: line.map(|line| printer.as_written(&line.numbers)),
        result: line.map(|line| result(printer, example, joined(&line.result, &line.unit))),
        unit,
        written: written.to_owned(),
    }
}

/// A share is told as what it is of one and in per cent.
fn result(printer: &Printer, example: &Asked, plain: String) -> String {
    match &example.answer {
        Answer::Number { number, shown, .. } if shown.unit.symbol == "%" => {
            printer.as_written(&format!("{plain}, that is {} %", decimals(*number, shown.places)))
        }
        _ => printer.as_written(&plain),
    }
}

fn unit_of(shown: Shown) -> &'static str {
    if shown.unit.symbol == ":1" { "" } else { shown.unit.symbol }
}

/// To how many places an answer is written, in words.
fn places_told(shown: Shown) -> &'static str {
    match shown.places {
        0 => "a whole number",
        1 => "one place after the point",
        2 => "two places after the point",
        3 => "three places after the point",
        _ => "four places after the point",
    }
}
