//! Plan and log to ledger: every number that a sheet prints, as an expression with its spread and its source.
//!
//! The arrow is [`figures`]. Formulas are small functions over figures, one file for each topic ([`thickness`], [`folding`],
//! [`twist`], [`wheel`], [`fibre`], [`garment`]); what calls them in the order in which one thing follows from another is
//! [`aim`], [`spin`], [`deal`] and [`enough`]. What is impossible, and what the spinner believed in vain, comes back as
//! diagnostics; anything else that goes wrong here is a fault of this program.

use std::sync::Arc;

use crate::diagnostics::{Code, Diagnostic};
use crate::plan::Plan;

pub mod aim;
pub mod allot;
pub mod assumed;
mod chance;
pub mod chart;
pub mod class;
pub mod colour;
pub mod deal;
pub mod diagnosis;
pub mod drafting;
pub mod enough;
pub mod even;
pub mod expression;
pub mod fibre;
mod filling;
mod fineness;
pub mod folding;
pub mod forecast;
pub mod garment;
pub mod garments;
mod gates;
pub mod kinds;
pub mod ledger;
pub mod logged;
pub mod matching;
mod outcome;
pub mod pace;
pub mod pairing;
pub mod sample;
pub mod sampling;
mod sets;
pub mod settings;
pub mod spin;
pub mod statistics;
pub mod supplies;
pub mod thickness;
pub mod twist;
pub mod verdict;
pub mod wheel;

pub use ledger::{Ledger, Line};

/// What the figures stage gives: the ledger with what was settled, unless a fault forbids it, and all faults.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// The ledger, where every figure is finite and no fault is an error.
    pub ledger: Option<Arc<Ledger>>,
    /// What was settled for the wheel.
    pub settings: Option<settings::Settings>,
    /// Faults: the impossible, and beliefs that do not hold.
    pub faults: Vec<Diagnostic>,
}

/// The ledger of a plan. Memoised: a rebuild whose plan is equal costs nothing.
#[comemo::memoize]
pub fn figures(plan: &Plan) -> Outcome {
    let mut faults = Vec::new();
    let mut book = ledger::Book::default();
    let aim = aim::aim(&mut book, plan);
    faults.extend(outcome::sample_against_itself(plan, &book));
    let (spun, settings) = spin::spin(&mut book, plan, &aim, &mut faults);
    let dealt = deal::deal(&mut book, plan, &aim, &spun, &mut faults);
    if faults.iter().any(is_error) {
        return Outcome { ledger: None, settings: None, faults };
    }
    sampling::sampling(&mut book, &aim);
    let mut made = garments::enter(&mut book, plan, &aim, &mut faults);
    if faults.iter().any(is_error) {
        return Outcome { ledger: None, settings: None, faults };
    }
    enough::needs(&mut book, plan, &aim, &dealt, &made);
    garments::skeins(&book, &dealt, &mut made);
    garments::leave(&mut book, plan, &dealt, &made);
    garments::trims(&mut book, plan, &made);
    class::targets(&mut book, plan);
    let mut rows_left = garments::weighings(&mut book, plan);
    filling::fillings(&mut book, plan, &dealt);
    drafting::drafts(&mut book, plan, &spun, &dealt, &mut faults);
    let pieces = colour::enter(&mut book, plan, &aim, &spun, &dealt, &made);
    let fate = matching::effects(&mut book, plan);
    let verdicts = verdict::verdicts(&mut book, plan);
    faults.extend(outcome::not_finite(&book));
    if faults.iter().any(is_error) {
        return Outcome { ledger: None, settings: None, faults };
    }
    let headlines = [
        enough::headlines(plan, |name| book.find::<crate::units::Length>(name).is_some()),
        garments::headlines(&book, plan),
    ]
    .concat();
    let columns = book.draw(&headlines.iter().map(String::as_str).collect::<Vec<_>>());
    if let Some(fault) = outcome::spread_too_wide(&book, &columns) {
        faults.push(fault);
        return Outcome { ledger: None, settings: None, faults };
    }
    enough::counts(&mut book, plan, &dealt, &columns);
    garments::counts(&mut book, plan, &columns);
    garments::count_rows(&mut book, &mut rows_left);
    garments::courses(&mut book, plan, &mut made, &mut faults);
    let sizes = garments::sizes(&mut book, plan, &aim, &dealt);
    statistics::several(&mut book, plan);
    sampling::skeins(&mut book, plan);
    let colouring = colour::found(&mut book, plan, &dealt, &pieces);
    let evenness = even::even(&mut book, plan, &dealt, &spun);
    let allotments = garments::allot(&mut book, plan, &dealt, &evenness, &made);
    let pace = pace::pace(&mut book, plan, &dealt);
    let mut ledger = book.close(dealt, &columns);
    ledger.fate = fate;
    ledger.verdicts = verdicts;
    ledger.colouring = colouring;
    ledger.garments = made;
    ledger.sizes = sizes;
    ledger.rows_left = rows_left;
    ledger.evenness = evenness;
    ledger.allotments = allotments;
    ledger.pace = pace;
    ledger.class = class::class(plan, &ledger);
    faults.extend(outcome::beliefs(plan, &ledger));
    let ledger = if faults.iter().any(is_error) { None } else { Some(Arc::new(ledger)) };
    Outcome { ledger, settings: Some(settings), faults }
}

fn is_error(fault: &Diagnostic) -> bool {
    Code::severity(fault.code) == crate::diagnostics::Severity::Error
}
