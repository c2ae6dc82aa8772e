//! `[garment.*]`: what the yarn is for, and the way to the length of yarn in it.
//!
//! Ways, best first: a measured swatch and the area, area and gauge in a stitch whose loops are known, a stated length.

use super::fabric::{gauge, size, tool_size};
use super::names;
use super::piece;
use super::reading::{optional, reading};
use super::report::Report;
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Craft, Garment, Gauge, Hand, Need, Reading, Sample, Stitch, SwatchYarn, UsedAs};
use crate::syntax::raw;
use crate::units::{Area, System};

/// All garments, in order of writing, `None` in place of one that has a fault. `chosen` is the sample spun to.
pub(super) fn garments(
    plan: &raw::Plan,
    chosen: Option<&Sample>,
    system: System,
    report: &mut Report,
) -> Vec<Option<Garment>> {
    too_many(plan.garment.len(), limits::MOST_ENTRIES, "garments", &Place::plan("garment"), report);
    plan.garment.iter().map(|(name, raw)| garment(name, raw, plan, chosen, system, report)).collect()
}

fn garment(
    name: &str,
    raw: &raw::Garment,
    plan: &raw::Plan,
    chosen: Option<&Sample>,
    system: System,
    report: &mut Report,
) -> Option<Garment> {
    let place = Place::plan("garment").key(name);
    let is_named = names::check(name, &place, report);
    let craft = craft(raw, &place, system, report);
    let (hand, used_as) = (hand(raw, craft, &place, system, report), used_as(raw, craft, &place, system, report));
    let tool = tool(raw, craft, &place, report);
    let gauge = match &raw.gauge {
        Some(written) => Some(gauge(written, &place.key("gauge"), rows_default(raw), system, report)?),
        None => None,
    };
    let pieces = piece::pieces(raw, plan, &place, system, report);
    let ways = Ways { raw, place: &place, craft, gauge: gauge.as_ref(), chosen, system };
    let need = ways.best(report)?;
    let stitch = names::text(raw.stitch.as_deref(), &place.key("stitch"), report);
    Some(Garment {
        name: is_named.then(|| name.to_owned())?,
        place,
        craft,
        hand,
        used_as,
        stitch,
        tool,
        gauge,
        need,
        pieces: pieces?,
    })
}

fn craft(raw: &raw::Garment, place: &Place, system: System, report: &mut Report) -> Craft {
    match raw.craft {
        Some(raw::Craft::Knit) => Craft::Knit,
        Some(raw::Craft::Crochet) => Craft::Crochet,
        Some(raw::Craft::Weave) => Craft::Weave,
        None => {
            report.assume(&defaults::CRAFT, place.key(defaults::CRAFT.key), system);
            Craft::Knit
        }
    }
}

/// The hand that holds the hook; other crafts do not ask for it.
fn hand(raw: &raw::Garment, craft: Craft, place: &Place, system: System, report: &mut Report) -> Option<Hand> {
    let key = place.key("hand");
    if craft != Craft::Crochet {
        if raw.hand.is_some() {
            report.fault(of_another_craft(key, "the hand is asked for in crochet alone", "crochet"));
        }
        return None;
    }
    Some(match raw.hand {
        Some(raw::Hand::Right) => Hand::Right,
        Some(raw::Hand::Left) => Hand::Left,
        None => {
            report.assume(&defaults::HAND, key, system);
            Hand::Right
        }
    })
}

/// What the yarn is in the cloth; other crafts do not ask for it.
fn used_as(raw: &raw::Garment, craft: Craft, place: &Place, system: System, report: &mut Report) -> Option<UsedAs> {
    let key = place.key("used-as");
    if craft != Craft::Weave {
        if raw.used_as.is_some() {
            report.fault(of_another_craft(key, "warp and weft are asked for in weaving alone", "weave"));
        }
        return None;
    }
    Some(match raw.used_as {
        Some(raw::UsedAs::Warp) => UsedAs::Warp,
        Some(raw::UsedAs::Weft) => UsedAs::Weft,
        Some(raw::UsedAs::Both) => UsedAs::Both,
        None => {
            report.assume(&defaults::USED_AS, key, system);
            UsedAs::Both
        }
    })
}

fn of_another_craft(place: Place, message: &str, craft: &str) -> Diagnostic {
    let fault = Diagnostic::new(Code::Unused, message, place).label("not used in this craft");
    fault.help(format!("take it out, or write `craft = \"{craft}\"`"))
}

/// Needles or hook as written: a size with its unit, or a word for one, such as "US 6".
fn tool(raw: &raw::Garment, craft: Craft, place: &Place, report: &mut Report) -> Option<String> {
    let (key, written) = match (&raw.needle, &raw.hook) {
        (Some(needle), None) => ("needle", needle),
        (None, Some(hook)) => ("hook", hook),
        (None, None) => return None,
        (Some(_), Some(_)) => {
            let fault =
                Diagnostic::new(Code::Contradiction, "expected needles or a hook, found both", place.key("hook"));
            report.fault(
                fault
                    .label("a hook as well")
                    .also(place.key("needle"), "needles")
                    .help("keep the one that the craft takes"),
            );
            return None;
        }
    };
    let fits = matches!((craft, key), (Craft::Knit, "needle") | (Craft::Crochet, "hook"));
    if !fits {
        let fault = Diagnostic::new(
            Code::Contradiction,
            format!("expected the tool of the craft, found a {key}"),
            place.key(key),
        );
        report.fault(
            fault
                .label("not used in this craft")
                .help("`needle` is for knitting, `hook` for crochet; weaving takes neither here"),
        );
        return None;
    }
    tool_size(written, &place.key(key), report)
}

/// Stitch of a garment, if it is one whose yarn follows from the gauge alone.
fn known_stitch(written: &str) -> Option<Stitch> {
    match written.trim().to_lowercase().as_str() {
        "stocking stitch" | "stockinette" | "stockinette stitch" | "st st" => Some(Stitch::Stocking),
        "garter stitch" | "garter" => Some(Stitch::Garter),
        _ => None,
    }
}

/// From what the rows are taken where a gauge gives only stitches.
fn rows_default(raw: &raw::Garment) -> Stitch {
    raw.stitch.as_deref().and_then(known_stitch).unwrap_or(Stitch::Stocking)
}

/// What the ways to the length of yarn in one garment start from.
struct Ways<'a> {
    raw: &'a raw::Garment,
    place: &'a Place,
    craft: Craft,
    gauge: Option<&'a Gauge>,
    /// The sample that the yarn is spun to.
    chosen: Option<&'a Sample>,
    system: System,
}

impl Ways<'_> {
    /// The best way that is open; `None` if there is none, which is then noted.
    fn best(&self, report: &mut Report) -> Option<Need> {
        let (length_key, area_key) = (self.place.key("length"), self.place.key("area"));
        if self.raw.length.is_some() && self.raw.area.is_some() {
            let message = "expected the length of yarn or the area, found both";
            let fault = Diagnostic::new(Code::Contradiction, message, area_key).label("leads to a second length");
            let fault = fault.also(length_key, "the length is said here");
            report.fault(fault.help("keep the one that you trust more"));
            return None;
        }
        let swatch = match &self.raw.swatch {
            Some(written) => Some(swatch(written, &self.place.key("swatch"), report)?),
            None => None,
        };
        match (&self.raw.area, &self.raw.length, swatch) {
            (Some(written), _, swatch) => {
                let area = reading(written, &area_key, &limits::GARMENT_AREA, report)?;
                self.by_area(area, swatch, report)
            }
            (None, _, Some(_)) => {
                let message = "a swatch leads to the yarn by the area of the garment, which is not said";
                report.missing(message, area_key, "write `area = \"0.9 m2\"` beside the swatch");
                None
            }
            (None, Some(written), None) => {
                reading(written, &length_key, &limits::GARMENT_LENGTH, report).map(Need::Length)
            }
            (None, None, None) => {
                self.no_way(report);
                None
            }
        }
    }

    fn by_area(&self, area: Reading<Area>, swatch: Option<Swatch>, report: &mut Report) -> Option<Need> {
        if let Some(Swatch { size, yarn }) = swatch {
            return Some(Need::Swatch { area, size, yarn });
        }
        let Some(stitch) = self.stitch(report) else {
            self.needs_swatch(report);
            return None;
        };
        // A swatch of the chosen sample is taken to be in stocking stitch: the log does not say its stitch.
        let of_sample = self.chosen.filter(|_| stitch == Stitch::Stocking);
        if let Some((size, weight)) = of_sample.and_then(|sample| sample.swatch.clone()) {
            return Some(Need::Swatch { area, size, yarn: SwatchYarn::Weight(weight) });
        }
        let gauge = self.gauge.or_else(|| of_sample.and_then(|sample| sample.gauge.as_ref()));
        if gauge.is_none() {
            self.area_alone(report);
        }
        gauge.map(|gauge| Need::Gauge { area, gauge: gauge.clone(), stitch })
    }

    /// The stitch, if its yarn follows from the gauge alone. Knitting with none said is taken to be in stocking stitch.
    fn stitch(&self, report: &mut Report) -> Option<Stitch> {
        if self.craft != Craft::Knit {
            return None;
        }
        let Some(written) = &self.raw.stitch else {
            report.assume(&defaults::STITCH, self.place.key(defaults::STITCH.key), self.system);
            return Some(Stitch::Stocking);
        };
        known_stitch(written)
    }

    fn no_way(&self, report: &mut Report) {
        if report.was_refused(self.place) {
            return;
        }
        let help = if self.gauge.is_some() {
            "the gauge needs an area: `area = \"0.9 m2\"`; or write the length that the pattern states: `length = \"1150 m\"`"
        } else {
            "write the length that the pattern states: `length = \"1150 m\"`; or an area and a gauge:\n\
             area = \"0.9 m2\"\ngauge = \"19 st, 26 rows / 10 cm\""
        };
        let message = "how much yarn the garment takes cannot be found";
        let fault = Diagnostic::new(Code::NoWayToLength, message, self.place.clone());
        report.fault(fault.label("no length, no area with a gauge or a swatch").help(help));
    }

    fn area_alone(&self, report: &mut Report) {
        if report.was_refused(self.place) {
            return;
        }
        let message = "an area alone does not tell how much yarn the garment takes";
        let fault = Diagnostic::new(Code::NoWayToLength, message, self.place.key("area"));
        report.fault(fault.label("an area without a gauge").help(
            "write `gauge = \"19 st, 26 rows / 10 cm\"`, or a swatch:\n\
             swatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }",
        ));
    }

    fn needs_swatch(&self, report: &mut Report) {
        if report.was_refused(self.place) {
            return;
        }
        let what = match (self.craft, &self.raw.stitch) {
            (Craft::Knit, Some(stitch)) => format!("{stitch:?}"),
            (Craft::Knit, None) => "this stitch".to_owned(),
            (Craft::Crochet, _) => "crochet".to_owned(),
            (Craft::Weave, _) => "cloth".to_owned(),
        };
        let at = if self.craft == Craft::Knit { "stitch" } else { "area" };
        let message = format!("how much yarn {what} takes does not follow from area and gauge");
        let fault = Diagnostic::new(Code::StitchNeedsSwatch, message, self.place.key(at));
        report.fault(fault.label("known for stocking stitch and garter stitch alone").help(
            "work a swatch in it, and write beside the area\n\
             swatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }\nor, in place of the area, a stated `length`",
        ));
    }
}

struct Swatch {
    size: Reading<Area>,
    yarn: SwatchYarn,
}

fn swatch(raw: &raw::GarmentSwatch, place: &Place, report: &mut Report) -> Option<Swatch> {
    let size = match &raw.size {
        Some(written) => size(written, &place.key("size"), report),
        None => {
            report.missing("the size of the swatch is not said", place.key("size"), "write `size = \"15 x 15 cm\"`");
            None
        }
    };
    let (weight_key, length_key) = (place.key("weight"), place.key("length"));
    let yarn = match (&raw.weight, &raw.length) {
        (Some(_), Some(_)) => {
            let fault = Diagnostic::new(
                Code::Contradiction,
                "expected the weight of the swatch or the length of yarn in it, found both",
                length_key,
            );
            report.fault(
                fault
                    .label("says it again")
                    .also(weight_key, "said here")
                    .help("keep the length if it was unravelled and measured, else the weight"),
            );
            None
        }
        (None, None) => {
            report.missing(
                "how much yarn is in the swatch is not said",
                place.key("weight"),
                "write `weight = \"6.1 g\"` or `length = \"14 m\"`",
            );
            None
        }
        (weight @ Some(_), None) => {
            optional(weight.as_ref(), &weight_key, &limits::SWATCH_WEIGHT, report).map(SwatchYarn::Weight)
        }
        (None, length @ Some(_)) => {
            optional(length.as_ref(), &length_key, &limits::SWATCH_LENGTH, report).map(SwatchYarn::Length)
        }
    };
    Some(Swatch { size: size?, yarn: yarn? })
}
