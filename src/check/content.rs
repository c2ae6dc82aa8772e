//! What a fibre is made of: one kind whose density is known, or a blend of several by weight.

use super::fibre_kinds::{FIBRE_KINDS, fibre_kind};
use super::limits;
use super::names;
use super::reading::{certain, reading};
use super::report::Report;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{FibreKind, Reading};
use crate::syntax::raw;
use crate::units::Share;
use crate::units::format::percent;

/// A kind with its share of the weight.
pub(super) type Part = (&'static FibreKind, Reading<Share>);

/// Kinds with their shares, in order of writing; `None` where they have a fault.
pub(super) fn content(raw: &raw::Fibre, place: &Place, report: &mut Report) -> Option<Vec<Part>> {
    let (kind_key, blend_key) = (place.key("kind"), place.key("blend"));
    match (&raw.kind, raw.blend.is_empty()) {
        (Some(written), true) => {
            let kind = kind(written, &kind_key, report)?;
            Some(vec![(kind, certain("100 %", kind_key))])
        }
        (None, false) => blend(raw, &blend_key, report),
        (Some(written), false) => {
            let fault = Diagnostic::new(Code::Contradiction, "expected a kind or a blend, found both", blend_key);
            report.fault(
                fault
                    .label("says again what it is made of")
                    .also(kind_key, "said here")
                    .help(format!("take out `kind = {written:?}`, or the blend")),
            );
            None
        }
        (None, true) => {
            if !report.was_refused(&blend_key) {
                let help = "write `kind = \"wool\"`, or `blend = { wool = \"80 %\", silk = \"20 %\" }`";
                report.missing("what the fibre is made of is not said", kind_key, help);
            }
            None
        }
    }
}

/// Two kinds or more, whose shares add up to the whole.
fn blend(raw: &raw::Fibre, place: &Place, report: &mut Report) -> Option<Vec<Part>> {
    let parts: Vec<Option<Part>> = raw
        .blend
        .iter()
        .map(|(name, written)| {
            let place = place.key(name);
            let kind = kind_of_blend(name, &place, report);
            let share = reading(written, &place, &limits::BLEND_SHARE, report);
            Some((kind?, share?))
        })
        .collect();
    if let ([(name, _)], false) = (raw.blend.iter().collect::<Vec<_>>().as_slice(), report.was_refused(place)) {
        let fault =
            Diagnostic::new(Code::Contradiction, "expected a blend of two kinds or more, found one", place.clone());
        let help = format!("write `kind = {name:?}`, or the other kinds with their shares beside it");
        report.fault(fault.label("one kind alone").help(help));
        return None;
    }
    let parts: Vec<Part> = parts.into_iter().collect::<Option<_>>()?;
    (are_unlike(&parts, report) && add_up(&parts, place, report)).then_some(parts)
}

/// Whether no kind is named twice, which different capitals allow.
fn are_unlike(parts: &[Part], report: &mut Report) -> bool {
    let twice = parts.iter().enumerate().find_map(|(i, (kind, share))| {
        let before = parts[..i].iter().find(|(other, _)| other.name == kind.name)?;
        Some((kind.name, &before.1.place, &share.place))
    });
    let Some((name, first, second)) = twice else { return true };
    let message = format!("expected each kind of a blend once, found {name} twice");
    let fault = Diagnostic::new(Code::DuplicateName, message, second.clone()).at_key().label("named again here");
    report.fault(fault.also(first.clone(), "first named here").help("write one share for both"));
    false
}

/// By so much shares may miss the whole: what is lost in writing thirds as "33.3 %".
const SLACK: f64 = 0.0015;

fn add_up(parts: &[Part], place: &Place, report: &mut Report) -> bool {
    let sum: f64 = parts.iter().map(|(_, share)| share.value).sum();
    if (sum - 1.0).abs() <= SLACK {
        return true;
    }
    if report.was_refused(place) {
        return false;
    }
    let (last, share) = parts.last().expect("invariant: a blend has parts");
    let message = format!("expected the shares of a blend to add up to 100 %, found {}", percent(sum, 1));
    let fault = Diagnostic::new(Code::DoesNotAddUp, message, share.place.clone()).label("with the ones before it");
    let left = share.value + 1.0 - sum;
    report.fault(if left > 0.0 {
        fault.help(format!("with the others as they are, {} would be {}", last.name, percent(left, 1)))
    } else {
        fault.help("shares are of the weight of the whole blend")
    });
    false
}

/// The kind of this name; an unknown one is noted with its nearest.
fn kind(written: &str, place: &Place, report: &mut Report) -> Option<&'static FibreKind> {
    let found = fibre_kind(written);
    if found.is_none() {
        report.fault(unknown(written, place, |near| format!("write `kind = \"{near}\"`")));
    }
    found
}

/// The same of a kind that stands as a key.
fn kind_of_blend(written: &str, place: &Place, report: &mut Report) -> Option<&'static FibreKind> {
    let found = fibre_kind(written);
    if found.is_none() {
        report.fault(unknown(written, place, |near| format!("is {near:?} meant?")).at_key());
    }
    found
}

fn unknown(written: &str, place: &Place, meant: impl Fn(&str) -> String) -> Diagnostic {
    let known = || FIBRE_KINDS.iter().map(|kind| kind.name);
    let help = match names::nearest(written, known()) {
        Some(near) => meant(near),
        None => format!("the density of these is known: {}", known().collect::<Vec<_>>().join(", ")),
    };
    Diagnostic::new(Code::UnknownWord, format!("expected a kind of fibre, found {written:?}"), place.clone())
        .label("a kind whose density is not known")
        .help(help)
}
