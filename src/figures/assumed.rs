//! The numbers that formulas bring along: constants of the trade and defaults that no key of the plan replaces.
//! Each is printed on the workings with its standing and its source. Give-or-take holds nineteen times in twenty.

use super::expression::Shape::{LogNormal, Normal};
use super::ledger::Assumption;
use crate::units::Standing::{CommonPractice, FromMemory, OurChoice, Published};

/// One wpi/√(yd/lb) in base units; the unit table's number, looked up by the test below.
const TRADE_LOFT: f64 = 876.861_586_540_365_4;
/// An inch in metres.
const INCH: f64 = 0.0254;

/// K of finished plied yarn, where no sample measures it.
pub static LOFT: Assumption = Assumption {
    place: "assumed.loft",
    words: "usual loft",
    text: "0.38 ± 0.10 wpi/√(yd/lb)",
    value: 0.38 * TRADE_LOFT,
    give_or_take: 0.10 * TRADE_LOFT,
    shape: LogNormal,
    standing: CommonPractice,
    source: "spinners' tables give 0.35 to 0.38, two measured skeins 0.37 and 0.43; smooth yarns lie high, airy ones low",
};
/// Width of two plies over one single.
pub static THICKER_TWO: Assumption = Assumption {
    place: "assumed.thicker",
    words: "trade rule for two plies",
    text: "1.5 ± 16 %",
    value: 1.5,
    give_or_take: 0.24,
    shape: LogNormal,
    standing: CommonPractice,
    source: "rule of two writers, read in published craft texts",
};
/// Width of three plies over one single.
pub static THICKER_THREE: Assumption = Assumption {
    place: "assumed.thicker-three",
    words: "trade rule for three plies",
    text: "2 ± 16 %",
    value: 2.0,
    give_or_take: 0.32,
    shape: LogNormal,
    standing: CommonPractice,
    source: "rule of two writers, read in published craft texts",
};
/// Wraps of the thicker yarn that a class spins, over those of the plan's.
pub static LESSON_THICK: Assumption = Assumption {
    place: "assumed.lesson-thick",
    words: "thicker by",
    text: "0.7 times the wraps",
    value: 0.7,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "far enough to be felt, near enough to be spun; a class was set 6, 14 and 24 wraps, and the thick one beat a fine spinner",
};
/// Wraps of the thinner one.
pub static LESSON_THIN: Assumption = Assumption {
    place: "assumed.lesson-thin",
    words: "thinner by",
    text: "1.4 times the wraps",
    value: 1.4,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "as far the other way: twice the length from the same weight",
};
/// The most twist that so many round plies can take; `None` where it is not known.
pub fn most_twist(plies: usize) -> Option<&'static Assumption> {
    match plies {
        2 => Some(&MOST_TWIST_TWO),
        3 => Some(&MOST_TWIST_THREE),
        4 => Some(&MOST_TWIST_FOUR),
        _ => None,
    }
}

macro_rules! most_twist {
    ($name:ident, $place:literal, $words:literal, $value:literal) => {
        #[doc = concat!("The most twist of ", $words, " round plies, in turns for each ply's width of its length.")]
        pub static $name: Assumption = Assumption {
            place: $place,
            words: concat!("most turns of ", $words, " round plies"),
            text: stringify!($value),
            value: $value,
            give_or_take: 0.0,
            shape: Normal,
            standing: Published,
            source: "closest approach of helices, derived after J. Bohr and K. Olsen, The ancient art of laying rope, EPL 93 (2011) 60004",
        };
    };
}
most_twist!(MOST_TWIST_TWO, "assumed.most-twist-two", "two", 0.235258);
most_twist!(MOST_TWIST_THREE, "assumed.most-twist-three", "three", 0.162634);
most_twist!(MOST_TWIST_FOUR, "assumed.most-twist-four", "four", 0.123342);
/// How far real yarn departs from touching circles.
pub static BLOOM: Assumption = Assumption {
    place: "assumed.bloom",
    words: "nesting and bloom",
    text: "1 ± 16 %",
    value: 1.0,
    give_or_take: 0.16,
    shape: LogNormal,
    standing: OurChoice,
    source: "no rule for four and more plies was found; the geometry with the spread of the trade's rules",
};
/// How far what is spun misses the weight per length aimed at.
pub static MISS: Assumption = Assumption {
    place: "assumed.miss",
    words: "how near to the target one spins",
    text: "1 ± 10 %",
    value: 1.0,
    give_or_take: 0.10,
    shape: LogNormal,
    standing: OurChoice,
    source: "a practised hand keeps most skeins within 5 %; twice that until the log tells",
};
/// K of the mill handbooks.
pub static HANDBOOK_LOFT: Assumption = Assumption {
    place: "assumed.handbook",
    words: "handbook constant for worsted",
    text: "0.90 wpi/√(yd/lb)",
    value: 0.90 * TRADE_LOFT,
    give_or_take: 0.0,
    shape: Normal,
    standing: Published,
    source: "historical weaving notes on Ashenhurst's rule; Taylor 1909 has 0.95 for cotton",
};
/// Loop constant of stocking stitch.
pub static LOOP_STOCKING: Assumption = Assumption {
    place: "assumed.loop",
    words: "loop constant of stocking stitch",
    text: "17.5",
    value: 17.5,
    give_or_take: 0.0,
    shape: LogNormal,
    standing: Published,
    source: "recommended from six hand-knit swatches (mean 17.2), published craft article; its spread goes with the gauge and is in the knitter's",
};
/// Loop constant of garter stitch.
pub static LOOP_GARTER: Assumption = Assumption {
    place: "assumed.loop",
    words: "loop constant of garter stitch",
    text: "24.5",
    value: 24.5,
    give_or_take: 0.0,
    shape: LogNormal,
    standing: Published,
    source: "1.4 times stocking stitch, derived from swatches of equal weight; published craft article",
};
/// How knitters differ in yarn per area at one gauge. Their yarn per area differs by no more than 3.5 %, but then their gauges
/// differ too, the other way; where the gauge is given it is the loop constant that is not.
pub static KNITTER: Assumption = Assumption {
    place: "assumed.knitter",
    words: "how one knitter differs from others",
    text: "1 ± 13 %",
    value: 1.0,
    give_or_take: 0.13,
    shape: LogNormal,
    standing: Published,
    source: "loop constants of six knitters with one yarn differ by 13 %, their root by half of it; published craft article",
};
/// Yarn in two swatches.
pub static SWATCHES: Assumption = Assumption {
    place: "assumed.swatches",
    words: "two swatches",
    text: "46 ± 14 m",
    value: 46.0,
    give_or_take: 14.0,
    shape: LogNormal,
    standing: OurChoice,
    source: "two squares of 6 in at 5 stitches to the inch take 50 yd, derived",
};
/// How closely one step of the scale must tell a sample's weight.
pub static SAMPLE_WITHIN: Assumption = Assumption {
    place: "assumed.sample-within",
    words: "how well a sample is weighed",
    text: "5 %",
    value: 0.05,
    give_or_take: 0.0,
    shape: Normal,
    standing: CommonPractice,
    source: "an exact spinner keeps ten hanks in a row within 5 %; published craft text",
};
/// The same where yarns are to be matched.
pub static SAMPLE_CLOSELY: Assumption = Assumption {
    place: "assumed.sample-closely",
    words: "how well a sample is weighed that is held closely",
    text: "2 %",
    value: 0.02,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "where two yarns are to be told apart",
};
/// Yarn in one join.
pub static JOIN: Assumption = Assumption {
    place: "assumed.join",
    words: "two ends at each join",
    text: "0.3 ± 0.1 m",
    value: 0.3,
    give_or_take: 0.1,
    shape: LogNormal,
    standing: FromMemory,
    source: "six inches of each end worked in",
};
/// Yarn in the edges of pieces.
pub static EDGES: Assumption = Assumption {
    place: "assumed.edges",
    words: "cast-on, cast-off and seams",
    text: "2 ± 1 %",
    value: 0.02,
    give_or_take: 0.01,
    shape: LogNormal,
    standing: FromMemory,
    source: "three times the width of each edge and twice each seam: one to two hundredths of a pullover, derived",
};
/// K of the mill handbooks for woollen yarn.
pub static HANDBOOK_WOOLLEN: Assumption = Assumption {
    place: "assumed.handbook",
    words: "handbook constant for woollen",
    text: "0.84 wpi/√(yd/lb)",
    value: 0.84 * TRADE_LOFT,
    give_or_take: 0.0,
    shape: Normal,
    standing: Published,
    source: "historical weaving notes on Ashenhurst's rule",
};
/// Yarn kept for mending.
pub static MENDING: Assumption = Assumption {
    place: "assumed.mending",
    words: "yarn kept for mending",
    text: "10 m",
    value: 10.0,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "enough for a few darns; it washes and fades with the garment if it is kept with it",
};
/// Regain of wool in a heated room.
pub static REGAIN_DRY: Assumption = Assumption {
    place: "assumed.regain-dry",
    words: "regain in a heated room",
    text: "9 %",
    value: 0.09,
    give_or_take: 0.0,
    shape: Normal,
    standing: Published,
    source: "wool holds 8 to 10 % water in heated rooms; published craft text",
};
/// Regain of wool at the trade's standard.
pub static REGAIN_DAMP: Assumption = Assumption {
    place: "assumed.regain-damp",
    words: "regain in damp air",
    text: "16 %",
    value: 0.16,
    give_or_take: 0.0,
    shape: Normal,
    standing: Published,
    source: "trade standard for wool: W. H. Dooley, Textiles, 1914, p. 28",
};
/// How stitches to the inch go with length per weight, as a power.
pub static GAUGE_POWER: Assumption = Assumption {
    place: "assumed.gauge-power",
    words: "power by which gauge goes with grist",
    text: "0.3 ± 0.2",
    value: 0.3,
    give_or_take: 0.2,
    shape: Normal,
    standing: OurChoice,
    source: "reports of knitters lie between 0.1, where the needle decides, and 0.5, where the yarn decides",
};
/// How diameters of fibres that are no wool vary.
pub static OTHER_VARIATION: Assumption = Assumption {
    place: "assumed.other-variation",
    words: "variation of diameters, other than wool",
    text: "22 ± 5 %",
    value: 0.22,
    give_or_take: 0.05,
    shape: LogNormal,
    standing: OurChoice,
    source: "that of most lots of wool; nothing was found for this fibre",
};
/// How far a gate on a weight is open.
pub static GATE_WEIGHT: Assumption = Assumption {
    place: "assumed.gate-weight",
    words: "tolerance of a weight",
    text: "5 %",
    value: 0.05,
    give_or_take: 0.0,
    shape: Normal,
    standing: CommonPractice,
    source: "an exact spinner keeps ten hanks in a row within 5 %; published craft text",
};
/// How far loft may be off.
pub static GATE_LOFT: Assumption = Assumption {
    place: "assumed.gate-loft",
    words: "tolerance of loft",
    text: "8 %",
    value: 0.08,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "what a wrap more or less makes of it; as much again in length for the same weight, and seen in the fabric",
};
/// How far a gate on twist is open.
pub static GATE_TWIST: Assumption = Assumption {
    place: "assumed.gate-twist",
    words: "tolerance of twist",
    text: "10 %",
    value: 0.10,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "what a count of twists by eye can tell apart",
};
/// What is read off wraps or twists at the least.
pub static ONE_WRAP: Assumption = Assumption {
    place: "assumed.one-wrap",
    words: "one wrap",
    text: "1",
    value: 1.0,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "what a count of wraps by eye can tell apart",
};
/// Half a twist.
pub static HALF_TWIST: Assumption = Assumption {
    place: "assumed.half-twist",
    words: "half a twist",
    text: "1/2",
    value: 0.5,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "what a count of twists by eye can tell apart",
};
/// Metric window for counting wraps.
pub static WINDOW_METRIC: Assumption = Assumption {
    place: "assumed.window",
    words: "length wrapped",
    text: "3 cm",
    value: 0.03,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "long enough to tell one wrap in twenty, short enough to be wound with care",
};
/// The same in inches.
pub static WINDOW_INCH: Assumption = Assumption {
    place: "assumed.window",
    words: "length wrapped",
    text: "1 in",
    value: INCH,
    give_or_take: 0.0,
    shape: Normal,
    standing: CommonPractice,
    source: "wraps are counted to the inch",
};
/// Width of an empty bobbin over that of a full one, where the plan does not say either.
pub static CORE: Assumption = Assumption {
    place: "assumed.core",
    words: "core of a bobbin",
    text: "1/3 ± 30 % of its full width",
    value: 1.0 / 3.0,
    give_or_take: 0.1,
    shape: LogNormal,
    standing: OurChoice,
    source: "common bobbins; it only draws how a bobbin fills",
};
/// Metric length for counting twists.
pub static COUNTED_METRIC: Assumption = Assumption {
    place: "assumed.counted",
    words: "length counted",
    text: "10 cm",
    value: 0.1,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "a hand's width",
};
/// The same in inches.
pub static COUNTED_INCH: Assumption = Assumption {
    place: "assumed.counted",
    words: "length counted",
    text: "4 in",
    value: 4.0 * INCH,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "a hand's width",
};
/// How far one ply runs longer or shorter than it should, all along a bobbin.
pub static STEP_CONSTANT: Assumption = Assumption {
    place: "assumed.step-constant",
    words: "how much longer one ply runs",
    text: "0 ± 5 %",
    value: 0.0,
    give_or_take: 0.05,
    shape: Normal,
    standing: OurChoice,
    source: "bobbins within 5 % of one another are called good in published craft texts; most spinners come near that",
};
/// How far it wanders along the bobbin.
pub static STEP_WANDER: Assumption = Assumption {
    place: "assumed.step-wander",
    words: "how much it runs longer here and shorter there",
    text: "0 ± 8 %",
    value: 0.0,
    give_or_take: 0.08,
    shape: Normal,
    standing: OurChoice,
    source: "a hand that is steady over a bobbin still drafts thicker and thinner for minutes at a time",
};
/// Over which length a hand forgets how thick it drafted.
pub static WANDER_LENGTH: Assumption = Assumption {
    place: "assumed.wander-length",
    words: "yarn over which that wanders",
    text: "20 m",
    value: 20.0,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "the yarn of about a quarter of an hour",
};
/// How wide a swatch is drawn where no piece is named.
pub static SWATCH_WIDTH: Assumption = Assumption {
    place: "assumed.swatch-width",
    words: "width of a swatch",
    text: "20 cm",
    value: 0.2,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "a swatch that can be worked in an evening; name the pieces of the garment to see them",
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, unit};

    #[test]
    fn trade_loft_is_the_unit_of_the_tables() {
        assert_eq!(unit(Kind::Loft, "wpi/√(yd/lb)").map(|unit| unit.factor), Some(TRADE_LOFT));
        assert_eq!(unit(Kind::Length, "in").map(|unit| unit.factor), Some(INCH));
    }
}
