//! The same garment in other sizes: from the yarn there is to the largest that it makes.
//!
//! Each size is worked out in a draft of the ledger, by the same sums, and only what is asked of it is kept.

use std::collections::BTreeSet;

use super::Maker;
use crate::diagnostics::Place;
use crate::figures::aim::Aim;
use crate::figures::deal::Deal;
use crate::figures::enough;
use crate::figures::expression::draws::{self, quantile};
use crate::figures::expression::tape::Tape;
use crate::figures::ledger::{Book, How, Line, share_below_zero};
use crate::plan::body::{BodyMeasure, Size, estimate, sizes as sizes_of};
use crate::plan::{Fabric, Garment, Plan, Reading, Shaped};
use crate::units::{Kind, Length, Mass, Standing};

/// A size of a garment that was worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeOf {
    /// Index into [`Plan::garments`].
    pub garment: usize,
    /// The size.
    pub size: Size,
    /// The name below which its figures stand: `garment.pullover.size.M`.
    pub stage: String,
    /// Whether the chest of the plan lies in it.
    pub is_own: bool,
}

/// Counts the need of every garment in the other sizes of its tables, and how each fares with the fibre there is.
pub fn sizes(book: &mut Book, plan: &Plan, aim: &Aim, deal: &Deal) -> Vec<SizeOf> {
    let mut found = Vec::new();
    let mut nodes = Vec::new();
    for (index, garment) in plan.garments.iter().enumerate() {
        let Fabric::Shaped(shaped) = &garment.fabric else { continue };
        for size in others(shaped) {
            let Some(draft) = draft(book, plan, aim, deal, garment, shaped, &size) else { continue };
            let stage = format!("garment.{}.size.{}", garment.name, size.name);
            let own = shaped.of_body(BodyMeasure::Chest).map(|chest| chest.value);
            let is_own = shaped.size == Some(size.name) || (shaped.size.is_none() && is_in(own, &size, shaped));
            found.push(SizeOf { garment: index, size, stage, is_own });
            nodes.push(draft);
        }
    }
    let roots: Vec<_> = nodes.iter().flat_map(|draft| [draft.left_over.node(), draft.fibre.node()]).collect();
    if roots.is_empty() {
        return found;
    }
    let tape = Tape::new(roots.iter().copied());
    let at: Vec<usize> =
        roots.iter().map(|node| tape.find(node).expect("invariant: the tape holds its roots")).collect();
    let columns = draws::columns(&tape, &at, &BTreeSet::new());
    for ((size, draft), columns) in found.iter().zip(&nodes).zip(columns.chunks(2)) {
        count(book, plan, deal, size, draft, columns);
    }
    found
}

/// What is asked of one size.
struct Draft {
    total: crate::figures::expression::Figure<Length>,
    left_over: crate::figures::expression::Figure<Length>,
    fibre: crate::figures::expression::Figure<Mass>,
}

/// Sizes of the tables that can stand in for the plan's: where nothing of the body but its chest is said, and the chest of the
/// garment follows from it.
fn others(shaped: &Shaped) -> Vec<Size> {
    let only_chest = shaped.body.iter().all(|(measure, _)| *measure == BodyMeasure::Chest);
    let by_chest = shaped.shape.measures().iter().any(|measure| {
        shaped.said(*measure).is_none() && shaped.shape.rests_on(*measure).is_some_and(|body| !body.is_empty())
    });
    match (shaped.whom, shaped.of_body(BodyMeasure::Chest)) {
        (Some(whom), Some(_)) if only_chest && by_chest => {
            let is_known = |size: &Size| {
                let asked = shaped.shape.measures().iter().filter(|measure| shaped.said(**measure).is_none());
                let body = asked.filter_map(|measure| shaped.shape.rests_on(*measure)).flatten();
                body.filter(|measure| **measure != BodyMeasure::Chest)
                    .all(|measure| estimate(whom, *measure, size.chest()).is_some())
            };
            sizes_of(whom).into_iter().filter(is_known).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether a chest is nearer to this size than to any other.
fn is_in(chest: Option<f64>, size: &Size, shaped: &Shaped) -> bool {
    let (Some(chest), Some(whom)) = (chest, shaped.whom) else { return false };
    let nearest =
        sizes_of(whom).into_iter().min_by(|a, b| (a.chest() - chest).abs().total_cmp(&(b.chest() - chest).abs()));
    nearest.is_some_and(|nearest| nearest.name == size.name)
}

fn draft(
    book: &Book,
    plan: &Plan,
    aim: &Aim,
    deal: &Deal,
    garment: &Garment,
    shaped: &Shaped,
    size: &Size,
) -> Option<Draft> {
    let mut body = shaped.body.clone();
    for (_, chest) in body.iter_mut().filter(|(measure, _)| *measure == BodyMeasure::Chest) {
        let half = ((size.most - size.least) / 2.0).max(0.01 * size.chest());
        *chest = Reading {
            value: size.chest(),
            uncertainty: half / 2.0,
            place: Place::plan(format!("size.{}", size.name)),
            ..chest.clone()
        };
    }
    let other = Garment {
        name: format!("{}.size.{}", garment.name, size.name),
        fabric: Fabric::Shaped(Shaped { body, ..shaped.clone() }),
        ..garment.clone()
    };
    let mut draft = book.draft();
    let mut faults = Vec::new();
    let made = Maker { book: &mut draft, plan, aim, garment: &other }.made(&mut faults);
    if !faults.is_empty() {
        return None;
    }
    enough::need(&mut draft, plan, aim, &other, &made, deal);
    let figure = |what: &str| format!("garment.{}.{what}", other.name);
    Some(Draft {
        total: draft.figure(&figure("total")),
        left_over: draft.figure(&figure("left-over")),
        fibre: draft.figure(&figure("fibre")),
    })
}

fn count(book: &mut Book, plan: &Plan, deal: &Deal, size: &SizeOf, draft: &Draft, columns: &[Vec<f64>]) {
    let called = format!("size {} of the {}", size.size.name, plan.garments[size.garment].name);
    let of = vec![format!("garment.{}.total", plan.garments[size.garment].name)];
    let mut enter = |what: &str, words: &str, kind, value: f64, how: &str| {
        book.count(Line {
            name: format!("{}.{what}", size.stage),
            words: format!("{words}, {called}"),
            kind,
            source: "the sums of the garment, with the chest of this size".to_owned(),
            how: How::Counted { words: how.to_owned(), of: of.clone() },
            ..Line::counted(value, Standing::OurChoice)
        });
    };
    enter("chest", "chest", Kind::Length, size.size.chest(), "the middle of the size in its table");
    enter("total", "yarn wanted", Kind::Length, draft.total.value(), "the same sums with the chest of this size");
    let short = share_below_zero(&columns[0]);
    enter("chance-short", "chance of running short", Kind::Share, short, "share of the draws in which nothing is left");
    let fibre = quantile(&mut columns[1].clone(), plan.sure_of_enough.value);
    enter("fibre-to-have", "fibre to have", Kind::Mass, fibre, "as many draws as the wished certainty asks lie below");
    for (supply, lacking) in enough::lacking(book, plan, deal, fibre) {
        book.count(Line {
            name: format!("{}.to-buy.{}", size.stage, supply.name),
            words: format!("more of {} to buy for {called}", supply.name),
            kind: Kind::Count,
            source: "the sums of the garment, with the chest of this size".to_owned(),
            how: How::Counted {
                words: "what is lacking over the weight of one, rounded up once and last".to_owned(),
                of: vec![format!("{}.fibre-to-have", size.stage)],
            },
            ..Line::counted(lacking, Standing::OurChoice)
        });
    }
}
