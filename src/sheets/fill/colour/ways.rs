//! The ways of the colour sheet: their plies, lanes and pieces, and what each is called and gains.

use super::super::print::{In, Round, joined};
use super::super::words;
use super::{Filler, LOTS};
use crate::figures::colour::arrange::Ply;
use crate::figures::colour::yarn::{Tones, bands, joined as one_after_another};
use crate::figures::colour::{Cloth, PIECES, Way, WorkedPiece};
use crate::plan::{self, Aim, Supply};
use crate::sheets::colour_sheet::{
    ClothDrawn, ColourWay, Kept, LaneRun, PieceDrawn, Start, StitchRun, StripDrawn, Three, WayPly,
};
use crate::units::{Kind, unit};

/// Plies that are told one by one at the most.
const PLIES: usize = 4;

impl Filler<'_> {
    pub(super) fn letter(&self, way: usize) -> String {
        char::from(b'A' + way as u8).to_string()
    }

    fn stage(&self, way: usize) -> String {
        format!("colour.{}.way-{}", self.named().name, way + 1)
    }

    pub(super) fn way(&self, index: usize) -> ColourWay {
        let way = &self.yarn.ways[index];
        ColourWay {
            letter: self.letter(index),
            name: self.name(index),
            verdict: self.verdict(way),
            beside: if index == 0 { Vec::new() } else { self.beside(index) },
            plies: self.plies(way).into_iter().take(PLIES).collect(),
            more_plies: (way.sets[0].len() > PLIES)
                .then(|| format!("and {} more plies", self.printer.label(way.sets[0].len() - PLIES, "plies"))),
            lanes: self.lanes(way),
            bar: way.bar.clone(),
            along: way.along.as_ref().map(cloth),
            pieces: self.pieces(way),
            in_step: self.printer.with_unit(&format!("{}.solid", self.stage(index)), In("%", Round::Places(0))),
            as_plied: self.three(&format!("{}.as-plied", self.stage(index))),
            depths: self.depths(index),
            looks: self.looks(index),
            wishes: self.wishes(way),
        }
    }

    fn name(&self, index: usize) -> String {
        let like = self.yarn.ways[index].is_like.filter(|other| *other > 0);
        match (index, like) {
            (0, _) => "your plan".to_owned(),
            (_, Some(other)) => format!("much like {}", self.letter(other)),
            (1, None) => "the best found".to_owned(),
            (_, None) => "the next best".to_owned(),
        }
    }

    fn three(&self, figure: &str) -> Three {
        let shown = In("%", Round::Places(0));
        Three {
            low: self.printer.low(figure, shown),
            likely: self.printer.value(figure, shown),
            high: self.printer.high(figure, shown),
        }
    }

    /// The runs of each ply along the yarn that is drawn.
    fn lanes(&self, way: &Way) -> Vec<Vec<LaneRun>> {
        let drawn: f64 = self.yarn.sets[..self.yarn.n_drawn].iter().sum();
        let lanes = one_after_another(&way.sets[..self.yarn.n_drawn]);
        lanes
            .iter()
            .map(|lane| {
                let mut runs: Vec<LaneRun> = Vec::new();
                let mut left = 1.0;
                for run in lane {
                    // What a ply has beyond the others is not plied.
                    let share = (run.length / drawn).min(left);
                    left -= share;
                    if share <= 1e-9 {
                        break;
                    }
                    match runs.last_mut() {
                        Some(last) if last.tone == run.tone => last.share += share,
                        _ => runs.push(LaneRun { tone: run.tone, share }),
                    }
                }
                runs
            })
            .collect()
    }

    pub(super) fn piece_name(&self, piece: &WorkedPiece) -> String {
        match piece.piece {
            Some(i) => self.printer.as_written(&self.printer.ledger.garments[piece.garment].pieces[i].name),
            None => "swatch".to_owned(),
        }
    }

    /// Pieces to scale.
    fn pieces(&self, way: &Way) -> Vec<PieceDrawn> {
        let (shown, _) = self.printer.both(In("cm", Round::Places(0)), In("in", Round::Places(0)));
        let drawn = self.yarn.pieces.iter().zip(&way.pieces).map(|(piece, found)| {
            let flat = if piece.in_the_round { piece.size.0 / 2.0 } else { piece.size.0 };
            let unit = unit(Kind::Length, shown.0).expect("invariant: pieces are measured in a length");
            let side = |x: f64| self.printer.as_written(&Round::Places(0).text(unit.from_base(x)));
            PieceDrawn {
                name: self.piece_name(piece),
                width: flat * 1000.0,
                height: piece.size.1 * 1000.0,
                words: joined(&format!("{} × {}", side(flat), side(piece.size.1)), shown.0),
                cloth: cloth(found),
            }
        });
        drawn.collect()
    }

    /// How deep runs become in each piece, from those of the finest ply to those of the coarsest.
    fn depths(&self, index: usize) -> Vec<String> {
        let printer = self.printer;
        let (shown, _) = printer.both(In("cm", Round::Digits(2)), In("in", Round::Digits(2)));
        // A swatch shows no more than itself.
        let told = self.yarn.pieces.iter().filter(|piece| piece.piece.is_some()).take(PIECES);
        let depth = |piece: &WorkedPiece| {
            let figure = |what: &str| format!("{}.{}.{what}", self.stage(index), piece.stage.replace('.', " "));
            let (fine, coarse) = (printer.value(&figure("fine"), shown), printer.value(&figure("coarse"), shown));
            let depth = if fine == coarse { fine } else { format!("{fine} to {coarse}") };
            format!("{} {}", self.piece_name(piece), joined(&depth, shown.0))
        };
        told.map(depth).collect()
    }

    /// How the yarn looks, the commonest first, each in shares of its length.
    fn looks(&self, index: usize) -> Vec<String> {
        let printer = self.printer;
        let mut looks: Vec<(f64, String)> = Vec::new();
        let mut told = 0.0;
        for look in ["clear", "heathered", "muddy", "barber-pole"] {
            let figure = format!("{}.looks.{look}", self.stage(index));
            let share = printer.ledger.get(&figure).value;
            told += share;
            if share >= 0.005 {
                looks.push((share, format!("{look} {}", printer.with_unit(&figure, In("%", Round::Places(0))))));
            }
        }
        looks.sort_by(|a, b| b.0.total_cmp(&a.0));
        let untold = (told < 0.995).then(|| "the rest has no tint to tell by".to_owned());
        looks.into_iter().map(|(_, words)| words).chain(untold).collect()
    }

    fn plies(&self, way: &Way) -> Vec<WayPly> {
        match &way.arrangement {
            Some(arrangement) => arrangement.plies.iter().enumerate().map(|(i, ply)| self.arranged(i, ply)).collect(),
            None => (0..self.named().plies.len()).map(|ply| self.own_ply(ply)).collect(),
        }
    }

    /// A ply of an arrangement that can be changed. Its units are those of the plan's own plies, lot by lot and braid by braid.
    fn arranged(&self, index: usize, ply: &Ply) -> WayPly {
        self.ply_of(index, &self.order(ply), ply.strips as usize, start(ply.from))
    }

    /// The lots of a ply in the order of spinning, with how many braids of each follow one another.
    pub(super) fn order(&self, ply: &Ply) -> Vec<(usize, usize)> {
        let lots = self.lots_of_units();
        let mut order: Vec<(usize, usize)> = Vec::new();
        for unit in &ply.units {
            match order.last_mut() {
                Some((last, n)) if *last == lots[*unit] => *n += 1,
                _ => order.push((lots[*unit], 1)),
            }
        }
        order
    }

    /// "north × 2".
    pub(super) fn lot_name(&self, (lot, n): &(usize, usize)) -> String {
        let name = self.printer.as_written(&self.printer.plan.supplies[*lot].noun());
        if *n > 1 { format!("{name} × {}", self.printer.label(*n, "braids")) } else { name }
    }

    /// By unit, the supply that it is of.
    fn lots_of_units(&self) -> Vec<usize> {
        let mut lots = Vec::new();
        for (ply, named) in self.named().plies.iter().enumerate() {
            for lot in &named.lots {
                let strips = self.dealt().sets.iter().flat_map(|set| &set.bobbins[ply].strips);
                let mut braids: Vec<usize> =
                    strips.filter(|strip| strip.supply == *lot).map(|strip| strip.braid).collect();
                braids.sort_unstable();
                braids.dedup();
                lots.extend(braids.iter().map(|_| *lot));
            }
        }
        lots
    }

    /// A ply of the plan's own way, where nothing can be changed.
    fn own_ply(&self, index: usize) -> WayPly {
        let named = &self.named().plies[index];
        let order: Vec<(usize, usize)> = named.lots.iter().map(|lot| (*lot, 1)).collect();
        let strips = self.named().strips(index, self.yarn.sets.len());
        self.ply_of(index, &order, strips, start(named.from))
    }

    fn ply_of(&self, index: usize, order: &[(usize, usize)], strips: usize, start: Start) -> WayPly {
        let printer = self.printer;
        let beside = self.named().plies[index].beside;
        let one = |lot: usize| {
            let supply = &printer.plan.supplies[lot];
            let is_alike = supply.is_mirrored();
            StripDrawn { runs: self.strip_runs(lot, beside), start: (supply.has_order() && !is_alike).then_some(start) }
        };
        let told = order.iter().take(LOTS);
        let mut words = told.clone().map(|lot| self.lot_name(lot)).collect::<Vec<_>>().join(", then ");
        if order.len() > LOTS {
            words.push_str(&format!(", and {} more", printer.label(order.len() - LOTS, "braids")));
        }
        if let Some(beside) = beside {
            words.push_str(&format!(", drafted with {}", printer.as_written(&printer.plan.supplies[beside].name)));
        }
        let braids: usize = order.iter().map(|(_, n)| n).sum();
        let torn = match (strips, braids) {
            (1, _) => "whole".to_owned(),
            (_, 1) => format!("{} strips", printer.label(strips, "strips")),
            _ => format!("{} strips each", printer.label(strips, "strips")),
        };
        WayPly {
            number: printer.label(index + 1, "ply"),
            strips_drawn: told.map(|(lot, _)| one(*lot)).collect(),
            words: format!("{words}, {torn}"),
            how: self.how(index, order, start),
        }
    }

    /// Which end of a ply's strips goes first, where that matters.
    fn how(&self, index: usize, order: &[(usize, usize)], start: Start) -> Option<String> {
        let printer = self.printer;
        let plan = printer.plan;
        let name = |colour: usize| printer.as_written(&plan.colours[colour].name);
        if let [first, .., last] = self.named().plies[index].colour_order.as_slice() {
            return Some(format!("pulled apart, {} to {}", name(*first), name(*last)));
        }
        let ordered: Vec<&Supply> =
            order.iter().map(|(lot, _)| &plan.supplies[*lot]).filter(|lot| lot.has_order()).collect();
        let end = |supply: &&Supply| {
            let bands = supply.bands();
            let (colour, _) = if start == Start::Last { bands[bands.len() - 1] } else { bands[0] };
            colour
        };
        let first: Vec<usize> = ordered.iter().map(end).collect();
        let (colour, rest) = first.split_first()?;
        Some(if ordered.iter().all(|lot| lot.is_mirrored()) {
            "either end first".to_owned()
        } else if start == Start::Both {
            "ends in turn".to_owned()
        } else if rest.iter().all(|other| other == colour) {
            format!("{} end first", name(*colour))
        } else {
            "tagged end first".to_owned()
        })
    }

    /// The runs of one strip in the braid's own order.
    fn strip_runs(&self, lot: usize, beside: Option<usize>) -> Vec<LaneRun> {
        let mut tones = Tones { all: self.yarn.tones.clone() };
        let bands = bands(self.printer.plan, &mut tones, lot, beside);
        bands.into_iter().map(|(tone, share)| LaneRun { tone, share }).collect()
    }

    /// One verdict in plain words.
    fn verdict(&self, way: &Way) -> String {
        let aim = way.score.map_or(0.0, |score| score.aim);
        let asked = self.printer.plan.colour_wish.as_ref().map(|wish| &wish.aim);
        let fades_out = way.as_plied.median < 0.7 * way.solid;
        let verdict = match asked {
            Some(Aim::Stripes(_)) if way.score.is_some() => match aim {
                aim if aim < 0.1 => "no clear stripes",
                aim if aim < 0.4 => "a few clear stripes",
                _ if fades_out => "stripes that soften",
                aim if aim < 0.75 => "stripes, not all as deep as wished",
                _ => "stripes that stay",
            },
            Some(Aim::Heather) if way.score.is_some() => match aim {
                aim if aim < 0.6 => "mostly clear",
                aim if aim < 0.9 => "mixed, with clear places",
                _ => "mixed throughout",
            },
            Some(Aim::Fade { .. }) if way.score.is_some() => match aim {
                aim if aim < -0.1 => "fades the other way",
                aim if aim < 0.1 => "no fade",
                aim if aim < 0.4 => "fades a little",
                aim if aim < 0.7 => "a fade with steps back",
                _ => "a smooth fade",
            },
            _ => match way.solid {
                solid if solid < 0.1 => "marled all through",
                solid if solid < 0.5 => "marled, with clear places",
                _ if fades_out => "clear, softening along the skein",
                _ => "clear colours",
            },
        };
        words::spelt(self.printer.plan, verdict)
    }

    /// What a way gains and costs beside the plan's own.
    fn beside(&self, index: usize) -> Vec<String> {
        let (own, way) = (&self.yarn.ways[0], &self.yarn.ways[index]);
        let mut said = Vec::new();
        if way.is_like == Some(0) {
            said.push("may be no better than A, as hands ply it".to_owned());
        }
        let (Some(mine), Some(theirs)) = (&own.score, &way.score) else { return said };
        let strips = |way: &Way| -> u32 {
            way.arrangement.iter().flat_map(|one| &one.plies).map(|ply| ply.strips * ply.units.len() as u32).sum()
        };
        let (before, after) = (strips(own), strips(way));
        let all = |n: u32| self.printer.label(n as usize, "strips");
        said.push(if after == before {
            "as many strips to tear".to_owned()
        } else {
            format!("{} strips to tear in place of {}", all(after), all(before))
        });
        if (theirs.left_over - mine.left_over).abs() > 0.005 {
            let less = theirs.left_over < mine.left_over;
            said.push(format!("{} left on the bobbins", if less { "less" } else { "more" }));
        }
        said
    }

    /// Wishes beside the aim, kept or broken.
    fn wishes(&self, way: &Way) -> Vec<Kept> {
        let (Some(wish), Some(score)) = (&self.printer.plan.colour_wish, &way.score) else { return Vec::new() };
        let name = |colour: usize| self.printer.as_written(&self.printer.plan.colours[colour].name);
        let mut kept = Vec::new();
        for (a, b) in &wish.keep_apart {
            let share = self.lies_together(way, *a, *b);
            let is_kept = share < 0.02;
            let words = format!("{} {} {}", name(*a), if is_kept { "apart from" } else { "beside" }, name(*b));
            kept.push(Kept { words, is_kept });
        }
        for (a, b) in &wish.keep_together {
            let is_kept = self.lies_together(way, *a, *b) >= 0.25;
            let words = format!("{} {} {}", name(*a), if is_kept { "beside" } else { "seldom beside" }, name(*b));
            kept.push(Kept { words, is_kept });
        }
        for (asked, share, verb) in [(wish.first, score.first, "begins"), (wish.last, score.last, "ends")] {
            if let Some(colour) = asked {
                let how = match share {
                    share if share >= 0.5 => format!("{verb} in"),
                    share if share > 0.02 => format!("{verb} partly in"),
                    _ => format!("never {verb} in"),
                };
                kept.push(Kept { words: format!("{how} {}", name(colour)), is_kept: share >= 0.5 });
            }
        }
        kept
    }

    /// The share of the yarn in which two colours lie side by side, plies in step.
    fn lies_together(&self, way: &Way, a: usize, b: usize) -> f64 {
        let shows = |shade: usize, colour: usize| {
            self.yarn.shades[shade].tones.iter().any(|tone| self.yarn.tones[*tone].share(colour) > 0.0)
        };
        way.shares.iter().filter(|(shade, _)| shows(*shade, a) && shows(*shade, b)).map(|(_, share)| share).sum()
    }
}

fn start(from: plan::End) -> Start {
    match from {
        plan::End::Start => Start::First,
        plan::End::Other => Start::Last,
        plan::End::Alternate => Start::Both,
    }
}

fn cloth(of: &Cloth) -> ClothDrawn {
    let run = |(rows, shade): &(usize, Option<usize>)| StitchRun { rows: *rows, shade: *shade };
    ClothDrawn { rows: of.rows, columns: of.columns.iter().map(|runs| runs.iter().map(run).collect()).collect() }
}
