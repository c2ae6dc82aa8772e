//! The end of the yarn: trims from what is left over or from another yarn, and rows still to be had by weighing.

use super::{Made, of_all, usual};
use crate::figures::expression::draws;
use crate::figures::expression::tape::Tape;
use crate::figures::expression::{Figure, Formula};
use crate::figures::garment;
use crate::figures::ledger::{Book, Columns, How, Line, share_below_zero};
use crate::plan::{Garment, Plan};
use crate::units::{Count, Kind, Length, Mass, Share, Standing};
use std::collections::BTreeSet;

static NEED: Formula =
    Formula { source: "yarn of the piece, as many as there are of it", standing: Standing::Standard };
static HAVE: Formula = Formula { source: "what there is of it", standing: Standing::Standard };
static LEFT: Formula = Formula { source: "what there is less what is needed", standing: Standing::Standard };
static WEIGHED: Formula =
    Formula { source: "what is gone from the scale over the rows that took it", standing: Standing::Standard };

/// Enters what each trim takes and what there is for it.
pub fn trims(book: &mut Book, plan: &Plan, made: &[Made]) {
    for (index, trim) in plan.trims.iter().enumerate() {
        let garment = &plan.garments[trim.garment];
        let is_it = |piece: &&super::Cut| piece.trim == Some(index);
        let Some(piece) = made[trim.garment].pieces.iter().find(is_it) else { continue };
        let Some(yarn) = book.find::<Length>(&format!("{}.yarn", piece.stage)) else { continue };
        let name = |what: &str| format!("trim.{}.{what}", trim.name);
        let noun = |what: &str| format!("{what} the {}", trim.name);
        let need = of_all(book, garment, piece, yarn);
        let need = book.enter(name("need"), noun("yarn for"), need.by(&NEED));
        let have = match &trim.yarn {
            Some(other) => book.reading(&other.length, &format!("length of {}", other.name)).by(&HAVE),
            None => left_for(book, plan, garment, piece).by(&HAVE),
        };
        let have = book.enter(name("have"), noun("yarn there is for"), have);
        book.enter(name("left-over"), noun("yarn left over from"), (&have - need).by(&LEFT));
        if let Some(row) = book.find::<Length>(&format!("{}.row", piece.stage)) {
            let rows = garment::rows_to_be_had(&have, &row);
            book.enter(name("rows-to-be-had"), noun("rows to be had of"), rows);
        }
    }
}

/// What is left over for a piece: of the ply plan that it names, where each is told by itself.
fn left_for(book: &Book, plan: &Plan, garment: &Garment, piece: &super::Cut) -> Figure<Length> {
    let named = piece.ply_plan.map(|ply_plan| &plan.ply_plans[ply_plan].name);
    let of_plan = named
        .and_then(|name| book.find(&super::left_of(garment, name)).or_else(|| book.find(&format!("yarn.of.{name}"))));
    of_plan.unwrap_or_else(|| book.figure(&format!("garment.{}.left-over", garment.name)))
}

/// The figures of trims whose draws are wanted whole; a garment of which only a length is stated tells nothing of its pieces.
pub fn headlines(book: &Book, plan: &Plan) -> Vec<String> {
    let all = plan.trims.iter().map(|trim| format!("trim.{}.left-over", trim.name));
    all.filter(|name| book.find::<Length>(name).is_some()).collect()
}

/// Counts the chances of trims over the draws.
pub fn counts(book: &mut Book, plan: &Plan, columns: &Columns) {
    for trim in &plan.trims {
        let of = format!("trim.{}.left-over", trim.name);
        if book.find::<Length>(&of).is_none() {
            continue;
        }
        let value = share_below_zero(columns.of(&of));
        let words = "share of the draws in which nothing is left".to_owned();
        book.count(Line {
            name: format!("trim.{}.chance-short", trim.name),
            words: format!("chance of running short, {}", trim.name),
            kind: Kind::Share,
            source: "JCGM 101:2008, by ten thousand draws".to_owned(),
            how: How::Counted { words, of: vec![of] },
            ..Line::counted(value, Standing::Standard)
        });
    }
}

/// Rows that the yarn on the scale still gives.
#[derive(Debug, Clone, PartialEq)]
pub struct RowsLeft {
    /// Index into [`Plan::weighings`].
    pub weighing: usize,
    /// The name below which its figures stand.
    pub stage: String,
    /// Rows from now that are as good as sure: of a hundred tries at most one gives fewer.
    pub safe: usize,
    /// Rows beyond those for which the chance was counted, all of them or some, evenly apart; at least one.
    pub told: Vec<usize>,
}

/// Enters what the last weighing of each garment tells.
pub fn weighings(book: &mut Book, plan: &Plan) -> Vec<RowsLeft> {
    let mut found = Vec::new();
    for garment in 0..plan.garments.len() {
        // The latest; of one day the last that is written.
        let of_garment = plan.weighings.iter().enumerate().filter(|(_, weighing)| weighing.garment == garment);
        let Some((index, _)) = of_garment.max_by_key(|(index, weighing)| (weighing.date, *index)) else { continue };
        let weighing = &plan.weighings[index];
        let stage = format!("weighing.{}", index + 1);
        let before: Figure<Mass> = book.reading(&weighing.before, "yarn before the rows");
        let after: Figure<Mass> = book.reading(&weighing.after, "yarn after the rows");
        let rows: Figure<Count> = book.reading(&weighing.rows, "rows worked");
        let called = &plan.garments[garment].name;
        let row = ((before - &after) / rows).by(&WEIGHED);
        let row = book.enter(format!("{stage}.row"), format!("weight of a row of the {called}"), row);
        let left = book.enter(format!("{stage}.left"), format!("yarn left for the {called}"), after.by(&HAVE));
        let uneven: Figure<Share> = book.assume(&usual::ROWS_DIFFER);
        let rows = garment::rows_to_be_had(&left, &(row * uneven));
        book.enter(format!("{stage}.rows"), format!("rows still to be had of the {called}"), rows);
        found.push(RowsLeft { weighing: index, stage, safe: 0, told: Vec::new() });
    }
    found
}

/// The most rows that a table tells of.
const MOST_ROWS: usize = 40;

/// Counts the chance of running short row by row, from where it begins to matter to where it is all but sure.
pub fn count_rows(book: &mut Book, rows_left: &mut [RowsLeft]) {
    for left in rows_left {
        let rows = book.figure::<Count>(&format!("{}.rows", left.stage));
        let tape = Tape::new([rows.node()]);
        let at = tape.find(rows.node()).expect("invariant: the tape holds its roots");
        let mut column = draws::columns(&tape, &[at], &BTreeSet::new()).remove(0);
        let quantile = |column: &mut Vec<f64>, share| draws::quantile(column, share);
        let last = (quantile(&mut column, 0.95).ceil() as usize).max(1);
        left.safe = quantile(&mut column, 0.01).floor() as usize;
        let first = left.safe + 1;
        let last = last.max(first);
        // Where they are too many for a table, some of them are told, the last among them.
        let apart = (last - first + 1).div_ceil(MOST_ROWS);
        left.told = (0..).map(|k| last.saturating_sub(k * apart)).take_while(|row| *row >= first).collect();
        left.told.reverse();
        let row = book.figure::<Mass>(&format!("{}.row", left.stage)).value();
        let there = book.figure::<Mass>(&format!("{}.left", left.stage)).value();
        for n in left.told.iter().copied() {
            let short = column.iter().filter(|rows| **rows < n as f64).count() as f64 / column.len() as f64;
            let mut enter = |what: &str, words: String, kind, value, how: &str| {
                book.count(Line {
                    name: format!("{}.after-{n}.{what}", left.stage),
                    words,
                    kind,
                    source: "JCGM 101:2008, by ten thousand draws".to_owned(),
                    how: How::Counted { words: how.to_owned(), of: vec![format!("{}.rows", left.stage)] },
                    ..Line::counted(value, Standing::Standard)
                });
            };
            let words = format!("chance of running short before row {n}");
            enter("short", words, Kind::Share, short, "share of the draws that give fewer rows");
            let words = format!("likely on the scale after row {n}");
            enter("left", words, Kind::Mass, (there - n as f64 * row).max(0.0), "what is left less so many rows");
        }
    }
}
