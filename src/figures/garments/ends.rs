//! What is left of the yarn after each piece, and of each ply plan after all of them.

use super::{Cut, Made, Way, of_all};
use crate::figures::assumed;
use crate::figures::deal::{Deal, length_of_skein};
use crate::figures::expression::{Figure, Formula, sum, with};
use crate::figures::ledger::Book;
use crate::plan::{Fabric, Garment, Plan, UsedAs};
use crate::units::{Length, LinearDensity, Mass, Share, Standing};

static LEFT: Formula = Formula { source: "what there is less what was worked", standing: Standing::Standard };
static TAKEN: Formula = Formula { source: "all of a kind, with what is cut off", standing: Standing::Standard };
static ADDED: Formula = Formula { source: "skeins add up", standing: Standing::Standard };
static PART: Formula = Formula { source: "part of the whole", standing: Standing::Standard };
static SHARED: Formula = Formula {
    source: "what there is less its share of what is wanted in all: joins, ends and reserve go by the yarn in its pieces",
    standing: Standing::Standard,
};

/// Enters what is left by weight after each kind of piece, in the order of working, of the ply plan that it takes; of a cloth after
/// warp and weft. Where all pieces name theirs of several ply plans, what is left of each in the end; where some take what comes
/// next, all of the yarn is one.
pub fn leave(book: &mut Book, plan: &Plan, deal: &Deal, made: &[Made]) {
    for (garment, made) in plan.garments.iter().zip(made) {
        match &garment.fabric {
            Fabric::Woven(_) => leave_threads(book, garment),
            _ => leave_pieces(book, plan, deal, garment, made),
        }
    }
}

fn leave_threads(book: &mut Book, garment: &Garment) {
    let mut left = book.figure::<Length>("yarn.length");
    for thread in garment.used_as.map_or(&[] as &[&str], UsedAs::threads) {
        let stage = format!("garment.{}.{thread}", garment.name);
        let yarn = book.figure::<Length>(&format!("{stage}.yarn"));
        left = after(book, garment, (&stage, thread), left - yarn);
    }
}

fn leave_pieces(book: &mut Book, plan: &Plan, deal: &Deal, garment: &Garment, made: &Made) {
    let pieces: Vec<&Cut> = made.pieces.iter().filter(|piece| piece.trim.is_none()).collect();
    let apart = deal.plans.len() > 1 && pieces.iter().all(|piece| piece.ply_plan.is_some());
    let mut yarns: Vec<Pot> = if apart {
        let each = deal.plans.iter().map(|dealt| dealt.ply_plan);
        each.map(|ply_plan| Pot {
            ply_plan: Some(ply_plan),
            left: yarn_of(book, plan, deal, ply_plan),
            worked: Vec::new(),
        })
        .collect()
    } else {
        vec![Pot { ply_plan: None, left: book.figure("yarn.length"), worked: Vec::new() }]
    };
    for piece in pieces {
        let Some(yarn) = book.find::<Length>(&format!("{}.yarn", piece.stage)) else { return };
        let all = of_all(book, garment, piece, yarn);
        let own = yarns.iter_mut().find(|pot| pot.ply_plan.is_none() || pot.ply_plan == piece.taken);
        let pot = own.expect("invariant: every piece of a garment takes a ply plan that was dealt");
        // Edges and ends are gone from the scale with the piece; an area does not tell of them.
        let is_by_area = made.ways.first().is_some_and(|way| *way != Way::Stated);
        let gone = if is_by_area { &all * with(&book.assume::<Share>(&assumed::EDGES)) } else { all.clone() };
        let words = format!("yarn for {}, ends and joins with it", piece.name);
        let gone = book.enter(format!("{}.taken", piece.stage), words, gone.by(&TAKEN));
        pot.left = after(book, garment, (&piece.stage, &piece.name), &pot.left - gone);
        pot.worked.push(all);
    }
    for pot in yarns.iter().filter(|pot| !pot.worked.is_empty()) {
        if let Some(ply_plan) = pot.ply_plan {
            leave_plan(book, plan, deal, garment, ply_plan, &sum(&pot.worked));
        }
    }
}

/// The yarn that pieces are worked from, one after the other.
struct Pot {
    /// Its ply plan; `None` of all yarn as one.
    ply_plan: Option<usize>,
    /// What is left of it.
    left: Figure<Length>,
    /// What was worked of it.
    worked: Vec<Figure<Length>>,
}

/// Enters what a garment leaves of one of several ply plans, from what its pieces take of it.
fn leave_plan(book: &mut Book, plan: &Plan, deal: &Deal, garment: &Garment, ply_plan: usize, worked: &Figure<Length>) {
    let total = book.figure::<Length>(&format!("garment.{}.total", garment.name));
    let yarn = book.figure::<Length>(&format!("garment.{}.yarn", garment.name));
    let have = yarn_of(book, plan, deal, ply_plan);
    let called = &plan.ply_plans[ply_plan].name;
    let words = format!("what pieces of {called} take of the yarn of the {}", garment.name);
    let share = (worked / &yarn).by(&PART);
    let share = book.enter(format!("{}.share", of_plan(garment, called)), words, share);
    let words = format!("left of {called} over from the {}", garment.name);
    book.enter(left_of(garment, called), words, (have - &total * share).by(&SHARED));
}

/// The name below which stands what a garment takes and leaves of a ply plan.
pub fn of_plan(garment: &Garment, ply_plan: &str) -> String {
    format!("garment.{}.of.{ply_plan}", garment.name)
}

/// The name of what a garment leaves of a ply plan.
pub fn left_of(garment: &Garment, ply_plan: &str) -> String {
    format!("{}.left-over", of_plan(garment, ply_plan))
}

/// The yarn of one of several ply plans.
fn yarn_of(book: &mut Book, plan: &Plan, deal: &Deal, ply_plan: usize) -> Figure<Length> {
    let called = &plan.ply_plans[ply_plan].name;
    let name = format!("yarn.of.{called}");
    if let Some(entered) = book.find(&name) {
        return entered;
    }
    let sets = deal.sets().filter(|(of, _)| *of == ply_plan);
    let skeins: Vec<Figure<Length>> =
        sets.flat_map(|(_, set)| set.skeins.clone()).map(|n| length_of_skein(book, n)).collect();
    book.enter(name, format!("yarn of {called}"), sum(&skeins).by(&ADDED))
}

/// Enters what is left after one of them, and gives it.
fn after(book: &mut Book, garment: &Garment, (stage, name): (&str, &str), left: Figure<Length>) -> Figure<Length> {
    let tex = book.figure::<LinearDensity>("yarn.tex");
    let words = format!("left after {name} of the {}", garment.name);
    let left = book.enter(format!("{stage}.left-length"), format!("yarn {words}"), left.by(&LEFT));
    let weight: Figure<Mass> = (&left * &tex).by(&LEFT);
    book.enter(format!("{stage}.left"), format!("weight {words}"), weight);
    left
}
