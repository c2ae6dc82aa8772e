//! How each piece is worked, in words.

use super::Filler;
use crate::figures::garments::{Cut, Deed, Places, Shaping, Step, Until};
use crate::plan::Craft;
use crate::sheets::fill::print::{In, Round, joined};
use crate::sheets::garment_sheet::StepRow;
use crate::units::Kind;

impl Filler<'_> {
    /// The steps of a piece.
    pub(super) fn steps(&self, piece: &Cut) -> Vec<StepRow> {
        piece.course.iter().map(|step| self.step(piece, step)).collect()
    }

    fn step(&self, piece: &Cut, step: &Step) -> StepRow {
        StepRow {
            words: self.deed(piece, step),
            stitches: step.stitches.as_ref().map(|name| self.stitches(name)),
            reach: step.reach.as_ref().map(|name| self.reach(piece, name)),
        }
    }

    fn whole(&self, name: &str) -> String {
        self.printer.value(name, In("", Round::Places(0)))
    }

    fn stitches(&self, name: &str) -> String {
        joined(&self.whole(name), "st")
    }

    fn reach(&self, piece: &Cut, name: &str) -> String {
        if self.printer.ledger.get(name).kind == Kind::Length {
            let (lead, other) = self.length();
            return format!("{} ({})", self.printer.with_unit(name, lead), self.printer.with_unit(name, other));
        }
        joined(&self.whole(name), rows(piece))
    }

    fn deed(&self, piece: &Cut, step: &Step) -> String {
        match &step.deed {
            Deed::CastOn if self.garment.craft == Craft::Crochet => "begin".to_owned(),
            Deed::CastOn => "cast on".to_owned(),
            Deed::GoOn { from } => format!("go on from the {from}"),
            Deed::TakeUp { along } => format!("take up along the {along}"),
            Deed::Join { underarm: None } => "join body and sleeves".to_owned(),
            Deed::Join { underarm: Some(waits) } => {
                format!("join body and sleeves; {} of each wait at each underarm", self.stitches(waits))
            }
            Deed::Within { piece } => format!("begin within the {piece}"),
            Deed::Even(until) => straight(*until).to_owned(),
            Deed::Heel => "turn the heel, over half of the stitches".to_owned(),
            Deed::Shape(shaping) => self.shaping(piece, shaping),
            Deed::Neck { wide, row, shoulder } => {
                let where_ = if piece.flat.is_half() { "at one edge" } else { "in the middle" };
                let each = if piece.flat.is_half() { "the shoulder" } else { "each shoulder" };
                format!(
                    "neck of {} {where_}, from row {} on: {} are left for {each}",
                    self.stitches(wide),
                    self.whole(row),
                    self.stitches(shoulder)
                )
            }
        }
    }

    fn shaping(&self, piece: &Cut, shaping: &Shaping) -> String {
        let so_many = |n: usize| joined(&self.printer.label(n, "stitches of shaping"), "st");
        let way = if shaping.widens { "more" } else { "off" };
        let row = row(piece);
        if shaping.places == Places::AllAlong {
            return format!("{} {way} evenly, all along one {row}", so_many(shaping.stitches));
        }
        let [(every, times), (wider, last)] = shaping.every;
        if every == 0 {
            return format!("{} {way} in all, at the edges, spread over these {row}s", so_many(shaping.stitches));
        }
        let each = match shaping.places {
            Places::BothEdges if piece.in_the_round => format!("{} {way} in a round", so_many(2)),
            Places::BothEdges => format!("{} {way} at both edges", so_many(1)),
            Places::OneEdge => format!("{} {way} at one edge", so_many(1)),
            Places::FourPlaces => format!("{} {way} in a round, at the four folds", so_many(4)),
            Places::FourLines => format!("{} {way} in a round, at four lines", so_many(8)),
            Places::EightWedges | Places::AllAlong => format!("{} {way} in a round, in eight wedges", so_many(8)),
        };
        let spell = |every: usize, times: usize| {
            let times = match times {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                _ => format!("{} times", self.printer.label(times, "times")),
            };
            match every {
                1 => format!("every {row} {times}"),
                _ => format!("every {} {row} {times}", ordinal(&self.printer.label(every, "rows of shaping"))),
            }
        };
        let mut words = format!("{each}, {}", spell(every, times));
        if last > 0 {
            words.push_str(&format!(", then {}", spell(wider, last)));
        }
        if shaping.rest > 0 {
            words.push_str(&format!("; {} {way} beside them", so_many(shaping.rest)));
        }
        words
    }
}

fn straight(until: Until) -> &'static str {
    match until {
        Until::There => "straight",
        Until::Underarm => "straight, up to the underarm",
        Until::Mark => "straight, up to the underarm: mark both edges",
        Until::Shoulder => "straight, up to the shoulder",
        Until::Toe => "straight, with the toe at their end",
    }
}

/// What a row of a piece is called.
fn row(piece: &Cut) -> &'static str {
    if piece.in_the_round { "round" } else { "row" }
}

/// The same of several.
pub(super) fn rows(piece: &Cut) -> &'static str {
    if piece.in_the_round { "rounds" } else { "rows" }
}

/// "2nd", "11th".
fn ordinal(number: &str) -> String {
    let tens = number.len() > 1 && number.as_bytes()[number.len() - 2] == b'1';
    let ending = match number.as_bytes().last() {
        Some(b'1') if !tens => "st",
        Some(b'2') if !tens => "nd",
        Some(b'3') if !tens => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}
