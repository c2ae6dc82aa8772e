//! Words that a key takes: each one of a few.

use schemars::JsonSchema;
use serde::Deserialize;

/// Which system of units leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Metres, grams, centimetres.
    Metric,
    /// Yards, ounces, inches.
    Imperial,
}

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8 1/2 by 11 inches.
    Letter,
}

/// Whose craft words are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "UPPERCASE")]
pub enum Terms {
    /// As in Britain: stocking stitch, double crochet, tension.
    Uk,
    /// As in America: stockinette, single crochet, gauge.
    Us,
}

/// How fibre was prepared for spinning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Preparation {
    /// Combed, the fibres side by side.
    #[serde(rename = "combed top")]
    CombedTop,
    /// Carded and drawn off in one long strand.
    #[serde(rename = "carded roving")]
    CardedRoving,
    /// Rolled off hand cards.
    Rolags,
    /// Carded sheets off a drum carder.
    Batts,
    /// Locks as they came off the fleece.
    Locks,
}

/// How colours follow one another along a braid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Repeat {
    /// The sections follow one another as written.
    #[serde(rename = "in order")]
    InOrder,
    /// The sections run to the middle and back again.
    Mirrored,
    /// One colour runs gently into the next.
    Gradient,
    /// No order that could be written down.
    Random,
}

/// What turns the wheel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Drive {
    /// The feet, by one treadle or two.
    Treadle,
    /// A motor, at a speed that you counted.
    Electric,
    /// The hand: a spindle, whose turns are counted.
    Spindle,
}

/// How yarn is drafted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Draw {
    /// The front hand draws the fibres forward, a short length at a time.
    #[serde(rename = "short forward")]
    ShortForward,
    /// The fibre hand draws back an arm's length against the twist.
    #[serde(rename = "long draw")]
    Long,
    /// A lock of fibre is folded over the finger and spun from its middle.
    #[serde(rename = "from the fold")]
    FromTheFold,
}

/// What the drive band turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Lead {
    /// The flyer is driven and the bobbin is braked.
    #[serde(rename = "flyer")]
    Flyer,
    /// The bobbin is driven and the flyer is braked.
    #[serde(rename = "bobbin")]
    Bobbin,
    /// One band drives both.
    #[serde(rename = "double drive")]
    DoubleDrive,
}

/// What the singles come from when they are plied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum PlyFrom {
    /// Each ply from a bobbin of its own.
    Bobbins,
    /// One single, drawn through itself in a chain of loops: three strands.
    Chain,
    /// One single, from both ends of a ball: two strands.
    #[serde(rename = "both ends of a ball")]
    BothEnds,
    /// Not plied: the single is the yarn.
    None,
}

/// Whether all singles are spun before any are plied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Order {
    /// All singles first, so that the first can be plied with the last.
    #[serde(rename = "all singles first")]
    AllFirst,
    /// One set of bobbins is spun and plied before the next.
    #[serde(rename = "set by set")]
    SetBySet,
}

/// What decides how much is spun onto a bobbin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Fill {
    /// So much that one set gives one skein, which fits on the plying bobbin.
    #[serde(rename = "a skein for each set")]
    SkeinForEachSet,
    /// As much as a bobbin holds; a set may then give several skeins.
    #[serde(rename = "whole bobbins first")]
    WholeBobbins,
}

/// What of a yarn in hand is kept where not all of it can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Keep {
    /// As thick as the yarn in hand; its gauge stays.
    Wraps,
    /// As long for its weight as the yarn in hand; the fibre to buy stays.
    Grist,
}

/// A direction of twist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Direction {
    /// As the stroke of the letter Z lies: the wheel turns clockwise.
    Z,
    /// As the stroke of the letter S lies: the wheel turns anticlockwise.
    S,
}

/// An end of a braid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum End {
    /// The end at which the sections begin.
    #[serde(rename = "first end")]
    First,
    /// The end at which the sections stop.
    #[serde(rename = "other end")]
    Other,
    /// The first end and the other one in turn, strip by strip.
    #[serde(rename = "alternate ends")]
    Alternate,
}

/// How the strips of a ply plan go onto its bobbins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Dealing {
    /// Strip by strip to each set in turn, so that every braid is spread over every skein.
    #[serde(rename = "across the sets")]
    Across,
    /// Braid after braid, one set after the other, so that colours run on through the skeins.
    #[serde(rename = "set after set")]
    InOrder,
}

/// What the colours of the yarn are to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Aim {
    /// Stripes of one colour after the other.
    Stripes,
    /// Colours mixed throughout.
    Heather,
    /// One colour running over into another, from the first skein to the last.
    Fade,
    /// Nothing of this.
    #[serde(rename = "as it comes")]
    AsItComes,
}

/// How a piece is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Worked {
    /// Round and round, as a tube.
    #[serde(rename = "in the round")]
    InTheRound,
    /// To and fro, turned at the edge.
    #[serde(rename = "turned")]
    Turned,
}

/// How a garment is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Craft {
    /// On needles.
    Knit,
    /// With a hook.
    Crochet,
    /// On a loom.
    Weave,
}

/// How much yarn is moved in its bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Agitation {
    /// It lies still.
    None,
    /// It is pressed and moved gently.
    #[serde(rename = "a little")]
    ALittle,
    /// It is worked until its fibres hold together.
    Fulled,
}

/// The hand that holds the hook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Hand {
    /// The right hand.
    Right,
    /// The left hand.
    Left,
}

/// What a yarn is in a cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum UsedAs {
    /// The threads under tension on the loom.
    Warp,
    /// The threads woven in.
    Weft,
    /// Both.
    #[serde(rename = "warp and weft")]
    Both,
}

/// What a pattern counts by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Counts {
    /// A piece is worked until it is so long.
    Length,
    /// A piece has so many rows.
    Rows,
}

/// Whom a garment is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Whom {
    /// A grown woman.
    Woman,
    /// A grown man.
    Man,
    /// A child; sizes go by years.
    Child,
    /// A baby; sizes go by months.
    Baby,
}

/// An outline of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Outline {
    /// Width by length.
    Rectangle,
    /// From its width below to its upper width.
    Trapezoid,
    /// From its width to a point.
    Triangle,
    /// As wide as its width, all around.
    Disc,
    /// A straight edge as wide as its width, and an arc as high as its length.
    Segment,
    /// A part of a ring: its width along one arc, its upper width along the other.
    #[serde(rename = "ring sector")]
    RingSector,
}

/// A shape of a garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum Shape {
    /// Straight to the shoulder, sleeves sewn to its edges.
    #[serde(rename = "drop-shoulder pullover")]
    DropPullover,
    /// The same, open in front.
    #[serde(rename = "drop-shoulder cardigan")]
    DropCardigan,
    /// With shaped armholes and sleeve caps.
    #[serde(rename = "set-in pullover")]
    SetInPullover,
    /// The same, open in front.
    #[serde(rename = "set-in cardigan")]
    SetInCardigan,
    /// Body and sleeves joined to a yoke that narrows along four lines.
    #[serde(rename = "raglan pullover")]
    Raglan,
    /// Body and sleeves joined to a yoke that narrows all around.
    #[serde(rename = "round-yoke pullover")]
    RoundYoke,
    /// A tube with a flat crown.
    #[serde(rename = "hat")]
    Hat,
    /// A pair of mittens.
    #[serde(rename = "mittens")]
    Mittens,
    /// A pair of socks.
    #[serde(rename = "socks")]
    Socks,
    /// A shawl of three straight edges.
    #[serde(rename = "triangle shawl")]
    Triangle,
    /// A shawl of a straight edge and an arc.
    #[serde(rename = "crescent shawl")]
    Crescent,
    /// A rectangle, with or without a border.
    #[serde(rename = "blanket")]
    Blanket,
    /// A rectangle, with or without a fringe.
    #[serde(rename = "scarf")]
    Scarf,
}
