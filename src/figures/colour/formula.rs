//! From a section of a braid to a stripe: what it weighs, how much yarn a row takes, how deep a run becomes, how plies drift apart.

use crate::figures::expression::{Figure, Formula, exact, rest, with};
use crate::units::{Count, Length, LinearDensity, Mass, Rows, Share, Standing, YarnPerArea, Yield};

/// Finished yarn from one section of a strip: what it weighs, by its share of the length, over the weight per length of its ply in
/// the yarn. `of_ply` is what one ply is of the weight of the yarn, `washed` the weight per length of the yarn.
pub fn run(
    strip: &Figure<Mass>,
    section: &Figure<Share>,
    of_ply: &Figure<Share>,
    washed: &Figure<LinearDensity>,
    waste: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<Length> {
    (strip * section / of_ply * rest(wash_lightens) / (with(waste) * washed)).by(&SECTION)
}

/// Yarn from one section of a strip, with nothing lost: what the section weighs ÷ strips × the length of a weight.
///
/// [`run`] is the same with what is lost on the way.
pub fn run_of_strip(section: &Figure<Mass>, strips: &Figure<Count>, yarn: &Figure<Yield>) -> Figure<Length> {
    (section / strips * yarn).by(&SECTION)
}

/// What is solid of a yarn that is looked at in so many places.
pub fn solid_share(solid: &Figure<Count>, places: &Figure<Count>) -> Figure<Share> {
    (solid / places).by(&Formula { source: "what is alike, over all", standing: Standing::Standard })
}

/// The mean run of a bobbin: its yarn over the number of its runs.
pub fn mean_run(
    fibre: &Figure<Mass>,
    runs: &Figure<Count>,
    of_ply: &Figure<Share>,
    washed: &Figure<LinearDensity>,
    waste: &Figure<Share>,
    wash_lightens: &Figure<Share>,
) -> Figure<Length> {
    (fibre / of_ply * rest(wash_lightens) / (with(waste) * washed) / runs).by(&SECTION)
}

static SECTION: Formula = Formula {
    source: "a section weighs as its length does; the sum that spinners use, read in published craft texts",
    standing: Standing::CommonPractice,
};

/// Yarn in a metre of height of a piece so wide: yarn per area × width. A pure number, metres per metre.
pub fn yarn_per_height(per_area: &Figure<YarnPerArea>, width: &Figure<Length>) -> Figure<Share> {
    (per_area * width).by(&ROWS)
}

/// Yarn in one row: that in a metre of height ÷ rows per metre.
pub fn yarn_in_row(per_height: &Figure<Share>, rows: &Figure<Rows>) -> Figure<Length> {
    (per_height / rows).by(&ROWS)
}

/// How high so much yarn grows.
pub fn depth(yarn: &Figure<Length>, per_height: &Figure<Share>) -> Figure<Length> {
    (yarn / per_height).by(&ROWS)
}

/// How many rows a height has.
pub fn rows_of(height: &Figure<Length>, rows: &Figure<Rows>) -> Figure<Count> {
    (rows * height).by(&ROWS)
}

/// How high so many rows grow.
pub fn height_of(count: &Figure<Count>, rows: &Figure<Rows>) -> Figure<Length> {
    (count / rows).by(&ROWS)
}

static ROWS: Formula = Formula { source: "yarn goes into rows one after the other", standing: Standing::Standard };

/// Out of step: a ply that runs p longer than the other is p × R ahead once R is plied. Derived by the craft's own rule of three.
pub fn out_of_step(longer: &Figure<Share>, plied: &Figure<Length>) -> Figure<Length> {
    (plied * longer).by(&RULE_OF_THREE)
}

/// A run is lost once plies are out of step by half of it: after run ÷ 2 ÷ p.
pub fn lost_after(run: &Figure<Length>, longer: &Figure<Share>) -> Figure<Length> {
    let halves = exact::<Count>("2", 2.0);
    (run / halves / longer).by(&RULE_OF_THREE)
}

static RULE_OF_THREE: Formula =
    Formula { source: "rule of three; half a run is our choice", standing: Standing::OurChoice };
