//! Garments: from what is said of them to pieces with their yarn.
//!
//! ```text
//! body --> measures --> pieces --> area          |
//!                                   ways --> yarn per area --> yarn of the garment, yarn of each piece
//! ```
//!
//! [`Made`] keeps what the sheets draw: pieces in the order of working, the ways that are open, and the measures.

mod allotted;
mod body;
mod course;
mod ends;
mod grist;
mod impossible;
pub mod outline;
mod reel;
mod shapes;
mod shaping;
mod sizes;
mod trims;
pub mod usual;
mod ways;
mod woven;

use std::ops::RangeInclusive;

use super::aim::Aim;
use super::expression::dimension::Times;
use super::expression::{Figure, Formula, sum};
use super::garment;
use super::ledger::{Assumption, Book, Said, number};
use crate::diagnostics::Diagnostic;
use crate::plan::shape::Measure;
use crate::plan::stitch::STOCKING;
use crate::plan::{Fabric, Garment, Height, Outline, Plan, Reading, Stitch, Trim};
use crate::units::format::significant;
use crate::units::{Area, Count, Length, LinearDensity, Mass, Quantity, Rows, Share, Standing, YarnPerArea};
pub use allotted::{Allotment, OneCopy, Working, allot};
pub use course::{Deed, End, Joined, Step, Until, courses};
pub use ends::{leave, left_of, of_plan};
pub use grist::leading;
use outline::Flat;
pub use reel::{Reel, skeins};
pub use shaping::{Places, Run, Shaping, Spread};
pub use sizes::{SizeOf, sizes};
pub use trims::{RowsLeft, count_rows, counts, headlines, trims, weighings};
pub use ways::Way;

/// A garment as it is made.
#[derive(Debug, Clone)]
pub struct Made {
    /// Its pieces in the order in which they are best worked; none where only a length is stated, or an area.
    pub pieces: Vec<Cut>,
    /// Ways to the length of yarn that are open, the best, which is used, first. None of a cloth, which is counted in threads.
    pub ways: Vec<Way>,
    /// Measures of its shape in the order of the shape, those that are there.
    pub measures: Vec<Measure>,
}

/// A kind of piece.
#[derive(Debug, Clone)]
pub struct Cut {
    /// Its name.
    pub name: String,
    /// The name below which its figures stand: `garment.pullover.sleeve`.
    pub stage: String,
    /// How many of it there are.
    pub count: usize,
    /// Whether its rows are rounds.
    pub in_the_round: bool,
    /// Its stitch, where it is known.
    pub stitch: Option<&'static Stitch>,
    /// Its outline.
    pub flat: Flat,
    /// Index of the ply plan whose yarn it is worked from; `None` where it takes what comes next.
    pub ply_plan: Option<usize>,
    /// Index of the ply plan that it does take; `None` of a trim, and where no yarn is told.
    pub taken: Option<usize>,
    /// Numbers of the planned skeins from which all of them are worked; `None` where the yarn does not reach.
    pub skeins: Option<RangeInclusive<usize>>,
    /// Index into [`Plan::trims`], where it is worked from what is left over or from another yarn.
    pub trim: Option<usize>,
    /// Index of what the plan says of it; `None` of a piece of the shape that it does not name.
    pub own: Option<usize>,
    /// Whether it is a piece of the garment's shape.
    pub is_of_shape: bool,
    /// How it is worked, from its first edge on; empty where no gauge tells.
    pub course: Vec<Step>,
}

impl Cut {
    /// The name of the figure that tells one of its lengths: `height`, `lower-length`, `upper-length` or `width`.
    ///
    /// # Panics
    /// When its outline has no such length.
    pub fn figure_of(&self, what: &str) -> String {
        let found = self.flat.lengths().into_iter().find(|(known, _)| *known == what);
        let (_, length) = found.expect("invariant: asked of an outline that has it");
        length.node().name().map_or_else(|| format!("{}.{what}", self.stage), str::to_owned)
    }
}

static PARTS: Formula = Formula { source: "areas add", standing: Standing::Standard };
static ALL: Formula = Formula { source: "area times yarn per area", standing: Standing::Standard };
static MEASURED: Formula = Formula { source: "as its measures have it", standing: Standing::Standard };
static SPREAD_OUT: Formula = Formula { source: "yarn over the area that it makes", standing: Standing::Standard };
static STATED: Formula = Formula { source: "as the pattern states it", standing: Standing::CommonPractice };
static WEIGHT: Formula = Formula { source: "length times linear density", standing: Standing::Standard };
static ADDED: Formula = Formula { source: "lengths add", standing: Standing::Standard };

/// Enters the fabric of all garments and their yarn, and finds what is impossible.
pub fn enter(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> Vec<Made> {
    plan.garments.iter().map(|garment| Maker { book, plan, aim, garment }.made(faults)).collect()
}

/// What one garment is worked out with.
pub(super) struct Maker<'a> {
    pub(super) book: &'a mut Book,
    pub(super) plan: &'a Plan,
    pub(super) aim: &'a Aim,
    pub(super) garment: &'a Garment,
}

impl Maker<'_> {
    fn made(&mut self, faults: &mut Vec<Diagnostic>) -> Made {
        let garment = self.garment;
        if let Fabric::Woven(loom) = &garment.fabric {
            self.woven(loom);
            self.grist(&[]);
            return Made { pieces: Vec::new(), ways: Vec::new(), measures: Vec::new() };
        }
        let (mut pieces, measures) = match &garment.fabric {
            Fabric::Shaped(shaped) => {
                let measures = self.measures(shaped);
                let found = self.impossible(shaped, &measures);
                // Pieces of impossible measures are not worked out: their figures would only repeat the fault.
                if !found.is_empty() {
                    faults.extend(found);
                    return Made { pieces: Vec::new(), ways: Vec::new(), measures };
                }
                (self.shape_pieces(shaped), measures)
            }
            _ => (Vec::new(), Vec::new()),
        };
        pieces.extend(self.own_pieces());
        for piece in &pieces {
            self.enter_area(piece);
        }
        let cover = self.cover(&pieces);
        let ways = self.ways(cover.as_ref());
        self.yarn(&ways, cover.as_ref());
        for piece in &pieces {
            self.enter_piece(piece);
        }
        self.grist(&measures);
        Made { pieces, ways, measures }
    }

    pub(super) fn name(&self, what: &str) -> String {
        format!("garment.{}.{what}", self.garment.name)
    }

    pub(super) fn noun(&self, what: &str) -> String {
        format!("{what} {}", self.garment.name)
    }

    /// Pieces that the plan measures one by one. Those without a height that is known have none: their garment is told by its area.
    fn own_pieces(&mut self) -> Vec<Cut> {
        let garment = self.garment;
        let rows = garment.own_gauge().map(|gauge| self.book.reading(&gauge.rows, "rows"));
        let mut cuts = Vec::new();
        for (own, piece) in garment.pieces.iter().enumerate() {
            let Some(outline) = &piece.outline else { continue };
            let Some(flat) = self.flat(outline, &piece.name, rows.as_ref()) else { continue };
            cuts.push(Cut {
                name: piece.name.clone(),
                stage: self.name(&piece.name),
                count: piece.count.value as usize,
                in_the_round: piece.in_the_round,
                stitch: piece.stitch.or(garment.known),
                flat,
                ply_plan: piece.ply_plan,
                taken: None,
                skeins: None,
                trim: self.trim(&piece.name),
                own: Some(own),
                is_of_shape: false,
                course: Vec::new(),
            });
        }
        cuts
    }

    /// The trim that a piece is, if it is one.
    fn trim(&self, piece: &str) -> Option<usize> {
        // Of another size the garment has another name; it stands at the same place.
        let garments = &self.plan.garments;
        let is_it = |trim: &Trim| garments[trim.garment].place == self.garment.place && trim.piece == piece;
        self.plan.trims.iter().position(is_it)
    }

    fn flat(&mut self, outline: &Outline, name: &str, rows: Option<&Figure<Rows>>) -> Option<Flat> {
        let across = |book: &mut Book, reading: &Reading<Length>, what: &str| {
            book.reading(reading, &format!("{what} of {name}"))
        };
        Some(match outline {
            Outline::Rectangle { width, height } => {
                Flat::Rectangle { width: across(self.book, width, "width"), height: self.height(height, name, rows)? }
            }
            Outline::Trapezoid { lower, upper, height, is_ring } => Flat::Trapezoid {
                lower: across(self.book, lower, "width"),
                upper: across(self.book, upper, "upper width"),
                height: self.height(height, name, rows)?,
                is_ring: *is_ring,
            },
            Outline::Triangle { width, height } => Flat::Triangle {
                width: across(self.book, width, "width"),
                height: self.height(height, name, rows)?,
                from_point: false,
            },
            Outline::Disc { across: width } => Flat::Disc { across: across(self.book, width, "width") },
            Outline::Segment { chord, height } => {
                let (chord, height) = (across(self.book, chord, "width"), across(self.book, height, "length"));
                Flat::Segment { radius: self.radius(&chord, &height, name), chord, height }
            }
        })
    }

    /// Radius of an arc, entered under its piece.
    pub(super) fn radius(&mut self, chord: &Figure<Length>, height: &Figure<Length>, piece: &str) -> Figure<Length> {
        let name = self.name(&format!("{piece}.radius"));
        self.book.enter(name, format!("radius of the arc of {piece}"), garment::radius_of_arc(chord, height))
    }

    fn height(&mut self, height: &Height, name: &str, rows: Option<&Figure<Rows>>) -> Option<Figure<Length>> {
        match height {
            Height::Length(length) => Some(self.book.reading(length, &format!("length of {name}"))),
            Height::Rows(count) => {
                let count = self.book.reading(count, &format!("rows of {name}"));
                rows.map(|rows| super::colour::formula::height_of(&count, rows))
            }
        }
    }

    fn enter_area(&mut self, piece: &Cut) {
        let area = piece.flat.area();
        let (stage, name) = (&piece.stage, &piece.name);
        self.book.enter(format!("{stage}.area"), format!("area of {name}"), area);
        // What is a measure already is told by its name.
        for (what, length) in piece.flat.lengths() {
            if length.node().name().is_none() {
                self.book.enter(
                    format!("{stage}.{what}"),
                    format!("{} of {name}", what.replace('-', " ")),
                    length.by(&MEASURED),
                );
            }
        }
    }

    /// The area of all pieces, counted in the stitch of the garment: what a piece of another stitch takes is as if it were larger
    /// or smaller. Or the area that the plan says.
    fn cover(&mut self, pieces: &[Cut]) -> Option<Figure<Area>> {
        if let Fabric::Area(area) = &self.garment.fabric {
            return Some(self.book.reading(area, "area of the garment"));
        }
        let (mut plain, mut counted) = (Vec::new(), Vec::new());
        for piece in pieces.iter().filter(|piece| piece.trim.is_none()) {
            let one = self.book.figure::<Area>(&format!("{}.area", piece.stage));
            let all = of_all(self.book, self.garment, piece, one);
            counted.push(match self.times_of_piece(piece) {
                Some(times) => &all * times,
                None => all.clone(),
            });
            plain.push(all);
        }
        if plain.is_empty() {
            return None;
        }
        let is_main = |piece: &Cut| piece.trim.is_some() || piece.stitch == self.garment.known;
        let is_one_stitch = pieces.iter().all(is_main);
        let (name, words) = (self.name("area"), self.noun("area of the"));
        let area = self.book.enter(name, words, sum(&plain).by(&PARTS));
        let cover = if is_one_stitch {
            area
        } else {
            let (name, words) = (self.name("cover"), self.noun("area in its main stitch of the"));
            self.book.enter(name, words, sum(&counted).by(&PARTS))
        };
        let doubt = self.book.assume::<Share>(self.doubt()?);
        let (name, words) = (self.name("fabric"), self.noun("fabric of the"));
        Some(self.book.enter(name, words, (cover * doubt).by(&PARTS)))
    }

    /// How far the fabric is off its sums; `None` of an area, which says its own give-or-take.
    fn doubt(&self) -> Option<&'static Assumption> {
        match self.garment.fabric {
            Fabric::Shaped(_) => Some(&usual::SHAPE),
            Fabric::Pieces => Some(&usual::OWN_PIECES),
            Fabric::Area(_) | Fabric::Woven(_) => None,
        }
    }

    /// What a piece takes of yarn over the garment's own stitch, by area; `None` where it is in the same.
    fn times_of_piece(&mut self, piece: &Cut) -> Option<Figure<Share>> {
        let (own, of_garment) = (piece.stitch?, self.garment.known?);
        if own == of_garment {
            return None;
        }
        let (own, of_garment) = (self.times(own), self.times(of_garment));
        match (own, of_garment) {
            (Some(own), Some(of_garment)) => Some(own / of_garment),
            (Some(own), None) => Some(own),
            (None, Some(of_garment)) => Some(super::expression::dimension::one::<Share>() / of_garment),
            (None, None) => None,
        }
    }

    /// What a stitch takes of yarn over stocking stitch, by area; `None` of stocking stitch.
    pub(super) fn times(&mut self, stitch: &'static Stitch) -> Option<Figure<Share>> {
        if *stitch == STOCKING {
            return None;
        }
        let called = stitch.called(self.plan.terms);
        let text = format!("{} ± {}", significant(stitch.times, 3), significant(stitch.give_or_take, 2));
        Some(self.book.likely(
            &format!("stitch.{}", stitch.key),
            &format!("{called} over stocking stitch"),
            (stitch.times, stitch.give_or_take / 2.0),
            text,
            Said::Default(stitch.standing, stitch.source),
        ))
    }

    /// Enters the yarn of the garment by the best way.
    fn yarn(&mut self, ways: &[Way], cover: Option<&Figure<Area>>) {
        let best = ways.first().expect("invariant: the check found a way");
        let (name, words) = (self.name("yarn"), self.noun("yarn of the"));
        let yarn = match best {
            Way::Stated => {
                let stated = self.garment.stated.as_ref().expect("invariant: this way is open");
                let yarn = self.book.reading(stated, "length stated").by(&STATED);
                if let Some(cover) = cover {
                    let (name, words) = (self.name("per-area"), self.noun("yarn per area of the"));
                    self.book.enter(name, words, (&yarn / cover).by(&SPREAD_OUT));
                }
                yarn
            }
            _ => {
                let per_area = self.book.figure::<YarnPerArea>(&self.name("per-area"));
                self.with_fringe(per_area * cover.expect("invariant: a way by area has one"))
            }
        };
        self.book.enter(name, words, yarn);
    }

    /// Yarn of a fabric, and of the fringe that is knotted into it.
    pub(super) fn with_fringe(&mut self, fabric: Figure<Length>) -> Figure<Length> {
        let Some(fringe) = &self.garment.fringe else { return fabric.by(&ALL) };
        let name = self.name("fringe");
        let knotted = self.book.find::<Length>(&name).unwrap_or_else(|| {
            let bundles = self.book.reading(&fringe.bundles, "bundles of the fringe");
            let strands = self.book.reading(&fringe.strands, "strands in a bundle");
            let cut = self.book.reading(&fringe.cut, "strand of the fringe");
            let words = self.noun("fringe of the");
            self.book.enter(name, words, (cut * (bundles * strands)).by(&ADDED))
        });
        (fabric + knotted).by(&ALL)
    }

    /// Enters what one piece takes: its yarn and weight, and its rows where a gauge tells them.
    fn enter_piece(&mut self, piece: &Cut) {
        let Some(per_area) = self.book.find::<YarnPerArea>(&self.name("per-area")) else { return };
        let stage = &piece.stage;
        let area = self.book.figure::<Area>(&format!("{stage}.area"));
        let mut yarn = per_area * area;
        if let Some(times) = self.times_of_piece(piece) {
            yarn = yarn * times;
        }
        // What the shape leaves out is shared by all its pieces, so that they add up to the garment.
        if let Some(doubt) = self.doubt() {
            yarn = yarn * self.book.assume::<Share>(doubt);
        }
        let yarn = self.book.enter(format!("{stage}.yarn"), format!("yarn in {}", piece.name), yarn.by(&ALL));
        let tex = self.book.figure::<LinearDensity>("yarn.tex");
        let weight: Figure<Mass> = (&tex * &yarn).by(&WEIGHT);
        self.book.enter(format!("{stage}.weight"), format!("weight of {}", piece.name), weight);
        let height = piece.flat.height();
        let mut per_height = (&yarn / &height).by(&SPREAD_OUT);
        // Only what colours do asks for it by name.
        if self.plan.supplies.iter().any(|supply| !supply.sections.is_empty()) {
            let words = format!("yarn in {} by its height", piece.name);
            per_height = self.book.enter(format!("{stage}.per-height"), words, per_height);
        }
        let Some(gauge) = self.garment.own_gauge().filter(|_| piece.stitch == self.garment.known) else { return };
        let rows: Figure<Rows> = self.book.reading(&gauge.rows, "rows");
        let row = super::colour::formula::yarn_in_row(&per_height, &rows);
        self.book.enter(format!("{stage}.row"), format!("yarn in a row of {}", piece.name), row);
        let count = super::colour::formula::rows_of(&height, &rows);
        self.book.enter(format!("{stage}.rows"), format!("rows of {}", piece.name), count);
        let stitches = self.book.reading(&gauge.stitches, "stitches");
        for (edge, width) in piece.flat.edges() {
            let count = garment::stitches_in(&width, &stitches);
            self.book.enter(format!("{stage}.{edge}"), format!("stitches at the {edge} edge of {}", piece.name), count);
        }
    }
}

/// What all pieces of a kind have, from what one of them has.
fn of_all<Q>(book: &mut Book, garment: &Garment, piece: &Cut, one: Figure<Q>) -> Figure<Q>
where
    Q: Quantity + Times<Count, Out = Q>,
{
    if piece.count == 1 {
        return one;
    }
    let words = format!("pieces of {}", piece.name);
    one * match piece.own.map(|own| &garment.pieces[own]).filter(|own| own.outline.is_some()) {
        Some(own) => book.reading(&own.count, &words),
        None => number(book, &format!("pieces.{}", piece.stage), &words, piece.count, "as the shape has them"),
    }
}
