//! Fills the garment sheet.

mod allotted;
mod drawn;
mod ends;
mod told;
mod worked;

use super::balance::{self, buy, chance_text};
use super::print::{In, Printer, Round, joined};
use super::words::{grist, portion, weight, yarn_length};
use crate::figures::garments::{Cut, Made, Way, of_plan};
use crate::plan::needle::Needle;
use crate::plan::{Craft, Fabric, Garment, Gauge, Reading};
use crate::sheets::garment_sheet::{Enough, GarmentSheet, OneGarment, PieceRow, WayRow};
use crate::sheets::marks::{Amount, Page, Setting};
use crate::units::format::exact;
use crate::units::{Area, Kind};

/// The sheet; `None` of a plan without garments.
pub(super) fn garment_sheet(printer: &Printer, page: Page) -> Option<GarmentSheet> {
    let garments = printer.plan.garments.iter().zip(&printer.ledger.garments).enumerate();
    let filled = garments.map(|(index, (garment, made))| Filler { printer, garment, made, index }.garment());
    let garments: Vec<OneGarment> = filled.collect();
    (!garments.is_empty()).then_some(GarmentSheet { page, garments })
}

/// Fills the pages of one garment.
struct Filler<'a> {
    printer: &'a Printer<'a>,
    garment: &'a Garment,
    made: &'a Made,
    /// Its index in the plan.
    index: usize,
}

impl Filler<'_> {
    fn garment(&self) -> OneGarment {
        let (drawn, scale) = self.drawn();
        let (sizes, largest) = self.sizes();
        OneGarment {
            name: self.printer.as_written(&self.garment.name),
            moment: match self.garment.craft {
                Craft::Knit => "for knitting",
                Craft::Crochet => "for crochet",
                Craft::Weave => "for weaving",
            }
            .to_owned(),
            made: self.words(),
            settings: self.settings(),
            basis: self.basis(),
            enough: self.enough(),
            pieces: self.pieces(),
            order: self.order(),
            allotments: self.allotments(),
            drawn,
            scale,
            measured: if matches!(self.garment.fabric, Fabric::Woven(_)) { "on the loom" } else { "measures" }
                .to_owned(),
            measures: self.measures(),
            beside: self.beside(),
            ways: self.ways(),
            grist: self.grist(),
            grist_over: self.grist_over(),
            grist_told: self.grist_told(),
            grist_of: crate::figures::garments::leading(self.garment).map(|measure| measure.words().to_owned()),
            sizes,
            largest,
            trims: self.trims(),
            rows: self.rows_left(),
            caution: CAUTION.to_owned(),
        }
    }

    fn figure(&self, what: &str) -> String {
        format!("garment.{}.{what}", self.garment.name)
    }

    fn has(&self, what: &str) -> bool {
        self.printer.ledger.find(&self.figure(what)).is_some()
    }

    /// A length of the body or the garment: whole centimetres, or halves of an inch.
    fn length(&self) -> (In, In) {
        self.printer.both(In("cm", Round::Halves), In("in", Round::Quarters))
    }

    /// A figure in both systems.
    fn amount(&self, what: &str, (lead, other): (In, In)) -> Amount {
        self.printer.amount(&self.figure(what), lead, Some(other))
    }

    /// What it is, in a line.
    fn words(&self) -> String {
        let (lead, other) = self.length();
        let both = |what: &str| {
            let name = self.figure(what);
            format!("{} ({})", self.printer.with_unit(&name, lead), self.printer.with_unit(&name, other))
        };
        match &self.garment.fabric {
            Fabric::Shaped(shaped) => {
                let mut words = shaped.shape.words().to_owned();
                if let Some(measure) = crate::figures::garments::leading(self.garment) {
                    words.push_str(&format!(", {} {}", measure.words(), both(&format!("measure.{}", measure.key()))));
                }
                if let Some(ease) = &shaped.ease {
                    let (symbol, round) = (lead.0, lead.1);
                    let ease = self.printer.reading(ease, Kind::Length, In(symbol, round));
                    words.push_str(&format!(", ease {}", joined(&ease, symbol)));
                }
                words
            }
            Fabric::Woven(loom) => {
                let side = |reading| {
                    let number = |In(symbol, round): In| {
                        joined(&self.printer.reading(reading, Kind::Length, In(symbol, round)), symbol)
                    };
                    format!("{} ({})", number(lead), number(other))
                };
                format!("a cloth of {} by {}, finished", side(&loom.width), side(&loom.length))
            }
            Fabric::Area(area) => self.area(area),
            Fabric::Pieces if self.made.pieces.is_empty() => "by the length that its pattern states".to_owned(),
            Fabric::Pieces => "of pieces measured one by one".to_owned(),
        }
    }

    fn area(&self, area: &Reading<Area>) -> String {
        let side = |symbol, round| joined(&self.printer.reading(area, Kind::Area, In(symbol, round)), symbol);
        let (lead, other) = self.printer.both(("m²", Round::Plain(3)), ("yd²", Round::Plain(3)));
        format!("{} ({}) of fabric", side(lead.0, lead.1), side(other.0, other.1))
    }

    /// Tool and gauge.
    fn settings(&self) -> Vec<Setting> {
        let word = |name: &str, value: String, tray_unit: Option<&str>| Setting {
            name: name.to_owned(),
            amount: Amount { value, unit: None, other: None },
            note: None,
            tray_unit: tray_unit.map(str::to_owned),
        };
        if let Fabric::Woven(loom) = &self.garment.fabric {
            return self.loom_settings(loom);
        }
        let mut settings = Vec::new();
        if let Some(tool) = &self.garment.tool {
            let name = if self.garment.craft == Craft::Crochet { "hook" } else { "needles" };
            let note = Needle::named(tool).filter(|_| name == "needles").map(|needle| self.other_sizes(tool, needle));
            settings.push(Setting { note: note.flatten(), ..word(name, self.printer.as_written(tool), None) });
        }
        if let Some(stitch) = self.stitch_name() {
            settings.push(word("stitch", self.printer.as_written(&stitch), None));
        }
        if let Some(gauge) = self.garment.own_gauge() {
            settings.extend(self.gauge_settings(gauge));
        } else if let Some((gauge, _)) = &self.garment.gauge {
            settings.extend(self.gauge_settings(gauge));
        } else if self.garment.known.is_some() && self.printer.ledger.find("gauge.stitches").is_some() {
            let (stitches, rows) = self.gauge_units();
            for (name, figure, unit) in [("stitches", "gauge.stitches", stitches), ("rows", "gauge.rows", rows)] {
                let over = unit.0.split_once('/').map_or("", |(_, over)| over);
                settings.push(Setting {
                    name: format!("{name} to {over}"),
                    amount: Amount { value: self.printer.value(figure, unit), unit: None, other: None },
                    note: Some("estimate".to_owned()),
                    tray_unit: None,
                });
            }
        }
        if settings.is_empty() {
            settings.push(word("needles or hook", "as your pattern says".to_owned(), None));
        }
        settings
    }

    /// The sizes of needles that the plan does not name: "US 6", "4.5 mm".
    fn other_sizes(&self, tool: &str, needle: Needle) -> Option<String> {
        if tool.trim().to_lowercase().starts_with("us") {
            return Some(self.printer.as_written(&format!("{}\u{a0}mm", exact(needle.mm))));
        }
        let us = needle.us.map(|us| format!("US\u{a0}{us}"));
        let old = needle.old.map(|old| format!("old UK\u{a0}{old}"));
        let both: Vec<String> = us.into_iter().chain(old).collect();
        (!both.is_empty()).then(|| self.printer.as_written(&both.join(", ")))
    }

    fn stitch_name(&self) -> Option<String> {
        self.garment.stitch.clone().or_else(|| Some(self.garment.known?.called(self.printer.plan.terms).to_owned()))
    }

    fn gauge_units(&self) -> (In, In) {
        self.printer.lead(
            (In("st/10 cm", Round::Halves), In("rows/10 cm", Round::Halves)),
            (In("st/4 in", Round::Halves), In("rows/4 in", Round::Halves)),
        )
    }

    fn gauge_settings(&self, gauge: &Gauge) -> Vec<Setting> {
        let (stitches, rows) = self.gauge_units();
        let one = |name: &str, value: String, unit: In| Setting {
            name: format!("{name} to {}", unit.0.split_once('/').map_or("", |(_, over)| over)),
            amount: Amount { value, unit: None, other: None },
            note: None,
            tray_unit: None,
        };
        vec![
            one("stitches", self.printer.reading(&gauge.stitches, Kind::Stitches, stitches), stitches),
            one("rows", self.printer.reading(&gauge.rows, Kind::Rows, rows), rows),
        ]
    }

    /// What the gauge rests on.
    fn basis(&self) -> Option<String> {
        if matches!(self.garment.fabric, Fabric::Woven(_)) {
            return Some("Weave a sample, wash it, and write what it tells under loom in the plan.".to_owned());
        }
        let terms = self.printer.plan.terms;
        match (&self.garment.gauge, self.garment.own_gauge()) {
            (None, _) if self.garment.known.is_some() => {
                Some("No gauge yet: reckoned from the grist, so work a swatch before you cast on.".to_owned())
            }
            (None, _) => None,
            (Some((gauge, stitch)), own) => {
                let from = if gauge.stitches.place.file == crate::diagnostics::File::Log {
                    "of the chosen sample's swatch, washed"
                } else {
                    "as the plan says, washed"
                };
                Some(match (own, stitch) {
                    (None, Some(stitch)) => {
                        format!("The gauge is {from}, in {}: count one in the stitch itself.", stitch.called(terms))
                    }
                    _ => format!("The gauge is {from}."),
                })
            }
        }
    }

    fn enough(&self) -> Enough {
        let place = format!("garment.{}", self.garment.name);
        let (ticks, need, have) = balance::need_and_have(self.printer, &place);
        // Where each ply plan has to suffice, one of them that runs short is enough.
        let chance = self.figure(if self.has("chance-any-short") { "chance-any-short" } else { "chance-short" });
        Enough {
            ticks,
            need,
            have,
            stands_on: crate::sheets::fill::spun::stands_on(self.printer),
            weight: self.weight_of_all(),
            to_spin: self.amount("to-spin", yarn_length(self.printer)),
            fibre: self.amount("fibre-to-have", weight(self.printer)),
            short: chance_text(self.printer, &chance),
            short_of_100: (self.printer.ledger.get(&chance).value * 100.0).round() as u8,
            buy: buy(self.printer, &place),
            plans: self.plans(),
            together: self.printer.ledger.find("garments.chance-short").map(|_| {
                let short = chance_text(self.printer, "garments.chance-short");
                format!("All garments of this plan together, from the one yarn: {short} in 100 run short.")
            }),
        }
    }

    /// How each of several ply plans fares.
    fn plans(&self) -> Option<String> {
        let told = self.printer.plan.ply_plans.iter().filter_map(|ply_plan| {
            let stage = of_plan(self.garment, &ply_plan.name);
            let chance = format!("{stage}.chance-short");
            self.printer.ledger.find(&chance)?;
            let short = chance_text(self.printer, &chance);
            let share = self.printer.value(&format!("{stage}.share"), In("%", Round::Places(0)));
            let called = self.printer.as_written(&ply_plan.name);
            Some(format!("“{called}” takes {share}\u{a0}% of it and runs short in {short}"))
        });
        let told: Vec<String> = told.collect();
        (!told.is_empty()).then(|| format!("Each ply plan by itself, of 100 tries: {}.", told.join("; ")))
    }

    fn weight_of_all(&self) -> Amount {
        self.amount("weight", weight(self.printer))
    }

    fn pieces(&self) -> Vec<PieceRow> {
        if let (Fabric::Woven(_), Some(used_as)) = (&self.garment.fabric, self.garment.used_as) {
            let threads = used_as.threads().iter().enumerate();
            return threads
                .map(|(i, thread)| self.piece(i, (thread, &self.figure(thread)), 1, String::new()))
                .collect();
        }
        let has_left = |piece: &Cut| self.printer.ledger.find(&format!("{}.left", piece.stage)).is_some();
        let pieces = self.made.pieces.iter().enumerate().filter(|(_, piece)| has_left(piece));
        let row = |(i, piece): (usize, &Cut)| {
            let stitch = piece.stitch.map(|stitch| stitch.called(self.printer.plan.terms).to_owned());
            let stitch = stitch.or_else(|| self.garment.stitch.clone());
            let stitch = stitch.map_or_else(String::new, |name| self.printer.as_written(&name));
            PieceRow { skeins: self.skeins(piece), ..self.piece(i, (&piece.name, &piece.stage), piece.count, stitch) }
        };
        pieces.map(row).collect()
    }

    fn piece(&self, i: usize, (name, stage): (&str, &str), count: usize, stitch: String) -> PieceRow {
        let printer = self.printer;
        let (length, mass) = (yarn_length(printer), weight(printer));
        let of = |what: &str, (lead, other): (In, In)| printer.amount(&format!("{stage}.{what}"), lead, Some(other));
        let left = format!("{stage}.left");
        PieceRow {
            number: printer.label(i + 1, "piece"),
            name: printer.as_written(&name.replace('-', " ")),
            count: (count > 1).then(|| printer.label(count, "pieces")),
            stitch,
            yarn: of("yarn", length),
            weight: of(
                "weight",
                if printer.ledger.get(&format!("{stage}.weight")).value < LIGHT { portion(printer) } else { mass },
            ),
            left: printer.spread(&left, mass.0),
            left_other: printer.with_unit(&left, mass.1),
            skeins: None,
        }
    }

    /// The skeins of a piece, as the log has them best or as they are planned; where all are alike and one yarn, any will do.
    fn skeins(&self, piece: &Cut) -> Option<String> {
        let number = |n: usize| self.printer.label(n, "skein");
        let planned = || {
            piece.skeins.as_ref().map(|skeins| {
                if skeins.start() == skeins.end() {
                    format!("skein {}", number(*skeins.start()))
                } else {
                    format!("skeins {} to {}", number(*skeins.start()), number(*skeins.end()))
                }
            })
        };
        let told = self.allotted(piece).or_else(planned);
        let several = self.printer.ledger.deal.plans.len() > 1;
        let called = |taken: usize| self.printer.as_written(&self.printer.plan.ply_plans[taken].name);
        let words: Vec<String> = piece
            .taken
            .filter(|_| several && (told.is_some() || piece.ply_plan.is_some()))
            .map(called)
            .into_iter()
            .chain(told)
            .collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    fn order(&self) -> Option<String> {
        let is_shaped = matches!(self.garment.fabric, Fabric::Shaped(_));
        let has = |name: &str| self.made.pieces.iter().any(|piece| piece.name == name);
        if matches!(self.garment.fabric, Fabric::Woven(_)) {
            Some("Warp first: weigh what it took, and it tells whether the weft will do.".to_owned())
        } else if self.made.pieces.len() < 2 {
            None
        } else if is_shaped && has("sleeve") {
            let sewn =
                if has("back") { " Sew the shoulders, set in the sleeves, close the sides; bands last." } else { "" };
            Some(format!("Sleeves first: if the yarn falls short, a body or a yoke can still be made shorter.{sewn}"))
        } else if is_shaped {
            Some("Weigh what is left after the first piece: it tells whether the rest will do.".to_owned())
        } else {
            Some("In the order of the plan. Weigh what is left after each.".to_owned())
        }
    }

    fn ways(&self) -> Vec<WayRow> {
        let (lead, other) = yarn_length(self.printer);
        let ways = self.made.ways.iter().enumerate().map(|(i, way)| {
            let figure = self.figure(if i == 0 { "yarn" } else { way.figure() });
            WayRow {
                name: self.way_name(*way),
                yarn: self.printer.spread(&figure, lead),
                other: self.printer.with_unit(&figure, other),
                is_used: i == 0,
                is_estimate: *way == Way::Grist,
            }
        });
        ways.collect()
    }

    /// What is needed beside the fabric.
    fn beside(&self) -> String {
        let (lead, other) = yarn_length(self.printer);
        let name = self.figure("allowances");
        let more = self.printer.with_unit(&name, lead);
        format!("with {more} ({}) more for ends, joins and mending", self.printer.with_unit(&name, other))
    }

    fn way_name(&self, way: Way) -> String {
        match way {
            Way::Swatch => "by the swatch",
            Way::Gauge if self.garment.craft == Craft::Crochet => "by the gauge and the yarn of a stitch",
            Way::Gauge => "by the gauge and its loops",
            Way::Stated => "as the pattern says",
            Way::Grist => "by the grist alone",
        }
        .to_owned()
    }

    fn grist_unit(&self) -> (In, In) {
        grist(self.printer)
    }
}

/// The usual caution for hands; common practice, no source.
const CAUTION: &str = "Rest hands, neck and eyes every half hour; pain or tingling that stays is for a clinician.";

/// Grams under which a piece is weighed as a portion is, in smaller steps.
const LIGHT: f64 = 10.0;
