//! Fills the warnings of the overview, the dearest first.

use std::collections::BTreeSet;

use super::machine;
use super::print::{In, Printer, Round};
use super::words::{self, weight};
use crate::diagnostics::{Code, Diagnostic};
use crate::plan::{Draw, Hand, Machine};
use crate::sheets::marks::Warning;

/// All of them, the dearest mistake first; `said` is what the plan was warned of when it was checked.
pub(super) fn warnings(printer: &Printer, said: &[Diagnostic]) -> Vec<Warning> {
    let own = [twist_misses, nothing_sampled, stays_unspun, crochet_untwists, warp, few_fibres, unusual_draw];
    let is_of = |wanted: Kind| move |fault: &&Diagnostic| kind(fault.code) == wanted;
    let of_the_yarn = said.iter().filter(is_of(Kind::Yarn)).map(|fault| checked(printer, fault));
    let of_the_plan = said.iter().filter(is_of(Kind::Plan)).map(|fault| checked(printer, fault));
    let mut warnings: Vec<Warning> =
        of_the_yarn.chain(own.iter().flat_map(|of| of(printer))).chain(of_the_plan).collect();
    let mut causes = BTreeSet::new();
    warnings.retain(|warning| causes.insert(warning.cause.clone()));
    warnings
}

/// What a warning of the check is about.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// The yarn that will be spun.
    Yarn,
    /// What the plan says and does not use.
    Plan,
    /// How it is written, which is nothing for paper.
    Writing,
}

fn kind(code: Code) -> Kind {
    match code {
        Code::ByteOrderMark | Code::CommaDecimal => Kind::Writing,
        Code::Unused => Kind::Plan,
        _ => Kind::Yarn,
    }
}

/// A warning of the check, so that the paper has it as well.
fn checked(printer: &Printer, fault: &Diagnostic) -> Warning {
    // Help that shows what to write belongs to the terminal.
    let help = fault.help.as_deref().filter(|help| !help.contains('`') && !help.contains('\n'));
    let told = help.map_or_else(String::new, |help| format!("{}. ", capital(help)));
    Warning {
        cause: printer.as_written(&format!("{}.", capital(&fault.message))),
        remedy: printer.as_written(&format!("{told}More by: wheelsheet explain {}", fault.code.slug())),
    }
}

/// A sentence with its capital.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

/// Each operation of the wheel that gives another twist than is wished.
fn twist_misses(printer: &Printer) -> Vec<Warning> {
    let plan = printer.plan;
    let (plying, spinning) = (plan.plying_machine(), &plan.wheel.machine);
    let singles = plan.singles.iter().map(|kind| {
        let of = kind.name.as_ref().map_or_else(String::new, |name| format!(" for {}", printer.as_written(name)));
        (kind.at_wheel(), of, spinning)
    });
    let plied = [
        ("plying".to_owned(), " in plying".to_owned(), plying),
        ("cabling".to_owned(), " in cabling".to_owned(), plying),
    ];
    singles.chain(plied).filter_map(|(stage, of, machine)| twist_miss(printer, &stage, &of, machine)).collect()
}

fn twist_miss(printer: &Printer, stage: &str, of: &str, machine: &Machine) -> Option<Warning> {
    let miss = printer.ledger.find(&format!("{stage}.twist-miss"))?.value;
    if (miss - 1.0).abs() <= 0.1 {
        return None;
    }
    let (word, by) = if miss > 1.0 { ("more", miss - 1.0) } else { ("less", 1.0 - miss) };
    let (what, remedy) = machine::what_misses(machine);
    Some(Warning {
        cause: format!("{what} {} {word} twist than is wished{of}.", printer.share(by)),
        remedy: remedy.to_owned(),
    })
}

fn nothing_sampled(printer: &Printer) -> Vec<Warning> {
    // Skeins that are washed and measured tell more than a sample would.
    if printer.plan.chosen().is_some() || !printer.plan.skeins.is_empty() {
        return Vec::new();
    }
    if !printer.plan.samples.is_empty() {
        return vec![Warning {
            cause: "No sample is chosen yet.".to_owned(),
            remedy: "These numbers rest on what yarns are like in general. Choose one in your log: chosen = true."
                .to_owned(),
        }];
    }
    if printer.ledger.pace.is_none() && !printer.plan.bobbins.is_empty() {
        return vec![Warning {
            cause: "Nothing was sampled.".to_owned(),
            remedy: "What plying and washing do is not known yet. Ply, wash and log one skein before you go on."
                .to_owned(),
        }];
    }
    vec![Warning {
        cause: "Nothing has been sampled yet.".to_owned(),
        remedy: words::spelt(
            printer.plan,
            "These numbers rest on what yarns are like in general. Spin, wash and log one sample before the fibre is torn.",
        ),
    }]
}

/// What of each lot will be left, where it is worth a word.
fn stays_unspun(printer: &Printer) -> Vec<Warning> {
    let (lead, _) = weight(printer);
    let left: Vec<String> = printer
        .plan
        .supplies
        .iter()
        .filter_map(|supply| {
            let name = format!("{}.spare", supply.stage());
            let usable = printer.ledger.get(&format!("{}.usable", supply.stage())).value;
            let is_much = printer.ledger.find(&name).is_some_and(|line| line.value > 0.05 * usable);
            is_much.then(|| format!("{} of {}", printer.with_unit(&name, lead), printer.as_written(&supply.noun())))
        })
        .collect();
    if left.is_empty() {
        return Vec::new();
    }
    let first = printer.as_written(&printer.plan.supplies[printer.ledger.deal.scarcest].name);
    let it = if left.len() == 1 { "this one" } else { "the others" };
    vec![Warning {
        cause: format!("{} will be left.", words::and(&left)),
        remedy: format!("Buy more of {first}, which runs out first, or spin {it} into its ply."),
    }]
}

fn few_fibres(printer: &Printer) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for fibre in &printer.plan.fibres {
        if let Some(line) = printer.ledger.find(&format!("fibre.{}.across", fibre.name))
            && line.value < 35.0
        {
            warnings.push(Warning {
                cause: format!(
                    "Only {} {}s lie across the singles.",
                    printer.value(&line.name, In("", Round::Places(0))),
                    words::fibre(printer.plan)
                ),
                remedy: "They will part easily: draft short, give them more twist, and sample first.".to_owned(),
            });
        }
    }
    warnings
}

/// Each stitch of a hook turns the yarn a little; common practice, no source.
fn crochet_untwists(printer: &Printer) -> Vec<Warning> {
    let plied = printer.plan.ply_direction();
    let fights = printer.plan.garments.iter().find_map(|garment| garment.hand.filter(|hand| hand.untwists() == plied));
    let Some(hand) = fights else { return Vec::new() };
    let hand = match hand {
        Hand::Right => "Right",
        Hand::Left => "Left",
    };
    vec![Warning {
        cause: format!("{hand}-handed crochet untwists yarn of {} twist a little with each stitch.", plied.letter()),
        remedy: format!(
            "Common practice, no source. Where it shows, turn the wheel the other way at every step: singles-twist = \"{}\".",
            printer.plan.yarn.singles_twist.against().letter()
        ),
    }]
}

/// Cautions for a warp, not promises.
fn warp(printer: &Printer) -> Vec<Warning> {
    let mut garments = printer.plan.garments.iter();
    let Some(garment) = garments.find(|garment| garment.used_as.is_some_and(|used| used.is_warp())) else {
        return Vec::new();
    };
    vec![Warning {
        cause: format!(
            "Whether this yarn will stand as the warp of the {} is not calculated.",
            printer.as_written(&garment.name)
        ),
        remedy:
            "Strength and evenness are of the hand: wind a narrow trial warp and beat it hard before the rest is spun. \
                 A warp wants more twist than a knitting yarn."
                .to_owned(),
    }]
}

/// Preparations that are seldom spun so: a note, no fault; common practice, no source.
fn unusual_draw(printer: &Printer) -> Vec<Warning> {
    let plan = printer.plan;
    let unusual = plan.fibres.iter().find_map(|fibre| match (fibre.preparation?, plan.draw()) {
        ("combed top", Draw::LongDraw) => {
            Some((fibre, "Combed top is seldom spun with a long draw.", "It drafts in lumps so: try it from the fold"))
        }
        ("rolags", Draw::ShortForward) => Some((
            fibre,
            "Rolags are seldom spun with a short forward draw.",
            "It presses out the air that carding put in: try a long draw",
        )),
        _ => None,
    });
    let Some((fibre, cause, remedy)) = unusual else { return Vec::new() };
    vec![Warning {
        cause: cause.to_owned(),
        remedy: format!(
            "{remedy}, or sample {} as it is planned. Common practice, no source.",
            printer.as_written(&fibre.name)
        ),
    }]
}
