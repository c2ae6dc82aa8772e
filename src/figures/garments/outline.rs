//! Outlines of pieces with their measures as figures: area, height, edges.

use crate::figures::expression::{Figure, Formula};
use crate::figures::garment;
use crate::units::{Area, Length, Standing};

/// An outline. What is cut out or rounded is told of each; see the formulas of [`crate::figures::garment`].
#[derive(Debug, Clone)]
pub enum Flat {
    /// Four right angles.
    Rectangle {
        /// Across, or once around.
        width: Figure<Length>,
        /// How far it grows.
        height: Figure<Length>,
    },
    /// Two parallel edges; of a sector of a ring two arcs.
    Trapezoid {
        /// The lower edge.
        lower: Figure<Length>,
        /// The upper edge.
        upper: Figure<Length>,
        /// From one to the other.
        height: Figure<Length>,
        /// Whether its edges are arcs.
        is_ring: bool,
    },
    /// From an edge to a point, or from a point to an edge.
    Triangle {
        /// The edge.
        width: Figure<Length>,
        /// From the edge to the point.
        height: Figure<Length>,
        /// Whether it grows from the point.
        from_point: bool,
    },
    /// A circle.
    Disc {
        /// Across.
        across: Figure<Length>,
    },
    /// A flat crown, by the round that it closes.
    Crown {
        /// Once around.
        around: Figure<Length>,
        /// From the edge to the middle.
        height: Figure<Length>,
    },
    /// A straight edge and an arc over it.
    Segment {
        /// The straight edge.
        chord: Figure<Length>,
        /// From its middle to the arc.
        height: Figure<Length>,
        /// Radius of the arc.
        radius: Figure<Length>,
    },
    /// A rectangle with a neck, and armholes where it has any, or half of one.
    Body {
        /// Across its lower edge.
        width: Figure<Length>,
        /// From the lower edge to the shoulder.
        height: Figure<Length>,
        /// Across the neck, as far as it lies in this piece.
        neck: Figure<Length>,
        /// How deep the neck is.
        depth: Figure<Length>,
        /// How deep the armholes are.
        armhole: Figure<Length>,
        /// Across between them; `None` where the sides are straight.
        across: Option<Figure<Length>>,
        /// Whether it is one of two fronts, with the neck at its edge.
        is_half: bool,
    },
    /// A sleeve with a cap.
    Capped {
        /// The lower edge.
        lower: Figure<Length>,
        /// Where the cap begins.
        upper: Figure<Length>,
        /// Up to there.
        height: Figure<Length>,
        /// Height of the cap.
        cap: Figure<Length>,
    },
    /// A yoke that narrows in steps.
    Stepped {
        /// Around its lower edge.
        around: Figure<Length>,
        /// Around its upper edge.
        upper: Figure<Length>,
        /// Its depth.
        height: Figure<Length>,
    },
    /// A border all around a rectangle.
    Frame {
        /// Across the whole.
        width: Figure<Length>,
        /// Length of the whole.
        length: Figure<Length>,
        /// Its own width.
        border: Figure<Length>,
    },
    /// What lies inside such a border.
    Framed {
        /// Across the whole.
        width: Figure<Length>,
        /// Length of the whole.
        length: Figure<Length>,
        /// Width of the border.
        border: Figure<Length>,
    },
    /// A tube with a heel in it.
    Sock {
        /// Once around.
        around: Figure<Length>,
        /// Down to the heel.
        leg: Figure<Length>,
        /// From heel to toe.
        foot: Figure<Length>,
    },
    /// The rounded tip of a mitten.
    Tip {
        /// Once around.
        around: Figure<Length>,
        /// Its height.
        height: Figure<Length>,
    },
}

static SUM: Formula = Formula { source: "geometry", standing: Standing::Standard };

impl Flat {
    /// Its area.
    pub fn area(&self) -> Figure<Area> {
        match self {
            Self::Rectangle { width, height } => garment::rectangle(width, height),
            Self::Trapezoid { lower, upper, height, .. } => garment::trapezoid(lower, upper, height),
            Self::Triangle { width, height, .. } => garment::triangle(width, height),
            Self::Disc { across } => garment::disc(across),
            Self::Crown { around, .. } => garment::crown(around),
            Self::Segment { chord, height, radius } => garment::segment(chord, height, radius),
            Self::Body { width, height, neck, depth, armhole, across, .. } => {
                let whole = garment::rectangle(width, height) - garment::neck_cut(neck, depth);
                match across {
                    Some(across) => (whole - garment::armhole_cut(width, across, armhole)).by(&SUM),
                    None => whole.by(&SUM),
                }
            }
            Self::Capped { lower, upper, height, cap } => {
                (garment::trapezoid(lower, upper, height) + garment::cap(upper, cap)).by(&SUM)
            }
            Self::Stepped { around, height, .. } => garment::stepped_yoke(around, height),
            Self::Frame { width, length, border } => garment::frame(width, length, border),
            Self::Framed { width, length, border } => {
                (garment::rectangle(width, length) - garment::frame(width, length, border)).by(&SUM)
            }
            Self::Sock { around, .. } => garment::rectangle(around, &self.height()),
            Self::Tip { around, height } => garment::tip(around, height),
        }
    }

    /// How far it grows.
    pub fn height(&self) -> Figure<Length> {
        match self {
            Self::Rectangle { height, .. }
            | Self::Trapezoid { height, .. }
            | Self::Triangle { height, .. }
            | Self::Crown { height, .. }
            | Self::Segment { height, .. }
            | Self::Body { height, .. }
            | Self::Stepped { height, .. }
            | Self::Tip { height, .. } => height.clone(),
            Self::Capped { height, cap, .. } => height + cap,
            Self::Sock { leg, foot, .. } => leg + foot,
            Self::Disc { across } => across.clone(),
            Self::Frame { border, .. } => border.clone(),
            Self::Framed { length, border, .. } => length - (border + border),
        }
    }

    /// Its lengths as they are told: its height, its edges, and what else a drawing of it has to say.
    pub fn lengths(&self) -> Vec<(&'static str, Figure<Length>)> {
        let mut lengths = vec![("height", self.height())];
        lengths.extend(self.edges().into_iter().map(|(edge, length)| match edge {
            "upper" => ("upper-length", length),
            _ => ("lower-length", length),
        }));
        match self {
            Self::Disc { across } => lengths.push(("width", across.clone())),
            Self::Crown { height, .. } => lengths.push(("width", height + height)),
            Self::Body { neck, depth, armhole, .. } => {
                lengths.extend([("neck-width", neck), ("armhole", armhole)].map(|(what, it)| (what, it.clone())));
                if depth.value() > 0.0 {
                    lengths.push(("neck-depth", depth.clone()));
                }
            }
            Self::Capped { height, cap, .. } => {
                lengths.extend([("sleeve-height", height.clone()), ("cap", cap.clone())]);
            }
            Self::Frame { width, length, .. } => {
                lengths.extend([("width", width.clone()), ("length", length.clone())]);
            }
            Self::Sock { leg, foot, .. } => lengths.extend([("leg", leg.clone()), ("foot", foot.clone())]),
            _ => {}
        }
        lengths
    }

    /// Its edges that are counted in stitches: `lower`, where it is begun, and `upper`, where it ends in more than a point.
    pub fn edges(&self) -> Vec<(&'static str, Figure<Length>)> {
        let lower = |width: &Figure<Length>| vec![("lower", width.clone())];
        match self {
            Self::Rectangle { width, .. } | Self::Body { width, .. } => lower(width),
            Self::Triangle { width, from_point: false, .. } => lower(width),
            Self::Triangle { width, .. } => vec![("upper", width.clone())],
            Self::Sock { around, .. } => lower(around),
            Self::Trapezoid { lower, upper, .. } | Self::Capped { lower, upper, .. } => {
                vec![("lower", lower.clone()), ("upper", upper.clone())]
            }
            Self::Crown { around, .. } | Self::Tip { around, .. } => lower(around),
            Self::Stepped { around, upper, .. } => vec![("lower", around.clone()), ("upper", upper.clone())],
            Self::Segment { chord, .. } => lower(chord),
            Self::Framed { width, border, .. } => lower(&(width - (border + border))),
            Self::Disc { .. } | Self::Frame { .. } => Vec::new(),
        }
    }

    /// How wide it is drawn, and how high, in metres at the nominal point.
    pub fn extent(&self) -> (f64, f64) {
        let width = match self {
            Self::Rectangle { width, .. }
            | Self::Triangle { width, .. }
            | Self::Body { width, .. }
            | Self::Frame { width, .. } => width.value(),
            Self::Trapezoid { lower, upper, .. } | Self::Capped { lower, upper, .. } => {
                lower.value().max(upper.value())
            }
            Self::Disc { across } => across.value(),
            Self::Crown { around, .. } => around.value() / std::f64::consts::PI,
            Self::Segment { chord, .. } => chord.value(),
            Self::Stepped { around, .. } | Self::Tip { around, .. } | Self::Sock { around, .. } => around.value(),
            Self::Framed { width, border, .. } => width.value() - 2.0 * border.value(),
        };
        let height = match self {
            Self::Frame { length, .. } => length.value(),
            // A crown is drawn as the disc that it is.
            Self::Crown { .. } => width,
            _ => self.height().value(),
        };
        (width, height)
    }

    /// The levels between which it is worked, from its first edge on; none of an outline that is not told by its widths. A change at
    /// one height is two levels.
    ///
    /// What the curves of areas become in straight lines is of the same area: an armhole is narrowed within its lowest third, a cap
    /// and a tip to a fifth.
    pub fn levels(&self) -> Vec<Level> {
        let level = |key, up: f64, width: f64| Level { key, up, width };
        let lower = |width: &Figure<Length>| level("lower", 0.0, width.value());
        let h = self.height().value();
        match self {
            Self::Rectangle { width, .. } => vec![lower(width), level("upper", h, width.value())],
            Self::Trapezoid { lower: from, upper, .. } => vec![lower(from), level("upper", h, upper.value())],
            Self::Triangle { width, from_point: false, .. } => vec![lower(width), level("upper", h, 0.0)],
            Self::Triangle { width, .. } => vec![level("lower", 0.0, 0.0), level("upper", h, width.value())],
            Self::Crown { around, .. } => vec![lower(around), level("middle", h, 0.0)],
            Self::Segment { chord, radius, .. } => {
                let radius = radius.value();
                let width = |up: f64| {
                    let below = radius - h + up;
                    2.0 * (radius * radius - below * below).max(0.0).sqrt()
                };
                let quarters = [("quarter", 0.25), ("half", 0.5), ("three-quarters", 0.75)];
                let above = quarters.map(|(key, share)| level(key, share * h, width(share * h)));
                [&[lower(chord)][..], &above, &[level("upper", h, 0.0)]].concat()
            }
            Self::Body { width, armhole, across, .. } => {
                let (width, begins) = (width.value(), h - armhole.value());
                let across = across.as_ref().map_or(width, Figure::value);
                let mut levels = vec![level("lower", 0.0, width), level("underarm", begins, width)];
                if across < width {
                    levels.push(level("across", begins + armhole.value() / 3.0, across));
                }
                levels.push(level("upper", h, across));
                levels
            }
            Self::Capped { lower: from, upper, height, .. } => {
                let wide = upper.value();
                vec![lower(from), level("upper", height.value(), wide), level("cap", h, wide / 5.0)]
            }
            Self::Stepped { around, upper, .. } => {
                let around = around.value();
                // What it ends in is wider than half of it where the neck is wide: then it narrows no further.
                let at = |key, up: f64, share: f64| level(key, up * h, (share * around).max(upper.value().min(around)));
                vec![
                    at("lower", 0.0, 1.0),
                    at("half", 0.5, 1.0),
                    at("step-1", 0.5, 0.75),
                    at("three-quarters", 0.75, 0.75),
                    at("step-2", 0.75, 0.5),
                    at("whole", 1.0, 0.5),
                    level("upper", h, upper.value()),
                ]
            }
            Self::Framed { width, border, .. } => {
                let inner = width.value() - 2.0 * border.value();
                vec![level("lower", 0.0, inner), level("upper", h, inner)]
            }
            Self::Sock { around, leg, .. } => {
                let around = around.value();
                vec![level("lower", 0.0, around), level("leg", leg.value(), around), level("upper", h, around)]
            }
            Self::Tip { around, .. } => vec![lower(around), level("upper", h, around.value() / 5.0)],
            Self::Disc { .. } | Self::Frame { .. } => Vec::new(),
        }
    }

    /// A neck that is cut out: how wide and how deep it is, and how many shoulders it leaves.
    pub fn neck(&self) -> Option<(f64, f64, usize)> {
        match self {
            Self::Body { neck, depth, is_half, .. } => {
                Some((neck.value(), depth.value(), if *is_half { 1 } else { 2 }))
            }
            _ => None,
        }
    }

    /// Whether it is one of two fronts.
    pub fn is_half(&self) -> bool {
        matches!(self, Self::Body { is_half: true, .. })
    }
}

/// A level of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Its key in the names of figures; `lower` of the first.
    pub key: &'static str,
    /// How far above the first edge, in metres at the nominal point.
    pub up: f64,
    /// How wide the outline is there, in metres at the nominal point.
    pub width: f64,
}
