//! Words that several sheets share, in the spelling and the terms of the plan.

use super::print::{In, Printer, Round, joined};
use crate::plan::{Construction, Date, Draw, Drive, Extent, Plan, Terms};
use crate::sheets::marks::{Basis, Colour, Mark, Slant, Tie};
use crate::units::Kind;

/// The usual caution for sitting at a wheel; common practice, no source.
pub(super) const CAUTION: &str = "Hair, cuffs and cords away from the flyer. Stop the wheel before you reach in. Rest hands and \
     feet at every check; pain or tingling that stays is for a clinician.";

/// The same at an electric wheel.
pub(super) const CAUTION_ELECTRIC: &str = "Hair, cuffs and cords away from the flyer. Switch the wheel off before you reach in. Rest \
     your hands at every check; pain that stays is for a clinician.";
/// The same with a spindle.
pub(super) const CAUTION_SPINDLE: &str = "Hair, cuffs and cords away from the spindle, and the floor under it clear. Rest your hands and \
     shoulders at every check; pain that stays is for a clinician.";

/// The usual caution for fibre that is prepared at home; common practice, no source.
pub(super) fn preparing(plan: &Plan) -> Option<&'static str> {
    let has =
        |names: &[&str]| plan.fibres.iter().filter_map(|fibre| fibre.preparation).any(|name| names.contains(&name));
    if has(&["locks"]) {
        Some("Raw locks: cover cuts, keep the dust out of your breath, and wash your hands.")
    } else if has(&["rolags", "batts"]) {
        Some("Carding raises dust: let air through, and wear a mask if it makes you cough.")
    } else {
        None
    }
}

/// "fibre" or "fiber".
pub(super) fn fibre(plan: &Plan) -> &'static str {
    match plan.terms {
        Terms::Uk => "fibre",
        Terms::Us => "fiber",
    }
}

/// "colour" or "color".
pub(super) fn colour(plan: &Plan) -> &'static str {
    match plan.terms {
        Terms::Uk => "colour",
        Terms::Us => "color",
    }
}

/// Words that are written in UK terms throughout, as the terms of the plan have them. Names are left as they are.
pub(super) fn spelt(plan: &Plan, text: &str) -> String {
    const US: [(&str, &str); 11] = [
        ("fibre", "fiber"),
        ("fibres", "fibers"),
        ("Fibre", "Fiber"),
        ("colour", "color"),
        ("colours", "colors"),
        ("metre", "meter"),
        ("metres", "meters"),
        ("centimetre", "centimeter"),
        ("centimetres", "centimeters"),
        ("woollen", "woolen"),
        ("cast-off", "bind-off"),
    ];
    if plan.terms == Terms::Uk {
        return text.to_owned();
    }
    let word = |word: &str| US.iter().find(|(uk, _)| *uk == word).map_or(word, |(_, us)| us).to_owned();
    let is_inside = |c: char| c.is_alphabetic() || c == '-';
    let mut spelt = String::with_capacity(text.len());
    let mut rest = text;
    while !rest.is_empty() {
        let end = rest.find(|c| !is_inside(c)).unwrap_or(rest.len());
        spelt.push_str(&word(&rest[..end]));
        let between = rest[end..].find(is_inside).map_or(rest.len(), |next| end + next);
        spelt.push_str(&rest[end..between]);
        rest = &rest[between..];
    }
    spelt
}

/// What singles are wound on until they are plied.
pub(super) fn holder(plan: &Plan) -> &'static str {
    plan.holder()
}

/// The card that says how to spin.
pub(super) fn spinning_card(plan: &Plan) -> &'static str {
    if matches!(plan.wheel.machine.drive, Drive::Spindle) { "spindle card" } else { "wheel card" }
}

/// A direction as the marks name it.
pub(super) fn slant(direction: crate::plan::Direction) -> Slant {
    match direction {
        crate::plan::Direction::Z => Slant::Z,
        crate::plan::Direction::S => Slant::S,
    }
}

/// How the yarn is put together, in a few words: "three plies", "chain plied", "two strands of two plies, cabled".
pub(super) fn plies(plan: &Plan) -> String {
    let plies = in_words(plan.yarn.plies.value as usize);
    match &plan.yarn.construction {
        Construction::Bobbins => format!("{plies} plies"),
        Construction::Chain => "chain plied".to_owned(),
        Construction::BothEnds => "both ends of a ball".to_owned(),
        Construction::Singles => "not plied".to_owned(),
        Construction::Cabled(strands) => {
            format!("{} strands of {plies} plies, cabled", in_words(strands.value as usize))
        }
    }
}

/// Singles or strands that the finished yarn shows.
pub(super) fn last_plies(plan: &Plan) -> u8 {
    plan.yarn.construction.strands().map_or(plan.yarn.plies.value, |strands| strands.value) as u8
}

/// What a single becomes: "ply 2", "strand A, ply 1", or a word where it becomes no ply of several.
pub(super) fn ply(printer: &Printer, ply: usize) -> String {
    let plies = printer.plan.yarn.plies.value as usize;
    match &printer.plan.yarn.construction {
        Construction::Bobbins => format!("ply\u{a0}{}", printer.label(ply + 1, "ply")),
        Construction::Chain => "chain".to_owned(),
        Construction::BothEnds => "ball".to_owned(),
        Construction::Singles => "single".to_owned(),
        Construction::Cabled(_) => {
            format!("strand\u{a0}{}, ply\u{a0}{}", strand(ply / plies), printer.label(ply % plies + 1, "ply"))
        }
    }
}

/// The letter of a strand.
pub(super) fn strand(index: usize) -> String {
    ["A", "B", "C", "D"][index].to_owned()
}

/// A list in words: "a", "a and b", "a, b and c".
pub(super) fn and(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Small numbers in words; greater ones as they are.
pub(super) fn in_words(n: usize) -> String {
    const WORDS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    WORDS.get(n).map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

/// How the singles are drafted, for a card.
pub(super) fn draw(draw: Draw) -> &'static str {
    draw.words()
}

/// The colours of the plan, each with the mark of its turn; after twelve the marks begin again.
pub(super) fn colours(plan: &Plan) -> Vec<Colour> {
    const MARKS: [Mark; 12] = [
        Mark::Dot,
        Mark::Upright,
        Mark::Ring,
        Mark::Dash,
        Mark::Block,
        Mark::Plus,
        Mark::Frame,
        Mark::TwinDash,
        Mark::Eye,
        Mark::TwinUpright,
        Mark::Tee,
        Mark::Beads,
    ];
    let colours = plan.colours.iter().zip(MARKS.iter().cycle());
    colours.map(|(colour, mark)| Colour { name: colour.name.clone(), tint: colour.hex.clone(), mark: *mark }).collect()
}

/// Those of them that some braid has.
pub(super) fn colours_used(plan: &Plan) -> Vec<Colour> {
    let is_used =
        |index: usize| plan.supplies.iter().flat_map(|supply| &supply.sections).any(|section| section.colour == index);
    colours(plan).into_iter().enumerate().filter(|(index, _)| is_used(*index)).map(|(_, colour)| colour).collect()
}

/// A tie with a tail of a hand's width, or of a metre for wraps.
pub(super) fn tie(printer: &Printer, title: &str, how: &str, long: bool) -> Tie {
    let tail = match (long, printer.in_inches()) {
        (true, false) => "tail 1 m (1 yd)",
        (true, true) => "tail 1 yd (1 m)",
        (false, false) => "tail 15 cm (6 in)",
        (false, true) => "tail 6 in (15 cm)",
    };
    Tie { title: title.to_owned(), how: how.to_owned(), tail: printer.as_written(tail) }
}

/// What the limits at the wheel rest on.
pub(super) fn basis(printer: &Printer) -> Basis {
    let Some(sample) = printer.plan.chosen() else {
        let words = if !printer.plan.skeins.is_empty() {
            "Never sampled: limits reckoned from tables. Your skeins tell what comes of them."
        } else if printer.plan.samples.is_empty() {
            "Not sampled yet: limits reckoned from tables, so spin and wash a sample first."
        } else {
            "No sample chosen: limits reckoned from tables, so choose one in your log first."
        };
        return Basis { is_sampled: false, words: words.to_owned() };
    };
    let (name, day) = (printer.as_written(&sample.name), printer.as_written(&day(sample.date)));
    Basis { is_sampled: true, words: format!("limits from sample {name} of {day}") }
}

/// How yarn lengths are printed, leading system first.
pub(super) fn yarn_length(printer: &Printer) -> (In, In) {
    printer.both(In("m", Round::Places(0)), In("yd", Round::Places(0)))
}

/// How weights of fibre and yarn are printed: whole grams, tenths of an ounce.
pub(super) fn weight(printer: &Printer) -> (In, In) {
    printer.both(In("g", Round::Places(0)), In("oz", Round::Places(1)))
}

/// The same for small portions: tenths of a gram, hundredths of an ounce.
pub(super) fn portion(printer: &Printer) -> (In, In) {
    printer.both(In("g", Round::Places(1)), In("oz", Round::Places(2)))
}

/// How lengths and weights are printed that a sample takes at least: rounded up.
pub(super) fn at_least(printer: &Printer) -> [(In, In); 2] {
    [
        printer.both(In("m", Round::Up(0)), In("yd", Round::Up(0))),
        printer.both(In("g", Round::Up(0)), In("oz", Round::Up(1))),
    ]
}

/// How grist is printed.
pub(super) fn grist(printer: &Printer) -> (In, In) {
    printer.both(In("m/100 g", Round::Places(0)), In("yd/lb", Round::Tens))
}

/// How a length that a hand lets in is printed.
pub(super) fn hand_length(printer: &Printer) -> (In, In) {
    printer.both(In("cm", Round::Halves), In("in", Round::Quarters))
}

/// "20 February 2026", which is read alike everywhere.
pub(super) fn day_and_year(date: Date) -> String {
    format!("{}\u{a0}{}", day(date), date.year)
}

/// "3 March".
pub(super) fn day(date: Date) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    format!("{}\u{a0}{}", date.day, MONTHS[usize::from(date.month) - 1])
}

/// How much of a braid a section is, as a tape or the eye tells it.
pub(super) fn extent(printer: &Printer, extent: &Extent) -> String {
    let lead = printer.lead(In("cm", Round::Places(0)), In("in", Round::Halves));
    match extent {
        Extent::Length(length) => joined(&printer.reading(length, Kind::Length, lead), lead.0),
        Extent::Share(share) => joined(&printer.reading(share, Kind::Share, In("%", Round::Places(0))), "%"),
    }
}
