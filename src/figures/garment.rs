//! How much yarn a garment takes: areas of outlines, yarn in an area, cloth by its threads, and what another grist does.

use super::expression::dimension::{Over, reciprocal, square};
use super::expression::{Figure, Formula, pi, power, rest, root, with};
use crate::units::{
    Area, Count, Ends, EndsToAWrap, Firmness, Length, LinearDensity, Mass, Picks, PicksToAnEnd, Quantity, RootYield,
    Rows, RowsToAStitch, Share, Standing, Stitches, YarnPerArea, Yield,
};

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

/// Yarn per area of crochet from its own gauge: the yarn of one stitch goes with its width, and there are so many to an area.
///
/// One swatch of each of two stitches was measured (published craft article); the rest is derived, and weak.
pub fn crocheted_per_area(
    yarn_in_one: &Figure<Share>,
    stitches: &Figure<Stitches>,
    rows: &Figure<Rows>,
) -> Figure<YarnPerArea> {
    (yarn_in_one / stitches * (stitches * rows)).by(&Formula {
        source: "length of one stitch over its width, from measured swatches of one yarn; published craft article, derived",
        standing: Standing::Published,
    })
}

/// Yarn per area in one stitch from that in another of the same yarn: by what each takes of stocking stitch.
pub fn in_another_stitch(
    per_area: &Figure<YarnPerArea>,
    times: &Figure<Share>,
    known_times: Option<&Figure<Share>>,
) -> Figure<YarnPerArea> {
    let figure = match known_times {
        Some(known) => per_area * times / known,
        None => per_area * times,
    };
    figure.by(&Formula {
        source: "stitches against stocking stitch of the same yarn, from measured swatches; published craft articles",
        standing: Standing::Published,
    })
}

/// Yarn per area of a measured swatch, from its weight.
///
/// Thompson knits a piece to see how far one ounce will go.
pub fn per_area_by_weight(
    weight: &Figure<Mass>,
    swatch: &Figure<Area>,
    yarn: &Figure<LinearDensity>,
) -> Figure<YarnPerArea> {
    (weight / yarn / swatch).by(&SWATCH)
}

/// Yarn per area of a measured swatch, from the length of yarn in it.
pub fn per_area_by_length(length: &Figure<Length>, swatch: &Figure<Area>) -> Figure<YarnPerArea> {
    (length / swatch).by(&SWATCH)
}

static SWATCH: Formula = Formula {
    source: "yarn goes with area: B. Thompson, Rake Knitting Patterns, 1923, sec. 9, knits a piece to see",
    standing: Standing::Published,
};

/// Stitches to a length at which a yarn is usually knitted, from its grist alone: firmness × √yield.
///
/// A fabric of one cover has stitches that go with the root of length per weight (Munden; from memory); the firmness is that of a
/// handspinners' table and one swatch. An estimate, until a swatch is worked.
pub fn stitches_by_grist(firmness: &Figure<Firmness>, yarn: &Figure<LinearDensity>) -> Figure<Stitches> {
    let metres: Figure<Yield> = reciprocal(yarn);
    let root: Figure<RootYield> = root(&metres);
    (firmness * root).by(&Formula {
        source: "constant cover after Munden, J. Textile Inst. 50 (1959), from memory; firmness derived from a handspinners' table",
        standing: Standing::FromMemory,
    })
}

/// Rows to be had of so much yarn, by length or by weight: a number of things, since a row is one.
pub fn rows_to_be_had<Q>(there_is: &Figure<Q>, row: &Figure<Q>) -> Figure<Count>
where
    Q: Quantity + Over<Q, Out = Share>,
{
    (there_is / row)
        .seen_as::<Count>()
        .by(&Formula { source: "yarn there is over the yarn of one row", standing: Standing::Standard })
}

/// Stitches across a width.
pub fn stitches_in(width: &Figure<Length>, stitches: &Figure<Stitches>) -> Figure<Count> {
    (stitches * width).by(&Formula { source: "stitches to a length, times the length", standing: Standing::Standard })
}

/// Rows from stitches, where only these are known.
pub fn rows_by_stitches(stitches: &Figure<Stitches>, rows_to_a_stitch: &Figure<RowsToAStitch>) -> Figure<Rows> {
    (stitches * rows_to_a_stitch)
        .by(&Formula { source: "rows over stitches of measured swatches", standing: Standing::OurChoice })
}

/// How many times a swatch goes into a piece: area ÷ area.
pub fn swatches_in(piece: &Figure<Area>, swatch: &Figure<Area>) -> Figure<Share> {
    (piece / swatch).by(&SWATCH)
}

/// Weight of a piece by a swatch of it: the weight of the swatch × how many times it goes into the piece.
pub fn by_swatch(swatch: &Figure<Mass>, times: &Figure<Share>) -> Figure<Mass> {
    (swatch * times).by(&SWATCH)
}

/// Around a garment: the body and the room in it.
pub fn around(body: &Figure<Length>, ease: &Figure<Length>) -> Figure<Length> {
    (body + ease).by(&Formula { source: "body and the room in it", standing: Standing::Standard })
}

static GEOMETRY: Formula = Formula { source: "geometry", standing: Standing::Standard };

/// Width × height.
pub fn rectangle(width: &Figure<Length>, height: &Figure<Length>) -> Figure<Area> {
    (width * height).by(&GEOMETRY)
}

/// (lower + upper) ÷ 2 × height; of a sector of a ring the two arcs and its depth.
pub fn trapezoid(lower: &Figure<Length>, upper: &Figure<Length>, height: &Figure<Length>) -> Figure<Area> {
    ((lower + upper) * height / two()).by(&GEOMETRY)
}

/// width × height ÷ 2.
pub fn triangle(width: &Figure<Length>, height: &Figure<Length>) -> Figure<Area> {
    (width * height / two()).by(&GEOMETRY)
}

/// π × across² ÷ 4.
pub fn disc(across: &Figure<Length>) -> Figure<Area> {
    (pi::<Share>() * square(across) / Figure::<Share>::constant("4", 4.0)).by(&GEOMETRY)
}

/// Around² ÷ 4π: a disc by its edge, as a flat crown of a hat has.
pub fn crown(around: &Figure<Length>) -> Figure<Area> {
    (square(around) / (Figure::<Share>::constant("4", 4.0) * pi::<Share>())).by(&GEOMETRY)
}

/// Radius of the arc over a chord: (chord² ÷ 4 + height²) ÷ (2 × height).
pub fn radius_of_arc(chord: &Figure<Length>, height: &Figure<Length>) -> Figure<Length> {
    let four: Figure<Share> = Figure::constant("4", 4.0);
    ((square(chord) / four + square(height)) / (two() * height)).by(&GEOMETRY)
}

/// Area of a segment of a circle: R² (θ − sin θ) ÷ 2 with θ = 2 asin(chord ÷ 2R), written with the arc tangent of chord ÷ 2 over
/// what is left of the radius, which is the same for an arc of at most half a circle.
pub fn segment(chord: &Figure<Length>, height: &Figure<Length>, radius: &Figure<Length>) -> Figure<Area> {
    // tan(θ/4) = height ÷ (chord ÷ 2): no root of a difference, so that half a circle is as exact as a flat arc.
    let slope = (two() * height / chord).seen_as::<crate::units::Slope>();
    let quarter = super::expression::atan(&slope);
    let whole = Figure::<Share>::constant("4", 4.0) * quarter;
    let sine = super::expression::sin(&whole);
    (square(radius) * (whole.seen_as::<Share>() - sine) / two()).by(&GEOMETRY)
}

fn two() -> Figure<Share> {
    Figure::constant("2", 2.0)
}

static NECK: Formula = Formula {
    source: "seven tenths of the width times the depth are cut out for a neck; derived",
    standing: Standing::OurChoice,
};

/// What a curved neck takes out of a piece.
pub fn neck_cut(width: &Figure<Length>, depth: &Figure<Length>) -> Figure<Area> {
    (Figure::<Share>::constant("0.7", 0.7) * (width * depth)).by(&NECK)
}

/// What two curved armholes take out of a piece that is narrower above them: straight but for the lowest third, of which half is left.
pub fn armhole_cut(width: &Figure<Length>, across: &Figure<Length>, armhole: &Figure<Length>) -> Figure<Area> {
    let share = Figure::<Share>::constant("5", 5.0) / Figure::<Share>::constant("6", 6.0);
    (share * ((width - across) * armhole)).by(&Formula {
        source: "straight but for the lowest third, of which half is left",
        standing: Standing::OurChoice,
    })
}

/// The cap of a set-in sleeve: six tenths of the rectangle around it.
pub fn cap(width: &Figure<Length>, height: &Figure<Length>) -> Figure<Area> {
    (Figure::<Share>::constant("0.6", 0.6) * (width * height)).by(&Formula {
        source: "a bell curve fills six tenths of the rectangle around it",
        standing: Standing::FromMemory,
    })
}

/// A yoke that narrows at half, three quarters and the end of its depth, by a quarter, a third and two fifths of its stitches: the
/// whole for half of it, three quarters for a quarter, half for the last.
pub fn stepped_yoke(around: &Figure<Length>, depth: &Figure<Length>) -> Figure<Area> {
    let share = Figure::<Share>::constant("1/2", 0.5)
        + Figure::<Share>::constant("3/4", 0.75) / Figure::<Share>::constant("4", 4.0)
        + Figure::<Share>::constant("1/2", 0.5) / Figure::<Share>::constant("4", 4.0);
    (around * depth * share).by(&Formula {
        source: "decreases at half, three quarters and the end; proportions from memory",
        standing: Standing::FromMemory,
    })
}

/// The rounded tip of a mitten: six tenths of the rectangle around it.
pub fn tip(around: &Figure<Length>, height: &Figure<Length>) -> Figure<Area> {
    (Figure::<Share>::constant("0.6", 0.6) * (around * height)).by(&Formula {
        source: "a rounded tip fills six tenths of the rectangle around it; derived",
        standing: Standing::OurChoice,
    })
}

/// A border all around a rectangle, its corners counted once.
pub fn frame(width: &Figure<Length>, length: &Figure<Length>, border: &Figure<Length>) -> Figure<Area> {
    (two() * (border * (width + length - two() * border))).by(&GEOMETRY)
}

/// Around the joined yoke: body and both sleeves, less what is set aside at both underarms on each.
pub fn joined(chest: &Figure<Length>, sleeve: &Figure<Length>, underarm: &Figure<Length>) -> Figure<Length> {
    let four: Figure<Share> = Figure::constant("4", 4.0);
    (chest + two() * sleeve - four * underarm).by(&GEOMETRY)
}

static FINISHING: Formula = Formula {
    source: "finished over what is left, never times what is lost: published weaving notes (an on-loom length of 10 that becomes 8 has shrunk by 20 %)",
    standing: Standing::Published,
};

/// What has to lie on the loom for so much when finished: finished ÷ (1 − shrinkage).
pub fn on_the_loom(finished: &Figure<Length>, shrinks: &Figure<Share>) -> Figure<Length> {
    (finished / rest(shrinks)).by(&FINISHING)
}

/// How long the warp is wound: cloth and its take-up and two fringes for each, and what is left on the loom.
pub fn warp_length(
    woven: &Figure<Length>,
    take_up: &Figure<Share>,
    fringe: Option<&Figure<Length>>,
    count: &Figure<Count>,
    waste: &Figure<Length>,
) -> Figure<Length> {
    let each = match fringe {
        Some(fringe) => woven * with(take_up) + two() * fringe,
        None => woven * with(take_up),
    };
    (each * count + waste).by(&WEAVING)
}

/// Yarn of the warp: ends times its length.
pub fn warp(ends: &Figure<Count>, length: &Figure<Length>) -> Figure<Length> {
    (length * ends).by(&WEAVING)
}

/// Yarn of the weft: width in the reed and its take-up, for each pick.
pub fn weft(
    reed: &Figure<Length>,
    take_up: &Figure<Share>,
    picks: &Figure<Picks>,
    woven: &Figure<Length>,
    count: &Figure<Count>,
) -> Figure<Length> {
    (reed * with(take_up) * (picks * woven) * count).by(&WEAVING)
}

static WEAVING: Formula = Formula {
    source: "planning of a weaving project, published weaving notes; the weft on the safe side",
    standing: Standing::Published,
};

/// Ends to a width from wraps: of the wraps in that width so many.
pub fn sett(wraps: &Figure<crate::units::Wraps>, share: &Figure<EndsToAWrap>) -> Figure<Ends> {
    (wraps * share).by(&Formula {
        source: "half of the wraps for plain weave, two thirds for twill; after Ashenhurst, from memory",
        standing: Standing::FromMemory,
    })
}

/// As many picks as ends.
pub fn balanced(ends: &Figure<Ends>) -> Figure<Picks> {
    (ends * Figure::<PicksToAnEnd>::constant("1", 1.0))
        .by(&Formula { source: "as many picks as ends", standing: Standing::CommonPractice })
}

/// How much wider a fabric of the same stitches becomes where the yarn is so many times as heavy for its length: times^power.
pub fn wider(heavier: &Figure<Share>, power_of_grist: &Figure<Share>) -> Figure<Share> {
    power(heavier, power_of_grist).by(&Formula {
        source: "gauge goes with grist to a power between 0.1, where the needle decides, and 0.5, where the yarn decides",
        standing: Standing::OurChoice,
    })
}
