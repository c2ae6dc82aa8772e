//! Tables of the garment sheet: measures, what another grist does, sizes, a cloth on its loom.

use super::Filler;
use crate::figures::chart;
use crate::figures::garments::SizeOf;
use crate::plan::body::BodyMeasure;
use crate::plan::shape::Measure;
use crate::plan::{Fabric, Loom, Shaped};
use crate::sheets::fill::balance::{buy, chance_text};
use crate::sheets::fill::loom::{at_the_loom, threads};
use crate::sheets::fill::print::{In, Round};
use crate::sheets::fill::words::{self, weight, yarn_length};
use crate::sheets::garment_sheet::{GristRow, MeasureRow, SizeRow};
use crate::sheets::marks::{Amount, Setting};
use crate::units::Standing;

/// Whether a measure only leads to others: nothing of a joined yoke is as long as its body with the depth of an armhole.
fn is_by_the_way(shaped: &Shaped, measure: Measure) -> bool {
    shaped.shape.measures().contains(&Measure::Yoke) && matches!(measure, Measure::Length | Measure::Armhole)
}

impl Filler<'_> {
    pub(super) fn measures(&self) -> Vec<MeasureRow> {
        let shaped = match &self.garment.fabric {
            Fabric::Shaped(shaped) => shaped,
            Fabric::Woven(loom) => return at_the_loom(self.printer, self.garment, loom),
            Fabric::Pieces | Fabric::Area(_) => return Vec::new(),
        };
        let is_told = |measure: &&Measure| shaped.said(**measure).is_some() || !is_by_the_way(shaped, **measure);
        self.made.measures.iter().filter(is_told).map(|measure| self.measure(shaped, *measure)).collect()
    }

    fn measure(&self, shaped: &Shaped, measure: Measure) -> MeasureRow {
        let name = self.figure(&format!("measure.{}", measure.key()));
        let (lead, _) = self.length();
        let line = self.printer.ledger.get(&name);
        let is_own = shaped.said(measure).is_some();
        let give = (!is_own && line.has_spread())
            .then(|| format!("{} to {}", self.printer.low(&name, lead), self.printer.high(&name, lead)));
        MeasureRow {
            name: measure.words().to_owned(),
            amount: self.amount(&format!("measure.{}", measure.key()), self.length()),
            from: self.from(shaped, measure),
            give,
        }
    }

    /// Where a measure comes from.
    fn from(&self, shaped: &Shaped, measure: Measure) -> String {
        if shaped.said(measure).is_some() {
            return "yours".to_owned();
        }
        let on: &[BodyMeasure] = shaped.shape.rests_on(measure).unwrap_or_default();
        let said = |measure: &BodyMeasure| shaped.of_body(*measure).is_some();
        match on {
            [] => "usual, or from the others".to_owned(),
            [BodyMeasure::Chest] if shaped.size.is_some() => "from the size".to_owned(),
            _ if on.iter().all(said) => "from your measures".to_owned(),
            [body, ..] => self.by_chest(shaped, *body),
        }
    }

    /// How well the chest tells a measure of the body.
    fn by_chest(&self, shaped: &Shaped, body: BodyMeasure) -> String {
        let chest = shaped.of_body(BodyMeasure::Chest).map(|chest| chest.value);
        let found = shaped.whom.zip(chest).and_then(|(whom, chest)| crate::plan::body::estimate(whom, body, chest));
        match found.map(|found| found.standing) {
            Some(Standing::Published) => "from the chest, by a survey",
            Some(Standing::FromMemory) => "from the chest, by tables from memory",
            _ => "from the chest, beyond the tables: measure it",
        }
        .to_owned()
    }

    pub(super) fn grist(&self) -> Vec<GristRow> {
        if !self.has("size-as-spun") {
            return Vec::new();
        }
        let is_logged = self.printer.ledger.find_source("fact.spun.miss").is_some();
        let as_it_is = if is_logged { "by the log" } else { "as planned" };
        let mut rows = vec![
            self.if_otherwise("a tenth finer", "grist.finer", ["size-if-finer", "gauge-if-finer", "weight-if-finer"]),
            self.if_otherwise(as_it_is, "grist.as-spun", ["size-as-spun", "gauge-as-spun", "weight"]),
            self.if_otherwise(
                "a tenth heavier",
                "grist.heavier",
                ["size-if-heavier", "gauge-if-heavier", "weight-if-heavier"],
            ),
        ];
        if self.has("length-as-spun") {
            rows.push(self.if_otherwise("its length, by rows", "grist.as-spun", ["length-as-spun", "", "weight"]));
        }
        for skein in &self.printer.ledger.deal.logged.skeins {
            let n = self.printer.label(skein.number, "skein");
            let of = ["size", "gauge", "weight"].map(|what| format!("skein.{}.{what}", skein.number));
            let figures = [of[0].as_str(), of[1].as_str(), of[2].as_str()];
            rows.push(self.if_otherwise(&format!("all as skein {n}"), &format!("{}.grist", skein.stage), figures));
        }
        rows
    }

    /// One way the yarn may come out: its grist, and the figures of the garment's size, gauge and weight.
    fn if_otherwise(&self, name: &str, grist: &str, [size, gauge, weighs]: [&str; 3]) -> GristRow {
        let (lead, other) = self.length();
        let (shown, shown_other) = self.grist_unit();
        let size = self.figure(size);
        GristRow {
            name: name.to_owned(),
            grist: self.printer.amount(grist, shown, Some(shown_other)),
            gauge: self
                .has(gauge)
                .then(|| self.printer.value(&self.figure(gauge), In(self.gauge_units().0.0, Round::Places(1)))),
            size: self.printer.spread(&size, lead),
            size_other: self.printer.with_unit(&size, other),
            weight: self.amount(weighs, weight(self.printer)),
        }
    }

    /// Over which width the gauge is told: "10 cm".
    pub(super) fn grist_over(&self) -> String {
        self.printer.as_written(self.gauge_units().0.0.split_once('/').map_or("", |(_, over)| over))
    }

    /// What to do about the skeins of the log, by how far they are off what was aimed at.
    pub(super) fn grist_told(&self) -> Option<String> {
        // Where skeins have their pieces, that says what to do with them.
        let is_allotted = self.printer.ledger.allotments.iter().any(|allotment| allotment.garment == self.index);
        if !self.has("size-as-spun") || is_allotted {
            return None;
        }
        let skeins = &self.printer.ledger.deal.logged.skeins;
        let within = |from: f64, to: f64| {
            let of_band = skeins.iter().filter(|skein| (from..to).contains(&(skein.off - 1.0).abs()));
            of_band.map(|skein| self.printer.label(skein.number, "skein")).collect::<Vec<String>>()
        };
        let (mix, act) = (within(chart::GOOD_WITHIN, chart::MIX_WITHIN), within(chart::MIX_WITHIN, f64::INFINITY));
        let told = |of: Vec<String>, what: &str| {
            let s = if of.len() == 1 { "" } else { "s" };
            (!of.is_empty()).then(|| format!("Skein{s} {}: {what}", words::and(&of)))
        };
        let told = [
            told(mix, "near enough to work in, two rows in turn with one of the other side."),
            told(act, "another fabric, to be swatched apart: for another needle, or where width does not matter."),
        ];
        let told: Vec<String> = told.into_iter().flatten().collect();
        match (skeins.is_empty(), told.is_empty()) {
            (true, _) => None,
            (_, true) => Some("The skeins so far work up as planned.".to_owned()),
            _ => Some(told.join(" ")),
        }
    }

    /// The sizes with the sentence about the largest that fits.
    pub(super) fn sizes(&self) -> (Vec<SizeRow>, Option<String>) {
        let own: Vec<&SizeOf> = self.printer.ledger.sizes.iter().filter(|size| size.garment == self.index).collect();
        let rows: Vec<SizeRow> = own.iter().map(|size| self.size(size)).collect();
        let largest = (!rows.is_empty()).then(|| {
            let fits = own.iter().zip(&rows).rfind(|(_, row)| row.lacks.is_none()).map(|(size, _)| size.size.name);
            match fits {
                Some(name) if own.last().is_some_and(|last| last.size.name == name) => {
                    format!("The fibre there is makes every size, up to {}.", self.printer.as_written(name))
                }
                Some(name) => {
                    format!(
                        "{} is the largest size that the fibre there is makes, as sure as you wish to be.",
                        self.printer.as_written(name)
                    )
                }
                None => "The fibre there is makes none of the sizes, as sure as you wish to be.".to_owned(),
            }
        });
        (rows, largest.map(|words| crate::sheets::fill::words::spelt(self.printer.plan, &words)))
    }

    fn size(&self, size: &SizeOf) -> SizeRow {
        let printer = self.printer;
        let of =
            |what: &str, (lead, other): (In, In)| printer.amount(&format!("{}.{what}", size.stage), lead, Some(other));
        SizeRow {
            name: printer.as_written(size.size.name),
            body: of("chest", printer.both(In("cm", Round::Places(0)), In("in", Round::Halves))),
            yarn: of("total", yarn_length(printer)),
            short: chance_text(printer, &format!("{}.chance-short", size.stage)),
            lacks: buy(printer, &size.stage),
            is_own: size.is_own,
        }
    }

    /// Weave, ends and picks.
    pub(super) fn loom_settings(&self, loom: &Loom) -> Vec<Setting> {
        let weave = self.stitch_name().map(|weave| Setting {
            name: "weave".to_owned(),
            amount: Amount { value: self.printer.as_written(&weave), unit: None, other: None },
            note: None,
            tray_unit: None,
        });
        let threads = threads(self.printer, self.garment, loom).into_iter().map(|threads| Setting {
            name: threads.name,
            note: (!threads.is_own).then(|| "reckoned".to_owned()),
            amount: threads.amount,
            tray_unit: None,
        });
        weave.into_iter().chain(threads).collect()
    }
}
