//! `[trim.*]`: pieces that are worked last, and `[[weighing]]` of the log: how far the yarn goes.

use super::heading::date;
use super::names;
use super::reading::{counted, optional, whole};
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Colour, Fabric, Garment, OtherYarn, Trim, Weighing};
use crate::syntax::raw;

/// All trims in order of writing, `None` in place of one that has a fault. Garments that have a fault stand as `None`.
pub(super) fn trims(
    plan: &raw::Plan,
    garments: &[Option<Garment>],
    colours: &[Colour],
    report: &mut Report,
) -> Vec<Option<Trim>> {
    let all = Place::plan("trim");
    too_many(plan.trim.len(), limits::MOST_ENTRIES, "trims", &all, report);
    let trims: Vec<Option<Trim>> = plan
        .trim
        .iter()
        .map(|(name, raw)| Reader { plan, garments, place: all.key(name) }.trim(name, raw, colours, report))
        .collect();
    for (i, trim) in trims.iter().enumerate() {
        let Some(trim) = trim else { continue };
        let is_same = |other: &&Trim| (other.garment, &other.piece) == (trim.garment, &trim.piece);
        if let Some(before) = trims[..i].iter().flatten().find(is_same) {
            let message = format!("expected each piece to be one trim, found {:?} twice", trim.piece);
            let fault = Diagnostic::new(Code::DuplicateName, message, trim.place.clone()).label("the same piece");
            report.fault(fault.also(before.place.clone(), "first here").help("keep one of them"));
        }
    }
    check_rest(&trims, garments, report);
    trims
}

/// Notes a garment of which nothing is left that is worked from the plan's yarn.
fn check_rest(trims: &[Option<Trim>], garments: &[Option<Garment>], report: &mut Report) {
    for (index, garment) in garments.iter().enumerate() {
        let Some(garment) = garment else { continue };
        let own: Vec<&Trim> = trims.iter().flatten().filter(|trim| trim.garment == index).collect();
        let is_trim = |piece: &String| own.iter().any(|trim| trim.piece == *piece);
        if let (Some(last), true) = (own.last(), piece_names(garment).iter().all(is_trim)) {
            let message = format!("expected a piece of {:?} that is no trim, found none", garment.name);
            let fault =
                Diagnostic::new(Code::Contradiction, message, last.place.clone()).label("the last that was left");
            report.fault(fault.help("a trim is what is worked after the rest; leave one piece to the plan's yarn"));
        }
    }
}

struct Reader<'a> {
    plan: &'a raw::Plan,
    garments: &'a [Option<Garment>],
    place: Place,
}

impl Reader<'_> {
    fn trim(&self, name: &str, raw: &raw::Trim, colours: &[Colour], report: &mut Report) -> Option<Trim> {
        let is_named = names::check(name, &self.place, report);
        let garment = garment(self.plan, raw.garment.as_deref(), &self.place, report);
        let yarn = match &raw.yarn {
            Some(yarn) => Some(self.yarn(yarn, colours, report)?),
            None => None,
        };
        let garment = garment?;
        let made = self.garments[garment].as_ref()?;
        let (piece, key) = match &raw.piece {
            Some(piece) => (piece.clone(), self.place.key("piece")),
            None => (name.to_owned(), self.place.clone()),
        };
        let pieces = piece_names(made);
        names::find(&piece, pieces.iter().map(String::as_str), ("piece of that garment", "garment"), &key, report)?;
        Some(Trim { name: is_named.then(|| name.to_owned())?, garment, piece, yarn, place: self.place.clone() })
    }

    fn yarn(&self, raw: &raw::OtherYarn, colours: &[Colour], report: &mut Report) -> Option<OtherYarn> {
        let place = self.place.key("yarn");
        if raw.name.is_none() {
            report.missing(
                "what the other yarn is called is not said",
                place.key("name"),
                "write `name = \"slate two-ply\"`",
            );
        }
        if raw.length.is_none() {
            report.missing(
                "how much there is of the other yarn is not said",
                place.key("length"),
                "write `length = \"62 m\"`",
            );
        }
        let name = names::text(raw.name.as_deref(), &place.key("name"), report);
        let length = optional(raw.length.as_ref(), &place.key("length"), &limits::OTHER_LENGTH, report);
        let weight = optional(raw.weight.as_ref(), &place.key("weight"), &limits::SWATCH_WEIGHT, report);
        let colour = match &raw.colour {
            None => None,
            Some(name) => {
                let known = colours.iter().map(|colour| colour.name.as_str());
                Some(names::find(name, known, ("colour", "colours"), &place.key("colour"), report)?)
            }
        };
        Some(OtherYarn { name: name?, length: length?, weight, colour })
    }
}

/// The garment of a name.
fn garment(plan: &raw::Plan, name: Option<&str>, place: &Place, report: &mut Report) -> Option<usize> {
    let key = place.key("garment");
    let Some(name) = name else {
        report.missing("of which garment it is, is not said", key, "write `garment = \"pullover\"`");
        return None;
    };
    names::find(name, plan.garment.keys().map(String::as_str), ("garment", "garment"), &key, report)
}

/// The pieces that a garment has.
fn piece_names(garment: &Garment) -> Vec<String> {
    let of_shape = match &garment.fabric {
        Fabric::Shaped(shaped) => shaped.pieces(),
        Fabric::Pieces | Fabric::Area(_) | Fabric::Woven(_) => Vec::new(),
    };
    let own = garment.pieces.iter().filter(|piece| piece.outline.is_some()).map(|piece| piece.name.clone());
    of_shape.iter().map(|name| (*name).to_owned()).chain(own).collect()
}

/// All weighings in order of writing, `None` in place of one that has a fault.
pub(super) fn weighings(
    log: &raw::Log,
    plan: &raw::Plan,
    garments: &[Option<Garment>],
    report: &mut Report,
) -> Vec<Option<Weighing>> {
    let all = Place::log("weighing");
    too_many(log.weighing.len(), limits::MOST_ENTRIES, "weighings", &all.index(0), report);
    log.weighing.iter().enumerate().map(|(i, raw)| weighing(raw, plan, garments, all.index(i), report)).collect()
}

fn weighing(
    raw: &raw::Weighing,
    plan: &raw::Plan,
    garments: &[Option<Garment>],
    place: Place,
    report: &mut Report,
) -> Option<Weighing> {
    for (is_said, key, what, example) in [
        (raw.date.is_some(), "date", "the day of the weighing", "date = 2026-05-01"),
        (raw.rows.is_some(), "rows", "how many rows lie between the weighings", "rows = 8"),
        (raw.before.is_some(), "before", "what was left before the rows", "before = \"61.0 g\""),
        (raw.after.is_some(), "after", "what was left after the rows", "after = \"52.4 g\""),
    ] {
        if !is_said {
            report.missing(format!("{what} is not said"), place.key(key), format!("write `{example}`"));
        }
    }
    let garment = garment(plan, raw.garment.as_deref(), &place, report);
    let before = optional(raw.before.as_ref(), &place.key("before"), &limits::LEFT_WEIGHT, report);
    let after = optional(raw.after.as_ref(), &place.key("after"), &limits::LEFT_WEIGHT, report);
    let rows = whole(raw.rows?, &place.key("rows"), "a number of rows", 1..=limits::MOST_ROWS, report)?;
    let (before, after, garment) = (before?, after?, garment?);
    if after.value >= before.value {
        let message = format!("expected less than {} after the rows, found {}", before.text, after.text);
        let fault = Diagnostic::new(Code::DoesNotAddUp, message, place.key("after")).label("no yarn was worked");
        report.fault(fault.also(place.key("before"), "before them").help("look at both weights, and at their order"));
        return None;
    }
    // Below a few times what the scale tells apart, the weight of a row is guesswork.
    let doubt = before.uncertainty.hypot(after.uncertainty);
    if before.value - after.value < 5.0 * doubt {
        let message = format!("expected more yarn between the weighings than {} to {}", before.text, after.text);
        let fault = Diagnostic::new(Code::Implausible, message, place.key("after")).label("hardly less than before");
        report.fault(fault.help("work more rows before you weigh again, or use a finer scale"));
        return None;
    }
    if let (Some(piece), Some(made)) = (&raw.piece, &garments[garment]) {
        let pieces = piece_names(made);
        let known = pieces.iter().map(String::as_str);
        names::find(piece, known, ("piece of that garment", "garment"), &place.key("piece"), report)?;
    }
    Some(Weighing {
        date: date(raw.date?),
        garment,
        piece: raw.piece.clone(),
        rows: counted(rows, place.key("rows")),
        before,
        after,
        place,
    })
}
