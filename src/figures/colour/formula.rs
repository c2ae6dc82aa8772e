//! From a section of a braid to a stripe: what it weighs, how much yarn a row takes, how deep a run becomes, how plies drift apart.

use crate::figures::expression::{Figure, Formula, exact};
use crate::units::{Count, Length, Mass, Rows, Share, Standing, YarnPerArea};

/// What one section of a strip weighs: its share of the length is its share of the weight.
pub fn section(strip: &Figure<Mass>, share: &Figure<Share>) -> Figure<Mass> {
    (strip * share).by(&SECTION)
}

static SECTION: Formula = Formula { source: "a section weighs as its length does", standing: Standing::CommonPractice };

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
