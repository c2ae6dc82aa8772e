//! Fills the lesson.

use std::collections::BTreeSet;

use super::super::print::{In, Printer, Round};
use super::super::words::spelt;
use super::told::{self, Hurt};
use crate::plan::{Class, Exercise};
use crate::sheets::lesson::{Lesson, LessonRow, SampleYarn};
use crate::sheets::marks::{Page, Warning};
use crate::units::System;

/// The lesson; `None` without a class.
pub(crate) fn lesson(printer: &Printer, page: Page) -> Option<Lesson> {
    let class = printer.plan.class.0.as_ref()?;
    let exercises = &class.exercises;
    let row = |(i, exercise): (usize, &Exercise)| row(printer, exercises, i, *exercise);
    let minutes: usize = exercises.iter().map(|exercise| told::told(*exercise).minutes).sum();
    Some(Lesson {
        page,
        students: students(printer, class),
        exercises: exercises.iter().enumerate().map(row).collect(),
        time: time(printer, minutes),
        cautions: cautions(printer, exercises),
        yarns: yarns(printer),
        judged: spelt(
            printer.plan,
            "Each is judged washed and dry, by three counts written down; a tied sample says more than the number.",
        ),
    })
}

fn students(printer: &Printer, class: &Class) -> String {
    let n = class.students.len();
    let others = class.students.iter().filter(|student| student.units != class.units).count();
    let all = format!("{} student{}", printer.label(n, "students"), if n == 1 { "" } else { "s" });
    let measure = if class.units == System::Inch { "centimetres and grams" } else { "inches and ounces" };
    match others {
        0 => all,
        _ => format!("{all}, {} of whom measure in {measure}", printer.label(others, "students")),
    }
}

fn time(printer: &Printer, minutes: usize) -> String {
    let (hours, rest) = (minutes / 60, minutes % 60);
    let number = |n: usize, unit: &str| format!("{}\u{a0}{unit}", printer.label(n, "time"));
    match (hours, rest) {
        (0, _) => number(rest, "min"),
        (_, 0) => number(hours, "h"),
        _ => format!("{} {}", number(hours, "h"), number(rest, "min")),
    }
}

fn row(printer: &Printer, exercises: &[Exercise], i: usize, exercise: Exercise) -> LessonRow {
    let told = told::told(exercise);
    let before = |before: &Exercise| match exercises.iter().position(|other| other == before) {
        Some(at) => printer.label(at + 1, "number of an exercise"),
        None => spelt(printer.plan, &uncapital(told::told(*before).title)),
    };
    LessonRow {
        number: printer.label(i + 1, "number of an exercise"),
        title: spelt(printer.plan, told.title),
        is_optional: exercise.is_optional(),
        minutes: printer.label(told.minutes, "minutes"),
        bring: spelt(printer.plan, told.bring),
        after: exercise.after().iter().map(before).collect::<Vec<_>>().join(", "),
    }
}

/// A title within a sentence: its first letter small, unless it is a word by itself.
fn uncapital(title: &str) -> String {
    let mut letters = title.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            first.to_lowercase().to_string() + &title[first.len_utf8()..]
        }
        _ => title.to_owned(),
    }
}

fn cautions(printer: &Printer, exercises: &[Exercise]) -> Vec<Warning> {
    let mut hurts: BTreeSet<Hurt> = exercises.iter().filter_map(|exercise| told::told(*exercise).hurts).collect();
    if hurts.contains(&Hurt::Bath) && printer.plan.supplies.iter().any(|supply| !supply.sections.is_empty()) {
        hurts.insert(Hurt::Dye);
    }
    let warning = |hurt: &Hurt| {
        let (cause, remedy) = told::caution(*hurt);
        Warning { cause: spelt(printer.plan, cause), remedy: spelt(printer.plan, remedy) }
    };
    hurts.iter().map(warning).collect()
}

/// The yarns to spin, in wraps over the length that they are counted in.
fn yarns(printer: &Printer) -> Vec<SampleYarn> {
    let counted = printer.lead("wraps in 3 cm", "wraps in 1 in");
    let (unit, round) = printer.lead(("m/100 g", "m in 100 g"), ("yd/lb", "yd in 1 lb"));
    [("thick", "lesson.thick"), ("the plan's", "washed"), ("thin", "lesson.thin")]
        .map(|(name, stage)| {
            let shown = In("", Round::Places(0));
            let figure = |what: &str| printer.value(&format!("{stage}.wraps-counted{what}"), shown);
            let grist = printer.value(&format!("{stage}.grist"), In(unit, Round::Digits(3)));
            SampleYarn {
                name: name.to_owned(),
                low: figure(".low"),
                target: figure(""),
                high: figure(".high"),
                counted: counted.to_owned(),
                grist: printer.as_written(&format!("{grist} {round}")),
            }
        })
        .into()
}
