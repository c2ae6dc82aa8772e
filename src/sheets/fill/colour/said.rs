//! What the colour sheet says in sentences: what cannot be undone, how plies lose step, what was compared.

use super::super::ply::tearing;
use super::super::print::{In, Round, joined};
use super::super::words::{self, yarn_length};
use super::{Filler, LOTS};
use crate::figures::colour::step::Remedy as Done;
use crate::figures::colour::{PIECES, remedy_words};
use crate::figures::ledger::Bands;
use crate::figures::supplies::braid_name;
use crate::plan::Aim;
use crate::sheets::colour_sheet::{Remedy, Worn};

/// Colours to be worn with that are drawn.
const WORN: usize = 4;

impl Filler<'_> {
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
    pub(super) fn undone(&self) -> Vec<String> {
        const TOLD: usize = 4;
        let printer = self.printer;
        let plan = printer.plan;
        let mut said: Vec<String> = Vec::new();
        for one in tearing(printer, self.dealt()) {
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
    pub(super) fn wish(&self) -> Option<String> {
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
    pub(super) fn notes(&self) -> Vec<String> {
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

    pub(super) fn reading(&self) -> String {
        let printer = self.printer;
        let (lead, _) = yarn_length(printer);
        let what = if self.yarn.n_drawn == 1 && self.yarn.sets.len() > 1 {
            let several = printer.label(self.yarn.sets.len(), "sets");
            format!("first of {several} sets alike")
        } else if self.yarn.n_drawn > 1 {
            format!("{} sets, one after the other", printer.label(self.yarn.n_drawn, "sets"))
        } else {
            "all of it".to_owned()
        };
        let skeins = &self.dealt().sets[0].skeins;
        let skein = (self.yarn.n_drawn == 1 && skeins.start() == skeins.end())
            .then(|| printer.with_unit(&format!("skein.{}.length", skeins.start()), lead));
        let skein = skein.map_or(String::new(), |skein| format!(", {skein}"));
        let cast_on =
            if self.yarn.ways[0].sets[0].len() > 1 { "; cast on at the end spun first, plied last" } else { "" };
        format!("read upward: {what}{skein}{cast_on}")
    }

    pub(super) fn proof(&self) -> Option<String> {
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

    pub(super) fn step(&self) -> Vec<String> {
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

    pub(super) fn remedies(&self) -> Vec<Remedy> {
        let Some(lost) = &self.yarn.lost else { return Vec::new() };
        let printer = self.printer;
        let of = |what: &str| format!("colour.{}.{what}", self.named().name);
        let shown = In("%", Round::Places(0));
        let as_plied = lost.solid.median;
        let one = |(remedy, _): &(Done, Bands)| {
            let (key, _) = remedy_words(*remedy);
            let what = match remedy {
                Done::None => "as plied",
                Done::Restart(_) => "break and join anew at each strip’s end",
                Done::MoveFibre => "weigh bobbins and move fibre until they are even",
                Done::FromTheOtherEnd => "rewind, and ply from the end spun first",
            };
            Remedy { what: what.to_owned(), solid: printer.with_unit(&of(key), shown) }
        };
        let helps = |(_, solid): &&(Done, Bands)| solid.median - as_plied >= 0.01;
        lost.remedies.iter().filter(helps).map(one).collect()
    }

    pub(super) fn worn_with(&self) -> Vec<Worn> {
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

    pub(super) fn legend(&self) -> Vec<String> {
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
