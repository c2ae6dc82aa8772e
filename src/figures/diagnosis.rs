//! Which one thing is off in a sample, by reasoning on what of its readings departs from the plan, and what to do about it.
//!
//! A sample is changed one thing at a time, so one thing is named: the one that departs furthest, in gates. Some departures
//! follow from others and are not blamed for them: twist and shrinking make a yarn denser by themselves.

use super::verdict::{Doubt, Judged, Looked, Verdict};
use crate::plan::Plan;

/// What can be behind a yarn that is not as planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// How much fibre goes into the singles: weight per length as wound.
    Drafting,
    /// Twist of the singles, fresh.
    SinglesTwist,
    /// Twist put in when plying.
    PlyTwist,
    /// Air in the yarn: draw, preparation, fibre, finish.
    Loft,
    /// What is left of a wound length after the wash: tension and shrinking.
    Loss,
}

/// Which way a cause departs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// More than planned: heavier, more twist, denser, more length kept.
    More,
    /// Less than planned: finer, less twist, airier, more length lost.
    Less,
}

/// The one thing that is off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Diagnosis {
    /// Nothing.
    Right,
    /// This.
    Off(Cause, Way),
    /// The readings do not tell.
    CannotTell,
}

/// The one thing that is off. `quantities` are what is looked at, `causes` what can be behind it.
pub fn diagnose(quantities: &[Verdict<Looked>], causes: &[Verdict<Cause>]) -> Diagnosis {
    let sure: Vec<&Verdict<Cause>> = causes.iter().filter(|verdict| is_off(verdict.judged)).collect();
    let blamed = sure.iter().filter(|verdict| !follows_from(verdict, &sure));
    if let Some(worst) = blamed.max_by(|a, b| in_gates(a).total_cmp(&in_gates(b))) {
        return Diagnosis::Off(worst.of, way(worst.ratio));
    }
    if quantities.iter().any(|verdict| is_off(verdict.judged)) {
        // The yarn is off, and each cause is within its gate: together they are not. The greatest is named if it is one at all.
        let tells = |verdict: &&Verdict<Cause>| {
            (verdict.ratio - 1.0).abs() > 2.0 * verdict.uncertainty && in_gates(verdict) > HALF
        };
        let greatest = causes.iter().filter(tells).max_by(|a, b| in_gates(a).total_cmp(&in_gates(b)));
        return greatest.map_or(Diagnosis::CannotTell, |verdict| Diagnosis::Off(verdict.of, way(verdict.ratio)));
    }
    // What the plan itself does not know is no fault of the sample.
    let is_settled = |judged: Judged, plan_is_vague: bool| judged == Judged::Right || plan_is_vague;
    let looked = quantities.iter().all(|verdict| is_settled(verdict.judged, verdict.plan_is_vague));
    let behind = causes.iter().all(|verdict| is_settled(verdict.judged, verdict.plan_is_vague));
    let something = quantities.iter().any(|verdict| verdict.judged == Judged::Right);
    if looked && behind && something { Diagnosis::Right } else { Diagnosis::CannotTell }
}

/// A cause within half its gate is none.
const HALF: f64 = 0.5;

fn is_off(judged: Judged) -> bool {
    matches!(judged, Judged::TooMuch | Judged::TooLittle)
}

fn way(ratio: f64) -> Way {
    if ratio > 1.0 { Way::More } else { Way::Less }
}

/// How far a cause departs, in widths of its gate.
fn in_gates(verdict: &Verdict<Cause>) -> f64 {
    libm::log(verdict.ratio).abs() / libm::log(1.0 + verdict.gate)
}

/// Whether loft departs the way in which twist or shrinking, which depart as well, would make it depart.
///
/// More twist makes yarn denser (two skeins of one fibre, spun alike, whose denser one had more ply twist: A. Franquemont, craft
/// article); so does shrinking, since the same fibre lies in less length.
fn follows_from(verdict: &Verdict<Cause>, sure: &[&Verdict<Cause>]) -> bool {
    let denser = way(verdict.ratio);
    verdict.of == Cause::Loft
        && sure.iter().any(|other| match other.of {
            Cause::SinglesTwist | Cause::PlyTwist => way(other.ratio) == denser,
            Cause::Loss => way(other.ratio) != denser,
            Cause::Drafting | Cause::Loft => false,
        })
}

/// The one thing to change, in plain words.
pub(super) fn change(diagnosis: Diagnosis, plan: &Plan, doubt: Option<&Doubt>, lacks_weight: bool) -> String {
    let counts_treadles = plan.draw().counts_treadles();
    let words = match diagnosis {
        Diagnosis::Right => "Change nothing: choose this sample and spin to it.",
        Diagnosis::Off(Cause::Drafting, Way::More) => "Let in less fibre: the singles are heavy.",
        Diagnosis::Off(Cause::Drafting, Way::Less) => "Let in more fibre: the singles are fine.",
        Diagnosis::Off(Cause::SinglesTwist, Way::More) if counts_treadles => {
            "Take one treadle fewer for each draft: the singles have too much twist."
        }
        Diagnosis::Off(Cause::SinglesTwist, Way::Less) if counts_treadles => {
            "Add one treadle to each draft: the singles have too little twist."
        }
        Diagnosis::Off(Cause::SinglesTwist, Way::More) => {
            "Let in more length at each treadle: the singles have too much twist."
        }
        Diagnosis::Off(Cause::SinglesTwist, Way::Less) => {
            "Let in less length at each treadle: the singles have too little twist."
        }
        Diagnosis::Off(Cause::PlyTwist, Way::More) => {
            "Take one treadle fewer for each arm's length when plying: it is plied too hard."
        }
        Diagnosis::Off(Cause::PlyTwist, Way::Less) => {
            "Add one treadle to each arm's length when plying: it is plied too soft."
        }
        Diagnosis::Off(Cause::Loft, Way::More) => {
            "Put more air in: a longer draw, a more open preparation or a livelier bath; the yarn is denser than planned."
        }
        Diagnosis::Off(Cause::Loft, Way::Less) => {
            "Press more air out: smooth the singles as they form, or comb the fibre; the yarn is airier than planned."
        }
        Diagnosis::Off(Cause::Loss, Way::Less) => {
            "Wind with less pull and wash more gently, or write this loss in the plan: more length is lost than planned."
        }
        Diagnosis::Off(Cause::Loss, Way::More) => {
            "Write this loss in the plan: less length is lost between winding and wash than planned."
        }
        Diagnosis::CannotTell if lacks_weight => {
            "Wind a skein, count its loops, measure one before and after the wash, and weigh it: wraps alone do not tell."
        }
        Diagnosis::CannotTell => {
            return doubt.map_or_else(
                || "Measure again, and more of it.".to_owned(),
                |doubt| format!("Measure again, more than once: {}.", doubt.words),
            );
        }
    };
    words.to_owned()
}
