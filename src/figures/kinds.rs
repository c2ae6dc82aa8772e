//! The kinds of singles of a yarn: what each weighs, how thick and how twisted it is, and what it is of the yarn's weight.
//!
//! One kind is what [`aim`](super::aim) says. Of several, those that say their own grist have it, and the others of their ply
//! plan share what is left; thickness follows from the hull of unequal circles, twist from one twist factor for all.

use super::aim::{Aim, own_density, shortens};
use super::expression::{Figure, Formula};
use super::ledger::{Book, number};
use super::{folding, thickness, twist};
use crate::plan::{Plan, Singles};
use crate::units::format::percent;
use crate::units::{Count, LinearDensity, Share, Standing, Twist, Wraps};

/// One kind of singles as it is spun.
pub struct Spun {
    /// Name below which its figures stand: `singles`, `singles.silk`.
    pub stage: String,
    /// The same of its spinning: `wheel`, `wheel.silk`.
    pub at_wheel: String,
    /// What it is called: "singles", "silk singles".
    pub noun: String,
    /// Linear density as wound.
    pub wound: Figure<LinearDensity>,
    /// Linear density at rest.
    pub at_rest: Figure<LinearDensity>,
    /// Wraps.
    pub wraps: Figure<Wraps>,
    /// Twist to put in, per length let in.
    pub twist: Figure<Twist>,
    /// Twist fresh off the wheel and at rest.
    pub fresh: Figure<Twist>,
    /// What one bobbin of it is of the weight of the yarn.
    pub share: Figure<Share>,
    /// The same as it is dealt: a number that is weighed out by, whatever comes of it.
    pub dealt: Figure<Share>,
}

/// Enters every kind of singles; `plied` is the linear density of the fresh yarn that its bobbins are plied to (in a yarn of
/// singles that of the singles).
pub fn kinds(book: &mut Book, plan: &Plan, aim: &Aim, plied: &Figure<LinearDensity>) -> Vec<Spun> {
    if let [only] = plan.singles.as_slice() {
        return vec![one_kind(book, plan, aim, only, plied)];
    }
    let middling = folding::equal_ply(plied, &aim.plies, &aim.plying_shortens);
    let middling = book.enter("singles.wound-tex", "weight per length of a middling single", middling);
    let wound: Vec<Figure<LinearDensity>> =
        (0..plan.singles.len()).map(|i| density(book, plan, aim, i, plied)).collect();
    (0..plan.singles.len()).map(|i| kind(book, plan, aim, i, &wound, &middling, plied)).collect()
}

/// The only kind: all bobbins alike.
fn one_kind(book: &mut Book, plan: &Plan, aim: &Aim, only: &Singles, plied: &Figure<LinearDensity>) -> Spun {
    let wound = own_density(book, only, &aim.stretch).unwrap_or_else(|| {
        let wound = if plan.yarn.construction.is_plied() {
            folding::equal_ply(plied, &aim.plies, &shortens(book, plan, 0))
        } else {
            plied.clone().by(&UNPLIED)
        };
        book.enter("singles.wound-tex", "weight per length of wound singles", wound)
    });
    let at_rest =
        book.enter("singles.rest-tex", "weight per length of singles at rest", folding::at_rest(&wound, &aim.stretch));
    let bobbins: Figure<Count> =
        number(book, "bobbins", "bobbins in a set", plan.bobbins_in_a_set(), "one for each single of the construction");
    let share = book.enter("singles.share", "one bobbin's share of the yarn", folding::equal_share(&bobbins));
    Spun {
        stage: only.stage(),
        at_wheel: only.at_wheel(),
        noun: only.noun(),
        wound,
        at_rest,
        wraps: aim.singles_wraps.clone(),
        twist: aim.singles_at_wheel.clone(),
        fresh: book.figure("singles.fresh-twist"),
        dealt: share.clone(),
        share,
    }
}

static UNPLIED: Formula = Formula { source: "a yarn of singles is its singles", standing: Standing::Standard };

/// Linear density of a kind as wound: its own, or what the others of its ply plan leave.
fn density(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    index: usize,
    plied: &Figure<LinearDensity>,
) -> Figure<LinearDensity> {
    let kind = &plan.singles[index];
    own_density(book, kind, &aim.stretch).unwrap_or_else(|| {
        let left = left_for(book, plan, aim, index, plied);
        book.enter(format!("{}.wound-tex", kind.stage()), format!("weight per length of wound {}", kind.noun()), left)
    })
}

fn left_for(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    index: usize,
    plied: &Figure<LinearDensity>,
) -> Figure<LinearDensity> {
    let (mut own, mut sharing) = (Vec::new(), Vec::new());
    for ply in &plan.ply_plans[plan.singles[index].ply_plan].plies {
        let kind = &plan.singles[ply.singles];
        let shortens = shortens(book, plan, ply.singles);
        match own_density(book, kind, &aim.stretch) {
            Some(density) => own.push((density, shortens)),
            None => sharing.push(shortens),
        }
    }
    let is_like_all = sharing.iter().all(|shortens| shortens.node().structure() == sharing[0].node().structure());
    if own.is_empty() && is_like_all {
        return folding::equal_ply(plied, &aim.plies, &sharing[0]);
    }
    folding::ply_left(plied, &own, &sharing)
}

fn kind(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    index: usize,
    wound: &[Figure<LinearDensity>],
    middling: &Figure<LinearDensity>,
    plied: &Figure<LinearDensity>,
) -> Spun {
    let kind = &plan.singles[index];
    let (stage, noun) = (kind.stage(), kind.noun());
    let own = &wound[index];
    let at_rest = folding::at_rest(own, &aim.stretch);
    let at_rest = book.enter(format!("{stage}.rest-tex"), format!("weight per length of {noun} at rest"), at_rest);
    let beside: Vec<Figure<LinearDensity>> =
        plan.ply_plans[kind.ply_plan].plies.iter().map(|ply| wound[ply.singles].clone()).collect();
    let wraps = wraps(book, aim, own, &beside);
    let wraps = book.enter(format!("{stage}.wraps"), format!("wraps of the {noun}"), wraps);
    let at_wheel = twist::of_kind(&aim.singles_at_wheel, middling, own);
    let at_wheel = book.enter(format!("{stage}.twist-at-wheel"), format!("twist of the {noun} at the wheel"), at_wheel);
    let fresh = twist::fresh(&at_wheel, &aim.stretch);
    let fresh = book.enter(format!("{stage}.fresh-twist"), format!("twist of the {noun} fresh"), fresh);
    let share = folding::ply_share(own, &shortens(book, plan, index), plied);
    let share = book.enter(format!("{stage}.share"), format!("share of one bobbin of {noun} in the yarn"), share);
    let dealt = book.choose(
        &format!("dealt.{stage}"),
        &format!("share of the weight dealt to {noun}"),
        share.value(),
        percent(share.value(), 1),
        "fibre is weighed out by what is likely",
    );
    Spun {
        dealt,
        at_wheel: kind.at_wheel(),
        stage,
        noun,
        wound: own.clone(),
        at_rest,
        wraps,
        twist: at_wheel,
        fresh,
        share,
    }
}

/// Wraps of a kind among the plies that it lies beside: as a middling single, thicker or finer by the root of its weight, so
/// that all of them together are as wide as the yarn.
fn wraps(book: &mut Book, aim: &Aim, own: &Figure<LinearDensity>, beside: &[Figure<LinearDensity>]) -> Figure<Wraps> {
    let geometry = book.figure::<Share>("plied.mean-width");
    thickness::wraps_of_kind(&aim.singles_wraps, own, beside, &geometry)
}

/// The finest singles that each fibre is spun to, by the index of the fibre: which kind they are, and their linear density at
/// rest.
pub fn finest_of_each_fibre(plan: &Plan, spun: &[Spun]) -> Vec<Option<(usize, Figure<LinearDensity>)>> {
    let plies = || plan.ply_plans.iter().flat_map(|plan| &plan.plies);
    (0..plan.fibres.len())
        .map(|fibre| {
            let of_fibre = plies().filter(|ply| ply.supplies().any(|lot| plan.supplies[lot].fibre == fibre));
            let kinds = of_fibre.map(|ply| (ply.singles, &spun[ply.singles].at_rest));
            kinds.min_by(|a, b| a.1.value().total_cmp(&b.1.value())).map(|(kind, at_rest)| (kind, at_rest.clone()))
        })
        .collect()
}
