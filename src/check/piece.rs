//! `[garment.*.piece.*]`: pieces by their outlines, and what is said of the pieces of a shape.

use super::names;
use super::reading::{counted, optional, whole};
use super::report::Report;
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::shape::Shape;
use crate::plan::{Fabric, Garment, Height, Outline, Piece, Stitch};
use crate::syntax::raw;
use crate::units::System;

/// Finds the stitch of a name.
pub(super) type LookUp<'a> = dyn Fn(&str, &Place, &mut Report) -> Option<Option<&'static Stitch>> + 'a;

/// The pieces of one garment in order of writing; `None` if one has a fault.
pub(super) fn pieces(
    raw: &raw::Garment,
    plan: &raw::Plan,
    place: &Place,
    system: System,
    look_up: &LookUp<'_>,
    report: &mut Report,
) -> Option<Vec<Piece>> {
    let all = place.key("piece");
    if !too_many(raw.piece.len(), limits::MOST_ENTRIES, "pieces", &all, report) {
        return None;
    }
    let of_shape = raw.shape.map(super::worn::shape);
    let is_of_shape = |name: &str| of_shape.is_some_and(|shape| shape.pieces().contains(&name));
    let read: Vec<_> = raw
        .piece
        .iter()
        .map(|(name, raw)| {
            let reader = Reader { raw, plan, place: all.key(name), system, look_up };
            if let Some(shape) = of_shape.filter(|_| !is_of_shape(name) && !reader.is_measured()) {
                reader.unknown(name, shape, report);
                return None;
            }
            reader.piece(name, is_of_shape(name), report)
        })
        .collect();
    read.into_iter().collect()
}

struct Reader<'a> {
    raw: &'a raw::Piece,
    plan: &'a raw::Plan,
    place: Place,
    system: System,
    look_up: &'a LookUp<'a>,
}

impl Reader<'_> {
    /// Whether anything tells how large it is.
    fn is_measured(&self) -> bool {
        let raw = self.raw;
        raw.width.is_some() || raw.length.is_some() || raw.rows.is_some() || raw.outline.is_some()
    }

    /// Notes a piece without measures that the shape does not have.
    fn unknown(&self, name: &str, shape: Shape, report: &mut Report) {
        let message = format!("expected a piece of {}, found {name:?}", shape.with_article());
        let fault =
            Diagnostic::new(Code::UnknownName, message, self.place.clone()).label("no measures, no piece of the shape");
        let all = shape.pieces().join(", ");
        report.fault(match names::nearest(name, shape.pieces().iter().copied()) {
            Some(near) => fault.help(format!("is {near:?} meant?")).note(format!("its pieces are {all}")),
            None => fault.help(format!("its pieces are {all}; one of your own needs `width` and `length`")),
        });
    }

    fn piece(&self, name: &str, is_of_shape: bool, report: &mut Report) -> Option<Piece> {
        let is_named = names::check(name, &self.place, report);
        let outline =
            if is_of_shape { self.check_no_outline(report).then_some(None) } else { self.outline(report).map(Some) };
        let in_the_round = match self.raw.worked {
            Some(worked) => worked == raw::Worked::InTheRound,
            None if is_of_shape => false,
            None => {
                report.assume(&defaults::WORKED, self.place.key(defaults::WORKED.key), self.system);
                false
            }
        };
        let count = self.place.key("count");
        let n = whole(self.raw.count.unwrap_or(1), &count, "a number of pieces", 1..=limits::MOST_OF_A_PIECE, report);
        let stitch = self.stitch(report);
        let ply_plan = match &self.raw.ply_plan {
            None => Some(None),
            Some(name) => {
                let known = self.plan.ply_plan.iter().map(|plan| plan.name.as_deref().unwrap_or_default());
                names::find(name, known, ("ply plan", "ply-plan"), &self.place.key("ply-plan"), report).map(Some)
            }
        };
        Some(Piece {
            name: is_named.then(|| name.to_owned())?,
            outline: outline?,
            in_the_round,
            count: counted(n?, count),
            stitch: stitch?,
            ply_plan: ply_plan?,
            place: self.place.clone(),
        })
    }

    /// Its stitch, which has to be a known one: yarn in it is reckoned against the garment's. The outer `None` where it has a
    /// fault.
    fn stitch(&self, report: &mut Report) -> Option<Option<&'static Stitch>> {
        let Some(name) = &self.raw.stitch else { return Some(None) };
        let place = self.place.key("stitch");
        let found = (self.look_up)(name, &place, report)?;
        if found.is_none() {
            let message = format!("expected a stitch whose yarn is known, found {name:?}");
            let fault = Diagnostic::new(Code::UnknownName, message, place).label("its yarn is not known");
            report.fault(
                fault.help("leave it out where it is near the garment's own; a swatch of the whole holds it all"),
            );
        }
        found.map(Some)
    }

    /// A piece of a shape has its measures from there.
    fn check_no_outline(&self, report: &mut Report) -> bool {
        let raw = self.raw;
        let said = [
            (raw.width.is_some(), "width"),
            (raw.length.is_some(), "length"),
            (raw.upper_width.is_some(), "upper-width"),
            (raw.outline.is_some(), "outline"),
            (raw.rows.is_some(), "rows"),
            (raw.count.is_some(), "count"),
            (raw.worked.is_some(), "worked"),
        ];
        let found: Vec<&str> = said.iter().filter(|(is, _)| *is).map(|(_, key)| *key).collect();
        for key in &found {
            let what = if *key == "worked" { "way of working" } else { key };
            let message = format!("the {what} of this piece follows from the shape of the garment");
            let fault =
                Diagnostic::new(Code::Contradiction, message, self.place.key(key)).label("a piece of the shape");
            report.fault(fault.help("say a measure under `measures`, or give a piece of your own another name"));
        }
        found.is_empty()
    }

    fn outline(&self, report: &mut Report) -> Option<Outline> {
        let raw = self.raw;
        let (width_key, upper_key) = (self.place.key("width"), self.place.key("upper-width"));
        let outline = raw.outline.unwrap_or(raw::Outline::Rectangle);
        let has_upper = matches!(outline, raw::Outline::Trapezoid | raw::Outline::RingSector);
        if raw.width.is_none() {
            report.missing("how wide the piece is, is not said", width_key.clone(), "write `width = \"104 cm\"`");
        }
        if has_upper && raw.upper_width.is_none() {
            report.missing(
                "how wide its upper edge is, is not said",
                upper_key.clone(),
                "write `upper-width = \"50 cm\"`",
            );
        }
        if !has_upper && raw.upper_width.is_some() {
            let message = "expected a trapezoid or a ring sector beside an upper width";
            let fault = Diagnostic::new(Code::Unused, message, upper_key.clone()).label("not used of this outline");
            report.fault(fault.help("write `outline = \"trapezoid\"`"));
        }
        let width = optional(raw.width.as_ref(), &width_key, &limits::PIECE_WIDTH, report);
        let upper = optional(raw.upper_width.as_ref(), &upper_key, &limits::PIECE_WIDTH, report);
        if outline == raw::Outline::Disc {
            self.check_disc(report);
            return Some(Outline::Disc { across: width? });
        }
        let height = self.height(report);
        Some(match outline {
            raw::Outline::Rectangle => Outline::Rectangle { width: width?, height: height? },
            raw::Outline::Triangle => Outline::Triangle { width: width?, height: height? },
            raw::Outline::Trapezoid | raw::Outline::RingSector => Outline::Trapezoid {
                lower: width?,
                upper: upper?,
                height: height?,
                is_ring: outline == raw::Outline::RingSector,
            },
            raw::Outline::Segment => self.segment(width?, height?, report)?,
            raw::Outline::Disc => unreachable!("invariant: a disc has no height"),
        })
    }

    fn check_disc(&self, report: &mut Report) {
        for (is_said, key) in [(self.raw.length.is_some(), "length"), (self.raw.rows.is_some(), "rows")] {
            if is_said {
                let message = format!("a disc has a width and no {key}");
                let fault = Diagnostic::new(Code::Unused, message, self.place.key(key));
                report.fault(fault.label("not used of this outline").help("take it out"));
            }
        }
    }

    /// An arc no higher than half its chord, by its length.
    fn segment(
        &self,
        chord: crate::plan::Reading<crate::units::Length>,
        height: Height,
        report: &mut Report,
    ) -> Option<Outline> {
        let Height::Length(height) = height else {
            let fault = Diagnostic::new(
                Code::Contradiction,
                "expected the height of an arc as a length",
                self.place.key("rows"),
            );
            report.fault(fault.label("rows of an arc tell no height").help("write `length = \"46 cm\"`"));
            return None;
        };
        if height.value > chord.value / 2.0 {
            let message = format!("expected an arc at most half as high as {}, found {}", chord.text, height.text);
            let fault =
                Diagnostic::new(Code::Impossible, message, height.place.clone()).label("more than half a circle");
            report.fault(fault.also(chord.place.clone(), "its chord").help("make it lower, or the chord longer"));
            return None;
        }
        Some(Outline::Segment { chord, height })
    }

    fn height(&self, report: &mut Report) -> Option<Height> {
        let raw = self.raw;
        let (length, rows) = (self.place.key("length"), self.place.key("rows"));
        match (&raw.length, raw.rows) {
            (Some(_), Some(_)) => {
                let message = "expected the length of the piece or its rows, found both";
                let fault = Diagnostic::new(Code::Contradiction, message, rows).label("says it again");
                report.fault(fault.also(length, "said here").help("keep what the pattern counts by"));
                None
            }
            (Some(_), None) => {
                optional(raw.length.as_ref(), &length, &limits::PIECE_LENGTH, report).map(Height::Length)
            }
            (None, Some(n)) => {
                let n = whole(n, &rows, "a number of rows", 1..=limits::MOST_ROWS, report)?;
                Some(Height::Rows(counted(n, rows)))
            }
            (None, None) => {
                let help = "write `length = \"38 cm\"` or `rows = 100`";
                report.missing("how high the piece grows is not said", length, help);
                None
            }
        }
    }
}

/// Notes pieces that no cloth has, rows without a gauge that tells their height, and stitches of pieces where the garment's own is
/// not known.
pub(super) fn check_of_shape(garment: &Garment, report: &mut Report) {
    for piece in &garment.pieces {
        if let Fabric::Shaped(shaped) = &garment.fabric
            && piece.outline.is_none()
            && !shaped.pieces().contains(&piece.name.as_str())
            && let Some((measure, _)) = shaped.shape.band(&piece.name)
        {
            let message = format!("this {} has no {}", shaped.shape.words(), piece.name);
            let fault = Diagnostic::new(Code::Unused, message, piece.place.clone()).label("not used");
            report.fault(fault.help(format!("say its height under `measures`: `{} = \"5 cm\"`", measure.key())));
        }
        if matches!(garment.fabric, Fabric::Woven(_)) {
            let fault = Diagnostic::new(Code::Unused, "a cloth on its loom has no pieces", piece.place.clone());
            report.fault(fault.label("not used").help("take it out"));
        }
        let is_by_rows = matches!(
            piece.outline,
            Some(
                Outline::Rectangle { height: Height::Rows(_), .. }
                    | Outline::Trapezoid { height: Height::Rows(_), .. }
                    | Outline::Triangle { height: Height::Rows(_), .. }
            )
        );
        if is_by_rows && garment.own_gauge().is_none() && matches!(garment.fabric, Fabric::Pieces) {
            let message = "rows tell no height without a gauge";
            report.missing(message, garment.place.key("gauge"), "write `gauge = \"19 st, 26 rows / 10 cm\"`");
        }
        if piece.stitch.is_some() && garment.known.is_none() && garment.craft != crate::plan::Craft::Weave {
            let message = "a stitch of a piece is reckoned against the garment's, whose yarn is not known";
            let fault = Diagnostic::new(Code::Unused, message, piece.place.key("stitch")).label("cannot be used");
            report.fault(fault.help("leave it out; the garment's swatch is taken for all of it"));
        }
    }
}
