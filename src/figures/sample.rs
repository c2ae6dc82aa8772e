//! What each sample of the log measures. The chosen one takes the place of what the plan would reckon.
//!
//! A sample measures products: its loop before and after the wash measures shortening and stretch together, its skein the
//! weight per length of all that went before. None of the factors is changed by it.

use super::expression::dimension::Over;
use super::expression::{Figure, Formula, sum};
use super::ledger::{Book, number};
use super::{folding, thickness, twist};
use crate::plan::{Plan, Reading, Sample};
use crate::units::{Angle, Count, Length, LinearDensity, Quantity, Share, Standing, Twist, Wraps};

/// What one sample measures; each only where its readings allow.
#[derive(Default)]
pub struct Measured {
    /// Share of a wound length that is left after the wash.
    pub keep: Option<Figure<Share>>,
    /// Linear density of the washed yarn.
    pub density: Option<Figure<LinearDensity>>,
    /// Wraps of the washed yarn.
    pub wraps: Option<Figure<Wraps>>,
    /// Wraps of the singles.
    pub singles_wraps: Option<Figure<Wraps>>,
    /// Twist of the singles fresh off the wheel, from their ply-back.
    pub fresh_twist: Option<Figure<Twist>>,
    /// Twist of the washed yarn; of a cabled yarn what is left in its strands.
    pub ply_twist: Option<Figure<Twist>>,
    /// Twist of a washed cabled yarn.
    pub cable_twist: Option<Figure<Twist>>,
    /// Angle of the plies.
    pub angle: Option<Figure<Angle>>,
}

/// Enters every sample's figures as `sample.NAME.*`; gives back those of the chosen one.
/// `usual_keep` is what a wound loop keeps where the sample measured none after the wash.
pub fn samples(book: &mut Book, plan: &Plan, usual_keep: &Figure<Share>) -> Option<Measured> {
    let mut chosen = None;
    for sample in &plan.samples {
        let measured = one(book, sample, usual_keep);
        if sample.chosen {
            chosen = Some(measured);
        }
    }
    chosen
}

fn one(book: &mut Book, sample: &Sample, usual_keep: &Figure<Share>) -> Measured {
    let keep = kept(book, sample);
    let density = density(book, sample, keep.as_ref().unwrap_or(usual_keep));
    let wraps = mean(book, sample, &sample.wraps, "wraps", "washed wraps");
    let singles_wraps = mean(book, sample, &sample.singles_wraps, "singles-wraps", "wraps of singles");
    let ply_twist = mean(book, sample, &sample.ply_twist, "ply-twist", "ply twist");
    let cable_twist = mean(book, sample, &sample.cable_twist, "cable-twist", "cable twist");
    let angle = mean(book, sample, &sample.angle, "angle", "angle of the plies");
    let fresh_twist = fresh_twist(book, sample);
    if let (Some(wraps), Some(density)) = (&wraps, &density) {
        let grist = enter(book, sample, "grist", "grist", thickness::yield_of(density));
        enter(book, sample, "loft", "loft", thickness::loft(wraps, &grist));
    }
    if let (Some(wraps), Some(singles)) = (&wraps, &singles_wraps) {
        enter(book, sample, "thicker", "plied width over singles width", thickness::thickening(singles, wraps));
    }
    Measured { keep, density, wraps, singles_wraps, fresh_twist, ply_twist, cable_twist, angle }
}

fn kept(book: &mut Book, sample: &Sample) -> Option<Figure<Share>> {
    let washed = book.reading(sample.washed_loop.as_ref()?, &noun(sample, "loop washed"));
    let wound = book.reading(sample.wound_loop.as_ref()?, &noun(sample, "loop as wound"));
    Some(enter(book, sample, "keep", "length kept in the wash", folding::kept(&washed, &wound)))
}

/// Linear density that the skein shows: its weight over its washed length.
fn density(book: &mut Book, sample: &Sample, keep: &Figure<Share>) -> Option<Figure<LinearDensity>> {
    let (weight, loops) = (sample.weight.as_ref()?, sample.loops.as_ref()?);
    let one: Figure<Length> = match (&sample.washed_loop, &sample.wound_loop) {
        (Some(washed), _) => book.reading(washed, &noun(sample, "loop washed")),
        (None, Some(wound)) => book.reading(wound, &noun(sample, "loop as wound")) * keep,
        (None, None) => return None,
    };
    let weight = book.reading(weight, &noun(sample, "weight"));
    let loops = book.reading(loops, &noun(sample, "loops"));
    let length = enter(book, sample, "length", "washed length", folding::skein_length(&loops, &one));
    Some(enter(book, sample, "tex", "weight per length", folding::weighed(&weight, &length)))
}

/// Twist of the singles from their ply-back, of which a doubled one shows two thirds.
fn fresh_twist(book: &mut Book, sample: &Sample) -> Option<Figure<Twist>> {
    let shown = mean(book, sample, &sample.ply_back, "ply-back", "ply-back")?;
    let share = ply_back_share(book);
    Some(enter(book, sample, "fresh-twist", "singles twist fresh", twist::from_ply_back(&shown, &share)))
}

/// The share of the singles twist that a doubled ply-back shows; one figure for all who ask.
pub fn ply_back_share(book: &mut Book) -> Figure<Share> {
    const NAME: &str = "singles.ply-back-share";
    book.find(NAME).unwrap_or_else(|| {
        let two =
            number(book, "ply-back.strands", "strands of the ply-back", 2, "a ply-back doubles the single on itself");
        book.enter(NAME, "share that a ply-back shows", twist::balance(&two))
    })
}

/// A figure of the chosen sample, taken as the yarn's own.
pub fn as_sampled<Q: Quantity>(figure: &Figure<Q>) -> Figure<Q> {
    figure.clone().by(&Formula { source: "as the chosen sample measures it", standing: Standing::Standard })
}

fn noun(sample: &Sample, what: &str) -> String {
    format!("{what} of sample {}", sample.name)
}

fn enter<Q: Quantity>(book: &mut Book, sample: &Sample, quantity: &str, what: &str, figure: Figure<Q>) -> Figure<Q> {
    book.enter(format!("sample.{}.{quantity}", sample.name), noun(sample, what), figure)
}

/// Enters the mean of readings of one thing; `None` where there is none.
fn mean<Q>(book: &mut Book, sample: &Sample, readings: &[Reading<Q>], quantity: &str, what: &str) -> Option<Figure<Q>>
where
    Q: Quantity + Over<Count, Out = Q>,
{
    let several = readings.len() > 1;
    let word =
        |i: usize| if several { format!("{what} {} of sample {}", i + 1, sample.name) } else { noun(sample, what) };
    let entries: Vec<Figure<Q>> =
        readings.iter().enumerate().map(|(i, reading)| book.reading(reading, &word(i))).collect();
    let mean = match entries.as_slice() {
        [] => return None,
        [one] => one.clone().by(&Formula { source: "as read", standing: Standing::Standard }),
        _ => {
            let place = format!("readings.{}.{quantity}", sample.name);
            let n = number(book, &place, "readings", entries.len(), "so many readings were taken");
            (sum(&entries) / n).by(&Formula { source: "mean of readings", standing: Standing::Standard })
        }
    };
    Some(enter(book, sample, quantity, what, mean))
}
