//! Braids that are cut across before they are torn: each piece becomes a lot of its own.
//!
//! A braid that is cut for one ply is cut for all that name it, and into as many pieces, or nobody could follow the sheets.

use super::limits;
use super::reading::whole;
use super::report::Report;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Cut, PlyPlan, Supply};
use crate::syntax::raw;

/// That a ply takes its braids cut across.
#[derive(Debug, Clone)]
pub(super) struct Across {
    /// Index of the ply plan and of the ply in it.
    ply: (usize, usize),
    place: Place,
    /// One piece, from 0; all of them in turn where none is said.
    piece: Option<usize>,
    of: usize,
}

impl Across {
    /// Reads `across = 2` or `across = "1 of 2"`.
    pub(super) fn read(raw: &raw::Ply, ply: (usize, usize), place: Place, report: &mut Report) -> Option<Self> {
        let raw::Quantity(written) = raw.across.as_ref()?;
        let Some((piece, of)) = numbers(written) else {
            let message = format!("expected pieces such as \"1 of 2\", or their number, found {written:?}");
            let fault = Diagnostic::new(Code::NotANumber, message, place).label("not pieces of a braid");
            report.fault(fault.help(
                "`across = 2` spins both halves of each braid in turn; `across = \"1 of 2\"` the first halves alone",
            ));
            return None;
        };
        let of = whole(of, &place, "a number of pieces", 2..=limits::MOST_PIECES, report)?;
        let piece = match piece {
            None => None,
            Some(piece) => Some(whole(piece, &place, "the number of a piece", 1..=i64::from(of), report)? as usize - 1),
        };
        Some(Self { ply, place, piece, of: of as usize })
    }
}

/// Which piece of how many.
fn numbers(written: &str) -> Option<(Option<i64>, i64)> {
    let number = |text: &str| text.trim().parse::<i64>().ok();
    match written.split_once(" of ") {
        Some((piece, of)) => Some((Some(number(piece)?), number(of)?)),
        None => Some((None, number(written)?)),
    }
}

/// Supplies and plies with the pieces in place of the braids that are cut; `None` where plies do not agree, which is noted.
pub(super) fn cut(
    supplies: Vec<Supply>,
    mut plans: Vec<PlyPlan>,
    across: &[Across],
    report: &mut Report,
) -> Option<(Vec<Supply>, Vec<PlyPlan>)> {
    let of = pieces_of(&supplies, &plans, across, report)?;
    let mut first = Vec::new();
    let mut cut = Vec::new();
    for (supply, of) in supplies.into_iter().zip(&of) {
        first.push(cut.len());
        match of {
            None => cut.push(supply),
            Some(of) => {
                let piece = |piece| Supply { cut: Some(Cut { piece, of: *of }), ..supply.clone() };
                cut.extend((0..*of).map(piece));
            }
        }
    }
    for (i, plan) in plans.iter_mut().enumerate() {
        for (j, ply) in plan.plies.iter_mut().enumerate() {
            let asked = across.iter().find(|across| across.ply == (i, j));
            let pieces = |lot: usize| match (asked, of[lot]) {
                (Some(Across { piece: Some(piece), .. }), Some(_)) => vec![first[lot] + piece],
                (_, of) => (0..of.unwrap_or(1)).map(|piece| first[lot] + piece).collect(),
            };
            ply.lots = ply.lots.iter().flat_map(|lot| pieces(*lot)).collect();
            ply.beside = ply.beside.map(|lot| first[lot]);
        }
    }
    Some((cut, plans))
}

/// Into how many pieces each supply is cut; `None` in place of one that is not.
fn pieces_of(
    supplies: &[Supply],
    plans: &[PlyPlan],
    across: &[Across],
    report: &mut Report,
) -> Option<Vec<Option<usize>>> {
    let mut found = vec![None; supplies.len()];
    let mut is_sound = true;
    for one in across {
        for &lot in &plans[one.ply.0].plies[one.ply.1].lots {
            found[lot].get_or_insert(one);
        }
    }
    for (i, plan) in plans.iter().enumerate() {
        for (j, ply) in plan.plies.iter().enumerate() {
            let own = across.iter().find(|across| across.ply == (i, j));
            let of = own.map(|own| own.of);
            let other = |lot: &usize| found[*lot].filter(|one: &&Across| Some(one.of) != of).map(|one| (*lot, one));
            if let Some((lot, one)) = ply.beside.and_then(|lot| Some((lot, found[lot]?))) {
                report.fault(drafted_with_pieces(&supplies[lot], one, plan.place.key("plies").index(j)));
                is_sound = false;
            }
            if let Some((lot, one)) = ply.lots.iter().find_map(other) {
                let place = own.map_or_else(|| plan.place.key("plies").index(j), |own| own.place.clone());
                report.fault(cut_otherwise(&supplies[lot], one, place));
                is_sound = false;
            }
        }
    }
    is_sound.then(|| found.iter().map(|one| one.map(|one| one.of)).collect())
}

/// Pieces of a braid are not drafted together with another.
fn drafted_with_pieces(supply: &Supply, one: &Across, ply: Place) -> Diagnostic {
    let message = format!("expected a whole braid to draft with, found {:?}, which is cut across", supply.name);
    Diagnostic::new(Code::Contradiction, message, ply.key("drafted-with"))
        .label("cut across")
        .also(one.place.clone(), "cut here")
        .help("take `across` out of every ply that names it, or draft with another braid")
}

fn cut_otherwise(supply: &Supply, one: &Across, place: Place) -> Diagnostic {
    let message = format!("expected {:?} cut across into {} for every ply, found it otherwise", supply.name, one.of);
    Diagnostic::new(Code::Contradiction, message, place)
        .label("takes it otherwise")
        .also(one.place.clone(), "cut across here")
        .help(format!(
            "a braid that is cut is cut for all: write `across = {}`, or one piece, in each ply that names it",
            one.of
        ))
}
