//! Pieces of a garment drawn to scale: outlines as places on the paper, edges with their measures.

use super::Filler;
use super::worked::rows;
use crate::figures::expression::Figure;
use crate::figures::garments::Cut;
use crate::figures::garments::outline::Flat;
use crate::sheets::fill::print::{In, Round, joined, some_unit};
use crate::sheets::garment_sheet::{DrawnScale, Edge, Grows, Outline, PieceDrawn, Side, Span};
use crate::sheets::marks::Amount;
use crate::units::{Kind, Length, unit};

/// How wide a cap and a tip end, of what they begin with; see [`Flat::levels`].
const TOP: f64 = 0.2;
/// Points on a curve.
const STEPS: usize = 24;

impl Filler<'_> {
    /// The pieces, and the scale that they share.
    pub(super) fn drawn(&self) -> (Vec<PieceDrawn>, Option<DrawnScale>) {
        let extents: Vec<(f64, f64)> = self.made.pieces.iter().map(extent).collect();
        let widest = extents.iter().map(|extent| extent.0).fold(0.0, f64::max);
        if widest == 0.0 {
            return (Vec::new(), None);
        }
        let drawn = self.made.pieces.iter().enumerate().zip(&extents).map(|((i, piece), (width, height))| PieceDrawn {
            number: self.printer.label(i + 1, "piece"),
            name: self.printer.as_written(&piece.name.replace('-', " ")),
            how: how(self, piece),
            width: width / widest,
            height: height / widest,
            lines: lines(&piece.flat),
            edges: self.edges(piece),
            steps: self.steps(piece),
            grows: match piece.flat {
                Flat::Disc { .. } | Flat::Frame { .. } => Grows::Out,
                Flat::Crown { .. } => Grows::Inward,
                _ => Grows::Up,
            },
        });
        (drawn.collect(), Some(self.scale(widest)))
    }

    /// A round length of about a third of the widest piece.
    fn scale(&self, widest: f64) -> DrawnScale {
        let symbol = self.printer.lead("cm", "in");
        let unit = unit(Kind::Length, symbol).expect("invariant: centimetres and inches stand in the tables");
        let rounds = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
        let fits = |length: &&f64| unit.to_base(**length) <= 0.4 * widest;
        let length = rounds.iter().rfind(fits).copied().unwrap_or(1.0);
        let label = joined(&self.printer.graduation(Round::Places(0).text(length)), symbol);
        DrawnScale { bar: unit.to_base(length) / widest, label }
    }

    fn edges(&self, piece: &Cut) -> Vec<Edge> {
        let mut edges = Vec::new();
        let mut add = |side, what: &str, span, count: Option<String>| {
            edges.push(Edge { side, span, length: self.edge_length(piece, what), count });
        };
        let (whole, lower, upper) = (None, self.stitches_of(piece, "lower"), self.stitches_of(piece, "upper"));
        let nominal = |length: &Figure<Length>| length.value();
        match &piece.flat {
            Flat::Disc { .. } => add(Side::Below, "width", whole, None),
            Flat::Crown { .. } => add(Side::Below, "width", whole, lower.map(|st| format!("{st} in its edge"))),
            Flat::Frame { length, border, .. } => {
                add(Side::Below, "width", whole, None);
                add(Side::Right, "length", span(0.0, 1.0), None);
                add(Side::Left, "height", span(0.0, nominal(border) / nominal(length)), None);
            }
            Flat::Trapezoid { .. } | Flat::Stepped { .. } => {
                add(Side::Below, "lower-length", whole, lower);
                add(Side::Above, "upper-length", whole, upper);
                add(Side::Left, "height", whole, self.rows_of(piece));
            }
            Flat::Triangle { from_point: true, .. } => {
                add(Side::Above, "upper-length", whole, upper);
                add(Side::Left, "height", whole, self.rows_of(piece));
            }
            Flat::Capped { height, cap, .. } => {
                add(Side::Below, "lower-length", whole, lower);
                add(Side::Right, "upper-length", whole, upper);
                let up_to = nominal(height) / (nominal(height) + nominal(cap));
                add(Side::Left, "sleeve-height", span(0.0, up_to), self.rows_to(piece, "upper"));
            }
            Flat::Body { width, height, neck, depth, armhole, is_half, .. } => {
                add(Side::Below, "lower-length", whole, lower);
                add(Side::Left, "height", whole, self.rows_of(piece));
                add(Side::Right, "armhole", span(1.0 - nominal(armhole) / nominal(height), 1.0), None);
                let wide = nominal(neck) / nominal(width);
                let neck = if *is_half { span(1.0 - wide, 1.0) } else { span(0.5 - wide / 2.0, 0.5 + wide / 2.0) };
                let count = (nominal(depth) > 0.0).then(|| self.neck_depth(piece));
                add(Side::Above, "neck-width", neck, count);
            }
            Flat::Sock { leg, foot, .. } => {
                add(Side::Below, "lower-length", whole, lower);
                let heel = nominal(leg) / (nominal(leg) + nominal(foot));
                add(Side::Left, "leg", span(0.0, heel), self.rows_to(piece, "leg"));
                add(Side::Right, "foot", span(heel, 1.0), self.rows_to(piece, "upper"));
            }
            _ => {
                add(Side::Below, "lower-length", whole, lower);
                add(Side::Left, "height", whole, self.rows_of(piece));
            }
        }
        edges
    }

    /// Stitches of an edge: "68 st around".
    fn stitches_of(&self, piece: &Cut, edge: &str) -> Option<String> {
        let around = if piece.in_the_round { " around" } else { "" };
        let count = self.counted(format!("{}.{edge}-stitches", piece.stage))?;
        Some(format!("{count} st{around}"))
    }

    /// All rows of a piece.
    fn rows_of(&self, piece: &Cut) -> Option<String> {
        let count = self.counted(format!("{}.rows", piece.stage))?;
        Some(format!("{count} {}", rows(piece, &count)))
    }

    /// Rows up to a level of it.
    fn rows_to(&self, piece: &Cut, level: &str) -> Option<String> {
        let count = self.counted(format!("{}.{level}-rows", piece.stage))?;
        Some(format!("{count} {}", rows(piece, &count)))
    }

    fn counted(&self, name: String) -> Option<String> {
        self.printer.ledger.find(&name).map(|_| self.printer.value(&name, In("", Round::Places(0))))
    }

    /// "10 cm deep".
    fn neck_depth(&self, piece: &Cut) -> String {
        format!("{} deep", self.printer.with_unit(&piece.figure_of("neck-depth"), self.length().0))
    }

    /// An edge of a piece in both systems, as its figure has it.
    fn edge_length(&self, piece: &Cut, what: &str) -> Amount {
        let (lead, other) = self.length();
        let name = piece.figure_of(what);
        Amount {
            value: self.printer.value(&name, lead),
            unit: some_unit(lead.0),
            other: Some(self.printer.with_unit(&name, other)),
        }
    }
}

/// A stretch of a side, as shares of it.
fn span(from: f64, to: f64) -> Option<Span> {
    Some(Span { from, to })
}

/// How wide and high a piece is drawn: a tube lies flat.
fn extent(piece: &Cut) -> (f64, f64) {
    let (width, height) = piece.flat.extent();
    let is_tube = piece.in_the_round && !matches!(piece.flat, Flat::Disc { .. } | Flat::Crown { .. });
    (if is_tube { width / 2.0 } else { width }, height)
}

/// "make 2", "in the round".
fn how(filler: &Filler<'_>, piece: &Cut) -> Option<String> {
    let mirrored = if piece.flat.is_half() { ", one of them mirrored" } else { "" };
    let count = (piece.count > 1).then(|| format!("make {}{mirrored}", filler.printer.label(piece.count, "pieces")));
    let ring = matches!(piece.flat, Flat::Trapezoid { is_ring: true, .. });
    let ring = ring.then(|| "its edges are arcs, drawn straight".to_owned());
    let round = piece.in_the_round.then(|| "in the round, drawn flat".to_owned());
    let words: Vec<String> = round.into_iter().chain(count).chain(ring).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

fn closed(points: Vec<[f64; 2]>) -> Vec<Outline> {
    vec![Outline { points, closed: true }]
}

/// The outline of a piece, its own width and height taken as one.
fn lines(flat: &Flat) -> Vec<Outline> {
    let square = vec![[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    match flat {
        Flat::Rectangle { .. } | Flat::Framed { .. } => closed(square),
        Flat::Trapezoid { lower, upper, .. } => {
            let (lower, upper) = inset(lower.value(), upper.value());
            closed(vec![[lower, 0.0], [1.0 - lower, 0.0], [1.0 - upper, 1.0], [upper, 1.0]])
        }
        Flat::Triangle { from_point: false, .. } => closed(vec![[0.0, 0.0], [1.0, 0.0], [0.5, 1.0]]),
        Flat::Triangle { .. } => closed(vec![[0.5, 0.0], [1.0, 1.0], [0.0, 1.0]]),
        Flat::Sock { leg, foot, .. } => {
            let heel = leg.value() / (leg.value() + foot.value());
            let mut lines = closed(square);
            lines.push(Outline { points: vec![[0.0, heel], [1.0, heel]], closed: false });
            lines
        }
        Flat::Disc { .. } | Flat::Crown { .. } => closed(arc(0.5, 0.5, 0.0, std::f64::consts::TAU)),
        Flat::Segment { chord, height, radius } => closed(segment(chord.value(), height.value(), radius.value())),
        Flat::Body { width, height, neck, depth, armhole, across: narrow, is_half } => {
            let across = |x: f64| x / width.value();
            let up = |y: f64| 1.0 - y / height.value();
            // One of two fronts has one side.
            let sides = if *is_half { 1.0 } else { 2.0 };
            let shoulder =
                narrow.as_ref().map(|narrow| (across((width.value() - narrow.value()) / sides), up(armhole.value())));
            closed(body(shoulder, across(neck.value()), up(depth.value()), *is_half))
        }
        Flat::Capped { lower, upper, height, cap } => {
            let (lower, upper) = inset(lower.value(), upper.value());
            let base = height.value() / (height.value() + cap.value());
            let top = TOP / 2.0 * (1.0 - 2.0 * upper);
            closed(vec![
                [lower, 0.0],
                [1.0 - lower, 0.0],
                [1.0 - upper, base],
                [0.5 + top, 1.0],
                [0.5 - top, 1.0],
                [upper, base],
            ])
        }
        Flat::Stepped { .. } => closed(vec![
            [0.0, 0.0],
            [1.0, 0.0],
            [1.0, 0.5],
            [0.875, 0.5],
            [0.875, 0.75],
            [0.75, 0.75],
            [0.75, 1.0],
            [0.25, 1.0],
            [0.25, 0.75],
            [0.125, 0.75],
            [0.125, 0.5],
            [0.0, 0.5],
        ]),
        Flat::Frame { width, length, border } => {
            let (x, y) = (border.value() / width.value(), border.value() / length.value());
            let mut lines = closed(square);
            lines.extend(closed(vec![[x, y], [1.0 - x, y], [1.0 - x, 1.0 - y], [x, 1.0 - y]]));
            lines
        }
        Flat::Tip { .. } => closed(vec![[0.0, 0.0], [1.0, 0.0], [0.5 + TOP / 2.0, 1.0], [0.5 - TOP / 2.0, 1.0]]),
    }
}

/// How far the narrower of two edges is set in on each side.
fn inset(lower: f64, upper: f64) -> (f64, f64) {
    let widest = lower.max(upper);
    ((1.0 - lower / widest) / 2.0, (1.0 - upper / widest) / 2.0)
}

/// Points on an arc about the middle of the drawing.
fn arc(x: f64, y: f64, from: f64, to: f64) -> Vec<[f64; 2]> {
    let point = |i: usize| {
        let angle = from + (to - from) * i as f64 / (2 * STEPS) as f64;
        [x + 0.5 * libm::cos(angle), y + 0.5 * libm::sin(angle)]
    };
    (0..2 * STEPS).map(point).collect()
}

/// A chord below and its arc over it.
fn segment(chord: f64, height: f64, radius: f64) -> Vec<[f64; 2]> {
    let mut points = vec![[0.0, 0.0], [1.0, 0.0]];
    points.extend((1..STEPS).map(|i| {
        let x = 1.0 - i as f64 / STEPS as f64;
        let across = (x - 0.5) * chord;
        let y = (radius * radius - across * across).max(0.0).sqrt() - (radius - height);
        [x, (y / height).clamp(0.0, 1.0)]
    }));
    points
}

/// A back or a front: sides, armholes where there are any, shoulders, and the neck as a curve. `shoulder` is how far the armhole is
/// cut in and where it begins; `neck` how wide it is, `low` how deep it reaches.
fn body(shoulder: Option<(f64, f64)>, neck: f64, low: f64, is_half: bool) -> Vec<[f64; 2]> {
    let mut points = vec![[0.0, 0.0], [1.0, 0.0]];
    let side = |mirror: bool| {
        let x = |x: f64| if mirror { x } else { 1.0 - x };
        match shoulder {
            None => vec![[x(0.0), 1.0]],
            Some((cut, begins)) => {
                let up = |share: f64| begins + (1.0 - begins) * share;
                vec![[x(0.0), begins], [x(0.6 * cut), up(0.08)], [x(cut), up(1.0 / 3.0)], [x(cut), 1.0]]
            }
        }
    };
    // One of two fronts has its neck at the right, where the band goes.
    if is_half {
        points.push([1.0, low]);
        points.extend((1..STEPS).map(|i| {
            let share = i as f64 / STEPS as f64;
            [
                1.0 - neck * libm::sin(share * std::f64::consts::FRAC_PI_2),
                low + (1.0 - low) * (1.0 - libm::cos(share * std::f64::consts::FRAC_PI_2)),
            ]
        }));
        points.push([1.0 - neck, 1.0]);
    } else {
        points.extend(side(false));
        let (right, left) = (0.5 + neck / 2.0, 0.5 - neck / 2.0);
        points.extend((0..=STEPS).map(|i| {
            let share = i as f64 / STEPS as f64;
            [
                right + (left - right) * share,
                1.0 - (1.0 - low) * libm::pow(libm::sin(share * std::f64::consts::PI), 0.6),
            ]
        }));
    }
    points.extend(side(true).into_iter().rev());
    points
}
