//! `[garment.*.piece.*]`: the pieces of a garment, by width and height, which say where colours fall.

use super::names;
use super::reading::{counted, optional, whole};
use super::report::Report;
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Height, Piece};
use crate::syntax::raw;
use crate::units::System;

/// The pieces of one garment in order of writing; `None` if one has a fault.
pub(super) fn pieces(
    raw: &raw::Garment,
    plan: &raw::Plan,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<Vec<Piece>> {
    let all = place.key("piece");
    if !too_many(raw.piece.len(), limits::MOST_ENTRIES, "pieces", &all, report) {
        return None;
    }
    let read: Vec<_> = raw.piece.iter().map(|(name, raw)| piece(name, raw, plan, &all, system, report)).collect();
    read.into_iter().collect()
}

fn piece(
    name: &str,
    raw: &raw::Piece,
    plan: &raw::Plan,
    all: &Place,
    system: System,
    report: &mut Report,
) -> Option<Piece> {
    let place = all.key(name);
    let is_named = names::check(name, &place, report);
    if raw.width.is_none() {
        report.missing("how wide the piece is, is not said", place.key("width"), "write `width = \"104 cm\"`");
    }
    let width = optional(raw.width.as_ref(), &place.key("width"), &limits::PIECE_WIDTH, report);
    let height = height(raw, &place, report);
    let in_the_round = match raw.worked {
        Some(worked) => worked == raw::Worked::InTheRound,
        None => {
            report.assume(&defaults::WORKED, place.key(defaults::WORKED.key), system);
            false
        }
    };
    let count =
        whole(raw.count.unwrap_or(1), &place.key("count"), "a number of pieces", 1..=limits::MOST_OF_A_PIECE, report);
    let ply_plan = match &raw.ply_plan {
        None => Some(None),
        Some(name) => {
            let known = plan.ply_plan.iter().map(|plan| plan.name.as_deref().unwrap_or_default());
            names::find(name, known, ("ply plan", "ply-plan"), &place.key("ply-plan"), report).map(Some)
        }
    };
    Some(Piece {
        name: is_named.then(|| name.to_owned())?,
        width: width?,
        height: height?,
        in_the_round,
        count: counted(count?, place.key("count")),
        ply_plan: ply_plan?,
        place,
    })
}

fn height(raw: &raw::Piece, place: &Place, report: &mut Report) -> Option<Height> {
    let (length, rows) = (place.key("length"), place.key("rows"));
    match (&raw.length, raw.rows) {
        (Some(_), Some(_)) => {
            let message = "expected the length of the piece or its rows, found both";
            let fault = Diagnostic::new(Code::Contradiction, message, rows).label("says it again");
            report.fault(fault.also(length, "said here").help("keep what the pattern counts by"));
            None
        }
        (Some(_), None) => optional(raw.length.as_ref(), &length, &limits::PIECE_LENGTH, report).map(Height::Length),
        (None, Some(n)) => {
            let n = whole(n, &rows, "a number of rows", 1..=limits::MOST_ROWS, report)?;
            Some(Height::Rows(counted(n, rows)))
        }
        (None, None) => {
            let help = "write `length = \"38 cm\"` or `rows = 100`";
            report.missing("how high the piece grows is not said", length, help);
            None
        }
    }
}
