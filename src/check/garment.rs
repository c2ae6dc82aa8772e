//! `[garment.*]`: what the yarn is for, and the ways to the length of yarn in it.
//!
//! Ways, best first: a measured swatch and the fabric, a gauge and the fabric in a stitch whose loops are known, a stated length,
//! the grist alone. Each that is open is worked out; what is refused here leads to none.

use super::craft::{craft, hand, of_another_craft, tool, used_as};
use super::fabric::{gauge, size};
use super::names;
use super::reading::{counted, optional, reading, whole};
use super::report::Report;
use super::{defaults, limits, loom, piece, too_many, worn};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::stitch::STOCKING;
use crate::plan::{Craft, Fabric, Fringe, Garment, Gauge, Reading, Sample, Stitch, Swatch, SwatchYarn, Terms};
use crate::syntax::raw;
use crate::units::{Count, System};

/// All garments, in order of writing, `None` in place of one that has a fault. `chosen` is the sample spun to.
pub(super) fn garments(
    plan: &raw::Plan,
    chosen: Option<&Sample>,
    system: System,
    terms: Terms,
    report: &mut Report,
) -> Vec<Option<Garment>> {
    too_many(plan.garment.len(), limits::MOST_ENTRIES, "garments", &Place::plan("garment"), report);
    let garment = |(name, raw): (&String, &raw::Garment)| {
        let place = Place::plan("garment").key(name);
        Reader { raw, plan, place, chosen, system, terms }.garment(name, report)
    };
    plan.garment.iter().map(garment).collect()
}

/// What one garment is read with.
struct Reader<'a> {
    raw: &'a raw::Garment,
    plan: &'a raw::Plan,
    place: Place,
    /// The sample that the yarn is spun to.
    chosen: Option<&'a Sample>,
    system: System,
    terms: Terms,
}

impl Reader<'_> {
    fn garment(&self, name: &str, report: &mut Report) -> Option<Garment> {
        let &Self { raw, plan, ref place, system, .. } = self;
        let is_named = names::check(name, place, report);
        let craft = craft(raw, place, system, report);
        let (hand, used_as) = (hand(raw, craft, place, system, report), used_as(raw, craft, place, system, report));
        let tool = tool(raw, craft, place, report);
        let stitch = names::text(raw.stitch.as_deref(), &place.key("stitch"), report);
        let known = self.stitch(craft, report)?;
        let gauge = self.gauge(craft, known, report)?;
        let repeat = self.repeat(report)?;
        let look_up = |name: &str, place: &Place, report: &mut Report| self.named(name, craft, place, report);
        let pieces = piece::pieces(raw, plan, place, system, &look_up, report);
        let fabric = self.fabric(craft, report)?;
        let swatch = self.swatch(known, &fabric, report)?;
        let stated = optional(raw.length.as_ref(), &place.key("length"), &limits::GARMENT_LENGTH, report);
        let garment = Garment {
            name: is_named.then(|| name.to_owned())?,
            craft,
            hand,
            used_as,
            stitch,
            known,
            tool,
            gauge: gauge.or_else(|| self.gauge_of_sample(known)),
            counts_rows: self.counts(report),
            repeat,
            swatch: swatch.or_else(|| self.swatch_of_sample(known)),
            stated,
            fabric,
            pieces: pieces?,
            fringe: self.fringe(craft, report)?,
            place: place.clone(),
        };
        piece::check_of_shape(&garment, report);
        self.check_counted(&garment, report);
        self.check_ply_plans(&garment, report);
        self.check_ways(&garment, report).then_some(garment)
    }

    /// The stitch, if its yarn is known. Knitting with none said is in stocking stitch. The outer `None` where it has a fault.
    fn stitch(&self, craft: Craft, report: &mut Report) -> Option<Option<&'static Stitch>> {
        match (&self.raw.stitch, craft) {
            (Some(written), _) => self.named(written, craft, &self.place.key("stitch"), report),
            (None, Craft::Knit) => {
                report.assume(&defaults::STITCH, self.place.key(defaults::STITCH.key), self.system);
                Some(Some(&STOCKING))
            }
            (None, Craft::Crochet | Craft::Weave) => Some(None),
        }
    }

    /// The stitch of a name; the inner `None` of one whose yarn is not known. Words of crochet need to be said whose they are: the
    /// outer `None` of a word of the other side, which is noted.
    fn named(&self, name: &str, craft: Craft, place: &Place, report: &mut Report) -> Option<Option<&'static Stitch>> {
        let of = |terms| Stitch::named(name, craft, terms);
        if craft == Craft::Crochet && (of(Terms::Uk).is_some() || of(Terms::Us).is_some()) {
            let declared = self.plan.plan.as_ref().and_then(|plan| plan.terms);
            // A plan that crochets and does not say whose words it uses is refused with its heading.
            if declared.is_some() && of(self.terms).is_none() {
                let (own, other) = match self.terms {
                    Terms::Uk => ("UK", "US"),
                    Terms::Us => ("US", "UK"),
                };
                let message = format!("expected a word of crochet in {own} terms, found {name:?}");
                let fault = Diagnostic::new(Code::Contradiction, message, place.clone());
                report.fault(
                    fault
                        .label(format!("a word of {other} terms alone"))
                        .also(Place::plan("plan").key("terms"), "the terms of this plan")
                        .help(format!("write `terms = \"{other}\"`, or say what the stitch is called in {own} terms")),
                );
                return None;
            }
        }
        Some(of(self.terms))
    }

    /// The gauge with the stitch in which it was counted; the outer `None` where it has a fault.
    fn gauge(
        &self,
        craft: Craft,
        known: Option<&'static Stitch>,
        report: &mut Report,
    ) -> Option<Option<(Gauge, Option<&'static Stitch>)>> {
        let (key, in_key) = (self.place.key("gauge"), self.place.key("gauge-in"));
        let Some(written) = &self.raw.gauge else {
            if self.raw.gauge_in.is_some() && !report.was_refused(&key) {
                let fault = Diagnostic::new(Code::Unused, "expected a gauge beside its stitch, found none", in_key);
                report.fault(fault.label("not used").help("write `gauge = \"19 st, 26 rows / 10 cm\"` as well"));
            }
            return Some(None);
        };
        if craft == Craft::Weave {
            report.fault(of_another_craft(key, "a gauge is asked for in knitting and crochet", "knit"));
            return Some(None);
        }
        let counted_in = match &self.raw.gauge_in {
            None => known,
            Some(name) => Some(self.counted_in(name, craft, known, &in_key, report)?),
        };
        let gauge = gauge(written, &key, counted_in, self.system, report)?;
        Some(Some((gauge, counted_in)))
    }

    /// The stitch that a gauge says it was counted in: the garment's own, or stocking stitch.
    fn counted_in(
        &self,
        name: &str,
        craft: Craft,
        known: Option<&'static Stitch>,
        place: &Place,
        report: &mut Report,
    ) -> Option<&'static Stitch> {
        let found = Stitch::named(name, Craft::Knit, self.terms).filter(|stitch| **stitch == STOCKING);
        let found = match found {
            Some(found) => Some(found),
            None => self.named(name, craft, place, report)?,
        };
        let Some(found) = found else {
            let message = format!("expected a stitch whose yarn is known, found {name:?}");
            let fault = Diagnostic::new(Code::UnknownName, message, place.clone()).label("its yarn is not known");
            let all = Stitch::all(craft, self.terms).join(", ");
            report.fault(fault.help(format!("known are {all}; or count the gauge in the garment's own stitch")));
            return None;
        };
        if Some(found) != known && *found != STOCKING {
            let own = self.raw.stitch.as_deref().unwrap_or(STOCKING.called(self.terms));
            let stocking = STOCKING.called(self.terms);
            let either = if own == stocking { own.to_owned() } else { format!("{own} or in {stocking}") };
            let message = format!("expected the gauge in {either}, found it in {name}");
            let fault = Diagnostic::new(Code::Contradiction, message, place.clone());
            let fault = fault.label("neither the stitch of the garment nor the one that all are held against");
            report.fault(
                fault
                    .also(self.place.key("stitch"), "the garment's stitch")
                    .help(format!("count a swatch in {own}, and leave `gauge-in` out")),
            );
            return None;
        }
        Some(found)
    }

    /// The gauge of the chosen sample, which is in stocking stitch: the log does not say another.
    fn gauge_of_sample(&self, known: Option<&'static Stitch>) -> Option<(Gauge, Option<&'static Stitch>)> {
        let gauge = self.chosen.and_then(|sample| sample.gauge.clone()).filter(|_| known.is_some())?;
        Some((gauge, Some(&STOCKING)))
    }

    /// The swatch of the chosen sample.
    fn swatch_of_sample(&self, known: Option<&'static Stitch>) -> Option<Swatch> {
        let (size, weight) = self.chosen.and_then(|sample| sample.swatch.clone()).filter(|_| known.is_some())?;
        Some(Swatch { size, yarn: SwatchYarn::Weight(weight), stitch: Some(&STOCKING) })
    }

    /// The swatch of the garment; the outer `None` where it has a fault.
    fn swatch(&self, known: Option<&'static Stitch>, fabric: &Fabric, report: &mut Report) -> Option<Option<Swatch>> {
        let Some(written) = &self.raw.swatch else { return Some(None) };
        let place = self.place.key("swatch");
        if matches!(fabric, Fabric::Woven(_)) {
            let fault = Diagnostic::new(Code::Unused, "a cloth is reckoned by its threads, not by a swatch", place);
            report.fault(
                fault.label("not used").help("write what the swatch told under `loom`: sett, picks, how it shrinks"),
            );
            return Some(None);
        }
        if matches!(fabric, Fabric::Pieces) && self.raw.piece.is_empty() {
            let message = "a swatch leads to the yarn by the area of the garment, which is not said";
            let help = "write `shape` with its measures, its pieces, or `area = \"0.9 m2\"` beside the swatch";
            report.missing(message, self.place.key("area"), help);
            return None;
        }
        swatch(written, &place, known, report).map(Some)
    }

    /// What is known of the fabric; `None` where that has a fault.
    fn fabric(&self, craft: Craft, report: &mut Report) -> Option<Fabric> {
        let (area_key, shape_key) = (self.place.key("area"), self.place.key("shape"));
        if let (Some(_), Some(_)) = (&self.raw.area, self.raw.shape) {
            let fault = Diagnostic::new(Code::Contradiction, "expected a shape or an area, found both", area_key);
            let fault = fault.label("leads to a second area").also(shape_key, "the shape has an area of its own");
            report.fault(fault.help("keep the shape; any of its measures can be said under `measures`"));
            return None;
        }
        if craft == Craft::Weave && self.raw.loom.is_some() {
            return loom::loom(self.raw, &self.place, self.system, report).map(|loom| Fabric::Woven(Box::new(loom)));
        }
        if self.raw.loom.is_some() {
            report.fault(of_another_craft(self.place.key("loom"), "a loom is asked for in weaving alone", "weave"));
        }
        if let Some(shape) = self.raw.shape {
            return worn::shaped(self.raw, shape, craft, &self.place, self.system, report).map(Fabric::Shaped);
        }
        worn::check_unused(self.raw, &self.place, report);
        match &self.raw.area {
            Some(written) => reading(written, &area_key, &limits::GARMENT_AREA, report).map(Fabric::Area),
            None => Some(Fabric::Pieces),
        }
    }

    fn counts(&self, report: &mut Report) -> bool {
        match self.raw.counts {
            Some(counts) => counts == raw::Counts::Rows,
            None => {
                if self.raw.shape.is_some() {
                    report.assume(&defaults::COUNTS, self.place.key(defaults::COUNTS.key), self.system);
                }
                false
            }
        }
    }

    /// The repeat; the outer `None` where it has a fault.
    fn repeat(&self, report: &mut Report) -> Option<Option<(Reading<Count>, Reading<Count>)>> {
        let (of, plus) = (self.place.key("multiple-of"), self.place.key("plus"));
        let Some(written) = self.raw.multiple_of else {
            if self.raw.plus.is_some() && !report.was_refused(&of) {
                report.missing("stitches beside a repeat are said, but no repeat", of, "write `multiple-of = 4`");
                return None;
            }
            return Some(None);
        };
        let n = whole(written, &of, "stitches in a repeat", 1..=limits::MOST_IN_A_REPEAT, report)?;
        if let Some(more) = self.raw.plus.filter(|more| *more >= written) {
            let message = format!("expected fewer stitches beside the repeats than the {written} of one, found {more}");
            let fault = Diagnostic::new(Code::Implausible, message, plus).label("as many as a repeat, or more");
            report.fault(fault.also(of, "one repeat").help(format!("write `plus = {}`", more % written.max(1))));
            return None;
        }
        let more =
            whole(self.raw.plus.unwrap_or(0), &plus, "stitches beside it", 0..=limits::MOST_IN_A_REPEAT, report)?;
        Some(Some((counted(n, of), counted(more, plus))))
    }

    /// The fringe; the outer `None` where it has a fault.
    fn fringe(&self, craft: Craft, report: &mut Report) -> Option<Option<Fringe>> {
        let Some(raw) = &self.raw.fringe else { return Some(None) };
        let place = self.place.key("fringe");
        if craft == Craft::Weave {
            let fault = Diagnostic::new(Code::Contradiction, "expected the fringe of a cloth under its loom", place);
            report.fault(
                fault.label("knotted in afterwards").help("write `loom.fringe = \"15 cm\"`: it is warp that is left"),
            );
            return None;
        }
        let mut count = |written: Option<i64>, key: &str, example: &str| {
            let place = place.key(key);
            let Some(written) = written else {
                report.missing(
                    format!("the {key} of the fringe are not said"),
                    place,
                    format!("write `{key} = {example}`"),
                );
                return None;
            };
            whole(written, &place, &format!("{key} of a fringe"), 1..=limits::MOST_IN_A_FRINGE, report)
                .map(|n| counted(n, place))
        };
        let (bundles, strands) = (count(raw.bundles, "bundles", "32"), count(raw.strands, "strands", "4"));
        if raw.cut.is_none() {
            report.missing("how long a strand is cut is not said", place.key("cut"), "write `cut = \"30 cm\"`");
        }
        let cut = optional(raw.cut.as_ref(), &place.key("cut"), &limits::CUT_STRAND, report);
        Some(Some(Fringe { bundles: bundles?, strands: strands?, cut: cut? }))
    }

    /// Notes pieces without a ply plan beside those that name one: then all of the yarn is taken as one.
    fn check_ply_plans(&self, garment: &Garment, report: &mut Report) {
        let is_trim = |name: &str| {
            self.plan.trim.iter().any(|(own, trim)| {
                trim.garment.as_deref() == Some(garment.name.as_str()) && trim.piece.as_deref().unwrap_or(own) == name
            })
        };
        let of_shape = match &garment.fabric {
            Fabric::Shaped(shaped) => shaped.pieces(),
            Fabric::Area(_) | Fabric::Pieces | Fabric::Woven(_) => Vec::new(),
        };
        let named = garment.pieces.iter().find(|piece| piece.ply_plan.is_some());
        let own = garment.pieces.iter().filter(|piece| piece.outline.is_some()).map(|piece| piece.name.as_str());
        let has = |name: &str| garment.piece(name).is_some_and(|(_, piece)| piece.ply_plan.is_some());
        let unnamed: Vec<&str> = of_shape.into_iter().chain(own).filter(|name| !has(name) && !is_trim(name)).collect();
        if let (Some(named), true, true) = (named, self.plan.ply_plan.len() > 1, !unnamed.is_empty()) {
            let message =
                format!("the yarn of the {} is taken as one: not every piece names its ply plan", garment.name);
            let fault = Diagnostic::new(Code::Unused, message, named.place.key("ply-plan")).label("this one does");
            report.fault(fault.help(format!("say `ply-plan` of {} as well, or of none", unnamed.join(", "))));
        }
    }

    /// Notes stitches and rows that are asked for where nothing is worked by them.
    fn check_counted(&self, garment: &Garment, report: &mut Report) {
        let has_edges = match garment.fabric {
            Fabric::Shaped(_) | Fabric::Woven(_) => true,
            Fabric::Area(_) | Fabric::Pieces => garment.pieces.iter().any(|piece| piece.outline.is_some()),
        };
        let is_cloth = matches!(garment.fabric, Fabric::Woven(_));
        for (is_said, key, is_used) in [
            (self.raw.counts.is_some(), "counts", has_edges && !is_cloth),
            (self.raw.multiple_of.is_some(), "multiple-of", has_edges),
        ] {
            if is_said && !is_used {
                let message = format!("`{key}` leads nowhere: no piece of the {} is told by its edges", garment.name);
                let fault = Diagnostic::new(Code::Unused, message, self.place.key(key)).label("not used");
                report.fault(fault.help("say its shape or its pieces, or take it out"));
            }
        }
        let is_stated_alone = has_edges || matches!(garment.fabric, Fabric::Area(_));
        if garment.fringe.is_some() && !is_stated_alone {
            let message = "the length that a pattern states holds its fringe already";
            let fault = Diagnostic::new(Code::Unused, message, self.place.key("fringe")).label("not used");
            report.fault(fault.help("take it out; or say the shape, and the fringe is reckoned beside it"));
        }
    }

    /// Notes where no way leads to the length of yarn; whether one does.
    fn check_ways(&self, garment: &Garment, report: &mut Report) -> bool {
        let has_fabric = match &garment.fabric {
            Fabric::Woven(_) => return true,
            Fabric::Area(_) | Fabric::Shaped(_) => true,
            Fabric::Pieces => !garment.pieces.is_empty(),
        };
        let by_fabric = has_fabric && (garment.swatch.is_some() || garment.known.is_some());
        if by_fabric || garment.stated.is_some() {
            return true;
        }
        // What is written and cannot be read is told of there.
        if report.was_refused(&self.place) || self.raw.length.is_some() {
            return false;
        }
        if has_fabric {
            self.needs_swatch(garment.craft, report);
        } else {
            self.no_way(report);
        }
        false
    }

    fn no_way(&self, report: &mut Report) {
        let help = if self.raw.gauge.is_some() {
            "the gauge needs a fabric: `shape = \"hat\"` with `body = { head = \"57 cm\" }`, or `area = \"0.9 m2\"`;\n\
             or write the length that the pattern states: `length = \"1150 m\"`"
        } else {
            "write the length that the pattern states: `length = \"1150 m\"`; or a shape and a gauge:\n\
             shape = \"raglan pullover\"\nbody = { whom = \"woman\", chest = \"102 cm\" }\n\
             gauge = \"19 st, 26 rows / 10 cm\""
        };
        let message = "how much yarn the garment takes cannot be found";
        let fault = Diagnostic::new(Code::NoWayToLength, message, self.place.clone());
        report.fault(fault.label("no length, no shape, no pieces, no area").help(help));
    }

    fn needs_swatch(&self, craft: Craft, report: &mut Report) {
        let what = match (craft, &self.raw.stitch) {
            (_, Some(stitch)) => format!("{stitch:?}"),
            (Craft::Crochet, None) => "crochet in no stitch that is named".to_owned(),
            (Craft::Knit | Craft::Weave, None) => "cloth".to_owned(),
        };
        let at = if self.raw.stitch.is_some() { self.place.key("stitch") } else { self.place.clone() };
        let message = format!("how much yarn {what} takes does not follow from the fabric");
        let known = Stitch::all(craft, self.terms);
        let known = if known.is_empty() {
            "for a cloth write `loom = { sett = \"10 epi\" }` and its `measures`".to_owned()
        } else {
            format!("known are {}", known.join(", "))
        };
        let fault = Diagnostic::new(Code::StitchNeedsSwatch, message, at).label("its yarn is not known");
        report.fault(fault.help(format!(
            "work a swatch in it, and write\n\
             swatch = {{ size = \"15 x 15 cm\", weight = \"6.1 g\" }}\nor a stated `length`; {known}"
        )));
    }
}

fn swatch(
    raw: &raw::GarmentSwatch,
    place: &Place,
    stitch: Option<&'static Stitch>,
    report: &mut Report,
) -> Option<Swatch> {
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
    Some(Swatch { size: size?, yarn: yarn?, stitch })
}
