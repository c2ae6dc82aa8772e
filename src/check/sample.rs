//! `[[sample]]` of the log: what was spun, and which of it the yarn is spun to.

use super::fabric::{gauge, size, tool_size};
use super::heading::date;
use super::names;
use super::reading::{counted, optional, several, whole};
use super::report::Report;
use super::wheel::{draw, whorl_of_sample};
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Sample;
use crate::plan::stitch::STOCKING;
use crate::syntax::raw;
use crate::units::System;

/// All samples in order of writing, `None` in place of one that has a fault. `plies` is what the plan aims at.
pub(super) fn samples(
    log: &raw::Log,
    plan: &raw::Plan,
    plies: Option<u32>,
    system: System,
    report: &mut Report,
) -> Vec<Option<Sample>> {
    let all = Place::log("sample");
    too_many(log.sample.len(), limits::MOST_ENTRIES, "samples", &all.index(0), report);
    // One without a name is called by its number, which another may have for a name.
    let names: Vec<String> =
        log.sample.iter().enumerate().map(|(i, raw)| raw.name.clone().unwrap_or_else(|| numbered(i))).collect();
    let placed = names.iter().enumerate().map(|(i, name)| (name.as_str(), all.index(i).key("name")));
    names::check_unique(placed, "sample", report);
    check_one_chosen(log, &all, report);
    log.sample.iter().enumerate().map(|(i, raw)| sample(i, raw, plan, plies, system, report)).collect()
}

fn check_one_chosen(log: &raw::Log, all: &Place, report: &mut Report) {
    let mut chosen = (0..log.sample.len()).filter(|i| log.sample[*i].chosen == Some(true));
    if let (Some(first), Some(second)) = (chosen.next(), chosen.next()) {
        let place = |i: usize| all.index(i).key("chosen");
        let fault = Diagnostic::new(Code::Contradiction, "expected one chosen sample, found two", place(second));
        report.fault(
            fault
                .label("chosen as well")
                .also(place(first), "chosen here")
                .help("the yarn is spun to one of them: write `chosen = true` there alone"),
        );
    }
}

fn sample(
    index: usize,
    raw: &raw::Sample,
    plan: &raw::Plan,
    plies: Option<u32>,
    system: System,
    report: &mut Report,
) -> Option<Sample> {
    let place = Place::log("sample").index(index);
    let name = name(index, raw, &place, system, report);
    if raw.date.is_none() {
        report.missing(
            "the day of the sample is not said",
            place.key("date"),
            "write `date = 2026-03-05`, without quotes",
        );
    }
    let whorl = raw.whorl.as_deref().map(|name| whorl_of_sample(name, plan, &place.key("whorl"), report));
    let is_chosen = raw.chosen == Some(true);
    let mut sample = Sample {
        name: name?,
        date: date(raw.date?),
        whorl: match whorl {
            Some(found) => found?,
            None => None,
        },
        draw: raw.draw.map(draw),
        singles_wraps: Vec::new(),
        ply_back: Vec::new(),
        plies: None,
        loops: None,
        wound_loop: None,
        washed_loop: None,
        weight: None,
        wraps: Vec::new(),
        ply_twist: Vec::new(),
        cable_twist: Vec::new(),
        angle: Vec::new(),
        gauge: None,
        gauge_before_wash: None,
        swatch: None,
        needle: None,
        feel: None,
        chosen: is_chosen,
        place,
    };
    read_singles(&mut sample, raw, report);
    read_skein(&mut sample, raw, plies, report)?;
    read_swatch(&mut sample, raw, system, report);
    if is_chosen {
        check_usable(raw, &sample.place, report);
    }
    Some(sample)
}

fn name(index: usize, raw: &raw::Sample, place: &Place, system: System, report: &mut Report) -> Option<String> {
    match &raw.name {
        Some(name) => names::check(name, &place.key("name"), report).then(|| name.clone()),
        None => {
            report.assume(&defaults::SAMPLE_NAME, place.key("name"), system);
            Some(numbered(index))
        }
    }
}

/// What a sample without a name is called.
fn numbered(index: usize) -> String {
    (index + 1).to_string()
}

fn read_singles(sample: &mut Sample, raw: &raw::Sample, report: &mut Report) {
    let Some(singles) = &raw.singles else { return };
    let place = sample.place.key("singles");
    check_number(singles.wraps.as_ref(), &place.key("wraps"), report);
    check_number(singles.ply_back.as_ref(), &place.key("ply-back"), report);
    sample.singles_wraps = several(singles.wraps.as_ref(), &place.key("wraps"), &limits::SAMPLE_WRAPS, report);
    sample.ply_back = several(singles.ply_back.as_ref(), &place.key("ply-back"), &limits::SAMPLE_TWIST, report);
}

fn read_skein(sample: &mut Sample, raw: &raw::Sample, plies: Option<u32>, report: &mut Report) -> Option<()> {
    let Some(skein) = &raw.skein else { return Some(()) };
    let place = sample.place.key("skein");
    if let Some(written) = skein.plies {
        let key = place.key("plies");
        let found = whole(written, &key, "a number of plies", 1..=limits::MOST_PLIES, report)?;
        check_plies(found, plies, sample.chosen, &key, report);
        sample.plies = Some(counted(found, key));
    }
    if let Some(loops) = skein.loops {
        let key = place.key("loops");
        sample.loops = Some(counted(whole(loops, &key, "a number of loops", 1..=limits::MOST_LOOPS, report)?, key));
    }
    check_loops(skein, &place, report);
    for (readings, key) in [
        (&skein.wraps, "wraps"),
        (&skein.ply_twist, "ply-twist"),
        (&skein.cable_twist, "cable-twist"),
        (&skein.angle, "angle"),
    ] {
        check_number(readings.as_ref(), &place.key(key), report);
    }
    sample.wound_loop = optional(skein.one_loop.as_ref(), &place.key("loop"), &limits::SAMPLE_LOOP, report);
    sample.washed_loop = optional(skein.washed_loop.as_ref(), &place.key("washed-loop"), &limits::SAMPLE_LOOP, report);
    sample.weight = optional(skein.weight.as_ref(), &place.key("weight"), &limits::SAMPLE_WEIGHT, report);
    sample.wraps = several(skein.wraps.as_ref(), &place.key("wraps"), &limits::SAMPLE_WRAPS, report);
    sample.ply_twist = several(skein.ply_twist.as_ref(), &place.key("ply-twist"), &limits::SAMPLE_TWIST, report);
    sample.cable_twist = several(skein.cable_twist.as_ref(), &place.key("cable-twist"), &limits::SAMPLE_TWIST, report);
    sample.angle = several(skein.angle.as_ref(), &place.key("angle"), &limits::SAMPLE_ANGLE, report);
    Some(())
}

fn read_swatch(sample: &mut Sample, raw: &raw::Sample, system: System, report: &mut Report) {
    let Some(swatch) = &raw.swatch else { return };
    let place = sample.place.key("swatch");
    let gauge_at = |written: Option<&raw::Quantity>, key: &str, report: &mut Report| {
        written.and_then(|written| gauge(written, &place.key(key), Some(&STOCKING), system, report))
    };
    sample.gauge = gauge_at(swatch.gauge.as_ref(), "gauge", report);
    sample.gauge_before_wash = gauge_at(swatch.before_wash.as_ref(), "before-wash", report);
    sample.needle = swatch.needle.as_ref().and_then(|written| tool_size(written, &place.key("needle"), report));
    sample.feel = names::text(swatch.feel.as_deref(), &place.key("feel"), report);
    let size = swatch.size.as_ref().and_then(|written| size(written, &place.key("size"), report));
    let weight = optional(swatch.weight.as_ref(), &place.key("weight"), &limits::SWATCH_WEIGHT, report);
    for (is_alone, has, lacks) in [
        (swatch.size.is_some() && swatch.weight.is_none(), "size", "weight = \"6.1 g\""),
        (swatch.weight.is_some() && swatch.size.is_none(), "weight", "size = \"15 x 15 cm\""),
    ] {
        if is_alone {
            let fault =
                Diagnostic::new(Code::Unused, format!("the {has} of a swatch leads nowhere by itself"), place.key(has));
            report.fault(fault.label("not used").help(format!("write `{lacks}` beside it")));
        }
    }
    sample.swatch = size.zip(weight);
}

fn check_number(readings: Option<&raw::Readings>, place: &Place, report: &mut Report) {
    if let Some(readings) = readings {
        too_many(readings.0.len(), limits::MOST_ENTRIES, "readings", place, report);
    }
}

/// A sample of other plies is worth logging, but the yarn cannot be spun to it.
fn check_plies(found: u32, plies: Option<u32>, is_chosen: bool, place: &Place, report: &mut Report) {
    if let Some(plies) = plies.filter(|plies| is_chosen && *plies != found) {
        let message = format!("expected a chosen sample of {plies} plies, as the yarn has, found {found}");
        let fault = Diagnostic::new(Code::PliesDiffer, message, place.clone())
            .label("another yarn")
            .also(Place::plan("yarn").key("plies"), "the yarn");
        report.fault(fault.help("choose another sample, or change the plies of the yarn"));
    }
}

/// Loops and their length are two halves of one length.
fn check_loops(skein: &raw::SampleSkein, place: &Place, report: &mut Report) {
    let has_loop = skein.one_loop.is_some() || skein.washed_loop.is_some();
    if skein.loops.is_some() && !has_loop {
        report.missing(
            "how long a loop of the skein is, is not said",
            place.key("washed-loop"),
            "write `washed-loop = \"1.45 m\"`, `loop = \"1.52 m\"`, or both",
        );
    }
}

/// A chosen sample has to say something that the yarn can be spun to. What is written and has a fault is told of there.
fn check_usable(raw: &raw::Sample, place: &Place, report: &mut Report) {
    let is_read = |readings: &Option<raw::Readings>| readings.as_ref().is_some_and(|readings| !readings.0.is_empty());
    let has_skein = raw.skein.as_ref().is_some_and(|skein| {
        [&skein.wraps, &skein.ply_twist, &skein.cable_twist, &skein.angle].into_iter().any(is_read)
            || (skein.loops.is_some() && skein.weight.is_some())
    });
    let has_singles = raw.singles.as_ref().is_some_and(|singles| is_read(&singles.wraps) || is_read(&singles.ply_back));
    let has_swatch = raw
        .swatch
        .as_ref()
        .is_some_and(|swatch| swatch.gauge.is_some() || (swatch.size.is_some() && swatch.weight.is_some()));
    if report.was_refused(place) {
        return;
    }
    if !(has_skein || has_singles || has_swatch) {
        let fault = Diagnostic::new(
            Code::EmptySample,
            "expected something measured of a chosen sample, found nothing that can be used",
            place.key("chosen"),
        );
        report.fault(fault.label("chosen").help(
            "write what was measured, such as\n\
             skein = { loops = 20, washed-loop = \"1.45 m\", weight = \"15.1 g\", wraps = \"11 wpi\" }",
        ));
    }
}
