//! The end of the yarn on the garment sheet: trims, and rows still to be had.

use super::Filler;
use crate::figures::garments::RowsLeft;
use crate::plan::Trim;
use crate::sheets::fill::balance::chance_text;
use crate::sheets::fill::print::{In, Round};
use crate::sheets::fill::words::{self, portion, yarn_length};
use crate::sheets::garment_sheet::{RowLeft, RowsLeft as RowsLeftRecord, TrimRow};
use crate::sheets::marks::Colour;

impl Filler<'_> {
    pub(super) fn trims(&self) -> Vec<TrimRow> {
        let own = self.printer.plan.trims.iter().filter(|trim| trim.garment == self.index);
        let is_told = |trim: &&Trim| self.printer.ledger.find(&format!("trim.{}.chance-short", trim.name)).is_some();
        own.filter(is_told).map(|trim| self.trim(trim)).collect()
    }

    fn trim(&self, trim: &Trim) -> TrimRow {
        let printer = self.printer;
        let (lead, other) = yarn_length(printer);
        let figure = |what: &str| format!("trim.{}.{what}", trim.name);
        let colours = words::colours(printer.plan);
        let colour = trim.yarn.as_ref().and_then(|yarn| yarn.colour).map(|colour| colours[colour].clone());
        // What is left over stands beside itself.
        let beside: Vec<Colour> = if colour.is_some() { words::colours_used(printer.plan) } else { Vec::new() };
        let piece = self.made.pieces.iter().find(|piece| piece.name == trim.piece);
        let rows = piece.map(|piece| format!("{}.rows", piece.stage)).filter(|rows| {
            printer.ledger.find(rows).is_some() && printer.ledger.find(&figure("rows-to-be-had")).is_some()
        });
        let whole = In("", Round::Places(0));
        TrimRow {
            name: printer.as_written(&trim.name),
            yarn: trim
                .yarn
                .as_ref()
                .map_or_else(|| "what is left over".to_owned(), |yarn| printer.as_written(&yarn.name)),
            colour,
            beside,
            need: printer.amount(&figure("need"), lead, Some(other)),
            have: printer.amount(&figure("have"), lead, Some(other)),
            short: chance_text(printer, &figure("chance-short")),
            rows: rows.map(|rows| {
                let wanted = printer.value(&rows, whole);
                format!("{wanted} rows; {} to be had", printer.value(&figure("rows-to-be-had"), whole))
            }),
        }
    }

    pub(super) fn rows_left(&self) -> Option<RowsLeftRecord> {
        let printer = self.printer;
        let is_own = |left: &&RowsLeft| printer.plan.weighings[left.weighing].garment == self.index;
        let left = printer.ledger.rows_left.iter().find(is_own)?;
        let weighing = &printer.plan.weighings[left.weighing];
        let (lead, other) = portion(printer);
        let of = |what: &str| printer.amount(&format!("{}.{what}", left.stage), lead, Some(other));
        let piece = weighing
            .piece
            .as_deref()
            .map_or_else(|| printer.as_written(&self.garment.name), |piece| printer.as_written(piece));
        let row = |n: usize| RowLeft {
            number: printer.label(n, "row"),
            short: chance_text(printer, &format!("{}.after-{n}.short", left.stage)),
            left: of(&format!("after-{n}.left")),
        };
        Some(RowsLeftRecord {
            of: format!("{piece}, {}; rows as wide as those", printer.as_written(&words::day(weighing.date))),
            row: of("row"),
            left: of("left"),
            safe: (left.safe > 0).then(|| printer.label(left.safe, "row")),
            rows: left.told.iter().copied().map(row).collect(),
        })
    }
}
