//! `[wheel]` and `[plying]`: whorls, draw, bobbins, and what the singles are plied on.

use super::defaults::Assumption;
use super::limits::Measure;
use super::names;
use super::reading::{counted, optional, or_default, reading_of_text, unnoted_default, whole};
use super::report::Report;
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Draw, Fill, Order, Origin, Plying, Reading, Wheel, Whorl};
use crate::syntax::raw;
use crate::units::{Length, Mass, Ratio, System};

/// The wheel, `None` if it has a fault.
pub(super) fn wheel(plan: &raw::Plan, system: System, report: &mut Report) -> Option<Wheel> {
    let none = raw::Wheel::default();
    let raw = plan.wheel.as_ref().unwrap_or(&none);
    let place = Place::plan("wheel");
    if raw.drive.is_none() {
        report.assume(&defaults::DRIVE, Place::plan(defaults::DRIVE.key), system);
    }
    let whorls = whorls(raw, report);
    let draw = draw_or_default(raw, system, report);
    check_draw(raw, draw, &place, report);
    let length_per_treadle =
        wish(raw.length_per_treadle.as_ref(), &LENGTH_PER_TREADLE, !draw.counts_treadles(), system, report);
    let draft = wish(raw.draft.as_ref(), &DRAFT, draw.counts_treadles(), system, report);
    let bobbin_holds =
        or_default(raw.bobbin_holds.as_ref(), &defaults::BOBBIN_HOLDS, &limits::BOBBIN_HOLDS, system, report);
    let owned = place.key("bobbins-owned");
    let bobbins_owned = raw.bobbins_owned.and_then(|number| {
        Some(counted(whole(number, &owned, "a number of bobbins", 1..=limits::MOST_BOBBINS, report)?, owned))
    });
    let storage = place.key("storage-bobbins");
    let storage_bobbins = raw.storage_bobbins.and_then(|number| {
        let number = whole(number, &storage, "a number of storage bobbins", 0..=limits::MOST_BOBBINS, report)?;
        Some(counted(number, storage))
    });
    Some(Wheel {
        storage_bobbins,
        brake: names::text(raw.brake.as_deref(), &place.key("brake"), report),
        bobbin_core: bobbin_core(raw, &place, report),
        whorls: whorls?,
        draw,
        length_per_treadle: length_per_treadle?,
        draft: draft?,
        lead: raw.lead.map(lead),
        bobbin_holds: bobbin_holds?,
        bobbins_owned,
    })
}

/// What is asked for, and what is taken where nothing is said.
type Wish = (&'static Assumption, &'static Measure);
static LENGTH_PER_TREADLE: Wish = (&defaults::LENGTH_PER_TREADLE, &limits::LENGTH_PER_TREADLE);
static DRAFT: Wish = (&defaults::DRAFT, &limits::DRAFT);

/// One of the two lengths by which the twist is set; a default counts as taken only where the draw uses it.
fn wish(
    written: Option<&raw::Quantity>,
    (assumption, measure): &Wish,
    is_in_use: bool,
    system: System,
    report: &mut Report,
) -> Option<Reading<Length>> {
    if written.is_some() || is_in_use {
        return or_default(written, assumption, measure, system, report);
    }
    Some(unnoted_default(assumption, Place::plan(assumption.key), system))
}

/// The wheel as it plies; `wheel` is what has become of the wheel.
pub(super) fn plying(plan: &raw::Plan, wheel: Option<&Wheel>, system: System, report: &mut Report) -> Option<Plying> {
    let none = raw::Plying::default();
    let raw = plan.plying.as_ref().unwrap_or(&none);
    let place = Place::plan("plying");
    let named = raw.whorl.as_deref();
    let found = named.and_then(|name| whorl_named(name, plan, &place.key("whorl"), report));
    let arm = or_default(raw.arm.as_ref(), &defaults::ARM, &limits::ARM, system, report);
    let length_per_treadle = optional(
        raw.length_per_treadle.as_ref(),
        &place.key("length-per-treadle"),
        &limits::LENGTH_PER_TREADLE,
        report,
    );
    let own_bobbin =
        optional::<Mass>(raw.bobbin_holds.as_ref(), &place.key("bobbin-holds"), &limits::BOBBIN_HOLDS, report);
    let wheel = wheel?;
    let whorl = match named {
        Some(_) => found?,
        None => {
            report.assume(&defaults::PLYING_WHORL, Place::plan(defaults::PLYING_WHORL.key), system);
            slowest(&wheel.whorls)
        }
    };
    let bobbin_holds = match (own_bobbin, raw.bobbin_holds.is_some()) {
        (Some(own), _) => own,
        (None, true) => return None,
        (None, false) => {
            report.assume(&defaults::PLYING_BOBBIN_HOLDS, Place::plan(defaults::PLYING_BOBBIN_HOLDS.key), system);
            wheel.bobbin_holds.clone()
        }
    };
    let order = raw.order.map(|written| (order(written), place.key("order")));
    let fill = match raw.fill {
        Some(raw::Fill::SkeinForEachSet) => Fill::SkeinForEachSet,
        Some(raw::Fill::WholeBobbins) => Fill::WholeBobbins,
        None => {
            report.assume(&defaults::FILL, Place::plan(defaults::FILL.key), system);
            Fill::SkeinForEachSet
        }
    };
    Some(Plying { whorl, whorl_given: named.is_some(), arm: arm?, bobbin_holds, length_per_treadle, order, fill })
}

fn order(written: raw::Order) -> Order {
    match written {
        raw::Order::AllFirst => Order::AllFirst,
        raw::Order::SetBySet => Order::SetBySet,
    }
}

/// Index of a whorl of the plan by its name.
pub(super) fn whorl_named(name: &str, plan: &raw::Plan, place: &Place, report: &mut Report) -> Option<usize> {
    let whorls = plan.wheel.as_ref()?.whorls.keys();
    names::find(name, whorls.map(String::as_str), ("whorl", "wheel.whorls"), place, report)
}

/// A draw in the words of the plan.
pub(super) fn draw(written: raw::Draw) -> Draw {
    match written {
        raw::Draw::ShortForward => Draw::ShortForward,
        raw::Draw::Long => Draw::LongDraw,
        raw::Draw::FromTheFold => Draw::FromTheFold,
    }
}

fn whorls(raw: &raw::Wheel, report: &mut Report) -> Option<Vec<Whorl>> {
    const HELP: &str = "write the ratio of each whorl, under names of your own:\n\
         [wheel]\nwhorls = { slow = \"6:1\", fast = \"8.5:1\" }";
    let place = Place::plan("wheel").key("whorls");
    if raw.whorls.is_empty() {
        report.missing("the wheel has no whorls", place, HELP);
        return None;
    }
    if !too_many(raw.whorls.len(), limits::MOST_ENTRIES, "whorls", &place, report) {
        return None;
    }
    let read: Vec<_> =
        raw.whorls.iter().map(|(name, written)| whorl(name, &written.0, place.key(name), report)).collect();
    read.into_iter().collect()
}

fn whorl(name: &str, written: &str, place: Place, report: &mut Report) -> Option<Whorl> {
    let is_named = names::check(name, &place, report);
    let ratio = ratio(written, &place, report)?;
    is_named.then(|| Whorl { name: name.to_owned(), ratio })
}

/// A ratio, after which "measured" may stand where the spinner counted it.
fn ratio(written: &str, place: &Place, report: &mut Report) -> Option<Reading<Ratio>> {
    let Some(number) = written.trim().strip_suffix("measured") else {
        return reading_of_text(written, place, &limits::NOMINAL_RATIO, report);
    };
    let mut ratio = reading_of_text::<Ratio>(number, place, &limits::MEASURED_RATIO, report)?;
    ratio.origin = Origin::Measured;
    ratio.text = written.trim().to_owned();
    Some(ratio)
}

fn draw_or_default(raw: &raw::Wheel, system: System, report: &mut Report) -> Draw {
    raw.draw.map(draw).unwrap_or_else(|| {
        report.assume(&defaults::DRAW, Place::plan(defaults::DRAW.key), system);
        Draw::ShortForward
    })
}

/// Each draw has its own way of setting the twist; an entry for the other one has no effect, which is said.
fn check_draw(raw: &raw::Wheel, draw: Draw, place: &Place, report: &mut Report) {
    let (idle, in_use) =
        if draw.counts_treadles() { ("length-per-treadle", "draft") } else { ("draft", "length-per-treadle") };
    let is_idle = if draw.counts_treadles() { raw.length_per_treadle.is_some() } else { raw.draft.is_some() };
    if is_idle {
        let message = format!("`{idle}` has no effect with the draw {:?}", draw.words());
        let fault = Diagnostic::new(Code::Unused, message, place.key(idle)).label("not used");
        report.fault(fault.help(format!("with this draw, the twist is set by `{in_use}`")));
    }
}

fn slowest(whorls: &[Whorl]) -> usize {
    let by_ratio = whorls.iter().enumerate().min_by(|(_, a), (_, b)| a.ratio.value.total_cmp(&b.ratio.value));
    by_ratio.map_or(0, |(i, _)| i)
}

/// Read and checked, but without effect where the flyer is driven; a driven bobbin is refused as not calculated yet.
fn bobbin_core(raw: &raw::Wheel, place: &Place, report: &mut Report) -> Option<Reading<Length>> {
    let place = place.key("bobbin-core");
    let core = optional(raw.bobbin_core.as_ref(), &place, &limits::BOBBIN_CORE, report)?;
    let fault =
        Diagnostic::new(Code::Unused, "the core of the bobbin changes nothing where the flyer is driven", place);
    report.fault(fault.label("not used").help("leave it out; only a driven bobbin loses a turn at each wrap"));
    Some(core)
}

fn lead(written: raw::Lead) -> &'static str {
    match written {
        raw::Lead::Flyer => "flyer",
        raw::Lead::Bobbin => "bobbin",
        raw::Lead::DoubleDrive => "double drive",
    }
}
