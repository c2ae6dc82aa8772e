//! `[colour-wish]`: what the colours of the yarn are to do, held against the colours that there are.

use super::names;
use super::reading::optional;
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Aim, ColourWish};
use crate::syntax::raw;

/// The wish; `None` if there is none. Its faults are noted.
pub(super) fn wish(plan: &raw::Plan, report: &mut Report) -> Option<ColourWish> {
    let raw = plan.colour_wish.as_ref()?;
    let place = Place::plan("colour-wish");
    let reader = Reader { plan, place: &place };
    check_unused(raw, &place, report);
    check_depth(raw, plan, &place, report);
    check_coloured(plan, &place, report);
    let aim = reader.aim(raw, report);
    let keep_apart = reader.pairs(&raw.keep_apart, "keep-apart", report);
    let keep_together = reader.pairs(&raw.keep_together, "keep-together", report);
    check_pairs(&keep_apart, &keep_together, &place, report);
    let (first, last) =
        (reader.one(raw.first.as_deref(), "first", report), reader.one(raw.last.as_deref(), "last", report));
    if let (Some(first), Some(last), Some(Aim::Fade { from, to })) = (first, last, &aim)
        && (first, last) == (*to, *from)
    {
        let message = "expected the ends of the yarn as the fade has them, found them the other way round";
        let fault = Diagnostic::new(Code::Contradiction, message, place.key("first")).label("where the fade ends");
        report
            .fault(fault.also(place.key("from"), "where it begins").help("say the ends once: a fade has them already"));
    }
    let worn_with = raw.worn_with.iter().flatten().enumerate();
    let worn_with =
        worn_with.filter_map(|(i, name)| reader.worn(name, &place.key("worn-with").index(i), report)).collect();
    Some(ColourWish {
        aim: aim?,
        keep_apart,
        keep_together,
        first,
        last,
        least_left_over: raw.least_left_over == Some(true),
        worn_with,
        place,
    })
}

struct Reader<'a> {
    plan: &'a raw::Plan,
    place: &'a Place,
}

impl Reader<'_> {
    fn colour(&self, name: &str, place: &Place, report: &mut Report) -> Option<usize> {
        names::find(name, self.plan.colours.keys().map(String::as_str), ("colour", "colours"), place, report)
    }

    fn one(&self, name: Option<&str>, key: &str, report: &mut Report) -> Option<usize> {
        let place = self.place.key(key);
        let colour = self.colour(name?, &place, report)?;
        self.is_spun(colour, &place, report).then_some(colour)
    }

    /// Whether some braid has the colour, which is noted where none has.
    fn is_spun(&self, colour: usize, place: &Place, report: &mut Report) -> bool {
        let name = &self.plan.colours.keys()[colour];
        let sections = self.plan.braid.values().flat_map(|braid| braid.sections.iter().flatten());
        let is_spun = { sections }.any(|raw::Section(spun, _)| spun == name);
        if !is_spun {
            let message = format!("expected a colour of some braid, found {name:?}, which none has");
            let fault = Diagnostic::new(Code::UnknownName, message, place.clone()).label("is not spun");
            report.fault(fault.help("name a colour that stands in the `sections` of a braid"));
        }
        is_spun
    }

    /// Whether every colour that is spun has a tint, by which a fade is told.
    fn has_tints(&self, report: &mut Report) -> bool {
        let sections = || self.plan.braid.values().flat_map(|braid| braid.sections.iter().flatten());
        let is_spun = |name: &str| sections().any(|raw::Section(spun, _)| spun == name);
        let bare = self.plan.colours.iter().find(|(name, tint)| tint.trim().is_empty() && is_spun(name));
        if let Some((name, _)) = bare {
            let message = format!("expected a tint for every colour of a fade, found {name:?} without one");
            let place = Place::plan("colours").key(name);
            let fault = Diagnostic::new(Code::MissingKey, message, place).label("has no tint");
            report.fault(
                fault
                    .also(self.place.key("aim"), "how far a yarn has faded is told by tints")
                    .help(format!("write one, such as `{name} = \"#7b5f8a\"`")),
            );
        }
        bare.is_none()
    }

    /// A colour to be worn with, which no braid need have. A tint is no name.
    fn worn(&self, name: &str, place: &Place, report: &mut Report) -> Option<usize> {
        if name.starts_with('#') {
            let message = format!("expected the name of a colour, found {name:?}");
            let fault = Diagnostic::new(Code::UnknownName, message, place.clone()).label("a tint has no name");
            report.fault(
                fault.help(format!("give it one:\n[colours]\nnavy = {name:?}\n\nand write `worn-with = [\"navy\"]`")),
            );
            return None;
        }
        self.colour(name, place, report)
    }

    fn pairs(&self, written: &[Vec<String>], key: &str, report: &mut Report) -> Vec<(usize, usize)> {
        let place = self.place.key(key);
        if !too_many(written.len(), limits::MOST_ENTRIES, "pairs of colours", &place, report) {
            return Vec::new();
        }
        let read = |(i, pair): (usize, &Vec<String>)| {
            let place = place.index(i);
            let [a, b] = pair.as_slice() else {
                let message = format!("expected two colours in a pair, found {}", pair.len());
                let fault = Diagnostic::new(Code::WrongType, message, place).label("not a pair");
                report.fault(
                    fault.help(format!("write `{key} = [[\"bracken\", \"lichen\"]]`, a pair in brackets of its own")),
                );
                return None;
            };
            let found = [(a, 0), (b, 1)].map(|(name, i)| {
                let place = place.index(i);
                let colour = self.colour(name, &place, report)?;
                self.is_spun(colour, &place, report).then_some(colour)
            });
            let (a, b) = (found[0]?, found[1]?);
            if a == b {
                let fault =
                    Diagnostic::new(Code::Contradiction, "expected two colours in a pair, found one twice", place);
                report.fault(fault.label("one colour").help("name the two that are meant"));
                return None;
            }
            Some((a.min(b), a.max(b)))
        };
        written.iter().enumerate().filter_map(read).collect()
    }

    fn aim(&self, raw: &raw::ColourWish, report: &mut Report) -> Option<Aim> {
        match raw.aim {
            None | Some(raw::Aim::AsItComes) => Some(Aim::AsItComes),
            Some(raw::Aim::Heather) => Some(Aim::Heather),
            Some(raw::Aim::Stripes) => {
                let depth = optional(raw.depth.as_ref(), &self.place.key("depth"), &limits::STRIPE_DEPTH, report);
                (depth.is_some() == raw.depth.is_some()).then_some(Aim::Stripes(depth))
            }
            Some(raw::Aim::Fade) => self.fade(raw, report),
        }
    }

    fn fade(&self, raw: &raw::ColourWish, report: &mut Report) -> Option<Aim> {
        for (is_said, key) in [(raw.from.is_some(), "from"), (raw.to.is_some(), "to")] {
            if !is_said {
                report.missing(
                    "between which colours the yarn is to fade is not said",
                    self.place.key(key),
                    "write `from = \"heather\"` and `to = \"slate\"`, with colours of your own",
                );
            }
        }
        let from = self.one(raw.from.as_deref(), "from", report);
        let to = self.one(raw.to.as_deref(), "to", report);
        let (from, to) = (from?, to?);
        if from == to {
            let message = "expected a fade into another colour, found one colour twice";
            let fault = Diagnostic::new(Code::Contradiction, message, self.place.key("to")).label("the same again");
            report.fault(fault.also(self.place.key("from"), "it begins in this one").help("name two colours"));
            return None;
        }
        self.has_tints(report).then_some(Aim::Fade { from, to })
    }
}

/// Keys that another aim has no use for.
fn check_unused(raw: &raw::ColourWish, place: &Place, report: &mut Report) {
    let is = |aim| raw.aim == Some(aim);
    for (is_idle, key, aim) in [
        (raw.depth.is_some() && !is(raw::Aim::Stripes), "depth", "stripes"),
        (raw.from.is_some() && !is(raw::Aim::Fade), "from", "fade"),
        (raw.to.is_some() && !is(raw::Aim::Fade), "to", "fade"),
    ] {
        if is_idle {
            let message = format!("`{key}` is asked for with `aim = \"{aim}\"` alone");
            let fault = Diagnostic::new(Code::Contradiction, message, place.key(key)).label("of another aim");
            report.fault(fault.help(format!("take it out, or write `aim = \"{aim}\"`")));
        }
    }
}

/// A wish is idle where no braid says its colours.
fn check_coloured(plan: &raw::Plan, place: &Place, report: &mut Report) {
    let has_colours = plan.braid.values().any(|braid| braid.sections.as_ref().is_some_and(|all| !all.is_empty()));
    if !has_colours && !report.was_refused(&Place::plan("braid")) {
        let fault =
            Diagnostic::new(Code::Unused, "no braid says its colours, so that none can be arranged", place.clone());
        report.fault(fault.label("has no effect").help("write the `sections` of a braid, or take the wish out"));
    }
}

/// How deep a stripe becomes is known of a piece alone.
fn check_depth(raw: &raw::ColourWish, plan: &raw::Plan, place: &Place, report: &mut Report) {
    let first = plan.garment.iter().next();
    let has_piece = plan.garment.values().any(|garment| !garment.piece.is_empty() || garment.shape.is_some());
    if raw.depth.is_some() && raw.aim == Some(raw::Aim::Stripes) && !has_piece {
        let name = first.map_or("pullover", |(name, _)| name.as_str());
        let message = "expected a piece on which stripes have a depth, found none in the plan";
        let fault = Diagnostic::new(Code::MissingKey, message, place.key("depth")).label("how deep on which piece?");
        report.fault(fault.help(format!(
            "say the shape of the garment, or name its pieces:\n[garment.{name}.piece.body]\nwidth = \"104 cm\"\nlength = \"40 cm\"\n\nor take the depth out"
        )));
    }
}

/// No pair can be kept apart and together.
fn check_pairs(apart: &[(usize, usize)], together: &[(usize, usize)], place: &Place, report: &mut Report) {
    if let Some(i) = together.iter().position(|pair| apart.contains(pair)) {
        let message = "expected two colours to be kept apart or together, found both";
        let fault = Diagnostic::new(Code::Contradiction, message, place.key("keep-together").index(i));
        report.fault(fault.label("together").also(place.key("keep-apart"), "apart").help("take one of the two out"));
    }
}
