//! How a garment is made: its craft, and what only one craft asks for.

use super::defaults;
use super::fabric::tool_size;
use super::report::Report;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Craft, Hand, UsedAs};
use crate::syntax::raw;
use crate::units::System;

/// The craft of a garment.
pub(super) fn craft(raw: &raw::Garment, place: &Place, system: System, report: &mut Report) -> Craft {
    match raw.craft {
        Some(raw::Craft::Knit) => Craft::Knit,
        Some(raw::Craft::Crochet) => Craft::Crochet,
        Some(raw::Craft::Weave) => Craft::Weave,
        None => {
            report.assume(&defaults::CRAFT, place.key(defaults::CRAFT.key), system);
            Craft::Knit
        }
    }
}

/// The hand that holds the hook; other crafts do not ask for it.
pub(super) fn hand(
    raw: &raw::Garment,
    craft: Craft,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<Hand> {
    let key = place.key("hand");
    if craft != Craft::Crochet {
        if raw.hand.is_some() {
            report.fault(of_another_craft(key, "the hand is asked for in crochet alone", "crochet"));
        }
        return None;
    }
    Some(match raw.hand {
        Some(raw::Hand::Right) => Hand::Right,
        Some(raw::Hand::Left) => Hand::Left,
        None => {
            report.assume(&defaults::HAND, key, system);
            Hand::Right
        }
    })
}

/// What the yarn is in the cloth; other crafts do not ask for it.
pub(super) fn used_as(
    raw: &raw::Garment,
    craft: Craft,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<UsedAs> {
    let key = place.key("used-as");
    if craft != Craft::Weave {
        if raw.used_as.is_some() {
            report.fault(of_another_craft(key, "warp and weft are asked for in weaving alone", "weave"));
        }
        return None;
    }
    Some(match raw.used_as {
        Some(raw::UsedAs::Warp) => UsedAs::Warp,
        Some(raw::UsedAs::Weft) => UsedAs::Weft,
        Some(raw::UsedAs::Both) => UsedAs::Both,
        None => {
            report.assume(&defaults::USED_AS, key, system);
            UsedAs::Both
        }
    })
}

/// A fault of what is asked for in another craft alone.
pub(super) fn of_another_craft(place: Place, message: &str, craft: &str) -> Diagnostic {
    let fault = Diagnostic::new(Code::Unused, message, place).label("not used in this craft");
    fault.help(format!("take it out, or write `craft = \"{craft}\"`"))
}

/// Needles or hook as written: a size with its unit, or a word for one, such as "US 6".
pub(super) fn tool(raw: &raw::Garment, craft: Craft, place: &Place, report: &mut Report) -> Option<String> {
    let (key, written) = match (&raw.needle, &raw.hook) {
        (Some(needle), None) => ("needle", needle),
        (None, Some(hook)) => ("hook", hook),
        (None, None) => return None,
        (Some(_), Some(_)) => {
            let fault =
                Diagnostic::new(Code::Contradiction, "expected needles or a hook, found both", place.key("hook"));
            report.fault(
                fault
                    .label("a hook as well")
                    .also(place.key("needle"), "needles")
                    .help("keep the one that the craft takes"),
            );
            return None;
        }
    };
    let fits = matches!((craft, key), (Craft::Knit, "needle") | (Craft::Crochet, "hook"));
    if !fits {
        let fault = Diagnostic::new(
            Code::Contradiction,
            format!("expected the tool of the craft, found a {key}"),
            place.key(key),
        );
        report.fault(
            fault
                .label("not used in this craft")
                .help("`needle` is for knitting, `hook` for crochet; weaving takes neither here"),
        );
        return None;
    }
    tool_size(written, &place.key(key), report)
}
