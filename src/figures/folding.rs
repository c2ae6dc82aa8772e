//! From fibre to washed yarn: what a length weighs on its way.
//!
//! Four lengths are kept apart: wound (under the pull of wheel or niddy-noddy), at rest, plied, and washed.
//! Contraction by twist enters nowhere: a weighed length of singles already holds it.

use super::expression::dimension::{Over, one, reciprocal};
use super::expression::{Figure, Formula, rest, sum, with};
use crate::units::{Count, Length, LinearDensity, Mass, Quantity, Share, Standing, Yield};

/// What is left of a wound length after the wash: (1 − shortening) ÷ (1 + stretch).
pub fn keep(wash_shortens: &Figure<Share>, winding_stretch: &Figure<Share>) -> Figure<Share> {
    (rest(wash_shortens) / with(winding_stretch))
        .by(&Formula { source: "lengths multiply along the way; our model", standing: Standing::OurChoice })
}

/// The same as a sample measures it: a loop of its skein after the wash over the loop as wound.
/// It measures the product, and so takes the place of both factors.
pub fn kept(washed_loop: &Figure<Length>, wound_loop: &Figure<Length>) -> Figure<Share> {
    (washed_loop / wound_loop).by(&Formula { source: "ratio of two readings", standing: Standing::Standard })
}

/// Linear density of the fresh yarn as wound, from that of the washed yarn.
///
/// What the wash takes off in weight is given back; what it takes off in length is given back.
pub fn fresh(
    washed: &Figure<LinearDensity>,
    keep: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<LinearDensity> {
    (washed * keep / rest(wash_lightens)).by(&WASHED)
}

/// Linear density of the washed yarn, from that of the fresh one: the line above the other way round.
pub fn washed(
    fresh: &Figure<LinearDensity>,
    keep: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<LinearDensity> {
    (fresh * rest(wash_lightens) / keep).by(&WASHED)
}

static WASHED: Formula =
    Formula { source: "mass per length: what the wash takes of each", standing: Standing::Standard };

/// Linear density of one of `plies` equal plies as wound, from that of the fresh plied yarn: plied × (1 − shortening) ÷ plies.
pub fn equal_ply(
    plied: &Figure<LinearDensity>,
    plies: &Figure<Count>,
    plying_shortens: &Figure<Share>,
) -> Figure<LinearDensity> {
    (plied * rest(plying_shortens) / plies).by(&FOLDED)
}

/// Linear density that is left for each of some plies beside others of their own grist, as wound:
/// (plied − Σ own ÷ (1 − own shortening)) ÷ Σ 1 ÷ (1 − shortening), the last sum over the plies that share what is left.
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, p. 52 (in counts: the missing partner B = AR ÷ (A − R)).
pub fn ply_left(
    plied: &Figure<LinearDensity>,
    own: &[(Figure<LinearDensity>, Figure<Share>)],
    sharing: &[Figure<Share>],
) -> Figure<LinearDensity> {
    let taken: Vec<Figure<LinearDensity>> = own.iter().map(|(density, shortens)| density / rest(shortens)).collect();
    let lengths: Vec<Figure<Share>> = sharing.iter().map(|shortens| one::<Share>() / rest(shortens)).collect();
    let left = if taken.is_empty() { plied.clone() } else { plied - sum(&taken) };
    (left / sum(&lengths)).by(&FOLDED)
}

/// Linear density of plies of their own grist and shortening, plied: Σ density ÷ (1 − shortening).
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, pp. 46-56 (in counts, before plying shortens: 1 ÷ R = Σ 1 ÷ N).
pub fn unlike_plied(plies: &[(Figure<LinearDensity>, Figure<Share>)]) -> Figure<LinearDensity> {
    let taken: Vec<Figure<LinearDensity>> = plies.iter().map(|(density, shortens)| density / rest(shortens)).collect();
    sum(&taken).by(&FOLDED)
}

/// What one ply is of the weight of the yarn: density ÷ (1 − shortening) ÷ that of the plied yarn.
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, pp. 48-55: weights are inverse to counts.
pub fn ply_share(
    ply: &Figure<LinearDensity>,
    shortens: &Figure<Share>,
    plied: &Figure<LinearDensity>,
) -> Figure<Share> {
    (ply / rest(shortens) / plied).by(&FOLDED)
}

/// What one bobbin is of the weight of the yarn where all are alike: one over their number.
pub fn equal_share(bobbins: &Figure<Count>) -> Figure<Share> {
    (one::<Count>() / bobbins).by(&Formula { source: "equal parts", standing: Standing::Standard })
}

static FOLDED: Formula = Formula {
    source: "masses per length add: W. Davis, Hosiery Manufacture, 1920, ch. VI",
    standing: Standing::Published,
};

/// Linear density as wound, from that at rest: what lies under tension is longer by the stretch.
pub fn wound(at_rest: &Figure<LinearDensity>, winding_stretch: &Figure<Share>) -> Figure<LinearDensity> {
    (at_rest / with(winding_stretch)).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// Linear density at rest: the length under tension was longer by the stretch.
pub fn at_rest(wound: &Figure<LinearDensity>, winding_stretch: &Figure<Share>) -> Figure<LinearDensity> {
    (wound * with(winding_stretch)).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// Weight washed per length as wound: what the wash took off in length is given back, what it took off in weight is not.
pub fn as_wound(washed: &Figure<LinearDensity>, keep: &Figure<Share>) -> Figure<LinearDensity> {
    (washed * keep).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// Weight of a measured length.
pub fn check_weight(density: &Figure<LinearDensity>, length: &Figure<Length>) -> Figure<Mass> {
    (density * length).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Length of yarn that weighs so much.
pub fn length_of(weight: &Figure<Mass>, density: &Figure<LinearDensity>) -> Figure<Length> {
    (weight / density).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Linear density of a skein from its length and weight.
pub fn weighed(weight: &Figure<Mass>, length: &Figure<Length>) -> Figure<LinearDensity> {
    (weight / length).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Length of yarn that a round weight of it has: length ÷ weight × the round weight.
pub fn in_a_weight(length: &Figure<Length>, weight: &Figure<Mass>, round: &Figure<Mass>) -> Figure<Length> {
    (length / weight * round)
        .by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// How much shorter something has become: 1 − after ÷ before.
pub fn shortening(after: &Figure<Length>, before: &Figure<Length>) -> Figure<Share> {
    rest(&(after / before)).by(&Formula { source: "ratio of two readings", standing: Standing::Standard })
}

/// What is left of a length that shortens by a share of it.
pub fn shortened(length: &Figure<Length>, shortens: &Figure<Share>) -> Figure<Length> {
    (length * rest(shortens)).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// How much more of one there is than of another: one ÷ other − 1.
pub fn further<Q: Quantity + Over<Q, Out = Share>>(one: &Figure<Q>, other: &Figure<Q>) -> Figure<Share> {
    (one / other - super::expression::dimension::one::<Share>())
        .by(&Formula { source: "ratio of two readings", standing: Standing::Standard })
}

/// What is in a bag or on a bobbin: full − empty.
pub fn net(full: &Figure<Mass>, empty: &Figure<Mass>) -> Figure<Mass> {
    (full - empty).by(&Formula { source: "the full one less the empty one", standing: Standing::Standard })
}

/// One of equal parts of a weight.
pub fn part(weight: &Figure<Mass>, parts: &Figure<Count>) -> Figure<Mass> {
    (weight / parts).by(&Formula { source: "equal parts", standing: Standing::Standard })
}

/// A length and a reserve on top of it.
pub fn with_reserve(length: &Figure<Length>, reserve: &Figure<Share>) -> Figure<Length> {
    (length * with(reserve)).by(&Formula { source: "lengths add", standing: Standing::Standard })
}

/// Count of a folded yarn, where a greater number is a finer yarn: 1 ÷ Σ 1 ÷ count.
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, pp. 46-48; J. T. Taylor, *Cotton Weaving and Designing*, 1909, p. 308; C. P. Brooks,
/// *Cotton Manufacturing*, 1892, p. 145.
pub fn resultant(counts: &[Figure<Yield>]) -> Figure<Yield> {
    let each: Vec<Figure<LinearDensity>> = counts.iter().map(reciprocal).collect();
    reciprocal(&sum(&each)).by(&FOLDED)
}

/// Count of the yarn that has to be folded with another for a count: 1 ÷ (1 ÷ wanted − 1 ÷ other).
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, p. 52.
pub fn partner(wanted: &Figure<Yield>, other: &Figure<Yield>) -> Figure<Yield> {
    reciprocal(&(reciprocal(wanted) - reciprocal(other))).by(&FOLDED)
}

/// Count of a yarn by weighing a length of it: hanks in a pound, length ÷ hank ÷ (weight ÷ pound).
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, p. 39; J. T. Taylor, *Cotton Weaving and Designing*, 1909, p. 329.
pub fn count_of(
    length: &Figure<Length>,
    weight: &Figure<Mass>,
    hank: &Figure<Length>,
    pound: &Figure<Mass>,
) -> Figure<Share> {
    (length / hank / (weight / pound)).by(&FOLDED)
}

/// Length of a skein: its loops times one of them.
pub fn skein_length(loops: &Figure<Count>, one: &Figure<Length>) -> Figure<Length> {
    (one * loops).by(&Formula { source: "a skein is so many loops", standing: Standing::Standard })
}

/// Fibre for a length of washed yarn: length × weight per length × (1 + waste) ÷ (1 − lightening).
/// Waste is a share of the fibre that stays in the yarn.
pub fn fibre_for(
    length: &Figure<Length>,
    washed: &Figure<LinearDensity>,
    waste: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<Mass> {
    (length * washed * with(waste) / rest(wash_lightens)).by(&Formula {
        source: "the sum that spinners use, read in published craft texts",
        standing: Standing::CommonPractice,
    })
}

/// Washed yarn from fibre: the line above the other way round.
pub fn yarn_from(
    fibre: &Figure<Mass>,
    washed: &Figure<LinearDensity>,
    waste: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<Length> {
    (fibre * rest(wash_lightens) / (with(waste) * washed)).by(&Formula {
        source: "the sum that spinners use, read in published craft texts",
        standing: Standing::CommonPractice,
    })
}
