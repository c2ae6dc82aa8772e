//! `[garment.*.loom]`: a cloth by its threads, and its size when finished.

use super::reading::{counted, default, optional, reading, whole};
use super::report::Report;
use super::{defaults, limits, worn};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Loom;
use crate::plan::shape::Shape;
use crate::syntax::raw;
use crate::units::{Share, System};

/// The cloth; `None` where it has a fault.
pub(super) fn loom(raw: &raw::Garment, place: &Place, system: System, report: &mut Report) -> Option<Loom> {
    let loom = raw.loom.as_ref()?;
    let at = place.key("loom");
    let shape = raw.shape.map_or(Shape::Blanket, worn::shape);
    let is_cloth = worn::check_craft(shape, crate::plan::Craft::Weave, &place.key("shape"), report);
    let (width, length) = size(raw, place, report);
    let sett = optional(loom.sett.as_ref(), &at.key("sett"), &limits::SETT, report);
    let assumption = match raw.stitch.as_deref().map(str::trim).map(str::to_lowercase).as_deref() {
        Some("twill" | "twill weave" | "2/2 twill") => &defaults::SETT_TWILL,
        _ => &defaults::SETT_PLAIN,
    };
    let ends_to_a_wrap = if loom.sett.is_some() {
        super::reading::unnoted_default(assumption, at.key("sett"), system)
    } else {
        default(assumption, at.key("sett"), system, report)
    };
    let picks = optional(loom.picks.as_ref(), &at.key("picks"), &limits::PICKS, report);
    if loom.picks.is_none() {
        report.assume(&defaults::PICKS, at.key("picks"), system);
    }
    let mut share = |written: &Option<raw::Quantity>, key: &str, assumption, limits| match written {
        Some(written) => reading::<Share>(written, &at.key(key), limits, report),
        None => Some(default(assumption, at.key(key), system, report)),
    };
    let take_up = share(&loom.take_up, "take-up", &defaults::TAKE_UP, &limits::TAKE_UP);
    let weft_take_up = share(&loom.weft_take_up, "weft-take-up", &defaults::WEFT_TAKE_UP, &limits::WEFT_TAKE_UP);
    let draw_in = share(&loom.draw_in, "draw-in", &defaults::DRAW_IN, &limits::DRAW_IN);
    let length_shrinks =
        share(&loom.length_shrinks, "length-shrinks", &defaults::LENGTH_SHRINKS, &limits::LENGTH_SHRINKS);
    let width_shrinks = share(&loom.width_shrinks, "width-shrinks", &defaults::WIDTH_SHRINKS, &limits::WIDTH_SHRINKS);
    let waste = match &loom.waste {
        Some(written) => reading(written, &at.key("waste"), &limits::LOOM_WASTE, report),
        None => Some(default(&defaults::LOOM_WASTE, at.key("waste"), system, report)),
    };
    // None at all is exact, whatever the usual width.
    let waste = waste.map(|mut waste: crate::plan::Reading<crate::units::Length>| {
        if waste.value == 0.0 {
            waste.uncertainty = 0.0;
        }
        waste
    });
    let fringe = optional(loom.fringe.as_ref(), &at.key("fringe"), &limits::WARP_FRINGE, report);
    let count =
        whole(loom.count.unwrap_or(1), &at.key("count"), "a number of cloths", 1..=limits::MOST_ON_A_WARP, report);
    Some(Loom {
        width: is_cloth.then_some(width?)?,
        length: length?,
        sett,
        ends_to_a_wrap,
        picks,
        take_up: take_up?,
        weft_take_up: weft_take_up?,
        draw_in: draw_in?,
        length_shrinks: length_shrinks?,
        width_shrinks: width_shrinks?,
        waste: waste?,
        fringe,
        count: counted(count?, at.key("count")),
    })
}

type Size = (Option<crate::plan::Reading<crate::units::Length>>, Option<crate::plan::Reading<crate::units::Length>>);

/// Width and length when finished; any other measure is not one of a cloth.
fn size(raw: &raw::Garment, place: &Place, report: &mut Report) -> Size {
    let at = place.key("measures");
    let measures = raw.measures.clone().unwrap_or_default();
    for measure in worn::all_measures() {
        if measures.get(measure.key()).is_some() && !matches!(measure.key(), "width" | "length") {
            let message = format!("a cloth has a width and a length, and no {}", measure.key());
            let fault = Diagnostic::new(Code::Unused, message, at.key(measure.key())).label("not used");
            report.fault(fault.help("take it out"));
        }
    }
    let mut one = |key: &str, example: &str| {
        let written = measures.get(key);
        if written.is_none() {
            let message = format!("the {key} of the finished cloth is not said");
            report.missing(message, at.key(key), format!("write `measures = {{ {key} = {example} }}`"));
        }
        optional(written, &at.key(key), &limits::MEASURE, report)
    };
    (one("width", "\"100 cm\""), one("length", "\"150 cm\""))
}
