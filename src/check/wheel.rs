//! `[wheel]` and `[plying]`: draw, lengths, bobbins, and what the singles are plied on.

use super::defaults::Assumption;
use super::limits::Measure;
use super::machine::{self, Keys};
use super::reading::{counted, optional, or_default, unnoted_default, whole};
use super::report::Report;
use super::{defaults, limits, names};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Draw, Fill, Order, Plying, Reading, Wheel, Whorl};
use crate::syntax::raw;
use crate::units::{Length, Mass, System};

/// The wheel, `None` if it has a fault.
pub(super) fn wheel(plan: &raw::Plan, system: System, report: &mut Report) -> Option<Wheel> {
    let none = raw::Wheel::default();
    let raw = plan.wheel.as_ref().unwrap_or(&none);
    let place = Place::plan("wheel");
    if raw.drive.is_none() {
        report.assume(&defaults::DRIVE, Place::plan(defaults::DRIVE.key), system);
    }
    let keys = Keys::of_wheel(raw);
    let machine = machine::machine(&keys, system, report);
    let draw = draw_or_default(raw, system, report);
    let drive = keys.driven_by();
    let each_treadle = drive == raw::Drive::Treadle && !draw.counts_treadles();
    check_way(raw, drive, draw, &place, report);
    let length_per_treadle = wish(raw.length_per_treadle.as_ref(), &LENGTH_PER_TREADLE, each_treadle, system, report);
    let draft = wish(raw.draft.as_ref(), &DRAFT, !each_treadle, system, report);
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
        machine: machine?,
        draw,
        length_per_treadle: length_per_treadle?,
        draft: draft?,
        bobbin_holds: bobbin_holds?,
        bobbins_owned,
    })
}

/// What is asked for, and what is taken where nothing is said.
type Wish = (&'static Assumption, &'static Measure);
static LENGTH_PER_TREADLE: Wish = (&defaults::LENGTH_PER_TREADLE, &limits::LENGTH_PER_TREADLE);
static DRAFT: Wish = (&defaults::DRAFT, &limits::DRAFT);
static ARM: Wish = (&defaults::ARM, &limits::ARM);

/// One of the lengths by which the twist is set; a default counts as taken only where the draw uses it.
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
    let keys = Keys::of_plying(raw);
    let is_another = keys.say_a_machine() || report.was_refused(&place.key("drive"));
    let drive = if is_another { keys.driven_by() } else { drive_of_wheel(plan) };
    let machine = if is_another {
        machine::machine(&keys, system, report).map(Some)
    } else {
        machine::set_otherwise(&keys, drive, wheel.map(|wheel| &wheel.machine), system, report)
    };
    let named = named_whorl(raw, plan, drive, report);
    let length_per_treadle = each_treadle(raw, drive, &place, report);
    let arm = wish(raw.arm.as_ref(), &ARM, length_per_treadle.is_none(), system, report);
    let own_bobbin =
        optional::<Mass>(raw.bobbin_holds.as_ref(), &place.key("bobbin-holds"), &limits::BOBBIN_HOLDS, report);
    let (wheel, machine) = (wheel?, machine?);
    let whorls = machine.as_ref().unwrap_or(&wheel.machine).whorls();
    let whorl = match named {
        Some(found) => Some(found?),
        None if whorls.is_empty() || length_per_treadle.is_some() => None,
        None => {
            report.assume(&defaults::PLYING_WHORL, Place::plan(defaults::PLYING_WHORL.key), system);
            Some(slowest(whorls))
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
    let whorl_given = named.is_some();
    Some(Plying { machine, whorl, whorl_given, arm: arm?, bobbin_holds, length_per_treadle, order, fill })
}

fn order(written: raw::Order) -> Order {
    match written {
        raw::Order::AllFirst => Order::AllFirst,
        raw::Order::SetBySet => Order::SetBySet,
    }
}

/// What the plan names for plying: nothing, or a whorl, which may be unknown.
fn named_whorl(raw: &raw::Plying, plan: &raw::Plan, drive: raw::Drive, report: &mut Report) -> Option<Option<usize>> {
    let name = raw.whorl.as_deref()?;
    let place = Place::plan("plying").key("whorl");
    if drive != raw::Drive::Treadle {
        report.fault(no_whorl(drive, place));
        return None;
    }
    if raw.whorls.is_empty() {
        return Some(whorl_named(name, plan, &place, report));
    }
    let own = raw.whorls.keys().map(String::as_str);
    Some(names::find(name, own, ("whorl", "plying.whorls"), &place, report))
}

/// The length wished at each treadle of plying, where there is a treadle.
fn each_treadle(raw: &raw::Plying, drive: raw::Drive, place: &Place, report: &mut Report) -> Option<Reading<Length>> {
    let key = place.key("length-per-treadle");
    let wish = optional(raw.length_per_treadle.as_ref(), &key, &limits::LENGTH_PER_TREADLE, report)?;
    if drive != raw::Drive::Treadle {
        report.fault(no_treadle(drive, key, "arm"));
        return None;
    }
    if raw.arm.is_some() {
        let message = "`arm` has no effect beside `length-per-treadle`";
        let fault = Diagnostic::new(Code::Unused, message, place.key("arm")).label("not used");
        report.fault(fault.help("the twist is set by one of them: leave the other out"));
    }
    Some(wish)
}

/// What turns the wheel of the plan.
fn drive_of_wheel(plan: &raw::Plan) -> raw::Drive {
    plan.wheel.as_ref().map_or(raw::Drive::Treadle, |wheel| Keys::of_wheel(wheel).driven_by())
}

/// Index of a whorl of the wheel by its name.
fn whorl_named(name: &str, plan: &raw::Plan, place: &Place, report: &mut Report) -> Option<usize> {
    let whorls = plan.wheel.as_ref()?.whorls.keys();
    names::find(name, whorls.map(String::as_str), ("whorl", "wheel.whorls"), place, report)
}

/// The whorl that a sample names: `Some(None)` where the wheel has none to name, `None` if it is unknown.
pub(super) fn whorl_of_sample(
    name: &str,
    plan: &raw::Plan,
    place: &Place,
    report: &mut Report,
) -> Option<Option<usize>> {
    let drive = drive_of_wheel(plan);
    if drive != raw::Drive::Treadle {
        report.fault(no_whorl(drive, place.clone()));
        return Some(None);
    }
    whorl_named(name, plan, place, report).map(Some)
}

fn no_whorl(drive: raw::Drive, place: Place) -> Diagnostic {
    let message = format!("a whorl changes nothing on {}", machine::words(drive));
    Diagnostic::new(Code::Unused, message, place)
        .label("not used")
        .help("leave it out; only where feet turn the wheel does a whorl say how often the flyer turns")
}

fn no_treadle(drive: raw::Drive, place: Place, in_use: &str) -> Diagnostic {
    let message = format!("`length-per-treadle` has no effect on {}", machine::words(drive));
    Diagnostic::new(Code::Unused, message, place).label("no treadle to press").help(format!(
        "there, the twist is set by `{in_use}` and by counted {}",
        if drive == raw::Drive::Electric { "seconds" } else { "turns" }
    ))
}

/// A draw in the words of the plan.
pub(super) fn draw(written: raw::Draw) -> Draw {
    match written {
        raw::Draw::ShortForward => Draw::ShortForward,
        raw::Draw::Long => Draw::LongDraw,
        raw::Draw::FromTheFold => Draw::FromTheFold,
    }
}

fn draw_or_default(raw: &raw::Wheel, system: System, report: &mut Report) -> Draw {
    raw.draw.map(draw).unwrap_or_else(|| {
        report.assume(&defaults::DRAW, Place::plan(defaults::DRAW.key), system);
        Draw::ShortForward
    })
}

/// Each way of setting the twist has its own length; an entry for the other one has no effect, which is said.
fn check_way(raw: &raw::Wheel, drive: raw::Drive, draw: Draw, place: &Place, report: &mut Report) {
    if drive != raw::Drive::Treadle {
        if raw.length_per_treadle.is_some() {
            report.fault(no_treadle(drive, place.key("length-per-treadle"), "draft"));
        }
        return;
    }
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
