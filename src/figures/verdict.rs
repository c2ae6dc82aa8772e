//! A sample held against what is aimed at: what is right of it, what is off, and the one thing to change.
//!
//! What a sample shows is put as a ratio of sample to plan, a figure with its spread. The plan is asked without its chosen sample,
//! which would otherwise be held against itself. Each ratio is judged by [`judge`]; the [`diagnosis`] reasons
//! from those of them that have one cause each.

use super::diagnosis::{self, Advice, Cause, Diagnosis, Lack, Remeasure};
use super::expression::dimension::{Over, Times};
use super::expression::tape::Tape;
use super::expression::{Figure, Formula, Node, rest, with};
use super::ledger::Book;
use super::{aim, assumed, folding, thickness, twist};
use crate::plan::{Plan, Sample};
use crate::units::format::percent;
use crate::units::{Angle, LinearDensity, Loft, Quantity, Share, Standing, System, Twist, Wraps};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What is said of one sample.
#[derive(Debug, Clone, PartialEq)]
pub struct SampleVerdict {
    /// The sample's name.
    pub sample: String,
    /// What it is held against by whoever looks at the yarn: wraps, grist, loft, ply twist; each where sample and plan tell it.
    pub quantities: Vec<Verdict<Looked>>,
    /// What can be behind it, each free of the others.
    pub causes: Vec<Verdict<Cause>>,
    /// The one thing that is off.
    pub diagnosis: Diagnosis,
    /// What to do about it.
    pub advice: Advice,
    /// What of the doubt each measurement would settle, the most telling first, as shares that add up to one.
    pub settles: Vec<(Remeasure, f64)>,
}

/// What of the washed yarn is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Looked {
    /// Wraps: too much of it is too thin.
    Wraps,
    /// Length per weight: too much of it is too light.
    Grist,
    /// Loft: too much of it is too dense, since K counts wraps.
    Loft,
    /// Ply twist, or the angle of the plies.
    PlyTwist,
}

/// One ratio of a sample and what is said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict<T> {
    /// Of what.
    pub of: T,
    /// The figure that is the ratio of sample to plan.
    pub figure: String,
    /// What is said.
    pub judged: Judged,
    /// How far from one the ratio may lie, as a share.
    pub gate: f64,
    /// The ratio, and its standard uncertainty as a share of it.
    pub ratio: f64,
    /// See above.
    pub uncertainty: f64,
    /// Whether more of its doubt comes with the plan than with what was measured: the plan does not say what it wants.
    pub plan_is_vague: bool,
}

/// What is said of a ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    /// As planned.
    Right,
    /// More than planned.
    TooMuch,
    /// Less than planned.
    TooLittle,
    /// The readings are not good enough to say.
    CannotTell,
}

/// What is said of a ratio with a standard uncertainty, both as shares, and a gate.
///
/// Right: the ratio lies inside the gate, and what it may be nineteen times in twenty reaches no further than twice the gate.
/// Too much, too little: it lies outside the gate, and may not be one nineteen times in twenty.
/// Else the readings do not tell: their steps are wider than the gate, or they lie where chance alone may put them.
pub fn judge(ratio: f64, uncertainty: f64, gate: f64) -> Judged {
    let (low, high) = (ratio * (1.0 - 2.0 * uncertainty), ratio * (1.0 + 2.0 * uncertainty));
    let is_inside = (ratio - 1.0).abs() <= gate;
    if is_inside && low >= 1.0 - 2.0 * gate && high <= 1.0 + 2.0 * gate {
        Judged::Right
    } else if !is_inside && low > 1.0 {
        Judged::TooMuch
    } else if !is_inside && high < 1.0 {
        Judged::TooLittle
    } else {
        Judged::CannotTell
    }
}

/// Whether a ratio may be one, nineteen times in twenty: the logarithm of its value is within two standard uncertainties.
pub(super) fn reaches_one(ratio: &Figure<Share>) -> bool {
    libm::log(ratio.value()).abs() <= 2.0 * uncertainty_of(ratio.node())
}

/// The standard uncertainty of an expression as a share of its value, to first order.
fn uncertainty_of(node: &Arc<Node>) -> f64 {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("invariant: the tape holds its roots");
    let variance: f64 = tape.variances(at, &tape.values()).iter().map(|(_, variance)| variance).sum();
    variance.sqrt() / node.value().abs()
}

static RATIO: Formula = Formula { source: "ratio of sample and plan", standing: Standing::Standard };

/// Holds every sample of as many plies against the plan, and enters the ratios as `sample.NAME.against.*`.
/// None where the plan wishes nothing of its own and only a sample says what is aimed at.
pub fn verdicts(book: &mut Book, plan: &Plan) -> Vec<SampleVerdict> {
    if plan.samples.is_empty() || !plan.is_wished() {
        return Vec::new();
    }
    let planned = Planned::of(book, plan);
    let plies = plan.yarn.plies.value;
    let like = plan.samples.iter().filter(|sample| sample.plies.as_ref().is_none_or(|n| n.value == plies));
    like.map(|sample| Holding { book, plan, planned: &planned, sample }.verdict()).collect()
}

/// What the plan aims at, asked without its chosen sample.
struct Planned {
    wraps: Figure<Wraps>,
    tex: Figure<LinearDensity>,
    loft: Figure<Loft>,
    /// The last twist: of plies, of the strands of a cable, or of a yarn of singles.
    ply_twist: Option<Figure<Twist>>,
    angle: Option<Figure<Angle>>,
    keep: Figure<Share>,
    /// The same as a number that is not doubted: whether it holds is what a sample tells.
    keep_reckoned: Figure<Share>,
    fresh_twist: Option<Figure<Twist>>,
    /// By how much the two rules for the twist of singles disagree about their middle.
    rules_disagree: f64,
    wraps_gate: f64,
    twist_gate: f64,
}

impl Planned {
    fn of(book: &mut Book, plan: &Plan) -> Self {
        let apart = plan.chosen().map(|_| {
            let mut apart = Book::default();
            let mut unchosen = plan.clone();
            unchosen.samples.iter_mut().for_each(|sample| sample.chosen = false);
            aim::aim(&mut apart, &unchosen);
            apart
        });
        let keep = asked::<Share>(book, apart.as_ref(), "washed.keep").expect("invariant: every plan has it");
        let wraps = in_hand_or_asked::<Wraps>(book, apart.as_ref(), "match.wraps", "washed.wraps");
        let ply_twist = asked::<Twist>(book, apart.as_ref(), aim::last_twist(plan));
        let fractions = ["singles.balance", "singles.equal-factor"]
            .map(|name| asked::<Share>(book, apart.as_ref(), name).map_or(1.0, |share| share.value()));
        let is_inch = plan.units == System::Inch;
        let window = if is_inch { &assumed::WINDOW_INCH } else { &assumed::WINDOW_METRIC };
        let counted = if is_inch { &assumed::COUNTED_INCH } else { &assumed::COUNTED_METRIC };
        let half_twist =
            ply_twist.as_ref().map_or(0.0, |twist| assumed::HALF_TWIST.value / (twist.value() * counted.value));
        let planned = Self {
            wraps_gate: assumed::ONE_WRAP.value / (wraps.value() * window.value),
            twist_gate: assumed::GATE_TWIST.value.max(half_twist),
            rules_disagree: (fractions[0] / fractions[1]).sqrt().max((fractions[1] / fractions[0]).sqrt()) - 1.0,
            fresh_twist: ply_twist.as_ref().and_then(|ply| fresh_twist(book, apart.as_ref(), ply)),
            tex: in_hand_or_asked(book, apart.as_ref(), "match.tex", "washed.tex"),
            loft: in_hand_or_asked(book, apart.as_ref(), "match.loft", "washed.loft"),
            angle: asked(book, apart.as_ref(), "washed.angle"),
            keep_reckoned: book.choose(
                "reckoned.keep",
                "length kept in the wash, as reckoned",
                keep.value(),
                percent(keep.value(), 1),
                "what the plan reckons with; whether it holds is what a sample tells",
            ),
            wraps,
            ply_twist,
            keep,
        };
        planned.enter_targets(book);
        planned
    }

    /// Enters what the samples are held against, each with the limits of its gate.
    fn enter_targets(&self, book: &mut Book) {
        target(book, "wraps", "wraps", &self.wraps, self.wraps_gate);
        let grist = thickness::yield_of(&self.tex);
        target(book, "grist", "length per weight", &grist, assumed::GATE_WEIGHT.value);
        target(book, "keep", "length kept in the wash", &self.keep_reckoned, assumed::GATE_WEIGHT.value);
        if let Some(ply_twist) = &self.ply_twist {
            target(book, "ply-twist", "ply twist", ply_twist, self.twist_gate);
        }
        if let Some(fresh) = &self.fresh_twist {
            target(book, "singles-twist", "singles twist fresh", fresh, self.twist_gate + self.rules_disagree);
        }
    }
}

/// Enters a target of the samples as `target.NAME`, with the least and the most that is right.
fn target<Q>(book: &mut Book, name: &str, noun: &str, figure: &Figure<Q>, gate: f64)
where
    Q: Quantity + Times<Share, Out = Q>,
{
    let name = format!("target.{name}");
    let room = book.choose::<Share>(
        &name,
        &format!("room for {noun}"),
        gate,
        percent(gate, 1),
        "as the limits of the cards: one wrap, a twentieth of a weight, a tenth of a twist",
    );
    let wanted = book.enter(&name, format!("{noun} wanted of a sample"), figure.clone().by(&HELD));
    book.enter(format!("{name}.low"), format!("least {noun} wanted"), (&wanted * rest(&room)).by(&LIMIT));
    book.enter(format!("{name}.high"), format!("most {noun} wanted"), (&wanted * with(&room)).by(&LIMIT));
}

static HELD: Formula = Formula { source: "what samples are held against", standing: Standing::Standard };
static LIMIT: Formula = Formula { source: "our choice of limits", standing: Standing::OurChoice };

/// A figure of the plan without its chosen sample: the ledger's own where no sample is chosen.
fn asked<Q: Quantity>(book: &mut Book, apart: Option<&Book>, name: &str) -> Option<Figure<Q>> {
    match apart {
        None => book.find(name),
        Some(apart) => book.adopt("planned", apart, name),
    }
}

/// What the yarn in hand has, whether it is kept or given up; else what the plan aims at.
fn in_hand_or_asked<Q: Quantity>(book: &mut Book, apart: Option<&Book>, in_hand: &str, name: &str) -> Figure<Q> {
    let in_hand = book.find(in_hand);
    in_hand.unwrap_or_else(|| asked(book, apart, name).expect("invariant: every plan that wishes a yarn has it"))
}

/// Singles twist fresh for a ply twist, the way between them not doubted.
fn fresh_twist(book: &mut Book, apart: Option<&Book>, ply: &Figure<Twist>) -> Option<Figure<Twist>> {
    let singles = asked::<Twist>(book, apart, "singles.fresh-twist")?;
    let times = singles.value() / ply.value();
    let times = book.choose::<Share>(
        "reckoned.singles",
        "fresh singles twist over ply twist, as reckoned",
        times,
        crate::units::format::significant(times, 4),
        "what the plan reckons with; whether it holds is what a sample tells",
    );
    let fresh = (ply * times).by(&Formula { source: "as the plan reckons", standing: Standing::OurChoice });
    Some(book.enter("planned.fresh-twist", "planned singles twist fresh", fresh))
}

/// One sample beside the plan.
struct Holding<'a> {
    book: &'a mut Book,
    plan: &'a Plan,
    planned: &'a Planned,
    sample: &'a Sample,
}

impl Holding<'_> {
    fn verdict(mut self) -> SampleVerdict {
        let quantities = self.quantities();
        let causes = self.causes();
        let diagnosis = diagnosis::diagnose(&quantities, &causes);
        let settles = self.settles(&quantities, &causes);
        let weakest = settles.first().map(|(what, _)| *what);
        let lack = match (self.own::<LinearDensity>("tex"), self.own::<Wraps>("wraps")) {
            (None, _) => Lack::Weight,
            (_, None) => Lack::Wraps,
            _ => Lack::Nothing,
        };
        SampleVerdict {
            advice: diagnosis::advice(diagnosis, self.plan, weakest, lack),
            sample: self.sample.name.clone(),
            quantities,
            causes,
            diagnosis,
            settles,
        }
    }

    /// A figure of the sample.
    fn own<Q: Quantity>(&self, what: &str) -> Option<Figure<Q>> {
        self.book.find(&format!("sample.{}.{what}", self.sample.name))
    }

    /// The twist that was put in last, as it was counted.
    fn last_twist(&self) -> Option<Figure<Twist>> {
        self.own(if self.plan.yarn.construction.strands().is_some() { "cable-twist" } else { "ply-twist" })
    }

    fn quantities(&mut self) -> Vec<Verdict<Looked>> {
        let planned = self.planned;
        let wraps = self.own::<Wraps>("wraps").map(|own| over(&own, &planned.wraps));
        let grist = self.own::<LinearDensity>("tex").map(|own| over(&planned.tex, &own));
        let loft = self.own::<Loft>("loft").map(|own| over(&own, &planned.loft));
        let twist = self.last_twist().zip(planned.ply_twist.as_ref()).map(|(own, ply)| over(&own, ply));
        let angle = self.own::<Angle>("angle").zip(planned.angle.as_ref()).map(|(own, angle)| over(&own, angle));
        let (twist, noun) = if twist.is_some() { (twist, "ply twist") } else { (angle, "angle of the plies") };
        let gates = (planned.wraps_gate, assumed::GATE_WEIGHT.value, assumed::GATE_LOFT.value, planned.twist_gate);
        [
            wraps.map(|ratio| self.hold(Looked::Wraps, "wraps", "wraps", ratio, gates.0)),
            grist.map(|ratio| self.hold(Looked::Grist, "grist", "length per weight", ratio, gates.1)),
            loft.map(|ratio| self.hold(Looked::Loft, "loft", "loft", ratio, gates.2)),
            twist.map(|ratio| self.hold(Looked::PlyTwist, "ply-twist", noun, ratio, gates.3)),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// What can be behind it. A loop as wound and washed tells loss by itself, and takes it out of the others.
    fn causes(&mut self) -> Vec<Verdict<Cause>> {
        let planned = self.planned;
        let keep = self.own::<Share>("keep");
        let loss = keep.as_ref().map(|own| over(own, &planned.keep_reckoned));
        // What was not measured of the loss is as doubtful as the plan's own guess at it.
        let kept = keep.unwrap_or_else(|| planned.keep.clone());
        let drafting = self
            .own::<LinearDensity>("tex")
            .map(|own| over(&folding::as_wound(&own, &kept), &folding::as_wound(&planned.tex, &planned.keep_reckoned)));
        let plying = self
            .last_twist()
            .zip(planned.ply_twist.as_ref())
            .map(|(own, ply)| over(&twist::at_wheel(&own, &kept), &twist::at_wheel(ply, &planned.keep_reckoned)));
        // In a yarn of singles the last twist is that of the singles, and its ply-back tells the same less well.
        let is_plied = self.plan.yarn.construction.is_plied();
        let last = if is_plied { Cause::PlyTwist } else { Cause::SinglesTwist };
        let fresh = self.own::<Twist>("fresh-twist").filter(|_| is_plied || plying.is_none());
        let singles = fresh.zip(planned.fresh_twist.as_ref()).map(|(own, fresh)| over(&own, fresh));
        let loft = self.own::<Loft>("loft").map(|own| over(&own, &planned.loft));
        let (weight, singles_gate) = (assumed::GATE_WEIGHT.value, planned.twist_gate + planned.rules_disagree);
        [
            drafting.map(|ratio| self.hold(Cause::Drafting, "drafting", "weight per length wound", ratio, weight)),
            singles.map(|ratio| {
                self.hold(Cause::SinglesTwist, "singles-twist", "singles twist fresh", ratio, singles_gate)
            }),
            plying.map(|ratio| self.hold(last, "plying", "last twist put in", ratio, planned.twist_gate)),
            // The same figure as the loft that is looked at.
            loft.map(|ratio| self.judged(Cause::Loft, "loft", ratio.node(), assumed::GATE_LOFT.value)),
            loss.map(|ratio| self.hold(Cause::Loss, "keep", "length kept in the wash", ratio, weight)),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// Enters a ratio and judges it.
    fn hold<T>(&mut self, of: T, name: &str, noun: &str, ratio: Figure<Share>, gate: f64) -> Verdict<T> {
        let figure = self.figure_name(name);
        let words = format!("{noun} of sample {}, times what is planned", self.sample.name);
        let ratio = self.book.enter(figure, words, ratio);
        self.judged(of, name, ratio.node(), gate)
    }

    fn figure_name(&self, name: &str) -> String {
        format!("sample.{}.against.{name}", self.sample.name)
    }

    fn judged<T>(&self, of: T, name: &str, node: &Arc<Node>, gate: f64) -> Verdict<T> {
        let (ratio, uncertainty) = (node.value(), uncertainty_of(node));
        // What can be measured once more: the sample, and a yarn in hand.
        let is_measured = |place: &str| Remeasure::of(place) != Remeasure::Plan;
        let measured: f64 = shares(node).iter().filter(|(place, _)| is_measured(place)).map(|(_, share)| share).sum();
        Verdict {
            of,
            figure: self.figure_name(name),
            judged: judge(ratio, uncertainty, gate),
            gate,
            ratio,
            uncertainty,
            plan_is_vague: uncertainty > 0.0 && measured < 0.5,
        }
    }

    /// What each measurement would settle of the doubt of what cannot be told; where all can be, of all ratios. Each ratio counts
    /// as much as any other. What the plan leaves open is left out, unless it leaves everything open: no measurement settles it.
    fn settles(&self, quantities: &[Verdict<Looked>], causes: &[Verdict<Cause>]) -> Vec<(Remeasure, f64)> {
        let all = quantities.iter().map(|verdict| (verdict.judged, verdict.plan_is_vague, verdict.figure.as_str()));
        let all: Vec<_> = all.chain(causes.iter().map(|v| (v.judged, v.plan_is_vague, v.figure.as_str()))).collect();
        let sharp: Vec<_> = all.iter().copied().filter(|(_, is_vague, _)| !is_vague).collect();
        let all = if sharp.is_empty() { all } else { sharp };
        let is_open = |judged: Judged| judged == Judged::CannotTell;
        let some_open = all.iter().any(|(judged, ..)| is_open(*judged));
        let asked = all.iter().filter(|(judged, ..)| !some_open || is_open(*judged));
        let figures: BTreeSet<&str> = asked.map(|(.., figure)| *figure).collect();
        let mut parts: BTreeMap<Remeasure, f64> = BTreeMap::new();
        for figure in figures {
            for (place, share) in shares(self.book.figure::<Share>(figure).node()) {
                *parts.entry(Remeasure::of(&place)).or_default() += share;
            }
        }
        let whole: f64 = parts.values().sum();
        let mut settles: Vec<(Remeasure, f64)> = parts.into_iter().map(|(what, part)| (what, part / whole)).collect();
        settles.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        settles
    }
}

fn over<Q: Quantity + Over<Q, Out = Share>>(sample: &Figure<Q>, plan: &Figure<Q>) -> Figure<Share> {
    (sample / plan).by(&RATIO)
}

/// The place of each entry of an expression, with its share of the variance.
fn shares(node: &Arc<Node>) -> Vec<(String, f64)> {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("invariant: the tape holds its roots");
    let variances = tape.variances(at, &tape.values());
    let whole: f64 = variances.iter().map(|(_, variance)| variance).sum();
    let places: BTreeMap<usize, &str> = tape.entries().map(|(step, entry)| (step, entry.place.as_str())).collect();
    let spread = variances.iter().filter(|(_, variance)| *variance > 0.0);
    spread.map(|(step, variance)| (places[step].to_owned(), variance / whole)).collect()
}
