//! `[yarn]`: what is aimed at, in washed yarn, and what is lost on the way there.

use super::construction::{Made, direction, directions};
use super::matching;
use super::reading::{default, optional, or_default, reading, unnoted_default};
use super::report::Report;
use super::{defaults, finish, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Agitation, Construction, Direction, Reading, Yarn};
use crate::syntax::raw;
use crate::units::format::{significant, with_unit};
use crate::units::{Angle, Kind, LinearDensity, Share, System, Twist, Unit, Wraps, unit};

/// The yarn, `None` if it has a fault.
pub(super) fn yarn(
    plan: &raw::Plan,
    log: &raw::Log,
    made: Option<&Made>,
    system: System,
    report: &mut Report,
) -> Option<Yarn> {
    let Some(raw) = &plan.yarn else {
        report.missing(
            "the plan has no yarn",
            Place::plan("yarn"),
            "write what you want to spin:\n[yarn]\nplies = 2\nwraps = \"10 wpi\"",
        );
        return None;
    };
    let place = Place::plan("yarn");
    let construction = made.map(|made| &made.construction);
    let singles_twist = singles_twist(raw, system, report);
    let plied_twist = directions(raw, singles_twist, construction, report);
    let wraps = optional(raw.wraps.as_ref(), &place.key("wraps"), &limits::TARGET_WRAPS, report);
    let grist = optional(raw.grist.as_ref(), &place.key("grist"), &limits::TARGET_GRIST, report);
    check_aim(plan, raw, log, wraps.as_ref(), grist.as_ref(), report);
    let matched = matching::matched(raw, made.map(|made| &made.plies), system, report);
    let says_twist = matched.as_ref().is_some_and(|matched| matching::says_twist(matched, made));
    let is_twist_sampled = log.sample.iter().any(measures_twist) || says_twist;
    let twists = twists(raw, construction, is_twist_sampled, system, report)?;
    let plying_shortens =
        or_default(raw.plying_shortens.as_ref(), &defaults::PLYING_SHORTENS, &limits::PLYING_SHORTENS, system, report);
    let is_cabled = construction.is_some_and(|made| made.strands().is_some());
    let cabling_shortens = cabling_shortens(raw, is_cabled, system, report);
    let is_fulled = finish::agitation(plan) == Some(Agitation::Fulled);
    let usual = if is_fulled { &defaults::WASH_SHORTENS_FULLED } else { &defaults::WASH_SHORTENS };
    let wash_shortens = or_default(raw.wash_shortens.as_ref(), usual, &limits::WASH_SHORTENS, system, report);
    let winding_stretch =
        or_default(raw.winding_stretch.as_ref(), &defaults::WINDING_STRETCH, &limits::WINDING_STRETCH, system, report);
    let wash_lightens =
        or_default(raw.wash_lightens.as_ref(), &defaults::WASH_LIGHTENS, &limits::WASH_LIGHTENS, system, report);
    let waste = or_default(raw.waste.as_ref(), &defaults::WASTE, &limits::WASTE, system, report);
    Some(Yarn {
        plies: made?.plies.clone(),
        construction: made?.construction.clone(),
        singles_twist,
        plied_twist,
        wraps,
        grist,
        ply_twist: twists.ply,
        cable_twist: twists.cable,
        angle: twists.angle,
        strand_angle: twists.strand_angle,
        plying_shortens: plying_shortens?,
        cabling_shortens: cabling_shortens?,
        wash_shortens: wash_shortens?,
        winding_stretch: winding_stretch?,
        wash_lightens: wash_lightens?,
        waste: waste?,
        matched,
    })
}

fn singles_twist(raw: &raw::Yarn, system: System, report: &mut Report) -> Direction {
    raw.singles_twist.map(direction).unwrap_or_else(|| {
        report.assume(&defaults::SINGLES_TWIST, Place::plan(defaults::SINGLES_TWIST.key), system);
        Direction::Z
    })
}

/// Something has to say how thick the yarn is; where two entries do, they have to be of one yarn.
fn check_aim(
    plan: &raw::Plan,
    raw: &raw::Yarn,
    log: &raw::Log,
    wraps: Option<&Reading<Wraps>>,
    grist: Option<&Reading<LinearDensity>>,
    report: &mut Report,
) {
    let is_told_by_plies = plan.ply_plan.iter().any(all_have_grist);
    let ball = raw.matched.as_ref().and_then(|matched| matched.ball.as_ref()).map(|_| Place::plan("yarn.match.ball"));
    if is_told_by_plies && let Some(said) = grist.map(|grist| grist.place.clone()).or(ball) {
        let fault = Diagnostic::new(
            Code::Contradiction,
            "expected the grist of the yarn or of all its plies, found both",
            said,
        );
        report.fault(
            fault
                .label("says again what the plies say")
                .help("take it out, or take the `grist` out of those plies that shall carry the rest"),
        );
    }
    let is_told = raw.wraps.is_some() || raw.grist.is_some() || raw.matched.is_some() || is_told_by_plies;
    if !is_told && !log.sample.iter().any(measures_thickness) {
        let help =
            "write `wraps = \"11 wpi\"`, or `grist = \"205 m/100 g\"`, or choose a sample that measured one of them";
        report.missing("how thick the yarn is to be is not said", Place::plan("yarn"), help);
    }
    if let (Some(wraps), Some(grist)) = (wraps, grist) {
        check_loft(wraps, grist, report);
    }
}

/// Whether every ply has a grist of its own, which together are that of the yarn.
fn all_have_grist(plan: &raw::PlyPlan) -> bool {
    !plan.plies.is_empty() && plan.plies.iter().all(|ply| ply.grist.is_some())
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
    [&skein.ply_twist, &skein.cable_twist, &skein.angle].into_iter().flatten().any(|readings| !readings.0.is_empty())
}

/// K = wraps per inch / √(yards per pound), of wraps in 1/m and weight per length in g/m.
pub(super) fn loft_of(wraps: f64, density: f64) -> f64 {
    let unit = unit(Kind::Loft, "wpi/√(yd/lb)").expect("invariant: the unit of K is in its table");
    unit.from_base(wraps * density.sqrt())
}

/// Wraps and grist set K = wraps per inch / √(yards per pound), which is alike in all yarns that can be spun.
fn check_loft(wraps: &Reading<Wraps>, grist: &Reading<LinearDensity>, report: &mut Report) {
    let k = loft_of(wraps.value, grist.value);
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

/// What of twist and angle is said, or taken for want of it.
#[derive(Default)]
struct Twists {
    ply: Option<Reading<Twist>>,
    cable: Option<Reading<Twist>>,
    angle: Option<Reading<Angle>>,
    strand_angle: Option<Reading<Angle>>,
}

/// The twist of the last plying or its angle, the default angle where neither is said; of a cabled yarn the twist of its
/// strands beside it. `None` if what is said has a fault.
fn twists(
    raw: &raw::Yarn,
    construction: Option<&Construction>,
    is_sampled: bool,
    system: System,
    report: &mut Report,
) -> Option<Twists> {
    let place = Place::plan("yarn");
    let is_cabled = construction.is_some_and(|made| made.strands().is_some());
    if let Some(key) = raw.cable_twist.as_ref().filter(|_| !is_cabled).map(|_| place.key("cable-twist")) {
        let fault = Diagnostic::new(Code::Unused, "the yarn is not cabled", key).label("not used");
        report.fault(fault.help("write `cabled = 2` to cable two plied strands, or take it out"));
    }
    let usual =
        if matches!(construction, Some(Construction::Singles)) { &defaults::SINGLES_ANGLE } else { &defaults::ANGLE };
    let (last, key) = if is_cabled { (&raw.cable_twist, "cable-twist") } else { (&raw.ply_twist, "ply-twist") };
    let (twist, angle) = twist_or_angle(last.as_ref(), key, raw, usual, is_sampled, system, report)?;
    if !is_cabled {
        return Some(Twists { ply: twist, angle, ..Twists::default() });
    }
    let ply = match &raw.ply_twist {
        Some(written) => Some(reading(written, &place.key("ply-twist"), &limits::TARGET_TWIST, report)?),
        None => None,
    };
    let strand_angle = ply
        .is_none()
        .then(|| default(&defaults::STRAND_ANGLE, Place::plan(defaults::STRAND_ANGLE.key), system, report));
    Some(Twists { ply, cable: twist, angle, strand_angle })
}

type Aim = (Option<Reading<Twist>>, Option<Reading<Angle>>);

fn twist_or_angle(
    written: Option<&raw::Quantity>,
    key: &str,
    raw: &raw::Yarn,
    usual: &'static defaults::Assumption,
    is_sampled: bool,
    system: System,
    report: &mut Report,
) -> Option<Aim> {
    let place = Place::plan("yarn");
    let (twist, angle) = (place.key(key), place.key("angle"));
    match (written, &raw.angle) {
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
        (None, None) if is_sampled => Some((None, Some(unnoted_default(usual, angle, system)))),
        (None, None) => Some((None, Some(default(usual, angle, system, report)))),
    }
}

/// Length that strands lose in cabling; without effect, and said so, where nothing is cabled.
fn cabling_shortens(raw: &raw::Yarn, is_cabled: bool, system: System, report: &mut Report) -> Option<Reading<Share>> {
    let place = Place::plan(defaults::CABLING_SHORTENS.key);
    if is_cabled {
        return or_default(
            raw.cabling_shortens.as_ref(),
            &defaults::CABLING_SHORTENS,
            &limits::CABLING_SHORTENS,
            system,
            report,
        );
    }
    if raw.cabling_shortens.is_some() {
        let fault = Diagnostic::new(Code::Unused, "the yarn is not cabled", place.clone()).label("not used");
        report.fault(fault.help("write `cabled = 2` to cable two plied strands, or take it out"));
    }
    Some(unnoted_default(&defaults::CABLING_SHORTENS, place, system))
}
