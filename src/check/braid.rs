//! `[colours]` and `[braid.*]`: what comes in braids, how much of it, and its colours from end to end.

use super::heading::date;
use super::names;
use super::reading::{optional, reading, reading_of_text, whole};
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Colour, Extent, Fibre, Reading, Repeat, Sampling, Section, Supply, dye};
use crate::syntax::raw;
use crate::units::format::{percent, ten_digits, with_unit};
use crate::units::{Kind, Length, Mass, Money, Share, Unit, parse};

/// All colours, in order of writing.
pub(super) fn colours(plan: &raw::Plan, report: &mut Report) -> Vec<Colour> {
    too_many(plan.colours.len(), limits::MOST_ENTRIES, "colours", &Place::plan("colours"), report);
    plan.colours.iter().map(|(name, hex)| colour(name, hex, report)).collect()
}

fn colour(name: &str, hex: &str, report: &mut Report) -> Colour {
    let place = Place::plan("colours").key(name);
    names::check(name, &place, report);
    let hex = hex.trim().to_ascii_lowercase();
    if !hex.is_empty() && !is_tint(&hex) {
        let fault =
            Diagnostic::new(Code::NotATint, format!("expected a tint such as \"#7b5f8a\", found {hex:?}"), place);
        report.fault(
            fault
                .label("not a # and six digits of 0-9 and a-f")
                .help(format!("the tint is for drawing only; leave it out with `{name} = \"\"`")),
        );
    }
    Colour { name: name.to_owned(), hex: is_tint(&hex).then_some(hex) }
}

fn is_tint(hex: &str) -> bool {
    hex.strip_prefix('#').is_some_and(|digits| digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit()))
}

/// All braids in order of writing, `None` in place of one that has a fault.
pub(super) fn braids(plan: &raw::Plan, fibres: &[Option<Fibre>], report: &mut Report) -> Vec<Option<Supply>> {
    too_many(plan.braid.len(), limits::MOST_ENTRIES, "kinds of braid", &Place::plan("braid"), report);
    plan.braid.iter().map(|(name, raw)| braid(name, raw, plan, fibres, report)).collect()
}

fn braid(
    name: &str,
    raw: &raw::Braid,
    plan: &raw::Plan,
    fibres: &[Option<Fibre>],
    report: &mut Report,
) -> Option<Supply> {
    let place = Place::plan("braid").key(name);
    let is_named = names::check(name, &place, report);
    let fibre = fibre_of(raw, plan, &place, report);
    let weights = weights(raw, &place, report);
    let length = optional(raw.length.as_ref(), &place.key("length"), &limits::BRAID_LENGTH, report);
    let sections = sections(raw, plan, &place, report);
    if let Some(sections) = &sections {
        check_sum(length.as_ref(), sections, &place, report);
    }
    let staple = fibre.and_then(|fibre| fibres.get(fibre)?.as_ref()?.staple.as_ref());
    if let (Some(staple), Some(sections)) = (staple, &sections) {
        check_staple(staple, length.as_ref(), sections, report);
    }
    if let (Some(written), Some(sections)) = (raw.repeat, &sections) {
        check_repeat(written, sections, &place, report);
    }
    let for_sampling = sampling(raw, weights.as_deref(), &place, report);
    let price = price(raw, &place, report);
    let dye_lot = names::text(raw.dye_lot.as_deref(), &place.key("dye-lot"), report);
    Some(Supply {
        name: is_named.then(|| name.to_owned())?,
        in_braids: true,
        fibre: fibre?,
        weights: weights?,
        length,
        repeat: raw.repeat.map(repeat),
        sections: sections?,
        cut: None,
        for_sampling: for_sampling?,
        dye_lot,
        bought: raw.bought.map(date),
        price,
        place,
    })
}

fn fibre_of(raw: &raw::Braid, plan: &raw::Plan, place: &Place, report: &mut Report) -> Option<usize> {
    match (&raw.fibre, plan.fibre.len()) {
        (Some(wanted), _) => {
            names::find(wanted, plan.fibre.keys().map(String::as_str), ("fibre", "fibre"), &place.key("fibre"), report)
        }
        (None, 1) => Some(0),
        // That the plan has no fibre at all is said once, elsewhere.
        (None, 0) => None,
        (None, _) => {
            report.missing(
                "of which fibre the braid is, is not said",
                place.key("fibre"),
                "the plan has several; write `fibre = \"...\"` with the name of one",
            );
            None
        }
    }
}

/// One weight for each braid, from a list or from a count.
fn weights(raw: &raw::Braid, place: &Place, report: &mut Report) -> Option<Vec<Reading<Mass>>> {
    const HELP: &str = "write `weights = [\"101 g\", \"99 g\"]`, or\ncount = 2\nweight = \"100 g\"";
    if raw.weights.is_some() && (raw.count.is_some() || raw.weight.is_some()) {
        let other = if raw.count.is_some() { "count" } else { "weight" };
        let fault = Diagnostic::new(
            Code::Contradiction,
            "expected the weights one by one or the weight of one, found both",
            place.key(other),
        );
        report.fault(
            fault
                .label("said again here")
                .also(place.key("weights"), "said one by one here")
                .help("take one of the two out"),
        );
        return None;
    }
    match (&raw.weights, raw.count, &raw.weight) {
        (Some(listed), _, _) if listed.is_empty() => {
            report.missing("the weights of the braid are not said", place.key("weights"), HELP);
            None
        }
        (Some(listed), _, _) => listed_weights(listed, &place.key("weights"), report),
        (None, count, Some(weight)) => {
            let weight = reading(weight, &place.key("weight"), &limits::BRAID_WEIGHT, report);
            let count =
                whole(count.unwrap_or(1), &place.key("count"), "a number of braids", 1..=limits::MOST_BRAIDS, report)?;
            Some(vec![weight?; usize::try_from(count).ok()?])
        }
        (None, ..) if report.was_refused(&place.key("weights")) => None,
        (None, _, None) => {
            report.missing("the weight of the braid is not said", place.key("weight"), HELP);
            None
        }
    }
}

fn listed_weights(listed: &[raw::Quantity], place: &Place, report: &mut Report) -> Option<Vec<Reading<Mass>>> {
    let most = usize::try_from(limits::MOST_BRAIDS).unwrap_or(usize::MAX);
    if !too_many(listed.len(), most, "braids", place, report) {
        return None;
    }
    let readings: Vec<_> = listed
        .iter()
        .enumerate()
        .map(|(i, weight)| reading(weight, &place.index(i), &limits::BRAID_WEIGHT, report))
        .collect();
    readings.into_iter().collect()
}

fn sections(raw: &raw::Braid, plan: &raw::Plan, place: &Place, report: &mut Report) -> Option<Vec<Section>> {
    let Some(listed) = &raw.sections else { return Some(Vec::new()) };
    let place = place.key("sections");
    if !too_many(listed.len(), limits::MOST_ENTRIES, "sections", &place, report) {
        return None;
    }
    let read: Vec<_> = listed
        .iter()
        .enumerate()
        .map(|(i, raw::Section(name, written))| {
            let place = place.index(i);
            let colour = names::find(
                name,
                plan.colours.keys().map(String::as_str),
                ("colour", "colours"),
                &place.index(0),
                report,
            );
            let extent = extent(written, &place.index(1), report);
            Some(Section { colour: colour?, extent: extent? })
        })
        .collect();
    let read: Vec<Section> = read.into_iter().collect::<Option<_>>()?;
    is_one_measure(&read, report).then_some(read)
}

/// How much a section covers: a share where one is written, else a length.
fn extent(written: &raw::Quantity, place: &Place, report: &mut Report) -> Option<Extent> {
    if parse(&written.0, Kind::Share).is_ok() {
        reading::<Share>(written, place, &limits::SECTION_SHARE, report).map(Extent::Share)
    } else {
        reading::<Length>(written, place, &limits::SECTION, report).map(Extent::Length)
    }
}

/// Whether all sections of a braid are lengths, or all of them shares.
fn is_one_measure(sections: &[Section], report: &mut Report) -> bool {
    let Some(first) = sections.first() else { return true };
    let is_share = |section: &Section| matches!(section.extent, Extent::Share(_));
    let Some(other) = sections.iter().find(|section| is_share(section) != is_share(first)) else { return true };
    let message = "expected the sections of a braid all as lengths or all as shares, found both";
    let fault = Diagnostic::new(Code::Contradiction, message, other.extent.place().clone());
    let found = if is_share(other) { "a share" } else { "a length" };
    let before = if is_share(first) { "a share" } else { "a length" };
    report.fault(
        fault
            .label(found)
            .also(first.extent.place().clone(), before)
            .help("lay the braid out and measure every section"),
    );
    false
}

/// Sections that are lengths add up to the length of the braid, where that is said; shares to the whole.
fn check_sum(length: Option<&Reading<Length>>, sections: &[Section], place: &Place, report: &mut Report) {
    let is_shares = matches!(sections.first(), Some(Section { extent: Extent::Share(_), .. }));
    if sections.is_empty() || report.was_refused(&place.key("sections")) {
        return;
    }
    let sum: f64 = sections.iter().map(|section| section.extent.value()).sum();
    if is_shares {
        check_sum_of_shares(sum, place, report);
        return;
    }
    let Some(length) = length else { return };
    let miss = sum / length.value - 1.0;
    if miss.abs() > limits::SECTIONS_MAY_MISS {
        let sum = printed(sum, length.unit);
        let message = format!("expected sections that add up to {}, found {sum}", length.text);
        let by = format!("{} {}", percent(miss.abs(), 0), if miss > 0.0 { "too long" } else { "too short" });
        let fault = Diagnostic::new(Code::DoesNotAddUp, message, place.key("sections"))
            .label(by)
            .also(length.place.clone(), "the length of one braid");
        report.fault(fault.help(
            "write the whole braid from end to end, every repeat of it; a twentieth either way is taken as it is",
        ));
    }
}

fn check_sum_of_shares(sum: f64, place: &Place, report: &mut Report) {
    let miss = sum - 1.0;
    if miss.abs() <= limits::SECTIONS_MAY_MISS {
        return;
    }
    let message = format!("expected sections that add up to 100 %, found {}", percent(sum, 1));
    let by = format!("{} too {}", percent(miss.abs(), 1), if miss > 0.0 { "much" } else { "little" });
    let fault = Diagnostic::new(Code::DoesNotAddUp, message, place.key("sections")).label(by);
    report.fault(
        fault.help(
            "write the whole braid from end to end, every repeat of it; a twentieth either way is taken as it is",
        ),
    );
}

/// A sum in the unit of one of its parts.
fn printed(value: f64, unit: &Unit) -> String {
    with_unit(&ten_digits(unit.from_base(value)), unit)
}

/// Says where the sections read otherwise than the plan calls them.
fn check_repeat(written: raw::Repeat, sections: &[Section], place: &Place, report: &mut Report) {
    let dyed: Vec<dye::Section> =
        sections.iter().map(|section| dye::Section { colour: section.colour, share: section.extent.value() }).collect();
    let dye = dye::read(&dyed);
    let message = match written {
        raw::Repeat::Mirrored if !dye.is_mirrored => {
            "expected sections that read alike from both ends, as a mirrored braid has them, found others"
        }
        raw::Repeat::InOrder if dye.is_mirrored && dye.repeat.is_none() => {
            "expected sections in order, found some that read alike from both ends"
        }
        _ => return,
    };
    let is_mirrored = written == raw::Repeat::Mirrored;
    let fault = Diagnostic::new(Code::DyedOtherwise, message, place.key("sections"));
    let fault = fault.label(if is_mirrored { "not the same from its other end" } else { "there and back again" });
    report.fault(fault.also(place.key("repeat"), "said here").help(if is_mirrored {
        "write every section from end to end, there and back again; or `repeat = \"in order\"`"
    } else {
        "write `repeat = \"mirrored\"`: it does not matter then which end goes first"
    }));
}

/// Sections that one fibre reaches through; of a share it is known where the length of the braid is.
fn check_staple(staple: &Reading<Length>, length: Option<&Reading<Length>>, sections: &[Section], report: &mut Report) {
    let long = |extent: &Extent| match extent {
        Extent::Length(length) => Some(length.value),
        Extent::Share(share) => length.map(|length| length.value * share.value),
    };
    for Section { extent: section, .. } in sections {
        if long(section).is_some_and(|section| section < staple.value) {
            let message = format!("a section of {} is shorter than the staple of {}", section.text(), staple.text);
            let fault = Diagnostic::new(Code::ShortSection, message, section.place().clone())
                .label("one fibre reaches through it");
            report.fault(
                fault
                    .also(staple.place.clone(), "the staple")
                    .help("it will be drafted into its neighbours: expect a blend and no stripe"),
            );
        }
    }
}

/// What is set aside; `None` if it cannot be.
fn sampling(
    raw: &raw::Braid,
    weights: Option<&[Reading<Mass>]>,
    place: &Place,
    report: &mut Report,
) -> Option<Sampling> {
    let Some(raw::Quantity(written)) = &raw.for_sampling else { return Some(Sampling::None) };
    let place = place.key("for-sampling");
    if let Some(number) = numbered_braid(written) {
        return one_braid(number, weights?, &place, report);
    }
    let weight = reading_of_text::<Mass>(written, &place, &limits::SAMPLING, report)?;
    let total: f64 = weights?.iter().map(|weight| weight.value).sum();
    if weight.value >= total {
        let all = printed(total, weight.unit);
        let fault = Diagnostic::new(
            Code::MoreThanThereIs,
            format!("expected less than the {all} there are, found {}", weight.text),
            place,
        );
        report.fault(fault.label("nothing would be left to spin").help("set less of it aside"));
        return None;
    }
    Some(Sampling::Weight(weight))
}

/// The number in `braid 5`; a text that is not of this form is a weight.
fn numbered_braid(written: &str) -> Option<&str> {
    let written = written.trim();
    let (word, number) = written.split_once(char::is_whitespace)?;
    word.eq_ignore_ascii_case("braid").then(|| number.trim())
}

fn one_braid(number: &str, weights: &[Reading<Mass>], place: &Place, report: &mut Report) -> Option<Sampling> {
    let n_braids = weights.len();
    let index = number.parse::<usize>().ok().and_then(|number| number.checked_sub(1)).filter(|index| *index < n_braids);
    if index.is_none() || n_braids == 1 {
        let message = format!("expected the number of one braid of {n_braids}, found {number}");
        let fault = Diagnostic::new(Code::MoreThanThereIs, message, place.clone());
        let help = if n_braids == 1 {
            "nothing would be left to spin; set a weight aside, such as `for-sampling = \"10 g\"`"
        } else {
            "braids are counted from 1"
        };
        report.fault(fault.label("no such braid to spare").help(help));
        return None;
    }
    index.map(Sampling::Braid)
}

/// The price as written, once it is an amount of money.
fn price(raw: &raw::Braid, place: &Place, report: &mut Report) -> Option<String> {
    let written = raw.price.as_ref()?;
    let price: Reading<Money> = reading(written, &place.key("price"), &limits::PRICE, report)?;
    Some(price.text)
}

fn repeat(written: raw::Repeat) -> Repeat {
    match written {
        raw::Repeat::InOrder => Repeat::InOrder,
        raw::Repeat::Mirrored => Repeat::Mirrored,
        raw::Repeat::Gradient => Repeat::Gradient,
        raw::Repeat::Random => Repeat::Random,
    }
}
