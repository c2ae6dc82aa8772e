//! How much yarn a garment takes: from its swatch, from its gauge, or as its pattern says.

use super::expression::{Figure, Formula, root};
use crate::units::{Area, Length, LinearDensity, Mass, Rows, Share, Standing, Stitches, YarnPerArea};

/// Yarn per area of plain knitting: √(Ks × stitches × rows), times how this knitter differs from others.
///
/// Ks = stitch density × loop², both of one relaxed fabric (Munden 1959, *J. Textile Inst.* 50, T448; from memory); the value
/// for hand knitting is from measured swatches.
pub fn yarn_per_area(
    loop_constant: &Figure<Share>,
    stitches: &Figure<Stitches>,
    rows: &Figure<Rows>,
    knitter: &Figure<Share>,
) -> Figure<YarnPerArea> {
    (root(&(loop_constant * (stitches * rows))) * knitter).by(&Formula {
        source: "loop geometry after Munden, J. Textile Inst. 50 (1959), with six measured swatches",
        standing: Standing::Published,
    })
}

/// Yarn of a garment from its area.
pub fn by_area(per_area: &Figure<YarnPerArea>, area: &Figure<Area>) -> Figure<Length> {
    (per_area * area).by(&Formula { source: "area times yarn per area", standing: Standing::Standard })
}

/// Yarn of a garment from the weight of a measured swatch.
pub fn by_swatch_weight(
    weight: &Figure<Mass>,
    area: &Figure<Area>,
    swatch: &Figure<Area>,
    yarn: &Figure<LinearDensity>,
) -> Figure<Length> {
    (weight * (area / swatch) / yarn).by(&SWATCH)
}

/// Yarn of a garment from the length of yarn in a measured swatch.
pub fn by_swatch_length(length: &Figure<Length>, area: &Figure<Area>, swatch: &Figure<Area>) -> Figure<Length> {
    (length * (area / swatch)).by(&SWATCH)
}

static SWATCH: Formula = Formula {
    source: "yarn goes with area: B. Thompson, Rake Knitting Patterns, 1923, sec. 9, knits a piece to see",
    standing: Standing::Published,
};
