//! `[fibre.*]`: what is spun, how fine it is, and how much of it there is loose.

use super::content::{self, Part};
use super::grades::{GRADES, Grade, grade_named};
use super::names;
use super::reading::{optional, reading, reading_of_parsed};
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Fibre, Origin, Reading, Sampling, Supply};
use crate::syntax::raw;
use crate::units::format::{quantity, ten_digits};
use crate::units::{FibreDiameter, Kind, parse};

/// All fibres in order of writing, `None` for one that has a fault.
pub(super) fn fibres(plan: &raw::Plan, report: &mut Report) -> Vec<Option<Fibre>> {
    if plan.fibre.is_empty() {
        report.missing(
            "the plan has no fibre",
            Place::plan("fibre"),
            "write what is spun, under a name of your own:\n[fibre.corriedale]\nkind = \"wool\"\nweight = \"200 g\"",
        );
    }
    too_many(plan.fibre.len(), limits::MOST_ENTRIES, "fibres", &Place::plan("fibre"), report);
    plan.fibre.iter().map(|(name, raw)| fibre(name, raw, plan, report)).collect()
}

/// Loose fibre as something to spin, `None` in place of one that has a fault.
pub(super) fn loose(plan: &raw::Plan, report: &mut Report) -> Vec<Option<Supply>> {
    let weighed = plan.fibre.iter().enumerate().filter_map(|(i, (name, raw))| Some((i, name, raw.weight.as_ref()?)));
    weighed
        .map(|(fibre, name, weight)| {
            let place = Place::plan("fibre").key(name);
            let weight = reading(weight, &place.key("weight"), &limits::FIBRE_WEIGHT, report)?;
            Some(Supply {
                name: name.clone(),
                place,
                in_braids: false,
                fibre,
                weights: vec![weight],
                length: None,
                repeat: None,
                sections: Vec::new(),
                cut: None,
                for_sampling: Sampling::None,
                dye_lot: None,
                bought: None,
                price: None,
            })
        })
        .collect()
}

fn fibre(name: &str, raw: &raw::Fibre, plan: &raw::Plan, report: &mut Report) -> Option<Fibre> {
    let place = Place::plan("fibre").key(name);
    let is_named = names::check(name, &place, report);
    let is_only = plan.fibre.len() == 1;
    let is_in_braids = plan.braid.values().any(|braid| braid.fibre.as_deref().map_or(is_only, |fibre| fibre == name));
    if raw.weight.is_none() && !is_in_braids {
        no_weight(name, &place, plan, report);
    }
    let content = content::content(raw, &place, report);
    let fineness = fineness(raw, &place, content.as_deref(), report);
    let staple = optional(raw.staple.as_ref(), &place.key("staple"), &limits::STAPLE, report);
    let fibre = Fibre {
        name: is_named.then(|| name.to_owned())?,
        content: content?,
        fineness,
        staple,
        preparation: raw.preparation.map(preparation),
        superwash: raw.superwash.unwrap_or(false),
    };
    check_superwash(&fibre, &place, report);
    Some(fibre)
}

/// What does not felt needs no treatment against it.
fn check_superwash(fibre: &Fibre, place: &Place, report: &mut Report) {
    if fibre.superwash && !fibre.holds_wool_or_hair() {
        let message = format!("nothing in {} felts, whether it was treated or not", fibre.words());
        let fault = Diagnostic::new(Code::Unused, message, place.key("superwash"));
        report.fault(fault.label("a treatment of wool and hair").help("take it out"));
    }
}

/// With no weight anywhere there is nothing to spin; a single fibre without one beside others is only unused.
fn no_weight(name: &str, place: &Place, plan: &raw::Plan, report: &mut Report) {
    let has_supply = !plan.braid.is_empty() || plan.fibre.values().any(|fibre| fibre.weight.is_some());
    if report.was_refused(&place.key("weight")) || report.was_refused(&Place::plan("braid")) {
        return;
    }
    if has_supply {
        let fault = Diagnostic::new(Code::Unused, format!("nothing is spun of the fibre {name:?}"), place.clone());
        report.fault(
            fault
                .label("neither weighed nor named by a braid")
                .help("write how much of it there is, such as `weight = \"200 g\"`"),
        );
    } else {
        report.missing(
            format!("how much of the fibre {name:?} there is, is not said"),
            place.key("weight"),
            "write `weight = \"200 g\"` here, or the braids under a name of their own:\n\
             [braid.north]\ncount = 5\nweight = \"100 g\"",
        );
    }
}

fn fineness(
    raw: &raw::Fibre,
    place: &Place,
    content: Option<&[Part]>,
    report: &mut Report,
) -> Option<Reading<FibreDiameter>> {
    let (fineness, grade) = (place.key("fineness"), place.key("grade"));
    if let (Some(_), Some(written)) = (&raw.fineness, &raw.grade) {
        let fault = Diagnostic::new(Code::Contradiction, "expected the fineness or the grade, found both", grade);
        report.fault(
            fault
                .label(format!("{written:?} says it again"))
                .also(fineness, "said here")
                .help("keep the fineness, which is narrower, and take the grade out"),
        );
        return None;
    }
    match &raw.grade {
        None => optional(raw.fineness.as_ref(), &fineness, &limits::FINENESS, report),
        Some(written) => {
            if let Some((kind, share)) = content.and_then(|parts| parts.iter().find(|(kind, _)| kind.name != "wool")) {
                let fault = Diagnostic::new(
                    Code::Contradiction,
                    format!("expected a grade for wool alone, found one for {}", kind.name),
                    grade,
                );
                report.fault(
                    fault
                        .label("grades by count are of wool")
                        .also(share.place.clone(), "not wool")
                        .help("write the fineness instead, such as `fineness = \"23 micron\"`"),
                );
                return None;
            }
            graded(written, grade, report)
        }
    }
}

fn graded(written: &str, place: Place, report: &mut Report) -> Option<Reading<FibreDiameter>> {
    let Some(grade) = grade_named(written) else {
        let known = || GRADES.iter().map(|grade| grade.name);
        let fault = Diagnostic::new(Code::UnknownWord, format!("expected a grade of wool, found {written:?}"), place);
        let help = match names::nearest(written, known()) {
            Some(near) => format!("write `grade = \"{near}\"`, or the fineness, such as `fineness = \"23 micron\"`"),
            None => format!("the grades are {}", known().collect::<Vec<_>>().join(", ")),
        };
        report.fault(fault.label("unknown grade").help(help));
        return None;
    };
    reading_of_grade(grade, place, report)
}

fn reading_of_grade(grade: &Grade, place: Place, report: &mut Report) -> Option<Reading<FibreDiameter>> {
    let text = format!("{} ± {} µm", ten_digits(grade.middle_micron()), ten_digits(grade.half_range_micron()));
    let parsed = parse(&text, Kind::FibreDiameter)
        .expect("invariant: a grade is a range in micron, as a test of the table says");
    let mut reading = reading_of_parsed::<FibreDiameter>(&parsed, &place, &limits::FINENESS, report)?;
    reading.text = format!("{}, {}", grade.name, quantity(&parsed));
    reading.origin = Origin::Entry;
    Some(reading)
}

fn preparation(written: raw::Preparation) -> &'static str {
    match written {
        raw::Preparation::CombedTop => "combed top",
        raw::Preparation::CardedRoving => "carded roving",
        raw::Preparation::Rolags => "rolags",
        raw::Preparation::Batts => "batts",
        raw::Preparation::Locks => "locks",
    }
}
