//! What a plan says of garments.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Deserialize;

use super::{Counts, Craft, Hand, Outline, Quantity, Shape, UsedAs, Whom, Worked};

/// Something that is made of the yarn.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Garment {
    /// How it is made.
    pub craft: Option<Craft>,
    /// The stitch, or the weave: "stocking stitch", "2x2 rib", "double crochet", "plain weave". Crochet goes by `plan.terms`.
    #[schemars(example = &"stocking stitch")]
    pub stitch: Option<String>,
    /// The needles.
    #[schemars(example = &"4 mm")]
    pub needle: Option<Quantity>,
    /// The crochet hook.
    #[schemars(example = &"5 mm")]
    pub hook: Option<Quantity>,
    /// Which hand holds the hook, in crochet: each stitch turns the yarn a little, one way or the other.
    pub hand: Option<Hand>,
    /// What the yarn is in the cloth, in weaving.
    pub used_as: Option<UsedAs>,
    /// The gauge after washing, in the stitch of the garment.
    #[schemars(example = &"19 st, 26 rows / 10 cm")]
    pub gauge: Option<Quantity>,
    /// The stitch in which the gauge was counted, where that is another one: "stocking stitch".
    #[schemars(example = &"stocking stitch")]
    pub gauge_in: Option<String>,
    /// Whether its pattern counts rows, or says how long a piece is; a length where nothing is said.
    pub counts: Option<Counts>,
    /// Stitches in one repeat of the pattern; edges are printed in whole repeats.
    #[schemars(range(min = 1), example = 4)]
    pub multiple_of: Option<i64>,
    /// Stitches beside the repeats.
    #[schemars(range(min = 0), example = 2)]
    pub plus: Option<i64>,
    /// The yarn it takes, as a pattern says.
    #[schemars(example = &"1150 ± 100 m")]
    pub length: Option<Quantity>,
    /// The area of its fabric, where no shape tells it. Pieces beside it tell of their colours and rows; how much yarn there is in all
    /// goes by the area.
    #[schemars(example = &"0.11 m2")]
    pub area: Option<Quantity>,
    /// What shape it has; its pieces follow from its measures.
    pub shape: Option<Shape>,
    /// Whom it is for: measures of the body. What is left out is taken from tables by the chest.
    pub body: Option<Body>,
    /// How much larger than the body it is around the chest: a length, less than nothing where it stretches, or "very close",
    /// "close", "standard", "loose", "oversized".
    #[schemars(example = &"8 cm", example = &"standard")]
    pub ease: Option<Quantity>,
    /// Measures of the finished garment; each takes the place of one that its shape would have.
    pub measures: Option<Measures>,
    /// How it is woven.
    pub loom: Option<Loom>,
    /// A fringe that is knotted in afterwards; that of a cloth is said under `loom`.
    pub fringe: Option<Fringe>,
    /// A swatch from which the yarn for the whole is worked out.
    pub swatch: Option<GarmentSwatch>,
    /// Its pieces in the order in which they are worked, each under a name of your own: `[garment.pullover.piece.body]`. A piece of
    /// its shape is named to say its stitch or its ply plan; any other is added to it.
    #[serde(default)]
    pub piece: IndexMap<String, Piece>,
}

/// A piece of a garment, by its width and its height as it is worked.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Piece {
    /// The width of a row, or once around where it is worked in the round.
    #[schemars(example = &"104 cm")]
    pub width: Option<Quantity>,
    /// How high it grows. Say this or the rows.
    #[schemars(example = &"38 cm")]
    pub length: Option<Quantity>,
    /// How many rows or rounds it has. Say this or the length.
    #[schemars(range(min = 1), example = 100)]
    pub rows: Option<i64>,
    /// Whether it is worked round and round, or to and fro.
    pub worked: Option<Worked>,
    /// How many of it there are, worked one after the other; one where nothing is said.
    #[schemars(range(min = 1), example = 2)]
    pub count: Option<i64>,
    /// What outline it has; a rectangle where nothing is said.
    pub outline: Option<Outline>,
    /// The width at its upper edge, of a trapezoid or a sector of a ring.
    #[schemars(example = &"50 cm")]
    pub upper_width: Option<Quantity>,
    /// Its stitch, where it is another than the garment's.
    #[schemars(example = &"2x2 rib")]
    pub stitch: Option<String>,
    /// The name of the ply plan whose yarn it is worked from, where there are several.
    #[schemars(example = &"body")]
    pub ply_plan: Option<String>,
}

/// A swatch of a garment: its size, and the weight or the length of the yarn in it.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct GarmentSwatch {
    /// Width by height, washed and dry.
    #[schemars(example = &"15 x 15 cm")]
    pub size: Option<Quantity>,
    /// What it weighs.
    #[schemars(example = &"6.1 g")]
    pub weight: Option<Quantity>,
    /// The length of yarn in it.
    #[schemars(example = &"21 m")]
    pub length: Option<Quantity>,
}

/// A fringe: bundles of strands, knotted into the ends.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Fringe {
    /// How many bundles there are in all.
    #[schemars(range(min = 1), example = 32)]
    pub bundles: Option<i64>,
    /// How many strands each has.
    #[schemars(range(min = 1), example = 4)]
    pub strands: Option<i64>,
    /// How long a strand is cut.
    #[schemars(example = &"30 cm")]
    pub cut: Option<Quantity>,
}

/// A piece of a garment that is worked last: from what is left over of the yarn, or from another yarn.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Trim {
    /// The name of the garment.
    #[schemars(example = &"pullover")]
    pub garment: Option<String>,
    /// The name of its piece: one of its shape, or one that the plan measures under `piece`. The name of the trim itself where
    /// nothing is said.
    #[schemars(example = &"neckband")]
    pub piece: Option<String>,
    /// A yarn of its own; what is left over of the plan's yarn where nothing is said.
    pub yarn: Option<OtherYarn>,
}

/// A yarn that is not spun by this plan.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct OtherYarn {
    /// What it is called.
    #[schemars(example = &"slate two-ply")]
    pub name: Option<String>,
    /// How much of it there is.
    #[schemars(example = &"62 m")]
    pub length: Option<Quantity>,
    /// What it weighs.
    #[schemars(example = &"31 g")]
    pub weight: Option<Quantity>,
    /// The name of its colour.
    #[schemars(example = &"slate")]
    pub colour: Option<String>,
}

/// How a cloth is woven. Its size when finished is said in `measures`.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Loom {
    /// Ends to a length, in the reed; from the wraps where nothing is said.
    #[schemars(example = &"10 epi", example = &"4 ends / cm")]
    pub sett: Option<Quantity>,
    /// Picks to a length, as it lies on the loom; as many as ends where nothing is said.
    #[schemars(example = &"10 ppi", example = &"4 picks / cm")]
    pub picks: Option<Quantity>,
    /// How much longer the warp is than the cloth on the loom, as it bends over and under.
    #[schemars(example = &"8 %")]
    pub take_up: Option<Quantity>,
    /// The same of the weft, over the width in the reed.
    #[schemars(example = &"8 %")]
    pub weft_take_up: Option<Quantity>,
    /// How much narrower the cloth is than the reed.
    #[schemars(example = &"8 %")]
    pub draw_in: Option<Quantity>,
    /// How much shorter the cloth is finished than it lay on the loom.
    #[schemars(example = &"10 %")]
    pub length_shrinks: Option<Quantity>,
    /// How much narrower.
    #[schemars(example = &"10 %")]
    pub width_shrinks: Option<Quantity>,
    /// Warp that is left at both ends of the loom.
    #[schemars(example = &"60 cm")]
    pub waste: Option<Quantity>,
    /// Warp left for a fringe at each end of a piece; none where nothing is said.
    #[schemars(example = &"15 cm")]
    pub fringe: Option<Quantity>,
    /// How many are woven on one warp; one where nothing is said.
    #[schemars(range(min = 1), example = 2)]
    pub count: Option<i64>,
}

/// A table of lengths, each of which can be asked for by its key.
macro_rules! lengths {
    ($(#[$about:meta])* $name:ident { $( $before:ident: $kind:ty, $about_before:literal; )* } $( $(#[$doc:meta])+ $key:ident: $example:literal; )+) => {
        $(#[$about])*
        #[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case")]
        pub struct $name {
            $( #[doc = $about_before] pub $before: Option<$kind>, )*
            $( $(#[$doc])+ #[schemars(example = &$example)] pub $key: Option<Quantity>, )+
        }

        impl $name {
            /// What is written under a key, with hyphens as in the plan.
            pub fn get(&self, key: &str) -> Option<&Quantity> {
                match key.replace('-', "_").as_str() {
                    $( stringify!($key) => self.$key.as_ref(), )+
                    _ => None,
                }
            }
        }
    };
}

lengths! {
    /// Measures of whoever wears it, taken with a tape, not of the garment.
    Body {
        whom: Whom, "Whose tables fill what is not measured.";
        size: String, "A size of the tables, in place of the chest: \"M\", \"8 years\", \"6 months\".";
    }
    /// Around the chest or bust.
    chest: "102 cm";
    /// Around the upper arm.
    upper_arm: "32 cm";
    /// Around the wrist.
    wrist: "16 cm";
    /// Around the base of the neck.
    neck: "38 cm";
    /// Across the back, from arm to arm.
    cross_back: "40 cm";
    /// From the nape to the waist.
    back_waist: "43 cm";
    /// From the underarm to the wrist.
    arm: "44 cm";
    /// From the shoulder straight down to the underarm.
    armhole: "19 cm";
    /// From the middle of the nape along the arm to the wrist.
    neck_to_wrist: "74 cm";
    /// Around the head.
    head: "57 cm";
    /// Around the hand, without the thumb.
    hand: "19 cm";
    /// From the wrist to the tip of the longest finger.
    hand_length: "18 cm";
    /// Around the ball of the foot.
    foot: "23 cm";
    /// From heel to toe.
    foot_length: "25 cm";
}

lengths! {
    /// Measures of the finished garment.
    Measures {}
    /// Around the chest.
    chest: "110 cm";
    /// From the shoulder to the lower edge; of a rectangle its length.
    length: "60 cm";
    /// From the lower edge to the underarm.
    to_underarm: "40 cm";
    /// From the shoulder straight down to the underarm.
    armhole: "20 cm";
    /// Across the back between the armholes.
    cross_back: "38 cm";
    /// Around the sleeve at its widest.
    upper_arm: "36 cm";
    /// Around the end of the sleeve.
    cuff: "22 cm";
    /// Length of the sleeve up to the underarm, or to the body where it is sewn to a straight edge.
    sleeve: "46 cm";
    /// Height of the sleeve's cap.
    cap: "14 cm";
    /// Around the neck.
    neck: "50 cm";
    /// Across the neck.
    neck_width: "18 cm";
    /// How deep the neck is in front.
    neck_depth: "10 cm";
    /// How deep the neck is at the back.
    back_neck_depth: "2.5 cm";
    /// Depth of the yoke, along the fabric.
    yoke: "23 cm";
    /// What is set aside at each underarm.
    underarm: "6 cm";
    /// Height of the band around the neck.
    neckband: "2.5 cm";
    /// Width of the front bands.
    band: "4 cm";
    /// Height of the lower band of the body; none where nothing is said.
    hem: "5 cm";
    /// Height of the band of a sleeve or a mitten.
    cuff_depth: "5 cm";
    /// Once around: a hat, a hand, a foot.
    around: "51 cm";
    /// Height of the sides of a hat.
    height: "17 cm";
    /// Height of a brim that is folded up.
    brim: "5 cm";
    /// From the cuff to the tip of a mitten.
    hand: "18 cm";
    /// The part of it that narrows.
    tip: "4.5 cm";
    /// Around the thumb.
    thumb_around: "7.5 cm";
    /// Length of the thumb.
    thumb: "6 cm";
    /// Height of the gusset of the thumb.
    gusset: "6.5 cm";
    /// From the top edge of a sock to the top of its heel.
    leg: "18 cm";
    /// From heel to toe.
    foot: "24 cm";
    /// From tip to tip of a shawl.
    span: "183 cm";
    /// Across the span.
    depth: "81 cm";
    /// Across a rectangle.
    width: "114 cm";
    /// Width of a border all around, in the stitch of the piece `border`.
    border: "5 cm";
}
