//! `[yarn.match]`: a yarn in hand that is to be matched, by what can be read off it.

use super::construction::Made;
use super::names;
use super::reading::{counted, optional, whole};
use super::report::Report;
use super::yarn::loft_of;
use super::{defaults, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Keep, Match, Reading};
use crate::syntax::raw;
use crate::units::format::{significant, with_unit};
use crate::units::{Count, Length, Mass, System, Wraps};

/// The yarn in hand; `None` where the plan names none or what it says has a fault. `plies` are those of the yarn.
pub(super) fn matched(
    yarn: &raw::Yarn,
    plies: Option<&Reading<Count>>,
    system: System,
    report: &mut Report,
) -> Option<Match> {
    let raw = yarn.matched.as_ref()?;
    let place = Place::plan("yarn.match");
    check_alone(yarn, &place, report);
    if raw.wraps.is_none() && raw.ball.is_none() {
        let help = "write `wraps = \"10 wpi\"`, or `ball = { length = \"200 m\", weight = \"100 g\" }`, or both";
        let key = if report.was_refused(&place.key("ball")) { "ball" } else { "wraps" };
        report.missing("how thick the yarn in hand is, is not said", place.key(key), help);
    }
    let own_plies = match raw.plies {
        None => plies.map(|plies| counted(plies.value as u32, place.key("plies"))),
        Some(written) => {
            let key = place.key("plies");
            whole(written, &key, "a number of plies", 1..=limits::MOST_PLIES, report).map(|plies| counted(plies, key))
        }
    }?;
    let wraps = optional(raw.wraps.as_ref(), &place.key("wraps"), &limits::MATCH_WRAPS, report);
    let ball = ball(raw, &place, report);
    if let (Some(wraps), Some(ball)) = (&wraps, &ball) {
        check_loft(wraps, ball, report);
    }
    check_twist(raw, &own_plies, plies, &place, report);
    Some(Match {
        name: names::text(raw.name.as_deref(), &place.key("name"), report),
        plies: own_plies,
        ply_twist: optional(raw.ply_twist.as_ref(), &place.key("ply-twist"), &limits::MATCH_TWIST, report),
        angle: optional(raw.angle.as_ref(), &place.key("angle"), &limits::MATCH_ANGLE, report),
        keep: keep(raw, &place, system, report),
        wraps,
        ball,
        place,
    })
}

/// A yarn in hand stands in place of wishes, not beside them.
fn check_alone(yarn: &raw::Yarn, place: &Place, report: &mut Report) {
    let wishes =
        [("wraps", &yarn.wraps), ("grist", &yarn.grist), ("ply-twist", &yarn.ply_twist), ("angle", &yarn.angle)];
    let wishes = wishes.into_iter().chain([("cable-twist", &yarn.cable_twist)]);
    for (key, _) in wishes.filter(|(_, wish)| wish.is_some()) {
        let message = format!("expected a yarn in hand or wishes of your own, found {key} beside `[yarn.match]`");
        let fault = Diagnostic::new(Code::Contradiction, message, Place::plan("yarn").key(key))
            .label("a wish of your own")
            .also(place.clone(), "the yarn in hand");
        report.fault(fault.help(format!("leave out `{key}`, or leave out `[yarn.match]`")));
    }
}

/// Whether a yarn in hand says a twist that a yarn so made can be spun to.
pub(super) fn says_twist(matched: &Match, made: Option<&Made>) -> bool {
    let is_like = made.is_some_and(|made| is_plied(&made.plies) == is_plied(&matched.plies));
    is_like && (matched.ply_twist.is_some() || matched.angle.is_some())
}

fn is_plied(plies: &Reading<Count>) -> bool {
    plies.value >= 2.0
}

/// Length and weight, which say something only together.
fn ball(raw: &raw::Match, place: &Place, report: &mut Report) -> Option<(Reading<Length>, Reading<Mass>)> {
    let ball = raw.ball.as_ref()?;
    let place = place.key("ball");
    let help = "write `ball = { length = \"200 m\", weight = \"100 g\" }`";
    match (&ball.length, &ball.weight) {
        (Some(_), Some(_)) => {}
        (None, None) => {
            report.missing("how long the yarn in the ball is and what it weighs is not said", place.clone(), help);
        }
        (None, Some(_)) => report.missing("how long the yarn in the ball is, is not said", place.key("length"), help),
        (Some(_), None) => report.missing("what the ball weighs is not said", place.key("weight"), help),
    }
    let length = optional(ball.length.as_ref(), &place.key("length"), &limits::BALL_LENGTH, report);
    let weight = optional(ball.weight.as_ref(), &place.key("weight"), &limits::BALL_WEIGHT, report);
    length.zip(weight)
}

/// A yarn in hand is a yarn: its wraps and its ball give a loft that yarns have.
fn check_loft(wraps: &Reading<Wraps>, (length, weight): &(Reading<Length>, Reading<Mass>), report: &mut Report) {
    let k = loft_of(wraps.value, weight.value / length.value);
    if limits::LOFT.contains(&k) {
        return;
    }
    let (least, most) = (*limits::LOFT.start(), *limits::LOFT.end());
    // A hundredth inside the bounds, so that what is advised is inside of them once it is rounded.
    let (near, bound, at_wraps, at_length) = if k < least {
        (least * 1.01, "below", "at least", "at most")
    } else {
        (most * 0.99, "above", "at most", "at least")
    };
    let wraps_that_fit = with_unit(&significant(wraps.unit.from_base(wraps.value * near / k), 3), wraps.unit);
    let length_that_fits =
        with_unit(&significant(length.unit.from_base(length.value * (k / near) * (k / near)), 3), length.unit);
    let message =
        format!("expected wraps and ball of one yarn, found {} with {} of {}", wraps.text, length.text, weight.text);
    report.fault(
        Diagnostic::new(Code::WrapsAgainstGrist, message, Place::plan("yarn.match.ball"))
            .label("this ball")
            .also(wraps.place.clone(), "these wraps")
            .note(format!(
                "K = wpi / √(yd/lb) is {} here, {bound} the {} to {} of yarns that can be spun",
                significant(k, 3),
                significant(least, 2),
                significant(most, 2)
            ))
            .help(format!(
                "with this ball, wraps of {at_wraps} {wraps_that_fit}; or with these wraps, {at_length} {length_that_fits} in {}; \
                 or leave one of the two out",
                weight.text
            )),
    );
}

/// Twist or angle, and only where both yarns have plies to lean, or neither has.
fn check_twist(
    raw: &raw::Match,
    plies: &Reading<Count>,
    of_yarn: Option<&Reading<Count>>,
    place: &Place,
    report: &mut Report,
) {
    let (twist, angle) = (place.key("ply-twist"), place.key("angle"));
    if raw.ply_twist.is_some() && raw.angle.is_some() {
        let fault = Diagnostic::new(Code::Contradiction, "expected the ply twist or the angle, found both", angle);
        report.fault(
            fault
                .label("says the twist again")
                .also(twist, "said here")
                .help("keep the ply twist, which can be counted; an angle is for yarns of other plies"),
        );
        return;
    }
    let said = if raw.ply_twist.is_some() { twist } else { angle };
    let is_unlike = of_yarn.is_some_and(|of_yarn| is_plied(of_yarn) != is_plied(plies));
    if is_unlike && (raw.ply_twist.is_some() || raw.angle.is_some()) {
        let message = "the twist of singles and that of plies say nothing of one another";
        report.fault(
            Diagnostic::new(Code::Unused, message, said)
                .label("not used")
                .also(place.key("plies"), "the plies of the yarn in hand")
                .help("leave it out; the usual angle is then aimed at"),
        );
    }
}

/// What is kept where both cannot be had; a question only where both are said.
fn keep(raw: &raw::Match, place: &Place, system: System, report: &mut Report) -> Keep {
    let has_both = raw.wraps.is_some() && raw.ball.is_some();
    if raw.keep.is_some() && !has_both {
        let lacking = if raw.wraps.is_none() { "wraps" } else { "ball" };
        let message = "what is kept of the yarn in hand changes nothing where only one thing is known of it";
        let fault = Diagnostic::new(Code::Unused, message, place.key("keep")).label("not used");
        report.fault(fault.help(format!("leave it out, or write its {lacking} as well")));
    }
    match raw.keep {
        Some(raw::Keep::Grist) => Keep::Grist,
        Some(raw::Keep::Wraps) => Keep::Wraps,
        None => {
            if has_both {
                report.assume(&defaults::KEEP, place.key("keep"), system);
            }
            Keep::Wraps
        }
    }
}
