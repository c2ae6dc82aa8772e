//! Sums from old handbooks of the mills, with the answers that they print.
//!
//! Two of them to a student, in turn: a neighbour has two others. Their numbers are the books' own.

use super::Wrong;
use super::slate::{Slate, To};
use crate::figures::expression::text::Shown;
use crate::figures::expression::{Figure, sum};
use crate::figures::{folding, thickness};
use crate::units::{Count, Length, Loft, Mass, Quantity, Yield, unit};

/// A sum of a book.
#[derive(Debug)]
pub struct Book {
    /// Author, title, year and page.
    pub source: &'static str,
    /// The answer as it is printed there, as a number.
    pub printed: f64,
    /// Places to which it is asked.
    places: u32,
    /// Unit of the answer.
    unit: &'static str,
    /// What is asked.
    question: &'static str,
    sum: Kind,
}

/// What kind of sum it is.
#[derive(Debug)]
enum Kind {
    /// Counts folded together.
    Folded(&'static [f64]),
    /// The count to be folded with another for a count.
    Partner { wanted: f64, other: f64 },
    /// Yards that weigh so many grains, in hanks of so many yards.
    Weighed { yards: f64, grains: f64, hank: f64 },
    /// Diameters to the inch of so many yards to the pound.
    Packed { yards: f64 },
}

/// What the counts that are folded are called.
const NAMES: [&str; 3] = ["first count", "second count", "third count"];

const WORSTED: &str = "worsted count";
const COTTON: &str = "cotton count";

/// The sums, in the order in which they are dealt.
pub static BOOKS: &[Book] = &[
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 46, ex. 27",
        printed: 24.0,
        places: 1,
        unit: WORSTED,
        question: "A thread of 60s is folded with one of 40s. What count is the folded yarn?",
        sum: Kind::Folded(&[60.0, 40.0]),
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 39, ex. 1",
        printed: 25.0,
        places: 1,
        unit: "",
        question: "20 yards of worsted weigh 10 grains. What count is it?",
        sum: Kind::Weighed { yards: 20.0, grains: 10.0, hank: 560.0 },
    },
    Book {
        source: "C. P. Brooks, Cotton Manufacturing, 1892, p. 145",
        printed: 13.333,
        places: 1,
        unit: COTTON,
        question: "A thread of 40s is folded with one of 20s. What count is the folded yarn?",
        sum: Kind::Folded(&[40.0, 20.0]),
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 52, ex. 38",
        printed: 70.0,
        places: 1,
        unit: WORSTED,
        question: "21s are wanted and 30s are there. With what count must they be folded?",
        sum: Kind::Partner { wanted: 21.0, other: 30.0 },
    },
    Book {
        source: "J. T. Taylor, Cotton Weaving and Designing, 1909, p. 337",
        printed: 156.0,
        places: 0,
        unit: "wpi",
        question: "32s cotton has 26 880 yards to the pound. How many packed threads lie in an inch?",
        sum: Kind::Packed { yards: 26_880.0 },
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 48, ex. 30",
        printed: 14.769,
        places: 1,
        unit: WORSTED,
        question: "Threads of 64s, 48s and 32s are folded. What count is the folded yarn?",
        sum: Kind::Folded(&[64.0, 48.0, 32.0]),
    },
    Book {
        source: "J. T. Taylor, Cotton Weaving and Designing, 1909, p. 329",
        printed: 50.0,
        places: 1,
        unit: "",
        question: "120 yards of cotton weigh 20 grains. What count is it?",
        sum: Kind::Weighed { yards: 120.0, grains: 20.0, hank: 840.0 },
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 51, ex. 35",
        printed: 11.429,
        places: 1,
        unit: WORSTED,
        question: "Threads of 80s, 40s and 20s are folded. What count is the folded yarn?",
        sum: Kind::Folded(&[80.0, 40.0, 20.0]),
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 54, ex. 42",
        printed: 48.0,
        places: 1,
        unit: WORSTED,
        question: "12s are needed and 16s are in stock. With what count must they be folded?",
        sum: Kind::Partner { wanted: 12.0, other: 16.0 },
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 39, ex. 2",
        printed: 7.143,
        places: 1,
        unit: "",
        question: "20 yards of worsted weigh 35 grains. What count is it?",
        sum: Kind::Weighed { yards: 20.0, grains: 35.0, hank: 560.0 },
    },
    Book {
        source: "C. P. Brooks, Cotton Manufacturing, 1892, p. 145",
        printed: 21.81,
        places: 1,
        unit: COTTON,
        question: "Threads of 40s, 80s and 120s are folded. What count is the folded yarn?",
        sum: Kind::Folded(&[40.0, 80.0, 120.0]),
    },
    Book {
        source: "W. Davis, Hosiery Manufacture, 1920, p. 40, ex. 4",
        printed: 11.905,
        places: 1,
        unit: "",
        question: "20 yards of cotton weigh 14 grains. What count is it?",
        sum: Kind::Weighed { yards: 20.0, grains: 14.0, hank: 840.0 },
    },
];

pub(super) fn handbook(s: &mut Slate) {
    let first = s.number.map_or(0, |number| 2 * number) % BOOKS.len();
    for book in [&BOOKS[first], &BOOKS[first + 1]] {
        book.set(s);
        s.source(book.source);
    }
}

impl Book {
    fn set(&self, s: &mut Slate) {
        let to = To::Places(self.unit, self.places);
        match &self.sum {
            Kind::Folded(counts) => {
                let counts: Vec<Figure<Yield>> =
                    NAMES.iter().zip(*counts).map(|(name, count)| self.count(s, name, *count)).collect();
                s.ask(self.question, "count of the folded yarn", &folding::resultant(&counts), to);
                let how_many = Figure::<Count>::constant("n", counts.len() as f64);
                s.slip(Wrong::CountsAdded, &(sum(&counts) / how_many));
            }
            Kind::Partner { wanted, other } => {
                let (wanted, other) = (self.count(s, "count wanted", *wanted), self.count(s, "count there is", *other));
                s.ask(self.question, "count of the partner", &folding::partner(&wanted, &other), to);
                s.slip(Wrong::CountsAdded, &(&wanted * Figure::<Count>::constant("2", 2.0) - &other));
                s.slip(Wrong::WrongWay, &folding::resultant(&[wanted, other]));
            }
            Kind::Weighed { yards, grains, hank } => {
                let length: Figure<Length> = s.fixed("length weighed", (*yards, "yd"));
                let weight: Figure<Mass> = s.fixed("its weight", (*grains, "gr"));
                let hank: Figure<Length> = s.fixed("length of a hank", (*hank, "yd"));
                let pound: Figure<Mass> = s.fixed("grains in a pound", (7000.0, "gr"));
                s.ask(self.question, "count", &folding::count_of(&length, &weight, &hank, &pound), to);
                s.slip_bare(Wrong::UpsideDown, &(s.bare(&weight) / s.bare(&length) * s.bare(&hank) / s.bare(&pound)));
                s.slip_bare(Wrong::LastStep, &(s.bare(&length) / s.bare(&weight) * s.bare(&pound)));
            }
            Kind::Packed { yards } => {
                let firm: Figure<Loft> = s.fixed("firmness of a packed yarn", (0.95, "wpi/√(yd/lb)"));
                let yarn: Figure<Yield> = s.fixed("yards in a pound", (*yards, "yd/lb"));
                s.ask(self.question, "packed threads", &thickness::wraps(&firm, &yarn), to);
                s.slip_bare(Wrong::NoRoot, &(s.bare(&firm) * s.bare(&yarn)));
            }
        }
    }

    fn count(&self, s: &mut Slate, words: &str, number: f64) -> Figure<Yield> {
        let unit = unit(Yield::KIND, self.unit).expect("invariant: counts are units of the tables");
        s.give(words, number, Shown { unit, places: 0 })
    }
}
