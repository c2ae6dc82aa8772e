//! Fills the samples: what came of each, held against what is wanted, with the one thing to change.

use super::print::{In, Printer, Round};
use super::words::{self, grist};
use crate::figures::diagnosis::Cause;
use crate::figures::verdict::{Judged, Looked, SampleVerdict, Verdict as Held};
use crate::plan::Sample;
use crate::sheets::marks::{Amount, Gate, Page, Remedy};
use crate::sheets::samples::{
    Compared, ComparedRow, ComparedSample, Falls, SampleSize, Samples, Settling, Target, Verdict,
};

/// The sheet; `None` where the log has no sample.
pub(super) fn samples(printer: &Printer, page: Page) -> Option<Samples> {
    let plan = printer.plan;
    if plan.samples.is_empty() {
        return None;
    }
    let compared: Vec<ComparedSample> = plan.samples.iter().map(|sample| compared(printer, sample)).collect();
    let asked = plan.chosen().or(plan.samples.last()).and_then(|sample| verdict(printer, sample));
    Some(Samples {
        page,
        target: target(printer),
        rows: ROWS.iter().map(|row| row.told(printer)).collect(),
        samples: compared,
        doubt: asked
            .map_or_else(String::new, |verdict| printer.as_written(&format!("doubt about sample {}", verdict.sample))),
        settles: asked.map_or_else(Vec::new, |verdict| settles(printer, verdict)),
        sizes: sizes(printer),
    })
}

fn target(printer: &Printer) -> Target {
    match &printer.plan.yarn.matched {
        Some(matched) => {
            Target { name: matched.name.as_ref().map(|name| printer.as_written(name)), what: "yarn in hand".to_owned() }
        }
        None => Target { name: None, what: "aimed at".to_owned() },
    }
}

/// One thing that is compared: where its figures stand, how they are printed, and in which words it is told.
struct Row {
    name: &'static str,
    /// On what; the unit follows.
    on: &'static str,
    of: Of,
    /// Its figure below `target`; loft is told in words and has none.
    target: Option<&'static str>,
    /// Its figure below the sample.
    figure: &'static str,
    /// Too little and too much of it.
    words: (&'static str, &'static str),
}

/// Where the verdict of a row stands.
#[derive(Clone, Copy)]
enum Of {
    Looked(Looked),
    Behind(Cause),
}

const ROWS: [Row; 6] = [
    Row {
        name: "wraps",
        on: "washed",
        of: Of::Looked(Looked::Wraps),
        target: Some("wraps"),
        figure: "wraps",
        words: ("too thick", "too thin"),
    },
    Row {
        name: "grist",
        on: "washed",
        of: Of::Looked(Looked::Grist),
        target: Some("grist"),
        figure: "grist",
        words: ("too heavy", "too light"),
    },
    Row {
        name: "air",
        on: "washed",
        of: Of::Looked(Looked::Loft),
        target: None,
        figure: "loft",
        words: ("too airy", "too dense"),
    },
    Row {
        name: "ply twist",
        on: "washed",
        of: Of::Looked(Looked::PlyTwist),
        target: Some("ply-twist"),
        figure: "ply-twist",
        words: ("too soft", "too hard"),
    },
    Row {
        name: "singles twist",
        on: "fresh",
        of: Of::Behind(Cause::SinglesTwist),
        target: Some("singles-twist"),
        figure: "fresh-twist",
        words: ("too soft", "too hard"),
    },
    Row {
        name: "kept in the wash",
        on: "of a wound loop",
        of: Of::Behind(Cause::Loss),
        target: Some("keep"),
        figure: "keep",
        words: ("loses more", "loses less"),
    },
];

impl Row {
    /// Its name; the last twist is called by what it is of.
    fn name(&self, printer: &Printer) -> &'static str {
        let construction = &printer.plan.yarn.construction;
        match self.figure {
            "ply-twist" if construction.strands().is_some() => "cable twist",
            "ply-twist" if !construction.is_plied() => "twist",
            _ => self.name,
        }
    }

    /// Its figure below the sample.
    fn figure(&self, printer: &Printer) -> &'static str {
        let is_cabled = printer.plan.yarn.construction.strands().is_some();
        if self.figure == "ply-twist" && is_cabled { "cable-twist" } else { self.figure }
    }

    /// How its numbers are printed.
    fn shown(&self, printer: &Printer) -> In {
        match self.figure {
            // As the card of each sample has them.
            "wraps" => printer.lead(In("wraps/3 cm", Round::Halves), In("wpi", Round::Halves)),
            "grist" => grist(printer).0,
            "keep" => In("%", Round::Places(1)),
            "loft" => In("%", Round::Places(0)),
            _ => printer.lead(In("turns/10 cm", Round::Halves), In("turns/4 in", Round::Halves)),
        }
    }

    fn told(&self, printer: &Printer) -> ComparedRow {
        let shown = self.shown(printer);
        let is_wished = printer.ledger.find("target.wraps").is_some();
        let unit = if self.target.is_some() { Some(shown.0.to_owned()) } else { None };
        ComparedRow {
            name: self.name(printer).to_owned(),
            note: Some(unit.as_ref().map_or_else(|| self.on.to_owned(), |unit| format!("{}, {unit}", self.on))),
            gate: self.target.and_then(|name| self.gate(printer, name)),
            wanted: (self.target.is_none() && is_wished).then(|| in_words("about as dense".to_owned())),
            // A count is written bare; what it is counted over stands in the note.
            tray_unit: unit.filter(|_| matches!(self.figure, "grist" | "keep")),
        }
    }

    fn gate(&self, printer: &Printer, name: &str) -> Option<Gate> {
        let name = format!("target.{name}");
        printer.ledger.find(&name)?;
        let shown = self.shown(printer);
        let remedy = |word: &str| Remedy { word: word.to_owned(), act: String::new() };
        Some(Gate {
            low: printer.value(&format!("{name}.low"), shown),
            target: printer.value(&name, shown),
            high: printer.value(&format!("{name}.high"), shown),
            unit: None,
            // Its room is as wide to either side.
            target_at: 0.5,
            ticks: Vec::new(),
            below: remedy(self.words.0),
            above: remedy(self.words.1),
        })
    }

    fn compared(&self, printer: &Printer, sample: &Sample, verdict: Option<&SampleVerdict>) -> Compared {
        let figure = format!("sample.{}.{}", sample.name, self.figure(printer));
        let held = verdict.and_then(|verdict| self.held(verdict));
        let read = printer.ledger.find(&figure).is_some();
        let value = match held {
            _ if !read => None,
            Some(held) if self.target.is_none() => Some(in_words(density(printer, &held))),
            None if self.target.is_none() => None,
            _ => {
                let In(symbol, round) = self.shown(printer);
                Some(Amount { value: printer.value(&figure, In(symbol, round)), unit: None, other: None })
            }
        };
        Compared {
            verdict: held.as_ref().map_or(Verdict::CannotTell, |held| marked(held.judged)),
            words: self.words_of(held.as_ref(), read),
            falls: held.filter(|_| self.target.is_some()).map(|held| falls(&held)),
            value,
        }
    }

    fn held(&self, verdict: &SampleVerdict) -> Option<HeldAgainst> {
        let of =
            |gate: f64, ratio: f64, uncertainty: f64, judged: Judged| HeldAgainst { gate, ratio, uncertainty, judged };
        match self.of {
            Of::Looked(of_this) => {
                let is_this = |held: &&Held<Looked>| held.of == of_this;
                verdict.quantities.iter().find(is_this).map(|v| of(v.gate, v.ratio, v.uncertainty, v.judged))
            }
            Of::Behind(of_this) => {
                let is_this = |held: &&Held<Cause>| held.of == of_this;
                verdict.causes.iter().find(is_this).map(|v| of(v.gate, v.ratio, v.uncertainty, v.judged))
            }
        }
    }

    fn words_of(&self, held: Option<&HeldAgainst>, read: bool) -> String {
        let words = match held.map(|held| held.judged) {
            _ if !read => "not read",
            None => "not held",
            Some(Judged::Right) => "right",
            Some(Judged::TooLittle) => self.words.0,
            Some(Judged::TooMuch) => self.words.1,
            Some(Judged::CannotTell) => "cannot tell",
        };
        words.to_owned()
    }
}

/// A verdict of any kind, in numbers.
#[derive(Clone, Copy)]
struct HeldAgainst {
    gate: f64,
    ratio: f64,
    uncertainty: f64,
    judged: Judged,
}

fn marked(judged: Judged) -> Verdict {
    match judged {
        Judged::Right => Verdict::Right,
        Judged::TooMuch => Verdict::TooMuch,
        Judged::TooLittle => Verdict::TooLittle,
        Judged::CannotTell => Verdict::CannotTell,
    }
}

/// The place of a reading and of what it may be, between the two posts.
fn falls(held: &HeldAgainst) -> Falls {
    let at = |ratio: f64| (ratio - (1.0 - held.gate)) / (2.0 * held.gate);
    Falls {
        low_at: at(held.ratio * (1.0 - 2.0 * held.uncertainty)),
        likely_at: at(held.ratio),
        high_at: at(held.ratio * (1.0 + 2.0 * held.uncertainty)),
    }
}

/// Loft in words: how much denser or airier, in weight of the same volume, which goes with its square.
fn density(printer: &Printer, held: &HeldAgainst) -> String {
    let by = held.ratio * held.ratio - 1.0;
    if by.abs() < 0.005 {
        return "as dense".to_owned();
    }
    format!("{} by {}", if by > 0.0 { "denser" } else { "airier" }, printer.share(by.abs()))
}

fn in_words(value: String) -> Amount {
    Amount { value, unit: None, other: None }
}

fn verdict<'a>(printer: &Printer<'a>, sample: &Sample) -> Option<&'a SampleVerdict> {
    printer.ledger.verdicts.iter().find(|verdict| verdict.sample == sample.name)
}

fn compared(printer: &Printer, sample: &Sample) -> ComparedSample {
    let verdict = verdict(printer, sample);
    let (change, why) = verdict.map_or_else(
        || (without_verdict(printer, sample), None),
        |verdict| (verdict.advice.change.to_owned(), Some(verdict.advice.why.to_owned())),
    );
    ComparedSample {
        name: printer.as_written(&sample.name),
        date: Some(printer.as_written(&words::day(sample.date))),
        how: how(printer, sample),
        readings: ROWS.iter().map(|row| row.compared(printer, sample, verdict)).collect(),
        feel: sample.feel.as_ref().map(|feel| printer.as_written(feel)),
        change: words::spelt(printer.plan, &change),
        why: why.map(|why| words::spelt(printer.plan, &why)),
        is_chosen: sample.chosen,
    }
}

/// Why nothing is said of a sample.
fn without_verdict(printer: &Printer, sample: &Sample) -> String {
    match &sample.plies {
        Some(plies) if plies.value != printer.plan.yarn.plies.value => "another yarn: it has other plies",
        _ => "say in the plan what is wished",
    }
    .to_owned()
}

fn how(printer: &Printer, sample: &Sample) -> Vec<String> {
    let whorl = sample.whorl.map(|at| printer.as_written(&printer.plan.wheel.machine.whorls()[at].name));
    let draw = sample.draw.map(|draw| words::draw(draw).to_owned());
    whorl.into_iter().chain(draw).collect()
}

/// What would settle most of the doubt, where it settles enough to be worth the while.
fn settles(printer: &Printer, verdict: &SampleVerdict) -> Vec<Settling> {
    let worth = verdict.settles.iter().filter(|(_, share)| *share >= 0.05).take(3);
    worth
        .map(|(what, share)| Settling {
            what: what.words().to_owned(),
            how: what.how().to_owned(),
            share: *share,
            share_text: printer.share(*share),
        })
        .collect()
}

/// How large the next sample must be, where the ledger tells it.
fn sizes(printer: &Printer) -> Vec<SampleSize> {
    let [(length, other_length), (weight, other_weight)] = words::at_least(printer);
    let lines = [
        ("sampling.length", length, other_length, "of plied yarn, so that one step of the scale is a twentieth"),
        ("sampling.skein", length, other_length, "with a swatch worked from it"),
        ("sampling.fibre", weight, other_weight, "of fibre for that"),
    ];
    lines
        .into_iter()
        .filter(|(figure, ..)| printer.ledger.find(figure).is_some())
        .map(|(figure, lead, other, what)| SampleSize {
            amount: printer.amount(figure, lead, Some(other)),
            what: words::spelt(printer.plan, what),
        })
        .collect()
}
