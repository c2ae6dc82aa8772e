//! Fills the colour sheet.

mod said;
mod ways;

use super::print::{In, Printer, Round, joined};
use super::words::{self, yarn_length};
use crate::figures::colour::{Coloured, Shade};
use crate::figures::deal::DealtPlan;
use crate::plan::dye::{self, Likeness};
use crate::plan::{self, Supply};
use crate::sheets::colour_sheet::{AxisTick, BraidDrawn, ColourSheet, ColourYarn, SectionDrawn, ShadeDrawn, ToneDrawn};
use crate::sheets::marks::Page;
use crate::units::{Kind, unit};

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

/// Lots of a ply that are told one by one beside its picture.
const LOTS: usize = 3;

struct Filler<'a> {
    printer: &'a Printer<'a>,
    yarn: &'a Coloured,
}

impl Filler<'_> {
    fn named(&self) -> &plan::PlyPlan {
        &self.printer.plan.ply_plans[self.yarn.ply_plan]
    }

    fn dealt(&self) -> &DealtPlan {
        let mut plans = self.printer.ledger.deal.plans.iter();
        plans.find(|dealt| dealt.ply_plan == self.yarn.ply_plan).expect("invariant: coloured yarns are dealt")
    }

    fn yarn(&self) -> ColourYarn {
        let (printer, yarn) = (self.printer, self.yarn);
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
            undone: self.undone(),
            wish: self.wish(),
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
            extent: words::extent(self.printer, &section.extent),
        };
        BraidDrawn {
            name: self.printer.as_written(&supply.name),
            sections: supply.sections.iter().map(section).collect(),
            reads: self.reads(supply, lot, lots),
        }
    }

    /// How a braid is dyed, and what it is to the ones before it.
    fn reads(&self, supply: &Supply, lot: usize, lots: &[usize]) -> String {
        let dye = dye::read(&supply.dyed_whole());
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
            Some(match dye::likeness(&other.dyed_whole(), &supply.dyed_whole()) {
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
        let dyed: Vec<Vec<dye::Section>> =
            lots.iter().map(|lot| self.printer.plan.supplies[*lot].dyed_whole()).collect();
        let families = dye::families(&dyed);
        let of = families.iter().find(|family| family.iter().any(|one| lots[*one] == lot))?;
        let names = of
            .iter()
            .filter(|one| lots[**one] != lot)
            .map(|one| self.printer.as_written(&self.printer.plan.supplies[lots[*one]].name));
        let names: Vec<String> = names.collect();
        (families.len() > 1 && !names.is_empty()).then(|| format!("of one family with {}", words::and(&names)))
    }

    fn tone(&self, tone: usize) -> ToneDrawn {
        let parts = &self.yarn.tones[tone].parts;
        ToneDrawn {
            colour: if let [(colour, _)] = parts.as_slice() { Some(*colour) } else { None },
            tint: self.yarn.tints[tone].map(|tint| tint.hex()),
        }
    }

    fn shade(&self, shade: &Shade) -> ShadeDrawn {
        let colour = shade.solid().and_then(|tone| self.tone(tone).colour);
        ShadeDrawn { colour, tint: shade.tint.map(|tint| tint.hex()) }
    }

    /// Graduations of the yarn that is drawn, at whole quarters of it.
    fn axis(&self) -> Vec<AxisTick> {
        const PARTS: usize = 4;
        let drawn: f64 = self.yarn.sets[..self.yarn.n_drawn].iter().sum();
        let (lead, _) = yarn_length(self.printer);
        let unit = unit(Kind::Length, lead.0).expect("invariant: yarn is measured in a unit of length");
        (0..=PARTS)
            .map(|part| {
                let at = part as f64 / PARTS as f64;
                let number = Round::Places(0).text(unit.from_base(drawn * at));
                AxisTick { at, label: joined(&self.printer.graduation(number), lead.0) }
            })
            .collect()
    }
}
