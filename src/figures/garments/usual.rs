//! What is usual of garments: room that a body is given, proportions of pieces, how far shapes and swatches are off.

use crate::figures::expression::Shape::{LogNormal, Normal};
use crate::figures::ledger::Assumption;
use crate::units::Standing::{self, FromMemory, OurChoice, Published};

const fn row(
    place: &'static str,
    words: &'static str,
    text: &'static str,
    value: f64,
    give_or_take: f64,
    standing: Standing,
    source: &'static str,
) -> Assumption {
    Assumption { place, words, text, value, give_or_take, shape: LogNormal, standing, source }
}

/// How far a top reaches below the waist.
pub static BELOW_WAIST: Assumption = row(
    "assumed.below-waist",
    "how far it reaches below the waist",
    "14 ± 3 cm",
    0.14,
    0.03,
    Published,
    "a top to the hip is five to six inches longer than the back is to the waist; published craft article",
);
/// What a straight armhole has beyond the body's.
pub static ARMHOLE_ROOM: Assumption = row(
    "assumed.armhole-room",
    "room in a straight armhole",
    "5 ± 2 cm",
    0.05,
    0.02,
    OurChoice,
    "its sleeve begins on the arm and not at the shoulder",
);
/// What a sleeve has beyond the arm.
pub static ARM_ROOM: Assumption = row(
    "assumed.arm-room",
    "room to bend an arm",
    "2.5 ± 1.5 cm",
    0.025,
    0.015,
    OurChoice,
    "beside half of the ease that the chest has",
);
/// What a cuff has beyond the wrist.
pub static CUFF_ROOM: Assumption =
    row("assumed.cuff-room", "room for a hand in the cuff", "6 ± 2 cm", 0.06, 0.02, OurChoice, "a hand has to pass");
/// What a round neck has beyond the body's.
pub static NECK_ROOM: Assumption =
    row("assumed.neck-room", "room for a head in the neck", "13 ± 4 cm", 0.13, 0.04, OurChoice, "a head has to pass");
/// What a yoke has beyond the armhole, along the fabric.
pub static YOKE_ROOM: Assumption = row(
    "assumed.yoke-room",
    "what a yoke has beyond the armhole",
    "5 ± 2 cm",
    0.05,
    0.02,
    OurChoice,
    "it runs aslant over the shoulder",
);
/// What is set aside at an underarm, of the chest.
pub static UNDERARM: Assumption = row(
    "assumed.underarm",
    "set aside at an underarm, of the chest",
    "1/16 ± 1.5 %",
    0.0625,
    0.015,
    OurChoice,
    "a sixteenth",
);
/// Cap of a sleeve, of its armhole.
pub static CAP: Assumption = row(
    "assumed.cap",
    "height of a cap, of its armhole",
    "67 ± 5 %",
    0.67,
    0.05,
    FromMemory,
    "two thirds, or a little less",
);
/// Width of a neck, of once around it.
pub static NECK_WIDTH: Assumption =
    row("assumed.neck-width", "width of a neck, of once around", "50 ± 6 %", 0.5, 0.06, OurChoice, "half");
/// Depth of a neck in front, of once around it.
pub static NECK_DEPTH: Assumption = row(
    "assumed.neck-depth",
    "depth of a neck in front, of once around",
    "27 ± 6 %",
    0.27,
    0.06,
    OurChoice,
    "a quarter and a little",
);
/// Depth at the back.
pub static BACK_NECK_DEPTH: Assumption = row(
    "assumed.back-neck-depth",
    "depth of a neck at the back, of once around",
    "7 ± 3 %",
    0.07,
    0.03,
    OurChoice,
    "two fingers",
);
/// Height of a neckband.
pub static NECKBAND: Assumption =
    row("assumed.neckband", "height of a neckband", "2.5 ± 0.5 cm", 0.025, 0.005, OurChoice, "an inch");
/// Width of a front band.
pub static BAND: Assumption =
    row("assumed.band", "width of a front band", "4 ± 1 cm", 0.04, 0.01, OurChoice, "it carries a button");
/// What a hat is narrower than the head.
pub static HAT_NARROWER: Assumption = row(
    "assumed.hat-narrower",
    "how much narrower a hat is than the head",
    "7.5 ± 2.5 %",
    0.075,
    0.025,
    Published,
    "five to ten per cent; published table of head sizes",
);
/// Height of a hat's sides, of once around.
pub static HAT_HEIGHT: Assumption = row(
    "assumed.hat-height",
    "height of a hat's sides, of once around",
    "1/3 ± 4 %",
    1.0 / 3.0,
    0.04,
    OurChoice,
    "a third",
);
/// What a mitten is wider than the hand.
pub static MITTEN_ROOM: Assumption = row(
    "assumed.mitten-room",
    "room for a hand in a mitten",
    "1 ± 0.6 cm",
    0.01,
    0.006,
    FromMemory,
    "up to half an inch",
);
/// Cuff of a mitten.
pub static MITTEN_CUFF: Assumption =
    row("assumed.mitten-cuff", "cuff of a mitten", "7.5 ± 2 cm", 0.075, 0.02, OurChoice, "it reaches under a sleeve");
/// What a mitten is longer than the hand.
pub static HAND_ROOM: Assumption = row(
    "assumed.hand-room",
    "what a mitten is longer than the hand",
    "0.5 ± 0.3 cm",
    0.005,
    0.003,
    OurChoice,
    "fingers bend",
);
/// Tip of a mitten, of its hand.
pub static TIP: Assumption =
    row("assumed.tip", "tip of a mitten, of its hand", "24 ± 3 %", 0.24, 0.03, OurChoice, "a quarter");
/// Around the thumb, of the mitten.
pub static THUMB_AROUND: Assumption =
    row("assumed.thumb-around", "around the thumb, of the mitten", "39 ± 4 %", 0.39, 0.04, OurChoice, "two fifths");
/// Length of the thumb, of the hand.
pub static THUMB: Assumption =
    row("assumed.thumb", "length of the thumb, of the hand", "31 ± 3 %", 0.31, 0.03, OurChoice, "under a third");
/// Height of the gusset, of the hand.
pub static GUSSET: Assumption =
    row("assumed.gusset", "height of the gusset, of the hand", "35 ± 5 %", 0.35, 0.05, OurChoice, "a third");
/// What a sock is narrower than the foot.
pub static SOCK: Assumption =
    row("assumed.sock", "around a sock, of the foot", "90 ± 4 %", 0.9, 0.04, FromMemory, "it has to stretch a little");
/// Leg of a sock.
pub static LEG: Assumption =
    row("assumed.leg", "leg of a sock", "18 ± 3 cm", 0.18, 0.03, OurChoice, "to the middle of the calf");
/// Length of a sock, of the foot.
pub static SOCK_FOOT: Assumption = row(
    "assumed.sock-foot",
    "length of a sock, of the foot",
    "98 ± 2 %",
    0.98,
    0.02,
    OurChoice,
    "it has to stretch a little",
);
/// How far the sums of a shape are off.
pub static SHAPE: Assumption = row(
    "assumed.shape",
    "how a garment differs from its shape",
    "1 ± 9 %",
    1.0,
    0.09,
    OurChoice,
    "curves, shoulders and decreases that the sums leave out: four to five in a hundred, derived",
);
/// The same of pieces that are measured one by one.
pub static OWN_PIECES: Assumption = row(
    "assumed.own-pieces",
    "how pieces differ from their outlines",
    "1 ± 3 %",
    1.0,
    0.03,
    OurChoice,
    "what is drawn by its own measures is off by its seams alone",
);
/// Stitches to the inch over the root of yards to the pound.
pub static FIRMNESS: Assumption = row(
    "assumed.firmness",
    "usual firmness of knitting",
    "0.138 ± 0.036 st/in/√(yd/lb)",
    0.138 * TRADE,
    0.036 * TRADE,
    OurChoice,
    "five rows of a handspinners' table give 0.118 to 0.151, one swatch 0.149; their mean, as hands and wishes differ by a quarter",
);
/// Rows to a stitch, where neither is known.
pub static ROWS_TO_A_STITCH: Assumption = row(
    "assumed.rows-to-a-stitch",
    "rows to a stitch of stocking stitch",
    "1.35 ± 0.10",
    1.35,
    0.10,
    OurChoice,
    "six published hand-knit swatches lie at 1.24 to 1.32, patterns at 1.33 to 1.40 (the latter from memory)",
);
/// How the rows to come differ from those weighed.
pub static ROWS_DIFFER: Assumption = row(
    "assumed.rows-differ",
    "how rows to come differ from those weighed",
    "1 ± 5 %",
    1.0,
    0.05,
    OurChoice,
    "yarn wanders by as much from one stretch to the next, and rows are wider and narrower",
);
/// How much heavier or finer is told of.
pub static TENTH: Assumption = Assumption {
    place: "assumed.tenth",
    words: "a tenth",
    text: "10 %",
    value: 0.1,
    give_or_take: 0.0,
    shape: Normal,
    standing: OurChoice,
    source: "as far as bobbins of a practised hand differ",
};

/// One st/in/√(yd/lb) in base units; the unit table's number, looked up by the test below.
const TRADE: f64 = 876.861_586_540_365_4;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, unit};

    #[test]
    fn firmness_is_in_the_unit_of_the_tables() {
        assert_eq!(unit(Kind::Firmness, "st/in/√(yd/lb)").map(|unit| unit.factor), Some(TRADE));
    }
}
