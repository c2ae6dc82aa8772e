//! A class: for each exercise the sum worked with the plan's numbers, and for each student the same with numbers of their own,
//! with every answer, its tolerance, and the slips that are known by what comes out.
//!
//! An exercise is a function that gives numbers, asks for figures of them by the formulas of the other topics, and says what
//! comes out where a slip is made. What a student gets depends on the plan and on their number alone: whoever joins the class
//! changes nobody's sheet. Numbers are drawn again where a slip could be taken for the answer or for another slip, and where an
//! answer could be copied from a neighbour, whichever units that one measures in.

mod curious;
mod fabric;
mod fibre;
mod handbook;
mod marking;
mod slate;
mod targets;
mod twist;
mod wrong;
mod yarn;

use std::sync::Arc;

use super::Ledger;
use super::expression::Node;
use super::expression::text::{Line, Shown};
use crate::plan::{Class, Direction, Exercise, Plan};
use crate::units::System;
pub use handbook::{BOOKS, Book};
pub use marking::{Verdict, mark};
use slate::{Slate, could_be};
pub(super) use targets::targets;
pub use wrong::Wrong;

/// A class with all its sums.
#[derive(Debug, Clone)]
pub struct Classroom {
    /// The exercises in the order of learning.
    pub exercises: Vec<Exercise>,
    /// Each of them worked with the plan's numbers, metric and in inches.
    pub examples: Vec<[Sum; 2]>,
    /// The students in order of their numbers.
    pub pupils: Vec<Pupil>,
}

/// A student with their sums.
#[derive(Debug, Clone)]
pub struct Pupil {
    /// Their number, counted from one.
    pub number: usize,
    /// Their name, where the plan says it.
    pub name: Option<String>,
    /// Units that they measure in.
    pub units: System,
    /// Their sums, one for each exercise.
    pub sums: Vec<Sum>,
}

/// One exercise with one set of numbers.
#[derive(Debug, Clone)]
pub struct Sum {
    /// Which exercise.
    pub exercise: Exercise,
    /// Numbers that are given.
    pub given: Vec<Given>,
    /// Questions, in order.
    pub asked: Vec<Asked>,
    /// What is drawn of it, where it is of this student alone.
    pub drawing: Option<Drawing>,
    /// Questions by their letters that are taken from a book, each with it.
    pub sources: Vec<(char, &'static str)>,
}

/// A number that is given.
#[derive(Debug, Clone)]
pub struct Given {
    /// Its place: `class.ratio.1`.
    pub place: String,
    /// What it is.
    pub words: String,
    /// In base units.
    pub value: f64,
    /// How it is written.
    pub shown: Shown,
}

/// One question.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Its letter: a, b, c.
    pub letter: char,
    /// Its place: `class.ratio.a`.
    pub place: String,
    /// The question.
    pub question: String,
    /// What is asked for, as a noun; empty of a word.
    pub words: String,
    /// The answer.
    pub answer: Answer,
    /// The formula with the numbers put in; `None` of what is found by looking.
    pub line: Option<Line>,
    /// Its expression over the numbers of the sheet.
    pub node: Arc<Node>,
}

/// An answer.
#[derive(Debug, Clone)]
pub enum Answer {
    /// A number.
    Number {
        /// As written, in its unit.
        number: f64,
        /// How it is written.
        shown: Shown,
        /// How far off it is still right, in its unit; nought where only one number is.
        tolerance: f64,
        /// What comes out where a slip is made.
        slips: Vec<Slip>,
    },
    /// A word.
    Word {
        /// The right one.
        right: String,
        /// What is written where a slip is made.
        slips: Vec<(Wrong, String)>,
    },
}

/// A slip by what comes out.
#[derive(Debug, Clone)]
pub struct Slip {
    /// What went wrong.
    pub wrong: Wrong,
    /// What comes out, as written, in the unit of the answer.
    pub number: f64,
    /// How far off it is still known.
    pub tolerance: f64,
}

/// What is drawn of a sum.
#[derive(Debug, Clone)]
pub enum Drawing {
    /// Yarns side by side, each by its twist.
    Yarns(Vec<Direction>),
    /// Two strips to colour and to lay beside one another, by indices into the plan's colours.
    Strips(Vec<usize>, Vec<usize>),
}

/// The class of a plan, where it has one.
pub fn class(plan: &Plan, ledger: &Ledger) -> Option<Classroom> {
    let class = plan.class.0.as_ref()?;
    let examples =
        class.exercises.iter().map(|exercise| SYSTEMS.map(|system| example(plan, ledger, *exercise, system)));
    let columns: Vec<Vec<[Sum; 2]>> =
        class.exercises.iter().map(|exercise| dealt(plan, ledger, *exercise, class.students.len())).collect();
    Some(Classroom {
        exercises: class.exercises.clone(),
        examples: examples.collect(),
        pupils: (0..class.students.len()).map(|i| pupil(class, i, &columns)).collect(),
    })
}

/// Both systems, in the order of a pair of sums.
const SYSTEMS: [System; 2] = [System::Metric, System::Inch];

/// So often numbers are drawn before it is a fault of the exercise that none will do.
const TRIES: u32 = 4000;

impl Classroom {
    /// An exercise worked with the plan's numbers, in a student's units.
    pub fn example(&self, exercise: usize, units: System) -> &Sum {
        &self.examples[exercise][usize::from(units == System::Inch)]
    }
}

fn pupil(class: &Class, i: usize, columns: &[Vec<[Sum; 2]>]) -> Pupil {
    let student = &class.students[i];
    let at = usize::from(student.units == System::Inch);
    let sums = columns.iter().map(|column| column[i][at].clone()).collect();
    Pupil { number: i + 1, name: student.name.clone(), units: student.units, sums }
}

/// The exercise with the plan's own numbers; here nothing has to be told apart.
fn example(plan: &Plan, ledger: &Ledger, exercise: Exercise, system: System) -> Sum {
    let mut slate = Slate::new((plan, ledger), exercise, system, None, 0);
    set(exercise, &mut slate);
    slate.finish().0
}

/// The sums of one exercise for so many students, in both systems: each is drawn against those of the one before, so that it
/// depends on who comes before and not on how many come after.
fn dealt(plan: &Plan, ledger: &Ledger, exercise: Exercise, n: usize) -> Vec<[Sum; 2]> {
    let mut dealt: Vec<[Sum; 2]> = Vec::with_capacity(n);
    for number in 1..=n {
        let before = dealt.last();
        let one = SYSTEMS.map(|system| {
            let will_do = |tried| {
                let mut slate = Slate::new((plan, ledger), exercise, system, Some(number), tried);
                set(exercise, &mut slate);
                let (sum, is_fit) = slate.finish();
                let is_own = before.is_none_or(|before| before.iter().all(|other| !sum.could_be_copied_from(other)));
                (is_fit && is_own).then_some(sum)
            };
            (0..TRIES).find_map(will_do).unwrap_or_else(|| {
                eprintln!("FAIL {} {number} {system:?}", exercise.key());
                let mut slate = Slate::new((plan, ledger), exercise, system, Some(number), 0);
                set(exercise, &mut slate);
                slate.finish().0
            })
        });
        dealt.push(one);
    }
    dealt
}

/// Sets an exercise: gives its numbers and asks its questions.
fn set(exercise: Exercise, slate: &mut Slate) {
    match exercise {
        Exercise::Treadling => twist::treadling(slate),
        Exercise::Directions => twist::directions(slate),
        Exercise::Staple => fibre::staple(slate),
        Exercise::Ratio => twist::ratio(slate),
        Exercise::Treadles => twist::treadles(slate),
        Exercise::Wraps => yarn::wraps(slate),
        Exercise::PlyBack => twist::ply_back(slate),
        Exercise::Balance => twist::balance(slate),
        Exercise::Dividing => fibre::dividing(slate),
        Exercise::Scale => fibre::scale(slate),
        Exercise::Wash => yarn::wash(slate),
        Exercise::BallBand => yarn::ball_band(slate),
        Exercise::Grist => yarn::grist(slate),
        Exercise::TwoDraws => yarn::two_draws(slate),
        Exercise::Swatch => fabric::swatch(slate),
        Exercise::Stripes => fabric::stripes(slate),
        Exercise::Overlay => fabric::overlay(slate),
        Exercise::Amounts => fibre::amounts(slate),
        Exercise::Drift => fibre::drift(slate),
        Exercise::Pairing => fibre::pairing(slate),
        Exercise::Fit => fabric::fit(slate),
        Exercise::UnequalPlies => curious::unequal_plies(slate),
        Exercise::Numbering => curious::numbering(slate),
        Exercise::Diameters => curious::diameters(slate),
        Exercise::Handbook => handbook::handbook(slate),
    }
}

impl Sum {
    /// Whether no slip could be taken for an answer of the same exercise, nor for another slip of its question.
    fn is_told_apart(&self) -> bool {
        let numbers = || {
            self.asked.iter().filter_map(|asked| match &asked.answer {
                Answer::Number { number, tolerance, shown, slips } => {
                    Some(((*number, *tolerance), shown.unit.symbol, slips))
                }
                Answer::Word { .. } => None,
            })
        };
        numbers().all(|(_, unit, slips)| {
            // A number of another unit is no answer to the question.
            let answers = || numbers().filter(|(_, other, _)| *other == unit);
            let is_an_answer = |slip: &Slip| answers().any(|(answer, ..)| could_be(slip.reach(), answer));
            let pairs = slips.iter().enumerate().flat_map(|(i, one)| slips[..i].iter().map(move |other| (one, other)));
            !slips.iter().any(is_an_answer) && pairs.into_iter().all(|(a, b)| !could_be(a.reach(), b.reach()))
        })
    }

    /// Whether some answer of the one before would be taken as right here, by the number as it is written.
    fn could_be_copied_from(&self, other: &Self) -> bool {
        self.asked.iter().zip(&other.asked).any(|(own, other)| match (&own.answer, &other.answer) {
            (
                Answer::Number { number: a, tolerance: a_off, .. },
                Answer::Number { number: b, tolerance: b_off, .. },
            ) => could_be((*a, *a_off), (*b, *b_off)),
            (Answer::Word { right, .. }, Answer::Word { right: other, .. }) => right == other,
            _ => false,
        })
    }
}
