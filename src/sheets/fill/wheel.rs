//! Fills the wheel card: one page for spinning, one for plying.

use super::gates::{Remedies, check_weight, gate, gate_with_scale, length_weighed, scale_step};
use super::machine::Work;
use super::print::{In, Printer, Round};
use super::words::{self, tie};
use crate::figures::settings::Settings;
use crate::sheets::marks::{Page, Warning};
use crate::sheets::wheel_card::{Act, Card, Check, Stations, WheelCard};

pub(super) fn wheel_card(printer: &Printer, page: Page, settings: Settings) -> WheelCard {
    WheelCard { page, cards: vec![spinning(printer, settings), plying(printer, settings)] }
}

fn spinning(printer: &Printer, settings: Settings) -> Card {
    let plan = printer.plan;
    let work = Work::spinning(printer, settings);
    let bobbins = printer.ledger.deal.sets().map(|(_, set)| set.bobbins.len()).sum();
    Card {
        act: Act::Spin,
        twist: words::slant(plan.yarn.singles_twist),
        turns: work.turns().to_owned(),
        is_clockwise: plan.yarn.singles_twist == crate::plan::Direction::Z,
        plies: 1,
        part: format!("singles {} to {}", printer.label(1, "bobbin"), printer.label(bobbins, "bobbin")),
        settings: work.settings(),
        checks: spinning_checks(printer, &work),
        stations: stations(printer, &work, "singles", "30 minutes"),
        stop: Warning {
            cause: "Outside twice running: stop.".to_owned(),
            remedy: format!(
                "Look at {} {}, in that order. Tie the new yarn beside the old; write which way it went.",
                work.suspects(),
                words::fibre(plan)
            ),
        },
        caution: work.caution().to_owned(),
    }
}

fn spinning_checks(printer: &Printer, work: &Work) -> Vec<Check> {
    let fibre = words::fibre(printer.plan);
    let (length, other) = length_weighed(printer, "singles");
    let [softer, harder] = work.softer_and_harder();
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("under light tension".to_owned()),
            gate: gate_with_scale(
                printer,
                "singles.check-weight",
                check_weight(printer),
                scale_step(printer),
                Remedies {
                    below: ("thin", format!("let in more {fibre}")),
                    above: ("thick", format!("let in less {fibre}")),
                },
            ),
            tie: Some(tie(printer, &folded(printer), "fresh, folded", false)),
        },
        wraps_check(printer, &length),
        Check {
            name: format!("twists in {} of fresh ply-back", printer.lead("10 cm", "4 in")),
            other: Some(printer.as_written(printer.lead("4 in", "10 cm"))),
            how: Some("full twists".to_owned()),
            gate: gate(
                printer,
                "singles.ply-back",
                In("", Round::Halves),
                false,
                Remedies { below: ("soft", softer.to_owned()), above: ("hard", harder.to_owned()) },
            ),
            tie: Some(tie(printer, &printer.as_written("ply-back, 2"), "fresh, doubled", false)),
        },
    ]
}

fn wraps_check(printer: &Printer, length: &str) -> Check {
    let wraps =
        printer.with_unit("singles.wraps", printer.lead(In("wpi", Round::Halves), In("wraps/cm", Round::Places(1))));
    Check {
        name: format!("wraps in {}", printer.as_written(printer.lead("3 cm", "1 in"))),
        other: Some(wraps),
        how: Some("roll on, do not wind".to_owned()),
        gate: gate(
            printer,
            "singles.wraps-counted",
            In("", Round::Places(0)),
            false,
            Remedies { below: ("fat", format!("weigh {length}")), above: ("fine", format!("weigh {length}")) },
        ),
        tie: Some(tie(printer, "singles", "10 wraps", true)),
    }
}

fn plying(printer: &Printer, settings: Settings) -> Card {
    let plan = printer.plan;
    let work = Work::plying(printer, settings);
    let direction = plan.ply_direction();
    Card {
        act: Act::Ply,
        twist: words::slant(direction),
        turns: work.turns().to_owned(),
        is_clockwise: direction == crate::plan::Direction::Z,
        plies: plan.yarn.plies.value as u8,
        part: words::plies(plan),
        settings: work.settings(),
        checks: plying_checks(printer, &work),
        stations: stations(printer, &work, "plied", printer.lead("first 10 m", "first 10 yd")),
        stop: Warning {
            cause: "A ply runs out early: stop.".to_owned(),
            remedy: "Mark the bobbin, wind the left-overs apart, and log both weights before you join anything."
                .to_owned(),
        },
        caution: work.caution().to_owned(),
    }
}

fn plying_checks(printer: &Printer, work: &Work) -> Vec<Check> {
    let [softer, harder] = work.softer_and_harder();
    let (length, other) = length_weighed(printer, "plied");
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("fresh, under light tension".to_owned()),
            gate: gate_with_scale(
                printer,
                "plied.check-weight",
                check_weight(printer),
                scale_step(printer),
                Remedies {
                    below: ("light", "weigh the singles".to_owned()),
                    above: ("heavy", "weigh the singles".to_owned()),
                },
            ),
            tie: Some(tie(printer, "plied", "fresh", false)),
        },
        Check {
            name: format!("twists in {} of fresh plied yarn", printer.lead("10 cm", "4 in")),
            other: Some(printer.as_written(printer.lead("4 in", "10 cm"))),
            how: Some("bumps over plies".to_owned()),
            gate: gate(
                printer,
                "plied.twists",
                In("", Round::Halves),
                false,
                Remedies { below: ("soft", softer.to_owned()), above: ("hard", harder.to_owned()) },
            ),
            tie: Some(tie(printer, "washed sample", "plied", false)),
        },
    ]
}

/// A ply-back of as many strands as the yarn has, beside the doubled one; of three where the yarn has two.
fn folded(printer: &Printer) -> String {
    let strands = (printer.plan.yarn.plies.value as usize).max(3);
    format!("ply-back, {}", printer.label(strands, "strands"))
}

/// When to check: first after so long, then as the bobbin fills, at which the brake asks for a hand as well.
fn stations(printer: &Printer, work: &Work, stage: &str, first: &str) -> Stations {
    let (length, _) = length_weighed(printer, stage);
    let at = |part: &str| format!("{part} {}", work.filled());
    let brake = work.as_it_fills().map_or_else(String::new, |brake| format!("; {brake}"));
    let stops = [first.to_owned(), at("¼"), at("½"), at("¾"), "full".to_owned(), "after a break".to_owned()];
    Stations {
        what: format!("weigh {length}, wind it back, and hold the yarn against the tied one{brake}"),
        stops: stops.iter().map(|stop| printer.as_written(stop)).collect(),
        unit: "g".to_owned(),
    }
}
