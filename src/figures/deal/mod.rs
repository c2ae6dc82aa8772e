//! What goes on which bobbin: supplies to ply plans, plies to bobbins, strips to sets.
//!
//! A set is the bobbins plied together. Each takes its share of the weight, so that all give one length of yarn, and the scarcest
//! supply says how much yarn there is. Strips are dealt across the sets in turn, the same for each ply,
//! so that the bobbins of a set match; their order on the bobbin begins one further on for each ply, so that no two plies
//! change braids at one place. `planned` lays out in nominal numbers what goes where, `again` deals what is left again once
//! braids are torn, and what stands here enters the figures.

mod again;
mod planned;

use super::aim::Aim;
use super::expression::{Figure, Formula, least, sum, with};
use super::folding;
use super::forecast;
use super::kinds::Spun;
use super::ledger::{Book, number};
use super::logged::{self, Logged};
use super::sets;
use super::supplies::{self, Parts, Piece, WEIGHED, braid_name};
use crate::diagnostics::Diagnostic;
use crate::plan::{End, Plan, Supply};
use crate::units::format::percent;
use crate::units::{Count, Length, LinearDensity, Mass, Share, Standing};
use planned::{PlannedPlan, PlannedStrip};

/// What goes on which bobbin.
#[derive(Debug, Clone, PartialEq)]
pub struct Deal {
    /// In which order singles are spun and sets are plied.
    pub order: WorkOrder,
    /// One for each ply plan that yields anything, in the plan's order.
    pub plans: Vec<DealtPlan>,
    /// The supply that gives out first: an index into [`Plan::supplies`].
    pub scarcest: usize,
    /// What each supply is of the weight of the yarn, by its index.
    pub demand: Vec<f64>,
    /// The share of the yarn that is plied, where bobbins of a set do not weigh alike; else one.
    pub plied: f64,
    /// What the log measures of bobbins and skeins.
    pub logged: Logged,
    /// All bobbins by their numbers less one.
    pub bobbins: Vec<PlannedBobbin>,
}

/// In which order singles are spun and sets are plied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkOrder {
    /// All singles first: the bobbins hold them all.
    AllFirst,
    /// So many sets are spun and then plied, before the next ones; one where the plan asks for it.
    SomeSets(usize),
}

/// The sets of a ply plan.
#[derive(Debug, Clone, PartialEq)]
pub struct DealtPlan {
    /// Index into [`Plan::ply_plans`].
    pub ply_plan: usize,
    /// What is torn for it, braid by braid.
    pub tears: Vec<Tear>,
    /// Its sets, in the order of spinning.
    pub sets: Vec<DealtSet>,
}

/// One braid, or a part of it, and the strips it is torn into for all plies together.
#[derive(Debug, Clone, PartialEq)]
pub struct Tear {
    /// Index into [`Plan::supplies`].
    pub supply: usize,
    /// Index of the braid, from 0.
    pub braid: usize,
    /// How many strips.
    pub strips: usize,
    /// Strips that weigh alike: how many, and the figure that says how much; the heaviest first.
    pub groups: Vec<(usize, String)>,
    /// The figure that tells how much of the braid is taken, where that is not all of it.
    pub part: Option<String>,
}

/// The bobbins that are plied together, and the skeins they give.
#[derive(Debug, Clone, PartialEq)]
pub struct DealtSet {
    /// Its number, counted from 1 through the whole plan.
    pub number: usize,
    /// Numbers of its skeins, counted from 1 through the whole plan; at least one.
    pub skeins: std::ops::RangeInclusive<usize>,
    /// One bobbin for each ply.
    pub bobbins: Vec<DealtBobbin>,
}

/// What goes on one bobbin.
#[derive(Debug, Clone, PartialEq)]
pub struct DealtBobbin {
    /// Its number, counted from 1 through the whole plan.
    pub number: usize,
    /// Strips in the order of spinning.
    pub strips: Vec<DealtStrip>,
}

/// One strip; its weight is the figure `bobbin.N.strip.K`, K counted from 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DealtStrip {
    /// Index into [`Plan::supplies`].
    pub supply: usize,
    /// Index of the braid, from 0.
    pub braid: usize,
    /// The end that goes first: never [`End::Alternate`].
    pub from: End,
    /// The strip of another supply that is drafted together with it, as supply and braid; its weight is the figure
    /// `bobbin.N.strip.K.beside`.
    pub beside: Option<(usize, usize)>,
    /// Which strip of its braid it is, from 0, where the braid is torn.
    pub torn: Option<usize>,
    /// From where to where it is spun on this bobbin, in the order of spinning: all of it, from 0 to 1, where it does not go on from or
    /// on another.
    pub along: (f64, f64),
}

impl Deal {
    /// All sets with the index of their ply plan.
    pub fn sets(&self) -> impl Iterator<Item = (usize, &DealtSet)> {
        self.plans.iter().flat_map(|plan| plan.sets.iter().map(|set| (plan.ply_plan, set)))
    }
}

/// Enters fibre, bobbins and skeins. Returns what goes where and the length of yarn there will be.
pub fn deal(book: &mut Book, plan: &Plan, aim: &Aim, singles: &[Spun], faults: &mut Vec<Diagnostic>) -> Deal {
    let parts = Parts::new(plan, singles);
    let n_supplies = plan.supplies.len();
    let usable: Vec<Figure<Mass>> = (0..n_supplies).map(|supply| supplies::usable(book, plan, supply)).collect();
    let demand: Vec<f64> = (0..n_supplies).map(|supply| parts.demand(plan, supply)).collect();
    let fibre = supplies::fibre_in_yarn(book, plan, &usable, &demand);
    supplies::spare(book, plan, &usable, &demand, &fibre);
    let mut planned = planned::planned(plan, &parts, fibre.value(), faults);
    let torn = again::deal_again(plan, &mut planned);
    if !torn.is_empty() {
        // Nothing can be entered of a bobbin without fibre; the faults say why.
        planned.clear();
        faults.extend(torn);
    }
    let bobbins = bobbins(plan, &planned);
    let logged = logged::logged(book, plan, aim, singles, &bobbins, faults);
    // What all of the yarn weighs: the fibre less what is lost at the wheel and in the wash.
    let yarn = fibre.value() / (1.0 + aim.waste.value()) * (1.0 - aim.lightens.value());
    let miss = forecast::miss(book, &logged, singles, &bobbins, yarn);
    let plied = plied_share(plan, &parts, &planned, fibre.value(), |_| 1.0);
    let spun = if logged.skeins.is_empty() {
        let spun = (&aim.washed * &miss).by(&MISSED);
        let spun = book.enter("yarn.tex", "weight per length as it will be spun", spun);
        let length = as_plied(book, folding::yarn_from(&fibre, &spun, &aim.waste, &aim.lightens), plied);
        book.enter("yarn.length", "washed yarn in all", length);
        spun
    } else {
        let open = |set| open_share(plan, &planned, &bobbins, &logged, set);
        let by_sets = plied_share(plan, &parts, &planned, fibre.value(), open);
        let weighed: f64 =
            logged.skeins.iter().map(|skein| book.figure::<Mass>(&format!("{}.weight", skein.stage)).value()).sum();
        let is_fuller = weighed / yarn > (plied - by_sets) * FULLER;
        let open = if is_fuller { (plied - weighed / yarn).max(0.0) } else { by_sets };
        measured(book, aim, &logged, &fibre, (&miss, open))
    };
    let off: Figure<Share> = book.figure::<LinearDensity>("yarn.tex") / &aim.washed;
    book.enter("yarn.over-target", "all of the yarn over its target", off.by(&OVER));
    let mut numbers = Numbers::default();
    let plans = planned
        .iter()
        .map(|one| {
            let dealing = Dealing { plan, aim, singles, spun: &spun, planned: one };
            deal_plan(book, &dealing, &mut numbers)
        })
        .collect::<Vec<_>>();
    faults.extend(logged::beyond(plan, numbers.skein));
    let order = sets::order(plan, &plans, faults);
    let scarcest = supplies::scarcest(&usable, &demand);
    Deal { order, plans, scarcest, demand, plied, logged, bobbins }
}

/// One bobbin as it is planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlannedBobbin {
    /// Index into [`Plan::ply_plans`].
    pub ply_plan: usize,
    /// Which set of that ply plan, from 0.
    pub set: usize,
    /// Which ply, from 0.
    pub ply: usize,
    /// Index into [`Plan::singles`].
    pub singles: usize,
    /// Bobbins of one class hold the same in the same order, so that one may take the place of the other.
    pub class: usize,
}

/// What makes bobbins alike: their ply plan, their kind of singles, and the braids on them with the ends that go first.
type Class = (usize, usize, Vec<(usize, End)>);

/// All bobbins by their numbers less one.
fn bobbins(plan: &Plan, planned: &[PlannedPlan]) -> Vec<PlannedBobbin> {
    let mut classes: Vec<Class> = Vec::new();
    let mut all = Vec::new();
    for one in planned {
        for (set, plies) in one.sets.iter().enumerate() {
            for (ply, strips) in plies.iter().enumerate() {
                let singles = plan.ply_plans[one.index].plies[ply].singles;
                let mut content: Vec<(usize, End)> =
                    strips.iter().map(|strip| (strip.supply, strip.dealt().from)).collect();
                content.dedup();
                let key = (one.index, singles, content);
                let class = classes.iter().position(|known| *known == key).unwrap_or_else(|| {
                    classes.push(key);
                    classes.len() - 1
                });
                all.push(PlannedBobbin { ply_plan: one.index, set, ply, singles, class });
            }
        }
    }
    all
}

/// Enters the yarn of which skeins are measured: those as they are, and the rest of the fibre as it is likely to be spun. `open` is the
/// share of the fibre that is not in measured skeins. Gives the weight per length of the rest.
fn measured(
    book: &mut Book,
    aim: &Aim,
    logged: &Logged,
    fibre: &Figure<Mass>,
    (miss, open): (&Figure<Share>, f64),
) -> Figure<LinearDensity> {
    let rest = (&aim.washed * miss).by(&MISSED);
    let rest = book.enter(TO_COME, "weight per length of the yarn still to come", rest);
    let mut lengths: Vec<Figure<Length>> = Vec::new();
    let mut weights: Vec<Figure<Mass>> = Vec::new();
    for skein in &logged.skeins {
        lengths.push(book.figure(&format!("{}.length", skein.stage)));
        weights.push(book.figure(&format!("{}.weight", skein.stage)));
    }
    if open > NOTHING_OPEN {
        let share: Figure<Share> = book.choose(
            "yarn.open",
            "share of the fibre that is in no measured skein",
            open,
            percent(open, 1),
            "what the sets of the log leave, each as far as its scarcest bobbin allows",
        );
        let length = (folding::yarn_from(fibre, &rest, &aim.waste, &aim.lightens) * share).by(&WEIGHED);
        let length = book.enter("to-come.length", "yarn still to come", length);
        weights.push(folding::check_weight(&rest, &length));
        lengths.push(length);
    }
    let length = book.enter("yarn.length", "washed yarn in all", sum(&lengths).by(&ADDED));
    let tex = folding::weighed(&sum(&weights), &length);
    book.enter("yarn.tex", "weight per length of all of the yarn", tex);
    rest
}

/// Skeins so many times as heavy as planned are of bobbins that were filled fuller, and leave less than their number tells; lesser ones
/// are of lesser losses. Our choice.
const FULLER: f64 = 1.1;

/// The figure of what is still to come, where skeins are measured.
const TO_COME: &str = "to-come.tex";

/// Of the fibre less than this is none; our choice.
const NOTHING_OPEN: f64 = 0.001;

/// Weight per length of the yarn that is not yet measured.
pub(super) fn tex_to_come(book: &Book) -> Figure<LinearDensity> {
    book.find(TO_COME).unwrap_or_else(|| book.figure("yarn.tex"))
}

/// The length of a skein: as measured, or as planned; `None` of one that is neither.
pub(super) fn find_length_of_skein(book: &Book, number: usize) -> Option<Figure<Length>> {
    ["logged.skein", "skein"].iter().find_map(|stage| book.find(&format!("{stage}.{number}.length")))
}

/// The same of one that the plan has.
pub(super) fn length_of_skein(book: &Book, number: usize) -> Figure<Length> {
    find_length_of_skein(book, number).expect("invariant: the plan has the skein")
}

/// What of a planned set is in no measured skein, as a share of it: its ply plan is told by its place among `planned`.
fn open_share(
    plan: &Plan,
    planned: &[PlannedPlan],
    bobbins: &[PlannedBobbin],
    logged: &Logged,
    (of, set): (usize, usize),
) -> f64 {
    let one = &planned[of];
    let skeins = sets::skeins_of_a_set(plan, one.whole / one.sets.len() as f64) as f64;
    let own = (1..=bobbins.len()).filter(|n| (bobbins[n - 1].ply_plan, bobbins[n - 1].set) == (one.index, set));
    let (n, open) = own.fold((0.0, 0.0), |(n, open), number| {
        let measured = logged.skeins.iter().filter(|skein| skein.bobbins.contains(&number)).count() as f64;
        (n + 1.0, open + (1.0 - measured / skeins).max(0.0))
    });
    open / n
}

/// The share of the yarn that sets give whose bobbins do not weigh alike: each gives as much as its scarcest bobbin allows. `of_set`
/// says how much of a set counts, by the place of its ply plan and its own.
fn plied_share(
    plan: &Plan,
    parts: &Parts,
    planned: &[PlannedPlan],
    fibre: f64,
    of_set: impl Fn((usize, usize)) -> f64,
) -> f64 {
    let bobbin = |strips: &Vec<PlannedStrip>| strips.iter().map(|strip| strip.whole_weight(plan)).sum::<f64>();
    let set = |one: &PlannedPlan, plies: &Vec<Vec<PlannedStrip>>| {
        let singles = |ply: usize| plan.ply_plans[one.index].plies[ply].singles;
        let reach = plies.iter().enumerate().map(|(ply, strips)| bobbin(strips) / parts.of_bobbin(singles(ply)));
        reach.fold(f64::INFINITY, f64::min)
    };
    let mut plied = 0.0;
    for (i, one) in planned.iter().enumerate() {
        for (k, plies) in one.sets.iter().enumerate() {
            plied += set(one, plies) * of_set((i, k));
        }
    }
    plied / fibre
}

/// Yarn of which uneven bobbins leave some unplied; by less than a thousandth nobody asks.
pub(super) fn as_plied(book: &mut Book, length: Figure<Length>, plied: f64) -> Figure<Length> {
    if plied > 0.999 || plied <= 0.0 {
        return length;
    }
    let share: Figure<Share> = book.choose(
        "yarn.plied",
        "share that is plied",
        plied,
        percent(plied, 1),
        "bobbins of a set do not weigh alike, and the scarcest says when it ends",
    );
    (length * share).by(&WEIGHED)
}

static MISSED: Formula = Formula { source: "our choice until the log tells", standing: Standing::OurChoice };
static OVER: Formula = Formula { source: "as it will be over as aimed at", standing: Standing::Standard };
static ADDED: Formula = Formula { source: "lengths add up", standing: Standing::Standard };
static DEALT: Formula = Formula { source: "torn and dealt in equal parts", standing: Standing::Standard };
static TORN: Formula = Formula { source: "weighed when it was torn", standing: Standing::Standard };

/// A braid of which no more than this share stays is torn as a whole; our choice, less than a tape or a scale tells.
const NEARLY_WHOLE: f64 = 0.01;

/// What is torn for one ply plan, dealt to these sets.
fn tears(book: &mut Book, dealing: &Dealing<'_>, sets: &[DealtSet]) -> Vec<Tear> {
    let mut found = Vec::new();
    for (supply, pieces) in dealing.planned.pieces.iter().enumerate() {
        for piece in pieces {
            let whole = dealing.plan.supplies[supply].share_of_braid();
            // What was torn is torn: its strips say how much of it is taken.
            let is_torn = dealing.plan.torn(supply, piece.braid).is_some();
            let is_part = !is_torn && piece.share < whole * (1.0 - NEARLY_WHOLE);
            let part = is_part.then(|| part(book, dealing, supply, piece));
            let (strips, groups) = groups(book, sets, (supply, piece.braid));
            found.push(Tear { supply, braid: piece.braid, strips, groups, part });
        }
    }
    found
}

/// How many strips a braid is torn into, and those that weigh alike: how many, and the figure that says how much, the heaviest
/// first. Of strips that go on from bobbin to bobbin only their number is told.
fn groups(book: &Book, sets: &[DealtSet], braid: (usize, usize)) -> (usize, Vec<(usize, String)>) {
    let mut strips: Vec<String> = Vec::new();
    let (mut begun, mut goes_on) = (0, false);
    for bobbin in sets.iter().flat_map(|set| &set.bobbins) {
        for (k, strip) in bobbin.strips.iter().enumerate() {
            let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
            let is_own = (strip.supply, strip.braid) == braid;
            if !is_own && strip.beside != Some(braid) {
                continue;
            }
            begun += usize::from(strip.along.0 < 1e-9);
            goes_on |= strip.along != (0.0, 1.0);
            strips.push(if is_own { name } else { format!("{name}.beside") });
        }
    }
    if goes_on {
        return (begun, Vec::new());
    }
    let weight = |name: &String| book.figure::<Mass>(name).value();
    strips.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    let alike = strips.chunk_by(|a, b| weight(a) - weight(b) <= 1e-6 * weight(a));
    (begun, alike.map(|alike| (alike.len(), alike[0].clone())).collect())
}

/// Enters how much of a braid a ply plan takes, and gives the figure's name.
fn part(book: &mut Book, dealing: &Dealing<'_>, supply: usize, piece: &Piece) -> String {
    let (plan, index) = (dealing.plan, dealing.planned.index);
    let of = &plan.supplies[supply];
    let braid = braid_name(of, piece.braid);
    let place = format!("part.{}.{index}.{}", of.stage(), piece.braid);
    let share: Figure<Share> = book.choose(
        &place,
        &format!("part of {braid} taken"),
        piece.share,
        percent(piece.share, 1),
        "as the ply plans say, less what is set aside",
    );
    let weight = supplies::braid_weight(book, plan, supply, piece.braid);
    let name = format!("{}.{}.part-{}", of.stage(), piece.braid + 1, index + 1);
    book.enter(
        name.clone(),
        format!("part of {braid} for {}", plan.ply_plans[index].name),
        (weight * share).by(&DEALT),
    );
    name
}

#[derive(Default)]
struct Numbers {
    set: usize,
    bobbin: usize,
    skein: usize,
}

/// What the dealing of one ply plan goes by.
struct Dealing<'a> {
    plan: &'a Plan,
    aim: &'a Aim,
    singles: &'a [Spun],
    /// Weight per length of the washed yarn as it will be spun.
    spun: &'a Figure<LinearDensity>,
    planned: &'a PlannedPlan,
}

impl Dealing<'_> {
    fn plies(&self) -> &[crate::plan::Ply] {
        &self.plan.ply_plans[self.planned.index].plies
    }
}

/// Enters the strips, bobbins and skeins of one ply plan.
fn deal_plan(book: &mut Book, dealing: &Dealing<'_>, numbers: &mut Numbers) -> DealtPlan {
    let planned = dealing.planned;
    let skeins = sets::skeins_of_a_set(dealing.plan, planned.whole / planned.sets.len() as f64);
    let sets: Vec<DealtSet> = planned.sets.iter().map(|set| deal_set(book, dealing, set, skeins, numbers)).collect();
    let tears = tears(book, dealing, &sets);
    DealtPlan { ply_plan: planned.index, tears, sets }
}

fn deal_set(
    book: &mut Book,
    dealing: &Dealing<'_>,
    set: &[Vec<PlannedStrip>],
    skeins: usize,
    numbers: &mut Numbers,
) -> DealtSet {
    numbers.set += 1;
    let mut weights = Vec::new();
    let mut bobbins = Vec::new();
    for planned in set {
        numbers.bobbin += 1;
        let number = numbers.bobbin;
        let strips: Vec<Figure<Mass>> = planned
            .iter()
            .enumerate()
            .map(|(k, strip)| enter_strip(book, dealing.plan, strip, number, k + 1))
            .collect();
        weights.push(book.enter(
            format!("bobbin.{number}.weight"),
            format!("fibre on bobbin {number}"),
            sum(&in_order_of_braids(planned, strips)).by(&WEIGHED),
        ));
        let strips = planned.iter().map(PlannedStrip::dealt).collect();
        bobbins.push(DealtBobbin { number, strips });
    }
    let first = numbers.skein + 1;
    numbers.skein += skeins;
    let dealt = DealtSet { number: numbers.set, skeins: first..=numbers.skein, bobbins };
    plied(book, dealing, &dealt, &weights);
    dealt
}

/// Strips in the order of their braids: bobbins with the same strips then weigh the same to the last bit.
fn in_order_of_braids(planned: &[PlannedStrip], strips: Vec<Figure<Mass>>) -> Vec<Figure<Mass>> {
    let of = planned.iter().map(|strip| (strip.supply, strip.braid));
    let mut numbered: Vec<((usize, usize), Figure<Mass>)> = of.zip(strips).collect();
    numbered.sort_by_key(|(braid, _)| *braid);
    numbered.into_iter().map(|(_, strip)| strip).collect()
}

/// Enters the weight of one strip, with what is drafted together with it.
fn enter_strip(book: &mut Book, plan: &Plan, strip: &PlannedStrip, bobbin: usize, k: usize) -> Figure<Mass> {
    let own = strip_weight(book, plan, strip, &format!("{bobbin}.{k}"));
    let name = format!("bobbin.{bobbin}.strip.{k}");
    let Some(beside) = &strip.beside else {
        return book.enter(name, format!("strip {k} on bobbin {bobbin}"), own);
    };
    let own = book.enter(name.clone(), format!("strip {k} on bobbin {bobbin}"), own);
    let other = strip_weight(book, plan, beside, &format!("{bobbin}.{k}.beside"));
    let other = book.enter(format!("{name}.beside"), format!("drafted with strip {k} on bobbin {bobbin}"), other);
    (own + other).by(&WEIGHED)
}

fn strip_weight(book: &mut Book, plan: &Plan, strip: &PlannedStrip, turn: &str) -> Figure<Mass> {
    let supply = &plan.supplies[strip.supply];
    let name = braid_name(supply, strip.braid);
    if let (Some(number), Some(torn)) = (strip.torn, plan.torn(strip.supply, strip.braid)) {
        let whole = book.reading(&torn.weights[number], &format!("strip {} of {name}", number + 1));
        return match here(book, supply, strip, turn) {
            None => whole.by(&TORN),
            Some(here) => (whole * here).by(&TORN),
        };
    }
    let weight = supplies::braid_weight(book, plan, strip.supply, strip.braid);
    let reason = if strip.strips.is_some() {
        "as the ply plan says, less what is set aside"
    } else {
        "dealt again after what was torn, so that the bobbins of a set come out alike"
    };
    let taken: Figure<Share> = book.choose(
        &format!("taken.{}.{turn}", supply.stage()),
        &format!("part of {name} for this {}", if strip.strips.is_some() { "ply" } else { "strip" }),
        strip.part,
        percent(strip.part, 1),
        reason,
    );
    let Some(strips) = strip.strips else { return (weight * taken).by(&DEALT) };
    let strips: Figure<Count> =
        number(book, &format!("strips.{turn}"), "strips", strips, "as the ply plan says, else one for each set");
    let whole = weight * taken / strips;
    match here(book, supply, strip, turn) {
        None => whole.by(&DEALT),
        Some(here) => (whole * here).by(&DEALT),
    }
}

/// The part of a strip that is on this bobbin; `None` where it is all of it.
fn here(book: &mut Book, supply: &Supply, strip: &PlannedStrip, turn: &str) -> Option<Figure<Share>> {
    let share = strip.along.1 - strip.along.0;
    let reason = "bobbins of one weight, colours running on from one to the next";
    let words = "part of the strip on this bobbin";
    (share <= 1.0 - 1e-9)
        .then(|| book.choose(&format!("along.{}.{turn}", supply.stage()), words, share, percent(share, 1), reason))
}

/// What a set gives: as much yarn as its scarcest bobbin allows, in one skein or several alike.
fn plied(book: &mut Book, dealing: &Dealing<'_>, set: &DealtSet, weights: &[Figure<Mass>]) {
    let (aim, n) = (dealing.aim, set.number);
    let shares: Vec<&Figure<Share>> = dealing.plies().iter().map(|ply| &dealing.singles[ply.singles].dealt).collect();
    let reach: Vec<Figure<Mass>> = weights.iter().zip(&shares).map(|(weight, share)| weight / *share).collect();
    let fibre = book.enter(format!("set.{n}.weight"), format!("fibre plied in set {n}"), least(&reach).by(&WEIGHED));
    let length = folding::yarn_from(&fibre, dealing.spun, &aim.waste, &aim.lightens);
    skeins(book, dealing, set, length);
    if let Some(strands) = &aim.strands {
        strand(book, n, &(&fibre / strands / with(&aim.waste)).by(&DEALT));
    }
    for (((bobbin, weight), share), reach) in set.bobbins.iter().zip(weights).zip(shares).zip(reach) {
        let n = bobbin.number;
        book.enter(
            format!("bobbin.{n}.net"),
            format!("singles on bobbin {n}"),
            (weight / with(&aim.waste)).by(&WEIGHED),
        );
        book.enter(
            format!("bobbin.{n}.left"),
            format!("left on bobbin {n}"),
            ((&reach - &fibre) * share / with(&aim.waste)).by(&WEIGHED),
        );
        // Plies that weigh alike tell by their weight how much longer they are; unlike ones do not.
        if dealing.singles.len() > 1 {
            let longer = folding::yarn_from(&(reach - &fibre), dealing.spun, &aim.waste, &aim.lightens);
            book.enter(format!("bobbin.{n}.longer"), format!("yarn that bobbin {n} has beyond the set"), longer);
        }
    }
}

/// One strand of a set that is cabled: what it weighs and how long it is, fresh.
fn strand(book: &mut Book, set: usize, weight: &Figure<Mass>) {
    let weight = book.enter(format!("set.{set}.strand"), format!("weight of a strand of set {set}"), weight.clone());
    let plied = book.figure::<LinearDensity>("plied.wound-tex");
    let length = folding::length_of(&weight, &plied);
    book.enter(format!("set.{set}.strand-length"), format!("length of a strand of set {set}"), length);
}

/// The skeins of a set, alike where there are several.
fn skeins(book: &mut Book, dealing: &Dealing<'_>, set: &DealtSet, whole: Figure<Length>) {
    let several = set.skeins.clone().count();
    let length = if several == 1 {
        whole
    } else {
        let n = set.number;
        let whole = book.enter(format!("set.{n}.length"), format!("length of yarn of set {n}"), whole);
        let many: Figure<Count> =
            number(book, &format!("skeins.{n}"), "skeins of a set", several, "as many as the plying bobbin asks for");
        (whole / many).by(&DEALT)
    };
    for n in set.skeins.clone() {
        let length = book.enter(format!("skein.{n}.length"), format!("length of skein {n}"), length.clone());
        let weight = folding::check_weight(dealing.spun, &length);
        book.enter(format!("skein.{n}.weight"), format!("weight of skein {n}"), weight);
    }
}
