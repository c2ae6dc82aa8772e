//! How each piece is worked, from its first edge to its last: whole stitches at each level of its outline, whole rows between them,
//! and how the shaping is spread over those rows.
//!
//! Everything here is counted from what the measures come to: a stitch and a row are whole, and edges that are joined have one
//! number.

use super::outline::{Flat, Level};
use super::{Cut, Made};
use crate::figures::ledger::{Book, How, Line};
use crate::plan::shape::{Measure, Shape};
use crate::plan::{Fabric, Garment, Gauge, Plan};
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
        from: String,
    },
    /// Stitches are taken up along other pieces.
    TakeUp {
        /// What they are.
        along: &'static str,
    },
    /// Body and sleeves go onto one needle.
    Join {
        /// Name of the figure that says how many stitches wait at each underarm, on the body and on the sleeve; `None` of none.
        underarm: Option<String>,
    },
    /// It grows within another piece.
    Within {
        /// Its name.
        piece: &'static str,
    },
    /// Without shaping, up to something.
    Even(Until),
    /// Fewer stitches, or more.
    Shape(Shaping),
    /// The heel of a sock.
    Heel,
    /// A neck, in the middle or at one edge.
    Neck {
        /// Name of the figure that says how wide it is in stitches.
        wide: String,
        /// Name of the figure that says in which row it begins.
        row: String,
        /// Name of the figure that says how many stitches are left for a shoulder.
        shoulder: String,
    },
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
    /// The end of a sock.
    Toe,
}

/// Stitches taken away or added, spread over rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shaping {
    /// Whether there are more stitches afterwards.
    pub widens: bool,
    /// Where in a row.
    pub places: Places,
    /// How many stitches in all.
    pub stitches: usize,
    /// How many rows have shaping.
    pub times: usize,
    /// They are this many rows apart: `(every, so many times)`, one or two of them, the wider apart last; none where more
    /// stitches go than there are rows for, and the last of a single round.
    pub every: [(usize, usize); 2],
    /// Stitches beyond those, in the last row of shaping.
    pub rest: usize,
}

/// Where in a row the shaping stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Places {
    /// At both edges, or on both sides of one line in the round.
    BothEdges,
    /// At one edge.
    OneEdge,
    /// On both sides of both edges that lie folded, in the round.
    FourPlaces,
    /// On both sides of four lines.
    FourLines,
    /// In eight wedges.
    EightWedges,
    /// Evenly along the row.
    AllAlong,
}

impl Places {
    /// How many stitches one row of shaping takes away or adds.
    fn at_once(self) -> Option<usize> {
        match self {
            Self::BothEdges => Some(2),
            Self::OneEdge => Some(1),
            Self::FourPlaces => Some(4),
            Self::FourLines | Self::EightWedges => Some(8),
            Self::AllAlong => None,
        }
    }
}

/// Shaping from so many stitches to so many, over so many rows. The rows of shaping are spread as evenly as whole rows allow.
fn shaping(places: Places, from: usize, to: usize, rows: usize) -> Shaping {
    let stitches = from.abs_diff(to);
    let at_once = places.at_once().unwrap_or(stitches.max(1));
    let times = stitches / at_once;
    let every = match rows.checked_div(times) {
        Some(apart @ 1..) => {
            let wider = rows % times;
            [(apart, times - wider), (apart + 1, wider)]
        }
        _ => [(0, 0), (0, 0)],
    };
    Shaping { widens: to > from, places, stitches, times, every, rest: stitches % at_once }
}

/// Finds how each piece is worked. What its garment has no gauge for has no steps.
pub fn courses(book: &mut Book, plan: &Plan, made: &mut [Made]) {
    for (garment, made) in plan.garments.iter().zip(made) {
        let Some(gauge) = garment.own_gauge() else { continue };
        let order = in_order(made);
        for at in order {
            let course = Counter { book: &mut *book, garment, gauge, made: &*made }.course(&made.pieces[at]);
            made.pieces[at].course = course;
        }
    }
}

/// Pieces in an order in which each comes after those whose stitches it takes.
fn in_order(made: &Made) -> Vec<usize> {
    let mut order: Vec<usize> = (0..made.pieces.len()).collect();
    let rank = |cut: &Cut| match cut.name.as_str() {
        _ if !cut.is_of_shape => 0,
        "yoke" => 1,
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
            let until = until.max(rows);
            let to = self.level(piece, level, at, (level.width - wide).abs() < SAME);
            wide = level.width;
            let reach = (until > rows).then(|| self.rows(piece, level, until - rows));
            let stitches = Some(stitches_at(piece, level.key));
            if to != at {
                let deed = Deed::Shape(shaping(self.places(piece), at, to, until - rows));
                steps.push(Step { deed, stitches, reach });
            } else if reach.is_some() {
                steps.push(Step { deed: Deed::Even(until_what(piece, level)), stitches, reach });
            }
            if level.key == "leg" {
                steps.push(Step { deed: Deed::Heel, stitches: Some(stitches_at(piece, level.key)), reach: None });
            }
            (at, rows) = (to, until);
        }
        steps.extend(self.neck(piece, at, rows));
        // A rectangle that is measured by itself is told by its drawing.
        let is_told = !piece.is_of_shape && !steps.iter().any(|step| matches!(step.deed, Deed::Shape(_)));
        if is_told { Vec::new() } else { steps }
    }

    /// The stitches of the first edge.
    fn first(&mut self, piece: &Cut, level: &Level) -> usize {
        let name = stitches_at(piece, level.key);
        if piece.is_of_shape && piece.name == "yoke" {
            return self.joined(piece, name);
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
        let joined = around + 2 * upper - 4 * waits;
        let words = format!("stitches to work at the lower edge of {}", piece.name);
        let from = [vec![body, sleeve], under.into_iter().collect()].concat();
        self.count(name, words, joined, "body and sleeves, less what waits at both underarms of each", from);
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
        let least = if level.width == 0.0 { 0.0 } else { 1.0 };
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
        let (of, plus) = self.garment.repeat.as_ref().map_or((1.0, 0.0), |(of, plus)| (of.value, plus.value));
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
            "tip" if piece.is_of_shape => Places::FourPlaces,
            _ if piece.flat.is_half() => Places::OneEdge,
            _ => Places::BothEdges,
        }
    }

    fn begin(&mut self, piece: &Cut) -> Step {
        let there = |name: &'static str| self.made.pieces.iter().any(|cut| cut.is_of_shape && cut.name == name);
        let below = |name: &'static str| there(name).then(|| Deed::GoOn { from: name.replace('-', " ") });
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
                "yoke" => Some(Deed::Join { underarm: self.underarm() }),
                _ => None,
            }
        } else {
            None
        };
        Step { deed: on.unwrap_or(Deed::CastOn), stitches: Some(stitches_at(piece, "lower")), reach: None }
    }

    /// The neck of a back or a front: told last, since it may begin while the armholes are still shaped.
    fn neck(&mut self, piece: &Cut, across: usize, rows: usize) -> Option<Step> {
        let (wide, deep, halves) = piece.flat.neck()?;
        let from = ((deep * self.gauge.rows.value).round() as usize).min(rows);
        if from == 0 {
            return None;
        }
        let wanted = (wide * self.gauge.stitches.value).round() as usize;
        // Two shoulders are alike.
        let wanted = if halves == 2 && wanted.abs_diff(across) % 2 == 1 { wanted + 1 } else { wanted };
        let wanted = wanted.min(across);
        let shoulder = (across - wanted) / halves;
        let stage = &piece.stage;
        let names = ["neck-stitches", "neck-row", "shoulder-stitches"].map(|what| format!("{stage}.{what}"));
        let of = vec![stitches_at(piece, "upper")];
        let words = |what: &str| format!("{what} of {}", piece.name);
        self.count(names[0].clone(), words("stitches of the neck"), wanted, WHOLE, of.clone());
        self.count(
            names[1].clone(),
            words("row in which the neck begins"),
            rows - from + 1,
            "rows less its depth",
            vec![format!("{stage}.rows")],
        );
        self.count(names[2].clone(), words("stitches of a shoulder"), shoulder, "what the neck leaves", of);
        let [wide, row, shoulder] = names;
        Some(Step { deed: Deed::Neck { wide, row, shoulder }, stitches: None, reach: None })
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
            "neckband" | "front-band" | "border" => Vec::new(),
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
            "neckband" if !joined.is_empty() => Deed::GoOn { from: "yoke".to_owned() },
            "neckband" => Deed::TakeUp { along: "neck" },
            "front-band" => Deed::TakeUp { along: "front" },
            _ => Deed::CastOn,
        };
        let height = if piece.stitch == self.garment.known {
            let rows = (piece.flat.height().value() * self.gauge.rows.value).round() as usize;
            let level = Level { key: "upper", up: 0.0, width: 0.0 };
            (rows > 0).then(|| self.rows(piece, &level, rows))
        } else {
            Some(piece.figure_of("height"))
        };
        Some(vec![
            Step { deed, stitches: Some(lower.clone()), reach: None },
            Step { deed: Deed::Even(Until::There), stitches: Some(lower), reach: height },
        ])
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shaping_takes_all_stitches_and_no_more_rows_than_there_are() {
        let all = [Places::BothEdges, Places::OneEdge, Places::FourPlaces, Places::FourLines, Places::EightWedges];
        for places in all {
            let at_once = places.at_once().unwrap();
            for (from, to) in [(44, 78), (320, 104), (98, 2), (1, 15), (7, 7), (5, 6)] {
                for rows in [0, 1, 7, 66, 108] {
                    let found = shaping(places, from, to, rows);
                    assert_eq!(found.times * at_once + found.rest, from.abs_diff(to), "{found:?}");
                    let [(every, times), (wider, last)] = found.every;
                    if every > 0 {
                        assert_eq!((times + last, every * times + wider * last), (found.times, rows), "{found:?}");
                    }
                }
            }
        }
    }
}
