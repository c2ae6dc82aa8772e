//! Fills the colour sheet.

use super::ply::tearing;
use super::print::{In, Printer, Round, joined};
use super::words::{self, yarn_length};
use crate::figures::colour::arrange::{End, Ply};
use crate::figures::colour::step::Remedy as Done;
use crate::figures::colour::{Cloth, Coloured, Way, WorkedPiece, remedy_words};
use crate::plan::dye::{self, Likeness};
use crate::plan::{self, Aim, Extent, Supply};
use crate::sheets::colour_sheet::{
    AxisTick, BraidDrawn, ClothDrawn, ColourSheet, ColourWay, ColourYarn, Kept, LaneRun, PieceDrawn, Remedy,
    SectionDrawn, ShadeDrawn, Start, StitchRun, StripDrawn, Three, ToneDrawn, WayPly, Worn,
};
use crate::sheets::marks::Page;
use crate::units::Kind;

/// The sheet; `None` where no yarn has colours.
pub(super) fn colour_sheet(printer: &Printer, page: Page) -> Option<ColourSheet> {
    let yarns: Vec<ColourYarn> =
        printer.ledger.colouring.yarns.iter().map(|yarn| Filler { printer, yarn }.yarn()).collect();
    (!yarns.is_empty()).then(|| ColourSheet {
        page,
        ply_twist: words::slant(printer.plan.ply_direction()),
        colours: words::colours(printer.plan),
        yarns,
    })
}

/// Braids that are drawn at the most.
const BRAIDS: usize = 3;

/// Plies that are told one by one at the most.
const PLIES: usize = 4;

/// Pieces that are drawn at the most.
const PIECES: usize = 3;

struct Filler<'a> {
    printer: &'a Printer<'a>,
    yarn: &'a Coloured,
}

impl Filler<'_> {
    fn named(&self) -> &plan::PlyPlan {
        &self.printer.plan.ply_plans[self.yarn.ply_plan]
    }

    fn yarn(&self) -> ColourYarn {
        let (printer, yarn) = (self.printer, self.yarn);
        let dealt = printer.ledger.deal.plans.iter().find(|dealt| dealt.ply_plan == yarn.ply_plan);
        let dealt = dealt.expect("invariant: coloured yarns are dealt");
        let lots = self.lots();
        let more = lots.len().saturating_sub(BRAIDS);
        let plies = words::plies(printer.plan);
        ColourYarn {
            part: if printer.plan.ply_plans.len() > 1 {
                format!("{}, {plies}", printer.as_written(&self.named().name))
            } else {
                plies
            },
            braids: lots.iter().take(BRAIDS).map(|lot| self.braid(*lot, &lots)).collect(),
            more_braids: (more > 0).then(|| format!("and {} more", printer.label(more, "braids"))),
            tearing: tearing(printer, dealt),
            left_over: self.left_over(&lots),
            reading: self.reading(),
            tones: (0..yarn.tones.len()).map(|tone| self.tone(tone)).collect(),
            shades: yarn.shades.iter().map(|shade| self.shade(shade)).collect(),
            axis: self.axis(),
            fabric: yarn.pieces.first().filter(|piece| piece.row.is_some()).map(|piece| self.piece_name(piece)),
            ways: (0..yarn.ways.len()).map(|way| self.way(way)).collect(),
            proof: self.proof(),
            step: self.step(),
            remedies: self.remedies(),
            worn_with: self.worn_with(),
            legend: self.legend(),
        }
    }

    /// Lots of the ply plan, each once, in the order in which its plies name them.
    fn lots(&self) -> Vec<usize> {
        let mut lots: Vec<usize> = Vec::new();
        for lot in self.named().plies.iter().flat_map(plan::Ply::supplies) {
            let place = &self.printer.plan.supplies[lot].place;
            if !lots.iter().any(|other| self.printer.plan.supplies[*other].place == *place) {
                lots.push(lot);
            }
        }
        lots
    }

    fn braid(&self, lot: usize, lots: &[usize]) -> BraidDrawn {
        let supply = &self.printer.plan.supplies[lot];
        let whole: f64 = supply.sections.iter().map(|section| section.extent.value()).sum();
        let section = |section: &plan::Section| SectionDrawn {
            colour: section.colour,
            share: section.extent.value() / whole,
            extent: self.extent(&section.extent),
        };
        BraidDrawn {
            name: self.printer.as_written(&supply.name),
            sections: supply.sections.iter().map(section).collect(),
            reads: self.reads(supply, lot, lots),
        }
    }

    fn extent(&self, extent: &Extent) -> String {
        let printer = self.printer;
        let lead = printer.lead(In("cm", Round::Places(0)), In("in", Round::Halves));
        match extent {
            Extent::Length(length) => joined(&printer.reading(length, Kind::Length, lead), lead.0),
            Extent::Share(share) => joined(&printer.reading(share, Kind::Share, In("%", Round::Places(0))), "%"),
        }
    }

    /// How a braid is dyed, and what it is to the ones before it.
    fn reads(&self, supply: &Supply, lot: usize, lots: &[usize]) -> String {
        let dye = dye::read(&whole(supply));
        let mut said = vec![match supply.repeat {
            _ if supply.sections.is_empty() => "undyed".to_owned(),
            _ if dye.is_solid => "one colour".to_owned(),
            Some(plan::Repeat::Random) => "in no order".to_owned(),
            Some(plan::Repeat::Gradient) => "each running into the next".to_owned(),
            _ if dye.is_mirrored => "there and back again: either end first is the same".to_owned(),
            _ => "in order, so it matters which end goes first".to_owned(),
        }];
        if let Some(repeat) = dye.repeat {
            let times = self.printer.label(repeat.times.round() as usize, "repeats");
            let (lead, _) = self.printer.both(In("m", Round::Digits(2)), In("in", Round::Places(0)));
            let figure = format!("{}.repeat", supply.place.path);
            let every = self.printer.ledger.find(&figure).map(|_| self.printer.with_unit(&figure, lead));
            let every = every.map_or(String::new(), |every| format!(", every {every}"));
            said.push(format!("{} colours come round {times} times{every}", words::in_words(repeat.bands)));
        }
        let before = lots.iter().take_while(|other| **other != lot);
        let likeness = before.filter_map(|other| {
            let other = &self.printer.plan.supplies[*other];
            let name = self.printer.as_written(&other.name);
            Some(match dye::likeness(&whole(other), &whole(supply)) {
                _ if supply.sections.is_empty() || dye.is_solid => return None,
                Likeness::Same => format!("dyed as {name}"),
                Likeness::TurnedRound => format!("{name} the other way round"),
                Likeness::BegunElsewhere { .. } => format!("the repeat of {name}, begun elsewhere"),
                Likeness::TurnedAndBegunElsewhere { .. } => format!("the repeat of {name}, turned and begun elsewhere"),
                Likeness::Other => return None,
            })
        });
        said.extend(likeness.take(1));
        said.extend(self.family(lot, lots));
        words::spelt(self.printer.plan, &said.join("; "))
    }

    /// Which of the other lots are of its family, where there is more than one family.
    fn family(&self, lot: usize, lots: &[usize]) -> Option<String> {
        let dyed: Vec<Vec<dye::Section>> = lots.iter().map(|lot| whole(&self.printer.plan.supplies[*lot])).collect();
        let families = dye::families(&dyed);
        let of = families.iter().find(|family| family.iter().any(|one| lots[*one] == lot))?;
        let names = of
            .iter()
            .filter(|one| lots[**one] != lot)
            .map(|one| self.printer.as_written(&self.printer.plan.supplies[lots[*one]].name));
        let names: Vec<String> = names.collect();
        (families.len() > 1 && !names.is_empty()).then(|| format!("of one family with {}", words::and(&names)))
    }

    /// What of the lots stays unspun.
    fn left_over(&self, lots: &[usize]) -> Option<String> {
        let printer = self.printer;
        let (lead, _) = words::weight(printer);
        let left = lots.iter().filter_map(|lot| {
            let supply = &printer.plan.supplies[*lot];
            let name = format!("{}.spare", supply.stage());
            let line = printer.ledger.find(&name)?;
            (line.value >= 0.5)
                .then(|| format!("{} of {}", printer.with_unit(&name, lead), printer.as_written(&supply.noun())))
        });
        let left: Vec<String> = left.collect();
        (!left.is_empty()).then(|| format!("Left over: {}.", words::and(&left)))
    }

    fn reading(&self) -> String {
        let printer = self.printer;
        let dealt = printer.ledger.deal.plans.iter().find(|dealt| dealt.ply_plan == self.yarn.ply_plan);
        let (lead, _) = yarn_length(printer);
        let what = if self.yarn.n_drawn == 1 && self.yarn.sets.len() > 1 {
            let several = printer.label(self.yarn.sets.len(), "sets");
            format!("the first of {several} sets, all alike")
        } else if self.yarn.n_drawn > 1 {
            format!("all {} sets, one after the other", printer.label(self.yarn.n_drawn, "sets"))
        } else {
            "all of it".to_owned()
        };
        let skein = dealt.and_then(|dealt| {
            let skeins = dealt.sets[0].skeins.clone();
            (self.yarn.n_drawn == 1 && skeins.clone().count() == 1)
                .then(|| printer.with_unit(&format!("skein.{}.length", skeins.start()), lead))
        });
        let skein = skein.map_or(String::new(), |skein| format!(", {skein}"));
        format!("read upward, as the work grows: {what}{skein}")
    }

    fn tone(&self, tone: usize) -> ToneDrawn {
        let parts = &self.yarn.tones[tone].parts;
        ToneDrawn {
            colour: if let [(colour, _)] = parts.as_slice() { Some(*colour) } else { None },
            tint: self.yarn.tints[tone].map(|tint| tint.hex()),
        }
    }

    fn shade(&self, shade: &crate::figures::colour::Shade) -> ShadeDrawn {
        let colour = shade.solid().and_then(|tone| self.tone(tone).colour);
        ShadeDrawn {
            colour,
            tint: shade.tint.map(|tint| tint.hex()),
            lightness: shade.tint.map_or(1.0, |tint| tint.oklab()[0]),
        }
    }

    /// Graduations of the yarn that is drawn, at whole quarters of it.
    fn axis(&self) -> Vec<AxisTick> {
        const PARTS: usize = 4;
        let drawn: f64 = self.yarn.sets[..self.yarn.n_drawn].iter().sum();
        let (lead, _) = yarn_length(self.printer);
        let unit = crate::units::unit(Kind::Length, lead.0).expect("invariant: yarn is measured in a unit of length");
        (0..=PARTS)
            .map(|part| {
                let at = part as f64 / PARTS as f64;
                let number = Round::Places(0).text(unit.from_base(drawn * at));
                AxisTick { at, label: joined(&self.printer.graduation(number), lead.0) }
            })
            .collect()
    }

    fn letter(&self, way: usize) -> String {
        char::from(b'A' + way as u8).to_string()
    }

    fn stage(&self, way: usize) -> String {
        format!("colour.{}.way-{}", self.named().name, way + 1)
    }

    fn way(&self, index: usize) -> ColourWay {
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
            begins: self.three(&format!("{}.begins", self.stage(index))),
            ends: self.three(&format!("{}.ends", self.stage(index))),
            depths: self.depths(index),
            looks: self.looks(index),
            wishes: self.wishes(way),
        }
    }

    fn name(&self, index: usize) -> String {
        let like = self.yarn.ways[index].is_like.filter(|other| *other > 0);
        match (index, like) {
            (0, _) => "your plan".to_owned(),
            (_, Some(other)) => format!("as good as {}", self.letter(other)),
            (1, None) => "the best found".to_owned(),
            (_, None) => "the next best".to_owned(),
        }
    }

    fn three(&self, figure: &str) -> Three {
        let shown = In("%", Round::Fives);
        Three {
            low: self.printer.low(figure, shown),
            likely: self.printer.value(figure, shown),
            high: self.printer.high(figure, shown),
        }
    }

    /// The runs of each ply along the yarn that is drawn.
    fn lanes(&self, way: &Way) -> Vec<Vec<LaneRun>> {
        let drawn: f64 = self.yarn.sets[..self.yarn.n_drawn].iter().sum();
        let lanes = crate::figures::colour::yarn::joined(&way.sets[..self.yarn.n_drawn]);
        lanes
            .iter()
            .map(|lane| {
                let mut runs: Vec<LaneRun> = Vec::new();
                for run in lane {
                    let share = run.length / drawn;
                    match runs.last_mut() {
                        Some(last) if last.tone == run.tone => last.share += share,
                        _ => runs.push(LaneRun { tone: run.tone, share }),
                    }
                }
                runs
            })
            .collect()
    }

    fn piece_name(&self, piece: &WorkedPiece) -> String {
        let garment = &self.printer.plan.garments[piece.garment];
        match piece.piece {
            Some(i) => self.printer.as_written(&garment.pieces[i].name),
            None => "swatch".to_owned(),
        }
    }

    /// Pieces to scale, each kind once.
    fn pieces(&self, way: &Way) -> Vec<PieceDrawn> {
        let (shown, _) = self.printer.both(In("cm", Round::Places(0)), In("in", Round::Places(0)));
        let mut drawn: Vec<PieceDrawn> = Vec::new();
        let mut stages: Vec<&str> = Vec::new();
        for (piece, found) in self.yarn.pieces.iter().zip(&way.pieces) {
            if stages.contains(&piece.stage.as_str()) || drawn.len() == PIECES {
                continue;
            }
            stages.push(&piece.stage);
            let flat = if piece.in_the_round { piece.size.0 / 2.0 } else { piece.size.0 };
            let unit = crate::units::unit(Kind::Length, shown.0).expect("invariant: pieces are measured in a length");
            let side = |x: f64| self.printer.as_written(&Round::Places(0).text(unit.from_base(x)));
            drawn.push(PieceDrawn {
                name: self.piece_name(piece),
                width: flat * 1000.0,
                height: piece.size.1 * 1000.0,
                words: joined(&format!("{} × {}", side(flat), side(piece.size.1)), shown.0),
                cloth: cloth(found),
            });
        }
        drawn
    }

    /// How deep runs become in each piece, from those of the finest ply to those of the coarsest.
    fn depths(&self, index: usize) -> Vec<String> {
        let printer = self.printer;
        let (shown, _) = printer.both(In("cm", Round::Digits(2)), In("in", Round::Digits(2)));
        let mut told: Vec<&str> = Vec::new();
        let mut depths = Vec::new();
        for piece in &self.yarn.pieces {
            if told.contains(&piece.stage.as_str()) || told.len() == PIECES {
                continue;
            }
            told.push(&piece.stage);
            let figure = |what: &str| format!("{}.{}.{what}", self.stage(index), piece.stage.replace('.', " "));
            let (fine, coarse) = (printer.value(&figure("fine"), shown), printer.value(&figure("coarse"), shown));
            let depth = if fine == coarse { fine } else { format!("{fine} to {coarse}") };
            depths.push(format!("{} {}", self.piece_name(piece), joined(&depth, shown.0)));
        }
        depths
    }

    /// How the yarn looks, the commonest first, each in shares of its length.
    fn looks(&self, index: usize) -> Vec<String> {
        let printer = self.printer;
        let mut looks: Vec<(f64, String)> = Vec::new();
        for look in ["clear", "heathered", "muddy", "barber-pole"] {
            let figure = format!("{}.looks.{look}", self.stage(index));
            let share = printer.ledger.get(&figure).value;
            if share >= 0.025 {
                looks.push((share, format!("{look} {}", printer.with_unit(&figure, In("%", Round::Fives)))));
            }
        }
        looks.sort_by(|a, b| b.0.total_cmp(&a.0));
        looks.into_iter().map(|(_, words)| words).collect()
    }

    fn plies(&self, way: &Way) -> Vec<WayPly> {
        match &way.arrangement {
            Some(arrangement) => arrangement.plies.iter().enumerate().map(|(i, ply)| self.arranged(i, ply)).collect(),
            None => (0..self.named().plies.len()).map(|ply| self.own_ply(ply)).collect(),
        }
    }

    /// A ply of an arrangement that can be changed. Its units are those of the plan's own plies, lot by lot and braid by braid.
    fn arranged(&self, index: usize, ply: &Ply) -> WayPly {
        let lots = self.lots_of_units();
        let start = match ply.from {
            End::First => Start::First,
            End::Other => Start::Last,
            End::Alternate => Start::Both,
        };
        let mut order: Vec<(usize, usize)> = Vec::new();
        for unit in &ply.units {
            let lot = lots[*unit];
            match order.last_mut() {
                Some((last, n)) if *last == lot => *n += 1,
                _ => order.push((lot, 1)),
            }
        }
        self.ply_of(index, &order, ply.strips as usize, start)
    }

    /// By unit, the supply that it is of.
    fn lots_of_units(&self) -> Vec<usize> {
        let dealt = self.printer.ledger.deal.plans.iter().find(|dealt| dealt.ply_plan == self.yarn.ply_plan);
        let dealt = dealt.expect("invariant: coloured yarns are dealt");
        let mut lots = Vec::new();
        for (ply, named) in self.named().plies.iter().enumerate() {
            for lot in &named.lots {
                let strips = dealt.sets.iter().flat_map(|set| &set.bobbins[ply].strips);
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
        let start = match named.from {
            plan::End::Start => Start::First,
            plan::End::Other => Start::Last,
            plan::End::Alternate => Start::Both,
        };
        let order: Vec<(usize, usize)> = named.lots.iter().map(|lot| (*lot, 1)).collect();
        let strips = named.strips.map_or(self.yarn.sets.len(), |strips| strips as usize);
        self.ply_of(index, &order, strips, start)
    }

    fn ply_of(&self, index: usize, order: &[(usize, usize)], strips: usize, start: Start) -> WayPly {
        const DRAWN: usize = 3;
        let printer = self.printer;
        let beside = self.named().plies[index].beside;
        let one = |lot: usize| {
            let supply = &printer.plan.supplies[lot];
            StripDrawn { runs: self.strip_runs(lot, beside), start: supply.has_order().then_some(start) }
        };
        let name = |(lot, n): &(usize, usize)| {
            let name = printer.as_written(&printer.plan.supplies[*lot].name);
            if *n > 1 { format!("{name} × {}", printer.label(*n, "braids")) } else { name }
        };
        let mut words = order.iter().take(DRAWN).map(name).collect::<Vec<_>>().join(", then ");
        if order.len() > DRAWN {
            words.push_str(&format!(", and {} more", printer.label(order.len() - DRAWN, "braids")));
        }
        if let Some(beside) = beside {
            words.push_str(&format!(", drafted with {}", printer.as_written(&printer.plan.supplies[beside].name)));
        }
        WayPly {
            number: printer.label(index + 1, "ply"),
            strips: if strips == 1 {
                "whole".to_owned()
            } else {
                format!("{} strips", printer.label(strips, "strips"))
            },
            strips_drawn: order.iter().take(DRAWN).map(|(lot, _)| one(*lot)).collect(),
            words,
        }
    }

    /// The runs of one strip in the braid's own order.
    fn strip_runs(&self, lot: usize, beside: Option<usize>) -> Vec<LaneRun> {
        let mut tones = crate::figures::colour::yarn::Tones { all: self.yarn.tones.clone() };
        let bands = crate::figures::colour::yarn::bands(self.printer.plan, &mut tones, lot, beside);
        bands.into_iter().map(|(tone, share)| LaneRun { tone, share }).collect()
    }

    /// One verdict in plain words.
    fn verdict(&self, way: &Way) -> String {
        let aim = way.score.map_or(0.0, |score| score.aim);
        let asked = self.printer.plan.colour_wish.as_ref().map(|wish| &wish.aim);
        let fades_out = way.ends.median < 0.6 * way.begins.median;
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
            said.push("not surely better than A: hands bring more doubt".to_owned());
        }
        let (Some(mine), Some(theirs)) = (&own.score, &way.score) else { return said };
        let strips = |way: &Way| -> u32 {
            way.arrangement.iter().flat_map(|one| &one.plies).map(|ply| ply.strips * ply.units.len() as u32).sum()
        };
        let (before, after) = (strips(own), strips(way));
        let all = |n: u32| self.printer.label(n as usize, "strips");
        match after.cmp(&before) {
            std::cmp::Ordering::Less => said.push(format!("{} strips to tear in place of {}", all(after), all(before))),
            std::cmp::Ordering::Equal => said.push("as many strips to tear".to_owned()),
            std::cmp::Ordering::Greater => {
                said.push(format!("{} strips to tear in place of {}", all(after), all(before)))
            }
        }
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
        if !wish.keep_apart.is_empty() {
            let pairs = wish.keep_apart.iter().map(|(a, b)| format!("{} from {}", name(*a), name(*b)));
            let is_kept = score.apart < 0.02;
            let pairs = pairs.collect::<Vec<_>>();
            let words = format!("{} {}", if is_kept { "keeps" } else { "does not keep" }, words::and(&pairs));
            kept.push(Kept { words, is_kept });
        }
        if !wish.keep_together.is_empty() {
            let pairs = wish.keep_together.iter().map(|(a, b)| format!("{} and {}", name(*a), name(*b)));
            let is_kept = score.together >= 0.25;
            let words = format!(
                "{} {}",
                if is_kept { "brings together" } else { "parts" },
                words::and(&pairs.collect::<Vec<_>>())
            );
            kept.push(Kept { words, is_kept });
        }
        for (asked, share, words) in [(wish.first, score.first, "begins"), (wish.last, score.last, "ends")] {
            if let Some(colour) = asked {
                let is_kept = share >= 0.5;
                let words = format!(
                    "{} in {}",
                    if is_kept { words.to_owned() } else { format!("hardly {words}") },
                    name(colour)
                );
                kept.push(Kept { words, is_kept });
            }
        }
        kept
    }

    fn proof(&self) -> Option<String> {
        if let Some(why) = self.yarn.not_searched {
            return Some(format!("No other way is looked for: {why}."));
        }
        let (printer, searched) = (self.printer, self.yarn.searched.as_ref()?);
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let count = |what: &str| printer.value(&of(what), In("", Round::Places(0)));
        let compared = count("compared");
        let what = "which braid to which ply, their order, strips and ends";
        Some(if searched.is_exact && searched.of.is_some_and(|of| of <= searched.compared as f64 + 0.5) {
            format!("Compared: {what}; all {compared} ways that there are.")
        } else {
            let all = match searched.of {
                Some(of) if of < 1e9 => format!(" of {}", count("of")),
                _ => " of more than anyone could".to_owned(),
            };
            let gap = searched.bound - searched.best;
            let ends = if searched.is_exact || gap < 0.01 {
                "no other way can do better".to_owned()
            } else {
                let (best, bound) =
                    (Round::Places(2).text(searched.best), printer.value(&of("bound"), In("", Round::Places(2))));
                format!(
                    "by the score of the wish the best has {}, and no way can have more than {bound}",
                    printer.as_written(&best)
                )
            };
            format!("Compared: {what}; {compared} ways{all}, and {ends}.")
        })
    }

    fn step(&self) -> Vec<String> {
        let Some(lost) = &self.yarn.lost else { return Vec::new() };
        let printer = self.printer;
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let (shown, _) = printer.both(In("m", Round::Digits(2)), In("yd", Round::Digits(2)));
        let last = lost.along.len();
        let off = |i: usize| {
            let figure = of(&format!("off.{i}"));
            let band = format!("{} to {}", printer.low(&figure, shown), joined(&printer.high(&figure, shown), shown.0));
            format!("{} ({band})", printer.with_unit(&figure, shown))
        };
        let mut said = vec![format!(
            "{} loses step by {} when a fifth of a set is plied, by {} at its end.",
            self.letter(lost.way),
            off(1),
            off(last)
        )];
        let set = self.yarn.sets[0];
        let figure = of("lost-after");
        let (length, _) = yarn_length(printer);
        said.push(if lost.lost_after.median < 0.98 * set {
            format!(
                "A run of the finest ply is out by half of it after {}, or as soon as {}.",
                printer.with_unit(&figure, length),
                joined(&printer.low(&figure, length), length.0)
            )
        } else {
            "Runs likely stay in step by half and more to the end of a set.".to_owned()
        });
        said
    }

    fn remedies(&self) -> Vec<Remedy> {
        let Some(lost) = &self.yarn.lost else { return Vec::new() };
        let printer = self.printer;
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let shown = In("%", Round::Places(0));
        let as_plied = lost.solid.median;
        let one = |(remedy, solid): &(Done, crate::figures::ledger::Bands)| {
            let (key, _) = remedy_words(*remedy);
            let what = match remedy {
                Done::None => "as plied",
                Done::Restart(_) => "break and join anew at each strip’s end",
                Done::MoveFibre => "weigh bobbins and move fibre until they are even",
                Done::FromTheOtherEnd => "rewind, and ply from the end spun first",
            };
            let gain = (solid.median - as_plied) * 100.0;
            Remedy {
                what: what.to_owned(),
                solid: printer.with_unit(&of(key), shown),
                gain: if gain >= 1.0 {
                    "gains"
                } else if gain <= -1.0 {
                    "costs"
                } else {
                    "no gain"
                }
                .to_owned(),
            }
        };
        let plied = Remedy {
            what: format!("{} as plied", self.letter(lost.way)),
            solid: printer.with_unit(&of("as-plied"), shown),
            gain: String::new(),
        };
        std::iter::once(plied).chain(lost.remedies.iter().map(one)).collect()
    }

    fn worn_with(&self) -> Vec<Worn> {
        let plan = self.printer.plan;
        let Some(wish) = &plan.colour_wish else { return Vec::new() };
        let tones = self.yarn.tones.iter().flat_map(|tone| tone.parts.iter().map(|(colour, _)| *colour));
        let mut spun: Vec<usize> = tones.collect();
        spun.sort_unstable();
        spun.dedup();
        wish.worn_with.iter().map(|worn| Worn { colour: *worn, words: self.worn_words(*worn, &spun) }).collect()
    }

    /// How a colour stands to those of the yarn: the nearest and the farthest, by the figures of their differences.
    fn worn_words(&self, worn: usize, spun: &[usize]) -> String {
        let plan = self.printer.plan;
        let name = |colour: usize| &plan.colours[colour].name;
        let difference = |own: usize| {
            let line = self.printer.ledger.find(&format!("contrast.{}.{}", name(worn), name(own)))?;
            Some((line.value, own))
        };
        let mut found: Vec<(f64, usize)> =
            spun.iter().filter(|own| **own != worn).filter_map(|own| difference(*own)).collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        match (found.first(), found.last()) {
            (Some((least, near)), Some((_, far))) if near != far => {
                let how = if *least < 10.0 { "hardly told from" } else { "nearest to" };
                format!(
                    "{how} {}, farthest from {}",
                    self.printer.as_written(name(*near)),
                    self.printer.as_written(name(*far))
                )
            }
            _ => "no tints to tell by".to_owned(),
        }
    }

    fn legend(&self) -> Vec<String> {
        let cloth = self.yarn.ways[0].along.is_some() || self.yarn.ways[0].pieces.iter().any(|cloth| cloth.rows > 0);
        let mut lines = vec!["solid: all plies of one colour; low – likely – high".to_owned()];
        if cloth {
            lines.push(
                "each column of stitches is one way it may turn out; a mark stands where all plies have its colour"
                    .to_owned(),
            );
        }
        lines.iter().map(|line| words::spelt(self.printer.plan, line)).collect()
    }
}

/// A braid as it is dyed, before it is cut across.
fn whole(supply: &Supply) -> Vec<dye::Section> {
    let sections = supply.sections.iter();
    sections.map(|section| dye::Section { colour: section.colour, share: section.extent.value() }).collect()
}

fn cloth(of: &Cloth) -> ClothDrawn {
    let run = |(rows, shade): &(usize, Option<usize>)| StitchRun { rows: *rows, shade: *shade };
    ClothDrawn { rows: of.rows, columns: of.columns.iter().map(|runs| runs.iter().map(run).collect()).collect() }
}
