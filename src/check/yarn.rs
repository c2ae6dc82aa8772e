//! `[yarn]`: what is aimed at, in washed yarn, and what is lost on the way there.

use super::reading::{counted, default, optional, or_default, reading, unnoted_default, whole};
use super::report::Report;
use super::{defaults, finish, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Agitation, Direction, Reading, Yarn};
use crate::syntax::raw;
use crate::units::format::{significant, with_unit};
use crate::units::{Angle, Count, Kind, LinearDensity, System, Twist, Unit, Wraps, unit};

/// The yarn, `None` if it has a fault.
pub(super) fn yarn(plan: &raw::Plan, log: &raw::Log, system: System, report: &mut Report) -> Option<Yarn> {
    let Some(raw) = &plan.yarn else {
        report.missing(
            "the plan has no yarn",
            Place::plan("yarn"),
            "write what you want to spin:\n[yarn]\nplies = 2\nwraps = \"10 wpi\"",
        );
        return None;
    };
    let place = Place::plan("yarn");
    let plies = plies(raw, &place, report);
    let singles_twist = singles_twist(raw, system, report);
    let wraps = optional(raw.wraps.as_ref(), &place.key("wraps"), &limits::TARGET_WRAPS, report);
    let grist = optional(raw.grist.as_ref(), &place.key("grist"), &limits::TARGET_GRIST, report);
    check_aim(raw, log, wraps.as_ref(), grist.as_ref(), report);
    let is_twist_sampled = log.sample.iter().any(measures_twist);
    let (ply_twist, angle) = twist(raw, is_twist_sampled, system, report)?;
    let plying_shortens =
        or_default(raw.plying_shortens.as_ref(), &defaults::PLYING_SHORTENS, &limits::PLYING_SHORTENS, system, report);
    let is_fulled = finish::agitation(plan) == Some(Agitation::Fulled);
    let usual = if is_fulled { &defaults::WASH_SHORTENS_FULLED } else { &defaults::WASH_SHORTENS };
    let wash_shortens = or_default(raw.wash_shortens.as_ref(), usual, &limits::WASH_SHORTENS, system, report);
    let winding_stretch =
        or_default(raw.winding_stretch.as_ref(), &defaults::WINDING_STRETCH, &limits::WINDING_STRETCH, system, report);
    let wash_lightens =
        or_default(raw.wash_lightens.as_ref(), &defaults::WASH_LIGHTENS, &limits::WASH_LIGHTENS, system, report);
    let waste = or_default(raw.waste.as_ref(), &defaults::WASTE, &limits::WASTE, system, report);
    Some(Yarn {
        plies: plies?,
        singles_twist,
        wraps,
        grist,
        ply_twist,
        angle,
        plying_shortens: plying_shortens?,
        wash_shortens: wash_shortens?,
        winding_stretch: winding_stretch?,
        wash_lightens: wash_lightens?,
        waste: waste?,
    })
}

fn plies(raw: &raw::Yarn, place: &Place, report: &mut Report) -> Option<Reading<Count>> {
    let Some(written) = raw.plies else {
        report.missing("how many plies the yarn has is not said", place.key("plies"), "write `plies = 2`");
        return None;
    };
    let place = place.key("plies");
    if written == 1 {
        let fault = Diagnostic::new(Code::NotYet, "a yarn of singles cannot be planned yet", place);
        report.fault(fault.label("a single ply").help("write 2 or more plies; singles yarns are of a later release"));
        return None;
    }
    let plies = whole(written, &place, "a number of plies", 2..=limits::MOST_PLIES, report)?;
    Some(counted(plies, place))
}

fn singles_twist(raw: &raw::Yarn, system: System, report: &mut Report) -> Direction {
    match raw.singles_twist {
        Some(raw::Direction::Z) => Direction::Z,
        Some(raw::Direction::S) => Direction::S,
        None => {
            report.assume(&defaults::SINGLES_TWIST, Place::plan(defaults::SINGLES_TWIST.key), system);
            Direction::Z
        }
    }
}

/// Something has to say how thick the yarn is; where two entries do, they have to be of one yarn.
fn check_aim(
    raw: &raw::Yarn,
    log: &raw::Log,
    wraps: Option<&Reading<Wraps>>,
    grist: Option<&Reading<LinearDensity>>,
    report: &mut Report,
) {
    if raw.wraps.is_none() && raw.grist.is_none() && !log.sample.iter().any(measures_thickness) {
        let help =
            "write `wraps = \"11 wpi\"`, or `grist = \"205 m/100 g\"`, or choose a sample that measured one of them";
        report.missing("how thick the yarn is to be is not said", Place::plan("yarn"), help);
    }
    if let (Some(wraps), Some(grist)) = (wraps, grist) {
        check_loft(wraps, grist, report);
    }
}

/// Whether a sample is chosen and says how thick the yarn is.
fn measures_thickness(sample: &raw::Sample) -> bool {
    let Some(skein) = sample.skein.as_ref().filter(|_| sample.chosen == Some(true)) else { return false };
    let has_grist =
        skein.loops.is_some() && skein.weight.is_some() && (skein.one_loop.is_some() || skein.washed_loop.is_some());
    has_grist || skein.wraps.as_ref().is_some_and(|wraps| !wraps.0.is_empty())
}

/// Whether a sample is chosen and says how much twist the yarn has.
fn measures_twist(sample: &raw::Sample) -> bool {
    let Some(skein) = sample.skein.as_ref().filter(|_| sample.chosen == Some(true)) else { return false };
    [&skein.ply_twist, &skein.angle].into_iter().flatten().any(|readings| !readings.0.is_empty())
}

/// Wraps and grist set K = wraps per inch / √(yards per pound), which is alike in all yarns that can be spun.
fn check_loft(wraps: &Reading<Wraps>, grist: &Reading<LinearDensity>, report: &mut Report) {
    let k_unit = unit(Kind::Loft, "wpi/√(yd/lb)").expect("invariant: the unit of K is in its table");
    let k = k_unit.from_base(wraps.value * grist.value.sqrt());
    if limits::LOFT.contains(&k) {
        return;
    }
    let near = if k < *limits::LOFT.start() { *limits::LOFT.start() } else { *limits::LOFT.end() };
    let (k_text, least, most) =
        (significant(k, 3), significant(*limits::LOFT.start(), 2), significant(*limits::LOFT.end(), 2));
    let wraps_that_fit = in_unit(wraps.unit, wraps.value * near / k);
    let grist_that_fits = in_unit(grist.unit, grist.value * (near / k) * (near / k));
    let message = format!("expected wraps and grist of one yarn, found {} with {}", wraps.text, grist.text);
    let fault = Diagnostic::new(Code::WrapsAgainstGrist, message, grist.place.clone())
        .label("this grist")
        .also(wraps.place.clone(), "these wraps");
    let (at_wraps, at_grist) =
        if k > near { ("at most", "at least this fine:") } else { ("at least", "at most this fine:") };
    report.fault(
        fault
            .note(format!("K = wpi / √(yd/lb) is {k_text} here, and between {least} and {most} in yarns that can be spun"))
            .help(format!("with this grist, wraps of {at_wraps} {wraps_that_fit}; or with these wraps, a grist {at_grist} {grist_that_fits}; \
         or leave one of the two out")),
    );
}

/// A value in base units in the unit of the plan, whose kind may be the reciprocal of the value's.
fn in_unit(unit: &Unit, value: f64) -> String {
    let base = if unit.kind == Kind::Yield { 1.0 / value } else { value };
    with_unit(&significant(unit.from_base(base), 3), unit)
}

type Aim = (Option<Reading<Twist>>, Option<Reading<Angle>>);

/// Twist or angle; the default angle where neither is said. `None` if what is said has a fault.
fn twist(raw: &raw::Yarn, is_sampled: bool, system: System, report: &mut Report) -> Option<Aim> {
    let place = Place::plan("yarn");
    let (twist, angle) = (place.key("ply-twist"), place.key("angle"));
    match (&raw.ply_twist, &raw.angle) {
        (Some(_), Some(_)) => {
            let fault = Diagnostic::new(Code::Contradiction, "expected the ply twist or the angle, found both", angle);
            report.fault(
                fault
                    .label("says the twist again")
                    .also(twist, "said here")
                    .help("keep the ply twist, which can be counted; an angle is for comparing samples"),
            );
            None
        }
        (Some(written), None) => Some((Some(reading(written, &twist, &limits::TARGET_TWIST, report)?), None)),
        (None, Some(written)) => Some((None, Some(reading(written, &angle, &limits::TARGET_ANGLE, report)?))),
        (None, None) if is_sampled => Some((None, Some(unnoted_default(&defaults::ANGLE, angle, system)))),
        (None, None) => Some((None, Some(default(&defaults::ANGLE, angle, system, report)))),
    }
}
