//! What the yarn is for.

use super::body::{BodyMeasure, Whom};
use super::shape::{Measure, Shape};
use super::stitch::Stitch;
use super::{Date, Direction, Reading};
use crate::diagnostics::Place;
use crate::units::{Area, Count, Ends, EndsToAWrap, Length, Mass, Picks, Rows, Share, Stitches};

/// What the yarn is for.
#[derive(Debug, Clone, Hash)]
pub struct Garment {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// How it is made.
    pub craft: Craft,
    /// Which hand holds the hook, in crochet; `None` in other crafts.
    pub hand: Option<Hand>,
    /// What the yarn is in the cloth, in weaving; `None` in other crafts.
    pub used_as: Option<UsedAs>,
    /// Stitch, as written.
    pub stitch: Option<String>,
    /// The same, where its yarn is known.
    pub known: Option<&'static Stitch>,
    /// Needles or hook, as written.
    pub tool: Option<String>,
    /// Gauge after washing, with the stitch in which it was counted where that is known.
    pub gauge: Option<(Gauge, Option<&'static Stitch>)>,
    /// Whether its pattern counts rows.
    pub counts_rows: bool,
    /// Stitches in a repeat, and those beside the repeats; exact.
    pub repeat: Option<(Reading<Count>, Reading<Count>)>,
    /// A measured swatch.
    pub swatch: Option<Swatch>,
    /// The yarn it takes, as its pattern says.
    pub stated: Option<Reading<Length>>,
    /// What is known of its fabric.
    pub fabric: Fabric,
    /// Its own pieces in the order of writing, and what is said of those of its shape; may be none.
    pub pieces: Vec<Piece>,
    /// A fringe that is knotted in.
    pub fringe: Option<Fringe>,
}

/// What is known of the fabric of a garment.
#[derive(Debug, Clone, Hash)]
pub enum Fabric {
    /// Nothing but its pieces, if it has any.
    Pieces,
    /// Its area.
    Area(Reading<Area>),
    /// Its shape.
    Shaped(Shaped),
    /// A cloth off the loom.
    Woven(Box<Loom>),
}

/// A shape with what is said of its measures.
#[derive(Debug, Clone, Hash)]
pub struct Shaped {
    /// Which shape.
    pub shape: Shape,
    /// Whose tables fill what is not measured.
    pub whom: Option<Whom>,
    /// Size of the tables, where the chest is taken from it.
    pub size: Option<&'static str>,
    /// Measures of the body; the chest among them, where it is known.
    pub body: Vec<(BodyMeasure, Reading<Length>)>,
    /// How much larger than the body it is around the chest; of shapes that are worn there.
    pub ease: Option<Reading<Length>>,
    /// Measures of the garment that are said.
    pub measures: Vec<(Measure, Reading<Length>)>,
}

impl Shaped {
    /// A measure of the body, where it is said.
    pub fn of_body(&self, measure: BodyMeasure) -> Option<&Reading<Length>> {
        self.body.iter().find(|(known, _)| *known == measure).map(|(_, reading)| reading)
    }

    /// The pieces that it has: a band is there where its height is said, or is usual.
    pub fn pieces(&self) -> Vec<&'static str> {
        let is_there = |name: &&&'static str| match self.shape.band(name) {
            None => true,
            Some((measure, is_usual)) => self.said(measure).map_or(is_usual, |said| said.value > 0.0),
        };
        self.shape.pieces().iter().filter(is_there).copied().collect()
    }

    /// A measure of the garment, where it is said.
    pub fn said(&self, measure: Measure) -> Option<&Reading<Length>> {
        self.measures.iter().find(|(known, _)| *known == measure).map(|(_, reading)| reading)
    }
}

/// A fringe: bundles of strands.
#[derive(Debug, Clone, Hash)]
pub struct Fringe {
    /// How many bundles; exact.
    pub bundles: Reading<Count>,
    /// How many strands each has; exact.
    pub strands: Reading<Count>,
    /// How long a strand is cut.
    pub cut: Reading<Length>,
}

/// A cloth and how it is woven.
#[derive(Debug, Clone, Hash)]
pub struct Loom {
    /// Width when finished.
    pub width: Reading<Length>,
    /// Length when finished, without its fringe.
    pub length: Reading<Length>,
    /// Ends in the reed; `None` where they follow from the wraps.
    pub sett: Option<Reading<Ends>>,
    /// Ends to a wrap, where the sett follows from the wraps; by the weave.
    pub ends_to_a_wrap: Reading<EndsToAWrap>,
    /// Picks on the loom; `None` where there are as many as ends.
    pub picks: Option<Reading<Picks>>,
    /// How much longer the warp is than the cloth.
    pub take_up: Reading<Share>,
    /// How much longer a pick is than the reed is wide.
    pub weft_take_up: Reading<Share>,
    /// How much narrower the cloth is than the reed.
    pub draw_in: Reading<Share>,
    /// How much shorter it is when finished.
    pub length_shrinks: Reading<Share>,
    /// How much narrower.
    pub width_shrinks: Reading<Share>,
    /// Warp that is left on the loom.
    pub waste: Reading<Length>,
    /// Warp for a fringe at each end.
    pub fringe: Option<Reading<Length>>,
    /// How many are woven on one warp; exact.
    pub count: Reading<Count>,
}

/// A piece of a garment that is worked last, from what is left over or from another yarn.
#[derive(Debug, Clone, Hash)]
pub struct Trim {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Index into [`super::Plan::garments`].
    pub garment: usize,
    /// Name of the piece.
    pub piece: String,
    /// A yarn of its own; `None` of what is left over.
    pub yarn: Option<OtherYarn>,
}

/// A yarn that is not spun by this plan.
#[derive(Debug, Clone, Hash)]
pub struct OtherYarn {
    /// What it is called.
    pub name: String,
    /// How much of it there is.
    pub length: Reading<Length>,
    /// What it weighs, where that is said.
    pub weight: Option<Reading<Mass>>,
    /// Index into [`super::Plan::colours`].
    pub colour: Option<usize>,
}

/// The yarn that is left, weighed before and after some rows.
#[derive(Debug, Clone, Hash)]
pub struct Weighing {
    /// Where it stands in the log.
    pub place: Place,
    /// Day.
    pub date: Date,
    /// Index into [`super::Plan::garments`].
    pub garment: usize,
    /// Name of the piece, where it is said.
    pub piece: Option<String>,
    /// Rows between the two; exact.
    pub rows: Reading<Count>,
    /// What was left before them.
    pub before: Reading<Mass>,
    /// What was left after them.
    pub after: Reading<Mass>,
}

/// A piece of a garment.
#[derive(Debug, Clone, Hash)]
pub struct Piece {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Its outline; `None` of a piece of the garment's shape, which has one.
    pub outline: Option<Outline>,
    /// Whether its rows are rounds; of a piece of a shape that is said by the shape.
    pub in_the_round: bool,
    /// How many of it are worked one after the other; exact. Of a piece of a shape that is said by the shape.
    pub count: Reading<Count>,
    /// Its stitch, where it has one of its own.
    pub stitch: Option<&'static Stitch>,
    /// Index of the ply plan whose yarn it is worked from; `None` where it takes what comes next.
    pub ply_plan: Option<usize>,
}

/// The outline of a piece, by its measures.
#[derive(Debug, Clone, Hash)]
pub enum Outline {
    /// Four right angles.
    Rectangle {
        /// Across, or once around.
        width: Reading<Length>,
        /// How far it grows.
        height: Height,
    },
    /// Two parallel edges. A sector of a ring has the same area between its two arcs.
    Trapezoid {
        /// The lower edge.
        lower: Reading<Length>,
        /// The upper edge.
        upper: Reading<Length>,
        /// From one to the other.
        height: Height,
        /// Whether its edges are arcs.
        is_ring: bool,
    },
    /// From an edge to a point.
    Triangle {
        /// The edge.
        width: Reading<Length>,
        /// From the edge to the point.
        height: Height,
    },
    /// A circle.
    Disc {
        /// Across.
        across: Reading<Length>,
    },
    /// A straight edge and an arc over it.
    Segment {
        /// The straight edge.
        chord: Reading<Length>,
        /// From its middle to the arc.
        height: Reading<Length>,
    },
}

/// How far a piece grows.
#[derive(Debug, Clone, Hash)]
pub enum Height {
    /// By its length.
    Length(Reading<Length>),
    /// By its rows; exact.
    Rows(Reading<Count>),
}

/// How a garment is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Craft {
    /// Knitting.
    Knit,
    /// Crochet.
    Crochet,
    /// Weaving.
    Weave,
}

/// The hand that holds the hook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hand {
    /// The right hand.
    Right,
    /// The left hand.
    Left,
}

impl Hand {
    /// The twist of a plied yarn that each stitch of this hand takes a little out of: the yarn goes round the hook one way,
    /// and the other way in the other hand (common practice, no source).
    pub fn untwists(self) -> Direction {
        match self {
            Self::Right => Direction::S,
            Self::Left => Direction::Z,
        }
    }
}

/// What a yarn is in a cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UsedAs {
    /// The threads under tension on the loom.
    Warp,
    /// The threads woven in.
    Weft,
    /// Both.
    Both,
}

impl UsedAs {
    /// The threads that it is: warp, weft or both, in the order in which they are used.
    pub fn threads(self) -> &'static [&'static str] {
        match self {
            Self::Warp => &["warp"],
            Self::Weft => &["weft"],
            Self::Both => &["warp", "weft"],
        }
    }

    /// Whether the yarn stands under tension on the loom.
    pub fn is_warp(self) -> bool {
        self != Self::Weft
    }
}

/// A gauge.
#[derive(Debug, Clone, Hash)]
pub struct Gauge {
    /// Stitches per length.
    pub stitches: Reading<Stitches>,
    /// Rows per length; a default where only stitches are given.
    pub rows: Reading<Rows>,
    /// As written.
    pub text: String,
}

/// A measured swatch.
#[derive(Debug, Clone, Hash)]
pub struct Swatch {
    /// Its area.
    pub size: Reading<Area>,
    /// What was measured of it.
    pub yarn: SwatchYarn,
    /// Its stitch, where its yarn is known; else the garment's own.
    pub stitch: Option<&'static Stitch>,
}

/// What was measured of a swatch.
#[derive(Debug, Clone, Hash)]
pub enum SwatchYarn {
    /// Its weight.
    Weight(Reading<Mass>),
    /// The length of yarn in it.
    Length(Reading<Length>),
}

impl Garment {
    /// The gauge at which its own stitch is worked: edges are counted by it, and rows.
    pub fn own_gauge(&self) -> Option<&Gauge> {
        self.gauge.as_ref().filter(|(_, stitch)| *stitch == self.known || self.known.is_none()).map(|(gauge, _)| gauge)
    }

    /// What is said of a piece of its shape, or a piece of its own.
    pub fn piece(&self, name: &str) -> Option<(usize, &Piece)> {
        self.pieces.iter().enumerate().find(|(_, piece)| piece.name == name)
    }
}
