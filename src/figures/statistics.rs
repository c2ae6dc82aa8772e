//! What several readings of one thing say: how sure their mean is, and how many readings it takes to be sure of it.
//!
//! These figures are counted and not drawn: the draws of a reading say what one reading is good to, and the readings
//! themselves say how much the yarn differs from place to place.

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::expression::dimension::{Over, sum};
use super::expression::{Figure, Formula};
use super::ledger::{Book, How, Line};
use crate::plan::Plan;
use crate::units::{Count, Kind, Quantity, Share, Standing};

/// Enters, for each sample with several readings of its wraps, how far their mean may be off and how many it takes.
pub fn several(book: &mut Book, plan: &Plan) {
    for sample in &plan.samples {
        let readings: Vec<f64> = sample.wraps.iter().map(|reading| reading.value).collect();
        let (Some(half_width), Some(variation)) = (half_width(&readings), variation(&readings)) else { continue };
        let name = |what: &str| format!("sample.{}.{what}", sample.name);
        let wraps = name("wraps");
        book.count(Line {
            name: name("wraps-interval"),
            words: format!("how far the mean wraps of sample {} may be off", sample.name),
            kind: Kind::Wraps,
            how: How::Counted {
                words: "Student's t for nineteen in twenty × standard deviation ÷ √ number of readings".to_owned(),
                of: vec![wraps.clone()],
            },
            source: "confidence limits of a mean, IUPAC Gold Book, C01247".to_owned(),
            ..Line::counted(half_width, Standing::Published)
        });
        book.count(Line {
            name: name("readings-needed"),
            words: format!("readings of wraps that sample {} asks for", sample.name),
            kind: Kind::Count,
            how: How::Counted {
                words: "the fewest whose mean is sure to one part in twenty, nineteen times in twenty".to_owned(),
                of: vec![wraps],
            },
            source: "confidence limits of a mean, IUPAC Gold Book, C01247, solved for the number of readings"
                .to_owned(),
            ..Line::counted(readings_needed(variation, WITHIN) as f64, Standing::Published)
        });
    }
}

/// What a mean of readings should be sure to: 5 %, as a practised spinner keeps skeins; our choice.
const WITHIN: f64 = 0.05;

/// Half the width about the mean of `readings` that holds the true mean nineteen times in twenty, in their unit:
/// t(0.975, k − 1) × s ÷ √k. `None` for fewer than two readings, which do not say how much they differ.
///
/// # Source
/// IUPAC, *Compendium of Chemical Terminology* (Gold Book), C01247, confidence limits.
pub fn half_width(readings: &[f64]) -> Option<f64> {
    let deviation = deviation(readings)?;
    Some(student_quantile(NINETEEN_IN_TWENTY, readings.len() - 1) * deviation / (readings.len() as f64).sqrt())
}

/// Standard deviation of `readings` over their mean; `None` for fewer than two.
pub fn variation(readings: &[f64]) -> Option<f64> {
    deviation(readings).map(|deviation| deviation / mean(readings))
}

/// The fewest readings whose mean is within a share of the truth nineteen times in twenty, where single readings vary by
/// `variation` (standard deviation over mean): the least n ≥ 2 with t(0.975, n − 1) × variation ÷ √n ≤ `within`.
pub fn readings_needed(variation: f64, within: f64) -> usize {
    // Student's t is never below the normal quantile, so no fewer than this can do.
    let fewest = (1.95 * variation / within) * (1.95 * variation / within);
    let is_enough = |n: usize| student_quantile(NINETEEN_IN_TWENTY, n - 1) * variation / (n as f64).sqrt() <= within;
    (fewest.max(2.0) as usize..).find(|n| is_enough(*n)).expect("invariant: the width goes to nothing as readings grow")
}

/// Nineteen in twenty lie between the quantiles at one less this and this.
const NINETEEN_IN_TWENTY: f64 = 0.975;

/// The quantile of Student's t at `p`, 0 < p < 1, for one or more degrees of freedom.
pub fn student_quantile(p: f64, freedom: usize) -> f64 {
    StudentsT::new(0.0, 1.0, freedom as f64).expect("invariant: there is at least one degree of freedom").inverse_cdf(p)
}

/// The mean of one or more readings: their sum ÷ how many there are.
pub fn mean_of<Q: Quantity + Over<Share, Out = Q>>(readings: &[Figure<Q>], how_many: &Figure<Count>) -> Figure<Q> {
    (sum(readings) / how_many.seen_as::<Share>())
        .by(&Formula { source: "arithmetic mean", standing: Standing::Standard })
}

/// The mean of one or more readings, in their unit.
pub(super) fn mean(readings: &[f64]) -> f64 {
    readings.iter().sum::<f64>() / readings.len() as f64
}

fn deviation(readings: &[f64]) -> Option<f64> {
    let mean = mean(readings);
    let squares: f64 = readings.iter().map(|reading| (reading - mean) * (reading - mean)).sum();
    (readings.len() > 1).then(|| (squares / (readings.len() - 1) as f64).sqrt())
}
