//! How long the spinning still takes, if it goes on as the log has it. Days of the log only: nothing here knows what day it is.

use super::deal::Deal;
use super::ledger::{Book, How, Line};
use crate::plan::{Date, Plan};
use crate::units::{Kind, Standing};

/// The pace of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Pace {
    /// The first day on which a bobbin was weighed.
    pub first: Date,
    /// The last one.
    pub last: Date,
    /// Numbers of the bobbins still to spin, in order.
    pub to_go: Vec<usize>,
    /// Days from one bobbin to the next, on the whole.
    days_a_bobbin: f64,
}

impl Pace {
    /// The day before which a bobbin will be begun; `None` of one that is spun.
    pub fn begins(&self, number: usize) -> Option<Date> {
        let before = self.to_go.iter().position(|to_go| *to_go == number)?;
        self.last.later((before as f64 * self.days_a_bobbin).floor() as i32)
    }

    /// The day on which the last of them is spun.
    pub fn ends(&self) -> Option<Date> {
        self.last.later((self.to_go.len() as f64 * self.days_a_bobbin).ceil() as i32)
    }
}

/// The pace of the bobbins of the log, counted; `None` where fewer than two days tell it, or nothing is left to spin.
pub fn pace(book: &mut Book, plan: &Plan, deal: &Deal) -> Option<Pace> {
    let mut days: Vec<Date> = plan.bobbins.iter().map(|bobbin| bobbin.date).collect();
    days.sort_unstable();
    let n_bobbins = days.len();
    days.dedup();
    let (first, last) = (*days.first()?, *days.last()?);
    let is_to_spin = |number: &usize| deal.logged.bobbin(*number).is_none();
    let to_go: Vec<usize> = (1..=deal.bobbins.len()).filter(is_to_spin).collect();
    if first == last || to_go.is_empty() {
        return None;
    }
    // What was spun up to the first day took days that the log does not tell.
    let on_first = plan.bobbins.iter().filter(|bobbin| bobbin.date == first).count();
    let days_a_bobbin = f64::from(last.days_after(first)) / (n_bobbins - on_first) as f64;
    let left = to_go.len() as f64;
    let sittings = (left * days.len() as f64 / n_bobbins as f64).ceil();
    let days = "days from the first of the log to the last, over the bobbins that came after the first";
    count(book, "pace.days-a-bobbin", "days from bobbin to bobbin", (days_a_bobbin, days));
    count(book, "pace.bobbins-to-go", "bobbins still to spin", (left, "those of the plan that the log does not have"));
    let of_days = "bobbins still to spin, times the days of the log over its bobbins, rounded up";
    count(book, "pace.sittings-to-go", "sittings still to go", (sittings, of_days));
    let all_days = (left * days_a_bobbin).ceil();
    count(
        book,
        "pace.days-to-go",
        "days still to go",
        (all_days, "bobbins still to spin times days from one to the next, rounded up"),
    );
    Some(Pace { first, last, to_go, days_a_bobbin })
}

fn count(book: &mut Book, name: &str, words: &str, (value, how): (f64, &str)) {
    book.count(Line {
        name: name.to_owned(),
        words: words.to_owned(),
        kind: Kind::Count,
        source: "by the days of the log".to_owned(),
        how: How::Counted { words: how.to_owned(), of: Vec::new() },
        ..Line::counted(value, Standing::Standard)
    });
}
