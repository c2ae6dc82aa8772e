//! Which one thing is off in a sample, by reasoning on what of its readings departs from the plan, and what to do about it.
//!
//! A sample is changed one thing at a time, so one thing is named: the one that departs furthest, in gates. Some departures
//! follow from others and are not blamed for them: twist and shrinking make a yarn denser by themselves.

use super::verdict::{Judged, Looked, Verdict};
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
    let blamed = sure.iter().filter(|verdict| !follows_from(verdict, &sure) && is_felt(verdict, quantities));
    let blamed = blamed.map(|verdict| (verdict.of, way(verdict.ratio), in_gates(verdict)));
    let worst = blamed.chain(drafted_by_wraps(quantities, causes)).max_by(|a, b| a.2.total_cmp(&b.2));
    if let Some((cause, way, _)) = worst {
        return Diagnosis::Off(cause, way);
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
    let behind =
        causes.iter().all(|verdict| is_settled(verdict.judged, verdict.plan_is_vague) || !is_felt(verdict, quantities));
    // Neither wraps alone nor weight alone tell a yarn.
    let is_read = |of: Looked| quantities.iter().any(|verdict| verdict.of == of);
    let is_whole = is_read(Looked::Wraps) && is_read(Looked::Grist);
    if looked && behind && is_whole { Diagnosis::Right } else { Diagnosis::CannotTell }
}

/// Whether a cause is felt. What a plan guesses of a loss may be off without harm to a yarn that is right all the same, and
/// drafting is no fault of a yarn whose wraps and grist are both right. Any other cause is felt by itself.
fn is_felt(verdict: &Verdict<Cause>, quantities: &[Verdict<Looked>]) -> bool {
    let are_right = |of: Looked| quantities.iter().any(|other| other.of == of && other.judged == Judged::Right);
    if verdict.of == Cause::Drafting && are_right(Looked::Wraps) && are_right(Looked::Grist) {
        return false;
    }
    // Length that is lost makes what is left heavier.
    let felt = |grist: &Verdict<Looked>| {
        grist.of == Looked::Grist && is_off(grist.judged) && way(grist.ratio) == way(verdict.ratio)
    };
    verdict.of != Cause::Loss || quantities.iter().any(felt)
}

/// Where the plan wishes wraps and leaves the weight to what the loft will be, the loft of the sample is as good as any, and
/// wraps tell the drafting: weight goes with the square of width.
fn drafted_by_wraps(quantities: &[Verdict<Looked>], causes: &[Verdict<Cause>]) -> Option<(Cause, Way, f64)> {
    let drafting = causes.iter().find(|verdict| verdict.of == Cause::Drafting)?;
    let wraps = quantities.iter().find(|verdict| verdict.of == Looked::Wraps)?;
    let leaves_weight = drafting.judged == Judged::CannotTell && drafting.plan_is_vague;
    let way = match wraps.judged {
        Judged::TooLittle => Way::More,
        Judged::TooMuch => Way::Less,
        Judged::Right | Judged::CannotTell => return None,
    };
    let gates = libm::log(wraps.ratio).abs() / libm::log(1.0 + wraps.gate);
    leaves_weight.then_some((Cause::Drafting, way, gates))
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

/// What to do about a sample, and why just that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Advice {
    /// The one thing to change, in few words.
    pub change: &'static str,
    /// Why, as a sentence.
    pub why: &'static str,
}

/// What a sample lacks before anything can be said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lack {
    /// Nothing.
    Nothing,
    /// Weight and length.
    Weight,
    /// Wraps.
    Wraps,
}

/// The one thing to change. `weakest` is what brings most of the doubt.
pub(super) fn advice(diagnosis: Diagnosis, plan: &Plan, weakest: Option<Remeasure>, lack: Lack) -> Advice {
    let say = |change, why| Advice { change, why };
    match diagnosis {
        Diagnosis::Right => say("nothing: spin to this sample", "No reading shows a fault of the yarn itself."),
        Diagnosis::Off(cause, way) => off(cause, way, plan),
        Diagnosis::CannotTell if lack == Lack::Weight => {
            say("wind a skein, measure and weigh it", "Wraps alone do not tell heavy yarn from airy yarn.")
        }
        Diagnosis::CannotTell if lack == Lack::Wraps => {
            say("count the wraps of the washed skein", "Weight alone does not tell thick yarn from dense yarn.")
        }
        Diagnosis::CannotTell => say(
            weakest.map_or("measure again", Remeasure::words),
            "The readings leave more open than the limits allow.",
        ),
    }
}

/// The one thing to change for a cause: where it is put in, by the hand or the foot that does it.
fn off(cause: Cause, way: Way, plan: &Plan) -> Advice {
    let say = |change, why| Advice { change, why };
    match (cause, way) {
        (Cause::Drafting, Way::More) => {
            say("finer singles: let in less fibre", "They are too heavy for the yarn that is wanted.")
        }
        (Cause::Drafting, Way::Less) => {
            say("fuller singles: let in more fibre", "They are too light for the yarn that is wanted.")
        }
        (Cause::SinglesTwist, Way::More) => say(less_twist(plan), "The fresh singles ply back harder than planned."),
        (Cause::SinglesTwist, Way::Less) => say(more_twist(plan), "The fresh singles ply back softer than planned."),
        (Cause::PlyTwist, Way::More) => {
            say("ply softer: fewer turns to each arm's length", "More ply twist was put in than planned.")
        }
        (Cause::PlyTwist, Way::Less) => {
            say("ply harder: more turns to each arm's length", "Less ply twist was put in than planned.")
        }
        (Cause::Loft, Way::More) => {
            say("more air: draw longer, or open the fibre", "It is denser than planned, whatever it weighs.")
        }
        (Cause::Loft, Way::Less) => {
            say("less air: smooth the singles as they form", "It is airier than planned, whatever it weighs.")
        }
        (Cause::Loss, Way::Less) => say(
            "wind with less pull, wash more gently",
            "More length is lost than planned; or write this loss in the plan.",
        ),
        (Cause::Loss, Way::More) => {
            say("write this loss in the plan", "Less length is lost between winding and wash than planned.")
        }
    }
}

fn less_twist(plan: &Plan) -> &'static str {
    if !plan.wheel.machine.lets_in_each_treadle(plan.draw()) {
        "less twist: fewer turns to each draft"
    } else {
        "less twist: let in more at a time"
    }
}

fn more_twist(plan: &Plan) -> &'static str {
    if !plan.wheel.machine.lets_in_each_treadle(plan.draw()) {
        "more twist: more turns to each draft"
    } else {
        "more twist: let in less at a time"
    }
}

/// What to read once more, since it leaves most of the doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Remeasure {
    /// Wraps.
    Wraps,
    /// The ply-back of the fresh singles.
    PlyBack,
    /// The weight of the skein.
    Weight,
    /// A loop of the skein, wound or washed.
    Loop,
    /// Ply twist or angle.
    PlyTwist,
    /// The yarn in hand.
    InHand,
    /// Nothing of the sample: the plan does not say what it wishes.
    Plan,
}

impl Remeasure {
    /// What an entry is read off.
    pub(super) fn of(place: &str) -> Self {
        let of_the_log = [
            (".wraps", Self::Wraps),
            (".ply-back", Self::PlyBack),
            (".weight", Self::Weight),
            ("loop", Self::Loop),
            (".ply-twist", Self::PlyTwist),
            (".cable-twist", Self::PlyTwist),
            (".angle", Self::PlyTwist),
        ];
        match place.strip_prefix("log:") {
            Some(entry) => of_the_log.iter().find(|(key, _)| entry.contains(key)).map_or(Self::Plan, |(_, what)| *what),
            None if place.starts_with("yarn.match") => Self::InHand,
            None => Self::Plan,
        }
    }

    /// What to do, in few words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Wraps => "count the wraps at more places",
            Self::PlyBack => "count the ply-back at more places",
            Self::Weight => "weigh a longer skein",
            Self::Loop => "measure a loop again, wound and washed",
            Self::PlyTwist => "count the ply twist at more places",
            Self::InHand => "read the yarn in hand again",
            Self::Plan => "say in the plan what is wished",
        }
    }

    /// How, and what it costs in time.
    pub fn how(self) -> &'static str {
        match self {
            Self::Wraps => "five places along the skein; five minutes",
            Self::PlyBack => "each time the wheel stops; a minute",
            Self::Weight => "twenty steps of the scale or more; ten minutes",
            Self::Loop => "with a tape that does not give; five minutes",
            Self::PlyTwist => "five places along the skein; five minutes",
            Self::InHand => "its wraps and twist at five places; ten minutes",
            Self::Plan => "wraps, grist and ply twist; a minute",
        }
    }
}
