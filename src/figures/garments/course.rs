//! How each piece is worked, from its first edge to its last: whole stitches at each level of its outline, whole rows between them,
//! and how the shaping is spread over those rows.
//!
//! Everything here is counted from what the measures come to: a stitch and a row are whole, and edges that are joined have one
//! number.

use super::outline::{Flat, Level};
use super::shaping::{Line as Edge, Places, Shaping, shaping};
use super::{Cut, Made};
use crate::diagnostics::{Code, Diagnostic};
use crate::figures::ledger::{Book, How, Line};
use crate::plan::shape::{Measure, Shape};
use crate::plan::{Fabric, Garment, Gauge, Plan};
use crate::units::format::decimals;
use crate::units::{Count, Kind, Length, Standing};

/// One thing to do in a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is done.
    pub deed: Deed,
    /// Name of the figure that says how many stitches there are when it is done; `None` where none remain or none are counted.
    pub stitches: Option<String>,
    /// Name of the figure that says how far it reaches: rows, or a length where the rows of the stitch are not known; `None` of
    /// what takes none.
    pub reach: Option<String>,
}

/// What is done in a step.
#[derive(Debug, Clone, PartialEq)]
pub enum Deed {
    /// The first edge.
    CastOn,
    /// The stitches of another piece are worked on.
    GoOn {
        /// Its name.
        from: &'static str,
        /// Whether only a part of them is this piece's.
        is_part: bool,
    },
    /// Stitches are taken up along other pieces.
    TakeUp {
        /// What they are.
        along: &'static str,
    },
    /// Stitches are taken up along all four sides of another piece, and the corners are worked with the rows.
    Around,
    /// Body and sleeves go onto one needle.
    Join(Option<Joined>),
    /// It grows within another piece.
    Within {
        /// Its name.
        piece: &'static str,
    },
    /// Without shaping, up to something.
    Even(Until),
    /// Fewer stitches, or more.
    Shape(Shaping),
    /// Body and sleeves of a yoke at rates of their own, over the same rounds.
    Apart([Shaping; 2]),
    /// The heel of a sock.
    Heel,
    /// The middle of a neck: stitches in the middle are left, and each side is worked by itself.
    Part {
        /// Name of the figure that says how many are left in the middle, or at the edge of one of two fronts.
        left: String,
        /// Name of the figure that says in which row, where that is before the shaping told above it is done.
        row: Option<String>,
        /// Whether there are two sides.
        has_two_sides: bool,
    },
    /// The last edge.
    End(End),
}

/// What waits where body and sleeves are joined; names of figures of stitches.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined {
    /// At each underarm, on the body and on a sleeve.
    pub waits: String,
    /// What is left of half of the body.
    pub body: String,
    /// What is left of a sleeve.
    pub sleeve: String,
}

/// What becomes of the last stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// They are cast off.
    Off,
    /// They wait on a thread.
    Wait,
    /// The yarn is drawn through them.
    DrawnThrough,
}

/// Up to what something is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// Its end, or where it is shaped next.
    There,
    /// The underarm, from which on its edges are shaped.
    Underarm,
    /// The underarm of edges that go on straight.
    Mark,
    /// The shoulder.
    Shoulder,
    /// Where the neck begins.
    Neck,
    /// The end of a sock.
    Toe,
}

/// Finds how each piece is worked. What its garment has no gauge for has no steps.
/// An edge that whole repeats make much wider or narrower than it is reckoned is a fault that warns.
pub fn courses(book: &mut Book, plan: &Plan, made: &mut [Made], faults: &mut Vec<Diagnostic>) {
    for (garment, made) in plan.garments.iter().zip(made) {
        let Some(gauge) = garment.own_gauge() else { continue };
        let order = in_order(made);
        for at in order {
            let course = Counter { book: &mut *book, garment, gauge, made: &*made }.course(&made.pieces[at]);
            made.pieces[at].course = course;
        }
        faults.extend(off_by_repeats(book, garment, made));
    }
}

/// The edge that whole repeats put furthest off its length, if that is too far.
fn off_by_repeats(book: &Book, garment: &Garment, made: &Made) -> Option<Diagnostic> {
    /// How far an edge may be off, of its length: our choice, as far as a gauge of good measure is off.
    const MAY_MISS: f64 = 0.04;
    let (of, _) = garment.repeat.as_ref()?;
    let edges = made.pieces.iter().flat_map(|piece| ["lower", "upper"].map(|edge| (piece, edge)));
    let miss = |(piece, edge): (&Cut, &str)| {
        let reckoned = book.find::<Count>(&format!("{}.{edge}", piece.stage))?.value();
        let counted = book.counted(&format!("{}.{edge}-stitches", piece.stage))?;
        Some((counted / reckoned - 1.0, counted, piece.name.clone(), edge.to_owned()))
    };
    let held = |(piece, edge): (&Cut, &str)| {
        book.find::<Count>(&format!("{}.{edge}", piece.stage)).is_some_and(|reckoned| reckoned.value() >= of.value)
    };
    let all: Vec<(&Cut, &str)> = edges.filter(|(_, edge)| *edge == "lower" || *edge == "upper").collect();
    if !all.iter().any(|edge| held(*edge)) {
        let message = format!("no edge of the {} holds a repeat of {} stitches", garment.name, of.text);
        let fault = Diagnostic::new(Code::RepeatMisses, message, of.place.clone()).label("longer than every edge");
        return Some(fault.help("edges are told in whole stitches; take it out, or write the stitches of one repeat"));
    }
    let worst = all.into_iter().filter_map(miss).max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))?;
    let (off, counted, piece, edge) = worst;
    if off.abs() <= MAY_MISS {
        return None;
    }
    let way = if off > 0.0 { "wider" } else { "narrower" };
    let message = format!(
        "the {edge} edge of {piece} has {counted} stitches in whole repeats, {} % {way} than it is reckoned",
        decimals(off.abs() * 100.0, 0)
    );
    let fault = Diagnostic::new(Code::RepeatMisses, message, of.place.clone()).label("repeats this long");
    Some(
        fault.help(
            "its yarn is that of the reckoned width: change a measure so that it holds whole repeats, or the repeat",
        ),
    )
}

/// Pieces in an order in which each comes after those whose stitches it takes.
fn in_order(made: &Made) -> Vec<usize> {
    let mut order: Vec<usize> = (0..made.pieces.len()).collect();
    let rank = |cut: &Cut| match cut.name.as_str() {
        _ if !cut.is_of_shape => 0,
        "yoke" | "thumb" => 1,
        "hem" | "sleeve-cuff" | "cuff" | "brim" | "neckband" | "front-band" | "border" => 2,
        _ => 0,
    };
    order.sort_by_key(|at| rank(&made.pieces[*at]));
    order
}

/// Counts one piece.
struct Counter<'a> {
    book: &'a mut Book,
    garment: &'a Garment,
    gauge: &'a Gauge,
    made: &'a Made,
}

impl Counter<'_> {
    fn course(&mut self, piece: &Cut) -> Vec<Step> {
        if piece.is_of_shape
            && let Some(steps) = self.band(piece)
        {
            return steps;
        }
        let levels = piece.flat.levels();
        // The gauge is of another stitch than this piece.
        let is_counted = piece.stitch == self.garment.known;
        let Some((first, above)) = levels.split_first().filter(|_| is_counted) else { return Vec::new() };
        let mut at = self.first(piece, first);
        let mut wide = first.width;
        let begins = self.begin(piece);
        let mut steps = vec![begins];
        let mut rows = 0;
        for level in above {
            let until = (level.up * self.gauge.rows.value).round() as usize;
            // A piece that is there has a row.
            let until = until.max(rows).max(usize::from(level.up > 0.0));
            let to = self.level(piece, level, at, (level.width - wide).abs() < SAME);
            wide = level.width;
            let reach = (until > rows).then(|| self.rows(piece, level, until - rows));
            let stitches = Some(stitches_at(piece, level.key));
            if to != at {
                let deed = self.shape(piece, (at, to), until - rows);
                steps.push(Step { deed, stitches, reach });
            } else if reach.is_some() {
                steps.push(Step { deed: Deed::Even(until_what(piece, level)), stitches, reach });
            }
            if level.key == "leg" {
                steps.push(Step { deed: Deed::Heel, stitches: Some(stitches_at(piece, level.key)), reach: None });
            }
            (at, rows) = (to, until);
        }
        if let Some((wide, deep, sides)) = piece.flat.neck() {
            self.neck(piece, &mut steps, (at, rows), (wide, deep, sides));
        }
        steps.extend(end(piece).map(|end| Step { deed: Deed::End(end), stitches: None, reach: None }));
        // A rectangle that is measured by itself is told by its drawing.
        let is_told = !piece.is_of_shape && !steps.iter().any(|step| matches!(step.deed, Deed::Shape(_)));
        if is_told { Vec::new() } else { steps }
    }

    fn shape(&self, piece: &Cut, (from, to): (usize, usize), rows: usize) -> Deed {
        if self.places(piece) == Places::FourLines
            && let Some(apart) = self.apart(piece, (from, to), rows)
        {
            return Deed::Apart(apart);
        }
        Deed::Shape(self.shaped(piece, (from, to), rows))
    }

    /// Shaping of a yoke whose sleeves, or whose front and back, would run out before the neck: those end with next to nothing, and
    /// the others give what is still to go.
    fn apart(&self, piece: &Cut, (from, to): (usize, usize), rows: usize) -> Option<[Shaping; 2]> {
        const LEAST: usize = 2;
        let of = |what: &str| self.counted(&format!("{}.{what}-stitches", piece.stage));
        let (body, sleeve) = (of("half-body")?, of("sleeve-part")?);
        let all = from.checked_sub(to)? / 4;
        let most = |part: usize| part.saturating_sub(LEAST) / 2;
        let together = all / 2;
        if together <= most(body) && together <= most(sleeve) {
            return None;
        }
        let of_sleeve = if most(sleeve) < together { most(sleeve) } else { all.saturating_sub(most(body)) };
        let of_body = all - of_sleeve;
        let one = |places, times: usize| shaping(places, (4 * times, 0), rows, false, Edge::Straight);
        Some([one(Places::BodyLines, of_body), one(Places::SleeveLines, of_sleeve)])
    }

    fn shaped(&self, piece: &Cut, stitches: (usize, usize), rows: usize) -> Shaping {
        let line = match piece.flat {
            Flat::Segment { .. } | Flat::Tip { .. } => Edge::Rounding,
            _ => Edge::Straight,
        };
        shaping(self.places(piece), stitches, rows, !piece.in_the_round && piece.name != "gusset", line)
    }

    /// The stitches of the first edge.
    fn first(&mut self, piece: &Cut, level: &Level) -> usize {
        let name = stitches_at(piece, level.key);
        if piece.is_of_shape && piece.name == "yoke" {
            return self.joined(piece, name);
        }
        if piece.is_of_shape
            && piece.name == "thumb"
            && let Some(gusset) = self.counted(&format!("garment.{}.gusset.upper-stitches", self.garment.name))
        {
            let of = vec![format!("garment.{}.gusset.upper-stitches", self.garment.name)];
            self.count(name, level_words(piece, level), gusset, "as the gusset has them", of);
            return gusset;
        }
        let raw = level.width * self.gauge.stitches.value;
        self.edge(piece, level.key, name, raw)
    }

    /// Body and both sleeves, less what waits at the underarms.
    fn joined(&mut self, piece: &Cut, name: String) -> usize {
        let under = self.underarm();
        let of = |garment: &Garment, piece: &str| format!("garment.{}.{piece}", garment.name);
        let (body, sleeve) = (of(self.garment, "body.lower-stitches"), of(self.garment, "sleeve.upper-stitches"));
        let (Some(around), Some(upper)) = (self.counted(&body), self.counted(&sleeve)) else { return 0 };
        let waits = under.as_ref().and_then(|name| self.counted(name)).unwrap_or(0);
        // Each underarm of the body gives as many to wait as that of a sleeve.
        let joined = (around + 2 * upper).saturating_sub(4 * waits).max(1);
        let words = format!("stitches to work at the lower edge of {}", piece.name);
        let from = [vec![body.clone(), sleeve.clone()], under.into_iter().collect()].concat();
        self.count(name, words, joined, "body and sleeves, less what waits at both underarms of each", from);
        for (what, of, left) in [
            ("half-body", body, (around / 2).saturating_sub(waits)),
            ("sleeve-part", sleeve, upper.saturating_sub(waits)),
        ] {
            let words = format!("stitches of the {} in the yoke", what.replace('-', " "));
            self.count(format!("{}.{what}-stitches", piece.stage), words, left, "less what waits", vec![of]);
        }
        joined
    }

    /// The figure of what waits at an underarm, counted once.
    fn underarm(&mut self) -> Option<String> {
        let measure = format!("garment.{}.measure.{}", self.garment.name, Measure::Underarm.key());
        let wide = self.book.find::<Length>(&measure)?.value();
        let name = format!("garment.{}.underarm-stitches", self.garment.name);
        if self.counted(&name).is_none() {
            let waits = (wide * self.gauge.stitches.value).round() as usize;
            self.count(name.clone(), "stitches that wait at an underarm".to_owned(), waits, WHOLE, vec![measure]);
        }
        Some(name)
    }

    /// Stitches at a level above the first one, from so many: whole repeats at an edge, and else a difference that the shaping can make.
    fn level(&mut self, piece: &Cut, level: &Level, from: usize, is_as_before: bool) -> usize {
        let raw = level.width * self.gauge.stitches.value;
        let name = stitches_at(piece, level.key);
        if is_as_before {
            self.count(name, level_words(piece, level), from, "as before", vec![stitches_at(piece, "lower")]);
            return from;
        }
        if level.key == "upper" && self.garment.repeat.is_some() {
            return self.edge(piece, level.key, name, raw);
        }
        let by = self.places(piece).at_once().unwrap_or(1) as f64;
        // A crown is closed with one stitch to a wedge.
        let least = if level.width > 0.0 {
            1.0
        } else if piece.in_the_round {
            by
        } else {
            0.0
        };
        let change = ((raw - from as f64) / by).round() * by;
        let mut to = from as f64 + change;
        while to < least {
            to += by;
        }
        let how = "to whole stitches that the shaping can reach";
        self.count(name, level_words(piece, level), to as usize, how, vec![stitches_at(piece, "lower")]);
        to as usize
    }

    /// Stitches at an edge: whole repeats, where there is one and the edge holds it.
    fn edge(&mut self, piece: &Cut, edge: &str, name: String, raw: f64) -> usize {
        let said = self.garment.repeat.as_ref().map(|(of, plus)| (of.value, plus.value));
        let (of, plus) = said.unwrap_or((usual_repeat(piece), 0.0));
        // A round has no stitches beside its repeats.
        let plus = if piece.in_the_round { 0.0 } else { plus };
        let (of, plus) = if raw < of + plus { (1.0, 0.0) } else { (of, plus) };
        let stitches = (((raw - plus) / of).round().max(1.0) * of + plus) as usize;
        let how = if of > 1.0 { "to whole repeats" } else { WHOLE };
        let words = format!("stitches to work at the {edge} edge of {}", piece.name);
        let reckoned = format!("{}.{edge}", piece.stage);
        let from = self.book.find::<Count>(&reckoned).map(|_| reckoned);
        self.count(name, words, stitches, how, from.into_iter().collect());
        stitches
    }

    fn rows(&mut self, piece: &Cut, level: &Level, rows: usize) -> String {
        let name = format!("{}.{}-rows", piece.stage, level.key);
        let words = format!("rows up to {} of {}", level.key, piece.name);
        let of = vec![format!("{}.rows", piece.stage)];
        self.count(name.clone(), words, rows, "to whole rows, so that all of them add up", of);
        name
    }

    fn places(&self, piece: &Cut) -> Places {
        let is_of = |shape: Shape| matches!(&self.garment.fabric, Fabric::Shaped(shaped) if shaped.shape == shape);
        match piece.name.as_str() {
            _ if matches!(piece.flat, Flat::Stepped { .. }) => Places::AllAlong,
            "yoke" if piece.is_of_shape && is_of(Shape::Raglan) => Places::FourLines,
            "crown" if piece.is_of_shape => Places::EightWedges,
            "tip" if piece.is_of_shape => Places::SideFolds,
            _ if piece.flat.is_half() => Places::OneEdge,
            _ => Places::BothEdges,
        }
    }

    fn begin(&mut self, piece: &Cut) -> Step {
        let there = |name: &'static str| self.made.pieces.iter().any(|cut| cut.is_of_shape && cut.name == name);
        let below = |name: &'static str| {
            there(name).then(|| {
                let count = self.piece(name).map_or(1, |cut| cut.count);
                Deed::GoOn { from: name, is_part: name == "hem" && piece.name != "body" && count == 1 }
            })
        };
        let on = if piece.is_of_shape {
            match piece.name.as_str() {
                "body" | "back" | "front" => below("hem"),
                "sleeve" => below("sleeve-cuff"),
                "sides" => below("brim"),
                "hand" => below("cuff"),
                "crown" => below("sides"),
                "tip" => below("hand"),
                "gusset" => Some(Deed::Within { piece: "hand" }),
                "thumb" => below("gusset"),
                "yoke" => return self.begin_yoke(piece),
                _ => None,
            }
        } else {
            None
        };
        Step { deed: on.unwrap_or(Deed::CastOn), stitches: Some(stitches_at(piece, "lower")), reach: None }
    }

    fn begin_yoke(&mut self, piece: &Cut) -> Step {
        let joined = self.underarm().map(|waits| Joined {
            waits,
            body: format!("{}.half-body-stitches", piece.stage),
            sleeve: format!("{}.sleeve-part-stitches", piece.stage),
        });
        Step { deed: Deed::Join(joined), stitches: Some(stitches_at(piece, "lower")), reach: None }
    }

    /// The neck of a back or a front, in place of the last rows up to the shoulder. Where it begins before the armholes are done, it
    /// is told after them with its row.
    ///
    /// Two fifths of its stitches are left in the middle and the rest goes evenly: what that cuts out is seven tenths of width times
    /// depth, as the area has it.
    fn neck(&mut self, piece: &Cut, steps: &mut Vec<Step>, (across, rows): (usize, usize), neck: (f64, f64, usize)) {
        let (wide, deep, sides) = neck;
        let deep = ((deep * self.gauge.rows.value).round() as usize).min(rows);
        if deep == 0 {
            return;
        }
        let shoulder = self.shoulder(across, wide, sides);
        let neck = across - sides * shoulder;
        let each = (neck * 3 / 5 / sides).min(neck / sides);
        let left = neck - sides * each;
        let stage = &piece.stage;
        let name = |what: &str| format!("{stage}.{what}");
        let of = vec![stitches_at(piece, "upper")];
        let words = |what: &str| format!("{what} of {}", piece.name);
        self.count(name("neck-stitches"), words("stitches of the neck"), neck, "what the shoulders leave", of.clone());
        self.count(
            name("neck-left-stitches"),
            words("stitches left in the middle of the neck"),
            left,
            "two fifths",
            of.clone(),
        );
        self.count(name("shoulder-stitches"), words("stitches of a shoulder"), shoulder, "as the back has it", of);
        let last = steps.pop().filter(|step| matches!(step.deed, Deed::Even(_)));
        let straight = last.as_ref().and_then(|step| self.counted(step.reach.as_ref()?)).unwrap_or(0);
        let before = straight.checked_sub(deep);
        let row = if let (Some(before), Some(step)) = (before, &last) {
            if before > 0 {
                let reach = name("before-neck-rows");
                self.count(
                    reach.clone(),
                    words("rows up to the neck"),
                    before,
                    "what its depth leaves",
                    vec![name("rows")],
                );
                let stitches = step.stitches.clone();
                steps.push(Step { deed: Deed::Even(Until::Neck), stitches, reach: Some(reach) });
            }
            None
        } else {
            steps.extend(last);
            let row = name("neck-row");
            self.count(
                row.clone(),
                words("row in which the neck begins"),
                rows - deep + 1,
                "rows less its depth",
                vec![name("rows")],
            );
            Some(row)
        };
        let has_two_sides = sides == 2;
        let is_meanwhile = row.is_some();
        let parts = Deed::Part { left: name("neck-left-stitches"), row, has_two_sides };
        steps.push(Step { deed: parts, stitches: None, reach: None });
        let reach = (!is_meanwhile).then(|| {
            let reach = name("neck-rows");
            self.count(reach.clone(), words("rows of the neck"), deep, "its depth in whole rows", vec![name("rows")]);
            reach
        });
        let shaping = shaping(Places::OneEdge, (shoulder + each, shoulder), deep, true, Edge::Straight);
        steps.push(Step { deed: Deed::Shape(shaping), stitches: Some(name("shoulder-stitches")), reach });
    }

    /// Stitches of a shoulder: of a front as the back has them.
    fn shoulder(&self, across: usize, wide: f64, sides: usize) -> usize {
        let of_back = self.counted(&format!("garment.{}.back.shoulder-stitches", self.garment.name));
        let own = || {
            let wanted = (wide * self.gauge.stitches.value).round() as usize;
            across.saturating_sub(wanted).div_ceil(sides).max(1)
        };
        of_back.unwrap_or_else(own).min(across / sides)
    }

    /// A band: as many stitches as what it joins has, whatever its own stitch; `None` of other pieces.
    fn band(&mut self, piece: &Cut) -> Option<Vec<Step>> {
        let lower = stitches_at(piece, "lower");
        let joins: Vec<(&'static str, &'static str)> = match piece.name.as_str() {
            "hem" => vec![("body", "lower"), ("back", "lower"), ("front", "lower")],
            "sleeve-cuff" => vec![("sleeve", "lower")],
            "cuff" => vec![("hand", "lower")],
            "brim" => vec![("sides", "lower")],
            "neckband" if self.piece("yoke").is_some() => vec![("yoke", "upper")],
            "neckband" | "front-band" => Vec::new(),
            "border" => {
                return Some(vec![Step { deed: Deed::Around, stitches: None, reach: Some(piece.figure_of("height")) }]);
            }
            _ => return None,
        };
        let joined: Vec<(usize, String, &'static str)> = joins
            .into_iter()
            .filter_map(|(name, edge)| {
                let cut = self.piece(name)?;
                let figure = stitches_at(cut, edge);
                // One after the other they are as long as all of them.
                let each = self.counted(&figure)? * cut.count / piece.count;
                Some((each, figure, name))
            })
            .collect();
        let (stitches, of, how) = if joined.is_empty() {
            let (_, width) = piece.flat.edges().into_iter().next()?;
            let raw = width.value() * self.gauge.stitches.value;
            (raw.round() as usize, Vec::new(), "its length in the stitches of the garment")
        } else {
            let all = joined.iter().map(|(each, ..)| each).sum();
            (all, joined.iter().map(|(_, figure, _)| figure.clone()).collect(), "as the edge has that it joins")
        };
        self.count(lower.clone(), format!("stitches to work at the lower edge of {}", piece.name), stitches, how, of);
        let deed = match piece.name.as_str() {
            "neckband" if !joined.is_empty() => Deed::GoOn { from: "yoke", is_part: false },
            "neckband" => Deed::TakeUp { along: "neck" },
            "front-band" => Deed::TakeUp { along: "front" },
            _ => Deed::CastOn,
        };
        let height = if piece.stitch == self.garment.known {
            let rows = ((piece.flat.height().value() * self.gauge.rows.value).round() as usize).max(1);
            let level = Level { key: "upper", up: 0.0, width: 0.0 };
            Some(self.rows(piece, &level, rows))
        } else {
            Some(piece.figure_of("height"))
        };
        let is_last = matches!(piece.name.as_str(), "neckband" | "front-band");
        let ends = is_last.then_some(Step { deed: Deed::End(End::Off), stitches: None, reach: None });
        let worked = [
            Step { deed, stitches: Some(lower.clone()), reach: None },
            Step { deed: Deed::Even(Until::There), stitches: Some(lower), reach: height },
        ];
        Some(worked.into_iter().chain(ends).collect())
    }

    fn piece(&self, name: &str) -> Option<&Cut> {
        self.made.pieces.iter().find(|cut| cut.is_of_shape && cut.name == name)
    }

    fn counted(&self, name: &str) -> Option<usize> {
        self.book.counted(name).map(|value| value as usize)
    }

    fn count(&mut self, name: String, words: String, value: usize, how: &str, of: Vec<String>) {
        self.book.count(Line {
            name,
            words,
            kind: Kind::Count,
            source: "stitches and rows are whole".to_owned(),
            how: How::Counted { words: how.to_owned(), of },
            ..Line::counted(value as f64, Standing::Standard)
        });
    }
}

const WHOLE: &str = "to a whole stitch";
/// Metres by which two widths of one outline differ at most where they are one.
const SAME: f64 = 1e-9;

/// What becomes of the last stitches of a piece; `None` where another piece goes on with them.
fn end(piece: &Cut) -> Option<End> {
    match (&piece.flat, piece.name.as_str()) {
        _ if !piece.is_of_shape => Some(End::Off),
        (Flat::Crown { .. } | Flat::Tip { .. } | Flat::Sock { .. }, _) => Some(End::DrawnThrough),
        (_, "thumb") => Some(End::DrawnThrough),
        (_, "gusset") => Some(End::Wait),
        (_, "body") => Some(End::Wait),
        (_, "sleeve") if piece.in_the_round => Some(End::Wait),
        (_, "yoke" | "sides" | "hand") => None,
        _ => Some(End::Off),
    }
}

/// Stitches in one repeat where the plan says none: as many as the shaping above or the halves of the piece want.
fn usual_repeat(piece: &Cut) -> f64 {
    match piece.name.as_str() {
        _ if !piece.is_of_shape => 1.0,
        "sides" | "crown" => 8.0,
        "hand" | "tip" | "sock" => 4.0,
        "body" => 2.0,
        _ => 1.0,
    }
}

/// Up to what a piece is worked straight.
fn until_what(piece: &Cut, level: &Level) -> Until {
    match (&piece.flat, level.key) {
        (Flat::Body { across: Some(_), .. }, "underarm") => Until::Underarm,
        (Flat::Body { .. }, "underarm") => Until::Mark,
        (Flat::Body { .. }, _) => Until::Shoulder,
        (Flat::Sock { .. }, "upper") => Until::Toe,
        _ => Until::There,
    }
}

/// The figure of the stitches at a level.
fn stitches_at(piece: &Cut, key: &str) -> String {
    format!("{}.{key}-stitches", piece.stage)
}

fn level_words(piece: &Cut, level: &Level) -> String {
    format!("stitches to work at {} of {}", level.key, piece.name)
}
