//! `shape`, `body`, `ease` and `measures` of a garment: what is said of its size, and whether the rest can be told from tables.

use super::names::nearest;
use super::reading::{default, optional, reading_of_text};
use super::report::Report;
use super::{defaults, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::body::{BodyMeasure, Size, Whom, chest_range, estimate, sizes};
use crate::plan::shape::{Measure, Shape};
use crate::plan::{self, Craft, Reading, Shaped};
use crate::syntax::raw;
use crate::units::format::{decimals, with_unit};
use crate::units::{Kind, Length, System, unit};

/// A shape with what is said of its measures; `None` where it has a fault.
pub(super) fn shaped(
    raw: &raw::Garment,
    shape: raw::Shape,
    craft: Craft,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<Shaped> {
    let shape = self::shape(shape);
    if !check_craft(shape, craft, &place.key("shape"), report) {
        return None;
    }
    let measures = measures(raw, shape, place, report);
    let body_key = place.key("body");
    let body = raw.body.clone().unwrap_or_default();
    let whom = body.whom.map(whom);
    let size = body.size.as_deref().map(|written| size(written, &body, whom, &body_key, report));
    let mut of_body: Vec<(BodyMeasure, Reading<Length>)> = BodyMeasure::ALL
        .into_iter()
        .filter_map(|measure| {
            let key = measure.key();
            optional(body.get(key), &body_key.key(key), &limits::BODY, report).map(|reading| (measure, reading))
        })
        .collect();
    if let Some(Some((_, chest))) = &size {
        of_body.push((BodyMeasure::Chest, chest.clone()));
    }
    check_of_body(shape, &of_body, report);
    if raw.body.is_some() && shape.body().is_empty() {
        let message = format!("nothing of {} rests on a body", shape.with_article());
        let fault = Diagnostic::new(Code::Unused, message, body_key.clone()).label("not used");
        report.fault(fault.help("its size is said under `measures`"));
    }
    let ease = ease(raw, shape, place, system, report);
    // Without the chest of its size nothing more can be told of the body.
    let size = match size {
        Some(found) => Some(found?),
        None => None,
    };
    let shaped = Shaped { shape, whom, size: size.map(|(size, _)| size.name), body: of_body, ease, measures };
    check_lengths(&shaped, report);
    // A chest that is written and cannot be read is told of already.
    if body.chest.is_some() && shaped.of_body(BodyMeasure::Chest).is_none() {
        return None;
    }
    check_known(&shaped, place, system, report).then_some(shaped)
}

/// Notes measures of the body on which nothing of the shape rests. The chest tells others.
fn check_of_body(shape: Shape, said: &[(BodyMeasure, Reading<Length>)], report: &mut Report) {
    let asked = shape.body();
    for (measure, reading) in said.iter().filter(|(measure, _)| *measure != BodyMeasure::Chest) {
        if !asked.contains(measure) && !asked.is_empty() {
            let message = format!("nothing of {} rests on the {}", shape.with_article(), measure.words());
            let fault = Diagnostic::new(Code::Unused, message, reading.place.clone()).label("not used");
            let asked: Vec<&str> = asked.iter().map(|measure| measure.key()).collect();
            report.fault(fault.help(format!("of the body it asks for {}", asked.join(", "))));
        }
    }
}

/// Notes what is said of a size where there is no shape that has one.
pub(super) fn check_unused(raw: &raw::Garment, place: &Place, report: &mut Report) {
    for (is_said, key) in
        [(raw.body.is_some(), "body"), (raw.ease.is_some(), "ease"), (raw.measures.is_some(), "measures")]
    {
        if is_said && !report.was_refused(&place.key("shape")) {
            let message = format!("`{key}` leads nowhere without a shape");
            let fault = Diagnostic::new(Code::Unused, message, place.key(key)).label("not used");
            report.fault(fault.help("write what shape the garment has: `shape = \"raglan pullover\"`"));
        }
    }
}

/// Whether a craft can make a shape; noted where it cannot.
pub(super) fn check_craft(shape: Shape, craft: Craft, place: &Place, report: &mut Report) -> bool {
    let can = shape.can_be_made_by(craft);
    if !can {
        let message = format!("expected a shape that is woven in one piece, found {:?}", shape.words());
        let fault = Diagnostic::new(Code::Contradiction, message, place.clone()).label("not a rectangle");
        report.fault(fault.help("a cloth is a \"blanket\" or a \"scarf\"; what is cut from one takes its whole area"));
    }
    can
}

/// Every measure that some shape has, once.
pub(super) fn all_measures() -> Vec<Measure> {
    let mut all: Vec<Measure> = Shape::ALL.iter().flat_map(|shape| shape.measures()).copied().collect();
    all.sort();
    all.dedup();
    all
}

/// The measures of the garment that are said; others are refused with those that the shape has.
fn measures(raw: &raw::Garment, shape: Shape, place: &Place, report: &mut Report) -> Vec<(Measure, Reading<Length>)> {
    let at = place.key("measures");
    let written = raw.measures.clone().unwrap_or_default();
    let mut read = Vec::new();
    for measure in all_measures() {
        let (key, Some(quantity)) = (measure.key(), written.get(measure.key())) else { continue };
        if shape.measures().contains(&measure) {
            let limits = if may_be_none(measure) { &limits::MEASURE_OR_NONE } else { &limits::MEASURE };
            read.extend(optional(Some(quantity), &at.key(key), limits, report).map(|reading| (measure, reading)));
        } else {
            let has: Vec<&str> = shape.measures().iter().map(|measure| measure.key()).collect();
            let message = format!("expected a measure of {}, found `{key}`", shape.with_article());
            let fault = Diagnostic::new(Code::Unused, message, at.key(key)).label("not a measure of this shape");
            report.fault(fault.help(format!("its measures are {}", has.join(", "))));
        }
    }
    read
}

/// Notes a length beside the length to the underarm, which is the one that is worked.
fn check_lengths(shaped: &Shaped, report: &mut Report) {
    if let (Some(length), Some(to_underarm)) = (shaped.said(Measure::Length), shaped.said(Measure::ToUnderarm)) {
        let message = "expected the length or the length to the underarm, found both";
        let fault = Diagnostic::new(Code::Contradiction, message, length.place.clone()).label("leads to another body");
        report.fault(fault.also(to_underarm.place.clone(), "said here").help("keep the one that the pattern works to"));
    }
}

/// Whether a measure may be nought: a band that is not there.
fn may_be_none(measure: Measure) -> bool {
    use Measure as M;
    matches!(
        measure,
        M::Hem
            | M::CuffDepth
            | M::Brim
            | M::Border
            | M::Neckband
            | M::Band
            | M::Underarm
            | M::BackNeckDepth
            | M::Gusset
    )
}

/// The size of the tables that is said, with its chest.
fn size(
    written: &str,
    body: &raw::Body,
    whom: Option<Whom>,
    place: &Place,
    report: &mut Report,
) -> Option<(Size, Reading<Length>)> {
    let key = place.key("size");
    if body.chest.is_some() {
        let fault = Diagnostic::new(Code::Contradiction, "expected a size or a chest, found both", key);
        report
            .fault(fault.label("has a chest of its own").also(place.key("chest"), "said here").help("keep the chest"));
        return None;
    }
    let Some(whom) = whom else {
        let help = "write `whom = \"woman\"`, \"man\", \"child\" or \"baby\" beside it";
        report.missing("whose size this is, is not said", place.key("whom"), help);
        return None;
    };
    let all = sizes(whom);
    let found = all.iter().find(|size| size.name.eq_ignore_ascii_case(written.trim()));
    let Some(size) = found else {
        let names: Vec<&str> = all.iter().map(|size| size.name).collect();
        let message = format!("expected one of {}, found {written:?}", names.join(", "));
        let fault = Diagnostic::new(Code::UnknownWord, message, key).label("no size of these tables");
        report.fault(match nearest(written, names.iter().copied()) {
            Some(near) => fault.help(format!("is {near:?} meant?")),
            None => fault.help("or write the chest itself: `chest = \"102 cm\"`"),
        });
        return None;
    };
    let half = (size.most - size.least) / 2.0;
    let text =
        format!("{} ± {} cm", decimals(size.chest() * 100.0, 2), decimals(half.max(0.01 * size.chest()) * 100.0, 2));
    let chest = reading_of_text(&text, &key, &limits::BODY, report)?;
    Some((*size, chest))
}

/// How much larger than the body it is around the chest, by a length or a word; `None` of a shape that is not worn there, and
/// where the chest of the garment is said.
fn ease(
    raw: &raw::Garment,
    shape: Shape,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<Reading<Length>> {
    let key = place.key("ease");
    let is_said = raw.measures.as_ref().is_some_and(|measures| measures.chest.is_some());
    let Some(written) = &raw.ease else {
        let is_asked = shape.is_of_the_chest() && !is_said;
        return is_asked.then(|| as_normal(default(&defaults::EASE, key, system, report)));
    };
    if !shape.is_of_the_chest() {
        let verb = if shape.is_a_pair() { "are" } else { "is" };
        let message = format!("{} {verb} not worn around the chest", shape.with_article());
        report.fault(
            Diagnostic::new(Code::Unused, message, key).label("not used").help("say its measures under `measures`"),
        );
        return None;
    }
    if is_said {
        let message = "expected the ease or the finished chest, found both";
        let fault = Diagnostic::new(Code::Contradiction, message, key).label("leads to a second chest");
        report.fault(fault.also(place.key("measures").key("chest"), "the finished chest").help("keep one of them"));
        return None;
    }
    let word = written.0.trim().to_lowercase();
    let text = EASES.iter().find(|(name, _)| *name == word).map_or(written.0.as_str(), |(_, text)| text);
    if word.chars().all(|c| c.is_alphabetic() || c == ' ') && text == written.0.as_str() {
        let names = EASES.map(|(name, _)| name);
        let message = format!("expected a length or one of {}, found {:?}", names.join(", "), written.0);
        let fault = Diagnostic::new(Code::UnknownWord, message, key).label("no word for a fit");
        report.fault(match nearest(&word, names.into_iter()) {
            Some(near) => fault.help(format!("is {near:?} meant?")),
            None => fault.help("write `ease = \"8 cm\"`"),
        });
        return None;
    }
    reading_of_text(text, &key, &limits::EASE, report).map(as_normal)
}

/// Words for a fit, from memory of the trade's table of fits; the middle of each range, and the range nineteen times in twenty.
const EASES: [(&str, &str); 5] = [
    ("very close", "-7.5 ± 2.5 cm"),
    ("close", "0 ± 2.5 cm"),
    ("standard", "7.5 ± 2.5 cm"),
    ("loose", "12.5 ± 2.5 cm"),
    ("oversized", "18 ± 4 cm"),
];

/// A length that may be less than nothing is spread to both sides alike.
fn as_normal(mut reading: Reading<Length>) -> Reading<Length> {
    reading.shape = plan::Shape::Normal;
    reading
}

/// Whether every measure is said or can be told; noted where not, all that is lacking in one.
fn check_known(shaped: &Shaped, place: &Place, system: System, report: &mut Report) -> bool {
    // The length follows from that to the underarm, where this one is said.
    let follows = |measure: Measure| measure == Measure::Length && shaped.said(Measure::ToUnderarm).is_some();
    let unsaid = || {
        let all = shaped.shape.measures().iter();
        all.filter(|measure| shaped.said(**measure).is_none() && !follows(**measure))
    };
    let own: Vec<&Measure> = unsaid().filter(|measure| shaped.shape.rests_on(**measure).is_none()).collect();
    let is_whole = own.is_empty();
    for measure in own {
        let key = measure.key();
        let message = format!("the {key} of the {} is not said", shaped.shape.words());
        let at = place.key("measures").key(key);
        report.missing(message, at, format!("write it under `measures`: `{key} = \"50 cm\"`"));
    }
    let mut asked: Vec<BodyMeasure> =
        unsaid().filter_map(|measure| shaped.shape.rests_on(*measure)).flatten().copied().collect();
    asked.sort();
    asked.dedup();
    asked.retain(|measure| shaped.of_body(*measure).is_none());
    check_body(shaped, &asked, place, system, report) && is_whole
}

/// Whether the measures of the body that are asked can be told from tables; noted where not.
fn check_body(shaped: &Shaped, asked: &[BodyMeasure], place: &Place, system: System, report: &mut Report) -> bool {
    let at = place.key("body");
    if asked.is_empty() {
        return true;
    }
    if report.was_refused(&at) {
        return false;
    }
    if let (Some(whom), None) = (shaped.whom, shaped.of_body(BodyMeasure::Chest)) {
        let (chest, size) = match whom {
            Whom::Woman => ("102 cm", "M"),
            Whom::Man => ("107 cm", "M"),
            Whom::Child => ("64 cm", "8 years"),
            Whom::Baby => ("45 cm", "6 months"),
        };
        let help = format!("write `chest = {chest:?}` or `size = {size:?}` under `body`");
        report.missing("the chest, by which tables tell the rest, is not said", at.key("chest"), help);
        return false;
    }
    let (Some(whom), Some(chest)) = (shaped.whom, shaped.of_body(BodyMeasure::Chest)) else {
        let names: Vec<&str> = asked.iter().map(|measure| measure.words()).collect();
        let keys: Vec<String> = asked.iter().map(|measure| format!("{} = \"...\"", measure.key())).collect();
        let verb = if shaped.shape.is_a_pair() { "are" } else { "is" };
        let message = format!("for whom the {} {verb}, is not said", shaped.shape.words());
        let help = format!(
            "write `body = {{ whom = \"woman\", chest = \"102 cm\" }}`, or `size = \"M\"` in place of the chest;\n\
             or measure: `body = {{ {} }}`",
            keys.join(", ")
        );
        let fault = Diagnostic::new(Code::MissingKey, message, at).note(format!("not known yet: {}", names.join("; ")));
        report.fault(fault.help(help));
        return false;
    };
    let (least, most) = chest_range(whom);
    // What is written with so many digits as the limits is not beyond them.
    const SAME: f64 = 1e-6;
    if !(least - SAME..=most + SAME).contains(&chest.value) {
        let shown = |metres: f64| {
            let unit = unit(Kind::Length, if system == System::Inch { "in" } else { "cm" });
            let unit = unit.expect("invariant: inches and centimetres stand in the tables");
            with_unit(&decimals(unit.from_base(metres), 0), unit)
        };
        let keys: Vec<String> = asked.iter().map(|measure| format!("{} = \"...\"", measure.key())).collect();
        let message = format!("expected a chest from {} to {}, found {}", shown(least), shown(most), chest.text);
        let fault =
            Diagnostic::new(Code::Implausible, message, chest.place.clone()).label("beyond the tables of sizes");
        report.fault(fault.help(format!("measure what the tables would tell: `body = {{ {} }}`", keys.join(", "))));
        return false;
    }
    let unknown: Vec<&BodyMeasure> =
        asked.iter().filter(|measure| estimate(whom, **measure, chest.value).is_none()).collect();
    for measure in &unknown {
        let (key, words) = (measure.key(), measure.words());
        let message = format!("the {words} is in no table for such a body");
        report.missing(message, at.key(key), format!("measure it, and write `{key} = \"...\"` under `body`"));
    }
    unknown.is_empty()
}

fn whom(raw: raw::Whom) -> Whom {
    match raw {
        raw::Whom::Woman => Whom::Woman,
        raw::Whom::Man => Whom::Man,
        raw::Whom::Child => Whom::Child,
        raw::Whom::Baby => Whom::Baby,
    }
}

pub(super) fn shape(raw: raw::Shape) -> Shape {
    match raw {
        raw::Shape::DropPullover => Shape::DropPullover,
        raw::Shape::DropCardigan => Shape::DropCardigan,
        raw::Shape::SetInPullover => Shape::SetInPullover,
        raw::Shape::SetInCardigan => Shape::SetInCardigan,
        raw::Shape::Raglan => Shape::Raglan,
        raw::Shape::RoundYoke => Shape::RoundYoke,
        raw::Shape::Hat => Shape::Hat,
        raw::Shape::Mittens => Shape::Mittens,
        raw::Shape::Socks => Shape::Socks,
        raw::Shape::Triangle => Shape::Triangle,
        raw::Shape::Crescent => Shape::Crescent,
        raw::Shape::Blanket => Shape::Blanket,
        raw::Shape::Scarf => Shape::Scarf,
    }
}
