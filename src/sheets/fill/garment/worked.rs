//! How each piece is worked, in words.

use super::Filler;
use crate::figures::garments::outline::Flat;
use crate::figures::garments::{Cut, Deed, End, Joined, Places, Run, Shaping, Spread, Step, Until};
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
        let count = self.whole(name);
        let rows = rows(piece, &count);
        joined(&count, rows)
    }

    fn deed(&self, piece: &Cut, step: &Step) -> String {
        match &step.deed {
            Deed::CastOn if self.garment.craft == Craft::Crochet => "begin".to_owned(),
            Deed::CastOn => "cast on".to_owned(),
            Deed::GoOn { from, is_part } => {
                let part = if *is_part { "its part of " } else { "" };
                format!("go on from {part}the {}", from.replace('-', " "))
            }
            Deed::TakeUp { along } => format!("take up along the {along}, evenly"),
            Deed::Around => {
                format!("take up along all four sides; in each corner {} more every other round", self.so_many(2))
            }
            Deed::Join(None) => "join body and sleeves".to_owned(),
            Deed::Join(Some(joined)) => self.join(piece, joined),
            Deed::Even(until) => straight(*until).to_owned(),
            Deed::Within { piece } => format!("begin within the {piece}, at its side"),
            Deed::Heel => "turn the heel as you are used to, over half of the stitches".to_owned(),
            Deed::Shape(shaping) => self.shaping(piece, shaping),
            Deed::Apart([body, sleeves]) => {
                format!("{}; over the same rounds {}", self.shaping(piece, body), self.shaping(piece, sleeves))
            }
            Deed::Part { left, row, has_two_sides } => {
                let of = if *has_two_sides { "in the middle" } else { "at the neck edge" };
                let off = format!("neck: cast off {} {of}", self.stitches(left));
                let off = match row {
                    Some(row) => format!("meanwhile, in row {} of this piece: {off}", self.whole(row)),
                    None => off,
                };
                if *has_two_sides { format!("{off}; each side by itself:") } else { format!("{off}:") }
            }
            Deed::End(End::Off) if self.garment.craft == Craft::Crochet => "fasten off".to_owned(),
            Deed::End(End::Off) => "cast off".to_owned(),
            Deed::End(End::Wait) => "let the stitches wait on a thread".to_owned(),
            Deed::End(End::DrawnThrough) => "draw the yarn through what is left".to_owned(),
        }
    }

    fn join(&self, piece: &Cut, joined: &Joined) -> String {
        let [waits, body, sleeve] = [&joined.waits, &joined.body, &joined.sleeve].map(|name| self.stitches(name));
        let split = format!("{body} of the front, {sleeve} of a sleeve, {body} of the back, {sleeve} of the other");
        let lines =
            if matches!(piece.flat, Flat::Trapezoid { .. }) { "; a line where each meets the next" } else { "" };
        format!("join {split}; {waits} of each wait at each underarm{lines}")
    }

    fn so_many(&self, n: usize) -> String {
        joined(&self.printer.label(n, "stitches of shaping"), "st")
    }

    fn shaping(&self, piece: &Cut, shaping: &Shaping) -> String {
        let way = if shaping.widens { "more" } else { "off" };
        let row = row(piece);
        let all = self.so_many(shaping.stitches);
        let each = match shaping.places {
            Places::BothEdges if piece.in_the_round => format!("{} {way} in a round", self.so_many(2)),
            Places::BothEdges => format!("{} {way} at both edges", self.so_many(1)),
            Places::OneEdge => format!("{} {way} at the one edge", self.so_many(1)),
            Places::SideFolds => format!("{} {way} in a round, before and after both side folds", self.so_many(4)),
            Places::FourLines => format!("{} {way} in a round, before and after each line", self.so_many(8)),
            Places::BodyLines => format!("{} {way} in a round, at both ends of front and back", self.so_many(4)),
            Places::SleeveLines => format!("{} {way} in a round, at both ends of the sleeves", self.so_many(4)),
            Places::EightWedges => format!("{} {way} in a round, in eight wedges", self.so_many(8)),
            Places::AllAlong => format!("{all} {way} evenly, all along"),
        };
        let words = match &shaping.spread {
            Spread::Once if shaping.places == Places::AllAlong => format!("{each} one {row}"),
            Spread::Once => format!("{all} {way} in one {row}"),
            Spread::EachRow { stitches, more } => {
                let more = match more {
                    0 => String::new(),
                    _ => format!(", and {} more in all", self.so_many(*more)),
                };
                format!("{} {way} at the beginning of each {row}{more}", self.so_many(*stitches))
            }
            Spread::Runs(runs) => {
                let runs: Vec<String> = runs.iter().map(|run| self.run(row, *run)).collect();
                format!("{each}, {}", runs.join(", then "))
            }
            Spread::InTurn { turn: [first, second], turns, then } => {
                let turn = format!("{} and {}", self.run(row, *first), self.run(row, *second));
                let then = if then.times > 0 { format!(", then {}", self.run(row, *then)) } else { String::new() };
                format!("{each}, in turn {turn}: {} in all{then}", self.times(*turns))
            }
        };
        if shaping.rest > 0 { format!("{words}; {} {way} beside them", self.so_many(shaping.rest)) } else { words }
    }

    /// "every 6th round 11 times".
    fn run(&self, row: &str, run: Run) -> String {
        let times = self.times(run.times);
        match run.every {
            1 => format!("every {row} {times}"),
            every => format!("every {} {row} {times}", ordinal(&self.printer.label(every, "rows of shaping"))),
        }
    }

    fn times(&self, n: usize) -> String {
        match n {
            1 => "once".to_owned(),
            2 => "twice".to_owned(),
            _ => format!("{} times", self.printer.label(n, "times")),
        }
    }
}

fn straight(until: Until) -> &'static str {
    match until {
        Until::There => "straight",
        Until::Underarm => "straight, up to the underarm",
        Until::Mark => "straight, up to the underarm: mark both edges",
        Until::Shoulder => "straight, up to the shoulder",
        Until::Neck => "straight, up to the neck",
        Until::Toe => "straight; heel and toe in them as you are used to",
    }
}

/// What a row of a piece is called.
fn row(piece: &Cut) -> &'static str {
    if is_round(piece) { "round" } else { "row" }
}

/// The same of several.
pub(super) fn rows(piece: &Cut, count: &str) -> &'static str {
    match (is_round(piece), count) {
        (true, "1") => "round",
        (true, _) => "rounds",
        (false, "1") => "row",
        (false, _) => "rows",
    }
}

/// Whether its rows go round; a gusset's are those of the hand around it.
fn is_round(piece: &Cut) -> bool {
    piece.in_the_round || (piece.is_of_shape && piece.name == "gusset")
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
