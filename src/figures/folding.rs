//! From fibre to washed yarn: what a length weighs on its way.
//!
//! Four lengths are kept apart: wound (under the pull of wheel or niddy-noddy), at rest, plied, and washed.
//! Contraction by twist enters nowhere: a weighed length of singles already holds it.

use super::expression::{Figure, Formula, rest, sum, with};
use crate::units::{Count, Length, LinearDensity, Mass, Share, Standing};

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

/// Linear density of one of `plies` equal singles as wound, from that of the washed yarn.
///
/// What the wash takes off in weight is given back; what plying and washing take off in length is given back.
pub fn wound_singles(
    washed: &Figure<LinearDensity>,
    plies: &Figure<Count>,
    plying_shortens: &Figure<Share>,
    keep: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<LinearDensity> {
    (washed * rest(plying_shortens) * keep / (rest(wash_lightens) * plies)).by(&Formula {
        source: "masses per length add: W. Davis, Hosiery Manufacture, 1920, ch. VI",
        standing: Standing::Published,
    })
}

/// Linear density at rest: the length under tension was longer by the stretch.
pub fn at_rest(wound: &Figure<LinearDensity>, winding_stretch: &Figure<Share>) -> Figure<LinearDensity> {
    (wound * with(winding_stretch)).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// Linear density of singles plied together: their sum, over what is left of the length.
///
/// # Source
/// W. Davis, *Hosiery Manufacture*, 1920, pp. 46-56 (in counts, before plying shortens: 1 ÷ R = Σ 1 ÷ N).
pub fn plied(singles: &[Figure<LinearDensity>], plying_shortens: &Figure<Share>) -> Figure<LinearDensity> {
    (sum(singles) / rest(plying_shortens))
        .by(&Formula { source: "W. Davis, Hosiery Manufacture, 1920, ch. VI", standing: Standing::Published })
}

/// Weight of a measured length.
pub fn check_weight(density: &Figure<LinearDensity>, length: &Figure<Length>) -> Figure<Mass> {
    (density * length).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Linear density of a skein from its length and weight.
pub fn weighed(weight: &Figure<Mass>, length: &Figure<Length>) -> Figure<LinearDensity> {
    (weight / length).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
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
