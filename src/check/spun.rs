//! `[[bobbin]]`, `[[skein]]` and `[[note]]` of the log: what was really spun.

use std::collections::BTreeMap;

use super::heading::date;
use super::names;
use super::reading::{counted, optional, several, whole};
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Date, LoggedBobbin, LoggedSkein, Note, Reading, Supply};
use crate::syntax::raw;
use crate::units::Mass;
use crate::units::format::significant;

/// What was spun and plied, in order of writing.
pub(super) struct Spun {
    pub(super) bobbins: Vec<LoggedBobbin>,
    pub(super) skeins: Vec<LoggedSkein>,
    pub(super) notes: Vec<Note>,
}

/// All bobbins, skeins and notes; `None` where one has a fault. `plies` is how many bobbins are plied together.
pub(super) fn spun(
    log: &raw::Log,
    plies: Option<usize>,
    supplies: Option<&[Supply]>,
    report: &mut Report,
) -> Option<Spun> {
    let bobbins = bobbins(log, report);
    let skeins = skeins(log, plies, report);
    let notes = notes(log, report);
    let numbered = |number: &dyn Fn(usize) -> Option<i64>, n: usize, kind: &'static str, report: &mut Report| {
        check_once((0..n).filter_map(|i| Some((number(i)?, Place::log(kind).index(i).key("number")))), kind, report);
    };
    numbered(&|i| log.bobbin[i].number, log.bobbin.len(), "bobbin", report);
    numbered(&|i| log.skein[i].number, log.skein.len(), "skein", report);
    let (bobbins, skeins, notes) = (bobbins?, skeins?, notes?);
    let may_miss = may_miss(&bobbins, &skeins);
    let is_sound = [
        check_plied(&bobbins, &skeins, report),
        check_skeins(&bobbins, &skeins, may_miss, report),
        check_lengths(&bobbins, &skeins, report),
        check_one_reference(&bobbins, &skeins, report),
        check_weight(&bobbins, may_miss, supplies, report),
    ];
    check_reference(&bobbins, &skeins, report);
    is_sound.into_iter().all(|is| is).then_some(Spun { bobbins, skeins, notes })
}

fn bobbins(log: &raw::Log, report: &mut Report) -> Option<Vec<LoggedBobbin>> {
    let all = Place::log("bobbin");
    too_many(log.bobbin.len(), limits::MOST_LOGGED, "bobbins", &all.index(0), report);
    let read: Vec<_> = log.bobbin.iter().enumerate().map(|(i, raw)| bobbin(raw, all.index(i), report)).collect();
    read.into_iter().collect()
}

fn skeins(log: &raw::Log, plies: Option<usize>, report: &mut Report) -> Option<Vec<LoggedSkein>> {
    let all = Place::log("skein");
    too_many(log.skein.len(), limits::MOST_ENTRIES, "skeins", &all.index(0), report);
    let read: Vec<_> = log.skein.iter().enumerate().map(|(i, raw)| skein(raw, plies, all.index(i), report)).collect();
    read.into_iter().collect()
}

fn notes(log: &raw::Log, report: &mut Report) -> Option<Vec<Note>> {
    let all = Place::log("note");
    too_many(log.note.len(), limits::MOST_ENTRIES, "notes", &all.index(0), report);
    let read: Vec<Option<Note>> = log
        .note
        .iter()
        .enumerate()
        .map(|(i, raw)| {
            let place = all.index(i);
            let day = day(raw.date, &place, "the note", report);
            if raw.text.as_deref().is_none_or(|text| text.trim().is_empty()) {
                let example = "write `text = \"back at the wheel\"`";
                report.missing("what the note says is not said", place.key("text"), example);
            }
            let text = names::text(raw.text.as_deref(), &place.key("text"), report);
            Some(Note { date: day?, text: text? })
        })
        .collect();
    read.into_iter().collect()
}

/// The day of an entry, which is noted where it is not said: nothing here knows what day it is.
fn day(written: Option<raw::Date>, place: &Place, what: &str, report: &mut Report) -> Option<Date> {
    if written.is_none() {
        let message = format!("the day of {what} is not said");
        report.missing(message, place.key("date"), "write `date = 2026-03-12`, without quotes");
    }
    written.map(date)
}

fn number(written: Option<i64>, place: &Place, what: &str, most: i64, report: &mut Report) -> Option<usize> {
    let key = place.key("number");
    let Some(written) = written else {
        report.missing(format!("the number of the {what} is not said"), key, "write `number = 1`");
        return None;
    };
    whole(written, &key, &format!("the number of a {what}"), 1..=most, report).map(|number| number as usize)
}

fn bobbin(raw: &raw::Bobbin, place: Place, report: &mut Report) -> Option<LoggedBobbin> {
    let number = number(raw.number, &place, "bobbin", limits::MOST_LOGGED as i64, report);
    let day = day(raw.date, &place, "the bobbin", report);
    let weights = weights(raw, &place, report);
    let check = check(raw.check.as_ref(), &place.key("check"), report);
    let length = optional(raw.length.as_ref(), &place.key("length"), &limits::SPUN_LENGTH, report);
    let reference = reference(raw.reference_skein.as_ref(), &place, report);
    let is_told = raw.full.is_some() || raw.empty.is_some() || raw.check.is_some() || raw.length.is_some();
    if !is_told && !report.was_refused(&place) {
        let message = "nothing of the bobbin is measured";
        let help =
            "write `full = \"96 g\"` and `empty = \"58 g\"`, or `check = { length = \"20 m\", weight = \"3.1 g\" }`";
        report.missing(message, place.key("full"), help);
        return None;
    }
    let (weights, check) = (weights?, check?);
    if weights.is_none() && check.is_none() {
        let fault = Diagnostic::new(Code::Unused, "a length by itself tells no weight per length", place.key("length"));
        report.fault(fault.label("not used").help("write `full` and `empty` beside it"));
    }
    Some(LoggedBobbin { number: number?, date: day?, weights, check, length, reference, place })
}

type Weights = Option<(Reading<Mass>, Reading<Mass>)>;

/// The bobbin full and empty; the outer `None` where they have a fault.
fn weights(raw: &raw::Bobbin, place: &Place, report: &mut Report) -> Option<Weights> {
    let (full_key, empty_key) = (place.key("full"), place.key("empty"));
    let full = optional(raw.full.as_ref(), &full_key, &limits::BOBBIN_WEIGHT, report);
    let empty = optional(raw.empty.as_ref(), &empty_key, &limits::BOBBIN_WEIGHT, report);
    for (is_lacking, key, what, example) in [
        (raw.full.is_some() && raw.empty.is_none(), &empty_key, "empty", "empty = \"58 g\""),
        (raw.empty.is_some() && raw.full.is_none(), &full_key, "full", "full = \"96 g\""),
    ] {
        if is_lacking {
            let message = format!("what the bobbin weighs {what} is not said");
            report.missing(message, key.clone(), format!("write `{example}` beside it"));
            return None;
        }
    }
    if raw.full.is_none() {
        return Some(None);
    }
    let (full, empty) = (full?, empty?);
    if full.value <= empty.value {
        let message = format!("expected a full bobbin to weigh more than the empty one, found {}", full.text);
        let fault = Diagnostic::new(Code::DoesNotAddUp, message, full_key).label("no yarn is on it");
        report.fault(fault.also(empty_key, format!("{} empty", empty.text)).help("are the two exchanged?"));
        return None;
    }
    Some(Some((full, empty)))
}

type Check = Option<(Reading<crate::units::Length>, Reading<Mass>)>;

/// A weighed length; the outer `None` where it has a fault.
fn check(raw: Option<&raw::Weighed>, place: &Place, report: &mut Report) -> Option<Check> {
    let Some(raw) = raw else { return Some(None) };
    for (is_lacking, key, what, example) in [
        (raw.length.is_none(), "length", "how long the weighed yarn is", "length = \"20 m\""),
        (raw.weight.is_none(), "weight", "what the measured yarn weighs", "weight = \"3.1 g\""),
    ] {
        if is_lacking {
            report.missing(format!("{what} is not said"), place.key(key), format!("write `{example}` beside it"));
        }
    }
    let length = optional(raw.length.as_ref(), &place.key("length"), &limits::CHECK_LENGTH, report);
    let weight = optional(raw.weight.as_ref(), &place.key("weight"), &limits::CHECK_WEIGHT, report);
    Some(Some((length?, weight?)))
}

fn reference(written: Option<&raw::Quantity>, place: &Place, report: &mut Report) -> Option<Reading<Mass>> {
    optional(written, &place.key("reference-skein"), &limits::SAMPLE_WEIGHT, report)
}

fn skein(raw: &raw::Skein, plies: Option<usize>, place: Place, report: &mut Report) -> Option<LoggedSkein> {
    let number = number(raw.number, &place, "skein", limits::MOST_ENTRIES as i64, report);
    let day = day(raw.date, &place, "the skein", report);
    let bobbins = plied_from(raw, plies, &place, report);
    for (is_lacking, key, what, example) in [
        (raw.loops.is_none(), "loops", "how many loops the skein has", "loops = 128"),
        (raw.weight.is_none(), "weight", "what the skein weighs", "weight = \"96 g\""),
        (
            raw.one_loop.is_none() && raw.washed_loop.is_none(),
            "washed-loop",
            "how long a loop of the skein is",
            "washed-loop = \"1.45 m\"",
        ),
    ] {
        if is_lacking {
            report.missing(format!("{what} is not said"), place.key(key), format!("write `{example}`"));
        }
    }
    let loops = raw.loops.and_then(|loops| {
        let key = place.key("loops");
        Some(counted(whole(loops, &key, "a number of loops", 1..=limits::MOST_LOOPS, report)?, key))
    });
    let wound_loop = optional(raw.one_loop.as_ref(), &place.key("loop"), &limits::SAMPLE_LOOP, report);
    let washed_loop = optional(raw.washed_loop.as_ref(), &place.key("washed-loop"), &limits::SAMPLE_LOOP, report);
    let weight = optional(raw.weight.as_ref(), &place.key("weight"), &limits::SAMPLE_WEIGHT, report);
    let wraps = several(raw.wraps.as_ref(), &place.key("wraps"), &limits::SAMPLE_WRAPS, report);
    let reference = reference(raw.reference_skein.as_ref(), &place, report);
    if wound_loop.is_none() && washed_loop.is_none() {
        return None;
    }
    Some(LoggedSkein {
        number: number?,
        date: day?,
        bobbins: bobbins?,
        loops: loops?,
        wound_loop,
        washed_loop,
        weight: weight?,
        reference,
        wraps,
        place,
    })
}

/// The bobbins that a skein was plied from.
fn plied_from(raw: &raw::Skein, plies: Option<usize>, place: &Place, report: &mut Report) -> Option<Vec<usize>> {
    let key = place.key("bobbins");
    let written = raw.bobbins.as_deref().unwrap_or_default();
    if written.is_empty() {
        report.missing("from which bobbins the skein was plied is not said", key, "write `bobbins = [1, 4, 7]`");
        return None;
    }
    if let Some(plies) = plies.filter(|plies| written.len() != *plies) {
        let message = format!("expected a skein of {plies} bobbins, found {}", written.len());
        let fault = Diagnostic::new(Code::PliesDiffer, message, key).label("another yarn");
        report.fault(fault.help("write the number of each bobbin that was plied together, as the checklist has it"));
        return None;
    }
    let most = limits::MOST_LOGGED as i64;
    let read: Vec<Option<usize>> = written
        .iter()
        .enumerate()
        .map(|(i, number)| {
            let number = whole(*number, &key.index(i), "the number of a bobbin", 1..=most, report)?;
            Some(number as usize)
        })
        .collect();
    let mut read = read.into_iter().collect::<Option<Vec<usize>>>()?;
    read.sort_unstable();
    if let Some(twice) = read.windows(2).find(|pair| pair[0] == pair[1]) {
        let message = format!("expected different bobbins, found {} twice", twice[0]);
        let fault = Diagnostic::new(Code::DuplicateName, message, key).label("one bobbin is one ply");
        report.fault(fault.help("look at the tags once more"));
        return None;
    }
    Some(read)
}

/// Notes numbers that two entries have.
fn check_once(numbers: impl Iterator<Item = (i64, Place)>, kind: &str, report: &mut Report) {
    let mut seen: BTreeMap<i64, Place> = BTreeMap::new();
    for (number, place) in numbers {
        if let Some(first) = seen.get(&number) {
            let message = format!("expected one {kind} of number {number}, found two");
            let fault = Diagnostic::new(Code::DuplicateName, message, place).label("the same number again");
            report.fault(fault.also(first.clone(), "logged here").help("keep the entry that is right"));
        } else {
            seen.insert(number, place);
        }
    }
}

/// Whether skeins are of bobbins that were spun, each set together and not before its bobbins.
fn check_plied(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein], report: &mut Report) -> bool {
    let mut is_sound = true;
    let mut sets: BTreeMap<usize, &LoggedSkein> = BTreeMap::new();
    for skein in skeins {
        let key = skein.place.key("bobbins");
        for number in &skein.bobbins {
            let Some(bobbin) = bobbins.iter().find(|bobbin| bobbin.number == *number) else {
                let message = format!("expected a bobbin of the log, found {number}");
                let fault = Diagnostic::new(Code::UnknownName, message, key.clone()).label("never logged");
                report.fault(fault.help(format!("log it first: `[[bobbin]]` with `number = {number}`")));
                is_sound = false;
                continue;
            };
            if bobbin.date > skein.date {
                let message = format!("expected skein {} after its bobbin {number}, found it before", skein.number);
                let fault = Diagnostic::new(Code::Contradiction, message, skein.place.key("date"));
                let fault = fault.label("plied before it was spun").also(bobbin.place.key("date"), "spun here");
                report.fault(fault.help("look at both days"));
                is_sound = false;
            }
            if let Some(other) = sets.insert(*number, skein).filter(|other| other.bobbins != skein.bobbins) {
                let message = format!("expected bobbin {number} in one set, found it in two");
                let fault = Diagnostic::new(Code::Contradiction, message, key.clone()).label("plied with others here");
                let fault = fault.also(other.place.key("bobbins"), "and here");
                report.fault(fault.help("skeins of one set name the same bobbins"));
                is_sound = false;
            }
        }
    }
    is_sound
}

/// By how much weights may disagree for scales and damp; more where a reference skein tells the damp. Our choice: wool between a dry
/// room and fog differs by some twelve per cent.
fn may_miss(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein]) -> f64 {
    if references(bobbins, skeins).next().is_some() { 0.15 } else { 0.05 }
}

/// The weighings of the reference skein with their days, in order of writing, those with bobbins first.
fn references<'a>(
    bobbins: &'a [LoggedBobbin],
    skeins: &'a [LoggedSkein],
) -> impl Iterator<Item = (Date, &'a Reading<Mass>)> {
    let of_bobbins = bobbins.iter().filter_map(|bobbin| Some((bobbin.date, bobbin.reference.as_ref()?)));
    of_bobbins.chain(skeins.iter().filter_map(|skein| Some((skein.date, skein.reference.as_ref()?))))
}

/// Whether the skeins of a set do not weigh more than its bobbins, as far as scales and damp tell.
fn check_skeins(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein], may_miss: f64, report: &mut Report) -> bool {
    let net = |number: &usize| {
        let bobbin = bobbins.iter().find(|bobbin| bobbin.number == *number)?;
        bobbin.weights.as_ref().map(|(full, empty)| full.value - empty.value)
    };
    let mut is_sound = true;
    for skein in skeins {
        let Some(spun) = skein.bobbins.iter().map(net).sum::<Option<f64>>() else { continue };
        let of_set: f64 =
            skeins.iter().filter(|other| other.bobbins == skein.bobbins).map(|other| other.weight.value).sum();
        if of_set > spun * (1.0 + may_miss) {
            let unit = skein.weight.unit;
            let shown = |weight: f64| format!("{} {}", significant(unit.from_base(weight), 4), unit.symbol);
            let message = format!("expected at most the {} on its bobbins, found {}", shown(spun), shown(of_set));
            let fault = Diagnostic::new(Code::DoesNotAddUp, message, skein.weight.place.clone());
            report.fault(fault.label("skeins of this set").help("was it weighed damp, or are the bobbins others?"));
            is_sound = false;
        }
    }
    is_sound
}

/// Whether skeins are no longer than the singles they are plied from, where counters tell those; a twentieth is for tapes and counters.
fn check_lengths(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein], report: &mut Report) -> bool {
    const MAY_MISS: f64 = 0.05;
    let counted = |number: &usize| {
        let bobbin = bobbins.iter().find(|bobbin| bobbin.number == *number)?;
        bobbin.length.as_ref().map(|length| length.value)
    };
    let of = |skein: &LoggedSkein| {
        let one = skein.washed_loop.as_ref().or(skein.wound_loop.as_ref());
        one.map_or(0.0, |one| one.value * skein.loops.value)
    };
    let mut is_sound = true;
    for skein in skeins {
        let singles = skein.bobbins.iter().filter_map(counted).fold(f64::INFINITY, f64::min);
        let of_set: f64 = skeins.iter().filter(|other| other.bobbins == skein.bobbins).map(of).sum();
        if of_set > singles * (1.0 + MAY_MISS) {
            let shown = |length: f64| format!("{} m", significant(length, 4));
            let message =
                format!("expected at most the {} of its shortest bobbin, found {}", shown(singles), shown(of_set));
            let fault = Diagnostic::new(Code::DoesNotAddUp, message, skein.loops.place.clone());
            report
                .fault(fault.label("skeins of this set").help("count the loops once more, or are the bobbins others?"));
            is_sound = false;
        }
    }
    is_sound
}

/// Whether reference skeins of different days are one skein: wool takes up no more from the air than that; our choice.
fn check_one_reference(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein], report: &mut Report) -> bool {
    const MAY_DIFFER: f64 = 0.2;
    let mut all: Vec<(Date, &Reading<Mass>)> = references(bobbins, skeins).collect();
    all.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.value.total_cmp(&b.1.value)));
    let Some((_, first)) = all.first() else { return true };
    let mut is_sound = true;
    for (_, other) in all.iter().filter(|(_, other)| (other.value / first.value - 1.0).abs() > MAY_DIFFER) {
        let message = format!("expected the reference skein to weigh about {}, found {}", first.text, other.text);
        let fault = Diagnostic::new(Code::Implausible, message, other.place.clone()).label("damp does not do that");
        report
            .fault(fault.also(first.place.clone(), "on the first day").help("weigh one and the same skein each time"));
        is_sound = false;
    }
    is_sound
}

/// Whether there is not more on the bobbins than there was to spin, as far as scales and damp tell.
fn check_weight(bobbins: &[LoggedBobbin], may_miss: f64, supplies: Option<&[Supply]>, report: &mut Report) -> bool {
    let Some(supplies) = supplies else { return true };
    let there_was: f64 = supplies.iter().flat_map(|supply| &supply.weights).map(|weight| weight.value).sum();
    let nets =
        bobbins.iter().filter_map(|bobbin| bobbin.weights.as_ref().map(|(full, empty)| full.value - empty.value));
    let spun: f64 = nets.sum();
    if spun <= there_was * (1.0 + may_miss) {
        return true;
    }
    let Some((full, _)) = bobbins.iter().rev().find_map(|bobbin| bobbin.weights.as_ref()) else { return true };
    let shown = |weight: f64| format!("{} {}", significant(full.unit.from_base(weight), 4), full.unit.symbol);
    let message = format!(
        "expected at most the {} that there is to spin, found {} on the bobbins",
        shown(there_was),
        shown(spun)
    );
    let fault = Diagnostic::new(Code::DoesNotAddUp, message, full.place.clone()).label("with this one it is too much");
    report.fault(fault.help("is this the log of another plan, or an empty bobbin not taken off?"));
    false
}

/// Notes days without a reference skein where others have one: their weights cannot be brought to one dampness.
fn check_reference(bobbins: &[LoggedBobbin], skeins: &[LoggedSkein], report: &mut Report) {
    let entries = bobbins
        .iter()
        .map(|bobbin| (bobbin.date, &bobbin.reference, &bobbin.place))
        .chain(skeins.iter().map(|skein| (skein.date, &skein.reference, &skein.place)));
    let mut days: BTreeMap<Date, (Option<&Reading<Mass>>, &Place)> = BTreeMap::new();
    for (date, reference, place) in entries {
        let day = days.entry(date).or_insert((None, place));
        if let (Some(first), Some(again)) = (day.0, reference)
            && (first.value - again.value).abs() > 2.0 * first.uncertainty.hypot(again.uncertainty)
        {
            let message = format!("expected one weight of the reference skein on a day, found {}", again.text);
            let fault = Diagnostic::new(Code::NotComparable, message, again.place.clone()).label("another weight");
            report.fault(fault.also(first.place.clone(), format!("{} here", first.text)).help(DAMP));
        }
        day.0 = day.0.or(reference.as_ref());
    }
    if days.values().all(|(reference, _)| reference.is_none()) {
        return;
    }
    for (date, (_, place)) in days.iter().filter(|(_, (reference, _))| reference.is_none()) {
        let day = format!("{}-{:02}-{:02}", date.year, date.month, date.day);
        let message = format!("the reference skein was not weighed on {day}");
        let fault = Diagnostic::new(Code::NotComparable, message, (*place).clone());
        report.fault(fault.label("these weights are taken as they are").help(DAMP));
    }
}

const DAMP: &str =
    "wool takes up damp from the air: weigh the same skein each time, and write `reference-skein = \"50.2 g\"`";
