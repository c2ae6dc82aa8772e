//! Skeins to pieces on the garment sheet.

use super::Filler;
use crate::figures::garments::{Allotment, Cut, OneCopy, Working};
use crate::sheets::fill::print::{In, Round};
use crate::sheets::fill::words::{self, yarn_length};
use crate::sheets::garment_sheet::{Allotment as AllotmentRecord, AllottedPlace, StepOfWay, Take};

impl Filler<'_> {
    fn own(&self) -> impl Iterator<Item = &Allotment> {
        self.printer.ledger.allotments.iter().filter(|allotment| allotment.garment == self.index)
    }

    pub(super) fn allotments(&self) -> Vec<AllotmentRecord> {
        self.own().map(|allotment| self.allotment(allotment)).collect()
    }

    /// The skeins of all copies of a piece, each once: "skeins 2, 1".
    pub(super) fn allotted(&self, piece: &Cut) -> Option<String> {
        let is_it = |copy: &OneCopy| self.made.pieces[copy.piece].stage == piece.stage;
        let allotment = self.own().find(|allotment| allotment.copies.iter().any(is_it))?;
        let copies = (0..allotment.copies.len()).filter(|copy| is_it(&allotment.copies[*copy]));
        let mut numbers: Vec<usize> = Vec::new();
        for number in copies.flat_map(|copy| allotment.takes(copy)).flatten() {
            if !numbers.contains(&number) {
                numbers.push(number);
            }
        }
        let s = if numbers.len() == 1 { "" } else { "s" };
        Some(format!("skein{s} {}", words::and(&self.numbers(&numbers))))
    }

    fn numbers(&self, numbers: &[usize]) -> Vec<String> {
        numbers.iter().map(|n| self.printer.label(*n, "skein")).collect()
    }

    fn allotment(&self, allotment: &Allotment) -> AllotmentRecord {
        let plans = &self.printer.plan.ply_plans;
        let called = &plans[allotment.ply_plan].name;
        AllotmentRecord {
            name: (plans.len() > 1).then(|| self.printer.as_written(called)),
            told: self.how_to_work(allotment),
            ways: self.ways_of_working(allotment),
            places: (0..allotment.copies.len()).map(|copy| self.place(allotment, copy)).collect(),
            turns: self.turns(allotment),
        }
    }

    fn ways_of_working(&self, allotment: &Allotment) -> Vec<StepOfWay> {
        let used = allotment.working();
        let ways = [
            ("as they come", "step-in-order", Working::InOrder),
            ("in the best order", "step", Working::Sorted),
            ("two by two, in turn", "step-of-twos", Working::Twos),
        ];
        let stage = &allotment.stage;
        let is_told = |what: &str| self.printer.ledger.find(&format!("{stage}.{what}")).is_some();
        ways.into_iter()
            .filter(|(_, what, _)| is_told(what))
            .map(|(name, what, way)| StepOfWay {
                name: name.to_owned(),
                step: self.printer.with_unit(&format!("{stage}.{what}"), In("%", Round::Places(1))),
                is_used: used == way,
            })
            .collect()
    }

    fn how_to_work(&self, allotment: &Allotment) -> String {
        let bound = format!("{}.bound", allotment.stage);
        let is_proven = allotment.sorted.as_ref().is_none_or(|sorted| sorted.bound >= sorted.step);
        let mut told = match allotment.working() {
            Working::InOrder => "Work the skeins as they come: no step will be seen.".to_owned(),
            Working::Sorted => "Work the skeins in this order, like beside like, what is off in bands.".to_owned(),
            Working::Twos => {
                let apart = format!("{}.between-rows", allotment.stage);
                let apart = self.printer.with_unit(&apart, In("%", Round::Places(0)));
                format!(
                    "Work two skeins at a time, two rows of each in turn. Their rows differ by up to {apart}: fine stripes in \
                     place of a step, so swatch two in turn first."
                )
            }
        };
        if !is_proven {
            let bound = self.printer.with_unit(&bound, In("%", Round::Places(1)));
            told.push_str(&format!(" The search was bounded: no order is better than {bound}."));
        }
        let measured = &self.printer.ledger.deal.logged.skeins;
        let is_open = |number: &usize| !measured.iter().any(|skein| skein.number == *number);
        let open: Vec<usize> = allotment.skeins.iter().copied().filter(is_open).collect();
        if !open.is_empty() {
            let (s, are) = if open.len() == 1 { ("", "is") } else { ("s", "are") };
            let open = words::and(&self.numbers(&open));
            told.push_str(&format!(" Skein{s} {open} {are} not measured yet, and taken as expected."));
        }
        told
    }

    fn place(&self, allotment: &Allotment, copy: usize) -> AllottedPlace {
        let own = &allotment.copies[copy];
        let name = self.printer.as_written(&self.made.pieces[own.piece].name.replace('-', " "));
        let (lead, other) = yarn_length(self.printer);
        let takes = allotment.takes(copy).into_iter().enumerate().map(|(turn, skeins)| {
            let numbers = words::and(&self.numbers(&skeins));
            Take {
                of: if skeins.len() == 1 { format!("skein {numbers}") } else { format!("skeins {numbers} in turn") },
                length: self.printer.amount(
                    &format!("{}.{}.{}", allotment.stage, copy + 1, turn + 1),
                    lead,
                    Some(other),
                ),
            }
        });
        AllottedPlace {
            name: match own.copy {
                Some(n) => format!("{name} {}", self.printer.label(n, "copy")),
                None => name,
            },
            takes: takes.collect(),
        }
    }

    /// Skeins that are worked in turn, with what stays over of the longer one.
    fn turns(&self, allotment: &Allotment) -> Vec<String> {
        let Some(twos) = allotment.twos.as_ref().filter(|_| allotment.working() == Working::Twos) else {
            return Vec::new();
        };
        let (lead, other) = yarn_length(self.printer);
        let turn = |[a, b]: [usize; 2]| {
            let longer = if allotment.lengths[a] >= allotment.lengths[b] { a } else { b };
            let [a, b, longer] = [a, b, longer].map(|skein| allotment.skeins[skein]);
            let over = format!("{}.over.{a}.{b}", allotment.stage);
            let number = |skein: usize| self.printer.label(skein, "skein");
            let rows = self.printer.label(2, "rows in turn");
            format!(
                "{rows} rows of skein {}, {rows} rows of skein {}, and again; {} ({}) of skein {} stay over.",
                number(a),
                number(b),
                self.printer.with_unit(&over, lead),
                self.printer.with_unit(&over, other),
                number(longer),
            )
        };
        twos.pairs().map(turn).collect()
    }
}
