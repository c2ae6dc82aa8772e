//! Fills the colour sheet.

use super::ply::tearing;
use super::print::{In, Printer, Round, joined};
use super::words::{self, yarn_length};
use crate::figures::colour::arrange::{End, Ply};
use crate::figures::colour::step::Remedy as Done;
use crate::figures::colour::{Cloth, Coloured, Way, WorkedPiece, remedy_words};
use crate::figures::supplies::braid_name;
use crate::plan::dye::{self, Likeness};
use crate::plan::{self, Aim, Extent, Supply};
use crate::sheets::colour_sheet::{
    AxisTick, BraidDrawn, ClothDrawn, ColourSheet, ColourWay, ColourYarn, Kept, LaneRun, PieceDrawn, Remedy,
    SectionDrawn, ShadeDrawn, Start, StitchRun, StripDrawn, Three, ToneDrawn, WayPly, Worn,
};
use crate::sheets::marks::Page;
use crate::sheets::ply_plan::Tearing;
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

/// Lots of a ply that are told one by one beside its picture.
const LOTS: usize = 3;

/// Colours to be worn with that are drawn.
const WORN: usize = 4;

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
            undone: self.undone(&tearing(printer, dealt)),
            wish: self.wish(),
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
            notes: self.notes(),
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
            let times = if times == "2" { "twice".to_owned() } else { format!("{times} times") };
            said.push(format!("{} colours come round {times}{every}", words::in_words(repeat.bands)));
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

    /// What is torn for the plan's own way, what of it is torn already, what is left over, and what to do first.
    fn undone(&self, tearing: &[Tearing]) -> Vec<String> {
        const TOLD: usize = 4;
        let printer = self.printer;
        let plan = printer.plan;
        let mut said: Vec<String> = Vec::new();
        for one in tearing {
            let more = one.lots.len().saturating_sub(TOLD);
            let rest = if more > 0 {
                format!("; {} more as the ply plan says", printer.label(more, "lots"))
            } else {
                String::new()
            };
            said.push(format!(
                "{} {}{rest}.",
                one.does,
                one.lots.iter().take(TOLD).cloned().collect::<Vec<_>>().join("; ")
            ));
        }
        if let Some(first) = said.first_mut().filter(|_| self.yarn.ways.len() > 1) {
            *first = format!("Your plan, A: {}{}", first[..1].to_lowercase(), &first[1..]);
        }
        let torn = plan.torn.iter().filter(|torn| self.named().plies.iter().any(|ply| ply.takes(torn.supply)));
        let torn: Vec<String> =
            torn.map(|torn| printer.as_written(&braid_name(&plan.supplies[torn.supply], torn.braid))).collect();
        if !torn.is_empty() {
            let is = if torn.len() == 1 { "is" } else { "are" };
            said.push(format!("{} {is} torn already, as your log says.", words::and(&torn)));
        }
        said.extend(self.left_over(&self.lots()));
        if self.yarn.ways.len() > 1 {
            said.push(
                "Choose a way before you tear; all other sheets follow A until the plan says otherwise.".to_owned(),
            );
        }
        said
    }

    /// What is wished, in words.
    fn wish(&self) -> Option<String> {
        let printer = self.printer;
        let wish = printer.plan.colour_wish.as_ref()?;
        let name = |colour: usize| printer.as_written(&printer.plan.colours[colour].name);
        let aim = match &wish.aim {
            Aim::Stripes(None) => Some("stripes".to_owned()),
            Aim::Stripes(Some(depth)) => Some(format!("stripes {} deep", printer.as_written(&depth.text))),
            Aim::Heather => Some("heather, mixed throughout".to_owned()),
            Aim::Fade { from, to } => Some(format!("a fade from {} to {}", name(*from), name(*to))),
            Aim::AsItComes => None,
        };
        let pairs = |pairs: &[(usize, usize)], verb: &str| {
            let told: Vec<String> = pairs.iter().map(|(a, b)| format!("{} and {}", name(*a), name(*b))).collect();
            (!told.is_empty()).then(|| format!("{} {verb}", told.join(", ")))
        };
        let parts = [
            aim,
            pairs(&wish.keep_apart, "never plied together"),
            pairs(&wish.keep_together, "plied together"),
            wish.first.map(|colour| format!("{} first", name(colour))),
            wish.last.map(|colour| format!("{} last", name(colour))),
            wish.least_left_over.then(|| "least left over".to_owned()),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| format!("Wished: {}.", parts.join("; ")))
    }

    /// What the page has no room to draw.
    fn notes(&self) -> Vec<String> {
        let printer = self.printer;
        let mut notes = Vec::new();
        let names: Vec<String> = self.yarn.pieces.iter().skip(PIECES).map(|piece| self.piece_name(piece)).collect();
        if !names.is_empty() {
            notes.push(format!("Also worked of it, and not drawn: {}.", words::and(&names)));
        }
        let more = printer.plan.colour_wish.as_ref().map_or(0, |wish| wish.worn_with.len().saturating_sub(WORN));
        if more > 0 {
            notes.push(format!("To be worn with {} more that are not drawn.", printer.label(more, "colours")));
        }
        for (index, way) in self.yarn.ways.iter().enumerate() {
            for (i, ply) in way.arrangement.iter().flat_map(|one| one.plies.iter().enumerate()) {
                let order = self.order(ply);
                if order.len() > LOTS {
                    let names: Vec<String> = order.iter().map(|lot| self.lot_name(lot)).collect();
                    let ply = printer.label(i + 1, "ply");
                    notes.push(format!("{}, ply {ply}: {}.", self.letter(index), names.join(", ")));
                }
            }
        }
        notes
    }

    fn reading(&self) -> String {
        let printer = self.printer;
        let dealt = printer.ledger.deal.plans.iter().find(|dealt| dealt.ply_plan == self.yarn.ply_plan);
        let (lead, _) = yarn_length(printer);
        let what = if self.yarn.n_drawn == 1 && self.yarn.sets.len() > 1 {
            let several = printer.label(self.yarn.sets.len(), "sets");
            format!("first of {several} sets alike")
        } else if self.yarn.n_drawn > 1 {
            format!("{} sets, one after the other", printer.label(self.yarn.n_drawn, "sets"))
        } else {
            "all of it".to_owned()
        };
        let skein = dealt.and_then(|dealt| {
            let skeins = dealt.sets[0].skeins.clone();
            (self.yarn.n_drawn == 1 && skeins.clone().count() == 1)
                .then(|| printer.with_unit(&format!("skein.{}.length", skeins.start()), lead))
        });
        let skein = skein.map_or(String::new(), |skein| format!(", {skein}"));
        let cast_on =
            if self.yarn.ways[0].sets[0].len() > 1 { "; cast on at the end spun first, plied last" } else { "" };
        format!("read upward: {what}{skein}{cast_on}")
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
        let lanes = crate::figures::colour::yarn::joined(&way.sets[..self.yarn.n_drawn]);
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
            // A swatch shows no more than itself.
            if told.contains(&piece.stage.as_str()) || told.len() == PIECES || piece.piece.is_none() {
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
        let start = match ply.from {
            End::First => Start::First,
            End::Other => Start::Last,
            End::Alternate => Start::Both,
        };
        self.ply_of(index, &self.order(ply), ply.strips as usize, start)
    }

    /// The lots of a ply in the order of spinning, with how many braids of each follow one another.
    fn order(&self, ply: &Ply) -> Vec<(usize, usize)> {
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
    fn lot_name(&self, (lot, n): &(usize, usize)) -> String {
        let name = self.printer.as_written(&self.printer.plan.supplies[*lot].noun());
        if *n > 1 { format!("{name} × {}", self.printer.label(*n, "braids")) } else { name }
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
        let strips = self.named().strips(index, self.yarn.sets.len());
        self.ply_of(index, &order, strips, start)
    }

    fn ply_of(&self, index: usize, order: &[(usize, usize)], strips: usize, start: Start) -> WayPly {
        let printer = self.printer;
        let beside = self.named().plies[index].beside;
        let one = |lot: usize| {
            let supply = &printer.plan.supplies[lot];
            let is_alike = dye::read(&supply.dyed()).is_mirrored;
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
        Some(if ordered.iter().all(|lot| dye::read(&lot.dyed()).is_mirrored) {
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
        let mut tones = crate::figures::colour::yarn::Tones { all: self.yarn.tones.clone() };
        let bands = crate::figures::colour::yarn::bands(self.printer.plan, &mut tones, lot, beside);
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

    fn proof(&self) -> Option<String> {
        if let Some(why) = self.yarn.not_searched {
            return Some(format!("No other way is looked for: {why}."));
        }
        let (printer, searched) = (self.printer, self.yarn.searched.as_ref()?);
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let count = |what: &str| printer.value(&of(what), In("", Round::Places(0)));
        let compared = count("compared");
        let what = if self.yarn.ways[0].sets[0].len() > 1 {
            "which braid to which ply, their order, strips and ends"
        } else {
            "the order of braids, strips and ends"
        };
        let all = if searched.of.is_some_and(|of| of <= searched.compared as f64 + 0.5) {
            format!("all {compared} ways that deal out")
        } else {
            match searched.of {
                Some(of) if of < 1e9 => format!("{compared} ways of {}", count("of")),
                _ => format!("{compared} ways of more than anyone could"),
            }
        };
        let best = if self.yarn.ways.len() == 1 { "; none is better than yours" } else { "" };
        let gap = match searched.of {
            Some(of) if of <= searched.compared as f64 + 0.5 => "",
            _ if searched.is_exact || searched.bound - searched.best < 0.01 => "; no other way can do better",
            _ => "; a better one may be among those left out",
        };
        Some(format!("Compared: {what}; {all}{best}{gap}."))
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
            "In {} plies lose step by {} once a fifth of a set is plied, by {} at its end.",
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
            format!(
                "Likely less than half a run out at the end; at worst that is so after {}.",
                joined(&printer.low(&figure, length), length.0)
            )
        });
        said
    }

    fn remedies(&self) -> Vec<Remedy> {
        let Some(lost) = &self.yarn.lost else { return Vec::new() };
        let printer = self.printer;
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let shown = In("%", Round::Places(0));
        let as_plied = lost.solid.median;
        let one = |(remedy, _): &(Done, crate::figures::ledger::Bands)| {
            let (key, _) = remedy_words(*remedy);
            let what = match remedy {
                Done::None => "as plied",
                Done::Restart(_) => "break and join anew at each strip’s end",
                Done::MoveFibre => "weigh bobbins and move fibre until they are even",
                Done::FromTheOtherEnd => "rewind, and ply from the end spun first",
            };
            Remedy { what: what.to_owned(), solid: printer.with_unit(&of(key), shown) }
        };
        let helps = |(_, solid): &&(Done, crate::figures::ledger::Bands)| solid.median - as_plied >= 0.01;
        lost.remedies.iter().filter(helps).map(one).collect()
    }

    fn worn_with(&self) -> Vec<Worn> {
        let plan = self.printer.plan;
        let Some(wish) = &plan.colour_wish else { return Vec::new() };
        let tones = self.yarn.tones.iter().flat_map(|tone| tone.parts.iter().map(|(colour, _)| *colour));
        let mut spun: Vec<usize> = tones.collect();
        spun.sort_unstable();
        spun.dedup();
        wish.worn_with
            .iter()
            .take(WORN)
            .map(|worn| Worn { colour: *worn, words: self.worn_words(*worn, &spun) })
            .collect()
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
        let is_plied = self.yarn.ways[0].sets[0].len() > 1;
        let mut lines: Vec<String> = is_plied
            .then(|| "solid: all plies of one colour; as plied: low–likely–high".to_owned())
            .into_iter()
            .collect();
        if self.yarn.tones.iter().any(|tone| tone.parts.is_empty()) {
            lines.push("undyed fibre is drawn a natural white".to_owned());
        }
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
