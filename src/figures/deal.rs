//! What goes on which bobbin: supplies to ply plans, plies to bobbins, strips to sets.
//!
//! A set is the bobbins plied together. Each takes its share of the weight, so that all give one length of yarn, and the scarcest
//! supply says how much yarn there is. Strips are dealt across the sets in turn, the same for each ply,
//! so that the bobbins of a set match; their order on the bobbin begins one further on for each ply, so that no two plies
//! change braids at one place.

use super::aim::Aim;
use super::assumed;
use super::expression::{Figure, Formula, least, sum, with};
use super::folding;
use super::kinds::Spun;
use super::ledger::{Book, number};
use super::sets;
use super::supplies::{self, Parts, Piece, WEIGHED, braid_name};
use crate::diagnostics::Diagnostic;
use crate::plan::{End, Plan};
use crate::units::format::percent;
use crate::units::{Count, Length, LinearDensity, Mass, Share, Standing};

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
    /// The end that goes first.
    pub from: End,
}

impl Deal {
    /// All sets with the index of their ply plan.
    pub fn sets(&self) -> impl Iterator<Item = (usize, &DealtSet)> {
        self.plans.iter().flat_map(|plan| plan.sets.iter().map(|set| (plan.ply_plan, set)))
    }
}

/// Enters fibre, bobbins and skeins. Returns what goes where and the length of yarn there will be.
pub fn deal(book: &mut Book, plan: &Plan, aim: &Aim, singles: &[Spun], faults: &mut Vec<Diagnostic>) -> Deal {
    let parts = Parts::new(singles);
    let usable: Vec<Figure<Mass>> = plan.supplies.iter().map(|supply| supplies::usable(book, supply)).collect();
    let demand: Vec<f64> = (0..plan.supplies.len()).map(|supply| parts.demand(plan, supply)).collect();
    let fibre = supplies::fibre_in_yarn(book, plan, &usable, &demand);
    supplies::spare(book, plan, &usable, &demand, &fibre);
    let spun = spun(book, aim);
    book.enter("yarn.length", "washed yarn in all", folding::yarn_from(&fibre, &spun, &aim.waste, &aim.lightens));
    let mut taken = vec![0.0; plan.supplies.len()];
    let mut plans = Vec::new();
    let mut numbers = Numbers::default();
    for (index, ply_plan) in plan.ply_plans.iter().enumerate() {
        let whole = fibre.value() * ply_plan.share;
        let pieces: Vec<Vec<Piece>> = (0..plan.supplies.len())
            .map(|supply| {
                let wanted = whole * parts.of_supply(plan, index, supply);
                let pieces = supplies::pieces(&plan.supplies[supply], taken[supply], wanted);
                taken[supply] += wanted;
                pieces
            })
            .collect();
        let heaviest = ply_plan.plies.iter().map(|ply| parts.of_bobbin(ply.singles)).fold(0.0, f64::max);
        match sets::sets(plan, index, whole * heaviest, whole, &pieces) {
            Ok(n_sets) => {
                let dealing =
                    Dealing { plan, aim, singles, parts: &parts, spun: &spun, index, n_sets, pieces: &pieces };
                plans.push(deal_plan(book, &dealing, whole, &mut numbers));
            }
            Err(fault) => faults.push(*fault),
        }
    }
    let order = sets::order(plan, &plans, faults);
    let scarcest = supplies::scarcest(&usable, &demand);
    Deal { order, plans, scarcest, demand }
}

/// Weight per length that will really be spun: what is aimed at, give or take how far the hand misses it.
fn spun(book: &mut Book, aim: &Aim) -> Figure<LinearDensity> {
    let miss = book.assume::<Share>(&assumed::MISS);
    book.enter("yarn.tex", "weight per length as it will be spun", (&aim.washed * miss).by(&MISSED))
}

static MISSED: Formula = Formula { source: "our choice until the log tells", standing: Standing::OurChoice };
static DEALT: Formula = Formula { source: "torn and dealt in equal parts", standing: Standing::Standard };

/// What is torn for one ply plan.
fn tears(book: &mut Book, dealing: &Dealing<'_>) -> Vec<Tear> {
    let mut found = Vec::new();
    for (supply, pieces) in dealing.pieces.iter().enumerate() {
        let strips = dealing.plies().iter().filter(|ply| ply.supply == supply).map(|ply| dealing.strips(ply)).sum();
        for piece in pieces {
            let is_part = piece.share < 1.0 - 1e-6;
            let part = is_part.then(|| part(book, dealing.plan, dealing.index, supply, piece));
            found.push(Tear { supply, braid: piece.braid, strips, part });
        }
    }
    found
}

/// Enters how much of a braid a ply plan takes, and gives the figure's name.
fn part(book: &mut Book, plan: &Plan, index: usize, supply: usize, piece: &Piece) -> String {
    let supply = &plan.supplies[supply];
    let braid = braid_name(supply, piece.braid);
    let place = format!("part.{}.{index}.{}", supply.place.path, piece.braid);
    let share: Figure<Share> = book.choose(
        &place,
        &format!("part of {braid} taken"),
        piece.share,
        percent(piece.share, 1),
        "as the ply plans say, less what is set aside",
    );
    let weight = book.reading(&supply.weights[piece.braid], &braid);
    let name = format!("{}.{}.part-{}", supply.place.path, piece.braid + 1, index + 1);
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
    parts: &'a Parts,
    /// Weight per length of the washed yarn as it will be spun.
    spun: &'a Figure<LinearDensity>,
    /// Index of the ply plan.
    index: usize,
    n_sets: usize,
    /// By supply.
    pieces: &'a [Vec<Piece>],
}

impl Dealing<'_> {
    fn plies(&self) -> &[crate::plan::Ply] {
        &self.plan.ply_plans[self.index].plies
    }

    /// Strips that each piece is torn into for a ply.
    fn strips(&self, ply: &crate::plan::Ply) -> usize {
        ply.strips.map_or(self.n_sets, |strips| strips as usize)
    }

    /// The share of a supply's pieces that one ply takes.
    fn ply_share(&self, ply: &crate::plan::Ply) -> f64 {
        self.parts.of_bobbin(ply.singles) / self.parts.of_supply(self.plan, self.index, ply.supply)
    }
}

/// Enters the strips, bobbins and skeins of one ply plan, of `whole` grams of fibre.
fn deal_plan(book: &mut Book, dealing: &Dealing<'_>, whole: f64, numbers: &mut Numbers) -> DealtPlan {
    let skeins = sets::skeins_of_a_set(dealing.plan, whole / dealing.n_sets as f64);
    let sets = (0..dealing.n_sets).map(|set| deal_set(book, dealing, set, skeins, numbers)).collect();
    let tears = tears(book, dealing);
    DealtPlan { ply_plan: dealing.index, tears, sets }
}

fn deal_set(book: &mut Book, dealing: &Dealing<'_>, set: usize, skeins: usize, numbers: &mut Numbers) -> DealtSet {
    numbers.set += 1;
    let mut weights = Vec::new();
    let mut bobbins = Vec::new();
    for (ply, named) in dealing.plies().iter().enumerate() {
        numbers.bobbin += 1;
        let hand = hand(&dealing.pieces[named.supply], dealing.strips(named), dealing.n_sets, set, ply);
        let share = dealing.ply_share(named);
        let number = numbers.bobbin;
        let strips: Vec<Figure<Mass>> = hand
            .iter()
            .enumerate()
            .map(|(k, strip)| enter_strip(book, dealing.plan, named.supply, strip, share, (number, k + 1)))
            .collect();
        weights.push(book.enter(
            format!("bobbin.{number}.weight"),
            format!("fibre on bobbin {number}"),
            sum(&in_order_of_braids(&hand, strips)).by(&WEIGHED),
        ));
        let strips = hand
            .iter()
            .map(|strip| DealtStrip { supply: named.supply, braid: strip.piece.braid, from: named.from })
            .collect();
        bobbins.push(DealtBobbin { number, strips });
    }
    let first = numbers.skein + 1;
    numbers.skein += skeins;
    let dealt = DealtSet { number: numbers.set, skeins: first..=numbers.skein, bobbins };
    plied(book, dealing, &dealt, &weights);
    dealt
}

/// Strips in the order of their braids: bobbins with the same strips then weigh the same to the last bit.
fn in_order_of_braids(hand: &[Strip], strips: Vec<Figure<Mass>>) -> Vec<Figure<Mass>> {
    let mut numbered: Vec<(usize, Figure<Mass>)> = hand.iter().map(|strip| strip.piece.braid).zip(strips).collect();
    numbered.sort_by_key(|(braid, _)| *braid);
    numbered.into_iter().map(|(_, strip)| strip).collect()
}

/// One strip in a hand: a piece torn into `strips`.
#[derive(Debug, Clone, Copy)]
struct Strip {
    piece: Piece,
    strips: usize,
}

/// The strips of one ply that fall to one set, in the order of spinning: dealt braid by braid, so that each braid is spread over
/// the sets, and then taken from each braid in turn, so that it is spread over the bobbin too.
fn hand(pieces: &[Piece], strips: usize, n_sets: usize, set: usize, ply: usize) -> Vec<Strip> {
    let all = pieces.iter().flat_map(|&piece| std::iter::repeat_n(Strip { piece, strips }, strips));
    let dealt: Vec<Strip> = all.enumerate().filter(|(i, _)| i % n_sets == set).map(|(_, strip)| strip).collect();
    let turn = |i: usize| dealt[..i].iter().filter(|strip| strip.piece.braid == dealt[i].piece.braid).count();
    let mut order: Vec<usize> = (0..dealt.len()).collect();
    order.sort_by_key(|&i| (turn(i), i));
    let mut hand: Vec<Strip> = order.into_iter().map(|i| dealt[i]).collect();
    let further = (set + ply) % hand.len().max(1);
    hand.rotate_left(further);
    hand
}

fn enter_strip(
    book: &mut Book,
    plan: &Plan,
    supply: usize,
    strip: &Strip,
    ply_share: f64,
    (bobbin, k): (usize, usize),
) -> Figure<Mass> {
    let supply = &plan.supplies[supply];
    let braid = strip.piece.braid;
    let weight = book.reading(&supply.weights[braid], &braid_name(supply, braid));
    let part = strip.piece.share * ply_share;
    let taken: Figure<Share> = book.choose(
        &format!("taken.{}.{bobbin}.{k}", supply.place.path),
        &format!("part of {} for this ply", braid_name(supply, braid)),
        part,
        percent(part, 1),
        "as the ply plan says, less what is set aside",
    );
    let strips: Figure<Count> = number(
        book,
        &format!("strips.{bobbin}.{k}"),
        "strips",
        strip.strips,
        "as the ply plan says, else one for each set",
    );
    book.enter(
        format!("bobbin.{bobbin}.strip.{k}"),
        format!("strip {k} on bobbin {bobbin}"),
        (weight * taken / strips).by(&DEALT),
    )
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
